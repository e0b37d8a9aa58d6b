"""What a circuit lets a set assume: conventions with their values, and standing values.

Place in the data flow: Circuit -> what of a set's rules goes into the names of its problems.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.circuit.circuit import Circuit
from tutor.errors import BadValue, unknown
from tutor.generate.name import ProblemName, read_name
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import symbol_for
from tutor.solution.desk import Desk


@dataclass(frozen=True)
class Offer:
    """Conventions with their values, and the names of standing values."""

    conventions: Mapping[str, tuple[str, ...]]
    standing: tuple[str, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Everything that can be assumed."""
        return (*self.conventions, *self.standing)

    def refuses(self, name: str, value: str) -> str:
        """Why a value cannot be assumed, in one sentence; '' where it can."""
        if name in self.conventions:
            known = self.conventions[name]
            return "" if value in known else unknown(f"value of '{name}'", value, known).sentence
        if name not in self.standing:
            return unknown("convention", name, self.names).sentence
        told = value.replace(" ", "")
        reading = read_quantity(told, symbol_for(name).unit)
        if reading.value is None:
            return f"{name}={value}: {reading.reason}"
        try:
            read_name(str(ProblemName("a", 1, 1, 0, {name: told})))
        except BadValue:
            return f'{name}={value}: write it with letters, digits and a point alone, such as "0.65V"'
        return ""


def offered(circuit: Circuit) -> Offer:
    """What can be assumed of a circuit."""
    return Offer(circuit.convention_values(), tuple(circuit.defaults))


def circuit_of_level(desk: Desk, family_id: str, level: int) -> Circuit:
    """The circuit of a family's level, in its form."""
    return desk.circuit(desk.family(family_id).circuit_of(level))


def assumed_of_level(desk: Desk, family_id: str, level: int, assume: Mapping[str, str]) -> dict[str, str]:
    """What of a set's assumptions stands in the names of a level: what its circuit offers, and does not hold anyway."""
    family, circuit = desk.family(family_id), circuit_of_level(desk, family_id, level)
    offer = offered(circuit)
    anyway = {name: values[0] for name, values in offer.conventions.items()}
    anyway |= {**family.assume, **family.levels[level - 1].assume}
    found = {}
    for name, value in assume.items():
        told = value.replace(" ", "")
        if name in offer.standing:
            usual = read_quantity(told, symbol_for(name).unit).value == circuit.defaults[name]
        else:
            usual = name not in offer.conventions or anyway[name] == told
        if not usual:
            found[name] = told
    return found
