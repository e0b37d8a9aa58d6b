"""The engine against ngspice on the linearised circuits: every circuit, form and region, states with the zener off too.

Source of the expected values: ngspice 39 (Debian 12), run by the test on decks written by hand (see README.md).
"""

from __future__ import annotations

import re

import pytest

from tests.witness import (
    compare_forms,
    full_regulator_forms,
    loop_forms,
    prestabilised_forms,
    series_forms,
    shunt_forms,
    supply_forms,
)
from tutor.plan.regions import resolve

GROUPS = (
    (shunt_forms, shunt_forms.SHUNT_FORMS),
    (series_forms, series_forms.SERIES_FORMS),
    (loop_forms, loop_forms.LOOP_FORMS),
    (compare_forms, compare_forms.COMPARE_FORMS),
    (supply_forms, supply_forms.SUPPLY_FORMS),
    (prestabilised_forms, prestabilised_forms.PRESTABILISED_FORMS),
    (full_regulator_forms, full_regulator_forms.FULL_FORMS),
)
SETS = 200
SEED = 1
LIMIT = 1e-6  # relative; met with four decades and more to spare except where a zero is measured against a zero


def test_every_quantity_agrees_with_the_simulator(form, solve, witness):
    """Voltages, currents, powers, efficiency, S_V and R_OUT of 200 random sets lie within 1e-6 of ngspice's."""
    sets = form.sets(SETS, SEED)
    seen = witness.run(form.deck, sets)
    worst = witness.worst(form, solve, sets, seen)
    print(f"{form.deck}: worst disagreement {worst}")
    assert 0 <= worst.size < LIMIT, f"{form.deck} (seed {SEED}): {worst}"


def test_every_region_of_every_circuit_has_a_deck(witness):
    """A circuit or region without a hand-written deck is noticed."""
    declared = {
        (circuit, region.id)
        for circuit in witness.folder.circuit_ids()
        for region in witness.folder.circuit(circuit).regions
    }
    assert {(form.circuit, form.region) for form in witness.forms.values() if form.region} == declared


def test_every_deck_is_run(witness):
    """No deck lies unused, and every form has one."""
    assert {file.stem for file in witness.decks.glob("*.cir")} == set(witness.forms)


def test_every_value_of_a_deck_is_drawn(form, witness):
    """A deck's placeholders, its sample values and the drawn names are the same, so no sample value stands in a run."""
    text = (witness.decks / f"{form.deck}.cir").read_text(encoding="utf-8")
    netlist = text.split(".control")[0]
    drawn = set(form.sets(1, SEED)[0])
    assert set(re.findall(r"\{(\w+)\}", netlist)) == drawn
    assert set(re.findall(r"(\w+)=", netlist.split(".param ")[1].splitlines()[0])) == drawn
    assert text.startswith("* ") and "\n* Models: " in text


def test_the_simulator_is_in_the_state_of_the_form(form, witness):
    """By the simulator's own readings the zener conducts, or its node lies below where it would."""
    sets = form.sets(SETS, SEED)
    for values, seen in zip(sets, witness.run(form.deck, sets), strict=True):
        if form.circuit == "source":
            assert 0 < seen.get("V_I", seen.get("V_I_1", 0.0)) < values["V_OC"]
            continue
        group = next((item for item, forms in GROUPS if form in forms), None)
        if group is not None:
            assert group.in_its_state(form, values, seen)
            continue
        if form.circuit.startswith("reservoir"):
            assert 0 < seen["V_TROUGH"] < seen["V_DC"] < seen["V_PK"]
            continue
        if form.circuit == "rectifiers":
            for supply in (1, 2, 3):
                assert 0 < seen[f"V_TROUGH_{supply}"] < seen[f"V_DC_{supply}"] < seen[f"V_PK_{supply}"]
            assert seen["V_TROUGH_2"] > max(seen["V_TROUGH_1"], seen["V_TROUGH_3"])
            continue
        node = seen["V_B"] if form.circuit == "follower" else seen["V_O"]
        breakdown = values["V_Z"] if "V_Z" in values else seen["V_Z"]
        if form.region in ("breakdown", "regulating"):
            assert seen["I_Z"] > 0 and node == pytest.approx(breakdown, rel=1e-12)
        else:
            assert node < breakdown
        if form.circuit == "follower":
            active = form.region != "off"
            assert (seen["I_B"] > 0) is active
            assert (node - seen["V_O"] == pytest.approx(values["V_BE"])) is active
            assert seen["V_CE"] > 0.2 or not active


def test_a_ring_of_numbers(witness):
    """Folded back into a resistance: many laws share their unknowns, and each set is planned with its own numbers."""
    form = witness.forms["foldback_limiting"]
    sets = form.sets(6, SEED)
    told = [name for name in form.told if name != "V_O"] + ["R_L"]
    circuit = witness.folder.circuit(form.circuit)
    for values, seen in zip(sets, witness.run(form.deck, sets), strict=True):
        found = resolve(circuit, {name: values[name] for name in told}, ("V_O", "I_L", "I_B_1", "I_B_2", "P_Q_1"))
        assert found.region.id == form.region
        for name in found.plan.wanted:
            assert float(found.values[name]) == pytest.approx(seen[name], rel=LIMIT), name


@pytest.mark.parametrize(
    ("deck", "given"),
    [
        ("source_current", {"V_OC": 15.0, "R_S": 2.0, "I_I": 0.0}),
        ("shunt_straight_current", {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "I_L": 0.0}),
        ("shunt_slope_current", {"V_I": 15.0, "R": 220.0, "V_Z0": 8.9, "r_z": 6.0, "I_L": 0.0}),
        ("follower_straight_current", {"V_I": 18.0, "R": 390.0, "V_Z": 10.0, "V_BE": 0.7, "h_FE": 50.0, "I_L": 0.0}),
        ("follower_off", {"V_I": 0.4, "R": 390.0, "V_Z": 10.0, "V_BE": 0.7, "h_FE": 50.0, "R_L": 50.0}),
    ],
    ids=["source, no load", "shunt, no load", "shunt with slope, no load", "follower, no load", "follower, off"],
)
def test_a_state_without_a_finite_load_or_efficiency_is_solved(deck, given, solve, witness):
    """With no load, or with nothing flowing, every quantity that has a value is found; R_L or eta is left out."""
    found = solve(witness.forms[deck].circuit, given, ()).values
    eased = {**given, **({"I_L": 1e-12} if "I_L" in given else {}), **({"I_I": 1e-12} if "I_I" in given else {})}
    seen = witness.run(deck, [eased])[0]
    for name in sorted(set(seen) - {"R_L"}):
        assert float(found[name]) == pytest.approx(seen[name], rel=1e-6, abs=1e-9), name
