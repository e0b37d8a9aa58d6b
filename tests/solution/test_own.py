"""Anybody's own numbers: read, resolved, worked and checked; what cannot be used is one sentence."""

from __future__ import annotations

import pytest

import tutor
from tutor.errors import BadValue, Contradiction, SteadyrailError, UnknownName, Unreachable
from tutor.solution.answer import WorkedAnswer
from tutor.solution.solution import Check

SHUNT = {"V_I": "15V", "R": "220", "V_Z": "9.1V"}
FOLLOWER = {"V_I": "20V", "R": "220", "V_Z": "12V", "h_FE": "50"}


def solved(circuit: str, values: dict[str, str | float], find: str = "", **assume: str) -> WorkedAnswer:
    return tutor.solve(circuit, values, find.split(), {name.replace("_c_", "-"): text for name, text in assume.items()})


def test_numbers_are_read_as_people_write_them():
    """Prefixes, kilohm codes, bare SI numbers: the same answer."""
    written = solved("zener-shunt", {**SHUNT, "R_L": "1k"})
    for other in (
        {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "R_L": 1000.0},
        {**SHUNT, "R_L": "1 kΩ"},
        {**SHUNT, "R_L": "1k0"},
    ):
        assert solved("zener-shunt", other).values == written.values
    assert written.value("I_Z").text == "17.72 mA"
    assert written.circuit == "zener-shunt" and written.form == "resistor"
    assert written.region == "the zener is in breakdown"


def test_names_are_read_as_people_write_them():
    """Vin, VZ, rl: aliases of the table."""
    found = solved("zener-shunt", {"Vin": "15V", "R": "220", "vz": "9.1V", "Rload": "1k"}, "Iz")
    assert found.asked == ("I_Z",)
    assert found.value("I_Z").text == "17.72 mA"


def test_what_is_asked_is_marked_and_what_follows_is_there():
    """`find` marks its steps; the table of values holds all that follows all the same."""
    found = solved("zener-shunt", {**SHUNT, "I_L": "10mA"}, "P_Z")
    assert [step.waypoint for step in found.steps if step.waypoint] == ["P_Z"]
    assert {"V_O", "I_R", "P_O", "eta"} <= set(found.values)
    with pytest.raises(UnknownName, match="there is no value in this solution 'I_Q'"):
        found.value("I_Q")


def test_a_region_tried_and_left_is_the_first_step():
    """The working shows the assumption, the test it failed, and why."""
    found = solved("zener-shunt", {**SHUNT, "R_L": "100"})
    first = found.steps[0]
    assert first.title == "Assume that the zener is in breakdown"
    assert first.text == "With these values it needs I_Z ≥ 0, but I_Z = −64.2 mA. So the assumption falls."
    assert found.checks == (Check("$V_O$ = 4.69 V ≤ $V_Z$ = 9.1 V: the zener is off, as assumed", True, ""),)


def checked(h_fe: str, value: str) -> Check:
    """The last check of a follower that supplies 200 mA under a convention for its base current."""
    return solved("follower", {**FOLLOWER, "h_FE": h_fe, "I_L": "0.2"}, "I_Z", base_c_current=value).checks[-1]


# Worked by hand: I_R = 8 V/220 Ω = 36.36 mA; I_B = 200 mA/(h_FE + 1).
# Neglected: 3.922 mA of 36.36 mA is 10.78 %; 0.664 mA is 1.83 %. For h_FE + 1: 1/50 is 2 %, 1/20 is 5 %.
APPROXIMATIONS = [
    ("50", "neglected", False, "$I_B$ neglected: the error is 10.78 % of $I_R$, and up to 2 % is allowed; work it "
    "exactly"),
    ("300", "neglected", True, "$I_B$ neglected: the error is 1.827 % of $I_R$, and up to 2 % is allowed"),
    ("50", "load-over-h_FE", True, "$h_FE$ written for $h_FE + 1$: the error is 2 % of $I_B$, and up to 2 % is "
    "allowed"),
    (
        "20", "load-over-h_FE", False,
        "$h_FE$ written for $h_FE + 1$: the error is 5 % of $I_B$, and up to 2 % is allowed; work it exactly",
    ),
    ("200", "load-over-h_FE", True, "$h_FE$ written for $h_FE + 1$: the error is 0.5 % of $I_B$, and up to 2 % is "
    "allowed"),
]  # fmt: skip


