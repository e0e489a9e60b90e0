/* SPDX-License-Identifier: MIT
 *
 * The section [check FIELD]: how a check character is worked out.
 */
#include <string.h>

#include "codes.h"
#include "resolve.h"

typedef struct reader {
    tc_compilation *c;
    const tc_section *section;
    tc_check *check;
} reader;

static bool refuse(reader *r, tc_place place, const char *text)
{
    tc_complain(r->c, place, "%s", text);
    return false;
}

static bool read_values(reader *r)
{
    for (unsigned bit = 0; bit < ALPHABET_SIZE; bit++)
        r->check->values[bit] = (uint8_t)(bit < 10 ? bit : CHECK_NO_VALUE);
    for (size_t i = 0; i < r->section->values.count; i++) {
        tc_word word = r->section->values.items[i];
        int bit = tc_character(word.text[0]);
        int32_t value = tc_number(tc_slice(word, 1, word.length - 1));
        if (bit < 0 || value < 0 || value >= CHECK_NO_VALUE)
            return refuse(r, word.place, "this is no value of a character; write the character "
                                         "and its number, like A1 B2");
        r->check->values[bit] = (uint8_t)value;
    }
    return true;
}

static bool read_weights(reader *r)
{
    const tc_words *weights = &r->section->weights;
    if (weights->count == 0 || weights->count > MAX_POSITIONS)
        return refuse(r, r->section->field_word.place,
                      "the check needs one weight for each position; write a line like: weights "
                      "8 7 6 5 4 3 2 10 0 9 8 7 6 5 4 3 2");
    for (size_t i = 0; i < weights->count; i++) {
        int32_t weight = tc_number(weights->items[i]);
        if (weight < 0 || weight > UINT8_MAX)
            return refuse(r, weights->items[i].place, "a weight is a whole number from 0 to "
                                                      "255; write one for each position");
        r->check->weights[i] = (uint8_t)weight;
    }
    r->check->length = (uint8_t)weights->count;
    return true;
}

static bool read_digits(reader *r)
{
    tc_word modulus = r->section->modulus;
    tc_word digits = r->section->digits;
    int32_t count = tc_number(modulus);
    memset(r->check->digits, CHECK_NO_VALUE, sizeof r->check->digits);
    if (count < 2 || count > ALPHABET_SIZE)
        return refuse(r, modulus.text ? modulus.place : r->section->field_word.place,
                      "the check needs a modulus from 2 to 36; write a line like: modulus 11");
    if (!digits.text || digits.length != (size_t)count)
        return refuse(r, digits.text ? digits.place : r->section->field_word.place,
                      tc_print(r->c, "the check needs %d digits, one for each remainder; write "
                                     "a line like: digits 0123456789X", (int)count));
    for (size_t i = 0; i < digits.length; i++) {
        int bit = tc_character(digits.text[i]);
        if (bit < 0 || !(r->check->field->characters >> bit & 1))
            return refuse(r, tc_slice(digits, i, 1).place,
                          tc_print(r->c, "%s does not take this character; write characters of "
                                         "%s", r->check->field->name,
                                   tc_show_set(r->c, r->check->field->characters)));
        r->check->digits[i] = (uint8_t)bit;
    }
    r->check->modulus = (uint8_t)count;
    return true;
}

static bool check_form(reader *r, const tc_form *form)
{
    const tc_span *span = tc_span_of(form, r->check->field);
    if (!span)
        return true;
    if (span->width != 1)
        return refuse(r, r->check->field->place, "a check character has one position; give its "
                                                 "letter to one position of the ruler");
    if (form->length != r->check->length)
        return refuse(r, r->section->weights.items[0].place,
                      tc_print(r->c, "there are %u weights, but a layout with this check "
                                     "character has %u positions; write one weight for each",
                               (unsigned)r->check->length, (unsigned)form->length));
    for (unsigned p = 0; p < form->length; p++)
        if (span->positions >> p & 1 && r->check->weights[p] != 0)
            return refuse(r, r->section->weights.items[p].place,
                          "the check character itself must not count; write 0 for its position");
    return true;
}

void tc_resolve_check(tc_compilation *c, tc_scheme *scheme, const tc_section *section,
                      tc_field *field)
{
    tc_check check = { .field = field };
    reader r = { c, section, &check };
    if (field->has_check) {
        refuse(&r, section->field_word.place, "this scheme has a check already; write one");
        return;
    }
    field->has_check = true;
    if (!read_values(&r) || !read_weights(&r) || !read_digits(&r))
        return;
    scheme->check = check;
    for (size_t i = 0; i < scheme->forms.count; i++)
        if (!check_form(&r, scheme->forms.items[i]))
            return;
}
