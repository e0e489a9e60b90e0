/* SPDX-License-Identifier: MIT */
#include "check.h"

#include "codes.h"
#include "years.h"

/* ---- fields ----------------------------------------------------------- */

static void check_presence(tc_compilation *c, const tc_field *field)
{
    if (field->kind == KIND_TOPIC || field->widths != 0)
        return;
    tc_complain(c, field->place, "the field %s stands in no layout; put its letter %c into a "
                                 "ruler, or take the field out", field->name, field->letter);
}

static void check_table(tc_compilation *c, const tc_field *field)
{
    if (field->kind == KIND_CHECK) {
        if (!field->has_check)
            tc_complain(c, field->place, "the field %s is a check character, but nothing says "
                                         "how it is worked out; write a section [check %s]",
                        field->name, field->name);
    } else if (field->kind != KIND_FREE && field->rows.count == 0) {
        tc_complain(c, field->place, "the table of the field %s is empty; write rows under [%s]%s",
                    field->name, field->name,
                    field->kind == KIND_TOPIC ? ", or take the field out"
                                              : ", or give it the kind free");
    }
}

/* ---- limits ----------------------------------------------------------- */

static void check_row_limits(tc_compilation *c, const tc_row *row)
{
    if (row->facts.count > LIMIT_FACTS)
        tc_complain(c, row->place, "a row has at most %d facts; leave some out", LIMIT_FACTS);
    if (row->conditions.count > LIMIT_CONDITIONS)
        tc_complain(c, row->place, "a row has at most %d conditions; leave some out",
                    LIMIT_CONDITIONS);
    for (size_t i = 0; i < row->conditions.count; i++)
        if (row->conditions.items[i].codes.count > LIMIT_VALUES ||
            row->conditions.items[i].values.count > LIMIT_VALUES)
            tc_complain(c, row->conditions.items[i].word.place,
                        "a condition asks for at most %d codes or values; share them between "
                        "rows", LIMIT_VALUES);
}

static void check_limits(tc_compilation *c, const tc_scheme *scheme)
{
    if (scheme->fields.count > LIMIT_FIELDS)
        tc_complain(c, scheme->place, "a scheme has at most %d fields; leave some out",
                    LIMIT_FIELDS);
    if (scheme->facts.count > LIMIT_FACTS)
        tc_complain(c, scheme->facts_word.place, "a scheme has at most %d facts; leave some out",
                    LIMIT_FACTS);
    for (size_t i = 0; i < scheme->fields.count; i++) {
        const tc_field *field = scheme->fields.items[i];
        for (size_t k = 0; k < field->rows.count; k++)
            check_row_limits(c, &field->rows.items[k]);
        for (size_t k = 0; k < field->rules.count; k++)
            check_row_limits(c, &field->rules.items[k]);
    }
}

void tc_check_scheme(tc_compilation *c, tc_scheme *scheme)
{
    for (size_t i = 0; i < scheme->fields.count; i++) {
        const tc_field *field = scheme->fields.items[i];
        if (field->sound && scheme->layouts_sound)
            check_presence(c, field);
        if (field->sound)
            check_table(c, field);
    }
    check_limits(c, scheme);
    if (!scheme->layouts_sound) /* codes and conditions are not known */
        return;
    tc_check_reach(c, scheme);
    tc_check_contradictions(c, scheme);
    tc_order_fields(c, scheme);
}
