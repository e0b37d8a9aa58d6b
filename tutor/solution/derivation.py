"""Where a relation comes from: laws, one after another, to the closed form, then its sensitivities and their signs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tutor.circuit.circuit import Circuit, Edge, LoadModel, Region, Slope, WhatIf
from tutor.errors import unknown
from tutor.laws.algebra import from_sympy
from tutor.laws.closed_form import closed_forms
from tutor.laws.derive import derive as derive_laws
from tutor.laws.derive import load_model
from tutor.laws.law import Law, LawSet
from tutor.plan.corner import compose, slope, stationary
from tutor.plan.plan import Plan, Step
from tutor.plan.regions import resolve
from tutor.plan.search import search
from tutor.quantities.expression import (
    ZEROS,
    Add,
    Expr,
    Mul,
    Neg,
    Num,
    Partial,
    Sym,
    Val,
    children,
    evaluate,
    negated,
    rebuild,
    size,
    substitute,
    sum_of,
    symbols_of,
)
from tutor.quantities.formula import formula_text, read_equation, read_expression
from tutor.quantities.symbols import symbol_for
from tutor.solution.derivation_values import Derivation, DerivedCircuit
from tutor.solution.desk import our_desk
from tutor.solution.solution import Chain, WorkedStep

_EDGE = "the edge of a region"


def derive(circuit: str, quantity: str = "") -> DerivedCircuit:
    """The laws of a circuit and the derivation of one quantity (of all its usual ones when '').

    Raises UnknownName for a circuit that does not exist or a quantity that no law of it speaks of.
    """
    found = our_desk().circuit(circuit)
    region = found.regions[0]
    laws = derive_laws(found, region, LoadModel.SINK)
    wanted = (quantity,) if quantity else tuple(found.derivation)
    if quantity and quantity not in laws.symbols:
        raise unknown(f"quantity of '{circuit}'", quantity, laws.symbols)
    return DerivedCircuit(
        found.id, found.title, region.words, laws.laws, tuple(derive_quantity(found, name) for name in wanted)
    )


def derive_quantity(circuit: Circuit, quantity: str) -> Derivation:
    """The derivation of one quantity from the givens the circuit's file names for it (its part values otherwise)."""
    for item in circuit.slopes:
        if item.symbol == quantity:
            return _slope_derivation(circuit, item)
    for what_if in circuit.what_ifs:
        if what_if.symbol == quantity:
            return _what_if_derivation(circuit, what_if)
    for edge in circuit.edges:
        if edge.symbol == quantity:
            return _edge_derivation(circuit, edge)
    givens = circuit.derivation.get(quantity) or _part_values(circuit, quantity)
    plan = search(_first_laws(circuit, circuit.regions[0], givens), givens, (quantity,), circuit.preferred)
    form = compose(plan, quantity)
    closed = _readable(plan, quantity, from_sympy(form))
    if any(step.coupled is not None for step in plan.steps):  # solved for by algebra, which writes it its own way
        closed = _as_written(circuit, quantity, givens) or closed
    steps = [*_symbolic_steps(plan, closed), *_closing_step(plan, quantity, closed)]
    return Derivation(
        circuit.id, quantity, givens, tuple(steps), closed, _sensitivities(circuit, quantity, form, closed)
    )


def _first_laws(circuit: Circuit, region: Region, givens: tuple[str, ...]) -> LawSet:
    """The laws that come from the netlist itself, definitions included: a derivation may not lean on its own result."""
    laws = derive_laws(circuit, region, load_model(givens), with_slopes=False)
    first = _laws_of_the_netlist(circuit, region, load_model(givens), {})
    spoken = {name for law in first for name in law.symbols}
    stated = {item.id for item in circuit.composites}
    defining = [law for law in laws.laws if law.id in stated and set(law.symbols) - spoken]
    return LawSet((*first, *defining), laws.bounds)


def _laws_of_the_netlist(
    circuit: Circuit, region: Region, load: LoadModel, conventions: Mapping[str, str]
) -> tuple[Law, ...]:
    """A region's laws without what an author has composed of them, and without other states."""
    laws = derive_laws(circuit, region, load, conventions=conventions, with_slopes=False)
    stated = {item.id for item in circuit.composites}
    return tuple(law for law in laws.laws if law.id not in stated and not law.id.startswith("if."))


