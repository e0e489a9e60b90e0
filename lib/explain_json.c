/* SPDX-License-Identifier: MIT
 *
 * Explain as JSON (RFC 8259): one object on one line. Its form is fixed by
 * explain.schema.json; a change that the schema does not allow needs a new
 * number in "format".
 */
#include "explain.h"

#define FORMAT_NUMBER 1

/* ---- Values -------------------------------------------------------------- */

static void put_escape(plwi_writer *out, unsigned char byte)
{
    static const char digits[] = "0123456789abcdef";
    plwi_put_text(out, "\\u00");
    plwi_put_char(out, digits[byte >> 4]);
    plwi_put_char(out, digits[byte & 15]);
}

static void put_string(plwi_writer *out, const char *text)
{
    plwi_put_char(out, '"');
    for (; *text; text++) {
        unsigned char byte = (unsigned char)*text;
        if (byte < 0x20 || byte == 0x7F) {
            put_escape(out, byte);
            continue;
        }
        if (byte == '"' || byte == '\\')
            plwi_put_char(out, '\\');
        plwi_put_char(out, *text);
    }
    plwi_put_char(out, '"');
}

/* Starts a member; a comma goes before it when another stands there already. */
static void put_name(plwi_writer *out, int first, const char *name)
{
    if (!first)
        plwi_put_char(out, ',');
    put_string(out, name);
    plwi_put_char(out, ':');
}

static void member_text(plwi_writer *out, const char *name, const char *text)
{
    put_name(out, 0, name);
    put_string(out, text);
}

static void member_number(plwi_writer *out, const char *name, int64_t number)
{
    put_name(out, 0, name);
    plwi_put_number(out, number);
}

/* Opens an array or object as a member. */
static void member_open(plwi_writer *out, const char *name, char bracket)
{
    put_name(out, 0, name);
    plwi_put_char(out, bracket);
}

static void put_comma(plwi_writer *out, uint32_t index)
{
    if (index > 0)
        plwi_put_char(out, ',');
}

static void member_positions(plwi_writer *out, uint32_t positions)
{
    uint32_t count = 0;
    member_open(out, "positions", '[');
    for (unsigned bit = 0; bit < PLW_MAX_POSITIONS; bit++) {
        if (!(positions >> bit & 1u))
            continue;
        put_comma(out, count++);
        plwi_put_number(out, bit + 1);
    }
    plwi_put_char(out, ']');
}

/* ---- Rows ---------------------------------------------------------------- */

/* The years of a row as pairs of first and last. */
static void member_year_spans(plwi_writer *out, plwi_years years)
{
    uint32_t count = 0;
    member_open(out, "years", '[');
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;) {
        int end = plwi_run_end(years, year);
        put_comma(out, count++);
        plwi_put_char(out, '[');
        plwi_put_number(out, year);
        plwi_put_char(out, ',');
        plwi_put_number(out, end);
        plwi_put_char(out, ']');
        year = plwi_years_next(years, end);
    }
    plwi_put_char(out, ']');
}

static void member_marks(plwi_writer *out, uint32_t marks)
{
    static const char *const names[] = { "disputed", "either", "doubtful" };
    uint32_t count = 0;
    member_open(out, "marks", '[');
    for (unsigned bit = 0; bit < sizeof names / sizeof *names; bit++) {
        if (!(marks >> bit & 1u))
            continue;
        put_comma(out, count++);
        put_string(out, names[bit]);
    }
    plwi_put_char(out, ']');
}

static void member_attributes(plwi_view *view, uint32_t row)
{
    plwi_writer *out = &view->out;
    uint32_t count = plw_row_attribute_count(view->tables, row);
    member_open(out, "attributes", '{');
    for (uint32_t i = 0; i < count; i++) {
        const char *name = plw_row_attribute_name(view->tables, row, i);
        int64_t thousandths = 0;
        plwi_piece piece;
        put_name(out, i == 0, name);
        if (plw_row_quantity(view->tables, row, name, &thousandths) == PLW_OK)
            plwi_put_thousandths(out, thousandths);
        else
            put_string(out, plwi_attribute_text(view, row, i, &piece));
    }
    plwi_put_char(out, '}');
}

