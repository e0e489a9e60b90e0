/* SPDX-License-Identifier: MIT
 *
 * Tables of a kind that no maker of ours has: conditions on running numbers, fields
 * that a layout lacks, numbers as long as they may be, more rows than are looked at.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "expect.h"
#include "fixture.h"
#include "internal.h"
#include "probe.h"

static char scheme[1 << 20];
static char text[1 << 18];

/* Begins a scheme of the years given; more is written behind it. */
static void begin(const char *years, const char *facts, const char *rest)
{
    sprintf(scheme, "[scheme]\nkey odd-1970\ntitle Odd cars\nyears %s\nfacts %s\n%s", years, facts,
            rest);
}

static plw_expectation *expect(const plw_tables *tables, const char *claims)
{
    static plw_expectation *e;
    if (e == NULL)
        ck_assert_int_eq(plw_expectation_new(&e), PLW_OK);
    ck_assert_int_eq(plw_expect(tables, claims, strlen(claims), NULL, 0, e), PLW_OK);
    return e;
}

/* ---- conditions ------------------------------------------------------------------- */

static const plw_tables *conditional(void)
{
    static const plw_tables *tables;
    if (tables)
        return tables;
    begin("1970-1979", "country=Wexland,body=sedan",
          "[fields]\nl line code A-Z\ne engine code A-Z\ns sequence run 0-9\n"
          "[layout]\nsample AA12345\nruler lesssss\n"
          "[layout]\nsample A12345\nruler lsssss\n"
          "[layout]\nsample AA123\nruler lesss\n"
          "[line]\n"
          "A 1970-1979 - practice - series=One any engine\n"
          "A 1970-1979 engine=B practice - series=Two with engine B\n"
          "Z 1970-1979 - practice - country=Elsewhere made under licence\n"
          "[engine]\n"
          "A 1970-1979 sequence=00001-50000 practice - cid=200 small\n"
          "A 1970-1979 sequence=50001-99999 practice - cid=300 big\n"
          "B 1970-1979 country=Wexland practice - cid=400,fuel=diesel of Wexland\n"
          "B 1970-1979 country=Elsewhere practice - cid=500 from elsewhere\n"
          "[sequence]\n"
          "00001+ 1970-1974 engine=A practice - - running number\n"
          "10001+ 1975-1979 engine=B practice - - running number with engine B\n"
          "00001-00099 1970-1979 - practice - cyl=6 the first ones\n"
          "50001-60000 1970-1979 - practice - cyl=8 those with eight cylinders\n");
    return tables = fixture_tables_of(scheme);
}

static const struct {
    const char *number;
    const char *field;
    const char *words;
} readings[] = {
    { "AA12345", "engine", "small" },
    { "AA70000", "engine", "big" },
    { "AA?0000", "engine", "small / big" },
    { "AB12345", "engine", "of Wexland" },
    { "AB12345", "line", "with engine B" },
    { "AA12345", "line", "any engine" },
    { "A?12345", "line", "any engine / with engine B" },
    { "A12345", "line", "any engine / with engine B" },
};

START_TEST(test_readings)
{
    const plw_tables *tables = conditional();
    const plw_result *r = probe_validate(tables, readings[_i].number, NULL);
    ck_assert_str_eq(probe_words(tables, r, 0, readings[_i].field), readings[_i].words);
}
END_TEST

static const struct {
    const char *claim;
    int32_t verdict;
} fuels[] = {
    { "fuel=diesel", PLW_VERDICT_SUPPORTED },
    { "fuel=petrol", PLW_VERDICT_CONTRADICTED },
};

START_TEST(test_fuels)
{
    plw_result *r = probe_decode(conditional(), "AB12345", NULL);
    ck_assert_int_eq(plw_check_claims(r, fuels[_i].claim, strlen(fuels[_i].claim)), PLW_OK);
    ck_assert_int_eq(plw_claim_verdict(r, 0), fuels[_i].verdict);
}
END_TEST

static const struct {
    const char *claims;
    uint32_t patterns;
} expectations[] = {
    { "", 3 }, /* one for each layout */
    { "displacement=200 cu in", 3 },
    { "displacement=300 cu in", 3 },
    { "displacement=400 cu in", 5 },
    { "displacement=500 cu in", 3 },
    { "displacement=400 cu in; series=One", 5 },
    { "cylinders=8; displacement=300 cu in", 4 },
    { "cylinders=6; year=1970", 5 },
    { "body=wagon", 0 }, /* all of them are sedans */
    { "body=wagon; displacement=500 cu in", 0 },
    { "body=wagon; cylinders=8", 0 },
    { "sequence=12345; year=1975", 2 },
    { "sequence=0012345; year=1975", 2 }, /* what is more than the field is zeros */
    { "sequence=9012345; year=1975", 0 },
    { "sequence=a2345; year=1975", 0 },
    { "cylinders=6; cylinders=6; cylinders=6; cylinders=6; cylinders=6; cylinders=6; "
      "cylinders=6; cylinders=6; cylinders=6; year=1970", 5 },
};

/* Every pattern is a number that plw_decode takes, and has its range in words. */
START_TEST(test_expectations)
{
    const plw_expectation *e = expect(conditional(), expectations[_i].claims);
    ck_assert_uint_eq(plw_pattern_count(e), expectations[_i].patterns);
    for (uint32_t i = 0; i < plw_pattern_count(e); i++) {
        ck_assert_int_eq(plw_pattern_range(e, i, text, sizeof text, NULL), PLW_OK);
        ck_assert_int_eq(plw_pattern_text(e, i, text, sizeof text, NULL), PLW_OK);
        ck_assert_uint_gt(plw_reading_count(probe_decode(conditional(), text, NULL)), 0);
    }
    ck_assert_int_eq(plw_expectation_sentence(e, text, sizeof text, NULL), PLW_OK);
    ck_assert_str_ne(text, "");
}
END_TEST

static const plw_tables *open_answers(void)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z\nm model code A-Z\ne engine code A-Z\n"
          "[layout]\nsample AAA\nruler lme\n"
          "[line]\nW 1970 - practice - country=Wexland,line=Tern of Wexland\n"
          "Y 1970 - practice,either - country=Elsewhere,line=Shrike,tag=some some of them\n"
          "Y 1970 - practice,either - tag=other others\n"
          "[model]\nB 1970 - practice - line=Heron model\n"
          "[engine]\nA 1970 country=Elsewhere practice - cid=200 one\n"
          "A 1970 - practice - cid=300 two\n"
          "B 1970 country=Wexland practice - cid=200 three\n");
    return fixture_tables_of(scheme);
}

