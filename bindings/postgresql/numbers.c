/* SPDX-License-Identifier: MIT
 *
 * Functions of one number: plw_grade, plw_json, plw_suggest, plw_explain, plw_prefix.
 */
#include "setting.h"

#include <utils/builtins.h>
#include <utils/json.h>

typedef int32_t read_verb(const plw_tables *tables, const char *text, size_t length,
                          const char *hints, uint32_t flags, plw_result *result);

static int32_t explain_source(const void *object, int32_t format, char *buffer, size_t capacity,
                              size_t *needed)
{
    return plw_explain(object, format, 0, buffer, capacity, needed);
}

/* Reads the number with hints, claims, tables and names from argument first on. */
static plw_result *read_number(FunctionCallInfo call, read_verb *verb, int first)
{
    given number = text_argument(call, 0);
    given claims = text_argument(call, first + 1);
    setting *with =
        call_setting(call, bytes_argument(call, first + 2), text_argument(call, first + 3));
    plw_result *result = call_result(call);

    check(plw_result_use_names(result, with->names));
    check(verb(with->tables, number.bytes, number.size, hints_argument(call, first), 0, result));
    if (claims.bytes)
        check(plw_check_claims(result, claims.bytes, claims.size));
    return result;
}

PG_FUNCTION_INFO_V1(platewright_grade);
Datum platewright_grade(PG_FUNCTION_ARGS)
{
    given number = text_argument(fcinfo, 0);
    int32_t grade = 0;
    setting *with;

    if (number.bytes == NULL)
        PG_RETURN_NULL();
    with = call_setting(fcinfo, bytes_argument(fcinfo, 2), (given){ NULL, 0 });
    check(plw_grade(with->tables, number.bytes, number.size, hints_argument(fcinfo, 1), 0, &grade));
    PG_RETURN_TEXT_P(cstring_to_text(plw_grade_name(grade)));
}

PG_FUNCTION_INFO_V1(platewright_json);
Datum platewright_json(PG_FUNCTION_ARGS)
{
    if (PG_ARGISNULL(0))
        PG_RETURN_NULL();
    return jsonb_answer(explain_source, read_number(fcinfo, plw_validate, 1));
}

PG_FUNCTION_INFO_V1(platewright_suggest);
Datum platewright_suggest(PG_FUNCTION_ARGS)
{
    if (PG_ARGISNULL(0))
        PG_RETURN_NULL();
    return jsonb_answer(explain_source, read_number(fcinfo, plw_suggest, 1));
}

PG_FUNCTION_INFO_V1(platewright_explain);
Datum platewright_explain(PG_FUNCTION_ARGS)
{
    int32 format = format_argument(fcinfo, 1);

    if (PG_ARGISNULL(0))
        PG_RETURN_NULL();
    return text_answer(explain_source, read_number(fcinfo, plw_validate, 2), format);
}

/* ---- the beginning of a number ----------------------------------------------------- */

/* "open": the name of the constant of this number, in small letters. */
static void append_state(StringInfo json, int32_t state)
{
    static const char family[] = "PLW_PREFIX_";

    for (uint32_t i = 0; i < plw_constant_count(); i++) {
        const char *name = plw_constant_name(i);

        if (plw_constant_value(i) != state || strncmp(name, family, sizeof family - 1) != 0)
            continue;
        for (name += sizeof family - 1; *name; name++)
            appendStringInfoChar(json, (char)pg_ascii_tolower((unsigned char)*name));
        return;
    }
}

static void append_characters(StringInfo json, const char *label, const plw_result *result,
                              int32_t (*source)(const plw_result *, char *, size_t, size_t *))
{
    char characters[512];

    check(source(result, characters, sizeof characters, NULL));
    appendStringInfo(json, ",\"%s\":", label);
    escape_json(json, characters);
}

PG_FUNCTION_INFO_V1(platewright_prefix);
Datum platewright_prefix(PG_FUNCTION_ARGS)
{
    given beginning = text_argument(fcinfo, 0);
    plw_result *result;
    setting *with;
    StringInfoData json;

    if (beginning.bytes == NULL)
        PG_RETURN_NULL();
    with = call_setting(fcinfo, bytes_argument(fcinfo, 1), (given){ NULL, 0 });
    result = call_result(fcinfo);
    check(plw_prefix(with->tables, beginning.bytes, beginning.size, 0, result));

    initStringInfo(&json);
    appendStringInfoString(&json, "{\"state\":\"");
    append_state(&json, plw_prefix_state(result));
    appendStringInfoString(&json, "\",\"schemes\":[");
    for (uint32_t i = 0; i < plw_prefix_scheme_count(result); i++) {
        appendStringInfoString(&json, i ? "," : "");
        escape_json(&json, plw_scheme_key(with->tables, plw_prefix_scheme(result, i)));
    }
    appendStringInfoChar(&json, ']');
    append_characters(&json, "allowed", result, plw_prefix_allowed);
    append_characters(&json, "known", result, plw_prefix_known);
    appendStringInfo(&json, ",\"remaining_min\":%u,\"remaining_max\":%u}",
                     plw_prefix_remaining_min(result), plw_prefix_remaining_max(result));
    return jsonb_of(json.data);
}
