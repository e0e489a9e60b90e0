/* SPDX-License-Identifier: MIT
 *
 * Pieces that the library is made of, and what it does with tables and with a
 * vocabulary that are not those of the fixture.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compile.h"
#include "dates.h"
#include "fixture.h"
#include "internal.h"
#include "page.h"
#include "probe.h"

static char text[1 << 18];

/* ---- writing --------------------------------------------------------------------- */

static const struct {
    int64_t number;
    const char *text;
} written[] = {
    { 0, "0" },
    { 10, "10" },
    { -5, "-5" },
    { INT64_MAX, "9223372036854775807" },
    { INT64_MIN, "-9223372036854775808" },
};

START_TEST(test_numbers)
{
    plwi_writer writer = plwi_writer_on(text, sizeof text);
    plwi_put_number(&writer, written[_i].number);
    ck_assert_int_eq(plwi_writer_end(&writer, NULL), PLW_OK);
    ck_assert_str_eq(text, written[_i].text);
}
END_TEST

static const char *page_of(const char *words)
{
    plwi_writer writer = plwi_writer_on(text, sizeof text);
    plwi_page page = { .out = &writer };
    plwi_page_put(&page, words);
    plwi_page_finish(&page);
    ck_assert_int_eq(plwi_writer_end(&writer, NULL), PLW_OK);
    return text;
}

/* Controls part words; what is no text is shown as such; marks take no column. */
START_TEST(test_page)
{
    char marks[1 + 2 * 200 + 1] = "a";
    ck_assert_str_eq(page_of("a\x7F" "b\x1F" "c\xC2\x85" "d"), "a b c d\n");
    ck_assert_str_eq(page_of("a\xC2\xA0" "b\xC2" "c"), "a\xC2\xA0" "b\xEF\xBF\xBD" "c\n");
    ck_assert_uint_eq(plwi_columns("e\xCC\x81" "e\xCD\xAF" "\xCD\xB0"), 3);
    ck_assert_uint_eq(plwi_columns("\xF0\x90\x80\x80\x80"), 2);
    for (size_t i = 0; i < 200; i++)
        memcpy(marks + 1 + 2 * i, "\xCC\x81", 3);
    ck_assert_uint_ge(strlen(page_of(marks)), 1 + 2 * 200);
}
END_TEST

START_TEST(test_sets)
{
    ck_assert_int_eq(plwi_is_single(0), 0);
    ck_assert_int_eq(plwi_is_single(8), 1);
    ck_assert_int_eq(plwi_is_single(9), 0);
}
END_TEST

/* ---- dates ------------------------------------------------------------------------ */

static uint32_t days_of(const char *date, const char *form, const char *origin, int32_t year)
{
    plwi_date_form wanted = { form, "", origin, 0, 0, year };
    plwi_spans spans = { 0 };
    uint32_t from_car = 0;
    plwi_read_date(date, &wanted, &spans, &from_car);
    return spans.count;
}

/* An origin is a day from the 1st to the 28th; other images may have others. */
START_TEST(test_origins)
{
    static const char *const bad[] = { "", "0000-01-01", "1970-00-01", "1970-13-01",
                                       "1970-01-00", "1970-01-29" };
    ck_assert_uint_eq(days_of("12", "J", "1970-01-01", 1970), 1);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_uint_eq(days_of("12", "J", bad[i], 1970), 0);
}
END_TEST

/* Years are from 1920 to 2047 wherever a date is read near one of them. */
START_TEST(test_years_of_dates)
{
    ck_assert_uint_eq(days_of("1 2 1970", "M D YYYY", "", 1970), 1);
    ck_assert_uint_eq(days_of("1 2 1919", "M D YYYY", "", 1970), 0);
    ck_assert_uint_eq(days_of("1 2 2048", "M D YYYY", "", 1970), 0);
    ck_assert_uint_eq(days_of("1 2", "M D YYYY", "", 1970), 0);
    ck_assert_uint_eq(days_of("12", "WW", "", 1970), 0); /* a week of no year */
    ck_assert_uint_eq(days_of("a1", "SD", "", 1970), 0); /* dates are kept in capitals */
}
END_TEST

