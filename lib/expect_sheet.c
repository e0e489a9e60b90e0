/* SPDX-License-Identifier: MIT
 *
 * The sheet of one layout and one model year: the fields that bear on the claims,
 * and the rows of their codes. A field bears when its rows state what is claimed,
 * when it tells the year, or when a condition of a row that bears asks for it.
 */
#include "expect.h"

#include <string.h>

static int only_adds(unsigned kind)
{
    return kind == KIND_DETAIL || kind == KIND_NARROW;
}

static int has_codes(unsigned kind)
{
    return kind == KIND_CODE || only_adds(kind);
}

/* ---- fields -------------------------------------------------------------------- */

static void open_field(const plwi_sheet *sheet, uint32_t span, plwi_expect_field *f)
{
    const unsigned char *record = plwi_span(sheet->image, span);
    memset(f, 0, sizeof *f);
    f->field = plwi_u16(record + SPAN_FIELD);
    f->positions = plwi_u32(record + SPAN_POSITIONS);
    f->record = plwi_field(sheet->image, f->field);
    f->kind = f->record[FIELD_KIND];
    for (uint8_t p = 0; p < MAX_POSITIONS; p++)
        if (f->positions >> p & 1)
            f->places[f->width++] = p;
}

/* Details stand behind the fields at whose positions they stand. */
static void open_fields(plwi_sheet *sheet)
{
    plwi_expect_field fields[MAX_SPANS];
    uint32_t count = sheet->layout[LAYOUT_SPAN_COUNT], covered = 0;
    sheet->field_count = 0;
    for (uint32_t i = 0; i < count; i++) {
        open_field(sheet, plwi_u32(sheet->layout + LAYOUT_SPAN) + i, &fields[i]);
        if (!only_adds(fields[i].kind))
            covered |= fields[i].positions;
    }
    for (uint8_t overlay = 0; overlay < 2; overlay++)
        for (uint32_t i = 0; i < count; i++) {
            fields[i].overlay = only_adds(fields[i].kind) && (fields[i].positions & ~covered) == 0;
            if (fields[i].overlay == overlay)
                sheet->fields[sheet->field_count++] = fields[i];
        }
}

static plwi_expect_field *field_of(plwi_sheet *sheet, uint32_t field)
{
    for (uint32_t i = 0; i < sheet->field_count; i++)
        if (sheet->fields[i].field == field)
            return &sheet->fields[i];
    return NULL;
}

static int row_holds(const plwi_sheet *sheet, uint32_t row)
{
    plwi_years years = plwi_year_set(sheet->image,
                                     plwi_u16(plwi_row(sheet->image, row) + ROW_YEARS));
    return plwi_years_has(years, sheet->year);
}

/* ---- which fields are claimed ------------------------------------------------------ */

static int states(const plwi_sheet *sheet, const plwi_expect_field *f, uint32_t question)
{
    const plwi_inquiry *inquiry = sheet->inquiry;
    const plwi_question *q = &inquiry->questions[question];
    return plwi_is_asked(inquiry, question) &&
           (plwi_u64(f->record + FIELD_PROVIDES) &
            inquiry->judges[q->claim].attributes[q->part]) != 0;
}

/* 1 when some row of the field speaks of a claim in that year. Where none does,
 * the tables do not code the claim. */
static int speaks(const plwi_sheet *sheet, const plwi_expect_field *f)
{
    uint32_t first = plwi_u32(f->record + FIELD_ROW);
    uint32_t end = first + plwi_u32(f->record + FIELD_ROW_COUNT);
    for (uint32_t q = 0; q < sheet->inquiry->question_count; q++) {
        if (!states(sheet, f, q))
            continue;
        for (uint32_t row = first; row < end; row++)
            if (row_holds(sheet, row) && plwi_ask_row(sheet->inquiry, q, row) != SILENT)
                return 1;
    }
    return 0;
}

static int is_year_field(const plwi_sheet *sheet, const plwi_expect_field *f)
{
    return f->kind == KIND_CODE && strcmp(plwi_field_name(sheet->image, f->field), "year") == 0;
}

/* 1 when the field's rows are not the same in all years. */
static int tells_years(const plwi_sheet *sheet, const plwi_expect_field *f)
{
    uint32_t first = plwi_u32(f->record + FIELD_ROW);
    uint32_t end = first + plwi_u32(f->record + FIELD_ROW_COUNT);
    for (uint32_t row = first; row < end; row++)
        if (!row_holds(sheet, row))
            return 1;
    return 0;
}

