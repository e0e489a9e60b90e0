/* SPDX-License-Identifier: MIT
 *
 * Every finding, on the frozen fixture: when it comes, with which grade, and
 * that it stays away when it should.
 */
#include <string.h>

#include "fixture.h"
#include "probe.h"

static plw_result *validate(const char *number)
{
    return probe_validate(fixture_tables(), number, NULL);
}

/* The grade of the first finding with this code, or -1. */
static int32_t grade_of(const plw_result *result, int32_t code)
{
    uint32_t finding = probe_finding(result, code);
    return finding == PLW_NONE ? -1 : plw_finding_grade(result, finding);
}

START_TEST(test_a_good_number_has_no_findings)
{
    plw_result *r = validate("T24M6P100051");
    ck_assert_uint_eq(plw_finding_count(r), 0);
    ck_assert_int_eq(plw_result_grade(r), PLW_GRADE_CLEAR);
}
END_TEST

static const struct {
    const char *number;
    int32_t code;
    int32_t grade;
    uint32_t positions;
    const char *sentence;
} findings[] = {
    { "", PLW_FINDING_EMPTY, PLW_GRADE_FAULT, 0, "There is no number to read." },
    { "T24M6P10005", PLW_FINDING_LENGTH, PLW_GRADE_DOUBT, 0,
      "No scheme in the tables has 11 characters; the nearest have 10 and 12." },
    { "T24", PLW_FINDING_LENGTH, PLW_GRADE_DOUBT, 0,
      "No scheme in the tables has 3 characters; the nearest have 10." },
    { "A########B#1", PLW_FINDING_NO_SCHEME, PLW_GRADE_DOUBT, 0,
      "These characters fit none of the schemes that have 12 characters." },
    { "T24M6P1#0051", PLW_FINDING_CHARACTER, PLW_GRADE_FAULT, 1u << 7,
      "Position 8 shows #, but sequence takes a digit there." },
    { "TZ4M6P100051", PLW_FINDING_MISREAD, PLW_GRADE_DOUBT, 1u << 1,
      "Position 2 shows Z, which cannot stand there; it was read as 2." },
    { "T24?6P100051", PLW_FINDING_UNREADABLE, PLW_GRADE_NOTE, 1u << 3,
      "Position 4 cannot be read; in engine it can be K, M or R." },
    { "T24M6P10005?", PLW_FINDING_UNREADABLE, PLW_GRADE_NOTE, 1u << 11,
      "Position 12 cannot be read; in sequence it can be a digit." },
    { "T99M6P100051", PLW_FINDING_UNKNOWN_CODE, PLW_GRADE_DOUBT, 6,
      "The tables have no body 99 for 1966; that does not make it wrong." },
    { "T23M6P100051", PLW_FINDING_CONDITION, PLW_GRADE_DOUBT, 6,
      "The tables know body 23 only where line is S (1964-1968)." },
    { "T24Z9P100001", PLW_FINDING_EXCLUSION, PLW_GRADE_FAULT, 24,
      "These exclude each other: engine Z needs 1968; model year 9 needs 1969." },
    { "T24M6P100000", PLW_FINDING_SEQUENCE_LOW, PLW_GRADE_DOUBT, 0xFC0,
      "Sequence 100000 lies below the known start, 100001." },
    { "S31K5N500123", PLW_FINDING_NOT_BUILT, PLW_GRADE_DOUBT, 9,
      "The tables say this combination was not built: line S (Shrike, sporting line) with engine K "
      "(1490 cc four), 1965; the parts list names every engine of the Shrike." },
    { "S31R6P100051", PLW_FINDING_PLANT, PLW_GRADE_DOUBT, 33,
      "The tables do not have this plant building this line: line S (Shrike, sporting line) with "
      "plant P (Port Ellery), 1966; the Shrike was built at Netherwick only." },
    { "T31K3P100051", PLW_FINDING_SEVERAL_READINGS, PLW_GRADE_NOTE, 0,
      "The number can be read in 2 ways." },
    { "H24R9P100200", PLW_FINDING_DISPUTED, PLW_GRADE_NOTE, 8,
      "Sources differ about engine R: 212 six, last of the stock (parts-66); or 260 V8 (club-list)." },
    { "V31R6P100051", PLW_FINDING_DOUBTFUL, PLW_GRADE_NOTE, 1,
      "Line V rests on a doubtful entry: Vireo, estate line (club-list)." },
    { "H24K0P100051", PLW_FINDING_UNCONFIRMED, PLW_GRADE_NOTE, 1,
      "Not confirmed by a source: line H." },
    { "XTA4012345", PLW_FINDING_CHECK_WRONG, PLW_GRADE_FAULT, 8, NULL },
    { "ETA3012345", PLW_FINDING_CHECK_UNFIT, PLW_GRADE_NOTE, 8, NULL },
    { "XTA0000000", PLW_FINDING_SEQUENCE_LOW, PLW_GRADE_DOUBT, 0x3F0,
      "Sequence 000000 lies below the known start, 000001." },
};

START_TEST(test_finding)
{
    plw_result *r = validate(findings[_i].number);
    uint32_t finding = probe_finding(r, findings[_i].code);
    ck_assert_msg(finding != PLW_NONE, "%s lacks finding %d", findings[_i].number,
                  findings[_i].code);
    ck_assert_int_eq(plw_finding_grade(r, finding), findings[_i].grade);
    ck_assert_uint_eq(plw_finding_positions(r, finding), findings[_i].positions);
    if (findings[_i].sentence)
        ck_assert_str_eq(probe_sentence(r, findings[_i].code), findings[_i].sentence);
}
END_TEST

