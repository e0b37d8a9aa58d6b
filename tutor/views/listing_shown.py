"""A Listing set for a terminal, and as a JSON object."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from rich.console import Console

from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for
from tutor.views.listing import ListedCircuit, ListedFamily, Listing
from tutor.views.plain import unbound_text
from tutor.views.terminal_lines import heading, paragraph

_INDENT = 4


def show_listing(console: Console, listing: Listing) -> None:
    """Circuits, families and conventions, with what each is given, asks and covers."""
    heading(console, "Circuits")
    for circuit in listing.circuits:
        _show_circuit(console, circuit)
    for title, families in (("Families", listing.families), ("Families across circuits", listing.across)):
        console.print()
        heading(console, title)
        for family in families:
            _show_family(console, family)


def _show_circuit(console: Console, circuit: ListedCircuit) -> None:
    console.print()
    heading(console, f"  {circuit.id}", f"stage {circuit.stage}")
    paragraph(console, circuit.purpose, _INDENT)
    told = [f"form, to be given: {', '.join(circuit.forms)}"] if circuit.forms else []
    told += [f"given, for example: {', '.join(circuit.given)}", f"asks: {', '.join(circuit.asks)}"]
    told += [f"convention {name}: {', '.join(values)}" for name, values in circuit.conventions.items()]
    told += [
        f"standing value {name} = {write(value, symbol_for(name).unit)}" for name, value in circuit.defaults.items()
    ]
    for line in told:
        paragraph(console, line, _INDENT, "dim")


def _show_family(console: Console, family: ListedFamily) -> None:
    console.print()
    heading(console, f"  {family.id}", f"circuit {family.circuit}" if family.circuit else "")
    paragraph(console, family.about, _INDENT)
    for number, level in enumerate(family.levels, start=1):
        paragraph(console, f"level {number}: {level.about}", _INDENT, "dim")


def listing_record(listing: Listing) -> dict[str, Any]:
    """What there is: circuits with their forms and what each is given, asks and covers; families; conventions."""
    return {
        "circuits": [_circuit_record(circuit) for circuit in listing.circuits],
        "families": [_family_record(family) for family in listing.families],
        "across": [_across_record(family) for family in listing.across],
    }


def _circuit_record(circuit: ListedCircuit) -> dict[str, Any]:
    return {"covers" if name == "purpose" else name: value for name, value in asdict(circuit).items()}


def _family_record(family: ListedFamily) -> dict[str, Any]:
    return {
        "id": family.id,
        "title": family.title,
        "circuit": family.circuit,
        "covers": unbound_text(family.about),
        "edition": family.edition,
        "levels": [
            {"level": number, "about": level.about, "given": list(level.given), "asks": list(level.asks)}
            for number, level in enumerate(family.levels, start=1)
        ],
    }


def _across_record(family: ListedFamily) -> dict[str, Any]:
    return {
        "id": family.id,
        "title": family.title,
        "covers": unbound_text(family.about),
        "edition": family.edition,
        "levels": [
            {"level": number, "about": unbound_text(level.about)}
            for number, level in enumerate(family.levels, start=1)
        ],
    }
