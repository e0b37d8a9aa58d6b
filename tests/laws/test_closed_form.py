"""Closed forms against the textbook's, and proofs that can tell a true relation from a wrong one."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
import sympy

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import SympyExpr, sympy_symbol
from tutor.laws.closed_form import closed_forms, derivative, is_proved, is_vacuous, parameters
from tutor.laws.law import Law
from tutor.quantities.formula import read_equation

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def forms(circuit_id: str, region: str, load: LoadModel) -> dict[str, SympyExpr]:
    found = FOLDER.circuit(circuit_id)
    return closed_forms(found, found.region(region), load)


# Sedra and Smith, Microelectronic Circuits, zener shunt regulator: the zener replaced by V_Z0 behind r_z, the rest by
# superposition; the emitter follower by the fixed-V_BE model of the same book. Worked out by hand.
TEXTBOOK = [
    ("source", "linear", LoadModel.SINK, "V_I", "V_OC - I_I*R_S"),
    ("source", "linear", LoadModel.RESISTOR, "V_I", "V_OC*R_L/(R_L + R_S)"),
    ("source", "linear", LoadModel.SINK, "P_O", "(V_OC - I_I*R_S)*I_I"),
    ("zener-shunt", "breakdown", LoadModel.SINK, "V_O", "(V_Z0*R + V_I*r_z - I_L*R*r_z)/(R + r_z)"),
    ("zener-shunt", "breakdown", LoadModel.SINK, "I_Z", "(V_I - V_Z0 - I_L*R)/(R + r_z)"),
    (
        "zener-shunt", "breakdown", LoadModel.RESISTOR, "V_O",
        "(V_I/R + V_Z0/r_z)/(1/R + 1/r_z + 1/R_L)",
    ),
    ("zener-shunt", "off", LoadModel.RESISTOR, "V_O", "V_I*R_L/(R + R_L)"),
    ("zener-shunt", "off", LoadModel.SINK, "V_O", "V_I - I_L*R"),
    ("follower", "regulating", LoadModel.SINK, "I_B", "I_L/(h_FE + 1)"),
    ("follower", "regulating", LoadModel.SINK, "I_Z", "(V_I - V_Z0 - R*I_L/(h_FE + 1))/(R + r_z)"),
    ("follower", "regulating", LoadModel.SINK, "I_C", "h_FE*I_L/(h_FE + 1)"),
    ("follower", "starved", LoadModel.SINK, "V_O", "V_I - R*I_L/(h_FE + 1) - V_BE"),
    ("follower", "starved", LoadModel.RESISTOR, "V_O", "(V_I - V_BE)*(h_FE + 1)*R_L/((h_FE + 1)*R_L + R)"),
    ("follower", "off", LoadModel.RESISTOR, "V_B", "V_I"),
    ("follower", "off", LoadModel.RESISTOR, "V_O", "0"),
]  # fmt: skip


@pytest.mark.parametrize(("circuit_id", "region", "load", "name", "expected"), TEXTBOOK)
def test_closed_forms_are_the_textbooks(circuit_id: str, region: str, load: LoadModel, name: str, expected: str):
    """Each quantity as a function of the part values and the load, against the form found by hand."""
    known = {item: sympy_symbol(item) for item in parameters(FOLDER.circuit(circuit_id), load)}
    written = sympy.sympify(expected, locals=known)
    assert sympy.cancel(forms(circuit_id, region, load)[name] - written) == 0


def test_the_parameters_are_part_values_and_what_the_load_holds():
    """A resistor holds R_L, a sink I_L (of the raw supply, the current drawn)."""
    shunt, source = FOLDER.circuit("zener-shunt"), FOLDER.circuit("source")
    assert parameters(shunt, LoadModel.RESISTOR) == ("V_I", "R", "V_Z0", "r_z", "I_ZT", "R_L")
    assert parameters(shunt, LoadModel.SINK)[-1] == "I_L"
    assert parameters(source, LoadModel.SINK) == ("V_OC", "R_S", "I_I")


@pytest.mark.parametrize("name", FOLDER.circuit_ids())
@pytest.mark.parametrize("load", list(LoadModel), ids=lambda load: load.value)
def test_closed_forms_speak_of_parameters_alone(name: str, load: LoadModel):
    """Nothing but part values and the load stands on the right, in any region."""
    found = FOLDER.circuit(name)
    free = set(parameters(found, load))
    for region in found.regions:
        for quantity, form in closed_forms(found, region, load).items():
            assert {str(item) for item in form.free_symbols} <= free, f"{region.id}: {quantity}"


def test_a_quotient_of_zeros_has_no_closed_form():
    """A follower that is off draws nothing and gives nothing, so its efficiency is no number."""
    assert "eta" not in forms("follower", "off", LoadModel.RESISTOR)
    assert forms("follower", "off", LoadModel.RESISTOR)["P_I"] == 0


def test_derivatives_hold_the_other_parameters():
    """∂V_I/∂I_I = −R_S at the terminals of a source; ∂P_O/∂I_I vanishes at half the short-circuit current."""
    known = forms("source", "linear", LoadModel.SINK)
    volts, ohms, amperes = (sympy_symbol(name) for name in ("V_OC", "R_S", "I_I"))
    assert derivative(known, "V_I", "I_I") == -ohms
    assert sympy.cancel(derivative(known, "P_O", "I_I") - (volts - 2 * ohms * amperes)) == 0


PROVED = ["I_Z = (V_I - V_Z)/R - I_L", "P_R = (V_I - V_O)^2/R", "R = (V_I - V_Z)/(I_L + I_Z)", "R_L = V_O/I_L"]
WRONG = ["I_Z = (V_I - V_Z)/R + I_L", "P_R = V_I^2/R", "R = (V_I - V_Z)/I_L", "I_Z = I_L", "V_O = V_Z0"]
UNKNOWN = ["I_ZK = I_Z", "I_Z = P_ZM/V_Z"]


CASES = [*((text, True) for text in PROVED), *((text, False) for text in WRONG + UNKNOWN)]


@pytest.mark.parametrize(("text", "true"), CASES)
def test_a_proof_tells_true_from_wrong(text: str, true: bool):
    """True of every shunt regulator, or not; a relation over a quantity that no law fixes is never proved."""
    assert is_proved(read_equation(text), forms("zener-shunt", "breakdown", LoadModel.SINK)) is true


ROOTED = [
    ("E_RSS = sqrt(E_REF^2 + E_UPPER^2)", True),
    ("E_RSS^2 = E_REF^2 + E_UPPER^2", True),
    ("E_RSS = E_REF + E_UPPER", False),
    ("E_RSS = sqrt(E_REF^2 + E_UPPER^2) + 1", False),
    ("E_RSS = sqrt(E_REF^2 + E_UPPER^2) - 1", False),
]


@pytest.mark.parametrize(("text", "true"), ROOTED)
def test_a_relation_with_a_root_is_proved_by_algebra(text: str, true: bool):
    """Errors that add up as the root of their squares: no exact value at a point, and told all the same."""
    first, second = sympy_symbol("E_REF"), sympy_symbol("E_UPPER")
    known = {"E_REF": first, "E_UPPER": second, "E_RSS": sympy.sqrt(first**2 + second**2)}
    assert is_proved(read_equation(text), known) is true


def test_a_definition_of_second_degree_gives_no_form():
    """V_TH² = V_I V_O has two roots, and neither is a form; what stands beside it has one."""
    told = FOLDER.circuit("zener-shunt")
    square = replace(told.composites[0], id="square", formula="V_TH^2 = V_I*V_O")
    linear = replace(told.composites[0], id="linear", formula="3*V_TH*R = V_I*R - V_O*R")
    for composite, there in ((square, False), (linear, True)):
        changed = replace(told, composites=(composite,))
        found = closed_forms(changed, changed.region("breakdown"), LoadModel.SINK)
        assert ("V_TH" in found) is there
    assert sympy.cancel(3 * found["V_TH"] - (sympy_symbol("V_I") - found["V_O"])) == 0


EMPTY = [
    ("V_O = V_O", True),
    ("V_I - V_O = -(V_O - V_I)", True),
    ("I_R*R = R*I_R", True),
    ("V_O = V_Z", False),
    ("V_O - V_O = V_Z - V_Z", True),
    ("(V_I - V_O)/R = V_I/R - V_O/R", True),
    ("I_R = V_R/R", False),
]


@pytest.mark.parametrize(("text", "empty"), EMPTY)
def test_a_law_that_says_nothing_is_vacuous(text: str, empty: bool):
    """Equal sides whatever the symbols are: such a law could prove anything and catch nothing."""
    law = Law("x", "x", read_equation(text), "", "", 1.0)
    assert is_vacuous(law) is empty


def test_a_changed_circuit_is_another_circuit():
    """What is kept by circuit is kept by its content: with a law put otherwise the forms are others."""
    told = FOLDER.circuit("zener-shunt")
    region = told.regions[0]
    first = closed_forms(told, region, LoadModel.SINK)
    assert closed_forms(FOLDER.circuit("zener-shunt"), region, LoadModel.SINK) == first
    fewer = replace(told, constants=tuple(name for name in told.constants if name != "R"))
    assert "R" in first and closed_forms(fewer, region, LoadModel.SINK) != first
    first.clear()
    assert closed_forms(told, region, LoadModel.SINK), "what a caller does to the forms is its own affair"
