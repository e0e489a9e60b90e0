/* SPDX-License-Identifier: MIT
 *
 * Functions of tables and names: plw_tables, plw_name_problems.
 */
#include "setting.h"

#include <utils/json.h>

static void append_scheme(StringInfo json, const plw_tables *tables, uint32_t scheme)
{
    appendStringInfoString(json, scheme ? ",{\"key\":" : "{\"key\":");
    escape_json(json, plw_scheme_key(tables, scheme));
    appendStringInfoString(json, ",\"title\":");
    escape_json(json, plw_scheme_title(tables, scheme));
    appendStringInfo(json, ",\"first_year\":%d,\"last_year\":%d,\"rows\":%u}",
                     plw_scheme_first_year(tables, scheme), plw_scheme_last_year(tables, scheme),
                     plw_scheme_row_count(tables, scheme));
}

PG_FUNCTION_INFO_V1(platewright_tables);
Datum platewright_tables(PG_FUNCTION_ARGS)
{
    setting *with = call_setting(fcinfo, bytes_argument(fcinfo, 0), (given){ NULL, 0 });
    char digest[32];
    StringInfoData json;

    check(plw_tables_digest(with->tables, digest, sizeof digest, NULL));
    initStringInfo(&json);
    appendStringInfo(&json, "{\"edition\":\"%s\",\"digest\":\"%s\",\"schemes\":[",
                     plw_tables_edition(with->tables), digest);
    for (uint32_t i = 0; i < plw_scheme_count(with->tables); i++)
        append_scheme(&json, with->tables, i);
    appendStringInfoString(&json, "]}");
    return jsonb_of(json.data);
}

PG_FUNCTION_INFO_V1(platewright_name_problems);
Datum platewright_name_problems(PG_FUNCTION_ARGS)
{
    given words = text_argument(fcinfo, 0);
    char sentence[2048];
    setting *with;
    StringInfoData json;

    if (words.bytes == NULL)
        PG_RETURN_NULL();
    with = call_setting(fcinfo, bytes_argument(fcinfo, 1), words);
    initStringInfo(&json);
    appendStringInfoChar(&json, '[');
    for (uint32_t i = 0; i < plw_names_problem_count(with->names); i++) {
        check(plw_names_problem_text(with->names, i, sentence, sizeof sentence, NULL));
        appendStringInfo(&json, "%s{\"line\":%u,\"text\":", i ? "," : "",
                         plw_names_problem_line(with->names, i));
        escape_json(&json, sentence);
        appendStringInfoChar(&json, '}');
    }
    appendStringInfoChar(&json, ']');
    return jsonb_of(json.data);
}
