/* SPDX-License-Identifier: MIT
 *
 * The least a host does: load the library, decode one number. Compiled with
 * START_NOTHING it does not even that.
 */
#ifndef START_NOTHING
#include "platewright.h"
#endif

int main(void)
{
#ifndef START_NOTHING
    int32_t grade;
    return plw_grade(NULL, "RM23V0A149789", 13, NULL, 0, &grade) != PLW_OK;
#else
    return 0;
#endif
}
