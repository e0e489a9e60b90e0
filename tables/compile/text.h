/* SPDX-License-Identifier: MIT
 *
 * Table text: places, words, lines and their columns, and the messages that
 * point into them.
 */
#ifndef TC_TEXT_H
#define TC_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "compile.h"

typedef struct tc_place {
    uint32_t file; /* index; TC_NO_FILE: the tables as a whole */
    uint32_t line; /* from 1 */
    uint32_t column; /* in characters, from 1 */
} tc_place;

#define TC_NO_FILE UINT32_MAX

/* A stretch of a line; text is NULL where nothing was written. */
typedef struct tc_word {
    const char *text;
    size_t length;
    tc_place place;
} tc_word;

typedef struct tc_line {
    tc_word rest; /* what has not been read yet */
    bool refused; /* a message about this line was given: say no more */
} tc_line;

#if defined(__GNUC__)
#define TC_FORMAT(at, first) __attribute__((format(printf, at, first)))
#else
#define TC_FORMAT(at, first)
#endif

/* ---- messages ---- */

void tc_complain(tc_compilation *c, tc_place place, const char *format, ...) TC_FORMAT(3, 4);

/* Text that lives as long as the compilation. */
const char *tc_print(tc_compilation *c, const char *format, ...) TC_FORMAT(2, 3);

/* Sorts the messages by place. */
void tc_sort_messages(tc_compilation *c);

/* ---- words ---- */

bool tc_is(tc_word word, const char *text);
bool tc_is_none(tc_word word); /* not written, or "-" */
const char *tc_string(tc_compilation *c, tc_word word);
const char *tc_unquoted(tc_compilation *c, tc_word word);

/* Length characters (bytes) of the word behind the first from. */
tc_word tc_slice(tc_word word, size_t from, size_t length);

/* Takes the next part off the front of *rest, up to a separator outside quotes;
 * false when there is none left. Parts may be empty. */
bool tc_part(tc_word *rest, char separator, tc_word *part);

/* Splits at the first separator outside quotes; false when there is none. */
bool tc_cut(tc_word word, char separator, tc_word *before, tc_word *behind);

/* A whole number of at most nine digits, or -1. */
int32_t tc_number(tc_word word);

/* ---- lines ---- */

/* Takes the next line off the front of *text, without its comment; false at the
 * end. Complains about bytes that are no text. */
bool tc_next_line(tc_compilation *c, tc_word *text, tc_line *line);

/* The next column; false at the end of the line. */
bool tc_column(tc_compilation *c, tc_line *line, tc_word *column);

/* The next column; complains and refuses the line when it is missing. form is
 * how such a line is written. */
bool tc_need(tc_compilation *c, tc_line *line, tc_word *column, const char *what,
             const char *form);

/* All that is left of the line, without blanks at either end. */
tc_word tc_rest(tc_line *line);
bool tc_need_rest(tc_compilation *c, tc_line *line, tc_word *rest, const char *what,
                  const char *form);

/* Complains when anything is left. */
void tc_need_end(tc_compilation *c, tc_line *line, const char *form);

/* ---- choices: names to put into a message ---- */

typedef struct tc_choices {
    const char *wanted;
    size_t count;
    struct {
        const char *name;
        unsigned distance;
    } nearest[8];
} tc_choices;

/* Offers a name; those most like the wanted one are kept, each once. */
void tc_offer(tc_choices *choices, const char *name);

/* "body, engine, line, ..." */
const char *tc_offered(tc_compilation *c, const tc_choices *choices);

#endif
