"""The checks that close a solution: every requirement at its worst corner, and the region assumed."""

from __future__ import annotations

from tutor.generate.draws import Drawn
from tutor.generate.family import BackLine, CheckLine
from tutor.generate.level_run import ReadyLevel
from tutor.generate.run import StageOutcome
from tutor.generate.sampling import formula_program, program_values
from tutor.generate.stage import Stage
from tutor.quantities.notation import relation_sign
from tutor.quantities.quantity import given, write
from tutor.quantities.symbols import symbol_for
from tutor.solution.requirement import meets, requirement_told, weakest_told
from tutor.solution.solution import Check


def closing_checks(ready: ReadyLevel, drawn: Drawn) -> tuple[Check, ...]:
    """One check for each requirement of the level, then one for each inequality of the region."""
    checks: list[Check] = []
    for line, stage, outcome in zip(ready.level.checks, drawn.region.plan.checks, drawn.run.checks, strict=True):
        if stage is not None and outcome is not None:
            checks.append(_requirement(drawn, line, stage, outcome))
    checks += [_put_back(ready, drawn, line) for line in ready.level.back]
    checks += weakest_told(checks)
    if not checks:
        for test, outcome in zip(drawn.region.tests, drawn.run.tests, strict=True):
            checks += _region_check(ready, drawn, test.stage, outcome)
    return tuple(checks)


def _requirement(drawn: Drawn, line: CheckLine, stage: Stage, outcome: StageOutcome) -> Check:
    value, limit = float(outcome.value[0]), float(drawn.run.env[stage.limit][0])
    return requirement_told(line.words, stage.quantity, stage.relation, value, limit, line.part)


def _put_back(ready: ReadyLevel, drawn: Drawn, line: BackLine) -> Check:
    """A given found again from the results."""
    found = float(program_values(formula_program(line.formula), drawn.run.env, ready.where)[0])
    given_value = float(drawn.run.env[line.key][0])
    unit = symbol_for(line.key).unit
    text = f"{line.words}: ${line.formula}$ = {write(found, unit)}, and ${line.key}$ = {given(given_value, unit).text}"
    return Check(text, abs(found - given_value) <= 1e-9 * abs(given_value), "")


def _region_check(ready: ReadyLevel, drawn: Drawn, stage: Stage, outcome: StageOutcome) -> list[Check]:
    unit = symbol_for(stage.quantity).unit
    value = float(outcome.value[0])
    limit = drawn.run.env.get(stage.limit)
    number = float(limit[0]) if limit is not None else ready.circuit.defaults.get(stage.limit, 0.0)
    sign = relation_sign(stage.relation)
    against = f"${stage.limit}$ = {given(number, unit).text}" if stage.limit else "0"
    words = ready.circuit.region(drawn.run.region).words
    text = f"${stage.quantity}$ = {write(value, unit)} {sign} {against}, so {words}, as assumed"
    return [Check(text, meets(value, number, stage.relation), "")]
