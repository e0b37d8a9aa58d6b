"""Problems and own numbers -> sheets: recipes from the store, worlds near the problem's own by fixed small shifts.

Place in the data flow: WorkedProblem (or Resolved) + recipes -> Sheet -> `working`. Nothing is drawn at random: the
shifts come from a fixed sequence, so that the same problem gives the same sheet anywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from tutor.circuit.circuit import Circuit, Region
from tutor.generate.choices import all_that_fit, ratings_that_fit
from tutor.generate.draws import Drawn
from tutor.generate.family import Choose, ChooseRating, Pick, PickPart, Stock, applies_in
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problem import Problem
from tutor.quantities.expression import evaluate
from tutor.quantities.formula import read_expression
from tutor.quantities.quantity import EXACT_FIGURES, round_figures
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.solution.recipe_store import LevelRecipes, OwnRecipes
from tutor.solution.sheet import UNPLUGGED, Branch, Recipe, Sheet, SheetChoice, SheetSlip

WORLDS = 6  # worlds near the problem's own; those in which the same corners decide are used
SPREAD = 0.06  # of a value, from end to end
MOVED_FIGURES = 7  # of a moved value: which one it is does not matter, and short ones make short pages
# Multiples of these, whole parts dropped, fill a stretch evenly: 1 over the golden ratio, over the plastic number.
_BY_PLACE, _BY_WORLD = 0.6180339887498949, 0.7548776662466927


def shift(place: int, world: int) -> float:
    """A factor near 1 for the value at a place in a world: equidistributed, the same everywhere."""
    return 1 + SPREAD * ((_BY_PLACE * (place + 1) + _BY_WORLD * (world + 1)) % 1.0 - 0.5)


def sheet_of(ready: ReadyLevel, drawn: Drawn, problem: Problem, recipes: LevelRecipes) -> Sheet:
    """The sheet of a drawn problem."""
    circuit, region = ready.circuit, ready.circuit.region(drawn.run.region)
    here = recipes.regions[region.id]
    return Sheet(
        circuit=circuit.id,
        problem=problem.name,
        symbols={
            **symbols_of_circuit(circuit, recipes.generic, {}),
            **symbols_of_circuit(circuit, here.recipe, problem.given),
            # What is chosen from a shelf may have a letter of which no law speaks (the rated voltage of a capacitor).
            **{point.key: symbol_for(point.key).unit for point in problem.waypoints if point.accepted},
        },
        aliases=circuit.aliases,
        given={name: quantity.value for name, quantity in problem.given.items()},
        env=_env(ready, drawn),
        recipe=here.recipe,
        worlds=tuple(_near(ready, drawn, world) for world in range(WORLDS)),
        generic=recipes.generic,
        exact=recipes.exact,
        generic_worlds=generic_worlds(circuit, recipes.generic, problem.given),
        choices=_choices(ready, drawn),
        demands=here.demands,
        slips=tuple(
            SheetSlip(slip.id, point.key, slip.value, slip.name, slip.why, slip.hint)
            for point in problem.waypoints
            for slip in point.slips
        ),
        branches=tuple(branches_beside(recipes.branches, circuit, region)),
        conventions=here.conventions,
        region=region.id,
        region_words=region.words,
        ends=circuit.ends,
        asked=tuple(point.key for point in problem.waypoints),
    )


def branches_beside(branches: Iterable[Branch], circuit: Circuit, region: Region) -> Iterator[Branch]:
    """The states that may be supposed where the circuit is in `region`: the others, and another load where it is known
    in which region that leaves it."""
    for branch in branches:
        if branch.region != region.id and (region == circuit.regions[0] or branch.region != UNPLUGGED):
            yield branch


def own_branches(circuit: Circuit, recipes: OwnRecipes, region: Region) -> tuple[Branch, ...]:
    """The states that may be supposed of own givens whose own state is `region`."""
    regions = (
        Branch(item.id, item.words, recipes.regions[item.id].recipe)
        for item in circuit.regions
        if item.id in recipes.regions
    )
    return tuple(branches_beside((*regions, *recipes.branches), circuit, region))


# What a part of a circuit is rated by, beside what it dissipates or carries.
_RATINGS = {"P_R": "P_RM", "P_Q": "P_QM", "P_Z": "P_ZM", "I_K": "I_K_MIN"}


def symbols_of_circuit(circuit: Circuit, recipe: Recipe, keys: Mapping[str, object]) -> dict[str, str]:
    """The symbols a line may use on this circuit, with their unit codes."""
    names = dict.fromkeys((*circuit.report, *circuit.constants, *circuit.defaults, *circuit.readings, *keys))
    names |= dict.fromkeys(rule.target for rule in recipe.rules)
    names |= dict.fromkeys(rule.target for ask in recipe.asks for rule in ask.rules)
    names |= dict.fromkeys(name for ask in recipe.asks for name in (ask.key, ask.quantity))
    names |= dict.fromkeys(("V_Z", "V_ZT", "I_ZK", "I_ZM", "P_ZM", "P_RM") if "V_Z0" in circuit.constants else ())
    names |= dict.fromkeys(rating for power, rating in _RATINGS.items() if power in circuit.report)
    return {name: symbol_for(name).unit for name in names if is_symbol(name)}


def _env(ready: ReadyLevel, drawn: Drawn) -> dict[str, float]:
    """The problem's own numbers: givens and standing values."""
    told = {key: float(drawn.run.env[key][0]) for key in ready.level.given if is_symbol(key)}
    defaults = {
        name: float(drawn.run.env[name][0]) if name in drawn.run.env else value
        for name, value in ready.circuit.defaults.items()
    }
    return {**defaults, **told}


