"""One chain judged: the first of units, circuit, approximation, numbers, follow-through that applies, else it fails."""

from __future__ import annotations

import pytest

from tests.solution.at_hand import ground, sheet
from tests.working.trees import chain, member
from tutor.working.bounds import as_bound
from tutor.working.finding import Code
from tutor.working.ground import Around, Ground
from tutor.working.judge import JudgedChain, Stand, judge_chain, keys_of
from tutor.working.symbolise import Past
from tutor.working.tree import Name

STATE, DESIGN, FOLLOWER = "zener-state:2:1", "zener-resistor:2:1", "follower-state:2:18"


def stand(name: str, past: Past | None = None, doubtful: bool = False, **choices: float) -> Stand:
    told = sheet(name)
    others = tuple((item, Ground(Around(told, item.recipe), choices)) for item in told.conventions)
    return Stand(ground(name, **choices), past or Past(), {}, doubtful, others)


def judged(
    text: str, name: str = STATE, past: Past | None = None, doubtful: bool = False, **choices: float
) -> JudgedChain:
    return judge_chain(*chain(text, name), stand(name, past, doubtful, **choices))


CODES = [
    (STATE, "I_R = I_Z + I_L", Code.HOLDS), (STATE, "I_R = I_Z - I_L", Code.FAILS), (STATE, "I_R = V_Z", Code.UNITS),
    (STATE, "I_R = (V_I - V_O)/R = 48.8 mA", Code.HOLDS_HERE), (STATE, "I_R = 48.8 mA", Code.HOLDS_HERE),
    (STATE, "I_R = V_I/R = 48.8 mA", Code.FAILS), (STATE, "(15 - 11)/82 = 48.8m", Code.HOLDS_HERE),
    (STATE, "I_R = 4.88 V", Code.UNITS), (STATE, "V_TH > V_Z", Code.HOLDS),
    (STATE, "V_TH = 13.6 V > V_Z", Code.HOLDS_HERE),
    (STATE, "V_TH < V_Z", Code.FAILS), (STATE, "R_L = 10 R", Code.FAILS), (STATE, "2 V_O = 22 V", Code.HOLDS_HERE),
    (FOLLOWER, "I_B = I_L/(h_FE + 1)", Code.HOLDS), (FOLLOWER, "I_B = I_L/h_FE", Code.HOLDS_HERE),
    (FOLLOWER, "I_B = I_L/h_FE = 0.93 mA", Code.HOLDS_HERE), (FOLLOWER, "I_B = I_L/(h_FE + 2)", Code.FAILS),
    (FOLLOWER, "I_C = I_L", Code.HOLDS_HERE), (FOLLOWER, "I_Z = I_R", Code.FAILS),
    (FOLLOWER, "I_B = I_L h_FE", Code.FAILS),
    # A pure number that the units show to be one: right where no current flows, and that says nothing.
    ("follower-design:2:1", "I_B = I_C/7.5", Code.FAILS), ("follower-design:2:1", "I_B_MIN = I_L_MIN/7.5", Code.HOLDS),
    # Meant as it stands, and not as a bound.
    ("zener-range:2:1", "I_R ≥ I_L", Code.HOLDS),
    (DESIGN, "R ≤ (V_I_MIN - V_Z)/(I_L_MAX + I_ZK)", Code.HOLDS), (DESIGN, "R ≤ 288 Ω", Code.HOLDS_HERE),
    (DESIGN, "R ≥ 288 Ω", Code.FAILS), (DESIGN, "R < 354 Ω", Code.FAILS),
    (DESIGN, "145 Ω ≤ R ≤ 288 Ω", Code.HOLDS_HERE),
    (DESIGN, "120 Ω ≤ R ≤ 288 Ω", Code.FAILS), (DESIGN, "R ≤ 288/1.05 = 275 Ω", Code.HOLDS_HERE),
    (DESIGN, "V_I ≥ V_O + I_R R", Code.HOLDS), (DESIGN, "I_Z = 10.9 mA", Code.HOLDS_HERE),
    (DESIGN, "I_ZK ≤ I_Z ≤ I_ZM", Code.HOLDS),
]  # fmt: skip


@pytest.mark.parametrize(("name", "text", "code"), CODES)
def test_the_code_of_a_chain(name: str, text: str, code: Code):
    """Each step of the order, and bounds read as the bound itself."""
    found = judged(text, name)
    assert found.code is code, found.why
    assert (found.columns is not None) == (code in (Code.FAILS, Code.UNITS))
    assert found.why or code in (Code.HOLDS, Code.HOLDS_HERE)


