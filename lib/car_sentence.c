/* SPDX-License-Identifier: MIT
 *
 * What compare found out, in sentences: each plate, each difference, what is
 * missing, and what to look at next. The words stay with what was compared.
 */
#include "car.h"
#include "explain.h"
#include "names.h"

/* ---- parts of sentences ---------------------------------------------------- */

void plwi_put_choice(plwi_writer *out, uint64_t set)
{
    int single = plwi_is_single(set);
    if (!single)
        plwi_put_char(out, '[');
    plwi_put_set(out, set);
    if (!single)
        plwi_put_char(out, ']');
}

void plwi_put_plate_name(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    uint32_t before = 0, all = 0;
    for (uint32_t i = 0; i < car->plate_count; i++) {
        if (car->plates[i].place != car->plates[plate].place)
            continue;
        all++;
        before += i < plate;
    }
    plwi_put_text(out, plw_place_label(car->plates[plate].place));
    if (all > 1) {
        plwi_put_char(out, ' ');
        plwi_put_number(out, before + 1);
    }
}

/* What stands between the parts of a list: ", " and before the last " and ". */
static void put_joint(plwi_writer *out, uint32_t index, uint32_t count, const char *last)
{
    if (index > 0)
        plwi_put_text(out, index + 1 == count ? last : ", ");
}

/* "the dash plate and the engine stamp" */
static void put_plates(plwi_writer *out, const plw_car *car, uint32_t plates)
{
    uint32_t count = plwi_count_bits(plates), index = 0;
    for (uint32_t i = 0; i < car->plate_count; i++) {
        if (!(plates >> i & 1))
            continue;
        put_joint(out, index++, count, " and ");
        plwi_put_text(out, "the ");
        plwi_put_plate_name(out, car, i);
    }
}

/* "position 13" or "positions 6-13" */
static void put_positions(plwi_writer *out, uint32_t positions)
{
    plwi_piece piece;
    plwi_put_text(out, plwi_count_bits(positions) == 1 ? "position " : "positions ");
    plwi_put_text(out, plwi_positions_text(positions, &piece));
}

static void put_years(plwi_writer *out, plwi_years years)
{
    uint32_t count = plwi_years_count(years), index = 0;
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year)) {
        put_joint(out, index++, count, " or ");
        plwi_put_number(out, year);
    }
}

static image_t image_of(const plw_car *car)
{
    return plwi_image(car->tables);
}

static void put_row(plwi_writer *out, const plw_car *car, uint32_t row)
{
    plwi_put_text(out, plwi_words(car->result.names, image_of(car), row));
    if (plw_row_standing(car->tables, row) == PLW_STANDING_MEMORY)
        plwi_put_text(out, " (not confirmed)");
}

static void put_shown(plwi_writer *out, const plw_car *car, uint32_t plate, uint32_t position)
{
    const plwi_alignment *a = &car->plates[plate].alignment;
    plwi_put_typed(out, &car->plates[plate].number.cell[a->cell[position]]);
}

/* ---- a plate ----------------------------------------------------------------- */

static uint32_t differs_from(const plw_car *car, uint32_t plate)
{
    uint32_t plates = 0;
    for (uint32_t i = 0; i < car->plate_count; i++)
        if (plw_plate_differs(car, plate, i))
            plates |= UINT32_C(1) << i;
    return plates;
}

static uint32_t agrees_with(const plw_car *car, uint32_t plate)
{
    uint32_t plates = 0;
    for (uint32_t i = 0; i < car->plate_count; i++)
        if (plw_plate_compared(car, plate, i) && !plw_plate_differs(car, plate, i))
            plates |= UINT32_C(1) << i;
    return plates;
}

