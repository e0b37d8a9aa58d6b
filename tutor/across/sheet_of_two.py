"""What a working on two supplies is held against: the relations of both, each under the letters of its place.

Place in the data flow: two supplies + a problem about them -> Sheet -> `working`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from tutor.across.two_supplies import FROM_READINGS, Supply
from tutor.generate.problem import Problem
from tutor.plan.rule import Rule, apply_rules
from tutor.quantities.expression import Sym, substitute
from tutor.quantities.quantity import round_figures
from tutor.quantities.symbols import is_symbol, split_name, symbol_for
from tutor.solution.sheet import AskRecipe, Recipe, Sheet, SheetSlip
from tutor.solution.sheets import MOVED_FIGURES, WORLDS, shift


def sheet_of_two(pair: Sequence[Supply], problem: Problem) -> Sheet:
    """The sheet of a problem about the two. A quantity that is given for both at once keeps its plain letter."""
    env = {name: quantity.value for name, quantity in problem.given.items()}
    rules = tuple(rule for supply in pair for rule in _rules(supply, env))
    circuit = pair[0].laws.circuit
    region = circuit.regions[0]
    inputs = tuple((name, Sym(name)) for name in env)
    asked = tuple(point.key for point in problem.waypoints if point.answer is not None)
    asks = tuple(AskRecipe(key, key, inputs, (), None, (), rules) for key in asked)
    if "REG_LOAD_MAX" in env:
        asks += tuple(ask for supply in pair for ask in _elsewhere(supply))
    recipe = Recipe(region.id, tuple(env), (), (), (), rules, (), asks)
    usual = apply_rules(pair[0].laws.parts, circuit.typical)
    return Sheet(
        circuit=circuit.id,
        problem=problem.name,
        symbols={name: symbol_for(name).unit for name in (*env, *(rule.target for rule in rules))},
        aliases={
            f"{alias}_{supply.place}": supply.key(name)
            for supply in pair
            for alias, name in (("V", "V_I"), ("I", "I_I"))
            if supply.key(name) in env
        },
        given=env,
        env=env,
        recipe=recipe,
        worlds=_near(env),
        generic=recipe,
        exact=None,
        # The same for every number of a level: pages hold them once.
        generic_worlds=_near({name: usual[split_name(name).base] for name in env}),
        slips=tuple(
            SheetSlip(slip.id, point.key, slip.value, slip.name, slip.why, slip.hint)
            for point in problem.waypoints
            for slip in point.slips
        ),
        region=region.id,
        region_words=region.words,
        asked=asked,
    )


def _near(values: Mapping[str, float]) -> tuple[dict[str, float], ...]:
    """Worlds near some values, each value moved a little."""
    return tuple(
        {
            name: round_figures(value * shift(place, world), MOVED_FIGURES)
            for place, (name, value) in enumerate(values.items())
        }
        for world in range(WORLDS)
    )


def _rules(supply: Supply, env: Mapping[str, float]) -> Iterator[Rule]:
    """What follows from the readings of one supply, and where a regulation is allowed, from that."""
    names = {name: supply.key(name) if supply.key(name) in env else name for name in FROM_READINGS}
    laws = supply.laws
    yield from (_renamed(rule, names, supply) for rule in laws.readings)
    if "REG_LOAD_MAX" in env:
        edge = {**names, "REG_LOAD": "REG_LOAD_MAX", "V_I": supply.key("V_I_MIN"), "I_I": supply.key("I_I_MAX")}
        yield from (_renamed(rule, edge, supply) for rule in laws.allowed if rule.target in ("V_I", "I_I"))


def _elsewhere(supply: Supply) -> Iterator[AskRecipe]:
    """The supply at the common load and at the edge of what is allowed: there a line may speak of it just as well."""
    laws = supply.laws
    names = {name: supply.key(name) for name in ("V_OC", "R_S", "I_I")}
    rules = tuple(_renamed(rule, names, supply) for rule in laws.parts)
    for current, key, quantity in (
        ("I_I", supply.key("REG_LOAD"), supply.key("REG_LOAD")),
        (supply.key("I_I_MAX"), supply.key("V_I_MIN"), supply.key("V_I")),
    ):
        inputs = tuple((to, Sym(current if name == "I_I" else to)) for name, to in names.items())
        yield AskRecipe(key, quantity, inputs, (), None, (), rules)


def _renamed(rule: Rule, names: Mapping[str, str], supply: Supply) -> Rule:
    assert rule.expr is not None
    every = {name: names.get(name, supply.key(name)) for name in (rule.target, *rule.needs)}
    assert all(map(is_symbol, every.values()))
    return replace(
        rule, target=every[rule.target], expr=substitute(rule.expr, {name: Sym(to) for name, to in every.items()})
    )  # fmt: skip
