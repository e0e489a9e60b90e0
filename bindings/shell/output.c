/* SPDX-License-Identifier: MIT
 *
 * Getting texts out of the library and onto standard output.
 */
#include "client.h"

const char *text_of(text_source *source, const void *object, uint32_t a, uint32_t b)
{
    static char *buffer;
    static size_t capacity;
    size_t needed = 0;
    int32_t status = source(object, a, b, buffer, capacity, &needed);
    if (status == PLW_E_SHORT) {
        capacity = needed * 2;
        buffer = larger_memory(buffer, capacity);
        status = source(object, a, b, buffer, capacity, &needed);
    }
    return status == PLW_OK ? buffer : "";
}

/* ---- rows, put together in memory and written at their end ---------------- */

static growing_text row;

void row_put(const char *text)
{
    text_put(&row, text);
}

void row_cell(const char *text)
{
    size_t i = row.length;
    text_put(&row, text);
    for (; i < row.length; i++)
        if (row.bytes[i] == '\t' || row.bytes[i] == '\n' || row.bytes[i] == '\r')
            row.bytes[i] = ' ';
}

void row_number(uint32_t number)
{
    char digits[10];
    size_t first = sizeof digits;
    do
        digits[--first] = (char)('0' + number % 10);
    while (number /= 10);
    text_add(&row, digits + first, sizeof digits - first);
}

void row_end(void)
{
    text_add(&row, "\n", 1);
    fwrite(row.bytes, 1, row.length, stdout);
    text_clear(&row);
}
