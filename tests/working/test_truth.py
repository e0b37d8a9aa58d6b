"""Truth of a chain: of the circuit whatever the numbers, or with this problem's, within the bands of handwriting."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.solution.at_hand import ground, sheet
from tests.working.trees import chain, exact, member
from tutor.working.amount import MOST_BAND, NUMBER_BAND, Amount
from tutor.working.bands import RESULT_BAND, SLIP_SHARE
from tutor.working.chain import (
    Scaling,
    SideKind,
    TriedChain,
    kind_of,
    links_of,
    literals_in,
    names_in,
    plain_amount,
    value_member,
)
from tutor.working.ground import Around, Ground, Place, value_in
from tutor.working.truth import Effort, Overlay, chain_holds, exact_values, true_here, true_of_circuit, true_places
from tutor.working.world import World

# 15 V, 82 Ω, 820 Ω, 11 V; and 21.5 V to 26.5 V, 9.1 V, 10 mA to 35 mA.
STATE, DESIGN = "zener-state:2:1", "zener-resistor:2:1"


def question(text: str, name: str = "", slips: tuple[tuple[float, float], ...] = ()) -> TriedChain:
    members, relations = chain(text, name)
    return TriedChain(members, relations, exact_values(sheet(name).given, {}) if name else (), slips)


def holds(text: str, scaling: Scaling | None = None, slips: tuple[tuple[float, float], ...] = ()) -> bool:
    """Whether a chain holds with I_Z = 35 mA, V_O = 11 V and R = 220 Ω, exactly."""
    values = {"I_Z": 0.035, "V_O": 11.0, "R": 220.0}
    return chain_holds(question(text, slips=slips), scaling or Scaling(), values.get)


@pytest.mark.parametrize(
    ("text", "kind"),
    [("V_I - 2 V_Z", SideKind.SYMBOLS), ("h_FE + 1", SideKind.SYMBOLS), ("V_I - 12", SideKind.SYMBOLS),
     ("V_I - 13", SideKind.MIXED), ("V_I - 5 V", SideKind.MIXED), ("27 - 12", SideKind.NUMBERS),
     ("5 mA", SideKind.NUMBERS), ("2 × 3", SideKind.NUMBERS)],
)  # fmt: skip
def test_the_kind_of_a_side(text: str, kind: SideKind):
    """Small whole numbers are coefficients; a side without symbols is numbers whatever they are."""
    assert kind_of(member(text)) is kind


def test_parts_of_a_chain():
    """Names once, in order; numbers left to right; links between neighbours; the member that says what it comes to."""
    asked = question("I_Z = (V_I - 9.1 V)/R - I_L = 12 mA")
    assert names_in(asked.members) == ("I_Z", "V_I", "R", "I_L")
    assert [item.meanings[0].value for item in literals_in(asked.members[1])] == [9.1]
    assert [(relation.sign, left, right) for relation, left, right in links_of(asked)] == [
        ("=", asked.members[0], asked.members[1]), ("=", asked.members[1], asked.members[2]),
    ]  # fmt: skip
    assert value_member(asked) is asked.members[2]
    compared = question("V_O = 13 V > V_Z")
    assert value_member(compared) is compared.members[1]
    bound = question("R < 270 Ω")
    assert value_member(bound) is bound.members[1]


RELATIONS = [
    ("I_Z", "(V_I - V_Z)/R - I_L", "=", True), ("I_Z", "(V_I - V_Z)/R + I_L", "=", False), ("V_O", "V_Z", "≈", True),
    ("V_I", "V_O", ">", True), ("V_I", "V_O", "<", False), ("I_R", "I_Z + I_L", "≤", True), ("R", "R_L", "=", False),
    ("P_Z", "V_Z I_Z", "=", True), ("1/R_L", "I_L/V_O", "=", True), ("I_R I_Z", "I_Z I_R", "=", True),
]  # fmt: skip


@pytest.mark.parametrize(("left", "right", "sign", "true"), RELATIONS)
def test_a_relation_is_true_of_the_circuit_or_not(left: str, right: str, sign: str, true: bool):
    """At the worlds near the problem's own, so that fitting its numbers is not enough."""
    found = true_of_circuit(member(left, STATE), member(right, STATE), sign, ground(STATE))
    assert (found is not None) is true


def test_ten_times_a_resistance_is_no_relation():
    """82 Ω and 820 Ω: R_L = 10 R fits this problem and no other; of the numbers it is true."""
    assert true_of_circuit(member("R_L", STATE), member("10 R", STATE), "=", ground(STATE)) is None
    assert true_here(question("R_L = 820 Ω = 10 × 82 Ω", STATE), ground(STATE)) is not None


