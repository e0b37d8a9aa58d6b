"""Bench bands: whatever the parts of a problem come to inside their spreads, its results stay inside their bands."""

from __future__ import annotations

import re
from functools import cache

import numpy as np
import pytest

import tutor
from tutor.generate.draws import Drawn
from tutor.generate.level_run import ReadyLevel
from tutor.generate.run import run
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import symbol_for
from tutor.solution.bands import band_words, bands
from tutor.solution.desk import WorkedProblem

LEVELS = [
    (family, level)
    for family in tutor.families()
    for level in (1, 2, 3)
    if tutor.open_desk().family(family).levels[level - 1].band
]
SEED = 7
UNITS = 120  # parts drawn inside their spreads, for each problem


@cache
def batch(family: str, level: int) -> tuple[ReadyLevel, list[WorkedProblem]]:
    desk = tutor.open_desk()
    ready = desk.level(family, level)
    return ready, desk.batch(ready, range(1, 21))


def printed(text: str, unit: str) -> tuple[float, float]:
    """The value of a printed quantity, and half a unit in its last figure."""
    value = read_quantity(text, unit).value
    digits = re.match(r"−?[0-9.]+", text)
    assert value is not None and digits is not None, text
    number = digits.group().lstrip("−")
    half = 0.5 * 10 ** -len(number.partition(".")[2])
    return value, abs(value) * half / float(number)


def results(ready: ReadyLevel, drawn: Drawn, source: np.random.Generator) -> dict[str, np.ndarray]:
    """Every result for parts drawn anywhere in their spreads; later asks lean on the results before them."""
    env = {key: np.repeat(value, UNITS) for key, value in drawn.run.env.items()}
    for key, spread in ready.level.band.items():
        env[key] = env[key] * (1 + source.uniform(-spread, spread, UNITS))
    found = {}
    for key, stage in zip(drawn.region.plan.keys, drawn.region.asks, strict=True):
        if stage is not None and key in drawn.run.env:
            env[key] = found[key] = np.array(run(stage, env).value)
    return found


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_results_stay_inside_their_bands(family: str, level: int):
    """A band reaches from the least to the greatest; a power that peaks between the ends is in it too."""
    ready, problems = batch(family, level)
    source = np.random.default_rng(SEED)
    seen = 0
    for worked in problems:
        told = bands(ready, worked.drawn)
        for key, values in results(ready, worked.drawn, source).items():
            if key not in told:
                continue
            unit = symbol_for(key).unit
            (low, under), (high, over) = (printed(text, unit) for text in told[key].split(" to "))
            where = f"seed {SEED}, {worked.problem.name}: {key} {told[key]}, but {values.min()} to {values.max()}"
            room = 0.002 * abs(high)  # a peak between two places of the grid
            assert values.min() >= low - under - room and values.max() <= high + over + room, where
            assert min(low, high) < max(low, high), where
            seen += 1
    assert seen >= len(problems)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_the_answer_lies_in_its_own_band(family: str, level: int):
    """The nominal result is one of those that the bench may show, and the step that reaches it carries the band."""
    ready, problems = batch(family, level)
    for worked in problems:
        told = bands(ready, worked.drawn)
        for key, text in told.items():
            unit = symbol_for(key).unit
            (low, under), (high, over) = (printed(end, unit) for end in text.split(" to "))
            value = float(worked.drawn.run.env[key][0])
            assert low - under <= value <= high + over, (worked.problem.name, key, text)
        shown = {step.waypoint: step.band for step in worked.solution.steps if step.waypoint}
        assert {key: text for key, text in told.items() if key in shown} == {
            key: band for key, band in shown.items() if band
        }


def test_a_band_by_hand():
    """I_ZM = 0.5 W/13 V with a zener of 5 %: from 0.5/13.65 = 36.6 mA to 0.5/12.35 = 40.5 mA."""
    steps = tutor.problem("follower-design:2:1").solution.steps
    (band,) = [step.band for step in steps if step.waypoint == "I_ZM"]
    assert band == "36.6 mA to 40.5 mA"


def test_what_the_spreads_do_not_move_has_no_band():
    """A preferred value stays; so does what no spread part reaches."""
    steps = tutor.problem("follower-design:2:1").solution.steps
    assert [step.band for step in steps if step.waypoint in ("R", "P_RM")] == ["", ""]


def test_the_clause_names_every_spread():
    """`V_Z 5 % and R 5 % either way`; nothing where a level names none."""
    desk = tutor.open_desk()
    assert band_words(desk.family("zener-state").levels[1]) == (
        "the bands beside the results allow for $V_Z$ 5 % and $R$ 5 % either way; "
    )
    assert band_words(desk.family("follower-state").levels[0]).count(",") == 1
    assert band_words(desk.family("zener-resistor").levels[2]) == ""
