"""Planted faults: a wrong law, a wrong part or a wrong value must show as a disagreement, or the witness sees nothing.

The measure is 1e-3, a thousand times the limit that the circuits are held to.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.witness.shunt_forms import IDLE
from tutor.laws.law import LawSet
from tutor.quantities.formula import read_equation

SETS = 20
SEED = 3
SEEN = 1e-3

# A deck with one thing in it changed: a part of another value, turned round, at another node, or left out.
WRONG_PARTS = [
    ("follower_straight_resistor", "VBE {h_FE}", "VBE {h_FE + 2}"),
    ("follower_straight_current", "VBE {h_FE}", "VBE {h_FE + 2}"),
    ("follower_straight_resistor", "VBE base out  {V_BE}", "VBE base out  {-V_BE}"),
    ("follower_straight_resistor", "R1  in   base {R}", "R1  in   base {1.01*R}"),
    ("follower_slope_current", "RZ  base z    {r_z}", "RZ  base z    {2*r_z}"),
    ("follower_slope_resistor", "RL  out  0    {R_L}", "RL  base 0    {R_L}"),
    ("follower_test_point_current", "IZT base z    {I_ZT}", "IZT z    base {I_ZT}"),
    ("follower_starved_resistor", "FC  c    out  VBE {h_FE}", "FC  c    out  VBE {h_FE - 1}"),
    ("follower_off", "VI  in   0    {V_I}", "VI  in   0    {1.01*V_I}"),
    ("shunt_straight_resistor", "VZ  out  0    {V_Z}", "VZ  out  0    {V_Z + 0.01*V_I}"),
    ("shunt_straight_current", "ILD out  0    {I_L}", "ILD 0    out  {I_L}"),
    ("shunt_slope_resistor", "RZ  out  z    {r_z}", "RZ  out  z    {1.01*r_z}"),
    ("shunt_test_point_resistor", "IZT out  z    {I_ZT}", "IZT out  z    0"),
    ("shunt_off_resistor", "R1  in   out  {R}", "R1  in   out  {R + 10}"),
    ("shunt_off_slope", "VZ0 z    0    {V_Z0}", "VZ0 z    0    {V_Z0 + 0.1}"),
    ("boosted_straight_resistor", "FC  c    0    VBE {h_FE}", "FC  c    0    VBE {h_FE + 1}"),
    ("boosted_slope_current", "RBE base 0    {R_BE}", "RBE base 0    {1.05*R_BE}"),
    ("boosted_alone_slope", "RZ  out  z    {r_z}", "RZ  out  z    {2*r_z}"),
    ("boosted_off_current", "R1  in   out  {R}", "R1  in   out  {1.01*R}"),
    ("compensated_straight_resistor", "VD  mid  0    {V_F}", "VD  mid  0    {-V_F}"),
    ("reference_current", "IRE tap  0    {I_REF}", "IRE tap  0    {-50*I_REF}"),
    ("reference_resistor", "RLO tap  0    {R_2}", "RLO tap  0    {1.01*R_2}"),
    ("reference_off_resistor", "RU  out  tap  {R_1}", "RU  out  tap  {1.1*R_1}"),
    ("opamp_resistor", "VBE base 0    {V_BE}", "VBE base 0    {V_BE + 0.01}"),
    ("opamp_off_current", "RLO tap  0    {R_2}", "RLO tap  0    {1.1*R_2}"),
    ("source_resistor", "RS   oc    out   {R_S}", "RS   oc    out   {1.01*R_S}"),
    ("source_current", "VOC  oc    0     {V_OC}", "VOC  oc    0     {1.01*V_OC}"),
    ("source_readings_current", "R2  oc2  out2  {R_S}", "R2  oc2  out2  {1.01*R_S}"),
    ("source_readings_resistor", "V1  oc1  0     {V_OC}", "V1  oc1  0     {1.01*V_OC}"),
    ("reservoir_bridge_current", "VD4  0    bot  {V_F}", "VD4  0    bot  0"),
    ("reservoir_half_wave_resistor", "VD   top  out  {V_F}", "VD   top  out  {2*V_F}"),
    ("reservoir_centre_tap_current", "CRES res  chg  {C}", "CRES res  chg  {1.01*C}"),
    ("reservoir_half_wave_current", "VFRQ frq  0    {f}", "VFRQ frq  0    {2*f}"),
    ("rectifiers_current", "VDG  0    g    {V_F}", "VDG  0    g    0"),
    ("rectifiers_current", "VDC  c    oc   {V_F}", "VDC  c    oc   {2*V_F}"),
]

# A law made wrong; those that say the same in other words are taken out, so that the engine cannot contradict itself.
WRONG_LAWS = [
    ("source_current", "R_S.ohm", "I_I = (V_OC - V_I)/(2*R_S)", ("loaded", "R_S.drop-ohm", "R_S.power-square")),
    ("source_resistor", "L.power", "P_O = V_OC*I_I", ()),
    ("source_current", "regulation", "REG_LOAD = (V_OC - V_I)/V_OC", ()),
    ("source_readings_current", "two-readings", "R_S = (V_I_1 - V_I_2)/(I_I_2 + I_I_1)", ("loaded@2", "R_S.ohm@2")),
    ("shunt_straight_current", "kcl.out", "I_R = I_Z - I_L", ("feed", "series")),
    ("shunt_straight_resistor", "Z.power", "P_Z = V_Z*I_L", ()),
    ("shunt_straight_resistor", "if.V_TH", "V_TH = V_I*R/(R + R_L)", ()),
    ("follower_slope_resistor", "Z.slope", "V_Z = V_Z0 + 2*r_z*I_Z", ()),
    ("shunt_test_point_current", "Z.test-point", "V_ZT = V_Z0 - r_z*I_ZT", ("from-test-point",)),
    ("shunt_slope_current", "slope.R_OUT", "R_OUT = R + r_z", ()),
    ("shunt_slope_resistor", "slope.S_V", "S_V = r_z/(R + r_z)", ()),
    ("shunt_off_current", "efficiency", "eta = P_O/P_R", ()),
    ("follower_straight_resistor", "Q.junction", "V_O = V_B + V_BE", ("output",)),
    ("follower_straight_current", "Q.emitter-gain", "I_E = h_FE*I_B", ("base", "Q.gain")),
    ("follower_straight_current", "kcl.in", "I_I = I_C - I_R", ("supply",)),
    ("follower_straight_resistor", "Q.power", "P_Q = V_CE*I_E", ()),
    ("follower_slope_current", "slope.R_OUT", "R_OUT = (R||r_z)*(h_FE + 1)", ()),
    ("follower_starved_resistor", "Q.emitter-gain", "I_E = h_FE*I_B", ("base", "Q.gain")),
    ("boosted_straight_resistor", "split", "I_B = (I_R - I_L + I_RBE)/(h_FE + 1)", ("Q.gain", "Q.emitter-gain")),
    ("boosted_straight_current", "output", "V_O = V_Z - V_BE", ("Z.holds",)),
    ("boosted_slope_resistor", "slope.S_V", "S_V = r_z/(R + r_z)", ()),
    ("boosted_slope_current", "slope.R_OUT", "R_OUT = R||r_z", ()),
    ("boosted_alone_resistor", "kcl.base", "I_Z = I_B - I_RBE", ()),
    ("compensated_straight_current", "output", "V_O = V_Z - V_F", ("Z.holds",)),
    ("reference_resistor", "output", "V_O = V_REF*(1 + R_2/R_1) + I_REF*R_1", ("upper", "divider-current", "R_1.ohm")),
    ("reference_current", "U.power", "P_D = V_O*I_L", ()),
    ("opamp_resistor", "output", "V_O = V_REF*(1 + R_2/R_1)", ("upper", "R_1.ohm")),
    ("opamp_current", "Q.gain", "I_C = (h_FE + 1)*I_B", ("Q.emitter-gain",)),
    ("reservoir_bridge_current", "rectifier.crest", "V_PK = V_SPK - V_F", ("rectifier.reverse",)),
    ("reservoir_half_wave_current", "rectifier.ripple", "V_RIP = I_L/(2*f*C)", ()),
    ("rectifiers_current", "rectifier.C_1.ripple", "V_RIP_1 = I_L/(2*f*C)", ()),
    ("rectifiers_current", "rectifier.C_2.reverse", "PIV_2 = V_SPK", ("reverse-2",)),
    ("rectifiers_current", "rectifier.C_3.crest", "V_PK_3 = V_SPK - V_F", ("rectifier.C_3.reverse",)),
    ("reservoir_centre_tap_resistor", "rectifier.reverse", "PIV = V_SPK", ("reverse",)),
    ("reservoir_bridge_resistor", "C.mean", "V_DC = V_PK - V_RIP", ()),
]


def with_readings_of(form, right, wrong):
    """What the wrong runs saw, the readings that the engine is told (of a source, say) kept from the right ones."""
    kept = [{name: values[name] for name in form.told if name in values} for values in right]
    return [{**new, **old} for new, old in zip(wrong, kept, strict=True)]


@pytest.mark.parametrize(("deck", "right", "wrong"), WRONG_PARTS)
def test_a_wrong_part_in_a_deck_is_noticed(deck, right, wrong, solve, witness):
    """With one part of the deck changed, some quantity disagrees by more than 1e-3."""
    form = witness.forms[deck]
    sets = form.sets(SETS, SEED)
    told_by = witness.run(deck, sets)
    seen = with_readings_of(form, told_by, witness.run(deck, sets, (right, wrong)))
    worst = witness.worst(form, solve, sets, seen)
    assert worst.size > SEEN, f"{deck}, '{wrong}': {worst}"


@pytest.mark.parametrize(("deck", "law", "formula", "dropped"), WRONG_LAWS)
def test_a_wrong_law_is_noticed(deck, law, formula, dropped, solve_with, witness):
    """With one law of the engine changed, some quantity disagrees by more than 1e-3."""
    edited: list[str] = []

    def wrong(laws: LawSet) -> LawSet:
        kept = []
        for item in laws.laws:
            if item.id in dropped:
                edited.append(item.id)
            elif item.id == law:
                edited.append(law)
                kept.append(replace(item, equation=read_equation(formula)))
            else:
                kept.append(item)
        return replace(laws, laws=tuple(kept))

    form = witness.forms[deck]
    sets = form.sets(SETS, SEED)
    worst = witness.worst(form, solve_with(wrong), sets, witness.run(deck, sets))
    assert set(edited) == {law, *dropped}, f"laws not there: {({law, *dropped}) - set(edited)}"
    assert worst.size > SEEN, f"{deck}, '{formula}': {worst}"


def test_every_value_of_every_deck_counts(form, solve, witness):
    """Each value the engine is told, made half as large again for the simulator alone, shows in some quantity."""
    idle = {"off": {"V_Z", "r_z"}, "starved": {"V_Z", "r_z"}}.get(form.region, set())
    idle = IDLE.get((form.circuit, form.region), idle)
    if form.deck == "follower_off":
        idle = set(form.told) - {"V_I"}  # nothing flows: only the supply's voltage is seen anywhere
    sets = form.sets(4, SEED)
    seen = witness.run(form.deck, sets)
    counted = [name for name in form.told if name in sets[0] and name not in idle]
    assert counted
    for name in counted:
        moved = witness.run(form.deck, [{**values, name: 1.5 * values[name]} for values in sets])
        worst = witness.worst(form, solve, sets, with_readings_of(form, seen, moved))
        assert worst.size > SEEN, f"{form.deck}: {name} counts for nothing ({worst})"


def test_without_ngspice_a_user_skips_and_ci_fails(monkeypatch, witness):
    """A missing simulator skips the witness on a user's machine and fails it where CI is set."""
    monkeypatch.setenv("PATH", "")
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="ngspice is missing"):
        witness.find()
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="ngspice is missing, and CI must have it"):
        witness.find()
