"""Where a relation comes from: laws of the netlist, one after another, to a closed form that is true of the circuit."""

from __future__ import annotations

import pytest
import sympy

import tutor
from tutor.circuit.circuit import LoadModel
from tutor.errors import UnknownName, Unreachable
from tutor.laws.algebra import sympy_symbol, to_sympy
from tutor.laws.closed_form import closed_forms
from tutor.laws.derive import load_model
from tutor.plan.regions import resolve
from tutor.quantities.expression import Partial, evaluate, symbols_of
from tutor.quantities.notation import plain
from tutor.solution.derivation_values import Derivation
from tutor.solution.desk import our_desk
from tutor.views.plain import chain_text, prose_text

CASES = [(circuit, quantity) for circuit in tutor.circuits() for quantity in our_desk().circuit(circuit).derivation]


def derivation(circuit: str, quantity: str) -> Derivation:
    (found,) = tutor.derive(circuit, quantity).derivations
    return found


# Sedra and Smith, Microelectronic Circuits (zener shunt regulator; large-signal model of the transistor), and the
# Thevenin source; the slopes follow by differentiating. Written as on paper.
TEXTBOOK = [
    ("zener-shunt", "V_TH", "V_I R_L/(R + R_L)"),
    ("zener-shunt", "I_Z", "(V_I − V_Z)/R − I_L"),
    ("zener-shunt", "R", "(V_I − V_Z)/(I_Z + I_L)"),
    ("zener-shunt", "S_V", "r_z/(R + r_z)"),
    ("zener-shunt", "R_OUT", "R ∥ r_z"),
    ("follower", "V_O", "V_Z − V_BE"),
    ("follower", "I_B", "I_L/(h_FE + 1)"),
    ("follower", "I_Z", "(V_I − V_Z)/R − I_L/(h_FE + 1)"),
    ("follower", "R_OUT", "(R ∥ r_z)/(h_FE + 1)"),
    ("source", "V_I", "V_OC − I_I R_S"),
    ("source", "P_O", "(V_OC − I_I R_S) I_I"),
]


@pytest.mark.parametrize(("circuit", "quantity", "written"), TEXTBOOK)
def test_closed_forms_are_the_textbooks(circuit: str, quantity: str, written: str):
    """What a derivation ends in, in a person's order."""
    assert plain(derivation(circuit, quantity).closed_form) == written


@pytest.mark.parametrize(("circuit", "quantity"), CASES)
def test_every_closed_form_is_true_on_the_manifold(circuit: str, quantity: str):
    """With every given of the derivation as a function of the part values, both sides are one function of them."""
    found = derivation(circuit, quantity)
    declared = our_desk().circuit(circuit)
    load = load_model(found.givens)
    forms = closed_forms(declared, declared.regions[0], load)
    known = dict(forms)
    for item in declared.slopes:
        held = closed_forms(declared, declared.regions[0], LoadModel.SINK)
        known[item.symbol] = item.sign * sympy.diff(held[item.of], sympy_symbol(item.by))
    for item in declared.what_ifs:
        other = next(region for region in declared.regions if region.parts.get(item.part) == item.region)
        known[item.symbol] = closed_forms(declared, other, load)[item.of]
    put = {sympy_symbol(name): value for name, value in known.items()}
    right = to_sympy(found.closed_form).subs(put, simultaneous=True)
    assert sympy.cancel(known[quantity] - right) == 0


@pytest.mark.parametrize(("circuit", "quantity"), CASES)
def test_a_derivation_leans_on_no_result(circuit: str, quantity: str):
    """Each step names a law of the netlist, a definition or nothing at all (putting together), never a composite."""
    declared = our_desk().circuit(circuit)
    composites = {item.id for item in declared.composites} - {"regulation"}
    steps = derivation(circuit, quantity).steps
    assert steps
    assert [step.law for step in steps if step.law in composites] == []
    assert steps[-1].waypoint == quantity
    assert all(step.chains and step.result is None for step in steps)


@pytest.mark.parametrize(("circuit", "quantity"), CASES)
def test_a_derivation_speaks_of_its_givens_alone(circuit: str, quantity: str):
    """Nothing but the givens stands in the closed form, and nothing but the quantity before it."""
    found = derivation(circuit, quantity)
    assert set(symbols_of(found.closed_form)) <= set(found.givens)
    assert quantity not in symbols_of(found.closed_form)


