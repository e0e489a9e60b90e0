/* SPDX-License-Identifier: MIT
 *
 * A table image. When the first byte is 0, the rest is the image; else it is a
 * list of changes to a good one (four bytes of place, one of value), whose
 * digest is mended so that only the check of its contents stands in the way.
 */
#include "fuzz.h"

#include <string.h>

#include "../fixture.h"
#include "image_format.h"

static void put_u32(unsigned char *at, uint32_t value)
{
    for (int i = 0; i < 4; i++)
        at[i] = (unsigned char)(value >> (8 * i));
}

static void mend_digest(unsigned char *image, size_t size)
{
    uint64_t digest = image_digest(image + DIGEST_START, size - DIGEST_START);
    put_u32(image + HEADER_DIGEST, (uint32_t)digest);
    put_u32(image + HEADER_DIGEST + 4, (uint32_t)(digest >> 32));
}

static void use(const plw_tables *tables)
{
    static const char *const numbers[] = { "T24K3P100051", "XTA3012345", "?????????" };
    plw_result *result = fuzz_result();
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        size_t needed = 0;
        MUST(plw_validate(tables, numbers[i], strlen(numbers[i]), "year=1966", 0, result) ==
             PLW_OK);
        plw_explain(result, PLW_FORMAT_JSON, 0, fuzz_buffer(), FUZZ_TEXT, &needed);
        plw_explain(result, PLW_FORMAT_SVG, 0, fuzz_buffer(), FUZZ_TEXT, &needed);
    }
    for (uint32_t i = 0; i < plw_row_count(tables); i++) {
        size_t needed = 0;
        plw_row_key(tables, i, fuzz_buffer(), FUZZ_TEXT, &needed);
        plw_row_condition(tables, i, fuzz_buffer(), FUZZ_TEXT, &needed);
    }
}

static void open_and_use(const unsigned char *image, size_t size)
{
    const plw_tables *tables;
    int32_t status = plw_tables_open(image, size, 0, &tables);
    MUST(status == PLW_OK || status == PLW_E_IMAGE || status == PLW_E_VERSION);
    MUST((status == PLW_OK) == (tables != NULL));
    if (status == PLW_OK)
        use(tables);
}

/* A copy of its own size, so that a sanitizer sees the first byte read too many. */
static unsigned char *copy_of(const void *bytes, size_t size)
{
    unsigned char *copy = malloc(size > 0 ? size : 1);
    MUST(copy != NULL);
    if (size > 0)
        memcpy(copy, bytes, size);
    return copy;
}

void fuzz_image(const uint8_t *data, size_t size)
{
    static unsigned char *good;
    static size_t good_size;
    if (good == NULL)
        good = fixture_image(&good_size);
    if (size == 0)
        return;
    size_t image_size = data[0] == 0 ? size - 1 : good_size;
    unsigned char *image = copy_of(data[0] == 0 ? data + 1 : good, image_size);
    if (data[0] != 0) {
        for (size_t at = 1; at + 5 <= size; at += 5) {
            uint32_t place;
            memcpy(&place, data + at, 4);
            image[place % image_size] = data[at + 4];
        }
        mend_digest(image, image_size);
    }
    open_and_use(image, image_size);
    free(image);
}
