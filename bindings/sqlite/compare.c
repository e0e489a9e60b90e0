/* SPDX-License-Identifier: MIT
 *
 * The aggregate plw_compare: each row is a plate or a date of one car.
 */
#include "numbers.h"

#include <string.h>

SQLITE_EXTENSION_INIT3

/* What lives from the first row to the answer. Hints and claims are copies. */
typedef struct {
    plw_car *car;
    setting *with;
    char *hints;
    char *claims;
    int32_t format;
    int32_t status;
} group;

static int32_t explain_source(const void *object, int32_t format, char *buffer, size_t capacity,
                              size_t *needed)
{
    return plw_explain_car(object, format, 0, buffer, capacity, needed);
}

static int32_t copy_text(sqlite3_value *value, const char *text, char **copy)
{
    *copy = value && text ? sqlite3_mprintf("%s", text) : NULL;
    return value && *copy == NULL ? PLW_E_MEMORY : PLW_OK;
}

static int32_t make_car(plw_car **car)
{
    size_t size = plw_car_size();
    void *memory = sqlite3_malloc64(size);
    return memory ? plw_car_place(memory, size, car) : PLW_E_MEMORY;
}

/* What the first row says holds for the group. */
static int32_t begin(group *made, host *of, int count, sqlite3_value **values)
{
    int32_t status;
    sqlite3_value *hints = argument(count, values, 3);
    sqlite3_value *claims = argument(count, values, 4);
    made->format = format_or_json(argument(count, values, 2));
    setting *with =
        host_setting(of, argument(count, values, 5), argument(count, values, 6), &status);
    if (with == NULL)
        return status;
    setting_hold(with);
    made->with = with;
    if (hints_of(hints) == NULL)
        return PLW_E_HINT;
    status = copy_text(hints, hints_of(hints), &made->hints);
    if (status == PLW_OK)
        status = copy_text(claims, claims ? (const char *)sqlite3_value_text(claims) : NULL,
                           &made->claims);
    if (status == PLW_OK)
        status = make_car(&made->car);
    if (status == PLW_OK)
        status = plw_car_use_names(made->car, with->names);
    return status;
}

/* The number of a name that a function gives to numbers from 1 on; 0 for none. */
static int32_t number_of(const char *(*name_of)(int32_t), const char *name)
{
    for (int32_t number = 1; *name_of(number); number++)
        if (strcmp(name_of(number), name) == 0)
            return number;
    return 0;
}

/* A plate at "engine", or a date at "date_casting". */
static int32_t add(plw_car *car, const char *where, const char *text, size_t length)
{
    if (strncmp(where, "date_", 5) == 0)
        return plw_car_add_date(car, number_of(plw_date_kind_name, where + 5), text, length);
    return plw_car_add_plate(car, number_of(plw_place_name, where), text, length);
}

void sql_compare_step(sqlite3_context *context, int count, sqlite3_value **values)
{
    group *of = sqlite3_aggregate_context(context, sizeof(group));
    if (of == NULL) {
        refuse(context, PLW_E_MEMORY);
        return;
    }
    if (of->with == NULL && of->status == PLW_OK)
        of->status = begin(of, sqlite3_user_data(context), count, values);
    if (of->status != PLW_OK || of->format < 0)
        return;
    if (argument(count, values, 0) == NULL || argument(count, values, 1) == NULL)
        return;
    const char *where = (const char *)sqlite3_value_text(values[0]);
    const char *text = (const char *)sqlite3_value_text(values[1]);
    size_t length = (size_t)sqlite3_value_bytes(values[1]);
    of->status = where && text ? add(of->car, where, text, length) : PLW_E_MEMORY;
}

static int32_t compare(group *of)
{
    int32_t status = of->status;
    if (status == PLW_OK)
        status = plw_compare(of->with->tables, of->car, of->hints, 0);
    if (status == PLW_OK && of->claims)
        status = plw_car_check_claims(of->car, of->claims, strlen(of->claims));
    return status;
}

void sql_compare_final(sqlite3_context *context)
{
    group *of = sqlite3_aggregate_context(context, 0);
    if (of == NULL)
        return;
    int32_t status = of->format < 0 ? PLW_OK : compare(of);
    if (of->format < 0)
        refuse_format(context);
    else if (status != PLW_OK)
        refuse(context, status);
    else
        answer_text(context, explain_source, of->car, of->format);
    sqlite3_free(of->car);
    sqlite3_free(of->hints);
    sqlite3_free(of->claims);
    setting_release(of->with);
}
