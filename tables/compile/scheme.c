/* SPDX-License-Identifier: MIT
 *
 * What a scheme says of itself, and its list of fields.
 */
#include <string.h>

#include "codes.h"
#include "resolve.h"
#include "vocabulary.h"
#include "years.h"

/* ---- the scheme itself ------------------------------------------------ */

static bool is_small(char byte)
{
    return (byte >= 'a' && byte <= 'z') || (byte >= '0' && byte <= '9');
}

/* One plain word, or words joined by '-' with a year among those behind the
 * first: "iso3779", "port-ellery-1962", "detroit-1960-buick". */
static bool is_scheme_key(tc_word key)
{
    size_t start = 0, words = 0;
    bool year = false;
    for (size_t i = 0; i <= key.length; i++) {
        if (i < key.length && key.text[i] != '-') {
            if (!is_small(key.text[i]))
                return false;
            continue;
        }
        if (i == start)
            return false;
        if (words++ > 0 && i - start == 4 && tc_number(tc_slice(key, start, 4)) > 0)
            year = true;
        start = i + 1;
    }
    return words == 1 || year;
}

static void resolve_key(tc_compilation *c, tc_scheme *scheme)
{
    if (!scheme->key_word.text) {
        scheme->key = "";
        tc_complain(c, scheme->place, "this scheme has no key; write a line like: key "
                                      "port-ellery-1962");
        return;
    }
    scheme->key = tc_string(c, scheme->key_word);
    if (!is_scheme_key(scheme->key_word))
        tc_complain(c, scheme->key_word.place,
                    "\"%s\" is no key of a scheme; write the maker's home and the first model "
                    "year in small letters, like port-ellery-1962, or one plain word",
                    scheme->key);
    for (size_t i = 0; c->schemes.items[i] != scheme; i++)
        if (c->schemes.items[i]->key_word.text && tc_is(scheme->key_word, c->schemes.items[i]->key))
            tc_complain(c, scheme->key_word.place,
                        "there is a scheme \"%s\" already; give this one another key",
                        scheme->key);
}

