/* SPDX-License-Identifier: MIT
 *
 * The verb compare: the plates of a car against each other.
 *
 * Each layout of the tables is tried. On a layout a plate is a full number when
 * it has as many characters, or a stamp when a row of the scheme tells of one of
 * its length; either way its characters come to stand on positions of the full
 * number, as sets, and at every position the sets are intersected. The layouts
 * that take the most plates with the fewest contradictions stay. Both counts can
 * only get worse by a plate more and better by a '?' more: that is why another
 * plate never turns a difference into agreement.
 */
#include <string.h>

#include "car.h"
#include "explain.h"

/* One layout being tried. */
typedef struct trial {
    plwi_joined joined;
    plwi_alignment plates[PLW_MAX_PLATES];
} trial;

typedef struct search {
    plw_car *car;
    image_t image;
    plwi_hints hints;
    uint32_t stamp_count; /* of the scheme at hand */
    plwi_stamp stamps[MAX_STAMPS];
    trial trial;
    plwi_joined best; /* one of those that explain the plates best */
} search;

/* What is done with a layout that takes a plate, once all plates lie on it. */
typedef void tried(search *s);

/* ---- one plate on one layout ------------------------------------------------ */

/* Puts a character of the plate on a position. A character that cannot stand
 * there keeps what it shows, so that it differs from what others show. */
static void put_on(image_t image, const unsigned char *layout, const plwi_cell *cell,
                   uint32_t position, uint32_t character, plwi_alignment *a)
{
    uint32_t bit = UINT32_C(1) << position;
    uint8_t place;
    uint64_t set = plwi_take(image, cell->set, plwi_class(image, layout, position), &place);
    if (place == PLACE_MISFIT) {
        set = cell->set & ALL_CHARACTERS;
        a->strange |= bit;
    }
    a->strays += place == PLACE_MISREAD || place == PLACE_MISFIT;
    a->positions |= bit;
    if (set != 0 && cell->set != ALL_CHARACTERS)
        a->readable |= bit;
    a->sets[position] = set;
    a->cell[position] = (uint8_t)character;
}

/* One character may be strange; more are another kind of number. */
static int is_understood(const plwi_alignment *a)
{
    return (a->strange & (a->strange - 1)) == 0;
}

/* What lies by position is left as it is, and means nothing: most layouts take no
 * plate, and there are many. */
static void take_not(plwi_alignment *a)
{
    a->row = PLW_NONE;
    a->positions = a->readable = a->strange = a->strays = 0;
    a->taken = PLW_TAKEN_NOT;
}

static void take_as_full(const search *s, uint32_t layout, const plwi_number *number,
                         plwi_alignment *a)
{
    const unsigned char *record = plwi_layout(s->image, layout);
    take_not(a);
    if (number->count == 0 || number->count != record[LAYOUT_LENGTH])
        return;
    a->taken = PLW_TAKEN_FULL;
    for (uint32_t p = 0; p < number->count; p++)
        put_on(s->image, record, &number->cell[p], p, p, a);
    if (!is_understood(a))
        take_not(a);
}

static int is_of_place(const plwi_stamp *stamp, int32_t place)
{
    return (stamp->places >> (place - 1) & 1) != 0;
}

/* The stamp of the scheme that has as many characters: one of the place comes
 * before others. Only its length decides, so that a '?' more changes nothing. */
static const plwi_stamp *stamp_for(const search *s, uint32_t layout, const plwi_plate *plate,
                                   uint8_t positions[MAX_POSITIONS])
{
    const plwi_stamp *found = NULL;
    for (uint32_t i = 0; i < s->stamp_count; i++) {
        const plwi_stamp *stamp = &s->stamps[i];
        int here = is_of_place(stamp, plate->place);
        if (stamp->ruled_out || (found && !here) ||
            plwi_stamp_positions(s->image, layout, stamp, positions) != plate->number.count)
            continue;
        found = stamp;
        if (here)
            break;
    }
    if (found)
        plwi_stamp_positions(s->image, layout, found, positions);
    return found;
}