@pytest.mark.parametrize(("h_fe", "value", "held", "text"), APPROXIMATIONS)
def test_an_approximation_is_checked_against_the_exact_circuit(h_fe: str, value: str, held: bool, text: str):
    """Its error is derived by working the circuit beside it, and measured against the limit declared."""
    assert checked(h_fe, value) == Check(text, held, "")


def test_the_slope_alone_is_an_approximation_too():
    """R_OUT = r_z leaves R out beside it: (5 − 4.889)/4.889 = 2.27 %."""
    values = {"V_I": "15V", "R": "220", "V_Z0": "8.96V", "r_z": "5", "I_L": "10mA"}
    found = solved("zener-shunt", values, "R_OUT", load_c_slope="zener")
    assert found.value("R_OUT").text == "5 Ω"
    assert found.checks[-1].text.startswith("$R$ left out beside $r_z$: the error is 2.27 % of $R_OUT$")
    assert not found.checks[-1].holds


def test_the_exact_way_has_no_approximation_to_check():
    """Ours is the first of a convention's values, and it bends nothing."""
    checks = solved("follower", {**FOLLOWER, "I_L": "0.2"}, "I_Z").checks
    assert [check for check in checks if "error" in check.text] == []


def test_what_was_assumed_is_said():
    """Conventions in use and standing values that nobody gave."""
    found = solved("follower", {**FOLLOWER, "R_L": "100"})
    assert found.assumed == {"base-current": "exact", "V_BE": "0.7 V", "V_CE_SAT": "0.2 V"}
    assert solved("follower", {**FOLLOWER, "R_L": "100"}, V_BE="650mV").value("V_O").text == "11.35 V"
    other = solved("source", {"V_OC": "18", "R_S": "3", "I_I": "0.5"}, "REG_LOAD", load_c_regulation="no-load")
    assert other.assumed == {"load-regulation": "no-load"}
    assert other.value("REG_LOAD").value == pytest.approx(1.5 / 18)


WARNED = [
    ("zener-shunt", {**SHUNT, "V_I": "70V", "R": "10k", "I_L": "1mA"},
     ["A supply of 70 V is above 60 V d.c. end to end and counts as a hazard: on paper only."]),
    ("zener-shunt", {**SHUNT, "I_L": "24mA", "I_ZK": "5mA"},
     ["The zener carries less than its least current: its voltage is not well held."]),
    ("zener-shunt", {**SHUNT, "R": "47", "I_L": "1mA", "P_ZM": "1W", "P_RM": "0.25W"},
     ["P_Z exceeds P_ZM: the part would be overloaded.", "P_R exceeds P_RM: the part would be overloaded."]),
    ("zener-shunt", {**SHUNT, "I_L": "5mA", "P_ZM": "1W", "I_ZK": "5mA"}, []),
]  # fmt: skip


@pytest.mark.parametrize(("circuit", "values", "warnings"), WARNED)
def test_unsafe_and_overloaded_values_are_worked_with_a_warning(
    circuit: str, values: dict[str, str], warnings: list[str]
):
    """`solve` computes what generation would refuse, and says so."""
    assert list(solved(circuit, values).warnings) == warnings


REFUSED = [
    ("zner-shunt", {}, "", UnknownName, "there is no circuit 'zner-shunt'; did you mean 'zener-shunt'?"),
    ("zener-shunt", {**SHUNT, "V_QQ": "1V"}, "", UnknownName, "there is no quantity 'V_QQ'; did you mean "),
    ("zener-shunt", {**SHUNT, "R_L": "1kk"}, "", BadValue, "R_L=1kk: "),
    ("zener-shunt", {**SHUNT, "R_L": "5mA"}, "", BadValue, "R_L=5mA: "),
    ("zener-shunt", {**SHUNT, "R_L": "-1k"}, "", BadValue, "R_L=-1k: load resistance cannot be negative"),
    ("zener-shunt", {**SHUNT, "R": "0"}, "", BadValue, "R=0: "),
    ("zener-shunt", {**SHUNT, "I_L": "nan"}, "", BadValue, "I_L=nan: "),
    ("zener-shunt", {**SHUNT, "I_L": float("nan")}, "", BadValue, "I_L=nan: "),
    ("zener-shunt", {**SHUNT, "I_L": float("inf")}, "", BadValue, "I_L=inf: "),
    ("zener-shunt", SHUNT, "I_Z", Unreachable, "I_Z does not follow from V_I, R, V_Z; give one of these too: "),
    ("zener-shunt", {**SHUNT, "I_L": "10mA", "I_R": "50mA"}, "", Contradiction, "the givens contradict each other: "),
    ("zener-shunt", {}, "", Unreachable, "nothing of 'zener-shunt' follows from nothing"),
    ("zener-shunt", {**SHUNT, "I_L": "10mA"}, "I_ZZ", UnknownName, "there is no quantity 'I_ZZ'; did you mean 'I_Z'?"),
]


