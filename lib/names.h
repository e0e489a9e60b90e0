/* SPDX-License-Identifier: MIT
 *
 * What is said to people: the words of a row, the label of a field, the title
 * of a scheme; the host's where it has given some, else those of the tables.
 * names may be NULL, and names that belong to other tables say nothing.
 */
#ifndef PLW_NAMES_H
#define PLW_NAMES_H

#include "image.h"

const char *plwi_words(const plw_names *names, image_t image, uint32_t row);
const char *plwi_label(const plw_names *names, image_t image, uint32_t field);
const char *plwi_title(const plw_names *names, image_t image, uint32_t scheme);

#endif
