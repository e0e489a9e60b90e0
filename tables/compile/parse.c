/* SPDX-License-Identifier: MIT */
#include "parse.h"

#include <string.h>

#include "vocabulary.h"

#define ROW_FORM "code years when standing source facts words"
#define RULE_FORM "years when standing source words"

typedef struct parser parser;

typedef void entry_reader(parser *p, tc_line *line);

struct parser {
    tc_compilation *c;
    entry_reader *entry; /* of the current section; NULL: its head was refused */
    void (*shared_entry)(tc_compilation *c, tc_line *line);
    bool in_section;
    tc_scheme *scheme; /* the current one of this file, or NULL */
    tc_layout *layout;
    tc_section *section;
};

/* ---- entries of a name and its value ---------------------------------- */

/* Where the value of a named entry goes. */
typedef struct value_slot {
    const char *name;
    tc_word *word;
    bool takes_words; /* runs to the end of the line */
} value_slot;

static const value_slot *find_slot(const value_slot *slots, size_t count, tc_word name)
{
    for (size_t i = 0; i < count; i++)
        if (tc_is(name, slots[i].name))
            return &slots[i];
    return NULL;
}

static void refuse_entry(tc_compilation *c, tc_word name, const char *known)
{
    tc_complain(c, name.place, "there is no entry \"%s\" in this section; write one of: %s",
                tc_string(c, name), known);
}

static void fill_slot(tc_compilation *c, tc_line *line, tc_word name, const value_slot *slot)
{
    const char *form = tc_print(c, "%s VALUE", slot->name);
    tc_word value;
    if (!(slot->takes_words ? tc_need_rest(c, line, &value, "the value is", form)
                            : tc_need(c, line, &value, "the value is", form)))
        return;
    tc_need_end(c, line, form);
    if (slot->word->text)
        tc_complain(c, name.place, "\"%s\" is there already; write it once", slot->name);
    else
        *slot->word = value;
}

static void read_scheme_entry(parser *p, tc_line *line)
{
    tc_scheme *s = p->scheme;
    const value_slot slots[] = {
        { "key", &s->key_word, false },       { "title", &s->title_word, true },
        { "years", &s->years_word, false },   { "facts", &s->facts_word, false },
        { "remark", &s->remark_word, true },  { "alphabet", &s->alphabet_word, false },
    };
    tc_word name;
    if (!tc_column(p->c, line, &name))
        return;
    const value_slot *found = find_slot(slots, sizeof slots / sizeof slots[0], name);
    if (found)
        fill_slot(p->c, line, name, found);
    else
        refuse_entry(p->c, name, "key, title, years, facts, remark, alphabet");
}

static void read_field_line(parser *p, tc_line *line)
{
    static const char form[] = "letter name kind characters";
    static const char *const missing[] = { "the letter (or -) is", "the name is",
                                           "the kind is", "the characters (or -) are" };
    tc_words words = { NULL, 0, 0 };
    for (size_t i = 0; i < sizeof missing / sizeof missing[0]; i++) {
        tc_word word;
        if (!tc_need(p->c, line, &word, missing[i], form))
            return;
        *TC_ADD(&p->c->memory, &words) = word;
    }
    tc_need_end(p->c, line, form);
    *TC_ADD(&p->c->memory, &p->scheme->field_lines) = words;
}

static void read_at(parser *p, tc_line *line)
{
    static const char form[] = "at POSITION CHARACTERS";
    tc_at at;
    if (!tc_need(p->c, line, &at.position, "the position is", form) ||
        !tc_need(p->c, line, &at.characters, "the characters are", form))
        return;
    tc_need_end(p->c, line, form);
    *TC_ADD(&p->c->memory, &p->layout->ats) = at;
}

static void read_layout_list(parser *p, tc_line *line, const char *name, tc_words *list)
{
    const char *form = tc_print(p->c, "%s CHARACTERS", name);
    tc_word word;
    if (!tc_need(p->c, line, &word, "the value is", form))
        return;
    tc_need_end(p->c, line, form);
    *TC_ADD(&p->c->memory, list) = word;
}

static void read_layout_entry(parser *p, tc_line *line)
{
    const value_slot years = { "years", &p->layout->years_word, false };
    tc_word name;
    if (!tc_column(p->c, line, &name))
        return;
    if (tc_is(name, "ruler"))
        read_layout_list(p, line, "ruler", &p->layout->rulers);
    else if (tc_is(name, "sample"))
        read_layout_list(p, line, "sample", &p->layout->samples);
    else if (tc_is(name, "at"))
        read_at(p, line);
    else if (tc_is(name, "years"))
        fill_slot(p->c, line, name, &years);
    else
        refuse_entry(p->c, name, "years, sample, ruler, at");
}

