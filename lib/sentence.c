/* SPDX-License-Identifier: MIT
 *
 * A finding in words: the sentence of the vocabulary with its places filled in.
 */
#include <string.h>

#include "internal.h"
#include "names.h"
#include "row_text.h"

/* Everything a place may need. */
typedef struct context {
    plwi_writer *out;
    const plw_result *result;
    image_t image;
    const plwi_finding *finding;
    const plwi_reading *reading; /* NULL when it speaks of the whole number */
    const plwi_slot *slot;       /* NULL likewise */
} context;

/* ---- small pieces ------------------------------------------------------------ */

void plwi_put_years(plwi_writer *writer, plwi_years years)
{
    int any = 0;
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;) {
        int last = year;
        while (plwi_years_has(years, last + 1))
            last++;
        if (any)
            plwi_put_text(writer, ", ");
        plwi_put_number(writer, year);
        if (last > year) {
            plwi_put_char(writer, '-');
            plwi_put_number(writer, last);
        }
        any = 1;
        year = plwi_years_next(years, last);
    }
}

/* "A, B or 7" */
static void put_choice(plwi_writer *out, uint64_t set)
{
    for (unsigned c = 0; c < ALPHABET_SIZE; c++) {
        if (!(set >> c & 1))
            continue;
        plwi_put_char(out, plwi_character(c));
        set &= ~(UINT64_C(1) << c);
        if (set)
            plwi_put_text(out, plwi_is_single(set) ? " or " : ", ");
    }
}

/* A class of characters in words, when it has some; else the characters. */
static void put_class(plwi_writer *out, uint64_t set)
{
    const uint64_t digits = 0x3FF, letters = ALL_CHARACTERS & ~digits;
    if (set == digits)
        plwi_put_text(out, "a digit");
    else if (set == letters)
        plwi_put_text(out, "a letter");
    else if (set == ALL_CHARACTERS)
        plwi_put_text(out, "any letter or digit");
    else
        put_choice(out, set);
}

static unsigned lowest_position(uint32_t positions)
{
    unsigned p = 0;
    while (p < MAX_POSITIONS - 1 && !(positions >> p & 1))
        p++;
    return p;
}

void plwi_put_positions(plwi_writer *out, uint32_t positions)
{
    int any = 0;
    for (unsigned p = 0; p < MAX_POSITIONS; p++) {
        unsigned last = p;
        if (!(positions >> p & 1))
            continue;
        while (last + 1 < MAX_POSITIONS && positions >> (last + 1) & 1)
            last++;
        if (any)
            plwi_put_text(out, ", ");
        plwi_put_number(out, p + 1);
        if (last > p) {
            plwi_put_char(out, '-');
            plwi_put_number(out, last + 1);
        }
        any = 1;
        p = last;
    }
}

static const char *label_of(const context *c, const plwi_slot *slot)
{
    return plwi_label(c->result->names, c->image, plwi_slot_field(c->image, slot));
}

/* The field of any reading that a position belongs to. */
static const plwi_slot *slot_over(const context *c, uint32_t position)
{
    uint32_t count = c->result->reading_count;
    for (uint32_t r = 0; r < count; r++) {
        const plwi_reading *reading = &c->result->readings[r];
        if (c->reading && c->reading != reading)
            continue;
        for (uint32_t i = 0; i < reading->slot_count; i++) {
            const plwi_slot *slot = &c->result->slots[reading->slot + i];
            if (!slot->overlay && plwi_slot_positions(c->image, slot) >> position & 1)
                return slot;
        }
    }
    return NULL;
}

static const char *row_words(const context *c, uint32_t row)
{
    return plwi_words(c->result->names, c->image, row);
}

/* ---- the places, one function each -------------------------------------------- */

static void put_position_list(const context *c)
{
    plwi_put_positions(c->out, c->finding->positions);
}

static void put_typed(const context *c)
{
    plwi_put_typed(c->out, &c->result->number.cell[lowest_position(c->finding->positions)]);
}

static void put_read(const context *c)
{
    put_choice(c->out, c->reading->sets[lowest_position(c->finding->positions)]);
}

static void put_allowed(const context *c)
{
    put_class(c->out, c->reading->sets[lowest_position(c->finding->positions)]);
}

static void put_possible(const context *c)
{
    put_class(c->out, c->finding->set);
}

static void put_field(const context *c)
{
    const plwi_slot *slot =
        c->slot ? c->slot : slot_over(c, lowest_position(c->finding->positions));
    plwi_put_text(c->out, slot ? label_of(c, slot) : "the number");
}

static void put_code(const context *c)
{
    plwi_put_slot_code(c->out, c->result, c->reading, c->slot);
}

static void put_for_years(const context *c)
{
    if (plwi_years_empty(c->reading->years))
        return;
    plwi_put_text(c->out, " for ");
    plwi_put_years(c->out, c->reading->years);
}

