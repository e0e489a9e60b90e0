/* SPDX-License-Identifier: MIT
 *
 * The drawing: what stands in it, that nothing in it overlaps, and that no text
 * from a table or a number can become markup.
 *
 * With the argument "draw" it runs no test but prints drawings, one after
 * another, for svg.py.
 */
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "probe.h"
#include "svg.h"

#define PAGE 360
#define MARGIN 10
#define CLEARANCE 3 /* between leaders, so that they can be told apart */
#define MAX_SHAPES 64
#define MAX_POINTS 8
#define DRAWING_SIZE (1 << 19)

/* Numbers of every kind: plain, disputed, ambiguous, misread, misfit, unreadable,
 * unknown, contradictory, too long, hardly a number at all. */
static const char *const numbers[] = {
    "T31K3P100051",
    "S23R8N500001",
    "H27R9P100200",
    "T24W2P100001",
    "H24Z0P100051",
    "S23K6P100O01",
    "V24M6P100001",
    "T24[KM]6P100051",
    "T24[KMR]6P1[0123]0051",
    "T2\xC3\x84?1P100051",
    "XTA4012345",
    "ETA301?345",
    "?23????5?????",
    "????????????",
    "X99Q9Z000000",
    "H9100001",
    "T24K3P1000512345",
    "T24K3P100051T24K3P10005112345678",
    "T24K3P100051999999999999999999999999",
    "A<b>&\"'1",
    "A\xE2\x80\xAE" "1\xD8\x9C" "2\x01" "3\xFF" "4",
    "",
};
#define NUMBER_COUNT ((int)(sizeof numbers / sizeof *numbers))

static const char *drawn(const plw_result *result, uint32_t flags)
{
    static char text[DRAWING_SIZE];
    size_t needed = 0;
    ck_assert_int_eq(plw_explain(result, PLW_FORMAT_SVG, flags, text, sizeof text, &needed),
                     PLW_OK);
    ck_assert_uint_eq(strlen(text) + 1, needed);
    return text;
}

static const char *drawn_number(const char *number)
{
    return drawn(probe_validate(fixture_tables(), number, NULL), 0);
}

static unsigned count_of(const char *text, const char *part)
{
    unsigned count = 0;
    for (; (text = strstr(text, part)) != NULL; text += strlen(part))
        count++;
    return count;
}

static void expect_words(const char *words, const char *expected)
{
    ck_assert_msg(strstr(words, expected), "not drawn: %s", expected);
}

static void expect_rows(const char *words, const plw_result *r, uint32_t field)
{
    for (uint32_t i = 0; i < plw_field_row_count(r, 0, field) && i < 12; i++) {
        uint32_t row = plw_field_row(r, 0, field, i);
        expect_words(words, plw_row_words(fixture_tables(), row));
        expect_words(words, plw_row_remark(fixture_tables(), row));
        if (plw_row_standing(fixture_tables(), row) == PLW_STANDING_MEMORY)
            expect_words(words, "memory: not confirmed");
    }
}

static uint32_t expect_fields(const char *words, const plw_result *r)
{
    uint32_t plain = 0;
    char head[512];
    char code[256];
    for (uint32_t field = 0; field < plw_field_count(r, 0); field++) {
        expect_rows(words, r, field);
        if (plw_field_is_detail(r, 0, field))
            continue;
        ck_assert_int_eq(plw_field_code(r, 0, field, code, sizeof code, NULL), PLW_OK);
        snprintf(head, sizeof head, "%s %s, position", plw_field_label(r, 0, field), code);
        expect_words(words, head);
        plain++;
    }
    return plain;
}

static uint32_t expect_findings(const char *words, const plw_result *r)
{
    uint32_t shown = 0;
    char sentence[1024];
    for (uint32_t i = 0; i < plw_finding_count(r); i++) {
        uint32_t reading = plw_finding_reading(r, i);
        if (reading != PLW_NONE && reading != 0)
            continue;
        ck_assert_int_eq(plw_finding_sentence(r, i, sentence, sizeof sentence, NULL), PLW_OK);
        expect_words(words, sentence);
        shown++;
    }
    return shown;
}

