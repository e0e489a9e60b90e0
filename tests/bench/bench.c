/* SPDX-License-Identifier: MIT
 *
 * make bench: what each call costs beside other ways to do the job, and what it
 * costs when the tables grow. All is measured in one run, in rounds that take the
 * contestants in turn; the medians of the rounds are told, and their ratios.
 * Ratios carry from machine to machine, nanoseconds do not.
 *
 *   bench TABLE-FILE...
 */
#define _POSIX_C_SOURCE 200809L
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "grown.h"
#include "platewright.h"
#include "rivals.h"

#define ROUNDS 21
#define ROUND_NANOSECONDS 2e6 /* that one contestant runs in a round */
#define TEXT_SIZE (1u << 20)

/* ---- the heap, as the linker wraps it ------------------------------------------- */

static unsigned long allocations;

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *memory, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *memory, size_t size);

void *__wrap_malloc(size_t size)
{
    allocations++;
    return __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    allocations++;
    return __real_calloc(count, size);
}

void *__wrap_realloc(void *memory, size_t size)
{
    allocations++;
    return __real_realloc(memory, size);
}

/* ---- contestants ------------------------------------------------------------------ */

typedef struct job {
    const char *number;
    size_t length;
    const plw_tables *tables;
    plw_result *result;    /* overwritten by each call */
    plw_result *validated; /* stays, to be explained */
    plw_car *car;
    plw_expectation *expectation;
    bench_pattern *pattern;
    bench_lookups *lookups;
} job;

static volatile unsigned sink; /* so that no call is optimised away */
static char out[TEXT_SIZE];

void bench_give_up(const char *what)
{
    fprintf(stderr, "bench: %s\n", what);
    exit(1);
}

static void run_bytes(const job *j)
{
    sink += bench_byte_loop(j->number);
}

static void run_check(const job *j)
{
    sink += bench_check_loop(j->number);
}

static void run_pattern(const job *j)
{
    sink += (unsigned)bench_pattern_match(j->pattern, j->number);
}

static void run_lookups(const job *j)
{
    sink += bench_lookups_run(j->lookups);
}

static void run_decode(const job *j)
{
    sink += (unsigned)plw_decode(j->tables, j->number, j->length, NULL, 0, j->result);
}

static void run_validate(const job *j)
{
    sink += (unsigned)plw_validate(j->tables, j->number, j->length, NULL, 0, j->result);
}

static void run_grade(const job *j)
{
    int32_t grade;
    plw_grade(j->tables, j->number, j->length, NULL, 0, &grade);
    sink += (unsigned)grade;
}

static void run_prefix(const job *j)
{
    sink += (unsigned)plw_prefix(j->tables, j->number, j->length - 6, 0, j->result);
}

static void run_compare(const job *j)
{
    plw_car_clear(j->car);
    plw_car_add_plate(j->car, PLW_PLACE_DASH, j->number, j->length);
    plw_car_add_plate(j->car, PLW_PLACE_DOOR_LABEL, j->number, j->length);
    sink += (unsigned)plw_compare(j->tables, j->car, NULL, 0);
}

static void run_expect(const job *j)
{
    static const char claims[] = "year=1970;cyl=8";
    sink += (unsigned)plw_expect(j->tables, claims, sizeof claims - 1, NULL, 0, j->expectation);
}

static void run_text(const job *j)
{
    sink += (unsigned)plw_explain(j->validated, PLW_FORMAT_TEXT, 0, out, sizeof out, NULL);
}

static void run_json(const job *j)
{
    sink += (unsigned)plw_explain(j->validated, PLW_FORMAT_JSON, 0, out, sizeof out, NULL);
}

static void run_svg(const job *j)
{
    sink += (unsigned)plw_explain(j->validated, PLW_FORMAT_SVG, 0, out, sizeof out, NULL);
}

enum contestant {
    BYTES, CHECK, PATTERN, LOOKUPS, DECODE, VALIDATE, GRADE, PREFIX, COMPARE, EXPLAIN_TEXT,
    EXPLAIN_JSON, EXPLAIN_SVG, EXPECT, CONTESTANTS
};

static const struct {
    const char *name;
    void (*run)(const job *j);
} contestants[CONTESTANTS] = {
    { "loop over the bytes", run_bytes },
    { "loop of the check digit", run_check },
    { "PCRE2 match, compiled", run_pattern },
    { "six SQLite look-ups", run_lookups },
    { "plw_decode", run_decode },
    { "plw_validate", run_validate },
    { "plw_grade", run_grade },
    { "plw_prefix", run_prefix },
    { "plw_compare, two plates", run_compare },
    { "plw_explain, text", run_text },
    { "plw_explain, JSON", run_json },
    { "plw_explain, SVG", run_svg },
    { "plw_expect", run_expect },
};

/* ---- the clock ----------------------------------------------------------------------- */

/* Of this program only, so that others on the machine count less. */
static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e9 + (double)t.tv_nsec;
}

