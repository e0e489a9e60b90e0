/* SPDX-License-Identifier: MIT
 *
 * Explain as Markdown.
 */
#include "markdown.h"
#include "outline.h"

/* ---- Table of fields ----------------------------------------------------- */

static void put_meaning(plwi_view *view, uint32_t reading, uint32_t field, uint32_t row)
{
    plwi_piece piece;
    int is_detail = plw_field_is_detail(view->result, reading, field);
    plwi_markdown_between(view, "", plwi_row_when(view, reading, field, row, &piece), ": ");
    plwi_markdown_escaped(view, plwi_row_words(view, row));
    plwi_markdown_between(view, "; ", plwi_row_figures(view, row, is_detail, &piece), "");
    plwi_markdown_between(view, "; remark: ", plw_row_remark(view->tables, row), "");
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
    plwi_markdown_put(view, " | ");
    plwi_markdown_escaped(view, standing_cell(view, row, &piece));
    plwi_markdown_put(view, " |");
    plwi_markdown_between(view, " ", plwi_row_sources(view, row, &piece), "");
    plwi_markdown_put(view, " |\n");
}

static void put_field_cells(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_piece piece;
    plwi_markdown_put(view, "| ");
    plwi_markdown_put(
        view, plwi_positions_text(plw_field_positions(view->result, reading, field), &piece));
    plwi_markdown_put(view, " | ");
    plwi_markdown_escaped(view, plwi_code_text(view, reading, field, &piece));
    plwi_markdown_put(view, " | ");
    plwi_markdown_escaped(view, plw_field_label(view->result, reading, field));
    plwi_markdown_put(view, " | ");
}

static void put_rows(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_piece piece;
    uint32_t count = plwi_rows_shown(view, reading, field);
    for (uint32_t i = 0; i < count; i++) {
        if (i > 0)
            plwi_markdown_put(view, "| | | | ");
        put_row(view, reading, field, plw_field_row(view->result, reading, field, i));
    }
    plwi_markdown_between(view, "| | | | ", plwi_rows_hidden(view, reading, field, &piece),
                          " | | |\n");
}

static void put_field(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_piece piece;
    uint32_t count = plw_field_row_count(view->result, reading, field);
    if (count == 0 && plw_field_is_detail(view->result, reading, field))
        return;
    put_field_cells(view, reading, field);
    if (count == 0)
        plwi_markdown_between(view, "", plwi_field_plainly(view, reading, field, &piece),
                              " | | |\n");
    else
        put_rows(view, reading, field);
}

static void put_fields(plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_field_count(view->result, reading);
    plwi_markdown_put(view, "\n| position | code | field | meaning | standing | sources |\n"
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
        plwi_markdown_put(view, "\nWhere the number stands:\n\n");
    for (; row != PLW_NONE && named < PLWI_MAX_PLACES; named++) {
        plwi_markdown_put(view, "- ");
        plwi_markdown_between(view, "", plwi_row_when(view, reading, PLW_NONE, row, &piece), ": ");
        plwi_markdown_between(view, "**", plw_row_code(view->tables, row), "**");
        plwi_markdown_between(view, "; ", plwi_row_words(view, row), "");
        plwi_markdown_between(view, "; ", plw_row_remark(view->tables, row), "");
        plwi_markdown_between(view, " (", plwi_row_doubts(view, row, &piece), ")");
        plwi_markdown_between(view, " \\[", plwi_row_sources(view, row, &piece), "\\]");
        plwi_markdown_put(view, "\n");
        row = plwi_next_place(view, reading, row);
    }
    if (row != PLW_NONE)
        plwi_markdown_put(view, "- and more places that the tables list\n");
}

static void put_reading_number(plwi_view *view, uint32_t reading)
{
    if (plw_reading_count(view->result) == 1)
        return;
    plwi_markdown_put(view, "Reading ");
    plwi_put_number(&view->out, (int64_t)reading + 1);
    plwi_markdown_put(view, ": ");
}

static void put_reading(plwi_view *view, uint32_t reading)
{
    plwi_piece piece;
    plwi_markdown_put(view, "\n## ");
    put_reading_number(view, reading);
    plwi_markdown_escaped(view, plw_reading_title(view->result, reading));
    plwi_markdown_between(view, "\n\n", plwi_reading_head(view, reading, &piece), "\n");
    put_fields(view, reading);
    plwi_markdown_between(view, "\nModel year: ", plwi_year_story(view, reading, &piece), "\n");
    put_places(view, reading);
}

void plwi_explain_markdown(plwi_view *view)
{
    plwi_piece piece;
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_MARKDOWN };
    plwi_markdown_between(view, "# ", plwi_number_text(view, &piece), "\n\n");
    plwi_markdown_escaped(view, plwi_summary(view, &piece));
    plwi_markdown_put(view, "\n");
    plwi_markdown_between(view, "\nPositions to look at again: ",
                          plwi_positions_text(plwi_marked_positions(view), &piece), "\n");
    for (uint32_t reading = 0; reading < plwi_full_readings(view); reading++)
        put_reading(view, reading);
    plwi_outline_lists(&outline);
}
