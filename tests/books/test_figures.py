"""Published examples of what a regulator lets through of line, load and temperature: the figures of a data sheet.

Facts read from scripts that rerun the books' methods; the pages were not seen. A data sheet tells a sensitivity as a
share of the output; times the output it is S_V, R_OUT or S_T, and the relations of change hold of any regulator.
"""

from __future__ import annotations

import tutor


def change(values):
    """The change of a regulator's output in volts."""
    return tutor.solve("follower", values, find=("DV_O",)).value("DV_O").value


def test_franco_11_2_line_load_and_drift(book):
    # Sergio Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., McGraw-Hill 2002,
    # example 11.2, p. 502: a reference of 10 V.
    given = book("H-FRA-11.2")
    output = given("Vo")
    given.prints("dVo_line", change({"S_V": given("line") * output, "DV_I": given("dVi")}))
    given.prints("dVo_load", -change({"R_OUT": given("load") * output, "DI_L": given("dIo")}))
    given.prints("dVo_T", change({"S_T": given("TC") * output, "DT": given("dT")}))


def test_franco_11_1_figures_of_a_regulator(book):
    # The same, example 11.1, p. 502: a regulator of 5 V between two readings, and its ripple rejection.
    given = book("F-FRA-11.1")
    readings = {"V_I_1": given("Vo"), "I_I_1": 0.0, "V_I_2": given("Vo") - given("dVo_load"), "I_I_2": given("dIo")}
    resistance = tutor.solve("source", readings, find=("R_S",)).value("R_S").value
    given.prints("zo", resistance)
    # Per cent of the output for each ampere: its resistance as a share of it.
    given.prints("LoadReg", resistance / given("Vo"))
    given.leave("LineReg", "the quotient of two readings of the line; a sensitivity is found from the parts here")
    # A ratio in decibels; a ripple is a change like any other, over and over.
    given.prints("Vro_per_V", change({"S_V": 10 ** (-given("RRR") / 20), "DV_I": 1.0}))
