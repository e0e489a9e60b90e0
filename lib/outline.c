/* SPDX-License-Identifier: MIT */
#include "outline.h"

#include "html.h"
#include "markdown.h"

#define TEXT_EDGE 2u
#define TEXT_GAP 2u
#define MARK_WIDTH 26 /* of a drawing */

/* ---- headings and paragraphs ------------------------------------------------ */

void plwi_outline_end_list(plwi_outline *outline)
{
    if (outline->is_list && outline->format == PLW_FORMAT_HTML)
        plwi_html_markup(&outline->view->out, "</ul>\n");
    outline->is_list = 0;
}

static void open_list(plwi_outline *outline)
{
    if (!outline->is_list)
        plwi_put_text(&outline->view->out, outline->format == PLW_FORMAT_HTML ? "<ul>\n" : "\n");
    outline->is_list = 1;
}

void plwi_outline_heading(plwi_outline *outline, const char *text)
{
    plwi_outline_end_list(outline);
    switch (outline->format) {
    case PLW_FORMAT_TEXT:
        plwi_page_heading(outline->page, text);
        break;
    case PLW_FORMAT_MARKDOWN:
        plwi_markdown_between(outline->view, "\n## ", text, "\n");
        break;
    case PLW_FORMAT_HTML:
        plwi_html_between(&outline->view->out, "<h2>", text, "</h2>\n");
        break;
    default:
        outline->svg->y += PLWI_PADDING;
        plwi_svg_line(outline->svg, FONT_HEAD, PLWI_EDGE, PLWI_RIGHT_EDGE, text);
    }
}

void plwi_outline_line(plwi_outline *outline, const char *text)
{
    plwi_outline_end_list(outline);
    switch (outline->format) {
    case PLW_FORMAT_TEXT:
        plwi_page_finish(outline->page);
        plwi_page_cell(outline->page, 0);
        plwi_page_put(outline->page, text);
        plwi_page_finish(outline->page);
        break;
    case PLW_FORMAT_MARKDOWN:
        plwi_markdown_between(outline->view, "\n", text, "\n");
        break;
    case PLW_FORMAT_HTML:
        plwi_html_between(&outline->view->out, "<p>", text, "</p>\n");
        break;
    default:
        plwi_svg_line(outline->svg, FONT_SMALL, PLWI_EDGE, PLWI_RIGHT_EDGE, text);
    }
}

void plwi_outline_paragraph(plwi_outline *outline, const char *text)
{
    if (outline->format == PLW_FORMAT_TEXT)
        plwi_page_blank(outline->page);
    if (outline->format == PLW_FORMAT_SVG)
        outline->svg->y += PLWI_PADDING;
    plwi_outline_line(outline, text);
}

/* ---- items -------------------------------------------------------------------- */

static void text_sources(plwi_page *page, const char *sources)
{
    if (sources[0] != '\0') {
        plwi_page_put(page, " [");
        plwi_page_put(page, sources);
        plwi_page_put(page, "]");
    }
    plwi_page_finish(page);
}

static void text_item(plwi_page *page, const plwi_mark *mark, const char *text,
                      const char *sources)
{
    if (mark) {
        plwi_page_cell(page, TEXT_EDGE);
        plwi_page_put(page, mark->word);
        plwi_page_cell(page, TEXT_EDGE + mark->columns + TEXT_GAP);
    } else {
        plwi_page_bullet(page, TEXT_EDGE);
    }
    plwi_page_put(page, text);
    text_sources(page, sources);
}

static void markdown_item(plwi_outline *outline, const plwi_mark *mark, const char *text,
                          const char *sources)
{
    plwi_view *view = outline->view;
    open_list(outline);
    plwi_markdown_put(view, "- ");
    if (mark)
        plwi_markdown_between(view, "**", mark->word, "**: ");
    plwi_markdown_escaped(view, text);
    plwi_markdown_between(view, " \\[", sources, "\\]");
    plwi_markdown_put(view, "\n");
}

static void html_open_item(plwi_outline *outline, const char *class)
{
    open_list(outline);
    plwi_html_markup(&outline->view->out, "<li");
    plwi_html_between(&outline->view->out, " class=\"", class, "\"");
    plwi_html_markup(&outline->view->out, ">");
}

static const char *class_of(const plwi_mark *mark)
{
    if (mark == NULL)
        return "";
    switch (mark->stand) {
    case STANDS_FOR: return "for";
    case STANDS_AGAINST: return "against";
    case STANDS_OPEN: return "open";
    default: return "aside";
    }
}

