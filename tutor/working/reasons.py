"""Why a line fails, where that is known: a slip of the problem, another convention, or an ordinary slip of the trade.

Vocabulary: a *reason* is a sentence without its full stop, the columns it is about, and the ids of known slips. Known
slips come first, then what the line's own arithmetic shows, then single edits that would make it true.
Place in the data flow: a failed chain + Ground + Past -> Reason.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import accumulate, islice

from tutor.quantities.quantity import write
from tutor.solution.sheet import SheetSlip
from tutor.working.amount import Amount, work_out
from tutor.working.approximation import Others
from tutor.working.bands import RESULT_BAND
from tutor.working.bounds import BOUND_ENDS, TURNED
from tutor.working.chain import (
    SideKind,
    TriedChain,
    head_of,
    kind_of,
    links_of,
    literals_in,
    names_in,
    plain_amount,
)
from tutor.working.dimension_check import LEFT_OUT
from tutor.working.edits import Edit, edits_of
from tutor.working.follow import follows
from tutor.working.ground import Ground, Place, value_in
from tutor.working.sayings import plain, say
from tutor.working.symbolise import (
    Past,
    borne_out,
    exponents_of,
    symbolised,
    unit_of,
    values_of,
    ways_to_read,
    with_one_as,
)
from tutor.working.tree import Columns, Literal, Minus, Name, Node, equates, without_extreme
from tutor.working.truth import Effort, adds_up, is_between_symbols, true_here, true_of_circuit

SLIP_BAND = 0.012  # of a slip's value: this near it a result counts as that slip
GENERAL_BAND = 0.012
MOST_EDITS = 160  # edits tried on one line
MOST_PLACES = 500  # tried for each kind of reason
POWERS = (-12, -9, -6, -3, -2, -1, 1, 2, 3, 6, 9, 12)
ROOT_TWO = 2**0.5


@dataclass(frozen=True)
class Reason:
    """Why a line fails, in plain text; the columns; ids of slips of the problem or of the trade."""

    why: str
    columns: Columns | None
    slip: tuple[str, ...] = ()


def reason_for(question: TriedChain, ground: Ground, past: Past, others: Others) -> Reason:
    """The likeliest reason for a failed chain; of several statements that of the first which fails by itself."""
    if len(question.statements) > 1:
        for statement in question.statements:
            if not _stands(statement, ground, past, others):
                return reason_for(statement, ground, past, others)
        return _plainly(_compared(question), ground)
    for finder in (_named_slip, _arithmetic):
        found = finder(question, ground)
        if found is not None:
            return found
    for convention, other in others:
        if _right_under(question, other):
            why = say("other-convention", title=plain(convention.title))
            return Reason(why, question.members[-1].columns, (f"{convention.id}={convention.value}",))
    for reason in (_general(question, ground), _edited(question, ground, past), _copied(question, ground, past)):
        if reason is not None:
            return reason
    return _plainly(question, ground)


def _stands(statement: TriedChain, ground: Ground, past: Past, others: Others) -> bool:
    """Whether a statement alone is true, or right with the learner's own values; a symbol alone says nothing wrong."""
    if not statement.relations:
        return True
    symbols = all(kind is SideKind.SYMBOLS for kind in statement.kinds)
    true = _untrue_relation(statement, ground) is None and (symbols or true_here(statement, ground) is not None)
    return true or follows(statement, ground, past, others) is not None


def _compared(question: TriedChain) -> TriedChain:
    """What a chain of several statements compares: their heads, in their order."""
    heads = tuple(head for statement in question.statements if (head := head_of(statement.members)) is not None)
    places = accumulate(len(statement.members) for statement in question.statements[:-1])
    return TriedChain(heads, tuple(question.relations[place - 1] for place in places))


