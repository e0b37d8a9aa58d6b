"""Packs the pages of many problems of one family and level into one small script, without loss.

Vocabulary: a *slot* is a string that differs between pages; a *hole* is a place whose markup differs, filled from a
few *variants*; *pieces* cut a text into literal parts and numbers. A *template* is what all pages share with its slots
and holes left open: their least general generalisation (G. D. Plotkin, "A note on inductive generalization", Machine
Intelligence 5, 1970; from memory), found place by place. Equal columns of numbers share one slot.
Place in the data flow: trees of rendered pages -> `pack` -> Bank -> `write` -> bank/*.js, which assets/bank.js
rebuilds. `expand` does in Python what that script does, so that tests can prove that nothing is lost.

A packed template is plain lists, as JSON:

    "text"                                       a text
    ["t", piece, ...]                            a text in pieces; a whole number is the index of a slot
    ["e", tag, [name, text, ...], child, ...]    an element; an attribute's value is written like a text
    ["h", slot, variant, ...]                    a hole; its slot holds a list of [variant number, own slots ...]

A variant's own slots are numbered on from those of the template round it, whose slots it may use as well.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from tutor.views.markup import Element, Node

Json = str | int | list["Json"]

# A number; the unit bound to it by a space that does not break is a piece of its own.
_NUMBER = re.compile("([0-9]+(?:[.][0-9]+)?(?:e-?[0-9]+)?|(?<=[0-9])[\u202f\u00a0][A-Za-zΩµ°%]+)", re.ASCII)
_SHORT = 14  # characters; a text this short is one slot when it differs
_TELLING = frozenset({"class", "data-part"})  # attributes whose values tell sorts of elements apart
_WHOLE = frozenset({"math"})  # elements that are alike only when they are alike throughout


@dataclass(frozen=True)
class Bank:
    """The pages of numbers 1 to n: one template, and a row of slots for each number."""

    template: Json
    rows: tuple[list[Json], ...]


def pack(pages: Sequence[Element]) -> Bank:
    """The pages, in order, as one template and a row of slots each; their outermost elements must be alike."""
    scope = _Scope(base=0, count=len(pages), columns={})
    template = scope.generalise(pages)
    scope.fill_holes()
    return Bank(template, tuple(scope.rows()))


def expand(bank: Bank, index: int) -> Element:
    """The page of row `index`, built again from the template; the inverse of `pack`."""
    (page,) = _expand(bank.template, bank.rows[index])
    assert isinstance(page, Element)
    return page


def write(name: str, bank: Bank) -> str:
    """The script that hands a bank to the page: one call with one literal, the same bytes every time."""
    data = json.dumps({"template": bank.template, "rows": list(bank.rows)}, ensure_ascii=False, separators=(",", ":"))
    literal = data.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f"Steadyrail.takeBank({json.dumps(name)}, {literal});\n"


@dataclass
class _Scope:
    """One template being made from `count` nodes; its own slots are numbered from `base` on."""

    base: int
    count: int
    columns: dict[tuple[str, ...], int]  # what each visible slot holds for these nodes, the outer ones included
    own: list[Sequence[Json]] = field(default_factory=list)
    holes: list[tuple[list[Json], Sequence[Sequence[Node]]]] = field(default_factory=list)

    def rows(self) -> list[list[Json]]:
        """The own slots of each node."""
        return [[column[at] for column in self.own] for at in range(self.count)]

    def generalise(self, nodes: Sequence[Node]) -> Json:
        """The template of nodes of one shape."""
        elements = [node for node in nodes if isinstance(node, Element)]
        if not elements:
            return self.text([str(node) for node in nodes])
        attributes: list[Json] = []
        for place, (name, _) in enumerate(elements[0].attributes):
            attributes += [name, self.text([element.attributes[place][1] for element in elements])]
        children = [element.children for element in elements]
        return ["e", elements[0].tag, attributes, *self.children(children)]

    def text(self, texts: Sequence[str]) -> Json:
        """One text for all; or its pieces, differing numbers as slots; or one slot for the whole."""
        if len(set(texts)) == 1:
            return texts[0]
        cut = [_NUMBER.split(text) for text in texts]
        if len({tuple(pieces[::2]) for pieces in cut}) > 1:
            return ["t", self.slot(tuple(texts))]
        pieces: list[Json] = []
        for column in zip(*cut, strict=True):
            piece = column[0] if len(set(column)) == 1 else self.slot(column)
            if isinstance(piece, str) and pieces and isinstance(pieces[-1], str):
                pieces[-1] += piece
            elif piece != "":
                pieces.append(piece)
        return ["t", *pieces]

    def slot(self, column: tuple[str, ...]) -> int:
        """The slot that holds `column`; a new one only when none does yet."""
        if column not in self.columns:
            self.columns[column] = self.base + len(self.own)
            self.own.append(column)
        return self.columns[column]

    def children(self, groups: Sequence[Sequence[Node]]) -> list[Json]:
        """Children place by place; a hole where one place differs in shape, or for all of them."""
        if len({len(group) for group in groups}) > 1:
            return [self.hole(groups)]
        places = zip(*groups, strict=True)
        return [
            self.generalise(column) if len(set(map(_shape, column))) == 1 else self.hole([(node,) for node in column])
            for column in places
        ]

    def hole(self, groups: Sequence[Sequence[Node]]) -> Json:
        """A hole for one group of nodes per instance; `fill_holes` fills it in when all other slots are numbered."""
        place: list[Json] = ["h"]
        self.holes.append((place, groups))
        return place

    def fill_holes(self) -> None:
        """Groups the nodes of each hole by shape, each group a variant with a scope of its own inside this one."""
        inner_base = self.base + len(self.own) + len(self.holes)
        for place, groups in self.holes:
            owners = [row for row, group in enumerate(groups) for _ in group]
            nodes = [node for group in groups for node in group]
            shapes: dict[object, list[int]] = {}
            for at, node in enumerate(nodes):
                shapes.setdefault(_shape(node), []).append(at)
            fillings: list[Json] = [0] * len(nodes)
            place.append(self.base + len(self.own))
            for number, members in enumerate(shapes.values()):
                visible: dict[tuple[str, ...], int] = {}
                for column, index in self.columns.items():
                    visible.setdefault(tuple(column[owners[at]] for at in members), index)
                inner = _Scope(inner_base, len(members), visible)
                place.append(inner.generalise([nodes[at] for at in members]))
                inner.fill_holes()
                for at, row in zip(members, inner.rows(), strict=True):
                    fillings[at] = [number, *row]
            self.own.append([[fillings[at] for at, row in enumerate(owners) if row == n] for n in range(self.count)])


def _shape(node: Node) -> object:
    """What nodes must have in common to share a template; hashable."""
    if isinstance(node, str):
        return "" if len(node) <= _SHORT else tuple(_NUMBER.split(node)[::2])
    if node.tag in _WHOLE:
        return _skeleton(node)
    return (node.tag, tuple(pair if pair[0] in _TELLING else pair[0] for pair in node.attributes))


def _skeleton(node: Node) -> object:
    """The markup of a node without its texts and attribute values; hashable."""
    if isinstance(node, str):
        return ""
    return (node.tag, tuple(name for name, _ in node.attributes), tuple(map(_skeleton, node.children)))


def _expand(template: Json, slots: Sequence[Json]) -> list[Node]:
    """The nodes a packed template stands for, given every slot it may use."""
    if isinstance(template, str) or _list(template)[0] == "t":
        return [_text(template, slots)]
    kind, second, *rest = _list(template)
    if kind == "h":
        assert isinstance(second, int)
        fillings = [_list(filling) for filling in _list(slots[second])]
        return [
            node
            for number, *own in fillings
            if isinstance(number, int)
            for node in _expand(rest[number], [*slots, *own])
        ]
    attributes, *children = rest
    flat = _list(attributes)
    pairs = tuple((str(name), _text(value, slots)) for name, value in zip(flat[::2], flat[1::2], strict=True))
    return [Element(str(second), pairs, tuple(node for child in children for node in _expand(child, slots)))]


def _text(template: Json, slots: Sequence[Json]) -> str:
    """The text a packed text stands for."""
    if isinstance(template, str):
        return template
    _, *pieces = _list(template)
    return "".join(str(slots[piece]) if isinstance(piece, int) else str(piece) for piece in pieces)


def _list(value: Json) -> list[Json]:
    """`value`, known to be a list by the form of a template."""
    assert isinstance(value, list)
    return value
