/* SPDX-License-Identifier: MIT
 *
 * Explain as a drawing (SVG) of the best reading: the characters in boxes,
 * brackets under the fields, and below them one call-out for each field, in
 * order of position. A leader goes from the bracket down to a track of its own,
 * right to a lane of its own, and down to the call-out: the further right the
 * field, the higher its track and the further out its lane, so that no leader
 * crosses another.
 *
 * The drawing is 360 units wide and as high as it needs. It is drawn twice,
 * first into nothing to learn its height.
 */
#include "outline.h"

#include <string.h>

#define ROW_LENGTH 17u /* boxes in one row; a longer number takes two */
#define WIDEST_PITCH 28
#define BOX_HEIGHT 30
#define TALL_BOX_HEIGHT 40 /* with room for what was typed above */
#define HATCHED_HEIGHT 25
#define ABOVE_SIZE 4 /* bytes of that, its zero byte included */
#define BRACKET_HEIGHT 5
#define LEVEL_GAP 4 /* between brackets over the same positions */
#define TRACK_GAP 5
#define LANE_GAP 6

typedef struct drawing {
    plwi_view *view;
    int is_strip; /* only the characters and the brackets */
    plwi_svg svg;
} drawing;

/* Some positions of the number, side by side. */
typedef struct box_row {
    uint32_t first;     /* position, from 0 */
    uint32_t count;
    uint32_t positions; /* the same as a set */
    int pitch;
    int top;    /* of the boxes */
    int height; /* of the boxes */
    int brackets; /* upper edge of the highest */
} box_row;

/* ---- Characters ---------------------------------------------------------- */

static const plwi_cell *cell_at(const drawing *d, uint32_t position)
{
    return &d->view->result->number.cell[position];
}

/* The best reading, or NULL. */
static const plwi_reading *reading_of(const drawing *d)
{
    return d->view->result->reading_count > 0 ? &d->view->result->readings[0] : NULL;
}

static int is_misread(const drawing *d, uint32_t position)
{
    const plwi_reading *reading = reading_of(d);
    return reading && reading->misread >> position & 1;
}

static int is_unreadable(const drawing *d, uint32_t position)
{
    uint32_t shown = cell_at(d, position)->shown;
    return shown == '?' || shown == SHOWN_ALTERNATIVES;
}

/* What was typed, where it was read as another or is a choice of some: 1 when it
 * finds room in a box. The call-out has longer choices. */
static int typed_above(const drawing *d, uint32_t position, char text[ABOVE_SIZE])
{
    const plwi_cell *cell = cell_at(d, position);
    plwi_writer writer = plwi_writer_on(text, ABOVE_SIZE);
    if (cell->shown == SHOWN_ALTERNATIVES)
        plwi_put_set(&writer, cell->set);
    else if (is_misread(d, position))
        plwi_put_typed(&writer, cell);
    return plwi_writer_end(&writer, NULL) == PLW_OK && text[0] != '\0';
}

/* The character as the reading has it. */
static void put_character(drawing *d, uint32_t position)
{
    char text[8];
    plwi_writer writer = plwi_writer_on(text, sizeof text);
    if (is_misread(d, position))
        plwi_put_set(&writer, reading_of(d)->sets[position]);
    else if (is_unreadable(d, position))
        plwi_put_char(&writer, '?');
    else
        plwi_put_typed(&writer, cell_at(d, position));
    (void)plwi_writer_end(&writer, NULL); /* a character takes 4 bytes at most */
    plwi_svg_escaped(&d->svg, text);
}

/* ---- Boxes --------------------------------------------------------------- */

static int box_left(const box_row *row, uint32_t position)
{
    return PLWI_EDGE + (int)(position - row->first) * row->pitch + 1;
}

static int box_center(const box_row *row, uint32_t position)
{
    return box_left(row, position) + (row->pitch - 2) / 2;
}

static uint32_t row_end(const box_row *row)
{
    return row->first + row->count;
}

