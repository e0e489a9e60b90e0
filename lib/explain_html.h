/* SPDX-License-Identifier: MIT
 *
 * What the pages of a number and of a car share.
 */
#ifndef PLW_EXPLAIN_HTML_H
#define PLW_EXPLAIN_HTML_H

#include "explain.h"

/* A table of what the fields of a reading mean. */
void plwi_html_fields(plwi_view *view, uint32_t reading);

#endif
