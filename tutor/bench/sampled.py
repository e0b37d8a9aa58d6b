"""Drawn problems of a level side by side, each at every corner of the spreads that the level names.

Vocabulary: a *set* is one problem with its parts at one corner. A spread of a meter reading, from which parts are
worked out, moves what is worked from it; a spread of a part moves what is built.
Place in the data flow: drawn problems -> (this) -> `building.py`. Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tutor.bench.curves import Array
from tutor.bench.setting import demanded, optional
from tutor.circuit.circuit import Circuit
from tutor.generate.draws import Drawn
from tutor.generate.level_run import ReadyLevel
from tutor.generate.run import RunnableStage, run
from tutor.generate.sampling import Environment
from tutor.generate.stage import Stage
from tutor.quantities.parts import Catalogue


@dataclass(frozen=True)
class WorkedSets:
    """One ask worked by hand over many sets: the value, the bases behind it, and each step (SI arrays)."""

    stage: Stage
    value: Array
    bases: Mapping[str, Array]
    steps: Mapping[str, Array]


@dataclass(frozen=True)
class Sets:
    """The draws of one region of a level, each at every corner of the level's spreads.

    `hand` is what the problem's own solution says, by ask; `worked` what hand analysis makes of the parts as they are
    in each set; `env` the values of the problem with its parts as they are.
    """

    ready: ReadyLevel
    region: str
    keys: tuple[str, ...]
    env: Environment
    worked: tuple[WorkedSets | None, ...]
    hand: tuple[Array | None, ...]
    spread: Mapping[str, Array]
    catalogues: Mapping[str, Catalogue]

    @property
    def circuit(self) -> Circuit:
        """The circuit of the level."""
        return self.ready.circuit

    @property
    def count(self) -> int:
        """How many sets there are."""
        return int(next(iter(self.env.values())).size)


def spread_corners(spreads: Mapping[str, float]) -> dict[str, Array]:
    """Factors of each spread part: all as said, then every corner."""
    places = [(0.0,) * len(spreads), *itertools.product((-1.0, 1.0), repeat=len(spreads))]
    return {
        key: np.array([1.0 + place[row] * share for place in places])
        for row, (key, share) in enumerate(spreads.items())
    }


def sets_of(ready: ReadyLevel, drawns: Sequence[Drawn], catalogues: Mapping[str, Catalogue]) -> Sets:
    """Draws that are all in one region, at every corner of the level's spreads."""
    region = drawns[0].region
    corners = spread_corners({key: share for key, share in ready.level.band.items() if key in drawns[0].run.env})
    times = next((factors.size for factors in corners.values()), 1)
    names = set.intersection(*(set(item.run.env) for item in drawns))
    env = {key: np.repeat([float(item.run.env[key][0]) for item in drawns], times) for key in sorted(names)}
    spread = {key: np.tile(factors, len(drawns)) for key, factors in corners.items()}
    settings = {letter for group in demanded(ready.circuit) for letter in group} | {*optional(ready.circuit)}
    moved = [key for key in spread if key not in settings]
    worked: list[WorkedSets | None] = []
    hand: list[Array | None] = []
    actual = {**env, **{key: env[key] * spread[key] for key in moved}}
    for index, stage in enumerate(region.asks):
        found = [item.run.outcomes[index] for item in drawns]
        if stage is None or any(item is None for item in found):
            worked.append(None)
            hand.append(None)
            continue
        own = _repeated(stage, drawns, index, times)
        hand.append(own.value)
        if moved:  # readings that are off move what is worked from them; a choice made by them stays
            again = run(stage, actual)
            own = WorkedSets(stage.stage, again.value, again.bases, again.steps)
            actual[region.plan.keys[index]] = np.array(again.value)
        worked.append(own)
    return Sets(ready, region.plan.region, region.plan.keys, actual, tuple(worked), tuple(hand), spread, catalogues)


def _repeated(stage: RunnableStage, drawns: Sequence[Drawn], index: int, times: int) -> WorkedSets:
    """An ask as the problems themselves work it, each as often as there are corners."""
    outcomes = [found for item in drawns if (found := item.run.outcomes[index]) is not None]

    def over(of_each: list[Mapping[str, Array]]) -> dict[str, Array]:
        return {name: np.repeat([float(values[name][0]) for values in of_each], times) for name in of_each[0]}

    value = np.repeat([float(found.value[0]) for found in outcomes], times)
    bases, steps = over([found.bases for found in outcomes]), over([found.steps for found in outcomes])
    return WorkedSets(stage.stage, value, bases, steps)
