"""Published examples of the series regulators with a loop: two transistors, or an op-amp and a transistor.

Facts read from scripts that rerun the books' methods; the pages were not seen.
"""

from __future__ import annotations

import pytest

import tutor

LOOSE = {"base-current": "load-over-h_FE"}  # the base current as emitter current over the gain


def of_pair(values, name, form="unfed", assume=None):
    """One quantity of the two-transistor regulator in SI."""
    return tutor.solve("feedback-pair", {"form": form, **values}, find=(name,), assume=assume or {}).value(name).value


def test_boylestad_15_9_output(book):
    # R. L. Boylestad & L. Nashelsky, Electronic Devices and Circuit Theory, 10th ed., Pearson 2009, example 15.9.
    given = book("D-BOY-15.9")
    values = {"V_Z": given("Vz"), "V_BE_2": given("VBE"), "R_1": given("R1"), "R_2": given("R2")}
    given.prints("Vo", of_pair(values, "V_O"))


def test_malvino_24_7_output_and_heat(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 24-7, p. 962; R_1 is the lower.
    given = book("D-MAL-24_7")
    values = {
        "V_I": given("Vin"), "R_L": given("RL"), "V_Z": given("Vz"), "V_BE_2": given("VBE"), "R_1": given("R1"),
        "R_2": given("R2"),
    }  # fmt: skip
    lower = {"divider": "lower"}
    answer = tutor.solve("feedback-pair", {"form": "unfed", **values}, find=("V_O", "I_L", "V_CE_1"), assume=lower)
    given.prints("Vo", answer.value("V_O").value)
    given.prints("IL", answer.value("I_L").value)
    # The book takes the load current alone for the collector's.
    given.prints("PD", answer.value("V_CE_1").value * answer.value("I_L").value)


def test_sedha_34_17_design(book):
    # R. S. Sedha, A Textbook of Electronic Circuits, S. Chand 2007, example 34.17, p. 961.
    given = book("D-SDH-34.17")
    known = {"V_O": given("Vo"), "V_Z": given("Vz"), "V_BE_2": given("VBE")}
    divider = {**known, "I_DIV": given("I1")}
    given.prints("RD", of_pair({**known, "I_RD": given("ID")}, "R_D", "fed"))
    given.prints("R1", of_pair(divider, "R_1", "fed"))
    given.prints("R2", of_pair(divider, "R_2", "fed"))
    drive = {
        "V_I": given("Vs"), "V_O": given("Vo"), "V_BE_1": given("VBE"), "I_L": given("IL"), "I_DIV": given("I1"),
        "I_RD": given("ID"), "I_C_2": given("IC2"), "h_FE_1": given("beta1"),
    }  # fmt: skip
    given.prints("R3", of_pair(drive, "R", "fed", LOOSE))


def test_salivahanan_18_18_design(book):
    # S. Salivahanan, N. S. Kumar & A. Vallavaraj, Electronic Devices and Circuits, 2nd ed., TMH 2008, example 18.18,
    # p. 568. Its resistor to the base, the mean of what the ends of the line ask for, leaves the error transistor a
    # sixth of the 10 mA that were asked for at the lowest line, as the caution of the row says.
    given = book("D-SAL-18.18")
    known = {"V_O": given("Vo"), "V_Z": given("Vz"), "V_BE_2": given("VBE"), "I_DIV": given("I")}
    given.prints("RLmin", of_pair({"V_O": given("Vo"), "I_L": given("ILmax")}, "R_L"))
    given.prints("R1", of_pair({**known, "I_RD": given("I")}, "R_D", "fed"))
    given.prints("R2", of_pair(known, "R_1"))
    given.prints("R3", of_pair(known, "R_2"))
    given.prints("Pz", of_pair({"V_Z": given("Vz"), "I_C_2": given("I"), "I_RD": given("I")}, "P_Z", "fed"))
    junctions = {"V_O": given("Vo"), "V_BE_1": given("VBE"), "V_Z": given("Vz")}
    given.prints("VCE2max", of_pair(junctions, "V_CE_2"))
    load = {"I_L": given("ILmax"), "I_DIV": given("I"), "I_RD": given("I"), "h_FE_1": given("beta")}
    given.prints("IE1", of_pair(load, "I_E_1", "fed"))
    given.prints("IB1", of_pair(load, "I_B_1", "fed", LOOSE))
    drive = {**load, "V_O": given("Vo"), "V_BE_1": given("VBE"), "I_C_2": given("I")}
    given.prints("R4max", of_pair({**drive, "V_I": given("Vimax")}, "R", "fed", LOOSE))
    given.prints("R4min", of_pair({**drive, "V_I": given("Vimin")}, "R", "fed", LOOSE))
    mean = (given.row["recomputed"]["R4max"][0] + given.row["recomputed"]["R4min"][0]) / 2
    parts = {
        "V_Z": given("Vz"), "V_BE_1": given("VBE"), "V_BE_2": given("VBE"), "h_FE_1": given("beta"), "R_1": 940.0,
        "R_2": 1060.0, "R_D": 1000.0, "I_L": given("ILmax"), "R": mean,
    }  # fmt: skip
    known = {"form": "fed", **parts}
    low, high = (tutor.solve("feedback-pair", {**known, "V_I": given(name)}) for name in ("Vimin", "Vimax"))
    assert low.value("I_C_2").value < 0.2 * given("I") and high.value("I_C_2").value > 1.8 * given("I")
    assert low.value("V_O").value == pytest.approx(given("Vo")) == pytest.approx(high.value("V_O").value)


def test_fiore_8_1_output(book):
    # James M. Fiore, Op Amps and Linear Integrated Circuits, Cengage 2012, example 8.1, p. 263.
    given = book("D-FIO-8.1")
    values = {"form": "zener", "V_Z": given("Vz"), "R_1": given("R2"), "R_2": given("R3")}
    given.prints("Vo", tutor.solve("opamp-series", values, find=("V_O",)).value("V_O").value)
    given.leave("Iz", "its zener hangs on the output by the resistor; the one here hangs on the input")


def test_fiore_8_2_powers(book):
    # James M. Fiore, Op Amps and Linear Integrated Circuits, Cengage 2012, example 8.2, p. 264: the supply gives what
    # the load takes, and h_FE is written for h_FE + 1.
    given = book("D-FIO-8.2")
    known = {"form": "reference", "V_I": given("Vin"), "V_O": given("Vo"), "R_L": given("RL")}
    answer = tutor.solve("opamp-series", known, find=("I_L", "V_CE", "P_O"))
    load = answer.value("I_L").value
    given.prints("IL", load)
    given.prints("VCE", answer.value("V_CE").value)
    given.prints("PD", answer.value("V_CE").value * load)
    given.prints("PL", answer.value("P_O").value)
    gain = tutor.solve("opamp-series", {"form": "reference", "I_E": load, "I_OA": given("IB")}, find=("h_FE",))
    given.prints("beta_min", gain.value("h_FE").value + 1)
    supply = {"form": "reference", "V_I": given("Vin"), "I_I": load}
    given.prints("Pin", tutor.solve("opamp-series", supply, find=("P_I",)).value("P_I").value)
    both = {"form": "reference", "P_O": answer.value("P_O").value, "P_I": given("Vin") * load}
    given.prints("eta", tutor.solve("opamp-series", both, find=("eta",)).value("eta").value)