static void put_boxes(drawing *d, const box_row *row)
{
    for (uint32_t p = row->first; p < row_end(row); p++) {
        plwi_svg_rectangle(&d->svg, "plw-box", box_left(row, p), row->top, row->pitch - 2,
                           row->height);
        if (is_unreadable(d, p))
            plwi_svg_hatching(&d->svg, box_left(row, p), row->top + row->height - HATCHED_HEIGHT,
                              row->pitch - 2, HATCHED_HEIGHT);
    }
}

/* One text, so that the number can be selected and copied whole. */
static void put_characters(drawing *d, const box_row *row)
{
    plwi_svg_open_stamped(&d->svg, 18);
    for (uint32_t p = row->first; p < row_end(row); p++) {
        plwi_svg_open_place(&d->svg, box_center(row, p), row->top + row->height - 8);
        put_character(d, p);
        plwi_svg_markup(&d->svg, "</tspan>");
    }
    plwi_svg_markup(&d->svg, "</text>\n");
}

/* A line parts it from what was read in its stead. */
static void put_typed(drawing *d, const box_row *row, uint32_t position)
{
    int left = box_left(row, position);
    int y = row->top + TALL_BOX_HEIGHT - HATCHED_HEIGHT;
    char text[ABOVE_SIZE];
    if (!typed_above(d, position, text))
        return;
    plwi_svg_open_stamped(&d->svg, strlen(text) > 2 ? 10 : 12);
    plwi_svg_open_place(&d->svg, box_center(row, position), y - 3);
    plwi_svg_escaped(&d->svg, text);
    plwi_svg_markup(&d->svg, "</tspan></text>\n");
    if (is_misread(d, position)) {
        plwi_point line[] = { { left, y }, { left + row->pitch - 2, y } };
        plwi_svg_polyline(&d->svg, "plw-typed", line, 2);
    }
}

static void put_position_numbers(drawing *d, const box_row *row)
{
    plwi_svg_markup(&d->svg, "<text text-anchor=\"middle\" font-size=\"10\">");
    for (uint32_t p = row->first; p < row_end(row); p++) {
        plwi_svg_open_place(&d->svg, box_center(row, p), d->svg.y + 10);
        plwi_put_number(d->svg.out, p + 1);
        plwi_svg_markup(&d->svg, "</tspan> ");
    }
    plwi_svg_markup(&d->svg, "</text>\n");
    d->svg.y += 13;
}

/* The gravest grade among the findings that point at a position. */
static int32_t grade_at(const drawing *d, uint32_t position)
{
    const plwi_view *view = d->view;
    uint32_t count = plw_finding_count(view->result);
    for (uint32_t i = 0; i < count; i++) /* GCOVR_EXCL_BR_LINE: a mark has its finding */
        if (plwi_finding_shown(view, i) &&
            (plw_finding_positions(view->result, i) >> position & 1u))
            return plw_finding_grade(view->result, i);
    return PLW_GRADE_CLEAR;
}

static void put_marks(drawing *d, const box_row *row)
{
    uint32_t marked = plwi_marked_positions(d->view) & row->positions;
    if (!marked)
        return;
    for (uint32_t p = row->first; p < row_end(row); p++)
        if (marked >> p & 1u)
            plwi_svg_mark(&d->svg, grade_at(d, p), box_center(row, p), d->svg.y);
    d->svg.y += PLWI_MARK_SIZE + 3;
}

static void put_stamped_row(drawing *d, box_row *row)
{
    char above[ABOVE_SIZE];
    row->height = BOX_HEIGHT;
    for (uint32_t p = row->first; p < row_end(row); p++)
        if (typed_above(d, p, above))
            row->height = TALL_BOX_HEIGHT;
    d->svg.y += PLWI_PADDING;
    put_marks(d, row);
    row->top = d->svg.y;
    put_boxes(d, row);
    put_characters(d, row);
    for (uint32_t p = row->first; p < row_end(row); p++)
        put_typed(d, row, p);
    d->svg.y = row->top + row->height;
    put_position_numbers(d, row);
}

/* ---- Brackets and leaders ------------------------------------------------ */

