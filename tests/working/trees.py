"""Trees read from text, for the tests of what is done with trees."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from tests.solution.at_hand import sheet
from tutor.working.amount import Amount, work_out
from tutor.working.read import read_line
from tutor.working.tree import Literal, Node, Relation
from tutor.working.vocabulary import Vocabulary

# A circuit's worth of symbols, for trees that belong to no problem.
SYMBOLS = frozenset(
    {"V_I", "V_Z", "V_O", "I_Z", "I_L", "I_R", "I_B", "R", "R_L", "P_Z", "P_R", "h_FE", "T_J", "T_A", "S_V", "eta"}
)


def chain(text: str, name: str = "") -> tuple[tuple[Node, ...], tuple[Relation, ...]]:
    """Members and relations of a line, by the symbols of a problem or of the list above."""
    vocabulary = Vocabulary(frozenset(sheet(name).symbols), sheet(name).aliases) if name else Vocabulary(SYMBOLS)
    line = read_line(text, vocabulary)
    assert line.misread is None, (text, line.misread)
    assert line.members, text
    return line.members, line.relations


@cache
def member(text: str, name: str = "") -> Node:
    """The tree of one member."""
    ((found,), _) = chain(text, name)
    return found


def exact(literal: Literal) -> Amount:
    """A number taken as it stands."""
    value = literal.meanings[0].value
    return Amount(value, 0.0, abs(value))


def value_of(node: Node, values: Mapping[str, float]) -> float | None:
    """What a tree comes to with these values of its symbols."""
    found = work_out(node, lambda name: values.get(name), exact)
    return None if found is None else found.value
