"""The drawing of a question, as SVG for print: this problem's values and letters, in the national style of a Look.

Place in the data flow: an asked problem + Look -> `drawing_of` -> PrintedDrawing -> code. Made ready once per circuit
and style in a process; parts that a problem withholds are not drawn, nor spoken of in the drawing's description.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from tutor.circuit.circuit import Circuit
from tutor.generate.problems_folder import ProblemsFolder
from tutor.sets.paper import Asked, Look
from tutor.solution.desk import Desk
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.drawn_values import circuit_id, drawing_values, part_labels
from tutor.views.lettering import Run
from tutor.views.print.shown import lettered, shown
from tutor.views.schematic import Schematic, schematic
from tutor.views.unfinished import drawn_without

TEXT_FACE = "Libertinus Serif"
_HEAD = re.compile(r'<svg [^>]*width="([0-9]+)" height="([0-9]+)" viewBox="([^"]*)">.*?</desc>(.*)</svg>', re.DOTALL)


@dataclass(frozen=True)
class PrintedDrawing:
    """A drawing: its SVG, its width and height in CSS pixels, and what it shows in one sentence."""

    svg: str
    width: int
    height: int
    description: str


def drawing_of(asked: Asked, look: Look, desk: Desk) -> PrintedDrawing:
    """The circuit of a question, labelled with its values. ValueError for a drawing not of `schematic.py`."""
    problem = asked.problem
    circuit, picture = _ready(desk.folder, circuit_id(problem), asked.withheld, tuple(problem.given), look)
    values = {key: shown(value, look) for key, value in drawing_values(circuit, problem, picture.slots).items()}
    return _printed(picture, values)


@lru_cache(maxsize=256)
def _ready(
    folder: ProblemsFolder, name: str, withheld: tuple[str, ...], given: tuple[str, ...], look: Look
) -> tuple[Circuit, Schematic]:
    """A circuit as it is drawn, and its drawing in the style and the letters of a Look."""
    circuit = drawn_without(folder.circuit(name), withheld)
    picture = schematic(circuit.drawing, circuit.parts, SymbolStyle[look.drawings], part_labels(circuit, given))
    slots = tuple(replace(slot, letters=_lettered(slot.letters, look)) for slot in picture.slots)
    return circuit, replace(picture, slots=slots)


def _lettered(runs: tuple[Run, ...], look: Look) -> tuple[Run, ...]:
    """The runs of a label in the letters settled on: a main letter and the subscript behind it."""
    if len(runs) < 2 or not runs[-1].lowered:
        return runs
    main, lowered = lettered(runs[-2].text, runs[-1].text, look)
    ends = (Run(lowered, lowered=True),) if lowered else ()
    return (*runs[:-2], replace(runs[-2], text=main), *ends)


def _printed(picture: Schematic, values: dict[str, str]) -> PrintedDrawing:
    """The SVG without what only pages need: names, ids, descriptions."""
    found = _HEAD.fullmatch(picture.with_labels(values))
    if found is None:
        raise ValueError(f"not the drawing that schematic.py writes: {picture.title!r}")
    width, height, box, body = found.groups()
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="{box}" '
        f'font-family="{TEXT_FACE}" color="black">{body}</svg>'
    )
    return PrintedDrawing(svg, int(width), int(height), picture.description)
