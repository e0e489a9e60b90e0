/* SPDX-License-Identifier: MIT
 *
 * The search for patterns: one layout, one model year at a time, field by field.
 * Codes that say the same to all claims and to all conditions go the same way
 * together, so what is walked through are the ways to tell the claims, not the
 * numbers.
 */
#include <string.h>

#include "expect.h"

/* What was found on the way to one pattern. */
typedef struct trail {
    plwi_pattern pattern;
    uint64_t yes; /* conditions that are decided */
    uint64_t no;
    uint8_t main[MAX_QUESTIONS];  /* by question: a bit for each outcome of a field */
    uint8_t detail[MAX_QUESTIONS]; /* the same for fields that add detail */
} trail;

/* What a code says. */
typedef struct says {
    uint64_t yes;
    uint64_t no;
    uint32_t alive; /* rows that may hold */
    uint8_t outcome[MAX_QUESTIONS];
} says;

#define BIT(outcome) ((uint8_t)(1u << (outcome)))
#define DEAD 0 /* the sign of a code none of whose rows can hold */

/* ---- one code -------------------------------------------------------------------- */

/* The highest rank among rows whose conditions surely hold: it hides the others. */
static unsigned sure_rank(const plwi_sheet *sheet, const plwi_entry *entry, const trail *t)
{
    unsigned rank = 0;
    for (uint32_t i = entry->first; i < (uint32_t)entry->first + entry->count; i++)
        if (plwi_surely_holds(&sheet->rows[i], t->yes) && sheet->rows[i].rank > rank)
            rank = sheet->rows[i].rank;
    return rank;
}

static int is_alive(const plwi_sheet *sheet, uint32_t row, const trail *t, unsigned rank)
{
    const plwi_expect_row *r = &sheet->rows[row];
    return plwi_may_hold(r, t->yes, t->no) && r->rank >= rank;
}

static int range_answers(const plwi_sheet *sheet, const unsigned char *condition,
                         const plwi_entry *entry)
{
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    uint32_t end = first + plwi_u16(condition + CONDITION_VALUE_COUNT);
    int common = -1;
    for (uint32_t i = first; i + 1 < end; i += 2) {
        uint64_t low = plwi_code(sheet->image, i), high = plwi_code(sheet->image, i + 1);
        if (entry->low >= low && entry->high <= high)
            return 1;
        if (entry->high >= low && entry->low <= high)
            common = 0;
    }
    return common;
}

static int code_answers(const plwi_sheet *sheet, const unsigned char *condition,
                        const plwi_entry *entry)
{
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    uint32_t end = first + plwi_u16(condition + CONDITION_VALUE_COUNT);
    for (uint32_t i = first; i < end; i++)
        if (plwi_code(sheet->image, i) == entry->low)
            return 1;
    return -1;
}

/* Rows that may hold answer a condition when they are of one voice. */
static int rows_answer(const plwi_sheet *sheet, const unsigned char *condition,
                       const plwi_entry *entry, const trail *t, unsigned rank)
{
    int yes = 0, no = 0, silent = 0;
    for (uint32_t i = entry->first; i < (uint32_t)entry->first + entry->count; i++) {
        const unsigned char *row = plwi_row(sheet->image, sheet->rows[i].row);
        if (!is_alive(sheet, i, t, rank))
            continue;
        int said = plwi_states_condition(sheet->image, condition, plwi_u32(row + ROW_FACT),
                                         row[ROW_FACT_COUNT]);
        yes |= said > 0;
        no |= said < 0;
        silent |= said == 0;
    }
    return yes && !no && !silent ? 1 : no && !yes && !silent ? -1 : 0;
}

static int answer(const plwi_sheet *sheet, const plwi_expect_field *f,
                  const unsigned char *condition, const plwi_entry *entry, const trail *t,
                  unsigned rank)
{
    uint32_t reference = plwi_u16(condition + CONDITION_REF);
    if (condition[CONDITION_KIND] == CONDITION_ATTRIBUTE)
        return plwi_u64(f->record + FIELD_PROVIDES) >> reference & 1
                   ? rows_answer(sheet, condition, entry, t, rank)
                   : 0;
    if (reference != f->field)
        return 0;
    return f->kind == KIND_RUN ? range_answers(sheet, condition, entry)
                               : code_answers(sheet, condition, entry);
}

