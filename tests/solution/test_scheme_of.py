"""A problem's mark scheme from its solution: how many marks, for what, and what may earn them."""

from __future__ import annotations

import pytest

import tutor
from tutor.generate.problem import WaypointKind
from tutor.quantities.expression import Add, Expr, Mul, Neg, Sym
from tutor.quantities.formula import read_expression
from tutor.solution.scheme import MarkKind, Scheme, SchemePoint
from tutor.solution.scheme_of import operations, scheme_of

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]


def scheme(name: str) -> Scheme:
    """The mark scheme of a problem by name."""
    worked = tutor.problem(name)
    return scheme_of(worked.problem, worked.solution)


def short(given: Scheme) -> str:
    """R_MAX MA, R B."""
    return ", ".join(f"{point.key} {''.join(mark.kind.value for mark in point.marks)}" for point in given.points)


def point_of(given: Scheme, key: str) -> SchemePoint:
    return next(point for point in given.points if point.key == key)


# Counted by hand from the worked solutions. P_R_MAX and P_Z_MAX have one relation on the way (V_R, I_Z), P_Q_MAX two
# (V_CE, I_C; V_O and I_B lie behind those); a rename (V_O = V_Z) and a current of nought earn nothing.
SCHEMES = [
    ("zener-resistor:1:1", "R_MAX MA, I_ZM MA, R_MIN MA, R B"),
    ("zener-resistor:2:1", "R_MAX MA, I_ZM MA, R_MIN MA, R B, P_R_MAX MMA, P_RM B, P_Z_MAX MMA"),
    ("zener-resistor:3:1", "R_MAX MMA, R_MIN MMA, R B, P_R_MAX MA, P_RM B"),
    ("zener-state:1:1", "V_TH MA, state B, V_O MA"),
    ("zener-state:2:1", "V_TH MA, state B, V_O MA, I_R MA, I_L MA, I_Z MA, P_Z MA, P_R MMA"),
    ("zener-slope:2:1", "V_Z0 MA, I_Z MA, V_O MA, S_V MA, DV_O MA"),
    ("zener-slope:3:1", "r_z MA, V_Z0 MA, R_OUT MA, DV_O MA, V_O_MIN MMA, V_O_MAX MMA"),
    ("follower-design:2:1", "R_MAX MMA, I_ZM MA, R_MIN MA, R B, P_R_MAX MMA, P_RM B, P_Q_MAX MMMA"),
]


@pytest.mark.parametrize(("name", "marks"), SCHEMES)
def test_marks_are_counted_from_the_steps(name: str, marks: str):
    """A value has M and A, and an M for each quantity that had to be worked out first; a choice or a state has B."""
    assert short(scheme(name)) == marks


def test_a_mark_says_what_earns_it():
    """The law by name and the relation as the solution writes it; the value with its unit; the choice and its peers."""
    given = scheme("zener-resistor:2:1")
    assert [mark.earns for mark in point_of(given, "R_MAX").marks] == [
        "Ohm's law for $R$, which carries load and zener current together: "
        "$R_MAX = (V_I_MIN - V_Z)/(I_L_MAX + I_ZK)$",
        "$R_MAX$ = 288 Ω",
    ]
    assert point_of(given, "R").marks[0].earns == "$R$ = 270 Ω or another that meets the specification at every corner"
    assert point_of(scheme("zener-state:1:1"), "state").marks[0].earns == "the zener is off"


def test_a_bound_may_be_written_without_its_end():
    """A learner writes R for either bound, P_Z for the greatest power, and V_Z for an output that is only renamed."""
    given = scheme("zener-resistor:2:1")
    assert point_of(given, "R_MIN").marks[-2].names == ("R_MIN", "R")
    assert point_of(given, "P_Z_MAX").marks[-2].names == ("P_Z_MAX", "P_Z")
    assert point_of(given, "P_Z_MAX").marks[0].names == ("I_Z",)
    assert point_of(scheme("zener-slope:3:1"), "V_O_MIN").marks[-2].names == ("V_O_MIN", "V_O", "V_Z")


def test_what_rests_on_a_choice_says_so():
    """Bounds come before the choice; powers are worked out with it, directly or through a current."""
    given = scheme("zener-resistor:2:1")
    assert {point.key: point.rests_on for point in given.points if point.rests_on} == {
        "P_R_MAX": ("R",), "P_Z_MAX": ("R",)
    }  # fmt: skip
    design = scheme("follower-design:3:1")
    assert point_of(design, "V_Z_NOM").rests_on == ()
    assert point_of(design, "P_Q_MAX").rests_on == ("V_Z",)


def test_a_lost_prefix_is_a_careless_slip_and_a_ratio_of_ten_is_not():
    """Milliamperes for amperes leave the relation right; a divider upside down may be out by ten (82 Ω and 820 Ω)."""
    assert point_of(scheme("zener-resistor:1:1"), "R_MAX").careless == ("milliamperes",)
    upside_down = point_of(scheme("zener-state:2:1"), "V_TH")
    assert upside_down.answer == pytest.approx(10 * dict(upside_down.slips)["divider-upside-down"])
    assert upside_down.careless == ()


def test_a_state_carries_its_test():
    """The quantity, its limit and the limit's value, by which a comparison is known for a verdict."""
    assert point_of(scheme("zener-state:1:1"), "state").test == ("V_TH", "V_Z", 11.0)


def test_exact_answers_need_their_own_figures_alone():
    """5 Ω needs one figure, 23.5 V three; a rounded 4.34 kΩ has no such number."""
    given = scheme("supply-source-model:1:1")
    assert [point.printed_figures for point in given.points] == [1, 3]
    assert point_of(scheme("follower-design:1:1"), "R_MAX").printed_figures == 0


OPERATIONS = [
    (Sym("V_Z"), 0),
    (Neg(Sym("V_Z")), 0),
    (Add((Sym("V_I"), Neg(Sym("V_Z")))), 1),
    (Mul((Sym("V_Z"), Sym("I_Z"), Sym("R"))), 2),
    (read_expression("(V_I_MIN - V_Z)/(I_L_MAX + I_ZK)"), 3),
    (read_expression("V_R^2/R"), 2),
    (read_expression("R||r_z"), 1),
]


@pytest.mark.parametrize(("expr", "count"), OPERATIONS)
def test_operations_are_counted(expr: Expr, count: int):
    """Signs between two things; a minus before a term is none."""
    assert operations(expr) == count


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_scheme_is_whole(family: str, level: int):
    """Every waypoint in order; a value has 2 to 4 marks, its A needing the M before it; a choice or state one B."""
    desk = tutor.open_desk()
    for worked in desk.batch(desk.level(family, level), range(1, 31)):
        given = scheme_of(worked.problem, worked.solution)
        assert [point.key for point in given.points] == [point.key for point in worked.problem.waypoints]
        for point in given.points:
            kinds = [mark.kind for mark in point.marks]
            if point.kind is WaypointKind.VALUE:
                assert 2 <= len(kinds) <= 4, (worked.problem.name, point.key)
                assert kinds == [MarkKind.METHOD] * (len(kinds) - 1) + [MarkKind.ACCURACY]
                assert point.marks[-1].needs == (len(kinds) - 2,)
                assert point.key in point.marks[-2].names and point.answer is not None
            else:
                assert kinds == [MarkKind.INDEPENDENT]
            assert all(mark.earns and not mark.earns.endswith(".") for mark in point.marks)
        assert given.total == sum(len(point.marks) for point in given.points)