def _right_under(question: TriedChain, other: Ground) -> bool:
    if all(kind_of(member) is SideKind.SYMBOLS for member in question.members):
        names = names_in(question.members)
        for relation, left, right in links_of(question):
            place = true_of_circuit(left, right, relation.sign, other)
            # Where the convention makes a symbol nothing, whatever is said of it would be right.
            world = next(iter(other.around.near), None)
            if place is None or (world and any(value_in(world, place, name) == 0 for name in names)):
                return False
        return True
    found = true_here(question, other)
    if found is None or found.case is None or found.place is None or not is_between_symbols(question, other):
        return found is not None
    return not any(value_in(found.case.world, found.place, name) == 0 for name in names_in(question.members))


def _results(question: TriedChain) -> Iterator[tuple[Node, Amount]]:
    """The sides that are numbers alone, worked out, the last first."""
    for member in question.members[::-1]:
        if kind_of(member) is SideKind.NUMBERS:
            amount = work_out(member, lambda name: None, plain_amount)
            if amount is not None:
                yield member, amount


def _named_slip(question: TriedChain, ground: Ground) -> Reason | None:
    head = head_of(question.members)
    if head is None:
        return None
    keys = {head.name, f"{head.name}_MAX", f"{head.name}_MIN"}
    slips = [slip for slip in ground.sheet.slips if slip.key in keys]
    for member, amount in _results(question):
        met = [slip for slip in slips if _near(amount.value, slip.value, SLIP_BAND)]
        if not met and any(relation.sign == "≈" for relation in question.relations):
            # With ≈ what lies nearer a slip than the truth is that slip.
            truths = list(values_of(ground, head.name))
            met = [
                slip
                for slip in slips
                if _near(amount.value, slip.value, RESULT_BAND)
                and all(abs(amount.value - slip.value) < abs(amount.value - value) for value in truths)
            ]
        exact = [slip for slip in met if slip.key == head.name] or met
        if exact:
            return _slip_reason(exact, member.columns)
    return None


def _slip_reason(slips: list[SheetSlip], columns: Columns) -> Reason:
    ids = tuple(dict.fromkeys(slip.id for slip in slips))
    if len(ids) > 1:
        names = "; ".join(dict.fromkeys(plain(slip.name) for slip in slips))
        return Reason(say("one-of", names=names), columns, ids)
    told = say("named-slip", name=plain(slips[0].name), why=plain(slips[0].why))
    return Reason(told.rstrip("."), columns, ids)


def _near(value: float, other: float, share: float) -> bool:
    return abs(value - other) <= share * abs(other)


def _arithmetic(question: TriedChain, ground: Ground) -> Reason | None:
    """Two sides of numbers that differ: the line's own arithmetic."""
    for index, relation in enumerate(question.relations):
        left, right = question.members[index], question.members[index + 1]
        if not equates(relation.sign) or {kind_of(left), kind_of(right)} != {SideKind.NUMBERS}:
            continue
        link = TriedChain((left, right), (relation,))
        if adds_up(link):
            continue
        a, b = (work_out(side, lambda name: None, plain_amount) for side in (left, right))
        if a is None or b is None:
            continue
        power = _power_between(b.value, a.value)
        unit = right.meanings[0].unit.replace(LEFT_OUT, "") if isinstance(right, Literal) else ""
        comes = write(a.value, unit, figures=4)
        if power:
            return Reason(say("power-on-left", value=comes), right.columns, ("power-of-ten",))
        if _near(a.value, -b.value, GENERAL_BAND):
            return Reason(say("sign-lost", value=comes), right.columns, ("sign",))
        return Reason(say("arithmetic", value=comes), right.columns, ("arithmetic",))
    return None


def _power_between(value: float, goal: float) -> int:
    """The power of ten by which a value misses a goal, 0 when it is not that."""
    for power in POWERS:
        if goal and _near(value, goal * float(f"1e{power}"), GENERAL_BAND):
            return power
    return 0


