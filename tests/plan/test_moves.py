"""Single laws solved for their symbols, where they say something, and the cheapest ways that they make."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive
from tutor.laws.law import Law, LawSet
from tutor.plan.determinacy import manifold
from tutor.plan.moves import Moves, ways_from
from tutor.quantities.formula import read_equation
from tutor.quantities.notation import plain

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def laws(*told: tuple[str, float]) -> LawSet:
    """Laws by hand, each with its cost; the first is called 1."""
    return LawSet(
        tuple(Law(str(place), "", read_equation(text), "", "", cost) for place, (text, cost) in enumerate(told, 1)), ()
    )


def test_a_law_that_divides_by_nothing_at_a_true_point_is_no_move():
    """Of a zener that is off P_Z = V_Z I_Z gives P_Z and says nothing of V_Z: I_Z is nought. Elsewhere it does."""
    circuit = FOLDER.circuit("zener-shunt")
    for region_id, solved in (("off", False), ("breakdown", True)):
        region = circuit.region(region_id)
        found = derive(circuit, region, LoadModel.SINK)
        moves = Moves(found, manifold(circuit, region, LoadModel.SINK, {}).point)
        law = next(item for item in found.laws if set(item.symbols) == {"P_Z", "V_Z", "I_Z"})
        assert moves.of(law, "P_Z") is not None
        assert (moves.of(law, "V_Z") is not None) is solved
        assert Moves(found).of(law, "V_Z") is not None, "without a true point nobody can tell"


def test_a_cheaper_way_found_later_is_taken():
    """V_O by a dear law first, then by a cheap one whose other symbol is given: the cheap one, on either side of it."""
    for cheap in ("V_I = V_O", "V_O = V_I"):
        ways = ways_from(Moves(laws(("V_O = V_I*R/R_L", 5.0), (cheap, 1.0))), {"V_I": 0.0, "R": 0.0, "R_L": 0.0})
        move = ways["V_O"].move
        assert move is not None and (move.law.id, plain(move.expr)) == ("2", "V_I")
        assert 1.0 <= ways["V_O"].cost < 2.0
        assert ways["V_I"].move is None and ways["V_I"].cost == 0


def test_a_law_that_cannot_be_solved_for_one_symbol_may_be_for_another():
    """V_I² + V_I R = V_O R is no first degree in V_I, and the cheaper way to V_O all the same."""
    told = laws(("V_I = I_R*R", 1.0), ("V_O = V_I*R/R_L", 5.0), ("V_I^2 + V_I*R = V_O*R", 1.0))
    ways = ways_from(Moves(told), {"I_R": 0.0, "R": 0.0, "R_L": 0.0})
    move = ways["V_O"].move
    assert move is not None and move.law.id == "3"


def test_what_rests_on_a_cheaper_way_is_cheaper_too():
    """P_O = V_O I_L costs what V_O costs and its own law; more without the cheap law to V_O; no way without its own."""
    given = {"V_I": 0.0, "R": 0.0, "R_L": 0.0, "I_L": 0.0}
    dear, power, cheap = ("V_O = V_I*R/R_L", 5.0), ("P_O = V_O*I_L", 1.0), ("V_I = V_O", 1.0)
    ways = ways_from(Moves(laws(dear, power, cheap)), given)
    assert ways["P_O"].cost - ways["V_O"].cost == pytest.approx(1.0 + 0.04 * 3)  # three nodes: V_O, I_L, their product
    assert ways["P_O"].cost < 4.0
    assert ways_from(Moves(laws(dear, power)), given)["P_O"].cost > 6.0
    assert "P_O" not in ways_from(Moves(laws(dear, cheap)), given)


def test_a_law_stated_for_a_quantity_is_cheaper_than_one_turned_round():
    """V_R = V_I − V_O for V_R as it stands; for V_I it is turned, with as many signs."""
    ((law,),) = (laws(("V_R = V_I - V_O", 1.0)).laws,)
    moves = Moves(LawSet((law,), ()))
    stated, turned = moves.of(law, "V_R"), moves.of(law, "V_I")
    assert stated is not None and turned is not None
    assert plain(turned.expr) == "V_R + V_O"
    assert stated.cost < turned.cost < stated.cost + 0.3
    assert stated.needs == ("V_I", "V_O") and turned.needs == ("V_R", "V_O")
    assert moves.of(law, "V_R") is stated, "worked out once"