/* ---- hints ------------------------------------------------------------------------- */

START_TEST(test_hints)
{
    static const char *const good[] = { "\tyear=1970\t; ;;maker = x", ";", "scheme=x" };
    static const char *const bad[] = { "year=19.0", "year=19a0", "year=197", "year", "age=3" };
    plw_result *result;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    for (size_t i = 0; i < sizeof good / sizeof *good; i++)
        ck_assert_int_eq(plw_decode(NULL, "x", 1, good[i], 0, result), PLW_OK);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_int_eq(plw_decode(NULL, "x", 1, bad[i], 0, result), PLW_E_HINT);
    plw_result_free(result);
}
END_TEST

/* ---- other tables --------------------------------------------------------------------- */

#define LONG_NAME "a name of forty characters, which is long, "

/* Two schemes whose numbers look alike: one tells its maker as a brand, the other in a row. */
static const char makers[] =
    "[scheme]\nkey odd-1970\ntitle Odd cars\nyears 1970-1979\nfacts brand=Zephyrine,body=sedan\n"
    "[fields]\nl line code A-Z\ne engine code A-Z\ns sequence run 0-9\n"
    "[layout]\nsample AA12345\nruler lesssss\n"
    "[line]\n"
    "A 1970-1979 - practice - cyl=8 first line\n"
    "B 1970-1979 - practice - cyl=6,brand=Zephyrine second line\n"
    "[engine]\n"
    "A 1970-1979 - practice - cid=427,hp_net=90,carb=injection,cyl=8,line=Tern first engine\n"
    "B 1970-1979 - practice - line=\"" LONG_NAME LONG_NAME LONG_NAME LONG_NAME
    "\",carb=2x second engine\n"
    "C 1970-1979 - practice - cid=96.7,carb=\"" LONG_NAME LONG_NAME LONG_NAME LONG_NAME
    "\",line=\xC3\x89" "clair third engine\n"
    "D 1970-1979 - practice - cc=850,line=@home fourth engine\n"
    "E 1970-1979 - practice - line=\"|bar\" fifth engine\n"
    "F 1970-1979 - practice - brand=\"Zeph " LONG_NAME LONG_NAME LONG_NAME "\",maker=\"Zeph "
    LONG_NAME LONG_NAME LONG_NAME "\",division=\"Zeph " LONG_NAME LONG_NAME LONG_NAME
    "\" sixth engine\n"
    "[sequence]\n00001+ 1970-1979 - practice - - running number\n"
    "[scheme]\nkey odd-1971\ntitle Other cars\nyears 1970-1979\nfacts -\n"
    "[fields]\nl line code A-Z\ne engine code A-Z\ns sequence run 0-9\n"
    "[layout]\nsample AA12345\nruler lesssss\n"
    "[line]\nA 1970-1979 - practice - division=Gossamer first line\n"
    "[engine]\nA 1970-1979 - practice - - first engine\n"
    "[sequence]\n00001+ 1970-1979 - practice - - running number\n";

START_TEST(test_makers_as_hints)
{
    const plw_tables *tables = fixture_tables_of(makers);
    plw_result *r = probe_decode(tables, "AA12345", "maker=Zephyrine");
    ck_assert_str_eq(probe_scheme(tables, r, 0), "odd-1970");
    r = probe_decode(tables, "AA12345", "maker=Gossamer");
    ck_assert_str_eq(probe_scheme(tables, r, 0), "odd-1971");
    r = probe_decode(tables, "AA12345", "maker=2 Gossamer");
    ck_assert_str_eq(probe_scheme(tables, r, 0), "odd-1970");
}
END_TEST

