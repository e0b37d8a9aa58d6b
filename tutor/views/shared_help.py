"""The help with typing that pages of problems share: rows of spellings and keys, each written once for all pages.

Only scripts can put that help to use, so a page may leave it to one: what stands in an element of these classes is
taken out of the page, and the element says by number which pieces belong there. Banks keep their bodies whole.
Place in the data flow: the first body of a level -> `lighten` -> its page, and the pieces -> assets/typing.js, from
which site/assets/shared_help.js puts them back.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from tutor.views.bank import pack
from tutor.views.data_scripts import assigned
from tutor.views.markup import Element, Node

_SHARED = frozenset({"key-row", "typing-rows"})
WHERE = "data-shared"


@dataclass(frozen=True)
class SharedHelp:
    """The pieces met so far, each with its number; they grow as pages are made."""

    numbers: dict[Element, int] = field(default_factory=dict)

    def lighten(self, body: Element) -> Element:
        """The body with the numbers of its pieces in their place."""
        if dict(body.attributes).get("class") in _SHARED and all(isinstance(child, Element) for child in body.children):
            told = " ".join(str(self._number(child)) for child in body.children)
            return replace(body, attributes=(*body.attributes, (WHERE, told)), children=())
        return replace(body, children=tuple(map(self._lightened, body.children)))

    def script(self) -> str:
        """The script that hands the pieces to a page, in the order of their numbers."""
        return assigned("typing", [pack([piece]).template for piece in self.numbers])

    def _lightened(self, node: Node) -> Node:
        return node if isinstance(node, str) else self.lighten(node)

    def _number(self, node: Node) -> int:
        assert isinstance(node, Element)
        return self.numbers.setdefault(node, len(self.numbers))