/* Rows of which some do not answer a condition leave it open; of two fields that tell a
 * line, one that agrees is enough. */
static const struct {
    const char *claim;
    const char *patterns[2];
} answers[] = {
    { "displacement=200 cu in", { "??B", "[ABCDEFGHIJKLMNOPQRSTUVXYZ]?A" } }, /* not W */
    { "line=Tern", { "WB?", "YB?" } },
};

START_TEST(test_open_answers)
{
    const plw_expectation *e = expect(open_answers(), answers[_i].claim);
    ck_assert_uint_eq(plw_pattern_count(e), 2);
    for (uint32_t i = 0; i < 2; i++) {
        ck_assert_int_eq(plw_pattern_text(e, i, text, sizeof text, NULL), PLW_OK);
        ck_assert_str_eq(text, answers[_i].patterns[i]);
        ck_assert_int_eq(plw_pattern_tells(e, i, 0), i == 0);
    }
}
END_TEST

static const struct {
    const char *number;
    const char *claim;
    int32_t reason;
} figures[] = {
    { "A", "displacement=1.4 l", PLW_REASON_NEAR },
    { "B", "displacement=1.4 l", PLW_REASON_NEAR },
    { "A", "doors=3", PLW_REASON_NONE }, /* contradicted */
    { "A", "doors=5", PLW_REASON_NEAR },
};

/* One row may tell two figures: the better one counts. Doors differ by a tailgate only. */
START_TEST(test_figures)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z\n[layout]\nsample A\nruler l\n"
          "[line]\nA 1970 - practice - cid=200,cc=1490,doors=4 one\n"
          "B 1970 - practice - cc=3277,cid=91 other\n");
    const char *claim = figures[_i].claim;
    plw_result *r = probe_decode(fixture_tables_of(scheme), figures[_i].number, NULL);
    ck_assert_int_eq(plw_check_claims(r, claim, strlen(claim)), PLW_OK);
    ck_assert_int_eq(plw_claim_reason(r, 0), figures[_i].reason);
    ck_assert_int_eq(plw_claim_verdict(r, 0), figures[_i].reason == PLW_REASON_NONE
                                                  ? PLW_VERDICT_CONTRADICTED
                                                  : PLW_VERDICT_NOT_TOLD);
}
END_TEST

/* ---- sets of codes ------------------------------------------------------------------- */

static uint64_t code_of(const char *characters)
{
    uint64_t code = 0;
    for (; *characters; characters++)
        code = code << CODE_BITS | (plwi_character_bit((unsigned char)*characters) + 1);
    return code;
}

/* Where there is no room for each code, one box holds all of them. */
START_TEST(test_boxes_without_room)
{
    static plwi_boxes boxes;
    const uint64_t codes[] = { code_of("AA"), code_of("AB"), code_of("BC") };
    plwi_box around = { { ALL_CHARACTERS, ALL_CHARACTERS } };
    boxes.count = MAX_BOXES - 1;
    plwi_boxes_of_codes(&boxes, codes, 3, 2);
    ck_assert_uint_eq(boxes.count, MAX_BOXES);
    ck_assert_uint_eq(boxes.item[MAX_BOXES - 1].set[0],
                      UINT64_C(3) << plwi_character_bit('A')); /* A and B */
    boxes.count = MAX_BOXES - 2;
    plwi_boxes_around(&boxes, &around, codes, 3, 2);
    ck_assert_uint_eq(boxes.count, MAX_BOXES - 1);
    ck_assert_uint_eq(boxes.item[MAX_BOXES - 2].set[0], ALL_CHARACTERS);
}
END_TEST

/* Nothing is left at a place that takes none of the characters but those of the codes. */
START_TEST(test_boxes_around_all_there_is)
{
    static plwi_boxes boxes;
    const uint64_t codes[] = { code_of("AA"), code_of("BB") };
    uint64_t a = UINT64_C(1) << plwi_character_bit('A');
    plwi_box around = { { a, a } };
    plwi_boxes_around(&boxes, &around, codes, 2, 2);
    ck_assert_uint_eq(boxes.count, 0);
}
END_TEST

/* ---- long numbers ------------------------------------------------------------------- */

#define LONG_SERIAL "012345678901234567890123456789" /* with two letters 32 characters */

static const plw_tables *long_numbers(void)
{
    begin("1970-1979", "-",
          "[fields]\nl line code A-Z\ne engine code A-Z\ns sequence free 0-9\n"
          "t body free 0-9\nu series free 0-9\n- partial_stamp topic -\n"
          "[layout]\nsample AA" LONG_SERIAL "\nruler lessssssssssttttttttttuuuuuuuuuu\n"
          "[line]\nA 1970-1979 - practice - - first line\n"
          "[engine]\nA 1970-1979 - practice - - first engine\n"
          "[partial_stamp]\n"
          "one 1970-1979 - practice - repeats=line+engine,places=engine both letters\n"
          "two 1970-1979 - practice - repeats=sequence+body+series+line+engine+line,"
          "places=body all\n");
    return fixture_tables_of(scheme);
}