/* "from the engine stamp at position 13 (9 here, 0 there)" */
static void put_differing(plwi_writer *out, const plw_car *car, uint32_t plate, uint32_t other)
{
    uint32_t differs = plw_plate_differs(car, plate, other), index = 0;
    plwi_put_text(out, "from the ");
    plwi_put_plate_name(out, car, other);
    plwi_put_text(out, " at ");
    put_positions(out, differs);
    plwi_put_text(out, " (");
    for (; differs; differs &= differs - 1) {
        uint32_t p = plwi_lowest_bit(differs);
        plwi_put_text(out, index++ ? "; " : "");
        put_shown(out, car, plate, p);
        plwi_put_text(out, " here, ");
        put_shown(out, car, other, p);
        plwi_put_text(out, " there");
    }
    plwi_put_char(out, ')');
}

static void put_differences(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    uint32_t others = differs_from(car, plate);
    uint32_t count = plwi_count_bits(others), index = 0;
    plwi_put_text(out, " differs ");
    for (uint32_t i = 0; i < car->plate_count; i++) {
        if (!(others >> i & 1))
            continue;
        put_joint(out, index++, count, " and ");
        put_differing(out, car, plate, i);
    }
    /* Alternatives of three plates can contradict each other only together. */
    if (count == 0) {
        plwi_put_text(out, "from the other plates together at ");
        put_positions(out, car->plates[plate].alignment.readable & plwi_contradictions(car));
    }
}

static void put_agreement(plwi_writer *out, const plw_car *car, uint32_t plate, const char *before)
{
    uint32_t others = agrees_with(car, plate);
    if (others == 0)
        return;
    plwi_put_text(out, before);
    plwi_put_text(out, "agrees with ");
    put_plates(out, car, others);
}

/* Why a plate could not be held against any other. */
static void put_hindrance(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    const plwi_plate *p = &car->plates[plate];
    uint32_t shared = 0;
    for (uint32_t i = 0; i < car->plate_count; i++)
        if (i != plate)
            shared |= car->plates[i].alignment.positions;
    plwi_put_text(out, " cannot be compared: ");
    if (p->number.count == 0) {
        plwi_put_text(out, "there is nothing to read");
    } else if (p->alignment.taken == PLW_TAKEN_NOT) {
        plwi_put_text(out, "its ");
        plwi_put_number(out, p->number.count);
        plwi_put_text(out, p->number.count == 1 ? " character is" : " characters are");
        plwi_put_text(out, " neither a full number nor a stamp that the tables know here");
    } else if (car->plate_count == 1) {
        plwi_put_text(out, "it is the only plate");
    } else if (!(shared & p->alignment.positions)) {
        plwi_put_text(out, "no other plate shows the same positions");
    } else {
        plwi_put_text(out, "no position that it shares with another can be read on both");
    }
}

static void put_unexpected(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    uint32_t row = car->plates[plate].alignment.row;
    plwi_years years =
        plwi_year_set(image_of(car), plwi_u16(plwi_row(image_of(car), row) + ROW_YEARS));
    int first = plwi_years_next(years, FIRST_YEAR - 1);
    plwi_put_text(out, " is not expected on a car of ");
    put_years(out, plwi_car_years(car));
    plwi_put_text(out, ": the tables say ");
    if (!plwi_years_has(years, plwi_years_next(plwi_car_years(car), FIRST_YEAR - 1))) {
        plwi_put_text(out, "from ");
        plwi_put_number(out, first);
        plwi_put_text(out, " on ");
    }
    plwi_put_char(out, '"');
    put_row(out, car, row);
    plwi_put_char(out, '"');
}

/* The characters of a plate in its own order, misread ones as they were taken. */
static void put_as_taken(plwi_writer *out, const plwi_plate *plate)
{
    const plwi_alignment *a = &plate->alignment;
    for (uint32_t i = 0; i < plate->number.count; i++)
        for (uint32_t p = 0; p < MAX_POSITIONS; p++) {
            if (!(a->positions >> p & 1) || a->cell[p] != i)
                continue;
            if (a->readable >> p & 1)
                plwi_put_choice(out, a->sets[p]);
            else
                plwi_put_typed(out, &plate->number.cell[i]);
        }
}

