/* SPDX-License-Identifier: MIT
 *
 * Step one: what people type or scan becomes positions. Separators and the
 * marks around a stamp go, small and full-width letters become capitals, and
 * every position remembers the bytes it came from.
 */
#include "internal.h"

static int is_continuation(unsigned char byte)
{
    return (byte & 0xC0) == 0x80;
}

plwi_unit plwi_next_unit(const unsigned char *text, size_t left)
{
    static const uint32_t smallest[5] = { 0, 0, 0x80, 0x800, 0x10000 };
    plwi_unit bad = { INVALID_UNIT, 1 };
    unsigned char first = text[0];
    if (first < 0x80)
        return (plwi_unit){ first, 1 };
    uint32_t length = first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    if (length == 0 || first > 0xF4 || length > left)
        return bad;
    plwi_unit result = { first & (0x7Fu >> length), length };
    for (uint32_t i = 1; i < length; i++) {
        if (!is_continuation(text[i]))
            return bad;
        result.code = result.code << 6 | (text[i] & 0x3Fu);
    }
    if (result.code < smallest[length] || result.code > 0x10FFFF ||
        (result.code >= 0xD800 && result.code < 0xE000))
        return bad;
    return result;
}

/* Full-width forms and small letters become plain capitals. */
static uint32_t fold(uint32_t code)
{
    if (code >= 0xFF01 && code <= 0xFF5E)
        code -= 0xFF01 - 0x21;
    if (code >= 'a' && code <= 'z')
        code -= 'a' - 'A';
    return code;
}

/* What may stand between characters of a number and means nothing. */
static int is_separator(uint32_t code)
{
    static const uint32_t separators[] = {
        ' ', '\t', '\r', '\n', '-', '.', '*', '/', '_', ',', ':', '\'', '|',
        0x00A0, 0x00AD, 0x00B7, 0x2007, 0x2009, 0x200B, 0x2010, 0x2011, 0x2012, 0x2013, 0x2014,
        0x2015, 0x2022, 0x202F, 0x2212, 0x22C6, 0x2605, 0x2606, 0x2B50, 0x2B51, 0x3000, 0xFEFF,
    };
    for (size_t i = 0; i < sizeof separators / sizeof *separators; i++)
        if (separators[i] == code)
            return 1;
    return 0;
}

char plwi_character(unsigned bit)
{
    return (char)(bit < 10 ? '0' + (int)bit : 'A' + (int)bit - 10);
}

unsigned plwi_character_bit(uint32_t code_point)
{
    if (code_point >= '0' && code_point <= '9')
        return code_point - '0';
    if (code_point >= 'A' && code_point <= 'Z')
        return code_point - 'A' + 10;
    return ODD_CHARACTER;
}

int plwi_is_unshowable(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0x061C ||
           (code >= 0x200B && code <= 0x200F) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2060 && code <= 0x206F);
}

static void add_cell(plwi_number *number, uint64_t set, uint32_t shown, size_t offset,
                     size_t length)
{
    if (number->count < MAX_POSITIONS) {
        plwi_cell *cell = &number->cell[number->count];
        cell->set = set;
        cell->shown = shown;
        cell->offset = (uint16_t)offset;
        cell->length = (uint16_t)length;
    }
    number->count++;
}

/* "[8B]": the length of the bracket and the characters in it, or 0 when it is
 * only a mark. Two characters at least, nothing but letters, digits, blanks
 * and separators between them. */
static size_t read_alternatives(const unsigned char *text, size_t left, uint64_t *set)
{
    unsigned count = 0;
    *set = 0;
    for (size_t i = 1; i < left;) {
        plwi_unit u = plwi_next_unit(text + i, left - i);
        uint32_t code = fold(u.code);
        i += u.length;
        if (code == ']')
            return count >= 2 ? i : 0;
        unsigned bit = plwi_character_bit(code);
        if (bit != ODD_CHARACTER) {
            *set |= UINT64_C(1) << bit;
            count++;
        } else if (!is_separator(code)) {
            return 0;
        }
    }
    return 0;
}

static int is_plain(uint32_t code)
{
    return plwi_character_bit(code) != ODD_CHARACTER || code == '?' || code == INVALID_UNIT;
}

/* Any sign before the first or behind the last character is a mark around the
 * stamp. Here the first and the last byte that count are found. */
static void trim_marks(const unsigned char *text, size_t length, size_t *start, size_t *end)
{
    *start = 0;
    *end = length;
    if (is_plain(text[0]) && is_plain(text[length - 1]))
        return; /* as most numbers are */
    *start = length;
    for (size_t i = 0; i < length;) {
        plwi_unit u = plwi_next_unit(text + i, length - i);
        uint64_t set;
        size_t bracket = fold(u.code) == '[' ? read_alternatives(text + i, length - i, &set) : 0;
        size_t taken = bracket ? bracket : u.length;
        if (bracket || is_plain(fold(u.code))) {
            if (*start == length)
                *start = i;
            *end = i + taken;
        }
        i += taken;
    }
}

/* Reads one unit at offset i; returns the bytes it took. */
static size_t read_unit(const unsigned char *text, size_t i, size_t end, plwi_number *number)
{
    plwi_unit u = plwi_next_unit(text + i, end - i);
    uint32_t code = fold(u.code);
    unsigned bit = plwi_character_bit(code);
    uint64_t set;
    size_t bracket = code == '[' ? read_alternatives(text + i, end - i, &set) : 0;
    if (bracket) {
        add_cell(number, set, SHOWN_ALTERNATIVES, i, bracket);
        return bracket;
    }
    if (bit != ODD_CHARACTER)
        add_cell(number, UINT64_C(1) << bit, code, i, u.length);
    else if (code == '?' || code == INVALID_UNIT)
        add_cell(number, ALL_CHARACTERS, '?', i, u.length);
    else if (!is_separator(code))
        add_cell(number, UINT64_C(1) << ODD_CHARACTER,
                 plwi_is_unshowable(code) ? INVALID_UNIT : code, i, u.length);
    return u.length;
}

void plwi_normalise(const char *text, size_t length, plwi_number *number)
{
    const unsigned char *bytes = (const unsigned char *)text;
    size_t start, end;
    number->count = 0;
    if (length == 0)
        return;
    trim_marks(bytes, length, &start, &end);
    for (size_t i = start; i < end;) {
        unsigned bit = plwi_character_bit(bytes[i]);
        if (bit == ODD_CHARACTER) {
            i += read_unit(bytes, i, end, number);
        } else {
            add_cell(number, UINT64_C(1) << bit, bytes[i], i, 1);
            i++;
        }
    }
}
