/* SPDX-License-Identifier: MIT
 *
 * Explain as Markdown. All text that comes from tables or from the number goes
 * through put_escaped, so that none of it can become markup or HTML; text from
 * this file goes out as it stands.
 */
#include "explain.h"

#include <string.h>

/* ---- Escaping ------------------------------------------------------------ */

static void put(plwi_view *view, const char *markup)
{
    plwi_put_text(&view->out, markup);
}

/* The mark that would make a list item of a text that opens with it: "-", "+",
 * or what follows the figures in "1." and "1)". */
static const char *list_mark(const char *text)
{
    size_t figures = strspn(text, "0123456789");
    const char *marks = figures > 0 ? ".)" : "-+";
    return text[figures] && strchr(marks, text[figures]) ? text + figures : NULL;
}

/* Every ASCII mark that Markdown or HTML gives a meaning inside a line gets a
 * backslash; line ends and other controls become blanks. */
static void put_escaped(plwi_view *view, const char *text)
{
    const char *mark = list_mark(text);
    for (; *text; text++) {
        unsigned char byte = (unsigned char)*text;
        if (byte < 0x20 || byte == 0x7F) {
            plwi_put_char(&view->out, ' ');
            continue;
        }
        if (text == mark || strchr("\\`*_[]<>|~&#!$", *text))
            plwi_put_char(&view->out, '\\');
        plwi_put_char(&view->out, *text);
    }
}

/* Escaped text between two pieces of markup; nothing when it is empty. */
static void put_between(plwi_view *view, const char *before, const char *text, const char *after)
{
    if (text[0] == '\0')
        return;
    put(view, before);
    put_escaped(view, text);
    put(view, after);
}

