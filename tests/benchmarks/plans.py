"""Compiled plans against `sympy.solve`: the values of a textbook problem, for each circuit.

Vocabulary: a *question* is a circuit with what is given and wanted; a *set* is one choice of the given numbers, a few
per cent about the question's own and rounded to 3 figures, as a problem would give them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from random import Random
from time import perf_counter
from typing import Any

import numpy as np
import sympy
from table import Row, Section, duration, figures
from timing import Contender, Effort, interleaved

from tutor.laws.algebra import sympy_symbol, to_sympy
from tutor.laws.law import Law
from tutor.plan.evaluate import Program, compile_plan
from tutor.plan.regions import resolve
from tutor.plan.resolved import Resolved
from tutor.solution.desk import our_desk

ALIKE = 1e-9  # the most two values of one quantity may differ, over the greater
_FIRST = 3  # values asked for of a circuit that has no question of its own
SPREAD = 0.05  # how far a set's numbers lie about the question's own
HOW = (
    "Ours is Program.run on numbers, or on arrays; its plan was derived, searched and compiled once (the note says how "
    "long that took). Theirs is the call of sympy.solve for every unknown of the laws derived from the same netlist, "
    "with the same numbers in them: all laws, as one would naively do it, and only those the plan found to be enough, "
    "the kindest case. The numbers are exact fractions; putting them in is not timed. Each round solves other numbers. "
    "sympy.lambdify: the plan's laws solved once with letters (untimed) and called on the same arrays, or as plain "
    "Python on the same numbers. All ways were first found to agree within 1e-9 of each value. Of every other circuit "
    "the first values that it reports are asked for, at its typical values, and the plan's laws alone are solved."
)


class Disagreement(Exception):
    """What is to be timed does not come to the same values."""


@dataclass(frozen=True)
class Question:
    """A circuit, its givens (SI) and what is wanted. Each couples source or zener and load, so no value falls out."""

    circuit: str
    given: Mapping[str, float]
    wanted: tuple[str, ...]


QUESTIONS = (
    Question("source", {"V_OC": 18.0, "R_S": 3.0, "R_L": 33.0}, ("I_I", "V_I", "P_O")),
    Question(
        "zener-shunt",
        {"V_I": 15.0, "R": 220.0, "V_Z0": 8.9, "r_z": 6.0, "I_ZT": 0.028, "R_L": 1000.0},
        ("V_O", "I_Z", "P_Z"),
    ),
    Question(
        "follower",
        {"V_I": 18.0, "R": 390.0, "V_Z0": 9.9, "r_z": 7.0, "I_ZT": 0.025, "V_BE": 0.7, "h_FE": 50.0, "R_L": 47.0},
        ("V_O", "I_Z", "P_Q"),
    ),
)


@dataclass(frozen=True)
class Planned:
    """A question planned and compiled, and how long that took once (s)."""

    question: Question
    resolved: Resolved
    program: Program
    seconds: float

    @property
    def plan_laws(self) -> tuple[Law, ...]:
        """The laws its plan steps on, those put in for one another included."""
        steps = self.resolved.plan.steps
        ids = dict.fromkeys(name for step in steps for name in (step.law, *(item.law for item in step.substitutions)))
        return tuple(self.resolved.laws.by_id(name) for name in ids)

    def sets(self, count: int) -> list[dict[str, float]]:
        """`count` sets of numbers, the same each time; standing values the plan leans on stay as they are."""
        source = Random(self.question.circuit)
        return [
            {
                **self.resolved.defaults,
                **{
                    name: float(f"{value * source.uniform(1 - SPREAD, 1 + SPREAD):.3g}")
                    for name, value in self.question.given.items()
                },
            }
            for _ in range(count)
        ]

    def run(self, values: Mapping[str, Any]) -> dict[str, Any]:
        """Every quantity of the plan by the compiled program; numbers or arrays."""
        return self.program.run(values, self.resolved.root_signs)


def planned(question: Question) -> Planned:
    """Derive the laws, find the plan and compile it."""
    circuit = our_desk().circuit(question.circuit)
    start = perf_counter()
    resolved = resolve(circuit, question.given, question.wanted)
    program = compile_plan(resolved.plan)
    return Planned(question, resolved, program, perf_counter() - start)


def solving(laws: Iterable[Law], values: Mapping[str, float], wanted: tuple[str, ...]) -> Callable[[], list[float]]:
    """The call of `sympy.solve` for every quantity that is not given, ready to be made; it hands back the wanted.

    The equations are made beforehand, the numbers in them as exact fractions (floats take about as long with all laws,
    and longer with few). Asked for the wanted alone it would find nothing: the equations hold other unknowns.
    """
    numbers = {sympy_symbol(name): sympy.Rational(repr(value)) for name, value in values.items()}
    differences = [to_sympy(law.equation.lhs) - to_sympy(law.equation.rhs) for law in laws]
    equations = [item for item in (difference.subs(numbers) for difference in differences) if item != 0]
    unknowns = sorted(set().union(*(item.free_symbols for item in equations)), key=str)

    def solve() -> list[float]:
        found = sympy.solve(equations, unknowns, dict=True)
        if len(found) != 1:
            raise Disagreement(f"sympy.solve finds {len(found)} solutions where the plan finds one")
        return [float(found[0][sympy_symbol(name)]) for name in wanted]

    return solve


def lettered(plan: Planned, module: str = "numpy") -> Callable[..., list[Any]]:
    """The wanted as functions of the givens, on arrays of numpy or, of the module math, on plain numbers: sympy.solve
    once on the plan's laws with letters, then lambdify."""
    known = [sympy_symbol(name) for name in plan.program.inputs]
    equations = [to_sympy(law.equation.lhs) - to_sympy(law.equation.rhs) for law in plan.plan_laws]
    unknowns = sorted(set().union(*(item.free_symbols for item in equations)) - set(known), key=str)
    (found,) = sympy.solve(equations, unknowns, dict=True)
    forms = [found[sympy_symbol(name)] for name in plan.question.wanted]
    function: Callable[..., list[Any]] = sympy.lambdify(known, forms, module, cse=True)
    return function


