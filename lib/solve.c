/* SPDX-License-Identifier: MIT
 *
 * The heart of decoding: one layout, its fields, and the model years in which
 * all of them can be true at once.
 *
 * Every row holds for a set of years. A condition is a set of years too: those
 * in which the rows of another field support it. A row holds in its own years
 * AND those of its conditions; a field allows the OR over its rows; a reading
 * has the AND over its fields. Each year is thereby judged by itself, all years
 * at the same time, and an unreadable character is nothing but more rows.
 */
#include "internal.h"

/* What is done for every row that is looked at stands where it is called. */
#ifdef __GNUC__
#define EACH_ROW static inline __attribute__((always_inline))
#else
#define EACH_ROW static inline
#endif

static const plwi_years no_years = { 0, 0 };
static const plwi_years all_years = { UINT64_MAX, UINT64_MAX };

/* A field of the layout while it is being solved. */
typedef struct field_work {
    const unsigned char *record; /* the field */
    uint32_t field;
    uint32_t span;
    uint32_t positions;
    uint8_t kind;
    uint8_t width;
    uint8_t exact;        /* every character is known */
    uint8_t complete;     /* the tables know everything the characters can spell */
    uint8_t conditional;  /* rows were left out since their conditions cannot hold */
    uint8_t ranked;       /* some rows have conditions */
    uint8_t overflow;     /* too many rows: says nothing */
    uint8_t overlay;      /* adds to fields that stand at the same positions */
    uint8_t places[MAX_CODE_WIDTH]; /* positions, 0-based, in order; of one not exact */
    uint64_t code;        /* packed, lowest characters where several are possible */
    uint64_t code_high;   /* the same with the highest characters */
    uint32_t first;       /* candidates */
    uint32_t count;
    uint32_t beside;      /* behind them rows of a running number that do not hold it */
    uint32_t known;       /* of the candidates: how many surely hold in some year */
    plwi_years held;      /* years in which one of them can hold */
    plwi_years agreed;    /* in which the conditions of all of them surely hold */
    plwi_years years;     /* what it allows */
    plwi_years firm;      /* years in which its rows are all it can mean */
} field_work;

/* What is known about one condition or row: years in which it may hold and
 * years in which it surely does. */
typedef struct support {
    plwi_years may;
    plwi_years sure;
} support;

/* Rows of a field share few lists of conditions, so what came of the last lists
 * is kept. */
#define MEMORY_SIZE 16

typedef struct memory {
    const field_work *field; /* whose rows asked */
    uint32_t count;          /* of lists so far; the last MEMORY_SIZE are kept */
    uint32_t list[MEMORY_SIZE]; /* first condition */
    uint8_t length[MEMORY_SIZE];
    support answer[MEMORY_SIZE];
} memory;

typedef struct solver {
    plw_result *result;
    image_t image;
    /* sections that are looked into for each row */
    const unsigned char *rows;
    const unsigned char *year_sets;
    const unsigned char *facts;
    const unsigned char *layout;
    const unsigned char *scheme;
    plwi_reading draft; /* sets, strays and check, common to all readings */
    plwi_years base;    /* years of the scheme and the layout */
    uint8_t lowest[MAX_POSITIONS];  /* of each set of the draft, as in a packed code */
    uint8_t highest[MAX_POSITIONS];
    uint32_t open;      /* positions where more than one character is possible */
    uint32_t covered;   /* by fields that say more than a detail */
    uint32_t field_count;
    uint32_t candidate_count;
    memory memory;
    field_work fields[MAX_SPANS];
} solver;

static inline const unsigned char *row_at(const solver *s, uint32_t index)
{
    return s->rows + (size_t)index * ROW_SIZE;
}

/* The years of a row, by themselves. */
static inline plwi_years years_of(const solver *s, const unsigned char *row)
{
    const unsigned char *p = s->year_sets + (size_t)plwi_u16(row + ROW_YEARS) * 16;
    plwi_years years = { plwi_u64(p + YEARS_LOW), plwi_u64(p + YEARS_HIGH) };
    return years;
}

/* ---- the characters this layout takes ---------------------------------- */

/* The character a typed one is read as where only the class may stand. */
static uint64_t read_as(image_t image, unsigned typed, uint64_t class)
{
    uint32_t count = plwi_count(image, SECTION_MISREADS);
    for (uint32_t i = 0; i < count; i++) {
        const unsigned char *pair = plwi_record(image, SECTION_MISREADS, 16, i);
        if (pair[MISREAD_USE] == MISREAD_READ && pair[MISREAD_TYPED] == typed &&
            class >> pair[MISREAD_MEANT] & 1)
            return UINT64_C(1) << pair[MISREAD_MEANT];
    }
    return 0;
}

static uint64_t misread_set(image_t image, uint64_t set, uint64_t class)
{
    uint64_t meant = 0;
    for (unsigned c = 0; c < ALPHABET_SIZE; c++)
        if (set >> c & 1)
            meant |= read_as(image, c, class);
    return meant;
}

uint64_t plwi_class(image_t image, const unsigned char *layout, uint32_t position)
{
    uint32_t class = plwi_u16(plwi_record(image, SECTION_POSITIONS, 2,
                                          plwi_u32(layout + LAYOUT_POSITION) + position));
    return plwi_u64(plwi_record(image, SECTION_CLASSES, 8, class));
}

