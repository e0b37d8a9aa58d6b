"""Does a line follow from what the learner wrote before, though it is not the true value?

Vocabulary: the *past* is what stood on earlier lines (`symbolise.Past`). A line follows when its relations are true, or
the learner's own from before, and its numbers are right with the learner's values.
Place in the data flow: a line that is not true + the past -> follows or not.
"""

from __future__ import annotations

from dataclasses import replace

from tutor.working.amount import rounding
from tutor.working.approximation import Others, approximation_told
from tutor.working.chain import SideKind, TriedChain, kind_of, links_of, literals_in, names_in, value_member
from tutor.working.dimension_check import is_coefficient
from tutor.working.ground import Ground
from tutor.working.symbolise import Guess, Past, borne_out, overlay_of, symbolised, ways_to_read
from tutor.working.tree import Literal, Name, Node, Relation, Standing, equates, parts, rebuilt
from tutor.working.truth import Effort, Truth, adds_up, true_here, true_of_circuit

MOST_PLACES = 600  # tried for the relation behind a line of numbers


def follows(question: TriedChain, ground: Ground, past: Past, others: Others) -> Truth | None:
    """Where a chain is right with the learner's own values and relations, or None."""
    if past.slipped:
        question = replace(question, slips=())  # with a wrong value of the learner's a slip's may be the right one
    if not all(_link_stands(link, ground, past, others) for link in links_of(question)):
        return None
    if all(kind_of(member) is SideKind.SYMBOLS for member in question.members):
        return Truth("")
    if past.values or past.relations:
        head = question.members[0].name if isinstance(question.members[0], Name) else ""
        relations = dict(past.relations)
        for statement in question.statements:
            relations |= _own_relation(statement, ground, past)
        own = replace(past, relations=relations)
        for without in ("", head) if head in past.values else ("",):
            found = true_here(question, ground, overlay_of(own, without=without))
            if found is not None:
                return found
        # A calculator keeps the figures that a line leaves out: a value that was right goes on unrounded.
        untrue = {name: value for name, value in past.values.items() if value in past.wrong and name != head}
        if untrue and len(untrue) < len(past.values):
            found = true_here(question, ground, overlay_of(replace(own, values=untrue)))
            if found is not None:
                return found
    return _copy_follows(question, ground, past) or _substitution_follows(question, ground, past)


def _copy_follows(question: TriedChain, ground: Ground, past: Past) -> Truth | None:
    """Whether a line gives a symbol the learner's value of another that equals it in the circuit: V_O that of V_Z."""
    head, value = question.members[0], question.members[-1]
    if len(question.members) != 2 or not isinstance(head, Name) or not isinstance(value, Literal):
        return None
    if not equates(question.relations[0].sign):
        return None
    for tree, written in ways_to_read(value, ground, past)[0][1]:
        own = isinstance(tree, Name) and tree.name != head.name and past.values.get(tree.name) == written
        if own and true_of_circuit(head, tree, "=", ground) is not None:
            return Truth("")
    return None


def _own_relation(question: TriedChain, ground: Ground, past: Past) -> dict[str, Node]:
    """What a statement itself says of its head: I_L = V_O/R_L = …, to be worked out with the learner's V_O."""
    head = question.members[0]
    for relation, member in zip(question.relations, question.members[1:], strict=False):
        if not equates(relation.sign):
            break
        names = names_in((member,))
        if isinstance(head, Name) and names and head.name not in names:
            # Numbers beside symbols are not looked at by `_link_stands`: what they say must be so in the circuit.
            link = TriedChain((head, member), (relation,))
            sound = kind_of(member) is SideKind.SYMBOLS or _has_wrong(member, past) or true_here(link, ground)
            return {head.name: member} if sound else {}
    return {}


def _link_stands(link: tuple[Relation, Node, Node], ground: Ground, past: Past, others: Others) -> bool:
    """Whether a relation between symbols alone is true, or the learner's own; other links are judged by number."""
    relation, left, right = link
    if kind_of(left) is not SideKind.SYMBOLS or kind_of(right) is not SideKind.SYMBOLS:
        return True
    if true_of_circuit(left, right, relation.sign, ground) is not None:
        return True
    if approximation_told(TriedChain((left, right), (relation,)), ground, others):
        return True
    if past.relations:
        overlay = overlay_of(past, with_values=False)
        if true_of_circuit(left, right, relation.sign, ground, overlay) is not None:
            return True
        for name, own in past.relations.items():
            put = [_with_relation(side, own, name) for side in (left, right)]
            if put != [left, right] and true_of_circuit(put[0], put[1], relation.sign, ground) is not None:
                return True
    # Two values of the learner's own compared: R_MIN > R_MAX.
    compared = TriedChain((left, right), (relation,))
    return not equates(relation.sign) and true_here(compared, ground, overlay_of(past)) is not None


def _with_relation(node: Node, own: Node, name: str) -> Node:
    """The tree with the learner's expression for a symbol read back as the symbol."""
    if same_shape(node, own):
        return Name(node.columns, name, Standing.CIRCUIT)
    return rebuilt(node, tuple(_with_relation(part, own, name) for part in parts(node)))


def same_shape(a: Node, b: Node) -> bool:
    """Whether two trees are alike but for their columns."""
    if type(a) is not type(b):
        return False
    if isinstance(a, Literal) and isinstance(b, Literal):
        return a.meanings == b.meanings
    if isinstance(a, Name) and isinstance(b, Name):
        return a.name == b.name
    inner_a, inner_b = parts(a), parts(b)
    return len(inner_a) == len(inner_b) and all(same_shape(x, y) for x, y in zip(inner_a, inner_b, strict=True))


def _substitution_follows(question: TriedChain, ground: Ground, past: Past) -> Truth | None:
    """Whether the numbers of a line stand for the learner's own values in a relation that is true."""
    for index, relation in enumerate(question.relations):
        left, right = question.members[index], question.members[index + 1]
        if kind_of(left) is SideKind.NUMBERS or kind_of(right) is not SideKind.NUMBERS or isinstance(right, Literal):
            continue
        rest = TriedChain(question.members[index + 1 :], question.relations[index + 1 :], question.exact)
        if not adds_up(rest):
            return None
        result = value_member(question)
        effort = Effort(MOST_PLACES)
        for guess in symbolised(right, ways_to_read(right, ground, past), past):
            if _comes_out(guess, result) and borne_out(left, guess, relation.sign, ground, past, effort):
                return Truth("")
        return None
    return None


def _comes_out(guess: Guess, result: Node) -> bool:
    """Whether the numbers, as they are meant, give the result of the line as written."""
    if guess.comes_to is None or not isinstance(result, Literal):
        return guess.comes_to is not None
    meaning = result.meanings[0]
    room = max(rounding(guess.comes_to, meaning.step), rounding(meaning.value, meaning.step))
    return abs(guess.comes_to - meaning.value) <= room


def rests_on_wrong(question: TriedChain, past: Past) -> bool:
    """Whether a line of numbers alone uses a value of the learner's that was not true."""
    return any(_has_wrong(member, past) for member in question.members[:-1])


def _has_wrong(node: Node, past: Past) -> bool:
    """Whether a number of a side is a value of the learner's that was not true."""
    for literal in literals_in(node):
        value, step = literal.meanings[0].value, literal.meanings[0].step
        if not is_coefficient(literal) and any(
            abs(value - wrong) <= min(rounding(wrong, step), 0.006 * abs(wrong)) for wrong in past.wrong
        ):
            return True
    return False
