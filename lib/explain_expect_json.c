/* SPDX-License-Identifier: MIT
 *
 * Explain for an expectation as JSON: one object on one line. Its form is fixed by
 * expect.schema.json; a change that the schema does not allow needs a new number in
 * "format".
 */
#include "explain_expect.h"
#include "json.h"

#define FORMAT_NUMBER 2

static void member_flag(plwi_writer *out, const char *name, int flag)
{
    plwi_json_name(out, 0, name);
    plwi_put_text(out, flag ? "true" : "false");
}

static void member_claims(plwi_view *view, const plw_expectation *e)
{
    plwi_writer *out = &view->out;
    plwi_json_open(out, "claims", '[');
    for (uint32_t i = 0; i < e->claims.count; i++) {
        plwi_piece piece;
        plwi_writer writer = plwi_piece_writer(&piece);
        plwi_put_claim_list(&writer, &e->claims, UINT32_C(1) << i, "");
        plwi_json_comma(out, i);
        plwi_put_char(out, '{');
        plwi_json_name(out, 1, "text");
        plwi_json_string(out, plwi_piece_end(&piece, &writer));
        plwi_json_text(out, "attribute", plw_expectation_claim_attribute(e, i));
        member_flag(out, "understood", plw_expectation_understands(e, i));
        member_flag(out, "rules_out", plw_expectation_rules_out(e, i));
        member_flag(out, "left_without", plw_expectation_left_without(e, i));
        plwi_put_char(out, '}');
    }
    plwi_put_char(out, ']');
}

/* Indices of the claims that a pattern tells, or that it leaves open. */
static void member_set(plwi_writer *out, const char *name, const plw_expectation *e, uint32_t set)
{
    uint32_t count = 0;
    plwi_json_open(out, name, '[');
    for (uint32_t i = 0; i < e->claims.count; i++) {
        if (!(set >> i & 1))
            continue;
        plwi_json_comma(out, count++);
        plwi_put_number(out, i);
    }
    plwi_put_char(out, ']');
}

static void member_rows(plwi_view *view, const plwi_pattern *pattern)
{
    plwi_writer *out = &view->out;
    plwi_json_open(out, "rows", '[');
    for (uint32_t i = 0; i < pattern->row_count; i++) {
        plwi_piece piece;
        uint32_t row = pattern->rows[i];
        plwi_json_comma(out, i);
        plwi_put_char(out, '{');
        plwi_json_name(out, 1, "key");
        plwi_json_string(out, plwi_key_text(view, row, &piece));
        plwi_json_text(out, "words", plwi_row_words(view, row));
        plwi_json_text(out, "standing", plw_standing_name(plw_row_standing(view->tables, row)));
        plwi_json_open(out, "sources", '[');
        for (uint32_t k = 0; k < plw_row_source_count(view->tables, row); k++) {
            plwi_json_comma(out, k);
            plwi_json_string(out, plw_source_key(view->tables,
                                                 plw_row_source(view->tables, row, k)));
        }
        plwi_put_text(out, "]}");
    }
    plwi_put_char(out, ']');
}

static void put_pattern(plwi_view *view, const plw_expectation *e, uint32_t index)
{
    plwi_writer *out = &view->out;
    const plwi_pattern *pattern = &e->patterns[index];
    uint32_t scheme = plw_pattern_scheme(e, index);
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "pattern");
    plwi_json_string(out, plwi_pattern_text(e, index, &piece));
    plwi_json_text(out, "scheme", plw_scheme_key(view->tables, scheme));
    plwi_json_text(out, "title",
                   plwi_title(view->result->names, plwi_image(view->tables), scheme));
    plwi_json_number(out, "length",
                     plw_layout_length(view->tables, scheme, plw_pattern_layout(e, index)));
    plwi_json_years(out, "years", pattern->years);
    plwi_json_text(out, "range", plwi_pattern_range(e, index, &piece));
    member_set(out, "tells", e, pattern->told);
    member_set(out, "open", e, ~pattern->told);
    member_rows(view, pattern);
    member_flag(out, "more_rows", pattern->rows_cut);
    plwi_json_name_or_null(out, "standing", plw_standing_name(plw_pattern_standing(e, index)));
    plwi_json_marks(out, plw_pattern_marks(e, index));
    plwi_json_text(out, "sentence", plwi_pattern_sentence(e, index, &piece));
    plwi_put_char(out, '}');
}

static void member_sources(plwi_view *view, const plw_expectation *e)
{
    uint32_t count = 0;
    if (!(view->flags & PLW_EXPLAIN_SOURCES))
        return;
    plwi_json_open(&view->out, "sources", '[');
    for (uint32_t source = plwi_next_pattern_source(view, e, PLW_NONE); source != PLW_NONE;
         source = plwi_next_pattern_source(view, e, source)) {
        plwi_json_comma(&view->out, count++);
        plwi_json_source(view, source);
    }
    plwi_put_char(&view->out, ']');
}

void plwi_explain_expectation_json(plwi_view *view, const plw_expectation *e)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "format");
    plwi_put_number(out, FORMAT_NUMBER);
    plwi_json_text(out, "summary", plwi_expectation_sentence(e, &piece));
    member_claims(view, e);
    plwi_json_open(out, "patterns", '[');
    for (uint32_t i = 0; i < e->pattern_count; i++) {
        plwi_json_comma(out, i);
        put_pattern(view, e, i);
    }
    plwi_put_char(out, ']');
    member_flag(out, "capped", (int)e->capped);
    member_sources(view, e);
    plwi_json_closing(view);
}
