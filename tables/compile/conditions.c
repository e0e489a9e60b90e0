/* SPDX-License-Identifier: MIT */
#include "conditions.h"

#include <stdlib.h>
#include <string.h>

#include "codes.h"
#include "resolve.h"
#include "vocabulary.h"

/* ---- questions about conditions --------------------------------------- */

bool tc_states(const tc_facts *facts, const tc_condition *condition)
{
    for (size_t i = 0; i < facts->count; i++)
        for (size_t k = 0; k < condition->values.count; k++)
            if (tc_same_fact(&facts->items[i], &condition->values.items[k]))
                return true;
    return false;
}

static bool has_attribute(const tc_facts *facts, uint16_t attribute)
{
    for (size_t i = 0; i < facts->count; i++)
        if (facts->items[i].attribute == attribute)
            return true;
    return false;
}

bool tc_provides(const tc_field *field, uint16_t attribute)
{
    if (field->kind == KIND_TOPIC)
        return false;
    for (size_t i = 0; i < field->rows.count; i++)
        if (has_attribute(&field->rows.items[i].facts, attribute))
            return true;
    return false;
}

static bool same_codes(const tc_codes *a, const tc_codes *b)
{
    return a->count == b->count &&
           (a->count == 0 || memcmp(a->items, b->items, a->count * sizeof *a->items) == 0);
}

static bool same_condition(const tc_condition *a, const tc_condition *b)
{
    if (a->kind != b->kind)
        return false;
    if (a->kind == CONDITION_FIELD)
        return a->field == b->field && same_codes(&a->codes, &b->codes);
    if (a->kind == CONDITION_CHECK)
        return a->states.count == b->states.count && a->states.items[0] == b->states.items[0];
    if (a->attribute != b->attribute || a->values.count != b->values.count)
        return false;
    for (size_t i = 0; i < a->values.count; i++)
        if (!tc_same_fact(&a->values.items[i], &b->values.items[i]))
            return false;
    return true;
}

/* Conditions and their values stand in a fixed order. */
bool tc_same_conditions(const tc_row *a, const tc_row *b)
{
    if (a->conditions.count != b->conditions.count)
        return false;
    for (size_t i = 0; i < a->conditions.count; i++)
        if (!same_condition(&a->conditions.items[i], &b->conditions.items[i]))
            return false;
    return true;
}

/* ---- reading ---------------------------------------------------------- */

typedef struct reader {
    tc_compilation *c;
    const tc_scheme *scheme;
    const tc_field *field; /* whose row it is */
    const tc_row *row;
} reader;

static bool read_states(reader *r, tc_word values, tc_condition *condition)
{
    static const char *const states[CHECK_STATE_COUNT] = { "fits", "fails" };
    bool asked[CHECK_STATE_COUNT] = { false, false };
    tc_word part;
    while (tc_part(&values, '|', &part)) {
        unsigned state = 0;
        while (state < CHECK_STATE_COUNT && !tc_is(part, states[state]))
            state++;
        if (state == CHECK_STATE_COUNT)
            return false;
        asked[state] = true;
    }
    for (uint32_t state = 0; state < CHECK_STATE_COUNT; state++)
        if (asked[state])
            *TC_ADD(&r->c->memory, &condition->states) = state;
    condition->kind = CONDITION_CHECK;
    return true;
}

/* The condition must be one of what the rows state, or it never holds. */
static bool is_stated(const reader *r, tc_fact *value)
{
    tc_condition wanted = { .values = { value, 1, 1 } };
    if (tc_states(&r->scheme->facts, &wanted))
        return true;
    for (size_t i = 0; i < r->scheme->fields.count; i++) {
        const tc_field *field = r->scheme->fields.items[i];
        if (field == r->field || field->kind == KIND_TOPIC)
            continue;
        for (size_t k = 0; k < field->rows.count; k++)
            if (tc_states(&field->rows.items[k].facts, &wanted))
                return true;
    }
    return false;
}

static const char *show_value(tc_compilation *c, const tc_fact *fact)
{
    if (*fact->text)
        return fact->text;
    uint32_t whole = fact->thousandths / 1000;
    uint32_t rest = fact->thousandths % 1000;
    if (rest == 0)
        return tc_print(c, "%u", (unsigned)whole);
    return tc_print(c, "%u.%03u", (unsigned)whole, (unsigned)rest);
}

