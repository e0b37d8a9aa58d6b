"""A design judged at every corner: against the worked solutions, the bounds of the plans, and numbers by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.solution.designs_at_hand import DESIGNS, DESK, NUMBERS, design, fitting, problems, ready
from tutor.generate.family import Choose, FindBound, NoMargin, RoundAway
from tutor.generate.run import runnable
from tutor.quantities.expression import Add, Expr, Neg
from tutor.quantities.symbols import is_symbol
from tutor.solution.design_desk import DemandKind, DesignDesk, JudgedDemand, environment, has_choice, judge
from tutor.solution.requirement import requirement_told


def of_kind(found: tuple[JudgedDemand, ...], kind: DemandKind) -> list[JudgedDemand]:
    return [item for item in found if item.demand.kind is kind]


def test_every_level_with_a_choice_has_a_desk_on_which_every_part_counts() -> None:
    """No part is there whose choice nothing is judged by."""
    assert len(DESIGNS) >= 43
    for name in DESIGNS:
        desk = design(name)
        assert has_choice(ready(name)) and desk.parts and desk.demands, name
        item = problems(name)[0]
        numbers, chosen = desk.numbers(item.drawn), desk.chosen(item.drawn)
        usual = [(one.value, one.limit) for one in judge(desk, numbers, chosen)]
        for part in desk.parts:
            moved = {**chosen, part.key: part.shelf[0] if chosen[part.key] != part.shelf[0] else part.shelf[-1]}
            assert [(one.value, one.limit) for one in judge(desk, numbers, moved)] != usual, f"{name} {part.key}"


@pytest.mark.parametrize("name", DESIGNS)
def test_the_worked_solution_passes_with_the_margins_that_its_checks_tell(name: str) -> None:
    """Every demand passes; each closing check of the solution is a row, word for word, value, limit and margin."""
    desk = design(name)
    for item in problems(name):
        found = judge(desk, desk.numbers(item.drawn), desk.chosen(item.drawn))
        failing = [(one.demand.words, one.value, one.limit) for one in found if not one.passes]
        assert failing == [], item.problem.name
        told = {(check.text, check.holds, check.margin) for check in item.solution.checks}
        checks = of_kind(found, DemandKind.CHECK)
        assert len(checks) == len(desk.ready.level.checks)
        for one in checks:
            row = one.demand
            check = requirement_told(row.words, row.quantity, row.relation, one.value, one.limit)
            assert (check.text, check.holds, check.margin) in told, item.problem.name


@pytest.mark.parametrize("name", DESIGNS)
def test_the_value_past_a_bound_fails_and_so_does_every_slip_that_rounds_away(name: str) -> None:
    """The neighbours of what fits fail somewhere; so does a slip's value, and a rating without its margin."""
    desk, level = design(name), ready(name).level
    asks = {ask.key or ask.quantity: ask for ask in level.asks if isinstance(ask, Choose)}
    edits = {slip.id: slip for slip in level.slips if isinstance(slip.edit, RoundAway | NoMargin)}
    tried = 0
    for item in problems(name):
        numbers, chosen = desk.numbers(item.drawn), desk.chosen(item.drawn)
        wrong: list[tuple[str, float]] = []
        for part in desk.parts:
            fits, ask = fitting(name, item, part.key), asks.get(part.key)
            below = [value for value in part.shelf if value < min(fits)][-1:]
            above = [value for value in part.shelf if value > max(fits)][:1]
            if ask is None or ask.low or ask.near:  # a rating is bounded from below
                wrong += [(part.key, value) for value in below]
            if ask is not None and (ask.high or ask.near):
                wrong += [(part.key, value) for value in above]
        for slip in edits.values():
            value = float(item.drawn.run.slips[slip.id][0]) if slip.id in item.drawn.run.slips else float("nan")
            if value == value and value not in fitting(name, item, slip.at):
                wrong.append((slip.at, value))
        for key, value in wrong:
            tried += 1
            found = judge(desk, numbers, {**chosen, key: value})
            assert not all(one.passes for one in found), f"{item.problem.name} {key} = {value}"
    assert tried >= len(NUMBERS) - 1


@pytest.mark.parametrize("name", DESIGNS)
def test_a_part_at_its_bound_just_meets_what_bounds_it(name: str) -> None:
    """Forwards and backwards agree: where a part's tolerance touches the planned bound, nothing is to spare."""
    desk, level = design(name), ready(name).level
    met, asked = 0, 0
    for item in problems(name)[:2]:
        numbers, chosen, env = desk.numbers(item.drawn), desk.chosen(item.drawn), item.drawn.run.env
        bounds = dict(zip(item.drawn.region.plan.keys, level.asks, strict=True))
        for choice in level.asks:
            for key in (choice.low, choice.high) if isinstance(choice, Choose) else ():
                bound = bounds.get(key)
                if not isinstance(bound, FindBound) or not isinstance(choice, Choose):
                    continue
                asked += 1
                spread = float(env[choice.tolerance][0]) if choice.tolerance else 0.0
                at = float(env[key][0]) / (1 + spread if key == choice.high else 1 - spread)
                found = judge(desk, numbers, {**chosen, choice.quantity: at})
                told = bound.requirement.split()[0::2]
                rows = [one for one in found if [one.demand.quantity, one.demand.limit] == told]
                assert rows, f"{item.problem.name} {bound.requirement}"
                least = min(abs(one.spare) / max(abs(one.limit), 1e-12) for one in rows)
                # A check may look further than the bound does (another zener of its tolerance); none looks less far.
                if least < 1e-9:
                    met += 1
                else:
                    assert any(one.spare < 0 for one in rows), f"{item.problem.name} {bound.requirement} {least}"
    assert met or not asked


