/* SPDX-License-Identifier: MIT */
#include "escape.h"

#include <string.h>

#include "internal.h"

/* What may not stand in XML or would turn the direction of the text around it. */
static int is_refused(uint32_t code)
{
    return plwi_is_unshowable(code) || code == 0xFEFF || (code & 0xFFFE) == 0xFFFE ||
           code >> 16 == 0xE;
}

static const char *entity_of(uint32_t code)
{
    switch (code) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    default: return NULL;
    }
}

static void put_unit(plwi_writer *out, const char *text, plwi_unit unit)
{
    const char *entity = entity_of(unit.code);
    if (entity)
        plwi_put_text(out, entity);
    else if (is_refused(unit.code) || unit.code == INVALID_UNIT)
        plwi_put_text(out, "\xEF\xBF\xBD");
    else
        plwi_put(out, text, unit.length);
}

void plwi_put_escaped(plwi_writer *out, const char *text, size_t size)
{
    while (size > 0) {
        plwi_unit unit = plwi_next_unit((const unsigned char *)text, size);
        put_unit(out, text, unit);
        text += unit.length;
        size -= unit.length;
    }
}

int plwi_is_web_address(const char *text)
{
    static const char allowed[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
                                  "-._~:/?#@!$&'()*+,;=%";
    int known = strncmp(text, "https://", 8) == 0 || strncmp(text, "http://", 7) == 0;
    return known && text[strspn(text, allowed)] == '\0';
}
