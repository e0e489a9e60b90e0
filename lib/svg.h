/* SPDX-License-Identifier: MIT
 *
 * What a drawing is made of: escaped text, paragraphs that wrap, and a few
 * plain shapes, written as SVG from top to bottom. Everything is drawn in
 * currentColor, so that a page decides between dark and light. There are no
 * ids, links, scripts or styles.
 */
#ifndef PLW_SVG_H
#define PLW_SVG_H

#include <stddef.h>
#include <stdint.h>

#include "writer.h"

typedef struct plwi_svg {
    plwi_writer *out;
    int y; /* lower edge of what has been drawn */
} plwi_svg;

enum plwi_svg_font {
    FONT_YEARS,
    FONT_TITLE,
    FONT_HEAD,
    FONT_BODY,
    FONT_SMALL
};

/* ---- Markup -------------------------------------------------------------- */

/* Markup as it stands: constants of the library only. */
void plwi_svg_markup(plwi_svg *svg, const char *markup);
/* Text from anywhere else. What would be markup is escaped; what a page must
 * not get (controls, marks that turn the direction of writing, bytes that are
 * not UTF-8) is replaced. */
void plwi_svg_escaped(plwi_svg *svg, const char *text);
/* name="value" */
void plwi_svg_attribute(plwi_svg *svg, const char *name, int value);

/* ---- Paragraphs ---------------------------------------------------------- */

#define PLWI_WORD_SIZE 256

typedef struct plwi_paragraph {
    plwi_svg *svg;
    int font;
    int left;
    int room;  /* width of a line, in hundredths of a unit */
    int used;  /* of the line being written */
    int lines;
    int word_width;
    size_t word_size;
    char word[PLWI_WORD_SIZE]; /* the word that is being gathered */
} plwi_paragraph;

/* A paragraph between two edges that starts at svg->y; when it ends, svg->y is
 * below it. One into which nothing was put takes no room. */
plwi_paragraph plwi_paragraph_start(plwi_svg *svg, int font, int left, int right);
void plwi_paragraph_put(plwi_paragraph *paragraph, const char *text);
/* The same, between two texts; nothing when the text is empty. */
void plwi_paragraph_put_between(plwi_paragraph *paragraph, const char *before, const char *text,
                                const char *after);
void plwi_paragraph_put_number(plwi_paragraph *paragraph, uint32_t number);
void plwi_paragraph_end(plwi_paragraph *paragraph);

/* ---- Shapes -------------------------------------------------------------- */

#define PLWI_MARK_SIZE 18

typedef struct plwi_point {
    int x;
    int y;
} plwi_point;

void plwi_svg_rectangle(plwi_svg *svg, const char *class, int x, int y, int width, int height);
void plwi_svg_polyline(plwi_svg *svg, const char *class, const plwi_point *points, size_t count);
/* Slanting lines over a rectangle, cut off at its edges. */
void plwi_svg_hatching(plwi_svg *svg, int x, int y, int width, int height);
/* The shape and letter of a grade, PLWI_MARK_SIZE high: octagon F, triangle D,
 * circle N. */
void plwi_svg_mark(plwi_svg *svg, int32_t grade, int center, int top);
/* A line whose pattern tells a standing. */
void plwi_svg_standing(plwi_svg *svg, int32_t standing, plwi_point from, plwi_point to);

#endif
