/* SPDX-License-Identifier: MIT
 *
 * Rows that stand against each other: the same code, year and condition twice.
 */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "codes.h"
#include "conditions.h"
#include "resolve.h"
#include "years.h"

static bool same_words(tc_word a, tc_word b)
{
    return a.length == b.length && memcmp(a.text, b.text, a.length) == 0;
}

static bool same_meaning(const tc_row *a, const tc_row *b)
{
    if (!same_words(a->words, b->words) || a->facts.count != b->facts.count)
        return false;
    for (size_t i = 0; i < a->facts.count; i++)
        if (!tc_same_fact(&a->facts.items[i], &b->facts.items[i]))
            return false;
    return true;
}

static bool same_key(const tc_row *a, const tc_row *b)
{
    return strcmp(a->code_text, b->code_text) == 0 && strcmp(a->tag, b->tag) == 0 &&
           tc_first_year(a->years) == tc_first_year(b->years);
}

static const char *place_of(tc_compilation *c, const tc_row *here, const tc_row *other)
{
    if (here->place.file == other->place.file)
        return tc_print(c, "line %u", (unsigned)other->place.line);
    return tc_print(c, "%s, line %u", c->files.items[other->place.file],
                    (unsigned)other->place.line);
}

static void refuse_rules(tc_compilation *c, const tc_row *row, const char *place)
{
    tc_complain(c, row->place, "the rule of %s holds in some of these years already; write each "
                               "rule once", place);
}

/* Both rows share a code, a year and their conditions. */
static void compare_meanings(tc_compilation *c, const tc_row *earlier, tc_row *row,
                             tc_years shared)
{
    const char *place = place_of(c, row, earlier);
    bool marked = (earlier->marks & row->marks & (MARK_DISPUTED | MARK_EITHER)) != 0;
    row->reported = true;
    if (row->kind != ROW_MEANING)
        refuse_rules(c, row, place);
    else if (same_meaning(earlier, row))
        tc_complain(c, row->place, "this is the same row as %s; write it once, with all its "
                                   "years and sources", place);
    else if (!marked)
        tc_complain(c, row->place, "%s gives the code another meaning in %s; write different "
                                   "years or conditions, or mark both rows disputed (sources "
                                   "differ) or either (both are true)",
                    place, tc_show_years(c, shared));
    else if (same_key(earlier, row))
        tc_complain(c, row->place, "this row and %s cannot be told apart by code, first year and "
                                   "condition; write tag=... into the facts of one of them",
                    place);
    else
        row->reported = false;
}

static void compare_rows(tc_compilation *c, tc_row *a, tc_row *b)
{
    tc_years shared = tc_years_and(a->years, b->years);
    bool b_later = a->place.file < b->place.file ||
                   (a->place.file == b->place.file && a->place.line < b->place.line);
    tc_row *later = b_later ? b : a;
    if (!a->sound || !b->sound || later->reported || tc_years_empty(shared) ||
        !tc_same_conditions(a, b))
        return;
    compare_meanings(c, b_later ? a : b, later, shared);
}

/* ---- rows that share a code ------------------------------------------- */

typedef struct claim {
    uint64_t code;
    size_t row;
} claim;

static int compare_claims(const void *left, const void *right)
{
    const claim *a = left;
    const claim *b = right;
    if (a->code != b->code)
        return a->code < b->code ? -1 : 1;
    return a->row < b->row ? -1 : a->row > b->row;
}

static void compare_coded(tc_compilation *c, tc_field *field)
{
    size_t count = 0;
    for (size_t i = 0; i < field->rows.count; i++)
        count += field->rows.items[i].codes.count;
    claim *claims = tc_allocate(&c->memory, (count + 1) * sizeof *claims);
    count = 0;
    for (size_t i = 0; i < field->rows.count; i++)
        for (size_t k = 0; k < field->rows.items[i].codes.count; k++)
            claims[count++] = (claim){ field->rows.items[i].codes.items[k], i };
    qsort(claims, count, sizeof *claims, compare_claims);
    for (size_t i = 0; i < count; i++) {
        size_t k = i + 1;
        for (; k < count && claims[k].code == claims[i].code; k++)
            compare_rows(c, &field->rows.items[claims[i].row], &field->rows.items[claims[k].row]);
        if (k - i == LIMIT_GROUP + 1)
            tc_complain(c, field->rows.items[claims[k - 1].row].place,
                        "the code has more than %d rows; join rows, or share the field between "
                        "two schemes", LIMIT_GROUP);
    }
}

static bool runs_overlap(const tc_codes *a, const tc_codes *b)
{
    for (size_t i = 0; i + 1 < a->count; i += 2)
        for (size_t k = 0; k + 1 < b->count; k += 2)
            if (a->items[i] <= b->items[k + 1] && b->items[k] <= a->items[i + 1])
                return true;
    return false;
}

static bool share_code(const tc_field *field, const tc_row *a, const tc_row *b)
{
    if (field->kind == KIND_RUN)
        return runs_overlap(&a->codes, &b->codes);
    return strcmp(a->code_text, b->code_text) == 0;
}

static void compare_pairs(tc_compilation *c, const tc_field *field, tc_rows *rows)
{
    for (size_t i = 0; i < rows->count; i++)
        for (size_t k = i + 1; k < rows->count; k++)
            if (share_code(field, &rows->items[i], &rows->items[k]) ||
                rows->items[i].kind != ROW_MEANING)
                compare_rows(c, &rows->items[i], &rows->items[k]);
}

void tc_check_contradictions(tc_compilation *c, tc_scheme *scheme)
{
    for (size_t i = 0; i < scheme->fields.count; i++) {
        tc_field *field = scheme->fields.items[i];
        if (field->kind == KIND_RUN || field->kind == KIND_TOPIC)
            compare_pairs(c, field, &field->rows);
        else
            compare_coded(c, field);
        compare_pairs(c, field, &field->rules);
    }
}
