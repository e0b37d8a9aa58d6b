"""Planted faults: a wrong law, a wrong part or a wrong value must show as a disagreement, or the witness sees nothing.

The measure is 1e-3, a thousand times the limit that the circuits are held to.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.witness.compare_forms import COMPARE_IDLE
from tests.witness.full_regulator_forms import FULL_IDLE
from tests.witness.loop_forms import LOOP_IDLE
from tests.witness.prestabilised_forms import PRESTABILISED_IDLE
from tests.witness.series_forms import SERIES_IDLE
from tests.witness.shunt_forms import IDLE
from tests.witness.supply_forms import SUPPLY_IDLE
from tutor.laws.law import LawSet
from tutor.quantities.formula import read_equation

SETS = 8
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
    ("darlington_straight_resistor", "VB2 {h_FE_2}", "VB2 {h_FE_2 + 2}"),
    ("darlington_straight_current", "VB1 base m    {V_BE_1}", "VB1 base m    {V_BE_1 + 0.1}"),
    ("darlington_slope_current", "FC1 c1   m    VB1", "FC1 c1   m    VB2"),
    ("darlington_starved_resistor", "VB1 {h_FE_1}", "VB1 {h_FE_1 - 2}"),
    ("limit_regulating_current", "RSN e    out  {R_SENSE}", "RSN e    out  {1.05*R_SENSE}"),
    ("limit_holding_resistor", "VB2 e    out  {V_BE_2}", "VB2 e    out  {1.01*V_BE_2}"),
    ("limit_limiting_resistor", "VB2 {h_FE_2}", "VB2 {h_FE_2 + 10}"),
    ("limit_starved_current", "VB1 {h_FE_1}", "VB1 {h_FE_1 - 1}"),
    ("foldback_limiting", "RLO tap  0    {R_B}", "RLO tap  0    {1.02*R_B}"),
    ("foldback_holding_current", "FC2 c2   out  VB2", "FC2 c2   0    VB2"),
    ("foldback_regulating_resistor", "RUP e    tap  {R_A}", "RUP out  tap  {R_A}"),
    ("foldback_starved_resistor", "VSJ st   0    {V_BE_2}", "VSJ st   0    {2*V_BE_2}"),
    ("feedback_unfed_regulating_current", "VST set  sz   {V_BE_2}", "VST sz   set  {V_BE_2}"),
    ("feedback_fed_regulating_resistor", "RFD out  em   {R_D}", "RFD in   em   {R_D}"),
    ("feedback_fed_exact", "FC2 c2   em   VB2 {h_FE_2}", "FC2 c2   em   VB2 {h_FE_2/2}"),
    ("feedback_unfed_dropout_resistor", "FC1 c1   out  VB1 {h_FE_1}", "FC1 c1   out  VB1 {h_FE_1 + 2}"),
    ("feedback_fed_starved_current", "RUP out  tap  {R_1}", "RUP out  tap  {1.1*R_1}"),
    ("opamp_series_reference_regulating_current", "VBE base out  {V_BE}", "VBE base out  {V_BE + 0.05}"),
    ("opamp_series_reference_dropout_resistor", "VDR oi   oj   {V_DROP}", "VDR oi   oj   {1.1*V_DROP}"),
    ("opamp_series_reference_finite_current", "ROA int  oi   {R_O}", "ROA int  oi   {2*R_O}"),
    ("opamp_series_direct_finite_resistor", "EOA int  0    ref  tap  {A}", "EOA int  0    ref  tap  {A/2}"),
    ("opamp_series_direct_counted", "RU  out  tap  {R_1}", "RU  out  tap  {1.01*R_1}"),
    ("opamp_series_zener_slope_resistor", "RZ  ref  z    {r_z}", "RZ  ref  z    {2*r_z}"),
    ("opamp_series_zener_starved_current", "VDR oi   oj   {V_DROP}", "VDR oi   oj   {1.1*V_DROP}"),
    ("full_regulator_slope_current", "RZ  ref  z    {r_z}", "RZ  ref  z    {2*r_z}"),
    ("full_regulator_slope_resistor", "FC1 c1   mid  VB1", "FC1 c1   mid  VB2"),
    ("full_regulator_holding_resistor", "VB3 e    out  {V_BE_3}", "VB3 e    out  {1.01*V_BE_3}"),
    ("full_regulator_limiting_resistor", "IOA ui   oa   {I_OAM}", "IOA ui   oa   {1.1*I_OAM}"),
    ("full_regulator_dropout_current", "RSN e    out  {R_SENSE}", "RSN e    out  {1.1*R_SENSE}"),
    ("full_regulator_starved_current", "VDR oi   oj   {V_DROP}", "VDR oi   oj   {1.1*V_DROP}"),
    ("three_terminal_adjustable_regulating_current", "IPIN ui   adj  {I_ADJ}", "IPIN ui   adj  {10*I_ADJ}"),
    ("three_terminal_raised_regulating_resistor", "RLO adj  0    {R_2}", "RLO adj  0    {1.01*R_2}"),
    ("three_terminal_fixed_regulating_resistor", "IPIN ui   0    {I_Q}", "IPIN ui   0    {2*I_Q}"),
    ("three_terminal_boosted_sharing_current", "FC  in   c    VBE {h_FE}", "FC  in   c    VBE {h_FE + 1}"),
    ("three_terminal_boosted_alone_resistor", "RBE in   base {R_BE}", "RBE in   base {1.05*R_BE}"),
    ("three_terminal_boosted_dropout_current", "VBE in   base {V_BE}", "VBE in   base {-V_BE}"),
    ("three_terminal_source_regulating_resistor", "RS  reg  adj  {R}", "RS  reg  out  {R}"),
    ("three_terminal_source_dropout_voltage", "VDRP ui  uo   {V_DROP}", "VDRP ui  uo   {1.1*V_DROP}"),
    ("three_terminal_adjustable_dropout_resistor", "VDRP ui   uo   {V_DROP}", "VDRP ui   uo   {1.1*V_DROP}"),
    ("heat_sink", "RCS cas  snk  {R_thCS}", "RCS cas  snk  {1.1*R_thCS}"),
    ("heat_regulator_regulating_current", "v(in)*{I_Q}", "0*{I_Q}"),
    ("heat_raw_supply_dropout_resistor", "RSA snk  amb  {R_thSA}", "RSA snk  0    {R_thSA}"),
    ("heat_free_air", "IPD amb  jun  {P_D}", "IPD jun  amb  {P_D}"),
    ("prestabilised_zener_straight_current", "R2  pre  base {R}", "R2  in   base {R}"),
    ("prestabilised_zener_straight_resistor", "VZP pre  0    {V_Z_P}", "VZP pre  0    {1.01*V_Z_P}"),
    ("prestabilised_zener_test_point_current", "RZP pre  zp   {r_z_P}", "RZP pre  zp   {2*r_z_P}"),
    ("prestabilised_zener_test_point_resistor", "FCA ina  outa VBA {h_FE}", "FCA ina  outa VBA {h_FE + 1}"),
    ("prestabilised_zener_first_starved_current", "RP  in   pre  {R_P}", "RP  in   pre  {1.01*R_P}"),
    ("prestabilised_zener_second_starved_resistor", "VZP pre  0    {V_Z_P}", "VZP pre  0    {1.02*V_Z_P}"),
    ("prestabilised_zener_starved_current", "FC  c    out  VBE {h_FE}", "FC  c    out  VBE {h_FE + 1}"),
    ("prestabilised_reference_regulating_current", "IRE tap  0    {I_REF}", "IRE tap  0    {-50*I_REF}"),
    ("prestabilised_reference_regulating_resistor", "VBE base out  {V_BE}", "VBE base out  {V_BE + 0.05}"),
    ("prestabilised_reference_starved_resistor", "RU  base tap  {R_1}", "RU  base tap  {1.1*R_1}"),
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
    ("regulators_current", "R21 in2  b2   {R_FEED_2}", "R21 in2  o2   {R_FEED_2}"),
    ("regulators_current", "RLO tap  0    {R_2}", "RLO tap  0    {1.01*R_2}"),
    ("regulators_current", "VT2 {h_FE}", "VT2 {h_FE + 2}"),
    ("whole_fixed_regulating_current", "RUP  pk   mid  {0.25/(f*C)}", "RUP  pk   mid  {0.5/(f*C)}"),
    ("whole_fixed_dropout_resistor", "RSA snk  amb  {R_thSA}", "RSA snk  0    {R_thSA}"),
    ("whole_follower_straight_current", "FC  c    out  VBE {h_FE}", "FC  c    out  VBE {h_FE + 2}"),
    ("whole_follower_counted", "FCP low  0    ERAW -1", "FCP low  0    VLD 1"),
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
    ("darlington_straight_current", "kcl.middle", "I_E_1 = 2*I_B_2", ("driver-base", "pair", "supply")),
    ("darlington_straight_resistor", "Q_2.junction", "V_O = V_B_2 + V_BE_2", ("output",)),
    ("darlington_slope_current", "slope.R_OUT", "R_OUT = (R||r_z)/(h_FE_2 + 1)", ()),
    ("darlington_slope_resistor", "slope.S_V", "S_V = r_z/R", ()),
    ("darlington_starved_current", "Q_1.power", "P_Q_1 = V_CE_2*I_C_1", ()),
    ("limit_holding_resistor", "clamp", "I_SENSE = 2*V_BE_2/R_SENSE", ("Q_2.junction", "held-output", "base-limited")),
    ("limit_limiting_current", "kcl.out", "I_SENSE = I_L + I_E_2", ()),
    ("limit_regulating_current", "limit", "I_LIM = V_BE_1/R_SENSE", ()),
    ("limit_regulating_resistor", "slope.R_OUT", "R_OUT = 2*R_SENSE", ()),
    ("foldback_regulating_resistor", "knee", "I_KNEE = V_BE_2*(1 + R_A/R_B)/R_SENSE", ("knee-drop",)),
    ("foldback_regulating_current", "short", "I_SC = V_BE_2*(1 + R_B/R_A)/R_SENSE", ()),
    ("foldback_limiting", "kcl.tap", "I_LOWER = I_DIV + I_B_2", ("limit-line", "R_A.ohm")),
    ("feedback_unfed_regulating_resistor", "output", "V_O = V_Z*(1 + R_1/R_2)", ("upper", "R_1.ohm", "divider-chain")),
    ("feedback_fed_regulating_current", "spare", "I_C_2 = I_R", ("kcl.base", "series")),
    ("feedback_fed_exact", "tap-current", "I_DIV = V_TAP/R_2 - I_B_2", ("kcl.tap",)),
    ("feedback_unfed_dropout_current", "pass-base", "I_B_1 = I_L/(h_FE_1 + 1)", ("Q_1.emitter-gain", "kcl.out")),
    (
        "opamp_series_reference_regulating_resistor", "output", "V_O = V_REF*R_1/R_2",
        ("upper", "R_1.ohm", "divider-chain", "tap-share"),
    ),
    (
        "opamp_series_reference_regulating_current", "amplifier-current", "I_OA = I_L + I_DIV",
        ("Q.emitter-gain", "Q.gain"),
    ),
    ("opamp_series_reference_finite_current", "slope.R_OUT", "R_OUT = R_O/(h_FE + 1)/A", ()),
    ("opamp_series_direct_finite_current", "slope.R_OUT", "R_OUT = R_O/(1 + A)", ()),
    ("opamp_series_zener_slope_current", "slope.S_V", "S_V = r_z/(R + r_z)", ()),
    ("opamp_series_zener_finite", "slope.S_V", "S_V = r_z/(R + r_z)*(1 + R_2/R_1)", ()),
    ("opamp_series_direct_dropout_current", "U.rail", "V_O = V_I + V_DROP", ()),
    (
        "full_regulator_straight_current", "amplifier-voltage", "V_OA = V_O + V_BE_1 + V_BE_2",
        ("Q_1.junction", "U.headroom"),
    ),
    ("full_regulator_slope_resistor", "slope.S_V", "S_V = r_z/(R + r_z)", ()),
    ("full_regulator_test_point_current", "sensed", "I_SENSE = I_L - I_DIV", ("kcl.out",)),
    ("full_regulator_holding_resistor", "clamp", "I_SENSE = 2*V_BE_3/R_SENSE", ("Q_3.junction",)),
    ("full_regulator_limiting_resistor", "U.spent", "I_OA = 2*I_OAM", ("taken",)),
    ("full_regulator_dropout_resistor", "left-over", "V_CE_2 = V_I - V_O", ("Q_2.drop",)),
    ("three_terminal_adjustable_regulating_resistor", "output", "V_O = V_REF*(1 + R_1/R_2)", ("lower", "R_2.ohm")),
    ("three_terminal_raised_regulating_current", "U.power", "P_D = (V_I - V_O)*I_L", ()),
    ("three_terminal_fixed_dropout_current", "U.dropout", "V_O = V_I + V_DROP", ()),
    ("three_terminal_boosted_sharing_resistor", "resistor", "I_RBE = 2*V_BE/R_BE", ("share", "R_BE.ohm")),
    ("three_terminal_boosted_sharing_current", "kcl.base", "I_RI = I_RBE - I_B", ("share",)),
    ("three_terminal_boosted_dropout_current", "Q.emitter-gain", "I_E = h_FE*I_B", ("Q.gain", "share")),
    ("three_terminal_boosted_alone_current", "U.power", "P_D = V_IO*I_REG", ()),
    ("three_terminal_source_regulating_voltage", "set", "I_L = V_REF/R - 20*I_ADJ", ("choice", "kcl.out")),
    ("three_terminal_source_dropout_resistor", "R.power", "P_R = V_R*I_L*2", ("R.power-square",)),
    ("heat_sink", "R_thCS.rise", "T_C - T_S = P_D*R_thSA", ("R_thCS.flow", "case-chain")),
    ("heat_raw_supply_regulating_current", "heat", "P_D = (V_OC - V_O)*I_L + V_I*I_Q", ("U.power",)),
    ("heat_free_air", "junction", "T_J = T_A - P_D*R_thJA", ("resistance", "R_thJA.rise", "R_thJA.flow")),
    ("prestabilised_zener_straight_current", "between", "I_R = (V_I - V_Z)/R", ("R.ohm", "R.drop-ohm", "kcl.base")),
    ("prestabilised_zener_straight_resistor", "kcl.pre", "I_R_P = I_Z_P - I_R", ("first-feed", "first-series")),
    ("prestabilised_zener_test_point_current", "slope.S_V_P", "S_V_P = r_z_P/(R_P + r_z_P)", ()),
    ("prestabilised_zener_test_point_resistor", "slope.S_V", "S_V = S_V_P*r_z/R", ()),
    ("prestabilised_zener_test_point_current", "slope.R_OUT", "R_OUT = R||r_z", ()),
    ("prestabilised_zener_test_point_resistor", "first-test-point", "V_Z_P = V_ZT_P + r_z_P*I_Z_P", ("Z_P.slope",)),
    ("prestabilised_zener_first_starved_current", "Z.power", "P_Z = V_Z*I_R", ()),
    ("prestabilised_reference_regulating_current", "reference", "V_B = V_REF*(1 + R_2/R_1) + I_REF*R_1",
     ("upper", "divider-current", "R_1.ohm")),
    ("prestabilised_reference_regulating_resistor", "feed", "I_K = (V_I - V_B)/R - I_DIV", ("kcl.base", "series")),
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
    ("regulators_current", "efficiency-1", "eta_1 = V_O/V_I", ()),
    ("regulators_current", "output-resistance-2", "R_OUT_2 = (R_FEED_2||r_z)*(h_FE + 1)", ()),
    ("regulators_current", "output-resistance-3", "R_OUT_3 = R_O/((h_FE + 1)*A)", ()),
    ("regulators_current", "waste-3", "P_D_3 = P_I_3 + P_O", ()),
    ("rectifiers_current", "rectifier.C_3.crest", "V_PK_3 = V_SPK - V_F", ("rectifier.C_3.reverse",)),
    ("reservoir_centre_tap_resistor", "rectifier.reverse", "PIV = V_SPK", ("reverse",)),
    ("reservoir_bridge_resistor", "C.mean", "V_DC = V_PK - V_RIP", ()),
    ("whole_fixed_regulating_current", "C.level", "V_I = V_TROUGH", ()),
    ("whole_fixed_dropout_current", "heat", "P_D = (V_I - V_O)*I_L", ("U.power",)),
    ("whole_follower_straight_resistor", "headroom", "V_HEAD = V_DC - V_O", ()),
    ("whole_follower_starved_current", "kcl.raw", "I_I = I_R", ("supply",)),
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
    tables = (IDLE, SERIES_IDLE, LOOP_IDLE, COMPARE_IDLE, SUPPLY_IDLE, PRESTABILISED_IDLE, FULL_IDLE)
    idle = {name: told for table in tables for name, told in table.items()}.get((form.circuit, form.region), idle)
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
