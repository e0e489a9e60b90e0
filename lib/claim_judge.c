/* SPDX-License-Identifier: MIT
 *
 * What one reading says to a claim. Each part of the claim is held against the
 * rows of the fields that state it; fields that only add detail are asked where
 * the others are silent. What the tables do not know never contradicts.
 */
#include <string.h>

#include "claims.h"

#define PART(part) (UINT32_C(1) << (part))

typedef plwi_judge judge;

/* ---- attributes that state a part --------------------------------------------- */

#define MOST_NAMES 3

typedef char attribute_names[MOST_NAMES][12];

static const attribute_names names_of_part[PART_COUNT] = {
    [PART_BODY] = { "body" },           [PART_DOORS] = { "doors" },
    [PART_VOLUME] = { "cid", "cc" },    [PART_CYLINDERS] = { "cyl" },
    [PART_CARBURATION] = { "carb" },    [PART_POWER] = { "hp_gross", "hp_net" },
    [PART_FUEL] = { "fuel" },
};

/* A name may be claimed of more than one attribute: who sold the car as whose. */
static const attribute_names names_of_text[CLAIM_ABOUT_COUNT] = {
    [CLAIM_MAKER] = { "maker", "division", "brand" },
    [CLAIM_DIVISION] = { "division", "brand" },
    [CLAIM_LINE] = { "line" },
    [CLAIM_SERIES] = { "series" },
    [CLAIM_MODEL] = { "line", "series" },
    [CLAIM_PLANT] = { "place" },
    [CLAIM_COUNTRY] = { "country" },
};

static const unsigned char *attribute_at(image_t image, uint32_t index)
{
    return plwi_record(image, SECTION_ATTRIBUTES, 16, index);
}

static const char *attribute_name(image_t image, uint32_t index)
{
    return plwi_text(image, plwi_u32(attribute_at(image, index) + ATTRIBUTE_NAME));
}

static uint64_t attributes_named(image_t image, const attribute_names *names)
{
    uint64_t set = 0;
    for (uint32_t i = 0; i < plwi_count(image, SECTION_ATTRIBUTES); i++)
        for (unsigned k = 0; k < MOST_NAMES && (*names)[k][0]; k++)
            if (strcmp(attribute_name(image, i), (*names)[k]) == 0)
                set |= UINT64_C(1) << i;
    return set;
}

/* ---- one fact ---------------------------------------------------------------------- */

static enum outcome compare(int64_t stated, int64_t wanted)
{
    return stated == wanted ? AGREES : DIFFERS;
}

/* Displacements are held against each other in units of 2^-1 * 10^-9 cc: a cubic
 * inch is 16.387064 cc exactly, and a figure is good to half a step. */
#define PER_CC INT64_C(1000000)
#define PER_CU_IN INT64_C(16387064)
#define CC_PER_LITRE 1000

typedef struct span {
    int64_t low;
    int64_t high; /* the first value above it */
} span;

static span span_of(int64_t thousandths, int64_t step, int64_t scale)
{
    span s = { (2 * thousandths - step) * scale, (2 * thousandths + step) * scale };
    return s;
}

/* The last figure that a table gives: 1490 is good to one, 96.7 to a tenth. */
static int64_t stated_step(int64_t thousandths)
{
    int64_t step = 1000;
    while (thousandths % step != 0)
        step /= 10;
    return step;
}

static int spans_meet(span a, span b)
{
    return a.low < b.high && b.low < a.high;
}

static enum outcome compare_span(span stated, const plwi_wanted *wanted, int64_t scale)
{
    if (spans_meet(stated, span_of(wanted->volume, wanted->step, scale)))
        return AGREES;
    return DIFFERS;
}

/* Litres: the figure of the trade may be one tenth off what the rounding gives. */
static enum outcome compare_litres(span stated, const plwi_wanted *wanted)
{
    const int64_t scale = PER_CC * CC_PER_LITRE;
    if (compare_span(stated, wanted, scale) == AGREES)
        return AGREES;
    return spans_meet(stated, span_of(wanted->volume, 3 * wanted->step, scale)) &&
                   wanted->step == 100
               ? NEAR
               : DIFFERS;
}

