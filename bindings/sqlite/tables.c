/* SPDX-License-Identifier: MIT
 *
 * Functions of tables and names: plw_tables, plw_name_problems.
 */
#include "numbers.h"

SQLITE_EXTENSION_INIT3

static void append_scheme(sqlite3_str *json, const plw_tables *tables, uint32_t scheme)
{
    sqlite3_str_appendall(json, scheme ? ",{\"key\":" : "{\"key\":");
    append_json_text(json, plw_scheme_key(tables, scheme));
    sqlite3_str_appendall(json, ",\"title\":");
    append_json_text(json, plw_scheme_title(tables, scheme));
    sqlite3_str_appendf(json, ",\"first_year\":%d,\"last_year\":%d,\"rows\":%u}",
                        plw_scheme_first_year(tables, scheme), plw_scheme_last_year(tables, scheme),
                        plw_scheme_row_count(tables, scheme));
}

void sql_tables(sqlite3_context *context, int count, sqlite3_value **values)
{
    char digest[32];
    int32_t status;
    setting *with =
        host_setting(sqlite3_user_data(context), argument(count, values, 0), NULL, &status);
    if (with == NULL) {
        refuse(context, status);
        return;
    }
    plw_tables_digest(with->tables, digest, sizeof digest, NULL);
    sqlite3_str *json = sqlite3_str_new(NULL);
    sqlite3_str_appendf(json, "{\"edition\":\"%s\",\"digest\":\"%s\",\"schemes\":[",
                        plw_tables_edition(with->tables), digest);
    for (uint32_t i = 0; i < plw_scheme_count(with->tables); i++)
        append_scheme(json, with->tables, i);
    sqlite3_str_appendall(json, "]}");
    answer_json(context, json);
}

void sql_problems(sqlite3_context *context, int count, sqlite3_value **values)
{
    char sentence[2048];
    int32_t status;
    if (argument(count, values, 0) == NULL)
        return;
    setting *with =
        host_setting(sqlite3_user_data(context), argument(count, values, 1), values[0], &status);
    if (with == NULL) {
        refuse(context, status);
        return;
    }
    sqlite3_str *json = sqlite3_str_new(NULL);
    sqlite3_str_appendall(json, "[");
    for (uint32_t i = 0; i < plw_names_problem_count(with->names); i++) {
        plw_names_problem_text(with->names, i, sentence, sizeof sentence, NULL);
        sqlite3_str_appendf(json, "%s{\"line\":%u,\"text\":", i ? "," : "",
                            plw_names_problem_line(with->names, i));
        append_json_text(json, sentence);
        sqlite3_str_appendall(json, "}");
    }
    sqlite3_str_appendall(json, "]");
    answer_json(context, json);
}
