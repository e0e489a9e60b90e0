/* SPDX-License-Identifier: MIT
 *
 * Table-valued functions: each is a query over the JSON of another function.
 */
#ifndef QUERIES_H
#define QUERIES_H

#include <sqlite3ext.h>

/* Registers plw_fields, plw_findings, plw_claims, plw_patterns and plw_schemes; an SQLite
 * code. */
int register_queries(sqlite3 *database);

#endif