static const struct {
    const char *number;
    const char *claim;
    const char *verdict;
} claims[] = {
    { "AA12345", "power=90", "supported" },
    { "AA12345", "engine=427", "supported" },
    { "AD12345", "displacement=850", "supported" },
    { "AC12345", "displacement=96.7 cu in", "supported" },
    { "AA12345", "carburation=2x4", "not-told" },
    { "AB12345", "carburation=2x4", "not-told" },
    { "AC12345", "carburation=2x4", "not-told" },
    { "AB12345", "line=Tern", "not-told" },
    { "AA12345", "line=a name", "not-told" },
    { "AA12345", "line=zebra", "not-told" },
    { "AA12345", "sequence=0012345", "supported" }, /* zeros before it change nothing */
    { "AA12345", "sequence=9012345", "contradicted" },
    { "AA12345", "sequence=a2345", "contradicted" },
    { "BA12345", "cylinders=8", "not-told" }, /* its fields contradict each other */
    { "BA12345", "maker=Zephyrine", "supported" },
    { "A[XYZ]12345", "line=Tern", "not-told" },
    { "AF12345", "maker=Zeph", "supported" }, /* the words would fill more than a sentence */
};

/* What the tables state in words that nobody can hold against a claim says nothing. */
START_TEST(test_claims)
{
    plw_result *r = probe_decode(fixture_tables_of(makers), claims[_i].number, "maker=Zephyrine");
    ck_assert_int_eq(plw_check_claims(r, claims[_i].claim, strlen(claims[_i].claim)), PLW_OK);
    ck_assert_str_eq(plw_verdict_name(plw_claim_verdict(r, 0)), claims[_i].verdict);
    ck_assert_int_eq(plw_claim_sentence(r, 0, text, sizeof text, NULL), PLW_OK);
}
END_TEST

/* What is too long or stands in another form is not understood, and no failure. */
START_TEST(test_claims_that_are_not_understood)
{
    static const char *const forms[] = {
        "year=1.50", "year=19a6", "year=0066", "year=1966 x", "carburation=2x0",
        "carburation=2x5", "carburation=3 x", "carburation=four two", "carburation=two 4",
        "year=abcd", "sequence=1{0", "engine=4.12345 l",
        "sequence=1_000", "sequence=-", "barrels carried=4", "body=1.x",
    };
    static const char *const attributes[] = { "body", "sequence", "maker", "" };
    char claim[600];
    plw_result *r = probe_decode(fixture_tables(), "T24K3P100051", NULL);
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        ck_assert_int_eq(plw_check_claims(r, forms[i], strlen(forms[i])), PLW_OK);
        ck_assert_msg(plw_claim_reason(r, 0) == PLW_REASON_NOT_UNDERSTOOD, "%s", forms[i]);
    }
    for (size_t i = 0; i < sizeof attributes / sizeof *attributes; i++) {
        size_t begin = strlen(attributes[i]);
        memset(claim, '1', sizeof claim);
        memcpy(claim, attributes[i], begin);
        claim[begin ? begin : 300] = '=';
        ck_assert_int_eq(plw_check_claims(r, claim, sizeof claim), PLW_OK);
        ck_assert_int_eq(plw_claim_reason(r, 0), PLW_REASON_NOT_UNDERSTOOD);
    }
    ck_assert_int_eq(plw_check_claims(r, "sequence=100,0-5.1", 18), PLW_OK);
    ck_assert_int_eq(plw_claim_verdict(r, 0), PLW_VERDICT_SUPPORTED);
}
END_TEST

/* ---- stamps ------------------------------------------------------------------------- */