/* One box for each position, one call-out and leader for each field, a text for
 * each row and finding, the cautions at the foot. */
START_TEST(draws_what_was_found)
{
    const plw_result *r = probe_validate(fixture_tables(), numbers[_i], NULL);
    const char *drawing = drawn(r, 0);
    const char *words = probe_shown(drawing);
    uint32_t positions = plw_result_position_count(r);
    uint32_t fields = expect_fields(words, r);
    uint32_t findings = expect_findings(words, r);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-box\""), positions < 32 ? positions : 32);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-callout\""), fields);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-leader\""), fields);
    ck_assert_uint_ge(count_of(drawing, "class=\"plw-bracket\""), fields);
    ck_assert_uint_ge(count_of(drawing, "class=\"plw-mark\""), findings);
    ck_assert_uint_eq(count_of(drawing, "<title>"), 1);
    ck_assert_uint_eq(count_of(drawing, "<desc>"), 1);
    for (uint32_t i = 0; i < plw_caution_count(fixture_tables()); i++)
        expect_words(words, plw_caution_text(fixture_tables(), i));
    if (plw_reading_count(r) > 0)
        expect_words(words, plw_reading_title(r, 0));
}
END_TEST

START_TEST(tells_years_and_rivals)
{
    const char *drawing = drawn_number("T31K3P100051");
    ck_assert_ptr_nonnull(strstr(drawing, ">1963</tspan></text>"));
    expect_words(probe_shown(drawing), "1 other reading: 1973");
    drawing = drawn_number("XTA4012345");
    ck_assert_ptr_nonnull(strstr(drawing, ">1976 or 1979</tspan></text>"));
    ck_assert_ptr_null(strstr(probe_shown(drawing), "other reading"));
}
END_TEST

START_TEST(tells_a_standing_by_word_and_pattern)
{
    const char *drawing = drawn_number("H24K0P100051");
    static const char *const legend = "published common practice not confirmed";
    expect_words(probe_shown(drawing), legend);
    expect_words(probe_shown(drawing), "Harrier, sporting line Remark: the letter was used again "
                                    "memory: not confirmed");
    /* Once in the legend, once for the line. */
    ck_assert_uint_eq(count_of(drawing, "stroke-dasharray=\"2 3\""), 2);
    drawing = drawn_number("S23R8N500001");
    ck_assert_uint_eq(count_of(drawing, "stroke-dasharray=\"2 3\""), 1);
}
END_TEST

START_TEST(marks_by_shape)
{
    const char *drawing = drawn_number("XTA4012345"); /* a fault: at its position and in the list */
    ck_assert_uint_eq(count_of(drawing, "<polygon"), 2);
    ck_assert_uint_eq(count_of(drawing, ">F</text>"), 2);
    drawing = drawn_number("T24K3P1O0051");
    ck_assert_uint_eq(count_of(drawing, ">D</text>"), 2);
    drawing = drawn_number("S23?8N500001");
    ck_assert_uint_eq(count_of(drawing, ">N</text>"), count_of(drawing, "<circle"));
    ck_assert_uint_ge(count_of(drawing, "<circle"), 2);
}
END_TEST

START_TEST(shows_typed_and_read)
{
    const char *drawing = drawn_number("T24K3P1O0051");
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-typed\""), 1);
    ck_assert_uint_eq(count_of(drawing, ">O</tspan></text>"), 1);
    expect_words(probe_shown(drawing), "T24K3P100051");
    drawing = drawn_number("T24[KM]?P100051");
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-hatching\""), 2);
    ck_assert_uint_eq(count_of(drawing, ">KM</tspan></text>"), 1);
    expect_words(probe_shown(drawing), "T24??P100051");
    ck_assert_uint_eq(count_of(drawn_number("T24K3P100051"), "class=\"plw-hatching\""), 0);
}
END_TEST

