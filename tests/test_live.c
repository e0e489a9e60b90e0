/* SPDX-License-Identifier: MIT
 *
 * Invariants of the compiled-in tables. They hold whatever a registrar adds.
 */
#define _POSIX_C_SOURCE 200809L

#include <stdio.h>
#include <string.h>

#include "internal.h"
#include "probe.h"

static image_t image(void)
{
    return plwi_image(NULL);
}

/* ---- building a number for a row ---------------------------------------------- */

typedef struct builder {
    const unsigned char *layout;
    unsigned skip;                  /* ways to meet an attribute condition to pass over */
    char number[MAX_POSITIONS + 1]; /* '?' where anything goes */
} builder;

#define WAYS 60 /* to meet a condition, before a row counts as out of reach */

static const unsigned char *span_of(const unsigned char *layout, uint32_t field)
{
    uint32_t first = plwi_u32(layout + LAYOUT_SPAN);
    for (uint32_t i = first; i < first + layout[LAYOUT_SPAN_COUNT]; i++)
        if (plwi_u16(plwi_span(image(), i) + SPAN_FIELD) == field)
            return plwi_span(image(), i);
    return NULL;
}

/* Writes a packed code over the field's positions; 0 when it does not fit
 * there or contradicts what was written before. */
static int write_code(builder *b, uint32_t field, uint64_t code)
{
    const unsigned char *span = span_of(b->layout, field);
    uint32_t positions = span ? plwi_u32(span + SPAN_POSITIONS) : 0;
    if (span == NULL)
        return 0;
    for (unsigned p = MAX_POSITIONS; p-- > 0;) {
        unsigned value = (unsigned)(code & 63);
        if (!(positions >> p & 1))
            continue;
        uint64_t class = plwi_class(image(), b->layout, p);
        char c = value ? plwi_character(value - 1) : '?';
        if (value == 0 || !(class >> (value - 1) & 1) ||
            (b->number[p] != '?' && b->number[p] != c))
            return 0;
        b->number[p] = c;
        code >>= CODE_BITS;
    }
    return plwi_field(image(), field)[FIELD_KIND] == KIND_RUN || code == 0;
}

static int write_row(builder *b, uint32_t row, int year, unsigned depth);

static int write_field_condition(builder *b, const unsigned char *condition)
{
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    for (uint32_t i = 0; i < plwi_u16(condition + CONDITION_VALUE_COUNT); i++) {
        builder trial = *b;
        if (write_code(&trial, plwi_u16(condition + CONDITION_REF), plwi_code(image(), first + i))) {
            *b = trial;
            return 1;
        }
    }
    return 0;
}

static int states(const unsigned char *row, const unsigned char *condition)
{
    for (uint32_t i = 0; i < row[ROW_FACT_COUNT]; i++) {
        const unsigned char *fact = plwi_fact(image(), plwi_u32(row + ROW_FACT) + i);
        if (plwi_u16(fact + FACT_ATTRIBUTE) != plwi_u16(condition + CONDITION_REF))
            continue;
        for (uint32_t k = 0; k < plwi_u16(condition + CONDITION_VALUE_COUNT); k++)
            if (plwi_value(image(), plwi_u32(condition + CONDITION_VALUE) + k) ==
                plwi_u32(fact + FACT_VALUE))
                return 1;
    }
    return 0;
}

/* Finds a row of the scheme that states the attribute in that year and writes
 * its code. The scheme's own facts need no writing. */
static int write_attribute_condition(builder *b, const unsigned char *condition, int year,
                                     unsigned depth)
{
    const unsigned char *scheme = plwi_scheme(image(), plwi_u16(b->layout + LAYOUT_SCHEME));
    uint32_t first = plwi_u32(scheme + SCHEME_ROW), count = plwi_u32(scheme + SCHEME_ROW_COUNT);
    for (uint32_t i = first; i < first + count; i++) {
        const unsigned char *row = plwi_row(image(), i);
        builder trial = *b;
        if (!states(row, condition) || !write_row(&trial, i, year, depth + 1))
            continue;
        if (b->skip == 0) {
            *b = trial;
            return 1;
        }
        b->skip--;
    }
    return 0;
}

static int write_condition(builder *b, const unsigned char *condition, int year, unsigned depth)
{
    if (condition[CONDITION_KIND] == CONDITION_FIELD)
        return write_field_condition(b, condition);
    if (condition[CONDITION_KIND] == CONDITION_ATTRIBUTE)
        return write_attribute_condition(b, condition, year, depth);
    return 1; /* the check character is chosen at the end */
}

