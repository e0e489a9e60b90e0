/* SPDX-License-Identifier: MIT
 *
 * Markdown, piece by piece. All text that comes from tables or from a number is
 * escaped, so that none of it can become markup or HTML; markup goes out as it
 * stands.
 */
#ifndef PLW_MARKDOWN_H
#define PLW_MARKDOWN_H

#include "explain.h"

void plwi_markdown_put(plwi_view *view, const char *markup);
void plwi_markdown_escaped(plwi_view *view, const char *text);
/* Escaped text between two pieces of markup; nothing when it is empty. */
void plwi_markdown_between(plwi_view *view, const char *before, const char *text,
                           const char *after);
/* ", <address>" */
void plwi_markdown_address(plwi_view *view, const char *address);

#endif
