/* SPDX-License-Identifier: MIT */
#include "vocabulary.h"

#include <stdlib.h>
#include <string.h>

#include "../../include/platewright.h"
#include "codes.h"

/* ---- names ------------------------------------------------------------ */

static bool is_name_byte(char byte, const char *others)
{
    return (byte >= 'a' && byte <= 'z') || (byte >= '0' && byte <= '9') ||
           (byte && strchr(others, byte));
}

static bool check_name(tc_compilation *c, tc_word word, const char *others)
{
    for (size_t i = 0; i < word.length; i++) {
        if (is_name_byte(word.text[i], others))
            continue;
        tc_complain(c, tc_slice(word, i, 1).place,
                    "\"%s\" is no name; write small letters, digits and any of \"%s\"",
                    tc_string(c, word), others);
        return false;
    }
    return true;
}

int tc_find_field_name(const tc_compilation *c, tc_word name)
{
    for (size_t i = 0; i < c->field_names.count; i++)
        if (tc_is(name, c->field_names.items[i].name))
            return (int)i;
    return -1;
}

int tc_find_attribute(const tc_compilation *c, tc_word name)
{
    for (size_t i = 0; i < c->attributes.count; i++)
        if (tc_is(name, c->attributes.items[i].name))
            return (int)i;
    return -1;
}

int tc_find_source(const tc_compilation *c, tc_word key)
{
    for (size_t i = 0; i < c->sources.count; i++)
        if (tc_is(key, c->sources.items[i].key))
            return (int)i;
    return -1;
}

static void refuse_second(tc_compilation *c, tc_word word, const char *what)
{
    tc_complain(c, word.place, "%s \"%s\" is there already; write each once", what,
                tc_string(c, word));
}

/* ---- entries ---------------------------------------------------------- */

/* YYYY-MM-DD */
static bool is_date(tc_word word)
{
    return word.length == 10 && word.text[4] == '-' && word.text[7] == '-' &&
           tc_number(tc_slice(word, 0, 4)) >= 0 && tc_number(tc_slice(word, 5, 2)) >= 0 &&
           tc_number(tc_slice(word, 8, 2)) >= 0;
}

void tc_read_edition(tc_compilation *c, tc_line *line)
{
    tc_word words = tc_rest(line);
    const char *edition = tc_string(c, words);
    if (!is_date(words))
        tc_complain(c, words.place, "\"%s\" is no date; write the day of the edition like "
                                    "2026-11-25", edition);
    if (c->edition && strcmp(c->edition, edition) != 0)
        tc_complain(c, words.place, "the edition is \"%s\" already; write it in one file only",
                    c->edition);
    else
        c->edition = edition;
}

/* Names of sections cannot be names of fields: [sources] would be either. */
static bool is_section_name(tc_word name)
{
    static const char *const sections[] = { "edition", "attributes", "findings", "misreads",
                                            "cautions", "sources", "scheme", "fields",
                                            "layout" };
    for (size_t i = 0; i < sizeof sections / sizeof sections[0]; i++)
        if (tc_is(name, sections[i]))
            return true;
    return false;
}

void tc_read_field_name(tc_compilation *c, tc_line *line)
{
    static const char form[] = "name label";
    tc_word name;
    tc_word label;
    if (!tc_need(c, line, &name, "the name is", form) || !check_name(c, name, "_") ||
        !tc_need_rest(c, line, &label, "the label is", form))
        return;
    if (is_section_name(name)) {
        tc_complain(c, name.place, "\"%s\" is the name of a section; give the field another",
                    tc_string(c, name));
    } else if (tc_find_field_name(c, name) >= 0) {
        refuse_second(c, name, "the field name");
    } else {
        tc_field_name *added = TC_ADD(&c->memory, &c->field_names);
        added->name = tc_string(c, name);
        added->label = tc_string(c, label);
    }
}

