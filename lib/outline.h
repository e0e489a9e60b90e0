/* SPDX-License-Identifier: MIT
 *
 * Headings, paragraphs and lists as text, Markdown, HTML or part of a drawing, so
 * that what an explanation says in sentences is written once.
 */
#ifndef PLW_OUTLINE_H
#define PLW_OUTLINE_H

#include "explain.h"
#include "page.h"
#include "svg.h"

typedef struct plwi_outline {
    plwi_view *view;
    int32_t format;  /* PLW_FORMAT_, not JSON */
    plwi_page *page; /* text */
    plwi_svg *svg;   /* a drawing: what comes next stands below what is drawn */
    int is_list;     /* Markdown and HTML: a list is open */
} plwi_outline;

/* A word that an item opens with. */
typedef struct plwi_mark {
    int stand;
    const char *word;
    unsigned columns; /* room for the words of a list in text */
} plwi_mark;

#define PLWI_VERDICT_COLUMNS 14u

void plwi_outline_heading(plwi_outline *outline, const char *text);
void plwi_outline_paragraph(plwi_outline *outline, const char *text);
/* The same, but in text it stands right below what comes before. */
void plwi_outline_line(plwi_outline *outline, const char *text);
/* An item of a list; keys of sources stand behind it, or "". */
void plwi_outline_item(plwi_outline *outline, const char *text, const char *sources);
void plwi_outline_marked(plwi_outline *outline, const plwi_mark *mark, const char *text,
                         const char *sources);
/* A source in full, as an item. */
void plwi_outline_source(plwi_outline *outline, uint32_t source);
/* Ends an open list. */
void plwi_outline_end_list(plwi_outline *outline);

/* ---- explain_lists: what the explanation of a number says in lists --------- */

/* A finding, behind the number of its reading where that matters; columns is the room
 * for its grade in text. */
void plwi_outline_finding(plwi_outline *outline, uint32_t finding, int with_reading,
                          unsigned columns);
/* All lists, in the order of a page. */
void plwi_outline_lists(plwi_outline *outline);
void plwi_outline_claims(plwi_outline *outline);
/* The claims of one verdict, without a heading. */
void plwi_outline_claims_of(plwi_outline *outline, int32_t verdict);
void plwi_outline_suggestions(plwi_outline *outline);
/* With the edition of the tables behind them. */
void plwi_outline_sources(plwi_outline *outline);
void plwi_outline_cautions(plwi_outline *outline);

#endif
