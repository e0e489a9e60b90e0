/* SPDX-License-Identifier: MIT
 *
 * Explain as JSON (RFC 8259): one object on one line. Its form is fixed by
 * explain.schema.json; a change that the schema does not allow needs a new
 * number in "format".
 */
#include "explain.h"
#include "json.h"

#define FORMAT_NUMBER 1

/* ---- Rows ---------------------------------------------------------------- */

/* The years of a row as pairs of first and last. */
static void member_year_spans(plwi_writer *out, plwi_years years)
{
    uint32_t count = 0;
    plwi_json_open(out, "years", '[');
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;) {
        int end = plwi_run_end(years, year);
        plwi_json_comma(out, count++);
        plwi_put_char(out, '[');
        plwi_put_number(out, year);
        plwi_put_char(out, ',');
        plwi_put_number(out, end);
        plwi_put_char(out, ']');
        year = plwi_years_next(years, end);
    }
    plwi_put_char(out, ']');
}

static void member_attributes(plwi_view *view, uint32_t row)
{
    plwi_writer *out = &view->out;
    uint32_t count = plw_row_attribute_count(view->tables, row);
    plwi_json_open(out, "attributes", '{');
    for (uint32_t i = 0; i < count; i++) {
        const char *name = plw_row_attribute_name(view->tables, row, i);
        int64_t thousandths = 0;
        plwi_piece piece;
        plwi_json_name(out, i == 0, name);
        if (plw_row_quantity(view->tables, row, name, &thousandths) == PLW_OK)
            plwi_put_thousandths(out, thousandths);
        else
            plwi_json_string(out, plwi_attribute_text(view, row, i, &piece));
    }
    plwi_put_char(out, '}');
}

static void member_quantity(plwi_view *view, uint32_t row, const char *name, const char *attribute)
{
    int64_t thousandths = 0;
    if (plw_row_quantity(view->tables, row, attribute, &thousandths) != PLW_OK)
        return;
    plwi_json_name(&view->out, 0, name);
    plwi_put_thousandths(&view->out, thousandths);
}

static void member_source_keys(plwi_view *view, uint32_t row)
{
    uint32_t count = plw_row_source_count(view->tables, row);
    plwi_json_open(&view->out, "sources", '[');
    for (uint32_t i = 0; i < count; i++) {
        plwi_json_comma(&view->out, i);
        plwi_json_string(&view->out,
                         plw_source_key(view->tables, plw_row_source(view->tables, row, i)));
    }
    plwi_put_char(&view->out, ']');
}

static void put_meaning(plwi_view *view, uint32_t row)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "key");
    plwi_json_string(out, plwi_key_text(view, row, &piece));
    plwi_json_text(out, "words", plwi_row_words(view, row));
    plwi_json_text(out, "remark", plw_row_remark(view->tables, row));
    plwi_json_text(out, "condition", plwi_condition_text(view, row, &piece));
    member_year_spans(out, plwi_row_years(view, row));
    plwi_json_text(out, "standing", plw_standing_name(plw_row_standing(view->tables, row)));
    plwi_json_marks(out, plw_row_marks(view->tables, row));
    member_attributes(view, row);
    member_quantity(view, row, "displacement_cc", "cc");
    member_quantity(view, row, "displacement_cu_in", "cid");
    member_source_keys(view, row);
    plwi_put_char(out, '}');
}

/* ---- Fields and readings ------------------------------------------------- */

static const char *state_name(int32_t state)
{
    static const char *const names[] = { "known", "unknown", "unreadable", "plain", "check" };
    return names[state];
}

static const char *check_name(int32_t check)
{
    static const char *const names[] = { "none", "fits", "fails", "open" };
    return names[check];
}

static void member_meanings(plwi_view *view, uint32_t reading, uint32_t field)
{
    uint32_t count = plw_field_row_count(view->result, reading, field);
    plwi_json_open(&view->out, "meanings", '[');
    for (uint32_t i = 0; i < count; i++) {
        plwi_json_comma(&view->out, i);
        put_meaning(view, plw_field_row(view->result, reading, field, i));
    }
    plwi_put_char(&view->out, ']');
}