uint64_t plwi_take(image_t image, uint64_t typed, uint64_t class, uint8_t *place)
{
    uint64_t set = typed & class;
    *place = PLACE_FITS;
    if (set == 0) {
        set = misread_set(image, typed, class);
        *place = PLACE_MISREAD;
    }
    if (set == 0) {
        set = class;
        *place = PLACE_MISFIT;
    } else if (!plwi_is_single(set)) {
        *place = PLACE_UNREADABLE;
    }
    return set;
}

/* What a position that does not simply fit holds. */
static uint64_t take_odd_one(solver *s, uint32_t p, uint64_t typed, uint64_t class)
{
    uint8_t place;
    uint32_t position = UINT32_C(1) << p;
    uint64_t set = plwi_take(s->image, typed, class, &place);
    if (place == PLACE_MISREAD)
        s->draft.misread |= position;
    else if (place == PLACE_MISFIT)
        s->draft.misfit |= position;
    else
        s->draft.unreadable |= position;
    if (!plwi_is_single(set))
        s->open |= position;
    return set;
}

static void take_characters(solver *s)
{
    const unsigned char *position =
        plwi_record(s->image, SECTION_POSITIONS, 2, plwi_u32(s->layout + LAYOUT_POSITION));
    const unsigned char *classes = plwi_section(s->image, SECTION_CLASSES);
    uint32_t length = s->layout[LAYOUT_LENGTH];
    s->draft.misread = s->draft.misfit = s->draft.unreadable = s->open = 0;
    for (uint32_t p = 0; p < length; p++, position += 2) {
        uint64_t typed = s->result->number.cell[p].set;
        uint64_t class = plwi_u64(classes + (size_t)plwi_u16(position) * 8);
        uint64_t set = typed & class;
        if (!plwi_is_single(set))
            set = take_odd_one(s, p, typed, class);
        s->draft.sets[p] = set;
        s->lowest[p] = (uint8_t)(plwi_lowest_bit(set) + 1);
        s->highest[p] = (uint8_t)(plwi_highest_bit(set) + 1);
    }
}

/* ---- fields and their codes -------------------------------------------- */

static uint64_t packed(const uint8_t characters[MAX_POSITIONS], uint32_t positions)
{
    uint64_t code = 0;
    for (; positions != 0; positions &= positions - 1)
        code = code << CODE_BITS | characters[plwi_lowest_bit(positions)];
    return code;
}

/* The solver is not const, for the field is one of its own. */
static void read_code(solver *s, field_work *f)
{
    unsigned width = 0;
    f->exact = (f->positions & s->open) == 0;
    f->code = f->code_high = packed(s->lowest, f->positions);
    if (f->exact)
        return;
    f->code_high = packed(s->highest, f->positions);
    for (uint32_t left = f->positions; left != 0; left &= left - 1)
        f->places[width++] = (uint8_t)plwi_lowest_bit(left);
}

/* Run codes stand in the table in the width of the widest layout. */
static uint64_t pad_code(uint64_t code, unsigned from, unsigned to)
{
    for (unsigned i = from; i < to; i++)
        code |= UINT64_C(1) << (CODE_BITS * i);
    return code;
}

/* Details and narrowing fields add to what other fields say. */
static int only_adds(unsigned kind)
{
    return kind == KIND_DETAIL || kind == KIND_NARROW;
}

static void open_field(solver *s, uint32_t span, field_work *f)
{
    const unsigned char *record = plwi_span(s->image, span);
    f->span = span;
    f->field = plwi_u16(record + SPAN_FIELD);
    f->width = record[SPAN_WIDTH];
    f->positions = plwi_u32(record + SPAN_POSITIONS);
    f->record = plwi_field(s->image, f->field);
    f->kind = f->record[FIELD_KIND];
    f->conditional = f->ranked = f->overflow = 0;
    f->years = s->base;
    f->firm = f->held = no_years;
    f->agreed = all_years;
    f->first = f->count = f->beside = f->known = 0;
    read_code(s, f);
    f->complete = f->exact;
    if (!only_adds(f->kind))
        s->covered |= f->positions;
    if (f->kind == KIND_RUN) {
        f->code = pad_code(f->code, f->width, f->record[FIELD_WIDTH]);
        f->code_high = pad_code(f->code_high, f->width, f->record[FIELD_WIDTH]);
    }
}

/* 1 when the characters at these positions can spell the code. */
static int sets_spell(const uint64_t sets[MAX_POSITIONS], uint32_t positions, uint64_t code)
{
    for (; positions != 0; code >>= CODE_BITS) {
        unsigned p = plwi_highest_bit(positions);
        unsigned value = (unsigned)(code & 63);
        if (value == 0 || !(sets[p] >> (value - 1) & 1))
            return 0;
        positions ^= UINT32_C(1) << p;
    }
    return code == 0;
}

int plwi_can_read(image_t image, const plwi_reading *reading, uint32_t positions, uint32_t code,
                  uint32_t count)
{
    for (uint32_t i = code; i < code + count; i++)
        if (sets_spell(reading->sets, positions, plwi_code(image, i)))
            return 1;
    return 0;
}