START_TEST(lists_sources_on_request)
{
    const plw_result *r = probe_validate(fixture_tables(), "H27R9P100200", NULL);
    const char *citation = "[club-list] Register of the Port Ellery owners' club, 1988, "
                           "https://club.example/register";
    ck_assert_ptr_null(strstr(probe_shown(drawn(r, 0)), citation));
    expect_words(probe_shown(drawn(r, PLW_EXPLAIN_SOURCES)), citation);
}
END_TEST

/* ---- Geometry ---------------------------------------------------------------- */

typedef struct box {
    int x, y, width, height;
} box;

typedef struct shapes {
    int count;
    box boxes[MAX_SHAPES];
} shapes;

typedef struct line {
    int count;
    plwi_point points[MAX_POINTS];
} line;

static void read_boxes(const char *drawing, const char *class, shapes *found)
{
    char start[64];
    snprintf(start, sizeof start, "<rect class=\"%s\" ", class);
    while ((drawing = strstr(drawing, start)) != NULL) {
        ck_assert_int_lt(found->count, MAX_SHAPES);
        box *b = &found->boxes[found->count++];
        drawing += strlen(start);
        ck_assert_int_eq(sscanf(drawing, "x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\"", &b->x,
                                &b->y, &b->width, &b->height), 4);
    }
}

static int read_leaders(const char *drawing, line leaders[MAX_SHAPES])
{
    static const char start[] = "<polyline class=\"plw-leader\" points=\"";
    int count = 0;
    while ((drawing = strstr(drawing, start)) != NULL) {
        ck_assert_int_lt(count, MAX_SHAPES);
        line *l = &leaders[count++];
        int x, y, length;
        l->count = 0;
        drawing += strlen(start);
        while (sscanf(drawing, "%d,%d%n", &x, &y, &length) == 2) {
            ck_assert_int_lt(l->count, MAX_POINTS);
            plwi_point point = { x, y };
            l->points[l->count++] = point;
            drawing += length + (drawing[length] == ' ');
        }
    }
    return count;
}

static int smaller(int a, int b)
{
    return a < b ? a : b;
}

static int larger(int a, int b)
{
    return a > b ? a : b;
}

/* Boxes that share a point. */
static int touch(box a, box b)
{
    return a.x <= b.x + b.width && b.x <= a.x + a.width && a.y <= b.y + b.height &&
           b.y <= a.y + a.height;
}

/* A stretch of a leader: level or upright, so a box without breadth. */
static box stretch(const line *l, int i)
{
    plwi_point a = l->points[i], b = l->points[i + 1];
    ck_assert(a.x == b.x || a.y == b.y);
    box result = { smaller(a.x, b.x), smaller(a.y, b.y), larger(a.x, b.x) - smaller(a.x, b.x),
                   larger(a.y, b.y) - smaller(a.y, b.y) };
    return result;
}

static void expect_apart(const shapes *all, int height, const char *number)
{
    for (int i = 0; i < all->count; i++) {
        box a = all->boxes[i];
        ck_assert_msg(a.x >= 0 && a.x + a.width <= PAGE && a.y >= 0 && a.y + a.height <= height,
                      "%s: a box leaves the page", number);
        ck_assert_msg(a.width > 0 && a.height > 0, "%s: an empty box", number);
        for (int k = 0; k < i; k++)
            ck_assert_msg(!touch(a, all->boxes[k]), "%s: boxes %d and %d overlap", number, k, i);
    }
}

static box with_clearance(box b)
{
    box result = { b.x - CLEARANCE, b.y - CLEARANCE, b.width + 2 * CLEARANCE,
                   b.height + 2 * CLEARANCE };
    return result;
}