def test_the_sample_problem_by_hand() -> None:
    """A 9.1 V zener of 1 W behind 130 Ω, 5 %, from 14 V to 18 V, 5 mA to 30 mA, 5 mA kept in the zener.

    By hand: at 136.5 Ω and 14 V, 4.9 V/136.5 Ω - 30 mA = 5.897 mA; at 123.5 Ω and 18 V the zener takes
    8.9 V/123.5 Ω - 5 mA = 67.06 mA, 610.3 mW; R takes (8.9 V)²/130 Ω = 609.3 mW, times 1.5 914 mW of 1 W.
    150 Ω (157.5 Ω at most) leaves 1.111 mA: the zener starves by 3.889 mA.
    """
    desk = design("zener-resistor:2")
    numbers = {"V_I_MIN": 14.0, "V_I_MAX": 18.0, "V_Z": 9.1, "I_L_MIN": 0.005, "I_L_MAX": 0.03, "I_ZK": 0.005,
               "P_ZM": 1.0, "tol_R": 0.05}  # fmt: skip
    starving, overloading, bound, rating = judge(desk, numbers, {"R": 130.0, "P_RM": 1.0})
    assert starving.value == pytest.approx(4.9 / 136.5 - 0.03, rel=1e-12) and starving.passes
    assert overloading.value == pytest.approx(9.1 * (8.9 / 123.5 - 0.005), rel=1e-12) and overloading.passes
    assert bound.limit == pytest.approx(1 / 9.1, rel=1e-11) and bound.passes
    assert rating.value == pytest.approx(1.5 * 8.9**2 / 130, rel=1e-11) and rating.passes
    starved, *others = judge(desk, numbers, {"R": 150.0, "P_RM": 1.0})
    assert not starved.passes and all(one.passes for one in others)
    assert starved.spare == pytest.approx(4.9 / 157.5 - 0.035, rel=1e-12)


def _turned(expr: Expr) -> Expr:
    assert isinstance(expr, Add)
    first, *rest = expr.terms
    return Add((first, *(term.arg if isinstance(term, Neg) else Neg(term) for term in rest)))


def test_a_tree_with_a_turned_sign_is_noticed() -> None:
    """The comparison with the worked solutions can fail: the current law with its sign turned tells another margin."""
    desk = design("zener-resistor:2")
    first = desk.demands[0]
    steps = first.stage.stage.plan.steps
    at = next(place for place, step in enumerate(steps) if isinstance(step.expr, Add) and step.target == "I_Z")
    expr = steps[at].expr
    assert expr is not None
    wrong = tuple(replace(step, expr=_turned(expr)) if place == at else step for place, step in enumerate(steps))
    stage = replace(first.stage.stage, plan=replace(first.stage.stage.plan, steps=wrong))
    broken = DesignDesk(desk.ready, desk.parts, desk.feeds, (replace(first, stage=runnable(stage)), *desk.demands[1:]))
    item = problems("zener-resistor:2")[0]
    here, there = (judge(one, desk.numbers(item.drawn), desk.chosen(item.drawn))[0] for one in (desk, broken))
    told = {check.text for check in item.solution.checks}
    texts = [requirement_told(one.demand.words, "I_Z", ">=", one.value, one.limit).text for one in (here, there)]
    assert texts[0] in told and texts[1] not in told


@pytest.mark.parametrize("name", DESIGNS)
def test_only_what_is_told_and_chosen_is_needed(name: str) -> None:
    """Every key that a stage reads is told, chosen or worked out first, and what is told leaves out every choice."""
    desk, item = design(name), problems(name)[0]
    numbers, chosen = desk.numbers(item.drawn), desk.chosen(item.drawn)
    assert not {*numbers} & {*chosen, *(key for key, _ in desk.feeds)}
    assert {*desk.ready.level.given} <= {*numbers}
    env = environment(desk, numbers, chosen)
    for key, _ in desk.feeds:
        assert float(env[key][0]) == pytest.approx(float(item.drawn.run.env[key][0]), rel=1e-11), key
    assert all(is_symbol(part.key) for part in desk.parts)


@pytest.mark.parametrize(("name", "key"), [("prestabilised:3", "R_P"), ("design-brief:2", "R")])
def test_whatever_lies_between_bounds_that_forget_a_rating_keeps_to_it_all_the_same(name: str, key: str) -> None:
    """Of these two levels a rating is not among the bounds asked; their draws see to it."""
    desk, tried = design(name), 0
    for item in DESK.batch(ready(name), range(1, 31)):
        numbers, chosen = desk.numbers(item.drawn), desk.chosen(item.drawn)
        for value in fitting(name, item, key):
            found = judge(desk, numbers, {**chosen, key: value})
            failing = [(one.demand.words, one.value, one.limit) for one in found if not one.passes]
            assert failing == [], (item.problem.name, value)
            tried += 1
    assert tried > 60
