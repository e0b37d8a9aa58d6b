"""The mark for telling a state: what counts as a verdict, and which one of several does.

Sources as in `test_marks.py`: [KEY] a published key to mark codes; [AQA] general marking instructions.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.working.check import Checked
from tutor.working.finding import Code, Finding
from tutor.working.ledger import Marks
from tutor.working.marks import mark_working

OPTIONS = ("the zener is in breakdown", "the zener is off")
TOLD = SchemePoint(
    "state", WaypointKind.STATE, "whether the zener conducts", (SchemeMark(MarkKind.INDEPENDENT, "the zener is off"),),
    options=OPTIONS, state="the zener is off", test=("V_TH", "V_Z", 11.0),
)  # fmt: skip
VERDICTS = [
    ("so the zener is off", Code.NOTE, 1),
    ("the zener is not conducting", Code.NOTE, 1),
    ("zener in breakdown", Code.NOTE, 0),
    ("V_TH = 9.09 V < V_Z", Code.HOLDS_HERE, 1),
    ("V_TH = 9.09 V < 11 V", Code.HOLDS_HERE, 1),
    ("V_TH < 20 V", Code.HOLDS_HERE, 0),
    ("V_TH = 13 V > V_Z, so the zener is in breakdown", Code.FAILS, 0),
    ("V_TH = 3 V < V_Z, so the zener is off", Code.FAILS, 0),
    ("V_TH = 3 V < V_Z, so the zener is off", Code.FOLLOWS, 0),
    ("assume the zener is off", Code.NOTE, 0),
    ("is the zener off?", Code.NOTE, 0),
    ("is the zener off", Code.NOTE, 0),
    ("the zener is off?", Code.NOTE, 0),
    ("let us assume the zener is off", Code.NOTE, 0),
    ("let me see: the zener is off", Code.NOTE, 1),
    ("V_TH = 9.09 V", Code.HOLDS_HERE, 0),
]


def marks(*lines: Finding) -> Marks:
    """The marks of some lines where only the state is asked."""
    return mark_working(Checked(lines, None), Scheme("", (TOLD,)))


@pytest.mark.parametrize(("text", "code", "got"), VERDICTS)
def test_a_state_is_one_independent_mark(text: str, code: Code, got: int):
    """[KEY]: told in words or by the comparison that shows it; an assumption, a question, a false line tell nothing."""
    value = {"11": 11.0, "20": 20.0, "9.09": 9.09}.get(text.split()[-2] if " V" in text else "")
    told = Finding(1, text, code, "", None, (), "V_TH" if "V_TH" in text else "", value)
    assert marks(told).got == got


def test_the_last_verdict_counts():
    """[AQA], list rule, for states: words outweigh a comparison, and the last words count."""
    lines = [Finding(1, "zener off", Code.NOTE, ""), Finding(2, "so the zener is in breakdown", Code.NOTE, "")]
    given = marks(*lines)
    assert given.ledger[0].why == "you say the zener is in breakdown; in fact the zener is off"
    assert marks(lines[1], replace(lines[0], number=3)).got == 1
    assert marks().ledger[0].why == "not said: whether the zener conducts"