static void take_as_stamp(const search *s, uint32_t layout, const plwi_plate *plate,
                          plwi_alignment *a)
{
    uint8_t positions[MAX_POSITIONS];
    if (plate->number.count == 0 || plate->number.count > MAX_POSITIONS)
        return;
    const plwi_stamp *stamp = stamp_for(s, layout, plate, positions);
    if (stamp == NULL)
        return;
    a->taken = PLW_TAKEN_PARTIAL;
    a->row = stamp->row;
    for (uint32_t i = 0; i < plate->number.count; i++)
        put_on(s->image, plwi_layout(s->image, layout), &plate->number.cell[i], positions[i], i, a);
    if (!is_understood(a))
        take_not(a);
}

/* ---- what plates say together ----------------------------------------------- */

/* The characters that all plates readable at a position leave, and all that any
 * of them shows; *readers tells how many there are. */
static uint64_t meet(const plwi_alignment *const plates[], uint32_t count, uint32_t position,
                     uint64_t *any, uint32_t *readers)
{
    uint64_t all = ALL_CHARACTERS;
    *any = 0;
    *readers = 0;
    for (uint32_t i = 0; i < count; i++) {
        if (!(plates[i]->readable >> position & 1))
            continue;
        all &= plates[i]->sets[position];
        *any |= plates[i]->sets[position];
        (*readers)++;
    }
    return all;
}

static void fill_cell(plwi_cell *cell, uint64_t set)
{
    cell->set = set;
    cell->offset = cell->length = 0;
    if (plwi_is_single(set))
        cell->shown = (unsigned char)plwi_character(plwi_lowest_bit(set));
    else
        cell->shown = set == ALL_CHARACTERS ? '?' : SHOWN_ALTERNATIVES;
}

/* Joins the plates; returns how many positions contradict each other. */
static uint32_t join(search *s, uint32_t length, plwi_number *number)
{
    const plwi_alignment *plates[PLW_MAX_PLATES];
    uint32_t contradictions = 0;
    for (uint32_t i = 0; i < s->car->plate_count; i++)
        plates[i] = &s->trial.plates[i];
    number->count = length;
    for (uint32_t p = 0; p < length; p++) {
        uint64_t any;
        uint32_t readers;
        uint64_t set = meet(plates, s->car->plate_count, p, &any, &readers);
        contradictions += set == 0;
        fill_cell(&number->cell[p], set ? set : any);
    }
    return contradictions;
}

uint32_t plwi_contradictions(const plw_car *car)
{
    const plwi_alignment *plates[PLW_MAX_PLATES];
    uint32_t found = 0;
    for (uint32_t i = 0; i < car->plate_count; i++)
        plates[i] = &car->plates[i].alignment;
    for (uint32_t p = 0; p < MAX_POSITIONS; p++) {
        uint64_t any;
        uint32_t readers;
        if (meet(plates, car->plate_count, p, &any, &readers) == 0)
            found |= UINT32_C(1) << p;
    }
    return found;
}

/* ---- one layout ---------------------------------------------------------------- */

/* The readings of a number on one layout only, in the car's second result. */
static void solve(search *s, uint32_t layout, const plwi_number *number)
{
    plw_result *scratch = &s->car->scratch;
    plwi_clear(scratch, s->car->tables);
    scratch->number = *number;
    plwi_solve(scratch, layout, &s->hints);
}

static uint32_t best_reading(const plw_result *result)
{
    uint32_t best = 0;
    for (uint32_t i = 1; i < result->reading_count; i++)
        if (result->readings[i].score > result->readings[best].score)
            best = i;
    return best;
}

static int has_conditions(image_t image, uint32_t row)
{
    return plwi_row(image, row)[ROW_CONDITION_COUNT] > 0;
}

