/* SPDX-License-Identifier: MIT */
#include "calendar.h"

static int is_leap(int32_t year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

int32_t plwi_days_in_month(int32_t year, int32_t month)
{
    static const uint8_t days[12] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
    return days[month - 1] + (month == 2 && is_leap(year));
}

/* Days before 1 January of a year, from the year 1 on. */
static int32_t days_before(int32_t year)
{
    int32_t full = year - 1;
    return 365 * full + full / 4 - full / 100 + full / 400;
}

int32_t plwi_day_number(int32_t year, int32_t month, int32_t day)
{
    int32_t number = days_before(year) + day;
    for (int32_t m = 1; m < month; m++)
        number += plwi_days_in_month(year, m);
    return number;
}

int32_t plwi_calendar_day(int32_t number)
{
    int32_t year = number / 366 + 1, month = 1;
    while (days_before(year + 1) < number)
        year++;
    int32_t day = number - days_before(year);
    for (; day > plwi_days_in_month(year, month); month++)
        day -= plwi_days_in_month(year, month);
    return (year * 100 + month) * 100 + day;
}
