/* SPDX-License-Identifier: MIT
 *
 * What the steps of a number's way share: the number as read, the readings,
 * and the result that holds them. A step's functions are used only by the
 * steps behind it: normalise, match, decode, validate, explain.
 */
#ifndef PLW_INTERNAL_H
#define PLW_INTERNAL_H

#include <stddef.h>
#include <stdint.h>

#include "image.h"
#include "platewright.h"
#include "writer.h"

/* ---- normalise: bytes -> positions ------------------------------------ */

typedef struct plwi_cell {
    uint64_t set;    /* the characters it can be; bit ODD_CHARACTER: something else */
    uint32_t shown;  /* code point as read; '?' unreadable, or SHOWN_ALTERNATIVES */
    uint16_t offset; /* bytes of the text it came from */
    uint16_t length;
} plwi_cell;

#define SHOWN_ALTERNATIVES 0 /* "[8B]", spelled out from the set */

typedef struct plwi_number {
    uint32_t count; /* may exceed MAX_POSITIONS; cells beyond are not kept */
    plwi_cell cell[MAX_POSITIONS];
} plwi_number;

void plwi_normalise(const char *text, size_t length, plwi_number *number);

/* One character of the alphabet ("7", "K") by its bit. */
char plwi_character(unsigned bit);
/* The bit of a capital letter or digit, or ODD_CHARACTER. */
unsigned plwi_character_bit(uint32_t code_point);
unsigned plwi_lowest_bit(uint64_t set);
int plwi_is_single(uint64_t set);

/* ---- match: positions -> layouts -------------------------------------- */

#define MAX_LAYOUTS 32     /* layouts tried for one number */
#define MAX_STRAYS 4       /* characters of one number that may be read as another or not fit */

/* Fills layouts with those that fit best: all that fit as they are, or else
 * those with the fewest misread characters, or else those with the fewest
 * misfits. Returns how many there are; more than MAX_LAYOUTS are not kept. */
uint32_t plwi_match(image_t image, const plwi_number *number, uint32_t layouts[MAX_LAYOUTS]);

/* ---- decode: layouts -> readings -------------------------------------- */

enum place_state {
    PLACE_FITS,
    PLACE_MISREAD,    /* read as another character */
    PLACE_MISFIT,     /* cannot stand there; taken as unreadable */
    PLACE_UNREADABLE  /* more than one character is possible */
};

enum slot_rule {
    RULE_NONE,
    RULE_BELOW,    /* slot.rule_row is the run row it lies below */
    RULE_ABOVE,
    RULE_NOT_BUILT, /* slot.rule_row is the closed rule */
    RULE_REQUIRED   /* slot.rule_row is the required rule of the check character */
};

/* A field of a reading. */
typedef struct plwi_slot {
    uint32_t span;
    uint32_t rule_row;
    uint16_t row;       /* first in result->rows */
    uint16_t row_count;
    uint8_t state;      /* PLW_FIELD_ */
    uint8_t rule;       /* enum slot_rule */
    uint8_t conditional; /* unknown, but the tables know it under another condition */
    uint8_t narrows;    /* its years took part in choosing the model years */
    uint8_t overlay;    /* adds detail to other fields at the same positions */
    uint8_t cut;        /* more rows than the result can list */
    plwi_years years;   /* what it allows by itself */
} plwi_slot;

typedef struct plwi_reading {
    plwi_years years;
    uint32_t layout;
    int32_t score;
    uint64_t sets[MAX_POSITIONS]; /* the characters this reading takes */
    uint8_t place[MAX_POSITIONS]; /* enum place_state */
    uint16_t slot;                /* first in result->slots; they stand by position */
    uint8_t slot_count;
    uint8_t check;                /* PLW_CHECK_ */
    uint8_t expected;             /* character of the check, or 0 */
    uint8_t grade;
} plwi_reading;

/* One row that may hold, while a layout is being solved. */
typedef struct plwi_candidate {
    plwi_years holds; /* years in which it can hold */
    plwi_years sure;  /* years in which its conditions surely hold */
    uint32_t row;
    int32_t outside;  /* a run row: -1 the number lies below it, 1 above */
} plwi_candidate;

