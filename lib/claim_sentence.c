/* SPDX-License-Identifier: MIT
 *
 * A claim in words: the verdict, what decides it, and how sure that is.
 */
#include <string.h>

#include "claims.h"
#include "names.h"
#include "row_text.h"

#define PART(part) (UINT32_C(1) << (part))

typedef struct context {
    plwi_writer *out;
    const plw_result *result;
    image_t image;
    const plwi_claim *claim;
    const plwi_evidence *evidence;
} context;

/* ---- how sure the rows are -------------------------------------------------------- */

int32_t plwi_evidence_standing(image_t image, const plwi_evidence *evidence)
{
    int32_t weakest = PLW_E_ABSENT;
    for (uint32_t i = 0; i < evidence->row_count; i++) {
        int32_t standing = plwi_row(image, evidence->row[i])[ROW_STANDING];
        if (standing > weakest)
            weakest = standing;
    }
    return weakest;
}

uint32_t plwi_evidence_marks(image_t image, const plwi_evidence *evidence)
{
    uint32_t marks = 0;
    for (uint32_t i = 0; i < evidence->row_count; i++)
        marks |= plwi_row(image, evidence->row[i])[ROW_MARKS];
    return marks & MARKS_SERVED;
}

static void put_doubts(const context *c)
{
    int32_t standing = plwi_evidence_standing(c->image, c->evidence);
    uint32_t marks = plwi_evidence_marks(c->image, c->evidence);
    if (standing == PLW_STANDING_MEMORY)
        plwi_put_text(c->out, "; not confirmed by a source");
    if (standing == PLW_STANDING_PRACTICE)
        plwi_put_text(c->out, "; common practice");
    if (marks & PLW_MARK_DISPUTED)
        plwi_put_text(c->out, "; sources differ");
    if (marks & PLW_MARK_DOUBTFUL)
        plwi_put_text(c->out, "; a doubtful entry");
}

/* ---- what the rows say -------------------------------------------------------------- */

#define PER_LITRE 1000000 /* thousandths of a cc */

/* "5.6 L", behind a displacement where the claim speaks of one. */
static void put_litres(plwi_writer *out, const char *name, int64_t thousandths)
{
    if (strcmp(name, "cid") == 0)
        thousandths = (thousandths * 16387064 + 500000) / 1000000;
    else if (strcmp(name, "cc") != 0)
        return;
    int64_t tenths = (thousandths + PER_LITRE / 20) / (PER_LITRE / 10);
    plwi_put_text(out, " (");
    plwi_put_number(out, tenths / 10);
    plwi_put_char(out, '.');
    plwi_put_number(out, tenths % 10);
    plwi_put_text(out, " L)");
}

/* Values that would say nothing without a word behind them. */
static int needs_label(const char *name)
{
    return strcmp(name, "cyl") == 0 || strcmp(name, "doors") == 0 || strcmp(name, "carb") == 0;
}

static void put_value(plwi_writer *out, image_t image, uint32_t fact)
{
    const unsigned char *record = plwi_fact(image, fact);
    const unsigned char *attribute =
        plwi_record(image, SECTION_ATTRIBUTES, 16, plwi_u16(record + FACT_ATTRIBUTE));
    const char *name = plwi_text(image, plwi_u32(attribute + ATTRIBUTE_NAME));
    const char *unit = plwi_text(image, plwi_u32(attribute + ATTRIBUTE_UNIT));
    plwi_put_fact(out, image, fact);
    if (needs_label(name)) {
        plwi_put_char(out, ' ');
        plwi_put_text(out, plwi_text(image, plwi_u32(attribute + ATTRIBUTE_LABEL)));
    } else if (unit[0]) {
        plwi_put_char(out, ' ');
        plwi_put_text(out, unit);
    }
    if (strcmp(name, "hp_gross") == 0)
        plwi_put_text(out, " gross");
    if (strcmp(name, "hp_net") == 0)
        plwi_put_text(out, " net");
    if (attribute[ATTRIBUTE_KIND] == ATTRIBUTE_NUMBER)
        put_litres(out, name, plwi_u32(record + FACT_VALUE));
}

/* The facts that the claim is about. */
static void put_facts(plwi_writer *out, const context *c, uint32_t first, uint32_t count)
{
    int any = 0;
    for (uint32_t i = first; i < first + count; i++) {
        uint32_t attribute = plwi_u16(plwi_fact(c->image, i) + FACT_ATTRIBUTE);
        if (!(c->evidence->attributes >> attribute & 1))
            continue;
        plwi_put_text(out, any++ ? ", " : "");
        put_value(out, c->image, i);
    }
}

