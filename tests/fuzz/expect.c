/* SPDX-License-Identifier: MIT
 *
 * Claims, a line end, a number: patterns for the claims, and whether they cover
 * the number. What a pattern is must be readable again.
 */
#include "fuzz.h"

#include <string.h>

static plw_expectation *one_expectation(void)
{
    static plw_expectation *expectation;
    if (expectation == NULL)
        MUST(plw_expectation_new(&expectation) == PLW_OK);
    return expectation;
}

static void check_pattern(const plw_expectation *expectation, uint32_t pattern, fuzz_line number)
{
    char text[PLW_MAX_TEXT + 1];
    int32_t covered = -1;
    uint32_t position = 0;
    MUST(plw_pattern_text(expectation, pattern, text, sizeof text, NULL) == PLW_OK);
    MUST(plw_decode(NULL, text, strlen(text), NULL, 0, fuzz_result()) == PLW_OK);
    MUST(plw_pattern_covers(text, strlen(text), text, strlen(text), &covered, NULL) == PLW_OK);
    MUST(covered != PLW_COVERED_NOT);
    int32_t status = plw_pattern_covers(text, strlen(text), number.text, number.length, &covered,
                                        &position);
    MUST(status == PLW_OK || status == PLW_E_TOO_LONG);
    MUST(status != PLW_OK || (covered == PLW_COVERED) == (position == 0));
}

void fuzz_expect(const uint8_t *data, size_t size)
{
    fuzz_line claims = fuzz_next_line(&data, &size);
    fuzz_line number = fuzz_next_line(&data, &size);
    plw_expectation *expectation = one_expectation();
    int32_t status = plw_expect(NULL, claims.text, claims.length, NULL, 0, expectation);
    MUST(status == PLW_OK || status == PLW_E_CLAIM || status == PLW_E_TOO_LONG);
    MUST(status == PLW_OK || plw_pattern_count(expectation) == 0);
    for (uint32_t i = 0; i < plw_pattern_count(expectation) && i < 8; i++)
        check_pattern(expectation, i, number);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++) {
        size_t needed = 0;
        status = plw_explain_expectation(expectation, format, 0, fuzz_buffer(), FUZZ_TEXT, &needed);
        MUST(status == PLW_OK);
        fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
    }
}
