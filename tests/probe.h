/* SPDX-License-Identifier: MIT
 *
 * Short questions to a result, for tests. Texts live until the eighth next call.
 */
#ifndef PROBE_H
#define PROBE_H

#include <check.h>
#include <stdlib.h>

#include "platewright.h"

/* The result of the last probe_ call; one for the whole test program. */
plw_result *probe_validate(const plw_tables *tables, const char *number, const char *hints);
plw_result *probe_decode(const plw_tables *tables, const char *number, const char *hints);

/* "1966" or "1966,1976"; "" when no year fits. */
const char *probe_years(const plw_result *result, uint32_t reading);
const char *probe_scheme(const plw_tables *tables, const plw_result *result, uint32_t reading);
const char *probe_number(const plw_result *result, uint32_t reading);

/* The words of a field's rows, joined by " / "; "?" when the reading has no such field. */
const char *probe_words(const plw_tables *tables, const plw_result *result, uint32_t reading,
                        const char *field);
const char *probe_code(const plw_result *result, uint32_t reading, const char *field);
/* Index of the field in the reading, or PLW_NONE. */
uint32_t probe_field(const plw_result *result, uint32_t reading, const char *field);

/* Findings of one reading (PLW_NONE: of the number), as "name name ..." in the
 * order of the result. */
const char *probe_findings(const plw_result *result, uint32_t reading);
/* Index of the first finding with this code, or PLW_NONE. */
uint32_t probe_finding(const plw_result *result, int32_t code);
const char *probe_sentence(const plw_result *result, int32_t code);

/* The next character of markup, an entity taken for what it stands for. */
char probe_unescaped(const char **at);
/* What a reader of a drawing or page sees: no tags, no style, every stretch of blanks
 * one blank. It lives until the next call. */
const char *probe_shown(const char *markup);

/* One car for the whole test program. */
plw_car *probe_car(void);
/* Adds "dash=T24M6P100051;engine=6P100051". */
void probe_add_plates(plw_car *car, const char *plates);
/* That one car with nothing but these plates, compared. */
plw_car *probe_compare(const plw_tables *tables, const char *plates, const char *hints);

/* Runs a suite of one test case and returns what main returns. */
int probe_run(const char *name, void (*add)(TCase *test));
/* The same with tests that take long, in a case of their own with the tag "long": where the
 * environment has CK_EXCLUDE_TAGS=long they stay out. */
int probe_run_long(const char *name, void (*add)(TCase *test), void (*add_long)(TCase *test));
/* The same for a suite that prints and says nothing of itself. */
int probe_print(const char *name, void (*add)(TCase *test));

#endif
