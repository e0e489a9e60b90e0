/* SPDX-License-Identifier: MIT
 *
 * Many numbers by one call, and the constants that other languages ask for.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "probe.h"

#define UNTOUCHED (-77)

static char text[4096];
static size_t ends[64];
static int32_t rows[64 * PLW_BATCH_COLUMNS];

/* Lays numbers one behind the other; returns how many there are. */
static size_t lay(const char *const *numbers)
{
    size_t count = 0, end = 0;
    for (; numbers[count] != NULL; count++) {
        memcpy(text + end, numbers[count], strlen(numbers[count]));
        end += strlen(numbers[count]);
        ends[count] = end;
    }
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        rows[i] = UNTOUCHED;
    return count;
}

static const char *const mixed[] = {
    "T24K3P100051", "",           "T24K3P1O0051", "XTA3012345",
    "H27R6N500001", "T24K3P99?!", "V24K6P100051", NULL,
};

/* Each row says what plw_validate says of the number alone. */
START_TEST(test_rows_agree_with_validate)
{
    const plw_tables *tables = fixture_tables();
    size_t count = lay(mixed);
    ck_assert_int_eq(plw_batch(tables, text, ends, count, NULL, 0, rows), PLW_OK);
    for (size_t i = 0; i < count; i++) {
        const int32_t *row = rows + i * PLW_BATCH_COLUMNS;
        plw_result *r = probe_validate(tables, mixed[i], NULL);
        uint32_t years = plw_reading_year_count(r, 0);
        ck_assert_int_eq(row[PLW_BATCH_STATUS], PLW_OK);
        ck_assert_int_eq(row[PLW_BATCH_GRADE], plw_result_grade(r));
        ck_assert_int_eq(row[PLW_BATCH_FINDING],
                         plw_finding_count(r) > 0 ? plw_finding_code(r, 0) : 0);
        ck_assert_int_eq(row[PLW_BATCH_SCHEME], plw_reading_count(r) > 0
                                                    ? (int32_t)plw_reading_scheme(r, 0)
                                                    : -1);
        ck_assert_int_eq(row[PLW_BATCH_FIRST_YEAR], years > 0 ? plw_reading_year(r, 0, 0) : 0);
        ck_assert_int_eq(row[PLW_BATCH_LAST_YEAR],
                         years > 0 ? plw_reading_year(r, 0, years - 1) : 0);
        ck_assert_int_eq(row[PLW_BATCH_READINGS], (int32_t)plw_reading_count(r));
        ck_assert_int_eq(row[PLW_BATCH_FINDINGS], (int32_t)plw_finding_count(r));
    }
    ck_assert_int_eq(rows[count * PLW_BATCH_COLUMNS], UNTOUCHED);
}
END_TEST

START_TEST(test_the_values_themselves)
{
    static const char *const one[] = { "T24K3P100051", "", NULL };
    static const int32_t expected[2][PLW_BATCH_COLUMNS] = {
        { PLW_OK, PLW_GRADE_NOTE, PLW_FINDING_SEVERAL_READINGS, 0, 1963, 1963, 2, 1 },
        { PLW_OK, PLW_GRADE_FAULT, PLW_FINDING_EMPTY, -1, 0, 0, 0, 1 },
    };
    lay(one);
    ck_assert_int_eq(plw_batch(fixture_tables(), text, ends, 2, NULL, 0, rows), PLW_OK);
    ck_assert_mem_eq(rows, expected, sizeof expected);
}
END_TEST

START_TEST(test_a_number_that_is_too_long_does_not_end_the_batch)
{
    char longest[PLW_MAX_TEXT + 2];
    const char *const three[] = { "T24K3P100051", longest, "T24K3P100052", NULL };
    memset(longest, 'A', sizeof longest - 1);
    longest[sizeof longest - 1] = '\0';
    lay(three);
    ck_assert_int_eq(plw_batch(fixture_tables(), text, ends, 3, NULL, 0, rows), PLW_OK);
    ck_assert_int_eq(rows[PLW_BATCH_COLUMNS + PLW_BATCH_STATUS], PLW_E_TOO_LONG);
    ck_assert_int_eq(rows[PLW_BATCH_COLUMNS + PLW_BATCH_SCHEME], -1);
    ck_assert_int_eq(rows[PLW_BATCH_COLUMNS + PLW_BATCH_GRADE], PLW_GRADE_CLEAR);
    ck_assert_int_eq(rows[2 * PLW_BATCH_COLUMNS + PLW_BATCH_FIRST_YEAR], 1963);
}
END_TEST

