/* SPDX-License-Identifier: MIT
 *
 * What libFuzzer calls: the harness that the build names (-DHARNESS=fuzz_number).
 */
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    HARNESS(data, size);
    return 0;
}
