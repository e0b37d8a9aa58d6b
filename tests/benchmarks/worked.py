"""Fully worked problems a second: drawn, worded and worked, against the arithmetic of their plans alone.

The *bare* evaluation is what is left when everything but the numbers is taken away: the program of every ask of the
level, run with numpy on arrays of the same problems' inputs, at the worst corners they were drawn with. The ratio is
the share of the whole that this arithmetic makes up; the rest is searching candidates, slips, words and steps.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from plans import require_alike
from table import Row, Section
from timing import Contender, Effort, added, interleaved

from tutor.generate.draws import Drawn, draw_numbers
from tutor.generate.level_run import ReadyLevel
from tutor.plan.evaluate import Program
from tutor.solution.desk import our_desk

BARE = "bare numpy"
HOW = (
    "Problems a second, one process and one thread, plans from the store: Desk.batch draws, words and works {count} "
    "new numbers of each family and level a round. Bare numpy runs only the programs of the asks, on arrays of the "
    "inputs of the same {count} problems at the corners they were drawn with, and finds the same values. The ratio is "
    "the share of that arithmetic in the whole; the rest is searching candidates, slips, words and steps."
)


@dataclass(frozen=True)
class BareAsk:
    """The program of one ask with the inputs of many problems side by side, and what their draws found (12 figures)."""

    program: Program
    inputs: dict[str, np.ndarray]
    quantity: str
    found: np.ndarray

    def run(self) -> np.ndarray:
        """The asked quantity of every problem."""
        values: np.ndarray = self.program.run(self.inputs)[self.quantity]
        return values


def bare_asks(drawn: Sequence[Drawn]) -> list[BareAsk]:
    """The asks that compute something, region by region."""
    regions: dict[str, list[Drawn]] = {}
    for item in drawn:
        regions.setdefault(item.run.region, []).append(item)
    asks = []
    for group in regions.values():
        for index, ready in enumerate(group[0].region.asks):
            outcomes = [outcome for item in group if (outcome := item.run.outcomes[index]) is not None]
            if ready is None or len(outcomes) != len(group):
                continue
            key = group[0].region.plan.keys[index]
            inputs = {
                name: np.concatenate([outcome.bases[name] for outcome in outcomes]) for name in ready.program.inputs
            }
            found = np.concatenate([item.run.env[key] for item in group])
            asks.append(BareAsk(ready.program, inputs, ready.stage.quantity, found))
    return asks


def level_names() -> list[tuple[str, int]]:
    """Every family and level there is."""
    return [(family, level) for family in our_desk().folder.family_ids() for level in (1, 2, 3)]


def numbers_of(number: int, count: int) -> range:
    """The problems of a round: other ones each time."""
    return range(number * count + 1, (number + 1) * count + 1)


def _working(ready: ReadyLevel, count: int) -> Contender:
    """Problems drawn, worded and worked."""
    return Contender(lambda number: lambda: our_desk().batch(ready, numbers_of(number, count)))


def _bare(ready: ReadyLevel, count: int, sample_seconds: float) -> Contender:
    """The programs of the same problems; they are drawn beforehand, and held against the draws."""

    def prepare(number: int) -> Callable[[], object]:
        asks = bare_asks(draw_numbers(ready, our_desk().parts, numbers_of(number, count)))
        for ask in asks:
            require_alike(ask.run().tolist(), ask.found.tolist(), f"{ready.where}, draw and bare program")
        return lambda: [ask.run() for ask in asks]

    return Contender(prepare, sample_seconds)


def rows_for(names: Sequence[tuple[str, int]], effort: Effort) -> list[Row]:
    """A row for each family and level named, and one for all of them together."""
    count = effort.problems
    levels = {f"{family} {level}": our_desk().level(family, level) for family, level in names}
    contenders: dict[str, Contender] = {}
    for name, ready in levels.items():
        our_desk().batch(ready, [1])  # what is read or imported once is not part of a rate
        contenders[name] = _working(ready, count)
        contenders[f"{name} bare"] = _bare(ready, count, effort.sample_seconds)
    found = interleaved(contenders, effort.few_rounds)
    ours, bare = (added([found[name + end] for name in levels]) for end in ("", " bare"))
    whole = Row("every family and level", ours, BARE, bare, "ratio: share of arithmetic", count * len(levels))
    single = [Row(name, found[name], BARE, found[f"{name} bare"], "", count) for name in levels]
    return [whole, *single]


def measure(effort: Effort) -> Section:
    """The rows of every family and level."""
    return Section(tuple(rows_for(level_names(), effort)), HOW.format(count=effort.problems))
