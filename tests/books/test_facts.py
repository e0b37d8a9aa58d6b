"""Facts of the trade about supplies and regulators, each held in a test or listed with the reason why not.

`facts.json` holds each fact as its sources have it, sources beside it (data sheets, standards, books). A test takes one
with `fact("rectifier.PIV")`, here for raw supplies, shunt regulators and values, for series regulators and heat in
`test_facts_of_series.py`; those that no circuit speaks of stand in OUTSIDE.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Callable
from math import isfinite, sqrt
from pathlib import Path
from typing import Any

import pytest
import sympy

import tutor
from tutor.circuit.circuit import LoadModel
from tutor.generate.family import Pick
from tutor.laws.algebra import to_sympy
from tutor.laws.closed_form import closed_forms
from tutor.quantities.formula import read_expression
from tutor.quantities.preferred import Series, mantissas
from tutor.quantities.quantity import round_figures
from tutor.quantities.reading import read_quantity

HERE = Path(__file__).parent
FACTS: dict[str, dict[str, Any]] = {
    row["key"]: row for row in json.loads((HERE / "facts.json").read_text(encoding="utf-8"))
}

STEADY = "a regulator of three pins is steady here: nothing of line, load or ripple comes through it"
NO_RESERVOIR = "of a rectified wave without a reservoir: no circuit here has one"
OUTSIDE = {
    **dict.fromkeys(("adj3.line_reg", "adj3.load_reg", "adj3.ripple_rejection"), STEADY),
    "adj3.Iadj_change": "the adjust current is one number in every statement; its change with the load is in none",
    "reg723": "an integrated regulator put together from its own reference and amplifier: no such circuit here",
    **dict.fromkeys(
        (
            "rectifier.half-wave average", "rectifier.full-wave average", "rectifier.half-wave efficiency max",
            "rectifier.full-wave efficiency max", "rectifier.ripple factor no filter",
        ),
        NO_RESERVOIR,
    ),
    "shuntref.dVref_dVka": "the reference voltage is taken as steady; its creep with the output is in no statement",
    "rkm.tolerance": "a tolerance is written in per cent here; its letter after a resistor's code is not read",
}  # fmt: skip


# Lines that the public mains' limits do not bind.
BEYOND = {
    ("supply-line-change", 1): "long and overloaded lines, which the family is about",
    ("supply-line-change", 3): "the lowest line that a supply still bears is what is asked for",
}


@pytest.fixture
def fact() -> Callable[[str], Any]:
    """The value of a fact by its key."""
    return lambda key: FACTS[key]["value"]


def rows_of(catalogue: str) -> list[dict[str, Any]]:
    return [dict(row) for row in tutor.open_desk().parts[catalogue].rows]


def test_every_fact_is_held_or_stands_outside() -> None:
    """Held (taken by a test of these files) and outside, without overlap, are exactly the facts; each names sources."""
    held = []
    files = sorted(HERE.glob("test_facts*.py"))
    for test in [test for file in files for test in ast.parse(file.read_text(encoding="utf-8")).body]:
        if isinstance(test, ast.FunctionDef) and test.name.startswith("test_"):
            calls = [node for node in ast.walk(test) if isinstance(node, ast.Call)]
            named = [call.args[0] for call in calls if isinstance(call.func, ast.Name) and call.func.id == "fact"]
            held += [name.value for name in named if isinstance(name, ast.Constant)]
    assert len(held) == len(set(held)) and not set(held) & set(OUTSIDE)
    assert {*held, *OUTSIDE} == set(FACTS)
    assert all(row["sources"] for row in FACTS.values()) and all(len(why.split()) >= 4 for why in OUTSIDE.values())


def test_reverse_voltage(fact) -> None:
    """With a reservoir 2 V_m behind one diode, 2 V_half - V_D at a tap, V_m - V_D in a bridge, drops left out or in.

    Without a reservoir a single diode stands V_m: no circuit here is without.
    """
    assert fact("rectifier.PIV").startswith("half-wave no C: Vm; half-wave with C: 2Vm (minus drop); centre-tap: 2Vm")
    crest, drop = 10 * sqrt(2), 0.7
    for form, crests in (("half-wave", 2), ("centre-tap", 2), ("bridge", 1)):
        given = {"form": form, "V_SEC": 10.0, "V_F": drop}
        for assumed, taken in (("with", drop), ("without", 0.0)):
            found = tutor.solve("reservoir", given, ("PIV",), {"piv-drop": assumed}).value("PIV").value
            assert found == pytest.approx(crests * crest - taken), (form, assumed)


def test_ripple_and_mean(fact) -> None:
    """Linear discharge: I/(f C) or I/(2 f C) peak to peak; triangular r.m.s.; mean by both of the books' forms."""
    assert fact("rectifier.ripple pk-pk, linear discharge") == "half-wave I/(f*C); full-wave I/(2*f*C)"
    rms = fact("rectifier.ripple rms, triangular")
    assert rms == "full-wave Idc/(4*sqrt3*f*C); = 2.4*I[mA]/C[uF] at 60 Hz"
    assert fact("rectifier.mean output, full-wave") == "Vm - Idc/(4fC) or Vm/(1+1/(4fRC))"
    current, f, c = 0.1, 60.0, 1e-3
    for form, pulses in (("half-wave", 1), ("centre-tap", 2), ("bridge", 2)):
        given = {"form": form, "V_SEC": 12.0, "V_F": 0.0, "f": f, "C": c}
        found = tutor.solve("reservoir", {**given, "I_L": current})
        mean = found.value("V_DC").value
        assert found.value("V_RIP").value == pytest.approx(current / (pulses * f * c))
        assert mean == pytest.approx(12 * sqrt(2) - current / (2 * pulses * f * c))
        if pulses == 2:
            effective = found.value("RIPPLE_FACTOR").value * mean
            assert effective == pytest.approx(current / (4 * sqrt(3) * f * c))
            assert round(effective * 1000 / 100, 1) == 2.4  # 100 mA and 1000 uF
            loaded = tutor.solve("reservoir", {**given, "R_L": 120.0}, ("V_DC",), {"dc-value": "self-consistent"})
            assert loaded.value("V_DC").value == pytest.approx(12 * sqrt(2) / (1 + 1 / (4 * f * 120 * c)))