static bool is_offered(const tc_choices *choices, const char *text)
{
    size_t kept = sizeof choices->nearest / sizeof choices->nearest[0];
    for (size_t i = 0; i < choices->count && i < kept; i++)
        if (strcmp(choices->nearest[i].name, text) == 0)
            return true;
    return false;
}

static void offer_stated(const reader *r, uint16_t attribute, tc_choices *choices)
{
    for (size_t i = 0; i < r->scheme->fields.count; i++) {
        const tc_field *field = r->scheme->fields.items[i];
        if (field == r->field || field->kind == KIND_TOPIC)
            continue;
        for (size_t k = 0; k < field->rows.count; k++) {
            const tc_facts *facts = &field->rows.items[k].facts;
            for (size_t f = 0; f < facts->count; f++) {
                const char *text = show_value(r->c, &facts->items[f]);
                if (facts->items[f].attribute == attribute && !is_offered(choices, text))
                    tc_offer(choices, text);
            }
        }
    }
}

static bool refuse_unstated(reader *r, tc_word value, uint16_t attribute)
{
    const char *name = r->c->attributes.items[attribute].name;
    tc_choices choices = { .wanted = tc_unquoted(r->c, value) };
    offer_stated(r, attribute, &choices);
    if (choices.count > 0)
        tc_complain(r->c, value.place, "no row of another field states %s=%s, so this never "
                                       "holds; write one of: %s",
                    name, choices.wanted, tc_offered(r->c, &choices));
    else
        tc_complain(r->c, value.place, "no row of another field states %s, so this never holds; "
                                       "state it in the facts of one, or ask for a field", name);
    return false;
}

static int compare_values(const void *left, const void *right)
{
    const tc_fact *a = left;
    const tc_fact *b = right;
    if (a->thousandths != b->thousandths)
        return a->thousandths < b->thousandths ? -1 : 1;
    return strcmp(a->text, b->text);
}

static void sort_values(tc_facts *values)
{
    size_t kept = 0;
    if (values->count > 0)
        qsort(values->items, values->count, sizeof *values->items, compare_values);
    for (size_t i = 0; i < values->count; i++)
        if (i == 0 || !tc_same_fact(&values->items[i], &values->items[kept - 1]))
            values->items[kept++] = values->items[i];
    values->count = kept;
}

static bool read_attribute(reader *r, tc_word name, tc_word values, tc_condition *condition)
{
    tc_word part;
    condition->kind = CONDITION_ATTRIBUTE;
    condition->attribute = (uint16_t)tc_find_attribute(r->c, name);
    while (tc_part(&values, '|', &part)) {
        tc_fact value;
        if (!tc_read_value(r->c, condition->attribute, part, &value))
            return false;
        if (!is_stated(r, &value))
            return refuse_unstated(r, part, condition->attribute);
        *TC_ADD(&r->c->memory, &condition->values) = value;
    }
    sort_values(&condition->values);
    return true;
}

static bool refuse_name(reader *r, tc_word name)
{
    tc_choices choices = { .wanted = tc_string(r->c, name) };
    for (size_t i = 0; i < r->scheme->fields.count; i++)
        if (r->scheme->fields.items[i]->kind != KIND_TOPIC)
            tc_offer(&choices, r->scheme->fields.items[i]->name);
    for (size_t i = 0; i < r->c->attributes.count; i++)
        tc_offer(&choices, r->c->attributes.items[i].name);
    tc_complain(r->c, name.place, "there is no field or attribute \"%s\"; write one of: %s",
                choices.wanted, tc_offered(r->c, &choices));
    return false;
}

static bool some_field_provides(const reader *r, tc_word name)
{
    int attribute = tc_find_attribute(r->c, name);
    if (attribute < 0)
        return false;
    if (has_attribute(&r->scheme->facts, (uint16_t)attribute))
        return true;
    for (size_t i = 0; i < r->scheme->fields.count; i++)
        if (tc_provides(r->scheme->fields.items[i], (uint16_t)attribute))
            return true;
    return false;
}

