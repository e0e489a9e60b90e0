/* SPDX-License-Identifier: MIT
 *
 * Reading the table image. Everything here trusts the image: plw_tables_open
 * has checked every offset, count and index before anyone else looks.
 */
#ifndef PLW_IMAGE_H
#define PLW_IMAGE_H

#include <stddef.h>
#include <stdint.h>

#include "image_format.h"
#include "platewright.h"

typedef const unsigned char *image_t;

static inline uint16_t plwi_u16(const unsigned char *p)
{
    return (uint16_t)(p[0] | p[1] << 8);
}

static inline uint32_t plwi_u32(const unsigned char *p)
{
    return (uint32_t)p[0] | (uint32_t)p[1] << 8 | (uint32_t)p[2] << 16 | (uint32_t)p[3] << 24;
}

static inline uint64_t plwi_u64(const unsigned char *p)
{
    return (uint64_t)plwi_u32(p) | (uint64_t)plwi_u32(p + 4) << 32;
}

/* The bytes of a handle; NULL is the compiled-in image. */
image_t plwi_image(const plw_tables *tables);

/* The compiled-in image (generated into tables.inc). */
extern const unsigned char plwi_builtin_image[];

static inline const unsigned char *plwi_directory(image_t image, unsigned section)
{
    return image + HEADER_DIRECTORY + (size_t)section * DIRECTORY_RECORD;
}

static inline uint32_t plwi_count(image_t image, unsigned section)
{
    return plwi_u32(plwi_directory(image, section) + DIRECTORY_COUNT);
}

static inline const unsigned char *plwi_section(image_t image, unsigned section)
{
    return image + plwi_u32(plwi_directory(image, section) + DIRECTORY_OFFSET);
}

/* Record number index of a section whose records are size bytes long. */
static inline const unsigned char *plwi_record(image_t image, unsigned section, size_t size,
                                               uint32_t index)
{
    return plwi_section(image, section) + (size_t)index * size;
}

static inline const unsigned char *plwi_scheme(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_SCHEMES, 48, index);
}

static inline const unsigned char *plwi_field(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_FIELDS, 40, index);
}

static inline const unsigned char *plwi_layout(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_LAYOUTS, LAYOUT_SIZE, index);
}

static inline const unsigned char *plwi_span(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_SPANS, 8, index);
}

static inline const unsigned char *plwi_row(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_ROWS, ROW_SIZE, index);
}

static inline const unsigned char *plwi_fact(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_FACTS, FACT_SIZE, index);
}

static inline const unsigned char *plwi_condition(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_CONDITIONS, 16, index);
}

static inline uint64_t plwi_code(image_t image, uint32_t index)
{
    return plwi_u64(plwi_record(image, SECTION_CODES, 8, index));
}

static inline uint32_t plwi_value(image_t image, uint32_t index)
{
    return plwi_u32(plwi_record(image, SECTION_VALUES, 4, index));
}

static inline uint32_t plwi_citation(image_t image, uint32_t index)
{
    return plwi_u32(plwi_record(image, SECTION_CITATIONS, 4, index));
}

/* The row of a field that a member of one of its groups stands for. */
static inline uint32_t plwi_member(image_t image, uint32_t index, const unsigned char *field)
{
    return plwi_u32(field + FIELD_ROW) + plwi_u16(plwi_record(image, SECTION_MEMBERS, 2, index));
}

/* What a row has beside its meaning. */
static inline const unsigned char *plwi_note(image_t image, const unsigned char *row)
{
    return plwi_record(image, SECTION_NOTES, NOTE_SIZE, plwi_u16(row + ROW_NOTE));
}

/* The string a text offset stands for. */
static inline const char *plwi_text(image_t image, uint32_t offset)
{
    return (const char *)plwi_section(image, SECTION_TEXT) + offset;
}

/* A walk over all layouts, scheme by scheme; they lie by length. */
typedef struct plwi_walk {
    image_t image;
    uint32_t scheme;
    uint32_t length;
    uint32_t next[MAX_POSITIONS + 1]; /* layout of each length */
} plwi_walk;