/* Rows that repeat the same characters make one stamp. */
START_TEST(test_stamps_that_are_alike)
{
    plw_result *r = probe_decode(
        fixture_tables_of(
            "[scheme]\nkey odd-1970\ntitle Odd cars\nyears 1970-1979\nfacts -\n"
            "[fields]\nl line code A-Z\ne engine code A-Z\ns sequence run 0-9\n"
            "- partial_stamp topic -\n"
            "[layout]\nsample AA12345\nruler lesssss\n"
            "[line]\nA 1970-1979 - practice - - first line\n"
            "[engine]\nA 1970-1979 - practice - - first engine\n"
            "[sequence]\n00001+ 1970-1979 - practice - - running number\n"
            "[partial_stamp]\n"
            "engine 1970-1979 - practice - repeats=sequence,places=engine one\n"
            "gearbox 1970-1979 - practice - repeats=sequence,places=gearbox two\n"
            "body 1970-1979 - practice - repeats=line+sequence,places=body three\n"
            "dash 1970-1979 - practice - repeats=engine.1+sequence,places=dash four\n"
            "tag 1970-1979 - practice - repeats=none,places=body_tag five\n"),
        "AA12345", NULL);
    ck_assert_uint_eq(plw_stamp_count(r, 0), 3);
    ck_assert_int_eq(plw_stamp_text(r, 0, 1, text, sizeof text, NULL), PLW_OK);
    ck_assert_str_eq(text, "A12345");
    r = probe_decode(fixture_tables(), "S24K2P100051", NULL); /* no model year is left */
    ck_assert_uint_eq(plw_reading_year_count(r, 0), 0);
    ck_assert_uint_eq(plw_stamp_count(r, 0), 1);
}
END_TEST

/* ---- what was not compared ------------------------------------------------------------ */

START_TEST(test_explanations_of_little)
{
    plw_car *car;
    plw_expectation *e;
    ck_assert_int_eq(plw_car_new(&car), PLW_OK);
    ck_assert_int_eq(plw_expectation_new(&e), PLW_OK);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++) {
        plw_car_clear(car);
        ck_assert_int_eq(plw_explain_car(car, format, 0, text, sizeof text, NULL), PLW_OK);
        ck_assert_ptr_nonnull(strstr(text, "No plate was given."));
        ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
        ck_assert_int_eq(plw_explain_car(car, format, 0, text, sizeof text, NULL), PLW_OK);
        ck_assert_ptr_nonnull(strstr(text, "No plate was given."));
        probe_add_plates(car, "dash=T24R8P100051");
        ck_assert_int_eq(plw_explain_car(car, format, 0, text, sizeof text, NULL), PLW_OK);
        ck_assert_ptr_nonnull(strstr(text, "The plates were not compared."));
        if (format == PLW_FORMAT_SVG)
            continue;
        ck_assert_int_eq(plw_expect(fixture_tables(), "mood=fair", 9, NULL, 0, e), PLW_OK);
        ck_assert_int_eq(plw_explain_expectation(e, format, PLW_EXPLAIN_SOURCES, text,
                                                 sizeof text, NULL),
                         PLW_OK);
        ck_assert_int_eq(plw_expect(fixture_tables(), "engine=212;year=1969", 20, NULL, 0, e),
                         PLW_OK);
        ck_assert_int_eq(plw_explain_expectation(e, format, PLW_EXPLAIN_SOURCES, text,
                                                 sizeof text, NULL),
                         PLW_OK);
        ck_assert_ptr_nonnull(strstr(text, "Parts list"));
    }
    plw_expectation_free(e);
    plw_car_free(car);
}
END_TEST

/* A character beyond the alphabet is shown as it was typed. */
START_TEST(test_a_picture_in_a_number)
{
    const plw_result *r = probe_validate(fixture_tables(), "T24K3P1000\xF0\x9F\x9A\x97" "1", NULL);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++) {
        ck_assert_int_eq(plw_explain(r, format, 0, text, sizeof text, NULL), PLW_OK);
        ck_assert_ptr_nonnull(strstr(text, "\xF0\x9F\x9A\x97"));
    }
}
END_TEST

