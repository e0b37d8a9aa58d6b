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

from tutor.circuit.components import COMPONENTS, Component, PartKind
from tutor.errors import BadCircuit, nearest
from tutor.quantities.symbols import SYMBOLS


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
        if words and not words[0][0].startswith("#"):
            parts.append(_read_part(words, f"{where}, netlist line {number}"))
    names = [part.name for part in parts]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise BadCircuit(f"{where}: the netlist names '{twice[0]}' twice; every part needs a name of its own")
    return tuple(parts)


def _read_part(words: list[tuple[str, int]], where: str) -> Part:
    if len(words) < 3:
        raise BadCircuit(f"{where}: a part needs a name, a kind and its nodes (got '{words[0][0]}')")
    (name, _), (kind_word, column) = words[0], words[1]
    kinds = {kind.value: kind for kind in PartKind}
    if kind_word not in kinds:
        raise BadCircuit(
            f"{where}, column {column}: there is no part kind '{kind_word}'; did you mean "
            f"'{nearest(kind_word, kinds) or 'resistor'}'?"
        )
    component = COMPONENTS[kinds[kind_word]]
    nodes = tuple(word for word, _ in words[2:] if "=" not in word)
    if len(nodes) != len(component.terminals):
        raise BadCircuit(
            f"{where}: a {kind_word} has {len(component.terminals)} terminals (got {len(nodes)} nodes: "
            f"{' '.join(nodes) or 'none'})"
        )
    symbols = {role: pattern.format(name=name) for role, pattern in component.roles.items()}
    for word, column in words[2:]:
        if "=" in word:
            role, symbol = word.split("=", 1)
            if role not in symbols:
                raise BadCircuit(
                    f"{where}, column {column}: a {kind_word} has no '{role}'; did you mean '{nearest(role, symbols)}'?"
                )
            symbols[role] = symbol
    for symbol in symbols.values():
        if symbol and symbol not in SYMBOLS:
            raise BadCircuit(
                f"{where}: '{symbol}' is not in the table of letter symbols; nearest is '{nearest(symbol, SYMBOLS)}'"
            )
    return Part(name, kinds[kind_word], nodes, symbols)