/* 1 when no reading of the result can meet the conditions of the row. */
static int cannot_apply(const plw_result *result, uint32_t row)
{
    plwi_view view = { .result = result, .tables = result->tables };
    for (uint32_t i = 0; i < result->reading_count; i++)
        if (plwi_row_applies(&view, i, row) != PLWI_NO)
            return 0;
    return result->reading_count > 0;
}

static int has_full_number(const search *s)
{
    for (uint32_t i = 0; i < s->car->plate_count; i++)
        if (s->trial.plates[i].taken == PLW_TAKEN_FULL)
            return 1;
    return 0;
}

/* 1 when a plate that is no full number has as many characters as the stamp. */
static int is_asked_for(const search *s, uint32_t layout, const plwi_stamp *stamp)
{
    uint8_t positions[MAX_POSITIONS];
    uint32_t width = plwi_stamp_positions(s->image, layout, stamp, positions);
    for (uint32_t i = 0; i < s->car->plate_count; i++)
        if (width > 0 && s->trial.plates[i].taken == PLW_TAKEN_NOT &&
            s->car->plates[i].number.count == width)
            return 1;
    return 0;
}

/* A stamp that only some cars have counts unless the full numbers deny it. */
static void rule_out_stamps(search *s, uint32_t layout)
{
    plwi_number number;
    int solved = 0, known = has_full_number(s);
    for (uint32_t i = 0; i < s->stamp_count; i++) {
        plwi_stamp *stamp = &s->stamps[i];
        stamp->ruled_out = 0;
        if (!known || !has_conditions(s->image, stamp->row) || !is_asked_for(s, layout, stamp))
            continue;
        if (!solved) {
            join(s, plwi_layout(s->image, layout)[LAYOUT_LENGTH], &number);
            solve(s, layout, &number);
            solved = 1;
        }
        stamp->ruled_out = cannot_apply(&s->car->scratch, stamp->row);
    }
}

/* What one expects: stamps on engines and gearboxes, full numbers in the dash
 * and on doors; on the body and its tag either. */
static int is_natural(int32_t place, unsigned taken)
{
    switch (place) {
    case PLW_PLACE_ENGINE:
    case PLW_PLACE_GEARBOX:
        return taken == PLW_TAKEN_PARTIAL;
    case PLW_PLACE_BODY:
    case PLW_PLACE_BODY_TAG:
        return taken != PLW_TAKEN_NOT;
    default:
        return taken == PLW_TAKEN_FULL;
    }
}

static void count_plates(search *s)
{
    plwi_joined *joined = &s->trial.joined;
    joined->understood = joined->natural = joined->full = joined->strays = 0;
    for (uint32_t i = 0; i < s->car->plate_count; i++) {
        const plwi_alignment *a = &s->trial.plates[i];
        joined->understood += a->taken != PLW_TAKEN_NOT;
        joined->full += a->taken == PLW_TAKEN_FULL;
        joined->natural += (uint32_t)is_natural(s->car->plates[i].place, a->taken);
        joined->strays += a->strays;
    }
}

/* Lays all plates on a layout: the full numbers first, since they decide which
 * stamps the car can have. */
static void try_layout(search *s, uint32_t layout)
{
    const plw_car *car = s->car;
    plwi_joined *joined = &s->trial.joined;
    uint32_t length = plwi_layout(s->image, layout)[LAYOUT_LENGTH];
    for (uint32_t i = 0; i < car->plate_count; i++)
        take_as_full(s, layout, &car->plates[i].number, &s->trial.plates[i]);
    rule_out_stamps(s, layout);
    for (uint32_t i = 0; i < car->plate_count; i++)
        if (s->trial.plates[i].taken == PLW_TAKEN_NOT)
            take_as_stamp(s, layout, &car->plates[i], &s->trial.plates[i]);
    joined->layout = layout;
    count_plates(s);
    if (joined->understood > 0)
        joined->differing = join(s, length, &joined->number);
}

/* ---- the best layouts ------------------------------------------------------------ */

static int order(uint32_t a, uint32_t b)
{
    return (a > b) - (a < b);
}

