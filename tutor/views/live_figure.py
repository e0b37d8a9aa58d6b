"""The figure of a circuit that a reader disturbs: sliders, and the currents and drops that shift with them.

Place in the data flow: BareSet -> LiveFigure -> `circuit.html` with its sliders and rows of bars, and
`circuits/CIRCUIT.js` with one set's plans, which assets/own_resolve.js works out and live_figure.js shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tutor.plan.verify import names_of
from tutor.quantities.expression import to_json
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for
from tutor.solution.bare_set import BareSet, Group, Mover
from tutor.views.own_plans import (
    Data,
    Shelves,
    circuit_data,
    names_spoken_of,
    plan_data,
    step_data,
    symbol_data,
)


@dataclass(frozen=True)
class Slider:
    """A slider: it stands at hundredths of `unit_step` (SI); its ends and its start as they are written."""

    name: str
    meaning: str
    least: int
    most: int
    at: int
    unit_step: float
    low: str
    high: str
    start: str


@dataclass(frozen=True)
class LiveFigure:
    """Everything the section needs: what comes first and what beside it, the groups of bars, letters, data."""

    sliders: tuple[Slider, ...]
    beside: tuple[Slider, ...]
    groups: tuple[Group, ...]
    letters: tuple[str, ...]
    data: Data


def live_figure(bare: BareSet) -> LiveFigure:
    """The figure of a bare set."""
    circuit, shelves = bare.circuit, Shelves()
    plans = [plan_data(plan, shelves) for plan in bare.plans]
    beside = {name for group in bare.groups for name in group.names} | {mover.name for mover in bare.movers}
    names = names_spoken_of(bare.plans, shelves, {*bare.numbers, *circuit.defaults, *beside})
    data = {
        **circuit_data(circuit),
        "symbols": {name: symbol_data(name) for name in names},
        "laws": shelves.laws,
        "steps": [step_data(step, ()) for step in shelves.steps],
        "sets": [{"plans": plans}],
        "start": dict(bare.numbers),
        "drifts": [{"target": name, "rule": [to_json(expr), None]} for name, expr in bare.drifts.items()],
    }
    sliders = [(mover.first, _slider(mover)) for mover in bare.movers]
    return LiveFigure(
        tuple(slider for first, slider in sliders if first),
        tuple(slider for first, slider in sliders if not first),
        bare.groups,
        tuple(dict.fromkeys(_letters(bare))),
        data,
    )


def _slider(mover: Mover) -> Slider:
    symbol = symbol_for(mover.name)
    places = (mover.least, mover.most, mover.start)
    low, high, start = (write(mover.typical * at / 100, symbol.unit, 3) for at in places)
    return Slider(mover.name, symbol.meaning, *places, mover.typical, low, high, start)


def _letters(bare: BareSet) -> Iterator[str]:
    """What a sentence about the state may name: what the regions demand, what is shown, and what may not be below 0."""
    for plan in bare.plans:
        for bound in plan.laws.bounds:
            yield from sorted(names_of(bound.equation))
    for group in bare.groups:
        yield from group.names
    yield from (*bare.circuit.constants, *bare.circuit.load_resistances(), *bare.circuit.output_voltages())
