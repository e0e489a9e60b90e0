/* SPDX-License-Identifier: MIT
 *
 * Explain: exact texts on the frozen fixture, the width of a page, the buffer
 * contract, and that no text from a table can turn into markup.
 *
 * With the argument "json" it runs no test but prints one explanation a line,
 * for json_schema.py.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fixture.h"
#include "image.h"
#include "platewright.h"

#define PAGE_WIDTH 80

/* Numbers of every kind: plain, disputed, ambiguous, misread, unreadable,
 * unknown, contradictory, too long, hardly a number at all. */
static const char *const numbers[] = {
    "T24K3P100051",
    "t24k-3p-100051",
    "S23R8N500001",
    "H27R9P100200",
    "T24W2P100001",
    "T24K2P100001",
    "S23Z8N500010",
    "S23K6P100001",
    "V24M6P100001",
    "T24K3PO00051",
    "T24K?P100051",
    "T24[KM]6P100051",
    "?23????5?????",
    "????????????",
    "[ABCDEFGHIJKLMNOPQRSTUVWXYZ]24[ABCDEFGHJK]3P[0123456789][0123456789]0051",
    "X99Q9Z000000",
    "T24R7N400000",
    "T24Z1P100001",
    "T24K3P1000512345",
    "T24K3P100051999999999999999999999999",
    "<b>*|`_[x]!",
    "\xC3\x84\xE2\x82\xAC",
    "?",
    "",
};
#define NUMBER_COUNT ((int)(sizeof numbers / sizeof *numbers))

static plw_result *validated_in(const plw_tables *tables, const char *number)
{
    plw_result *result = NULL;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    ck_assert_int_eq(plw_validate(tables, number, strlen(number), NULL, 0, result), PLW_OK);
    return result;
}

static plw_result *validated(const char *number)
{
    return validated_in(fixture_tables(), number);
}

/* The explanation on the heap. */
static char *explained(const plw_result *result, int32_t format, uint32_t flags)
{
    size_t needed = 0;
    ck_assert_int_eq(plw_explain(result, format, flags, NULL, 0, &needed), PLW_E_SHORT);
    char *text = malloc(needed);
    ck_assert_ptr_nonnull(text);
    ck_assert_int_eq(plw_explain(result, format, flags, text, needed, NULL), PLW_OK);
    ck_assert_uint_eq(strlen(text) + 1, needed);
    return text;
}

static char *explained_number(const char *number, int32_t format, uint32_t flags)
{
    plw_result *result = validated(number);
    char *text = explained(result, format, flags);
    plw_result_free(result);
    return text;
}

/* The digest moves with the image, so expected texts write DIGEST for it. */
static void hide_digest(char *text)
{
    char digest[17];
    ck_assert_int_eq(plw_tables_digest(fixture_tables(), digest, sizeof digest, NULL), PLW_OK);
    char *found = strstr(text, digest);
    ck_assert_ptr_nonnull(found);
    memcpy(found, "DIGEST", 6);
    memmove(found + 6, found + 16, strlen(found + 16) + 1);
}

static void expect_text(const char *number, int32_t format, uint32_t flags, const char *expected)
{
    char *text = explained_number(number, format, flags);
    hide_digest(text);
    ck_assert_str_eq(text, expected);
    free(text);
}

/* @EXPECTED@ */

/* ---- Width ----------------------------------------------------------------- */

/* Columns of a line: one for each character, as terminals without wide letters. */
static int columns(const char *line, size_t length)
{
    int count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)line[i] & 0xC0) != 0x80;
    return count;
}

static void check_lines(const char *text)
{
    while (*text) {
        const char *end = strchr(text, '\n');
        ck_assert_ptr_nonnull(end);
        size_t length = (size_t)(end - text);
        ck_assert_msg(columns(text, length) <= PAGE_WIDTH, "too wide: %.*s", (int)length, text);
        ck_assert_msg(length == 0 || text[length - 1] != ' ', "ends in a blank: %.*s",
                      (int)length, text);
        text = end + 1;
    }
}

START_TEST(text_fits_the_page)
{
    for (uint32_t flags = 0; flags <= PLW_EXPLAIN_SOURCES; flags++) {
        char *text = explained_number(numbers[_i], PLW_FORMAT_TEXT, flags);
        check_lines(text);
        free(text);
    }
}
END_TEST

/* ---- Buffers and arguments ------------------------------------------------- */

/* Every capacity from none to one more than needed: the whole text or nothing,
 * and never a byte beyond the capacity. */
static void check_capacities(const plw_result *result, int32_t format)
{
    char *whole = explained(result, format, PLW_EXPLAIN_SOURCES);
    size_t size = strlen(whole) + 1;
    char *buffer = malloc(size + 2);
    ck_assert_ptr_nonnull(buffer);
    for (size_t capacity = 0; capacity <= size + 1; capacity++) {
        size_t needed = 0;
        memset(buffer, '#', size + 2);
        int32_t status = plw_explain(result, format, PLW_EXPLAIN_SOURCES, buffer, capacity,
                                     &needed);
        ck_assert_uint_eq(needed, size);
        ck_assert_int_eq(status, capacity < size ? PLW_E_SHORT : PLW_OK);
        if (capacity > 0)
            ck_assert_str_eq(buffer, capacity < size ? "" : whole);
        ck_assert_int_eq(buffer[capacity], '#');
    }
    free(buffer);
    free(whole);
}

