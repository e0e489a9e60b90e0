/* SPDX-License-Identifier: MIT
 *
 * Explain as plain text for a terminal of 80 columns.
 */
#include "outline.h"

#include <string.h>

/* ---- The number, with carets under what findings point at --------------- */

/* Bytes of one position: a character or a bracket with alternatives. */
static size_t position_size(const char *text)
{
    const char *end = *text == '[' ? strchr(text, ']') : NULL;
    return end ? (size_t)(end - text) + 1 : plwi_character_size(text);
}

/* As many positions as one line holds; none is wider than a line. */
static const char *line_end(const char *text)
{
    const char *end = text;
    unsigned columns = 0;
    while (*end) {
        size_t size = position_size(end);
        columns += *end == '[' ? (unsigned)size : 1;
        if (columns > PAGE_WIDTH)
            break;
        end += size;
    }
    return end;
}

static void put_carets(plwi_page *page, const char *text, const char *end, uint32_t marked)
{
    unsigned column = 0;
    for (; text < end && marked; marked >>= 1) {
        size_t size = position_size(text);
        unsigned width = *text == '[' ? (unsigned)size : 1;
        if (marked & 1u) {
            plwi_page_pad(page, column);
            for (; page->column < column + width; page->column++)
                plwi_put_char(page->out, '^');
        }
        column += width;
        text += size;
    }
    if (page->column > 0)
        plwi_page_end_line(page);
}

static void put_number(plwi_page *page, const plwi_view *view)
{
    plwi_piece piece;
    const char *text = plwi_number_text(view, &piece);
    uint32_t marked = plwi_marked_positions(view);
    while (*text) {
        const char *end = line_end(text);
        plwi_put(page->out, text, (size_t)(end - text));
        plwi_page_end_line(page);
        put_carets(page, text, end, marked);
        for (; text < end; text += position_size(text))
            marked >>= 1;
    }
}

/* ---- Fields -------------------------------------------------------------- */

/* Left edges of the columns of a reading's fields. */
typedef struct field_edges {
    unsigned code;
    unsigned label;
    unsigned meaning;
} field_edges;

#define FIRST_EDGE 2u
#define GAP 2u

static unsigned wider(unsigned width, const char *text, unsigned limit)
{
    unsigned own = plwi_columns(text);
    return own > width && own <= limit ? own : width;
}

static field_edges edges_of(const plwi_view *view, uint32_t reading)
{
    unsigned positions = 1;
    unsigned code = 1;
    unsigned label = 1;
    plwi_piece piece;
    uint32_t count = plw_field_count(view->result, reading);
    for (uint32_t field = 0; field < count; field++) {
        if (plw_field_is_detail(view->result, reading, field))
            continue;
        uint32_t set = plw_field_positions(view->result, reading, field);
        positions = wider(positions, plwi_positions_text(set, &piece), 10);
        code = wider(code, plwi_code_text(view, reading, field, &piece), 10);
        label = wider(label, plw_field_label(view->result, reading, field), 16);
    }
    field_edges edges;
    edges.code = FIRST_EDGE + positions + GAP;
    edges.label = edges.code + code + GAP;
    edges.meaning = edges.label + label + GAP;
    return edges;
}

static void put_in_brackets(plwi_page *page, const char *open, const char *text, const char *close)
{
    if (text[0] == '\0')
        return;
    plwi_page_put(page, open);
    plwi_page_put(page, text);
    plwi_page_put(page, close);
}

/* One row in full: when it holds, words, doubts, sources; below them figures
 * and the remark. */
static void put_row(plwi_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                    uint32_t row)
{
    plwi_piece piece;
    unsigned left = page->left;
    put_in_brackets(page, "", plwi_row_when(view, reading, field, row, &piece), ": ");
    plwi_page_put(page, plwi_row_words(view, row));
    put_in_brackets(page, " (", plwi_row_doubts(view, row, &piece), ")");
    put_in_brackets(page, " [", plwi_row_sources(view, row, &piece), "]");
    int is_detail = plw_field_is_detail(view->result, reading, field);
    const char *figures = plwi_row_figures(view, row, is_detail, &piece);
    if (figures[0] != '\0') {
        plwi_page_cell(page, left);
        plwi_page_put(page, figures);
    }
    const char *remark = plw_row_remark(view->tables, row);
    if (remark[0] != '\0') {
        plwi_page_cell(page, left);
        put_in_brackets(page, "Remark: ", remark, "");
    }
    plwi_page_end_word(page);
}

static void put_rows(plwi_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                     unsigned column)
{
    plwi_piece piece;
    uint32_t count = plwi_rows_shown(view, reading, field);
    for (uint32_t i = 0; i < count; i++) {
        if (count > 1)
            plwi_page_bullet(page, column);
        else
            plwi_page_cell(page, column);
        put_row(page, view, reading, field, plw_field_row(view->result, reading, field, i));
    }
    const char *hidden = plwi_rows_hidden(view, reading, field, &piece);
    if (hidden[0] != '\0') {
        plwi_page_bullet(page, column);
        plwi_page_put(page, hidden);
    }
}

/* One detail: its label, and behind or below it what it says. */
static void put_detail(plwi_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                       unsigned column)
{
    plwi_page_cell(page, column);
    plwi_page_put(page, plw_field_label(view->result, reading, field));
    plwi_page_put(page, ":");
    plwi_page_end_word(page);
    if (plw_field_row_count(view->result, reading, field) == 1) {
        page->left = column + 2;
        put_row(page, view, reading, field, plw_field_row(view->result, reading, field, 0));
    } else {
        put_rows(page, view, reading, field, column);
    }
}

