/* SPDX-License-Identifier: MIT
 *
 * What every function answers to NULL, to an index that is out of range, to a flag
 * that it does not know and to a buffer that is too small, as the header says.
 */
#include <string.h>

#include "fixture.h"
#include "probe.h"

#define FAR UINT32_MAX /* no index */
#define COUNT_OF(list) (sizeof(list) / sizeof *(list))

/* ---- the functions, by what they ask and answer --------------------------------- */

/* Numbers about an object; the answer when it is NULL. */
#define RESULT_NUMBERS(X) \
    X(plw_result_position_count, 0) X(plw_reading_count, 0) X(plw_settling_count, 0) \
    X(plw_finding_count, 0) X(plw_result_grade, PLW_GRADE_CLEAR) X(plw_suggestion_count, 0) \
    X(plw_suggestion_left_out, 0) X(plw_prefix_state, PLW_PREFIX_IMPOSSIBLE) \
    X(plw_prefix_scheme_count, 0) X(plw_prefix_remaining_min, 0) \
    X(plw_prefix_remaining_max, 0) X(plw_claim_count, 0)
#define CAR_NUMBERS(X) \
    X(plw_car_verdict, 0) X(plw_plate_count, 0) X(plw_car_date_verdict, 0) \
    X(plw_car_built_first, 0) X(plw_car_built_last, 0) X(plw_date_count, 0) \
    X(plw_difference_count, 0) X(plw_missing_count, 0) X(plw_joined_count, 0) \
    X(plw_joined_capped, 0) X(plw_car_reading, PLW_NONE) X(plw_advice_count, 0)
#define EXPECTATION_NUMBERS(X) \
    X(plw_expectation_capped, 0) X(plw_expectation_claim_count, 0) X(plw_pattern_count, 0)
#define NAMES_NUMBERS(X) X(plw_names_problem_count, 0)

/* Numbers about one thing in it; the answer when there is no such thing. */
#define RESULT_ITEMS(X) \
    X(plw_reading_scheme, PLW_NONE) X(plw_reading_year_count, 0) \
    X(plw_reading_grade, PLW_GRADE_CLEAR) X(plw_field_count, 0) X(plw_stamp_count, 0) \
    X(plw_settling_reading, PLW_NONE) X(plw_settling_field, PLW_NONE) \
    X(plw_settling_year_count, 0) X(plw_finding_code, 0) \
    X(plw_finding_grade, PLW_GRADE_CLEAR) X(plw_finding_reading, PLW_NONE) \
    X(plw_finding_positions, 0) X(plw_suggestion_positions, 0) \
    X(plw_suggestion_standing, PLW_STANDING_MEMORY) X(plw_suggestion_grade, PLW_GRADE_CLEAR) \
    X(plw_prefix_scheme, PLW_NONE) X(plw_claim_verdict, 0) \
    X(plw_claim_reason, PLW_REASON_NONE) X(plw_claim_reading, PLW_NONE) \
    X(plw_claim_positions, 0) X(plw_claim_row_count, 0) X(plw_claim_standing, PLW_E_ARGUMENT) \
    X(plw_claim_marks, 0)
#define CAR_ITEMS(X) \
    X(plw_plate_place, 0) X(plw_plate_taken, PLW_TAKEN_NOT) X(plw_plate_row, PLW_NONE) \
    X(plw_plate_positions, 0) X(plw_plate_verdict, 0) X(plw_date_kind, 0) \
    X(plw_date_span_count, 0) X(plw_date_capped, 0) X(plw_date_row, PLW_NONE) \
    X(plw_date_rule, PLW_NONE) X(plw_date_against, PLW_NONE) X(plw_date_verdict, 0) \
    X(plw_date_reason, PLW_DATE_REASON_NONE) X(plw_date_grade, PLW_GRADE_CLEAR) \
    X(plw_difference_position, 0) X(plw_difference_plates, 0) X(plw_difference_year_count, 0) \
    X(plw_difference_row_count, 0) X(plw_missing_place, 0) X(plw_missing_row, PLW_NONE) \
    X(plw_joined_scheme, PLW_NONE)
#define EXPECTATION_ITEMS(X) \
    X(plw_expectation_understands, 0) X(plw_expectation_rules_out, 0) \
    X(plw_expectation_left_without, 0) X(plw_pattern_scheme, PLW_NONE) \
    X(plw_pattern_layout, PLW_NONE) X(plw_pattern_year_count, 0) X(plw_pattern_row_count, 0) \
    X(plw_pattern_standing, PLW_E_ARGUMENT) X(plw_pattern_marks, 0)
#define NAMES_ITEMS(X) X(plw_names_problem_line, 0)
#define TABLES_ITEMS(X) \
    X(plw_scheme_first_year, 0) X(plw_scheme_last_year, 0) X(plw_scheme_first_row, PLW_NONE) \
    X(plw_scheme_row_count, 0) X(plw_layout_count, 0) X(plw_row_scheme, PLW_NONE) \
    X(plw_row_standing, PLW_E_ARGUMENT) X(plw_row_marks, 0) X(plw_row_first_year, 0) \
    X(plw_row_last_year, 0) X(plw_row_attribute_count, 0) X(plw_row_source_count, 0)

/* Numbers about a part of one thing, as above. */
#define RESULT_PARTS(X) \
    X(plw_reading_year, 0) X(plw_field_positions, 0) X(plw_field_state, PLW_FIELD_UNKNOWN) \
    X(plw_field_is_detail, 0) X(plw_field_row_count, 0) X(plw_stamp_row, PLW_NONE) \
    X(plw_settling_year, 0) X(plw_suggestion_typed, 0) X(plw_suggestion_meant, 0) \
    X(plw_possible_count, 0) X(plw_claim_row, PLW_NONE)