static void ask_conditions(const plwi_sheet *sheet, const plwi_expect_field *f,
                           const plwi_entry *entry, const trail *t, unsigned rank, says *s)
{
    s->yes = s->no = 0;
    for (uint32_t i = 0; f->asked && i < sheet->stated_count; i++) {
        int one = answer(sheet, f, plwi_condition(sheet->image, sheet->stated[i]), entry, t,
                         rank);
        *(one > 0 ? &s->yes : &s->no) |= one ? UINT64_C(1) << i : 0;
    }
}

static int is_asked_of(const plwi_sheet *sheet, const plwi_expect_field *f, uint32_t question)
{
    const plwi_inquiry *inquiry = sheet->inquiry;
    const plwi_question *q = &inquiry->questions[question];
    return f->claimed && plwi_is_asked(inquiry, question) &&
           (plwi_u64(f->record + FIELD_PROVIDES) &
            inquiry->judges[q->claim].attributes[q->part]) != 0;
}

static enum outcome ask_rows(const plwi_sheet *sheet, const plwi_entry *entry, const trail *t,
                             unsigned rank, uint32_t question)
{
    uint32_t found[OUTCOME_COUNT] = { 0 };
    unsigned marks = 0;
    for (uint32_t i = entry->first; i < (uint32_t)entry->first + entry->count; i++) {
        if (!is_alive(sheet, i, t, rank))
            continue;
        found[plwi_ask_row(sheet->inquiry, question, sheet->rows[i].row)]++;
        marks |= plwi_row(sheet->image, sheet->rows[i].row)[ROW_MARKS];
    }
    return plwi_join_outcomes(found, marks);
}

static void ask_entry(const plwi_sheet *sheet, const plwi_expect_field *f,
                      const plwi_entry *entry, const trail *t, says *s)
{
    unsigned rank = sure_rank(sheet, entry, t);
    s->alive = 0;
    for (uint32_t i = entry->first; i < (uint32_t)entry->first + entry->count; i++)
        s->alive += (uint32_t)is_alive(sheet, i, t, rank);
    ask_conditions(sheet, f, entry, t, rank, s);
    for (uint32_t q = 0; q < sheet->inquiry->question_count; q++)
        s->outcome[q] = (uint8_t)(is_asked_of(sheet, f, q) ? ask_rows(sheet, entry, t, rank, q)
                                                           : SILENT);
}

/* A number that is the same for codes that say the same, and never DEAD. */
static uint64_t sign_of(const plwi_sheet *sheet, const says *s)
{
    uint64_t sign = image_digest(s->outcome, sheet->inquiry->question_count);
    sign = (sign ^ s->yes) * UINT64_C(0x9E3779B97F4A7C15);
    sign = (sign ^ sign >> 29 ^ s->no) * UINT64_C(0xBF58476D1CE4E5B9);
    return sign | 1;
}

/* ---- claims --------------------------------------------------------------------------- */

#define SPOKEN (BIT(AGREES) | BIT(DIFFERS) | BIT(MIXED) | BIT(NEAR))

/* What is found of a question so far; details count where all else is silent. */
static unsigned found_of(const plwi_sheet *sheet, const trail *t, uint32_t question)
{
    unsigned found = t->main[question] | BIT(sheet->inquiry->questions[question].scheme);
    return (found & SPOKEN) != 0 ? found : found | t->detail[question];
}

static int can_still_agree(const plwi_sheet *sheet, uint32_t next, uint32_t question)
{
    for (uint32_t i = next; i < sheet->field_count; i++)
        if (is_asked_of(sheet, &sheet->fields[i], question))
            return 1;
    return 0;
}

/* Names are told in several places: one that agrees is enough, and they differ
 * only when none is left to ask. Any other part has one truth. */
static int text_differs(const plwi_question *question, unsigned found)
{
    return question->known && (found & (BIT(DIFFERS) | BIT(NEAR))) &&
           !(found & (BIT(AGREES) | BIT(MIXED) | BIT(UNKNOWN)));
}

