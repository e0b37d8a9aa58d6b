"""Approximations that the circuit declares: a line true under one of them, its error here within the limit.

Place in the data flow: a chain that is not exactly true + the grounds of other conventions -> the approximation, told.
"""

from __future__ import annotations

from tutor.quantities.quantity import write
from tutor.solution.sheet import Convention
from tutor.working.amount import work_out
from tutor.working.chain import SideKind, TriedChain, kind_of, links_of, names_in, plain_amount
from tutor.working.ground import Ground, Place, distinct_in, value_in
from tutor.working.sayings import plain, say
from tutor.working.tree import Name, Node, Relation
from tutor.working.truth import Truth, true_of_circuit
from tutor.working.world import World

Others = tuple[tuple[Convention, Ground], ...]


def approximation_told(question: TriedChain, ground: Ground, others: Others) -> str:
    """The approximation of the circuit that makes a chain of symbols true within its limit, told with its error."""
    for convention, other in others:
        if not convention.approximate:
            continue
        if all(
            true_of_circuit(left, right, relation.sign, other) is not None
            or true_of_circuit(left, right, relation.sign, ground) is not None
            for relation, left, right in links_of(question)
        ):
            told = error_told(question, convention, ground, others)
            if told:
                return told
    return ""


def error_told(question: TriedChain, convention: Convention, ground: Ground, others: Others) -> str:
    """The approximation and its error here, '' when the error is beyond its limit."""
    bent = [_error_of_link(link, ground) for link in links_of(question) if not _is_exact(link, ground)]
    links = [error for error in bent if error is not None]
    whole = _error_of_quantity(convention, ground, others)
    # Where the circuit says against what its error is measured, that is the measure; else it is this line's own.
    error = whole if convention.against and whole is not None else max(links) if links else whole
    return "" if error is None or _is_beyond(error, convention) else _told(error, convention)


def value_error_told(
    question: TriedChain, convention: Convention, ground: Ground, other: Ground, bent: Truth
) -> str:
    """The approximation and what it does to the quantity a line of numbers speaks of; '' beyond the limit."""
    head = question.members[0]
    error: float | None = None
    if isinstance(head, Name) and bent.case is not None and bent.place is not None and bent.case in other.cases:
        true_world = ground.cases[other.cases.index(bent.case)].world
        there = value_in(bent.case.world, bent.place, head.name)
        here = value_in(true_world, bent.place, head.name) if _alike(true_world, bent.case.world) else None
        if here and there is not None:
            error = abs(there - here) / abs(here)
    if error is None:
        return error_told(question, convention, ground, ((convention, other),))
    if _is_beyond(error, convention) and not convention.against:
        return ""
    if convention.against and not error_told(question, convention, ground, ((convention, other),)):
        return ""
    return _told(error, convention)


def _is_beyond(error: float, convention: Convention) -> bool:
    return error > convention.limit * (1 + 1e-9)


def _told(error: float, convention: Convention) -> str:
    return say("approximation", error=write(error, "%", figures=2), title=plain(convention.title))


def _alike(one: World, other: World) -> bool:
    return len(one.situations) == len(other.situations)


def _is_exact(link: tuple[Relation, Node, Node], ground: Ground) -> bool:
    relation, left, right = link
    symbols = kind_of(left) is SideKind.SYMBOLS and kind_of(right) is SideKind.SYMBOLS
    return symbols and true_of_circuit(left, right, relation.sign, ground) is not None


def _error_of_quantity(convention: Convention, ground: Ground, others: Others) -> float | None:
    """How much of `against` the quantity bent by an approximation is out, at the worst corner known."""
    other = next((taken for item, taken in others if item == convention), None)
    if other is None:
        return None
    worst: float | None = None
    for case, twin in zip(ground.cases, other.cases, strict=False):
        # Those at the end are moved for changes along one quantity: no corner of this circuit.
        plain = len(case.world.situations) - case.world.moved
        for here, there in zip(case.world.situations[:plain], twin.world.situations, strict=False):
            true, bent = here.values.get(convention.watches), there.values.get(convention.watches)
            measure = here.values.get(convention.against or convention.watches)
            if true is not None and bent is not None and measure:
                error = abs(bent - true) / abs(measure)
                worst = error if worst is None else max(worst, error)
        if worst is not None:
            return worst
    return worst


def _error_of_link(link: tuple[Relation, Node, Node], ground: Ground) -> float | None:
    """How far apart the two sides are with the true values, the best place taken; one at which both are nought, where
    nothing flows, only when there is no other."""
    _, left, right = link
    best: float | None = None
    idle: float | None = None
    names = names_in((left, right))
    for case in ground.cases[:2]:
        for place in distinct_in(case.world, names):
            a, b = (_side(side, case.world, place) for side in (left, right))
            if a is None or b is None:
                continue
            size = max(abs(a), abs(b))
            if not size:
                idle = 0.0
                continue
            error = abs(a - b) / size
            best = error if best is None else min(best, error)
    return idle if best is None else best


def _side(node: Node, world: World, place: Place) -> float | None:
    amount = work_out(node, lambda name: value_in(world, place, name), plain_amount)
    return None if amount is None else amount.value
