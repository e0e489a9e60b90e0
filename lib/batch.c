/* SPDX-License-Identifier: MIT
 *
 * Many numbers by one call: the verdict on each as a row of numbers.
 */
#include "internal.h"

static void describe(const plw_result *result, int32_t *row)
{
    uint32_t years = plw_reading_year_count(result, 0);
    row[PLW_BATCH_GRADE] = plw_result_grade(result);
    row[PLW_BATCH_FINDING] = plw_finding_code(result, 0);
    if (plw_reading_count(result) > 0)
        row[PLW_BATCH_SCHEME] = (int32_t)plw_reading_scheme(result, 0);
    if (years > 0) {
        row[PLW_BATCH_FIRST_YEAR] = plw_reading_year(result, 0, 0);
        row[PLW_BATCH_LAST_YEAR] = plw_reading_year(result, 0, years - 1);
    }
    row[PLW_BATCH_READINGS] = (int32_t)plw_reading_count(result);
    row[PLW_BATCH_FINDINGS] = (int32_t)plw_finding_count(result);
}

/* Hints and flags are the same for all numbers, so one number tells whether they
 * can be taken. */
static int32_t try_arguments(const plw_tables *tables, const char *hints, uint32_t flags,
                             plw_result *result)
{
    return plw_validate(tables, "", 0, hints, flags, result);
}

static int ends_go_forward(const size_t *ends, size_t count)
{
    size_t begin = 0;
    for (size_t i = 0; i < count; begin = ends[i++]) {
        if (ends[i] < begin)
            return 0;
    }
    return 1;
}

int32_t plw_batch(const plw_tables *tables, const char *text, const size_t *ends, size_t count,
                  const char *hints, uint32_t flags, int32_t *rows)
{
    plw_result result;
    if (count == 0)
        return try_arguments(tables, hints, flags, &result);
    if (text == NULL || ends == NULL || rows == NULL || !ends_go_forward(ends, count))
        return PLW_E_ARGUMENT;
    int32_t status = try_arguments(tables, hints, flags, &result);
    if (status != PLW_OK)
        return status;
    size_t begin = 0;
    for (size_t i = 0; i < count; begin = ends[i++]) {
        int32_t *row = rows + i * PLW_BATCH_COLUMNS;
        for (unsigned column = 0; column < PLW_BATCH_COLUMNS; column++)
            row[column] = 0;
        row[PLW_BATCH_SCHEME] = -1;
        row[PLW_BATCH_STATUS] =
            plw_validate(tables, text + begin, ends[i] - begin, hints, flags, &result);
        if (row[PLW_BATCH_STATUS] == PLW_OK)
            describe(&result, row);
    }
    return PLW_OK;
}
