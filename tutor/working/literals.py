"""Numbers with their units and prefixes: tokens -> Literal, with every meaning that the text may have.

Vocabulary: a *scale* is what follows a number: a unit's code, its dimension and the power of ten of prefix and unit. A
bare prefix has no dimension. *Joined*, *apart* and *after* as in `collisions.py`.
Place in the data flow: called by `members.py` wherever a number stands, and after a bracket of bare numbers.
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.quantities.misread import LETTERS, prefix_powers, tokens
from tutor.quantities.units import difference_unit
from tutor.working.collisions import BY_SPELLING, NEVER_UNDER, PREFIX_AND_UNIT, Clash
from tutor.working.faults import LineFault
from tutor.working.names import begins_factor
from tutor.working.numerals import Numeral
from tutor.working.runs import Scope
from tutor.working.tokens import Kind
from tutor.working.tree import PURE, Columns, Exponents, Literal, Meaning, Standing
from tutor.working.words import CONSTANTS


@dataclass(frozen=True)
class Scale:
    """What a number is counted in; `exponents` None for a bare prefix."""

    code: str
    exponents: Exponents | None
    power: int


Scales = tuple[Scale, ...]


def literal_at(scope: Scope, place: int) -> tuple[Literal, int]:
    """The number at a place with what follows it, and the place after both. Broken where it does not read."""
    token = scope.tokens[place]
    numeral = token.numeral
    assert numeral is not None
    scales, past = scales_at(scope, place + 1)
    if numeral.letter:
        scales, past = _coded_scales(scope, place, numeral, scales, past)
    _refuse_power(scope, place, past)
    return _literal(numeral, scales, (token.first + 1, scope.tokens[past - 1].past + 1)), past


def bare_literal(scope: Scope, place: int) -> Literal:
    """The number at a place without anything that follows it, as in an exponent or under a root."""
    token = scope.tokens[place]
    assert token.numeral is not None
    letter_unit = LETTERS[token.numeral.letter][1] if token.numeral.letter else ""
    scales = (_simple(letter_unit),) if letter_unit else ()
    return _literal(token.numeral, scales, (token.first + 1, token.past + 1))


def whole_literal(digits: str, columns: Columns) -> Literal:
    """A whole number that stands for itself, such as the 1 and the 2 of ½."""
    return _literal(Numeral(digits, 0, whole=True), (), columns)


def constant(name: str, columns: Columns) -> Literal:
    """A constant: a pure number that no rounding touches, hence without figures."""
    return Literal(columns, (Meaning(CONSTANTS[name], 0.0, PURE, ""),), 0, 0, True)


def unit_literal(scope: Scope, place: int, opened: int) -> tuple[Literal, int] | None:
    """The unit at a place after a bracket, root or power, as one of that unit: value 1, no figures. `opened` is where
    what it follows begins. Broken where it can be read two ways."""
    if not scope.is_kind(place, Kind.RUN):
        return None
    scales, past = scales_at(scope, place, after=True)
    if past == place:
        return None
    _refuse_power(scope, opened, past)
    meanings = tuple(Meaning(float(f"1e{one.power}"), 0.0, one.exponents, one.code) for one in scales)
    columns = (scope.tokens[place].first + 1, scope.tokens[past - 1].past + 1)
    return Literal(columns, meanings, 0, scales[0].power, False), past


def scales_at(scope: Scope, place: int, after: bool = False) -> tuple[Scales, int]:
    """What the number before a place is counted in, every meaning of it, and the place after; () when nothing.

    Broken where what stands there can be read two ways, or not at all.
    """
    inverse = None if after else _inverse_at(scope, place)
    if inverse is not None:
        return inverse
    token = scope.at(place)
    if token is None or token.kind is not Kind.RUN:
        return (), place
    joined = scope.is_joined(place)
    symbol = scope.is_symbol(place)
    row = BY_SPELLING.get(token.text)
    if symbol and row is not None:
        clash = row.after if after else row.joined if joined else row.apart
        if clash is Clash.SYMBOL or (clash is Clash.FACTOR and begins_factor(scope, place + 1)):
            return (), place
        if clash is not Clash.UNIT:
            raise scope.broken(LineFault.TWO_READINGS, place if after else place - 1, place)
    elif symbol:
        return (), place
    if token.text in prefix_powers():
        together = _prefixed_at(scope, place)
        if together is not None:
            return together
    # Of the prefixes only K is a unit as well: mega is no megampere.
    if token.text in tokens() and (token.text not in prefix_powers() or token.text == PREFIX_AND_UNIT):
        return _unit_at(scope, place, joined)
    if token.text in prefix_powers():
        if not joined and not scope.is_ender(place + 1):
            raise scope.broken(LineFault.PREFIX, place, place)
        return (Scale("", None, prefix_powers()[token.text]),), place + 1
    return (), place


def _unit_at(scope: Scope, place: int, joined: bool) -> tuple[Scales, int]:
    spelling = scope.tokens[place].text
    under = _under_at(scope, place + 1)
    if under is not None:
        over = tokens()[spelling]
        return (_quotient(_simple(spelling), over.code, under),), place + 3
    if spelling != PREFIX_AND_UNIT:
        return (_simple(spelling),), place + 1
    kilo = Scale("", None, prefix_powers()[spelling])
    if joined:
        return (kilo, _simple(spelling)), place + 1
    return ((_simple(spelling), kilo) if scope.is_ender(place + 1) else (_simple(spelling),)), place + 1


def _under_at(scope: Scope, place: int) -> str | None:
    """The spelling of the unit under a slash at a place; None when the slash divides by something else."""
    token = scope.at(place + 1)
    if not scope.is_sign(place, "/") or token is None or token.kind is not Kind.RUN:
        return None
    if token.text not in tokens() or token.text in NEVER_UNDER:
        return None
    if not scope.is_symbol(place + 1):
        return token.text
    if scope.is_joined(place) and scope.is_joined(place + 1):
        raise scope.broken(LineFault.TWO_READINGS, max(place - 2, 0), place + 1)
    return None


def _inverse_at(scope: Scope, place: int) -> tuple[Scales, int] | None:
    """The unit 1/K or /K at a place."""
    one = scope.at(place)
    if one is None:
        return None
    slash = place
    if one.kind is Kind.NUMBER and one.text == "1" and scope.is_joined(place + 1):
        slash = place + 1
    if not scope.is_sign(slash, "/") or not scope.is_joined(slash + 1) or not scope.is_kind(slash + 1, Kind.RUN):
        return None
    spelling = scope.tokens[slash + 1].text
    if spelling not in tokens() or spelling in NEVER_UNDER or scope.is_symbol(slash + 1):
        return None
    return (_quotient(Scale("1", PURE, 0), "1", spelling),), slash + 2


def _prefixed_at(scope: Scope, place: int) -> tuple[Scales, int] | None:
    """A prefix and its unit as two words: 5 kilo ohms, 276 k Ω."""
    follows = scope.at(place + 1)
    if follows is None or follows.kind is not Kind.RUN or scope.is_symbol(place + 1):
        return None
    together = scope.tokens[place].text + follows.text
    return ((_simple(together),), place + 2) if together in tokens() and scope.is_gap(place + 1) else None


def _simple(spelling: str) -> Scale:
    token = tokens()[spelling]
    return Scale(token.code, token.exponents, token.power)


def _quotient(over: Scale, over_code: str, under_spelling: str) -> Scale:
    under = tokens()[under_spelling]
    above = over.exponents or PURE
    volt, ampere, second, kelvin = (a - b for a, b in zip(above, under.exponents, strict=True))
    # In a quotient degrees are differences: mV/°C is V/K.
    code = f"{difference_unit(over_code)}/{difference_unit(under.code)}"
    return Scale(code, (volt, ampere, second, kelvin), over.power - under.power)


def _coded_scales(scope: Scope, place: int, numeral: Numeral, scales: Scales, past: int) -> tuple[Scales, int]:
    """The scales of a code such as 4k7 or 5V6, which may be followed by its plain unit only."""
    token = scope.tokens[place]
    tail = token.text[numeral.code - token.first :]
    if numeral.code > token.first and scope.vocabulary.resolve(tail)[1] is not Standing.UNKNOWN:
        raise scope.broken(LineFault.TWO_READINGS, place, place)
    implied = LETTERS[numeral.letter][1]
    if not scales:
        return ((_simple(implied),) if implied else ()), past
    fitting = tuple(one for one in scales if one.exponents is not None and one.power == 0)
    fitting = tuple(one for one in fitting if implied in ("", one.code))
    if not fitting:
        raise scope.broken(LineFault.UNIT_TWICE, place, past - 1)
    return fitting, past


def _refuse_power(scope: Scope, first: int, past: int) -> None:
    """A unit raised to a power could mean the unit alone or the whole number."""
    if past == first + 1 or not (scope.is_kind(past, Kind.POWER) or scope.is_sign(past, "^")):
        return
    last = past if scope.is_kind(past, Kind.POWER) or scope.at(past + 1) is None else past + 1
    raise scope.broken(LineFault.UNIT_POWER, first, last)


def _literal(numeral: Numeral, scales: Scales, columns: Columns) -> Literal:
    every = scales or (Scale("", None, 0),)
    meanings = tuple(
        Meaning(
            float(f"{numeral.digits}e{numeral.power + one.power}"),
            float(f"1e{numeral.power + one.power}"),
            one.exponents,
            one.code,
        )
        for one in every
    )
    figures = len(numeral.digits.lstrip("0")) or 1
    power = every[0].power + (LETTERS[numeral.letter][0] if numeral.letter else 0)
    return Literal(columns, meanings, figures, power, not scales and not numeral.letter)
