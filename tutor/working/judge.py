"""One chain judged: does it hold whatever the numbers, hold here, follow from what stood before, or fail?

In this order, and the first that applies: units; true of the circuit; an approximation that the circuit declares; true
with these numbers; right with the learner's own earlier values; else it fails, with the reason where one is known.
Place in the data flow: members of a line + Ground + Past -> JudgedChain.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from tutor.quantities.quantity import write
from tutor.working.amount import work_out
from tutor.working.approximation import Others, approximation_told, value_error_told
from tutor.working.bounds import BOUND_ENDS, TURNED, as_bound, with_tolerance
from tutor.working.chain import (
    Scaling,
    SideKind,
    TriedChain,
    head_of,
    kind_of,
    links_of,
    literals_in,
    names_in,
    plain_amount,
    value_member,
)
from tutor.working.dimension_check import (
    LEFT_OUT,
    are_pure,
    clash_in,
    is_coefficient,
    pure_beside_symbols,
    with_units_left_out,
)
from tutor.working.finding import Code
from tutor.working.follow import follows, rests_on_wrong
from tutor.working.ground import Ground, Place
from tutor.working.reasons import Reason, reason_for
from tutor.working.sayings import say
from tutor.working.symbolise import Past, exponents_of, unit_of
from tutor.working.tree import (
    Columns,
    Exponents,
    Literal,
    Meaning,
    Minus,
    Name,
    Node,
    Product,
    Relation,
    Spread,
    Sum,
    equates,
    pure_number,
    with_leaves,
)
from tutor.working.truth import Truth, exact_values, true_here, true_of_circuit

OWN_VALUES = say("own-values")
MOST_READINGS = 8  # ways to read the ambiguous numbers of a line


@dataclass(frozen=True)
class JudgedChain:
    """What became of a chain: the code, why, columns, slips; the chain as it was understood and its value (SI)."""

    code: Code
    why: str
    columns: Columns | None
    slip: tuple[str, ...]
    members: tuple[Node, ...]
    relations: tuple[Relation, ...]
    value: float | None = None

    @property
    def chain(self) -> TriedChain:
        """Its members and relations."""
        return TriedChain(self.members, self.relations)


@dataclass(frozen=True)
class Stand:
    """Everything a chain is judged by: the ground, what stood before, dimensions of own symbols, doubtful choices."""

    ground: Ground
    past: Past
    own_dimensions: Mapping[str, Exponents | None]
    doubtful: bool = False  # a choice of the learner's breaks the specification: what rests on it only follows
    others: Others = ()

    def dimension_of(self, name: str) -> Exponents | None:
        """The dimension of a symbol of the circuit or of the learner's own."""
        if name in self.own_dimensions:
            return self.own_dimensions[name]
        return exponents_of(self.ground, name)


def judge_chain(members: tuple[Node, ...], relations: tuple[Relation, ...], stand: Stand) -> JudgedChain:
    """The finding on a chain, own symbols already put in. Of several readings the one that makes it true is taken."""
    worst: JudgedChain | None = None
    for reading in _readings(members):
        clash = clash_in(reading, relations, stand.dimension_of)
        if clash is not None:
            value = _result(TriedChain(reading, relations), None)
            found = JudgedChain(Code.UNITS, clash.sentence, clash.columns, (), reading, relations, value)
        else:
            pure = are_pure(reading, relations, stand.dimension_of)
            found = _judge_reading(reading if pure else with_units_left_out(reading), relations, stand)
        if found.code not in (Code.FAILS, Code.UNITS):
            return found
        if worst is None or (worst.code is Code.UNITS and found.code is Code.FAILS):
            worst = found
    assert worst is not None
    return worst


def _readings(members: tuple[Node, ...]) -> Iterable[tuple[Node, ...]]:
    """The members with one meaning for each number, every way."""
    unsure = [item for member in members for item in literals_in(member) if len(item.meanings) > 1]
    if not unsure:
        yield members
        return
    ways = itertools.product(*(item.meanings for item in unsure))
    for picked in itertools.islice(ways, MOST_READINGS):
        chosen = {item.columns: (meaning,) for item, meaning in zip(unsure, picked, strict=True)}
        yield tuple(_with_meanings(member, chosen) for member in members)


