/* SPDX-License-Identifier: MIT
 *
 * Explain as plain text for a terminal of 80 columns. The page is a stream of
 * cells: each has a left edge, and words that do not fit go on below that edge.
 * A code point takes one column, a combining mark (U+0300 to U+036F) none.
 */
#include "explain.h"

#include <string.h>

#define PAGE_WIDTH 80u
#define WORD_SIZE (PAGE_WIDTH * 4)

typedef struct text_page {
    plwi_writer *out;
    unsigned left;   /* edge of the cell, from 0 */
    unsigned column; /* columns written on this line */
    unsigned columns;
    size_t bytes;
    char word[WORD_SIZE]; /* the word that is being gathered */
} text_page;

/* ---- The page ----------------------------------------------------------- */

static void end_line(text_page *page)
{
    plwi_put_char(page->out, '\n');
    page->column = 0;
}

static void pad_to(text_page *page, unsigned column)
{
    for (; page->column < column; page->column++)
        plwi_put_char(page->out, ' ');
}

static void write_word(text_page *page)
{
    plwi_put(page->out, page->word, page->bytes);
    page->column += page->columns;
    page->bytes = 0;
    page->columns = 0;
}

/* Ends the gathered word: it goes on this line if it fits, else on the next. */
static void end_word(text_page *page)
{
    if (page->bytes == 0)
        return;
    if (page->column > page->left) {
        if (page->column + 1 + page->columns <= PAGE_WIDTH)
            pad_to(page, page->column + 1);
        else
            end_line(page);
    }
    pad_to(page, page->left);
    write_word(page);
}

static int is_combining(const char *text)
{
    unsigned char first = (unsigned char)text[0];
    unsigned char second = (unsigned char)text[1];
    return first == 0xCC || (first == 0xCD && second < 0xB0);
}

/* Bytes of the character at text; more than one only where they belong together. */
static size_t character_size(const char *text)
{
    size_t size = 1;
    while (((unsigned char)text[size] & 0xC0) == 0x80 && size < 4)
        size++;
    return size;
}

/* Blanks, line ends and other controls part words and never reach a terminal. */
static int is_blank(const char *text)
{
    unsigned char first = (unsigned char)text[0];
    return first <= 0x20 || first == 0x7F ||
           (first == 0xC2 && (unsigned char)text[1] >= 0x80 && (unsigned char)text[1] < 0xA0);
}

static void put_character(text_page *page, const char *text, size_t size)
{
    unsigned columns = is_combining(text) ? 0 : 1;
    if (page->left + page->columns + columns > PAGE_WIDTH || page->bytes + size > WORD_SIZE)
        end_word(page);
    memcpy(page->word + page->bytes, text, size);
    page->bytes += size;
    page->columns += columns;
}

/* Adds text to the cell; a word may go on in the next call. */
static void put(text_page *page, const char *text)
{
    while (*text) {
        size_t size = character_size(text);
        if (is_blank(text))
            end_word(page);
        else
            put_character(page, text, size);
        text += size;
    }
}

/* Starts a cell at that column, on the next line when the last one reaches it. */
static void cell(text_page *page, unsigned column)
{
    end_word(page);
    if (page->column > 0 && page->column >= column)
        end_line(page);
    page->left = column;
}

static void bullet(text_page *page, unsigned column)
{
    cell(page, column);
    pad_to(page, column);
    plwi_put_char(page->out, '-');
    page->column++;
    pad_to(page, column + 2);
    page->left = column + 2;
}

static void finish_line(text_page *page)
{
    end_word(page);
    if (page->column > 0)
        end_line(page);
}

static void blank_line(text_page *page)
{
    finish_line(page);
    end_line(page);
}

static void heading(text_page *page, const char *text)
{
    blank_line(page);
    cell(page, 0);
    put(page, text);
    finish_line(page);
}

static void put_count(text_page *page, uint32_t count)
{
    char digits[12];
    plwi_writer writer = plwi_writer_on(digits, sizeof digits);
    plwi_put_number(&writer, count);
    plwi_writer_end(&writer, NULL);
    put(page, digits);
}