def test_what_a_problem_leaves_open_is_held_against_the_bare_circuit():
    """follower-state:1 says nothing of R and V_I, but I_R = I_Z + I_B in every follower."""
    name = "follower-state:1:1"
    assert true_of_circuit(member("I_R", name), member("I_Z + I_B", name), "=", ground(name)) is not None
    assert true_of_circuit(member("I_R", name), member("I_Z - I_B", name), "=", ground(name)) is None


def test_where_both_sides_vanish_nothing_is_said():
    """With the zener off any factor of I_Z is as good: such a place counts only when there is no other."""
    name = "zener-state:1:1"
    assert sheet(name).region == "off"
    assert true_of_circuit(member("I_Z", name), member("2 I_Z", name), "=", ground(name)) is not None
    assert true_of_circuit(member("I_Z V_Z", name), member("I_L V_Z", name), "=", ground(name)) is None


def test_places_are_only_those_at_which_it_is_true():
    """V_I = V_I_MAX holds at the high line alone: at no situation of the low one."""
    places = list(true_places(member("V_I", DESIGN), member("V_I_MAX", DESIGN), "=", ground(DESIGN)))
    world = ground(DESIGN).around.near[0]
    assert places
    assert all(math.isclose(world.situations[place.situation].values["V_I"], world.views[0]["V_I_MAX"]) for place in
               places)  # fmt: skip


def test_effort_is_counted_and_ends():
    """So many places and no more: past that a relation counts as not found, on every machine alike."""
    effort = Effort(10)
    assert effort.spend(6) and effort.spend(4)
    assert not effort.spend(1)
    left, right = member("I_R", STATE), member("I_Z + I_L", STATE)
    assert true_of_circuit(left, right, "=", ground(STATE), effort=effort) is None
    enough = Effort(1000)
    assert true_of_circuit(left, right, "=", ground(STATE), effort=enough) is not None
    assert enough.left < 1000  # a short relation costs something, and a long one more
    long = Effort(1000)
    longer = member("I_Z + I_L + " + " + ".join(["I_R - I_R"] * 20), STATE)
    true_of_circuit(left, longer, "=", ground(STATE), effort=long)
    assert long.left < enough.left


BANDS = [
    ("V_O = 11 V", True), ("V_O = 11.1 V", True), ("V_O = 11.4 V", False), ("V_O ≈ 11.5 V", True),
    ("V_O ≈ 11.6 V", False),
    ("I_Z = 35 mA", True), ("I_Z = 0.04 A", False), ("I_Z = 35.3 mA", True), ("I_Z = 36 mA", False),
    ("(27 - 12)/270 = 0.0556", True), ("(27 - 12)/270 = 0.056", True), ("(27 - 12)/270 = 0.0575", False),
    ("(27 - 12)/270 = 0.06", False), ("(27 - 12)/270 ≈ 0.058", True), ("12 × 3 = 36", True), ("12 × 3 = 37", False),
    ("V_O/R = 50 mA", True), ("V_O/220 = 0.05", True), ("V_O/218 = 0.05", True), ("V_O/209 = 0.05", False),
    ("V_O > 10.9 V", True), ("V_O < 10 V", False), ("V_O ≤ 11 V", True), ("5 mA ≤ I_Z ≤ 50 mA", True),
    ("5 mA ≤ I_Z ≤ 30 mA", False), ("15.1 - 15 = 0.1", True), ("V_O - 11 V = 0 V", True), ("V_O - 11 V = 0.05 V", True),
    ("V_O - 10 V = 0 V", False),
]  # fmt: skip


@pytest.mark.parametrize(("text", "true"), BANDS)
def test_the_bands_of_handwriting(text: str, true: bool):
    """1 % or half a figure and 3 % at most; 5 % for ≈; the largest term where terms cancel."""
    assert (NUMBER_BAND, MOST_BAND, RESULT_BAND) == (0.01, 0.03, 0.05), "the contract's figures"
    assert holds(text) is true


def test_errors_of_a_long_chain_do_not_add_up():
    """Each number is held against the symbol as well as against its neighbour."""
    assert holds("V_O = 11.1 V = 11.08 V")
    assert not holds("V_O = 11.1 V = 11.2 V = 11.3 V")


@pytest.mark.parametrize(("written", "true"), [("35.2 mA", True), ("35.5 mA", False), ("35.9 mA", False)])
def test_a_known_slip_narrows_the_band(written: str, true: bool):
    """A slip at 36 mA beside the truth of 35 mA: a third of the way to it is the most that passes for the truth."""
    assert SLIP_SHARE == 1 / 3
    assert holds(f"I_Z = {written}", slips=((0.035, 0.036),)) is true
    assert not holds("I_Z ≈ 35.9 mA", slips=((0.035, 0.036),)), "nor does ≈ make the slip right"
    assert holds("I_Z ≈ 35.9 mA", slips=((0.035, 0.050),))


