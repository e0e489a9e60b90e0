/* SPDX-License-Identifier: MIT
 *
 * A catalogue for the client: JSON Lines when the first byte is '{', else CSV.
 * What it writes goes nowhere.
 */
#define _POSIX_C_SOURCE 200809L

#include "fuzz.h"

#include <stdio.h>
#include <unistd.h>

#include "../../bindings/shell/client.h"

/* The client reads standard input, which is a file of ours from now on. */
static void put_on_standard_input(const uint8_t *data, size_t size)
{
    static FILE *file;
    if (file == NULL) {
        file = tmpfile();
        MUST(file != NULL && dup2(fileno(file), STDIN_FILENO) == STDIN_FILENO);
    }
    MUST(ftruncate(STDIN_FILENO, 0) == 0);
    MUST(pwrite(STDIN_FILENO, data, size, 0) == (ssize_t)size);
    MUST(lseek(STDIN_FILENO, 0, SEEK_SET) == 0);
}

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
    put_on_standard_input(data, size);
    int status = catalogue_command(&options);
    MUST(status == EXIT_DONE || status == EXIT_DATA || status == EXIT_USAGE ||
         status == EXIT_DOUBT || status == EXIT_FAULT);
}
