/* SPDX-License-Identifier: MIT
 *
 * The plates of a car as lines of text under each other, so that their characters
 * align.
 */
#include "explain_car.h"

#include "page.h"

#define FIRST_EDGE 2u
#define NAME_WIDTH 24u
#define STACK_WIDTH (PAGE_WIDTH - FIRST_EDGE - NAME_WIDTH)

/* ---- the stack ------------------------------------------------------------- */

/* Columns of each position, so that "[8B]" has room in every line. */
typedef struct stack {
    uint32_t length;
    int narrow; /* brackets would make it too wide: they become '*' */
    uint8_t width[MAX_POSITIONS];
} stack;

static void cell_text(const plwi_cell *cell, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_typed(&writer, cell);
    plwi_piece_end(piece, &writer);
}

static void widen(stack *s, uint32_t position, const plwi_cell *cell)
{
    plwi_piece piece;
    cell_text(cell, &piece);
    unsigned columns = plwi_columns(piece.text);
    if (columns > s->width[position])
        s->width[position] = (uint8_t)columns;
}

static stack stack_of(const plw_car *car)
{
    const plwi_number *joined = &car->joined[0].number;
    stack s = { .length = joined->count };
    uint32_t columns = 0;
    for (uint32_t p = 0; p < s.length; p++) {
        widen(&s, p, &joined->cell[p]);
        for (uint32_t i = 0; i < car->plate_count; i++)
            if (plwi_plate_cell(&car->plates[i], p))
                widen(&s, p, plwi_plate_cell(&car->plates[i], p));
        columns += s.width[p];
    }
    s.narrow = columns > STACK_WIDTH;
    for (uint32_t p = 0; s.narrow && p < s.length; p++)
        s.width[p] = 1;
    return s;
}

static void pad(plwi_writer *out, unsigned from, unsigned to)
{
    for (; from < to; from++)
        plwi_put_char(out, ' ');
}

/* Writes a cell at its column; column is where the line ends so far. */
static void put_cell(plwi_writer *out, const stack *s, uint32_t position, const plwi_cell *cell,
                     unsigned *column)
{
    plwi_piece piece;
    unsigned start = 0;
    if (cell == NULL)
        return;
    for (uint32_t p = 0; p < position; p++)
        start += s->width[p];
    cell_text(cell, &piece);
    const char *text = s->narrow && plwi_columns(piece.text) > 1 ? "*" : piece.text;
    pad(out, *column, start);
    plwi_put_text(out, text);
    *column = start + plwi_columns(text);
}

static void put_line_name(plwi_writer *out, const char *name)
{
    pad(out, 0, FIRST_EDGE);
    plwi_put_text(out, name);
    pad(out, plwi_columns(name), NAME_WIDTH);
}

static void put_plate_line(plwi_writer *out, const plw_car *car, const stack *s, uint32_t plate)
{
    plwi_piece name;
    unsigned column = 0;
    put_line_name(out, plwi_plate_name(car, plate, &name));
    for (uint32_t p = 0; p < s->length; p++)
        put_cell(out, s, p, plwi_plate_cell(&car->plates[plate], p), &column);
    plwi_put_char(out, '\n');
}

static void put_joined_line(plwi_writer *out, const plw_car *car, const stack *s)
{
    unsigned column = 0;
    put_line_name(out, "together");
    for (uint32_t p = 0; p < s->length; p++)
        put_cell(out, s, p, &car->joined[0].number.cell[p], &column);
    plwi_put_char(out, '\n');
}

static void put_carets(plwi_writer *out, const plw_car *car, const stack *s)
{
    uint32_t marked = plwi_contradictions(car);
    if (marked == 0)
        return;
    put_line_name(out, "");
    for (uint32_t p = 0; p < s->length && marked >> p; p++)
        for (uint32_t column = 0; column < s->width[p]; column++)
            plwi_put_char(out, marked >> p & 1 ? '^' : ' ');
    plwi_put_char(out, '\n');
}

/* Plates that lie on no position are shown as they were read. */
static void put_loose_lines(plwi_writer *out, const plw_car *car)
{
    for (uint32_t i = 0; i < car->plate_count; i++) {
        const plwi_number *number = &car->plates[i].number;
        plwi_piece name;
        if (car->plates[i].alignment.taken != PLW_TAKEN_NOT)
            continue;
        put_line_name(out, plwi_plate_name(car, i, &name));
        for (uint32_t p = 0; p < number->count && p < MAX_POSITIONS; p++)
            plwi_put_typed(out, &number->cell[p]);
        plwi_put_text(out, number->count ? " (not aligned)\n" : "(nothing to read)\n");
    }
}

void plwi_put_text_stack(plwi_writer *out, const plw_car *car)
{
    if (car->joined_count > 0) {
        stack s = stack_of(car);
        for (uint32_t i = 0; i < car->plate_count; i++)
            if (car->plates[i].alignment.taken != PLW_TAKEN_NOT)
                put_plate_line(out, car, &s, i);
        put_joined_line(out, car, &s);
        put_carets(out, car, &s);
    }
    put_loose_lines(out, car);
}
