"""Verdicts on a table of demands: which are met, by how much, and what is therefore to be said.

Vocabulary: a *demand* compares a key with its limit; a *margin* is what it has over its limit, in the limit's unit,
below zero where it is missed.
Place in the data flow: TellVerdict + the values of a draw -> refusals, the waypoint's words, the worked step.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from tutor.generate.family import TellVerdict
from tutor.generate.sampling import Array, Environment, Mask, round12, round12_of
from tutor.quantities.expression import Equation, Sym
from tutor.quantities.formula import read_equation


@dataclass(frozen=True)
class Margin:
    """One demand judged in a drawn problem (SI): value, limit, what is to spare (below zero: missing)."""

    words: str
    key: str
    value: float
    limit_key: str
    limit: float
    spare: float

    @property
    def met(self) -> bool:
        """Whether the demand is met."""
        return self.spare >= 0


@cache
def sides(requirement: str) -> tuple[str, str, str]:
    """Key, relation and key of the limit; ValueError for anything else."""
    equation: Equation = read_equation(requirement)
    left, right = equation.lhs, equation.rhs
    if not isinstance(left, Sym) or not isinstance(right, Sym) or equation.relation not in ("<=", ">="):
        raise ValueError(f"a demand compares a key with the key of its limit by <= or >= (got '{requirement}')")
    return left.name, equation.relation, right.name


def spare(requirement: str, env: Environment) -> Array:
    """What a demand has over its limit in every draw; below zero where it is missed."""
    key, relation, limit = sides(requirement)
    over = round12(env[key]) - round12(env[limit])
    return over if relation == ">=" else -over


def true_verdicts(ask: TellVerdict, env: Environment) -> dict[str, Mask]:
    """For each wording, in which draws it is true."""
    found: dict[str, Mask] = {}
    for verdict in ask.verdicts:
        with np.errstate(invalid="ignore"):
            met = [spare(text, env) >= 0 for text in verdict.meets]
            missed = [spare(text, env) < 0 for text in verdict.misses]
        true = np.asarray(np.logical_and.reduce([*met, *missed]), dtype=np.bool_)
        found[verdict.words] = found[verdict.words] | true if verdict.words in found else true
    return found


def too_near(ask: TellVerdict, env: Environment) -> Mask:
    """In which draws a demand is met or missed by so little that a rounded value would not tell."""
    near = [
        np.abs(spare(item.requirement, env)) < ask.apart * np.abs(env[sides(item.requirement)[2]])
        for item in ask.demands
    ]
    return np.asarray(np.logical_or.reduce(near), dtype=np.bool_)


def one_alone(ask: TellVerdict, env: Environment) -> Mask:
    """In which draws exactly one wording is true."""
    return np.asarray(sum(true.astype(np.int64) for true in true_verdicts(ask, env).values()) == 1, dtype=np.bool_)


def margins(ask: TellVerdict, env: Mapping[str, Array]) -> tuple[Margin, ...]:
    """The table of margins of one problem (arrays of length one), in the order declared."""
    return tuple(_margin(item.words, item.requirement, env) for item in ask.demands)


def _margin(words: str, requirement: str, env: Mapping[str, Array]) -> Margin:
    key, relation, limit = sides(requirement)
    value, bound = float(env[key][0]), float(env[limit][0])
    over = round12_of(value) - round12_of(bound)
    return Margin(words, key, value, limit, bound, over if relation == ">=" else -over)


def verdict_words(ask: TellVerdict, env: Environment) -> str:
    """What is to be said of one problem (arrays of length one)."""
    left = {item.requirement: row.spare for item, row in zip(ask.demands, margins(ask, env), strict=True)}
    return next(
        item.words
        for item in ask.verdicts
        if all(left[text] >= 0 for text in item.meets) and all(left[text] < 0 for text in item.misses)
    )