static bool read_attribute_kind(tc_compilation *c, tc_word word, bool *is_list,
                                tc_attribute *read)
{
    read->joined = tc_is(word, "several");
    read->names_fields = tc_is(word, "fields");
    read->kind = tc_is(word, "number") ? ATTRIBUTE_NUMBER : ATTRIBUTE_TEXT;
    read->writes = tc_is(word, "form")     ? TC_DATE_FORM
                   : tc_is(word, "months") ? TC_MONTHS
                   : tc_is(word, "day")    ? TC_DAY
                                           : TC_FREE_TEXT;
    *is_list = read->joined || tc_is(word, "list");
    if (*is_list || read->names_fields || read->writes != TC_FREE_TEXT ||
        read->kind == ATTRIBUTE_NUMBER || tc_is(word, "text"))
        return true;
    tc_complain(c, word.place, "there is no kind \"%s\"; write number, text, list, several, "
                               "fields, form, months or day", tc_string(c, word));
    return false;
}

static bool read_list_words(tc_compilation *c, tc_line *line, tc_attribute *attribute)
{
    tc_word word;
    while (tc_column(c, line, &word))
        *TC_ADD(&c->memory, &attribute->words) = tc_unquoted(c, word);
    return !line->refused;
}

static bool read_unit(tc_compilation *c, tc_line *line, const char *form,
                      tc_attribute *attribute)
{
    tc_word unit;
    if (!tc_need_rest(c, line, &unit, "the unit (or -) is", form))
        return false;
    attribute->unit = tc_is_none(unit) ? "" : tc_unquoted(c, unit);
    return true;
}

void tc_read_attribute(tc_compilation *c, tc_line *line)
{
    static const char form[] = "name kind label unit, or: name list label word word ...";
    tc_word name;
    tc_word kind;
    tc_word label;
    bool is_list;
    tc_attribute read = { .unit = "" };
    if (!tc_need(c, line, &name, "the name is", form) || !check_name(c, name, "_") ||
        !tc_need(c, line, &kind, "the kind is", form) ||
        !read_attribute_kind(c, kind, &is_list, &read) ||
        !tc_need(c, line, &label, "the label is", form))
        return;
    read.name = tc_string(c, name);
    read.label = tc_unquoted(c, label);
    if (!(is_list ? read_list_words(c, line, &read) : read_unit(c, line, form, &read)))
        return;
    if (is_list && read.words.count == 0)
        tc_complain(c, label.place, "the list has no words; write them behind the label");
    else if (tc_is(name, "tag") || tc_is(name, "check"))
        tc_complain(c, name.place, "\"%s\" has a meaning of its own in rows; give the "
                                   "attribute another name", read.name);
    else if (tc_find_attribute(c, name) >= 0)
        refuse_second(c, name, "the attribute");
    else if (c->attributes.count >= MAX_ATTRIBUTES)
        tc_complain(c, name.place, "there are more than %d attributes; leave some out",
                    MAX_ATTRIBUTES);
    else
        *TC_ADD(&c->memory, &c->attributes) = read;
}

/* What the library can fill into a sentence. */
static bool is_placeholder(tc_word word)
{
    static const char *const known[] = { "allowed", "code", "combination", "condition",
                                         "conflict", "count", "end", "expected", "field",
                                         "fields", "lengths", "market", "meanings",
                                         "positions", "possible", "read", "start", "typed",
                                         "years" };
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (tc_is(word, known[i]))
            return true;
    return false;
}

static bool check_placeholders(tc_compilation *c, tc_word sentence)
{
    for (size_t i = 0; i < sentence.length; i++) {
        size_t end = i;
        if (sentence.text[i] != '{' && sentence.text[i] != '}')
            continue;
        while (end < sentence.length && sentence.text[end] != '}')
            end++;
        tc_word name = tc_slice(sentence, i, end - i);
        if (name.length > 0)
            name = tc_slice(name, 1, name.length - 1);
        if (end == i || end == sentence.length || !is_placeholder(name)) {
            tc_complain(c, tc_slice(sentence, i, 1).place,
                        "nothing is known to fill in here; write {code}, {field}, {positions} "
                        "or another place that the findings already use");
            return false;
        }
        i = end;
    }
    return true;
}

