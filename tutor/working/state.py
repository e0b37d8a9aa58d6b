"""What earlier lines of a working leave behind for the later ones.

Vocabulary: the *tail* is head and last member of the chain before, for a line that goes on with it; a *branch* is the
region of a hypothesis; a state is *believed* when the learner has concluded it though it is not the true one.
Place in the data flow: a judged line + WorkingState -> WorkingState.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import islice

from tutor.solution.sheet import SHORTED, UNPLUGGED, Sheet
from tutor.working.chain import TriedChain, head_of, names_in, value_with_unit
from tutor.working.finding import WRONG, Code
from tutor.working.ground import Ground
from tutor.working.hypothesis import region_meant
from tutor.working.judge import JudgedChain
from tutor.working.symbolise import Past, symbolised, ways_to_read
from tutor.working.tree import Exponents, Line, Literal, Name, Node
from tutor.working.vocabulary import Vocabulary

MOST_MEANT = 3  # readings kept of a line of numbers alone


@dataclass(frozen=True)
class WorkingState:
    """What earlier lines left behind; values of `choices` are in SI."""

    past: Past = field(default_factory=Past)
    own_dimensions: Mapping[str, Exponents | None] = field(default_factory=dict)
    own_meant: Mapping[str, Node] = field(default_factory=dict)  # what it was, where a wrong value stands for it
    choices: Mapping[str, float] = field(default_factory=dict)
    doubtful: bool = False
    branch: str = ""
    supposed: bool = False  # a hypothesis of which the sheet knows no region
    tail: tuple[Node, ...] = ()  # head and last member of the chain before, for a line that goes on with it
    tail_true: bool = True
    head: str = ""  # the symbol that the chain before speaks of
    wrong_line: int = 0  # the latest line counted wrong, 0 when none is
    believed: str = ""  # the state the learner has concluded the circuit is in, when it is not the true one


def vocabulary_of(sheet: Sheet) -> Vocabulary:
    """What names mean on the first line."""
    return Vocabulary(frozenset(sheet.symbols), sheet.aliases, (), sheet.decimal_comma)


def state_meant(words: str, sheet: Sheet) -> str:
    """The region of the circuit that words conclude; '' for none, and for another load, which is only ever supposed."""
    region = region_meant(words, sheet)
    return "" if region in (SHORTED, UNPLUGGED) else region


def concluded(line: Line, state: WorkingState, sheet: Sheet) -> WorkingState:
    """What a line's own words conclude: back from a hypothesis, or a state that the learner believes in."""
    region = state_meant(line.words, sheet)
    if not region:
        return state
    return replace(state, branch="", believed="" if region == sheet.region else region)


def after(
    judged: JudgedChain, members: tuple[Node, ...], state: WorkingState, ground: Ground, continued: bool
) -> WorkingState:
    """What a judged line leaves behind: values, relations, parts without a symbol, and what was not true."""
    past = state.past
    head = state.tail[0] if continued else judged.members[0]
    wrong = judged.code in WRONG or judged.code is Code.FOLLOWS
    tail = (head if continued else members[0], members[-1])
    if state.branch:
        # What holds under a hypothesis is not carried out of it.
        return replace(state, tail=tail, tail_true=not wrong)
    values, relations, parts, untrue = dict(past.values), dict(past.relations), past.parts, past.wrong
    if judged.value is not None:
        if wrong:
            untrue = (*untrue, judged.value)
        if isinstance(head, Name):
            values.pop(head.name, None)
            values[head.name] = judged.value
        elif not isinstance(head, Literal):
            parts = (*parts, *((tree, judged.value) for tree in meant_by(head, ground, past)))
    first, *others = judged.chain.statements
    if judged.code is not Code.UNITS:
        relations |= _relation_of(head, first)
    for other in others:
        symbol, value = head_of(other.members), value_with_unit(other)
        if value is not None and symbol is not None:
            values.pop(symbol.name, None)
            values[symbol.name] = value
            untrue = (*untrue, value) if wrong else untrue
        if judged.code is not Code.UNITS:
            relations |= _relation_of(other.members[0], other)
    past = replace(past, values=values, relations=relations, parts=parts, wrong=untrue, slipped=past.slipped or wrong)
    return replace(state, past=past, tail=tail, tail_true=not wrong)


def _relation_of(head: Node, statement: TriedChain) -> Mapping[str, Node]:
    """The first expression that a statement sets its head equal to, or bounds it by."""
    relation = next((item for item in statement.members[1:] if names_in((item,))), None)
    if not isinstance(head, Name) or relation is None or head.name in names_in((relation,)):
        return {}
    return {head.name: relation}


def meant_by(head: Node, ground: Ground, past: Past) -> Iterator[Node]:
    """An expression without a symbol of its own as what later lines may use it for: its numbers read as symbols."""
    if names_in((head,)):
        yield head
        return
    for guess in islice(symbolised(head, ways_to_read(head, ground, past), past), MOST_MEANT):
        if names_in((guess.tree,)):
            yield guess.tree
