/* SPDX-License-Identifier: MIT
 *
 * The plates of a car as a drawing: one row of boxes for each plate, every character
 * under its position of the full number, and below them what they say together. A
 * partial stamp stands under the characters that it repeats. The drawing is made
 * twice, first into nothing to learn its height.
 */
#include "explain_car.h"

#include <string.h>

#define BAND_LENGTH 17u /* positions side by side; a longer number takes two bands */
#define WIDEST_PITCH 28
#define BOX_HEIGHT 25
#define TALL_BOX_HEIGHT 39 /* with room for choices above */
#define CHOICES_SIZE 4     /* bytes of these, the zero byte included */
#define DIAMOND_SIZE 8
#define ROW_GAP 5

/* Some positions of the full number, side by side. */
typedef struct band {
    uint32_t first; /* from 0 */
    uint32_t end;
    uint32_t positions; /* the same as a set */
    int pitch;
} band;

/* One line of the stack: a plate, or what all say together. */
typedef struct stack_row {
    const plwi_plate *plate; /* NULL: together */
    uint32_t differs;        /* positions at which it contradicts another */
} stack_row;

static band band_of(uint32_t first, uint32_t count)
{
    band b = { .first = first, .end = first + count };
    b.positions = (uint32_t)(((UINT64_C(1) << count) - 1) << first);
    b.pitch = (PLWI_RIGHT_EDGE - PLWI_EDGE) / (int)count;
    if (b.pitch > WIDEST_PITCH)
        b.pitch = WIDEST_PITCH;
    return b;
}

static int box_left(const band *b, uint32_t position)
{
    return PLWI_EDGE + (int)(position - b->first) * b->pitch + 1;
}

static int box_center(const band *b, uint32_t position)
{
    return box_left(b, position) + (b->pitch - 2) / 2;
}

/* ---- characters ------------------------------------------------------------- */

static const plwi_cell *cell_at(const plw_car *car, const stack_row *row, uint32_t position)
{
    return row->plate ? plwi_plate_cell(row->plate, position)
                      : &car->joined[0].number.cell[position];
}

static int is_unreadable(const plwi_cell *cell)
{
    return cell->shown == '?' || cell->shown == SHOWN_ALTERNATIVES;
}

/* "8B" where a cell can be either; 1 when it finds room in a box. */
static int choices_of(const plwi_cell *cell, char text[CHOICES_SIZE])
{
    plwi_writer writer = plwi_writer_on(text, CHOICES_SIZE);
    if (cell && cell->shown == SHOWN_ALTERNATIVES)
        plwi_put_set(&writer, cell->set);
    return plwi_writer_end(&writer, NULL) == PLW_OK && text[0] != '\0';
}

static void put_character(plwi_svg *svg, const plwi_cell *cell)
{
    plwi_piece piece;
    plwi_writer writer = plwi_piece_writer(&piece);
    if (is_unreadable(cell))
        plwi_put_char(&writer, '?');
    else
        plwi_put_typed(&writer, cell);
    plwi_svg_escaped(svg, plwi_piece_end(&piece, &writer));
}

/* ---- a row of boxes ------------------------------------------------------------ */

static void put_box(plwi_svg *svg, const band *b, const stack_row *row, const plwi_cell *cell,
                    uint32_t position, int height)
{
    int left = box_left(b, position), width = b->pitch - 2;
    if (row->differs >> position & 1)
        plwi_svg_shaded(svg, "plw-differs", left, svg->y, width, height);
    else
        plwi_svg_rectangle(svg, "plw-box", left, svg->y, width, height);
    if (is_unreadable(cell))
        plwi_svg_hatching(svg, left, svg->y + height - BOX_HEIGHT, width, BOX_HEIGHT);
}

/* One text, so that the characters can be selected and copied together. */
static void put_characters(plwi_svg *svg, const plw_car *car, const band *b,
                           const stack_row *row, int height)
{
    plwi_svg_open_stamped(svg, 17);
    for (uint32_t p = b->first; p < b->end; p++) {
        const plwi_cell *cell = cell_at(car, row, p);
        if (cell == NULL)
            continue;
        plwi_svg_open_place(svg, box_center(b, p), svg->y + height - 7);
        put_character(svg, cell);
        plwi_svg_markup(svg, "</tspan>");
    }
    plwi_svg_markup(svg, "</text>\n");
}