/* "It repeats positions 6-13, read as 0A149789" */
static void put_taken(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    const plwi_alignment *a = &car->plates[plate].alignment;
    int misread = a->strays > plwi_count_bits(a->strange);
    if (a->taken == PLW_TAKEN_PARTIAL) {
        plwi_put_text(out, ". It repeats ");
        put_positions(out, a->positions);
    }
    if (misread) {
        plwi_put_text(out, a->taken == PLW_TAKEN_PARTIAL ? ", read as " : ". It was read as ");
        put_as_taken(out, &car->plates[plate]);
    }
}

void plwi_put_plate_sentence(plwi_writer *out, const plw_car *car, uint32_t plate)
{
    int32_t verdict = car->plates[plate].verdict;
    plwi_put_text(out, "The ");
    plwi_put_plate_name(out, car, plate);
    if (verdict == PLW_PLATE_DIFFERS) {
        put_differences(out, car, plate);
        put_agreement(out, car, plate, "; it ");
    } else if (verdict == PLW_PLATE_NOT_EXPECTED) {
        put_unexpected(out, car, plate);
        put_agreement(out, car, plate, "; it ");
    } else if (verdict == PLW_PLATE_AGREES) {
        put_agreement(out, car, plate, " ");
    } else {
        put_hindrance(out, car, plate);
    }
    put_taken(out, car, plate);
    plwi_put_char(out, '.');
}

/* ---- a difference --------------------------------------------------------------- */

static void put_supported_rows(plwi_writer *out, const plw_car *car, const plwi_difference *d)
{
    for (uint32_t i = 0; i < d->row_count; i++) {
        plwi_put_text(out, i ? " / " : ": ");
        put_row(out, car, d->rows[i]);
    }
}

void plwi_put_difference_sentence(plwi_writer *out, const plw_car *car, uint32_t difference)
{
    const plwi_difference *d = &car->differences[difference];
    plwi_put_text(out, "Position ");
    plwi_put_number(out, d->position + 1);
    if (d->field != PLW_NONE) {
        plwi_put_text(out, " (");
        plwi_put_text(out, plwi_label(car->result.names, image_of(car), d->field));
        plwi_put_char(out, ')');
    }
    plwi_put_text(out, ": ");
    plwi_put_choice(out, d->set);
    plwi_put_text(out, " on ");
    put_plates(out, car, d->plates);
    put_supported_rows(out, car, d);
    if (plwi_years_empty(d->years)) {
        plwi_put_text(out, "; no model year fits the whole");
    } else {
        plwi_put_text(out, plwi_years_count(d->years) == 1 ? "; model year " : "; model years ");
        put_years(out, d->years);
    }
    plwi_put_char(out, '.');
}

/* ---- what is missing ---------------------------------------------------------------- */

void plwi_put_missing_sentence(plwi_writer *out, const plw_car *car, uint32_t missing)
{
    const plwi_missing *m = &car->missing[missing];
    plwi_put_text(out, "The ");
    plwi_put_text(out, plw_place_label(m->place));
    plwi_put_text(out, " was not given; for this car the tables say \"");
    put_row(out, car, m->row);
    plwi_put_text(out, "\".");
}

/* ---- advice ---------------------------------------------------------------------------- */

/* Counts pieces of advice down to the one that is wanted. */
typedef struct adviser {
    plwi_writer *out;
    const plw_car *car;
    uint32_t wanted;
} adviser;

static int is_wanted(adviser *a)
{
    return a->wanted-- == 0;
}

static int look_alike(image_t image, uint64_t a, uint64_t b)
{
    uint32_t count = plwi_count(image, SECTION_MISREADS);
    for (uint32_t i = 0; i < count; i++) {
        const unsigned char *pair = plwi_record(image, SECTION_MISREADS, 16, i);
        uint64_t typed = UINT64_C(1) << pair[MISREAD_TYPED];
        uint64_t meant = UINT64_C(1) << pair[MISREAD_MEANT];
        if ((typed & a && meant & b) || (typed & b && meant & a))
            return 1;
    }
    return 0;
}