static bool read_grade(tc_compilation *c, tc_word word, uint8_t *grade)
{
    static const char *const grades[] = { "note", "doubt", "fault" };
    for (uint8_t i = 0; i < 3; i++) {
        if (tc_is(word, grades[i])) {
            *grade = (uint8_t)(i + 1);
            return true;
        }
    }
    tc_complain(c, word.place, "there is no grade \"%s\"; write note, doubt or fault",
                tc_string(c, word));
    return false;
}

static bool is_new_finding(tc_compilation *c, tc_word number, tc_word name)
{
    for (size_t i = 0; i < c->findings.count; i++) {
        if (c->findings.items[i].number == tc_number(number)) {
            refuse_second(c, number, "the finding");
            return false;
        }
        if (tc_is(name, c->findings.items[i].name)) {
            refuse_second(c, name, "the finding");
            return false;
        }
    }
    return true;
}

void tc_read_finding(tc_compilation *c, tc_line *line)
{
    static const char form[] = "number name grade sentence";
    tc_word number;
    tc_word name;
    tc_word grade;
    tc_word sentence;
    tc_finding read = { .place = line->rest.place };
    if (!tc_need(c, line, &number, "the number is", form) ||
        !tc_need(c, line, &name, "the name is", form) || !check_name(c, name, "-") ||
        !tc_need(c, line, &grade, "the grade is", form) ||
        !read_grade(c, grade, &read.grade) ||
        !tc_need_rest(c, line, &sentence, "the sentence is", form) ||
        !check_placeholders(c, sentence))
        return;
    if (tc_number(number) < 1 || tc_number(number) > UINT16_MAX) {
        tc_complain(c, number.place, "\"%s\" is no number of a finding; write 1, 2, 3 ...",
                    tc_string(c, number));
        return;
    }
    if (!is_new_finding(c, number, name))
        return;
    read.number = (uint16_t)tc_number(number);
    read.name = tc_string(c, name);
    read.sentence = tc_string(c, sentence);
    *TC_ADD(&c->memory, &c->findings) = read;
}

static bool read_character(tc_compilation *c, tc_word word, uint8_t *character)
{
    int bit = word.length == 1 ? tc_character(word.text[0]) : -1;
    if (bit < 0) {
        tc_complain(c, word.place, "\"%s\" is no character of a number; write one capital "
                                   "letter or digit", tc_string(c, word));
        return false;
    }
    *character = (uint8_t)bit;
    return true;
}

static bool read_use(tc_compilation *c, tc_word word, uint8_t *use)
{
    *use = tc_is(word, "read") ? MISREAD_READ : MISREAD_SUGGEST;
    if (*use == MISREAD_READ || tc_is(word, "suggest"))
        return true;
    tc_complain(c, word.place, "there is no use \"%s\"; write read or suggest",
                tc_string(c, word));
    return false;
}

static bool is_new_misread(tc_compilation *c, tc_word typed, const tc_misread *read)
{
    for (size_t i = 0; i < c->misreads.count; i++) {
        const tc_misread *other = &c->misreads.items[i];
        if (other->typed == read->typed && other->meant == read->meant) {
            refuse_second(c, typed, "this pair with");
            return false;
        }
    }
    return true;
}

void tc_read_misread(tc_compilation *c, tc_line *line)
{
    static const char form[] = "typed meant use standing source words";
    tc_word typed;
    tc_word meant;
    tc_word use;
    tc_word words;
    tc_misread read = { .typed = 0 };
    if (!tc_need(c, line, &typed, "the character typed is", form) ||
        !read_character(c, typed, &read.typed) ||
        !tc_need(c, line, &meant, "the character meant is", form) ||
        !read_character(c, meant, &read.meant) ||
        !tc_need(c, line, &use, "the use is", form) || !read_use(c, use, &read.use) ||
        !tc_need(c, line, &read.standing_word, "the standing is", form) ||
        !tc_need(c, line, &read.source, "the source (or -) is", form) ||
        !tc_need_rest(c, line, &words, "the words are", form) ||
        !is_new_misread(c, typed, &read))
        return;
    read.words = tc_string(c, words);
    *TC_ADD(&c->memory, &c->misreads) = read;
}