static void read_check_list(parser *p, tc_line *line, tc_words *list)
{
    tc_word word;
    while (tc_column(p->c, line, &word))
        *TC_ADD(&p->c->memory, list) = word;
}

static void read_check_entry(parser *p, tc_line *line)
{
    const value_slot modulus = { "modulus", &p->section->modulus, false };
    const value_slot digits = { "digits", &p->section->digits, false };
    tc_word name;
    if (!tc_column(p->c, line, &name))
        return;
    if (tc_is(name, "values"))
        read_check_list(p, line, &p->section->values);
    else if (tc_is(name, "weights"))
        read_check_list(p, line, &p->section->weights);
    else if (tc_is(name, "modulus"))
        fill_slot(p->c, line, name, &modulus);
    else if (tc_is(name, "digits"))
        fill_slot(p->c, line, name, &digits);
    else
        refuse_entry(p->c, name, "values, weights, modulus, digits");
}

/* ---- rows ------------------------------------------------------------- */

/* Words run to the end of the line; a remark stands behind " -- ". */
static void split_remark(tc_word rest, tc_row *row)
{
    row->words = rest;
    for (size_t i = 0; i + 2 <= rest.length; i++) {
        bool before = i == 0 || strchr(" \t", rest.text[i - 1]);
        bool behind = i + 2 == rest.length || strchr(" \t", rest.text[i + 2]);
        if (rest.text[i] != '-' || rest.text[i + 1] != '-' || !before || !behind)
            continue;
        tc_line words = { tc_slice(rest, 0, i), false };
        tc_line remark = { tc_slice(rest, i + 2, rest.length - i - 2), false };
        row->words = tc_rest(&words);
        row->remark = tc_rest(&remark);
        return;
    }
}

static bool read_row_words(parser *p, tc_line *line, const char *form, tc_row *row)
{
    tc_word rest;
    if (!tc_need_rest(p->c, line, &rest, "the words are", form))
        return false;
    split_remark(rest, row);
    if (!tc_is_none(row->words) && row->words.length > 0)
        return true;
    tc_complain(p->c, rest.place, "the words are missing; write what the code means in plain "
                                  "words");
    return false;
}

/* The columns that rows and rules share. */
static bool read_common(parser *p, tc_line *line, const char *form, tc_row *row)
{
    return tc_need(p->c, line, &row->years_word, "the years are", form) &&
           tc_need(p->c, line, &row->when_word, "the condition (or -) is", form) &&
           tc_need(p->c, line, &row->standing_word, "the standing is", form) &&
           tc_need(p->c, line, &row->source_word, "the source (or -) is", form);
}

static void read_row(parser *p, tc_line *line)
{
    tc_row row = { .kind = ROW_MEANING };
    if (!tc_need(p->c, line, &row.code_word, "the code is", ROW_FORM) ||
        !read_common(p, line, ROW_FORM, &row) ||
        !tc_need(p->c, line, &row.facts_word, "the facts (or -) are", ROW_FORM) ||
        !read_row_words(p, line, ROW_FORM, &row))
        return;
    row.place = row.code_word.place;
    *TC_ADD(&p->c->memory, &p->section->rows) = row;
}

static void read_rule(parser *p, tc_line *line)
{
    tc_row row = { .kind = p->section->kind == TC_CLOSED ? ROW_CLOSED : ROW_REQUIRED };
    if (!read_common(p, line, RULE_FORM, &row) || !read_row_words(p, line, RULE_FORM, &row))
        return;
    row.place = row.years_word.place;
    *TC_ADD(&p->c->memory, &p->section->rows) = row;
}

/* ---- section heads ---------------------------------------------------- */

static void open_scheme(parser *p, tc_word name)
{
    p->scheme = tc_allocate(&p->c->memory, sizeof *p->scheme);
    p->scheme->place = name.place;
    *TC_ADD(&p->c->memory, &p->c->schemes) = p->scheme;
    p->entry = read_scheme_entry;
}

static void open_layout(parser *p, tc_word name)
{
    p->layout = tc_allocate(&p->c->memory, sizeof *p->layout);
    p->layout->place = name.place;
    *TC_ADD(&p->c->memory, &p->scheme->layouts) = p->layout;
    p->entry = read_layout_entry;
}

