/* SPDX-License-Identifier: MIT
 *
 * Lines, columns, quotes, and where they stand.
 */
#include "text.h"

#include <string.h>

#include "model.h"

static bool is_blank(char byte)
{
    return byte == ' ' || byte == '\t';
}

/* ---- words ------------------------------------------------------------ */

bool tc_is(tc_word word, const char *text)
{
    return word.text && strlen(text) == word.length &&
           memcmp(word.text, text, word.length) == 0;
}

bool tc_is_none(tc_word word)
{
    return !word.text || tc_is(word, "-");
}

/* Tabs are for columns; in words they are blanks. */
static const char *copy_without(tc_compilation *c, tc_word word, char left_out)
{
    char *copy = tc_copy(&c->memory, word.text, word.length);
    size_t length = 0;
    for (size_t i = 0; i < word.length; i++)
        if (word.text[i] != left_out)
            copy[length++] = (char)(word.text[i] == '\t' ? ' ' : word.text[i]);
    copy[length] = '\0';
    return copy;
}

const char *tc_string(tc_compilation *c, tc_word word)
{
    return copy_without(c, word, '\0');
}

const char *tc_unquoted(tc_compilation *c, tc_word word)
{
    return copy_without(c, word, '"');
}

/* Characters in so many bytes of UTF-8. */
static uint32_t character_count(const char *text, size_t length)
{
    uint32_t count = 0;
    for (size_t i = 0; i < length; i++)
        if (((unsigned char)text[i] & 0xC0u) != 0x80u)
            count++;
    return count;
}

tc_word tc_slice(tc_word word, size_t from, size_t length)
{
    tc_word slice = { word.text + from, length, word.place };
    slice.place.column += character_count(word.text, from);
    return slice;
}

/* The first separator outside quotes, or the length of the word. */
static size_t find_outside_quotes(tc_word word, char separator)
{
    bool quoted = false;
    for (size_t i = 0; i < word.length; i++) {
        if (word.text[i] == '"')
            quoted = !quoted;
        else if (word.text[i] == separator && !quoted)
            return i;
    }
    return word.length;
}

bool tc_part(tc_word *rest, char separator, tc_word *part)
{
    if (!rest->text)
        return false;
    size_t end = find_outside_quotes(*rest, separator);
    *part = tc_slice(*rest, 0, end);
    if (end == rest->length)
        rest->text = NULL;
    else
        *rest = tc_slice(*rest, end + 1, rest->length - end - 1);
    return true;
}

bool tc_cut(tc_word word, char separator, tc_word *before, tc_word *behind)
{
    size_t at = find_outside_quotes(word, separator);
    if (at == word.length)
        return false;
    *before = tc_slice(word, 0, at);
    *behind = tc_slice(word, at + 1, word.length - at - 1);
    return true;
}

int32_t tc_number(tc_word word)
{
    int32_t number = 0;
    if (!word.text || word.length == 0 || word.length > 9)
        return -1;
    for (size_t i = 0; i < word.length; i++) {
        if (word.text[i] < '0' || word.text[i] > '9')
            return -1;
        number = number * 10 + (word.text[i] - '0');
    }
    return number;
}

/* ---- lines ------------------------------------------------------------ */

/* Nothing that moves a cursor, ends a line or turns the direction of writing. */
static bool is_printable(uint32_t point)
{
    if (point < 0x20 || (point >= 0x7F && point < 0xA0))
        return point == '\t';
    if ((point >= 0x2028 && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069))
        return false;
    return (point & 0xFFFE) != 0xFFFE && (point < 0xD800 || point > 0xDFFF) && point <= 0x10FFFF;
}

/* Bytes of the well-formed, printable UTF-8 character at text, or 0. */
static size_t character_length(const unsigned char *text, size_t left)
{
    static const uint32_t smallest[5] = { 0, 0, 0x80, 0x800, 0x10000 };
    if (text[0] < 0x80)
        return is_printable(text[0]);
    size_t length = text[0] >= 0xF0 ? 4 : text[0] >= 0xE0 ? 3 : 2;
    if (text[0] < 0xC2 || text[0] > 0xF4 || length > left)
        return 0;
    uint32_t point = text[0] & (0xFFu >> (length + 1));
    for (size_t i = 1; i < length; i++) {
        if ((text[i] & 0xC0u) != 0x80u)
            return 0;
        point = point << 6 | (text[i] & 0x3Fu);
    }
    return point >= smallest[length] && is_printable(point) ? length : 0;
}

