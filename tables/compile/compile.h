/* SPDX-License-Identifier: MIT
 *
 * The table compiler: texts go in, one image or a list of messages comes out.
 * Used by the build tool (main.c), by the reference client and by the tests.
 *
 *   tc_compilation *c = tc_new();
 *   tc_add(c, "tables/vocabulary.txt", text, size);     ... once for each file
 *   if (tc_finish(c))
 *       image = tc_image(c, &size);
 *   else
 *       for (i = 0; i < tc_message_count(c); i++)
 *           puts(tc_message(c, i));
 *   tc_free(c);
 *
 * Without memory to go on the program ends.
 */
#ifndef TC_COMPILE_H
#define TC_COMPILE_H

#include <stdbool.h>
#include <stddef.h>

#define TC_MESSAGES_SHOWN 200

typedef struct tc_compilation tc_compilation;

/* How the program ends when there is no memory left: end must not return. If this is
 * not called, with a line on standard error and EXIT_FAILURE. */
void tc_without_memory(void (*end)(void));

tc_compilation *tc_new(void);
void tc_free(tc_compilation *compilation);

/* Adds the text of one file; name is what messages call it. Both are copied. */
void tc_add(tc_compilation *compilation, const char *name, const char *text, size_t size);

/* Checks everything that was added; true when there is an image. Call it once. */
bool tc_finish(tc_compilation *compilation);

/* The image; it lives as long as the compilation. NULL when it was refused. */
const unsigned char *tc_image(const tc_compilation *compilation, size_t *size);

/* "file:line:column: what is wrong; what to write instead", in the order of
 * the files and lines. At most TC_MESSAGES_SHOWN, then one that says how many
 * more there are. */
size_t tc_message_count(const tc_compilation *compilation);
const char *tc_message(const tc_compilation *compilation, size_t index);

#endif