void tc_read_caution(tc_compilation *c, tc_line *line)
{
    static const char form[] = "key words";
    tc_word key;
    tc_word words;
    if (!tc_need(c, line, &key, "the key is", form) || !check_name(c, key, "-") ||
        !tc_need_rest(c, line, &words, "the words are", form))
        return;
    for (size_t i = 0; i < c->cautions.count; i++) {
        if (tc_is(key, c->cautions.items[i].key)) {
            refuse_second(c, key, "the caution");
            return;
        }
    }
    tc_caution *added = TC_ADD(&c->memory, &c->cautions);
    added->key = tc_string(c, key);
    added->words = tc_string(c, words);
}

/* Citation words may hold a bar themselves: the address stands behind the last. */
static bool split_citation(tc_word entry, tc_word *citation, tc_word *address)
{
    for (size_t i = entry.length; i-- > 0;) {
        if (entry.text[i] != '|')
            continue;
        tc_line before = { tc_slice(entry, 0, i), false };
        tc_line behind = { tc_slice(entry, i + 1, entry.length - i - 1), false };
        *citation = tc_rest(&before);
        *address = tc_rest(&behind);
        return citation->length > 0 && address->length > 0;
    }
    return false;
}

void tc_read_source(tc_compilation *c, tc_line *line)
{
    static const char form[] = "key citation | address (or | - when it has none)";
    tc_word key;
    tc_word entry;
    tc_word citation;
    tc_word address;
    if (!tc_need(c, line, &key, "the key is", form) || !check_name(c, key, "._-") ||
        !tc_need_rest(c, line, &entry, "the citation is", form))
        return;
    if (!split_citation(entry, &citation, &address)) {
        tc_complain(c, entry.place, "citation and address cannot be told apart; write: %s",
                    form);
        return;
    }
    tc_source read = { tc_string(c, key), tc_string(c, citation),
                       tc_is_none(address) ? "" : tc_string(c, address) };
    int known = tc_find_source(c, key);
    if (known < 0) {
        *TC_ADD(&c->memory, &c->sources) = read;
        return;
    }
    const tc_source *other = &c->sources.items[known];
    if (strcmp(read.citation, other->citation) != 0 || strcmp(read.address, other->address) != 0)
        tc_complain(c, key.place, "the source \"%s\" is there already with another citation or "
                                  "address; write the same words or give it another key",
                    read.key);
}

/* ---- standing and citations ------------------------------------------- */

static bool read_mark(tc_compilation *c, tc_word word, uint8_t *marks)
{
    static const struct {
        const char *name;
        uint8_t mark;
    } known[] = { { "disputed", MARK_DISPUTED },
                  { "either", MARK_EITHER },
                  { "doubtful", MARK_DOUBTFUL },
                  { "also", MARK_ALSO } };
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        if (tc_is(word, known[i].name)) {
            *marks |= known[i].mark;
            return true;
        }
    }
    tc_complain(c, word.place, "there is no mark \"%s\"; write disputed, either, doubtful or also",
                tc_string(c, word));
    return false;
}

bool tc_read_standing(tc_compilation *c, tc_word word, uint8_t *standing, uint8_t *marks)
{
    static const char *const names[STANDING_COUNT] = { "published", "practice", "memory" };
    tc_word rest = word;
    tc_word part = word;
    tc_part(&rest, ',', &part);
    *marks = 0;
    *standing = 0;
    while (*standing < STANDING_COUNT && !tc_is(part, names[*standing]))
        ++*standing;
    if (*standing == STANDING_COUNT) {
        tc_complain(c, part.place, "there is no standing \"%s\"; write published, practice or "
                                   "memory", tc_string(c, part));
        return false;
    }
    while (tc_part(&rest, ',', &part))
        if (!read_mark(c, part, marks))
            return false;
    return true;
}