int plwi_row_reads(image_t image, uint32_t row, const plwi_reading *reading, uint32_t positions)
{
    const unsigned char *record = plwi_row(image, row);
    return plwi_can_read(image, reading, positions, plwi_u32(record + ROW_CODE),
                         plwi_u16(record + ROW_CODE_COUNT));
}

/* ---- conditions -------------------------------------------------------- */

static const field_work *work_of(const solver *s, uint32_t field)
{
    for (uint32_t i = 0; i < s->field_count; i++)
        if (s->fields[i].field == field)
            return &s->fields[i];
    return NULL;
}

/* A condition on a running number lists pairs, low and high. */
static support run_support(const solver *s, const field_work *f, uint32_t first, uint32_t count)
{
    support answer = { no_years, no_years };
    for (uint32_t i = first; i + 1 < first + count; i += 2) {
        uint64_t low = plwi_code(s->image, i), high = plwi_code(s->image, i + 1);
        if (f->code_high >= low && f->code <= high)
            answer.may = all_years;
        if (f->code >= low && f->code_high <= high)
            answer.sure = all_years;
    }
    return answer;
}

/* 1 when the field reads one of these codes, which rise, or may. */
static int reads_one_of(const solver *s, const field_work *f, uint32_t first, uint32_t count)
{
    if (!f->exact)
        return plwi_can_read(s->image, &s->draft, f->positions, first, count);
    while (count > 0) {
        uint32_t middle = first + count / 2;
        uint64_t code = plwi_code(s->image, middle);
        if (code == f->code)
            return 1;
        if (code < f->code) {
            count -= middle + 1 - first;
            first = middle + 1;
        } else {
            count = middle - first;
        }
    }
    return 0;
}

static support field_support(const solver *s, const unsigned char *condition)
{
    support answer = { no_years, no_years };
    const field_work *f = work_of(s, plwi_u16(condition + CONDITION_REF));
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    uint32_t count = plwi_u16(condition + CONDITION_VALUE_COUNT);
    if (f != NULL && f->kind == KIND_RUN)
        return run_support(s, f, first, count);
    if (f == NULL || reads_one_of(s, f, first, count))
        answer.may = all_years;
    if (f != NULL && f->exact)
        answer.sure = answer.may;
    return answer;
}

static int value_among(const solver *s, const unsigned char *condition, uint32_t value)
{
    uint32_t first = plwi_u32(condition + CONDITION_VALUE);
    uint32_t count = plwi_u16(condition + CONDITION_VALUE_COUNT);
    for (uint32_t i = 0; i < count; i++)
        if (plwi_value(s->image, first + i) == value)
            return 1;
    return 0;
}

/* 1: states one of the values; -1: states another; 0: does not state it. */
static int stated(const solver *s, const unsigned char *condition, uint32_t first, uint32_t count)
{
    uint32_t attribute = plwi_u16(condition + CONDITION_REF);
    int answer = 0;
    for (uint32_t i = first; i < first + count; i++) {
        const unsigned char *fact = s->facts + (size_t)i * FACT_SIZE;
        if (plwi_u16(fact + FACT_ATTRIBUTE) != attribute)
            continue;
        if (value_among(s, condition, plwi_u32(fact + FACT_VALUE)))
            return 1;
        answer = -1;
    }
    return answer;
}

/* Years in which all rows of one field agree that the condition holds (yes) or
 * does not (no). */
static void ask_provider(const solver *s, const unsigned char *condition, const field_work *f,
                         plwi_years *yes, plwi_years *no)
{
    plwi_years answers[3] = { no_years, plwi_years_without(all_years, f->firm), no_years };
    for (uint32_t i = f->first; i < f->first + f->count; i++) {
        const plwi_candidate *c = &s->result->candidates[i];
        const unsigned char *row = row_at(s, c->row);
        int answer = stated(s, condition, plwi_u32(row + ROW_FACT), row[ROW_FACT_COUNT]);
        answers[answer + 1] = plwi_years_or(answers[answer + 1], c->holds);
    }
    *yes = plwi_years_without(answers[2], plwi_years_or(answers[0], answers[1]));
    *no = plwi_years_without(answers[0], plwi_years_or(answers[1], answers[2]));
}

static support attribute_support(const solver *s, const unsigned char *condition,
                                 const field_work *self)
{
    uint64_t attribute = UINT64_C(1) << plwi_u16(condition + CONDITION_REF);
    plwi_years yes = no_years, no = no_years;
    int scheme = stated(s, condition, plwi_u32(s->scheme + SCHEME_FACT),
                        plwi_u32(s->scheme + SCHEME_FACT_COUNT));
    if (scheme != 0)
        *(scheme > 0 ? &yes : &no) = all_years;
    for (uint32_t i = 0; i < s->field_count; i++) {
        const field_work *f = &s->fields[i];
        plwi_years field_yes, field_no;
        if (f == self || !(plwi_u64(f->record + FIELD_PROVIDES) & attribute))
            continue;
        ask_provider(s, condition, f, &field_yes, &field_no);
        yes = plwi_years_or(yes, field_yes);
        no = plwi_years_or(no, field_no);
    }
    support answer = { plwi_years_without(all_years, plwi_years_without(no, yes)), yes };
    return answer;
}