def test_an_approximation_is_named_with_its_error():
    """h_FE for h_FE + 1 at h_FE = 100: I_B comes out 1 % too large."""
    found = judged("I_B = I_L/h_FE", FOLLOWER)
    assert found.why == "true to 0.99 %: h_FE written for h_FE + 1"


def test_what_an_approximation_does_to_a_value_is_told_with_it():
    """I_L/100 is 1 % above I_L/101; I_L for I_C = I_L h_FE/(h_FE + 1) likewise."""
    for text in ("I_B = I_L/h_FE = 0.93 mA", "I_C = I_L = 93 mA"):
        assert judged(text, FOLLOWER).why == "true to 1 %: h_FE written for h_FE + 1"
    # Of what has no name the relation itself is the measure: h_FE for h_FE + 1 is 1/101 too little.
    assert judged("2 I_B = 2 I_L/h_FE = 1.86 mA", FOLLOWER).why == "true to 0.99 %: h_FE written for h_FE + 1"


def test_an_error_is_measured_where_something_flows():
    """Unloaded both currents are nought, which says nothing; of the gains 50 to 250 the best is 1/251. Where a line
    speaks of the unloaded end alone there is no error."""
    assert judged("I_C = I_E", "follower-design:2:1").why == "true to 0.40 %: h_FE written for h_FE + 1"
    assert judged("I_C_MIN = I_E_MIN", "follower-design:2:1").code is Code.HOLDS


def test_what_is_neglected_is_measured_at_these_numbers_alone():
    """I_B = 6.8 mA/51 = 0.1333 mA beside I_R = 7.5 V/680 Ω = 11.03 mA, not beside what I_R would be with another
    input; 0.928 mA/12.5 mA of the other problem are 7.4 %, past the limit."""
    found = judged("I_Z = I_R", "follower-state:2:1")
    assert (found.code, found.why) == (Code.HOLDS_HERE, "true to 1.21 %: I_B neglected")
    assert judged("I_Z = I_R", FOLLOWER).code is Code.FAILS


def test_of_several_readings_the_true_one_is_taken():
    """47 K: kilohms or kelvins, as the line agrees."""
    found = judged("R_L = 0.82 K", STATE)
    assert found.code is Code.HOLDS_HERE, found.why
    assert found.value == pytest.approx(820.0)


@pytest.mark.parametrize(
    ("text", "value"),
    [("I_R = 48.8 mA", 0.0488), ("I_R = 4/82 = 48.8 mA", 0.0488), ("I_R = 4/82", 4 / 82), ("I_R = (V_I - V_O)/R", None),
     ("V_TH = 13.6 V > V_Z", 13.6), ("I_Z = 48.8 - 13.4 = 35.4 mA", 0.0354), ("I_R = V_I/R = 183 mA", 0.183),
     ("I_R = 5 V", 5.0)],
)  # fmt: skip
def test_what_a_chain_comes_to(text: str, value: float | None):
    """In SI, right or wrong; nothing for symbols alone."""
    assert judged(text).value == (None if value is None else pytest.approx(value))


def test_what_follows_needs_a_past():
    """62.2 mA of the learner's own, put to use."""
    past = Past(values={"I_Z": 0.0622}, wrong=(0.0622,))
    assert judged("P_Z = V_Z I_Z = 684 mW").code is Code.FAILS
    assert judged("P_Z = V_Z I_Z = 684 mW", past=past).code is Code.FOLLOWS
    assert judged("P_Z = V_Z I_Z = 389 mW", past=past).code is Code.HOLDS_HERE, "a true value after a wrong one holds"
    assert judged("11 V × 62.2 mA = 684 mW", past=past).code is Code.FOLLOWS
    assert judged("11 V × 62.2 mA = 684 mW").code is Code.HOLDS_HERE, "sound arithmetic"


def test_what_rests_on_a_doubtful_choice_only_follows():
    """330 Ω breaks the bound: I_Z with it is right of that circuit, and no more than follows."""
    text = "I_Z = (26.5 - 9.1)/330 - 10m = 42.7 mA"
    assert judged(text, DESIGN, doubtful=True, R=330.0).code is Code.FOLLOWS
    assert judged(text, DESIGN, R=330.0).code is Code.HOLDS_HERE
    assert judged("I_ZM = 110 mA", DESIGN, doubtful=True, R=330.0).code is Code.HOLDS_HERE, "this does not rest on it"


