"""A world worked out: every quantity at every operating point at which a line of working may stand.

Vocabulary: a *situation* is one operating point (a corner of what ranges, a reading, the corner that decides what is
asked) with the value of each plain symbol there; *fixed* names (V_I_MAX, R_MAX, I_ZM) have one value in the whole
world, under one of few *views*: as asked, as the extreme over the nominal corners, or over all of them.
Place in the data flow: Sheet (recipe + env) -> World -> truth. Plain floats; the mirror does the same.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from tutor.plan.rule import Rule, apply_rules, value_of
from tutor.quantities.expression import Expr, Sym, symbols_of
from tutor.solution.sheet import AskRecipe, Env, Recipe
from tutor.working.sayings import say

Ends = Mapping[str, tuple[str, str]]

PAST = 1e-9  # of a value: how far past another it must lie to count as past


@dataclass(frozen=True)
class Situation:
    """One operating point: its words ("the lowest line, the fullest load") and the plain symbols' values, SI."""

    words: str
    values: Mapping[str, float]


@dataclass(frozen=True)
class World:
    """Every situation of one set of numbers, and the fixed names under each view."""

    situations: tuple[Situation, ...]
    views: tuple[Mapping[str, float], ...]
    picks: Mapping[str, tuple[int, ...]]  # for each ask with a corner: the end each ranging base took (2: inside)
    moved: int = 0  # how many situations at the end are there for changes alone
    marked: int = 0  # how many before those are a further look at one: its part values taken as marked

    @cached_property
    def columns(self) -> dict[tuple[bool, bool, str], tuple[float | None, ...]]:
        """Values of a symbol at every place a line may stand (`ground.py`), kept as they are asked for."""
        return {}


def expand(recipe: Recipe, env: Env, ends: Ends) -> World:
    """The world that a recipe makes of an env. What the env leaves open stays unknown."""
    corners = list(_corners(recipe, env, ends))
    situations = [Situation(words, values) for words, values, _ in corners]
    marked: list[Situation] = []
    asked: dict[str, float] = dict(env)
    picks: dict[str, tuple[int, ...]] = {}
    for ask in recipe.asks:
        found = answer_of(ask, asked)
        if found is not None:
            values, pick = found
            asked[ask.key] = values[ask.quantity]
            picks[ask.key] = pick
            situations.append(Situation(_ask_words(ask, pick, ends), {**_ends_taken(ask, asked), **values}))
            shifted = {name: asked[name] for name, expr in ask.inputs if expr != Sym(name) and name in symbols_of(expr)}
            if shifted:
                marked.append(Situation(situations[-1].words, {**situations[-1].values, **shifted}))
            # What is found by measurement holds from here on: the main corners may need it.
            if ask.key in recipe.known:
                corners = list(_corners(recipe, {**env, **_lasting(recipe, asked)}, ends))
                situations[: len(corners)] = [Situation(words, values) for words, values, _ in corners]
    for reading in recipe.readings:
        told = {name: asked[f"{name}_{reading.index}"] for name in reading.names if f"{name}_{reading.index}" in asked}
        parts = {name: asked[name] for name in recipe.known if name in asked and name not in told}
        values = apply_rules(reading.rules, {**parts, **told})
        situations.append(Situation(say("reading", index=reading.index), values))
        for name, value in values.items():
            if name not in parts:
                asked.setdefault(f"{name}_{reading.index}", value)
    views = _views(recipe, env, asked, corners, situations)
    # In I_Z = (V_I - V_Z)/(R (1 - tol_R)) I_Z stands at the corner, and R is the part as marked.
    plain = {base: asked[base] for base, key in recipe.tolerances if base in asked and key in asked}
    marked += [Situation(words, {**values, **plain}) for words, values, nominal in corners if not nominal]
    return World((*situations, *marked), views, picks, marked=len(marked))


