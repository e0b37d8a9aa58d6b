"""Several laws that share an unknown, put into one equation in that unknown.

The chain expresses each other unknown through the supposed one; putting it into the closing law leaves an equation in
one unknown. Of first degree it has a closed form; of second, two roots of which the signs of the circuit's currents
choose one (`regions.py`); above, it is solved by number.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

import sympy

from tutor.laws.algebra import SympyExpr, factors_of, from_sympy, sympy_symbol, to_sympy
from tutor.laws.law import Law
from tutor.plan.exact import with_fractions
from tutor.plan.plan import Step, Substitution
from tutor.plan.rearrange import polynomial
from tutor.quantities.expression import Add, Equation, Expr, Num, children, evaluate, size, substitute, symbols_of

VANISHING = 1e-7  # a sum below this share of its largest term is zero but for rounding
LONG = 45  # an equation of more nodes than this is solved with its numbers put in

Link = tuple[str, Expr, Law]  # a quantity, what it stands as, and the law that says so


def close(
    law: Law,
    chain: Sequence[Link],
    unknown: str,
    probe: Mapping[str, float],
    falling_out: str = "",
    numbers: Callable[[], Mapping[str, Fraction]] = dict,
) -> Step | None:
    """The coupled step that finds `unknown`, or None when the ring closes on itself and says nothing.

    `probe` is any true operating point (SI): where quantities of the ring settle one another, its equation may be an
    identity without looking like one, and then every coefficient vanishes there. It also tells the equation from the
    factors that came in by multiplying out: only the former is kept at a true point. `falling_out` is a second unknown
    of the chain that cancels; the equation is written without it. `numbers` are asked for where the equation is long,
    and put in for their symbols before the algebra; it is still shown in letters.
    """
    coupled, substitutions = _put_in(law, chain)
    if falling_out:
        left, right = (from_sympy(sympy.cancel(to_sympy(side))) for side in (coupled.lhs, coupled.rhs))
        coupled = Equation(left, right)
    put = numbers() if size(coupled.lhs) + size(coupled.rhs) > LONG else {}
    if put:
        found = _written(_in_numbers(coupled, chain, unknown, put))
    else:
        found = _written_in_letters(coupled, unknown, _at(coupled, probe))
    if found is None:
        return None
    closed, coefficients = found
    if all(_vanishes(item, probe) for item in coefficients):
        return None
    return Step(
        unknown,
        law.id,
        law.title,
        law.source,
        law.equation,
        closed,
        coupled,
        coefficients,
        substitutions,
        law.why,
    )


def expressed(law: Law, chain: Sequence[Link], unknown: str, probe: Mapping[str, float]) -> Expr | None:
    """`unknown` by a law into which the chain is put, in terms of what else is left in it; None when the law is not of
    first degree in it, or says nothing of it at the probe."""
    coupled = _put_in(law, chain)[0]
    return _expressed_in_letters(coupled, unknown, _at(coupled, probe))


Written = tuple[Expr | None, tuple[Expr, ...]]  # the closed form of a first degree, and the coefficients


def _at(coupled: Equation, probe: Mapping[str, float]) -> tuple[tuple[str, float], ...]:
    """What the probe says of the symbols of an equation."""
    names = dict.fromkeys((*symbols_of(coupled.lhs), *symbols_of(coupled.rhs)))
    return tuple((name, probe[name]) for name in names if name in probe)


@lru_cache(maxsize=4096)  # rings are met again in other searches, regions and conventions
def _written_in_letters(coupled: Equation, unknown: str, at: tuple[tuple[str, float], ...]) -> Written | None:
    return _written(_in_letters(coupled, unknown, dict(at)))


@lru_cache(maxsize=4096)
def _expressed_in_letters(coupled: Equation, unknown: str, at: tuple[tuple[str, float], ...]) -> Expr | None:
    forms = _in_letters(coupled, unknown, dict(at))
    return None if forms is None else _closed(forms)


def _written(forms: list[SympyExpr] | None) -> Written | None:
    if forms is None or len(forms) < 2:
        return None
    return _closed(forms), tuple(from_sympy(form) for form in forms)


def _closed(forms: list[SympyExpr]) -> Expr | None:
    return from_sympy(sympy.cancel(-forms[0] / forms[1])) if len(forms) == 2 else None


def _in_letters(coupled: Equation, unknown: str, probe: Mapping[str, float]) -> list[SympyExpr] | None:
    """The coefficients (constant term first) of the polynomial an equation comes to; None when it comes to none."""
    # What is nothing at a true point is nothing everywhere in the region, and hides a factor while it has a letter.
    nothing: dict[str, Expr] = {name: Num(0) for name, value in probe.items() if value == 0}
    stripped = Equation(substitute(coupled.lhs, nothing), substitute(coupled.rhs, nothing))
    forms = _without_zero_root(polynomial(stripped, unknown), unknown)
    return None if forms is None else _kept_at(forms, unknown, probe)


def _in_numbers(
    coupled: Equation, chain: Sequence[Link], unknown: str, numbers: Mapping[str, Fraction]
) -> list[SympyExpr] | None:
    """The same with numbers in place of their symbols, without the roots at which a link of the chain has no value."""
    put = Equation(with_fractions(coupled.lhs, numbers), with_fractions(coupled.rhs, numbers))
    forms = _without_zero_root(polynomial(put, unknown), unknown)
    if forms is None:
        return None
    symbol = sympy_symbol(unknown)
    whole = sympy.expand(sum(form * symbol**power for power, form in enumerate(forms)))
    standing: dict[str, Expr] = {}
    for target, expr, _ in chain:
        standing[target] = substitute(with_fractions(expr, numbers), standing)
        below = sympy.fraction(sympy.cancel(to_sympy(standing[target])))[1]
        while unknown in _names(below):
            shared = sympy.gcd(whole, below)
            if unknown not in _names(shared):
                break
            whole = sympy.cancel(whole / shared)
    kept = list(reversed(sympy.Poly(whole, symbol).all_coeffs()))
    largest = max((abs(item) for form in kept for item in form.atoms(sympy.Rational)), default=sympy.Integer(1))
    return [sympy.N(form / largest, 17) for form in kept]


def _without_zero_root(forms: list[SympyExpr] | None, unknown: str) -> list[SympyExpr] | None:
    """A factor of the unknown itself came in with a division by it: zero solves the equation, not the circuit."""
    while forms and forms[0] == 0:
        forms = forms[1:]
    if forms is None or len(forms) < 2:
        return None
    said = all(unknown not in _names(form) and not form.has(sympy.nan, sympy.zoo) for form in forms)
    return forms if said else None


def _put_in(law: Law, chain: Sequence[Link]) -> tuple[Equation, tuple[Substitution, ...]]:
    """The law's equation with the chain put into it, each link into those after it."""
    standing: dict[str, Expr] = {}
    substitutions: list[Substitution] = []
    for target, expr, used in chain:
        standing[target] = substitute(expr, standing)
        substitutions.append(Substitution(target, expr, used.id, used.title))
    coupled = Equation(substitute(law.equation.lhs, standing), substitute(law.equation.rhs, standing))
    return coupled, tuple(substitutions)


