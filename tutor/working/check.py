"""A learner's whole working -> a finding for each line, by any valid route.

Vocabulary: the *state* is what earlier lines left behind: values, wrong relations, own symbols, choices, a hypothesis.
Place in the data flow: text + Sheet -> Checked -> marks, terminal, pages. Nothing a learner writes raises an error.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from tutor.solution.sheet import Sheet
from tutor.solution.solution import Check
from tutor.working.alphabet import lines_in
from tutor.working.approximation import Others
from tutor.working.chain import head_of, names_in
from tutor.working.choice import bounds_of, chosen_part, is_end_of_taken, judge_choice
from tutor.working.dimension_check import clash_in, dimension_of_member
from tutor.working.faults import LineFault
from tutor.working.finding import WRONG, Code, Finding, first_wrong
from tutor.working.ground import Around, Ground, Same
from tutor.working.hypothesis import region_meant
from tutor.working.judge import OWN_VALUES, JudgedChain, Stand, judge_chain
from tutor.working.margins import margins_in
from tutor.working.read import read_line
from tutor.working.sayings import say
from tutor.working.shown import for_marks, told_of
from tutor.working.state import WorkingState, after, concluded, meant_by, state_meant, vocabulary_of
from tutor.working.symbolise import Past
from tutor.working.tree import (
    Line,
    LineKind,
    Literal,
    Misread,
    Name,
    Node,
    Relation,
    Standing,
    equates,
    outgrows,
    placed,
    with_leaves,
)
from tutor.working.vocabulary import Vocabulary

MOST_LINES = 400
MOST_STATEMENTS = 4  # on one line
MOST_SHEETS = 8  # whose grounds stay at hand
MOST_KEPT = 4096  # lines judged on one of them


@dataclass(frozen=True)
class Checked:
    """The findings, one a line that is not blank, the number of the first line counted wrong (None: none is), and the
    margins of the learner's own design where one was chosen."""

    findings: tuple[Finding, ...]
    first_wrong: int | None
    margins: tuple[Check, ...] = ()