static void check_bytes(tc_compilation *c, tc_line *line)
{
    size_t at = 0;
    while (at < line->rest.length) {
        size_t length = character_length((const unsigned char *)line->rest.text + at,
                                         line->rest.length - at);
        if (length == 0) {
            tc_complain(c, tc_slice(line->rest, at, 0).place,
                        "the byte 0x%02X begins no printable character; save the file as "
                        "plain UTF-8 text and leave control characters out",
                        (unsigned)(unsigned char)line->rest.text[at]);
            line->refused = true;
            return;
        }
        at += length;
    }
}

/* Leaves out a comment: '#' at the start or behind a blank, not in quotes. */
static size_t length_without_comment(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        const char *closing = NULL;
        if (text[i] == '#' && (i == 0 || is_blank(text[i - 1])))
            return i;
        if (text[i] == '"')
            closing = memchr(text + i + 1, '"', length - i - 1);
        if (closing)
            i = (size_t)(closing - text);
    }
    return length;
}

/* So no text of the line can be too long either. */
static void check_length(tc_compilation *c, tc_line *line)
{
    if (line->rest.length < LIMIT_TEXT || line->refused)
        return;
    tc_complain(c, line->rest.place, "this line has %zu bytes, but at most %d can be read; share "
                                     "it between several rows", line->rest.length,
                LIMIT_TEXT - 1);
    line->refused = true;
}

bool tc_next_line(tc_compilation *c, tc_word *text, tc_line *line)
{
    if (text->length == 0)
        return false;
    const char *newline = memchr(text->text, '\n', text->length);
    size_t length = newline ? (size_t)(newline - text->text) : text->length;
    size_t taken = length + (newline != NULL);

    line->refused = false;
    line->rest = (tc_word){ text->text, length, text->place };
    if (length > 0 && text->text[length - 1] == '\r')
        line->rest.length--;
    check_bytes(c, line);
    line->rest.length = length_without_comment(line->rest.text, line->rest.length);
    check_length(c, line);

    text->text += taken;
    text->length -= taken;
    text->place.line++;
    return true;
}

static void skip_blanks(tc_line *line)
{
    size_t blanks = 0;
    while (blanks < line->rest.length && is_blank(line->rest.text[blanks]))
        blanks++;
    line->rest = tc_slice(line->rest, blanks, line->rest.length - blanks);
}

bool tc_column(tc_compilation *c, tc_line *line, tc_word *column)
{
    bool quoted = false;
    size_t end = 0;
    size_t quote = 0;
    skip_blanks(line);
    while (end < line->rest.length && (quoted || !is_blank(line->rest.text[end]))) {
        if (line->rest.text[end] == '"') {
            quoted = !quoted;
            quote = end;
        }
        end++;
    }
    *column = tc_slice(line->rest, 0, end);
    if (quoted) {
        tc_complain(c, tc_slice(line->rest, quote, 0).place,
                    "the quotation mark is not closed; write a second \" behind the value");
        line->refused = true;
    }
    line->rest = tc_slice(line->rest, end, line->rest.length - end);
    return end > 0 && !line->refused;
}

static void say_missing(tc_compilation *c, tc_line *line, const char *what, const char *form)
{
    if (!line->refused)
        tc_complain(c, line->rest.place, "%s missing at the end of the line; write: %s", what,
                    form);
    line->refused = true;
}

bool tc_need(tc_compilation *c, tc_line *line, tc_word *column, const char *what,
             const char *form)
{
    if (tc_column(c, line, column))
        return true;
    say_missing(c, line, what, form);
    return false;
}

tc_word tc_rest(tc_line *line)
{
    skip_blanks(line);
    tc_word rest = line->rest;
    while (rest.length > 0 && is_blank(rest.text[rest.length - 1]))
        rest.length--;
    line->rest = tc_slice(line->rest, line->rest.length, 0);
    return rest;
}

bool tc_need_rest(tc_compilation *c, tc_line *line, tc_word *rest, const char *what,
                  const char *form)
{
    *rest = tc_rest(line);
    if (rest->length > 0)
        return true;
    say_missing(c, line, what, form);
    return false;
}

void tc_need_end(tc_compilation *c, tc_line *line, const char *form)
{
    tc_word rest = tc_rest(line);
    if (rest.length == 0 || line->refused)
        return;
    tc_complain(c, rest.place, "\"%s\" is one column too many; write: %s", tc_string(c, rest),
                form);
    line->refused = true;
}