def test_load_regulation_by_each_reference(fact) -> None:
    """The change divided by the full-load, the no-load or the nominal voltage: three conventions."""
    formulas = {
        "full-load": fact("regulation.load_FL"),
        "no-load": fact("regulation.load_NL"),
        "nominal": fact("regulation.load_nominal"),
    }
    names = {"VNL": 12.6, "VFL": 12.0, "dVo": 0.6, "Vo_nominal": 12.5}
    for convention, formula in formulas.items():
        given = {"V_OC": 12.6, "V_I": 12.0} | ({"V_I_NOM": 12.5} if convention == "nominal" else {})
        found = tutor.solve("source", given, ("REG_LOAD",), {"load-regulation": convention})
        expected = sympy.sympify(formula, locals={name: sympy.Float(value) for name, value in names.items()})
        assert found.value("REG_LOAD").value == pytest.approx(float(expected)), convention


def test_line_regulation_per_volt(fact) -> None:
    """Change of output per volt of line (mV/V) and, over the output, %/V, from the same sensitivity of a zener."""
    books = fact("regulation.line")
    assert books.startswith("(dVo/Vo)/dVin in %/V") and "mV/V" in books
    volts = {}
    for line in (15.0, 16.0):
        answer = tutor.solve("zener-shunt", {"V_I": line, "R": 220.0, "V_Z0": 9.0, "r_z": 5.0, "I_L": 0.01})
        volts[line] = answer.value("V_O").value
        slope = answer.value("S_V").value
    assert volts[16.0] - volts[15.0] == pytest.approx(slope) and slope == pytest.approx(5 / 225)
    assert (volts[16.0] - volts[15.0]) / volts[15.0] == pytest.approx(slope / volts[15.0])


def test_lines_keep_to_the_mains(fact) -> None:
    """Lines about a nominal one stay within +10 % and -15 %, which EN 50160 allows at most, but for those in BEYOND."""
    low, high = fact("mains.EN50160")["band_all_pct"]
    seen = 0
    for family in tutor.families():
        if not tutor.open_desk().family(family).circuit.startswith(("reservoir", "rectifiers")):
            continue
        for level in {1, 2, 3} - {level for name, level in BEYOND if name == family}:
            for worked in tutor.open_desk().batch(tutor.open_desk().level(family, level), range(1, 21)):
                env = {name: float(value[0]) for name, value in worked.drawn.run.env.items()}
                for base in ("V_SEC", "V_PRI"):
                    nominal = env.get(f"{base}_NOM")
                    if nominal is None:
                        continue
                    # A winding without load stands above its rating besides; that is no matter of the line.
                    for end in ("MIN", "MAX") if base == "V_PRI" else ("MIN",):
                        if f"{base}_{end}" in env:
                            share = 100 * (env[f"{base}_{end}"] / nominal - 1)
                            assert low - 0.5 <= share <= high + 0.5, (worked.problem.name, base, end)
                            seen += 1
    assert seen >= 100


