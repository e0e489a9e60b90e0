/* SPDX-License-Identifier: MIT
 *
 * What would settle the model year, in words: one line for each field.
 */
#include "explain.h"

static uint32_t scheme_of(const plwi_view *view, const plwi_settling *settling)
{
    return plw_reading_scheme(view->result, settling->reading);
}

static int same_field(const plwi_view *view, const plwi_settling *a, const plwi_settling *b)
{
    image_t image = plwi_image(view->tables);
    const plwi_slot *slot_a = plwi_slot_at(view->result, a->reading, a->field);
    const plwi_slot *slot_b = plwi_slot_at(view->result, b->reading, b->field);
    return plwi_slot_field(image, slot_a) == plwi_slot_field(image, slot_b) &&
           plwi_slot_positions(image, slot_a) == plwi_slot_positions(image, slot_b);
}

/* "engine (5): "; schemes are told apart where there are several. */
static void put_field(plwi_writer *out, const plwi_view *view, const plwi_settling *list,
                      uint32_t count, uint32_t index)
{
    const plwi_settling *s = &list[index];
    plwi_piece positions;
    if (scheme_of(view, &list[0]) != scheme_of(view, &list[count - 1])) {
        plwi_put_text(out, plw_scheme_key(view->tables, scheme_of(view, s)));
        plwi_put_text(out, ", ");
    }
    plwi_put_text(out, plw_field_label(view->result, s->reading, s->field));
    plwi_put_text(out, " (");
    plwi_put_text(out, plwi_positions_text(
                           plw_field_positions(view->result, s->reading, s->field), &positions));
    plwi_put_text(out, "): ");
}

static void put_codes(plwi_writer *out, const plwi_view *view, const plwi_settling *settling)
{
    uint64_t codes[MAX_SETTLING_CODES];
    uint32_t count = plwi_settling_codes(view->result, settling, codes);
    plwi_put_settling_codes(out, codes, count);
    plwi_put_text(out, " would mean ");
    plwi_put_years(out, settling->years);
}

const char *plwi_settling_line(const plwi_view *view, const plwi_settling *list, uint32_t count,
                               uint32_t *index, plwi_piece *piece)
{
    plwi_writer out = plwi_piece_writer(piece);
    uint32_t first = *index;
    put_field(&out, view, list, count, first);
    for (; *index < count && same_field(view, &list[first], &list[*index]); ++*index) {
        if (*index > first)
            plwi_put_text(&out, "; ");
        put_codes(&out, view, &list[*index]);
    }
    return plwi_piece_end(piece, &out);
}
