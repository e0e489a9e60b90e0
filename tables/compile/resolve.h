/* SPDX-License-Identifier: MIT
 *
 * From words to what they mean, scheme by scheme, once all files are read.
 * These are done in this order.
 */
#ifndef TC_RESOLVE_H
#define TC_RESOLVE_H

#include "model.h"

void tc_resolve_fields(tc_compilation *c, tc_scheme *scheme);     /* scheme.c */
void tc_resolve_layouts(tc_compilation *c, tc_scheme *scheme);    /* layout.c */
void tc_resolve_rows(tc_compilation *c, tc_scheme *scheme);       /* rows.c */
void tc_resolve_conditions(tc_compilation *c, tc_scheme *scheme); /* conditions.c */

void tc_resolve_check(tc_compilation *c, tc_scheme *scheme, const tc_section *section,
                      tc_field *field); /* check_digit.c */

/* Reads `name=value,name=value`; *tag may be NULL where none is allowed. */
bool tc_read_facts(tc_compilation *c, tc_word word, tc_facts *facts, const char **tag);
/* Facts that name fields must name those of the scheme. */
bool tc_check_parts(tc_compilation *c, const tc_scheme *scheme, tc_place place,
                    const tc_facts *facts);
/* Text of the kinds form, months and day; and what a row says about dates. */
bool tc_check_date_value(tc_compilation *c, const tc_attribute *attribute, tc_word word,
                         const char *text);
bool tc_check_dates(tc_compilation *c, tc_place place, const tc_facts *facts); /* dates.c */
bool tc_same_fact(const tc_fact *a, const tc_fact *b);

/* The fact an attribute with this value would be; complains when it cannot be. */
bool tc_read_value(tc_compilation *c, uint16_t attribute, tc_word word, tc_fact *fact);

tc_field *tc_find_field(const tc_scheme *scheme, tc_word name);
void tc_refuse_field(tc_compilation *c, const tc_scheme *scheme, tc_word name);

#endif