/* Nanoseconds of one call, over so many. */
static double measure(void (*run)(const job *), const job *j, unsigned long calls)
{
    double start = now();
    for (unsigned long i = 0; i < calls; i++)
        run(j);
    return (now() - start) / (double)calls;
}

/* So many calls that they take about as long as a round. */
static unsigned long calls_of_a_round(void (*run)(const job *), const job *j)
{
    unsigned long calls = 1;
    while (calls < 1000000 && measure(run, j, calls) * (double)calls < ROUND_NANOSECONDS)
        calls *= 2;
    return calls;
}

static int compare_numbers(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double numbers[ROUNDS])
{
    qsort(numbers, ROUNDS, sizeof *numbers, compare_numbers);
    return numbers[ROUNDS / 2];
}

static void race(const job *j, double medians[CONTESTANTS])
{
    static double taken[CONTESTANTS][ROUNDS];
    unsigned long calls[CONTESTANTS];
    for (unsigned c = 0; c < CONTESTANTS; c++)
        calls[c] = calls_of_a_round(contestants[c].run, j);
    for (unsigned r = 0; r < ROUNDS; r++)
        for (unsigned c = 0; c < CONTESTANTS; c++)
            taken[c][r] = measure(contestants[c].run, j, calls[c]);
    for (unsigned c = 0; c < CONTESTANTS; c++)
        medians[c] = median(taken[c]);
}

/* ---- one number --------------------------------------------------------------------- */

static job open_job(const char *number)
{
    job j = { .number = number, .length = strlen(number) };
    if (plw_result_new(&j.result) != PLW_OK || plw_result_new(&j.validated) != PLW_OK ||
        plw_car_new(&j.car) != PLW_OK || plw_expectation_new(&j.expectation) != PLW_OK)
        bench_give_up("no memory");
    plw_validate(NULL, j.number, j.length, NULL, 0, j.validated);
    if (plw_reading_count(j.validated) == 0)
        bench_give_up("the number has no reading");
    j.pattern = bench_pattern_new(j.validated);
    j.lookups = bench_lookups_new(j.validated);
    if (bench_pattern_match(j.pattern, j.number) < 1 || bench_lookups_run(j.lookups) == 0)
        bench_give_up("pattern or look-ups do not take the number");
    return j;
}

static void close_job(job *j)
{
    bench_pattern_free(j->pattern);
    bench_lookups_free(j->lookups);
    plw_expectation_free(j->expectation);
    plw_car_free(j->car);
    plw_result_free(j->validated);
    plw_result_free(j->result);
}

static unsigned long allocations_of_a_decode(const job *j)
{
    unsigned long before = allocations;
    run_validate(j);
    return allocations - before;
}

/* The same with larger tables: verbs that look into them, by how much slower. */
static void grow(job *j, const double medians[CONTESTANTS], const plw_tables *tables,
                 unsigned times)
{
    static const enum contestant looking[] = { DECODE, VALIDATE, PREFIX, COMPARE };
    printf("  with %3u x the rows (%u):", times, plw_row_count(tables));
    j->tables = tables;
    for (size_t i = 0; i < sizeof looking / sizeof *looking; i++) {
        void (*run)(const job *) = contestants[looking[i]].run;
        double taken[ROUNDS];
        unsigned long calls = calls_of_a_round(run, j);
        for (unsigned r = 0; r < ROUNDS; r++)
            taken[r] = measure(run, j, calls);
        printf("  %s %.2f x", contestants[looking[i]].name, median(taken) / medians[looking[i]]);
    }
    printf("\n");
    j->tables = NULL;
}

static void report(job *j, const plw_tables *ten, const plw_tables *hundred)
{
    double medians[CONTESTANTS];
    race(j, medians);
    printf("%s, %zu characters, %u reading%s, %lu allocations\n", j->number, j->length,
           plw_reading_count(j->validated), plw_reading_count(j->validated) == 1 ? "" : "s",
           allocations_of_a_decode(j));
    for (unsigned c = 0; c < CONTESTANTS; c++)
        printf("  %-24s %10.1f ns %9.2f x plw_validate\n", contestants[c].name, medians[c],
               medians[c] / medians[VALIDATE]);
    printf("  plw_validate is %.1f x the PCRE2 match, %.1f x the loop of the check digit; the six "
           "look-ups are %.1f x plw_validate\n",
           medians[VALIDATE] / medians[PATTERN], medians[VALIDATE] / medians[CHECK],
           medians[LOOKUPS] / medians[VALIDATE]);
    grow(j, medians, ten, 10);
    grow(j, medians, hundred, 100);
}

int main(int count, char **arguments)
{
    static const char *const numbers[] = { "RM23V0A149789", "1G4AH59H45G118341" };
    const plw_tables *ten = bench_grown_tables(arguments + 1, count - 1, 10);
    const plw_tables *hundred = bench_grown_tables(arguments + 1, count - 1, 100);
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        job j = open_job(numbers[i]);
        report(&j, ten, hundred);
        close_job(&j);
    }
    return 0;
}