/* The run of positions of a set that starts at or behind first; 0 when there is none. */
static int next_run(uint32_t set, uint32_t *first, uint32_t *last)
{
    while (*first < PLW_MAX_POSITIONS && !(set >> *first & 1u))
        (*first)++;
    if (*first == PLW_MAX_POSITIONS)
        return 0;
    *last = *first;
    while (*last + 1 < PLW_MAX_POSITIONS && (set >> (*last + 1) & 1u))
        (*last)++;
    return 1;
}

static uint32_t positions_of(const drawing *d, uint32_t field)
{
    return plw_field_positions(d->view->result, 0, field);
}

static int is_plain(const drawing *d, uint32_t field)
{
    return !plw_field_is_detail(d->view->result, 0, field);
}

/* Of two plain fields that share positions the smaller lies under the wider. */
static int lies_under(const drawing *d, uint32_t field, uint32_t other)
{
    uint32_t own = positions_of(d, field);
    uint32_t others = positions_of(d, other);
    unsigned size = plwi_count_bits(own);
    unsigned others_size = plwi_count_bits(others);
    return (own & others) && (size < others_size || (size == others_size && field > other));
}

/* How many fields a field lies under. */
static int level_of(const drawing *d, uint32_t field)
{
    uint32_t count = plw_field_count(d->view->result, 0);
    int level = 0;
    for (uint32_t other = 0; other < count; other++)
        level += is_plain(d, other) && lies_under(d, field, other);
    return level;
}

/* Where the leader of a field leaves its bracket: in the middle of the first
 * positions under which no other field lies, else near the left end. */
static int anchor_of(const drawing *d, const box_row *row, uint32_t field)
{
    uint32_t count = plw_field_count(d->view->result, 0);
    uint32_t all = positions_of(d, field) & row->positions;
    uint32_t free = all;
    uint32_t first = 0;
    uint32_t last = 0;
    for (uint32_t other = 0; other < count; other++)
        if (is_plain(d, other) && lies_under(d, other, field))
            free &= ~positions_of(d, other);
    if (next_run(free, &first, &last))
        return (box_center(row, first) + box_center(row, last)) / 2;
    first = 0;
    next_run(all, &first, &last);
    return box_left(row, first) + 4;
}

static void put_brackets(drawing *d, const box_row *row, uint32_t field)
{
    uint32_t set = positions_of(d, field) & row->positions;
    uint32_t first = 0;
    uint32_t last;
    for (; next_run(set, &first, &last); first = last + 1) {
        int left = box_left(row, first) + 1;
        int right = box_left(row, last) + row->pitch - 3;
        int y = d->svg.y + level_of(d, field) * LEVEL_GAP;
        plwi_point points[] = { { left, y }, { left, y + BRACKET_HEIGHT },
                                { right, y + BRACKET_HEIGHT }, { right, y } };
        plwi_svg_polyline(&d->svg, "plw-bracket", points, 4);
    }
}

/* Draws the brackets of a row and goes below them. */
static void put_all_brackets(drawing *d, const box_row *row)
{
    uint32_t count = plw_field_count(d->view->result, 0);
    int deepest = 0;
    for (uint32_t field = 0; field < count; field++) {
        if (!is_plain(d, field) || !(positions_of(d, field) & row->positions))
            continue;
        put_brackets(d, row, field);
        if (level_of(d, field) > deepest)
            deepest = level_of(d, field);
    }
    d->svg.y += BRACKET_HEIGHT + deepest * LEVEL_GAP;
}

/* From the bracket of a field to the right edge of its call-out; rank counts
 * from the field at the far right. */
static void put_leader(drawing *d, const box_row *row, uint32_t field, int rank, int tracks,
                       plwi_point end)
{
    int x = anchor_of(d, row, field);
    int start = row->brackets + BRACKET_HEIGHT + level_of(d, field) * LEVEL_GAP;
    int track = tracks + (rank + 1) * TRACK_GAP;
    int lane = PLWI_RIGHT_EDGE - rank * LANE_GAP;
    plwi_point points[] = { { x, start }, { x, track }, { lane, track }, { lane, end.y }, end };
    plwi_svg_polyline(&d->svg, "plw-leader", points, 5);
}

