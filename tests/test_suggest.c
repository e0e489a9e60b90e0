/* SPDX-License-Identifier: MIT
 *
 * Suggestions: exact answers on the frozen fixture and on a small scheme of its
 * own, and what holds for any number on the compiled-in tables.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "internal.h"
#include "probe.h"

static plw_result *suggest(const plw_tables *tables, const char *number)
{
    plw_result *r = probe_decode(tables, "", NULL);
    ck_assert_int_eq(plw_suggest(tables, number, strlen(number), NULL, 0, r), PLW_OK);
    return r;
}

static const char *number_of(const plw_result *r, uint32_t suggestion)
{
    static char text[PLW_MAX_TEXT];
    ck_assert_int_eq(plw_suggestion_number(r, suggestion, text, sizeof text, NULL), PLW_OK);
    return text;
}

/* "NUMBER standing grade; ... +left out" */
static const char *answer(const plw_result *r)
{
    static char said[2048];
    said[0] = '\0';
    for (uint32_t i = 0; i < plw_suggestion_count(r); i++)
        sprintf(said + strlen(said), "%s%s %s %s", i ? "; " : "", number_of(r, i),
                plw_standing_name(plw_suggestion_standing(r, i)),
                plw_grade_name(plw_suggestion_grade(r, i)));
    if (plw_suggestion_left_out(r) > 0)
        sprintf(said + strlen(said), " +%u", (unsigned)plw_suggestion_left_out(r));
    return said;
}

/* ---- exact answers ---------------------------------------------------------- */

static const struct {
    const char *number, *answer;
} answers[] = {
    /* nothing to cure */
    { "T24M6P100051", "" },
    { "T24K3P100051", "" },
    /* doubts that no change of characters cures, or that decode cures itself */
    { "T24K3P000051", "" },
    { "TZ4K3P100051", "" },
    { "T24K3P10051", "" },
    { "", "" },
    /* one pair: an unknown code, a character that cannot stand there */
    { "T24X3P100051", "T24K3P100051 practice note" },
    { "T2AK3P100051", "T24K3P100051 practice note" },
    /* what decode reads as another is read so in the suggestion, too */
    { "TZ4X3P100051", "T24K3P100051 practice note" },
    /* no pair: any character in the places of the findings */
    { "T24B3P100051", "T24K3P100051 memory note" },
    { "T84K3P100051", "T24K3P100051 memory note" },
    { "T28K3P100051", "T24K3P100051 memory note; T27K3P100051 memory note" },
    { "T24K3#100051", "T24K3P100051 memory note" },
    { "S24K3P100051", "H24K3P100051 memory note; T24K3P100051 memory note" },
    /* several pairs, in their order; a doubt that stays */
    { "B24K8P100051", "B24K3P100051 practice doubt; B24K6P100051 practice doubt" },
    /* one cures an exclusion and a running number below its start, five only the
     * exclusion */
    { "T24K3N100051", "T24K3P100051 memory note; T24K0N100051 memory doubt; "
                      "T24K1N100051 memory doubt; T24K2N100051 memory doubt; "
                      "T24K5N100051 memory doubt; T24K6N100051 memory doubt" },
    /* more than are kept */
    { "T24M6P1#0051", "T24M6P100051 memory clear; T24M6P110051 memory clear; "
                      "T24M6P120051 memory clear; T24M6P130051 memory clear; "
                      "T24M6P140051 memory clear; T24M6P150051 memory clear; "
                      "T24M6P160051 memory clear; T24M6P170051 memory clear +2" },
    /* unreadable characters stay unreadable */
    { "T?4X3P100051", "T?4K3P100051 practice note" },
    { "T24[XY]3P100051", "" },
    /* the check character: one change makes it fit */
    { "XT43012345", "XTA3012345 practice clear" },
    { "XTA8012345", "XTA3012345 practice clear" },
    { "XTA3012346", "XTA3012345 practice clear" },
    { "XTA3D12345", "XTA3012345 practice clear" },
    { "XTA3#12345", "XTA3012345 memory clear" },
    /* no change of a pair does; several do; another number would be as good */
    { "XTA3017345", "" },
    { "XTB0567868", " +3" },
    { "XTB6611771", " +2" },
    /* two faults: neither is cured alone */
    { "S24K8P100051", "" },
    { "XVA3012345", "" },
};

