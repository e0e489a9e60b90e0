/* SPDX-License-Identifier: MIT
 *
 * The host's own words: a text of lines "key = words" becomes a list by what
 * the keys name. Each line with a mistake stays in the list as a problem.
 */
#include "names.h"

#include <string.h>

#include "internal.h"
#include "memory.h"
#include "row_text.h"

enum problem {
    PROBLEM_NONE,
    PROBLEM_UNKNOWN, /* also every good line until its key is found in the tables */
    PROBLEM_TWICE,
    PROBLEM_LINE_LONG,
    PROBLEM_NOT_UTF8,
    PROBLEM_CONTROL,
    PROBLEM_NO_EQUALS,
    PROBLEM_NO_KEY,
    PROBLEM_NO_WORDS,
    PROBLEM_WORDS_LONG
};

/* One line. What it names is a number that counts rows, then names of fields,
 * then schemes. */
typedef struct entry {
    uint32_t line;
    uint32_t problem;
    uint32_t key;    /* where it stands in the copied text */
    uint32_t words;  /* likewise; PROBLEM_TWICE: the line where the key stands first */
    uint32_t target;
} entry;

/* One allocation: behind the entries lie the copied keys and words. */
struct plw_names {
    image_t image;
    char *text;
    uint32_t count;
    uint32_t good;   /* entries without a problem; they stand first, by target */
    entry entries[]; /* problems by line */
};

/* ---- lines ------------------------------------------------------------------- */

/* A line without the blanks around it. */
typedef struct line {
    const char *text;
    size_t length;
    uint32_t number;
} line;

typedef struct reader {
    const char *text;
    size_t left;
    uint32_t number;
} reader;

static int is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r';
}

static void trim(const char **text, size_t *length)
{
    while (*length > 0 && is_blank(**text)) {
        (*text)++;
        (*length)--;
    }
    while (*length > 0 && is_blank((*text)[*length - 1]))
        (*length)--;
}

/* A byte order mark at the start is passed over. */
static reader reader_on(const char *text, size_t length)
{
    size_t mark = length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    reader r = { text, length, 0 };
    if (mark) {
        r.text += mark;
        r.left -= mark;
    }
    return r;
}

/* The next line that is neither empty nor a comment; 0 at the end. */
static int next_line(reader *r, line *l)
{
    while (r->left > 0) {
        const char *end = memchr(r->text, '\n', r->left);
        size_t length = end ? (size_t)(end - r->text) : r->left;
        l->text = r->text;
        l->length = length;
        l->number = ++r->number;
        length += end != NULL;
        r->text += length;
        r->left -= length;
        trim(&l->text, &l->length);
        if (l->length > 0 && l->text[0] != '#')
            return 1;
    }
    return 0;
}

static uint32_t count_lines(const char *text, size_t length)
{
    reader r = reader_on(text, length);
    uint32_t count = 0;
    for (line l; next_line(&r, &l);)
        count++;
    return count;
}

/* ---- one line ------------------------------------------------------------------ */

/* Signs that would disturb any output. Tabs count as blanks, and the joiners
 * U+200C and U+200D belong to the spelling of some languages. */
static int is_refused(uint32_t code)
{
    return code != '\t' && code != 0x200C && code != 0x200D && plwi_is_unshowable(code);
}

static uint32_t characters_problem(const line *l)
{
    for (size_t i = 0; i < l->length;) {
        plwi_unit unit = plwi_next_unit((const unsigned char *)l->text + i, l->length - i);
        if (unit.code == INVALID_UNIT && unit.length == 1)
            return PROBLEM_NOT_UTF8;
        if (is_refused(unit.code))
            return PROBLEM_CONTROL;
        i += unit.length;
    }
    return PROBLEM_NONE;
}

/* The '=' that stands free; one inside a key ("line=S") does not. */
static size_t find_equals(const line *l)
{
    size_t i = 0;
    for (; i < l->length; i++)
        if (l->text[i] == '=' && (i == 0 || is_blank(l->text[i - 1])) &&
            (i + 1 == l->length || is_blank(l->text[i + 1])))
            break;
    return i;
}

/* Copies to the end of the text and returns where. Two zero bytes take less
 * room than the " = " of a line, so the copy never outgrows its source. */
