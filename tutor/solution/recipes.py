"""Recipes made from a level's plans and from a circuit: what follows from what, planned once, with algebra.

Place in the data flow: ReadyLevel or Circuit -> Recipe (this file, once, kept in the store) -> `sheets.py` fills in
numbers without algebra.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from tutor.circuit.circuit import Circuit, LoadModel, Region, Variant
from tutor.circuit.component import PartKind
from tutor.errors import SteadyrailError
from tutor.generate.compile import compile_level
from tutor.generate.family import Choose, Find, Level
from tutor.generate.level_run import ReadyLevel
from tutor.generate.stage import Stage
from tutor.laws.closed_form import parameters
from tutor.laws.derive import derive, load_model, reading_indices
from tutor.plan.determinacy import manifold
from tutor.plan.everything import everything
from tutor.plan.moves import Moves, ways_from
from tutor.plan.rule import rules_of
from tutor.quantities.expression import Equation, Sym
from tutor.quantities.symbols import is_symbol, split_name
from tutor.solution.own_values import OwnNames
from tutor.solution.recipe_store import LevelRecipes, OwnRecipes, OwnRegion, RegionRecipes
from tutor.solution.sheet import SHORTED, UNPLUGGED, AskRecipe, Branch, Convention, DesignDemand, ReadingRecipe, Recipe

_SLOPED = ("V_Z0", "r_z", "I_ZT")


def make_recipes(ready: ReadyLevel) -> LevelRecipes:
    """Every recipe of a level: in its regions, under the other conventions, and for hypotheses."""
    assumed = ready.family.assume
    regions: dict[str, RegionRecipes] = {}
    for item in ready.regions:
        region = ready.circuit.region(item.plan.region)
        recipe = level_recipe(ready, region, item.plan.asks, assumed)
        others = (_under(ready, region, variant) for variant in _other_variants(ready.circuit, assumed))
        found = tuple(other for other in others if other is not None)
        regions[region.id] = RegionRecipes(recipe, found, _demands(ready, item.plan.checks))
    keys = [key for key in ready.level.given if is_symbol(key)]
    circuit = ready.circuit
    measured = any(isinstance(ask, Find) and _is_part_value(ask, circuit) for ask in ready.level.asks)
    known = () if measured else _lasting(ready.level, circuit, keys)
    branches = (
        *(Branch(region.id, region.words, level_recipe(ready, region, (), assumed)) for region in circuit.regions),
        *output_branches(circuit, known, keys, ready.level.ranges, assumed),
    )
    usual = circuit.regions[0]
    # A level that keeps to one region (a limit at work) is spoken of in it, too.
    own = circuit.region(ready.regions[0].plan.region) if len(ready.regions) == 1 else usual
    bases = [split_name(key).base for key in keys]
    generic = generic_recipe(circuit, usual, bases, keys, assumed)
    return LevelRecipes(regions, branches, generic, exact_recipe(circuit, own, generic, bases, keys, assumed))


def _demands(ready: ReadyLevel, stages: Iterable[Stage | None]) -> tuple[DesignDemand, ...]:
    """What a design of the level must meet, at the corner that comes nearest to failing it."""
    return tuple(
        DesignDemand(
            line.words,
            AskRecipe(
                stage.key, stage.quantity, stage.inputs, stage.box, stage.relation == "<=", stage.resting,
                rules_of(stage.plan.steps), stage.relation,
            ),
            stage.limit,
            line.part,
        )
        for line, stage in zip(ready.level.checks, stages, strict=True)
        if stage is not None
    )  # fmt: skip


def _other_variants(circuit: Circuit, assumed: Mapping[str, str]) -> Iterable[Variant]:
    """The values of the circuit's conventions that are not the ones in use."""
    offered = circuit.convention_values()
    for variant in circuit.variants:
        if assumed.get(variant.convention, offered[variant.convention][0]) != variant.value:
            yield variant


