"""Gradients against derivatives taken by hand, and what givens settle or leave idle, on the shunt regulator."""

from __future__ import annotations

from functools import cache
from math import hypot
from pathlib import Path

import numpy as np
import pytest

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.plan.determinacy import Manifold, manifold

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


@cache
def facts(region: str, load: LoadModel = LoadModel.RESISTOR) -> Manifold:
    circuit = FOLDER.circuit("zener-shunt")
    return manifold(circuit, circuit.region(region), load, {})


def test_a_gradient_is_that_of_the_formula():
    """With the zener off V_O = V_I R_L/(R + R_L): relative slopes 1, −R/(R + R_L), R/(R + R_L); of unit length.

    Along V_I, R, V_Z0, r_z, I_ZT, R_L in turn; η = R_L/(R + R_L) does not feel V_I; I_Z = 0 feels nothing.
    """
    off = facts("off")
    share = off.point["R"] / (off.point["R"] + off.point["R_L"])
    length = hypot(1.0, share, share)
    assert off.gradients["V_O"].tolist() == pytest.approx([1 / length, -share / length, 0, 0, 0, share / length])
    assert off.gradients["eta"].tolist() == pytest.approx([0, -(0.5**0.5), 0, 0, 0, 0.5**0.5])
    assert not off.gradients["I_Z"].any() and not off.gradients["P_Z"].any()


def test_the_point_is_a_true_one_near_the_typical():
    """Every parameter is moved by less than a tenth, no two by the same share, and the laws hold there."""
    off, typical = facts("off"), FOLDER.circuit("zener-shunt").typical
    moved = [off.point[name] / typical[name] - 1 for name in ("V_I", "R", "V_Z0", "r_z", "I_ZT")]
    assert all(0 < share < 0.1 for share in moved)
    assert len({round(share, 6) for share in moved}) == len(moved)
    point = off.point
    assert point["V_O"] == pytest.approx(point["V_I"] * point["R_L"] / (point["R"] + point["R_L"]))
    assert point["P_I"] == pytest.approx(point["V_I"] ** 2 / (point["R"] + point["R_L"]))


IDLE = [
    ("V_I R I_R V_O", ("V_O",)),  # V_O = V_I − I_R R
    ("V_O V_I R I_R", ("I_R",)),  # whichever comes last
    ("V_I V_I", ("V_I",)),
    ("V_I R R_L", ()),
    ("V_I R P_ZM", ()),  # a rating is no quantity of the manifold
    ("V_I R R_L V_O I_R eta", ("V_O", "I_R", "eta")),
]


@pytest.mark.parametrize(("givens", "idle"), IDLE)
def test_a_given_that_follows_from_those_before_it_is_idle(givens: str, idle: tuple[str, ...]):
    """By Ohm's law with the zener off."""
    assert facts("off").idle(givens.split()) == idle


SETTLED = [
    ("V_I R R_L", "eta", True),
    ("V_I R", "eta", False),
    ("R R_L", "eta", True),
    ("V_I V_O R", "I_L", True),
    ("V_I V_O", "R", False),
    ("", "I_Z", True),  # nothing is nothing, whatever is given
    ("P_I V_I R", "R_L", True),
]


@pytest.mark.parametrize(("givens", "wanted", "settled"), SETTLED)
def test_the_givens_settle_what_a_formula_gives(givens: str, wanted: str, settled: bool):
    """Through any coupling of laws: R_L = V_I²/P_I − R."""
    assert facts("off").settles(givens.split(), wanted) is settled
    assert facts("off").settles_strictly(givens.split(), wanted) is settled


def test_a_rating_is_left_to_the_search():
    """Not known here, so not said to be open; strictly it is not settled."""
    assert facts("off").settles(["V_I"], "P_ZM") and not facts("off").settles_strictly(["V_I"], "P_ZM")


def test_gradients_keep_their_figures_where_slopes_are_small():
    """S_V = r_z/(R + r_z) of the regulator that holds: its relative slopes along R and r_z are equal and opposite."""
    found = facts("breakdown", LoadModel.SINK)
    known = ("V_I", "R", "V_Z0", "r_z", "I_ZT", "I_L")
    slope = dict(zip(known, found.gradients["S_V"].tolist(), strict=True))
    assert slope["R"] == pytest.approx(-(0.5**0.5), abs=1e-12) and slope["r_z"] == pytest.approx(0.5**0.5, abs=1e-12)
    assert np.linalg.norm(found.gradients["V_O"]) == pytest.approx(1)