/* Above 0 when a explains the plates better than b; 0 when both do as well. */
static int compare_joined(const plwi_joined *a, const plwi_joined *b)
{
    int by = order(a->understood, b->understood);
    if (by == 0)
        by = order(b->differing, a->differing);
    if (by == 0)
        by = order(a->natural, b->natural);
    if (by == 0)
        by = order(a->full, b->full);
    return by ? by : order(b->strays, a->strays);
}

static int say_the_same(const plwi_number *a, const plwi_number *b)
{
    for (uint32_t p = 0; p < a->count; p++)
        if (a->cell[p].set != b->cell[p].set)
            return 0;
    return a->count == b->count;
}

/* One scheme can lay the same number out in several ways: the best one counts. */
static int replaces_same(const search *s, const plwi_joined *joined)
{
    plw_car *car = s->car;
    uint32_t scheme = plwi_layout_scheme(s->image, joined->layout);
    for (uint32_t i = 0; i < car->joined_count; i++) {
        if (plwi_layout_scheme(s->image, car->joined[i].layout) != scheme ||
            !say_the_same(&car->joined[i].number, &joined->number))
            continue;
        if (joined->score > car->joined[i].score)
            car->joined[i] = *joined;
        return 1;
    }
    return 0;
}

static void sort_joined(plw_car *car)
{
    for (uint32_t i = 1; i < car->joined_count; i++)
        for (uint32_t at = i; at > 0 && car->joined[at - 1].score < car->joined[at].score; at--) {
            plwi_joined moved = car->joined[at];
            car->joined[at] = car->joined[at - 1];
            car->joined[at - 1] = moved;
        }
}

#define WEIGHT_OPEN 20 /* a position of which nothing is known */
#define CLEAR_LEAD 50  /* so much better a number must be to stand alone */

/* How well the readings of the joined number fit; the less is open, the better. */
static int32_t score(search *s, const plwi_joined *joined)
{
    const plw_result *scratch = &s->car->scratch;
    int32_t open = 0;
    solve(s, joined->layout, &joined->number);
    for (uint32_t p = 0; p < joined->number.count; p++)
        open += joined->number.cell[p].set == ALL_CHARACTERS;
    if (scratch->reading_count == 0) /* GCOVR_EXCL_BR_LINE: solving finds one at least */
        return INT32_MIN / 2;
    return scratch->readings[best_reading(scratch)].score - WEIGHT_OPEN * open;
}

/* 1 when no other scheme is nearly as likely: only then the tables of the first
 * can tell what to expect. */
static int is_settled(const plw_car *car)
{
    return car->joined_count < 2 || car->joined[0].score - car->joined[1].score >= CLEAR_LEAD;
}

/* Beyond the limit the least likely one goes. */
static void add_joined(plw_car *car, const plwi_joined *joined)
{
    if (car->joined_count < PLW_MAX_JOINED) {
        car->joined[car->joined_count++] = *joined;
        return;
    }
    car->joined_capped = 1;
    if (joined->score > car->joined[PLW_MAX_JOINED - 1].score)
        car->joined[PLW_MAX_JOINED - 1] = *joined;
}

static void remember_best(search *s)
{
    if (compare_joined(&s->trial.joined, &s->best) > 0)
        s->best = s->trial.joined;
}

/* Keeps what explains the plates as well as the best, by score. */
static void keep(search *s)
{
    plw_car *car = s->car;
    plwi_joined *joined = &s->trial.joined;
    if (compare_joined(joined, &s->best) != 0)
        return;
    joined->score = score(s, joined);
    if (!replaces_same(s, joined))
        add_joined(car, joined);
    sort_joined(car);
}

static void try_all(search *s, tried *then)
{
    plwi_walk walk = plwi_walk_layouts(s->image);
    uint32_t scheme = PLW_NONE;
    for (uint32_t layout; (layout = plwi_next_layout(&walk)) != PLW_NONE;) {
        if (scheme != walk.scheme) {
            scheme = walk.scheme;
            s->stamp_count = plwi_stamps(s->image, scheme, s->stamps);
        }
        try_layout(s, layout);
        if (s->trial.joined.understood > 0)
            then(s);
    }
}

