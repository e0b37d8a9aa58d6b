"""What makes two variants of a question equally difficult: the shape of a solution.

Vocabulary: a *shape* is the laws of a solution's steps in order, how many lines each takes and which of the things
asked it reaches, the kinds of answer, the marks, and the state the circuit is in. Variants of one shape are worked
alike, number for number. Problems across circuits draw their circuit too; theirs is the kinds of answer and the marks,
and the number of steps where enough problems of the level share it.
Place in the data flow: a worked problem -> its shape -> which draws a set takes, and the report on it.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Sequence

from tutor.generate.draws import Drawn
from tutor.generate.problem import Problem, WaypointKind
from tutor.solution.scheme import Scheme
from tutor.solution.solution import Solution

Shape = tuple[object, ...]


def shape_of(problem: Problem, solution: Solution, scheme: Scheme, region: str) -> Shape:
    """The shape of a problem of a circuit's family; `region` is the state it is in."""
    steps = tuple((step.law, len(step.chains), step.waypoint) for step in solution.steps)
    return (region, steps, _asked(problem, scheme))


def loose_shape(problem: Problem, scheme: Scheme) -> Shape:
    """The shape of a problem across circuits, without its number of steps."""
    return (_asked(problem, scheme),)


def _asked(problem: Problem, scheme: Scheme) -> Shape:
    marks = tuple("".join(mark.kind.value for mark in point.marks) for point in scheme.points)
    return (tuple(point.kind.value for point in problem.waypoints), marks)


def signature_of(drawn: Drawn) -> Shape:
    """What a draw says of its shape before it is worked: its region, and the corners at which each thing is found."""
    ends = tuple(
        () if item is None else tuple(sorted((name, int(end[0])) for name, end in item.ends.items()))
        for item in drawn.run.outcomes
    )
    return (drawn.run.region, ends)


def shape_digest(shape: Shape) -> str:
    """A shape in few letters, to be kept and compared."""
    return hashlib.sha256(repr(shape).encode()).hexdigest()[:12]


def usual(shapes: Iterable[Shape]) -> tuple[Shape, float]:
    """The commonest of some shapes (of equally common ones the first), and its share of them all."""
    counted = Counter(shapes)
    shape, count = max(counted.items(), key=lambda item: item[1])
    return shape, count / counted.total()


def values_of(problem: Problem) -> tuple[float, ...]:
    """The values that a problem asks for (SI), in their order."""
    return tuple(
        point.answer.value
        for point in problem.waypoints
        if point.kind is WaypointKind.VALUE and point.answer is not None
    )


def words_of(problem: Problem) -> tuple[str, ...]:
    """The answers in words that a problem asks for, in their order."""
    worded: Sequence[WaypointKind] = (WaypointKind.STATE, WaypointKind.ARRANGEMENT)
    return tuple(point.state for point in problem.waypoints if point.kind in worded)
