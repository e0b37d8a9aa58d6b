"""A draw -> the Problem a learner sees: wording, table of data, waypoints with what is right and where slips lead."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from tutor.errors import BadFamily
from tutor.generate.cautions import caution_text
from tutor.generate.choices import all_that_fit, ratings_that_fit
from tutor.generate.draws import Drawn, stream_key
from tutor.generate.family import Choose, ChooseRating, Stock, TellState, TellVerdict
from tutor.generate.level_run import TOLERANCE, ReadyLevel
from tutor.generate.name import ProblemName
from tutor.generate.problem import Problem, SlipValue, TableRow, Waypoint, WaypointKind
from tutor.generate.random_bits import bits, choose
from tutor.generate.run import run
from tutor.generate.sampling import allowed_rows, drawn_parts
from tutor.generate.verdicts import verdict_words
from tutor.quantities.parts import Catalogue
from tutor.quantities.quantity import Quantity, given
from tutor.quantities.symbols import is_symbol, symbol_for

_SCENARIO_SLOT = 1000  # a slot of its own, so that wording does not move the numbers


def make_problems(
    ready: ReadyLevel, drawns: Sequence[Drawn], catalogues: Mapping[str, Catalogue], assumed: Mapping[str, str]
) -> list[Problem]:
    """The problems that draws make, in order. Raises BadFamily when a placeholder names nothing."""
    numbers = [drawn.number for drawn in drawns]
    beside = _approximations(ready, drawns)
    stock = _stock_texts(ready)
    return [
        _problem(ready, drawn, _Texts(ready, drawn, catalogues, stock), scenario, assumed, others)
        for drawn, scenario, others in zip(drawns, _scenarios(ready, numbers), beside, strict=True)
    ]


def _problem(
    ready: ReadyLevel,
    drawn: Drawn,
    texts: _Texts,
    scenario: str,
    assumed: Mapping[str, str],
    others: Mapping[int, Sequence[float]],
) -> Problem:
    level, family = ready.level, ready.family
    name = ProblemName(family.id, ready.number, drawn.number, 0, assumed)
    quantities = {key: given(float(drawn.run.env[key][0]), symbol_for(key).unit) for key in level.given}
    asked = level.asked_in(drawn.run.region)
    waypoints = tuple(_waypoint(ready, drawn, index, others.get(index, ())) for index in asked)
    return Problem(
        name=str(name),
        family=family.id,
        level=ready.number,
        number=drawn.number,
        edition=family.edition,
        title=family.title,
        circuit=family.circuit,
        form=ready.circuit.form,
        statement=_fill(f"{scenario} {level.data}", texts, ready.where),
        ask=_fill(level.ask, texts, ready.where),
        table=(
            *(
                TableRow(_label(ready, key), key, quantity.text)
                for key, quantity in quantities.items()
                if f"{{{key}}}" not in level.data
            ),
            *_convention_rows(ready, drawn),
        ),
        given=quantities,
        wanted=tuple(point.key for point in waypoints),
        waypoints=waypoints,
        cautions=tuple(caution_text(item) for item in family.cautions),
        assumed={**family.assume, **assumed},
    )


def _scenarios(ready: ReadyLevel, numbers: Sequence[int]) -> list[str]:
    """The wording of each number: all of a family's in turn, in an order of its own for each run of them."""
    scenarios = ready.family.scenarios
    counters = np.array(numbers, dtype=np.uint64)
    words = bits(stream_key(ready), counters, np.zeros(len(numbers), dtype=np.uint64), _SCENARIO_SLOT)
    return [scenarios[index] for index in choose(words, len(scenarios)).tolist()]


def _convention_rows(ready: ReadyLevel, drawn: Drawn) -> list[TableRow]:
    """The conventions the plans of this level lean on, each in words: a statement always says which it uses."""
    laws = {step.law for stage in drawn.region.plan.asks if stage is not None for step in stage.plan.steps}
    rows = []
    for convention, value in ready.family.assume.items():
        variants = [item for item in ready.circuit.variants if item.convention == convention]
        bent = {law for item in variants for law in (*item.removes, *(added[0] for added in item.adds))}
        words = next((item.words for item in variants if item.value == value), "")
        if words and laws & bent:
            rows.append(TableRow(f"convention: {convention.replace('-', ' ').replace('_', ' ')}", "", words))
    return rows


def _label(ready: ReadyLevel, key: str) -> str:
    return ready.level.labels.get(key, symbol_for(key).meaning)


def unbroken(text: str) -> str:
    """The text with no-break spaces, so that a line never ends between a symbol, its value and its unit."""
    return text.replace(" ", "\u00a0")


class _Texts(dict[str, str]):
    """What stands in place of the placeholders of one problem's texts, written when it is asked for."""

    def __init__(
        self, ready: ReadyLevel, drawn: Drawn, catalogues: Mapping[str, Catalogue], stock: Mapping[str, str]
    ) -> None:
        super().__init__(stock)
        self.env = drawn.run.env
        for place, item in drawn_parts(ready.level.draws):  # {type_zeners}; of a second zener {type_zeners_2}
            row = allowed_rows(item, catalogues, ready.where)[int(self.env[place][0])]
            self[place.replace("part_", "type_", 1)] = str(row["type"])

    def __missing__(self, key: str) -> str:
        if key not in self.env or not is_symbol(key):
            raise KeyError(key)
        return unbroken(f"${key}$ = {given(float(self.env[key][0]), symbol_for(key).unit).text}")


