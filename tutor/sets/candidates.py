"""Numbers that may be a learner's: drawn in the order of a counter, each with what a choice between them needs.

Vocabulary: a *candidate* is a number with its answers; its *face* is what tells problems of a level apart (the values
given). A *source* is one level asked of a class: it says which candidates a learner has, in which order, and refuses
those of another difficulty (`shape.py`), of another mains frequency, and those that were used before.
Place in the data flow: seed, level, learner, occasion -> candidates -> `drafts.py` takes one.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from tutor.across.family import Posed
from tutor.across.named import any_problem
from tutor.errors import OutOfRange
from tutor.generate.draws import Drawn as DrawnNumbers
from tutor.generate.level_run import ReadyLevel
from tutor.generate.name import ProblemName
from tutor.generate.problem import Problem
from tutor.generate.random_bits import bits, choose, key_of
from tutor.sets.levels import Assumed, assumed_key, draws_of, ready_level_of, runs_across
from tutor.sets.paper import ClassSet, DrawnQuestion
from tutor.sets.shape import Shape, loose_shape, shape_of, signature_of, usual, values_of, words_of
from tutor.solution.desk import our_desk
from tutor.solution.scheme_of import scheme_of

NUMBERS = 999_999  # numbers drawn from: six figures are easily copied from a page
_PILOT = 64  # problems of a level worked to see which shape is the usual one
_POSED_PILOT = 16
_SHARED = 0.25  # of the problems across circuits: as many must share a number of steps for it to be held to
_AT_ONCE = 512  # numbers drawn at a time where many are only looked at


@dataclass(frozen=True)
class Candidate:
    """A number that a learner may have: the values asked for (SI), the answers in words, and its face.

    `sure`: its draw alone says that it has the usual shape; others are worked before they are taken.
    """

    number: int
    values: tuple[float, ...]
    words: tuple[str, ...]
    face: str
    sure: bool = True


class Source(Protocol):
    """One level asked of a class."""

    @property
    def first_tries(self) -> int:
        """How many candidates of a learner are best looked at together at first."""

    @property
    def most_tries(self) -> int:
        """How many candidates of a learner are looked at for the best of them."""

    def numbers(self, learner: str, occasion: int, tries: range) -> list[int]:
        """The numbers of those tries of a learner; `occasion` tells questions of one level apart."""

    def candidates(self, numbers: Sequence[int]) -> list[Candidate | None]:
        """Each number's candidate; None where it is refused."""

    def stands(self, candidate: Candidate) -> bool:
        """Whether a candidate, worked out, still has the usual shape."""


def source_of(of: ClassSet, asks: DrawnQuestion, besides: Iterable[str] = ()) -> Source:
    """The source of a level; `besides` are problems that the set asks of everyone, as `avoidable` writes them.

    OutOfRange for a level without numbers under what the set assumes.
    """
    avoid = _avoided(of, asks, besides)
    if runs_across(asks.family):
        return _across_source(of, asks, avoid)
    return _circuit_source(of, asks, avoid)


def named_in(of: ClassSet, asks: DrawnQuestion, number: int) -> ProblemName:
    """The name under which a set asks a number; the mains frequency is assumed where its circuit has a standing one."""
    name = asks.named(number)
    if runs_across(asks.family) or "f" in asks.assumed:
        return name
    if "f" not in ready_level_of(asks.family, asks.level, assumed_key(asks.assumed)).circuit.defaults:
        return name
    return ProblemName(name.family, name.level, number, name.edition, {**name.assumed, "f": f"{of.mains:g}Hz"})


def _avoided(of: ClassSet, asks: DrawnQuestion, besides: Iterable[str]) -> frozenset[int]:
    start = f"{asks.family}:{asks.level}:"
    return frozenset(
        int(name.removeprefix(start)) for names in (of.avoid, besides) for name in names if name.startswith(start)
    )


