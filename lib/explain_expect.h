/* SPDX-License-Identifier: MIT
 *
 * What the forms of an expectation's explanation share.
 */
#ifndef PLW_EXPLAIN_EXPECT_H
#define PLW_EXPLAIN_EXPECT_H

#include "expect.h"
#include "explain.h"
#include "markdown.h"
#include "names.h"

void plwi_explain_expectation_json(plwi_view *view, const plw_expectation *expectation);

const char *plwi_expectation_sentence(const plw_expectation *expectation, plwi_piece *piece);
const char *plwi_pattern_text(const plw_expectation *expectation, uint32_t pattern,
                              plwi_piece *piece);
const char *plwi_pattern_range(const plw_expectation *expectation, uint32_t pattern,
                               plwi_piece *piece);
const char *plwi_pattern_sentence(const plw_expectation *expectation, uint32_t pattern,
                                  plwi_piece *piece);

/* The next source behind after (PLW_NONE to start) of a row that a pattern rests
 * on, or PLW_NONE. */
uint32_t plwi_next_pattern_source(const plwi_view *view, const plw_expectation *expectation,
                                  uint32_t after);

#endif