static void put_field(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "field");
    plwi_json_string(out, plw_field_name(view->result, reading, field));
    plwi_json_text(out, "label", plw_field_label(view->result, reading, field));
    plwi_json_positions(out, plw_field_positions(view->result, reading, field));
    plwi_json_text(out, "code", plwi_code_text(view, reading, field, &piece));
    plwi_json_text(out, "state", state_name(plw_field_state(view->result, reading, field)));
    plwi_json_name(out, 0, "detail");
    plwi_put_text(out, plw_field_is_detail(view->result, reading, field) ? "true" : "false");
    member_meanings(view, reading, field);
    plwi_json_years(out, "excludes_years", plwi_excluded_years(view, reading, field));
    plwi_put_char(out, '}');
}

static void member_fields(plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_field_count(view->result, reading);
    plwi_json_open(&view->out, "fields", '[');
    for (uint32_t field = 0; field < count; field++) {
        plwi_json_comma(&view->out, field);
        put_field(view, reading, field);
    }
    plwi_put_char(&view->out, ']');
}

static void member_check(plwi_view *view, uint32_t reading)
{
    plwi_writer *out = &view->out;
    int32_t expected = 0;
    int32_t state = plw_reading_check(view->result, reading, &expected);
    plwi_json_open(out, "check", '{');
    plwi_json_name(out, 1, "state");
    plwi_json_string(out, check_name(state));
    plwi_json_name(out, 0, "expected");
    if (expected) {
        char character[2] = { (char)expected, '\0' };
        plwi_json_string(out, character);
    } else {
        plwi_put_text(out, "null");
    }
    plwi_put_char(out, '}');
}

static void put_reading(plwi_view *view, uint32_t reading)
{
    plwi_writer *out = &view->out;
    uint32_t scheme = plw_reading_scheme(view->result, reading);
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "scheme");
    plwi_json_string(out, plw_scheme_key(view->tables, scheme));
    plwi_json_text(out, "title", plw_reading_title(view->result, reading));
    plwi_json_text(out, "number", plwi_reading_text(view, reading, &piece));
    plwi_json_text(out, "grade", plw_grade_name(plw_reading_grade(view->result, reading)));
    plwi_json_years(out, "years", plwi_reading_years(view, reading));
    member_fields(view, reading);
    member_check(view, reading);
    plwi_put_char(out, '}');
}

static void member_readings(plwi_view *view)
{
    uint32_t count = plw_reading_count(view->result);
    plwi_json_open(&view->out, "readings", '[');
    for (uint32_t reading = 0; reading < count; reading++) {
        plwi_json_comma(&view->out, reading);
        put_reading(view, reading);
    }
    plwi_put_char(&view->out, ']');
}

/* ---- What would settle it ------------------------------------------------- */

static void member_codes(plwi_view *view, const plwi_settling *settling)
{
    plwi_writer *out = &view->out;
    uint64_t codes[MAX_SETTLING_CODES];
    uint32_t count = plwi_settling_codes(view->result, settling, codes);
    plwi_json_open(out, "codes", '[');
    for (uint32_t i = 0; i < count; i++) {
        plwi_json_comma(out, i);
        plwi_put_char(out, '"');
        plwi_put_settling_code(out, codes[i]);
        plwi_put_char(out, '"');
    }
    plwi_put_char(out, ']');
}

static void member_settling(plwi_view *view)
{
    plwi_writer *out = &view->out;
    plwi_settling list[PLW_MAX_SETTLINGS];
    uint32_t count = plwi_settlings(view->result, list);
    plwi_json_open(out, "settling", '[');
    for (uint32_t i = 0; i < count; i++) {
        const plwi_settling *s = &list[i];
        plwi_json_comma(out, i);
        plwi_put_char(out, '{');
        plwi_json_name(out, 1, "reading");
        plwi_put_number(out, s->reading);
        plwi_json_years(out, "years", s->years);
        plwi_json_text(out, "field", plw_field_name(view->result, s->reading, s->field));
        plwi_json_text(out, "label", plw_field_label(view->result, s->reading, s->field));
        plwi_json_positions(out, plw_field_positions(view->result, s->reading, s->field));
        member_codes(view, s);
        plwi_put_char(out, '}');
    }
    plwi_put_char(out, ']');
}

