/* SPDX-License-Identifier: MIT
 *
 * JSON as a text that grows, written from its first byte to its last.
 */
#include <string.h>

#include "client.h"

/* A comma, unless this is the first of its list or object. */
static void part(growing_text *text)
{
    char last = (char)(text->length > 0 ? text->bytes[text->length - 1] : '[');
    if (last != '[' && last != '{' && last != ':')
        text_put(text, ",");
}

static void put_character(growing_text *text, char c)
{
    static const char plain[] = "\"\\\b\f\n\r\t", letters[] = "\"\\bfnrt";
    const char *short_form = c != '\0' ? strchr(plain, c) : NULL;
    char escape[8];
    if (short_form != NULL)
        snprintf(escape, sizeof escape, "\\%c", letters[short_form - plain]);
    else
        snprintf(escape, sizeof escape, "\\u%04x", (unsigned)(unsigned char)c);
    text_put(text, escape);
}

static bool is_plain(char c)
{
    return (unsigned char)c >= ' ' && c != '"' && c != '\\';
}

void json_string(growing_text *text, const char *bytes, size_t length)
{
    part(text);
    text_put(text, "\"");
    for (size_t i = 0; i < length; i++) {
        size_t start = i;
        while (i < length && is_plain(bytes[i]))
            i++;
        text_add(text, bytes + start, i - start);
        if (i < length)
            put_character(text, bytes[i]);
    }
    text_put(text, "\"");
}

void json_number(growing_text *text, long number)
{
    char digits[24];
    part(text);
    snprintf(digits, sizeof digits, "%ld", number);
    text_put(text, digits);
}

void json_null(growing_text *text)
{
    part(text);
    text_put(text, "null");
}

void json_name(growing_text *text, const char *name)
{
    json_string(text, name, strlen(name));
    text_put(text, ":");
}

void json_begin(growing_text *text, const char *bracket)
{
    part(text);
    text_put(text, bracket);
}

void json_end(growing_text *text, const char *bracket)
{
    text_put(text, bracket);
}
