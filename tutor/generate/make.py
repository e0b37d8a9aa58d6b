"""A draw -> the Problem a learner sees: wording, table of data, waypoints with what is right and where slips lead."""

from __future__ import annotations

import math
from collections.abc import Mapping

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


def make_problem(
    ready: ReadyLevel, drawn: Drawn, catalogues: Mapping[str, Catalogue], assumed: Mapping[str, str]
) -> Problem:
    """The problem a draw makes. Raises BadFamily when a placeholder names nothing."""
    level, family = ready.level, ready.family
    texts = _placeholders(ready, drawn, catalogues)
    name = ProblemName(family.id, ready.number, drawn.number, 0, assumed)
    quantities = {key: given(float(drawn.run.env[key][0]), symbol_for(key).unit) for key in level.given}
    told = f"{_scenario(ready, drawn.number)} {level.data}"
    asks = [(index, ask) for index, ask in enumerate(level.asks) if ask.region in ("", drawn.run.region)]
    shown = [(index, ask) for index, ask in asks if ask.shown]
    waypoints = tuple(_waypoint(ready, drawn, index) for index, _ in shown)
    return Problem(
        name=str(name),
        family=family.id,
        level=ready.number,
        number=drawn.number,
        edition=family.edition,
        title=family.title,
        circuit=family.circuit,
        form=ready.circuit.form,
        statement=_fill(told, texts, ready.where),
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


def _scenario(ready: ReadyLevel, number: int) -> str:
    """The wording of a number: all of a family's in turn, in an order of its own for each run of them."""
    scenarios = ready.family.scenarios
    one = np.array([number], dtype=np.uint64)
    index = int(choose(bits(stream_key(ready), one, np.zeros(1, dtype=np.uint64), _SCENARIO_SLOT), len(scenarios))[0])
    return scenarios[index]


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


def _placeholders(ready: ReadyLevel, drawn: Drawn, catalogues: Mapping[str, Catalogue]) -> dict[str, str]:
    texts: dict[str, str] = {}
    for key, values in drawn.run.env.items():
        if is_symbol(key):
            texts[key] = unbroken(f"${key}$ = {given(float(values[0]), symbol_for(key).unit).text}")
    for ask in ready.level.asks:
        if isinstance(ask, Choose) and isinstance(ask.series, Stock):
            texts[f"stock_{ask.quantity}"] = _listed(ask.series.values, symbol_for(ask.quantity).unit)
        elif isinstance(ask, ChooseRating) and ask.stock is not None:
            texts[f"stock_{ask.key}"] = _listed(ask.stock.values, symbol_for(ask.key).unit)
    for place, item in drawn_parts(ready.level.draws):  # {type_zeners}; of a second zener {type_zeners_2}
        row = allowed_rows(item, catalogues, ready.where)[int(drawn.run.env[place][0])]
        texts[place.replace("part_", "type_", 1)] = str(row["type"])
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
            pieces[index] = pieces[index].format_map(dict(texts))
        except (KeyError, ValueError, IndexError) as error:
            raise BadFamily(
                f"{where}: the text '{text[:50]}…' has a placeholder that names nothing ({error})"
            ) from error
    return "$".join(pieces)


def _waypoint(ready: ReadyLevel, drawn: Drawn, index: int) -> Waypoint:
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
    accepted = [value, *_approximations(ready, drawn, index, value)]
    low, high = min(accepted) - TOLERANCE * abs(value), max(accepted) + TOLERANCE * abs(value)
    answer = Quantity(value, unit)
    return Waypoint(key, WaypointKind.VALUE, ask.prompt, answer, low, high, (), (), "", _slips(ready, drawn, key))


def _approximations(ready: ReadyLevel, drawn: Drawn, index: int, value: float) -> list[float]:
    """What the ask comes to under each approximation the circuit declares, as far as its error stays in its limit."""
    found: list[float] = []
    for variant, stages in ready.approximate:
        stage = stages[index]
        if stage is None:
            continue
        other = float(run(stage, drawn.run.env).value[0])
        if math.isfinite(other) and abs(other - value) <= variant.limit * abs(value) * (1 + 1e-9):
            found.append(other)
    return found


def _slips(ready: ReadyLevel, drawn: Drawn, key: str) -> tuple[SlipValue, ...]:
    found = []
    for slip in ready.level.slips:
        if slip.at == key and slip.id in drawn.run.slips:
            value = float(drawn.run.slips[slip.id][0])
            if math.isfinite(value):
                found.append(SlipValue(slip.id, value, slip.name, slip.why, slip.hint))
    return tuple(found)