START_TEST(test_answers)
{
    ck_assert_str_eq(answer(suggest(fixture_tables(), answers[_i].number)), answers[_i].answer);
}
END_TEST

static const char *sentence_of(const plw_result *r, uint32_t suggestion)
{
    static char text[1024];
    ck_assert_int_eq(plw_suggestion_sentence(r, suggestion, text, sizeof text, NULL), PLW_OK);
    return text;
}

START_TEST(test_sentences)
{
    ck_assert_str_eq(sentence_of(suggest(fixture_tables(), "t24x-3P100051"), 0),
                     "With K for X in position 4 (K and X look alike; practice) it would be "
                     "T24K3P100051, grade note. A guess.");
    ck_assert_str_eq(sentence_of(suggest(fixture_tables(), "T24K3#100051"), 0),
                     "With P for # in position 6 it would be T24K3P100051, grade note. A guess.");
    ck_assert_str_eq(sentence_of(suggest(fixture_tables(), "TZ4X3P100051"), 0),
                     "With 2 for Z in position 2 and K for X in position 4 (K and X look alike; "
                     "practice) it would be T24K3P100051, grade note. A guess.");
    ck_assert_str_eq(sentence_of(suggest(fixture_tables(), "XT43012345"), 0),
                     "With A for 4 in position 3 (A and 4 look alike; practice) it would be "
                     "XTA3012345, grade clear. A guess; no other such change makes the check "
                     "character fit.");
}
END_TEST

START_TEST(test_changes)
{
    const plw_result *r = suggest(fixture_tables(), "TZ4\xC3\x84" "3P100051"); /* A umlaut */
    ck_assert_str_eq(answer(r), "T24K3P100051 memory note");
    ck_assert_uint_eq(plw_suggestion_positions(r, 0), 1u << 1 | 1u << 3);
    ck_assert_int_eq(plw_suggestion_typed(r, 0, 2), 'Z');
    ck_assert_int_eq(plw_suggestion_meant(r, 0, 2), '2');
    ck_assert_int_eq(plw_suggestion_typed(r, 0, 4), 0xC4);
    ck_assert_int_eq(plw_suggestion_meant(r, 0, 4), 'K');
    ck_assert_int_eq(plw_suggestion_typed(r, 0, 1), 0);
    ck_assert_int_eq(plw_suggestion_meant(r, 0, 1), 0);
    ck_assert_int_eq(plw_suggestion_meant(r, 0, 0), 0);
    ck_assert_int_eq(plw_suggestion_meant(r, 0, 13), 0);
    ck_assert_int_eq(plw_suggestion_meant(r, 0, UINT32_MAX), 0);
}
END_TEST

START_TEST(test_indexes_out_of_range)
{
    char text[8];
    const plw_result *r = suggest(fixture_tables(), "T24X3P100051");
    const plw_result *results[] = { r, NULL };
    for (uint32_t i = 0; i < 2; i++) {
        ck_assert_int_eq(plw_suggestion_number(results[i], 1, text, sizeof text, NULL),
                         PLW_E_ARGUMENT);
        ck_assert_int_eq(plw_suggestion_sentence(results[i], 1, text, sizeof text, NULL),
                         PLW_E_ARGUMENT);
        ck_assert_uint_eq(plw_suggestion_positions(results[i], 1), 0);
        ck_assert_int_eq(plw_suggestion_typed(results[i], 1, 4), 0);
        ck_assert_int_eq(plw_suggestion_meant(results[i], 1, 4), 0);
        ck_assert_int_eq(plw_suggestion_standing(results[i], 1), PLW_STANDING_MEMORY);
        ck_assert_int_eq(plw_suggestion_grade(results[i], 1), PLW_GRADE_CLEAR);
    }
    ck_assert_uint_eq(plw_suggestion_count(NULL), 0);
    ck_assert_uint_eq(plw_suggestion_left_out(NULL), 0);
    ck_assert_int_eq(plw_suggestion_number(r, 0, text, sizeof text, NULL), PLW_E_SHORT);
}
END_TEST

