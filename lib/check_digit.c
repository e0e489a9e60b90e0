/* SPDX-License-Identifier: MIT
 *
 * Check characters: each character has a value, each position a weight; the
 * sum of the products, divided by the modulus, leaves the remainder that the
 * check character stands for. Values, weights and modulus come from the table.
 */
#include "internal.h"

/* The product sum, or -1 when a character with weight is open or has no value. */
static int32_t weighted_sum(const unsigned char *check, const uint64_t sets[MAX_POSITIONS])
{
    int32_t sum = 0;
    for (uint32_t p = 0; p < check[CHECK_LENGTH]; p++) {
        uint8_t weight = check[CHECK_WEIGHTS + p];
        if (weight == 0)
            continue;
        if (!plwi_is_single(sets[p]))
            return -1;
        unsigned bit = plwi_lowest_bit(sets[p]);
        if (check[CHECK_VALUES + bit] == CHECK_NO_VALUE)
            return -1;
        sum += weight * check[CHECK_VALUES + bit];
    }
    return sum;
}

int32_t plwi_check(const unsigned char *check, const uint64_t sets[MAX_POSITIONS],
                   uint32_t position, uint8_t *expected)
{
    int32_t sum = weighted_sum(check, sets);
    *expected = 0;
    if (sum < 0)
        return PLW_CHECK_OPEN;
    unsigned bit = check[CHECK_DIGITS + sum % check[CHECK_MODULUS]];
    *expected = (uint8_t)plwi_character(bit);
    uint64_t right = UINT64_C(1) << bit;
    if (sets[position] == right)
        return PLW_CHECK_FITS;
    return (sets[position] & right) != 0 ? PLW_CHECK_OPEN : PLW_CHECK_FAILS;
}