#define VALUES_SIZE 400

static void values_of_row(const context *c, uint32_t index, char text[VALUES_SIZE])
{
    const unsigned char *row = plwi_row(c->image, c->evidence->row[index]);
    plwi_writer writer = plwi_writer_on(text, VALUES_SIZE);
    put_facts(&writer, c, plwi_u32(row + ROW_FACT), row[ROW_FACT_COUNT]);
    plwi_writer_end(&writer, NULL);
}

static uint32_t field_of_row(const context *c, uint32_t index)
{
    return plwi_u16(plwi_row(c->image, c->evidence->row[index]) + ROW_FIELD);
}

/* A row that says what one of its field before it said. */
static int is_repeated(const context *c, uint32_t index, const char *values)
{
    char other[VALUES_SIZE];
    for (uint32_t i = 0; i < index; i++) {
        values_of_row(c, i, other);
        if (field_of_row(c, i) == field_of_row(c, index) && strcmp(other, values) == 0)
            return 1;
    }
    return 0;
}

/* "engine W", as it stands in the reading. */
static void put_field(const context *c, uint32_t field)
{
    const plwi_reading *reading = &c->result->readings[c->evidence->reading];
    plwi_put_text(c->out, plwi_label(c->result->names, c->image, field));
    for (uint32_t i = 0; i < reading->slot_count; i++) { /* GCOVR_EXCL_BR_LINE: it is there */
        const plwi_slot *slot = &c->result->slots[reading->slot + i];
        if (plwi_slot_field(c->image, slot) != field)
            continue;
        plwi_put_char(c->out, ' ');
        plwi_put_slot_code(c->out, c->result, reading, slot);
        return;
    }
}

static void put_rows(const context *c)
{
    uint32_t field = PLW_NONE;
    for (uint32_t i = 0; i < c->evidence->row_count; i++) {
        char values[VALUES_SIZE];
        values_of_row(c, i, values);
        if (values[0] == '\0' || is_repeated(c, i, values))
            continue;
        if (field == field_of_row(c, i)) {
            plwi_put_text(c->out, " or ");
        } else {
            plwi_put_text(c->out, field == PLW_NONE ? "" : ", ");
            field = field_of_row(c, i);
            put_field(c, field);
            plwi_put_text(c->out, " says ");
        }
        plwi_put_text(c->out, values);
    }
}

static const unsigned char *scheme_of(const context *c)
{
    const plwi_reading *reading = &c->result->readings[c->evidence->reading];
    return plwi_scheme(c->image, plwi_layout_scheme(c->image, reading->layout));
}

static void put_scheme_facts(const context *c)
{
    const unsigned char *scheme = scheme_of(c);
    plwi_put_text(c->out, "scheme ");
    plwi_put_text(c->out, plwi_text(c->image, plwi_u32(scheme + SCHEME_KEY)));
    plwi_put_text(c->out, " says ");
    put_facts(c->out, c, plwi_u32(scheme + SCHEME_FACT), plwi_u32(scheme + SCHEME_FACT_COUNT));
}

/* "model year 1962 or 1972" */
static void put_model_years(const context *c)
{
    plwi_years years = c->result->readings[c->evidence->reading].years;
    int year = plwi_years_next(years, FIRST_YEAR - 1);
    plwi_put_text(c->out, "it reads as model year ");
    while (year) {
        int next = plwi_years_next(years, year);
        plwi_put_number(c->out, year);
        if (next)
            plwi_put_text(c->out, plwi_years_next(years, next) ? ", " : " or ");
        year = next;
    }
}

static void put_sequence(const context *c)
{
    const plwi_reading *reading = &c->result->readings[c->evidence->reading];
    for (uint32_t i = 0; i < reading->slot_count; i++) { /* GCOVR_EXCL_BR_LINE: it is there */
        const plwi_slot *slot = &c->result->slots[reading->slot + i];
        if (plwi_slot_positions(c->image, slot) != c->evidence->positions)
            continue;
        plwi_put_text(c->out, "it reads ");
        plwi_put_slot_code(c->out, c->result, reading, slot);
        return;
    }
}

static void put_where(const context *c)
{
    uint32_t positions = c->evidence->positions;
    if (positions == 0)
        return;
    plwi_put_text(c->out, positions & (positions - 1) ? " (positions " : " (position ");
    plwi_put_positions(c->out, positions);
    plwi_put_char(c->out, ')');
}

/* What decides, or what leaves it open. */
static void put_evidence(const context *c)
{
    if (c->evidence->parts == PART(PART_YEAR))
        put_model_years(c);
    else if (c->evidence->parts == PART(PART_SEQUENCE))
        put_sequence(c);
    else
        put_rows(c);
    if (c->evidence->from_scheme) {
        plwi_put_text(c->out, c->evidence->row_count ? ", " : "");
        put_scheme_facts(c);
    }
    put_where(c);
}

