/* SPDX-License-Identifier: MIT
 *
 * One file: sections and entries into the model, words as they stand.
 */
#ifndef TC_PARSE_H
#define TC_PARSE_H

#include "model.h"

void tc_parse(tc_compilation *c, uint32_t file, const char *text, size_t size);

#endif
