"""Expressions as a person wrote them: order kept, nothing simplified.

Vocabulary: an *expression* is a frozen tree; a *leaf* is a symbol (`Sym`), a pure number (`Num`) or a number with
its unit (`Val`). An *equation* is two expressions and the relation between them.
Place in the data flow: the lowest value of all; laws, plans, solutions and views speak in these trees. sympy sees
them only inside `laws` (`laws/algebra.py` converts both ways).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import repeat


@dataclass(frozen=True)
class Num:
    """A pure number, such as the 1 of h_FE + 1; no unit."""

    value: float


@dataclass(frozen=True)
class Sym:
    """A letter symbol of the table, by name: `V_I`, `I_L_MAX`."""

    name: str


@dataclass(frozen=True)
class Val:
    """A number with its unit, in SI (°C for temperatures), as put into a relation; `figures` as in `Quantity`."""

    value: float
    unit: str
    figures: int = 3


@dataclass(frozen=True)
class Neg:
    """−x."""

    arg: Expr


@dataclass(frozen=True)
class Add:
    """A sum; a subtracted term is a `Neg` term."""

    terms: tuple[Expr, ...]


@dataclass(frozen=True)
class Mul:
    """A product, factors in the order written."""

    factors: tuple[Expr, ...]


@dataclass(frozen=True)
class Div:
    """A quotient."""

    num: Expr
    den: Expr


@dataclass(frozen=True)
class Pow:
    """A whole power, the exponent a number from 1 on; 1/x² is a quotient."""

    base: Expr
    exponent: int


@dataclass(frozen=True)
class Parallel:
    """a ∥ b: ab/(a + b), both resistances in ohms."""

    left: Expr
    right: Expr


@dataclass(frozen=True)
class Func:
    """A function of one expression: `sqrt`, or `cbrt` (the cube root, of what is not below zero)."""

    name: str
    arg: Expr


@dataclass(frozen=True)
class Partial:
    """∂y/∂x, standing for itself (a sensitivity before it is worked out)."""

    of: str
    by: str


Expr = Num | Sym | Val | Neg | Add | Mul | Div | Pow | Parallel | Func | Partial

LEAVES = (Num, Sym, Val, Partial)
ZEROS: tuple[Expr, ...] = (Num(0), Neg(Num(0)))  # terms that add nothing to a sum


@dataclass(frozen=True)
class Equation:
    """Two expressions and the relation between them: `=`, `<=`, `>=`, `<`, `>` or `≈`."""

    lhs: Expr
    rhs: Expr
    relation: str = "="


def children(expr: Expr) -> tuple[Expr, ...]:
    """The direct parts of an expression, in the order written."""
    if isinstance(expr, LEAVES):
        return ()
    if isinstance(expr, Add):
        return expr.terms
    if isinstance(expr, Mul):
        return expr.factors
    if isinstance(expr, Div):
        return (expr.num, expr.den)
    if isinstance(expr, Parallel):
        return (expr.left, expr.right)
    if isinstance(expr, Pow):
        return (expr.base,)
    return (expr.arg,)


def rebuild(expr: Expr, parts: tuple[Expr, ...]) -> Expr:
    """The same kind of expression over other parts."""
    if isinstance(expr, LEAVES):
        return expr
    if isinstance(expr, Add):
        return Add(parts)
    if isinstance(expr, Mul):
        return Mul(parts)
    if isinstance(expr, Div):
        return Div(*parts)
    if isinstance(expr, Parallel):
        return Parallel(*parts)
    if isinstance(expr, Pow):
        return Pow(parts[0], expr.exponent)
    if isinstance(expr, Func):
        return Func(expr.name, parts[0])
    return Neg(parts[0])


def transform(expr: Expr, leaf: Callable[[Expr], Expr]) -> Expr:
    """The expression with every leaf replaced by `leaf(it)`."""
    if isinstance(expr, LEAVES):
        return leaf(expr)
    return rebuild(expr, tuple(transform(part, leaf) for part in children(expr)))


def substitute(expr: Expr, mapping: Mapping[str, Expr]) -> Expr:
    """Every symbol named in `mapping` replaced by its expression.

    >>> substitute(Add((Sym("I_R"), Neg(Sym("I_L")))), {"I_L": Sym("I_L_MAX")})
    Add(terms=(Sym(name='I_R'), Neg(arg=Sym(name='I_L_MAX'))))
    """
    return transform(expr, lambda part: mapping.get(part.name, part) if isinstance(part, Sym) else part)


def replace_subtree(expr: Expr, old: Expr, new: Expr) -> Expr:
    """Every occurrence of the subtree `old` replaced by `new`."""
    if expr == old:
        return new
    if isinstance(expr, LEAVES):
        return expr
    return rebuild(expr, tuple(replace_subtree(part, old, new) for part in children(expr)))


def negated(expr: Expr) -> Expr:
    """The same with the other sign: the minus before the whole is taken away, or put there."""
    return expr.arg if isinstance(expr, Neg) else Neg(expr)


def split_sign(term: Expr) -> tuple[bool, Expr]:
    """Whether a term of a sum is subtracted, and what is added or subtracted."""
    if isinstance(term, Neg):
        return True, term.arg
    if isinstance(term, Num) and term.value < 0:
        return True, Num(-term.value)
    if isinstance(term, Val) and term.value < 0:
        return True, Val(-term.value, term.unit, term.figures)
    return False, term


def sum_of(terms: Sequence[Expr]) -> Expr:
    """The sum of some terms in their order: one stands alone, and none come to 0.

    >>> sum_of([Sym("V_R"), Sym("V_O")])
    Add(terms=(Sym(name='V_R'), Sym(name='V_O')))
    """
    if not terms:
        return Num(0)
    return terms[0] if len(terms) == 1 else Add(tuple(terms))


def factors(expr: Expr) -> tuple[Expr, ...]:
    """The factors of a product, or the expression itself."""
    return expr.factors if isinstance(expr, Mul) else (expr,)


def alike(one: Expr, other: Expr, leaf: Callable[[Expr, Expr], bool]) -> bool:
    """Whether two expressions are of one shape, each leaf what `leaf` takes for the same as the other's."""
    if type(one) is not type(other):
        return False
    if isinstance(one, LEAVES):
        return leaf(one, other)
    if isinstance(one, Pow) and isinstance(other, Pow) and one.exponent != other.exponent:
        return False
    if isinstance(one, Func) and isinstance(other, Func) and one.name != other.name:
        return False
    parts, others = children(one), children(other)
    return len(parts) == len(others) and all(map(alike, parts, others, repeat(leaf)))


