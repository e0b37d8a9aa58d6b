"""What marks need to know of a judged line beyond its finding: how it is written, and what asked-for value it reaches.

Place in the data flow: members of a judged chain + Ground -> fields of a Finding -> `marks.py`.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.working.amount import work_out
from tutor.working.bands import RESULT_BAND
from tutor.working.chain import (
    SideKind,
    TriedChain,
    head_of,
    kind_of,
    names_in,
    plain_amount,
    value_member,
    value_with_unit,
)
from tutor.working.finding import Finding, Shown
from tutor.working.ground import Case, Ground
from tutor.working.judge import JudgedChain
from tutor.working.tree import Call, Literal, Minus, Name, Node, Product, Relation, Spread, Sum, equates, parts

ENDS = ("", "_MAX", "_MIN", "_NOM")


def for_marks(finding: Finding, judged: JudgedChain, ground: Ground) -> Finding:
    """A finding with what marks need of the judged chain behind it; `ground` is the circuit as it is."""
    unit = ground.sheet.symbols.get(finding.key)
    if unit is None and is_symbol(finding.key):
        unit = symbol_for(finding.key).unit
    shown = shown_in(judged, unit)
    return replace(finding, shown=shown, answers=answers_in(finding.key, shown.value, ground))


def told_of(judged: JudgedChain, asked: Collection[str]) -> JudgedChain:
    """The statement of a chain that its finding is about: one that gives a value asked for, where the first gives none.

    V_Z = 11 V < V_TH = 13.6 V gives what V_TH is, where that is asked.
    """
    first, *others = judged.chain.statements
    head = head_of(first.members)
    if head is not None and head.name in asked and kind_of(value_member(first)) is SideKind.NUMBERS:
        return judged
    told = next((item for item in others if _gives(item, asked)), None)
    if told is None:
        return judged
    return replace(judged, members=told.members, relations=told.relations, value=value_with_unit(told))


def _gives(statement: TriedChain, asked: Collection[str]) -> bool:
    """Whether a statement gives a value of something that is asked for."""
    head = head_of(statement.members)
    return head is not None and head.name in asked and value_with_unit(statement) is not None


def shown_in(judged: JudgedChain, unit: str | None) -> Shown:
    """How a chain is written; `unit` is the unit code of its quantity ('' a pure number, None unknown)."""
    members = judged.members
    first, past = _equals(members, judged.relations)
    head = next((place for place in range(first, past) if _is_name(members[place])), first)
    sides = [place for place in range(first, past) if place != head and not names_in((members[place],))]
    result = members[sides[-1]] if sides else None
    number = result.arg if isinstance(result, Minus) else result
    found = Shown(
        worked=any(_works_out(members[place], members[head]) for place in range(first, past) if place != head),
        operations=max(operations(member) for member in members),
        names=names_in(members),
        value=_value(judged, sides[-1]) if sides else None,
        evaluated=False,
    )
    if result is None or not isinstance(number, Literal):
        return found
    size = number.meanings[0].value / float(f"1e{number.power}")
    return replace(
        found, evaluated=True, number=size if number is result else -size, figures=number.figures,
        columns=result.columns,
        # A bare prefix (5m) stands for the unit too, as on a drawing; nought is nought in any unit.
        unitless=number.bare and bool(unit) and size != 0,
    )  # fmt: skip


def _is_name(node: Node) -> bool:
    return isinstance(node.arg if isinstance(node, Minus) else node, Name)


def _equals(members: tuple[Node, ...], relations: tuple[Relation, ...]) -> tuple[int, int]:
    """The members, from and up to which place, that a chain sets equal to its first symbol."""
    head = next((place for place, member in enumerate(members) if _is_name(member)), 0)
    first, past = head, head + 1
    while first > 0 and equates(relations[first - 1].sign):
        first -= 1
    while past < len(members) and equates(relations[past - 1].sign):
        past += 1
    return first, past


def _value(judged: JudgedChain, place: int) -> float | None:
    """The value of a side of numbers: as judged when it ends the chain, where bare numbers may share a prefix."""
    if place == len(judged.members) - 1 and judged.value is not None:
        return judged.value
    amount = work_out(judged.members[place], lambda name: None, plain_amount)
    return None if amount is None else amount.value


def _works_out(member: Node, head: Node) -> bool:
    """Whether a side says how: an expression or another symbol. The head over again says nothing (R = R, R = R × 1)."""
    inner = member.arg if isinstance(member, Minus) else member
    if isinstance(inner, Literal):
        return False
    names = names_in((inner,))
    return not names or any(name not in names_in((head,)) for name in names)


def operations(node: Node) -> int:
    """How many signs of operation a side has; a minus before a term is no operation of its own."""
    inner = sum(operations(part) for part in parts(node))
    if isinstance(node, Sum | Product | Call):
        return inner + max(len(parts(node)) - 1, 1)
    return inner + (0 if isinstance(node, Literal | Name | Minus | Spread) else 1)


def answers_in(head: str, value: float | None, ground: Ground) -> tuple[str, ...]:
    """The keys asked for, of the quantity at the head of a line, whose value it reaches; the nearest first.

    Choices not made yet are the model's. A value nearer to another corner than to what is asked reaches nothing.
    """
    if value is None or not head:
        return ()
    sheet = ground.sheet
    view = _with_choices(ground).world.views[0]
    misses: list[tuple[float, str]] = []
    for key in (head + end for end in ENDS):
        true = view.get(key)
        if key in sheet.asked and true is not None:
            miss = abs(value - true)
            nearer = any(
                abs(value - slip.value) < miss for slip in sheet.slips if slip.key == key and not ground.choices
            )
            if miss <= RESULT_BAND * abs(true) and not nearer:
                misses.append((miss, key))
    return tuple(key for _, key in sorted(misses))


def _with_choices(ground: Ground) -> Case:
    """The problem's own numbers beside the learner's choices, the model's where they are still to be made."""
    if any(item.key not in ground.choices for item in ground.sheet.choices):
        return next(case for case in ground.cases[1:] if not case.taken)  # the model's choices come first
    return next((case for case in ground.cases if case.taken), ground.cases[0])
