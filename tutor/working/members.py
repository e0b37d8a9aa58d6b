"""One side of a relation: tokens -> tree. Sums of products of powers, brackets, functions, names and numbers.

Vocabulary: an *implied* product has no sign (r_z I_Z, 2 (R_1 + R_2)). Where people read a text in two ways, such as
a/b c or a b ∥ c, nothing is guessed: the reader asks for brackets.
Place in the data flow: called by `read.py` for each member of a chain. Every function takes the place of its first
token and gives back the tree and the place after it; `depth` counts brackets and roots around it.
"""

from __future__ import annotations

from dataclasses import replace

from tutor.working.alphabet import FRACTIONS, lowered
from tutor.working.collisions import SHARED_UNIT, SHARES
from tutor.working.faults import ARGUMENT_COUNTS, MOST_DEPTH, MOST_POWER, Broken, LineFault
from tutor.working.literals import bare_literal, constant, literal_at, unit_literal, whole_literal
from tutor.working.names import begins_factor, ended_name_at, is_change, name_at, past_remarks
from tutor.working.numerals import bounded
from tutor.working.runs import RunKind, Scope
from tutor.working.tokens import Kind
from tutor.working.tree import (
    Call,
    Columns,
    Literal,
    Minus,
    Name,
    Node,
    Parallel,
    Power,
    Product,
    Quotient,
    Spread,
    Sum,
    parts,
)
from tutor.working.words import FUNCTIONS

Read = tuple[Node, int]


def member_at(scope: Scope, place: int, depth: int = 0) -> Read:
    """One side of a relation, or what stands inside brackets; Broken when it cannot be read."""
    node, past = _sum_at(scope, place, depth)
    if not scope.is_sign(past, "±"):
        return node, past
    bracketed = scope.tokens[place].partner == past - 1
    if isinstance(node, Sum) and not bracketed:
        raise scope.broken(LineFault.SPREAD_OF_SUM, place, past)
    if scope.at(past + 1) is None:
        raise scope.broken(LineFault.NOTHING_AFTER, past, past)
    if not scope.is_kind(past + 1, Kind.NUMBER):
        raise scope.broken(LineFault.SPREAD, past, past + 1)
    share, after = literal_at(scope, past + 1)
    if share.meanings[0].unit != "%" or scope.is_kind(after, Kind.SIGN):
        raise scope.broken(LineFault.SPREAD, past, after - 1)
    return Spread(_around(node, share), node, share), after


def _around(first: Node, last: Node) -> Columns:
    return (first.columns[0], last.columns[1])


def _sum_at(scope: Scope, place: int, depth: int) -> Read:
    terms: list[Node] = []
    while not terms or scope.is_sign(place, "+", "-"):
        sign = place if scope.is_sign(place, "+", "-") else -1
        if sign >= 0:
            place += 1
            if scope.is_sign(place, "+", "-"):
                raise scope.broken(LineFault.TWO_OPERATORS, sign, place)
        term, place = _product_at(scope, place, depth)
        if sign >= 0 and scope.tokens[sign].text == "-":
            term = Minus((scope.tokens[sign].first + 1, term.columns[1]), term)
        terms.append(term)
    return (terms[0] if len(terms) == 1 else Sum(_around(terms[0], terms[-1]), tuple(terms))), place


def _product_at(scope: Scope, place: int, depth: int) -> Read:
    first = place
    node, place = _power_at(scope, place, depth)
    factors, slash, parallel, times = [node], -1, False, False
    while True:
        place = past_remarks(scope, place)
        if scope.is_sign(place, "∥"):
            side, after = _signed_at(scope, place + 1, depth)
            if times:
                raise scope.broken(LineFault.PARALLEL_MIX, first, after - 1)
            factors, place, parallel = [Parallel(_around(factors[0], side), factors[0], side)], after, True
            continue
        divides = scope.is_sign(place, "/")
        written = divides or scope.is_sign(place, "×") or _is_share_of(scope, place, factors[-1])
        if not written and not _goes_on(scope, place, factors[-1]):
            return _product(factors), place
        if not written and slash >= 0:
            _refuse_ambiguous_quotient(scope, slash, place)
        factor, after = _signed_at(scope, place + 1, depth) if written else _power_at(scope, place, depth)
        if parallel:
            raise scope.broken(LineFault.PARALLEL_MIX, first, after - 1)
        if divides:
            over = _product(factors)
            factors = [Quotient(_around(over, factor), over, factor)]
        else:
            factors.append(factor)
        slash, place, times = (place if divides else -1), after, True


