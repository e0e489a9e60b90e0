/* SPDX-License-Identifier: MIT
 *
 * What the library is measured against: the least that any decoder must do, and
 * what else a programmer would take for the job.
 */
#ifndef BENCH_RIVALS_H
#define BENCH_RIVALS_H

#include "platewright.h"

/* The sum of the bytes. */
unsigned bench_byte_loop(const char *number);

/* The check digit of a 17-character number, by two tables; nothing else. */
unsigned bench_check_loop(const char *number);

/* One match of the layout of the first reading: a class for each position, a
 * group for each field. */
typedef struct bench_pattern bench_pattern;
bench_pattern *bench_pattern_new(const plw_result *result);
int bench_pattern_match(const bench_pattern *pattern, const char *number);
void bench_pattern_free(bench_pattern *pattern);

/* All rows in one table in memory, with an index, and a prepared statement for
 * each of BENCH_LOOKUPS fields of the first reading. */
#define BENCH_LOOKUPS 6
typedef struct bench_lookups bench_lookups;
bench_lookups *bench_lookups_new(const plw_result *result);
unsigned bench_lookups_run(const bench_lookups *lookups);
void bench_lookups_free(bench_lookups *lookups);

/* Ends the program with a message. */
void bench_give_up(const char *what);

#endif
