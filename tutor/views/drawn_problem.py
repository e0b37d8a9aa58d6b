"""The drawing of a problem, labelled with its values, and the same in words: for whatever shows one problem alone.

Place in the data flow: Problem + its circuit -> Picture -> packages and notes. A drawing is made ready once for each
circuit, form and choice of letters, and then only filled in.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from tutor.circuit.circuit import Circuit
from tutor.generate.problem import Problem
from tutor.solution.desk import Desk
from tutor.views.described import PartRow, describe_circuit, marked_letters
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.drawn_values import circuit_id, drawing_values, general_labels, part_labels
from tutor.views.schematic import Schematic, schematic
from tutor.views.unfinished import drawn_without


@dataclass(frozen=True)
class Picture:
    """A drawing as SVG with its title, and a row for each of its parts; `key` names it whatever its labels are,
    `marked` are the currents and voltages that it marks."""

    title: str
    svg: str
    rows: tuple[PartRow, ...]
    key: str = ""
    marked: tuple[str, ...] = ()


@dataclass(frozen=True)
class Pictures:
    """The drawings of one desk in one national style; each is kept once it is made ready."""

    desk: Desk
    style: SymbolStyle = SymbolStyle.IEC
    _ready: dict[tuple[str, tuple[str, ...], tuple[tuple[str, str], ...]], Schematic] = field(
        default_factory=dict, compare=False, repr=False
    )

    def of(self, problem: Problem, withheld: Collection[str] = ()) -> Picture:
        """The picture of a problem, without the parts that are withheld."""
        name = circuit_id(problem)
        circuit = drawn_without(self.desk.circuit(name), withheld)
        labels = part_labels(circuit, problem.given)
        key = (name, tuple(sorted(withheld)), tuple(sorted(labels.items())))
        if key not in self._ready:
            self._ready[key] = schematic(circuit.drawing, circuit.parts, self.style, labels)
        picture = self._ready[key]
        values = drawing_values(circuit, problem, picture.slots)
        rows = describe_circuit(circuit, labels, values)
        return Picture(
            picture.title, picture.with_labels(values), rows, picture.key, marked_letters(circuit.drawing)
        )

    def strokes(self, problem: Problem, withheld: Collection[str] = ()) -> str:
        """The strokes of a problem's drawing alone, as SVG: labels stand where they stand in any style."""
        name, left_out = circuit_id(problem), tuple(sorted(withheld))
        if (name, left_out, ()) not in self._ready:
            circuit = drawn_without(self.desk.circuit(name), withheld)
            self._ready[name, left_out, ()] = schematic(circuit.drawing, circuit.parts, self.style, {})
        return self._ready[name, left_out, ()].shapes

    def of_circuit(self, circuit: Circuit) -> Picture:
        """The picture of a circuit with general letters alone."""
        labels = general_labels(circuit)
        picture = schematic(circuit.drawing, circuit.parts, self.style, labels)
        return Picture(picture.title, picture.with_labels({}), describe_circuit(circuit, labels, {}))