static void open_section(parser *p, enum tc_section_kind kind, tc_word field)
{
    static entry_reader *const readers[] = { read_row, read_rule, read_rule, read_check_entry };
    p->section = tc_allocate(&p->c->memory, sizeof *p->section);
    p->section->kind = kind;
    p->section->field_word = field;
    *TC_ADD(&p->c->memory, &p->scheme->sections) = p->section;
    p->entry = readers[kind];
}

static bool open_shared(parser *p, tc_word name)
{
    static const struct {
        const char *name;
        void (*entry)(tc_compilation *c, tc_line *line);
    } shared[] = {
        { "edition", tc_read_edition },      { "field names", tc_read_field_name },
        { "attributes", tc_read_attribute }, { "findings", tc_read_finding },
        { "misreads", tc_read_misread },     { "cautions", tc_read_caution },
        { "sources", tc_read_source },
    };
    for (size_t i = 0; i < sizeof shared / sizeof shared[0]; i++) {
        if (tc_is(name, shared[i].name)) {
            p->shared_entry = shared[i].entry;
            return true;
        }
    }
    return false;
}

/* `closed FIELD`, `required FIELD`, `check FIELD`, or the name of a field. */
static void open_field_section(parser *p, tc_word name)
{
    static const struct {
        const char *word;
        enum tc_section_kind kind;
    } rules[] = { { "closed", TC_CLOSED }, { "required", TC_REQUIRED }, { "check", TC_CHECK } };
    tc_line line = { name, false };
    tc_word first;
    if (!tc_column(p->c, &line, &first))
        return;
    tc_word field = tc_rest(&line);
    if (field.length == 0) {
        open_section(p, TC_ROWS, first);
        return;
    }
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        if (tc_is(first, rules[i].word)) {
            open_section(p, rules[i].kind, field);
            return;
        }
    }
    tc_complain(p->c, name.place, "there is no section [%s]; write [scheme], [fields], "
                                  "[layout], the name of a field, [closed FIELD], [required "
                                  "FIELD], [check FIELD], or a section of the vocabulary",
                tc_string(p->c, name));
}

static void open_scheme_section(parser *p, tc_word name)
{
    if (tc_is(name, "scheme"))
        open_scheme(p, name);
    else if (!p->scheme)
        tc_complain(p->c, name.place, "the section [%s] has no scheme above it in this file; "
                                      "write [scheme] first, or edition, field names, "
                                      "attributes, findings, misreads, cautions or sources",
                    tc_string(p->c, name));
    else if (tc_is(name, "fields"))
        p->entry = read_field_line;
    else if (tc_is(name, "layout"))
        open_layout(p, name);
    else
        open_field_section(p, name);
}

static void read_head(parser *p, tc_line *line)
{
    tc_word head = tc_rest(line);
    p->entry = NULL;
    p->shared_entry = NULL;
    p->in_section = true;
    if (head.length < 3 || head.text[head.length - 1] != ']' ||
        memchr(head.text, ']', head.length - 1)) {
        tc_complain(p->c, head.place, "a section head stands alone in its line; write it like "
                                      "[engine]");
        return;
    }
    tc_line inner = { tc_slice(head, 1, head.length - 2), false };
    tc_word name = tc_rest(&inner);
    if (!open_shared(p, name))
        open_scheme_section(p, name);
}

static void read_entry(parser *p, tc_line *line)
{
    if (!p->in_section) {
        tc_word rest = tc_rest(line);
        tc_complain(p->c, rest.place, "this line belongs to no section; write a section head "
                                      "like [scheme] above it");
    } else if (p->shared_entry) {
        p->shared_entry(p->c, line);
    } else if (p->entry) {
        p->entry(p, line);
    }
}

void tc_parse(tc_compilation *c, uint32_t file, const char *text, size_t size)
{
    static const char byte_order_mark[] = "\xEF\xBB\xBF";
    parser p = { .c = c };
    tc_line line;
    tc_word left = { text, size, { file, 1, 1 } };
    if (size >= 3 && memcmp(text, byte_order_mark, 3) == 0) {
        left.text += 3;
        left.length -= 3;
    }
    while (tc_next_line(c, &left, &line)) {
        tc_line look = line;
        tc_word content = tc_rest(&look);
        if (content.length == 0 || line.refused)
            continue;
        line.rest = content;
        if (content.text[0] == '[')
            read_head(&p, &line);
        else
            read_entry(&p, &line);
    }
}
