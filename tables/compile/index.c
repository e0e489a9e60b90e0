/* SPDX-License-Identifier: MIT */
#include "index.h"

#include <stdlib.h>
#include <string.h>

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

/* The layouts of one length, from first on. */
typedef struct tc_length {
    const tc_numbered_form *forms;
    size_t count;
    size_t words; /* of a set of them */
    size_t mask;  /* the first in the image */
    size_t masks;
} tc_length;

/* The set of layouts that allow a character at a position. */
static void fill_mask(const tc_length *l, size_t position, unsigned character,
                      unsigned char *mask)
{
    memset(mask, 0, l->words * 8);
    for (size_t i = 0; i < l->count; i++)
        if (l->forms[i].form->classes[position] >> character & 1)
            mask[i / 8] |= (unsigned char)(1u << i % 8);
}

/* The number of a mask among those of the length, which has each of them once. */
static size_t number_of_mask(tc_output *out, tc_length *l, const unsigned char *mask)
{
    size_t size = l->words * 8;
    unsigned char *added;
    for (size_t i = 0; i < l->masks; i++) {
        const unsigned char *first = out->sections[SECTION_MASKS].bytes.items + l->mask * 8;
        if (memcmp(first + i * size, mask, size) == 0)
            return i;
    }
    tc_append(out, SECTION_MASKS, (uint32_t)l->words, &added);
    memcpy(added, mask, size);
    return l->masks++;
}

static void emit_choices(tc_output *out, tc_length *l, size_t length)
{
    unsigned char *choice;
    unsigned char *mask = tc_allocate(&out->c->memory, l->words * 8);
    for (size_t position = 0; position < length; position++)
        for (unsigned character = 0; character < CHARACTER_COUNT; character++) {
            fill_mask(l, position, character, mask);
            tc_append(out, SECTION_CHOICES, 1, &choice);
            tc_put16(choice, number_of_mask(out, l, mask));
        }
}

void tc_index_layouts(tc_output *out, const tc_forms *forms)
{
    unsigned char *record;
    size_t first = 0;
    for (size_t length = 0; length <= MAX_POSITIONS; length++) {
        tc_length l = { forms->items + first, 0, 0, out->sections[SECTION_MASKS].count, 0 };
        uint32_t choice = out->sections[SECTION_CHOICES].count;
        while (first + l.count < forms->count && l.forms[l.count].form->length == length)
            l.count++;
        l.words = (l.count + 63) / 64;
        if (l.count > 0)
            emit_choices(out, &l, length);
        tc_append(out, SECTION_LENGTHS, 1, &record);
        tc_put32(record + LENGTH_LAYOUT, first);
        tc_put16(record + LENGTH_COUNT, l.count);
        tc_put16(record + LENGTH_WORDS, l.words);
        tc_put32(record + LENGTH_CHOICE, choice);
        tc_put32(record + LENGTH_MASK, l.mask);
        tc_put16(record + LENGTH_MASK_COUNT, l.masks);
        first += l.count;
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
    unsigned char *members = tc_allocate(&out->c->memory, count * 2);
    for (size_t i = 0; i < count; i++)
        tc_put16(members + i * 2, filed[i].row);
    return tc_share(out, SECTION_MEMBERS, members, (uint32_t)count);
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
    uint32_t slots = count + count / 4 + 1;
    tc_append(out, SECTION_GROUPS, slots, &groups);
    for (size_t i = 0; i < filed->count; i += group_size(filed, i))
        put_group(out, groups, slots, &filed->items[i], group_size(filed, i));
}
