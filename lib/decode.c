/* SPDX-License-Identifier: MIT
 *
 * The verb decode: number in, ranked readings out. Hints of the host are read
 * here; they rank and never hide.
 */
#include <string.h>

#include "internal.h"

/* ---- hints --------------------------------------------------------------- */

static int is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static void trim(const char **text, size_t *length)
{
    while (*length > 0 && is_blank(**text)) {
        (*text)++;
        (*length)--;
    }
    while (*length > 0 && is_blank((*text)[*length - 1]))
        (*length)--;
}

static int is_word(const char *text, size_t length, const char *word)
{
    return strlen(word) == length && memcmp(text, word, length) == 0;
}

static int read_year(const char *text, size_t length, int32_t *year)
{
    int32_t value = 0;
    if (length != 4)
        return 0;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return 0;
        value = value * 10 + (text[i] - '0');
    }
    *year = value;
    return 1;
}

static int read_hint(const char *text, size_t length, plwi_hints *hints)
{
    const char *equals = memchr(text, '=', length);
    if (equals == NULL)
        return 0;
    size_t key_length = (size_t)(equals - text);
    const char *value = equals + 1;
    size_t value_length = length - key_length - 1;
    trim(&text, &key_length);
    trim(&value, &value_length);
    if (value_length == 0)
        return 0;
    if (is_word(text, key_length, "year"))
        return read_year(value, value_length, &hints->year);
    if (is_word(text, key_length, "maker")) {
        hints->maker = value;
        hints->maker_length = value_length;
        return 1;
    }
    if (is_word(text, key_length, "scheme")) {
        hints->scheme = value;
        hints->scheme_length = value_length;
        return 1;
    }
    return 0;
}

int32_t plwi_hints_read(const char *text, plwi_hints *hints)
{
    memset(hints, 0, sizeof *hints);
    if (text == NULL)
        return PLW_OK;
    size_t left = strlen(text);
    if (left > PLW_MAX_HINTS)
        return PLW_E_TOO_LONG;
    while (left > 0) {
        const char *end = memchr(text, ';', left);
        size_t length = end ? (size_t)(end - text) : left;
        const char *part = text;
        size_t part_length = length;
        trim(&part, &part_length);
        if (part_length > 0 && !read_hint(part, part_length, hints))
            return PLW_E_HINT;
        length += end != NULL;
        text += length;
        left -= length;
    }
    return PLW_OK;
}

/* ---- ranking ------------------------------------------------------------- */

static int contains(const char *text, const char *part, size_t part_length)
{
    for (size_t length = strlen(text); length >= part_length; length--, text++) {
        size_t i = 0;
        while (i < part_length && plwi_small(text[i]) == plwi_small(part[i]))
            i++;
        if (i == part_length)
            return 1;
    }
    return 0;
}

/* Attributes that name who made the car. */
static int names_maker(const char *attribute)
{
    return strcmp(attribute, "maker") == 0 || strcmp(attribute, "division") == 0 ||
           strcmp(attribute, "brand") == 0;
}

int plwi_facts_name_maker(image_t image, uint32_t first, uint32_t count, const plwi_hints *hints)
{
    for (uint32_t i = first; i < first + count; i++) {
        const unsigned char *fact = plwi_fact(image, i);
        const unsigned char *attribute =
            plwi_record(image, SECTION_ATTRIBUTES, 16, plwi_u16(fact + FACT_ATTRIBUTE));
        if (attribute[ATTRIBUTE_KIND] == ATTRIBUTE_TEXT &&
            names_maker(plwi_text(image, plwi_u32(attribute + ATTRIBUTE_NAME))) &&
            contains(plwi_text(image, plwi_u32(fact + FACT_VALUE)), hints->maker,
                     hints->maker_length))
            return 1;
    }
    return 0;
}

static int reading_names_maker(const plw_result *result, image_t image,
                               const plwi_reading *reading, const unsigned char *scheme,
                               const plwi_hints *hints)
{
    if (plwi_facts_name_maker(image, plwi_u32(scheme + SCHEME_FACT),
                              plwi_u32(scheme + SCHEME_FACT_COUNT), hints))
        return 1;
    for (uint32_t i = 0; i < reading->slot_count; i++) {
        const plwi_slot *slot = &result->slots[reading->slot + i];
        for (uint32_t k = 0; k < slot->row_count; k++) {
            const unsigned char *row = plwi_row(image, result->rows[slot->row + k]);
            if (plwi_facts_name_maker(image, plwi_u32(row + ROW_FACT), row[ROW_FACT_COUNT], hints))
                return 1;
        }
    }
    return 0;
}

static int32_t hints_met(const plw_result *result, image_t image, const plwi_reading *reading,
                         const plwi_hints *hints)
{
    const unsigned char *scheme = plwi_scheme(image, plwi_layout_scheme(image, reading->layout));
    int32_t met = 0;
    if (hints->year && plwi_years_has(reading->years, hints->year))
        met++;
    if (hints->scheme && is_word(hints->scheme, hints->scheme_length,
                                 plwi_text(image, plwi_u32(scheme + SCHEME_KEY))))
        met++;
    if (hints->maker && reading_names_maker(result, image, reading, scheme, hints))
        met++;
    return met;
}

