/* SPDX-License-Identifier: MIT
 *
 * Text that grows. A program without memory has nothing better to do than end.
 */
#include <stdlib.h>
#include <string.h>

#include "client.h"

void out_of_memory(void)
{
    complain("%s", plw_status_text(PLW_E_MEMORY));
    exit(EXIT_NO_INPUT);
}

void *larger_memory(void *memory, size_t size)
{
    void *larger = realloc(memory, size);
    if (larger == NULL)
        out_of_memory();
    return larger;
}

void text_clear(growing_text *text)
{
    text->length = 0;
}

void text_add(growing_text *text, const char *bytes, size_t length)
{
    if (length > text->capacity - text->length) {
        text->capacity = (text->length + length) * 2;
        text->bytes = larger_memory(text->bytes, text->capacity);
    }
    if (length > 0)
        memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
}

void text_put(growing_text *text, const char *string)
{
    text_add(text, string, strlen(string));
}

void text_free(growing_text *text)
{
    free(text->bytes);
    text->bytes = NULL;
    text->length = text->capacity = 0;
}
