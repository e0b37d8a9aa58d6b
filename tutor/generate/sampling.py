"""Draws: from a family's level, a key and numbers to candidate values, thousands at a time.

Values come from lists in the family file or rows of a catalogue; what is worked out from them uses + − × ÷ and sqrt and
is rounded to 12 figures, so that every machine compares and prints the same.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tutor.errors import BadFamily, nearest, unknown
from tutor.generate.family import Draw, Level, Pick, PickPart
from tutor.generate.random_bits import Words, bits, choose
from tutor.plan.evaluate import Program, assemble
from tutor.quantities.expression import Expr, symbols_of
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.parts import TEXT, Catalogue
from tutor.quantities.quantity import DEFAULT_FIGURES

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]  # of which candidates something is true
Environment = dict[str, Array]

_KEPT = 1024  # formulas whose programs are remembered
_POWERS: tuple[float, ...] = tuple(float(f"1e{power}") for power in range(-30, 31))


def round12(values: Array) -> Array:
    """Each value rounded to 12 significant figures; zero, inf and nan stay."""
    return round_to(values, 12)


def round_to(values: Array, figures: int) -> Array:
    """Each value rounded to `figures` significant figures, powers of ten from a table; zero, inf and nan stay."""
    powers, up, down = _scales(figures)
    place = np.searchsorted(powers, np.abs(values), side="right")
    scale_up, scale_down = up[place], down[place]
    with np.errstate(all="ignore"):
        rounded = np.rint(values * scale_up / scale_down) / scale_up * scale_down
    return np.where(np.isfinite(values) & (values != 0), rounded, values)


def round12_of(value: float) -> float:
    """What `round12` makes of one value, to the bit."""
    if not math.isfinite(value) or value == 0:
        return value
    up, down = _SCALES_12[bisect_right(_POWERS, abs(value))]
    return round(value * up / down, 0) / up * down


@cache
def _scales(figures: int) -> tuple[Array, Array, Array]:
    """The powers of ten, and what lifts a number between two of them until `figures` stand before its point: a power
    to multiply by, and one to divide by."""
    lifts = [_lift(place, figures) for place in range(len(_POWERS) + 1)]
    up, down = zip(*lifts, strict=True)
    return np.array(_POWERS), np.array(up), np.array(down)


def _lift(place: int, figures: int) -> tuple[float, float]:
    lift = figures - 1 - min(max(place - 31, -18), 18)
    return _POWERS[min(max(lift, 0), 30) + 30], _POWERS[min(max(-lift, 0), 30) + 30]


_SCALES_12 = tuple(_lift(place, 12) for place in range(len(_POWERS) + 1))


def as_written(values: Array) -> Array:
    """Each value as results are written, to 3 significant figures and to 4 where the first is 1: what `as_printed` of
    quantities does for one."""
    three, four = round_to(values, DEFAULT_FIGURES), round_to(values, DEFAULT_FIGURES + 1)
    with np.errstate(all="ignore"):
        decade = 10 ** np.floor(np.log10(np.abs(three)) + 1e-12)
        begins_with_one = np.abs(three) < 2 * decade * (1 - 1e-9)
        # 9.996 is carried to 10.00, whose fourth figure is the second place already.
        carried = np.abs(values) < decade * (1 - 1e-9)
    return np.where(begins_with_one & ~carried, four, three)


def draw(
    level: Level, catalogues: Mapping[str, Catalogue], key: int, numbers: Words, attempts: Words, where: str
) -> Environment:
    """The candidates' drawn values by key (SI), and for each part of a catalogue which row it is (`part_index`).

    BadFamily where a draw names no column, part or earlier key that there is, UnknownName where it names no catalogue.
    """
    env: Environment = {}
    parts = drawn_parts(level.draws)
    for slot, item in enumerate(level.draws):
        if isinstance(item, Pick):
            index = choose(bits(key, numbers, attempts, slot), len(item.values))
            env[item.name] = np.array(item.values, dtype=np.float64)[index]
        elif isinstance(item, PickPart):
            allowed = allowed_rows(item, catalogues, where)
            place, _ = next(parts)
            index = choose(bits(key, numbers, attempts, slot), len(allowed))
            env[place] = index.astype(np.float64)
            for name, column in item.take.items():
                env[name] = np.array([float(row[column]) for row in allowed])[index]
        else:
            env[item.name] = round12(round_to(formula_values(item.formula, env, where), item.figures))
    return env


def part_index(catalogue: str, earlier: int = 0) -> str:
    """The hidden key under which the index of a drawn part is kept; `earlier` parts came of the same catalogue."""
    return f"part_{catalogue}_{earlier + 1}" if earlier else f"part_{catalogue}"


def drawn_parts(draws: tuple[Draw, ...]) -> Iterator[tuple[str, PickPart]]:
    """The parts that are drawn from catalogues, each with the key of its index."""
    met: dict[str, int] = {}
    for item in draws:
        if isinstance(item, PickPart):
            yield part_index(item.catalogue, met.get(item.catalogue, 0)), item
            met[item.catalogue] = met.get(item.catalogue, 0) + 1


def allowed_rows(item: PickPart, catalogues: Mapping[str, Catalogue], where: str) -> tuple[Mapping[str, Any], ...]:
    """The rows of a catalogue that a draw may take; BadFamily when there is none, UnknownName when no catalogue is."""
    if item.catalogue not in catalogues:
        raise unknown(f"catalogue (named by {where})", item.catalogue, catalogues)
    for column in (*item.take.values(), *(name for name, _, _ in item.where)):
        units = dict(zip(catalogues[item.catalogue].columns, catalogues[item.catalogue].units, strict=True))
        if units.get(column, TEXT) == TEXT:
            close = nearest(column, [name for name, unit in units.items() if unit != TEXT])
            hint = f"; did you mean '{close}'?" if close else ""
            raise BadFamily(f"{where}: the catalogue '{item.catalogue}' has no column of numbers '{column}'{hint}")
    rows = tuple(
        row
        for row in catalogues[item.catalogue].rows
        if all(low <= float(row[column]) <= high for column, low, high in item.where)
    )
    if not rows:
        raise BadFamily(f"{where}: no part of '{item.catalogue}' meets where={item.where}")
    return rows


def formula_values(formula: str, env: Mapping[str, Array], where: str) -> Array:
    """An author's formula over keys, elementwise; BadFamily names a key that is not there."""
    return program_values(formula_program(formula), env, f"{where}: the formula '{formula}'")