static void resolve_alphabet(tc_compilation *c, tc_scheme *scheme)
{
    tc_word word = scheme->alphabet_word;
    strcpy(scheme->alphabet, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ");
    if (!word.text)
        return;
    char alphabet[ALPHABET_SIZE + 1] = "";
    for (size_t i = 0; i < word.length; i++) {
        if (tc_character(word.text[i]) < 0 || strchr(alphabet, word.text[i])) {
            tc_complain(c, tc_slice(word, i, 1).place,
                        "the alphabet lists each capital letter and digit at most once; write "
                        "them in their order, without ranges");
            break;
        }
        alphabet[i] = word.text[i];
    }
    memcpy(scheme->alphabet, alphabet, sizeof alphabet);
}

static void resolve_scheme(tc_compilation *c, tc_scheme *scheme)
{
    resolve_key(c, scheme);
    resolve_alphabet(c, scheme);
    if (!scheme->title_word.text)
        tc_complain(c, scheme->place, "this scheme has no title; write a line like: title "
                                      "Wexcombe cars of Port Ellery, 1962-1975");
    if (!scheme->years_word.text)
        tc_complain(c, scheme->place, "this scheme has no years; write a line like: years "
                                      "1962-1975");
    if (!scheme->years_word.text || !tc_read_years(c, scheme->years_word, NULL, &scheme->years))
        scheme->years = tc_years_any(); /* or every row would be refused too */
    if (scheme->facts_word.text)
        tc_read_facts(c, scheme->facts_word, &scheme->facts, NULL);
}

/* ---- the fields ------------------------------------------------------- */

tc_field *tc_find_field(const tc_scheme *scheme, tc_word name)
{
    for (size_t i = 0; i < scheme->fields.count; i++)
        if (tc_is(name, scheme->fields.items[i]->name))
            return scheme->fields.items[i];
    return NULL;
}

void tc_refuse_field(tc_compilation *c, const tc_scheme *scheme, tc_word name)
{
    tc_choices choices = { .wanted = tc_string(c, name) };
    for (size_t i = 0; i < scheme->fields.count; i++)
        tc_offer(&choices, scheme->fields.items[i]->name);
    if (choices.count > 0)
        tc_complain(c, name.place, "there is no field \"%s\" in this scheme; write one of: %s, "
                                   "or add it under [fields]",
                    choices.wanted, tc_offered(c, &choices));
    else
        tc_complain(c, name.place, "there is no field \"%s\" in this scheme; add it under "
                                   "[fields]", choices.wanted);
}

static bool read_field_name(tc_compilation *c, const tc_scheme *scheme, tc_word word,
                            tc_field *field)
{
    int index = tc_find_field_name(c, word);
    field->name = tc_string(c, word);
    field->place = word.place;
    if (index < 0) {
        tc_choices choices = { .wanted = field->name };
        for (size_t i = 0; i < c->field_names.count; i++)
            tc_offer(&choices, c->field_names.items[i].name);
        tc_complain(c, word.place, "there is no field \"%s\" in the vocabulary; write one of: "
                                   "%s, or add it under [field names]",
                    field->name, tc_offered(c, &choices));
        return false;
    }
    if (tc_find_field(scheme, word)) {
        tc_complain(c, word.place, "the field \"%s\" is there already; write it once",
                    field->name);
        return false;
    }
    field->name_index = (uint16_t)index;
    return true;
}

static bool read_field_kind(tc_compilation *c, tc_word word, uint8_t *kind)
{
    static const char *const kinds[KIND_COUNT] = { "code", "run", "narrow", "detail",
                                                   "free", "check", "topic" };
    for (*kind = 0; *kind < KIND_COUNT; ++*kind)
        if (tc_is(word, kinds[*kind]))
            return true;
    tc_complain(c, word.place, "there is no kind \"%s\"; write code, run, narrow, detail, free, "
                               "check or topic", tc_string(c, word));
    *kind = KIND_DETAIL;
    return false;
}

static bool read_letter(tc_compilation *c, const tc_scheme *scheme, tc_word word,
                        tc_field *field)
{
    field->letter = word.text[0];
    if ((field->kind == KIND_TOPIC) != tc_is(word, "-")) {
        tc_complain(c, word.place,
                    field->kind == KIND_TOPIC
                        ? "a topic stands at no position; write - for its letter"
                        : "this field needs a letter for the rulers; write one small letter, or "
                          "make it a topic");
        return false;
    }
    if (field->kind == KIND_TOPIC)
        return true;
    if (word.length != 1 || word.text[0] < 'a' || word.text[0] > 'z') {
        tc_complain(c, word.place, "\"%s\" is no letter for the rulers; write one small letter",
                    tc_string(c, word));
        return false;
    }
    for (size_t i = 0; i < scheme->fields.count; i++) {
        if (scheme->fields.items[i]->letter == field->letter) {
            tc_complain(c, word.place, "the letter %c stands for %s already; choose another",
                        field->letter, scheme->fields.items[i]->name);
            return false;
        }
    }
    return true;
}

static bool read_field_characters(tc_compilation *c, tc_word word, tc_field *field)
{
    if (tc_is_none(word))
        return true;
    if (field->kind != KIND_TOPIC && tc_read_set(c, word, &field->characters))
        return true;
    field->characters = ALL_CHARACTERS;
    if (field->kind != KIND_TOPIC)
        return false;
    tc_complain(c, word.place, "a topic stands at no position; write - for its characters");
    return false;
}

static bool is_only_check(tc_compilation *c, tc_scheme *scheme, tc_field *field)
{
    if (field->kind != KIND_CHECK)
        return true;
    if (!scheme->check.field) {
        scheme->check.field = field;
        return true;
    }
    tc_complain(c, field->place, "this scheme has a check character already, %s; give this "
                                 "field another kind", scheme->check.field->name);
    return false;
}

static void resolve_field(tc_compilation *c, tc_scheme *scheme, const tc_words *line)
{
    tc_field *field = tc_allocate(&c->memory, sizeof *field);
    /* Each column is looked at, so that all that is wrong is told. */
    bool named = read_field_name(c, scheme, line->items[1], field);
    bool good = read_field_kind(c, line->items[2], &field->kind);
    good = read_letter(c, scheme, line->items[0], field) && good;
    good = read_field_characters(c, line->items[3], field) && good;
    field->sound = named && good && is_only_check(c, scheme, field);
    /* A field with a mistake is kept, or each of its rows would be refused too. */
    if (field->sound || !tc_find_field(scheme, line->items[1]))
        *TC_ADD(&c->memory, &scheme->fields) = field;
}

void tc_resolve_fields(tc_compilation *c, tc_scheme *scheme)
{
    resolve_scheme(c, scheme);
    for (size_t i = 0; i < scheme->field_lines.count; i++)
        resolve_field(c, scheme, &scheme->field_lines.items[i]);
    if (scheme->field_lines.count == 0)
        tc_complain(c, scheme->place, "this scheme has no fields; write a section [fields]");
}
