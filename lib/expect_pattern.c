/* SPDX-License-Identifier: MIT
 *
 * Patterns: joining what can be joined without covering more, and the notation.
 */
#include "expect.h"

#include <string.h>

/* ---- rows ------------------------------------------------------------------ */

void plwi_add_pattern_row(plwi_pattern *pattern, image_t image, uint32_t row)
{
    const unsigned char *record = plwi_row(image, row);
    if (record[ROW_STANDING] > pattern->standing)
        pattern->standing = record[ROW_STANDING];
    pattern->marks |= record[ROW_MARKS] & MARKS_SERVED;
    for (uint32_t i = 0; i < pattern->row_count; i++)
        if (pattern->rows[i] == row)
            return;
    if (pattern->row_count < PLW_MAX_PATTERN_ROWS)
        pattern->rows[pattern->row_count++] = row;
    else
        pattern->rows_cut = 1;
}

static void add_rows(plwi_pattern *to, const plwi_pattern *from)
{
    if (from->standing > to->standing)
        to->standing = from->standing;
    to->marks |= from->marks;
    to->rows_cut |= from->rows_cut;
    for (uint32_t i = 0; i < from->row_count; i++) {
        uint32_t at = 0;
        while (at < to->row_count && to->rows[at] != from->rows[i])
            at++;
        if (at < to->row_count)
            continue;
        if (at < PLW_MAX_PATTERN_ROWS)
            to->rows[to->row_count++] = from->rows[i];
        else
            to->rows_cut = 1;
    }
}

/* ---- joining ------------------------------------------------------------------ */

/* 1 when the two together are one pattern: they differ in one position at most,
 * or all of one lies in the other. */
static int can_join(const plwi_pattern *a, const plwi_pattern *b, uint32_t length)
{
    uint32_t differing = 0;
    int a_in_b = 1, b_in_a = 1;
    if (a->told != b->told)
        return 0;
    for (uint32_t p = 0; p < length; p++) {
        differing += a->sets[p] != b->sets[p];
        a_in_b &= (a->sets[p] & ~b->sets[p]) == 0;
        b_in_a &= (b->sets[p] & ~a->sets[p]) == 0;
        if (differing > 1 && !a_in_b && !b_in_a)
            return 0;
    }
    return 1;
}

/* Years and rows of another. */
static void take_facts(plwi_pattern *to, const plwi_pattern *from)
{
    to->years = plwi_years_or(to->years, from->years);
    add_rows(to, from);
}

static void join(plwi_pattern *to, const plwi_pattern *from, uint32_t length)
{
    for (uint32_t p = 0; p < length; p++)
        to->sets[p] |= from->sets[p];
    take_facts(to, from);
}

void plwi_join_patterns(plwi_found *found, uint32_t length)
{
    for (int more = 1; more;) {
        more = 0;
        for (uint32_t a = 0; a < found->count; a++)
            for (uint32_t b = found->count; b-- > a + 1;)
                if (can_join(&found->item[a], &found->item[b], length)) {
                    join(&found->item[a], &found->item[b], length);
                    memmove(&found->item[b], &found->item[b + 1],
                            (--found->count - b) * sizeof found->item[0]);
                    more = 1;
                }
    }
}

void plwi_add_pattern(plwi_found *found, const plwi_pattern *pattern, uint32_t length)
{
    for (uint32_t i = 0; i < found->count; i++)
        if (can_join(&found->item[i], pattern, length)) {
            join(&found->item[i], pattern, length);
            return;
        }
    if (found->count == MAX_FOUND && !found->capped)
        plwi_join_patterns(found, length);
    if (found->count == MAX_FOUND)
        found->capped = 1;
    else
        found->item[found->count++] = *pattern;
}

/* ---- the notation ---------------------------------------------------------------- */

/* The bytes that a position takes. */
static uint32_t size_at(const plwi_pattern *pattern, uint32_t position, uint32_t open)
{
    uint64_t set = pattern->sets[position];
    return open >> position & 1 || plwi_is_single(set) ? 1 : plwi_count_bits(set) + 2;
}

/* The positions written as '?': those where all that the layout allows can stand
 * and, where the text would become too long, those with the longest brackets. */
static uint32_t open_positions(image_t image, const plwi_pattern *pattern)
{
    const unsigned char *layout = plwi_layout(image, pattern->layout);
    uint32_t length = layout[LAYOUT_LENGTH], open = 0;
    for (uint32_t p = 0; p < length; p++)
        if (!plwi_is_single(pattern->sets[p]) &&
            (plwi_class(image, layout, p) & ~pattern->sets[p]) == 0)
            open |= UINT32_C(1) << p;
    for (;;) {
        uint32_t size = 0, longest = 0;
        for (uint32_t p = 0; p < length; p++) {
            size += size_at(pattern, p, open);
            if (size_at(pattern, p, open) > size_at(pattern, longest, open))
                longest = p;
        }
        if (size <= PLW_MAX_TEXT)
            return open;
        open |= UINT32_C(1) << longest;
    }
}

void plwi_put_pattern(plwi_writer *out, image_t image, const plwi_pattern *pattern)
{
    uint32_t length = plwi_layout(image, pattern->layout)[LAYOUT_LENGTH];
    uint32_t open = open_positions(image, pattern);
    for (uint32_t p = 0; p < length; p++)
        if (open >> p & 1)
            plwi_put_char(out, '?');
        else
            plwi_put_choice(out, pattern->sets[p]);
}

