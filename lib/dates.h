/* SPDX-License-Identifier: MIT
 *
 * Dates of a car: what a date code can mean, and what came of holding it against
 * the car and its other dates.
 */
#ifndef PLW_DATES_H
#define PLW_DATES_H

#include "image.h"
#include "writer.h"

#define DATE_KIND_COUNT 4

/* Days that a date can mean, numbered as calendar.h does. */
typedef struct plwi_days {
    int32_t first;
    int32_t last;
} plwi_days;

/* Disjoint, in order. */
typedef struct plwi_spans {
    uint32_t count;
    uint32_t capped; /* there were more */
    plwi_days item[PLW_MAX_DATE_SPANS];
} plwi_spans;

typedef struct plwi_date {
    int32_t kind;
    int32_t verdict; /* PLW_DATE_VERDICT_; 0: not compared */
    int32_t reason;
    int32_t grade;
    int32_t limit;    /* the day that the verdict rests on */
    int32_t lead;     /* days that the rule allows */
    uint32_t row;     /* the form, or PLW_NONE */
    uint32_t rule;    /* what tells the lead, or PLW_NONE */
    uint32_t against; /* the other date, or PLW_NONE */
    uint32_t from_car; /* the year or its decade is not shown */
    plwi_spans spans;
    uint32_t length;
    char text[PLW_MAX_DATE_TEXT + 1];
} plwi_date;

void plwi_add_span(plwi_spans *spans, plwi_days span);

/* ---- date_read: a text and a form -> days -------------------------------- */

/* A form that a row tells. Months count from 0, January of the year 0. */
typedef struct plwi_date_form {
    const char *form;
    const char *months; /* or "" */
    const char *origin; /* or "" */
    int32_t first_month; /* of the run that dates without a year lie in */
    int32_t last_month;
    int32_t model_year;
} plwi_date_form;

#define PLWI_DATE_MISFIT 0   /* the text has not that form, or names no day */
#define PLWI_DATE_NOWHERE 1  /* it has, but no such day lies near the car */
#define PLWI_DATE_READ 2

/* Adds the days that the text can mean. */
int plwi_read_date(const char *text, const plwi_date_form *form, plwi_spans *spans,
                   uint32_t *from_car);

#endif
