"""Facts of the trade about series regulators and heat; those that no circuit here speaks of stand in `test_facts.py`.

Sources stand with each fact in `facts.json`: data sheets of the makers named there, and books.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

import tutor
from tests.books.test_facts import FACTS, rows_of
from tutor.generate.family import Pick

MILLI, MICRO = 1e-3, 1e-6


@pytest.fixture
def fact() -> Callable[[str], Any]:
    """The value of a fact by its key."""
    return lambda key: FACTS[key]["value"]


def values_of(families: tuple[str, ...], keys: tuple[str, ...]) -> Iterator[float]:
    """Every value that the families draw for these keys."""
    desk = tutor.open_desk()
    for family in families:
        for level in desk.family(family).levels:
            for draw in level.draws:
                if isinstance(draw, Pick) and draw.name in keys:
                    yield from draw.values


def test_an_adjustable_regulator_of_the_catalogue_is_that_of_its_data_sheet(fact) -> None:
    """Reference, adjust current and least load; families take a reference and an adjust current within those."""
    reference, adjust = fact("adj3.Vref"), fact("adj3.Iadj")
    (row,) = [row for row in rows_of("adjustable-regulators") if row["type"] == "LM317"]
    ends = {"V_REF_MIN": "min", "V_REF": "typ", "V_REF_MAX": "max"}
    assert {name: row[name] for name in ends} == {name: reference[end] for name, end in ends.items()}
    assert (row["I_ADJ"], row["I_ADJ_MAX"]) == pytest.approx((adjust["typ"] * MICRO, adjust["max"] * MICRO))
    assert row["I_L_MIN"] == pytest.approx(fact("adj3.min_load")["max"] * MILLI)
    adjustable = ("three-terminal", "constant-current")
    assert all(reference["min"] <= volts <= reference["max"] for volts in values_of(adjustable, ("V_REF",)))
    drawn = list(values_of(adjustable, ("I_ADJ",)))
    assert drawn and all(0 <= current <= adjust["max"] * MICRO * (1 + 1e-9) for current in drawn)


def test_no_regulator_has_more_across_it_than_it_stands(fact) -> None:
    """40 V between input and output of the adjustable one; families of three pins keep below it, shorted or not."""
    most = fact("adj3.Vdiff_max")
    assert {row["V_DROP_MAX"] for row in rows_of("adjustable-regulators")} == {float(most)}
    for family in ("three-terminal", "three-terminal-boost", "constant-current"):
        for level in (1, 2, 3):
            for number in range(1, 21):
                given = tutor.problem(f"{family}:{level}:{number}").problem.given
                lines = [quantity.value for key, quantity in given.items() if key.startswith("V_I")]
                assert all(line <= most for line in lines), f"{family}:{level}:{number}"


def test_a_resistor_between_output_and_adjust_pin_sets_a_current(fact) -> None:
    """I = V_REF/R, the adjust current left out."""
    assert fact("adj3.sense_note") == "programme resistor between output and adjust; current source I = Vref/R"
    found = tutor.solve(
        "three-terminal", {"form": "current-source", "V_REF": 1.25, "I_ADJ": 0.0, "R": 10.0}, ("I_L",)
    )
    assert found.value("I_L").value == pytest.approx(1.25 / 10)


def test_a_fixed_regulator_of_the_catalogue_is_that_of_its_data_sheet(fact) -> None:
    """Output with its tolerance, quiescent current, drop-out, ripple rejection. Its drift, its limit and its output
    resistance are in no circuit: the regulator of three pins is ideal between its corners here."""
    sheet = fact("fixed3.7805")
    (row,) = [row for row in rows_of("three-terminal") if row["type"] == "7805"]
    low, high = row["V_REG"] * (1 - row["tol"]), row["V_REG"] * (1 + row["tol"])
    assert (low, row["V_REG"], high) == pytest.approx(tuple(sheet[name] for name in ("Vo_min", "Vo_typ", "Vo_max")))
    assert row["I_Q"] == pytest.approx(sheet["IQ_typ_mA"] * MILLI) and row["V_DROP"] == sheet["dropout_V_at_1A"]
    assert row["RR"] == sheet["RR_typ_dB"]
    drawn = list(values_of(("output-accuracy",), ("I_Q_MAX",)))
    assert drawn and all(current <= sheet["IQ_max_mA"] * MILLI * (1 + 1e-9) for current in drawn)


def test_a_foldback_limit_has_the_knee_and_the_short_of_the_data_sheet(fact) -> None:
    """Vs is the limiter's junction, R3 the upper and R4 the lower resistor of its divider, Rsc the sense resistor."""
    short, knee = fact("reg723.foldback").split(" ; ")
    assert short == "Isc = (Vs/Rsc)*(R3+R4)/R4" and knee == "Iknee = Vo*R3/(Rsc*R4) + Vs*(R3+R4)/(Rsc*R4)"
    given = {"V_BE_2": 0.65, "R_SENSE": 0.68, "R_A": 120.0, "R_B": 1000.0}
    for output in (5.0, 9.0, 12.0):
        found = tutor.solve("foldback", {**given, "V_KNEE": output}, ("I_SC", "I_KNEE"))
        expected = 0.65 / 0.68 * 1120 / 1000
        assert found.value("I_SC").value == pytest.approx(expected)
        assert found.value("I_KNEE").value == pytest.approx(output * 120 / (0.68 * 1000) + expected)


def test_thermal_resistances_of_the_catalogue_are_those_of_the_cases(fact) -> None:
    """TO-220 regulators, TO-92 and TO-3 transistors, and what lies between a case and its heat-sink."""
    case = fact("theta.TO220")
    for row in (*rows_of("adjustable-regulators"), *rows_of("three-terminal")):
        assert row["R_thJC"] in case["JC"] and row["R_thJA"] in case["JA"], row["type"]
    by_type = {row["type"]: row for row in rows_of("pass-transistors")}
    small = fact("theta.TO92")
    assert (by_type["2N3904"]["R_thJC"], by_type["2N3904"]["R_thJA"]) == (small["JC"], small["JA"])
    assert by_type["2N3055"]["R_thJC"] in fact("theta.TO3")["2N3055_JC"]
    joints = {*values_of(("pass-heat", "heat-sink"), ("R_thCS",))}
    printed = fact("theta.interface_examples")["values"]
    assert len(joints & {*printed}) >= 3 and max(joints) <= max(printed)


def test_a_rated_zener_in_warm_air_reaches_its_hottest_junction() -> None:
    """One watt at 50 °C and 6.67 mW less for each kelvin above it: 150 K/W to a junction of 200 °C."""
    sheet, half = FACTS["zener.1N47xx_rating"]["value"], FACTS["zener.half_watt"]["value"]
    slope = 1000 / sheet["derate_mW_per_C"]
    given = {"form": "free-air", "P_D": sheet["P_W"], "R_thJA": slope, "T_A": float(sheet["derate_above_C"])}
    assert tutor.solve("heat-path", given, ("T_J",)).value("T_J").value == pytest.approx(200, abs=0.1)
    assert min(sheet["RthJA_C_per_W"]) <= slope <= max(sheet["RthJA_C_per_W"]) < min(half["RthJA_K_per_W"])
