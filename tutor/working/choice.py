"""A learner's own choice of a part, held against the bounds it must satisfy at every corner.

A choice is right when it meets the specification, whichever value the model solution takes; one inside the learner's
own wrong bounds follows from them. Values are in SI (°C for temperatures).
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.quantities.preferred import Series, is_preferred, nearest_to
from tutor.quantities.quantity import write
from tutor.quantities.units import unit_for
from tutor.solution.sheet import Sheet, SheetChoice
from tutor.working.finding import Code
from tutor.working.ground import Ground
from tutor.working.sayings import say
from tutor.working.symbolise import Past
from tutor.working.tree import Exponents, Literal, Name, Node, Spread

SAME = 1e-6  # of a value
END_BAND = 0.005  # of a part taken: how near an end of its tolerance is written


@dataclass(frozen=True)
class Chosen:
    """A choice judged: which one, the value taken (SI), the code, why, and known slips."""

    choice: SheetChoice
    value: float
    code: Code
    why: str
    slip: tuple[str, ...] = ()


@dataclass(frozen=True)
class Bounds:
    """What a value must lie between (SI), None where there is no bound."""

    low: float | None
    high: float | None


def chosen_part(members: tuple[Node, ...], sheet: Sheet, taken: tuple[str, ...]) -> tuple[SheetChoice, float] | None:
    """Which choice of the sheet some members make, and its value; None when they make none."""
    number = _plain_number(members[-1])
    if number is None or number.meanings[0].value <= 0:
        return None
    exponents = number.meanings[0].exponents
    value = number.meanings[0].value
    if len(members) > 1 and isinstance(members[0], Name):
        name = members[0].name
        found = next((item for item in sheet.choices if name in (item.key, item.quantity)), None)
        return None if found is None else (found, value)
    return _by_unit(sheet, taken, exponents, value)


def _by_unit(
    sheet: Sheet, taken: tuple[str, ...], exponents: Exponents | None, value: float
) -> tuple[SheetChoice, float] | None:
    """A choice without a symbol: the first of that unit not yet made, else the last one made."""
    alike = [
        item
        for item in sheet.choices
        if exponents is None or unit_for(sheet.symbols[item.key]).exponents == exponents
    ]
    still = [item for item in alike if item.key not in taken]
    found = next(iter((*still, *alike[::-1])), None)
    return None if found is None else (found, value)


def _plain_number(node: Node) -> Literal | None:
    if isinstance(node, Spread):
        return _plain_number(node.base)
    return node if isinstance(node, Literal) else None


def judge_choice(choice: SheetChoice, value: float, ground: Ground, past: Past) -> Chosen:
    """Whether a value meets the specification at every corner, or at least the learner's own bounds."""
    true = bounds_of(choice, ground)
    unit = ground.sheet.symbols[choice.key]
    slips = tuple(
        slip.id for slip in ground.sheet.slips if slip.key == choice.key and abs(slip.value - value) <= SAME * value
    )
    spread = ground.sheet.env.get(choice.tolerance, 0.0)
    broken = _broken(choice, value, true, spread, ground)
    if not broken:
        off = _off_shelf(choice, value, unit)
        if off:
            return Chosen(choice, value, Code.CHOICE_BAD, off, slips)
        return Chosen(choice, value, Code.CHOICE_OK, _margins(choice, value, true, spread, ground))
    own = _own_bounds(choice, true, past)
    if own != true and not _broken(choice, value, own, spread, ground) and not _off_shelf(choice, value, unit):
        return Chosen(choice, value, Code.FOLLOWS, say("own-bound", broken=broken), slips)
    return Chosen(choice, value, Code.CHOICE_BAD, broken, slips)


def bounds_of(choice: SheetChoice, ground: Ground) -> Bounds:
    """The true bounds of a choice beside the learner's other choices (the model's where none is taken yet)."""
    others = {item.key: item.model for item in ground.sheet.choices if item.key != choice.key}
    taken = {key: value for key, value in ground.choices.items() if key != choice.key}
    view = ground.world_with({**others, **taken}).views[0]
    if choice.load:
        load = view.get(choice.load)
        return Bounds(None if load is None else choice.margin * load, None)
    return Bounds(view.get(choice.low), view.get(choice.high))


def _own_bounds(choice: SheetChoice, true: Bounds, past: Past) -> Bounds:
    if choice.near:
        own = past.values.get(choice.near)
        return true if own is None or not 1e-12 < own < 1e9 else Bounds(own, None)
    if choice.load:
        own = past.values.get(choice.load)
        return true if own is None else Bounds(choice.margin * own, None)
    return Bounds(past.values.get(choice.low, true.low), past.values.get(choice.high, true.high))


def _broken(choice: SheetChoice, value: float, bounds: Bounds, spread: float, ground: Ground) -> str:
    """The bound a value breaks, in a sentence without its full stop; '' when it breaks none."""
    unit = ground.sheet.symbols[choice.key]
    if choice.near:
        nearest = choice.accepted[0] if bounds.low is None else nearest_to(bounds.low, Series[choice.series])
        is_nearest = abs(value - nearest) <= SAME * nearest
        return "" if is_nearest else say("nearer", value=write(nearest, unit), name=choice.near)
    low, high = value * (1 - spread), value * (1 + spread)
    if bounds.high is not None and high > bounds.high * (1 + SAME):
        saying, bound = "spread-above" if spread else "above", write(bounds.high, unit)
        return say(saying, value=write(high, unit), name=choice.high, bound=bound)
    if bounds.low is not None and low < bounds.low * (1 - SAME):
        bound = write(bounds.low, unit)
        if choice.load:
            margin = f"{choice.margin:g}"
            return say("below-margin", value=write(value, unit), margin=margin, name=choice.load, bound=bound)
        saying = "spread-below" if spread else "below"
        return say(saying, value=write(low, unit), name=choice.low, bound=bound)
    return ""


def _off_shelf(choice: SheetChoice, value: float, unit: str) -> str:
    if choice.shelf:
        if any(abs(value - item) <= SAME * item for item in choice.shelf):
            return ""
        return say("not-on-shelf", value=write(value, unit))
    if not choice.series:
        return ""
    series = Series[choice.series]
    if 1e-12 < value < 1e9 and is_preferred(value, series):
        return ""
    return say("no-series-value", value=write(value, unit), series=series.name)


def is_end_of_taken(choice: SheetChoice, value: float, ground: Ground, past: Past) -> bool:
    """Whether a value is an end of the tolerance of the part taken before, and no part of its own."""
    taken, spread = past.values.get(choice.key), ground.sheet.env.get(choice.tolerance, 0.0)
    if taken is None or not spread or not _off_shelf(choice, value, ground.sheet.symbols[choice.key]):
        return False
    return any(abs(value - taken * end) <= END_BAND * taken for end in (1 - spread, 1 + spread))


def _margins(choice: SheetChoice, value: float, bounds: Bounds, spread: float, ground: Ground) -> str:
    unit = ground.sheet.symbols[choice.key]
    if choice.near:
        return say("lies-nearest", name=choice.near)
    if choice.load:
        bound = write(bounds.low or 0.0, unit)
        return say("at-least-margin", margin=f"{choice.margin:g}", name=choice.load, bound=bound)
    inside = say("to").join(write(item, unit) for item in (bounds.low, bounds.high) if item is not None)
    if not inside:
        return say("unbounded")
    if not spread:
        return say("meets", inside=inside)
    low, high = (write(value * share, unit) for share in (1 - spread, 1 + spread))
    return say("spread-meets", low=low, high=high, inside=inside)