@pytest.mark.parametrize(("circuit", "values", "find", "kind", "sentence"), REFUSED)
def test_what_cannot_be_used_is_one_sentence(
    circuit: str, values: dict[str, str | float], find: str, kind: type[SteadyrailError], sentence: str
):
    """What, where, and what would be right; never a trace."""
    with pytest.raises(kind) as caught:
        solved(circuit, values, find)
    assert caught.value.sentence.startswith(sentence)
    assert "\n" not in caught.value.sentence


def test_unknown_conventions_are_named_with_the_nearest():
    """Of the circuit asked, standing values among them."""
    with pytest.raises(UnknownName) as caught:
        solved("follower", {**FOLLOWER, "R_L": "100"}, "", base_c_curent="exact")
    assert caught.value.sentence == "there is no convention 'base-curent'; did you mean 'base-current'?"
    with pytest.raises(UnknownName) as value:
        solved("follower", {**FOLLOWER, "R_L": "100"}, "", base_c_current="exat")
    assert value.value.sentence == "there is no value of 'base-current' 'exat'; did you mean 'exact'?"


def test_a_symbol_that_cancels_needs_no_value():
    """V_TH follows from R, V_Z0, r_z and I_Z though the line current stays open: its step says what falls out."""
    answer = tutor.solve("zener-shunt", {"R": "176", "V_Z0": "7.12 V", "r_z": "7.8", "I_Z": "7.5 mA"})
    assert answer.value("V_TH").value == pytest.approx(7.12 + 7.8 * 0.0075 + 176 * 0.0075)
    step = next(item for item in answer.steps if item.result is not None and "V_TH" in item.why)
    assert "falls out" in step.why


FURTHER_STATES = [
    (
        "source", {"V_OC": "10V", "R_S": "2", "P_O": "8W"}, "",
        "These values fit a further state too, with I_I = 4 A in place of 1 A and V_I = 2 V in place of 8 V.",
    ),
    (
        "source", {"V_OC": "10V", "R_S": "2", "P_O": "8W"}, "R_L",
        "These values fit a further state too, with R_L = 0.5 Ω in place of 8 Ω and I_I = 4 A in place of 1 A.",
    ),
    (
        "zener-shunt", {"V_I": "15V", "V_Z": "9.1V", "I_L": "30mA", "P_R": "0.2W"}, "P_Z",
        "These values fit a further state too: the zener is off, with P_Z = 0 W in place of 35.5 mW and R = 222 Ω in "
        "place of 174.1 Ω.",
    ),
    (
        "foldback",
        {
            "V_I": "20V", "R": "390", "V_Z": "12V", "h_FE_1": "60", "R_SENSE": "3", "R_A": "100", "R_B": "1k",
            "h_FE_2": "150", "I_L": "400mA",
        },
        "",
        "These values fit a further state too: the limiter has taken all that the zener had, and the output falls, "
        "with V_O = 3.10 V in place of 10.1 V and V_B = 4.90 V in place of 12 V. This is the turning point of a load "
        "that holds its current: with less output it takes more than the limit lets through and the output collapses, "
        "so that the regulator may not start into it (latch-up).",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("circuit", "values", "find", "sentence"), FURTHER_STATES)
def test_a_further_state_that_fits_is_a_warning(circuit: str, values: dict[str, str], find: str, sentence: str):
    """Its region where it is another, and what was asked first among what differs."""
    assert solved(circuit, values, find).warnings == (sentence,)
