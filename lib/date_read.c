/* SPDX-License-Identifier: MIT
 *
 * Reads a date by a form. Every way in which the characters can fill the form is
 * followed, and every year that the car leaves open: all days that come of it
 * are kept.
 */
#include "dates.h"

#include <string.h>

#include "calendar.h"
#include "date_form.h"

/* What the parts of a text say; 0 where they say nothing. */
typedef struct parts {
    int32_t month;
    int32_t round; /* 1, or 2 where the months come a second time */
    int32_t day;
    int32_t week;         /* of the month */
    int32_t week_of_year;
    int32_t year;
    int32_t period; /* 10, 100: the year shows its last figures; 10000: all of it */
    int32_t running;
} parts;

#define MAX_STEPS 4096 /* more than any form needs that the compiler lets through */

typedef struct reader {
    const plwi_date_form *form;
    uint32_t steps;
    plwi_spans *spans;
    uint32_t *from_car;
    int outcome;
} reader;

/* ---- days ---------------------------------------------------------------- */

void plwi_add_span(plwi_spans *spans, plwi_days span)
{
    uint32_t at = 0, end;
    while (at < spans->count && spans->item[at].last < span.first - 1)
        at++;
    for (end = at; end < spans->count && spans->item[end].first <= span.last + 1; end++) {
        if (spans->item[end].first < span.first)
            span.first = spans->item[end].first;
        if (spans->item[end].last > span.last)
            span.last = spans->item[end].last;
    }
    if (end == at && spans->count == PLW_MAX_DATE_SPANS) {
        spans->capped = 1;
        return;
    }
    memmove(&spans->item[at + 1], &spans->item[end],
            (spans->count - end) * sizeof spans->item[0]);
    spans->count = spans->count - (end - at) + 1;
    spans->item[at] = span;
}

static void add(reader *r, int32_t first, int32_t last)
{
    plwi_days span = { first, last };
    plwi_add_span(r->spans, span);
    r->outcome = PLWI_DATE_READ;
}

static int32_t lesser(int32_t a, int32_t b)
{
    return a < b ? a : b;
}

/* The days of week n: makers count by sevens or by the calendar, whose first
 * week can be as short as a day. */
static void add_week(reader *r, int32_t start, int32_t length, int32_t n)
{
    int32_t first = n == 1 ? 0 : 7 * (n - 2) + 1;
    add(r, start + first, start + lesser(7 * n, length) - 1);
}

static void add_in_month(reader *r, const parts *p, int32_t year, int32_t month)
{
    int32_t start = plwi_day_number(year, month, 1), length = plwi_days_in_month(year, month);
    if (p->week)
        add_week(r, start, length, p->week);
    else if (p->day == 0)
        add(r, start, start + length - 1);
    else if (p->day <= length)
        add(r, start + p->day - 1, start + p->day - 1);
}

/* The year that ends in these figures. Of one figure the nearest to the model year,
 * of two such years the earlier; of two figures one up to 70 years before it: parts
 * are seldom much younger than a car. */
static int32_t full_year(const reader *r, const parts *p)
{
    int32_t lowest = r->form->model_year - (p->period == 10 ? 5 : 70);
    if (p->period > 100)
        return p->year;
    return lowest + (p->year - lowest % p->period + p->period) % p->period;
}

static void add_in_year(reader *r, const parts *p)
{
    int32_t year = full_year(r, p);
    if (year < FIRST_YEAR || year > LAST_YEAR)
        return;
    *r->from_car |= p->period < 100;
    if (p->week_of_year)
        add_week(r, plwi_day_number(year, 1, 1),
                 plwi_day_number(year, 12, 31) - plwi_day_number(year, 1, 1) + 1,
                 p->week_of_year);
    else
        add_in_month(r, p, year, p->month);
}

/* Without a year: wherever the month falls in the run, or the first or second
 * time it does. */
static void add_in_run(reader *r, const parts *p)
{
    int32_t month = r->form->first_month;
    int32_t last = r->form->last_month;
    month += (p->month - 1 - month % 12 + 12) % 12;
    if (p->round) {
        month += 12 * (p->round - 1);
        last = month;
    }
    *r->from_car = 1;
    for (; month <= last; month += 12)
        add_in_month(r, p, month / 12, month % 12 + 1);
}

