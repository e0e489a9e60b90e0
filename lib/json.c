/* SPDX-License-Identifier: MIT */
#include "json.h"

#include "platewright.h"

static void put_escape(plwi_writer *out, unsigned char byte)
{
    static const char digits[] = "0123456789abcdef";
    plwi_put_text(out, "\\u00");
    plwi_put_char(out, digits[byte >> 4]);
    plwi_put_char(out, digits[byte & 15]);
}

void plwi_json_string(plwi_writer *out, const char *text)
{
    plwi_put_char(out, '"');
    for (; *text; text++) {
        unsigned char byte = (unsigned char)*text;
        if (byte < 0x20 || byte == 0x7F) {
            put_escape(out, byte);
            continue;
        }
        if (byte == '"' || byte == '\\')
            plwi_put_char(out, '\\');
        plwi_put_char(out, *text);
    }
    plwi_put_char(out, '"');
}

void plwi_json_name(plwi_writer *out, int first, const char *name)
{
    if (!first)
        plwi_put_char(out, ',');
    plwi_json_string(out, name);
    plwi_put_char(out, ':');
}

void plwi_json_text(plwi_writer *out, const char *name, const char *text)
{
    plwi_json_name(out, 0, name);
    plwi_json_string(out, text);
}

void plwi_json_number(plwi_writer *out, const char *name, int64_t number)
{
    plwi_json_name(out, 0, name);
    plwi_put_number(out, number);
}

void plwi_json_open(plwi_writer *out, const char *name, char bracket)
{
    plwi_json_name(out, 0, name);
    plwi_put_char(out, bracket);
}

void plwi_json_comma(plwi_writer *out, uint32_t index)
{
    if (index > 0)
        plwi_put_char(out, ',');
}

void plwi_json_positions(plwi_writer *out, uint32_t positions)
{
    uint32_t count = 0;
    plwi_json_open(out, "positions", '[');
    for (unsigned bit = 0; bit < PLW_MAX_POSITIONS; bit++) {
        if (!(positions >> bit & 1u))
            continue;
        plwi_json_comma(out, count++);
        plwi_put_number(out, bit + 1);
    }
    plwi_put_char(out, ']');
}

void plwi_json_years(plwi_writer *out, const char *name, plwi_years years)
{
    uint32_t count = 0;
    plwi_json_open(out, name, '[');
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year)) {
        plwi_json_comma(out, count++);
        plwi_put_number(out, year);
    }
    plwi_put_char(out, ']');
}