static enum outcome compare_volume(const char *name, int64_t stated, const plwi_wanted *wanted)
{
    int64_t scale = strcmp(name, "cid") == 0 ? PER_CU_IN : PER_CC;
    span s = span_of(stated, stated_step(stated), scale);
    enum outcome as_cc;
    switch (wanted->unit) {
    case VOLUME_LITRE:
        return compare_litres(s, wanted);
    case VOLUME_CC:
        return compare_span(s, wanted, PER_CC);
    case VOLUME_CU_IN:
        return compare_span(s, wanted, PER_CU_IN);
    default:
        as_cc = compare_span(s, wanted, PER_CC);
        return as_cc == AGREES ? as_cc : compare_span(s, wanted, PER_CU_IN);
    }
}

/* Doors of a car with a tailgate are counted with it or without. */
static enum outcome compare_doors(int64_t stated, const plwi_wanted *wanted)
{
    int64_t doors = wanted->doors * INT64_C(1000);
    int64_t low = stated < doors ? stated : doors, high = stated < doors ? doors : stated;
    if (high - low == 1000 && (low == 2000 || low == 4000))
        return NEAR;
    return compare(stated, doors);
}

static enum outcome compare_power(const char *name, int64_t stated, const plwi_wanted *wanted)
{
    int basis = strcmp(name, "hp_net") == 0 ? BASIS_NET : BASIS_GROSS;
    if (wanted->basis != BASIS_OPEN && wanted->basis != basis)
        return SILENT;
    return compare(stated, wanted->power);
}

static enum outcome compare_body(const char *stated, const plwi_wanted *wanted)
{
    uint32_t body = plwi_body(stated);
    if (body == 0)
        return SILENT;
    if ((body & wanted->bodies) != 0)
        return AGREES;
    return (body & wanted->near_bodies) != 0 ? NEAR : DIFFERS;
}

static enum outcome compare_carburation(const char *stated, const plwi_wanted *wanted)
{
    int32_t carburettors, barrels;
    if (!plwi_read_barrels(stated, &carburettors, &barrels))
        return SILENT;
    int agrees = (!wanted->carburettors || wanted->carburettors == carburettors) &&
                 (!wanted->barrels || wanted->barrels == barrels) &&
                 (!wanted->all_barrels || wanted->all_barrels == carburettors * barrels);
    return agrees ? AGREES : DIFFERS;
}

/* A name agrees when it is the stated one or a run of its words, "Ford" of "Ford
 * Motor Company". One that says more than the tables is near. */
static enum outcome compare_text(const char *stated, const plwi_wanted *wanted)
{
    char plain[PLAIN_SIZE];
    if (!plwi_plain(stated, strlen(stated), plain))
        return SILENT;
    if (strstr(plain, wanted->text) != NULL)
        return AGREES;
    return strstr(wanted->text, plain) != NULL ? NEAR : DIFFERS;
}

static enum outcome judge_number(const char *name, int64_t stated, unsigned part,
                                 const plwi_wanted *wanted)
{
    switch (part) {
    case PART_DOORS:
        return compare_doors(stated, wanted);
    case PART_VOLUME:
        return compare_volume(name, stated, wanted);
    case PART_CYLINDERS:
        return compare(stated, wanted->cylinders * INT64_C(1000));
    case PART_POWER:
        return compare_power(name, stated, wanted);
    default: /* another vocabulary has a number for what is a word here */
        return SILENT;
    }
}

static enum outcome judge_word(const char *stated, unsigned part, const plwi_wanted *wanted)
{
    switch (part) {
    case PART_BODY:
        return compare_body(stated, wanted);
    case PART_CARBURATION:
        return compare_carburation(stated, wanted);
    case PART_FUEL:
        return strcmp(stated, wanted->fuel) == 0 ? AGREES : DIFFERS;
    case PART_TEXT:
        return compare_text(stated, wanted);
    default: /* or a word for what is a number */
        return SILENT;
    }
}

