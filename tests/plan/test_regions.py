"""Assume a region, solve, verify, plan again: which state a circuit is in, and what its givens may not be."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tutor.circuit.circuit import Circuit, Region
from tutor.errors import Contradiction, Unreachable
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import reading_indices
from tutor.plan.regions import resolve
from tutor.plan.resolved import Resolved

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
Values = dict[str, float]


def solved(circuit_id: str, given: Values, wanted: str = "", **conventions: str) -> Resolved:
    chosen = {name.replace("_", "-"): value for name, value in conventions.items()}
    return resolve(FOLDER.circuit(circuit_id), given, tuple(wanted.split()), chosen)


SHUNT = {"V_I": 15.0, "R": 220.0, "V_Z": 9.1}
FOLLOWER = {"V_I": 20.0, "R": 220.0, "V_Z": 12.0, "V_BE": 0.7, "h_FE": 49.0}

# Worked by hand from Kirchhoff's and Ohm's laws.
STATES = [
    # 15 V × 1000/1220 = 12.30 V > 9.1 V: breakdown; I_R = 5.9/220 = 26.82 mA, I_L = 9.1 mA.
    ("zener-shunt", {**SHUNT, "R_L": 1000.0}, "breakdown", {"V_O": 9.1, "I_R": 5.9 / 220, "I_Z": 5.9 / 220 - 9.1e-3}),
    # 15 V × 100/320 = 4.6875 V < 9.1 V: off, a divider.
    ("zener-shunt", {**SHUNT, "R_L": 100.0}, "off", {"V_O": 4.6875, "I_Z": 0.0, "I_L": 46.875e-3}),
    # A sink of 50 mA takes 11 V across R: 4 V are left.
    ("zener-shunt", {**SHUNT, "I_L": 0.05}, "off", {"V_O": 4.0, "I_Z": 0.0, "P_R": 0.55}),
    # I_L = 11.3 V/100 Ω = 113 mA, I_B = 2.26 mA, I_Z = 36.36 − 2.26 mA.
    ("follower", {**FOLLOWER, "R_L": 100.0}, "regulating", {"V_O": 11.3, "I_B": 2.26e-3, "I_Z": 8 / 220 - 2.26e-3}),
    # At 10 V the zener of 12 V is off: (10 − 0.7) = I_B (220 + 50 × 100), I_B = 1.7816 mA, V_B = 9.608 V.
    ("follower", {**FOLLOWER, "V_I": 10.0, "R_L": 100.0}, "starved", {"I_B": 9.3 / 5220, "V_O": 9.3 / 5220 * 5000}),
    # Below one junction nothing conducts.
    ("follower", {**FOLLOWER, "V_I": 0.5, "R_L": 100.0}, "off", {"V_O": 0.0, "V_B": 0.5, "P_I": 0.0}),
]


@pytest.mark.parametrize(("circuit_id", "given", "region", "expected"), STATES)
def test_the_region_that_holds_is_found(circuit_id: str, given: Values, region: str, expected: Values):
    """Breakdown or off; regulating, starved or off: with the values of that state."""
    found = solved(circuit_id, given)
    assert found.region.id == region
    for name, value in expected.items():
        assert found.values[name] == pytest.approx(value, rel=1e-9, abs=1e-15), name


def test_a_region_assumed_and_refuted_is_part_of_the_working():
    """What was tried first, and the inequality that spoke against it."""
    found = solved("zener-shunt", {**SHUNT, "R_L": 100.0})
    assert [(item.region.id, item.why) for item in found.tried] == [
        ("breakdown", "it needs I_Z ≥ 0, but I_Z = −64.2 mA")
    ]
    assert solved("zener-shunt", {**SHUNT, "R_L": 1000.0}).tried == ()


def test_the_edge_of_a_region_belongs_to_it():
    """A zener left exactly nothing is still held: 15 V, 295 Ω, 20 mA leave none at 9.1 V."""
    found = solved("zener-shunt", {"V_I": 15.0, "R": 295.0, "V_Z": 9.1, "I_L": 0.02})
    assert found.region.id == "breakdown"
    assert found.values["I_Z"] == pytest.approx(0, abs=1e-12)


CONTRADICTIONS = [
    (
        "zener-shunt", {**SHUNT, "I_L": 0.01, "I_R": 0.05},
        "the givens contradict each other: Ohm's law for R, I_R = (V_I − V_O)/R, is broken by I_R = 50 mA, V_I = 15 V, "
        "V_O = 9.1 V, R = 220 Ω",
    ),
    (
        "zener-shunt", {**SHUNT, "V_O": 8.0, "I_L": 0.01},
        "the givens contradict each other: ",
    ),
    (
        "source", {"V_I_1": 11.4, "I_I_1": 0.3, "V_I_2": 10.8, "I_I_2": 0.6, "R_S": 3.0},
        "the givens contradict each other: Slope between two readings, ",
    ),
    (
        "source", {"V_OC": 12.0, "R_S": 2.0, "I_I": 1.0, "V_I": 9.0},
        "the givens contradict each other: Ohm's law for R_S, I_I = (V_OC − V_I)/R_S, is broken by I_I = 1 A, "
        "V_OC = 12 V, V_I = 9 V, R_S = 2 Ω",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("circuit_id", "given", "sentence"), CONTRADICTIONS)
def test_givens_that_contradict_each_other_name_the_law(circuit_id: str, given: Values, sentence: str):
    """The law by its title, as written, and the values that break it."""
    with pytest.raises(Contradiction) as caught:
        solved(circuit_id, given)
    told = caught.value.sentence
    if circuit_id == "source" and "V_I_1" in given:
        sentence = "the givens contradict each other: "  # whichever of the readings' laws is met first
    assert told.startswith(sentence)
    assert "is broken by" in told


def test_no_state_fits_says_why_of_each():
    """A sink of 80 mA behind 220 Ω from 15 V: the zener cannot give, and R cannot bring it."""
    with pytest.raises(Contradiction) as caught:
        solved("zener-shunt", {**SHUNT, "I_L": 0.08})
    assert caught.value.sentence == (
        "no region of 'zener-shunt' holds with these values (the zener is in breakdown: it needs I_Z ≥ 0, but "
        "I_Z = −53.2 mA; the zener is off: R_L would be −32.5 Ω, below zero)"
    )


def test_more_power_than_a_source_can_give_has_no_solution():
    """V_OC²/(4 R_S) = 12.5 W is the most; 13 W is refused, 12.5 W is the one place where both roots meet."""
    with pytest.raises(Contradiction, match="no real I_I solves it"):
        solved("source", {"V_OC": 10.0, "R_S": 2.0, "P_O": 13.0})
    assert solved("source", {"V_OC": 10.0, "R_S": 2.0, "P_O": 12.5}).values["I_I"] == pytest.approx(2.5)


OPEN = [
    ("zener-shunt", {"V_I": 15.0, "R": 220.0, "I_L": 0.01}, "I_Z", "I_Z does not follow from V_I, R, I_L; give one"),
    ("zener-shunt", {"V_I": 15.0}, "I_Z", "I_Z does not follow from V_I; more than one more is needed"),
    ("follower", {"V_I": 20.0, "V_Z": 12.0}, "I_Z", "I_Z does not follow from V_I, V_Z, "),
    ("source", {"V_OC": 12.0}, "V_I", "V_I does not follow from V_OC; give one of these too: "),
]


@pytest.mark.parametrize(("circuit_id", "given", "wanted", "sentence"), OPEN)
def test_too_few_givens_say_what_would_help(circuit_id: str, given: Values, wanted: str, sentence: str):
    """Under-determined: what was asked, from what, and what to give too."""
    with pytest.raises(Unreachable) as caught:
        solved(circuit_id, given, wanted)
    assert caught.value.sentence.startswith(sentence)


def test_a_given_too_many_that_agrees_is_no_fault():
    """Over-determined and consistent: I_R given beside V_I, R and V_Z, to a part in a million."""
    exact = {**SHUNT, "I_L": 0.01, "I_R": 5.9 / 220}
    assert solved("zener-shunt", exact).values["I_Z"] == pytest.approx(5.9 / 220 - 0.01)
    near = {**exact, "I_R": 5.9 / 220 * (1 + 5e-7)}
    assert solved("zener-shunt", near).region.id == "breakdown"
    with pytest.raises(Contradiction):
        solved("zener-shunt", {**exact, "I_R": 5.9 / 220 * (1 + 5e-6)})


def test_of_two_currents_a_source_is_worked_at_the_smaller():
    """8 W from 10 V behind 2 Ω: 1 A or 4 A. A supply is worked where most of its voltage is left; the reason is
    said."""
    found = solved("source", {"V_OC": 10.0, "R_S": 2.0, "P_O": 8.0}, "I_I V_I")
    assert (found.values["I_I"], found.values["V_I"]) == (pytest.approx(1.0), pytest.approx(8.0))
    (choice,) = found.roots
    assert choice.target == "I_I"
    assert "both fit the circuit, and the one with the greater V_I is taken" in choice.why
    assert found.root_signs == (choice.which,)


def test_a_root_that_cannot_be_is_refused_and_the_reason_said():
    """I from P = (V_Z0 + r_z I) I: the negative current is no zener's in breakdown.

    P_Z = 182 mW on V_Z0 = 9 V, r_z = 5 Ω: 5 I² + 9 I − 0.182 = 0, I = (−9 + √84.64)/10 = 20 mA.
    """
    found = solved("zener-shunt", {"V_I": 15.0, "V_Z0": 9.0, "r_z": 5.0, "P_Z": 0.182, "I_L": 0.01}, "I_Z R")
    assert found.values["I_Z"] == pytest.approx(0.02, rel=1e-9)
    assert found.values["R"] == pytest.approx(5.9 / 0.03, rel=1e-9)
    assert found.roots[0].why.startswith("the other root is refused: ")


def test_standing_values_are_used_where_nothing_else_settles_them():
    """V_BE is 0.7 V unless it is given or follows from what is given."""
    plain = {name: value for name, value in FOLLOWER.items() if name != "V_BE"}
    assert solved("follower", {**plain, "R_L": 100.0}).defaults["V_BE"] == 0.7
    assert "V_BE" not in solved("follower", {**FOLLOWER, "V_BE": 0.65, "R_L": 100.0}).defaults
    followed = solved("follower", {**plain, "V_O": 11.38, "R_L": 100.0})
    assert "V_BE" not in followed.defaults
    assert followed.values["V_BE"] == pytest.approx(0.62)


def test_a_convention_goes_through_the_whole_solution():
    """I_B neglected: the zener gets all of I_R; with h_FE for h_FE + 1 the base takes a little more."""
    given = {**FOLLOWER, "I_L": 0.2}
    exact = solved("follower", given).values
    assert exact["I_Z"] == pytest.approx(8 / 220 - 0.2 / 50)
    assert solved("follower", given, base_current="neglected").values["I_Z"] == pytest.approx(8 / 220)
    assert solved("follower", given, base_current="load-over-h_FE").values["I_B"] == pytest.approx(0.2 / 49)


# The trade's inverse questions, each worked by hand.
INVERSE = [
    # R from a zener current: (15 − 9.1)/(10 mA + 20 mA).
    ("zener-shunt", {"V_I": 15.0, "V_Z": 9.1, "I_L": 0.01, "I_Z": 0.02}, "R", 5.9 / 0.03),
    # R_L at the knee: 9.1 V/(26.82 mA − 5 mA).
    ("zener-shunt", {**SHUNT, "I_Z": 0.005}, "R_L", 9.1 / (5.9 / 220 - 0.005)),
    # r_z from two readings: (9.2 − 9.1)/(30 mA − 10 mA) = 5 Ω.
    ("zener-shunt", {"V_Z_1": 9.1, "I_Z_1": 0.01, "V_Z_2": 9.2, "I_Z_2": 0.03}, "r_z", 5.0),
    # Least h_FE: 0.5 A/(36.36 mA − 5 mA) − 1.
    ("follower", {"V_I": 20.0, "R": 220.0, "V_Z": 12.0, "I_L": 0.5, "I_Z": 0.005}, "h_FE", 0.5 / (8 / 220 - 0.005) - 1),
    # The lowest line: 12 V + 220 Ω (10 mA + 5 mA).
    ("follower", {"R": 220.0, "V_Z": 12.0, "I_L": 0.5, "h_FE": 49.0, "I_Z": 0.005}, "V_I", 12 + 220 * 0.015),
    # A raw supply from two readings: 0.6 V over 0.3 A; 11.4 V + 0.3 A × 2 Ω.
    ("source", {"V_I_1": 11.4, "I_I_1": 0.3, "V_I_2": 10.8, "I_I_2": 0.6}, "V_OC", 12.0),
    # The same read across resistors of 38 Ω and 18 Ω.
    ("source", {"V_I_1": 11.4, "R_L_1": 38.0, "V_I_2": 10.8, "R_L_2": 18.0}, "R_S", 2.0),
]


@pytest.mark.parametrize(("circuit_id", "given", "wanted", "expected"), INVERSE)
def test_inverse_questions(circuit_id: str, given: Values, wanted: str, expected: float):
    """The circuit worked backwards from a reading or a limit."""
    assert solved(circuit_id, given, wanted).values[wanted] == pytest.approx(expected, rel=1e-9)


INDICES = [
    (("V_I_1", "I_I_1", "V_I_2"), "source", ("1", "2")),
    (("V_Z_1", "R"), "zener-shunt", ("1",)),
    (("V_I", "R_L"), "zener-shunt", ()),
    (("P_Z_1",), "zener-shunt", ()),  # no reading of that circuit
]


@pytest.mark.parametrize(("names", "circuit_id", "indices"), INDICES)
def test_reading_indices_are_told_by_the_names(names: tuple[str, ...], circuit_id: str, indices: tuple[str, ...]):
    """An index counts where the circuit declares its base as something read."""
    assert reading_indices(names, FOLDER.circuit(circuit_id)) == indices


LIMITER_BASE = (14.185 / 390 - (1.115 / 3 + 0.00465) / 61) / (150 + 100 / 390 + (100 / 3 + 1) / 61)
LATCHING_LOAD = 1.115 / 3 + (100 / 3 + 151) * LIMITER_BASE
FOLDBACK = {
    "V_I": 20.0, "R": 390.0, "V_Z": 12.0, "V_BE_1": 0.7, "h_FE_1": 60.0, "R_SENSE": 3.0, "R_A": 100.0, "R_B": 1000.0,
    "V_BE_2": 0.65, "h_FE_2": 150.0, "I_L": LATCHING_LOAD,
}  # fmt: skip
# Givens that two states fit, worked by hand; the state taken and the other one, each told by a value.
TWO_STATES = [
    # 8 W from 10 V behind 2 Ω: 1 A or 4 A.
    ("source", {"V_OC": 10.0, "R_S": 2.0, "P_O": 8.0}, ("linear", "I_I", 1.0), ("linear", "I_I", 4.0)),
    # 0.2 W in R under 5.9 V is 174 Ω and leaves the zener 3.9 mA; under 30 mA it is 222 Ω, V_O 8.33 V, and none.
    (
        "zener-shunt", {"V_I": 15.0, "V_Z": 9.1, "I_L": 0.03, "P_R": 0.2},
        ("breakdown", "R", 5.9**2 / 0.2), ("off", "R", 0.2 / 0.03**2),
    ),
    # V_O 0.72 V under the zener: either V_BE is 0.72 V, or it is 0.7 V and the base 20 mV under the zener.
    (
        "follower", {"V_I": 20.0, "V_Z": 12.0, "V_O": 11.28, "I_L": 0.2, "h_FE": 50.0},
        ("regulating", "V_BE", 0.72), ("starved", "V_BE", 0.7),
    ),
    # Foldback and a load that holds its current. Regulating: 12 V − 0.7 V − 3 Ω × 408.6 mA = 10.07 V. Limiting, at 4 V:
    # the tap stands at 4.65 V, the emitter at 5.115 V + 100 Ω × I_B_2, the base 0.7 V higher; the current law there
    # gives I_B_2 = (14.185/390 − (1.115/3 + 0.00465)/61)/(150 + 100/390 + (100/3 + 1)/61) = 200.3 uA; the load
    # takes 1.115/3 A + 100/3 × I_B_2 + 151 × I_B_2 = 408.6 mA.
    (
        "foldback", FOLDBACK, ("regulating", "V_O", 11.3 - 3 * LATCHING_LOAD), ("limiting", "V_O", 4.0),
    ),
]  # fmt: skip


@pytest.mark.parametrize(("circuit_id", "given", "taken", "other"), TWO_STATES)
def test_a_second_state_is_told_with_the_first(
    circuit_id: str, given: Values, taken: tuple[str, str, float], other: tuple[str, str, float]
):
    """No answer passes for the only one when the givens fit two."""
    found = solved(circuit_id, given)
    region, name, value = taken
    assert (found.region.id, found.values[name]) == (region, pytest.approx(value))
    region, name, value = other
    assert [(state.region.id, state.values[name]) for state in found.others] == [(region, pytest.approx(value))]


ONE_STATE = [
    ("zener-shunt", {**SHUNT, "R_L": 1000.0}),
    ("zener-shunt", {**SHUNT, "R_L": 100.0}),
    ("zener-shunt", {"V_I": 15.0, "R": 295.0, "V_Z": 9.1, "I_L": 0.02}),  # the edge is of both regions, and one state
    ("follower", {**FOLLOWER, "R_L": 100.0}),
    ("source", {"V_OC": 10.0, "R_S": 2.0, "P_O": 12.5}),  # both roots meet
    # A resistance crosses the same characteristic once: 4 V over the load of the limiting state asks for that alone.
    ("foldback", {name: value for name, value in FOLDBACK.items() if name != "I_L"} | {"R_L": 4.0 / LATCHING_LOAD}),
]


@pytest.mark.parametrize(("circuit_id", "given"), ONE_STATE)
def test_part_values_leave_one_state(circuit_id: str, given: Values):
    """Nothing is told beside the answer where there is nothing to tell."""
    assert solved(circuit_id, given).others == ()


def test_a_standing_value_far_from_its_usual_speaks_for_another_region():
    """8.6 V out under a 15 V zener: regulating, V_BE would be 6.4 V; starved, it is 0.7 V, and all fits.

    I_B = 8.6/240/(39 + 1) = 0.8958 mA through R: V_I = 9.3 V + 0.3494 V.
    """
    given = {"V_Z": 15.0, "R_L": 240.0, "V_O": 8.6, "R": 390.0, "h_FE": 39.0}
    found = solved("follower", given)
    assert found.region.id == "starved"
    assert found.values["V_I"] == pytest.approx(9.3 + 390 * 8.6 / 240 / 40)
    sentence = "V_BE would be 6.4 V, far from its usual 0.7 V"
    assert [item.why for item in found.tried] == [sentence]
    assert found.others == ()
    with pytest.raises(Unreachable) as caught:
        solved("follower", given, "V_BE")
    assert sentence in caught.value.sentence


def test_a_given_that_a_region_has_no_law_for_does_not_fit_it():
    """R_OUT is a slope of the regulating circuit: a state without a law for it says nothing of the 5 Ω given."""
    found = solved("zener-shunt", {"V_I": 15.0, "V_Z": 9.1, "I_L": 0.03, "P_R": 0.2, "R_OUT": 5.0})
    assert (found.region.id, found.others) == ("breakdown", ())


def test_a_law_that_nothing_stands_in_is_held_without_its_other_factor():
    """No current, so V_Z is V_Z0 whatever the slope: 9 V and 8.9 V do not go with a zener that is off."""
    given = {"V_I": 15.0, "R": 220.0, "R_L": 100.0, "V_Z": 9.0, "V_Z0": 8.9}
    with pytest.raises(Contradiction, match="The zener's straight line"):
        solved("zener-shunt", given)
    assert solved("zener-shunt", {**given, "V_Z0": 9.0}).region.id == "off"


def test_a_convention_holds_in_coupled_blocks_too():
    """With I_B neglected the zener has I_R whole: V_B = V_Z0 + r_z I_R, I_R = (20 − 9)/(330 + 7)."""
    given = {"V_I": 20.0, "R": 330.0, "V_Z0": 9.0, "r_z": 7.0, "V_BE": 0.7, "h_FE": 40.0, "R_L": 150.0}
    current = 11.0 / 337
    assert solved("follower", given, base_current="neglected").values["I_Z"] == pytest.approx(current)
    assert solved("follower", given, base_current="neglected").values["V_B"] == pytest.approx(9 + 7 * current)


def test_a_given_that_contradicts_a_region_is_put_into_no_ring_of_its_laws():
    """Off, the reference takes nothing: a current given for it breaks that law, and no ring settles the rest with it.

    R from Ohm's law, put into Ohm's law, says nothing; with 1.355 mA in one of the two places it seemed to (R = 0).
    """
    given = {"V_I": 6.659, "R_1": 4966.0, "R_2": 4530.0, "V_REF": 3.294, "I_REF": 1.045e-6, "I_L": 0.06631}
    with pytest.raises(Contradiction) as caught:
        solved("reference-shunt", {**given, "I_K": 1.355e-3})
    assert "the reference is off: the givens contradict each other: Below its reference" in caught.value.sentence
    assert caught.value.sentence.endswith("I_K = 0, is broken by I_K = 1.355 mA)")


def test_readings_alone_settle_part_values_and_a_further_reading():
    """From two points of a line, its slope, its intercept and a third point: 0.27 V over 27 mA."""
    given = {"V_Z_1": 2.99, "I_Z_1": 0.008, "V_Z_2": 3.26, "I_Z_2": 0.035, "I_Z_3": 0.08}
    found = solved("zener-shunt", given).values
    assert {"r_z": found["r_z"], "V_Z0": found["V_Z0"], "V_Z_3": found["V_Z_3"]} == pytest.approx(
        {"r_z": 10.0, "V_Z0": 2.91, "V_Z_3": 3.71}
    )
    with pytest.raises(Unreachable):
        solved("zener-shunt", {"V_Z_1": 2.99, "I_Z_1": 0.008})


def test_the_state_is_told_by_what_nobody_asked_for():
    """Only I_B is asked for, which is I_L/(h_FE + 1) in two states; a 16 V zener on 9.5 V tells which, by a ring."""
    given = {"V_I": 9.5, "R": 680.0, "V_Z0": 16.0, "r_z": 5.1, "V_BE": 0.7, "h_FE": 65.0, "I_L": 0.33}
    found = solved("follower", given, "I_B")
    assert found.region.id == "starved" and found.values["I_B"] == pytest.approx(0.33 / 66)
    assert [item.region.id for item in found.tried] == ["regulating"]
    assert "it needs I_Z ≥ 0" in found.tried[0].why


def test_a_region_that_is_odd_as_a_whole_is_not_refuted():
    """5 V out of a 12 V zener: V_BE would be about 7 V by way of a ring, which no law forbids; starved and off are
    refuted. What is asked for follows in none of them, and which state this is stays open."""
    given = {"V_I": 20.0, "R": 390.0, "V_Z0": 11.75, "r_z": 9.0, "R_L": 100.0, "h_FE": 49.0, "V_O": 5.0}
    with pytest.raises(Unreachable) as caught:
        solved("follower", given, "I_ZT")
    assert "do not tell in which state" in caught.value.sentence and "far from its usual 0.7 V" in caught.value.sentence


def test_a_state_refuted_as_a_whole_leaves_the_others():
    """What is asked for follows nowhere; that regulating needs I_Z ≥ 0 is found by a ring, and said."""
    given = {"V_I": 9.5, "R": 680.0, "V_Z0": 16.0, "r_z": 5.1, "V_BE": 0.7, "h_FE": 65.0, "I_L": 0.33}
    with pytest.raises(Unreachable) as caught:
        solved("follower", given, "I_ZT")
    assert "it needs I_Z ≥ 0" in caught.value.sentence


def test_of_states_that_fit_the_first_usual_one_is_taken(monkeypatch: pytest.MonkeyPatch):
    """Regulating with 4 V from base to emitter, and starved as usual: the second, and why not the first; where none
    is usual, the first."""
    told, usual = FOLDER.circuit("follower"), solved("follower", {**FOLLOWER, "R_L": 100.0})
    odd = replace(usual, values={**usual.values, "V_BE": 4.0})
    starved = replace(usual, region=told.region("starved"), values={**usual.values, "I_Z": 0.0})

    def outcomes(first: Resolved, second: Resolved) -> Resolved:
        found = {"regulating": first, "starved": second}

        def in_region(circuit: Circuit, region: Region, *rest: object, **more: object) -> Resolved:
            if region.id not in found:
                raise Contradiction("not this one")
            return found[region.id]

        monkeypatch.setattr("tutor.plan.regions.in_region", in_region)
        return resolve(told, FOLLOWER, ())

    taken = outcomes(odd, starved)
    assert taken.region.id == "starved"
    assert [item.why for item in taken.tried] == ["V_BE would be 4 V, far from its usual 0.7 V"]
    assert outcomes(usual, starved).region.id == "regulating"
    assert outcomes(odd, replace(starved, values={**starved.values, "V_BE": 5.0})).region.id == "regulating"
