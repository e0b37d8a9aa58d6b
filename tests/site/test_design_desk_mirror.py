"""The scripts of the design desk in V8, held equal to Python: every demand, and the states along a sweep."""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest
from py_mini_racer import MiniRacer

import tutor
from tests.solution.designs_at_hand import DESIGNS, DESK, NUMBERS, design, problems
from tutor.errors import SteadyrailError
from tutor.plan.rule import apply_rules, rules_of
from tutor.solution.design_desk import environment, judge, keys_of
from tutor.solution.design_sweep import SweepSet, sweep_set
from tutor.views.design_desks import DeskContent, desk_of

SEED = 70751
ASSETS = Path(__file__).resolve().parents[2] / "site" / "assets"
SCRIPTS = ("own_states", "own_resolve", "design_desk_judge")
WITHOUT_SWEEP: tuple[str, ...] = ()
SUPPOSED = ("limit-constant:3", "limit-foldback:3")  # about a state that is supposed, not found from the values

JUDGED = """(number, chosen) => {
  const env = Steadyrail.designs.environment(Steadyrail.designs.numbersOf(number), new Map(chosen));
  return JSON.stringify(Steadyrail.designs.judge(env).map((found) =>
    found && [String(found.value), String(found.limit), found.passes, String(found.spare)]));
}"""
SWEPT = """(number, chosen, way, height) => {
  const env = Steadyrail.designs.environment(Steadyrail.designs.numbersOf(number), new Map(chosen));
  const ends = Steadyrail.designs.endsOf(env);
  const found = Steadyrail.designs.sweep(way, height, env, 6);
  const standing = [...ends].map(([name, [low, high]]) => [name, (low + high) / 2]);
  const curves = found.curves.map((curve) => ({ beside: curve.beside, borders: curve.borders.length,
    points: curve.points.map((point) => [point.at, point.region, String(point.height)]) }));
  return JSON.stringify({ standing, beside: found.beside, specified: found.specified, extent: found.extent, curves });
}"""


@cache
def swept(name: str) -> SweepSet | None:
    return sweep_set(DESK.folder, design(name))


@cache
def content(name: str) -> DeskContent:
    return desk_of(design(name), swept(name), problems(name))


class Engine:
    """The desk's scripts in V8 with the data of one desk at a time; a fault may be planted in one of them."""

    def __init__(self, fault: tuple[str, str] = ("", "")) -> None:
        self.racer = MiniRacer()
        self.racer.eval("var Steadyrail = { checker: { write: (value) => String(value) } };")
        planted = 0
        for name in SCRIPTS:
            text = (ASSETS / f"{name}.js").read_text(encoding="utf-8")
            if fault[0] and fault[0] in text:
                assert text.count(fault[0]) == 1
                text, planted = text.replace(*fault), planted + 1
            self.racer.eval(text)
        assert planted == bool(fault[0])

    def take(self, name: str) -> None:
        self.racer.eval(f"Steadyrail.ownData = {json.dumps(content(name).data)}; 0")

    def judged(self, number: int, chosen: dict[str, float]) -> list[Any]:
        found: list[Any] = json.loads(str(self.racer.eval(f"({JUDGED})({number}, {json.dumps([*chosen.items()])})")))
        return found

    def swept(self, number: int, chosen: dict[str, float], way: str, height: str) -> dict[str, Any]:
        told = json.dumps([*chosen.items()])
        script = f"({SWEPT})({number}, {told}, {json.dumps(way)}, {json.dumps(height)})"
        found: dict[str, Any] = json.loads(str(self.racer.eval(script)))
        return found


@cache
def engine() -> Engine:
    return Engine()


def choices(name: str, random: Random) -> dict[str, float]:
    """Parts picked from what the page offers."""
    parts = content(name).data["desk"]["parts"]
    return {part["key"]: float(random.choice(part["shelf"])) for part in parts}


def same(text: str, value: float) -> bool:
    here = float(text)
    if math.isnan(here) or math.isnan(value):
        return math.isnan(here) and math.isnan(value)
    return here == value or abs(here - value) <= 1e-9 * max(abs(here), abs(value), 1e-9)


def differences(name: str, engine: Engine, count: int) -> list[str]:
    """Where scripts and Python disagree about a desk, over choices that fit and choices picked at random."""
    engine.take(name)
    desk, random, found = design(name), Random(f"{SEED} {name}"), []
    for item, number in zip(problems(name), NUMBERS, strict=True):
        numbers = desk.numbers(item.drawn)
        for chosen in (desk.chosen(item.drawn), *(choices(name, random) for _ in range(count))):
            for one, there in zip(judge(desk, numbers, chosen), engine.judged(number, chosen), strict=True):
                value, limit, passes, spare = there
                close = abs(one.spare) <= 1e-8 * abs(one.limit)  # nothing to spare: what rounding leaves of two numbers
                alike = same(value, one.value) and same(limit, one.limit) and (close or same(spare, one.spare))
                if not alike or passes != one.passes:
                    found.append(f"{item.problem.name} {chosen} {one.demand.words}: {there}, {one.value} {one.passes}")
    return found