/* ---- the chosen one ----------------------------------------------------------------- */

plwi_years plwi_car_years(const plw_car *car)
{
    plwi_years years = { 0, 0 };
    for (uint32_t i = 0; i < car->result.reading_count; i++)
        if (car->result.readings[i].layout == car->result.readings[car->reading].layout)
            years = plwi_years_or(years, car->result.readings[i].years);
    return years;
}

static uint32_t reading_on(const plw_result *result, uint32_t layout)
{
    for (uint32_t i = 0; i < result->reading_count; i++)
        if (result->readings[i].layout == layout)
            return i;
    return PLW_NONE;
}

/* A full number is decoded like any other; stamps alone say so little that other
 * schemes would only hide the one they fit. */
static void read_joined(search *s)
{
    plw_car *car = s->car;
    const plwi_joined *best = &car->joined[0];
    if (best->full > 0)
        plwi_decode_number(car->tables, &best->number, &s->hints, &car->result);
    car->reading = reading_on(&car->result, best->layout);
    if (car->reading != PLW_NONE)
        return;
    plwi_clear(&car->result, car->tables);
    car->result.number = best->number;
    car->result.length_known = 1;
    plwi_solve(&car->result, best->layout, &s->hints);
    plwi_rank(&car->result);
    car->reading = car->result.reading_count ? 0 : PLW_NONE; /* GCOVR_EXCL_BR_LINE: there is one */
}

/* ---- differences and what they support ----------------------------------------------- */

/* The field at a position that says what its code means. */
static const plwi_slot *slot_at(const plw_result *result, uint32_t reading, uint32_t position)
{
    image_t image = plwi_image(result->tables);
    uint32_t count = result->readings[reading].slot_count;
    for (uint32_t i = 0; i < count; i++) {
        const plwi_slot *slot = plwi_slot_at(result, reading, i);
        if (!slot->overlay && plwi_slot_positions(image, slot) >> position & 1)
            return slot;
    }
    return NULL;
}

/* Rows of running numbers are ranges: they do not tell two numbers apart. */
static void take_rows(const plw_result *result, const plwi_slot *slot, plwi_difference *d)
{
    image_t image = plwi_image(result->tables);
    d->field = plwi_slot_field(image, slot);
    if (plwi_field(image, d->field)[FIELD_KIND] == KIND_RUN)
        return;
    for (uint32_t i = 0; i < slot->row_count && d->row_count < DIFFERENCE_ROWS; i++)
        d->rows[d->row_count++] = result->rows[slot->row + i];
}

/* Reads the joined number with one character at the position. */
static void support(search *s, plwi_difference *d)
{
    const plwi_joined *best = &s->car->joined[0];
    const plw_result *scratch = &s->car->scratch;
    plwi_number number = best->number;
    fill_cell(&number.cell[d->position], d->set);
    solve(s, best->layout, &number);
    for (uint32_t i = 0; i < scratch->reading_count; i++)
        d->years = plwi_years_or(d->years, scratch->readings[i].years);
    if (scratch->reading_count == 0) /* GCOVR_EXCL_BR_LINE: solving finds one at least */
        return;
    uint32_t reading = best_reading(scratch);
    const plwi_slot *slot = slot_at(scratch, reading, d->position);
    if (slot)
        take_rows(scratch, slot, d);
}

static plwi_difference *difference_of(plw_car *car, uint32_t first, uint64_t set)
{
    for (uint32_t i = first; i < car->difference_count; i++)
        if (car->differences[i].set == set)
            return &car->differences[i];
    return NULL;
}

