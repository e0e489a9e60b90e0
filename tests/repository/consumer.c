/* SPDX-License-Identifier: MIT
 *
 * What a program of an embedder looks like, in the common part of C and C++:
 * tests/repository/install.sh compiles it against the installed library.
 */
#include <platewright.h>

#include <stdio.h>
#include <string.h>

int main(void)
{
    const char *number = "3Y86N400001";
    plw_result *result;
    uint32_t readings;

    if (plw_version_number() != PLW_VERSION_NUMBER) {
        puts("the header and the library are of different releases");
        return 1;
    }
    if (plw_result_new(&result) != PLW_OK)
        return 1;
    if (plw_validate(NULL, number, strlen(number), NULL, 0, result) != PLW_OK)
        return 1;
    readings = plw_reading_count(result);
    printf("%s: %u readings\n", number, (unsigned)readings);
    plw_result_free(result);
    return readings > 0 ? 0 : 1;
}
