/* SPDX-License-Identifier: MIT
 *
 * Rows and rules: everything but their conditions, which need the facts of all
 * other rows first.
 */
#include "codes.h"
#include "resolve.h"
#include "vocabulary.h"
#include "years.h"

static bool takes_rows(const tc_field *field)
{
    return field->kind != KIND_FREE && field->kind != KIND_CHECK;
}

static bool has_codes(const tc_field *field)
{
    return field->kind == KIND_CODE || field->kind == KIND_NARROW || field->kind == KIND_DETAIL;
}

static bool resolve_codes(tc_compilation *c, const tc_scheme *scheme, const tc_field *field,
                          tc_row *row)
{
    tc_problem problem;
    if (row->kind != ROW_MEANING)
        return true;
    row->code_text = tc_unquoted(c, row->code_word);
    if (field->kind == KIND_TOPIC)
        return true;
    if (!scheme->layouts_sound || field->widths == 0) /* told already */
        return false;
    if (tc_read_codes(c, scheme, field, row->code_word, &row->codes, &problem))
        return true;
    tc_complain(c, problem.place, "%s", problem.text);
    return false;
}

static bool resolve_standing(tc_compilation *c, tc_row *row)
{
    if (!tc_read_standing(c, row->standing_word, &row->standing, &row->marks))
        return false;
    return tc_read_citations(c, row->source_word, &row->citations) &&
           tc_check_cited(c, row->source_word, row->standing, &row->citations);
}

static void resolve_row(tc_compilation *c, const tc_scheme *scheme, const tc_field *field,
                        tc_row *row)
{
    row->sound = true;
    row->code_text = "";
    row->tag = "";
    /* Each column is looked at, so that all that is wrong is told. */
    if (!resolve_codes(c, scheme, field, row))
        row->sound = false;
    if (!tc_read_years(c, row->years_word, scheme, &row->years))
        row->sound = false;
    if (!resolve_standing(c, row))
        row->sound = false;
    if (!tc_read_facts(c, row->facts_word, &row->facts, &row->tag) ||
        !tc_check_parts(c, scheme, row->facts_word.place, &row->facts) ||
        !tc_check_dates(c, row->facts_word.place, &row->facts))
        row->sound = false;
}

static void add_rows(tc_compilation *c, const tc_scheme *scheme, tc_section *section,
                     tc_field *field)
{
    tc_rows *list = section->kind == TC_ROWS ? &field->rows : &field->rules;
    for (size_t i = 0; i < section->rows.count; i++) {
        tc_row *row = TC_ADD(&c->memory, list);
        *row = section->rows.items[i];
        resolve_row(c, scheme, field, row);
    }
}

/* May a section of this kind stand behind this field? */
static bool check_section(tc_compilation *c, const tc_section *section, const tc_field *field)
{
    const char *advice = NULL;
    if (section->kind == TC_ROWS && !takes_rows(field))
        advice = "a field of this kind takes no rows; give it the kind code, run, narrow or "
                 "detail, or leave the section out";
    else if (section->kind == TC_CLOSED && !has_codes(field))
        advice = "only a field with codes can be closed; name one of the kind code, narrow or "
                 "detail";
    else if (section->kind == TC_REQUIRED && field->kind != KIND_CHECK)
        advice = "only a check character can be required; name the field of the kind check";
    else if (section->kind == TC_CHECK && field->kind != KIND_CHECK)
        advice = "this field is no check character; give it the kind check under [fields]";
    if (advice)
        tc_complain(c, section->field_word.place, "%s: %s", field->name, advice);
    return !advice;
}

static void resolve_section(tc_compilation *c, tc_scheme *scheme, tc_section *section)
{
    tc_field *field = tc_find_field(scheme, section->field_word);
    if (!field) {
        tc_refuse_field(c, scheme, section->field_word);
        return;
    }
    if (!check_section(c, section, field))
        return;
    if (section->kind == TC_CHECK)
        tc_resolve_check(c, scheme, section, field);
    else
        add_rows(c, scheme, section, field);
}

void tc_resolve_rows(tc_compilation *c, tc_scheme *scheme)
{
    for (size_t i = 0; i < scheme->sections.count; i++)
        resolve_section(c, scheme, scheme->sections.items[i]);
}