def test_a_scaling_supplies_the_prefix_left_out():
    """Inside a mixed side to each number, to a whole side, or to the lone result."""
    assert holds("I_Z = 40 - 5", Scaling(whole=-3)) and not holds("I_Z = 40 - 5")
    assert holds("I_Z = 35", Scaling(last=-3)) and not holds("I_Z = 35")
    assert not holds("I_Z = 40 - 3", Scaling(whole=-3)) and not holds("I_Z = 37", Scaling(last=-3))
    assert not holds("I_Z = 35/0 - 5", Scaling(whole=-3))  # what has no value has none with another prefix
    assert holds("I_Z = V_O/R - 15", Scaling(inside=-3)) and not holds("I_Z = V_O/R - 15")


@pytest.mark.parametrize(
    ("text", "supplied"), [("I_Z = 48.8 - 13.4 = 35.4 mA", True), ("P_Z = 11 × 35.4 = 389 mW", True),
                           ("I_Z = 35.4 mA", False), ("V_TH = 15 × 820/902 = 13.6 V", False)],
)  # fmt: skip
def test_hand_style_is_read_kindly_as_long_as_the_result_is_right(text: str, supplied: bool):
    """Bare numbers share the prefix of the result; it is told that one was supplied."""
    found = true_here(question(text, STATE), ground(STATE))
    assert found is not None
    assert found.supplied is supplied


def test_hand_style_makes_no_wrong_result_right():
    """Milliamperes for amperes are caught where the result says so."""
    assert true_here(question("P_Z = 11 × 35.4 = 389 W", STATE), ground(STATE)) is None
    assert true_here(question("I_Z = 48.8 + 13.4 = 62.2 mA", STATE), ground(STATE)) is None


def test_the_corner_is_told_where_there_are_several():
    """I_Z at full load and low line, with the model's R; a single operating point needs no words."""
    found = true_here(question("I_L = 35 mA", DESIGN), ground(DESIGN))
    assert found is not None and "the fullest load" in found.words
    single = true_here(question("I_L = 13.4 mA", STATE), ground(STATE))
    assert single is not None and single.words == ""


def test_a_given_is_exact_and_a_rounded_number_is_not():
    """0.35 V of 15 V − 14.65 V: a given brings no slack, another number its own 1 %."""
    asked = question("I_R = (15 - 11)/82 = 48.8 mA", STATE)
    assert set(asked.exact) == {15.0, 82.0, 820.0, 11.0}
    assert true_here(asked, ground(STATE)) is not None


def test_an_overlay_puts_the_learners_values_first():
    """The same chain under other values of a symbol."""
    asked = question("P_Z = V_Z I_Z = 440 mW", STATE)

    def overlay(world, place, name):
        return 0.04 if name == "I_Z" else 0.44 if name == "P_Z" else world.situations[place.situation].values.get(name)

    assert true_here(asked, ground(STATE)) is None
    assert true_here(asked, ground(STATE), overlay) is not None


def test_a_number_alone_is_its_own_amount():
    """Taken as exact, its reach its size."""
    (literal,) = literals_in(member("-5 mA"))
    assert plain_amount(literal) == exact(literal) == Amount(0.005, 0.0, 0.005)


def test_where_nothing_flows_a_factor_says_nothing():
    """I_B = 3 I_C and I_B = I_L/3 are so at no load alone; of the load's own lightest current it is said on purpose."""
    name = "follower-design:2:1"
    for text, true in (("I_B = 3 I_C", False), ("I_B = I_L/3", False), ("I_B_MIN = 3 I_L_MIN", True)):
        assert (true_here(question(text, name), ground(name)) is not None) is true, text


def test_where_no_world_is_near_the_circuit_at_large_decides():
    """A problem whose neighbours all decide by other corners: what is true all over the circuit is true of it."""
    told = replace(sheet(STATE), worlds=())
    alone = Ground(Around(told, told.recipe), {})
    assert alone.around.near == ()
    for text, true in (("I_R = I_Z + I_L", True), ("I_R = I_Z - I_L", False)):
        asked = question(text, STATE)
        left, right = asked.members
        assert (true_of_circuit(left, right, "=", alone) is not None) is true, text


def test_an_answer_is_kept_for_the_circuit_and_not_for_what_somebody_believes():
    """Asked first of the circuit and then with another value in its place, each time it is looked at anew."""
    here, asked = ground(STATE), question("I_R = 61 mA", STATE)

    def believed(current: float) -> Overlay:
        def look_up(world: World, place: Place, name: str) -> float | None:
            return current if name == "I_R" else value_in(world, place, name)

        return look_up

    assert true_here(asked, here) is None
    assert true_here(asked, here, believed(0.061)) is not None
    assert true_here(asked, here, believed(0.05)) is None
    assert true_here(asked, here) is None
