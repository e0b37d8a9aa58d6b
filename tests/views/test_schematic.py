"""Drawings as SVG: well formed, in the page's own colour, legible, the right way round, the same bytes every time."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
import schemdraw
import schemdraw.schemdraw
from schemdraw import drawing_stack

from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.circuit.components import COMPONENTS
from tutor.circuit.placement import Box, Drawing, Place, PlaceDevice, Side, Turn, is_device, outline
from tutor.errors import UnknownName
from tutor.generate.problems_folder import ProblemsFolder
from tutor.views.described import describe
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.lettering import plain_label
from tutor.views.schematic import UNIT, Schematic, draw, renamed, schematic

ROOT = Path(__file__).parents[2]
PROBLEMS = ProblemsFolder(ROOT / "problems")
SVG = "{http://www.w3.org/2000/svg}"
LABELS = {"L": "R_L", "Z": "V_Z"}
# As long as values get in problems; a range is broken over two lines.
VALUES = {
    PartKind.SOURCE: "12 V to 18 V",
    PartKind.RESISTOR: "1.20 kΩ",
    PartKind.ZENER: "9.10 V",
    PartKind.LOAD: "1.50 kΩ",
}

every_circuit = pytest.mark.parametrize("circuit_id", PROBLEMS.circuit_ids())
every_style = pytest.mark.parametrize("style", list(SymbolStyle), ids=lambda style: style.value)


def made_ready(circuit: Circuit, style: SymbolStyle) -> Schematic:
    return schematic(circuit.drawing, circuit.parts, style, LABELS)


def long_values(circuit: Circuit) -> dict[str, str]:
    return {part.name: VALUES[part.kind] for part in circuit.parts if part.kind in VALUES}


def texts(svg: str) -> list[str]:
    return ["".join(text.itertext()) for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@every_style
@every_circuit
def test_the_svg_is_an_image_with_a_name_and_a_description(circuit_id: str, style: SymbolStyle) -> None:
    # WCAG 2.2, 1.1.1: a picture has a text alternative; SVG Accessibility API Mappings: title names, desc describes.
    circuit = PROBLEMS.circuit(circuit_id)
    root = ElementTree.fromstring(made_ready(circuit, style).with_labels(long_values(circuit)))
    assert root.tag == f"{SVG}svg" and root.get("role") == "img"
    title, desc = root[0], root[1]
    assert (title.tag, desc.tag) == (f"{SVG}title", f"{SVG}desc")
    assert title.text == circuit.drawing.title
    assert root.get("aria-labelledby") == title.get("id") and root.get("aria-describedby") == desc.get("id")
    for part in circuit.parts:
        label = plain_label(LABELS.get(part.name, part.name)).replace("_", "")
        assert label.casefold() in (desc.text or "").replace("_", "").casefold()  # V_REF is printed V_ref


@every_style
@every_circuit
def test_no_colour_but_the_page_s_own(circuit_id: str, style: SymbolStyle) -> None:
    svg = draw(PROBLEMS.circuit(circuit_id).drawing, PROBLEMS.circuit(circuit_id).parts, style, LABELS)
    colours = set(re.findall(r'(?:fill|stroke)="([^"]*)"', svg))
    assert colours == {"none", "currentColor"}
    assert not re.search(r"black|white|#[0-9a-f]{3}|rgb| style=|background", svg)


@every_circuit
def test_lines_and_letters_are_big_enough_for_a_phone(circuit_id: str) -> None:
    # On a drawing about as wide as a phone's text column, 16 px letters and 1.5 px lines or more (our own measure).
    circuit = PROBLEMS.circuit(circuit_id)
    root = ElementTree.fromstring(made_ready(circuit, SymbolStyle.IEC).with_labels(long_values(circuit)))
    assert float(root.get("width", "0")) <= 400
    lines, letters = root.findall(f"{SVG}g")
    assert float(lines.get("stroke-width", "0")) >= 1.5
    assert float(letters.get("font-size", "0")) >= 16


def collisions(ready: Schematic, circuit: Circuit, values: Mapping[str, str]) -> list[str]:
    """Labels that lie over one another, over a symbol's body or over a wire."""
    rooms = ready.label_boxes(values)
    found = [f"{one} over {other}" for one, other in combinations(rooms, 2) if over(rooms[one], rooms[other])]
    named = {part.name: part for part in circuit.parts}
    obstacles: list[tuple[str, Box]] = []
    for place in circuit.drawing.places:
        shape = outline(place, named[place.part])
        obstacles.append((place.part, shape.body))
        for terminal, root in zip(shape.terminals, shape.roots, strict=True):
            obstacles.append((f"a lead of {place.part}", spanning(terminal, root)))
    for wire in circuit.drawing.wires:
        for start, end in zip(wire.points, wire.points[1:], strict=False):
            obstacles.append((f"a wire of {wire.node}", spanning(start, end)))
    for key, room in rooms.items():
        for name, box in obstacles:
            pixels = Box(box.left * UNIT, -box.top * UNIT, box.right * UNIT, -box.bottom * UNIT)
            if over(room, pixels):
                found.append(f"{key} over {name}")
    return found


