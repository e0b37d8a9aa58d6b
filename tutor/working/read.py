"""Reads one line of a learner's working: labels and words set aside, the chain as trees, or why it cannot be read.

Vocabulary: as in `tree.py`; a *question* is a side left open (I_Z = ?).
Place in the data flow: text and Vocabulary -> Line -> dimensions, truth, findings. Nothing is evaluated and nothing is
raised: a line that does not read is a Line that says so. `site/assets/reader.js` does the same in the browser.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tutor.working import words
from tutor.working.alphabet import is_foreign, is_letter
from tutor.working.around import (
    gives_up,
    has_relation,
    is_question,
    past_chooser,
    past_chosen,
    past_colon,
    past_comma,
    past_leading,
    past_marker,
    past_openings,
    past_phrase,
    refuse_hidden_chain,
    refuse_hidden_signs,
    refuse_ratio,
)
from tutor.working.collisions import NEVER_UNDER
from tutor.working.faults import Broken, LineFault
from tutor.working.members import member_at
from tutor.working.misreadings import misread_of
from tutor.working.names import begins_factor, is_change, past_remarks
from tutor.working.runs import RunKind, Scope, scope_of
from tutor.working.tokens import Kind, tokens_of
from tutor.working.tree import Line, LineKind, Name, Node, Relation, Standing
from tutor.working.vocabulary import Vocabulary

_RISING, _FALLING = "<≤", ">≥"
_RULED = "-=_*.~#+"
_SEPARATORS = (Kind.COMMA, Kind.COLON, Kind.BREAK, Kind.SO, Kind.STOP, Kind.TICK, Kind.QUESTION)


def read_line(text: str, vocabulary: Vocabulary) -> Line:
    """One line as it reads; nothing is raised, whatever the text.

    >>> line = read_line("I_Z = 27m - 9m = 18 mA", Vocabulary(frozenset({"I_Z"})))
    >>> line.kind, [relation.sign for relation in line.relations]
    (<LineKind.CHAIN: 'chain'>, ['=', '='])
    """
    try:
        scope = scope_of(text, tokens_of(text, vocabulary), vocabulary)
        return _read(scope)
    except Broken as broken:
        return Line(LineKind.UNREAD, misread=misread_of(broken, text))


@dataclass(frozen=True)
class _Chain:
    """Members and relations, and the tokens set aside: remarks inside, and all from `past` on."""

    members: tuple[Node, ...]
    relations: tuple[Relation, ...]
    continued: bool
    first: int
    past: int


def _typed(scope: Scope, first: int, past: int) -> str:
    """The text as typed of the tokens from `first` to before `past`."""
    return scope.text[scope.tokens[first].first : scope.tokens[past - 1].past] if past > first else ""


def _joined(*pieces: str) -> str:
    return " ".join(piece for piece in pieces if piece)


def _note(scope: Scope) -> Line:
    return Line(LineKind.NOTE, words=_typed(scope, 0, len(scope.tokens)))


def _read(scope: Scope) -> Line:
    if not scope.tokens:
        return Line(LineKind.BLANK)
    if _is_ruled(scope) or is_question(scope, 0):
        return _note(scope)
    start = past_marker(scope, 0)
    if gives_up(scope, start):
        return Line(LineKind.RELEASE, words=_typed(scope, 0, len(scope.tokens)))
    label = _typed(scope, 0, start)
    while True:
        first = past_openings(scope, start)
        if _is_case(scope, first) or _past_choice(scope, first) > first:
            start = first
            break
        start = past_colon(scope, first)
        if start == first:
            start = past_comma(scope, first)
        if start == first:
            break
        label = _joined(label, _typed(scope, first, start - 1))
    if start >= len(scope.tokens) or is_question(scope, start):
        return _note(scope)
    if _is_case(scope, start):
        return _case(scope, start, label)
    chosen = _past_choice(scope, start)
    if chosen > start:
        return _choice(scope, start, chosen, label)
    return _statement(scope, start, label)


def _is_ruled(scope: Scope) -> bool:
    """Whether the line is a rule drawn with one character: -----."""
    chars = {char for char in scope.text if char != " "}
    return len(chars) == 1 and chars <= set(_RULED) and len(scope.text.replace(" ", "")) > 2


def _is_case(scope: Scope, place: int) -> bool:
    return past_phrase(scope, place, words.HYPOTHESES) > place


def _past_choice(scope: Scope, place: int) -> int:
    """The place after a verb of choosing and its words; the same place when what follows is a law or a label."""
    verb = past_chooser(scope, place)
    if verb == place:
        return place
    chosen = past_chosen(scope, verb)
    if scope.is_word(chosen) and not (scope.is_end(chosen) and scope.is_symbol(chosen + 1)):
        return place
    return chosen


def _statement(scope: Scope, start: int, label: str) -> Line:
    """A chain with the words before and after it; without a relation, often a note."""
    if not has_relation(scope, start):
        return _unrelated(scope, start, label)
    if scope.is_listed(start) and scope.word(start) in words.STRICT_OPERATORS:
        raise scope.broken(LineFault.WORD_FOR_SIGN, start, start)
    first = past_leading(scope, start)
    return _line(scope, _chain_at(scope, first), _joined(label, _typed(scope, start, first)))


def _unrelated(scope: Scope, start: int, label: str) -> Line:
    """A line without a relation: one member alone, or a note to oneself."""
    worded = any(
        (scope.is_word(at) and len(scope.word(at)) > 1) or scope.is_kind(at, Kind.QUESTION, Kind.TICK)
        for at in range(start, len(scope.tokens))
    )
    if scope.word(start + 1) in words.IS and scope.is_kind(start, Kind.RUN) and _is_whole(scope, start + 2):
        raise scope.broken(LineFault.WORD_FOR_SIGN, start + 1, start + 1)
    if worded and not _is_whole(scope, start):
        return _note(scope)
    return _line(scope, _chain_at(scope, start), label)


def _is_whole(scope: Scope, place: int) -> bool:
    """Whether one member reads from a place to the end."""
    try:
        past = member_at(scope, place)[1]
    except Broken:
        return False
    return all(token.kind is Kind.STOP for token in scope.tokens[past:])


def _case(scope: Scope, start: int, label: str) -> Line:
    """A hypothesis: words that name a region, or a chain that is assumed."""
    first = past_phrase(scope, start, words.HYPOTHESES)
    if scope.is_kind(first, Kind.COLON, Kind.COMMA):
        first += 1
    past = len(scope.tokens)
    while past > first and scope.is_kind(past - 1, Kind.STOP):
        past -= 1
    if first >= past:
        return _note(scope)
    if not has_relation(scope, first):
        return Line(LineKind.HYPOTHESIS, label=label, words=_typed(scope, first, past))
    joined = any(scope.word(at) == "then" for at in range(first, past))
    if joined or past_colon(scope, first) > first or past_comma(scope, first) > first:
        raise scope.broken(LineFault.CASE_AND_CHAIN, start, past - 1)
    chain = past_leading(scope, first)
    line = _line(scope, _chain_at(scope, chain), label)
    if line.kind is LineKind.NOTE:
        return line
    return replace(line, kind=LineKind.HYPOTHESIS, words=_joined(_typed(scope, first, chain), line.words))


def _choice(scope: Scope, start: int, chosen: int, label: str) -> Line:
    """A value chosen: choose R = 150 Ω, choose 150 ohm for R, choose a 1 W zener."""
    if has_relation(scope, chosen):
        chain = _chain_at(scope, chosen)
        left = chain.members[0] if chain.members else None
        defines = isinstance(left, Name) and left.standing is Standing.UNKNOWN
        line = _line(scope, chain, label)
        return replace(line, choice=line.kind is LineKind.CHAIN and not defines)
    if scope.is_symbol(chosen):
        name, past = member_at(scope, chosen)
        after = past
        while scope.word(after) in words.CHOSEN_AS:
            after += 1
        if after > past and isinstance(name, Name):
            value, end = member_at(scope, after)
            return _chosen(scope, name, value, (past, after), end, label)
        if scope.is_kind(past - 1, Kind.NUMBER) or not isinstance(name, Name):
            raise scope.broken(LineFault.CHOICE, start, past - 1)
        return _note(scope)
    type_name = scope.run_kind(chosen + 1) is RunKind.STRANGE and scope.is_joined(chosen + 1)
    if not begins_factor(scope, chosen) or type_name:
        return _note(scope)
    value, past = member_at(scope, chosen)
    after = past
    while scope.is_word(after) and scope.word(after) not in words.CHOSEN_FOR:
        after += 1
    if scope.word(after) in words.CHOSEN_FOR and scope.is_symbol(after + 1):
        name, end = member_at(scope, after + 1)
        if isinstance(name, Name):
            return _chosen(scope, name, value, (past, after + 1), end, label)
    return replace(_line(scope, _Chain((value,), (), False, chosen, past), label), choice=True)


def _chosen(scope: Scope, name: Node, value: Node, between: tuple[int, int], end: int, label: str) -> Line:
    """`name = value`, from the words between them."""
    columns = (scope.tokens[between[0]].first + 1, scope.tokens[between[1] - 1].past + 1)
    chain = _Chain((name, value), (Relation(columns, "="),), False, between[0], end)
    return replace(_line(scope, chain, label), choice=True)


def _chain_at(scope: Scope, first: int) -> _Chain:
    """The members and relations from a place on, as far as they go."""
    members: list[Node] = []
    relations: list[Relation] = []
    place, continued = first, scope.is_kind(first, Kind.RELATION)
    while True:
        if scope.is_kind(place, Kind.RELATION):
            token = scope.tokens[place]
            _refuse_turn(scope, relations, place)
            relations.append(Relation((token.first + 1, token.past + 1), token.text))
            place += 1
            if _is_open_side(scope, place):
                return _Chain(tuple(members), tuple(relations[:-1]), continued, first, place - 1)
        elif place > first:
            return _Chain(tuple(members), tuple(relations), continued, first, place)
        defined = _defined_at(scope, place) if place == first else None
        node, place = defined if defined is not None else member_at(scope, place)
        members.append(node)
        place = past_remarks(scope, place)


def _refuse_turn(scope: Scope, relations: list[Relation], place: int) -> None:
    sign = scope.tokens[place].text
    against = _FALLING if sign in _RISING else _RISING if sign in _FALLING else ""
    if any(relation.sign in against for relation in relations):
        raise scope.broken(LineFault.DIRECTIONS, place, place)


def _is_open_side(scope: Scope, place: int) -> bool:
    """Whether a side is left open, as in I_Z = ? or I_Z = …; the line then ends without a further relation."""
    left_open = scope.is_kind(place, Kind.QUESTION, Kind.STOP) and scope.tokens[place].text != "."
    return left_open and not has_relation(scope, place)


def _defined_at(scope: Scope, place: int) -> tuple[Node, int] | None:
    """A new symbol alone on the left of =, := or ≈; Broken when its name is taken by something else."""
    changed = is_change(scope, place) and not scope.is_symbol(place)
    last = place + 1 if changed else place
    kind = scope.run_kind(last)
    relation = scope.at(past_remarks(scope, last + 1))
    if kind is None or kind is RunKind.SYMBOL or relation is None or relation.kind is not Kind.RELATION:
        return None
    token = scope.tokens[last]
    typed = f"Δ{token.text}" if changed else token.text
    if relation.text not in "=≈" or scope.vocabulary.resolve(typed)[1] is not Standing.UNKNOWN:
        return None
    # R and f are units only where they are joined to a number, so a symbol may have those names.
    unit = kind is RunKind.UNIT and token.text not in NEVER_UNDER
    if unit or kind in (RunKind.FUNCTION, RunKind.CONSTANT) or token.text in words.CHANGES:
        raise scope.broken(LineFault.RESERVED, place, last)
    odd = not is_letter(typed[0]) or any(is_foreign(char) for char in typed)
    if kind is RunKind.LISTED or odd or scope.word(last) in words.NOT_FINITE:
        raise scope.unknown(last)
    return Name((scope.tokens[place].first + 1, token.past + 1), typed, Standing.UNKNOWN), last + 1


def _line(scope: Scope, chain: _Chain, label: str) -> Line:
    """The chain as a line, once nothing but words is left beside it."""
    past = chain.past
    aside = [
        _typed(scope, at + 1, scope.tokens[at].partner)
        for at in range(chain.first, past)
        if scope.is_remark(at) and not (scope.is_symbol(at - 1) and scope.is_end(at + 1))
    ]
    if scope.is_kind(past, Kind.RELATION):
        # What was left open: = ? at the end of a chain.
        if len(chain.members) < 2 and not chain.relations:
            return _note(scope)
        aside.append(_typed(scope, past, len(scope.tokens)))
    else:
        aside.append(_after(scope, past, bool(chain.relations)))
    return Line(LineKind.CHAIN, chain.members, chain.relations, chain.continued, False, label, _joined(*aside))


def _after(scope: Scope, past: int, chained: bool) -> str:
    """The words after a chain; Broken when more than words is left."""
    first = past
    while scope.is_kind(past, *_SEPARATORS):
        if scope.is_kind(past, Kind.COLON):
            refuse_ratio(scope, past)
        past += 1
    stopped = past > first or scope.tokens[past - 1].text[-1:] == "."
    if not stopped and past < len(scope.tokens) and not scope.is_listed(past):
        raise scope.unfit(past)
    refuse_hidden_chain(scope, past, chained)
    if not stopped:
        refuse_hidden_signs(scope, past)
    begin = first
    while begin < past and scope.is_kind(begin, Kind.COMMA, Kind.COLON, Kind.BREAK, Kind.SO, Kind.STOP):
        begin += 1
    return _typed(scope, begin, len(scope.tokens))
