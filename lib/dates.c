/* SPDX-License-Identifier: MIT
 *
 * Dates of a car: in, and what a host may ask of them.
 */
#include "calendar.h"
#include "car.h"

/* ---- names ------------------------------------------------------------------ */

/* Both by kind - 1. Characters, not pointers: no relocations. */
static const char kind_names[DATE_KIND_COUNT][12] = { "casting", "assembly", "body_tag", "label" };
static const char kind_labels[DATE_KIND_COUNT][32] = {
    "casting date", "assembly date", "date on body tag or data plate", "date on label"
};

static int is_kind(int32_t kind)
{
    return kind >= 1 && kind <= DATE_KIND_COUNT;
}

const char *plw_date_kind_name(int32_t kind)
{
    return is_kind(kind) ? kind_names[kind - 1] : "";
}

const char *plw_date_kind_label(int32_t kind)
{
    return is_kind(kind) ? kind_labels[kind - 1] : "";
}

const char *plw_date_verdict_name(int32_t verdict)
{
    switch (verdict) {
    case PLW_DATE_VERDICT_FITS:
        return "fits";
    case PLW_DATE_VERDICT_LATER:
        return "later";
    case PLW_DATE_VERDICT_ORDER:
        return "order";
    case PLW_DATE_VERDICT_EARLY:
        return "early";
    case PLW_DATE_VERDICT_OPEN:
        return "open";
    default:
        return "";
    }
}

const char *plw_date_reason_name(int32_t reason)
{
    static const char names[][16] = { "none",   "not-understood", "no-reading",
                                      "no-form", "no-day",         "too-many" };
    return reason >= 0 && reason < (int32_t)(sizeof names / sizeof *names) ? names[reason] : "";
}

/* ---- in ------------------------------------------------------------------------ */

void plwi_forget_dates(plw_car *car)
{
    car->date_verdict = 0;
    car->built.first = car->built.last = 0;
    for (uint32_t i = 0; i < car->date_count; i++) {
        plwi_date *date = &car->dates[i];
        date->verdict = date->reason = date->grade = date->limit = date->lead = 0;
        date->row = date->rule = date->against = PLW_NONE;
        date->from_car = date->spans.count = date->spans.capped = 0;
    }
}

static int is_separator(uint32_t code)
{
    return code == ' ' || code == '-' || code == '/' || code == '.' || code == ',' || code == '*';
}

/* Capitals and figures; one blank for separators between them, '?' for all else. */
static void keep_text(plwi_date *date, const char *text, size_t length)
{
    const unsigned char *bytes = (const unsigned char *)text;
    int gap = 0;
    date->length = 0;
    for (size_t i = 0; i < length;) {
        plwi_unit unit = plwi_next_unit(bytes + i, length - i);
        uint32_t code = unit.code >= 'a' && unit.code <= 'z' ? unit.code - 'a' + 'A' : unit.code;
        unsigned bit = plwi_character_bit(code);
        i += unit.length;
        if (is_separator(code)) {
            gap = date->length > 0;
            continue;
        }
        if (gap)
            date->text[date->length++] = ' ';
        gap = 0;
        date->text[date->length++] = (char)(bit == ODD_CHARACTER ? '?' : plwi_character(bit));
    }
    date->text[date->length] = '\0';
}

int32_t plw_car_add_date(plw_car *car, int32_t kind, const char *text, size_t length)
{
    if (car == NULL || !is_kind(kind) || (text == NULL && length > 0))
        return PLW_E_ARGUMENT;
    if (length > PLW_MAX_DATE_TEXT || car->date_count == PLW_MAX_DATES)
        return PLW_E_TOO_LONG;
    plwi_date *date = &car->dates[car->date_count++];
    date->kind = kind;
    keep_text(date, text, length);
    plwi_car_forget(car);
    return PLW_OK;
}

/* ---- the whole -------------------------------------------------------------------- */

int32_t plw_car_date_verdict(const plw_car *car)
{
    return car ? car->date_verdict : 0;
}

static int32_t day_or_none(int32_t number)
{
    return number > 0 ? plwi_calendar_day(number) : 0;
}

int32_t plw_car_built_first(const plw_car *car)
{
    return car ? day_or_none(car->built.first) : 0;
}

int32_t plw_car_built_last(const plw_car *car)
{
    return car ? day_or_none(car->built.last) : 0;
}

/* ---- one date ------------------------------------------------------------------------ */

static const plwi_date *date_at(const plw_car *car, uint32_t index)
{
    return car && index < car->date_count ? &car->dates[index] : NULL;
}

uint32_t plw_date_count(const plw_car *car)
{
    return car ? car->date_count : 0;
}

int32_t plw_date_kind(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? d->kind : 0;
}

int32_t plw_date_text(const plw_car *car, uint32_t date, char *buffer, size_t capacity,
                      size_t *needed)
{
    const plwi_date *d = date_at(car, date);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (d == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put(&writer, d->text, d->length);
    return plwi_writer_end(&writer, needed);
}

uint32_t plw_date_span_count(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? d->spans.count : 0;
}

int32_t plw_date_span_first(const plw_car *car, uint32_t date, uint32_t span)
{
    const plwi_date *d = date_at(car, date);
    return d && span < d->spans.count ? plwi_calendar_day(d->spans.item[span].first) : 0;
}

int32_t plw_date_span_last(const plw_car *car, uint32_t date, uint32_t span)
{
    const plwi_date *d = date_at(car, date);
    return d && span < d->spans.count ? plwi_calendar_day(d->spans.item[span].last) : 0;
}

int32_t plw_date_capped(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? (int32_t)d->spans.capped : 0;
}

uint32_t plw_date_row(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? d->row : PLW_NONE;
}

uint32_t plw_date_rule(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? d->rule : PLW_NONE;
}

uint32_t plw_date_against(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d && d->verdict != PLW_DATE_VERDICT_FITS ? d->against : PLW_NONE;
}

int32_t plw_date_verdict(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? d->verdict : 0;
}

int32_t plw_date_reason(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? d->reason : PLW_DATE_REASON_NONE;
}

int32_t plw_date_grade(const plw_car *car, uint32_t date)
{
    const plwi_date *d = date_at(car, date);
    return d ? d->grade : PLW_GRADE_CLEAR;
}

int32_t plw_date_sentence(const plw_car *car, uint32_t date, char *buffer, size_t capacity,
                          size_t *needed)
{
    const plwi_date *d = date_at(car, date);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (d == NULL || d->verdict == 0)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_date_sentence(&writer, car, date);
    return plwi_writer_end(&writer, needed);
}