static void list_differences_at(search *s, uint32_t position)
{
    plw_car *car = s->car;
    uint32_t first = car->difference_count;
    for (uint32_t i = 0; i < car->plate_count; i++) {
        const plwi_alignment *a = &car->plates[i].alignment;
        if (!(a->readable >> position & 1))
            continue;
        plwi_difference *d = difference_of(car, first, a->sets[position]);
        if (d == NULL && car->difference_count < PLW_MAX_DIFFERENCES) {
            d = &car->differences[car->difference_count++];
            *d = (plwi_difference){ .set = a->sets[position],
                                    .position = position,
                                    .field = PLW_NONE };
            support(s, d);
        }
        if (d)
            d->plates |= UINT32_C(1) << i;
    }
}

static void list_differences(search *s)
{
    uint32_t found = plwi_contradictions(s->car);
    for (; found; found &= found - 1)
        list_differences_at(s, plwi_lowest_bit(found));
}

/* ---- what the tables expect ------------------------------------------------------------ */

static plwi_years row_years(image_t image, uint32_t row)
{
    return plwi_year_set(image, plwi_u16(plwi_row(image, row) + ROW_YEARS));
}

/* Whether the car can bear, bears or cannot bear what the row tells of. */
static int applies(const plw_car *car, uint32_t row)
{
    plwi_view view = { .result = &car->result, .tables = car->tables };
    return plwi_row_applies(&view, car->reading, row);
}

static int first_year(plwi_years years)
{
    return plwi_years_next(years, FIRST_YEAR - 1);
}

static int last_year(plwi_years years)
{
    int last = 0;
    for (int year = first_year(years); year; year = plwi_years_next(years, year))
        last = year;
    return last;
}

/* Of two rows the one that begins earlier; a may be PLW_NONE. */
static uint32_t earlier(image_t image, uint32_t a, uint32_t b)
{
    if (a == PLW_NONE)
        return b;
    return first_year(row_years(image, b)) < first_year(row_years(image, a)) ? b : a;
}

/* The row by which a plate is not expected: a stamp of its kind that the tables
 * know there only of later years, or one that says nothing is repeated there. */
static uint32_t unexpected_by(const search *s, const plwi_plate *plate)
{
    plwi_years years = plwi_car_years(s->car);
    uint32_t later = PLW_NONE, denied = PLW_NONE;
    if (plwi_years_empty(years) || !is_settled(s->car))
        return PLW_NONE;
    for (uint32_t i = 0; i < s->stamp_count; i++) {
        const plwi_stamp *stamp = &s->stamps[i];
        plwi_years own = row_years(s->image, stamp->row);
        if (!is_of_place(stamp, plate->place) || applies(s->car, stamp->row) == PLWI_NO)
            continue;
        if (plwi_stamp_repeats_nothing(stamp)) {
            if (plwi_years_empty(plwi_years_without(years, own)))
                denied = stamp->row;
        } else if (!plwi_years_empty(plwi_years_and(years, own))) {
            return PLW_NONE;
        } else if (plwi_stamp_is_partial(stamp) && first_year(own) > last_year(years)) {
            later = earlier(s->image, later, stamp->row);
        }
    }
    if (denied == PLW_NONE && plate->alignment.taken == PLW_TAKEN_PARTIAL)
        return later;
    return denied;
}

static int is_given(const plw_car *car, int32_t place)
{
    for (uint32_t i = 0; i < car->plate_count; i++) {
        int32_t given = car->plates[i].place;
        if (given == place)
            return 1;
        /* The certification label is a label at the door. */
        if (given == PLW_PLACE_CERTIFICATION_LABEL && place == PLW_PLACE_DOOR_LABEL)
            return 1;
        if (given == PLW_PLACE_DOOR_LABEL && place == PLW_PLACE_CERTIFICATION_LABEL)
            return 1;
    }
    return 0;
}

/* 1 when every car of these years that meets the conditions bears it. */
static int is_sure(const search *s, const plwi_stamp *stamp)
{
    const unsigned char *row = plwi_row(s->image, stamp->row);
    plwi_years open = plwi_years_without(plwi_car_years(s->car), row_years(s->image, stamp->row));
    return !plwi_stamp_repeats_nothing(stamp) && plwi_years_empty(open) &&
           !(row[ROW_MARKS] & (MARK_DISPUTED | MARK_DOUBTFUL)) &&
           applies(s->car, stamp->row) == PLWI_YES;
}