static enum outcome judge_fact(const judge *j, uint32_t index, unsigned part)
{
    const unsigned char *fact = plwi_fact(j->image, index);
    uint32_t attribute = plwi_u16(fact + FACT_ATTRIBUTE);
    uint32_t value = plwi_u32(fact + FACT_VALUE);
    if (!(j->attributes[part] >> attribute & 1))
        return SILENT;
    if (attribute_at(j->image, attribute)[ATTRIBUTE_KIND] == ATTRIBUTE_NUMBER)
        return judge_number(attribute_name(j->image, attribute), value, part, j->wanted);
    return judge_word(plwi_text(j->image, value), part, j->wanted);
}

/* ---- facts, rows and fields ------------------------------------------------------------ */

/* Facts of one row stand beside each other: the best of them counts. */
static enum outcome judge_facts(const judge *j, uint32_t first, uint32_t count, unsigned part)
{
    enum outcome best = SILENT;
    for (uint32_t i = first; i < first + count; i++) {
        enum outcome one = judge_fact(j, i, part);
        if (one == AGREES || best == SILENT || (one == NEAR && best == DIFFERS))
            best = one;
    }
    return best;
}

static enum outcome judge_row(const judge *j, const unsigned char *row, unsigned part)
{
    return judge_facts(j, plwi_u32(row + ROW_FACT), row[ROW_FACT_COUNT], part);
}

/* A row that agrees in one part and differs in another is not what is claimed. */
static enum outcome judge_whole_row(const judge *j, const unsigned char *row, unsigned part)
{
    enum outcome own = judge_row(j, row, part);
    for (unsigned other = 0; other < PART_COUNT && own == AGREES; other++)
        if ((j->wanted->parts & PART(other)) && judge_row(j, row, other) == DIFFERS)
            own = DIFFERS;
    return own;
}

/* 1 when the tables know every character that an unreadable field can have. */
static int is_closed(const judge *j, const plwi_slot *slot)
{
    uint32_t positions = plwi_slot_positions(j->image, slot);
    for (; positions; positions &= positions - 1) {
        uint32_t p = plwi_lowest_bit(positions);
        if (plwi_possible(j->result, j->reading, p) != j->reading->sets[p])
            return 0;
    }
    return 1;
}

static enum outcome judge_empty_slot(const plwi_slot *slot)
{
    if (slot->overlay)
        return SILENT;
    if (slot->state == PLW_FIELD_UNREADABLE)
        return MIXED;
    return UNKNOWN;
}

enum outcome plwi_join_outcomes(const uint32_t found[OUTCOME_COUNT], unsigned marks)
{
    uint32_t count = 0;
    for (unsigned i = 0; i < OUTCOME_COUNT; i++)
        count += found[i];
    if (found[AGREES] && (found[AGREES] == count || (marks & MARK_DISPUTED)))
        return AGREES;
    if (found[DIFFERS] && found[DIFFERS] == count)
        return DIFFERS;
    if (!found[AGREES] && !found[DIFFERS])
        return found[NEAR] ? NEAR : SILENT;
    return MIXED;
}

/* The rows of a field are alternatives: they decide when they are of one voice,
 * or when sources differ and one of them agrees. */
static enum outcome judge_slot(const judge *j, const plwi_slot *slot, unsigned part)
{
    uint32_t found[OUTCOME_COUNT] = { 0 };
    unsigned marks = 0;
    if (slot->row_count == 0)
        return judge_empty_slot(slot);
    for (uint32_t i = 0; i < slot->row_count; i++) {
        const unsigned char *row = plwi_row(j->image, j->result->rows[slot->row + i]);
        found[judge_whole_row(j, row, part)]++;
        marks |= row[ROW_MARKS];
    }
    found[SILENT] += slot->cut;
    enum outcome outcome = plwi_join_outcomes(found, marks);
    if (outcome == DIFFERS && slot->state == PLW_FIELD_UNREADABLE && !is_closed(j, slot))
        return MIXED;
    return outcome;
}