/* Fields are called out under the row in which their first position stands. */
static int is_called_out(const drawing *d, const box_row *row, uint32_t field)
{
    uint32_t before = (1u << row->first) - 1;
    uint32_t set = positions_of(d, field);
    return is_plain(d, field) && (set & row->positions) && !(set & before);
}

static int callout_count(const drawing *d, const box_row *row)
{
    uint32_t count = plw_field_count(d->view->result, 0);
    int called_out = 0;
    for (uint32_t field = 0; field < count; field++)
        called_out += is_called_out(d, row, field);
    return called_out;
}

/* The next field from left to right that is called out under a row, behind after
 * (PLW_NONE to start), or PLW_NONE. */
static uint32_t next_callout(const drawing *d, const box_row *row, uint32_t after)
{
    uint32_t count = plw_field_count(d->view->result, 0);
    uint32_t best = PLW_NONE;
    int from = after == PLW_NONE ? -1 : anchor_of(d, row, after);
    int nearest = PLWI_DRAWING_WIDTH;
    for (uint32_t field = 0; field < count; field++) {
        if (!is_called_out(d, row, field))
            continue;
        int anchor = anchor_of(d, row, field);
        int is_behind = anchor > from || (anchor == from && field > after);
        if (is_behind && anchor < nearest) {
            nearest = anchor;
            best = field;
        }
    }
    return best;
}

/* ---- Call-outs ----------------------------------------------------------- */

static void put_line(drawing *d, int font, int left, int right, const char *text)
{
    plwi_svg_line(&d->svg, font, left, right, text);
}

static void put_standing(drawing *d, uint32_t row, int left, int right)
{
    const plwi_view *view = d->view;
    plwi_piece piece;
    plwi_paragraph p = plwi_paragraph_start(&d->svg, FONT_SMALL, left, right);
    const char *doubts = plwi_row_doubts(view, row, &piece);
    if (plw_row_standing(view->tables, row) == PLW_STANDING_PUBLISHED) {
        plwi_paragraph_put(&p, plw_standing_name(PLW_STANDING_PUBLISHED));
        plwi_paragraph_put_between(&p, "; ", doubts, "");
    } else {
        plwi_paragraph_put(&p, doubts);
    }
    plwi_paragraph_put_between(&p, " [", plwi_row_sources(view, row, &piece), "]");
    plwi_paragraph_end(&p);
}

/* One row: its words, figures and remark, how sure it is, and a bar at its
 * left that says the same by its pattern. */
static void put_row(drawing *d, uint32_t field, uint32_t row, int left, int right)
{
    const plwi_view *view = d->view;
    plwi_piece piece;
    int is_detail = plw_field_is_detail(view->result, 0, field);
    int top = d->svg.y;
    plwi_paragraph words = plwi_paragraph_start(&d->svg, FONT_BODY, left + PLWI_PADDING, right);
    if (is_detail)
        plwi_paragraph_put_between(&words, "", plw_field_label(view->result, 0, field), ": ");
    plwi_paragraph_put_between(&words, "", plwi_row_when(view, 0, field, row, &piece), ": ");
    plwi_paragraph_put(&words, plwi_row_words(view, row));
    plwi_paragraph_end(&words);
    put_line(d, FONT_SMALL, left + PLWI_PADDING, right, plwi_row_figures(view, row, is_detail, &piece));
    plwi_paragraph remark = plwi_paragraph_start(&d->svg, FONT_SMALL, left + PLWI_PADDING, right);
    plwi_paragraph_put_between(&remark, "Remark: ", plw_row_remark(view->tables, row), "");
    plwi_paragraph_end(&remark);
    put_standing(d, row, left + PLWI_PADDING, right);
    plwi_point upper = { left + 1, top + 3 };
    plwi_point lower = { left + 1, d->svg.y - 1 };
    plwi_svg_standing(&d->svg, plw_row_standing(view->tables, row), upper, lower);
    d->svg.y += 3;
}