def _general(question: TriedChain, ground: Ground) -> Reason | None:
    """What the result alone shows beside the true values of the quantity: a power of ten, the sign, a wrong corner."""
    head = head_of(question.members)
    results = list(_results(question))
    if head is None or not results or not isinstance(question.members[0], Name | Minus):
        return None
    member, amount = results[0]
    truths = list(dict.fromkeys(values_of(ground, head.name)))
    stem = without_extreme(head.name)
    corner = _other_corner(amount.value, stem, ground) if stem != head.name else None
    for goal in truths:
        if not goal:
            continue
        power = _power_between(amount.value, goal)
        if power and (corner is None or _off(amount.value, goal * float(f"1e{power}")) <= corner[0]):
            return Reason(say("prefixes", name=head.name), member.columns, ("power-of-ten",))
        if _near(amount.value, -goal, GENERAL_BAND):
            return Reason(say("sign-not-right"), member.columns, ("sign",))
    if corner is not None:
        return Reason(say("other-corner", name=stem, words=corner[1]), member.columns, ("corner",))
    for factor, saying, slip in (
        (2.0, "out-by-two", "factor-two"),
        (0.5, "out-by-two", "factor-two"),
        (ROOT_TWO, "out-by-root-two", "rms-crest"),
        (1 / ROOT_TWO, "out-by-root-two", "rms-crest"),
    ):
        if any(_near(amount.value, factor * goal, SLIP_BAND / 2) for goal in truths):
            return Reason(say(saying), member.columns, (slip,))
    if any(goal and _near(amount.value * goal, 1.0, SLIP_BAND / 2) for goal in truths):
        return Reason(say("result-reciprocal"), member.columns, ("inverted",))
    return None


def _other_corner(value: float, stem: str, ground: Ground) -> tuple[float, str] | None:
    """How far a value is from that of a symbol at the corner where it comes nearest, and the corner's words."""
    met = [
        (_off(value, other), words)
        for words, other in _elsewhere(ground, stem)
        if words and _near(value, other, GENERAL_BAND)
    ]
    return min(met, key=lambda item: item[0], default=None)


def _off(value: float, goal: float) -> float:
    """By what share of a goal a value misses it."""
    return abs(value - goal) / abs(goal) if goal else abs(value)


def _elsewhere(ground: Ground, stem: str) -> Iterator[tuple[str, float]]:
    for case in ground.cases:
        for situation in case.world.situations[: len(case.world.situations) - case.world.moved]:
            if stem in situation.values:
                yield situation.words, situation.values[stem]


def _edited(question: TriedChain, ground: Ground, past: Past) -> Reason | None:
    """The single edit that would make the line true, tried on its symbols or on those its numbers stand for."""
    effort = Effort(MOST_PLACES)
    names = tuple(
        dict.fromkeys(
            (
                *(name for name in ground.sheet.env if exponents_of(ground, name) is not None),
                *(name for case in ground.cases[:1] for item in case.world.situations[:1] for name in item.values),
                *ground.sheet.asked,
            )
        )
    )

    def dimension_of(name: str) -> tuple[int, int, int, int] | None:
        return exponents_of(ground, name)

    for index, relation in enumerate(question.relations):
        left, right = question.members[index], question.members[index + 1]
        if kind_of(left) is SideKind.NUMBERS or isinstance(right, Literal) or not equates(relation.sign):
            continue  # an inequality almost any edit would make true
        ways = ways_to_read(right, ground, past)
        guesses = islice(symbolised(right, ways, past), 3)
        trees = [right] if kind_of(right) is not SideKind.NUMBERS else [guess.tree for guess in guesses]
        if any(true_of_circuit(left, tree, relation.sign, ground, effort=effort) is not None for tree in trees):
            continue
        for tree in trees:
            for edit in islice(edits_of(tree, names, dimension_of), MOST_EDITS):
                if effort.spent:
                    return None
                says_nothing = isinstance(edit.tree, Name) and isinstance(left, Name) and edit.tree.name == left.name
                if says_nothing:
                    continue
                place = true_of_circuit(left, edit.tree, relation.sign, ground, effort=effort)
                if place is not None and not _is_of_nothing(left, place, ground):
                    return _edit_reason(edit)
    return None