/* ---- evidence ------------------------------------------------------------------------------ */

static void add_row(plwi_evidence *evidence, uint32_t row)
{
    for (uint32_t i = 0; i < evidence->row_count; i++)
        if (evidence->row[i] == row)
            return;
    if (evidence->row_count < PLW_MAX_CLAIM_ROWS)
        evidence->row[evidence->row_count++] = row;
}

static void add_slot(const judge *j, const plwi_slot *slot, unsigned part, plwi_evidence *evidence)
{
    evidence->positions |= plwi_slot_positions(j->image, slot);
    for (uint32_t i = 0; i < slot->row_count; i++) {
        uint32_t row = j->result->rows[slot->row + i];
        if (judge_row(j, plwi_row(j->image, row), part) != SILENT)
            add_row(evidence, row);
    }
}

static int provides(const judge *j, const plwi_slot *slot, unsigned part)
{
    const unsigned char *field = plwi_field(j->image, plwi_slot_field(j->image, slot));
    return (plwi_u64(field + FIELD_PROVIDES) & j->attributes[part]) != 0;
}

/* What all fields of a kind, and the facts of the scheme, say to one part. */
typedef struct poll {
    uint32_t found[OUTCOME_COUNT];
    uint32_t unreadable; /* fields that are mixed because they cannot be read */
    enum outcome scheme;
    int overlays;        /* fields that add detail were asked, too */
} poll;

enum outcome plwi_scheme_outcome(const plwi_judge *j, uint32_t index, unsigned part)
{
    const unsigned char *scheme = plwi_scheme(j->image, index);
    return judge_facts(j, plwi_u32(scheme + SCHEME_FACT), plwi_u32(scheme + SCHEME_FACT_COUNT),
                       part);
}

static enum outcome judge_scheme(const judge *j, unsigned part)
{
    return plwi_scheme_outcome(j, plwi_layout_scheme(j->image, j->reading->layout), part);
}

static void ask_fields(const judge *j, unsigned part, poll *p)
{
    for (uint32_t i = 0; i < j->reading->slot_count; i++) {
        const plwi_slot *slot = &j->result->slots[j->reading->slot + i];
        if (slot->overlay != p->overlays || !provides(j, slot, part))
            continue;
        enum outcome one = judge_slot(j, slot, part);
        p->found[one]++;
        p->unreadable += one == MIXED && slot->state == PLW_FIELD_UNREADABLE;
    }
}

static int spoke(const poll *p)
{
    return p->found[AGREES] + p->found[DIFFERS] + p->found[MIXED] + p->found[NEAR] > 0;
}

/* Adds the fields with that outcome. */
static void collect(const judge *j, unsigned part, const poll *p, enum outcome outcome,
                    plwi_evidence *evidence)
{
    evidence->from_scheme |= p->scheme == outcome && outcome != SILENT;
    for (uint32_t i = 0; i < j->reading->slot_count; i++) {
        const plwi_slot *slot = &j->result->slots[j->reading->slot + i];
        if (slot->overlay <= p->overlays && provides(j, slot, part) &&
            judge_slot(j, slot, part) == outcome)
            add_slot(j, slot, part, evidence);
    }
}

/* ---- a part that rows state --------------------------------------------- */

/* A cheap look before the two are held against each other. */
static int begin_alike(const char *stated, const char *plain)
{
    char first = plwi_small(stated[0]);
    return first == plain[1] || first < '0' || (first > '9' && first < 'a') || first > 'z';
}

/* A name can only contradict when the tables use it for something else: it may
 * be another word for the same thing. */
