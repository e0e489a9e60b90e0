/* SPDX-License-Identifier: MIT
 *
 * What the fuzzer feeds. A harness takes any bytes, hands them to calls of the
 * library, of the table compiler or of the client, reads all that comes back,
 * and stops the program (abort) when an answer breaks a promise of the header.
 * run.sh lets a fuzzer look for such bytes; test_fuzz.c replays known ones.
 */
#ifndef FUZZ_H
#define FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include "platewright.h"

typedef void fuzz_harness(const uint8_t *data, size_t size);

fuzz_harness fuzz_number;    /* one number: every verb, every output */
fuzz_harness fuzz_verdict;   /* one number: its verdict alone */
fuzz_harness fuzz_claims;    /* a number, a line end, claims */
fuzz_harness fuzz_car;       /* a plate, a date or claims on each line */
fuzz_harness fuzz_expect;    /* claims, a line end, a number */
fuzz_harness fuzz_names;     /* a names text */
fuzz_harness fuzz_image;     /* a table image, or damage to a good one */
fuzz_harness fuzz_tables;    /* the text of a scheme, for the table compiler */
fuzz_harness fuzz_catalogue; /* rows for the client, CSV or JSON Lines */

#define MUST(promise)                                                                              \
    do {                                                                                           \
        if (!(promise))                                                                            \
            abort();                                                                               \
    } while (0)

/* One for the whole program. */
plw_result *fuzz_result(void);

/* Takes the first line off the data. */
typedef struct fuzz_line {
    const char *text;
    size_t length;
} fuzz_line;
fuzz_line fuzz_next_line(const uint8_t **data, size_t *size);

/* A text call with a buffer that may be too small: what it needs is told, and
 * what it writes ends in a zero byte and is UTF-8 without control characters
 * other than line ends. */
#define FUZZ_TEXT (UINT32_C(1) << 20)
char *fuzz_buffer(void);
void fuzz_check_text(int32_t status, const char *buffer, size_t capacity, size_t needed);

/* Reads all that a result has to say. */
void fuzz_read_result(const plw_result *result);

#endif
