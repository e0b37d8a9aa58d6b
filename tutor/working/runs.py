"""What a run of letters is: a symbol, a function, a constant, a word, a unit, or a name nobody knows.

Vocabulary: a *plain* run looks like a word but is not listed; a *strange* one is neither. A *remark* is a bracket that
holds words.
Place in the data flow: asked by `literals.py`, `members.py` and `read.py` about the tokens of one line.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from tutor.errors import nearest
from tutor.quantities.misread import prefix_powers, tokens
from tutor.working.alphabet import is_foreign, is_name_char, lowered
from tutor.working.faults import Broken, LineFault
from tutor.working.tokens import Kind, Token
from tutor.working.tree import Standing
from tutor.working.vocabulary import MOST_NAME, Vocabulary
from tutor.working.words import CONSTANTS, ENDS, FUNCTIONS, JOINERS, LISTED, NOT_FINITE, OPERATORS, SERIES


class RunKind(Enum):
    """What a run is where no number stands before it."""

    SYMBOL = "symbol"
    FUNCTION = "function"
    CONSTANT = "constant"
    UNIT = "unit"
    LISTED = "listed"
    PLAIN = "plain"
    STRANGE = "strange"


WORDS = (RunKind.LISTED, RunKind.PLAIN)
# After these a prefix that stands apart belongs to the number before it.
_ENDERS = (
    Kind.POWER, Kind.RELATION, Kind.CLOSE, Kind.COMMA, Kind.COLON, Kind.BREAK, Kind.STOP, Kind.SO, Kind.QUESTION,
    Kind.TICK,
)  # fmt: skip


@dataclass(frozen=True)
class Scope:
    """The tokens of one line, and of each run its text in small letters, its name and standing, and its kind; '' and
    None for other tokens."""

    text: str
    tokens: tuple[Token, ...]
    vocabulary: Vocabulary
    said: tuple[str, ...]
    names: tuple[tuple[str, Standing] | None, ...]
    kinds: tuple[RunKind | None, ...]

    def at(self, place: int) -> Token | None:
        """The token at a place, None past either end."""
        return self.tokens[place] if 0 <= place < len(self.tokens) else None

    def is_sign(self, place: int, *signs: str) -> bool:
        """Whether one of these signs stands at a place."""
        token = self.at(place)
        return token is not None and token.kind is Kind.SIGN and token.text in signs

    def is_kind(self, place: int, *kinds: Kind) -> bool:
        """Whether a token of one of these kinds stands at a place."""
        token = self.at(place)
        return token is not None and token.kind in kinds

    def word(self, place: int) -> str:
        """The run at a place in small letters, '' when no run stands there."""
        return self.said[place] if 0 <= place < len(self.said) else ""

    def run_kind(self, place: int) -> RunKind | None:
        """What the run at a place is; None when no run stands there."""
        return self.kinds[place] if 0 <= place < len(self.kinds) else None

    def is_symbol(self, place: int) -> bool:
        """Whether the circuit's or the learner's own symbol stands at a place."""
        return self.run_kind(place) is RunKind.SYMBOL

    def is_unit(self, place: int, code: str) -> bool:
        """Whether the run at a place spells a certain unit, with any prefix, and no symbol."""
        token = self.at(place)
        found = tokens().get(token.text) if token is not None and not self.is_symbol(place) else None
        return found is not None and found.code == code

    def name(self, place: int) -> str:
        """The name of the symbol at a place, as the table has it."""
        found = self.names[place]
        return found[0] if found is not None else ""

    def is_word(self, place: int) -> bool:
        """Whether a word stands at a place: listed, plain, or `max` and `min` without brackets after them."""
        kind = self.run_kind(place)
        return kind in WORDS or (kind is RunKind.FUNCTION and self.is_end(place))

    def is_listed(self, place: int) -> bool:
        """Whether a listed word stands at a place."""
        kind = self.run_kind(place)
        return kind is RunKind.LISTED or (kind is RunKind.FUNCTION and self.is_end(place))

    def is_end(self, place: int) -> bool:
        """Whether a word for an end of a range stands at a place, and not the function of that name."""
        token, follows = self.at(place), self.at(place + 1)
        if token is None or self.word(place) not in ENDS or self.is_symbol(place):
            return False
        if follows is None or follows.kind is not Kind.OPEN:
            return True
        # Not `is_remark`, which asks this in turn: nesting would double the work each time.
        return follows.first > token.past and self.run_kind(place + 2) in WORDS

    def is_gap(self, place: int) -> bool:
        """Whether a blank stands before the token at a place."""
        return place > 0 and self.tokens[place].first > self.tokens[place - 1].past

    def is_joined(self, place: int) -> bool:
        """Whether the token at a place follows the one before it without a blank."""
        return 0 < place < len(self.tokens) and self.tokens[place].first == self.tokens[place - 1].past

    def is_remark(self, place: int) -> bool:
        """Whether a bracket that holds words opens at a place; Broken when a relation stands among them."""
        token = self.at(place)
        if token is None or token.kind is not Kind.OPEN or token.partner < 0:
            return False
        if self.line_number_gap(place) > 1 or self._is_range(place):
            return True
        listed = self.is_listed(place + 1) or self.word(place + 1) in SERIES or self.is_kind(place + 1, Kind.TICK)
        if not listed and not (self.is_word(place + 1) and self.is_word(place + 2)):
            return self.is_kind(place + 1, Kind.RELATION) and self._breaks(place)
        if any(one.kind is Kind.RELATION for one in self.tokens[place + 1 : token.partner]):
            return self._breaks(place)
        # (plus 3) goes on reckoning.
        valued = self.is_symbol(place + 2) or self.is_kind(place + 2, Kind.NUMBER, Kind.FRACTION, Kind.OPEN)
        return not (valued and self.word(place + 1) in OPERATORS | JOINERS)

    def _is_range(self, place: int) -> bool:
        """Whether a bracket after a value holds a range and no relation: R = 180 Ω (171 Ω to 189 Ω)."""
        inside = range(place + 1, self.tokens[place].partner)
        ranged = any(self.word(at) == "to" or self.tokens[at].text == "…" for at in inside)
        return place > 0 and ranged and not any(self.tokens[at].kind is Kind.RELATION for at in inside)

    def line_number_gap(self, place: int) -> int:
        """How far a whole number in brackets that ends a chain stands apart: V_O = 9 V    (2); 0 for anything else."""
        inner, follows = self.at(place + 1), self.at(place + 3)
        if inner is None or inner.numeral is None or inner.kind is not Kind.NUMBER:
            return 0
        if follows is not None and follows.kind not in (Kind.COMMA, Kind.BREAK, Kind.STOP, Kind.TICK):
            return 0
        whole = place > 0 and inner.numeral.whole and self.tokens[place].partner == place + 2
        return self.tokens[place].first - self.tokens[place - 1].past if whole else 0

    def _breaks(self, place: int) -> bool:
        inner, close = self.tokens[place + 1], self.tokens[self.tokens[place].partner]
        raise Broken(LineFault.SECOND_CHAIN, inner.first, close.first)

    def is_ender(self, place: int) -> bool:
        """Whether what stands at a place goes on with no product: a sign, a relation, a bracket closing, a word, the
        end."""
        token = self.at(place)
        if token is None or token.kind in _ENDERS:
            return True
        if token.kind is Kind.SIGN:
            return token.text != "√"
        return self.is_listed(place) or self.is_remark(place)

    def broken(self, fault: LineFault, first: int, last: int, near: str = "") -> Broken:
        """The fault about the tokens from `first` to `last`."""
        return Broken(fault, self.tokens[first].first, self.tokens[last].past, near)

    def unknown(self, place: int) -> Broken:
        """What is wrong with a run that is nothing where a symbol or a number belongs."""
        token = self.tokens[place]
        if self.word(place) in NOT_FINITE:
            return self.broken(LineFault.NOT_FINITE, place, place)
        kind = self.run_kind(place)
        if kind is not RunKind.LISTED:
            near = self._near(token.text)
            if near is not None:
                return self.broken(LineFault.UNKNOWN_SYMBOL, place, place, near)
        # A word with a bracket joined on is meant as a function.
        called = self.is_kind(place + 1, Kind.OPEN) and self.is_joined(place + 1)
        return self.broken(LineFault.WORD if kind in WORDS and not called else LineFault.UNKNOWN_NAME, place, place)

    def unknown_after_number(self, place: int) -> Broken:
        """What is wrong with a run that is nothing, directly after a number: a unit or a symbol mistyped."""
        text = self.tokens[place].text
        symbol = "_" in text[1:-1] or (
            self.is_gap(place)
            and not any(text[:past] in tokens() for past in range(2, len(text)))
            and self._near(text) is not None
        )
        if symbol or self.run_kind(place) is RunKind.PLAIN:
            return self.unknown(place)
        return self.broken(LineFault.UNKNOWN_UNIT, place, place)

    def unknown_change(self, first: int, last: int, typed: str) -> Broken:
        """What is wrong with a change of a symbol that is none."""
        if first == last:
            return self.unknown(first)
        near = self._near(typed)
        return self.broken(
            LineFault.UNKNOWN_NAME if near is None else LineFault.UNKNOWN_SYMBOL, first, last, near or ""
        )

    def unfit(self, place: int) -> Broken:
        """What is wrong where a number, a symbol or a bracket belongs and none stands."""
        token, before = self.at(place), self.at(place - 1)
        if token is not None and token.kind is Kind.BAD and token.fault is not None:
            return self.broken(token.fault, place, place)
        waiting = before is not None and before.kind in (Kind.SIGN, Kind.RELATION, Kind.OPEN)
        if token is None:
            return self.broken(LineFault.NOTHING_AFTER if waiting else LineFault.CHARACTER, place - 1, place - 1)
        if token.kind in (Kind.SIGN, Kind.POWER):
            both = before is not None and before.kind is Kind.SIGN
            return self.broken(LineFault.TWO_OPERATORS if both else LineFault.NOTHING_BEFORE, place - both, place)
        if token.kind is Kind.RELATION and before is not None and before.kind is Kind.RELATION:
            return self.broken(LineFault.TWO_RELATIONS, place - 1, place)
        if token.kind is Kind.CLOSE and token.partner < 0 and (before is None or before.kind is not Kind.SIGN):
            return self.broken(LineFault.CLOSE_BRACKET, place, place)
        if waiting and token.kind is not Kind.OTHER:
            return self.broken(LineFault.NOTHING_AFTER, place - 1, place - 1)
        if token.kind is Kind.RELATION:
            return self.broken(LineFault.NOTHING_BEFORE, place, place)
        if token.kind is Kind.RUN:
            return self.unknown(place)
        return self.broken(LineFault.CHARACTER, place, place)

    def _near(self, typed: str) -> str | None:
        if len(typed) > MOST_NAME or not all(is_name_char(char) for char in typed):
            return None
        return nearest(typed, (*self.vocabulary.symbols, *self.vocabulary.own))


def scope_of(text: str, tokens_: list[Token], vocabulary: Vocabulary) -> Scope:
    """The scope of one line: every name is looked up once."""
    said = tuple(lowered(token.text) if token.kind is Kind.RUN else "" for token in tokens_)
    names = tuple(vocabulary.resolve(token.text) if token.kind is Kind.RUN else None for token in tokens_)
    kinds = tuple(
        None if name is None else _kind(token.text, small, name[1])
        for token, small, name in zip(tokens_, said, names, strict=True)
    )
    return Scope(text, tuple(tokens_), vocabulary, said, names, kinds)


def _kind(text: str, small: str, standing: Standing) -> RunKind:
    if standing is not Standing.UNKNOWN:
        return RunKind.SYMBOL
    if small in FUNCTIONS:
        return RunKind.FUNCTION
    if text in CONSTANTS:
        return RunKind.CONSTANT
    if small in LISTED:
        return RunKind.LISTED
    if text in tokens() or text in prefix_powers():
        return RunKind.UNIT
    return RunKind.PLAIN if _looks_like_a_word(text) else RunKind.STRANGE


def _looks_like_a_word(text: str) -> bool:
    """Three small letters or more, or any character that no symbol has."""
    if any(is_foreign(char) for char in text):
        return True
    small = all("a" <= char <= "z" or char == "'" for char in text)
    return small and len(text) > 2 and text[0] != "'" and text[-1] != "'"