def leaves(expr: Expr) -> Iterator[Expr]:
    """The leaves, left to right."""
    if isinstance(expr, LEAVES):
        yield expr
    for part in children(expr):
        yield from leaves(part)


def symbols_of(expr: Expr) -> tuple[str, ...]:
    """Names of the symbols in an expression, each once, in order of first use."""
    seen: dict[str, None] = {}
    for leaf in leaves(expr):
        if isinstance(leaf, Sym):
            seen.setdefault(leaf.name)
    return tuple(seen)


def count(expr: Expr, name: str) -> int:
    """How often the symbol `name` occurs."""
    return sum(1 for leaf in leaves(expr) if isinstance(leaf, Sym) and leaf.name == name)


def size(expr: Expr) -> int:
    """Number of nodes: a rough measure of how long the expression is to write."""
    return 1 + sum(size(part) for part in children(expr))


def to_json(expr: Expr) -> list[object]:
    """The tree as nested lists, for the plan store and for the pages: `["+", ["s", "I_R"], ["-", ["s", "I_L"]]]`."""
    if isinstance(expr, Num):
        return ["n", expr.value]
    if isinstance(expr, Sym):
        return ["s", expr.name]
    if isinstance(expr, Val):
        return ["v", expr.value, expr.unit, expr.figures]
    if isinstance(expr, Partial):
        return ["d", expr.of, expr.by]
    parts: list[object] = [to_json(part) for part in children(expr)]
    if isinstance(expr, Pow):
        return ["^", *parts, expr.exponent]
    if isinstance(expr, Func):
        return ["f", expr.name, *parts]
    tag = {Add: "+", Mul: "*", Div: "/", Neg: "-", Parallel: "||"}[type(expr)]
    return [tag, *parts]


