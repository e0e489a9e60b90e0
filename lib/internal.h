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

/* A code point of a text and the bytes it takes. */
typedef struct plwi_unit {
    uint32_t code;
    uint32_t length;
} plwi_unit;

#define INVALID_UNIT 0xFFFDu /* also the replacement character, of three bytes */

/* Bytes that are not UTF-8 come back one by one as INVALID_UNIT. */
plwi_unit plwi_next_unit(const unsigned char *text, size_t left);
/* Signs that would disturb the text they are shown in: controls, and marks that
 * turn the direction of writing. */
int plwi_is_unshowable(uint32_t code_point);

/* One character of the alphabet ("7", "K") by its bit. */
char plwi_character(unsigned bit);
/* A capital letter made small, whatever the locale says. */
static inline char plwi_small(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

/* The bit of a capital letter or digit, or ODD_CHARACTER. */
unsigned plwi_character_bit(uint32_t code_point);

/* ---- match: positions -> layouts -------------------------------------- */

#define MAX_LAYOUTS 32     /* layouts tried for one number */
#define MAX_STRAYS 4       /* characters of one number that may be read as another or not fit */

/* Fills layouts with those that fit best: all that fit as they are, or else
 * those with the fewest misread characters, or else those with the fewest
 * misfits. Returns how many there are; more than MAX_LAYOUTS are not kept. */
uint32_t plwi_match(image_t image, const plwi_number *number, uint32_t layouts[MAX_LAYOUTS]);

/* The same for a number that is being typed: a bit for each of the layouts
 * (64 * word and on) of that length, not below the number's, whose first
 * positions take the characters; misread: those that take 1 to MAX_STRAYS of
 * them only as others. */
uint64_t plwi_match_start(image_t image, const plwi_number *number, uint32_t length,
                          uint32_t word, int misread);

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
    uint8_t standing;   /* the best among its rows, or STANDING_COUNT */
    uint8_t any_marks;  /* of its rows */
    uint8_t all_marks;  /* those that each of its rows has */
    plwi_years years;   /* what it allows by itself */
} plwi_slot;