int plwi_join_same(plwi_pattern *to, const plwi_pattern *from, image_t image)
{
    const unsigned char *layout = plwi_layout(image, to->layout);
    const unsigned char *other = plwi_layout(image, from->layout);
    if (to->told != from->told || layout[LAYOUT_LENGTH] != other[LAYOUT_LENGTH] ||
        plwi_u16(layout + LAYOUT_SCHEME) != plwi_u16(other + LAYOUT_SCHEME))
        return 0;
    uint32_t open = open_positions(image, to);
    if (open != open_positions(image, from))
        return 0;
    for (uint32_t p = 0; p < layout[LAYOUT_LENGTH]; p++)
        if (!(open >> p & 1) && to->sets[p] != from->sets[p])
            return 0;
    take_facts(to, from);
    return 1;
}

/* ---- running numbers ---------------------------------------------------------------- */

/* The lowest and the highest code at some positions, in the width of the field. */
static void edges_of(const plwi_pattern *pattern, uint32_t positions, unsigned width,
                     uint64_t *low, uint64_t *high)
{
    unsigned count = plwi_count_bits(positions);
    *low = *high = 0;
    for (; count < width; width--) {
        *low = *low << CODE_BITS | 1;
        *high = *high << CODE_BITS | 1;
    }
    for (uint32_t p = 0; p < MAX_POSITIONS; p++) {
        if (!(positions >> p & 1))
            continue;
        *low = *low << CODE_BITS | (plwi_lowest_bit(pattern->sets[p]) + 1);
        *high = *high << CODE_BITS | (plwi_highest_bit(pattern->sets[p]) + 1);
    }
}

static int range_meets(image_t image, const unsigned char *row, uint64_t low, uint64_t high)
{
    uint32_t code = plwi_u32(row + ROW_CODE);
    uint32_t end = code + plwi_u16(row + ROW_CODE_COUNT);
    for (; code + 1 < end; code += 2)
        if (plwi_code(image, code) <= high && low <= plwi_code(image, code + 1))
            return 1;
    return 0;
}

static uint32_t positions_of(image_t image, const unsigned char *layout, uint32_t field)
{
    uint32_t span = plwi_u32(layout + LAYOUT_SPAN);
    for (uint32_t i = span; i < span + layout[LAYOUT_SPAN_COUNT]; i++)
        if (plwi_u16(plwi_span(image, i) + SPAN_FIELD) == field)
            return plwi_u32(plwi_span(image, i) + SPAN_POSITIONS);
    return 0;
}

/* 0 when a condition on the code of another field cannot be met by the pattern. */
static int can_apply(image_t image, const plwi_pattern *pattern, const unsigned char *row)
{
    const unsigned char *layout = plwi_layout(image, pattern->layout);
    uint32_t first = plwi_u16(row + ROW_CONDITION);
    plwi_reading reading;
    memcpy(reading.sets, pattern->sets, sizeof reading.sets);
    for (uint32_t i = first; i < first + row[ROW_CONDITION_COUNT]; i++) {
        const unsigned char *condition = plwi_condition(image, i);
        uint32_t field = plwi_u16(condition + CONDITION_REF), positions;
        if (condition[CONDITION_KIND] != CONDITION_FIELD ||
            plwi_field(image, field)[FIELD_KIND] == KIND_RUN)
            continue;
        positions = positions_of(image, layout, field);
        if (positions && !plwi_can_read(image, &reading, positions,
                                        plwi_u32(condition + CONDITION_VALUE),
                                        plwi_u16(condition + CONDITION_VALUE_COUNT)))
            return 0;
    }
    return 1;
}

#define RANGES_NAMED 4u

typedef struct ranges {
    uint32_t count;
    uint32_t text[RANGES_NAMED]; /* offsets of codes as written, each once */
} ranges;

static void add_range(ranges *known, uint32_t text)
{
    for (uint32_t i = 0; i < known->count && i < RANGES_NAMED; i++)
        if (known->text[i] == text)
            return;
    if (known->count < RANGES_NAMED)
        known->text[known->count] = text;
    known->count++;
}

static void find_ranges(image_t image, const plwi_pattern *pattern, uint32_t span, ranges *known)
{
    const unsigned char *record = plwi_span(image, span);
    const unsigned char *field = plwi_field(image, plwi_u16(record + SPAN_FIELD));
    uint32_t row = plwi_u32(field + FIELD_ROW), end = row + plwi_u32(field + FIELD_ROW_COUNT);
    uint64_t low, high;
    edges_of(pattern, plwi_u32(record + SPAN_POSITIONS), field[FIELD_WIDTH], &low, &high);
    for (; row < end; row++) {
        const unsigned char *r = plwi_row(image, row);
        plwi_years years = plwi_year_set(image, plwi_u16(r + ROW_YEARS));
        if (!plwi_years_empty(plwi_years_and(years, pattern->years)) &&
            range_meets(image, r, low, high) && can_apply(image, pattern, r))
            add_range(known, plwi_u32(r + ROW_CODE_TEXT));
    }
}

void plwi_put_pattern_range(plwi_writer *out, image_t image, const plwi_pattern *pattern)
{
    const unsigned char *layout = plwi_layout(image, pattern->layout);
    uint32_t span = plwi_u32(layout + LAYOUT_SPAN);
    ranges known = { .count = 0 };
    for (uint32_t i = span; i < span + layout[LAYOUT_SPAN_COUNT]; i++)
        if (plwi_field(image, plwi_u16(plwi_span(image, i) + SPAN_FIELD))[FIELD_KIND] == KIND_RUN)
            find_ranges(image, pattern, i, &known);
    for (uint32_t i = 0; i < known.count && i < RANGES_NAMED; i++) {
        if (i > 0)
            plwi_put_text(out, i + 1 == known.count ? " or " : ", ");
        plwi_put_text(out, plwi_text(image, known.text[i]));
    }
    if (known.count > RANGES_NAMED) {
        plwi_put_text(out, " or ");
        plwi_put_number(out, known.count - RANGES_NAMED);
        plwi_put_text(out, " more");
    }
}
