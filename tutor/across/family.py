"""What an author declares of a family that runs across circuits, and what posing one of its problems gives.

Vocabulary: a *question* is a level of such a family: it draws a circuit (or a problem of another family) and asks about
it. Each kind of question is a file of this folder: its declaration, and how a problem of it is posed. A draw that will
not do is *refused* for a reason, and the next attempt is made.
Place in the data flow: problems/across/*.py -> AcrossFamily -> Posed -> views.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from tutor.across.stream import Stream
from tutor.errors import OutOfRange
from tutor.generate.cautions import caution_text
from tutor.generate.name import ProblemName
from tutor.generate.problem import Problem, TableRow, Waypoint
from tutor.quantities.quantity import Quantity
from tutor.solution.desk import Desk
from tutor.solution.sheet import Sheet
from tutor.solution.solution import Chain, Solution

MOST_ATTEMPTS = 400


@dataclass(frozen=True)
class ShownLine:
    """A line laid before the learner: its label (a number, a letter), its words as prose, its chain if it has one."""

    label: str
    words: str
    chain: Chain | None = None


@dataclass(frozen=True)
class Posed:
    """A problem across circuits with its worked solution; `lines` are what it lays before the learner, under `caption`.

    `sheet` is what a working on it is held against; None where it asks for words alone. `withheld` are parts that its
    drawing must not show, since where they go is what is asked. `base` is the name of the problem it is about, if any.
    """

    problem: Problem
    solution: Solution
    lines: tuple[ShownLine, ...] = ()
    caption: str = ""
    sheet: Sheet | None = None
    withheld: tuple[str, ...] = ()
    base: str = ""


@dataclass(frozen=True)
class Refused:
    """Why an attempt makes no problem."""

    reason: str


class Question(Protocol):
    """One level: what it is about in a few words, and how an attempt at a problem of it goes."""

    @property
    def about(self) -> str:
        """The level in a few words, without a full stop."""

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""


@dataclass(frozen=True)
class AcrossFamily:
    """A family across circuits: id is its file's name with `-` for `_`."""

    title: str
    about: str
    lesson: str
    levels: tuple[Question, Question, Question]
    scenarios: tuple[str, ...]
    cautions: tuple[str, ...]
    edition: int = 1
    id: str = ""


@dataclass(frozen=True)
class Setting:
    """What a problem is posed for: its family, level and number, and the desk that circuits and problems come from."""

    family: AcrossFamily
    level: int
    number: int
    desk: Desk

    @property
    def name(self) -> ProblemName:
        """The problem's name."""
        return ProblemName(self.family.id, self.level, self.number)

    @property
    def stream(self) -> Stream:
        """The draws of the first attempt."""
        return Stream(f"{self.family.id}:{self.level}@{self.family.edition}", self.number)

    def problem(
        self,
        *,
        circuit: str,
        form: str,
        told: str,
        ask: str,
        table: tuple[TableRow, ...],
        given: Mapping[str, Quantity],
        waypoints: tuple[Waypoint, ...],
        assumed: Mapping[str, str] | None = None,
    ) -> Problem:
        """The Problem with what is the family's own put in; `told` follows the scenario."""
        scenario = self.stream.pick("scenario", self.family.scenarios)
        return Problem(
            name=str(self.name),
            family=self.family.id,
            level=self.level,
            number=self.number,
            edition=self.family.edition,
            title=self.family.title,
            circuit=circuit,
            form=form,
            statement=f"{scenario} {told}",
            ask=ask,
            table=table,
            given=dict(given),
            wanted=tuple(point.key for point in waypoints),
            waypoints=waypoints,
            cautions=tuple(caution_text(item) for item in self.family.cautions),
            assumed=dict(assumed or {}),
        )


def pose(setting: Setting, refusals: list[str] | None = None) -> Posed:
    """The problem of a setting: the first attempt that makes one. OutOfRange when none of many does.

    `refusals`, where it is given, gains the reasons of the attempts before.
    """
    question = setting.family.levels[setting.level - 1]
    stream = setting.stream
    reasons = [] if refusals is None else refusals
    for _ in range(MOST_ATTEMPTS):
        made = question.attempt(setting, stream)
        if isinstance(made, Posed):
            return made
        reasons.append(made.reason)
        stream = stream.again()
    raise OutOfRange(f"{setting.name}: {MOST_ATTEMPTS} attempts make no problem; the last: {reasons[-1]}")