static unsigned width_of(const char *text)
{
    unsigned columns = 0;
    for (; *text; text += character_size(text))
        columns += is_combining(text) ? 0 : 1;
    return columns;
}

/* ---- The number, with carets under what findings point at --------------- */

/* Bytes of one position: a character or a bracket with alternatives. */
static size_t position_size(const char *text)
{
    const char *end = *text == '[' ? strchr(text, ']') : NULL;
    return end ? (size_t)(end - text) + 1 : character_size(text);
}

/* As many positions as one line holds, at least one. */
static const char *line_end(const char *text)
{
    const char *end = text;
    unsigned columns = 0;
    while (*end) {
        size_t size = position_size(end);
        columns += *end == '[' ? (unsigned)size : 1;
        if (columns > PAGE_WIDTH && end > text)
            break;
        end += size;
    }
    return end;
}

static void put_carets(text_page *page, const char *text, const char *end, uint32_t marked)
{
    unsigned column = 0;
    for (; text < end && marked; marked >>= 1) {
        size_t size = position_size(text);
        unsigned width = *text == '[' ? (unsigned)size : 1;
        if (marked & 1u) {
            pad_to(page, column);
            for (; page->column < column + width; page->column++)
                plwi_put_char(page->out, '^');
        }
        column += width;
        text += size;
    }
    if (page->column > 0)
        end_line(page);
}