static void member_quantity(plwi_view *view, uint32_t row, const char *name,
                            const char *attribute)
{
    int64_t thousandths = 0;
    if (plw_row_quantity(view->tables, row, attribute, &thousandths) != PLW_OK)
        return;
    put_name(&view->out, 0, name);
    plwi_put_thousandths(&view->out, thousandths);
}

static void member_source_keys(plwi_view *view, uint32_t row)
{
    uint32_t count = plw_row_source_count(view->tables, row);
    member_open(&view->out, "sources", '[');
    for (uint32_t i = 0; i < count; i++) {
        put_comma(&view->out, i);
        put_string(&view->out, plw_source_key(view->tables, plw_row_source(view->tables, row, i)));
    }
    plwi_put_char(&view->out, ']');
}

static void put_meaning(plwi_view *view, uint32_t row)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    put_name(out, 1, "key");
    put_string(out, plwi_key_text(view, row, &piece));
    member_text(out, "words", plw_row_words(view->tables, row));
    member_text(out, "remark", plw_row_remark(view->tables, row));
    member_text(out, "condition", plwi_condition_text(view, row, &piece));
    member_year_spans(out, plwi_row_years(view, row));
    member_text(out, "standing", plw_standing_name(plw_row_standing(view->tables, row)));
    member_marks(out, plw_row_marks(view->tables, row));
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
    member_open(&view->out, "meanings", '[');
    for (uint32_t i = 0; i < count; i++) {
        put_comma(&view->out, i);
        put_meaning(view, plw_field_row(view->result, reading, field, i));
    }
    plwi_put_char(&view->out, ']');
}

static void member_years(plwi_writer *out, const char *name, plwi_years years)
{
    uint32_t count = 0;
    member_open(out, name, '[');
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year)) {
        put_comma(out, count++);
        plwi_put_number(out, year);
    }
    plwi_put_char(out, ']');
}

static void put_field(plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    put_name(out, 1, "field");
    put_string(out, plw_field_name(view->result, reading, field));
    member_text(out, "label", plw_field_label(view->result, reading, field));
    member_positions(out, plw_field_positions(view->result, reading, field));
    member_text(out, "code", plwi_code_text(view, reading, field, &piece));
    member_text(out, "state", state_name(plw_field_state(view->result, reading, field)));
    put_name(out, 0, "detail");
    plwi_put_text(out, plw_field_is_detail(view->result, reading, field) ? "true" : "false");
    member_meanings(view, reading, field);
    member_years(out, "excludes_years", plwi_excluded_years(view, reading, field));
    plwi_put_char(out, '}');
}

static void member_fields(plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_field_count(view->result, reading);
    member_open(&view->out, "fields", '[');
    for (uint32_t field = 0; field < count; field++) {
        put_comma(&view->out, field);
        put_field(view, reading, field);
    }
    plwi_put_char(&view->out, ']');
}

static void member_check(plwi_view *view, uint32_t reading)
{
    plwi_writer *out = &view->out;
    int32_t expected = 0;
    int32_t state = plw_reading_check(view->result, reading, &expected);
    char character[2] = { (char)expected, '\0' };
    member_open(out, "check", '{');
    put_name(out, 1, "state");
    put_string(out, check_name(state));
    put_name(out, 0, "expected");
    if (expected)
        put_string(out, character);
    else
        plwi_put_text(out, "null");
    plwi_put_char(out, '}');
}

static void put_reading(plwi_view *view, uint32_t reading)
{
    plwi_writer *out = &view->out;
    uint32_t scheme = plw_reading_scheme(view->result, reading);
    plwi_piece piece;
    plwi_put_char(out, '{');
    put_name(out, 1, "scheme");
    put_string(out, plw_scheme_key(view->tables, scheme));
    member_text(out, "title", plw_scheme_title(view->tables, scheme));
    member_text(out, "number", plwi_reading_text(view, reading, &piece));
    member_text(out, "grade", plw_grade_name(plw_reading_grade(view->result, reading)));
    member_years(out, "years", plwi_reading_years(view, reading));
    member_fields(view, reading);
    member_check(view, reading);
    plwi_put_char(out, '}');
}

