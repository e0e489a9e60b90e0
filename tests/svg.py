# SPDX-License-Identifier: MIT
"""usage: svg.py [--self-check] <DRAWINGS

Reads drawings, one after another, and says which of them a page should not
take. With --self-check spoils the first one in several ways and tests that each
is refused."""

import re
import sys
import unicodedata
import xml.etree.ElementTree as ElementTree

SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = {"svg", "title", "desc", "text", "tspan", "rect", "path", "polyline", "polygon",
            "circle"}
ATTRIBUTES = {
    "class", "role", "viewBox", "fill", "stroke", "stroke-width", "stroke-dasharray",
    "stroke-opacity", "font-family", "font-size", "font-weight", "text-anchor", "x", "y", "width",
    "height", "rx", "cx", "cy", "r", "d", "points",
}
END = "</svg>\n"


def violation(drawing):
    """What is wrong with a drawing, or None."""
    try:
        root = ElementTree.fromstring(drawing)
    except ElementTree.ParseError as error:
        return f"not well-formed: {error}"
    if root.tag != SVG + "svg":
        return f"the root is {root.tag}"
    for element in root.iter():
        name = element.tag[len(SVG):]
        if not element.tag.startswith(SVG) or name not in ELEMENTS:
            return f"element {element.tag}"
        for attribute, value in element.items():
            if attribute not in ATTRIBUTES or re.search(r"url\(|:", value):
                return f"attribute {attribute}={value!r}"
    odd = [c for c in "".join(root.itertext())
           if c != "\n" and unicodedata.category(c) in ("Cc", "Cf", "Cs", "Cn", "Zl", "Zp")]
    return f"character U+{ord(odd[0]):04X}" if odd else None


def spoiled(drawing):
    """Ways to spoil a good drawing."""
    for part in ("<script>x()</script>", '<foreignObject width="9"/>', '<a href="x"/>',
                 '<rect onclick="x()"/>', '<rect id="x"/>', '<rect style="fill:red"/>',
                 '<rect fill="url(#x)"/>', "<b>", "&x;", "<desc>\u202e</desc>",
                 '<html xmlns="http://www.w3.org/1999/xhtml"/>'):
        yield part, drawing.replace(END, part + END)
    yield "another root", "<p>" + drawing + "</p>"


def main(arguments):
    if arguments not in ([], ["--self-check"]):
        sys.exit(__doc__)
    sys.stdin.reconfigure(encoding="utf-8", errors="strict")
    drawings = [text + END for text in sys.stdin.read().split(END)]
    if drawings.pop() != END or not drawings:
        sys.exit("svg.py: no whole drawing")
    for drawing in drawings:
        problem = violation(drawing)
        if problem:
            sys.exit(f"svg.py: {problem} in\n{drawing}")
    if arguments:
        for what, bad in spoiled(drawings[0]):
            if violation(bad) is None:
                sys.exit(f"svg.py: not refused: {what}")
    print(f"{len(drawings)} drawings are fit for a page")


if __name__ == "__main__":
    main(sys.argv[1:])
