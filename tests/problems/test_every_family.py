"""The contract every family keeps, over every level and 200 numbers."""

from __future__ import annotations

import dataclasses
import json
import math
import re
from functools import cache

import pytest

import tutor
from tutor.generate.draws import acceptance, draw_numbers
from tutor.generate.family import Choose, FindBound, Stock
from tutor.generate.level_run import APART
from tutor.generate.problem import WaypointKind
from tutor.quantities.dimensions import check_equation
from tutor.quantities.preferred import is_preferred
from tutor.quantities.quantity import write
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.solution.desk import Desk, WorkedProblem
from tutor.views.plain import chain_text, prose_text

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]
NUMBERS = range(1, 201)
every_level = pytest.mark.parametrize(("family", "level"), LEVELS)


@cache
def desk() -> Desk:
    return tutor.open_desk()


@cache
def problems(family: str, level: int) -> tuple[WorkedProblem, ...]:
    return tuple(desk().batch(desk().level(family, level), NUMBERS))


def texts(worked: WorkedProblem) -> list[str]:
    """Every sentence and line a reader meets in a problem."""
    problem, solution = worked.problem, worked.solution
    found = [problem.statement, problem.ask, solution.bench, *(row.label for row in problem.table)]
    found += [row.value for row in problem.table] + [point.prompt for point in problem.waypoints]
    found += [slip.name + ". " + slip.why + " " + slip.hint for point in problem.waypoints for slip in point.slips]
    for step in solution.steps:
        found += [step.title, step.why, step.text, step.band]
    found += [check.text for check in solution.checks]
    lines = [chain_text(chain) for step in solution.steps for chain in step.chains]
    return [prose_text(text) for text in found if text] + lines


@every_level
def test_feasible_at_all_corners(family: str, level: int) -> None:
    """Every closing check holds, and there is at least one."""
    for worked in problems(family, level):
        assert all(check.holds for check in worked.solution.checks), worked.problem.name
        assert worked.solution.checks, worked.problem.name


@every_level
def test_every_number_is_finite_and_every_given_safe(family: str, level: int) -> None:
    """Nothing is nan or infinite; no direct voltage is above 60 V end to end."""
    for worked in problems(family, level):
        for key, quantity in worked.problem.given.items():
            assert math.isfinite(quantity.value), (worked.problem.name, key)
            mains = key.startswith("V_PRI")  # alternating, behind the transformer, and only ever a block
            assert mains or quantity.unit != "V" or abs(quantity.value) <= 60, (worked.problem.name, key)
        assert all(math.isfinite(quantity.value) for quantity in worked.problem.answers.values())


@every_level
def test_choices_are_preferred_values_that_fit(family: str, level: int) -> None:
    """What the model solution chooses is among what is accepted, and all of that is on a shelf."""
    asks = {ask.quantity: ask for ask in desk().level(family, level).level.asks if isinstance(ask, Choose)}
    for worked in problems(family, level):
        for point in worked.problem.waypoints:
            if point.kind is WaypointKind.CHOICE and point.answer is not None:
                assert point.answer.value in point.accepted, worked.problem.name
                series = asks[point.key].series if point.key in asks else None
                if isinstance(series, Stock):
                    assert set(point.accepted) <= set(series.values), worked.problem.name
                elif series is not None:
                    assert all(is_preferred(value, series) for value in point.accepted)


@every_level
def test_drawn_zeners_are_on_sale(family: str, level: int) -> None:
    """A zener's voltage at its test current is one of a catalogue's, with the slope printed there."""
    rows = [row for catalogue in ("zeners", "zeners-1n5200") for row in desk().parts[catalogue].rows]
    sold = {(row["V_Z"], row["I_ZT"], row["r_z"]) for row in rows}
    voltages = {volts for volts, _, _ in sold}
    for worked in problems(family, level):
        given = {name: quantity.value for name, quantity in worked.problem.given.items()}
        if "V_ZT" in given:
            assert (given["V_ZT"], given["I_ZT"], given["r_z"]) in sold, worked.problem.name
        if "V_Z" in given:
            assert given["V_Z"] in voltages, worked.problem.name


@every_level
def test_slips_stand_apart_from_the_answer(family: str, level: int) -> None:
    """By three tolerances: a slip nearer than that would pass as right."""
    for worked in problems(family, level):
        for point in worked.problem.waypoints:
            for slip in point.slips:
                if point.kind is WaypointKind.CHOICE:
                    assert slip.value not in point.accepted, (worked.problem.name, slip.id)
                else:
                    assert point.answer is not None
                    right = point.answer.value
                    assert abs(slip.value - right) >= APART * abs(right) * 0.999999, (worked.problem.name, slip.id)


@every_level
def test_the_solution_reaches_what_is_wanted(family: str, level: int) -> None:
    """Each waypoint is reached by a step, in the order asked, with the answer's own value."""
    for worked in problems(family, level):
        reached = [step.waypoint for step in worked.solution.steps if step.waypoint]
        assert [key for key in reached if key in worked.problem.wanted] == list(worked.problem.wanted)
        results = {step.waypoint: step.result for step in worked.solution.steps if step.waypoint}
        for key, answer in worked.problem.answers.items():
            result = results[key]
            assert result is not None and result.value == pytest.approx(answer.value, rel=1e-9), key


