/* SPDX-License-Identifier: MIT */
#include "host.h"

#include <string.h>

SQLITE_EXTENSION_INIT3

/* ---- what a connection keeps ------------------------------------------------- */

host *host_new(void)
{
    size_t size = plw_result_size();
    host *made = sqlite3_malloc64(sizeof(host));
    void *memory = sqlite3_malloc64(size);
    if (made == NULL || memory == NULL) {
        sqlite3_free(made);
        sqlite3_free(memory);
        return NULL;
    }
    *made = (host){ .references = 1 };
    plw_result_place(memory, size, &made->result);
    return made;
}

void host_release(void *released)
{
    host *old = released;
    if (--old->references > 0)
        return;
    setting_release(old->last);
    sqlite3_free(old->result);
    sqlite3_free(old);
}

void setting_hold(setting *held)
{
    held->references++;
}

void setting_release(setting *released)
{
    if (released == NULL || --released->references > 0)
        return;
    sqlite3_free(released->names);
    sqlite3_free(released->words);
    sqlite3_free(released->image);
    sqlite3_free(released);
}

static const void *bytes_of(sqlite3_value *value, size_t *size)
{
    const void *bytes = value ? sqlite3_value_blob(value) : NULL;
    *size = value ? (size_t)sqlite3_value_bytes(value) : 0;
    return bytes ? bytes : "";
}

static int same(const void *kept, size_t kept_size, sqlite3_value *value)
{
    size_t size;
    const void *bytes = bytes_of(value, &size);
    if (kept == NULL || value == NULL)
        return kept == NULL && value == NULL;
    return size == kept_size && memcmp(kept, bytes, size) == 0;
}

/* A copy, which is never of no bytes, or NULL. */
static void *copy_of(sqlite3_value *value, size_t *size)
{
    const void *bytes = bytes_of(value, size);
    void *copy = sqlite3_malloc64(*size + 1);
    if (copy)
        memcpy(copy, bytes, *size);
    return copy;
}

static int32_t open_tables(setting *made, sqlite3_value *tables)
{
    if (tables == NULL)
        return PLW_OK;
    made->image = copy_of(tables, &made->image_size);
    if (made->image == NULL)
        return PLW_E_MEMORY;
    return plw_tables_open(made->image, made->image_size, 0, &made->tables);
}

static int32_t open_names(setting *made, sqlite3_value *names)
{
    if (names == NULL)
        return PLW_OK;
    made->words = copy_of(names, &made->words_size);
    if (made->words == NULL)
        return PLW_E_MEMORY;
    size_t size = plw_names_size(made->words, made->words_size);
    if (size == 0)
        return PLW_E_TOO_LONG;
    void *memory = sqlite3_malloc64(size);
    int32_t status = memory ? plw_names_place(made->tables, made->words, made->words_size, memory,
                                              size, &made->names)
                            : PLW_E_MEMORY;
    if (status != PLW_OK)
        sqlite3_free(memory);
    return status;
}

setting *host_setting(host *of, sqlite3_value *tables, sqlite3_value *names, int32_t *status)
{
    setting *last = of->last;
    *status = PLW_OK;
    if (last && same(last->image, last->image_size, tables) &&
        same(last->words, last->words_size, names))
        return last;

    setting *made = sqlite3_malloc64(sizeof(setting));
    if (made == NULL) {
        *status = PLW_E_MEMORY;
        return NULL;
    }
    *made = (setting){ .references = 1 };
    *status = open_tables(made, tables);
    if (*status == PLW_OK)
        *status = open_names(made, names);
    if (*status != PLW_OK) {
        setting_release(made);
        return NULL;
    }
    plw_result_use_names(of->result, NULL);
    setting_release(last);
    of->last = made;
    return made;
}

/* ---- arguments ------------------------------------------------------------------ */

sqlite3_value *argument(int count, sqlite3_value **values, int index)
{
    if (index >= count || sqlite3_value_type(values[index]) == SQLITE_NULL)
        return NULL;
    return values[index];
}

const char *hints_of(sqlite3_value *value)
{
    const char *text = value ? (const char *)sqlite3_value_text(value) : "";
    if (text && value && strlen(text) != (size_t)sqlite3_value_bytes(value))
        return NULL;
    return text;
}

static int32_t format_of(sqlite3_value *value)
{
    char name[32] = "PLW_FORMAT_";
    size_t used = strlen(name);
    int64_t number;
    const char *word = (const char *)sqlite3_value_text(value);
    for (; word && *word >= 'a' && *word <= 'z' && used + 1 < sizeof name; word++)
        name[used++] = (char)(*word - 'a' + 'A');
    name[used] = '\0';
    if (word == NULL || *word || plw_constant(name, &number) != PLW_OK)
        return -1;
    return (int32_t)number;
}

int32_t format_or_text(sqlite3_value *value)
{
    return value ? format_of(value) : PLW_FORMAT_TEXT;
}

int32_t format_or_json(sqlite3_value *value)
{
    return value ? format_of(value) : PLW_FORMAT_JSON;
}

/* ---- answers -------------------------------------------------------------------- */

static void mark_json(sqlite3_context *context)
{
    sqlite3_result_subtype(context, 'J');
}

void answer_text(sqlite3_context *context, text_source *source, const void *object, int32_t format)
{
    size_t capacity = 8192;
    size_t needed = 0;
    int32_t status = PLW_E_SHORT;
    char *buffer = NULL;
    for (int tries = 0; tries < 2 && status == PLW_E_SHORT; tries++) {
        sqlite3_free(buffer);
        buffer = sqlite3_malloc64(capacity);
        status = buffer ? source(object, format, buffer, capacity, &needed) : PLW_E_MEMORY;
        capacity = needed;
    }
    if (status == PLW_OK) {
        sqlite3_result_text64(context, buffer, needed - 1, sqlite3_free, SQLITE_UTF8);
        if (format == PLW_FORMAT_JSON)
            mark_json(context);
        return;
    }
    sqlite3_free(buffer);
    refuse(context, status);
}

void append_json_text(sqlite3_str *json, const char *text)
{
    sqlite3_str_appendchar(json, 1, '"');
    for (; *text; text++) {
        unsigned char byte = (unsigned char)*text;
        if (byte < ' ')
            sqlite3_str_appendf(json, "\\u%04x", byte);
        else if (byte == '"' || byte == '\\')
            sqlite3_str_appendf(json, "\\%c", byte);
        else
            sqlite3_str_appendchar(json, 1, *text);
    }
    sqlite3_str_appendchar(json, 1, '"');
}

void answer_json(sqlite3_context *context, sqlite3_str *json)
{
    int length = sqlite3_str_length(json);
    int failed = sqlite3_str_errcode(json);
    char *text = sqlite3_str_finish(json);
    if (failed || text == NULL) {
        sqlite3_free(text);
        refuse(context, PLW_E_MEMORY);
        return;
    }
    sqlite3_result_text(context, text, length, sqlite3_free);
    mark_json(context);
}

void refuse(sqlite3_context *context, int32_t status)
{
    if (status == PLW_E_MEMORY) {
        sqlite3_result_error_nomem(context);
        return;
    }
    char *message =
        sqlite3_mprintf("platewright: %s (%s)", plw_status_text(status), plw_status_name(status));
    if (message)
        sqlite3_result_error(context, message, -1);
    else
        sqlite3_result_error_nomem(context);
    sqlite3_free(message);
}

void refuse_format(sqlite3_context *context)
{
    sqlite3_result_error(context, "platewright: there is no such format (PLW_E_FLAGS)", -1);
}
