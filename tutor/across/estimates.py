"""An estimate before any working: about how much, within a factor of two, in the head.

Sums and differences are taken first, then every number is rounded to one figure, and so is each result: that is how it
is done in the head, and that it comes within the factor is a condition of the draw. The relations are the base
problem's own plan.
Place in the data flow: places + draws -> base problem -> one of its quantities, roughly and in full -> Posed.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tutor.across.base_problem import BaseProblem, drawn_base, problem_about
from tutor.across.family import Posed, Refused, Setting
from tutor.across.in_the_head import StepRelation, one_figure, rough, way_to
from tutor.across.points import state_point, worded_step
from tutor.across.stream import Stream
from tutor.errors import BadFormula
from tutor.generate.family import Find, FindBound, FindExtreme
from tutor.generate.problem import Problem, Remark, SlipValue, Waypoint, WaypointKind
from tutor.generate.run import INSIDE, StageOutcome
from tutor.generate.stage import Stage
from tutor.quantities.expression import LEAVES, Add, Expr, Sym, Val, evaluate, substitute
from tutor.quantities.expression import symbols_of as names_in
from tutor.quantities.prose import listed
from tutor.quantities.quantity import EXACT_FIGURES, Quantity, write
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.solution.reasons import corner_reason
from tutor.solution.solution import Chain, Check, Solution, WorkedStep

FACTOR = 2.0  # an estimate within this factor of the value is right
SORTS = ("R", "P", "C", "I")  # of quantities that are estimated, by the letter they begin with
CORNER = "corner"  # key of the corner asked for
MOST_CORNERS = 4
THOUSAND = 1000.0


@dataclass(frozen=True)
class LostPrefix:
    """A prefix lost: givens in `unit` from `least` to below `most` (SI) taken for `factor` times themselves, or the
    result where none of the givens is such."""

    id: str
    unit: str
    least: float
    most: float
    factor: float
    name: str
    why: str
    hint: str


@dataclass(frozen=True)
class Estimate:
    """A level: quantities at `places` that take `fewest` to `most` relations, at a worst `corner` or not."""

    about: str
    places: tuple[str, ...]
    fewest: int
    most: int
    slips: tuple[LostPrefix, ...]
    corner: bool = False

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        base = drawn_base(setting, stream, self.places)
        found: Posed | Refused = Refused("nothing of the kind is asked there")
        for index in stream.order("quantity", _candidates(base)):
            found = self._of(setting, stream, base, index)
            if isinstance(found, Posed):
                break
        return found

    def _of(self, setting: Setting, stream: Stream, base: BaseProblem, index: int) -> Posed | Refused:
        stage = base.drawn.region.plan.asks[index]
        assert stage is not None
        chain = way_to(base, index)
        if chain is None:
            return Refused("it rests on a choice, or on no plain chain of relations")
        if not self.fewest <= sum(not isinstance(item.expr, LEAVES) for item in chain) <= self.most:
            return Refused("too many relations, or too few")
        corners = _corners(base, index)
        if self.corner != (len(corners) > 1) or len(corners) > MOST_CORNERS:
            return Refused("another number of corners")
        sought = _Sought(base, index, chain)
        if any(int(end[0]) == INSIDE for end in _ends(base, index)[1].ends.values()):
            return Refused("a worst place inside a range")
        if not sought.right > 0 or not math.isclose(sought.exactly({})[sought.key], sought.right, rel_tol=1e-6):
            return Refused("no positive value")
        roughly = sought.roughly()
        if roughly is None or not sought.right / FACTOR <= roughly[-1][1] <= sought.right * FACTOR:
            return Refused("one figure does not come within the factor")
        slips = tuple(_lost(sought, self.slips))
        if not slips:
            return Refused("no prefix to lose")
        return _posed(setting, sought, roughly, slips, stream.order("corners", corners))


@dataclass(frozen=True)
class _Sought:
    """A quantity of a base problem and the relations that lead to it from what is given."""

    base: BaseProblem
    index: int
    way: tuple[StepRelation, ...]

    @property
    def key(self) -> str:
        """The key of what is estimated."""
        return self.base.drawn.region.plan.keys[self.index]

    @property
    def point(self) -> Waypoint:
        """The base problem's waypoint for it."""
        return next(point for point in self.base.problem.waypoints if point.key == self.key)

    @property
    def right(self) -> float:
        """Its value (SI)."""
        return float(self.base.drawn.run.env[self.key][0])

    @property
    def given(self) -> dict[str, float]:
        """The numbers that the relations start from, by key (SI)."""
        env = self.base.drawn.run.env
        found = {item.name for item in self.way}
        names = {name for item in self.way for name in names_in(item.expr) if name not in found}
        return {name: float(env[name][0]) for name in sorted(names)}

    def exactly(self, changed: Mapping[str, float]) -> dict[str, float]:
        """Every value on the way, with some of the numbers changed; nan where there is none."""
        values = {**self.given, **changed}
        for item in self.way:
            try:
                values[item.name] = float(evaluate(item.expr, values))
            except ArithmeticError:
                values[item.name] = math.nan
        return values

    def roughly(self) -> list[tuple[Expr, float]] | None:
        """For each relation the numbers as they are taken in the head, and what they come to; None where to nothing."""
        values = self.given
        found = []
        for item in self.way:
            try:
                numbers = rough(item.expr, values)
                value = one_figure(float(evaluate(numbers, {})))
            except (ArithmeticError, BadFormula):
                return None
            if value == 0:
                return None
            values[item.name] = value
            found.append((numbers, value))
        return found