static support check_support(const solver *s, const unsigned char *condition)
{
    support answer = { no_years, no_years };
    if (s->draft.check == PLW_CHECK_FITS || s->draft.check == PLW_CHECK_FAILS) {
        uint32_t state = s->draft.check == PLW_CHECK_FITS ? CHECK_FITS : CHECK_FAILS;
        if (value_among(s, condition, state))
            answer.may = answer.sure = all_years;
    } else if (s->draft.check == PLW_CHECK_OPEN) {
        answer.may = all_years;
    }
    return answer;
}

static support list_support(const solver *s, uint32_t first, uint32_t count,
                            const field_work *self)
{
    support all = { s->base, s->base };
    for (uint32_t i = first; i < first + count && !plwi_years_empty(all.may); i++) {
        const unsigned char *condition = plwi_condition(s->image, i);
        support one = condition[CONDITION_KIND] == CONDITION_FIELD ? field_support(s, condition)
                      : condition[CONDITION_KIND] == CONDITION_ATTRIBUTE
                          ? attribute_support(s, condition, self)
                          : check_support(s, condition);
        all.may = plwi_years_and(all.may, one.may);
        all.sure = plwi_years_and(all.sure, one.sure);
    }
    return all;
}

static support remembered_support(solver *s, uint32_t first, uint8_t length,
                                  const field_work *self)
{
    memory *m = &s->memory;
    if (m->field != self) {
        m->field = self;
        m->count = 0;
    }
    for (uint32_t i = 0; i < m->count && i < MEMORY_SIZE; i++)
        if (m->list[i] == first && m->length[i] == length) /* GCOVR_EXCL_BR_LINE: no part of one */
            return m->answer[i];
    support answer = list_support(s, first, length, self);
    uint32_t at = m->count++ % MEMORY_SIZE;
    m->list[at] = first;
    m->length[at] = length;
    m->answer[at] = answer;
    return answer;
}

/* The conditions of a row or rule together. */
static inline support row_support(solver *s, const unsigned char *row, const field_work *self)
{
    static const support always = { { UINT64_MAX, UINT64_MAX }, { UINT64_MAX, UINT64_MAX } };
    if (row[ROW_CONDITION_COUNT] == 0)
        return always;
    return remembered_support(s, plwi_u16(row + ROW_CONDITION), row[ROW_CONDITION_COUNT], self);
}

/* ---- candidates: the rows that may say what a code means ---------------- */

/* How far a row stands above general ones: by the number of its conditions,
 * unless the table says that it holds beside them. */
static uint8_t rank_of(const unsigned char *row)
{
    return row[ROW_MARKS] & MARK_ALSO ? 0 : row[ROW_CONDITION_COUNT];
}

/* The years in which a row may hold, and in which its conditions surely do. */
EACH_ROW support row_years(solver *s, field_work *f, const unsigned char *row)
{
    support when = { plwi_years_and(s->base, years_of(s, row)), all_years };
    if (row[ROW_CONDITION_COUNT] == 0 || plwi_years_empty(when.may))
        return when;
    f->ranked = 1;
    support conditions = row_support(s, row, f);
    when.may = plwi_years_and(when.may, conditions.may);
    when.sure = conditions.sure;
    return when;
}

EACH_ROW void keep_row(solver *s, field_work *f, uint32_t index, const unsigned char *row,
                       support when, int8_t outside)
{
    if (s->candidate_count == MAX_CANDIDATES) {
        f->overflow = 1;
        return;
    }
    plwi_candidate *c = &s->result->candidates[s->candidate_count++];
    c->holds = when.may;
    c->sure = when.sure;
    c->row = index;
    c->outside = outside;
    c->rank = rank_of(row);
    c->standing = row[ROW_STANDING];
    c->marks = row[ROW_MARKS];
}

/* A row that holds the code. */
EACH_ROW void add_candidate(solver *s, field_work *f, uint32_t index)
{
    const unsigned char *row = row_at(s, index);
    support when = row_years(s, f, row);
    if (plwi_years_empty(when.may)) {
        f->conditional = 1;
        return;
    }
    keep_row(s, f, index, row, when, 0);
    f->count++;
    f->known += !plwi_years_empty(plwi_years_and(when.may, when.sure));
    f->held = plwi_years_or(f->held, when.may);
    f->agreed = plwi_years_and(f->agreed, when.sure);
}

/* A row of a running number that lies beside it. */
static void add_beside(solver *s, field_work *f, uint32_t index, int8_t outside)
{
    const unsigned char *row = row_at(s, index);
    support when = row_years(s, f, row);
    if (plwi_years_empty(when.may))
        return;
    keep_row(s, f, index, row, when, outside);
    f->beside++;
}

const unsigned char *plwi_find_group(image_t image, uint32_t field, uint64_t code)
{
    uint32_t slots = plwi_count(image, SECTION_GROUPS);
    if (slots == 0) /* GCOVR_EXCL_BR_LINE: the compiler wants rows for a field of codes */
        return NULL;
    uint32_t slot = (uint32_t)(((uint64_t)group_hash(field, code) * slots) >> 32);
    for (;; slot = slot + 1 == slots ? 0 : slot + 1) {
        const unsigned char *group = plwi_record(image, SECTION_GROUPS, 16, slot);
        if (plwi_u16(group + GROUP_COUNT) == 0)
            return NULL;
        if (plwi_u64(group + GROUP_CODE) == code && plwi_u16(group + GROUP_FIELD) == field)
            return group;
    }
}