static int32_t figures(const char *text, size_t length)
{
    int32_t value = 0;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

/* The compiler has seen to it that an origin is a day, an image of somebody else's
 * need not hold one. */
static void add_running(reader *r, const parts *p)
{
    const char *origin = r->form->origin;
    if (strlen(origin) != 10)
        return;
    int32_t year = figures(origin, 4), month = figures(origin + 5, 2), day = figures(origin + 8, 2);
    if (year < 1 || month < 1 || month > 12 || day < 1 || day > 28)
        return;
    int32_t number = plwi_day_number(year, month, day) + p->running - 1;
    add(r, number, number);
}

/* 1 when some year has such a day. */
static int can_be(const parts *p)
{
    if (p->running || p->week_of_year)
        return p->week_of_year <= 53;
    return p->month >= 1 && p->month <= 12 && p->day <= plwi_days_in_month(2000, p->month);
}

static void take(reader *r, const parts *p)
{
    if (!can_be(p))
        return;
    if (r->outcome == PLWI_DATE_MISFIT)
        r->outcome = PLWI_DATE_NOWHERE;
    if (p->running)
        add_running(r, p);
    else if (p->period)
        add_in_year(r, p);
    else if (p->month)
        add_in_run(r, p);
}

/* ---- characters ------------------------------------------------------------ */

static int is_sign(char c)
{
    return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z');
}

static void match(reader *r, const char *form, const char *text, parts p);

/* Goes on behind a part of so many figures, all of them above 0 but for years. */
static void match_figures(reader *r, const char *form, const char *text, parts p,
                          enum date_part part, size_t length)
{
    int32_t value = figures(text, length);
    if (value < 0)
        return;
    switch (part) {
    case DATE_MONTH:
    case DATE_MONTH_2:
        p.month = value;
        break;
    case DATE_DAY:
    case DATE_DAY_2:
        p.day = value;
        break;
    case DATE_WEEK_2:
        p.week_of_year = value;
        break;
    case DATE_RUNNING:
        p.running = value;
        break;
    default:
        p.year = value;
        p.period = part == DATE_YEAR_1 ? 10 : part == DATE_YEAR_2 ? 100 : 10000;
    }
    if (value > 0 || part == DATE_YEAR_1 || part == DATE_YEAR_2)
        match(r, form, text + length, p);
}

static void match_month(reader *r, const char *form, const char *text, parts p)
{
    const char *months = r->form->months;
    size_t count = strlen(months);
    const char *found = is_sign(text[0]) ? strchr(months, text[0]) : NULL;
    if (found == NULL)
        return;
    p.month = (int32_t)(found - months) % 12 + 1;
    p.round = count > 12 ? (int32_t)(found - months) / 12 + 1 : 0;
    match(r, form, text + 1, p);
}

static void match_week(reader *r, const char *form, const char *text, parts p)
{
    p.week = text[0] - 'A' + 1;
    if (p.week >= 1 && p.week <= 5)
        match(r, form, text + 1, p);
}

static void match(reader *r, const char *form, const char *text, parts p)
{
    size_t length, most = 0;
    enum date_part part = date_part(form, &length);
    const char *rest = form + length;
    if (++r->steps > MAX_STEPS)
        return;
    switch (part) {
    case DATE_NONE:
        if (form[0] == '\0' && text[0] == '\0')
            take(r, &p);
        return;
    case DATE_GAP:
        match(r, rest, text + strspn(text, " "), p);
        return;
    case DATE_SIGN:
        if (is_sign(text[0]))
            match(r, rest, text + 1, p);
        return;
    case DATE_WEEK:
        match_week(r, rest, text, p);
        return;
    case DATE_MONTH:
        if (r->form->months[0] != '\0') {
            match_month(r, rest, text, p);
            return;
        }
        most = 2;
        break;
    case DATE_DAY:
        most = 2;
        break;
    case DATE_RUNNING:
        most = 5;
        break;
    default:
        match_figures(r, rest, text, p, part, part == DATE_YEAR_4 ? 4 : part == DATE_YEAR_1 ? 1 : 2);
        return;
    }
    for (size_t i = 1; i <= most; i++)
        match_figures(r, rest, text, p, part, i);
}

int plwi_read_date(const char *text, const plwi_date_form *form, plwi_spans *spans,
                   uint32_t *from_car)
{
    reader r = { .form = form, .spans = spans, .from_car = from_car,
                 .outcome = PLWI_DATE_MISFIT };
    parts none = { .month = 0 };
    match(&r, form->form, text, none);
    return r.outcome;
}
