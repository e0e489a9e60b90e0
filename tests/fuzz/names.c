/* SPDX-License-Identifier: MIT
 *
 * A names text, and a number that is read with it.
 */
#include "fuzz.h"

void fuzz_names(const uint8_t *data, size_t size)
{
    static const char number[] = "3Y86N400001";
    plw_names *names;
    size_t needed = 0;
    int32_t status = plw_names_new(NULL, (const char *)data, size, &names);
    MUST(status == PLW_OK);
    for (uint32_t i = 0; i < plw_names_problem_count(names); i++) {
        MUST(plw_names_problem_line(names, i) > 0);
        status = plw_names_problem_text(names, i, fuzz_buffer(), FUZZ_TEXT, &needed);
        MUST(status == PLW_OK);
        fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
    }
    plw_result *result = fuzz_result();
    MUST(plw_result_use_names(result, names) == PLW_OK);
    MUST(plw_validate(NULL, number, sizeof number - 1, NULL, 0, result) == PLW_OK);
    fuzz_read_result(result);
    status = plw_explain(result, (int32_t)(size % (PLW_FORMAT_HTML + 1)), 0, fuzz_buffer(),
                         FUZZ_TEXT, &needed);
    MUST(status == PLW_OK);
    fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
    MUST(plw_result_use_names(result, NULL) == PLW_OK);
    plw_names_free(names);
}
