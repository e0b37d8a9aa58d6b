"""Problems of an edition that is no longer drawn, kept by their numbers for the workings written on them.

A raised edition gives every number of a family another problem; whole workings labelled by hand speak of the numbers
that stood there before. What was drawn for those stands in `earlier_editions.json`, by the name with its edition; the
statement, the plan, the slips and the sheet are those of the family as it is now.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from tutor.generate.family import Draw, Pick, PickPart, Work
from tutor.generate.level_run import ReadyLevel
from tutor.generate.name import ProblemName, read_name
from tutor.solution.desk import WorkedProblem, our_desk
from tutor.solution.sheet import Sheet
from tutor.solution.sheets import sheet_of

KEPT: Mapping[str, Mapping[str, float]] = json.loads(
    Path(__file__).with_suffix(".json").read_text(encoding="utf-8")
)


def key_of(name: ProblemName) -> str:
    """What a kept problem stands under: its name without assumptions."""
    return str(replace(name, assumed={}))


def kept_draws(item: Draw, kept: Mapping[str, float]) -> Iterator[Draw]:
    """A draw with what was kept of it for its only value; what is worked out of draws is worked out of these."""
    if isinstance(item, Work):
        yield item
    else:
        names = item.take if isinstance(item, PickPart) else (item.name,)
        yield from (Pick(name, (kept[name],)) for name in names if name in kept)


def kept_level(name: ProblemName) -> ReadyLevel:
    """The level of a kept problem with its numbers alone to draw, and no demand on them."""
    ready = our_desk().level(name.family, name.level, name.assumed)
    draws = tuple(draw for item in ready.level.draws for draw in kept_draws(item, KEPT[key_of(name)]))
    level = replace(ready.level, draws=draws, require=())
    levels = tuple(level if place == name.level else item for place, item in enumerate(ready.family.levels, 1))
    return replace(ready, family=replace(ready.family, levels=levels, edition=name.edition))


@cache
def problem(name: str) -> WorkedProblem:
    """The problem of a name, worked: one that is drawn, or one that is kept."""
    parsed = read_name(name)
    if key_of(parsed) not in KEPT:
        return our_desk().problem(name)
    return our_desk().batch(kept_level(parsed), [parsed.number], parsed.assumed)[0]


@cache
def sheet(name: str) -> Sheet:
    """The sheet of a name's problem: of one that is drawn, or of one that is kept."""
    parsed = read_name(name)
    if key_of(parsed) not in KEPT:
        return our_desk().sheet(name)
    worked = problem(name)
    recipes = our_desk().recipes(our_desk().level(parsed.family, parsed.level, parsed.assumed))
    return sheet_of(kept_level(parsed), worked.drawn, worked.problem, recipes)
