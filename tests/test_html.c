/* SPDX-License-Identifier: MIT
 *
 * Pages of HTML: that they say what was found, and that no text can become markup.
 * Whether they are well-formed and stand alone is for html.py.
 *
 * With the argument "print" it runs no test but prints pages, one after another,
 * for html.py.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "probe.h"

#define PAGE_SIZE (1 << 19)
#define COUNT(table) ((int)(sizeof table / sizeof *table))

static const char *const numbers[] = {
    "T24K2P100001",
    "T31K3P100051",
    "S23R8N500001",
    "H27R9P100200",
    "S23K6P100O01",
    "T24[KMR]6P1[0123]0051",
    "T2\xC3\x84?1P100051",
    "XTA4012345",
    "????????????",
    "X99Q9Z000000",
    "T24K3P100051T24K3P10005112345678",
    "T24K3P100051999999999999999999999999",
    "A<b>&\"'1]]>",
    "A\xE2\x80\xAE" "1\xD8\x9C" "2\x01" "3\xFF" "4",
    "",
};

static const char claims[] = "year=1966; engine=260 cu in; body=<b>van</b>; "
                             "colour=\"red\" & ']]>'; power=128 hp; maker=Wexcombe";

/* A letter for each section: Together, Agrees, Contradicts, Open, Next, reading. */
static const struct car {
    const char *plates;
    const char *claims;
    const char *sections;
} cars[] = {
    { "dash=T24M6P100051;engine=6P100051", "", "TAR" },
    { "dash=T24M6P100051;engine=6P100051", "year=1966", "TAR" },
    { "dash=T24M6P100051;engine=6P100051", "year=1967", "TACNR" },
    { "dash=T24M6P100051;engine=6P100051", "power=300 hp", "TAONR" },
    { "dash=T24M6P100051;engine=6P100051", "colour=red", "TAOR" },
    { "dash=T24M6P100051;engine=6P100052", "", "TCNR" },
    { "dash=T24M6P100051;engine=6P100052", "year=1966", "TACNR" },
    { "dash=T24M6P100051;engine=7P100051", "year=1966", "TCONR" },
    { "dash=T24M6P100051;door_label=T24M6P100051;engine=6P10005?", "", "TAR" },
    { "dash=T24M6P100051", "", "TONR" },
    { "dash=T24M6P100051;body_tag=<script>&\"'", "", "TONR" },
    { "dash=T24R5P100051;engine=5P100051", "", "TAOR" },
    { "dash=XTA4012345;door_label=XTA4012345", "", "TACNR" },
    { "dash=ABC;engine=", "", "ON" },
    { "engine=6P10005?;gearbox=6P10005?", "", "TANR" },
};

static const char *page_of(const plw_result *result, uint32_t flags)
{
    static char text[PAGE_SIZE];
    size_t needed = 0;
    ck_assert_int_eq(plw_explain(result, PLW_FORMAT_HTML, flags, text, sizeof text, &needed),
                     PLW_OK);
    ck_assert_uint_eq(strlen(text) + 1, needed);
    return text;
}

static const char *car_page(const plw_car *car, int32_t format, uint32_t flags)
{
    static char text[PAGE_SIZE];
    ck_assert_int_eq(plw_explain_car(car, format, flags, text, sizeof text, NULL), PLW_OK);
    return text;
}

static plw_result *validated(const char *number)
{
    plw_result *r = probe_validate(fixture_tables(), number, NULL);
    ck_assert_int_eq(plw_suggest(fixture_tables(), number, strlen(number), NULL, 0, r), PLW_OK);
    ck_assert_int_eq(plw_check_claims(r, claims, sizeof claims - 1), PLW_OK);
    return r;
}

static const plw_car *compared(const struct car *c)
{
    plw_car *car = probe_compare(fixture_tables(), c->plates, NULL);
    ck_assert_int_eq(plw_car_check_claims(car, c->claims, strlen(c->claims)), PLW_OK);
    return car;
}

static void expect(const char *shown, const char *words)
{
    ck_assert_msg(strstr(shown, words) != NULL, "not shown: %s", words);
}

typedef int32_t result_call(const plw_result *result, uint32_t index, char *buffer,
                            size_t capacity, size_t *needed);
typedef int32_t car_call(const plw_car *car, uint32_t index, char *buffer, size_t capacity,
                         size_t *needed);