/* What no row tells has no words in a combination either. */
START_TEST(test_a_combination_with_an_unknown_code)
{
    const plw_result *r = probe_validate(fixture_tables(), "S24X6P100051", NULL);
    ck_assert_str_eq(probe_sentence(r, PLW_FINDING_NOT_BUILT),
                     "The tables say this combination was not built: line S (Shrike, sporting "
                     "line) with engine X, 1966; the parts list names every engine of the Shrike.");
}
END_TEST

/* ---- hints on patterns -------------------------------------------------------------- */

static const char *first_scheme(const plw_tables *tables, plw_expectation *e, const char *hints)
{
    ck_assert_int_eq(plw_expect(tables, "year=1970", 9, hints, 0, e), PLW_OK);
    return plw_scheme_key(tables, plw_pattern_scheme(e, 0));
}

START_TEST(test_hints_on_patterns)
{
    const plw_tables *tables = fixture_tables_of(makers);
    plw_expectation *e;
    ck_assert_int_eq(plw_expectation_new(&e), PLW_OK);
    ck_assert_str_eq(first_scheme(tables, e, "maker=Zephyrine"), "odd-1970");
    ck_assert_str_eq(first_scheme(tables, e, "scheme=odd-1971"), "odd-1971");
    ck_assert_str_eq(first_scheme(tables, e, "scheme=odd-1971x"), "odd-1970");
    ck_assert_int_eq(plw_expect(tables, "year=1970;division=Gossamer", 27, "maker=Gossamer", 0, e),
                     PLW_OK);
    ck_assert_str_eq(plw_scheme_key(tables, plw_pattern_scheme(e, 0)), "odd-1971");
    ck_assert_int_eq(plw_expect(tables, "cylinders=8", 11, "maker=Gossamer", 0, e), PLW_OK);
    ck_assert_uint_gt(plw_pattern_count(e), 0);
    plw_expectation_free(e);
}
END_TEST

/* ---- many of a kind -------------------------------------------------------------------- */

static void put(const char *format, unsigned number)
{
    sprintf(text + strlen(text), format, number, number);
}

START_TEST(test_schemes_of_a_prefix_are_capped)
{
    text[0] = '\0';
    for (unsigned i = 0; i < 260; i++)
        put("[scheme]\nkey odd%u-1970\ntitle Odd cars\nyears 1970-1979\nfacts -\n"
            "[fields]\nl line code A-Z\n[layout]\nsample A\nruler l\n"
            "[line]\nA 1970-1979 - practice - - line %u\n", i);
    plw_result *r;
    ck_assert_int_eq(plw_result_new(&r), PLW_OK);
    ck_assert_int_eq(plw_prefix(fixture_tables_of(text), "A", 1, 0, r), PLW_OK);
    ck_assert_uint_eq(plw_prefix_scheme_count(r), 256);
    plw_result_free(r);
}
END_TEST

/* More than are looked at, in a scheme of which one layout lacks a field. */
START_TEST(test_stamps_are_capped)
{
    strcpy(text, "[scheme]\nkey odd-1970\ntitle Odd cars\nyears 1970-1979\nfacts -\n"
                 "[fields]\nl line code A-Z\ne engine code A-Z\ns sequence run 0-9\n"
                 "- partial_stamp topic -\n"
                 "[layout]\nsample AA12345\nruler lesssss\n"
                 "[layout]\nsample A12345\nruler lsssss\n"
                 "[line]\nA 1970-1979 - practice - - line\n"
                 "[engine]\nA 1970-1979 - practice - - engine\n"
                 "[sequence]\n00001+ 1970-1979 - practice - - running number\n"
                 "[partial_stamp]\n");
    for (unsigned i = 0; i < 70; i++)
        put("plate%u 1970-1979 - practice - repeats=engine,places=engine stamp %u\n", i);
    const plw_tables *tables = fixture_tables_of(text);
    ck_assert_uint_eq(plw_stamp_count(probe_decode(tables, "AA12345", NULL), 0), 1);
    ck_assert_uint_eq(plw_stamp_count(probe_decode(tables, "A12345", NULL), 0), 0);
}
END_TEST

