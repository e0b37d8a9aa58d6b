"""Anybody's own numbers -> the sheet that a working on them is held against.

Vocabulary: a *corner* is one choice of ends for whatever ranges, with the numbers that belong to it. A recipe with a
quadratic in it has two roots to take, the one its rule is written for and the *other*. The region that holds, and its
roots, are found without algebra, as `plan/regions.py` finds them: assumed, worked out, tested at every corner.
Place in the data flow: a circuit id and NAME=VALUE texts -> recipes (from the store) -> Sheet -> `working`.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import tutor
from tutor.circuit.circuit import Circuit, Region
from tutor.errors import BadValue, SteadyrailError, Unreachable
from tutor.laws.derive import derive, load_model
from tutor.laws.law import LawSet
from tutor.plan.rule import Rule, apply_rules
from tutor.plan.states import State, below_zero, in_order, is_silent, region_fails, turned, unusual
from tutor.plan.verify import broken_law, names_of
from tutor.quantities.expression import Neg
from tutor.quantities.quantity import write
from tutor.quantities.symbols import split_name, symbol_for
from tutor.solution.desk import our_desk
from tutor.solution.own_values import OwnNames, OwnValues, names_given, read_own
from tutor.solution.recipe_store import OwnRecipes, load_own_recipes
from tutor.solution.sheet import Recipe, Sheet
from tutor.solution.sheets import WORLDS, generic_worlds, own_branches, shift, symbols_of_circuit

MOST_ROOTS = 4  # quadratics of which both roots are tried


@dataclass(frozen=True)
class Corner:
    """One operating point: its words, and the givens with one value for whatever ranges or changes there (SI)."""

    words: str
    numbers: Mapping[str, float]


@dataclass(frozen=True)
class SettledRegion:
    """The region that holds, its laws, its recipe with the roots taken, the quantities whose other root that is, and
    what follows at each corner."""

    region: Region
    laws: LawSet
    recipe: Recipe
    other_roots: frozenset[str]
    points: tuple[Mapping[str, float], ...]


def own_sheet(
    circuit: str,
    values: Mapping[str, str | float],
    assume: Mapping[str, str] | None = None,
    *,
    decimal_comma: bool = False,
) -> Sheet:
    """The sheet of a circuit with somebody's own `values`, by symbol, as `solve` takes them; `assume` likewise.

    A range is given by its ends, V_I_MIN and V_I_MAX; one state must hold at every corner. With `decimal_comma`
    values and working are read with it. Raises a SteadyrailError when a name or value cannot be used, when the values
    contradict each other, or when nothing follows from them.
    """
    found, told = our_desk().circuit_for(circuit, values)
    own = read_own(found, told, assume, decimal_comma=decimal_comma)
    if not told:
        raise BadValue(f"a working on '{circuit}' is held against its values: give them, {_example(found)}")
    given = names_given(own.numbers)
    # Refuses a convention that the circuit does not have, before anything is made for it.
    derive(found, found.regions[0], load_model(given.lasting), conventions=own.conventions)
    recipes = load_own_recipes(our_desk().folder, found, given, own.conventions, _make_recipes)
    corners = tuple(_corners(found, given, own.numbers))
    settled = _settle(found, recipes, own, given, corners)
    if settled is None:
        raise _refusal(found, recipes, own, given, corners)
    return _sheet(found, recipes, own, given, settled, decimal_comma)


def _make_recipes(circuit: Circuit, given: OwnNames, conventions: Mapping[str, str]) -> OwnRecipes:
    """Make the recipes of own givens, loading the algebra only now."""
    return tutor.make_own_recipes(circuit, given, conventions)


def _example(circuit: Circuit) -> str:
    """Some of the circuit's typical values as they would be typed."""
    told = [
        f"{name}={write(value, symbol_for(name).unit)}".replace(" ", "").replace("Ω", "")
        for name, value in list(circuit.typical.items())[:2]
    ]
    return f"for example {' '.join(told)}"


def _corners(circuit: Circuit, given: OwnNames, numbers: Mapping[str, float]) -> Iterator[Corner]:
    """Every corner of what ranges, and the points before and after a change that is given."""
    axes: list[list[tuple[str, float, str]]] = []
    for base in given.ranges:
        low, high = (circuit.end_words(base, greatest).replace("$", "") for greatest in (False, True))
        axes.append([(base, numbers[f"{base}_MIN"], low), (base, numbers[f"{base}_MAX"], high)])
    for base in given.lasting:
        if f"D{base}" in numbers and base not in given.ranges:
            moved = numbers[base] + numbers[f"D{base}"]
            axes.append([(base, numbers[base], ""), (base, moved, f"after the change of {base}")])
    for picked in itertools.product(*axes):
        words = ", ".join(item[2] for item in picked if item[2])
        yield Corner(words, {**numbers, **{base: value for base, value, _ in picked}})


