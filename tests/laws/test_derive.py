"""Circuit -> laws: from the netlist alone, by region, by convention, by reading; written as a person writes them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tutor.circuit.circuit import LoadModel
from tutor.circuit.component import PartKind
from tutor.errors import UnknownName
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive, load_model
from tutor.laws.law import LawSet
from tutor.quantities.expression import Sym, substitute
from tutor.quantities.notation import plain_equation

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def laws_of(circuit_id: str, region: str, load: LoadModel = LoadModel.SINK, **options: object) -> LawSet:
    found = FOLDER.circuit(circuit_id)
    return derive(found, found.region(region), load, **options)  # type: ignore[arg-type]


def _usual(circuit_id: str, **conventions: str) -> LawSet:
    found = FOLDER.circuit(circuit_id)
    return derive(found, found.regions[0], LoadModel.SINK, conventions=conventions)


# Kirchhoff's current law at each node with the reference directions of the table of letter symbols; Ohm's law; the
# straight-line zener and the fixed-V_BE transistor as in Sedra and Smith, Microelectronic Circuits.
WRITTEN = [
    ("zener-shunt", "breakdown", "kcl.in", "I_I = I_R", "Kirchhoff's current law"),
    ("zener-shunt", "breakdown", "kcl.out", "I_R = I_Z + I_L", "Kirchhoff's current law"),
    ("zener-shunt", "breakdown", "R.ohm", "I_R = (V_I − V_O)/R", "Ohm's law"),
    ("zener-shunt", "breakdown", "R.drop", "V_R = V_I − V_O", "Kirchhoff's voltage law"),
    ("zener-shunt", "breakdown", "Z.slope", "V_Z = V_Z0 + r_z I_Z", "part model: Sedra and Smith"),
    ("zener-shunt", "breakdown", "Z.holds", "V_O = V_Z", "part model: Sedra and Smith"),
    ("zener-shunt", "off", "Z.off", "I_Z = 0", "part model: Sedra and Smith"),
    ("zener-shunt", "breakdown", "L.ohm", "I_L = V_O/R_L", "Ohm's law"),
    ("zener-shunt", "breakdown", "L.power", "P_O = V_O I_L", "definition of power"),
    ("zener-shunt", "breakdown", "V_I.power", "P_I = V_I I_I", "definition of power"),
    ("zener-shunt", "breakdown", "efficiency", "η = P_O/P_I", "definition of efficiency"),
    ("follower", "regulating", "kcl.in", "I_I = I_R + I_C", "Kirchhoff's current law"),
    ("follower", "regulating", "kcl.base", "I_R = I_Z + I_B", "Kirchhoff's current law"),
    ("follower", "regulating", "kcl.out", "I_E = I_L", "Kirchhoff's current law"),
    ("follower", "regulating", "Q.junction", "V_O = V_B − V_BE", "part model: Sedra and Smith"),
    ("follower", "regulating", "Q.gain", "I_C = h_FE I_B", "part model: Sedra and Smith"),
    ("follower", "regulating", "Q.drop", "V_CE = V_I − V_O", "Kirchhoff's voltage law"),
    ("source", "linear", "R_S.ohm", "I_I = (V_OC − V_I)/R_S", "Ohm's law"),
    ("regulators", "regulating", "efficiency-2", "η_2 = P_O/P_I_2", "definition of efficiency"),
    ("regulators", "regulating", "waste-3", "P_D_3 = P_I_3 − P_O", "conservation of energy"),
    # Load regulation referred to the full-load voltage: common practice, no source.
    ("source", "linear", "regulation", "REG_LOAD = (V_OC − V_I)/V_I", "follows from the laws above"),
]


@pytest.mark.parametrize(("circuit_id", "region", "law_id", "written", "source"), WRITTEN)
def test_laws_are_written_as_on_paper(circuit_id: str, region: str, law_id: str, written: str, source: str):
    """Each law under its id, both sides in the order a person writes them, with where it comes from."""
    law = laws_of(circuit_id, region).by_id(law_id)
    assert plain_equation(law.equation) == written
    assert law.source.startswith(source)


def test_a_law_that_holds_in_one_region_says_so_and_stays_there():
    """V_O = V_Z belongs to breakdown, I_Z = 0 to the zener that is off; neither is a law of the other region."""
    breakdown, off = laws_of("zener-shunt", "breakdown"), laws_of("zener-shunt", "off")
    assert breakdown.by_id("Z.holds").holds == "the zener is in breakdown"
    assert off.by_id("Z.off").holds == "the zener is off"
    assert "Z.off" not in {law.id for law in breakdown.laws}
    assert "Z.holds" not in {law.id for law in off.laws}
    with pytest.raises(KeyError):
        off.by_id("Z.holds")


BOUNDS = [
    ("zener-shunt", "breakdown", ["I_Z ≥ 0"]),
    ("zener-shunt", "off", ["V_O ≤ V_Z"]),
    ("follower", "regulating", ["I_Z ≥ 0", "V_CE ≥ V_CE_SAT", "I_B ≥ 0"]),
    ("follower", "starved", ["V_B ≤ V_Z", "V_CE ≥ V_CE_SAT", "I_B ≥ 0"]),
    ("follower", "off", ["V_B ≤ V_Z", "V_B − V_O ≤ V_BE"]),
    ("source", "linear", []),
]


@pytest.mark.parametrize(("circuit_id", "region", "written"), BOUNDS)
def test_a_region_brings_what_must_hold_in_it(circuit_id: str, region: str, written: list[str]):
    """The inequalities of each part's state, node voltages put in for its terminals."""
    assert [plain_equation(bound.equation) for bound in laws_of(circuit_id, region).bounds] == written


