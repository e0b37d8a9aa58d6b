"""The checks that close a solution: each requirement at its worst corner, with what is to spare, and true."""

from __future__ import annotations

import re

import pytest

import tutor
from tests.solution.at_hand import LEVELS, batch, ground
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import symbol_for
from tutor.quantities.units import difference_unit
from tutor.views.plain import prose_text
from tutor.working.ground import Around, Ground
from tutor.working.margins import margins_in


def texts(name: str) -> list[str]:
    return [prose_text(check.text).replace("\u00a0", " ") for check in tutor.problem(name).solution.checks]


def test_a_requirement_is_told_with_its_corner_and_margin():
    """zener-resistor:2:1 by hand: starving, 283.5 Ω: 12.4/283.5 − 35 mA = 8.74 mA; hot, 256.5 Ω: 17.4/256.5 − 10 mA.

    9.1 V × 57.84 mA = 526.3 mW of 1 W.
    """
    worked = tutor.problem("zener-resistor:2:1").solution.checks
    assert texts("zener-resistor:2:1") == [
        "Starving corner, R at the top of its tolerance: I_Z = 8.74 mA, at least 8 mA is needed",
        "Overloading corner, R at the bottom of its tolerance: P_Z = 526 mW, at most 1 W is allowed",
    ]
    assert [check.margin for check in worked] == ["739 µA to spare", "474 mW to spare"]


def test_without_requirements_the_region_is_checked():
    """zener-state: the inequality of the state assumed, in both states."""
    assert texts("zener-state:1:2")[-1].endswith("so the zener is in breakdown, as assumed")
    assert texts("zener-state:1:1")[-1].endswith("so the zener is off, as assumed")
    assert "≥ 0" in texts("zener-state:1:2")[-1] and "≤ V_Z = 11 V" in texts("zener-state:1:1")[-1]


def test_results_put_back_give_the_givens_again():
    """supply-source-model: the second reading comes back from V_OC and R_S."""
    (text,) = texts("supply-source-model:3:4")
    assert text == "The second reading comes back: V_OC − I_I_2 R_S = 18.9 V, and V_I_2 = 18.9 V"


LINE = re.compile(r"([A-Z][A-Za-z_0-9]*) = (−?[0-9.]+ \S+), at (least|most) ([0-9.]+ \S+) is (needed|allowed)$")


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_what_a_check_says_is_so(family: str, level: int):
    """Read back from its own words: the value is on the right side of the limit, and the margin is their difference."""
    desk = tutor.open_desk()
    for worked in desk.batch(desk.level(family, level), range(1, 61)):
        assert worked.solution.checks
        shares = {check.share: check.part for check in worked.solution.checks if check.part}
        for check in worked.solution.checks:
            assert check.holds, worked.problem.name
            if check.text.startswith("The weakest part: "):
                assert check.text.endswith(shares[min(shares)]) and len(set(shares.values())) > 1
                continue
            text = prose_text(check.text).replace("\u00a0", " ")
            found = LINE.search(text)
            if found is None:
                assert "as assumed" in text or "comes back" in text or " and " in text, text
                continue
            name, value_text, word, limit_text, close = found.groups()
            unit = symbol_for(name).unit
            value, limit = (read_quantity(item, unit).value for item in (value_text, limit_text))
            assert value is not None and limit is not None
            assert (word, close) in (("least", "needed"), ("most", "allowed"))
            slack = 0.006 * abs(limit)  # both as printed
            assert value >= limit - slack if word == "least" else value <= limit + slack, (worked.problem.name, text)
            spare = check.margin.removesuffix(" to spare")
            margin = 0.0 if spare == "nothing" else read_quantity(spare, difference_unit(unit)).value
            assert margin is not None
            assert abs(abs(value - limit) - margin) <= 0.006 * max(abs(value), abs(limit)), (worked.problem.name, text)


def test_a_learners_own_choice_has_its_table_of_margins():
    """zener-resistor:2:5 by hand (17.5 V to 22.5 V, 9.1 V, 0 to 30 mA, knee 8 mA, 1 W, 5 %), in the learner's resistor.

    180 Ω: 8.4/189 − 30 mA = 14.44 mA and 9.1 V × 13.4/171 = 713 mW; 240 Ω: 8.4/252 − 30 mA = 3.33 mA, too little.
    """
    checked = tutor.check("choose R = 180 Ω", problem="zener-resistor:2:5")
    assert checked.design == "R = 180 Ω"
    assert all(row.holds for row in checked.margins)
    assert [row.margin for row in checked.margins] == ["6.44 mA to spare", "287 mW to spare"]
    starved, fed = tutor.check("choose R = 240 Ω", problem="zener-resistor:2:5").margins
    assert (starved.holds, starved.margin, fed.holds) == (False, "4.67 mA missing", True)
    assert prose_text(starved.text).replace("\u00a0", " ").endswith("I_Z = 3.33 mA, at least 8 mA is needed")
    hot = tutor.check("choose R = 100 Ω", problem="zener-resistor:2:5").margins[1]
    assert (hot.holds, hot.margin) == (False, "284 mW too much")  # 9.1 V × 13.4/95 = 1.284 W
    assert tutor.check("V_Z = 9.1 V", problem="zener-resistor:2:5").margins == ()


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_the_model_choice_has_the_margins_of_the_solution(family: str, level: int):
    """Worked out from the sheet, without arrays, they are those that arrays give; and a choice of any size is answered
    by a table or by none, never by an error."""
    for worked, sheet in batch(family, level, 3):
        models = {choice.key: choice.model for choice in sheet.choices}
        if not models:
            continue
        told = margins_in(Ground(Around(sheet, sheet.recipe), models))
        count = len(sheet.demands)
        assert told[:count] == worked.solution.checks[:count], worked.problem.name
        assert set(told[count:]) <= set(worked.solution.checks[count:])  # the weakest part, where parts are told apart
        for factor in (1e-30, 1e-3, 0.1, 10.0, 1e30):
            for key, value in models.items():
                for row in margins_in(Ground(Around(sheet, sheet.recipe), {key: value * factor})):
                    assert row.margin and "nan" not in row.text + row.margin


def test_a_choice_beyond_all_reason_has_no_margin():
    """10⁻⁴⁰ Ω would drive more than 10³⁰ W: nothing is said; of what is merely far too small the margin is told."""
    assert margins_in(ground("zener-resistor:2:1", R=1e-40)) == ()
    assert [row.holds for row in margins_in(ground("zener-resistor:2:1", R=1e-3))] == [True, False]