static int is_contradicted(const plwi_sheet *sheet, const trail *t, uint32_t next)
{
    for (uint32_t q = 0; q < sheet->inquiry->question_count; q++) {
        const plwi_question *question = &sheet->inquiry->questions[q];
        unsigned found = found_of(sheet, t, q);
        if (!plwi_is_asked(sheet->inquiry, q))
            continue;
        if (question->part == PART_TEXT
                ? text_differs(question, found) && !can_still_agree(sheet, next, q)
                : (t->main[q] & BIT(DIFFERS)) ||
                      (found & BIT(DIFFERS) && next == sheet->field_count))
            return 1;
    }
    return 0;
}

/* The claims that the pattern tells: all parts of them agree. */
static uint32_t told_claims(const plwi_sheet *sheet, const trail *t)
{
    const plwi_inquiry *inquiry = sheet->inquiry;
    uint32_t told = inquiry->active;
    if (!sheet->tells_year)
        told &= ~inquiry->years;
    if (!sheet->tells_sequence)
        told &= ~inquiry->sequences;
    for (uint32_t q = 0; q < inquiry->question_count; q++)
        if (!(found_of(sheet, t, q) & BIT(AGREES)))
            told &= ~(UINT32_C(1) << inquiry->questions[q].claim);
    return told;
}

/* ---- going on --------------------------------------------------------------------------- */

static void visit(plwi_search *search, uint32_t next, const trail *t);

static void add_pattern(plwi_search *search, const trail *t)
{
    plwi_pattern pattern = t->pattern;
    pattern.told = told_claims(&search->sheet, t);
    plwi_add_pattern(&search->found, &pattern, search->sheet.layout[LAYOUT_LENGTH]);
}

static int is_done(const plwi_search *search)
{
    return search->capped || (search->first_only && search->found.count > 0);
}

/* Rows that speak for a claim. */
static void add_rows(const plwi_sheet *sheet, const plwi_expect_field *f,
                     const plwi_entry *entry, trail *t)
{
    const plwi_inquiry *inquiry = sheet->inquiry;
    unsigned rank = sure_rank(sheet, entry, t);
    int year = strcmp(plwi_field_name(sheet->image, f->field), "year") == 0 &&
               (inquiry->years & inquiry->active);
    for (uint32_t i = entry->first; i < (uint32_t)entry->first + entry->count; i++) {
        int speaks = year;
        for (uint32_t q = 0; q < inquiry->question_count && !speaks; q++)
            speaks = is_asked_of(sheet, f, q) &&
                     !(f->overlay && (t->main[q] & SPOKEN)) &&
                     plwi_ask_row(sheet->inquiry, q, sheet->rows[i].row) == AGREES;
        if (speaks && is_alive(sheet, i, t, rank))
            plwi_add_pattern_row(&t->pattern, sheet->image, sheet->rows[i].row);
    }
}

static void apply(const plwi_sheet *sheet, const plwi_expect_field *f, const says *s, trail *t)
{
    uint8_t *found = f->overlay ? t->detail : t->main;
    t->yes |= s->yes;
    t->no |= s->no;
    for (uint32_t q = 0; q < sheet->inquiry->question_count; q++)
        found[q] |= BIT(s->outcome[q]);
}

/* 0 when some position has no character left. */
static int narrow(const plwi_expect_field *f, const plwi_box *box, trail *t)
{
    for (unsigned i = 0; i < f->width; i++) {
        t->pattern.sets[f->places[i]] &= box->set[i];
        if (t->pattern.sets[f->places[i]] == 0)
            return 0;
    }
    return 1;
}

/* Goes on through each of the boxes from first on, and takes them away. */
static void visit_boxes(plwi_search *search, uint32_t index, uint32_t first, const trail *t)
{
    uint32_t end = search->boxes.count;
    for (uint32_t i = first; i < end && !is_done(search); i++) {
        trail next = *t;
        if (narrow(&search->sheet.fields[index], &search->boxes.item[i], &next))
            visit(search, index + 1, &next);
    }
    search->boxes.count = first;
}

static int stands(const plwi_expect_field *f, const trail *t, uint64_t code)
{
    for (unsigned i = f->width; i-- > 0; code >>= CODE_BITS)
        if (!(t->pattern.sets[f->places[i]] >> ((code & 63) - 1) & 1))
            return 0;
    return 1;
}

/* ---- running numbers ------------------------------------------------------------------------ */