/* ---- many differences ------------------------------------------------------------------ */

/* As many as are listed, of plates that agree nowhere. */
START_TEST(test_differences_are_capped)
{
    plw_car *car = probe_car();
    plw_car_clear(car);
    for (unsigned i = 0; i < PLW_MAX_PLATES; i++) {
        char number[24];
        char letter = "ABCDEFGHJKLMNPQR"[i];
        unsigned d = i % 10;
        sprintf(number, "%c%u%u%c%u%c%u%u%u%u%u%u", letter, d, d, letter, d, letter, d, d, d, d, d,
                d);
        ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, number, strlen(number)), PLW_OK);
    }
    ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
    ck_assert_uint_eq(plw_difference_count(car), PLW_MAX_DIFFERENCES);
}
END_TEST

/* ---- long words --------------------------------------------------------------------- */

/* Brackets with many characters go on below. */
START_TEST(test_number_longer_than_a_line)
{
    char number[PLW_MAX_TEXT + 1] = "";
    for (unsigned i = 0; i < 12; i++)
        strcat(number, "[ABCDEFGHJKLMN]");
    const plw_result *r = probe_validate(fixture_tables(), number, NULL);
    ck_assert_int_eq(plw_explain(r, PLW_FORMAT_TEXT, 0, text, sizeof text, NULL), PLW_OK);
    for (const char *line = text, *end; (end = strchr(line, '\n')) != NULL; line = end + 1)
        ck_assert_uint_le((size_t)(end - line), 80);
}
END_TEST

/* Tabs and joiners may stand in names; other marks of that kind may not. */
START_TEST(test_joiners_in_names)
{
    plw_names *names;
    const char good[] = "field/engine =\tmo\xE2\x80\x8C" "tor\xE2\x80\x8D";
    ck_assert_int_eq(plw_names_new(fixture_tables(), good, sizeof good - 1, &names), PLW_OK);
    ck_assert_uint_eq(plw_names_problem_count(names), 0);
    plw_names_free(names);
    const char bad[] = "field/engine = mo\xE2\x80\x8B" "tor";
    ck_assert_int_eq(plw_names_new(fixture_tables(), bad, sizeof bad - 1, &names), PLW_OK);
    ck_assert_uint_eq(plw_names_problem_count(names), 1);
    plw_names_free(names);
}
END_TEST

/* ---- another vocabulary ------------------------------------------------------------- */

/* The vocabulary with one text in place of another, or without a section of it. */
static char *vocabulary(const char *old, const char *fresh)
{
    size_t size;
    char *words = fixture_text("tables/vocabulary.txt", &size);
    char *at = strstr(words, old);
    ck_assert_ptr_nonnull(at);
    char *changed = malloc(size + strlen(fresh) + 1);
    ck_assert_ptr_nonnull(changed);
    memcpy(changed, words, (size_t)(at - words));
    strcpy(changed + (at - words), fresh);
    strcat(changed, at + strlen(old));
    free(words);
    return changed;
}

static char *without_section(const char *section)
{
    size_t size;
    char *words = fixture_text("tables/vocabulary.txt", &size);
    char *at = strstr(words, section);
    ck_assert_ptr_nonnull(at);
    at = strchr(at, '\n') + 1;
    char *next = strstr(at, "\n[");
    memmove(at, next ? next : at + strlen(at), next ? strlen(next) + 1 : 1);
    return words;
}

static const plw_tables *tables_of(char *words, char *scheme)
{
    size_t size;
    tc_compilation *c = tc_new();
    tc_add(c, "vocabulary.txt", words, strlen(words));
    tc_add(c, "test.scheme", scheme, strlen(scheme));
    if (!tc_finish(c))
        ck_abort_msg("%s", tc_message(c, 0));
    const unsigned char *image = tc_image(c, &size);
    unsigned char *copy = fixture_keep(malloc(size));
    const plw_tables *tables;
    ck_assert_ptr_nonnull(copy);
    memcpy(copy, image, size);
    tc_free(c);
    free(words);
    free(scheme);
    ck_assert_int_eq(plw_tables_open(copy, size, 0, &tables), PLW_OK);
    return tables;
}

