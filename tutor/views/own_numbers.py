"""The own-numbers pages: one a circuit, on which anybody's own numbers are worked and a working on them is checked.

Place in the data flow: OwnOffer (plans in letters) -> `own.html`, `own/CIRCUIT.html` with a template for every step,
and `own/CIRCUIT.js` with all that the browser computes with -> assets/own_*.js. Numbers are put in there alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from jinja2 import Environment
from markupsafe import Markup

from tutor.circuit.circuit import Circuit, Region
from tutor.quantities.prose import listed
from tutor.quantities.quantity import write
from tutor.quantities.symbols import SYMBOLS, split_name, symbol_for
from tutor.quantities.units import printed_unit
from tutor.solution.own import SAFE_VOLTS
from tutor.solution.own_offer import OfferedSet, OwnOffer
from tutor.solution.own_sets import GivenSet
from tutor.solution.sheet import Sheet
from tutor.solution.sheet_json import level_sheet_data, number_sheet_data
from tutor.solution.sheets import WORLDS, generic_worlds, own_branches, shift, symbols_of_circuit
from tutor.views.markup import parse, serialise
from tutor.views.own_plans import (
    Data,
    Shelves,
    circuit_data,
    names_spoken_of,
    plan_data,
    step_data,
    symbol_data,
)
from tutor.views.own_steps import step_pattern, with_slots
from tutor.views.typing_help import letter_keys, sign_keys, typing_topics

_MOST_GIVEN = 24  # names in a set with standing values and ratings: as many shifts are shipped


@dataclass(frozen=True)
class SetChoice:
    """A given-set as the page offers it: its id, its letters, its conventions in prose, where it is given like that."""

    id: str
    names: tuple[str, ...]
    conventions: tuple[str, ...]
    uses: tuple[str, ...]


@dataclass(frozen=True)
class NumberField:
    """A field to write a number in: its letter, what it means, its unit, and an example."""

    name: str
    meaning: str
    unit: str
    example: str


@dataclass
class _Shared(Shelves):
    """Things that many sets share, each kept once and spoken of by its place."""

    ratings: tuple[str, ...] = ()
    sheets: list[Sheet] = field(default_factory=list)

    def sheet(self, sheet: Sheet) -> int:
        self.sheets.append(sheet)
        return len(self.sheets) - 1


@dataclass(frozen=True)
class OwnPage:
    """Everything one circuit's page needs: what is chosen from, the fields, the patterns of steps, the data."""

    circuit: str
    choices: tuple[SetChoice, ...]
    fields: tuple[NumberField, ...]
    ratings: tuple[NumberField, ...]
    letters: tuple[str, ...]
    patterns: tuple[str, ...]
    approximations: tuple[tuple[str, str], ...]
    data: Data


def own_page(offer: OwnOffer, press: Environment) -> OwnPage:
    """Everything the page of an offer needs."""
    circuit, shared = offer.circuit, _Shared(ratings=offer.ratings)
    offered = (*offer.sets, *offer.exact)
    sets = [_set_data(circuit, item, offer, shared) for item in offered]
    level = level_sheet_data(shared.sheets)
    kinds = [number_sheet_data(sheet, level)[0] for sheet in shared.sheets]
    for item in sets:
        item["sheets"] = {region: kinds[place] for region, place in item["sheets"].items()}
    patterns = [step_pattern(step) for step in shared.steps]
    beside = {*offer.ratings, *circuit.defaults}.union(*(item.given.names for item in offered))
    names = names_spoken_of((plan for item in offered for plan in item.plans), shared, beside)
    steps = [step_data(step, pattern.slots) for step, pattern in zip(shared.steps, patterns, strict=True)]
    data = {
        **circuit_data(circuit),
        "order": list(names),
        "symbols": {name: symbol_data(name) for name in names},
        "conventions": {name: values[0] for name, values in circuit.convention_values().items()},
        "variants": {f"{item.convention}={item.value}": [item.watches, item.against or item.watches, item.limit]
                     for item in circuit.variants if item.watches},
        "shifts": [[shift(place, world) for place in range(_MOST_GIVEN)] for world in range(WORLDS)],
        "ratings": list(offer.ratings),
        "safeVolts": SAFE_VOLTS,
        "laws": shared.laws,
        "steps": steps,
        "sheets": level,
        "sets": sets,
    }  # fmt: skip
    return OwnPage(
        circuit.id,
        tuple(_choice(circuit, item.given) for item in offer.sets),
        tuple(_fields(offer)),
        tuple(_field(name, None) for name in offer.ratings),
        names,
        tuple(_printed(pattern.worked, press) for pattern in patterns),
        tuple((f"{item.convention}={item.value}", item.title) for item in circuit.variants if item.watches),
        data,
    )


