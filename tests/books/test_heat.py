"""Published examples of the path of heat, of derating, and of a fixed regulator's efficiency.

Facts read from scripts that rerun the books' methods; the pages were not seen. A derating of so many W/K is the inverse
of a thermal resistance; a rating at one temperature tells at which the junction is at its limit.
"""

from __future__ import annotations

import tutor


def over_sink(values, name):
    """One quantity of the heat path over a heat-sink in SI, temperatures in degrees Celsius."""
    return tutor.solve("heat-path", {"form": "heat-sink", **values}, find=(name,)).value(name).value


def in_air(values, name):
    """One quantity of the heat path of a single resistance."""
    return tutor.solve("heat-path", {"form": "free-air", **values}, find=(name,)).value(name).value


def test_fiore_8_7_heat_sink(book):
    # James M. Fiore, Op Amps and Linear Integrated Circuits, 1st ed., Cengage 2012, example 8.7, p. 296.
    given = book("G-FIO-8.7")
    values = {
        "T_J": given("Tj"), "T_A": given("Ta"), "R_thJC": given("thJC"), "R_thCS": given("thCS"), "P_D": given("PD"),
    }  # fmt: skip
    given.prints("thSA", over_sink(values, "R_thSA"))


def test_franco_11_15_heat_sink(book):
    # Sergio Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., example 11.15, p. 532:
    # the heat is that of a regulator whose own pin current is neglected.
    given = book("G-FRA-11.15")
    regulator = {"form": "fixed", "V_I": given("VI"), "V_O": given("VO"), "I_L": given("Io")}
    heat = tutor.solve("three-terminal", regulator, find=("P_D",), assume={"pin-current": "neglected"})
    values = {
        "T_J": given("Tj"), "T_A": given("Ta"), "R_thJC": given("thJC"), "R_thCS": given("thCS"),
        "P_D": heat.value("P_D").value,
    }  # fmt: skip
    given.prints("thSA", over_sink(values, "R_thSA"))


def test_neamen_8_2_with_and_without_a_heat_sink(book):
    # D. A. Neamen, Electronic Circuit Analysis and Design, 2nd ed., McGraw-Hill 2001, example 8.2, p. 478.
    given = book("G-NEA-8.2")
    limits = {"T_J": given("Tj"), "T_A": given("Ta")}
    chain = {"R_thJC": given("thJC"), "R_thCS": given("thCS"), "R_thSA": given("thSA")}
    given.prints("P_sink", over_sink({**limits, **chain}, "P_D"))
    given.prints("P_no", in_air({**limits, "R_thJA": given("thJC") + given("thCA")}, "P_D"))


def rated(power, at, resistance):
    """The junction's limit: the temperature to which the rated power raises it from that at which it is rated."""
    return in_air({"P_D": power, "T_A": at, "R_thJA": resistance}, "T_J")


def test_boylestad_12_17_derating(book):
    # R. L. Boylestad & L. Nashelsky, Electronic Devices and Circuit Theory, 10th ed., Pearson 2009, example 12.17
    # (page not told).
    given = book("G-BOY-12.17")
    resistance = 1 / given("D")
    limit = rated(given("PD"), given("T0"), resistance)
    given.prints("PD125", in_air({"T_J": limit, "T_A": given("T1"), "R_thJA": resistance}, "P_D"))


def test_floyd_3_4_zener_derating(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 3.4, p. 90.
    given = book("G-FLO-3.4")
    resistance = 1 / given("D")
    limit = rated(given("P0"), given("T0"), resistance)
    given.prints("P", in_air({"T_J": limit, "T_A": given("T"), "R_thJA": resistance}, "P_D"))


def test_kumar_13_6_resistance_from_a_rating(book):
    # B. Kumar & S. B. Jain, Electronic Devices and Circuits, 1st ed., PHI 2007, example 13.6, p. 697.
    given = book("G-KUJ-13.6")
    resistance = in_air({"T_J": given("Tj"), "T_A": given("T0"), "P_D": given("PD0")}, "R_thJA")
    given.prints("theta", resistance)
    given.prints("P70", in_air({"T_J": given("Tj"), "T_A": given("T"), "R_thJA": resistance}, "P_D"))
    given.prints("TJ", in_air({"P_D": given("P"), "T_A": given("TA"), "R_thJA": resistance}, "T_J"))


def test_mehta_12_17_current_at_a_temperature(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 12.17, p. 324: the power
    # that a temperature allows, over the voltage.
    given = book("G-MEH-12.17")
    for name, ambient in (("IC1", "Ta1"), ("IC2", "Ta2")):
        power = in_air({"T_J": given("Tj"), "T_A": given(ambient), "R_thJA": given("th")}, "P_D")
        current = tutor.solve("follower", {"P_Q": power, "V_CE": given("VCE")}, find=("I_C",))
        given.prints(name, current.value("I_C").value)


def test_malvino_24_14_efficiency(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 24-14, p. 972: the input current taken
    # for the load's, which may be any.
    given = book("G-MAL-24_14")
    for name, line in (("eta_min", "Vinmax"), ("eta_max", "Vinmin")):
        values = {"form": "fixed", "V_I": given(line), "V_O": given("Vo"), "I_L": 1.0}
        answer = tutor.solve("three-terminal", values, find=("eta",), assume={"pin-current": "neglected"})
        given.prints(name, answer.value("eta").value)
