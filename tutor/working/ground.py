"""What a line is held against: the problem's own world, worlds near it, and worlds of the bare circuit.

Vocabulary: a *place* is where a line may stand in a world: a situation (two of them where changes are spoken of) and a
view of the fixed names. A *case* is a world of the problem's own numbers: as given, with the learner's choices, or with
one of the choices that fit while none is taken.
Place in the data flow: Sheet + choices -> Ground -> truth. Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import Any, Generic, TypeVar

from tutor.plan.rule import apply_rules
from tutor.quantities.expression import symbols_of
from tutor.quantities.quantity import write
from tutor.quantities.symbols import is_symbol, split_name
from tutor.solution.sheet import Env, Recipe, Sheet
from tutor.working.sayings import say
from tutor.working.tree import Node
from tutor.working.world import Situation, World, expand

SHIFT = 1.03  # of a base, for the change of one quantity with another
MOST_PAIRS = 80
MOST_WORLDS = 3  # in which a relation between symbols is tried
MOST_ACCEPTED = 12  # further values of one choice that are tried
MOST_BARE = 128  # worlds of bare circuits that stay at hand

Item = TypeVar("Item")


class Same(Generic[Item]):
    """An item by which something is kept, alike only to itself: comparing what it holds would take longer than what is
    kept by it."""

    def __init__(self, item: Item) -> None:
        self.item = item

    def __hash__(self) -> int:
        return id(self.item)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and self.item is other.item


@dataclass(frozen=True)
class Place:
    """Indices of a situation, of the one a change ends at (−1: no change), of a view; whether changes are sizes."""

    situation: int
    other: int = -1
    view: int = 0
    sizes: bool = False


@dataclass(frozen=True)
class Case:
    """The problem's own numbers with some choices made; `words` name them, `taken` is set for the learner's own."""

    world: World
    words: str
    taken: bool


@dataclass(frozen=True)
class Around:
    """The worlds around a problem's own, which no choice of the learner's moves: worked out when first needed."""

    sheet: Sheet
    recipe: Recipe
    sets: Env = field(default_factory=dict)  # what holds instead of the problem's values, under a hypothesis

    @cached_property
    def near(self) -> tuple[World, ...]:
        """Worlds near the problem's own in which the same corners decide what is asked: there the same lines hold."""
        sheet = self.sheet
        model = {item.key: item.model for item in sheet.choices}
        own = expand(self.recipe, {**sheet.env, **model, **self.sets}, sheet.ends)
        found: list[World] = []
        for moved in sheet.worlds:
            env = {**moved, **self.sets}
            world = expand(self.recipe, env, sheet.ends)
            if world.picks == own.picks:
                found.append(_with_shifts(world, self.recipe, env))
            if len(found) == MOST_WORLDS:
                break
        return tuple(found)

    @cached_property
    def generic(self) -> tuple[World, ...]:
        """Worlds of the bare circuit, where the problem leaves quantities open."""
        return self._bare(self.sheet.generic)

    @cached_property
    def exact(self) -> tuple[World, ...]:
        """The same with nothing neglected, where the problem neglects something."""
        return () if self.sheet.exact is None else self._bare(self.sheet.exact)

    def _bare(self, recipe: Recipe) -> tuple[World, ...]:
        if self.sets:
            return ()
        ends = tuple(self.sheet.ends.items())
        worlds = self.sheet.generic_worlds[:MOST_WORLDS]
        return tuple(_bare_world(Same(recipe), tuple(env.items()), ends) for env in worlds)

    def world_of(self, env: Env, shifted: bool = True) -> World:
        """The world of an env, expanded once: choices come and go, and most worlds stay.

        `shifted` where changes along one base are to be spoken of, which take situations of their own.
        """
        key = (shifted, *env.items())
        if key not in self._expanded:
            world = expand(self.recipe, env, self.sheet.ends)
            self._expanded[key] = _with_shifts(world, self.recipe, env) if shifted else world
        return self._expanded[key]

    def feels(self, names: Iterable[str], key: str) -> bool:
        """Whether any of some symbols may come to something else when what stands under a key does."""
        if key not in self._moved_by:
            self._moved_by[key] = _all_that_feel(self.recipe, _stem(key))
        return any(_stem(name) in self._moved_by[key] for name in names)

    @cached_property
    def _moved_by(self) -> dict[str, frozenset[str]]:
        return {}

    @cached_property
    def _expanded(self) -> dict[Hashable, World]:
        return {}


