/* SPDX-License-Identifier: MIT
 *
 * Platewright as a loadable extension of SQLite. README.md lists its functions.
 */
#include "numbers.h"
#include "queries.h"

SQLITE_EXTENSION_INIT1

#ifndef SQLITE_RESULT_SUBTYPE
#define SQLITE_RESULT_SUBTYPE 0 /* before SQLite 3.45 */
#endif

static const struct {
    const char *name;
    int fewest;
    int most;
    sql_function *function;
    sql_function *step;
    void (*final)(sqlite3_context *context);
} functions[] = {
    { "plw_grade", 1, 3, sql_grade, NULL, NULL },
    { "plw_json", 1, 5, sql_json, NULL, NULL },
    { "plw_suggest", 1, 5, sql_suggest, NULL, NULL },
    { "plw_explain", 1, 6, sql_explain, NULL, NULL },
    { "plw_expect", 1, 5, sql_expect, NULL, NULL },
    { "plw_covers", 2, 2, sql_covers, NULL, NULL },
    { "plw_prefix", 1, 2, sql_prefix, NULL, NULL },
    { "plw_tables", 0, 1, sql_tables, NULL, NULL },
    { "plw_name_problems", 1, 2, sql_problems, NULL, NULL },
    { "plw_compare", 2, 7, NULL, sql_compare_step, sql_compare_final },
};

/* The same tables give the same answers, and no function has an effect: all can be
 * used in indexes, generated columns, views and triggers. */
static const int properties =
    SQLITE_UTF8 | SQLITE_DETERMINISTIC | SQLITE_INNOCUOUS | SQLITE_RESULT_SUBTYPE;

static int register_functions(sqlite3 *database, host *of)
{
    for (size_t i = 0; i < sizeof functions / sizeof *functions; i++)
        for (int count = functions[i].fewest; count <= functions[i].most; count++) {
            /* SQLite lets the host go, also when it fails. */
            of->references++;
            int code = sqlite3_create_function_v2(database, functions[i].name, count, properties,
                                                  of, functions[i].function, functions[i].step,
                                                  functions[i].final, host_release);
            if (code != SQLITE_OK)
                return code;
        }
    return SQLITE_OK;
}

/* The same major release as the header, and not an older one. */
static int suits(uint32_t running)
{
    return running / 10000 == PLW_VERSION_NUMBER / 10000 && running >= PLW_VERSION_NUMBER;
}

__attribute__((visibility("default"))) int
sqlite3_platewright_init(sqlite3 *database, char **problem, const sqlite3_api_routines *api);

int sqlite3_platewright_init(sqlite3 *database, char **problem, const sqlite3_api_routines *api)
{
    SQLITE_EXTENSION_INIT2(api);
    if (!suits(plw_version_number())) {
        *problem = sqlite3_mprintf("this extension was compiled for platewright %s; the library "
                                   "found has number %u",
                                   PLW_VERSION_TEXT, plw_version_number());
        return SQLITE_ERROR;
    }
    host *of = host_new();
    if (of == NULL)
        return SQLITE_NOMEM;
    int code = register_functions(database, of);
    host_release(of);
    return code == SQLITE_OK ? register_queries(database) : code;
}