static uint32_t keep(plw_names *names, size_t *used, const char *bytes, size_t length)
{
    uint32_t start = (uint32_t)*used;
    for (size_t i = 0; i < length; i++)
        names->text[(*used)++] = (char)(bytes[i] == '\t' ? ' ' : bytes[i]);
    names->text[(*used)++] = '\0';
    return start;
}

static uint32_t read_line(plw_names *names, size_t *used, const line *l, entry *e)
{
    if (l->length > PLW_MAX_NAMES_LINE)
        return PROBLEM_LINE_LONG;
    uint32_t problem = characters_problem(l);
    if (problem != PROBLEM_NONE)
        return problem;
    size_t equals = find_equals(l);
    if (equals == l->length)
        return PROBLEM_NO_EQUALS;
    const char *key = l->text, *words = l->text + equals + 1;
    size_t key_length = equals, words_length = l->length - equals - 1;
    trim(&key, &key_length);
    trim(&words, &words_length);
    if (key_length == 0)
        return PROBLEM_NO_KEY;
    if (words_length == 0)
        return PROBLEM_NO_WORDS;
    if (words_length > PLW_MAX_WORDS)
        return PROBLEM_WORDS_LONG;
    e->key = keep(names, used, key, key_length);
    e->words = keep(names, used, words, words_length);
    return PROBLEM_UNKNOWN;
}

static void read_lines(plw_names *names, const char *text, size_t length)
{
    reader r = reader_on(text, length);
    size_t used = 0;
    entry *e = names->entries;
    for (line l; next_line(&r, &l); e++) {
        memset(e, 0, sizeof *e);
        e->line = l.number;
        e->problem = read_line(names, &used, &l, e);
    }
}

/* ---- order ----------------------------------------------------------------------- */

typedef int comparison(const plw_names *names, const entry *a, const entry *b);

static int compare_numbers(uint32_t a, uint32_t b)
{
    return (a > b) - (a < b);
}

/* Lines with a key by key, then the others. */
static int by_key(const plw_names *names, const entry *a, const entry *b)
{
    int order = compare_numbers(a->problem != PROBLEM_UNKNOWN, b->problem != PROBLEM_UNKNOWN);
    if (order == 0 && a->problem == PROBLEM_UNKNOWN)
        order = strcmp(names->text + a->key, names->text + b->key);
    return order ? order : compare_numbers(a->line, b->line);
}

/* Good lines by what they name, then problems by line. */
static int by_target(const plw_names *names, const entry *a, const entry *b)
{
    (void)names;
    int order = compare_numbers(a->problem != PROBLEM_NONE, b->problem != PROBLEM_NONE);
    if (order == 0 && a->problem == PROBLEM_NONE)
        order = compare_numbers(a->target, b->target);
    return order ? order : compare_numbers(a->line, b->line);
}

static void sink(plw_names *names, uint32_t at, uint32_t count, comparison *compare)
{
    entry *e = names->entries;
    for (uint32_t child; (child = 2 * at + 1) < count; at = child) {
        if (child + 1 < count && compare(names, &e[child], &e[child + 1]) < 0)
            child++;
        if (compare(names, &e[at], &e[child]) >= 0)
            return;
        entry moved = e[at];
        e[at] = e[child];
        e[child] = moved;
    }
}

/* A heap sort: qsort of some C libraries allocates. */
static void sort(plw_names *names, comparison *compare)
{
    entry *e = names->entries;
    for (uint32_t at = names->count / 2; at-- > 0;)
        sink(names, at, names->count, compare);
    for (uint32_t last = names->count; last-- > 1;) {
        entry greatest = e[0];
        e[0] = e[last];
        e[last] = greatest;
        sink(names, 0, last, compare);
    }
}

/* ---- from keys to what they name --------------------------------------------------- */

static uint32_t first_field_name(image_t image)
{
    return plwi_count(image, SECTION_ROWS);
}

static uint32_t first_scheme(image_t image)
{
    return first_field_name(image) + plwi_count(image, SECTION_FIELD_NAMES);
}

/* Of lines with the same key the first counts. */
static void find_doubles(plw_names *names)
{
    entry *first = NULL;
    for (uint32_t i = 0; i < names->count && names->entries[i].problem == PROBLEM_UNKNOWN; i++) {
        entry *e = &names->entries[i];
        if (first && strcmp(names->text + first->key, names->text + e->key) == 0) {
            e->problem = PROBLEM_TWICE;
            e->words = first->line;
        } else {
            first = e;
        }
    }
}

