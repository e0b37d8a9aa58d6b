"""Reads one quantity as a learner types it: 5 mA, 0.27k, 2k7, 1 000 Ω, 5.1e-3, I_Z = 18 mA.

Vocabulary: the *rest* is what follows the number, that is prefix and unit; *columns* are [first, past), counted from 1
in code points of the text as typed; the *step* is what one unit of the last figure is worth.
Place in the data flow: a learner's text -> Reading -> judging. Nothing is evaluated and nothing is raised: text that is
no quantity is a reading without a value. `site/assets/quantity.js` does the same in the browser.
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.quantities.misread import (
    ALIKE,
    BOUNDS,
    LEADING_LETTERS,
    LETTERS,
    MOST_CHARACTERS,
    MOST_DIGITS,
    MOST_POWER,
    OPERATORS,
    SUPERSCRIPTS,
    Fault,
    UnitToken,
    asked_for,
    kinds,
    prefix_powers,
    sentences,
    tokens,
)
from tutor.quantities.units import unit_for, units

DIGITS = "0123456789"
NOT_FINITE = ("nan", "inf", "infinity")
_KELVIN = (0, 0, 0, 1)


@dataclass(frozen=True)
class Reading:
    """What was read: `value` in SI of the unit asked for, or None with the reason, the columns and the fault.

    `bare` is a number without unit or prefix, which may stand for more than its SI value.
    """

    value: float | None
    figures: int
    unit_given: bool
    reason: str
    columns: tuple[int, int] | None
    fault: Fault | None = None
    step: float = 0.0
    bare: bool = False


@dataclass(frozen=True)
class _Number:
    """Digits without their point, the power of ten of the last one, the unit a letter implied, and where it ends."""

    digits: str
    power: int
    end: int
    letter: str = ""


class _Misread(Exception):
    """Leaves the reader from any depth; never leaves this module."""

    def __init__(self, fault: Fault, first: int, past: int, got: str = "") -> None:
        super().__init__(fault.value)
        self.fault, self.first, self.past, self.got = fault, first, past, got


def read_quantity(text: str, unit: str, *, decimal_comma: bool = False) -> Reading:
    """One quantity of the unit code `unit`; UnknownName when there is no such unit, and no other error.

    A decimal comma is read where `decimal_comma` says so and asked back elsewhere.

    >>> read_quantity("2k7", "ohm").value, read_quantity("I_Z = 18 mA", "A").value
    (2700.0, 0.018)
    >>> read_quantity("5 V", "A").reason
    'this is a voltage; a current in A was asked'
    """
    unit_for(unit)
    try:
        return _read(text, unit, decimal_comma)
    except _Misread as misread:
        first, past = misread.first, misread.past
        reason = sentences()[misread.fault]
        for slot, words in (("got", misread.got), ("asked", asked_for(unit)), ("found", text[first:past])):
            reason = reason.replace("{" + slot + "}", words)
        return Reading(None, 0, False, reason, (first + 1, past + 1), misread.fault)


def _read(text: str, unit: str, decimal_comma: bool) -> Reading:
    if len(text) > MOST_CHARACTERS:
        raise _Misread(Fault.TOO_LONG, MOST_CHARACTERS, len(text))
    line = "".join(ALIKE.get(char, char) for char in text)
    start, end = _trim(line, 0, len(line))
    start = _after_relation(line, start, end)
    if start == end:
        raise _Misread(Fault.EMPTY, 0, len(text))
    sign, at = "", start
    if line[at] in "+-":
        sign = "-" if line[at] == "-" else ""
        at = _skip(line, at + 1, end)
    number = _number(line, start, at, end, decimal_comma)
    letter_unit = LETTERS[number.letter][1] if number.letter else ""
    first, past = _rest(line, number.end, end)
    token, prefix = _unit(line, first, past, unit)
    if number.letter and (prefix or (token is not None and not _fits_letter(token, letter_unit))):
        raise _Misread(Fault.UNKNOWN_UNIT, first, past)
    if token is None and letter_unit:
        token, first, past = tokens()[letter_unit], start, number.end
    if token is not None:
        _check_kind(token, unit, first, past, line)
    power = number.power + (token.power if token is not None else prefix)
    significant = number.digits.lstrip("0")
    return Reading(
        value=float(f"{sign}{number.digits}e{power}") + 0.0,
        figures=len(significant) or 1,
        unit_given=token is not None,
        reason="",
        columns=None,
        step=float(f"1e{power}"),
        bare=token is None and first == past and not number.letter,
    )


def _trim(line: str, start: int, end: int) -> tuple[int, int]:
    while start < end and line[start] == " ":
        start += 1
    while end > start and line[end - 1] == " ":
        end -= 1
    return start, end


def _skip(line: str, at: int, end: int) -> int:
    while at < end and line[at] == " ":
        at += 1
    return at


def _after_relation(line: str, start: int, end: int) -> int:
    """Where the value begins: a leading =, ≈ or `I_Z =` is set aside."""
    relations = []
    for at in range(start, end):
        if line[at] in BOUNDS:
            raise _Misread(Fault.BOUND, at, at + 1)
        if line[at] in "=≈":
            relations.append(at)
    if not relations:
        return start
    if len(relations) > 1:
        raise _Misread(Fault.SEVERAL, relations[1], relations[1] + 1)
    past = relations[0]
    if past > start and line[past - 1] == ":":
        past -= 1
    first, past = _trim(line, start, past)
    named = first == past or _is_letter(line[first])
    if not named or not all(_is_letter(char) or char in DIGITS or char in "_'(){}, " for char in line[first:past]):
        raise _Misread(Fault.NOT_A_NAME, first, past)
    return _skip(line, relations[0] + 1, end)


def _is_letter(char: str) -> bool:
    """A letter of a symbol: Latin without accents, Greek, or the sign of a change."""
    return "a" <= char <= "z" or "A" <= char <= "Z" or "\u0370" <= char <= "\u03ff" or char in "\u00b5\u2206"


def _digits(line: str, at: int, end: int) -> int:
    """The place after the digits that begin at `at`."""
    while at < end and line[at] in DIGITS:
        at += 1
    return at


def _is_digit(line: str, at: int, end: int) -> bool:
    return at < end and line[at] in DIGITS


def _number(line: str, start: int, at: int, end: int, decimal_comma: bool) -> _Number:
    if at < end and line[at] in LEADING_LETTERS and _is_digit(line, at + 1, end):
        past = _digits(line, at + 1, end)
        return _lettered(line, start, "", line[at], at + 1, past, end)
    pointed = at < end and line[at] in ".," and _is_digit(line, at + 1, end)
    if not pointed and not _is_digit(line, at, end):
        raise _no_number(line, start, at, end)
    past, whole = _grouped(line, at, end)
    fraction, has_point = "", False
    if past < end and line[past] == "," and _is_digit(line, past + 1, end) and not decimal_comma:
        raise _Misread(Fault.COMMA, at, _run(line, at, end, DIGITS + ".,"))
    if past < end and (line[past] == "." or (line[past] == "," and _is_digit(line, past + 1, end))):
        has_point = True
        past, fraction = _fraction(line, at, past + 1, end)
    if past < end and line[past] in ".," and past + 1 < end and line[past + 1] in DIGITS + ".":
        fault = Fault.COMMA if line[past] == "," and not decimal_comma else Fault.TWO_POINTS
        raise _Misread(fault, at, _run(line, at, end, DIGITS + ".,"))
    if len(whole) + len(fraction) > MOST_DIGITS:
        raise _Misread(Fault.DIGITS, at, past)
    if past < end and line[past] in LETTERS and _is_digit(line, past + 1, end):
        if has_point:
            raise _Misread(Fault.TWO_POINTS, at, _digits(line, past + 1, end))
        return _lettered(line, start, whole, line[past], past + 1, _digits(line, past + 1, end), end)
    return _with_power(line, start, _Number(whole + fraction, -len(fraction), past), has_point, end)


def _run(line: str, at: int, end: int, allowed: str) -> int:
    while at < end and line[at] in allowed:
        at += 1
    return at


def _no_number(line: str, start: int, at: int, end: int) -> _Misread:
    past = at
    while past < end and ("a" <= line[past] <= "z" or "A" <= line[past] <= "Z"):
        past += 1
    if line[at:past].lower() in NOT_FINITE:
        return _Misread(Fault.NOT_FINITE, at, past)
    if at < end and line[at] == "∞":
        return _Misread(Fault.NOT_FINITE, at, at + 1)
    if any(char in OPERATORS for char in line[at:end]):
        return _Misread(Fault.ARITHMETIC, start, end)
    return _Misread(Fault.NO_NUMBER, start, end)


def _grouped(line: str, at: int, end: int) -> tuple[int, str]:
    """Digits before the point, grouped in threes by single spaces or not at all."""
    past = _digits(line, at, end)
    whole = line[at:past]
    first_group = len(whole)
    while past < end and line[past] == " " and _is_digit(line, past + 1, end):
        if _is_inverse(line, past + 1, end):
            break
        after = _digits(line, past + 1, end)
        if after - past != 4 or first_group > 3:
            raise _Misread(Fault.GROUPING, at, _run(line, at, end, DIGITS + " ."))
        whole += line[past + 1 : after]
        past = after
    return past, whole


def _fraction(line: str, at: int, first: int, end: int) -> tuple[int, str]:
    """Digits after the point, grouped in threes from the point on or not at all."""
    past = _digits(line, first, end)
    digits, group = line[first:past], past - first
    while digits and past < end and line[past] == " " and _is_digit(line, past + 1, end):
        if _is_inverse(line, past + 1, end):
            break
        after = _digits(line, past + 1, end)
        if group != 3 or after - past > 4:
            raise _Misread(Fault.GROUPING, at, _run(line, at, end, DIGITS + " ."))
        digits, group = digits + line[past + 1 : after], after - past - 1
        past = after
    return past, digits


def _is_inverse(line: str, at: int, end: int) -> bool:
    """Whether the 1 of a unit such as 1/K stands here."""
    return line[at] == "1" and at + 2 < end and line[at + 1] == "/" and line[at + 2] not in DIGITS + " ."


def _lettered(line: str, start: int, whole: str, letter: str, first: int, past: int, end: int) -> _Number:
    """A code of IEC 60062, the letter in the place of the decimal sign."""
    fraction = line[first:past]
    if past < end and (line[past] in ".," or line[past] in LETTERS) and _is_digit(line, past + 1, end):
        raise _Misread(Fault.TWO_POINTS, start, _digits(line, past + 1, end))
    if len(whole) + len(fraction) > MOST_DIGITS:
        raise _Misread(Fault.DIGITS, start, past)
    return _Number(whole + fraction, LETTERS[letter][0] - len(fraction), past, letter)


def _with_power(line: str, start: int, number: _Number, has_point: bool, end: int) -> _Number:
    """The number with a power of ten behind it, if there is one: e-3, × 10^-3, or the power alone."""
    at = number.end
    if at < end and line[at] in "eE":
        exponent, past = _exponent(line, start, at + 1, end)
        return _Number(number.digits, number.power + exponent, past)
    if number.digits == "10" and not has_point and _begins_power(line, at, end):
        exponent, past = _power(line, start, at, end)
        return _Number("1", exponent, past)
    at = _skip(line, at, end)
    if at >= end or line[at] not in "×xX":
        return number
    times = at
    at = _skip(line, at + 1, end)
    ten = line[at : min(at + 2, end)] == "10"
    if ten and _begins_power(line, at + 2, end):
        exponent, past = _power(line, start, at + 2, end)
        return _Number(number.digits, number.power + exponent, past)
    if line[times] == "×" or ten:
        raise _Misread(Fault.ARITHMETIC, start, end)
    return number


def _begins_power(line: str, at: int, end: int) -> bool:
    return at < end and (line[at] in "^⁻" + SUPERSCRIPTS or line[at : min(at + 2, end)] == "××")


def _power(line: str, start: int, at: int, end: int) -> tuple[int, int]:
    """The exponent at `^`, `**` or in superscript figures, and the place after it."""
    if line[at] in "⁻" + SUPERSCRIPTS:
        first = at + 1 if line[at] == "⁻" else at
        past = _run(line, first, end, SUPERSCRIPTS)
        if past == first:
            raise _Misread(Fault.EXPONENT, start, end)
        digits = "".join(DIGITS[SUPERSCRIPTS.index(char)] for char in line[first:past])
        return _bounded(digits, line[at] == "⁻", start, past), past
    at += 1 if line[at] == "^" else 2
    bracket = at < end and line[at] == "("
    exponent, past = _exponent(line, start, at + 1 if bracket else at, end)
    if bracket:
        if past >= end or line[past] != ")":
            raise _Misread(Fault.EXPONENT, start, end)
        past += 1
    return exponent, past


def _exponent(line: str, start: int, at: int, end: int) -> tuple[int, int]:
    """A whole exponent with its sign, and the place after it."""
    negative = at < end and line[at] == "-"
    first = at + 1 if at < end and line[at] in "+-" else at
    past = _digits(line, first, end)
    if past == first or (past < end and line[past] in ".," and _is_digit(line, past + 1, end)):
        raise _Misread(Fault.EXPONENT, start, end)
    return _bounded(line[first:past], negative, start, past), past


def _bounded(digits: str, negative: bool, start: int, past: int) -> int:
    size = digits.lstrip("0") or "0"
    if len(size) > 2 or int(size) > MOST_POWER:
        raise _Misread(Fault.POWER, start, past)
    return -int(size) if negative else int(size)


def _rest(line: str, at: int, end: int) -> tuple[int, int]:
    """Where prefix and unit stand; one full stop, comma or semicolon at the end is set aside."""
    first, past = _trim(line, at, end)
    if past > first and line[past - 1] in ".,;":
        first, past = _trim(line, first, past - 1)
    if first < past and _is_inverse(line, first, past):
        first += 1
    if first < past and line[first] in DIGITS:
        raise _Misread(Fault.GROUPING, 0, past)
    for place in range(first, past):
        char = line[place]
        follows = _skip(line, place + 1, past)
        slash = char == "/" and not (follows < past and line[follows] in DIGITS + ".")
        if (char in OPERATORS or char in SUPERSCRIPTS) and not slash:
            raise _Misread(Fault.ARITHMETIC, 0, past)
    return first, past


def _unit(line: str, first: int, past: int, unit: str) -> tuple[UnitToken | None, int]:
    """The unit at [first, past) and None, or no unit and the power of a prefix standing alone."""
    word = line[first:past].replace(" ", "")
    if not word:
        return None, 0
    prefix = prefix_powers().get(word)
    # K is kelvin where a temperature is asked for and kilo elsewhere: 47K.
    if prefix is not None and not (word in tokens() and units()[unit].exponents == _KELVIN):
        return None, prefix
    token = tokens().get(word) or _quotient(word)
    if token is None:
        raise _Misread(Fault.UNKNOWN_UNIT, first, past)
    return token, 0


def _quotient(word: str) -> UnitToken | None:
    over, slash, under = word.partition("/")
    above = UnitToken("", (0, 0, 0, 0), 0) if not over else tokens().get(over)
    below = tokens().get(under)
    if not slash or above is None or below is None:
        return None
    volt, ampere, second, kelvin = (a - b for a, b in zip(above.exponents, below.exponents, strict=True))
    return UnitToken("", (volt, ampere, second, kelvin), above.power - below.power)


def _fits_letter(token: UnitToken, letter_unit: str) -> bool:
    """Whether a unit may follow a code such as 4k7: a plain one, and the one that the letter says, if it says any."""
    return token.power == 0 and letter_unit in ("", token.code)


def _check_kind(token: UnitToken, unit: str, first: int, past: int, line: str) -> None:
    asked = units()[unit]
    if token.code == "K" and unit == "degC":
        raise _Misread(Fault.KELVIN, first, past)
    if token.exponents == asked.exponents and (token.code == "dB") == (unit == "dB"):
        return
    got = units()[token.code].kind if token.code else kinds().get(token.exponents, f"a quantity in {line[first:past]}")
    raise _Misread(Fault.WRONG_KIND, first, past, got)
