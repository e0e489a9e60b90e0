/* SPDX-License-Identifier: MIT
 *
 * What partial stamps on a car show: the characters of its number that a stamp
 * repeats, by the rows that hold for it.
 */
#include "car.h"

/* A stamp and the positions it repeats, from 0, in its order. */
typedef struct stamp_text {
    uint32_t row;
    uint32_t length;
    uint8_t positions[MAX_POSITIONS];
} stamp_text;

static int is_same(const stamp_text *a, const stamp_text *b)
{
    if (a->length != b->length)
        return 0;
    for (uint32_t i = 0; i < a->length; i++)
        if (a->positions[i] != b->positions[i])
            return 0;
    return 1;
}

static int is_listed(const stamp_text *list, uint32_t count, const stamp_text *one)
{
    for (uint32_t i = 0; i < count; i++)
        if (is_same(&list[i], one))
            return 1;
    return 0;
}

/* 1 when the row holds in a model year of the reading. */
static int can_hold(image_t image, const plwi_reading *reading, uint32_t row)
{
    plwi_years years = plwi_year_set(image, plwi_u16(plwi_row(image, row) + ROW_YEARS));
    return plwi_years_empty(reading->years) ||
           !plwi_years_empty(plwi_years_and(years, reading->years));
}

/* Each selection of characters once, in the order of the tables. */
static uint32_t list_stamps(const plw_result *result, uint32_t index, stamp_text list[MAX_STAMPS])
{
    plwi_stamp stamps[MAX_STAMPS];
    uint32_t count = 0;
    if (index >= plw_reading_count(result))
        return 0;
    image_t image = plwi_image(result->tables);
    const plwi_reading *reading = &result->readings[index];
    uint32_t all = plwi_stamps(image, plw_reading_scheme(result, index), stamps);
    for (uint32_t i = 0; i < all; i++) {
        stamp_text *one = &list[count];
        one->row = stamps[i].row;
        one->length = plwi_stamp_positions(image, reading->layout, &stamps[i], one->positions);
        if (one->length > 0 && can_hold(image, reading, one->row) &&
            !is_listed(list, count, one))
            count++;
    }
    return count;
}

uint32_t plw_stamp_count(const plw_result *result, uint32_t reading)
{
    stamp_text list[MAX_STAMPS];
    return list_stamps(result, reading, list);
}

uint32_t plw_stamp_row(const plw_result *result, uint32_t reading, uint32_t stamp)
{
    stamp_text list[MAX_STAMPS];
    return stamp < list_stamps(result, reading, list) ? list[stamp].row : PLW_NONE;
}

int32_t plw_stamp_text(const plw_result *result, uint32_t reading, uint32_t stamp, char *buffer,
                       size_t capacity, size_t *needed)
{
    stamp_text list[MAX_STAMPS];
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (stamp >= list_stamps(result, reading, list))
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    for (uint32_t i = 0; i < list[stamp].length; i++) {
        uint32_t p = list[stamp].positions[i];
        const plwi_reading *r = &result->readings[reading];
        if (plwi_is_single(r->sets[p]))
            plwi_put_set(&writer, r->sets[p]);
        else
            plwi_put_typed(&writer, &result->number.cell[p]);
    }
    return plwi_writer_end(&writer, needed);
}