def _with_meanings(node: Node, chosen: Mapping[Columns, tuple[Meaning, ...]]) -> Node:
    def leaf(item: Literal | Name) -> Node:
        if isinstance(item, Literal) and item.columns in chosen:
            return replace(item, meanings=chosen[item.columns])
        return item

    return with_leaves(node, leaf)


def _judge_reading(members: tuple[Node, ...], relations: tuple[Relation, ...], stand: Stand) -> JudgedChain:
    """A chain with inequalities on both sides of a symbol is judged as two."""
    middle = next(
        (
            index
            for index in range(1, len(members) - 1)
            if isinstance(members[index], Name)
            and relations[index - 1].sign in BOUND_ENDS
            and relations[index].sign in BOUND_ENDS
        ),
        None,
    )
    if middle is None:
        return _judge_part(members, relations, stand)
    first = _judge_part(members[: middle + 1], relations[:middle], stand)
    second = _judge_part(members[middle:], relations[middle:], stand)
    order = [Code.FAILS, Code.FOLLOWS, Code.HOLDS_HERE, Code.HOLDS]
    return min((first, second), key=lambda item: order.index(item.code))


def _judge_part(members: tuple[Node, ...], relations: tuple[Relation, ...], stand: Stand) -> JudgedChain:
    found = _judge_bound(members, relations, stand)
    if found.code in (Code.HOLDS, Code.HOLDS_HERE):
        return _ends_fail(members, relations, stand) or _turned_fails(members, relations, stand) or found
    return found


def _ends_fail(members: tuple[Node, ...], relations: tuple[Relation, ...], stand: Stand) -> JudgedChain | None:
    """X = 9.1 V ± 5 % says X_MIN and X_MAX as well: how it fails where the problem gives other ends, else None."""
    head, last, given = members[0], members[-1], stand.ground.sheet.given
    if (
        not isinstance(last, Spread)
        or not isinstance(head, Name)
        or any(not equates(item.sign) for item in relations)
    ):
        return None
    share: Node = last.share
    for end in (Minus(share.columns, share), share):
        name = f"{head.name}{'_MIN' if end is not share else '_MAX'}"
        one = pure_number(last.columns, 1.0)
        value = Product(last.columns, (last.base, Sum(last.columns, (one, end))))
        chain = TriedChain((replace(head, name=name), value), relations[-1:])
        if name in given and true_here(chain, stand.ground) is None:
            low, high = (
                write(given[key], unit_of(stand.ground, key) or "", figures=4) if key in given else "?"
                for key in (f"{head.name}_MIN", f"{head.name}_MAX")
            )
            why = say("other-spread", name=head.name, low=low, high=high)
            return replace(_judged(Code.FAILS, why, TriedChain(members, relations)), columns=last.columns)
    return None


def _turned_fails(members: tuple[Node, ...], relations: tuple[Relation, ...], stand: Stand) -> JudgedChain | None:
    """R_L ≤ x where x is the least R_L that will do: the bound itself, turned round; None when it is no such thing."""
    head, sign = members[0], relations[0].sign
    if not isinstance(head, Name) or sign not in BOUND_ENDS or kind_of(members[-1]) is not SideKind.NUMBERS:
        return None
    turned = replace(relations[0], sign=TURNED[sign])
    if as_bound(members, relations, stand.ground) or not as_bound(members, (turned, *relations[1:]), stand.ground):
        return None
    other = _judge_bound(members, (turned, *relations[1:]), stand)
    if other.code is not Code.HOLDS_HERE:
        return None
    why = say("bound-turned", name=head.name, sign=turned.sign)
    found = _judged(Code.FAILS, why, TriedChain(members, relations))
    return replace(found, columns=members[-1].columns, slip=("bound-turned",))


