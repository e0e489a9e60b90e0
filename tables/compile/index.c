/* SPDX-License-Identifier: MIT */
#include "index.h"

#include <stdlib.h>

/* ---- layouts ---------------------------------------------------------- */

void tc_sort_forms(tc_compilation *c, tc_forms *forms)
{
    for (unsigned length = 0; length <= MAX_POSITIONS; length++) {
        for (size_t i = 0; i < c->schemes.count; i++) {
            const tc_scheme *scheme = c->schemes.items[i];
            for (size_t k = 0; k < scheme->forms.count; k++)
                if (scheme->forms.items[k]->length == length)
                    *TC_ADD(&c->memory, forms) =
                        (tc_numbered_form){ scheme->forms.items[k], (uint16_t)i };
        }
    }
}

/* Is the character read as one the class allows? */
static bool is_misread(const tc_compilation *c, unsigned character, uint64_t class)
{
    for (size_t i = 0; i < c->misreads.count; i++) {
        const tc_misread *m = &c->misreads.items[i];
        if (m->use == MISREAD_READ && m->typed == character && class >> m->meant & 1)
            return true;
    }
    return false;
}

static void set_bit(unsigned char *masks, size_t mask, size_t words, size_t bit)
{
    masks[(mask * words + bit / 64) * 8 + bit % 64 / 8] |= (unsigned char)(1u << bit % 8);
}

/* Marks one layout, the one with this bit, in the sets of its length. */
static void mark_form(const tc_compilation *c, unsigned char *masks, const tc_form *form,
                      size_t words, size_t bit)
{
    for (size_t p = 0; p < form->length; p++) {
        for (unsigned character = 0; character < ALPHABET_SIZE; character++) {
            size_t exact = p * CHARACTER_COUNT + character;
            size_t misread = (form->length + p) * CHARACTER_COUNT + character;
            if (form->classes[p] >> character & 1)
                set_bit(masks, exact, words, bit);
            else if (is_misread(c, character, form->classes[p]))
                set_bit(masks, misread, words, bit);
        }
    }
}

void tc_index_layouts(tc_output *out, const tc_forms *forms)
{
    unsigned char *record;
    unsigned char *masks;
    size_t first = 0;
    for (size_t length = 0; length <= MAX_POSITIONS; length++) {
        size_t count = 0;
        while (first + count < forms->count && forms->items[first + count].form->length == length)
            count++;
        size_t words = (count + 63) / 64;
        uint32_t mask = tc_append(out, SECTION_MASKS,
                                  (uint32_t)(2 * length * CHARACTER_COUNT * words), &masks);
        for (size_t i = 0; i < count; i++)
            mark_form(out->c, masks, forms->items[first + i].form, words, i);
        tc_append(out, SECTION_LENGTHS, 1, &record);
        tc_put32(record + LENGTH_LAYOUT, first);
        tc_put16(record + LENGTH_COUNT, count);
        tc_put16(record + LENGTH_WORDS, words);
        tc_put32(record + LENGTH_MASK, mask);
        first += count;
    }
}

/* ---- rows ------------------------------------------------------------- */

static int compare_filed(const void *left, const void *right)
{
    const tc_filed_row *a = left;
    const tc_filed_row *b = right;
    if (a->field != b->field)
        return a->field < b->field ? -1 : 1;
    if (a->code != b->code)
        return a->code < b->code ? -1 : 1;
    return a->row < b->row ? -1 : a->row > b->row;
}

static size_t group_size(const tc_filed_rows *filed, size_t first)
{
    size_t count = 1;
    while (first + count < filed->count &&
           filed->items[first + count].field == filed->items[first].field &&
           filed->items[first + count].code == filed->items[first].code)
        count++;
    return count;
}

static uint32_t share_members(tc_output *out, const tc_filed_row *filed, size_t count)
{
    tc_numbers members = { NULL, 0, 0 };
    for (size_t i = 0; i < count; i++)
        *TC_ADD(&out->c->memory, &members) = filed[i].row;
    return tc_share_numbers(out, SECTION_MEMBERS, &members);
}

static void put_group(tc_output *out, unsigned char *groups, uint32_t slots,
                      const tc_filed_row *filed, size_t count)
{
    uint32_t slot = (uint32_t)((uint64_t)group_hash(filed->field, filed->code) * slots >> 32);
    unsigned char *group = groups + (size_t)slot * 16;
    while (group[GROUP_COUNT] || group[GROUP_COUNT + 1]) {
        slot = slot + 1 == slots ? 0 : slot + 1;
        group = groups + (size_t)slot * 16;
    }
    tc_put64(group + GROUP_CODE, filed->code);
    tc_put32(group + GROUP_MEMBER, share_members(out, filed, count));
    tc_put16(group + GROUP_FIELD, filed->field);
    tc_put16(group + GROUP_COUNT, count);
}

void tc_index_rows(tc_output *out, tc_filed_rows *filed)
{
    unsigned char *groups;
    uint32_t count = 0;
    if (filed->count == 0)
        return;
    qsort(filed->items, filed->count, sizeof *filed->items, compare_filed);
    for (size_t i = 0; i < filed->count; i += group_size(filed, i))
        count++;
    uint32_t slots = count + count / 8 + 1;
    tc_append(out, SECTION_GROUPS, slots, &groups);
    for (size_t i = 0; i < filed->count; i += group_size(filed, i))
        put_group(out, groups, slots, &filed->items[i], group_size(filed, i));
}
