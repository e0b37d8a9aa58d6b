"""True lines written in other ways, and lines made false by one change: the means of `test_properties.py`.

A *rewriting* is an identity of algebra applied to both sides of a relation; a *change* is one factor, sign, term or
symbol altered. What is true is worked out here from the circuit's closed forms in exact fractions, by none of the code
under test.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import cache

import sympy
from hypothesis import strategies as st

from tests.solution.at_hand import laws_of, sheet
from tutor.laws.algebra import sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters
from tutor.laws.derive import load_model
from tutor.quantities.expression import (
    Add,
    Div,
    Equation,
    Expr,
    Mul,
    Neg,
    Num,
    Parallel,
    Pow,
    Sym,
    Val,
    children,
    rebuild,
    substitute,
    symbols_of,
)
from tutor.solution.desk import our_desk

Draw = Callable[..., object]
STRAIGHT = {"r_z": Fraction(0), "I_ZT": Fraction(1, 50)}
# What has no closed form of its own, or means something else at what is asked.
LEFT_OUT = {
    "V_TH", "S_V", "R_OUT", "REG_LOAD", "eta", "I_ZM", "I_ZK", "P_ZM", "V_ZT", "V_CE_SAT", "DV_O", "DV_I", "DI_L",
}  # fmt: skip


@cache
def _functions(circuit_id: str, region_id: str, names: tuple[str, ...]):
    circuit = our_desk().circuit(circuit_id)
    load = load_model(names)
    forms = closed_forms(circuit, circuit.region(region_id), load)
    letters = parameters(circuit, load)
    quantities = sorted(forms)
    run = sympy.lambdify([sympy_symbol(name) for name in letters], [forms[name] for name in quantities], "math")
    return letters, quantities, run


def exact_point(name: str, shares: Iterator[Fraction]) -> dict[str, Fraction]:
    """Every quantity of a problem's circuit in its region at an operating point of fresh part values, exactly."""
    told = sheet(name)
    letters, quantities, run = _functions(told.circuit, told.region, told.recipe.known)
    typical = {"R_L": 470.0, **our_desk().circuit(told.circuit).typical}
    straight = "r_z" not in told.recipe.known and "r_z" not in told.asked
    at = [
        STRAIGHT[letter] if straight and letter in STRAIGHT else Fraction(str(typical[letter])) * next(shares)
        for letter in letters
    ]
    return dict(zip(quantities, run(*at), strict=True))


def exactly(expr: Expr, at: Mapping[str, Fraction]) -> Fraction:
    """The value of an expression of symbols and whole numbers; ZeroDivisionError when it has none."""
    if isinstance(expr, Sym):
        return at[expr.name]
    if isinstance(expr, Num):
        return Fraction(expr.value)
    parts = [exactly(part, at) for part in children(expr)]
    if isinstance(expr, Add):
        return sum(parts, Fraction(0))
    if isinstance(expr, Mul):
        product = Fraction(1)
        for part in parts:
            product *= part
        return product
    if isinstance(expr, Div):
        return parts[0] / parts[1]
    if isinstance(expr, Parallel):
        return parts[0] * parts[1] / (parts[0] + parts[1])
    if isinstance(expr, Pow):
        return parts[0] ** expr.exponent
    assert isinstance(expr, Neg)
    return -parts[0]


def is_true(equation: Equation, points: list[dict[str, Fraction]]) -> bool:
    """Whether both sides are the same number, exactly, at every point at which both have one."""
    looked_at = 0
    for at in points:
        try:
            if exactly(equation.lhs, at) != exactly(equation.rhs, at):
                return False
        except ZeroDivisionError:
            continue
        looked_at += 1
    return looked_at > 0


def conventions_of(name: str) -> tuple[tuple[str, str], ...]:
    """The conventions that a problem's level takes and its circuit does not take first."""
    id, level, _ = name.split(":")
    family = our_desk().family(id)
    first = our_desk().circuit(family.circuit_of(int(level))).convention_values()
    assumed = {**family.assume, **family.levels[int(level) - 1].assume}
    return tuple((key, value) for key, value in assumed.items() if key not in first or value != first[key][0])


@cache
def true_lines(name: str) -> tuple[Equation, ...]:
    """The laws of a problem's circuit whose quantities all have a closed form, in whatever convention is in use."""
    told = sheet(name)
    known = set(_functions(told.circuit, told.region, told.recipe.known)[1]) - LEFT_OUT
    if "r_z" not in told.recipe.known and "r_z" not in told.asked:
        known -= {"V_Z0", "r_z", "I_ZT"}
    laws = laws_of(told.circuit, told.region, told.recipe.known)
    here = {law.equation for law in laws_of(told.circuit, told.region, told.recipe.known, (), conventions_of(name))}
    known &= set(told.symbols)
    return tuple(
        law.equation
        for law in laws
        if law.equation in here and set(law.symbols) <= known and _rational(law.equation)
    )


def _rational(equation: Equation) -> bool:
    sides = (equation.lhs, equation.rhs)
    return equation.relation == "=" and not any(isinstance(side, Num) or "Func" in repr(side) for side in sides)


def both(equation: Equation, change: Callable[[Expr], Expr]) -> Equation:
    return Equation(change(equation.lhs), change(equation.rhs))


