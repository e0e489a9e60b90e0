/* SPDX-License-Identifier: MIT
 *
 * Step one: what people type becomes positions that know where they came from.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "internal.h"

/* The number as plain text: '?' unreadable, '#' odd, '[8B]' alternatives. */
static const char *read(const char *text)
{
    static char shown[512];
    plwi_number number;
    plwi_writer writer = plwi_writer_on(shown, sizeof shown);
    plwi_normalise(text, strlen(text), &number);
    for (uint32_t i = 0; i < number.count && i < MAX_POSITIONS; i++) {
        if (number.cell[i].set >> ODD_CHARACTER)
            plwi_put_char(&writer, '#');
        else
            plwi_put_typed(&writer, &number.cell[i]);
    }
    ck_assert_int_eq(plwi_writer_end(&writer, NULL), PLW_OK);
    return shown;
}

static const struct {
    const char *typed;
    const char *read;
} spellings[] = {
    { "T24K3P100051", "T24K3P100051" },
    { "t24k3p100051", "T24K3P100051" },
    { " T24 K3P-100.051\t", "T24K3P100051" },
    { "*T24K3P100051*", "T24K3P100051" },
    { "\xE2\x98\x85T24K3P100051\xE2\x98\x85", "T24K3P100051" },           /* stars */
    { "]T24K3P100051[", "T24K3P100051" },                                 /* stop marks */
    { "(T24K3P100051)", "T24K3P100051" },
    { "\"T24K3P100051\"", "T24K3P100051" },
    { "T24\xE2\x80\x93K3P\xC2\xA0" "100051", "T24K3P100051" },            /* en dash, no-break space */
    { "\xEF\xBC\xB4\xEF\xBC\x92\xEF\xBC\x94k", "T24K" },                  /* full-width T, 2, 4 */
    { "\xEF\xBD\x94\xEF\xBC\x92", "T2" },                                 /* full-width small t */
    { "T24?3P\xEF\xBC\x9F", "T24?3P?" },                                  /* full-width ? */
    { "T2\xEF\xBF\xBD", "T2?" },                                          /* replacement character */
    { "T[8B]4", "T[8B]4" },
    { "T[8/B]4", "T[8B]4" },
    { "T[b 8]4", "T[8B]4" },
    { "T[8]4", "T#8#4" },                                                 /* no alternatives in it */
    { "T[8B", "T#8B" },
    { "T24#3", "T24#3" },
    { "\xD0\xA2" "24", "24" },                                            /* a mark in front, not a T */
    { "2\xD0\xA2" "4", "2#4" },                                           /* Cyrillic Te inside */
    { "", "" },
    { " .-*", "" },
    { "?", "?" },
};

START_TEST(test_spelling)
{
    ck_assert_str_eq(read(spellings[_i].typed), spellings[_i].read);
}
END_TEST

START_TEST(test_offsets_lead_back_to_the_text)
{
    const char *text = " t2-\xEF\xBC\x94[8B]K*";
    static const struct {
        uint16_t offset, length;
    } expected[] = { { 1, 1 }, { 2, 1 }, { 4, 3 }, { 7, 4 }, { 11, 1 } };
    plwi_number number;
    plwi_normalise(text, strlen(text), &number);
    ck_assert_uint_eq(number.count, 5);
    for (int i = 0; i < 5; i++) {
        ck_assert_uint_eq(number.cell[i].offset, expected[i].offset);
        ck_assert_uint_eq(number.cell[i].length, expected[i].length);
    }
}
END_TEST

START_TEST(test_broken_utf8_is_unreadable_byte_by_byte)
{
    plwi_number number;
    plwi_normalise("T\x80\xC0\xAF\xED\xA0\x80\xFFX", 9, &number);
    ck_assert_uint_eq(number.count, 9);
    ck_assert_uint_eq(number.cell[0].shown, 'T');
    for (int i = 1; i < 8; i++)
        ck_assert_uint_eq(number.cell[i].shown, '?');
    ck_assert_uint_eq(number.cell[8].shown, 'X');
}
END_TEST

START_TEST(test_zero_bytes_are_odd_characters)
{
    plwi_number number;
    plwi_normalise("A\0B", 3, &number);
    ck_assert_uint_eq(number.count, 3);
    ck_assert_uint_eq(number.cell[1].set, UINT64_C(1) << ODD_CHARACTER);
}
END_TEST

START_TEST(test_marks_that_turn_writing_are_not_shown)
{
    plwi_number number;
    plwi_normalise("A\xE2\x80\xAE" "B", 5, &number);
    ck_assert_uint_eq(number.count, 3);
    ck_assert_uint_eq(number.cell[1].shown, 0xFFFD);
}
END_TEST

START_TEST(test_long_numbers_are_counted_and_not_kept)
{
    char text[PLW_MAX_TEXT];
    plwi_number number;
    memset(text, '7', sizeof text);
    plwi_normalise(text, sizeof text, &number);
    ck_assert_uint_eq(number.count, PLW_MAX_TEXT);
}
END_TEST

/* Case and separators never change what is read. */
START_TEST(test_property_spelling_does_not_matter)
{
    static const char *const separators[] = { "", " ", "-", ".", " - ", "\xC2\xB7" };
    uint32_t state = (uint32_t)_i * 2654435761u + 1;
    char plain[33] = "", typed[PLW_MAX_TEXT] = "";
    for (int i = 0; i < 17; i++) {
        state ^= state << 13, state ^= state >> 17, state ^= state << 5;
        char c = plwi_character(state % 36);
        plain[i] = c;
        char small[2] = { state >> 16 & 1 && c >= 'A' ? (char)(c + 32) : c, '\0' };
        strcat(typed, small);
        strcat(typed, separators[(state >> 20) % 6]);
    }
    ck_assert_str_eq(read(typed), plain);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("normalise");
    TCase *test = tcase_create("normalise");
    tcase_add_loop_test(test, test_spelling, 0, sizeof spellings / sizeof *spellings);
    tcase_add_test(test, test_offsets_lead_back_to_the_text);
    tcase_add_test(test, test_broken_utf8_is_unreadable_byte_by_byte);
    tcase_add_test(test, test_zero_bytes_are_odd_characters);
    tcase_add_test(test, test_marks_that_turn_writing_are_not_shown);
    tcase_add_test(test, test_long_numbers_are_counted_and_not_kept);
    tcase_add_loop_test(test, test_property_spelling_does_not_matter, 0, 200);
    suite_add_tcase(suite, test);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
