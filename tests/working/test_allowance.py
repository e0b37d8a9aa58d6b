"""What a set's tolerance changes of findings, made by hand: values within it whose figures alone are at fault."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.working.allowance import allowed
from tutor.working.finding import Code, Finding, Shown

MARKS = (SchemeMark(MarkKind.METHOD, "", ("I_Z",)), SchemeMark(MarkKind.ACCURACY, "", ("I_Z",), (0,)))
PART = (SchemeMark(MarkKind.INDEPENDENT, "", ("R",)),)
R = SchemePoint("R", WaypointKind.CHOICE, "R", PART, 130.0, "ohm", (120.0, 130.0))
I_Z = SchemePoint("I_Z", WaypointKind.VALUE, "I_Z", MARKS, 0.1, "A", slips=(("left-out", 0.105),), rests_on=("R",))
DESIGN = Scheme("design", (R, I_Z))
BARE = Shown(worked=False, figures=3)


def failed(reached: float | None, *slip: str, shown: Shown | None = BARE, key: str = "I_Z") -> Finding:
    told = None if shown is None else replace(shown, value=reached)
    return Finding(2, "I_Z = …", Code.FAILS, "no", (1, 3), slip, key, reached, told)


def chosen(value: float) -> Finding:
    return Finding(1, "choose R", Code.CHOICE_OK, "", None, (), "R", value, replace(BARE, value=value), chosen=True)


# A value of 0.1 A | how it is off | the tolerance | whether it counts.
CASES = [
    (failed(0.1019), 0.02, True), (failed(0.0981), 0.02, True), (failed(0.1021), 0.02, False),
    (failed(0.1021), 0.03, True), (failed(0.0975), 0.03, True),
    (failed(0.1031), 0.05, False),  # nearer the slip at 0.105
    (failed(0.0955), 0.05, True),
    (failed(0.1019), 0.01, False), (failed(0.1005), 0.01, False),  # not wider than the checker is anyway
    (failed(0.1019, "arithmetic"), 0.02, True), (failed(0.1019, "rounding"), 0.02, True),
    (failed(0.1019, "arithmetic", "rounding"), 0.02, True), (failed(0.1019, "arithmetic", "sign"), 0.02, False),
    (failed(0.1019, "left-out"), 0.02, False), (failed(0.1019, "arithmetic", shown=Shown()), 0.02, True),
    (failed(0.1019, shown=Shown()), 0.02, False),  # a relation is shown, and it does not come to that
    (failed(0.1019, shown=None), 0.02, False), (failed(None), 0.02, False), (failed(0.1019, key="I_X"), 0.02, False),
    (replace(failed(0.1019), code=Code.UNITS), 0.02, False),
    (failed(130.1, key="R"), 0.05, False),  # a choice has no tolerance: it would do or it would not
]  # fmt: skip


@pytest.mark.parametrize(("finding", "tolerance", "counts"), CASES)
def test_a_value_within_the_tolerance_counts(finding: Finding, tolerance: float, counts: bool):
    """It holds then, as the answer; else the finding is as it was."""
    (found,) = allowed((finding,), DESIGN, tolerance)
    if counts:
        assert (found.code, found.columns, found.slip, found.answers) == (Code.HOLDS_HERE, None, (), ("I_Z",))
    else:
        assert found == finding


def test_it_is_told_by_how_much_and_what_is_allowed():
    """98.1 mA are 1.9 % off 100 mA; 1.96 % are 2 in two figures."""
    for reached, off in ((0.0981, "1.9"), (0.09804, "2")):
        (found,) = allowed((failed(reached),), DESIGN, 0.02)
        assert found.why == f"{off} % off, within the 2 % allowed here"


@pytest.mark.parametrize(("own", "counts"), [(130.0, True), (130.0 * (1 + 1e-9), True), (120.0, False)])
def test_what_rests_on_another_choice_has_another_answer(own: float, counts: bool):
    """With the model's part the model's answer is right; with another part it says nothing of this value."""
    found = allowed((chosen(own), failed(0.1019)), DESIGN, 0.02)
    assert found[0] == chosen(own)
    assert (found[1].code is Code.HOLDS_HERE) is counts


def test_a_choice_that_the_model_does_not_make_leaves_its_answer_open():
    """Where the scheme gives the part no value of its own, any choice makes the answer another."""
    scheme = Scheme("design", (replace(R, answer=None), I_Z))
    assert allowed((chosen(130.0), failed(0.1019)), scheme, 0.02)[1].code is Code.FAILS
    assert allowed((failed(0.1019),), scheme, 0.02)[0].code is Code.HOLDS_HERE
