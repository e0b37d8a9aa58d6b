"""Which lines of a working speak of which waypoint, and what each is worth there.

Vocabulary: an *attempt* is a line that gives a waypoint a value, or a relation for it that is not true; its *worth* is
what it shows. A *relation* is a line of symbols that is right. An *aside* is a wrong line that speaks of no waypoint.
Place in the data flow: findings + Scheme -> Sorted -> `marks.py`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import Scheme, SchemePoint
from tutor.working.amount import NUMBER_BAND
from tutor.working.bands import RESULT_BAND
from tutor.working.finding import Code, Finding

# Slips that spoil the value of a right relation and cost accuracy alone; the trade's rule of one slip, one mark.
CARELESS = frozenset({"arithmetic", "copied", "power-of-ten", "rounding", "unit"})
RIGHT_CODES = frozenset({Code.HOLDS, Code.HOLDS_HERE})
QUIET = frozenset({Code.NOTE, Code.UNREAD, Code.DEFINES})
SAME = 1e-6  # of a value: two nearer than this are one


class Worth(Enum):
    """What a line shows of a waypoint."""

    RIGHT = "right"
    FOLLOWS = "follows"  # right with the learner's own earlier values
    UNIT = "unit"  # the unit of the result is another quantity's; the rest stands
    CARELESS = "careless"  # the relation is right and the value is not
    WRONG = "wrong"
    ELSEWHERE = "elsewhere"  # true, but not what is asked for


@dataclass(frozen=True)
class Attempt:
    """A line at one waypoint; `origin` is the line whose slip it goes on with or repeats, itself when it is its own."""

    line: Finding
    worth: Worth
    origin: Finding


@dataclass(frozen=True)
class Tried:
    """The lines that speak of one waypoint, in order."""

    relations: tuple[Finding, ...] = ()
    attempts: tuple[Attempt, ...] = ()

    @property
    def values(self) -> tuple[Attempt, ...]:
        """The attempts that give a value for what is asked."""
        return tuple(
            item
            for item in self.attempts
            if (item.line.reached is not None or item.worth is Worth.UNIT) and item.worth is not Worth.ELSEWHERE
        )


@dataclass(frozen=True)
class Sorted:
    """Every line at its waypoint; wrong lines that speak of none; the learner's choices (SI), by key."""

    tried: Mapping[str, Tried]
    asides: tuple[Finding, ...]
    choices: Mapping[str, float]

    def at(self, key: str) -> Tried:
        """The lines at one waypoint."""
        return self.tried.get(key, Tried())


def sort_lines(findings: Sequence[Finding], scheme: Scheme) -> Sorted:
    """Every finding at the waypoint it speaks of."""
    sorting = _Sorting(scheme)
    for line in findings:
        if line.code not in QUIET:
            sorting.place(line)
    tried = dict(sorting.tried)
    for line in findings:
        if line.code in RIGHT_CODES | {Code.FOLLOWS} and line.reached is None:
            for key in _served(line, scheme, tried):
                tried[key] = replace(tried.get(key, Tried()), relations=(*tried.get(key, Tried()).relations, line))
    return Sorted(tried, tuple(sorting.asides), sorting.choices)


def _served(line: Finding, scheme: Scheme, tried: Mapping[str, Tried]) -> list[str]:
    """The waypoints that a right relation serves: its own, else those of its quantity that the learner takes up.

    A relation without a corner (R = (V_I − V_Z)/(I_L + I_Z)) is the method of both bounds, but not until each is tried.
    """
    if line.assumed or (line.shown is not None and not line.shown.worked):
        return []
    points = list(named_by(line, scheme))
    if any(point.key == line.key for point in points):
        return [line.key]
    taken_up = [point.key for point in points if tried.get(point.key, Tried()).attempts]
    return taken_up or [point.key for point in points[:1] if line.key]


def named_by(line: Finding, scheme: Scheme) -> Iterable[SchemePoint]:
    """The values asked for that a line may speak of: its head's or, where no symbol stands at its head, any in it."""
    names = {line.key} if line.key else set(line.shown.names if line.shown else ())
    for point in scheme.points:
        if point.kind is WaypointKind.VALUE and names & {point.key, *own_names(point)}:
            yield point


def own_names(point: SchemePoint) -> tuple[str, ...]:
    """The symbols that may head the relation of a value: those of the mark that its accuracy mark needs."""
    return point.marks[-2].names


