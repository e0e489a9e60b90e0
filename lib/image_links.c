/* SPDX-License-Identifier: MIT
 *
 * Second half of the check: how the records of an image belong together. Every
 * index, range and text offset that the first half knows of is good by now;
 * here each record must also be the one its owner expects.
 *
 * Rows and conditions may share codes and values, and a hostile image could
 * make that a great many visits. Each visit is therefore paid for out of a
 * purse as large as the image, which honest tables do not come near.
 */
#include "image_check.h"

typedef struct links {
    image_t image;
    uint32_t purse;
} links;

static int spend(links *l, uint32_t visits)
{
    if (visits > l->purse)
        return 0;
    l->purse -= visits;
    return 1;
}

/* ---- Codes and values ------------------------------------------------ */

/* The characters of a packed code, or 0 when it is not one. */
static unsigned code_width(uint64_t code)
{
    unsigned width = 0;
    for (; code != 0; code >>= CODE_BITS, width++) {
        unsigned value = (unsigned)(code & 63);
        if (value < 1 || value > ALPHABET_SIZE)
            return 0;
    }
    return width;
}

/* Are these codes that the field can show? Those of a running number have the
 * full width; another field may be narrower in some layout. */
static int codes_fit(links *l, const unsigned char *field, uint32_t first, uint32_t count)
{
    unsigned most = field[FIELD_WIDTH];
    unsigned least = field[FIELD_KIND] == KIND_RUN ? most : 1;
    if (!spend(l, count))
        return 0;
    for (uint32_t i = first; i < first + count; i++) {
        unsigned width = code_width(plwi_code(l->image, i));
        if (width < least || width > most)
            return 0;
    }
    return 1;
}

/* Pairs of codes, low and high, of a running number. */
static int are_pairs(image_t image, uint32_t first, uint32_t count)
{
    if (count % 2 != 0)
        return 0;
    for (uint32_t i = first; i < first + count; i += 2)
        if (plwi_code(image, i) > plwi_code(image, i + 1))
            return 0;
    return 1;
}

static int codes_rise(image_t image, uint32_t first, uint32_t count)
{
    for (uint32_t i = first; i + 1 < first + count; i++)
        if (plwi_code(image, i) >= plwi_code(image, i + 1))
            return 0;
    return 1;
}

static int attribute_value_holds(image_t image, uint32_t attribute, uint32_t value)
{
    const unsigned char *record = plwi_record(image, SECTION_ATTRIBUTES, 16, attribute);
    return record[ATTRIBUTE_KIND] == ATTRIBUTE_NUMBER || plwi_is_text(image, value);
}

static int facts_hold(image_t image)
{
    for (uint32_t i = 0; i < plwi_count(image, SECTION_FACTS); i++) {
        const unsigned char *fact = plwi_fact(image, i);
        if (!attribute_value_holds(image, plwi_u16(fact + FACT_ATTRIBUTE),
                                   plwi_u32(fact + FACT_VALUE)))
            return 0;
    }
    return 1;
}

/* ---- Conditions ------------------------------------------------------ */

static int range_lies_in(image_t image, unsigned section, uint32_t first, uint32_t count)
{
    return (uint64_t)first + count <= plwi_count(image, section);
}

/* No code fits a topic, which has no width. */
static int field_condition_holds(links *l, uint32_t scheme, uint32_t ref, uint32_t first,
                                 uint32_t count)
{
    if (ref >= plwi_count(l->image, SECTION_FIELDS) ||
        !range_lies_in(l->image, SECTION_CODES, first, count))
        return 0;
    const unsigned char *field = plwi_field(l->image, ref);
    if (plwi_u16(field + FIELD_SCHEME) != scheme || !codes_fit(l, field, first, count))
        return 0;
    return field[FIELD_KIND] == KIND_RUN ? are_pairs(l->image, first, count)
                                         : codes_rise(l->image, first, count);
}

static int attribute_condition_holds(links *l, uint32_t ref, uint32_t first, uint32_t count)
{
    if (ref >= plwi_count(l->image, SECTION_ATTRIBUTES) ||
        !range_lies_in(l->image, SECTION_VALUES, first, count))
        return 0;
    if (!spend(l, count))
        return 0;
    for (uint32_t i = first; i < first + count; i++)
        if (!attribute_value_holds(l->image, ref, plwi_value(l->image, i)))
            return 0;
    return 1;
}