/* Details stand under the field whose position is their last one. */
static void put_details(plwi_page *page, const plwi_view *view, uint32_t reading, uint32_t owner,
                        unsigned column)
{
    uint32_t count = plw_field_count(view->result, reading);
    for (uint32_t field = 0; field < count; field++)
        if (plw_field_is_detail(view->result, reading, field) &&
            plw_field_row_count(view->result, reading, field) > 0 &&
            plwi_field_of_detail(view, reading, field) == owner)
            put_detail(page, view, reading, field, column);
}

static void put_field(plwi_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                      const field_edges *edges)
{
    plwi_piece piece;
    uint32_t positions = plw_field_positions(view->result, reading, field);
    plwi_page_cell(page, FIRST_EDGE);
    plwi_page_put(page, plwi_positions_text(positions, &piece));
    plwi_page_cell(page, edges->code);
    plwi_page_put(page, plwi_code_text(view, reading, field, &piece));
    plwi_page_cell(page, edges->label);
    plwi_page_put(page, plw_field_label(view->result, reading, field));
    plwi_page_cell(page, edges->meaning);
    if (plw_field_row_count(view->result, reading, field) == 0)
        plwi_page_put(page, plwi_field_plainly(view, reading, field, &piece));
    else
        put_rows(page, view, reading, field, edges->meaning);
    put_details(page, view, reading, field, edges->meaning);
    plwi_page_finish(page);
}

static void put_fields(plwi_page *page, const plwi_view *view, uint32_t reading)
{
    field_edges edges = edges_of(view, reading);
    uint32_t count = plw_field_count(view->result, reading);
    for (uint32_t field = 0; field < count; field++)
        if (!plw_field_is_detail(view->result, reading, field))
            put_field(page, view, reading, field, &edges);
    put_details(page, view, reading, PLW_NONE, FIRST_EDGE);
    plwi_page_finish(page);
}

/* ---- Readings ------------------------------------------------------------ */

static void put_reading_number(plwi_page *page, const plwi_view *view, uint32_t reading)
{
    if (plw_reading_count(view->result) == 1)
        return;
    plwi_page_put(page, "Reading ");
    plwi_page_count(page, reading + 1);
    plwi_page_put(page, ": ");
}

static void put_years(plwi_page *page, const plwi_view *view, uint32_t reading)
{
    plwi_piece piece;
    const char *story = plwi_year_story(view, reading, &piece);
    if (story[0] == '\0')
        return;
    plwi_page_blank(page);
    plwi_page_cell(page, FIRST_EDGE);
    put_in_brackets(page, "Model year: ", story, "");
    plwi_page_finish(page);
}

static void put_place(plwi_page *page, const plwi_view *view, uint32_t reading, uint32_t row)
{
    plwi_piece piece;
    plwi_page_bullet(page, FIRST_EDGE);
    put_in_brackets(page, "", plwi_row_when(view, reading, PLW_NONE, row, &piece), ": ");
    plwi_page_put(page, plw_row_code(view->tables, row));
    put_in_brackets(page, "; ", plwi_row_words(view, row), "");
    put_in_brackets(page, "; ", plw_row_remark(view->tables, row), "");
    put_in_brackets(page, " (", plwi_row_doubts(view, row, &piece), ")");
    put_in_brackets(page, " [", plwi_row_sources(view, row, &piece), "]");
    plwi_page_finish(page);
}

static void put_places(plwi_page *page, const plwi_view *view, uint32_t reading)
{
    uint32_t named = 0;
    uint32_t row = plwi_next_place(view, reading, PLW_NONE);
    for (; row != PLW_NONE; row = plwi_next_place(view, reading, row)) {
        if (named == 0) {
            plwi_page_blank(page);
            plwi_page_cell(page, FIRST_EDGE);
            plwi_page_put(page, "Where the number stands:");
            plwi_page_finish(page);
        }
        if (named == PLWI_MAX_PLACES) {
            plwi_page_bullet(page, FIRST_EDGE);
            plwi_page_put(page, "and more places that the tables list");
            break;
        }
        put_place(page, view, reading, row);
        named++;
    }
    plwi_page_finish(page);
}

static void put_reading(plwi_page *page, const plwi_view *view, uint32_t reading)
{
    plwi_piece piece;
    plwi_page_blank(page);
    plwi_page_cell(page, 0);
    put_reading_number(page, view, reading);
    plwi_page_put(page, plw_reading_title(view->result, reading));
    plwi_page_finish(page);
    plwi_page_put(page, plwi_reading_head(view, reading, &piece));
    plwi_page_blank(page);
    put_fields(page, view, reading);
    put_years(page, view, reading);
    put_places(page, view, reading);
}

void plwi_explain_text(plwi_view *view)
{
    plwi_piece piece;
    plwi_page page = { .out = &view->out };
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_TEXT, .page = &page };
    put_number(&page, view);
    plwi_page_put(&page, plwi_summary(view, &piece));
    plwi_page_finish(&page);
    for (uint32_t reading = 0; reading < plwi_full_readings(view); reading++)
        put_reading(&page, view, reading);
    plwi_outline_lists(&outline);
}
