"""Straight lines: what a relation comes to over some unknowns once everything else in it is a number.

Vocabulary: a *straight* value is a constant and a coefficient for each unknown it contains. A product of two unknowns
is none, and asking for it is an error of whoever chose the relation.
Place in the data flow: law templates + numbers -> rows of linear equations -> operating points.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache

from tutor.quantities.expression import Equation, Expr, evaluate
from tutor.quantities.formula import read_equation, read_expression


@dataclass(frozen=True)
class Straight:
    """constant + the sum of coefficient times unknown."""

    constant: float = 0.0
    slopes: Mapping[str, float] = field(default_factory=dict)

    def __add__(self, other: Straight | float) -> Straight:
        other = straight(other)
        names = {**self.slopes, **other.slopes}
        slopes = {name: self.slopes.get(name, 0.0) + other.slopes.get(name, 0.0) for name in names}
        return Straight(self.constant + other.constant, slopes)

    __radd__ = __add__

    def __neg__(self) -> Straight:
        return Straight(-self.constant, {name: -slope for name, slope in self.slopes.items()})

    def __sub__(self, other: Straight | float) -> Straight:
        return self + -straight(other)

    def __rsub__(self, other: Straight | float) -> Straight:
        return straight(other) + -self

    def __mul__(self, other: Straight | float) -> Straight:
        other = straight(other)
        if self.slopes and other.slopes:
            raise ArithmeticError("a product of two unknowns is no straight line")
        line, number = (self, other.constant) if self.slopes else (other, self.constant)
        return Straight(line.constant * number, {name: slope * number for name, slope in line.slopes.items()})

    __rmul__ = __mul__

    def __truediv__(self, other: Straight | float) -> Straight:
        other = straight(other)
        if other.slopes:
            raise ArithmeticError("a quotient by an unknown is no straight line")
        return self * (1 / other.constant)

    def __rtruediv__(self, other: Straight | float) -> Straight:
        return straight(other) / self

    def at(self, values: Mapping[str, float]) -> float:
        """Its value where the unknowns are known."""
        return self.constant + sum(slope * values[name] for name, slope in self.slopes.items())


def straight(value: Straight | float) -> Straight:
    """A number as a straight value without unknowns."""
    return value if isinstance(value, Straight) else Straight(float(value))


def unknown(name: str) -> Straight:
    """The unknown itself."""
    return Straight(0.0, {name: 1.0})


def sides(template: str, role_of: Callable[[str], Straight]) -> tuple[Straight, Straight, str]:
    """Left side, right side and relation of a law template, where `role_of` says what a role or terminal stands for."""
    equation = _equation(template)
    return _filled(equation.lhs, role_of), _filled(equation.rhs, role_of), equation.relation


def filled(template: str, role_of: Callable[[str], Straight]) -> Straight:
    """An expression of a template, likewise."""
    return _filled(_expression(template), role_of)


def _filled(expr: Expr, role_of: Callable[[str], Straight]) -> Straight:
    return straight(evaluate(expr, _Roles(role_of)))  # type: ignore[arg-type]  # straight values count as numbers


class _Roles(dict[str, Straight]):
    """Looks each name up only where the expression has it."""

    def __init__(self, role_of: Callable[[str], Straight]) -> None:
        super().__init__()
        self.role_of = role_of

    def __missing__(self, name: str) -> Straight:
        return self.role_of(name)


@cache
def _equation(template: str) -> Equation:
    return read_equation(_plain(template))


@cache
def _expression(template: str) -> Expr:
    return read_expression(_plain(template))


def _plain(template: str) -> str:
    """Roles lose their square brackets: a role never shares its name with a terminal, which is one letter."""
    return re.sub(r"\[(\w+)\]", r"\1", template)