def _stock_texts(ready: ReadyLevel) -> dict[str, str]:
    """What there is to choose from, of every choice from stock."""
    texts: dict[str, str] = {}
    for ask in ready.level.asks:
        if isinstance(ask, Choose) and isinstance(ask.series, Stock):
            texts[f"stock_{ask.quantity}"] = _listed(ask.series.values, symbol_for(ask.quantity).unit)
        elif isinstance(ask, ChooseRating) and ask.stock is not None:
            texts[f"stock_{ask.key}"] = _listed(ask.stock.values, symbol_for(ask.key).unit)
    return texts


def _listed(values: tuple[float, ...], unit: str) -> str:
    """All that is in stock, the greatest first: 12, 8 and 5 K/W."""
    *firsts, last = (given(value, unit).text for value in sorted(values, reverse=True))
    plain = ", ".join(text.split(" ")[0] for text in firsts)
    return unbroken(f"{plain} and {last}") if plain else unbroken(last)


def _fill(text: str, texts: Mapping[str, str], where: str) -> str:
    """Placeholders in braces filled; formulas between dollar signs keep their braces."""
    pieces = text.split("$")
    for index in range(0, len(pieces), 2):
        try:
            pieces[index] = pieces[index].format_map(texts)
        except (KeyError, ValueError, IndexError) as error:
            raise BadFamily(
                f"{where}: the text '{text[:50]}…' has a placeholder that names nothing ({error})"
            ) from error
    return "$".join(pieces)


def _waypoint(ready: ReadyLevel, drawn: Drawn, index: int, others: Sequence[float]) -> Waypoint:
    """The waypoint of an ask; `others` are what it comes to under approximations that may be made."""
    ask = ready.level.asks[index]
    key, run = drawn.region.plan.keys[index], drawn.run
    if isinstance(ask, TellState):
        words = tuple(ready.circuit.region(region.plan.region).words for region in ready.regions)
        right = ready.circuit.region(run.region).words
        return Waypoint(key, WaypointKind.STATE, ask.prompt, None, 0.0, 0.0, (), words, right, ())
    if isinstance(ask, TellVerdict):
        words = tuple(dict.fromkeys(item.words for item in ask.verdicts))
        right = verdict_words(ask, run.env)
        return Waypoint(key, WaypointKind.STATE, ask.prompt, None, 0.0, 0.0, (), words, right, ())
    value = float(run.env[key][0])
    unit = symbol_for(key).unit
    if isinstance(ask, Choose | ChooseRating):
        fits = all_that_fit(ask, run.env) if isinstance(ask, Choose) else ratings_that_fit(ask, run.env)
        slips = tuple(slip for slip in _slips(ready, drawn, key) if slip.value not in fits)
        return Waypoint(key, WaypointKind.CHOICE, ask.prompt, given(value, unit), value, value, fits, (), "", slips)
    accepted = [value, *others]
    low, high = min(accepted) - TOLERANCE * abs(value), max(accepted) + TOLERANCE * abs(value)
    answer = Quantity(value, unit)
    return Waypoint(key, WaypointKind.VALUE, ask.prompt, answer, low, high, (), (), "", _slips(ready, drawn, key))


def _approximations(ready: ReadyLevel, drawns: Sequence[Drawn]) -> list[dict[int, list[float]]]:
    """What each value a draw asks for comes to under the approximations that the circuit declares, as far as its error
    stays in its limit, by the place of the ask; the draws of a region are run together."""
    found: list[dict[int, list[float]]] = [{} for _ in drawns]
    if not ready.approximate:
        return found
    regions: dict[str, list[int]] = {}
    for place, drawn in enumerate(drawns):
        regions.setdefault(drawn.run.region, []).append(place)
    for places in regions.values():
        first = drawns[places[0]]
        env = {key: np.concatenate([drawns[place].run.env[key] for place in places]) for key in first.run.env}
        for index in ready.level.asked_in(first.run.region):
            for variant, stages in ready.approximate:
                stage = stages[index]
                if stage is None:
                    continue
                right, other = env[first.region.plan.keys[index]], run(stage, env).value
                near = np.isfinite(other) & (np.abs(other - right) <= variant.limit * np.abs(right) * (1 + 1e-9))
                for row in np.flatnonzero(near).tolist():
                    found[places[row]].setdefault(index, []).append(float(other[row]))
    return found


def _slips(ready: ReadyLevel, drawn: Drawn, key: str) -> tuple[SlipValue, ...]:
    found = []
    for slip in ready.level.slips:
        if slip.at == key and slip.id in drawn.run.slips:
            value = float(drawn.run.slips[slip.id][0])
            if math.isfinite(value):
                found.append(SlipValue(slip.id, value, slip.name, slip.why, slip.hint))
    return tuple(found)
