/* SPDX-License-Identifier: MIT
 *
 * The dates of a car in the forms of its explanation.
 */
#include "explain_car.h"

#include "json.h"

static const char *sentence(const plw_car *car, uint32_t date, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_date_sentence(&writer, car, date);
    return plwi_piece_end(piece, &writer);
}

/* The rows that stand behind it: the form, the rule that it is held against. */
static uint32_t row_behind(const plwi_date *date, uint32_t index)
{
    return index == 0 ? date->row : date->rule;
}

/* The keys of their sources, or "". */
static const char *sources(const plwi_view *view, const plwi_date *date, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    uint32_t count = 0;
    for (uint32_t i = 0; i < 2; i++) {
        uint32_t row = row_behind(date, i);
        for (uint32_t k = 0; k < plw_row_source_count(view->tables, row); k++) {
            plwi_put_text(&writer, count++ ? ", " : "");
            plwi_put_text(&writer, plw_source_key(view->tables,
                                                  plw_row_source(view->tables, row, k)));
        }
    }
    return plwi_piece_end(piece, &writer);
}

uint32_t plwi_date_count_told(const plw_car *car)
{
    return car->date_verdict ? car->date_count : 0;
}

/* ---- for people --------------------------------------------------------------- */

static int stand_of(const plwi_date *date)
{
    return date->verdict == PLW_DATE_VERDICT_FITS    ? STANDS_FOR
           : date->verdict == PLW_DATE_VERDICT_LATER ? STANDS_AGAINST
                                                     : STANDS_OPEN;
}

void plwi_outline_dates(plwi_outline *outline, const plw_car *car)
{
    uint32_t count = plwi_date_count_told(car);
    plwi_piece text, keys;
    if (count > 0)
        plwi_outline_heading(outline, "Dates");
    for (uint32_t i = 0; i < count; i++) {
        const plwi_date *date = &car->dates[i];
        plwi_mark mark = { stand_of(date), plw_date_verdict_name(date->verdict),
                           PLWI_VERDICT_COLUMNS };
        plwi_outline_marked(outline, &mark, sentence(car, i, &text),
                            sources(outline->view, date, &keys));
    }
}

/* ---- JSON ------------------------------------------------------------------------ */

/* "1968-03-01" */
static void put_iso_day(plwi_writer *out, int32_t day)
{
    char text[] = "0000-00-00";
    static const uint8_t places[] = { 9, 8, 6, 5, 3, 2, 1, 0 };
    for (size_t i = 0; i < sizeof places; i++, day /= 10)
        text[places[i]] = (char)('0' + day % 10);
    plwi_json_string(out, text);
}

static void put_days(plwi_writer *out, int32_t first, int32_t last)
{
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "first");
    put_iso_day(out, first);
    plwi_json_name(out, 0, "last");
    put_iso_day(out, last);
    plwi_put_char(out, '}');
}

static void member_days(plwi_writer *out, const plw_car *car, uint32_t date)
{
    plwi_json_open(out, "days", '[');
    for (uint32_t i = 0; i < plw_date_span_count(car, date); i++) {
        plwi_json_comma(out, i);
        put_days(out, plw_date_span_first(car, date, i), plw_date_span_last(car, date, i));
    }
    plwi_put_char(out, ']');
    plwi_json_name(out, 0, "days_capped");
    plwi_put_text(out, plw_date_capped(car, date) ? "true" : "false");
}

static void member_against(plwi_writer *out, uint32_t against)
{
    plwi_json_name(out, 0, "against");
    if (against == PLW_NONE)
        plwi_put_text(out, "null");
    else
        plwi_put_number(out, against);
}

static void put_date(plwi_view *view, const plw_car *car, uint32_t index)
{
    plwi_writer *out = &view->out;
    const plwi_date *date = &car->dates[index];
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "kind");
    plwi_json_string(out, plw_date_kind_name(date->kind));
    plwi_json_text(out, "label", plw_date_kind_label(date->kind));
    plwi_json_text(out, "text", date->text);
    member_days(out, car, index);
    plwi_json_text(out, "verdict", plw_date_verdict_name(date->verdict));
    plwi_json_text(out, "reason", plw_date_reason_name(date->reason));
    plwi_json_text(out, "grade", plw_grade_name(date->grade));
    plwi_json_row(view, "row", date->row);
    plwi_json_row(view, "rule", date->rule);
    member_against(out, plw_date_against(car, index));
    plwi_json_text(out, "sentence", sentence(car, index, &piece));
    plwi_put_char(out, '}');
}

void plwi_json_dates(plwi_view *view, const plw_car *car)
{
    plwi_writer *out = &view->out;
    plwi_json_name(out, 0, "date_verdict");
    if (car->date_verdict)
        plwi_json_string(out, plw_date_verdict_name(car->date_verdict));
    else
        plwi_put_text(out, "null");
    plwi_json_name(out, 0, "built");
    if (plw_car_built_first(car))
        put_days(out, plw_car_built_first(car), plw_car_built_last(car));
    else
        plwi_put_text(out, "null");
    plwi_json_open(out, "dates", '[');
    for (uint32_t i = 0; i < plwi_date_count_told(car); i++) {
        plwi_json_comma(out, i);
        put_date(view, car, i);
    }
    plwi_put_char(out, ']');
}

/* ---- sources ------------------------------------------------------------------------ */

uint32_t plwi_next_date_source(const plwi_view *view, const plw_car *car, uint32_t after,
                               uint32_t best)
{
    for (uint32_t i = 0; i < plwi_date_count_told(car); i++)
        for (uint32_t k = 0; k < 2; k++)
            best = plwi_lower_source(view, row_behind(&car->dates[i], k), after, best);
    return best;
}
