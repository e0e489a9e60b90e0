/* SPDX-License-Identifier: MIT
 *
 * One number and its verdict alone, which is quick: what comes back from the
 * verbs, from the grade and from a batch must agree.
 */
#include "fuzz.h"

void fuzz_verdict(const uint8_t *data, size_t size)
{
    const char *text = (const char *)data;
    plw_result *result = fuzz_result();
    int32_t row[PLW_BATCH_COLUMNS];
    int32_t status = plw_validate(NULL, text, size, NULL, 0, result);
    MUST(status == PLW_OK || status == PLW_E_TOO_LONG);
    MUST(plw_batch(NULL, text, &size, 1, NULL, 0, row) == PLW_OK);
    MUST(row[PLW_BATCH_STATUS] == status);
    MUST(row[PLW_BATCH_GRADE] == plw_result_grade(result));
    MUST((uint32_t)row[PLW_BATCH_READINGS] == plw_reading_count(result));
    MUST((uint32_t)row[PLW_BATCH_FINDINGS] == plw_finding_count(result));
    for (uint32_t i = 0; i < plw_reading_count(result); i++)
        MUST(plw_reading_grade(result, i) <= PLW_GRADE_FAULT);
}