static void expect_sentence(const char *shown, result_call *call, const plw_result *r, uint32_t i)
{
    char sentence[2048];
    ck_assert_int_eq(call(r, i, sentence, sizeof sentence, NULL), PLW_OK);
    expect(shown, sentence);
}

static void expect_car_sentence(const char *shown, car_call *call, const plw_car *car, uint32_t i)
{
    char sentence[2048];
    ck_assert_int_eq(call(car, i, sentence, sizeof sentence, NULL), PLW_OK);
    expect(shown, sentence);
}

static void expect_cautions(const char *shown)
{
    for (uint32_t i = 0; i < plw_caution_count(fixture_tables()); i++)
        expect(shown, plw_caution_text(fixture_tables(), i));
}

/* ---- one number ------------------------------------------------------------------ */

static void expect_fields(const char *shown, const plw_result *r, uint32_t reading)
{
    for (uint32_t field = 0; field < plw_field_count(r, reading); field++)
        for (uint32_t i = 0; i < plw_field_row_count(r, reading, field) && i < 12; i++) {
            expect(shown, plw_field_label(r, reading, field));
            expect(shown, plw_field_words(r, reading, field, i));
        }
}

START_TEST(test_a_page_says_what_was_found)
{
    const plw_result *r = validated(numbers[_i]);
    const char *shown = probe_shown(page_of(r, 0));
    for (uint32_t i = 0; i < plw_reading_count(r) && i < 3; i++) {
        expect(shown, plw_reading_title(r, i));
        expect_fields(shown, r, i);
    }
    for (uint32_t i = 0; i < plw_finding_count(r); i++)
        if (plw_finding_reading(r, i) == PLW_NONE || plw_finding_reading(r, i) < 3)
            expect_sentence(shown, plw_finding_sentence, r, i);
    for (uint32_t i = 0; i < plw_claim_count(r); i++)
        expect_sentence(shown, plw_claim_sentence, r, i);
    for (uint32_t i = 0; i < plw_suggestion_count(r); i++)
        expect_sentence(shown, plw_suggestion_sentence, r, i);
    expect_cautions(shown);
}
END_TEST

START_TEST(test_sources_are_links_on_request)
{
    static const char link[] = "<a rel=\"noreferrer\" href=\"https://club.example/register\">"
                               "https://club.example/register</a>";
    const plw_result *r = validated("H27R9P100200");
    ck_assert_ptr_null(strstr(page_of(r, 0), link));
    ck_assert_ptr_nonnull(strstr(page_of(r, PLW_EXPLAIN_SOURCES), link));
}
END_TEST

/* ---- cars -------------------------------------------------------------------------- */

static const struct section {
    char letter;
    const char *heading;
} sections[] = {
    { 'T', "<h2>What they say together</h2>" }, { 'A', "<h2>What agrees</h2>" },
    { 'C', "<h2>What contradicts</h2>" },       { 'O', "<h2>What is open</h2>" },
    { 'N', "<h2>What to look at next</h2>" },   { 'R', "<h2>What the number says</h2>" },
};

/* The letters of the sections of a page, which stand in this order. */
static const char *sections_of(const char *page)
{
    static char letters[COUNT(sections) + 1];
    size_t count = 0;
    const char *last = page;
    for (int i = 0; i < COUNT(sections); i++) {
        const char *found = strstr(page, sections[i].heading);
        if (found == NULL)
            continue;
        ck_assert(found > last);
        last = found;
        letters[count++] = sections[i].letter;
    }
    letters[count] = '\0';
    return letters;
}

START_TEST(test_a_car_has_its_sections)
{
    const struct car *c = &cars[_i];
    const char *found = sections_of(car_page(compared(c), PLW_FORMAT_HTML, 0));
    ck_assert_msg(strcmp(found, c->sections) == 0, "%s (%s): %s", c->plates, c->claims, found);
}
END_TEST

/* The page and the drawing say the same. */
START_TEST(test_a_car_is_told_in_full)
{
    const plw_car *car = compared(&cars[_i]);
    for (int32_t format = PLW_FORMAT_SVG; format <= PLW_FORMAT_HTML; format++) {
        const char *shown = probe_shown(car_page(car, format, 0));
        for (uint32_t i = 0; i < plw_plate_count(car); i++)
            expect_car_sentence(shown, plw_plate_sentence, car, i);
        for (uint32_t i = 0; i < plw_difference_count(car); i++)
            expect_car_sentence(shown, plw_difference_sentence, car, i);
        for (uint32_t i = 0; i < plw_missing_count(car); i++)
            expect_car_sentence(shown, plw_missing_sentence, car, i);
        for (uint32_t i = 0; i < plw_advice_count(car); i++)
            expect_car_sentence(shown, plw_advice_sentence, car, i);
        for (uint32_t i = 0; i < plw_claim_count(plw_car_result(car)); i++)
            expect_sentence(shown, plw_claim_sentence, plw_car_result(car), i);
        expect_cautions(shown);
    }
}
END_TEST

