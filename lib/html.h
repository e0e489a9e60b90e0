/* SPDX-License-Identifier: MIT
 *
 * HTML, piece by piece: a page that stands alone, without scripts and with nothing
 * to fetch, and escaped text in it.
 */
#ifndef PLW_HTML_H
#define PLW_HTML_H

#include "writer.h"

/* From the document type to the open main element, and the end of all. */
void plwi_html_start(plwi_writer *out, const char *title);
void plwi_html_end(plwi_writer *out);

/* Markup as it stands: constants of the library only. */
void plwi_html_markup(plwi_writer *out, const char *markup);
/* Escaped text between two pieces of markup; nothing when it is empty. */
void plwi_html_between(plwi_writer *out, const char *before, const char *text, const char *after);
/* ", " and the address, a link where it is a plain web address. */
void plwi_html_address(plwi_writer *out, const char *address);

#endif
