"""Names of symbols in a member, with the words and signs that belong to them: I_Z max, the least R, Δ V_O.

Vocabulary: a *factor* is what a product may go on with; a *remark* is a bracket that holds words.
Place in the data flow: called by `members.py`, and by `around.py` and `read.py` to see where a chain begins.
"""

from __future__ import annotations

from tutor.working.runs import RunKind, Scope
from tutor.working.tokens import Kind
from tutor.working.tree import Name, Standing
from tutor.working.words import CHANGES, ENDS


def begins_factor(scope: Scope, place: int) -> bool:
    """Whether a number, a symbol, a function, a root or a bracket of values begins at a place."""
    token = scope.at(place)
    if token is None:
        return False
    if token.kind in (Kind.NUMBER, Kind.FRACTION) or (token.kind is Kind.SIGN and token.text == "√"):
        return True
    if token.kind is Kind.OPEN:
        return not scope.is_remark(place)
    if token.kind is not Kind.RUN:
        return False
    kind = scope.run_kind(place)
    return (
        kind in (RunKind.SYMBOL, RunKind.CONSTANT)
        or (kind is RunKind.FUNCTION and not scope.is_end(place))
        or token.numeral is not None
        or is_change(scope, place)
    )


def is_change(scope: Scope, place: int) -> bool:
    """Whether the sign of a change stands alone before a run: Δ V_O."""
    token = scope.at(place)
    return token is not None and token.text in CHANGES and scope.is_kind(place + 1, Kind.RUN)


def past_remarks(scope: Scope, place: int) -> int:
    """The place after every bracket that holds only words."""
    while scope.is_remark(place):
        place = scope.tokens[place].partner + 1
    return place


def name_at(scope: Scope, first: int, last: int, typed: str) -> tuple[Name, int]:
    """A symbol with the word that names its end, if one follows: I_Z max, V_I (min). Broken where it is none."""
    name, standing = scope.vocabulary.resolve(typed)
    if standing is Standing.UNKNOWN:
        raise scope.unknown_change(first, last, typed)
    past = last + 1
    if standing is Standing.CIRCUIT:
        inside = scope.is_kind(past, Kind.OPEN) and scope.is_kind(past + 2, Kind.CLOSE)
        at = past + 1 if inside else past
        if scope.word(at) in ENDS and (inside or (scope.is_end(at) and scope.is_gap(at))):
            ended = f"{name}_{ENDS[scope.word(at)]}"
            if scope.vocabulary.holds(ended):
                name, past = ended, past + 3 if inside else past + 1
    return Name((scope.tokens[first].first + 1, scope.tokens[past - 1].past + 1), name, standing), past


def ended_name_at(scope: Scope, place: int) -> tuple[Name, int] | None:
    """A symbol after the word that names its end: max I_Z, the least R."""
    if not scope.is_end(place) or not scope.is_symbol(place + 1):
        return None
    name = f"{scope.name(place + 1)}_{ENDS[scope.word(place)]}"
    if not scope.vocabulary.holds(name):
        return None
    return Name((scope.tokens[place].first + 1, scope.tokens[place + 1].past + 1), name, Standing.CIRCUIT), place + 2
