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

/* Drawings have one width and the same edges. */
#define PLWI_DRAWING_WIDTH 360
#define PLWI_EDGE 10
#define PLWI_RIGHT_EDGE (PLWI_DRAWING_WIDTH - PLWI_EDGE)
#define PLWI_PADDING 8

enum plwi_svg_font {
    FONT_YEARS,
    FONT_TITLE,
    FONT_HEAD,
    FONT_BODY,
    FONT_SMALL
};

/* ---- Markup -------------------------------------------------------------- */

/* The start tag of a drawing of that height. */
void plwi_svg_start(plwi_svg *svg, const char *class, int height);
/* Markup as it stands: constants of the library only. */
void plwi_svg_markup(plwi_svg *svg, const char *markup);
/* Text from anywhere else, escaped as plwi_put_escaped does. */
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
/* A paragraph of one text. */
void plwi_svg_line(plwi_svg *svg, int font, int left, int right, const char *text);

/* Opens a text in which characters stand as stamped, each in a place of its own
 * between plwi_svg_open_place and "</tspan>". */
void plwi_svg_open_stamped(plwi_svg *svg, int size);
void plwi_svg_open_place(plwi_svg *svg, int center, int baseline);

/* ---- Shapes -------------------------------------------------------------- */

#define PLWI_MARK_SIZE 18

typedef struct plwi_point {
    int x;
    int y;
} plwi_point;

/* How something stands; a word says it, too. */
enum plwi_stand {
    STANDS_FOR,
    STANDS_AGAINST,
    STANDS_OPEN,
    STANDS_ASIDE
};

void plwi_svg_rectangle(plwi_svg *svg, const char *class, int x, int y, int width, int height);
/* The same, darker and with a stronger edge. */
void plwi_svg_shaded(plwi_svg *svg, const char *class, int x, int y, int width, int height);
/* A filled diamond, size high. */
void plwi_svg_diamond(plwi_svg *svg, const char *class, int center, int top, int size);
void plwi_svg_polyline(plwi_svg *svg, const char *class, const plwi_point *points, size_t count);
/* Slanting lines over a rectangle, cut off at its edges. */
void plwi_svg_hatching(plwi_svg *svg, int x, int y, int width, int height);
/* The shape and letter of a grade, PLWI_MARK_SIZE high: octagon F, triangle D,
 * circle N. */
void plwi_svg_mark(plwi_svg *svg, int32_t grade, int center, int top);
/* The shape of an item that stands so (enum plwi_stand), PLWI_MARK_SIZE high: a
 * square with a tick, a diamond with a stroke, a circle with a question mark. */
void plwi_svg_verdict(plwi_svg *svg, int stand, int center, int top);
/* A line whose pattern tells a standing. */
void plwi_svg_standing(plwi_svg *svg, int32_t standing, plwi_point from, plwi_point to);

#endif