def _product(factors: list[Node]) -> Node:
    return factors[0] if len(factors) == 1 else Product(_around(factors[0], factors[-1]), tuple(factors))


def _is_share_of(scope: Scope, place: int, factor: Node) -> bool:
    """Whether `of` multiplies here: 5 % of 12 V."""
    share = isinstance(factor, Literal) and factor.meanings[0].unit == "%"
    return share and scope.word(place) == "of" and begins_factor(scope, place + 1)


def _goes_on(scope: Scope, place: int, factor: Node) -> bool:
    """Whether an implied product goes on; Broken when something follows that is neither a factor nor an end."""
    token = scope.at(place)
    if token is None:
        return False
    before = scope.tokens[place - 1]
    if before.text[-1:] == "." and scope.is_gap(place):
        return False
    if begins_factor(scope, place):
        unit = before.kind is Kind.RUN and scope.run_kind(place - 1) not in (RunKind.SYMBOL, RunKind.CONSTANT)
        number = token.kind in (Kind.NUMBER, Kind.FRACTION)
        if number and (unit or before.kind in (Kind.NUMBER, Kind.FRACTION, Kind.POWER)):
            raise scope.broken(LineFault.SIDE_BY_SIDE, place - 1, place)
        if token.kind is Kind.OPEN and scope.line_number_gap(place) == 1:
            raise scope.broken(LineFault.LINE_NUMBER, place, place + 2)
        if token.first - before.past > 1 and scope.is_symbol(place) and scope.is_kind(place + 1, Kind.RELATION):
            # V_I = 18 V   I_L = 3 mA: set apart like this it is no product.
            raise scope.broken(LineFault.SECOND_CHAIN, place, len(scope.tokens) - 1)
        return True
    if token.kind is Kind.BAD:
        raise scope.unfit(place)
    kind = scope.run_kind(place)
    if kind is None or scope.is_listed(place):
        return False
    if kind is RunKind.UNIT:
        raise scope.broken(LineFault.UNIT_AFTER_SYMBOL if _names_in(factor) else LineFault.UNIT_TWICE, place, place)
    raise scope.unknown_after_number(place) if before.kind is Kind.NUMBER else scope.unknown(place)


def _names_in(node: Node) -> bool:
    return isinstance(node, Name) or any(_names_in(part) for part in parts(node))


def _refuse_ambiguous_quotient(scope: Scope, slash: int, place: int) -> None:
    """a/b c: read only where a bracket, set apart, or a plain share such as 1/2 shows what is divided by."""
    apart = scope.is_gap(place)
    if apart and scope.is_kind(place - 1, Kind.CLOSE):
        return
    over, under = scope.tokens[slash - 1], scope.tokens[slash + 1]
    close = scope.is_joined(slash) and scope.is_joined(slash + 1) and place == slash + 2
    if apart and close and (over.text, under.text) in SHARES:
        return
    raise scope.broken(LineFault.QUOTIENT, over.partner if over.kind is Kind.CLOSE else slash - 1, place)


def _signed_at(scope: Scope, place: int, depth: int) -> Read:
    """A factor that may have a sign of its own: 5 × −3."""
    if not scope.is_sign(place, "+", "-"):
        return _power_at(scope, place, depth)
    if scope.is_kind(place + 1, Kind.SIGN) and not scope.is_sign(place + 1, "√"):
        raise scope.broken(LineFault.TWO_OPERATORS, place, place + 1)
    node, past = _power_at(scope, place + 1, depth)
    if scope.tokens[place].text == "+":
        return node, past
    return Minus((scope.tokens[place].first + 1, node.columns[1]), node), past