static int check_condition_holds(links *l, uint32_t scheme, uint32_t ref, uint32_t first,
                                 uint32_t count)
{
    if (!spend(l, count))
        return 0;
    if (ref != 0 || !range_lies_in(l->image, SECTION_VALUES, first, count) ||
        plwi_u32(plwi_scheme(l->image, scheme) + SCHEME_CHECK) == NO_CHECK)
        return 0;
    for (uint32_t i = first; i < first + count; i++)
        if (plwi_value(l->image, i) >= CHECK_STATE_COUNT)
            return 0;
    return 1;
}

static int condition_holds(links *l, uint32_t scheme, const unsigned char *condition)
{
    uint32_t ref = plwi_u16(condition + CONDITION_REF);
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    uint32_t count = plwi_u16(condition + CONDITION_VALUE_COUNT);
    if (count == 0 || count > LIMIT_VALUES)
        return 0;
    if (condition[CONDITION_KIND] == CONDITION_FIELD)
        return field_condition_holds(l, scheme, ref, first, count);
    if (condition[CONDITION_KIND] == CONDITION_ATTRIBUTE)
        return attribute_condition_holds(l, ref, first, count);
    return check_condition_holds(l, scheme, ref, first, count);
}

static int conditions_hold(links *l, uint32_t scheme, const unsigned char *row)
{
    uint32_t first = plwi_u16(row + ROW_CONDITION);
    for (uint32_t i = first; i < first + row[ROW_CONDITION_COUNT]; i++)
        if (!condition_holds(l, scheme, plwi_condition(l->image, i)))
            return 0;
    return 1;
}

/* ---- Schemes, their fields and the rows of these --------------------- */

/* Some years, and all of them years of the scheme. */
static int years_hold(image_t image, uint32_t years, uint32_t scheme)
{
    plwi_years set = plwi_year_set(image, years);
    plwi_years all = plwi_year_set(image, plwi_u32(plwi_scheme(image, scheme) + SCHEME_YEARS));
    return !plwi_years_empty(set) && plwi_years_empty(plwi_years_without(set, all));
}

static int row_codes_hold(links *l, const unsigned char *field, const unsigned char *row)
{
    uint32_t first = plwi_u32(row + ROW_CODE);
    uint32_t count = plwi_u16(row + ROW_CODE_COUNT);
    switch (field[FIELD_KIND]) {
    case KIND_TOPIC:
        return count == 0;
    case KIND_FREE:
    case KIND_CHECK:
        return 0;
    case KIND_RUN:
        return count > 0 && codes_fit(l, field, first, count) && are_pairs(l->image, first, count);
    default:
        return count > 0 && codes_fit(l, field, first, count);
    }
}

/* A rule speaks of its field as a whole, so it has no code. */
static int rule_holds(const unsigned char *field, const unsigned char *row)
{
    return plwi_u16(row + ROW_CODE_COUNT) == 0 && row[ROW_KIND] != ROW_MEANING &&
           (row[ROW_KIND] == ROW_REQUIRED) == (field[FIELD_KIND] == KIND_CHECK);
}

static int row_holds(links *l, uint32_t field, uint32_t index, int is_rule)
{
    const unsigned char *row = plwi_row(l->image, index);
    const unsigned char *owner = plwi_field(l->image, field);
    uint32_t scheme = plwi_u16(owner + FIELD_SCHEME);
    if (plwi_u16(row + ROW_FIELD) != field ||
        !years_hold(l->image, plwi_u16(row + ROW_YEARS), scheme))
        return 0;
    if (row[ROW_STANDING] == STANDING_PUBLISHED &&
        plwi_u16(plwi_note(l->image, row) + NOTE_CITATION_COUNT) == 0)
        return 0;
    if (is_rule ? !rule_holds(owner, row)
                : row[ROW_KIND] != ROW_MEANING || !row_codes_hold(l, owner, row))
        return 0;
    return conditions_hold(l, scheme, row);
}

/* The attributes that a row states. */
static uint64_t stated_by(image_t image, const unsigned char *row)
{
    uint64_t stated = 0;
    uint32_t first = plwi_u32(row + ROW_FACT);
    for (uint32_t i = first; i < first + row[ROW_FACT_COUNT]; i++)
        stated |= UINT64_C(1) << plwi_u16(plwi_fact(image, i) + FACT_ATTRIBUTE);
    return stated;
}

/* Covers speak of the field's own rows. */
static int covers_hold(links *l, const unsigned char *field)
{
    uint32_t first = plwi_u32(field + FIELD_COVER), count = plwi_u16(field + FIELD_COVER_COUNT);
    uint32_t row = plwi_u32(field + FIELD_ROW), rows = plwi_u32(field + FIELD_ROW_COUNT);
    if (!range_lies_in(l->image, SECTION_COVERS, first, count))
        return 0;
    if (!spend(l, count))
        return 0;
    for (uint32_t i = first; i < first + count; i++) {
        uint32_t cover = plwi_u32(plwi_record(l->image, SECTION_COVERS, 8, i) + COVER_ROW);
        if (cover < row || cover - row >= rows)
            return 0;
    }
    return 1;
}

