/* SPDX-License-Identifier: MIT
 *
 * Conditions of rows, and who provides the attributes they ask for.
 */
#ifndef TC_CONDITIONS_H
#define TC_CONDITIONS_H

#include "model.h"

/* Does the row state one of the values the condition asks for? */
bool tc_states(const tc_facts *facts, const tc_condition *condition);

/* Does some row of the field state the attribute? A topic says nothing of the
 * number, so it provides nothing. */
bool tc_provides(const tc_field *field, uint16_t attribute);

/* Do both rows have the same conditions? */
bool tc_same_conditions(const tc_row *a, const tc_row *b);

#endif