int plwi_is_known_name(const plwi_judge *j)
{
    char plain[PLAIN_SIZE];
    for (uint32_t i = 0; i < plwi_count(j->image, SECTION_FACTS); i++) {
        const unsigned char *fact = plwi_fact(j->image, i);
        uint32_t attribute = plwi_u16(fact + FACT_ATTRIBUTE);
        if (!(j->attributes[PART_TEXT] >> attribute & 1) ||
            attribute_at(j->image, attribute)[ATTRIBUTE_KIND] != ATTRIBUTE_TEXT)
            continue;
        const char *stated = plwi_text(j->image, plwi_u32(fact + FACT_VALUE));
        if (begin_alike(stated, j->wanted->text) &&
            plwi_plain(stated, strlen(stated), plain) && strcmp(plain, j->wanted->text) == 0)
            return 1;
    }
    return 0;
}

uint64_t plwi_maker_attributes(image_t image)
{
    static const attribute_names names = { "maker", "brand" };
    return attributes_named(image, &names);
}

int plwi_is_unheard_name(const plwi_judge *j)
{
    int others = 0;
    for (uint32_t i = 0; i < plwi_count(j->image, SECTION_FACTS); i++) {
        enum outcome one = judge_fact(j, i, PART_TEXT);
        if (one == AGREES || one == NEAR)
            return 0;
        others |= one == DIFFERS;
    }
    return others;
}

static void not_told(plwi_evidence *evidence, int reason)
{
    evidence->verdict = PLW_VERDICT_NOT_TOLD;
    evidence->reason = (uint8_t)reason;
}

/* What is left open, the clearest reason first. */
static void leave_open(const judge *j, unsigned part, const poll *p, plwi_evidence *evidence)
{
    static const enum outcome order[] = { MIXED, NEAR, UNKNOWN, SILENT };
    static const uint8_t reasons[OUTCOME_COUNT] = {
        [MIXED] = PLW_REASON_SEVERAL_MEANINGS,
        [NEAR] = PLW_REASON_NEAR,
        [UNKNOWN] = PLW_REASON_UNKNOWN_CODE,
        [SILENT] = PLW_REASON_NOT_STATED,
    };
    not_told(evidence, PLW_REASON_NOT_CODED);
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        enum outcome outcome = order[i];
        if (p->found[outcome] == 0)
            continue;
        not_told(evidence, outcome == MIXED && p->unreadable ? PLW_REASON_UNREADABLE
                                                             : reasons[outcome]);
        collect(j, part, p, outcome, evidence);
        return;
    }
}

static void decide(const judge *j, unsigned part, const poll *p, enum outcome outcome,
                   plwi_evidence *evidence)
{
    evidence->verdict = outcome == AGREES ? PLW_VERDICT_SUPPORTED : PLW_VERDICT_CONTRADICTED;
    collect(j, part, p, outcome, evidence);
}

/* Who made and who sold a car are told in several places, and one that agrees is
 * enough. Any other part has one truth. */
static void weigh_text(const judge *j, const poll *p, plwi_evidence *evidence)
{
    if (p->found[AGREES]) {
        decide(j, PART_TEXT, p, AGREES, evidence);
    } else if (p->found[DIFFERS] + p->found[NEAR] == 0 || p->found[MIXED] + p->found[UNKNOWN]) {
        leave_open(j, PART_TEXT, p, evidence);
    } else if (plwi_is_known_name(j)) {
        decide(j, PART_TEXT, p, p->found[DIFFERS] ? DIFFERS : NEAR, evidence);
    } else {
        not_told(evidence, p->found[NEAR] ? PLW_REASON_NEAR : PLW_REASON_UNKNOWN_NAME);
        collect(j, PART_TEXT, p, p->found[NEAR] ? NEAR : DIFFERS, evidence);
    }
}

