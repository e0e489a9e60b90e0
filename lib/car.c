/* SPDX-License-Identifier: MIT
 *
 * The car object: plates in, and what a host may ask of a comparison.
 */
#include "car.h"
#include "memory.h"

/* ---- places -------------------------------------------------------------- */

/* Both by place - 1. Arrays of characters, not of pointers: no relocations. */
static const char place_names[PLACE_COUNT][20] = {
    "dash", "door_label", "body_tag", "certification_label", "engine", "gearbox", "body",
};

static const char place_labels[PLACE_COUNT][20] = {
    "dash plate",   "door plate or label", "body tag",   "certification label",
    "engine stamp", "gearbox stamp",       "body stamp",
};

static int is_place(int32_t place)
{
    return place >= 1 && place <= PLACE_COUNT;
}

const char *plw_place_name(int32_t place)
{
    return is_place(place) ? place_names[place - 1] : "";
}

const char *plw_place_label(int32_t place)
{
    return is_place(place) ? place_labels[place - 1] : "";
}

/* ---- the object ------------------------------------------------------------ */

void plwi_car_forget(plw_car *car)
{
    car->verdict = 0;
    car->joined_count = car->joined_capped = 0;
    car->difference_count = car->missing_count = 0;
    car->reading = PLW_NONE;
    for (uint32_t i = 0; i < car->plate_count; i++) {
        plwi_plate *plate = &car->plates[i];
        plate->verdict = 0;
        plate->alignment = (plwi_alignment){ .row = PLW_NONE, .taken = PLW_TAKEN_NOT };
    }
    plwi_forget_dates(car);
    plwi_clear(&car->result, car->tables);
    plwi_clear(&car->scratch, car->tables);
}

static void start(plw_car *car)
{
    car->tables = NULL;
    car->result.names = car->scratch.names = NULL;
    plw_car_clear(car);
}

size_t plw_car_size(void)
{
    return sizeof(plw_car);
}

int32_t plw_car_place(void *memory, size_t size, plw_car **car)
{
    if (car == NULL)
        return PLW_E_ARGUMENT;
    *car = NULL;
    int32_t status = plwi_can_hold(memory, size, sizeof(plw_car));
    if (status != PLW_OK)
        return status;
    *car = memory;
    start(*car);
    return PLW_OK;
}

int32_t plw_car_new(plw_car **car)
{
    if (car == NULL)
        return PLW_E_ARGUMENT;
    *car = plwi_allocate(sizeof(plw_car));
    if (*car == NULL)
        return PLW_E_MEMORY;
    start(*car);
    return PLW_OK;
}

void plw_car_free(plw_car *car)
{
    plwi_release(car);
}

void plw_car_clear(plw_car *car)
{
    if (car == NULL)
        return;
    car->plate_count = car->date_count = 0;
    plwi_car_forget(car);
}

int32_t plw_car_use_names(plw_car *car, const plw_names *names)
{
    if (car == NULL)
        return PLW_E_ARGUMENT;
    car->result.names = car->scratch.names = names;
    return PLW_OK;
}

int32_t plw_car_add_plate(plw_car *car, int32_t place, const char *text, size_t length)
{
    if (car == NULL || !is_place(place) || (text == NULL && length > 0))
        return PLW_E_ARGUMENT;
    if (length > PLW_MAX_TEXT || car->plate_count == PLW_MAX_PLATES)
        return PLW_E_TOO_LONG;
    plwi_plate *plate = &car->plates[car->plate_count++];
    plate->place = place;
    plwi_normalise(text, length, &plate->number);
    plwi_car_forget(car);
    return PLW_OK;
}

/* ---- the whole ----------------------------------------------------------------- */

int32_t plw_car_verdict(const plw_car *car)
{
    return car ? car->verdict : 0;
}

const char *plw_plate_verdict_name(int32_t verdict)
{
    switch (verdict) {
    case PLW_PLATE_AGREES:
        return "agrees";
    case PLW_PLATE_DIFFERS:
        return "differs";
    case PLW_PLATE_CANNOT_COMPARE:
        return "cannot-compare";
    case PLW_PLATE_NOT_EXPECTED:
        return "not-expected";
    default:
        return "";
    }
}

