/* SPDX-License-Identifier: MIT
 *
 * From claims to patterns: plw_expect, plw_explain_expectation, plw_covers.
 */
#include "setting.h"

static int32_t explain_source(const void *object, int32_t format, char *buffer, size_t capacity,
                              size_t *needed)
{
    return plw_explain_expectation(object, format, 0, buffer, capacity, needed);
}

/* Claims, with hints, tables and names from argument first on. */
static plw_expectation *expect(FunctionCallInfo call, int first)
{
    given claims = text_argument(call, 0);
    setting *with =
        call_setting(call, bytes_argument(call, first + 1), text_argument(call, first + 2));
    size_t size = plw_expectation_size();
    plw_expectation *made;

    check(plw_expectation_place(palloc(size), size, &made));
    check(plw_expectation_use_names(made, with->names));
    check(
        plw_expect(with->tables, claims.bytes, claims.size, hints_argument(call, first), 0, made));
    return made;
}

PG_FUNCTION_INFO_V1(platewright_expect);
Datum platewright_expect(PG_FUNCTION_ARGS)
{
    if (PG_ARGISNULL(0))
        PG_RETURN_NULL();
    return jsonb_answer(explain_source, expect(fcinfo, 1));
}

PG_FUNCTION_INFO_V1(platewright_explain_expectation);
Datum platewright_explain_expectation(PG_FUNCTION_ARGS)
{
    int32 format = format_argument(fcinfo, 1);

    if (PG_ARGISNULL(0))
        PG_RETURN_NULL();
    return text_answer(explain_source, expect(fcinfo, 2), format);
}

/* NULL where unreadable characters decide. */
PG_FUNCTION_INFO_V1(platewright_covers);
Datum platewright_covers(PG_FUNCTION_ARGS)
{
    given pattern = text_argument(fcinfo, 0);
    given number = text_argument(fcinfo, 1);
    int32_t covered;

    check(
        plw_pattern_covers(pattern.bytes, pattern.size, number.bytes, number.size, &covered, NULL));
    if (covered == PLW_COVERED_OPEN)
        PG_RETURN_NULL();
    PG_RETURN_BOOL(covered == PLW_COVERED);
}