static void put_count(const context *c)
{
    plwi_put_number(c->out, c->finding->code == PLW_FINDING_SEVERAL_READINGS
                                ? c->finding->slots
                                : c->result->number.count);
}

static int has_layouts(const context *c, uint32_t length)
{
    return plwi_u16(plwi_record(c->image, SECTION_LENGTHS, LENGTH_SIZE, length) + LENGTH_COUNT) > 0;
}

/* The nearest length below and above. */
static void put_lengths(const context *c)
{
    uint32_t count = c->result->number.count, below = count, above = count;
    if (below > MAX_POSITIONS)
        below = MAX_POSITIONS + 1;
    while (below > 0 && !has_layouts(c, --below))
        ;
    while (above < MAX_POSITIONS && !has_layouts(c, ++above))
        ;
    int any_below = has_layouts(c, below), any_above = above > count && has_layouts(c, above);
    if (any_below)
        plwi_put_number(c->out, below);
    if (any_below && any_above)
        plwi_put_text(c->out, " and ");
    if (any_above)
        plwi_put_number(c->out, above);
}

/* Under which conditions the tables do know the code. */
static void put_known_conditions(const context *c)
{
    uint32_t field = plwi_slot_field(c->image, c->slot);
    const unsigned char *record = plwi_field(c->image, field);
    uint32_t first = plwi_u32(record + FIELD_ROW), any = 0;
    for (uint32_t i = first; i < first + plwi_u32(record + FIELD_ROW_COUNT) && any < 3; i++) {
        if (!plwi_row_reads(c->image, i, c->reading, plwi_slot_positions(c->image, c->slot)) ||
            plwi_row(c->image, i)[ROW_CONDITION_COUNT] == 0)
            continue;
        plwi_put_text(c->out, any++ ? "; or " : "");
        plwi_put_condition(c->out, c->image, c->result->names, i);
        plwi_put_text(c->out, " (");
        plwi_put_years(c->out, plwi_year_set(c->image,
                                             plwi_u16(plwi_row(c->image, i) + ROW_YEARS)));
        plwi_put_char(c->out, ')');
    }
    if (any == 0)
        plwi_put_text(c->out, "other fields read differently");
}

/* "body 27 needs 1962-1970; engine Z needs 1968" */
static void put_conflict(const context *c)
{
    int any = 0;
    for (uint32_t i = 0; i < c->reading->slot_count; i++) {
        const plwi_slot *slot = &c->result->slots[c->reading->slot + i];
        if (!(c->finding->slots >> i & 1))
            continue;
        plwi_put_text(c->out, any++ ? "; " : "");
        plwi_put_text(c->out, label_of(c, slot));
        plwi_put_char(c->out, ' ');
        plwi_put_slot_code(c->out, c->result, c->reading, slot);
        plwi_put_text(c->out, " needs ");
        plwi_put_years(c->out, slot->years);
    }
}

static void put_expected(const context *c)
{
    plwi_put_char(c->out, (char)c->reading->expected);
}

static void put_market(const context *c)
{
    plwi_put_text(c->out, row_words(c, c->slot->rule_row));
}

/* One end of the run that a number lies outside of. */
static void put_run_end(const context *c, uint32_t offset)
{
    const unsigned char *row = plwi_row(c->image, c->slot->rule_row);
    uint32_t last = offset ? plwi_u16(row + ROW_CODE_COUNT) - 1u : 0;
    plwi_put_code(c->out, plwi_code(c->image, plwi_u32(row + ROW_CODE) + last));
}

static void put_start(const context *c)
{
    put_run_end(c, 0);
}

static void put_end(const context *c)
{
    put_run_end(c, 1);
}

/* The fields a combination is made of, with what their codes mean, and the
 * rule that closes it. */
static void put_combination(const context *c)
{
    uint32_t positions = c->finding->positions;
    int any = 0;
    for (uint32_t i = 0; i < c->reading->slot_count; i++) {
        const plwi_slot *slot = &c->result->slots[c->reading->slot + i];
        uint32_t own = plwi_slot_positions(c->image, slot);
        if (slot->overlay || (own & positions) != own)
            continue;
        plwi_put_text(c->out, any++ ? " with " : "");
        plwi_put_text(c->out, label_of(c, slot));
        plwi_put_char(c->out, ' ');
        plwi_put_slot_code(c->out, c->result, c->reading, slot);
        if (slot->row_count > 0) {
            plwi_put_text(c->out, " (");
            plwi_put_text(c->out, row_words(c, c->result->rows[slot->row]));
            plwi_put_char(c->out, ')');
        }
    }
    plwi_put_text(c->out, any ? ", " : "");
    plwi_put_years(c->out, c->reading->years);
    plwi_put_text(c->out, "; ");
    plwi_put_text(c->out, row_words(c, c->slot->rule_row));
}

