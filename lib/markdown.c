/* SPDX-License-Identifier: MIT */
#include "markdown.h"

#include <string.h>

void plwi_markdown_put(plwi_view *view, const char *markup)
{
    plwi_put_text(&view->out, markup);
}

/* The mark that would make a list item of a text that opens with it: "-", "+",
 * or what follows the figures in "1." and "1)". */
static const char *list_mark(const char *text)
{
    size_t figures = strspn(text, "0123456789");
    const char *marks = figures > 0 ? ".)" : "-+";
    return text[figures] && strchr(marks, text[figures]) ? text + figures : NULL;
}

/* Every ASCII mark that Markdown or HTML gives a meaning inside a line gets a
 * backslash; line ends and other controls become blanks. */
void plwi_markdown_escaped(plwi_view *view, const char *text)
{
    const char *mark = list_mark(text);
    for (; *text; text++) {
        unsigned char byte = (unsigned char)*text;
        if (byte < 0x20 || byte == 0x7F) {
            plwi_put_char(&view->out, ' ');
            continue;
        }
        if (text == mark || strchr("\\`*_[]<>|~&#!$", *text))
            plwi_put_char(&view->out, '\\');
        plwi_put_char(&view->out, *text);
    }
}

void plwi_markdown_between(plwi_view *view, const char *before, const char *text, const char *after)
{
    if (text[0] == '\0')
        return;
    plwi_markdown_put(view, before);
    plwi_markdown_escaped(view, text);
    plwi_markdown_put(view, after);
}

static int is_web_address(const char *text)
{
    static const char allowed[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
                                  "-._~:/?#@!$&'()*+,;=%";
    int known = strncmp(text, "https://", 8) == 0 || strncmp(text, "http://", 7) == 0;
    return known && text[strspn(text, allowed)] == '\0';
}

void plwi_markdown_address(plwi_view *view, const char *address)
{
    if (is_web_address(address)) {
        plwi_markdown_put(view, ", <");
        plwi_markdown_put(view, address);
        plwi_markdown_put(view, ">");
    } else {
        plwi_markdown_between(view, ", ", address, "");
    }
}
