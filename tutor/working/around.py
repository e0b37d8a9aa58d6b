"""What stands around a chain: labels, opening words, remarks, and the words that say what kind of line it is.

Vocabulary: a *marker* numbers a line (a), 2., (iii); a *label* stands before a colon, or before a comma when it begins
with a word; *leading* words run into the chain without either.
Place in the data flow: asked by `read.py`. Each function takes the place where it looks and gives back the place after
what it set aside, which is the same place when there was nothing.
"""

from __future__ import annotations

from tutor.working import words
from tutor.working.faults import LineFault
from tutor.working.members import member_at
from tutor.working.names import begins_factor
from tutor.working.runs import RunKind, Scope
from tutor.working.tokens import Kind
from tutor.working.tree import Name, Product

_NUMBER_FIGURES = 2
MOST_CONDITION = 8  # tokens of a condition before a colon


def has_relation(scope: Scope, first: int) -> bool:
    """Whether a relation stands anywhere from a place on, one that is not read here included."""
    return any(
        token.kind is Kind.RELATION or token.fault is LineFault.OTHER_RELATION for token in scope.tokens[first:]
    )


def past_phrase(scope: Scope, place: int, phrases: words.Phrases) -> int:
    """The place after the longest of these phrases; a symbol is never a word of a phrase."""
    for phrase in phrases.get(scope.word(place), ()):
        if all(_spells(scope, place + at, word) for at, word in enumerate(phrase)):
            return place + len(phrase)
    return place


def _spells(scope: Scope, place: int, word: str) -> bool:
    if scope.is_kind(place, Kind.STOP):
        return scope.tokens[place].text == word
    return scope.word(place) == word and not scope.is_symbol(place)


def past_openings(scope: Scope, place: int) -> int:
    """So, hence, therefore, ∴, which gives: set aside, with a comma or a colon after them."""
    while True:
        past = place + 1 if scope.is_kind(place, Kind.SO) else past_phrase(scope, place, words.OPENINGS)
        if past == place:
            return place
        place = past + 1 if scope.is_kind(past, Kind.COMMA, Kind.COLON) else past


def past_marker(scope: Scope, place: int) -> int:
    """The number or letter of a line: (a), a), 2), (2), 2., or a remark in brackets at its start."""
    if scope.is_remark(place):
        return scope.tokens[place].partner + 1
    opened = scope.is_kind(place, Kind.OPEN)
    at = place + 1 if opened else place
    # Small letters number a line although f, ii and vi could be symbols; a capital is a symbol where there is one.
    small = scope.is_kind(at, Kind.RUN) and scope.tokens[at].text in words.LETTERED
    letter = small or (scope.word(at) in words.LETTERED and not scope.is_symbol(at))
    if not letter and not _is_small_number(scope, at):
        return place
    if scope.is_kind(at + 1, Kind.CLOSE) and (opened or scope.tokens[at + 1].partner < 0):
        # (2) R = 5 numbers the line; (2)(3) and (2) + 3 are values.
        goes_on = letter or scope.is_kind(at + 2, Kind.RUN, Kind.SO)
        free = not opened or scope.at(at + 2) is None or (goes_on and _stands_apart(scope, at + 2))
        return at + 2 if free else place
    pointed = not opened and scope.tokens[at].text.endswith(".")
    named = scope.at(at + 1) is None or scope.is_symbol(at + 1) or scope.is_word(at + 1)
    return at + 1 if pointed and named and (scope.at(at + 1) is None or scope.is_gap(at + 1)) else place


def _is_small_number(scope: Scope, place: int) -> bool:
    token = scope.at(place)
    if token is None or token.kind is not Kind.NUMBER or token.numeral is None or token.numeral.letter:
        return False
    digits = token.numeral.digits
    return len(digits) <= _NUMBER_FIGURES and token.text in (digits, digits + ".")


def _stands_apart(scope: Scope, place: int) -> bool:
    """Whether what follows a marker is set apart from it and goes on with no sign."""
    unit = scope.run_kind(place) is RunKind.UNIT
    return scope.is_gap(place) and not unit and not scope.is_kind(place, Kind.SIGN, Kind.RELATION, Kind.POWER)