def _candidates(base: BaseProblem) -> list[int]:
    """The asks of the sorts that are estimated, and shown."""
    shown = {point.key for point in base.problem.waypoints if point.kind is WaypointKind.VALUE}
    plan, level = base.drawn.region.plan, base.ready.level
    return [
        index
        for index, ask in enumerate(level.asks)
        if isinstance(ask, Find | FindExtreme | FindBound)
        and plan.asks[index] is not None
        and base.drawn.run.outcomes[index] is not None
        and plan.keys[index] in shown
        and plan.keys[index][0] in SORTS
        and plan.keys[index].partition("_")[0] in SORTS
    ]


def _ends(base: BaseProblem, index: int) -> tuple[Stage, StageOutcome, tuple[str, ...]]:
    """The stage of an ask, what it came to, and which of its ranging quantities move it."""
    stage, outcome = base.drawn.region.plan.asks[index], base.drawn.run.outcomes[index]
    assert stage is not None and outcome is not None
    moving = []
    for name in stage.box:
        slope = dict(stage.slopes).get(name)
        values = {key: float(value[0]) for key, value in {**outcome.bases, **outcome.steps}.items()}
        try:
            flat = slope is not None and evaluate(slope, values) == 0
        except (KeyError, ArithmeticError):
            flat = False
        if not flat:
            moving.append(name)
    return stage, outcome, tuple(moving)


def _corners(base: BaseProblem, index: int) -> tuple[str, ...]:
    """Every corner in words, the right one first; one alone where nothing ranges."""
    _, outcome, moving = _ends(base, index)
    right = tuple(int(outcome.ends[name][0]) for name in moving)
    others = [ends for ends in itertools.product((0, 1), repeat=len(moving)) if ends != right]
    return tuple(_corner_words(base, moving, ends) for ends in (right, *others))


def _corner_words(base: BaseProblem, moving: Sequence[str], ends: Sequence[int]) -> str:
    words = base.ready.circuit.end_words
    return listed([words(name, greatest=end == 1) for name, end in zip(moving, ends, strict=True)])


def _lost(sought: _Sought, slips: Sequence[LostPrefix]) -> Iterator[SlipValue]:
    """What each lost prefix would make of the value, where it takes it out of the band."""
    for slip in slips:
        changed = {
            name: value * slip.factor
            for name, value in sought.given.items()
            if is_symbol(name) and symbol_for(name).unit == slip.unit and slip.least <= value < slip.most
        }
        value = sought.exactly(changed)[sought.key] if changed else math.nan
        if not changed and symbol_for(sought.key).unit == slip.unit and slip.least <= sought.right < slip.most:
            value = sought.right * slip.factor
        if math.isfinite(value) and value > 0 and not sought.right / FACTOR**2 <= value <= sought.right * FACTOR**2:
            yield SlipValue(slip.id, value, slip.name, slip.why, slip.hint)


def _posed(
    setting: Setting, sought: _Sought, roughly: Sequence[tuple[Expr, float]], slips: tuple[SlipValue, ...],
    corners: tuple[str, ...],
) -> Posed:  # fmt: skip
    base, key, point = sought.base, sought.key, sought.point
    assert point.answer is not None
    first = "Say first at which corner it lies. " if len(corners) > 1 else ""
    amount = replace(
        point,
        prompt=f"about how much: {point.prompt}",
        answer=Quantity(sought.right, point.answer.unit),
        low=sought.right / FACTOR,
        high=sought.right * FACTOR,
        slips=slips,
    )
    waypoints = (_corner_point(sought, corners), amount) if len(corners) > 1 else (amount,)
    problem = problem_about(
        setting,
        base,
        told=f"The problem in hand: {base.problem.statement}",
        ask=f"Before anything is worked out, estimate ${key}$ in your head: {point.prompt}. {first}One significant "
        "figure is enough, and whatever lies within a factor of two is right.",
        waypoints=waypoints,
    )
    # No sheet: against it an estimate would be a wrong value.
    return Posed(problem, _solution(sought, problem, roughly, corners))