def require_alike(ours: Iterable[float], theirs: Iterable[float], what: str) -> None:
    """Raise Disagreement unless each pair of values differs by at most ALIKE of the greater."""
    for one, other in zip(ours, theirs, strict=True):
        if not abs(one - other) <= ALIKE * max(abs(one), abs(other)):
            raise Disagreement(f"{what}: {one!r} and {other!r} differ by more than {ALIKE:g}")


def as_arrays(sets: list[dict[str, float]]) -> dict[str, np.ndarray]:
    """The sets side by side: one array for each quantity."""
    return {name: np.array([item[name] for item in sets]) for name in sets[0]}


def require_same_values(plan: Planned, sets: list[dict[str, float]], solved: int) -> None:
    """Hold the four ways of finding the wanted equal: the program one by one, the program on the whole batch, the
    lettered form on every set, and `sympy.solve` (all laws, plan's laws) on the first `solved` sets."""
    wanted, what = plan.question.wanted, plan.question.circuit
    batch = as_arrays(sets)
    together, form = plan.run(batch), lettered(plan)
    closed = form(*(batch[name] for name in plan.program.inputs))
    for row, values in enumerate(sets):
        one = plan.run(values)
        ours = [float(one[name]) for name in wanted]
        require_alike(ours, [float(together[name][row]) for name in wanted], f"{what}, alone and in a batch")
        require_alike(ours, [float(item[row]) for item in closed], f"{what}, plan and lettered form")
        if row < solved:
            for laws in (plan.resolved.laws.laws, plan.plan_laws):
                require_alike(ours, solving(laws, values, wanted)(), f"{what}, plan and sympy.solve")


