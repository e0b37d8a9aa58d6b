"""A circuit's drawing as SVG: symbols by schemdraw, letters as text, in the colour of the page.

Vocabulary: a *schematic* is a drawing made ready once per circuit, form and style; a *slot* is a place in it for one
label, and `with_labels` fills the slots with one problem's values. A label's *key* is the part, current or voltage it
belongs to. Lengths here are CSS pixels; y runs down.
Place in the data flow: Drawing + netlist -> Schematic -> `with_labels(values)` -> SVG for pages and paper.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from html import escape
from xml.etree import ElementTree
from xml.sax.saxutils import quoteattr

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
    direction,
    kind_word,
    middle,
    outline,
)
from tutor.circuit.placement import PartLike as Part
from tutor.circuit.wiring import junctions
from tutor.errors import unknown
from tutor.views import drawn_symbols
from tutor.views.described import description
from tutor.views.drawn_labels import FONT, Slot, box_of, coordinate, lines_of, room_of, text_of
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.lettering import Run, label_runs

UNIT = 36  # pixels to a grid unit
GAP = 6  # between a symbol and its label
MARGIN = 4
STROKE = 1.75

_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?(?:e-?[0-9]+)?", re.ASCII)
_IDS = re.compile(r'\b(id|aria-labelledby|aria-describedby)="(c[0-9a-f]{10}[td])"')
_AROUND_LETTERS = re.compile(" ?([A-Za-z]) ?", re.ASCII)


@dataclass(frozen=True)
class Schematic:
    """A drawing made ready; only its values are open."""

    title: str
    description: str
    shapes: str
    extent: Box
    slots: tuple[Slot, ...]

    @property
    def key(self) -> str:
        """A name for the drawing that is the same for all its labels: its other style is found by it."""
        return sha256((self.title + self.shapes).encode()).hexdigest()[:10]

    def with_labels(self, values: Mapping[str, str]) -> str:
        """The SVG with the values beside their letters; UnknownName for a value that no label takes.

        Two copies of the same drawing on one page would have equal ids: `renamed` tells them apart.
        """
        keys = [slot.key for slot in self.slots]
        for key in values:
            if key not in keys:
                raise unknown("label in this drawing", key, keys)
        texts: list[str] = []
        boxes = [self.extent]
        for slot in self.slots:
            lines = lines_of(slot, values.get(slot.key, ""))
            texts += [text_of(line) for line in lines]
            boxes += [box_of(line) for line in lines]
        left, top = min(box.left for box in boxes) - MARGIN, min(box.bottom for box in boxes) - MARGIN
        width = max(box.right for box in boxes) + MARGIN - left
        height = max(box.top for box in boxes) + MARGIN - top
        body = (
            f'<g fill="none" stroke="currentColor" stroke-width="{STROKE}" stroke-linecap="round" '
            f'stroke-linejoin="round">{self.shapes}</g>'
            f'<g fill="currentColor" font-size="{FONT}">{"".join(texts)}</g>'
        )
        # The same for every problem of a circuit: values do not enter, so that stored pages differ only in values.
        ident = f"c{self.key}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="schematic" data-drawing="{self.key}" role="img" '
            f'aria-labelledby="{ident}t" aria-describedby="{ident}d" width="{width:.0f}" height="{height:.0f}" '
            f'viewBox="{coordinate(left)} {coordinate(top)} {width:.0f} {height:.0f}">'
            f'<title id="{ident}t">{escape(self.title)}</title><desc id="{ident}d">{escape(self.description)}</desc>'
            f"{body}</svg>"
        )

    def label_boxes(self, values: Mapping[str, str]) -> dict[str, Box]:
        """The room each label takes in pixels, y down (`bottom` is the smaller y), as estimated for the page.

        The second label with the same letters is known as `V_O again`, the third as `V_O again again`.
        """
        rooms: dict[str, Box] = {}
        for slot in self.slots:
            name = slot.key
            while name in rooms:
                name += " again"
            rooms[name] = room_of(slot, values.get(slot.key, ""))
        return rooms


def draw(
    drawing: Drawing,
    parts: Sequence[Part],
    style: SymbolStyle,
    labels: Mapping[str, str],
    values: Mapping[str, str] | None = None,
) -> str:
    """The SVG of a drawing at once; see `schematic` for `labels` and `Schematic.with_labels` for `values`."""
    return schematic(drawing, parts, style, labels).with_labels(values or {})


def schematic(drawing: Drawing, parts: Sequence[Part], style: SymbolStyle, labels: Mapping[str, str]) -> Schematic:
    """The drawing made ready. `labels` gives a key other letters or words ({"L": "R_L"}); else it stands for itself.

    Raises BadCircuit for a kind of part that cannot be drawn. The drawing is taken to agree with the netlist.
    """
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
                figure.append(drawn_symbols.arrow(at, direction(place.start, place.end) or Side.RIGHT))
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
            figure.append(drawn_symbols.open_terminal(mark.at, _outward(mark, drawing)))
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
    return Schematic(drawing.title, description(drawing, parts, labels), shapes, extent, tuple(slots))


def renamed(markup: str, before: str = "", after: str = "") -> str:
    """Markup whose drawings have other ids for their titles and descriptions, and refer to these.

    >>> renamed('<title id="c0123456789t">', after="-worked")
    '<title id="c0123456789t-worked">'
    """
    return _IDS.sub(rf'\1="{before}\2{after}"', markup)


def _beside(key: str, letters: tuple[Run, ...], centre: Point, body: Box, side: Side, room: float) -> Slot:
    """A part's label beside its body, level with the centre."""
    x = {Side.LEFT: body.left, Side.RIGHT: body.right}.get(side, centre[0])
    y = {Side.BELOW: body.bottom, Side.ABOVE: body.top}.get(side, centre[1])
    return Slot(key, letters, _off(_pixels((x, y)), side, GAP), side, room)


