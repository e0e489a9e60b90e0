/* SPDX-License-Identifier: MIT
 *
 * The beginning of a number: exact answers on the frozen fixture, and on the
 * compiled-in tables that it agrees with what decode says of the whole number.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "internal.h"
#include "probe.h"

/* ---- exact answers ---------------------------------------------------------- */

static plw_result *begin(const plw_tables *tables, const char *text, size_t length)
{
    plw_result *r = probe_decode(tables, "", NULL);
    ck_assert_int_eq(plw_prefix(tables, text, length, 0, r), PLW_OK);
    return r;
}

/* "open 10-12 [ABC] [AB] scheme scheme": state, remaining, allowed, known. */
static const char *answer(const plw_tables *tables, const char *text)
{
    static const char *const states[] = { "impossible", "open", "complete" };
    static char said[1024];
    char allowed[64], known[64];
    const plw_result *r = begin(tables, text, strlen(text));
    ck_assert_int_eq(plw_prefix_allowed(r, allowed, sizeof allowed, NULL), PLW_OK);
    ck_assert_int_eq(plw_prefix_known(r, known, sizeof known, NULL), PLW_OK);
    sprintf(said, "%s %u-%u [%s] [%s]", states[plw_prefix_state(r)],
            (unsigned)plw_prefix_remaining_min(r), (unsigned)plw_prefix_remaining_max(r), allowed,
            known);
    for (uint32_t i = 0; i < plw_prefix_scheme_count(r); i++)
        sprintf(said + strlen(said), " %s",
                plw_scheme_key(tables, plw_prefix_scheme(r, i)));
    return said;
}

static const struct {
    const char *text, *answer;
} beginnings[] = {
    /* two schemes, of 12 and of 10 characters */
    { "", "open 10-12 [ABCDEFGHIJKLMNOPQRSTUVWXYZ] [EHSTVX] port-ellery-1962 port-ellery-1976" },
    { "X", "open 9-11 [0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ] [23T] port-ellery-1962 "
           "port-ellery-1976" },
    { "T", "open 11-11 [0123456789] [23] port-ellery-1962" },
    { "XT", "open 8-8 [ABC] [ABC] port-ellery-1976" },
    /* a code of two characters goes on from the first */
    { "T2", "open 10-10 [0123456789] [347] port-ellery-1962" },
    { "T3", "open 10-10 [0123456789] [1] port-ellery-1962" },
    { "T9", "open 10-10 [0123456789] [] port-ellery-1962" },
    { "T24", "open 9-9 [ABCDEFGHJKLMNPQRSTUVWXYZ] [KMRWZ] port-ellery-1962" },
    /* a code the tables do not have does not stop what comes behind it */
    { "Q", "open 11-11 [0123456789] [23] port-ellery-1962" },
    /* the running number starts at 100001 */
    { "T24K3P", "open 6-6 [0123456789] [123456789] port-ellery-1962" },
    { "T24K3P0", "open 5-5 [0123456789] [] port-ellery-1962" },
    { "T24K3P1", "open 5-5 [0123456789] [0123456789] port-ellery-1962" },
    { "T24K3P10000", "open 1-1 [0123456789] [123456789] port-ellery-1962" },
    /* a check character can be any that the layout allows */
    { "XTA", "open 7-7 [0123456789X] [0123456789X] port-ellery-1976" },
    { "T24K3P100051", "complete 0-0 [] [] port-ellery-1962" },
    { "T24K3P1000511", "impossible 0-0 [] []" },
    { "T240", "impossible 0-0 [] []" },
    { "T#2", "impossible 0-0 [] []" },
    /* as decode reads it: separators, small letters, unreadable characters */
    { " t 2-4* ", "open 9-9 [ABCDEFGHJKLMNPQRSTUVWXYZ] [KMRWZ] port-ellery-1962" },
    { "T?", "open 10-10 [0123456789] [1347] port-ellery-1962" },
    { "T[23]", "open 10-10 [0123456789] [1347] port-ellery-1962" },
    { "T24KO", "open 7-7 [ABCDEFGHIJKLMNOPQRSTUVWXYZ] [NP] port-ellery-1962" },
    /* a bracket on its way */
    { "T2[", "open 10-10 [0123456789] [347] port-ellery-1962" },
    { "T2[4", "open 10-10 [0123456789] [347] port-ellery-1962" },
    { "T2[4 7", "open 10-10 [0123456789] [347] port-ellery-1962" },
    { "T2[47]", "open 9-9 [ABCDEFGHJKLMNPQRSTUVWXYZ] [KMRWZ] port-ellery-1962" },
};

START_TEST(test_beginnings)
{
    ck_assert_str_eq(answer(fixture_tables(), beginnings[_i].text), beginnings[_i].answer);
}
END_TEST

