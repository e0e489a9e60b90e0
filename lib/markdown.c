/* SPDX-License-Identifier: MIT */
#include "markdown.h"

#include <string.h>

#include "escape.h"

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
 * backslash; controls, what is no text and what would turn its direction are replaced. */
void plwi_markdown_escaped(plwi_view *view, const char *text)
{
    const char *mark = list_mark(text);
    plwi_unit unit;
    for (size_t left = strlen(text); left > 0; text += unit.length, left -= unit.length) {
        unit = plwi_next_unit((const unsigned char *)text, left);
        if (unit.code == INVALID_UNIT || plwi_is_unshowable(unit.code)) {
            plwi_put_text(&view->out, "\xEF\xBF\xBD");
        } else {
            if (text == mark || strchr("\\`*_[]<>|~&#!$", *text))
                plwi_put_char(&view->out, '\\');
            plwi_put(&view->out, text, unit.length);
        }
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

void plwi_markdown_address(plwi_view *view, const char *address)
{
    if (plwi_is_web_address(address)) {
        plwi_markdown_put(view, ", <");
        plwi_markdown_put(view, address);
        plwi_markdown_put(view, ">");
    } else {
        plwi_markdown_between(view, ", ", address, "");
    }
}