static void expect_no_crossing(const line *leaders, int count, const char *number)
{
    for (int a = 0; a < count; a++)
        for (int b = 0; b < a; b++)
            for (int i = 0; i + 1 < leaders[a].count; i++)
                for (int k = 0; k + 1 < leaders[b].count; k++)
                    ck_assert_msg(!touch(with_clearance(stretch(&leaders[a], i)),
                                         stretch(&leaders[b], k)),
                                  "%s: leaders %d and %d meet", number, b, a);
}

/* A leader touches its own call-out with its last point, and nothing else. */
static void expect_free_way(const line *leaders, int count, const shapes *all, const char *number)
{
    for (int l = 0; l < count; l++)
        for (int b = 0; b < all->count; b++) {
            int touched = 0;
            for (int i = 0; i + 1 < leaders[l].count; i++)
                touched += touch(stretch(&leaders[l], i), all->boxes[b]);
            ck_assert_msg(touched == (b == l), "%s: leader %d and box %d", number, l, b);
        }
}

/* In quarters of its height, as common faces have it. */
static int width_of(const char *text)
{
    if (((unsigned char)*text & 0xC0) == 0x80)
        return 0;
    return strchr(" ,.:;'()[]|!iIl", *text) ? 1 : 2;
}

/* Every line of text begins on the page and ends on it. */
static void expect_lines_fit(const char *drawing, int height, const char *number)
{
    static const char start[] = "<text font-size=\"";
    int size = 0, x, y, length;
    for (; (drawing = strchr(drawing, '<')) != NULL; drawing++) {
        if (strncmp(drawing, start, strlen(start)) == 0)
            size = atoi(drawing + strlen(start));
        else if (strncmp(drawing, "<text", 5) == 0)
            size = 0; /* single characters */
        if (size == 0 || sscanf(drawing, "<tspan x=\"%d\" y=\"%d\">%n", &x, &y, &length) != 2)
            continue;
        const char *text = drawing + length;
        int width = 0;
        for (; *text != '<'; probe_unescaped(&text))
            width += width_of(text) * size;
        ck_assert_msg(x >= MARGIN && x + width / 4 <= PAGE && y > size && y < height,
                      "%s: a line leaves the page: %.80s", number, drawing);
    }
}

static void expect_good_geometry(const char *drawing, const char *number)
{
    shapes all = { 0 };
    line leaders[MAX_SHAPES];
    int height = 0;
    ck_assert_int_eq(sscanf(strstr(drawing, "viewBox"), "viewBox=\"0 0 360 %d\"", &height), 1);
    read_boxes(drawing, "plw-callout", &all);
    int count = read_leaders(drawing, leaders);
    ck_assert_int_eq(count, all.count);
    read_boxes(drawing, "plw-box", &all);
    expect_apart(&all, height, number);
    expect_no_crossing(leaders, count, number);
    expect_free_way(leaders, count, &all, number);
    expect_lines_fit(drawing, height, number);
}

START_TEST(nothing_overlaps)
{
    expect_good_geometry(drawn_number(numbers[_i]), numbers[_i]);
}
END_TEST

/* The sample of every layout of the live tables, as it is and with a character
 * that cannot be read. */
START_TEST(nothing_overlaps_in_live_tables)
{
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++)
        for (uint32_t layout = 0; layout < plw_layout_count(NULL, scheme); layout++) {
            char number[PLW_MAX_TEXT];
            snprintf(number, sizeof number, "%s", plw_layout_sample(NULL, scheme, layout));
            plw_result *r = probe_validate(NULL, number, NULL);
            ck_assert_uint_gt(plw_reading_count(r), 0);
            expect_good_geometry(drawn(r, 0), number);
            number[strlen(number) / 3] = '?';
            expect_good_geometry(drawn(probe_validate(NULL, number, NULL), 0), number);
        }
}
END_TEST

START_TEST(nothing_overlaps_at_any_length)
{
    char number[PLW_MAX_POSITIONS + 5] = "";
    while (strlen(number) + 1 < sizeof number) {
        strcat(number, "?");
        expect_good_geometry(drawn(probe_validate(NULL, number, NULL), 0), number);
    }
}
END_TEST

