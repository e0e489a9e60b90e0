/* SPDX-License-Identifier: MIT
 *
 * The verb suggest: where a number does not hold, the nearest numbers that
 * would. Each candidate is the number with one or two characters changed, and
 * is decoded and validated like any other; nothing here knows what makes a
 * number good. The candidates use the result as their workspace, and at the end
 * it is filled again with the number itself.
 */
#include <string.h>

#include "internal.h"

#define MAX_TRIES 1200 /* candidates looked at in one stage; one change never needs more */

/* What speaks against a number. */
typedef struct troubles {
    uint16_t faults;
    uint16_t doubts;
    uint16_t misreads;  /* those of the doubts that are about misread characters */
    uint32_t positions; /* of those that a change of characters may cure */
    int curable;
    int check_wrong;
} troubles;

typedef struct finder {
    plw_result *result;
    const plw_tables *tables;
    image_t image;
    const plwi_hints *hints;
    plwi_number typed;
    plwi_number number; /* misread characters replaced */
    uint64_t class[MAX_POSITIONS];
    int32_t grade;
    int32_t check; /* PLW_CHECK_ of the number */
    troubles before;
    uint32_t tries;   /* of this stage */
    uint32_t fitting; /* those of them whose check character fits */
    plwi_suggestions list;
} finder;

/* ---- what speaks against a number ----------------------------------------- */

/* What changes of a character may cure: not a running number, of which every
 * change makes another, nor what decode has already read as something else. */
static int is_curable(int code)
{
    return code != PLW_FINDING_MISREAD && code != PLW_FINDING_SEQUENCE_LOW &&
           code != PLW_FINDING_SEQUENCE_HIGH;
}

static troubles troubles_of(const plw_result *result)
{
    troubles t = { 0, 0, 0, 0, 0, 0 };
    for (uint32_t i = 0; i < result->finding_count; i++) {
        const plwi_finding *f = &result->findings[i];
        if (f->grade < PLW_GRADE_DOUBT || (f->reading != NO_READING && f->reading != 0))
            continue;
        if (f->grade == PLW_GRADE_FAULT)
            t.faults++;
        else
            t.doubts++;
        t.misreads = (uint16_t)(t.misreads + (f->code == PLW_FINDING_MISREAD));
        if (f->code == PLW_FINDING_CHECK_WRONG)
            t.check_wrong = 1;
        if (is_curable(f->code)) {
            t.curable = 1;
            t.positions |= f->positions;
        }
    }
    return t;
}

/* ---- the list --------------------------------------------------------------- */

/* Those that leave the fewest doubts first, and among them in the order in which
 * they were tried, which is that of the misread pairs. */
static void keep(plwi_suggestions *list, const plwi_suggestion *s)
{
    uint32_t at = list->count;
    list->found++;
    while (at > 0 && s->doubts < list->item[at - 1].doubts)
        at--;
    if (at == PLW_MAX_SUGGESTIONS)
        return;
    uint32_t behind = list->count - at - (list->count == PLW_MAX_SUGGESTIONS);
    memmove(&list->item[at + 1], &list->item[at], behind * sizeof *list->item);
    list->item[at] = *s;
    list->count = (uint8_t)(list->count + (list->count < PLW_MAX_SUGGESTIONS));
}

/* ---- one candidate ---------------------------------------------------------- */

static void set_character(plwi_number *number, uint32_t position, unsigned character)
{
    plwi_cell *cell = &number->cell[position];
    cell->set = UINT64_C(1) << character;
    cell->shown = (unsigned char)plwi_character(character);
}

/* A candidate is offered when it has a better grade than the number, and so no
 * fault, fewer troubles, and no check character that is wrong. */
