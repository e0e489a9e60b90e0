/* SPDX-License-Identifier: MIT
 *
 * Sets of model years.
 */
#ifndef TC_YEARS_H
#define TC_YEARS_H

#include "model.h"

/* Reads `1968`, `1962,1970-1972` or `all`; complains and gives false when it is
 * none of these or lies outside the given years (which `all` stands for). */
bool tc_read_years(tc_compilation *c, tc_word word, const tc_scheme *scheme, tc_years *years);

tc_years tc_years_any(void);
tc_years tc_years_and(tc_years a, tc_years b);
tc_years tc_years_or(tc_years a, tc_years b);
bool tc_years_empty(tc_years years);
bool tc_years_equal(tc_years a, tc_years b);
int tc_first_year(tc_years years);

/* As a table writes them. */
const char *tc_show_years(tc_compilation *c, tc_years years);

#endif
