"""Inequalities read as the bound they speak of: `R ≤ …` is a statement about R_MAX where that bound is asked for.

Place in the data flow: members and relations + Ground -> the chain about the bound -> `judge.py`.
"""

from __future__ import annotations

from dataclasses import replace

from tutor.working.ground import Ground
from tutor.working.tree import Minus, Name, Node, Quotient, Relation, Standing, Sum, pure_number

BOUND_ENDS = {"<": "_MAX", "≤": "_MAX", ">": "_MIN", "≥": "_MIN"}
TURNED = {"<": ">", "≤": "≥", ">": "<", "≥": "≤", "=": "=", "≈": "≈"}


def as_bound(
    members: tuple[Node, ...], relations: tuple[Relation, ...], ground: Ground
) -> tuple[tuple[Node, ...], tuple[Relation, ...]] | None:
    """`R ≤ …` as R_MAX = … where a bound of that quantity is asked for; None where there is none."""
    bounds = {ask.key for ask in ground.around.recipe.asks if ask.relation}
    head, tail = members[0], members[-1]
    if isinstance(head, Name) and relations[0].sign in BOUND_ENDS:
        key = _bound_key(head.name, relations[0].sign, bounds)
        if key:
            turned = (replace(relations[0], sign="="), *relations[1:])
            return (replace(head, name=key), *members[1:]), turned
    if isinstance(tail, Name) and relations[-1].sign in BOUND_ENDS:
        key = _bound_key(tail.name, TURNED[relations[-1].sign], bounds)
        if key:
            turned = (*relations[:-1], replace(relations[-1], sign="="))
            return (*members[:-1], replace(tail, name=key)), turned
    return None


def with_tolerance(
    chain: tuple[tuple[Node, ...], tuple[Relation, ...]], ground: Ground
) -> tuple[tuple[Node, ...], tuple[Relation, ...]]:
    """A chain that speaks of a bound (R_MAX) put as one on the nominal value: R_MAX/(1 + tolerance)."""
    spreads = dict(ground.around.recipe.tolerances)

    def put(node: Node) -> Node:
        if not isinstance(node, Name) or node.name[:-4] not in spreads:
            return node
        spread: Node = Name(node.columns, spreads[node.name[:-4]], Standing.CIRCUIT)
        if node.name.endswith("_MIN"):
            spread = Minus(node.columns, spread)
        one = pure_number(node.columns, 1.0)
        return Quotient(node.columns, node, Sum(node.columns, (one, spread)))

    members, relations = chain
    return (put(members[0]), *members[1:-1], put(members[-1])), relations


def _bound_key(name: str, sign: str, bounds: set[str]) -> str:
    key = f"{name}{BOUND_ENDS[sign]}"
    return key if key in bounds else ""
