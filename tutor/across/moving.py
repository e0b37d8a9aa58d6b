"""Which way quantities move when one thing moves: values that carry their rate of change along.

Vocabulary: a *moving* value is a number with its rate of change per unit of what moves (a dual number); *way* is the
sign of that rate: 1 rises, -1 falls, 0 stays. Rational numbers are kept exact, so that a rate of nothing is nothing
and no rounding; only a root leaves them.
Place in the data flow: rules (derived from the circuit) + values -> moving values -> ways.
Source: the derivative of a sum, product, quotient and root, rule by rule (forward differentiation).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite, sqrt

from tutor.plan.rule import Rule
from tutor.quantities.expression import Expr, evaluate, symbols_of

Number = Fraction | float

ROUNDING = 1e-9  # of the largest part: a rate smaller than that is not told from nothing where a root was taken


@dataclass(frozen=True)
class Moving:
    """A value and its rate of change."""

    value: Number
    rate: Number = Fraction(0)

    def __add__(self, other: Moving | float) -> Moving:
        other = moving(other)
        return Moving(self.value + other.value, self.rate + other.rate)

    __radd__ = __add__

    def __neg__(self) -> Moving:
        return Moving(-self.value, -self.rate)

    def __sub__(self, other: Moving | float) -> Moving:
        return self + -moving(other)

    def __rsub__(self, other: Moving | float) -> Moving:
        return moving(other) + -self

    def __mul__(self, other: Moving | float) -> Moving:
        other = moving(other)
        return Moving(self.value * other.value, self.rate * other.value + self.value * other.rate)

    __rmul__ = __mul__

    def __truediv__(self, other: Moving | float) -> Moving:
        other = moving(other)
        value = self.value / other.value
        return Moving(value, (self.rate - value * other.rate) / other.value)

    def __rtruediv__(self, other: Moving | float) -> Moving:
        return moving(other) / self

    def __pow__(self, exponent: float) -> Moving:
        """A square root, as expressions are evaluated; no other power is asked for in this way."""
        assert exponent == 0.5
        root = sqrt(self.value)
        return Moving(root, float(self.rate) / (2 * root))


def moving(value: Moving | Number) -> Moving:
    """A number that does not move; a moving value as it is."""
    return value if isinstance(value, Moving) else Moving(Fraction(str(value)) if isinstance(value, float) else value)


def followed(rules: Iterable[Rule], known: Mapping[str, float], mover: str) -> dict[str, Moving]:
    """All that follows from `known` by the rules, with its rate of change per unit of `mover`, the others held.

    What has no value, or whose rate a root's rounding hides, is left out.
    """
    values: dict[str, Moving] = {
        name: Moving(Fraction(str(value)), Fraction(name == mover)) for name, value in known.items()
    }
    for rule in rules:
        if rule.target in values or any(name not in values for name in rule.needs):
            continue
        try:
            found = worked_out(rule, values)
        except (ArithmeticError, ValueError):
            continue
        if isfinite(found.value) and isfinite(found.rate):
            values[rule.target] = found
    return values


def worked_out(rule: Rule, values: Mapping[str, Moving]) -> Moving:
    """What one rule comes to; ArithmeticError or ValueError where it has no value."""
    if rule.expr is not None:
        return moving(evaluate(rule.expr, values))  # type: ignore[arg-type]  # moving values count as numbers
    low, middle, high = (moving(evaluate(item, values)) for item in rule.coefficients)  # type: ignore[arg-type]
    inside = middle * middle - 4 * (high * low)
    if inside.value < 0:
        raise ArithmeticError("no real root")
    root = inside**0.5
    return 2 * low / (-middle - root) if middle.value > 0 else (root - middle) / (2 * high)


def way(value: Moving) -> int:
    """Which way a quantity moves: 1, -1, or 0 where its rate is nothing."""
    if isinstance(value.rate, Fraction):
        return (value.rate > 0) - (value.rate < 0)
    rate, size = float(value.rate), abs(float(value.value))
    return 0 if abs(rate) <= ROUNDING * max(size, 1.0) else (1 if rate > 0 else -1)


def pulls(expr: Expr, values: Mapping[str, Moving]) -> dict[str, Number]:
    """What each quantity on the right of a relation that moves does to the left: its rate through that one alone."""
    found: dict[str, Number] = {}
    for name in symbols_of(expr):
        if way(values[name]) != 0:
            alone = {other: value if other == name else Moving(value.value) for other, value in values.items()}
            found[name] = moving(evaluate(expr, alone)).rate  # type: ignore[arg-type]
    return found