static int is_web_address(const char *text)
{
    static const char allowed[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
                                  "-._~:/?#@!$&'()*+,;=%";
    int known = strncmp(text, "https://", 8) == 0 || strncmp(text, "http://", 7) == 0;
    return known && text[strspn(text, allowed)] == '\0';
}

static void put_address(plwi_view *view, const char *address)
{
    if (is_web_address(address)) {
        put(view, ", <");
        put(view, address);
        put(view, ">");
    } else {
        put_between(view, ", ", address, "");
    }
}

/* ---- Table of fields ----------------------------------------------------- */

static void put_meaning(plwi_view *view, uint32_t reading, uint32_t field, uint32_t row)
{
    plwi_piece piece;
    int is_detail = plw_field_is_detail(view->result, reading, field);
    put_between(view, "", plwi_row_when(view, reading, field, row, &piece), ": ");
    put_escaped(view, plw_row_words(view->tables, row));
    put_between(view, "; ", plwi_row_figures(view, row, is_detail, &piece), "");
    put_between(view, "; remark: ", plw_row_remark(view->tables, row), "");
}

static const char *standing_cell(const plwi_view *view, uint32_t row, plwi_piece *piece)
{
    const char *doubts = plwi_row_doubts(view, row, piece);
    return doubts[0] != '\0' ? doubts : plw_standing_name(plw_row_standing(view->tables, row));
}

static void put_row(plwi_view *view, uint32_t reading, uint32_t field, uint32_t row)
{
    plwi_piece piece;
    put_meaning(view, reading, field, row);
    put(view, " | ");
    put_escaped(view, standing_cell(view, row, &piece));
    put(view, " |");
    put_between(view, " ", plwi_row_sources(view, row, &piece), "");
    put(view, " |\n");
}

static void put_field_cells(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_piece piece;
    put(view, "| ");
    put(view, plwi_positions_text(plw_field_positions(view->result, reading, field), &piece));
    put(view, " | ");
    put_escaped(view, plwi_code_text(view, reading, field, &piece));
    put(view, " | ");
    put_escaped(view, plw_field_label(view->result, reading, field));
    put(view, " | ");
}

static void put_rows(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_piece piece;
    uint32_t count = plwi_rows_shown(view, reading, field);
    for (uint32_t i = 0; i < count; i++) {
        if (i > 0)
            put(view, "| | | | ");
        put_row(view, reading, field, plw_field_row(view->result, reading, field, i));
    }
    put_between(view, "| | | | ", plwi_rows_hidden(view, reading, field, &piece), " | | |\n");
}

static void put_field(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_piece piece;
    uint32_t count = plw_field_row_count(view->result, reading, field);
    if (count == 0 && plw_field_is_detail(view->result, reading, field))
        return;
    put_field_cells(view, reading, field);
    if (count == 0)
        put_between(view, "", plwi_field_plainly(view, reading, field, &piece), " | | |\n");
    else
        put_rows(view, reading, field);
}

static void put_fields(plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_field_count(view->result, reading);
    put(view, "\n| position | code | field | meaning | standing | sources |\n"
              "|---|---|---|---|---|---|\n");
    for (uint32_t field = 0; field < count; field++)
        put_field(view, reading, field);
}

/* ---- Readings ------------------------------------------------------------ */

static void put_places(plwi_view *view, uint32_t reading)
{
    plwi_piece piece;
    uint32_t named = 0;
    uint32_t row = plwi_next_place(view, reading, PLW_NONE);
    if (row != PLW_NONE)
        put(view, "\nWhere the number stands:\n\n");
    for (; row != PLW_NONE && named < PLWI_MAX_PLACES; named++) {
        put(view, "- ");
        put_between(view, "", plwi_row_when(view, reading, PLW_NONE, row, &piece), ": ");
        put_between(view, "**", plw_row_code(view->tables, row), "**");
        put_between(view, "; ", plw_row_words(view->tables, row), "");
        put_between(view, "; ", plw_row_remark(view->tables, row), "");
        put_between(view, " (", plwi_row_doubts(view, row, &piece), ")");
        put_between(view, " \\[", plwi_row_sources(view, row, &piece), "\\]");
        put(view, "\n");
        row = plwi_next_place(view, reading, row);
    }
    if (row != PLW_NONE)
        put(view, "- and more places that the tables list\n");
}

static void put_reading_number(plwi_view *view, uint32_t reading)
{
    if (plw_reading_count(view->result) == 1)
        return;
    put(view, "Reading ");
    plwi_put_number(&view->out, (int64_t)reading + 1);
    put(view, ": ");
}

static void put_reading(plwi_view *view, uint32_t reading)
{
    uint32_t scheme = plw_reading_scheme(view->result, reading);
    plwi_piece piece;
    put(view, "\n## ");
    put_reading_number(view, reading);
    put_escaped(view, plw_scheme_title(view->tables, scheme));
    put_between(view, "\n\n", plwi_reading_head(view, reading, &piece), "\n");
    put_fields(view, reading);
    put_between(view, "\nModel year: ", plwi_year_story(view, reading, &piece), "\n");
    put_places(view, reading);
}

static void put_other_readings(plwi_view *view)
{
    plwi_piece piece;
    uint32_t count = plw_reading_count(view->result);
    uint32_t reading = plwi_full_readings(view);
    if (reading < count) {
        put(view, "\n## Other readings (");
        plwi_put_number(&view->out, count - reading);
        put(view, ")\n\n");
    }
    for (; reading < count; reading++)
        put_between(view, "- ", plwi_reading_brief(view, reading, &piece), "\n");
}

/* ---- Findings, sources, cautions ----------------------------------------- */

static void put_finding(plwi_view *view, uint32_t finding)
{
    plwi_piece sentence;
    uint32_t reading = plw_finding_reading(view->result, finding);
    put(view, "- **");
    put(view, plw_grade_name(plw_finding_grade(view->result, finding)));
    put(view, "**: ");
    if (reading != PLW_NONE)
        put_reading_number(view, reading);
    put_escaped(view, plwi_sentence_text(view, finding, &sentence));
    put(view, "\n");
}

static void put_findings(plwi_view *view)
{
    uint32_t count = plw_finding_count(view->result);
    uint32_t hidden = plwi_findings_hidden(view);
    if (count > 0)
        put(view, "\n## Findings\n\n");
    for (uint32_t finding = 0; finding < count; finding++)
        if (plwi_finding_shown(view, finding))
            put_finding(view, finding);
    if (hidden > 0) {
        put(view, "- and ");
        plwi_put_number(&view->out, hidden);
        put(view, " on the other readings\n");
    }
}

static void put_sources(plwi_view *view)
{
    plwi_piece piece;
    uint32_t source = plwi_next_source(view, PLW_NONE);
    put(view, "\n## Sources\n\n");
    if (!(view->flags & PLW_EXPLAIN_SOURCES) || source == PLW_NONE) {
        put_between(view, "", plwi_sources_line(view, &piece), "\n");
        return;
    }
    for (; source != PLW_NONE; source = plwi_next_source(view, source)) {
        put_between(view, "- **", plw_source_key(view->tables, source), "**: ");
        put_escaped(view, plw_source_citation(view->tables, source));
        put_address(view, plw_source_address(view->tables, source));
        put(view, "\n");
    }
}

static void put_cautions(plwi_view *view)
{
    uint32_t count = plw_caution_count(view->tables);
    if (count > 0)
        put(view, "\n## Before you rely on this\n\n");
    for (uint32_t i = 0; i < count; i++)
        put_between(view, "- ", plw_caution_text(view->tables, i), "\n");
}

void plwi_explain_markdown(plwi_view *view)
{
    plwi_piece piece;
    put_between(view, "# ", plwi_number_text(view, &piece), "\n\n");
    put_escaped(view, plwi_summary(view, &piece));
    put(view, "\n");
    put_between(view, "\nPositions to look at again: ",
                plwi_positions_text(plwi_marked_positions(view), &piece), "\n");
    for (uint32_t reading = 0; reading < plwi_full_readings(view); reading++)
        put_reading(view, reading);
    put_other_readings(view);
    put_findings(view);
    put_sources(view);
    put_between(view, "\n", plwi_tables_line(view, &piece), "\n");
    put_cautions(view);
}
