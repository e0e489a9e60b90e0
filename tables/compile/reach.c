/* SPDX-License-Identifier: MIT
 *
 * Can a number show this row? One is sought: position by position, in every
 * layout, with the codes the row's conditions ask for and a year code for one
 * of its years.
 */
#include <string.h>

#include "check.h"
#include "codes.h"
#include "conditions.h"
#include "years.h"

/* A number in the making. */
typedef struct draft {
    const tc_form *form;
    tc_years years;                    /* in which it may be */
    uint64_t classes[MAX_POSITIONS];   /* what each position may still show */
} draft;

typedef struct search {
    const tc_scheme *scheme;
    const tc_field *field;
    const tc_row *row;
    const tc_condition *conditions;
    size_t condition_count;
    bool with_year; /* must the year field allow a year too? */
} search;

static bool reach_condition(const search *s, size_t next, draft now);

/* ---- codes into drafts ------------------------------------------------ */

static bool place_code(draft *d, const tc_span *span, uint64_t code)
{
    unsigned place = 0;
    if (tc_code_width(code) != span->width)
        return false;
    for (unsigned p = 0; p < d->form->length; p++) {
        if (!(span->positions >> p & 1))
            continue;
        d->classes[p] &= UINT64_C(1) << tc_code_character(code, span->width, place++);
        if (!d->classes[p])
            return false;
    }
    return true;
}

/* The lowest or highest running number the span can show, filled up. */
static uint64_t end_of_span(const draft *d, const tc_span *span, bool highest)
{
    uint64_t code = 0;
    for (unsigned p = 0; p < d->form->length; p++) {
        int bit = highest ? ALPHABET_SIZE - 1 : 0;
        if (!(span->positions >> p & 1))
            continue;
        while (!(d->classes[p] >> bit & 1))
            bit += highest ? -1 : 1;
        code = code << CODE_BITS | (unsigned)(bit + 1);
    }
    return tc_padded_code(code, span->field->width);
}

static bool run_meets(const draft *d, const tc_span *span, const tc_codes *codes)
{
    for (size_t i = 0; i + 1 < codes->count; i += 2)
        if (codes->items[i] <= end_of_span(d, span, true) &&
            codes->items[i + 1] >= end_of_span(d, span, false))
            return true;
    return false;
}

/* Tries each of the codes, and the conditions from next on with it. */
static bool reach_codes(const search *s, const tc_field *field, const tc_codes *codes,
                        size_t next, const draft *now)
{
    const tc_span *span = tc_span_of(now->form, field);
    if (!span)
        return false;
    if (field->kind == KIND_RUN)
        return run_meets(now, span, codes) && reach_condition(s, next, *now);
    for (size_t i = 0; i < codes->count; i++) {
        draft then = *now;
        if (place_code(&then, span, codes->items[i]) && reach_condition(s, next, then))
            return true;
    }
    return false;
}

static bool reach_row(const search *s, const tc_field *field, const tc_row *row, size_t next,
                      const draft *now)
{
    draft then = *now;
    then.years = tc_years_and(then.years, row->years);
    if (!row->sound) /* told already; take it to say what is needed */
        return reach_condition(s, next, *now);
    return !tc_years_empty(then.years) && reach_codes(s, field, &row->codes, next, &then);
}

/* ---- conditions ------------------------------------------------------- */

static bool has_code(const tc_codes *codes, uint64_t code)
{
    for (size_t i = 0; i < codes->count; i++)
        if (codes->items[i] == code)
            return true;
    return false;
}

/* Of a code field a row must know the code in one of the years. */
static tc_years years_of_code(const tc_field *field, uint64_t code)
{
    tc_years years = { 0, 0 };
    if (field->kind != KIND_CODE)
        return tc_years_any();
    for (size_t i = 0; i < field->rows.count; i++) {
        const tc_row *row = &field->rows.items[i];
        if (!row->sound)
            return tc_years_any();
        if (has_code(&row->codes, code))
            years = tc_years_or(years, row->years);
    }
    return years;
}

static bool reach_field(const search *s, const tc_condition *condition, size_t next,
                        const draft *now)
{
    if (condition->field->kind == KIND_RUN)
        return reach_codes(s, condition->field, &condition->codes, next, now);
    for (size_t i = 0; i < condition->codes.count; i++) {
        draft then = *now;
        tc_codes one = { &condition->codes.items[i], 1, 1 };
        then.years = tc_years_and(then.years, years_of_code(condition->field, one.items[0]));
        if (!tc_years_empty(then.years) &&
            reach_codes(s, condition->field, &one, next, &then))
            return true;
    }
    return false;
}

static bool reach_provider(const search *s, const tc_field *field, const tc_condition *condition,
                           size_t next, const draft *now)
{
    if (field == s->field || field->kind == KIND_TOPIC)
        return false;
    for (size_t i = 0; i < field->rows.count; i++)
        if (tc_states(&field->rows.items[i].facts, condition) &&
            reach_row(s, field, &field->rows.items[i], next, now))
            return true;
    return false;
}