def test_the_nodes_of_a_wire_say_nothing():
    """Where one part's current simply passes on (the inner terminal of a source) no current law is written."""
    assert [law.id for law in laws_of("source", "linear").laws if law.id.startswith("kcl.")] == []


def test_a_part_without_a_symbol_brings_no_law_of_it():
    """The inner source of the raw supply has no power of its own in the netlist, so nothing is said of it."""
    assert "V_OC.power" not in {law.id for law in laws_of("source", "linear").laws}


def test_composites_hold_where_the_author_says():
    """The divider belongs to a zener that is off, the feed to one in breakdown."""
    assert "divider" in {law.id for law in laws_of("zener-shunt", "off").laws}
    assert "divider" not in {law.id for law in laws_of("zener-shunt", "breakdown").laws}
    assert "feed" in {law.id for law in laws_of("zener-shunt", "breakdown").laws}


TEST_VOLTAGE = [
    (LoadModel.RESISTOR, "V_TH = V_I R_L/(R + R_L)"),
    (LoadModel.SINK, "V_TH = V_I − I_L R"),
]


@pytest.mark.parametrize(("load", "written"), TEST_VOLTAGE)
def test_a_what_if_is_written_for_the_load_at_hand(load: LoadModel, written: str):
    """The output with the zener out depends on what the load holds fixed."""
    law = laws_of("zener-shunt", "breakdown", load).by_id("if.V_TH")
    assert plain_equation(law.equation) == written
    assert law.source == "the circuit with Z taken as off"


def test_slopes_belong_to_the_usual_region():
    """S_V, R_OUT and the changes they make are laws of the first region alone, and only when asked for."""
    ids = {"slope.S_V", "change.V_I", "slope.R_OUT", "change.I_L"}
    assert ids <= {law.id for law in laws_of("zener-shunt", "breakdown").laws}
    assert not ids & {law.id for law in laws_of("zener-shunt", "off").laws}
    assert not ids & {law.id for law in laws_of("zener-shunt", "breakdown", with_slopes=False).laws}


RIPPLES = [
    ("zener-shunt", "breakdown", "ripple", "V_RIP_O = S_V V_RIP", "Ripple that reaches the output"),
    ("prestabilised", "regulating", "ripple_P", "V_RIP_O_P = S_V_P V_RIP", "Ripple that the first stage lets through"),
]


@pytest.mark.parametrize(("circuit_id", "region", "law_id", "written", "title"), RIPPLES)
def test_ripple_is_a_change_of_the_input_carried_through(
    circuit_id: str, region: str, law_id: str, written: str, title: str
):
    """What a slope along V_I makes of the ripple there, of the first stage told apart from the output."""
    found = laws_of(circuit_id, region)
    law = found.by_id(law_id)
    assert (plain_equation(law.equation), law.title) == (written, title)
    assert {item.id for item in found.laws if item.id.startswith("ripple")} <= {"ripple", "ripple_P"}