def _under(ready: ReadyLevel, region: Region, variant: Variant) -> Convention | None:
    """The level under another convention; None where that says nothing else or leaves nothing to work out."""
    taken = {variant.convention: variant.value}
    family = ready.family.under(taken)
    if _equations(ready, region, family.assume) == _equations(ready, region, ready.family.assume):
        return None
    try:
        stages = compile_level(family, ready.circuit, ready.number, region.id).asks
    except SteadyrailError:
        stages = ()
    try:
        recipe = level_recipe(ready, region, stages, family.assume)
    except SteadyrailError:
        return None
    return _convention(variant, recipe)


def _equations(ready: ReadyLevel, region: Region, conventions: Mapping[str, str]) -> set[Equation]:
    """What the laws say of a level under some conventions: two that say the same for its load are one."""
    load = load_model(name for name in ready.level.given if is_symbol(name))
    return {law.equation for law in derive(ready.circuit, region, load, conventions=conventions).laws}


def _convention(variant: Variant, recipe: Recipe) -> Convention:
    return Convention(
        variant.convention, variant.value, variant.title or variant.words, bool(variant.watches), variant.limit,
        variant.watches, variant.against, recipe,
    )  # fmt: skip


def level_recipe(
    ready: ReadyLevel, region: Region, stages: tuple[Stage | None, ...], conventions: Mapping[str, str]
) -> Recipe:
    """The recipe of a level in a region, its asks planned as `stages` (None where there is nothing to plan)."""
    level, circuit = ready.level, ready.circuit
    given = [key for key in level.given if is_symbol(key)]
    keys = [*given, *(stage.key for stage in stages if stage is not None)]
    plain = _recipe(circuit, region, _lasting(level, circuit, given), given, tuple(level.ranges), keys, conventions)
    # A load resistor stays one where an ask starts from its current.
    load = load_model(given)
    asks = tuple(_ask(circuit, region, stage, conventions, load) for stage in stages if stage is not None)
    tolerances = tuple((ask.quantity, ask.tolerance) for ask in level.asks if isinstance(ask, Choose) and ask.tolerance)
    return replace(plain, tolerances=tolerances, asks=asks)


def _recipe(
    circuit: Circuit,
    region: Region,
    known: Iterable[str],
    given: list[str],
    ranges: tuple[str, ...],
    keys: Iterable[str],
    conventions: Mapping[str, str],
) -> Recipe:
    """A recipe that starts from the plain names among `known`, with a reading for each index among `given`, before
    anything is asked. `keys` may be spoken of at a reading; a base of which a change is given shifts by it."""
    indices = reading_indices(tuple(given), circuit)
    plain = [name for name in known if split_name(name).index not in indices or name in circuit.constants]
    rules = everything(circuit, region, plain, conventions)
    readings = tuple(_reading(circuit, region, plain, keys, index, conventions) for index in indices)
    shifts = tuple(base for base in plain if f"D{base}" in given and base not in ranges)
    return Recipe(region.id, tuple(plain), ranges, shifts, (), rules, readings, ())


def output_branches(
    circuit: Circuit, known: Sequence[str], given: Iterable[str], ranges: Iterable[str], conventions: Mapping[str, str]
) -> tuple[Branch, ...]:
    """The output shorted and the load unplugged, where all that is known of the rest are values of parts; none where
    nothing is, nor where the circuit sets its load's current itself."""
    if not known or all(part.kind is not PartKind.LOAD for part in circuit.parts):
        return ()
    laws = derive(circuit, circuit.regions[0], LoadModel.SINK)
    parts = [name for name in known if name not in ("R_L", "I_L") and not split_name(name).index]
    own = {"V_Z", "V_ZT", *circuit.constants, *circuit.defaults}
    if any(name in laws.symbols and name not in own and not _is_standing(name) for name in parts):
        return ()
    kept = [key for key in given if split_name(key).base not in ("R_L", "I_L") and not split_name(key).index]
    lasting = tuple(base for base in ranges if base not in ("R_L", "I_L"))
    found: list[Branch] = []
    for name, words, load, region in (
        (SHORTED, "the output is shorted", "R_L", circuit.shorted),
        (UNPLUGGED, "the load is unplugged", "I_L", circuit.regions[0].id),
    ):
        if region:
            recipe = _recipe(circuit, circuit.region(region), [*parts, load], kept, lasting, (), conventions)
            found.append(Branch(name, words, recipe, {load: 0.0}))
    return tuple(found)


