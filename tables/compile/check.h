/* SPDX-License-Identifier: MIT
 *
 * What is refused although each row by itself reads well.
 */
#ifndef TC_CHECK_H
#define TC_CHECK_H

#include "model.h"

void tc_check_scheme(tc_compilation *c, tc_scheme *scheme);

/* The steps of it: */
void tc_check_reach(tc_compilation *c, tc_scheme *scheme);         /* reach.c */
void tc_check_contradictions(tc_compilation *c, tc_scheme *scheme); /* contradict.c */
void tc_order_fields(tc_compilation *c, tc_scheme *scheme);         /* order.c */

#endif