/* ---- Findings and what closes the object --------------------------------- */

static void put_finding(plwi_view *view, uint32_t finding)
{
    plwi_writer *out = &view->out;
    uint32_t reading = plw_finding_reading(view->result, finding);
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "code");
    plwi_json_string(out, plw_finding_name(view->result, finding));
    plwi_json_number(out, "number", plw_finding_code(view->result, finding));
    plwi_json_text(out, "grade", plw_grade_name(plw_finding_grade(view->result, finding)));
    plwi_json_name(out, 0, "reading");
    if (reading == PLW_NONE)
        plwi_put_text(out, "null");
    else
        plwi_put_number(out, reading);
    plwi_json_positions(out, plw_finding_positions(view->result, finding));
    plwi_json_text(out, "sentence", plwi_sentence_text(view, finding, &piece));
    plwi_put_char(out, '}');
}

void plwi_json_findings(plwi_view *view)
{
    uint32_t count = plw_finding_count(view->result);
    plwi_json_open(&view->out, "findings", '[');
    for (uint32_t finding = 0; finding < count; finding++) {
        plwi_json_comma(&view->out, finding);
        put_finding(view, finding);
    }
    plwi_put_char(&view->out, ']');
}

static void member_changes(plwi_view *view, uint32_t suggestion)
{
    plwi_writer *out = &view->out;
    uint32_t count = 0;
    plwi_json_open(out, "changes", '[');
    for (uint32_t position = 1; position <= PLW_MAX_POSITIONS; position++) {
        int32_t meant = plw_suggestion_meant(view->result, suggestion, position);
        char text[2] = { (char)meant, '\0' };
        plwi_piece piece;
        if (meant == 0)
            continue;
        plwi_writer typed = plwi_piece_writer(&piece);
        plwi_put_typed(&typed, &view->result->number.cell[position - 1]);
        plwi_json_comma(out, count++);
        plwi_put_char(out, '{');
        plwi_json_name(out, 1, "position");
        plwi_put_number(out, position);
        plwi_json_text(out, "typed", plwi_piece_end(&piece, &typed));
        plwi_json_text(out, "meant", text);
        plwi_put_char(out, '}');
    }
    plwi_put_char(out, ']');
}

static const char *suggestion_number(const plwi_view *view, uint32_t suggestion, plwi_piece *piece)
{
    plw_suggestion_number(view->result, suggestion, piece->text, sizeof piece->text, NULL);
    return piece->text;
}

static void put_suggestion(plwi_view *view, uint32_t suggestion)
{
    plwi_writer *out = &view->out;
    int32_t standing = plw_suggestion_standing(view->result, suggestion);
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "number");
    plwi_json_string(out, suggestion_number(view, suggestion, &piece));
    plwi_json_text(out, "grade", plw_grade_name(plw_suggestion_grade(view->result, suggestion)));
    plwi_json_text(out, "standing", plw_standing_name(standing));
    member_changes(view, suggestion);
    plwi_json_text(out, "sentence", plwi_suggestion_text(view, suggestion, &piece));
    plwi_put_char(out, '}');
}

/* Only where they were asked for. */
static void member_suggestions(plwi_view *view)
{
    uint32_t count = plw_suggestion_count(view->result);
    if (!view->result->suggestions.asked)
        return;
    plwi_json_open(&view->out, "suggestions", '[');
    for (uint32_t i = 0; i < count; i++) {
        plwi_json_comma(&view->out, i);
        put_suggestion(view, i);
    }
    plwi_put_char(&view->out, ']');
    plwi_json_number(&view->out, "suggestions_left_out", plw_suggestion_left_out(view->result));
}

static void member_claim_rows(plwi_view *view, uint32_t claim)
{
    plwi_piece piece;
    uint32_t count = plw_claim_row_count(view->result, claim);
    int32_t standing = plw_claim_standing(view->result, claim);
    plwi_json_open(&view->out, "rows", '[');
    for (uint32_t i = 0; i < count; i++) {
        plwi_json_comma(&view->out, i);
        plwi_json_string(&view->out,
                         plwi_key_text(view, plw_claim_row(view->result, claim, i), &piece));
    }
    plwi_put_char(&view->out, ']');
    plwi_json_name_or_null(&view->out, "standing", plw_standing_name(standing));
    plwi_json_marks(&view->out, plw_claim_marks(view->result, claim));
}