def _readable(plan: Plan, target: str, algebraic: Expr) -> Expr:
    """The steps put into one another as written, where that is about as short as what algebra makes of them."""
    forms: dict[str, Expr] = {}
    for step in plan.steps:
        if step.expr is None:
            return algebraic
        forms[step.target] = _cancelled(substitute(step.expr, forms))
    unfolded = forms[target]
    return unfolded if size(unfolded) <= size(algebraic) + 6 else algebraic


def _as_written(circuit: Circuit, quantity: str, givens: tuple[str, ...]) -> Expr | None:
    """The closed form as the circuit's author writes it (a test proves it), where one speaks of the givens alone."""
    first = circuit.regions[0].id
    for item in circuit.composites:
        equation = read_equation(item.formula)
        told = item.speaks_in(first, load_model(givens)) and equation.lhs == Sym(quantity)
        if told and set(symbols_of(equation.rhs)) <= set(givens):
            return equation.rhs
    return None


def _cancelled(expr: Expr) -> Expr:
    """Sums within sums laid open, zeros and what stands there with both signs left out: V_O − (V_O − V_Z) is V_Z."""
    kept = rebuild(expr, tuple(_cancelled(part) for part in children(expr)))
    if isinstance(kept, Mul) and Num(0) in kept.factors:
        return Num(0)
    if not isinstance(kept, Add):
        return kept
    terms: list[Expr] = []
    for term in _terms_of(kept):
        if term in ZEROS:
            continue
        if negated(term) in terms:
            terms.remove(negated(term))
        else:
            terms.append(term)
    return sum_of(terms)


def _terms_of(expr: Expr) -> Iterator[Expr]:
    """The terms of a sum, those of sums within it too, each with its sign."""
    if isinstance(expr, Add):
        for term in expr.terms:
            yield from _terms_of(term)
    elif isinstance(expr, Neg):
        yield from map(negated, _terms_of(expr.arg))
    else:
        yield expr


def _what_if_derivation(circuit: Circuit, item: WhatIf) -> Derivation:
    """A quantity of the circuit with one part in another state, derived in that state."""
    region = next(region for region in circuit.regions if region.parts.get(item.part) == item.region)
    givens = circuit.derivation.get(item.symbol) or _part_values(circuit, item.of)
    plan = search(_first_laws(circuit, region, givens), givens, (item.of,), circuit.preferred)
    form = compose(plan, item.of)
    written = read_expression(item.written[load_model(givens)])
    chain = Chain(Sym(item.symbol), (("=", Sym(item.of)), ("=", written)))
    steps = (
        *_symbolic_steps(plan, from_sympy(form)),
        WorkedStep(item.title, item.why, (chain,), "", f"if.{item.symbol}", item.symbol, None, ""),
    )
    return Derivation(
        circuit.id, item.symbol, givens, steps, written, _sensitivities(circuit, item.symbol, form, written)
    )


def _edge_derivation(circuit: Circuit, edge: Edge) -> Derivation:
    """A quantity of the circuit at the edge of a region, from the laws of that region with the edge's own added."""
    givens = circuit.derivation[edge.symbol]
    laws = _laws_of_the_netlist(circuit, circuit.region(edge.region), LoadModel.SINK, edge.conventions)
    put = [
        Law(f"edge.{place}", title, read_equation(formula), "", _EDGE, 1.0, why)
        for place, (formula, title, why) in enumerate(edge.at)
    ]
    there = f"The {symbol_for(edge.of).meaning.split(',')[0]} there"
    own = "Its value there has a letter of its own."
    named = Law(f"edge.{edge.symbol}", there, read_equation(f"{edge.symbol} = {edge.of}"), "", _EDGE, 1.0, own)
    plan = search(LawSet((*laws, *put, named), ()), givens, (edge.symbol,), circuit.preferred)
    form = compose(plan, edge.symbol)
    closed = _as_written(circuit, edge.symbol, givens) or _readable(plan, edge.symbol, from_sympy(form))
    steps = [*_symbolic_steps(plan, closed), *_closing_step(plan, edge.symbol, closed)]
    return Derivation(
        circuit.id, edge.symbol, givens, tuple(steps), closed, _sensitivities(circuit, edge.symbol, form, closed)
    )


def _part_values(circuit: Circuit, quantity: str) -> tuple[str, ...]:
    load = next(name for name in circuit.typical if name not in circuit.constants)
    return tuple(name for name in (*circuit.constants, load) if name != quantity)


