"""A problem of a circuit's family that a question across circuits is about: drawn, worked, and with its sheet.

Vocabulary: a *place* is a family at a level, `zener-resistor:2`; the *base problem* is the one drawn there.
Place in the data flow: places + draws -> BaseProblem -> wrong lines, estimates, claims.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from tutor.across.family import Setting
from tutor.across.stream import Stream
from tutor.generate.draws import Drawn
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problem import Problem, Waypoint
from tutor.solution.desk import Desk, our_desk
from tutor.solution.sheet import Sheet
from tutor.solution.sheets import sheet_of
from tutor.solution.solution import Solution

NUMBERS = range(1, 201)  # of each place that a base problem may have


@dataclass(frozen=True)
class BaseProblem:
    """A problem of a circuit's family, worked, with the level it was drawn at."""

    ready: ReadyLevel
    problem: Problem
    solution: Solution
    drawn: Drawn


def base_problem(desk: Desk, place: str, number: int) -> BaseProblem:
    """The problem of that place and number."""
    ready = _ready(place) if desk is our_desk() else _ready_at(desk, place)
    worked = desk.batch(ready, [number])[0]
    return BaseProblem(ready, worked.problem, worked.solution, worked.drawn)


def drawn_base(setting: Setting, stream: Stream, places: Sequence[str]) -> BaseProblem:
    """The base problem that these draws pick."""
    return base_problem(setting.desk, stream.pick("place", places), stream.pick("base", NUMBERS))


def base_sheet(setting: Setting, base: BaseProblem) -> Sheet:
    """The base problem's sheet under the name of the problem that is about it."""
    recipes = setting.desk.recipes(base.ready)
    return replace(sheet_of(base.ready, base.drawn, base.problem, recipes), problem=str(setting.name))


def problem_about(
    setting: Setting, base: BaseProblem, *, told: str, ask: str, waypoints: tuple[Waypoint, ...]
) -> Problem:
    """The problem that is about the base problem: its circuit, table, givens and cautions, and questions of its own."""
    about = base.problem
    problem = setting.problem(
        circuit=about.circuit, form=about.form, told=told, ask=ask, table=about.table, given=about.given,
        waypoints=waypoints, assumed=about.assumed,
    )  # fmt: skip
    return replace(problem, cautions=about.cautions)


def _ready_at(desk: Desk, place: str) -> ReadyLevel:
    family, _, level = place.partition(":")
    return desk.level(family, int(level))


@cache  # a draw may take hundreds of attempts, and a desk looks at every file of its folder each time it is asked
def _ready(place: str) -> ReadyLevel:
    return _ready_at(our_desk(), place)
