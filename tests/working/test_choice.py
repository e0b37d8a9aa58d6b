"""Choices held against what they must satisfy: bounds with tolerance, shelf, series, margin, the learner's bounds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.solution.at_hand import LEVELS, batch, ground, sheet
from tests.working.trees import chain
from tutor.solution.sheet import SheetChoice
from tutor.working.check import check_working
from tutor.working.choice import bounds_of, chosen_part, is_end_of_taken, judge_choice
from tutor.working.finding import Code
from tutor.working.ground import Around, Ground
from tutor.working.symbolise import Past

# 145.1 Ω to 288.4 Ω, E24, 5 %: 160 Ω to 270 Ω; then a rating of 1.5 times P_R: with 270 Ω 1.12 W, so 2 W.
DESIGN = "zener-resistor:2:1"
NEAREST = "follower-design:3:1"  # a standard zener nearest to V_Z_NOM


def choice(key: str, name: str = DESIGN) -> SheetChoice:
    return next(item for item in sheet(name).choices if item.key == key)


def judged(key: str, value: float, past: Past | None = None, **made: float) -> tuple[Code, str, tuple[str, ...]]:
    found = judge_choice(choice(key), value, ground(DESIGN, **made), past or Past())
    assert (found.value, found.choice.key) == (value, key)
    return found.code, found.why, found.slip


CHOSEN = [
    (270.0, Code.CHOICE_OK, "257 Ω to 284 Ω, inside 145.1 Ω to 288 Ω"),
    (160.0, Code.CHOICE_OK, "inside"),
    (150.0, Code.CHOICE_BAD, "with its tolerance it falls to 142.5 Ω, below R_MIN = 145.1 Ω"),
    (300.0, Code.CHOICE_BAD, "with its tolerance it reaches 315 Ω, above R_MAX = 288 Ω"),
    (280.0, Code.CHOICE_BAD, "above R_MAX"),
    (275.0, Code.CHOICE_BAD, "with its tolerance it reaches 289 Ω, above R_MAX"),
    (153.0, Code.CHOICE_BAD, "it would do, but 153 Ω is no E24 value"),  # it falls to 145.4 Ω
    (250.0, Code.CHOICE_BAD, "250 Ω is no E24 value"),
    (27.0, Code.CHOICE_BAD, "below R_MIN"),
    (1e12, Code.CHOICE_BAD, "above R_MAX"),
    (1e-12, Code.CHOICE_BAD, "below R_MIN"),
]


@pytest.mark.parametrize(("value", "code", "why"), CHOSEN)
def test_a_value_is_held_against_both_bounds_with_its_tolerance(value: float, code: Code, why: str):
    """The bound it breaks and by how much, or its margins; a value that would do but is not sold is told so."""
    found = judged("R", value)
    assert found[0] is code and why in found[1], found


def test_a_slip_of_choosing_is_named():
    """300 Ω is the model's `rounded-up`; 1 W the `just-rated` of a sheet that has it."""
    assert judged("R", 300.0)[2] == ("rounded-up",)
    assert judged("R", 330.0)[2] == ()


@pytest.mark.parametrize(
    ("value", "code", "why"),
    [(2.0, Code.CHOICE_OK, "at least 1.5 × P_R_MAX = 1.682 W"), (5.0, Code.CHOICE_OK, "at least"),
     (1.0, Code.CHOICE_BAD, "1 W is below 1.5 × P_R_MAX"), (3.0, Code.CHOICE_BAD, "not on the shelf")],
)  # fmt: skip
def test_a_rating_is_held_against_its_load(value: float, code: Code, why: str):
    """With the margin the problem states, from the values on the shelf."""
    found = judged("P_RM", value)
    assert found[0] is code and why in found[1], found


def test_a_rating_goes_with_the_learners_own_part():
    """With 160 Ω the resistor takes 1.89 W, so 2 W no longer does."""
    assert judged("P_RM", 2.0)[0] is Code.CHOICE_OK
    assert judged("P_RM", 2.0, R=160.0)[0] is Code.CHOICE_BAD
    assert judged("P_RM", 5.0, R=160.0)[0] is Code.CHOICE_OK
    assert bounds_of(choice("P_RM"), ground(DESIGN, R=160.0)).low == pytest.approx(1.5 * 17.4**2 / 160)


def test_a_rating_that_is_just_the_bound_will_do():
    """1.5 times what the resistor takes, to the last figure; a per cent less will not."""
    item, here = replace(choice("P_RM"), shelf=(), series=""), ground(DESIGN)
    bound = bounds_of(item, here).low
    assert bound is not None
    assert judge_choice(item, bound, here, Past()).code is Code.CHOICE_OK
    assert judge_choice(item, bound * 0.99, here, Past()).code is Code.CHOICE_BAD


ENDS = [(256.5, True), (283.5, True), (285.0, False), (262.0, False), (270.0, False)]


