"""Quantities as learners type them: every spelling that is meant is read, and what is not meant is asked back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.errors import UnknownName
from tutor.quantities.misread import MISREADINGS, MOST_CHARACTERS, Fault, tokens
from tutor.quantities.quantity import write
from tutor.quantities.reading import Reading, read_quantity
from tutor.quantities.units import units

READ = [
    ("5 mA", "A", 0.005, 1, True),
    ("5mA", "A", 0.005, 1, True),
    ("5m", "A", 0.005, 1, False),
    ("0.27k", "ohm", 270.0, 2, False),
    ("276 k", "ohm", 276e3, 3, False),
    ("12.5", "V", 12.5, 3, False),
    (".5 V", "V", 0.5, 1, True),
    ("5. V", "V", 5.0, 1, True),
    ("5.10 V", "V", 5.1, 3, True),
    ("0.0050", "A", 0.005, 2, False),
    ("1 000 Ω", "ohm", 1000.0, 4, True),
    ("1\u202f000\u202f000", "ohm", 1e6, 7, False),
    ("0.123 456", "V", 0.123456, 6, False),
    ("−2 mV/K", "V/K", -0.002, 1, True),
    ("-2 mV/°C", "V/K", -0.002, 1, True),
    ("+3 V", "V", 3.0, 1, True),
    ("- 3 V", "V", -3.0, 1, True),
    ("140 \u2126", "ohm", 140.0, 3, True),
    ("140 \u03a9", "ohm", 140.0, 3, True),
    ("140 ohm", "ohm", 140.0, 3, True),
    ("140 Ohms", "ohm", 140.0, 3, True),
    ("470 \u00b5F", "F", 470e-6, 3, True),
    ("470 \u03bcF", "F", 470e-6, 3, True),
    ("470uF", "F", 470e-6, 3, True),
    ("470 uf", "F", 470e-6, 3, True),
    ("5 volts", "V", 5.0, 1, True),
    ("1.2 kilo ohms", "ohm", 1200.0, 2, True),
    ("2 megohm", "ohm", 2e6, 1, True),
    ("47K", "ohm", 47e3, 2, False),
    ("60 K", "K", 60.0, 2, True),
    ("60 °C", "K", 60.0, 2, True),
    ("85 °C", "degC", 85.0, 2, True),
    ("85°", "degC", 85.0, 2, True),
    ("85 C", "degC", 85.0, 2, True),
    ("3.7 K/W", "K/W", 3.7, 2, True),
    ("3.7 °C/W", "K/W", 3.7, 2, True),
    ("12 mV/V", "V/V", 0.012, 2, True),
    ("5 mV/mA", "ohm", 5.0, 1, True),
    ("5 %", "%", 0.05, 1, True),
    ("5 %", "", 0.05, 1, True),
    ("0.05", "%", 0.05, 1, False),
    ("0.06 %/K", "%/K", 0.0006, 1, True),
    ("0.002 1/K", "1/K", 0.002, 1, True),
    ("2 1/K", "1/K", 2.0, 1, True),
    ("0.002 /K", "1/K", 0.002, 1, True),
    ("62 dB", "dB", 62.0, 2, True),
    ("62", "dB", 62.0, 2, False),
    ("40", "", 40.0, 2, False),
    ("20 VA", "VA", 20.0, 2, True),
    ("20 W", "VA", 20.0, 2, True),
    ("2.5e-3", "A", 0.0025, 2, False),
    ("2.5E−3 A", "A", 0.0025, 2, True),
    ("5 × 10^-3 A", "A", 0.005, 1, True),
    ("5×10⁻³ A", "A", 0.005, 1, True),
    ("5 x 10^(-3) A", "A", 0.005, 1, True),
    ("5*10**-3", "A", 0.005, 1, False),
    ("10^-3 A", "A", 0.001, 1, True),
    ("10⁻³", "A", 0.001, 1, False),
    ("10³ Ω", "ohm", 1000.0, 1, True),
    ("= 5 mA", "A", 0.005, 1, True),
    ("≈ 5 mA", "A", 0.005, 1, True),
    ("~5 mA", "A", 0.005, 1, True),
    ("I_Z = 5 mA", "A", 0.005, 1, True),
    ("I_Z(max) := 5 mA.", "A", 0.005, 1, True),
    ("ΔV_O=-3 mV", "V", -0.003, 1, True),
    ("0", "A", 0.0, 1, False),
    ("-0.00 A", "A", 0.0, 1, True),
    ("5 m A", "A", 0.005, 1, True),
    ("3 S", "S", 3.0, 1, True),
    ("100 Hz", "Hz", 100.0, 3, True),
]


@pytest.mark.parametrize(("text", "unit", "value", "figures", "unit_given"), READ)
def test_what_is_meant_is_read(text: str, unit: str, value: float, figures: int, unit_given: bool):
    """Value in SI to the last bit, figures as typed, and whether a unit was written."""
    reading = read_quantity(text, unit)
    assert reading.reason == ""
    assert (reading.value, reading.figures, reading.unit_given) == (value, figures, unit_given)
    assert math.copysign(1, reading.value) == math.copysign(1, value)


# IEC 60062:2016 with amendment 1:2019: resistance codes R47 to 4M7, the letter in the place of the decimal sign.
CODES = [("R47", 0.47), ("4R7", 4.7), ("470R", 470), ("4K7", 4700), ("47K", 47000), ("47K3", 47300), ("470K", 470000)]
CODES += [("4M7", 4.7e6)]


@pytest.mark.parametrize(("code", "ohms"), CODES)
def test_resistance_codes_of_the_standard(code: str, ohms: float):
    """The letter is decimal sign and multiplier at once."""
    assert read_quantity(code, "ohm").value == ohms


# IEC 60062 for capacitance (p, n, µ); the zener's 5V6 is the Pro Electron way of writing a voltage.
OTHER_CODES = [
    ("2k7", "ohm", 2700.0),
    ("0R22", "ohm", 0.22),
    ("2k7 Ω", "ohm", 2700.0),
    ("4k70", "ohm", 4700.0),
    ("M47", "ohm", 470e3),
    ("5V6", "V", 5.6),
    ("4n7", "F", 4.7e-9),
    ("n47", "F", 0.47e-9),
    ("4µ7F", "F", 4.7e-6),
    ("4u7", "F", 4.7e-6),
    ("1A5", "A", 1.5),
]


@pytest.mark.parametrize(("code", "unit", "value"), OTHER_CODES)
def test_other_codes(code: str, unit: str, value: float):
    """The same for lower-case kilo, capacitances and zener voltages."""
    assert read_quantity(code, unit).value == value


@pytest.mark.parametrize(
    ("fault", "text", "unit"), [(row.fault, text, unit) for row in MISREADINGS for text, unit in row.examples]
)
def test_each_misreading_is_told_as_what_it_is(fault: Fault, text: str, unit: str):
    """Every example of the table gets its own sentence, filled in, with columns inside the text."""
    reading = read_quantity(text, unit)
    assert reading.value is None
    assert reading.fault is fault
    assert reading.reason and "{" not in reading.reason.replace("{found}", "{")
    assert reading.columns is not None
    first, past = reading.columns
    assert 1 <= first <= past <= len(text) + 1


def test_every_fault_has_its_row():
    """A fault without sentence and examples could not be told."""
    assert [row.fault for row in MISREADINGS] == list(Fault)
    assert all(row.examples for row in MISREADINGS)


SENTENCES = [
    ("5 V", "A", "this is a voltage; a current in A was asked", (3, 4)),
    ("5 mA", "ohm", "this is a current; a resistance in Ω was asked", (3, 5)),
    ("5 mA", "", "this is a current; a pure number was asked", (3, 5)),
    ("350 K", "degC", "this is in kelvins; a temperature in °C was asked", (5, 6)),
    ("I = 5,1 A", "A",
     "is the comma in '5,1' a decimal sign? Write a point for it, and no comma between thousands", (5, 8)),
    ("5 mAxe", "A", "'mAxe' is no unit that is known here; a current in A was asked", (3, 7)),
    ("< 5", "A", "write a value here, without '<'", (1, 2)),
    ("5 W/s", "V", "this is a quantity in W/s; a voltage in V was asked", (3, 6)),
    ("𝟝 five", "V", "there is no number in '𝟝 five'", (1, 7)),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit", "sentence", "columns"), SENTENCES)
def test_sentences_and_columns(text: str, unit: str, sentence: str, columns: tuple[int, int]):
    """The words a learner sees, and the place in code points of the text as typed."""
    reading = read_quantity(text, unit)
    assert (reading.reason, reading.columns) == (sentence, columns)


COMMAS = [("5,1 V", 5.1), ("1 234,5", 1234.5), (",5 V", 0.5), ("1.5", 1.5), ("1,234.5", None), ("1.234,5", None)]


@pytest.mark.parametrize(("text", "value"), COMMAS)
def test_a_decimal_comma_where_it_is_wanted(text: str, value: float | None):
    """Read when set, both signs in one number still asked back."""
    assert read_quantity(text, "V", decimal_comma=True).value == value
    assert value == 1.5 or read_quantity(text, "V").value is None


def test_an_unknown_unit_is_the_authors_error():
    """The unit asked for comes from an author; the learner's text never raises."""
    with pytest.raises(UnknownName):
        read_quantity("5", "bogus")


