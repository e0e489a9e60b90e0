/* SPDX-License-Identifier: MIT
 *
 * Decoding, on the frozen fixture: model years as the intersection of the
 * fields, conditions, unreadable and misread characters, hints.
 */
#include <string.h>

#include "fixture.h"
#include "probe.h"

static plw_result *decode(const char *number)
{
    return probe_decode(fixture_tables(), number, NULL);
}

static const char *words(const plw_result *result, uint32_t reading, const char *field)
{
    return probe_words(fixture_tables(), result, reading, field);
}

START_TEST(test_one_number_one_reading)
{
    plw_result *r = decode("T24M6P100051");
    ck_assert_uint_eq(plw_reading_count(r), 1);
    ck_assert_str_eq(probe_scheme(fixture_tables(), r, 0), "port-ellery-1962");
    ck_assert_str_eq(probe_years(r, 0), "1966");
    ck_assert_str_eq(words(r, 0, "line"), "Tern, small saloon line");
    ck_assert_str_eq(words(r, 0, "body"), "four-door sedan");
    ck_assert_str_eq(words(r, 0, "engine"), "260 V8");
    ck_assert_str_eq(words(r, 0, "plant"), "Port Ellery");
    ck_assert_str_eq(probe_code(r, 0, "sequence"), "100051");
    ck_assert_int_eq(plw_field_state(r, 0, probe_field(r, 0, "engine")), PLW_FIELD_KNOWN);
    ck_assert_uint_eq(plw_field_positions(r, 0, probe_field(r, 0, "body")), 6);
}
END_TEST

START_TEST(test_fields_stand_by_position)
{
    static const char *const order[] = { "line", "engine_line", "plant_line", "body",
                                         "engine", "engine_power", "year", "plant", "sequence" };
    plw_result *r = decode("S23R6N500123");
    ck_assert_uint_eq(plw_field_count(r, 0), 9);
    for (uint32_t i = 0; i < 9; i++)
        ck_assert_str_eq(plw_field_name(r, 0, i), order[i]);
    ck_assert_int_eq(plw_field_is_detail(r, 0, 1), 1);
    ck_assert_int_eq(plw_field_is_detail(r, 0, 0), 0);
}
END_TEST

/* The year digit 3 is 1963 or 1973 and so is the engine letter K, with another
 * meaning: nothing is guessed. */
START_TEST(test_two_decades_are_two_readings)
{
    plw_result *r = decode("T31K3P100051");
    ck_assert_uint_eq(plw_reading_count(r), 2);
    ck_assert_str_eq(probe_years(r, 0), "1963");
    ck_assert_str_eq(words(r, 0, "engine"), "1490 cc four");
    ck_assert_str_eq(probe_years(r, 1), "1973");
    ck_assert_str_eq(words(r, 1, "engine"), "1760 cc four");
}
END_TEST

START_TEST(test_other_fields_settle_the_decade)
{
    plw_result *r = decode("T24W2P100100");
    ck_assert_uint_eq(plw_reading_count(r), 1);
    ck_assert_str_eq(probe_years(r, 0), "1972");
    uint32_t engine = probe_field(r, 0, "engine"), body = probe_field(r, 0, "body");
    ck_assert_int_eq(plw_field_excludes_year(r, 0, engine, 1962), 1);
    ck_assert_int_eq(plw_field_excludes_year(r, 0, engine, 1972), 0);
    ck_assert_int_eq(plw_field_excludes_year(r, 0, body, 1962), 0);
}
END_TEST

/* W covers two engines, R of 1969 is disputed: both meanings are served. */
START_TEST(test_all_meanings_are_served)
{
    ck_assert_str_eq(words(decode("T24W2P100100"), 0, "engine"),
                     "1760 cc four, low compression / 1980 cc four");
    ck_assert_str_eq(words(decode("H24R9P100200"), 0, "engine"),
                     "212 six, last of the stock / 260 V8");
}
END_TEST