def _is_of_nothing(node: Node, place: Place, ground: Ground) -> bool:
    """Whether all that a side names is nought at a place: where nothing flows, any relation of it is right."""
    names = names_in((node,))
    world = next(iter(ground.around.near), None)
    return world is not None and bool(names) and all(value_in(world, place, name) == 0 for name in names)


def _edit_reason(edit: Edit) -> Reason:
    return Reason(edit.words, edit.columns, (edit.kind,))


def _copied(question: TriedChain, ground: Ground, past: Past) -> Reason | None:
    """One number that is no value of anything here, where a given would make the line's relation true."""
    effort = Effort(MOST_PLACES)
    for index, relation in enumerate(question.relations):
        left, right = question.members[index], question.members[index + 1]
        if kind_of(left) is SideKind.NUMBERS or kind_of(right) is not SideKind.NUMBERS:
            continue
        if isinstance(right, Literal):
            return _misquoted(left, right, ground)
        if not equates(relation.sign):
            continue
        ways = ways_to_read(right, ground, past)
        for number in literals_in(right):
            for name, value in ground.sheet.given.items():
                if _near(number.meanings[0].value, value, 1e-6):
                    continue
                if effort.spent:
                    break
                for guess in islice(symbolised(right, with_one_as(ways, number, name), past), 4):
                    others = replace(guess, put=tuple(item for item in guess.put if item[0].columns != number.columns))
                    if borne_out(left, others, relation.sign, ground, past, effort):
                        told = write(value, unit_of(ground, name) or "", figures=4)
                        return Reason(say("copied", name=name, value=told), number.columns, ("copied",))
    return None


def _misquoted(left: Node, right: Literal, ground: Ground) -> Reason | None:
    if isinstance(left, Name) and left.name in ground.sheet.given:
        value = write(ground.sheet.given[left.name], unit_of(ground, left.name) or "", figures=4)
        return Reason(say("misquoted", name=left.name, value=value), right.columns, ("copied",))
    return None


def _is_turned(question: TriedChain, ground: Ground) -> bool:
    """Whether a single inequality would be true the other way round."""
    if len(question.relations) != 1 or question.relations[0].sign not in BOUND_ENDS:
        return False
    sign = TURNED[question.relations[0].sign]
    return true_here(replace(question, relations=(replace(question.relations[0], sign=sign),)), ground) is not None


def _plainly(question: TriedChain, ground: Ground) -> Reason:
    """No reason known: what does not agree, and whether it is too large or too small."""
    head = head_of(question.members)
    if head is not None and _is_turned(question, ground):
        return Reason(say("other-way-round"), question.members[-1].columns)
    results = list(_results(question))
    if head is not None and results:
        member, amount = results[0]
        truths = list(values_of(ground, head.name))
        if any(_near(amount.value, value, SLIP_BAND / 2) for value in truths):
            # The value is right: what is wrong is the relation it is said to come from.
            untrue = _untrue_relation(question, ground)
            if untrue is not None:
                return Reason(say("not-true"), untrue.columns)
        if truths and all(value * amount.value > 0 and abs(amount.value) > abs(value) for value in truths):
            return Reason(say("too-large", name=head.name), member.columns)
        if truths and all(value * amount.value > 0 and abs(amount.value) < abs(value) for value in truths):
            return Reason(say("too-small", name=head.name), member.columns)
        return Reason(say("not-the-value", name=head.name), member.columns)
    if names_in(question.members):
        return Reason(say("not-true"), question.members[-1].columns)
    return Reason(say("not-equal"), question.members[-1].columns)


def _untrue_relation(question: TriedChain, ground: Ground) -> Node | None:
    """The first side that says a relation which does not hold of the circuit; None where every relation holds."""
    for relation, left, right in links_of(question):
        symbols = kind_of(left) is SideKind.SYMBOLS and kind_of(right) is SideKind.SYMBOLS
        if symbols and true_of_circuit(left, right, relation.sign, ground) is None:
            return right
    return None