static void html_item(plwi_outline *outline, const plwi_mark *mark, const char *text,
                      const char *sources)
{
    plwi_writer *out = &outline->view->out;
    html_open_item(outline, class_of(mark));
    if (mark)
        plwi_html_between(out, "<strong>", mark->word, "</strong> ");
    plwi_html_between(out, "", text, "");
    plwi_html_between(out, " <small>[", sources, "]</small>");
    plwi_html_markup(out, "</li>\n");
}

static void svg_item(plwi_svg *svg, const plwi_mark *mark, const char *text, const char *sources)
{
    int left = PLWI_EDGE + (mark ? MARK_WIDTH : PLWI_PADDING);
    int top = svg->y += 3;
    if (mark)
        plwi_svg_verdict(svg, mark->stand, PLWI_EDGE + 9, top);
    else
        plwi_svg_line(svg, FONT_BODY, PLWI_EDGE, left, "-");
    svg->y = top;
    plwi_svg_line(svg, FONT_BODY, left, PLWI_RIGHT_EDGE, text);
    plwi_paragraph small = plwi_paragraph_start(svg, FONT_SMALL, left, PLWI_RIGHT_EDGE);
    plwi_paragraph_put(&small, mark ? mark->word : "");
    plwi_paragraph_put_between(&small, " [", sources, "]");
    plwi_paragraph_end(&small);
}

static void put_item(plwi_outline *outline, const plwi_mark *mark, const char *text,
                     const char *sources)
{
    switch (outline->format) {
    case PLW_FORMAT_TEXT: text_item(outline->page, mark, text, sources); break;
    case PLW_FORMAT_MARKDOWN: markdown_item(outline, mark, text, sources); break;
    case PLW_FORMAT_HTML: html_item(outline, mark, text, sources); break;
    default: svg_item(outline->svg, mark, text, sources);
    }
}

void plwi_outline_item(plwi_outline *outline, const char *text, const char *sources)
{
    put_item(outline, NULL, text, sources);
}

void plwi_outline_marked(plwi_outline *outline, const plwi_mark *mark, const char *text,
                         const char *sources)
{
    put_item(outline, mark, text, sources);
}

/* ---- sources -------------------------------------------------------------------- */

static void text_source(plwi_page *page, const char *key, const char *citation,
                        const char *address)
{
    plwi_page_cell(page, TEXT_EDGE);
    plwi_page_put(page, "[");
    plwi_page_put(page, key);
    plwi_page_put(page, "]");
    plwi_page_end_word(page);
    page->left = TEXT_EDGE + 2;
    plwi_page_put(page, citation);
    if (address[0] != '\0') {
        plwi_page_cell(page, TEXT_EDGE + 2);
        plwi_page_put(page, address);
    }
    plwi_page_finish(page);
}

static void markdown_source(plwi_outline *outline, const char *key, const char *citation,
                            const char *address)
{
    plwi_view *view = outline->view;
    open_list(outline);
    plwi_markdown_between(view, "- **", key, "**: ");
    plwi_markdown_escaped(view, citation);
    plwi_markdown_address(view, address);
    plwi_markdown_put(view, "\n");
}

static void html_source(plwi_outline *outline, const char *key, const char *citation,
                        const char *address)
{
    plwi_writer *out = &outline->view->out;
    html_open_item(outline, "");
    plwi_html_between(out, "<b>[", key, "]</b> ");
    plwi_html_between(out, "<cite>", citation, "</cite>");
    plwi_html_address(out, address);
    plwi_html_markup(out, "</li>\n");
}

static void svg_source(plwi_svg *svg, const char *key, const char *citation, const char *address)
{
    plwi_paragraph p = plwi_paragraph_start(svg, FONT_SMALL, PLWI_EDGE, PLWI_RIGHT_EDGE);
    plwi_paragraph_put_between(&p, "[", key, "] ");
    plwi_paragraph_put(&p, citation);
    plwi_paragraph_put_between(&p, ", ", address, "");
    plwi_paragraph_end(&p);
}

void plwi_outline_source(plwi_outline *outline, uint32_t source)
{
    const plw_tables *tables = outline->view->tables;
    const char *key = plw_source_key(tables, source);
    const char *citation = plw_source_citation(tables, source);
    const char *address = plw_source_address(tables, source);
    switch (outline->format) {
    case PLW_FORMAT_TEXT: text_source(outline->page, key, citation, address); break;
    case PLW_FORMAT_MARKDOWN: markdown_source(outline, key, citation, address); break;
    case PLW_FORMAT_HTML: html_source(outline, key, citation, address); break;
    default: svg_source(outline->svg, key, citation, address);
    }
}