@dataclass(frozen=True)
class Ground:
    """Everything a line is held against, under one recipe, with the learner's choices."""

    around: Around
    choices: Mapping[str, float]

    @property
    def sheet(self) -> Sheet:
        """The sheet behind it."""
        return self.around.sheet

    @cached_property
    def told(self) -> dict[tuple[Node, Node, str], Place | None]:
        """Where a relation is true whatever the numbers (`truth.py`), kept for when it is asked after again."""
        return {}

    @cached_property
    def answers(self) -> dict[Hashable, Any]:
        """Where chains with numbers are true here (`truth.py`), kept likewise."""
        return {}

    @cached_property
    def cases(self) -> tuple[Case, ...]:
        """The problem's own world: as given, then with the learner's choices, then with those that would do."""
        sheet = self.sheet
        found = [Case(self._world(sheet.env), "", False)]
        if self.choices:
            found.append(Case(self._world({**sheet.env, **self.choices}), "", True))
        if any(item.key not in self.choices for item in sheet.choices):
            found.append(self._supposing({item.key: item.model for item in sheet.choices}))
        return tuple(found)

    def rarer_cases(self, names: Sequence[str] | None = None) -> Iterator[Case]:
        """The problem's own world with each further value that would do for a choice not yet taken.

        With `names` only for choices that some of them feels: what nothing spoken of feels makes no other place.
        """
        model = {item.key: item.model for item in self.sheet.choices}
        shifted = names is None or any(is_change(name) for name in names)
        for item in self.sheet.choices:
            if item.key in self.choices or item.load:
                continue
            if names is not None and not self.around.feels(names, item.key):
                continue
            for value in item.accepted[-MOST_ACCEPTED:]:
                if value != item.model:
                    yield self._supposing({**model, item.key: value}, shifted)

    def _supposing(self, picked: Mapping[str, float], shifted: bool = True) -> Case:
        told = ", ".join(
            say("equals", name=item.key, value=write(picked[item.key], self.sheet.symbols[item.key]))
            for item in self.sheet.choices
            if item.key not in self.choices and not item.load
        )
        world = self._world({**self.sheet.env, **picked, **self.choices}, shifted)
        return Case(world, say("with", told=told) if told else "", False)

    def world_with(self, choices: Mapping[str, float]) -> World:
        """The problem's own world with these choices and no others."""
        return self._world({**self.sheet.env, **choices})

    def _world(self, env: Env, shifted: bool = True) -> World:
        return self.around.world_of({**env, **self.around.sets}, shifted)


@lru_cache(maxsize=MOST_BARE)
def _bare_world(
    recipe: Same[Recipe], env: tuple[tuple[str, float], ...], ends: tuple[tuple[str, tuple[str, str]], ...]
) -> World:
    """A world of the bare circuit, which all problems of a level share."""
    known = dict(env)
    return _with_shifts(expand(recipe.item, known, dict(ends)), recipe.item, known)


def _with_shifts(world: World, recipe: Recipe, env: Env) -> World:
    """The world with further situations at its end: the first one with one base moved, for changes along it."""
    first = world.situations[0].values
    known = {name: first[name] for name in recipe.known if name in first}
    moved = [
        Situation(say("moved", name=name), apply_rules(recipe.rules, {**known, name: value * SHIFT}))
        for name, value in known.items()
        if value
    ]
    return World((*world.situations, *moved), world.views, world.picks, len(moved), world.marked)


def _all_that_feel(recipe: Recipe, moved: str) -> frozenset[str]:
    """The stems of all that a recipe works out from a stem, directly or through others."""
    links = [(_stem(rule.target), rule.needs) for rule in recipe.rules]
    for ask in recipe.asks:
        links += [(_stem(rule.target), rule.needs) for rule in ask.rules]
        links += [(_stem(name), symbols_of(expr)) for name, expr in (*ask.inputs, *ask.resting)]
        links.append((_stem(ask.key), (ask.quantity, *ask.box)))
    for reading in recipe.readings:
        links += [(_stem(rule.target), rule.needs) for rule in reading.rules]
    links += [(_stem(base), (key,)) for base, key in recipe.tolerances]
    stems = [(target, {_stem(name) for name in needs}) for target, needs in links]
    found = {moved}
    while grown := {target for target, needs in stems if target not in found and needs & found}:
        found |= grown
    return frozenset(found)


