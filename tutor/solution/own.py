"""Anybody's own numbers on any circuit: read, resolved, worked, checked.

Place in the data flow: a circuit id and NAME=VALUE texts -> Resolved (plan) -> WorkedAnswer.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from tutor.circuit.circuit import Circuit, Variant
from tutor.errors import Contradiction, SteadyrailError
from tutor.plan.regions import resolve
from tutor.plan.resolved import OtherState, Resolved
from tutor.plan.states import alike
from tutor.plan.verify import holds
from tutor.quantities.expression import Sym
from tutor.quantities.formula import formula_text
from tutor.quantities.notation import relation_sign
from tutor.quantities.quantity import Quantity, given, write
from tutor.quantities.symbols import symbol_for
from tutor.solution.answer import WorkedAnswer
from tutor.solution.desk import our_desk
from tutor.solution.numbers import Writing
from tutor.solution.own_values import read_own, symbol_meant
from tutor.solution.solution import Check, WorkedStep
from tutor.solution.steps import plan_steps

SAFE_VOLTS = 60.0  # d.c. end to end; above it a supply counts as a hazard


def solve(
    circuit: str, values: Mapping[str, str | float], find: Iterable[str] = (), assume: Mapping[str, str] | None = None
) -> WorkedAnswer:
    """Work a circuit's numbers: `values` by symbol, as text (`15V`, `2k2`) or in SI; `find` the wanted, all if empty.

    A circuit that comes in several forms takes `form` (`bridge`) among its values. `assume` chooses conventions and
    standing values (`base-current`, `V_BE`). Raises a SteadyrailError, one sentence,
    when a name is unknown, a value cannot be read, or the values contradict each other or do not suffice.
    """
    found, told = our_desk().circuit_for(circuit, values)
    own = read_own(found, told, assume)
    wanted = tuple(symbol_meant(found, name) for name in find)
    conventions = own.conventions
    try:
        resolved = resolve(found, own.numbers, wanted, conventions)
    except Contradiction:
        named = {name: value for name, value in conventions.items() if name in (assume or {})}
        if named == conventions:
            raise
        # A convention that what is given brought with it does not apply to these numbers: the usual one then does.
        conventions = named
        resolved = resolve(found, own.numbers, wanted, conventions)
    return _answer(found, resolved, own.numbers, wanted, conventions)


def _answer(
    circuit: Circuit,
    resolved: Resolved,
    numbers: Mapping[str, float],
    wanted: tuple[str, ...],
    conventions: Mapping[str, str],
) -> WorkedAnswer:
    exact = frozenset((*numbers, *resolved.defaults))
    writing = Writing({}, resolved.values, exact)
    reasons = {choice.target: choice.why for choice in resolved.roots}
    asked = wanted or resolved.plan.wanted
    worked = zip(resolved.plan.steps, plan_steps(resolved.plan, writing, reasons), strict=True)
    told = [replace(step, waypoint=planned.target) if planned.target in asked else step for planned, step in worked]
    steps = [*_tried_steps(resolved), *told]
    quantities = {
        name: given(value, symbol_for(name).unit) if name in exact else Quantity(value, symbol_for(name).unit)
        for name, value in resolved.values.items()
    }
    assumed = {**{name: value[0] for name, value in circuit.convention_values().items()}, **conventions}
    assumed |= {name: given(value, symbol_for(name).unit).text for name, value in resolved.defaults.items()}
    checks = [*_region_checks(resolved), *_approximation_checks(circuit, resolved, numbers, conventions)]
    return WorkedAnswer(
        circuit.stem, circuit.form or resolved.load.value, resolved.region.words, tuple(steps), quantities, asked,
        tuple(checks), (*_warnings(resolved), *_further_states(circuit, resolved, wanted)), assumed,
    )  # fmt: skip


def _tried_steps(resolved: Resolved) -> list[WorkedStep]:
    """A region assumed and found wanting is part of the working."""
    return [
        WorkedStep(
            f"Assume that {tried.region.words}",
            "A region is assumed, solved and then tested; this one fails its test.",
            (), f"With these values {tried.why}. So the assumption falls.", "", "", None, "",
        )
        for tried in resolved.tried
    ]  # fmt: skip


def _region_checks(resolved: Resolved) -> list[Check]:
    """The inequalities of the region that speak of one quantity, each with its numbers."""
    checks = []
    for bound in resolved.laws.bounds:
        sides = (bound.equation.lhs, bound.equation.rhs)
        names = [side.name for side in sides if isinstance(side, Sym)]
        if not isinstance(sides[0], Sym) or not all(name in resolved.values for name in names):
            continue
        left, right = (
            f"${side.name}$ = {write(resolved.values[side.name], symbol_for(side.name).unit)}"
            if isinstance(side, Sym)
            else formula_text(side)
            for side in sides
        )
        text = f"{left} {relation_sign(bound.equation.relation)} {right}: {resolved.region.words}, as assumed"
        checks.append(Check(text, holds(bound, resolved.values), ""))
    return checks


def _approximation_checks(
    circuit: Circuit, resolved: Resolved, numbers: Mapping[str, float], conventions: Mapping[str, str]
) -> list[Check]:
    """An approximation in use: its error, derived by working the exact circuit beside it."""
    checks: list[Check] = []
    for variant in circuit.variants:
        if variant.watches and conventions.get(variant.convention) == variant.value:
            exact_way = circuit.convention_values()[variant.convention][0]
            others = {**conventions, variant.convention: exact_way}
            try:
                exact = resolve(circuit, numbers, (), others)
            except SteadyrailError:
                continue
            checks += _error_check(variant, resolved, exact)
    return checks


def _error_check(variant: Variant, resolved: Resolved, exact: Resolved) -> list[Check]:
    name = variant.watches
    if name not in exact.values or name not in resolved.values:
        return []
    against = variant.against or name
    scale = abs(exact.values.get(against, 0.0))
    if scale == 0:
        return []
    error = abs(exact.values[name] - resolved.values[name]) / scale
    # 1/50 is 2 %, whatever the last bit of a quotient says.
    held = error <= variant.limit * (1 + 1e-9)
    told = f"the error is {write(error, '%')} of ${against}$, and up to {write(variant.limit, '%')} is allowed"
    text = f"{variant.title}: {told}" + ("" if held else "; work it exactly")
    return [Check(text, held, "")]


def _warnings(resolved: Resolved) -> tuple[str, ...]:
    values = resolved.values
    found = []
    volts = [value for name, value in values.items() if name.startswith(("V_I", "V_O"))]
    if volts and max(volts) > SAFE_VOLTS:
        found.append(
            f"A supply of {write(max(volts), 'V')} is above {write(SAFE_VOLTS, 'V')} d.c. end to end and counts as a "
            "hazard: on paper only."
        )
    if "I_Z" in values and "I_ZK" in values and values["I_Z"] < values["I_ZK"]:
        found.append("The zener carries less than its least current: its voltage is not well held.")
    if "I_K" in values and "I_K_MIN" in values and values["I_K"] < values["I_K_MIN"]:
        found.append("The reference carries less than its least current: it lets go of the output.")
    for power, rating in (("P_Z", "P_ZM"), ("P_R", "P_RM"), ("P_Q", "P_QM")):
        if power in values and rating in values and values[power] > values[rating]:
            found.append(f"{power} exceeds {rating}: the part would be overloaded.")
    return tuple(found)


def _further_states(circuit: Circuit, resolved: Resolved, asked: tuple[str, ...]) -> list[str]:
    """Other states that the same values fit: told, so that the answer does not pass for the only one."""
    found = []
    for other in resolved.others:
        told = _differing(circuit, resolved, other, asked)
        where = "" if other.region == resolved.region else f": {other.region.words}"
        said = f" {other.region.further}." if where and other.region.further else ""
        found.append(f"These values fit a further state too{where}, with {' and '.join(told)}.{said}")
    return found


def _differing(circuit: Circuit, resolved: Resolved, other: OtherState, asked: tuple[str, ...]) -> list[str]:
    """Two quantities by which a further state differs, what was asked first, then standing and part values,
    then the output."""
    roots = [choice.target for choice in resolved.roots]
    outputs = circuit.output_voltages()
    ranked = dict.fromkeys(
        (*asked, *circuit.defaults, *circuit.constants, *roots, *outputs, *circuit.report, *other.values)
    )
    here, there = resolved.values, other.values
    apart = []
    for name in ranked:
        if name in here and name in there and not alike({name: here[name]}, {name: there[name]}):
            found, taken = (write(values[name], symbol_for(name).unit) for values in (there, here))
            apart.append((found == taken, f"{name} = {found} in place of {taken}"))
    # Those that differ in the figures shown come first.
    return [told for _, told in sorted(apart, key=lambda item: item[0])[:2]]
