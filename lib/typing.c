/* SPDX-License-Identifier: MIT
 *
 * The verb prefix: what the beginning of a number leaves open. The layouts of
 * each length from its own on are matched by the masks that match a whole
 * number, over the positions that are there; the next position's characters
 * come from their classes, and from the codes of the fields that stand there.
 */
#include <string.h>

#include "internal.h"

/* ---- one layout ---------------------------------------------------------- */

/* A layout with the characters that its positions can have: before the next
 * position those that were typed, from there on all that it allows. */
typedef struct beginning {
    image_t image;
    const unsigned char *layout;
    plwi_years years;
    uint32_t next; /* from 0 */
    uint64_t sets[MAX_POSITIONS];
} beginning;

static beginning begin(image_t image, const unsigned char *layout, const plwi_number *number)
{
    beginning b = { .image = image, .layout = layout, .next = number->count };
    b.years = plwi_year_set(image, plwi_u32(layout + LAYOUT_YEARS));
    for (uint32_t p = 0; p < layout[LAYOUT_LENGTH]; p++) {
        uint8_t place;
        b.sets[p] = plwi_class(image, layout, p);
        if (p < number->count)
            b.sets[p] = plwi_take(image, number->cell[p].set, b.sets[p], &place);
    }
    return b;
}

/* The next character of one code, as a set; empty when the code does not go on
 * from what was typed. */
static uint64_t next_of_code(const beginning *b, uint32_t positions, uint64_t code)
{
    uint64_t next = 0;
    for (unsigned p = MAX_POSITIONS; p-- > 0;) {
        if (!(positions >> p & 1))
            continue;
        unsigned value = (unsigned)(code & 63);
        if (value == 0 || !(b->sets[p] >> (value - 1) & 1))
            return 0;
        if (p == b->next)
            next = UINT64_C(1) << (value - 1);
        code >>= CODE_BITS;
    }
    return code == 0 ? next : 0;
}

/* The lowest or highest number that goes on with a character, in the width in
 * which the table writes it. */
static uint64_t edge_of_run(const beginning *b, const unsigned char *field,
                            const unsigned char *span, unsigned character, int highest)
{
    uint32_t positions = plwi_u32(span + SPAN_POSITIONS);
    uint64_t code = 0;
    for (unsigned i = span[SPAN_WIDTH]; i < field[FIELD_WIDTH]; i++)
        code = code << CODE_BITS | 1;
    for (uint32_t p = 0; p < MAX_POSITIONS; p++) {
        if (!(positions >> p & 1))
            continue;
        unsigned edge = highest ? plwi_highest_bit(b->sets[p]) : plwi_lowest_bit(b->sets[p]);
        code = code << CODE_BITS | ((p == b->next ? character : edge) + 1);
    }
    return code;
}

/* 1 when the row holds in a year of the layout. */
static int holds(const beginning *b, const unsigned char *row)
{
    plwi_years years = plwi_year_set(b->image, plwi_u16(row + ROW_YEARS));
    return !plwi_years_empty(plwi_years_and(years, b->years));
}

static int is_in_range(const beginning *b, const unsigned char *row, uint64_t lowest,
                       uint64_t highest)
{
    uint32_t first = plwi_u32(row + ROW_CODE);
    for (uint32_t i = first; i < first + plwi_u16(row + ROW_CODE_COUNT); i += 2)
        if (lowest <= plwi_code(b->image, i + 1) && highest >= plwi_code(b->image, i))
            return 1;
    return 0;
}

/* The characters that can lead into a range of a running number. */
static uint64_t next_of_run(const beginning *b, const unsigned char *field,
                            const unsigned char *span)
{
    uint64_t next = 0;
    uint32_t first = plwi_u32(field + FIELD_ROW), count = plwi_u32(field + FIELD_ROW_COUNT);
    for (unsigned c = 0; c < ALPHABET_SIZE; c++) {
        if (!(b->sets[b->next] >> c & 1))
            continue;
        uint64_t lowest = edge_of_run(b, field, span, c, 0);
        uint64_t highest = edge_of_run(b, field, span, c, 1);
        for (uint32_t i = first; i < first + count; i++) {
            const unsigned char *row = plwi_row(b->image, i);
            if (holds(b, row) && is_in_range(b, row, lowest, highest))
                next |= UINT64_C(1) << c;
        }
    }
    return next;
}

/* The characters that lead on to a code of the field. */
static uint64_t next_of_codes(const beginning *b, const unsigned char *field,
                              const unsigned char *span)
{
    uint64_t next = 0;
    uint32_t first = plwi_u32(field + FIELD_ROW), count = plwi_u32(field + FIELD_ROW_COUNT);
    for (uint32_t i = first; i < first + count; i++) {
        const unsigned char *row = plwi_row(b->image, i);
        uint32_t code = plwi_u32(row + ROW_CODE), codes = plwi_u16(row + ROW_CODE_COUNT);
        for (uint32_t k = code; k < code + codes && holds(b, row); k++)
            next |= next_of_code(b, plwi_u32(span + SPAN_POSITIONS), plwi_code(b->image, k));
    }
    return next;
}

/* Only fields that ought to have a row for every code have a say. */
static uint64_t known_next(const beginning *b)
{
    uint64_t known = b->sets[b->next];
    uint32_t first = plwi_u32(b->layout + LAYOUT_SPAN);
    for (uint32_t i = first; i < first + b->layout[LAYOUT_SPAN_COUNT]; i++) {
        const unsigned char *span = plwi_span(b->image, i);
        const unsigned char *field = plwi_field(b->image, plwi_u16(span + SPAN_FIELD));
        if (!(plwi_u32(span + SPAN_POSITIONS) >> b->next & 1))
            continue;
        if (field[FIELD_KIND] == KIND_CODE)
            known &= next_of_codes(b, field, span);
        if (field[FIELD_KIND] == KIND_RUN)
            known &= next_of_run(b, field, span);
    }
    return known;
}

