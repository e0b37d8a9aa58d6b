"""Changes that an author composed: drifts with temperature, errors by tolerance, shares of the output's band.

None of them lies on a circuit's manifold, which is one state; each is proved as the difference of two states, or as a
slope times a change. A *space* is what `test_every_circuit` means by it.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
import sympy

from tests.laws.test_every_circuit import USUAL, Space, is_drift, is_error, is_share, manifold
from tutor.circuit.circuit import LoadModel
from tutor.laws.algebra import SympyExpr, sympy_symbol, to_sympy
from tutor.laws.closed_form import derivative, is_proved
from tutor.quantities.formula import read_equation


@pytest.mark.parametrize("space", [space for space in USUAL if any(map(is_drift, space.circuit.composites))], ids=str)
def test_every_drift_is_a_change(space: Space):
    """Zener and junction moved by a temperature, every current held: what is composed is the difference of two states.

    V_Z grows by its share alpha_Z for each kelvin, a junction's voltage by k_BE: their definitions.
    """
    warmer = sympy_symbol("DT")
    letter = "V_F" if "V_F" in space.circuit.constants else "V_BE"  # a diode's or a transistor's
    zener, junction = sympy_symbol("V_Z"), sympy_symbol(letter)
    output = to_sympy(read_equation(next(item for item in space.circuit.composites if item.id == "output").formula).rhs)
    hot = {zener: zener * (1 + sympy_symbol("alpha_Z") * warmer), junction: junction + sympy_symbol("k_BE") * warmer}
    moved = output.subs(hot, simultaneous=True) - output
    known = {name: sympy_symbol(name) for name in ("V_Z", letter, "alpha_Z", "k_BE", "DT")}
    known |= {"DV_Z": hot[zener] - zener, f"D{letter}": hot[junction] - junction, "DV_O": moved, "S_T": moved / warmer}
    drifts = [item for item in space.circuit.composites if is_drift(item)]
    for item in drifts:
        assert is_proved(read_equation(item.formula), known), f"{space}: {item.id}"
        wrong = read_equation(item.formula.replace(" = ", " = 2*(") + ")")
        assert not is_proved(wrong, known), f"{space}: twice {item.id}"


@pytest.mark.parametrize("space", [space for space in USUAL if any(map(is_error, space.circuit.composites))], ids=str)
def test_every_error_is_a_slope(space: Space):
    """What a part's tolerance makes of the output is the output's slope along the part, times the part, times the
    tolerance; the worst case is their sum, root-sum-square the root of their squares."""
    forms = manifold(space)
    output, voltage = forms["V_O"], "V_REF" if "V_REF" in space.circuit.constants else "V_REG"

    def moved(part: str, tolerance: str) -> SympyExpr:
        return sympy.diff(output, sympy_symbol(part)) * sympy_symbol(part) * sympy_symbol(tolerance)

    known = {**forms, "tol_R": sympy_symbol("tol_R"), "tol_REF": sympy_symbol("tol_REF")}
    # A larger upper resistor lowers the output; either way counts.
    known |= {"E_REF": moved(voltage, "tol_REF"), "E_UPPER": -moved("R_1", "tol_R"), "E_LOWER": moved("R_2", "tol_R")}
    parts = [known[name] for name in ("E_REF", "E_UPPER", "E_LOWER")]
    known |= {"E_WC": sum(parts), "E_RSS": sympy.sqrt(sum(part**2 for part in parts))}
    for item in filter(is_error, space.circuit.composites):
        assert is_proved(read_equation(item.formula), known), f"{space}: {item.id}"
        wrong = read_equation(item.formula.replace(" = ", " = 2*(") + ")")
        assert not is_proved(wrong, known), f"{space}: twice {item.id}"


@pytest.mark.parametrize("space", [space for space in USUAL if any(map(is_share, space.circuit.composites))], ids=str)
def test_every_share_is_a_change(space: Space):
    """What line, load and temperature make of the output is the difference of two of its states; the band is their
    sum, each counted upwards (more load lowers the output)."""
    forms = manifold(replace(space, load=LoadModel.SINK))
    output, zener, junction = forms["V_O"], sympy_symbol("V_Z"), sympy_symbol("V_BE")

    def moved(by: str) -> SympyExpr:
        return output.subs(sympy_symbol(by), sympy_symbol(by) + sympy_symbol(f"D{by}")) - output

    drift = zener * sympy_symbol("alpha_Z") - sympy_symbol("k_BE")  # as `test_every_drift_is_a_change` has it
    known = {**forms, **{name: sympy_symbol(name) for name in ("V_Z", "alpha_Z", "k_BE", "DT", "DV_I", "DI_L")}}
    known |= {"S_V": derivative(forms, "V_O", "V_I"), "R_OUT": -derivative(forms, "V_O", "I_L"), "S_T": drift}
    known |= {"E_LINE": moved("V_I"), "E_LOAD": -moved("I_L"), "E_TEMP": drift * sympy_symbol("DT")}
    known |= {"E_BAND": known["E_LINE"] + known["E_LOAD"] + known["E_TEMP"]}
    assert junction in output.free_symbols
    for item in filter(is_share, space.circuit.composites):
        assert is_proved(read_equation(item.formula), known), f"{space}: {item.id}"
        wrong = read_equation(item.formula.replace(" = ", " = 2*(") + ")")
        assert not is_proved(wrong, known), f"{space}: twice {item.id}"
