/* SPDX-License-Identifier: MIT
 *
 * One character of a good number is changed, at every position, to every other
 * that may stand there. Whatever comes must be reasoned: another row, another
 * reading, or a finding that points at the place. On the compiled-in tables, from
 * the samples of all layouts and from the published examples.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "internal.h"
#include "probe.h"

static plw_result *before, *after; /* the number as it was, and as changed */

/* What came of the changes; each must occur, or the test looked at nothing. */
enum outcome { READINGS, ROWS, FINDINGS, SAME_ROW, RUNNING, PLAIN, UNREASONED, OUTCOMES };
static uint32_t outcomes[OUTCOMES];

static image_t image(void)
{
    return plwi_image(NULL);
}

static void validate(const char *number, plw_result **result)
{
    if (*result == NULL)
        ck_assert_int_eq(plw_result_new(result), PLW_OK);
    ck_assert_int_eq(plw_validate(NULL, number, strlen(number), NULL, 0, *result), PLW_OK);
}

/* ---- findings ---------------------------------------------------------------- */

/* Findings that say what is wrong with a character, not how sure the tables are. */
static int speaks_of_characters(int32_t code)
{
    return (code >= PLW_FINDING_CHARACTER && code <= PLW_FINDING_PLANT) ||
           code == PLW_FINDING_LENGTH || code == PLW_FINDING_NO_SCHEME;
}

/* Whether such a finding on the reading points at one of the positions. */
static int has_finding(const plw_result *r, uint32_t reading, uint32_t positions)
{
    for (uint32_t i = 0; i < plw_finding_count(r); i++) {
        uint32_t speaks_of = plw_finding_reading(r, i);
        if (speaks_of_characters(plw_finding_code(r, i)) &&
            (speaks_of == reading || speaks_of == PLW_NONE) &&
            (plw_finding_positions(r, i) & positions))
            return 1;
    }
    return 0;
}

static int has_code(const plw_result *r, uint32_t reading, int32_t code)
{
    for (uint32_t i = 0; i < plw_finding_count(r); i++)
        if (plw_finding_code(r, i) == code && plw_finding_reading(r, i) == reading)
            return 1;
    return 0;
}

/* ---- every field at the place answers the new character ------------------------- */

static uint8_t kind_of(const plwi_slot *slot)
{
    return plwi_field(image(), plwi_slot_field(image(), slot))[FIELD_KIND];
}

static int rows_read_the_code(const plw_result *r, const plwi_reading *reading,
                              const plwi_slot *slot)
{
    uint32_t positions = plwi_slot_positions(image(), slot);
    for (uint32_t i = 0; i < slot->row_count; i++)
        if (!plwi_row_reads(image(), r->rows[slot->row + i], reading, positions))
            return 0;
    return slot->row_count > 0;
}

static int check_is_judged(const plw_result *r, uint32_t reading)
{
    return r->readings[reading].check != PLW_CHECK_FAILS ||
           has_code(r, reading, PLW_FINDING_CHECK_WRONG) ||
           has_code(r, reading, PLW_FINDING_CHECK_UNFIT);
}

/* The field's code has the character at that position of the number, or a finding
 * says that it was read as another. */
static int shows(const plw_result *r, uint32_t reading, uint32_t field, uint32_t position,
                 char character)
{
    char code[64];
    uint32_t positions = plw_field_positions(r, reading, field), index = 0;
    ck_assert_int_eq(plw_field_code(r, reading, field, code, sizeof code, NULL), PLW_OK);
    for (uint32_t p = 0; p < position; p++)
        index += positions >> p & 1u;
    return code[index] == character || has_finding(r, reading, UINT32_C(1) << position);
}

static int answers(const plw_result *r, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(r, reading, field);
    int pointed_at = has_finding(r, reading, plwi_slot_positions(image(), slot));
    switch (slot->state) {
    case PLW_FIELD_CHECK:
        return check_is_judged(r, reading);
    case PLW_FIELD_UNKNOWN:
        return pointed_at;
    case PLW_FIELD_PLAIN:
        return slot->rule == RULE_NONE || pointed_at;
    default:
        return kind_of(slot) == KIND_RUN || kind_of(slot) == KIND_FREE ||
               rows_read_the_code(r, &r->readings[reading], slot);
    }
}

static int all_answer(const plw_result *r, uint32_t position, char character)
{
    for (uint32_t i = 0; i < plw_reading_count(r); i++) {
        if (plw_reading_year_count(r, i) == 0 && !has_code(r, i, PLW_FINDING_EXCLUSION))
            return 0;
        for (uint32_t f = 0; f < plw_field_count(r, i); f++)
            if (plw_field_positions(r, i, f) >> position & 1u &&
                (!shows(r, i, f, position, character) || !answers(r, i, f)))
                return 0;
    }
    return plw_reading_count(r) > 0 || has_finding(r, PLW_NONE, UINT32_MAX);
}

/* ---- what the change did ---------------------------------------------------------- */

static int same_readings(void)
{
    if (before->reading_count != after->reading_count)
        return 0;
    for (uint32_t i = 0; i < before->reading_count; i++)
        if (before->readings[i].layout != after->readings[i].layout ||
            !plwi_years_equal(before->readings[i].years, after->readings[i].years))
            return 0;
    return 1;
}

