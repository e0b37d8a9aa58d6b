"""What a question asks, part by part: (a), (b), ..., with marks, room for working, and letters for long options.

Place in the data flow: Asked -> `parts_of` -> Parts -> papers, keys, answer tables, which so agree on letters
and marks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_lowercase

from tutor.generate.problem import SEPARATOR, Waypoint, WaypointKind
from tutor.quantities.quantity import write
from tutor.sets.paper import Asked
from tutor.solution.scheme import SchemePoint
from tutor.solution.solution import WorkedStep

SHORT = 14  # characters: options up to here stand in one row, by themselves
_FEWEST_LINES, _MOST_LINES = 2, 14
_LISTED = 6  # accepted values of a choice up to here are listed, more are told by their ends


@dataclass(frozen=True)
class QuestionPart:
    """One thing to find. `letter` is '' where a question asks one thing alone; `marks` as printed, 0 for less than one.

    `lines` is how many ruled lines its working gets; `option_letters` are '' where options are short.
    """

    letter: str
    point: Waypoint
    scheme: SchemePoint
    marks: int
    lines: int
    option_letters: tuple[str, ...]


def parts_of(asked: Asked) -> tuple[QuestionPart, ...]:
    """The parts of a question in reading order."""
    points = asked.problem.waypoints
    marks = shared_marks([len(point.marks) for point in asked.scheme.points], asked.marks)
    steps = _steps_to(asked.solution.steps, [point.key for point in points])
    return tuple(
        QuestionPart(
            part_letter(place) if len(points) > 1 else "", point, scheme, marks[place],
            _lines_for(point, steps[place]), _letters(point.options),
        )
        for place, (point, scheme) in enumerate(zip(points, asked.scheme.points, strict=True))
    )  # fmt: skip


def part_letter(place: int) -> str:
    """a, b, ..., z, aa, ab, ... for a place counted from 0."""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = ascii_lowercase[rest] + letters
    return letters


def shared_marks(shares: Sequence[int], total: int) -> tuple[int, ...]:
    """`total` marks shared out in whole ones, in proportion to `shares` by the largest remainders.

    >>> shared_marks([3, 2, 1], 6), shared_marks([2, 2, 1], 3)
    ((3, 2, 1), (1, 1, 1))
    """
    whole = sum(shares)
    if not whole:
        return tuple(0 for _ in shares)
    floors = [share * total // whole for share in shares]
    left = total - sum(floors)
    order = sorted(range(len(shares)), key=lambda place: (-(shares[place] * total % whole), place))
    for place in order[:left]:
        floors[place] += 1
    return tuple(floors)


def _steps_to(steps: Sequence[WorkedStep], keys: Sequence[str]) -> list[int]:
    """How many lines a worked solution has on the way to each waypoint."""
    counts = dict.fromkeys(keys, 0)
    waiting = 0
    for step in steps:
        waiting += max(1, len(step.chains))
        if step.waypoint in counts:
            counts[step.waypoint] += waiting
            waiting = 0
    return [counts[key] for key in keys]


def _lines_for(point: Waypoint, steps: int) -> int:
    if point.kind is WaypointKind.ARRANGEMENT:
        return 0
    each = 1 if point.kind is WaypointKind.STATE else 2
    return min(_MOST_LINES, max(_FEWEST_LINES, 1 + each * steps))


def _letters(options: Sequence[str]) -> tuple[str, ...]:
    if all(len(option) <= SHORT for option in options):
        return tuple("" for _ in options)
    return tuple(part_letter(place).upper() for place in range(len(options)))


def answer_told(part: QuestionPart) -> str:
    """The right answer in a table's cell, as prose: a value, the letter of an option, a row of letters."""
    point = part.point
    if point.answer is not None:
        return point.answer.text
    lettered = {option: letter or option for option, letter in zip(point.options, part.option_letters, strict=True)}
    if point.kind is WaypointKind.ARRANGEMENT:
        told = [lettered.get(option, option) for option in point.state.split(SEPARATOR)]
        return " ".join(told) if all(len(item) == 1 for item in told) else ", ".join(told)
    return lettered.get(point.state, point.state)


def accepted_told(part: QuestionPart, tolerance: float) -> str:
    """What else counts as right: the band of a value within the set's tolerance, the values that meet a choice."""
    point = part.point
    if point.kind is WaypointKind.CHOICE and point.answer is not None:
        others = sorted(point.accepted)
        if len(others) > _LISTED:
            return f"{write(others[0], point.answer.unit)} to {write(others[-1], point.answer.unit)}"
        return ", ".join(write(value, point.answer.unit) for value in others)
    if point.kind is WaypointKind.VALUE and point.answer is not None and point.answer.value:
        low, high = sorted(point.answer.value * factor for factor in (1 - tolerance, 1 + tolerance))
        return f"{write(low, point.answer.unit)} to {write(high, point.answer.unit)}"
    return f"any of {len(point.arrangements)} orders" if len(point.arrangements) > 1 else ""