START_TEST(test_a_sure_condition_hides_the_general_row)
{
    ck_assert_str_eq(words(decode("S31M6N500123"), 0, "engine"), "260 V8, four-barrel");
    ck_assert_str_eq(words(decode("T31M6N500123"), 0, "engine"), "260 V8");
}
END_TEST

START_TEST(test_an_unsure_condition_hides_nothing)
{
    ck_assert_str_eq(words(decode("?31M6P100123"), 0, "engine"), "260 V8 / 260 V8, four-barrel");
}
END_TEST

START_TEST(test_fields_that_exclude_each_other_leave_no_year)
{
    plw_result *r = decode("T27Z9P100001");
    ck_assert_uint_eq(plw_reading_count(r), 1);
    ck_assert_str_eq(probe_years(r, 0), "");
    ck_assert_str_eq(words(r, 0, "engine"), "427 V8, two four-barrels");
}
END_TEST

START_TEST(test_unreadable_is_all_that_remains_possible)
{
    plw_result *r = decode("T24?6P100051");
    ck_assert_uint_eq(plw_reading_count(r), 1);
    ck_assert_str_eq(words(r, 0, "engine"), "1490 cc four / 212 six, twin carburettors / 260 V8");
    ck_assert_int_eq(plw_field_state(r, 0, probe_field(r, 0, "engine")), PLW_FIELD_UNREADABLE);
}
END_TEST

START_TEST(test_an_unreadable_year_is_bounded_by_the_others)
{
    plw_result *r = decode("S23R?N500123");
    ck_assert_uint_eq(plw_reading_count(r), 1);
    ck_assert_str_eq(probe_years(r, 0), "1965,1966,1967,1968");
}
END_TEST

START_TEST(test_alternatives)
{
    plw_result *r = decode("T24[KM]6P100051");
    ck_assert_str_eq(words(r, 0, "engine"), "1490 cc four / 260 V8");
    ck_assert_str_eq(probe_code(r, 0, "engine"), "[KM]");
}
END_TEST

START_TEST(test_everything_unreadable_is_still_bounded)
{
    plw_result *r = decode("????????????");
    ck_assert_uint_ge(plw_reading_count(r), 1);
    ck_assert_uint_eq(plw_reading_year_count(r, 0), 14);
}
END_TEST

START_TEST(test_misread_characters_are_read_as_what_may_stand_there)
{
    plw_result *r = decode("TZ4M6P1OOO51");
    ck_assert_uint_eq(plw_reading_count(r), 1);
    ck_assert_str_eq(probe_number(r, 0), "T24M6P100051");
    ck_assert_str_eq(probe_years(r, 0), "1966");
}
END_TEST

START_TEST(test_only_a_few_characters_are_read_as_others)
{
    ck_assert_uint_eq(plw_reading_count(decode("TZ4M6P1OOO51")), 1);
    ck_assert_uint_eq(plw_reading_count(decode("TZ4M6PIOOO51")), 0);
}
END_TEST

START_TEST(test_a_character_that_cannot_stand_there_is_taken_as_unreadable)
{
    plw_result *r = decode("T24M6P1#0051");
    ck_assert_uint_eq(plw_reading_count(r), 1);
    ck_assert_str_eq(probe_years(r, 0), "1966");
    ck_assert_str_eq(probe_code(r, 0, "sequence"), "1#0051");
}
END_TEST

START_TEST(test_no_scheme_no_reading)
{
    ck_assert_uint_eq(plw_reading_count(decode("")), 0);
    ck_assert_uint_eq(plw_reading_count(decode("T24")), 0);
    ck_assert_uint_eq(plw_reading_count(decode("T24M6P10005111111111111111111111111111111111")), 0);
}
END_TEST

START_TEST(test_hints_rank_and_never_hide)
{
    plw_result *r = probe_decode(fixture_tables(), "T31K3P100051", "year=1973");
    ck_assert_uint_eq(plw_reading_count(r), 2);
    ck_assert_str_eq(probe_years(r, 0), "1973");
    r = probe_decode(fixture_tables(), "T31K3P100051",
                     " maker = wexcombe ; scheme = port-ellery-1962; year=1999");
    ck_assert_uint_eq(plw_reading_count(r), 2);
    ck_assert_str_eq(probe_years(r, 0), "1963");
}
END_TEST