@every_level
def test_units_balance_in_every_plan(family: str, level: int) -> None:
    """Both sides of every law used have one dimension."""
    for region in desk().level(family, level).regions:
        for stage in region.plan.asks:
            for step in () if stage is None else stage.plan.steps:
                check_equation(step.equation)


@every_level
def test_the_statement_is_complete(family: str, level: int) -> None:
    """Every given stands in the statement or its table beside its symbol, as the solution will use it."""
    for worked in problems(family, level):
        told = worked.problem.statement
        in_table = {row.symbol: row.value for row in worked.problem.table}
        for key, quantity in worked.problem.given.items():
            beside = f"${key}$ = {quantity.text}".replace(" ", "\u00a0")
            assert beside in told or in_table.get(key) == quantity.text, (worked.problem.name, key)


@every_level
def test_the_solution_uses_only_what_is_told(family: str, level: int) -> None:
    """Solvable from what it says alone: every input of every plan is a given or found before."""
    ready = desk().level(family, level)
    for region in ready.regions:
        known = set(ready.level.given)
        for key, stage in zip(region.plan.keys, region.plan.asks, strict=True):
            if stage is not None:
                from_keys = {name for _, expr in stage.inputs for name in _names(expr)}
                from_keys |= {f"{base}_{end}" for base in stage.box for end in ("MIN", "MAX")}
                assert from_keys <= known, (key, from_keys - known)
            known.add(key)


def _names(expr: object) -> set[str]:
    return set(re.findall(r"name='(\w+)'", repr(expr)))


@every_level
def test_cautions_are_present(family: str, level: int) -> None:
    """Every problem could be built, so every problem warns."""
    for worked in problems(family, level):
        assert worked.problem.cautions and all(text.endswith(".") for text in worked.problem.cautions)


@every_level
def test_reading_aloud_makes_sense(family: str, level: int) -> None:
    """No 0.0, no nan, no unit twice, no unfilled brace, no doubled stop or space, no dollar left."""
    bad = re.compile(
        r"\b0\.0\b|\bnan\b|\binf\b|[{}$]|\.\.|  |,,|;;|\b1 resistors\b|\b(V|mA|Ω|mW|W|A) \1\b|\bNone\b|=\s*$",
        re.MULTILINE,
    )
    for worked in problems(family, level):
        for text in texts(worked):
            found = bad.search(text.replace("\u00a0", " "))
            assert found is None, (worked.problem.name, found and found.group(), text)


@every_level
def test_a_problem_survives_json(family: str, level: int) -> None:
    """As plain data and back, nothing is lost."""
    for worked in problems(family, level)[:20]:
        data = dataclasses.asdict(worked.problem)
        for point in data["waypoints"]:
            point["kind"] = point["kind"].value
        assert json.loads(json.dumps(data)) == json.loads(json.dumps(json.loads(json.dumps(data))))
        assert json.loads(json.dumps(data))["name"] == worked.problem.name


@every_level
def test_variety_and_acceptance(family: str, level: int) -> None:
    """Of 1,000 numbers at least 500 differ in their givens; a design has 5 chosen values; 2 % of candidates pass."""
    ready = desk().level(family, level)
    drawn = draw_numbers(ready, desk().parts, range(1, 1001))
    sets = {tuple(float(item.run.env[key][0]) for key in ready.level.given) for item in drawn}
    assert len(sets) >= 500
    if any(isinstance(ask, Choose) and ask.quantity == "R" for ask in ready.level.asks):
        assert len({float(item.run.env["R"][0]) for item in drawn}) >= 5
    measured = acceptance(ready, desk().parts)
    assert measured.accepted >= 0.02 * measured.candidates, measured.refused


@pytest.mark.parametrize("family", tutor.families())
def test_levels_differ_in_what_they_ask(family: str) -> None:
    """Not in number ranges alone: the asks and the laws of their plans differ from level to level."""
    shapes = []
    for level in (1, 2, 3):
        plan = desk().level(family, level).regions[0].plan
        laws = [step.law for stage in plan.asks if stage is not None for step in stage.plan.steps]
        shapes.append((plan.keys, tuple(laws)))
    assert len(set(shapes)) == 3


@pytest.mark.parametrize("family", tutor.families())
def test_six_wordings_and_no_two_alike(family: str) -> None:
    """Settings vary, so that a learner does not know a problem by its first words."""
    scenarios = desk().family(family).scenarios
    assert len(set(scenarios)) == len(scenarios) >= 6


@pytest.mark.parametrize("family", tutor.families())
def test_every_bound_names_its_corner(family: str) -> None:
    """Where something ranges, the step says which corner and why."""
    for level in (1, 2, 3):
        ready = desk().level(family, level)
        bounds = {
            key
            for ask, key in zip(ready.level.asks, ready.regions[0].plan.keys, strict=True)
            if isinstance(ask, FindBound) and ready.level.ranges
        }
        for worked in problems(family, level)[:10]:
            told = " ".join(step.why for step in worked.solution.steps)
            assert not bounds or "because $" in told, worked.problem.name


def test_units_of_every_key_are_known() -> None:
    """Every answer's key is a letter symbol of the table, or the state."""
    for family, level in LEVELS:
        for worked in problems(family, level)[:5]:
            for key, answer in worked.problem.answers.items():
                assert is_symbol(key) and write(answer.value, symbol_for(key).unit)