static bool reach_attribute(const search *s, const tc_condition *condition, size_t next,
                            const draft *now)
{
    if (tc_states(&s->scheme->facts, condition) && reach_condition(s, next, *now))
        return true;
    for (size_t i = 0; i < s->scheme->fields.count; i++)
        if (reach_provider(s, s->scheme->fields.items[i], condition, next, now))
            return true;
    return false;
}

static const tc_field *year_field(const tc_scheme *scheme)
{
    for (size_t i = 0; i < scheme->fields.count; i++)
        if (strcmp(scheme->fields.items[i]->name, "year") == 0 &&
            scheme->fields.items[i]->kind == KIND_CODE)
            return scheme->fields.items[i];
    return NULL;
}

/* The last step: some row of the year field gives one of the years. */
static bool reach_year(const search *s, const draft *now)
{
    const tc_field *year = year_field(s->scheme);
    const tc_span *span = year ? tc_span_of(now->form, year) : NULL;
    if (!span || !s->with_year)
        return true;
    for (size_t i = 0; i < year->rows.count; i++) {
        const tc_row *row = &year->rows.items[i];
        if (!row->sound)
            return true;
        if (tc_years_empty(tc_years_and(row->years, now->years)))
            continue;
        for (size_t k = 0; k < row->codes.count; k++) {
            draft then = *now;
            if (place_code(&then, span, row->codes.items[k]))
                return true;
        }
    }
    return false;
}

static bool reach_condition(const search *s, size_t next, draft now)
{
    if (next == s->condition_count)
        return reach_year(s, &now);
    const tc_condition *condition = &s->conditions[next];
    if (condition->kind == CONDITION_FIELD)
        return reach_field(s, condition, next + 1, &now);
    if (condition->kind == CONDITION_ATTRIBUTE)
        return reach_attribute(s, condition, next + 1, &now);
    return tc_span_of(now.form, s->scheme->check.field) && reach_condition(s, next + 1, now);
}

/* ---- rows ------------------------------------------------------------- */

static bool reach(const search *s)
{
    for (size_t i = 0; i < s->scheme->forms.count; i++) {
        draft now = { s->scheme->forms.items[i],
                      tc_years_and(s->scheme->forms.items[i]->years, s->row->years),
                      { 0 } };
        memcpy(now.classes, now.form->classes, sizeof now.classes);
        if (tc_years_empty(now.years))
            continue;
        if (s->field->kind == KIND_TOPIC) {
            if (reach_condition(s, 0, now))
                return true;
        } else if (s->row->kind != ROW_MEANING) {
            if (tc_span_of(now.form, s->field) && reach_condition(s, 0, now))
                return true;
        } else if (reach_codes(s, s->field, &s->row->codes, 0, &now)) {
            return true;
        }
    }
    return false;
}

/* Finds out what it is that no number can do, and says so. */
static void explain(tc_compilation *c, search s)
{
    tc_place place = s.row->place;
    const char *years = tc_show_years(c, s.row->years);
    s.with_year = false;
    s.condition_count = 0;
    if (!reach(&s)) {
        tc_complain(c, place, "no number can reach this row: no layout of %s shows %s; compare "
                              "the rulers and the years of the layouts",
                    years, *s.row->code_text ? s.row->code_text : s.field->name);
        return;
    }
    s.with_year = true;
    if (!reach(&s)) {
        tc_complain(c, s.row->years_word.place, "no number can reach this row: no row of [year] "
                                                "gives %s; add one, or correct the years", years);
        return;
    }
    for (size_t i = 0; i < s.row->conditions.count; i++) {
        s.conditions = &s.row->conditions.items[i];
        s.condition_count = 1;
        if (reach(&s))
            continue;
        tc_complain(c, s.conditions->word.place,
                    "no number can reach this row: %s cannot hold for it in %s; correct the "
                    "condition or the years, or add the row it asks for",
                    tc_string(c, s.conditions->word), years);
        return;
    }
    tc_complain(c, s.row->when_word.place, "no number can reach this row: its conditions never "
                                           "hold together in %s; correct them or the years",
                years);
}

static void check_rows(tc_compilation *c, const tc_scheme *scheme, const tc_field *field,
                       const tc_rows *rows)
{
    for (size_t i = 0; i < rows->count; i++) {
        const tc_row *row = &rows->items[i];
        search s = { scheme, field, row, row->conditions.items, row->conditions.count, true };
        if (row->sound && !reach(&s))
            explain(c, s);
    }
}

void tc_check_reach(tc_compilation *c, tc_scheme *scheme)
{
    for (size_t i = 0; i < scheme->fields.count; i++) {
        check_rows(c, scheme, scheme->fields.items[i], &scheme->fields.items[i]->rows);
        check_rows(c, scheme, scheme->fields.items[i], &scheme->fields.items[i]->rules);
    }
}
