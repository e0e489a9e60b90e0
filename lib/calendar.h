/* SPDX-License-Identifier: MIT
 *
 * Days of the calendar as numbers that can be compared and added to. No clock,
 * time zone or locale takes part.
 */
#ifndef PLW_CALENDAR_H
#define PLW_CALENDAR_H

#include <stdint.h>

/* Days in a month (1 to 12) of a year. */
int32_t plwi_days_in_month(int32_t year, int32_t month);

/* The number of a day; the day must exist. */
int32_t plwi_day_number(int32_t year, int32_t month, int32_t day);

/* 19680301 of a day's number. */
int32_t plwi_calendar_day(int32_t number);

#endif