static void weigh(const judge *j, unsigned part, const poll *p, plwi_evidence *evidence)
{
    if (p->found[AGREES] && p->found[DIFFERS]) {
        not_told(evidence, PLW_REASON_CONFLICT);
        collect(j, part, p, AGREES, evidence);
        collect(j, part, p, DIFFERS, evidence);
    } else if (p->found[AGREES]) {
        decide(j, part, p, AGREES, evidence);
    } else if (p->found[DIFFERS] && p->found[MIXED] + p->found[NEAR] == 0) {
        decide(j, part, p, DIFFERS, evidence);
    } else {
        leave_open(j, part, p, evidence);
    }
}

/* A row may differ in another part than the one it was asked about. */
static uint64_t attributes_of_claim(const judge *j)
{
    uint64_t set = 0;
    for (unsigned part = 0; part < PART_COUNT; part++)
        if (j->wanted->parts & PART(part))
            set |= j->attributes[part];
    return set;
}

static void judge_stated(const judge *j, unsigned part, plwi_evidence *evidence)
{
    poll p = { { 0 }, 0, judge_scheme(j, part), 0 };
    evidence->attributes = j->attributes[part];
    if (p.scheme != SILENT)
        p.found[p.scheme]++;
    ask_fields(j, part, &p);
    if (!spoke(&p)) {
        p.overlays = 1;
        ask_fields(j, part, &p);
    }
    if (part == PART_TEXT)
        weigh_text(j, &p, evidence);
    else
        weigh(j, part, &p, evidence);
    if (evidence->verdict == PLW_VERDICT_CONTRADICTED)
        evidence->attributes = attributes_of_claim(j);
}

/* ---- model year --------------------------------------------------------- */

int plwi_is_claimed_year(const plwi_wanted *wanted, int year)
{
    return wanted->year < 100 ? year % 100 == wanted->year : year == wanted->year;
}

static int has_claimed_year(const judge *j, plwi_years years)
{
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year))
        if (plwi_is_claimed_year(j->wanted, year))
            return 1;
    return 0;
}

static int is_year_field(const judge *j, const plwi_slot *slot)
{
    return strcmp(plwi_field_name(j->image, plwi_slot_field(j->image, slot)), "year") == 0;
}

static int rules_claim_out(const judge *j, const plwi_slot *slot)
{
    return slot->narrows && !has_claimed_year(j, slot->years);
}

/* The fields that decide: those that rule the claimed year out, or else the
 * year field. */
static void collect_years(const judge *j, plwi_evidence *evidence,
                          int decides(const judge *, const plwi_slot *))
{
    for (uint32_t i = 0; i < j->reading->slot_count; i++) {
        const plwi_slot *slot = &j->result->slots[j->reading->slot + i];
        if (!decides(j, slot))
            continue;
        evidence->positions |= plwi_slot_positions(j->image, slot);
        for (uint32_t k = 0; k < slot->row_count; k++)
            add_row(evidence, j->result->rows[slot->row + k]);
    }
}

static void judge_year(const judge *j, plwi_evidence *evidence)
{
    uint32_t count = plwi_years_count(j->reading->years);
    collect_years(j, evidence, rules_claim_out);
    if (evidence->positions == 0)
        collect_years(j, evidence, is_year_field);
    if (count == 0)
        not_told(evidence, PLW_REASON_CONFLICT);
    else if (!has_claimed_year(j, j->reading->years))
        evidence->verdict = PLW_VERDICT_CONTRADICTED;
    else if (count == 1)
        evidence->verdict = PLW_VERDICT_SUPPORTED;
    else
        not_told(evidence, PLW_REASON_SEVERAL_MEANINGS);
}

/* ---- running number ----------------------------------------------------- */

/* Holds a sequence against the characters at some positions, last first; what
 * is left out on the left is zero. */