@lru_cache(maxsize=_KEPT)
def formula_program(formula: str) -> Program:
    """The program of an author's formula over keys. BadFormula when it cannot be read."""
    return _program(read_expression(formula))


@lru_cache(maxsize=_KEPT)
def inequality_programs(text: str) -> tuple[Program, str, Program]:
    """The programs of both sides of an author's inequality over keys, and its relation between them."""
    equation = read_equation(text)
    return _program(equation.lhs), equation.relation, _program(equation.rhs)


def _program(expr: Expr) -> Program:
    return assemble(symbols_of(expr), {"value": expr})


def program_values(program: Program, env: Mapping[str, Array], where: str) -> Array:
    """What the program of an expression comes to, elementwise; BadFamily names a key that is not there."""
    missing = [name for name in program.inputs if name not in env]
    if missing:
        raise BadFamily(f"{where} uses '{missing[0]}', which nothing before it draws or finds")
    result = program.run({name: env[name] for name in program.inputs})["value"]
    return np.broadcast_to(np.asarray(result, dtype=np.float64), np.shape(next(iter(env.values())))).copy()


def draw_names(draws: tuple[Draw, ...]) -> tuple[str, ...]:
    """Every key the draws give a value."""
    names: list[str] = []
    for item in draws:
        names += list(item.take) if isinstance(item, PickPart) else [item.name]
    return tuple(names)
