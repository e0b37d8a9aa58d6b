"""What a drawing is labelled with: the letters of its parts, and the values of a problem that have a place in it.

Place in the data flow: Circuit + Problem -> labels and values -> a drawing's slots, on pages and in print.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.generate.problem import Problem
from tutor.views.drawn_labels import Slot

_DRAWN_ROLE = {
    PartKind.LOAD: "resistance",
    PartKind.SOURCE: "voltage",
    PartKind.ZENER: "voltage",
    PartKind.RESISTOR: "resistance",
    PartKind.THERMAL: "resistance",
    PartKind.WINDING: "voltage",
    PartKind.TAPPED_WINDING: "voltage",
    PartKind.RESERVOIR: "capacitance",
}


def circuit_id(problem: Problem) -> str:
    """The circuit of a problem, of its one form where there are several; some names have that form in them already."""
    named = not problem.form or problem.circuit.endswith(f"-{problem.form}")
    return problem.circuit if named else f"{problem.circuit}-{problem.form}"


def general_labels(circuit: Circuit) -> dict[str, str]:
    """What parts are called where no problem says what is known: a load by its resistance."""
    return part_labels(circuit, ("R_L",))


def part_labels(circuit: Circuit, given: Collection[str]) -> dict[str, str]:
    """What a part is called in the drawing: a load by its resistance when that is what is given, a zener by V_Z."""
    labels: dict[str, str] = {}
    for part in circuit.parts:
        if part.kind is PartKind.LOAD:
            resistance = part.symbols["resistance"]
            known = resistance and any(name == resistance or name.startswith(f"{resistance}_") for name in given)
            labels[part.name] = resistance if known else "load"
        elif part.kind in (PartKind.SOURCE, PartKind.ZENER, PartKind.WINDING, PartKind.TAPPED_WINDING):
            labels[part.name] = part.symbols["voltage"]
        elif part.kind is PartKind.RESERVOIR:
            labels[part.name] = part.symbols["capacitance"]
        elif part.kind is PartKind.DIODE:
            # Diodes are alike and told apart by their place alone.
            labels[part.name] = part.name
    return labels


def drawing_values(circuit: Circuit, problem: Problem, slots: Iterable[Slot]) -> dict[str, str]:
    """The givens that have a place in the drawing, by label: a value, or a range."""
    symbol_of = {part.name: _drawn_symbol(circuit, part.name) for part in circuit.parts}
    values: dict[str, str] = {}
    for slot in slots:
        symbol = symbol_of.get(slot.key, slot.key)
        told = _told(problem, symbol)
        # An upright current arrow has no room for a value beside its letter.
        if told and (slot.key in symbol_of or slot.room == float("inf")):
            values[slot.key] = told
    return values


def _drawn_symbol(circuit: Circuit, name: str) -> str:
    part = circuit.part(name)
    role = _DRAWN_ROLE.get(part.kind)
    return part.symbols[role] if role else part.name


def _told(problem: Problem, symbol: str) -> str:
    if symbol in problem.given:
        return problem.given[symbol].text
    low, high = problem.given.get(f"{symbol}_MIN"), problem.given.get(f"{symbol}_MAX")
    return f"{low.text} to {high.text}" if low is not None and high is not None else ""
