/* SPDX-License-Identifier: MIT
 *
 * Memory of one compilation: taken piece by piece, given back all at once.
 */
#ifndef TC_MEMORY_H
#define TC_MEMORY_H

#include <stddef.h>

typedef struct tc_block tc_block;

typedef struct tc_memory {
    tc_block *blocks;
} tc_memory;

/* Zeroed bytes; ends the program when there are none left. */
void *tc_allocate(tc_memory *memory, size_t size);
void tc_release(tc_memory *memory);

/* A zero-terminated copy. */
char *tc_copy(tc_memory *memory, const char *text, size_t length);

/* The items of a list with room for one more behind the count there are. */
void *tc_grow(tc_memory *memory, void *items, size_t count, size_t *capacity, size_t item_size);

/* A growing list. Adding may move the items: keep no pointer to one while the
 * list still grows. */
#define TC_LIST(type)                                                                          \
    struct {                                                                                   \
        type *items;                                                                           \
        size_t count;                                                                          \
        size_t capacity;                                                                       \
    }

/* The new, zeroed last item of the list. */
#define TC_ADD(memory, list)                                                                   \
    ((list)->items = tc_grow(memory, (list)->items, (list)->count, &(list)->capacity,          \
                             sizeof *(list)->items),                                           \
     &(list)->items[(list)->count++])

#endif
