"""The design desks of every level that asks for a choice, made once a process, with problems to judge on them."""

from __future__ import annotations

from functools import cache

from tutor.generate.choices import all_that_fit, ratings_that_fit
from tutor.generate.family import Choose, ChooseRating
from tutor.generate.level_run import ReadyLevel
from tutor.solution.design_bounds import bound_stages
from tutor.solution.design_desk import DesignDesk, design_desk
from tutor.solution.desk import WorkedProblem, our_desk

DESK = our_desk()
DESIGNS = tuple(
    f"{family}:{number}"
    for family in DESK.folder.family_ids()
    for number, level in enumerate(DESK.family(family).levels, start=1)
    if any(isinstance(ask, Choose | ChooseRating) for ask in level.asks)
)
NUMBERS = (1, 2, 3, 4)


@cache
def ready(name: str) -> ReadyLevel:
    family, level = name.split(":")
    return DESK.level(family, int(level))


@cache
def design(name: str) -> DesignDesk:
    return design_desk(ready(name), bound_stages(DESK.folder, ready(name)))


@cache
def problems(name: str) -> tuple[WorkedProblem, ...]:
    return tuple(DESK.batch(ready(name), NUMBERS))


def fitting(name: str, item: WorkedProblem, key: str) -> tuple[float, ...]:
    """Every value of a choice that the engine takes for right, the other choices being the solution's."""
    for ask in ready(name).level.asks:
        if isinstance(ask, Choose) and (ask.key or ask.quantity) == key:
            return all_that_fit(ask, item.drawn.run.env)
        if isinstance(ask, ChooseRating) and ask.key == key:
            return ratings_that_fit(ask, item.drawn.run.env)
    raise AssertionError(f"{name} asks for no choice of {key}")
