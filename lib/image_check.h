/* SPDX-License-Identifier: MIT
 *
 * The check that makes an image trustworthy. Everything else in the library
 * reads an image without looking twice, so this one must look at everything.
 */
#ifndef PLW_IMAGE_CHECK_H
#define PLW_IMAGE_CHECK_H

#include <stddef.h>
#include <stdint.h>

#include "image.h"

/* PLW_OK, PLW_E_IMAGE or PLW_E_VERSION. Reads each byte a bounded number of
 * times, writes nothing and allocates nothing. */
int32_t plwi_check_image(const unsigned char *bytes, size_t size);

/* Everything but the header: 1 when the sections of an image of this size hold. */
int plwi_content_holds(image_t image, size_t size);

/* 1 when all texts are bounded, well-formed and printable. */
int plwi_texts_hold(image_t image);

/* 1 when a text starts at this offset. */
int plwi_is_text(image_t image, uint32_t offset);

/* The last part of that: how the records of an image whose every index and
 * text offset is already known to be good hang together. */
int plwi_links_hold(image_t image, uint32_t size);

#endif