/* *row is the first row the field must own, and becomes the first behind it. */
static int field_holds(links *l, uint32_t index, uint32_t scheme, uint64_t *row)
{
    const unsigned char *field = plwi_field(l->image, index);
    uint64_t rules = *row + plwi_u32(field + FIELD_ROW_COUNT);
    uint64_t end = rules + plwi_u32(field + FIELD_RULE_COUNT);
    uint64_t provides = 0;
    if (plwi_u16(field + FIELD_SCHEME) != scheme || plwi_u32(field + FIELD_ROW) != *row ||
        end > plwi_count(l->image, SECTION_ROWS) ||
        (field[FIELD_WIDTH] == 0) != (field[FIELD_KIND] == KIND_TOPIC))
        return 0;
    for (; *row < end; ++*row) {
        if (!row_holds(l, index, (uint32_t)*row, *row >= rules))
            return 0;
        provides |= stated_by(l->image, plwi_row(l->image, (uint32_t)*row));
    }
    if (field[FIELD_KIND] == KIND_TOPIC)
        provides = 0;
    return plwi_u64(field + FIELD_PROVIDES) == provides && covers_hold(l, field);
}

/* The attributes that the conditions of a field's rows and rules ask for. */
static uint64_t asked_by(image_t image, const unsigned char *field)
{
    uint64_t asked = 0;
    uint32_t row = plwi_u32(field + FIELD_ROW);
    uint32_t end = row + plwi_u32(field + FIELD_ROW_COUNT) + plwi_u32(field + FIELD_RULE_COUNT);
    for (; row < end; row++) {
        uint32_t first = plwi_u16(plwi_row(image, row) + ROW_CONDITION);
        for (uint32_t i = first; i < first + plwi_row(image, row)[ROW_CONDITION_COUNT]; i++) {
            const unsigned char *condition = plwi_condition(image, i);
            if (condition[CONDITION_KIND] == CONDITION_ATTRIBUTE)
                asked |= UINT64_C(1) << plwi_u16(condition + CONDITION_REF);
        }
    }
    return asked;
}

/* No field of a scheme asks for an attribute that a field behind it states. */
static int order_holds(image_t image, const unsigned char *scheme)
{
    uint64_t behind = 0;
    uint32_t first = plwi_u32(scheme + SCHEME_FIELD);
    for (uint32_t i = first + plwi_u32(scheme + SCHEME_FIELD_COUNT); i-- > first;) {
        const unsigned char *field = plwi_field(image, i);
        if (asked_by(image, field) & behind)
            return 0;
        behind |= plwi_u64(field + FIELD_PROVIDES);
    }
    return 1;
}

static int scheme_check_holds(image_t image, uint32_t scheme)
{
    uint32_t check = plwi_u32(plwi_scheme(image, scheme) + SCHEME_CHECK);
    if (check == NO_CHECK)
        return 1;
    if (check >= plwi_count(image, SECTION_CHECKS))
        return 0;
    const unsigned char *record = plwi_record(image, SECTION_CHECKS, 112, check);
    return plwi_u16(plwi_field(image, plwi_u16(record + CHECK_FIELD)) + FIELD_SCHEME) == scheme;
}

/* Schemes own the fields, and fields the rows, one behind the other. */
static int schemes_hold(links *l)
{
    uint32_t field = 0;
    uint64_t row = 0;
    for (uint32_t s = 0; s < plwi_count(l->image, SECTION_SCHEMES); s++) {
        const unsigned char *scheme = plwi_scheme(l->image, s);
        uint64_t first_row = row;
        if (!years_hold(l->image, plwi_u32(scheme + SCHEME_YEARS), s) ||
            !scheme_check_holds(l->image, s) || plwi_u32(scheme + SCHEME_FIELD) != field ||
            plwi_u32(scheme + SCHEME_ROW) != row)
            return 0;
        for (uint32_t end = field + plwi_u32(scheme + SCHEME_FIELD_COUNT); field < end; field++)
            if (!field_holds(l, field, s, &row))
                return 0;
        if (plwi_u32(scheme + SCHEME_ROW_COUNT) != row - first_row ||
            !order_holds(l->image, scheme))
            return 0;
    }
    return field == plwi_count(l->image, SECTION_FIELDS) &&
           row == plwi_count(l->image, SECTION_ROWS);
}