def _by_arrow(name: str, labels: Mapping[str, str], at: Point, side: Side) -> Slot:
    """A current's label: beside a level lead there is room for its value, beside an upright one it goes below."""
    room = float("inf") if side in (Side.ABOVE, Side.BELOW) else 0
    return Slot(name, label_runs(labels.get(name, name)), _off(_pixels(at), side, GAP + 3), side, room)


def _by_node(mark: NodeLabel, labels: Mapping[str, str]) -> Slot:
    letters = label_runs(labels.get(mark.name, mark.name))
    return Slot(mark.name, letters, _off(_pixels(mark.at), mark.side, GAP), mark.side, float("inf"))


def _voltage(mark: Voltage, labels: Mapping[str, str]) -> tuple[Point, Point, Slot]:
    """Where + and − go, a little inside the two points, and the label halfway between them."""
    across, up = mark.minus[0] - mark.plus[0], mark.minus[1] - mark.plus[1]
    length = (across**2 + up**2) ** 0.5
    along = (across / length, up / length)
    aside = mark.side.value if mark.side else (0, 0)
    inset, away = 0.5, 0.45
    plus = (mark.plus[0] + inset * along[0] + away * aside[0], mark.plus[1] + inset * along[1] + away * aside[1])
    minus = (mark.minus[0] - inset * along[0] + away * aside[0], mark.minus[1] - inset * along[1] + away * aside[1])
    centre = ((plus[0] + minus[0]) / 2, (plus[1] + minus[1]) / 2)
    letters = label_runs(labels.get(mark.name, mark.name))
    side = mark.side
    return plus, minus, Slot(mark.name, letters, _off(_pixels(centre), side, -GAP), side, 0)


def _outward(mark: Terminal, drawing: Drawing) -> Side:
    """The way a wire runs into an open terminal; to the right when none ends there."""
    for wire in drawing.wires:
        for end, before in ((wire.points[-1], wire.points[-2]), (wire.points[0], wire.points[1])):
            towards = direction(before, end)
            if end == mark.at and towards is not None:
                return towards
    return Side.RIGHT


def _length(place: Place) -> float:
    return UNIT * (abs(place.end[0] - place.start[0]) + abs(place.end[1] - place.start[1]))


def _pixels(point: Point) -> Point:
    return (point[0] * UNIT, -point[1] * UNIT)


def _off(point: Point, side: Side | None, distance: float) -> Point:
    if side is None:
        return point
    return (point[0] + distance * side.value[0], point[1] - distance * side.value[1])


def _strokes(figure: Sequence[elm.Element]) -> tuple[str, Box]:
    """The elements' strokes as SVG without any colour or style of their own, and the room they take."""
    canvas = schemdraw.Drawing(canvas="svg", show=False, inches_per_unit=UNIT / 72, color="currentColor")
    for element in figure:
        canvas.add(element)
    room = canvas.get_bbox()
    shapes = [_stroke(shape) for shape in canvas.draw(show=False).getsvg()]
    lines = [way for way in shapes if way.startswith("M")]  # these share one path, which takes less room
    whole = [shape for shape in shapes if not shape.startswith("M")] + [f'<path d="{"".join(lines)}"/>'] * bool(lines)
    return "".join(whole), Box(room.xmin * UNIT, -room.ymax * UNIT, room.xmax * UNIT, -room.ymin * UNIT)


def _stroke(shape: ElementTree.Element) -> str:
    """One shape by its geometry alone, numbers to a hundredth of a pixel; solid ones say so. Of a line only its way."""
    geometry = {"path": ("d",), "polygon": ("points",), "circle": ("cx", "cy", "r")}[shape.tag]
    solid = ' fill="currentColor"' if "fill:currentcolor" in shape.attrib["style"].lower() else ""
    values = {name: _NUMBER.sub(lambda found: coordinate(float(found[0])), shape.attrib[name]) for name in geometry}
    if shape.tag == "path" and not solid:
        return _AROUND_LETTERS.sub(r"\1", values["d"].strip())
    return f"<{shape.tag}{''.join(f' {name}={quoteattr(value.strip())}' for name, value in values.items())}{solid}/>"