/* The same character everywhere. */
static uint64_t repeated(unsigned width, uint64_t value)
{
    uint64_t code = 0;
    for (unsigned i = 0; i < width; i++)
        code = code << CODE_BITS | value;
    return code;
}

#define ZERO 1u /* as it is packed */

/* A range in the width of the layout, which may be shorter than that of the
 * field; 0 when none of it can be written so. */
static int fit_range(const plwi_expect_field *f, uint64_t *low, uint64_t *high)
{
    unsigned bits = CODE_BITS * f->width;
    uint64_t left = repeated(f->record[FIELD_WIDTH] - (unsigned)f->width, ZERO);
    uint64_t low_left = *low >> bits, high_left = *high >> bits;
    if (low_left > left) /* nothing lies below zeros */
        return 0;
    *low &= (UINT64_C(1) << bits) - 1;
    *high = high_left > left ? repeated(f->width, ALPHABET_SIZE)
                             : *high & ((UINT64_C(1) << bits) - 1);
    return 1;
}

static void visit_range(plwi_search *search, uint32_t index, const plwi_entry *entry, trail *t)
{
    const plwi_expect_field *f = &search->sheet.fields[index];
    uint64_t low = entry->low, high = entry->high;
    says s;
    if (!fit_range(f, &low, &high))
        return;
    ask_entry(&search->sheet, f, entry, t, &s);
    if (s.alive == 0)
        return;
    add_rows(&search->sheet, f, entry, t);
    apply(&search->sheet, f, &s, t);
    if (is_contradicted(&search->sheet, t, index + 1))
        return;
    if (search->boxes.count == MAX_BOXES) {
        search->capped = 1;
        return;
    }
    uint32_t first = search->boxes.count;
    plwi_boxes_of_run(&search->boxes, low, high, f->width);
    visit_boxes(search, index, first, t);
}

static void visit_run(plwi_search *search, uint32_t index, const trail *t)
{
    const plwi_expect_field *f = &search->sheet.fields[index];
    for (uint32_t i = f->entry; i < f->entry + f->entry_count && !is_done(search); i++) {
        trail next = *t;
        search->steps++;
        visit_range(search, index, &search->sheet.entries[i], &next);
    }
}

/* ---- codes ---------------------------------------------------------------------------------- */

static void sign_entries(plwi_search *search, const plwi_expect_field *f, const trail *t)
{
    says s;
    for (uint32_t i = f->entry; i < f->entry + f->entry_count; i++) {
        plwi_entry *entry = &search->sheet.entries[i];
        entry->sign = DEAD;
        entry->visited = 0;
        search->steps++;
        if (!stands(f, t, entry->low))
            continue;
        ask_entry(&search->sheet, f, entry, t, &s);
        if (s.alive > 0)
            entry->sign = sign_of(&search->sheet, &s);
    }
}

/* All codes that say the same as the one at first. */
static void visit_group(plwi_search *search, uint32_t index, uint32_t first, const trail *t)
{
    const plwi_expect_field *f = &search->sheet.fields[index];
    uint64_t sign = search->sheet.entries[first].sign;
    uint32_t count = 0, box = search->boxes.count;
    trail next = *t;
    says s;
    ask_entry(&search->sheet, f, &search->sheet.entries[first], t, &s);
    for (uint32_t i = first; i < f->entry + f->entry_count; i++) {
        if (search->sheet.entries[i].sign != sign)
            continue;
        search->codes[count++] = search->sheet.entries[i].low;
        search->sheet.entries[i].visited = 1;
        add_rows(&search->sheet, f, &search->sheet.entries[i], &next);
    }
    apply(&search->sheet, f, &s, &next);
    if (is_contradicted(&search->sheet, &next, index + 1))
        return;
    if (box == MAX_BOXES) {
        search->capped = 1;
        return;
    }
    plwi_boxes_of_codes(&search->boxes, search->codes, count, f->width);
    visit_boxes(search, index, box, &next);
}

static uint32_t sort_codes(uint64_t *codes, uint32_t count, uint64_t code)
{
    uint32_t at = count;
    for (; at > 0 && codes[at - 1] > code; at--)
        codes[at] = codes[at - 1];
    codes[at] = code;
    return count + 1;
}