def _settle(
    circuit: Circuit, recipes: OwnRecipes, own: OwnValues, given: OwnNames, corners: tuple[Corner, ...]
) -> SettledRegion | None:
    """The first region that holds at all the corners with usual standing values, the first of all where none has such;
    None when no region holds."""
    fitting: list[SettledRegion] = []
    load = load_model(given.lasting)
    for region in circuit.regions:
        if region.id in recipes.regions:
            settled = _in_region(circuit, region, recipes.regions[region.id].recipe, own, given, corners)
            if settled is not None and not (fitting and is_silent(circuit, settled.laws, load, given.lasting)):
                fitting.append(settled)
    usual = (item for item in fitting if all(unusual(circuit, values) is None for values in item.points))
    return next(usual, fitting[0] if fitting else None)


def _in_region(
    circuit: Circuit, region: Region, recipe: Recipe, own: OwnValues, given: OwnNames, corners: tuple[Corner, ...]
) -> SettledRegion | None:
    """A region with the roots that fit at all the corners, those the circuit prefers; None when it does not hold."""
    indices = tuple(reading.index for reading in recipe.readings)
    load = load_model(given.lasting)
    laws = derive(circuit, region, load, conventions=own.conventions, readings=indices)
    standing = {name: circuit.defaults[name] for name in _standing(circuit, recipe, own)}
    several = list(dict.fromkeys(rule.target for rule in _all_rules(recipe) if rule.expr is None))[:MOST_ROOTS]
    fitting: dict[tuple[int, ...], SettledRegion] = {}
    for roots in itertools.product((0, 1), repeat=len(several)):
        other_roots = frozenset(name for name, root in zip(several, roots, strict=True) if root)
        taken = _with_roots(recipe, other_roots)
        points = tuple(_values_at(taken, {**standing, **corner.numbers}) for corner in corners)
        if all(_admits(circuit, region, laws, several, values) for values in points) and any(
            name not in standing and name not in corners[0].numbers for name in points[0]
        ):
            fitting[roots] = SettledRegion(region, laws, taken, other_roots, points)
    ordered = in_order(circuit, [State(roots, settled.points[0]) for roots, settled in fitting.items()])
    return fitting[ordered[0].roots] if ordered else None


def _standing(circuit: Circuit, recipe: Recipe, own: OwnValues) -> tuple[str, ...]:
    """Standing values that the recipe starts from and nobody gave."""
    return tuple(name for name in recipe.known if name in circuit.defaults and name not in own.numbers)


def _all_rules(recipe: Recipe) -> tuple[Rule, ...]:
    readings = tuple(rule for reading in recipe.readings for rule in reading.rules)
    return (*recipe.rules, *(rule for ask in recipe.asks for rule in ask.rules), *readings)


def _with_roots(recipe: Recipe, other_roots: frozenset[str]) -> Recipe:
    """The recipe with the other root taken of some quantities: the same polynomial, every sign in it changed."""
    if not other_roots:
        return recipe

    def turn(rules: tuple[Rule, ...]) -> tuple[Rule, ...]:
        return tuple(
            replace(rule, coefficients=tuple(Neg(item) for item in rule.coefficients))
            if rule.expr is None and rule.target in other_roots
            else rule
            for rule in rules
        )

    return replace(
        recipe,
        rules=turn(recipe.rules),
        asks=tuple(replace(ask, rules=turn(ask.rules)) for ask in recipe.asks),
        readings=tuple(replace(reading, rules=turn(reading.rules)) for reading in recipe.readings),
    )


def _values_at(recipe: Recipe, numbers: Mapping[str, float]) -> dict[str, float]:
    """All that follows from the numbers of a corner, readings included; what was given keeps the value given."""
    found = dict(numbers)
    for ask in recipe.asks:
        found = apply_rules(ask.rules, found)
    start = {name: found[name] for name in recipe.known if name in found}
    found = {**found, **apply_rules(recipe.rules, start), **numbers}
    for reading in recipe.readings:
        told = {name: found[f"{name}_{reading.index}"] for name in reading.names if f"{name}_{reading.index}" in found}
        parts = {name: value for name, value in start.items() if name not in told}
        for name, value in apply_rules(reading.rules, {**parts, **told}).items():
            if name not in parts:
                found.setdefault(f"{name}_{reading.index}", value)
    return found