START_TEST(test_refusals)
{
    plw_result *r = suggest(fixture_tables(), "T24X3P100051");
    ck_assert_int_eq(plw_suggest(NULL, "T", 1, NULL, 1, r), PLW_E_FLAGS);
    ck_assert_uint_eq(plw_suggestion_count(r), 0);
    ck_assert_int_eq(plw_suggest(NULL, "T", 1, "year=x", 0, r), PLW_E_HINT);
    ck_assert_int_eq(plw_suggest(NULL, NULL, 1, NULL, 0, r), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_suggest(NULL, "T", 1, NULL, 0, NULL), PLW_E_ARGUMENT);
}
END_TEST

START_TEST(test_hints_rank_candidates_too)
{
    plw_result *r = suggest(fixture_tables(), "");
    ck_assert_int_eq(plw_suggest(fixture_tables(), "T24X3P100051", 12, "year=1973", 0, r), PLW_OK);
    ck_assert_str_eq(answer(r), "T24K3P100051 practice note");
    ck_assert_str_eq(probe_years(r, 0), "1963,1973");
}
END_TEST

/* ---- two changes ------------------------------------------------------------- */

static const char mixed_scheme[] =
    "[sources]\n"
    "list  List of numbers, Wexcombe Motor Works, 1955 | -\n"
    "[scheme]\n"
    "key     port-ellery-1950\n"
    "title   Wexcombe cars of Port Ellery, 1950-1955\n"
    "years   1950-1955\n"
    "facts   maker=\"Wexcombe Motor Works\"\n"
    "[fields]\n"
    "l  line      code  A-Z0-9\n"
    "s  sequence  free  0-9\n"
    "[layout]\n"
    "sample  SBW0001\n"
    "ruler   lllssss\n"
    "[line]\n"
    "SBW  1950-1955  -  published  list  line=Tern  Tern\n"
    "F7Y  1950-1955  -  published  list  line=Wren  Wren\n";

START_TEST(test_two_changes_only_of_read_pairs)
{
    size_t size;
    const plw_tables *tables;
    unsigned char *image = fixture_image_of(mixed_scheme, &size);
    ck_assert_int_eq(plw_tables_open(image, size, 0, &tables), PLW_OK);
    /* S for 5 and B for 8, both of them pairs that are read */
    const plw_result *r = suggest(tables, "58W0001");
    ck_assert_str_eq(answer(r), "SBW0001 practice clear");
    ck_assert_uint_eq(plw_suggestion_positions(r, 0), 3);
    ck_assert_str_eq(sentence_of(r, 0),
                     "With S for 5 in position 1 (S and 5 look alike; practice) and B for 8 in "
                     "position 2 (B and 8 look alike; practice) it would be SBW0001, grade clear. "
                     "A guess.");
    /* one change is enough: two are not looked for */
    ck_assert_str_eq(answer(suggest(tables, "5BW0001")), "SBW0001 practice clear");
    /* F for E and 7 for T, but these are only suggested */
    ck_assert_str_eq(answer(suggest(tables, "ETY0001")), "");
    ck_assert_str_eq(answer(suggest(tables, "E7Y0001")), "F7Y0001 practice clear");
    free(image);
}
END_TEST

/* ---- explained ---------------------------------------------------------------- */

static const char *explained(const plw_result *r, int32_t format)
{
    static char page[100000];
    ck_assert_int_eq(plw_explain(r, format, 0, page, sizeof page, NULL), PLW_OK);
    return page;
}

static void says(const plw_result *r, int32_t format, const char *text)
{
    ck_assert_msg(strstr(explained(r, format), text) != NULL, "%s", explained(r, format));
}