def test_a_convention_brings_what_must_hold_for_it():
    """Charge balance puts the trough at or below the straight line's; without it nothing is asked."""
    plain = _usual("reservoir-bridge")
    balanced = _usual("reservoir-bridge", winding="charge-balance")
    assert "V_DC ≤ V_PK − V_RIP/2" not in [plain_equation(bound.equation) for bound in plain.bounds]
    assert "V_DC ≤ V_PK − V_RIP/2" in [plain_equation(bound.equation) for bound in balanced.bounds]


def test_symbols_change_places_in_whichever_order_they_are_named():
    """R_1 and R_2, or R_2 and R_1: the same laws, in prose too."""
    told = FOLDER.circuit("reference-shunt")
    turned = replace(
        told, variants=tuple(replace(item, swaps=item.swaps[::-1]) for item in told.variants)
    )  # fmt: skip
    found, other = (
        derive(item, item.region("regulating"), LoadModel.SINK, conventions={"divider": "lower"})
        for item in (told, turned)
    )
    assert found.laws == other.laws


def test_a_slope_along_the_load_current_is_the_regulators_own():
    """With R_L given R_OUT is still that of the regulator without its load; S_V counts the load in."""
    loaded = laws_of("zener-shunt", "breakdown", LoadModel.RESISTOR)
    assert plain_equation(loaded.by_id("slope.R_OUT").equation) == "R_OUT = R ∥ r_z"
    assert plain_equation(loaded.by_id("slope.S_V").equation) == "S_V = (r_z ∥ R_L)/(R + r_z ∥ R_L)"
    assert plain_equation(loaded.by_id("change.I_L").equation) == "ΔV_O = −R_OUT ΔI_L"


# (REG_LOAD by convention; the trade's three ways: common practice, no source.)
CONVENTIONS = [
    ("source", "linear", {}, "regulation", "REG_LOAD = (V_OC − V_I)/V_I"),
    ("source", "linear", {"load-regulation": "no-load"}, "regulation", "REG_LOAD = (V_OC − V_I)/V_OC"),
    ("source", "linear", {"load-regulation": "nominal"}, "regulation", "REG_LOAD = (V_OC − V_I)/V_I_NOM"),
    ("zener-shunt", "breakdown", {"load-slope": "zener"}, "slope.R_OUT", "R_OUT = r_z"),
    ("follower", "regulating", {"base-current": "load-over-h_FE"}, "base", "I_B = I_L/h_FE"),
    ("follower", "regulating", {"base-current": "neglected"}, "base", "I_B = 0"),
]
SWAPPED = [
    ("reference-shunt", {"divider": "lower"}, "V_O = V_REF (1 + R_2/R_1) + I_REF R_2"),
    ("reference-shunt", {"divider": "lower", "reference-current": "neglected"}, "V_O = V_REF (1 + R_2/R_1)"),
    ("opamp-shunt", {"divider": "lower"}, "V_O = V_REF (1 + R_2/R_1)"),
]


@pytest.mark.parametrize(("circuit_id", "chosen", "output"), SWAPPED)
def test_the_resistors_of_a_divider_may_be_named_from_below(circuit_id: str, chosen: dict[str, str], output: str):
    """Some books number a divider from ground (common practice, no source): every law
    has the two in each other's place, whichever other convention is in use."""
    ours = laws_of(circuit_id, "regulating", conventions={**chosen, "divider": "upper"}).laws
    found = laws_of(circuit_id, "regulating", conventions=chosen)
    names = {"R_1": Sym("R_2"), "R_2": Sym("R_1")}
    assert [law.id for law in found.laws] == [law.id for law in ours]
    for law, own in zip(found.laws, ours, strict=True):
        assert law.equation.lhs == substitute(own.equation.lhs, names), law.id
        assert law.equation.rhs == substitute(own.equation.rhs, names), law.id
    assert plain_equation(found.by_id("output").equation) == output
    for law, own in zip(found.laws, ours, strict=True):
        assert law.why.count("$R_1$") == own.why.count("$R_2$"), law.id


