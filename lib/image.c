/* SPDX-License-Identifier: MIT
 *
 * Table handles. A handle is the address of the image itself, so opening
 * allocates nothing and there is nothing to close.
 */
#include "internal.h"

#include "image_check.h"
#include "writer.h"

#define DIGEST_DIGITS 16

const plw_tables *plw_tables_builtin(void)
{
    return (const plw_tables *)(const void *)plwi_builtin_image;
}

image_t plwi_image(const plw_tables *tables)
{
    return tables ? (image_t)(const void *)tables : plwi_builtin_image;
}

int32_t plw_tables_open(const void *bytes, size_t size, uint32_t flags, const plw_tables **tables)
{
    if (!tables)
        return PLW_E_ARGUMENT;
    *tables = NULL;
    if (!bytes)
        return PLW_E_ARGUMENT;
    if (flags != 0)
        return PLW_E_FLAGS;
    int32_t status = plwi_check_image(bytes, size);
    if (status == PLW_OK)
        *tables = (const plw_tables *)bytes;
    return status;
}

const char *plw_tables_edition(const plw_tables *tables)
{
    image_t image = plwi_image(tables);
    return plwi_text(image, plwi_u32(image + HEADER_EDITION));
}

int32_t plw_tables_digest(const plw_tables *tables, char *buffer, size_t capacity, size_t *needed)
{
    uint64_t digest = plwi_u64(plwi_image(tables) + HEADER_DIGEST);
    plwi_writer out = plwi_writer_on(buffer, capacity);
    for (int digit = DIGEST_DIGITS - 1; digit >= 0; digit--)
        plwi_put_char(&out, "0123456789abcdef"[digest >> (4 * digit) & 15]);
    return plwi_writer_end(&out, needed);
}

static const unsigned char *length_record(image_t image, uint32_t length)
{
    return plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, length);
}

plwi_walk plwi_walk_layouts(image_t image)
{
    plwi_walk walk = { image, 0, 0, { 0 } };
    for (uint32_t length = 0; length <= MAX_POSITIONS; length++)
        walk.next[length] = plwi_u32(length_record(image, length) + LENGTH_LAYOUT);
    return walk;
}

uint32_t plwi_next_layout(plwi_walk *walk)
{
    for (; walk->scheme < plwi_count(walk->image, SECTION_SCHEMES); walk->scheme++) {
        for (; walk->length <= MAX_POSITIONS; walk->length++) {
            const unsigned char *length = length_record(walk->image, walk->length);
            uint32_t end = plwi_u32(length + LENGTH_LAYOUT) + plwi_u16(length + LENGTH_COUNT);
            uint32_t layout = walk->next[walk->length];
            if (layout == end || plwi_layout_scheme(walk->image, layout) != walk->scheme)
                continue;
            walk->next[walk->length]++;
            return layout;
        }
        walk->length = 0;
    }
    return PLW_NONE;
}

int plwi_years_next(plwi_years years, int year)
{
    int bit = year < FIRST_YEAR ? 0 : year + 1 - FIRST_YEAR;
    if (bit < 64) {
        uint64_t low = years.low >> bit << bit;
        if (low != 0)
            return FIRST_YEAR + (int)plwi_lowest_bit(low);
        bit = 64;
    }
    if (bit > LAST_YEAR - FIRST_YEAR)
        return 0;
    uint64_t high = years.high >> (bit - 64) << (bit - 64);
    return high != 0 ? FIRST_YEAR + 64 + (int)plwi_lowest_bit(high) : 0;
}

int plwi_years_at(plwi_years years, uint32_t index)
{
    int year = FIRST_YEAR - 1;
    do
        year = plwi_years_next(years, year);
    while (year && index-- > 0);
    return year;
}

uint32_t plwi_years_count(plwi_years years)
{
    return plwi_count_bits(years.low) + plwi_count_bits(years.high);
}
