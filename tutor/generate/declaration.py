"""What an author's file says, held together before any algebra: the names, regions, shelves and conventions of a level.

Place in the data flow: Family + Circuit -> (this: nothing, or one sentence) -> compile. What only shows once an ask is
planned (the key of a bound, the steps a slip may edit) is checked there, with the same words.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import TypeVar

from tutor.circuit.circuit import Circuit
from tutor.errors import BadFamily, SteadyrailError, unknown
from tutor.generate.cautions import caution_text
from tutor.generate.family import Choose, ChooseRating, Family, Level, Pick, Stock, TellState, TellVerdict
from tutor.generate.problems_folder import file_name
from tutor.generate.sampling import draw_names
from tutor.generate.verdicts import sides
from tutor.quantities.expression import Equation, symbols_of
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.symbols import is_symbol

Read = TypeVar("Read")


def where_of(family: Family, number: int) -> str:
    """How a complaint names a level: family, file, level."""
    return f"family '{family.id}' (problems/families/{file_name(family.id)}), level {number}"


def check_level(family: Family, circuit: Circuit, number: int) -> None:
    """Raise BadFamily, naming file, level, field and what was got, for the first thing that cannot be."""
    level, where = family.levels[number - 1], where_of(family, number)
    if not family.scenarios:
        raise BadFamily(f"{where}, scenarios: at least one wording is needed")
    for caution in family.cautions:
        _told(f"{where}, cautions", caution_text, caution)
    for name, value in family.assume.items():
        require_known(name, circuit.convention_values(), f"{where}, assume", "convention")
        require_known(value, circuit.convention_values()[name], f"{where}, assume", f"value of '{name}'")
    _check_draws(level, where)
    _check_regions(level, circuit, where)
    for text in level.require:
        read_requirement(text, f"{where}, require")


def _check_draws(level: Level, where: str) -> None:
    drawn = draw_names(level.draws)
    for item in level.draws:
        if isinstance(item, Pick) and not item.values:
            raise BadFamily(f"{where}, draws '{item.name}': the list of values is empty")
    for key in level.given:
        require_known(key, drawn, f"{where}, given", "drawn key")
        if not is_symbol(key):
            raise BadFamily(f"{where}, given: '{key}' is no letter symbol; what is shown to a learner needs one")
    for base in level.ranges:
        for key in (f"{base}_MIN", f"{base}_MAX"):
            require_known(key, drawn, f"{where}, ranges '{base}'", "drawn key")


def _check_regions(level: Level, circuit: Circuit, where: str) -> None:
    have = [region.id for region in circuit.regions]
    for region in level.regions:
        require_known(region, have, f"{where}, regions", f"region of '{circuit.id}'")
    used = level.regions or (have[0],)
    for field, entries in (("asks", level.asks), ("slips", level.slips), ("checks", level.checks)):
        for entry in entries:
            if entry.region:
                require_known(entry.region, used, f"{where}, {field}", "region of this level")


def check_choice(ask: Choose | ChooseRating | TellState | TellVerdict, known: Collection[str], field: str) -> None:
    """Raise BadFamily where a choice or a state leans on a key that is neither drawn nor found before it."""
    if isinstance(ask, ChooseRating):
        keys: tuple[str, ...] = (ask.load,)
        if not ask.shelf:
            raise BadFamily(f"{field}: the shelf is empty")
    elif isinstance(ask, TellState):
        keys = (ask.quantity, ask.limit)
    elif isinstance(ask, TellVerdict):
        keys = _check_verdicts(ask, field)
    else:
        keys = tuple(key for key in (ask.low, ask.high, ask.near, ask.tolerance) if key)
        if not (ask.low or ask.high or ask.near):
            raise BadFamily(f"{field}: a choice needs low=, high= or near=")
        if isinstance(ask.series, Stock) and ask.near:
            raise BadFamily(f"{field}: a choice from stock needs low= or high=; near= is for preferred values")
    for key in keys:
        require_known(key, known, field, "key drawn or found before")


def _check_verdicts(ask: TellVerdict, field: str) -> tuple[str, ...]:
    """The keys that the demands of a verdict compare, once every verdict is known to rest on demands of the table."""
    keys: list[str] = []
    told = [item.requirement for item in ask.demands]
    if len({item.words for item in ask.verdicts}) < 2:
        raise BadFamily(f"{field}: a verdict needs two wordings at least")
    for item in ask.verdicts:
        if not (*item.meets, *item.misses):
            raise BadFamily(f"{field}, '{item.words}': a verdict rests on some demand")
        for text in (*item.meets, *item.misses):
            require_known(text, told, f"{field}, '{item.words}'", "demand")
    for text in told:
        try:
            key, _, limit = sides(text)
        except ValueError as error:
            raise BadFamily(f"{field}: {error}") from error
        keys += [key, limit]
    return tuple(keys)


def read_requirement(text: str, field: str) -> Equation:
    """An author's `one <= other`, or `>=`; BadFamily, naming the field, for anything else."""
    requirement = _told(field, read_equation, text)
    if requirement.relation not in ("<=", ">="):
        raise BadFamily(f"{field}: a requirement needs <= or >= (got '{text}')")
    return requirement


def require_known(name: str, valid: Iterable[str], field: str, kind: str) -> None:
    """Raise BadFamily, with the nearest valid name, when `name` is not among them."""
    names = tuple(valid)
    if name not in names:
        raise BadFamily(f"{field}: {unknown(kind, name, names).sentence}", name=name)


def check_taken(at: Mapping[str, str], known: Collection[str], field: str) -> None:
    """Raise BadFamily where a given is taken at a value (`at=`) that cannot be read or that nothing provides."""
    for base, formula in at.items():
        if not is_symbol(base):
            raise BadFamily(f"{field}, at: '{base}' is no letter symbol")
        for name in symbols_of(_told(f"{field}, at '{base}'", read_expression, formula)):
            require_known(name, known, f"{field}, at '{base}'", "key drawn or found before")


def _told(field: str, reader: Callable[[str], Read], text: str) -> Read:
    try:
        return reader(text)
    except SteadyrailError as error:
        raise BadFamily(f"{field}: {error.sentence}") from error
