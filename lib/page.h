/* SPDX-License-Identifier: MIT
 *
 * A page of plain text for a terminal of 80 columns: a stream of cells. Each has
 * a left edge, and words that do not fit go on below that edge. A code point
 * takes one column, a combining mark (U+0300 to U+036F) none.
 */
#ifndef PLW_PAGE_H
#define PLW_PAGE_H

#include "writer.h"

#define PAGE_WIDTH 80u
#define WORD_SIZE ((size_t)PAGE_WIDTH * 4)

typedef struct plwi_page {
    plwi_writer *out;
    unsigned left;   /* edge of the cell, from 0 */
    unsigned column; /* columns written on this line */
    unsigned columns;
    size_t bytes;
    char word[WORD_SIZE]; /* the word that is being gathered */
} plwi_page;

/* Starts a cell at that column, on the next line when the last one reaches it. */
void plwi_page_cell(plwi_page *page, unsigned column);
/* The same behind a dash at that column. */
void plwi_page_bullet(plwi_page *page, unsigned column);
/* Adds text to the cell; a word may go on in the next call. */
void plwi_page_put(plwi_page *page, const char *text);
void plwi_page_count(plwi_page *page, uint32_t count);
/* Ends the gathered word: it goes on this line if it fits, else on the next. */
void plwi_page_end_word(plwi_page *page);
/* Ends the line if anything stands on it. */
void plwi_page_finish(plwi_page *page);
void plwi_page_blank(plwi_page *page);
/* A line of its own behind a blank one. */
void plwi_page_heading(plwi_page *page, const char *text);

/* For what is written without wrapping: blanks up to a column, the line's end. */
void plwi_page_pad(plwi_page *page, unsigned column);
void plwi_page_end_line(plwi_page *page);

/* Columns a text takes. */
unsigned plwi_columns(const char *text);
/* Bytes of the character at text; more than one only where they belong together. */
size_t plwi_character_size(const char *text);

#endif
