"""Published examples of current limits, constant and folded back.

Facts read from scripts that rerun the books' methods; the pages were not seen.
"""

from __future__ import annotations

import tutor


def of_limit(values, name):
    """One quantity of the current limit in SI."""
    return tutor.solve("current-limit", values, find=(name,)).value(name).value


def test_floyd_17_4_limit(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 17.4, p. 557.
    given = book("E-FLO-17.4")
    given.prints("Imax", of_limit({"R_SENSE": given("Rsc"), "V_BE_2": given("VBE")}, "I_LIM"))


def test_tomar_13_3_limit(book):
    # R. S. Tomar, Analog Integrated Circuits, example 13.3, p. 419.
    given = book("E-TOM-13.3")
    given.prints("IL", of_limit({"R_SENSE": given("Rsc"), "V_BE_2": given("VBE")}, "I_LIM"))


def test_salivahanan_8_6_overload(book):
    # S. Salivahanan & V. S. Kanchana Bhaaskaran, Linear Integrated Circuits, example 8.6, p. 377: served, and
    # overloaded to the limit.
    given = book("E-SLI-8.6")
    given.prints("Rsc", of_limit({"I_LIM": given("Ilim"), "V_BE_2": given("VBE")}, "R_SENSE"))
    given.prints("IL1", of_limit({"V_O": given("Vo"), "R_L": given("RL1")}, "I_L"))
    given.prints("IL2_demand", of_limit({"V_O": given("Vo"), "R_L": given("RL2")}, "I_L"))
    given.prints("Vo2", of_limit({"I_L": given("Ilim"), "R_L": given("RL2")}, "V_O"))


def test_salivahanan_18_19_limit_of_a_supply(book):
    # S. Salivahanan, N. S. Kumar & A. Vallavaraj, Electronic Devices and Circuits, 2nd ed., TMH 2008, example 18.19,
    # p. 569.
    given = book("E-SAL-18.19")
    given.prints("RL", of_limit({"V_O": given("Vo"), "I_L": given("IL")}, "R_L"))
    given.prints("Rsc", of_limit({"I_LIM": given("Ilim"), "V_BE_2": given("VBE")}, "R_SENSE"))
    given.leave("C", "the reservoir comes from a ripple factor with its mean over a load, no quantity of a limiter")


def test_franco_11_10_foldback(book):
    # Sergio Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., example 11.10, p. 522.
    # The book's R_fb is the sense resistor with foldback, its R_sc the one without.
    given = book("E-FRA-11.10")
    short, knee = given("Pmax") / given("VI"), given("Pmax") / (given("VI") - given("Vo"))
    given.prints("Rsc", of_limit({"I_LIM": short, "V_BE_2": given("VBE")}, "R_SENSE"))
    values = {"I_SC": short, "I_KNEE": knee, "V_KNEE": given("Vo"), "V_BE_2": given("VBE"), "R_B": 1000.0}
    answer = tutor.solve("foldback", values, find=("R_SENSE", "R_A"))
    given.prints("Rfb", answer.value("R_SENSE").value)
    # 163.3 over 536.7 ohm: the proportion is ours, the sum comes from a divider current of ten base currents.
    exact = {name: given.row["recomputed"][name][0] for name in ("R3", "R4")}
    assert abs(answer.value("R_A").value / 1000 / (exact["R3"] / exact["R4"]) - 1) < 1e-6
    for name in ("R3", "R4"):
        given.leave(name, "the sum rests on a multiple of the limiter's base current, which no law fixes")
    for name in ("Isc", "Ifb"):
        given.leave(name, "a rated power over a voltage: worked in the test, as a given of the circuit")


def test_pramod_sharma_9_8_divider_and_limit(book):
    # Pramod Sharma, Analog Integrated Circuits, 2nd ed., S. K. Kataria 2009, example 9.8, p. 390: an integrated
    # regulator, its reference and amplifier taken as those of the series regulator with an op-amp.
    given = book("E-PRA-9.8")
    for name, output in (("R1_10", "Vo1"), ("R1_15", "Vo2")):
        values = {"form": "reference", "V_O": given(output), "V_REF": given("Vref"), "R_2": given("R2")}
        given.prints(name, tutor.solve("opamp-series", values, find=("R_1",)).value("R_1").value)
    given.prints("Rcl", of_limit({"I_LIM": given("Im"), "V_BE_2": given("Vsense")}, "R_SENSE"))
    given.leave("R3", "it balances the amplifier's inputs, which draw nothing here")