/* The first difference behind the given one that stands at another position. */
static uint32_t behind_position(const plw_car *car, uint32_t difference)
{
    uint32_t next = difference;
    while (next < car->difference_count &&
           car->differences[next].position == car->differences[difference].position)
        next++;
    return next;
}

static void put_reread(plwi_writer *out, const plw_car *car, uint32_t first, uint32_t end)
{
    uint32_t plates = 0;
    for (uint32_t i = first; i < end; i++)
        plates |= car->differences[i].plates;
    plwi_put_text(out, "Read position ");
    plwi_put_number(out, car->differences[first].position + 1);
    plwi_put_text(out, " again on ");
    put_plates(out, car, plates);
    plwi_put_text(out, ": ");
    for (uint32_t i = first; i < end; i++) {
        put_joint(out, i - first, end - first, " or ");
        plwi_put_choice(out, car->differences[i].set);
    }
    if (end - first == 2 &&
        look_alike(image_of(car), car->differences[first].set, car->differences[first + 1].set))
        plwi_put_text(out, ", which are easily taken for each other");
    plwi_put_char(out, '.');
}

static int advise_rereading(adviser *a)
{
    const plw_car *car = a->car;
    for (uint32_t first = 0, end; first < car->difference_count; first = end) {
        end = behind_position(car, first);
        if (!is_wanted(a))
            continue;
        put_reread(a->out, car, first, end);
        return 1;
    }
    return 0;
}

static int advise_on_strange(adviser *a)
{
    const plw_car *car = a->car;
    for (uint32_t i = 0; i < car->plate_count; i++) {
        uint32_t strange = car->plates[i].alignment.strange;
        for (; strange; strange &= strange - 1) {
            uint32_t p = plwi_lowest_bit(strange);
            if (!is_wanted(a))
                continue;
            plwi_put_text(a->out, "Read position ");
            plwi_put_number(a->out, p + 1);
            plwi_put_text(a->out, " again on the ");
            plwi_put_plate_name(a->out, car, i);
            plwi_put_text(a->out, ": it shows ");
            put_shown(a->out, car, i, p);
            plwi_put_text(a->out, ", which cannot stand there.");
            return 1;
        }
    }
    return 0;
}

static int advise_on_not_understood(adviser *a)
{
    const plw_car *car = a->car;
    for (uint32_t i = 0; i < car->plate_count; i++) {
        if (car->plates[i].verdict != PLW_PLATE_CANNOT_COMPARE ||
            car->plates[i].alignment.taken != PLW_TAKEN_NOT || !is_wanted(a))
            continue;
        plwi_put_text(a->out, "Look at the ");
        plwi_put_plate_name(a->out, car, i);
        plwi_put_text(a->out, " again: count its characters and see whether it is a number of "
                              "the car at all.");
        return 1;
    }
    return 0;
}

/* Positions of which some plate has the character but none can be read. */
static int advise_on_unreadable(adviser *a)
{
    const plw_car *car = a->car;
    uint32_t readable = 0;
    for (uint32_t i = 0; i < car->plate_count; i++)
        readable |= car->plates[i].alignment.readable;
    for (uint32_t p = 0; p < MAX_POSITIONS; p++) {
        uint32_t plates = 0;
        for (uint32_t i = 0; i < car->plate_count; i++)
            if (car->plates[i].alignment.positions >> p & 1)
                plates |= UINT32_C(1) << i;
        if (plates == 0 || readable >> p & 1 || !is_wanted(a))
            continue;
        plwi_put_text(a->out, "Position ");
        plwi_put_number(a->out, p + 1);
        plwi_put_text(a->out, " cannot be read anywhere: take a photograph of ");
        put_plates(a->out, car, plates);
        plwi_put_text(a->out, " with light from the side.");
        return 1;
    }
    return 0;
}