START_TEST(tells_claims_and_suggestions)
{
    static const char claims[] = "year=1963; plant=Netherwick; colour=red";
    static const char number[] = "T28K3P100051";
    plw_result *r = probe_validate(fixture_tables(), number, NULL);
    ck_assert_ptr_null(strstr(drawn(r, 0), "Claims"));
    ck_assert_int_eq(plw_suggest(fixture_tables(), number, strlen(number), NULL, 0, r), PLW_OK);
    ck_assert_int_eq(plw_check_claims(r, claims, sizeof claims - 1), PLW_OK);
    const char *drawing = drawn(r, 0);
    expect_good_geometry(drawing, number);
    for (uint32_t i = 0; i < plw_claim_count(r); i++) {
        char sentence[1024];
        ck_assert_int_eq(plw_claim_sentence(r, i, sentence, sizeof sentence, NULL), PLW_OK);
        expect_words(probe_shown(drawing), sentence);
    }
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-tick\""), 1); /* supported */
    ck_assert_uint_eq(count_of(drawing, ">!</text>"), 1);          /* contradicted */
    ck_assert_uint_eq(count_of(drawing, ">?</text>"), 1);          /* not told */
    ck_assert_uint_gt(plw_suggestion_count(r), 0);
    for (uint32_t i = 0; i < plw_suggestion_count(r); i++) {
        char sentence[1024];
        ck_assert_int_eq(plw_suggestion_sentence(r, i, sentence, sizeof sentence, NULL), PLW_OK);
        expect_words(probe_shown(drawing), sentence);
    }
}
END_TEST

/* ---- Tables of other shapes ---------------------------------------------------- */

/* A field of two parts with another between them, and one that goes on in the
 * second row of boxes. */
START_TEST(draws_split_fields_over_two_rows)
{
    const plw_tables *tables = fixture_tables_of(
        "[scheme]\nkey long-1970\ntitle Long numbers\nyears 1970-1979\nfacts -\n"
        "[fields]\nl line code A-Z\nb body code 0-9\ne engine code 0-9\ns sequence run 0-9\n"
        "[layout]\nsample A1A12345678900000000001\nruler lbleeeeeeeeeessssssssss\n"
        "[line]\nAA 1970-1979 - practice - - double line\n"
        "[body]\n1 1970-1979 - practice - - first body\n"
        "[engine]\n1234567890 1970-1979 - practice - - long engine\n"
        "[sequence]\n0000000001+ 1970-1979 - practice - - from one\n");
    const char *number = "A1A12345678900000000001";
    const plw_result *r = probe_validate(tables, number, NULL);
    ck_assert_uint_eq(plw_reading_count(r), 1);
    const char *drawing = drawn(r, 0);
    expect_good_geometry(drawing, number);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-box\""), 23);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-callout\""), 4);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-bracket\""), 6);
    expect_words(probe_shown(drawing), "line AA, positions 1, 3");
}
END_TEST

/* ---- Hostile texts ------------------------------------------------------------- */

/* Every tag is one of those the drawing is made of, with plain attributes. */
static void expect_plain_tags(const char *drawing)
{
    static const char *const names[] = { "svg", "title", "desc", "text", "tspan", "rect", "path",
                                         "polyline", "polygon", "circle" };
    static const char *const refused[] = { " on", "href", " style", " id=", "url(", "script" };
    for (; (drawing = strchr(drawing, '<')) != NULL; drawing++) {
        char tag[4096] = "";
        size_t length = strcspn(drawing, ">");
        ck_assert_uint_lt(length, sizeof tag);
        memcpy(tag, drawing, length);
        const char *name = tag + (tag[1] == '/' ? 2 : 1);
        int known = 0;
        for (size_t i = 0; i < sizeof names / sizeof *names; i++)
            known += strcspn(name, " ") == strlen(names[i]) &&
                     strncmp(name, names[i], strlen(names[i])) == 0;
        ck_assert_msg(known == 1, "tag: %s", tag);
        for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
            ck_assert_msg(!strstr(tag, refused[i]), "tag: %s", tag);
    }
}

