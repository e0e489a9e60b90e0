/* SPDX-License-Identifier: MIT
 *
 * What the forms of an explanation share: the view of one result, and
 * the phrases that stand in all of them. Every phrase goes into a piece, a
 * bounded buffer on the caller's stack, and comes back as its text.
 */
#ifndef PLW_EXPLAIN_H
#define PLW_EXPLAIN_H

#include <stddef.h>
#include <stdint.h>

#include "internal.h"

/* One text from the tables or about the number. A longer one is never cut: a
 * note of its length stands in its place. */
#define PLWI_PIECE_SIZE 2048

/* Readings told in full in text and Markdown; the others take one line each. */
#define PLWI_FULL_READINGS 3u

/* Places on the car that are named in text and Markdown. */
#define PLWI_MAX_PLACES 6u

/* Rows of one field in text and Markdown, where an unreadable character leaves
 * more of them open. JSON has all rows. */
#define PLWI_MAX_ROWS 12u

typedef struct plwi_view {
    const plw_result *result;
    const plw_tables *tables;
    uint32_t flags;
    uint32_t readings; /* told in full, at most */
    uint32_t places;   /* named for each of them, at most */
    plwi_writer out;
} plwi_view;

typedef struct plwi_piece {
    char text[PLWI_PIECE_SIZE];
} plwi_piece;

/* The forms. */
void plwi_explain_text(plwi_view *view);
void plwi_explain_markdown(plwi_view *view);
void plwi_explain_json(plwi_view *view);
void plwi_explain_svg(plwi_view *view);
void plwi_explain_html(plwi_view *view);

/* The characters of the number in boxes, for a page. */
void plwi_svg_strip(plwi_view *view);

/* What other explanations close with, too. */
void plwi_json_source(plwi_view *view, uint32_t source);
void plwi_json_findings(plwi_view *view);
/* The member "claims", where claims were checked. */
void plwi_json_claims(plwi_view *view);
void plwi_json_closing(plwi_view *view);

/* ---- Pieces: what an accessor hands over through a buffer --------------- */

plwi_writer plwi_piece_writer(plwi_piece *piece);
const char *plwi_piece_end(plwi_piece *piece, plwi_writer *writer);

const char *plwi_number_text(const plwi_view *view, plwi_piece *piece);
const char *plwi_reading_text(const plwi_view *view, uint32_t reading, plwi_piece *piece);
const char *plwi_code_text(const plwi_view *view, uint32_t reading, uint32_t field,
                            plwi_piece *piece);
const char *plwi_key_text(const plwi_view *view, uint32_t row, plwi_piece *piece);
/* Words and condition of a row as the host has them said. */
const char *plwi_row_words(const plwi_view *view, uint32_t row);
const char *plwi_condition_text(const plwi_view *view, uint32_t row, plwi_piece *piece);
const char *plwi_attribute_text(const plwi_view *view, uint32_t row, uint32_t index,
                               plwi_piece *piece);
const char *plwi_sentence_text(const plwi_view *view, uint32_t finding, plwi_piece *piece);
/* A claim as given, its value, its sentence, and the keys of the sources behind it. */
const char *plwi_claim_text(const plwi_view *view, uint32_t claim, plwi_piece *piece);
const char *plwi_claim_value(const plwi_view *view, uint32_t claim, plwi_piece *piece);
const char *plwi_claim_sentence(const plwi_view *view, uint32_t claim, plwi_piece *piece);
const char *plwi_claim_sources(const plwi_view *view, uint32_t claim, plwi_piece *piece);
const char *plwi_digest_text(const plwi_view *view, plwi_piece *piece);

/* ---- Years and positions ------------------------------------------------ */

plwi_years plwi_reading_years(const plwi_view *view, uint32_t reading);
plwi_years plwi_row_years(const plwi_view *view, uint32_t row);
/* The years that the year field allows and this field rules out. */
plwi_years plwi_excluded_years(const plwi_view *view, uint32_t reading, uint32_t field);
/* The last year of the unbroken run that starts at year. */
int plwi_run_end(plwi_years years, int year);

/* "1962-1966, 1970 or 1973", with that text before the last one. */
const char *plwi_years_text(plwi_years years, const char *before_last, plwi_piece *piece);

/* "2-3, 6" */
const char *plwi_positions_text(uint32_t positions, plwi_piece *piece);

/* ---- Phrases ------------------------------------------------------------ */

/* "12 characters, read in one way; grade: doubt (worth a second look)" */
const char *plwi_summary(const plwi_view *view, plwi_piece *piece);

/* "scheme port-ellery-1962, model years 1962 or 1972, read as T24K2P100051" */
const char *plwi_reading_head(const plwi_view *view, uint32_t reading, plwi_piece *piece);