/* ---- why it is not told --------------------------------------------------------------- */

static void put_forms(const context *c)
{
    if (c->claim->about == CLAIM_ABOUT_COUNT) {
        plwi_put_text(c->out, "claims can be about ");
        for (uint32_t i = 0; i < CLAIM_ABOUT_COUNT; i++) {
            plwi_put_text(c->out, i == 0 ? "" : i + 1 < CLAIM_ABOUT_COUNT ? ", " : " or ");
            plwi_put_text(c->out, plwi_claim_name(i));
        }
    } else {
        plwi_put_text(c->out, "the value is not understood; write ");
        plwi_put_text(c->out, plwi_claim_forms(c->claim->about));
    }
}

static void put_not_coded(const context *c)
{
    plwi_put_text(c->out, "scheme ");
    plwi_put_text(c->out, plwi_text(c->image, plwi_u32(scheme_of(c) + SCHEME_KEY)));
    plwi_put_text(c->out, " does not code it");
}

static void put_supporting(const context *c)
{
    plwi_put_text(c->out, "the readings differ");
    if (c->claim->supporting == NO_READING) {
        plwi_put_text(c->out, ", and none of them supports it");
        return;
    }
    plwi_put_text(c->out, "; reading ");
    plwi_put_number(c->out, c->claim->supporting + 1);
    plwi_put_text(c->out, " would support it");
}

static void put_conflict(const context *c)
{
    if (c->evidence->parts == PART(PART_YEAR)) {
        plwi_put_text(c->out, "its fields exclude each other");
        return;
    }
    plwi_put_text(c->out, "its fields do not agree: ");
    put_evidence(c);
}

/* A phrase, and what the rows say behind it. */
static void put_phrase(const context *c, const char *phrase)
{
    plwi_put_text(c->out, phrase);
    put_evidence(c);
}

static void put_reason(const context *c)
{
    switch (c->evidence->reason) {
    case PLW_REASON_NOT_UNDERSTOOD:
        put_forms(c);
        break;
    case PLW_REASON_NO_READING:
        plwi_put_text(c->out, "it has no reading");
        break;
    case PLW_REASON_NOT_CODED:
        put_not_coded(c);
        break;
    case PLW_REASON_UNREADABLE:
        plwi_put_text(c->out, "not all of it can be read");
        put_where(c);
        break;
    case PLW_REASON_UNKNOWN_CODE:
        plwi_put_text(c->out, "the tables do not know the code");
        put_where(c);
        break;
    case PLW_REASON_NOT_STATED:
        plwi_put_text(c->out, "the tables do not state it");
        put_where(c);
        break;
    case PLW_REASON_SEVERAL_MEANINGS:
        put_phrase(c, "more than one meaning is left: ");
        break;
    case PLW_REASON_NEAR:
        put_phrase(c, "that is too close to decide: ");
        break;
    case PLW_REASON_UNKNOWN_NAME:
        put_phrase(c, "the tables use no such name; ");
        break;
    case PLW_REASON_READINGS_DIFFER:
        put_supporting(c);
        break;
    default: /* PLW_REASON_CONFLICT */
        put_conflict(c);
    }
}

/* ---- the sentence ------------------------------------------------------------------------ */

static void put_claim(const context *c)
{
    const char *text = c->result->claims.text;
    plwi_put(c->out, text + c->claim->name, c->claim->name_length);
    plwi_put_char(c->out, '=');
    plwi_put(c->out, text + c->claim->value, c->claim->value_length);
    plwi_put_text(c->out, ": ");
}

void plwi_put_claim_sentence(plwi_writer *out, const plw_result *result, const plwi_claim *claim)
{
    context c = { out, result, plwi_image(result->tables), claim, &claim->evidence };
    plwi_put_text(out, claim->evidence.verdict == PLW_VERDICT_SUPPORTED ? "The number supports "
                       : claim->evidence.verdict == PLW_VERDICT_CONTRADICTED
                           ? "The number contradicts "
                           : "The number does not tell ");
    put_claim(&c);
    if (claim->evidence.verdict == PLW_VERDICT_NOT_TOLD) {
        put_reason(&c);
    } else {
        put_evidence(&c);
        put_doubts(&c);
        if (claim->evidence.verdict == PLW_VERDICT_CONTRADICTED && result->reading_count > 1)
            plwi_put_text(out, "; no other reading supports it");
    }
    plwi_put_char(out, '.');
}
