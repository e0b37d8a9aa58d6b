"""Chains of a working set in plain text within a width."""

from __future__ import annotations

import pytest

import tutor
from tests.solution.at_hand import LEVELS
from tutor.quantities.formula import read_expression
from tutor.solution.solution import Chain
from tutor.views.plain import chain_lines, chain_text


def chain(first: str, *rest: str) -> Chain:
    return Chain(read_expression(first), tuple(("=", read_expression(side)) for side in rest))


def test_sides_stand_under_one_another_and_a_long_one_goes_on_at_a_sign():
    power = chain("P_D", "(V_I - V_O - V_REF)*I_REG + (V_I - V_O)*I_ADJ", "V_I*I_REG")
    assert chain_lines(power, 80) == ["P_D = (V_I − V_O − V_REF) I_REG + (V_I − V_O) I_ADJ = V_I I_REG"]
    assert chain_lines(power, 52) == ["P_D = (V_I − V_O − V_REF) I_REG + (V_I − V_O) I_ADJ", "    = V_I I_REG"]
    assert chain_lines(power, 40) == [
        "P_D = (V_I − V_O − V_REF) I_REG", "      + (V_I − V_O) I_ADJ", "    = V_I I_REG",
    ]  # fmt: skip
    assert chain_lines(power, 20) == [
        "P_D = (V_I − V_O", "      − V_REF) I_REG", "      + (V_I", "      − V_O) I_ADJ", "    = V_I I_REG",
    ]  # fmt: skip


def test_what_has_no_sign_to_break_at_stays_whole():
    assert chain_lines(chain("h_FE_1_MIN", "I_L_MAX/I_B_1_MAX"), 12) == ["h_FE_1_MIN = I_L_MAX/I_B_1_MAX"]


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_no_line_of_a_solution_is_wider_than_a_terminal(family: str, level: int):
    """80 columns less the indents; and nothing is lost or added by breaking."""
    seen = 0
    for number in range(1, 4):
        for step in tutor.problem(f"{family}:{level}:{number}").solution.steps:
            for item in step.chains:
                lines = chain_lines(item, 72)
                assert max(map(len, lines)) <= 72, lines
                assert " ".join(line.strip() for line in lines) == chain_text(item)
                seen += 1
    assert seen
