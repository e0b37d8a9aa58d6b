"""A desk's problems folder -> its Listing: every author's file is run."""

from __future__ import annotations

from tutor.across.family import AcrossFamily
from tutor.across.named import across_family, across_ids
from tutor.circuit.circuit import Circuit
from tutor.generate.family import Family, Level
from tutor.solution.desk import Desk
from tutor.views.listing import ListedCircuit, ListedFamily, ListedLevel, Listing


def listing_of(desk: Desk) -> Listing:
    """What there is at a desk; BadCircuit or BadFamily for a file that is wrong."""
    folder = desk.folder
    circuits = [_circuit(name, folder.circuit_forms(name)) for name in folder.circuit_stems()]
    return Listing(
        tuple(sorted(circuits, key=lambda item: (item.stage, item.id))),
        tuple(_family(name, desk.family(name)) for name in folder.family_ids()),
        tuple(_across(name, across_family(folder, name)) for name in across_ids(folder)),
    )


def _circuit(name: str, forms: tuple[Circuit, ...]) -> ListedCircuit:
    first = forms[0]
    return ListedCircuit(
        name,
        first.title,
        tuple(item.form for item in forms if item.form),
        first.stage,
        first.purpose,
        tuple(dict.fromkeys((*first.typical, *first.defaults))),
        tuple(first.report),
        tuple(region.words for region in first.regions),
        {key: tuple(values) for key, values in first.convention_values().items()},
        dict(first.defaults),
    )


def _family(name: str, family: Family) -> ListedFamily:
    levels = tuple(ListedLevel(level.about, tuple(level.given), _asks(level)) for level in family.levels)
    return ListedFamily(name, family.title, family.circuit, family.about, family.edition, levels)


def _asks(level: Level) -> tuple[str, ...]:
    return tuple(dict.fromkeys(ask.quantity if hasattr(ask, "quantity") else ask.key for ask in level.asks))


def _across(name: str, family: AcrossFamily) -> ListedFamily:
    levels = tuple(ListedLevel(question.about) for question in family.levels)
    return ListedFamily(name, family.title, "", family.about, family.edition, levels)