/* A name means the field when the values are codes of it, else the attribute. */
static bool read_named(reader *r, tc_word name, tc_word values, tc_condition *condition)
{
    tc_problem problem;
    tc_field *field = tc_find_field(r->scheme, name);
    if (field && field->widths == 0)
        field = NULL;
    condition->kind = CONDITION_FIELD;
    condition->field = field;
    if (field && tc_read_codes(r->c, r->scheme, field, values, &condition->codes, &problem))
        return true;
    if (some_field_provides(r, name) || (!field && tc_find_attribute(r->c, name) >= 0))
        return read_attribute(r, name, values, condition);
    if (!field)
        return refuse_name(r, name);
    tc_complain(r->c, problem.place, "%s", problem.text);
    return false;
}

static bool read_condition(reader *r, tc_word word, tc_condition *condition)
{
    static const char forced[] = "is.";
    size_t length = sizeof forced - 1;
    tc_word name;
    tc_word values;
    condition->word = word;
    if (!tc_cut(word, '=', &name, &values)) {
        tc_complain(r->c, word.place, "\"%s\" is no condition; write name=value or "
                                      "name=value|value, joined by commas, or -",
                    tc_string(r->c, word));
        return false;
    }
    if (tc_is(name, "check") && read_states(r, values, condition)) {
        if (!r->scheme->check.field)
            tc_complain(r->c, word.place, "this scheme has no check character; leave the "
                                          "condition out");
        return r->scheme->check.field;
    }
    if (name.length <= length || memcmp(name.text, forced, length) != 0)
        return read_named(r, name, values, condition);
    name = tc_slice(name, length, name.length - length);
    if (tc_find_attribute(r->c, name) < 0)
        return refuse_name(r, name);
    return read_attribute(r, name, values, condition);
}

/* ---- order ------------------------------------------------------------ */

static int field_place(const tc_scheme *scheme, const tc_field *field)
{
    for (size_t i = 0; i < scheme->fields.count; i++)
        if (scheme->fields.items[i] == field)
            return (int)i;
    return -1;
}

/* Where the condition stands among those of its row: fields as the scheme lists
 * them, then attributes, then the check. */
static int order_of(const tc_scheme *scheme, const tc_condition *condition)
{
    if (condition->kind == CONDITION_FIELD)
        return field_place(scheme, condition->field);
    if (condition->kind == CONDITION_ATTRIBUTE)
        return (int)scheme->fields.count + condition->attribute;
    return (int)scheme->fields.count + MAX_ATTRIBUTES;
}

/* Puts the condition in its place; false when the row asks for the same twice. */
static bool insert_condition(reader *r, tc_row *row, const tc_condition *condition)
{
    int order = order_of(r->scheme, condition);
    size_t at = row->conditions.count;
    while (at > 0 && order_of(r->scheme, &row->conditions.items[at - 1]) > order)
        at--;
    if (at > 0 && order_of(r->scheme, &row->conditions.items[at - 1]) == order) {
        tc_complain(r->c, condition->word.place, "this row asks for the same twice; write all "
                                                 "values in one condition, joined by |");
        return false;
    }
    TC_ADD(&r->c->memory, &row->conditions);
    for (size_t i = row->conditions.count - 1; i > at; i--)
        row->conditions.items[i] = row->conditions.items[i - 1];
    row->conditions.items[at] = *condition;
    return true;
}

static bool is_own_field(reader *r, const tc_condition *condition)
{
    if (r->row->kind != ROW_MEANING || condition->kind != CONDITION_FIELD ||
        condition->field != r->field)
        return false;
    tc_complain(r->c, condition->word.place, "a row cannot depend on its own field; leave the "
                                             "condition out, its code says it");
    return true;
}

static void resolve_row(reader *r, tc_row *row)
{
    tc_word rest = row->when_word;
    tc_word part;
    r->row = row;
    if (tc_is_none(rest))
        return;
    while (tc_part(&rest, ',', &part)) {
        tc_condition condition = { .kind = CONDITION_FIELD };
        if (!read_condition(r, part, &condition) || is_own_field(r, &condition) ||
            !insert_condition(r, row, &condition))
            row->sound = false;
    }
}

void tc_resolve_conditions(tc_compilation *c, tc_scheme *scheme)
{
    for (size_t i = 0; i < scheme->fields.count; i++) {
        tc_field *field = scheme->fields.items[i];
        reader r = { c, scheme, field, NULL };
        for (size_t k = 0; k < field->rows.count; k++)
            resolve_row(&r, &field->rows.items[k]);
        for (size_t k = 0; k < field->rules.count; k++)
            resolve_row(&r, &field->rules.items[k]);
    }
}