START_TEST(test_bad_hints_are_refused)
{
    static const char *const hints[] = { "year", "year=", "year=19x3", "year=196", "colour=red",
                                         "=1963", "year=1963; nonsense" };
    plw_result *r = decode("T31K3P100051");
    for (size_t i = 0; i < sizeof hints / sizeof *hints; i++) {
        ck_assert_int_eq(plw_decode(fixture_tables(), "T31K3P100051", 12, hints[i], 0, r),
                         PLW_E_HINT);
        ck_assert_uint_eq(plw_reading_count(r), 0);
    }
}
END_TEST

START_TEST(test_wrong_arguments)
{
    char text[PLW_MAX_TEXT + 1], hints[PLW_MAX_HINTS + 2];
    plw_result *r = decode("T31K3P100051");
    memset(text, '1', sizeof text);
    memset(hints, ';', sizeof hints);
    hints[sizeof hints - 1] = '\0';
    ck_assert_int_eq(plw_decode(NULL, text, sizeof text, NULL, 0, r), PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_decode(NULL, text, PLW_MAX_TEXT, NULL, 0, r), PLW_OK);
    ck_assert_int_eq(plw_decode(NULL, "1", 1, hints, 0, r), PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_decode(NULL, "1", 1, NULL, 1, r), PLW_E_FLAGS);
    ck_assert_int_eq(plw_decode(NULL, NULL, 1, NULL, 0, r), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_decode(NULL, NULL, 0, NULL, 0, r), PLW_OK);
    ck_assert_int_eq(plw_decode(NULL, "1", 1, NULL, 0, NULL), PLW_E_ARGUMENT);
}
END_TEST