static void put_rows(drawing *d, uint32_t field, int left, int right)
{
    const plwi_view *view = d->view;
    plwi_piece piece;
    uint32_t count = plwi_rows_shown(view, 0, field);
    for (uint32_t i = 0; i < count; i++)
        put_row(d, field, plw_field_row(view->result, 0, field, i), left, right);
    put_line(d, FONT_SMALL, left + PLWI_PADDING, right, plwi_rows_hidden(view, 0, field, &piece));
}

/* The details that belong to a field; with PLW_NONE those that belong to none. */
static void put_details(drawing *d, uint32_t owner, int left, int right)
{
    uint32_t count = plw_field_count(d->view->result, 0);
    for (uint32_t field = 0; field < count; field++)
        if (plw_field_is_detail(d->view->result, 0, field) &&
            plwi_field_of_detail(d->view, 0, field) == owner)
            put_rows(d, field, left, right);
}

static void put_field_head(drawing *d, uint32_t field, int left, int right)
{
    const plw_result *result = d->view->result;
    plwi_piece piece;
    uint32_t positions = positions_of(d, field);
    plwi_paragraph head = plwi_paragraph_start(&d->svg, FONT_HEAD, left, right);
    plwi_paragraph_put(&head, plw_field_label(result, 0, field));
    plwi_paragraph_put(&head, " ");
    plwi_paragraph_put(&head, plwi_code_text(d->view, 0, field, &piece));
    plwi_paragraph_put(&head, positions & (positions - 1) ? ", positions " : ", position ");
    plwi_paragraph_put(&head, plwi_positions_text(positions, &piece));
    plwi_paragraph_end(&head);
}

static void put_callout(drawing *d, uint32_t field, int right)
{
    plwi_piece piece;
    int top = d->svg.y;
    int inner_left = PLWI_EDGE + PLWI_PADDING;
    int inner_right = right - PLWI_PADDING;
    d->svg.y += 3;
    put_field_head(d, field, inner_left, inner_right);
    if (plw_field_row_count(d->view->result, 0, field) == 0)
        put_line(d, FONT_BODY, inner_left, inner_right,
                 plwi_field_plainly(d->view, 0, field, &piece));
    put_rows(d, field, inner_left, inner_right);
    put_details(d, field, inner_left, inner_right);
    d->svg.y += 2;
    plwi_svg_rectangle(&d->svg, "plw-callout", PLWI_EDGE, top, right - PLWI_EDGE, d->svg.y - top);
}

static void put_callouts(drawing *d, box_row *row)
{
    int rank = callout_count(d, row);
    int right = PLWI_RIGHT_EDGE - rank * LANE_GAP;
    row->brackets = d->svg.y;
    put_all_brackets(d, row);
    int tracks = d->svg.y;
    d->svg.y += (rank + 1) * TRACK_GAP + 3;
    uint32_t field = next_callout(d, row, PLW_NONE);
    for (; field != PLW_NONE; field = next_callout(d, row, field)) {
        plwi_point end = { right, d->svg.y + 12 };
        put_callout(d, field, right);
        put_leader(d, row, field, --rank, tracks, end);
        d->svg.y += 6;
    }
}

/* ---- The number ---------------------------------------------------------- */

static void put_row_of_number(drawing *d, uint32_t first, uint32_t count)
{
    box_row row = { .first = first, .count = count };
    row.positions = (uint32_t)(((UINT64_C(1) << count) - 1) << first);
    row.pitch = (PLWI_RIGHT_EDGE - PLWI_EDGE) / (int)count;
    if (row.pitch > WIDEST_PITCH)
        row.pitch = WIDEST_PITCH;
    put_stamped_row(d, &row);
    if (reading_of(d) && d->is_strip)
        put_all_brackets(d, &row);
    else if (reading_of(d))
        put_callouts(d, &row);
}

static void put_rest_of_number(drawing *d, uint32_t count)
{
    plwi_paragraph p = plwi_paragraph_start(&d->svg, FONT_SMALL, PLWI_EDGE, PLWI_RIGHT_EDGE);
    plwi_paragraph_put(&p, "and ");
    plwi_paragraph_put_number(&p, count);
    plwi_paragraph_put(&p, count == 1 ? " more character" : " more characters");
    plwi_paragraph_end(&p);
}