#define CAR_PARTS(X) \
    X(plw_plate_compared, 0) X(plw_plate_differs, 0) X(plw_date_span_first, 0) \
    X(plw_date_span_last, 0) X(plw_difference_year, 0) X(plw_difference_row, PLW_NONE)
#define EXPECTATION_PARTS(X) \
    X(plw_pattern_year, 0) X(plw_pattern_tells, 0) X(plw_pattern_row, PLW_NONE)
#define TABLES_PARTS(X) X(plw_layout_length, 0) X(plw_row_source, PLW_NONE)

/* Borrowed words, of one thing and of a part of one. */
#define RESULT_WORDS(X) X(plw_reading_title) X(plw_finding_name) X(plw_claim_attribute)
#define EXPECTATION_WORDS(X) X(plw_expectation_claim_attribute)
#define NAMES_WORDS(X) X(plw_names_title)
#define TABLES_WORDS(X) \
    X(plw_scheme_key) X(plw_scheme_title) X(plw_row_field) X(plw_row_label) X(plw_row_code) \
    X(plw_row_words) X(plw_row_remark) X(plw_source_key) X(plw_source_citation) \
    X(plw_source_address) X(plw_caution_text)
#define RESULT_PART_WORDS(X) X(plw_field_name) X(plw_field_label)
#define TABLES_PART_WORDS(X) X(plw_layout_sample) X(plw_row_attribute_name)

/* Texts, of an object, of one thing in it, of a part of one. */
#define RESULT_TEXTS(X) X(plw_result_number) X(plw_prefix_allowed) X(plw_prefix_known)
#define EXPECTATION_TEXTS(X) X(plw_expectation_sentence)
#define RESULT_ITEM_TEXTS(X) \
    X(plw_reading_number) X(plw_settling_codes) X(plw_finding_sentence) \
    X(plw_suggestion_number) X(plw_suggestion_sentence) X(plw_claim_text) X(plw_claim_value) \
    X(plw_claim_sentence)
#define CAR_ITEM_TEXTS(X) \
    X(plw_plate_number) X(plw_plate_sentence) X(plw_date_text) X(plw_date_sentence) \
    X(plw_difference_shows) X(plw_difference_sentence) X(plw_missing_sentence) \
    X(plw_joined_number) X(plw_advice_sentence)
#define EXPECTATION_ITEM_TEXTS(X) \
    X(plw_expectation_claim_text) X(plw_pattern_text) X(plw_pattern_range) \
    X(plw_pattern_sentence)
#define NAMES_ITEM_TEXTS(X) X(plw_names_problem_text)
#define TABLES_ITEM_TEXTS(X) X(plw_row_key) X(plw_row_condition)
#define RESULT_PART_TEXTS(X) X(plw_field_code) X(plw_stamp_text)
#define CAR_PART_TEXTS(X) X(plw_plate_shows)
#define TABLES_PART_TEXTS(X) X(plw_row_attribute_text)

/* ---- all of them with one signature -------------------------------------------- */

typedef int64_t number_of(const void *object, uint32_t index, uint32_t part);
typedef const char *words_of(const void *object, uint32_t index, uint32_t part);
typedef int32_t text_of(const void *object, uint32_t index, uint32_t part, char *buffer,
                        size_t capacity, size_t *needed);

#define NUMBER(function, call) \
    static int64_t of_##function(const void *object, uint32_t index, uint32_t part) \
    { \
        (void)index, (void)part; \
        return call; \
    }
#define WORDS(function, call) \
    static const char *of_##function(const void *object, uint32_t index, uint32_t part) \
    { \
        (void)part; \
        return call; \
    }
#define TEXT(function, call) \
    static int32_t of_##function(const void *object, uint32_t index, uint32_t part, \
                                 char *buffer, size_t capacity, size_t *needed) \
    { \
        (void)index, (void)part; \
        return call; \
    }
#define WHOLE_NUMBER(f, answer) NUMBER(f, f(object))
#define ITEM_NUMBER(f, answer) NUMBER(f, f(object, index))
#define PART_NUMBER(f, answer) NUMBER(f, f(object, index, part))
#define ITEM_WORDS(f) WORDS(f, f(object, index))
#define PART_WORDS(f) WORDS(f, f(object, index, part))
#define WHOLE_TEXT(f) TEXT(f, f(object, buffer, capacity, needed))
#define ITEM_TEXT(f) TEXT(f, f(object, index, buffer, capacity, needed))
#define PART_TEXT(f) TEXT(f, f(object, index, part, buffer, capacity, needed))

