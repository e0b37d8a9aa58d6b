"""Which rings of laws say anything, and how those in two unknowns are opened."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive
from tutor.plan.determinacy import manifold
from tutor.plan.moves import Moves, ways_from
from tutor.plan.rings import best_ring
from tutor.plan.search import search_with
from tutor.quantities.expression import evaluate, symbols_of
from tutor.quantities.notation import plain

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def moves_in(circuit_id: str, region_id: str, load: LoadModel = LoadModel.SINK) -> Moves:
    """The moves of a region with a true operating point at hand."""
    circuit = FOLDER.circuit(circuit_id)
    region = circuit.region(region_id)
    return Moves(derive(circuit, region, load), manifold(circuit, region, load, {}).point)


def ring(moves: Moves, known: str, wanted: str):
    return best_ring(moves, ways_from(moves, dict.fromkeys(known.split(), 0.0)), ("I_Z", "V_O", "I_R"), wanted)


def test_what_falls_out_is_left_out():
    """η = V_O I_L/(V_I I_L) where the zener takes nothing: V_I = V_O/η, whatever the current."""
    found = ring(moves_in("zener-shunt", "off"), "V_O eta", "V_I")
    assert found is not None
    step, needs = found
    assert step.target == "V_I" and step.expr is not None
    assert plain(step.expr) == "V_O/η"
    assert set(needs) == {"V_O", "eta", "I_Z"}  # I_Z = 0 by the law of a zener that is off


def test_two_unknowns_are_opened_by_two_laws_that_say_different_things():
    """Neither V_I nor I_L follows from R, P_Z and V_O, and still V_TH = V_I − I_L R does: it is V_O + I_Z R. Of the
    laws in the two unknowns some say one and the same, and such a pair settles nothing."""
    found = ring(moves_in("zener-shunt", "breakdown"), "R P_Z V_O", "V_TH")
    assert found is not None
    step, needs = found
    assert step.target == "V_TH" and step.expr is not None
    assert plain(step.expr) == "I_Z R + V_O"
    assert set(needs) == {"R", "I_Z", "V_O"}


@pytest.mark.parametrize("preferred", [("I_I", "V_I"), ("V_I", "I_I")])
def test_the_one_unknown_is_what_a_person_would_take(preferred: tuple[str, str]):
    """From V_OC, R_S and P_O the current or the voltage, whichever the circuit prefers."""
    moves = moves_in("source", "linear")
    found = best_ring(moves, ways_from(moves, dict.fromkeys(("V_OC", "R_S", "P_O"), 0.0)), preferred, "eta")
    assert found is not None and found[0].target == preferred[0]


SILENT = [
    # Nothing ties what is known to what is not.
    ("zener-shunt", "breakdown", "V_I", "R"),
    ("zener-shunt", "breakdown", "V_I I_Z V_ZT", "R"),
    ("follower", "regulating", "V_I V_Z", "h_FE"),
]


@pytest.mark.parametrize(("circuit_id", "region_id", "known", "wanted"), SILENT)
def test_rings_that_say_nothing_are_none(circuit_id: str, region_id: str, known: str, wanted: str):
    """However many laws close on one another, and asked again it is told without a search."""
    moves = moves_in(circuit_id, region_id)
    assert ring(moves, known, wanted) is None
    assert frozenset(ways_from(moves, dict.fromkeys(known.split(), 0.0))) in moves.closing_nothing
    assert ring(moves, known, wanted) is None


TRUE_AT_THE_PROBE = [
    ("zener-shunt", "breakdown", LoadModel.SINK, "R_OUT eta V_Z V_Z0 V_I V_ZT", "R"),
    ("zener-shunt", "breakdown", LoadModel.RESISTOR, "P_R eta V_ZT S_V R_L V_Z0", "R"),
    ("follower", "regulating", LoadModel.SINK, "V_I R V_Z0 r_z V_BE I_L h_FE", "I_Z"),
    ("source", "linear", LoadModel.SINK, "V_OC R_S P_O", "I_I"),
]


@pytest.mark.parametrize(("circuit_id", "region_id", "load", "known", "wanted"), TRUE_AT_THE_PROBE)
def test_every_step_of_a_plan_is_true_at_a_true_point(
    circuit_id: str, region_id: str, load: LoadModel, known: str, wanted: str
):
    """Closed forms give the point's value, and polynomials vanish there: no other factor was kept."""
    moves = moves_in(circuit_id, region_id, load)
    plan = search_with(moves, known.split(), (wanted,), FOLDER.circuit(circuit_id).preferred)
    assert any(step.coupled is not None for step in plan.steps)
    for step in plan.steps:
        value = moves.probe[step.target]
        if step.expr is not None:
            assert evaluate(step.expr, moves.probe) == pytest.approx(value, rel=1e-9), step.target
        else:
            terms = [evaluate(item, moves.probe) * value**power for power, item in enumerate(step.coefficients)]
            assert abs(sum(terms)) <= 1e-9 * max(map(abs, terms)), step.target


def test_no_step_rests_on_what_is_not_known():
    """A ring of two unknowns, too, is opened from the givens alone."""
    moves = moves_in("zener-shunt", "breakdown", LoadModel.RESISTOR)
    known = ["P_R", "eta", "V_ZT", "S_V", "R_L", "V_Z0"]
    have = set(known)
    for step in search_with(moves, known, ("R", "V_I", "I_Z"), ("I_Z",)).steps:
        parts = (step.expr,) if step.expr is not None else step.coefficients
        assert {name for part in parts for name in symbols_of(part)} <= have, step.target
        have.add(step.target)