def _corner_point(sought: _Sought, corners: tuple[str, ...]) -> Waypoint:
    right = _corners(sought.base, sought.index)[0]
    remarks = [_of_corner(sought, option) for option in corners if option != right]
    return state_point(CORNER, f"the corner at which ${sought.key}$ lies", corners, right, remarks)


def _of_corner(sought: _Sought, option: str) -> Remark:
    """What the quantity would come to at another corner."""
    _, outcome, moving = _ends(sought.base, sought.index)
    env = sought.base.drawn.run.env
    ends = next(
        ends
        for ends in itertools.product((0, 1), repeat=len(moving))
        if _corner_words(sought.base, moving, ends) == option
    )
    changed = {}
    for name, end in zip(moving, ends, strict=True):
        here = f"{name}_{('MIN', 'MAX')[int(outcome.ends[name][0])]}"
        changed[here] = float(env[f"{name}_{('MIN', 'MAX')[end]}"][0])
    value = sought.exactly(changed)[sought.key]
    unit = symbol_for(sought.key).unit
    why = f"There it would come to {write(value, unit, 2)}, which is not the end that counts." if math.isfinite(
        value) else "There it has no value."  # fmt: skip
    return Remark(option, why, "Move one thing at a time: which way does it go, and which way is worse?")


def _solution(
    sought: _Sought, problem: Problem, roughly: Sequence[tuple[Expr, float]], corners: tuple[str, ...]
) -> Solution:
    steps = []
    if len(corners) > 1:
        stage, outcome, _ = _ends(sought.base, sought.index)
        ends = {name: int(end[0]) for name, end in outcome.ends.items()}
        env = {name: float(value[0]) for name, value in sought.base.drawn.run.env.items()}
        values = env | {key: float(value[0]) for key, value in {**outcome.bases, **outcome.steps}.items()}
        why = corner_reason(sought.base.ready.circuit, stage, ends, values)
        right = _corners(sought.base, sought.index)[0]
        steps.append(worded_step("Which corner?", why, f"So it is {right}.", CORNER))
    for item, (numbers, value) in zip(sought.way, roughly, strict=True):
        steps.append(_step(sought, item, numbers, value))
    return Solution(problem.name, tuple(steps), (_beside(sought, roughly[-1][1]),), _BENCH, (), problem.cautions)


_BENCH = (
    "An estimate is held against the meter before anything else: a reading that is a thousand out is a prefix or a "
    "wire, not a tolerance."
)


def _step(sought: _Sought, item: StepRelation, numbers: Expr, value: float) -> WorkedStep:
    unit = symbol_for(item.name).unit
    rest: list[tuple[str, Expr]] = [("=", item.expr)]
    result = Val(value, unit, EXACT_FIGURES)
    if isinstance(item.expr, Add):
        rest.append(("=", _in_full(sought, item.expr)))
    elif numbers != result and not isinstance(item.expr, LEAVES):
        rest.append(("≈", numbers))
    rest.append(("≈", result))
    last = item.name == sought.key
    return WorkedStep(
        item.step.title, "", (Chain(Sym(item.name), tuple(rest)),), "", item.step.law, sought.key if last else "",
        Quantity(value, unit, EXACT_FIGURES), "",
    )  # fmt: skip


def _in_full(sought: _Sought, expr: Expr) -> Expr:
    """A sum with its numbers as they stand: those found on the way are round already."""
    values = sought.given
    for item, found in zip(sought.way, sought.roughly() or (), strict=False):
        values[item.name] = found[1]
    return substitute(expr, {name: Val(values[name], symbol_for(name).unit, EXACT_FIGURES) for name in names_in(expr)})


def _beside(sought: _Sought, estimate: float) -> Check:
    """The exact answer beside the estimate."""
    unit = symbol_for(sought.key).unit
    ratio = estimate / sought.right
    holds = 1 / FACTOR <= ratio <= FACTOR
    full, about = write(sought.right, unit), write(estimate, unit, EXACT_FIGURES)
    text = f"Worked out in full, ${sought.key}$ = {full}; the estimate, {about}, is {write(ratio, '', 2)} times that"
    return Check(text, holds, "")