static void put_number(text_page *page, const plwi_view *view)
{
    plwi_piece piece;
    const char *text = plwi_number_text(view, &piece);
    uint32_t marked = plwi_marked_positions(view);
    while (*text) {
        const char *end = line_end(text);
        plwi_put(page->out, text, (size_t)(end - text));
        end_line(page);
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
    unsigned own = width_of(text);
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

static void put_in_brackets(text_page *page, const char *open, const char *text, const char *close)
{
    if (text[0] == '\0')
        return;
    put(page, open);
    put(page, text);
    put(page, close);
}

/* One row in full: when it holds, words, doubts, sources; below them figures
 * and the remark. */
static void put_row(text_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                    uint32_t row)
{
    plwi_piece piece;
    unsigned left = page->left;
    put_in_brackets(page, "", plwi_row_when(view, reading, field, row, &piece), ": ");
    put(page, plw_row_words(view->tables, row));
    put_in_brackets(page, " (", plwi_row_doubts(view, row, &piece), ")");
    put_in_brackets(page, " [", plwi_row_sources(view, row, &piece), "]");
    int is_detail = plw_field_is_detail(view->result, reading, field);
    const char *figures = plwi_row_figures(view, row, is_detail, &piece);
    if (figures[0] != '\0') {
        cell(page, left);
        put(page, figures);
    }
    const char *remark = plw_row_remark(view->tables, row);
    if (remark[0] != '\0') {
        cell(page, left);
        put_in_brackets(page, "Remark: ", remark, "");
    }
    end_word(page);
}

static void put_rows(text_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                     unsigned column)
{
    plwi_piece piece;
    uint32_t count = plwi_rows_shown(view, reading, field);
    for (uint32_t i = 0; i < count; i++) {
        if (count > 1)
            bullet(page, column);
        else
            cell(page, column);
        put_row(page, view, reading, field, plw_field_row(view->result, reading, field, i));
    }
    const char *hidden = plwi_rows_hidden(view, reading, field, &piece);
    if (hidden[0] != '\0') {
        bullet(page, column);
        put(page, hidden);
    }
}

/* One detail: its label, and behind or below it what it says. */
static void put_detail(text_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                       unsigned column)
{
    cell(page, column);
    put(page, plw_field_label(view->result, reading, field));
    put(page, ":");
    end_word(page);
    if (plw_field_row_count(view->result, reading, field) == 1) {
        page->left = column + 2;
        put_row(page, view, reading, field, plw_field_row(view->result, reading, field, 0));
    } else {
        put_rows(page, view, reading, field, column);
    }
}

/* Details stand under the field whose position is their last one. */
static void put_details(text_page *page, const plwi_view *view, uint32_t reading, uint32_t owner,
                        unsigned column)
{
    uint32_t count = plw_field_count(view->result, reading);
    for (uint32_t field = 0; field < count; field++)
        if (plw_field_is_detail(view->result, reading, field) &&
            plw_field_row_count(view->result, reading, field) > 0 &&
            plwi_field_of_detail(view, reading, field) == owner)
            put_detail(page, view, reading, field, column);
}

static void put_field(text_page *page, const plwi_view *view, uint32_t reading, uint32_t field,
                      const field_edges *edges)
{
    plwi_piece piece;
    uint32_t positions = plw_field_positions(view->result, reading, field);
    cell(page, FIRST_EDGE);
    put(page, plwi_positions_text(positions, &piece));
    cell(page, edges->code);
    put(page, plwi_code_text(view, reading, field, &piece));
    cell(page, edges->label);
    put(page, plw_field_label(view->result, reading, field));
    cell(page, edges->meaning);
    if (plw_field_row_count(view->result, reading, field) == 0)
        put(page, plwi_field_plainly(view, reading, field, &piece));
    else
        put_rows(page, view, reading, field, edges->meaning);
    put_details(page, view, reading, field, edges->meaning);
    finish_line(page);
}

static void put_fields(text_page *page, const plwi_view *view, uint32_t reading)
{
    field_edges edges = edges_of(view, reading);
    uint32_t count = plw_field_count(view->result, reading);
    for (uint32_t field = 0; field < count; field++)
        if (!plw_field_is_detail(view->result, reading, field))
            put_field(page, view, reading, field, &edges);
    put_details(page, view, reading, PLW_NONE, FIRST_EDGE);
    finish_line(page);
}

/* ---- Readings ------------------------------------------------------------ */

static void put_reading_number(text_page *page, const plwi_view *view, uint32_t reading)
{
    if (plw_reading_count(view->result) == 1)
        return;
    put(page, "Reading ");
    put_count(page, reading + 1);
    put(page, ": ");
}

static void put_years(text_page *page, const plwi_view *view, uint32_t reading)
{
    plwi_piece piece;
    const char *story = plwi_year_story(view, reading, &piece);
    if (story[0] == '\0')
        return;
    blank_line(page);
    cell(page, FIRST_EDGE);
    put_in_brackets(page, "Model year: ", story, "");
    finish_line(page);
}

static void put_place(text_page *page, const plwi_view *view, uint32_t reading, uint32_t row)
{
    plwi_piece piece;
    bullet(page, FIRST_EDGE);
    put_in_brackets(page, "", plwi_row_when(view, reading, PLW_NONE, row, &piece), ": ");
    put(page, plw_row_code(view->tables, row));
    put_in_brackets(page, "; ", plw_row_words(view->tables, row), "");
    put_in_brackets(page, "; ", plw_row_remark(view->tables, row), "");
    put_in_brackets(page, " (", plwi_row_doubts(view, row, &piece), ")");
    put_in_brackets(page, " [", plwi_row_sources(view, row, &piece), "]");
    finish_line(page);
}

static void put_places(text_page *page, const plwi_view *view, uint32_t reading)
{
    uint32_t named = 0;
    uint32_t row = plwi_next_place(view, reading, PLW_NONE);
    for (; row != PLW_NONE; row = plwi_next_place(view, reading, row)) {
        if (named == 0) {
            blank_line(page);
            cell(page, FIRST_EDGE);
            put(page, "Where the number stands:");
            finish_line(page);
        }
        if (named == PLWI_MAX_PLACES) {
            bullet(page, FIRST_EDGE);
            put(page, "and more places that the tables list");
            break;
        }
        put_place(page, view, reading, row);
        named++;
    }
    finish_line(page);
}

static void put_reading(text_page *page, const plwi_view *view, uint32_t reading)
{
    plwi_piece piece;
    blank_line(page);
    cell(page, 0);
    put_reading_number(page, view, reading);
    put(page, plw_scheme_title(view->tables, plw_reading_scheme(view->result, reading)));
    finish_line(page);
    put(page, plwi_reading_head(view, reading, &piece));
    blank_line(page);
    put_fields(page, view, reading);
    put_years(page, view, reading);
    put_places(page, view, reading);
}

static void put_other_readings(text_page *page, const plwi_view *view)
{
    uint32_t count = plw_reading_count(view->result);
    uint32_t full = plwi_full_readings(view);
    plwi_piece piece;
    if (count <= full)
        return;
    blank_line(page);
    cell(page, 0);
    put(page, "Other readings (");
    put_count(page, count - full);
    put(page, "):");
    finish_line(page);
    for (uint32_t reading = full; reading < count; reading++) {
        bullet(page, FIRST_EDGE);
        put(page, plwi_reading_brief(view, reading, &piece));
        finish_line(page);
    }
}

/* ---- Findings, sources, cautions ----------------------------------------- */

static void put_finding(text_page *page, const plwi_view *view, uint32_t finding)
{
    plwi_piece sentence;
    uint32_t reading = plw_finding_reading(view->result, finding);
    cell(page, FIRST_EDGE);
    put(page, plw_grade_name(plw_finding_grade(view->result, finding)));
    cell(page, FIRST_EDGE + 5 + GAP);
    if (reading != PLW_NONE)
        put_reading_number(page, view, reading);
    put(page, plwi_sentence_text(view, finding, &sentence));
    finish_line(page);
}

static void put_findings(text_page *page, const plwi_view *view)
{
    uint32_t count = plw_finding_count(view->result);
    uint32_t hidden = plwi_findings_hidden(view);
    if (count == 0)
        return;
    heading(page, "Findings");
    for (uint32_t finding = 0; finding < count; finding++)
        if (plwi_finding_shown(view, finding))
            put_finding(page, view, finding);
    if (hidden > 0) {
        cell(page, FIRST_EDGE);
        put(page, "and ");
        put_count(page, hidden);
        put(page, " on the other readings");
        finish_line(page);
    }
}

static void put_source(text_page *page, const plwi_view *view, uint32_t source)
{
    cell(page, FIRST_EDGE);
    put_in_brackets(page, "[", plw_source_key(view->tables, source), "]");
    end_word(page);
    page->left = FIRST_EDGE + 2;
    put(page, plw_source_citation(view->tables, source));
    const char *address = plw_source_address(view->tables, source);
    if (address[0] != '\0') {
        cell(page, FIRST_EDGE + 2);
        put(page, address);
    }
    finish_line(page);
}

static void put_sources(text_page *page, const plwi_view *view)
{
    plwi_piece piece;
    uint32_t source = plwi_next_source(view, PLW_NONE);
    if (!(view->flags & PLW_EXPLAIN_SOURCES) || source == PLW_NONE) {
        heading(page, plwi_sources_line(view, &piece));
        return;
    }
    heading(page, "Sources");
    for (; source != PLW_NONE; source = plwi_next_source(view, source))
        put_source(page, view, source);
    blank_line(page);
}

static void put_cautions(text_page *page, const plwi_view *view)
{
    uint32_t count = plw_caution_count(view->tables);
    if (count == 0)
        return;
    heading(page, "Before you rely on this");
    for (uint32_t i = 0; i < count; i++) {
        bullet(page, FIRST_EDGE);
        put(page, plw_caution_text(view->tables, i));
        finish_line(page);
    }
}

void plwi_explain_text(plwi_view *view)
{
    plwi_piece piece;
    text_page page = { .out = &view->out };
    put_number(&page, view);
    put(&page, plwi_summary(view, &piece));
    finish_line(&page);
    for (uint32_t reading = 0; reading < plwi_full_readings(view); reading++)
        put_reading(&page, view, reading);
    put_other_readings(&page, view);
    put_findings(&page, view);
    put_sources(&page, view);
    cell(&page, 0);
    put(&page, plwi_tables_line(view, &piece));
    finish_line(&page);
    put_cautions(&page, view);
}
