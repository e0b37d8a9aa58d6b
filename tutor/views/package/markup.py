"""XML for packages: elements made by the standard library, text made legal, prose with its formulas as MathML.

Every element is made with a plain tag, and where another vocabulary begins (MathML inside an item) its root carries an
`xmlns` of its own. So no prefix is needed, and the bytes do not depend on what else the process has registered.
Place in the data flow: prose, chains and parts of questions -> elements -> bytes of a file in the package.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from tutor.quantities.expression import Sym
from tutor.solution.solution import Chain
from tutor.views.mathml import chain_table, math, prose

MATHML = "http://www.w3.org/1998/Math/MathML"
INSTANCE = "http://www.w3.org/2001/XMLSchema-instance"

Content = str | Element | None

# XML 1.0 (W3C, fifth edition), production 2: the characters a document may hold.
_ILLEGAL = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_POINT = re.compile(r"(?<=[0-9])\.(?=[0-9])")

_AS_IT_IS = frozenset({"qti-base-value", "qti-value", "small"})  # what a platform computes with; a problem's name


def legal(text: str) -> str:
    """The text with what XML cannot hold (control characters, lone surrogates) shown as U+FFFD."""
    return _ILLEGAL.sub("\ufffd", text)


def element(tag: str, attributes: Mapping[str, str] | None = None, *content: Content) -> Element:
    """An element with its content in order; None stands for nothing, text is escaped when it is written."""
    made = Element(tag, {name: legal(value) for name, value in (attributes or {}).items()})
    for part in content:
        if part is None or part == "":
            continue
        if isinstance(part, Element):
            made.append(part)
        elif len(made):
            made[-1].tail = (made[-1].tail or "") + legal(part)
        else:
            made.text = (made.text or "") + legal(part)
    return made


def children(tag: str, attributes: Mapping[str, str], parts: Iterable[Element]) -> Element:
    """An element that holds elements alone."""
    return element(tag, attributes, *parts)


def told(tag: str, text: str, *more: Content, lead: str = "") -> Element:
    """An element with prose in it, its formulas as MathML; `lead` is plain text before, `more` comes after."""
    return element(tag, None, lead, *_parts(prose(legal(text))), *more)


def lettered(name: str) -> Element:
    """A letter symbol as a formula of its own."""
    return _math(math(Sym(name), display=False))


def worked_line(chain: Chain) -> Element:
    """A chain as a formula on lines of its own."""
    return element("div", None, _math(chain_table(chain.first, chain.rest)))


def _parts(markup: str) -> list[Content]:
    """Well-formed markup as content; MathML says its vocabulary."""
    root = ElementTree.fromstring(f"<p>{markup}</p>")
    for formula in root.iter("math"):
        formula.set("xmlns", MATHML)
    parts: list[Content] = [root.text]
    for child in root:
        tail, child.tail = child.tail, None
        parts += [child, tail]
    return parts


def _math(markup: str) -> Element:
    made = ElementTree.fromstring(markup)
    made.set("xmlns", MATHML)
    return made


def with_decimal_comma(root: Element) -> None:
    """Every number that is shown (texts and alternative texts, not names nor what the platform reads) with a comma."""
    for part in root.iter():
        if part.tag in _AS_IT_IS:
            continue
        part.text = _POINT.sub(",", part.text) if part.text else part.text
        if "alttext" in part.attrib:
            part.set("alttext", _POINT.sub(",", part.attrib["alttext"]))
    for part in root.iter():
        part.tail = _POINT.sub(",", part.tail) if part.tail else part.tail


def document(root: Element) -> bytes:
    """The bytes of a file: UTF-8, its declaration first, each child of the root on a line of its own."""
    if not root.text:
        root.text = "\n"
        for child in root:
            child.tail = "\n"
    body = ElementTree.tostring(root, encoding="unicode", short_empty_elements=True)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'.encode()
