/* SPDX-License-Identifier: MIT */
#include "memory.h"

#include "platewright.h"

#ifndef PLWI_NO_MALLOC

#include <stdlib.h>

void *plwi_allocate(size_t size)
{
    return malloc(size);
}

void plwi_release(void *memory)
{
    free(memory);
}

#else

void *plwi_allocate(size_t size)
{
    (void)size;
    return NULL;
}

void plwi_release(void *memory)
{
    (void)memory;
}

#endif

/* No object of the library is stricter than a number of 64 bits. */
#define ALIGNMENT sizeof(uint64_t)

int32_t plwi_can_hold(const void *memory, size_t size, size_t wanted)
{
    if (memory == NULL)
        return PLW_E_ARGUMENT;
    return size < wanted || (uintptr_t)memory % ALIGNMENT != 0 ? PLW_E_MEMORY : PLW_OK;
}
