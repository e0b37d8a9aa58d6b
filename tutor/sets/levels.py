"""Levels that a set draws from, ready to run: loaded once in a process, and drawn many numbers at a time.

Place in the data flow: family, level and what is assumed -> ReadyLevel with its recipes -> candidates and papers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from tutor.across.named import across_ids
from tutor.errors import OutOfRange
from tutor.generate.draws import Drawn, draw_numbers
from tutor.generate.level_run import ReadyLevel
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import symbol_for
from tutor.solution.desk import our_desk
from tutor.solution.recipe_store import LevelRecipes

Assumed = tuple[tuple[str, str], ...]
_MOST_LEVELS = 64  # kept ready in a process; a set has few


def assumed_key(assumed: Mapping[str, str]) -> Assumed:
    """What is assumed, as a key."""
    return tuple(sorted(assumed.items()))


@lru_cache(_MOST_LEVELS)
def runs_across(family: str) -> bool:
    """Whether a family runs across circuits."""
    return family in across_ids(our_desk().folder)


@lru_cache(_MOST_LEVELS)
def ready_level_of(family: str, level: int, assumed: Assumed) -> ReadyLevel:
    """A level of a circuit's family under what is assumed."""
    return our_desk().level(family, level, dict(assumed))


@lru_cache(_MOST_LEVELS)
def recipes_of(family: str, level: int, assumed: Assumed) -> LevelRecipes:
    """The recipes from which the sheets of that level are made."""
    return our_desk().recipes(ready_level_of(family, level, assumed))


def draws_of(ready: ReadyLevel, numbers: Sequence[int], assumed: Assumed) -> list[Drawn | None]:
    """The draw of each number, in order; None for a number that finds none. OutOfRange for an assumed value that cannot
    be read."""
    overrides = {name: _in_si(name, text) for name, text in assumed if name in ready.circuit.defaults}
    parts = our_desk().parts
    try:
        return list(draw_numbers(ready, parts, numbers, overrides))
    except OutOfRange:
        if len(numbers) <= 1:
            return [None for _ in numbers]
    half = len(numbers) // 2
    return [*draws_of(ready, numbers[:half], assumed), *draws_of(ready, numbers[half:], assumed)]


def _in_si(name: str, text: str) -> float:
    reading = read_quantity(text, symbol_for(name).unit)
    if reading.value is None:
        raise OutOfRange(f"{name}={text}: {reading.reason}")
    return reading.value
