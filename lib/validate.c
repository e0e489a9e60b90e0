/* SPDX-License-Identifier: MIT
 *
 * The verb validate: looks at what decode found and says all there is to say.
 * A finding is no surer than the rows it rests on, and what the tables do not
 * know is never called wrong.
 */
#include <string.h>

#include "internal.h"

/* The finding's usual grade, from the vocabulary. */
static uint8_t usual_grade(image_t image, int code)
{
    return plwi_finding_record(image, code)[FINDING_GRADE];
}

/* Adds a finding and returns it for the rest to be filled in; when the result is
 * full, one that does not count. */
static plwi_finding *add(plw_result *result, int code, uint32_t reading, uint32_t positions)
{
    plwi_finding *finding = &result->findings[result->finding_count];
    if (result->finding_count == PLW_MAX_FINDINGS)
        result->capped = 1;
    else
        result->finding_count++;
    finding->code = (uint8_t)code;
    finding->grade = usual_grade(plwi_image(result->tables), code);
    finding->reading = (uint8_t)reading;
    finding->positions = positions;
    finding->set = 0;
    finding->slots = 0;
    finding->slot = NO_SLOT;
    return finding;
}

static plwi_finding *add_slot(plw_result *result, int code, uint32_t reading, uint32_t slot)
{
    const plwi_slot *s = &result->slots[result->readings[reading].slot + slot];
    plwi_finding *finding =
        add(result, code, reading, plwi_slot_positions(plwi_image(result->tables), s));
    finding->slot = (uint8_t)slot;
    return finding;
}

/* ---- about positions ------------------------------------------------------ */

/* One character that cannot stand there is a fault of the number; several say
 * that it is more likely a number of another kind. */
static void judge_places(plw_result *result, uint32_t reading)
{
    const plwi_reading *r = &result->readings[reading];
    for (uint32_t left = r->misfit | r->misread; left != 0; left &= left - 1) {
        uint32_t position = left & ~(left - 1);
        if (r->misread & position) {
            add(result, PLW_FINDING_MISREAD, reading, position);
            continue;
        }
        plwi_finding *finding = add(result, PLW_FINDING_CHARACTER, reading, position);
        if (r->misfit != position)
            finding->grade = PLW_GRADE_DOUBT;
    }
}

static void judge_unreadable(plw_result *result)
{
    for (uint32_t p = 0; p < result->number.count && p < MAX_POSITIONS; p++) {
        uint64_t possible = 0;
        if (plwi_is_single(result->number.cell[p].set))
            continue;
        for (uint32_t r = 0; r < result->reading_count; r++)
            possible |= plwi_possible(result, &result->readings[r], p);
        plwi_finding *finding =
            add(result, PLW_FINDING_UNREADABLE, NO_READING, UINT32_C(1) << p);
        finding->set = possible ? possible : result->number.cell[p].set;
    }
}

/* ---- about fields ---------------------------------------------------------- */

/* The vocabulary's field that ties a plant to a line has a finding of its own. */
static int is_about_plant(image_t image, const plwi_slot *slot)
{
    return strcmp(plwi_field_name(image, plwi_slot_field(image, slot)), "plant_line") == 0;
}

static void judge_rule(plw_result *result, uint32_t reading, uint32_t index, const plwi_slot *slot)
{
    image_t image = plwi_image(result->tables);
    if (slot->rule == RULE_BELOW)
        add_slot(result, PLW_FINDING_SEQUENCE_LOW, reading, index);
    if (slot->rule == RULE_ABOVE)
        add_slot(result, PLW_FINDING_SEQUENCE_HIGH, reading, index);
    if (slot->rule == RULE_NOT_BUILT) {
        int code = is_about_plant(image, slot) ? PLW_FINDING_PLANT : PLW_FINDING_NOT_BUILT;
        add_slot(result, code, reading, index);
    }
}

