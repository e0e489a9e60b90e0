/* SPDX-License-Identifier: MIT
 *
 * The verdicts on one lot of a catalogue: what its number says, in few words.
 */
#include <string.h>

#include "catalogue.h"

#define NUMBER_SIZE (PLW_MAX_POSITIONS * 4 + 1) /* in UTF-8, without alternatives */
#define MANY_MEANINGS 3

const char *verdict_name(const catalogue_work *catalogue, int column)
{
    static const char *const names[VERDICT_COLUMNS] = {
        "platewright_grade",   "platewright_scheme",  "platewright_years", "platewright_findings",
        "platewright_reading", "platewright_partial", "platewright_repeats", "platewright_claims",
    };
    bool left_out = ((column == VERDICT_REPEATS || column == VERDICT_PARTIAL) &&
                     catalogue->options->no_duplicates) ||
                    (column == VERDICT_CLAIMS && catalogue->options->claim_count == 0);
    return left_out ? NULL : names[column];
}

static void clear_verdicts(catalogue_work *catalogue)
{
    for (int i = 0; i < VERDICT_COLUMNS; i++)
        text_clear(&catalogue->verdict[i]);
}

static void complain_of_row(catalogue_work *catalogue, unsigned long line, const char *reason,
                            const char *consequence)
{
    progress_hide(&catalogue->progress);
    complain("line %lu: %s; %s", line, reason, consequence);
    catalogue->bad++;
    catalogue->status = graver(catalogue->status, EXIT_DATA);
}

void refuse_row(catalogue_work *catalogue, unsigned long line, const char *reason)
{
    complain_of_row(catalogue, line, reason, "not read");
    catalogue->rows++;
    clear_verdicts(catalogue);
    text_put(&catalogue->verdict[VERDICT_READING], reason);
}

void leave_out_row(catalogue_work *catalogue, unsigned long line, const char *reason)
{
    complain_of_row(catalogue, line, reason, "left out");
    catalogue->rows++;
    catalogue->left_out++;
}

/* ---- hints --------------------------------------------------------------------- */

/* Appends "key=value;" to the hints, unless the cell cannot serve as one. */
static void add_hint_cell(const catalogue_work *catalogue, char hints[PLW_MAX_HINTS + 1],
                          const char *key, const byte_span *value)
{
    size_t used = strlen(hints);
    int32_t grade;
    if (value->length == 0 || value->length > PLW_MAX_HINTS)
        return;
    int length = snprintf(hints + used, PLW_MAX_HINTS + 1 - used, "%s=%.*s;", key,
                          (int)value->length, value->bytes);
    if (length < 0 || (size_t)length > PLW_MAX_HINTS - used ||
        memchr(value->bytes, ';', value->length) != NULL ||
        plw_grade(catalogue->options->tables, "", 0, hints, 0, &grade) != PLW_OK)
        hints[used] = '\0';
}

static void validate(catalogue_work *catalogue, const catalogue_lot *lot)
{
    const client_options *options = catalogue->options;
    const byte_span *number = &lot->cells[CATALOGUE_NUMBER];
    char hints[PLW_MAX_HINTS + 1] = "";
    if (options->hints != NULL)
        strcpy(hints, options->hints);
    add_hint_cell(catalogue, hints, "maker", &lot->cells[CATALOGUE_MAKER]);
    add_hint_cell(catalogue, hints, "year", &lot->cells[CATALOGUE_YEAR]);
    plw_validate(options->tables, number->bytes, number->length, hints, 0, catalogue->result);
}

/* ---- what was read ------------------------------------------------------------- */

static void put_number(growing_text *text, unsigned long number)
{
    char digits[24];
    snprintf(digits, sizeof digits, "%s%lu", text->length > 0 ? " " : "", number);
    text_put(text, digits);
}

static void put_years(const plw_result *result, growing_text *text)
{
    uint32_t count = plw_reading_year_count(result, 0);
    for (uint32_t i = 0; i < count; i++)
        put_number(text, (unsigned long)plw_reading_year(result, 0, i));
}

/* Whether an earlier finding on the number or its best reading has this name. */
static bool named_before(const plw_result *result, uint32_t finding)
{
    for (uint32_t i = 0; i < finding; i++) {
        uint32_t reading = plw_finding_reading(result, i);
        if ((reading == PLW_NONE || reading == 0) &&
            plw_finding_code(result, i) == plw_finding_code(result, finding))
            return true;
    }
    return false;
}

