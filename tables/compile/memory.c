/* SPDX-License-Identifier: MIT */
#include "memory.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compile.h"

#define BLOCK_SIZE 65536u
#define ALIGNMENT 16u

struct tc_block {
    tc_block *next;
    size_t used;
    size_t size;
};

#define BLOCK_START ((sizeof(tc_block) + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT)

static void end_program(void)
{
    fputs("the table compiler has no memory left\n", stderr);
    exit(EXIT_FAILURE);
}

static void (*out_of_memory)(void) = end_program;

void tc_without_memory(void (*end)(void))
{
    out_of_memory = end;
}

static tc_block *new_block(size_t needed)
{
    size_t size = needed > BLOCK_SIZE ? needed : BLOCK_SIZE;
    tc_block *block = size <= SIZE_MAX - BLOCK_START ? calloc(1, BLOCK_START + size) : NULL;
    if (!block) {
        out_of_memory();
        abort();
    }
    block->size = size;
    return block;
}

void *tc_allocate(tc_memory *memory, size_t size)
{
    if (size <= SIZE_MAX - ALIGNMENT)
        size = (size + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
    if (!memory->blocks || memory->blocks->size - memory->blocks->used < size) {
        tc_block *block = new_block(size);
        block->next = memory->blocks;
        memory->blocks = block;
    }
    char *bytes = (char *)memory->blocks + BLOCK_START + memory->blocks->used;
    memory->blocks->used += size;
    return bytes;
}

void tc_release(tc_memory *memory)
{
    while (memory->blocks) {
        tc_block *next = memory->blocks->next;
        free(memory->blocks);
        memory->blocks = next;
    }
}

char *tc_copy(tc_memory *memory, const char *text, size_t length)
{
    char *copy = tc_allocate(memory, length + 1);
    if (length > 0)
        memcpy(copy, text, length);
    return copy;
}

void *tc_grow(tc_memory *memory, void *items, size_t count, size_t *capacity, size_t item_size)
{
    if (count < *capacity)
        return items;
    size_t larger = *capacity ? *capacity * 2 : 8;
    void *moved = tc_allocate(memory, larger * item_size);
    if (count > 0)
        memcpy(moved, items, count * item_size);
    *capacity = larger;
    return moved;
}