RESULT_NUMBERS(WHOLE_NUMBER)
CAR_NUMBERS(WHOLE_NUMBER)
EXPECTATION_NUMBERS(WHOLE_NUMBER)
NAMES_NUMBERS(WHOLE_NUMBER)
RESULT_ITEMS(ITEM_NUMBER)
CAR_ITEMS(ITEM_NUMBER)
EXPECTATION_ITEMS(ITEM_NUMBER)
NAMES_ITEMS(ITEM_NUMBER)
TABLES_ITEMS(ITEM_NUMBER)
RESULT_PARTS(PART_NUMBER)
CAR_PARTS(PART_NUMBER)
EXPECTATION_PARTS(PART_NUMBER)
TABLES_PARTS(PART_NUMBER)
RESULT_WORDS(ITEM_WORDS)
EXPECTATION_WORDS(ITEM_WORDS)
NAMES_WORDS(ITEM_WORDS)
TABLES_WORDS(ITEM_WORDS)
RESULT_PART_WORDS(PART_WORDS)
TABLES_PART_WORDS(PART_WORDS)
RESULT_TEXTS(WHOLE_TEXT)
EXPECTATION_TEXTS(WHOLE_TEXT)
RESULT_ITEM_TEXTS(ITEM_TEXT)
CAR_ITEM_TEXTS(ITEM_TEXT)
EXPECTATION_ITEM_TEXTS(ITEM_TEXT)
NAMES_ITEM_TEXTS(ITEM_TEXT)
TABLES_ITEM_TEXTS(ITEM_TEXT)
RESULT_PART_TEXTS(PART_TEXT)
CAR_PART_TEXTS(PART_TEXT)
TABLES_PART_TEXTS(PART_TEXT)

enum kind { RESULT, CAR, EXPECTATION, NAMES, TABLES, KINDS };
enum depth { WHOLE, ITEM, PART }; /* how many indexes a function takes */

#define NUMBER_ROW(kind, depth, f, answer) { #f, kind, depth, of_##f, answer },
#define RESULT_0(f, a) NUMBER_ROW(RESULT, WHOLE, f, a)
#define RESULT_1(f, a) NUMBER_ROW(RESULT, ITEM, f, a)
#define RESULT_2(f, a) NUMBER_ROW(RESULT, PART, f, a)
#define CAR_0(f, a) NUMBER_ROW(CAR, WHOLE, f, a)
#define CAR_1(f, a) NUMBER_ROW(CAR, ITEM, f, a)
#define CAR_2(f, a) NUMBER_ROW(CAR, PART, f, a)
#define EXPECTATION_0(f, a) NUMBER_ROW(EXPECTATION, WHOLE, f, a)
#define EXPECTATION_1(f, a) NUMBER_ROW(EXPECTATION, ITEM, f, a)
#define EXPECTATION_2(f, a) NUMBER_ROW(EXPECTATION, PART, f, a)
#define NAMES_0(f, a) NUMBER_ROW(NAMES, WHOLE, f, a)
#define NAMES_1(f, a) NUMBER_ROW(NAMES, ITEM, f, a)
#define TABLES_1(f, a) NUMBER_ROW(TABLES, ITEM, f, a)
#define TABLES_2(f, a) NUMBER_ROW(TABLES, PART, f, a)

static const struct {
    const char *name;
    enum kind kind;
    enum depth depth;
    number_of *ask;
    int64_t answer;
} numbers[] = {
    RESULT_NUMBERS(RESULT_0) CAR_NUMBERS(CAR_0) EXPECTATION_NUMBERS(EXPECTATION_0)
    NAMES_NUMBERS(NAMES_0) RESULT_ITEMS(RESULT_1) CAR_ITEMS(CAR_1)
    EXPECTATION_ITEMS(EXPECTATION_1) NAMES_ITEMS(NAMES_1) TABLES_ITEMS(TABLES_1)
    RESULT_PARTS(RESULT_2) CAR_PARTS(CAR_2) EXPECTATION_PARTS(EXPECTATION_2)
    TABLES_PARTS(TABLES_2)
};

#define RESULT_ITEM_ROW(f) { #f, RESULT, ITEM, of_##f },
#define EXPECTATION_ITEM_ROW(f) { #f, EXPECTATION, ITEM, of_##f },
#define NAMES_ITEM_ROW(f) { #f, NAMES, ITEM, of_##f },
#define TABLES_ITEM_ROW(f) { #f, TABLES, ITEM, of_##f },
#define CAR_ITEM_ROW(f) { #f, CAR, ITEM, of_##f },
#define RESULT_PART_ROW(f) { #f, RESULT, PART, of_##f },
#define CAR_PART_ROW(f) { #f, CAR, PART, of_##f },
#define TABLES_PART_ROW(f) { #f, TABLES, PART, of_##f },
#define RESULT_ROW(f) { #f, RESULT, WHOLE, of_##f },
#define EXPECTATION_ROW(f) { #f, EXPECTATION, WHOLE, of_##f },

static const struct {
    const char *name;
    enum kind kind;
    enum depth depth;
    words_of *ask;
} words[] = {
    RESULT_WORDS(RESULT_ITEM_ROW) EXPECTATION_WORDS(EXPECTATION_ITEM_ROW)
    NAMES_WORDS(NAMES_ITEM_ROW) TABLES_WORDS(TABLES_ITEM_ROW)
    RESULT_PART_WORDS(RESULT_PART_ROW) TABLES_PART_WORDS(TABLES_PART_ROW)
};

static const struct {
    const char *name;
    enum kind kind;
    enum depth depth;
    text_of *ask;
} texts[] = {
    RESULT_TEXTS(RESULT_ROW) EXPECTATION_TEXTS(EXPECTATION_ROW)
    RESULT_ITEM_TEXTS(RESULT_ITEM_ROW) CAR_ITEM_TEXTS(CAR_ITEM_ROW)
    EXPECTATION_ITEM_TEXTS(EXPECTATION_ITEM_ROW) NAMES_ITEM_TEXTS(NAMES_ITEM_ROW)
    TABLES_ITEM_TEXTS(TABLES_ITEM_ROW) RESULT_PART_TEXTS(RESULT_PART_ROW)
    CAR_PART_TEXTS(CAR_PART_ROW) TABLES_PART_TEXTS(TABLES_PART_ROW)
};

