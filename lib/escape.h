/* SPDX-License-Identifier: MIT
 *
 * Text inside XML or HTML, between tags or between quotation marks. What would be
 * markup is escaped; what a page must not get (controls, marks that turn the
 * direction of writing, bytes that are not UTF-8) is replaced.
 */
#ifndef PLW_ESCAPE_H
#define PLW_ESCAPE_H

#include "writer.h"

void plwi_put_escaped(plwi_writer *out, const char *text, size_t size);

/* 1 for http and https addresses of plain characters, which may become a link. */
int plwi_is_web_address(const char *text);

#endif
