/* SPDX-License-Identifier: MIT
 *
 * Functions of one number: plw_grade, plw_json, plw_suggest, plw_explain, plw_prefix.
 */
#include "numbers.h"

#include <string.h>

SQLITE_EXTENSION_INIT3

typedef int32_t read_verb(const plw_tables *tables, const char *text, size_t length,
                          const char *hints, uint32_t flags, plw_result *result);

static int32_t explain_source(const void *object, int32_t format, char *buffer, size_t capacity,
                              size_t *needed)
{
    return plw_explain(object, format, 0, buffer, capacity, needed);
}

/* The bytes of a text, which SQLite has no memory for when it is NULL. */
static const char *text_of(sqlite3_value *value, size_t *length)
{
    const char *text = (const char *)sqlite3_value_text(value);
    *length = (size_t)sqlite3_value_bytes(value);
    return text;
}

static int32_t check_claims(plw_result *result, sqlite3_value *claims)
{
    size_t length = 0;
    const char *text = claims ? text_of(claims, &length) : "";
    return text ? plw_check_claims(result, text, length) : PLW_E_MEMORY;
}

/* Reads values[0], with hints, claims, tables and names from values[first] on. The
 * result is the host's. */
static int32_t read_number(host *of, read_verb *verb, int count, sqlite3_value **values, int first)
{
    int32_t status;
    size_t length;
    setting *with = host_setting(of, argument(count, values, first + 2),
                                 argument(count, values, first + 3), &status);
    if (with == NULL)
        return status;
    const char *hints = hints_of(argument(count, values, first));
    if (hints == NULL)
        return PLW_E_HINT;
    const char *text = text_of(values[0], &length);
    if (text == NULL)
        return PLW_E_MEMORY;
    plw_result_use_names(of->result, with->names);
    status = verb(with->tables, text, length, hints, 0, of->result);
    if (status == PLW_OK)
        status = check_claims(of->result, argument(count, values, first + 1));
    return status;
}

void sql_grade(sqlite3_context *context, int count, sqlite3_value **values)
{
    int32_t status;
    int32_t grade = 0;
    size_t length;
    if (argument(count, values, 0) == NULL)
        return;
    setting *with =
        host_setting(sqlite3_user_data(context), argument(count, values, 2), NULL, &status);
    const char *hints = hints_of(argument(count, values, 1));
    const char *text = text_of(values[0], &length);
    if (with && hints == NULL)
        status = PLW_E_HINT;
    else if (with)
        status = text ? plw_grade(with->tables, text, length, hints, 0, &grade) : PLW_E_MEMORY;
    if (status == PLW_OK)
        sqlite3_result_text(context, plw_grade_name(grade), -1, SQLITE_STATIC);
    else
        refuse(context, status);
}

static void answer_result(sqlite3_context *context, read_verb *verb, int32_t format, int count,
                          sqlite3_value **values, int first)
{
    host *of = sqlite3_user_data(context);
    int32_t status = read_number(of, verb, count, values, first);
    if (status == PLW_OK)
        answer_text(context, explain_source, of->result, format);
    else
        refuse(context, status);
}

void sql_json(sqlite3_context *context, int count, sqlite3_value **values)
{
    if (argument(count, values, 0) == NULL)
        return;
    answer_result(context, plw_validate, PLW_FORMAT_JSON, count, values, 1);
}

void sql_suggest(sqlite3_context *context, int count, sqlite3_value **values)
{
    if (argument(count, values, 0) == NULL)
        return;
    answer_result(context, plw_suggest, PLW_FORMAT_JSON, count, values, 1);
}

void sql_explain(sqlite3_context *context, int count, sqlite3_value **values)
{
    int32_t format = format_or_text(argument(count, values, 1));
    if (argument(count, values, 0) == NULL)
        return;
    if (format < 0)
        refuse_format(context);
    else
        answer_result(context, plw_validate, format, count, values, 2);
}

/* ---- the beginning of a number ---------------------------------------------------- */

/* "open": the name of the constant of this number, in small letters. */
static void append_state(sqlite3_str *json, int32_t state)
{
    static const char family[] = "PLW_PREFIX_";
    for (uint32_t i = 0; i < plw_constant_count(); i++) {
        const char *name = plw_constant_name(i);
        if (plw_constant_value(i) != state || strncmp(name, family, sizeof family - 1) != 0)
            continue;
        for (name += sizeof family - 1; *name; name++)
            sqlite3_str_appendchar(json, 1, (char)(*name | 0x20));
        return;
    }
}

static void append_characters(sqlite3_str *json, const char *label, const plw_result *result,
                              int32_t (*source)(const plw_result *, char *, size_t, size_t *))
{
    char characters[512];
    source(result, characters, sizeof characters, NULL);
    sqlite3_str_appendf(json, ",\"%s\":", label);
    append_json_text(json, characters);
}

static void append_prefix(sqlite3_str *json, const plw_tables *tables, const plw_result *result)
{
    sqlite3_str_appendall(json, "{\"state\":\"");
    append_state(json, plw_prefix_state(result));
    sqlite3_str_appendall(json, "\",\"schemes\":[");
    for (uint32_t i = 0; i < plw_prefix_scheme_count(result); i++) {
        sqlite3_str_appendall(json, i ? "," : "");
        append_json_text(json, plw_scheme_key(tables, plw_prefix_scheme(result, i)));
    }
    sqlite3_str_appendall(json, "]");
    append_characters(json, "allowed", result, plw_prefix_allowed);
    append_characters(json, "known", result, plw_prefix_known);
    sqlite3_str_appendf(json, ",\"remaining_min\":%u,\"remaining_max\":%u}",
                        plw_prefix_remaining_min(result), plw_prefix_remaining_max(result));
}

void sql_prefix(sqlite3_context *context, int count, sqlite3_value **values)
{
    host *of = sqlite3_user_data(context);
    int32_t status;
    size_t length;
    if (argument(count, values, 0) == NULL)
        return;
    setting *with = host_setting(of, argument(count, values, 1), NULL, &status);
    const char *text = text_of(values[0], &length);
    if (with)
        status = text ? plw_prefix(with->tables, text, length, 0, of->result) : PLW_E_MEMORY;
    if (status != PLW_OK) {
        refuse(context, status);
        return;
    }
    sqlite3_str *json = sqlite3_str_new(NULL);
    append_prefix(json, with->tables, of->result);
    answer_json(context, json);
}
