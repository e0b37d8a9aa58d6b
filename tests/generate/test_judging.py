"""Answers judged: what is right, where a slip leads, and what each other answer is told."""

from __future__ import annotations

import pytest

from tutor.generate.judging import SENTENCES, Outcome, Saying, judge, own_power
from tutor.generate.problem import SlipValue, Waypoint, WaypointKind
from tutor.quantities.quantity import Quantity, write


def slip(ident: str, value: float) -> SlipValue:
    """A slip with words made from its id."""
    return SlipValue(ident, value, f"the slip {ident}", f"why {ident}", f"hint {ident}")


def value_at(value: float, unit: str, *slips: SlipValue, figures: int = 3) -> Waypoint:
    """A waypoint that asks for a value, right within 1 %."""
    low, high = sorted((value * 0.99, value * 1.01))
    answer = Quantity(value, unit, figures)
    return Waypoint("X", WaypointKind.VALUE, "a value", answer, low, high, (), (), "", slips)


def choice_of(unit: str, answer: float, *accepted: float, slips: tuple[SlipValue, ...] = ()) -> Waypoint:
    """A waypoint that asks for a choice."""
    quantity = Quantity(answer, unit, 12)
    return Waypoint("R", WaypointKind.CHOICE, "a choice", quantity, answer, answer, accepted, (), "", slips)


# Numbers of a zener resistor: (14 V − 9.1 V)/(30 mA + 5 mA) = 140 Ω; the knee left out gives 163.3 Ω.
R_MAX = value_at(140.0, "ohm", slip("no-knee", 163.333))
# The same estimated: right within a factor of two, and a slip is met as widely.
ABOUT = Waypoint(
    "R", WaypointKind.VALUE, "about", Quantity(140.0, "ohm"), 70.0, 280.0, (), (), "", (slip("milliamperes", 0.14),)
)
I_Z = value_at(0.0635, "A", slip("sum", 0.0735), slip("copied", 0.0737))
REGULATION = value_at(0.05, "%")
CHANGE = value_at(-0.30, "V", slip("a", 0.31))

VALUES = [
    (R_MAX, "140 Ω", Outcome.RIGHT, Saying.RIGHT, ""),
    (R_MAX, "R_MAX = 0.14 kΩ", Outcome.RIGHT, Saying.RIGHT, ""),
    (R_MAX, "141.3 ohm", Outcome.RIGHT, Saying.RIGHT, ""),
    (R_MAX, "1.4e2 Ω", Outcome.RIGHT, Saying.RIGHT, ""),
    (R_MAX, "163 Ω", Outcome.SLIP, Saying.SLIP, "no-knee"),
    (R_MAX, "163.9 Ω", Outcome.SLIP, Saying.SLIP, "no-knee"),
    (R_MAX, "160 Ω", Outcome.WRONG, Saying.TOO_LARGE, ""),
    (R_MAX, "146 Ω", Outcome.NEAR, Saying.NEAR, ""),
    (R_MAX, "133.5 Ω", Outcome.NEAR, Saying.NEAR, ""),
    (R_MAX, "120 Ω", Outcome.WRONG, Saying.TOO_SMALL, ""),
    (R_MAX, "14 Ω", Outcome.WRONG, Saying.POWER, ""),
    (R_MAX, "140 kΩ", Outcome.WRONG, Saying.POWER, ""),
    (R_MAX, "−140 Ω", Outcome.WRONG, Saying.SIGN, ""),
    (R_MAX, "70 Ω", Outcome.WRONG, Saying.FACTOR_TWO, ""),
    (R_MAX, "280 Ω", Outcome.WRONG, Saying.FACTOR_TWO, ""),
    (R_MAX, "7.14 mΩ", Outcome.WRONG, Saying.INVERSE, ""),
    (R_MAX, "-5 Ω", Outcome.WRONG, Saying.WRONG, ""),
    (ABOUT, "100 Ω", Outcome.RIGHT, Saying.RIGHT, ""),
    (ABOUT, "280 Ω", Outcome.RIGHT, Saying.RIGHT, ""),
    (ABOUT, "0.1 Ω", Outcome.SLIP, Saying.SLIP, "milliamperes"),
    (ABOUT, "200 mΩ", Outcome.SLIP, Saying.SLIP, "milliamperes"),
    (ABOUT, "500 mΩ", Outcome.WRONG, Saying.TOO_SMALL, ""),
    (ABOUT, "300 Ω", Outcome.WRONG, Saying.TOO_LARGE, ""),
    (I_Z, "64 mA", Outcome.RIGHT, Saying.RIGHT, ""),
    (I_Z, "65 mA", Outcome.NEAR, Saying.NEAR, ""),
    (I_Z, "73.6 mA", Outcome.SLIP, Saying.ONE_OF, "sum copied"),
    (I_Z, "73.2 mA", Outcome.SLIP, Saying.SLIP, "sum"),
    (I_Z, "63.5 A", Outcome.WRONG, Saying.POWER, ""),
    (REGULATION, "5 %", Outcome.RIGHT, Saying.RIGHT, ""),
    (REGULATION, "0.05", Outcome.RIGHT, Saying.RIGHT, ""),
    (CHANGE, "-0.3 V", Outcome.RIGHT, Saying.RIGHT, ""),
    (CHANGE, "0.31 V", Outcome.SLIP, Saying.SLIP, "a"),
    (CHANGE, "0.3 V", Outcome.WRONG, Saying.SIGN, ""),
    (value_at(9.06, "V"), "9.1 V", Outcome.RIGHT, Saying.RIGHT, ""),
    (value_at(9.2, "V", slip("b", 9.6)), "9.5 V", Outcome.NEAR, Saying.NEAR, ""),
    (value_at(0.0, "A"), "0", Outcome.RIGHT, Saying.RIGHT, ""),
    (value_at(0.0, "A"), "1 mA", Outcome.WRONG, Saying.WRONG, ""),
]