def rows_for(question: Question, effort: Effort) -> list[Row]:
    """The rows of one circuit; each round solves another set of numbers."""
    plan = planned(question)
    sets = plan.sets(effort.sets)
    require_same_values(plan, sets, solved=min(3, effort.rounds))
    laws, few, wanted, count = plan.resolved.laws.laws, plan.plan_laws, question.wanted, len(sets)
    batch, form, scalar = as_arrays(sets), lettered(plan), lettered(plan, "math")
    arrays = [batch[name] for name in plan.program.inputs]

    def numbers(number: int) -> dict[str, float]:
        return sets[number % count]

    def givens(number: int) -> list[float]:
        return [numbers(number)[name] for name in plan.program.inputs]

    found = interleaved(
        {
            "one": Contender(lambda number: partial(plan.run, numbers(number)), effort.sample_seconds),
            "scalar": Contender(lambda number: partial(scalar, *givens(number)), effort.sample_seconds),
            "all laws": Contender(lambda number: solving(laws, numbers(number), wanted)),
            "batch": Contender(lambda number: partial(plan.run, batch), effort.sample_seconds),
            "plan's laws": Contender(lambda number: solving(few, numbers(number), wanted)),
            "letters": Contender(lambda number: partial(form, *arrays), effort.sample_seconds),
        },
        effort.rounds,
    )
    once = plan.seconds / found["all laws"].median
    name, asked, many = question.circuit, ", ".join(wanted), f"{figures(count)} at once"
    every, enough = f"sympy.solve, {len(laws)} laws", f"sympy.solve, {len(few)} laws"
    told = f"first plan: {duration(plan.seconds)}, once, as {figures(once)} solves"
    ahead = f"{len(plan.program.outputs)} values ours, {len(wanted)} theirs"
    one, each = found["one"], found["batch"].per(count)
    return [
        Row(f"{name}, one problem", one, every, found["all laws"], f"{asked}; {told}"),
        Row(f"{name}, one problem", one, enough, found["plan's laws"], "sympy told which laws are enough"),
        Row(f"{name}, one problem", one, "plain Python, lambdify", found["scalar"], ahead),
        Row(f"{name}, {many}: each", each, every, found["all laws"], f"ours ÷ {figures(count)}"),
        Row(f"{name}, {many}: all", found["batch"], "sympy.lambdify, numpy", found["letters"], ahead),
    ]


def other_questions() -> list[Question]:
    """A question on every circuit that has none above: the first of what it reports, at its typical values."""
    desk, asked = our_desk(), {question.circuit for question in QUESTIONS}
    circuits = [desk.circuit(name) for name in desk.folder.circuit_ids() if name not in asked]
    return [
        Question(circuit.id, circuit.typical, tuple(n for n in circuit.report if n not in circuit.typical)[:_FIRST])
        for circuit in circuits
    ]


def short_rows(question: Question, effort: Effort) -> list[Row]:
    """One problem of a circuit by its plan, by `sympy.solve` on the plan's laws, and by plain Python."""
    plan = planned(question)
    sets, wanted, laws = plan.sets(effort.rounds), question.wanted, plan.plan_laws
    scalar = lettered(plan, "math")
    for values in sets:
        ours = [float(plan.run(values)[name]) for name in wanted]
        plain = scalar(*(values[name] for name in plan.program.inputs))
        require_alike(ours, plain, f"{question.circuit}, plan and plain Python")
        require_alike(ours, solving(laws, values, wanted)(), f"{question.circuit}, plan and sympy.solve")

    def plainly(number: int) -> Callable[[], object]:
        return partial(scalar, *(sets[number][name] for name in plan.program.inputs))

    found = interleaved(
        {
            "one": Contender(lambda number: partial(plan.run, sets[number]), effort.sample_seconds),
            "scalar": Contender(plainly, effort.sample_seconds),
            "solve": Contender(lambda number: solving(laws, sets[number], wanted)),
        },
        effort.rounds,
    )
    what, one = f"{question.circuit}, one problem", found["one"]
    many = f"{len(plan.program.outputs)} values ours, {len(wanted)} theirs"
    return [
        Row(what, one, f"sympy.solve, {len(laws)} laws", found["solve"], ", ".join(wanted)),
        Row(what, one, "plain Python, lambdify", found["scalar"], many),
    ]


def measure(effort: Effort) -> Section:
    """The rows of every circuit; in a smoke run those of the three questions alone."""
    rows = [row for question in QUESTIONS for row in rows_for(question, effort)]
    if effort.measures:
        few = replace(effort, rounds=effort.few_rounds)
        rows += [row for question in other_questions() for row in short_rows(question, few)]
    return Section(tuple(rows), HOW)