int32_t plw_car_check_claims(plw_car *car, const char *claims, size_t length)
{
    return plw_check_claims(car ? &car->result : NULL, claims, length);
}

const plw_result *plw_car_result(const plw_car *car)
{
    return car ? &car->result : NULL;
}

uint32_t plw_car_reading(const plw_car *car)
{
    return car ? car->reading : PLW_NONE;
}

/* ---- plates ---------------------------------------------------------------------- */

static const plwi_plate *plate_at(const plw_car *car, uint32_t index)
{
    return car && index < car->plate_count ? &car->plates[index] : NULL;
}

static uint32_t kept(const plwi_number *number)
{
    return number->count < MAX_POSITIONS ? number->count : MAX_POSITIONS;
}

static void put_number(plwi_writer *writer, const plwi_number *number)
{
    for (uint32_t p = 0; p < kept(number); p++)
        plwi_put_typed(writer, &number->cell[p]);
}

uint32_t plw_plate_count(const plw_car *car)
{
    return car ? car->plate_count : 0;
}

int32_t plw_plate_place(const plw_car *car, uint32_t plate)
{
    const plwi_plate *p = plate_at(car, plate);
    return p ? p->place : 0;
}

int32_t plw_plate_number(const plw_car *car, uint32_t plate, char *buffer, size_t capacity,
                         size_t *needed)
{
    const plwi_plate *p = plate_at(car, plate);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (p == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    put_number(&writer, &p->number);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_plate_taken(const plw_car *car, uint32_t plate)
{
    const plwi_plate *p = plate_at(car, plate);
    return p ? p->alignment.taken : PLW_TAKEN_NOT;
}

uint32_t plw_plate_row(const plw_car *car, uint32_t plate)
{
    const plwi_plate *p = plate_at(car, plate);
    return p ? p->alignment.row : PLW_NONE;
}

uint32_t plw_plate_positions(const plw_car *car, uint32_t plate)
{
    const plwi_plate *p = plate_at(car, plate);
    return p ? p->alignment.positions : 0;
}

int32_t plw_plate_shows(const plw_car *car, uint32_t plate, uint32_t position, char *buffer,
                        size_t capacity, size_t *needed)
{
    const plwi_plate *p = plate_at(car, plate);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (p == NULL || position == 0 || position > MAX_POSITIONS)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    if (p->alignment.positions >> (position - 1) & 1)
        plwi_put_typed(&writer, &p->number.cell[p->alignment.cell[position - 1]]);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_plate_verdict(const plw_car *car, uint32_t plate)
{
    const plwi_plate *p = plate_at(car, plate);
    return p ? p->verdict : 0;
}

uint32_t plw_plate_compared(const plw_car *car, uint32_t plate, uint32_t other)
{
    const plwi_plate *a = plate_at(car, plate), *b = plate_at(car, other);
    if (a == NULL || b == NULL || a == b)
        return 0;
    return a->alignment.readable & b->alignment.readable;
}

uint32_t plw_plate_differs(const plw_car *car, uint32_t plate, uint32_t other)
{
    uint32_t compared = plw_plate_compared(car, plate, other), differs = 0;
    for (; compared; compared &= compared - 1) {
        unsigned p = plwi_lowest_bit(compared);
        if (!(car->plates[plate].alignment.sets[p] & car->plates[other].alignment.sets[p]))
            differs |= UINT32_C(1) << p;
    }
    return differs;
}

int32_t plw_plate_sentence(const plw_car *car, uint32_t plate, char *buffer, size_t capacity,
                           size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (plate_at(car, plate) == NULL || car->verdict == 0)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_plate_sentence(&writer, car, plate);
    return plwi_writer_end(&writer, needed);
}

/* ---- differences -------------------------------------------------------------------- */

static const plwi_difference *difference_at(const plw_car *car, uint32_t index)
{
    return car && index < car->difference_count ? &car->differences[index] : NULL;
}

uint32_t plw_difference_count(const plw_car *car)
{
    return car ? car->difference_count : 0;
}

uint32_t plw_difference_position(const plw_car *car, uint32_t difference)
{
    const plwi_difference *d = difference_at(car, difference);
    return d ? d->position + 1 : 0;
}

int32_t plw_difference_shows(const plw_car *car, uint32_t difference, char *buffer, size_t capacity,
                             size_t *needed)
{
    const plwi_difference *d = difference_at(car, difference);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (d == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_choice(&writer, d->set);
    return plwi_writer_end(&writer, needed);
}

uint32_t plw_difference_plates(const plw_car *car, uint32_t difference)
{
    const plwi_difference *d = difference_at(car, difference);
    return d ? d->plates : 0;
}

uint32_t plw_difference_year_count(const plw_car *car, uint32_t difference)
{
    const plwi_difference *d = difference_at(car, difference);
    return d ? plwi_years_count(d->years) : 0;
}

int32_t plw_difference_year(const plw_car *car, uint32_t difference, uint32_t index)
{
    const plwi_difference *d = difference_at(car, difference);
    return d ? plwi_years_at(d->years, index) : 0;
}

uint32_t plw_difference_row_count(const plw_car *car, uint32_t difference)
{
    const plwi_difference *d = difference_at(car, difference);
    return d ? d->row_count : 0;
}

uint32_t plw_difference_row(const plw_car *car, uint32_t difference, uint32_t index)
{
    const plwi_difference *d = difference_at(car, difference);
    return d && index < d->row_count ? d->rows[index] : PLW_NONE;
}

int32_t plw_difference_sentence(const plw_car *car, uint32_t difference, char *buffer,
                                size_t capacity, size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (difference_at(car, difference) == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_difference_sentence(&writer, car, difference);
    return plwi_writer_end(&writer, needed);
}

/* ---- expected but not given ------------------------------------------------------------ */

static const plwi_missing *missing_at(const plw_car *car, uint32_t index)
{
    return car && index < car->missing_count ? &car->missing[index] : NULL;
}

uint32_t plw_missing_count(const plw_car *car)
{
    return car ? car->missing_count : 0;
}

int32_t plw_missing_place(const plw_car *car, uint32_t missing)
{
    const plwi_missing *m = missing_at(car, missing);
    return m ? m->place : 0;
}

uint32_t plw_missing_row(const plw_car *car, uint32_t missing)
{
    const plwi_missing *m = missing_at(car, missing);
    return m ? m->row : PLW_NONE;
}

int32_t plw_missing_sentence(const plw_car *car, uint32_t missing, char *buffer, size_t capacity,
                             size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (missing_at(car, missing) == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_missing_sentence(&writer, car, missing);
    return plwi_writer_end(&writer, needed);
}

/* ---- joined numbers ---------------------------------------------------------------------- */

uint32_t plw_joined_count(const plw_car *car)
{
    return car ? car->joined_count : 0;
}

int32_t plw_joined_capped(const plw_car *car)
{
    return car ? (int32_t)car->joined_capped : 0;
}

uint32_t plw_joined_scheme(const plw_car *car, uint32_t joined)
{
    if (car == NULL || joined >= car->joined_count)
        return PLW_NONE;
    return plwi_layout_scheme(plwi_image(car->tables), car->joined[joined].layout);
}

int32_t plw_joined_number(const plw_car *car, uint32_t joined, char *buffer, size_t capacity,
                          size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (car == NULL || joined >= car->joined_count)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    put_number(&writer, &car->joined[joined].number);
    return plwi_writer_end(&writer, needed);
}

/* ---- advice --------------------------------------------------------------------------------- */

uint32_t plw_advice_count(const plw_car *car)
{
    uint32_t count = 0;
    plwi_writer nowhere = plwi_writer_on(NULL, 0);
    while (car && plwi_put_advice(&nowhere, car, count))
        count++;
    return count;
}

int32_t plw_advice_sentence(const plw_car *car, uint32_t advice, char *buffer, size_t capacity,
                            size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (car == NULL || !plwi_put_advice(&writer, car, advice))
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    return plwi_writer_end(&writer, needed);
}
