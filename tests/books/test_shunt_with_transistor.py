"""Published examples of shunt regulators with a transistor, a reference or an op-amp, and of zeners that drift.

Facts read from scripts that rerun the books' methods; the pages were not seen.
"""

from __future__ import annotations

import tutor

NEGLECTED = {"base-current": "neglected"}


def found(circuit, values, find, assume=None):
    """The wanted quantities in SI, in the order asked for."""
    answer = tutor.solve(circuit, values, find=find, assume=assume or {})
    return tuple(answer.value(name).value for name in find)


def boosted(given, line):
    """Output, load current, supply current and collector current of a boosted shunt, base current neglected."""
    values = {
        "V_I": given(line), "R": given("Rs"), "V_Z": given("Vz"), "V_BE": given("VBE"), "R_L": given("RL"),
    }  # fmt: skip
    return found("boosted-shunt", values, ("V_O", "I_L", "I_R", "I_C"), NEGLECTED)


def test_mehta_17_18_transistor_shunt(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 17.18, p. 457.
    given = book("C-MEH-17.18")
    for name, value in zip(("Vo", "IL", "Is", "IC"), boosted(given, "Vin"), strict=True):
        given.prints(name, value)


def test_boylestad_15_11_transistor_shunt(book):
    # R. L. Boylestad & L. Nashelsky, Electronic Devices and Circuit Theory, 10th ed., Pearson 2009, example 15.11
    # (page not told).
    given = book("C-BOY-15.11")
    for name, value in zip(("Vo", "IL", "Is", "IC"), boosted(given, "Vi"), strict=True):
        given.prints(name, value)


def test_sedha_34_14_base_current(book):
    # R. S. Sedha, A Textbook of Electronic Circuits, example 34.14, p. 960.
    # The book divides all that the load leaves by the gain: base current neglected beside the collector's.
    given = book("C-SDH-34.14")
    values = {
        "V_I": given("Vs"), "R": given("Rs"), "V_Z": given("Vz"), "V_BE": given("VBE"), "R_L": given("RL"),
        "h_FE": given("beta"),
    }  # fmt: skip
    given.prints("IB", *found("boosted-shunt", values, ("I_B",), NEGLECTED))


def test_malvino_24_4_op_amp_shunt(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 24-4, p. 955.
    # The book's R1 is the lower resistor; the divider's current is neglected.
    given = book("C-MAL-24_4")
    values = {
        "V_I": given("Vin"), "R": given("Rs"), "R_L": given("RL"), "V_REF": given("Vz"), "R_1": given("R2"),
        "R_2": given("R1"),
    }  # fmt: skip
    wanted = ("V_O", "I_R", "I_L", "I_C")
    for name, value in zip(
        ("Vo", "Is", "IL", "IC"),
        found("opamp-shunt", values, wanted, {"divider-current": "neglected"}),
        strict=True,
    ):
        given.prints(name, value)


def test_a_reference_of_five_volts(book):
    # A note on the web on the TL431, no manufacturer's document; its reference is rounded to 2.5 V and its pin current
    # neglected, as its caution says.
    given = book("C-WEB-TL431-5V")
    values = {"V_REF": given("Vref"), "R_1": given("R1"), "R_2": given("R2")}
    output, divider = found("reference-shunt", values, ("V_O", "I_DIV"), {"reference-current": "neglected"})
    given.prints("Vo", output)
    given.prints("Idiv", divider)


def test_floyd_3_3_zener_at_a_temperature(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 3.3, p. 90.
    given = book("H-FLO-3.3")
    values = {"V_Z": given("Vz"), "alpha_Z": given("TC"), "DT": given("T2") - given("T1")}
    (drift,) = found("compensated-shunt", values, ("DV_Z",))
    given.prints("Vz60", given("Vz") + drift)


def test_j_b_gupta_4_14_coefficient_from_two_points(book):
    # J. B. Gupta, Fundamentals of Electronic Devices, 1st ed., Katson 2009, example 4.14, p. 172.
    given = book("H-JBD-4.14")
    values = {"V_Z": given("V25"), "DV_Z": given("V100") - given("V25"), "DT": given("T1") - given("T0")}
    (coefficient,) = found("compensated-shunt", values, ("alpha_Z",))
    given.prints("TC", coefficient)


def test_bapat_2_8_zener_with_a_diode(book):
    # Y. N. Bapat, Electronics Circuits and Systems, example 2_8, p. 49: 10 V with +0.02 %/K, and a diode of 0.7 V.
    given = book("H-BAP-2_8")
    values = {
        "V_Z": given("Vz"), "V_F": given("VD"), "alpha_Z": given("TCz_pct"), "k_BE": given("TCd"),
        "DT": given("T2") - given("T1"),
    }  # fmt: skip
    output, zener, slope, change = found("compensated-shunt", values, ("V_O", "DV_Z", "S_T", "DV_O"))
    given.prints("TCz", zener / values["DT"])
    given.prints("Vref25", output)
    given.prints("TCpct", slope / output)
    given.prints("Vref50", output + change)
