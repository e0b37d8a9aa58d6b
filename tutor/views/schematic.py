"""A circuit's drawing as SVG: symbols by schemdraw, letters as text, in the colour of the page.

Vocabulary: a *schematic* is a drawing made ready once per circuit, form and style; a *slot* is a place in it for one
label, and `with_labels` fills the slots with one problem's values. A label's *key* is the part, current or voltage it
belongs to. Lengths here are CSS pixels; y runs down.
Place in the data flow: Drawing + netlist -> Schematic -> `with_labels(values)` -> SVG for pages and paper.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from html import escape
from xml.etree import ElementTree

import schemdraw
import schemdraw.elements as elm

from tutor.circuit.placement import (
    Arrow,
    Box,
    Drawing,
    NodeLabel,
    Place,
    Point,
    Side,
    Terminal,
    Voltage,
    arrow_point,
    kind_word,
    middle,
    outline,
)
from tutor.circuit.placement import PartLike as Part
from tutor.circuit.wiring import junctions
from tutor.errors import unknown
from tutor.views import drawn_symbols
from tutor.views.drawn_symbols import Style
from tutor.views.lettering import Run, label_runs, plain_symbol

UNIT = 36  # pixels to a grid unit
FONT = 16
SMALL = 12  # subscripts
DROP = 4  # how far a subscript sits below the line
LINE = 19  # from one line of a label to the next
CAP = 11  # height of a capital
GAP = 6  # between a symbol and its label
MARGIN = 4
STROKE = 1.75

_KIND_WORDS = {"source": "source", "resistor": "resistor", "zener": "zener diode", "load": "load", "npn": "NPN transistor"}
_TERMINAL_WORDS = {"npn": ("collector", "base", "emitter")}


@dataclass(frozen=True)
class Slot:
    """A label: its letters stand at `at`, on the side `side` of it (None: centred on it).

    A value goes on the same line when both fit into `room` pixels, else on the next.
    """

    key: str
    letters: tuple[Run, ...]
    at: Point
    side: Side | None
    room: float


@dataclass(frozen=True)
class Row:
    """One part in the long description of a drawing: what it is, its value, and the nodes it joins, in words."""

    part: str
    words: str
    value: str
    start: str
    end: str


@dataclass(frozen=True)
class Schematic:
    """A drawing made ready; only its values are open."""

    title: str
    description: str
    shapes: str
    extent: Box
    slots: tuple[Slot, ...]

    def with_labels(self, values: Mapping[str, str], place: str = "") -> str:
        """The SVG with the values beside their letters; UnknownName for a value that no label takes.

        `place` tells apart two copies of the same drawing on one page, whose ids would otherwise be equal.
        """
        keys = [slot.key for slot in self.slots]
        for key in values:
            if key not in keys:
                raise unknown("label in this drawing", key, keys)
        texts: list[str] = []
        boxes = [self.extent]
        for slot in self.slots:
            for runs, anchor, (x, y) in _lines(slot, values.get(slot.key, "")):
                texts.append(_text(runs, anchor, (x, y)))
                boxes.append(_line_box(runs, anchor, (x, y)))
        left, top = min(box.left for box in boxes) - MARGIN, min(box.bottom for box in boxes) - MARGIN
        width = max(box.right for box in boxes) + MARGIN - left
        height = max(box.top for box in boxes) + MARGIN - top
        body = (
            f'<g fill="none" stroke="currentColor" stroke-width="{STROKE}" stroke-linecap="round" '
            f'stroke-linejoin="round">{self.shapes}</g>'
            f'<g fill="currentColor" font-size="{FONT}">{"".join(texts)}</g>'
        )
        ident = "c" + sha256((place + self.title + body).encode()).hexdigest()[:10]
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="schematic" role="img" '
            f'aria-labelledby="{ident}t" aria-describedby="{ident}d" width="{width:.0f}" height="{height:.0f}" '
            f'viewBox="{_number(left)} {_number(top)} {width:.0f} {height:.0f}">'
            f'<title id="{ident}t">{escape(self.title)}</title><desc id="{ident}d">{escape(self.description)}</desc>'
            f"{body}</svg>"
        )

    def label_boxes(self, values: Mapping[str, str]) -> dict[str, Box]:
        """The room each label takes in pixels, y down (`bottom` is the smaller y), as estimated for the page."""
        return {slot.key: _around(_line_box(*line) for line in _lines(slot, values.get(slot.key, ""))) for slot in self.slots}


def draw(
    drawing: Drawing,
    parts: Sequence[Part],
    style: Style,
    labels: Mapping[str, str],
    values: Mapping[str, str] | None = None,
) -> str:
    """The SVG of a drawing at once; see `schematic` for `labels` and `Schematic.with_labels` for `values`."""
    return schematic(drawing, parts, style, labels).with_labels(values or {})


def schematic(drawing: Drawing, parts: Sequence[Part], style: Style, labels: Mapping[str, str]) -> Schematic:
    """The drawing made ready. `labels` gives another letter or word for a key: {"L": "R_L"}; a key stands for itself."""
    named = {part.name: part for part in parts}
    slots: list[Slot] = []
    figure: list[elm.Element] = []
    for place in drawing.places:
        part = named[place.part]
        body = outline(place, part).body
        letters = label_runs(labels.get(place.part, place.part))
        if isinstance(place, Place):
            figure.append(drawn_symbols.two_terminal(place, kind_word(part), style))
            room = _length(place) if place.start[1] == place.end[1] else 0
            slots.append(_beside(place.part, letters, middle(place), body, place.label, room))
            if place.current:
                at = arrow_point(place)
                towards = Side((_sign(place.end[0] - place.start[0]), _sign(place.end[1] - place.start[1])))
                figure.append(drawn_symbols.arrow(at, towards))
                slots.append(_by_arrow(place.current, labels, at, place.current_side))
        else:
            figure.append(drawn_symbols.device(place, kind_word(part)))
            centre = ((body.left + body.right) / 2, (body.bottom + body.top) / 2)
            slots.append(_beside(place.part, letters, centre, body, place.label, 0))
    figure += [drawn_symbols.wire(wire.points) for wire in drawing.wires]
    figure += [drawn_symbols.ground(ground.at) for ground in drawing.grounds]
    figure += [drawn_symbols.dot(point) for point in junctions(drawing, parts)]
    for mark in drawing.marks:
        if isinstance(mark, Terminal):
            figure.append(drawn_symbols.open_terminal(mark.at))
        elif isinstance(mark, Voltage):
            plus, minus, slot = _voltage(mark, labels)
            figure += [drawn_symbols.polarity(plus, True), drawn_symbols.polarity(minus, False)]
            slots.append(slot)
        elif isinstance(mark, Arrow):
            figure.append(drawn_symbols.arrow(mark.at, mark.towards))
            slots.append(_by_arrow(mark.name, labels, mark.at, mark.side))
        else:
            slots.append(_by_node(mark, labels))
    shapes, extent = _strokes(figure)
    return Schematic(drawing.title, _description(drawing, parts, labels), shapes, extent, tuple(slots))


def describe(
    drawing: Drawing,
    parts: Sequence[Part],
    node_words: Mapping[str, str],
    labels: Mapping[str, str],
    values: Mapping[str, str],
) -> tuple[Row, ...]:
    """The long description: a row per part in the order drawn, which is the order of the signal.

    `node_words` names nodes for a reader ("the output node"); a node without words is named as in the netlist.
    """
    named = {part.name: part for part in parts}
    rows = []
    for place in drawing.places:
        part = named[place.part]
        words = [node_words.get(node, node) for node in part.nodes]
        roles = _TERMINAL_WORDS.get(kind_word(part), ())
        told = [f"{word} ({role})" for word, role in zip(words, roles, strict=True)] if roles else words
        rows.append(
            Row(
                _plain(labels.get(part.name, part.name)),
                _KIND_WORDS[kind_word(part)],
                values.get(part.name, ""),
                ", ".join(told[:-1]),
                told[-1],
            )
        )
    return tuple(rows)
