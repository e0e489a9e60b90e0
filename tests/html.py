# SPDX-License-Identifier: MIT
"""usage: html.py [--self-check] <PAGES

Reads pages of HTML, one after another, and says which of them does not stand
alone, is not well-formed, or gives a screen reader too little to go by. With
--self-check spoils the first one in several ways and tests that each is refused."""

import re
import sys
import unicodedata

import html5lib

import svg

END = "</html>\n"
XHTML = "{http://www.w3.org/1999/xhtml}"
ELEMENTS = {
    "html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "p", "ul", "li",
    "strong", "small", "b", "code", "cite", "a", "figure", "figcaption", "table", "thead", "tbody",
    "tr", "th", "td",
}
ATTRIBUTES = {"lang", "charset", "http-equiv", "content", "name", "class", "scope", "rel", "href"}
POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def parsed(page):
    """The tree of a page; raises at what HTML does not allow."""
    return html5lib.HTMLParser(strict=True).parse(page)


def bad_element(element):
    """What an element or its attributes do that they should not, or None."""
    if not element.tag.startswith(XHTML) or element.tag[len(XHTML):] not in ELEMENTS:
        return f"element {element.tag}"
    for name, value in element.items():
        if name not in ATTRIBUTES:
            return f"attribute {name}"
        if name == "href" and not re.match(r"https?://[\x21-\x7e]+$", value):
            return f"a link to {value}"
    return None


def html_elements(element):
    """Every element but those within a drawing."""
    yield element
    for child in element:
        if child.tag != svg.SVG + "svg":
            yield from html_elements(child)


def bad_elements(root):
    return next(filter(None, map(bad_element, html_elements(root))), None)


def bad_head(root):
    titles = root.findall(f"{XHTML}head/{XHTML}title")
    policies = [meta.get("content") for meta in root.iter(XHTML + "meta")
                if meta.get("http-equiv") == "Content-Security-Policy"]
    styles = "".join(style.text or "" for style in root.iter(XHTML + "style"))
    if not root.get("lang"):
        return "no language"
    if len(titles) != 1 or not (titles[0].text or "").strip():
        return "no title"
    if len(policies) != 1 or not policies[0].startswith(POLICY):
        return "no policy"
    if re.search(r"url\(|@import|expression|<", styles):
        return "the style fetches something"
    if not all(f"@media {kind}" in styles for kind in ("print", "(prefers-color-scheme:dark)")):
        return "no style for the dark or for paper"
    return None


def bad_headings(root):
    levels = [int(element.tag[-1]) for element in root.iter()
              if re.match(r"h[1-6]$", str(element.tag)[len(XHTML):])]
    if levels[:1] != [1] or levels.count(1) != 1:
        return "the first heading is not the only one of the first level"
    if any(after > before + 1 for before, after in zip(levels, levels[1:])):
        return "a level of headings is left out"
    return None


def bad_tables(root):
    for table in root.iter(XHTML + "table"):
        rows = list(table.iter(XHTML + "tr"))
        if len({len(row) for row in rows}) != 1:
            return "rows of a table have different lengths"
        if {cell.get("scope") for cell in rows[0]} != {"col"}:
            return "a column without a header"
        if any(row[0].get("scope") != "row" for row in rows[1:]):
            return "a row without a header"
    return None


def bad_lists(root):
    for element in root.iter(XHTML + "ul"):
        if len(element) == 0 or any(child.tag != XHTML + "li" for child in element):
            return "a list that is none"
    return None


def bad_drawings(root, page):
    figures = list(root.iter(XHTML + "figure"))
    drawings = re.findall(r"<svg.*?</svg>", page, re.DOTALL)
    if len(drawings) != sum(len(figure.findall(svg.SVG + "svg")) for figure in figures):
        return "a drawing outside of a figure"
    for drawing in drawings:
        problem = svg.violation(drawing)
        if problem:
            return problem
        if not re.match(r"<svg[^>]*>\s*<title>[^<]+</title>\s*<desc>[^<]+</desc>", drawing):
            return "a drawing that does not say what it is"
    return None


def bad_text(root):
    odd = [c for c in "".join(root.itertext())
           if c != "\n" and unicodedata.category(c) in ("Cc", "Cf", "Cs", "Cn", "Zl", "Zp")]
    return f"character U+{ord(odd[0]):04X}" if odd else None


def violation(page):
    """What is wrong with a page, or None."""
    if not page.startswith("<!DOCTYPE html>\n"):
        return "no document type"
    try:
        root = parsed(page)
    except html5lib.html5parser.ParseError as error:
        return f"not well-formed: {error}"
    return (bad_elements(root) or bad_head(root) or bad_headings(root) or bad_tables(root) or
            bad_lists(root) or bad_drawings(root, page) or bad_text(root))


def spoiled(page):
    """Ways to spoil a good page."""
    for part in ("<script>x()</script>", '<img src="x">', '<p onclick="x()">', '<p style="x">',
                 '<a href="javascript:x()">x</a>', '<a href="page.html">x</a>',
                 '<link rel="stylesheet" href="x">', "</b>", "<h1>again</h1>", "&x;",
                 "<p>\u202e</p>", "<ul></ul>", "<ul><li>x</li><p>y</p></ul>", '<iframe></iframe>',
                 "<table><tbody><tr><td>x</td></tr></tbody></table>", "<svg></svg>",
                 "<form></form>", "<style>p{background:url(x)}</style>", '<p id="x">x</p>'):
        yield part, page.replace("</main>", part + "</main>")
    yield "no document type", page.replace("<!DOCTYPE html>\n", "")
    yield "no language", page.replace(' lang="en"', "")
    yield "no title", re.sub("<title>.*?</title>", "<title></title>", page, count=1)
    yield "no policy", page.replace("Content-Security-Policy", "refresh")
    yield "a fetch", page.replace("<style>\n", "<style>\n@import 'x';")
    yield "no dark", page.replace("prefers-color-scheme:dark", "min-width:1px")
    yield "a level left out", page.replace("<h2>", "<h3>").replace("</h2>", "</h3>")
    yield "a row without header", page.replace(' scope="row"', "")
    yield "a column without header", page.replace(' scope="col"', "")
    yield "a drawing without words", re.sub("<desc>.*?</desc>", "", page, flags=re.DOTALL)
    yield "an id in a drawing", page.replace("<rect ", '<rect id="x" ')


def main(arguments):
    if arguments not in ([], ["--self-check"]):
        sys.exit(__doc__)
    sys.stdin.reconfigure(encoding="utf-8", errors="strict")
    pages = [text + END for text in sys.stdin.read().split(END)]
    if pages.pop() != END or not pages:
        sys.exit("html.py: no whole page")
    for page in pages:
        problem = violation(page)
        if problem:
            sys.exit(f"html.py: {problem} in\n{page}")
    if arguments:
        for what, bad in spoiled(pages[0]):
            if bad == pages[0] or violation(bad) is None:
                sys.exit(f"html.py: not refused: {what}")
    print(f"{len(pages)} pages stand alone")


if __name__ == "__main__":
    main(sys.argv[1:])