/* Where no field is made for it, all codes together tell the year. */
static void find_year_fields(plwi_sheet *sheet, plwi_years base)
{
    const plwi_inquiry *inquiry = sheet->inquiry;
    int has_year = 0, all_claimed = 1;
    for (int year = plwi_years_next(base, FIRST_YEAR - 1); year;
         year = plwi_years_next(base, year))
        all_claimed &= plwi_year_is_claimed(inquiry, year);
    sheet->tells_year = (uint8_t)all_claimed;
    for (uint32_t i = 0; i < sheet->field_count; i++)
        has_year |= is_year_field(sheet, &sheet->fields[i]);
    for (uint32_t i = 0; i < sheet->field_count; i++) {
        plwi_expect_field *f = &sheet->fields[i];
        int tells = has_year ? is_year_field(sheet, f)
                             : (inquiry->years & inquiry->active) &&
                                   (f->kind == KIND_CODE || f->kind == KIND_RUN) &&
                                   tells_years(sheet, f);
        f->bears |= (uint8_t)tells;
        f->claimed |= (uint8_t)tells;
        sheet->tells_year |= (uint8_t)tells;
    }
}

static void find_claimed_fields(plwi_sheet *sheet)
{
    for (uint32_t i = 0; i < sheet->field_count; i++)
        if (speaks(sheet, &sheet->fields[i]))
            sheet->fields[i].bears = sheet->fields[i].claimed = 1;
}

/* ---- conditions ----------------------------------------------------------------------- */

static int same_condition(image_t image, const unsigned char *a, const unsigned char *b)
{
    unsigned count = plwi_u16(a + CONDITION_VALUE_COUNT);
    if (a[CONDITION_KIND] != b[CONDITION_KIND] ||
        plwi_u16(a + CONDITION_REF) != plwi_u16(b + CONDITION_REF) ||
        count != plwi_u16(b + CONDITION_VALUE_COUNT))
        return 0;
    uint32_t at_a = plwi_u32(a + CONDITION_VALUE), at_b = plwi_u32(b + CONDITION_VALUE);
    for (uint32_t i = 0; i < count; i++)
        if (a[CONDITION_KIND] == CONDITION_FIELD
                ? plwi_code(image, at_a + i) != plwi_code(image, at_b + i)
                : plwi_value(image, at_a + i) != plwi_value(image, at_b + i))
            return 0;
    return 1;
}

/* The fields that can answer a condition bear, too. */
static void ask_providers(plwi_sheet *sheet, const plwi_expect_field *self,
                          const unsigned char *condition)
{
    uint32_t reference = plwi_u16(condition + CONDITION_REF);
    if (condition[CONDITION_KIND] == CONDITION_FIELD) {
        plwi_expect_field *f = field_of(sheet, reference);
        if (f != NULL)
            f->bears = f->asked = 1;
        return;
    }
    for (uint32_t i = 0; i < sheet->field_count; i++) {
        plwi_expect_field *f = &sheet->fields[i];
        if (f != self && (plwi_u64(f->record + FIELD_PROVIDES) >> reference & 1))
            f->bears = f->asked = 1;
    }
}

/* The bit of a condition. What the number alone does not decide, and whatever
 * finds no room, has the last one, which nothing answers. */
static uint64_t bit_of(plwi_sheet *sheet, uint32_t index)
{
    const unsigned char *condition = plwi_condition(sheet->image, index);
    uint32_t i = 0;
    if (condition[CONDITION_KIND] == CONDITION_CHECK)
        return UINT64_C(1) << (MAX_STATED - 1);
    while (i < sheet->stated_count &&
           !same_condition(sheet->image, condition,
                           plwi_condition(sheet->image, sheet->stated[i])))
        i++;
    if (i == MAX_STATED - 1)
        return UINT64_C(1) << i;
    if (i == sheet->stated_count)
        sheet->stated[sheet->stated_count++] = index;
    return UINT64_C(1) << i;
}

int plwi_may_hold(const plwi_expect_row *row, uint64_t yes, uint64_t no)
{
    return (row->needs & no & ~yes) == 0;
}

int plwi_surely_holds(const plwi_expect_row *row, uint64_t yes)
{
    return (row->needs & ~yes) == 0;
}

