/* SPDX-License-Identifier: MIT
 *
 * What would settle the model year: exact answers on the frozen fixture, and on
 * the compiled-in tables that a code that is said to settle does so.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "internal.h"
#include "probe.h"

/* ---- exact answers ---------------------------------------------------------- */

static void add_years(char *text, const plw_result *r, uint32_t settling)
{
    for (uint32_t i = 0; i < plw_settling_year_count(r, settling); i++)
        sprintf(text + strlen(text), "%s%d", i ? "," : "", plw_settling_year(r, settling, i));
}

/* "engine: W = 1972 (1)" for each entry, with the reading, joined by "; ". */
static const char *settling_of(const plw_tables *tables, const char *number)
{
    static char text[4096];
    plw_result *r = probe_decode(tables, number, NULL);
    text[0] = '\0';
    for (uint32_t i = 0; i < plw_settling_count(r); i++) {
        char codes[256];
        uint32_t reading = plw_settling_reading(r, i);
        ck_assert_int_eq(plw_settling_codes(r, i, codes, sizeof codes, NULL), PLW_OK);
        sprintf(text + strlen(text), "%s%s: %s = ", i ? "; " : "",
                plw_field_name(r, reading, plw_settling_field(r, i)), codes);
        add_years(text, r, i);
        sprintf(text + strlen(text), " (%u)", (unsigned)reading);
    }
    return text;
}

static void expect(const char *number, const char *settling)
{
    ck_assert_str_eq(settling_of(fixture_tables(), number), settling);
}

START_TEST(test_codes_of_one_reading_settle)
{
    expect("T24K2P100001", "engine: W = 1972 (1); plant: N = 1972 (1)");
    expect("T24K4P100001", "line: S = 1964 (0); engine: R = 1964 (0)");
}
END_TEST

START_TEST(test_where_every_code_fits_both_nothing_settles)
{
    expect("T31K3P100051", "");
}
END_TEST

START_TEST(test_one_model_year_needs_no_settling)
{
    expect("T24M6P100051", "");
    expect("S24K2P100051", ""); /* fields that exclude each other */
    expect("??", "");
    expect("", "");
}
END_TEST

/* Both years mean the same: one reading, and yet two years to choose from. */
START_TEST(test_years_of_one_reading_are_settled)
{
    expect("T31?5P100051", "line: S = 1965 (0); engine: R = 1965 (0); plant: N = 1965 (0)");
}
END_TEST

START_TEST(test_an_unreadable_year_is_what_to_look_for)
{
    expect("T24K?P100051", "line: S or V = 1962,1963,1964,1965,1966 (0); "
                           "engine: W = 1970,1971,1972,1973,1974,1975 (1); "
                           "year: 6 = 1962,1963,1964,1965,1966 (0); "
                           "year: 0 or 1 = 1970,1971,1972,1973,1974,1975 (1)");
}
END_TEST

/* Of an unreadable code only what the readable characters allow. */
START_TEST(test_alternatives_limit_the_codes)
{
    expect("T24[KR]5P100051", "line: S = 1965 (0); engine: R = 1965 (0); plant: N = 1965 (0)");
    expect("T24[KM]5P100051", "line: S = 1965 (0); plant: N = 1965 (0)");
}
END_TEST

/* The figures 1 to 9 would mean 1979, but none of them fits the check character. */
START_TEST(test_conditions_are_judged_with_the_code_in_place)
{
    expect("XTA3?12345", "span: 0 = 1976 (0)");
}
END_TEST

START_TEST(test_many_codes_are_counted)
{
    uint64_t codes[20];
    char text[128];
    plwi_writer writer = plwi_writer_on(text, sizeof text);
    for (unsigned i = 0; i < 20; i++)
        codes[i] = (uint64_t)2 << CODE_BITS | (i + 1); /* "10" and on */
    plwi_put_settling_codes(&writer, codes, 14);
    ck_assert_int_eq(plwi_writer_end(&writer, NULL), PLW_OK);
    ck_assert_str_eq(text, "10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 1A, 1B or 2 more");
}
END_TEST