static void keeps_silent(const plw_result *r, int32_t format, const char *text)
{
    ck_assert_msg(strstr(explained(r, format), text) == NULL, "%s", explained(r, format));
}

START_TEST(test_explained)
{
    const plw_result *r = suggest(fixture_tables(), "T24K3#100051");
    says(r, PLW_FORMAT_TEXT,
         "\nCould it be a misreading?\n"
         "  - With P for # in position 6 it would be T24K3P100051, grade note. A guess.\n");
    says(r, PLW_FORMAT_MARKDOWN,
         "\n## Could it be a misreading?\n\n"
         "- With P for \\# in position 6 it would be T24K3P100051, grade note. A guess.\n");
    says(r, PLW_FORMAT_JSON,
         ",\"suggestions\":[{\"number\":\"T24K3P100051\",\"grade\":\"note\","
         "\"standing\":\"memory\",\"changes\":[{\"position\":6,\"typed\":\"#\","
         "\"meant\":\"P\"}],\"sentence\":\"With P for # in position 6 it would be "
         "T24K3P100051, grade note. A guess.\"}],\"suggestions_left_out\":0,");
}
END_TEST

START_TEST(test_explained_hostile_characters)
{
    const plw_result *r = suggest(fixture_tables(), "T24K3|100051");
    ck_assert_uint_eq(plw_suggestion_count(r), 0); /* a separator: too short */
    r = suggest(fixture_tables(), "T24K3<100051");
    says(r, PLW_FORMAT_MARKDOWN, "\n- With P for \\< in position 6");
    r = suggest(fixture_tables(), "T24K3\"100051");
    says(r, PLW_FORMAT_JSON, "\"typed\":\"\\\"\",");
    says(r, PLW_FORMAT_JSON, "With P for \\\" in position 6");
    r = suggest(fixture_tables(), "T24K3\033100051");
    says(r, PLW_FORMAT_TEXT, "With P for \xEF\xBF\xBD in position 6");
    says(r, PLW_FORMAT_JSON, "\"typed\":\"\xEF\xBF\xBD\",");
}
END_TEST

START_TEST(test_explained_what_is_left_out)
{
    const plw_result *r = suggest(fixture_tables(), "T24M6P1#0051");
    says(r, PLW_FORMAT_TEXT, "\n  - and 2 more\n");
    says(r, PLW_FORMAT_MARKDOWN, "\n- and 2 more\n");
    says(r, PLW_FORMAT_JSON, "\"suggestions_left_out\":2,");
    r = suggest(fixture_tables(), "XTB6611771");
    says(r, PLW_FORMAT_MARKDOWN,
         "\n## Could it be a misreading?\n\n- 2 single changes would make the check character "
         "fit; nothing tells them apart, so none is offered.\n");
    says(r, PLW_FORMAT_JSON, ",\"suggestions\":[],\"suggestions_left_out\":2,");
}
END_TEST

START_TEST(test_explained_only_when_asked)
{
    const plw_result *good = suggest(fixture_tables(), "T24M6P100051");
    keeps_silent(good, PLW_FORMAT_TEXT, "misreading?");
    keeps_silent(good, PLW_FORMAT_MARKDOWN, "misreading?");
    says(good, PLW_FORMAT_JSON, ",\"suggestions\":[],\"suggestions_left_out\":0,");
    const plw_result *plain = probe_validate(fixture_tables(), "T24K3#100051", NULL);
    keeps_silent(plain, PLW_FORMAT_TEXT, "misreading?");
    keeps_silent(plain, PLW_FORMAT_JSON, "suggestions");
}
END_TEST

/* ---- the compiled-in tables ---------------------------------------------------- */

/* The sample of the United States regulation with one character misread. */
static const char *const misread_samples[] = {
    "LG4AH59H45G118341", "7G4AH59H45G118341", "164AH59H45G118341", "1GAAH59H45G118341",
    "1G44H59H45G118341", "1G4AH5QH45G118341", "1G4AH59HA5G118341", "1G4AH59H45G1183A1",
    "1G4AH59H#5G118341",
};