static void refuse_source(tc_compilation *c, tc_word key)
{
    tc_choices choices = { .wanted = tc_string(c, key) };
    for (size_t i = 0; i < c->sources.count; i++)
        tc_offer(&choices, c->sources.items[i].key);
    if (choices.count > 0)
        tc_complain(c, key.place, "there is no source \"%s\"; write one of: %s, or add it "
                                  "under [sources]", choices.wanted, tc_offered(c, &choices));
    else
        tc_complain(c, key.place, "there is no source \"%s\"; add it under [sources]",
                    choices.wanted);
}

static bool has_number(const tc_numbers *numbers, uint32_t number)
{
    for (size_t i = 0; i < numbers->count; i++)
        if (numbers->items[i] == number)
            return true;
    return false;
}

bool tc_read_citations(tc_compilation *c, tc_word word, tc_numbers *citations)
{
    tc_word rest = word;
    tc_word key;
    if (tc_is_none(word))
        return true;
    while (tc_part(&rest, ',', &key)) {
        int source = tc_find_source(c, key);
        if (source < 0) {
            refuse_source(c, key);
            return false;
        }
        if (has_number(citations, (uint32_t)source)) {
            refuse_second(c, key, "the source");
            return false;
        }
        *TC_ADD(&c->memory, citations) = (uint32_t)source;
    }
    if (citations->count > LIMIT_CITATIONS)
        tc_complain(c, word.place, "these are more than %d sources; name the best ones",
                    LIMIT_CITATIONS);
    return citations->count <= LIMIT_CITATIONS;
}

bool tc_check_cited(tc_compilation *c, tc_word source, uint8_t standing,
                    const tc_numbers *citations)
{
    if (standing != STANDING_PUBLISHED || citations->count > 0)
        return true;
    tc_complain(c, source.place, "published, but without a source; name the source, or write "
                                 "practice or memory as the standing");
    return false;
}

/* ---- when all is read ------------------------------------------------- */

static int compare_findings(const void *left, const void *right)
{
    return ((const tc_finding *)left)->number - ((const tc_finding *)right)->number;
}

/* The library finds a finding by its number. */
static void sort_findings(tc_compilation *c)
{
    if (c->findings.count == 0)
        return;
    qsort(c->findings.items, c->findings.count, sizeof *c->findings.items, compare_findings);
    for (size_t i = 0; i < c->findings.count; i++) {
        const tc_finding *finding = &c->findings.items[i];
        if (finding->number != i + 1) {
            tc_complain(c, finding->place, "there is a finding %u but none with number %zu; "
                                           "number them without a gap",
                        (unsigned)finding->number, i + 1);
            return;
        }
    }
}

static void resolve_misread(tc_compilation *c, tc_misread *misread)
{
    uint8_t marks;
    if (tc_read_standing(c, misread->standing_word, &misread->standing, &marks) &&
        tc_read_citations(c, misread->source, &misread->citations))
        tc_check_cited(c, misread->source, misread->standing, &misread->citations);
}

void tc_finish_vocabulary(tc_compilation *c)
{
    static const char advice[] = "add the file vocabulary.txt of the tables to the files";
    tc_place nowhere = { TC_NO_FILE, 0, 0 };
    if (c->field_names.count == 0)
        tc_complain(c, nowhere, "there are no [field names]; %s", advice);
    if (c->findings.count < PLW_FINDING_NO_SCHEME)
        tc_complain(c, nowhere, "there are %zu [findings], but the library makes %d; %s",
                    c->findings.count, PLW_FINDING_NO_SCHEME, advice);
    if (!c->edition)
        tc_complain(c, nowhere, "there is no [edition]; write the section with one line, the "
                                "date of the tables, or %s", advice);
    for (size_t i = 0; i < c->misreads.count; i++)
        resolve_misread(c, &c->misreads.items[i]);
    sort_findings(c);
}
