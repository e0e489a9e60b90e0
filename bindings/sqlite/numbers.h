/* SPDX-License-Identifier: MIT
 *
 * The SQL functions, by the verb behind them. Each takes the host as its user data.
 */
#ifndef NUMBERS_H
#define NUMBERS_H

#include "host.h"

typedef void sql_function(sqlite3_context *context, int count, sqlite3_value **values);

sql_function sql_grade;    /* number, hints, tables */
sql_function sql_json;     /* number, hints, claims, tables, names */
sql_function sql_suggest;  /* the same */
sql_function sql_explain;  /* number, format, hints, claims, tables, names */
sql_function sql_expect;   /* claims, format, hints, tables, names */
sql_function sql_covers;   /* pattern, number */
sql_function sql_prefix;   /* beginning, tables */
sql_function sql_tables;   /* tables */
sql_function sql_problems; /* names, tables */

sql_function sql_compare_step; /* place, text, format, hints, claims, tables, names */
void sql_compare_final(sqlite3_context *context);

#endif