/* Conditions on the code of the field that no code but these can meet. */
static uint64_t unmet_conditions(const plwi_search *search, const plwi_expect_field *f,
                                 uint32_t count)
{
    const plwi_sheet *sheet = &search->sheet;
    uint64_t unmet = 0;
    for (uint32_t i = 0; i < sheet->stated_count; i++) {
        const unsigned char *condition = plwi_condition(sheet->image, sheet->stated[i]);
        uint32_t first = plwi_u32(condition + CONDITION_VALUE), met = 0, all;
        all = plwi_u16(condition + CONDITION_VALUE_COUNT);
        if (condition[CONDITION_KIND] != CONDITION_FIELD ||
            plwi_u16(condition + CONDITION_REF) != f->field)
            continue;
        for (uint32_t k = 0; k < count; k++)
            for (uint32_t c = first; c < first + all; c++)
                met += plwi_code(sheet->image, c) == search->codes[k];
        if (met == all)
            unmet |= UINT64_C(1) << i;
    }
    return unmet;
}

/* Codes that the tables do not list, where only a condition asks for them or the
 * field only adds to others. */
static void visit_others(plwi_search *search, uint32_t index, const trail *t)
{
    const plwi_expect_field *f = &search->sheet.fields[index];
    uint32_t count = 0, first = search->boxes.count;
    trail next = *t;
    plwi_box around;
    for (uint32_t i = f->entry; i < f->entry + f->entry_count; i++)
        if (search->sheet.entries[i].sign != DEAD)
            count = sort_codes(search->codes, count, search->sheet.entries[i].low);
    next.no |= unmet_conditions(search, f, count);
    for (unsigned i = 0; i < f->width; i++)
        around.set[i] = t->pattern.sets[f->places[i]];
    if (first == MAX_BOXES) {
        search->capped = 1;
        return;
    }
    plwi_boxes_around(&search->boxes, &around, search->codes, count, f->width);
    visit_boxes(search, index, first, &next);
}

static void visit_codes(plwi_search *search, uint32_t index, const trail *t)
{
    const plwi_expect_field *f = &search->sheet.fields[index];
    sign_entries(search, f, t);
    for (uint32_t i = f->entry; i < f->entry + f->entry_count && !is_done(search); i++)
        if (search->sheet.entries[i].sign != DEAD && !search->sheet.entries[i].visited)
            visit_group(search, index, i, t);
    if (!f->claimed || f->kind != KIND_CODE)
        visit_others(search, index, t);
}

static void visit(plwi_search *search, uint32_t next, const trail *t)
{
    const plwi_sheet *sheet = &search->sheet;
    if (search->steps > MAX_STEPS)
        search->capped = 1;
    if (is_done(search))
        return;
    if (next == sheet->field_count) {
        if (!is_contradicted(sheet, t, next))
            add_pattern(search, t);
    } else if (!sheet->fields[next].bears) {
        visit(search, next + 1, t);
    } else if (sheet->fields[next].kind == KIND_RUN) {
        visit_run(search, next, t);
    } else {
        visit_codes(search, next, t);
    }
}

/* ---- one layout ------------------------------------------------------------------------------ */

static void search_year(plwi_search *search, uint32_t layout, int year)
{
    trail t;
    if (!plwi_fill_sheet(&search->sheet, &search->inquiry, layout, year))
        return;
    memset(&t, 0, sizeof t);
    memcpy(t.pattern.sets, search->sheet.sets, sizeof t.pattern.sets);
    t.pattern.layout = layout;
    t.pattern.years = plwi_years_one(year);
    t.yes = search->sheet.yes;
    t.no = search->sheet.no;
    search->boxes.count = 0;
    visit(search, 0, &t);
}

void plwi_search_layout(plwi_search *search, uint32_t layout)
{
    image_t image = search->inquiry.image;
    plwi_years years = plwi_layout_years(image, layout);
    search->found.count = search->found.capped = 0;
    search->capped = 0;
    search->steps = 0;
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year && !is_done(search);
         year = plwi_years_next(years, year))
        search_year(search, layout, year);
    plwi_join_patterns(&search->found, plwi_layout(image, layout)[LAYOUT_LENGTH]);
    search->capped |= (uint8_t)search->found.capped;
}
