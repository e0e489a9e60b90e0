/* SPDX-License-Identifier: MIT
 *
 * Whether the conditions of a row are met by a finished reading. An explanation
 * names a condition only where that is open, and leaves out places on cars that
 * the reading cannot be.
 */
#include "explain.h"

static int lesser(int a, int b)
{
    return a < b ? a : b;
}

static int value_among(image_t image, const unsigned char *condition, uint32_t value)
{
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    uint32_t count = plwi_u16(condition + CONDITION_VALUE_COUNT);
    for (uint32_t i = 0; i < count; i++)
        if (plwi_value(image, first + i) == value)
            return 1;
    return 0;
}

/* ---- Conditions on a field ----------------------------------------------- */

static const plwi_slot *slot_of_field(const plwi_view *view, image_t image,
                                      const plwi_reading *reading, uint32_t field)
{
    for (uint32_t i = 0; i < reading->slot_count; i++) {
        const plwi_slot *slot = &view->result->slots[reading->slot + i];
        if (plwi_slot_field(image, slot) == field)
            return slot;
    }
    return NULL;
}

/* Holds the characters at some positions against a packed code, last first. */
static int spells(const plwi_reading *reading, uint32_t positions, uint64_t code)
{
    int truth = PLWI_YES;
    for (unsigned p = MAX_POSITIONS; p-- > 0;) {
        if (!(positions >> p & 1u))
            continue;
        unsigned value = (unsigned)(code & ((1u << CODE_BITS) - 1));
        if (value == 0 || !(reading->sets[p] >> (value - 1) & 1))
            return PLWI_NO;
        if (!plwi_is_single(reading->sets[p]))
            truth = PLWI_OPEN;
        code >>= CODE_BITS;
    }
    return code == 0 ? truth : PLWI_NO;
}

static int field_condition(const plwi_view *view, image_t image, const plwi_reading *reading,
                           const unsigned char *condition)
{
    uint32_t field = plwi_u16(condition + CONDITION_REF);
    const plwi_slot *slot = slot_of_field(view, image, reading, field);
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    uint32_t count = plwi_u16(condition + CONDITION_VALUE_COUNT);
    if (!slot)
        return PLWI_OPEN;
    int truth = PLWI_NO;
    for (uint32_t i = 0; i < count && truth == PLWI_NO; i++)
        truth = spells(reading, plwi_slot_positions(image, slot), plwi_code(image, first + i));
    return truth;
}

/* ---- Conditions on an attribute ------------------------------------------ */

/* What a run of facts says: yes, no, or open when it does not state the attribute. */
static int facts_say(image_t image, const unsigned char *condition, uint32_t first,
                     uint32_t count)
{
    int truth = PLWI_OPEN;
    for (uint32_t i = first; i < first + count; i++) {
        const unsigned char *fact = plwi_fact(image, i);
        if (plwi_u16(fact + FACT_ATTRIBUTE) != plwi_u16(condition + CONDITION_REF))
            continue;
        if (value_among(image, condition, plwi_u32(fact + FACT_VALUE)))
            return PLWI_YES;
        truth = PLWI_NO;
    }
    return truth;
}

/* What all rows of a field say with one voice; open when they do not agree. */
static int slot_says(const plwi_view *view, image_t image, const unsigned char *condition,
                     const plwi_slot *slot)
{
    int truth = PLWI_OPEN;
    for (uint32_t i = 0; i < slot->row_count; i++) {
        const unsigned char *row = plwi_row(image, view->result->rows[slot->row + i]);
        int one = facts_say(image, condition, plwi_u32(row + ROW_FACT), row[ROW_FACT_COUNT]);
        if (i > 0 && one != truth)
            return PLWI_OPEN;
        truth = one;
    }
    return truth;
}

/* Yes when the scheme or a field says so; no when some deny it and none agrees. */
static int attribute_condition(const plwi_view *view, image_t image, const plwi_reading *reading,
                               const unsigned char *condition, uint32_t own_field)
{
    uint32_t scheme = plwi_layout_scheme(image, reading->layout);
    const unsigned char *record = plwi_scheme(image, scheme);
    int truth = facts_say(image, condition, plwi_u32(record + SCHEME_FACT),
                          plwi_u32(record + SCHEME_FACT_COUNT));
    for (uint32_t i = 0; i < reading->slot_count && truth != PLWI_YES; i++) {
        const plwi_slot *slot = &view->result->slots[reading->slot + i];
        if (plwi_slot_field(image, slot) == own_field)
            continue;
        int one = slot_says(view, image, condition, slot);
        if (one != PLWI_OPEN)
            truth = one;
    }
    return truth;
}

/* ---- Conditions on the check character ----------------------------------- */

static int check_condition(image_t image, const plwi_reading *reading,
                           const unsigned char *condition)
{
    if (reading->check != PLW_CHECK_FITS && reading->check != PLW_CHECK_FAILS)
        return PLWI_OPEN;
    uint32_t state = reading->check == PLW_CHECK_FITS ? CHECK_FITS : CHECK_FAILS;
    return value_among(image, condition, state) ? PLWI_YES : PLWI_NO;
}

int plwi_row_applies(const plwi_view *view, uint32_t reading_index, uint32_t row_index)
{
    image_t image = plwi_image(view->tables);
    const plwi_reading *reading = &view->result->readings[reading_index];
    const unsigned char *row = plwi_row(image, row_index);
    uint32_t first = plwi_u16(row + ROW_CONDITION);
    int truth = PLWI_YES;
    for (uint32_t i = first; i < first + row[ROW_CONDITION_COUNT]; i++) {
        const unsigned char *condition = plwi_condition(image, i);
        int one = condition[CONDITION_KIND] == CONDITION_FIELD
                      ? field_condition(view, image, reading, condition)
                  : condition[CONDITION_KIND] == CONDITION_ATTRIBUTE
                      ? attribute_condition(view, image, reading, condition,
                                            plwi_u16(row + ROW_FIELD))
                      : check_condition(image, reading, condition);
        truth = lesser(truth, one);
    }
    return truth;
}