static void collect_exact(solver *s, field_work *f)
{
    const unsigned char *group = plwi_find_group(s->image, f->field, f->code);
    if (group == NULL)
        return;
    const unsigned char *member =
        plwi_record(s->image, SECTION_MEMBERS, 2, plwi_u32(group + GROUP_MEMBER));
    const unsigned char *end = member + 2 * (size_t)plwi_u16(group + GROUP_COUNT);
    uint32_t first = plwi_u32(f->record + FIELD_ROW);
    for (; member < end; member += 2)
        add_candidate(s, f, first + plwi_u16(member));
}

#define MAX_SPELLINGS 64 /* of a partly unreadable code; more are not looked up */

/* The next code the field's characters can spell, counting like an odometer;
 * 0 after the last. */
static int next_spelling(const solver *s, const field_work *f, uint64_t *code)
{
    for (unsigned i = f->width, shift = 0; i-- > 0; shift += CODE_BITS) {
        uint64_t set = s->draft.sets[f->places[i]];
        uint64_t value = *code >> shift & 63;
        uint64_t rest = set >> value << value;
        *code &= ~(UINT64_C(63) << shift);
        if (rest) {
            *code |= (uint64_t)(plwi_lowest_bit(rest) + 1) << shift;
            return 1;
        }
        *code |= (uint64_t)(plwi_lowest_bit(set) + 1) << shift;
    }
    return 0;
}

/* 1 when every code that the characters can spell is in the tables. Only then
 * does an unreadable character rule out a year: else it could be a code that
 * nobody has listed. */
static int all_spellings_known(const solver *s, const field_work *f)
{
    uint64_t code = f->code;
    unsigned count = 0;
    do {
        if (++count > MAX_SPELLINGS || plwi_find_group(s->image, f->field, code) == NULL)
            return 0;
    } while (next_spelling(s, f, &code));
    return 1;
}

/* Rows whose code the readable characters allow. */
static void collect_pattern(solver *s, field_work *f)
{
    uint32_t first = plwi_u32(f->record + FIELD_ROW);
    uint32_t count = plwi_u32(f->record + FIELD_ROW_COUNT);
    for (uint32_t i = first; i < first + count; i++)
        if (plwi_row_reads(s->image, i, &s->draft, f->positions))
            add_candidate(s, f, i);
    f->complete = (uint8_t)all_spellings_known(s, f);
}

/* 0 inside the row's ranges, -1 below all of them, 1 above the nearest one. A
 * range that holds all the number can be makes the field complete. */
static int8_t run_side(const solver *s, field_work *f, const unsigned char *row)
{
    int8_t side = -1;
    uint32_t first = plwi_u32(row + ROW_CODE);
    for (uint32_t i = first; i < first + plwi_u16(row + ROW_CODE_COUNT); i += 2) {
        uint64_t low = plwi_code(s->image, i), high = plwi_code(s->image, i + 1);
        if (f->code >= low && f->code_high <= high)
            f->complete = 1;
        if (f->code_high >= low && f->code <= high)
            return 0;
        if (f->code > high)
            side = 1;
    }
    return side;
}

/* All rows of a running number; behind those that hold it the others, which
 * tell whether it lies below a known start. */
static void collect_run(solver *s, field_work *f)
{
    uint32_t first = plwi_u32(f->record + FIELD_ROW);
    uint32_t end = first + plwi_u32(f->record + FIELD_ROW_COUNT);
    for (uint32_t i = first; i < end; i++)
        if (run_side(s, f, row_at(s, i)) == 0)
            add_candidate(s, f, i);
    for (uint32_t i = first; i < end; i++) {
        int8_t side = run_side(s, f, row_at(s, i));
        if (side != 0)
            add_beside(s, f, i, side);
    }
}

/* A row whose conditions surely hold hides rows of lower rank. */
static void hide_general_rows(solver *s, field_work *f)
{
    plwi_candidate *c = s->result->candidates + f->first;
    for (uint32_t i = 0; i < f->count; i++) {
        plwi_years sure = plwi_years_and(c[i].holds, c[i].sure);
        if (c[i].rank == 0 || plwi_years_empty(sure))
            continue;
        for (uint32_t k = 0; k < f->count + f->beside; k++)
            if (c[k].rank < c[i].rank)
                c[k].holds = plwi_years_without(c[k].holds, sure);
    }
}

/* 1 when the characters surely spell codes that the tables know: for a readable
 * code one row must surely hold in some year; where characters are unreadable,
 * all rows must, and there must be no code but those of the rows. */
static int is_known(const field_work *f)
{
    if (f->exact)
        return f->known > 0;
    return f->complete && !f->conditional && f->known > 0 && f->known == f->count;
}

/* Which of the years asked for the field's rows surely speak of, whatever the
 * code. */