@pytest.mark.parametrize(("waypoint", "text", "outcome", "saying", "slips"), VALUES)
def test_values(waypoint: Waypoint, text: str, outcome: Outcome, saying: Saying, slips: str):
    """Outcome, words and slip of an answer; a band of 1 % (marking schemes take 1 % or half a last figure)."""
    verdict = judge(waypoint, text)
    names = "; ".join(one.name for one in waypoint.slips if one.id in slips.split())
    assert verdict.outcome is outcome
    assert verdict.slip == slips
    assert verdict.sentence.removesuffix(" Write its unit too.") == SENTENCES[saying].replace("{names}", names)
    single = bool(slips) and " " not in slips
    assert (verdict.why, verdict.hint) == ((f"why {slips}", f"hint {slips}") if single else ("", ""))


BARE = [
    (I_Z, "63.5", "Right. Write its unit too."),
    (I_Z, "0.0635", "Right. Write its unit too."),
    (I_Z, "63.5m", "Right. Write its unit too."),
    (I_Z, "63.5 mA", "Right."),
    (I_Z, "63500", SENTENCES[Saying.POWER]),
    (I_Z, "73.2", "This is where a known slip leads: the slip sum."),
    (value_at(4700.0, "ohm"), "4.7", "Right. Write its unit too."),
    (value_at(4700.0, "ohm"), "4700", "Right. Write its unit too."),
    (REGULATION, "5", "Right. Write its unit too."),
    (value_at(40.0, ""), "40", "Right."),
    (value_at(62.0, "dB"), "62", "Right. Write its unit too."),
    (value_at(0.0123, "V/V"), "12.3", "Right. Write its unit too."),
    (value_at(0.0123, "V/V"), "0.0123", "Right."),
]


@pytest.mark.parametrize(("waypoint", "text", "sentence"), BARE)
def test_bare_numbers_are_read_kindly(waypoint: Waypoint, text: str, sentence: str):
    """A bare number may be SI or in the unit the answer is printed in; the unit is asked for all the same."""
    assert judge(waypoint, text).sentence == sentence


UNREAD = [
    ("", Outcome.UNREAD, "Nothing is written here; write a number and its unit."),
    ("14/35m", Outcome.UNREAD,
     "Write the value itself; sums, products and ranges belong in your working (found '14/35m')."),
    ("140 V", Outcome.UNITS, "This is a voltage; a resistance in Ω was asked."),
    ("0,14 kΩ", Outcome.UNREAD,
     "Is the comma in '0,14' a decimal sign? Write a point for it, and no comma between thousands."),
    ("nan", Outcome.UNREAD, "'nan' is no number that a meter could show."),
]  # fmt: skip


