"""Tokens: the longest run, look-alikes replaced one for one, numbers with their powers of ten, brackets paired."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tutor.quantities.symbols import resolve_alias
from tutor.working import words
from tutor.working.alphabet import ALIKE, SPECIAL, is_name_char
from tutor.working.faults import MOST_DEPTH, MOST_TOKENS, Broken, LineFault
from tutor.working.numerals import Numeral
from tutor.working.tokens import Kind, plain_text, tokens_of
from tutor.working.vocabulary import Vocabulary

PLAIN = Vocabulary(frozenset({"V_I", "V_Z", "I_Z", "R"}))

TEXTS = [
    ("V_I-V_Z", ["V_I", "-", "V_Z"]),
    ("V_{I,max}−3", ["V_{I,max}", "-", "3"]),
    ("V_I(max)+V_I,min", ["V_I(max)", "+", "V_I,min"]),
    ("V_I(maximum)", ["V_I", "(", "maximum", ")"]),
    ("V_I,maxi", ["V_I", ",", "maxi"]),
    ("V_CE(sat)", ["V_CE(sat)"]),
    ("V_{I", ["V_", "{", "I"]),
    ("R'+x₁", ["R'", "+", "x1"]),
    ("5mA", ["5", "mA"]),
    ("25 °C", ["25", "°C"]),
    ("3 %/V", ["3", "%", "/", "V"]),
    ("1 000 Ω", ["1 000", "Ω"]),
    ("12  345", ["12", "345"]),
    ("2 × 10^-3", ["2 × 10^-3"]),
    ("2^3 × 10^2", ["2", "^", "3", "×", "10^2"]),
    ("2 x 3", ["2", "×", "3"]),
    ("2x3", ["2", "×", "3"]),
    ("x = 3", ["x", "=", "3"]),
    ("a//b||c", ["a", "∥", "b", "∥", "c"]),
    ("a**2", ["a", "^", "2"]),
    ("a⁻¹²", ["a", "⁻¹²"]),
    ("a <= b >= c => d", ["a", "≤", "b", "≥", "c", "∴", "d"]),
    ("a := b : = c: d", ["a", "=", "b", "=", "c", ":", "d"]),
    ("5 +/- 3 ± 2", ["5", "±", "3", "±", "2"]),
    ("5...", ["5", "…"]),
    ("5. V", ["5.", "V"]),
    ("größer", ["größer"]),
    ("5✓", ["5", "✓"]),
    ("let's", ["let's"]),
    ("½ C", ["½", "C"]),
]


@pytest.mark.parametrize(("typed", "texts"), TEXTS)
def test_a_line_falls_into_tokens(typed: str, texts: list[str]):
    """Longest match; nothing is split, nothing is lost, columns are those of the text."""
    found = tokens_of(typed, PLAIN)
    assert [token.text for token in found] == texts
    assert all(plain_text(typed)[token.first : token.past].strip() for token in found)
    assert all(one.past <= two.first for one, two in pairwise(found))


NUMERALS = [
    ("5.10", Numeral("510", -2)),
    (".5", Numeral("5", -1)),
    ("5.", Numeral("5", 0)),
    ("1 234.5", Numeral("12345", -1)),
    ("0.123 456", Numeral("0123456", -6)),
    ("2k7", Numeral("27", 2, "k", code=1)),
    ("5V6", Numeral("56", -1, "V", code=1)),
    ("5e-3", Numeral("5", -3)),
    ("5.0E+3", Numeral("50", 2)),
    ("5·10⁻³", Numeral("5", -3, ten=True)),
    ("5x10**(+3)", Numeral("5", 3, ten=True)),
    ("10^-3", Numeral("1", -3, ten=True)),
    ("100", Numeral("100", 0, whole=True)),
]


@pytest.mark.parametrize(("typed", "numeral"), NUMERALS)
def test_a_number_keeps_its_digits_and_its_power(typed: str, numeral: Numeral):
    """Exact until the value is made."""
    token = tokens_of(typed, PLAIN)[0]
    assert (token.kind, token.past) == (Kind.NUMBER, len(typed))
    assert token.numeral == numeral


BAD = [
    ("5,1", LineFault.COMMA, 3),
    ("1.2.3", LineFault.TWO_POINTS, 5),
    ("12 34", LineFault.GROUPING, 5),
    ("5e", LineFault.EXPONENT, 2),
    ("5e99", LineFault.POWER, 4),
    ("1" * 21, LineFault.DIGITS, 21),
    ("∞", LineFault.NOT_FINITE, 1),
    ("≠", LineFault.OTHER_RELATION, 1),
    ("|", LineFault.BAR, 1),
]


@pytest.mark.parametrize(("typed", "fault", "past"), BAD)
def test_a_bad_number_is_a_token_too(typed: str, fault: LineFault, past: int):
    """So a note may hold one: what happened on 5,1?"""
    token = tokens_of(typed, PLAIN)[0]
    assert (token.kind, token.fault, token.past) == (Kind.BAD, fault, past)


def test_brackets_know_their_partners():
    """By order, whatever their kind; -1 without one."""
    found = tokens_of("(a[b)c](", PLAIN)
    assert [token.partner for token in found] == [6, -1, 4, -1, 2, -1, 0, -1]


def test_caps_act_before_anything_nests():
    """As many and as deep as allowed, and one more."""
    assert len(tokens_of("+" * MOST_TOKENS, PLAIN)) == MOST_TOKENS
    assert len(tokens_of("(" * MOST_DEPTH, PLAIN)) == MOST_DEPTH
    for typed in ("+" * (MOST_TOKENS + 1), "(" * (MOST_DEPTH + 1), " " * 401):
        with pytest.raises(Broken):
            tokens_of(typed, PLAIN)


def test_look_alikes_are_single_characters():
    """Columns stay those of the text as typed; no stand-in needs replacing again."""
    assert all(len(char) == 1 and len(plain) == 1 for char, plain in ALIKE.items())
    assert not set(ALIKE.values()) & set(ALIKE)
    assert not any(is_name_char(char) for char in SPECIAL)


def test_an_own_x_is_no_sign():
    """Nor is x after a word."""
    own = Vocabulary(frozenset({"R"}), {}, ("x",))
    assert [token.kind for token in tokens_of("2 x 3", own)] == [Kind.NUMBER, Kind.RUN, Kind.NUMBER]
    assert [token.kind for token in tokens_of("let x = 3", PLAIN)][:2] == [Kind.RUN, Kind.RUN]


def test_no_listed_word_is_a_symbol():
    """A listed word never hides a symbol of any circuit."""
    assert [word for word in words.LISTED if resolve_alias(word)] == []
    assert {word for word in words.WORDS_AND_NAMES if resolve_alias(word)} == set(words.WORDS_AND_NAMES)
