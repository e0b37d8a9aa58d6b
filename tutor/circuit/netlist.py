"""Netlist text -> parts: one part a line, `name kind node node ... role=SYMBOL`.

    V_I  source    in   gnd
    R    resistor  in   out
    Z    zener     out  gnd

Every complaint names line and column. Place in the data flow: circuit files -> parts -> Circuit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from tutor.circuit.component import Component, PartKind
from tutor.circuit.components import COMPONENTS
from tutor.errors import BadCircuit, suggestion
from tutor.quantities.symbols import SYMBOLS, is_symbol


@dataclass(frozen=True)
class Part:
    """One part: its name, kind, nodes in terminal order, and the letter symbol of each role."""

    name: str
    kind: PartKind
    nodes: tuple[str, ...]
    symbols: Mapping[str, str]

    @property
    def component(self) -> Component:
        """The row of the component table for this kind."""
        return COMPONENTS[self.kind]

    @property
    def terminals(self) -> dict[str, str]:
        """Terminal letter -> node."""
        return dict(zip(self.component.terminals, self.nodes, strict=True))


def read_netlist(text: str, where: str) -> tuple[Part, ...]:
    """The parts of a netlist; `where` names the file in complaints. Raises BadCircuit."""
    parts: list[Part] = []
    for number, line in enumerate(text.splitlines(), start=1):
        words = [(match.group(), match.start() + 1) for match in re.finditer(r"\S+", line)]
        if not words or words[0][0].startswith("#"):
            continue
        place = f"{where}, netlist line {number}"
        part = _read_part(words, place)
        if part.name in {other.name for other in parts}:
            raise BadCircuit(
                f"{place}, column {words[0][1]}: the netlist names '{part.name}' twice; "
                "every part needs a name of its own"
            )
        parts.append(part)
    return tuple(parts)


def _read_part(words: list[tuple[str, int]], where: str) -> Part:
    (name, start) = words[0]
    if len(words) < 2:
        raise BadCircuit(f"{where}, column {start}: a part needs a name, a kind and its nodes (got '{name}')")
    kind_word, column = words[1]
    kinds = {kind.value: kind for kind in PartKind}
    if kind_word not in kinds:
        close = suggestion(kind_word, kinds)
        raise BadCircuit(f"{where}, column {column}: there is no part kind '{kind_word}'; {close}")
    component = COMPONENTS[kinds[kind_word]]
    nodes = tuple(word for word, _ in words[2:] if "=" not in word)
    if len(nodes) != len(component.terminals):
        raise BadCircuit(
            f"{where}, column {column}: a part of kind {kind_word} has {len(component.terminals)} nodes "
            f"(got {len(nodes)}: {' '.join(nodes) or 'none'})"
        )
    index = re.search(r"_[1-9]$", name)  # letters of one transistor of two take the number of its name
    letters = {"name": name, "index": index.group() if index else ""}
    symbols = {role: pattern.format(**letters) for role, pattern in component.roles.items()}
    columns = {role: start for role in symbols}
    for word, at in words[2:]:
        if "=" in word:
            role, symbol = word.split("=", 1)
            if role not in symbols:
                raise BadCircuit(
                    f"{where}, column {at}: a part of kind {kind_word} has no '{role}'; {suggestion(role, symbols)}"
                )
            symbols[role], columns[role] = symbol, at
    for role, symbol in symbols.items():
        if symbol and not is_symbol(symbol):
            raise BadCircuit(
                f"{where}, column {columns[role]}: '{symbol}' is not in the table of letter symbols; "
                f"{suggestion(symbol, SYMBOLS)}"
            )
    return Part(name, kinds[kind_word], nodes, symbols)
