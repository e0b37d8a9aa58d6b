"""What problems across circuits state: a circuit within a sentence, what a letter means, the values in the table.

Place in the data flow: circuit, values of its parts -> words, givens and rows of the table -> Posed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.generate.problem import TableRow
from tutor.quantities.quantity import Quantity, given
from tutor.quantities.symbols import symbol_for

WAYS = {1: "rises", -1: "falls", 0: "stays"}


def meaning_of(name: str) -> str:
    """What a letter means, without its reference direction and what stands in brackets."""
    return " ".join(re.sub(r"\([^)]*\)", "", symbol_for(name).meaning).split(",")[0].split())


def capitalised(text: str) -> str:
    """A text as a sentence begins with it."""
    return f"{text[:1].upper()}{text[1:]}"


def uncapitalised(text: str) -> str:
    """A text as it stands inside a sentence."""
    return f"{text[:1].lower()}{text[1:]}"


def circuit_named(circuit: Circuit) -> str:
    """The circuit's title within a sentence."""
    return uncapitalised(circuit.title)


def circuit_told(circuit: Circuit) -> str:
    """The circuit's title within a sentence, with its article: "an op-amp series regulator"."""
    title = circuit_named(circuit)
    return f"{'an' if title[:1] in 'aeiou' else 'a'} {title}"


def given_values(circuit: Circuit, drawn: Iterable[str], values: Mapping[str, float]) -> dict[str, Quantity]:
    """The values (SI) of the letters that were drawn, then of the circuit's standing ones, as a problem gives them."""
    return {name: given(values[name], symbol_for(name).unit) for name in dict.fromkeys((*drawn, *circuit.defaults))}


def value_rows(circuit: Circuit, quantities: Mapping[str, Quantity]) -> tuple[TableRow, ...]:
    """The rows of given values, and how the zener behaves where there is one."""
    rows = [TableRow(meaning_of(name), name, quantity.text) for name, quantity in quantities.items()]
    if any(part.kind is PartKind.ZENER for part in circuit.parts):
        rows.append(TableRow("zener", "", "straight; forward it is a junction of 0.7 V"))
    return tuple(rows)
