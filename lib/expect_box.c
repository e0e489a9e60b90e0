/* SPDX-License-Identifier: MIT
 *
 * Boxes: a set of codes as few sets of characters as tell it exactly. "27" and
 * "37" are [23]7; "27" and "36" take two boxes, since [23][67] would hold "26".
 */
#include "expect.h"

#define MAX_SPLIT 256u /* codes that are split exactly; more get one box around them */

static unsigned character_of(uint64_t code, unsigned place, unsigned width)
{
    return (unsigned)(code >> (CODE_BITS * (width - 1 - place)) & 63) - 1u;
}

static plwi_box box_of_code(uint64_t code, unsigned width)
{
    plwi_box box = { { 0 } };
    for (unsigned i = 0; i < width; i++)
        box.set[i] = UINT64_C(1) << character_of(code, i, width);
    return box;
}

/* 1 when they have the same characters everywhere but at one place. */
static int differ_only_at(const plwi_box *a, const plwi_box *b, unsigned place, unsigned width)
{
    for (unsigned i = 0; i < width; i++)
        if (i != place && a->set[i] != b->set[i])
            return 0;
    return 1;
}

static void join_at(plwi_boxes *boxes, uint32_t first, unsigned place, unsigned width)
{
    for (uint32_t a = first; a < boxes->count; a++)
        for (uint32_t b = boxes->count; b-- > a + 1;)
            if (differ_only_at(&boxes->item[a], &boxes->item[b], place, width)) {
                boxes->item[a].set[place] |= boxes->item[b].set[place];
                boxes->item[b] = boxes->item[--boxes->count];
            }
}

static void join(plwi_boxes *boxes, uint32_t first, unsigned width)
{
    for (unsigned place = width; place-- > 0;)
        join_at(boxes, first, place, width);
}

/* The caller sees to it that there is room. */
static void add(plwi_boxes *boxes, const plwi_box *box)
{
    boxes->item[boxes->count++] = *box;
}

static int has_room(const plwi_boxes *boxes, uint32_t count)
{
    return count < MAX_BOXES - boxes->count;
}

static void add_cover(plwi_boxes *boxes, const uint64_t *codes, uint32_t count, unsigned width)
{
    plwi_box cover = { { 0 } };
    for (uint32_t i = 0; i < count; i++)
        for (unsigned place = 0; place < width; place++)
            cover.set[place] |= UINT64_C(1) << character_of(codes[i], place, width);
    add(boxes, &cover);
}

void plwi_boxes_of_codes(plwi_boxes *boxes, const uint64_t *codes, uint32_t count,
                         unsigned width)
{
    uint32_t first = boxes->count;
    if (width == 1 || count > MAX_SPLIT || !has_room(boxes, count)) {
        add_cover(boxes, codes, count, width);
        return;
    }
    for (uint32_t i = 0; i < count; i++) {
        plwi_box box = box_of_code(codes[i], width);
        add(boxes, &box);
    }
    join(boxes, first, width);
}

/* Characters from one to another. */
static uint64_t characters(unsigned from, unsigned to)
{
    return (UINT64_C(2) << to) - (UINT64_C(1) << from);
}

void plwi_boxes_of_run(plwi_boxes *boxes, uint64_t low, uint64_t high, unsigned width)
{
    plwi_box box = { { 0 } };
    int open = 0;
    for (unsigned i = 0; i < width; i++) {
        unsigned from = character_of(low, i, width), to = character_of(high, i, width);
        box.set[i] = open ? ALL_CHARACTERS : characters(from, to);
        open |= from != to;
    }
    add(boxes, &box);
}

typedef struct surround {
    plwi_boxes *boxes;
    const plwi_box *around;
    unsigned width;
    int full;
} surround;

/* What is left at a place and behind it once the characters before it are those
 * of the codes, which share them. */
static void surround_from(surround *s, plwi_box box, unsigned place, const uint64_t *codes,
                          uint32_t count)
{
    uint64_t taken = 0;
    for (uint32_t i = 0; i < count; i++)
        taken |= UINT64_C(1) << character_of(codes[i], place, s->width);
    box.set[place] = s->around->set[place] & ~taken;
    if (!has_room(s->boxes, 1))
        s->full = 1;
    else if (box.set[place])
        add(s->boxes, &box);
    for (uint32_t i = 0; i < count && place + 1 < s->width && !s->full;) {
        unsigned bit = character_of(codes[i], place, s->width);
        uint32_t end = i;
        while (end < count && character_of(codes[end], place, s->width) == bit)
            end++;
        box.set[place] = s->around->set[place] & UINT64_C(1) << bit;
        if (box.set[place])
            surround_from(s, box, place + 1, codes + i, end - i);
        i = end;
    }
}

void plwi_boxes_around(plwi_boxes *boxes, const plwi_box *around, const uint64_t *codes,
                       uint32_t count, unsigned width)
{
    uint32_t first = boxes->count;
    surround s = { boxes, around, width, 0 };
    surround_from(&s, *around, 0, codes, count);
    if (s.full) {
        boxes->count = first;
        add(boxes, around);
    }
    join(boxes, first, width);
}