@pytest.mark.parametrize(("text", "outcome", "sentence"), UNREAD)
def test_what_cannot_be_judged_is_told_why(text: str, outcome: Outcome, sentence: str):
    """Never right, never wrong: the reader's reason as a sentence."""
    verdict = judge(R_MAX, text)
    assert (verdict.outcome, verdict.sentence) == (outcome, sentence)


def test_a_decimal_comma_can_be_set():
    """With the comma as decimal sign the same text is right."""
    assert judge(R_MAX, "0,14 kΩ", decimal_comma=True).outcome is Outcome.RIGHT


# E24 values whose 5 % band lies between 77.5 Ω and 140 Ω.
R = choice_of("ohm", 130.0, 82.0, 91.0, 100.0, 110.0, 120.0, 130.0, slips=(slip("rounded-up", 150.0),))
RATING = choice_of("W", 1.0, 1.0, 2.0, 5.0)

CHOICES = [
    (R, "130 Ω", Outcome.RIGHT, Saying.FITS, ""),
    (R, "R = 100R", Outcome.RIGHT, Saying.FITS_OTHER, ""),
    (R, "0.12k", Outcome.RIGHT, Saying.FITS_OTHER, ""),
    (R, "150 Ω", Outcome.SLIP, Saying.SLIP, "rounded-up"),
    (R, "125 Ω", Outcome.WRONG, Saying.NOT_ON_SHELF, ""),
    (R, "75 Ω", Outcome.WRONG, Saying.DOES_NOT_FIT, ""),
    (R, "130 kΩ", Outcome.WRONG, Saying.CHOICE_POWER, ""),
    (R, "129.9 Ω", Outcome.WRONG, Saying.NOT_ON_SHELF, ""),
    (R, "1 V", Outcome.UNITS, None, ""),
    (RATING, "1 W", Outcome.RIGHT, Saying.FITS, ""),
    (RATING, "0.5 W", Outcome.WRONG, Saying.DOES_NOT_FIT, ""),
    (RATING, "1", Outcome.RIGHT, Saying.FITS, ""),
    (choice_of("W", 1.0), "1 W", Outcome.WRONG, Saying.DOES_NOT_FIT, ""),
]


@pytest.mark.parametrize(("waypoint", "text", "outcome", "saying", "slips"), CHOICES)
def test_choices(waypoint: Waypoint, text: str, outcome: Outcome, saying: Saying | None, slips: str):
    """Any value that meets the specification is right (marking schemes: range answers), and no other is."""
    verdict = judge(waypoint, text)
    assert (verdict.outcome, verdict.slip) == (outcome, slips)
    if saying is not None:
        names = "; ".join(one.name for one in waypoint.slips)
        assert verdict.sentence.removesuffix(" Write its unit too.") == SENTENCES[saying].replace("{names}", names)


STATE = Waypoint("state", WaypointKind.STATE, "the state", None, 0, 0, (), ("in breakdown", "off"), "off", ())


@pytest.mark.parametrize(
    ("text", "outcome"),
    [("off", Outcome.RIGHT), (" off ", Outcome.RIGHT), ("in breakdown", Outcome.WRONG), ("", Outcome.UNREAD)],
)
def test_states(text: str, outcome: Outcome):
    """One of the options; anything else is asked back with the options named."""
    verdict = judge(STATE, text)
    assert verdict.outcome is outcome
    assert outcome is not Outcome.UNREAD or verdict.sentence == "Choose one of: in breakdown; off."


@pytest.mark.parametrize("unit", ["V", "A", "ohm", "W", "F", "V/V", "%", "", "K/W", "Hz"])
def test_own_power_is_that_of_the_printed_number(unit: str):
    """The number printed is the value times ten to that power, over twelve decades and at the edges of prefixes."""
    for power in range(-9, 7):
        for figure in (1.0, 1.5, 3.33, 9.99, 9.994, 9.996):
            value = figure * 10.0**power
            printed = write(value, unit)
            if "×" in printed:
                continue
            number = float(printed.split(" ")[0])
            assert abs(number / (value * 10.0 ** own_power(value, unit)) - 1) < 0.01, printed


def test_every_saying_has_its_words():
    """No verdict without a sentence."""
    assert set(SENTENCES) == set(Saying)
    assert all(sentence.endswith(".") for sentence in SENTENCES.values())