static const plw_tables *tables_with(char *words)
{
    size_t size;
    return tables_of(words, fixture_text("tests/fixtures/port-ellery.scheme", &size));
}

static void replace(char *words, const char *old, const char *fresh)
{
    char *at = strstr(words, old);
    ck_assert_ptr_nonnull(at);
    ck_assert_uint_eq(strlen(old), strlen(fresh));
    memcpy(at, fresh, strlen(fresh));
}

/* Words that this release knows nothing of: another body, a series in figures, and doors in
 * words. */
START_TEST(test_claims_of_another_vocabulary)
{
    static const char scheme[] =
        "[scheme]\nkey odd-1970\ntitle Odd cars\nyears 1970-1979\nfacts -\n"
        "[fields]\nl line code A-Z\ns sequence run 0-9\n"
        "[layout]\nsample A12345\nruler lsssss\n"
        "[line]\nA 1970-1979 - practice - body=pickup,series=5,line=Tern,doors=two first line\n"
        "[sequence]\n00001+ 1970-1979 - practice - - running number\n";
    static const char said[] = "body=sedan;model=royal;series=5;doors=2";
    char *words = vocabulary("sedan hardtop coupe", "pickup sedan hardtop coupe");
    char *own = malloc(sizeof scheme);
    ck_assert_ptr_nonnull(own);
    memcpy(own, scheme, sizeof scheme);
    replace(words, "series       text    series", "series       number  series");
    replace(words, "doors        number  doors            -",
            "doors        list    doors     two four");
    plw_result *r = probe_decode(tables_of(words, own), "A12345", NULL);
    ck_assert_int_eq(plw_check_claims(r, said, sizeof said - 1), PLW_OK);
    for (uint32_t claim = 0; claim < 4; claim++)
        ck_assert_int_eq(plw_claim_verdict(r, claim), PLW_VERDICT_NOT_TOLD);
}
END_TEST

