/* SPDX-License-Identifier: MIT
 *
 * Step two: which layouts a number can have. For each position and character
 * the image names the set of layouts that allow it there, one bit a layout, so
 * a number's layouts are the AND over its positions, 64 layouts at a time, and
 * the cost hardly grows with the tables.
 *
 * Where nothing fits as it is, the same walk is made with levels: level k holds
 * the layouts that fit but for k characters. A character that is read as another
 * fits where that other one does.
 */
#include <string.h>

#include "internal.h"

#define LEVELS (MAX_STRAYS + 1)

typedef struct matcher {
    const plwi_number *number;
    const unsigned char *choices;
    const unsigned char *masks;
    uint32_t words;
    uint64_t read_as[CHARACTER_COUNT]; /* what each character can be read as */
} matcher;

/* The choices of a position. */
static const unsigned char *choices_at(const matcher *m, uint32_t position)
{
    return m->choices + 2 * (size_t)position * CHARACTER_COUNT;
}

/* The layouts (one word of them) that allow a character of the set where these are the
 * choices. */
static inline uint64_t mask_of(const matcher *m, const unsigned char *choices, uint64_t set,
                               uint32_t word)
{
    uint64_t mask = 0;
    for (; set; set &= set - 1) {
        size_t number = plwi_u16(choices + 2 * (size_t)plwi_lowest_bit(set));
        mask |= plwi_u64(m->masks + 8 * (number * m->words + word));
    }
    return mask;
}

static void learn_misreads(image_t image, matcher *m)
{
    uint32_t count = plwi_count(image, SECTION_MISREADS);
    memset(m->read_as, 0, sizeof m->read_as);
    for (uint32_t i = 0; i < count; i++) {
        const unsigned char *pair = plwi_record(image, SECTION_MISREADS, 16, i);
        if (pair[MISREAD_USE] == MISREAD_READ)
            m->read_as[pair[MISREAD_TYPED]] |= UINT64_C(1) << pair[MISREAD_MEANT];
    }
}

/* The layouts that allow what a character of the set can be read as. */
static uint64_t misread_mask(const matcher *m, uint32_t position, uint64_t set, uint32_t word)
{
    uint64_t meant = 0;
    for (; set; set &= set - 1)
        meant |= m->read_as[plwi_lowest_bit(set)];
    return mask_of(m, choices_at(m, position), meant, word);
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
        uint64_t fits = mask_of(m, choices_at(m, p), set, word);
        uint64_t other = any ? ~fits : misread_mask(m, p, set, word) & ~fits;
        for (unsigned k = LEVELS - 1; k > 0; k--)
            levels[k] = (levels[k] & fits) | (levels[k - 1] & other);
        levels[0] &= fits;
    }
}

static uint64_t walk_exact(const matcher *m, uint32_t count, uint32_t word)
{
    uint64_t found = all_of(count, word);
    const plwi_cell *cell = m->number->cell, *end = cell + m->number->count;
    for (const unsigned char *choices = m->choices; cell < end && found; cell++) {
        found &= mask_of(m, choices, cell->set, word);
        choices += 2 * (size_t)CHARACTER_COUNT;
    }
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

static void set_matcher(matcher *m, image_t image, const plwi_number *number, uint32_t length)
{
    const unsigned char *record = plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, length);
    m->number = number;
    m->choices = plwi_record(image, SECTION_CHOICES, 2, plwi_u32(record + LENGTH_CHOICE));
    m->masks = plwi_record(image, SECTION_MASKS, 8, plwi_u32(record + LENGTH_MASK));
    m->words = plwi_u16(record + LENGTH_WORDS);
}

uint64_t plwi_match_start(image_t image, const plwi_number *number, uint32_t length,
                          uint32_t word, int misread)
{
    matcher m;
    uint32_t count =
        plwi_u16(plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, length) + LENGTH_COUNT);
    set_matcher(&m, image, number, length);
    if (!misread)
        return walk_exact(&m, count, word);
    uint64_t levels[LEVELS], found = 0;
    learn_misreads(image, &m);
    walk(&m, count, word, 0, levels);
    for (unsigned k = 1; k < LEVELS; k++)
        found |= levels[k];
    return found;
}

uint32_t plwi_match(image_t image, const plwi_number *number, uint32_t layouts[MAX_LAYOUTS])
{
    matcher m;
    if (number->count == 0 || number->count > MAX_POSITIONS)
        return 0;
    const unsigned char *length = plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, number->count);
    uint32_t first = plwi_u32(length + LENGTH_LAYOUT);
    uint32_t count = plwi_u16(length + LENGTH_COUNT);
    if (count == 0)
        return 0;
    set_matcher(&m, image, number, number->count);
    uint32_t found = match_exact(&m, first, count, layouts);
    if (found > 0)
        return found;
    learn_misreads(image, &m);
    found = match_levels(&m, first, count, 0, layouts);
    return found > 0 ? found : match_levels(&m, first, count, 1, layouts);
}