START_TEST(test_a_car_is_told_whole_or_not_at_all)
{
    static char buffer[PAGE_SIZE];
    const plw_car *car = compared(&cars[6]);
    size_t size = strlen(car_page(car, _i, PLW_EXPLAIN_SOURCES)) + 1;
    for (size_t capacity = 0; capacity <= size; capacity += capacity < size - 2 ? 7 : 1) {
        size_t needed = 0;
        int32_t status = plw_explain_car(car, _i, PLW_EXPLAIN_SOURCES, buffer, capacity, &needed);
        ck_assert_int_eq(status, capacity < size ? PLW_E_SHORT : PLW_OK);
        ck_assert_uint_eq(needed, size);
        if (capacity > 0)
            ck_assert_uint_eq(strlen(buffer), capacity < size ? 0 : size - 1);
    }
}
END_TEST

/* Every source behind what the page shows is listed. */
START_TEST(test_sources_of_a_car_are_complete)
{
    const plw_car *car = compared(&cars[2]);
    const char *page = car_page(car, PLW_FORMAT_HTML, PLW_EXPLAIN_SOURCES);
    const char *list = strstr(page, "<h2>Sources</h2>");
    ck_assert_ptr_nonnull(list);
    for (uint32_t i = 0; i < plw_source_count(fixture_tables()); i++) {
        const char *key = plw_source_key(fixture_tables(), i);
        char cited[64], listed[64];
        snprintf(cited, sizeof cited, "[%s]</small>", key);
        snprintf(listed, sizeof listed, "<b>[%s]</b>", key);
        if (strstr(page, cited))
            ck_assert_msg(strstr(list, listed) != NULL, "%s is not listed", key);
    }
    ck_assert_ptr_nonnull(strstr(list, "<b>[parts-66]</b>"));
}
END_TEST

/* ---- hostile texts -------------------------------------------------------------------- */

/* Marks that could only come from a text, in whatever it is written. */
static void expect_harmless(const char *text)
{
    static const char *const marks[] = { RIGHT_TO_LEFT_MARK, ARABIC_MARK, "\xE2\x80\xAE" };
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        ck_assert_msg(!strstr(text, marks[i]), "a mark that turns the direction");
    for (const char *at = text; *at; at++)
        ck_assert_msg(*at == '\n' || ((unsigned char)*at >= ' ' && *at != 0x7F),
                      "a control character");
}

static void expect_no_markup(const char *text)
{
    static const char *const markup[] = { "<script", "<iframe", "<img", "<b onload", "<i>", "<!--",
                                          "href=\"javascript", "]]>", "<h1>`" };
    for (size_t i = 0; i < sizeof markup / sizeof *markup; i++)
        ck_assert_msg(!strstr(text, markup[i]), "markup: %s", markup[i]);
}

START_TEST(test_hostile_numbers_and_claims)
{
    const plw_result *r = validated(numbers[_i]);
    const char *page = page_of(r, PLW_EXPLAIN_SOURCES);
    expect_harmless(page);
    expect_no_markup(page);
    ck_assert_ptr_nonnull(strstr(page, "body=&lt;b&gt;van&lt;/b&gt;"));
}
END_TEST

static const plw_car *hostile_car(void)
{
    static const char own[] = "body=<i>; colour=</svg><script>x()</script>; power=`*_[x](y)";
    static const char plates[] = "dash=A112345;door_label=A112346;"
                                 "body_tag=<b onload=\"x\">]]>\x1B";
    plw_car *car = probe_compare(fixture_hostile_tables(), plates, NULL);
    ck_assert_int_eq(plw_car_check_claims(car, own, sizeof own - 1), PLW_OK);
    return car;
}

