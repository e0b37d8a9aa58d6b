"""Plans kept for names: other numbers get the same plan, changed laws another; one made with numbers is not kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tutor.circuit.circuit import LoadModel
from tutor.errors import Unreachable
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive
from tutor.laws.law import LawSet
from tutor.plan import one_region
from tutor.plan.kept import KeptPlans
from tutor.plan.regions import resolve

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
SHUNT = FOLDER.circuit("zener-shunt")
LAWS = derive(SHUNT, SHUNT.regions[0], LoadModel.SINK)


def made(laws: LawSet, names: tuple[str, ...], kept: KeptPlans[int], lasting: bool = True) -> bool:
    """Whether a plan was made anew."""
    calls: list[int] = []
    kept.planned(laws, names, lambda: (calls.append(1) or 7, lasting))  # type: ignore[func-returns-value]
    return bool(calls)


def test_a_plan_is_made_once_for_names_and_anew_for_others_or_other_laws():
    kept: KeptPlans[int] = KeptPlans()
    assert made(LAWS, ("V_I", "R"), kept) and not made(LAWS, ("V_I", "R"), kept)
    assert made(LAWS, ("R", "V_I"), kept)
    assert made(replace(LAWS), ("V_I", "R"), kept), "equal laws are others: a planted fault may be in one of them"


def test_what_numbers_went_into_is_not_kept():
    kept: KeptPlans[int] = KeptPlans()
    assert made(LAWS, ("V_I",), kept, lasting=False) and made(LAWS, ("V_I",), kept)


def test_a_refusal_is_kept_too():
    kept: KeptPlans[int] = KeptPlans()
    refusals = iter([Unreachable("nothing follows")])
    for _ in range(3):
        with pytest.raises(Unreachable, match="nothing follows"):
            kept.planned(LAWS, (), lambda: (next(refusals), True))


def test_the_oldest_is_given_up_for_the_next():
    kept: KeptPlans[int] = KeptPlans(most=2)
    assert all(made(LAWS, (name,), kept) for name in "abc")
    assert not made(LAWS, ("b",), kept) and made(LAWS, ("a",), kept)


# A foldback regulator that limits: the ring is too long for letters where the load is a resistor (plan/coupled.py).
LOADED = {
    "V_I": 20.0, "R": 390.0, "V_Z": 12.0, "V_BE_1": 0.7, "h_FE_1": 60.0, "R_SENSE": 3.0, "R_A": 100.0, "R_B": 1000.0,
    "V_BE_2": 0.65, "h_FE_2": 150.0, "R_L": 3.0,
}  # fmt: skip
STRAIGHT = {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "I_L": 0.01}


@pytest.mark.parametrize(("circuit", "values"), [("zener-shunt", STRAIGHT), ("foldback", LOADED)])
def test_other_numbers_of_the_same_names_come_to_what_they_come_to_alone(
    circuit: str, values: dict[str, float], monkeypatch: pytest.MonkeyPatch
):
    """From a plan that was kept or from a new one: the same region and the same values."""
    told = FOLDER.circuit(circuit)
    others = [{name: value * (1 + 0.02 * turn) for name, value in values.items()} for turn in range(3)]
    kept = [resolve(told, item, ()) for item in others]
    for item, found in zip(others, kept, strict=True):
        monkeypatch.setattr(one_region, "_WAYS", KeptPlans())
        monkeypatch.setattr(one_region, "_SIGHTS", KeptPlans())
        alone = resolve(told, item, ())
        assert found.region == alone.region and found.values == pytest.approx(alone.values, rel=1e-12)