static int advise_on_missing(adviser *a)
{
    const plw_car *car = a->car;
    for (uint32_t i = 0; i < car->missing_count; i++) {
        if (!is_wanted(a))
            continue;
        plwi_put_text(a->out, "Look for the ");
        plwi_put_text(a->out, plw_place_label(car->missing[i].place));
        plwi_put_text(a->out, " and take a photograph of it.");
        return 1;
    }
    return 0;
}

/* Positions that no plate shows at all. */
static int advise_on_open(adviser *a)
{
    const plw_car *car = a->car;
    if (car->joined_count == 0)
        return 0;
    uint32_t length = car->joined[0].number.count, open = 0;
    for (uint32_t p = 0; p < length; p++) {
        open |= UINT32_C(1) << p;
        for (uint32_t i = 0; i < car->plate_count; i++)
            open &= ~car->plates[i].alignment.positions;
    }
    if (open == 0 || !is_wanted(a))
        return 0;
    plwi_put_text(a->out, "Look for a plate with the full number: nothing given shows ");
    put_positions(a->out, open);
    plwi_put_char(a->out, '.');
    return 1;
}

static void put_claim(plwi_writer *out, const plwi_view *view, uint32_t claim,
                      const char *before, const char *after)
{
    plwi_piece text;
    plwi_put_text(out, before);
    plwi_put_text(out, plwi_claim_text(view, claim, &text));
    plwi_put_text(out, after);
}

/* What would tell more about a claim that the number does not support. */
static void put_claim_advice(plwi_writer *out, const plwi_view *view, uint32_t claim)
{
    int is_contradicted = plw_claim_verdict(view->result, claim) == PLW_VERDICT_CONTRADICTED;
    int is_unreadable = plw_claim_reason(view->result, claim) == PLW_REASON_UNREADABLE;
    uint32_t positions = plw_claim_positions(view->result, claim);
    if (positions && (is_contradicted || is_unreadable)) {
        plwi_put_text(out, "Read ");
        put_positions(out, positions);
        put_claim(out, view, claim,
                  is_contradicted ? " again, and ask what the claim " : " again for the claim ",
                  is_contradicted ? " rests on." : ".");
    } else if (is_contradicted) {
        put_claim(out, view, claim, "Ask what the claim ", " rests on.");
    } else {
        put_claim(out, view, claim, "For the claim ",
                  " look for a document of the time: the order, the invoice or the maker's build "
                  "record.");
    }
}

static int advise_on_claims(adviser *a)
{
    plwi_view view = { .result = &a->car->result, .tables = a->car->tables };
    for (uint32_t i = 0; i < plw_claim_count(view.result); i++) {
        if (plw_claim_verdict(view.result, i) == PLW_VERDICT_SUPPORTED ||
            plw_claim_reason(view.result, i) == PLW_REASON_NOT_UNDERSTOOD || !is_wanted(a))
            continue;
        put_claim_advice(a->out, &view, i);
        return 1;
    }
    return 0;
}

/* What may tell the model year where the number leaves it open. */
static int advise_on_years(adviser *a)
{
    plwi_years years = plwi_car_years(a->car);
    if (plwi_years_count(years) < 2 || !is_wanted(a))
        return 0;
    plwi_put_text(a->out, "The model year stays open, ");
    put_years(a->out, years);
    plwi_put_text(a->out, ": look for date codes on castings and for the first registration.");
    return 1;
}

int plwi_put_advice(plwi_writer *out, const plw_car *car, uint32_t index)
{
    adviser a = { out, car, index };
    if (car->verdict == 0)
        return 0;
    return advise_rereading(&a) || advise_on_strange(&a) || advise_on_not_understood(&a) ||
           advise_on_unreadable(&a) || advise_on_missing(&a) || advise_on_open(&a) ||
           advise_on_years(&a) || advise_on_claims(&a);
}