def _names(form: SympyExpr) -> set[str]:
    return {str(item) for item in form.free_symbols}


def _kept_at(forms: list[SympyExpr], unknown: str, probe: Mapping[str, float]) -> list[SympyExpr] | None:
    """The polynomial (constant term first) without the factors that are not zero at the probe; as it is where the
    probe does not reach, None when nothing is left."""
    names = {unknown}.union(*(_names(form) for form in forms))
    if not names <= probe.keys():
        return forms
    symbol = sympy_symbol(unknown)
    whole = sum(form * symbol**power for power, form in enumerate(forms))
    if len(forms) == 2:
        return forms if _is_nothing(whole, probe) else None
    factors = [factor for factor in factors_of(whole) if unknown in _names(factor)]
    kept = [factor for factor in factors if _is_nothing(factor, probe)]
    if len(kept) != 1:
        return None
    return [sympy.factor_terms(item) for item in reversed(kept[0].as_poly(symbol).all_coeffs())]


def _is_nothing(form: SympyExpr, probe: Mapping[str, float]) -> bool:
    """Whether a sum is zero at the probe, measured against its largest term."""
    at = {item: sympy.Float(probe[str(item)], 30) for item in form.free_symbols}
    terms = [complex(term.xreplace(at)) for term in sympy.Add.make_args(sympy.expand(form))]
    return abs(sum(terms)) <= VANISHING * max(map(abs, terms))


def _vanishes(expr: Expr, probe: Mapping[str, float]) -> bool:
    """Whether an expression is zero at the probe but for rounding; False where the probe does not reach."""
    if not all(name in probe for name in symbols_of(expr)):
        return False
    try:
        return abs(evaluate(expr, probe)) <= VANISHING * reach(expr, probe)
    except ZeroDivisionError:
        return False


def reach(expr: Expr, at: Mapping[str, float]) -> float:
    """The size an expression would have if no term cancelled another."""
    if isinstance(expr, Add):
        return sum(reach(term, at) for term in expr.terms)
    parts = children(expr)
    if not parts:
        return abs(evaluate(expr, at))
    inner = abs(evaluate(expr, at))
    for part in parts:
        own = abs(evaluate(part, at))
        inner = max(inner, inner * reach(part, at) / own if own else reach(part, at))
    return inner
