/* SPDX-License-Identifier: MIT
 *
 * SVG, element by element. There are no font metrics here: a character is given
 * the room that wide faces take, so that no line grows out of its box.
 */
#include "svg.h"

#include <string.h>

#include "escape.h"
#include "internal.h"

/* ---- Markup -------------------------------------------------------------- */

void plwi_svg_markup(plwi_svg *svg, const char *markup)
{
    plwi_put_text(svg->out, markup);
}

void plwi_svg_start(plwi_svg *svg, const char *class, int height)
{
    plwi_svg_markup(svg, "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"");
    plwi_svg_markup(svg, class);
    plwi_svg_markup(svg, "\" role=\"group\" viewBox=\"0 0 360 ");
    plwi_put_number(svg->out, height);
    plwi_svg_markup(svg, "\" font-family=\"system-ui, Helvetica, Arial, sans-serif\" "
                         "fill=\"currentColor\">\n");
}

static plwi_unit unit_at(const char *text, size_t left)
{
    return plwi_next_unit((const unsigned char *)text, left);
}

void plwi_svg_escaped(plwi_svg *svg, const char *text)
{
    plwi_put_escaped(svg->out, text, strlen(text));
}

void plwi_svg_attribute(plwi_svg *svg, const char *name, int value)
{
    plwi_put_char(svg->out, ' ');
    plwi_put_text(svg->out, name);
    plwi_put_text(svg->out, "=\"");
    plwi_put_number(svg->out, value);
    plwi_put_char(svg->out, '"');
}

/* ---- Paragraphs ---------------------------------------------------------- */

typedef struct face {
    int size;
    int leading;
    int bold;
} face;

static face face_of(int font)
{
    static const face faces[] = {
        { 30, 36, 1 }, /* FONT_YEARS */
        { 15, 20, 1 }, /* FONT_TITLE */
        { 13, 18, 1 }, /* FONT_HEAD */
        { 13, 17, 0 }, /* FONT_BODY */
        { 11, 15, 0 }, /* FONT_SMALL */
    };
    return faces[font];
}

/* In hundredths of the font's size. */
static int width_of_plain(uint32_t code)
{
    if (code >= 0x10000)
        return 140;
    if (code >= 0x1100)
        return 110;
    if (code >= 0x80)
        return code >= 0x300 && code < 0x370 ? 0 : code < 0x250 ? 76 : 100;
    if (strchr(" !'(),-./:;I[]fijlrt|", (int)code))
        return 37;
    if (strchr("%@MWmw", (int)code))
        return 100;
    return (code >= 'A' && code <= 'Z') || strchr("#&+<=>^~", (int)code) ? 76 : 63;
}

static int width_of(int font, uint32_t code)
{
    face f = face_of(font);
    int width = width_of_plain(code) * f.size;
    return f.bold ? width * 9 / 8 : width;
}

plwi_paragraph plwi_paragraph_start(plwi_svg *svg, int font, int left, int right)
{
    plwi_paragraph paragraph = { .svg = svg, .font = font, .left = left };
    paragraph.room = (right - left) * 100;
    return paragraph;
}

static void open_text(plwi_paragraph *p, face f)
{
    plwi_svg_markup(p->svg, "<text");
    plwi_svg_attribute(p->svg, "font-size", f.size);
    plwi_svg_markup(p->svg, f.bold ? " font-weight=\"700\">" : ">");
}

static void open_line(plwi_paragraph *p)
{
    face f = face_of(p->font);
    if (p->lines == 0)
        open_text(p, f);
    else
        plwi_svg_markup(p->svg, "</tspan>\n");
    plwi_svg_markup(p->svg, "<tspan");
    plwi_svg_attribute(p->svg, "x", p->left);
    plwi_svg_attribute(p->svg, "y", p->svg->y + (f.leading + f.size * 3 / 4) / 2);
    plwi_svg_markup(p->svg, ">");
    p->svg->y += f.leading;
    p->lines++;
    p->used = 0;
}

/* Ends the gathered word: it goes on this line if it fits, else on the next. */
static void end_word(plwi_paragraph *p)
{
    int blank = width_of(p->font, ' ');
    if (p->word_size == 0)
        return;
    if (p->lines == 0 || p->used + blank + p->word_width > p->room)
        open_line(p);
    if (p->used > 0) {
        plwi_put_char(p->svg->out, ' ');
        p->used += blank;
    }
    plwi_put_escaped(p->svg->out, p->word, p->word_size);
    p->used += p->word_width;
    p->word_size = 0;
    p->word_width = 0;
}

static void add_to_word(plwi_paragraph *p, const char *text, plwi_unit unit)
{
    int width = width_of(p->font, unit.code);
    if (p->word_width + width > p->room || p->word_size + unit.length > PLWI_WORD_SIZE)
        end_word(p);
    memcpy(p->word + p->word_size, text, unit.length);
    p->word_size += unit.length;
    p->word_width += width;
}

void plwi_paragraph_put(plwi_paragraph *paragraph, const char *text)
{
    size_t left = strlen(text);
    while (left > 0) {
        plwi_unit unit = unit_at(text, left);
        if (unit.code <= ' ')
            end_word(paragraph);
        else
            add_to_word(paragraph, text, unit);
        text += unit.length;
        left -= unit.length;
    }
}

void plwi_paragraph_put_between(plwi_paragraph *paragraph, const char *before, const char *text,
                                const char *after)
{
    if (text[0] == '\0')
        return;
    plwi_paragraph_put(paragraph, before);
    plwi_paragraph_put(paragraph, text);
    plwi_paragraph_put(paragraph, after);
}

void plwi_paragraph_put_number(plwi_paragraph *paragraph, uint32_t number)
{
    char digits[12];
    plwi_writer writer = plwi_writer_on(digits, sizeof digits);
    plwi_put_number(&writer, number);
    plwi_writer_end(&writer, NULL);
    plwi_paragraph_put(paragraph, digits);
}

void plwi_paragraph_end(plwi_paragraph *paragraph)
{
    end_word(paragraph);
    if (paragraph->lines > 0)
        plwi_svg_markup(paragraph->svg, "</tspan></text>\n");
}

void plwi_svg_line(plwi_svg *svg, int font, int left, int right, const char *text)
{
    plwi_paragraph paragraph = plwi_paragraph_start(svg, font, left, right);
    plwi_paragraph_put(&paragraph, text);
    plwi_paragraph_end(&paragraph);
}

/* ---- Stamped characters -------------------------------------------------- */

void plwi_svg_open_stamped(plwi_svg *svg, int size)
{
    plwi_svg_markup(svg, "<text text-anchor=\"middle\" font-family=\"ui-monospace, Menlo, "
                         "Consolas, 'DejaVu Sans Mono', monospace\"");
    plwi_svg_attribute(svg, "font-size", size);
    plwi_svg_markup(svg, size > 12 ? " font-weight=\"700\">" : ">");
}

void plwi_svg_open_place(plwi_svg *svg, int center, int baseline)
{
    plwi_svg_markup(svg, "<tspan");
    plwi_svg_attribute(svg, "x", center);
    plwi_svg_attribute(svg, "y", baseline);
    plwi_svg_markup(svg, ">");
}

/* ---- Shapes -------------------------------------------------------------- */

static void open_element(plwi_svg *svg, const char *name, const char *class)
{
    plwi_svg_markup(svg, "<");
    plwi_svg_markup(svg, name);
    plwi_svg_markup(svg, " class=\"");
    plwi_svg_markup(svg, class);
    plwi_svg_markup(svg, "\"");
}

static void put_points(plwi_svg *svg, const plwi_point *points, size_t count)
{
    plwi_svg_markup(svg, " points=\"");
    for (size_t i = 0; i < count; i++) {
        if (i > 0)
            plwi_put_char(svg->out, ' ');
        plwi_put_number(svg->out, points[i].x);
        plwi_put_char(svg->out, ',');
        plwi_put_number(svg->out, points[i].y);
    }
    plwi_svg_markup(svg, "\"");
}

static void open_rectangle(plwi_svg *svg, const char *class, int x, int y, int width, int height)
{
    open_element(svg, "rect", class);
    plwi_svg_attribute(svg, "x", x);
    plwi_svg_attribute(svg, "y", y);
    plwi_svg_attribute(svg, "width", width);
    plwi_svg_attribute(svg, "height", height);
}

void plwi_svg_rectangle(plwi_svg *svg, const char *class, int x, int y, int width, int height)
{
    open_rectangle(svg, class, x, y, width, height);
    plwi_svg_markup(svg, " rx=\"3\" fill=\"none\" stroke=\"currentColor\"/>\n");
}

void plwi_svg_shaded(plwi_svg *svg, const char *class, int x, int y, int width, int height)
{
    open_rectangle(svg, class, x, y, width, height);
    plwi_svg_markup(svg, " rx=\"3\" fill-opacity=\"0.2\" stroke=\"currentColor\" "
                         "stroke-width=\"2\"/>\n");
}

void plwi_svg_polyline(plwi_svg *svg, const char *class, const plwi_point *points, size_t count)
{
    open_element(svg, "polyline", class);
    put_points(svg, points, count);
    plwi_svg_markup(svg, " fill=\"none\" stroke=\"currentColor\"/>\n");
}

static void put_stroke(plwi_svg *svg, plwi_point from, plwi_point to)
{
    plwi_svg_markup(svg, "M");
    plwi_put_number(svg->out, from.x);
    plwi_svg_markup(svg, " ");
    plwi_put_number(svg->out, from.y);
    plwi_svg_markup(svg, "L");
    plwi_put_number(svg->out, to.x);
    plwi_svg_markup(svg, " ");
    plwi_put_number(svg->out, to.y);
}

void plwi_svg_hatching(plwi_svg *svg, int x, int y, int width, int height)
{
    open_element(svg, "path", "plw-hatching");
    plwi_svg_markup(svg, " d=\"");
    for (int start = 5 - height; start < width; start += 5) {
        int from = start < 0 ? -start : 0;
        int to = start + height > width ? width - start : height;
        plwi_point upper = { x + start + from, y + from };
        plwi_point lower = { x + start + to, y + to };
        put_stroke(svg, upper, lower);
    }
    plwi_svg_markup(svg, "\" fill=\"none\" stroke=\"currentColor\" stroke-opacity=\"0.45\"/>\n");
}

static void put_polygon(plwi_svg *svg, const plwi_point *points, size_t count)
{
    open_element(svg, "polygon", "plw-mark");
    put_points(svg, points, count);
    plwi_svg_markup(svg, " fill=\"none\" stroke=\"currentColor\" stroke-width=\"1.5\"/>\n");
}

void plwi_svg_diamond(plwi_svg *svg, const char *class, int center, int top, int size)
{
    int half = size / 2;
    plwi_point points[] = { { center, top }, { center + half, top + half },
                            { center, top + size }, { center - half, top + half } };
    open_element(svg, "polygon", class);
    put_points(svg, points, sizeof points / sizeof *points);
    plwi_svg_markup(svg, "/>\n");
}

static void put_octagon(plwi_svg *svg, int x, int y)
{
    plwi_point points[] = { { x - 4, y }, { x + 4, y }, { x + 9, y + 5 }, { x + 9, y + 13 },
                            { x + 4, y + 18 }, { x - 4, y + 18 }, { x - 9, y + 13 },
                            { x - 9, y + 5 } };
    put_polygon(svg, points, sizeof points / sizeof *points);
}

static void put_triangle(plwi_svg *svg, int x, int y)
{
    plwi_point points[] = { { x, y }, { x + 9, y + 18 }, { x - 9, y + 18 } };
    put_polygon(svg, points, sizeof points / sizeof *points);
}

static void put_circle(plwi_svg *svg, int x, int y)
{
    open_element(svg, "circle", "plw-mark");
    plwi_svg_attribute(svg, "cx", x);
    plwi_svg_attribute(svg, "cy", y + 9);
    plwi_svg_attribute(svg, "r", 9);
    plwi_svg_markup(svg, " fill=\"none\" stroke=\"currentColor\"/>\n");
}

static void put_letter(plwi_svg *svg, const char *letter, int size, int x, int y)
{
    plwi_svg_markup(svg, "<text text-anchor=\"middle\" font-weight=\"700\"");
    plwi_svg_attribute(svg, "font-size", size);
    plwi_svg_attribute(svg, "x", x);
    plwi_svg_attribute(svg, "y", y);
    plwi_svg_markup(svg, ">");
    plwi_svg_markup(svg, letter);
    plwi_svg_markup(svg, "</text>\n");
}

void plwi_svg_mark(plwi_svg *svg, int32_t grade, int center, int top)
{
    if (grade == PLW_GRADE_FAULT) {
        put_octagon(svg, center, top);
        put_letter(svg, "F", 11, center, top + 13);
    } else if (grade == PLW_GRADE_DOUBT) {
        put_triangle(svg, center, top);
        put_letter(svg, "D", 9, center, top + 16);
    } else {
        put_circle(svg, center, top);
        put_letter(svg, "N", 11, center, top + 13);
    }
}

static void put_tick(plwi_svg *svg, int x, int y)
{
    plwi_point square[] = { { x - 8, y + 1 }, { x + 8, y + 1 }, { x + 8, y + 17 },
                            { x - 8, y + 17 } };
    plwi_point tick[] = { { x - 5, y + 9 }, { x - 1, y + 13 }, { x + 5, y + 5 } };
    put_polygon(svg, square, sizeof square / sizeof *square);
    plwi_svg_polyline(svg, "plw-tick", tick, sizeof tick / sizeof *tick);
}

static void put_diamond(plwi_svg *svg, int x, int y)
{
    plwi_point diamond[] = { { x, y }, { x + 9, y + 9 }, { x, y + 18 }, { x - 9, y + 9 } };
    put_polygon(svg, diamond, sizeof diamond / sizeof *diamond);
    put_letter(svg, "!", 11, x, y + 13);
}

void plwi_svg_verdict(plwi_svg *svg, int stand, int center, int top)
{
    if (stand == STANDS_FOR) {
        put_tick(svg, center, top);
    } else if (stand == STANDS_AGAINST) {
        put_diamond(svg, center, top);
    } else {
        put_circle(svg, center, top);
        put_letter(svg, "?", 11, center, top + 13);
    }
}

void plwi_svg_standing(plwi_svg *svg, int32_t standing, plwi_point from, plwi_point to)
{
    open_element(svg, "path", "plw-standing");
    plwi_svg_markup(svg, " d=\"");
    put_stroke(svg, from, to);
    plwi_svg_markup(svg, "\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"3\"");
    if (standing == PLW_STANDING_PRACTICE)
        plwi_svg_markup(svg, " stroke-dasharray=\"7 3\"");
    else if (standing == PLW_STANDING_MEMORY)
        plwi_svg_markup(svg, " stroke-dasharray=\"2 3\"");
    plwi_svg_markup(svg, "/>\n");
}