def turned(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    return Equation(equation.rhs, equation.lhs)


def moved(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    """A term of one side taken to the other."""
    sides = (equation.lhs, equation.rhs)
    at = draw(st.integers(0, 1))
    here, there = sides[at], sides[1 - at]
    terms = here.terms if isinstance(here, Add) else (here,)
    index = draw(st.integers(0, len(terms) - 1))
    rest = (*terms[:index], *terms[index + 1 :])
    if not rest:
        return equation  # a side of 0 has a test of its own
    taken = terms[index].arg if isinstance(terms[index], Neg) else Neg(terms[index])
    left = rest[0] if len(rest) == 1 else Add(rest)
    return Equation(left, Add((*(there.terms if isinstance(there, Add) else (there,)), taken)))


def multiplied(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    by = Sym(draw(st.sampled_from(alive)))
    return both(equation, lambda side: Mul((side, by)))


def divided(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    by = Sym(draw(st.sampled_from(alive)))
    return both(equation, lambda side: Div(side, by))


def doubled(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    by = Num(draw(st.integers(2, 9)))
    return both(equation, lambda side: Mul((by, side)))


def reciprocal(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    """1/left = 1/right, of sides that are no sums: those may vanish."""
    if any(isinstance(side, Add | Num | Neg) for side in (equation.lhs, equation.rhs)):
        return equation
    if not set(symbols_of(equation.lhs)) | set(symbols_of(equation.rhs)) <= set(alive):
        return equation
    return both(equation, lambda side: Div(side.den, side.num) if isinstance(side, Div) else Div(Num(1), side))


def commuted(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    def other_way(expr: Expr) -> Expr:
        parts = tuple(other_way(part) for part in children(expr))
        if isinstance(expr, Add) and not isinstance(parts[-1], Neg):
            return Add(parts[::-1])
        if isinstance(expr, Parallel | Mul):
            return rebuild(expr, parts[::-1])
        return rebuild(expr, parts)

    return both(equation, other_way)


def expanded(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    """a (b + c) as a b + a c, (b + c)/a as b/a + c/a, everywhere."""

    def term(each: Expr, make: Callable[[Expr], Expr]) -> Expr:
        return Neg(make(each.arg)) if isinstance(each, Neg) else make(each)

    def out(expr: Expr) -> Expr:
        parts = tuple(out(part) for part in children(expr))
        if isinstance(expr, Div) and isinstance(parts[0], Add):
            return Add(tuple(term(each, lambda item: Div(item, parts[1])) for each in parts[0].terms))
        if isinstance(expr, Mul) and len(parts) == 2:
            for index in (0, 1):
                inner, other = parts[index], parts[1 - index]
                if isinstance(inner, Add):
                    return Add(tuple(term(each, lambda item, other=other: Mul((other, item))) for each in inner.terms))
        if isinstance(expr, Neg) and isinstance(parts[0], Add):
            return Add(tuple(each.arg if isinstance(each, Neg) else Neg(each) for each in parts[0].terms))
        if isinstance(expr, Add):
            return Add(tuple(each for part in parts for each in (part.terms if isinstance(part, Add) else (part,))))
        return rebuild(expr, parts)

    return both(equation, out)


def unfolded(equation: Equation, draw: Draw, alive: list[str]) -> Equation:
    """a/b as a × (1/b), a² as a a, a ∥ b as a b/(a + b)."""

    def out(expr: Expr) -> Expr:
        parts = tuple(out(part) for part in children(expr))
        if isinstance(expr, Parallel):
            return Div(Mul(parts), Add(parts))
        if isinstance(expr, Pow) and expr.exponent == 2:
            return Mul((parts[0], parts[0]))
        return Mul((parts[0], Div(Num(1), parts[1]))) if isinstance(expr, Div) else rebuild(expr, parts)

    return both(equation, out)


REWRITINGS = (turned, moved, multiplied, divided, doubled, reciprocal, commuted, expanded, unfolded)


def changed(expr: Expr, draw: Draw, like: Callable[[str], list[str]]) -> Expr:
    """The expression with one thing altered: a sign, a term, a factor, a symbol, a fraction, a square."""
    ways = list(_changes(expr, like))
    return draw(st.sampled_from(ways)) if ways else expr


def _changes(expr: Expr, like: Callable[[str], list[str]]) -> Iterator[Expr]:
    if isinstance(expr, Sym):
        yield from (Sym(other) for other in like(expr.name) if other != expr.name)
        yield Mul((Num(2), expr))
    if isinstance(expr, Add):
        for index, term in enumerate(expr.terms):
            around = (expr.terms[:index], expr.terms[index + 1 :])
            yield Add((*around[0], term.arg if isinstance(term, Neg) else Neg(term), *around[1]))
            rest = around[0] + around[1]
            yield rest[0] if len(rest) == 1 else Add(rest)
    if isinstance(expr, Mul) and len(expr.factors) > 1:
        for index in range(len(expr.factors)):
            rest = expr.factors[:index] + expr.factors[index + 1 :]
            yield rest[0] if len(rest) == 1 else Mul(rest)
        yield Div(expr.factors[0], expr.factors[1])
    if isinstance(expr, Div):
        yield Div(expr.den, expr.num)
        yield Mul((expr.num, expr.den))
    if isinstance(expr, Pow):
        yield expr.base
    if isinstance(expr, Parallel):
        yield Add((expr.left, expr.right))
    parts = children(expr)
    for index, part in enumerate(parts):
        for other in _changes(part, like):
            yield rebuild(expr, (*parts[:index], other, *parts[index + 1 :]))


def with_numbers(equation: Equation, values: Mapping[str, Val]) -> Equation:
    """Some symbols replaced by their numbers."""
    return both(equation, lambda side: substitute(side, values))


def subtrees(expr: Expr) -> list[Expr]:
    """Every part of an expression that is no leaf."""
    found = [item for part in children(expr) for item in subtrees(part)]
    return [*found, expr] if children(expr) else found