/* Writes a row's code and what its conditions need. */
static int write_row(builder *b, uint32_t index, int year, unsigned depth)
{
    const unsigned char *row = plwi_row(image(), index);
    if (depth > 4 || !plwi_years_has(plwi_year_set(image(), plwi_u16(row + ROW_YEARS)), year))
        return 0;
    for (uint32_t k = 0; k < plwi_u16(row + ROW_CODE_COUNT); k++) {
        builder trial = *b;
        int good = write_code(&trial, plwi_u16(row + ROW_FIELD),
                              plwi_code(image(), plwi_u32(row + ROW_CODE) + k));
        for (uint32_t i = 0; good && i < row[ROW_CONDITION_COUNT]; i++)
            good = write_condition(
                &trial, plwi_condition(image(), plwi_u16(row + ROW_CONDITION) + i), year, depth);
        if (good) {
            *b = trial;
            return 1;
        }
    }
    return 0;
}

/* 1 when a reading of the number has the year and lists the row. */
static int reads_row(const char *number, uint32_t row, int year)
{
    plw_result *result = probe_decode(NULL, number, NULL);
    for (uint32_t r = 0; r < plw_reading_count(result); r++) {
        int has_year = 0;
        for (uint32_t y = 0; y < plw_reading_year_count(result, r); y++)
            has_year |= plw_reading_year(result, r, y) == year;
        for (uint32_t f = 0; has_year && f < plw_field_count(result, r); f++)
            for (uint32_t k = 0; k < plw_field_row_count(result, r, f); k++)
                if (plw_field_row(result, r, f, k) == row)
                    return 1;
    }
    return 0;
}

/* Replaces each '?' by a character that keeps the row readable. */
static int fill(builder *b, uint32_t row, int year)
{
    for (uint32_t p = 0; b->number[p]; p++) {
        uint64_t class = plwi_class(image(), b->layout, p);
        if (b->number[p] != '?')
            continue;
        for (unsigned c = 0; c < ALPHABET_SIZE; c++) {
            if (!(class >> c & 1))
                continue;
            b->number[p] = plwi_character(c);
            if (reads_row(b->number, row, year))
                break;
            b->number[p] = '?';
        }
        if (b->number[p] == '?')
            return 0;
    }
    return 1;
}

/* Characters of the layout's sample where nothing is written yet: closer to a
 * real number than all unreadable. */
static void fill_from_sample(const builder *b, char *number)
{
    const char *sample = plwi_text(image(), plwi_u32(b->layout + LAYOUT_SAMPLE));
    strcpy(number, b->number);
    for (uint32_t p = 0; number[p] && sample[p]; p++)
        if (number[p] == '?')
            number[p] = sample[p];
}

/* Codes of that year, without conditions, for the fields not written yet: with
 * too many characters unreadable a result cannot list all rows. */
static void write_other_fields(builder *b, int year)
{
    uint32_t first = plwi_u32(b->layout + LAYOUT_SPAN);
    for (uint32_t i = first; i < first + b->layout[LAYOUT_SPAN_COUNT]; i++) {
        uint32_t field = plwi_u16(plwi_span(image(), i) + SPAN_FIELD);
        const unsigned char *record = plwi_field(image(), field);
        uint32_t row = plwi_u32(record + FIELD_ROW), end = row + plwi_u32(record + FIELD_ROW_COUNT);
        if (record[FIELD_KIND] != KIND_CODE)
            continue;
        for (builder trial = *b; row < end; row++, trial = *b) {
            if (plwi_row(image(), row)[ROW_CONDITION_COUNT] == 0 &&
                write_row(&trial, row, year, 0)) {
                *b = trial;
                break;
            }
        }
    }
}

static int reach_one_way(const unsigned char *layout, uint32_t row, int year, unsigned skip,
                         char *number)
{
    builder b = { layout, skip, "" };
    memset(b.number, '?', layout[LAYOUT_LENGTH]);
    if (!write_row(&b, row, year, 0))
        return 0;
    fill_from_sample(&b, number);
    if (reads_row(number, row, year))
        return 1;
    builder fuller = b;
    write_other_fields(&fuller, year);
    if (reads_row(fuller.number, row, year))
        b = fuller;
    strcpy(number, b.number);
    if (!reads_row(number, row, year) || !fill(&b, row, year))
        return 0;
    strcpy(number, b.number);
    return 1;
}

static int reach_in_layout(const unsigned char *layout, uint32_t row, int year, char *number)
{
    for (unsigned skip = 0; skip < WAYS; skip++)
        if (reach_one_way(layout, row, year, skip, number))
            return 1;
    return 0;
}

static int reach(uint32_t row, char *number)
{
    const unsigned char *record = plwi_row(image(), row);
    uint32_t scheme = plwi_u16(plwi_field(image(), plwi_u16(record + ROW_FIELD)) + FIELD_SCHEME);
    plwi_years years = plwi_year_set(image(), plwi_u16(record + ROW_YEARS));
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year))
        for (uint32_t i = 0; i < plwi_count(image(), SECTION_LAYOUTS); i++) {
            const unsigned char *layout = plwi_layout(image(), i);
            if (plwi_u16(layout + LAYOUT_SCHEME) == scheme &&
                reach_in_layout(layout, row, year, number))
                return 1;
        }
    return 0;
}

