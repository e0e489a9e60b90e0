/* SPDX-License-Identifier: MIT
 *
 * What a position can be: exact answers on the frozen fixture, and what holds on
 * the compiled-in tables.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "internal.h"
#include "probe.h"

/* "K=1490 cc four/62 hp M=260 V8": characters and the words of their rows. */
static const char *possible(const char *number, uint32_t reading, uint32_t position)
{
    static char said[4096];
    const plw_result *r = probe_validate(fixture_tables(), number, NULL);
    said[0] = '\0';
    for (uint32_t i = 0; i < plw_possible_count(r, reading, position); i++) {
        uint32_t rows = plw_possible_row_count(r, reading, position, i);
        sprintf(said + strlen(said), "%s%c", i ? " | " : "",
                (char)plw_possible_character(r, reading, position, i));
        for (uint32_t k = 0; k < rows; k++)
            sprintf(said + strlen(said), "%c%s", k ? '/' : '=',
                    plw_row_words(fixture_tables(),
                                  plw_possible_row(r, reading, position, i, k)));
    }
    return said;
}

static const struct {
    const char *number;
    uint32_t position;
    const char *said;
} answers[] = {
    { "T24?6P100051", 4, "K=1490 cc four/62 hp | M=260 V8 | "
                         "R=212 six, twin carburettors" },
    { "T24[KZ]6P100051", 4, "K=1490 cc four/62 hp" },
    { "T?4M6P100051", 2, "2=four-door sedan" },
    { "T2?M6P100051", 3, "4=four-door sedan | 7=convertible" },
    /* two unreadable characters of one code */
    { "T??M6P100051", 2, "2=four-door sedan/convertible | 3=five-door wagon" },
    { "T??M6P100051", 3, "1=five-door wagon | 4=four-door sedan | 7=convertible" },
    /* what can be read has its one meaning; a running number lists no codes */
    { "T24M6P100051", 4, "M=260 V8" },
    { "T24M6P10005?", 12, "0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9" },
    { "T24M6P10000?", 12, "0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9" },
    /* a code that the tables do not have */
    { "T24X6P100051", 4, "X" },
    { "T24M6P100051", 0, "" },
    { "T24M6P100051", 13, "" },
};

START_TEST(test_answers)
{
    ck_assert_str_eq(possible(answers[_i].number, 0, answers[_i].position), answers[_i].said);
}
END_TEST

START_TEST(test_indexes_out_of_range)
{
    const plw_result *r = probe_validate(fixture_tables(), "T24?6P100051", NULL);
    ck_assert_uint_eq(plw_possible_count(NULL, 0, 4), 0);
    ck_assert_uint_eq(plw_possible_count(r, 9, 4), 0);
    ck_assert_int_eq(plw_possible_character(r, 0, 4, 3), 0);
    ck_assert_uint_eq(plw_possible_row_count(r, 0, 4, 3), 0);
    ck_assert_uint_eq(plw_possible_row(r, 0, 4, 3, 0), PLW_NONE);
    ck_assert_uint_eq(plw_possible_row(r, 0, 4, 0, 2), PLW_NONE);
    ck_assert_uint_eq(plw_possible_row(r, 0, 4, 0, PLW_NONE), PLW_NONE);
    ck_assert_int_eq(plw_possible_character(r, 0, 4, UINT32_MAX), 0);
}
END_TEST

/* ---- the compiled-in tables ---------------------------------------------------- */

/* With one position unreadable, the character that stood there is possible. */
START_TEST(test_what_was_there_is_possible)
{
    image_t image = plwi_image(NULL);
    const char *sample =
        plwi_text(image, plwi_u32(plwi_layout(image, (uint32_t)_i) + LAYOUT_SAMPLE));
    for (uint32_t p = 0; p < strlen(sample); p++) {
        char number[MAX_POSITIONS + 1];
        int found = 0;
        strcpy(number, sample);
        number[p] = '?';
        const plw_result *r = probe_validate(NULL, number, NULL);
        for (uint32_t i = 0; i < plw_reading_count(r) && !found; i++)
            for (uint32_t k = 0; k < plw_possible_count(r, i, p + 1); k++)
                found |= plw_possible_character(r, i, p + 1, k) == sample[p];
        ck_assert_msg(found, "%s %c", number, sample[p]);
    }
}
END_TEST

/* 1 when the row stands under one of the characters of the position. */
static int is_under_a_character(const plw_result *r, uint32_t position, uint32_t row)
{
    for (uint32_t i = 0; i < plw_possible_count(r, 0, position); i++)
        for (uint32_t k = 0; k < plw_possible_row_count(r, 0, position, i); k++)
            if (plw_possible_row(r, 0, position, i, k) == row)
                return 1;
    return 0;
}

/* 1 when the reading lists the row for a field at the position. */
static int is_listed(const plw_result *r, uint32_t position, uint32_t row)
{
    for (uint32_t f = 0; f < plw_field_count(r, 0); f++)
        for (uint32_t k = 0; k < plw_field_row_count(r, 0, f); k++)
            if (plw_field_positions(r, 0, f) >> (position - 1) & 1 &&
                plw_field_row(r, 0, f, k) == row)
                return 1;
    return 0;
}

/* 1 when all rows of a field have a character at the position: not where they are
 * ranges, and not where another field rules a character out. */
static int lists_all(const plw_result *r, uint32_t position, uint32_t field)
{
    image_t image = plwi_image(NULL);
    uint32_t fields = 0;
    for (uint32_t f = 0; f < plw_field_count(r, 0); f++)
        fields += plw_field_positions(r, 0, f) >> (position - 1) & 1;
    return fields == 1 && plw_field_positions(r, 0, field) >> (position - 1) & 1 &&
           plwi_field(image, plwi_slot_field(image, plwi_slot_at(r, 0, field)))[FIELD_KIND] !=
               KIND_RUN;
}

START_TEST(test_the_rows_of_the_field_stand_under_the_characters)
{
    image_t image = plwi_image(NULL);
    const char *sample =
        plwi_text(image, plwi_u32(plwi_layout(image, (uint32_t)_i) + LAYOUT_SAMPLE));
    for (uint32_t p = 1; p <= strlen(sample); p++) {
        char number[MAX_POSITIONS + 1];
        strcpy(number, sample);
        number[p - 1] = '?';
        const plw_result *r = probe_validate(NULL, number, NULL);
        for (uint32_t i = 0; i < plw_possible_count(r, 0, p); i++)
            for (uint32_t k = 0; k < plw_possible_row_count(r, 0, p, i); k++)
                ck_assert(is_listed(r, p, plw_possible_row(r, 0, p, i, k)));
        for (uint32_t f = 0; f < plw_field_count(r, 0); f++)
            for (uint32_t k = 0; lists_all(r, p, f) && k < plw_field_row_count(r, 0, f); k++)
                ck_assert_msg(is_under_a_character(r, p, plw_field_row(r, 0, f, k)), "%s %u",
                              number, plw_field_row(r, 0, f, k));
    }
}
END_TEST

static void add(TCase *test)
{
    int layouts = (int)plwi_count(plwi_image(NULL), SECTION_LAYOUTS);
    tcase_add_loop_test(test, test_answers, 0, (int)(sizeof answers / sizeof answers[0]));
    tcase_add_test(test, test_indexes_out_of_range);
    tcase_add_loop_test(test, test_what_was_there_is_possible, 0, layouts);
    tcase_add_loop_test(test, test_the_rows_of_the_field_stand_under_the_characters, 0, layouts);
}

int main(void)
{
    return probe_run("possible", add);
}
