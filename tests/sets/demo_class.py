"""An invented class and what it hands back: right, slipped, followed through, unread, blank, broken, hostile.

Three questions, the same for everyone, so that what each working is worth can be said by hand beside it.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from tutor.generate.name import read_name
from tutor.sets.asked import asked
from tutor.sets.class_list import file_stem
from tutor.sets.paper import Asked, ClassSet, DrawnQuestion, Learner, Paper, Question, Rules
from tutor.solution.desk import our_desk

NAMES = ("zener-state:1:3", "follower-state:1:2", "direction-of-change:1:1")
MARKS = (5, 4, 4)  # the second scheme has six marks and is scaled

RIGHT = """Q1
V_TH = V_I R_L/(R + R_L) = 30 × 330/(100 + 330) = 23.0 V
V_TH > V_Z, so the zener is in breakdown
V_O = V_Z = 15 V

Question 2.
V_O = V_Z - V_BE = 5.1 - 0.7 = 4.4 V
I_L = V_O/R_L = 4.4/560 = 7.86 mA
I_B = I_L/(h_FE + 1) = 7.86 mA/121 = 64.9 µA

q3:
V_O: stays
P_O: stays
I_R: falls
P_R: falls
"""
# The divider upside down (V_TH = 6.98 V), and from there on the state and the output as they follow.
DIVIDER_TURNED = """Q1
V_TH = V_I R/(R + R_L) = 30 × 100/430 = 6.98 V
V_TH < V_Z, so the zener is off
V_O = V_TH = 6.98 V
Q2
V_O = V_Z - V_BE = 4.4 V
I_L = V_O/R_L = 7.86 mA
I_B = I_L/(h_FE + 1) = 64.9 µA
Q3
V_O: falls
P_O: stays
I_R: falls
P_R: falls
"""
# The junction added instead of taken off; the load and the base current follow from 5.8 V.
JUNCTION_ADDED = """Q1
V_TH = 23.0 V
V_TH > V_Z
V_O = 15 V
Q2
V_O = V_Z + V_BE = 5.1 + 0.7 = 5.8 V
I_L = V_O/R_L = 5.8/560 = 10.36 mA
I_B = I_L/(h_FE + 1) = 10.36 mA/121 = 85.6 µA
Q3
V_O: stays
P_O: stays
I_R: rises
P_R: rises
"""
# A bracket left open, a cell that a spreadsheet might run, a question left out, one that is not asked.
UNREAD = """My working, in pencil first
Q1
V_TH = 30 × 330/(100 + 330 = 23.0 V
=cmd|' /C calc'!A0
V_O = 15 V
Q3
V_O: stays
Q7
V_O = 1 V
"""
POWER_OF_TEN = """Q1
V_TH = V_I R_L/(R + R_L) = 23.0 V
V_TH > V_Z so it is in breakdown
V_O = V_Z = 15 V
Q2
V_O = V_Z - V_BE = 4.4 V
I_L = V_O/R_L = 4.4/560 = 78.6 mA
I_B = I_L/(h_FE + 1) = 78.6 mA/121 = 650 µA
"""

LEARNERS = (
    Learner("w01", "Ada Wren"),
    Learner("w02", "Bo Finch"),
    Learner("w03", "Cy Heron"),
    Learner("w04", "=HYPERLINK(\"http://x\")"),
    Learner("w05"),
    Learner("w06", "Di Swift"),
    Learner("../../x", "+Eve"),
    Learner("=cmd()", "Flo Crane"),
    Learner("w07", "Gil Rook <b>"),
)
SET = ClassSet(
    "States of regulators",
    7,
    tuple(
        Question(DrawnQuestion(name.family, name.level, name.number), marks)
        for name, marks in zip(map(read_name, NAMES), MARKS, strict=True)
    ),
    LEARNERS,
)


@cache
def questions() -> tuple[Asked, ...]:
    """The questions of every paper."""
    desk = our_desk()
    pairs = zip(NAMES, MARKS, strict=True)
    return tuple(asked(desk, number, read_name(name), marks) for number, (name, marks) in enumerate(pairs, 1))


def paper_of(learner: Learner, rules: Rules | None = None) -> Paper:
    """That learner's paper, under other rules where they are given."""
    return Paper(SET if rules is None else replace(SET, rules=rules), learner, questions())


def write_workings(folder: Path) -> Path:
    """The class's files; w05 returns nothing, w06 a megabyte, =cmd() no text at all."""
    folder.mkdir(exist_ok=True)
    texts = {"w01": RIGHT, "w02": DIVIDER_TURNED, "w03": JUNCTION_ADDED, "w04": UNREAD, "w07": POWER_OF_TEN}
    for whose, text in texts.items():
        (folder / f"{whose}.txt").write_text(text, encoding="utf-8")
    (folder / "w06.txt").write_text("V_O = 1 V\n" * 100_000, encoding="utf-8")
    (folder / f"{file_stem('../../x')}.txt").write_text(RIGHT.replace("4.4 V", "4,4 V"), encoding="utf-8")
    (folder / "=cmd().txt").write_bytes(b"Q1\nV_O = 15 \xb5\xff\n")
    return folder