def test_shunt_references_are_as_their_sheets_say(fact) -> None:
    """Reference voltage, pin current, least and greatest cathode current and slope of the catalogue's types."""
    volts, pin, least = fact("shuntref.Vref"), fact("shuntref.Iref"), fact("shuntref.Imin")
    cathode, slope = fact("shuntref.Ika_range"), fact("shuntref.zka")
    rows = {row["type"]: row for row in rows_of("shunt-references")}
    for name, low, high in (("TL431", "min", "max"), ("TL431A", "A_min", "A_max")):
        row = rows[name]
        assert row["V_REF"] == pytest.approx(volts["typ"] / 1000)
        assert (row["V_REF_MIN"], row["V_REF_MAX"]) == pytest.approx((volts[low] / 1000, volts[high] / 1000))
        assert (row["I_REF"], row["I_REF_MAX"]) == pytest.approx((pin["typ"] / 1e6, pin["max"] / 1e6))
        assert least["typ"] / 1000 < row["I_K_MIN"] <= least["max"] / 1000 == pytest.approx(cathode["min"] / 1000)
        assert row["I_K_MAX"] == pytest.approx(cathode["max"] / 1000)
        assert row["r_K"] == pytest.approx(slope["typ"]) and row["r_K"] <= slope["max"]


def test_the_pin_current_adds_to_a_shunt_reference(fact) -> None:
    """By the current law the pin's current goes through R_1 too, so its term is added; some sheets print a minus."""
    right = fact("shuntref.equation")
    assert right == "Vka = Vref*(1+R1/R2) + Iref*R1"
    found = tutor.open_desk().circuit("reference-shunt")
    forms = closed_forms(found, found.regions[0], LoadModel.SINK)
    theirs = to_sympy(read_expression("V_REF*(1 + R_1/R_2) + I_REF*R_1"))
    assert sympy.cancel(forms["V_O"] - theirs) == 0


def test_junctions_drift_as_books_say(fact) -> None:
    """Ours is -2 mV/K; every value drawn lies in the range that books use."""
    books = fact("junction.drift")
    typical, (least, most) = books["typ"], books["range"]
    drawn = {
        value
        for level in tutor.open_desk().family("zener-temperature").levels
        for draw in level.draws
        if isinstance(draw, Pick) and draw.name == "k_BE"
        for value in draw.values
    }
    assert typical / 1000 in drawn
    assert drawn and all(most / 1000 <= value <= least / 1000 for value in drawn)


def test_zeners_of_the_catalogue_have_the_printed_coefficients(fact) -> None:
    """In the printed range of each type of the 1 W series, and changing sign within the window near 5 V in both."""
    printed, window = fact("zener.TC_1N47xxA"), fact("zener.TC_sign_change")["window"]
    rows = [row for row in rows_of("zeners") if isfinite(row["alpha_Z"])]  # an empty field is no number
    one_watt = [row for row in rows if row["type"].startswith("1N47")]
    assert {row["V_Z"] for row in one_watt} == {float(volts) for volts in printed}
    for row in one_watt:
        low, high = printed[f"{row['V_Z']:g}"]
        assert low / 100 <= row["alpha_Z"] <= high / 100, row["type"]
    for series in ("1N47", "BZX79"):
        mine = [row for row in rows if row["type"].startswith(series)]
        assert all(row["alpha_Z"] < 0 for row in mine if row["V_Z"] < window[0])
        assert all(row["alpha_Z"] > 0 for row in mine if row["V_Z"] > window[1])
        assert {row["alpha_Z"] > 0 for row in mine} == {True, False}


def test_zeners_of_the_catalogue_have_the_printed_ratings(fact) -> None:
    """One watt and half a watt; how a rating falls with temperature, `test_facts_of_series.py` holds."""
    whole, half = fact("zener.1N47xx_rating")["P_W"], fact("zener.half_watt")["P_W"]
    for series, rating in (("1N47", whole), ("BZX79", half)):
        assert {row["P_ZM"] for row in rows_of("zeners") if row["type"].startswith(series)} == {rating}


def test_preferred_values_are_the_standards(fact) -> None:
    assert list(mantissas(Series.E12)) == fact("eseries.E12")
    assert list(mantissas(Series.E24)) == fact("eseries.E24")
    assert list(mantissas(Series.E96)) == fact("eseries.E96")


def test_codes_of_resistors_and_capacitors_are_read(fact) -> None:
    """RKM codes as IEC 60062 has them: the letter stands for the point and tells the power.

    L, for milliohms, is not read: a resistor of milliohms is in none of these circuits, and L is the load's letter.
    """
    for code, ohms in fact("rkm").items():
        assert read_quantity(code, "ohm").value == pytest.approx(ohms), code
    letters = fact("rkm.letters")
    for letter, power in letters.items():
        if letter not in ("cap", "L"):
            assert read_quantity(f"4{letter}7", "ohm").value == pytest.approx(4.7 * power), letter
    for letter, power in letters["cap"].items():
        value = read_quantity(f"4{letter}7", "F").value
        assert value is not None and round_figures(value, 3) == pytest.approx(4.7 * power), letter
