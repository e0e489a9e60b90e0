/* SPDX-License-Identifier: MIT
 *
 * What the tables say about plates and stamps: rows of topics state where a car
 * bears its number (the attribute "places") and which part a stamp repeats
 * ("repeats": names of fields joined by '+', "maker.3" for one character of one).
 */
#include <string.h>

#include "car.h"

#define REPEATS "repeats"
#define PLACES "places"

static const char *attribute_name(image_t image, const unsigned char *fact)
{
    const unsigned char *attribute =
        plwi_record(image, SECTION_ATTRIBUTES, 16, plwi_u16(fact + FACT_ATTRIBUTE));
    if (attribute[ATTRIBUTE_KIND] != ATTRIBUTE_TEXT)
        return "";
    return plwi_text(image, plwi_u32(attribute + ATTRIBUTE_NAME));
}

const char *plwi_stated_text(image_t image, const unsigned char *row, const char *name)
{
    uint32_t first = plwi_u32(row + ROW_FACT);
    for (uint32_t i = first; i < first + row[ROW_FACT_COUNT]; i++) {
        const unsigned char *fact = plwi_fact(image, i);
        if (strcmp(attribute_name(image, fact), name) == 0)
            return plwi_text(image, plwi_u32(fact + FACT_VALUE));
    }
    return "";
}

/* The next part of a text joined by '+'; 0 at the end. */
static size_t next_part(const char **text)
{
    *text += **text == '+';
    return strcspn(*text, "+");
}

static uint32_t read_places(const char *text)
{
    uint32_t places = 0;
    for (size_t length; (length = next_part(&text)) > 0; text += length)
        for (int32_t place = 1; place <= PLACE_COUNT; place++) {
            const char *name = plw_place_name(place);
            if (strlen(name) == length && memcmp(name, text, length) == 0)
                places |= UINT32_C(1) << (place - 1);
        }
    return places;
}

static uint32_t add_stamp(image_t image, uint32_t row, uint32_t count,
                          plwi_stamp stamps[MAX_STAMPS])
{
    const unsigned char *record = plwi_row(image, row);
    plwi_stamp stamp = { row, read_places(plwi_stated_text(image, record, PLACES)),
                         plwi_stated_text(image, record, REPEATS), 0 };
    if ((stamp.places == 0 && stamp.repeats[0] == '\0') || count == MAX_STAMPS)
        return count;
    stamps[count] = stamp;
    return count + 1;
}

uint32_t plwi_stamps(image_t image, uint32_t scheme, plwi_stamp stamps[MAX_STAMPS])
{
    const unsigned char *record = plwi_scheme(image, scheme);
    uint32_t first = plwi_u32(record + SCHEME_FIELD), count = 0;
    for (uint32_t i = first; i < first + plwi_u32(record + SCHEME_FIELD_COUNT); i++) {
        const unsigned char *field = plwi_field(image, i);
        uint32_t row = plwi_u32(field + FIELD_ROW);
        uint32_t end = row + plwi_u32(field + FIELD_ROW_COUNT);
        if (field[FIELD_KIND] != KIND_TOPIC)
            continue;
        for (; row < end; row++)
            count = add_stamp(image, row, count, stamps);
    }
    return count;
}

int plwi_stamp_repeats_nothing(const plwi_stamp *stamp)
{
    return strcmp(stamp->repeats, "none") == 0;
}

int plwi_stamp_is_partial(const plwi_stamp *stamp)
{
    return stamp->repeats[0] != '\0' && !plwi_stamp_repeats_nothing(stamp);
}

/* The positions of the field of that name in the layout; none when it has none. */
static uint32_t field_positions(image_t image, const unsigned char *layout, const char *name,
                                size_t length)
{
    uint32_t first = plwi_u32(layout + LAYOUT_SPAN);
    for (uint32_t i = first; i < first + layout[LAYOUT_SPAN_COUNT]; i++) {
        const unsigned char *span = plwi_span(image, i);
        const char *own = plwi_field_name(image, plwi_u16(span + SPAN_FIELD));
        if (strlen(own) == length && memcmp(own, name, length) == 0)
            return plwi_u32(span + SPAN_POSITIONS);
    }
    return 0;
}

/* "maker.3": 3; 0 when all of the field is meant. */
static uint32_t chosen_character(const char *part, size_t length, size_t *name_length)
{
    const char *dot = memchr(part, '.', length);
    uint32_t chosen = 0;
    *name_length = dot ? (size_t)(dot - part) : length;
    for (size_t i = *name_length + 1; i < length; i++)
        chosen = chosen % 1000 * 10 + (uint32_t)(part[i] - '0');
    return chosen;
}

/* Adds the positions of one part; the new count, or 0 when the layout lacks it. */
static uint32_t add_part(image_t image, const unsigned char *layout, const char *part,
                         size_t length, uint32_t count, uint8_t positions[MAX_POSITIONS])
{
    size_t name_length;
    uint32_t chosen = chosen_character(part, length, &name_length);
    uint32_t set = field_positions(image, layout, part, name_length);
    uint32_t before = count, character = 0;
    for (uint8_t p = 0; p < MAX_POSITIONS; p++) {
        if (!(set >> p & 1) || (++character != chosen && chosen != 0))
            continue;
        if (count == MAX_POSITIONS)
            return 0;
        positions[count++] = p;
    }
    return count > before ? count : 0;
}

uint32_t plwi_stamp_positions(image_t image, uint32_t layout, const plwi_stamp *stamp,
                              uint8_t positions[MAX_POSITIONS])
{
    const unsigned char *record = plwi_layout(image, layout);
    const char *text = stamp->repeats;
    uint32_t count = 0;
    if (!plwi_stamp_is_partial(stamp))
        return 0;
    for (size_t length; (length = next_part(&text)) > 0; text += length) {
        count = add_part(image, record, text, length, count, positions);
        if (count == 0)
            return 0;
    }
    return count;
}