typedef struct plwi_finding {
    uint64_t set;       /* characters that are possible */
    uint32_t positions;
    uint32_t slots;     /* set of slots of the reading, or a count */
    uint8_t code;
    uint8_t grade;
    uint8_t reading;    /* NO_READING for the whole number */
    uint8_t slot;       /* NO_SLOT when it speaks of no single field */
} plwi_finding;

#define NO_READING 255
#define NO_SLOT 255
#define MAX_SLOTS 512
#define MAX_ROWS 2048      /* rows listed in one result */
#define MAX_CANDIDATES 768 /* rows considered for one layout */

struct plw_result {
    const plw_tables *tables;
    plwi_number number;
    uint32_t reading_count;
    uint32_t slot_count;
    uint32_t row_count;
    uint32_t finding_count;
    uint32_t length_known; /* some layout has this length */
    uint32_t capped;       /* more was found than is kept */
    int32_t grade;
    plwi_reading readings[PLW_MAX_READINGS];
    plwi_slot slots[MAX_SLOTS];
    uint32_t rows[MAX_ROWS];
    plwi_finding findings[PLW_MAX_FINDINGS];
    plwi_candidate candidates[MAX_CANDIDATES];
};

/* Empties a result for a call with these tables. */
void plwi_clear(plw_result *result, const plw_tables *tables);

/* The vocabulary's record of a finding code, or NULL. */
const unsigned char *plwi_finding_record(image_t image, int32_t code);

/* What the host believes; parsed from the hint text. Texts are borrowed. */
typedef struct plwi_hints {
    const char *maker;
    size_t maker_length;
    const char *scheme;
    size_t scheme_length;
    int32_t year; /* 0 when not given */
} plwi_hints;

int32_t plwi_hints_read(const char *text, plwi_hints *hints);

/* Checks the arguments that all verbs share. */
int32_t plwi_verb_arguments(const char *text, size_t length, const char *hints, uint32_t flags,
                            plwi_hints *read);

void plwi_decode(const plw_tables *tables, const char *text, size_t length,
                 const plwi_hints *hints, plw_result *result);
void plwi_validate(plw_result *result);

/* How well a reading fits, for ranking; more is better. */
int32_t plwi_score(const plw_result *result, const plwi_reading *reading,
                   const plwi_hints *hints);

/* ---- solve: one layout -> its readings --------------------------------- */

/* 1 when the characters a reading takes at these positions can spell one of
 * the row's codes. Not for running numbers, whose rows are ranges. */
int plwi_row_reads(image_t image, uint32_t row, const plwi_reading *reading, uint32_t positions);

/* The same for a list of codes of the image. */
int plwi_can_read(image_t image, const plwi_reading *reading, uint32_t positions, uint32_t code,
                  uint32_t count);

/* Adds the readings of one layout to the result. */
void plwi_solve(plw_result *result, uint32_t layout, const plwi_hints *hints);

/* ---- check characters ------------------------------------------------- */

/* The state (PLW_CHECK_) of the check that the sets are held against, and the
 * character it should be (0 when that cannot be told). */
int32_t plwi_check(const unsigned char *check, const uint64_t sets[MAX_POSITIONS],
                   uint32_t position, uint8_t *expected);

/* ---- shared by result, sentence and explain --------------------------- */

const plwi_slot *plwi_slot_at(const plw_result *result, uint32_t reading, uint32_t field);
uint32_t plwi_slot_positions(image_t image, const plwi_slot *slot);
uint32_t plwi_slot_field(image_t image, const plwi_slot *slot);
void plwi_put_slot_code(plwi_writer *writer, const plw_result *result,
                        const plwi_reading *reading, const plwi_slot *slot);
void plwi_put_set(plwi_writer *writer, uint64_t set);
/* A character as it was typed. */
void plwi_put_typed(plwi_writer *writer, const plwi_cell *cell);
void plwi_put_years(plwi_writer *writer, plwi_years years);
void plwi_put_sentence(plwi_writer *writer, const plw_result *result,
                       const plwi_finding *finding);

#endif
