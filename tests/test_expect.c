/* SPDX-License-Identifier: MIT
 *
 * Expect: from claims to patterns. State tables on the frozen fixture; on the live
 * tables what must hold for every number: a pattern of what its reading says
 * covers it, one more claim never covers more, and no pattern contradicts the
 * claims it was made of.
 *
 * With the argument "json" it runs no test but prints expectations, one a line,
 * for the check against lib/expect.schema.json.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "internal.h"
#include "probe.h"

#define CLAIMS_SIZE (PLW_MAX_CLAIM_TEXT + 1)

/* ---- short questions ------------------------------------------------------- */

static plw_expectation *expectation(void)
{
    static plw_expectation *e;
    if (e == NULL)
        ck_assert_int_eq(plw_expectation_new(&e), PLW_OK);
    return e;
}

static plw_expectation *expect(const plw_tables *tables, const char *claims, const char *hints)
{
    plw_expectation *e = expectation();
    ck_assert_int_eq(plw_expect(tables, claims, strlen(claims), hints, 0, e), PLW_OK);
    return e;
}

static const char *pattern_text(const plw_expectation *e, uint32_t pattern)
{
    static char text[PLW_MAX_TEXT + 1];
    ck_assert_int_eq(plw_pattern_text(e, pattern, text, sizeof text, NULL), PLW_OK);
    return text;
}

static const char *whole_sentence(const plw_expectation *e)
{
    static char text[4096];
    ck_assert_int_eq(plw_expectation_sentence(e, text, sizeof text, NULL), PLW_OK);
    return text;
}

static int tells_all(const plw_expectation *e, uint32_t pattern)
{
    for (uint32_t i = 0; i < plw_expectation_claim_count(e); i++)
        if (!plw_pattern_tells(e, pattern, i))
            return 0;
    return 1;
}

/* "1962-1966", the first and the last year. */
static void append_years(const plw_expectation *e, uint32_t pattern, char *text)
{
    uint32_t count = plw_pattern_year_count(e, pattern);
    ck_assert_uint_gt(count, 0);
    sprintf(text + strlen(text), " %d", (int)plw_pattern_year(e, pattern, 0));
    if (count > 1)
        sprintf(text + strlen(text), "-%d", (int)plw_pattern_year(e, pattern, count - 1));
}

/* All patterns, "pattern years" joined by ", "; those with open claims have a '*'. */
static const char *patterns_of(const plw_expectation *e)
{
    static char text[8192];
    text[0] = '\0';
    for (uint32_t i = 0; i < plw_pattern_count(e) && strlen(text) < sizeof text / 2; i++) {
        sprintf(text + strlen(text), "%s%s%s", i ? ", " : "", pattern_text(e, i),
                tells_all(e, i) ? "" : "*");
        append_years(e, i, text);
    }
    return text;
}

/* ---- the frozen fixture -------------------------------------------------------- */

static const struct {
    const char *claims;
    const char *patterns;
} states[] = {
    /* a code, a set, a run of years */
    { "year=1966; body=convertible; engine=260", "?27M6??????? 1966" },
    { "engine=427", "???Z8??????? 1968, ??????????* 1976-1980" },
    { "year=1964; body=wagon", "?31?4??????? 1964" },
    { "year=1966; cylinders=6", "???R6??????? 1966" },
    { "year=1966; cylinders=8", "???M6??????? 1966" },
    { "year=1968; cylinders=8", "???[MZ]8??????? 1968" },
    { "year=1972; plant=Port Ellery", "????2P?????? 1972" },
    /* a letter that was used again, with other years */
    { "line=Heron", "H???[23456789]??????? 1962-1969" },
    /* rows with conditions: the field they ask for is fixed, too */
    { "year=1966; body=hardtop", "S23?6??????? 1966" },
    { "year=1966; engine=260 four-barrel", "S??M6??????? 1966" },
    { "year=1966; engine=260 two-barrel", "[ABCDEFGHIJKLMNOPQRTUVWXYZ]??M6??????? 1966" },
    /* sources that differ: one that agrees is enough */
    { "year=1969; engine=212", "???R9??????? 1969" },
    { "year=1969; engine=260", "???[MR]9??????? 1969" },
    /* a code that leaves it open, and a body that goes by another name */
    { "year=1972; engine=1980 cc", "???W2???????* 1972" },
    { "year=1972; body=hardtop", "?27?2???????* 1972" },
    /* details: only where the other fields are silent */
    { "year=1968; power=410", "???Z8??????? 1968, "
                              "[ABCDEFGHIJKLMNOPQRTUVWXYZ]??[ABCDEFGHJKLMNPQRSTUVWXY]8???????* "
                              "1968, S??[ABCDEFGHJKLMNPQSTUVWXY]8???????* 1968" },
    /* running number */
    { "year=1966; sequence=100051", "????6?100051 1966" },
    { "year=1977; sequence=51", "??B?000051 1977" },
    { "year=1977; line=Tern; sequence=1000051", "" },
    /* facts of the scheme decide alone */
    { "year=1976; country=Wexland", "??A??????? 1976" },
    { "year=1976; country=Wexland; maker=Wexcombe", "??A??????? 1976" },
    /* short years, years of two rounds of letters */
    { "year=76", "??A??????? 1976" },
    { "year=1979", "??A??????? 1979" },
    /* what is not understood rules nothing out */
    { "year=1966; mood=fair", "????6???????* 1966" },
    { "year=1966; engine=strong", "????6???????* 1966" },
    { "year=1966; line=Sparrow", "[HSTV]???6???????* 1966" },
    { "year=1966; division=Sparrow", "????6???????* 1966" },
    /* a maker's name that says more than the tables */
    { "year=1966; maker=Wexcombe Motor Works Limited", "????6???????* 1966" },
    /* no claim: every number */
    { "", "???????????? 1962-1975, ?????????? 1976-1980" },
};
#define STATES ((int)(sizeof states / sizeof states[0]))

