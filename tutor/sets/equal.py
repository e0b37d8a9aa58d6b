"""Whether the variants of a set are equally difficult, and whether a copied answer shows: as plain values.

Vocabulary: *facts* are what the report needs of a paper, small enough to be kept of every learner; a *gap* is how far
two answers lie apart, as a share of the larger. Gaps are counted in tolerances, too: below `APART` of them a copied
answer may pass for right.
Place in the data flow: Papers -> facts -> EqualReport -> views. Facts are made where the paper is made, so that a
process sends back these and not the paper.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar, cast

import numpy as np
from numpy.typing import NDArray

from tutor.generate.problem import WaypointKind
from tutor.sets.drafts import APART, NEAR, REACH
from tutor.sets.paper import Asked, ClassSet, DrawnQuestion, Paper
from tutor.sets.shape import loose_shape, shape_digest, shape_of, values_of, words_of

Kept = TypeVar("Kept")


@dataclass(frozen=True, slots=True)  # one for every question of every learner is kept
class QuestionFacts:
    """What the report needs of one question on one paper: its name, shape (in few letters), marks of its scheme, number
    of steps, and answers: values (SI) by key, and words."""

    name: str
    shape: str
    marks: int
    steps: int
    state: str
    keys: tuple[str, ...]
    values: tuple[float, ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PaperFacts:
    """What the report needs of one paper."""

    learner: str
    questions: tuple[QuestionFacts, ...]


@dataclass(frozen=True)
class Gap:
    """The two learners whose answers to `key` lie nearest to each other: the share between them, and in tolerances."""

    key: str
    first: str
    second: str
    share: float
    tolerances: float

    @property
    def shows(self) -> bool:
        """Whether an answer copied from one to the other shows."""
        return self.tolerances > APART


@dataclass(frozen=True)
class QuestionReport:
    """One question over all papers.

    `same_for_all`: everyone has the same problem, so that nothing can be told apart. `shapes` and `marks` are how many
    papers have each; `steps` the least and most. `nearest` are the closest two learners for each value asked for,
    `neighbours` the closest of those who stand within `NEAR` of each other in the class. `apart` is how many pairs of
    neighbours differ in every value (of answers in words: in one of them), of `pairs`. Of those within `REACH` of each
    other, `alike` counts pairs without any difference that shows, and `closest` is the pair that differs least in the
    value in which it differs most: the one that is most easily copied whole.
    """

    number: int
    asks: str
    papers: int
    problems: int
    same_for_all: bool
    shapes: tuple[int, ...]
    marks: tuple[tuple[int, int], ...]
    steps: tuple[int, int]
    nearest: tuple[Gap, ...]
    neighbours: tuple[Gap, ...]
    closest: Gap | None
    pairs: int
    apart: int
    alike: int

    @property
    def equal(self) -> bool:
        """Whether all variants have one shape and the same marks."""
        return len(self.shapes) == 1 and len(self.marks) == 1


@dataclass(frozen=True)
class EqualReport:
    """All questions of a set; `tolerance` is the share that it is marked by."""

    title: str
    papers: int
    tolerance: float
    questions: tuple[QuestionReport, ...]

    @property
    def equal(self) -> bool:
        """Whether every question is equally difficult for everyone."""
        return all(item.equal for item in self.questions)

    @property
    def copying_shows(self) -> bool:
        """Whether nobody could copy a question whole from one within reach without a difference that shows."""
        return all(item.same_for_all or not item.alike for item in self.questions)


def facts_of(paper: Paper) -> PaperFacts:
    """The facts of a paper."""
    return PaperFacts(paper.learner.id, tuple(_facts(item) for item in paper.asked))


def _facts(item: Asked) -> QuestionFacts:
    problem = item.problem
    across = bool(item.lines) or item.sheet is None or item.named is None
    # The state a circuit is in stands on its sheet; across circuits the steps vary with the circuit that is drawn.
    state = "" if item.sheet is None else item.sheet.region
    shape = loose_shape(problem, item.scheme) if across else shape_of(problem, item.solution, item.scheme, state)
    keys = tuple(point.key for point in problem.waypoints if point.kind is WaypointKind.VALUE and point.answer)
    return QuestionFacts(
        item.name, shape_digest(shape), item.scheme.total, len(item.solution.steps), state, keys, values_of(problem),
        words_of(problem),
    )  # fmt: skip


def equal_report(of: ClassSet, facts: Iterable[PaperFacts]) -> EqualReport:
    """The report on all papers, whose facts come in the order of the class."""
    # Facts that other processes sent have their words apart; most are the same for everyone.
    same: dict[object, object] = {}
    rows = [_sharing(row, same) for row in facts]
    learners = [row.learner for row in rows]
    questions = tuple(
        _question(of, place + 1, learners, [row.questions[place] for row in rows])
        for place in range(len(of.questions) if rows else 0)
    )
    return EqualReport(of.title, len(rows), of.rules.tolerance, questions)


def _sharing(row: PaperFacts, same: dict[object, object]) -> PaperFacts:
    """The facts with what is equal to earlier ones being those."""

    def kept(value: Kept) -> Kept:
        return cast(Kept, same.setdefault(value, value))

    return PaperFacts(
        row.learner,
        tuple(
            replace(item, shape=kept(item.shape), state=kept(item.state), keys=kept(item.keys), words=kept(item.words))
            for item in row.questions
        ),
    )


def _question(of: ClassSet, number: int, learners: Sequence[str], facts: Sequence[QuestionFacts]) -> QuestionReport:
    asks = of.questions[number - 1].asks
    told = f"{asks.family}:{asks.level}" if isinstance(asks, DrawnQuestion) else f"own question on {asks.circuit}"
    same = asks.number > 0 if isinstance(asks, DrawnQuestion) else True
    keys = facts[0].keys
    # Of another number of values nothing can be laid side by side; the shapes then say that the variants differ.
    valued = not same and all(len(item.keys) == len(keys) for item in facts)
    values = np.array([item.values for item in facts]) if valued else np.zeros((len(facts), 0))
    # Across circuits a value may be another quantity on each paper: then no nearest pair of it can be told.
    columns = keys if valued and len(facts) > 1 and all(item.keys == keys for item in facts) else ()
    beside = _Beside.of(learners, facts, values, of.rules.tolerance)
    steps = [item.steps for item in facts]
    return QuestionReport(
        number=number,
        asks=told,
        papers=len(facts),
        problems=len({item.name for item in facts}),
        same_for_all=same,
        shapes=tuple(sorted(Counter(item.shape for item in facts).values(), reverse=True)),
        marks=tuple(sorted(Counter(item.marks for item in facts).items())),
        steps=(min(steps), max(steps)),
        nearest=tuple(beside.nearest(key, at) for at, key in enumerate(columns)),
        neighbours=tuple(beside.nearest_within(NEAR, key, at) for at, key in enumerate(columns)),
        closest=beside.closest(columns),
        pairs=0 if same else beside.pairs(NEAR),
        apart=0 if same else beside.apart(),
        alike=0 if same else beside.alike(),
    )


@dataclass(frozen=True)
class _Beside:
    """The answers of a class laid side by side: `gaps[lag - 1]` between each learner and the one `lag` places before,
    in tolerances, by value; and whether their words, their problems are the same."""

    learners: Sequence[str]
    values: NDArray[np.float64]
    tolerance: float
    gaps: tuple[NDArray[np.float64], ...]
    same_words: tuple[NDArray[np.bool_], ...]
    same_names: tuple[NDArray[np.bool_], ...]

    @staticmethod
    def of(
        learners: Sequence[str], facts: Sequence[QuestionFacts], values: NDArray[np.float64], tolerance: float
    ) -> _Beside:
        """All lags up to `REACH`."""
        lags = range(1, min(REACH, len(facts) - 1) + 1)
        words, names = np.array([repr(item.words) for item in facts]), np.array([item.name for item in facts])
        keys = np.array([item.keys for item in facts], dtype=np.str_) if values.shape[1] else values
        gaps = (
            np.where(keys[lag:] == keys[:-lag], gaps_between(values[lag:], values[:-lag]), 1.0) / tolerance
            for lag in lags
        )  # other quantities differ by all there is
        return _Beside(
            learners, values, tolerance, tuple(gaps),
            tuple(words[lag:] == words[:-lag] for lag in lags), tuple(names[lag:] == names[:-lag] for lag in lags),
        )  # fmt: skip

    def pairs(self, most: int) -> int:
        """How many pairs stand within `most` places of each other."""
        return sum(len(item) for item in self.gaps[:most])

    def apart(self) -> int:
        """How many pairs of neighbours differ in every value, or where words alone are asked for in one of them."""
        return sum(
            int((gaps > APART).all(axis=1).sum() if gaps.shape[1] else (~words).sum())
            for gaps, words in zip(self.gaps[:NEAR], self.same_words, strict=False)
        )

    def alike(self) -> int:
        """How many pairs within reach have no difference that shows, or where words alone are asked for one problem."""
        return sum(
            int(((gaps <= APART).all(axis=1) & words).sum() if gaps.shape[1] else names.sum())
            for gaps, words, names in zip(self.gaps, self.same_words, self.same_names, strict=True)
        )

    def nearest(self, key: str, at: int) -> Gap:
        """The closest two of all learners at one value: in the order of their values they stand beside each other."""
        order = np.argsort(self.values[:, at], kind="stable")
        ordered = self.values[order, at]
        gaps = gaps_between(ordered[1:], ordered[:-1])
        row = int(gaps.argmin())
        first, second = sorted((int(order[row]), int(order[row + 1])))
        return self._gap(key, first, second, float(gaps[row]) / self.tolerance)

    def nearest_within(self, most: int, key: str, at: int) -> Gap:
        """The closest two at one value of those who stand within `most` places of each other."""
        lag, row = min(
            ((lag, int(gaps[:, at].argmin())) for lag, gaps in enumerate(self.gaps[:most], 1)),
            key=lambda place: float(self.gaps[place[0] - 1][place[1], at]),
        )
        return self._gap(key, row, row + lag, float(self.gaps[lag - 1][row, at]))

    def closest(self, keys: Sequence[str]) -> Gap | None:
        """Of the pairs within reach that which differs least in the value in which it differs most."""
        if not keys:
            return None
        lag, row = min(
            ((lag, int(gaps.max(axis=1).argmin())) for lag, gaps in enumerate(self.gaps, 1)),
            key=lambda place: float(self.gaps[place[0] - 1][place[1]].max()),
        )
        at = int(self.gaps[lag - 1][row].argmax())
        return self._gap(keys[at], row, row + lag, float(self.gaps[lag - 1][row, at]))

    def _gap(self, key: str, first: int, second: int, tolerances: float) -> Gap:
        return Gap(key, self.learners[first], self.learners[second], tolerances * self.tolerance, tolerances)


def gaps_between(values: NDArray[np.float64], others: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far values lie from others, as a share of the larger, elementwise; 0 where both are 0."""
    larger = np.maximum(np.abs(values), np.abs(others))
    return np.asarray(np.abs(values - others) / np.where(larger > 0, larger, 1.0), dtype=np.float64)