/* Two layouts of one length, with other widths in other years. */
static const char two_widths[] =
    "[sources]\n"
    "list  List of numbers, Wexcombe Motor Works, 1959 | -\n"
    "[scheme]\n"
    "key     port-ellery-1950\n"
    "title   Wexcombe cars of Port Ellery, 1950-1959\n"
    "years   1950-1959\n"
    "facts   maker=\"Wexcombe Motor Works\"\n"
    "[fields]\n"
    "l  line      code  A-Z\n"
    "s  sequence  run   0-9\n"
    "e  engine    code  A-Z\n"
    "[layout]\n"
    "years   1950-1954\n"
    "sample  AB0901V\n"
    "ruler   llsssse\n"
    "[layout]\n"
    "years   1955-1959\n"
    "sample  C00501W\n"
    "ruler   lssssse\n"
    "[line]\n"
    "AB  1950-1959  -  published  list  line=Tern  Tern\n"
    "C   1955-1959  -  published  list  line=Wren  Wren\n"
    "[engine]\n"
    "V   1950-1954  -  published  list  cc=1490    1490 cc four\n"
    "W   1955-1959  -  published  list  cc=1760    1760 cc four\n"
    "[sequence]\n"
    "00901+  1950-1954  -  published  list  -  running number from 901\n"
    "00501+  1955-1959  -  published  list  -  running number from 501\n";

static const struct {
    const char *text, *answer;
} widths[] = {
    { "", "open 7-7 [ABCDEFGHIJKLMNOPQRSTUVWXYZ] [AC] port-ellery-1950" },
    { "AB", "open 5-5 [0123456789] [0123456789] port-ellery-1950" },
    { "AB0", "open 4-4 [0123456789] [9] port-ellery-1950" },
    { "C00", "open 4-4 [0123456789] [56789] port-ellery-1950" },
    { "AB0901", "open 1-1 [ABCDEFGHIJKLMNOPQRSTUVWXYZ] [V] port-ellery-1950" },
    { "C00501", "open 1-1 [ABCDEFGHIJKLMNOPQRSTUVWXYZ] [W] port-ellery-1950" },
};

START_TEST(test_codes_of_the_layout_that_is_meant)
{
    size_t size;
    const plw_tables *tables;
    unsigned char *image = fixture_image_of(two_widths, &size);
    ck_assert_int_eq(plw_tables_open(image, size, 0, &tables), PLW_OK);
    ck_assert_str_eq(answer(tables, widths[_i].text), widths[_i].answer);
    free(image);
}
END_TEST

START_TEST(test_the_result_keeps_the_positions)
{
    size_t offset, length;
    char number[64];
    const plw_result *r = begin(fixture_tables(), "T 2[47]", 7);
    ck_assert_uint_eq(plw_result_position_count(r), 3);
    ck_assert_int_eq(plw_result_position(r, 3, &offset, &length), PLW_OK);
    ck_assert_uint_eq(offset, 3);
    ck_assert_uint_eq(length, 4);
    ck_assert_int_eq(plw_result_number(r, number, sizeof number, NULL), PLW_OK);
    ck_assert_str_eq(number, "T2[47]");
    ck_assert_uint_eq(plw_reading_count(r), 0);
}
END_TEST