class _Sorting:
    """The lines sorted so far; kept while one working is gone through."""

    def __init__(self, scheme: Scheme) -> None:
        self.scheme = scheme
        self.tried: dict[str, Tried] = {}
        self.asides: list[Finding] = []
        self.choices: dict[str, float] = {}
        self._copied: dict[str, Finding] = {}

    def place(self, line: Finding) -> None:
        """Put one line where it belongs."""
        choice = _choice_made(line, self.scheme)
        if choice is not None:
            if line.reached is not None:
                self.choices[choice.key] = line.reached
            self._add(choice, Attempt(line, _worth(line, choice), line))
            return
        wrong = line.code not in RIGHT_CODES | {Code.FOLLOWS}
        if not wrong and line.reached is None:
            return  # a right relation: given out when all attempts are known
        again = self._repeated(line)
        point = self._point_of(line)
        if point is None:
            if wrong and again is None:
                self.asides.append(line)
            return
        if again is not None:
            self._add(point, Attempt(line, Worth.FOLLOWS, again))
        elif line.code in RIGHT_CODES and not self._reached(line, point):
            self._add(point, self._continued(line, point))
        else:
            self._add(point, Attempt(line, _worth(line, point), line))

    def _add(self, point: SchemePoint, attempt: Attempt) -> None:
        before = self.tried.get(point.key, Tried())
        self.tried[point.key] = replace(before, attempts=(*before.attempts, attempt))

    def _repeated(self, line: Finding) -> Finding | None:
        """The earlier line with the same datum copied wrongly: one slip, however often it is used."""
        if "copied" not in line.slip:
            return None
        first = self._copied.setdefault(line.why, line)
        return None if first is line else first

    def _continued(self, line: Finding, point: SchemePoint) -> Attempt:
        """A line that goes on with the one before is only as good as that one; any other is true of something else."""
        before = self.tried.get(point.key, Tried()).attempts
        if line.text.lstrip().startswith(("=", "≈")) and before and before[-1].line.number == line.number - 1:
            return Attempt(line, before[-1].worth, before[-1].origin)
        return Attempt(line, Worth.ELSEWHERE, line)

    def _answered(self, point: SchemePoint) -> bool:
        return any(item.worth in (Worth.RIGHT, Worth.FOLLOWS) for item in self.tried.get(point.key, Tried()).attempts)

    def _point_of(self, line: Finding) -> SchemePoint | None:
        points = list(named_by(line, self.scheme)) if line.key else []
        exact = [point for point in points if point.key == line.key]
        if exact or not points:
            return exact[0] if exact else None
        if line.code in RIGHT_CODES:
            return next((point for point in points if self._reached(line, point)), points[0])
        known = [point for point in points if set(line.slip) & {slip for slip, _ in point.slips}]
        still = [point for point in points if not self._answered(point)]
        # A wrong value of a quantity whose answers all stand speaks of some other corner, unless it is a known slip.
        return next(iter((*known, *still)), points[-1] if line.code is Code.FOLLOWS else None)

    def _reached(self, line: Finding, point: SchemePoint) -> bool:
        """Whether a true value is that of the waypoint, beside the learner's own choices."""
        if line.answers is not None:
            return point.key in line.answers
        if any(self._own_choice(key) for key in point.rests_on):
            return True  # only the checker knows the answer beside another choice than the model's
        return reaches(line, point)

    def _own_choice(self, key: str) -> bool:
        model = next((point.answer for point in self.scheme.points if point.key == key), None)
        own = self.choices.get(key, model)
        return own is not None and model is not None and not math.isclose(own, model, rel_tol=SAME)


def _choice_made(line: Finding, scheme: Scheme) -> SchemePoint | None:
    """The choice that a line makes: said so, or a bare value of the part to be chosen that would do or follows."""
    choices = (point for point in scheme.points if point.kind is WaypointKind.CHOICE and point.key == line.key)
    choice = next(choices, None)
    if choice is None or line.chosen or line.code in (Code.CHOICE_OK, Code.CHOICE_BAD):
        return choice
    if line.reached is None or (line.shown is not None and line.shown.worked):
        return None
    taken = line.code is Code.FOLLOWS or (line.code in RIGHT_CODES and is_accepted(line.reached, choice))
    return choice if taken else None


def is_accepted(value: float, point: SchemePoint) -> bool:
    """Whether a value is one of those that meet the specification beside the model's other choices."""
    return any(math.isclose(value, item, rel_tol=SAME) for item in point.accepted)


def reaches(line: Finding, point: SchemePoint, within: float = RESULT_BAND) -> bool:
    """Whether a value is the answer of the model solution, within a share of it, and no known slip lies nearer."""
    if line.reached is None or point.answer is None:
        return False
    miss = abs(line.reached - point.answer)
    return miss <= within * abs(point.answer) and all(abs(line.reached - slip) >= miss for _, slip in point.slips)


def _worth(line: Finding, point: SchemePoint) -> Worth:
    if line.code in RIGHT_CODES or line.code is Code.CHOICE_OK:
        return Worth.RIGHT
    if line.code is Code.FOLLOWS:
        return Worth.FOLLOWS
    if line.code is Code.UNITS:
        shown = line.shown
        return Worth.UNIT if shown is not None and shown.evaluated and line.columns == shown.columns else Worth.WRONG
    # A right number under a failed line cannot come from a right relation: the relation fails, not the arithmetic.
    return Worth.CARELESS if is_careless(line, point) and not reaches(line, point, NUMBER_BAND) else Worth.WRONG


def is_careless(line: Finding, point: SchemePoint) -> bool:
    """Whether a failed line's slip leaves its relation right; a relation of another convention counts as one."""
    kinds = CARELESS | set(point.careless)
    return line.code is Code.FAILS and bool(line.slip) and all(slip in kinds or "=" in slip for slip in line.slip)