static enum outcome compare_sequence(const judge *j, uint32_t positions)
{
    size_t left = strlen(j->wanted->text);
    enum outcome outcome = AGREES;
    for (uint32_t p = MAX_POSITIONS; p-- > 0;) {
        if (!(positions >> p & 1))
            continue;
        char c = (char)(left > 0 ? j->wanted->text[--left] : '0');
        uint64_t set = j->reading->sets[p];
        if (!(set >> plwi_character_bit((uint32_t)(unsigned char)c) & 1))
            return DIFFERS;
        if (!plwi_is_single(set))
            outcome = MIXED;
    }
    while (left > 0)
        if (j->wanted->text[--left] != '0')
            return DIFFERS;
    return outcome;
}

static void judge_sequence(const judge *j, plwi_evidence *evidence)
{
    not_told(evidence, PLW_REASON_NOT_CODED);
    for (uint32_t i = 0; i < j->reading->slot_count; i++) {
        const plwi_slot *slot = &j->result->slots[j->reading->slot + i];
        if (strcmp(plwi_field_name(j->image, plwi_slot_field(j->image, slot)), "sequence") != 0)
            continue;
        evidence->positions = plwi_slot_positions(j->image, slot);
        enum outcome outcome = compare_sequence(j, evidence->positions);
        if (outcome == MIXED) {
            not_told(evidence, PLW_REASON_UNREADABLE);
        } else {
            evidence->verdict =
                outcome == AGREES ? PLW_VERDICT_SUPPORTED : PLW_VERDICT_CONTRADICTED;
            evidence->reason = PLW_REASON_NONE;
        }
    }
}

/* ---- the whole claim ---------------------------------------------------- */

static void judge_part(const judge *j, unsigned part, plwi_evidence *evidence)
{
    evidence->parts = PART(part);
    if (part == PART_YEAR)
        judge_year(j, evidence);
    else if (part == PART_SEQUENCE)
        judge_sequence(j, evidence);
    else
        judge_stated(j, part, evidence);
}

/* A contradiction outweighs what is not told, and that what is supported. */
static int weight_of(const plwi_evidence *evidence)
{
    static const int weights[] = { 0, [PLW_VERDICT_SUPPORTED] = 1, [PLW_VERDICT_NOT_TOLD] = 2,
                                   [PLW_VERDICT_CONTRADICTED] = 3 };
    return weights[evidence->verdict];
}

static void join(plwi_evidence *whole, const plwi_evidence *part)
{
    if (weight_of(part) > weight_of(whole)) {
        *whole = *part;
    } else if (part->verdict == PLW_VERDICT_SUPPORTED && whole->verdict == PLW_VERDICT_SUPPORTED) {
        whole->attributes |= part->attributes;
        whole->parts |= part->parts;
        whole->positions |= part->positions;
        whole->from_scheme |= part->from_scheme;
        for (uint32_t i = 0; i < part->row_count; i++)
            add_row(whole, part->row[i]);
    }
}

plwi_judge plwi_judge_of_rows(image_t image, uint32_t about, const plwi_wanted *wanted)
{
    plwi_judge j = { NULL, image, NULL, wanted, { 0 } };
    for (unsigned part = 0; part < PART_COUNT; part++)
        if (wanted->parts & PART(part))
            j.attributes[part] = attributes_named(
                image, part == PART_TEXT ? &names_of_text[about] : &names_of_part[part]);
    return j;
}

enum outcome plwi_row_outcome(const plwi_judge *j, uint32_t row, unsigned part)
{
    return judge_whole_row(j, plwi_row(j->image, row), part);
}

void plwi_judge_claim(const plw_result *result, uint32_t reading, uint32_t about,
                      const plwi_wanted *wanted, plwi_evidence *evidence)
{
    judge j = plwi_judge_of_rows(plwi_image(result->tables), about, wanted);
    j.result = result;
    j.reading = &result->readings[reading];
    memset(evidence, 0, sizeof *evidence);
    for (unsigned part = 0; part < PART_COUNT; part++) {
        plwi_evidence one;
        if (!(wanted->parts & PART(part)))
            continue;
        memset(&one, 0, sizeof one);
        judge_part(&j, part, &one);
        join(evidence, &one);
    }
    evidence->reading = (uint8_t)reading;
}
