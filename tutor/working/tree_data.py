"""A line that was read, as plain data: the form in which the browser's reader makes it, key for key.

Vocabulary: a node's `node` says which of the tree's classes it is; every other key is a field of that class.
Place in the data flow: Line -> data, for the comparison of both readers and for anybody who wants JSON.
"""

from __future__ import annotations

from tutor.working.tree import (
    Call,
    Line,
    Literal,
    Meaning,
    Minus,
    Misread,
    Name,
    Node,
    Parallel,
    Power,
    Product,
    Quotient,
    Spread,
    Sum,
)

Json = dict[str, object]


def line_data(line: Line) -> Json:
    """The line as JSON-able data.

    >>> from tutor.working.tree import LineKind
    >>> line_data(Line(LineKind.NOTE, words="so far"))["words"]
    'so far'
    """
    return {
        "kind": line.kind.value,
        "members": [node_data(member) for member in line.members],
        "relations": [{"columns": list(one.columns), "sign": one.sign} for one in line.relations],
        "continued": line.continued,
        "choice": line.choice,
        "label": line.label,
        "words": line.words,
        "misread": None if line.misread is None else _misread_data(line.misread),
    }


def node_data(node: Node) -> Json:
    """A node and its parts as JSON-able data."""
    data: Json = {"node": type(node).__name__.lower(), "columns": list(node.columns)}
    match node:
        case Literal(_, meanings, figures, power, bare):
            data |= {"meanings": [_meaning_data(one) for one in meanings], "figures": figures}
            data |= {"power": power, "bare": bare}
        case Name(_, name, standing):
            data |= {"name": name, "standing": standing.value}
        case Minus(_, arg):
            data["arg"] = node_data(arg)
        case Sum(_, terms):
            data["terms"] = [node_data(term) for term in terms]
        case Product(_, factors):
            data["factors"] = [node_data(factor) for factor in factors]
        case Quotient(_, over, under):
            data |= {"over": node_data(over), "under": node_data(under)}
        case Power(_, base, exponent):
            data |= {"base": node_data(base), "exponent": node_data(exponent)}
        case Parallel(_, left, right):
            data |= {"left": node_data(left), "right": node_data(right)}
        case Call(_, function, args):
            data |= {"function": function, "args": [node_data(arg) for arg in args]}
        case Spread(_, base, share):
            data |= {"base": node_data(base), "share": node_data(share)}
    return data


def _meaning_data(meaning: Meaning) -> Json:
    return {
        "value": meaning.value,
        "step": meaning.step,
        "exponents": None if meaning.exponents is None else list(meaning.exponents),
        "unit": meaning.unit,
    }


def _misread_data(misread: Misread) -> Json:
    return {"fault": misread.fault, "sentence": misread.sentence, "columns": list(misread.columns)}