START_TEST(test_state)
{
    const plw_expectation *e = expect(fixture_tables(), states[_i].claims, NULL);
    ck_assert_msg(strcmp(patterns_of(e), states[_i].patterns) == 0, "%s: %s expected, %s came",
                  states[_i].claims, states[_i].patterns, patterns_of(e));
    ck_assert_int_eq(plw_expectation_capped(e), 0);
}
END_TEST

/* ---- nothing is left -------------------------------------------------------------- */

static const struct {
    const char *claims;
    unsigned ruling;  /* a bit for each claim */
    unsigned freeing;
} nothings[] = {
    { "year=1990", 1, 1 },
    { "year=1971; engine=427", 3, 3 },
    { "year=1971; engine=427; body=coupe", 3, 3 },
    { "body=sedan; year=1971; engine=427", 6, 6 },
    { "year=1990; engine=427", 1, 1 },
    { "year=1990; year=1991", 1, 0 },
    { "year=1966; year=1967", 3, 3 },
    { "year=1962; year=1963; year=1964", 6, 0 },
    { "country=Wexland; line=Vireo; year=1970", 6, 6 },
    { "division=Tern; division=Tern; line=Harrier; year=1969", 12, 12 },
    /* a maker whom no table knows */
    { "maker=Ottershaw", 1, 1 },
    { "year=1966; maker=Ottershaw; body=sedan", 2, 2 },
    { "maker=Wexcombe; maker=Ottershaw; maker=Pennant", 2, 0 },
};

START_TEST(test_nothing_is_left)
{
    const plw_expectation *e = expect(fixture_tables(), nothings[_i].claims, NULL);
    unsigned ruling = 0, freeing = 0;
    ck_assert_msg(plw_pattern_count(e) == 0, "%s: %s", nothings[_i].claims, patterns_of(e));
    for (uint32_t i = 0; i < plw_expectation_claim_count(e); i++) {
        ruling |= (unsigned)plw_expectation_rules_out(e, i) << i;
        freeing |= (unsigned)plw_expectation_left_without(e, i) << i;
    }
    ck_assert_msg(ruling == nothings[_i].ruling && freeing == nothings[_i].freeing,
                  "%s: %u, %u", nothings[_i].claims, ruling, freeing);
}
END_TEST

/* Tables that call divisions by words of their own do not say what name a maker had. */
START_TEST(test_a_maker_without_a_name_may_have_any)
{
    const plw_expectation *e = expect(NULL, "maker=Wexcombe;year=1970", NULL);
    ck_assert_uint_gt(plw_pattern_count(e), 0);
    for (uint32_t i = 0; i < plw_pattern_count(e); i++) {
        const char *key = plw_scheme_key(NULL, plw_pattern_scheme(e, i));
        ck_assert_msg(strncmp(key, "highland-park-", 14) == 0, "%s", key);
        ck_assert_int_eq(plw_pattern_tells(e, i, 0), 0);
        ck_assert_int_eq(plw_pattern_tells(e, i, 1), 1);
    }
}
END_TEST

START_TEST(test_the_sentence_names_the_claims)
{
    const plw_expectation *e = expect(fixture_tables(), "body=coupe;year=1971;engine=427", NULL);
    ck_assert_str_eq(whole_sentence(e),
                     "No number of these tables could bear what is claimed: year=1971 and "
                     "engine=427 together rule everything out; something would be left without "
                     "year=1971 or without engine=427.");
    ck_assert_str_eq(whole_sentence(expect(fixture_tables(), "year=1990", NULL)),
                     "No number of these tables could bear what is claimed: year=1990 alone "
                     "rules everything out.");
    ck_assert_str_eq(whole_sentence(expect(fixture_tables(), "maker= Ottershaw ", NULL)),
                     "These tables know no maker of the name Ottershaw: maker=Ottershaw alone "
                     "rules everything out.");
    ck_assert_str_eq(whole_sentence(expect(NULL, "year=1950;maker=Wexcombe", NULL)),
                     "These tables know no maker of the name Wexcombe: year=1950 and "
                     "maker=Wexcombe together rule everything out; something would be left "
                     "without year=1950 or without maker=Wexcombe.");
    ck_assert_str_eq(whole_sentence(expect(fixture_tables(), "engine=427", NULL)),
                     "2 patterns, of which 1 tells all that is claimed.");
}
END_TEST

/* ---- one pattern ------------------------------------------------------------------- */