/* The meanings of a code, each with the sources behind it. */
static void put_meanings(const context *c)
{
    for (uint32_t i = 0; i < c->slot->row_count; i++) {
        uint32_t index = c->result->rows[c->slot->row + i];
        const unsigned char *row = plwi_row(c->image, index);
        plwi_put_text(c->out, i ? "; or " : "");
        plwi_put_text(c->out, row_words(c, index));
        const unsigned char *note = plwi_note(c->image, row);
        uint32_t first = plwi_u32(note + NOTE_CITATION);
        uint32_t count = plwi_u16(note + NOTE_CITATION_COUNT);
        plwi_put_text(c->out, " (");
        if (row[ROW_STANDING] != STANDING_PUBLISHED)
            plwi_put_text(c->out, plw_standing_name(row[ROW_STANDING]));
        for (uint32_t k = 0; k < count; k++) {
            plwi_put_text(c->out, k || row[ROW_STANDING] != STANDING_PUBLISHED ? ", " : "");
            plwi_put_text(c->out, plw_source_key(c->result->tables,
                                                 plwi_citation(c->image, first + k)));
        }
        plwi_put_char(c->out, ')');
    }
}

static void put_fields(const context *c)
{
    int any = 0;
    for (uint32_t i = 0; i < c->reading->slot_count; i++) {
        if (!(c->finding->slots >> i & 1))
            continue;
        const plwi_slot *slot = &c->result->slots[c->reading->slot + i];
        plwi_put_text(c->out, any++ ? ", " : "");
        plwi_put_text(c->out, label_of(c, slot));
        plwi_put_char(c->out, ' ');
        plwi_put_slot_code(c->out, c->result, c->reading, slot);
    }
}

/* ---- filling in ------------------------------------------------------------------ */

enum needs { NEEDS_NOTHING, NEEDS_READING, NEEDS_SLOT, NEEDS_RULE };

typedef struct place {
    const char *name;
    enum needs needs;
    void (*put)(const context *c);
} place;

static const place places[] = {
    { "positions", NEEDS_NOTHING, put_position_list },
    { "typed", NEEDS_NOTHING, put_typed },
    { "possible", NEEDS_NOTHING, put_possible },
    { "field", NEEDS_NOTHING, put_field },
    { "count", NEEDS_NOTHING, put_count },
    { "lengths", NEEDS_NOTHING, put_lengths },
    { "read", NEEDS_READING, put_read },
    { "allowed", NEEDS_READING, put_allowed },
    { "years", NEEDS_READING, put_for_years },
    { "conflict", NEEDS_READING, put_conflict },
    { "expected", NEEDS_READING, put_expected },
    { "fields", NEEDS_READING, put_fields },
    { "code", NEEDS_SLOT, put_code },
    { "condition", NEEDS_SLOT, put_known_conditions },
    { "meanings", NEEDS_SLOT, put_meanings },
    { "market", NEEDS_RULE, put_market },
    { "start", NEEDS_RULE, put_start },
    { "end", NEEDS_RULE, put_end },
    { "combination", NEEDS_RULE, put_combination },
};

/* Another vocabulary may use a place where it has no meaning; it then stays
 * empty. */
static int can_fill(const context *c, enum needs needs)
{
    return needs == NEEDS_NOTHING || (needs == NEEDS_READING && c->reading) ||
           (needs == NEEDS_SLOT && c->slot) ||
           (needs == NEEDS_RULE && c->slot && c->slot->rule != RULE_NONE);
}

static void put_place(const context *c, const char *name, size_t length)
{
    for (size_t i = 0; i < sizeof places / sizeof *places; i++)
        if (strlen(places[i].name) == length && memcmp(places[i].name, name, length) == 0 &&
            can_fill(c, places[i].needs))
            places[i].put(c);
}

/* Sentences start with a capital, also where a place stands first. */
static void raise_first_letter(plwi_writer *out, size_t start)
{
    if (start < out->length && start < out->capacity && out->buffer[start] >= 'a' &&
        out->buffer[start] <= 'z')
        out->buffer[start] = (char)(out->buffer[start] - 'a' + 'A');
}

void plwi_put_sentence(plwi_writer *writer, const plw_result *result, const plwi_finding *finding)
{
    image_t image = plwi_image(result->tables);
    const unsigned char *record = plwi_finding_record(image, finding->code);
    context c = { writer, result, image, finding, NULL, NULL };
    size_t start = writer->length;
    if (finding->reading != NO_READING) {
        c.reading = &result->readings[finding->reading];
        if (finding->slot != NO_SLOT)
            c.slot = &result->slots[c.reading->slot + finding->slot];
    }
    const char *text = plwi_text(image, plwi_u32(record + FINDING_SENTENCE));
    for (const char *open; (open = strchr(text, '{')) != NULL;) {
        const char *close = strchr(open, '}');
        plwi_put(writer, text, (size_t)(open - text));
        put_place(&c, open + 1, (size_t)(close - open - 1));
        text = close + 1;
    }
    plwi_put_text(writer, text);
    raise_first_letter(writer, start);
}
