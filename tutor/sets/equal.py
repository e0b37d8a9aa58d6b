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
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tutor.generate.problem import WaypointKind
from tutor.sets.drafts import APART, NEAR
from tutor.sets.paper import Asked, ClassSet, Drawn, Paper
from tutor.sets.shape import loose_shape, shape_digest, shape_of, values_of, words_of

_SAME = 1e-9


@dataclass(frozen=True)
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


@dataclass(frozen=True)
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
    neighbours differ in every value (of answers in words: in one of them), of `pairs`; `alike` counts neighbours with
    no difference that shows.
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
        """Whether no two neighbours could copy a question whole without a difference that shows."""
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
    rows = list(facts)
    learners = [row.learner for row in rows]
    questions = tuple(
        _question(of, place + 1, learners, [row.questions[place] for row in rows])
        for place in range(len(of.questions) if rows else 0)
    )
    return EqualReport(of.title, len(rows), of.rules.tolerance, questions)


def _question(of: ClassSet, number: int, learners: Sequence[str], facts: Sequence[QuestionFacts]) -> QuestionReport:
    asks = of.questions[number - 1].asks
    told = f"{asks.family}:{asks.level}" if isinstance(asks, Drawn) else f"own question on {asks.circuit}"
    problems = len({item.name for item in facts})
    same = (isinstance(asks, Drawn) and asks.number > 0) or not isinstance(asks, Drawn)
    tolerance = of.rules.tolerance
    keys = facts[0].keys
    alike_keyed = all(item.keys == keys for item in facts)
    values = np.array([item.values for item in facts]) if alike_keyed else np.zeros((len(facts), 0))
    nearest = () if same else tuple(
        _nearest(key, learners, values[:, at], tolerance) for at, key in enumerate(keys[: values.shape[1]])
    )  # fmt: skip
    pairs = apart = alike = 0
    closest: dict[str, Gap] = {}
    for lag in range(1, 1 if same else min(NEAR, len(facts) - 1) + 1):
        gaps = gaps_between(values[lag:], values[:-lag]) / tolerance
        words = np.array([one.words == two.words for one, two in zip(facts[lag:], facts[:-lag], strict=True)])
        shown = gaps > APART
        differs = shown.all(axis=1) if gaps.shape[1] else ~words
        pairs += len(words)
        apart += int(differs.sum())
        one_name = np.array([one.name == two.name for one, two in zip(facts[lag:], facts[:-lag], strict=True)])
        # Equal words alone do not make two problems alike: what was to be found out may still differ.
        alike += int((~shown.any(axis=1) & words).sum()) if gaps.shape[1] else int(one_name.sum())
        for at in range(gaps.shape[1]):
            row = int(gaps[:, at].argmin())
            gap = _gap(keys[at], learners[row + lag], learners[row], float(gaps[row, at]) * tolerance, tolerance)
            if keys[at] not in closest or gap.share < closest[keys[at]].share:
                closest[keys[at]] = gap
    counted = Counter(item.shape for item in facts)
    marks = Counter(item.marks for item in facts)
    steps = [item.steps for item in facts]
    return QuestionReport(
        number, told, len(facts), problems, same, tuple(sorted(counted.values(), reverse=True)),
        tuple(sorted(marks.items())), (min(steps), max(steps)), nearest if len(facts) > 1 else (),
        tuple(closest.values()), pairs, apart, alike,
    )  # fmt: skip


def gaps_between(values: NDArray[np.float64], others: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far values lie from others, as a share of the larger, elementwise; 0 where both are 0."""
    larger = np.maximum(np.abs(values), np.abs(others))
    return np.asarray(np.abs(values - others) / np.where(larger > 0, larger, 1.0), dtype=np.float64)


def _nearest(key: str, learners: Sequence[str], values: NDArray[np.float64], tolerance: float) -> Gap:
    """The closest two of all learners: in the order of their values they stand beside each other."""
    if len(values) < 2:
        return _gap(key, learners[0], learners[0], 1.0, tolerance)
    order = np.argsort(values, kind="stable")
    gaps = gaps_between(values[order[1:]], values[order[:-1]])
    row = int(gaps.argmin())
    first, second = sorted((int(order[row]), int(order[row + 1])))
    return _gap(key, learners[first], learners[second], float(gaps[row]), tolerance)


def _gap(key: str, first: str, second: str, share: float, tolerance: float) -> Gap:
    return Gap(key, first, second, share, share / tolerance)