START_TEST(test_a_pattern_says_what_it_rests_on)
{
    char text[1024];
    const plw_tables *t = fixture_tables();
    const plw_expectation *e = expect(t, "year=1967;engine=260;mood=fair;plant=Netherwick", NULL);
    ck_assert_uint_eq(plw_pattern_count(e), 1);
    ck_assert_str_eq(plw_scheme_key(t, plw_pattern_scheme(e, 0)), "port-ellery-1962");
    ck_assert_uint_eq(plw_pattern_layout(e, 0), 0);
    ck_assert_int_eq(plw_pattern_range(e, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_str_eq(text, "500001+");
    ck_assert_int_eq(plw_pattern_tells(e, 0, 0), 1);
    ck_assert_int_eq(plw_pattern_tells(e, 0, 1), 1);
    ck_assert_int_eq(plw_pattern_tells(e, 0, 2), 0);
    ck_assert_int_eq(plw_pattern_tells(e, 0, 3), 1);
    ck_assert_int_eq(plw_expectation_understands(e, 2), 0);
    ck_assert_int_eq(plw_expectation_understands(e, 3), 1);
    ck_assert_int_eq(plw_pattern_sentence(e, 0, text, sizeof text, NULL), PLW_OK);
    ck_assert_str_eq(text, "Wexcombe cars of Port Ellery, 1962-1975, model year 1967, running "
                           "numbers 500001+; tells year=1967, engine=260 and plant=Netherwick; "
                           "does not tell mood=fair.");
}
END_TEST

START_TEST(test_rows_and_how_sure_they_are)
{
    char key[200];
    const plw_tables *t = fixture_tables();
    const plw_expectation *e = expect(t, "year=1968; engine=427", NULL);
    ck_assert_uint_eq(plw_pattern_row_count(e, 0), 2);
    ck_assert_int_eq(plw_row_key(t, plw_pattern_row(e, 0, 0), key, sizeof key, NULL), PLW_OK);
    ck_assert_str_eq(key, "port-ellery-1962/engine/Z/1968");
    ck_assert_int_eq(plw_pattern_standing(e, 0), PLW_STANDING_PRACTICE);
    ck_assert_uint_eq(plw_pattern_marks(e, 0), 0);
    e = expect(t, "year=1969; engine=212", NULL);
    ck_assert_uint_eq(plw_pattern_marks(e, 0), PLW_MARK_DISPUTED);
    e = expect(t, "", NULL);
    ck_assert_int_eq(plw_pattern_standing(e, 0), PLW_E_ABSENT);
}
END_TEST

START_TEST(test_hints_rank_and_hide_nothing)
{
    const plw_tables *t = fixture_tables();
    ck_assert_str_eq(patterns_of(expect(t, "", "scheme=port-ellery-1976")),
                     "?????????? 1976-1980, ???????????? 1962-1975");
    ck_assert_str_eq(patterns_of(expect(t, "", "year=1978")),
                     "?????????? 1976-1980, ???????????? 1962-1975");
    ck_assert_str_eq(patterns_of(expect(t, "engine=427", "year=1978")),
                     "???Z8??????? 1968, ??????????* 1976-1980");
}
END_TEST

/* ---- the reverse test ------------------------------------------------------------------ */

static const struct {
    const char *pattern;
    const char *number;
    int32_t covered;
    uint32_t position;
} covers[] = {
    { "?27[MR]6???????", "T27M6P100051", PLW_COVERED, 0 },
    { "?27[MR]6???????", "t27-r6 P 100051", PLW_COVERED, 0 },
    { "?27[MR]6???????", "T27K6P100051", PLW_COVERED_NOT, 4 },
    { "?27[MR]6???????", "T28K6P100051", PLW_COVERED_NOT, 3 },
    { "?27[MR]6???????", "T27[MR]6P100051", PLW_COVERED, 0 },
    { "?27[MR]6???????", "T27[MK]6P100051", PLW_COVERED_OPEN, 4 },
    { "?27[MR]6???????", "T27[KL]6P100051", PLW_COVERED_NOT, 4 },
    { "?27[MR]6???????", "T2?[MK]6P100051", PLW_COVERED_OPEN, 3 },
    { "?27[MR]6???????", "T27M6P10005", PLW_COVERED_NOT, 12 },
    { "?27[MR]6???????", "T27M6P1000511", PLW_COVERED_NOT, 13 },
    { "?27", "", PLW_COVERED_NOT, 1 },
    { "", "", PLW_COVERED, 0 },
    { "???", "T2&", PLW_COVERED_NOT, 3 },
    { "?0?", "TO1", PLW_COVERED_NOT, 2 },
};

START_TEST(test_covers)
{
    int32_t covered = 99;
    uint32_t position = 99;
    ck_assert_int_eq(plw_pattern_covers(covers[_i].pattern, strlen(covers[_i].pattern),
                                        covers[_i].number, strlen(covers[_i].number), &covered,
                                        &position),
                     PLW_OK);
    ck_assert_msg(covered == covers[_i].covered && position == covers[_i].position,
                  "%s, %s: %d at %u", covers[_i].pattern, covers[_i].number, (int)covered,
                  (unsigned)position);
}
END_TEST

START_TEST(test_covers_refuses)
{
    char long_text[PLW_MAX_TEXT + 2];
    int32_t covered = 99;
    memset(long_text, '1', sizeof long_text);
    ck_assert_int_eq(plw_pattern_covers("?", 1, "1", 1, NULL, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_pattern_covers(NULL, 1, "1", 1, &covered, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(covered, PLW_COVERED_NOT);
    ck_assert_int_eq(plw_pattern_covers("?", 1, NULL, 1, &covered, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_pattern_covers(long_text, PLW_MAX_TEXT + 1, "1", 1, &covered, NULL),
                     PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_pattern_covers("?", 1, long_text, PLW_MAX_TEXT + 1, &covered, NULL),
                     PLW_E_TOO_LONG);
    /* longer than any number, both */
    ck_assert_int_eq(plw_pattern_covers(long_text, 40, long_text, 41, &covered, NULL), PLW_OK);
    ck_assert_int_eq(covered, PLW_COVERED_NOT);
}
END_TEST

/* ---- the object --------------------------------------------------------------------------- */

START_TEST(test_bad_calls_leave_it_empty)
{
    char text[64];
    size_t needed = 9;
    plw_expectation *e = expect(fixture_tables(), "engine=427", NULL);
    ck_assert_uint_gt(plw_pattern_count(e), 0);
    ck_assert_int_eq(plw_expect(NULL, "engine", 6, NULL, 0, e), PLW_E_CLAIM);
    ck_assert_uint_eq(plw_pattern_count(e), 0);
    ck_assert_uint_eq(plw_expectation_claim_count(e), 0);
    ck_assert_int_eq(plw_expect(NULL, "engine=427", 10, NULL, 1, e), PLW_E_FLAGS);
    ck_assert_int_eq(plw_expect(NULL, "engine=427", 10, "colour=red", 0, e), PLW_E_HINT);
    ck_assert_int_eq(plw_expect(NULL, NULL, 1, NULL, 0, e), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expect(NULL, "", 0, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expect(NULL, text, PLW_MAX_CLAIM_TEXT + 1, NULL, 0, e), PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_pattern_text(e, 0, text, sizeof text, &needed), PLW_E_ARGUMENT);
    ck_assert_str_eq(text, "");
    ck_assert_uint_eq(needed, 0);
}
END_TEST

START_TEST(test_accessors_out_of_range)
{
    char text[64];
    const plw_expectation *e = expect(fixture_tables(), "year=1966", NULL);
    const plw_expectation *both[] = { e, NULL };
    for (int i = 0; i < 2; i++) {
        ck_assert_uint_eq(plw_pattern_scheme(both[i], 9), PLW_NONE);
        ck_assert_uint_eq(plw_pattern_layout(both[i], 9), PLW_NONE);
        ck_assert_uint_eq(plw_pattern_year_count(both[i], 9), 0);
        ck_assert_int_eq(plw_pattern_year(both[i], 9, 0), 0);
        ck_assert_int_eq(plw_pattern_tells(both[i], 9, 0), 0);
        ck_assert_uint_eq(plw_pattern_row_count(both[i], 9), 0);
        ck_assert_uint_eq(plw_pattern_row(both[i], 9, 0), PLW_NONE);
        ck_assert_int_eq(plw_pattern_standing(both[i], 9), PLW_E_ARGUMENT);
        ck_assert_uint_eq(plw_pattern_marks(both[i], 9), 0);
        ck_assert_int_eq(plw_pattern_range(both[i], 9, text, sizeof text, NULL), PLW_E_ARGUMENT);
        ck_assert_int_eq(plw_pattern_sentence(both[i], 9, text, sizeof text, NULL),
                         PLW_E_ARGUMENT);
        ck_assert_str_eq(plw_expectation_claim_attribute(both[i], 9), "");
        ck_assert_int_eq(plw_expectation_claim_text(both[i], 9, text, sizeof text, NULL),
                         PLW_E_ARGUMENT);
        ck_assert_int_eq(plw_expectation_rules_out(both[i], 9), 0);
        ck_assert_int_eq(plw_expectation_left_without(both[i], 9), 0);
        ck_assert_int_eq(plw_expectation_understands(both[i], 9), 0);
    }
    ck_assert_uint_eq(plw_pattern_count(NULL), 0);
    ck_assert_uint_eq(plw_expectation_claim_count(NULL), 0);
    ck_assert_int_eq(plw_expectation_capped(NULL), 0);
    ck_assert_int_eq(plw_expectation_sentence(NULL, text, sizeof text, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_pattern_year(e, 0, 1), 0);
    ck_assert_uint_eq(plw_pattern_row(e, 0, plw_pattern_row_count(e, 0)), PLW_NONE);
}
END_TEST

START_TEST(test_memory_of_the_caller)
{
    static uint64_t memory[1 << 17];
    plw_expectation *e;
    ck_assert_uint_le(plw_expectation_size(), sizeof memory);
    ck_assert_int_eq(plw_expectation_place(memory, plw_expectation_size() - 1, &e), PLW_E_MEMORY);
    ck_assert_ptr_null(e);
    ck_assert_int_eq(plw_expectation_place((char *)memory + 1, plw_expectation_size(), &e),
                     PLW_E_MEMORY);
    ck_assert_int_eq(plw_expectation_place(memory, sizeof memory, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expectation_place(NULL, sizeof memory, &e), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expectation_new(NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expectation_place(memory, sizeof memory, &e), PLW_OK);
    ck_assert_uint_eq(plw_pattern_count(e), 0);
    ck_assert_int_eq(plw_expect(fixture_tables(), "engine=427", 10, NULL, 0, e), PLW_OK);
    ck_assert_uint_eq(plw_pattern_count(e), 2);
    plw_expectation_free(NULL);
}
END_TEST

/* ---- explanations ------------------------------------------------------------------------- */

static const char *explained(const plw_expectation *e, int32_t format, uint32_t flags)
{
    static char text[1 << 20];
    size_t needed;
    ck_assert_int_eq(plw_explain_expectation(e, format, flags, text, sizeof text, &needed),
                     PLW_OK);
    ck_assert_uint_eq(needed, strlen(text) + 1);
    return text;
}

static const struct {
    const char *claims;
    uint32_t flags;
    const char *text; /* in every form for people but for its escapes and line ends */
} told[] = {
    { "year=1968; engine=427", 0, "1 pattern." },
    { "year=1968; engine=427", 0, "Numbers that could bear it" },
    { "year=1968; engine=427", 0, "Z8" },
    { "year=1968; engine=427", 0, "What they rest on" },
    { "year=1968; engine=427", 0, "engine Z: 427 V8, two four" },
    { "year=1968; engine=427", PLW_EXPLAIN_SOURCES, "Parts list, model years 1962" },
    { "year=1972; engine=1980 cc", 0, "Numbers that leave something open" },
    { "year=1972; line=Harrier", 0, "confirmed." },
    { "year=1969; engine=212", 0, "practice." },
    { "year=1990", 0, "No number of these tables could bear" },
    { "year=1966", 0, "Before you rely on this" },
};
#define TOLD ((int)(sizeof told / sizeof told[0]))

START_TEST(test_explanations_tell)
{
    static const int32_t formats[] = { PLW_FORMAT_TEXT, PLW_FORMAT_MARKDOWN, PLW_FORMAT_HTML };
    const plw_expectation *e = expect(fixture_tables(), told[_i].claims, NULL);
    for (int i = 0; i < 3; i++)
        ck_assert_msg(strstr(explained(e, formats[i], told[_i].flags), told[_i].text) != NULL,
                      "%s in format %d lacks '%s'", told[_i].claims, (int)formats[i],
                      told[_i].text);
}
END_TEST

static const struct {
    const char *claims;
    const char *members;
} certainties[] = {
    { "year=1966", "\"standing\":\"published\",\"marks\":[],\"sentence\"" },
    { "year=1968; engine=427", "\"standing\":\"practice\",\"marks\":[],\"sentence\"" },
    { "year=1972; line=Harrier", "\"standing\":\"memory\",\"marks\":[],\"sentence\"" },
    { "year=1969; engine=212", "\"marks\":[\"disputed\"],\"sentence\"" },
    { "", "\"standing\":null,\"marks\":[],\"sentence\"" },
};
#define CERTAINTIES ((int)(sizeof certainties / sizeof certainties[0]))

START_TEST(test_json_says_how_sure_a_pattern_is)
{
    const plw_expectation *e = expect(fixture_tables(), certainties[_i].claims, NULL);
    ck_assert_msg(strstr(explained(e, PLW_FORMAT_JSON, 0), certainties[_i].members) != NULL,
                  "%s", explained(e, PLW_FORMAT_JSON, 0));
}
END_TEST

START_TEST(test_explanations_list_a_dozen_patterns)
{
    const plw_expectation *e = expect(NULL, "year=1970", NULL);
    char left[40];
    uint32_t full = 0;
    while (full < plw_pattern_count(e) && tells_all(e, full))
        full++;
    ck_assert_uint_gt(full, 12);
    snprintf(left, sizeof left, "- and %u more\n", (unsigned)full - 12);
    ck_assert_ptr_nonnull(strstr(explained(e, PLW_FORMAT_TEXT, 0), left));
}
END_TEST

/* Markup in a claim is text wherever it is shown. */
START_TEST(test_hostile_claims_are_escaped)
{
    static const char claims[] = "year=1966; mood=<script>*\"x\"* | [a](b)";
    const plw_expectation *e = expect(fixture_tables(), claims, NULL);
    ck_assert_ptr_null(strstr(explained(e, PLW_FORMAT_HTML, 0), "<script>"));
    ck_assert_ptr_null(strstr(explained(e, PLW_FORMAT_MARKDOWN, 0), "<script>"));
    ck_assert_ptr_null(strstr(explained(e, PLW_FORMAT_MARKDOWN, 0), " [a](b)"));
    ck_assert_ptr_nonnull(strstr(explained(e, PLW_FORMAT_JSON, 0), "\\\"x\\\""));
    ck_assert_ptr_nonnull(strstr(explained(e, PLW_FORMAT_TEXT, 0), "<script>"));
}
END_TEST

START_TEST(test_explain_refuses)
{
    char text[8];
    size_t needed = 9;
    const plw_expectation *e = expect(fixture_tables(), "year=1966", NULL);
    ck_assert_int_eq(plw_explain_expectation(NULL, 0, 0, text, sizeof text, &needed),
                     PLW_E_ARGUMENT);
    ck_assert_uint_eq(needed, 0);
    ck_assert_int_eq(plw_explain_expectation(e, PLW_FORMAT_SVG, 0, text, sizeof text, NULL),
                     PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain_expectation(e, 5, 0, text, sizeof text, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain_expectation(e, 0, 2, text, sizeof text, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain_expectation(e, 0, 0, text, sizeof text, &needed), PLW_E_SHORT);
    ck_assert_str_eq(text, "");
    ck_assert_uint_gt(needed, sizeof text);
}
END_TEST

START_TEST(test_names_of_the_host)
{
    static const char text[] = "scheme/port-ellery-1962 = Cars of the island\n"
                               "port-ellery-1962/engine/Z/1968 = the big one\n";
    plw_names *names;
    plw_expectation *e = expectation();
    ck_assert_int_eq(plw_names_new(fixture_tables(), text, strlen(text), &names), PLW_OK);
    ck_assert_int_eq(plw_expectation_use_names(NULL, names), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_expectation_use_names(e, names), PLW_OK);
    expect(fixture_tables(), "year=1968; engine=427", NULL);
    ck_assert_ptr_nonnull(strstr(explained(e, PLW_FORMAT_TEXT, 0), "Cars of the island"));
    ck_assert_ptr_nonnull(strstr(explained(e, PLW_FORMAT_JSON, 0), "the big one"));
    ck_assert_int_eq(plw_expectation_use_names(e, NULL), PLW_OK);
    plw_names_free(names);
    ck_assert_ptr_null(strstr(explained(e, PLW_FORMAT_JSON, 0), "the big one"));
}
END_TEST

/* ---- claims of a number's own reading ---------------------------------------------------- */

static uint32_t state;

static uint32_t random_below(uint32_t limit)
{
    state ^= state << 13;
    state ^= state >> 17;
    state ^= state << 5;
    return state % limit;
}

static const char *const claimed_as[][3] = {
    { "maker", "maker", "" },           { "division", "division", "" },
    { "brand", "maker", "" },           { "line", "line", "" },
    { "series", "series", "" },         { "cid", "displacement", " cu in" },
    { "cc", "displacement", " cc" },    { "cyl", "cylinders", "" },
    { "carb", "carburation", "" },      { "body", "body", "" },
    { "doors", "doors", "" },           { "hp_gross", "power", " hp gross" },
    { "hp_net", "power", " hp net" },   { "fuel", "fuel", "" },
    { "place", "plant", "" },           { "country", "country", "" },
};

/* Adds a claim that is not there yet and that the number supports; one in three is
 * left out. */
static void add_claim(plw_result *r, const char *claim, char claims[CLAIMS_SIZE])
{
    if (strlen(claims) + strlen(claim) + 2 > PLW_MAX_CLAIM_TEXT || strstr(claims, claim) ||
        random_below(3) == 0)
        return;
    ck_assert_int_eq(plw_check_claims(r, claim, strlen(claim)), PLW_OK);
    if (plw_claim_count(r) != 1 || plw_claim_verdict(r, 0) != PLW_VERDICT_SUPPORTED)
        return;
    sprintf(claims + strlen(claims), "%s%s", claims[0] ? ";" : "", claim);
}

static void add_row_claims(plw_result *r, const plw_tables *t, uint32_t row,
                           char claims[CLAIMS_SIZE])
{
    for (uint32_t i = 0; i < plw_row_attribute_count(t, row); i++)
        for (size_t k = 0; k < sizeof claimed_as / sizeof *claimed_as; k++) {
            char value[300], claim[400];
            if (strcmp(plw_row_attribute_name(t, row, i), claimed_as[k][0]) != 0 ||
                plw_row_attribute_text(t, row, i, value, sizeof value, NULL) != PLW_OK ||
                strchr(value, ';'))
                continue;
            snprintf(claim, sizeof claim, "%s=%s%s", claimed_as[k][1], value, claimed_as[k][2]);
            add_claim(r, claim, claims);
        }
}

/* Some of what the best reading says of itself. */
static void claims_of(plw_result *r, const plw_tables *t, char claims[CLAIMS_SIZE])
{
    char claim[64];
    claims[0] = '\0';
    if (plw_reading_year_count(r, 0) == 1) {
        snprintf(claim, sizeof claim, "year=%d", (int)plw_reading_year(r, 0, 0));
        add_claim(r, claim, claims);
    }
    for (uint32_t f = 0; f < plw_field_count(r, 0); f++) {
        for (uint32_t k = 0; k < plw_field_row_count(r, 0, f); k++)
            add_row_claims(r, t, plw_field_row(r, 0, f, k), claims);
        if (strcmp(plw_field_name(r, 0, f), "sequence") == 0) {
            snprintf(claim, sizeof claim, "sequence=%s", probe_code(r, 0, "sequence"));
            if (!strpbrk(claim, "?[") && random_below(4) == 0)
                add_claim(r, claim, claims);
        }
    }
}

static int is_covered(const plw_expectation *e, uint32_t scheme, const char *number)
{
    for (uint32_t i = 0; i < plw_pattern_count(e); i++) {
        int32_t covered;
        const char *pattern = pattern_text(e, i);
        ck_assert_int_eq(plw_pattern_covers(pattern, strlen(pattern), number, strlen(number),
                                            &covered, NULL),
                         PLW_OK);
        if (plw_pattern_scheme(e, i) == scheme && covered == PLW_COVERED)
            return 1;
    }
    return 0;
}

/* A character that cannot stand where the best reading has it, or is unreadable. */
static int has_misfit(const plw_result *r)
{
    for (uint32_t p = 0; p < plw_result_position_count(r); p++)
        if (r->readings[0].misfit >> p & 1)
            return 1;
    return strpbrk(probe_number(r, 0), "?[") != NULL;
}

/* 1 when a field of the best reading has a code that the tables do not know. */
static int has_unknown_code(const plw_result *r)
{
    for (uint32_t f = 0; f < plw_field_count(r, 0); f++)
        if (plw_field_state(r, 0, f) == PLW_FIELD_UNKNOWN)
            return 1;
    return 0;
}

static int count_of_covered;

/* Some of the reading's claims lead back to the number. */
static void lead_back(const plw_tables *t, const char *number)
{
    char claims[CLAIMS_SIZE];
    plw_result *r = probe_decode(t, number, NULL);
    if (plw_reading_count(r) == 0 || plw_reading_year_count(r, 0) == 0 || has_misfit(r) ||
        has_unknown_code(r))
        return;
    claims_of(r, t, claims);
    const plw_expectation *e = expect(t, claims, NULL);
    if (plw_expectation_capped(e))
        return;
    ck_assert_msg(is_covered(e, plw_reading_scheme(r, 0), probe_number(r, 0)),
                  "%s, %s: %s is not covered; %.1500s", probe_scheme(t, r, 0), claims,
                  probe_number(r, 0), patterns_of(e));
    count_of_covered++;
}

static const char *const example_files[] = {
    "tests/examples/dearborn.tsv",      "tests/examples/detroit.tsv",
    "tests/examples/highland-park.tsv", "tests/examples/imports.tsv",
    "tests/examples/independents.tsv",  "tests/examples/iso3779.tsv",
};
#define FILES ((int)(sizeof example_files / sizeof example_files[0]))

START_TEST(test_examples_lead_back)
{
    size_t size;
    char *text = fixture_text(example_files[_i], &size);
    state = (uint32_t)_i + 31;
    count_of_covered = 0;
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        line[strcspn(line, "\t")] = '\0';
        if (line[0] != '#' && strncmp(line, "stamp:", 6) != 0 && strlen(line) <= PLW_MAX_TEXT)
            lead_back(NULL, line);
    }
    free(text);
    ck_assert_int_gt(count_of_covered, 5);
}
END_TEST

/* Puts a code of the tables in the place of a field. */
static void put_code(char *number, uint32_t positions, uint64_t code)
{
    for (unsigned p = MAX_POSITIONS; p-- > 0;)
        if (positions >> p & 1) {
            if ((code & 63) == 0)
                return;
            number[p] = plwi_character((unsigned)(code & 63) - 1);
            code >>= CODE_BITS;
        }
}

/* A number whose codes are in the tables, for one model year where that goes. */
static void number_of_the_tables(image_t image, char number[MAX_POSITIONS + 1])
{
    const unsigned char *layout =
        plwi_layout(image, random_below(plwi_count(image, SECTION_LAYOUTS)));
    strcpy(number, plwi_text(image, plwi_u32(layout + LAYOUT_SAMPLE)));
    if (strlen(number) != layout[LAYOUT_LENGTH])
        return;
    plwi_years years = plwi_year_set(image, plwi_u32(layout + LAYOUT_YEARS));
    int year = plwi_years_at(years, random_below(plwi_years_count(years)));
    uint32_t span = plwi_u32(layout + LAYOUT_SPAN);
    for (uint32_t i = span; i < span + layout[LAYOUT_SPAN_COUNT]; i++) {
        const unsigned char *record = plwi_span(image, i);
        const unsigned char *field = plwi_field(image, plwi_u16(record + SPAN_FIELD));
        uint32_t rows = plwi_u32(field + FIELD_ROW_COUNT);
        for (int attempt = 0; attempt < 20 && field[FIELD_KIND] == KIND_CODE && rows; attempt++) {
            const unsigned char *row =
                plwi_row(image, plwi_u32(field + FIELD_ROW) + random_below(rows));
            uint32_t codes = plwi_u16(row + ROW_CODE_COUNT);
            if (!plwi_years_has(plwi_year_set(image, plwi_u16(row + ROW_YEARS)), year))
                continue;
            put_code(number, plwi_u32(record + SPAN_POSITIONS),
                     plwi_code(image, plwi_u32(row + ROW_CODE) + random_below(codes)));
            break;
        }
    }
}

START_TEST(test_numbers_of_the_tables_lead_back)
{
    state = (uint32_t)_i + 4711;
    count_of_covered = 0;
    for (int round = 0; round < 60; round++) {
        char number[MAX_POSITIONS + 1];
        number_of_the_tables(plwi_image(NULL), number);
        lead_back(NULL, number);
    }
    ck_assert_int_gt(count_of_covered, 5);
}
END_TEST

START_TEST(test_numbers_of_the_fixture_lead_back)
{
    state = (uint32_t)_i + 815;
    count_of_covered = 0;
    for (int round = 0; round < 500; round++) {
        char number[MAX_POSITIONS + 1];
        number_of_the_tables(plwi_image(fixture_tables()), number);
        lead_back(fixture_tables(), number);
    }
    ck_assert_int_gt(count_of_covered, 200);
}
END_TEST

/* ---- one more claim ------------------------------------------------------------------------- */

/* A number that a pattern covers. */
static void number_of_pattern(const char *pattern, char number[MAX_POSITIONS + 1])
{
    plwi_number read;
    plwi_normalise(pattern, strlen(pattern), &read);
    for (uint32_t p = 0; p < read.count; p++) {
        unsigned bit;
        do
            bit = random_below(ALPHABET_SIZE);
        while (!(read.cell[p].set >> bit & 1));
        number[p] = plwi_character(bit);
    }
    number[read.count] = '\0';
}

#define SAMPLES 40

typedef struct sample {
    uint32_t scheme;
    char number[MAX_POSITIONS + 1];
} sample;

static const char *const lists[] = {
    "year=1971; body=convertible; engine=440 four-barrel; country=USA",
    "year=1968; maker=Ford; engine=390; body=convertible; line=Mustang",
    "maker=Porsche; year=1973; cylinders=6",
    "year=1970; plant=Detroit; cylinders=8; body=hardtop",
    "country=Germany; year=1980; maker=Volkswagen",
    "year=1967; power=375 hp gross; doors=2",
    "fuel=diesel; year=1978; body=sedan",
    "division=Lincoln; year=1963; engine=430; doors=4",
};
#define LISTS ((int)(sizeof lists / sizeof lists[0]))

START_TEST(test_one_more_claim_never_covers_more)
{
    static sample samples[SAMPLES];
    char claims[CLAIMS_SIZE];
    uint32_t count = 0;
    state = (uint32_t)_i + 99;
    snprintf(claims, sizeof claims, "%s", lists[_i]);
    const plw_expectation *e = expect(NULL, claims, NULL);
    for (;;) {
        uint32_t patterns = plw_pattern_count(e);
        for (count = 0; count < SAMPLES && patterns > 0; count++) {
            uint32_t pattern = random_below(patterns);
            samples[count].scheme = plw_pattern_scheme(e, pattern);
            number_of_pattern(pattern_text(e, pattern), samples[count].number);
        }
        char *last = strrchr(claims, ';');
        if (last == NULL)
            break;
        *last = '\0';
        e = expect(NULL, claims, NULL);
        for (uint32_t i = 0; i < count && !plw_expectation_capped(e); i++)
            ck_assert_msg(is_covered(e, samples[i].scheme, samples[i].number),
                          "%s of %s is covered only with one more claim than %s",
                          samples[i].number, plw_scheme_key(NULL, samples[i].scheme), claims);
    }
}
END_TEST

/* ---- patterns are numbers ------------------------------------------------------------------ */

static int reads_in(const plw_result *r, uint32_t scheme)
{
    for (uint32_t i = 0; i < plw_reading_count(r); i++)
        if (plw_reading_scheme(r, i) == scheme)
            return 1;
    return 0;
}

static void check_patterns(const plw_tables *t, const char *claims)
{
    const plw_expectation *e = expect(t, claims, NULL);
    for (uint32_t i = 0; i < plw_pattern_count(e); i++) {
        char pattern[PLW_MAX_TEXT + 1], hint[100];
        strcpy(pattern, pattern_text(e, i));
        snprintf(hint, sizeof hint, "scheme=%s", plw_scheme_key(t, plw_pattern_scheme(e, i)));
        plw_result *r = probe_decode(t, pattern, hint);
        ck_assert_msg(plw_reading_count(r) > 0, "%s does not decode", pattern);
        ck_assert_msg(r->capped || reads_in(r, plw_pattern_scheme(e, i)), "%s", pattern);
        ck_assert_int_eq(plw_check_claims(r, claims, strlen(claims)), PLW_OK);
        for (uint32_t c = 0; c < plw_claim_count(r); c++)
            ck_assert_msg(plw_claim_verdict(r, c) != PLW_VERDICT_CONTRADICTED,
                          "%s, %s contradicts claim %u", claims, pattern, (unsigned)c);
    }
}

START_TEST(test_no_pattern_contradicts_its_claims)
{
    check_patterns(NULL, lists[_i]);
}
END_TEST

START_TEST(test_no_pattern_of_the_fixture_contradicts_its_claims)
{
    check_patterns(fixture_tables(), states[_i].claims);
}
END_TEST

/* What pattern covers, with codes of the tables: its claims are not contradicted. */
START_TEST(test_numbers_of_a_pattern_do_not_contradict_its_claims)
{
    const plw_tables *t = fixture_tables();
    plw_expectation *e = expect(t, states[_i].claims, NULL);
    state = (uint32_t)_i + 5;
    for (int round = 0; round < 50 && plw_pattern_count(e) > 0; round++) {
        char number[MAX_POSITIONS + 1];
        number_of_pattern(pattern_text(e, random_below(plw_pattern_count(e))), number);
        plw_result *r = probe_decode(t, number, NULL);
        ck_assert_int_eq(plw_check_claims(r, states[_i].claims, strlen(states[_i].claims)),
                         PLW_OK);
        for (uint32_t c = 0; c < plw_claim_count(r); c++)
            ck_assert_msg(plw_claim_verdict(r, c) != PLW_VERDICT_CONTRADICTED ||
                              plw_reading_year_count(r, 0) == 0 ||
                              strcmp(plw_claim_attribute(r, c), "year") == 0,
                          "%s, %s contradicts claim %u", states[_i].claims, number, (unsigned)c);
    }
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_state, 0, STATES);
    tcase_add_loop_test(test, test_nothing_is_left, 0,
                        (int)(sizeof nothings / sizeof nothings[0]));
    tcase_add_test(test, test_a_maker_without_a_name_may_have_any);
    tcase_add_test(test, test_the_sentence_names_the_claims);
    tcase_add_test(test, test_a_pattern_says_what_it_rests_on);
    tcase_add_test(test, test_rows_and_how_sure_they_are);
    tcase_add_test(test, test_hints_rank_and_hide_nothing);
    tcase_add_loop_test(test, test_covers, 0, (int)(sizeof covers / sizeof covers[0]));
    tcase_add_test(test, test_covers_refuses);
    tcase_add_test(test, test_bad_calls_leave_it_empty);
    tcase_add_test(test, test_accessors_out_of_range);
    tcase_add_test(test, test_memory_of_the_caller);
    tcase_add_loop_test(test, test_explanations_tell, 0, TOLD);
    tcase_add_loop_test(test, test_json_says_how_sure_a_pattern_is, 0, CERTAINTIES);
    tcase_add_test(test, test_explanations_list_a_dozen_patterns);
    tcase_add_test(test, test_hostile_claims_are_escaped);
    tcase_add_test(test, test_explain_refuses);
    tcase_add_test(test, test_names_of_the_host);
    tcase_add_loop_test(test, test_numbers_of_the_fixture_lead_back, 0, 4);
    tcase_add_loop_test(test, test_one_more_claim_never_covers_more, 0, LISTS);
    tcase_add_loop_test(test, test_no_pattern_contradicts_its_claims, 0, LISTS);
    tcase_add_loop_test(test, test_no_pattern_of_the_fixture_contradicts_its_claims, 0, STATES);
    tcase_add_loop_test(test, test_numbers_of_a_pattern_do_not_contradict_its_claims, 0, STATES);
}

static void add_long(TCase *test)
{
    tcase_add_loop_test(test, test_examples_lead_back, 0, FILES);
    tcase_add_loop_test(test, test_numbers_of_the_tables_lead_back, 0, 6);
}

static void print_json(const plw_tables *tables, const char *claims, uint32_t flags)
{
    fputs(explained(expect(tables, claims, NULL), PLW_FORMAT_JSON, flags), stdout);
}

START_TEST(test_that_prints_json)
{
    for (int i = 0; i < STATES; i++)
        print_json(fixture_tables(), states[i].claims, PLW_EXPLAIN_SOURCES);
    for (size_t i = 0; i < sizeof nothings / sizeof nothings[0]; i++)
        print_json(fixture_tables(), nothings[i].claims, 0);
    for (int i = 0; i < LISTS; i++)
        print_json(NULL, lists[i], 0);
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
    return probe_run_long("expect", add, add_long);
}
