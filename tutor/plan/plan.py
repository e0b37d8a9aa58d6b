"""The frozen Plan: steps in the order a person would take them.

Vocabulary: a *direct* step uses one law with one unknown; a *coupled* step puts several laws that share an unknown into
one equation in that unknown, of first or higher degree; its *substitutions* say what was put in for what.
Place in the data flow: laws + givens + wanted -> Plan -> evaluate, solution, pages. Plans are plain data and can be
stored as JSON, so that running one needs no algebra.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any

from tutor.quantities.expression import Equation, Expr, from_json, symbols_of, to_json
from tutor.quantities.relation_form import RelationForm, relation_form


@dataclass(frozen=True)
class Substitution:
    """In a coupled step: `symbol` stands as `expr` by the law named."""

    symbol: str
    expr: Expr
    law: str
    title: str


@dataclass(frozen=True)
class Step:
    """One step: `target = expr`, from the law whose equation is kept as stated.

    A coupled step has `coupled` (one equation in the target alone) and `coefficients` (constant term first) of the
    polynomial it comes to; `expr` is its closed form for degree one, and None above.
    """

    target: str
    law: str
    title: str
    source: str
    equation: Equation
    expr: Expr | None
    coupled: Equation | None = None
    coefficients: tuple[Expr, ...] = ()
    substitutions: tuple[Substitution, ...] = ()
    why: str = ""

    @property
    def degree(self) -> int:
        """Degree of the equation solved for the target."""
        return max(1, len(self.coefficients) - 1)

    @property
    def sides(self) -> tuple[Expr, ...]:
        """What the target is worked out from: its expression, or the coefficients of its polynomial."""
        return self.coefficients if self.expr is None else (self.expr,)

    @cached_property
    def form(self) -> RelationForm:
        """Its relation made ready to be written with numbers. ValueError for a step that has no closed form."""
        if self.expr is None:
            raise ValueError(f"the step that finds {self.target} has no closed form")
        return relation_form(self.expr)

    def __getstate__(self) -> dict[str, Any]:
        # What was made ready of a step cannot be sent to another process, and is made anew there.
        return {item.name: getattr(self, item.name) for item in fields(self)}


@dataclass(frozen=True)
class Plan:
    """A chain of steps from `known` to `wanted`."""

    known: tuple[str, ...]
    wanted: tuple[str, ...]
    steps: tuple[Step, ...]

    def step(self, target: str) -> Step | None:
        """The step that finds `target`, or None."""
        return next((step for step in self.steps if step.target == target), None)

    def pruned(self, target: str) -> Plan:
        """The plan as the one to `target`, without the givens that no step of it uses."""
        used = {name for step in self.steps for side in step.sides for name in symbols_of(side)}
        return Plan(tuple(name for name in self.known if name in used), (target,), self.steps)


def equation_to_json(equation: Equation) -> list[Any]:
    """An equation as `[relation, left, right]`."""
    return [equation.relation, to_json(equation.lhs), to_json(equation.rhs)]


def equation_from_json(data: list[Any]) -> Equation:
    """The inverse of `equation_to_json`."""
    return Equation(from_json(data[1]), from_json(data[2]), str(data[0]))


def plan_to_json(plan: Plan) -> dict[str, Any]:
    """A plan as JSON data."""
    return {
        "known": list(plan.known),
        "wanted": list(plan.wanted),
        "steps": [_step_to_json(item) for item in plan.steps],
    }


def plan_from_json(data: dict[str, Any]) -> Plan:
    """The inverse of `plan_to_json`; a malformed entry raises KeyError, TypeError or ValueError."""
    return Plan(tuple(data["known"]), tuple(data["wanted"]), tuple(_step_from_json(item) for item in data["steps"]))


def _step_to_json(step: Step) -> dict[str, Any]:
    return {
        "target": step.target,
        "law": step.law,
        "title": step.title,
        "source": step.source,
        "equation": equation_to_json(step.equation),
        "expr": None if step.expr is None else to_json(step.expr),
        "coupled": None if step.coupled is None else equation_to_json(step.coupled),
        "coefficients": [to_json(item) for item in step.coefficients],
        "substitutions": [[item.symbol, to_json(item.expr), item.law, item.title] for item in step.substitutions],
        "why": step.why,
    }


def _step_from_json(data: dict[str, Any]) -> Step:
    return Step(
        data["target"],
        data["law"],
        data["title"],
        data["source"],
        equation_from_json(data["equation"]),
        None if data["expr"] is None else from_json(data["expr"]),
        None if data["coupled"] is None else equation_from_json(data["coupled"]),
        tuple(from_json(item) for item in data["coefficients"]),
        tuple(Substitution(name, from_json(expr), law, title) for name, expr, law, title in data["substitutions"]),
        data["why"],
    )
