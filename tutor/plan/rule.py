"""Rules: each gives one quantity from earlier ones, as plain data that neither algebra nor numpy is needed to apply.

Vocabulary: a rule is an expression or (where several laws share an unknown) the coefficients of a polynomial whose root
it is. Applying rules skips what has no finite value, so what is not known stays unknown.
Place in the data flow: plans and `everything` -> rules -> the worlds a learner's working is held against.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import isfinite, nan, sqrt
from typing import Any

from tutor.plan.plan import Step
from tutor.quantities.evaluator import Evaluator, evaluator
from tutor.quantities.expression import Expr, from_json, symbols_of, to_json


@dataclass(frozen=True)
class Rule:
    """`target` from what was found before: by `expr`, or as the root of `coefficients` (constant term first)."""

    target: str
    expr: Expr | None
    coefficients: tuple[Expr, ...] = ()

    @cached_property
    def needs(self) -> tuple[str, ...]:
        """Names of what the rule is worked out from."""
        sides = self.coefficients if self.expr is None else (self.expr,)
        return tuple(dict.fromkeys(name for side in sides for name in symbols_of(side)))

    @cached_property
    def works_out(self) -> Evaluator:
        """What the rule comes to at some values, made ready once: rules are applied at every corner of every world."""
        if self.expr is not None:
            return evaluator(self.expr)
        sides = [evaluator(item) for item in self.coefficients]
        return lambda values: _root([side(values) for side in sides])


def rules_of(steps: Iterable[Step]) -> tuple[Rule, ...]:
    """The rules of planned steps."""
    return tuple(Rule(step.target, step.expr, step.coefficients if step.expr is None else ()) for step in steps)


def apply_rules(rules: Iterable[Rule], known: Mapping[str, float]) -> dict[str, float]:
    """`known` and all that follows from it (SI); a quantity already known keeps its value."""
    values = dict(known)
    for rule in rules:
        target = rule.target
        if target not in values:
            # As `value_of`, which would be called for every rule at every corner of every world.
            try:
                found = rule.works_out(values)
            except (KeyError, ArithmeticError):
                continue
            if found.__class__ is float:  # nearly always, and then nothing is to be made of it
                if isfinite(found):
                    values[target] = found
            elif isinstance(found, float | int) and isfinite(found):
                values[target] = float(found)
    return values


def value_of(rule: Rule, values: Mapping[str, float]) -> float | None:
    """What a rule comes to, or None when something it needs is unknown or it has no finite value."""
    try:
        found = rule.works_out(values)
    except (KeyError, ArithmeticError):
        return None
    # A root of a negative number is complex in Python: no value here.
    return float(found) if isinstance(found, float | int) and isfinite(found) else None


def _root(coefficients: list[float]) -> float:
    """The root with + before the square root, as `evaluate.polynomial_root`; nan for degrees above two."""
    if len(coefficients) != 3:
        return nan
    low, middle, high = coefficients
    inside = middle * middle - 4 * high * low
    if inside < 0:
        return nan
    root = sqrt(inside)
    return 2 * low / (-middle - root) if middle > 0 else (-middle + root) / (2 * high)


def rules_to_json(rules: Iterable[Rule]) -> list[Any]:
    """Rules as nested lists: `["I_Z", expression]`, or `["I_Z", null, coefficients]`."""
    return [
        [rule.target, to_json(rule.expr)]
        if rule.expr is not None
        else [rule.target, None, [to_json(item) for item in rule.coefficients]]
        for rule in rules
    ]


def rules_from_json(data: list[Any]) -> tuple[Rule, ...]:
    """The inverse of `rules_to_json`; a malformed list raises ValueError, TypeError or IndexError."""
    return tuple(
        Rule(item[0], None, tuple(map(from_json, item[2]))) if item[1] is None else Rule(item[0], from_json(item[1]))
        for item in data
    )
