"""One problem of each level of complete-the-circuit, worked by hand from its table; and the judging of joinings."""

from __future__ import annotations

import pytest

from tutor.across.family import Posed
from tutor.across.named import posed
from tutor.generate.judging import Outcome, judge
from tutor.generate.problem import Waypoint
from tutor.solution.desk import our_desk


def problem(name: str) -> Posed:
    return posed(our_desk(), name)


def point(item: Posed, key: str) -> Waypoint:
    return next(point for point in item.problem.waypoints if point.key == key)


def given(item: Posed) -> dict[str, float]:
    return {name: quantity.value for name, quantity in item.problem.given.items()}


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_level_1_a_zener_across_the_output_and_the_wrong_way_round() -> None:
    """18 V, 120 ohms, 6.2 V, 390 ohms: cathode up it is in breakdown; without it the output would be 13.76 V."""
    item = problem("complete-the-circuit:1:1")
    assert given(item) == {"V_I": 18.0, "R": 120.0, "V_Z": 6.2, "R_L": 390.0}
    joining = point(item, "joining")
    assert joining.places == ("the zener's cathode", "the zener's anode")
    assert joining.arrangements == ("the output node; ground",)
    assert "6.2 V" in plain(item.problem.statement)
    divided = 18 * 390 / (120 + 390)  # above 6.2 V, so the zener is in breakdown
    absent = next(remark for remark in joining.remarks if remark.option == "ground; ground")
    assert f"{divided:.2f} V" in plain(absent.why)
    turned = point(item, "turned").answer
    assert turned is not None and turned.value == pytest.approx(0.7)
    assert judge(joining, "ground; the output node").slip == "zener-forward"
    assert judge(joining, "the output node; ground").outcome is Outcome.RIGHT
    # From the supply to ground lie 18 V across 6.2 V, or across a junction: there is no point to rest at.
    straight = {remark.option: remark.why for remark in joining.remarks}
    assert all("No operating point" in straight[way] for way in ("the input node; ground", "ground; the input node"))


def test_level_2_a_divider_and_an_amplifier() -> None:
    """18 V, 3.3 and 4.7 kilohms, 5.1 V: (1 + 3.3/4.7) times 5.1 V; inputs exchanged, 18 V - 2 V - 0.7 V or nothing."""
    item = problem("complete-the-circuit:2:4")
    values = given(item)
    assert [values[name] for name in ("V_I", "R_1", "R_2", "V_REF", "V_DROP", "V_BE")] == [
        18.0, 3300.0, 4700.0, 5.1, 2.0, 0.7,
    ]  # fmt: skip
    assert f"{5.1 * (1 + 3.3 / 4.7):.2f} V" in plain(item.problem.statement)
    joining = point(item, "joining")
    assert [place.split()[-2:] for place in joining.places] == [
        ["inverting", "input"], ["non-inverting", "input"], ["of", "$R_1$"],
    ]  # fmt: skip
    assert joining.arrangements == ("the divider's tap; the reference node; the output node",)
    latched = judge(joining, "the reference node; the divider's tap; the output node")
    assert latched.slip == "divider-to-plus" and f"{18 - 2 - 0.7:.1f} V or 0 V" in plain(latched.why)
    # The inverting input on the output itself: a follower of the reference.
    follows = judge(joining, "the output node; the reference node; the output node")
    assert follows.outcome is Outcome.WRONG and "5.1 V" in plain(follows.why)
    assert point(item, "does").state.startswith("it has two points to rest at")


def test_level_3_an_output_below_ground_and_what_each_stage_does() -> None:
    """18 V, 100 ohms, 6.2 V, 1 kilohm, plus at ground: the zener's cathode is the higher end, and that is ground."""
    item = problem("complete-the-circuit:3:3")
    assert given(item) == {"V_I": 18.0, "R": 100.0, "V_Z": 6.2, "R_L": 1000.0}
    joining = point(item, "joining")
    assert "−6.2 V" in plain(item.problem.statement)
    assert joining.arrangements == ("ground; the output node",)
    absent = next(remark for remark in joining.remarks if remark.option == "ground; ground")
    assert f"−{18 * 1000 / 1100:.2f} V" in plain(absent.why)
    functions = point(item, "functions")
    assert [place.strip("$") for place in functions.places] == ["Z", "R", "L", "V_I"]
    assert functions.state == (
        "takes the current that the load leaves, at its own voltage; takes up what the supply has over the output; "
        "is what the voltage is wanted for; brings the power"
    )


@pytest.mark.parametrize("level", [1, 2, 3])
def test_every_way_of_joining_is_right_or_has_its_remark(level: int) -> None:
    """Each way that does not give the output is told what it would do; the parts asked about are withheld."""
    for number in range(1, 11):
        item = problem(f"complete-the-circuit:{level}:{number}")
        joining = point(item, "joining")
        ways = len(joining.options) ** len(joining.places)
        assert len(joining.arrangements) + len(joining.remarks) == ways
        assert not {remark.option for remark in joining.remarks} & set(joining.arrangements)
        assert item.withheld