static plwi_years covered_years(solver *s, const field_work *f, plwi_years asked)
{
    plwi_years open = asked;
    uint32_t first = plwi_u32(f->record + FIELD_COVER);
    uint32_t end = first + plwi_u16(f->record + FIELD_COVER_COUNT);
    for (uint32_t i = first; i < end && !plwi_years_empty(open); i++) {
        const unsigned char *cover = plwi_record(s->image, SECTION_COVERS, 8, i);
        plwi_years years = plwi_year_set(s->image, plwi_u32(cover + COVER_YEARS));
        if (plwi_years_empty(plwi_years_and(years, open)))
            continue;
        const unsigned char *row = row_at(s, plwi_u32(cover + COVER_ROW));
        open = plwi_years_without(open, plwi_years_and(years, row_support(s, row, f).sure));
    }
    return plwi_years_without(asked, open);
}

/* A year is ruled out when the tables surely know the code, surely speak of
 * that year, and do not have the code in it. Whatever is open leaves it in. */
static plwi_years allowed_years(solver *s, const field_work *f)
{
    plwi_years out = plwi_years_without(s->base, f->held);
    if (plwi_years_empty(out) || !is_known(f))
        return s->base;
    return plwi_years_without(s->base, covered_years(s, f, out));
}

/* Years in which the rows are all that the characters can mean. */
static plwi_years firm_years(const field_work *f)
{
    if (f->exact)
        return all_years;
    return f->complete && !f->conditional ? f->agreed : no_years;
}

static void solve_field(solver *s, field_work *f)
{
    if (f->kind == KIND_FREE || f->kind == KIND_CHECK)
        return;
    if (f->kind == KIND_RUN)
        collect_run(s, f);
    else if (f->exact)
        collect_exact(s, f);
    else
        collect_pattern(s, f);
    if (f->overflow) {
        s->candidate_count = f->first;
        f->count = f->beside = 0;
        s->result->capped = 1;
        return; /* says nothing */
    }
    f->firm = firm_years(f);
    if (f->kind != KIND_DETAIL)
        f->years = allowed_years(s, f);
    if (f->exact && f->ranked)
        hide_general_rows(s, f);
}

static int narrows(const solver *s, const field_work *f)
{
    return !plwi_years_equal(f->years, s->base);
}

/* ---- readings ----------------------------------------------------------- */

/* Rows that say the same in the same words. */
static int say_the_same(const unsigned char *a, const unsigned char *b)
{
    return plwi_u32(a + ROW_WORDS) == plwi_u32(b + ROW_WORDS) &&
           plwi_u32(a + ROW_FACT) == plwi_u32(b + ROW_FACT) &&
           a[ROW_FACT_COUNT] == b[ROW_FACT_COUNT];
}

/* 1 when another row of the field, one that holds in the year, says what this one says. */
static int is_said_in(const solver *s, const field_work *f, uint32_t row, int year)
{
    for (uint32_t i = f->first; i < f->first + f->count; i++) {
        const plwi_candidate *c = &s->result->candidates[i];
        if (plwi_years_has(c->holds, year) && say_the_same(row_at(s, c->row), row_at(s, row)))
            return 1;
    }
    return 0;
}

/* Two years belong to one reading when every field that can be read in full
 * means the same in both. Fields with unreadable characters, and details, may
 * differ: the reading then lists what they can be. */
static int same_meaning(const solver *s, int a, int b)
{
    for (uint32_t i = 0; i < s->field_count; i++) {
        const field_work *f = &s->fields[i];
        if (!f->exact || only_adds(f->kind))
            continue;
        for (uint32_t k = f->first; k < f->first + f->count; k++) {
            const plwi_candidate *c = &s->result->candidates[k];
            int in_a = plwi_years_has(c->holds, a), in_b = plwi_years_has(c->holds, b);
            if (in_a != in_b && !is_said_in(s, f, c->row, in_a ? b : a))
                return 0;
        }
    }
    return 1;
}

/* Takes all years that mean the same as the first out of years. */
static plwi_years take_group(const solver *s, plwi_years *years)
{
    int first = plwi_years_next(*years, FIRST_YEAR - 1);
    plwi_years group = plwi_years_one(first);
    for (int year = plwi_years_next(*years, first); year; year = plwi_years_next(*years, year))
        if (same_meaning(s, first, year))
            group = plwi_years_or(group, plwi_years_one(year));
    *years = plwi_years_without(*years, group);
    return group;
}

static void list_rows(const solver *s, const field_work *f, plwi_years years, plwi_slot *slot)
{
    plw_result *result = s->result;
    uint32_t count = result->row_count;
    uint8_t standing = STANDING_COUNT, any = 0, all = MARK_ALL;
    slot->row = (uint16_t)count;
    slot->cut = 0;
    const plwi_candidate *c = &result->candidates[f->first];
    for (const plwi_candidate *end = c + f->count; c < end; c++) {
        if (plwi_years_empty(plwi_years_and(c->holds, years)))
            continue;
        if (count == MAX_ROWS) {
            result->capped = slot->cut = 1;
            break;
        }
        standing = c->standing < standing ? c->standing : standing;
        any |= c->marks;
        all &= c->marks;
        result->rows[count++] = c->row;
    }
    slot->standing = standing;
    slot->any_marks = any;
    slot->all_marks = count > slot->row ? all : 0;
    slot->row_count = (uint16_t)(count - slot->row);
    result->row_count = count;
}

