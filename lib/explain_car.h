/* SPDX-License-Identifier: MIT
 *
 * What the forms of a car's explanation share.
 */
#ifndef PLW_EXPLAIN_CAR_H
#define PLW_EXPLAIN_CAR_H

#include "car.h"
#include "explain.h"
#include "names.h"
#include "outline.h"

void plwi_explain_car_json(plwi_view *view, const plw_car *car);
void plwi_explain_car_svg(plwi_view *view, const plw_car *car);

/* What all forms for people say below the stack of plates. */
void plwi_outline_car(plwi_outline *outline, const plw_car *car);
/* The stack: lines of text, or a drawing. */
void plwi_put_text_stack(plwi_writer *out, const plw_car *car);
void plwi_svg_stack(plwi_view *view, const plw_car *car);

/* How a plate of that verdict stands (enum plwi_stand). */
int plwi_plate_stand(int32_t verdict);
/* The cell of a plate at a position from 0, or NULL. */
const plwi_cell *plwi_plate_cell(const plwi_plate *plate, uint32_t position);
const char *plwi_plate_name(const plw_car *car, uint32_t plate, plwi_piece *piece);

/* The verdict on the plates in a sentence, and what else contradicts. */
const char *plwi_car_summary(const plw_car *car, plwi_piece *piece);

const char *plwi_plate_sentence(const plw_car *car, uint32_t plate, plwi_piece *piece);
const char *plwi_difference_sentence(const plw_car *car, uint32_t difference, plwi_piece *piece);
const char *plwi_missing_sentence(const plw_car *car, uint32_t missing, plwi_piece *piece);
/* "" when there is none of that index. */
const char *plwi_advice_sentence(const plw_car *car, uint32_t advice, plwi_piece *piece);

/* The next source behind after (PLW_NONE to start) of a row that the comparison
 * names, or PLW_NONE. */
uint32_t plwi_next_car_source(const plwi_view *view, const plw_car *car, uint32_t after);

/* ---- explain_dates -------------------------------------------------------- */

/* Dates that there is something to say about. */
uint32_t plwi_date_count_told(const plw_car *car);
void plwi_outline_dates(plwi_outline *outline, const plw_car *car);
/* The members about dates. */
void plwi_json_dates(plwi_view *view, const plw_car *car);
/* A row as a member, or null. */
void plwi_json_row(plwi_view *view, const char *name, uint32_t row);
/* The lowest source behind after that stands behind a date, or best. */
uint32_t plwi_next_date_source(const plwi_view *view, const plw_car *car, uint32_t after,
                               uint32_t best);

#endif
