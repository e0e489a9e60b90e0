/* SPDX-License-Identifier: MIT
 *
 * The sections of an image while they grow. A list of records that was added
 * before is not added again.
 */
#ifndef TC_OUTPUT_H
#define TC_OUTPUT_H

#include "model.h"

typedef struct tc_known_list {
    uint32_t hash;
    uint32_t first;
    uint32_t count;
} tc_known_list;

typedef struct tc_output_section {
    TC_LIST(unsigned char) bytes;
    uint32_t record;     /* size of one */
    uint32_t count;      /* of records */
    tc_known_list *known; /* hash table; an entry with count 0 is empty */
    size_t known_count;
    size_t known_slots;
} tc_output_section;

typedef struct tc_output {
    tc_compilation *c;
    tc_output_section sections[SECTION_COUNT];
} tc_output;

void tc_open_output(tc_output *out, tc_compilation *c);

/* Room for records, one or more, at the end of a section, zeroed; the index of the
 * first. The pointer holds until the section grows again. */
uint32_t tc_append(tc_output *out, enum image_section section, uint32_t count,
                   unsigned char **records);

/* The index of the first of so many records, which are added if need be. */
uint32_t tc_share(tc_output *out, enum image_section section, const unsigned char *records,
                  uint32_t count);
uint32_t tc_text(tc_output *out, const char *text);
uint32_t tc_text_of(tc_output *out, tc_word word);
uint32_t tc_share_codes(tc_output *out, const tc_codes *codes);
uint32_t tc_share_numbers(tc_output *out, enum image_section section, const tc_numbers *numbers);

void tc_put16(unsigned char *at, size_t value);
void tc_put32(unsigned char *at, size_t value);
void tc_put64(unsigned char *at, uint64_t value);

/* Puts the sections behind header and directory; the image of the compilation. */
void tc_close_output(tc_output *out);

#endif
