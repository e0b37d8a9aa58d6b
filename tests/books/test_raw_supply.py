"""Published examples of a raw supply: load regulation, and the source behind a resistance."""

from __future__ import annotations

import tutor

FULL_LOAD = {"load-regulation": "full-load"}  # all these books refer the change to the full-load voltage


def test_mehta_17_4_load_regulation_and_least_load(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 17.4, p. 445; figures
    # printed by a published script that reruns the book's method; page not seen.
    given = book("A-MEH-17.4")
    values = {"V_OC": given("VNL"), "V_I": given("VFL"), "I_I": given("IFL")}
    answer = tutor.solve("source", values, find=("REG_LOAD", "R_L"), assume=FULL_LOAD)
    given.prints("VR", answer.value("REG_LOAD").value)
    given.prints("RLmin", answer.value("R_L").value)


def test_mehta_17_5_source_from_two_readings(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 17.5, p. 445; figures
    # printed by a published script that reruns the book's method; page not seen.
    given = book("A-MEH-17.5")
    values = {"V_I_1": given("V1"), "I_I_1": given("I1"), "V_I_2": given("V2"), "I_I_2": given("I2")}
    answer = tutor.solve("source", values, find=("R_S", "V_OC"))
    given.prints("Ro", answer.value("R_S").value)
    given.prints("VNL", answer.value("V_OC").value)


def test_floyd_17_2_load_regulation(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 17.2, p. 553; figures printed by a published script
    # that reruns the book's method; page not seen.
    given = book("A-FLO-17.2")
    values = {"V_OC": given("VNL"), "V_I": given("VFL"), "I_I": given("IFL")}
    answer = tutor.solve("source", values, find=("REG_LOAD", "I_I"), assume=FULL_LOAD)
    given.prints("LR", answer.value("REG_LOAD").value)
    given.prints("LR_per_mA", answer.value("REG_LOAD").value / answer.value("I_I").value)


def test_malvino_24_6_load_regulation(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 24.6, p. 956; figures printed by a
    # published script that reruns the book's method; page not seen.
    given = book("A-MAL-24_6")
    answer = tutor.solve("source", {"V_OC": given("VNL"), "V_I": given("VFL")}, find=("REG_LOAD",), assume=FULL_LOAD)
    given.prints("LoadReg", answer.value("REG_LOAD").value)
    given.leave("LineReg", "two ends of a line, referred to the lower: the source circuit has no such quantity")


def test_tomar_13_2_load_regulation_per_milliampere(book):
    # R. S. Tomar, Analog Integrated Circuits, edition not stated, example 13.1.13.2, p. 414; figures printed by a
    # published script that reruns the book's method; page not seen.
    given = book("A-TOM-13.1_13.2")
    values = {"V_OC": given("VNL"), "V_I": given("VFL"), "I_I": given("IL")}
    answer = tutor.solve("source", values, find=("REG_LOAD", "I_I"), assume=FULL_LOAD)
    given.prints("LoadReg", answer.value("REG_LOAD").value / answer.value("I_I").value)
    given.leave("LineReg", "output change over line change of a regulator, no part of which is given")
