/* SPDX-License-Identifier: MIT
 *
 * The header's constants, for languages that cannot read it. constants.inc is
 * drawn from the header by the build, one CONSTANT(PLW_...) a line.
 */
#include <string.h>

#include "platewright.h"

/* Characters, not pointers: no relocations. */
struct constant {
    char name[40];
    int64_t value;
};

#define CONSTANT(name) {#name, (int64_t)(name)},
static const struct constant constants[] = {
#include "constants.inc"
};
#undef CONSTANT

#define CONSTANT_COUNT ((uint32_t)(sizeof constants / sizeof constants[0]))

uint32_t plw_constant_count(void)
{
    return CONSTANT_COUNT;
}

const char *plw_constant_name(uint32_t index)
{
    return index < CONSTANT_COUNT ? constants[index].name : "";
}

int64_t plw_constant_value(uint32_t index)
{
    return index < CONSTANT_COUNT ? constants[index].value : 0;
}

int32_t plw_constant(const char *name, int64_t *value)
{
    if (value == NULL)
        return PLW_E_ARGUMENT;
    *value = 0;
    if (name == NULL)
        return PLW_E_ARGUMENT;
    for (uint32_t i = 0; i < CONSTANT_COUNT; i++) {
        if (strcmp(constants[i].name, name) == 0) {
            *value = constants[i].value;
            return PLW_OK;
        }
    }
    return PLW_E_ABSENT;
}
