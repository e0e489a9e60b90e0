/* SPDX-License-Identifier: MIT
 *
 * Memory: one walk calls every function of the library. It is gone through again
 * with each of its allocations failing, once or from then on: the call says so,
 * nothing leaks, what was there before is as it was, and a host goes on with
 * memory of its own to the same answers. No other call touches the heap.
 *
 * malloc and its kin are wrapped by the linker.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../tables/compile/compile.h"
#include "fixture.h"
#include "probe.h"

/* ---- the heap --------------------------------------------------------------------- */

/* Only what happens while a call of the library is watched counts: Check allocates, too. */
static struct {
    int watched;
    int attempts; /* allocations asked for, in the whole walk */
    int fail_at;  /* the attempt that fails, from 1; 0: none */
    int stays;    /* and all behind it */
    int failures;
    int held; /* given and not yet given back */
} heap;

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *memory, size_t size);
void __real_free(void *memory);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *memory, size_t size);
void __wrap_free(void *memory);

static int heap_refuses(void)
{
    if (!heap.watched)
        return 0;
    heap.attempts++;
    int refuses = heap.fail_at > 0 && (heap.attempts == heap.fail_at ||
                                       (heap.stays && heap.attempts > heap.fail_at));
    heap.failures += refuses;
    return refuses;
}

static void *given(void *memory)
{
    heap.held += heap.watched && memory != NULL;
    return memory;
}

void *__wrap_malloc(size_t size)
{
    return heap_refuses() ? NULL : given(__real_malloc(size));
}

void *__wrap_calloc(size_t count, size_t size)
{
    return heap_refuses() ? NULL : given(__real_calloc(count, size));
}

void *__wrap_realloc(void *memory, size_t size)
{
    if (heap_refuses())
        return NULL;
    return memory == NULL ? given(__real_realloc(NULL, size)) : __real_realloc(memory, size);
}

void __wrap_free(void *memory)
{
    heap.held -= heap.watched && memory != NULL;
    __real_free(memory);
}

/* Each allocation that is asked for fails, until the heap is opened. */
static void close_heap(void)
{
    memset(&heap, 0, sizeof heap);
    heap.watched = heap.stays = heap.fail_at = 1;
}

static void open_heap(void)
{
    heap.watched = 0;
}

/* ---- the walk --------------------------------------------------------------------- */

#define JOURNAL_SIZE (1u << 19)
#define TEXT_SIZE (1u << 17)

/* What all calls of a walk answered, one behind the other. */
typedef struct journal {
    char text[JOURNAL_SIZE];
    size_t length;
} journal;

typedef struct objects {
    plw_result *result;
    plw_names *names;
    plw_car *car;
    plw_expectation *expectation;
} objects;

typedef struct walk {
    const unsigned char *image;
    size_t image_size;
    const plw_tables *tables;
    objects placed; /* in memory of the host's */
    objects made;   /* on the heap */
    objects used;
    journal *answers;
    const journal *expected; /* NULL: not known yet */
    const char *function;    /* that is called */
    int attempts, held;      /* as they were before */
    char text[TEXT_SIZE];
} walk;

static uint64_t result_memory[1 << 15], names_memory[1 << 12], car_memory[1 << 16],
    expectation_memory[1 << 17];

/* The functions that walks called. */
static const char *called[1024];
static size_t call_count;

static void begin(walk *w, const char *function)
{
    called[call_count++ % (sizeof called / sizeof *called)] = function;
    w->function = function;
    w->text[0] = '\0';
    w->attempts = heap.attempts;
    w->held = heap.held;
    heap.watched = 1;
}

/* The call is over: so many allocations were asked for, so many given back or kept. */
static void end(const walk *w, int attempts, int held)
{
    heap.watched = 0;
    if (heap.attempts - w->attempts != attempts)
        ck_abort_msg("%s asks %d times for memory", w->function, heap.attempts - w->attempts);
    if (heap.held - w->held != held)
        ck_abort_msg("%s keeps %d blocks", w->function, heap.held - w->held);
}

static void put(journal *j, const char *text)
{
    size_t length = strlen(text) + 1;
    ck_assert_uint_le(length, sizeof j->text - j->length);
    memcpy(j->text + j->length, text, length);
    j->length += length;
}

