/* SPDX-License-Identifier: MIT
 *
 * Getting texts out of the library and onto standard output.
 */
#include <stdlib.h>

#include "client.h"

const char *text_of(text_source *source, const void *object, uint32_t a, uint32_t b)
{
    static char *buffer;
    static size_t capacity;
    size_t needed = 0;
    int32_t status = source(object, a, b, buffer, capacity, &needed);
    if (status == PLW_E_SHORT) {
        free(buffer);
        capacity = needed * 2;
        buffer = malloc(capacity);
        if (buffer == NULL) {
            complain("%s", plw_status_text(PLW_E_MEMORY));
            exit(EXIT_NO_INPUT);
        }
        status = source(object, a, b, buffer, capacity, &needed);
    }
    return status == PLW_OK ? buffer : "";
}

void print_cell(const char *text)
{
    for (; *text; text++)
        putchar(*text == '\t' || *text == '\n' || *text == '\r' ? ' ' : *text);
}
