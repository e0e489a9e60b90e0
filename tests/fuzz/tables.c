/* SPDX-License-Identifier: MIT
 *
 * The text of a scheme. What the table compiler takes must open.
 */
#include "fuzz.h"

#include <string.h>

#include "../../tables/compile/compile.h"
#include "../fixture.h"

void fuzz_tables(const uint8_t *data, size_t size)
{
    static char *vocabulary;
    static size_t vocabulary_size;
    if (vocabulary == NULL)
        vocabulary = fixture_text("tables/vocabulary.txt", &vocabulary_size);
    tc_compilation *compilation = tc_new();
    tc_add(compilation, "vocabulary.txt", vocabulary, vocabulary_size);
    tc_add(compilation, "any.scheme", (const char *)data, size);
    if (tc_finish(compilation)) {
        const plw_tables *tables;
        const unsigned char *image = tc_image(compilation, &size);
        MUST(plw_tables_open(image, size, 0, &tables) == PLW_OK);
    } else {
        MUST(tc_message_count(compilation) > 0);
        for (size_t i = 0; i < tc_message_count(compilation); i++)
            MUST(strlen(tc_message(compilation, i)) > 0);
    }
    tc_free(compilation);
}