START_TEST(test_accessors_out_of_range)
{
    plw_result *r = decode("T24M6P100051");
    int32_t expected = 1;
    size_t at;
    ck_assert_uint_eq(plw_reading_scheme(r, 1), PLW_NONE);
    ck_assert_int_eq(plw_reading_year(r, 0, 1), 0);
    ck_assert_uint_eq(plw_field_count(r, 1), 0);
    ck_assert_str_eq(plw_field_name(r, 0, 99), "");
    ck_assert_uint_eq(plw_field_row(r, 0, 0, 99), PLW_NONE);
    ck_assert_int_eq(plw_field_code(r, 0, 99, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_position(r, 0, &at, &at), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_position(r, 13, &at, &at), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_reading_check(r, 0, &expected), PLW_CHECK_NONE);
    ck_assert_int_eq(expected, 0);
    ck_assert_uint_eq(plw_reading_count(NULL), 0);
    ck_assert_int_eq(plw_result_grade(NULL), PLW_GRADE_CLEAR);
    ck_assert_str_eq(plw_finding_name(NULL, 0), "");
}
END_TEST

START_TEST(test_positions_lead_back_to_the_text)
{
    plw_result *r = decode(" T24-M6P 100051");
    size_t offset, length;
    ck_assert_uint_eq(plw_result_position_count(r), 12);
    ck_assert_int_eq(plw_result_position(r, 4, &offset, &length), PLW_OK);
    ck_assert_uint_eq(offset, 5);
    ck_assert_uint_eq(length, 1);
}
END_TEST

START_TEST(test_result_in_given_memory)
{
    size_t size = plw_result_size();
    uint64_t *memory = malloc(size + 8);
    plw_result *placed;
    ck_assert_int_eq(plw_result_place(memory, size - 1, &placed), PLW_E_MEMORY);
    ck_assert_ptr_null(placed);
    ck_assert_int_eq(plw_result_place((char *)memory + 1, size, &placed), PLW_E_MEMORY);
    ck_assert_int_eq(plw_result_place(NULL, size, &placed), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_place(memory, size, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_result_place(memory, size, &placed), PLW_OK);
    ck_assert_uint_eq(plw_reading_count(placed), 0);
    ck_assert_int_eq(plw_decode(fixture_tables(), "T24M6P100051", 12, NULL, 0, placed), PLW_OK);
    ck_assert_str_eq(probe_years(placed, 0), "1966");
    free(memory);
}
END_TEST

/* ---- check characters: XTA3012345 sums to 3 by hand ------------------------- */

START_TEST(test_check_fits)
{
    plw_result *r = decode("XTA3012345");
    int32_t expected;
    ck_assert_int_eq(plw_reading_check(r, 0, &expected), PLW_CHECK_FITS);
    ck_assert_int_eq(expected, '3');
    ck_assert_int_eq(plw_field_state(r, 0, probe_field(r, 0, "check")), PLW_FIELD_CHECK);
}
END_TEST

START_TEST(test_check_fails_and_tells_the_right_one)
{
    int32_t expected;
    ck_assert_int_eq(plw_reading_check(decode("XTA4012345"), 0, &expected), PLW_CHECK_FAILS);
    ck_assert_int_eq(expected, '3');
    ck_assert_int_eq(plw_reading_check(decode("ETA3012345"), 0, &expected), PLW_CHECK_FAILS);
    ck_assert_int_eq(expected, 'X');
}
END_TEST

START_TEST(test_check_is_open_where_a_character_is_missing)
{
    int32_t expected;
    ck_assert_int_eq(plw_reading_check(decode("XTA301?345"), 0, &expected), PLW_CHECK_OPEN);
    ck_assert_int_eq(expected, 0);
    ck_assert_int_eq(plw_reading_check(decode("XTA?012345"), 0, &expected), PLW_CHECK_OPEN);
    ck_assert_int_eq(expected, '3');
}
END_TEST

/* A narrowing field speaks only where its condition surely holds. */
START_TEST(test_narrowing_rests_on_its_condition)
{
    ck_assert_str_eq(probe_years(decode("XTA3012345"), 0), "1976");
    ck_assert_str_eq(probe_years(decode("XTA8112345"), 0), "1979");
    ck_assert_str_eq(probe_years(decode("XTA4012345"), 0), "1976,1979");
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_one_number_one_reading);
    tcase_add_test(test, test_fields_stand_by_position);
    tcase_add_test(test, test_two_decades_are_two_readings);
    tcase_add_test(test, test_other_fields_settle_the_decade);
    tcase_add_test(test, test_all_meanings_are_served);
    tcase_add_test(test, test_a_sure_condition_hides_the_general_row);
    tcase_add_test(test, test_an_unsure_condition_hides_nothing);
    tcase_add_test(test, test_fields_that_exclude_each_other_leave_no_year);
    tcase_add_test(test, test_unreadable_is_all_that_remains_possible);
    tcase_add_test(test, test_an_unreadable_year_is_bounded_by_the_others);
    tcase_add_test(test, test_alternatives);
    tcase_add_test(test, test_everything_unreadable_is_still_bounded);
    tcase_add_test(test, test_misread_characters_are_read_as_what_may_stand_there);
    tcase_add_test(test, test_only_a_few_characters_are_read_as_others);
    tcase_add_test(test, test_a_character_that_cannot_stand_there_is_taken_as_unreadable);
    tcase_add_test(test, test_no_scheme_no_reading);
    tcase_add_test(test, test_hints_rank_and_never_hide);
    tcase_add_test(test, test_bad_hints_are_refused);
    tcase_add_test(test, test_wrong_arguments);
    tcase_add_test(test, test_accessors_out_of_range);
    tcase_add_test(test, test_positions_lead_back_to_the_text);
    tcase_add_test(test, test_result_in_given_memory);
    tcase_add_test(test, test_check_fits);
    tcase_add_test(test, test_check_fails_and_tells_the_right_one);
    tcase_add_test(test, test_check_is_open_where_a_character_is_missing);
    tcase_add_test(test, test_narrowing_rests_on_its_condition);
}

int main(void)
{
    return probe_run("decode", add);
}
