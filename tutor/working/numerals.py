"""Numbers inside a line: 5.1, 1 000, 2k7, R47, 5e-3, 5 × 10^-3, 10⁻³; digits only, without sign or unit.

Vocabulary: a *numeral* is what was written as digits and a power of ten, still exact; its *letter* stood in the place
of the decimal sign (IEC 60062).
Place in the data flow: called by `tokens.py` wherever a number begins.
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.quantities.misread import LEADING_LETTERS, LETTERS
from tutor.working.alphabet import DIGITS, SUPERSCRIPTS, is_run_char
from tutor.working.faults import MOST_DIGITS, MOST_POWER, Broken, LineFault


@dataclass(frozen=True)
class Numeral:
    """Digits without their point times ten to `power`; `ten` when a power of ten was written out (× 10^3, 10^3);
    `whole` without point, letter or power; `code` is where the letter of a code begins, -1 without one."""

    digits: str
    power: int
    letter: str = ""
    ten: bool = False
    whole: bool = False
    code: int = -1


@dataclass(frozen=True)
class NumeralStyle:
    """How numbers are written: a decimal comma or not; what stands for ×, beside ×; `plain` in an exponent, where
    neither a group of digits nor a power of ten goes on."""

    decimal_comma: bool
    crosses: str
    plain: bool


def digits_end(line: str, at: int) -> int:
    """The place after the digits that begin at `at`."""
    while at < len(line) and line[at] in DIGITS:
        at += 1
    return at


def is_digit(line: str, at: int) -> bool:
    """Whether a digit stands at `at`."""
    return at < len(line) and line[at] in DIGITS


def begins_number(line: str, at: int) -> bool:
    """Whether a digit, or a point or comma before one, stands at `at`."""
    return is_digit(line, at) or (at < len(line) and line[at] in ".," and is_digit(line, at + 1))


def numeral_at(line: str, at: int, style: NumeralStyle) -> tuple[Numeral, int]:
    """The number that begins at `at`, and the place after it; Broken when it is none."""
    past, whole = digits_end(line, at), ""
    if past > at:
        whole = line[at:past]
        if not style.plain:
            past, whole = _grouped(line, at, past)
    fraction, pointed = "", False
    if past < len(line) and line[past] == "," and is_digit(line, past + 1) and not style.decimal_comma:
        raise Broken(LineFault.COMMA, at, _numeric_end(line, at))
    if past < len(line) and (line[past] == "." or (line[past] == "," and is_digit(line, past + 1))):
        if line[past : past + 2] == "..":
            if not is_digit(line, past + 2):
                return _measured(line, at, past, Numeral(whole, 0, whole=True)), past
            raise Broken(LineFault.TWO_POINTS, at, _numeric_end(line, at))
        pointed = True
        past, fraction = _fraction(line, at, past + 1, style)
    if past < len(line) and line[past] in ".," and is_digit(line, past + 1):
        fault = LineFault.COMMA if line[past] == "," and not style.decimal_comma else LineFault.TWO_POINTS
        raise Broken(fault, at, _numeric_end(line, at))
    if past < len(line) and line[past] in LETTERS and is_digit(line, past + 1):
        if pointed:
            raise Broken(LineFault.TWO_POINTS, at, digits_end(line, past + 1))
        return _coded(line, at, whole, past)
    number = Numeral(whole + fraction, -len(fraction), whole=not pointed)
    return _with_power(line, at, past, _measured(line, at, past, number), style)


def code_at(line: str, at: int, past: int) -> Numeral | None:
    """What a run reads as when it is a code that begins with its letter: R47, n47; two figures at least.

    Broken for more digits, or more letters, than a code has.
    """
    if past - at < 3 or line[at] not in LEADING_LETTERS or digits_end(line, at + 1) != past:
        return None
    return _coded(line, at, "", at)[0]


def superscript_at(line: str, at: int) -> tuple[str, bool, int] | None:
    """An exponent in superscript figures: its digits, whether it is negative, and the place after it."""
    negative = line[at] == "⁻"
    first = at + 1 if negative else at
    past = first
    while past < len(line) and line[past] in SUPERSCRIPTS:
        past += 1
    if past == first:
        return None
    return "".join(DIGITS[SUPERSCRIPTS.index(char)] for char in line[first:past]), negative, past


def bounded(digits: str, first: int, past: int) -> int:
    """An exponent of at most `MOST_POWER`, or Broken about the text at its columns."""
    size = digits.lstrip("0") or "0"
    if len(size) > 2 or int(size) > MOST_POWER:
        raise Broken(LineFault.POWER, first, past)
    return int(size)


def _numeric_end(line: str, at: int) -> int:
    while at < len(line) and line[at] in DIGITS + ".,":
        at += 1
    return at


def _measured(line: str, at: int, past: int, number: Numeral) -> Numeral:
    """The numeral itself when it is short enough."""
    if len(number.digits) > MOST_DIGITS:
        raise Broken(LineFault.DIGITS, at, past)
    return number


def _grouped(line: str, at: int, past: int) -> tuple[int, str]:
    """Digits before the point, grouped in threes by single spaces or not at all."""
    whole, first_group = line[at:past], past - at
    while past < len(line) and line[past] == " " and is_digit(line, past + 1):
        if _is_inverse(line, past + 1):
            break
        after = digits_end(line, past + 1)
        if after - past != 4 or first_group > 3:
            raise Broken(LineFault.GROUPING, at, after)
        whole += line[past + 1 : after]
        past = after
    return past, whole


def _fraction(line: str, at: int, first: int, style: NumeralStyle) -> tuple[int, str]:
    """Digits after the point, grouped in threes from the point on or not at all."""
    past = digits_end(line, first)
    digits, group = line[first:past], past - first
    while not style.plain and digits and past < len(line) and line[past] == " " and is_digit(line, past + 1):
        if _is_inverse(line, past + 1):
            break
        after = digits_end(line, past + 1)
        if group != 3 or after - past > 4:
            raise Broken(LineFault.GROUPING, at, after)
        digits, group = digits + line[past + 1 : after], after - past - 1
        past = after
    return past, digits


def _is_inverse(line: str, at: int) -> bool:
    """Whether the 1 of a unit such as 1/K stands here."""
    return line[at : at + 2] == "1/" and at + 2 < len(line) and line[at + 2] not in DIGITS + " ."


def _coded(line: str, at: int, whole: str, letter: int) -> tuple[Numeral, int]:
    """A code of IEC 60062, the letter at `letter` in the place of the decimal sign."""
    past = digits_end(line, letter + 1)
    fraction = line[letter + 1 : past]
    if past < len(line) and (line[past] in ".," or line[past] in LETTERS) and is_digit(line, past + 1):
        raise Broken(LineFault.TWO_POINTS, at, digits_end(line, past + 1))
    number = Numeral(whole + fraction, LETTERS[line[letter]][0] - len(fraction), line[letter], code=letter)
    return _measured(line, at, past, number), past


def _with_power(line: str, at: int, past: int, number: Numeral, style: NumeralStyle) -> tuple[Numeral, int]:
    """The number with the power of ten behind it, if there is one: e-3, × 10^-3, or the power alone."""
    if past < len(line) and line[past] in "eE" and (past + 1 == len(line) or not is_run_char(line[past + 1])):
        signed = past + 1 < len(line) and line[past + 1] in "+-"
        if not signed or not is_digit(line, past + 2):
            raise Broken(LineFault.EXPONENT, at, past + 2 if signed else past + 1)
        return _scientific(line, at, past, number)
    if past < len(line) and line[past] in "eE" and is_digit(line, past + 1):
        return _scientific(line, at, past, number)
    if style.plain:
        return number, past
    if number.whole and line[at:past] == "10":
        power = _power_at(line, at, past)
        return (number, past) if power is None else (Numeral("1", power[0], ten=True), power[1])
    ten = _skip(line, past)
    if ten == len(line) or (line[ten] != "×" and line[ten] not in style.crosses):
        return number, past
    ten = _skip(line, ten + 1)
    power = _power_at(line, at, ten + 2) if line[ten : ten + 2] == "10" else None
    if power is None:
        return number, past
    return Numeral(number.digits, number.power + power[0], ten=True), power[1]


def _scientific(line: str, at: int, letter: int, number: Numeral) -> tuple[Numeral, int]:
    first = letter + 2 if line[letter + 1] in "+-" else letter + 1
    past = digits_end(line, first)
    if past < len(line) and line[past] in ".," and is_digit(line, past + 1):
        raise Broken(LineFault.EXPONENT, at, _numeric_end(line, past))
    power = bounded(line[first:past], at, past)
    return Numeral(number.digits, number.power + (-power if line[letter + 1] == "-" else power)), past


def _skip(line: str, at: int) -> int:
    while at < len(line) and line[at] == " ":
        at += 1
    return at


def _power_at(line: str, first: int, at: int) -> tuple[int, int] | None:
    """The whole exponent written after a 10 that ends at `at`, and the place after it; None when it is no literal."""
    if at < len(line) and line[at] in "⁻" + SUPERSCRIPTS:
        raised = superscript_at(line, at)
        if raised is None:
            return None
        digits, negative, past = raised
    else:
        if line[at : at + 1] == "^":
            at += 1
        elif line[at : at + 2] == "××":
            at += 2
        else:
            return None
        bracket = at < len(line) and line[at] == "("
        at += 1 if bracket else 0
        negative = at < len(line) and line[at] == "-"
        start = at + 1 if at < len(line) and line[at] in "+-" else at
        past = digits_end(line, start)
        digits = line[start:past]
        if not digits or (past < len(line) and line[past] in ".," and is_digit(line, past + 1)):
            return None
        if bracket:
            if line[past : past + 1] != ")":
                return None
            past += 1
    power = bounded(digits, first, past)
    return (-power if negative else power), past
