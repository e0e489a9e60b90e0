/* SPDX-License-Identifier: MIT
 *
 * Explain for a car as JSON: one object on one line. Its form is fixed by
 * car.schema.json; a change that the schema does not allow needs a new number in
 * "format".
 */
#include "explain_car.h"
#include "json.h"

#define FORMAT_NUMBER 1

static const char *taken_name(unsigned taken)
{
    static const char names[][8] = { "not", "full", "partial" };
    return names[taken];
}

/* ---- rows and numbers ------------------------------------------------------- */

static void member_null(plwi_writer *out, const char *name)
{
    plwi_json_name(out, 0, name);
    plwi_put_text(out, "null");
}

static void put_row(plwi_view *view, uint32_t row)
{
    plwi_piece piece;
    plwi_put_char(&view->out, '{');
    plwi_json_name(&view->out, 1, "key");
    plwi_json_string(&view->out, plwi_key_text(view, row, &piece));
    plwi_json_text(&view->out, "words", plwi_row_words(view, row));
    plwi_json_text(&view->out, "standing", plw_standing_name(plw_row_standing(view->tables, row)));
    plwi_json_open(&view->out, "sources", '[');
    for (uint32_t i = 0; i < plw_row_source_count(view->tables, row); i++) {
        plwi_json_comma(&view->out, i);
        plwi_json_string(&view->out,
                         plw_source_key(view->tables, plw_row_source(view->tables, row, i)));
    }
    plwi_put_text(&view->out, "]}");
}

void plwi_json_row(plwi_view *view, const char *name, uint32_t row)
{
    if (row == PLW_NONE) {
        member_null(&view->out, name);
    } else {
        plwi_json_name(&view->out, 0, name);
        put_row(view, row);
    }
}

static void member_row(plwi_view *view, uint32_t row)
{
    plwi_json_row(view, "row", row);
}

static void member_number(plwi_writer *out, const plwi_number *number)
{
    plwi_piece piece;
    plwi_writer writer = plwi_piece_writer(&piece);
    for (uint32_t p = 0; p < number->count && p < MAX_POSITIONS; p++)
        plwi_put_typed(&writer, &number->cell[p]);
    plwi_json_text(out, "number", plwi_piece_end(&piece, &writer));
}

/* ---- plates ------------------------------------------------------------------- */

/* What the plate shows at each of its positions. */
static void member_shows(plwi_writer *out, const plwi_plate *plate)
{
    const plwi_alignment *a = &plate->alignment;
    uint32_t count = 0;
    plwi_json_open(out, "shows", '[');
    for (uint32_t p = 0; p < MAX_POSITIONS; p++) {
        plwi_piece piece;
        plwi_writer writer = plwi_piece_writer(&piece);
        if (!(a->positions >> p & 1))
            continue;
        plwi_put_typed(&writer, &plate->number.cell[a->cell[p]]);
        plwi_json_comma(out, count++);
        plwi_json_string(out, plwi_piece_end(&piece, &writer));
    }
    plwi_put_char(out, ']');
}

static void member_agrees_with(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    uint32_t count = 0;
    plwi_json_open(out, "agrees_with", '[');
    for (uint32_t i = 0; i < car->plate_count; i++) {
        if (!plw_plate_compared(car, plate, i) || plw_plate_differs(car, plate, i))
            continue;
        plwi_json_comma(out, count++);
        plwi_put_number(out, i);
    }
    plwi_put_char(out, ']');
}

static void member_differs_from(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    uint32_t count = 0;
    plwi_json_open(out, "differs_from", '[');
    for (uint32_t i = 0; i < car->plate_count; i++) {
        uint32_t differs = plw_plate_differs(car, plate, i);
        if (differs == 0)
            continue;
        plwi_json_comma(out, count++);
        plwi_put_char(out, '{');
        plwi_json_name(out, 1, "plate");
        plwi_put_number(out, i);
        plwi_json_positions(out, differs);
        plwi_put_char(out, '}');
    }
    plwi_put_char(out, ']');
}

static void put_plate(plwi_view *view, const plw_car *car, uint32_t index)
{
    plwi_writer *out = &view->out;
    const plwi_plate *plate = &car->plates[index];
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "place");
    plwi_json_string(out, plw_place_name(plate->place));
    plwi_json_text(out, "label", plw_place_label(plate->place));
    member_number(out, &plate->number);
    plwi_json_text(out, "taken", taken_name(plate->alignment.taken));
    member_row(view, plate->alignment.row);
    plwi_json_positions(out, plate->alignment.positions);
    member_shows(out, plate);
    plwi_json_text(out, "verdict", plw_plate_verdict_name(plate->verdict));
    member_agrees_with(out, car, index);
    member_differs_from(out, car, index);
    plwi_json_text(out, "sentence", plwi_plate_sentence(car, index, &piece));
    plwi_put_char(out, '}');
}

/* Plates that were not compared have no verdict and are left out. */
static void member_plates(plwi_view *view, const plw_car *car)
{
    plwi_json_open(&view->out, "plates", '[');
    for (uint32_t i = 0; car->verdict && i < car->plate_count; i++) {
        plwi_json_comma(&view->out, i);
        put_plate(view, car, i);
    }
    plwi_put_char(&view->out, ']');
}

/* ---- differences, what is missing ------------------------------------------------ */

