"""A drawing as a file of its own: on white, since it is shown apart from the page whose colours it takes elsewhere."""

from __future__ import annotations

from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from tutor.views.drawn_problem import Picture
from tutor.views.package.markup import document, with_decimal_comma

SVG = "http://www.w3.org/2000/svg"


def drawing_file(picture: Picture, comma: bool = False) -> bytes:
    """The bytes of the SVG file, black on white, with its title and description in it."""
    root = ElementTree.fromstring(picture.svg)
    for part in root.iter():
        part.tag = part.tag.removeprefix(f"{{{SVG}}}")
    root.set("xmlns", SVG)
    root.set("color", "black")
    root.set("font-family", "serif")
    left, top, width, height = root.attrib["viewBox"].split()
    ground = Element("rect", {"x": left, "y": top, "width": width, "height": height, "fill": "white"})
    # After the title and the description, which a reader of SVG looks for first.
    root.insert(2, ground)
    if comma:
        with_decimal_comma(root)
    return document(root)
