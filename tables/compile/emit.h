/* SPDX-License-Identifier: MIT
 *
 * From the model to the image, exactly as lib/image_format.h says.
 */
#ifndef TC_EMIT_H
#define TC_EMIT_H

#include "model.h"

void tc_emit(tc_compilation *c);

#endif
