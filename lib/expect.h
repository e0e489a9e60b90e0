/* SPDX-License-Identifier: MIT
 *
 * Expect: from claims to the numbers that could bear them. A pattern is a set of
 * characters for each position of a layout; a search finds the patterns of one
 * layout, one model year at a time.
 */
#ifndef PLW_EXPECT_H
#define PLW_EXPECT_H

#include "car.h"
#include "claims.h"
#include "internal.h"

/* ---- patterns ------------------------------------------------------------ */

typedef struct plwi_pattern {
    plwi_years years;
    uint64_t sets[MAX_POSITIONS];
    uint32_t layout;
    uint32_t told;  /* set of claims that it rests on; the others are open */
    int32_t hints;  /* that it meets */
    uint8_t standing; /* the weakest of what it rests on */
    uint8_t marks;
    uint8_t rows_cut; /* more rows than are kept */
    uint8_t row_count;
    uint32_t rows[PLW_MAX_PATTERN_ROWS];
} plwi_pattern;

#define MAX_FOUND 256 /* patterns of one layout, before they are ranked */

typedef struct plwi_found {
    uint32_t count;
    uint32_t capped; /* there was no room for some */
    plwi_pattern item[MAX_FOUND];
} plwi_found;

/* Adds a pattern. One that differs from another of the same layout and claims in
 * one position at most is joined with it: together they cover no number that
 * neither covers. */
void plwi_add_pattern(plwi_found *found, const plwi_pattern *pattern, uint32_t length);
/* Joins whatever can still be joined. */
void plwi_join_patterns(plwi_found *found, uint32_t length);
void plwi_add_pattern_row(plwi_pattern *pattern, image_t image, uint32_t row);

/* Joins a pattern of another layout of the scheme that is written the same; 0 when
 * it is not. */
int plwi_join_same(plwi_pattern *to, const plwi_pattern *from, image_t image);

/* The pattern in the notation of damaged numbers; in at most PLW_MAX_TEXT bytes,
 * for which its longest brackets become '?' if need be. */
void plwi_put_pattern(plwi_writer *out, image_t image, const plwi_pattern *pattern);
/* "100001+": the running numbers that the tables know for it, or nothing. */
void plwi_put_pattern_range(plwi_writer *out, image_t image, const plwi_pattern *pattern);

/* ---- boxes: sets of codes as sets of characters ---------------------------- */

/* Codes that one set for each character tells. */
typedef struct plwi_box {
    uint64_t set[MAX_CODE_WIDTH];
} plwi_box;

#define MAX_BOXES 1024 /* of all fields on the way to one pattern */

/* The boxes of fields that are being chosen, those of the last field on top. */
typedef struct plwi_boxes {
    uint32_t count;
    plwi_box item[MAX_BOXES];
} plwi_boxes;

/* Boxes that together hold these codes, of width characters, and no other; where
 * there is no room for them, one that holds them all. They go on top. */
void plwi_boxes_of_codes(plwi_boxes *boxes, const uint64_t *codes, uint32_t count,
                         unsigned width);
/* The same for the running numbers from low to high, as far as the first
 * characters tell them. */
void plwi_boxes_of_run(plwi_boxes *boxes, uint64_t low, uint64_t high, unsigned width);
/* Boxes that hold all of around but these codes, which rise. */
void plwi_boxes_around(plwi_boxes *boxes, const plwi_box *around, const uint64_t *codes,
                       uint32_t count, unsigned width);

/* ---- what is asked ---------------------------------------------------------- */

/* One part of one claim. */
typedef struct plwi_question {
    uint8_t claim;
    uint8_t part;     /* enum claim_part */
    uint8_t known;    /* a text: the tables use the name */
    uint8_t scheme;   /* enum outcome: what the facts of the scheme say */
} plwi_question;

#define MAX_QUESTIONS (PLW_MAX_CLAIMS * 5) /* no value states more parts that rows tell */
#define CACHED_QUESTIONS 8u
#define CACHED_ROWS 4096u
#define NOT_CACHED 255u

typedef struct plwi_inquiry {
    image_t image;
    uint32_t understood; /* sets of claims */
    uint32_t years;
    uint32_t sequences;
    uint32_t strangers; /* those of a maker whom no table knows */
    int excludes_strangers; /* there are some, and the scheme at hand names its maker */
    uint32_t active; /* claims that take part; the others are left aside */
    uint32_t question_count;
    plwi_question questions[MAX_QUESTIONS];
    plwi_wanted wanted[PLW_MAX_CLAIMS];
    plwi_judge judges[PLW_MAX_CLAIMS];
    uint32_t cached_scheme;
    uint8_t cache[CACHED_QUESTIONS][CACHED_ROWS]; /* outcomes of the rows of one scheme */
} plwi_inquiry;