def past_colon(scope: Scope, place: int) -> int:
    """A label before a colon, the colon included; a relation stands in it only as a condition: at V_I = 18 V: …"""
    at, related = place, False
    while at < len(scope.tokens):
        token = scope.tokens[at]
        if token.fault is LineFault.OTHER_RELATION:
            return place
        related = related or token.kind is Kind.RELATION
        if token.kind is Kind.COLON:
            if related:
                begun = 3 <= at - place <= MOST_CONDITION and scope.tokens[place].kind is not Kind.RELATION
                apart = at + 1 < len(scope.tokens) and scope.is_joined(at) and scope.is_gap(at + 1)
                return at + 1 if begun and apart and has_relation(scope, at + 1) else place
            refuse_ratio(scope, at)
            return at + 1
        at = max(at, token.partner) + 1
    return place


def refuse_ratio(scope: Scope, colon: int) -> None:
    """Broken at 10:1, which is a ratio, whatever else a colon may be."""
    values = (Kind.NUMBER, Kind.CLOSE)
    before = scope.is_kind(colon - 1, *values) or scope.is_symbol(colon - 1)
    tight = scope.is_joined(colon) and scope.is_joined(colon + 1)
    loose = scope.is_gap(colon) and scope.is_kind(colon - 1, Kind.NUMBER) and scope.is_kind(colon + 1, Kind.NUMBER)
    if before and (tight or loose):
        raise scope.broken(LineFault.RATIO, colon - 1, colon + 1)


def past_comma(scope: Scope, place: int) -> int:
    """Words before a comma and a chain after it: at full load, I_Z = 5 mA."""
    if not scope.is_listed(place) and not _is_pronoun(scope, place):
        return place
    at = place
    while at < len(scope.tokens) and scope.tokens[at].kind is not Kind.RELATION:
        if scope.tokens[at].kind is Kind.COMMA:
            return at + 1 if has_relation(scope, at + 1) else place
        at = max(at, scope.tokens[at].partner) + 1
    return place


def is_question(scope: Scope, place: int) -> bool:
    """Whether the line asks: it begins with ?, or with a question word and ends with ?."""
    last = len(scope.tokens) - 1
    while last > place and scope.is_kind(last, Kind.STOP):
        last -= 1
    asks = scope.word(place) in words.QUESTIONS and not scope.is_symbol(place)
    return scope.is_kind(place, Kind.QUESTION) or (asks and scope.is_kind(last, Kind.QUESTION))


def gives_up(scope: Scope, place: int) -> bool:
    """Whether the line gives a hypothesis up: so not, contradiction, hence it is not off."""
    if has_relation(scope, place):
        return False
    said = [scope.word(at) for at in range(place, len(scope.tokens))]
    denied = any(word in words.NOT for word in said)
    if said and said[0] in words.NOT:
        return True
    return (denied and past_openings(scope, place) > place) or any(word in words.RELEASES for word in said)


def past_chooser(scope: Scope, place: int) -> int:
    """The place after choose, take, use, pick, select, let or set, and whoever chooses."""
    at = place
    if scope.word(at) == "let" and scope.word(at + 1) == "us":
        at += 2
    while scope.word(at) in words.CHOOSERS and not scope.is_symbol(at):
        at += 1
    chooses = scope.word(at) in words.CHOICES and not scope.is_symbol(at)
    return at + 1 if chooses else place


def past_chosen(scope: Scope, place: int) -> int:
    """The place after the words between such a verb and what is chosen: a, the nearest E24 value."""
    while scope.is_kind(place, Kind.COLON, Kind.COMMA) or (
        scope.word(place) in words.CHOSEN and not scope.is_symbol(place)
    ):
        place += 1
    return place


def past_leading(scope: Scope, first: int) -> int:
    """The place after words that run into a chain; Broken where they would swallow a part of it."""
    at = first
    while at < len(scope.tokens):
        if scope.is_end(at) and scope.is_symbol(at + 1):
            break
        after = _past_word(scope, at, first)
        if after == at:
            break
        at = after
    if at > first and scope.is_kind(at, Kind.RELATION):
        raise scope.broken(LineFault.WORD, first, first)
    if at > first and scope.word(at - 1) in words.CONDITIONS and at < len(scope.tokens):
        side, past = member_at(scope, at)
        if not isinstance(side, Name) or not scope.is_kind(past, Kind.RELATION) or _runs_on(scope, past + 1):
            raise scope.broken(LineFault.CONDITION, at - 1, at - 1)
    return at