static void list_missing(search *s)
{
    plw_car *car = s->car;
    if (plwi_years_empty(plwi_car_years(car)) || !is_settled(car))
        return;
    for (int32_t place = 1; place <= PLACE_COUNT; place++) {
        uint32_t best = PLW_NONE;
        for (uint32_t i = 0; i < s->stamp_count && !is_given(car, place); i++) {
            uint32_t row = s->stamps[i].row;
            if (is_of_place(&s->stamps[i], place) && is_sure(s, &s->stamps[i]) &&
                (best == PLW_NONE ||
                 plwi_row(s->image, row)[ROW_STANDING] < plwi_row(s->image, best)[ROW_STANDING]))
                best = row;
        }
        if (best != PLW_NONE)
            car->missing[car->missing_count++] = (plwi_missing){ place, best };
    }
}

/* ---- verdicts ----------------------------------------------------------------------------- */

static int32_t verdict_on(const search *s, uint32_t index, uint32_t contradictions)
{
    plw_car *car = s->car;
    plwi_plate *plate = &car->plates[index];
    uint32_t compared = 0, row = unexpected_by(s, plate);
    if (plate->alignment.readable & contradictions)
        return PLW_PLATE_DIFFERS;
    if (row != PLW_NONE) {
        plate->alignment.row = row;
        return PLW_PLATE_NOT_EXPECTED;
    }
    for (uint32_t i = 0; i < car->plate_count; i++)
        compared |= plw_plate_compared(car, index, i);
    return compared ? PLW_PLATE_AGREES : PLW_PLATE_CANNOT_COMPARE;
}

/* From the one that outweighs all others. */
static const int32_t by_weight[] = { PLW_PLATE_DIFFERS, PLW_PLATE_NOT_EXPECTED,
                                     PLW_PLATE_CANNOT_COMPARE, PLW_PLATE_AGREES };

static int32_t verdict_on_all(const plw_car *car)
{
    for (size_t k = 0; k < sizeof by_weight / sizeof *by_weight; k++)
        for (uint32_t i = 0; i < car->plate_count; i++)
            if (car->plates[i].verdict == by_weight[k])
                return by_weight[k];
    return PLW_PLATE_CANNOT_COMPARE;
}

static void judge(search *s)
{
    plw_car *car = s->car;
    uint32_t contradictions = plwi_contradictions(car);
    for (uint32_t i = 0; i < car->plate_count; i++)
        car->plates[i].verdict = verdict_on(s, i, contradictions);
    car->verdict = verdict_on_all(car);
}

/* ---- the verb -------------------------------------------------------------------------------- */

static void settle_on_best(search *s)
{
    plw_car *car = s->car;
    uint32_t layout = car->joined[0].layout;
    s->stamp_count = plwi_stamps(s->image, plwi_layout_scheme(s->image, layout), s->stamps);
    try_layout(s, layout);
    for (uint32_t i = 0; i < car->plate_count; i++)
        car->plates[i].alignment = s->trial.plates[i];
    read_joined(s);
    plwi_validate(&car->result);
    list_differences(s);
    list_missing(s);
}

int32_t plw_compare(const plw_tables *tables, plw_car *car, const char *hints, uint32_t flags)
{
    search s;
    if (car == NULL)
        return PLW_E_ARGUMENT;
    car->tables = tables;
    plwi_car_forget(car);
    int32_t status = plwi_verb_arguments("", 0, hints, flags, &s.hints);
    if (status != PLW_OK)
        return status;
    s.car = car;
    s.image = plwi_image(tables);
    s.best = (plwi_joined){ .understood = 0 };
    try_all(&s, remember_best);
    try_all(&s, keep); /* reading is slow, so only the best are read */
    if (car->joined_count > 0)
        settle_on_best(&s);
    judge(&s);
    plwi_judge_dates(car);
    return PLW_OK;
}
