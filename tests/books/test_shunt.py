"""Published examples of zener shunt regulators. A bound is the circuit worked at the corner that sets it."""

from __future__ import annotations

import pytest

import tutor


def shunt(values, *find):
    """The wanted quantities of the shunt regulator in SI, in the order asked for."""
    answer = tutor.solve("zener-shunt", values, find=find)
    found = tuple(answer.value(name).value for name in find)
    return found[0] if len(found) == 1 else found


def test_malvino_5_1_zener_current_over_the_line(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 5.1, p. 146; figures printed by a
    # published script that reruns the book's method; page not seen.
    given = book("B-MAL-5_1")
    fixed = {"V_Z": given("Vz"), "R": given("Rs"), "I_L": 0.0}
    given.prints("Imin", shunt({**fixed, "V_I": given("Vmin")}, "I_Z"))
    given.prints("Imax", shunt({**fixed, "V_I": given("Vmax")}, "I_Z"))


def test_malvino_5_7_output_with_zener_resistance(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 5.7, p. 153; figures printed by a
    # published script that reruns the book's method; page not seen.
    # The book adds I_Z*r_z to the nominal voltage: nominal stands for the voltage at no current.
    given = book("B-MAL-5_7")
    output = shunt({"V_Z0": given("Vz"), "r_z": given("rz"), "I_Z": given("Iz")}, "V_O")
    given.prints("VL", output)
    given.prints("dVL", output - given("Vz"))


def test_malvino_5_10_greatest_series_resistor(book):
    # A. Malvino & D. J. Bates, Electronic Principles, 7th ed., TMH 2006, example 5.10, p. 157; figures printed by a
    # published script that reruns the book's method; page not seen.
    # The zener current may fall to nothing.
    given = book("B-MAL-5_10")
    corner = {"V_I": given("Vsmin"), "V_Z": given("Vz"), "R_L": given("RLmin"), "I_Z": 0.0}
    given.prints("Rsmax", shunt(corner, "R"))


def test_floyd_3_2_zener_voltage_off_the_test_current(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 3.2, p. 89; figures printed by a published script
    # that reruns the book's method; page not seen.
    given = book("B-FLO-3.2")
    line = {"V_ZT": given("Vz"), "I_ZT": given("Izt"), "r_z": given("Zzt")}
    given.prints("V25", shunt({**line, "I_Z": given("I2")}, "V_Z"))
    # At 50 mA the line gives 6.8455 V: printed as 6.845, half a unit of the last figure off.
    given.prints("V50", shunt({**line, "I_Z": given("I1")}, "V_Z"))


def test_floyd_3_6_load_range(book):
    # Thomas L. Floyd, Electronic Devices, 7th ed., 2009, example 3.6, p. 93; figures printed by a published script
    # that reruns the book's method; page not seen.
    given = book("B-FLO-3.6")
    fixed = {"V_I": given("Vin"), "V_Z": given("Vz"), "R": given("R")}
    current, load = shunt({**fixed, "I_Z": given("Izk")}, "I_L", "R_L")
    given.prints("ILmax", current)
    given.prints("RLmin", load)
    unloaded, drawn = shunt({**fixed, "I_L": 0.0}, "I_Z", "I_L")
    assert unloaded < given("Izm")  # so the load may be taken off
    given.prints("ILmin", drawn)


def test_mehta_17_8_branch_currents_over_the_load(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 17.8, pp. 449-450;
    # figures printed by a published script that reruns the book's method; page not seen.
    given = book("B-MEH-17.8")
    fixed = {"V_I": given("Vin"), "V_Z": given("Vz"), "R": given("Rs")}
    through, load, zener = shunt({**fixed, "R_L": given("RLmin")}, "I_R", "I_L", "I_Z")
    given.prints("Is", through)
    given.prints("ILmax", load)
    given.prints("Izmin", zener)
    given.prints("Izmax", shunt({**fixed, "I_L": 0.0}, "I_Z"))


def test_mehta_17_10_and_17_11_series_resistor_window(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 17.10 and 17.11, pp.
    # 450-451; figures printed by a published script that reruns the book's method; page not seen.
    # The least resistor is found with the load removed; the greatest is printed cut off (1739.58 as 1739).
    given = book("B-MEH-17.10_17.11")
    fixed = {"V_I": given("Vin"), "V_Z": given("Vz")}
    given.prints("Rsmin", shunt({**fixed, "I_Z": given("Izmax"), "I_L": 0.0}, "R"))
    given.prints("Rsmax", shunt({**fixed, "I_Z": given("Izmin"), "R_L": given("RLmin")}, "R"))


def test_mehta_6_27_series_resistor(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 6.27, p. 115; figures
    # printed by a published script that reruns the book's method; page not seen.
    given = book("B-MEH-6.27")
    corner = {"V_I": given("E"), "V_Z": given("Vz"), "I_L": given("ILmax"), "I_Z": given("Izmin")}
    given.prints("R", shunt(corner, "R"))


def test_mehta_6_32_input_range(book):
    # V. K. Mehta & Rohit Mehta, Principles of Electronics, 11th ed., S. Chand 2009, example 6.32, p. 117; figures
    # printed by a published script that reruns the book's method; page not seen.
    given = book("B-MEH-6.32")
    fixed = {"V_Z": given("Vz"), "R": given("R"), "R_L": given("RL")}
    given.prints("Emin", shunt({**fixed, "I_Z": 0.0}, "V_I"))
    given.prints("Emax", shunt({**fixed, "I_Z": given("Izmax")}, "V_I"))


def test_sedha_34_7_input_range_with_zener_resistance(book):
    # R. S. Sedha, A Textbook of Electronic Circuits, 4th ed., S. Chand 2007, example 34.7, p. 957; figures printed by
    # a published script that reruns the book's method; page not seen.
    # 5.1 V is the voltage at no current, not at a test current.
    given = book("B-SDH-34.7")
    fixed = {"V_Z0": given("Vz"), "r_z": given("rz"), "R": given("Rs"), "I_L": 0.0}
    for end in ("min", "max"):
        output, supply = shunt({**fixed, "I_Z": given(f"Iz{end}")}, "V_O", "V_I")
        given.prints(f"Vo{end}", output)
        given.prints(f"Vs{end}", supply)


def test_sedha_34_10_series_resistor_and_zener_power(book):
    # R. S. Sedha, A Textbook of Electronic Circuits, 4th ed., S. Chand 2007, example 34.10, p. 958; figures printed
    # by a published script that reruns the book's method; page not seen.
    given = book("B-SDH-34.10")
    zener = {"V_Z": given("Vz")}
    corner = {**zener, "V_I": given("Vsmin"), "I_L": given("ILmax"), "I_Z": given("Izmin")}
    resistor = shunt(corner, "R")
    given.prints("Rsmax", resistor)
    hottest = {**zener, "V_I": given("Vsmax"), "I_L": given("ILmin"), "R": resistor}
    given.prints("Pzmax", shunt(hottest, "P_Z"))


def test_salivahanan_18_12_no_resistor_serves(book):
    # S. Salivahanan, N. S. Kumar & A. Vallavaraj, Electronic Devices and Circuits, 2nd ed., TMH 2008, example 18.12,
    # p. 562; figures printed by a published script that reruns the book's method; page not seen.
    # The least resistor (zener at its limit) exceeds the greatest (zener just held): the stated limits clash, and the
    # mean of the two, which the source takes, fails at both corners.
    given = book("B-SAL-18.12")
    high = {"V_Z": given("Vo"), "V_I": given("Vinmax"), "I_L": given("ILmin")}
    low = {"V_Z": given("Vo"), "V_I": given("Vinmin"), "I_L": given("ILmax")}
    least, power, light = shunt({**high, "I_Z": given("Izmax")}, "R", "P_Z", "R_L")
    greatest, heavy = shunt({**low, "I_Z": given("Izmin")}, "R", "R_L")
    given.prints("R_at_max_line", least)
    given.prints("R_at_min_line", greatest)
    given.prints("Pz", power)
    given.prints("RLmax", light)
    given.prints("RLmin", heavy)
    assert least > greatest
    mean = (least + greatest) / 2
    assert shunt({**high, "R": mean}, "I_Z") > given("Izmax")
    assert shunt({**low, "R": mean}, "I_Z") < given("Izmin")


def test_salivahanan_18_15_series_resistor_window(book):
    # S. Salivahanan, N. S. Kumar & A. Vallavaraj, Electronic Devices and Circuits, 2nd ed., TMH 2008, example 18.15,
    # p. 565; figures printed by a published script that reruns the book's method; page not seen.
    given = book("B-SAL-18.15")
    fixed = {"V_Z": given("Vo"), "I_L": given("IL")}
    rated = shunt({"V_Z": given("Vo"), "P_ZM": given("Pz")}, "I_ZM")
    given.prints("Izmax", rated)
    greatest, load, supply = shunt({**fixed, "V_I": given("Vi") - given("dVi"), "I_Z": 0.0}, "R", "R_L", "V_I")
    given.prints("Rmax", greatest)
    given.prints("RL", load)
    assert supply == given("Vi") - given("dVi")
    given.leave("Vimin", "nominal line less its tolerance: arithmetic on givens, no law of the circuit")
    given.prints("Rmin", shunt({**fixed, "V_I": given("Vi") + given("dVi"), "I_Z": rated}, "R"))


def test_franco_11_3_line_and_load_regulation(book):
    # Sergio Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., example 11.3, p. 504;
    # figures printed by a published script that reruns the book's method; page not seen.
    # Both percentages are of 6.5 V, and R is the 270 ohm the book rounds to.
    given = book("B-FRA-11.3")
    line, load = shunt({"R": given("Rs"), "r_z": given("rz")}, "S_V", "R_OUT")
    reference = given("Vref_pct")
    given.prints("LineReg", line / reference)
    given.prints("LoadReg", -load / reference)
    given.prints("dVo_line", line * (given("Vimax") - given("Vimin")) / reference)
    given.prints("dVo_load", -load * given("ILmax") / reference)


def test_bell_3_17_greatest_load_current(book):
    # David A. Bell, Electronic Devices and Circuits, 5th ed., Oxford 2008, example 3.17, p. 110; figures printed by a
    # published script that reruns the book's method; page not seen.
    # R lets the zener take its whole rating when the load is off.
    given = book("B-BEL-3.17")
    fixed = {"V_I": given("Es"), "V_Z": given("Vz")}
    resistor = shunt({**fixed, "I_L": 0.0, "P_Z": given("Pd")}, "R")
    given.prints("ILmax", shunt({**fixed, "R": resistor, "I_Z": given("Izmin")}, "I_L"))


def test_bell_3_18_line_and_load_regulation(book):
    # David A. Bell, Electronic Devices and Circuits, 5th ed., Oxford 2008, example 3.18, p. 112; figures printed by a
    # published script that reruns the book's method; page not seen.
    # The load stays across the zener for the line (a change of a tenth), the whole load current goes for the load.
    given = book("B-BEL-3.18")
    slope = {"R": given("R1"), "r_z": given("Zz")}
    load = shunt({"V_O": given("Vo"), "I_L": given("IL")}, "R_L")
    line = shunt({**slope, "R_L": load}, "S_V")
    given.prints("RR", line)
    given.prints("LineReg", line * 0.1 * given("Es") / given("Vo"))
    given.prints("LoadReg", shunt(slope, "R_OUT") * given("IL") / given("Vo"))


def test_bapat_2_7_output_resistance_and_resistor_power(book):
    # Y. N. Bapat, Electronics Circuits and Systems, edition not stated, example 2.7, p. 48; figures printed by a
    # published script that reruns the book's method; page not seen.
    # Printed 83.00 and 16.60: the script divided whole numbers, so the figures are held to the exact ones.
    given = book("B-BAP-2_7")
    slope = {"R": given("RD"), "r_z": given("Rz")}
    output = shunt(slope, "R_OUT")
    given.prints("Ro", output)
    given.prints("VR", output / given("RL"))
    assert float(given.row["published_text"]["Ro"]) == output // 1
    hottest = {**slope, "V_I": given("VImax"), "V_Z0": given("Vz"), "I_L": 0.0}
    resistor, zener, current = shunt(hottest, "P_R", "P_Z", "I_Z")
    given.prints("PRD", resistor)
    given.leave("PZ", "V_Z0*I_Z: the book leaves out what the zener's resistance takes")
    assert given("Vz") * current == pytest.approx(given.row["recomputed"]["PZ"][0], rel=1e-6)
    assert zener == pytest.approx(given.row["recomputed"]["PZ"][0] + current**2 * given("Rz"), rel=1e-6)
