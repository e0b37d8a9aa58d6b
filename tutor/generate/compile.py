"""Family + Circuit -> LevelPlan: every ask of a level planned, once, with algebra.

Mistakes in a family file end here as one sentence naming file, level, field and what was got.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.circuit.circuit import Circuit, Region
from tutor.errors import BadFamily, SteadyrailError
from tutor.generate.declaration import check_choice, check_level, check_taken, read_requirement, require_known, where_of
from tutor.generate.family import (
    Ask,
    Choose,
    ChooseRating,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    TellState,
    TellVerdict,
    applies_in,
    key_of_ask,
)
from tutor.generate.sampling import draw_names
from tutor.generate.stage import LevelPlan, Stage
from tutor.laws.algebra import SympyExpr, sympy_symbol, to_sympy
from tutor.laws.derive import derive, load_model, reading_indices
from tutor.laws.law import LawSet
from tutor.plan.corner import compose, depends_on, slope, stationary
from tutor.plan.determinacy import manifold
from tutor.plan.plan import Plan
from tutor.plan.regions import resolve
from tutor.plan.search import search
from tutor.quantities.expression import Equation, Expr, Num, Sym, evaluate, symbols_of
from tutor.quantities.formula import read_expression
from tutor.quantities.symbols import is_symbol, split_name


@dataclass(frozen=True)
class _Context:
    """What planning one level in one region needs at hand."""

    family: Family
    circuit: Circuit
    level: Level
    region: Region
    where: str
    typical: Mapping[str, float]


def compile_level(family: Family, circuit: Circuit, level_number: int, region_id: str) -> LevelPlan:
    """The plan of a level in one of its regions. Raises BadFamily naming the field at fault."""
    level, where = family.levels[level_number - 1], where_of(family, level_number)
    check_level(family, circuit, level_number)
    typical = resolve(circuit, circuit.typical, ()).values
    context = _Context(family, circuit, level, circuit.region(region_id), where, typical)
    keys = [*level.given]
    drawn = draw_names(level.draws)
    asks: list[Stage | None] = []
    names: list[str] = []
    for ask in level.asks:
        applies = applies_in(ask, region_id)
        _check_ask(ask, {*drawn, *keys}, where)
        stage = _ask_stage(context, keys, ask) if applies else None
        asks.append(stage)
        names.append(stage.key if stage is not None else key_of_ask(ask))
        if applies:
            keys.append(names[-1])
    for line in level.checks:
        check_taken(line.at, {*drawn, *keys}, f"{where}, checks '{line.words}'")
    checks = [
        _requirement_stage(context, keys, check.requirement, check.at, f"checks '{check.words}'")
        if applies_in(check, region_id)
        else None
        for check in level.checks
    ]
    return LevelPlan(region_id, tuple(asks), tuple(names), tuple(checks), tuple(_region_tests(context, keys)))


def _check_ask(ask: Ask, known: set[str], where: str) -> None:
    field = f"{where}, asks '{ask.prompt}'"
    if isinstance(ask, Choose | ChooseRating | TellState | TellVerdict):
        check_choice(ask, known, field)
    else:
        check_taken(ask.at, known, field)


def _ask_stage(context: _Context, keys: list[str], ask: Ask) -> Stage | None:
    if isinstance(ask, Find):
        return _value_stage(context, keys, ask.quantity, key_of_ask(ask), ask.at, None, f"asks '{ask.prompt}'")
    if isinstance(ask, FindExtreme):
        greatest = ask.extreme is Extreme.GREATEST
        return _value_stage(context, keys, ask.quantity, key_of_ask(ask), ask.at, greatest, f"asks '{ask.prompt}'")
    if isinstance(ask, FindBound):
        return _bound_stage(context, keys, ask)
    return None


def _bases(context: _Context, keys: list[str], at: Mapping[str, str]) -> dict[str, Expr]:
    """Base symbol -> what it stands for, over keys; the ranging ones stand for themselves."""
    found: dict[str, Expr] = {}
    for key in keys:
        if not is_symbol(key):
            continue
        pieces = split_name(key)
        if not pieces.end:
            found[key] = Sym(key)
    for base in context.level.ranges:
        found[base] = Sym(base)
    for base, formula in at.items():
        found[base] = read_expression(formula)
    return found


def _lasting(context: _Context, keys: list[str], at: Mapping[str, str]) -> dict[str, Expr]:
    """The bases that hold at every operating point: givens and part values found, not currents found at one of them."""
    chosen = {ask.quantity for ask in context.level.asks if isinstance(ask, Choose)}
    lasting = {*context.level.given, *context.circuit.constants, *at, *context.level.ranges, *chosen}
    return {name: expr for name, expr in _bases(context, keys, at).items() if name in lasting}


def _laws(context: _Context, known: list[str], wanted: str = "") -> LawSet:
    names = [*known, wanted]
    return derive(
        context.circuit,
        context.region,
        load_model(known),
        conventions=context.family.assume,
        readings=reading_indices(tuple(name for name in names if is_symbol(name)), context.circuit),
    )


def _plan(context: _Context, known: Mapping[str, Expr], wanted: str, field: str) -> Plan:
    laws = _laws(context, [*known], wanted)
    spoken = set(laws.symbols)
    try:
        return search(laws, [name for name in known if name in spoken], (wanted,), context.circuit.preferred)
    except SteadyrailError as error:
        raise BadFamily(f"{context.where}, {field}: {error.sentence}") from error


def _value_stage(
    context: _Context,
    keys: list[str],
    quantity: str,
    key: str,
    at: Mapping[str, str],
    greatest: bool | None,
    field: str,
) -> Stage:
    known = _bases(context, keys, at) if greatest is None else _lasting(context, keys, at)
    known.pop(quantity, None)
    return _finish(context, _plan(context, known, quantity, field), key, known, at, greatest, field)


@dataclass(frozen=True)
class _Bounded:
    """What a bound keeps at its limit: the required quantity, its closed form in the quantity that is bounded, and
    whether the limit is one that it may not rise over."""

    quantity: str
    form: SympyExpr
    is_ceiling: bool


def _bound_stage(context: _Context, keys: list[str], ask: FindBound) -> Stage:
    """A bound: the required quantity put at its limit, the plan run backwards, the worst corner taken."""
    field = f"asks '{ask.prompt}'"
    requirement = read_requirement(ask.requirement, f"{context.where}, {field}")
    watched, limit = _sides(context, keys, requirement, field)
    known = _lasting(context, keys, ask.at)
    known.pop(ask.quantity, None)
    known[watched] = Sym(limit)
    plan = _plan(context, known, ask.quantity, field)
    forward_known = {**known, ask.quantity: Sym(ask.quantity)}
    forward_known.pop(watched)
    form = compose(_plan(context, forward_known, watched, field), watched)
    # The bound is on the kind side of the limit: if more R means less I_Z, a floor under I_Z is a ceiling over R.
    falls = _falls_with(context, form, ask.quantity, field)
    upper = (requirement.relation == ">=") == falls
    key = ask.key or f"{ask.quantity}_{'MAX' if upper else 'MIN'}"
    bounded = _Bounded(watched, form, requirement.relation == "<=")
    return _finish(context, plan, key, known, ask.at, not upper, field, "<=" if upper else ">=", limit, bounded)


def _falls_with(context: _Context, form: SympyExpr | None, quantity: str, field: str) -> bool:
    """Whether the required quantity falls as `quantity` rises, read off the derived slope at the typical point.

    What a typical point does not fix (a ripple, a change, a rating) stands there at one unit of its positive sign.
    """
    if form is None:
        raise BadFamily(f"{context.where}, {field}: the required quantity has no closed form in {quantity}")
    rate = slope(form, quantity)
    return evaluate(rate, {**dict.fromkeys(symbols_of(rate), 1.0), **context.typical}) < 0


def _requirement_stage(context: _Context, keys: list[str], text: str, at: Mapping[str, str], field: str) -> Stage:
    requirement = read_requirement(text, f"{context.where}, {field}")
    watched, limit = _sides(context, keys, requirement, field)
    known = _lasting(context, keys, at)
    known.pop(watched, None)
    plan = _plan(context, known, watched, field)
    relation = requirement.relation
    return _finish(context, plan, watched, known, at, relation == "<=", field, relation, limit)


def _sides(context: _Context, keys: list[str], requirement: Equation, field: str) -> tuple[str, str]:
    """The quantity that a requirement speaks of, and the key of its limit; BadFamily where it compares other things."""
    left, right = requirement.lhs, requirement.rhs
    if not isinstance(left, Sym) or not isinstance(right, Sym):
        raise BadFamily(f"{context.where}, {field}: a requirement compares a quantity with the name of its limit")
    known = (*draw_names(context.level.draws), *keys)
    require_known(right.name, known, f"{context.where}, {field}", "key drawn or found before")
    return left.name, right.name


def _finish(
    context: _Context,
    plan: Plan,
    key: str,
    known: Mapping[str, Expr],
    at: Mapping[str, str],
    greatest: bool | None,
    field: str,
    relation: str = "",
    limit: str = "",
    bounded: _Bounded | None = None,
) -> Stage:
    """The stage of a plan, its corner decided by the slopes of what it finds, or of what a bound keeps at its limit."""
    (quantity,) = plan.wanted
    plan = plan.pruned(quantity)
    box = tuple(base for base in context.level.ranges if base not in at and depends_on(plan, quantity, base))
    if box and greatest is None:
        raise BadFamily(
            f"{context.where}, {field}: {box[0]} ranges here; say at which end (at=), or ask for an extreme"
        )
    own = _at_numbers(compose(plan, quantity), known)
    form = own if bounded is None else _at_numbers(bounded.form, known)
    slopes = tuple((base, slope(form, base)) for base in box) if form is not None else ()
    rests = own if own is not None else form
    resting = [(base, stationary(rests, base)) for base in box] if rests is not None else []
    inputs = tuple((name, known[name]) for name in plan.known if name not in box)
    still = tuple((base, expr) for base, expr in resting if expr is not None)
    watched = quantity if bounded is None else bounded.quantity
    # For a bound the corner is that of the required quantity: at its greatest when the limit is a ceiling.
    on_ceiling = bool(greatest) if bounded is None else bounded.is_ceiling
    return Stage(key, quantity, plan, inputs, box, greatest, slopes, still, watched, relation, limit, on_ceiling)


def _at_numbers(form: SympyExpr | None, known: Mapping[str, Expr]) -> SympyExpr | None:
    """A composed form with the bases that stand at a number put in (an unplugged load), before it is differentiated."""
    numbers = {sympy_symbol(name): to_sympy(expr) for name, expr in known.items() if isinstance(expr, Num)}
    return None if form is None else form.subs(numbers)


def _region_tests(context: _Context, keys: list[str]) -> list[Stage]:
    """The inequalities of the region, as far as the givens reach their quantities, to be held at every corner."""
    known = _lasting(context, keys, {})
    standing = {name: value for name, value in context.circuit.defaults.items() if name not in known}
    laws = _laws(context, [*known])
    facts = manifold(context.circuit, context.region, load_model(known), context.family.assume)
    tests: list[Stage] = []
    for bound in laws.bounds:
        side, other, relation = bound.equation.lhs, bound.equation.rhs, bound.equation.relation
        if not isinstance(side, Sym) or (symbols_of(other) and not isinstance(other, Sym)):
            continue
        limit = other.name if isinstance(other, Sym) else ""
        start = {name: expr for name, expr in known.items() if name != side.name}
        start |= {name: read_expression(repr(value)) for name, value in standing.items()}
        if not facts.settles(start, side.name):
            continue  # a ring of laws that all say the same would still offer a way, of nothing over nothing
        try:
            plan = _plan(context, start, side.name, "regions")
        except BadFamily:
            continue
        if not limit or limit in start or limit in keys:
            tests.append(_finish(context, plan, side.name, start, {}, relation == "<=", "regions", relation, limit))
    return tests