static void put_claim(plwi_view *view, uint32_t claim)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    uint32_t reading = plw_claim_reading(view->result, claim);
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "claim");
    plwi_json_string(out, plwi_claim_text(view, claim, &piece));
    plwi_json_name_or_null(out, "attribute", plw_claim_attribute(view->result, claim));
    plwi_json_text(out, "value", plwi_claim_value(view, claim, &piece));
    plwi_json_text(out, "verdict", plw_verdict_name(plw_claim_verdict(view->result, claim)));
    plwi_json_text(out, "reason", plw_reason_name(plw_claim_reason(view->result, claim)));
    plwi_json_name(out, 0, "reading");
    if (reading == PLW_NONE)
        plwi_put_text(out, "null");
    else
        plwi_put_number(out, reading);
    plwi_json_positions(out, plw_claim_positions(view->result, claim));
    member_claim_rows(view, claim);
    plwi_json_text(out, "sentence", plwi_claim_sentence(view, claim, &piece));
    plwi_put_char(out, '}');
}

/* Only where claims were checked. */
void plwi_json_claims(plwi_view *view)
{
    uint32_t count = plw_claim_count(view->result);
    if (count == 0)
        return;
    plwi_json_open(&view->out, "claims", '[');
    for (uint32_t claim = 0; claim < count; claim++) {
        plwi_json_comma(&view->out, claim);
        put_claim(view, claim);
    }
    plwi_put_char(&view->out, ']');
}

void plwi_json_source(plwi_view *view, uint32_t source)
{
    plwi_writer *out = &view->out;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "key");
    plwi_json_string(out, plw_source_key(view->tables, source));
    plwi_json_text(out, "citation", plw_source_citation(view->tables, source));
    plwi_json_text(out, "address", plw_source_address(view->tables, source));
    plwi_put_char(out, '}');
}

static void member_sources(plwi_view *view)
{
    uint32_t count = 0;
    if (!(view->flags & PLW_EXPLAIN_SOURCES))
        return;
    plwi_json_open(&view->out, "sources", '[');
    for (uint32_t source = plwi_next_field_source(view, PLW_NONE); source != PLW_NONE;
         source = plwi_next_field_source(view, source)) {
        plwi_json_comma(&view->out, count++);
        plwi_json_source(view, source);
    }
    plwi_put_char(&view->out, ']');
}

static void member_tables(plwi_view *view)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_json_open(out, "tables", '{');
    plwi_json_name(out, 1, "edition");
    plwi_json_string(out, plw_tables_edition(view->tables));
    plwi_json_text(out, "digest", plwi_digest_text(view, &piece));
    plwi_put_char(out, '}');
}

static void member_cautions(plwi_view *view)
{
    uint32_t count = plw_caution_count(view->tables);
    plwi_json_open(&view->out, "cautions", '[');
    for (uint32_t i = 0; i < count; i++) {
        plwi_json_comma(&view->out, i);
        plwi_json_string(&view->out, plw_caution_text(view->tables, i));
    }
    plwi_put_char(&view->out, ']');
}

void plwi_json_closing(plwi_view *view)
{
    member_tables(view);
    plwi_json_text(&view->out, "library", plw_version_text());
    member_cautions(view);
    plwi_put_text(&view->out, "}\n");
}

void plwi_explain_json(plwi_view *view)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    plwi_json_name(out, 1, "format");
    plwi_put_number(out, FORMAT_NUMBER);
    plwi_json_text(out, "number", plwi_number_text(view, &piece));
    plwi_json_number(out, "positions", plw_result_position_count(view->result));
    plwi_json_text(out, "grade", plw_grade_name(plw_result_grade(view->result)));
    member_readings(view);
    member_settling(view);
    plwi_json_findings(view);
    plwi_json_claims(view);
    member_suggestions(view);
    member_sources(view);
    plwi_json_closing(view);
}
