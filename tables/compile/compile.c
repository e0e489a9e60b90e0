/* SPDX-License-Identifier: MIT
 *
 * The steps of a compilation, one behind the other.
 */
#include "compile.h"

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "emit.h"
#include "parse.h"
#include "resolve.h"
#include "vocabulary.h"

tc_compilation *tc_new(void)
{
    tc_memory memory = { NULL };
    tc_compilation *c = tc_allocate(&memory, sizeof *c);
    c->memory = memory;
    return c;
}

void tc_free(tc_compilation *c)
{
    if (!c)
        return;
    /* The compilation itself lies in its memory. */
    tc_memory memory = c->memory;
    tc_release(&memory);
}

void tc_add(tc_compilation *c, const char *name, const char *text, size_t size)
{
    uint32_t file = (uint32_t)c->files.count;
    *TC_ADD(&c->memory, &c->files) = tc_copy(&c->memory, name, strlen(name));
    tc_parse(c, file, tc_copy(&c->memory, text, size), size);
}

static void resolve_scheme(tc_compilation *c, tc_scheme *scheme)
{
    tc_resolve_fields(c, scheme);
    tc_resolve_layouts(c, scheme);
    tc_resolve_rows(c, scheme);
    if (scheme->layouts_sound)
        tc_resolve_conditions(c, scheme);
    tc_check_scheme(c, scheme);
}

bool tc_finish(tc_compilation *c)
{
    tc_finish_vocabulary(c);
    for (size_t i = 0; i < c->schemes.count; i++)
        resolve_scheme(c, c->schemes.items[i]);
    if (c->schemes.count == 0)
        tc_complain(c, (tc_place){ TC_NO_FILE, 0, 0 },
                    "there are no schemes; add a file with a section [scheme]");
    if (c->messages.count == 0)
        tc_emit(c);
    tc_sort_messages(c);
    return c->image;
}

const unsigned char *tc_image(const tc_compilation *c, size_t *size)
{
    *size = c->image_size;
    return c->image;
}

size_t tc_message_count(const tc_compilation *c)
{
    return c->messages.count;
}

const char *tc_message(const tc_compilation *c, size_t index)
{
    return index < c->messages.count ? c->messages.items[index].text : NULL;
}