@pytest.mark.parametrize(("circuit_id", "region", "chosen", "law_id", "written"), CONVENTIONS)
def test_a_convention_puts_its_law_in_the_place_of_ours(
    circuit_id: str, region: str, chosen: dict[str, str], law_id: str, written: str
):
    """The law of that id is the convention's, once, and marked with it."""
    found = laws_of(circuit_id, region, conventions=chosen)
    assert [plain_equation(law.equation) for law in found.laws if law.id == law_id] == [written]
    for name, value in chosen.items():
        assert found.by_id(law_id).holds == f"convention {name}={value}"


def test_a_neglected_base_current_takes_the_exact_gain_laws_out():
    """I_B = 0 beside I_C = h_FE I_B would make the collector current nothing."""
    ids = {law.id for law in laws_of("follower", "regulating", conventions={"base-current": "neglected"}).laws}
    assert not ids & {"Q.gain", "Q.sum", "Q.emitter-gain"}


UNKNOWN = [
    ({"base-curent": "exact"}, "there is no convention of this circuit 'base-curent'; did you mean 'base-current'?"),
    ({"base-current": "exat"}, "there is no value of 'base-current' 'exat'; did you mean 'exact'?"),
]


@pytest.mark.parametrize(("chosen", "sentence"), UNKNOWN)
def test_an_unknown_convention_is_named_with_the_nearest(chosen: dict[str, str], sentence: str):
    """Neither a convention nor a value of it is guessed."""
    with pytest.raises(UnknownName) as caught:
        laws_of("follower", "regulating", conventions=chosen)
    assert caught.value.sentence == sentence


def test_readings_repeat_the_laws_that_bind_them():
    """V_I_1 = V_OC − I_I_1 R_S: the same law at another point; part values keep their plain letters."""
    found = laws_of("source", "linear", readings=("1", "2"))
    assert plain_equation(found.by_id("loaded@1").equation) == "V_I_1 = V_OC − I_I_1 R_S"
    assert plain_equation(found.by_id("L.ohm@2").equation) == "I_I_2 = V_I_2/R_L_2"
    assert found.by_id("loaded@1").title == "Terminal voltage under load, reading 1"
    assert not any("@" in law.id for law in laws_of("source", "linear").laws)


LOADS = [
    (("V_I", "R", "R_L"), LoadModel.RESISTOR),
    (("R_L_MAX",), LoadModel.RESISTOR),
    (("R_L_1", "V_I_1"), LoadModel.RESISTOR),
    (("V_I", "R", "I_L"), LoadModel.SINK),
    ((), LoadModel.SINK),
]


@pytest.mark.parametrize(("names", "load"), LOADS)
def test_the_givens_tell_what_the_load_holds(names: tuple[str, ...], load: LoadModel):
    """A resistance among the givens makes the load a resistor; else it holds its current."""
    assert load_model(names) is load


def test_a_law_set_tells_its_symbols_once():
    """Each symbol of the set in order of first use."""
    found = laws_of("zener-shunt", "breakdown")
    assert found.symbols[:4] == ("I_I", "I_R", "I_Z", "I_L")
    assert len(set(found.symbols)) == len(found.symbols)


def test_laws_stand_in_the_order_of_the_netlist():
    """Currents at the nodes first, then what each part says, then what the supply's power comes to; a law that two
    windings bring alike stands where it was said first."""
    ids = [law.id for law in laws_of("zener-shunt", "breakdown", with_slopes=False).laws]
    assert ids[:3] == ["kcl.in", "kcl.out", "V_I.power"]
    assert ids.index("R.ohm") < ids.index("Z.holds") < ids.index("L.ohm") < ids.index("efficiency")
    names = [law.id for law in laws_of("reservoir-centre-tap", "charged", with_slopes=False).laws]
    assert names[:4] == ["S.crest", "S.ratio", "S.rating", "C.mean"]


def test_a_supply_beside_others_is_told_by_its_number():
    """Of three regulators on one rail each draws something of its own; of one alone there is nothing to number."""
    assert laws_of("regulators", "regulating").by_id("waste-3").title == "What regulator 3 draws and does not pass on"
    alone = FOLDER.circuit("zener-shunt")
    said = tuple(
        replace(part, symbols={**part.symbols, "waste": "P_D"}) if part.kind is PartKind.LOAD else part
        for part in alone.parts
    )
    laws = derive(replace(alone, parts=said), alone.regions[0], LoadModel.SINK)
    assert laws.by_id("waste").title == "What does not reach the load"
    assert plain_equation(laws.by_id("waste").equation) == "P_D = P_I − P_O"
