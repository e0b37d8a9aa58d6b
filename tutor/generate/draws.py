"""Numbers -> accepted draws: for each number its first candidate that meets every condition.

The candidates of a number depend on its name and on nothing else, so a batch of one and a batch of a thousand give the
same problems.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tutor.errors import OutOfRange
from tutor.generate.level_run import ReadyLevel, ReadyRegion, RegionRun, run_region
from tutor.generate.random_bits import key_of
from tutor.generate.run import StageOutcome
from tutor.generate.sampling import Array, draw
from tutor.quantities.parts import Catalogue

BLOCK = 24  # candidates of a number tried at a time
MOST = 2400  # candidates of a number tried in all


@dataclass(frozen=True)
class Drawn:
    """One accepted draw: its number, the region it is in, and its run there (arrays of length one)."""

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
        firsts = _first_accepted([run for _, run in runs])
        for place, (region, run) in enumerate(runs):
            taken = {row: attempt for row, (attempt, where) in firsts.items() if where == place}
            alone = _rows(run, [row * BLOCK + attempt for row, attempt in taken.items()])
            for row, one in zip(taken, alone, strict=True):
                found[open_numbers[row]] = Drawn(open_numbers[row], region, one)
        open_numbers = [number for number in open_numbers if number not in found]
    if open_numbers:
        raise OutOfRange(f"{ready.where}: number {open_numbers[0]} finds no draw that meets its conditions")
    return [found[number] for number in numbers]


def _first_accepted(runs: Sequence[RegionRun]) -> dict[int, tuple[int, int]]:
    """For each number that has an accepted candidate, by its row: the first such, and the run that accepts it."""
    accepted = [(run.refused < 0).reshape(-1, BLOCK) for run in runs]
    first: dict[int, tuple[int, int]] = {}
    for place, mask in enumerate(accepted):
        attempts = np.argmax(mask, axis=1).tolist()
        for row in np.flatnonzero(mask.any(axis=1)).tolist():
            first[row] = min(first.get(row, (BLOCK, 0)), (attempts[row], place))
    return first


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
    env = draw(ready.level, catalogues, stream_key(ready), repeated, attempts, ready.where)
    for name, value in overrides.items():
        env[name] = np.full(len(repeated), value)
    return [(region, run_region(ready, region, env)) for region in ready.regions]


def _rows(run: RegionRun, rows: Sequence[int]) -> list[RegionRun]:
    """Each of these candidates alone, in arrays of length one.

    They are taken out together; so an accepted draw does not hold on to the candidates beside it.
    """
    index = np.array(rows, dtype=np.intp)

    def taken(values: Array) -> Array:
        return values[index] if np.ndim(values) else np.full(len(rows), values)

    def alone(row: int) -> RegionRun:
        return _mapped(together, lambda values: values[row : row + 1])

    together = _mapped(run, taken)
    return [alone(row) for row in range(len(rows))]


def _mapped(run: RegionRun, change: Callable[[NDArray[Any]], NDArray[Any]]) -> RegionRun:
    """A run with every array in it changed alike."""

    def all_of(values: Mapping[str, NDArray[Any]]) -> dict[str, NDArray[Any]]:
        return {name: change(item) for name, item in values.items()}

    def outcome(item: StageOutcome) -> StageOutcome:
        return StageOutcome(change(item.value), all_of(item.bases), all_of(item.ends), all_of(item.steps))

    return RegionRun(
        run.region,
        all_of(run.env),
        tuple(item and outcome(item) for item in run.outcomes),
        tuple(item and outcome(item) for item in run.checks),
        tuple(outcome(item) for item in run.tests),
        all_of(run.slips),
        change(run.refused),
        run.reasons,
    )
