/* SPDX-License-Identifier: MIT
 *
 * A catalogue for the client: JSON Lines when the first byte is '{', else CSV.
 * What it writes goes nowhere.
 */
#include "fuzz.h"

#include <stdio.h>

#include "../../bindings/shell/client.h"

static void silence(void)
{
    static int silent;
    if (silent)
        return;
    MUST(freopen("/dev/null", "w", stdout) != NULL);
    MUST(freopen("/dev/null", "w", stderr) != NULL);
    silent = 1;
}

void fuzz_catalogue(const uint8_t *data, size_t size)
{
    client_options options = { .format = PLW_FORMAT_TEXT };
    if (size == 0)
        return;
    silence();
    if (data[0] == '{')
        options.format = PLW_FORMAT_JSON;
    FILE *input = fmemopen((void *)(uintptr_t)data, size, "r");
    FILE *standard_input = stdin;
    MUST(input != NULL);
    stdin = input;
    int status = catalogue_command(&options);
    stdin = standard_input;
    fclose(input);
    MUST(status == EXIT_DONE || status == EXIT_DATA || status == EXIT_USAGE ||
         status == EXIT_DOUBT || status == EXIT_FAULT);
}