def drawn_numbers(seed: int, level: str, learner: str, occasion: int, tries: range) -> list[int]:
    """Numbers from 1 to `NUMBERS`: SplitMix64 of the try, keyed by seed, level, learner and occasion."""
    key = key_of(f"{seed}/{level}/{occasion}/{learner}")
    attempts = np.arange(tries.start, tries.stop, dtype=np.uint64)
    words = bits(key, np.zeros(len(attempts), dtype=np.uint64), attempts, 0)
    return [int(number) + 1 for number in choose(words, NUMBERS)]


@dataclass(frozen=True)
class _CircuitSource:
    """A level of a circuit's family. `pure` are signatures of which every problem worked had the usual shape, `mixed`
    those of which only some had."""

    seed: int
    level: str
    ready: ReadyLevel
    assumed: Assumed
    mains: float
    avoid: frozenset[int]
    faces: frozenset[str]
    shape: Shape
    pure: frozenset[Shape]
    mixed: frozenset[Shape]
    first_tries: int = 8
    most_tries: int = 48

    def numbers(self, learner: str, occasion: int, tries: range) -> list[int]:
        return drawn_numbers(self.seed, self.level, learner, occasion, tries)

    def candidates(self, numbers: Sequence[int]) -> list[Candidate | None]:
        drawn = draws_of(self.ready, numbers, self.assumed)
        return [None if item is None or self._refuses(item) else self._candidate(item) for item in drawn]

    def _refuses(self, drawn: DrawnNumbers) -> bool:
        signature = signature_of(drawn)
        usual_shape = signature in self.pure or signature in self.mixed
        mains = drawn.run.env.get("f")
        wrong_mains = mains is not None and abs(float(mains[0]) - self.mains) > 1e-9
        used = drawn.number in self.avoid or _face(self.ready, drawn) in self.faces
        return not usual_shape or wrong_mains or used

    def _candidate(self, drawn: DrawnNumbers) -> Candidate:
        env, plan = drawn.run.env, drawn.region.plan
        values = tuple(
            float(env[plan.keys[index]][0])
            for index, ask in enumerate(self.ready.level.asks)
            if ask.shown and drawn.run.outcomes[index] is not None
        )
        return Candidate(drawn.number, values, (), _face(self.ready, drawn), signature_of(drawn) in self.pure)

    def stands(self, candidate: Candidate) -> bool:
        if candidate.sure:
            return True
        return _worked_shapes(self.ready, self.assumed, [candidate.number])[0][1] == self.shape


def _face(ready: ReadyLevel, drawn: DrawnNumbers) -> str:
    told = [(name, float(drawn.run.env[name][0])) for name in ready.level.given]
    return hashlib.sha256(repr(told).encode()).hexdigest()[:16]


def _worked_shapes(ready: ReadyLevel, assumed: Assumed, numbers: Sequence[int]) -> list[tuple[Shape, Shape]]:
    """The signature and the shape of each number's problem, worked."""
    return [
        (
            signature_of(item.drawn),
            shape_of(item.problem, item.solution, scheme_of(item.problem, item.solution), item.drawn.run.region),
        )
        for item in our_desk().batch(ready, numbers, dict(assumed))
    ]


@dataclass(frozen=True)
class _Pilot:
    """The usual shape of a level, and the signatures that tell it for sure or not for sure."""

    shape: Shape
    pure: frozenset[Shape]
    mixed: frozenset[Shape]


@lru_cache(64)
def _pilot_of(family: str, level: int, assumed: Assumed) -> _Pilot:
    """The first problems of a level worked, to see which shape is the usual one."""
    ready = ready_level_of(family, level, assumed)
    pilot = range(1, _PILOT + 1)
    drawn = zip(pilot, draws_of(ready, pilot, assumed), strict=True)
    usable = [number for number, item in drawn if item is not None]
    if not usable:
        raise OutOfRange(f"{ready.where}: no numbers meet its conditions with {dict(assumed)}")
    worked = _worked_shapes(ready, assumed, usable)
    shape, _ = usual(item[1] for item in worked)
    having = {signature for signature, found in worked if found == shape}
    lacking = {signature for signature, found in worked if found != shape}
    return _Pilot(shape, frozenset(having - lacking), frozenset(having & lacking))


