/* SPDX-License-Identifier: MIT
 *
 * Messages, and the lists of names that they offer.
 */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model.h"

static const char *print_list(tc_compilation *c, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    if (length < 0)
        return format;
    char *text = tc_allocate(&c->memory, (size_t)length + 1);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    return text;
}

const char *tc_print(tc_compilation *c, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *text = print_list(c, format, arguments);
    va_end(arguments);
    return text;
}

void tc_complain(tc_compilation *c, tc_place place, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    tc_message_at *message = TC_ADD(&c->memory, &c->messages);
    message->place = place;
    message->order = c->messages.count;
    message->text = print_list(c, format, arguments);
    va_end(arguments);
}

static int compare_numbers(size_t a, size_t b)
{
    return a < b ? -1 : a > b;
}

static int compare_messages(const void *left, const void *right)
{
    const tc_message_at *a = left;
    const tc_message_at *b = right;
    if (a->place.file != b->place.file)
        return compare_numbers(a->place.file, b->place.file);
    if (a->place.line != b->place.line)
        return compare_numbers(a->place.line, b->place.line);
    if (a->place.column != b->place.column)
        return compare_numbers(a->place.column, b->place.column);
    return compare_numbers(a->order, b->order);
}

void tc_sort_messages(tc_compilation *c)
{
    if (c->messages.count > 0)
        qsort(c->messages.items, c->messages.count, sizeof *c->messages.items,
              compare_messages);
    for (size_t i = 0; i < c->messages.count; i++) {
        tc_message_at *m = &c->messages.items[i];
        if (m->place.file != TC_NO_FILE)
            m->text = tc_print(c, "%s:%u:%u: %s", c->files.items[m->place.file],
                               (unsigned)m->place.line, (unsigned)m->place.column, m->text);
    }
    if (c->messages.count > TC_MESSAGES_SHOWN) {
        size_t more = c->messages.count - TC_MESSAGES_SHOWN;
        c->messages.items[TC_MESSAGES_SHOWN].text =
            tc_print(c, "%zu more %s not shown; correct these first", more,
                     more == 1 ? "message is" : "messages are");
        c->messages.count = TC_MESSAGES_SHOWN + 1;
    }
}

/* How many letters have to be changed, added or left out to make b of a. */
static unsigned distance(const char *a, const char *b)
{
    enum { LONGEST = 40 };
    unsigned row[LONGEST + 1];
    size_t length = strlen(b);
    if (length > LONGEST)
        return LONGEST;
    for (size_t j = 0; j <= length; j++)
        row[j] = (unsigned)j;
    for (size_t i = 0; a[i]; i++) {
        unsigned diagonal = row[0];
        row[0] = (unsigned)i + 1;
        for (size_t j = 1; j <= length; j++) {
            unsigned best = diagonal + (a[i] != b[j - 1]);
            diagonal = row[j];
            if (row[j] + 1 < best)
                best = row[j] + 1;
            if (row[j - 1] + 1 < best)
                best = row[j - 1] + 1;
            row[j] = best;
        }
    }
    return row[length];
}

/* A field and an attribute may have the same name. */
static bool was_offered(const tc_choices *choices, size_t held, const char *name)
{
    for (size_t i = 0; i < held; i++)
        if (strcmp(choices->nearest[i].name, name) == 0)
            return true;
    return false;
}

void tc_offer(tc_choices *choices, const char *name)
{
    enum { KEPT = sizeof choices->nearest / sizeof choices->nearest[0] };
    unsigned far = distance(choices->wanted, name);
    size_t held = choices->count < KEPT ? choices->count : KEPT;
    size_t at = held;
    if (was_offered(choices, held, name))
        return;
    while (at > 0 && choices->nearest[at - 1].distance > far)
        at--;
    choices->count++;
    if (at == KEPT)
        return;
    if (held == KEPT)
        held--;
    for (size_t i = held; i > at; i--)
        choices->nearest[i] = choices->nearest[i - 1];
    choices->nearest[at].name = name;
    choices->nearest[at].distance = far;
}

const char *tc_offered(tc_compilation *c, const tc_choices *choices)
{
    size_t kept = sizeof choices->nearest / sizeof choices->nearest[0];
    const char *list = "";
    for (size_t i = 0; i < choices->count && i < kept; i++)
        list = tc_print(c, "%s%s%s", list, i ? ", " : "", choices->nearest[i].name);
    return choices->count > kept ? tc_print(c, "%s, ...", list) : list;
}