int plwi_states_condition(image_t image, const unsigned char *condition, uint32_t first,
                          uint32_t count)
{
    uint32_t values = plwi_u32(condition + CONDITION_VALUE);
    uint32_t value_count = plwi_u16(condition + CONDITION_VALUE_COUNT);
    int answer = 0;
    for (uint32_t i = first; i < first + count; i++) {
        const unsigned char *fact = plwi_fact(image, i);
        if (plwi_u16(fact + FACT_ATTRIBUTE) != plwi_u16(condition + CONDITION_REF))
            continue;
        for (uint32_t k = 0; k < value_count; k++)
            if (plwi_value(image, values + k) == plwi_u32(fact + FACT_VALUE))
                return 1;
        answer = -1;
    }
    return answer;
}

/* Conditions that the facts of the scheme decide. */
static void ask_scheme(plwi_sheet *sheet)
{
    const unsigned char *scheme = plwi_scheme(sheet->image, sheet->scheme);
    sheet->yes = sheet->no = 0;
    for (uint32_t i = 0; i < sheet->stated_count; i++) {
        const unsigned char *condition = plwi_condition(sheet->image, sheet->stated[i]);
        if (condition[CONDITION_KIND] != CONDITION_ATTRIBUTE)
            continue;
        int answer =
            plwi_states_condition(sheet->image, condition, plwi_u32(scheme + SCHEME_FACT),
                                  plwi_u32(scheme + SCHEME_FACT_COUNT));
        *(answer > 0 ? &sheet->yes : &sheet->no) |= answer ? UINT64_C(1) << i : 0;
    }
}

/* ---- codes ------------------------------------------------------------------------------ */

/* 1 when the positions of the field allow the code. */
static int can_stand(const plwi_sheet *sheet, const plwi_expect_field *f, uint64_t code)
{
    for (unsigned i = f->width; i-- > 0; code >>= CODE_BITS) {
        unsigned value = (unsigned)(code & 63);
        if (value == 0 || !(sheet->sets[f->places[i]] >> (value - 1) & 1))
            return 0;
    }
    return code == 0;
}

static void add_row(plwi_sheet *sheet, uint32_t row)
{
    const unsigned char *record = plwi_row(sheet->image, row);
    plwi_expect_row *r = &sheet->rows[sheet->row_count++];
    r->row = row;
    r->rank = record[ROW_MARKS] & MARK_ALSO ? 0 : record[ROW_CONDITION_COUNT];
    r->needs = 0;
}

/* The conditions of rows that stay. */
static void add_conditions(plwi_sheet *sheet, const plwi_expect_field *f,
                           const plwi_entry *entry)
{
    for (uint32_t i = entry->first; i < (uint32_t)entry->first + entry->count; i++) {
        const unsigned char *row = plwi_row(sheet->image, sheet->rows[i].row);
        uint32_t condition = plwi_u16(row + ROW_CONDITION);
        for (uint32_t k = condition; k < condition + row[ROW_CONDITION_COUNT]; k++) {
            const unsigned char *record = plwi_condition(sheet->image, k);
            sheet->rows[i].needs |= bit_of(sheet, k);
            if (record[CONDITION_KIND] != CONDITION_CHECK)
                ask_providers(sheet, f, record);
        }
    }
}

/* What all rows of a code say to a question, whatever their conditions. */
static enum outcome entry_outcome(const plwi_sheet *sheet, const plwi_entry *entry,
                                  uint32_t question)
{
    uint32_t found[OUTCOME_COUNT] = { 0 };
    unsigned marks = 0;
    for (uint32_t i = entry->first; i < (uint32_t)entry->first + entry->count; i++) {
        found[plwi_ask_row(sheet->inquiry, question, sheet->rows[i].row)]++;
        marks |= plwi_row(sheet->image, sheet->rows[i].row)[ROW_MARKS];
    }
    return plwi_join_outcomes(found, marks);
}

/* 1 when no other field can speak for the claim. */
static int is_alone(const plwi_sheet *sheet, const plwi_expect_field *f, uint32_t question)
{
    for (uint32_t i = 0; i < sheet->field_count; i++)
        if (&sheet->fields[i] != f && states(sheet, &sheet->fields[i], question))
            return 0;
    return 1;
}

/* A code that differs from a claim in every one of its rows is of no use. Nor is
 * one of a detail that says nothing: the number is then as if it had none. */
