"""Which waypoint a line speaks of and what it is worth there, on findings by hand; sources as in `test_marks.py`."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.working.attempts import Worth, is_accepted, is_careless, named_by, reaches, sort_lines
from tutor.working.finding import Code, Finding, Shown

SHOWN = Shown(operations=2, figures=3)


def value(key: str, answer: float, names: tuple[str, ...], slips: tuple[tuple[str, float], ...] = ()) -> SchemePoint:
    marks = (SchemeMark(MarkKind.METHOD, key, names), SchemeMark(MarkKind.ACCURACY, key, (key,), (0,)))
    return SchemePoint(key, WaypointKind.VALUE, key, marks, answer, "ohm", slips=slips, operations=1)


R_MAX = value("R_MAX", 140.0, ("R_MAX", "R"), (("no-knee-current", 163.0),))
R_MIN = value("R_MIN", 77.5, ("R_MIN", "R"), (("corner", 254.0),))
PART = (SchemeMark(MarkKind.INDEPENDENT, "R", ("R",)),)
R = SchemePoint("R", WaypointKind.CHOICE, "R", PART, 130.0, "ohm", (120.0, 130.0))
I_Z = replace(value("I_Z", 0.0635, ("I_Z",)), rests_on=("R",))
DESIGN = Scheme("design", (R_MAX, R_MIN, R, I_Z))
BOUNDS = Scheme("bounds", (R_MAX, R_MIN))


def line(number: int, code: Code, key: str, reached: float | None, *, text: str = "a line", shown: Shown = SHOWN,
         slip: tuple[str, ...] = (), why: str = "", **more: object) -> Finding:  # fmt: skip
    return Finding(
        number, text, code, why, None, slip, key, reached, replace(shown, value=reached), **more  # type: ignore[arg-type]
    )


def worths(scheme: Scheme, *lines: Finding) -> dict[str, list[Worth]]:
    """What is tried at each waypoint."""
    return {key: [item.worth for item in tried.attempts] for key, tried in sort_lines(lines, scheme).tried.items()}


# A value | what it is of | whether it is the answer: within 5 %, unless a slip's value lies nearer.
NEAR = [
    (140.0, R_MAX, True), (146.9, R_MAX, True), (133.1, R_MAX, True), (147.1, R_MAX, False), (132.9, R_MAX, False),
    (None, R_MAX, False), (140.0, replace(R_MAX, answer=None), False),
    (144.0, replace(R_MAX, slips=(("x", 147.0),)), False), (143.0, replace(R_MAX, slips=(("x", 147.0),)), True),
    (143.5, replace(R_MAX, slips=(("x", 147.0),)), True),  # half-way is not nearer
    (-140.0, R_MAX, False), (-140.0, replace(R_MAX, answer=-140.0), True),
    (-146.0, replace(R_MAX, answer=-140.0), True),
]  # fmt: skip


@pytest.mark.parametrize(("reached", "point", "there"), NEAR)
def test_a_value_reaches_the_answer_it_is_nearest_to(reached: float | None, point: SchemePoint, there: bool):
    """5 % is the most that a checker lets a result be off."""
    assert reaches(line(1, Code.HOLDS_HERE, "R_MAX", reached), point) is there


def test_one_per_cent_of_the_answer_is_as_close_as_numbers_are_compared():
    """141.3 is, 141.5 is not."""
    assert reaches(line(1, Code.FAILS, "R_MAX", 141.3), R_MAX, 0.01)
    assert not reaches(line(1, Code.FAILS, "R_MAX", 141.5), R_MAX, 0.01)


def test_a_choice_is_one_of_the_accepted():
    """To rounding alone: 120 Ω is, 121 Ω is not."""
    assert is_accepted(120.0, R) and is_accepted(120.0 * (1 + 1e-9), R)
    assert not is_accepted(121.0, R) and not is_accepted(120.0 * (1 + 1e-4), R)


CARELESS = [
    (("arithmetic",), True), (("copied",), True), (("power-of-ten",), True), (("rounding",), True), (("unit",), True),
    (("base-current=neglected",), True), (("milliamperes",), True), (("arithmetic", "copied"), True),
    (("arithmetic", "left-out"), False), (("left-out",), False), ((), False),
]  # fmt: skip


@pytest.mark.parametrize(("slip", "careless"), CARELESS)
def test_slips_that_leave_the_relation_right(slip: tuple[str, ...], careless: bool):
    """[AQA 3.4]: every one of several must be such; another convention is; a line that holds has none."""
    point = replace(R_MAX, careless=("milliamperes",))
    assert is_careless(line(1, Code.FAILS, "R_MAX", 1.0, slip=slip), point) is careless
    assert not is_careless(line(1, Code.FOLLOWS, "R_MAX", 1.0, slip=slip), point)


WORTHS = [
    (line(1, Code.HOLDS_HERE, "R_MAX", 140.0), Worth.RIGHT),
    (line(1, Code.FOLLOWS, "R_MAX", 163.0), Worth.FOLLOWS),
    (line(1, Code.FAILS, "R_MAX", 163.0, slip=("no-knee-current",)), Worth.WRONG),
    (line(1, Code.FAILS, "R_MAX", 14.0, slip=("power-of-ten",)), Worth.CARELESS),
    (line(1, Code.FAILS, "R_MAX", 140.0, slip=("arithmetic",)), Worth.WRONG),  # a right number hides a wrong relation
    (line(1, Code.UNITS, "R_MAX", None), Worth.WRONG),
    (line(1, Code.HOLDS_HERE, "R_MAX", 120.0), Worth.ELSEWHERE),
]


@pytest.mark.parametrize(("finding", "worth"), WORTHS)
def test_what_a_line_is_worth_at_its_waypoint(finding: Finding, worth: Worth):
    """By its code, its slip and its value."""
    assert worths(BOUNDS, finding) == {"R_MAX": [worth]}


def test_a_clash_in_the_result_alone_is_a_matter_of_its_unit():
    """Its columns are those of the one number; elsewhere, or where no number is given, the relation is wrong."""
    shown = Shown(operations=2, figures=3, columns=(9, 15), number=140.0)
    clash = replace(line(1, Code.UNITS, "R_MAX", None, shown=shown), columns=(9, 15))
    assert worths(BOUNDS, clash) == {"R_MAX": [Worth.UNIT]}
    assert worths(BOUNDS, replace(clash, columns=(3, 6))) == {"R_MAX": [Worth.WRONG]}
    assert worths(BOUNDS, replace(clash, shown=replace(shown, evaluated=False))) == {"R_MAX": [Worth.WRONG]}
    assert sort_lines([clash], BOUNDS).at("R_MAX").values and not sort_lines([WORTHS[5][0]], BOUNDS).at("R_MAX").values


def test_what_goes_on_with_a_line_is_worth_what_that_is():
    """`= 120 Ω` after a right value speaks of the same; a line of its own, or later, of something else."""
    first = line(1, Code.HOLDS_HERE, "R_MAX", 140.0)
    second = line(2, Code.HOLDS_HERE, "R_MAX", 120.0, text="= 120 Ω")
    assert worths(BOUNDS, first, second) == {"R_MAX": [Worth.RIGHT, Worth.RIGHT]}
    assert worths(BOUNDS, first, replace(second, text=" ≈ 120 Ω")) == {"R_MAX": [Worth.RIGHT, Worth.RIGHT]}
    assert worths(BOUNDS, first, replace(second, text="R = 120 Ω")) == {"R_MAX": [Worth.RIGHT, Worth.ELSEWHERE]}
    assert worths(BOUNDS, first, replace(second, number=3)) == {"R_MAX": [Worth.RIGHT, Worth.ELSEWHERE]}
    assert worths(BOUNDS, second) == {"R_MAX": [Worth.ELSEWHERE]}


def test_a_datum_copied_wrongly_again_goes_on_with_the_first():
    """One slip: the second use follows from it; another datum is a slip of its own."""
    first = line(1, Code.FAILS, "R_MAX", 150.0, slip=("copied",), why="V_Z is 9.1 V")
    again = replace(first, number=2, key="R_MIN", value=90.0)
    found = sort_lines([first, again, replace(again, number=3, why="I_L is 5 mA")], BOUNDS)
    assert [item.worth for item in found.at("R_MIN").attempts] == [Worth.FOLLOWS, Worth.CARELESS]
    assert [item.origin.number for item in found.at("R_MIN").attempts] == [1, 3]


def test_an_unsuffixed_value_goes_to_the_bound_it_fits():
    """By its value when right, by its slip when wrong, else to the first not answered; to the last when it follows."""
    right = line(1, Code.HOLDS_HERE, "R", 77.5)
    assert worths(BOUNDS, right) == {"R_MIN": [Worth.RIGHT]}
    assert worths(BOUNDS, line(1, Code.FAILS, "R", 254.0, slip=("corner",))) == {"R_MIN": [Worth.WRONG]}
    assert worths(BOUNDS, line(1, Code.FAILS, "R", 99.0)) == {"R_MAX": [Worth.WRONG]}
    both = [line(1, Code.HOLDS_HERE, "R_MAX", 140.0), line(2, Code.FOLLOWS, "R_MIN", 80.0)]
    assert worths(BOUNDS, *both, line(3, Code.FOLLOWS, "R", 99.0))["R_MIN"] == [Worth.FOLLOWS, Worth.FOLLOWS]
    spare = sort_lines([*both, line(3, Code.FAILS, "R", 99.0)], BOUNDS)
    assert [item.number for item in spare.asides] == [3]  # some other corner, where all that is asked stands


def test_a_wrong_line_on_something_else_is_an_aside():
    """A right one there is nothing; notes, definitions and lines that cannot be read are left out of all."""
    lines = [line(1, Code.FAILS, "I_X", 1.0), line(2, Code.HOLDS_HERE, "I_X", 2.0), line(3, Code.NOTE, "R_MAX", 140.0),
             line(4, Code.UNREAD, "R_MAX", None), line(5, Code.DEFINES, "R_MAX", 140.0)]  # fmt: skip
    found = sort_lines(lines, BOUNDS)
    assert [item.number for item in found.asides] == [1]
    assert found.tried == {}


def test_a_relation_serves_the_bounds_that_are_taken_up():
    """Without a corner it is for the first until another is tried; with one for its own; assumed or bare for none."""
    relation = line(1, Code.HOLDS, "R", None)
    low = line(2, Code.FAILS, "R_MIN", 99.0)

    def served(*lines: Finding) -> list[str]:
        return [key for key, tried in sort_lines(lines, BOUNDS).tried.items() if tried.relations]

    assert served(relation) == ["R_MAX"]
    assert served(relation, low) == ["R_MIN"]
    assert served(replace(relation, key="R_MIN")) == ["R_MIN"]
    assert served(replace(relation, key=""), low) == []
    headless = replace(relation, key="", shown=Shown(operations=2, names=("V_I", "R")))
    assert served(headless) == [] and served(headless, low) == ["R_MIN"]
    assert served(replace(relation, assumed=True)) == []
    assert served(replace(relation, shown=Shown(worked=False))) == []
    assert served(replace(relation, code=Code.FOLLOWS)) == ["R_MAX"]
    assert [point.key for point in named_by(headless, BOUNDS)] == ["R_MAX", "R_MIN"]


def test_which_lines_choose():
    """Said so, found to be a choice, or a bare value that would do; a worked one is a value of R."""
    bare = Shown(worked=False, figures=3)
    good = line(1, Code.HOLDS_HERE, "R", 120.0, shown=bare)
    assert worths(DESIGN, good) == {"R": [Worth.RIGHT]}
    assert sort_lines([good], DESIGN).choices == {"R": 120.0}
    assert worths(DESIGN, line(1, Code.CHOICE_BAD, "R", 150.0)) == {"R": [Worth.WRONG]}
    assert worths(DESIGN, line(1, Code.CHOICE_OK, "R", 100.0)) == {"R": [Worth.RIGHT]}
    assert worths(DESIGN, line(1, Code.FOLLOWS, "R", 150.0, shown=bare)) == {"R": [Worth.FOLLOWS]}
    assert "R" not in worths(DESIGN, replace(good, value=121.0, shown=replace(bare, value=121.0)))
    assert "R" not in worths(DESIGN, line(1, Code.HOLDS_HERE, "R", 120.0))
    assert worths(DESIGN, line(1, Code.HOLDS_HERE, "R", 120.0, chosen=True)) == {"R": [Worth.RIGHT]}


def test_beside_another_choice_than_the_models_only_the_checker_knows_the_answer():
    """84 mA is right where R = 100 Ω is taken; with the model's own 130 Ω it is some other current."""
    current = line(2, Code.HOLDS_HERE, "I_Z", 0.084)
    own = line(1, Code.CHOICE_OK, "R", 100.0, chosen=True)
    model = line(1, Code.CHOICE_OK, "R", 130.0, chosen=True)
    assert worths(DESIGN, own, current)["I_Z"] == [Worth.RIGHT]
    assert worths(DESIGN, model, current)["I_Z"] == [Worth.ELSEWHERE]
    assert worths(DESIGN, current)["I_Z"] == [Worth.ELSEWHERE]
    assert worths(DESIGN, own, replace(current, answers=()))["I_Z"] == [Worth.ELSEWHERE]
    assert worths(DESIGN, model, replace(current, answers=("I_Z",)))["I_Z"] == [Worth.RIGHT]


def test_a_slip_is_careless_in_itself_or_as_the_scheme_says():
    """Arithmetic always; another where the scheme counts it so; one that both count is still one."""
    for careless, slip, whether in (
        ((), "arithmetic", True), ((), "sign", False), (("sign",), "sign", True), (("arithmetic",), "arithmetic", True),
    ):  # fmt: skip
        line = Finding(1, "I = 3", Code.FAILS, "", None, (slip,))
        assert is_careless(line, replace(R_MAX, careless=careless)) is whether
