"""Catalogues of parts: read in SI, mistakes named by file, line and field; figures held against data sheets."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest

from tutor.errors import BadValue
from tutor.quantities.parts import Catalogue, read_catalogue
from tutor.quantities.preferred import Series, is_preferred

PARTS = Path(__file__).parents[2] / "problems" / "parts"


def catalogue(name: str) -> Catalogue:
    """A catalogue of the repository."""
    return read_catalogue(PARTS / f"{name}.csv")


# Type: V_Z (V), I_ZT (mA), greatest slope (Ω), I_ZK (mA), I_ZM (mA).
# Fairchild 1N4728A-1N4764A Rev. G2 (2005), page 2; I_ZM: Synsemi ZM4728A-ZM4764A (2005).
JEDEC = [
    ("1N4728A", 3.3, 76, 10, 1, 276),
    ("1N4733A", 5.1, 49, 7, 1, 178),
    ("1N4734A", 5.6, 45, 5, 1, 162),
    ("1N4735A", 6.2, 41, 2, 1, 146),
    ("1N4736A", 6.8, 37, 3.5, 1, 133),
    ("1N4737A", 7.5, 34, 4, 0.5, 121),
    ("1N4739A", 9.1, 28, 5, 0.5, 100),
    ("1N4740A", 10, 25, 7, 0.25, 91),
    ("1N4742A", 12, 21, 9, 0.25, 76),
    ("1N4745A", 16, 15.5, 16, 0.25, 57),
    ("1N4749A", 24, 10.5, 25, 0.25, 38),
    ("1N4752A", 33, 7.5, 45, 0.25, 27),
]


@pytest.mark.parametrize(("part", "volts", "test_ma", "slope", "knee_ma", "most_ma"), JEDEC)
def test_one_watt_zeners_are_those_of_the_register(part, volts, test_ma, slope, knee_ma, most_ma):
    """JEDEC types 1N4728A to 1N4752A against the printed table."""
    row = catalogue("zeners").row(part)
    assert (row["V_Z"], row["tol"], row["P_ZM"], row["r_z"]) == (volts, 0.05, 1.0, slope)
    for column, milli in (("I_ZT", test_ma), ("I_ZK", knee_ma), ("I_ZM", most_ma)):
        assert math.isclose(row[column], milli / 1000, rel_tol=1e-12)


# Type: V_Z (V), I_ZT (mA), greatest slope (Ω), temperature coefficient, least and greatest (%/K).
# Yongerjia BZX79C and Fairchild BZX79C3V3-C33.
HALF_WATT = [
    ("BZX79-C3V3", 3.3, 5, 95, -0.08, -0.05),
    ("BZX79-C5V1", 5.1, 5, 60, -0.02, 0.02),
    ("BZX79-C6V2", 6.2, 5, 10, 0.03, 0.06),
    ("BZX79-C9V1", 9.1, 5, 15, 0.03, 0.09),
    ("BZX79-C15", 15, 5, 30, 0.03, 0.11),
    ("BZX79-C33", 33, 2, 80, 0.04, 0.12),
]


@pytest.mark.parametrize(("part", "volts", "test_ma", "slope", "least", "greatest"), HALF_WATT)
def test_half_watt_zeners_are_those_of_the_data_sheet(part, volts, test_ma, slope, least, greatest):
    """The Pro Electron series, with the middle of the printed range of the temperature coefficient."""
    row = catalogue("zeners").row(part)
    assert (row["V_Z"], row["P_ZM"], row["r_z"]) == (volts, 0.5, slope)
    assert math.isclose(row["I_ZT"], test_ma / 1000, rel_tol=1e-12)
    assert math.isclose(row["alpha_Z"], (least + greatest) / 200, abs_tol=1e-12)


# Type: V_Z (V), I_ZT (mA), greatest slope (Ω). Yongerjia 1N5221B-1N5267B.
AT_TWENTY = [
    ("1N5226B", 3.3, 20, 28),
    ("1N5230B", 4.7, 20, 19),
    ("1N5231B", 5.1, 20, 17),
    ("1N5235B", 6.8, 20, 5),
    ("1N5240B", 10, 20, 17),
    ("1N5242B", 12, 20, 30),
    ("1N5245B", 15, 8.5, 16),
    ("1N5248B", 18, 7, 21),
]


@pytest.mark.parametrize(("part", "volts", "test_ma", "slope"), AT_TWENTY)
def test_half_watt_zeners_measured_at_20_mA_are_those_of_the_data_sheet(part, volts, test_ma, slope):
    """JEDEC types 1N5226B to 1N5248B: half a watt, 5 %, the knee at 0.25 mA for all of them."""
    row = catalogue("zeners_1n5200").row(part)
    assert (row["V_Z"], row["tol"], row["P_ZM"], row["r_z"]) == (volts, 0.05, 0.5, slope)
    assert math.isclose(row["I_ZT"], test_ma / 1000, rel_tol=1e-12)
    assert math.isclose(row["I_ZK"], 0.25e-3, rel_tol=1e-12)


def test_the_types_of_20_mA_run_on_from_type_to_type():
    """No number of the series left out, and the voltage higher from each to the next."""
    rows = catalogue("zeners_1n5200").rows
    assert [row["type"] for row in rows] == [f"1N{number}B" for number in range(5226, 5249)]
    assert all(below["V_Z"] < above["V_Z"] for below, above in pairwise(rows))


def test_the_drift_changes_sign_near_five_volts():
    """Below 4.7 V negative, above 5.6 V positive: Microsemi MicroNote 203 (transition near 5 V)."""
    for row in catalogue("zeners").rows:
        if not math.isnan(row["alpha_Z"]):
            assert row["alpha_Z"] < 0 or row["V_Z"] >= 4.7, row["type"]
            assert row["alpha_Z"] > 0 or row["V_Z"] <= 5.6, row["type"]


def test_zener_voltages_are_preferred_values():
    """Both series are graded to E24 (IEC 60063)."""
    zeners = catalogue("zeners").rows
    assert len(zeners) == 50
    assert all(is_preferred(row["V_Z"], Series.E24) for row in zeners)


def test_no_zener_is_rated_beyond_its_power():
    """I_ZM V_Z stays within the rating, with the tolerance on top (a check of the copied figures)."""
    for row in catalogue("zeners").rows:
        if not math.isnan(row["I_ZM"]):
            assert 0.85 * row["P_ZM"] <= row["I_ZM"] * row["V_Z"] <= row["P_ZM"] * (1 + row["tol"])


def test_capacitors_are_e6_values():
    """Reservoir values follow E6 (IEC 60063:2015); every value at every rated voltage."""
    rows = catalogue("capacitors").rows
    assert {row["C"] for row in rows} == {470e-6, 680e-6, 1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01}
    assert all(is_preferred(row["C"], Series.E6) for row in rows)
    assert len(rows) == 9 * 5


# National/TI LM317A/LM317 electrical characteristics; Fairchild LM78XX Rev. 1.3.1; TI SLVS543M; SGS-Thomson 2N3055.
FIGURES = [
    ("adjustable-regulators", "LM317", "V_REF", 1.25),
    ("adjustable-regulators", "LM317", "I_ADJ_MAX", 100e-6),
    ("adjustable-regulators", "LM317", "I_L_MIN", 0.01),
    ("three-terminal", "7805", "V_REG", 5.0),
    ("three-terminal", "7805", "I_Q", 0.005),
    ("three-terminal", "7805", "RR", 73.0),
    ("shunt-references", "TL431", "V_REF", 2.495),
    ("shunt-references", "TL431", "I_REF", 2e-6),
    ("shunt-references", "TL431", "I_K_MIN", 1e-3),
    ("pass-transistors", "2N3055", "R_thJC", 1.5),
    ("pass-transistors", "2N3904", "R_thJA", 200.0),
]


@pytest.mark.parametrize(("name", "part", "column", "value"), FIGURES)
def test_other_parts_against_their_data_sheets(name, part, column, value):
    """A figure each, from the sheet named above the table."""
    assert catalogue(name.replace("-", "_")).row(part)[column] == value


def test_heat_follows_from_rating_and_thermal_resistance():
    """(T_JM − 25 °C)/R_th is the rated dissipation within a fifth (common practice).

    Rated at a case of 25 °C; the small TO-92 in free air.
    """
    for row in catalogue("pass_transistors").rows:
        reach = row["R_thJA"] if row["case"] == "TO-92" else row["R_thJC"]
        assert 0.8 <= (row["T_JM"] - 25) / reach / row["P_QM"] <= 1.25, row["type"]


def test_every_file_is_read():
    """Every catalogue of the folder reads, names its source and has rows."""
    for file in PARTS.glob("*.csv"):
        found = read_catalogue(file)
        assert "Source:" in found.source
        assert found.rows and found.columns[0] == "type"
        assert found.name == file.stem.replace("_", "-")


HEAD = "# Source: test\n"
MISTAKES = [
    ("type,V_Z\ntext,V\na,1\n", "x.csv: a line '# Source: ...' must say where the figures come from"),
    (HEAD + "type,V_Z\ntext,V\n", "x.csv: needs a line of column names, a line of units and at least one part"),
    (HEAD + "type,V_Z\ntext,V\na,many\n", "x.csv, line 4, V_Z: must be a number (got 'many')"),
    (HEAD + "type,V_Z\ntext,V\na,nan\n", "x.csv, line 4, V_Z: must be a number (got 'nan')"),
    (HEAD + "type,V_Z\ntext,mAmp\na,1\n", "x.csv, line 3, V_Z: there is no unit 'mAmp'; did you mean 'mA'?"),
    (HEAD + "type,V_Z\ntext,V\na,1,2\n", "x.csv, line 4: expected 2 fields, type, V_Z (got 3)"),
    (HEAD + "type,V_Z\ntext,V\n,1\n", "x.csv, line 4, type: must not be empty"),
    (HEAD + "type,V_Z\ntext,V\na,1\na,2\n", "x.csv, line 5, type: 'a' already stands on line 4"),
    (HEAD + "type,type\ntext,V\na,1\n", "x.csv, line 2: each column needs a name of its own (got 'type')"),
]


@pytest.mark.parametrize(("text", "sentence"), MISTAKES)
def test_a_mistake_is_named_by_file_line_and_field(tmp_path: Path, text: str, sentence: str):
    """One sentence: where, what, and what would be right."""
    file = tmp_path / "x.csv"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadValue) as caught:
        read_catalogue(file)
    assert caught.value.sentence == sentence


def test_numbers_move_into_si_and_gaps_read_as_nan(tmp_path: Path):
    """76 mA is the float nearest 0.076; 5 % is a fraction; an empty field is nan, which no bound admits."""
    file = tmp_path / "x.csv"
    file.write_text(HEAD + "type,I,tol,K\ntext,mA,%,1\na,76,5,\n", encoding="utf-8")
    row = read_catalogue(file).rows[0]
    assert (row["I"], row["tol"]) == (0.076, 0.05)
    assert math.isnan(row["K"]) and not 0 <= row["K"] <= 1


def test_a_part_that_is_not_there():
    """The nearest one is named."""
    with pytest.raises(BadValue, match="has no part '1N4733'; did you mean '1N4733A'"):
        catalogue("zeners").row("1N4733")