START_TEST(tables_cannot_write_markup)
{
    const plw_result *r = probe_validate(fixture_hostile_tables(), "A112345", NULL);
    const char *drawing = drawn(r, PLW_EXPLAIN_SOURCES);
    expect_plain_tags(drawing);
    expect_good_geometry(drawing, "hostile tables");
    ck_assert_ptr_nonnull(strstr(drawing, "&lt;/title&gt;&lt;script&gt;alert(1)&lt;/script&gt;"));
    ck_assert_ptr_nonnull(strstr(drawing, "onload=&#39;x()&#39;&gt;&amp;amp;&quot;&lt;/b&gt;"));
    expect_words(probe_shown(drawing), "<a xlink:href=\"javascript:x()\">book</a>]]>");
    expect_words(probe_shown(drawing),
                 "one" REPLACEMENT "two" REPLACEMENT "three" REPLACEMENT "four");
    ck_assert_ptr_null(strstr(drawing, RIGHT_TO_LEFT_MARK));
    ck_assert_ptr_null(strstr(drawing, ARABIC_MARK));
    ck_assert_ptr_null(strstr(drawing, BYTE_ORDER_MARK));
}
END_TEST

START_TEST(numbers_cannot_write_markup)
{
    const char *drawing = drawn_number(numbers[_i]);
    expect_plain_tags(drawing);
    for (const char *at = drawing; *at; at++)
        ck_assert(*at == '\n' || (unsigned char)*at >= ' ');
}
END_TEST

START_TEST(escapes_every_sign)
{
    static const char *const pairs[][2] = {
        { "<>&\"'", "&lt;&gt;&amp;&quot;&#39;" },
        { "a\x01\x7F\x1B", "a" REPLACEMENT REPLACEMENT REPLACEMENT },
        { "\xE2\x80\xAE\xE2\x81\xA6\xE2\x80\x8B", REPLACEMENT REPLACEMENT REPLACEMENT },
        { "\xFF\xC3", REPLACEMENT REPLACEMENT },
        { "\xED\xA0\x80", REPLACEMENT REPLACEMENT REPLACEMENT },
        { "\xEF\xBF\xBE\xEF\xBF\xBF", REPLACEMENT REPLACEMENT },
        { "\xF3\xA0\x80\xA0", REPLACEMENT },
        { "\xC3\x84\xE2\x82\xAC\xF0\x9F\x9A\x97", "\xC3\x84\xE2\x82\xAC\xF0\x9F\x9A\x97" },
    };
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        char text[64];
        plwi_writer writer = plwi_writer_on(text, sizeof text);
        plwi_svg svg = { &writer, 0 };
        plwi_svg_escaped(&svg, pairs[i][0]);
        ck_assert_int_eq(plwi_writer_end(&writer, NULL), PLW_OK);
        ck_assert_str_eq(text, pairs[i][1]);
    }
}
END_TEST

/* ---- Paragraphs ------------------------------------------------------------------ */

static const char *paragraph(const char *text, int right, int *y)
{
    static char written[4096];
    plwi_writer writer = plwi_writer_on(written, sizeof written);
    plwi_svg svg = { &writer, 0 };
    plwi_paragraph p = plwi_paragraph_start(&svg, FONT_BODY, 0, right);
    plwi_paragraph_put(&p, text);
    plwi_paragraph_end(&p);
    ck_assert_int_eq(plwi_writer_end(&writer, NULL), PLW_OK);
    *y = svg.y;
    return written;
}