static void put_findings(const plw_result *result, growing_text *text)
{
    uint32_t count = plw_finding_count(result);
    for (uint32_t i = 0; i < count; i++) {
        uint32_t reading = plw_finding_reading(result, i);
        if ((reading != PLW_NONE && reading != 0) || named_before(result, i))
            continue;
        if (text->length > 0)
            text_put(text, " ");
        text_put(text, plw_finding_name(result, i));
    }
}

/* Year and check have their columns, and a running number says little. */
static bool tells_the_car(const plw_result *result, uint32_t field)
{
    static const char *const others[] = { "year", "sequence", "check" };
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(plw_field_name(result, 0, field), others[i]) == 0)
            return false;
    return !plw_field_is_detail(result, 0, field) &&
           plw_field_state(result, 0, field) != PLW_FIELD_PLAIN;
}

static void put_meaning(const plw_result *result, uint32_t field, growing_text *text)
{
    uint32_t count = plw_field_row_count(result, 0, field);
    if (count == 0 || count > MANY_MEANINGS) {
        char several[64];
        text_put(text, plw_field_label(result, 0, field));
        text_put(text, " ");
        text_put(text, text_of(code_source, result, 0, field));
        snprintf(several, sizeof several, count ? ": %u meanings" : " unknown", (unsigned)count);
        text_put(text, several);
        return;
    }
    for (uint32_t i = 0; i < count; i++) {
        text_put(text, i ? " / " : "");
        text_put(text, plw_field_words(result, 0, field, i));
    }
}

static void put_reading(const plw_result *result, growing_text *text)
{
    if (plw_reading_count(result) == 0)
        text_put(text, "no reading");
    for (uint32_t i = 0; i < plw_field_count(result, 0); i++) {
        if (!tells_the_car(result, i))
            continue;
        if (text->length > 0)
            text_put(text, "; ");
        put_meaning(result, i, text);
    }
}

/* ---- numbers that occur twice ------------------------------------------------------ */

/* 1 when a scheme takes the characters as they are, or for others that look alike. */
static bool is_taken(const plw_result *result)
{
    for (uint32_t i = 0; i < plw_finding_count(result); i++)
        if (plw_finding_code(result, i) == PLW_FINDING_CHARACTER &&
            plw_finding_reading(result, i) == 0)
            return false;
    return plw_reading_count(result) > 0;
}

/* A number that no scheme takes may be a stamp, and nobody has told its O from a
 * zero. */
static void read_o_as_zero(char number[NUMBER_SIZE])
{
    for (; *number != '\0'; number++)
        if (*number == 'O')
            *number = '0';
}

/* The number as its best reading has it, with O read as 0 where that is meant, and
 * everywhere where no scheme takes it. False when characters are unreadable or were
 * not kept: two such numbers need not be the same. */
static bool whole_number(const plw_result *result, char number[NUMBER_SIZE])
{
    bool taken = is_taken(result);
    int32_t status = taken ? plw_reading_number(result, 0, number, NUMBER_SIZE, NULL)
                           : plw_result_number(result, number, NUMBER_SIZE, NULL);
    if (!taken)
        read_o_as_zero(number);
    return status == PLW_OK && plw_result_position_count(result) <= PLW_MAX_POSITIONS &&
           strpbrk(number, "?[") == NULL && number[0] != '\0';
}

/* The line of a number that was seen before and shows what this stamp does. */
static unsigned long seen_as_stamp(const catalogue_work *catalogue, char stamp[NUMBER_SIZE])
{
    unsigned long line = seen_at(&catalogue->seen, stamp, strlen(stamp));
    read_o_as_zero(stamp);
    return line != 0 ? line : seen_at(&catalogue->seen, stamp, strlen(stamp));
}

/* What the stamps of a full number show: the line of one that was seen before. All
 * are kept, for stamps that come later. */
static unsigned long find_stamp(catalogue_work *catalogue, unsigned long line)
{
    unsigned long found = 0;
    char stamp[NUMBER_SIZE];
    for (uint32_t i = 0;
         plw_stamp_text(catalogue->result, 0, i, stamp, sizeof stamp, NULL) == PLW_OK; i++) {
        unsigned long earlier = seen_as_stamp(catalogue, stamp);
        if (found == 0)
            found = earlier;
        seen_before(&catalogue->stamps, stamp, strlen(stamp), line);
    }
    return found;
}

static void put_partial(catalogue_work *catalogue, const char *number, unsigned long line)
{
    char shown[NUMBER_SIZE];
    strcpy(shown, number);
    read_o_as_zero(shown);
    unsigned long other = seen_at(&catalogue->stamps, shown, strlen(shown));
    unsigned long stamp = find_stamp(catalogue, line);
    if (other == 0)
        other = stamp;
    if (other == 0)
        return;
    put_number(&catalogue->verdict[VERDICT_PARTIAL], other);
    catalogue->partial++;
}

