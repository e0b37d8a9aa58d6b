"""Every quantity of a circuit as an expression of its free parameters, and proofs made from them.

The laws of a region are linear in the node voltages and branch currents once the part values are fixed, so one linear
solution gives the manifold; powers, efficiencies and what an author wrote follow by substitution. An author's relation
is *proved* when its two sides are the same function on that manifold, and *vacuous* when it says nothing (x = x).
"""

from __future__ import annotations

from functools import lru_cache

import sympy

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.circuit.component import PartKind
from tutor.laws.algebra import SympyExpr, sympy_symbol, to_sympy
from tutor.laws.derive import derive
from tutor.laws.law import Law
from tutor.quantities.expression import Equation


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
    forms: dict[str, SympyExpr] = {name: sympy_symbol(name) for name in free}
    pending = [difference(equation) for equation in equations]
    core = [form for form in pending if _is_linear(form, free)]
    unknowns = sorted({str(item) for form in core for item in form.free_symbols} - free)
    targets = [sympy_symbol(name) for name in unknowns]
    for solution in sympy.linsolve(core, targets):
        for name, value in zip(unknowns, solution, strict=True):
            if not value.free_symbols & set(targets):
                forms[name] = sympy.cancel(value)
    _follow(pending + [difference(equation) for equation in definitions], forms)
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


def _follow(pending: list[SympyExpr], forms: dict[str, SympyExpr]) -> None:
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
            value = sympy.cancel((-low / high).subs(known, simultaneous=True))
            if value.has(sympy.nan, sympy.zoo):
                continue  # 0/0, such as the efficiency of a circuit that draws nothing, fixes no value
            known[unknown[0]] = value
            forms[str(unknown[0])] = value
            moved = True


def derivative(forms: dict[str, SympyExpr], of: str, by: str) -> SympyExpr:
    """d(of)/d(by) on the manifold, the other parameters held."""
    return sympy.cancel(sympy.diff(forms[of], sympy_symbol(by)))


def is_proved(equation: Equation, forms: dict[str, SympyExpr]) -> bool:
    """Whether the two sides are the same function of the parameters (every symbol must be in `forms`)."""
    if _differs_at_a_point(equation, forms):
        return False
    known = {sympy_symbol(name): value for name, value in forms.items()}
    return bool(sympy.cancel(difference(equation).subs(known, simultaneous=True)) == 0)


def _differs_at_a_point(equation: Equation, forms: dict[str, SympyExpr]) -> bool:
    """Whether the two sides differ where each parameter is a prime over 7: exact, and quicker than algebra.

    What is equal there still has to be proved; where a side has no value there, nothing is said.
    """
    form = difference(equation)
    spoken = {item: forms[str(item)] for item in form.free_symbols if str(item) in forms}
    free = sorted({str(item) for value in spoken.values() for item in value.free_symbols})
    point = {sympy_symbol(name): sympy.Rational(sympy.prime(place + 5), 7) for place, name in enumerate(free)}
    value = form.subs({item: part.subs(point) for item, part in spoken.items()}, simultaneous=True)
    return bool(value.is_Rational and value != 0)


def is_vacuous(law: Law) -> bool:
    """Whether a law says nothing about its symbols: its two sides are equal whatever they are."""
    return bool(sympy.cancel(difference(law.equation)) == 0)