START_TEST(paragraphs_wrap)
{
    int y = 0;
    ck_assert_str_eq(paragraph("", 100, &y), "");
    ck_assert_int_eq(y, 0);
    ck_assert_str_eq(paragraph(" one\ttwo\n", 100, &y),
                     "<text font-size=\"13\"><tspan x=\"0\" y=\"13\">one two</tspan></text>\n");
    ck_assert_int_eq(y, 17);
    ck_assert_str_eq(paragraph("onetwo three", 60, &y),
                     "<text font-size=\"13\"><tspan x=\"0\" y=\"13\">onetwo</tspan>\n"
                     "<tspan x=\"0\" y=\"30\">three</tspan></text>\n");
    ck_assert_int_eq(y, 34);
    /* A word wider than the line is broken where the line ends. */
    ck_assert_uint_eq(count_of(paragraph("mmmmmmmmmmmmmmmmmmmmmmmm", 60, &y), "<tspan"), 6);
    /* Marks that take no width do not make a word endless. */
    char marks[1024] = "e";
    while (strlen(marks) + 3 < sizeof marks)
        strcat(marks, "\xCC\x81");
    ck_assert_uint_ge(count_of(paragraph(marks, 60, &y), "</text>"), 1);
}
END_TEST

/* ---- Cars ------------------------------------------------------------------------ */

/* Boxes of all plates and of what they say together; those that differ, hatched ones
 * and choices among them; plates that are not aligned. */
static const struct car {
    const char *plates;
    unsigned boxes, differing, hatched, loose;
} cars[] = {
    { "dash=T24M6P100051;engine=6P100051", 32, 0, 0, 0 },
    { "dash=T24M6P100051;engine=6P100052", 32, 3, 1, 0 },
    { "dash=T24M6P100051;engine=7N100051", 32, 6, 2, 0 },
    { "dash=T24M6P100051;engine=6P10005?", 32, 0, 1, 0 },
    { "dash=T24M6P1000[56]1;engine=6P10005?;body_tag=ABC", 32, 0, 2, 1 },
    { "engine=6P100051;gearbox=6P100051", 28, 0, 4, 0 },
    { "dash=T24M6P100051;door_label=T24M6P100059;engine=6P10005?", 44, 3, 2, 0 },
    { "dash=T24M6P100051;door_label=T24M6P100052;certification_label=T24M6P100053;"
      "engine=6P100054;gearbox=6P100055;body=6P100056", 72, 7, 1, 0 },
    { "dash=T24M6P1<b>51;body_tag=MMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMM", 0, 0, 0, 2 },
    { "dash=;engine=ABC", 0, 0, 0, 2 },
    { "", 0, 0, 0, 0 },
};
#define CAR_COUNT ((int)(sizeof cars / sizeof *cars))

static const char *drawn_car(const plw_car *car)
{
    static char text[DRAWING_SIZE];
    ck_assert_int_eq(plw_explain_car(car, PLW_FORMAT_SVG, PLW_EXPLAIN_SOURCES, text, sizeof text,
                                     NULL),
                     PLW_OK);
    return text;
}

START_TEST(draws_a_car)
{
    const struct car *c = &cars[_i];
    const char *drawing = drawn_car(probe_compare(fixture_tables(), c->plates, NULL));
    unsigned differing = count_of(drawing, "class=\"plw-differs\"");
    expect_plain_tags(drawing);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-box\"") + differing, c->boxes);
    ck_assert_uint_eq(differing, c->differing);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-difference\""), c->differing);
    ck_assert_uint_eq(count_of(drawing, "class=\"plw-hatching\""), c->hatched);
    ck_assert_uint_eq(count_of(drawing, "(not aligned)") + count_of(drawing, "(nothing to read)"),
                      c->loose);
}
END_TEST

/* A stamp can be selected whole, and so can what the plates say together. */
START_TEST(a_plate_is_one_text)
{
    const char *shown = probe_shown(
        drawn_car(probe_compare(fixture_tables(), "dash=T24M6P100051;engine=6P100052", NULL)));
    expect_words(shown, " dash plate: differs T24M6P100051 ");
    expect_words(shown, " engine stamp: differs 6P100052 ");
    expect_words(shown, " together T24M6P10005? 12 ");
}
END_TEST