START_TEST(test_cautions_that_are_not_there)
{
    const plw_tables *tables = tables_with(without_section("[cautions]"));
    const plw_result *r = probe_validate(tables, "T24K3P100051", NULL);
    ck_assert_uint_eq(plw_caution_count(tables), 0);
    ck_assert_int_eq(plw_explain(r, PLW_FORMAT_TEXT, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_ptr_null(strstr(text, "Before you rely on this"));
}
END_TEST

/* Keys longer than a line of a names text cannot stand in one: others are found as ever. */
START_TEST(test_keys_that_no_name_can_have)
{
    enum { LONG = 1100 };
    static char fresh[LONG + 100], own[LONG + 1000], letters[LONG + 1];
    static const char said[] = "field/line = Modell\nodd-1970/line/A/1970 = erste\n";
    plw_names *names;
    memset(letters, 'a', LONG);
    sprintf(fresh, "%s long\nprice_class  ", letters);
    sprintf(own,
            "[scheme]\nkey odd-1970\ntitle Odd cars\nyears 1970\nfacts -\n"
            "[fields]\nl line code A-Z\n- partial_stamp topic -\n"
            "[layout]\nsample A\nruler l\n[line]\nA 1970 - practice - - first line\n"
            "[partial_stamp]\n%s 1970 - practice - repeats=line,places=engine stamp\n", letters);
    char *copy = malloc(strlen(own) + 1);
    ck_assert_ptr_nonnull(copy);
    const plw_tables *tables = tables_of(vocabulary("price_class  ", fresh), strcpy(copy, own));
    ck_assert_int_eq(plw_names_new(tables, said, sizeof said - 1, &names), PLW_OK);
    ck_assert_uint_eq(plw_names_problem_count(names), 0);
    plw_names_free(names);
}
END_TEST

/* A place in a sentence that means nothing there stays empty. */
START_TEST(test_places_that_mean_nothing)
{
    const plw_tables *tables = tables_with(
        vocabulary("There is no number to read.",
                   "{expected}{fields}{code}{condition}{market}{start}Nothing."));
    const plw_result *r = probe_validate(tables, "", NULL);
    ck_assert_str_eq(probe_sentence(r, PLW_FINDING_EMPTY), "Nothing.");
    tables = tables_with(vocabulary("There is no number to read.", "{market}"));
    ck_assert_str_eq(probe_sentence(probe_validate(tables, "", NULL), PLW_FINDING_EMPTY), "");
    tables = tables_with(vocabulary("There is no number to read.", "~ nothing."));
    ck_assert_str_eq(probe_sentence(probe_validate(tables, "", NULL), PLW_FINDING_EMPTY),
                     "~ nothing.");
    tables = tables_with(vocabulary("The tables have no {field}", "{market}{end}no {field}"));
    r = probe_validate(tables, "T24X3P100051", NULL);
    ck_assert_str_eq(probe_sentence(r, PLW_FINDING_UNKNOWN_CODE),
                     "No engine X for 1963, 1973; that does not make it wrong.");
}
END_TEST

/* A misread character is marked in a drawing even where that is only worth knowing. */
START_TEST(test_misread_as_a_note)
{
    const plw_tables *tables =
        tables_with(vocabulary("misread            doubt", "misread            note "));
    const plw_result *r = probe_validate(tables, "T24K3P10OO51", NULL);
    ck_assert_uint_ne(probe_finding(r, PLW_FINDING_MISREAD), PLW_NONE);
    ck_assert_int_eq(plw_explain(r, PLW_FORMAT_SVG, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_int_eq(plw_explain(r, PLW_FORMAT_TEXT, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_ptr_nonnull(strstr(text, "^"));
}
END_TEST

/* A doubt about the number itself speaks against the car whatever the reading. */
START_TEST(test_unreadable_as_a_doubt)
{
    const plw_tables *tables =
        tables_with(vocabulary("unreadable         note ", "unreadable         doubt"));
    const plw_car *car = probe_compare(tables, "dash=T24K3P10?051", NULL);
    ck_assert_int_eq(plw_explain_car(car, PLW_FORMAT_TEXT, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_ptr_nonnull(strstr(text, "Position 9 cannot be read"));
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_numbers, 0, sizeof written / sizeof *written);
    tcase_add_test(test, test_page);
    tcase_add_test(test, test_sets);
    tcase_add_test(test, test_origins);
    tcase_add_test(test, test_years_of_dates);
    tcase_add_test(test, test_hints);
    tcase_add_test(test, test_makers_as_hints);
    tcase_add_loop_test(test, test_claims, 0, sizeof claims / sizeof *claims);
    tcase_add_test(test, test_claims_that_are_not_understood);
    tcase_add_test(test, test_stamps_that_are_alike);
    tcase_add_test(test, test_explanations_of_little);
    tcase_add_test(test, test_a_picture_in_a_number);
    tcase_add_test(test, test_a_combination_with_an_unknown_code);
    tcase_add_test(test, test_hints_on_patterns);
    tcase_add_test(test, test_schemes_of_a_prefix_are_capped);
    tcase_add_test(test, test_stamps_are_capped);
    tcase_add_test(test, test_differences_are_capped);
    tcase_add_test(test, test_number_longer_than_a_line);
    tcase_add_test(test, test_joiners_in_names);
    tcase_add_test(test, test_claims_of_another_vocabulary);
    tcase_add_test(test, test_cautions_that_are_not_there);
    tcase_add_test(test, test_keys_that_no_name_can_have);
    tcase_add_test(test, test_places_that_mean_nothing);
    tcase_add_test(test, test_misread_as_a_note);
    tcase_add_test(test, test_unreadable_as_a_doubt);
}

int main(void)
{
    return probe_run("pieces", add);
}
