/* SPDX-License-Identifier: MIT
 *
 * The reverse test: whether a pattern covers a number. Both are read as any
 * number is; a number that is damaged itself may be covered or not.
 */
#include "expect.h"

static int32_t read_both(const char *text, size_t length, plwi_number *number)
{
    if (text == NULL && length > 0)
        return PLW_E_ARGUMENT;
    if (length > PLW_MAX_TEXT)
        return PLW_E_TOO_LONG;
    plwi_normalise(text, length, number);
    return PLW_OK;
}

/* The first position, from 1, at which one does not lie within the other. */
static void hold(const plwi_number *pattern, const plwi_number *number, int32_t *covered,
                 uint32_t *position)
{
    uint32_t open = 0;
    for (uint32_t p = 0; p < MAX_POSITIONS && (p < pattern->count || p < number->count); p++) {
        uint64_t wanted = p < pattern->count ? pattern->cell[p].set : 0;
        uint64_t given = p < number->count ? number->cell[p].set : 0;
        if ((wanted & given) == 0) {
            *covered = PLW_COVERED_NOT;
            *position = p + 1;
            return;
        }
        if ((given & ~wanted) && open == 0)
            open = p + 1;
    }
    *covered = open ? PLW_COVERED_OPEN : PLW_COVERED;
    *position = open;
    if (pattern->count != number->count) { /* both longer than any number */
        *covered = PLW_COVERED_NOT;
        *position = MAX_POSITIONS + 1;
    }
}

int32_t plw_pattern_covers(const char *pattern, size_t pattern_length, const char *number,
                           size_t number_length, int32_t *covered, uint32_t *position)
{
    plwi_number wanted, given;
    uint32_t unused;
    if (covered == NULL)
        return PLW_E_ARGUMENT;
    *covered = PLW_COVERED_NOT;
    if (position == NULL)
        position = &unused;
    *position = 0;
    int32_t status = read_both(pattern, pattern_length, &wanted);
    if (status == PLW_OK)
        status = read_both(number, number_length, &given);
    if (status == PLW_OK)
        hold(&wanted, &given, covered, position);
    return status;
}
