"""Planned steps as markup with slots for numbers: what the own-numbers page shows once it knows them.

Vocabulary: a *slot* stands where a number with its unit will stand; it holds an expression to be worked out, or the
slope or constant of an equation collected to `slope × unknown = constant`. A *pattern* is a step as the page of a
problem sets it, with slots. The printer of formulas is given unlikely numbers in their place, which are then replaced.
Place in the data flow: Step -> StepPattern -> templates of `own_circuit.html`, filled by assets/own_steps.js.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from tutor.plan.plan import Plan, Step
from tutor.quantities.expression import (
    LEAVES,
    Add,
    Div,
    Expr,
    Mul,
    Neg,
    Num,
    Sym,
    Val,
    children,
    rebuild,
    substitute,
    symbols_of,
    to_json,
)
from tutor.quantities.relation_form import spell_parallel, unit_of
from tutor.quantities.symbols import symbol_for
from tutor.solution.numbers import Writing, equation_lines, equation_unit_probe
from tutor.solution.solution import Chain, WorkedStep
from tutor.solution.steps import plan_steps

_FIRST = 700_001  # no formula of ours holds such numbers
_MARK = re.compile(r"<mn>(7[0-9]{5})</mn>", re.ASCII)
_SPOKEN = re.compile(r'(?<=alttext=")[^"]*', re.ASCII)
_NUMBER = re.compile(r"\b7[0-9]{5}\b", re.ASCII)

Slot = list[Any]  # ["e", expression, unit], or ["slope" or "constant", left side, right side, unknown, unit]


@dataclass(frozen=True)
class StepPattern:
    """A step with slots: the worked step as templates print it, and what each slot holds."""

    worked: WorkedStep
    slots: tuple[Slot, ...]


@dataclass
class _Slots:
    """The slots of one step, in the order in which they were asked for."""

    found: list[Slot] = field(default_factory=list)

    def take(self, slot: Slot) -> Val:
        """A stand-in for what fills a slot; the same slot gives the same stand-in."""
        if slot not in self.found:
            self.found.append(slot)
        return Val(float(_FIRST + self.found.index(slot)), "", 12)

    def of(self, expr: Expr, unit: str) -> Val:
        return self.take(["e", to_json(expr), unit])

    def symbol(self, name: str) -> Val:
        return self.of(Sym(name), symbol_for(name).unit)

    def numbers(self, expr: Expr, keep: str = "") -> Expr:
        """The expression with slots for symbols, `keep` left as the unknown."""
        return substitute(expr, {name: self.symbol(name) for name in symbols_of(expr) if name != keep})


def step_pattern(step: Step) -> StepPattern:
    """The pattern of a step, laid out as `solution/steps.py` lays out its numbers."""
    slots = _Slots()
    if step.coupled is None and step.expr is not None:
        chains: tuple[Chain, ...] = (_line(step.target, step.expr, slots),)
        why = step.why
    else:
        chains = (*_equation(step, slots), Chain(Sym(step.target), (("=", slots.symbol(step.target)),)))
        why = _example(step).why
    return StepPattern(WorkedStep(step.title, why, chains, "", step.law, "", None, ""), tuple(slots.found))


def with_slots(markup: str) -> str:
    """Printed markup with every stand-in replaced by an empty slot, `{0}` in its spoken form."""
    spoken = _SPOKEN.sub(lambda found: _NUMBER.sub(lambda one: f"{{{int(one[0]) - _FIRST}}}", found[0]), markup)
    return _MARK.sub(lambda found: f'<mrow class="slot" data-slot="{int(found[1]) - _FIRST}"></mrow>', spoken)


def _line(target: str, expr: Expr, slots: _Slots) -> Chain:
    """`target = symbols = numbers = worked out part by part = result`, as `numbers.line` writes it."""
    result = slots.symbol(target)
    if expr == Num(0):
        return Chain(Sym(target), (("=", result),))
    parts: list[Expr] = [expr]
    spelled = spell_parallel(expr)
    if spelled != expr:
        parts.append(spelled)
    if not isinstance(expr, LEAVES):
        parts.append(slots.numbers(spelled))
        halfway = _halfway(spelled, slots)
        if halfway is not None:
            parts.append(halfway)
    return Chain(Sym(target), tuple(("=", part) for part in (*parts, result)))


def _halfway(expr: Expr, slots: _Slots) -> Expr | None:
    """The outermost sum or quotient kept, each part of it that is not a leaf worked out; None when there is none."""
    if not isinstance(expr, Add | Div):
        return None
    parts: list[Expr] = []
    for part in children(expr):
        inner = part.arg if isinstance(part, Neg) else part
        if isinstance(inner, LEAVES):
            parts.append(slots.numbers(part))
            continue
        unit = unit_of(inner)
        if unit is None:
            return None
        value = slots.of(inner, unit)
        parts.append(Neg(value) if isinstance(part, Neg) else value)
    halfway = rebuild(expr, tuple(parts))
    return None if halfway == slots.numbers(expr) else halfway


def _equation(step: Step, slots: _Slots) -> list[Chain]:
    """A coupled equation under its names, with numbers, and collected where it is linear."""
    assert step.coupled is not None
    left, right = step.coupled.lhs, step.coupled.rhs
    lines = [Chain(left, (("=", right),))]
    filled = [slots.numbers(spell_parallel(side), step.target) for side in (left, right)]
    lines.append(Chain(filled[0], (("=", filled[1]),)))
    linear = len(equation_lines(step.coupled, step.target, _writing(step))) == len(lines) + 1
    unit = unit_of(equation_unit_probe(step.coupled))
    per_unknown = unit_of(Div(equation_unit_probe(step.coupled), Sym(step.target)))
    if linear and unit is not None and per_unknown is not None:
        sides = [to_json(left), to_json(right), step.target]
        slope = slots.take(["slope", *sides, per_unknown])
        lines.append(Chain(Mul((slope, Sym(step.target))), (("=", slots.take(["constant", *sides, unit])),)))
    return lines


def _example(step: Step) -> WorkedStep:
    """The step worked with numbers that mean nothing: its words are the same with any."""
    return plan_steps(Plan((), (step.target,), (step,)), _writing(step), {})[0]


def _writing(step: Step) -> Writing:
    """Numbers for every symbol of a coupled step, no two alike."""
    assert step.coupled is not None
    sides = (step.coupled.lhs, step.coupled.rhs, *step.coefficients)
    names = sorted({step.target, *(name for side in sides for name in symbols_of(side))})
    return Writing({}, {name: 1.0 + 0.37 * place for place, name in enumerate(names)}, frozenset())