START_TEST(test_refusals)
{
    char text[PLW_MAX_TEXT + 1];
    plw_result *r = begin(fixture_tables(), "T24", 3);
    memset(text, 'T', sizeof text);
    ck_assert_int_eq(plw_prefix(NULL, text, sizeof text, 0, r), PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_prefix_state(r), PLW_PREFIX_IMPOSSIBLE);
    ck_assert_uint_eq(plw_prefix_scheme_count(r), 0);
    ck_assert_int_eq(plw_prefix(NULL, text, PLW_MAX_TEXT, 0, r), PLW_OK);
    ck_assert_int_eq(plw_prefix_state(r), PLW_PREFIX_IMPOSSIBLE);
    ck_assert_int_eq(plw_prefix(NULL, "T", 1, 1, r), PLW_E_FLAGS);
    ck_assert_int_eq(plw_prefix(NULL, NULL, 1, 0, r), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_prefix(NULL, "T", 1, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_prefix(NULL, NULL, 0, 0, r), PLW_OK);
    ck_assert_int_eq(plw_prefix_state(r), PLW_PREFIX_OPEN);
}
END_TEST

START_TEST(test_accessors_without_a_result)
{
    char text[8];
    ck_assert_int_eq(plw_prefix_state(NULL), PLW_PREFIX_IMPOSSIBLE);
    ck_assert_uint_eq(plw_prefix_scheme_count(NULL), 0);
    ck_assert_uint_eq(plw_prefix_scheme(NULL, 0), PLW_NONE);
    ck_assert_uint_eq(plw_prefix_remaining_min(NULL), 0);
    ck_assert_uint_eq(plw_prefix_remaining_max(NULL), 0);
    ck_assert_int_eq(plw_prefix_allowed(NULL, text, sizeof text, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_prefix_known(NULL, text, sizeof text, NULL), PLW_E_ARGUMENT);
    const plw_result *r = begin(fixture_tables(), "T", 1);
    size_t needed;
    ck_assert_uint_eq(plw_prefix_scheme(r, 1), PLW_NONE);
    ck_assert_int_eq(plw_prefix_allowed(r, text, sizeof text, &needed), PLW_E_SHORT);
    ck_assert_uint_eq(needed, 11);
}
END_TEST

START_TEST(test_another_verb_forgets_it)
{
    plw_result *r = begin(fixture_tables(), "T24K3P100051", 12);
    ck_assert_int_eq(plw_prefix_state(r), PLW_PREFIX_COMPLETE);
    ck_assert_int_eq(plw_decode(fixture_tables(), "T", 1, NULL, 0, r), PLW_OK);
    ck_assert_int_eq(plw_prefix_state(r), PLW_PREFIX_IMPOSSIBLE);
    ck_assert_uint_eq(plw_prefix_scheme_count(r), 0);
}
END_TEST

/* ---- agreement with decode, on the compiled-in tables ------------------------ */

static uint32_t state;

static uint32_t random_below(uint32_t limit)
{
    state ^= state << 13;
    state ^= state >> 17;
    state ^= state << 5;
    return state % limit;
}

static char random_of(uint64_t class)
{
    unsigned bit;
    do
        bit = random_below(ALPHABET_SIZE);
    while (!(class >> bit & 1));
    return plwi_character(bit);
}

static const unsigned char *random_layout(void)
{
    image_t image = plwi_image(NULL);
    return plwi_layout(image, random_below(plwi_count(image, SECTION_LAYOUTS)));
}

/* Characters that a layout takes; some from its sample. */
static void fill_number(char number[MAX_POSITIONS + 1], const unsigned char *layout)
{
    image_t image = plwi_image(NULL);
    const char *sample = plwi_text(image, plwi_u32(layout + LAYOUT_SAMPLE));
    uint32_t length = layout[LAYOUT_LENGTH], own = random_below(length + 1);
    for (uint32_t p = 0; p < length; p++)
        number[p] = p < own && strlen(sample) == length ? sample[p]
                                                        : random_of(plwi_class(image, layout, p));
    number[length] = '\0';
}

typedef int32_t characters(const plw_result *, char *, size_t, size_t *);

static int allows(const plw_result *r, characters *which, char character)
{
    char text[64];
    ck_assert_int_eq(which(r, text, sizeof text, NULL), PLW_OK);
    return strchr(text, character) != NULL;
}

static int has_scheme(const plw_result *r, uint32_t scheme)
{
    for (uint32_t i = 0; i < plw_prefix_scheme_count(r); i++)
        if (plw_prefix_scheme(r, i) == scheme)
            return 1;
    return 0;
}

/* The schemes stand in the order of the tables, each once; what is known is
 * allowed. */
static void check_form(const plw_result *r)
{
    char known[64];
    for (uint32_t i = 1; i < plw_prefix_scheme_count(r); i++)
        ck_assert_uint_lt(plw_prefix_scheme(r, i - 1), plw_prefix_scheme(r, i));
    ck_assert_int_eq(plw_prefix_known(r, known, sizeof known, NULL), PLW_OK);
    for (const char *c = known; *c; c++)
        ck_assert(allows(r, plw_prefix_allowed, *c));
    ck_assert_int_eq(plw_prefix_state(r) == PLW_PREFIX_IMPOSSIBLE,
                     plw_prefix_scheme_count(r) == 0);
    if (plw_prefix_scheme_count(r) > 0 && plw_prefix_remaining_min(r) == 0)
        ck_assert_int_eq(plw_prefix_state(r), PLW_PREFIX_COMPLETE);
}

START_TEST(test_every_beginning_of_a_number_is_possible)
{
    state = (uint32_t)_i + 1;
    for (int round = 0; round < 200; round++) {
        char number[MAX_POSITIONS + 1];
        const unsigned char *layout = random_layout();
        fill_number(number, layout);
        uint32_t length = (uint32_t)strlen(number);
        for (uint32_t n = 0; n <= length; n++) {
            const plw_result *r = begin(NULL, number, n);
            check_form(r);
            ck_assert_int_ne(plw_prefix_state(r), PLW_PREFIX_IMPOSSIBLE);
            ck_assert_msg(has_scheme(r, plwi_u16(layout + LAYOUT_SCHEME)), "%s %u", number, n);
            ck_assert_uint_le(plw_prefix_remaining_min(r), length - n);
            ck_assert_uint_ge(plw_prefix_remaining_max(r), length - n);
            if (n < length)
                ck_assert_msg(allows(r, plw_prefix_allowed, number[n]), "%s %u", number, n);
        }
    }
}
END_TEST

/* 1 when the tables know every code and running number of the reading. */
static int is_all_known(const plw_result *r, uint32_t reading)
{
    for (uint32_t i = 0; i < plw_finding_count(r); i++)
        if (plw_finding_reading(r, i) == reading && plw_finding_grade(r, i) > PLW_GRADE_NOTE)
            return 0;
    for (uint32_t f = 0; f < plw_field_count(r, reading); f++)
        if (plw_field_state(r, reading, f) == PLW_FIELD_UNKNOWN)
            return 0;
    return plw_reading_count(r) > reading;
}

START_TEST(test_known_numbers_go_on_with_known_characters)
{
    image_t image = plwi_image(NULL);
    uint32_t checked = 0;
    for (uint32_t i = 0; i < plwi_count(image, SECTION_LAYOUTS); i++) {
        const char *sample = plwi_text(image, plwi_u32(plwi_layout(image, i) + LAYOUT_SAMPLE));
        if (!is_all_known(probe_validate(NULL, sample, NULL), 0))
            continue;
        checked++;
        for (uint32_t n = 0; n < strlen(sample); n++)
            ck_assert_msg(allows(begin(NULL, sample, n), plw_prefix_known, sample[n]), "%s %u",
                          sample, n);
    }
    ck_assert_uint_gt(checked, 20);
}
END_TEST

/* 1 when decode has a reading whose characters all fit, or are read as others. */
static int is_number(const char *number)
{
    const plw_result *r = probe_decode(NULL, number, NULL);
    for (uint32_t i = 0; i < r->reading_count; i++) {
        uint32_t misfits = 0;
        for (uint32_t p = 0; p < r->number.count; p++)
            misfits += r->readings[i].misfit >> p & 1;
        if (misfits == 0)
            return 1;
    }
    return 0;
}

/* Misread, unreadable and strange characters. */
static void damage(char *number)
{
    for (uint32_t i = random_below(4); i > 0; i--)
        number[random_below((uint32_t)strlen(number))] = "OIQSBZ?0158#"[random_below(12)];
}

START_TEST(test_prefix_agrees_with_decode)
{
    state = (uint32_t)_i + 99;
    uint32_t good = 0, bad = 0;
    for (int round = 0; round < 300; round++) {
        char number[MAX_POSITIONS + 1];
        fill_number(number, random_layout());
        damage(number);
        if (random_below(6) == 0)
            number[random_below((uint32_t)strlen(number)) + 1] = '\0';
        int whole = is_number(number);
        const plw_result *r = begin(NULL, number, strlen(number));
        ck_assert_msg((plw_prefix_state(r) == PLW_PREFIX_COMPLETE) == whole, "%s", number);
        whole ? good++ : bad++;
        int possible = plw_prefix_state(r) != PLW_PREFIX_IMPOSSIBLE;
        for (size_t n = strlen(number); n-- > 0;) {
            int now = plw_prefix_state(begin(NULL, number, n)) != PLW_PREFIX_IMPOSSIBLE;
            ck_assert_msg(now || !possible, "%s: impossible does not last", number);
            possible = now;
        }
    }
    ck_assert_uint_gt(good, 0);
    ck_assert_uint_gt(bad, 0);
}
END_TEST

START_TEST(test_random_bytes_are_harmless)
{
    state = 4711;
    for (int round = 0; round < 3000; round++) {
        char text[PLW_MAX_TEXT];
        uint32_t length = random_below(sizeof text + 1);
        for (uint32_t i = 0; i < length; i++)
            text[i] = (char)random_below(256);
        check_form(begin(NULL, text, length));
    }
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_beginnings, 0,
                        (int)(sizeof beginnings / sizeof beginnings[0]));
    tcase_add_loop_test(test, test_codes_of_the_layout_that_is_meant, 0,
                        (int)(sizeof widths / sizeof widths[0]));
    tcase_add_test(test, test_the_result_keeps_the_positions);
    tcase_add_test(test, test_refusals);
    tcase_add_test(test, test_accessors_without_a_result);
    tcase_add_test(test, test_another_verb_forgets_it);
    tcase_add_loop_test(test, test_every_beginning_of_a_number_is_possible, 0, 5);
    tcase_add_test(test, test_known_numbers_go_on_with_known_characters);
    tcase_add_loop_test(test, test_prefix_agrees_with_decode, 0, 5);
    tcase_add_test(test, test_random_bytes_are_harmless);
}

int main(void)
{
    return probe_run("typing", add);
}