/* ---- Layouts --------------------------------------------------------- */

static int span_holds(image_t image, const unsigned char *span, const unsigned char *layout)
{
    const unsigned char *field = plwi_field(image, plwi_u16(span + SPAN_FIELD));
    uint32_t positions = plwi_u32(span + SPAN_POSITIONS);
    unsigned width = span[SPAN_WIDTH];
    return width > 0 && width == plwi_count_bits(positions) && width <= field[FIELD_WIDTH] &&
           (uint64_t)positions >> layout[LAYOUT_LENGTH] == 0 &&
           (field[FIELD_KIND] != KIND_CHECK || width == 1) &&
           plwi_u16(field + FIELD_SCHEME) == plwi_u16(layout + LAYOUT_SCHEME);
}

/* Spans stand in field order, a field at most once in a layout. */
static int spans_hold(image_t image, const unsigned char *layout)
{
    uint32_t first = plwi_u32(layout + LAYOUT_SPAN);
    for (uint32_t i = 0; i < layout[LAYOUT_SPAN_COUNT]; i++) {
        const unsigned char *span = plwi_span(image, first + i);
        if (i > 0 &&
            plwi_u16(span + SPAN_FIELD) <= plwi_u16(plwi_span(image, first + i - 1) + SPAN_FIELD))
            return 0;
        if (!span_holds(image, span, layout))
            return 0;
    }
    return 1;
}

/* Every position takes some character, and only characters of the alphabet. */
static int classes_hold(image_t image)
{
    for (uint32_t i = 0; i < plwi_count(image, SECTION_CLASSES); i++) {
        uint64_t class = plwi_u64(plwi_record(image, SECTION_CLASSES, 8, i));
        if (class == 0 || (class & ~ALL_CHARACTERS) != 0)
            return 0;
    }
    return 1;
}

static int layouts_hold(image_t image)
{
    for (uint32_t i = 0; i < plwi_count(image, SECTION_LAYOUTS); i++) {
        const unsigned char *layout = plwi_layout(image, i);
        if (layout[LAYOUT_LENGTH] == 0 || !spans_hold(image, layout) ||
            !years_hold(image, plwi_u32(layout + LAYOUT_YEARS), plwi_u16(layout + LAYOUT_SCHEME)))
            return 0;
    }
    return 1;
}

/* No mask of a length may name a layout that is not there. */
static int masks_hold(image_t image, uint32_t layouts, uint32_t words, uint32_t first,
                      uint32_t end)
{
    uint32_t rest = layouts % 64;
    for (uint32_t last = first + words; rest != 0 && last <= end; last += words)
        if (plwi_u64(plwi_record(image, SECTION_MASKS, 8, last - 1)) >> rest != 0)
            return 0;
    return 1;
}

static int choices_hold(image_t image, uint32_t first, uint32_t end, uint32_t masks)
{
    for (uint32_t i = first; i < end; i++)
        if (plwi_u16(plwi_record(image, SECTION_CHOICES, 2, i)) >= masks)
            return 0;
    return 1;
}

/* The layouts, choices and masks that the lengths up to one own. */
typedef struct owned {
    uint32_t layouts;
    uint32_t choices;
    uint32_t masks;
} owned;

static int length_holds(image_t image, uint32_t n, owned *own)
{
    const unsigned char *length = plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, n);
    uint32_t count = plwi_u16(length + LENGTH_COUNT);
    uint32_t words = plwi_u16(length + LENGTH_WORDS);
    uint32_t choices = words > 0 ? n * CHARACTER_COUNT : 0;
    uint32_t masks = plwi_u16(length + LENGTH_MASK_COUNT);
    if (plwi_u32(length + LENGTH_LAYOUT) != own->layouts || words != (count + 63) / 64 ||
        plwi_u32(length + LENGTH_CHOICE) != own->choices ||
        plwi_u32(length + LENGTH_MASK) != own->masks ||
        !range_lies_in(image, SECTION_CHOICES, own->choices, choices) ||
        (uint64_t)own->masks + (uint64_t)masks * words > plwi_count(image, SECTION_MASKS) ||
        !choices_hold(image, own->choices, own->choices + choices, masks) ||
        !masks_hold(image, count, words, own->masks, own->masks + masks * words))
        return 0;
    for (uint32_t i = own->layouts; i < own->layouts + count; i++) {
        if (plwi_layout(image, i)[LAYOUT_LENGTH] != n)
            return 0;
        /* plwi_next_layout would pass over one that stands behind a later scheme. */
        if (i > own->layouts && plwi_layout_scheme(image, i) < plwi_layout_scheme(image, i - 1))
            return 0;
    }
    own->layouts += count;
    own->choices += choices;
    own->masks += masks * words;
    return 1;
}

