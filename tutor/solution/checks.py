"""The checks that close a solution: every requirement at its worst corner, and the region assumed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from tutor.generate.draws import Drawn
from tutor.generate.family import BackLine, CheckLine
from tutor.generate.level_run import ReadyLevel, RegionRun, run_region
from tutor.generate.run import Outcome, run
from tutor.generate.sampling import expression_values
from tutor.generate.stage import Stage
from tutor.quantities.formula import read_expression
from tutor.quantities.quantity import given, write
from tutor.quantities.symbols import symbol_for
from tutor.quantities.units import difference_unit
from tutor.solution.solution import Check

_RELATION_WORDS = {">=": "at least", "<=": "at most"}


def closing_checks(ready: ReadyLevel, drawn: Drawn) -> tuple[Check, ...]:
    """One check for each requirement of the level, then one for each inequality of the region."""
    checks: list[Check] = []
    for line, stage, outcome in zip(ready.level.checks, drawn.region.plan.checks, drawn.run.checks, strict=True):
        if stage is not None and outcome is not None:
            checks.append(_requirement(drawn, line, stage, outcome))
    checks += [_put_back(ready, drawn, line) for line in ready.level.back]
    if not checks:
        for test in drawn.region.tests:
            checks += _region_check(ready, drawn, test.stage, run(test, drawn.run.env))
    return tuple(checks)


def margins_of(ready: ReadyLevel, drawn: Drawn, taken: Mapping[str, float]) -> tuple[Check, ...]:
    """Every requirement of a design at its worst corner with somebody's own choices (SI, by key) in it.

    A choice that is not among them is the model's. Empty where the level states no requirement.
    """
    with np.errstate(all="ignore"):  # a choice may be of any size
        own = run_region(ready, drawn.region, drawn.run.env, taken)
    design = replace(drawn, run=own)
    lines = zip(ready.level.checks, drawn.region.plan.checks, own.checks, strict=True)
    return tuple(
        _requirement(design, line, stage, outcome)
        for line, stage, outcome in lines
        if stage is not None and outcome is not None and _has_numbers(own, stage, outcome)
    )


def _has_numbers(run: RegionRun, stage: Stage, outcome: Outcome) -> bool:
    return bool(np.isfinite(outcome.value[0]) and np.isfinite(run.env[stage.limit][0]))


def _requirement(drawn: Drawn, line: CheckLine, stage: Stage, outcome: Outcome) -> Check:
    unit = symbol_for(stage.quantity).unit
    value, limit = float(outcome.value[0]), float(drawn.run.env[stage.limit][0])
    word = _RELATION_WORDS[stage.relation]
    text = f"{line.words}: ${stage.quantity}$ = {write(value, unit)}, {word} {given(limit, unit).text} is needed"
    if stage.relation == "<=":
        text = f"{line.words}: ${stage.quantity}$ = {write(value, unit)}, {word} {given(limit, unit).text} is allowed"
    # A check put at a bound found before meets its limit to the last figure; a picoampere to spare would say nothing.
    at_limit = abs(value - limit) <= 1e-9 * max(abs(value), abs(limit))
    holds = _holds(value, limit, stage.relation)
    left = "to spare" if holds else "missing" if stage.relation == ">=" else "too much"
    margin = "nothing to spare" if at_limit else f"{write(abs(value - limit), difference_unit(unit))} {left}"
    return Check(text, holds, margin)


def _put_back(ready: ReadyLevel, drawn: Drawn, line: BackLine) -> Check:
    """A given found again from the results."""
    expr = read_expression(line.formula)
    found = float(expression_values(expr, drawn.run.env, ready.where)[0])
    given_value = float(drawn.run.env[line.key][0])
    unit = symbol_for(line.key).unit
    text = f"{line.words}: ${line.formula}$ = {write(found, unit)}, and ${line.key}$ = {given(given_value, unit).text}"
    return Check(text, abs(found - given_value) <= 1e-9 * abs(given_value), "")


def _region_check(ready: ReadyLevel, drawn: Drawn, stage: Stage, outcome: Outcome) -> list[Check]:
    unit = symbol_for(stage.quantity).unit
    value = float(outcome.value[0])
    limit = drawn.run.env.get(stage.limit)
    number = float(limit[0]) if limit is not None else ready.circuit.defaults.get(stage.limit, 0.0)
    sign = "≥" if stage.relation == ">=" else "≤"
    against = f"${stage.limit}$ = {given(number, unit).text}" if stage.limit else "0"
    words = ready.circuit.region(drawn.run.region).words
    text = f"${stage.quantity}$ = {write(value, unit)} {sign} {against}, so {words}, as assumed"
    return [Check(text, _holds(value, number, stage.relation), "")]


def _holds(value: float, limit: float, relation: str) -> bool:
    slack = 1e-9 * max(abs(value), abs(limit))
    return value >= limit - slack if relation == ">=" else value <= limit + slack
