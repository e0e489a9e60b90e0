/* SPDX-License-Identifier: MIT
 *
 * What came of a date, in a sentence. The words stay with what was compared.
 */
#include "calendar.h"
#include "car.h"
#include "explain.h"
#include "names.h"

#define SPANS_TOLD 4u

/* ---- days ------------------------------------------------------------------- */

static void put_month(plwi_writer *out, int32_t day)
{
    static const char names[][12] = { "January",   "February", "March",    "April",
                                      "May",       "June",     "July",     "August",
                                      "September", "October",  "November", "December" };
    plwi_put_text(out, names[day / 100 % 100 - 1]);
    plwi_put_char(out, ' ');
    plwi_put_number(out, day / 10000);
}

/* "1 March 1968" */
static void put_day(plwi_writer *out, int32_t number)
{
    int32_t day = plwi_calendar_day(number);
    plwi_put_number(out, day % 100);
    plwi_put_char(out, ' ');
    put_month(out, day);
}

/* "1 March 1968", "August 1970" or "9 August 1977 to 21 August 1977" */
static void put_span(plwi_writer *out, const plwi_days *span)
{
    int32_t first = plwi_calendar_day(span->first), last = plwi_calendar_day(span->last);
    if (first == last) {
        put_day(out, span->first);
    } else if (first / 100 == last / 100 && first % 100 == 1 &&
               last % 100 == plwi_days_in_month(last / 10000, last / 100 % 100)) {
        put_month(out, first);
    } else {
        put_day(out, span->first);
        plwi_put_text(out, " to ");
        put_day(out, span->last);
    }
}

static void put_spans(plwi_writer *out, const plwi_spans *spans)
{
    uint32_t told = spans->count < SPANS_TOLD ? spans->count : SPANS_TOLD;
    for (uint32_t i = 0; i < told; i++) {
        if (i > 0)
            plwi_put_text(out, i + 1 == spans->count ? " or " : ", ");
        put_span(out, &spans->item[i]);
    }
    if (told < spans->count)
        plwi_put_text(out, " or others");
}

/* ---- parts ------------------------------------------------------------------- */

/* "casting date 8C1" */
static void put_name(plwi_writer *out, const plwi_date *date)
{
    plwi_put_text(out, plw_date_kind_label(date->kind));
    plwi_put_char(out, ' ');
    plwi_put(out, date->text, date->length);
}

static void put_car(plwi_writer *out, const plw_car *car)
{
    plwi_put_text(out, "a car built between ");
    put_day(out, car->built.first);
    plwi_put_text(out, " and ");
    put_day(out, car->built.last);
}

static void put_later(plwi_writer *out, const plw_car *car, const plwi_date *date)
{
    plwi_put_text(out, "that is later than ");
    if (date->against == PLW_NONE) {
        plwi_put_text(out, "the last day on which cars of this model year were built, ");
        put_day(out, date->limit);
        return;
    }
    plwi_put_text(out, "the car, built by ");
    put_day(out, date->limit);
    plwi_put_text(out, " going by the ");
    put_name(out, &car->dates[date->against]);
}

static void put_early(plwi_writer *out, const plw_car *car, const plwi_date *date)
{
    if (date->rule == PLW_NONE) {
        plwi_put_text(out, "that is before the cars of this model year were built, from ");
        put_day(out, date->limit);
        return;
    }
    plwi_put_text(out, "that is unusually early: more than ");
    plwi_put_number(out, date->lead);
    plwi_put_text(out, " days before the car, ");
    put_day(out, date->limit);
    plwi_put_text(out, " at the earliest");
    if (date->against != PLW_NONE) {
        plwi_put_text(out, " going by the ");
        put_name(out, &car->dates[date->against]);
    }
    plwi_put_text(out, "; a rule of thumb");
}

static void put_order(plwi_writer *out, const plw_car *car, const plwi_date *date)
{
    plwi_put_text(out, date->kind == PLW_DATE_CASTING ? "that is later than the "
                                                      : "that is earlier than the ");
    put_name(out, &car->dates[date->against]);
    plwi_put_text(out, ", ");
    put_day(out, date->limit);
    plwi_put_text(out, "; castings come before the engine or gearbox made of them, if both belong "
                       "together");
}

static const char *reason_text(int32_t reason)
{
    switch (reason) {
    case PLW_DATE_REASON_NOT_UNDERSTOOD:
        return "the tables know dates of this kind for this car, but none that is written so";
    case PLW_DATE_REASON_NO_FORM:
        return "the tables do not say how dates of this kind are written on this car";
    case PLW_DATE_REASON_NO_DAY:
        return "no such day lies near the car";
    case PLW_DATE_REASON_TOO_MANY:
        return "it can mean too many days to be held against the car";
    default:
        return "no number of the car could be read, so there is nothing to hold it against";
    }
}

static void put_verdict(plwi_writer *out, const plw_car *car, const plwi_date *date)
{
    switch (date->verdict) {
    case PLW_DATE_VERDICT_LATER:
        put_later(out, car, date);
        break;
    case PLW_DATE_VERDICT_ORDER:
        put_order(out, car, date);
        break;
    case PLW_DATE_VERDICT_EARLY:
        put_early(out, car, date);
        break;
    case PLW_DATE_VERDICT_FITS:
        plwi_put_text(out, "that fits ");
        put_car(out, car);
        break;
    default:
        plwi_put_text(out, reason_text(date->reason));
    }
}

static void put_capital(plwi_writer *out, const plwi_date *date)
{
    const char *label = plw_date_kind_label(date->kind);
    plwi_put_char(out, (char)(label[0] - 'a' + 'A'));
    plwi_put_text(out, label + 1);
    plwi_put_char(out, ' ');
    if (date->length > 0)
        plwi_put(out, date->text, date->length);
    else
        plwi_put_text(out, "(nothing to read)");
}

void plwi_put_date_sentence(plwi_writer *out, const plw_car *car, uint32_t index)
{
    const plwi_date *date = &car->dates[index];
    put_capital(out, date);
    plwi_put_text(out, ": ");
    if (date->spans.count > 0) {
        put_spans(out, &date->spans);
        if (date->from_car)
            plwi_put_text(out, ", with the year taken from the car");
        plwi_put_text(out, "; ");
    }
    put_verdict(out, car, date);
    if (plw_row_standing(car->tables, date->row) == PLW_STANDING_MEMORY)
        plwi_put_text(out, " (how it is written is not confirmed)");
    plwi_put_char(out, '.');
}