def spanning(start: tuple[float, float], end: tuple[float, float]) -> Box:
    return Box(min(start[0], end[0]), min(start[1], end[1]), max(start[0], end[0]), max(start[1], end[1]))


def over(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.bottom < other.top and other.bottom < one.top


@every_style
@every_circuit
def test_no_label_touches_another_or_a_line(circuit_id: str, style: SymbolStyle) -> None:
    circuit = PROBLEMS.circuit(circuit_id)
    ready = made_ready(circuit, style)
    assert collisions(ready, circuit, {}) == []
    assert collisions(ready, circuit, long_values(circuit)) == []


def test_a_label_without_room_is_seen_to_collide() -> None:
    circuit = PROBLEMS.circuit("zener-shunt")
    found = collisions(made_ready(circuit, SymbolStyle.IEC), circuit, {"Z": "9.10 V and a tale that runs on"})
    assert any(line.startswith("Z over a lead of V_I") for line in found)


def test_letters_have_true_subscripts_and_values_stand_upright() -> None:
    svg = made_ready(PROBLEMS.circuit("zener-shunt"), SymbolStyle.IEC).with_labels(
        {"R": "220 Ω", "V_I": "12 V to 18 V"}
    )
    assert (
        '<tspan font-style="italic">V</tspan><tspan font-size="12" dy="4">I</tspan></text>' in svg
    )  # SI Brochure, 9th edition, 5.3: quantity symbols italic, descriptive subscripts upright
    assert '<tspan font-style="italic">R</tspan><tspan> = 220 Ω</tspan>' in svg
    written = texts(svg)
    assert "R = 220 Ω" in written and "VI" in written
    assert written[written.index("VI") + 1 :][:2] == ["12 V", "to 18 V"]


def test_a_label_of_words_is_set_as_words() -> None:
    circuit = PROBLEMS.circuit("zener-shunt")
    svg = draw(circuit.drawing, circuit.parts, SymbolStyle.IEC, {"L": "load"})
    assert "<tspan>load</tspan>" in svg and "RL" not in texts(svg)


def test_values_are_text_never_markup() -> None:
    svg = made_ready(PROBLEMS.circuit("zener-shunt"), SymbolStyle.IEC).with_labels({"R": '<b onload="x">&'})
    assert '<b onload="x">&' in texts(svg)
    assert "<b" not in svg


def test_a_value_for_no_label_is_refused() -> None:
    with pytest.raises(UnknownName, match="no label in this drawing 'R_Q'"):
        made_ready(PROBLEMS.circuit("zener-shunt"), SymbolStyle.IEC).with_labels({"R_Q": "220 Ω"})


def test_two_drawings_on_a_page_have_ids_of_their_own() -> None:
    ready = [
        made_ready(PROBLEMS.circuit(circuit_id), style)
        for circuit_id in ("follower", "source")
        for style in SymbolStyle
    ]
    pages = [renamed(one.with_labels({}), after=ending) for one in ready for ending in ("", "-worked")]
    ids = [found for svg in pages for found in re.findall(r' id="([^"]*)"', svg)]
    assert len(ids) == len(set(ids)) == 2 * len(pages)


def test_values_do_not_change_the_ids() -> None:
    ready = made_ready(PROBLEMS.circuit("zener-shunt"), SymbolStyle.IEC)
    found = {tuple(re.findall(r' id="([^"]*)"', ready.with_labels(values))) for values in ({}, {"R": "1 kΩ"})}
    assert len(found) == 1


def test_the_same_bytes_under_every_hash_seed() -> None:
    script = (
        "from pathlib import Path; from tutor.generate.problems_folder import ProblemsFolder;"
        "from tutor.views.drawn_symbols import SymbolStyle; from tutor.views.schematic import draw;"
        "c = ProblemsFolder(Path('problems')).circuit('follower');"
        "print(ascii(draw(c.drawing, c.parts, SymbolStyle.IEC, {'L': 'R_L'}, {'R': '390'})))"
    )
    outputs = {
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert len(outputs) == 1


def test_schemdraw_is_left_as_it_was_found() -> None:
    before = (dict(schemdraw.schemdraw.schemdrawstyle), dict(drawing_stack.drawing_stack))
    circuit = PROBLEMS.circuit("follower")
    first = draw(circuit.drawing, circuit.parts, SymbolStyle.IEC, LABELS)
    assert (dict(schemdraw.schemdraw.schemdrawstyle), dict(drawing_stack.drawing_stack)) == before
    draw(circuit.drawing, circuit.parts, SymbolStyle.IEEE, LABELS)
    assert draw(circuit.drawing, circuit.parts, SymbolStyle.IEC, LABELS) == first


@dataclass(frozen=True)
class LonePart:
    """A part for a drawing of nothing else."""

    name: str
    kind: object
    nodes: tuple[str, ...]


def lone(kind: PartKind, style: SymbolStyle) -> ElementTree.Element:
    part = LonePart("X", kind, ("a", "b", "c")[: len(COMPONENTS[kind].terminals)])
    place = (
        PlaceDevice("X", (0, 0), Turn.NONE, Side.RIGHT) if is_device(part) else Place("X", (0, 3), (0, 0), Side.LEFT)
    )
    return ElementTree.fromstring(draw(Drawing("a part", (place,), (), ()), [part], style, {}))


@every_style
@pytest.mark.parametrize("kind", list(PartKind), ids=lambda kind: kind.value)
def test_every_kind_of_the_component_table_can_be_drawn(kind: PartKind, style: SymbolStyle) -> None:
    assert len(list(lone(kind, style).iter())) > 4


def numbers(shape: ElementTree.Element, attribute: str) -> list[tuple[float, float]]:
    found = [float(number) for number in re.findall(r"-?[0-9.]+", shape.get(attribute, ""))]
    return list(zip(found[::2], found[1::2], strict=True))


@every_style
def test_the_emitter_s_arrow_points_out_of_an_npn_transistor(style: SymbolStyle) -> None:
    # IEC 60617 and IEEE 315 (from memory): the arrow stands on the emitter and points away from the base in an NPN.
    (head,) = lone(PartKind.NPN, style).iter(f"{SVG}polygon")
    assert head.get("fill") == "currentColor"
    tip, *back = numbers(head, "points")
    assert tip[1] > 0  # y runs down, so below the base: on the emitter, which is the lower terminal
    assert all(tip[0] > corner[0] and tip[1] > corner[1] for corner in back)


@every_style
def test_the_emitter_s_arrow_points_into_a_pnp_transistor(style: SymbolStyle) -> None:
    # IEC 60617 and IEEE 315 (from memory): in a PNP the arrow on the emitter points towards the base.
    (head,) = lone(PartKind.PNP, style).iter(f"{SVG}polygon")
    assert head.get("fill") == "currentColor"
    tip, *back = numbers(head, "points")
    assert tip[1] > 0 and all(tip[0] < corner[0] and tip[1] < corner[1] for corner in back)


@every_style
def test_the_zener_s_bar_is_at_its_first_node(style: SymbolStyle) -> None:
    # The triangle points at the cathode's bar (IEC 60617, IEEE 315, from memory); the cathode, first node, is on top.
    (triangle,) = lone(PartKind.ZENER, style).iter(f"{SVG}polygon")
    corners = sorted(numbers(triangle, "points"), key=lambda corner: corner[1])
    assert corners[0][0] == 0 and corners[1][1] == corners[2][1] > corners[0][1]


def test_the_two_styles_differ_where_the_standards_do() -> None:
    # IEC 60617: resistor a rectangle; IEEE 315: a zigzag (both from memory). A transistor is drawn alike.
    paths = {
        style: [shape.get("d") for shape in lone(PartKind.RESISTOR, style).iter(f"{SVG}path")] for style in SymbolStyle
    }
    corners = {style: "".join(map(str, found)).count("L") for style, found in paths.items()}
    assert paths[SymbolStyle.IEC] != paths[SymbolStyle.IEEE] and corners[SymbolStyle.IEEE] > corners[SymbolStyle.IEC]
    alike = {ElementTree.tostring(lone(PartKind.NPN, style)) for style in SymbolStyle}
    assert len(alike) == 1


def test_the_long_description_is_the_netlist_in_words() -> None:
    circuit = PROBLEMS.circuit("follower")
    words = {"gnd": "ground"} | {node: word.words for node, word in circuit.nodes.items()}
    rows = describe(circuit.drawing, circuit.parts, words, LABELS, {"R": "390 Ω"})
    assert [row.part for row in rows] == ["V_I", "R", "V_Z", "Q", "R_L"]
    assert (rows[1].words, rows[1].value) == ("resistor", "390 Ω")
    assert (rows[1].start, rows[1].end) == ("the input node", "the base node")
    assert (rows[3].start, rows[3].end) == (
        "the input node (collector), the base node (base)",
        "the output node (emitter)",
    )
    assert rows[4].end == "ground"
