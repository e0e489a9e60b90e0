/* SPDX-License-Identifier: MIT
 *
 * What the forms of a car's explanation share.
 */
#ifndef PLW_EXPLAIN_CAR_H
#define PLW_EXPLAIN_CAR_H

#include "car.h"
#include "explain.h"
#include "names.h"

void plwi_explain_car_json(plwi_view *view, const plw_car *car);

/* The verdict on the whole in a sentence. */
const char *plwi_car_summary(const plw_car *car);

const char *plwi_plate_sentence(const plw_car *car, uint32_t plate, plwi_piece *piece);
const char *plwi_difference_sentence(const plw_car *car, uint32_t difference, plwi_piece *piece);
const char *plwi_missing_sentence(const plw_car *car, uint32_t missing, plwi_piece *piece);
/* "" when there is none of that index. */
const char *plwi_advice_sentence(const plw_car *car, uint32_t advice, plwi_piece *piece);

/* The next source behind after (PLW_NONE to start) of a row that the comparison
 * names, or PLW_NONE. */
uint32_t plwi_next_car_source(const plwi_view *view, const plw_car *car, uint32_t after);

#endif