def _ends_taken(ask: AskRecipe, asked: Mapping[str, float]) -> dict[str, float]:
    """Where an ask takes a quantity at the end of another (V_I at V_TROUGH_MIN), that other's plain name stands for the
    end as well: in R = (V_TROUGH - V_Z)/(I_B + I_ZK) V_TROUGH is the least there is."""
    ends = [expr.name for name, expr in ask.inputs if isinstance(expr, Sym) and expr.name != name]
    return {name[:-4]: asked[name] for name in ends if name.endswith(("_MIN", "_MAX"))}


def _lasting(recipe: Recipe, asked: Mapping[str, float]) -> dict[str, float]:
    return {name: asked[name] for name in recipe.known if name in asked}


def _corners(recipe: Recipe, env: Env, ends: Ends) -> Iterable[tuple[str, dict[str, float], bool]]:
    """Words, values and whether the corner is a nominal one, the first of the ends first."""
    axes: list[list[tuple[str, float, str, bool]]] = []
    for base in recipe.ranges:
        low, high = _ends_of(base, ends)
        if f"{base}_MIN" in env and f"{base}_MAX" in env:
            axes.append([(base, env[f"{base}_MIN"], low, True), (base, env[f"{base}_MAX"], high, True)])
    for base in recipe.shifts:
        if base in env:
            moved = env[base] + env.get(f"D{base}", 0.0)
            axes.append([(base, env[base], "", True), (base, moved, say("after-change", name=base), True)])
    for base, key in recipe.tolerances:
        if base in env and key in env:
            plain, spread = env[base], env[key]
            axes.append(
                [
                    (base, plain, "", True),
                    (base, plain * (1 - spread), say("tolerance-low", name=base), False),
                    (base, plain * (1 + spread), say("tolerance-high", name=base), False),
                ]
            )
    known = {name: env[name] for name in recipe.known if name in env}
    for corner in itertools.product(*axes):
        words = ", ".join(item[2] for item in corner if item[2])
        values = apply_rules(recipe.rules, {**known, **{item[0]: item[1] for item in corner}})
        yield words, values, all(item[3] for item in corner)


def answer_of(ask: AskRecipe, asked: Mapping[str, float]) -> tuple[dict[str, float], tuple[int, ...]] | None:
    """The values at the corner that decides an ask and which corner that is; None while something it needs is open."""
    fixed: dict[str, float] = {}
    for name, expr in ask.inputs:
        value = value_of(Rule(name, expr), asked)
        if value is None:
            return None
        fixed[name] = value
    if any(f"{base}_{end}" not in asked for base in ask.box for end in ("MIN", "MAX")):
        return None
    best: tuple[dict[str, float], tuple[int, ...]] | None = None
    for bases, pick in _box(ask, asked, fixed):
        values = apply_rules(ask.rules, {**fixed, **bases})
        if ask.quantity not in values:
            continue
        if best is None or (values[ask.quantity] > best[0][ask.quantity]) == bool(ask.greatest):
            best = (values, pick)
    return best


def _box(
    ask: AskRecipe, asked: Mapping[str, float], fixed: Mapping[str, float]
) -> Iterable[tuple[dict[str, float], tuple[int, ...]]]:
    """Every corner of an ask's box, then those with one base at rest inside its range."""
    ends = {base: (asked[f"{base}_MIN"], asked[f"{base}_MAX"]) for base in ask.box}
    picks = list(itertools.product((0, 1), repeat=len(ask.box)))
    for pick in picks:
        yield {base: ends[base][end] for base, end in zip(ask.box, pick, strict=True)}, pick
    for base, expr in ask.resting:
        place = ask.box.index(base)
        for pick in picks:
            if pick[place] != 0:
                continue
            bases = {name: ends[name][end] for name, end in zip(ask.box, pick, strict=True)}
            rest = _rest(base, expr, {**fixed, **bases})
            if rest is not None and ends[base][0] < rest < ends[base][1]:
                yield {**bases, base: rest}, (*pick[:place], 2, *pick[place + 1 :])