START_TEST(test_hints_rank_in_a_batch)
{
    static const char *const one[] = { "T24K2P100051", NULL };
    lay(one);
    ck_assert_int_eq(
        plw_batch(fixture_tables(), text, ends, 1, "scheme=port-ellery-1976", 0, rows), PLW_OK);
    plw_result *r = probe_validate(fixture_tables(), one[0], "scheme=port-ellery-1976");
    ck_assert_int_eq(rows[PLW_BATCH_SCHEME], (int32_t)plw_reading_scheme(r, 0));
}
END_TEST

START_TEST(test_what_a_batch_refuses)
{
    const plw_tables *tables = fixture_tables();
    static const char *const two[] = { "T24K3P100051", "XTA3012345", NULL };
    lay(two);
    ck_assert_int_eq(plw_batch(tables, NULL, ends, 2, NULL, 0, rows), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_batch(tables, text, NULL, 2, NULL, 0, rows), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_batch(tables, text, ends, 2, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_batch(tables, text, ends, 2, NULL, 1, rows), PLW_E_FLAGS);
    ck_assert_int_eq(plw_batch(tables, text, ends, 2, "colour=red", 0, rows), PLW_E_HINT);
    ck_assert_int_eq(plw_batch(tables, NULL, NULL, 0, "colour=red", 0, NULL), PLW_E_HINT);
    ck_assert_int_eq(plw_batch(tables, NULL, NULL, 0, NULL, 0, NULL), PLW_OK);
    ends[1] = 3;
    ck_assert_int_eq(plw_batch(tables, text, ends, 2, NULL, 0, rows), PLW_E_ARGUMENT);
    ck_assert_int_eq(rows[0], UNTOUCHED);
}
END_TEST

START_TEST(test_constants_by_name_and_by_index)
{
    int64_t value = 5;
    ck_assert_int_eq(plw_constant("PLW_GRADE_FAULT", &value), PLW_OK);
    ck_assert_int_eq(value, PLW_GRADE_FAULT);
    ck_assert_int_eq(plw_constant("PLW_NONE", &value), PLW_OK);
    ck_assert(value == (int64_t)PLW_NONE);
    ck_assert_int_eq(plw_constant("PLW_E_CLAIM", &value), PLW_OK);
    ck_assert_int_eq(value, PLW_E_CLAIM);
    ck_assert_int_eq(plw_constant("PLW_GRADE_", &value), PLW_E_ABSENT);
    ck_assert_int_eq(value, 0);
    ck_assert_int_eq(plw_constant(NULL, &value), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_constant("PLW_OK", NULL), PLW_E_ARGUMENT);
    for (uint32_t i = 0; i < plw_constant_count(); i++) {
        ck_assert_int_eq(plw_constant(plw_constant_name(i), &value), PLW_OK);
        ck_assert(value == plw_constant_value(i));
    }
    ck_assert_uint_gt(plw_constant_count(), 100);
    ck_assert_str_eq(plw_constant_name(plw_constant_count()), "");
    ck_assert_int_eq(plw_constant_value(plw_constant_count()), 0);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_rows_agree_with_validate);
    tcase_add_test(test, test_the_values_themselves);
    tcase_add_test(test, test_a_number_that_is_too_long_does_not_end_the_batch);
    tcase_add_test(test, test_hints_rank_in_a_batch);
    tcase_add_test(test, test_what_a_batch_refuses);
    tcase_add_test(test, test_constants_by_name_and_by_index);
}

int main(void)
{
    return probe_run("batch", add);
}