static void put_choices(plwi_svg *svg, const band *b, const plwi_cell *cell, uint32_t position)
{
    char text[CHOICES_SIZE];
    if (!choices_of(cell, text))
        return;
    plwi_svg_open_stamped(svg, strlen(text) > 2 ? 8 : 11);
    plwi_svg_open_place(svg, box_center(b, position), svg->y + 11);
    plwi_svg_escaped(svg, text);
    plwi_svg_markup(svg, "</tspan></text>\n");
}

static int height_of(const plw_car *car, const band *b, const stack_row *row)
{
    char choices[CHOICES_SIZE];
    for (uint32_t p = b->first; p < b->end; p++)
        if (choices_of(cell_at(car, row, p), choices))
            return TALL_BOX_HEIGHT;
    return BOX_HEIGHT;
}

static void put_diamonds(plwi_svg *svg, const band *b, const stack_row *row)
{
    if (!(row->differs & b->positions))
        return;
    for (uint32_t p = b->first; p < b->end; p++)
        if (row->differs >> p & 1)
            plwi_svg_diamond(svg, "plw-difference", box_center(b, p), svg->y + 2, DIAMOND_SIZE);
    svg->y += DIAMOND_SIZE + 2;
}

static void put_boxes(plwi_svg *svg, const plw_car *car, const band *b, const stack_row *row)
{
    int height = height_of(car, b, row);
    for (uint32_t p = b->first; p < b->end; p++)
        if (cell_at(car, row, p))
            put_box(svg, b, row, cell_at(car, row, p), p, height);
    put_characters(svg, car, b, row, height);
    for (uint32_t p = b->first; p < b->end; p++)
        put_choices(svg, b, cell_at(car, row, p), p);
    svg->y += height;
    put_diamonds(svg, b, row);
    svg->y += ROW_GAP;
}

/* ---- the stack --------------------------------------------------------------------- */

/* The mark, name and verdict of a plate. */
static void put_plate_head(plwi_svg *svg, const plw_car *car, uint32_t plate)
{
    int32_t verdict = car->plates[plate].verdict;
    plwi_piece name;
    int top = svg->y;
    plwi_svg_verdict(svg, plwi_plate_stand(verdict), PLWI_EDGE + 10, top);
    svg->y += 1;
    plwi_paragraph p = plwi_paragraph_start(svg, FONT_BODY, PLWI_EDGE + 26, PLWI_RIGHT_EDGE);
    plwi_paragraph_put(&p, plwi_plate_name(car, plate, &name));
    plwi_paragraph_put_between(&p, ": ", plw_plate_verdict_name(verdict), "");
    plwi_paragraph_end(&p);
    svg->y = top + PLWI_MARK_SIZE + 4;
}

static void put_position_numbers(plwi_svg *svg, const band *b)
{
    plwi_svg_markup(svg, "<text text-anchor=\"middle\" font-size=\"10\">");
    for (uint32_t p = b->first; p < b->end; p++) {
        plwi_svg_open_place(svg, box_center(b, p), svg->y + 9);
        plwi_put_number(svg->out, p + 1);
        plwi_svg_markup(svg, "</tspan> ");
    }
    plwi_svg_markup(svg, "</text>\n");
    svg->y += 14;
}

static void put_together(plwi_svg *svg, const plw_car *car, const band *b)
{
    stack_row row = { NULL, plwi_contradictions(car) };
    plwi_point line[] = { { PLWI_EDGE, svg->y }, { PLWI_RIGHT_EDGE, svg->y } };
    plwi_svg_polyline(svg, "plw-rule", line, 2);
    svg->y += 4;
    plwi_svg_line(svg, FONT_HEAD, PLWI_EDGE, PLWI_RIGHT_EDGE, "together");
    svg->y += 2;
    put_boxes(svg, car, b, &row);
    svg->y -= ROW_GAP;
    put_position_numbers(svg, b);
}