static void try_candidate(finder *f, plwi_suggestion *s)
{
    plwi_number number = f->number;
    if (f->tries++ >= MAX_TRIES)
        return;
    for (uint32_t i = 0; i < s->change_count; i++)
        set_character(&number, s->position[i], s->meant[i]);
    plwi_decode_number(f->tables, &number, f->hints, f->result);
    plwi_validate(f->result);
    troubles left = troubles_of(f->result);
    if (f->result->reading_count == 0 || f->result->grade >= f->grade ||
        left.faults + left.doubts >= f->before.faults + f->before.doubts)
        return;
    s->check = f->result->readings[0].check;
    if (s->check == PLW_CHECK_FAILS || (s->check == PLW_CHECK_NONE && f->check != PLW_CHECK_NONE))
        return;
    f->fitting += s->check == PLW_CHECK_FITS;
    s->grade = (uint8_t)f->result->grade;
    s->doubts = left.doubts;
    keep(&f->list, s);
}

static void set_change(plwi_suggestion *s, uint32_t index, uint32_t position, unsigned meant,
                       uint16_t pair)
{
    s->change_count = (uint8_t)(index + 1);
    s->position[index] = (uint8_t)position;
    s->meant[index] = (uint8_t)meant;
    s->pair[index] = pair;
}

/* ---- the stages --------------------------------------------------------------- */

static const unsigned char *pair_at(image_t image, uint32_t pair)
{
    return plwi_record(image, SECTION_MISREADS, 16, pair);
}

static int is_typed(const finder *f, uint32_t position, unsigned character)
{
    return f->typed.cell[position].set == UINT64_C(1) << character;
}

static void try_pairs(finder *f)
{
    plwi_suggestion s;
    uint32_t pairs = plwi_count(f->image, SECTION_MISREADS);
    for (uint32_t i = 0; i < pairs; i++) {
        const unsigned char *pair = pair_at(f->image, i);
        for (uint32_t p = 0; p < f->number.count; p++) {
            if (!is_typed(f, p, pair[MISREAD_TYPED]))
                continue;
            set_change(&s, 0, p, pair[MISREAD_MEANT], (uint16_t)i);
            try_candidate(f, &s);
        }
    }
}

static void try_any(finder *f)
{
    plwi_suggestion s;
    for (uint32_t p = 0; p < f->number.count; p++) {
        if (!(f->before.positions >> p & 1) || !plwi_is_single(f->number.cell[p].set))
            continue;
        for (unsigned c = 0; c < ALPHABET_SIZE; c++) {
            if (!(f->class[p] >> c & 1))
                continue;
            set_change(&s, 0, p, c, NO_PAIR);
            try_candidate(f, &s);
        }
    }
}

/* The second change of a candidate: a "read" pair at a later position. */
static void try_second(finder *f, plwi_suggestion *s)
{
    uint32_t pairs = plwi_count(f->image, SECTION_MISREADS);
    for (uint32_t i = 0; i < pairs; i++) {
        const unsigned char *pair = pair_at(f->image, i);
        if (pair[MISREAD_USE] != MISREAD_READ)
            continue;
        for (uint32_t p = s->position[0] + 1u; p < f->number.count; p++) {
            if (!is_typed(f, p, pair[MISREAD_TYPED]))
                continue;
            set_change(s, 1, p, pair[MISREAD_MEANT], (uint16_t)i);
            try_candidate(f, s);
        }
    }
}

static void try_two(finder *f)
{
    plwi_suggestion s;
    uint32_t pairs = plwi_count(f->image, SECTION_MISREADS);
    for (uint32_t i = 0; i < pairs; i++) {
        const unsigned char *pair = pair_at(f->image, i);
        if (pair[MISREAD_USE] != MISREAD_READ)
            continue;
        for (uint32_t p = 0; p < f->number.count; p++) {
            if (!is_typed(f, p, pair[MISREAD_TYPED]))
                continue;
            set_change(&s, 0, p, pair[MISREAD_MEANT], (uint16_t)i);
            try_second(f, &s);
        }
    }
}

static void withhold_fitting(plwi_suggestions *list)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < list->count; i++)
        if (list->item[i].check != PLW_CHECK_FITS)
            list->item[kept++] = list->item[i];
    list->count = (uint8_t)kept;
}

/* A check character that fits says something only when one change alone makes
 * it fit: where several do, or not all were tried, none of them is offered. */