@pytest.mark.parametrize("name", DESIGNS)
def test_the_scripts_judge_as_python_does(name: str) -> None:
    assert differences(name, engine(), 4) == []


@pytest.mark.parametrize("name", DESIGNS)
def test_what_rests_on_a_part_not_chosen_is_not_judged(name: str) -> None:
    """With one part left out, those rows alone have no finding whose stage, limit or feeds read it."""
    engine().take(name)
    desk, item = design(name), problems(name)[0]
    chosen = desk.chosen(item.drawn)
    feeds = {key: {*keys_of(stage.stage)} for key, stage in desk.feeds}

    def rests(keys: set[str], part: str) -> bool:
        return part in keys or any(rests(feeds[key], part) for key in keys if key in feeds)

    for part in chosen:
        rest = {key: value for key, value in chosen.items() if key != part}
        needed = [rests({*keys_of(row.stage.stage), row.limit}, part) for row in desk.demands]
        assert any(needed), f"{name} {part}"
        assert [found is None for found in engine().judged(1, rest)] == needed, f"{name} {part}"


FAULTS = (
    ("the best corner", "stage.greatest ? here.value > worst.value", "stage.greatest ? here.value < worst.value"),
    ("no place of rest", "if (!(place > low && place < high)) continue;", "continue;"),
    ("the margin left out", "const value = demand.factor * found.worst.value;", "const value = found.worst.value;"),
    ("spare the wrong way", 'demand.relation === ">=" ? value - limit : limit - value', "value - limit"),
    ("the farthest value", "away(value) < away(best) ? value : best", "away(value) > away(best) ? value : best"),
    ("feeds left out", "if (found) env.set(key, round12(found.worst.value));", "if (found) env.set(key, 1);"),
)
TELLING = ("zener-resistor:2", "limit-foldback:3", "opamp-series:3", "design-brief:2", "pass-heat:3")


@pytest.mark.parametrize("fault", FAULTS, ids=[fault[0] for fault in FAULTS])
def test_a_planted_fault_is_noticed(fault: tuple[str, str, str]) -> None:
    planted = Engine(fault[1:])
    assert any(differences(name, planted, 2) for name in TELLING)


def solved(name: str, sweep: SweepSet, values: dict[str, float]) -> tuple[str, dict[str, float]]:
    """The state of the circuit as Python finds it: the region's words ('' for none) and every value."""
    if name in SUPPOSED:
        (plan,) = sweep.plans
        return plan.region.words, apply_rules(rules_of(plan.steps), {**values, **plan.defaults})
    try:
        answer = tutor.solve(sweep.circuit.id, values, (), dict(sweep.conventions))
    except SteadyrailError:
        return "", {}
    return answer.region, {key: item.value for key, item in answer.values.items()}


@pytest.mark.parametrize("name", DESIGNS)
def test_a_sweep_goes_through_the_states_that_solve_finds(name: str) -> None:
    """At the ends and within: the region, and what is shown, to 1e-9; the specified range lies inside."""
    sweep, desk, item = swept(name), design(name), problems(name)[0]
    assert (sweep is None) == (name in WITHOUT_SWEEP)
    if sweep is None:
        return
    engine().take(name)
    chosen, words = desk.chosen(item.drawn), content(name).data["regions"]
    way, height = sweep.ways[0], sweep.heights[-1 if name in SUPPOSED else 0]
    found = engine().swept(1, chosen, way, height)
    low, high = found["extent"]
    assert low <= found["specified"][0] <= found["specified"][1] <= high and low < high
    seen = 0
    for curve in found["curves"]:
        points = curve["points"]
        for at, region, value in (points[0], points[len(points) // 2], points[-1]):
            values = {**dict(found["standing"]), way: at}
            if found["beside"]:
                values[found["beside"]] = curve["beside"]
            expected, there = solved(name, sweep, values)
            if name not in SUPPOSED or region:
                assert words.get(region, "") == expected, f"{name} {values}"
            if region and height in there:
                seen += 1
                assert same(value, there[height]), f"{name} {height} {values}: {value}, {there[height]}"
    assert seen >= 1, name


def test_where_the_region_changes_is_found_to_the_last_figure() -> None:
    """By hand: behind R at V_I the zener of `zener-resistor:1` goes off where the load takes (V_I - V_Z)/R."""
    name = "zener-resistor:1"
    engine().take(name)
    desk, item = design(name), problems(name)[0]
    numbers, chosen = desk.numbers(item.drawn), {"R": 10 * desk.chosen(item.drawn)["R"]}
    found = engine().swept(1, chosen, "I_L", "I_Z")
    edges = [(numbers[f"V_I_{end}"] - numbers["V_Z"]) / chosen["R"] for end in ("MIN", "MAX")]
    env = environment(desk, numbers, chosen)
    assert float(env["R"][0]) == chosen["R"] and found["beside"] == "V_I"
    for curve, edge in zip(found["curves"], edges, strict=True):
        changes = [one for one, other in zip(curve["points"], curve["points"][1:], strict=False) if one[1] != other[1]]
        assert edge < found["extent"][1] and changes[0][1] == "breakdown"
        assert changes[0][0] == pytest.approx(edge, rel=1e-8)
