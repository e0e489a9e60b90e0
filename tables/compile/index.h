/* SPDX-License-Identifier: MIT
 *
 * What makes looking up fast: the layouts by length with their bit sets, and
 * the rows by code.
 */
#ifndef TC_INDEX_H
#define TC_INDEX_H

#include "output.h"

/* A form and the number of its scheme. */
typedef struct tc_numbered_form {
    const tc_form *form;
    uint16_t scheme;
} tc_numbered_form;

/* All forms in the order of the image: by length, then by scheme. */
typedef TC_LIST(tc_numbered_form) tc_forms;
void tc_sort_forms(tc_compilation *c, tc_forms *forms);

/* The sections LENGTHS, CHOICES and MASKS. */
void tc_index_layouts(tc_output *out, const tc_forms *forms);

/* The sections GROUPS and MEMBERS, from the codes of rows. */
typedef struct tc_filed_row {
    uint16_t field;
    uint64_t code;
    uint16_t row; /* counted from the first of the field */
} tc_filed_row;

typedef TC_LIST(tc_filed_row) tc_filed_rows;
void tc_index_rows(tc_output *out, tc_filed_rows *filed);

#endif