static int run_stage(finder *f, void (*stage)(finder *))
{
    f->fitting = 0;
    f->tries = 0;
    stage(f);
    if (f->fitting > 1 || f->tries > MAX_TRIES)
        withhold_fitting(&f->list);
    return f->list.found > 0;
}

/* Any character, or two, would make a check character fit by chance: where it is
 * wrong, only the misread pairs are asked. */
static void run_stages(finder *f)
{
    if (run_stage(f, try_pairs) || f->before.check_wrong)
        return;
    if (run_stage(f, try_any))
        return;
    run_stage(f, try_two);
}

/* ---- the verb ------------------------------------------------------------------ */

/* Starts from the number as its best reading has it: nothing in it is misread. */
static void take_number(finder *f)
{
    const plwi_reading *reading = &f->result->readings[0];
    const unsigned char *layout = plwi_layout(f->image, reading->layout);
    for (uint32_t p = 0; p < f->number.count; p++) {
        f->class[p] = plwi_class(f->image, layout, p);
        if (reading->misread >> p & 1)
            set_character(&f->number, p, plwi_lowest_bit(reading->sets[p]));
    }
    f->before.doubts = (uint16_t)(f->before.doubts - f->before.misreads);
}

static void find(plw_result *result, const plwi_hints *hints)
{
    finder f;
    f.before = troubles_of(result);
    if (!f.before.curable || result->reading_count == 0)
        return;
    f.result = result;
    f.tables = result->tables;
    f.image = plwi_image(result->tables);
    f.hints = hints;
    f.typed = f.number = result->number;
    f.grade = result->grade;
    f.check = result->readings[0].check;
    f.list.asked = 1;
    f.list.count = 0;
    f.list.found = 0;
    take_number(&f);
    run_stages(&f);
    plwi_decode_number(f.tables, &f.typed, hints, result);
    plwi_validate(result);
    result->suggestions = f.list;
}

int32_t plw_suggest(const plw_tables *tables, const char *text, size_t length, const char *hints,
                    uint32_t flags, plw_result *result)
{
    plwi_hints read;
    int32_t status = plw_validate(tables, text, length, hints, flags, result);
    if (status != PLW_OK)
        return status;
    plwi_hints_read(hints, &read);
    find(result, &read);
    result->suggestions.asked = 1;
    return PLW_OK;
}

/* ---- what a host may ask ------------------------------------------------------- */

static const plwi_suggestion *suggestion_at(const plw_result *result, uint32_t index)
{
    return index < plw_suggestion_count(result) ? &result->suggestions.item[index] : NULL;
}

uint32_t plw_suggestion_count(const plw_result *result)
{
    return result ? result->suggestions.count : 0;
}

uint32_t plw_suggestion_left_out(const plw_result *result)
{
    return result ? (uint32_t)result->suggestions.found - result->suggestions.count : 0;
}

/* The change at a position (from 0), or change_count. */
static uint32_t change_at(const plwi_suggestion *s, uint32_t position)
{
    uint32_t i = 0;
    while (i < s->change_count && s->position[i] != position)
        i++;
    return i;
}

/* The character bit that a suggestion has at a position where it differs from
 * the number as typed, or ODD_CHARACTER. */
static unsigned meant_at(const plw_result *result, const plwi_suggestion *s, uint32_t position)
{
    const plwi_reading *reading = &result->readings[0];
    uint32_t change = change_at(s, position);
    if (change < s->change_count)
        return s->meant[change];
    return reading->misread >> position & 1 ? plwi_lowest_bit(reading->sets[position])
                                            : ODD_CHARACTER;
}

int32_t plw_suggestion_meant(const plw_result *result, uint32_t suggestion, uint32_t position)
{
    const plwi_suggestion *s = suggestion_at(result, suggestion);
    if (s == NULL || position == 0 || position > result->number.count)
        return 0;
    unsigned meant = meant_at(result, s, position - 1);
    return meant == ODD_CHARACTER ? 0 : (unsigned char)plwi_character(meant);
}