START_TEST(test_the_regulations_sample_comes_back)
{
    const plw_result *r = suggest(NULL, misread_samples[_i]);
    ck_assert_uint_eq(plw_suggestion_count(r), 1);
    ck_assert_uint_eq(plw_suggestion_left_out(r), 0);
    ck_assert_str_eq(number_of(r, 0), "1G4AH59H45G118341");
    ck_assert_int_eq(plw_suggestion_grade(r, 0), PLW_GRADE_CLEAR);
}
END_TEST

/* A city's record has 1 for the letter L in position 5: the repair is one of two
 * that make the check digit fit, so it is not offered. */
START_TEST(test_a_repair_that_does_not_stand_alone)
{
    ck_assert_str_eq(answer(suggest(NULL, "2G1A169L9C1256148")), " +2");
}
END_TEST

/* A letter in position 9 would make it a number without a check digit. */
START_TEST(test_a_check_character_is_not_escaped)
{
    const plw_result *r = suggest(NULL, "3G4AH59H45G118341");
    for (uint32_t i = 0; i < plw_suggestion_count(r); i++)
        ck_assert_int_eq(plw_suggestion_meant(r, i, 9), 0);
}
END_TEST

static uint32_t state;

static uint32_t random_below(uint32_t limit)
{
    state ^= state << 13;
    state ^= state >> 17;
    state ^= state << 5;
    return state % limit;
}

/* A layout's sample with a few characters changed. */
static void damaged_sample(char number[MAX_POSITIONS + 1])
{
    image_t image = plwi_image(NULL);
    const unsigned char *layout =
        plwi_layout(image, random_below(plwi_count(image, SECTION_LAYOUTS)));
    strcpy(number, plwi_text(image, plwi_u32(layout + LAYOUT_SAMPLE)));
    for (uint32_t i = random_below(3) + 1; i > 0; i--)
        number[random_below((uint32_t)strlen(number))] =
            random_below(8) ? plwi_character(random_below(ALPHABET_SIZE)) : '?';
}

/* The number with the changes made at the positions that are told, and only there. */
static void check_changes(const plw_result *r, uint32_t suggestion, const char *number)
{
    const char *text = number_of(r, suggestion);
    uint32_t positions = plw_suggestion_positions(r, suggestion);
    ck_assert_uint_eq(strlen(text), strlen(number));
    ck_assert_uint_ne(positions, 0);
    for (uint32_t p = 0; text[p]; p++) {
        int changed = (int)(positions >> p & 1);
        ck_assert_int_eq(text[p] != number[p], changed);
        ck_assert_int_eq(plw_suggestion_meant(r, suggestion, p + 1), changed ? text[p] : 0);
        ck_assert_int_eq(plw_suggestion_typed(r, suggestion, p + 1), changed ? number[p] : 0);
    }
}

/* The suggestion is as good as it is said to be, and better than the number.
 * Returns how many doubts it leaves. */
static uint32_t check_grade(int32_t grade, const char *suggestion, int32_t said)
{
    uint32_t doubts = 0;
    const plw_result *r = probe_validate(NULL, suggestion, NULL);
    ck_assert_int_eq(plw_result_grade(r), said);
    ck_assert_int_lt(said, grade);
    ck_assert_int_ne(plw_reading_check(r, 0, NULL), PLW_CHECK_FAILS);
    for (uint32_t i = 0; i < plw_finding_count(r); i++)
        doubts += plw_finding_grade(r, i) == PLW_GRADE_DOUBT &&
                  (plw_finding_reading(r, i) == 0 || plw_finding_reading(r, i) == PLW_NONE);
    return doubts;
}

