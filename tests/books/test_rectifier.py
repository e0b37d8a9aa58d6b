"""Published examples of rectifiers with a reservoir. Crests and reverse voltages hold without a reservoir too.

Figures of all these books are printed by published scripts that rerun the book's method; the pages were not seen.
"""

from __future__ import annotations

import pytest

import tutor

CREST = {"ripple-current": "crest"}  # the book takes the load current at the crest
NO_DROPS = {"piv-drop": "without"}
IDEAL = "0 V"


def test_malvino_4_1_half_wave_crest(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 4-1, p. 92.
    given = book("A-MAL-4_1")
    answer = tutor.solve("reservoir", {"form": "half-wave", "V_SEC": given("Vrms"), "V_F": given("VD")}, ("V_PK",))
    given.prints("Vpout_VD", answer.value("V_PK").value)
    given.prints("Vp", answer.values["V_SPK"].value)
    given.leave("Vdc_VD", "the average of the bare wave, without a reservoir")


def test_malvino_4_3_centre_tap_crest(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 4-3, p. 97.
    given = book("A-MAL-4_3")
    values = {"form": "centre-tap", "V_PRI": given("Vpri"), "N_T": given("n")}
    answer = tutor.solve("reservoir", {**values, "V_F": given("VD")}, ("V_PK",))
    ideal = tutor.solve("reservoir", {**values, "V_F": IDEAL}, ("V_PK",))
    given.prints("Vp2", 2 * answer.values["V_SPK"].value)  # the book's is that of the whole winding
    given.prints("Vpout_VD", answer.value("V_PK").value)
    given.prints("Vpout_ideal", ideal.value("V_PK").value)
    given.leave("Vp1", "the crest of the primary: only its r.m.s. value is spoken of here")


def test_floyd_2_6_bridge_crest_and_reverse_voltage(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 2.6, p. 54.
    given = book("A-FLO-2.6")
    values = {"form": "bridge", "V_SEC": given("Vrms_sec"), "V_F": given("VD")}
    answer = tutor.solve("reservoir", values, ("V_PK", "PIV"))
    given.prints("Vpout", answer.value("V_PK").value)
    given.prints("PIV", answer.value("PIV").value)


@pytest.mark.parametrize("assume", [NO_DROPS, {}])
def test_mehta_6_17_centre_tap_reverse_voltage(book, assume):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 6.17, pp. 95-96.
    given = book("A-MEH-6.17")
    values = {"form": "centre-tap", "V_PRI": given("Vpri"), "N_T": given("n"), "V_F": IDEAL}
    given.prints("PIV", tutor.solve("reservoir", values, ("PIV",), assume).value("PIV").value)
    given.leave("Vdc", "the average of the bare wave, without a reservoir")
    given.leave("eta", "the efficiency of the bare rectifier")


def test_mehta_6_18_bridge_reverse_voltage(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 6.18, pp. 96-97.
    given = book("A-MEH-6.18")
    values = {"form": "bridge", "V_PRI": given("Vpri"), "N_T": given("n"), "V_F": IDEAL}
    given.prints("PIV", tutor.solve("reservoir", values, ("PIV",), NO_DROPS).value("PIV").value)
    given.leave("Vdc", "the average of the bare wave, without a reservoir")
    given.leave("f_out", "twice the mains frequency, which has no letter here")


def test_malvino_4_9_bridge_with_reservoir(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 4-9, p. 111.
    given = book("A-MAL-4_9")
    values = {
        "form": "bridge", "V_PRI": given("Vpri"), "N_T": given("n"), "f": given("f"), "C": given("C"),
        "R_L": given("RL"), "V_F": given("VD"),
    }  # fmt: skip
    # The book drops 1.4 V from 11.3 V, and loads the crest.
    answer = tutor.solve("reservoir", values, ("V_PK", "I_L", "V_RIP"), CREST)
    given.prints("VL", answer.value("V_PK").value)
    given.prints("IL", answer.value("I_L").value)
    given.prints("Vrpp", answer.value("V_RIP").value)


def test_malvino_4_10_bridge_reverse_voltage(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 4-10, p. 114.
    given = book("A-MAL-4_10")
    values = {"form": "bridge", "V_PRI": given("Vpri"), "N_T": given("n")}
    answer = tutor.solve("reservoir", values, ("V_SEC", "PIV"), NO_DROPS)
    given.prints("V2rms", answer.value("V_SEC").value)
    given.prints("PIV", answer.value("PIV").value)


def test_bell_3_3_half_wave_ripple(book):
    # David A. Bell, Electronic Devices and Circuits, 5th ed., Oxford 2008, example 3.3, p. 83.
    given = book("A-BEL-3.3")
    values = {"form": "half-wave", "V_DC": given("Eo"), "R_L": given("RL"), "C": given("C"), "f": given("f")}
    given.prints("Vrpp", tutor.solve("reservoir", values, ("V_RIP",)).value("V_RIP").value)


def test_bell_3_9_reservoir_for_a_ripple(book):
    # David A. Bell, Electronic Devices and Circuits, 5th ed., Oxford 2008, example 3.9, p. 93.
    given = book("A-BEL-3.9")
    values = {"form": "bridge", "I_L": given("IL"), "V_RIP": given("Vrpp"), "f": 1 / given("T")}
    given.prints("C", tutor.solve("reservoir", values, ("C",)).value("C").value)


def test_neamen_2_2_reservoir_for_a_ripple(book):
    # D. A. Neamen, Electronic Circuit Analysis and Design, 2nd ed., McGraw-Hill 2001, example 2.2, p. 59.
    given = book("A-NEA-2.2")
    values = {"form": "bridge", "V_PK": given("VM"), "R_L": given("RL"), "f": given("f"), "V_RIP": given("Vr")}
    given.prints("C", tutor.solve("reservoir", values, ("C",), CREST).value("C").value)


def test_sedra_3_9_peak_rectifier(book):
    # A. S. Sedra & K. C. Smith, Microelectronic Circuits, 5th ed., Oxford 2004, example 3.9, p. 181.
    given = book("A-SED-3.9")
    values = {"form": "half-wave", "V_PK": given("Vp"), "R_L": given("RL"), "f": given("f"), "V_RIP": given("Vr")}
    given.prints("C", tutor.solve("reservoir", values, ("C",), CREST).value("C").value)
    for name in ("wdt", "iDav", "iDmax"):
        given.leave(name, "the charging angle of an ideal winding and the diode's current in it: no quantities here")


@pytest.mark.parametrize("assume", [{}, {"dc-value": "self-consistent"}])
def test_bapat_2_6_capacitor_filter(book, assume):
    # Y. N. Bapat, Electronics Circuits and Systems, edition not stated, example 2.6, p. 45.
    given = book("A-BAP-2_6")
    values = {
        "form": "bridge", "V_SEC": given("Vrms"), "V_F": IDEAL, "R_L": given("RL"), "C": given("C"), "f": given("f"),
    }  # fmt: skip
    answer = tutor.solve("reservoir", values, ("V_PK", "V_DC", "RIPPLE_FACTOR"), assume)
    crest, mean, factor = (answer.value(name).value for name in ("V_PK", "V_DC", "RIPPLE_FACTOR"))
    given.prints("Vdc", mean)
    given.prints("r", factor)
    given.prints("Vr_rms", factor * mean)
    given.prints("VR", (crest - mean) / mean)  # from the crest without load, over the full-load voltage
