/* SPDX-License-Identifier: MIT
 *
 * The one place where the library asks for memory, so that a build without
 * malloc (configure --disable-malloc) leaves out one file's contents only.
 */
#ifndef PLW_MEMORY_H
#define PLW_MEMORY_H

#include <stddef.h>
#include <stdint.h>

/* NULL when there is none, and always in a build without malloc. */
void *plwi_allocate(size_t size);
void plwi_release(void *memory);

/* Whether memory that a caller gives can hold an object of the wanted size:
 * PLW_OK, PLW_E_ARGUMENT for none, or PLW_E_MEMORY. */
int32_t plwi_can_hold(const void *memory, size_t size, size_t wanted);

#endif
