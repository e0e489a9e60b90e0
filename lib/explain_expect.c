/* SPDX-License-Identifier: MIT
 *
 * Explain for an expectation: the patterns that tell all claims with what they
 * rest on, the others by what they leave open, and the sentence on the whole.
 */
#include "explain_expect.h"

#include "html.h"
#include "outline.h"

#define MOST_PATTERNS 12u /* of each list, in forms for people; JSON has all */

/* ---- what the forms share ------------------------------------------------------ */

/* A text about the whole or one pattern, into a piece. */
typedef void text_writer(plwi_writer *out, const plw_expectation *e, uint32_t index);

static const char *text_of(text_writer *write, const plw_expectation *e, uint32_t index,
                           plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    write(&writer, e, index);
    return plwi_piece_end(piece, &writer);
}

static void put_whole(plwi_writer *out, const plw_expectation *e, uint32_t unused)
{
    (void)unused;
    plwi_put_expectation_sentence(out, e);
}

static void put_pattern(plwi_writer *out, const plw_expectation *e, uint32_t index)
{
    plwi_put_pattern(out, plwi_image(e->tables), &e->patterns[index]);
}

static void put_range(plwi_writer *out, const plw_expectation *e, uint32_t index)
{
    plwi_put_pattern_range(out, plwi_image(e->tables), &e->patterns[index]);
}

static void put_line(plwi_writer *out, const plw_expectation *e, uint32_t index)
{
    put_pattern(out, e, index);
    plwi_put_text(out, ": ");
    plwi_put_pattern_sentence(out, e, index);
}

const char *plwi_expectation_sentence(const plw_expectation *e, plwi_piece *piece)
{
    return text_of(put_whole, e, 0, piece);
}

const char *plwi_pattern_text(const plw_expectation *e, uint32_t pattern, plwi_piece *piece)
{
    return text_of(put_pattern, e, pattern, piece);
}

const char *plwi_pattern_range(const plw_expectation *e, uint32_t pattern, plwi_piece *piece)
{
    return text_of(put_range, e, pattern, piece);
}

const char *plwi_pattern_sentence(const plw_expectation *e, uint32_t pattern, plwi_piece *piece)
{
    return text_of(plwi_put_pattern_sentence, e, pattern, piece);
}

uint32_t plwi_next_pattern_source(const plwi_view *view, const plw_expectation *e, uint32_t after)
{
    uint32_t best = PLW_NONE;
    for (uint32_t i = 0; i < e->pattern_count; i++)
        for (uint32_t k = 0; k < e->patterns[i].row_count; k++)
            best = plwi_lower_source(view, e->patterns[i].rows[k], after, best);
    return best;
}

/* ---- patterns ---------------------------------------------------------------------- */

/* Patterns that tell all claims stand first. */
static uint32_t count_of_full(const plw_expectation *e)
{
    uint32_t all = (UINT32_C(1) << e->claims.count) - 1, count = 0;
    while (count < e->pattern_count && e->patterns[count].told == all)
        count++;
    return count;
}

/* Below what standing "published" a pattern rests on, if on any row. */
static const char *standing_note(const plwi_pattern *pattern)
{
    if (pattern->row_count == 0 || pattern->standing == PLW_STANDING_PUBLISHED)
        return pattern->marks & PLW_MARK_DISPUTED ? " Sources differ." : "";
    return pattern->standing == PLW_STANDING_PRACTICE ? " Rests on common practice."
                                                      : " Rests on rows that nobody confirmed.";
}

static void put_pattern_item(plwi_outline *outline, const plw_expectation *e, uint32_t index)
{
    plwi_piece piece;
    plwi_writer writer = plwi_piece_writer(&piece);
    put_line(&writer, e, index);
    plwi_put_text(&writer, standing_note(&e->patterns[index]));
    plwi_outline_item(outline, plwi_piece_end(&piece, &writer), "");
}

static void put_more(plwi_outline *outline, const plw_expectation *e, uint32_t left)
{
    plwi_piece piece;
    plwi_writer writer = plwi_piece_writer(&piece);
    if (left > 0) {
        plwi_put_text(&writer, "and ");
        plwi_put_number(&writer, left);
        plwi_put_text(&writer, " more");
        plwi_outline_item(outline, plwi_piece_end(&piece, &writer), "");
    } else if (e->capped && outline->is_list) {
        plwi_outline_item(outline, "and more than are listed", "");
    }
}

static void put_patterns(plwi_outline *outline, const plw_expectation *e, const char *heading,
                         uint32_t first, uint32_t end)
{
    uint32_t stop = end - first > MOST_PATTERNS ? first + MOST_PATTERNS : end;
    if (first == end)
        return;
    plwi_outline_heading(outline, heading);
    for (uint32_t i = first; i < stop; i++)
        put_pattern_item(outline, e, i);
    put_more(outline, e, end - stop);
}

