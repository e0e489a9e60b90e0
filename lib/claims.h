/* SPDX-License-Identifier: MIT
 *
 * Claims: what the words of one mean, what a reading says to it, and the
 * sentence about it.
 */
#ifndef PLW_CLAIMS_H
#define PLW_CLAIMS_H

#include <stddef.h>
#include <stdint.h>

#include "internal.h"

/* ---- values: words -> what is wanted ---------------------------------- */

/* What a claim can be about; the order of the names in claim_values.c. */
enum claim_about {
    CLAIM_YEAR,
    CLAIM_MAKER,
    CLAIM_DIVISION,
    CLAIM_LINE,
    CLAIM_SERIES,
    CLAIM_MODEL,
    CLAIM_BODY,
    CLAIM_DOORS,
    CLAIM_ENGINE,
    CLAIM_DISPLACEMENT,
    CLAIM_CYLINDERS,
    CLAIM_CARBURATION,
    CLAIM_POWER,
    CLAIM_FUEL,
    CLAIM_PLANT,
    CLAIM_COUNTRY,
    CLAIM_SEQUENCE,
    CLAIM_ABOUT_COUNT
};

/* What a value can state. One claim may state several: "440 four-barrel". */
enum claim_part {
    PART_YEAR,
    PART_SEQUENCE,
    PART_TEXT,
    PART_BODY,
    PART_DOORS,
    PART_VOLUME,
    PART_CYLINDERS,
    PART_CARBURATION,
    PART_POWER,
    PART_FUEL,
    PART_COUNT
};

enum volume_unit { VOLUME_CU_IN, VOLUME_CC, VOLUME_LITRE, VOLUME_OPEN /* cu in or cc */ };
enum power_basis { BASIS_OPEN, BASIS_GROSS, BASIS_NET };

/* Room for a text in plain form: small letters and figures, one blank before
 * and behind each word, "Galaxie-500" as " galaxie 500 ". */
#define PLAIN_SIZE 160

/* A value, read. Only what parts names is filled in. */
typedef struct plwi_wanted {
    uint32_t parts;       /* set of enum claim_part */
    int32_t year;         /* below 100: of any century */
    uint32_t bodies;      /* set of bodies it names; see plwi_body */
    uint32_t near_bodies; /* bodies that go by the same word in the trade */
    int32_t doors;
    int64_t volume; /* thousandths of the unit */
    int64_t step;   /* of the last figure given, likewise */
    uint8_t unit;   /* enum volume_unit */
    uint8_t basis;  /* enum power_basis */
    int32_t cylinders;
    int32_t carburettors; /* 0: not said */
    int32_t barrels;      /* of each; 0: not said */
    int32_t all_barrels;  /* of all together; 0: not said */
    int64_t power;        /* thousandths */
    const char *fuel;
    char text[PLAIN_SIZE]; /* in plain form; a sequence in capitals without separators */
} plwi_wanted;

/* Writes the plain form; 0 when there is no room. */
int plwi_plain(const char *text, size_t length, char plain[PLAIN_SIZE]);

/* What a claim is about, by one of its names; CLAIM_ABOUT_COUNT for an unknown one. */
uint32_t plwi_claim_about(const char *name, size_t length);
const char *plwi_claim_name(uint32_t about);
/* Examples of values, for who wrote one that is not understood. */
const char *plwi_claim_forms(uint32_t about);

/* Reads a value; 0 when it is not understood. */
int plwi_read_value(uint32_t about, const char *value, size_t length, plwi_wanted *wanted);

/* Carburation as the tables write it, "4" or "3x2"; 0 when it is not that. */
int plwi_read_barrels(const char *text, int32_t *carburettors, int32_t *barrels);

/* The bit of a body of the tables ("hardtop"), or 0. */
uint32_t plwi_body(const char *name);

/* ---- the text ----------------------------------------------------------- */

/* Takes "attribute=value; ..." apart. Status: PLW_E_TOO_LONG, PLW_E_CLAIM. */
int32_t plwi_read_claims(plwi_claims *claims, const char *text, size_t length);

/* ---- judge: what one row, or one reading, says ------------------------- */

/* What a fact, a row or a field says to one part of a claim. */
enum outcome {
    SILENT,  /* states nothing of the kind */
    UNKNOWN, /* a field whose code is not in the tables */
    MIXED,   /* some of its rows agree and others do not */
    NEAR,    /* too loose to decide */
    DIFFERS,
    AGREES,
    OUTCOME_COUNT
};

typedef struct plwi_judge {
    const plw_result *result; /* NULL where rows alone are asked */
    image_t image;
    const plwi_reading *reading;
    const plwi_wanted *wanted;
    uint64_t attributes[PART_COUNT]; /* of the image, that state a part */
} plwi_judge;

/* For asking rows; wanted must stay. */
plwi_judge plwi_judge_of_rows(image_t image, uint32_t about, const plwi_wanted *wanted);
/* What a row says to a part; one that differs in another part differs. */
enum outcome plwi_row_outcome(const plwi_judge *judge, uint32_t row, unsigned part);
/* What the facts of a scheme say. */
enum outcome plwi_scheme_outcome(const plwi_judge *j, uint32_t index, unsigned part);
/* What alternatives say together: how many of them say what, and the marks of any. */
enum outcome plwi_join_outcomes(const uint32_t found[OUTCOME_COUNT], unsigned marks);
/* 1 when the tables use the name that is wanted, so that another one differs. */
int plwi_is_known_name(const plwi_judge *judge);
/* The attributes by which tables name a maker itself. Of a division they may speak in
 * words of their own, which is no reason why it should not have another name. */
uint64_t plwi_maker_attributes(image_t image);
/* 1 when the tables have names of the kind, and none that is anything like it. */
int plwi_is_unheard_name(const plwi_judge *judge);
int plwi_is_claimed_year(const plwi_wanted *wanted, int year);

void plwi_judge_claim(const plw_result *result, uint32_t reading, uint32_t about,
                      const plwi_wanted *wanted, plwi_evidence *evidence);

/* ---- sentence --------------------------------------------------------- */

void plwi_put_claim_sentence(plwi_writer *out, const plw_result *result, const plwi_claim *claim);
/* The weakest standing of the rows, or PLW_E_ABSENT, and the marks of any. */
int32_t plwi_evidence_standing(image_t image, const plwi_evidence *evidence);
uint32_t plwi_evidence_marks(image_t image, const plwi_evidence *evidence);

#endif