void plwi_open_inquiry(plwi_inquiry *inquiry, image_t image, const plwi_claims *claims);
/* Turns to another scheme. */
void plwi_inquire_scheme(plwi_inquiry *inquiry, uint32_t scheme);
/* What a row of that scheme says to a question. */
enum outcome plwi_ask_row(plwi_inquiry *inquiry, uint32_t question, uint32_t row);
/* 1 when the question takes part. */
int plwi_is_asked(const plwi_inquiry *inquiry, uint32_t index);
/* 1 when every claim about the year that takes part allows it. */
int plwi_year_is_claimed(const plwi_inquiry *inquiry, int year);

/* ---- the rows of one layout in one year --------------------------------------- */

#define MAX_EXPECT_ROWS 4096
#define MAX_ENTRIES 4096
#define MAX_STATED 64 /* different conditions; of more it is open whether they hold */

typedef struct plwi_expect_row {
    uint32_t row;
    uint64_t needs; /* set of conditions */
    uint8_t rank;   /* how far it stands above general rows */
} plwi_expect_row;

/* A code of a field, or a range of running numbers, and its rows. */
typedef struct plwi_entry {
    uint64_t low;
    uint64_t high;
    uint16_t first;
    uint16_t count;
    uint64_t sign;   /* set by the search: entries that say the same have the same */
    uint8_t visited; /* likewise */
} plwi_entry;

typedef struct plwi_expect_field {
    const unsigned char *record;
    uint32_t field;
    uint32_t positions;
    uint8_t kind;
    uint8_t width;
    uint8_t overlay;
    uint8_t bears;   /* its codes matter */
    uint8_t claimed; /* it states what is claimed, or tells the year */
    uint8_t asked;   /* conditions of other rows ask for it */
    uint8_t loaded;
    uint8_t places[MAX_POSITIONS];
    uint32_t entry;
    uint32_t entry_count;
} plwi_expect_field;

typedef struct plwi_sheet {
    image_t image;
    plwi_inquiry *inquiry;
    const unsigned char *layout;
    uint32_t scheme;
    int year;
    uint8_t tells_year; /* a field narrows the year down, or the layout has no other */
    uint8_t tells_sequence;
    uint32_t field_count;
    uint32_t row_count;
    uint32_t entry_count;
    uint32_t stated_count;
    uint64_t yes; /* conditions that the facts of the scheme decide */
    uint64_t no;
    uint64_t sets[MAX_POSITIONS]; /* the characters the layout allows */
    uint32_t stated[MAX_STATED]; /* condition records */
    plwi_expect_field fields[MAX_SPANS]; /* details behind what they detail */
    plwi_expect_row rows[MAX_EXPECT_ROWS];
    plwi_entry entries[MAX_ENTRIES];
} plwi_sheet;

plwi_years plwi_layout_years(image_t image, uint32_t layout);

/* Fills the sheet; 0 when a claim cannot hold in that year, whatever the codes. */
int plwi_fill_sheet(plwi_sheet *sheet, plwi_inquiry *inquiry, uint32_t layout, int year);

/* Whether the conditions of a row can hold, and surely do, when those in yes and
 * no are decided. */
int plwi_may_hold(const plwi_expect_row *row, uint64_t yes, uint64_t no);
int plwi_surely_holds(const plwi_expect_row *row, uint64_t yes);

/* What facts say to a condition on an attribute: 1, they state one of its values;
 * -1, another one; 0, none. */
int plwi_states_condition(image_t image, const unsigned char *condition, uint32_t first,
                          uint32_t count);

/* ---- the search ------------------------------------------------------------------- */

#define MAX_STEPS 4000000 /* codes looked at for one answer */

typedef struct plwi_search {
    plwi_inquiry inquiry;
    plwi_sheet sheet;
    plwi_boxes boxes;
    plwi_found found;
    uint64_t codes[MAX_ENTRIES]; /* of the group that is being boxed */
    uint32_t steps;
    uint8_t first_only; /* one pattern is enough */
    uint8_t capped;
} plwi_search;

/* Finds the patterns of a layout and leaves them in search->found. */
void plwi_search_layout(plwi_search *search, uint32_t layout);

/* ---- the answer -------------------------------------------------------------------- */

struct plw_expectation {
    const plw_tables *tables;
    uint32_t pattern_count;
    uint32_t capped;
    uint32_t ruling; /* set of claims: the smallest that leaves nothing */
    uint32_t freeing; /* claims without which something would be left */
    plwi_claims claims;
    plwi_pattern patterns[PLW_MAX_PATTERNS];
    plw_result result; /* names, and what explanations are written with */
    plwi_search search;
};

void plwi_put_pattern_sentence(plwi_writer *out, const plw_expectation *e, uint32_t index);
void plwi_put_expectation_sentence(plwi_writer *out, const plw_expectation *expectation);
/* "year=1971 and body=convertible": a set of claims. */
void plwi_put_claim_list(plwi_writer *out, const plwi_claims *claims, uint32_t set,
                         const char *last);

#endif