START_TEST(whole_text_or_nothing)
{
    plw_result *result = validated("T24K2P100001");
    check_capacities(result, _i);
    plw_result_free(result);
}
END_TEST

START_TEST(refuses_what_it_does_not_know)
{
    char buffer[8] = "before";
    plw_result *result = validated("T24K3P100051");
    ck_assert_int_eq(plw_explain(NULL, PLW_FORMAT_TEXT, 0, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_explain(result, -1, 0, NULL, 0, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain(result, PLW_FORMAT_JSON + 1, 0, NULL, 0, NULL), PLW_E_FLAGS);
    for (uint32_t flag = PLW_EXPLAIN_SOURCES << 1; flag != 0; flag <<= 1)
        ck_assert_int_eq(plw_explain(result, PLW_FORMAT_TEXT, flag, NULL, 0, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain(result, -1, 0, buffer, sizeof buffer, NULL), PLW_E_FLAGS);
    ck_assert_str_eq(buffer, "");
    plw_result_free(result);
}
END_TEST

START_TEST(explains_a_decoded_result)
{
    plw_result *result = NULL;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    ck_assert_int_eq(plw_decode(fixture_tables(), "H27R9P100200", 12, NULL, 0, result), PLW_OK);
    char *text = explained(result, PLW_FORMAT_TEXT, 0);
    ck_assert_ptr_nonnull(strstr(text, "Heron, large saloon line"));
    ck_assert_ptr_null(strstr(text, "Findings"));
    ck_assert_ptr_null(strstr(text, "grade"));
    free(text);
    plw_result_free(result);
}
END_TEST

START_TEST(explains_an_unused_result)
{
    plw_result *result = NULL;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++)
        free(explained(result, format, PLW_EXPLAIN_SOURCES));
    plw_result_free(result);
}
END_TEST

/* ---- Sources on request ---------------------------------------------------- */

START_TEST(sources_stand_in_full_only_on_request)
{
    char *without = explained_number("T24K3P100051", _i, 0);
    char *with = explained_number("T24K3P100051", _i, PLW_EXPLAIN_SOURCES);
    const char *citation = "model year 1963, Wexcombe Motor";
    ck_assert_ptr_null(strstr(without, citation));
    ck_assert_ptr_nonnull(strstr(with, citation));
    ck_assert_ptr_null(strstr(strstr(with, citation) + 1, citation));
    free(without);
    free(with);
}
END_TEST

/* ---- Hostile text in a table ----------------------------------------------- */

/* A copy of the fixture's image with one text replaced by another of the same
 * length, and the digest made right again. */
static unsigned char *image_with(const char *old, const char *new)
{
    image_t image = plwi_image(fixture_tables());
    size_t size = plwi_u32(image + HEADER_SIZE);
    size_t length = strlen(old);
    unsigned char *copy = malloc(size);
    ck_assert_ptr_nonnull(copy);
    ck_assert_uint_eq(strlen(new), length);
    memcpy(copy, image, size);
    int replaced = 0;
    for (size_t i = 0; i + length < size; i++) {
        if (memcmp(copy + i, old, length) == 0 && copy[i + length] == 0) {
            memcpy(copy + i, new, length);
            replaced = 1;
        }
    }
    ck_assert(replaced);
    uint64_t digest = image_digest(copy + DIGEST_START, size - DIGEST_START);
    for (int i = 0; i < 8; i++)
        copy[HEADER_DIGEST + i] = (unsigned char)(digest >> (8 * i));
    return copy;
}

static char *explained_with(const char *old, const char *new, int32_t format)
{
    unsigned char *image = image_with(old, new);
    const plw_tables *tables = NULL;
    ck_assert_int_eq(plw_tables_open(image, plwi_u32(image + HEADER_SIZE), 0, &tables), PLW_OK);
    plw_result *result = validated_in(tables, "T24K3P100051");
    char *text = explained(result, format, PLW_EXPLAIN_SOURCES);
    plw_result_free(result);
    free(image);
    return text;
}

START_TEST(markdown_escapes_tables)
{
    char *text = explained_with("four-door sedan", "<b>|*_`[x](y)&\\", PLW_FORMAT_MARKDOWN);
    ck_assert_ptr_nonnull(strstr(text, "\\<b\\>\\|\\*\\_\\`\\[x\\](y)\\&\\\\"));
    free(text);
}
END_TEST

START_TEST(markdown_links_only_plain_addresses)
{
    char *text = explained_with("Owner's handbook, model year 1963, Wexcombe Motor Works, 1962",
                                "<script>alert(1)</script>![x](javascript:y) https://a.b/<i> [",
                                PLW_FORMAT_MARKDOWN);
    ck_assert_ptr_null(strstr(text, "<script"));
    ck_assert_ptr_null(strstr(text, "</script"));
    ck_assert_ptr_null(strstr(text, "<i>"));
    ck_assert_ptr_null(strstr(text, "![x]"));
    free(text);
}
END_TEST

START_TEST(markdown_escapes_the_number)
{
    char *text = explained_number("A<b>*|`_!1", PLW_FORMAT_MARKDOWN, 0);
    ck_assert_ptr_null(strchr(text, '<') == text ? text : strstr(text, " <"));
    for (const char *at = text; (at = strchr(at, '<')) != NULL; at++)
        ck_assert(at > text && at[-1] == '\\');
    free(text);
}
END_TEST

START_TEST(json_escapes_tables)
{
    char *text = explained_with("four-door sedan", "\"},\\n\\\"</b>'{}[", PLW_FORMAT_JSON);
    ck_assert_ptr_nonnull(strstr(text, "\"words\":\"\\\"},\\\\n\\\\\\\"</b>'{}[\""));
    free(text);
}
END_TEST

START_TEST(json_is_one_line)
{
    char *text = explained_number(numbers[_i], PLW_FORMAT_JSON, PLW_EXPLAIN_SOURCES);
    ck_assert_ptr_eq(strchr(text, '\n'), text + strlen(text) - 1);
    free(text);
}
END_TEST

/* ---- Wrapping -------------------------------------------------------------- */

START_TEST(overlong_words_break_hard)
{
    char *text = explained_with("running number of the year at Port Ellery, from 100001",
                                "abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyzab",
                                PLW_FORMAT_TEXT);
    check_lines(text);
    ck_assert_ptr_nonnull(strstr(text, "abcdefghijklmnopqrstuvwxyz"));
    free(text);
}
END_TEST

/* "e" and a combining acute take one column, so 26 of them stay on one line. */
START_TEST(combining_marks_take_no_column)
{
    static const char accented[] =
        "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81"
        "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81"
        "e\xCC\x81" "e\xCC\x81" "e\xCC\x81" "e\xCC\x81";
    char *text = explained_with("running number of the year at Port Ellery, from 100001", accented,
                                PLW_FORMAT_TEXT);
    ck_assert_ptr_nonnull(strstr(text, accented));
    free(text);
}
END_TEST

/* ---- The program ----------------------------------------------------------- */

static Suite *explain_suite(void)
{
    Suite *suite = suite_create("explain");
    TCase *cases = tcase_create("explain");
    tcase_set_timeout(cases, 60);
    tcase_add_test(cases, text_of_a_plain_number);
    tcase_add_test(cases, text_of_a_disputed_number);
    tcase_add_test(cases, text_of_a_contradiction);
    tcase_add_test(cases, markdown_of_a_plain_number);
    tcase_add_test(cases, json_of_a_plain_number);
    tcase_add_loop_test(cases, text_fits_the_page, 0, NUMBER_COUNT);
    tcase_add_loop_test(cases, whole_text_or_nothing, PLW_FORMAT_TEXT, PLW_FORMAT_JSON + 1);
    tcase_add_test(cases, refuses_what_it_does_not_know);
    tcase_add_test(cases, explains_a_decoded_result);
    tcase_add_test(cases, explains_an_unused_result);
    tcase_add_loop_test(cases, sources_stand_in_full_only_on_request, PLW_FORMAT_MARKDOWN,
                        PLW_FORMAT_JSON + 1);
    tcase_add_test(cases, markdown_escapes_tables);
    tcase_add_test(cases, markdown_links_only_plain_addresses);
    tcase_add_test(cases, markdown_escapes_the_number);
    tcase_add_test(cases, json_escapes_tables);
    tcase_add_loop_test(cases, json_is_one_line, 0, NUMBER_COUNT);
    tcase_add_test(cases, overlong_words_break_hard);
    tcase_add_test(cases, combining_marks_take_no_column);
    suite_add_tcase(suite, cases);
    return suite;
}

START_TEST(print_json_lines)
{
    for (uint32_t flags = 0; flags <= PLW_EXPLAIN_SOURCES; flags++) {
        char *text = explained_number(numbers[_i], PLW_FORMAT_JSON, flags);
        fputs(text, stdout);
        free(text);
    }
}
END_TEST

static Suite *json_suite(void)
{
    Suite *suite = suite_create("json");
    TCase *cases = tcase_create("json");
    tcase_add_loop_test(cases, print_json_lines, 0, NUMBER_COUNT);
    suite_add_tcase(suite, cases);
    return suite;
}

/* Runs a suite; returns how many of its tests failed. */
static int run(Suite *suite, enum fork_status fork_status, enum print_output output)
{
    SRunner *runner = srunner_create(suite);
    srunner_set_fork_status(runner, fork_status);
    srunner_run_all(runner, output);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed;
}

int main(int argc, char **argv)
{
    int wants_json = argc == 2 && strcmp(argv[1], "json") == 0;
    int failed = wants_json ? run(json_suite(), CK_NOFORK, CK_SILENT)
                            : run(explain_suite(), CK_FORK_GETENV, CK_NORMAL);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
