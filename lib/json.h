/* SPDX-License-Identifier: MIT
 *
 * JSON (RFC 8259), piece by piece.
 */
#ifndef PLW_JSON_H
#define PLW_JSON_H

#include "image.h"
#include "writer.h"

void plwi_json_string(plwi_writer *out, const char *text);
/* A comma before every item of an array but the first. */
void plwi_json_comma(plwi_writer *out, uint32_t index);

/* Starts a member; a comma goes before it when another stands there already. */
void plwi_json_name(plwi_writer *out, int first, const char *name);
/* Opens an array or object as a member. */
void plwi_json_open(plwi_writer *out, const char *name, char bracket);
/* Members behind another one. */
void plwi_json_text(plwi_writer *out, const char *name, const char *text);
void plwi_json_number(plwi_writer *out, const char *name, int64_t number);
/* null for the empty name. */
void plwi_json_name_or_null(plwi_writer *out, const char *name, const char *text);
/* The member "marks", an array. */
void plwi_json_marks(plwi_writer *out, uint32_t marks);
/* The member "positions", an array. */
void plwi_json_positions(plwi_writer *out, uint32_t positions);
void plwi_json_years(plwi_writer *out, const char *name, plwi_years years);

#endif
