"""Numbers -> accepted draws: for each number its first candidate that meets every condition.

The candidates of a number depend on its name and on nothing else, so a batch of one and a batch of a thousand give the
same problems.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tutor.errors import OutOfRange
from tutor.generate.level_run import ReadyLevel, ReadyRegion, RegionRun, run_region
from tutor.generate.random_bits import key_of
from tutor.generate.run import Outcome
from tutor.generate.sampling import Array, Environment, draw
from tutor.quantities.parts import Catalogue

BLOCK = 24  # candidates of a number tried at a time
MOST = 2400  # candidates of a number tried in all


@dataclass(frozen=True)
class Drawn:
    """One accepted draw: its region, its environment (arrays of length one) and the outcome of every ask."""

    number: int
    region: ReadyRegion
    run: RegionRun


@dataclass(frozen=True)
class Acceptance:
    """How many candidates were looked at, how many accepted, and why the rest were refused."""

    candidates: int
    accepted: int
    refused: Mapping[str, int]


def stream_key(ready: ReadyLevel) -> int:
    """The key of a level's stream of draws: a new edition draws anew."""
    return key_of(f"{ready.family.id}:{ready.number}@{ready.family.edition}")


def draw_numbers(
    ready: ReadyLevel,
    catalogues: Mapping[str, Catalogue],
    numbers: Sequence[int],
    overrides: Mapping[str, float] | None = None,
) -> list[Drawn]:
    """The accepted draw of each number, in order. Raises OutOfRange when a number finds none."""
    found: dict[int, Drawn] = {}
    open_numbers = list(dict.fromkeys(numbers))
    for start in range(0, MOST, BLOCK):
        if not open_numbers:
            break
        runs = _candidates(ready, catalogues, open_numbers, start, overrides or {})
        accepted = [run.refused < 0 for _, run in runs]
        for row, number in enumerate(open_numbers):
            place = slice(row * BLOCK, (row + 1) * BLOCK)
            best = min(
                ((int(np.argmax(mask[place])), index) for index, mask in enumerate(accepted) if mask[place].any()),
                default=None,
            )
            if best is not None:
                region, run = runs[best[1]]
                found[number] = Drawn(number, region, _row(run, row * BLOCK + best[0]))
        open_numbers = [number for number in open_numbers if number not in found]
    if open_numbers:
        raise OutOfRange(f"{ready.where}: number {open_numbers[0]} finds no draw that meets its conditions")
    return [found[number] for number in numbers]


def acceptance(ready: ReadyLevel, catalogues: Mapping[str, Catalogue], count: int = 200) -> Acceptance:
    """What becomes of the first candidates of `count` numbers."""
    runs = _candidates(ready, catalogues, list(range(1, count + 1)), 0, {})
    good = np.any([run.refused < 0 for _, run in runs], axis=0)
    refused: Counter[str] = Counter()
    for _, run in runs:
        for code in run.refused[~good]:
            if code >= 0:
                refused[run.reasons[int(code)]] += 1
    return Acceptance(len(good), int(good.sum()), dict(refused.most_common()))


def _candidates(
    ready: ReadyLevel,
    catalogues: Mapping[str, Catalogue],
    numbers: Sequence[int],
    start: int,
    overrides: Mapping[str, float],
) -> list[tuple[ReadyRegion, RegionRun]]:
    repeated = np.repeat(np.array(numbers, dtype=np.uint64), BLOCK)
    attempts = np.tile(np.arange(start, start + BLOCK, dtype=np.uint64), len(numbers))
    env, _ = draw(ready.level, catalogues, stream_key(ready), repeated, attempts, ready.where)
    for name, value in overrides.items():
        env[name] = np.full(len(repeated), value)
    return [(region, run_region(ready, region, env)) for region in ready.regions]


def _row(run: RegionRun, index: int) -> RegionRun:
    def pick(array: Array) -> Array:
        return np.array([array[index]]) if np.ndim(array) else np.array([array])

    def outcome(item: Outcome | None) -> Outcome | None:
        if item is None:
            return None
        return Outcome(
            pick(item.value),
            {name: pick(value) for name, value in item.bases.items()},
            {name: np.array([value[index]]) for name, value in item.ends.items()},
            {name: pick(value) for name, value in item.steps.items()},
        )

    env: Environment = {name: pick(value) for name, value in run.env.items()}
    return RegionRun(
        run.region,
        env,
        tuple(outcome(item) for item in run.outcomes),
        tuple(outcome(item) for item in run.checks),
        {name: pick(value) for name, value in run.slips.items()},
        run.refused[index : index + 1],
        run.reasons,
    )