static void put_repeats(catalogue_work *catalogue, unsigned long line)
{
    char number[NUMBER_SIZE];
    if (catalogue->options->no_duplicates || !whole_number(catalogue->result, number))
        return;
    put_partial(catalogue, number, line);
    unsigned long before = seen_before(&catalogue->seen, number, strlen(number), line);
    if (before == 0)
        return;
    put_number(&catalogue->verdict[VERDICT_REPEATS], before);
    catalogue->repeated++;
}

/* ---- claims ------------------------------------------------------------------------- */

/* One claim at a time: a cell may hold what would part two claims. */
static bool check_claim(plw_result *result, const char *attribute, const byte_span *value)
{
    char claim[PLW_MAX_CLAIM_TEXT + 1];
    if (value->length > PLW_MAX_CLAIM_TEXT || memchr(value->bytes, ';', value->length) != NULL)
        return false;
    int length = snprintf(claim, sizeof claim, "%s=%.*s", attribute, (int)value->length,
                          value->bytes);
    return length > 0 && (size_t)length < sizeof claim &&
           plw_check_claims(result, claim, (size_t)length) == PLW_OK &&
           plw_claim_count(result) == 1;
}

static void put_claim(catalogue_work *catalogue, const char *attribute, const byte_span *value,
                      growing_text *text)
{
    bool checked = check_claim(catalogue->result, attribute, value);
    int32_t verdict = checked ? plw_claim_verdict(catalogue->result, 0) : PLW_VERDICT_NOT_TOLD;
    int32_t reason =
        checked ? plw_claim_reason(catalogue->result, 0) : PLW_REASON_NOT_UNDERSTOOD;
    text_put(text, text->length > 0 ? "; " : "");
    text_put(text, attribute);
    text_put(text, " ");
    text_put(text, plw_verdict_name(verdict));
    if (reason != PLW_REASON_NONE) {
        text_put(text, " (");
        text_put(text, plw_reason_name(reason));
        text_put(text, ")");
    }
    if (verdict == PLW_VERDICT_CONTRADICTED) {
        catalogue->contradicted++;
        catalogue->status = graver(catalogue->status, EXIT_FAULT);
    }
}

static void put_claims(catalogue_work *catalogue, const catalogue_lot *lot)
{
    const client_options *options = catalogue->options;
    for (int i = 0; i < options->claim_count; i++)
        if (lot->cells[CATALOGUE_CLAIMS + i].length > 0)
            put_claim(catalogue, options->claimed[i], &lot->cells[CATALOGUE_CLAIMS + i],
                      &catalogue->verdict[VERDICT_CLAIMS]);
}

/* ---- the whole ------------------------------------------------------------------------ */

static bool is_blank(const byte_span *cell)
{
    for (size_t i = 0; i < cell->length; i++)
        if (strchr(" \t\r\n", cell->bytes[i]) == NULL || cell->bytes[i] == '\0')
            return false;
    return true;
}

static void put_verdicts(catalogue_work *catalogue, unsigned long line)
{
    const plw_result *result = catalogue->result;
    growing_text *verdict = catalogue->verdict;
    int32_t grade = plw_result_grade(result);
    text_put(&verdict[VERDICT_GRADE], plw_grade_name(grade));
    if (plw_reading_count(result) > 0)
        text_put(&verdict[VERDICT_SCHEME],
                 plw_scheme_key(catalogue->options->tables, plw_reading_scheme(result, 0)));
    put_years(result, &verdict[VERDICT_YEARS]);
    put_findings(result, &verdict[VERDICT_FINDINGS]);
    put_reading(result, &verdict[VERDICT_READING]);
    put_repeats(catalogue, line);
    catalogue->by_grade[grade]++;
    catalogue->status = graver(catalogue->status, exit_for_grade(grade));
}

void judge_lot(catalogue_work *catalogue, const catalogue_lot *lot)
{
    const byte_span *number = &lot->cells[CATALOGUE_NUMBER];
    progress_show(&catalogue->progress, catalogue->rows);
    if (number->length > PLW_MAX_TEXT) {
        char reason[64];
        snprintf(reason, sizeof reason, "number longer than %d bytes", PLW_MAX_TEXT);
        refuse_row(catalogue, lot->line, reason);
        return;
    }
    catalogue->rows++;
    clear_verdicts(catalogue);
    if (is_blank(number)) {
        text_put(&catalogue->verdict[VERDICT_READING], "no number");
        return;
    }
    validate(catalogue, lot);
    put_verdicts(catalogue, lot->line);
    put_claims(catalogue, lot);
}
