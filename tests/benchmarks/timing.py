"""Timing things against each other in one run: in turn, round after round, so that a noisy machine disturbs all alike.

Vocabulary: a *contender* is one of the things compared; a *round* times each contender once, in order; a *timing* holds
one figure a round, in seconds for one call.
"""

from __future__ import annotations

import gc
import math
import resource
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import median
from time import perf_counter


@dataclass(frozen=True)
class Effort:
    """How much to measure: rounds of what is short, and of what is long or many things (every level, every circuit);
    sets of numbers in a vectorised batch, worked problems in a batch, and how long a sample of something short lasts.
    """

    rounds: int
    few_rounds: int
    sets: int
    problems: int
    sample_seconds: float

    @property
    def measures(self) -> bool:
        """Whether this is a measurement, for which long ways are gone, or no more than a smoke run."""
        return self.problems >= FULL.problems


FULL = Effort(rounds=9, few_rounds=3, sets=1000, problems=200, sample_seconds=0.02)
QUICK = Effort(rounds=2, few_rounds=1, sets=1000, problems=20, sample_seconds=0.002)


@dataclass(frozen=True)
class Contender:
    """One of the things compared. `prepare` takes a round's number and hands back what to time, its set-up done.

    A sample repeats the call until it has lasted `sample_seconds`; 0 calls once, for what is long or must not be
    repeated on the same numbers (sympy remembers what it has worked out). Told a `clock` of
    processor time (`process_time`, or `children_time` for processes that the call waits for), other work on the machine
    enters little; what is compared goes by clocks of one kind.
    """

    prepare: Callable[[int], Callable[[], object]]
    sample_seconds: float = 0.0
    clock: Callable[[], float] | None = None


@dataclass(frozen=True)
class Timing:
    """Seconds for one call, one figure a round."""

    seconds: tuple[float, ...]

    @property
    def median(self) -> float:
        """The middle figure."""
        return median(self.seconds)

    @property
    def least(self) -> float:
        """The shortest."""
        return min(self.seconds)

    @property
    def most(self) -> float:
        """The longest."""
        return max(self.seconds)

    def per(self, count: int) -> Timing:
        """The time of one item where a call deals with `count` of them."""
        return Timing(tuple(item / count for item in self.seconds))


def added(timings: list[Timing]) -> Timing:
    """The time of all of them one after another, round by round."""
    return Timing(tuple(math.fsum(together) for together in zip(*(item.seconds for item in timings), strict=True)))


def interleaved(contenders: Mapping[str, Contender], rounds: int) -> dict[str, Timing]:
    """Every contender once in each round, in order (A B A B …)."""
    found: dict[str, list[float]] = {name: [] for name in contenders}
    gc.collect()
    gc.freeze()  # what is at hand stays: before each sample only what has come since is looked through for rubbish
    try:
        for number in range(rounds):
            for name, contender in contenders.items():
                found[name].append(_sample(contender.prepare(number), contender))
    finally:
        gc.unfreeze()
    return {name: Timing(tuple(seconds)) for name, seconds in found.items()}


def children_time() -> float:
    """What the processor has spent so far on processes that this one started and waited for."""
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def _sample(call: Callable[[], object], contender: Contender) -> float:
    """Seconds for one call, from as many as fill the sample; rubbish left by what came before is cleared away first."""
    calls, sample_seconds = 1, contender.sample_seconds
    clock = contender.clock or perf_counter
    gc.collect()
    while True:
        start = clock()
        for _ in range(calls):
            call()
        elapsed = clock() - start
        if elapsed >= sample_seconds:
            return elapsed / calls
        calls = max(2 * calls, math.ceil(1.2 * calls * sample_seconds / max(elapsed, 1e-9)))
