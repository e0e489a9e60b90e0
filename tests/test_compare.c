/* SPDX-License-Identifier: MIT
 *
 * Plates held against each other: state tables on the frozen fixture, published
 * facts on the live tables, and what must hold for any car.
 *
 * With the argument "json" it runs no test but prints comparisons, one a line,
 * for the check against lib/car.schema.json.
 */
#include <stdio.h>
#include <string.h>

#include "car.h"
#include "fixture.h"
#include "probe.h"

static plw_car *compare(const char *plates)
{
    return probe_compare(fixture_tables(), plates, NULL);
}

/* A letter for each plate: Agrees, Differs, Cannot compare, Not expected. */
static const char *verdicts(const plw_car *car)
{
    static char text[PLW_MAX_PLATES + 1];
    uint32_t count = plw_plate_count(car);
    for (uint32_t i = 0; i < count; i++)
        text[i] = "?ADCN"[plw_plate_verdict(car, i)];
    text[count] = '\0';
    return text;
}

static const char *joined(const plw_car *car, uint32_t index)
{
    static char text[256];
    if (index >= plw_joined_count(car))
        return "";
    ck_assert_int_eq(plw_joined_number(car, index, text, sizeof text, NULL), PLW_OK);
    return text;
}

typedef int32_t sentence_call(const plw_car *car, uint32_t index, char *buffer, size_t capacity,
                              size_t *needed);

static const char *sentence(sentence_call *call, const plw_car *car, uint32_t index)
{
    static char text[4096];
    ck_assert_int_eq(call(car, index, text, sizeof text, NULL), PLW_OK);
    return text;
}

static const char *explained(const plw_car *car, int32_t format, uint32_t flags)
{
    static char text[1 << 18];
    ck_assert_int_eq(plw_explain_car(car, format, flags, text, sizeof text, NULL), PLW_OK);
    return text;
}

/* ---- verdicts ------------------------------------------------------------------ */

