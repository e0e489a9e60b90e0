/* SPDX-License-Identifier: MIT
 *
 * A number, a line end, claims.
 */
#include "fuzz.h"

void fuzz_claims(const uint8_t *data, size_t size)
{
    fuzz_line number = fuzz_next_line(&data, &size);
    plw_result *result = fuzz_result();
    if (plw_validate(NULL, number.text, number.length, NULL, 0, result) != PLW_OK)
        return;
    int32_t status = plw_check_claims(result, (const char *)data, size);
    MUST(status == PLW_OK || status == PLW_E_CLAIM || status == PLW_E_TOO_LONG);
    MUST(plw_claim_count(result) <= PLW_MAX_CLAIMS);
    MUST(status == PLW_OK || plw_claim_count(result) == 0);
    for (uint32_t i = 0; i < plw_claim_count(result); i++) {
        size_t needed = 0;
        int32_t verdict = plw_claim_verdict(result, i);
        MUST(verdict >= PLW_VERDICT_SUPPORTED && verdict <= PLW_VERDICT_NOT_TOLD);
        MUST((verdict == PLW_VERDICT_NOT_TOLD) == (plw_claim_reason(result, i) != PLW_REASON_NONE));
        MUST(plw_claim_row_count(result, i) <= PLW_MAX_CLAIM_ROWS);
        status = plw_claim_sentence(result, i, fuzz_buffer(), FUZZ_TEXT, &needed);
        MUST(status == PLW_OK);
        fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
    }
    size_t needed = 0;
    status = plw_explain(result, (int32_t)(size % (PLW_FORMAT_HTML + 1)), 0, fuzz_buffer(),
                         FUZZ_TEXT, &needed);
    MUST(status == PLW_OK);
    fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
}