static uint64_t run_edge(const solver *s, const plwi_candidate *c)
{
    const unsigned char *row = row_at(s, c->row);
    uint32_t last = plwi_u16(row + ROW_CODE_COUNT) - 1u;
    return plwi_code(s->image, plwi_u32(row + ROW_CODE) + (c->outside > 0 ? last : 0));
}

/* Of two ranges on the same side of the number, the nearer one. */
static const plwi_candidate *nearer(const solver *s, const plwi_candidate *a,
                                    const plwi_candidate *b)
{
    if (a == NULL)
        return b;
    int b_is_nearer = a->outside > 0 ? run_edge(s, b) > run_edge(s, a)
                                     : run_edge(s, b) < run_edge(s, a);
    return b_is_nearer ? b : a;
}

/* The highest rank among the run rows that surely apply in these years. */
static int run_rank(const solver *s, const field_work *f, plwi_years years)
{
    int highest = 0;
    for (uint32_t i = f->first; i < f->first + f->count + f->beside; i++) {
        const plwi_candidate *c = &s->result->candidates[i];
        if (c->rank > highest &&
            !plwi_years_empty(plwi_years_and(plwi_years_and(c->holds, c->sure), years)))
            highest = c->rank;
    }
    return highest;
}

/* 1 when the number is held by a row of this rank, or by one that holds beside
 * others. */
static int is_held(const solver *s, const field_work *f, plwi_years years, int rank)
{
    for (uint32_t i = f->first; i < f->first + f->count; i++) {
        const plwi_candidate *c = &s->result->candidates[i];
        if (!plwi_years_empty(plwi_years_and(c->holds, years)) &&
            (c->rank >= rank || c->marks & MARK_ALSO))
            return 1;
    }
    return 0;
}

/* The rows of the highest rank say where the numbers run. One that they do not
 * hold is remarked: with the known end below it or, where there is none, the
 * known start above it. */
static void judge_run(const solver *s, const field_work *f, plwi_years years, plwi_slot *slot)
{
    const plwi_candidate *below = NULL, *above = NULL;
    int rank = run_rank(s, f, years);
    if (is_held(s, f, years, rank))
        return;
    for (uint32_t i = f->first + f->count; i < f->first + f->count + f->beside; i++) {
        const plwi_candidate *c = &s->result->candidates[i];
        if (c->rank < rank || c->marks & MARK_ALSO ||
            plwi_years_empty(plwi_years_and(plwi_years_and(c->holds, c->sure), years)))
            continue;
        if (c->outside < 0)
            below = nearer(s, below, c);
        else
            above = nearer(s, above, c);
    }
    if (above || below) {
        slot->rule = above ? RULE_ABOVE : RULE_BELOW;
        slot->rule_row = (above ? above : below)->row;
    }
}

/* The first rule of the field that surely holds in every one of the years. */
static uint32_t rule_for(solver *s, const field_work *f, plwi_years years)
{
    uint32_t first = plwi_u32(f->record + FIELD_ROW) + plwi_u32(f->record + FIELD_ROW_COUNT);
    uint32_t count = plwi_u32(f->record + FIELD_RULE_COUNT);
    for (uint32_t i = first; i < first + count; i++) {
        const unsigned char *row = row_at(s, i);
        plwi_years sure = plwi_years_and(
            row_support(s, row, f).sure, years_of(s, row));
        if (!plwi_years_empty(years) && plwi_years_empty(plwi_years_without(years, sure)))
            return i;
    }
    return PLW_NONE;
}

static void judge_rules(solver *s, const field_work *f, plwi_years years, plwi_slot *slot)
{
    if (f->kind != KIND_CHECK && (slot->row_count > 0 || !f->exact))
        return;
    uint32_t rule = rule_for(s, f, years);
    if (rule == PLW_NONE)
        return;
    slot->rule = f->kind == KIND_CHECK ? RULE_REQUIRED : RULE_NOT_BUILT;
    slot->rule_row = rule;
}

static uint8_t slot_state(const field_work *f, const plwi_slot *slot)
{
    if (f->kind == KIND_CHECK)
        return PLW_FIELD_CHECK;
    if (f->kind == KIND_FREE || f->overflow)
        return f->exact ? PLW_FIELD_PLAIN : PLW_FIELD_UNREADABLE;
    if (slot->row_count == 0 && slot->cut)
        return PLW_FIELD_UNREADABLE;
    if (slot->row_count == 0)
        return f->kind == KIND_CODE || f->kind == KIND_RUN ? PLW_FIELD_UNKNOWN : PLW_FIELD_PLAIN;
    return f->exact ? PLW_FIELD_KNOWN : PLW_FIELD_UNREADABLE;
}

static void fill_slot(solver *s, const field_work *f, plwi_years years, plwi_slot *slot)
{
    slot->span = f->span;
    slot->rule = RULE_NONE;
    slot->rule_row = PLW_NONE;
    slot->overlay = f->overlay;
    slot->narrows = (uint8_t)narrows(s, f);
    slot->years = f->years;
    list_rows(s, f, plwi_years_empty(years) ? all_years : years, slot);
    slot->conditional = (uint8_t)(f->conditional && slot->row_count == 0);
    if (f->kind == KIND_RUN)
        judge_run(s, f, plwi_years_empty(years) ? all_years : years, slot);
    else
        judge_rules(s, f, years, slot);
    slot->state = slot_state(f, slot);
}

