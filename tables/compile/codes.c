/* SPDX-License-Identifier: MIT */
#include "codes.h"

#include <stdlib.h>
#include <string.h>

#define MOST_CODES 65535u

static const char characters[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/* ---- sets of characters ----------------------------------------------- */

int tc_character(char byte)
{
    const char *found = byte ? strchr(characters, byte) : NULL;
    return found ? (int)(found - characters) : -1;
}

static bool refuse_set(tc_compilation *c, tc_word at, const char *why)
{
    tc_complain(c, at.place, "%s; write capital letters, digits and ranges like A-HJ-NP-Z0-9",
                why);
    return false;
}

bool tc_read_set(tc_compilation *c, tc_word word, uint64_t *set)
{
    *set = 0;
    for (size_t i = 0; i < word.length; i++) {
        int first = tc_character(word.text[i]);
        int last = first;
        tc_word at = tc_slice(word, i, 1);
        if (first < 0)
            return refuse_set(c, at, "this is no character of a number");
        if (i + 1 < word.length && word.text[i + 1] == '-') {
            last = i + 2 < word.length ? tc_character(word.text[i + 2]) : -1;
            if (last <= first || (first < 10 && last >= 10))
                return refuse_set(c, at, "this range does not run upwards");
            i += 2;
        }
        for (int bit = first; bit <= last; bit++)
            *set |= UINT64_C(1) << bit;
    }
    return true;
}

const char *tc_show_set(tc_compilation *c, uint64_t set)
{
    const char *text = "";
    for (int bit = ALPHABET_SIZE - 1; bit >= 0; bit--) {
        int last = bit;
        if (!(set >> bit & 1))
            continue;
        while (bit > 0 && set >> (bit - 1) & 1 && (bit != 10))
            bit--;
        if (last - bit >= 2)
            text = tc_print(c, "%c-%c%s", characters[bit], characters[last], text);
        else if (last > bit)
            text = tc_print(c, "%c%c%s", characters[bit], characters[last], text);
        else
            text = tc_print(c, "%c%s", characters[bit], text);
    }
    return text;
}

/* ---- packed codes ----------------------------------------------------- */

unsigned tc_code_width(uint64_t code)
{
    unsigned width = 0;
    while (width < MAX_CODE_WIDTH && code >> (CODE_BITS * width))
        width++;
    return width;
}

unsigned tc_code_character(uint64_t code, unsigned width, unsigned place)
{
    return (unsigned)(code >> (CODE_BITS * (width - 1 - place)) & ((1u << CODE_BITS) - 1)) - 1;
}

uint64_t tc_greatest_code(unsigned width)
{
    uint64_t code = 0;
    for (unsigned i = 0; i < width; i++)
        code = code << CODE_BITS | ALPHABET_SIZE;
    return code;
}

uint64_t tc_padded_code(uint64_t code, unsigned width)
{
    for (unsigned i = tc_code_width(code); i < width; i++)
        code |= UINT64_C(1) << (CODE_BITS * i);
    return code;
}

const tc_span *tc_span_of(const tc_form *form, const tc_field *field)
{
    for (size_t i = 0; i < form->spans.count; i++)
        if (form->spans.items[i].field == field)
            return &form->spans.items[i];
    return NULL;
}

bool tc_code_fits(const tc_form *form, const tc_span *span, uint64_t code)
{
    if (tc_code_width(code) != span->width)
        return false;
    for (unsigned p = form->length; p-- > 0;) {
        if (!(span->positions >> p & 1))
            continue;
        if (!(form->classes[p] >> tc_code_character(code, 1, 0) & 1))
            return false;
        code >>= CODE_BITS;
    }
    return true;
}

static bool fits_some_form(const tc_scheme *scheme, const tc_field *field, uint64_t code)
{
    for (size_t i = 0; i < scheme->forms.count; i++) {
        const tc_span *span = tc_span_of(scheme->forms.items[i], field);
        if (span && tc_code_fits(scheme->forms.items[i], span, code))
            return true;
    }
    return false;
}

/* ---- reading codes ---------------------------------------------------- */

typedef struct reader {
    tc_compilation *c;
    const tc_scheme *scheme;
    const tc_field *field;
    tc_codes *codes;
    tc_problem *problem;
} reader;

static bool refuse(reader *r, tc_word at, const char *text)
{
    r->problem->place = at.place;
    r->problem->text = text;
    return false;
}

/* "2", "5 or 6": the widths the field has. */
static const char *show_widths(reader *r)
{
    const char *text = "";
    for (unsigned width = 1; width <= MAX_CODE_WIDTH; width++)
        if (r->field->widths >> width & 1)
            text = tc_print(r->c, "%s%s%u", text, *text ? " or " : "", width);
    return text;
}

static bool right_width(reader *r, tc_word word)
{
    if (r->field->kind == KIND_RUN)
        return word.length > 0 && word.length <= r->field->width;
    return word.length <= MAX_CODE_WIDTH && (r->field->widths >> word.length & 1);
}

static bool read_code(reader *r, tc_word word, uint64_t *code)
{
    const char *name = r->field->name;
    *code = 0;
    for (size_t i = 0; i < word.length; i++) {
        int bit = tc_character(word.text[i]);
        tc_word at = tc_slice(word, i, 1);
        if (bit < 0)
            return refuse(r, at, tc_print(r->c, "a code is made of capital letters and digits; "
                                                "write the characters as the number shows "
                                                "them, or join codes with | and -"));
        if (r->field->characters && !(r->field->characters >> bit & 1))
            return refuse(r, at, tc_print(r->c, "%s does not take %c; write characters of %s",
                                          name, word.text[i],
                                          tc_show_set(r->c, r->field->characters)));
        *code = *code << CODE_BITS | (unsigned)(bit + 1);
        if (i + 1 > MAX_CODE_WIDTH)
            break;
    }
    if (!right_width(r, word))
        return refuse(r, word, tc_print(r->c, "\"%s\" has %zu character%s, but %s has %s%s; "
                                              "write codes of that length",
                                        tc_string(r->c, word), word.length,
                                        word.length == 1 ? "" : "s", name,
                                        r->field->kind == KIND_RUN ? "at most " : "",
                                        show_widths(r)));
    return true;
}

static bool add_code(reader *r, tc_word word, uint64_t code)
{
    if (r->codes->count >= MOST_CODES)
        return refuse(r, word, tc_print(r->c, "these are more than %u codes; write fewer in "
                                              "one row", MOST_CODES));
    *TC_ADD(&r->c->memory, r->codes) = code;
    return true;
}

/* The place of a character in the scheme's alphabet, or -1. */
static int rank(const reader *r, char character)
{
    const char *found = strchr(r->scheme->alphabet, character);
    return found ? (int)(found - r->scheme->alphabet) : -1;
}

/* Counts up by one in the scheme's alphabet, like an odometer. */
static void step(const reader *r, char *code, size_t width)
{
    int last = (int)strlen(r->scheme->alphabet) - 1;
    for (size_t i = width; i-- > 0;) {
        int at = rank(r, code[i]);
        if (at < last) {
            code[i] = r->scheme->alphabet[at + 1];
            return;
        }
        code[i] = r->scheme->alphabet[0];
    }
}

static uint64_t pack(const char *code, size_t width)
{
    uint64_t packed = 0;
    for (size_t i = 0; i < width; i++)
        packed = packed << CODE_BITS | (unsigned)(tc_character(code[i]) + 1);
    return packed;
}

/* Negative when low stands before high in the scheme's alphabet. */
static int compare_ends(const reader *r, const char *low, const char *high, size_t width)
{
    for (size_t i = 0; i < width; i++)
        if (low[i] != high[i])
            return rank(r, low[i]) - rank(r, high[i]);
    return 0;
}

static bool check_ends(reader *r, tc_word range, tc_word low, tc_word high)
{
    for (size_t i = 0; i < low.length; i++)
        if (rank(r, low.text[i]) < 0 || rank(r, high.text[i]) < 0)
            return refuse(r, range, tc_print(r->c, "the alphabet of this scheme is %s; a range "
                                                   "starts and ends with characters of it",
                                             r->scheme->alphabet));
    if (compare_ends(r, low.text, high.text, low.length) >= 0)
        return refuse(r, range, tc_print(r->c, "the range %s does not run upwards; write the "
                                               "lower code first (order: %s)",
                                         tc_string(r->c, range), r->scheme->alphabet));
    return true;
}

/* Codes between the ends that no layout can show are left out. */
static bool read_range(reader *r, tc_word range, tc_word low, tc_word high)
{
    uint64_t code;
    size_t before = r->codes->count;
    size_t tried = 0;
    if (!read_code(r, low, &code) || !read_code(r, high, &code))
        return false;
    if (low.length != high.length)
        return refuse(r, range, "the ends of this range differ in length; write both with the "
                                "same number of characters");
    if (!check_ends(r, range, low, high))
        return false;
    char at[MAX_CODE_WIDTH];
    memcpy(at, low.text, low.length);
    for (;;) {
        code = pack(at, low.length);
        if (fits_some_form(r->scheme, r->field, code) && !add_code(r, range, code))
            return false;
        if (memcmp(at, high.text, low.length) == 0)
            break;
        if (++tried > (size_t)16 * MOST_CODES)
            return refuse(r, range, "this range holds too many codes; write narrower ranges");
        step(r, at, low.length);
    }
    if (r->codes->count == before)
        return refuse(r, range, tc_print(r->c, "no number can show a code of %s in %s; compare "
                                               "the layouts",
                                         tc_string(r->c, range), r->field->name));
    return true;
}

static bool read_run(reader *r, tc_word part)
{
    tc_word low = part;
    tc_word high = part;
    uint64_t from;
    uint64_t to = tc_greatest_code(r->field->width);
    bool open = part.length > 0 && part.text[part.length - 1] == '+';
    if (open)
        low = tc_slice(part, 0, part.length - 1);
    else if (tc_cut(part, '-', &low, &high) && high.length == 0)
        return refuse(r, part, tc_print(r->c, "this range has no end; write %s+ when none is known",
                                        tc_string(r->c, low)));
    if (!read_code(r, low, &from) || (!open && !read_code(r, high, &to)))
        return false;
    from = tc_padded_code(from, r->field->width);
    to = tc_padded_code(to, r->field->width);
    if (from > to)
        return refuse(r, part, tc_print(r->c, "the numbers %s run backwards; write %s-%s",
                                        tc_string(r->c, part), tc_string(r->c, high),
                                        tc_string(r->c, low)));
    return add_code(r, part, from) && add_code(r, part, to);
}

static bool read_alternative(reader *r, tc_word part)
{
    tc_word low;
    tc_word high;
    uint64_t code;
    if (r->field->kind == KIND_RUN)
        return read_run(r, part);
    if (tc_cut(part, '-', &low, &high))
        return read_range(r, part, low, high);
    if (!read_code(r, part, &code))
        return false;
    if (!fits_some_form(r->scheme, r->field, code))
        return refuse(r, part, tc_print(r->c, "no number can show %s in %s; write a code that "
                                              "its positions in the layout allow",
                                        tc_string(r->c, part), r->field->name));
    return add_code(r, part, code);
}

static int compare_codes(const void *left, const void *right)
{
    uint64_t a = *(const uint64_t *)left;
    uint64_t b = *(const uint64_t *)right;
    return a < b ? -1 : a > b;
}

static void sort_codes(tc_codes *codes)
{
    size_t kept = 0;
    qsort(codes->items, codes->count, sizeof *codes->items, compare_codes);
    for (size_t i = 0; i < codes->count; i++)
        if (i == 0 || codes->items[i] != codes->items[kept - 1])
            codes->items[kept++] = codes->items[i];
    codes->count = kept;
}

bool tc_read_codes(tc_compilation *c, const tc_scheme *scheme, const tc_field *field,
                   tc_word word, tc_codes *codes, tc_problem *problem)
{
    reader r = { c, scheme, field, codes, problem };
    tc_word rest = word;
    tc_word part;
    codes->count = 0;
    while (tc_part(&rest, '|', &part))
        if (!read_alternative(&r, part))
            return false;
    if (field->kind != KIND_RUN)
        sort_codes(codes);
    return true;
}
