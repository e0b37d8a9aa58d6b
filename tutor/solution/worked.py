"""A drawn problem worked as on paper: every ask in order, each with its reason, then the checks and the bench."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from tutor.bench.stored import LevelBands
from tutor.generate.choices import all_that_fit, ratings_that_fit, value_words
from tutor.generate.draws import Drawn
from tutor.generate.family import Choose, ChooseRating, RoundAway, Stock, TellState, TellVerdict, applies_in
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problem import Problem
from tutor.generate.run import INSIDE, StageOutcome
from tutor.generate.sampling import Environment
from tutor.generate.stage import Stage
from tutor.generate.verdicts import Margin, margins, verdict_words
from tutor.plan.plan import Plan
from tutor.quantities.expression import Expr, Num, Sym, Val, alike, substitute, symbols_of
from tutor.quantities.prose import listed
from tutor.quantities.quantity import EXACT_FIGURES, given, write
from tutor.quantities.symbols import symbol_for, without_end
from tutor.quantities.units import difference_unit
from tutor.solution.bands import NO_BANDS, BandWords, band_words, bands
from tutor.solution.checks import closing_checks
from tutor.solution.numbers import Writing
from tutor.solution.reasons import corner_reason, long_summits
from tutor.solution.solution import Chain, Solution, WorkedStep
from tutor.solution.steps import worked_step


def work(ready: ReadyLevel, drawn: Drawn, problem: Problem, expected: LevelBands = NO_BANDS) -> Solution:
    """The worked solution of a drawn problem; `expected` are the bands stored of its level."""
    beside = bands(expected, ready, drawn)
    steps: list[WorkedStep] = []
    for index, ask in enumerate(ready.level.asks):
        if applies_in(ask, drawn.run.region):
            steps += ask_steps(ready, drawn, index, beside, steps)
    shown = {step.waypoint: beside[step.waypoint] for step in steps if step.band}
    bench = band_words(ready.level, shown) + ready.level.bench
    return Solution(problem.name, tuple(steps), closing_checks(ready, drawn), _sentence(bench), (), problem.cautions)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def ask_steps(
    ready: ReadyLevel, drawn: Drawn, index: int, beside: Mapping[str, BandWords], before: Sequence[WorkedStep]
) -> list[WorkedStep]:
    """The steps of one ask after the steps `before`; `beside` are the bands on a bench, by key."""
    ask, key = ready.level.asks[index], drawn.region.plan.keys[index]
    stage, outcome = drawn.region.plan.asks[index], drawn.run.outcomes[index]
    if stage is not None and outcome is not None:
        return _stage_steps(ready, drawn, stage, outcome, key, beside.get(key), before)
    if isinstance(ask, Choose):
        return [_choice_step(drawn, ask, key)]
    if isinstance(ask, ChooseRating):
        return [_rating_step(drawn, ask, key)]
    if isinstance(ask, TellVerdict):
        return [_verdict_step(drawn, ask, key)]
    assert isinstance(ask, TellState)
    return [_state_step(ready, drawn, ask, key)]


def writing_of(ready: ReadyLevel, drawn: Drawn, stage: Stage, outcome: StageOutcome, key: str) -> Writing:
    """Names and numbers of a stage at the corner it took."""
    names: dict[str, Expr] = {}
    exact: set[str] = set()
    for base, expr in stage.inputs:
        names[base] = expr
        if isinstance(expr, Num) or (isinstance(expr, Sym) and _is_exact(ready, expr.name)):
            exact.add(base)
    for base in stage.box:
        end = int(outcome.ends[base][0])
        if end != INSIDE:
            names[base] = Sym(f"{base}_{'MIN' if end == 0 else 'MAX'}")
            exact.add(base)
    values = {name: float(value[0]) for name, value in outcome.bases.items()}
    values |= {name: float(value[0]) for name, value in outcome.steps.items()}
    names[stage.quantity] = Sym(key)
    return Writing(names, values, frozenset(exact), in_full=True)


def _is_exact(ready: ReadyLevel, key: str) -> bool:
    asks = ready.level.asks
    return key in ready.level.given or any(isinstance(ask, Choose) and ask.quantity == key for ask in asks)


def _stage_steps(
    ready: ReadyLevel, drawn: Drawn, stage: Stage, outcome: StageOutcome, key: str, band: BandWords | None,
    before: Sequence[WorkedStep],
) -> list[WorkedStep]:
    writing = writing_of(ready, drawn, stage, outcome, key)
    steps, known = _steps_not_taken_yet(stage.plan, writing, before)
    why, summits = _corner_told(ready, drawn, stage, outcome, writing) if stage.box else ("", ())
    if why or summits or known:
        told = " ".join(part for part in (why or steps[0].why, known) if part)
        steps[0] = replace(steps[0], why=told, chains=(*summits, *steps[0].chains))
    text, by = ("", "") if band is None else (band.text, band.by.value)
    steps[-1] = replace(steps[-1], waypoint=key, band=text, band_by=by)
    return steps


def _corner_told(
    ready: ReadyLevel, drawn: Drawn, stage: Stage, outcome: StageOutcome, writing: Writing
) -> tuple[str, tuple[Chain, ...]]:
    """Why a stage took its corner, and a line for each place inside a range that is too long for the sentence."""
    ends = {base: int(end[0]) for base, end in outcome.ends.items()}
    values = {**{name: float(value[0]) for name, value in drawn.run.env.items()}, **writing.values}
    summits = tuple(
        Chain(Sym(base), (("=", substitute(expr, writing.names)), ("=", Val(values[base], symbol_for(base).unit, 3))))
        for base, expr in long_summits(stage, ends, values).items()
    )
    return corner_reason(ready.circuit, stage, ends, values), summits


def _steps_not_taken_yet(
    plan: Plan, writing: Writing, before: Sequence[WorkedStep]
) -> tuple[list[WorkedStep], str]:
    """The steps of a plan without those worked before, line for line, and where those of use stand.

    What such a step gave keeps the name it got there.
    """
    steps: list[WorkedStep] = []
    stands: dict[str, int] = {}
    given_before = _places_by_name(before) if len(plan.steps) > 1 else {}
    for step in plan.steps:
        worked = worked_step(step, writing)
        places = given_before.get(without_end(step.target), ())
        place = None if step is plan.steps[-1] else _place_of_same(worked, before, places)
        if place is None:
            steps.append(worked)
        else:
            name = before[place].chains[-1].first
            writing = replace(writing, names={**writing.names, step.target: name})
            stands[_name_given(before[place])] = place + 1
    if not stands:
        return steps, ""
    # What a line uses stands in letters on its first side.
    used = {name for step in steps for chain in step.chains for name in symbols_of(chain.rest[0][1])}
    numbered = [(name, number) for name, number in stands.items() if name in used]
    told = [f"${name}$ {'that' if index else 'is that'} of step {n}" for index, (name, n) in enumerate(numbered)]
    return steps, f"{listed(told)}." if told else ""


def _places_by_name(steps: Sequence[WorkedStep]) -> dict[str, list[int]]:
    """At which places the steps that give a quantity stand, at whichever corner."""
    found: dict[str, list[int]] = {}
    for place, step in enumerate(steps):
        name = _name_given(step)
        if name:
            found.setdefault(without_end(name), []).append(place)
    return found


def _place_of_same(worked: WorkedStep, before: Sequence[WorkedStep], places: Sequence[int]) -> int | None:
    """The place among `places` of a step that used the same law on the same numbers, or None.

    Under a plain name it must be the latest of that name: another may have been worked at another corner since.
    """
    for place in reversed(places):
        one = before[place]
        if one.law == worked.law and _same_lines(one, worked):
            return place
        name = _name_given(one)
        if name == without_end(name):
            return None
    return None


def _same_lines(one: WorkedStep, other: WorkedStep) -> bool:
    """Whether two steps write the same: a value taken from an answer is rounded where the same one, worked again, is
    not."""
    if len(one.chains) != len(other.chains):
        return False
    pairs = zip(one.chains, other.chains, strict=True)
    return all(len(left.rest) == len(right.rest) and _same_sides(left, right) for left, right in pairs)


def _same_sides(one: Chain, other: Chain) -> bool:
    # From the result back: at another corner it is that which differs.
    pairs = zip(reversed(one.rest), reversed(other.rest), strict=True)
    return all(sign == mark and alike(left, right, _same_leaf) for (sign, left), (mark, right) in pairs)


def _same_leaf(one: Expr, other: Expr) -> bool:
    if isinstance(one, Val) and isinstance(other, Val):
        if (one.unit, one.figures) != (other.unit, other.figures):
            return False
        return one.value == other.value or _rounded(one) == _rounded(other)
    return one == other


def _rounded(number: Val) -> float:
    return float(f"{number.value:.10g}")


def _name_given(step: WorkedStep) -> str:
    first = step.chains[-1].first
    return first.name if isinstance(first, Sym) else ""


def _choice_step(drawn: Drawn, ask: Choose, key: str) -> WorkedStep:
    env = drawn.run.env
    value, unit = float(env[key][0]), symbol_for(key).unit
    fits = all_that_fit(ask, env)
    spread = float(env[ask.tolerance][0]) if ask.tolerance else 0.0
    if ask.near:
        wish = write(float(env[ask.near][0]), unit)
        told = f"Of the {value_words(ask.series)}s {write(value, unit)} lies nearest to {wish}"
    else:
        within = f"whose {write(spread, '%')} band lies" if spread else "that lies"
        told = f"Any {value_words(ask.series)} {within} {_between(ask, env, unit)} meets the specification"
        if ask.low and ask.high:
            told += f": {_span(fits, unit, spread)}"
    chain = Chain(Sym(key), (("=", Val(value, unit, EXACT_FIGURES)),))
    reason = f"{told}; {ask.why}." if len(fits) > 1 or ask.near else f"{told}; it is the only one."
    if isinstance(ask.series, Stock):
        reason += f" That is the one described as: {ask.series.description(value)}."
    return WorkedStep(
        f"Choice: {ask.prompt}", reason, (chain,), _neighbours(drawn, key, unit), "", key, given(value, unit), ""
    )


def _between(ask: Choose, env: Environment, unit: str) -> str:
    """The bounds of a choice in words: both, or the one there is."""
    low, high = (write(float(env[name][0]), unit) if name else "" for name in (ask.low, ask.high))
    if low and high:
        return f"between {low} and {high}"
    return f"at or above {low}" if low else f"at or below {high}"


def _span(fits: tuple[float, ...], unit: str, spread: float) -> str:
    def told(value: float) -> str:
        if not spread:
            return write(value, unit)
        return f"{write(value, unit)} ({write(value * (1 - spread), unit)} to {write(value * (1 + spread), unit)})"

    return told(fits[0]) if len(fits) == 1 else f"{told(fits[0])} to {told(fits[-1])}"


def _neighbours(drawn: Drawn, key: str, unit: str) -> str:
    """What rounding past a bound would do, when a slip of the family says so."""
    for slip, _, _, _ in drawn.region.slips:
        if slip.at == key and slip.id in drawn.run.slips and isinstance(slip.edit, RoundAway):
            way = "up" if slip.edit.above else "down"
            wrong = float(drawn.run.slips[slip.id][0])
            return f"Rounding {way} to {write(wrong, unit)} would pass the bound. {slip.why}"
    return ""


def _rating_step(drawn: Drawn, ask: ChooseRating, key: str) -> WorkedStep:
    env = drawn.run.env
    value, unit = float(env[key][0]), symbol_for(key).unit
    load = float(env[ask.load][0])
    fits = ratings_that_fit(ask, env)
    needed = write(load * ask.margin, unit)
    needed = needed if ask.margin == 1 else f"{ask.margin:g} × {write(load, unit)} = {needed}"
    told = (
        f"{ask.why[:1].upper()}{ask.why[1:]}: {needed}. "
        f"The smallest rating on the shelf that reaches it is {write(fits[0], unit)}."
    )
    chain = Chain(Sym(key), (("=", Val(value, unit, EXACT_FIGURES)),))
    return WorkedStep(f"Choice: {ask.prompt}", told, (chain,), "", "", key, given(value, unit), "")


def _state_step(ready: ReadyLevel, drawn: Drawn, ask: TellState, key: str) -> WorkedStep:
    env = drawn.run.env
    unit = symbol_for(ask.quantity).unit
    found, limit = float(env[ask.quantity][0]), float(env[ask.limit][0])
    above = found > limit
    relation = ">" if above else "<"
    told = Val(limit, unit, EXACT_FIGURES)
    chain = Chain(Sym(ask.quantity), (("=", Val(found, unit)), (relation, Sym(ask.limit)), ("=", told)))
    why = (
        f"Left alone the node would rise past ${ask.limit}$, so current flows and holds it there"
        if above
        else f"Left alone the node stays under ${ask.limit}$, so no current flows in it and nothing is held"
    )
    words = ready.circuit.region(drawn.run.region).words
    return WorkedStep("The test", f"{why}.", (chain,), f"So {words}.", "", key, None, "")


def _verdict_step(drawn: Drawn, ask: TellVerdict, key: str) -> WorkedStep:
    """The table of margins, a line and a margin for each demand, and what it comes to."""
    rows = margins(ask, drawn.run.env)
    chains = tuple(_against_limit(row) for row in rows)
    told = "; ".join(f"{row.words}: {_margin_words(row)}" for row in rows)
    said = verdict_words(ask, drawn.run.env)
    return WorkedStep(
        "The table of margins", f"{ask.why} The margins: {told}.", chains, f"So {said}.", "", key, None, ""
    )


def _against_limit(row: Margin) -> Chain:
    relation = ">" if row.value > row.limit else "<"
    unit = symbol_for(row.key).unit
    # A limit that is told stands as it is told; one that was worked out is written like any result.
    limit = Val(row.limit, unit, EXACT_FIGURES) if float(f"{row.limit:.4g}") == row.limit else Val(row.limit, unit)
    return Chain(Sym(row.key), (("=", Val(row.value, unit)), (relation, Sym(row.limit_key)), ("=", limit)))


def _margin_words(row: Margin) -> str:
    return f"{write(abs(row.spare), difference_unit(symbol_for(row.key).unit))} {'to spare' if row.met else 'missing'}"