static const struct state {
    const char *plates;
    const char *verdicts;
    int32_t whole;
    const char *joined;
} states[] = {
    /* a full number and a stamp */
    { "dash=T24M6P100051;engine=6P100051", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P100051;engine=6P100052", "DD", PLW_PLATE_DIFFERS, "T24M6P10005[12]" },
    { "dash=T24M6P100051;engine=7N100051", "DD", PLW_PLATE_DIFFERS, "T24M[67][NP]100051" },
    { "dash=T24M6P100051;engine=6P10005?", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P10005?;engine=6P100051", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P10005?;engine=6P10005?", "AA", PLW_PLATE_AGREES, "T24M6P10005?" },
    { "dash=T24M6P100051;engine=????????", "CC", PLW_PLATE_CANNOT_COMPARE, "T24M6P100051" },
    { "dash=????????????;engine=6P100051", "CC", PLW_PLATE_CANNOT_COMPARE, "????6P100051" },
    /* two full numbers */
    { "dash=T24M6P100051;door_label=T24M6P100051", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24R8P100051;door_label=T24Z8P100051", "DD", PLW_PLATE_DIFFERS, "T24[RZ]8P100051" },
    { "dash=T24M6P100051;door_label=T24M6P100051;engine=6P100052", "DDD", PLW_PLATE_DIFFERS,
      "T24M6P10005[12]" },
    { "dash=T24M6P100051;door_label=T24M6P100059;engine=6P10005?", "DDA", PLW_PLATE_DIFFERS,
      "T24M6P10005[19]" },
    /* stamps alone */
    { "engine=6P100051", "C", PLW_PLATE_CANNOT_COMPARE, "????6P100051" },
    { "engine=6P100051;gearbox=6P100051", "AA", PLW_PLATE_AGREES, "????6P100051" },
    { "engine=6P100051;gearbox=6P100052", "DD", PLW_PLATE_DIFFERS, "????6P10005[12]" },
    { "engine=6P1000??;gearbox=??????51", "CC", PLW_PLATE_CANNOT_COMPARE, "????6P100051" },
    { "engine=6P100051;engine=6P100051", "AA", PLW_PLATE_AGREES, "????6P100051" },
    { "body=6P100051;dash=T24M6P100051", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    /* how it is typed */
    { "dash=t24-m6p 100051;engine=* 6p100051 *", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P1OOO51;engine=6P100051", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P100051;engine=6P1000S1", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P100051;engine=6P1000K1", "DD", PLW_PLATE_DIFFERS, "T24M6P1000[5K]1" },
    { "dash=T24M6P100051;engine=6P1000#1", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P100051;engine=6P10005[18]", "AA", PLW_PLATE_AGREES, "T24M6P100051" },
    { "dash=T24M6P100051;engine=6P10005[28]", "DD", PLW_PLATE_DIFFERS, "T24M6P10005[128]" },
    { "dash=T24M6P10005[12];door_label=T24M6P10005[13];engine=6P10005[23]", "DDD",
      PLW_PLATE_DIFFERS, "T24M6P10005[123]" },
    /* what is no number, or none that belongs here */
    { "dash=T24M6P100051;body_tag=ABC", "CC", PLW_PLATE_CANNOT_COMPARE, "T24M6P100051" },
    { "dash=T24M6P100051;engine=6P100051;body_tag=ABC", "AAC", PLW_PLATE_CANNOT_COMPARE,
      "T24M6P100051" },
    { "dash=T24M6P100051;engine=6P100052;body_tag=ABC", "DDC", PLW_PLATE_DIFFERS,
      "T24M6P10005[12]" },
    { "dash=T24M6P100051;engine=", "CC", PLW_PLATE_CANNOT_COMPARE, "T24M6P100051" },
    { "dash=T24M6P100051;engine=KKKKKKKK", "CC", PLW_PLATE_CANNOT_COMPARE, "T24M6P100051" },
    { "dash=XTA3012345;engine=6P100051", "CC", PLW_PLATE_CANNOT_COMPARE, "XTA3012345" },
    { "dash=;engine=ABC", "CC", PLW_PLATE_CANNOT_COMPARE, "" },
    { "", "", PLW_PLATE_CANNOT_COMPARE, "" },
    /* stamps are known from 1966 on; the R of a year 5 is 1965 */
    { "dash=T24R5P100051;engine=5P100051", "AN", PLW_PLATE_NOT_EXPECTED, "T24R5P100051" },
    { "dash=T24R5P100051;engine=5P100052", "DD", PLW_PLATE_DIFFERS, "T24R5P10005[12]" },
    { "dash=T24R5P100051;engine=????????", "CN", PLW_PLATE_NOT_EXPECTED, "T24R5P100051" },
    { "dash=T24K5P100051;engine=5P100051", "AA", PLW_PLATE_AGREES, "T24K5P100051" },
};

START_TEST(test_state)
{
    const struct state *s = &states[_i];
    plw_car *car = compare(s->plates);
    ck_assert_msg(strcmp(verdicts(car), s->verdicts) == 0, "%s: %s", s->plates, verdicts(car));
    ck_assert_msg(plw_car_verdict(car) == s->whole, "%s: %s", s->plates,
                  plw_plate_verdict_name(plw_car_verdict(car)));
    ck_assert_str_eq(joined(car, 0), s->joined);
}
END_TEST

/* ---- what is said of a plate ---------------------------------------------------- */

START_TEST(test_a_stamp_lies_on_the_full_number)
{
    char shown[32];
    plw_car *car = compare("dash=T24M6P100051;engine=6P1?0051;gearbox=ABC");
    ck_assert_int_eq(plw_plate_taken(car, 0), PLW_TAKEN_FULL);
    ck_assert_uint_eq(plw_plate_positions(car, 0), 0xFFF);
    ck_assert_uint_eq(plw_plate_row(car, 0), PLW_NONE);
    ck_assert_int_eq(plw_plate_taken(car, 1), PLW_TAKEN_PARTIAL);
    ck_assert_uint_eq(plw_plate_positions(car, 1), 0xFF0);
    ck_assert_str_eq(plw_row_words(fixture_tables(), plw_plate_row(car, 1)),
                     "year, plant and sequence on the engine flange");
    ck_assert_int_eq(plw_plate_taken(car, 2), PLW_TAKEN_NOT);
    ck_assert_uint_eq(plw_plate_positions(car, 2), 0);
    ck_assert_uint_eq(plw_plate_compared(car, 0, 1), 0xF70);
    ck_assert_uint_eq(plw_plate_compared(car, 0, 2), 0);
    ck_assert_uint_eq(plw_plate_compared(car, 1, 1), 0);
    ck_assert_int_eq(plw_plate_shows(car, 1, 5, shown, sizeof shown, NULL), PLW_OK);
    ck_assert_str_eq(shown, "6");
    ck_assert_int_eq(plw_plate_shows(car, 1, 8, shown, sizeof shown, NULL), PLW_OK);
    ck_assert_str_eq(shown, "?");
    ck_assert_int_eq(plw_plate_shows(car, 1, 1, shown, sizeof shown, NULL), PLW_OK);
    ck_assert_str_eq(shown, "");
}
END_TEST

START_TEST(test_sentences_name_the_other_plate)
{
    plw_car *car = compare("dash=T24R8P100051;door_label=T24Z8P100051;engine=8P100051");
    const char *text = sentence(plw_plate_sentence, car, 0);
    ck_assert_msg(strstr(text, "differs from the door plate or label at position 4 "
                               "(R here, Z there)") != NULL,
                  "%s", text);
    ck_assert_ptr_nonnull(strstr(text, "agrees with the engine stamp"));
    text = sentence(plw_plate_sentence, car, 2);
    ck_assert_str_eq(text, "The engine stamp agrees with the dash plate and the door plate or "
                           "label. It repeats positions 5-12.");
    ck_assert_uint_eq(plw_plate_differs(car, 0, 1), 8);
    ck_assert_uint_eq(plw_plate_differs(car, 0, 2), 0);
}
END_TEST

START_TEST(test_what_was_misread_is_told)
{
    plw_car *car = compare("dash=T24M6P1OOO51;engine=6P100051");
    ck_assert_ptr_nonnull(strstr(sentence(plw_plate_sentence, car, 0), "read as T24M6P100051"));
    ck_assert_ptr_null(strstr(sentence(plw_plate_sentence, car, 1), "read as"));
}
END_TEST

START_TEST(test_a_stamp_too_early_is_told_with_the_year)
{
    plw_car *car = compare("dash=T24R5P100051;engine=5P100051");
    const char *text = sentence(plw_plate_sentence, car, 1);
    ck_assert_msg(strstr(text, "not expected on a car of 1965") != NULL, "%s", text);
    ck_assert_ptr_nonnull(strstr(text, "from 1966 on"));
    ck_assert_ptr_nonnull(strstr(text, "agrees with the dash plate"));
}
END_TEST

/* ---- differences ------------------------------------------------------------------- */

START_TEST(test_each_character_supports_its_readings)
{
    char shown[32];
    plw_car *car = compare("dash=T24R8P100051;door_label=T24Z8P100051;engine=8P100051");
    ck_assert_uint_eq(plw_difference_count(car), 2);
    ck_assert_uint_eq(plw_difference_position(car, 0), 4);
    ck_assert_int_eq(plw_difference_shows(car, 0, shown, sizeof shown, NULL), PLW_OK);
    ck_assert_str_eq(shown, "R");
    ck_assert_uint_eq(plw_difference_plates(car, 0), 1);
    ck_assert_uint_eq(plw_difference_row_count(car, 0), 1);
    ck_assert_str_eq(plw_row_words(fixture_tables(), plw_difference_row(car, 0, 0)),
                     "212 six, twin carburettors");
    ck_assert_uint_eq(plw_difference_plates(car, 1), 2);
    ck_assert_str_eq(plw_row_words(fixture_tables(), plw_difference_row(car, 1, 0)),
                     "427 V8, two four-barrels");
    ck_assert_uint_eq(plw_difference_year_count(car, 1), 1);
    ck_assert_int_eq(plw_difference_year(car, 1, 0), 1968);
    ck_assert_str_eq(sentence(plw_difference_sentence, car, 1),
                     "Position 4 (engine): Z on the door plate or label: 427 V8, two "
                     "four-barrels; model year 1968.");
}
END_TEST

START_TEST(test_a_year_that_differs_supports_different_years)
{
    plw_car *car = compare("dash=T24R6P100051;engine=7P100051");
    ck_assert_uint_eq(plw_difference_count(car), 2);
    ck_assert_int_eq(plw_difference_year(car, 0, 0), 1966);
    ck_assert_int_eq(plw_difference_year(car, 1, 0), 1967);
    ck_assert_int_eq(plw_difference_year(car, 1, 1), 0);
}
END_TEST

START_TEST(test_plates_that_show_the_same_stand_together)
{
    plw_car *car = compare("dash=T24M6P100051;door_label=T24M6P100052;engine=6P100051;"
                           "gearbox=6P10005?");
    ck_assert_uint_eq(plw_difference_count(car), 2);
    ck_assert_uint_eq(plw_difference_plates(car, 0), 1 | 4);
    ck_assert_uint_eq(plw_difference_plates(car, 1), 2);
    ck_assert_uint_eq(plw_difference_row_count(car, 0), 0); /* running numbers are ranges */
}
END_TEST

/* ---- expected, joined, next ------------------------------------------------------------ */

START_TEST(test_what_the_tables_expect_and_nobody_gave)
{
    plw_car *car = compare("door_label=T24R8P100051");
    ck_assert_uint_eq(plw_missing_count(car), 2);
    ck_assert_int_eq(plw_missing_place(car, 0), PLW_PLACE_DASH);
    ck_assert_int_eq(plw_missing_place(car, 1), PLW_PLACE_ENGINE);
    ck_assert_str_eq(plw_row_field(fixture_tables(), plw_missing_row(car, 1)), "partial_stamp");
    ck_assert_str_eq(sentence(plw_missing_sentence, car, 0),
                     "The dash plate was not given; for this car the tables say \"seen through "
                     "the windscreen\".");
}
END_TEST

START_TEST(test_what_is_given_is_not_missing)
{
    ck_assert_uint_eq(plw_missing_count(compare("dash=T24R8P100051;engine=8P100051")), 0);
    /* the dash place came in 1968, the stamp in 1966 */
    ck_assert_uint_eq(plw_missing_count(compare("door_label=T24R6P100051")), 1);
    ck_assert_uint_eq(plw_missing_count(compare("door_label=T24R5P100051")), 0);
}
END_TEST

START_TEST(test_the_joined_number_is_decoded)
{
    plw_car *car = compare("dash=T24?6P100051;door_label=T24MGP100051");
    const plw_result *result = plw_car_result(car);
    ck_assert_str_eq(joined(car, 0), "T24M6P100051");
    ck_assert_uint_eq(plw_joined_count(car), 1);
    ck_assert_str_eq(plw_scheme_key(fixture_tables(), plw_joined_scheme(car, 0)),
                     "port-ellery-1962");
    ck_assert_uint_ne(plw_car_reading(car), PLW_NONE);
    ck_assert_str_eq(probe_years(result, plw_car_reading(car)), "1966");
    ck_assert_str_eq(probe_words(fixture_tables(), result, plw_car_reading(car), "engine"),
                     "260 V8");
}
END_TEST

static int advises(const plw_car *car, const char *words)
{
    for (uint32_t i = 0; i < plw_advice_count(car); i++)
        if (strstr(sentence(plw_advice_sentence, car, i), words))
            return 1;
    return 0;
}

/* ---- claims ------------------------------------------------------------------------------- */

static const struct claim_state {
    const char *plates;
    const char *claim;
    int32_t verdict;
    int32_t reason;
} claim_states[] = {
    { "dash=T24M6P100051;engine=6P100051", "year=1966", PLW_VERDICT_SUPPORTED, PLW_REASON_NONE },
    { "dash=T24M6P100051;engine=6P100051", "year=1967", PLW_VERDICT_CONTRADICTED, PLW_REASON_NONE },
    { "dash=T24M6P100051;engine=6P100052", "year=1966", PLW_VERDICT_SUPPORTED, PLW_REASON_NONE },
    { "dash=T24M6P100051;engine=6P100052", "sequence=100051", PLW_VERDICT_NOT_TOLD,
      PLW_REASON_UNREADABLE },
    { "dash=T24M6P100051;engine=6P100052", "sequence=100053", PLW_VERDICT_CONTRADICTED,
      PLW_REASON_NONE },
    /* where plates differ, what one of them shows is not enough */
    { "dash=T24M6P100051;engine=7P100051", "year=1966", PLW_VERDICT_NOT_TOLD,
      PLW_REASON_SEVERAL_MEANINGS },
    { "dash=T24M6P100051;engine=7P100051", "year=1969", PLW_VERDICT_CONTRADICTED,
      PLW_REASON_NONE },
    { "dash=T24K6P100051;door_label=T24R8P100051", "engine=212 six", PLW_VERDICT_NOT_TOLD,
      PLW_REASON_UNREADABLE },
    /* stamps alone */
    { "engine=6P100051;gearbox=6P100051", "year=1966", PLW_VERDICT_SUPPORTED, PLW_REASON_NONE },
    { "engine=6P100051;gearbox=6P100051", "body=convertible", PLW_VERDICT_NOT_TOLD,
      PLW_REASON_UNREADABLE },
    { "dash=ABC", "year=1966", PLW_VERDICT_NOT_TOLD, PLW_REASON_NO_READING },
    { "", "year=1966", PLW_VERDICT_NOT_TOLD, PLW_REASON_NO_READING },
};

START_TEST(test_claim_on_a_car)
{
    const struct claim_state *s = &claim_states[_i];
    plw_car *car = compare(s->plates);
    const plw_result *result = plw_car_result(car);
    ck_assert_int_eq(plw_car_check_claims(car, s->claim, strlen(s->claim)), PLW_OK);
    ck_assert_uint_eq(plw_claim_count(result), 1);
    ck_assert_msg(plw_claim_verdict(result, 0) == s->verdict &&
                      plw_claim_reason(result, 0) == s->reason,
                  "%s: %s is %s, %s", s->plates, s->claim,
                  plw_verdict_name(plw_claim_verdict(result, 0)),
                  plw_reason_name(plw_claim_reason(result, 0)));
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        ck_assert_ptr_nonnull(strstr(explained(car, format, 0), s->claim));
}
END_TEST

START_TEST(test_claims_are_refused_and_forgotten)
{
    plw_car *car = compare("dash=T24M6P100051");
    ck_assert_int_eq(plw_car_check_claims(NULL, "", 0), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_check_claims(car, NULL, 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_check_claims(car, "red", 3), PLW_E_CLAIM);
    ck_assert_int_eq(plw_car_check_claims(car, "year=1966", 9), PLW_OK);
    ck_assert_uint_eq(plw_claim_count(plw_car_result(car)), 1);
    ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
    ck_assert_uint_eq(plw_claim_count(plw_car_result(car)), 0);
    ck_assert_int_eq(plw_car_check_claims(car, "year=1966", 9), PLW_OK);
    probe_add_plates(car, "engine=6P100051");
    ck_assert_uint_eq(plw_claim_count(plw_car_result(car)), 0);
}
END_TEST

static void check_claims(plw_car *car, const char *claims)
{
    ck_assert_int_eq(plw_car_check_claims(car, claims, strlen(claims)), PLW_OK);
}

/* Of which no character tells the maker. */
static const plw_tables *two_makers(void)
{
    static const plw_tables *tables;
    if (tables)
        return tables;
    return tables = fixture_tables_of(
        "[scheme]\nkey alpha-1970\ntitle Alpha cars\nyears 1970-1979\nfacts maker=Alpha\n"
        "[fields]\ns sequence run 0-9\n[layout]\nsample 12345\nruler sssss\n"
        "[sequence]\n1+ 1970-1979 - practice - - from one\n"
        "[scheme]\nkey beta-1970\ntitle Beta cars\nyears 1970-1979\nfacts maker=Beta\n"
        "[fields]\ns sequence run 0-9\n[layout]\nsample 123456\nruler ssssss\n"
        "[sequence]\n1+ 1970-1979 - practice - - from one\n");
}

START_TEST(test_advice_on_claims)
{
    plw_car *car = probe_compare(two_makers(), "dash=12345", NULL);
    check_claims(car, "maker=Beta");
    ck_assert(advises(car, "Ask what the claim maker=Beta rests on."));
    car = compare("dash=T24M6P100051;engine=6P100051");
    check_claims(car, "year=1967; power=300 hp; plant=Port Ellery; colour=red");
    ck_assert(advises(car, "Read position 5 again, and ask what the claim year=1967 rests on."));
    ck_assert(advises(car, "For the claim power=300 hp look for a document of the time"));
    ck_assert(!advises(car, "plant="));
    ck_assert(!advises(car, "colour="));
    car = compare("dash=T24?6P100051");
    check_claims(car, "engine=260 V8");
    ck_assert(advises(car, "Read position 4 again for the claim engine=260 V8."));
    car = compare("dash=T24?2P100051");
    ck_assert(advises(car, "The model year stays open, 1962 or 1972: look for date codes"));
}
END_TEST

/* What validation finds in the joined number is told with the plates. */
START_TEST(test_findings_on_the_joined_number)
{
    plw_car *car = compare("dash=XTA4012345;door_label=XTA4012345");
    const char *contradicts = strstr(explained(car, PLW_FORMAT_MARKDOWN, 0), "## What contradicts");
    ck_assert_int_eq(plw_car_verdict(car), PLW_PLATE_AGREES);
    ck_assert_int_eq(plw_result_grade(plw_car_result(car)), PLW_GRADE_FAULT);
    ck_assert_ptr_nonnull(contradicts);
    ck_assert_ptr_nonnull(strstr(contradicts, "- **fault**: "));
    check_claims(car, "year=1966; plant=Netherwick");
    ck_assert_ptr_nonnull(strstr(explained(car, PLW_FORMAT_MARKDOWN, 0),
                                 "# All plates agree wherever they can be compared. The number "
                                 "has a fault. A claim is contradicted.\n"));
    car = compare("dash=S23K6P100001");
    const char *open = strstr(explained(car, PLW_FORMAT_MARKDOWN, 0), "## What is open");
    ck_assert_ptr_nonnull(open);
    ck_assert_ptr_nonnull(strstr(open, "- **doubt**: "));
}
END_TEST

START_TEST(test_advice)
{
    plw_car *car = compare("dash=T24M6P100051;engine=6P100058");
    ck_assert(
        advises(car, "Read position 12 again on the dash plate and the engine stamp: 1 or 8."));
    car = compare("dash=T24M6P100053;engine=6P100058");
    ck_assert(advises(car, "3 or 8, which are easily taken for each other."));
    car = compare("dash=T24M6P10005?;engine=6P10005?");
    ck_assert(advises(car, "Position 12 cannot be read anywhere"));
    car = compare("dash=T24M6P100051;body_tag=ABC");
    ck_assert(advises(car, "Look at the body tag again"));
    ck_assert(advises(car, "Look for the engine stamp"));
    car = compare("engine=6P100051;gearbox=6P100051");
    ck_assert(advises(car, "nothing given shows positions 1-4"));
    car = compare("dash=T24M6P100051;engine=6P1000K1");
    ck_assert(advises(car, "it shows K, which cannot stand there"));
    car = compare("dash=T24R8P100051;engine=8P100051");
    ck_assert_uint_eq(plw_advice_count(car), 0);
}
END_TEST

/* ---- the object ---------------------------------------------------------------------------- */

START_TEST(test_refusals)
{
    plw_car *car = probe_car();
    char text[300];
    memset(text, '1', sizeof text);
    plw_car_clear(car);
    ck_assert_int_eq(plw_car_new(NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(NULL, PLW_PLACE_DASH, "", 0), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, 0, "1", 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_BODY + 1, "1", 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, NULL, 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, text, PLW_MAX_TEXT + 1),
                     PLW_E_TOO_LONG);
    ck_assert_uint_eq(plw_plate_count(car), 0);
    for (uint32_t i = 0; i < PLW_MAX_PLATES; i++)
        ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, text, PLW_MAX_TEXT), PLW_OK);
    ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, "1", 1), PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_compare(NULL, NULL, NULL, 0), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_compare(NULL, car, NULL, 1), PLW_E_FLAGS);
    ck_assert_int_eq(plw_compare(NULL, car, "year", 0), PLW_E_HINT);
    ck_assert_int_eq(plw_car_verdict(car), 0);
    ck_assert_int_eq(plw_compare(NULL, car, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_car_verdict(car), PLW_PLATE_CANNOT_COMPARE);
}
END_TEST

START_TEST(test_a_plate_more_forgets_the_comparison)
{
    char text[256];
    plw_car *car = compare("dash=T24M6P100051;engine=6P100051");
    probe_add_plates(car, "gearbox=6P100051");
    ck_assert_int_eq(plw_car_verdict(car), 0);
    ck_assert_uint_eq(plw_joined_count(car), 0);
    ck_assert_int_eq(plw_plate_sentence(car, 0, text, sizeof text, NULL), PLW_E_ARGUMENT);
    ck_assert_uint_eq(plw_reading_count(plw_car_result(car)), 0);
    ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
    ck_assert_str_eq(verdicts(car), "AAA");
}
END_TEST

START_TEST(test_memory_of_the_caller)
{
    static uint64_t memory[40000];
    plw_car *car;
    ck_assert_uint_le(plw_car_size(), sizeof memory);
    ck_assert_int_eq(plw_car_place(memory, plw_car_size(), &car), PLW_OK);
    probe_add_plates(car, "dash=T24M6P100051;engine=6P100051");
    ck_assert_int_eq(plw_compare(fixture_tables(), car, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_car_verdict(car), PLW_PLATE_AGREES);
    ck_assert_int_eq(plw_car_place(memory, plw_car_size() - 1, &car), PLW_E_MEMORY);
    ck_assert_ptr_null(car);
    ck_assert_int_eq(plw_car_place((char *)memory + 1, plw_car_size(), &car), PLW_E_MEMORY);
    ck_assert_int_eq(plw_car_place(NULL, 0, &car), PLW_E_ARGUMENT);
}
END_TEST

START_TEST(test_nothing_to_answer_with)
{
    char text[8] = "before";
    size_t needed;
    ck_assert_int_eq(plw_car_verdict(NULL), 0);
    ck_assert_uint_eq(plw_plate_count(NULL), 0);
    ck_assert_uint_eq(plw_joined_scheme(NULL, 0), PLW_NONE);
    ck_assert_ptr_null(plw_car_result(NULL));
    ck_assert_int_eq(plw_explain_car(NULL, PLW_FORMAT_TEXT, 0, text, sizeof text, &needed),
                     PLW_E_ARGUMENT);
    ck_assert_str_eq(text, "");
    plw_car *car = compare("dash=T24M6P100051");
    ck_assert_int_eq(plw_explain_car(car, 99, 0, NULL, 0, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain_car(car, PLW_FORMAT_TEXT, 1u << 31, NULL, 0, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain_car(car, PLW_FORMAT_TEXT, 0, text, sizeof text, &needed),
                     PLW_E_SHORT);
    ck_assert_uint_eq(needed, strlen(explained(car, PLW_FORMAT_TEXT, 0)) + 1);
    ck_assert_int_eq(plw_plate_place(car, 1), 0);
    ck_assert_uint_eq(plw_plate_positions(car, 1), 0);
    ck_assert_uint_eq(plw_difference_row(car, 0, 0), PLW_NONE);
    ck_assert_int_eq(plw_missing_place(car, PLW_NONE), 0);
    ck_assert_int_eq(plw_advice_sentence(car, PLW_NONE, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_str_eq(plw_place_name(0), "");
    ck_assert_str_eq(plw_place_label(8), "");
    ck_assert_str_eq(plw_plate_verdict_name(0), "");
}
END_TEST

START_TEST(test_the_hosts_words_are_used)
{
    static const char own[] = "port-ellery-1962/engine/Z/1968 = big block\n"
                              "field/engine = motor\n";
    plw_names *names;
    plw_car *car = probe_car();
    ck_assert_int_eq(plw_names_new(fixture_tables(), own, strlen(own), &names), PLW_OK);
    ck_assert_int_eq(plw_car_use_names(car, names), PLW_OK);
    compare("dash=T24R8P100051;door_label=T24Z8P100051");
    ck_assert_ptr_nonnull(strstr(sentence(plw_difference_sentence, car, 1),
                                 "Position 4 (motor): Z on the door plate or label: big block"));
    ck_assert_int_eq(plw_car_use_names(car, NULL), PLW_OK);
    ck_assert_int_eq(plw_car_use_names(NULL, names), PLW_E_ARGUMENT);
    plw_names_free(names);
}
END_TEST

/* ---- explained ---------------------------------------------------------------------------------
 */

START_TEST(test_characters_stand_under_each_other)
{
    const char *text =
        explained(compare("dash=T24M6P100051;engine=6P100052;body=ABC"), PLW_FORMAT_TEXT, 0);
    const char *stack = "  dash plate              T24M6P100051\n"
                        "  engine stamp                6P100052\n"
                        "  together                T24M6P10005[12]\n"
                        "                                     ^^^^\n"
                        "  body stamp              ABC (not aligned)\n";
    ck_assert_msg(strstr(text, stack) != NULL, "%s", text);
}
END_TEST

START_TEST(test_wide_brackets_become_a_star)
{
    const char *text =
        explained(compare("dash=T24M6P10[0123456789][0123456789][0123456789][0123456789]"),
                  PLW_FORMAT_TEXT, 0);
    ck_assert_msg(strstr(text, "  dash plate              T24M6P10****\n") != NULL, "%s", text);
}
END_TEST

START_TEST(test_no_line_is_wider_than_a_terminal)
{
    const struct state *s = &states[_i];
    const char *line = explained(compare(s->plates), PLW_FORMAT_TEXT, PLW_EXPLAIN_SOURCES);
    for (; *line; line += strcspn(line, "\n") + 1)
        ck_assert_uint_le(strcspn(line, "\n"), 80);
}
END_TEST

START_TEST(test_outputs_close_with_the_cautions_and_do_not_judge)
{
    const struct state *s = &states[_i];
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++) {
        const char *text = explained(compare(s->plates), format, 0);
        ck_assert_ptr_nonnull(strstr(text, "not prove"));
        ck_assert_ptr_null(strstr(text, "genuine"));
        ck_assert_ptr_null(strstr(text, "fake"));
    }
}
END_TEST

START_TEST(test_hostile_text_is_escaped)
{
    plw_car *car = compare("dash=T24M6P1<b>51;body_tag=`|\x1b\xe2\x80\xae`*_A<i>Z;engine=6P100051");
    const char *text = explained(car, PLW_FORMAT_JSON, 0);
    ck_assert_ptr_null(strchr(text, '\x1b'));
    ck_assert_ptr_null(strstr(text, "\xe2\x80\xae"));
    text = explained(car, PLW_FORMAT_MARKDOWN, 0);
    const char *fence = strstr(text, "````````````````````\n");
    ck_assert_ptr_nonnull(fence);
    ck_assert_ptr_null(strstr(text, "\xe2\x80\xae"));
    fence = strstr(fence + 20, "````````````````````\n"); /* behind it nothing is verbatim */
    ck_assert_ptr_nonnull(fence);
    ck_assert_ptr_null(strchr(fence, '<'));
}
END_TEST

/* ---- live tables ----------------------------------------------------------------------------- */

/* Published: the altered pair, told apart by nothing in the last eight. */
START_TEST(test_the_altered_pair)
{
    plw_car *car =
        probe_compare(NULL, "dash=BS27R0B212211;body_tag=BH27G0B212211;engine=0B212211", NULL);
    ck_assert_str_eq(verdicts(car), "DDA");
    ck_assert_str_eq(joined(car, 0), "B[HS]27[GR]0B212211");
    ck_assert_uint_eq(plw_plate_differs(car, 0, 1), 1u << 1 | 1u << 4);
    ck_assert_uint_eq(plw_plate_differs(car, 0, 2), 0);
    ck_assert_uint_eq(plw_difference_count(car), 4);
    ck_assert_ptr_nonnull(strstr(sentence(plw_difference_sentence, car, 2), "426"));
    ck_assert_ptr_nonnull(strstr(sentence(plw_difference_sentence, car, 3), "318"));
}
END_TEST

static const struct live {
    const char *plates;
    const char *verdicts;
    const char *scheme;
} lives[] = {
    /* the full number is printed with its stamp */
    { "dash=RM21M9A239232;engine=9A239232", "AA", "highland-park-1966" },
    { "dash=RM23V0A149789;engine=0A149789;gearbox=0A149?89", "AAA", "highland-park-1966" },
    { "dash=RM23V0A149789;engine=OAI49789", "AA", "highland-park-1966" },
    /* of 1968 on; 1967 is too early */
    { "door_label=RS23L71123456;engine=71123456", "AN", "highland-park-1966" },
    { "door_label=8403143155;engine=0A149789", "CN", "highland-park-1960" },
    { "dash=8R02S100001;engine=8R100001", "AA", "dearborn-1960" },
    { "dash=8R02S100001;engine=8R100002", "DD", "dearborn-1960" },
    { "dash=194678S400025;engine=18S400025;gearbox=18S400025", "AAA", "detroit-1965" },
    { "dash=4Z57RAE420046;engine=4AE420046", "AA", "detroit-1972" },
    /* the sequence alone, or the year and the sequence: Corvettes before 1968 */
    { "door_label=194677S400025;engine=7400025", "AA", "detroit-1965" },
    { "door_label=194677S400025;engine=400025", "AA", "detroit-1965" },
    /* a serial of its own is no stamp that repeats the number */
    { "door_label=242677P100025;engine=123456", "CC", "detroit-1965" },
    { "dash=1G4AH59H45G118341;engine=45G118341", "AA", "iso3779" },
    { "dash=1G4AH59H45G118341;engine=45G118342", "DD", "iso3779" },
    /* not the form of this maker */
    { "dash=WVWAB0933CW123456;engine=WCW123456", "CC", "iso3779" },
};

START_TEST(test_live)
{
    const struct live *l = &lives[_i];
    plw_car *car = probe_compare(NULL, l->plates, NULL);
    ck_assert_msg(strcmp(verdicts(car), l->verdicts) == 0, "%s: %s", l->plates, verdicts(car));
    ck_assert_str_eq(plw_scheme_key(NULL, plw_joined_scheme(car, 0)), l->scheme);
}
END_TEST

static const char *schemes_of(const plw_car *car)
{
    static char text[1024];
    text[0] = '\0';
    for (uint32_t i = 0; i < plw_joined_count(car); i++) {
        strcat(text, i ? " " : "");
        strcat(text, plw_scheme_key(NULL, plw_joined_scheme(car, i)));
    }
    return text;
}

/* Two stamps alone: every scheme whose stamps have this form. */
START_TEST(test_stamps_alone_fit_several_schemes)
{
    plw_car *car = probe_compare(NULL, "engine=18S400025;gearbox=18S40002?", NULL);
    ck_assert_str_eq(verdicts(car), "AA");
    ck_assert_ptr_nonnull(strstr(schemes_of(car), "detroit-1965"));
    ck_assert_ptr_nonnull(strstr(schemes_of(car), "detroit-1972"));
    ck_assert_uint_eq(plw_missing_count(car), 0); /* it is not settled whose car it is */
    car = probe_compare(NULL, "engine=18S400025", "scheme=detroit-1972");
    ck_assert_str_eq(plw_scheme_key(NULL, plw_joined_scheme(car, 0)), "detroit-1972");
}
END_TEST

/* A row that names fields that the layouts have is what a stamp can lie on. */
START_TEST(test_every_stamp_of_the_tables_lies_on_a_layout)
{
    image_t image = plwi_image(NULL);
    plwi_stamp stamps[MAX_STAMPS];
    uint32_t partial = 0;
    for (uint32_t scheme = 0; scheme < plwi_count(image, SECTION_SCHEMES); scheme++) {
        uint32_t count = plwi_stamps(image, scheme, stamps);
        ck_assert_uint_lt(count, MAX_STAMPS);
        for (uint32_t i = 0; i < count; i++) {
            uint32_t widest = 0;
            for (uint32_t k = 0; k < plwi_count(image, SECTION_LAYOUTS); k++) {
                uint8_t positions[MAX_POSITIONS];
                if (plwi_u16(plwi_layout(image, k) + LAYOUT_SCHEME) != scheme)
                    continue;
                uint32_t width = plwi_stamp_positions(image, k, &stamps[i], positions);
                widest = width > widest ? width : widest;
            }
            ck_assert_int_eq(widest > 0, plwi_stamp_is_partial(&stamps[i]));
            partial += (uint32_t)plwi_stamp_is_partial(&stamps[i]);
        }
    }
    ck_assert_uint_gt(partial, 5);
}
END_TEST

/* ---- properties --------------------------------------------------------------------------------
 */

static uint32_t state;

static uint32_t random_below(uint32_t limit)
{
    state ^= state << 13;
    state ^= state >> 17;
    state ^= state << 5;
    return state % limit;
}

typedef struct spelled {
    int32_t place;
    char text[PLW_MAX_TEXT + 1];
} spelled;

/* Full numbers, and stamps that the car's scheme has for them. */
static const char *const models[][3] = {
    { "RM23V0A149789", "0A149789", "0A149" },       { "8R02S100001", "8R100001", "8R0" },
    { "194678S400025", "18S400025", "400025" },     { "194677S400025", "7400025", "400025" },
    { "1G4AH59H45G118341", "45G118341", "118341" }, { "9112101234", "0A149789", "" },
};

static void random_plate(spelled *plate)
{
    static const char changes[] = "0123456789ABDHOSZ?#";
    const char *const *model = models[random_below(random_below(4) ? 1 : 6)];
    const char *text = model[random_below(random_below(6) ? 2 : 3)];
    plate->place = (int32_t)random_below(PLW_PLACE_BODY) + 1;
    strcpy(plate->text, text);
    for (uint32_t i = random_below(3); i > 0 && plate->text[0]; i--)
        plate->text[random_below((uint32_t)strlen(plate->text))] =
            changes[random_below(sizeof changes - 1)];
}

static const plw_car *compare_spelled(const spelled *plates, uint32_t count)
{
    plw_car *car = probe_car();
    plw_car_clear(car);
    for (uint32_t i = 0; i < count; i++)
        ck_assert_int_eq(
            plw_car_add_plate(car, plates[i].place, plates[i].text, strlen(plates[i].text)),
            PLW_OK);
    ck_assert_int_eq(plw_compare(NULL, car, NULL, 0), PLW_OK);
    return car;
}

START_TEST(test_a_plate_more_never_makes_agreement)
{
    uint32_t differed = 0;
    state = (uint32_t)_i + 17;
    for (int round = 0; round < 150; round++) {
        spelled plates[5];
        uint32_t count = 2 + random_below(3);
        for (uint32_t i = 0; i <= count; i++)
            random_plate(&plates[i]);
        int32_t before = plw_car_verdict(compare_spelled(plates, count));
        int32_t after = plw_car_verdict(compare_spelled(plates, count + 1));
        differed += before == PLW_PLATE_DIFFERS;
        ck_assert_msg(!(before == PLW_PLATE_DIFFERS && after == PLW_PLATE_AGREES),
                      "%s agrees with plates that differ", plates[count].text);
    }
    ck_assert_uint_gt(differed, 10);
}
END_TEST

START_TEST(test_an_unreadable_character_never_makes_a_difference)
{
    uint32_t agreed = 0;
    state = (uint32_t)_i + 4711;
    for (int round = 0; round < 150; round++) {
        spelled plates[4];
        uint32_t count = 2 + random_below(3), changed = random_below(count);
        for (uint32_t i = 0; i < count; i++)
            random_plate(&plates[i]);
        int32_t before = plw_car_verdict(compare_spelled(plates, count));
        char *text = plates[changed].text;
        if (text[0])
            text[random_below((uint32_t)strlen(text))] = '?';
        int32_t after = plw_car_verdict(compare_spelled(plates, count));
        agreed += before == PLW_PLATE_AGREES;
        ck_assert_msg(!(before == PLW_PLATE_AGREES && after == PLW_PLATE_DIFFERS),
                      "%s makes a difference", text);
    }
    ck_assert_uint_gt(agreed, 3);
}
END_TEST

typedef struct known_reading {
    uint32_t scheme;
    uint32_t year_count;
    int32_t years[128];
} known_reading;

static uint32_t readings_of(const plw_result *r, known_reading known[PLW_MAX_READINGS])
{
    uint32_t count = plw_reading_count(r);
    for (uint32_t i = 0; i < count; i++) {
        known[i].scheme = plw_reading_scheme(r, i);
        known[i].year_count = plw_reading_year_count(r, i);
        for (uint32_t k = 0; k < known[i].year_count; k++)
            known[i].years[k] = plw_reading_year(r, i, k);
    }
    return count;
}

static int is_read(const plw_result *r, uint32_t scheme, int32_t year)
{
    for (uint32_t i = 0; i < plw_reading_count(r); i++)
        for (uint32_t k = 0; k < plw_reading_year_count(r, i); k++)
            if (plw_reading_scheme(r, i) == scheme && plw_reading_year(r, i, k) == year)
                return 1;
    return 0;
}

/* The number on the dash and stamps that repeat it; one character of one plate
 * becomes unreadable. Every model year that was possible still is. */
START_TEST(test_an_unreadable_character_never_removes_a_reading)
{
    static known_reading known[PLW_MAX_READINGS];
    uint32_t asked = 0;
    state = (uint32_t)_i + 271;
    for (int round = 0; round < 100; round++) {
        spelled plates[3];
        const char *const *model = models[random_below(6)];
        uint32_t count = model[2][0] ? 3 : 1;
        static const int32_t places[] = { PLW_PLACE_DASH, PLW_PLACE_ENGINE, PLW_PLACE_GEARBOX };
        for (uint32_t i = 0; i < count; i++) {
            plates[i].place = places[i];
            strcpy(plates[i].text, model[i]);
        }
        for (uint32_t i = random_below(3); i > 0; i--)
            plates[0].text[random_below((uint32_t)strlen(plates[0].text))] = '?';
        const plw_result *r = plw_car_result(compare_spelled(plates, count));
        uint32_t before = readings_of(r, known);
        char *text = plates[random_below(count)].text;
        text[random_below((uint32_t)strlen(text))] = '?';
        r = plw_car_result(compare_spelled(plates, count));
        for (uint32_t i = 0; i < before; i++)
            for (uint32_t k = 0; k < known[i].year_count; k++, asked++)
                ck_assert_msg(is_read(r, known[i].scheme, known[i].years[k]),
                              "%s: %s, %d is gone", plates[0].text,
                              plw_scheme_key(NULL, known[i].scheme), (int)known[i].years[k]);
    }
    ck_assert_uint_gt(asked, 50);
}
END_TEST

/* The order in which plates are given changes nothing but their order. */
START_TEST(test_order_does_not_matter)
{
    state = (uint32_t)_i + 99;
    for (int round = 0; round < 100; round++) {
        spelled plates[3], turned[3];
        for (uint32_t i = 0; i < 3; i++) {
            random_plate(&plates[i]);
            turned[2 - i] = plates[i];
        }
        const plw_car *car = compare_spelled(plates, 3);
        int32_t whole = plw_car_verdict(car), own[3];
        char together[256];
        strcpy(together, joined(car, 0));
        for (uint32_t i = 0; i < 3; i++)
            own[i] = plw_plate_verdict(car, i);
        car = compare_spelled(turned, 3);
        ck_assert_int_eq(plw_car_verdict(car), whole);
        ck_assert_str_eq(joined(car, 0), together);
        for (uint32_t i = 0; i < 3; i++)
            ck_assert_int_eq(plw_plate_verdict(car, 2 - i), own[i]);
    }
}
END_TEST

START_TEST(test_random_bytes_are_harmless)
{
    state = (uint32_t)_i + 1;
    for (int round = 0; round < 60; round++) {
        plw_car *car = probe_car();
        plw_car_clear(car);
        for (uint32_t i = random_below(PLW_MAX_PLATES + 1); i > 0; i--) {
            char text[PLW_MAX_TEXT];
            uint32_t length = random_below(random_below(8) ? 20 : sizeof text + 1);
            for (uint32_t k = 0; k < length; k++)
                text[k] = (char)(random_below(4) ? '0' + random_below(10) : random_below(256));
            ck_assert_int_eq(
                plw_car_add_plate(car, (int32_t)random_below(PLW_PLACE_BODY) + 1, text, length),
                PLW_OK);
        }
        ck_assert_int_eq(plw_compare(NULL, car, NULL, 0), PLW_OK);
        for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++)
            ck_assert_str_ne(explained(car, format, PLW_EXPLAIN_SOURCES), "");
    }
}
END_TEST

#define COUNT(table) ((int)(sizeof table / sizeof *table))

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_state, 0, COUNT(states));
    tcase_add_test(test, test_a_stamp_lies_on_the_full_number);
    tcase_add_test(test, test_sentences_name_the_other_plate);
    tcase_add_test(test, test_what_was_misread_is_told);
    tcase_add_test(test, test_a_stamp_too_early_is_told_with_the_year);
    tcase_add_test(test, test_each_character_supports_its_readings);
    tcase_add_test(test, test_a_year_that_differs_supports_different_years);
    tcase_add_test(test, test_plates_that_show_the_same_stand_together);
    tcase_add_test(test, test_what_the_tables_expect_and_nobody_gave);
    tcase_add_test(test, test_what_is_given_is_not_missing);
    tcase_add_test(test, test_the_joined_number_is_decoded);
    tcase_add_test(test, test_advice);
    tcase_add_loop_test(test, test_claim_on_a_car, 0, COUNT(claim_states));
    tcase_add_test(test, test_claims_are_refused_and_forgotten);
    tcase_add_test(test, test_advice_on_claims);
    tcase_add_test(test, test_findings_on_the_joined_number);
    tcase_add_test(test, test_refusals);
    tcase_add_test(test, test_a_plate_more_forgets_the_comparison);
    tcase_add_test(test, test_memory_of_the_caller);
    tcase_add_test(test, test_nothing_to_answer_with);
    tcase_add_test(test, test_the_hosts_words_are_used);
    tcase_add_test(test, test_characters_stand_under_each_other);
    tcase_add_test(test, test_wide_brackets_become_a_star);
    tcase_add_loop_test(test, test_no_line_is_wider_than_a_terminal, 0, COUNT(states));
    tcase_add_loop_test(test, test_outputs_close_with_the_cautions_and_do_not_judge, 0,
                        COUNT(states));
    tcase_add_test(test, test_hostile_text_is_escaped);
    tcase_add_test(test, test_the_altered_pair);
    tcase_add_loop_test(test, test_live, 0, COUNT(lives));
    tcase_add_test(test, test_stamps_alone_fit_several_schemes);
    tcase_add_test(test, test_every_stamp_of_the_tables_lies_on_a_layout);
    tcase_add_loop_test(test, test_an_unreadable_character_never_removes_a_reading, 0, 5);
    tcase_add_loop_test(test, test_order_does_not_matter, 0, 5);
    tcase_add_loop_test(test, test_random_bytes_are_harmless, 0, 5);
}

static void add_long(TCase *test)
{
    tcase_add_loop_test(test, test_a_plate_more_never_makes_agreement, 0, 10);
    tcase_add_loop_test(test, test_an_unreadable_character_never_makes_a_difference, 0, 10);
}

static void print_json(const plw_car *car, uint32_t flags)
{
    fputs(explained(car, PLW_FORMAT_JSON, flags), stdout);
}

START_TEST(test_that_prints_json)
{
    for (int i = 0; i < COUNT(states); i++)
        print_json(compare(states[i].plates), PLW_EXPLAIN_SOURCES);
    for (int i = 0; i < COUNT(claim_states); i++) {
        plw_car *car = compare(claim_states[i].plates);
        check_claims(car, claim_states[i].claim);
        print_json(car, 0);
    }
    for (int i = 0; i < COUNT(lives); i++)
        print_json(probe_compare(NULL, lives[i].plates, NULL), 0);
    plw_car_clear(probe_car());
    print_json(probe_car(), 0);
}
END_TEST

static void add_json(TCase *test)
{
    tcase_add_test(test, test_that_prints_json);
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "json") == 0)
        return probe_print("json", add_json);
    return probe_run_long("compare", add, add_long);
}