int32_t plw_suggestion_typed(const plw_result *result, uint32_t suggestion, uint32_t position)
{
    return plw_suggestion_meant(result, suggestion, position)
               ? (int32_t)result->number.cell[position - 1].shown
               : 0;
}

uint32_t plw_suggestion_positions(const plw_result *result, uint32_t suggestion)
{
    uint32_t positions = 0;
    for (uint32_t p = 0; p < MAX_POSITIONS; p++)
        if (plw_suggestion_meant(result, suggestion, p + 1))
            positions |= UINT32_C(1) << p;
    return positions;
}

static void put_number(plwi_writer *writer, const plw_result *result, const plwi_suggestion *s)
{
    for (uint32_t p = 0; p < result->number.count; p++) {
        unsigned meant = meant_at(result, s, p);
        if (meant == ODD_CHARACTER)
            plwi_put_typed(writer, &result->number.cell[p]);
        else
            plwi_put_char(writer, plwi_character(meant));
    }
}

int32_t plw_suggestion_number(const plw_result *result, uint32_t suggestion, char *buffer,
                              size_t capacity, size_t *needed)
{
    const plwi_suggestion *s = suggestion_at(result, suggestion);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (s == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    put_number(&writer, result, s);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_suggestion_standing(const plw_result *result, uint32_t suggestion)
{
    const plwi_suggestion *s = suggestion_at(result, suggestion);
    int32_t standing = s ? PLW_STANDING_PUBLISHED : PLW_STANDING_MEMORY;
    for (uint32_t i = 0; s && i < s->change_count; i++) {
        int32_t own = s->pair[i] == NO_PAIR
                          ? PLW_STANDING_MEMORY
                          : pair_at(plwi_image(result->tables), s->pair[i])[MISREAD_STANDING];
        if (own > standing)
            standing = own;
    }
    return standing;
}

int32_t plw_suggestion_grade(const plw_result *result, uint32_t suggestion)
{
    const plwi_suggestion *s = suggestion_at(result, suggestion);
    return s ? s->grade : PLW_GRADE_CLEAR;
}

/* "L for 1 in position 5 (one typed for the letter L; published)" */
static void put_change(plwi_writer *writer, const plw_result *result, const plwi_suggestion *s,
                       uint32_t position)
{
    image_t image = plwi_image(result->tables);
    uint32_t change = change_at(s, position);
    plwi_put_char(writer, plwi_character(meant_at(result, s, position)));
    plwi_put_text(writer, " for ");
    plwi_put_typed(writer, &result->number.cell[position]);
    plwi_put_text(writer, " in position ");
    plwi_put_number(writer, (int64_t)position + 1);
    if (change == s->change_count || s->pair[change] == NO_PAIR)
        return;
    const unsigned char *pair = pair_at(image, s->pair[change]);
    plwi_put_text(writer, " (");
    plwi_put_text(writer, plwi_text(image, plwi_u32(pair + MISREAD_WORDS)));
    plwi_put_text(writer, "; ");
    plwi_put_text(writer, plw_standing_name(pair[MISREAD_STANDING]));
    plwi_put_char(writer, ')');
}

int32_t plw_suggestion_sentence(const plw_result *result, uint32_t suggestion, char *buffer,
                                size_t capacity, size_t *needed)
{
    const plwi_suggestion *s = suggestion_at(result, suggestion);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    uint32_t positions = plw_suggestion_positions(result, suggestion);
    if (s == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    for (uint32_t any = 0; positions; positions &= positions - 1) {
        plwi_put_text(&writer, any++ ? " and " : "With ");
        put_change(&writer, result, s, plwi_lowest_bit(positions));
    }
    plwi_put_text(&writer, " it would be ");
    put_number(&writer, result, s);
    plwi_put_text(&writer, ", grade ");
    plwi_put_text(&writer, plw_grade_name(s->grade));
    plwi_put_text(&writer, s->check == PLW_CHECK_FITS
                               ? ". A guess; no other such change makes the check character fit."
                               : ". A guess.");
    return plwi_writer_end(&writer, needed);
}