/* What speaks against a reading, by weight. A hint outweighs all of it, and a
 * detail of the tables that fits speaks for it. */
enum weight {
    WEIGHT_HINT = 100000,
    WEIGHT_MISFIT = 400,
    WEIGHT_NO_YEAR = 300,
    WEIGHT_CHECK = 150,
    WEIGHT_UNKNOWN = 100,
    WEIGHT_MISREAD = 80,
    WEIGHT_NOT_BUILT = 60,
    WEIGHT_RUN = 40,
    WEIGHT_CHECK_FREE = 30,
    WEIGHT_DOUBTFUL = 20,
    WEIGHT_DETAIL = 3,
    WEIGHT_PLAIN = 2,
    WEIGHT_MEMORY = 1
};

static int32_t weigh_slot(const plwi_reading *reading, const plwi_slot *slot)
{
    int32_t weight = (slot->standing == STANDING_MEMORY ? WEIGHT_MEMORY : 0) +
                     (slot->all_marks & MARK_DOUBTFUL ? WEIGHT_DOUBTFUL : 0);
    if (slot->overlay && slot->row_count > 0)
        return -WEIGHT_DETAIL;
    if (slot->state == PLW_FIELD_UNKNOWN && slot->rule == RULE_NONE)
        weight += WEIGHT_UNKNOWN;
    if (slot->state == PLW_FIELD_PLAIN && !slot->overlay)
        weight += WEIGHT_PLAIN;
    if (slot->rule == RULE_NOT_BUILT)
        weight += WEIGHT_NOT_BUILT;
    if (slot->rule == RULE_BELOW || slot->rule == RULE_ABOVE)
        weight += WEIGHT_RUN;
    if (slot->state == PLW_FIELD_CHECK && reading->check == PLW_CHECK_FAILS)
        weight += slot->rule == RULE_REQUIRED ? WEIGHT_CHECK : WEIGHT_CHECK_FREE;
    return weight;
}

int32_t plwi_score(const plw_result *result, const plwi_reading *reading, const plwi_hints *hints)
{
    image_t image = plwi_image(result->tables);
    int32_t score = hints_met(result, image, reading, hints) * WEIGHT_HINT;
    score -= (int32_t)plwi_count_bits(reading->misfit) * WEIGHT_MISFIT;
    score -= (int32_t)plwi_count_bits(reading->misread) * WEIGHT_MISREAD;
    if (plwi_years_empty(reading->years))
        score -= WEIGHT_NO_YEAR;
    for (uint32_t i = 0; i < reading->slot_count; i++)
        score -= weigh_slot(reading, &result->slots[reading->slot + i]);
    return score;
}

/* Stable, so that equal readings keep the order of the tables and the years. */
void plwi_rank(plw_result *result)
{
    for (uint32_t i = 1; i < result->reading_count; i++) {
        uint32_t at = i;
        while (at > 0 && result->readings[at - 1].score < result->readings[i].score)
            at--;
        if (at == i)
            continue;
        plwi_reading moved = result->readings[i];
        memmove(&result->readings[at + 1], &result->readings[at],
                (i - at) * sizeof result->readings[0]);
        result->readings[at] = moved;
    }
}

/* ---- the verb ------------------------------------------------------------ */

/* The result holds the number and nothing else. */
static void read_number(plw_result *result, const plwi_hints *hints)
{
    uint32_t layouts[MAX_LAYOUTS];
    image_t image = plwi_image(result->tables);
    uint32_t count = result->number.count;
    result->length_known =
        count > 0 && count <= MAX_POSITIONS &&
        plwi_u16(plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, count) + LENGTH_COUNT) > 0;
    uint32_t found = plwi_match(image, &result->number, layouts);
    if (found > MAX_LAYOUTS)
        result->capped = 1;
    for (uint32_t i = 0; i < found && i < MAX_LAYOUTS; i++)
        plwi_solve(result, layouts[i], hints);
    plwi_rank(result);
}

void plwi_decode_number(const plw_tables *tables, const plwi_number *number,
                        const plwi_hints *hints, plw_result *result)
{
    plwi_clear(result, tables);
    result->number = *number;
    read_number(result, hints);
}

void plwi_decode(const plw_tables *tables, const char *text, size_t length,
                 const plwi_hints *hints, plw_result *result)
{
    plwi_clear(result, tables);
    plwi_normalise(text, length, &result->number);
    read_number(result, hints);
}

int32_t plwi_verb_arguments(const char *text, size_t length, const char *hints, uint32_t flags,
                            plwi_hints *read)
{
    if (text == NULL && length > 0)
        return PLW_E_ARGUMENT;
    if (flags != 0)
        return PLW_E_FLAGS;
    if (length > PLW_MAX_TEXT)
        return PLW_E_TOO_LONG;
    return plwi_hints_read(hints, read);
}

int32_t plw_decode(const plw_tables *tables, const char *text, size_t length, const char *hints,
                   uint32_t flags, plw_result *result)
{
    plwi_hints read;
    if (result == NULL)
        return PLW_E_ARGUMENT;
    plwi_clear(result, tables);
    int32_t status = plwi_verb_arguments(text, length, hints, flags, &read);
    if (status == PLW_OK)
        plwi_decode(tables, text, length, &read, result);
    return status;
}
