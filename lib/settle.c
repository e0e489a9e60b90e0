/* SPDX-License-Identifier: MIT
 *
 * What would settle the model year. Where a scheme leaves several of them open,
 * as 1968 or 1978, some codes belong to one of them only. Such a code is put in
 * the place of its field and the number is solved again, so that what is
 * answered here is what decoding that other number would say.
 */
#include <string.h>

#include "internal.h"

#define MAX_CHOICES 12 /* of a scheme; with more, too much is open to be settled by one code */

static const plwi_years no_years = { 0, 0 };

/* Model years that a code may decide for: all of one reading, or one of those
 * that its year field leaves open. */
typedef struct choice {
    plwi_years years;
    uint32_t reading;
} choice;

typedef struct settler {
    const plw_result *result;
    image_t image;
    uint32_t scheme;
    uint32_t choice_count;
    choice choices[MAX_CHOICES];
    plwi_years open; /* the years of all choices */
    plw_result trial;
} settler;

/* ---- the choices --------------------------------------------------------- */

static int is_year_field(image_t image, const plwi_slot *slot)
{
    return strcmp(plwi_field_name(image, plwi_slot_field(image, slot)), "year") == 0;
}

static uint32_t scheme_of(const plw_result *result, uint32_t reading)
{
    return plwi_layout_scheme(plwi_image(result->tables), result->readings[reading].layout);
}

/* A year code that is read and yet leaves years open: "8" for 1968 and 1978. */
static int year_is_read(const plw_result *result, image_t image, const plwi_reading *reading)
{
    for (uint32_t i = 0; i < reading->slot_count; i++) {
        const plwi_slot *slot = &result->slots[reading->slot + i];
        if (is_year_field(image, slot) && slot->state == PLW_FIELD_KNOWN)
            return 1;
    }
    return 0;
}

/* Readings with the same years, of two layouts, are one choice. */
static void add_choice(settler *s, uint32_t reading, plwi_years years)
{
    for (uint32_t i = 0; i < s->choice_count && i < MAX_CHOICES; i++)
        if (plwi_years_equal(s->choices[i].years, years))
            return;
    if (s->choice_count < MAX_CHOICES) {
        s->choices[s->choice_count].reading = reading;
        s->choices[s->choice_count].years = years;
    }
    s->choice_count++;
    s->open = plwi_years_or(s->open, years);
}

static void add_choices(settler *s, uint32_t index)
{
    const plwi_reading *reading = &s->result->readings[index];
    plwi_years years = reading->years;
    if (!year_is_read(s->result, s->image, reading)) {
        if (!plwi_years_empty(years))
            add_choice(s, index, years);
        return;
    }
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year))
        add_choice(s, index, plwi_years_one(year));
}

static int open_scheme(settler *s, const plw_result *result, uint32_t scheme)
{
    s->result = result;
    s->image = plwi_image(result->tables);
    s->scheme = scheme;
    s->choice_count = 0;
    s->open = no_years;
    s->trial.names = NULL;
    for (uint32_t i = 0; i < result->reading_count; i++)
        if (scheme_of(result, i) == scheme)
            add_choices(s, i);
    return s->choice_count > 1 && s->choice_count <= MAX_CHOICES;
}

/* ---- trying a code -------------------------------------------------------- */

/* The number with the code in its place; 0 when the reading does not take the
 * code there: characters that can be read stay what they are in a field of which
 * others cannot be read. */
static int put_code(settler *s, const plwi_reading *reading, const plwi_slot *slot, uint64_t code)
{
    uint32_t positions = plwi_slot_positions(s->image, slot);
    const unsigned char *layout = plwi_layout(s->image, reading->layout);
    s->trial.number = s->result->number;
    for (unsigned p = MAX_POSITIONS; p-- > 0;) {
        if (!(positions >> p & 1u))
            continue;
        unsigned bit = (unsigned)(code & 63) - 1u;
        uint64_t allowed = slot->state == PLW_FIELD_UNREADABLE
                               ? reading->sets[p]
                               : plwi_class(s->image, layout, p);
        if (bit >= ALPHABET_SIZE || !(allowed >> bit & 1))
            return 0;
        s->trial.number.cell[p].set = UINT64_C(1) << bit;
        code >>= CODE_BITS;
    }
    return code == 0;
}

/* 1 when the number on trial reads in the scheme, and in no year but these. */
static int reads_only_in(settler *s, plwi_years years)
{
    uint32_t layouts[MAX_LAYOUTS];
    plwi_hints none = { NULL, 0, NULL, 0, 0 };
    uint32_t found = plwi_match(s->image, &s->trial.number, layouts);
    for (uint32_t i = 0; i < found && i < MAX_LAYOUTS; i++)
        if (plwi_layout_scheme(s->image, layouts[i]) == s->scheme)
            plwi_solve(&s->trial, layouts[i], &none);
    for (uint32_t i = 0; i < s->trial.reading_count; i++) {
        plwi_years found_years = s->trial.readings[i].years;
        if (plwi_years_empty(found_years) ||
            !plwi_years_empty(plwi_years_without(found_years, years)))
            return 0;
    }
    return s->trial.reading_count > 0 && found <= MAX_LAYOUTS && !s->trial.capped;
}