def _admits(circuit: Circuit, region: Region, laws: LawSet, several: list[str], values: Mapping[str, float]) -> bool:
    """Whether values fit a region: nothing below zero that cannot be, its inequalities, and no law broken.

    The usual region alone is taken on trust where an inequality cannot be tested.
    """
    untested = any(name not in values for bound in laws.bounds for name in names_of(bound.equation))
    if untested and region != circuit.regions[0]:
        return False
    refused = below_zero(circuit, values, several) or region_fails(laws, values) or turned(values)
    return refused is None and broken_law(laws, values) is None


def _refusal(
    circuit: Circuit, recipes: OwnRecipes, own: OwnValues, given: OwnNames, corners: tuple[Corner, ...]
) -> SteadyrailError:
    """Why no region holds: the corners differ in state, or one of them cannot be worked."""
    states: dict[str, str] = {}
    for corner in corners:
        settled = _settle(circuit, recipes, own, given, (corner,))
        if settled is None:
            return _unsettled(circuit, own, corner)
        states.setdefault(settled.region.words, corner.words)
    told = "; ".join(f"at {words} {state}" for state, words in states.items())
    if len(states) == 1:
        told = f"with {next(iter(states))}, but of two solutions it is not the same one everywhere"
    return BadValue(f"one state must hold over the whole range, but {told}; check the working for each part of it")


def _unsettled(circuit: Circuit, own: OwnValues, corner: Corner) -> SteadyrailError:
    """The error of a corner that cannot be worked, as `solve` words it."""
    numbers = {
        name: value
        for name, value in corner.numbers.items()
        if split_name(name).end not in ("MIN", "MAX") and not split_name(name).change
    }
    try:
        tutor.solve(circuit.id, numbers, (), own.conventions)
    except SteadyrailError as error:
        if not corner.words:
            return error
        return type(error)(f"at {corner.words}: {error.sentence}", **error.values)
    told = ", ".join(own.numbers)
    return Unreachable(f"no working on '{circuit.id}' can be checked from {told}; give its part values instead")


def _sheet(
    circuit: Circuit,
    recipes: OwnRecipes,
    own: OwnValues,
    given: OwnNames,
    settled: SettledRegion,
    decimal_comma: bool,
) -> Sheet:
    here, recipe = recipes.regions[settled.region.id], settled.recipe
    env = {**{name: circuit.defaults[name] for name in _standing(circuit, recipe, own)}, **own.numbers}
    return Sheet(
        circuit=circuit.id,
        problem="",
        symbols={**symbols_of_circuit(circuit, here.generic, {}), **symbols_of_circuit(circuit, recipe, env)},
        aliases=circuit.aliases,
        given=env,
        env=env,
        recipe=recipe,
        worlds=_near(circuit, given, settled, env),
        generic=here.generic,
        exact=here.exact,
        generic_worlds=generic_worlds(circuit, here.generic, env),
        branches=own_branches(circuit, recipes, settled.region),
        conventions=tuple(
            replace(item, recipe=_with_roots(item.recipe, settled.other_roots)) for item in here.conventions
        ),
        region=settled.region.id,
        region_words=settled.region.words,
        ends=circuit.ends,
        decimal_comma=decimal_comma,
    )


def _near(
    circuit: Circuit, given: OwnNames, settled: SettledRegion, env: Mapping[str, float]
) -> tuple[dict[str, float], ...]:
    """Worlds near the givens, those left out that others settle; none where moving the rest would break a law."""
    recipe = settled.recipe
    idle = () if recipe.readings else tuple(name for name in given.lasting if name not in recipe.known)
    free = [name for name in env if name not in idle]
    worlds = tuple(
        {name: env[name] * shift(place, world) for place, name in enumerate(free)} for world in range(WORLDS)
    )
    for world in worlds:
        for corner in _corners(circuit, given, {**{name: env[name] for name in idle}, **world}):
            moved = {name: value for name, value in corner.numbers.items() if name not in idle}
            if broken_law(settled.laws, _values_at(recipe, moved)) is not None:
                return ()
    return worlds
