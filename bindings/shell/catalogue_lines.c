/* SPDX-License-Identifier: MIT
 *
 * The lines of a catalogue, with a way back to the second line of a row.
 */
#define _POSIX_C_SOURCE 200809L

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "catalogue.h"

#define CHUNK 65536

static const char byte_order_mark[] = { '\xEF', '\xBB', '\xBF' };

/* Reads what there is, and waits only when there is nothing; whoever gives us rows
 * through a pipe gets those we have before we wait. 0 at the end, or on an error. */
static size_t read_some(line_reader *lines, char *bytes, size_t room)
{
    ssize_t got;
    fflush(stdout);
    do
        got = read(lines->input, bytes, room);
    while (got < 0 && errno == EINTR);
    if (got < 0)
        lines->error = errno;
    lines->ended = got <= 0;
    return got > 0 ? (size_t)got : 0;
}

/* Moves the row to the front and reads on behind it; false when nothing came. */
static bool fill(line_reader *lines)
{
    memmove(lines->bytes, lines->bytes + lines->row, lines->length - lines->row);
    lines->length -= lines->row;
    lines->next -= lines->row;
    lines->first_end -= lines->row;
    lines->row = 0;
    size_t room = CATALOGUE_MAX_ROW - lines->length;
    if (room > CHUNK)
        room = CHUNK;
    if (lines->ended || room == 0)
        return false;
    size_t got = read_some(lines, lines->bytes + lines->length, room);
    lines->length += got;
    return got > 0;
}

void lines_open(line_reader *lines, int input)
{
    memset(lines, 0, sizeof *lines);
    lines->input = input;
    lines->next_line = 1;
    lines->bytes = larger_memory(NULL, CATALOGUE_MAX_ROW);
    while (lines->length < sizeof byte_order_mark && fill(lines)) {
    }
    lines->marked = lines->length >= sizeof byte_order_mark &&
                    memcmp(lines->bytes, byte_order_mark, sizeof byte_order_mark) == 0;
    if (lines->marked)
        lines->next = sizeof byte_order_mark;
    lines_begin_row(lines);
}

void lines_close(line_reader *lines)
{
    free(lines->bytes);
    lines->bytes = NULL;
}

void lines_begin_row(line_reader *lines)
{
    lines->row = lines->first_end = lines->next;
    lines->row_line = lines->next_line;
}

/* Where the line at next ends, behind its line end; 0 when that is not held. */
static size_t find_end(const line_reader *lines)
{
    for (size_t i = lines->next; i < lines->length; i++) {
        if (lines->bytes[i] == '\n')
            return i + 1;
        if (lines->bytes[i] == '\r' && i + 1 < lines->length)
            return i + 1 + (lines->bytes[i + 1] == '\n');
    }
    return 0;
}

enum line_state lines_take(line_reader *lines, byte_span *line)
{
    size_t end;
    while ((end = find_end(lines)) == 0 && fill(lines)) {
    }
    if (end == 0) {
        if (lines->next == lines->length)
            return LINE_NONE;
        if (!lines->ended)
            return LINE_TOO_LONG;
        end = lines->length;
    }
    if (lines->next == lines->row)
        lines->first_end = end;
    line->bytes = lines->bytes + lines->next;
    line->length = end - lines->next;
    lines->next = end;
    lines->next_line++;
    return LINE_TAKEN;
}

void lines_leave_row(line_reader *lines)
{
    lines->next = lines->first_end;
    lines->next_line = lines->row_line + 1;
}

void lines_skip(line_reader *lines)
{
    size_t end = 0;
    do {
        /* A CR may have its LF still to come. */
        lines->next = lines->length - (lines->bytes[lines->length - 1] == '\r');
        lines_begin_row(lines);
    } while (fill(lines) && (end = find_end(lines)) == 0);
    lines->next = end > 0 ? end : lines->length;
    lines->next_line++;
}
