/* SPDX-License-Identifier: MIT
 *
 * What the SQL functions share: the memory that a connection keeps, arguments,
 * answers and errors.
 */
#ifndef HOST_H
#define HOST_H

#include <platewright.h>
#include <sqlite3ext.h>

/* The tables and names that a call was given, opened. */
typedef struct setting {
    int references;
    void *image; /* a copy; NULL for the compiled-in tables */
    size_t image_size;
    char *words; /* a copy of the names text, or NULL */
    size_t words_size;
    const plw_tables *tables;
    plw_names *names;
} setting;

/* Of one connection, which one thread uses at a time. */
typedef struct host {
    int references;
    plw_result *result;
    setting *last; /* most statements use one and the same; NULL before the first */
} host;

/* NULL when there is no memory. Who keeps a host, or a setting beyond the call,
 * holds it and lets it go. */
host *host_new(void);
void host_release(void *released);
void setting_hold(setting *held);
void setting_release(setting *released);

/* Opens what the arguments hold; NULL arguments are allowed. On failure NULL and a
 * status. The setting stays until the next call of this function. */
setting *host_setting(host *of, sqlite3_value *tables, sqlite3_value *names, int32_t *status);

/* An optional argument, or NULL: also when it is SQL's NULL. */
sqlite3_value *argument(int count, sqlite3_value **values, int index);
/* The hints in an argument; "" without one. NULL when a zero byte is inside. */
const char *hints_of(sqlite3_value *value);
/* PLW_FORMAT_ by its name in small letters; -1 for no format; what stands behind
 * "or" without one. */
int32_t format_or_text(sqlite3_value *value);
int32_t format_or_json(sqlite3_value *value);

/* Sets the answer to what a function writes, for plw_explain and its sisters. JSON is
 * marked so that the JSON functions of SQLite take it for JSON. */
typedef int32_t text_source(const void *object, int32_t format, char *buffer, size_t capacity,
                            size_t *needed);
void answer_text(sqlite3_context *context, text_source *source, const void *object, int32_t format);
void answer_json(sqlite3_context *context, sqlite3_str *json);
void append_json_text(sqlite3_str *json, const char *text);

/* Ends the call with an SQL error. */
void refuse(sqlite3_context *context, int32_t status);
void refuse_format(sqlite3_context *context);

#endif