static int has_no_position(const unsigned char *row)
{
    return row[ROW_KIND] != ROW_MEANING ||
           plwi_field(image(), plwi_u16(row + ROW_FIELD))[FIELD_KIND] == KIND_TOPIC;
}

START_TEST(test_every_row_can_be_reached_by_a_number)
{
    uint32_t failed = 0;
    for (uint32_t row = 0; row < plw_row_count(NULL); row++) {
        char number[MAX_POSITIONS + 1] = "", key[512];
        if (has_no_position(plwi_row(image(), row)) || reach(row, number))
            continue;
        ck_assert_int_eq(plw_row_key(NULL, row, key, sizeof key, NULL), PLW_OK);
        printf("not reached: %s (best number %s)\n", key, number);
        failed++;
    }
    ck_assert_uint_eq(failed, 0);
}
END_TEST

/* ---- what every row owes --------------------------------------------------------- */

START_TEST(test_published_rows_have_a_source)
{
    for (uint32_t row = 0; row < plw_row_count(NULL); row++)
        if (plw_row_standing(NULL, row) == PLW_STANDING_PUBLISHED)
            ck_assert_uint_ge(plw_row_source_count(NULL, row), 1);
}
END_TEST

START_TEST(test_rows_have_words_and_years_of_their_scheme)
{
    for (uint32_t row = 0; row < plw_row_count(NULL); row++) {
        uint32_t scheme = plw_row_scheme(NULL, row);
        ck_assert_str_ne(plw_row_words(NULL, row), "");
        ck_assert_int_ge(plw_row_first_year(NULL, row), plw_scheme_first_year(NULL, scheme));
        ck_assert_int_le(plw_row_last_year(NULL, row), plw_scheme_last_year(NULL, scheme));
    }
}
END_TEST

static int compare_keys(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

START_TEST(test_row_keys_are_unique)
{
    uint32_t count = 0;
    char **keys = calloc(plw_row_count(NULL), sizeof *keys);
    for (uint32_t row = 0; row < plw_row_count(NULL); row++) {
        char key[512];
        if (plwi_row(image(), row)[ROW_KIND] != ROW_MEANING)
            continue;
        ck_assert_int_eq(plw_row_key(NULL, row, key, sizeof key, NULL), PLW_OK);
        keys[count++] = strdup(key);
    }
    qsort(keys, count, sizeof *keys, compare_keys);
    for (uint32_t i = 1; i < count; i++)
        ck_assert_str_ne(keys[i - 1], keys[i]);
    for (uint32_t i = 0; i < count; i++)
        free(keys[i]);
    free(keys);
}
END_TEST

START_TEST(test_samples_read_in_their_scheme)
{
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++)
        for (uint32_t i = 0; i < plw_layout_count(NULL, scheme); i++) {
            plw_result *r = probe_decode(NULL, plw_layout_sample(NULL, scheme, i), NULL);
            int found = 0;
            for (uint32_t k = 0; k < plw_reading_count(r); k++)
                found |= plw_reading_scheme(r, k) == scheme && plw_reading_year_count(r, k) > 0;
            ck_assert_msg(found, "sample %s of %s has no reading there",
                          plw_layout_sample(NULL, scheme, i), plw_scheme_key(NULL, scheme));
        }
}
END_TEST

START_TEST(test_the_compiled_in_image_passes_the_full_check)
{
    const plw_tables *opened;
    ck_assert_int_eq(plw_tables_open(plwi_builtin_image,
                                     plwi_u32(plwi_builtin_image + HEADER_SIZE), 0, &opened),
                     PLW_OK);
    ck_assert_uint_eq(plw_row_count(opened), plw_row_count(NULL));
}
END_TEST

START_TEST(test_the_house_has_tables)
{
    ck_assert_uint_ge(plw_scheme_count(NULL), 5);
    ck_assert_uint_ge(plw_row_count(NULL), 3000);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_published_rows_have_a_source);
    tcase_add_test(test, test_rows_have_words_and_years_of_their_scheme);
    tcase_add_test(test, test_row_keys_are_unique);
    tcase_add_test(test, test_samples_read_in_their_scheme);
    tcase_add_test(test, test_the_compiled_in_image_passes_the_full_check);
    tcase_add_test(test, test_the_house_has_tables);
}

static void add_long(TCase *test)
{
    tcase_add_test(test, test_every_row_can_be_reached_by_a_number);
}

int main(void)
{
    return probe_run_long("live", add, add_long);
}
