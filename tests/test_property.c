/* SPDX-License-Identifier: MIT
 *
 * Properties that hold for any number, on the compiled-in tables.
 */
#include <string.h>

#include "internal.h"
#include "probe.h"

static uint32_t state;

static uint32_t random_below(uint32_t limit)
{
    state ^= state << 13;
    state ^= state >> 17;
    state ^= state << 5;
    return state % limit;
}

/* Every call on a result, so that a sanitizer sees them all. */
static void look_at_everything(const plw_result *r)
{
    static char text[1 << 20];
    for (uint32_t i = 0; i < plw_finding_count(r); i++) {
        ck_assert_int_eq(plw_finding_sentence(r, i, text, sizeof text, NULL), PLW_OK);
        ck_assert_str_ne(text, "");
    }
    for (uint32_t i = 0; i < plw_reading_count(r); i++)
        ck_assert_int_eq(plw_reading_number(r, i, text, sizeof text, NULL), PLW_OK);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        ck_assert_int_eq(plw_explain(r, format, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL),
                         PLW_OK);
}

static void no_place_is_left_open(const plw_result *r)
{
    char text[4096];
    for (uint32_t i = 0; i < plw_finding_count(r); i++) {
        ck_assert_int_eq(plw_finding_sentence(r, i, text, sizeof text, NULL), PLW_OK);
        ck_assert_msg(!strpbrk(text, "{}"), "%s", text);
    }
}

/* A reading's years lie within the years of the rows of every field that
 * narrows; its rows all hold in one of its years. */
static void check_years(const plw_result *r)
{
    for (uint32_t i = 0; i < plw_reading_count(r); i++)
        for (uint32_t f = 0; f < plw_field_count(r, i); f++)
            for (uint32_t k = 0; k < plw_field_row_count(r, i, f); k++) {
                uint32_t row = plw_field_row(r, i, f, k), years = plw_reading_year_count(r, i);
                int holds = years == 0;
                for (uint32_t y = 0; y < years; y++)
                    holds |= plw_row_holds_in(NULL, row, plw_reading_year(r, i, y));
                ck_assert(holds);
            }
}

START_TEST(test_random_bytes_are_harmless)
{
    state = (uint32_t)_i + 1;
    for (int round = 0; round < 300; round++) {
        char number[PLW_MAX_TEXT];
        uint32_t length = random_below(random_below(8) ? 20 : sizeof number + 1);
        for (uint32_t i = 0; i < length; i++)
            number[i] = (char)random_below(256);
        plw_result *r = probe_decode(NULL, "", NULL);
        ck_assert_int_eq(plw_validate(NULL, number, length, NULL, 0, r), PLW_OK);
        ck_assert(plw_reading_count(r) > 0 || plw_finding_count(r) > 0);
        look_at_everything(r);
    }
}
END_TEST

/* A number that some layout takes: random characters of its classes, with a
 * few '?' now and then. */
static void random_number(char number[MAX_POSITIONS + 1])
{
    image_t image = plwi_image(NULL);
    const unsigned char *layout =
        plwi_layout(image, random_below(plwi_count(image, SECTION_LAYOUTS)));
    uint32_t length = layout[LAYOUT_LENGTH];
    for (uint32_t p = 0; p < length; p++) {
        uint64_t class = plwi_class(image, layout, p);
        do
            number[p] = plwi_character(random_below(ALPHABET_SIZE));
        while (!(class >> plwi_character_bit((unsigned char)number[p]) & 1));
    }
    number[length] = '\0';
    if (random_below(3) == 0) { /* start from a number that means something */
        const char *sample = plwi_text(image, plwi_u32(layout + LAYOUT_SAMPLE));
        uint32_t from = random_below(length);
        if (strlen(sample) == length)
            memcpy(number + from, sample + from, length - from);
    }
}

START_TEST(test_numbers_of_the_layouts_are_harmless)
{
    state = (uint32_t)_i + 77;
    for (int round = 0; round < 300; round++) {
        char number[MAX_POSITIONS + 1];
        random_number(number);
        if (random_below(2))
            number[random_below((uint32_t)strlen(number))] = '?';
        plw_result *r = probe_validate(NULL, number, NULL);
        look_at_everything(r);
        no_place_is_left_open(r);
        check_years(r);
    }
}
END_TEST

