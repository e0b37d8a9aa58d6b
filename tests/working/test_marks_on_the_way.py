"""Marks for relations on the way, eased work and repeated units, at their edges; sources as in `test_marks.py`."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.working.check import Checked
from tutor.working.finding import Code, Finding, Shown
from tutor.working.ledger import MarkRules, Marks
from tutor.working.marks import mark_working

M, A = MarkKind.METHOD, MarkKind.ACCURACY
WAY = SchemeMark(M, "Ohm's law", ("I_R",), value=0.1)
I_Z = SchemePoint(
    "I_Z", WaypointKind.VALUE, "I_Z", (WAY, SchemeMark(M, "current law", ("I_Z",)), SchemeMark(A, "", ("I_Z",), (1,))),
    0.08, "A", operations=2,
)  # fmt: skip
P_Z = SchemePoint(
    "P_Z", WaypointKind.VALUE, "P_Z", (SchemeMark(M, "power", ("P_Z",)), SchemeMark(A, "", ("P_Z",), (0,))), 0.8, "W",
    operations=1,
)  # fmt: skip
ONE, TWO = Scheme("one", (I_Z,)), Scheme("two", (I_Z, P_Z))


def line(number: int, code: Code, key: str, reached: float | None, shown: Shown | None = None) -> Finding:
    seen = replace(shown or Shown(operations=2, figures=3), value=reached)
    return Finding(number, "a line", code, "no", None, (), key, reached, seen)


def marks(scheme: Scheme, *lines: Finding, **rules: bool) -> Marks:
    return mark_working(Checked(lines, None), scheme, MarkRules(**rules))


def got(given: Marks) -> list[int]:
    return [entry.got for entry in given.ledger]


@pytest.mark.parametrize(
    ("reached", "won"), [(0.1, 1), (0.1049, 1), (0.0951, 1), (0.1051, 0), (0.0949, 0), (None, 1)]
)
def test_a_value_on_the_way_is_that_of_its_corner(reached: float | None, won: int):
    """True at another corner it shows another relation's numbers; in symbols it shows the relation."""
    assert got(marks(ONE, line(1, Code.HOLDS_HERE, "I_R", reached))) == [won, 0, 0]


def test_beside_a_choice_any_true_value_on_the_way_is_the_learners():
    """What rests on another choice has other values; what follows from a slip as well."""
    resting = Scheme("resting", (replace(I_Z, rests_on=("R",)),))
    assert got(marks(resting, line(1, Code.HOLDS_HERE, "I_R", 0.2))) == [1, 0, 0]
    assert got(marks(ONE, line(1, Code.FOLLOWS, "I_R", 0.2))) == [1, 0, 0]


def test_a_bare_number_on_the_way_shows_no_relation():
    """It is not worked; nor does a wrong one win."""
    assert got(marks(ONE, line(1, Code.HOLDS_HERE, "I_R", 0.1, Shown(worked=False, figures=3)))) == [0, 0, 0]
    assert got(marks(ONE, line(1, Code.FAILS, "I_R", 0.1))) == [0, 0, 0]


def test_one_line_wins_one_mark_on_the_way():
    """Two marks of the same quantity want two lines."""
    twice = replace(I_Z, marks=(WAY, WAY, *I_Z.marks[1:]))
    scheme = Scheme("twice", (twice,))
    first, second = line(1, Code.HOLDS_HERE, "I_R", 0.1), line(2, Code.HOLDS_HERE, "I_R", 0.1)
    assert got(marks(scheme, first)) == [1, 0, 0, 0]
    assert got(marks(scheme, first, second)) == [1, 1, 0, 0]


def test_the_value_of_another_waypoint_has_had_its_mark_there():
    """I_R asked for itself: its line is not counted on the way to I_Z again."""
    asked = SchemePoint(
        "I_R", WaypointKind.VALUE, "I_R", (SchemeMark(M, "Ohm's law", ("I_R",)), SchemeMark(A, "", ("I_R",), (0,))),
        0.1, "A", operations=1,
    )  # fmt: skip
    current = line(1, Code.HOLDS_HERE, "I_R", 0.1)
    assert got(marks(Scheme("both", (asked, I_Z)), current)) == [1, 1, 0, 0, 0]
    assert got(marks(Scheme("both", (replace(asked, key="I_X"), I_Z)), current))[2:] == [1, 0, 0]


def test_the_relation_of_the_value_holds_that_on_the_way_inside_unless_it_names_it():
    """I_Z = (V_I − V_Z)/R − I_L holds Ohm's law; I_Z = I_R − I_L does not."""
    whole = line(1, Code.HOLDS, "I_Z", None, Shown(names=("I_Z", "V_I", "V_Z", "R", "I_L")))
    named = line(1, Code.HOLDS, "I_Z", None, Shown(names=("I_Z", "I_R", "I_L")))
    assert got(marks(ONE, whole)) == [1, 1, 0]
    assert got(marks(ONE, named)) == [0, 1, 0]


def test_work_is_eased_where_less_is_left_to_do_after_a_slip():
    """Two operations are the scheme's: one left loses accuracy after a slip before it, two do not, nor without a slip.
    What stands since another value counts towards this one."""
    slip = line(1, Code.FAILS, "P_Z", 9.0)
    for operations, won in ((1, 0), (2, 1), (3, 1)):
        follows = line(2, Code.FOLLOWS, "I_Z", 0.2, Shown(operations=operations, figures=2))
        assert got(marks(TWO, slip, follows))[:3] == [1, 1, won]
        assert got(marks(TWO, replace(follows, number=1), replace(slip, number=2)))[:3] == [1, 1, 1]
    step = line(2, Code.FOLLOWS, "I_R", 0.2, Shown(operations=1, figures=2))
    last = line(3, Code.FOLLOWS, "I_Z", 0.2, Shown(operations=1, figures=2))
    assert got(marks(TWO, slip, step, last))[:3] == [1, 1, 1]
    assert got(marks(TWO, replace(step, number=1), replace(slip, number=2), last))[:3] == [1, 1, 0]


def test_figures_are_asked_of_the_last_value_of_each_answer():
    """The one that counts; the mark is the last of the ledger, and none is won where nothing is answered."""
    short, full = (line(number, Code.HOLDS_HERE, "I_Z", 0.08, Shown(operations=2, figures=figures)) for number, figures
                   in ((1, 1), (2, 3)))  # fmt: skip
    assert got(marks(ONE, short, full, figures=True))[-1] == 1
    assert got(marks(ONE, replace(full, number=1), replace(short, number=2), figures=True))[-1] == 0
    assert marks(ONE, short, full, figures=True).ledger[-1].line == 2
    nothing = marks(ONE, figures=True)
    assert (nothing.got, nothing.of, nothing.ledger[-1].why) == (0, 4, "no answer is given")
