"""What the laws read off a rectifier's netlist, against the forms as books have them.

Source of the expected relations: Sedra and Smith, Microelectronic Circuits, chapter on diode rectifiers (from memory):
drops in the way, top-ups a cycle and peak inverse voltage of each form.
"""

from __future__ import annotations

from math import cos, pi
from pathlib import Path

import pytest

import tutor
from tutor.circuit.circuit import LoadModel
from tutor.circuit.netlist import Part, read_netlist
from tutor.errors import BadCircuit
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import to_sympy
from tutor.laws.closed_form import closed_forms, derivative
from tutor.laws.derive import derive
from tutor.laws.rectifier import charging, rectifier_laws, supplies
from tutor.quantities.expression import evaluate
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain_equation

LOAD = "\nC reservoir out gnd\nL load out gnd"
HALF_WAVE = "S winding top gnd\nD diode top out" + LOAD
TAPPED = "S tapped-winding top gnd bottom\nD_1 diode top out\nD_2 diode bottom out" + LOAD
BRIDGE = "S winding top bottom\nD_1 diode top out\nD_2 diode bottom out\nD_3 diode gnd top\nD_4 diode gnd bottom" + LOAD

# netlist | diodes in the way | top-ups a cycle | halves | V_PK | V_RIP | PIV with V_PK = V_SPK - n V_F put in | I_SEC
FORMS = [
    (HALF_WAVE, 1, 1, 1, "V_SPK - V_F", "I_L/(f*C)", "2*V_SPK - V_F", "1.8*sqrt(2)*I_L"),
    (TAPPED, 1, 2, 2, "V_SPK - V_F", "I_L/(2*f*C)", "2*V_SPK - V_F", "1.8*I_L/sqrt(2)"),
    (BRIDGE, 2, 2, 1, "V_SPK - 2*V_F", "I_L/(2*f*C)", "V_SPK - V_F", "1.8*I_L"),
]
IDS = ["half-wave", "centre-tap", "bridge"]
every_form = pytest.mark.parametrize(
    ("netlist", "diodes", "pulses", "halves", "crest", "ripple", "reverse", "winding"), FORMS, ids=IDS
)


def parts(netlist: str) -> tuple[Part, ...]:
    return read_netlist(netlist, "circuit 'x'")


@every_form
def test_the_way_of_the_current_is_found(netlist, diodes, pulses, halves, crest, ripple, reverse, winding):
    """Diodes in series, crests that charge in each cycle, halves that share them."""
    found = charging(parts(netlist))
    assert (found.diodes, found.pulses, found.halves) == (diodes, pulses, halves)


@every_form
def test_each_law_is_that_of_the_books(netlist, diodes, pulses, halves, crest, ripple, reverse, winding):
    """Crest, ripple, peak inverse voltage and winding current of each form."""
    laws = {law.id: law.equation for law in rectifier_laws(parts(netlist))}
    at_crest = to_sympy(read_expression(crest))
    for law, symbol, text in (
        ("rectifier.crest", "V_PK", crest),
        ("rectifier.ripple", "V_RIP", ripple),
        ("rectifier.reverse", "PIV", reverse),
        ("rectifier.winding-current", "I_SEC", winding),
    ):
        expected = read_equation(f"{symbol} = {text}")
        assert laws[law].lhs == expected.lhs
        said = to_sympy(laws[law].rhs).subs(to_sympy(read_expression("V_PK")), at_crest)
        assert (said - to_sympy(expected.rhs)).expand() == 0, law


# What is said of the crest, and how it and the reverse voltage are written, of each form in the order of FORMS.
SAID = [
    (HALF_WAVE, "one diode in the way", "V_PK = V_SPK − V_F", "PIV = V_PK + V_SPK", "through one diode."),
    (TAPPED, "one diode in the way", "V_PK = V_SPK − V_F", "PIV = V_PK + V_SPK", "through one diode."),
    (BRIDGE, "two diodes in the way", "V_PK = V_SPK − 2 V_F", "PIV = V_PK + V_F",
     "through two diodes, one on the way out and one on the way back."),
]  # fmt: skip


@pytest.mark.parametrize(("netlist", "title", "crest", "reverse", "why"), SAID, ids=IDS)
def test_the_laws_are_written_as_on_paper(netlist, title, crest, reverse, why):
    """No factor of one, nothing added to nothing, one diode in the singular."""
    laws = {law.id: law for law in rectifier_laws(parts(netlist))}
    assert laws["rectifier.crest"].title == f"Round the charging loop: {title}"
    assert plain_equation(laws["rectifier.crest"].equation) == crest
    assert laws["rectifier.crest"].why.endswith(why)
    assert plain_equation(laws["rectifier.reverse"].equation) == reverse
    top_ups = "one top-up" if netlist is HALF_WAVE else "two top-ups"
    assert laws["rectifier.ripple"].title == f"Charge balance: {top_ups} in each cycle of the mains"


def test_supplies_that_share_ground_alone_are_read_each_for_itself():
    """Joined by a node, in netlist order, whichever part comes first; laws are told apart by the reservoir."""
    second = "S_2 winding high gnd\nD_2 diode high rail\nC_2 reservoir rail gnd\nL_2 load rail gnd"
    both = parts(f"{HALF_WAVE}\n{second}")
    assert [[part.name for part in group] for group in supplies(both)] == [
        ["S", "D", "C", "L"], ["S_2", "D_2", "C_2", "L_2"]
    ]  # fmt: skip
    mixed = parts("C reservoir out gnd\nS winding top gnd\nD diode top out\nL load out gnd")
    assert [[part.name for part in group] for group in supplies(mixed)] == [["C", "S", "D", "L"]]
    assert [law.id for law in rectifier_laws(both)[::4]] == ["rectifier.C.crest", "rectifier.C_2.crest"]