def _judge_bound(members: tuple[Node, ...], relations: tuple[Relation, ...], stand: Stand) -> JudgedChain:
    bounded = as_bound(members, relations, stand.ground)
    found = _judge_as(bounded or (members, relations), stand)
    if bounded is not None and found.code is Code.FAILS:
        # A bound on the nominal value leaves room for the tolerance of the part.
        inner = _judge_as(with_tolerance(bounded, stand.ground), stand)
        if inner.code is not Code.FAILS:
            return inner
    if found.code is Code.FAILS and bounded is not None and _may_be_plain(members, relations, stand.ground):
        plain = _judge_as((members, relations), stand)
        return plain if plain.code is not Code.FAILS else found
    return found


def _may_be_plain(members: tuple[Node, ...], relations: tuple[Relation, ...], ground: Ground) -> bool:
    """Whether an inequality between symbols may be meant as it stands: V_I ≥ V_O + V_CE_SAT is true, bound or not. Of a
    part to be chosen it is always read as the bound."""
    chosen = {item.quantity for item in ground.sheet.choices}
    for relation, left, right in zip(relations, members, members[1:], strict=False):
        if relation.sign in BOUND_ENDS:
            symbols = kind_of(left) is SideKind.SYMBOLS and kind_of(right) is SideKind.SYMBOLS
            if not symbols or any(isinstance(side, Name) and side.name in chosen for side in (left, right)):
                return False
    return True


def _judge_as(chain: tuple[tuple[Node, ...], tuple[Relation, ...]], stand: Stand) -> JudgedChain:
    members, relations = chain
    ground = stand.ground
    exact = exact_values(ground.sheet.given, ground.choices)
    question = TriedChain(members, relations, exact, _slips_near(members, ground))
    if all(kind_of(member) is SideKind.SYMBOLS for member in members):
        return _judge_symbols(question, stand)
    if all(_is_whole_number(member) or _is_of_symbols(member) for member in members):
        # Pure numbers may belong to a relation between symbols: (V_I − V_Z)/(I_R R) = 1, and I_SEC = 1.8 I_L.
        places = [true_of_circuit(left, right, relation.sign, ground) for relation, left, right in links_of(question)]
        if all(place is not None for place in places):
            return _judged(Code.HOLDS, _at(ground, places[0]), question, _result(question, None))
    return _judge_numbers(replace(question, pure=pure_beside_symbols(members, stand.dimension_of)), stand)


def _is_whole_number(node: Node) -> bool:
    return isinstance(node, Literal) and is_coefficient(node)


def _is_of_symbols(node: Node) -> bool:
    """Whether a side speaks of symbols, with no numbers beside them but pure ones."""
    for item in literals_in(node):
        if not item.bare or len(item.meanings) > 1 or item.meanings[0].unit == LEFT_OUT:
            return False
    return bool(names_in((node,)))


def _judge_symbols(question: TriedChain, stand: Stand) -> JudgedChain:
    ground = stand.ground
    places = [
        true_of_circuit(left, right, relation.sign, ground)
        for relation, left, right in links_of(question)
    ]
    if all(place is not None for place in places):
        return _judged(Code.HOLDS, _at(ground, places[0]), question)
    near = approximation_told(question, ground, stand.others)
    if near:
        return _judged(Code.HOLDS_HERE, near, question)
    here = true_here(question, ground) if _are_true_or_compare(question, places) else None
    if here is not None:
        return _judged(Code.HOLDS_HERE, _told(here), question)
    if follows(question, ground, stand.past, stand.others):
        return _judged(Code.FOLLOWS, "it follows from your own relation above", question)
    return _failed(question, stand)


def _are_true_or_compare(question: TriedChain, places: Sequence[Place | None]) -> bool:
    """Whether each link is true of the circuit or compares two quantities, as I_Z > 2 I_L does with some numbers."""
    links = zip(question.relations, places, strict=False)
    return all(place is not None or not equates(relation.sign) for relation, place in links)