/* Whether the rows of a code, by themselves, point to the years: some row holds
 * in them, and none holds in other years that are open whatever else the number
 * says. */
static int points_to(const settler *s, const unsigned char *group, plwi_years years)
{
    const unsigned char *field = plwi_field(s->image, plwi_u16(group + GROUP_FIELD));
    plwi_years others = plwi_years_without(s->open, years);
    int points = 0;
    uint32_t first = plwi_u32(group + GROUP_MEMBER);
    for (uint32_t i = first; i < first + plwi_u16(group + GROUP_COUNT); i++) {
        const unsigned char *row = plwi_row(s->image, plwi_member(s->image, i, field));
        plwi_years holds = plwi_year_set(s->image, plwi_u16(row + ROW_YEARS));
        if (row[ROW_CONDITION_COUNT] == 0 && !plwi_years_empty(plwi_years_and(holds, others)))
            return 0;
        points |= !plwi_years_empty(plwi_years_and(holds, years));
    }
    return points;
}

/* Whether a code of a row settles; asked once for each code, at its first row. */
static int settles(settler *s, const choice *c, const plwi_slot *slot, uint32_t row,
                   uint64_t code)
{
    uint32_t field = plwi_slot_field(s->image, slot);
    const unsigned char *group = plwi_find_group(s->image, field, code);
    if (group == NULL ||
        plwi_member(s->image, plwi_u32(group + GROUP_MEMBER), plwi_field(s->image, field)) != row ||
        !points_to(s, group, c->years))
        return 0;
    plwi_clear(&s->trial, s->result->tables);
    return put_code(s, &s->result->readings[c->reading], slot, code) &&
           reads_only_in(s, c->years);
}

/* ---- codes of one field --------------------------------------------------- */

static uint32_t keep_code(uint64_t codes[MAX_SETTLING_CODES], uint32_t count, uint64_t code)
{
    uint32_t at = count;
    for (; at > 0 && codes[at - 1] > code; at--)
        codes[at] = codes[at - 1];
    codes[at] = code;
    return count + 1;
}

/* The codes of a field that settle for a choice, at most enough of them, sorted. */
static uint32_t find_codes(settler *s, const choice *c, const plwi_slot *slot, uint32_t enough,
                           uint64_t codes[MAX_SETTLING_CODES])
{
    const unsigned char *field = plwi_field(s->image, plwi_slot_field(s->image, slot));
    uint32_t row = plwi_u32(field + FIELD_ROW);
    uint32_t end = row + plwi_u32(field + FIELD_ROW_COUNT);
    uint32_t count = 0;
    for (; row < end; row++) {
        const unsigned char *record = plwi_row(s->image, row);
        uint32_t code = plwi_u32(record + ROW_CODE);
        uint32_t last = code + plwi_u16(record + ROW_CODE_COUNT);
        for (; code < last && count < enough; code++)
            if (settles(s, c, slot, row, plwi_code(s->image, code)))
                count = keep_code(codes, count, plwi_code(s->image, code));
    }
    return count;
}

/* Fields whose rows rule out years by their code. A year code that is read is
 * what left the years open. */
static int can_settle(image_t image, const plwi_slot *slot)
{
    uint8_t kind = plwi_field(image, plwi_slot_field(image, slot))[FIELD_KIND];
    return (kind == KIND_CODE || kind == KIND_NARROW) &&
           (slot->state == PLW_FIELD_UNREADABLE || !is_year_field(image, slot));
}

/* ---- the list -------------------------------------------------------------- */

/* By first position, then by field, then by choice. */
static int comes_before(const plw_result *result, const plwi_settling *a, const plwi_settling *b)
{
    image_t image = plwi_image(result->tables);
    const plwi_slot *slot_a = plwi_slot_at(result, a->reading, a->field);
    const plwi_slot *slot_b = plwi_slot_at(result, b->reading, b->field);
    unsigned position_a = plwi_lowest_bit(plwi_slot_positions(image, slot_a));
    unsigned position_b = plwi_lowest_bit(plwi_slot_positions(image, slot_b));
    if (position_a != position_b)
        return position_a < position_b;
    return plwi_slot_field(image, slot_a) < plwi_slot_field(image, slot_b);
}

/* Keeps the first PLW_MAX_SETTLINGS in that order; those of earlier schemes stand
 * before first. */
static uint32_t keep_settling(const plw_result *result, const plwi_settling *settling,
                              uint32_t first, uint32_t count,
                              plwi_settling list[PLW_MAX_SETTLINGS])
{
    uint32_t at = count;
    while (at > first && comes_before(result, settling, &list[at - 1]))
        at--;
    if (at == PLW_MAX_SETTLINGS)
        return count;
    if (count == PLW_MAX_SETTLINGS)
        count--;
    memmove(&list[at + 1], &list[at], (count - at) * sizeof list[0]);
    list[at] = *settling;
    return count + 1;
}