/* ---- all layouts --------------------------------------------------------- */

/* Keeps the schemes in the order of the tables. */
static void add_scheme(plwi_prefix *prefix, uint16_t scheme)
{
    uint16_t at = prefix->scheme_count;
    while (at > 0 && prefix->scheme[at - 1] > scheme)
        at--;
    if (prefix->scheme_count == MAX_BEGUN || (at > 0 && prefix->scheme[at - 1] == scheme))
        return;
    memmove(prefix->scheme + at + 1, prefix->scheme + at,
            (prefix->scheme_count - at) * sizeof *prefix->scheme);
    prefix->scheme[at] = scheme;
    prefix->scheme_count++;
}

static void add_layout(plw_result *result, image_t image, uint32_t index)
{
    plwi_prefix *prefix = &result->prefix;
    const unsigned char *layout = plwi_layout(image, index);
    uint8_t left = (uint8_t)(layout[LAYOUT_LENGTH] - result->number.count);
    if (prefix->state == PLW_PREFIX_IMPOSSIBLE) { /* lengths rise: this one is the shortest */
        prefix->state = left == 0 ? PLW_PREFIX_COMPLETE : PLW_PREFIX_OPEN;
        prefix->left_min = left;
    }
    prefix->left_max = left;
    add_scheme(prefix, plwi_u16(layout + LAYOUT_SCHEME));
    if (left == 0)
        return;
    beginning b = begin(image, layout, &result->number);
    prefix->allowed |= b.sets[b.next];
    prefix->known |= known_next(&b);
}

/* 1 when some layout of that length takes the characters; they are added to a
 * result, if one is given. */
static int match_length(const plwi_number *number, image_t image, uint32_t length, int misread,
                        plw_result *add_to)
{
    const unsigned char *record = plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, length);
    uint32_t first = plwi_u32(record + LENGTH_LAYOUT);
    int any = 0;
    if (plwi_u16(record + LENGTH_COUNT) == 0)
        return 0;
    for (uint32_t word = 0; word < plwi_u16(record + LENGTH_WORDS); word++) {
        uint64_t found = plwi_match_start(image, number, length, word, misread);
        any |= found != 0;
        for (; add_to && found; found &= found - 1)
            add_layout(add_to, image, first + 64 * word + plwi_lowest_bit(found));
    }
    return any;
}

static void add_layouts(plw_result *result, image_t image, int misread)
{
    for (uint32_t length = result->number.count; length <= MAX_POSITIONS; length++)
        match_length(&result->number, image, length, misread, result);
}

/* Layouts that take the characters as they are tell what comes next; those that
 * read some of them as others only if there are no better ones. Either can make
 * the number complete. */
static void find_layouts(plw_result *result)
{
    image_t image = plwi_image(result->tables);
    const plwi_number *number = &result->number;
    add_layouts(result, image, 0);
    if (result->prefix.state == PLW_PREFIX_IMPOSSIBLE)
        add_layouts(result, image, 1);
    else if (match_length(number, image, number->count, 1, NULL))
        result->prefix.state = PLW_PREFIX_COMPLETE;
}

/* ---- the verb ------------------------------------------------------------ */

static int belongs_in_bracket(char c)
{
    return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == ' ';
}

/* The length of the text without a bracket that is not closed yet. */
static size_t without_open_bracket(const char *text, size_t length)
{
    size_t at = length;
    while (at > 0 && belongs_in_bracket(text[at - 1]))
        at--;
    return at > 0 && text[at - 1] == '[' ? at - 1 : length;
}

int32_t plw_prefix(const plw_tables *tables, const char *text, size_t length, uint32_t flags,
                   plw_result *result)
{
    plwi_hints none;
    if (result == NULL)
        return PLW_E_ARGUMENT;
    plwi_clear(result, tables);
    int32_t status = plwi_verb_arguments(text, length, NULL, flags, &none);
    if (status != PLW_OK)
        return status;
    plwi_normalise(text, length ? without_open_bracket(text, length) : 0, &result->number);
    find_layouts(result);
    return PLW_OK;
}

/* ---- what a host may ask ------------------------------------------------- */

int32_t plw_prefix_state(const plw_result *result)
{
    return result ? result->prefix.state : PLW_PREFIX_IMPOSSIBLE;
}

uint32_t plw_prefix_scheme_count(const plw_result *result)
{
    return result ? result->prefix.scheme_count : 0;
}

uint32_t plw_prefix_scheme(const plw_result *result, uint32_t index)
{
    return index < plw_prefix_scheme_count(result) ? result->prefix.scheme[index] : PLW_NONE;
}

static int32_t put_characters(uint64_t set, char *buffer, size_t capacity, size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    plwi_put_set(&writer, set);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_prefix_allowed(const plw_result *result, char *buffer, size_t capacity,
                           size_t *needed)
{
    return result ? put_characters(result->prefix.allowed, buffer, capacity, needed)
                  : plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
}

int32_t plw_prefix_known(const plw_result *result, char *buffer, size_t capacity, size_t *needed)
{
    return result ? put_characters(result->prefix.known, buffer, capacity, needed)
                  : plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
}

uint32_t plw_prefix_remaining_min(const plw_result *result)
{
    return result ? result->prefix.left_min : 0;
}

uint32_t plw_prefix_remaining_max(const plw_result *result)
{
    return result ? result->prefix.left_max : 0;
}