def _power_at(scope: Scope, place: int, depth: int) -> Read:
    node, past = _primary_at(scope, place, depth)
    raised = scope.is_kind(past, Kind.POWER) or scope.is_sign(past, "^")
    if raised:
        token = scope.tokens[place]
        exponent, after = _exponent_at(scope, past, depth)
        tower = token.kind is Kind.NUMBER and token.numeral is not None and token.numeral.ten
        if tower or scope.is_kind(after, Kind.POWER) or scope.is_sign(after, "^"):
            raise scope.broken(LineFault.TOWER, place, max(after - 1, past))
        node, past = Power(_around(node, exponent), node, exponent), after
    if isinstance(node, Name) or (scope.is_kind(place, Kind.NUMBER) and not raised) or not _is_counted(node):
        return node, past
    unit = unit_literal(scope, past, place)
    if unit is None:
        return node, past
    if any(one.exponents is None or unit[0].power for one in unit[0].meanings) and not _is_bare(node):
        raise scope.broken(LineFault.UNIT_TWICE, past, unit[1] - 1)
    return Product(_around(node, unit[0]), (node, unit[0])), unit[1]


def _is_counted(node: Node) -> bool:
    """Numbers without units only, so that one unit after the bracket serves them all."""
    if isinstance(node, Literal):
        return node.bare or all(meaning.exponents is None for meaning in node.meanings)
    return not isinstance(node, Name) and all(_is_counted(part) for part in parts(node))


def _is_bare(node: Node) -> bool:
    return node.bare if isinstance(node, Literal) else all(_is_bare(part) for part in parts(node))


def _exponent_at(scope: Scope, place: int, depth: int) -> Read:
    """What a power is raised to, at `^` or in superscript figures; a unit never joins it."""
    token = scope.tokens[place]
    node: Node
    if token.kind is Kind.POWER and token.numeral is not None:
        bounded(token.numeral.digits, token.first, token.past)
        node = whole_literal(token.numeral.digits, (token.first + 1, token.past + 1))
        return (Minus(node.columns, node) if token.negative else node), place + 1
    sign = place + 1 if scope.is_sign(place + 1, "+", "-") else -1
    first = place + 2 if sign >= 0 else place + 1
    node, past = (bare_literal(scope, first), first + 1) if scope.is_kind(first, Kind.NUMBER) else _primary_at(
        scope, first, depth + 1
    )  # fmt: skip
    size = node.arg if isinstance(node, Minus) else node
    if isinstance(size, Literal) and size.meanings[0].value > MOST_POWER:
        raise scope.broken(LineFault.POWER, first, past - 1)
    if sign >= 0 and scope.tokens[sign].text == "-":
        node = Minus((scope.tokens[sign].first + 1, node.columns[1]), node)
    return node, past


def _primary_at(scope: Scope, place: int, depth: int) -> Read:
    token = scope.at(place)
    if token is None:
        raise scope.unfit(place)
    if depth > MOST_DEPTH:
        raise scope.broken(LineFault.TOO_DEEP, place, place)
    if token.kind is Kind.NUMBER:
        return _share_at(scope, place) or literal_at(scope, place)
    if token.kind is Kind.FRACTION:
        columns = (token.first + 1, token.past + 1)
        over, under = FRACTIONS[token.text]
        return Quotient(columns, whole_literal(over, columns), whole_literal(under, columns)), place + 1
    if token.kind is Kind.RUN:
        return _run_at(scope, place, depth)
    if token.kind is Kind.OPEN:
        return _group_at(scope, place, depth)
    if token.kind is Kind.SIGN and token.text == "√":
        arg, past = _argument_at(scope, place + 1, depth)
        return Call((token.first + 1, arg.columns[1]), "sqrt", (arg,)), past
    raise scope.unfit(place)


def _share_at(scope: Scope, place: int) -> Read | None:
    """1/4 W: a share of a unit, where the slash belongs to the number."""
    slash, under = scope.is_sign(place + 1, "/"), scope.at(place + 2)
    if not slash or under is None or not scope.is_joined(place + 1) or not scope.is_joined(place + 2):
        return None
    if (scope.tokens[place].text, under.text) not in SHARES:
        return None
    unit = unit_literal(scope, place + 3, place) if scope.is_unit(place + 3, SHARED_UNIT) else None
    if unit is None:
        return None
    over, low = bare_literal(scope, place), bare_literal(scope, place + 2)
    return Product(_around(over, unit[0]), (Quotient(_around(over, low), over, low), unit[0])), unit[1]