def from_json(data: list[object]) -> Expr:
    """The inverse of `to_json`; a malformed list raises ValueError."""
    try:
        return _from_list(data)
    except (TypeError, IndexError, ValueError) as error:  # of another shape than any expression has
        raise ValueError(f"not an expression: {data!r}") from error


def _from_list(data: list[object]) -> Expr:
    tag, *rest = data
    if tag == "n" and isinstance(rest[0], int | float):
        return Num(rest[0])
    if tag == "s":
        return Sym(str(rest[0]))
    if tag == "v" and isinstance(rest[0], int | float) and isinstance(rest[2], int):
        return Val(rest[0], str(rest[1]), rest[2])
    if tag == "d":
        return Partial(str(rest[0]), str(rest[1]))
    if tag == "f" and isinstance(rest[1], list):
        return Func(str(rest[0]), _from_list(rest[1]))
    parts = tuple(_from_list(part) for part in rest if isinstance(part, list))
    if tag == "^" and isinstance(rest[1], int):
        return Pow(parts[0], rest[1])
    if tag == "+":
        return Add(parts)
    if tag == "*":
        return Mul(parts)
    if tag == "/":
        return Div(*parts)
    if tag == "||":
        return Parallel(*parts)
    if tag == "-":
        return Neg(*parts)
    raise ValueError(f"no tag of an expression: {tag!r}")


def evaluate(expr: Expr, values: Mapping[str, float]) -> float:
    """The number an expression has at `values` (SI); KeyError names a symbol without a value, ValueError a sensitivity.

    Sums and products run left to right with + − × ÷ and sqrt alone, so every machine gives the same bits.
    Works elementwise when the values are numpy arrays.
    """
    if isinstance(expr, Sym):
        return values[expr.name]
    if isinstance(expr, Add):
        total = evaluate(expr.terms[0], values)
        for term in expr.terms[1:]:
            total = total + evaluate(term, values)
        return total
    if isinstance(expr, Neg):
        return -evaluate(expr.arg, values)
    if isinstance(expr, Mul):
        product = evaluate(expr.factors[0], values)
        for factor in expr.factors[1:]:
            product = product * evaluate(factor, values)
        return product
    if isinstance(expr, Div):
        return evaluate(expr.num, values) / evaluate(expr.den, values)
    if isinstance(expr, Num | Val):
        return expr.value
    if isinstance(expr, Parallel):
        left, right = evaluate(expr.left, values), evaluate(expr.right, values)
        return left * right / (left + right)
    if isinstance(expr, Pow):
        return whole_power(evaluate(expr.base, values), expr.exponent)
    if isinstance(expr, Partial):
        raise ValueError(f"the sensitivity of {expr.of} to {expr.by} has no value of its own")
    if expr.name == "cbrt":
        return cube_root(evaluate(expr.arg, values))
    root: float = evaluate(expr.arg, values) ** 0.5
    return root


def cube_root(value: float) -> float:
    """The cube root of a number above zero (0 of 0), by × ÷ + and √ alone, for equal bits everywhere.

    x^(1/4) x^(1/16) x^(1/64) x^(1/256) comes within a few per cent of x^(1/3) over the range of a float's usual
    values, and four of Newton's steps, y <- (2 y + x/y^2)/3, settle the rest. Works elementwise on numpy arrays.
    """
    power = value
    guess: float = 1.0
    for _ in range(4):
        power = (power**0.5) ** 0.5
        guess = guess * power
    # Nothing has no root by division: one is put under the bar, where a factor of nothing stands above it.
    for _ in range(4):
        under = guess * guess + (value == 0)
        guess = (2 * guess + value / under) / 3
    return guess


def whole_power(base: float, exponent: int) -> float:
    """`base` to a whole power from 1 on, by repeated multiplication, for equal bits everywhere."""
    result = base
    for _ in range(exponent - 1):
        result = result * base
    return result