static int is_useless(const plwi_sheet *sheet, const plwi_expect_field *f,
                      const plwi_entry *entry)
{
    int silent = only_adds(f->kind) && !f->asked;
    if (entry->count == 0) /* GCOVR_EXCL_BR_LINE: the row that brought it is there */
        return 1;
    for (uint32_t q = 0; q < sheet->inquiry->question_count; q++) {
        const plwi_question *question = &sheet->inquiry->questions[q];
        if (!states(sheet, f, q))
            continue;
        enum outcome outcome = entry_outcome(sheet, entry, q);
        silent &= outcome == SILENT;
        if (outcome == DIFFERS && !f->overlay &&
            (question->part != PART_TEXT || (question->known && is_alone(sheet, f, q))))
            return 1;
    }
    return silent;
}

static plwi_entry *begin_entry(plwi_sheet *sheet, uint64_t low, uint64_t high)
{
    plwi_entry *entry = &sheet->entries[sheet->entry_count];
    entry->low = low;
    entry->high = high;
    entry->first = (uint16_t)sheet->row_count;
    entry->count = 0;
    return entry;
}

static void end_entry(plwi_sheet *sheet, plwi_expect_field *f, plwi_entry *entry)
{
    entry->count = (uint16_t)(sheet->row_count - entry->first);
    if (is_useless(sheet, f, entry)) {
        sheet->row_count = entry->first;
        return;
    }
    add_conditions(sheet, f, entry);
    sheet->entry_count++;
    f->entry_count++;
}

/* 0 when a sheet of this size cannot hold all rows. */
static int has_room(const plwi_sheet *sheet)
{
    return sheet->row_count + LIMIT_GROUP <= MAX_EXPECT_ROWS; /* and each entry has a row */
}

/* The rows of a code that hold, once: at the first of them. */
static void load_code(plwi_sheet *sheet, plwi_expect_field *f, uint32_t row, uint64_t code)
{
    const unsigned char *group = plwi_find_group(sheet->image, f->field, code);
    if (group == NULL)
        return;
    if (!can_stand(sheet, f, code))
        return;
    const unsigned char *field = plwi_field(sheet->image, f->field);
    uint32_t first = plwi_u32(group + GROUP_MEMBER);
    uint32_t end = first + plwi_u16(group + GROUP_COUNT);
    for (; first < end; first++)
        if (row_holds(sheet, plwi_member(sheet->image, first, field)))
            break;
    if (first == end)
        return;
    if (plwi_member(sheet->image, first, field) != row)
        return;
    plwi_entry *entry = begin_entry(sheet, code, code);
    for (; first < end; first++)
        if (row_holds(sheet, plwi_member(sheet->image, first, field)))
            add_row(sheet, plwi_member(sheet->image, first, field));
    end_entry(sheet, f, entry);
}

static int run_row_holds(const plwi_sheet *sheet, uint32_t row, uint64_t low, uint64_t high)
{
    const unsigned char *record = plwi_row(sheet->image, row);
    uint32_t code = plwi_u32(record + ROW_CODE);
    uint32_t end = code + plwi_u16(record + ROW_CODE_COUNT);
    for (; code + 1 < end; code += 2)
        if (plwi_code(sheet->image, code) <= low && high <= plwi_code(sheet->image, code + 1))
            return row_holds(sheet, row);
    return 0;
}

/* A range, and the rows that hold all of it. */
static void load_range(plwi_sheet *sheet, plwi_expect_field *f, uint64_t low, uint64_t high)
{
    uint32_t row = plwi_u32(f->record + FIELD_ROW);
    uint32_t end = row + plwi_u32(f->record + FIELD_ROW_COUNT);
    plwi_entry *entry = begin_entry(sheet, low, high);
    for (; row < end && sheet->row_count < MAX_EXPECT_ROWS; row++)
        if (run_row_holds(sheet, row, low, high))
            add_row(sheet, row);
    end_entry(sheet, f, entry);
}

static void load_row(plwi_sheet *sheet, plwi_expect_field *f, uint32_t row)
{
    const unsigned char *record = plwi_row(sheet->image, row);
    uint32_t code = plwi_u32(record + ROW_CODE);
    uint32_t end = code + plwi_u16(record + ROW_CODE_COUNT);
    for (; code < end && has_room(sheet); code += f->kind == KIND_RUN ? 2 : 1)
        if (f->kind != KIND_RUN)
            load_code(sheet, f, row, plwi_code(sheet->image, code));
        else
            load_range(sheet, f, plwi_code(sheet->image, code),
                       plwi_code(sheet->image, code + 1));
}

