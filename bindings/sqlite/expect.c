/* SPDX-License-Identifier: MIT
 *
 * From claims to patterns: plw_expect, plw_covers.
 */
#include "numbers.h"

SQLITE_EXTENSION_INIT3

static int32_t explain_source(const void *object, int32_t format, char *buffer, size_t capacity,
                              size_t *needed)
{
    return plw_explain_expectation(object, format, 0, buffer, capacity, needed);
}

static int32_t expect(host *of, plw_expectation *expectation, int count, sqlite3_value **values)
{
    int32_t status;
    setting *with =
        host_setting(of, argument(count, values, 3), argument(count, values, 4), &status);
    const char *hints = hints_of(argument(count, values, 2));
    const char *claims = (const char *)sqlite3_value_text(values[0]);
    if (with == NULL)
        return status;
    if (hints == NULL)
        return PLW_E_HINT;
    if (claims == NULL)
        return PLW_E_MEMORY;
    plw_expectation_use_names(expectation, with->names);
    return plw_expect(with->tables, claims, (size_t)sqlite3_value_bytes(values[0]), hints, 0,
                      expectation);
}

void sql_expect(sqlite3_context *context, int count, sqlite3_value **values)
{
    plw_expectation *expectation = NULL;
    int32_t format = format_or_json(argument(count, values, 1));
    if (argument(count, values, 0) == NULL)
        return;
    if (format < 0) {
        refuse_format(context);
        return;
    }
    void *memory = sqlite3_malloc64(plw_expectation_size());
    int32_t status =
        memory ? plw_expectation_place(memory, plw_expectation_size(), &expectation) : PLW_E_MEMORY;
    if (status == PLW_OK)
        status = expect(sqlite3_user_data(context), expectation, count, values);
    if (status == PLW_OK)
        answer_text(context, explain_source, expectation, format);
    else
        refuse(context, status);
    sqlite3_free(memory);
}

/* 1, 0, or NULL where unreadable characters decide. */
void sql_covers(sqlite3_context *context, int count, sqlite3_value **values)
{
    int32_t covered;
    if (argument(count, values, 0) == NULL || argument(count, values, 1) == NULL)
        return;
    const char *pattern = (const char *)sqlite3_value_text(values[0]);
    const char *number = (const char *)sqlite3_value_text(values[1]);
    int32_t status = PLW_E_MEMORY;
    if (pattern && number)
        status = plw_pattern_covers(pattern, (size_t)sqlite3_value_bytes(values[0]), number,
                                    (size_t)sqlite3_value_bytes(values[1]), &covered, NULL);
    if (status != PLW_OK)
        refuse(context, status);
    else if (covered != PLW_COVERED_OPEN)
        sqlite3_result_int(context, covered == PLW_COVERED);
}