/* What is known about the readings of one number. */
typedef struct memory {
    uint32_t count;
    uint32_t scheme[PLW_MAX_READINGS];
    plwi_years years[PLW_MAX_READINGS];
    uint32_t row_count[PLW_MAX_READINGS];
    uint32_t rows[PLW_MAX_READINGS][256];
} memory;

static void remember(const plw_result *r, memory *m)
{
    m->count = r->reading_count;
    for (uint32_t i = 0; i < m->count; i++) {
        m->scheme[i] = plw_reading_scheme(r, i);
        m->years[i] = r->readings[i].years;
        m->row_count[i] = 0;
        for (uint32_t f = 0; f < plw_field_count(r, i); f++)
            for (uint32_t k = 0; k < plw_field_row_count(r, i, f) && m->row_count[i] < 256; k++)
                m->rows[i][m->row_count[i]++] = plw_field_row(r, i, f, k);
    }
}

static int has_row(const plw_result *r, uint32_t reading, uint32_t row)
{
    for (uint32_t f = 0; f < plw_field_count(r, reading); f++)
        for (uint32_t k = 0; k < plw_field_row_count(r, reading, f); k++)
            if (plw_field_row(r, reading, f, k) == row)
                return 1;
    return 0;
}

/* 1 when the readings of one scheme together have the years and rows. */
static int is_covered(const plw_result *r, const memory *m, uint32_t i)
{
    plwi_years left = m->years[i];
    for (uint32_t k = 0; k < r->reading_count; k++)
        if (plw_reading_scheme(r, k) == m->scheme[i])
            left = plwi_years_without(left, r->readings[k].years);
    if (!plwi_years_empty(left))
        return 0;
    for (uint32_t n = 0; n < m->row_count[i]; n++) {
        int found = 0;
        for (uint32_t k = 0; k < r->reading_count && !found; k++)
            found = has_row(r, k, m->rows[i][n]);
        if (!found)
            return 0;
    }
    return 1;
}

/* Making a character unreadable never removes a reading. */
START_TEST(test_unreadable_contains_the_full_number)
{
    state = (uint32_t)_i + 4711;
    for (int round = 0; round < 200; round++) {
        static memory m;
        char number[MAX_POSITIONS + 1], whole[MAX_POSITIONS + 1];
        random_number(number);
        strcpy(whole, number);
        plw_result *r = probe_decode(NULL, number, NULL);
        remember(r, &m);
        number[random_below((uint32_t)strlen(number))] = '?';
        r = probe_decode(NULL, number, NULL);
        if (r->capped)
            continue;
        for (uint32_t i = 0; i < m.count; i++)
            if (!plwi_years_empty(m.years[i]))
                ck_assert_msg(is_covered(r, &m, i), "%s lost a reading as %s", whole, number);
    }
}
END_TEST

START_TEST(test_spelling_does_not_change_the_reading)
{
    state = (uint32_t)_i + 99;
    for (int round = 0; round < 100; round++) {
        static char plain[1 << 18], spaced[1 << 18];
        char number[MAX_POSITIONS + 1], typed[4 * MAX_POSITIONS + 1] = "";
        random_number(number);
        for (size_t i = 0; number[i]; i++) {
            char c[3] = { number[i], random_below(3) ? '\0' : '-', '\0' };
            if (c[0] >= 'A' && random_below(2))
                c[0] = (char)(c[0] + 32);
            strcat(typed, c);
        }
        plw_result *r = probe_validate(NULL, number, NULL);
        ck_assert_int_eq(plw_explain(r, PLW_FORMAT_JSON, 0, plain, sizeof plain, NULL), PLW_OK);
        r = probe_validate(NULL, typed, NULL);
        ck_assert_int_eq(plw_explain(r, PLW_FORMAT_JSON, 0, spaced, sizeof spaced, NULL), PLW_OK);
        ck_assert_str_eq(plain, spaced);
    }
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_numbers_of_the_layouts_are_harmless, 0, 10);
    tcase_add_loop_test(test, test_unreadable_contains_the_full_number, 0, 20);
    tcase_add_loop_test(test, test_spelling_does_not_change_the_reading, 0, 10);
}

static void add_long(TCase *test)
{
    tcase_add_loop_test(test, test_random_bytes_are_harmless, 0, 10);
}

int main(void)
{
    return probe_run_long("property", add, add_long);
}
