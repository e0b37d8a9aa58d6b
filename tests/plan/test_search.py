"""From the givens to the wanted by the cheapest chain; what does not follow says what would help."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.circuit.circuit import LoadModel
from tutor.errors import Unreachable
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive, load_model
from tutor.laws.law import Law, LawSet
from tutor.plan.moves import Moves, chain_to, ways_from
from tutor.plan.plan import Plan, plan_from_json, plan_to_json
from tutor.plan.search import carried_on, search
from tutor.quantities.expression import symbols_of
from tutor.quantities.formula import read_equation
from tutor.quantities.notation import plain
from tutor.quantities.relation_form import RelationForm

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def laws_of(circuit_id: str, known: list[str]) -> LawSet:
    found = FOLDER.circuit(circuit_id)
    readings = sorted({name[-1] for name in known if name[-2:] in ("_1", "_2")})
    return derive(found, found.regions[0], load_model(known), readings=readings)


def plan(circuit_id: str, known: str, wanted: str) -> Plan:
    names = known.split()
    found = FOLDER.circuit(circuit_id)
    return search(laws_of(circuit_id, names), names, wanted.split(), found.preferred)


# Givens, wanted, and the chain a person would write: target = expression, in order.
CHAINS = [
    ("zener-shunt", "V_I R V_Z I_L", "I_Z", ["I_Z = (V_I − V_Z)/R − I_L"]),
    ("zener-shunt", "V_I V_Z I_L I_Z", "R", ["R = (V_I − V_Z)/(I_L + I_Z)"]),
    ("zener-shunt", "V_I R V_Z I_L", "I_R I_Z", ["V_O = V_Z", "I_R = (V_I − V_O)/R", "I_Z = I_R − I_L"]),
    ("zener-shunt", "V_I R V_Z I_L", "I_Z P_Z", ["I_Z = (V_I − V_Z)/R − I_L", "P_Z = V_Z I_Z"]),
    ("zener-shunt", "V_Z P_ZM", "I_ZM", ["I_ZM = P_ZM/V_Z"]),
    ("zener-shunt", "V_ZT r_z I_ZT I_Z", "V_Z", ["V_Z = V_ZT + r_z (I_Z − I_ZT)"]),
    ("source", "V_OC R_S I_I", "V_I", ["V_I = V_OC − I_I R_S"]),
    (
        "source", "V_I_1 I_I_1 V_I_2 I_I_2", "R_S V_OC",
        ["R_S = (V_I_1 − V_I_2)/(I_I_2 − I_I_1)", "V_OC = V_I_1 + I_I_1 R_S"],
    ),
    ("follower", "V_Z V_BE", "V_O", ["V_O = V_Z − V_BE"]),
    ("follower", "I_L h_FE", "I_B", ["I_B = I_L/(h_FE + 1)"]),
    ("follower", "V_I R V_Z V_BE I_L I_Z", "h_FE", ["I_B = (V_I − V_Z)/R − I_Z", "h_FE = I_L/I_B − 1"]),
]  # fmt: skip


@pytest.mark.parametrize(("circuit_id", "known", "wanted", "chain"), CHAINS)
def test_the_cheapest_chain_is_the_one_a_person_takes(circuit_id: str, known: str, wanted: str, chain: list[str]):
    """No detour through what is not needed; composites before their parts."""
    found = plan(circuit_id, known, wanted)
    written = [f"{step.target} = {plain(step.expr)}" for step in found.steps if step.expr is not None]
    assert written == chain


def test_the_wanted_come_in_the_order_asked():
    """What was found before costs nothing, and later wants lean on it."""
    forward, backward = plan("zener-shunt", "V_I R V_Z I_L", "I_R I_Z"), plan("zener-shunt", "V_I R V_Z I_L", "I_Z I_R")
    assert [step.target for step in forward.steps if step.target in ("I_R", "I_Z")] == ["I_R", "I_Z"]
    assert [step.target for step in backward.steps if step.target in ("I_R", "I_Z")] == ["I_Z", "I_R"]
    assert forward.wanted == ("I_R", "I_Z")


PLANS = [(circuit_id, known, wanted) for circuit_id, known, wanted, _ in CHAINS] + [
    ("zener-shunt", "V_I R V_Z0 r_z R_L", "V_O I_L P_Z"),
    ("follower", "V_I R V_Z0 r_z V_BE R_L h_FE", "V_O I_Z P_Q"),
    ("source", "V_OC R_S P_O", "I_I V_I R_L"),
]


@pytest.mark.parametrize(("circuit_id", "known", "wanted"), PLANS)
def test_every_step_rests_on_what_stands_before_it(circuit_id: str, known: str, wanted: str):
    """Nothing is used before it is given or found, nothing is found twice, and nothing given is found."""
    found = plan(circuit_id, known, wanted)
    have = set(known.split())
    for step in found.steps:
        parts = (step.expr,) if step.expr is not None else step.coefficients
        assert {name for part in parts for name in symbols_of(part)} <= have, step.target
        assert step.target not in have
        have.add(step.target)
    assert set(wanted.split()) <= have


@pytest.mark.parametrize(("circuit_id", "known", "wanted"), PLANS)
def test_no_step_is_idle(circuit_id: str, known: str, wanted: str):
    """Each step is wanted, or used by a later one."""
    found = plan(circuit_id, known, wanted)
    for place, step in enumerate(found.steps):
        later = [
            part for item in found.steps[place + 1 :] for part in (item.expr, *item.coefficients) if part is not None
        ]
        assert step.target in wanted.split() or any(step.target in symbols_of(part) for part in later), step.target


@pytest.mark.parametrize(("circuit_id", "known", "wanted"), PLANS)
def test_a_plan_survives_json(circuit_id: str, known: str, wanted: str):
    """Stored and read back it is the same value: no algebra is needed to run it again."""
    found = plan(circuit_id, known, wanted)
    assert plan_from_json(plan_to_json(found)) == found


REFUSED = [
    ("zener-shunt", "V_I R V_Z", "I_Z", "I_Z does not follow from V_I, R, V_Z; give one of these too: I_L, ", "I_L"),
    ("zener-shunt", "V_I R", "I_Z", "I_Z does not follow from V_I, R; more than one more is needed", ""),
    ("zener-shunt", "V_I R", "h_FE", "no law of this circuit speaks of h_FE", ""),
    ("zener-shunt", "", "I_Z", "I_Z does not follow from nothing; more than one more is needed", ""),
    ("follower", "V_Z", "V_O", "V_O does not follow from V_Z; give one of these too: V_BE", "V_BE"),
    ("source", "V_OC", "V_I", "V_I does not follow from V_OC; give one of these too: ", "V_R"),
]


@pytest.mark.parametrize(("circuit_id", "known", "wanted", "sentence", "helpful"), REFUSED)
def test_what_does_not_follow_says_what_would_help(
    circuit_id: str, known: str, wanted: str, sentence: str, helpful: str
):
    """One sentence, and the names that would close the gap beside it."""
    with pytest.raises(Unreachable) as caught:
        plan(circuit_id, known, wanted)
    assert caught.value.sentence.startswith(sentence)
    assert caught.value.values["wanted"] == wanted
    missing = caught.value.values["missing"]
    assert isinstance(missing, tuple)
    assert (helpful in missing) if helpful else missing == ()


@pytest.mark.parametrize(("circuit_id", "known", "wanted"), [row[:3] for row in REFUSED if row[4]])
def test_what_is_said_to_help_does(circuit_id: str, known: str, wanted: str):
    """Each of the names offered closes the gap when it is given too."""
    with pytest.raises(Unreachable) as caught:
        plan(circuit_id, known, wanted)
    missing = caught.value.values["missing"]
    assert isinstance(missing, tuple) and missing
    laws, found = laws_of(circuit_id, known.split()), FOLDER.circuit(circuit_id)
    for name in missing:
        assert search(laws, [*known.split(), name], [wanted], found.preferred).step(wanted)


def toy(*laws: tuple[str, str, float]) -> LawSet:
    """A law set from ids, formulas and costs."""
    return LawSet(tuple(Law(law_id, law_id, read_equation(text), "", "", cost) for law_id, text, cost in laws), ())


def test_a_dear_law_is_passed_over_for_two_cheap_ones():
    """Cost decides: the long way at 3 steps of 0.2 beats the short one at 5."""
    laws = toy(("short", "P_R = V_R^2/R", 5.0), ("first", "I_R = V_R/R", 0.2), ("second", "P_R = V_R*I_R", 0.2))
    found = search(laws, ["V_R", "R"], ["P_R"])
    assert [step.law for step in found.steps] == ["first", "second"]
    cheaper = search(toy(("short", "P_R = V_R^2/R", 0.1), *(("first", "I_R = V_R/R", 1.0), ("second", "P_R = "
    "V_R*I_R", 1.0))),
                     ["V_R", "R"], ["P_R"])  # fmt: skip
    assert [step.law for step in cheaper.steps] == ["short"]


def test_what_was_found_before_costs_nothing_and_saves_nothing():
    """Three quantities at hand are no reason to take the dearer law that uses them all."""
    known = ("V_Z", "r_z", "I_R", "I_L", "I_B")
    laws = toy(("two", "I_Z = V_Z/r_z", 1.0), ("three", "I_Z = I_R - I_L - I_B", 1.5))
    more = carried_on(Moves(laws), Plan(known, (), ()), "I_Z")
    assert more is not None and [step.law for step in more.steps] == ["two"]
    assert carried_on(Moves(laws), Plan(known[2:4], (), ()), "I_Z") is None


def test_ways_reach_all_that_follows_by_single_unknown_laws():
    """A way's cost is the sum along its chain; givens cost what they are given at."""
    laws = toy(("ohm", "I_R = V_R/R", 1.0), ("power", "P_R = V_R*I_R", 1.0), ("other", "V_Z = V_Z0 + r_z*I_Z", 1.0))
    ways = ways_from(Moves(laws), {"V_R": 0.0, "R": 0.0})
    assert set(ways) == {"V_R", "R", "I_R", "P_R"}
    assert ways["R"].move is None and ways["P_R"].cost > ways["I_R"].cost > 1.0
    assert ways_from(Moves(laws), {"V_R": 2.0, "R": 0.0})["I_R"].cost - ways["I_R"].cost == pytest.approx(2.0)
    assert [move.target for move in chain_to(ways, ("P_R",), ())] == ["I_R", "P_R"]
    assert [move.target for move in chain_to(ways, ("P_R",), ("I_R",))] == ["P_R"]


def test_a_load_model_is_told_by_the_givens_of_the_plan():
    """The same question with R_L or I_L given takes the load's own way."""
    assert load_model(["V_I", "R_L"]) is LoadModel.RESISTOR
    assert [step.target for step in plan("zener-shunt", "V_I R V_Z R_L", "I_Z").steps][-1] == "I_Z"
    assert "I_L" in {step.target for step in plan("zener-shunt", "V_I R V_Z R_L", "I_Z").steps}


def test_a_step_is_worked_out_from_its_expression_or_its_coefficients():
    """The power of a source is a quadratic in its current: P_O = V_OC I − R_S I²; what the current drops is not."""
    steps = {step.target: step for step in plan("source", "V_OC R_S P_O", "I_I V_I").steps}
    assert steps["I_I"].degree == 2 and steps["I_I"].sides == steps["I_I"].coefficients
    assert {name for side in steps["I_I"].sides for name in symbols_of(side)} == {"V_OC", "R_S", "P_O"}
    assert steps["V_I"].degree == 1 and steps["V_I"].sides == (steps["V_I"].expr,)
    assert isinstance(steps["V_I"].form, RelationForm)
    with pytest.raises(ValueError, match="the step that finds I_I has no closed form"):
        _ = steps["I_I"].form
