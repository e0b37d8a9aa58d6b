"""Reads a rendered page body into a small tree, and writes such a tree as markup again.

Vocabulary: a *node* is an element or a text. Page bodies are HTML written as well-formed XML (every element closed,
every attribute quoted, no named entities but the five of XML), so SVG's capital letters survive.
Place in the data flow: rendered problem pages -> `parse` -> trees -> bank.py.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from xml.parsers import expat

from tutor.errors import SteadyrailError

_VOID = frozenset({"br", "hr", "img", "input"})  # HTML elements that never have content nor an end tag
_KEPT = 16384  # rows of attributes that are shared
_INDENT = re.compile(r"[ \t]*\n\s*")


@dataclass(frozen=True)
class Element:
    """An element of a page: tag, attributes in the order written, children."""

    tag: str
    attributes: tuple[tuple[str, str], ...]
    children: tuple[Node, ...]


Node = Element | str


@dataclass
class _Growing:
    """Collects the nodes while expat reads a page."""

    stack: list[tuple[str, tuple[tuple[str, str], ...], list[Node]]] = field(default_factory=list)
    root: Element | None = None

    def start(self, tag: str, flat: list[str]) -> None:
        self.stack.append((tag, _pairs(tuple(flat)), []))

    def end(self, tag: str) -> None:
        name, attributes, children = self.stack.pop()
        element = Element(name, attributes, tuple(filter(None, children)))
        if self.stack:
            self.stack[-1][2].append(element)
        else:
            self.root = element

    def text(self, data: str) -> None:
        if data.strip() or "\n" not in data:
            self.stack[-1][2].append(_INDENT.sub(" ", data))


@lru_cache(maxsize=_KEPT)
def _pairs(flat: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """Attributes by name; the pages of a level have most of theirs in common, and so share them."""
    return tuple(zip(flat[::2], flat[1::2], strict=True))


def parse(markup: str) -> Element:
    """The tree of one page body; the line breaks and indents of its source are dropped.

    Raises SteadyrailError with the place when the markup is not well formed (a template's or a view's mistake).
    """
    growing = _Growing()
    parser = expat.ParserCreate()
    parser.ordered_attributes = True
    parser.buffer_text = True
    parser.StartElementHandler = growing.start
    parser.EndElementHandler = growing.end
    parser.CharacterDataHandler = growing.text
    try:
        parser.Parse(markup, True)
    except expat.ExpatError as error:
        line = markup.split("\n")[error.lineno - 1].strip()[:60]
        raise SteadyrailError(
            f"a page is not well-formed markup at its line {error.lineno}, near '{line}'; "
            "close every element and quote every attribute in the template that wrote it"
        ) from error
    if growing.root is None:
        raise SteadyrailError("a page body is empty; its template must write one element")
    return growing.root


def serialise(node: Node) -> str:
    """Markup of a tree in one canonical form, HTML and well-formed XML at once: no indents, every element closed."""
    if isinstance(node, str):
        return _escape(node)
    attributes = "".join(f' {name}="{_escape(value)}"' for name, value in node.attributes)
    if node.tag in _VOID:
        return f"<{node.tag}{attributes}/>"
    return f"<{node.tag}{attributes}>{''.join(map(serialise, node.children))}</{node.tag}>"


def _escape(text: str) -> str:
    for plain, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        text = text.replace(plain, entity)
    return text