START_TEST(test_indices_out_of_range_are_harmless)
{
    char text[8] = "x";
    size_t needed = 0;
    plw_result *r = probe_decode(fixture_tables(), "T24K2P100001", NULL);
    ck_assert_uint_eq(plw_settling_count(NULL), 0);
    ck_assert_uint_eq(plw_settling_reading(NULL, 0), PLW_NONE);
    ck_assert_uint_eq(plw_settling_reading(r, 2), PLW_NONE);
    ck_assert_uint_eq(plw_settling_field(r, 2), PLW_NONE);
    ck_assert_uint_eq(plw_settling_year_count(r, 2), 0);
    ck_assert_int_eq(plw_settling_year(r, 2, 0), 0);
    ck_assert_int_eq(plw_settling_year(r, 0, 1), 0);
    ck_assert_int_eq(plw_settling_codes(r, 2, text, sizeof text, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_settling_codes(r, 0, text, 1, &needed), PLW_E_SHORT);
    ck_assert_str_eq(text, "");
    ck_assert_uint_eq(needed, 2);
    ck_assert_int_eq(plw_settling_codes(r, 0, text, needed, NULL), PLW_OK);
    ck_assert_str_eq(text, "W");
}
END_TEST

static void expect_in(const char *number, int32_t format, const char *part)
{
    static char text[1 << 16];
    const plw_result *r = probe_decode(fixture_tables(), number, NULL);
    ck_assert_int_eq(plw_explain(r, format, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_msg(strstr(text, part) != NULL, "%s not in %s", part, text);
}

START_TEST(test_explanations_say_what_would_settle)
{
    expect_in("T24K2P100001", PLW_FORMAT_TEXT,
              "\nWhat would settle it\n"
              "  - engine (4): W would mean 1972\n"
              "  - plant (6): N would mean 1972\n\n");
    expect_in("T24K?P100051", PLW_FORMAT_MARKDOWN,
              "\n## What would settle it\n\n"
              "- line (1): S or V would mean 1962-1966\n"
              "- engine (4): W would mean 1970-1975\n"
              "- model year (5): 6 would mean 1962-1966; 0 or 1 would mean 1970-1975\n\n");
    expect_in("T24K2P100001", PLW_FORMAT_JSON,
              "],\"settling\":[{\"reading\":1,\"years\":[1972],\"field\":\"engine\","
              "\"label\":\"engine\",\"positions\":[4],\"codes\":[\"W\"]},"
              "{\"reading\":1,\"years\":[1972],\"field\":\"plant\",\"label\":\"plant\","
              "\"positions\":[6],\"codes\":[\"N\"]}],\"findings\":");
}
END_TEST

/* ---- the compiled-in tables --------------------------------------------------- */

#define MAX_TRIALS 4096

/* A number with a settling code in its place, and what it has to mean. */
typedef struct trial {
    char number[MAX_POSITIONS + 1];
    uint32_t scheme;
    plwi_years years;
} trial;

static trial trials[MAX_TRIALS];
static uint32_t trial_count;

static void write_code(char *number, uint32_t positions, uint64_t code)
{
    for (unsigned p = MAX_POSITIONS; p-- > 0;)
        if (positions >> p & 1u) {
            number[p] = plwi_character((unsigned)(code & 63) - 1);
            code >>= CODE_BITS;
        }
}

static void collect(const char *number)
{
    plwi_settling list[PLW_MAX_SETTLINGS];
    uint64_t codes[MAX_SETTLING_CODES];
    const plw_result *r = probe_decode(NULL, number, NULL);
    uint32_t count = plwi_settlings(r, list);
    for (uint32_t i = 0; i < count; i++) {
        uint32_t code_count = plwi_settling_codes(r, &list[i], codes);
        ck_assert_uint_ge(code_count, 1);
        for (uint32_t k = 0; k < code_count && trial_count < MAX_TRIALS; k++) {
            trial *t = &trials[trial_count++];
            ck_assert_int_eq(plw_result_number(r, t->number, sizeof t->number, NULL), PLW_OK);
            write_code(t->number, plw_field_positions(r, list[i].reading, list[i].field),
                       codes[k]);
            t->scheme = plw_reading_scheme(r, list[i].reading);
            t->years = list[i].years;
        }
    }
}

static void try_all(const char *from)
{
    for (uint32_t i = 0; i < trial_count; i++) {
        const trial *t = &trials[i];
        const plw_result *r = probe_decode(NULL, t->number, NULL);
        uint32_t found = 0;
        for (uint32_t k = 0; k < plw_reading_count(r); k++) {
            if (plw_reading_scheme(r, k) != t->scheme)
                continue;
            found++;
            ck_assert_msg(plw_reading_year_count(r, k) > 0 &&
                              plwi_years_empty(
                                  plwi_years_without(r->readings[k].years, t->years)),
                          "%s, from %s, has %s", t->number, from, probe_years(r, k));
        }
        ck_assert_msg(found > 0, "%s, from %s, has no reading", t->number, from);
    }
}

static uint32_t check_number(const char *number)
{
    trial_count = 0;
    collect(number);
    try_all(number);
    return trial_count;
}

START_TEST(test_a_code_that_settles_leaves_no_other_year)
{
    uint32_t settled = check_number("RL41G8A123456");
    ck_assert_uint_ge(settled, 10);
    ck_assert_uint_ge(check_number("RL41?8A123456"), 10);
    ck_assert_uint_ge(check_number("1G4AH5??45G118341"), 10);
}
END_TEST

/* Samples as they are and with one character unreadable. */
START_TEST(test_settling_holds_for_every_layout)
{
    uint32_t settled = 0;
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++)
        for (uint32_t i = 0; i < plw_layout_count(NULL, scheme); i++) {
            char number[MAX_POSITIONS + 1];
            strcpy(number, plw_layout_sample(NULL, scheme, i));
            settled += check_number(number);
            for (char *at = number; *at; at++) {
                char character = *at;
                *at = '?';
                settled += check_number(number);
                *at = character;
            }
        }
    ck_assert_uint_ge(settled, 1000);
}
END_TEST

START_TEST(test_both_readings_are_settled_by_the_engine)
{
    const plw_result *r = probe_decode(NULL, "RL41G8A123456", NULL);
    uint32_t seen = 0;
    for (uint32_t i = 0; i < plw_settling_count(r); i++) {
        uint32_t reading = plw_settling_reading(r, i);
        if (strcmp(plw_field_name(r, reading, plw_settling_field(r, i)), "engine") == 0)
            seen |= 1u << reading;
    }
    ck_assert_uint_eq(plw_reading_count(r), 2);
    ck_assert_uint_eq(seen, 3);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_codes_of_one_reading_settle);
    tcase_add_test(test, test_where_every_code_fits_both_nothing_settles);
    tcase_add_test(test, test_one_model_year_needs_no_settling);
    tcase_add_test(test, test_years_of_one_reading_are_settled);
    tcase_add_test(test, test_an_unreadable_year_is_what_to_look_for);
    tcase_add_test(test, test_alternatives_limit_the_codes);
    tcase_add_test(test, test_conditions_are_judged_with_the_code_in_place);
    tcase_add_test(test, test_many_codes_are_counted);
    tcase_add_test(test, test_indices_out_of_range_are_harmless);
    tcase_add_test(test, test_explanations_say_what_would_settle);
    tcase_add_test(test, test_a_code_that_settles_leaves_no_other_year);
    tcase_add_test(test, test_settling_holds_for_every_layout);
    tcase_add_test(test, test_both_readings_are_settled_by_the_engine);
}

int main(void)
{
    return probe_run("settle", add);
}
