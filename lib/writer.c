/* SPDX-License-Identifier: MIT */
#include "writer.h"

#include <string.h>

#include "platewright.h"

plwi_writer plwi_writer_on(char *buffer, size_t capacity)
{
    plwi_writer writer = { buffer, buffer ? capacity : 0, 0 };
    return writer;
}

void plwi_put(plwi_writer *writer, const char *bytes, size_t length)
{
    if (writer->length < writer->capacity) {
        size_t room = writer->capacity - writer->length;
        memcpy(writer->buffer + writer->length, bytes, length < room ? length : room);
    }
    writer->length += length;
}

void plwi_put_char(plwi_writer *writer, char c)
{
    plwi_put(writer, &c, 1);
}

void plwi_put_text(plwi_writer *writer, const char *text)
{
    plwi_put(writer, text, strlen(text));
}

void plwi_put_number(plwi_writer *writer, int64_t number)
{
    char digits[20];
    size_t start = sizeof digits;
    uint64_t rest = number < 0 ? 0 - (uint64_t)number : (uint64_t)number;
    do {
        digits[--start] = (char)('0' + rest % 10);
        rest /= 10;
    } while (rest > 0);
    if (number < 0)
        plwi_put_char(writer, '-');
    plwi_put(writer, digits + start, sizeof digits - start);
}

void plwi_put_thousandths(plwi_writer *writer, int64_t thousandths)
{
    plwi_put_number(writer, thousandths / 1000);
    int64_t rest = thousandths % 1000;
    if (rest == 0)
        return;
    char digits[3] = { (char)('0' + rest / 100), (char)('0' + rest / 10 % 10),
                       (char)('0' + rest % 10) };
    size_t count = 3;
    for (; rest % 10 == 0; rest /= 10)
        count--;
    plwi_put_char(writer, '.');
    plwi_put(writer, digits, count);
}

int32_t plwi_writer_end(plwi_writer *writer, size_t *needed)
{
    if (needed)
        *needed = writer->length + 1;
    if (writer->length < writer->capacity) {
        writer->buffer[writer->length] = '\0';
        return PLW_OK;
    }
    if (writer->capacity > 0)
        writer->buffer[0] = '\0';
    return PLW_E_SHORT;
}

int32_t plwi_writer_refuse(int32_t status, char *buffer, size_t capacity, size_t *needed)
{
    if (needed)
        *needed = 0;
    if (buffer && capacity > 0)
        buffer[0] = '\0';
    return status;
}