static const char *const live_cars[] = {
    "dash=RM23V0A149789;engine=0A149780;body=0A1497?9;door_label=xyz",
    "dash=1G1AP87H8BN123456;door_label=1G1AP87[H8]8BN1?3458;engine=1BN123456;body_tag=ABC",
    "engine=0A149789",
    "dash=9112101234",
};
#define LIVE_CAR_COUNT ((int)(sizeof live_cars / sizeof *live_cars))

static void print_cars(void)
{
    static const char claims[] = "year=1966; engine=<b>; colour=]]>; sequence=100051";
    for (int i = 0; i < CAR_COUNT; i++) {
        plw_car *car = probe_compare(fixture_tables(), cars[i].plates, NULL);
        ck_assert_int_eq(plw_car_check_claims(car, claims, sizeof claims - 1), PLW_OK);
        fputs(drawn_car(car), stdout);
    }
    for (int i = 0; i < LIVE_CAR_COUNT; i++)
        fputs(drawn_car(probe_compare(NULL, live_cars[i], NULL)), stdout);
    fputs(drawn_car(probe_compare(fixture_hostile_tables(), "dash=A112345;gearbox=12346", NULL)),
          stdout);
}

/* ---- The program ------------------------------------------------------------------ */

/* A number with claims and suggestions. */
static void print_claims(void)
{
    static const char claims[] = "year=1966; engine=<b>; body=convertible; fuel=\"'&]]>";
    plw_result *r = probe_validate(fixture_tables(), "", NULL);
    ck_assert_int_eq(plw_suggest(fixture_tables(), "T28K3P100051", 12, NULL, 0, r), PLW_OK);
    ck_assert_int_eq(plw_check_claims(r, claims, sizeof claims - 1), PLW_OK);
    fputs(drawn(r, 0), stdout);
}

START_TEST(print_drawings)
{
    for (int i = 0; i < NUMBER_COUNT; i++)
        fputs(drawn_number(numbers[i]), stdout);
    fputs(drawn(probe_validate(fixture_hostile_tables(), "A112345", NULL), PLW_EXPLAIN_SOURCES),
          stdout);
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++)
        for (uint32_t layout = 0; layout < plw_layout_count(NULL, scheme); layout++)
            fputs(drawn(probe_validate(NULL, plw_layout_sample(NULL, scheme, layout), NULL),
                        PLW_EXPLAIN_SOURCES), stdout);
    print_claims();
    print_cars();
}
END_TEST

static void add_drawings(TCase *test)
{
    tcase_add_test(test, print_drawings);
}

static void add(TCase *test)
{
    tcase_add_loop_test(test, draws_what_was_found, 0, NUMBER_COUNT);
    tcase_add_test(test, tells_years_and_rivals);
    tcase_add_test(test, tells_a_standing_by_word_and_pattern);
    tcase_add_test(test, marks_by_shape);
    tcase_add_test(test, shows_typed_and_read);
    tcase_add_test(test, lists_sources_on_request);
    tcase_add_loop_test(test, nothing_overlaps, 0, NUMBER_COUNT);
    tcase_add_test(test, nothing_overlaps_in_live_tables);
    tcase_add_test(test, nothing_overlaps_at_any_length);
    tcase_add_test(test, draws_split_fields_over_two_rows);
    tcase_add_test(test, tables_cannot_write_markup);
    tcase_add_loop_test(test, numbers_cannot_write_markup, 0, NUMBER_COUNT);
    tcase_add_test(test, escapes_every_sign);
    tcase_add_test(test, paragraphs_wrap);
    tcase_add_test(test, tells_claims_and_suggestions);
    tcase_add_loop_test(test, draws_a_car, 0, CAR_COUNT);
    tcase_add_test(test, a_plate_is_one_text);
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "draw") == 0)
        return probe_print("draw", add_drawings);
    return probe_run("svg", add);
}