def _run_at(scope: Scope, place: int, depth: int) -> Read:
    token, kind = scope.tokens[place], scope.run_kind(place)
    if kind is RunKind.SYMBOL:
        return name_at(scope, place, place, token.text)
    if token.numeral is not None:
        return literal_at(scope, place)
    if is_change(scope, place):
        return name_at(scope, place, place + 1, "Δ" + scope.tokens[place + 1].text)
    ended = ended_name_at(scope, place)
    if ended is not None:
        return ended
    if kind is RunKind.CONSTANT:
        return constant(token.text, (token.first + 1, token.past + 1)), place + 1
    if kind is RunKind.FUNCTION:
        return _call_at(scope, place, depth)
    if kind is RunKind.UNIT:
        raise scope.broken(LineFault.UNIT_ALONE, place, place)
    raise scope.unknown(place)


def _call_at(scope: Scope, place: int, depth: int) -> Read:
    token, opened = scope.tokens[place], scope.at(place + 1)
    name, fewest, most = FUNCTIONS[lowered(token.text)]
    if opened is None or opened.kind is not Kind.OPEN:
        if fewest > 1 or not begins_factor(scope, place + 1) or not scope.is_gap(place + 1):
            raise scope.broken(LineFault.NO_ARGUMENT, place, place)
        arg, past = _argument_at(scope, place + 1, depth)
        return Call((token.first + 1, arg.columns[1]), name, (arg,)), past
    close = _closing(scope, place + 1)
    args: list[Node] = []
    at = place + 2
    while True:
        arg, at = member_at(scope, at, depth + 1)
        args.append(arg)
        at = past_remarks(scope, at)
        if at == close:
            break
        if not scope.is_kind(at, Kind.COMMA) and not (scope.is_kind(at, Kind.BREAK) and scope.tokens[at].text == ";"):
            raise _inside(scope, at)
        at += 1
    if not fewest <= len(args) <= most:
        raise scope.broken(LineFault.ARGUMENTS, place, place, ARGUMENT_COUNTS[min(fewest, 2) - 1])
    return Call((token.first + 1, scope.tokens[close].past + 1), name, tuple(args)), close + 1


def _argument_at(scope: Scope, place: int, depth: int) -> Read:
    """What stands under a root sign or after a function without brackets: one number, symbol or bracket."""
    if scope.is_kind(place, Kind.NUMBER):
        return bare_literal(scope, place), place + 1
    return _primary_at(scope, place, depth + 1)


def _group_at(scope: Scope, place: int, depth: int) -> Read:
    close = _closing(scope, place)
    node, at = member_at(scope, place + 1, depth + 1)
    at = past_remarks(scope, at)
    if at != close:
        raise _inside(scope, at)
    return replace(node, columns=(scope.tokens[place].first + 1, scope.tokens[close].past + 1)), close + 1


def _closing(scope: Scope, place: int) -> int:
    """The place of the bracket that closes the one at `place`, with something between."""
    close = scope.tokens[place].partner
    if close < 0:
        raise scope.broken(LineFault.OPEN_BRACKET, place, place)
    if (scope.tokens[place].text == "(") != (scope.tokens[close].text == ")"):
        raise scope.broken(LineFault.BRACKET_KIND, place, close)
    if close == place + 1:
        raise scope.broken(LineFault.EMPTY_BRACKETS, place, close)
    return close


def _inside(scope: Scope, place: int) -> Broken:
    """What is wrong with a token that cannot go on inside brackets."""
    if scope.is_kind(place, Kind.RELATION):
        return scope.broken(LineFault.RELATION_INSIDE, place, place)
    if scope.is_kind(place, Kind.COMMA, Kind.BREAK, Kind.COLON):
        return scope.broken(LineFault.LIST_INSIDE, place, place)
    return scope.unfit(place)