def _rest(base: str, expr: Expr, values: Mapping[str, float]) -> float | None:
    return value_of(Rule(base, expr), values)


def _ask_words(ask: AskRecipe, pick: tuple[int, ...], ends: Ends) -> str:
    told = []
    for base, end in zip(ask.box, pick, strict=True):
        told.append((*_ends_of(base, ends), say("inside-range", name=base))[end])
    return ", ".join(told)


def _ends_of(base: str, ends: Ends) -> tuple[str, str]:
    """What the two ends of a range are called."""
    return ends[base] if base in ends else (say("least", name=base), say("greatest", name=base))


def _views(
    recipe: Recipe,
    env: Env,
    asked: Mapping[str, float],
    corners: list[tuple[str, dict[str, float], bool]],
    situations: list[Situation],
) -> tuple[dict[str, float], ...]:
    """As asked; as the extremes over the nominal corners; over all of them; over every operating point spoken of."""
    nominal = _extremes([values for _, values, plain in corners if plain])
    every = _extremes([values for _, values, _ in corners])
    widest = _extremes([item.values for item in situations])
    # What is asked at an operating point of its own (the output shorted) is no extreme over the corners; nor are bounds
    # and what is asked under a plain name (V_TH, DV_O, I_ZM).
    kept = {name: value for name, value in asked.items() if not name.endswith(("_MIN", "_MAX"))}
    kept |= {
        ask.key: asked[ask.key]
        for ask in recipe.asks
        if ask.key in asked and (ask.relation or _is_apart(ask) or _is_past_corners(ask, asked, nominal))
    }
    views = [{**nominal, **asked}]
    for extremes, looked_at in ((nominal, {}), (every, {}), (widest, _at_tolerances(recipe, asked))):
        views.append({**asked, **extremes, **kept, **looked_at, **env})
    return tuple(views)


def _is_apart(ask: AskRecipe) -> bool:
    """Whether an ask is about an operating point that the main corners do not have."""
    return any(expr != Sym(name) for name, expr in ask.inputs)


def _is_past_corners(ask: AskRecipe, asked: Mapping[str, float], nominal: Mapping[str, float]) -> bool:
    """Whether what is asked lies past its value at every corner: at a summit inside a range, which no corner is."""
    corner = nominal.get(ask.key)
    if corner is None or ask.greatest is None:
        return False
    past = asked[ask.key] - corner if ask.greatest else corner - asked[ask.key]
    return past > PAST * abs(corner)


def _at_tolerances(recipe: Recipe, asked: Mapping[str, float]) -> dict[str, float]:
    """What is asked, looked at with parts at either end of their tolerance: the extremes of that."""
    found: dict[str, float] = {}
    for base, key in recipe.tolerances:
        if base not in asked or key not in asked:
            continue
        for way in (-1, 1):
            moved = {**asked, base: asked[base] * (1 + way * asked[key])}
            for ask in recipe.asks:
                answer = None if ask.relation or base not in _inputs(ask) else answer_of(ask, moved)
                if answer is None or not ask.key.endswith(("_MIN", "_MAX")):
                    continue
                value = answer[0][ask.quantity]
                pick = max if ask.key.endswith("_MAX") else min
                found[ask.key] = pick(found.get(ask.key, asked.get(ask.key, value)), value)
    return found


def _inputs(ask: AskRecipe) -> set[str]:
    return {name for _, expr in ask.inputs for name in symbols_of(expr)}


def _extremes(corners: Sequence[Mapping[str, float]]) -> dict[str, float]:
    """X_MIN and X_MAX of every quantity over some corners."""
    least: dict[str, float] = {}
    most: dict[str, float] = {}
    for corner in corners:
        for name, value in corner.items():
            if name not in least:
                least[name] = most[name] = value
            elif value < least[name]:
                least[name] = value
            elif value > most[name]:
                most[name] = value
    return {key: value for name in least for key, value in ((f"{name}_MIN", least[name]), (f"{name}_MAX", most[name]))}