static void put_number(drawing *d)
{
    uint32_t count = plw_result_position_count(d->view->result);
    uint32_t kept = count < PLW_MAX_POSITIONS ? count : PLW_MAX_POSITIONS;
    uint32_t length = kept <= ROW_LENGTH ? kept : (kept + 1) / 2;
    for (uint32_t first = 0; first < kept; first += length)
        put_row_of_number(d, first, kept - first < length ? kept - first : length);
    if (count > kept)
        put_rest_of_number(d, count - kept);
    if (reading_of(d) && !d->is_strip)
        put_details(d, PLW_NONE, PLWI_EDGE, PLWI_RIGHT_EDGE);
}

/* ---- What stands above --------------------------------------------------- */

static void put_model_years(drawing *d)
{
    plwi_piece piece;
    plwi_years years = plwi_reading_years(d->view, 0);
    if (plwi_years_empty(years)) {
        put_line(d, FONT_TITLE, PLWI_EDGE, PLWI_RIGHT_EDGE, "no model year fits");
        return;
    }
    put_line(d, FONT_SMALL, PLWI_EDGE, PLWI_RIGHT_EDGE,
             plwi_years_count(years) == 1 ? "model year" : "model years");
    put_line(d, FONT_YEARS, PLWI_EDGE, PLWI_RIGHT_EDGE, plwi_years_text(years, " or ", &piece));
}

/* How many more readings there are, and their years. */
static void put_rivals(drawing *d)
{
    const plwi_view *view = d->view;
    uint32_t count = plw_reading_count(view->result);
    plwi_years years = { 0, 0 };
    plwi_piece piece;
    if (count < 2)
        return;
    for (uint32_t reading = 1; reading < count; reading++)
        years = plwi_years_or(years, plwi_reading_years(view, reading));
    plwi_paragraph p = plwi_paragraph_start(&d->svg, FONT_HEAD, PLWI_EDGE, PLWI_RIGHT_EDGE);
    plwi_paragraph_put_number(&p, count - 1);
    plwi_paragraph_put(&p, count == 2 ? " other reading" : " other readings");
    plwi_paragraph_put_between(&p, ": ", plwi_years_text(years, " or ", &piece), "");
    plwi_paragraph_end(&p);
}

static void put_head(drawing *d)
{
    const plwi_view *view = d->view;
    plwi_piece piece;
    if (reading_of(d)) {
        put_line(d, FONT_TITLE, PLWI_EDGE, PLWI_RIGHT_EDGE,
                 plw_reading_title(view->result, 0));
        put_model_years(d);
        put_line(d, FONT_SMALL, PLWI_EDGE, PLWI_RIGHT_EDGE, plwi_year_story(view, 0, &piece));
        put_rivals(d);
    }
    put_line(d, reading_of(d) ? FONT_SMALL : FONT_HEAD, PLWI_EDGE, PLWI_RIGHT_EDGE,
             plwi_summary(view, &piece));
}

/* ---- What stands below --------------------------------------------------- */

/* The patterns of the bars, each with its word. */
static void put_legend(drawing *d)
{
    static const struct {
        int32_t standing;
        int left;
        const char *word;
    } patterns[] = {
        { PLW_STANDING_PUBLISHED, PLWI_EDGE, "published" },
        { PLW_STANDING_PRACTICE, PLWI_EDGE + 100, "common practice" },
        { PLW_STANDING_MEMORY, PLWI_EDGE + 230, "not confirmed" },
    };
    int top = d->svg.y;
    for (size_t i = 0; i < sizeof patterns / sizeof *patterns; i++) {
        int left = patterns[i].left;
        plwi_point from = { left, top + 8 };
        plwi_point to = { left + 19, top + 8 };
        plwi_svg_standing(&d->svg, patterns[i].standing, from, to);
        d->svg.y = top;
        put_line(d, FONT_SMALL, left + 24, PLWI_RIGHT_EDGE, patterns[i].word);
    }
}

