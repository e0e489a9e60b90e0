/* SPDX-License-Identifier: MIT */
#define PCRE2_CODE_UNIT_WIDTH 8
#include "rivals.h"

#include <pcre2.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "internal.h"

/* ---- loops over the bytes ------------------------------------------------ */

unsigned bench_byte_loop(const char *number)
{
    unsigned sum = 0;
    for (; *number; number++)
        sum += (unsigned char)*number;
    return sum;
}

unsigned bench_check_loop(const char *number)
{
    static const unsigned char values[26] = { 1, 2, 3, 4, 5, 6, 7, 8, 0, 1, 2, 3, 4,
                                              5, 0, 7, 0, 9, 2, 3, 4, 5, 6, 7, 8, 9 };
    static const unsigned char weights[17] = { 8, 7, 6, 5, 4, 3, 2, 10, 0,
                                               9, 8, 7, 6, 5, 4, 3, 2 };
    unsigned sum = 0;
    for (unsigned p = 0; p < 17 && number[p]; p++) {
        char c = number[p];
        sum += weights[p] * (c <= '9' ? (unsigned)(c - '0') : values[(c - 'A') % 26]);
    }
    return sum % 11;
}

/* ---- a pattern ------------------------------------------------------------ */

struct bench_pattern {
    pcre2_code *code;
    pcre2_match_data *data;
};

/* The first field of the layout that has the position, by its span. */
static uint32_t span_at(image_t image, const unsigned char *layout, uint32_t position)
{
    uint32_t span = plwi_u32(layout + LAYOUT_SPAN);
    while (!(plwi_u32(plwi_span(image, span) + SPAN_POSITIONS) >> position & 1))
        span++;
    return span;
}

static void write_pattern(const plw_result *result, char *text)
{
    image_t image = plwi_image(result->tables);
    const unsigned char *layout = plwi_layout(image, result->readings[0].layout);
    *text++ = '^';
    for (uint32_t p = 0; p < layout[LAYOUT_LENGTH]; p++) {
        uint64_t class = plwi_class(image, layout, p);
        if (p == 0 || span_at(image, layout, p) != span_at(image, layout, p - 1)) {
            if (p > 0)
                *text++ = ')';
            *text++ = '(';
        }
        *text++ = '[';
        for (unsigned c = 0; c < ALPHABET_SIZE; c++)
            if (class >> c & 1)
                *text++ = plwi_character(c);
        *text++ = ']';
    }
    memcpy(text, ")$", 3);
}

bench_pattern *bench_pattern_new(const plw_result *result)
{
    char text[MAX_POSITIONS * (ALPHABET_SIZE + 4) + 8];
    int error;
    PCRE2_SIZE offset;
    bench_pattern *pattern = malloc(sizeof *pattern);
    if (pattern == NULL)
        bench_give_up("no memory");
    write_pattern(result, text);
    pattern->code =
        pcre2_compile((PCRE2_SPTR)text, PCRE2_ZERO_TERMINATED, 0, &error, &offset, NULL);
    if (pattern->code == NULL || pcre2_jit_compile(pattern->code, PCRE2_JIT_COMPLETE) != 0)
        bench_give_up("PCRE2 cannot compile the pattern to machine code");
    pattern->data = pcre2_match_data_create_from_pattern(pattern->code, NULL);
    return pattern;
}

int bench_pattern_match(const bench_pattern *pattern, const char *number)
{
    return pcre2_jit_match(pattern->code, (PCRE2_SPTR)number, strlen(number), 0, 0, pattern->data,
                           NULL);
}

void bench_pattern_free(bench_pattern *pattern)
{
    pcre2_match_data_free(pattern->data);
    pcre2_code_free(pattern->code);
    free(pattern);
}

/* ---- look-ups in a database ------------------------------------------------ */

struct bench_lookups {
    sqlite3 *database;
    unsigned count;
    sqlite3_stmt *statement[BENCH_LOOKUPS];
    char code[BENCH_LOOKUPS][32];
};

static sqlite3_stmt *prepare(sqlite3 *database, const char *text)
{
    sqlite3_stmt *statement;
    if (sqlite3_prepare_v3(database, text, -1, SQLITE_PREPARE_PERSISTENT, &statement, NULL) !=
        SQLITE_OK)
        bench_give_up(sqlite3_errmsg(database));
    return statement;
}

static void run_text(sqlite3 *database, const char *text)
{
    if (sqlite3_exec(database, text, NULL, NULL, NULL) != SQLITE_OK)
        bench_give_up(sqlite3_errmsg(database));
}

static void fill(sqlite3 *database, const plw_tables *tables)
{
    run_text(database, "CREATE TABLE meaning (scheme INTEGER, field TEXT, code TEXT, words TEXT);"
                       "BEGIN");
    sqlite3_stmt *insert = prepare(database, "INSERT INTO meaning VALUES (?1, ?2, ?3, ?4)");
    for (uint32_t row = 0; row < plw_row_count(tables); row++) {
        sqlite3_bind_int64(insert, 1, plw_row_scheme(tables, row));
        sqlite3_bind_text(insert, 2, plw_row_field(tables, row), -1, SQLITE_STATIC);
        sqlite3_bind_text(insert, 3, plw_row_code(tables, row), -1, SQLITE_STATIC);
        sqlite3_bind_text(insert, 4, plw_row_words(tables, row), -1, SQLITE_STATIC);
        sqlite3_step(insert);
        sqlite3_reset(insert);
    }
    sqlite3_finalize(insert);
    run_text(database, "COMMIT; CREATE INDEX by_code ON meaning (scheme, field, code); ANALYZE");
}

bench_lookups *bench_lookups_new(const plw_result *result)
{
    bench_lookups *lookups = calloc(1, sizeof *lookups);
    if (lookups == NULL || sqlite3_open(":memory:", &lookups->database) != SQLITE_OK)
        bench_give_up("SQLite cannot open a database in memory");
    fill(lookups->database, result->tables);
    uint32_t fields = plw_field_count(result, 0);
    for (uint32_t i = 0; i < fields && lookups->count < BENCH_LOOKUPS; i++) {
        sqlite3_stmt **statement = &lookups->statement[lookups->count];
        char *code = lookups->code[lookups->count];
        if (plw_field_code(result, 0, i, code, sizeof lookups->code[0], NULL) != PLW_OK)
            continue;
        *statement = prepare(lookups->database, "SELECT words FROM meaning WHERE scheme = ?1 AND "
                                                "field = ?2 AND code = ?3");
        sqlite3_bind_int64(*statement, 1, plw_reading_scheme(result, 0));
        sqlite3_bind_text(*statement, 2, plw_field_name(result, 0, i), -1, SQLITE_STATIC);
        lookups->count++;
    }
    if (lookups->count < BENCH_LOOKUPS)
        bench_give_up("the number has too few fields to look up");
    return lookups;
}

unsigned bench_lookups_run(const bench_lookups *lookups)
{
    unsigned found = 0;
    for (unsigned i = 0; i < lookups->count; i++) {
        sqlite3_stmt *statement = lookups->statement[i];
        sqlite3_bind_text(statement, 3, lookups->code[i], -1, SQLITE_STATIC);
        if (sqlite3_step(statement) == SQLITE_ROW)
            found += sqlite3_column_text(statement, 0)[0];
        sqlite3_reset(statement);
    }
    return found;
}

void bench_lookups_free(bench_lookups *lookups)
{
    for (unsigned i = 0; i < lookups->count; i++)
        sqlite3_finalize(lookups->statement[i]);
    sqlite3_close(lookups->database);
    free(lookups);
}
