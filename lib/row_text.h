/* SPDX-License-Identifier: MIT
 *
 * Rows in writing: codes, keys and conditions.
 */
#ifndef PLW_ROW_TEXT_H
#define PLW_ROW_TEXT_H

#include "image.h"
#include "writer.h"

/* A packed code as its characters. */
void plwi_put_code(plwi_writer *out, uint64_t code);

/* The stable key: scheme/field/code/first year[/condition][/tag], a condition
 * written as "line=B|J,engine=J". */
void plwi_put_row_key(plwi_writer *out, image_t image, uint32_t row);

/* The condition in words, "line is B or J and engine is J", or nothing; labels
 * of fields come from the names, which may be NULL. */
void plwi_put_condition(plwi_writer *out, image_t image, const plw_names *names, uint32_t row);

/* The value of a fact as text, a number without its unit. */
void plwi_put_fact(plwi_writer *out, image_t image, uint32_t fact);

#endif