/* Gives a key its target, if one of the first count lines has that key. */
static void assign(plw_names *names, uint32_t count, const char *key, uint32_t target)
{
    uint32_t low = 0, high = count;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        if (strcmp(names->text + names->entries[middle].key, key) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    if (low == count || strcmp(names->text + names->entries[low].key, key) != 0)
        return;
    names->entries[low].problem = PROBLEM_NONE;
    names->entries[low].target = target;
}

static void find_joined(plw_names *names, uint32_t count, const char *kind, const char *key,
                          uint32_t target)
{
    char text[PLW_MAX_NAMES_LINE];
    plwi_writer out = plwi_writer_on(text, sizeof text);
    plwi_put_text(&out, kind);
    plwi_put_text(&out, key);
    if (plwi_writer_end(&out, NULL) == PLW_OK)
        assign(names, count, text, target);
}

static void find_rows(plw_names *names, uint32_t count)
{
    char key[PLW_MAX_NAMES_LINE];
    for (uint32_t row = 0; row < plwi_count(names->image, SECTION_ROWS); row++) {
        plwi_writer out = plwi_writer_on(key, sizeof key);
        plwi_put_row_key(&out, names->image, row);
        if (plwi_writer_end(&out, NULL) == PLW_OK)
            assign(names, count, key, row);
    }
}

/* The tables are walked through once, however many lines there are. */
static void find_targets(plw_names *names)
{
    image_t image = names->image;
    uint32_t count = 0;
    while (count < names->count && (names->entries[count].problem == PROBLEM_UNKNOWN ||
                                    names->entries[count].problem == PROBLEM_TWICE))
        count++;
    if (count == 0)
        return;
    find_rows(names, count);
    for (uint32_t i = 0; i < plwi_count(image, SECTION_FIELD_NAMES); i++)
        find_joined(names, count, "field/",
                    plwi_text(image, plwi_u32(plwi_record(image, SECTION_FIELD_NAMES, 8, i) +
                                              FIELD_NAME_NAME)),
                    first_field_name(image) + i);
    for (uint32_t i = 0; i < plwi_count(image, SECTION_SCHEMES); i++)
        find_joined(names, count, "scheme/",
                    plwi_text(image, plwi_u32(plwi_scheme(image, i) + SCHEME_KEY)),
                    first_scheme(image) + i);
}

/* ---- the object ---------------------------------------------------------------------- */

size_t plw_names_size(const char *text, size_t length)
{
    if ((text == NULL && length > 0) || length > PLW_MAX_NAMES)
        return 0;
    return sizeof(plw_names) + count_lines(text, length) * sizeof(entry) + length;
}

static void fill(plw_names *names, image_t image, const char *text, size_t length)
{
    names->image = image;
    names->count = count_lines(text, length);
    names->text = (char *)(names->entries + names->count);
    read_lines(names, text, length);
    sort(names, by_key);
    find_doubles(names);
    find_targets(names);
    sort(names, by_target);
    names->good = 0;
    while (names->good < names->count && names->entries[names->good].problem == PROBLEM_NONE)
        names->good++;
}

int32_t plw_names_place(const plw_tables *tables, const char *text, size_t length, void *memory,
                        size_t size, plw_names **names)
{
    if (names == NULL)
        return PLW_E_ARGUMENT;
    *names = NULL;
    if (text == NULL && length > 0)
        return PLW_E_ARGUMENT;
    if (length > PLW_MAX_NAMES)
        return PLW_E_TOO_LONG;
    int32_t status = plwi_can_hold(memory, size, plw_names_size(text, length));
    if (status != PLW_OK)
        return status;
    *names = memory;
    fill(*names, plwi_image(tables), text, length);
    return PLW_OK;
}

int32_t plw_names_new(const plw_tables *tables, const char *text, size_t length, plw_names **names)
{
    if (names == NULL)
        return PLW_E_ARGUMENT;
    *names = NULL;
    size_t size = plw_names_size(text, length);
    if (size == 0)
        return text == NULL ? PLW_E_ARGUMENT : PLW_E_TOO_LONG;
    void *memory = plwi_allocate(size);
    if (memory == NULL)
        return PLW_E_MEMORY;
    return plw_names_place(tables, text, length, memory, size, names);
}

void plw_names_free(plw_names *names)
{
    plwi_release(names);
}

/* ---- problems -------------------------------------------------------------------------- */

static const entry *problem_at(const plw_names *names, uint32_t index)
{
    return index < plw_names_problem_count(names) ? &names->entries[names->good + index] : NULL;
}

uint32_t plw_names_problem_count(const plw_names *names)
{
    return names ? names->count - names->good : 0;
}

uint32_t plw_names_problem_line(const plw_names *names, uint32_t problem)
{
    const entry *e = problem_at(names, problem);
    return e ? e->line : 0;
}

static void put_with_key(plwi_writer *out, const plw_names *names, const entry *e,
                         const char *before, const char *after)
{
    plwi_put_text(out, before);
    plwi_put_text(out, names->text + e->key);
    plwi_put_text(out, after);
}

static void put_limit(plwi_writer *out, const char *what, int64_t limit)
{
    plwi_put_text(out, what);
    plwi_put_number(out, limit);
    plwi_put_text(out, " bytes; write less");
}

static void put_problem(plwi_writer *out, const plw_names *names, const entry *e)
{
    switch (e->problem) {
    case PROBLEM_UNKNOWN:
        put_with_key(out, names, e, "these tables have nothing with the key '",
                     "'; write the key of a row, field/NAME or scheme/KEY");
        break;
    case PROBLEM_TWICE:
        put_with_key(out, names, e, "the key '", "' stands on line ");
        plwi_put_number(out, e->words);
        plwi_put_text(out, " already; take one of them out");
        break;
    case PROBLEM_LINE_LONG:
        put_limit(out, "the line is longer than ", PLW_MAX_NAMES_LINE);
        break;
    case PROBLEM_NOT_UTF8:
        plwi_put_text(out, "the line is not UTF-8; save the text in that encoding");
        break;
    case PROBLEM_CONTROL:
        plwi_put_text(out, "a control character or a mark that turns the direction of writing; "
                           "take it out");
        break;
    case PROBLEM_NO_EQUALS:
        plwi_put_text(out, "no '=' with a blank before and behind it; write key = words");
        break;
    case PROBLEM_NO_KEY:
        plwi_put_text(out, "no key before the '='; write key = words");
        break;
    case PROBLEM_NO_WORDS:
        plwi_put_text(out, "no words behind the '='; write key = words");
        break;
    default:
        put_limit(out, "the words are longer than ", PLW_MAX_WORDS);
    }
}

int32_t plw_names_problem_text(const plw_names *names, uint32_t problem, char *buffer,
                               size_t capacity, size_t *needed)
{
    const entry *e = problem_at(names, problem);
    plwi_writer out = plwi_writer_on(buffer, capacity);
    if (e == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    put_problem(&out, names, e);
    return plwi_writer_end(&out, needed);
}

/* ---- what is said ------------------------------------------------------------------------ */

/* The host's words for a target of this image, or else these. */
static const char *own_words(const plw_names *names, image_t image, uint32_t target,
                             uint32_t otherwise)
{
    uint32_t low = 0, high = names && names->image == image ? names->good : 0;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        const entry *e = &names->entries[middle];
        if (e->target == target)
            return names->text + e->words;
        if (e->target < target)
            low = middle + 1;
        else
            high = middle;
    }
    return plwi_text(image, otherwise);
}

const char *plwi_words(const plw_names *names, image_t image, uint32_t row)
{
    return own_words(names, image, row, plwi_u32(plwi_row(image, row) + ROW_WORDS));
}

const char *plwi_label(const plw_names *names, image_t image, uint32_t field)
{
    uint32_t name = plwi_u16(plwi_field(image, field) + FIELD_NAME);
    return own_words(names, image, first_field_name(image) + name,
                     plwi_u32(plwi_record(image, SECTION_FIELD_NAMES, 8, name) +
                              FIELD_NAME_LABEL));
}

const char *plwi_title(const plw_names *names, image_t image, uint32_t scheme)
{
    return own_words(names, image, first_scheme(image) + scheme,
                     plwi_u32(plwi_scheme(image, scheme) + SCHEME_TITLE));
}

const char *plw_names_title(const plw_names *names, uint32_t scheme)
{
    if (names == NULL || scheme >= plwi_count(names->image, SECTION_SCHEMES))
        return "";
    return plwi_title(names, names->image, scheme);
}
