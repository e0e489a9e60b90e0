/* SPDX-License-Identifier: MIT
 *
 * A car: its plates, and what compare found out about them.
 */
#ifndef PLW_CAR_H
#define PLW_CAR_H

#include "dates.h"
#include "internal.h"

/* How the characters of a plate lie on the positions of the full number. */
typedef struct plwi_alignment {
    uint32_t row;                 /* what tells which characters it repeats, or PLW_NONE */
    uint32_t positions;           /* those it repeats */
    uint32_t readable;            /* those of them that are no '?' */
    uint32_t strange;             /* those whose character cannot stand there */
    uint32_t strays;              /* characters read as another, or strange */
    uint8_t taken;                /* PLW_TAKEN_ */
    uint8_t cell[MAX_POSITIONS];  /* by position that it repeats: the character of the plate */
    uint64_t sets[MAX_POSITIONS]; /* and what it can be */
} plwi_alignment;

typedef struct plwi_plate {
    int32_t place;
    int32_t verdict;
    plwi_number number;
    plwi_alignment alignment;
} plwi_plate;

/* A layout that the plates can lie on, and what they say together. */
typedef struct plwi_joined {
    uint32_t layout;
    uint32_t understood; /* plates */
    uint32_t differing;  /* positions */
    uint32_t natural;    /* plates taken as one expects of their place */
    uint32_t full;       /* plates taken as full numbers */
    uint32_t strays;
    int32_t score;
    plwi_number number;
} plwi_joined;

#define DIFFERENCE_ROWS 4

typedef struct plwi_difference {
    uint64_t set;
    plwi_years years;
    uint32_t position; /* from 0 */
    uint32_t plates;   /* a bit each */
    uint32_t field;    /* of the image, or PLW_NONE */
    uint32_t row_count;
    uint32_t rows[DIFFERENCE_ROWS];
} plwi_difference;

typedef struct plwi_missing {
    int32_t place;
    uint32_t row;
} plwi_missing;

#define PLACE_COUNT 7

struct plw_car {
    const plw_tables *tables;
    int32_t verdict; /* 0: not compared */
    uint32_t plate_count;
    uint32_t joined_count;
    uint32_t joined_capped;
    uint32_t difference_count;
    uint32_t missing_count;
    uint32_t reading; /* of the result, or PLW_NONE */
    plwi_plate plates[PLW_MAX_PLATES];
    plwi_joined joined[PLW_MAX_JOINED];
    plwi_difference differences[PLW_MAX_DIFFERENCES];
    plwi_missing missing[PLACE_COUNT];
    int32_t date_verdict; /* 0: not compared, or no dates */
    uint32_t date_count;
    plwi_days built; /* days on which the car can have been built; 0: not known */
    plwi_date dates[PLW_MAX_DATES];
    plw_result result;
    plw_result scratch;
};

/* Forgets what was compared. */
void plwi_car_forget(plw_car *car);

/* ---- stamp: what the tables say about plates and stamps ------------------ */

#define MAX_STAMPS 64 /* of a scheme; more are not looked at */

/* A row that tells where a car bears its number or a part of it. */
typedef struct plwi_stamp {
    uint32_t row;
    uint32_t places;     /* bit 0 is place 1 */
    const char *repeats; /* "year+plant", "none", or "" for the whole number */
    int ruled_out;       /* its conditions cannot hold for this car */
} plwi_stamp;

/* Fills the list with the scheme's stamps and returns how many there are. */
uint32_t plwi_stamps(image_t image, uint32_t scheme, plwi_stamp stamps[MAX_STAMPS]);
/* The positions of a layout, from 0, that a stamp repeats, in its order; returns
 * how many, or 0 when it repeats no part. */
uint32_t plwi_stamp_positions(image_t image, uint32_t layout, const plwi_stamp *stamp,
                              uint8_t positions[MAX_POSITIONS]);
int plwi_stamp_is_partial(const plwi_stamp *stamp);
int plwi_stamp_repeats_nothing(const plwi_stamp *stamp);
/* The text a row states under the name of an attribute, or "". */
const char *plwi_stated_text(image_t image, const unsigned char *row, const char *name);

/* ---- compare and what it shares with the sentences ----------------------- */

/* Positions at which all readable plates together leave no character. */
uint32_t plwi_contradictions(const plw_car *car);
/* Model years of the readings on the layout that the comparison rests on. */
plwi_years plwi_car_years(const plw_car *car);

/* ---- dates ---------------------------------------------------------------- */

void plwi_forget_dates(plw_car *car);
/* Once the plates are compared. */
void plwi_judge_dates(plw_car *car);
void plwi_put_date_sentence(plwi_writer *out, const plw_car *car, uint32_t index);

/* ---- car_sentence -------------------------------------------------------- */

void plwi_put_plate_sentence(plwi_writer *out, const plw_car *car, uint32_t plate);
void plwi_put_difference_sentence(plwi_writer *out, const plw_car *car, uint32_t difference);
void plwi_put_missing_sentence(plwi_writer *out, const plw_car *car, uint32_t missing);
/* "engine stamp", with its number where the place was given more than once. */
void plwi_put_plate_name(plwi_writer *out, const plw_car *car, uint32_t plate);

/* "8" or "[8B]" */
void plwi_put_choice(plwi_writer *out, uint64_t set);

/* One piece of advice, by index; 0 when there is none of that index. */
int plwi_put_advice(plwi_writer *out, const plw_car *car, uint32_t index);

#endif