/* Another walk had the same answer here. */
static void answered(const walk *w, int64_t number, const char *text)
{
    char line[128];
    size_t start = w->answers->length;
    snprintf(line, sizeof line, "%s %lld", w->function, (long long)number);
    put(w->answers, line);
    put(w->answers, text);
    if (w->expected != NULL && memcmp(w->answers->text + start, w->expected->text + start,
                                      w->answers->length - start) != 0)
        ck_abort_msg("%s answers %s, \"%.200s\", where it was %s", w->function, line, text,
                     w->expected->text + start);
}

static void number_answered(const walk *w, int64_t number)
{
    end(w, 0, 0);
    answered(w, number, "");
}

static void words_answered(const walk *w, const char *words)
{
    end(w, 0, 0);
    if (words == NULL || words[0] == '\0')
        ck_abort_msg("%s says nothing", w->function);
    answered(w, 0, words);
}

static void status_answered(const walk *w, int32_t status)
{
    end(w, 0, 0);
    if (status != PLW_OK)
        ck_abort_msg("%s: %s", w->function, plw_status_name(status));
    answered(w, status, w->text);
}

static void object_answered(const walk *w, const void *object)
{
    end(w, 0, 0);
    if (object == NULL)
        ck_abort_msg("%s gives nothing", w->function);
    answered(w, 0, "");
}

/* Answers of a kind: numbers, words that are not empty, a status that must be good
 * and the text that came with it, an object that belongs to somebody else, nothing. */