class _Grounds:
    """Grounds by state and choices, and lines judged before: what surrounds a sheet is worked out once, and a working
    that begins as another did, or as it stood before a line was mended, is judged from where they part."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.start = WorkingState()
        self._vocabulary = vocabulary_of(sheet)
        self._forget()

    def _forget(self) -> None:
        """Begin anew."""
        self._lines: dict[tuple[int, int, str], tuple[WorkingState, Finding | None, WorkingState]] = {}
        self._around = {"": Around(self.sheet, self.sheet.recipe)}
        self._others = tuple((item, Around(self.sheet, item.recipe)) for item in self.sheet.conventions)
        self._grounds: dict[tuple[str, tuple[tuple[str, float], ...]], tuple[Ground, Others]] = {}

    def vocabulary(self, state: WorkingState) -> Vocabulary:
        """What names mean on the next line."""
        own = tuple(state.past.own)
        return replace(self._vocabulary, own=own) if own else self._vocabulary

    def judged(self, number: int, typed: str, state: WorkingState) -> tuple[Finding | None, WorkingState]:
        """The finding on a line after that state, and the state it leaves behind."""
        key = (id(state), number, typed)  # a state that is kept stays that one
        if key not in self._lines:
            finding, left = _judge_line(read_line(typed, self.vocabulary(state)), number, typed, state, self)
            if finding is not None and finding.code in WRONG:
                left = replace(left, wrong_line=number)
            if len(self._lines) >= MOST_KEPT:
                self._forget()
            self._lines[key] = (state, finding, left)
        _, finding, left = self._lines[key]
        return finding, left

    def under(self, branch: str, choices: Mapping[str, float]) -> tuple[Ground, Others]:
        """The ground of a state ('' the problem's own) with the learner's choices, and those of other conventions."""
        key = (branch, tuple(choices.items()))
        if key not in self._grounds:
            if branch not in self._around:
                meant = next(item for item in self.sheet.branches if item.region == branch)
                self._around[branch] = Around(self.sheet, meant.recipe, meant.sets)
            others = tuple((item, Ground(around, choices)) for item, around in self._others) if not branch else ()
            self._grounds[key] = (Ground(self._around[branch], choices), others)
        return self._grounds[key]


@lru_cache(maxsize=MOST_SHEETS)
def _grounds_of(sheet: Same[Sheet]) -> _Grounds:
    return _Grounds(sheet.item)


def check_working(text: str, sheet: Sheet) -> Checked:
    """The finding on each line of a working. Never raises for what was typed."""
    grounds = _grounds_of(Same(sheet))
    state = grounds.start
    findings: list[Finding] = []
    for number, typed in enumerate(lines_in(text)[:MOST_LINES], 1):
        finding, state = grounds.judged(number, typed, state)
        if finding is not None:
            findings.append(finding)
    return Checked(tuple(findings), first_wrong(findings), margins_in(grounds.under("", state.choices)[0]))


def _judge_line(
    line: Line, number: int, typed: str, state: WorkingState, grounds: _Grounds
) -> tuple[Finding | None, WorkingState]:
    if line.kind is LineKind.BLANK:
        return None, replace(state, branch="", supposed=False, tail=())
    if line.kind is LineKind.UNREAD:
        assert line.misread is not None
        found = Finding(number, typed, Code.UNREAD, line.misread.sentence, line.misread.columns)
        return found, _all_the_same(line.misread, typed, state, grounds)
    if line.kind in (LineKind.NOTE, LineKind.RELEASE):
        return _note(line, number, typed, state, grounds)
    if line.kind is LineKind.HYPOTHESIS:
        return _hypothesis(line, number, typed, state, grounds)
    return _chain(line, number, typed, state, grounds)


def _all_the_same(misread: Misread, typed: str, state: WorkingState, grounds: _Grounds, depth: int = 0) -> WorkingState:
    """Two statements on one line are asked for one a line, but what they say is not lost to the lines that follow."""
    state = replace(state, tail=())
    if misread.fault != LineFault.SECOND_CHAIN.value or depth > MOST_STATEMENTS:
        return state
    start = misread.columns[0] - 1
    for piece in (typed[:start].rstrip(" ,;"), typed[start:]):
        line = read_line(piece, grounds.vocabulary(state))
        if line.misread is not None:
            if piece != typed:
                state = _all_the_same(line.misread, piece, state, grounds, depth + 1)
        else:
            state = _judge_line(line, 0, piece, state, grounds)[1]
    return replace(state, tail=())


def _note(line: Line, number: int, typed: str, state: WorkingState, grounds: _Grounds) -> tuple[Finding, WorkingState]:
    held = bool(state.branch) or state.supposed
    ended = held and (line.kind is LineKind.RELEASE or bool(state_meant(line.words, grounds.sheet)))
    left = concluded(line, replace(state, branch="", supposed=False) if ended else state, grounds.sheet)
    return Finding(number, typed, Code.NOTE, say("back" if ended else "noted")), left


def _hypothesis(
    line: Line, number: int, typed: str, state: WorkingState, grounds: _Grounds
) -> tuple[Finding, WorkingState]:
    region = region_meant(line.words or line.label, grounds.sheet)
    if line.members and not region:
        finding, left = _chain(replace(line, kind=LineKind.CHAIN), number, typed, state, grounds)
        assert finding is not None
        if finding.code in WRONG:
            finding = replace(finding, code=Code.NOTE, why=say("assumption"), columns=None, slip=())
        return finding, left
    branches = {item.region: item.words for item in grounds.sheet.branches}
    if region in branches:
        why = say("as-if", words=branches[region])
        return Finding(number, typed, Code.NOTE, why), replace(state, branch=region, supposed=False, tail=())
    # A state that the sheet does not know: what does not hold of the circuit as it is may hold under it.
    return Finding(number, typed, Code.NOTE, say("not-held")), replace(state, branch="", supposed=True, tail=())


def _chain(
    line: Line, number: int, typed: str, state: WorkingState, grounds: _Grounds
) -> tuple[Finding | None, WorkingState]:
    members, relations = line.members, line.relations
    if line.continued:
        if not state.tail:
            return Finding(number, typed, Code.UNREAD, say("no-line-before"), (1, len(typed) + 1)), state
        members = (state.tail[-1], *members)
    own = state.past.own
    if outgrows(members, own):
        return Finding(number, typed, Code.UNREAD, say("outgrown"), (1, len(typed) + 1)), replace(state, tail=())
    ground, others = grounds.under(state.branch, state.choices)
    stand = Stand(ground, state.past, state.own_dimensions, state.doubtful, others)
    head = members[0]
    if isinstance(head, Name) and head.standing is Standing.UNKNOWN and relations:
        return _definition(head, members, relations, number, typed, state, stand)
    put = tuple(_with_own(member, own) for member in members)
    # What is chosen is built, whatever is supposed for the moment.
    choice = _choice(line, put, relations, number, typed, state, grounds.under("", state.choices)[0])
    if choice is not None:
        return choice
    if not relations:
        clash = clash_in(put, (), stand.dimension_of)
        if clash is not None:
            return Finding(number, typed, Code.UNITS, clash.sentence, clash.columns), state
        left = replace(state, tail=put, head=_head_name(put), tail_true=True)
        return Finding(number, typed, Code.NOTE, say("nothing-said")), left
    judged = judge_chain(put, relations, stand)
    if judged.code in WRONG and any(name in state.own_meant for name in names_in(members)):
        # By the value that the learner goes on with it fails: what the symbol was set equal to may still make it true.
        meant = tuple(_with_own(member, {**own, **state.own_meant}) for member in members)
        other = judge_chain(meant, relations, stand)
        judged = judged if other.code in WRONG else replace(other, members=judged.members)
    state, judged = _in_another_state(judged, put, relations, state, stand, grounds)
    if line.continued and not state.tail_true and judged.code in (Code.HOLDS, Code.HOLDS_HERE):
        judged = replace(judged, code=Code.FOLLOWS, why=say("goes-on"))
    if line.choice and judged.code is Code.FAILS and isinstance(head, Name) and head.name not in ground.sheet.given:
        judged = replace(judged, code=Code.NOTE, why=say("your-own"), columns=None)
    if state.supposed and judged.code is Code.FAILS:
        judged = replace(judged, code=Code.NOTE, why=say("not-judged"), columns=None, slip=())
    told = judged if line.continued else told_of(judged, ground.sheet.asked)
    found = _finding(told, number, typed, state)
    found = replace(found, key=state.head if line.continued else found.key, assumed=bool(state.branch))
    found = for_marks(found, told, grounds.under("", state.choices)[0])
    left = replace(after(judged, put, state, ground, line.continued), head=found.key)
    return found, concluded(line, left, grounds.sheet)


def _in_another_state(
    judged: JudgedChain,
    members: tuple[Node, ...],
    relations: tuple[Relation, ...],
    state: WorkingState,
    stand: Stand,
    grounds: _Grounds,
) -> tuple[WorkingState, JudgedChain]:
    """A line that fails is held against the circuit as it is (leaving a hypothesis), or as the learner believes it."""
    if judged.code is not Code.FAILS:
        return state, judged
    if state.branch:
        ground, others = grounds.under("", state.choices)
        other = judge_chain(members, relations, replace(stand, ground=ground, others=others))
        return (replace(state, branch=""), other) if other.code not in WRONG else (state, judged)
    if state.believed:
        ground, others = grounds.under(state.believed, state.choices)
        other = judge_chain(members, relations, replace(stand, ground=ground, others=others))
        if other.code not in WRONG:
            words = next(item.words for item in grounds.sheet.branches if item.region == state.believed)
            return state, replace(other, code=Code.FOLLOWS, why=say("as-concluded", words=words))
    return state, judged


def _with_own(node: Node, own: Mapping[str, Node]) -> Node:
    def leaf(item: Literal | Name) -> Node:
        meant = own.get(item.name) if isinstance(item, Name) and item.standing is Standing.OWN else None
        return item if meant is None else placed(meant, item.columns)

    return with_leaves(node, leaf)


def _finding(judged: JudgedChain, number: int, typed: str, state: WorkingState) -> Finding:
    code, why = judged.code, judged.why
    if state.branch and code is Code.HOLDS:
        code = Code.HOLDS_HERE
    if state.branch and code is Code.HOLDS_HERE:
        why = "; ".join(item for item in (why, say("under-assumption")) if item)
    if code is Code.FOLLOWS and state.wrong_line:
        why = why.replace(OWN_VALUES, say("from-line", number=state.wrong_line))
    head = _head_name(judged.members)
    return Finding(number, typed, code, why, judged.columns, judged.slip, head, judged.value)


def _head_name(members: tuple[Node, ...]) -> str:
    """The symbol a chain speaks of, '' when it speaks of none."""
    head = head_of(members)
    return "" if head is None else head.name


def _definition(
    head: Name,
    members: tuple[Node, ...],
    relations: tuple[Relation, ...],
    number: int,
    typed: str,
    state: WorkingState,
    stand: Stand,
) -> tuple[Finding, WorkingState]:
    """A new symbol alone on the left: defined when its own chain is sound."""
    put = tuple(_with_own(member, state.past.own) for member in members[1:])
    if not equates(relations[0].sign):
        return Finding(number, typed, Code.UNREAD, say("no-meaning-yet", name=head.name), head.columns), state
    clash = clash_in(put, relations[1:], stand.dimension_of)
    if clash is not None:
        return Finding(number, typed, Code.UNITS, clash.sentence, clash.columns), state
    code, why, value = Code.DEFINES, say("defined", name=head.name), None
    judged: JudgedChain | None = None
    if len(put) > 1:
        judged = judge_chain(put, relations[1:], stand)
        value = judged.value
        if judged.code in WRONG:
            code, why = judged.code, judged.why
    # A value that its own working does not give is the value the learner goes on with.
    meaning = put[-1] if code is Code.FAILS and isinstance(put[-1], Literal) else put[0]
    own = {**state.past.own, head.name: meaning}
    dimensions = {**state.own_dimensions, head.name: dimension_of_member(meaning, stand.dimension_of)}
    found = Finding(
        number, typed, code, why, judged.columns if judged and code is not Code.DEFINES else None,
        judged.slip if judged and code is not Code.DEFINES else (), "", value,
    )  # fmt: skip
    parts = state.past.parts if value is None else (*state.past.parts, (meaning, value))
    past = replace(state.past, own=own, parts=parts)
    if value is not None and meaning is not put[0]:
        meant = tuple((tree, value) for tree in meant_by(put[0], stand.ground, state.past))
        past = replace(past, parts=(*parts, *meant), wrong=(*past.wrong, value), slipped=True)
    left = replace(state, past=past, own_dimensions=dimensions, tail=(meaning, put[-1]), head="", tail_true=True)
    if meaning is not put[0]:
        left = replace(left, own_meant={**state.own_meant, head.name: put[0]})
    return found, left


def _choice(
    line: Line,
    members: tuple[Node, ...],
    relations: tuple[Relation, ...],
    number: int,
    typed: str,
    state: WorkingState,
    ground: Ground,
) -> tuple[Finding, WorkingState] | None:
    """A line that chooses a part value: said with a verb, or a bare statement of one."""
    if any(not equates(relation.sign) for relation in relations):
        return None
    if not line.choice and not (relations and _is_bare_choice(line, members, relations, ground, state.past)):
        return None
    return _take(members, number, typed, state, ground)


def _take(
    members: tuple[Node, ...], number: int, typed: str, state: WorkingState, ground: Ground
) -> tuple[Finding, WorkingState] | None:
    found = chosen_part(members, ground.sheet, tuple(state.choices))
    if found is None:
        return None
    choice, value = found
    chosen = judge_choice(choice, value, ground, state.past)
    fits = chosen.code is Code.CHOICE_OK
    columns = members[-1].columns if chosen.code is Code.CHOICE_BAD else None
    finding = Finding(number, typed, chosen.code, chosen.why, columns, chosen.slip, choice.key, value, chosen=True)
    choices = {**state.choices, choice.key: value}
    wrong = state.past.wrong if fits else (*state.past.wrong, value)
    values = {**state.past.values, choice.key: value}
    past = replace(state.past, values=values, wrong=wrong, slipped=state.past.slipped or not fits)
    left = replace(
        state, choices=choices, doubtful=not fits, past=past, tail=members, head=choice.key, tail_true=fits
    )  # fmt: skip
    return finding, left


def _is_bare_choice(
    line: Line, members: tuple[Node, ...], relations: tuple[Relation, ...], ground: Ground, past: Past
) -> bool:
    """`R = 130 Ω` without a verb is a choice, unless it is one of the bounds or an end of the part taken before."""
    head, value = members[0], members[-1]
    if len(members) != 2 or line.continued or not isinstance(head, Name) or not isinstance(value, Literal):
        return False
    choice = next((item for item in ground.sheet.choices if head.name in (item.key, item.quantity)), None)
    if choice is None:
        return False
    bounds = bounds_of(choice, ground)
    known = [bounds.low, bounds.high, past.values.get(choice.low), past.values.get(choice.high)]
    written = value.meanings[0].value
    if is_end_of_taken(choice, written, ground, past):
        return False
    return not any(item is not None and abs(written - item) <= 0.01 * abs(item) for item in known)
