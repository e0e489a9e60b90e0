/* SPDX-License-Identifier: MIT
 *
 * Tables of many times the rows: the real ones, and behind them invented schemes
 * of the same lengths that take none of the numbers of the bench.
 */
#ifndef BENCH_GROWN_H
#define BENCH_GROWN_H

#include "platewright.h"

/* Reads the table files and lets the tables grow to about so many times their
 * rows. The image stays in memory until the program ends. */
const plw_tables *bench_grown_tables(char **files, int count, unsigned times);

#endif