#define NUMBER(function, arguments) \
    (begin(w, #function), number_answered(w, (int64_t)function arguments))
#define WORDS(function, arguments) (begin(w, #function), words_answered(w, function arguments))
#define STATUS(function, arguments) (begin(w, #function), status_answered(w, function arguments))
#define BORROWED(function, arguments) (begin(w, #function), object_answered(w, function arguments))
#define NOTHING(function, arguments) \
    (begin(w, #function), function arguments, number_answered(w, 0))
#define ROOM w->text, sizeof w->text, NULL

/* Gives an object back, if there is one. */
#define FREE(function, object) \
    (begin(w, #function), function(w->made.object), end(w, 0, w->made.object != NULL ? -1 : 0), \
     w->made.object = NULL, answered(w, 0, ""))

/* All that the objects in use say. */
static void ask_all(const walk *w, journal *j)
{
    static char text[TEXT_SIZE];
    j->length = 0;
    ck_assert_int_eq(plw_explain(w->used.result, PLW_FORMAT_JSON, PLW_EXPLAIN_SOURCES, text,
                                 sizeof text, NULL), PLW_OK);
    put(j, text);
    ck_assert_int_eq(plw_explain_car(w->used.car, PLW_FORMAT_JSON, PLW_EXPLAIN_SOURCES, text,
                                     sizeof text, NULL), PLW_OK);
    put(j, text);
    ck_assert_int_eq(plw_explain_expectation(w->used.expectation, PLW_FORMAT_JSON,
                                             PLW_EXPLAIN_SOURCES, text, sizeof text, NULL), PLW_OK);
    put(j, text);
    ck_assert_int_eq(plw_names_problem_text(w->used.names, 0, text, sizeof text, NULL), PLW_OK);
    put(j, text);
    put(j, plw_names_title(w->used.names, 0));
    ck_assert_int_eq(plw_tables_digest(w->tables, text, sizeof text, NULL), PLW_OK);
    put(j, text);
}

/* What they said before the call, and how many allocations had failed. */
static journal before;
static int failures_before;

static void begin_making(walk *w, const char *function)
{
    ask_all(w, &before);
    failures_before = heap.failures;
    begin(w, function);
}

/* Whether the function that ends in _new made the object. If not, it says so, and
 * nothing of what there was has changed. */
static int was_made(const walk *w, int32_t status, const void *object)
{
    static journal after;
    int failed = heap.failures > failures_before;
    end(w, 1, failed ? 0 : 1);
    if (status != (failed ? PLW_E_MEMORY : PLW_OK))
        ck_abort_msg("%s: %s", w->function, plw_status_name(status));
    if (object == w || (object == NULL) != failed)
        ck_abort_msg("%s: %s, but an object", w->function, plw_status_name(status));
    ask_all(w, &after);
    if (before.length != after.length || memcmp(before.text, after.text, after.length) != 0)
        ck_abort_msg("%s changes what was there", w->function);
    return !failed;
}

/* Makes an object, by the second try if the first one fails; if that fails, too, the
 * one in the host's memory stays in use. */
#define MAKE(function, arguments, object) \
    do { \
        int done = 0; \
        for (int tries = 0; tries < 2 && !done; tries++) { \
            w->made.object = (void *)w; /* neither NULL nor an object */ \
            begin_making(w, #function); \
            int32_t status = function arguments; \
            done = was_made(w, status, w->made.object); \
        } \
        if (done) \
            w->used.object = w->made.object; \
        answered(w, 0, ""); \
    } while (0)

/* ---- every function: what they are asked about ----------------------------------- */

static const char number[] = "S23R6N500123", stamped[] = "T24M6P100051";
static const char claims[] = "year=1966; engine=212; body=sedan";
static const char words[] = "scheme/port-ellery-1962 = Wexcombe\nfield/engine = motor\nnonsense\n";
#define LENGTH(text) (sizeof(text) - 1)

static uint32_t row_of(const walk *w, const char *key)
{
    char found[128];
    uint32_t row = 0;
    while (plw_row_key(w->tables, row, found, sizeof found, NULL) == PLW_OK &&
           strcmp(found, key) != 0)
        row++;
    ck_assert_uint_lt(row, plw_row_count(w->tables));
    return row;
}

static void walk_constants(walk *w)
{
    int64_t value;
    NUMBER(plw_version_number, ());
    WORDS(plw_version_text, ());
    WORDS(plw_status_name, (PLW_E_MEMORY));
    WORDS(plw_status_text, (PLW_E_MEMORY));
    NUMBER(plw_constant_count, ());
    WORDS(plw_constant_name, (0));
    NUMBER(plw_constant_value, (0));
    STATUS(plw_constant, ("PLW_MAX_TEXT", &value));
    WORDS(plw_standing_name, (PLW_STANDING_PRACTICE));
    WORDS(plw_grade_name, (PLW_GRADE_DOUBT));
    WORDS(plw_verdict_name, (PLW_VERDICT_SUPPORTED));
    WORDS(plw_reason_name, (PLW_REASON_NEAR));
    WORDS(plw_place_name, (PLW_PLACE_ENGINE));
    WORDS(plw_place_label, (PLW_PLACE_ENGINE));
    WORDS(plw_plate_verdict_name, (PLW_PLATE_AGREES));
    WORDS(plw_date_kind_name, (PLW_DATE_LABEL));
    WORDS(plw_date_kind_label, (PLW_DATE_LABEL));
    WORDS(plw_date_verdict_name, (PLW_DATE_VERDICT_FITS));
    WORDS(plw_date_reason_name, (PLW_DATE_REASON_NO_DAY));
    BORROWED(plw_tables_builtin, ());
}

static void walk_tables(walk *w)
{
    STATUS(plw_tables_open, (w->image, w->image_size, 0, &w->tables));
    WORDS(plw_tables_edition, (w->tables));
    STATUS(plw_tables_digest, (w->tables, ROOM));
    NUMBER(plw_scheme_count, (w->tables));
    WORDS(plw_scheme_key, (w->tables, 0));
    WORDS(plw_scheme_title, (w->tables, 0));
    NUMBER(plw_scheme_first_year, (w->tables, 0));
    NUMBER(plw_scheme_last_year, (w->tables, 0));
    NUMBER(plw_scheme_first_row, (w->tables, 0));
    NUMBER(plw_scheme_row_count, (w->tables, 0));
    NUMBER(plw_layout_count, (w->tables, 0));
    NUMBER(plw_layout_length, (w->tables, 0, 0));
    WORDS(plw_layout_sample, (w->tables, 0, 0));
    NUMBER(plw_source_count, (w->tables));
    WORDS(plw_source_key, (w->tables, 2));
    WORDS(plw_source_citation, (w->tables, 2));
    WORDS(plw_source_address, (w->tables, 2));
    NUMBER(plw_caution_count, (w->tables));
    WORDS(plw_caution_text, (w->tables, 0));
}

static void walk_rows(walk *w)
{
    uint32_t row = row_of(w, "port-ellery-1962/body/23/1964/line=S");
    uint32_t engine = row_of(w, "port-ellery-1962/engine/R/1964");
    uint32_t remarked = row_of(w, "port-ellery-1962/line/H/1970");
    int64_t thousandths;
    NUMBER(plw_row_count, (w->tables));
    NUMBER(plw_row_scheme, (w->tables, row));
    STATUS(plw_row_key, (w->tables, row, ROOM));
    WORDS(plw_row_field, (w->tables, row));
    WORDS(plw_row_label, (w->tables, row));
    WORDS(plw_row_code, (w->tables, row));
    WORDS(plw_row_words, (w->tables, row));
    WORDS(plw_row_remark, (w->tables, remarked));
    STATUS(plw_row_condition, (w->tables, row, ROOM));
    NUMBER(plw_row_standing, (w->tables, row));
    NUMBER(plw_row_marks, (w->tables, row));
    NUMBER(plw_row_holds_in, (w->tables, row, 1966));
    NUMBER(plw_row_first_year, (w->tables, row));
    NUMBER(plw_row_last_year, (w->tables, row));
    NUMBER(plw_row_attribute_count, (w->tables, row));
    WORDS(plw_row_attribute_name, (w->tables, row, 0));
    STATUS(plw_row_attribute_text, (w->tables, row, 0, ROOM));
    STATUS(plw_row_quantity, (w->tables, engine, "cc", &thousandths));
    NUMBER(plw_row_source_count, (w->tables, row));
    NUMBER(plw_row_source, (w->tables, row, 0));
}

static void walk_places(walk *w)
{
    NUMBER(plw_result_size, ());
    STATUS(plw_result_place, (result_memory, sizeof result_memory, &w->placed.result));
    NUMBER(plw_names_size, (words, LENGTH(words)));
    STATUS(plw_names_place, (w->tables, words, LENGTH(words), names_memory, sizeof names_memory,
                             &w->placed.names));
    NUMBER(plw_car_size, ());
    STATUS(plw_car_place, (car_memory, sizeof car_memory, &w->placed.car));
    NUMBER(plw_expectation_size, ());
    STATUS(plw_expectation_place, (expectation_memory, sizeof expectation_memory,
                                   &w->placed.expectation));
    w->used = w->placed;
}

static void walk_names(walk *w)
{
    NUMBER(plw_names_problem_count, (w->used.names));
    NUMBER(plw_names_problem_line, (w->used.names, 0));
    STATUS(plw_names_problem_text, (w->used.names, 0, ROOM));
    WORDS(plw_names_title, (w->used.names, 0));
    STATUS(plw_result_use_names, (w->used.result, w->used.names));
    STATUS(plw_car_use_names, (w->used.car, w->used.names));
    STATUS(plw_expectation_use_names, (w->used.expectation, w->used.names));
}

static void walk_verdicts(walk *w)
{
    const size_t ends[] = { 3, LENGTH(number) };
    int32_t grade, rows[2 * PLW_BATCH_COLUMNS];
    STATUS(plw_grade, (w->tables, number, LENGTH(number), "year=1966", 0, &grade));
    STATUS(plw_batch, (w->tables, number, ends, 2, "year=1966", 0, rows));
    STATUS(plw_prefix, (w->tables, number, 4, 0, w->used.result));
    NUMBER(plw_prefix_state, (w->used.result));
    NUMBER(plw_prefix_scheme_count, (w->used.result));
    NUMBER(plw_prefix_scheme, (w->used.result, 0));
    STATUS(plw_prefix_allowed, (w->used.result, ROOM));
    STATUS(plw_prefix_known, (w->used.result, ROOM));
    NUMBER(plw_prefix_remaining_min, (w->used.result));
    NUMBER(plw_prefix_remaining_max, (w->used.result));
}

static void walk_readings(walk *w)
{
    int32_t expected_check;
    size_t offset, length;
    STATUS(plw_decode, (w->tables, stamped, LENGTH(stamped), "year=1966", 0, w->used.result));
    STATUS(plw_result_number, (w->used.result, ROOM));
    NUMBER(plw_result_position_count, (w->used.result));
    STATUS(plw_result_position, (w->used.result, 3, &offset, &length));
    NUMBER(plw_reading_count, (w->used.result));
    NUMBER(plw_reading_scheme, (w->used.result, 0));
    WORDS(plw_reading_title, (w->used.result, 0));
    NUMBER(plw_reading_year_count, (w->used.result, 0));
    NUMBER(plw_reading_year, (w->used.result, 0, 0));
    STATUS(plw_reading_number, (w->used.result, 0, ROOM));
    NUMBER(plw_reading_grade, (w->used.result, 0));
    NUMBER(plw_reading_check, (w->used.result, 0, &expected_check));
    NUMBER(plw_stamp_count, (w->used.result, 0));
    NUMBER(plw_stamp_row, (w->used.result, 0, 0));
    STATUS(plw_stamp_text, (w->used.result, 0, 0, ROOM));
}

static void walk_fields(walk *w)
{
    NUMBER(plw_field_count, (w->used.result, 0));
    WORDS(plw_field_name, (w->used.result, 0, 1));
    WORDS(plw_field_label, (w->used.result, 0, 1));
    NUMBER(plw_field_positions, (w->used.result, 0, 1));
    NUMBER(plw_field_state, (w->used.result, 0, 1));
    NUMBER(plw_field_is_detail, (w->used.result, 0, 1));
    STATUS(plw_field_code, (w->used.result, 0, 1, ROOM));
    NUMBER(plw_field_row_count, (w->used.result, 0, 1));
    NUMBER(plw_field_row, (w->used.result, 0, 1, 0));
    WORDS(plw_field_words, (w->used.result, 0, 1, 0));
    NUMBER(plw_field_excludes_year, (w->used.result, 0, 1, 1976));
    NUMBER(plw_possible_count, (w->used.result, 0, 4));
    NUMBER(plw_possible_character, (w->used.result, 0, 4, 0));
    NUMBER(plw_possible_row_count, (w->used.result, 0, 4, 0));
    NUMBER(plw_possible_row, (w->used.result, 0, 4, 0, 0));
}

static void walk_findings(walk *w)
{
    STATUS(plw_validate, (w->tables, "T31?5P100051", 12, NULL, 0, w->used.result));
    NUMBER(plw_finding_count, (w->used.result));
    NUMBER(plw_finding_code, (w->used.result, 0));
    WORDS(plw_finding_name, (w->used.result, 0));
    NUMBER(plw_finding_grade, (w->used.result, 0));
    NUMBER(plw_finding_reading, (w->used.result, 0));
    NUMBER(plw_finding_positions, (w->used.result, 0));
    STATUS(plw_finding_sentence, (w->used.result, 0, ROOM));
    NUMBER(plw_result_grade, (w->used.result));
    NUMBER(plw_settling_count, (w->used.result));
    NUMBER(plw_settling_reading, (w->used.result, 0));
    NUMBER(plw_settling_field, (w->used.result, 0));
    NUMBER(plw_settling_year_count, (w->used.result, 0));
    NUMBER(plw_settling_year, (w->used.result, 0, 0));
    STATUS(plw_settling_codes, (w->used.result, 0, ROOM));
}

static void walk_suggestions(walk *w)
{
    STATUS(plw_suggest, (w->tables, "TZ4X3P100051", 12, NULL, 0, w->used.result));
    NUMBER(plw_suggestion_count, (w->used.result));
    NUMBER(plw_suggestion_left_out, (w->used.result));
    STATUS(plw_suggestion_number, (w->used.result, 0, ROOM));
    NUMBER(plw_suggestion_positions, (w->used.result, 0));
    NUMBER(plw_suggestion_typed, (w->used.result, 0, 2));
    NUMBER(plw_suggestion_meant, (w->used.result, 0, 2));
    NUMBER(plw_suggestion_standing, (w->used.result, 0));
    NUMBER(plw_suggestion_grade, (w->used.result, 0));
    STATUS(plw_suggestion_sentence, (w->used.result, 0, ROOM));
}

static void walk_claims(walk *w)
{
    STATUS(plw_validate, (w->tables, number, LENGTH(number), "year=1966", 0, w->used.result));
    STATUS(plw_check_claims, (w->used.result, claims, LENGTH(claims)));
    NUMBER(plw_claim_count, (w->used.result));
    WORDS(plw_claim_attribute, (w->used.result, 1));
    STATUS(plw_claim_text, (w->used.result, 1, ROOM));
    STATUS(plw_claim_value, (w->used.result, 1, ROOM));
    NUMBER(plw_claim_verdict, (w->used.result, 1));
    NUMBER(plw_claim_reason, (w->used.result, 1));
    NUMBER(plw_claim_reading, (w->used.result, 1));
    NUMBER(plw_claim_positions, (w->used.result, 1));
    NUMBER(plw_claim_row_count, (w->used.result, 1));
    NUMBER(plw_claim_row, (w->used.result, 1, 0));
    NUMBER(plw_claim_standing, (w->used.result, 1));
    NUMBER(plw_claim_marks, (w->used.result, 1));
    STATUS(plw_claim_sentence, (w->used.result, 1, ROOM));
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        STATUS(plw_explain, (w->used.result, format, PLW_EXPLAIN_SOURCES, ROOM));
}

static void walk_car(walk *w)
{
    NOTHING(plw_car_clear, (w->used.car));
    STATUS(plw_car_add_plate, (w->used.car, PLW_PLACE_DOOR_LABEL, stamped, LENGTH(stamped)));
    STATUS(plw_car_add_plate, (w->used.car, PLW_PLACE_DASH, "T24R6P100051", 12));
    STATUS(plw_car_add_plate, (w->used.car, PLW_PLACE_GEARBOX, "6P100051", 8));
    STATUS(plw_compare, (w->tables, w->used.car, "year=1966", 0));
    STATUS(plw_car_check_claims, (w->used.car, claims, LENGTH(claims)));
    NUMBER(plw_car_verdict, (w->used.car));
    NUMBER(plw_car_date_verdict, (w->used.car));
    NUMBER(plw_car_built_first, (w->used.car));
    NUMBER(plw_car_built_last, (w->used.car));
    BORROWED(plw_car_result, (w->used.car));
    NUMBER(plw_car_reading, (w->used.car));
    NUMBER(plw_joined_count, (w->used.car));
    NUMBER(plw_joined_capped, (w->used.car));
    NUMBER(plw_joined_scheme, (w->used.car, 0));
    STATUS(plw_joined_number, (w->used.car, 0, ROOM));
    NUMBER(plw_advice_count, (w->used.car));
    STATUS(plw_advice_sentence, (w->used.car, 0, ROOM));
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        STATUS(plw_explain_car, (w->used.car, format, PLW_EXPLAIN_SOURCES, ROOM));
}

static void walk_plates(walk *w)
{
    NUMBER(plw_plate_count, (w->used.car));
    NUMBER(plw_plate_place, (w->used.car, 0));
    STATUS(plw_plate_number, (w->used.car, 0, ROOM));
    NUMBER(plw_plate_taken, (w->used.car, 0));
    NUMBER(plw_plate_row, (w->used.car, 2));
    NUMBER(plw_plate_positions, (w->used.car, 0));
    STATUS(plw_plate_shows, (w->used.car, 0, 1, ROOM));
    NUMBER(plw_plate_verdict, (w->used.car, 0));
    NUMBER(plw_plate_compared, (w->used.car, 0, 1));
    NUMBER(plw_plate_differs, (w->used.car, 0, 1));
    STATUS(plw_plate_sentence, (w->used.car, 0, ROOM));
    NUMBER(plw_difference_count, (w->used.car));
    NUMBER(plw_difference_position, (w->used.car, 0));
    STATUS(plw_difference_shows, (w->used.car, 0, ROOM));
    NUMBER(plw_difference_plates, (w->used.car, 0));
    NUMBER(plw_difference_year_count, (w->used.car, 0));
    NUMBER(plw_difference_year, (w->used.car, 0, 0));
    NUMBER(plw_difference_row_count, (w->used.car, 0));
    NUMBER(plw_difference_row, (w->used.car, 0, 0));
    STATUS(plw_difference_sentence, (w->used.car, 0, ROOM));
    NUMBER(plw_missing_count, (w->used.car));
    NUMBER(plw_missing_place, (w->used.car, 0));
    NUMBER(plw_missing_row, (w->used.car, 0));
    STATUS(plw_missing_sentence, (w->used.car, 0, ROOM));
}

/* The maker of Port Ellery left no dates: this is a car of the tables that are built in. */
static void walk_dates(walk *w)
{
    NOTHING(plw_car_clear, (w->used.car));
    STATUS(plw_car_add_plate, (w->used.car, PLW_PLACE_DASH, "194677S400025", 13));
    STATUS(plw_car_add_date, (w->used.car, PLW_DATE_CASTING, "A 257", 5));
    STATUS(plw_car_add_date, (w->used.car, PLW_DATE_ASSEMBLY, "T0123", 5));
    STATUS(plw_compare, (NULL, w->used.car, NULL, 0));
    NUMBER(plw_date_count, (w->used.car));
    NUMBER(plw_date_kind, (w->used.car, 0));
    STATUS(plw_date_text, (w->used.car, 0, ROOM));
    NUMBER(plw_date_span_count, (w->used.car, 0));
    NUMBER(plw_date_span_first, (w->used.car, 0, 0));
    NUMBER(plw_date_span_last, (w->used.car, 0, 0));
    NUMBER(plw_date_capped, (w->used.car, 0));
    NUMBER(plw_date_row, (w->used.car, 0));
    NUMBER(plw_date_rule, (w->used.car, 0));
    NUMBER(plw_date_against, (w->used.car, 0));
    NUMBER(plw_date_verdict, (w->used.car, 0));
    NUMBER(plw_date_reason, (w->used.car, 0));
    NUMBER(plw_date_grade, (w->used.car, 0));
    STATUS(plw_date_sentence, (w->used.car, 0, ROOM));
}

static void walk_expectation(walk *w)
{
    plw_expectation *e = w->used.expectation;
    STATUS(plw_expect, (w->tables, claims, LENGTH(claims), "year=1966", 0, e));
    STATUS(plw_expectation_sentence, (e, ROOM));
    NUMBER(plw_expectation_capped, (e));
    NUMBER(plw_expectation_claim_count, (e));
    WORDS(plw_expectation_claim_attribute, (e, 0));
    STATUS(plw_expectation_claim_text, (e, 0, ROOM));
    NUMBER(plw_expectation_understands, (e, 0));
    NUMBER(plw_expectation_rules_out, (e, 0));
    NUMBER(plw_expectation_left_without, (e, 0));
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++)
        STATUS(plw_explain_expectation, (e, format, PLW_EXPLAIN_SOURCES, ROOM));
}

static void walk_patterns(walk *w)
{
    const plw_expectation *e = w->used.expectation;
    int32_t covered;
    uint32_t position;
    NUMBER(plw_pattern_count, (e));
    NUMBER(plw_pattern_scheme, (e, 0));
    NUMBER(plw_pattern_layout, (e, 0));
    NUMBER(plw_pattern_year_count, (e, 0));
    NUMBER(plw_pattern_year, (e, 0, 0));
    STATUS(plw_pattern_text, (e, 0, ROOM));
    STATUS(plw_pattern_range, (e, 0, ROOM));
    NUMBER(plw_pattern_tells, (e, 0, 0));
    NUMBER(plw_pattern_row_count, (e, 0));
    NUMBER(plw_pattern_row, (e, 0, 0));
    NUMBER(plw_pattern_standing, (e, 0));
    NUMBER(plw_pattern_marks, (e, 0));
    STATUS(plw_pattern_sentence, (e, 0, ROOM));
    STATUS(plw_pattern_covers, ("T24[MR]6P??????", 15, stamped, LENGTH(stamped), &covered,
                                &position));
}

/* The verbs and what they found out, on the objects in use. */
static void walk_verbs(walk *w)
{
    walk_names(w);
    walk_verdicts(w);
    walk_readings(w);
    walk_fields(w);
    walk_findings(w);
    walk_suggestions(w);
    walk_claims(w);
    walk_car(w);
    walk_plates(w);
    walk_dates(w);
    walk_expectation(w);
    walk_patterns(w);
}

/* Objects of the host's memory are filled, so that there is something to lose when
 * those from the heap are made; these, or the former, do it all again. */
static void walk_through(walk *w)
{
    walk_constants(w);
    walk_tables(w);
    walk_rows(w);
    walk_places(w);
    walk_verbs(w);
    MAKE(plw_result_new, (&w->made.result), result);
    MAKE(plw_names_new, (w->tables, words, LENGTH(words), &w->made.names), names);
    MAKE(plw_car_new, (&w->made.car), car);
    MAKE(plw_expectation_new, (&w->made.expectation), expectation);
    walk_verbs(w);
    FREE(plw_expectation_free, expectation);
    FREE(plw_car_free, car);
    FREE(plw_result_free, result);
    FREE(plw_names_free, names);
}

/* ---- walks ------------------------------------------------------------------------- */

/* A walk in which that allocation fails, and maybe all behind it; answers are held
 * against those that are expected. */
static void take_walk(int fail_at, int stays, journal *answers, const journal *expected)
{
    static walk w;
    size_t size;
    unsigned char *image = fixture_image(&size), *kept = malloc(size);
    ck_assert_ptr_nonnull(kept);
    memcpy(kept, image, size);
    memset(&w, 0, sizeof w);
    memset(&heap, 0, sizeof heap);
    heap.fail_at = fail_at;
    heap.stays = stays;
    answers->length = 0;
    w.answers = answers;
    w.expected = expected;
    w.image = image;
    w.image_size = size;
    walk_through(&w);
    ck_assert_int_eq(heap.held, 0);
    ck_assert_mem_eq(image, kept, size);
    free(kept);
    free(image);
}

static journal first_answers, answers_again;

#define OBJECTS_MADE 4

/* Each allocation fails, until there is none left to fail. */
static void fail_each(int stays)
{
    int fail_at = 0;
    take_walk(0, 0, &first_answers, NULL);
    do {
        take_walk(++fail_at, stays, &answers_again, &first_answers);
        ck_assert_uint_eq(answers_again.length, first_answers.length);
    } while (heap.failures > 0);
    ck_assert_int_eq(fail_at, OBJECTS_MADE + 1);
}

START_TEST(test_every_allocation_fails_once)
{
    fail_each(0);
}
END_TEST

START_TEST(test_every_allocation_fails_from_then_on)
{
    fail_each(1);
}
END_TEST

static int was_called(const char *name, size_t length)
{
    for (size_t i = 0; i < call_count; i++)
        if (strlen(called[i]) == length && strncmp(called[i], name, length) == 0)
            return 1;
    return 0;
}

/* A function that is exported and not walked through would be one that nobody knows of
 * whether it asks for memory. */
START_TEST(test_the_walk_calls_every_function)
{
    size_t size, count = 0;
    char *map = fixture_text("lib/platewright.map", &size);
    take_walk(0, 0, &first_answers, NULL);
    ck_assert_uint_le(call_count, sizeof called / sizeof *called);
    for (const char *name = map; (name = strstr(name, " plw_")) != NULL; count++) {
        size_t length = strcspn(++name, "; \n");
        ck_assert_msg(was_called(name, length), "no walk calls %.*s", (int)length, name);
    }
    ck_assert_uint_gt(count, 200);
    free(map);
}
END_TEST

/* ---- odd numbers, closed heap ---------------------------------------------------------- */

START_TEST(test_no_call_needs_the_heap)
{
    static const char *const numbers[] = { "3Y86N400001", "RM23V0A149789", "1G4AH59H45G118341",
                                           "?????????????", "RM23UOA174567", "x", "" };
    static char text[1 << 20];
    plw_result *result;
    plw_names *names;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    ck_assert_int_eq(plw_names_new(NULL, "field/engine = motor\nnonsense", 29, &names), PLW_OK);
    close_heap();
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        int32_t grade;
        size_t length = strlen(numbers[i]);
        int32_t status = plw_result_use_names(result, i % 2 ? names : NULL);
        status |= plw_decode(NULL, numbers[i], length, "year=1970", 0, result);
        status |= plw_validate(NULL, numbers[i], length, NULL, 0, result);
        status |= plw_grade(NULL, numbers[i], length, NULL, 0, &grade);
        status |= plw_prefix(NULL, numbers[i], length, 0, result);
        status |= plw_suggest(NULL, numbers[i], length, NULL, 0, result);
        for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
            status |= plw_explain(result, format, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL);
        if (status != PLW_OK || heap.attempts > 0)
            break;
    }
    open_heap();
    ck_assert_int_eq(heap.attempts, 0);
    plw_names_free(names);
    plw_result_free(result);
}
END_TEST

/* Stamps that are read in many ways. */
START_TEST(test_no_car_needs_the_heap)
{
    static const char *const plates[] = { "RM23V0A149789", "0A149?89", "0A149780", "?", "x" };
    static char text[1 << 18];
    plw_car *car;
    ck_assert_int_eq(plw_car_new(&car), PLW_OK);
    close_heap();
    int32_t status = PLW_OK;
    for (size_t i = 0; i < sizeof plates / sizeof *plates; i++)
        status |= plw_car_add_plate(car, (int32_t)i + 1, plates[i], strlen(plates[i]));
    status |= plw_compare(NULL, car, "maker=x", 0);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        status |= plw_explain_car(car, format, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL);
    open_heap();
    ck_assert_int_eq(status, PLW_OK);
    ck_assert_int_eq(heap.attempts, 0);
    plw_car_free(car);
}
END_TEST

START_TEST(test_free_accepts_nothing)
{
    plw_car_free(NULL);
    plw_expectation_free(NULL);
    plw_names_free(NULL);
    plw_result_free(NULL);
}
END_TEST

/* A host that has not said how it ends. What counts branches may allocate behind it. */
START_TEST(test_the_table_compiler_ends)
{
    ck_assert_int_eq(atexit(open_heap), 0);
    close_heap();
    tc_new();
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_every_allocation_fails_once);
    tcase_add_test(test, test_every_allocation_fails_from_then_on);
    tcase_add_test(test, test_the_walk_calls_every_function);
    tcase_add_test(test, test_no_call_needs_the_heap);
    tcase_add_test(test, test_no_car_needs_the_heap);
    tcase_add_test(test, test_free_accepts_nothing);
    tcase_add_exit_test(test, test_the_table_compiler_ends, EXIT_FAILURE);
}

int main(void)
{
    return probe_run("memory", add);
}
