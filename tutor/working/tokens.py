"""A line of working as tokens: numbers, runs of letters, signs, relations, brackets, marks.

Vocabulary: a *run* is the longest row of name characters (V_{I,max}, mA, therefore): what it means is decided later. A
*gap* is the blank before a token. A number that cannot be read is a *bad* token, which hurts only inside a chain.
Place in the data flow: text -> tokens -> members. Caps on length, tokens and nesting act here, before anything nests.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from tutor.working.alphabet import (
    ALIKE,
    BREAKS,
    CLOSING,
    DIGITS,
    FRACTIONS,
    OPENING,
    OTHER_RELATIONS,
    RELATIONS,
    SIGNS,
    STOPS,
    SUPERSCRIPTS,
    TICKS,
    is_letter,
    is_name_char,
    is_run_char,
    lowered,
)
from tutor.working.faults import MOST_CHARACTERS, MOST_DEPTH, MOST_TOKENS, Broken, LineFault
from tutor.working.numerals import Numeral, NumeralStyle, begins_number, code_at, numeral_at, superscript_at
from tutor.working.tree import Standing
from tutor.working.vocabulary import Vocabulary
from tutor.working.words import JOINED_ENDS, LISTED


class Kind(Enum):
    """What sort of token it is; `text` says which one."""

    NUMBER = "number"
    FRACTION = "fraction"
    RUN = "run"
    SIGN = "sign"
    POWER = "power"
    RELATION = "relation"
    OPEN = "open"
    CLOSE = "close"
    COMMA = "comma"
    COLON = "colon"
    BREAK = "break"
    STOP = "stop"
    SO = "so"
    QUESTION = "question"
    TICK = "tick"
    OTHER = "other"
    BAD = "bad"


@dataclass(frozen=True)
class Token:
    """One token at [first, past), code points from 0. `text` with look-alikes replaced; `numeral` of a number, of an
    exponent in superscript figures, or what a run such as R47 reads as; `partner` of a bracket, -1 without one."""

    kind: Kind
    text: str
    first: int
    past: int
    numeral: Numeral | None = None
    negative: bool = False
    fault: LineFault | None = None
    partner: int = -1


_ALIKE = str.maketrans(dict(ALIKE))
_VALUES = (Kind.NUMBER, Kind.FRACTION, Kind.RUN, Kind.CLOSE, Kind.POWER)
# Longest first: the signs of several characters, and those of one.
COMPOUND: tuple[tuple[str, Kind, str], ...] = (
    ("-->", Kind.SO, "∴"), ("+/-", Kind.SIGN, "±"), ("=>", Kind.SO, "∴"), ("->", Kind.SO, "∴"),
    (":=", Kind.RELATION, "="), ("<=", Kind.RELATION, "≤"), (">=", Kind.RELATION, "≥"), ("≈=", Kind.RELATION, "≈"),
    ("=≈", Kind.RELATION, "≈"), ("||", Kind.SIGN, "∥"), ("//", Kind.SIGN, "∥"), ("××", Kind.SIGN, "^"),
    ("...", Kind.STOP, "…"),
)  # fmt: skip
_COMPOUND_FIRST = frozenset(spelling[0] for spelling, _, _ in COMPOUND)
SINGLE: dict[str, Kind] = {
    **dict.fromkeys(SIGNS, Kind.SIGN), **dict.fromkeys(RELATIONS, Kind.RELATION), **dict.fromkeys(OPENING, Kind.OPEN),
    **dict.fromkeys(CLOSING, Kind.CLOSE), **dict.fromkeys(BREAKS, Kind.BREAK), **dict.fromkeys(STOPS, Kind.STOP),
    **dict.fromkeys(TICKS, Kind.TICK), ",": Kind.COMMA, ":": Kind.COLON, "∴": Kind.SO, "?": Kind.QUESTION,
    "%": Kind.RUN,
}  # fmt: skip


def plain_text(text: str) -> str:
    """The text with every look-alike replaced, code point by code point."""
    return text.translate(_ALIKE)


def tokens_of(text: str, vocabulary: Vocabulary) -> list[Token]:
    """The tokens of a line; Broken when it is too long or too deep."""
    if len(text) > MOST_CHARACTERS:
        raise Broken(LineFault.TOO_LONG, MOST_CHARACTERS, len(text))
    line = plain_text(text)
    crosses = "".join(cross for cross in "xX" if vocabulary.resolve(cross)[1] is Standing.UNKNOWN)
    found: list[Token] = []
    at = 0
    while at < len(line):
        if line[at] == " ":
            at += 1
            continue
        if len(found) == MOST_TOKENS:
            raise Broken(LineFault.TOO_MANY, at, len(text))
        token = _token(line, at, found, vocabulary, crosses)
        found.append(token)
        at = token.past
    return _paired(found)


def _token(line: str, at: int, found: list[Token], vocabulary: Vocabulary, crosses: str) -> Token:
    char = line[at]
    if begins_number(line, at) and (char != "," or not found or found[-1].kind not in _VALUES):
        return _number(line, at, found, vocabulary, crosses)
    if is_run_char(char):
        return _run(line, at, found, vocabulary, crosses)
    if char in SUPERSCRIPTS or char == "⁻":
        return _exponent(line, at)
    if char in _COMPOUND_FIRST:
        for spelling, kind, text in COMPOUND:
            if line.startswith(spelling, at):
                return Token(kind, text, at, at + len(spelling))
    if char == ":":
        past = at + 1
        while past < len(line) and line[past] == " ":
            past += 1
        if line[past : past + 1] == "=":
            return Token(Kind.RELATION, "=", at, past + 1)
        if _divides(line, at, found):
            return Token(Kind.SIGN, "/", at, at + 1)
    if char in FRACTIONS:
        return Token(Kind.FRACTION, char, at, at + 1)
    if char == "∞":
        return Token(Kind.BAD, char, at, at + 1, fault=LineFault.NOT_FINITE)
    if char in OTHER_RELATIONS:
        return Token(Kind.BAD, char, at, at + 1, fault=LineFault.OTHER_RELATION)
    if line.startswith("!=", at):
        return Token(Kind.BAD, "!=", at, at + 2, fault=LineFault.OTHER_RELATION)
    if char == "|":
        return Token(Kind.BAD, char, at, at + 1, fault=LineFault.BAR)
    return Token(SINGLE.get(char, Kind.OTHER), char, at, at + 1)


def _divides(line: str, at: int, found: list[Token]) -> bool:
    """Whether a colon divides, as in many schools: after a relation, set apart on both sides."""
    apart = at > 0 and line[at - 1] == " " and line[at + 1 : at + 2] == " "
    return apart and bool(found) and found[-1].kind in _VALUES and any(token.kind is Kind.RELATION for token in found)


def _number(line: str, at: int, found: list[Token], vocabulary: Vocabulary, crosses: str) -> Token:
    style = NumeralStyle(vocabulary.decimal_comma, crosses, _is_exponent(found))
    try:
        numeral, past = numeral_at(line, at, style)
    except Broken as broken:
        return Token(Kind.BAD, line[broken.first : broken.past], broken.first, broken.past, fault=broken.fault)
    return Token(Kind.NUMBER, line[at:past], at, past, numeral)


def _is_exponent(found: list[Token]) -> bool:
    """Whether what comes next stands directly after ^, its sign aside."""
    last = len(found) - 1
    if last > 0 and found[last].text in ("+", "-"):
        last -= 1
    return last >= 0 and found[last].kind is Kind.SIGN and found[last].text == "^"


def _run(line: str, at: int, found: list[Token], vocabulary: Vocabulary, crosses: str) -> Token:
    past = _run_end(line, at)
    text = line[at:past]
    after_value = bool(found) and found[-1].kind in _VALUES and not _is_word(found[-1], vocabulary)
    if after_value and len(text) == 1 and text in crosses:
        return Token(Kind.SIGN, "×", at, past)
    joined = after_value and found[-1].kind is Kind.NUMBER and found[-1].past == at
    if joined and text[0] in crosses and text[1] in DIGITS and vocabulary.resolve(text)[1] is Standing.UNKNOWN:
        return Token(Kind.SIGN, "×", at, at + 1)
    try:
        numeral = code_at(line, at, past)
    except Broken as broken:
        return Token(Kind.BAD, line[broken.first : broken.past], broken.first, broken.past, fault=broken.fault)
    return Token(Kind.RUN, text, at, past, numeral)


def _is_word(token: Token, vocabulary: Vocabulary) -> bool:
    """Whether a run is a word, after which x is no sign: let x = 5."""
    listed = token.kind is Kind.RUN and lowered(token.text) in LISTED
    return listed and vocabulary.resolve(token.text)[1] is Standing.UNKNOWN


def _run_end(line: str, at: int) -> int:
    """The end of the longest name: letters, digits, braces after an underscore, and an end joined on."""
    past = at
    while past < len(line):
        if is_run_char(line[past]):
            past += 1
        elif line[past] == "{" and past > at and line[past - 1] == "_":
            inside = past + 1
            while inside < len(line) and (is_name_char(line[inside]) or line[inside] in "(), "):
                inside += 1
            if inside == past + 1 or line[inside : inside + 1] != "}":
                break
            past = inside + 1
        else:
            break
    if not is_letter(line[at]):
        return past
    for end in JOINED_ENDS:
        after = past + 1 + len(end)
        if lowered(line[past + 1 : after]) != end:
            continue
        if line[past] == "(" and line[after : after + 1] == ")":
            return after + 1
        if line[past] == "," and (after == len(line) or not is_run_char(line[after])):
            return after
    return past


def _exponent(line: str, at: int) -> Token:
    raised = superscript_at(line, at)
    if raised is None:
        return Token(Kind.OTHER, line[at], at, at + 1)
    digits, negative, past = raised
    return Token(Kind.POWER, line[at:past], at, past, Numeral(digits, 0, whole=True), negative)


def _paired(found: list[Token]) -> list[Token]:
    """The same tokens, each bracket with the place of its partner; Broken when they nest too deep."""
    waiting: list[int] = []
    partners: dict[int, int] = {}
    for at, token in enumerate(found):
        if token.kind is Kind.OPEN:
            waiting.append(at)
            if len(waiting) > MOST_DEPTH:
                raise Broken(LineFault.TOO_DEEP, token.first, token.past)
        elif token.kind is Kind.CLOSE and waiting:
            partner = waiting.pop()
            partners[partner], partners[at] = at, partner
    if not partners:
        return found
    return [
        Token(token.kind, token.text, token.first, token.past, partner=partners[at]) if at in partners else token
        for at, token in enumerate(found)
    ]
