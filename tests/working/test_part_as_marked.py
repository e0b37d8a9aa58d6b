"""Lines at a corner where a part stands at an end of its tolerance, the part itself written as it is marked.

The family is made for this: it asks at R (1 + tol_R) and R (1 - tol_R), as a lecturer's own may. What is right of its
lines is Ohm's and Kirchhoff's laws worked below from the givens alone.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.working.model_workings import model_lines
from tutor.solution.desk import Desk, open_desk
from tutor.working.check import check_working
from tutor.working.finding import Code

OURS = Path(__file__).parents[2] / "problems"
FAMILY = """
from tutor.generate.family import (
    CheckLine, Choose, Drop, Extreme, Family, FindBound, FindExtreme, Level, Pick, PickPart, Prefer, Slip, Work,
)
from tutor.quantities.preferred import Series

LEVEL = Level(
    about="one level",
    draws=(
        PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 4.7, 15.0), ("P_ZM", 1.0, 1.0))),
        Pick("V_I_MIN", (18.0, 20.0)),
        Work("V_I_MAX", "V_I_MIN + 4"),
        Pick("I_L_MAX", (0.02, 0.03)),
        Pick("I_L_MIN", (0.0,)),
        Pick("I_ZK", (0.005,)),
        Pick("P_ZM", (1.3, 2.0)),
        Pick("tol_R", (0.05,)),
    ),
    given=("V_I_MIN", "V_I_MAX", "V_Z", "I_L_MIN", "I_L_MAX", "I_ZK", "P_ZM", "tol_R"),
    ranges=("V_I", "I_L"),
    data="The line lies between {V_I_MIN} and {V_I_MAX}.",
    ask="Choose the resistor.",
    asks=(
        FindBound("R", "I_Z >= I_ZK", "the largest R"),
        Choose("R", Series.E24, "an E24 value", Prefer.LARGEST, "it is", high="R_MAX", tolerance="tol_R"),
        FindExtreme("I_Z", Extreme.LEAST, "the least", at={"R": "R*(1 + tol_R)"}),
        FindExtreme("P_Z", Extreme.GREATEST, "the most", at={"R": "R*(1 - tol_R)", "I_L": "0"}),
    ),
    slips=(Slip("none", "I_Z_MIN", Drop("I_L"), "a", "b", "c"),),
    checks=(CheckLine("Corner", "I_Z >= I_ZK"),),
    require=("V_I_MIN >= 1.25*V_Z",),
)
FAMILY = Family(
    title="t", about="a", lesson="shunt", circuit="zener-shunt", levels=(LEVEL, LEVEL, LEVEL),
    scenarios=("A gate is fed by a zener.",), cautions=("output",),
)
"""
TRUE = (
    "I_Z = (V_I_MAX - V_Z)/(R (1 - tol_R)) = {most} mA",
    "I_Z = (V_I_MAX - V_Z)/(0.95 R) = {most} mA",
    "I_Z = (V_I_MAX - V_Z)/(0.95 R)",
    "I_Z = (V_I - V_Z)/(R (1 - tol_R))",
    "I_Z_MAX = (V_I_MAX - V_Z)/(R (1 - tol_R))",
    "I_R = (V_I_MAX - V_Z)/R = {most} mA",
    "I_Z = {most} mA",
    "I_Z = (V_I_MIN - V_Z)/(R (1 + tol_R)) - I_L_MAX = {least} mA",
    "I_Z = (V_I - V_Z)/(R (1 + tol_R)) - I_L",
    "I_Z_MIN = (V_I_MIN - V_Z)/(1.05 R) - I_L_MAX",
    "P_Z = V_Z (V_I_MAX - V_Z)/(R (1 - tol_R))",
)
FALSE = (
    "I_Z = (V_I_MAX - V_Z)/(R (1 - 2 tol_R))",
    "I_Z = (V_I - V_Z)/(R (1 - tol_R)) + I_L_MAX",
    "I_Z = (V_I_MAX - V_O)/(R - tol_R)",
    "I_Z_MIN = (V_I_MIN - V_Z)/(R (1 - tol_R)) - I_L_MAX",
    "P_Z_MAX = V_Z (V_I_MAX - V_Z)/(R (1 + tol_R))",
)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """A desk over our circuits and parts with the family above."""
    root = tmp_path_factory.mktemp("tolerances") / "problems"
    (root / "families").mkdir(parents=True)
    for name in ("circuits", "parts"):
        shutil.copytree(OURS / name, root / name)
    (root / "families" / "bench_made.py").write_text(FAMILY, encoding="utf-8")
    return open_desk(root)


@pytest.mark.parametrize("number", range(1, 6))
def test_the_model_solution_holds_line_by_line(desk: Desk, number: int):
    """Its lines name the corner's I_Z beside R as marked."""
    (worked,) = desk.batch(desk.level("bench-made", 1), [number])
    text = "\n".join(line.text for line in model_lines(worked))
    assert "R (1 − tol_R)" in text and "R (1 + tol_R)" in text
    checked = check_working(text, desk.sheet(f"bench-made:1:{number}"))
    right = {Code.HOLDS, Code.HOLDS_HERE, Code.CHOICE_OK}
    assert [item for item in checked.findings if item.code not in right] == []


@pytest.mark.parametrize("number", range(1, 6))
def test_true_lines_hold_and_false_ones_fail(desk: Desk, number: int):
    """Each alone, after the choice."""
    sheet = desk.sheet(f"bench-made:1:{number}")
    env, resistor = sheet.env, sheet.choices[0].model
    drop = env["V_I_MAX"] - env["V_Z"], env["V_I_MIN"] - env["V_Z"]
    most, least = drop[0] / (0.95 * resistor), drop[1] / (1.05 * resistor) - env["I_L_MAX"]
    values = {"most": f"{1e3 * most:.4g}", "least": f"{1e3 * least:.4g}"}
    for line in TRUE:
        text = f"choose R = {resistor:g} Ω\n{line.format(**values)}"
        assert check_working(text, sheet).findings[-1].code in (Code.HOLDS, Code.HOLDS_HERE), text
    for line in FALSE:
        text = f"choose R = {resistor:g} Ω\n{line}"
        assert check_working(text, sheet).findings[-1].code in (Code.FAILS, Code.UNITS), text


@pytest.mark.parametrize("number", range(1, 6))
def test_the_part_at_an_end_of_its_tolerance_is_no_other_choice(desk: Desk, number: int):
    """`R = 285 Ω` after 300 Ω with 5 %: the part as it may turn out, and what is found with it holds."""
    sheet = desk.sheet(f"bench-made:1:{number}")
    env, resistor = sheet.env, sheet.choices[0].model
    low = 0.95 * resistor
    most = 1e3 * (env["V_I_MAX"] - env["V_Z"]) / low
    text = f"choose R = {resistor:g} Ω\nR = {low:.6g} Ω\nI_Z_MAX = (V_I_MAX - V_Z)/{low:.6g} = {most:.4g} mA"
    right = (Code.HOLDS, Code.HOLDS_HERE)
    assert [item.code in right for item in check_working(text, sheet).findings[1:]] == [True, True], text
    again = check_working(f"choose R = {resistor:g} Ω\nR = {0.9 * low:.6g} Ω", sheet).findings[-1]
    assert again.code is Code.CHOICE_BAD, again
