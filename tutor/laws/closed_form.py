"""Every quantity of a circuit as an expression of its free parameters, and proofs made from them.

The laws of a region are linear in the node voltages and branch currents once the part values are fixed, so one linear
solution gives the manifold; powers, efficiencies and what an author wrote follow by substitution. An author's relation
is *proved* when its two sides are the same function on that manifold, and *vacuous* when it says nothing (x = x).
"""

from __future__ import annotations

import operator
from functools import lru_cache, reduce
from random import Random

import sympy

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.circuit.component import PartKind
from tutor.laws.algebra import SympyExpr, sympy_symbol, to_sympy
from tutor.laws.derive import derive
from tutor.laws.law import Law
from tutor.quantities.expression import Equation

_SPREAD = 10**9  # values a letter is taken from
_POINTS = 3  # of a proof


def parameters(circuit: Circuit, load: LoadModel) -> tuple[str, ...]:
    """The free parameters: part values, sources, and what the load holds fixed (its current where it has no other)."""
    role = "resistance" if load is LoadModel.RESISTOR else "current"
    loads = [part.symbols for part in circuit.parts if part.kind is PartKind.LOAD]
    return tuple(dict.fromkeys((*circuit.constants, *(load[role] or load["current"] for load in loads))))


def closed_forms(circuit: Circuit, region: Region, load: LoadModel) -> dict[str, SympyExpr]:
    """Each quantity that the laws of the region fix, as a function of `parameters`, in sympy form."""
    stated = {item.id for item in circuit.composites}
    equations = tuple(
        law.equation
        for law in derive(circuit, region, load, with_slopes=False).laws
        if not law.id.startswith("if.") and law.id not in stated
    )
    definitions = tuple(law.equation for law in derive(circuit, region, load).laws if law.id in stated)
    return dict(_solved(equations, definitions, parameters(circuit, load)))


@lru_cache(maxsize=256)  # conventions that leave these laws alone have the same forms
def _solved(
    equations: tuple[Equation, ...], definitions: tuple[Equation, ...], parameters: tuple[str, ...]
) -> dict[str, SympyExpr]:
    """The forms that linear laws give, then those that follow from them one by one."""
    free = set(parameters)
    forms: dict[str, SympyExpr] = {name: sympy_symbol(name) for name in parameters}
    pending = [difference(equation) for equation in equations]
    core = [form for form in pending if _is_linear(form, free)]
    unknowns = sorted({str(item) for form in core for item in form.free_symbols} - free)
    targets = [sympy_symbol(name) for name in unknowns]
    fractions = _Fractions(parameters)
    for solution in sympy.linsolve(core, targets):
        for name, value in zip(unknowns, solution, strict=True):
            if not value.free_symbols & set(targets):
                forms[name] = _value_of(sympy_symbol(name), value, {}, fractions)
    _follow(pending + [difference(equation) for equation in definitions], forms, fractions)
    return forms


def difference(equation: Equation) -> SympyExpr:
    """Left side minus right side."""
    return to_sympy(equation.lhs) - to_sympy(equation.rhs)


def _is_linear(form: SympyExpr, free: set[str]) -> bool:
    unknown = [item for item in form.free_symbols if str(item) not in free]
    numerator, denominator = sympy.fraction(sympy.together(form))
    if any(item in denominator.free_symbols for item in unknown):
        return False
    poly = numerator.as_poly(*unknown) if unknown else None
    return poly is not None and poly.total_degree() <= 1