@pytest.mark.parametrize(("circuit", "quantity"), CASES)
def test_every_sensitivity_is_the_derivative_with_its_sign(circuit: str, quantity: str):
    """∂/∂ as differentiated by sympy; its sign, and "rises", "falls" or "stays", as at the typical point."""
    found = derivation(circuit, quantity)
    declared = our_desk().circuit(circuit)
    typical = resolve(declared, declared.typical, ()).values
    form = to_sympy(found.closed_form)
    for step in found.sensitivities:
        (chain,) = step.chains
        assert isinstance(chain.first, Partial) and chain.first.of == quantity
        by = chain.first.by
        tree = chain.rest[0][1]
        assert sympy.cancel(to_sympy(tree) - sympy.diff(form, sympy_symbol(by))) == 0
        value = evaluate(tree, typical)
        told = prose_text(step.text)
        assert told.startswith(
            f"{quantity} {'rises' if value > 0 else 'falls' if value < 0 else 'stays'} when {by} rises"
        )
        assert [sign for sign, _ in chain.rest[1:]] == ([">"] if value > 0 else ["<"] if value < 0 else [])
        low, high = declared.ends.get(by, ("", ""))
        if low and value:
            assert f"({high if value > 0 else low} gives most)" in told


def test_where_a_slope_turns_is_told():
    """Power from a source rises with its current up to V_OC/(2 R_S): maximum power transfer."""
    steps = derivation("source", "P_O").sensitivities
    told = next(
        text for text in (prose_text(step.text).replace("\u00a0", " ") for step in steps) if "I_I rises" in text
    )
    assert told == (
        "P_O rises when I_I rises (the fullest load gives most). The slope vanishes at I_I = V_OC/(2 R_S), where the "
        "sign turns."
    )


def test_the_steps_of_a_derivation_are_those_on_the_board():
    """The zener's current: its voltage at the node, Ohm's law, the current law, put together."""
    steps = derivation("zener-shunt", "I_Z").steps
    assert [[chain_text(chain) for chain in step.chains] for step in steps] == [
        ["V_O = V_Z"],
        ["I_R = (V_I − V_O)/R"],
        ["I_R = I_Z + I_L", "I_Z = I_R − I_L"],
        ["I_Z = (V_I − V_Z)/R − I_L"],
    ]
    assert [step.title for step in steps][-1] == "Put together"


def test_a_slope_is_derived_by_differentiating():
    """Closed form of V_O, its slope, and the name it has: three steps, the definition with its sign."""
    steps = derivation("zener-shunt", "R_OUT").steps
    assert [len(step.chains) for step in steps] == [1, 1, 1]
    assert prose_text(steps[2].why).startswith("By definition R_OUT is −∂V_O/∂I_L.")


@pytest.mark.parametrize("circuit", tutor.circuits())
def test_all_usual_derivations_come_unasked(circuit: str):
    """Without a quantity, every one the circuit's file names, with the laws of its usual region."""
    found = tutor.derive(circuit)
    assert tuple(item.quantity for item in found.derivations) == tuple(our_desk().circuit(circuit).derivation)
    assert found.laws and found.region == our_desk().circuit(circuit).regions[0].words


def test_any_quantity_that_follows_may_be_asked_for():
    """One that the file does not name is derived from the part values: the power in R, say."""
    found = derivation("zener-shunt", "P_R")
    assert set(found.givens) == {"V_I", "R", "V_Z0", "r_z", "I_ZT", "I_L"}
    values = {"V_I": 15.0, "R": 220.0, "V_Z0": 8.96, "r_z": 5.0, "I_L": 0.01}
    current = (15 - 8.96 - 2.2) / 225 + 0.01  # I_Z + I_L
    assert evaluate(found.closed_form, values) == pytest.approx(current**2 * 220)


REFUSED = [
    ("zner-shunt", "", UnknownName, "there is no circuit 'zner-shunt'; did you mean 'zener-shunt'?"),
    ("source", "h_FE", UnknownName, "there is no quantity of 'source' 'h_FE'; "),
    ("source", "V_X", UnknownName, "there is no quantity of 'source' 'V_X'; did you mean 'V_"),
    ("zener-shunt", "P_ZM", Unreachable, "P_ZM does not follow from "),
]


@pytest.mark.parametrize(("circuit", "quantity", "kind", "sentence"), REFUSED)
def test_what_cannot_be_derived_is_named(circuit: str, quantity: str, kind: type[Exception], sentence: str):
    """A circuit or quantity that is not there, or one that no part value settles."""
    with pytest.raises(kind) as caught:
        tutor.derive(circuit, quantity)
    assert str(caught.value).startswith(sentence)
