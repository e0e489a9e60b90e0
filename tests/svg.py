# SPDX-License-Identifier: MIT
"""usage: svg.py [--self-check] <DRAWINGS

Reads drawings, one after another, and says which of them a page should not
take. With --self-check spoils the first one, and the first one of a car, in
several ways and tests that each is refused."""

import re
import sys
import unicodedata
import xml.etree.ElementTree as ElementTree

SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = {"svg", "title", "desc", "text", "tspan", "rect", "path", "polyline", "polygon",
            "circle"}
ATTRIBUTES = {
    "class", "role", "viewBox", "fill", "stroke", "stroke-width", "stroke-dasharray",
    "stroke-opacity", "fill-opacity", "font-family", "font-size", "font-weight", "text-anchor",
    "x", "y", "width", "height", "rx", "cx", "cy", "r", "d", "points",
}
END = "</svg>\n"


def points(element):
    return [tuple(map(float, point.split(","))) for point in element.get("points").split()]


def number(element, name):
    return float(element.get(name))


def shape_area(element):
    """The area of a rectangle, polygon or circle: left, top, right, bottom."""
    kind = element.tag[len(SVG):]
    if kind == "rect":
        left, top = number(element, "x"), number(element, "y")
        return left, top, left + number(element, "width"), top + number(element, "height")
    if kind == "circle":
        x, y, r = (number(element, name) for name in ("cx", "cy", "r"))
        return x - r, y - r, x + r, y + r
    across, down = zip(*points(element))
    return min(across), min(down), max(across), max(down)


def line_area(text, line):
    """About the area of a line of text, rather less than more."""
    size = number(text, "font-size")
    width = size * 0.45 * len(line.text or "")
    left, y = number(line, "x"), number(line, "y")
    if text.get("text-anchor") == "middle":
        left -= width / 2
    return left, y - size * 0.7, left + width, y + size * 0.1


def within(inner, outer):
    return (outer[0] <= inner[0] and outer[1] <= inner[1] and inner[2] <= outer[2] and
            inner[3] <= outer[3])


def apart(a, b):
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def disorder(root):
    """What lies over another or off its column in a drawing of a car, or None."""
    page = tuple(map(float, root.get("viewBox").split()))
    shapes = [shape_area(e) for e in root.iter() if e.tag[len(SVG):] in
              ("rect", "polygon", "circle")]
    boxes = [shape_area(e) for e in root.iter(SVG + "rect")]
    texts = list(root.iter(SVG + "text"))
    stamped = [(t, line) for t in texts if t.get("font-family") for line in t]
    lines = [line_area(t, line) for t in texts if not t.get("font-family") for line in t]
    columns = {line.get("x") for t in texts if t.get("font-size") == "10" for line in t}
    for area in shapes + lines:
        if not within(area, page):
            return f"{area} leaves the page"
    for index, area in enumerate(shapes + lines):
        if not all(apart(area, other) for other in (shapes + lines)[:index]):
            return f"{area} lies over another"
    for text, line in stamped:
        area = line_area(text, line)
        if sum(not apart(area, box) for box in boxes) != 1 or line.get("x") not in columns:
            return f"{line.text} at {area} stands in no box of its own, or in no column"
    return None


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
    if root.get("class") == "plw-car" and disorder(root):
        return disorder(root)
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


def disordered(drawing):
    """Ways to spoil a good drawing of a car."""
    boxes = re.findall(r'<rect [^>]*>', drawing)
    stamp = re.search(r'font-size="17" font-weight="700"><tspan x="(\d+)"', drawing)
    yield "a box over another", drawing.replace(boxes[0], boxes[0] + boxes[0], 1)
    yield "a character off its column", (drawing[:stamp.start(1)] + "14" +
                                         drawing[stamp.end(1):])
    yield "a box off the page", drawing.replace(boxes[-1], re.sub(
        ' x="[0-9]+"', ' x="350"', boxes[-1]))
    yield "a line over a line", re.sub('(<tspan[^>]*>)([^<]{20,}</tspan>)', r"\1\2\1\2", drawing,
                                       count=1)


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
        car = next(drawing for drawing in drawings if 'class="plw-car"' in drawing)
        for what, bad in disordered(car):
            if violation(bad) is None:
                sys.exit(f"svg.py: not refused: {what}")
    print(f"{len(drawings)} drawings are fit for a page")


if __name__ == "__main__":
    main(sys.argv[1:])
