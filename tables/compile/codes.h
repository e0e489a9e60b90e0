/* SPDX-License-Identifier: MIT
 *
 * Characters, sets of them, and codes.
 */
#ifndef TC_CODES_H
#define TC_CODES_H

#include "model.h"

/* What is wrong with a code; told by whoever asked for it to be read. */
typedef struct tc_problem {
    tc_place place;
    const char *text;
} tc_problem;

/* The bit of a capital letter or digit, or -1. */
int tc_character(char byte);

/* Reads `A-HJ-NP-Z0-9`; complains and gives false when it cannot. */
bool tc_read_set(tc_compilation *c, tc_word word, uint64_t *set);

/* The set as tables write it. */
const char *tc_show_set(tc_compilation *c, uint64_t set);

/* The character number place (0-based) of a packed code of so many, as a bit. */
unsigned tc_code_character(uint64_t code, unsigned width, unsigned place);
unsigned tc_code_width(uint64_t code);

/* The greatest code of a width. */
uint64_t tc_greatest_code(unsigned width);

/* A code of a narrower layout, filled up with '0' on the left. */
uint64_t tc_padded_code(uint64_t code, unsigned width);

/* Can the span show this code? */
bool tc_code_fits(const tc_form *form, const tc_span *span, uint64_t code);

/* Reads what a row or a condition says about the codes of a field: single codes
 * in rising order, or pairs low, high of a run field. */
bool tc_read_codes(tc_compilation *c, const tc_scheme *scheme, const tc_field *field,
                   tc_word word, tc_codes *codes, tc_problem *problem);

const tc_span *tc_span_of(const tc_form *form, const tc_field *field);

#endif