def _circuit_source(of: ClassSet, asks: DrawnQuestion, avoid: frozenset[int]) -> _CircuitSource:
    assumed = assumed_key(named_in(of, asks, 1).assumed)
    ready = ready_level_of(asks.family, asks.level, assumed)
    pilot = _pilot_of(asks.family, asks.level, assumed)
    faces: set[str] = set()
    used = sorted(avoid)
    for start in range(0, len(used), _AT_ONCE):
        drawn = draws_of(ready, used[start : start + _AT_ONCE], assumed)
        faces |= {_face(ready, item) for item in drawn if item is not None}
    return _CircuitSource(
        of.seed, f"{asks.family}:{asks.level}", ready, assumed, of.mains, avoid, frozenset(faces), pilot.shape,
        pilot.pure, pilot.mixed,
    )  # fmt: skip


@dataclass(frozen=True)
class _AcrossSource:
    """A level of a family across circuits; `steps` is how many steps a solution must have, None where any will do."""

    seed: int
    asks: DrawnQuestion
    mains: float
    avoid: frozenset[int]
    faces: frozenset[str]
    shape: Shape
    steps: int | None
    first_tries: int = 1
    most_tries: int = 8

    @property
    def level(self) -> str:
        return f"{self.asks.family}:{self.asks.level}"

    def numbers(self, learner: str, occasion: int, tries: range) -> list[int]:
        return drawn_numbers(self.seed, self.level, learner, occasion, tries)

    def candidates(self, numbers: Sequence[int]) -> list[Candidate | None]:
        return [self._candidate(number) for number in numbers]

    def _candidate(self, number: int) -> Candidate | None:
        if number in self.avoid:
            return None
        found = _posed(self.asks, number)
        if found is None:
            return None
        mains = found.problem.given.get("f")
        wrong_mains = mains is not None and abs(mains.value - self.mains) > 1e-9
        face = _posed_face(found.problem)
        if wrong_mains or face in self.faces or self.steps not in (None, len(found.solution.steps)):
            return None
        if loose_shape(found.problem, scheme_of(found.problem, found.solution)) != self.shape:
            return None
        return Candidate(number, values_of(found.problem), words_of(found.problem), face)

    def stands(self, candidate: Candidate) -> bool:
        return True


def _posed(asks: DrawnQuestion, number: int) -> Posed | None:
    try:
        found = any_problem(our_desk(), asks.named(number))
    except OutOfRange:  # the number finds no problem
        return None
    assert isinstance(found, Posed)
    return found


def _posed_face(problem: Problem) -> str:
    given: Mapping[str, object] = {name: item.value for name, item in problem.given.items()}
    told = [problem.circuit, problem.form, problem.ask, problem.table, sorted(given.items()), words_of(problem)]
    return hashlib.sha256(repr(told).encode()).hexdigest()[:16]


def _across_source(of: ClassSet, asks: DrawnQuestion, avoid: frozenset[int]) -> _AcrossSource:
    pilot = [found for number in range(1, _POSED_PILOT + 1) if (found := _posed(asks, number)) is not None]
    if not pilot:
        raise OutOfRange(f"'{asks.family}' level {asks.level}: no number of it makes a problem")
    shapes = [loose_shape(item.problem, scheme_of(item.problem, item.solution)) for item in pilot]
    shape, _ = usual(shapes)
    counts = Counter(len(item.solution.steps) for item, told in zip(pilot, shapes, strict=True) if told == shape)
    steps, count = counts.most_common(1)[0]
    held = count / len(pilot) >= _SHARED
    used = [found for number in sorted(avoid) if (found := _posed(asks, number)) is not None]
    return _AcrossSource(
        of.seed, asks, of.mains, avoid, frozenset(_posed_face(item.problem) for item in used), shape,
        steps if held else None,
    )  # fmt: skip
