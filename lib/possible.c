/* SPDX-License-Identifier: MIT
 *
 * What a position can be: the characters that a reading leaves open there, and
 * the rows that each of them would spell.
 */
#include "internal.h"

static int has_codes(image_t image, const plwi_slot *slot)
{
    return plwi_field(image, plwi_slot_field(image, slot))[FIELD_KIND] == KIND_CODE &&
           slot->row_count > 0 && !slot->cut;
}

/* 1 when a row of the slot reads with the characters of the reading. */
static int some_row_reads(const plw_result *result, image_t image, const plwi_slot *slot,
                          const plwi_reading *reading)
{
    uint32_t positions = plwi_slot_positions(image, slot);
    for (uint32_t k = 0; k < slot->row_count; k++)
        if (plwi_row_reads(image, result->rows[slot->row + k], reading, positions))
            return 1;
    return 0;
}

/* 1 when every field that lists its codes has one with the reading's characters. */
static int is_possible(const plw_result *result, const plwi_reading *reading, uint32_t position)
{
    image_t image = plwi_image(result->tables);
    for (uint32_t i = 0; i < reading->slot_count; i++) {
        const plwi_slot *slot = &result->slots[reading->slot + i];
        if (plwi_slot_positions(image, slot) >> position & 1 && has_codes(image, slot) &&
            !some_row_reads(result, image, slot, reading))
            return 0;
    }
    return 1;
}

uint64_t plwi_possible(const plw_result *result, const plwi_reading *reading, uint32_t position)
{
    plwi_reading trial = *reading;
    uint64_t possible = 0;
    for (unsigned c = 0; c < ALPHABET_SIZE; c++) {
        trial.sets[position] = UINT64_C(1) << c;
        if (reading->sets[position] & trial.sets[position] &&
            is_possible(result, &trial, position))
            possible |= trial.sets[position];
    }
    return possible;
}

/* ---- what a host may ask ------------------------------------------------- */

/* The characters at a position from 1; empty when there is none. */
static uint64_t possible_at(const plw_result *result, uint32_t reading, uint32_t position)
{
    if (reading >= plw_reading_count(result) || position == 0 ||
        position > result->number.count)
        return 0;
    return plwi_possible(result, &result->readings[reading], position - 1);
}

/* One character of a set, by index, as a set; empty behind the last. */
static uint64_t nth(uint64_t set, uint32_t index)
{
    for (; index > 0 && set; index--)
        set &= set - 1;
    return set & (~set + 1);
}

uint32_t plw_possible_count(const plw_result *result, uint32_t reading, uint32_t position)
{
    uint32_t count = 0;
    for (uint64_t set = possible_at(result, reading, position); set; set &= set - 1)
        count++;
    return count;
}

int32_t plw_possible_character(const plw_result *result, uint32_t reading, uint32_t position,
                               uint32_t index)
{
    uint64_t one = nth(possible_at(result, reading, position), index);
    return one ? (unsigned char)plwi_character(plwi_lowest_bit(one)) : 0;
}

/* Counts the rows of the fields at a position that read with the character;
 * *row becomes the one with that index. */
static uint32_t count_rows(const plw_result *result, const plwi_reading *reading,
                           uint32_t position, uint64_t character, uint32_t index, uint32_t *row)
{
    image_t image = plwi_image(result->tables);
    plwi_reading trial = *reading;
    uint32_t count = 0;
    trial.sets[position] = character;
    for (uint32_t i = 0; i < reading->slot_count; i++) {
        const plwi_slot *slot = &result->slots[reading->slot + i];
        uint32_t positions = plwi_slot_positions(image, slot);
        unsigned kind = plwi_field(image, plwi_slot_field(image, slot))[FIELD_KIND];
        if (!(positions >> position & 1) || kind == KIND_RUN)
            continue;
        for (uint32_t k = 0; k < slot->row_count; k++) {
            uint32_t candidate = result->rows[slot->row + k];
            if (plwi_row_reads(image, candidate, &trial, positions) && count++ == index)
                *row = candidate;
        }
    }
    return count;
}

uint32_t plw_possible_row_count(const plw_result *result, uint32_t reading, uint32_t position,
                                uint32_t index)
{
    uint32_t row;
    uint64_t character = nth(possible_at(result, reading, position), index);
    return character ? count_rows(result, &result->readings[reading], position - 1, character,
                                  PLW_NONE, &row)
                     : 0;
}

uint32_t plw_possible_row(const plw_result *result, uint32_t reading, uint32_t position,
                          uint32_t index, uint32_t row)
{
    uint32_t found = PLW_NONE;
    uint64_t character = nth(possible_at(result, reading, position), index);
    if (character)
        count_rows(result, &result->readings[reading], position - 1, character, row, &found);
    return found;
}