def _judge_numbers(question: TriedChain, stand: Stand) -> JudgedChain:
    ground = stand.ground
    true = true_here(question, ground) if _symbols_true(question, stand, ground) else None
    if true is not None:
        value = _result(question, true.scaling)
        bare = all(kind is SideKind.NUMBERS for kind in question.kinds)
        if bare and rests_on_wrong(question, stand.past):
            return _judged(Code.FOLLOWS, OWN_VALUES, question, value)
        if stand.doubtful and true.case is not None and true.case.taken:
            return _judged(Code.FOLLOWS, say("chosen-value"), question, value)
        return _judged(Code.HOLDS_HERE, _told(true), question, value)
    for convention, other in stand.others:
        bent = true_here(question, other) if convention.approximate and _symbols_true(question, stand, other) else None
        if bent is not None:
            told = value_error_told(question, convention, ground, other, bent)
            if told:
                return _judged(Code.HOLDS_HERE, told, question, _result(question, None))
    follow = follows(question, ground, stand.past, stand.others)
    if follow is not None:
        return _judged(Code.FOLLOWS, OWN_VALUES, question, _result(question, follow.scaling))
    return _failed(question, stand)


def _symbols_true(question: TriedChain, stand: Stand, ground: Ground) -> bool:
    """Whether the links between symbols alone are true whatever the numbers; fitting these numbers is not enough."""
    for relation, left, right in links_of(question):
        if kind_of(left) is SideKind.SYMBOLS and kind_of(right) is SideKind.SYMBOLS:
            link = TriedChain((left, right), (relation,))
            told = true_of_circuit(left, right, relation.sign, ground) is not None or approximation_told(
                link, stand.ground, stand.others
            )
            if not told:
                return False
    return True


def _failed(question: TriedChain, stand: Stand) -> JudgedChain:
    reason: Reason = reason_for(question, stand.ground, stand.past, stand.others)
    return replace(
        _judged(Code.FAILS, reason.why, question, _result(question, None)), columns=reason.columns, slip=reason.slip
    )


def _judged(code: Code, why: str, question: TriedChain, value: float | None = None) -> JudgedChain:
    return JudgedChain(code, why, None, (), question.members, question.relations, value)


def _result(question: TriedChain, scaling: Scaling | None) -> float | None:
    """What a chain comes to in SI: its last member (before an inequality) worked out when that is a number."""
    last = value_member(question)
    if kind_of(last) is not SideKind.NUMBERS:
        return None
    amount = work_out(last, lambda name: None, plain_amount)
    if amount is None:
        return None
    power = (scaling.last if isinstance(last, Literal) else scaling.whole) if scaling is not None else 0
    bare = all(item.bare for item in literals_in(last))
    return amount.value * float(f"1e{power}") if power and bare else amount.value


def _told(true: Truth) -> str:
    of_choices = true.words.startswith(say("with", told=""))
    words = [say("at", words=true.words) if true.words and not of_choices else true.words]
    if true.supplied:
        words.append(say("write-units"))
    return "; ".join(item for item in words if item)


def _at(ground: Ground, place: Place | None) -> str:
    """The corner at which symbols are true, where it matters."""
    worlds = ground.around.near
    if place is None or place.other >= 0 or not worlds or place.situation >= len(worlds[0].situations):
        return ""
    words = worlds[0].situations[place.situation].words
    return say("at", words=words) if place.situation and words else ""


def _slips_near(members: tuple[Node, ...], ground: Ground) -> tuple[tuple[float, float], ...]:
    """The known slips of the quantity a chain speaks of: its true value beside each slip's."""
    keys = keys_of(members, ground)
    slips = [slip for slip in ground.sheet.slips if slip.key in keys]
    if not slips:
        return ()
    model = ground.world_with({item.key: item.model for item in ground.sheet.choices})
    found = ((model.views[0].get(slip.key), slip.value) for slip in slips)
    return tuple((true, wrong) for true, wrong in found if true is not None)


def keys_of(members: tuple[Node, ...], ground: Ground) -> tuple[str, ...]:
    """Under which keys the head of a chain may be asked: itself, or one of its bounds."""
    head = head_of(members)
    if head is None:
        return ()
    keys = dict.fromkeys([*(slip.key for slip in ground.sheet.slips), *ground.sheet.asked])
    return tuple(key for key in keys if key in (head.name, f"{head.name}_MAX", f"{head.name}_MIN"))