PIECES = st.sampled_from(
    [*"0123456789.,-+eE×x^*()=≈<> ", "10", "µ", "Ω", "⁻³", "\u202f", "R", "k", "V", "nan", "inf", *sorted(tokens())]
)
NONSENSE = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=90), st.lists(PIECES, max_size=9).map("".join)
)


@settings(max_examples=1500, deadline=None)
@given(NONSENSE, st.sampled_from(sorted(units())), st.booleans())
def test_nothing_raises_and_everything_is_told(text: str, unit: str, comma: bool):
    """Either a finite value or a reason with columns, never both; long text never gets as far as a number."""
    reading = read_quantity(text, unit, decimal_comma=comma)
    if reading.value is None:
        assert reading.reason and reading.columns is not None and reading.fault is not None
    else:
        assert math.isfinite(reading.value) and reading.step > 0 and not reading.reason
        assert len(text) <= MOST_CHARACTERS


@settings(max_examples=600)
@given(st.floats(1e-9, 1e7), st.sampled_from(sorted(units())), st.sampled_from([1, -1]))
def test_what_we_write_we_read(size: float, unit: str, sign: int):
    """Every quantity as printed is read back to its printed value."""
    text = write(sign * size, unit)
    reading = read_quantity(text, unit)
    assert reading.value is not None, (text, reading.reason)
    assert math.isclose(reading.value, sign * size, rel_tol=0.006)
    assert reading.unit_given == (unit != "")


def test_a_reading_is_a_value():
    """Two readings of the same text are equal."""
    assert read_quantity("5 mA", "A") == Reading(0.005, 1, True, "", None, None, 0.001, False)
    assert read_quantity("5", "A").bare and not read_quantity("5m", "A").bare