def _lasting(level: Level, circuit: Circuit, given: list[str]) -> list[str]:
    """Names whose values a world's main corners start from: givens without an end, what ranges, what is chosen, part
    values found by measurement, standing values."""
    found = [name for name in given if not split_name(name).end and not split_name(name).change]
    found += level.ranges
    found += [ask.quantity for ask in level.asks if isinstance(ask, Choose)]
    found += [ask.quantity for ask in level.asks if isinstance(ask, Find) and _is_part_value(ask, circuit)]
    found += [name for name in circuit.defaults if name not in level.ranges]
    return list(dict.fromkeys(found))


def _is_part_value(ask: Find, circuit: Circuit) -> bool:
    return ask.quantity in circuit.constants and ask.key in ("", ask.quantity)


def _reading(
    circuit: Circuit, region: Region, plain: list[str], keys: Iterable[str], index: str, conventions: Mapping[str, str]
) -> ReadingRecipe:
    """At a reading its own quantities stand in place of the plain ones, beside the part values."""
    names = tuple(name for name in circuit.readings if f"{name}_{index}" in keys)
    parts = [name for name in plain if name in circuit.constants and name not in names]
    return ReadingRecipe(index, names, everything(circuit, region, [*parts, *names], conventions))


def _ask(
    circuit: Circuit, region: Region, stage: Stage, conventions: Mapping[str, str], load: LoadModel
) -> AskRecipe:
    own = rules_of(stage.plan.steps)
    bases = [*(name for name, _ in stage.inputs), *stage.box]
    names = [*bases, *(rule.target for rule in own)]
    further = everything(circuit, region, names, conventions, load if load is LoadModel.RESISTOR else None)
    return AskRecipe(
        stage.key, stage.quantity, stage.inputs, stage.box, stage.greatest, stage.resting, (*own, *further),
        stage.relation,
    )  # fmt: skip


def make_own_recipes(circuit: Circuit, given: OwnNames, conventions: Mapping[str, str]) -> OwnRecipes:
    """The recipes for somebody's own givens: in each region, under the other conventions, and of the bare circuit."""
    regions: dict[str, OwnRegion] = {}
    for region in circuit.regions:
        known = _known_of_own(circuit, region, given, conventions)
        recipe = _own_recipe(circuit, region, given, known, conventions)
        if recipe is None:
            continue
        others: list[Convention] = []
        for variant in _other_variants(circuit, conventions):
            taken = {**conventions, variant.convention: variant.value}
            under = _own_recipe(circuit, region, given, known, taken)
            if under is not None:
                others.append(_convention(variant, under))
        bases = [split_name(name).base for name in given.names]
        generic = generic_recipe(circuit, region, bases, given.names, conventions)
        exact = exact_recipe(circuit, region, generic, bases, given.names, conventions)
        regions[region.id] = OwnRegion(recipe, tuple(others), generic, exact)
    first = next((item.recipe for item in regions.values()), None)
    known = () if first is None or first.readings else first.known
    return OwnRecipes(regions, output_branches(circuit, known, given.names, given.ranges, conventions))


