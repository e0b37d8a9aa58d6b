"""Plans in letters: what a page without algebra is told of each region, whatever the numbers will be."""

from __future__ import annotations

from pathlib import Path

from tutor.generate.problems_folder import ProblemsFolder
from tutor.plan.region_plans import RegionPlan, region_plans

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def plans(circuit_id: str, known: str) -> dict[str, RegionPlan]:
    """The plan of each region, by the region's id; regions are tried in the circuit's order."""
    circuit = FOLDER.circuit(circuit_id)
    found = region_plans(circuit, known.split(), {})
    assert [plan.region for plan in found] == list(circuit.regions)
    return {plan.region.id: plan for plan in found}


def test_a_region_from_which_nothing_follows_says_why() -> None:
    """Of V_I alone; a zener that is off takes no current and so no power. Nothing of it is the givens' own doing."""
    found = plans("zener-shunt", "V_I")
    assert found["breakdown"].why_not == "nothing of 'zener-shunt' follows from V_I"
    assert (found["breakdown"].steps, found["breakdown"].forced) == ((), False)
    assert [step.target for step in found["off"].steps] == ["I_Z"]


def test_a_region_without_a_law_for_a_given_is_silent() -> None:
    """R_OUT is a slope of the regulating circuit. Law follows law, so that a broken one is the givens' own doing."""
    found = plans("zener-shunt", "V_I V_Z I_L P_R R_OUT")
    assert {name: plan.silent for name, plan in found.items()} == {"breakdown": False, "off": True}
    assert all(plan.forced for plan in found.values())


def test_roots_are_not_the_givens_doing() -> None:
    """From P_O a quadratic gives I_I. From two readings the constants follow by single laws."""
    (coupled,) = plans("source", "V_OC R_S P_O").values()
    assert [step.target for step in coupled.steps if step.coupled is not None] == ["I_I"]
    assert not coupled.forced
    (read,) = plans("source", "V_I_1 I_I_1 V_I_2 I_I_2").values()
    assert read.asked == ("R_S", "V_OC") and read.forced


def test_standing_values_are_taken_where_the_givens_leave_them_open() -> None:
    """The diode's 0.7 V; where the output is given beside the zener's voltage, the diode has the rest."""
    assert plans("compensated-shunt", "V_Z I_L")["regulating"].defaults == {"V_F": 0.7}
    settled = plans("compensated-shunt", "V_Z V_O I_L")["regulating"]
    assert settled.defaults == {}
    assert "V_F" in {step.target for step in settled.steps}
