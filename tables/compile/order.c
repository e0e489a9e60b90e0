/* SPDX-License-Identifier: MIT
 *
 * The order of a scheme's fields: who provides an attribute stands before those
 * whose rows ask for it. Codes need no order, for they are read off the number.
 */
#include "check.h"
#include "conditions.h"

/* The condition by which the row waits for a field not yet in order, or NULL. */
static const tc_condition *waiting_row(const tc_scheme *scheme, const tc_field *field,
                                       const tc_row *row, const tc_field **provider)
{
    for (size_t i = 0; i < row->conditions.count; i++) {
        const tc_condition *condition = &row->conditions.items[i];
        if (condition->kind != CONDITION_ATTRIBUTE)
            continue;
        for (size_t k = 0; k < scheme->fields.count; k++) {
            *provider = scheme->fields.items[k];
            if (*provider != field && !(*provider)->ordered &&
                tc_provides(*provider, condition->attribute))
                return condition;
        }
    }
    return NULL;
}

static const tc_condition *waiting(const tc_scheme *scheme, const tc_field *field,
                                   const tc_field **provider)
{
    const tc_condition *found = NULL;
    for (size_t i = 0; i < field->rows.count && !found; i++)
        found = waiting_row(scheme, field, &field->rows.items[i], provider);
    for (size_t i = 0; i < field->rules.count && !found; i++)
        found = waiting_row(scheme, field, &field->rules.items[i], provider);
    return found;
}

/* Follows the waiting fields until one comes again, and names the circle. */
static void refuse_circle(tc_compilation *c, const tc_scheme *scheme, const tc_field *start)
{
    const tc_field *provider = start;
    for (size_t i = 0; i < scheme->fields.count; i++)
        waiting(scheme, provider, &provider);
    const tc_field *first = provider;
    const tc_condition *condition = waiting(scheme, first, &provider);
    const char *circle = first->name;
    tc_place place = condition->word.place;
    for (;;) {
        circle = tc_print(c, "%s waits for %s", circle, provider->name);
        if (provider == first)
            break;
        circle = tc_print(c, "%s, %s", circle, provider->name);
        waiting(scheme, provider, &provider);
    }
    tc_complain(c, place, "the conditions go round in a circle: %s; ask for the code of a field "
                          "instead of an attribute in one of them", circle);
}

static tc_field *next_field(const tc_scheme *scheme)
{
    const tc_field *provider;
    for (size_t i = 0; i < scheme->fields.count; i++)
        if (!scheme->fields.items[i]->ordered &&
            !waiting(scheme, scheme->fields.items[i], &provider))
            return scheme->fields.items[i];
    return NULL;
}

static const tc_field *first_left(const tc_scheme *scheme)
{
    for (size_t i = 0; i < scheme->fields.count; i++)
        if (!scheme->fields.items[i]->ordered)
            return scheme->fields.items[i];
    return NULL;
}

void tc_order_fields(tc_compilation *c, tc_scheme *scheme)
{
    size_t count = scheme->fields.count;
    tc_field **ordered = tc_allocate(&c->memory, (count + 1) * sizeof *ordered);
    for (size_t i = 0; i < count; i++) {
        tc_field *next = next_field(scheme);
        if (!next) {
            refuse_circle(c, scheme, first_left(scheme));
            return;
        }
        next->ordered = true;
        ordered[i] = next;
    }
    scheme->fields.items = ordered;
    scheme->fields.capacity = count + 1;
}
