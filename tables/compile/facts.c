/* SPDX-License-Identifier: MIT
 *
 * Facts: what a row states for programs.
 */
#include <string.h>

#include "codes.h"
#include "resolve.h"
#include "vocabulary.h"

bool tc_same_fact(const tc_fact *a, const tc_fact *b)
{
    return a->attribute == b->attribute && a->thousandths == b->thousandths &&
           strcmp(a->text, b->text) == 0;
}

/* A number with up to three decimals in thousandths, or -1. */
static int64_t read_thousandths(const char *text)
{
    int64_t value = 0;
    int decimals = -1;
    size_t digits = 0;
    for (; *text; text++) {
        if (*text == '.' && decimals < 0 && digits > 0) {
            decimals = 0;
            continue;
        }
        if (*text < '0' || *text > '9' || decimals == 3 || digits == 12)
            return -1;
        value = value * 10 + (*text - '0');
        digits++;
        decimals += decimals >= 0;
    }
    if (digits == 0 || decimals == 0)
        return -1;
    for (int i = decimals < 0 ? 0 : decimals; i < 3; i++)
        value *= 10;
    return value <= UINT32_MAX ? value : -1;
}

static bool refuse_value(tc_compilation *c, tc_word word, const tc_attribute *attribute)
{
    const char *text = tc_unquoted(c, word);
    if (attribute->kind == ATTRIBUTE_NUMBER) {
        tc_complain(c, word.place, "\"%s\" is no number, but %s takes one; write digits, with "
                                   "up to three decimals behind a point", text, attribute->name);
        return false;
    }
    const char *list = "";
    for (size_t i = 0; i < attribute->words.count; i++)
        list = tc_print(c, "%s%s%s", list, i ? ", " : "", attribute->words.items[i]);
    tc_complain(c, word.place, "%s does not take \"%s\"; write %s: %s", attribute->name, text,
                attribute->joined ? "one or several, joined by +, of" : "one of", list);
    return false;
}

static bool is_listed(const tc_attribute *attribute, const char *text)
{
    for (size_t i = 0; i < attribute->words.count; i++)
        if (strcmp(attribute->words.items[i], text) == 0)
            return true;
    return attribute->words.count == 0;
}

/* Each of the words that + joins. */
static bool are_listed(tc_compilation *c, const tc_attribute *attribute, tc_word word)
{
    tc_word part;
    while (tc_part(&word, '+', &part))
        if (!is_listed(attribute, tc_unquoted(c, part)))
            return false;
    return true;
}

/* Values that hold a sign with a meaning of its own are written in quotes. */
static bool check_plain(tc_compilation *c, tc_word word)
{
    tc_word before;
    tc_word behind;
    if (word.length == 0) {
        tc_complain(c, word.place, "the value is missing; write it behind the =");
        return false;
    }
    if (!tc_cut(word, '=', &before, &behind) && !tc_cut(word, '|', &before, &behind))
        return true;
    tc_complain(c, word.place, "the value %s holds a sign of its own meaning; write it in "
                               "quotes: \"%s\"", tc_string(c, word), tc_unquoted(c, word));
    return false;
}

bool tc_read_value(tc_compilation *c, uint16_t attribute, tc_word word, tc_fact *fact)
{
    const tc_attribute *known = &c->attributes.items[attribute];
    if (!check_plain(c, word))
        return false;
    *fact = (tc_fact){ attribute, 0, tc_unquoted(c, word) };
    if (known->writes != TC_FREE_TEXT)
        return tc_check_date_value(c, known, word, fact->text);
    if (known->kind == ATTRIBUTE_TEXT)
        return (*fact->text && (known->joined ? are_listed(c, known, word)
                                              : is_listed(known, fact->text))) ||
               refuse_value(c, word, known);
    int64_t thousandths = read_thousandths(fact->text);
    if (thousandths < 0)
        return refuse_value(c, word, known);
    fact->thousandths = (uint32_t)thousandths;
    fact->text = "";
    return true;
}