@pytest.mark.parametrize(("value", "end"), ENDS)
def test_an_end_of_the_part_taken_is_no_other_part(value: float, end: bool):
    """270 Ω less or more 5 %, to half a per cent of it; nothing is an end where nothing is taken."""
    taken = Past(values={"R": 270.0})
    assert is_end_of_taken(choice("R"), value, ground(DESIGN), taken) is end
    assert not is_end_of_taken(choice("R"), value, ground(DESIGN), Past())


def test_inside_the_learners_own_wrong_bound_it_follows():
    """354 Ω for R_MAX (no knee current): 330 Ω is right by that, and told against the true bound."""
    own = Past(values={"R_MAX": 354.3})
    code, why, _ = judged("R", 330.0, own)
    assert code is Code.FOLLOWS and "from your own bound" in why and "above R_MAX = 288 Ω" in why
    assert judged("R", 360.0, own)[0] is Code.CHOICE_BAD
    assert judged("R", 270.0, own)[0] is Code.CHOICE_OK, "what is right stays right"
    assert judged("P_RM", 1.0, Past(values={"P_R_MAX": 0.5695}))[0] is Code.FOLLOWS


def test_the_nearest_standard_value():
    """Near V_Z_NOM; another is told which lies nearer, unless it is nearest to the learner's own."""
    item = choice("V_Z", NEAREST)
    here = ground(NEAREST)
    assert item.near == "V_Z_NOM"
    right = judge_choice(item, item.accepted[0], here, Past())
    assert (right.code, right.why) == (Code.CHOICE_OK, "it lies nearest to V_Z_NOM")
    wrong = judge_choice(item, 3.3, here, Past())
    assert wrong.code is Code.CHOICE_BAD and "lies nearer to V_Z_NOM" in wrong.why
    assert judge_choice(item, 3.3, here, Past(values={"V_Z_NOM": 3.28})).code is Code.FOLLOWS
    assert judge_choice(item, 3.3, here, Past(values={"V_Z_NOM": -1e30})).code is Code.CHOICE_BAD


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_what_the_family_accepts_is_accepted_and_nothing_else_of_the_series(family: str, level: int):
    """Every accepted value is right beside the model's other choices; the next ones outside are not."""
    for worked, told in batch(family, level, 5):
        here = Ground(Around(told, told.recipe), {})
        for item in told.choices:
            for value in item.accepted:
                assert judge_choice(item, value, here, Past()).code is Code.CHOICE_OK, (worked.problem.name, value)
            ends = (min(item.accepted) * 0.8, max(item.accepted) * 1.3) if item.series else ()
            for value in ends:
                assert judge_choice(item, value, here, Past()).code is Code.CHOICE_BAD, (worked.problem.name, value)


PARTS = [
    ("R = 150 Ω", (), ("R", 150.0)), ("150 Ω", (), ("R", 150.0)), ("2 W", (), ("P_RM", 2.0)),
    ("270R", (), ("R", 270.0)), ("P_RM = 2 W", (), ("P_RM", 2.0)), ("R = 270 Ω ± 5 %", (), ("R", 270.0)),
    ("V_Z = 9.1 V", (), None), ("150", (), ("R", 150.0)), ("2", ("R",), ("P_RM", 2.0)), ("270 Ω", ("R",), ("R", 270.0)),
    ("12 V", (), None),
    ("R = (26.5 - 9.1)/0.1", (), None), ("R = -150 Ω", (), None), ("0 Ω", (), None), ("R = R_MAX", (), None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "taken", "expected"), PARTS)
def test_which_choice_a_line_makes(text: str, taken: tuple[str, ...], expected: tuple[str, float] | None):
    """By its symbol; without one by its unit, those not yet made first."""
    found = chosen_part(chain(text, DESIGN)[0], sheet(DESIGN), taken)
    assert (None if found is None else (found[0].key, found[1])) == expected


def test_where_nothing_bounds_it_that_is_said():
    """With the zener off no bound of its currents is left; the sentence does not end in an empty range."""
    choice, off = sheet(DESIGN).choices[0], next(item for item in sheet(DESIGN).branches if item.region == "off")
    found = judge_choice(choice, 330.0, Ground(Around(sheet(DESIGN), off.recipe, off.sets), {}), Past())
    assert (found.code, found.why) == (Code.CHOICE_OK, "nothing bounds it here")


@pytest.mark.parametrize(("value", "code"), [("10 kΩ", Code.CHOICE_BAD), ("{model} Ω", Code.CHOICE_OK)])
def test_what_is_chosen_is_held_against_the_circuit_as_it_is(value: str, code: Code):
    """A zener supposed off for the moment leaves no bounds; the design is built with one that regulates."""
    chosen = value.format(model=f"{sheet(DESIGN).choices[0].model:g}")
    found = check_working(f"assume the zener is off\nchoose R = {chosen}", sheet(DESIGN)).findings[-1]
    assert found.code is code


def test_without_choices_none_is_made():
    """A problem that asks for none."""
    assert chosen_part(chain("R = 150 Ω", DESIGN)[0], replace(sheet(DESIGN), choices=()), ()) is None