def test_it_is_the_netlist_that_tells():
    """One diode of a bridge left out makes it a half-wave rectifier with two diodes in the way."""
    broken = "\n".join(line for line in BRIDGE.splitlines() if not line.startswith("D_2"))
    found = charging(parts(broken))
    assert (found.diodes, found.pulses, found.halves) == (2, 1, 1)


def test_a_diode_turned_round_is_refused():
    """Nothing then charges the reservoir, which is said."""
    turned = HALF_WAVE.replace("D diode top out", "D diode out top")
    with pytest.raises(BadCircuit, match="lead to the reservoir by no way"):
        rectifier_laws(parts(turned))


def test_unlike_ways_are_refused():
    """A tapped winding whose halves lead through one diode and through two has no one crest voltage."""
    odd = TAPPED.replace("D_2 diode bottom out", "D_2 diode bottom mid\nD_3 diode mid out")
    with pytest.raises(BadCircuit, match="by unlike ways"):
        rectifier_laws(parts(odd))


def test_without_a_reservoir_there_is_nothing_to_tell():
    assert rectifier_laws(parts("V_I source in gnd\nL load in gnd")) == []


@pytest.mark.parametrize("form", ["bridge", "half-wave", "centre-tap"])
def test_the_charge_of_the_pulses_is_the_charge_drawn(form):
    """The angle by charge balance, against the integral itself: cosine pulses over the winding's resistance.

    Over -phi to phi the winding stands above the reservoir by V_SPK (cos x - cos phi); what that drives through R_W in
    all pulses of a cycle is I_L. For phi under 0.45 rad the small-angle form is within 2 % of it in charge.
    """
    circuit = ProblemsFolder(Path(__file__).parents[2] / "problems").circuit(f"reservoir-{form}")
    laws = derive(circuit, circuit.regions[0], LoadModel.SINK, conventions={"winding": "charge-balance"})
    pulses = 1 if form == "half-wave" else 2
    for crest, resistance, current in ((21.2, 0.2, 0.4), (12.7, 0.4, 0.2), (17.0, 0.1, 1.0)):
        values = {"V_SPK": crest, "R_W": resistance, "I_L": current}
        phi = evaluate(laws.by_id("winding.angle").equation.rhs, values)
        steps = 2000
        places = [-phi + 2 * phi * (step + 0.5) / steps for step in range(steps)]
        driven = sum(crest * (cos(place) - cos(phi)) / resistance for place in places) * 2 * phi / steps
        assert phi < 0.45
        assert pulses * driven / (2 * pi) == pytest.approx(current, rel=0.02)


@pytest.mark.parametrize("form", ["bridge", "half-wave", "centre-tap"])
def test_a_raw_supply_follows_line_load_and_temperature(form):
    """It falls when the load draws more and when the line falls, and rises as its diodes warm: common practice, no
    source. 240 V falling by 10 V takes the winding's crest down by the same 4.2 %, and the output by more."""
    circuit = ProblemsFolder(Path(__file__).parents[2] / "problems").circuit(f"reservoir-{form}")
    forms = closed_forms(circuit, circuit.regions[0], LoadModel.SINK)
    at = {to_sympy(read_expression(name)): value for name, value in circuit.typical.items()}
    for quantity in ("V_DC", "V_TROUGH"):
        assert derivative(forms, quantity, "I_L").subs(at) < 0
        assert derivative(forms, quantity, "V_SEC").subs(at) > 0
        assert derivative(forms, quantity, "V_F").subs(at) < 0  # and the drop of a warm diode is smaller
    assert derivative(forms, "V_PK", "I_L") == 0  # the crest stays in this model, whatever the load
    moved = {**at, to_sympy(read_expression("V_SEC")): circuit.typical["V_SEC"] * 230 / 240}
    fall = {name: 1 - float(forms[name].subs(moved) / forms[name].subs(at)) for name in ("V_SPK", "V_PK", "V_TROUGH")}
    assert fall["V_SPK"] == pytest.approx(10 / 240)
    assert fall["V_SPK"] < fall["V_PK"] < fall["V_TROUGH"]


@pytest.mark.parametrize("counted", [False, True], ids=["winding left out", "winding counted"])
def test_three_side_by_side_are_the_three_alone(counted):
    """Every value of each supply is that of the single rectifier with the same data, diode drops in PIV or not."""
    given = {"V_SEC": 10.0, "V_F": 0.8, "f": 60.0, "C": 4.7e-3, "I_L": 0.35} | ({"R_W": 0.4} if counted else {})
    names = ("V_PK", "V_RIP", "V_DC", "V_TROUGH", "PIV", "I_SEC", "VA", *(("phi",) if counted else ()))
    for reverse in ("with", "without"):
        together = tutor.solve("rectifiers", given, (), {"piv-drop": reverse})
        for number, form in enumerate(("half-wave", "centre-tap", "bridge"), start=1):
            alone = tutor.solve("reservoir", {**given, "form": form}, (), {"piv-drop": reverse})
            for name in names:
                found = together.value(f"{name}_{number}").value
                assert found == pytest.approx(alone.value(name).value, rel=1e-12), (form, name, reverse)


def test_supplies_that_share_a_node_are_one():
    """Two reservoirs on one winding are no two supplies, and no supply of the kinds there are."""
    joined = HALF_WAVE + "\nD_9 diode top other\nC_9 reservoir other gnd\nS_9 winding top gnd"
    with pytest.raises(BadCircuit, match=r"charged from one winding \(got 2\)"):
        rectifier_laws(parts(joined))
