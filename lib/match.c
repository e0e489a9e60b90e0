/* SPDX-License-Identifier: MIT
 *
 * Step two: which layouts a number can have. For each position and character
 * the image holds the set of layouts that allow it there, one bit a layout, so
 * a number's layouts are the AND over its positions, 64 layouts at a time, and
 * the cost hardly grows with the tables.
 *
 * Where nothing fits as it is, the same walk is made with levels: level k holds
 * the layouts that fit but for k characters.
 */
#include "internal.h"

#define LEVELS (MAX_STRAYS + 1)

typedef struct matcher {
    const plwi_number *number;
    uint32_t length; /* of the layouts; the number may be shorter */
    const unsigned char *masks;
    uint32_t words;
} matcher;

/* The layouts (one word of them) that allow a character of the set there;
 * kind 0: as it is, kind 1: read as another. */
static uint64_t mask_of(const matcher *m, unsigned kind, uint32_t position, uint64_t set,
                        uint32_t word)
{
    const unsigned char *at =
        m->masks + 8 * (((size_t)kind * m->length + position) * CHARACTER_COUNT * m->words +
                        word);
    size_t step = 8 * (size_t)m->words;
    if (plwi_is_single(set))
        return plwi_u64(at + step * plwi_lowest_bit(set));
    uint64_t mask = 0;
    for (unsigned c = 0; c < CHARACTER_COUNT; c++)
        if (set >> c & 1)
            mask |= plwi_u64(at + step * c);
    return mask;
}

static uint64_t all_of(uint32_t count, uint32_t word)
{
    uint32_t left = count - 64 * word;
    return left >= 64 ? UINT64_MAX : (UINT64_C(1) << left) - 1;
}

/* Walks one word of layouts; levels[k] ends as those with exactly k characters
 * that are misread (any = 0) or that do not fit (any = 1). */
static void walk(const matcher *m, uint32_t count, uint32_t word, int any,
                 uint64_t levels[LEVELS])
{
    levels[0] = all_of(count, word);
    for (unsigned k = 1; k < LEVELS; k++)
        levels[k] = 0;
    for (uint32_t p = 0; p < m->number->count; p++) {
        uint64_t set = m->number->cell[p].set;
        uint64_t fits = mask_of(m, 0, p, set, word);
        uint64_t other = any ? ~fits : mask_of(m, 1, p, set, word) & ~fits;
        for (unsigned k = LEVELS - 1; k > 0; k--)
            levels[k] = (levels[k] & fits) | (levels[k - 1] & other);
        levels[0] &= fits;
    }
}

static uint64_t walk_exact(const matcher *m, uint32_t count, uint32_t word)
{
    uint64_t found = all_of(count, word);
    for (uint32_t p = 0; p < m->number->count && found; p++)
        found &= mask_of(m, 0, p, m->number->cell[p].set, word);
    return found;
}

static uint32_t keep(uint64_t found, uint32_t first, uint32_t kept, uint32_t layouts[MAX_LAYOUTS])
{
    for (; found; found &= found - 1) {
        if (kept < MAX_LAYOUTS)
            layouts[kept] = first + plwi_lowest_bit(found);
        kept++;
    }
    return kept;
}

static uint32_t match_exact(const matcher *m, uint32_t first, uint32_t count,
                            uint32_t layouts[MAX_LAYOUTS])
{
    uint32_t kept = 0;
    for (uint32_t word = 0; word < m->words; word++)
        kept = keep(walk_exact(m, count, word), first + 64 * word, kept, layouts);
    return kept;
}

/* The layouts of the lowest level above 0 that holds any. */
static uint32_t match_levels(const matcher *m, uint32_t first, uint32_t count, int any,
                             uint32_t layouts[MAX_LAYOUTS])
{
    uint32_t kept = 0;
    unsigned best = MAX_STRAYS;
    for (uint32_t word = 0; word < m->words; word++) {
        uint64_t levels[LEVELS];
        walk(m, count, word, any, levels);
        for (unsigned k = 1; k <= best; k++) {
            if (!levels[k])
                continue;
            if (k < best || kept == 0)
                kept = 0;
            best = k;
            kept = keep(levels[k], first + 64 * word, kept, layouts);
            break;
        }
    }
    return kept;
}

static matcher matcher_for(image_t image, const plwi_number *number, uint32_t length)
{
    const unsigned char *record = plwi_record(image, SECTION_LENGTHS, 12, length);
    matcher m = { number, length,
                  plwi_record(image, SECTION_MASKS, 8, plwi_u32(record + LENGTH_MASK)),
                  plwi_u16(record + LENGTH_WORDS) };
    return m;
}

uint64_t plwi_match_start(image_t image, const plwi_number *number, uint32_t length,
                          uint32_t word, int misread)
{
    const unsigned char *record = plwi_record(image, SECTION_LENGTHS, 12, length);
    matcher m = matcher_for(image, number, length);
    uint32_t count = plwi_u16(record + LENGTH_COUNT);
    if (!misread)
        return walk_exact(&m, count, word);
    uint64_t levels[LEVELS], found = 0;
    walk(&m, count, word, 0, levels);
    for (unsigned k = 1; k < LEVELS; k++)
        found |= levels[k];
    return found;
}

uint32_t plwi_match(image_t image, const plwi_number *number, uint32_t layouts[MAX_LAYOUTS])
{
    if (number->count == 0 || number->count > MAX_POSITIONS)
        return 0;
    const unsigned char *length = plwi_record(image, SECTION_LENGTHS, 12, number->count);
    uint32_t first = plwi_u32(length + LENGTH_LAYOUT);
    uint32_t count = plwi_u16(length + LENGTH_COUNT);
    if (count == 0)
        return 0;
    matcher m = matcher_for(image, number, number->count);
    uint32_t found = match_exact(&m, first, count, layouts);
    if (found == 0)
        found = match_levels(&m, first, count, 0, layouts);
    if (found == 0)
        found = match_levels(&m, first, count, 1, layouts);
    return found;
}