/* Readers go through a number from left to right; details come behind the
 * field they explain. */
static void order_fields(const solver *s, uint8_t order[MAX_SPANS])
{
    uint8_t first[2 * MAX_POSITIONS], next[MAX_SPANS]; /* lists, one for each rank */
    uint64_t ranks = 0;
    for (uint32_t i = s->field_count; i-- > 0;) {
        unsigned rank = 2 * plwi_lowest_bit(s->fields[i].positions) + s->fields[i].overlay;
        next[i] = ranks >> rank & 1 ? first[rank] : MAX_SPANS;
        first[rank] = (uint8_t)i;
        ranks |= UINT64_C(1) << rank;
    }
    for (; ranks != 0; ranks &= ranks - 1)
        for (uint8_t i = first[plwi_lowest_bit(ranks)]; i < MAX_SPANS; i = next[i])
            *order++ = i;
}

/* An overlay without rows and without a broken rule has nothing to say. */
static int worth_listing(const plwi_slot *slot)
{
    return !slot->overlay || slot->row_count > 0 || slot->rule != RULE_NONE;
}

static void add_reading(solver *s, plwi_years years, const uint8_t order[MAX_SPANS],
                        const plwi_hints *hints)
{
    plw_result *result = s->result;
    if (result->reading_count == PLW_MAX_READINGS ||
        result->slot_count + s->field_count > MAX_SLOTS) {
        result->capped = 1;
        return;
    }
    plwi_reading *reading = &result->readings[result->reading_count];
    *reading = s->draft;
    reading->years = years;
    reading->slot = (uint16_t)result->slot_count;
    reading->slot_count = 0;
    for (uint32_t i = 0; i < s->field_count; i++) {
        plwi_slot *slot = &result->slots[result->slot_count];
        /* order_fields filled that many places.
         * NOLINTNEXTLINE(clang-analyzer-core.uninitialized.ArraySubscript) */
        const field_work *f = &s->fields[order[i]];
        fill_slot(s, f, years, slot);
        if (!worth_listing(slot))
            continue;
        result->slot_count++;
        reading->slot_count++;
    }
    reading->score = plwi_score(result, reading, hints);
    result->reading_count++;
}

static void prepare_check(solver *s)
{
    uint32_t check = plwi_u32(s->scheme + SCHEME_CHECK);
    s->draft.check = PLW_CHECK_NONE;
    s->draft.expected = 0;
    if (check == NO_CHECK)
        return;
    const unsigned char *record = plwi_record(s->image, SECTION_CHECKS, 112, check);
    if (record[CHECK_LENGTH] != s->layout[LAYOUT_LENGTH])
        return;
    for (uint32_t i = 0; i < s->field_count; i++)
        if (s->fields[i].field == plwi_u16(record + CHECK_FIELD))
            s->draft.check = (uint8_t)plwi_check(record, s->draft.sets,
                                                 plwi_lowest_bit(s->fields[i].positions),
                                                 &s->draft.expected);
}

/* A detail is an overlay where other fields cover all its positions. */
static void find_overlays(solver *s)
{
    for (uint32_t i = 0; i < s->field_count; i++) {
        field_work *f = &s->fields[i];
        f->overlay = only_adds(f->kind) && (f->positions & ~s->covered) == 0;
    }
}

static void start(solver *s, plw_result *result, uint32_t layout)
{
    s->result = result;
    s->image = plwi_image(result->tables);
    s->rows = plwi_section(s->image, SECTION_ROWS);
    s->year_sets = plwi_section(s->image, SECTION_YEARS);
    s->facts = plwi_section(s->image, SECTION_FACTS);
    s->layout = plwi_layout(s->image, layout);
    s->scheme = plwi_scheme(s->image, plwi_u16(s->layout + LAYOUT_SCHEME));
    s->base = plwi_years_and(plwi_year_set(s->image, plwi_u32(s->scheme + SCHEME_YEARS)),
                             plwi_year_set(s->image, plwi_u32(s->layout + LAYOUT_YEARS)));
    s->candidate_count = 0;
    s->memory.field = NULL;
    s->field_count = s->layout[LAYOUT_SPAN_COUNT];
    s->draft.layout = layout;
    s->draft.grade = PLW_GRADE_CLEAR;
    take_characters(s);
    s->covered = 0;
    for (uint32_t i = 0; i < s->field_count; i++)
        open_field(s, plwi_u32(s->layout + LAYOUT_SPAN) + i, &s->fields[i]);
    find_overlays(s);
    prepare_check(s);
}

void plwi_solve(plw_result *result, uint32_t layout, const plwi_hints *hints)
{
    solver s;
    uint8_t order[MAX_SPANS];
    start(&s, result, layout);
    plwi_years years = s.base;
    for (uint32_t i = 0; i < s.field_count; i++) {
        field_work *f = &s.fields[i];
        f->first = s.candidate_count;
        solve_field(&s, f);
        years = plwi_years_and(years, f->years);
    }
    order_fields(&s, order);
    if (plwi_years_empty(years))
        add_reading(&s, years, order, hints);
    while (!plwi_years_empty(years))
        add_reading(&s, take_group(&s, &years), order, hints);
}
