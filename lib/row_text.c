/* SPDX-License-Identifier: MIT */
#include "row_text.h"

#include "names.h"

#define CODE_MASK ((1u << CODE_BITS) - 1)

void plwi_put_code(plwi_writer *out, uint64_t code)
{
    for (int shift = CODE_BITS * (MAX_CODE_WIDTH - 1); shift >= 0; shift -= CODE_BITS) {
        unsigned value = (unsigned)(code >> shift) & CODE_MASK;
        if (value > 0)
            plwi_put_char(out, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"[value - 1]);
    }
}

/* ---- Attributes ------------------------------------------------------ */

static const unsigned char *attribute_at(image_t image, uint32_t attribute)
{
    return plwi_record(image, SECTION_ATTRIBUTES, 16, attribute);
}

static void put_attribute_value(plwi_writer *out, image_t image, uint32_t attribute, uint32_t value)
{
    if (attribute_at(image, attribute)[ATTRIBUTE_KIND] == ATTRIBUTE_NUMBER)
        plwi_put_thousandths(out, value);
    else
        plwi_put_text(out, plwi_text(image, value));
}

void plwi_put_fact(plwi_writer *out, image_t image, uint32_t fact)
{
    const unsigned char *record = plwi_fact(image, fact);
    put_attribute_value(out, image, plwi_u16(record + FACT_ATTRIBUTE),
                        plwi_u32(record + FACT_VALUE));
}

/* ---- Conditions ------------------------------------------------------ */

typedef struct condition {
    unsigned kind;
    uint32_t ref;
    uint32_t first;
    uint32_t count; /* things it allows: codes, values, or ranges of a running number */
    int is_run;
} condition;

/* How a condition is written: in a key or in words. */
typedef struct wording {
    const char *through; /* between the ends of a range */
    const char *open;    /* behind the start of a range without end */
    const char *states[CHECK_STATE_COUNT];
} wording;

static condition condition_of_row(image_t image, const unsigned char *row, uint32_t index)
{
    const unsigned char *record = plwi_condition(image, plwi_u16(row + ROW_CONDITION) + index);
    condition c = { record[CONDITION_KIND], plwi_u16(record + CONDITION_REF),
                    plwi_u32(record + CONDITION_VALUE), plwi_u16(record + CONDITION_VALUE_COUNT),
                    0 };
    if (c.kind == CONDITION_FIELD && plwi_field(image, c.ref)[FIELD_KIND] == KIND_RUN) {
        c.is_run = 1;
        c.count /= 2;
    }
    return c;
}

/* The greatest code of a width, which is how a range without end is stored. */
static uint64_t greatest_code(unsigned width)
{
    uint64_t code = 0;
    while (width-- > 0)
        code = code << CODE_BITS | ALPHABET_SIZE;
    return code;
}

static void put_run(plwi_writer *out, image_t image, const condition *c, uint32_t index,
                    const wording *words)
{
    uint64_t low = plwi_code(image, c->first + 2 * index);
    uint64_t high = plwi_code(image, c->first + 2 * index + 1);
    plwi_put_code(out, low);
    if (high == greatest_code(plwi_field(image, c->ref)[FIELD_WIDTH])) {
        plwi_put_text(out, words->open);
    } else if (high != low) {
        plwi_put_text(out, words->through);
        plwi_put_code(out, high);
    }
}

static void put_condition_value(plwi_writer *out, image_t image, const condition *c, uint32_t index,
                                const wording *words)
{
    if (c->is_run)
        put_run(out, image, c, index, words);
    else if (c->kind == CONDITION_FIELD)
        plwi_put_code(out, plwi_code(image, c->first + index));
    else if (c->kind == CONDITION_ATTRIBUTE)
        put_attribute_value(out, image, c->ref, plwi_value(image, c->first + index));
    else
        plwi_put_text(out, words->states[plwi_value(image, c->first + index)]);
}

static const char *condition_name(image_t image, const condition *c)
{
    if (c->kind == CONDITION_FIELD)
        return plwi_field_name(image, c->ref);
    if (c->kind == CONDITION_ATTRIBUTE)
        return plwi_text(image, plwi_u32(attribute_at(image, c->ref) + ATTRIBUTE_NAME));
    return "check";
}

static void put_condition_key(plwi_writer *out, image_t image, const condition *c)
{
    static const wording key_words = { "-", "+", { "fits", "fails" } };
    plwi_put_text(out, condition_name(image, c));
    for (uint32_t i = 0; i < c->count; i++) {
        plwi_put_char(out, i == 0 ? '=' : '|');
        put_condition_value(out, image, c, i, &key_words);
    }
}

/* A rule has no code; its kind stands in its place. */
static const char *key_code(image_t image, const unsigned char *row)
{
    if (row[ROW_KIND] == ROW_CLOSED)
        return "closed";
    if (row[ROW_KIND] == ROW_REQUIRED)
        return "required";
    return plwi_text(image, plwi_u32(row + ROW_CODE_TEXT));
}

void plwi_put_row_key(plwi_writer *out, image_t image, uint32_t row)
{
    const unsigned char *record = plwi_row(image, row);
    uint32_t field = plwi_u16(record + ROW_FIELD);
    uint32_t scheme = plwi_u16(plwi_field(image, field) + FIELD_SCHEME);
    plwi_years years = plwi_year_set(image, plwi_u16(record + ROW_YEARS));
    const char *tag = plwi_text(image, plwi_u32(plwi_note(image, record) + NOTE_TAG));

    plwi_put_text(out, plwi_text(image, plwi_u32(plwi_scheme(image, scheme) + SCHEME_KEY)));
    plwi_put_char(out, '/');
    plwi_put_text(out, plwi_field_name(image, field));
    plwi_put_char(out, '/');
    plwi_put_text(out, key_code(image, record));
    plwi_put_char(out, '/');
    plwi_put_number(out, plwi_years_next(years, FIRST_YEAR - 1));
    for (uint32_t i = 0; i < record[ROW_CONDITION_COUNT]; i++) {
        condition c = condition_of_row(image, record, i);
        plwi_put_char(out, i == 0 ? '/' : ',');
        put_condition_key(out, image, &c);
    }
    if (*tag) {
        plwi_put_char(out, '/');
        plwi_put_text(out, tag);
    }
}

/* What people call the thing a condition asks about. */
static const char *condition_label(image_t image, const plw_names *names, const condition *c,
                                   uint32_t scheme)
{
    if (c->kind == CONDITION_FIELD)
        return plwi_label(names, image, c->ref);
    if (c->kind == CONDITION_ATTRIBUTE)
        return plwi_text(image, plwi_u32(attribute_at(image, c->ref) + ATTRIBUTE_LABEL));
    uint32_t check = plwi_u32(plwi_scheme(image, scheme) + SCHEME_CHECK);
    return plwi_label(names, image,
                      plwi_u16(plwi_record(image, SECTION_CHECKS, 112, check) + CHECK_FIELD));
}

static void put_unit(plwi_writer *out, image_t image, const condition *c)
{
    if (c->kind != CONDITION_ATTRIBUTE)
        return;
    const char *unit = plwi_text(image, plwi_u32(attribute_at(image, c->ref) + ATTRIBUTE_UNIT));
    if (*unit) {
        plwi_put_char(out, ' ');
        plwi_put_text(out, unit);
    }
}

/* "line is B, J or K", "displacement is 340 cu in", "check digit fits". */
static void put_condition_words(plwi_writer *out, image_t image, const plw_names *names,
                                const condition *c, uint32_t scheme)
{
    static const wording plain_words = { " to ", " or higher", { "fits", "does not fit" } };
    plwi_put_text(out, condition_label(image, names, c, scheme));
    plwi_put_text(out, c->kind == CONDITION_CHECK ? " " : " is ");
    for (uint32_t i = 0; i < c->count; i++) {
        if (i > 0)
            plwi_put_text(out, i + 1 < c->count ? ", " : " or ");
        put_condition_value(out, image, c, i, &plain_words);
    }
    put_unit(out, image, c);
}

void plwi_put_condition(plwi_writer *out, image_t image, const plw_names *names, uint32_t row)
{
    const unsigned char *record = plwi_row(image, row);
    uint32_t scheme = plwi_u16(plwi_field(image, plwi_u16(record + ROW_FIELD)) + FIELD_SCHEME);
    for (uint32_t i = 0; i < record[ROW_CONDITION_COUNT]; i++) {
        condition c = condition_of_row(image, record, i);
        if (i > 0)
            plwi_put_text(out, " and ");
        put_condition_words(out, image, names, &c, scheme);
    }
}
