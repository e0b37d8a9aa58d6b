"""Published examples of three-terminal regulators with two resistors.

Facts read from scripts that rerun the books' methods; the pages were not seen.
"""

from __future__ import annotations

import tutor

NOTHING = 1e-6  # ohms, for a lower resistor that is turned down to nothing


def output(given, lower, adjust):
    """The output of an adjustable regulator in volts, its third pin's current as the book takes it."""
    values = {"form": "adjustable", "V_REF": given("Vref"), "I_ADJ": adjust, "R_1": given("R1"), "R_2": lower}
    return tutor.solve("three-terminal", values, find=("V_O",)).value("V_O").value


def ends(given):
    """The lowest and the highest output of an adjustable regulator whose lower resistor goes from nothing upwards."""
    given.prints("Vomin", output(given, NOTHING, given("Iadj")))
    given.prints("Vomax", output(given, given("R2max"), given("Iadj")))


def test_mehta_17_20_adjustable_output(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 17.20, p. 463.
    given = book("F-MEH-17.20")
    given.prints("Vo", output(given, given("R2"), given("Iadj")))


def test_boylestad_15_15_adjustable_output(book):
    # R. L. Boylestad & L. Nashelsky, Electronic Devices and Circuit Theory, 10th ed., Pearson 2009, example 15.15
    # (page not told).
    given = book("F-BOY-15.15")
    given.prints("Vo", output(given, given("R2"), given("Iadj")))


def test_salivahanan_8_4_adjustable_output(book):
    # S. Salivahanan & V. S. Kanchana Bhaaskaran, Linear Integrated Circuits, example 8.4, p. 371.
    given = book("F-SLI-8.4")
    given.prints("Vo", output(given, given("R2"), given("Iadj")))


def test_floyd_2_8_range_of_outputs(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 2.8, p. 62.
    ends(book("F-FLO-2.8"))


def test_sedha_34_19_range_of_outputs(book):
    # R. S. Sedha, A Textbook of Electronic Circuits, 4th ed., S. Chand 2007, example 34.19, p. 961.
    ends(book("F-SDH-34.19"))


def test_pramod_sharma_9_5_range_of_outputs(book):
    # Pramod Sharma, Analog Integrated Circuits, 2nd ed., S. K. Kataria 2009, example 9.5, p. 385.
    ends(book("F-PRA-9.5"))


def test_fiore_8_3_programme_resistor(book):
    # James M. Fiore, Op Amps and Linear Integrated Circuits, 1st ed., Cengage 2012, example 8.3, p. 272.
    given = book("F-FIO-8.3")
    values = {
        "form": "adjustable", "V_REF": given("Vref"), "I_ADJ": given("Iadj"), "R_1": given("R1"), "V_O": given("Vo"),
    }  # fmt: skip
    given.prints("R2", tutor.solve("three-terminal", values, find=("R_2",)).value("R_2").value)


def test_tomar_13_5_resistors_from_the_least_load(book):
    # R. S. Tomar, Analog Integrated Circuits, example 13.5, p. 427: what flows down the lower resistor is the no-load
    # current, of which the upper one carries all but the pin's.
    given = book("F-TOM-13.5")
    values = {
        "form": "adjustable", "V_REF": given("Vref"), "I_ADJ": given("Iadj"), "I_LOWER": given("INL"),
        "V_O": given("Vo"),
    }  # fmt: skip
    answer = tutor.solve("three-terminal", values, find=("R_1", "R_2"))
    given.prints("R1", answer.value("R_1").value)
    given.prints("R2", answer.value("R_2").value)


def raised(given, lower):
    """The output of a fixed regulator lifted by two resistors, in volts."""
    values = {"form": "raised", "V_REG": given("Vreg"), "I_Q": given("IQ"), "R_1": given("R1"), "R_2": lower}
    return tutor.solve("three-terminal", values, find=("V_O",)).value("V_O").value


def test_gupta_11_4_raised_output(book):
    # J. B. Gupta, Linear Integrated Circuits, 4th ed., S. K. Kataria 2011, example 11.4, p. 337.
    given = book("F-JBL-11.4")
    given.prints("Vomin", raised(given, NOTHING))
    given.prints("Vomax", raised(given, given("R2max")))


def test_roy_choudhury_6_2_raised_output(book):
    # D. Roy Choudhury & Shail B. Jain, Linear Integrated Circuits, 4th ed., New Age 2012, example 6.2, p. 247.
    given = book("F-RCJ-6.2")
    values = {
        "form": "raised", "V_REG": given("Vreg"), "I_Q": given("IQ"), "I_DIV": given("IR1"), "V_O": given("Vo"),
    }  # fmt: skip
    answer = tutor.solve("three-terminal", values, find=("R_1", "R_2"))
    given.prints("R1", answer.value("R_1").value)
    given.prints("R2", answer.value("R_2").value)


def test_bell_18_9_fullest_load_of_a_package(book):
    # David A. Bell, Electronic Devices and Circuits, 4th ed., PHI 2004, example 18.9, p. 782: what the regulator draws
    # for itself counts as the current out of its ground pin.
    given = book("G-BEL-18.9")
    values = {"form": "fixed", "P_D": given("Pmax"), "V_I": given("Vs"), "V_REG": given("Vo"), "I_Q": given("Iint")}
    given.prints("ILmax", tutor.solve("three-terminal", values, find=("I_L",)).value("I_L").value)


def test_malvino_24_12_load_and_ripple_before_a_regulator(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 24-12, p. 971; f is the ripple's.
    given = book("F-MAL-24_12")
    fixed = {"form": "fixed", "V_REG": given("Vo"), "R_L": given("RL")}
    load = tutor.solve("three-terminal", fixed, find=("I_L",)).value("I_L").value
    given.prints("IL", load)
    reservoir = {"form": "bridge", "I_L": load, "C": given("C"), "f": given("f") / 2}
    given.prints("Vri", tutor.solve("reservoir", reservoir, find=("V_RIP",)).value("V_RIP").value)
    given.leave("Vro", "ripple rejection in decibels: the three-terminal regulator here passes no ripple")