/* Each length owns its layouts and their masks, one length behind the other. */
static int lengths_hold(image_t image)
{
    owned own = { 0, 0, 0 };
    if (plwi_count(image, SECTION_LENGTHS) != MAX_POSITIONS + 1)
        return 0;
    for (uint32_t n = 0; n <= MAX_POSITIONS; n++)
        if (!length_holds(image, n, &own))
            return 0;
    return own.layouts == plwi_count(image, SECTION_LAYOUTS) &&
           own.choices == plwi_count(image, SECTION_CHOICES) &&
           own.masks == plwi_count(image, SECTION_MASKS);
}

/* ---- Codes to rows --------------------------------------------------- */

static int group_holds(image_t image, const unsigned char *group)
{
    const unsigned char *field = plwi_field(image, plwi_u16(group + GROUP_FIELD));
    uint32_t rows = plwi_u32(field + FIELD_ROW_COUNT);
    uint32_t first = plwi_u32(group + GROUP_MEMBER);
    unsigned width = code_width(plwi_u64(group + GROUP_CODE));
    if (width == 0 || width > field[FIELD_WIDTH])
        return 0;
    for (uint32_t i = first; i < first + plwi_u16(group + GROUP_COUNT); i++)
        if (plwi_u16(plwi_record(image, SECTION_MEMBERS, 2, i)) >= rows)
            return 0;
    return 1;
}

/* At least one slot is empty, or a search would never end. */
static int groups_hold(image_t image)
{
    uint32_t slots = plwi_count(image, SECTION_GROUPS);
    uint32_t filled = 0;
    for (uint32_t i = 0; i < slots; i++) {
        const unsigned char *group = plwi_record(image, SECTION_GROUPS, 16, i);
        if (plwi_u16(group + GROUP_COUNT) == 0)
            continue;
        if (!group_holds(image, group))
            return 0;
        filled++;
    }
    return slots == 0 || filled < slots;
}

/* ---- Check characters ------------------------------------------------ */

static int check_holds(image_t image, uint32_t index)
{
    const unsigned char *check = plwi_record(image, SECTION_CHECKS, 112, index);
    const unsigned char *field = plwi_field(image, plwi_u16(check + CHECK_FIELD));
    unsigned modulus = check[CHECK_MODULUS];
    if (field[FIELD_KIND] != KIND_CHECK || check[CHECK_LENGTH] == 0 || modulus < 2 ||
        modulus > ALPHABET_SIZE)
        return 0;
    for (unsigned i = 0; i < modulus; i++)
        if (check[CHECK_DIGITS + i] >= ALPHABET_SIZE)
            return 0;
    return plwi_u32(plwi_scheme(image, plwi_u16(field + FIELD_SCHEME)) + SCHEME_CHECK) == index;
}

static int checks_hold(image_t image)
{
    for (uint32_t i = 0; i < plwi_count(image, SECTION_CHECKS); i++)
        if (!check_holds(image, i))
            return 0;
    return 1;
}

/* ---- Findings -------------------------------------------------------- */

/* Braces in a sentence stand in pairs and not inside one another. */
static int places_hold(const char *sentence)
{
    int inside = 0;
    for (; *sentence; sentence++) {
        if (*sentence == (inside ? '{' : '}'))
            return 0;
        if (*sentence == (inside ? '}' : '{'))
            inside = !inside;
    }
    return !inside;
}

/* Findings are numbered from 1; all that this release can make are there. */
static int findings_hold(image_t image)
{
    uint32_t count = plwi_count(image, SECTION_FINDINGS);
    for (uint32_t i = 0; i < count; i++) {
        const unsigned char *finding = plwi_record(image, SECTION_FINDINGS, 12, i);
        if (plwi_u16(finding + FINDING_NUMBER) != i + 1 ||
            finding[FINDING_GRADE] == PLW_GRADE_CLEAR ||
            !places_hold(plwi_text(image, plwi_u32(finding + FINDING_SENTENCE))))
            return 0;
    }
    return count >= PLW_FINDING_NO_SCHEME;
}

int plwi_links_hold(image_t image, uint32_t size)
{
    links l = { image, size };
    return plwi_count(image, SECTION_ATTRIBUTES) <= MAX_ATTRIBUTES && facts_hold(image) &&
           schemes_hold(&l) && classes_hold(image) && layouts_hold(image) && lengths_hold(image) &&
           groups_hold(image) && checks_hold(image) && findings_hold(image);
}