/* The same number with the cause mended no longer has the finding. */
static const struct {
    const char *number;
    int32_t code;
} mended[] = {
    { "T24M6P100051", PLW_FINDING_LENGTH },      { "T24M6P100051", PLW_FINDING_CHARACTER },
    { "T24M6P100051", PLW_FINDING_UNKNOWN_CODE }, { "S23M6N500123", PLW_FINDING_CONDITION },
    { "T24Z8P100001", PLW_FINDING_EXCLUSION },   { "T24M6P100001", PLW_FINDING_SEQUENCE_LOW },
    { "S31R5N500123", PLW_FINDING_NOT_BUILT },   { "S31R6N500051", PLW_FINDING_PLANT },
    { "T31K6P100051", PLW_FINDING_SEVERAL_READINGS }, { "H24R8P100200", PLW_FINDING_DISPUTED },
    { "XTA3012345", PLW_FINDING_CHECK_WRONG },   { "ETAX012345", PLW_FINDING_CHECK_UNFIT },
    { "ETA3012345", PLW_FINDING_CHECK_WRONG },
};

START_TEST(test_finding_stays_away)
{
    ck_assert_uint_eq(probe_finding(validate(mended[_i].number), mended[_i].code), PLW_NONE);
}
END_TEST

START_TEST(test_all_findings_are_reported_gravest_first)
{
    plw_result *r = validate("V99Z9Q1#0051");
    ck_assert_uint_ge(plw_finding_count(r), 4);
    for (uint32_t i = 1; i < plw_finding_count(r); i++)
        ck_assert_int_ge(plw_finding_grade(r, i - 1), plw_finding_grade(r, i));
    ck_assert_int_eq(plw_result_grade(r), PLW_GRADE_FAULT);
}
END_TEST

/* The verdict is no surer than the rows: H of 1970-1975 is memory. */
START_TEST(test_exclusion_on_unconfirmed_rows_is_a_doubt)
{
    plw_result *r = validate("T27W3P100100");
    ck_assert_int_eq(grade_of(r, PLW_FINDING_EXCLUSION), PLW_GRADE_DOUBT);
}
END_TEST

/* Three fields, no two of which clash: engine R 1964-1969, line H to 1969 or
 * from 1970, year 9. A smallest set is named. */
START_TEST(test_exclusion_names_the_fields)
{
    plw_result *r = validate("S24Z9P100001");
    const char *sentence = probe_sentence(r, PLW_FINDING_EXCLUSION);
    ck_assert_ptr_nonnull(strstr(sentence, "engine Z needs 1968"));
    ck_assert_ptr_nonnull(strstr(sentence, "line S needs 1964-1968"));
    ck_assert_ptr_nonnull(strstr(sentence, "model year 9 needs 1969"));
}
END_TEST

START_TEST(test_the_best_reading_gives_the_grade)
{
    plw_result *r = validate("T31K3P100051");
    ck_assert_int_eq(plw_result_grade(r), PLW_GRADE_NOTE);
    ck_assert_int_eq(plw_reading_grade(r, 0), PLW_GRADE_CLEAR);
}
END_TEST

START_TEST(test_a_number_without_reading_is_graded_once)
{
    static const char *const numbers[] = { "", "T24", "T24M6P100051", "T24Z9P100001", "XTA4012345" };
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        int32_t grade = -1;
        plw_result *r = validate(numbers[i]);
        ck_assert_int_eq(plw_grade(fixture_tables(), numbers[i], strlen(numbers[i]), NULL, 0,
                                   &grade), PLW_OK);
        ck_assert_int_eq(grade, plw_result_grade(r));
    }
    ck_assert_int_eq(plw_grade(NULL, "", 0, NULL, 0, NULL), PLW_E_ARGUMENT);
}
END_TEST

START_TEST(test_a_full_list_says_so)
{
    plw_result *r = validate("????????????");
    for (uint32_t i = 0; i < plw_finding_count(r); i++)
        ck_assert_int_ne(plw_finding_code(r, i), PLW_FINDING_CAPPED);
    ck_assert_int_eq(grade_of(r, PLW_FINDING_UNREADABLE), PLW_GRADE_NOTE);
}
END_TEST

/* Decoding alone judges nothing. */
START_TEST(test_decode_has_no_findings)
{
    ck_assert_uint_eq(plw_finding_count(probe_decode(fixture_tables(), "T24Z9P1", NULL)), 0);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_a_good_number_has_no_findings);
    tcase_add_loop_test(test, test_finding, 0, sizeof findings / sizeof *findings);
    tcase_add_loop_test(test, test_finding_stays_away, 0, sizeof mended / sizeof *mended);
    tcase_add_test(test, test_all_findings_are_reported_gravest_first);
    tcase_add_test(test, test_exclusion_on_unconfirmed_rows_is_a_doubt);
    tcase_add_test(test, test_exclusion_names_the_fields);
    tcase_add_test(test, test_the_best_reading_gives_the_grade);
    tcase_add_test(test, test_a_number_without_reading_is_graded_once);
    tcase_add_test(test, test_a_full_list_says_so);
    tcase_add_test(test, test_decode_has_no_findings);
}

int main(void)
{
    return probe_run("validate", add);
}