static uint32_t settle_scheme(settler *s, uint32_t first, plwi_settling list[PLW_MAX_SETTLINGS])
{
    uint64_t codes[MAX_SETTLING_CODES];
    uint32_t count = first;
    for (uint32_t i = 0; i < s->choice_count; i++) {
        const choice *c = &s->choices[i];
        const plwi_reading *reading = &s->result->readings[c->reading];
        for (uint32_t f = 0; f < reading->slot_count; f++) {
            const plwi_slot *slot = &s->result->slots[reading->slot + f];
            plwi_settling settling = { c->years, c->reading, f };
            if (can_settle(s->image, slot) && find_codes(s, c, slot, 1, codes) > 0)
                count = keep_settling(s->result, &settling, first, count, list);
        }
    }
    return count;
}

/* 1 for the best reading of its scheme. */
static int leads_scheme(const plw_result *result, uint32_t reading)
{
    for (uint32_t i = 0; i < reading; i++)
        if (scheme_of(result, i) == scheme_of(result, reading))
            return 0;
    return 1;
}

uint32_t plwi_settlings(const plw_result *result, plwi_settling list[PLW_MAX_SETTLINGS])
{
    settler s;
    uint32_t count = 0;
    for (uint32_t i = 0; i < result->reading_count; i++)
        if (leads_scheme(result, i) && open_scheme(&s, result, scheme_of(result, i)))
            count = settle_scheme(&s, count, list);
    return count;
}

uint32_t plwi_settling_codes(const plw_result *result, const plwi_settling *settling,
                             uint64_t codes[MAX_SETTLING_CODES])
{
    settler s;
    choice c = { settling->years, settling->reading };
    open_scheme(&s, result, scheme_of(result, settling->reading));
    return find_codes(&s, &c, plwi_slot_at(result, settling->reading, settling->field),
                      MAX_SETTLING_CODES, codes);
}

/* ---- what a host may ask ---------------------------------------------------- */

static int settling_at(const plw_result *result, uint32_t index, plwi_settling *settling)
{
    plwi_settling list[PLW_MAX_SETTLINGS];
    if (result == NULL || index >= plwi_settlings(result, list))
        return 0;
    *settling = list[index];
    return 1;
}

uint32_t plw_settling_count(const plw_result *result)
{
    plwi_settling list[PLW_MAX_SETTLINGS];
    return result ? plwi_settlings(result, list) : 0;
}

uint32_t plw_settling_reading(const plw_result *result, uint32_t settling)
{
    plwi_settling found;
    return settling_at(result, settling, &found) ? found.reading : PLW_NONE;
}

uint32_t plw_settling_field(const plw_result *result, uint32_t settling)
{
    plwi_settling found;
    return settling_at(result, settling, &found) ? found.field : PLW_NONE;
}

uint32_t plw_settling_year_count(const plw_result *result, uint32_t settling)
{
    plwi_settling found;
    return settling_at(result, settling, &found) ? plwi_years_count(found.years) : 0;
}

int32_t plw_settling_year(const plw_result *result, uint32_t settling, uint32_t index)
{
    plwi_settling found;
    return settling_at(result, settling, &found) ? plwi_years_at(found.years, index) : 0;
}

void plwi_put_settling_code(plwi_writer *writer, uint64_t code)
{
    unsigned shift = CODE_BITS * (MAX_CODE_WIDTH - 1);
    while (shift > 0 && code >> shift == 0)
        shift -= CODE_BITS;
    for (;; shift -= CODE_BITS) {
        plwi_put_char(writer, plwi_character((unsigned)(code >> shift & 63) - 1));
        if (shift == 0)
            return;
    }
}

#define CODES_NAMED 12u /* in words; the others are counted */

void plwi_put_settling_codes(plwi_writer *writer, const uint64_t *codes, uint32_t count)
{
    uint32_t named = count > CODES_NAMED ? CODES_NAMED : count;
    for (uint32_t i = 0; i < named; i++) {
        if (i > 0)
            plwi_put_text(writer, i + 1 == count ? " or " : ", ");
        plwi_put_settling_code(writer, codes[i]);
    }
    if (count > named) {
        plwi_put_text(writer, " or ");
        plwi_put_number(writer, count - named);
        plwi_put_text(writer, " more");
    }
}

int32_t plw_settling_codes(const plw_result *result, uint32_t settling, char *buffer,
                           size_t capacity, size_t *needed)
{
    uint64_t codes[MAX_SETTLING_CODES];
    plwi_settling found;
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (!settling_at(result, settling, &found))
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_settling_codes(&writer, codes, plwi_settling_codes(result, &found, codes));
    return plwi_writer_end(&writer, needed);
}