static void member_readings(plwi_view *view)
{
    uint32_t count = plw_reading_count(view->result);
    member_open(&view->out, "readings", '[');
    for (uint32_t reading = 0; reading < count; reading++) {
        put_comma(&view->out, reading);
        put_reading(view, reading);
    }
    plwi_put_char(&view->out, ']');
}

/* ---- Findings and what closes the object --------------------------------- */

static void put_finding(plwi_view *view, uint32_t finding)
{
    plwi_writer *out = &view->out;
    uint32_t reading = plw_finding_reading(view->result, finding);
    plwi_piece piece;
    plwi_put_char(out, '{');
    put_name(out, 1, "code");
    put_string(out, plw_finding_name(view->result, finding));
    member_number(out, "number", plw_finding_code(view->result, finding));
    member_text(out, "grade", plw_grade_name(plw_finding_grade(view->result, finding)));
    put_name(out, 0, "reading");
    if (reading == PLW_NONE)
        plwi_put_text(out, "null");
    else
        plwi_put_number(out, reading);
    member_positions(out, plw_finding_positions(view->result, finding));
    member_text(out, "sentence", plwi_sentence_text(view, finding, &piece));
    plwi_put_char(out, '}');
}

static void member_findings(plwi_view *view)
{
    uint32_t count = plw_finding_count(view->result);
    member_open(&view->out, "findings", '[');
    for (uint32_t finding = 0; finding < count; finding++) {
        put_comma(&view->out, finding);
        put_finding(view, finding);
    }
    plwi_put_char(&view->out, ']');
}

static void put_source(plwi_view *view, uint32_t source)
{
    plwi_writer *out = &view->out;
    plwi_put_char(out, '{');
    put_name(out, 1, "key");
    put_string(out, plw_source_key(view->tables, source));
    member_text(out, "citation", plw_source_citation(view->tables, source));
    member_text(out, "address", plw_source_address(view->tables, source));
    plwi_put_char(out, '}');
}

static void member_sources(plwi_view *view)
{
    uint32_t count = 0;
    if (!(view->flags & PLW_EXPLAIN_SOURCES))
        return;
    member_open(&view->out, "sources", '[');
    for (uint32_t source = plwi_next_field_source(view, PLW_NONE); source != PLW_NONE;
         source = plwi_next_field_source(view, source)) {
        put_comma(&view->out, count++);
        put_source(view, source);
    }
    plwi_put_char(&view->out, ']');
}

static void member_tables(plwi_view *view)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    member_open(out, "tables", '{');
    put_name(out, 1, "edition");
    put_string(out, plw_tables_edition(view->tables));
    member_text(out, "digest", plwi_digest_text(view, &piece));
    plwi_put_char(out, '}');
}

static void member_cautions(plwi_view *view)
{
    uint32_t count = plw_caution_count(view->tables);
    member_open(&view->out, "cautions", '[');
    for (uint32_t i = 0; i < count; i++) {
        put_comma(&view->out, i);
        put_string(&view->out, plw_caution_text(view->tables, i));
    }
    plwi_put_char(&view->out, ']');
}

void plwi_explain_json(plwi_view *view)
{
    plwi_writer *out = &view->out;
    plwi_piece piece;
    plwi_put_char(out, '{');
    put_name(out, 1, "format");
    plwi_put_number(out, FORMAT_NUMBER);
    member_text(out, "number", plwi_number_text(view, &piece));
    member_number(out, "positions", plw_result_position_count(view->result));
    member_text(out, "grade", plw_grade_name(plw_result_grade(view->result)));
    member_readings(view);
    member_findings(view);
    member_sources(view);
    member_tables(view);
    member_text(out, "library", plw_version_text());
    member_cautions(view);
    plwi_put_text(out, "}\n");
}
