"""Which of a plan's roots can be: signs, inequalities and laws sort them, the circuit's preference puts them in order.

Vocabulary: a *state* is one choice of roots and the values (SI) it gives; it is *admissible* when no part value and no
root is below zero, every inequality of the region holds and no law is broken.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tutor.circuit.circuit import Circuit, LoadModel
from tutor.laws.derive import derive
from tutor.laws.law import LawSet
from tutor.plan.evaluate import Program, root_counts
from tutor.plan.plan import Plan, Step
from tutor.plan.verify import CLOSE, holds, names_of, value_text
from tutor.quantities.expression import symbols_of
from tutor.quantities.notation import plain_equation
from tutor.quantities.symbols import Sign, symbol_for

USUAL = 1.5  # a standing value that follows from the givens is usual up to this factor, either way


@dataclass(frozen=True)
class Refused:
    """A region or root not taken: why, and whether a law or an inequality refutes it or the givens leave it open."""

    why: str
    refuted: bool


@dataclass(frozen=True)
class State:
    """The root taken in each step that has several, and every finite value."""

    roots: tuple[int, ...]
    values: Mapping[str, float]


def states_of(
    circuit: Circuit,
    laws: LawSet,
    whole: Plan,
    program: Program,
    known: Mapping[str, float],
    must_be_finite: tuple[Step, ...],
) -> tuple[list[State], list[Refused]]:
    """The states of a plan that its region's signs and inequalities allow, and why the others are not. `known` may
    hold more than the plan starts from."""
    idle = {name: value for name, value in known.items() if name not in whole.known}
    allowed: list[State] = []
    refused: list[Refused] = []
    for roots in itertools.product(*(range(count) for count in root_counts(whole))):
        values = {**known, **{name: float(value) for name, value in program.run(known, roots).items()}, **idle}
        values = {name: 0.0 if value == 0 else value for name, value in values.items()}
        why = _inadmissible(circuit, must_be_finite, values, whole) or region_fails(laws, values) or turned(values)
        if why is not None:
            refused.append(why)
        else:
            allowed.append(State(roots, {name: value for name, value in values.items() if math.isfinite(value)}))
    return allowed, refused


def _inadmissible(
    circuit: Circuit, steps: tuple[Step, ...], values: Mapping[str, float], whole: Plan
) -> Refused | None:
    """Why values cannot be: no number for something asked, or a part value or a root below zero."""
    several = [step for step in whole.steps if step.degree > 1]
    for step in dict.fromkeys((*steps, *several)):
        if not math.isfinite(values[step.target]):
            return _no_number(step, values)
    return below_zero(circuit, values, (step.target for step in several))


def below_zero(circuit: Circuit, values: Mapping[str, float], further: Iterable[str] = ()) -> Refused | None:
    """The first part value, load or `further` quantity that is below zero and cannot be; None when there is none."""
    loads = circuit.load_resistances()
    for name in dict.fromkeys((*further, *circuit.constants, *loads)):
        value = values.get(name, 0.0)
        if value < 0 and symbol_for(name).sign is not Sign.ANY:
            # A quotient by nothing has no sign worth telling.
            why = f"{name} would be {value_text(name, value)}, below zero" if math.isfinite(value) else _unknown(name)
            return Refused(why, refuted=math.isfinite(value))
    return None


def _no_number(step: Step, values: Mapping[str, float]) -> Refused:
    """A quadratic without a real root refutes; a division by nothing leaves open."""
    names = {name for item in step.coefficients for name in symbols_of(item)}
    if step.degree > 1 and all(math.isfinite(values.get(name, math.nan)) for name in names):
        return Refused(f"no real {step.target} solves it", refuted=True)
    return Refused(_unknown(step.target), refuted=False)


def _unknown(name: str) -> str:
    return f"{name} has no finite value"


def region_fails(laws: LawSet, values: Mapping[str, float]) -> Refused | None:
    """The first inequality of the region that does not hold; None when all do."""
    for bound in laws.bounds:
        names = names_of(bound.equation)
        if not all(math.isfinite(values.get(name, math.nan)) for name in names):
            continue
        if not holds(bound, values):
            shown = ", ".join(f"{name} = {value_text(name, values[name])}" for name in sorted(names))
            return Refused(f"it needs {plain_equation(bound.equation)}, but {shown}", refuted=True)
    return None


def turned(values: Mapping[str, float]) -> Refused | None:
    """The first quantity that is below zero against its reference direction and cannot be, but for rounding."""
    largest: dict[str, float] = {}
    for name, value in values.items():
        if math.isfinite(value):
            unit = symbol_for(name).unit
            largest[unit] = max(abs(value), largest.get(unit, 0.0))
    for name, value in values.items():
        symbol = symbol_for(name)
        if symbol.sign is not Sign.ANY and -math.inf < value < -1e-9 * largest.get(symbol.unit, 0.0):
            return Refused(f"{name} would be {value_text(name, value)}, below zero", refuted=True)
    return None


def is_silent(circuit: Circuit, laws: LawSet, load: LoadModel, given: Iterable[str]) -> bool:
    """Whether a region's laws lack something given (a slope of the regulating circuit) of which those of the usual
    region speak: then it fits because it says nothing."""
    usual = derive(circuit, circuit.regions[0], load)
    return any(name in usual.symbols and name not in laws.symbols for name in given)


def in_order(circuit: Circuit, states: list[State]) -> list[State]:
    """States that differ, the one to be taken first: usual standing values, then the circuit's preference, then the
    nearest to its typical values."""
    distinct: list[State] = []
    for state in states:
        if not any(alike(state.values, other.values) for other in distinct):
            distinct.append(state)
    return sorted(distinct, key=lambda state: _rank(circuit, state.values, distinct))


def _rank(circuit: Circuit, values: Mapping[str, float], states: list[State]) -> tuple[bool, float, float]:
    measure = 0.0
    if circuit.root_preference is not None:
        name, greatest, _ = circuit.root_preference
        # What differs by rounding alone is no preference: measured in steps of a millionth of the largest.
        step = CLOSE * max(abs(state.values.get(name, 0.0)) for state in states) or 1.0
        measure = (-1 if greatest else 1) * round(values.get(name, 0.0) / step)
    return unusual(circuit, values) is not None, measure, _distance(circuit, values)


def _distance(circuit: Circuit, values: Mapping[str, float]) -> float:
    """How far values lie from the typical ones: the sum of squared logarithms of their ratios."""
    ratios = [values[name] / usual for name, usual in circuit.typical.items() if name in values and usual > 0]
    return sum(math.log(ratio) ** 2 if ratio > 0 else 1e3 for ratio in ratios)


def told_apart(circuit: Circuit, states: list[State]) -> bool:
    """Whether the circuit's preference tells the first of ordered states from the second."""
    if circuit.root_preference is None or len(states) < 2:
        return False
    first, second = (_rank(circuit, state.values, states) for state in states[:2])
    return first[0] == second[0] and first[1] != second[1]


def unusual(circuit: Circuit, values: Mapping[str, float]) -> str | None:
    """The sentence about a standing value (V_BE) that comes out far from what such a part has; None when none does."""
    for name, usual in circuit.defaults.items():
        value = values.get(name, usual)
        if not usual / USUAL <= value <= usual * USUAL:
            return f"{name} would be {value_text(name, value)}, far from its usual {value_text(name, usual)}"
    return None


def alike(one: Mapping[str, float], other: Mapping[str, float]) -> bool:
    """Whether two sets of values agree wherever both speak, to a part in a million of the larger."""
    shared = one.keys() & other.keys()
    return all(abs(one[name] - other[name]) <= CLOSE * max(abs(one[name]), abs(other[name]), 1e-12) for name in shared)