START_TEST(test_hostile_tables)
{
    const plw_result *r = probe_validate(fixture_hostile_tables(), "A112345", NULL);
    static char text[PAGE_SIZE];
    ck_assert_int_eq(plw_explain(r, _i, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL), PLW_OK);
    expect_harmless(text);
    expect_harmless(car_page(hostile_car(), _i, PLW_EXPLAIN_SOURCES));
    if (_i < PLW_FORMAT_SVG)
        return;
    expect_no_markup(text);
    expect_no_markup(car_page(hostile_car(), _i, PLW_EXPLAIN_SOURCES));
}
END_TEST

START_TEST(test_hostile_texts_are_shown_as_they_are)
{
    const char *shown = probe_shown(car_page(hostile_car(), PLW_FORMAT_HTML, 0));
    expect(shown, "colour=</svg><script>x()</script>");
    expect(shown, "<b onload='x()'>&amp;\"</b>");
    expect(shown, "</style></main><iframe src=x>" REPLACEMENT "stamp");
    expect(shown, "<h1>`*_[x](y)\"</h1>");
}
END_TEST

/* Names and dates go the same way. */
START_TEST(test_hostile_names_and_dates)
{
    static const char own[] = "field/line = <script>\"'&\n"
                              "scheme/port-ellery-1962 = </title><img src=x>\n";
    static const char date[] = "<img src=x>\"";
    plw_names *names;
    plw_car *car = probe_car();
    ck_assert_int_eq(plw_names_new(fixture_tables(), own, sizeof own - 1, &names), PLW_OK);
    plw_car_clear(car);
    ck_assert_int_eq(plw_car_use_names(car, names), PLW_OK);
    probe_add_plates(car, "dash=T24M6P100051;engine=6P100051");
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, date, sizeof date - 1), PLW_OK);
    ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
    const char *page = car_page(car, _i, 0);
    expect_no_markup(page);
    expect(probe_shown(page), "</title><img src=x>");
    if (_i == PLW_FORMAT_HTML)
        expect(probe_shown(page), "<script>\"'&");
    plw_car_use_names(car, NULL);
    plw_names_free(names);
}
END_TEST

/* ---- the program ------------------------------------------------------------------------ */

static void print_live(void)
{
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++) {
        plw_result *r = probe_validate(NULL, plw_layout_sample(NULL, scheme, 0), NULL);
        fputs(page_of(r, PLW_EXPLAIN_SOURCES), stdout);
    }
}

START_TEST(test_that_prints)
{
    for (int i = 0; i < COUNT(numbers); i++)
        fputs(page_of(validated(numbers[i]), (uint32_t)i & PLW_EXPLAIN_SOURCES), stdout);
    for (int i = 0; i < COUNT(cars); i++)
        fputs(car_page(compared(&cars[i]), PLW_FORMAT_HTML, (uint32_t)i & PLW_EXPLAIN_SOURCES),
              stdout);
    fputs(page_of(probe_validate(fixture_hostile_tables(), "A112345", NULL), PLW_EXPLAIN_SOURCES),
          stdout);
    fputs(car_page(hostile_car(), PLW_FORMAT_HTML, PLW_EXPLAIN_SOURCES), stdout);
    plw_car_clear(probe_car());
    fputs(car_page(probe_car(), PLW_FORMAT_HTML, 0), stdout);
    print_live();
}
END_TEST

static void add_pages(TCase *test)
{
    tcase_add_test(test, test_that_prints);
}

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_a_page_says_what_was_found, 0, COUNT(numbers));
    tcase_add_test(test, test_sources_are_links_on_request);
    tcase_add_loop_test(test, test_a_car_has_its_sections, 0, COUNT(cars));
    tcase_add_loop_test(test, test_a_car_is_told_in_full, 0, COUNT(cars));
    tcase_add_loop_test(test, test_a_car_is_told_whole_or_not_at_all, PLW_FORMAT_TEXT,
                        PLW_FORMAT_HTML + 1);
    tcase_add_test(test, test_sources_of_a_car_are_complete);
    tcase_add_loop_test(test, test_hostile_numbers_and_claims, 0, COUNT(numbers));
    tcase_add_loop_test(test, test_hostile_tables, PLW_FORMAT_TEXT, PLW_FORMAT_HTML + 1);
    tcase_add_test(test, test_hostile_texts_are_shown_as_they_are);
    tcase_add_loop_test(test, test_hostile_names_and_dates, PLW_FORMAT_SVG, PLW_FORMAT_HTML + 1);
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "print") == 0)
        return probe_print("print", add_pages);
    return probe_run("html", add);
}