START_TEST(test_suggestions_are_better)
{
    uint32_t seen = 0;
    state = (uint32_t)_i + 5;
    for (int round = 0; round < 300; round++) {
        char number[MAX_POSITIONS + 1], texts[PLW_MAX_SUGGESTIONS][PLW_MAX_TEXT];
        int32_t grades[PLW_MAX_SUGGESTIONS];
        damaged_sample(number);
        const plw_result *r = suggest(NULL, number);
        uint32_t count = plw_suggestion_count(r);
        int32_t grade = plw_result_grade(r);
        for (uint32_t i = 0; i < count; i++) {
            check_changes(r, i, number);
            strcpy(texts[i], number_of(r, i));
            grades[i] = plw_suggestion_grade(r, i);
            for (uint32_t k = 0; k < i; k++)
                ck_assert_str_ne(texts[k], texts[i]);
        }
        uint32_t least = 0;
        for (uint32_t i = 0; i < count; i++) {
            uint32_t doubts = check_grade(grade, texts[i], grades[i]);
            ck_assert_uint_ge(doubts, least);
            least = doubts;
        }
        seen += count;
    }
    ck_assert_uint_gt(seen, 0);
}
END_TEST

START_TEST(test_random_bytes_are_harmless)
{
    state = 4711;
    for (int round = 0; round < 1000; round++) {
        char number[PLW_MAX_TEXT];
        uint32_t length = random_below(random_below(4) ? 20 : sizeof number + 1);
        plw_result *r = probe_decode(NULL, "", NULL);
        for (uint32_t i = 0; i < length; i++)
            number[i] = (char)(random_below(4) ? 0x20 + random_below(0x60) : random_below(256));
        ck_assert_int_eq(plw_suggest(NULL, number, length, NULL, 0, r), PLW_OK);
        for (uint32_t i = 0; i < plw_suggestion_count(r); i++)
            ck_assert_str_ne(sentence_of(r, i), "");
    }
}
END_TEST

/* Looking for suggestions changes nothing about the number itself. */
START_TEST(test_the_number_itself_is_validated)
{
    static char with[1 << 20], without[1 << 20];
    uint32_t seen = 0;
    state = (uint32_t)_i + 21;
    for (int round = 0; round < 30; round++) {
        char number[MAX_POSITIONS + 1];
        damaged_sample(number);
        plw_result *r = suggest(NULL, number);
        seen += plw_suggestion_count(r);
        r->suggestions.asked = r->suggestions.count = 0;
        r->suggestions.found = 0;
        ck_assert_int_eq(plw_explain(r, PLW_FORMAT_JSON, 0, with, sizeof with, NULL), PLW_OK);
        r = probe_validate(NULL, number, NULL);
        ck_assert_int_eq(plw_explain(r, PLW_FORMAT_JSON, 0, without, sizeof without, NULL),
                         PLW_OK);
        ck_assert_str_eq(with, without);
    }
    ck_assert_uint_gt(seen, 0);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_answers, 0, (int)(sizeof answers / sizeof answers[0]));
    tcase_add_test(test, test_sentences);
    tcase_add_test(test, test_changes);
    tcase_add_test(test, test_indexes_out_of_range);
    tcase_add_test(test, test_refusals);
    tcase_add_test(test, test_hints_rank_candidates_too);
    tcase_add_test(test, test_two_changes_only_of_read_pairs);
    tcase_add_test(test, test_explained);
    tcase_add_test(test, test_explained_hostile_characters);
    tcase_add_test(test, test_explained_what_is_left_out);
    tcase_add_test(test, test_explained_only_when_asked);
    tcase_add_loop_test(test, test_the_regulations_sample_comes_back, 0,
                        (int)(sizeof misread_samples / sizeof misread_samples[0]));
    tcase_add_test(test, test_a_repair_that_does_not_stand_alone);
    tcase_add_test(test, test_a_check_character_is_not_escaped);
    tcase_add_loop_test(test, test_suggestions_are_better, 0, 3);
    tcase_add_test(test, test_random_bytes_are_harmless);
    tcase_add_loop_test(test, test_the_number_itself_is_validated, 0, 5);
}

int main(void)
{
    return probe_run("suggest", add);
}
