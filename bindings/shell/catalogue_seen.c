/* SPDX-License-Identifier: MIT
 *
 * Which numbers a catalogue had already: a hash table with open addressing, at
 * most three quarters full.
 */
#include <stdlib.h>

#include "catalogue.h"

#define FIRST_SLOTS 1024

/* FNV-1a, its bits then mixed so that the lowest ones can serve as a slot. */
static uint64_t digest_of(const char *bytes, size_t length)
{
    uint64_t digest = UINT64_C(0xCBF29CE484222325);
    for (size_t i = 0; i < length; i++)
        digest = (digest ^ (unsigned char)bytes[i]) * UINT64_C(0x100000001B3);
    digest = (digest ^ digest >> 33) * UINT64_C(0xFF51AFD7ED558CCD);
    return digest ^ digest >> 33;
}

/* The slot that holds the digest, or the free one where it belongs. */
static size_t find_slot(const numbers_seen *seen, uint64_t digest)
{
    size_t slot = (size_t)digest & (seen->slots - 1);
    while (seen->lines[slot] != 0 && seen->digests[slot] != digest)
        slot = (slot + 1) & (seen->slots - 1);
    return slot;
}

static void grow(numbers_seen *seen)
{
    numbers_seen old = *seen;
    seen->slots = old.slots ? old.slots * 2 : FIRST_SLOTS;
    seen->digests = calloc(seen->slots, sizeof *seen->digests);
    seen->lines = calloc(seen->slots, sizeof *seen->lines);
    if (seen->digests == NULL || seen->lines == NULL)
        out_of_memory();
    for (size_t i = 0; i < old.slots; i++) {
        if (old.lines[i] == 0)
            continue;
        size_t slot = find_slot(seen, old.digests[i]);
        seen->digests[slot] = old.digests[i];
        seen->lines[slot] = old.lines[i];
    }
    seen_free(&old);
}

unsigned long seen_at(const numbers_seen *seen, const char *number, size_t length)
{
    return seen->slots ? seen->lines[find_slot(seen, digest_of(number, length))] : 0;
}

unsigned long seen_before(numbers_seen *seen, const char *number, size_t length,
                          unsigned long line)
{
    if (seen->count >= seen->slots / 4 * 3)
        grow(seen);
    uint64_t digest = digest_of(number, length);
    size_t slot = find_slot(seen, digest);
    if (seen->lines[slot] != 0)
        return seen->lines[slot];
    seen->digests[slot] = digest;
    seen->lines[slot] = line < UINT32_MAX ? (uint32_t)line : UINT32_MAX;
    seen->count++;
    return 0;
}

void seen_free(numbers_seen *seen)
{
    free(seen->digests);
    free(seen->lines);
}