def _known_of_own(circuit: Circuit, region: Region, given: OwnNames, conventions: Mapping[str, str]) -> tuple[str, ...]:
    """What own givens leave a region to start from: part values first, none that others settle, and the standing
    values that the givens leave open. Readings are all kept: several of them settle what one does not."""
    load = load_model(given.lasting)
    free = parameters(circuit, load)
    told = sorted(given.lasting, key=lambda name: (name not in free, name in circuit.report))
    indices = reading_indices(given.names, circuit)
    laws = derive(circuit, region, load, conventions=conventions, readings=indices)
    direct = ways_from(Moves(laws), dict.fromkeys(told, 0.0))
    if indices:
        return (*told, *(name for name in circuit.defaults if name not in told and name not in direct))
    facts = manifold(circuit, region, load, conventions)
    standing = [
        name
        for name in circuit.defaults
        if name not in told and name not in direct and not facts.settles_strictly(told, name)
    ]
    idle = facts.idle([*told, *standing])
    return tuple(name for name in (*told, *standing) if name not in idle)


def _own_recipe(
    circuit: Circuit, region: Region, given: OwnNames, known: tuple[str, ...], conventions: Mapping[str, str]
) -> Recipe | None:
    """The recipe of own givens in a region, part values found from readings as asks of their own; None where laws under
    these conventions cannot be planned."""
    names = list(given.names)
    try:
        if not reading_indices(given.names, circuit):
            return _recipe(circuit, region, known, names, given.ranges, names, conventions)
        rules = everything(circuit, region, known, conventions)
        inputs = tuple((name, Sym(name)) for name in known)
        found = [rule.target for rule in rules if rule.target in circuit.constants]
        plain = _recipe(circuit, region, [*known, *found], names, given.ranges, names, conventions)
    except SteadyrailError:
        return None
    return replace(plain, asks=tuple(AskRecipe(name, name, inputs, (), None, (), rules) for name in found))


def generic_recipe(
    circuit: Circuit, region: Region, names: Iterable[str], extra: Iterable[str], conventions: Mapping[str, str]
) -> Recipe:
    """The recipe from free parameters alone, the zener straight where none of `names` speaks of its slope.

    `extra` are further standing quantities a line may name: ratings, knee currents.
    """
    spoken = set(names)
    load = load_model(spoken)
    known = list(parameters(circuit, load))
    if "V_Z0" in known and not {"V_ZT", *_SLOPED} & spoken:
        known = ["V_Z", *(name for name in known if name not in _SLOPED)]
    known += [name for name in (*circuit.defaults, *extra) if name not in known and _is_standing(name)]
    rules = everything(circuit, region, known, conventions)
    # A convention may bring values of its own: a finite gain, and what goes with it.
    found = {*known, *(rule.target for rule in rules)}
    brought = [name for name in sorted(spoken) if name in circuit.typical and name not in found]
    if brought:
        known += brought
        rules = everything(circuit, region, known, conventions)
    return Recipe(region.id, tuple(known), (), (), (), rules, (), ())


def exact_recipe(
    circuit: Circuit,
    region: Region,
    generic: Recipe,
    names: Iterable[str],
    extra: Iterable[str],
    conventions: Mapping[str, str],
) -> Recipe | None:
    """As `generic`, with nothing neglected or bent; None where nothing is, or where it starts from other quantities."""
    bent = {item.convention for item in _in_use(circuit, conventions) if item.watches}
    whole = {item.convention: item.value for item in circuit.variants if not item.watches and item.convention in bent}
    if not whole:
        return None
    found = generic_recipe(circuit, region, names, extra, {**conventions, **whole})
    return found if found.known == generic.known else None


def _in_use(circuit: Circuit, assumed: Mapping[str, str]) -> list[Variant]:
    """The values of the circuit's conventions that are in use."""
    others = tuple(_other_variants(circuit, assumed))
    return [item for item in circuit.variants if item not in others]


def _is_standing(name: str) -> bool:
    """Whether a name is the like of a rating or a limit, which nothing in the circuit moves."""
    return is_symbol(name) and name in ("I_ZK", "I_K_MIN", "P_ZM", "P_QM", "P_RM", "V_CE_SAT", "V_BE", "tol_R", "tol_Z")