/* ---- what they are asked about --------------------------------------------------- */

static plw_result *decoded(const char *number)
{
    plw_result *result;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    ck_assert_int_eq(plw_suggest(fixture_tables(), number, strlen(number), NULL, 0, result),
                     PLW_OK);
    ck_assert_int_eq(plw_check_claims(result, "year=1966", 9), PLW_OK);
    return result;
}

static plw_car *compared(const char *plates)
{
    plw_car *car;
    ck_assert_int_eq(plw_car_new(&car), PLW_OK);
    probe_add_plates(car, plates);
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, "x", 1), PLW_OK);
    ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
    return car;
}

static plw_expectation *expected(const char *claims)
{
    plw_expectation *expectation;
    ck_assert_int_eq(plw_expectation_new(&expectation), PLW_OK);
    ck_assert_int_eq(
        plw_expect(fixture_tables(), claims, strlen(claims), NULL, 0, expectation), PLW_OK);
    return expectation;
}

static plw_names *named(void)
{
    plw_names *names;
    ck_assert_int_eq(plw_names_new(fixture_tables(), "nonsense", 8, &names), PLW_OK);
    return names;
}

static const void *empty_of(enum kind kind)
{
    plw_result *result = NULL;
    plw_car *car = NULL;
    plw_expectation *expectation = NULL;
    plw_names *names = NULL;
    switch (kind) {
    case RESULT:
        return plw_result_new(&result) == PLW_OK ? result : NULL;
    case CAR:
        return plw_car_new(&car) == PLW_OK ? car : NULL;
    case EXPECTATION:
        return plw_expectation_new(&expectation) == PLW_OK ? expectation : NULL;
    default:
        return plw_names_new(fixture_tables(), "", 0, &names) == PLW_OK ? names : NULL;
    }
}

static const void *filled_of(enum kind kind)
{
    switch (kind) {
    case RESULT:
        return decoded("TZ4X3P100051");
    case CAR:
        return compared("dash=T24R8P100051;engine=6P100051");
    case EXPECTATION:
        return expected("year=1967; engine=260");
    case NAMES:
        return named();
    default:
        return fixture_tables();
    }
}

/* NULL, empty and filled objects of each kind; what is NULL here is not asked for:
 * no tables are the tables that are built in. */
#define STATES 3
static const void *objects[KINDS][STATES];

static void make_objects(void)
{
    for (int kind = RESULT; kind < KINDS; kind++) {
        objects[kind][1] = kind == TABLES ? NULL : empty_of((enum kind)kind);
        objects[kind][2] = filled_of((enum kind)kind);
        ck_assert_ptr_nonnull(objects[kind][2]);
    }
}

/* Calls ask for all that is out of range in a row of a list. */
static void for_what_is_not_there(void (*ask)(size_t row, const void *object, uint32_t index,
                                              uint32_t part),
                                  size_t row, enum kind kind, enum depth depth)
{
    ask(row, objects[kind][0], depth == WHOLE ? 0 : FAR, 0);
    if (depth == WHOLE)
        return;
    if (kind != TABLES)
        ask(row, objects[kind][0], 0, 0);
    if (kind != TABLES && kind != NAMES)
        ask(row, objects[kind][1], 0, 0);
    ask(row, objects[kind][2], FAR, 0);
    if (depth == PART)
        ask(row, objects[kind][2], 0, FAR);
}

/* ---- numbers and words ---------------------------------------------------------- */

static void ask_number(size_t row, const void *object, uint32_t index, uint32_t part)
{
    int64_t answer = numbers[row].ask(object, index, part);
    ck_assert_msg(answer == numbers[row].answer, "%s(%s, %u, %u) is %d", numbers[row].name,
                  object ? "object" : "NULL", (unsigned)index, (unsigned)part, (int)answer);
}

START_TEST(test_numbers)
{
    make_objects();
    for (size_t i = 0; i < COUNT_OF(numbers); i++)
        for_what_is_not_there(ask_number, i, numbers[i].kind, numbers[i].depth);
}
END_TEST

static void ask_words(size_t row, const void *object, uint32_t index, uint32_t part)
{
    const char *answer = words[row].ask(object, index, part);
    ck_assert_msg(answer != NULL && answer[0] == '\0', "%s is \"%s\"", words[row].name,
                  answer ? answer : "NULL");
}

START_TEST(test_words)
{
    make_objects();
    for (size_t i = 0; i < COUNT_OF(words); i++)
        for_what_is_not_there(ask_words, i, words[i].kind, words[i].depth);
}
END_TEST

/* ---- texts --------------------------------------------------------------------------- */

