/* SPDX-License-Identifier: MIT
 *
 * Bounded text output: counts what is needed, writes what fits, and at the end
 * either hands over the whole text or nothing.
 */
#ifndef PLW_WRITER_H
#define PLW_WRITER_H

#include <stddef.h>
#include <stdint.h>

typedef struct plwi_writer {
    char *buffer;
    size_t capacity;
    size_t length; /* bytes the text takes so far, without the zero byte */
} plwi_writer;

plwi_writer plwi_writer_on(char *buffer, size_t capacity);
void plwi_put(plwi_writer *writer, const char *bytes, size_t length);
void plwi_put_char(plwi_writer *writer, char c);
void plwi_put_text(plwi_writer *writer, const char *text);
void plwi_put_number(plwi_writer *writer, int64_t number);
/* Thousandths, not below 0, without needless zeros: 5572 -> "5.572", 340000 -> "340". */
void plwi_put_thousandths(plwi_writer *writer, int64_t thousandths);

/* Ends the text: sets *needed (may be NULL); PLW_OK, or PLW_E_SHORT with the
 * buffer emptied. A NULL buffer has no capacity. */
int32_t plwi_writer_end(plwi_writer *writer, size_t *needed);
/* No text: empties the buffer, sets *needed (may be NULL) to 0, returns the status. */
int32_t plwi_writer_refuse(int32_t status, char *buffer, size_t capacity, size_t *needed);

#endif
