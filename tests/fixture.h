/* SPDX-License-Identifier: MIT
 *
 * The frozen tables of Port Ellery, compiled when they are first asked for.
 * Texts are found under the directory that the variable srcdir names (".").
 */
#ifndef FIXTURE_H
#define FIXTURE_H

#include <stddef.h>

#include "platewright.h"

/* Opened; the same handle each time. Ends the test with the compiler's messages
 * when they do not compile. */
const plw_tables *fixture_tables(void);

/* Tables of the vocabulary and one scheme; they stay for as long as the program runs. */
const plw_tables *fixture_tables_of(const char *scheme);

/* Tables whose every text would do harm in a page: markup, and marks that turn the
 * direction of writing. A number of them is A112345, its engine stamp A12345. */
const plw_tables *fixture_hostile_tables(void);

#define RIGHT_TO_LEFT_MARK "\xE2\x80\x8F"
#define ARABIC_MARK "\xD8\x9C"
#define BYTE_ORDER_MARK "\xEF\xBB\xBF"
#define REPLACEMENT "\xEF\xBF\xBD"

/* Memory that lives as long as the program, so that a sanitizer does not take it
 * for lost; returns it. */
void *fixture_keep(void *memory);

/* A copy of the image, to be freed by the caller. */
unsigned char *fixture_image(size_t *size);

/* The same of the vocabulary and the text of a scheme. */
unsigned char *fixture_image_of(const char *scheme, size_t *size);

/* The text of a file of the source tree, ended by a zero byte, to be freed by
 * the caller; ends the test when it cannot be read. */
char *fixture_text(const char *name, size_t *size);

#endif