plwi_walk plwi_walk_layouts(image_t image);
/* The next layout, or PLW_NONE behind the last. */
uint32_t plwi_next_layout(plwi_walk *walk);

/* The scheme of a layout. */
static inline uint32_t plwi_layout_scheme(image_t image, uint32_t layout)
{
    return plwi_u16(plwi_layout(image, layout) + LAYOUT_SCHEME);
}

/* The name of a field of the image ("engine"), by field index. */
static inline const char *plwi_field_name(image_t image, uint32_t field)
{
    uint32_t name = plwi_u16(plwi_field(image, field) + FIELD_NAME);
    return plwi_text(image, plwi_u32(plwi_record(image, SECTION_FIELD_NAMES, 8, name) +
                                     FIELD_NAME_NAME));
}

/* Sets of 64: the lowest and the highest member of one that is not empty, and
 * whether there is just one. Compilers that have one instruction for it are
 * asked for that. */
#ifdef __GNUC__
static inline unsigned plwi_lowest_bit(uint64_t set)
{
    return (unsigned)__builtin_ctzll(set);
}

static inline unsigned plwi_highest_bit(uint64_t set)
{
    return 63u - (unsigned)__builtin_clzll(set);
}
#else
static inline unsigned plwi_lowest_bit(uint64_t set)
{
    unsigned bit = 0;
    while (!(set >> bit & 1))
        bit++;
    return bit;
}

static inline unsigned plwi_highest_bit(uint64_t set)
{
    unsigned bit = 63;
    while (!(set >> bit & 1))
        bit--;
    return bit;
}
#endif

static inline int plwi_is_single(uint64_t set)
{
    return set != 0 && (set & (set - 1)) == 0;
}

static inline uint32_t plwi_count_bits(uint64_t set)
{
    uint32_t count = 0;
    for (; set != 0; set &= set - 1)
        count++;
    return count;
}

/* A set of model years. */
typedef struct plwi_years {
    uint64_t low;
    uint64_t high;
} plwi_years;

static inline plwi_years plwi_year_set(image_t image, uint32_t index)
{
    const unsigned char *p = plwi_record(image, SECTION_YEARS, 16, index);
    plwi_years years = { plwi_u64(p + YEARS_LOW), plwi_u64(p + YEARS_HIGH) };
    return years;
}

static inline int plwi_years_empty(plwi_years a)
{
    return (a.low | a.high) == 0;
}

static inline plwi_years plwi_years_and(plwi_years a, plwi_years b)
{
    plwi_years r = { a.low & b.low, a.high & b.high };
    return r;
}

static inline plwi_years plwi_years_or(plwi_years a, plwi_years b)
{
    plwi_years r = { a.low | b.low, a.high | b.high };
    return r;
}

static inline plwi_years plwi_years_without(plwi_years a, plwi_years b)
{
    plwi_years r = { a.low & ~b.low, a.high & ~b.high };
    return r;
}

static inline int plwi_years_equal(plwi_years a, plwi_years b)
{
    return a.low == b.low && a.high == b.high;
}

static inline int plwi_years_has(plwi_years a, int year)
{
    if (year < FIRST_YEAR || year > LAST_YEAR)
        return 0;
    int bit = year - FIRST_YEAR;
    return (int)((bit < 64 ? a.low >> bit : a.high >> (bit - 64)) & 1);
}

static inline plwi_years plwi_years_one(int year)
{
    int bit = year - FIRST_YEAR;
    plwi_years r = { bit < 64 ? UINT64_C(1) << bit : 0,
                     bit < 64 ? 0 : UINT64_C(1) << (bit - 64) };
    return r;
}

/* The first year of the set after year (give FIRST_YEAR - 1 to start), or 0. */
int plwi_years_next(plwi_years years, int year);
uint32_t plwi_years_count(plwi_years years);
/* The year at this place of the set, from 0; 0 behind the last. */
int plwi_years_at(plwi_years years, uint32_t index);

#endif