static const plwi_slot *slot_of_span(const plw_result *r, uint32_t reading, uint32_t span)
{
    for (uint32_t f = 0; f < plw_field_count(r, reading); f++)
        if (plwi_slot_at(r, reading, f)->span == span)
            return plwi_slot_at(r, reading, f);
    return NULL;
}

static int same_rows(const plwi_slot *a, const plwi_slot *b)
{
    return b != NULL && a->row_count == b->row_count &&
           memcmp(before->rows + a->row, after->rows + b->row,
                  a->row_count * sizeof before->rows[0]) == 0;
}

/* Of a field with the same rows as before: what made that right. */
static enum outcome outcome_of_field(const plwi_slot *slot)
{
    if (kind_of(slot) == KIND_RUN)
        return RUNNING;
    if (slot->state == PLW_FIELD_PLAIN || kind_of(slot) == KIND_FREE)
        return PLAIN;
    if (kind_of(slot) == KIND_CHECK && after->readings[0].check == PLW_CHECK_OPEN)
        return PLAIN; /* another character that it needs cannot be read */
    return slot->row_count > 0 ? SAME_ROW : UNREASONED; /* a row of several codes */
}

static enum outcome outcome_of_change(uint32_t position)
{
    enum outcome outcome = UNREASONED;
    if (!same_readings())
        return READINGS;
    if (has_finding(after, 0, UINT32_C(1) << position) ||
        before->readings[0].check != after->readings[0].check)
        return FINDINGS;
    for (uint32_t f = 0; f < plw_field_count(before, 0); f++) {
        const plwi_slot *slot = plwi_slot_at(before, 0, f);
        if (!(plwi_slot_positions(image(), slot) >> position & 1u))
            continue;
        const plwi_slot *now = slot_of_span(after, 0, slot->span);
        if (!same_rows(slot, now))
            return ROWS;
        if (!slot->overlay)
            outcome = outcome_of_field(now);
    }
    return outcome;
}

static void change(const char *number, uint32_t position, char character)
{
    char changed[MAX_POSITIONS + 1];
    strcpy(changed, number);
    changed[position] = character;
    validate(changed, &after);
    ck_assert_msg(all_answer(after, position, character),
                  "%s, made from %s: a field at position %u does not answer", changed, number,
                  (unsigned)position + 1);
    enum outcome outcome = outcome_of_change(position);
    ck_assert_msg(outcome != UNREASONED, "%s, made from %s: nothing says what position %u did",
                  changed, number, (unsigned)position + 1);
    outcomes[outcome]++;
}

/* All changes of a number that reads without fault; others are left alone. */
static void change_everywhere(const char *number)
{
    char read[4 * MAX_POSITIONS];
    validate(number, &before);
    if (plw_reading_count(before) == 0 || plw_result_grade(before) == PLW_GRADE_FAULT)
        return;
    ck_assert_int_eq(plw_reading_number(before, 0, read, sizeof read, NULL), PLW_OK);
    if (strchr(read, '[') != NULL)
        return;
    validate(read, &before);
    const unsigned char *layout = plwi_layout(image(), before->readings[0].layout);
    for (uint32_t p = 0; read[p]; p++) {
        uint64_t others = plwi_class(image(), layout, p);
        if (read[p] == '?')
            continue;
        others &= ~(UINT64_C(1) << plwi_character_bit((unsigned char)read[p]));
        for (unsigned c = 0; c < ALPHABET_SIZE; c++)
            if (others >> c & 1)
                change(read, p, plwi_character(c));
    }
}

/* ---- the numbers ------------------------------------------------------------------ */

static void expect_all_outcomes(void)
{
    for (int i = 0; i < UNREASONED; i++)
        ck_assert_msg(outcomes[i] >= 30, "outcome %d came %u times", i, (unsigned)outcomes[i]);
}

START_TEST(test_samples_of_all_layouts)
{
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++)
        for (uint32_t i = 0; i < plw_layout_count(NULL, scheme); i++)
            change_everywhere(plw_layout_sample(NULL, scheme, i));
    expect_all_outcomes();
}
END_TEST

static const char *const files[] = {
    "dearborn", "detroit", "highland-park", "imports", "independents", "iso3779", "practice",
};
#define FILE_COUNT ((int)(sizeof files / sizeof *files))

/* The first column of a line is a number, but for comments and stamps. */
START_TEST(test_published_examples)
{
    char name[64];
    size_t size;
    uint32_t count = 0;
    snprintf(name, sizeof name, "tests/examples/%s.tsv", files[_i]);
    char *text = fixture_text(name, &size);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        char *end = strchr(line, '\t');
        if (line[0] == '#' || end == NULL || strncmp(line, "stamp:", 6) == 0)
            continue;
        *end = '\0';
        change_everywhere(line);
        count++;
    }
    ck_assert_uint_gt(count, 10);
    free(text);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_samples_of_all_layouts);
    tcase_add_loop_test(test, test_published_examples, 0, FILE_COUNT);
}

int main(void)
{
    return probe_run("mutation", add);
}
