"""How values are written: prefix, figures, signs and the space before the unit."""

from __future__ import annotations

import math

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from tutor.errors import BadValue, UnknownName
from tutor.quantities.quantity import Quantity, given, round_figures, write
from tutor.quantities.units import prefixes, units

# Space before the unit, one prefix, upright Ω and °C: SI Brochure (9th edition, 2019), 5.4.3. Three figures, four when
# the first digit is 1, and the choice of prefix: common practice, no source.
WRITTEN = [
    (4.9, "V", "4.9 V"),
    (12.0, "V", "12 V"),
    (0.7, "V", "0.7 V"),
    (0.35, "V", "0.35 V"),
    (0.035, "V", "35 mV"),
    (0.09996, "V", "0.1000 V"),
    (0.609, "W", "609 mW"),
    (2.492, "W", "2.49 W"),
    (0.0005, "A", "500 µA"),
    (0.0059012, "A", "5.90 mA"),
    (0.1099, "A", "109.9 mA"),
    (0.9996, "A", "1.000 A"),
    (0.9994, "A", "999 mA"),
    (140.0, "ohm", "140 Ω"),
    (140.00000000000003, "ohm", "140 Ω"),
    (136.5, "ohm", "136.5 Ω"),
    (4700.0, "ohm", "4.7 kΩ"),
    (2.2e6, "ohm", "2.2 MΩ"),
    (0.47, "ohm", "0.47 Ω"),
    (0.012, "ohm", "12 mΩ"),
    (999.95, "ohm", "1.000 kΩ"),
    (4.7e-3, "F", "4700 µF"),
    (6.9444e-3, "F", "6944 µF"),  # no larger prefix: to the whole microfarad, in more figures than three
    (999.96, "", "1000"),
    (12345.6, "", "12346"),
    (0.0102, "%", "1.02 %"),
    (0.05, "%", "5 %"),
    (0.0006, "%/K", "0.06 %/K"),
    (-0.002, "V/K", "−2 mV/K"),
    (0.0123, "V/V", "12.3 mV/V"),
    (25.0, "degC", "25 °C"),
    (78.44, "degC", "78.4 °C"),
    (3.72, "K/W", "3.72 K/W"),
    (62.34, "dB", "62.3 dB"),
    (40.0, "", "40"),
    (0.0012, "", "0.0012"),
    (1234567.0, "", "1.235 × 10⁶"),
    (0.000012, "", "1.2 × 10⁻⁵"),
    (0.0, "V", "0 V"),
    (-0.0, "A", "0 A"),
    (0.125, "J", "0.125 J"),
]


@pytest.mark.parametrize(("value", "unit", "text"), WRITTEN)
def test_a_value_is_written(value: float, unit: str, text: str):
    """Value and unit code to text, at the default of three figures."""
    assert write(value, unit) == text
    assert str(Quantity(value, unit)) == text


def test_a_given_prints_as_typed():
    """Data of a problem are exact and are never shown rounded."""
    assert given(23.45, "V").text == "23.45 V"
    assert given(1234.5, "ohm").text == "1.2345 kΩ"


def test_json_of_a_quantity():
    """SI number and code; a per cent value is a fraction without a unit."""
    assert Quantity(0.05, "%").to_json() == {"value": 0.05, "unit": "", "text": "5 %"}
    assert Quantity(140.0, "ohm").to_json() == {"value": 140.0, "unit": "ohm", "text": "140 Ω"}
    assert Quantity(0.0006, "%/K").to_json()["unit"] == "1/K"


def test_what_cannot_be_written():
    """No nan, no infinity, no unknown unit."""
    for value in (math.nan, math.inf, -math.inf):
        with pytest.raises(BadValue):
            write(value, "V")
    with pytest.raises(UnknownName, match="did you mean 'ohm'"):
        write(1.0, "ohms")


@pytest.mark.parametrize(
    ("value", "figures", "rounded"), [(0.0059012, 3, 0.0059), (2.345, 3, 2.35), (999.6, 3, 1000.0), (-1.25, 2, -1.3)]
)
def test_rounding_goes_half_up(value: float, figures: int, rounded: float):
    """Half goes away from zero, judged on the decimal digits and not on binary noise."""
    assert round_figures(value, figures) == rounded


@for_all(
    st.floats(1e-9, 1e8, allow_nan=False), st.sampled_from(sorted(units())), st.sampled_from([1, -1]), st.integers(2, 6)
)
def test_written_numbers_read_back(size: float, unit: str, sign: int, figures: int):
    """The number printed, times its prefix, is the value within half a unit of its last figure; one space, one unit."""
    text = write(sign * size, unit, figures)
    row = units()[unit]
    number, _, rest = text.partition(" × 10")
    power = 0
    if rest:
        digits, _, tail = rest.partition(" ")
        power = int(digits.translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")))
        text = f"{number} {tail}".rstrip()
    number, _, printed = text.partition(" ")
    assert printed.endswith(row.printed)
    prefix = printed[: len(printed) - len(row.printed)]
    read = float(number.replace("−", "-")) * 10.0 ** (power + prefixes()[prefix].power - row.shown_power)
    assert math.isclose(read, sign * size, rel_tol=0.51 * 10.0 ** (1 - figures))
