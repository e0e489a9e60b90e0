/* SPDX-License-Identifier: MIT
 *
 * Explain as a page of HTML: a drawing of the number, a table of its fields for
 * each reading told in full, and the lists.
 */
#include "explain_html.h"

#include "html.h"
#include "outline.h"

/* ---- table of fields -------------------------------------------------------- */

static void put_standing(plwi_view *view, uint32_t row)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    const char *doubts = plwi_row_doubts(view, row, &piece);
    plwi_html_markup(out, "<small>");
    if (plw_row_standing(view->tables, row) == PLW_STANDING_PUBLISHED) {
        plwi_html_markup(out, plw_standing_name(PLW_STANDING_PUBLISHED));
        plwi_html_between(out, "; ", doubts, "");
    } else {
        plwi_html_between(out, "", doubts, "");
    }
    plwi_html_between(out, " [", plwi_row_sources(view, row, &piece), "]");
    plwi_html_markup(out, "</small>");
}

static void put_row(plwi_view *view, uint32_t reading, uint32_t field, uint32_t row)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    int is_detail = plw_field_is_detail(view->result, reading, field);
    plwi_html_between(out, "<p class=\"", plw_standing_name(plw_row_standing(view->tables, row)),
                      "\">");
    plwi_html_between(out, "", plwi_row_when(view, reading, field, row, &piece), ": ");
    plwi_html_between(out, "", plwi_row_words(view, row), "");
    plwi_html_between(out, "<small>", plwi_row_figures(view, row, is_detail, &piece), "</small>");
    plwi_html_between(out, "<small>Remark: ", plw_row_remark(view->tables, row), "</small>");
    put_standing(view, row);
    plwi_html_markup(out, "</p>\n");
}

static void put_meanings(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_piece piece;
    uint32_t count = plwi_rows_shown(view, reading, field);
    for (uint32_t i = 0; i < count; i++)
        put_row(view, reading, field, plw_field_row(view->result, reading, field, i));
    plwi_html_between(&view->out, "", plwi_rows_hidden(view, reading, field, &piece), "");
    if (count == 0)
        plwi_html_between(&view->out, "", plwi_field_plainly(view, reading, field, &piece), "");
}

static void put_field(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    uint32_t positions = plw_field_positions(view->result, reading, field);
    plwi_html_between(out, "<tr><th scope=\"row\"><code>",
                      plwi_code_text(view, reading, field, &piece), "</code>");
    plwi_html_between(out, " <small>", plwi_positions_text(positions, &piece), "</small></th>");
    plwi_html_between(out, "<td>", plw_field_label(view->result, reading, field), "</td>\n<td>");
    put_meanings(view, reading, field);
    plwi_html_markup(out, "</td></tr>\n");
}

void plwi_html_fields(plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_field_count(view->result, reading);
    plwi_html_markup(&view->out, "<table>\n<thead><tr><th scope=\"col\">Code, position</th>"
                                 "<th scope=\"col\">Field</th><th scope=\"col\">Meaning</th>"
                                 "</tr></thead>\n<tbody>\n");
    for (uint32_t field = 0; field < count; field++)
        if (!plw_field_is_detail(view->result, reading, field) ||
            plw_field_row_count(view->result, reading, field) > 0)
            put_field(view, reading, field);
    plwi_html_markup(&view->out, "</tbody>\n</table>\n");
}

/* ---- readings ------------------------------------------------------------------ */

static void put_place(plwi_outline *outline, uint32_t reading, uint32_t row)
{
    plwi_view *view = outline->view;
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_html_markup(out, "<li>");
    plwi_html_between(out, "", plwi_row_when(view, reading, PLW_NONE, row, &piece), ": ");
    plwi_html_between(out, "<b>", plw_row_code(view->tables, row), "</b>");
    plwi_html_between(out, "; ", plwi_row_words(view, row), "");
    plwi_html_between(out, "; ", plw_row_remark(view->tables, row), "");
    plwi_html_between(out, " <small>(", plwi_row_doubts(view, row, &piece), ")</small>");
    plwi_html_between(out, " <small>[", plwi_row_sources(view, row, &piece), "]</small>");
    plwi_html_markup(out, "</li>\n");
}

static void put_places(plwi_outline *outline, uint32_t reading)
{
    plwi_writer *out = &outline->view->out;
    uint32_t row = plwi_next_place(outline->view, reading, PLW_NONE);
    if (row == PLW_NONE)
        return;
    plwi_html_markup(out, "<h3>Where the number stands</h3>\n<ul>\n");
    for (uint32_t named = 0; row != PLW_NONE && named < PLWI_MAX_PLACES; named++) {
        put_place(outline, reading, row);
        row = plwi_next_place(outline->view, reading, row);
    }
    if (row != PLW_NONE)
        plwi_html_markup(out, "<li>and more places that the tables list</li>\n");
    plwi_html_markup(out, "</ul>\n");
}

static void put_reading(plwi_outline *outline, uint32_t reading)
{
    plwi_view *view = outline->view;
    plwi_piece piece;
    plwi_html_markup(&view->out, "<h2>");
    if (plw_reading_count(view->result) > 1) {
        plwi_html_markup(&view->out, "Reading ");
        plwi_put_number(&view->out, (int64_t)reading + 1);
        plwi_html_markup(&view->out, ": ");
    }
    plwi_html_between(&view->out, "", plw_reading_title(view->result, reading), "");
    plwi_html_markup(&view->out, "</h2>\n");
    plwi_outline_line(outline, plwi_reading_head(view, reading, &piece));
    plwi_html_fields(view, reading);
    plwi_html_between(&view->out, "<p>Model year: ", plwi_year_story(view, reading, &piece),
                      "</p>\n");
    put_places(outline, reading);
}

/* ---- the page -------------------------------------------------------------------- */

static void put_figure(plwi_view *view)
{
    plwi_piece piece;
    uint32_t marked = plwi_marked_positions(view);
    if (plw_result_position_count(view->result) == 0)
        return;
    plwi_html_markup(&view->out, "<figure>\n");
    plwi_svg_strip(view);
    plwi_html_between(&view->out, "<figcaption>Positions to look at again: ",
                      plwi_positions_text(marked, &piece), "</figcaption>\n");
    plwi_html_markup(&view->out, "</figure>\n");
}

static void put_head(plwi_view *view)
{
    plwi_piece piece;
    const char *number = plwi_number_text(view, &piece);
    if (number[0] == '\0')
        number = "(nothing to read)";
    plwi_html_start(&view->out, number);
    plwi_html_between(&view->out, "<h1><code>", number, "</code></h1>\n");
    plwi_html_between(&view->out, "<p>", plwi_summary(view, &piece), "</p>\n");
    put_figure(view);
}

void plwi_explain_html(plwi_view *view)
{
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_HTML };
    put_head(view);
    for (uint32_t reading = 0; reading < plwi_full_readings(view); reading++)
        put_reading(&outline, reading);
    plwi_outline_lists(&outline);
    plwi_html_end(&view->out);
}