class _Fractions:
    """What is known as quotients of polynomials in the parameters, worked with as such.

    `sympy.cancel` says the same of an expression, but multiplies it out on the way; here each step is cancelled as it
    is taken. Its order of letters is kept, so that the same quotient is written alike.
    """

    def __init__(self, parameters: tuple[str, ...]) -> None:
        letters = [sympy_symbol(name) for name in parameters]
        order = sympy.Add(*letters).as_poly().gens
        self._field, *elements = sympy.field(order, sympy.QQ)
        self._known: dict[SympyExpr, SympyExpr] = dict(zip(order, elements, strict=True))

    def cancelled(self, symbol: SympyExpr, form: SympyExpr) -> SympyExpr:
        """A form in the parameters and in symbols that were cancelled before, as one cancelled quotient that is kept
        under a symbol. LookupError where it is no such quotient; ZeroDivisionError where it has no value."""
        found = self._quotient(form)
        self._known[symbol] = found
        return found.as_expr()

    def _quotient(self, form: SympyExpr) -> SympyExpr:
        if form.is_Symbol:
            return self._known[form]
        if form.is_Rational:
            return self._field.field_new(sympy.QQ(int(form.p), int(form.q)))
        if form.is_Add or form.is_Mul:
            parts = [self._quotient(part) for part in form.args]
            return reduce(operator.add if form.is_Add else operator.mul, parts)
        if form.is_Pow and form.exp.is_Integer:
            return self._quotient(form.base) ** int(form.exp)
        raise LookupError(f"{form} is no quotient of polynomials")


def _follow(pending: list[SympyExpr], forms: dict[str, SympyExpr], fractions: _Fractions) -> None:
    """Solve, one after another, the relations with a single unknown left in them."""
    known = {sympy_symbol(name): value for name, value in forms.items()}
    moved = True
    while moved:
        moved = False
        for form in pending:
            unknown = [item for item in form.free_symbols if item not in known]
            if len(unknown) != 1:
                continue
            numerator = sympy.fraction(sympy.together(form))[0]
            poly = numerator.as_poly(unknown[0])
            if poly is None or poly.degree() != 1:
                continue
            high, low = poly.all_coeffs()
            value = _value_of(unknown[0], -low / high, known, fractions)
            if value.has(sympy.nan, sympy.zoo):
                continue  # 0/0, such as the efficiency of a circuit that draws nothing, fixes no value
            known[unknown[0]] = value
            forms[str(unknown[0])] = value
            moved = True


def _value_of(
    symbol: SympyExpr, form: SympyExpr, known: dict[SympyExpr, SympyExpr], fractions: _Fractions
) -> SympyExpr:
    """A symbol's form with what is known put in, cancelled; nan where it has no value."""
    try:
        return fractions.cancelled(symbol, form)
    except ZeroDivisionError:
        return sympy.nan
    except LookupError:  # a root stands in it
        return sympy.cancel(form.subs(known, simultaneous=True))


def derivative(forms: dict[str, SympyExpr], of: str, by: str) -> SympyExpr:
    """d(of)/d(by) on the manifold, the other parameters held."""
    return sympy.cancel(sympy.diff(forms[of], sympy_symbol(by)))


def is_proved(equation: Equation, forms: dict[str, SympyExpr]) -> bool:
    """Whether the two sides are the same function of the parameters (every symbol must be in `forms`).

    Two quotients of polynomials that differ agree at no more of a grid than their degree allows: with each letter
    taken at random among 10^9 values they agree at one point with a probability of at most degree/10^9, and at all of
    `_POINTS` below 1e-20 for a degree of 100 (the lemma of Schwartz and Zippel). Exact values there are a proof as
    good as algebra, and quicker; where roots leave no exact value, algebra proves it.
    """
    form = difference(equation)
    for point in range(_POINTS):
        value = form.xreplace({item: _value_at(forms.get(str(item), item), point) for item in form.free_symbols})
        if not value.is_Rational:
            break
        if value != 0:
            return False
    else:
        return True
    known = {sympy_symbol(name): value for name, value in forms.items()}
    return bool(sympy.cancel(form.subs(known, simultaneous=True)) == 0)


@lru_cache(maxsize=8192)  # a form is met again in every law that speaks of it
def _value_at(form: SympyExpr, point: int) -> SympyExpr:
    """The exact value of a form at one of the points of proofs; no rational number where it has roots, or none."""
    at = {item: sympy.Rational(Random(f"{item} at {point}").randrange(1, _SPREAD), 7919) for item in form.free_symbols}
    return form.xreplace(at)


def is_vacuous(law: Law) -> bool:
    """Whether a law says nothing about its symbols: its two sides are equal whatever they are."""
    return bool(sympy.cancel(difference(law.equation)) == 0)
