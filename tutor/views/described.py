"""A circuit's drawing in words: its parts with what they join, and the letters that it marks. Nothing is drawn.

Place in the data flow: Drawing + netlist -> rows and a sentence, for whoever cannot see the drawing, and for notes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tutor.circuit.circuit import GROUND, Circuit
from tutor.circuit.placement import Arrow, Drawing, NodeLabel, Place, Voltage, kind_word
from tutor.circuit.placement import PartLike as Part
from tutor.quantities.prose import listed
from tutor.views.lettering import plain_label

_KIND_WORDS = {
    "source": "source",
    "resistor": "resistor",
    "zener": "zener diode",
    "load": "load",
    "npn": "NPN transistor",
    "pnp": "PNP transistor",
    "junction": "diode",
    "shunt-reference": "adjustable shunt reference",
    "opamp": "operational amplifier",
    "amplifier": "operational amplifier",
    "three-terminal": "three-terminal regulator",
    "thermal": "thermal resistance",
    "heat-source": "source of heat",
    "winding": "transformer winding",
    "tapped-winding": "transformer winding with centre tap",
    "diode": "rectifier diode",
    "reservoir": "reservoir capacitor",
}
_TERMINAL_WORDS = {
    "npn": ("collector", "base", "emitter"),
    "pnp": ("collector", "base", "emitter"),
    "shunt-reference": ("cathode", "reference pin", "anode"),
    "opamp": ("non-inverting input", "inverting input", "output"),
    "amplifier": ("non-inverting input", "inverting input", "output", "supply lead"),
    "three-terminal": ("input", "third pin", "output"),
    "tapped-winding": ("upper end", "tap", "lower end"),
    "diode": ("anode", "cathode"),
}


@dataclass(frozen=True)
class PartRow:
    """One part in the long description of a drawing: what it is, its value, and the nodes it joins, in words."""

    part: str
    words: str
    value: str
    start: str
    end: str


def marked_letters(drawing: Drawing) -> tuple[str, ...]:
    """The letter symbols of the currents and voltages that a drawing marks, parts' own letters apart."""
    currents = [place.current for place in drawing.places if isinstance(place, Place) and place.current]
    marks = [mark.name for mark in drawing.marks if isinstance(mark, Arrow | NodeLabel | Voltage)]
    return tuple(dict.fromkeys((*currents, *marks)))


def describe_circuit(circuit: Circuit, labels: Mapping[str, str], values: Mapping[str, str]) -> tuple[PartRow, ...]:
    """The long description of a circuit as it is drawn, its nodes in the words of its file."""
    words = {GROUND: "ground", **{node: word.words for node, word in circuit.nodes.items()}}
    return describe(circuit.drawing, circuit.parts, words, labels, values)


def describe(
    drawing: Drawing,
    parts: Sequence[Part],
    node_words: Mapping[str, str],
    labels: Mapping[str, str],
    values: Mapping[str, str],
) -> tuple[PartRow, ...]:
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
            PartRow(
                plain_label(labels.get(part.name, part.name)),
                _KIND_WORDS[kind_word(part)],
                values.get(part.name, ""),
                ", ".join(told[:-1]),
                told[-1],
            )
        )
    return tuple(rows)


def description(drawing: Drawing, parts: Sequence[Part], labels: Mapping[str, str]) -> str:
    """One sentence for the drawing's short description: its parts, in the order drawn."""
    named = {part.name: part for part in parts}
    told = [
        f"{_KIND_WORDS[kind_word(named[place.part])]} {plain_label(labels.get(place.part, place.part))}"
        for place in drawing.places
    ]
    return f"Circuit diagram with {listed(told)}."