def _stem(name: str) -> str:
    """The base of a symbol, whatever its change, index and end; a name that is no symbol as it is."""
    return split_name(name).base if is_symbol(name) else name


def is_change(name: str) -> bool:
    """Whether a name is the change of a quantity."""
    return is_symbol(name) and split_name(name).change


def places_in(world: World, names: Sequence[str]) -> Iterable[Place]:
    """Where a line that speaks of `names` may stand in a world."""
    return _places_of(world, *_changes_among(names, world))


def _changes_among(names: Sequence[str], world: World) -> tuple[bool, bool]:
    """Whether changes are spoken of that the problem leaves open, and whether all that are spoken of are such."""
    changes = [name for name in names if is_change(name)]
    open_changes = [name for name in changes if name not in world.views[0]]
    return bool(open_changes), len(open_changes) == len(changes)


def _places_of(world: World, with_changes: bool, with_sizes: bool) -> tuple[Place, ...]:
    situations = len(world.situations)
    return _places(situations - world.moved, situations, world.marked, len(world.views), with_changes, with_sizes)


@lru_cache(maxsize=256)
def _places(
    plain: int, total: int, marked: int, views: int, with_changes: bool, with_sizes: bool
) -> tuple[Place, ...]:
    found = [Place(situation, -1, view) for view in range(views) for situation in range(plain)]
    if with_changes:
        moved = [(0, index) for index in range(plain, total)]
        pairs = [*moved, *itertools.permutations(range(plain - marked), 2)][:MOST_PAIRS]
        # Sizes without a sign (the drop over the rise) only where the problem itself gives no change its sign.
        for first, second in pairs:
            found += [Place(first, second, 0, sizes) for sizes in ((False, True) if with_sizes else (False,))]
    return tuple(found)


def value_in(world: World, place: Place, name: str) -> float | None:
    """The value of a symbol at a place of a world, or None when the world leaves it open."""
    situation = world.situations[place.situation].values
    if name in situation:
        return situation[name]
    view = world.views[place.view]
    if place.other < 0 or not is_change(name):
        return view.get(name)
    before, after = situation.get(name[1:]), world.situations[place.other].values.get(name[1:])
    if before is None or after is None:
        return view.get(name)
    return abs(after - before) if place.sizes else after - before


def distinct(
    places: Iterable[Place], names: Sequence[str], value_of: Callable[[Place, str], float | None]
) -> list[Place]:
    """The places that differ in the values of `names`, those with an unknown one left out."""
    found: dict[tuple[float | None, ...], Place] = {}
    for place in places:
        values = tuple([value_of(place, name) for name in names])
        if values not in found and None not in values:
            found[values] = place
    return list(found.values())


def distinct_in(
    world: World, names: Sequence[str], seen: set[tuple[float | None, ...]] | None = None
) -> list[Place]:
    """The distinct places of a world for a line that speaks of `names`, its own values being taken.

    Places with values that were `seen` in worlds before are left out, and new ones are added to it.
    """
    spoken = _changes_among(names, world)
    places = _places_of(world, *spoken)
    columns = [_column(world, spoken, places, name) for name in names]
    taken = set[tuple[float | None, ...]]() if seen is None else seen
    found: list[Place] = []
    for place, values in zip(places, zip(*columns, strict=True) if columns else ((),) * len(places), strict=True):
        if values not in taken and None not in values:
            taken.add(values)
            found.append(place)
    return found


def _column(
    world: World, spoken: tuple[bool, bool], places: Iterable[Place], name: str
) -> tuple[float | None, ...]:
    key = (*spoken, name)
    if key not in world.columns:
        world.columns[key] = tuple([value_in(world, place, name) for place in places])
    return world.columns[key]


def values_at(world: World, place: Place) -> Callable[[str], float | None]:
    """The values of symbols at a place of a world, by name."""
    if place.other >= 0:
        return lambda name: value_in(world, place, name)
    situation, view = world.situations[place.situation].values, world.views[place.view]
    return lambda name: situation[name] if name in situation else view.get(name)