static void member_plate_list(plwi_writer *out, uint32_t plates)
{
    uint32_t count = 0;
    plwi_json_open(out, "plates", '[');
    for (uint32_t i = 0; plates >> i; i++) {
        if (!(plates >> i & 1))
            continue;
        plwi_json_comma(out, count++);
        plwi_put_number(out, i);
    }
    plwi_put_char(out, ']');
}

static void put_difference(plwi_view *view, const plw_car *car, uint32_t index)
{
    plwi_writer *out = &view->out;
    const plwi_difference *d = &car->differences[index];
    plwi_piece piece;
    plwi_writer shows = plwi_piece_writer(&piece);
    plwi_put_choice(&shows, d->set);
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "position");
    plwi_put_number(out, d->position + 1);
    plwi_json_text(out, "shows", plwi_piece_end(&piece, &shows));
    member_plate_list(out, d->plates);
    plwi_json_years(out, "years", d->years);
    plwi_json_open(out, "rows", '[');
    for (uint32_t i = 0; i < d->row_count; i++) {
        plwi_json_comma(out, i);
        put_row(view, d->rows[i]);
    }
    plwi_put_char(out, ']');
    plwi_json_text(out, "sentence", plwi_difference_sentence(car, index, &piece));
    plwi_put_char(out, '}');
}

static void member_differences(plwi_view *view, const plw_car *car)
{
    plwi_json_open(&view->out, "differences", '[');
    for (uint32_t i = 0; i < car->difference_count; i++) {
        plwi_json_comma(&view->out, i);
        put_difference(view, car, i);
    }
    plwi_put_char(&view->out, ']');
}

static void member_missing(plwi_view *view, const plw_car *car)
{
    plwi_writer *out = &view->out;
    plwi_json_open(out, "expected_not_given", '[');
    for (uint32_t i = 0; i < car->missing_count; i++) {
        plwi_piece piece;
        plwi_json_comma(out, i);
        plwi_put_char(out, '{');
        plwi_json_name(out, 1, "place");
        plwi_json_string(out, plw_place_name(car->missing[i].place));
        plwi_json_text(out, "label", plw_place_label(car->missing[i].place));
        member_row(view, car->missing[i].row);
        plwi_json_text(out, "sentence", plwi_missing_sentence(car, i, &piece));
        plwi_put_char(out, '}');
    }
    plwi_put_char(out, ']');
}

/* ---- what they say together ---------------------------------------------------------- */

static void put_scheme(plwi_view *view, uint32_t scheme)
{
    plwi_json_name(&view->out, 1, "scheme");
    plwi_json_string(&view->out, plw_scheme_key(view->tables, scheme));
    plwi_json_text(&view->out, "title",
                   plwi_title(view->result->names, plwi_image(view->tables), scheme));
}

static void member_joined(plwi_view *view, const plw_car *car)
{
    plwi_writer *out = &view->out;
    plwi_json_open(out, "joined", '[');
    for (uint32_t i = 0; i < car->joined_count; i++) {
        plwi_json_comma(out, i);
        plwi_put_char(out, '{');
        put_scheme(view, plw_joined_scheme(car, i));
        member_number(out, &car->joined[i].number);
        plwi_put_char(out, '}');
    }
    plwi_put_char(out, ']');
    plwi_json_name(out, 0, "joined_capped");
    plwi_put_text(out, car->joined_capped ? "true" : "false");
}

static void member_reading(plwi_view *view, const plw_car *car)
{
    plwi_piece piece;
    if (car->reading == PLW_NONE) {
        member_null(&view->out, "reading");
        return;
    }
    plwi_json_open(&view->out, "reading", '{');
    put_scheme(view, plw_reading_scheme(view->result, car->reading));
    plwi_json_text(&view->out, "number", plwi_reading_text(view, car->reading, &piece));
    plwi_json_years(&view->out, "years", plwi_car_years(car));
    plwi_put_char(&view->out, '}');
}

static void member_advice(plwi_view *view, const plw_car *car)
{
    uint32_t count = plw_advice_count(car);
    plwi_piece piece;
    plwi_json_open(&view->out, "next", '[');
    for (uint32_t i = 0; i < count; i++) {
        plwi_json_comma(&view->out, i);
        plwi_json_string(&view->out, plwi_advice_sentence(car, i, &piece));
    }
    plwi_put_char(&view->out, ']');
}

static void member_sources(plwi_view *view, const plw_car *car)
{
    uint32_t count = 0;
    if (!(view->flags & PLW_EXPLAIN_SOURCES))
        return;
    plwi_json_open(&view->out, "sources", '[');
    for (uint32_t source = plwi_next_car_source(view, car, PLW_NONE); source != PLW_NONE;
         source = plwi_next_car_source(view, car, source)) {
        plwi_json_comma(&view->out, count++);
        plwi_json_source(view, source);
    }
    plwi_put_char(&view->out, ']');
}

void plwi_explain_car_json(plwi_view *view, const plw_car *car)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "format");
    plwi_put_number(out, FORMAT_NUMBER);
    if (car->verdict)
        plwi_json_text(out, "verdict", plw_plate_verdict_name(car->verdict));
    else
        member_null(out, "verdict");
    plwi_json_text(out, "summary", plwi_car_summary(car, &piece));
    member_plates(view, car);
    member_differences(view, car);
    member_missing(view, car);
    plwi_json_dates(view, car);
    member_joined(view, car);
    member_reading(view, car);
    plwi_json_findings(view);
    plwi_json_claims(view);
    member_advice(view, car);
    member_sources(view, car);
    plwi_json_closing(view);
}
