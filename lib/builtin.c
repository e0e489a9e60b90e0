/* SPDX-License-Identifier: MIT
 *
 * The compiled-in image. tables.inc is written by the table compiler into the
 * build directory; it defines plwi_builtin_image, and no other file includes it.
 */
#include "image.h"

#include "tables.inc"