static void put_row_item(plwi_outline *outline, uint32_t row)
{
    const plwi_view *view = outline->view;
    plwi_piece text, piece, sources;
    plwi_writer writer = plwi_piece_writer(&text);
    plwi_put_text(&writer, plw_row_label(view->tables, row));
    plwi_put_char(&writer, ' ');
    plwi_put_text(&writer, plw_row_code(view->tables, row));
    plwi_put_text(&writer, ": ");
    plwi_put_text(&writer, plwi_row_words(view, row));
    const char *doubts = plwi_row_doubts(view, row, &piece);
    if (doubts[0] != '\0') {
        plwi_put_text(&writer, " (");
        plwi_put_text(&writer, doubts);
        plwi_put_char(&writer, ')');
    }
    plwi_outline_item(outline, plwi_piece_end(&text, &writer),
                      plwi_row_sources(view, row, &sources));
}

/* 1 when a pattern before this one named the row. */
static int is_named(const plw_expectation *e, uint32_t pattern, uint32_t row)
{
    for (uint32_t i = 0; i < pattern; i++)
        for (uint32_t k = 0; k < e->patterns[i].row_count; k++)
            if (e->patterns[i].rows[k] == row)
                return 1;
    return 0;
}

/* What the first patterns rest on, each row once. */
static void put_rows(plwi_outline *outline, const plw_expectation *e, uint32_t full)
{
    uint32_t named = 0, left = 0;
    for (uint32_t i = 0; i < full; i++)
        for (uint32_t k = 0; k < e->patterns[i].row_count; k++) {
            if (is_named(e, i, e->patterns[i].rows[k]))
                continue;
            if (named == 0)
                plwi_outline_heading(outline, "What they rest on");
            if (named++ < MOST_PATTERNS)
                put_row_item(outline, e->patterns[i].rows[k]);
            else
                left++;
        }
    if (left > 0)
        put_more(outline, e, left);
}

static void put_sources(plwi_outline *outline, const plw_expectation *e)
{
    const plwi_view *view = outline->view;
    uint32_t source = plwi_next_pattern_source(view, e, PLW_NONE);
    plwi_piece piece;
    if (view->flags & PLW_EXPLAIN_SOURCES && source != PLW_NONE) {
        plwi_outline_heading(outline, "Sources");
        for (; source != PLW_NONE; source = plwi_next_pattern_source(view, e, source))
            plwi_outline_source(outline, source);
    }
    plwi_outline_paragraph(outline, plwi_tables_line(view, &piece));
}

static void put_body(plwi_outline *outline, const plw_expectation *e)
{
    uint32_t full = count_of_full(e);
    put_patterns(outline, e, "Numbers that could bear it", 0, full);
    put_rows(outline, e, full);
    put_patterns(outline, e, "Numbers that leave something open", full, e->pattern_count);
    put_sources(outline, e);
    plwi_outline_cautions(outline);
}

/* ---- the forms ------------------------------------------------------------------------ */

static void explain_text(plwi_view *view, const plw_expectation *e)
{
    plwi_page page = { .out = &view->out };
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_TEXT, .page = &page };
    plwi_piece piece;
    plwi_outline_line(&outline, plwi_expectation_sentence(e, &piece));
    put_body(&outline, e);
}

static void explain_markdown(plwi_view *view, const plw_expectation *e)
{
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_MARKDOWN };
    plwi_piece piece;
    plwi_markdown_between(view, "# ", plwi_expectation_sentence(e, &piece), "\n");
    put_body(&outline, e);
}

static void explain_html(plwi_view *view, const plw_expectation *e)
{
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_HTML };
    plwi_piece piece;
    const char *sentence = plwi_expectation_sentence(e, &piece);
    plwi_html_start(&view->out, sentence);
    plwi_html_between(&view->out, "<h1>", sentence, "</h1>\n");
    put_body(&outline, e);
    plwi_html_end(&view->out);
}

int32_t plw_explain_expectation(const plw_expectation *e, int32_t format, uint32_t flags,
                                char *buffer, size_t capacity, size_t *needed)
{
    if (e == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    if (format < PLW_FORMAT_TEXT || format > PLW_FORMAT_HTML || format == PLW_FORMAT_SVG ||
        (flags & ~PLW_EXPLAIN_SOURCES))
        return plwi_writer_refuse(PLW_E_FLAGS, buffer, capacity, needed);
    plwi_view view = { .result = &e->result,
                       .tables = e->tables,
                       .flags = flags,
                       .out = plwi_writer_on(buffer, capacity) };
    switch (format) {
    case PLW_FORMAT_TEXT: explain_text(&view, e); break;
    case PLW_FORMAT_MARKDOWN: explain_markdown(&view, e); break;
    case PLW_FORMAT_JSON: plwi_explain_expectation_json(&view, e); break;
    default: explain_html(&view, e);
    }
    return plwi_writer_end(&view.out, needed);
}