def _symbolic_steps(plan: Plan, closed: Expr) -> list[WorkedStep]:
    steps = []
    for index, step in enumerate(plan.steps):
        last = index == len(plan.steps) - 1
        chains = [Chain(step.equation.lhs, (("=", step.equation.rhs),))]
        if step.coupled is not None:
            chains.append(Chain(_cancelled(step.coupled.lhs), (("=", _cancelled(step.coupled.rhs)),)))
        alone = len(plan.steps) == 1 and step.coupled is not None
        expr = closed if step.expr is None or alone else step.expr
        if step.equation.lhs != Sym(step.target):
            chains.append(Chain(Sym(step.target), (("=", expr),)))
        steps.append(
            WorkedStep(step.title, _why(step), tuple(chains), "", step.law, step.target if last else "", None, "")
        )
    return steps


def _why(step: Step) -> str:
    if step.coupled is None or not step.substitutions:
        return step.why
    put = ", ".join(f"${item.symbol} = {formula_text(item.expr)}$" for item in step.substitutions)
    return f"The unknown ${step.target}$ stands in several relations; put in {put}, and one equation is left."


def _closing_step(plan: Plan, quantity: str, closed: Expr) -> list[WorkedStep]:
    """All steps put together, where that says something new."""
    if len(plan.steps) < 2 or plan.steps[-1].expr == closed:
        return []
    chain = Chain(Sym(quantity), (("=", closed),))
    return [
        WorkedStep(
            "Put together", "Each step put into the next leaves the givens alone.", (chain,), "", "", quantity, None, ""
        )
    ]


def _sensitivities(circuit: Circuit, quantity: str, form: object, closed: Expr) -> tuple[WorkedStep, ...]:
    """What each given does to the quantity: the derivative, its sign at the typical point, where it could turn."""
    typical = resolve(circuit, circuit.typical, ()).values
    steps = []
    for name in symbols_of(closed):
        tree = slope(form, name)
        if any(item not in typical for item in symbols_of(tree)):
            continue
        value = float(evaluate(tree, typical))
        chain = Chain(Partial(quantity, name), (("=", tree), (">" if value > 0 else "<", Val(0.0, ""))))
        if value == 0:
            chain = Chain(Partial(quantity, name), (("=", tree),))
        rises = "rises" if value > 0 else "falls" if value < 0 else "stays"
        low, high = circuit.ends.get(name, ("", ""))
        words = f" ({high if value > 0 else low} gives most)" if low and value else ""
        text = f"${quantity}$ {rises} when ${name}$ rises{words}."
        turning = stationary(form, name)
        if turning is not None and name in typical:
            text += f" The slope vanishes at ${name} = {formula_text(turning)}$, where the sign turns."
        steps.append(
            WorkedStep(f"What {symbol_for(name).meaning.split(',')[0]} does", "", (chain,), text, "", "", None, "")
        )
    return tuple(steps)


def _slope_derivation(circuit: Circuit, item: Slope) -> Derivation:
    """A sensitivity with a letter of its own: the quantity in closed form, then differentiated."""
    region = circuit.regions[0]
    forms = closed_forms(circuit, region, LoadModel.SINK)
    laws = derive_laws(circuit, region, LoadModel.SINK)
    law = laws.by_id(f"slope.{item.symbol}")
    of = from_sympy(forms[item.of])
    tree = slope(forms[item.of], item.by)
    signed = "-" if item.sign < 0 else ""
    steps = (
        WorkedStep(
            f"The closed form of ${item.of}$", "All laws of the circuit together give the quantity in its part values.",
            (Chain(Sym(item.of), (("=", of),)),), "", "", "", None, "",
        ),
        WorkedStep(
            f"Its slope along ${item.by}$", "Everything else is held, so the other terms drop out.",
            (Chain(Partial(item.of, item.by), (("=", tree),)),), "", "", "", None, "",
        ),
        WorkedStep(
            law.title, f"By definition ${item.symbol}$ is ${signed}{{{item.of} by {item.by}}}$. {item.why}".strip(),
            (Chain(law.equation.lhs, (("=", law.equation.rhs),)),), "", law.id, item.symbol, None, "",
        ),
    )  # fmt: skip
    closed = law.equation.rhs
    return Derivation(circuit.id, item.symbol, symbols_of(closed), steps, closed, ())
