"""Published examples of three-terminal regulators as current sources.

Where the regulator is a fixed one its voltage stands for the reference and its quiescent current for that of the adjust
pin. Facts read from scripts that rerun the books' methods; the pages were not seen.
"""

from __future__ import annotations

import tutor


def sourcing(**values):
    """The answer for a regulator as a current source."""
    return tutor.solve("three-terminal", {"form": "current-source", **values})


def driving(given, own_current):
    """Resistor, regulator output and input for a load resistance, the drop-out voltage just left."""
    answer = sourcing(
        V_REF=given("Vreg"), I_ADJ=own_current, I_L=given("IL"), R_L=given("RL"), V_IO=given("Vdo"), V_DROP=given("Vdo")
    )
    given.prints("R", answer.value("R").value)
    given.prints("Vo", answer.value("V_RO").value)
    given.prints("Vin", answer.value("V_I").value)


def test_floyd_17_9_resistor_for_a_current(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 17.9, p. 574.
    given = book("F-FLO-17.9")
    answer = sourcing(V_REF=given("Vreg"), I_ADJ=0, I_L=given("IL"))
    given.prints("R", answer.value("R").value)


def test_bakshi_10_6_quiescent_current_counted(book):
    # U. A. Bakshi & A. P. Godse, Analog and Digital Electronics, example 10.6, p. 10-30.
    given = book("F-BAK-10.6")
    driving(given, given("IQ"))


def test_gupta_11_2_current_into_a_load(book):
    # J. B. Gupta, Linear Integrated Circuits, 4th ed., S. K. Kataria 2011, example 11.2, p. 337.
    driving(book("F-JBL-11.2"), 0)


def test_pramod_sharma_9_2_current_into_a_load(book):
    # Pramod Sharma, Analog Integrated Circuits, 2nd ed., S. K. Kataria 2009, example 9.2, p. 381.
    driving(book("F-PRA-9.2"), 0)


def test_franco_11_13_adjustable_as_a_source(book):
    # Sergio Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., example 11.13, p. 529.
    given = book("F-FRA-11.13")
    answer = sourcing(
        V_REF=given("Vref"), I_ADJ=given("Iadj"), I_L=given("Io"), V_I=given("VCC"), V_IO=given("Vdo"),
        V_DROP=given("Vdo"),
    )  # fmt: skip
    given.prints("R", answer.value("R").value)
    given.prints("PR", answer.value("P_R").value)
    given.prints("VLmax", answer.value("V_O").value)
    given.leave("Romin", "from line regulation and rejection of a data sheet: the regulator here holds its reference")