static void put_band(plwi_svg *svg, const plw_car *car, const band *b)
{
    uint32_t contradictions = plwi_contradictions(car);
    for (uint32_t i = 0; i < car->plate_count; i++) {
        const plwi_plate *plate = &car->plates[i];
        stack_row row = { plate, plate->alignment.readable & contradictions };
        if (plate->alignment.taken == PLW_TAKEN_NOT || !(plate->alignment.positions & b->positions))
            continue;
        put_plate_head(svg, car, i);
        put_boxes(svg, car, b, &row);
    }
    put_together(svg, car, b);
    svg->y += PLWI_PADDING;
}

/* Plates that lie on no position are shown as they were read. */
static void put_loose(plwi_svg *svg, const plw_car *car, uint32_t plate)
{
    const plwi_number *number = &car->plates[plate].number;
    plwi_piece text;
    plwi_writer writer = plwi_piece_writer(&text);
    put_plate_head(svg, car, plate);
    svg->y -= 4;
    for (uint32_t p = 0; p < number->count && p < MAX_POSITIONS; p++)
        plwi_put_typed(&writer, &number->cell[p]);
    plwi_put_text(&writer, number->count ? " (not aligned)" : "(nothing to read)");
    plwi_svg_line(svg, FONT_BODY, PLWI_EDGE + 26, PLWI_RIGHT_EDGE, plwi_piece_end(&text, &writer));
    svg->y += ROW_GAP;
}

static void put_stack(plwi_svg *svg, const plw_car *car)
{
    uint32_t count = car->joined_count > 0 ? car->joined[0].number.count : 0;
    uint32_t length = count <= BAND_LENGTH ? count : (count + 1) / 2;
    for (uint32_t first = 0; first < count; first += length) {
        band b = band_of(first, count - first < length ? count - first : length);
        put_band(svg, car, &b);
    }
    for (uint32_t i = 0; car->verdict && i < car->plate_count; i++)
        if (car->plates[i].alignment.taken == PLW_TAKEN_NOT)
            put_loose(svg, car, i);
}

/* ---- the drawing --------------------------------------------------------------------- */

/* What a screen reader says first. */
static void put_description(plwi_svg *svg, const plw_car *car)
{
    plwi_piece piece;
    plwi_svg_markup(svg, "<title>Plates of a car</title>\n<desc>");
    plwi_svg_escaped(svg, plwi_car_summary(car, &piece));
    for (uint32_t i = 0; car->verdict && i < car->plate_count; i++) {
        plwi_svg_markup(svg, " ");
        plwi_svg_escaped(svg, plwi_plate_sentence(car, i, &piece));
    }
    plwi_svg_markup(svg, "</desc>\n");
}

/* Draws in that height; returns the height it takes. */
static int draw(plwi_view *view, const plw_car *car, plwi_writer *out, int is_whole, int height)
{
    plwi_svg svg = { out, PLWI_EDGE };
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_SVG, .svg = &svg };
    plwi_piece piece;
    plwi_svg_start(&svg, "plw-car", height);
    put_description(&svg, car);
    if (is_whole) {
        plwi_svg_line(&svg, FONT_TITLE, PLWI_EDGE, PLWI_RIGHT_EDGE,
                      plwi_car_summary(car, &piece));
        svg.y += PLWI_PADDING;
    }
    put_stack(&svg, car);
    if (is_whole)
        plwi_outline_car(&outline, car);
    plwi_svg_markup(&svg, "</svg>\n");
    return svg.y + PLWI_EDGE;
}

static void draw_in_full_height(plwi_view *view, const plw_car *car, int is_whole)
{
    plwi_writer nothing = plwi_writer_on(NULL, 0);
    int height = draw(view, car, &nothing, is_whole, 0);
    draw(view, car, &view->out, is_whole, height);
}

void plwi_svg_stack(plwi_view *view, const plw_car *car)
{
    draw_in_full_height(view, car, 0);
}

void plwi_explain_car_svg(plwi_view *view, const plw_car *car)
{
    draw_in_full_height(view, car, 1);
}
