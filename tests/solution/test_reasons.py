"""Why this corner: every sentence names the ends that were taken, and slopes whose signs say so."""

from __future__ import annotations

import re

import pytest

import tutor
from tutor.generate.draws import Drawn
from tutor.generate.level_run import ReadyLevel
from tutor.generate.run import INSIDE, StageOutcome
from tutor.generate.stage import Stage
from tutor.quantities.expression import evaluate
from tutor.quantities.formula import read_expression
from tutor.solution.desk import Desk, WorkedProblem
from tutor.solution.reasons import corner_reason
from tutor.solution.worked import writing_of

SUMMIT = re.compile(r"\$(\w+) = ([^$]+)\$ = [^$]+, inside its range")
RANGING = [
    (family, level)
    for family in tutor.families()
    for level in (1, 2, 3)
    if tutor.open_desk().family(family).levels[level - 1].ranges
]
NUMBERS = range(1, 101)
WITH_SUMMITS = {("pass-heat", 2), ("pass-heat", 3)}  # some draws have the greatest heat inside the range of the load


def stages(ready: ReadyLevel, drawn: Drawn) -> list[tuple[str, Stage, StageOutcome]]:
    """The asks of a problem at which something ranges, with what they came to."""
    found = []
    for key, stage, outcome in zip(drawn.region.plan.keys, drawn.region.plan.asks, drawn.run.outcomes, strict=True):
        if stage is not None and outcome is not None and stage.box:
            found.append((key, stage, outcome))
    return found


def values_at(ready: ReadyLevel, drawn: Drawn, stage: Stage, outcome: StageOutcome, key: str) -> dict[str, float]:
    drawn_values = {name: float(value[0]) for name, value in drawn.run.env.items()}
    return {**drawn_values, **writing_of(ready, drawn, stage, outcome, key).values}


def batch(family: str, level: int) -> tuple[ReadyLevel, list[WorkedProblem]]:
    desk: Desk = tutor.open_desk()
    ready = desk.level(family, level)
    return ready, desk.batch(ready, NUMBERS)


@pytest.mark.parametrize(("family", "level"), RANGING)
def test_the_signs_told_are_the_signs_of_the_corner(family: str, level: int):
    """At a greatest value the upper end goes with a rising slope, the lower with a falling one; at a least value the
    other way; inside the range the slope is nothing; and the sentence says of each what it is."""
    ready, problems = batch(family, level)
    told = summits = 0
    for worked in problems:
        for key, stage, outcome in stages(ready, worked.drawn):
            values = values_at(ready, worked.drawn, stage, outcome, key)
            ends = {base: int(end[0]) for base, end in outcome.ends.items()}
            sentence = corner_reason(ready.circuit, stage, ends, values)
            for base, slope in stage.slopes:
                size = evaluate(slope, values)
                words = ready.circuit.end_words(base, greatest=ends[base] == 1)
                where = f"{worked.problem.name}, {key}: {sentence}"
                if ends[base] == INSIDE:
                    assert f"${{{stage.watched} by {base}}}$ passes through zero there" in sentence, where
                    assert size == pytest.approx(0, abs=1e-9), where
                    place = SUMMIT.search(sentence)
                    if place is not None and place[1] == base:
                        known = {**values, **({stage.limit: values[stage.watched]} if stage.limit in values else {})}
                        found = evaluate(read_expression(place[2]), known)
                        assert found == pytest.approx(float(outcome.bases[base][0]), rel=1e-9), where
                        summits += 1
                elif size == 0:
                    assert words not in sentence and f"by {base}}}" not in sentence, where
                else:
                    assert ((ends[base] == 1) == stage.watched_greatest) == (size > 0), where
                    assert words in sentence, where
                    assert _sign_told(sentence, stage.watched, base) == (size > 0), where
                told += 1
    assert told >= len(problems)
    assert summits or (family, level) not in WITH_SUMMITS


def _sign_told(sentence: str, watched: str, base: str) -> bool:
    """Whether the sentence calls a slope positive; it must call it something."""
    after = sentence.split(f"${{{watched} by {base}}}", 1)[1]
    if after.startswith((" > 0$", " < 0$")):
        return after.startswith(" > 0$")
    first = after.split("$", 1)[1].split()[1].strip(",.")
    assert first in ("positive", "negative"), sentence
    return first == "positive"


@pytest.mark.parametrize(("family", "level"), RANGING)
def test_the_corner_taken_is_the_worst_there_is(family: str, level: int):
    """No point of a grid over the box is worse than the corner that was taken."""
    ready, problems = batch(family, level)
    for worked in problems[:25]:
        for key, stage, outcome in stages(ready, worked.drawn):
            if stage.watched != stage.quantity or any(int(end[0]) == INSIDE for end in outcome.ends.values()):
                continue
            index = worked.drawn.region.plan.keys.index(key)
            runnable = worked.drawn.region.asks[index]
            assert runnable is not None
            here = {name: float(value[0]) for name, value in outcome.bases.items()}
            for base in stage.box:
                low, high = (float(worked.drawn.run.env[f"{base}_{end}"][0]) for end in ("MIN", "MAX"))
                for place in (0.0, 0.25, 0.5, 0.75, 1.0):
                    moved = {**here, base: low + (high - low) * place}
                    value = runnable.program.run({name: moved[name] for name in runnable.program.inputs})[
                        stage.quantity
                    ]
                    slack = 1e-9 * abs(float(outcome.value[0]))
                    if stage.greatest:
                        assert value <= outcome.value[0] + slack, f"{worked.problem.name}, {key}, {base}"
                    else:
                        assert value >= outcome.value[0] - slack, f"{worked.problem.name}, {key}, {base}"


def test_some_draws_have_their_worst_case_inside_a_range():
    """The power of a zener that may lie either side of half the line peaks at V_I/2: some problems contain it."""
    ready, problems = batch("zener-resistor", 3)
    inside = [
        worked.problem.name
        for worked in problems
        for key, _, outcome in stages(ready, worked.drawn)
        if key == "R_MIN" and int(outcome.ends["V_Z"][0]) == INSIDE
    ]
    assert inside
    told = tutor.problem(inside[0]).solution.steps
    assert any("inside its range, because" in step.why and "passes through zero there" in step.why for step in told)


def test_an_unplugged_load_makes_the_gain_no_matter():
    """Without load current no gain is worse than another, and none is named (zener-resistor's like:
    follower-design)."""
    steps = tutor.problem("follower-design:2:1").solution.steps
    told = [step.why for step in steps if step.why.startswith("$I_Z$ is greatest")]
    assert told == [
        "$I_Z$ is greatest at the highest line and the lightest load, because ${I_Z by V_I} = 1/R$ is positive and "
        "${I_Z by I_L} = -1/(h_FE + 1)$ is negative."
    ]


def test_a_stage_where_nothing_ranges_needs_no_reason():
    """One corner only: no sentence."""
    desk = tutor.open_desk()
    ready = desk.level("zener-state", 2)
    (worked,) = desk.batch(ready, [1])
    assert stages(ready, worked.drawn) == []
    stage = next(item for item in worked.drawn.region.plan.asks if item is not None)
    assert corner_reason(ready.circuit, stage, {}, {}) == ""
