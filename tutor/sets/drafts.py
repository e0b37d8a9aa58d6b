"""Which numbers each learner has: drawn from the seed, equal in difficulty, and apart so that a copied answer shows.

Vocabulary: two variants of a question are *apart* when every value asked for differs by more than `APART` tolerances of
the larger; they are *alike* when none does and the answers in words are the same.
The rule, of constant cost for a learner whatever the size of the class. Candidates of a learner come in the order of a
counter that depends on seed, level and id alone. The first is taken that is
- not alike any of the `REACH` variants before it,
- apart from the `NEAR` before it, who stand next in the list, and
- for the first `REACH` learners, apart from all before: a small class is apart throughout, as far as there are numbers.
Answers in words alone are few: near ones must differ in a word, and only the first `REACH` problems as wholes.
Where a level has too few such numbers, the best of those looked at is taken: fewest alike, then fewest too near. So a
learner added at the end of a list changes nobody's numbers. `equal.py` reports what came of it.
Place in the data flow: ClassSet -> Drafts, in the order of the class -> `papers.py`. Nothing is kept of a learner once
`REACH` others have followed, so that memory does not grow with the class.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from tutor.errors import OutOfRange
from tutor.generate.name import ProblemName
from tutor.sets.candidates import Candidate, Source, named_in, source_of
from tutor.sets.numbers_used import avoidable
from tutor.sets.paper import ClassSet, DrawnQuestion, Learner, Question

APART = 3.0  # tolerances
REACH = 32  # variants before a learner's that theirs must not be alike
NEAR = 4
_BLOCK = 64  # learners whose first candidates are drawn together
_LAST_TRY = 480  # where none of the usual tries may be used at all (few regions, many avoided)

Score = tuple[int, int, int]


@dataclass(frozen=True)
class Draft:
    """Which problem each question of a learner's paper is; None for a past question, which all are asked."""

    learner: Learner
    names: tuple[ProblemName | None, ...]


def for_everyone(of: ClassSet) -> ClassSet:
    """The set without its learners and the names it avoids: what papers are made with, small enough to be sent along
    with each of them."""
    return replace(of, learners=(), avoid=frozenset())


def drafts(of: ClassSet) -> Iterator[Draft]:
    """The draft of every learner, in order. OutOfRange when a level has no number left that a learner may have."""
    levels: dict[tuple[object, ...], list[int]] = {}
    for place, question in enumerate(of.questions):
        if isinstance(question.asks, DrawnQuestion) and not question.asks.number:
            asks = question.asks
            levels.setdefault((asks.family, asks.level, tuple(sorted(asks.assumed.items()))), []).append(place)
    columns = [(places, _column(of, [of.questions[place] for place in places])) for places in levels.values()]
    fixed = [_fixed(of, question) for question in of.questions]
    for learner in of.learners:
        names = list(fixed)
        for places, column in columns:
            for place in places:
                names[place] = next(column)
        yield Draft(learner, tuple(names))


def _fixed(of: ClassSet, question: Question) -> ProblemName | None:
    """The one problem that everyone is asked; with its edition it is taken as it is named."""
    name = question.problem
    if name is None or name.edition or not isinstance(question.asks, DrawnQuestion):
        return name
    return named_in(of, question.asks, name.number)


def _column(of: ClassSet, questions: Sequence[Question]) -> Iterator[ProblemName]:
    """The problems of all the questions of one level: those of the first learner, then those of the next, ..."""
    asks = questions[0].asks
    assert isinstance(asks, DrawnQuestion)
    besides = [
        avoidable(other.problem) for other in of.questions if other.problem is not None
    ]
    source = source_of(of, asks, besides)
    count = len(questions)
    limit = APART * of.rules.tolerance
    before: deque[Candidate] = deque(maxlen=REACH * count)
    turns = ((learner, occasion) for learner in of.learners for occasion in range(count))
    place = 0
    while block := list(islice(turns, _BLOCK * count)):
        tried = _first_tries(source, block)
        for (learner, occasion), first in zip(block, tried, strict=True):
            # The other questions of this level on the same paper count as near.
            near = NEAR * count + occasion
            taken = _taken(source, learner, occasion, first, before, limit, near, place // count < REACH)
            if taken is None:
                raise OutOfRange(
                    f"{asks.family}, level {asks.level}: no number is left for the learner '{learner.id}'; "
                    "avoid fewer, or ask another level"
                )
            before.append(taken)
            yield named_in(of, asks, taken.number)
            place += 1


def _first_tries(source: Source, block: Sequence[tuple[Learner, int]]) -> list[list[Candidate | None]]:
    """The first candidates of many turns, drawn together."""
    tries = range(source.first_tries)
    numbers = [number for learner, occasion in block for number in source.numbers(learner.id, occasion, tries)]
    found = source.candidates(numbers)
    return [found[start : start + len(tries)] for start in range(0, len(found), len(tries))]


def _taken(
    source: Source,
    learner: Learner,
    occasion: int,
    first: Sequence[Candidate | None],
    before: Sequence[Candidate],
    limit: float,
    near: int,
    early: bool,
) -> Candidate | None:
    """The first candidate that meets the whole rule, or the best of those looked at; None where none may be used."""
    past = _Past(before)
    scored: list[tuple[Score, int, Candidate]] = []
    tries = 0
    batch = list(first)
    while True:
        for candidate in batch:
            if candidate is not None:
                score = past.score(candidate, limit, near, early)
                if score == (0, 0, 0) and source.stands(candidate):
                    return candidate
                scored.append((score, tries, candidate))
            tries += 1
        if (tries >= source.most_tries and scored) or tries >= _LAST_TRY:
            break
        more = range(tries, min(tries + 2 * source.first_tries, max(source.most_tries, tries + source.first_tries)))
        batch = source.candidates(source.numbers(learner.id, occasion, more))
    ordered = (candidate for _, _, candidate in sorted(scored, key=lambda item: item[:2]))
    return next((candidate for candidate in ordered if source.stands(candidate)), None)


class _Past:
    """The variants before a learner's, side by side; the last of them is the nearest in the list."""

    def __init__(self, before: Sequence[Candidate]) -> None:
        self.before = list(before)
        self.values: NDArray[np.float64] = np.array([item.values for item in self.before], dtype=np.float64)
        self.faces = np.array([item.face for item in self.before])

    def score(self, candidate: Candidate, limit: float, near: int, early: bool) -> Score:
        """How many variants within reach it is alike, how many near ones it is not apart from, and how many of all (for
        an early learner)."""
        if not self.before:
            return 0, 0, 0
        same_words = np.array([item.words == candidate.words for item in self.before])
        same_face = self.faces == candidate.face
        if not candidate.values:
            return int(same_face.sum() if early else same_face[-near:].sum()), int(same_words[-near:].sum()), 0
        close = too_near(self.values, np.array(candidate.values), limit)
        alike = (close.all(axis=1) & same_words) | same_face
        not_apart = close.any(axis=1) | alike
        return int(alike.sum()), int(not_apart[-near:].sum()), int(not_apart.sum()) if early else 0


def too_near(values: NDArray[np.float64], others: NDArray[np.float64], limit: float) -> NDArray[np.bool_]:
    """Whether values lie within `limit` (a share of the larger) of others, elementwise."""
    gap = np.abs(values - others)
    return np.asarray(gap <= limit * np.maximum(np.abs(values), np.abs(others)), dtype=np.bool_)