def writing_help(page: OwnPage) -> Mapping[str, object]:
    """What the template of the working sheet needs: the keys above it, and what may be typed."""
    given = {name for choice in page.choices for name in choice.names}
    plain = [name for name in page.letters if not split_name(name).change and not split_name(name).index]
    order = {name: place for place, name in enumerate(SYMBOLS)}
    letters = tuple(sorted({split_name(name).base for name in plain}, key=lambda name: order[name]))
    return {
        "in_words": "",
        "answer_keys": (),
        "letter_keys": letter_keys(letters, given),
        "sign_keys": sign_keys(letters),
        "typing": typing_topics(letters),
        "problem": {"name": f"own:{page.circuit}"},
    }


def _choice(circuit: Circuit, given: GivenSet) -> SetChoice:
    taken = dict(given.conventions)
    words = [item.words for item in circuit.variants if taken.get(item.convention) == item.value]
    return SetChoice(given.id, given.names, tuple(words), tuple(_uses(given)))


def _uses(given: GivenSet) -> Iterator[str]:
    """Where something is given like that: families with their levels, then books."""
    levels: dict[str, list[str]] = {}
    for use in given.uses:
        levels.setdefault(use.title, []).extend([str(use.level)] if use.level else [])
    for title, numbers in levels.items():
        word = "level" if len(numbers) == 1 else "levels"
        yield f"{title}, {word} {listed(numbers)}" if numbers else title


def _fields(offer: OwnOffer) -> Iterator[NumberField]:
    samples = {name: value for item in reversed(offer.sets) for name, value in item.sample.items()}
    names = dict.fromkeys(name for item in offer.sets for name in item.given.names)
    for name in names:
        yield _field(name, samples[name])


def _field(name: str, example: float | None) -> NumberField:
    symbol = symbol_for(name)
    told = "" if example is None else write(example, symbol.unit, 12)
    return NumberField(name, symbol.meaning, printed_unit(symbol.unit), told)


def _set_data(circuit: Circuit, item: OfferedSet, offer: OwnOffer, shared: _Shared) -> Data:
    given = item.given
    twins = [place for place, other in enumerate(offer.exact) if other.given.names == given.names]
    approximate = any(
        variant.watches and dict(given.conventions).get(variant.convention) == variant.value
        for variant in circuit.variants
    )
    return {
        "id": given.id,
        "names": list(given.names),
        "conventions": dict(given.conventions),
        "exact": len(offer.sets) + twins[0] if approximate and twins else -1,
        "sample": {name: write(value, symbol_for(name).unit, 12) for name, value in item.sample.items()},
        "plans": [plan_data(plan, shared) for plan in item.plans],
        "sheets": _sheet_data(circuit, item, shared),
    }


def _sheet_data(circuit: Circuit, item: OfferedSet, shared: _Shared) -> Data:
    """For each region, which of the circuit's sheets a working on this set is held against there."""
    return {
        region.id: shared.sheet(_sheet(circuit, item, region, shared.ratings))
        for region in circuit.regions
        if region.id in item.recipes.regions
    }


def _sheet(circuit: Circuit, item: OfferedSet, region: Region, ratings: tuple[str, ...]) -> Sheet:
    """The sheet of a set in a region as `own_sheet` makes it, with 1 for every number: the page has the numbers."""
    here, names = item.recipes.regions[region.id], item.given.names
    standing = [name for name in here.recipe.known if name in circuit.defaults and name not in names]
    env = dict.fromkeys((*standing, *names), 1.0)
    # What others settle does not move with the worlds near the numbers.
    lasting = [name for name in names if not split_name(name).change]
    idle = () if here.recipe.readings else {name for name in lasting if name not in here.recipe.known}
    symbols = {**symbols_of_circuit(circuit, here.generic, {}), **symbols_of_circuit(circuit, here.recipe, env)}
    return Sheet(
        circuit=circuit.id,
        problem="",
        symbols={**symbols, **{name: symbol_for(name).unit for name in ratings}},
        aliases=circuit.aliases,
        given=env,
        env=env,
        recipe=here.recipe,
        worlds=({name: 1.0 for name in env if name not in idle},),
        generic=here.generic,
        exact=here.exact,
        generic_worlds=generic_worlds(circuit, here.generic, env),
        branches=own_branches(circuit, item.recipes, region),
        conventions=here.conventions,
        region=region.id,
        region_words=region.words,
        ends=circuit.ends,
    )


def _printed(worked: object, press: Environment) -> str:
    """A step as the page of a problem prints it, in one line, with slots."""
    markup = press.get_template("own_step.html").render(step=worked)
    return Markup(with_slots(serialise(parse(markup.strip()))))