/* A reading in one line: title, model years, grade. */
const char *plwi_reading_brief(const plwi_view *view, uint32_t reading, plwi_piece *piece);

/* Which years the year field leaves open and which fields settle it, or "". */
const char *plwi_year_story(const plwi_view *view, uint32_t reading, plwi_piece *piece);

/* The entries of one field of a list from plwi_settlings, from *index, which moves
 * behind them: "engine (5): B or F would mean 1968; E would mean 1978". */
const char *plwi_settling_line(const plwi_view *view, const plwi_settling *list, uint32_t count,
                               uint32_t *index, plwi_piece *piece);

/* What a field says that no row explains: "not in the tables". */
const char *plwi_field_plainly(const plwi_view *view, uint32_t reading, uint32_t field,
                               plwi_piece *piece);

/* When a row of a field (or PLW_NONE) holds, if that is not plain: "1966, 1967,
 * if line is S", or "". It starts with the code where that is not readable. */
const char *plwi_row_when(const plwi_view *view, uint32_t reading, uint32_t field, uint32_t row,
                          plwi_piece *piece);

/* The figures a row states beyond its words: "340 cu in (5572 cc, 5.6 L), 8 cylinders",
 * or "". A detail states power only: the rest belongs to the fields it details. */
const char *plwi_row_figures(const plwi_view *view, uint32_t row, int is_detail,
                             plwi_piece *piece);

/* What stands between a row and certainty: "memory: not confirmed; sources differ", or "". */
const char *plwi_row_doubts(const plwi_view *view, uint32_t row, plwi_piece *piece);

/* The keys of its sources: "handbook-63, parts-66", or "". */
const char *plwi_row_sources(const plwi_view *view, uint32_t row, plwi_piece *piece);

/* "Tables of 2026-11-25, digest 0123456789abcdef; Platewright 1.0.0." */
const char *plwi_tables_line(const plwi_view *view, plwi_piece *piece);

/* "4 sources stand behind this answer ..." */
const char *plwi_sources_line(const plwi_view *view, plwi_piece *piece);

/* ---- Conditions --------------------------------------------------------- */

#define PLWI_NO 0
#define PLWI_OPEN 1
#define PLWI_YES 2

/* Whether a reading meets the conditions of a row: no, open or yes. */
int plwi_row_applies(const plwi_view *view, uint32_t reading, uint32_t row);

/* ---- What belongs to an explanation ------------------------------------- */

/* Readings told in full in text and Markdown. */
uint32_t plwi_full_readings(const plwi_view *view);

/* Rows of a field that are shown in text and Markdown, and how many are not:
 * "and 3 more that the tables allow", or "". */
uint32_t plwi_rows_shown(const plwi_view *view, uint32_t reading, uint32_t field);
const char *plwi_rows_hidden(const plwi_view *view, uint32_t reading, uint32_t field,
                             plwi_piece *piece);

/* The non-detail field at whose last position a detail hangs, or PLW_NONE. */
uint32_t plwi_field_of_detail(const plwi_view *view, uint32_t reading, uint32_t detail);

/* The next row behind after (PLW_NONE to start) that tells where the number
 * stands on a car of this reading, or PLW_NONE. */
uint32_t plwi_next_place(const plwi_view *view, uint32_t reading, uint32_t after);

/* The lowest source of a row, or of all fields of a reading, that lies above after
 * (PLW_NONE to start) and below best, or best. */
uint32_t plwi_lower_source(const plwi_view *view, uint32_t row, uint32_t after, uint32_t best);
uint32_t plwi_lower_field_source(const plwi_view *view, uint32_t reading, uint32_t after,
                                 uint32_t best);

/* The next source behind after (PLW_NONE to start), or PLW_NONE: of a field of
 * any reading, or of all that is told in full, places included. */
uint32_t plwi_next_field_source(const plwi_view *view, uint32_t after);
uint32_t plwi_next_source(const plwi_view *view, uint32_t after);

/* One suggestion in a sentence, and what is said of those that are not listed,
 * or "". */
const char *plwi_suggestion_text(const plwi_view *view, uint32_t suggestion, plwi_piece *piece);
const char *plwi_suggestions_left(const plwi_view *view, plwi_piece *piece);

/* Findings that speak of the number or of a reading told in full. */
int plwi_finding_shown(const plwi_view *view, uint32_t finding);
uint32_t plwi_findings_hidden(const plwi_view *view);

/* The positions that the shown findings point at: characters that are wrong,
 * misread or unreadable, and codes that raise a doubt. */
uint32_t plwi_marked_positions(const plwi_view *view);

#endif