/* A drawing has two rows of boxes, and a plate stands in those of which it shows something. */
START_TEST(test_long_numbers)
{
    const plw_tables *tables = long_numbers();
    const plw_result *r = probe_validate(tables, "AA" LONG_SERIAL, NULL);
    ck_assert_uint_eq(plw_result_position_count(r), PLW_MAX_POSITIONS);
    ck_assert_int_eq(plw_explain(r, PLW_FORMAT_SVG, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_uint_eq(plw_stamp_count(r, 0), 1); /* the other would be longer than a number */
    plw_car *car = probe_compare(tables, "dash=AA" LONG_SERIAL ";engine=AA", NULL);
    ck_assert_int_eq(plw_car_verdict(car), PLW_PLATE_AGREES);
    ck_assert_int_eq(plw_explain_car(car, PLW_FORMAT_SVG, 0, text, sizeof text, NULL), PLW_OK);
}
END_TEST

/* A pattern is never longer than a number may be: the longest brackets go first. */
START_TEST(test_long_patterns)
{
    image_t image = plwi_image(long_numbers());
    plwi_pattern pattern = { .layout = 0 };
    for (uint32_t p = 0; p < PLW_MAX_POSITIONS; p++)
        pattern.sets[p] = plwi_class(image, plwi_layout(image, 0), p) & ~UINT64_C(1);
    plwi_writer writer = plwi_writer_on(text, sizeof text);
    plwi_put_pattern(&writer, image, &pattern);
    ck_assert_int_eq(plwi_writer_end(&writer, NULL), PLW_OK);
    ck_assert_uint_le(strlen(text), PLW_MAX_TEXT);
    ck_assert_ptr_nonnull(strchr(text, '?'));
    ck_assert_ptr_nonnull(strchr(text, '['));
}
END_TEST

/* ---- stamps and dates ---------------------------------------------------------------- */

/* Of the rows that speak of later years the first is told. */
START_TEST(test_stamps_of_later_years)
{
    begin("1970-1979", "-",
          "[fields]\nl line code A-Z\ny year code 0-9\ns sequence run 0-9\n"
          "- partial_stamp topic -\n"
          "[layout]\nsample A012345\nruler lysssss\n"
          "[line]\nA 1970-1979 - practice - - first line\n"
          "[year]\n0 1970 - practice - - 1970\n1-9 1971-1979 - practice - - later\n"
          "[sequence]\n00001+ 1970-1979 - practice - - running number\n"
          "[partial_stamp]\n"
          "after 1976-1979 - practice - repeats=sequence,places=engine from 1976\n"
          "before 1974-1975 - practice - repeats=sequence,places=engine from 1974\n"
          "never 1975-1979 - practice - repeats=none,places=gearbox not since 1975\n"
          "style 1970-1979 - practice - style=plain says nothing of a stamp\n"
          "nowhere 1970-1979 - practice - repeats=sequence a stamp without a place\n");
    const plw_tables *tables = fixture_tables_of(scheme);
    plw_car *car = probe_compare(tables, "dash=A012345;engine=12345;gearbox=12345", NULL);
    ck_assert_int_eq(plw_plate_verdict(car, 1), PLW_PLATE_NOT_EXPECTED);
    ck_assert_str_eq(plw_row_words(tables, plw_plate_row(car, 1)), "from 1974");
    ck_assert_int_eq(plw_plate_verdict(car, 2), PLW_PLATE_AGREES);
}
END_TEST

/* A date that can mean more days than are kept is held against nothing. */
START_TEST(test_dates_that_can_be_too_much)
{
    begin("1970-1971", "-",
          "[fields]\nl line code A-Z\ns sequence run 0-9\n- date_rule topic -\n"
          "- casting_date topic -\n"
          "[layout]\nsample A12345\nruler lsssss\n"
          "[line]\nA 1970-1971 - practice - - first line\n"
          "[sequence]\n00001+ 1970-1971 - practice - - running number\n"
          "[date_rule]\n"
          "first 1970 - practice - opens=1,closes=24 built until December of the year after\n"
          "second 1971 - practice - opens=30,closes=6 as early as a rule may say\n"
          "end 1970-1971 - practice - closes=3 an end alone\n"
          "lead 1970-1971 - practice - lead=99999,dates=casting lay for long\n"
          "[casting_date]\n");
    for (unsigned i = 0; i < 80; i++)
        sprintf(scheme + strlen(scheme),
                "count%u 1970-1971 - practice,doubtful - date=J,origin=19%02u-01-0%u,dates=casting "
                "counted from that day\n",
                i, 50 + i % 20, 1 + i / 20);
    plw_car *car = probe_car();
    plw_car_clear(car);
    probe_add_plates(car, "dash=A12345");
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, "12", 2), PLW_OK);
    ck_assert_int_eq(plw_compare(fixture_tables_of(scheme), car, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_date_reason(car, 0), PLW_DATE_REASON_TOO_MANY);
    ck_assert_int_eq(plw_date_capped(car, 0), 1);
    ck_assert_int_eq(plw_car_built_first(car), 19690101);
    ck_assert_int_eq(plw_car_built_last(car), 19711231);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        ck_assert_int_eq(plw_explain_car(car, format, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_int_eq(plw_date_sentence(car, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_ptr_nonnull(strstr(text, "too many days"));
}
END_TEST

/* ---- check characters ------------------------------------------------------------------ */

/* A character to which the table of the check gives no value leaves the check open. */
START_TEST(test_characters_without_a_value)
{
    static const struct {
        const char *number;
        int32_t check;
    } checks[] = {
        { "AA801234", PLW_CHECK_FITS },
        { "AA201234", PLW_CHECK_FAILS },
        { "AC801234", PLW_CHECK_OPEN },
    };
    begin("1970-1979", "-",
          "[fields]\nl line code A-Z\nc check check 0-9X\ns sequence run 0-9\n"
          "[layout]\nsample AA101234\nruler llcsssss\n"
          "[check check]\nvalues A1 B2\nweights 2 3 0 5 6 7 8 9\nmodulus 11\n"
          "digits 0123456789X\n"
          "[line]\nAA 1970-1979 - practice - - a line\nAC 1970-1979 - practice - - another\n"
          "[sequence]\n00001+ 1970-1979 - practice - - running number\n");
    const plw_tables *tables = fixture_tables_of(scheme);
    for (size_t i = 0; i < sizeof checks / sizeof *checks; i++)
        ck_assert_int_eq(plw_reading_check(probe_decode(tables, checks[i].number, NULL), 0, NULL),
                         checks[i].check);
}
END_TEST

/* ---- other rare rows ---------------------------------------------------------------- */

/* Conditions of a stamp that the number does not meet: a check character that fits, and a
 * code longer than the field is in its layout. */
START_TEST(test_stamps_under_conditions)
{
    begin("1970-1979", "-",
          "[fields]\nl line code A-Z\nc check check 0-9X\ns sequence run 0-9\n"
          "- partial_stamp topic -\n"
          "[layout]\nsample AA301234\nruler llcsssss\n"
          "[layout]\nsample A01234\nruler lsssss\n"
          "[check check]\nvalues A1 B2\nweights 2 3 0 5 6 7 8 9\nmodulus 11\n"
          "digits 0123456789X\n"
          "[line]\nAA 1970-1979 - practice - - two letters\nA 1970-1979 - practice - - one\n"
          "[sequence]\n00001+ 1970-1979 - practice - - running number\n"
          "[partial_stamp]\n"
          "one 1970-1979 check=fails practice - repeats=sequence,places=engine where it fails\n"
          "two 1970-1979 line=AA practice - repeats=sequence,places=gearbox of two letters\n"
          "three 1970-1979 - practice - repeats=line+sequence,places=body always\n");
    const plw_tables *tables = fixture_tables_of(scheme);
    for (char check = '0'; check <= '9'; check++) {
        char plates[64];
        sprintf(plates, "dash=AA%c01234;body=AA01234;engine=01234", check);
        plw_car *car = probe_compare(tables, plates, NULL);
        ck_assert_int_eq(plw_plate_verdict(car, 0), PLW_PLATE_AGREES);
    }
    plw_car *car = probe_compare(tables, "dash=A01234;body=A01234;gearbox=01234", NULL);
    ck_assert_int_eq(plw_plate_verdict(car, 1), PLW_PLATE_AGREES);
}
END_TEST

static const struct {
    const char *number;
    uint32_t readings;
} runs[] = {
    { "AA12345", 1 },
    { "AB12345", 2 }, /* the same words, but other facts */
    { "AC12345", 1 }, /* the same words and facts */
};

/* A general row marked also holds a number that a row with a condition does not reach. */
START_TEST(test_rows_that_say_nearly_the_same)
{
    begin("1970-1979", "-",
          "[fields]\nl line code A-Z\ne engine code A-Z\ns sequence run 0-9\n"
          "[layout]\nsample AA12345\nruler lesssss\n"
          "[line]\nA 1970-1979 - practice - - line\n"
          "[engine]\nA 1970-1979 - practice - - engine\n"
          "B 1970-1974 - practice - - the same words\n"
          "B 1975-1979 - practice - cyl=4 the same words\n"
          "C 1970-1974 - practice - cyl=4 the same words\n"
          "C 1975-1979 - practice - cyl=4 the same words\n"
          "[sequence]\n"
          "00001-40000 1970-1979 - practice,also - - running number\n"
          "50001+ 1970-1979 line=A practice - - those of line A\n");
    const plw_result *r = probe_validate(fixture_tables_of(scheme), runs[_i].number, NULL);
    ck_assert_uint_eq(plw_reading_count(r), runs[_i].readings);
    ck_assert_uint_eq(probe_finding(r, PLW_FINDING_SEQUENCE_LOW), PLW_NONE);
}
END_TEST

/* A number is below the start of what holds for it, whatever else begins earlier. */
START_TEST(test_running_numbers_of_another_line)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z\ns sequence run 0-9\n"
          "[layout]\nsample A12345\nruler lsssss\n"
          "[line]\nA 1970 - practice - - first line\nB 1970 - practice - - second line\n"
          "[sequence]\n20001+ 1970 line=A practice - - of the first line\n"
          "10001+ 1970 line=B practice - - of the second line\n");
    const plw_tables *tables = fixture_tables_of(scheme);
    const plw_result *r = probe_validate(tables, "A12345", NULL);
    ck_assert_uint_ne(probe_finding(r, PLW_FINDING_SEQUENCE_LOW), PLW_NONE);
    ck_assert_ptr_nonnull(strstr(probe_sentence(r, PLW_FINDING_SEQUENCE_LOW), "20001"));
    r = probe_validate(tables, "B12345", NULL);
    ck_assert_uint_eq(probe_finding(r, PLW_FINDING_SEQUENCE_LOW), PLW_NONE);
}
END_TEST

/* Of more ranges of running numbers than are looked at none is told. */
START_TEST(test_more_ranges_than_are_looked_at)
{
    for (unsigned count = 700; count <= 800; count += 100) {
        begin("1970", "-",
              "[fields]\nl line code A-Z\ns sequence run 0-9\n"
              "[layout]\nsample A10000\nruler lsssss\n"
              "[line]\nA 1970 - practice - - a line\n[sequence]\n");
        char *end = scheme + strlen(scheme);
        for (unsigned i = 0; i < count; i++)
            end += sprintf(end, "%u-%u 1970 - practice - - numbers\n", 10000 + i, 10000 + i);
        const plw_result *r = probe_validate(fixture_tables_of(scheme), "A00001", NULL);
        ck_assert_int_eq(probe_finding(r, PLW_FINDING_SEQUENCE_LOW) != PLW_NONE, count == 700);
    }
}
END_TEST

/* Rows that hold the same code, or the same running number, in four fields: too many for the
 * last of them, which says nothing. */
START_TEST(test_more_rows_of_codes_than_are_looked_at)
{
    static const char *const fields[] = { "line", "model", "engine" };
    begin("1970", "-", "[fields]\nl line code A-Z\nm model code A-Z\ne engine code A-Z\n");
    strcat(scheme, _i ? "s sequence run 0-9\n[layout]\nsample AAA1\nruler lmes\n"
                      : "s body code A-Z\n[layout]\nsample AAAA\nruler lmes\n");
    char *end = scheme + strlen(scheme);
    for (unsigned f = 0; f < 4; f++) {
        end += sprintf(end, "[%s]\n", f < 3 ? fields[f] : _i ? "sequence" : "body");
        for (unsigned i = 0; i < 200; i++)
            end += sprintf(end, "%s 1970 - practice,either - tag=t%u words %u\n",
                           _i && f == 3 ? "1+" : "A", i, i);
    }
    const plw_result *r = probe_decode(fixture_tables_of(scheme), _i ? "AAA1" : "AAAA", NULL);
    ck_assert_uint_eq(plw_field_count(r, 0), 4);
    for (uint32_t f = 0; f < 4; f++) {
        ck_assert_uint_eq(plw_field_row_count(r, 0, f), f < 3 ? 200 : 0);
        ck_assert_int_eq(plw_field_state(r, 0, f), f < 3 ? PLW_FIELD_KNOWN : PLW_FIELD_PLAIN);
    }
}
END_TEST

/* Fields that share all their positions are called out one behind the other. */
START_TEST(test_fields_in_one_place)
{
    begin("1970-1979", "-",
          "[fields]\nl line code A-Z\nk series code A-Z\nm model code A-Z\ne engine code A-Z\n"
          "[layout]\nsample AA\nruler le\nruler k.\nruler m.\n"
          "[line]\nA 1970-1979 - practice - - a line\n"
          "[series]\nA 1970-1979 - practice - - a series\n"
          "[model]\nA 1970-1979 - practice - - a model\n"
          "[engine]\nA 1970-1979 - practice - - an engine\n");
    const plw_result *r = probe_validate(fixture_tables_of(scheme), "AA", NULL);
    ck_assert_int_eq(plw_explain(r, PLW_FORMAT_SVG, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert(strstr(text, "a line") < strstr(text, "a series"));
}
END_TEST

/* What is found on another reading is nothing that speaks against the car. */
START_TEST(test_findings_on_another_reading)
{
    plw_car *car = probe_compare(fixture_tables(), "dash=T24K2P000051", NULL);
    const plw_result *r = plw_car_result(car);
    uint32_t others = 0;
    for (uint32_t i = 0; i < plw_finding_count(r); i++)
        others += plw_finding_reading(r, i) == 1 && plw_finding_grade(r, i) == PLW_GRADE_DOUBT;
    ck_assert_uint_gt(others, 0);
    ck_assert_uint_eq(plw_car_reading(car), 0);
    ck_assert_int_eq(plw_explain_car(car, PLW_FORMAT_TEXT, 0, text, sizeof text, NULL), PLW_OK);
    const char *first = strstr(text, "lies below the known start");
    ck_assert_ptr_nonnull(first);
    ck_assert_ptr_null(strstr(first + 1, "lies below the known start"));
}
END_TEST

/* Rows whose words fill a piece: what is too long for it is left out, and says so. */
START_TEST(test_long_words)
{
    char words[1500];
    memset(words, 'w', sizeof words - 1);
    words[sizeof words - 1] = '\0';
    begin("1970", "-",
          "[sources]\nbook A book | -\n"
          "[fields]\nl line code A-Z\ne engine code A-Z\n"
          "[layout]\nsample AA\nruler le\n"
          "[line]\nA 1970 - published book - line\n[engine]\n");
    for (unsigned i = 0; i < 2; i++)
        sprintf(scheme + strlen(scheme),
                "A 1970 - published,disputed book cid=%u,tag=t%u %s%u\n", 200 + i, i, words, i);
    const plw_tables *tables = fixture_tables_of(scheme);
    const plw_result *r = probe_validate(tables, "AA", NULL);
    ck_assert_uint_ne(probe_finding(r, PLW_FINDING_DISPUTED), PLW_NONE);
    ck_assert_int_eq(plw_explain(r, PLW_FORMAT_TEXT, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_ptr_nonnull(strstr(text, "left out: a text of"));
    const plw_expectation *e = expect(tables, "displacement=200 cu in");
    ck_assert_int_eq(plw_explain_expectation(e, PLW_FORMAT_TEXT, 0, text, sizeof text, NULL),
                     PLW_OK);
    ck_assert_ptr_nonnull(strstr(text, "Sources differ."));
}
END_TEST

/* A detail that was closed and has no row says nothing of a claim. */
START_TEST(test_closed_detail)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z\ne engine code A-Z\nh engine_power detail -\n"
          "[layout]\nsample AA\nruler le\nruler .h\n"
          "[line]\nA 1970 - practice - - line\n"
          "[engine]\nA 1970 - practice - - one\nB 1970 - practice - - other\n"
          "[engine_power]\nA 1970 - practice - hp_gross=100 100 hp\n"
          "[closed engine_power]\n1970 - practice - every power is known\n");
    plw_result *r = probe_decode(fixture_tables_of(scheme), "AB", NULL);
    ck_assert_int_eq(plw_check_claims(r, "power=100", 9), PLW_OK);
    ck_assert_int_eq(plw_claim_verdict(r, 0), PLW_VERDICT_NOT_TOLD);
}
END_TEST

/* Two conditions on running numbers, one of them of another field. */
START_TEST(test_two_running_numbers)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z\nb series run 0-9\ns sequence run 0-9\n"
          "[layout]\nsample A1112345\nruler lbbsssss\n"
          "[line]\nA 1970 - practice - line=Tern line\nB 1970 - practice - line=Heron line\n"
          "[series]\n01+ 1970 - practice - - batch\n"
          "[sequence]\n00001-50000 1970 series=01-50 practice - - of the first batches\n"
          "50001-99999 1970 line=B practice - - of line B\n");
    const plw_expectation *e = expect(fixture_tables_of(scheme), "line=Tern");
    ck_assert_uint_eq(plw_pattern_count(e), 1);
    ck_assert_int_eq(plw_pattern_range(e, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_str_eq(text, "01+ or 00001-50000"); /* of both */
}
END_TEST

/* Misread pairs in every place make more candidates than are tried. */
START_TEST(test_more_suggestions_than_are_tried)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z0-9\ns sequence free A-Z0-9\nb body free A-Z0-9\n"
          "u series free A-Z0-9\n"
          "[layout]\nsample BB8B8B8B8B8B8B8B8B8B8B8B8B8B8B8B\n"
          "ruler llssssssssssbbbbbbbbbbuuuuuuuuuu\n"
          "[line]\n00 1970 - practice - - line\n");
    static const char number[] = "OOQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQ";
    plw_result *r;
    ck_assert_int_eq(plw_result_new(&r), PLW_OK);
    ck_assert_int_eq(plw_suggest(fixture_tables_of(scheme), number, sizeof number - 1, NULL, 0, r),
                     PLW_OK);
    ck_assert_uint_eq(plw_suggestion_count(r), 1);
    ck_assert_int_eq(plw_suggestion_number(r, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_str_eq(text, "00QQQQQQQQQQQQQQQQQQQQQQQQQQQQQQ");
    plw_result_free(r);
}
END_TEST

/* ---- tables with much in them ------------------------------------------ */

/* A field of which not all rows find room says nothing; nor do conditions beyond the 63rd. */
START_TEST(test_more_rows_than_are_looked_at)
{
    begin("1970", "-",
          "[fields]\ne engine code A-Z0-9\nl line code A-Z0-9\nm model code A-Z0-9\n"
          "s sequence run 0-9\n"
          "[layout]\nsample AA00012345\nruler lmeeesssss\n"
          "[sequence]\n00001-50000 1970 - practice - - running number\n"
          "50001-99999 1970 - practice - - another one\n[line]\n");
    char *end = scheme + strlen(scheme);
    for (unsigned i = 0; i < 36; i++)
        end += sprintf(end, "%c 1970 - practice - cyl=4 line\n", plwi_character(i));
    end += sprintf(end, "[model]\n");
    for (unsigned i = 0; i < 36; i++)
        end += sprintf(end, "%c 1970 line=%c practice - doors=2 model\n", plwi_character(i),
                       plwi_character(i));
    end += sprintf(end, "[engine]\n");
    for (unsigned i = 0; i < 4300; i++)
        end += sprintf(end, "%c%c%c 1970 %s=%c practice - cid=103 engine\n",
                       plwi_character(i / 1296), plwi_character(i / 36 % 36),
                       plwi_character(i % 36), i % 2 ? "line" : "model",
                       plwi_character(i / 2 % 36));
    const plw_tables *tables = fixture_tables_of(scheme);
    plw_expectation *e = expect(tables, "displacement=103 cu in; doors=2");
    ck_assert_uint_gt(plw_pattern_count(e), 0);
    ck_assert_int_eq(plw_pattern_tells(e, 0, 0), 0);
}
END_TEST

/* Rows that stand behind the first 4096 of a scheme are asked like all others. */
START_TEST(test_rows_far_behind)
{
    begin("1970", "-",
          "[fields]\ne engine code A-Z0-9\nl line code A-Z\n"
          "[layout]\nsample A000\nruler leee\n[engine]\n");
    char *end = scheme + strlen(scheme);
    for (unsigned i = 0; i < 4300; i++)
        end += sprintf(end, "%c%c%c 1970 - practice - - engine\n", plwi_character(i / 1296),
                       plwi_character(i / 36 % 36), plwi_character(i % 36));
    sprintf(end, "[line]\nA 1970 - practice - doors=2 two doors\n"
                 "B 1970 - practice - doors=4 four doors\n");
    const plw_expectation *e = expect(fixture_tables_of(scheme), "doors=2");
    ck_assert_uint_eq(plw_pattern_count(e), 1);
    ck_assert_int_eq(plw_pattern_text(e, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_str_eq(text, "A???");
}
END_TEST

/* Many readings of many fields are more than a result holds. */
START_TEST(test_more_fields_than_are_kept)
{
    static const char *const fields[] = {
        "line", "price_class", "series", "body", "engine", "plant", "division", "maker", "country",
        "region", "span", "cylinders", "model", "model_code", "drive", "suffix", "prefix",
        "steering", "paint", "fuel",
    };
    static const unsigned count = sizeof fields / sizeof *fields;
    begin("1950-1990", "-", "[fields]\n");
    for (unsigned i = 0; i < count; i++)
        sprintf(scheme + strlen(scheme), "%c %s code A-Z\n", 'a' + i, fields[i]);
    strcat(scheme, "[layout]\nsample AAAAAAAAAAAAAAAAAAAA\nruler abcdefghijklmnopqrst\n");
    for (unsigned i = 0; i < count; i++) {
        sprintf(scheme + strlen(scheme), "[%s]\n", fields[i]);
        for (unsigned year = 1950; year < (i ? 1951 : 1990); year++)
            sprintf(scheme + strlen(scheme), "A %s - practice - - of %u\n",
                    i ? "1950-1990" : (sprintf(text, "%u", year), text), year);
        if (i == 0)
            strcat(scheme, "X 1950-1989 - practice - - until 1989\n"
                           "X 1990 - practice - - of 1990\n");
    }
    const plw_tables *tables = fixture_tables_of(scheme);
    const plw_result *r = probe_decode(tables, "AAAAAAAAAAAAAAAAAAAA", NULL);
    ck_assert_uint_lt(plw_reading_count(r), PLW_MAX_READINGS);
    ck_assert_uint_gt(plw_reading_count(r), 20);
    /* nor is a code said to settle that would lead there */
    r = probe_decode(tables, "XAAAAAAAAAAAAAAAAAAA", NULL);
    ck_assert_uint_eq(plw_reading_count(r), 2);
    ck_assert_uint_eq(plw_settling_count(r), 0);
}
END_TEST

/* 8 can be ten model years; three fields have a code for each of them. */
START_TEST(test_more_settlings_than_are_listed)
{
    static const char *const fields[] = { "line", "model", "engine" };
    begin("1960-1969", "-",
          "[fields]\nl line code A-Z\nm model code A-Z\ne engine code A-Z\ny year code 0-9\n"
          "[layout]\nsample ZZZ8\nruler lmey\n"
          "[year]\n8 1960-1969 - practice - - any year\n");
    for (unsigned i = 0; i < 3; i++) {
        sprintf(scheme + strlen(scheme), "[%s]\nZ 1960-1969 - practice - - any year\n", fields[i]);
        for (unsigned year = 1960; year < 1970; year++)
            sprintf(scheme + strlen(scheme), "%c %u - practice - - of %u\n", 'A' + year - 1960,
                    year, year);
    }
    const plw_result *r = probe_decode(fixture_tables_of(scheme), "ZZZ8", NULL);
    ck_assert_uint_eq(plw_settling_count(r), PLW_MAX_SETTLINGS);
    for (uint32_t i = 0; i < PLW_MAX_SETTLINGS; i++) {
        ck_assert_str_eq(plw_field_name(r, 0, plw_settling_field(r, i)), fields[i / 10]);
        ck_assert_int_eq(plw_settling_year(r, i, 0), 1960 + i % 10);
    }
}
END_TEST

/* Where a number fits more layouts than are tried, no code is said to settle the year. */
START_TEST(test_settlings_of_many_layouts)
{
    for (unsigned count = MAX_LAYOUTS; count <= MAX_LAYOUTS + 1; count++) {
        scheme[0] = '\0';
        for (unsigned i = 0; i < count; i++)
            sprintf(scheme + strlen(scheme),
                    "[scheme]\nkey odd%u-1968\ntitle Odd cars\nyears 1968-1978\nfacts -\n"
                    "[fields]\nl line code A-Z\ny year code 0-9\n"
                    "[layout]\nsample A8\nruler ly\n"
                    "[line]\nA 1968-1978 - practice - - a line\nB 1968 - practice - - another\n"
                    "[year]\n8 1968,1978 - practice - - 1968 or 1978\n", i);
        const plw_result *r = probe_decode(fixture_tables_of(scheme), "A8", NULL);
        ck_assert_int_eq(plw_settling_count(r) > 0, count == MAX_LAYOUTS);
    }
}
END_TEST

/* Running numbers of which one has more rows than are kept. */
START_TEST(test_more_rows_of_a_range_than_are_kept)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z0-9\nm model code A-Z0-9\ns sequence run 0-9\n"
          "[layout]\nsample AA12345\nruler lmsssss\n[line]\n");
    char *end = scheme + strlen(scheme);
    for (unsigned i = 0; i < 36; i++)
        end += sprintf(end, "%c 1970 - practice - cyl=4 line\n", plwi_character(i));
    end += sprintf(end, "[model]\n");
    for (unsigned i = 0; i < 36; i++)
        end += sprintf(end, "%c 1970 - practice - doors=2 model\n", plwi_character(i));
    end += sprintf(end, "[sequence]\n");
    for (unsigned i = 0; i < 600; i++)
        end += sprintf(end, "00001+ 1970 line=%c,model=%c practice - cid=103 numbers\n",
                       plwi_character(i / 36), plwi_character(i % 36));
    const plw_expectation *e = expect(fixture_tables_of(scheme), "displacement=103 cu in");
    ck_assert_uint_gt(plw_pattern_count(e), 0);
    ck_assert_int_eq(plw_pattern_tells(e, 0, 0), 0);
}
END_TEST

/* Writes so many lines behind the scheme, 32 models, and so many engines, each of one line
 * and one model; returns the end. */
static char *put_engines(unsigned lines, unsigned engines)
{
    char *end = scheme + strlen(scheme);
    for (unsigned i = 0; i < lines; i++)
        end += sprintf(end, "%c 1970 - practice - - line\n", plwi_character(i));
    end += sprintf(end, "[model]\n");
    for (unsigned i = 0; i < 32; i++)
        end += sprintf(end, "%c 1970 - practice - - model\n", plwi_character(i));
    end += sprintf(end, "[engine]\n");
    for (unsigned i = 0; i < engines; i++)
        end += sprintf(end, "%c%c%c 1970 line=%c,model=%c practice - cid=103 engine\n",
                       plwi_character(i / 1296), plwi_character(i / 36 % 36),
                       plwi_character(i % 36), plwi_character(i % lines),
                       plwi_character(i / lines % 32));
    return end;
}

/* 32 lines and 32 models, which only the engines tell apart: more combinations than are
 * looked at. */
START_TEST(test_search_without_end)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z0-9\nm model code A-Z0-9\ne engine code A-Z0-9\n"
          "s sequence run 0-9\n"
          "[layout]\nsample AA00012345\nruler lmeeesssss\n"
          "[sequence]\n00001+ 1970 - practice - - running number\n[line]\n");
    put_engines(32, 3800);
    const plw_tables *tables = fixture_tables_of(scheme);
    const plw_expectation *e = expect(tables, "displacement=103 cu in");
    ck_assert_int_eq(plw_expectation_capped(e), 1);
    ck_assert_int_eq(plw_expectation_sentence(e, text, sizeof text, NULL), PLW_OK);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_MARKDOWN; format++)
        ck_assert_int_eq(plw_explain_expectation(e, format, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_ptr_nonnull(strstr(text, "more were found than are listed"));
}
END_TEST

/* Running numbers that rule out what is claimed, behind 31 lines and 32 models: all of them
 * are walked through for nothing. A second scheme is small. */
static const plw_tables *endless(void)
{
    begin("1970", "-",
          "[fields]\nl line code A-Z0-9\nm model code A-Z0-9\nb body code A-Z\n"
          "e engine code A-Z0-9\ns sequence run 0-9\n"
          "[layout]\nsample AAA00012345\nruler lmbeeesssss\n"
          "[sequence]\n00001+ 1970 - practice - doors=4 running number\n"
          "[body]\nA 1970 - practice - doors=2 coupe\nB 1970 - practice - - another\n[line]\n");
    char *end = put_engines(31, 3700);
    sprintf(end, "[scheme]\nkey odd-1971\ntitle Other cars\nyears 1970\nfacts -\n"
                 "[fields]\nl line code A-Z\n[layout]\nsample A\nruler l\n[line]\n"
                 "A 1970 - practice - cid=104,doors=2,cyl=8 first line\n"
                 "B 1970 - practice - cid=103,doors=2,cyl=8 second line\n");
    return fixture_tables_of(scheme);
}

static const struct {
    const char *claims;
    const char *said;
} endless_claims[] = {
    { "displacement=103 cu in; doors=2", "and more than are listed" },
    { "displacement=103 cu in; doors=2; cylinders=4",
      "Nothing can be said: there is too much to look through." },
    { "displacement=103 cu in; doors=2; cylinders=4; year=1990",
      "alone rules everything out" },
};

/* What was not looked through to the end may hold something. */
START_TEST(test_search_for_nothing)
{
    const plw_expectation *e = expect(endless(), endless_claims[_i].claims);
    ck_assert_uint_eq(plw_pattern_count(e), _i == 0);
    ck_assert_int_eq(plw_expectation_capped(e), _i < 2);
    ck_assert_int_eq(plw_expectation_left_without(e, 3), _i == 2);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_MARKDOWN; format++)
        ck_assert_int_eq(plw_explain_expectation(e, format, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_msg(strstr(text, endless_claims[_i].said) != NULL, "%s", text);
}
END_TEST

/* The last field behind five others, whose codes take all boxes: one of codes, one that only
 * a condition asks for, one of running numbers. */
static const struct {
    const char *kind;
    const char *condition; /* of the field before it */
    const char *rows;
} last_fields[] = {
    { "plant code A-Z", "-", "[plant]\nA 1970-1971 - practice - cid=103 plant\n" },
    { "plant code A-Z", "plant=A", "[plant]\nA 1971 - practice - - plant\n" },
    { "sequence run 0-9", "-", "[sequence]\n1+ 1970-1971 - practice - cid=103 numbers\n" },
};

START_TEST(test_codes_that_take_all_boxes)
{
    static const char *const fields[] = { "line", "series", "body", "model", "engine" };
    static const unsigned counts[] = { 256, 256, 256, 255, 1 };
    begin("1970-1971", "-",
          "[fields]\na line code A-Z0-9\nb series code A-Z0-9\nc body code A-Z0-9\n"
          "d model code A-Z0-9\ne engine code A-Z0-9\nf ");
    strcat(scheme, last_fields[_i].kind);
    strcat(scheme, "\n[layout]\nsample ");
    strcat(scheme, _i == 2 ? "0000000000000001" : "000000000000000A");
    strcat(scheme, "\nruler aaabbbcccdddeeef\n");
    strcat(scheme, last_fields[_i].rows);
    char *end = scheme + strlen(scheme);
    for (unsigned f = 0; f < 5; f++) {
        end += sprintf(end, "[%s]\n", fields[f]);
        for (unsigned i = 0; i < counts[f]; i++) /* no two differ in one character only */
            end += sprintf(end, "%c%c%c 1970-1971 %s practice - cid=103 row\n",
                           plwi_character(i / 16), plwi_character(i % 16),
                           plwi_character((i / 16 + i) % 16),
                           f == 4 ? last_fields[_i].condition : "-");
    }
    const plw_expectation *e = expect(fixture_tables_of(scheme), "displacement=103 cu in");
    ck_assert_int_eq(plw_expectation_capped(e), 1);
    ck_assert_uint_eq(plw_pattern_count(e), 0);
}
END_TEST

/* An unreadable field for whose rows a result has no room says that it is open. */
START_TEST(test_more_rows_than_a_result_holds)
{
    begin("1950-1989", "-",
          "[fields]\nl line code A-Z\ne engine code A-Z0-9\nm model code A-Z0-9\n"
          "[layout]\nsample AAA\nruler lem\n[line]\n");
    char *end = scheme + strlen(scheme);
    for (unsigned year = 1950; year < 1990; year++)
        end += sprintf(end, "A %u - practice - - of %u\n", year, year);
    for (unsigned field = 0; field < 2; field++) {
        end += sprintf(end, "[%s]\n", field ? "model" : "engine");
        for (unsigned i = 0; i < 36; i++)
            end += sprintf(end, "%c 1950-1989 - practice - %s=%u row %u\n", plwi_character(i),
                           field ? "hp_net" : "cid", 100 + i, i);
    }
    plw_result *r = probe_decode(fixture_tables_of(scheme), "A??", NULL);
    ck_assert_uint_gt(plw_reading_count(r), 20);
    static const char claims[] = "power=100 hp net;displacement=100 cu in";
    ck_assert_int_eq(plw_check_claims(r, claims, sizeof claims - 1), PLW_OK);
    for (uint32_t claim = 0; claim < 2; claim++)
        ck_assert_int_eq(plw_claim_verdict(r, claim), PLW_VERDICT_NOT_TOLD);
}
END_TEST

/* Claims of which any two exclude each other: nothing would be left without one of them. */
START_TEST(test_claims_that_exclude_each_other)
{
    const plw_expectation *e = expect(fixture_tables(), "year=1963; year=1964; year=1965");
    ck_assert_uint_eq(plw_pattern_count(e), 0);
    ck_assert_int_eq(plw_expectation_sentence(e, text, sizeof text, NULL), PLW_OK);
    ck_assert_ptr_nonnull(strstr(text, "together rule everything out."));
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_readings, 0, sizeof readings / sizeof *readings);
    tcase_add_loop_test(test, test_fuels, 0, sizeof fuels / sizeof *fuels);
    tcase_add_loop_test(test, test_open_answers, 0, sizeof answers / sizeof *answers);
    tcase_add_loop_test(test, test_figures, 0, sizeof figures / sizeof *figures);
    tcase_add_loop_test(test, test_expectations, 0, sizeof expectations / sizeof *expectations);
    tcase_add_test(test, test_boxes_without_room);
    tcase_add_test(test, test_boxes_around_all_there_is);
    tcase_add_test(test, test_long_numbers);
    tcase_add_test(test, test_long_patterns);
    tcase_add_test(test, test_stamps_of_later_years);
    tcase_add_test(test, test_dates_that_can_be_too_much);
    tcase_add_test(test, test_stamps_under_conditions);
    tcase_add_test(test, test_characters_without_a_value);
    tcase_add_loop_test(test, test_rows_that_say_nearly_the_same, 0, sizeof runs / sizeof *runs);
    tcase_add_test(test, test_running_numbers_of_another_line);
    tcase_add_test(test, test_more_ranges_than_are_looked_at);
    tcase_add_loop_test(test, test_more_rows_of_codes_than_are_looked_at, 0, 2);
    tcase_add_test(test, test_fields_in_one_place);
    tcase_add_test(test, test_findings_on_another_reading);
    tcase_add_test(test, test_long_words);
    tcase_add_test(test, test_closed_detail);
    tcase_add_test(test, test_two_running_numbers);
    tcase_add_test(test, test_more_suggestions_than_are_tried);
    tcase_add_test(test, test_more_rows_than_are_looked_at);
    tcase_add_test(test, test_rows_far_behind);
    tcase_add_test(test, test_more_fields_than_are_kept);
    tcase_add_test(test, test_more_settlings_than_are_listed);
    tcase_add_test(test, test_settlings_of_many_layouts);
    tcase_add_test(test, test_more_rows_of_a_range_than_are_kept);
    tcase_add_test(test, test_search_without_end);
    tcase_add_loop_test(test, test_search_for_nothing, 0,
                        sizeof endless_claims / sizeof *endless_claims);
    tcase_add_loop_test(test, test_codes_that_take_all_boxes, 0,
                        sizeof last_fields / sizeof *last_fields);
    tcase_add_test(test, test_more_rows_than_a_result_holds);
    tcase_add_test(test, test_claims_that_exclude_each_other);
}

int main(void)
{
    return probe_run("odd_tables", add);
}