static void ask_text(size_t row, const void *object, uint32_t index, uint32_t part)
{
    char buffer[8] = "kept";
    size_t needed = 7;
    int32_t status = texts[row].ask(object, index, part, buffer, sizeof buffer, &needed);
    ck_assert_msg(status == PLW_E_ARGUMENT, "%s: status %d", texts[row].name, (int)status);
    ck_assert_msg(buffer[0] == '\0', "%s: buffer is \"%s\"", texts[row].name, buffer);
    ck_assert_msg(needed == 0, "%s: needed is %u", texts[row].name, (unsigned)needed);
    buffer[0] = 'k';
    ck_assert_int_eq(texts[row].ask(object, index, part, buffer, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(buffer[0], 'k');
    ck_assert_int_eq(texts[row].ask(object, index, part, NULL, 8, NULL), PLW_E_ARGUMENT);
}

START_TEST(test_texts)
{
    make_objects();
    for (size_t i = 0; i < COUNT_OF(texts); i++)
        if (texts[i].kind != TABLES || texts[i].depth != WHOLE)
            for_what_is_not_there(ask_text, i, texts[i].kind, texts[i].depth);
}
END_TEST

/* The whole text, or nothing and what it takes. */
static int ask_for_room(size_t row, const void *object)
{
    static char buffer[4096];
    size_t needed = 0, told = 0;
    uint32_t part = texts[row].ask == of_plw_plate_shows; /* a position, from 1 */
    int32_t status = texts[row].ask(object, 0, part, NULL, 0, &needed);
    if (status == PLW_E_ARGUMENT)
        return 0;
    ck_assert_int_eq(status, PLW_E_SHORT);
    ck_assert_uint_le(needed, sizeof buffer);
    ck_assert_int_eq(texts[row].ask(object, 0, part, buffer, needed, &told), PLW_OK);
    ck_assert_uint_eq(told, needed);
    ck_assert_uint_eq(strlen(buffer) + 1, needed);
    told = 0;
    strcpy(buffer, "kept");
    ck_assert_int_eq(texts[row].ask(object, 0, part, buffer, needed - 1, &told), PLW_E_SHORT);
    ck_assert_uint_eq(told, needed);
    ck_assert_str_eq(buffer, needed > 1 ? "" : "kept");
    return 1;
}

START_TEST(test_texts_are_never_cut)
{
    make_objects();
    const void *open_years = fixture_keep(decoded("T24K?P100051"));
    const void *one_plate = fixture_keep(compared("dash=T24R8P100051"));
    for (size_t i = 0; i < COUNT_OF(texts); i++) {
        int answers = ask_for_room(i, objects[texts[i].kind][2]);
        if (texts[i].kind == RESULT)
            answers += ask_for_room(i, open_years);
        if (texts[i].kind == CAR)
            answers += ask_for_room(i, one_plate);
        ck_assert_msg(answers > 0, "%s is never answered", texts[i].name);
    }
}
END_TEST

/* ---- explanations ----------------------------------------------------------------- */

typedef int32_t explain_of(const void *object, int32_t format, uint32_t flags, char *buffer,
                           size_t capacity, size_t *needed);

static int32_t explain_result(const void *object, int32_t format, uint32_t flags, char *buffer,
                              size_t capacity, size_t *needed)
{
    return plw_explain(object, format, flags, buffer, capacity, needed);
}

static int32_t explain_car(const void *object, int32_t format, uint32_t flags, char *buffer,
                           size_t capacity, size_t *needed)
{
    return plw_explain_car(object, format, flags, buffer, capacity, needed);
}

static int32_t explain_expectation(const void *object, int32_t format, uint32_t flags,
                                   char *buffer, size_t capacity, size_t *needed)
{
    return plw_explain_expectation(object, format, flags, buffer, capacity, needed);
}

static explain_of *const explains[] = { explain_result, explain_car, explain_expectation };

static void refuses(explain_of *explain, const void *object, int32_t format, uint32_t flags,
                    int32_t expected_status)
{
    char buffer[8] = "kept";
    size_t needed = 7;
    ck_assert_int_eq(explain(object, format, flags, buffer, sizeof buffer, &needed),
                     expected_status);
    ck_assert_str_eq(buffer, "");
    ck_assert_uint_eq(needed, 0);
}

START_TEST(test_explanations)
{
    make_objects();
    for (int kind = RESULT; kind <= EXPECTATION; kind++) {
        const void *object = objects[kind][2];
        refuses(explains[kind], NULL, PLW_FORMAT_TEXT, 0, PLW_E_ARGUMENT);
        refuses(explains[kind], object, -1, 0, PLW_E_FLAGS);
        refuses(explains[kind], object, PLW_FORMAT_HTML + 1, 0, PLW_E_FLAGS);
        refuses(explains[kind], object, PLW_FORMAT_TEXT, PLW_EXPLAIN_SOURCES << 1, PLW_E_FLAGS);
        for (int state = 1; state < STATES; state++) {
            char buffer[8] = "kept";
            size_t needed = 0;
            ck_assert_int_eq(explains[kind](objects[kind][state], PLW_FORMAT_TEXT, 0, buffer,
                                            sizeof buffer, &needed),
                             PLW_E_SHORT);
            ck_assert_str_eq(buffer, "");
            ck_assert_uint_gt(needed, sizeof buffer);
        }
    }
}
END_TEST

/* ---- what is there ---------------------------------------------------------------- */

START_TEST(test_what_was_given_comes_back)
{
    plw_car *car = compared("dash=T24R8P100051;engine=6P100051");
    ck_assert_int_eq(plw_plate_place(car, 1), PLW_PLACE_ENGINE);
    ck_assert_int_eq(plw_date_kind(car, 0), PLW_DATE_CASTING);
    ck_assert_int_eq(plw_joined_capped(car), 0);
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_LABEL, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
    char sentence[400];
    ck_assert_int_eq(plw_date_sentence(car, 1, sentence, sizeof sentence, NULL), PLW_OK);
    /* A sentence begins with a capital. */
    ck_assert_ptr_nonnull(strstr(sentence, plw_date_kind_label(PLW_DATE_LABEL) + 1));
    plw_car_free(car);
}
END_TEST

/* ---- functions of their own kind --------------------------------------------------- */

START_TEST(test_other_accessors)
{
    plw_result *r = decoded("TZ4X3P100051");
    int32_t check = 7;
    size_t offset = 7, length = 7;
    int64_t value = 7;
    ck_assert_int_eq(plw_reading_check(NULL, 0, &check), PLW_CHECK_NONE);
    ck_assert_int_eq(check, 0);
    ck_assert_int_eq(plw_reading_check(r, FAR, NULL), PLW_CHECK_NONE);
    ck_assert_int_eq(plw_result_position(NULL, 1, &offset, &length), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_position(r, 0, &offset, &length), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_position(r, 13, &offset, &length), PLW_E_ARGUMENT);
    ck_assert_uint_eq(offset + length, 14);
    ck_assert_int_eq(plw_result_position(r, 12, NULL, NULL), PLW_OK);
    ck_assert_uint_eq(plw_field_row(NULL, 0, 0, 0), PLW_NONE);
    ck_assert_uint_eq(plw_field_row(r, 0, 0, FAR), PLW_NONE);
    ck_assert_str_eq(plw_field_words(NULL, 0, 0, 0), "");
    ck_assert_str_eq(plw_field_words(r, 0, 0, FAR), "");
    ck_assert_int_eq(plw_field_excludes_year(NULL, 0, 0, 1966), 0);
    ck_assert_int_eq(plw_field_excludes_year(r, 0, FAR, 1966), 0);
    ck_assert_int_eq(plw_possible_character(NULL, 0, 1, 0), 0);
    ck_assert_int_eq(plw_possible_character(r, 0, 1, FAR), 0);
    ck_assert_int_eq(plw_possible_character(r, 0, 0, 0), 0);
    ck_assert_uint_eq(plw_possible_row_count(NULL, 0, 1, 0), 0);
    ck_assert_uint_eq(plw_possible_row_count(r, 0, 1, FAR), 0);
    ck_assert_uint_eq(plw_possible_row(NULL, 0, 1, 0, 0), PLW_NONE);
    ck_assert_uint_eq(plw_possible_row(r, 0, 1, 0, FAR), PLW_NONE);
    ck_assert_ptr_null(plw_car_result(NULL));
    ck_assert_int_eq(plw_row_holds_in(NULL, FAR, 1966), 0);
    ck_assert_int_eq(plw_row_holds_in(NULL, 0, 1919), 0);
    ck_assert_int_eq(plw_row_holds_in(NULL, 0, 2048), 0);
    ck_assert_int_eq(plw_row_quantity(NULL, FAR, "cid", &value), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_row_quantity(NULL, 0, NULL, &value), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_row_quantity(NULL, 0, "cid", NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_row_quantity(NULL, 0, "nonsense", &value), PLW_E_ABSENT);
    ck_assert_int_eq(value, 7);
    ck_assert_int_eq(plw_constant(NULL, &value), PLW_E_ARGUMENT);
    ck_assert_int_eq(value, 0);
    ck_assert_int_eq(plw_constant("PLW_OK", NULL), PLW_E_ARGUMENT);
    ck_assert_str_eq(plw_constant_name(FAR), "");
    ck_assert_int_eq(plw_constant_value(FAR), 0);
    plw_result_free(r);
}
END_TEST

START_TEST(test_names_of_numbers_that_mean_nothing)
{
    static const char *(*const lists[])(int32_t) = {
        plw_grade_name,       plw_date_kind_label, plw_date_kind_name, plw_place_label,
        plw_place_name,       plw_date_reason_name, plw_reason_name,   plw_standing_name,
        plw_date_verdict_name, plw_plate_verdict_name, plw_verdict_name,
    };
    for (size_t i = 0; i < COUNT_OF(lists); i++) {
        ck_assert_str_eq(lists[i](-1), "");
        ck_assert_str_eq(lists[i](99), "");
        ck_assert_str_ne(lists[i](1), "");
    }
    ck_assert_str_eq(plw_status_name(1), "unknown status");
    ck_assert_str_eq(plw_status_name(-99), "unknown status");
    ck_assert_str_eq(plw_status_text(-99), "Unknown status.");
}
END_TEST

/* ---- objects ---------------------------------------------------------------------- */

START_TEST(test_places_for_objects)
{
    static uint64_t memory[1 << 17];
    char *odd = (char *)memory + 1;
    plw_result *result = (plw_result *)memory;
    plw_car *car = (plw_car *)memory;
    plw_expectation *expectation = (plw_expectation *)memory;
    plw_names *names = (plw_names *)memory;
    size_t size = plw_names_size("x", 1);
    ck_assert_uint_ge(sizeof memory - 8, plw_car_size());
    ck_assert_uint_ge(sizeof memory - 8, plw_expectation_size());
#define REFUSED(call, object, status) \
    ck_assert_int_eq(call, status); \
    ck_assert_ptr_null(object); \
    object = (void *)memory
    REFUSED(plw_result_place(NULL, plw_result_size(), &result), result, PLW_E_ARGUMENT);
    REFUSED(plw_result_place(memory, plw_result_size() - 1, &result), result, PLW_E_MEMORY);
    REFUSED(plw_result_place(odd, plw_result_size(), &result), result, PLW_E_MEMORY);
    REFUSED(plw_car_place(NULL, plw_car_size(), &car), car, PLW_E_ARGUMENT);
    REFUSED(plw_car_place(memory, plw_car_size() - 1, &car), car, PLW_E_MEMORY);
    REFUSED(plw_car_place(odd, plw_car_size(), &car), car, PLW_E_MEMORY);
    REFUSED(plw_expectation_place(NULL, plw_expectation_size(), &expectation), expectation,
            PLW_E_ARGUMENT);
    REFUSED(plw_expectation_place(memory, 1, &expectation), expectation, PLW_E_MEMORY);
    REFUSED(plw_names_place(NULL, "x", 1, NULL, size, &names), names, PLW_E_ARGUMENT);
    REFUSED(plw_names_place(NULL, "x", 1, memory, size - 1, &names), names, PLW_E_MEMORY);
    REFUSED(plw_names_place(NULL, NULL, 1, memory, size, &names), names, PLW_E_ARGUMENT);
    REFUSED(plw_names_place(NULL, "", PLW_MAX_NAMES + 1, memory, size, &names), names,
            PLW_E_TOO_LONG);
    REFUSED(plw_names_new(NULL, NULL, 1, &names), names, PLW_E_ARGUMENT);
    REFUSED(plw_names_new(NULL, "", PLW_MAX_NAMES + 1, &names), names, PLW_E_TOO_LONG);
#undef REFUSED
    ck_assert_uint_eq(plw_names_size(NULL, 1), 0);
    ck_assert_uint_eq(plw_names_size("", PLW_MAX_NAMES + 1), 0);
    ck_assert_int_eq(plw_result_place(memory, sizeof memory, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_place(memory, sizeof memory, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expectation_place(memory, sizeof memory, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_names_place(NULL, "", 0, memory, sizeof memory, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_new(NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_new(NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expectation_new(NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_names_new(NULL, "", 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_use_names(NULL, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_use_names(NULL, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expectation_use_names(NULL, NULL), PLW_E_ARGUMENT);
    plw_car_clear(NULL);
}
END_TEST

START_TEST(test_objects_in_memory_of_the_caller)
{
    static uint64_t memory[1 << 17];
    plw_expectation *expectation;
    ck_assert_int_eq(plw_expectation_place(memory, sizeof memory, &expectation), PLW_OK);
    ck_assert_int_eq(plw_expectation_use_names(expectation, NULL), PLW_OK);
    ck_assert_int_eq(plw_expect(fixture_tables(), "year=1967", 9, NULL, 0, expectation), PLW_OK);
    ck_assert_uint_gt(plw_pattern_count(expectation), 0);
}
END_TEST

START_TEST(test_tables_to_open)
{
    const plw_tables *tables = fixture_tables();
    size_t size;
    unsigned char *image = fixture_image(&size);
    ck_assert_int_eq(plw_tables_open(image, size, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_tables_open(NULL, size, 0, &tables), PLW_E_ARGUMENT);
    ck_assert_ptr_null(tables);
    tables = fixture_tables();
    ck_assert_int_eq(plw_tables_open(image, size, 1, &tables), PLW_E_FLAGS);
    ck_assert_ptr_null(tables);
    free(image);
}
END_TEST

/* ---- verbs ------------------------------------------------------------------------ */

typedef int32_t verb(const plw_tables *tables, const char *text, size_t length,
                     const char *hints, uint32_t flags, plw_result *result);

static int32_t prefix(const plw_tables *tables, const char *text, size_t length,
                      const char *hints, uint32_t flags, plw_result *result)
{
    return hints ? PLW_E_HINT : plw_prefix(tables, text, length, flags, result);
}

START_TEST(test_verbs)
{
    static verb *const verbs[] = { plw_decode, plw_validate, plw_suggest, prefix };
    char text[PLW_MAX_TEXT + 1], hints[PLW_MAX_HINTS + 2];
    memset(text, '1', sizeof text);
    memset(hints, ';', sizeof hints - 1);
    hints[sizeof hints - 1] = '\0';
    for (size_t i = 0; i < COUNT_OF(verbs); i++) {
        plw_result *r = decoded("T24K3P100051");
        ck_assert_int_eq(verbs[i](NULL, "x", 1, NULL, 0, NULL), PLW_E_ARGUMENT);
        ck_assert_int_eq(verbs[i](NULL, NULL, 1, NULL, 0, r), PLW_E_ARGUMENT);
        ck_assert_uint_eq(plw_reading_count(r) + plw_result_position_count(r), 0);
        ck_assert_int_eq(verbs[i](NULL, "x", 1, NULL, 1, r), PLW_E_FLAGS);
        ck_assert_int_eq(verbs[i](NULL, "x", 1, "nonsense", 0, r), PLW_E_HINT);
        ck_assert_int_eq(verbs[i](NULL, text, sizeof text, NULL, 0, r), PLW_E_TOO_LONG);
        ck_assert_int_eq(verbs[i](NULL, NULL, 0, NULL, 0, r), PLW_OK);
        plw_result_free(r);
    }
    plw_result *r = decoded("");
    ck_assert_int_eq(plw_decode(NULL, "x", 1, hints, 0, r), PLW_E_TOO_LONG);
    plw_result_free(r);
}
END_TEST

START_TEST(test_grade_and_batch)
{
    static const size_t back[] = { 2, 1 }, ends[] = { 1, 1 };
    int32_t grade, rows[2 * PLW_BATCH_COLUMNS];
    ck_assert_int_eq(plw_grade(NULL, "x", 1, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_grade(NULL, NULL, 1, NULL, 0, &grade), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_grade(NULL, "x", 1, NULL, 1, &grade), PLW_E_FLAGS);
    ck_assert_int_eq(plw_batch(NULL, NULL, ends, 2, NULL, 0, rows), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_batch(NULL, "x", NULL, 2, NULL, 0, rows), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_batch(NULL, "x", ends, 2, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_batch(NULL, "xx", back, 2, NULL, 0, rows), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_batch(NULL, "x", ends, 2, NULL, 1, rows), PLW_E_FLAGS);
    ck_assert_int_eq(plw_batch(NULL, "x", ends, 2, "x", 0, rows), PLW_E_HINT);
    ck_assert_int_eq(plw_batch(NULL, NULL, NULL, 0, NULL, 0, NULL), PLW_OK);
    ck_assert_int_eq(plw_batch(NULL, NULL, NULL, 0, NULL, 1, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_batch(NULL, "x", ends, 2, NULL, 0, rows), PLW_OK);
}
END_TEST

START_TEST(test_cars)
{
    char text[PLW_MAX_TEXT + 1] = "";
    plw_car *car = compared("dash=T24R8P100051;engine=6P100051");
    ck_assert_int_eq(plw_car_add_plate(NULL, PLW_PLACE_DASH, "x", 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, 0, "x", 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_BODY + 1, "x", 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, NULL, 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, text, sizeof text), PLW_E_TOO_LONG);
    ck_assert_uint_eq(plw_plate_count(car), 2);
    ck_assert_int_eq(plw_compare(NULL, NULL, NULL, 0), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_compare(NULL, car, NULL, 1), PLW_E_FLAGS);
    ck_assert_int_eq(plw_compare(NULL, car, "nonsense", 0), PLW_E_HINT);
    ck_assert_int_eq(plw_car_verdict(car), 0);
    ck_assert_int_eq(plw_car_check_claims(NULL, "year=1966", 9), PLW_E_ARGUMENT);
    /* Sentences are about a comparison, which there is not. */
    ck_assert_int_eq(plw_plate_sentence(car, 0, text, sizeof text, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_date_sentence(car, 0, text, sizeof text, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_plate_shows(car, 0, 0, text, sizeof text, NULL), PLW_E_ARGUMENT);
    for (uint32_t i = 2; i < PLW_MAX_PLATES; i++)
        ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_BODY, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_BODY, NULL, 0), PLW_E_TOO_LONG);
    plw_car_free(car);
}
END_TEST

START_TEST(test_claims_and_expectations)
{
    static char text[PLW_MAX_CLAIM_TEXT + 1];
    plw_result *r = decoded("T24K3P100051");
    plw_expectation *e = expected("year=1967");
    memset(text, ';', sizeof text);
    ck_assert_int_eq(plw_check_claims(NULL, "year=1966", 9), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_check_claims(r, NULL, 1), PLW_E_ARGUMENT);
    ck_assert_uint_eq(plw_claim_count(r), 0);
    ck_assert_int_eq(plw_check_claims(r, text, sizeof text), PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_check_claims(r, "nonsense", 8), PLW_E_CLAIM);
    ck_assert_int_eq(plw_check_claims(r, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_expect(NULL, "year=1966", 9, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expect(fixture_tables(), NULL, 0, NULL, 0, e), PLW_OK);
    ck_assert_int_eq(plw_expect(NULL, NULL, 1, NULL, 0, e), PLW_E_ARGUMENT);
    ck_assert_uint_eq(plw_pattern_count(e), 0);
    ck_assert_int_eq(plw_expect(NULL, "year=1966", 9, NULL, 1, e), PLW_E_FLAGS);
    ck_assert_int_eq(plw_expect(NULL, "year=1966", 9, "nonsense", 0, e), PLW_E_HINT);
    ck_assert_int_eq(plw_expect(NULL, "nonsense", 8, NULL, 0, e), PLW_E_CLAIM);
    ck_assert_int_eq(plw_expect(NULL, text, sizeof text, NULL, 0, e), PLW_E_TOO_LONG);
    plw_expectation_free(e);
    plw_result_free(r);
}
END_TEST

START_TEST(test_covers)
{
    char text[PLW_MAX_TEXT + 1];
    int32_t covered = 7;
    uint32_t position = 7;
    memset(text, '1', sizeof text);
    ck_assert_int_eq(plw_pattern_covers("1", 1, "1", 1, NULL, &position), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_pattern_covers(NULL, 1, "1", 1, &covered, &position), PLW_E_ARGUMENT);
    ck_assert_int_eq(covered, PLW_COVERED_NOT);
    ck_assert_uint_eq(position, 0);
    ck_assert_int_eq(plw_pattern_covers("1", 1, NULL, 1, &covered, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_pattern_covers(text, sizeof text, "1", 1, &covered, NULL),
                     PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_pattern_covers("1", 1, text, sizeof text, &covered, NULL),
                     PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_pattern_covers(NULL, 0, NULL, 0, &covered, NULL), PLW_OK);
    ck_assert_int_eq(covered, PLW_COVERED);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_numbers);
    tcase_add_test(test, test_words);
    tcase_add_test(test, test_texts);
    tcase_add_test(test, test_texts_are_never_cut);
    tcase_add_test(test, test_explanations);
    tcase_add_test(test, test_what_was_given_comes_back);
    tcase_add_test(test, test_other_accessors);
    tcase_add_test(test, test_names_of_numbers_that_mean_nothing);
    tcase_add_test(test, test_places_for_objects);
    tcase_add_test(test, test_objects_in_memory_of_the_caller);
    tcase_add_test(test, test_tables_to_open);
    tcase_add_test(test, test_verbs);
    tcase_add_test(test, test_grade_and_batch);
    tcase_add_test(test, test_cars);
    tcase_add_test(test, test_claims_and_expectations);
    tcase_add_test(test, test_covers);
}

int main(void)
{
    return probe_run("refusals", add);
}