@pytest.mark.parametrize(
    ("text", "head"),
    [("R ≤ 288 Ω", "R_MAX"), ("R > 145 Ω", "R_MIN"), ("288 Ω ≥ R", "R_MAX"), ("145 Ω < R", "R_MIN"),
     ("I_Z ≤ 50 mA", None), ("R = 270 Ω", None), ("V_I > V_Z", None)],
)  # fmt: skip
def test_an_inequality_of_a_part_asked_for_is_its_bound(text: str, head: str | None):
    """R ≤ … is R_MAX = …; of what no bound is asked it is just an inequality."""
    found = as_bound(*chain(text, DESIGN), ground(DESIGN))
    if head is None:
        assert found is None
    else:
        assert found is not None
        names = [item.name for item in found[0] if isinstance(item, Name)]
        assert names == [head] and [item.sign for item in found[1]] == ["="]


def test_under_which_keys_a_head_is_asked():
    """Itself, or one of its bounds, in the order of slips and asks; nothing for a chain of numbers."""
    assert set(keys_of((member("R", DESIGN),), ground(DESIGN))) == {"R", "R_MAX", "R_MIN"}
    assert keys_of((member("-P_Z", DESIGN),), ground(DESIGN)) == ("P_Z_MAX",)
    assert keys_of((member("5 mA", DESIGN),), ground(DESIGN)) == ()
    assert keys_of((member("V_I", DESIGN), member("R", DESIGN)), ground(DESIGN)) == ()


def test_dimensions_of_own_symbols_go_before_the_circuits():
    """As the working has defined them."""
    here = Stand(ground(STATE), Past(), {"kappa": (1, 1, 0, 0), "open": None})
    assert here.dimension_of("kappa") == (1, 1, 0, 0)
    assert here.dimension_of("open") is None
    assert here.dimension_of("V_I") == (1, 0, 0, 0)


RANGE = "zener-range:1:1"  # 29 V, 820 Ω, 7.5 V, I_ZK = 4 mA: I_L ≤ 21.5/820 − 4 mA = 22.2 mA


@pytest.mark.parametrize("text", ["I_L ≥ 22.2 mA", "I_L ≥ 26.2 mA - 4 mA = 22.2 mA", "I_L > 26.2 mA - 4 mA = 22.2 mA"])
def test_a_bound_the_wrong_way_round_is_told(text: str):
    """Its value is that of the bound and its sign is not: the value is marked, at the end of the line."""
    found = judged(text, RANGE)
    assert (found.code, found.slip) == (Code.FAILS, ("bound-turned",))
    assert found.why == f"the bound is the other way round: I_L {'≤' if '≥' in text else '<'} this value"
    assert found.columns == (len(text) - 6, len(text) + 1)
    assert judged(text.replace("≥", "≤").replace(">", "<"), RANGE).code is Code.HOLDS_HERE


def test_numbers_with_units_beside_symbols_are_held_against_these_numbers():
    """V_O + 1 V = V_Z + 1 V holds here; with pure numbers a relation is one of symbols."""
    assert judged("V_O + 1 V = V_Z + 1 V").code is Code.HOLDS_HERE
    assert judged("2 V_O = 2 V_Z").code is Code.HOLDS


@pytest.mark.parametrize("text", ["I_Z = 48.8 - 13.4 = 35.4", "I_Z = 48.8m - 13.4m = 35.4", "I_Z = 35.4 mA"])
def test_a_value_comes_in_the_unit_of_its_quantity(text: str):
    """Milliamperes that are not said are put in."""
    assert judged(text).value == pytest.approx(0.0354)


def test_symbols_without_a_corner_are_told_theirs():
    """True at one corner alone; where they hold at the first, or everywhere, nothing is said."""
    assert judged("I_Z = I_R - I_L_MAX", DESIGN).why == "at the lowest line, the fullest load"
    assert judged("I_R = (V_I_MAX - V_Z)/R", DESIGN).why == "at the highest line, the lightest load"
    assert judged("I_R = I_Z + I_L", DESIGN).why == ""


def test_what_is_so_at_these_numbers_alone_does_not_hold_of_the_circuit():
    """35.4 mA are more than twice 13.4 mA, and 48.8 mA more than three times: with a larger load they are not."""
    assert judged("I_Z > I_L").code is Code.HOLDS
    assert judged("I_Z > 2 I_L").code is not Code.HOLDS
    assert judged("I_R > 3 I_L").code is not Code.HOLDS


def test_numbers_equal_to_a_given_are_exact():
    """(15 − 11) 165/(82 × 160) A are 50.3 mA, 3 % above I_R: its numbers are given or small and whole, and excuse none
    of it; 10.9 V for 11 V would."""
    assert judged("I_R = (15 - 11)*15*11/(82*2*8*10)").code is Code.FAILS
    assert judged("I_R = (15 - 10.9)/82").code is Code.HOLDS_HERE