def _runs_on(scope: Scope, place: int) -> bool:
    """Whether a condition and a chain without anything between look like one: when I_L = 0 I_Z = 5 mA."""
    if not begins_factor(scope, place):
        return False
    side, past = member_at(scope, place)
    return isinstance(side, Product) and scope.is_kind(past, Kind.RELATION)


def _past_word(scope: Scope, at: int, first: int) -> int:
    """The place after one more leading word, abbreviation point, hyphen, quotation mark or number of a line."""
    if scope.word(at) in words.WORDS_AND_NAMES and scope.is_symbol(at) and scope.is_kind(at + 1, Kind.RUN):
        if scope.is_symbol(at + 1) and scope.name(at + 1) != scope.name(at):
            raise scope.broken(LineFault.TWO_READINGS, at, at + 1)
        return at + 1 if scope.is_symbol(at + 1) or scope.is_word(at + 1) else at
    function = scope.run_kind(at) is RunKind.FUNCTION
    if function and at == first and scope.is_kind(at + 1, Kind.RELATION):
        return at
    if _is_pronoun(scope, at) or (scope.is_listed(at) if at == first else scope.is_word(at)):
        return at + 1
    if at == first:
        return at
    if scope.is_kind(at, Kind.OTHER) or (scope.is_kind(at, Kind.STOP) and scope.tokens[at].text == "."):
        return at + 1
    hyphen = scope.is_sign(at, "-") and scope.is_joined(at) and scope.is_joined(at + 1)
    if hyphen and scope.is_word(at - 1) and scope.is_word(at + 1):
        return at + 1
    named = scope.word(at - 1)
    if named == "" and scope.is_kind(at - 1, Kind.STOP):
        named = scope.word(at - 2)
    if named in words.NUMBERED and _is_small_number(scope, at) and begins_factor(scope, at + 1):
        return at + 1
    pointed = scope.is_kind(at, Kind.OPEN) and _is_small_number(scope, at + 1) and scope.is_kind(at + 2, Kind.CLOSE)
    return at + 3 if pointed and named in words.REFERRING | words.NUMBERED else at


def _is_pronoun(scope: Scope, place: int) -> bool:
    """`I` before a word is whoever writes."""
    return scope.word(place) == "i" and not scope.is_symbol(place) and scope.is_word(place + 1)


def refuse_hidden_chain(scope: Scope, place: int, chained: bool) -> None:
    """Broken when what follows a chain is no mere remark: a second statement, or words that stand for signs."""
    if place >= len(scope.tokens):
        return
    last = len(scope.tokens) - 1
    listed = scope.is_listed(place)
    if has_relation(scope, place):
        if listed and not chained:
            raise scope.broken(LineFault.WORD, place, place)
        raise scope.broken(LineFault.SECOND_CHAIN, place, last)
    if not any(scope.is_word(at) or scope.is_kind(at, Kind.TICK) for at in range(place, last + 1)):
        raise scope.broken(LineFault.SECOND_CHAIN, place, last)
    if scope.run_kind(place) is RunKind.FUNCTION and begins_factor(scope, place + 1):
        raise scope.broken(LineFault.NO_ARGUMENT, place, place)
    word, valued = scope.word(place), begins_factor(scope, place + 1)
    if listed and (word in words.STRICT_OPERATORS or (valued and word in words.OPERATORS)):
        raise scope.broken(LineFault.WORD_FOR_SIGN, place, place)
    if listed and valued and word in words.JOINERS:
        raise scope.broken(LineFault.SECOND_CHAIN, place, last)


def refuse_hidden_signs(scope: Scope, place: int) -> None:
    """Broken when words that follow a chain without a comma go on reckoning: 5 mA each × 2."""
    for at in range(place, len(scope.tokens)):
        if scope.is_kind(at, Kind.POWER) or (scope.is_kind(at, Kind.SIGN) and begins_factor(scope, at + 1)):
            raise scope.broken(LineFault.WORD, place, place)
