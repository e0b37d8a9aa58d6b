"""Problems, sheets and worlds for the tests of sheets and of checking, each made once in a run."""

from __future__ import annotations

import os
from functools import cache

import tutor
from tutor.laws.derive import derive, load_model
from tutor.laws.law import Law
from tutor.quantities.expression import Add, evaluate
from tutor.solution.desk import WorkedProblem, our_desk
from tutor.solution.sheet import Env, Recipe, Sheet
from tutor.solution.sheets import sheet_of
from tutor.working.ground import Around, Ground

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]
# Numbers of each level for the tests that go through whole workings; a slower run sets more.
MOST_NUMBERS = int(os.environ.get("STEADYRAIL_NUMBERS", "5"))
AGREED = 1e-9


@cache
def batch(family: str, level: int, past: int) -> tuple[tuple[WorkedProblem, Sheet], ...]:
    """The problems of a level up to a number, each with its sheet."""
    desk = our_desk()
    ready = desk.level(family, level)
    recipes = desk.recipes(ready)
    found = desk.batch(ready, range(1, past + 1))
    return tuple((item, sheet_of(ready, item.drawn, item.problem, recipes)) for item in found)


@cache
def worked(name: str) -> WorkedProblem:
    """A problem, worked."""
    return our_desk().problem(name)


@cache
def sheet(name: str) -> Sheet:
    """The sheet of a problem."""
    return our_desk().sheet(name)


@cache
def around(name: str) -> Around:
    """What surrounds a problem's own world."""
    return Around(sheet(name), sheet(name).recipe)


def ground(name: str, **choices: float) -> Ground:
    """What a line on a problem is held against, with these choices made."""
    return Ground(around(name), choices)


@cache
def laws_of(
    circuit_id: str,
    region_id: str,
    names: tuple[str, ...],
    readings: tuple[str, ...] = (),
    assumed: tuple[tuple[str, str], ...] = (),
) -> tuple[Law, ...]:
    """The laws of a circuit in a region under conventions, the load being what `names` speak of."""
    circuit = our_desk().circuit(circuit_id)
    region = circuit.region(region_id)
    return derive(circuit, region, load_model(names), conventions=dict(assumed), readings=readings).laws


def broken(laws: tuple[Law, ...], values: Env) -> tuple[list[str], int]:
    """Ids of the laws that some values break, and how many could be looked at."""
    found, looked_at = [], 0
    for law in laws:
        if not set(law.symbols) <= set(values):
            continue
        sides = (law.equation.lhs, law.equation.rhs)
        try:
            terms = [
                evaluate(part, values) for side in sides for part in (side.terms if isinstance(side, Add) else (side,))
            ]
            left, right = (evaluate(side, values) for side in sides)
        except ZeroDivisionError:
            continue
        looked_at += 1
        if abs(left - right) > AGREED * max(1e-12, *(abs(term) for term in terms)):
            found.append(law.id)
    return found, looked_at


def laws_for(sheet: Sheet, recipe: Recipe) -> tuple[Law, ...]:
    """The laws a recipe's worlds are to keep."""
    level = sheet.problem.split(":")
    assumed: tuple[tuple[str, str], ...] = ()
    if len(level) == 3:  # a family, or a level of it, may take conventions that its circuit does not take first
        family = our_desk().family(level[0])
        assumed = tuple({**family.assume, **family.levels[int(level[1]) - 1].assume}.items())
    return laws_of(sheet.circuit, recipe.region, recipe.known, (), assumed)