/* A field of which not all rows find room says nothing. */
static void load_field(plwi_sheet *sheet, plwi_expect_field *f)
{
    uint32_t row = plwi_u32(f->record + FIELD_ROW);
    uint32_t end = row + plwi_u32(f->record + FIELD_ROW_COUNT);
    f->loaded = 1;
    f->entry = sheet->entry_count;
    if (!has_codes(f->kind) && f->kind != KIND_RUN) /* GCOVR_EXCL_BR_LINE: no other bears */
        return;
    for (; row < end; row++)
        if (row_holds(sheet, row))
            load_row(sheet, f, row);
    if (!has_room(sheet)) {
        sheet->entry_count -= f->entry_count;
        f->entry_count = 0;
        f->bears = f->claimed = 0;
    }
}

static void load_fields(plwi_sheet *sheet)
{
    for (int more = 1; more;) {
        more = 0;
        for (uint32_t i = 0; i < sheet->field_count; i++) {
            plwi_expect_field *f = &sheet->fields[i];
            if (!f->bears || f->loaded)
                continue;
            load_field(sheet, f);
            more = 1;
        }
    }
}

/* ---- the running number ------------------------------------------------------------------- */

/* Puts a claimed sequence in its place, last character first; what is left out on
 * the left is zero. 0 when it cannot stand there. */
static int put_sequence(plwi_sheet *sheet, const plwi_expect_field *f, const char *text)
{
    size_t left = strlen(text);
    for (unsigned i = f->width; i-- > 0;) {
        char c = (char)(left > 0 ? text[--left] : '0');
        sheet->sets[f->places[i]] &= UINT64_C(1) << plwi_character_bit((uint32_t)(unsigned char)c);
        if (sheet->sets[f->places[i]] == 0)
            return 0;
    }
    while (left > 0)
        if (text[--left] != '0')
            return 0;
    return 1;
}

static int put_sequences(plwi_sheet *sheet)
{
    uint32_t claims = sheet->inquiry->sequences & sheet->inquiry->active;
    for (uint32_t i = 0; i < sheet->field_count; i++) {
        const plwi_expect_field *f = &sheet->fields[i];
        if (strcmp(plwi_field_name(sheet->image, f->field), "sequence") != 0)
            continue;
        sheet->tells_sequence = 1;
        for (uint32_t c = 0; c < PLW_MAX_CLAIMS; c++)
            if ((claims >> c & 1) && !put_sequence(sheet, f, sheet->inquiry->wanted[c].text))
                return 0;
    }
    return 1;
}

/* ---- the sheet --------------------------------------------------------------------------- */

/* 1 when the facts of the scheme differ from a claim that has one truth. */
static int scheme_differs(const plwi_inquiry *inquiry)
{
    for (uint32_t q = 0; q < inquiry->question_count; q++) {
        const plwi_question *question = &inquiry->questions[q];
        if (plwi_is_asked(inquiry, q) && question->part != PART_TEXT &&
            question->scheme == DIFFERS)
            return 1;
    }
    return 0;
}

plwi_years plwi_layout_years(image_t image, uint32_t layout)
{
    const unsigned char *record = plwi_layout(image, layout);
    const unsigned char *scheme = plwi_scheme(image, plwi_u16(record + LAYOUT_SCHEME));
    return plwi_years_and(plwi_year_set(image, plwi_u32(scheme + SCHEME_YEARS)),
                          plwi_year_set(image, plwi_u32(record + LAYOUT_YEARS)));
}

int plwi_fill_sheet(plwi_sheet *sheet, plwi_inquiry *inquiry, uint32_t layout, int year)
{
    sheet->image = inquiry->image;
    sheet->inquiry = inquiry;
    sheet->layout = plwi_layout(sheet->image, layout);
    sheet->scheme = plwi_u16(sheet->layout + LAYOUT_SCHEME);
    sheet->year = year;
    sheet->row_count = sheet->entry_count = sheet->stated_count = 0;
    sheet->tells_sequence = 0;
    plwi_inquire_scheme(inquiry, sheet->scheme);
    if ((inquiry->active & inquiry->strangers) != 0 && inquiry->excludes_strangers)
        return 0;
    if (!plwi_year_is_claimed(inquiry, year) || scheme_differs(inquiry))
        return 0;
    for (uint32_t p = 0; p < MAX_POSITIONS; p++)
        sheet->sets[p] = p < sheet->layout[LAYOUT_LENGTH]
                             ? plwi_class(sheet->image, sheet->layout, p)
                             : 0;
    open_fields(sheet);
    if (!put_sequences(sheet))
        return 0;
    find_year_fields(sheet, plwi_layout_years(sheet->image, layout));
    find_claimed_fields(sheet);
    load_fields(sheet);
    ask_scheme(sheet);
    return 1;
}