static void judge_check(plw_result *result, uint32_t reading, uint32_t index,
                        const plwi_slot *slot)
{
    if (result->readings[reading].check != PLW_CHECK_FAILS)
        return;
    if (slot->rule != RULE_REQUIRED) {
        add_slot(result, PLW_FINDING_CHECK_UNFIT, reading, index);
        return;
    }
    plwi_finding *finding = add_slot(result, PLW_FINDING_CHECK_WRONG, reading, index);
    const unsigned char *rule = plwi_row(plwi_image(result->tables), slot->rule_row);
    if (rule[ROW_STANDING] != STANDING_PUBLISHED)
        finding->grade = PLW_GRADE_DOUBT;
}

static int has_misfit(const plw_result *result, uint32_t reading, const plwi_slot *slot)
{
    return (result->readings[reading].misfit &
            plwi_slot_positions(plwi_image(result->tables), slot)) != 0;
}

/* As most fields are: understood, by rows that nobody doubts. */
static int is_plain(const plwi_slot *slot)
{
    return (slot->state == PLW_FIELD_KNOWN || slot->state == PLW_FIELD_PLAIN) &&
           slot->rule == RULE_NONE && slot->any_marks == 0;
}

static void judge_slot(plw_result *result, uint32_t reading, uint32_t index)
{
    const plwi_slot *slot = &result->slots[result->readings[reading].slot + index];
    if (is_plain(slot))
        return;
    if (slot->state == PLW_FIELD_CHECK)
        judge_check(result, reading, index, slot);
    else
        judge_rule(result, reading, index, slot);
    if (slot->state == PLW_FIELD_UNKNOWN && slot->rule == RULE_NONE &&
        !has_misfit(result, reading, slot))
        add_slot(result, slot->conditional ? PLW_FINDING_CONDITION : PLW_FINDING_UNKNOWN_CODE,
                 reading, index);
    if (slot->any_marks & MARK_DISPUTED && slot->state == PLW_FIELD_KNOWN)
        add_slot(result, PLW_FINDING_DISPUTED, reading, index);
    if (slot->all_marks & MARK_DOUBTFUL)
        add_slot(result, PLW_FINDING_DOUBTFUL, reading, index);
}

/* ---- about the whole reading ------------------------------------------------ */

static plwi_years years_of(const plw_result *result, const plwi_reading *reading, uint32_t slots)
{
    plwi_years years = { UINT64_MAX, UINT64_MAX };
    for (uint32_t i = 0; i < reading->slot_count; i++)
        if (slots >> i & 1)
            years = plwi_years_and(years, result->slots[reading->slot + i].years);
    return years;
}

/* The fields that exclude each other: all that clash with some other one by
 * itself, or else a smallest set that cannot be true together. */
static uint32_t clashing_slots(const plw_result *result, const plwi_reading *reading)
{
    uint32_t all = 0, clashing = 0;
    for (uint32_t i = 0; i < reading->slot_count; i++)
        if (result->slots[reading->slot + i].narrows)
            all |= UINT32_C(1) << i;
    for (uint32_t i = 0; i < reading->slot_count; i++)
        for (uint32_t k = i + 1; k < reading->slot_count; k++) {
            uint32_t pair = (UINT32_C(1) << i | UINT32_C(1) << k);
            if ((pair & all) == pair && plwi_years_empty(years_of(result, reading, pair)))
                clashing |= pair;
        }
    if (clashing)
        return clashing;
    for (uint32_t i = 0; i < reading->slot_count; i++) {
        uint32_t rest = all & ~(UINT32_C(1) << i);
        if (plwi_years_empty(years_of(result, reading, rest)))
            all = rest;
    }
    return all;
}

static void judge_years(plw_result *result, uint32_t reading)
{
    const plwi_reading *r = &result->readings[reading];
    if (!plwi_years_empty(r->years))
        return;
    uint32_t slots = clashing_slots(result, r), positions = 0;
    int unsure = 0;
    for (uint32_t i = 0; i < r->slot_count; i++) {
        const plwi_slot *slot = &result->slots[r->slot + i];
        if (!(slots >> i & 1))
            continue;
        positions |= plwi_slot_positions(plwi_image(result->tables), slot);
        if (slot->standing == STANDING_MEMORY || slot->all_marks & MARK_DOUBTFUL)
            unsure = 1;
    }
    plwi_finding *finding = add(result, PLW_FINDING_EXCLUSION, reading, positions);
    finding->slots = slots;
    if (unsure)
        finding->grade = PLW_GRADE_DOUBT;
}

