/* SPDX-License-Identifier: MIT
 *
 * The sections that all tables share: edition, field names, attributes,
 * findings, misreads, cautions, sources.
 */
#ifndef TC_VOCABULARY_H
#define TC_VOCABULARY_H

#include "model.h"

/* One entry of the section. */
void tc_read_edition(tc_compilation *c, tc_line *line);
void tc_read_field_name(tc_compilation *c, tc_line *line);
void tc_read_attribute(tc_compilation *c, tc_line *line);
void tc_read_finding(tc_compilation *c, tc_line *line);
void tc_read_misread(tc_compilation *c, tc_line *line);
void tc_read_caution(tc_compilation *c, tc_line *line);
void tc_read_source(tc_compilation *c, tc_line *line);

/* Once all files are read: resolves the sources of the misreads, sorts the
 * findings, and complains about what is missing altogether. */
void tc_finish_vocabulary(tc_compilation *c);

/* The index of a name, or -1. */
int tc_find_field_name(const tc_compilation *c, tc_word name);
int tc_find_attribute(const tc_compilation *c, tc_word name);
int tc_find_source(const tc_compilation *c, tc_word key);

/* Reads `published,disputed`; complains and gives false when it cannot. */
bool tc_read_standing(tc_compilation *c, tc_word word, uint8_t *standing, uint8_t *marks);

/* Reads source keys joined by commas, or `-`. */
bool tc_read_citations(tc_compilation *c, tc_word word, tc_numbers *citations);

/* A published row without a source is refused. */
bool tc_check_cited(tc_compilation *c, tc_word source, uint8_t standing,
                    const tc_numbers *citations);

#endif