def _near(ready: ReadyLevel, drawn: Drawn, world: int) -> dict[str, float]:
    """A world near the problem's own: every draw moved a little, what was worked out from draws worked out anew."""
    moved: dict[str, float] = {}
    place = 0
    for item in ready.level.draws:
        if isinstance(item, Pick | PickPart):
            for name in item.take if isinstance(item, PickPart) else (item.name,):
                moved[name] = _moved(drawn.run.env[name][0], place, world)
                place += 1
        else:
            moved[item.name] = round_figures(evaluate(read_expression(item.formula), moved), EXACT_FIGURES)
    for name, value in ready.circuit.defaults.items():
        moved.setdefault(name, _moved(_env(ready, drawn).get(name, value), place, world))
        place += 1
    kept = {key: moved[key] for key in (*ready.level.given, *ready.circuit.defaults) if key in moved}
    for ask in ready.level.asks:
        if isinstance(ask, Choose | ChooseRating):
            key = ask.key or (ask.quantity if isinstance(ask, Choose) else "")
            kept[key] = _moved(drawn.run.env[key][0], place, world)
            place += 1
    return kept


def _moved(value: float, place: int, world: int) -> float:
    return round_figures(float(value) * shift(place, world), MOVED_FIGURES)


def generic_worlds(circuit: Circuit, recipe: Recipe, given: Mapping[str, object]) -> tuple[dict[str, float], ...]:
    """Worlds (SI) of the whole circuit near its typical point, wider apart than those near a problem."""
    typical = {"R_L": 470.0, "V_Z": 9.0, "I_ZK": 0.003, "I_K_MIN": 0.001, "P_ZM": 1.0, "P_RM": 1.0, "P_QM": 5.0,
               "tol_R": 0.05, "tol_Z": 0.05, **circuit.defaults, **circuit.typical}  # fmt: skip
    return tuple(
        {name: typical[name] * (1 + 5 * (shift(place, world) - 1)) for place, name in enumerate(recipe.known)}
        for world in range(WORLDS)
    )


def _choices(ready: ReadyLevel, drawn: Drawn) -> tuple[SheetChoice, ...]:
    env = drawn.run.env
    found: list[SheetChoice] = []
    for ask in ready.level.asks:
        if not applies_in(ask, drawn.run.region):
            continue
        if isinstance(ask, Choose):
            key = ask.key or ask.quantity
            found.append(
                SheetChoice(
                    key, ask.quantity, all_that_fit(ask, env), float(env[key][0]), ask.low, ask.high, ask.tolerance,
                    ask.near, series="" if isinstance(ask.series, Stock) else ask.series.name,
                    shelf=ask.series.values if isinstance(ask.series, Stock) else (),
                )
            )  # fmt: skip
        elif isinstance(ask, ChooseRating):
            fits = ratings_that_fit(ask, env)
            found.append(
                SheetChoice(
                    ask.key, ask.key, fits, float(env[ask.key][0]), load=ask.load, margin=ask.margin, shelf=ask.shelf
                )
            )  # fmt: skip
    return tuple(found)
