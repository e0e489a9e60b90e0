/* SPDX-License-Identifier: MIT */
#include "json.h"

#include <string.h>

#include "internal.h"

/* Of a code of at most four figures. */
static void put_escape(plwi_writer *out, uint32_t code)
{
    static const char digits[] = "0123456789abcdef";
    plwi_put_text(out, "\\u");
    for (int shift = 12; shift >= 0; shift -= 4)
        plwi_put_char(out, digits[code >> shift & 15]);
}

/* Controls and marks that turn the direction of writing are escaped, bytes that are
 * not UTF-8 are replaced. */
void plwi_json_string(plwi_writer *out, const char *text)
{
    plwi_unit unit;
    plwi_put_char(out, '"');
    for (size_t left = strlen(text); left > 0; text += unit.length, left -= unit.length) {
        unit = plwi_next_unit((const unsigned char *)text, left);
        if (plwi_is_unshowable(unit.code)) {
            put_escape(out, unit.code);
        } else if (unit.code == INVALID_UNIT) {
            plwi_put_text(out, "\xEF\xBF\xBD");
        } else {
            if (unit.code == '"' || unit.code == '\\')
                plwi_put_char(out, '\\');
            plwi_put(out, text, unit.length);
        }
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

void plwi_json_name_or_null(plwi_writer *out, const char *name, const char *text)
{
    plwi_json_name(out, 0, name);
    if (text[0] == '\0')
        plwi_put_text(out, "null");
    else
        plwi_json_string(out, text);
}

void plwi_json_marks(plwi_writer *out, uint32_t marks)
{
    static const char *const names[] = { "disputed", "either", "doubtful" };
    uint32_t count = 0;
    plwi_json_open(out, "marks", '[');
    for (unsigned bit = 0; bit < sizeof names / sizeof *names; bit++) {
        if (!(marks >> bit & 1u))
            continue;
        plwi_json_comma(out, count++);
        plwi_json_string(out, names[bit]);
    }
    plwi_put_char(out, ']');
}