/* One note for all fields whose meaning nobody confirmed. */
static void judge_standing(plw_result *result, uint32_t reading)
{
    const plwi_reading *r = &result->readings[reading];
    uint32_t slots = 0, positions = 0;
    for (uint32_t i = 0; i < r->slot_count; i++) {
        const plwi_slot *slot = &result->slots[r->slot + i];
        if (slot->overlay || slot->standing != STANDING_MEMORY)
            continue;
        slots |= UINT32_C(1) << i;
        positions |= plwi_slot_positions(plwi_image(result->tables), slot);
    }
    plwi_finding *finding =
        slots ? add(result, PLW_FINDING_UNCONFIRMED, reading, positions) : NULL;
    if (finding)
        finding->slots = slots;
}

static void judge_number(plw_result *result)
{
    if (result->number.count == 0)
        add(result, PLW_FINDING_EMPTY, NO_READING, 0);
    else if (!result->length_known)
        add(result, PLW_FINDING_LENGTH, NO_READING, 0);
    else if (result->reading_count == 0)
        add(result, PLW_FINDING_NO_SCHEME, NO_READING, 0);
    if (result->reading_count > 1) {
        plwi_finding *finding = add(result, PLW_FINDING_SEVERAL_READINGS, NO_READING, 0);
        finding->slots = result->reading_count;
    }
    judge_unreadable(result);
}

/* ---- grades ------------------------------------------------------------------ */

static void sort_findings(plw_result *result)
{
    plwi_finding *f = result->findings;
    for (uint32_t i = 1; i < result->finding_count; i++) {
        plwi_finding moved = f[i];
        uint32_t at = i;
        for (; at > 0 && f[at - 1].grade < moved.grade; at--)
            f[at] = f[at - 1];
        f[at] = moved;
    }
}

static void grade(plw_result *result)
{
    for (uint32_t i = 0; i < result->finding_count; i++) {
        const plwi_finding *finding = &result->findings[i];
        uint8_t g = finding->grade;
        if (finding->reading != NO_READING && g > result->readings[finding->reading].grade)
            result->readings[finding->reading].grade = g;
        if ((finding->reading == NO_READING || finding->reading == 0) && g > result->grade)
            result->grade = g;
    }
}

void plwi_validate(plw_result *result)
{
    judge_number(result);
    for (uint32_t r = 0; r < result->reading_count; r++) {
        judge_places(result, r);
        judge_years(result, r);
        for (uint32_t i = 0; i < result->readings[r].slot_count; i++)
            judge_slot(result, r, i);
        judge_standing(result, r);
    }
    if (result->capped) {
        if (result->finding_count == PLW_MAX_FINDINGS)
            result->finding_count--;
        add(result, PLW_FINDING_CAPPED, NO_READING, 0);
    }
    sort_findings(result);
    grade(result);
}

int32_t plw_validate(const plw_tables *tables, const char *text, size_t length, const char *hints,
                     uint32_t flags, plw_result *result)
{
    int32_t status = plw_decode(tables, text, length, hints, flags, result);
    if (status == PLW_OK)
        plwi_validate(result);
    return status;
}

int32_t plw_grade(const plw_tables *tables, const char *text, size_t length, const char *hints,
                  uint32_t flags, int32_t *grade_out)
{
    plw_result result;
    if (grade_out == NULL)
        return PLW_E_ARGUMENT;
    *grade_out = PLW_GRADE_CLEAR;
    int32_t status = plw_validate(tables, text, length, hints, flags, &result);
    if (status == PLW_OK)
        *grade_out = result.grade;
    return status;
}
