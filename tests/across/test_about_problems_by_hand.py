"""One problem of each level that is about another problem, worked on paper: plain numbers, no engine.

Workings: Ohm's and Kirchhoff's laws, a straight zener (Sedra and Smith, Microelectronic Circuits, zener shunt
regulator; from memory).
"""

from __future__ import annotations

import pytest

from tutor.across.family import Posed
from tutor.across.named import posed
from tutor.solution.desk import our_desk
from tutor.views.plain import chain_text


def shown(name: str) -> tuple[Posed, dict[str, float | str], list[str]]:
    """A problem, what is right at each of its waypoints, and the lines it shows."""
    item = posed(our_desk(), name)
    right = {point.key: point.state if point.answer is None else point.answer.value for point in item.problem.waypoints}
    lines = [chain_text(line.chain).replace("\u00a0", " ") for line in item.lines if line.chain is not None]
    return item, right, lines


def test_wrong_line_of_a_corner_table() -> None:
    """19 to 27 V, 270 ohm, zener 11 V, load 5 to 18 mA, 500 mW: line 2 takes the fullest load at the highest line."""
    _, right, lines = shown("find-the-wrong-line:1:1")
    wrong = (27 - 11) / 270 - 0.018
    put_right = (27 - 11) / 270 - 0.005
    assert lines[1].endswith(f"= {wrong * 1000:.1f} mA")
    assert lines[2].endswith(f"= {11 * wrong * 1000:.0f} mW") and 11 * wrong < 0.5 < 11 * put_right
    assert (right["line"], right["reason"]) == ("line 2", "everything taken at its greatest")
    assert right["corrected"] == pytest.approx(put_right)
    assert right["verdict"] == "only the overloading corner fails"


def test_wrong_line_of_a_drift() -> None:
    """Zener 3.3 V at -0.065 %/K and a diode of 0.7 V at -1.8 mV/K, 46 K: line 4 takes the share of the whole output."""
    _, right, lines = shown("find-the-wrong-line:2:1")
    assert lines[3].endswith("= −4.4 mV/K") and round(-0.00065 * (3.3 + 0.7) - 0.0018, 7) == -0.0044
    assert right["line"] == "line 4"
    assert right["corrected"] == pytest.approx(-0.00065 * 3.3 - 0.0018)
    assert right["DV_O"] == pytest.approx((-0.00065 * 3.3 - 0.0018) * 46)


def test_wrong_line_of_a_choice() -> None:
    """19 V at the trough, 11 V at 23 mA with 8 ohm, load 8 mA, 2 mA for the zener: 820 ohm is above the bound."""
    item, right, lines = shown("find-the-wrong-line:3:1")
    zener = 11 - 8 * 0.023 + 8 * 0.002
    bound = (19 - zener) / (0.008 + 0.002)
    assert 750 < bound < 820 and lines[5] == "R = 820 Ω"
    assert (right["line"], right["reason"]) == ("line 6", "rounded up past the bound")
    least = 8 / (0.030 / 2) - 8
    fits = [value for value in (510, 560, 620, 680, 750, 820) if least <= value <= bound]
    assert item.problem.waypoints[2].accepted == pytest.approx(fits) and right["corrected"] == 750
    assert right["V_RIP_O"] == pytest.approx(2 * 8 / (750 + 8))


def test_estimate_of_one_relation() -> None:
    """0.7 V across the resistor, at most 8 mA in it."""
    item, right, _ = shown("estimate:1:1")
    assert right == {"R_BE_MIN": pytest.approx(0.7 / 0.008)}
    assert [slip.value for slip in item.problem.waypoints[0].slips] == pytest.approx([0.7 / 8])


def test_estimate_of_two_relations() -> None:
    """16 V, zener 4.3 V with 30 mA beside 680 ohm; amperes for milliamperes make the zener's current 30 A."""
    item, right, _ = shown("estimate:2:1")
    load = 4.3 / 680
    assert right == {"R": pytest.approx((16 - 4.3) / (load + 0.030))}
    assert [slip.value for slip in item.problem.waypoints[0].slips] == pytest.approx([(16 - 4.3) / (load + 30)])


def test_estimate_at_a_corner() -> None:
    """14.5 to 19.5 V, zener 12 V, 100 mA over a gain of 50, 2 mA for the zener: starved at the lowest line."""
    item, right, _ = shown("estimate:3:1")
    base = 0.100 / 51
    assert right == {"corner": "the lowest line", "R_MAX": pytest.approx((14.5 - 12) / (base + 0.002))}
    assert f"{(19.5 - 12) / (base + 0.002) / 1000:.2f} kΩ" in item.problem.waypoints[0].remarks[0].why


def test_a_current_that_cannot_flow() -> None:
    """16 V, 220 ohm, zener 6.2 V: 44.5 mA flows toward the zener, not away from it."""
    item, right, lines = shown("sanity-check:1:1")
    assert lines == [f"I_R = −{(16 - 6.2) / 220 * 1000:.1f} mA"]
    assert right["verdict"] == "it cannot be" and "backward" in str(right["reason"])
    assert f"at most {16 / 220 * 1000:.1f} mA" in " ".join(remark.why for remark in item.problem.waypoints[1].remarks)


def test_a_trough_above_the_crest() -> None:
    """A winding of 11 V: its crest is 15.6 V, and no trough stands at 24 V; 0.5 A for half a cycle of 60 Hz takes
    0.89 V off 4700 microfarads."""
    _, right, lines = shown("sanity-check:2:1")
    assert lines[0] == f"V_RIP = {0.5 / (2 * 60 * 4700e-6):.3f} V"
    assert lines[1] == "V_TROUGH = 24.2 V" and 2**0.5 * 11 < 24.2
    assert right["result"] == "result b" and "crest" in str(right["reason"])


def test_what_surprises_is_true() -> None:
    """21.15 to 25.85 V, 171 to 189 ohm, zener 5.32 to 5.88 V, load 8 to 30 mA: the zener is hottest at least load."""
    _, right, lines = shown("sanity-check:3:1")
    most = (25.85 - 5.32) / 171 - 0.008
    least = (21.15 - 5.88) / 189 - 0.030
    hottest = max(zener * ((25.85 - zener) / 171 - 0.008) for zener in (5.32, 5.88))
    assert lines == [f"I_Z_MAX = {most * 1e3:.1f} mA", f"P_Z_MAX = {hottest * 1e3:.0f} mW",
                     f"I_Z_MIN = −{least * 1e3:.1f} mA"]  # fmt: skip
    assert right["a"] == right["b"] == "it can be" and "backward" in str(right["c"])
    assert right["meaning"] == "the zener is hottest while the load takes least"