typedef struct plwi_reading {
    plwi_years years;
    uint32_t layout;
    int32_t score;
    uint64_t sets[MAX_POSITIONS]; /* the characters this reading takes */
    uint32_t misread;             /* positions of enum place_state, a bit each */
    uint32_t misfit;
    uint32_t unreadable;
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
    int8_t outside;   /* a run row: -1 the number lies below it, 1 above */
    uint8_t rank;     /* how far it stands above general rows */
    uint8_t standing; /* of the row, as its marks */
    uint8_t marks;
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

#define MAX_BEGUN 256 /* schemes listed for the beginning of a number */

/* What the beginning of a number leaves open. */
typedef struct plwi_prefix {
    uint64_t allowed; /* characters that can come next */
    uint64_t known;   /* those that lead on to what the tables list */
    uint8_t state;    /* PLW_PREFIX_ */
    uint8_t left_min; /* characters still to come */
    uint8_t left_max;
    uint16_t scheme_count;
    uint16_t scheme[MAX_BEGUN];
} plwi_prefix;

#define MAX_CHANGES 2
#define NO_PAIR UINT16_MAX /* a change that rests on no misread pair */

/* Another number that would hold: the characters that are changed. */
typedef struct plwi_suggestion {
    uint8_t change_count;
    uint8_t position[MAX_CHANGES]; /* from 0 */
    uint8_t meant[MAX_CHANGES];    /* character bit */
    uint16_t pair[MAX_CHANGES];    /* record of MISREADS */
    uint8_t grade;
    uint8_t check;                 /* PLW_CHECK_ of its best reading */
    uint16_t doubts;               /* that stay */
} plwi_suggestion;

typedef struct plwi_suggestions {
    uint8_t asked;  /* they were looked for */
    uint8_t count;
    uint16_t found; /* may exceed count */
    plwi_suggestion item[PLW_MAX_SUGGESTIONS];
} plwi_suggestions;

/* What the rows say to a claim. */
typedef struct plwi_evidence {
    uint64_t attributes; /* of the image, that were looked at */
    uint32_t parts;      /* set of enum claim_part */
    uint32_t positions;
    uint8_t verdict;     /* PLW_VERDICT_ */
    uint8_t reason;      /* PLW_REASON_ */
    uint8_t reading;     /* whose rows these are, or NO_READING */
    uint8_t from_scheme; /* facts of the scheme take part */
    uint32_t row_count;
    uint32_t row[PLW_MAX_CLAIM_ROWS];
} plwi_evidence;

typedef struct plwi_claim {
    uint16_t name; /* offsets in plwi_claims.text */
    uint16_t name_length;
    uint16_t value;
    uint16_t value_length;
    uint8_t about;      /* enum claim_about */
    uint8_t supporting; /* the reading that supports it, or NO_READING */
    plwi_evidence evidence;
} plwi_claim;

typedef struct plwi_claims {
    uint32_t count;
    plwi_claim item[PLW_MAX_CLAIMS];
    char text[PLW_MAX_CLAIM_TEXT];
} plwi_claims;

struct plw_result {
    const plw_tables *tables;
    const plw_names *names; /* the host's; stays from call to call */
    plwi_number number;
    uint32_t reading_count;
    uint32_t slot_count;
    uint32_t row_count;
    uint32_t finding_count;
    uint32_t length_known; /* some layout has this length */
    uint32_t capped;       /* more was found than is kept */
    int32_t grade;
    plwi_prefix prefix;
    plwi_suggestions suggestions;
    plwi_reading readings[PLW_MAX_READINGS];
    plwi_slot slots[MAX_SLOTS];
    uint32_t rows[MAX_ROWS];
    plwi_finding findings[PLW_MAX_FINDINGS + 1]; /* the last is written, and not counted */
    plwi_claims claims;
    plwi_candidate candidates[MAX_CANDIDATES];
};

/* Empties a result for a call with these tables. Its names stay. */
void plwi_clear(plw_result *result, const plw_tables *tables);

/* The record of a finding code: the image was checked to have one for each. */
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

/* 1 when one of these facts names the maker of the hint. */
int plwi_facts_name_maker(image_t image, uint32_t first, uint32_t count, const plwi_hints *hints);

/* Checks the arguments that all verbs share. */
int32_t plwi_verb_arguments(const char *text, size_t length, const char *hints, uint32_t flags,
                            plwi_hints *read);

void plwi_decode(const plw_tables *tables, const char *text, size_t length,
                 const plwi_hints *hints, plw_result *result);
/* The same for a number that is already read into positions. */
void plwi_decode_number(const plw_tables *tables, const plwi_number *number,
                        const plwi_hints *hints, plw_result *result);
void plwi_validate(plw_result *result);

/* Puts the readings in order, best first. */
void plwi_rank(plw_result *result);

/* How well a reading fits, for ranking; more is better. */
int32_t plwi_score(const plw_result *result, const plwi_reading *reading,
                   const plwi_hints *hints);

/* ---- solve: one layout -> its readings --------------------------------- */

/* The characters a layout allows at a position, from 0. */
uint64_t plwi_class(image_t image, const unsigned char *layout, uint32_t position);

/* What typed characters are where only those of the class may stand, and how
 * they stand there (enum place_state). */
uint64_t plwi_take(image_t image, uint64_t typed, uint64_t class, uint8_t *place);

/* 1 when the characters a reading takes at these positions can spell one of
 * the row's codes. Not for running numbers, whose rows are ranges. */
int plwi_row_reads(image_t image, uint32_t row, const plwi_reading *reading, uint32_t positions);

/* The same for a list of codes of the image. */
int plwi_can_read(image_t image, const plwi_reading *reading, uint32_t positions, uint32_t code,
                  uint32_t count);

/* The group of rows of one code, by the hash index; NULL when it has none. */
const unsigned char *plwi_find_group(image_t image, uint32_t field, uint64_t code);

/* Adds the readings of one layout to the result. */
void plwi_solve(plw_result *result, uint32_t layout, const plwi_hints *hints);

/* ---- settle: readings -> codes that would settle the model year ---------- */

/* Codes of one field that only one of several possible readings or years allows. */
typedef struct plwi_settling {
    plwi_years years; /* what they settle for */
    uint32_t reading; /* the reading that has these years */
    uint32_t field;   /* slot of that reading */
} plwi_settling;

#define MAX_SETTLING_CODES 1024 /* of one field; more are not listed */

/* Fills the list by scheme, position and choice, and returns its length. */
uint32_t plwi_settlings(const plw_result *result, plwi_settling list[PLW_MAX_SETTLINGS]);

/* The codes, packed and sorted; returns how many there are. */
uint32_t plwi_settling_codes(const plw_result *result, const plwi_settling *settling,
                             uint64_t codes[MAX_SETTLING_CODES]);
void plwi_put_settling_code(plwi_writer *writer, uint64_t code);
/* "B, F, H or M"; of many the first ones and how many more there are. */
void plwi_put_settling_codes(plwi_writer *writer, const uint64_t *codes, uint32_t count);

/* ---- check characters ------------------------------------------------- */

/* The state (PLW_CHECK_) of the check that the sets are held against, and the
 * character it should be (0 when that cannot be told). */
int32_t plwi_check(const unsigned char *check, const uint64_t sets[MAX_POSITIONS],
                   uint32_t position, uint8_t *expected);

/* ---- possible: what one position can be --------------------------------- */

/* The characters a reading leaves open at a position, from 0: those with which
 * every field that lists its codes still has one. */
uint64_t plwi_possible(const plw_result *result, const plwi_reading *reading, uint32_t position);

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
void plwi_put_positions(plwi_writer *out, uint32_t positions);
void plwi_put_sentence(plwi_writer *writer, const plw_result *result,
                       const plwi_finding *finding);

#endif