static void put_finding(drawing *d, uint32_t finding)
{
    const plwi_view *view = d->view;
    plwi_piece piece;
    int32_t grade = plw_finding_grade(view->result, finding);
    uint32_t positions = plw_finding_positions(view->result, finding);
    int left = PLWI_EDGE + 26;
    d->svg.y += 3;
    plwi_svg_mark(&d->svg, grade, PLWI_EDGE + 9, d->svg.y);
    put_line(d, FONT_BODY, left, PLWI_RIGHT_EDGE, plwi_sentence_text(view, finding, &piece));
    plwi_paragraph p = plwi_paragraph_start(&d->svg, FONT_SMALL, left, PLWI_RIGHT_EDGE);
    plwi_paragraph_put(&p, plw_grade_name(grade));
    plwi_paragraph_put_between(&p, positions & (positions - 1) ? ", positions " : ", position ",
                               plwi_positions_text(positions, &piece), "");
    plwi_paragraph_end(&p);
}

static void put_findings(drawing *d)
{
    const plwi_view *view = d->view;
    uint32_t count = plw_finding_count(view->result);
    uint32_t hidden = plwi_findings_hidden(view);
    if (count == 0)
        return;
    d->svg.y += PLWI_PADDING;
    put_line(d, FONT_HEAD, PLWI_EDGE, PLWI_RIGHT_EDGE, "Findings");
    for (uint32_t finding = 0; finding < count; finding++)
        if (plwi_finding_shown(view, finding))
            put_finding(d, finding);
    if (hidden > 0) {
        plwi_paragraph p = plwi_paragraph_start(&d->svg, FONT_SMALL, PLWI_EDGE + 26, PLWI_RIGHT_EDGE);
        d->svg.y += 3;
        plwi_paragraph_put(&p, "and ");
        plwi_paragraph_put_number(&p, hidden);
        plwi_paragraph_put(&p, " on the other readings");
        plwi_paragraph_end(&p);
    }
}

/* ---- The drawing --------------------------------------------------------- */

/* What a screen reader says first. */
static void put_description(drawing *d)
{
    const plwi_view *view = d->view;
    plwi_piece piece;
    plwi_svg_markup(&d->svg, "<title>Number ");
    plwi_svg_escaped(&d->svg, plwi_number_text(view, &piece));
    plwi_svg_markup(&d->svg, "</title>\n<desc>");
    plwi_svg_escaped(&d->svg, plwi_summary(view, &piece));
    if (reading_of(d)) {
        plwi_svg_markup(&d->svg, ". ");
        plwi_svg_escaped(&d->svg, plwi_reading_brief(view, 0, &piece));
    }
    plwi_svg_markup(&d->svg, ".</desc>\n");
}

static void put_lists(drawing *d)
{
    plwi_outline outline = { .view = d->view, .format = PLW_FORMAT_SVG, .svg = &d->svg };
    put_findings(d);
    plwi_outline_claims(&outline);
    plwi_outline_suggestions(&outline);
    plwi_outline_sources(&outline);
    plwi_outline_cautions(&outline);
}

/* Draws a page of that height; returns the height it takes. */
static int draw(plwi_view *view, plwi_writer *out, int is_strip, int height)
{
    drawing d = { view, is_strip, { out, is_strip ? 0 : PLWI_EDGE } };
    plwi_svg_start(&d.svg, "plw-number", height);
    put_description(&d);
    if (!is_strip)
        put_head(&d);
    put_number(&d);
    if (reading_of(&d) && !is_strip)
        put_legend(&d);
    if (!is_strip)
        put_lists(&d);
    plwi_svg_markup(&d.svg, "</svg>\n");
    return d.svg.y + PLWI_EDGE;
}

static void draw_in_full_height(plwi_view *view, int is_strip)
{
    plwi_writer nothing = plwi_writer_on(NULL, 0);
    draw(view, &view->out, is_strip, draw(view, &nothing, is_strip, 0));
}

void plwi_svg_strip(plwi_view *view)
{
    draw_in_full_height(view, 1);
}

void plwi_explain_svg(plwi_view *view)
{
    draw_in_full_height(view, 0);
}