static bool read_attribute_name(tc_compilation *c, tc_word name, uint16_t *attribute)
{
    int found = tc_find_attribute(c, name);
    if (found >= 0) {
        *attribute = (uint16_t)found;
        return true;
    }
    tc_choices choices = { .wanted = tc_string(c, name) };
    for (size_t i = 0; i < c->attributes.count; i++)
        tc_offer(&choices, c->attributes.items[i].name);
    tc_complain(c, name.place, "there is no attribute \"%s\"; write one of: %s, or add it under "
                               "[attributes]", choices.wanted, tc_offered(c, &choices));
    return false;
}

static bool is_stated(const tc_facts *facts, uint16_t attribute)
{
    for (size_t i = 0; i < facts->count; i++)
        if (facts->items[i].attribute == attribute)
            return true;
    return false;
}

static bool read_tag(tc_compilation *c, tc_word value, const char **tag)
{
    if (!check_plain(c, value))
        return false;
    if (tag) {
        *tag = tc_unquoted(c, value);
        return true;
    }
    tc_complain(c, value.place, "a tag tells rows apart; leave it out here");
    return false;
}

static bool read_fact(tc_compilation *c, tc_word part, tc_facts *facts, const char **tag)
{
    tc_word name;
    tc_word value;
    tc_fact fact;
    uint16_t attribute;
    if (!tc_cut(part, '=', &name, &value)) {
        tc_complain(c, part.place, "\"%s\" is no fact; write name=value, joined by commas",
                    tc_string(c, part));
        return false;
    }
    if (tc_is(name, "tag"))
        return read_tag(c, value, tag);
    if (!read_attribute_name(c, name, &attribute) || !tc_read_value(c, attribute, value, &fact))
        return false;
    if (is_stated(facts, attribute)) {
        tc_complain(c, part.place, "%s is stated already; write it once in a row",
                    tc_string(c, name));
        return false;
    }
    *TC_ADD(&c->memory, facts) = fact;
    return true;
}

bool tc_read_facts(tc_compilation *c, tc_word word, tc_facts *facts, const char **tag)
{
    bool good = true;
    tc_word rest = word;
    tc_word part;
    if (tc_is_none(word))
        return true;
    while (tc_part(&rest, ',', &part))
        if (!read_fact(c, part, facts, tag))
            good = false;
    return good;
}

/* "year", or "maker.3" for one character of a field. */
static bool is_part(const tc_scheme *scheme, tc_word word)
{
    tc_word name = word;
    tc_word place;
    int32_t character = 1;
    if (tc_cut(word, '.', &name, &place))
        character = tc_number(place);
    const tc_field *field = tc_find_field(scheme, name);
    return field && field->width > 0 && character >= 1 && character <= field->width;
}

static bool check_parts(tc_compilation *c, const tc_scheme *scheme, tc_place place,
                        const tc_fact *fact)
{
    const char *name = c->attributes.items[fact->attribute].name;
    tc_word rest = { fact->text, strlen(fact->text), place };
    tc_word part;
    if (tc_is(rest, "none"))
        return true;
    while (tc_part(&rest, '+', &part))
        if (!is_part(scheme, part)) {
            tc_complain(c, place, "%s names \"%s\", which is no field with positions here; write "
                                  "names of fields joined by +, such as year+plant, one "
                                  "character of a field as maker.3, or none",
                        name, tc_string(c, part));
            return false;
        }
    return true;
}

bool tc_check_parts(tc_compilation *c, const tc_scheme *scheme, tc_place place,
                    const tc_facts *facts)
{
    bool good = true;
    if (!scheme->layouts_sound) /* told already, and no field has its width */
        return true;
    for (size_t i = 0; i < facts->count; i++)
        if (c->attributes.items[facts->items[i].attribute].names_fields &&
            !check_parts(c, scheme, place, &facts->items[i]))
            good = false;
    return good;
}
