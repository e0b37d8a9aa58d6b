"""The table of misread lines is its own test: each example is misread with exactly the fault of its row."""

from __future__ import annotations

import pytest

from tutor.working.faults import MOST_CHARACTERS, LineFault
from tutor.working.misreadings import MISREADINGS, LineMisreading
from tutor.working.read import read_line
from tutor.working.tree import LineKind
from tutor.working.vocabulary import Vocabulary

# Symbols of several circuits at once, so that every collision of letters can show.
SYMBOLS = """
    V_I I_I R_S V_Z I_Z P_Z r_z I_ZK R I_R V_R P_R R_L I_L V_O P_O R_1 R_2 V_REF A C f V_RIP T_J T_A V_BE h_FE I_B V_OA
    V_SEC VA T N_T P_RM
"""
EVERYTHING = Vocabulary(frozenset(SYMBOLS.split()))
EXAMPLES = [(row, example) for row in MISREADINGS for example in row.examples]


@pytest.mark.parametrize(("row", "example"), EXAMPLES, ids=[f"{row.fault.value}: {one[:40]}" for row, one in EXAMPLES])
def test_an_example_is_misread_as_its_row_says(row: LineMisreading, example: str):
    """Fault, one sentence with nothing left to fill in, columns inside the text."""
    line = read_line(example, EVERYTHING)
    assert line.kind is LineKind.UNREAD
    assert line.misread is not None
    assert line.misread.fault == row.fault.value
    first, past = line.misread.columns
    assert 1 <= first < past <= len(example) + 1
    found = example[first - 1 : past - 1]
    beginning = row.sentence.split("{")[0]
    assert line.misread.sentence.startswith(beginning)
    assert "{near}" not in line.misread.sentence
    if "{found}" in row.sentence:
        assert found in line.misread.sentence


def test_every_fault_has_one_row_with_several_examples():
    """None without a sentence, none twice, none that nothing shows."""
    assert [row.fault for row in MISREADINGS] == list(dict.fromkeys(row.fault for row in MISREADINGS))
    assert {row.fault for row in MISREADINGS} == set(LineFault)
    assert all(len(row.examples) > 1 for row in MISREADINGS)


def test_a_sentence_is_one_sentence():
    """No full stop at its end, no capital at its start, no more than 140 characters."""
    for row in MISREADINGS:
        assert row.sentence[-1] not in ".!" and len(row.sentence) <= 140, row.fault
        assert row.sentence[0].islower() or row.sentence[0] in "'{", row.fault


NEAR = [
    ("R = V_Q/5", "'V_Q' is no symbol of this circuit; did you mean V_Z?", (5, 8)),
    ("I_Z = Irr - I_L", "'Irr' is no symbol of this circuit; did you mean I_R?", (7, 10)),
    ("V_Z = 5,1 V", "is the comma in '5,1' a decimal sign? Write a point for it, no comma between thousands, and a "
     "space after a comma that separates", (7, 10)),
    ("R = 5 + (3 - ", "the bracket '(' is never closed", (9, 10)),
    ("R = 5 ×", "nothing stands after '×'", (7, 8)),
    ("R = 5 mA and I_L = 3", "'and I_L = 3' is a second statement; write one a line, please", (10, 21)),
    ("V_I/R I_L", "'V_I/R I_L' can be read two ways; bracket what is divided by, a/(b c) or (a/b) c", (1, 10)),
    ("R = sqrt(2, 3)", "sqrt takes one value", (5, 9)),
    ("R = max(2)", "max takes two values or more", (5, 8)),
    ("😀 = 5 {near}", "the word '😀' stands where a number or symbol belongs; set words before a colon or after a "
     "comma", (1, 2)),
    ("R = 5 {near}", "'{' has no meaning in a line of working", (7, 8)),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "sentence", "columns"), NEAR)
def test_a_sentence_says_what_and_where(typed: str, sentence: str, columns: tuple[int, int]):
    """The text at fault as typed, the nearest symbol, the columns."""
    misread = read_line(typed, EVERYTHING).misread
    assert misread is not None
    assert (misread.sentence, misread.columns) == (sentence, columns)


def test_the_nearest_symbol_may_be_the_learners_own():
    """Own names are offered beside those of the circuit."""
    misread = read_line("R = 3 totol", Vocabulary(frozenset({"R"}), {}, ("total",))).misread
    assert misread is not None
    assert misread.sentence == "'totol' is no symbol of this circuit; did you mean total?"


def test_the_caps_are_those_of_the_table():
    """The longest line is read, one character more is not."""
    longest = "R = 1" + " " * (MOST_CHARACTERS - 6) + "Ω"
    assert read_line(longest, EVERYTHING).kind is LineKind.CHAIN
    assert read_line(longest + " ", EVERYTHING).kind is LineKind.UNREAD


def test_a_remark_makes_no_line_read_that_did_not():
    """A malformed line with words after a comma stays unread, or is a note where it has no relation."""
    for row, example in EXAMPLES:
        # What follows a comma is words as soon as one word is among it.
        if row.fault not in (LineFault.SECOND_CHAIN, LineFault.TOO_LONG, LineFault.TOO_MANY):
            assert read_line(f"{example}, fine", EVERYTHING).kind in (LineKind.UNREAD, LineKind.NOTE), example
