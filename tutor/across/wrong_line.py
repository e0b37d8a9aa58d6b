"""Find the wrong line: a base problem's working with one of its slips put in, and everything after it carried on.

What is wrong comes from the slip, an edit of one step of the plan; what follows from running each later ask again; the
other reasons offered are other slips of that line, and edits of its relation, each with what it would have given.
Place in the data flow: places + draws -> base problem -> working with a slip -> Posed.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from tutor.across.base_problem import BaseProblem, base_sheet, drawn_base, problem_about
from tutor.across.family import Posed, Refused, Setting, ShownLine
from tutor.across.other_reasons import OtherReason, other_reasons
from tutor.across.points import state_point, worded_step
from tutor.across.slipped import Planted, Working, planted_slips, right_working, slipped_working
from tutor.across.stream import Stream
from tutor.generate.family import Choose, ChooseRating, TellVerdict
from tutor.generate.level_run import APART
from tutor.generate.problem import Problem, Remark, Waypoint, WaypointKind
from tutor.quantities.expression import Expr, Sym, Val, evaluate, symbols_of
from tutor.quantities.quantity import round_figures, write
from tutor.quantities.symbols import without_end
from tutor.solution.solution import Chain, Check, Solution, WorkedStep

FEWEST, MOST = 5, 8  # lines of a working
REASONS = 4  # offered, the right one among them
SAME = 9  # figures to which two results are one
PLAIN = 2.0  # a value out by more than this factor is odd at first sight
NOT_RIGHT = "corrected"  # key of the wrong line's right value: its own letter would give the line away


@dataclass(frozen=True)
class WrongLine:
    """A level: workings of problems at `places`.

    With `hidden` the wrong line is out by less than a factor of two, and a later one at least as far; with `choices`
    the wrong line is a choice or leads to a wrong choice or verdict, and without them it is a relation. `without`
    names slips that are not put in (`supply-ripple:2 bare-wave`): the checker takes their line to follow from those
    above.
    """

    about: str
    places: tuple[str, ...]
    hidden: bool = False
    choices: bool = False
    without: tuple[str, ...] = ()

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        base = drawn_base(setting, stream, self.places)
        place = f"{base.problem.family}:{base.problem.level}"
        slips = [item for item in planted_slips(base) if f"{place} {item.slip.id}" not in self.without]
        right = right_working(base)
        found: Posed | Refused = Refused("no slip of the problem stands in a line of its own")
        for planted in self._in_turn(stream, slips):
            found = self._with(setting, stream, base, right, planted)
            if isinstance(found, Posed):
                break
        return found

    def _in_turn(self, stream: Stream, slips: Sequence[Planted]) -> list[Planted]:
        """The slips to try, wrong relations first in two draws of three: wrong picks from a shelf are all alike."""
        shuffled = stream.order("slips", slips)
        relations = [item for item in shuffled if item.wrong is not None]
        if not self.choices:
            return relations
        picks = [item for item in shuffled if item.wrong is None]
        return [*picks, *relations] if stream.pick("pick or relation", (False, False, True)) else [*relations, *picks]

    def _with(
        self, setting: Setting, stream: Stream, base: BaseProblem, right: Working, planted: Planted
    ) -> Posed | Refused:
        """The problem with that slip put in, or why there is none."""
        working = slipped_working(base, planted)
        if working is None:
            return Refused("what follows cannot be carried on")
        slipped = _laid_out(base, planted, working, right)
        if isinstance(slipped, Refused):
            return slipped
        if self.hidden and not slipped.is_hidden():
            return Refused("the wrong line is the odd one")
        if self.choices and not slipped.leads_to_a_choice():
            return Refused("no wrong choice or verdict in it")
        reasons = other_reasons(base, planted, stream, REASONS - 1)
        if len(reasons) < REASONS - 2:
            return Refused("too few other reasons")
        options = stream.order("reasons", (planted.slip.name, *(item.name for item in reasons)))
        return _posed(setting, slipped, options, reasons)


@dataclass(frozen=True)
class _Line:
    """A line of the working: the ask it belongs to, its chain, its words, whether it is true as it stands."""

    index: int
    chain: Chain
    words: str
    true: bool


@dataclass(frozen=True)
class _Slipped:
    """A working with a slip: its lines, the place of the wrong one, and the ask whose result is asked for at the end.

    `final` is the index of that ask: the last in the working that the slip changes.
    """

    base: BaseProblem
    planted: Planted
    working: Working
    right: Working
    lines: tuple[_Line, ...]
    at: int
    final: int

    @property
    def number(self) -> str:
        """The number of the wrong line as it is printed."""
        return str(self.at + 1)

    def key(self, index: int) -> str:
        """The key of an ask."""
        return self.base.drawn.region.plan.keys[index]

    def values(self, index: int) -> tuple[float, float]:
        """What an ask comes to, rightly and in the working; nan where that is words."""
        nothing = (math.nan,)
        worlds = (self.right.drawn.run.env, self.working.drawn.run.env)
        right, shown = (float(world.get(self.key(index), nothing)[0]) for world in worlds)
        return right, shown

    def is_hidden(self) -> bool:
        """Whether the wrong value is near enough to the right one, and a later one at least as far out."""
        asks = sorted({line.index for line in self.lines[self.at :]})
        here, *later = [_oddness(*self.values(index)) for index in asks]
        return here <= math.log(PLAIN) and max(later, default=0.0) >= 0.99 * here

    def leads_to_a_choice(self) -> bool:
        """Whether a choice or verdict, the wrong line itself or one after it, comes out wrong."""
        picks = (Choose, ChooseRating, TellVerdict)
        asks = self.base.ready.level.asks
        return any(isinstance(asks[line.index], picks) and not line.true for line in self.lines[self.at :])


def _oddness(right: float, shown: float) -> float:
    """How far a shown value is out: the size of the logarithm of its ratio to the right one."""
    if not (math.isfinite(right) and math.isfinite(shown)):
        return 0.0
    if right * shown <= 0:
        return 0.0 if right == shown else math.inf
    return abs(math.log(shown / right))


def _laid_out(base: BaseProblem, planted: Planted, working: Working, right: Working) -> _Slipped | Refused:
    """The lines of a working with a slip, or why it makes no problem."""
    kept = _kept(working)
    if planted.index not in kept:
        return Refused("the slip lies past the lines shown")
    lines = tuple(_lines(base, working, right, kept))
    if not FEWEST <= len(lines) <= MOST:
        return Refused("a working of too few or too many lines")
    at = max(place for place, line in enumerate(lines) if line.index == planted.index)
    if any(not line.true for line in lines[:at]):
        return Refused("a line before the wrong one has its numbers from it")
    points = {point.key for point in base.problem.waypoints}
    keys = base.drawn.region.plan.keys
    final = max(index for index in kept if _changed(base, working, right, index))
    if keys[planted.index] not in points or keys[final] not in points:
        return Refused("what the slip changes is not asked for")
    if final == planted.index:
        return Refused("no line after it carries the slip on")
    answer = _result(right.steps[planted.index][-1].chains[-1])
    if any(_result(line.chain) == answer for line in lines):
        return Refused("another line has the value that the wrong one should have")
    if not all(_reads_on(base, working, line) for line in lines[at + 1 :] if not line.true):
        return Refused("a line after it does not follow from those above it alone")
    return _Slipped(base, planted, working, right, lines, at, final)


def _changed(base: BaseProblem, working: Working, right: Working, index: int) -> bool:
    """Whether the slip changes what an ask comes to: a verdict, only where it is another."""
    here, there = (steps[index][-1] for steps in (working.steps, right.steps))
    if isinstance(base.ready.level.asks[index], TellVerdict):
        return here.text != there.text
    return _result(here.chains[-1]) != _result(there.chains[-1])


def _reads_on(base: BaseProblem, working: Working, line: _Line) -> bool:
    """Whether a line carried on follows from what stands above it, and does not come by another slip's value.

    An equation in its own unknown does not (it is true of the circuit or it is not), nor does the value nearest to a
    rounded one.
    """
    ask, key = base.ready.level.asks[line.index], base.drawn.region.plan.keys[line.index]
    if isinstance(ask, Choose) and ask.near:
        return False
    head = line.chain.first
    if not isinstance(head, Sym) or any(head.name in symbols_of(side) for _, side in line.chain.rest):
        return False
    value = float(working.drawn.run.env.get(key, (math.nan,))[0])
    others = (
        slip.value
        for point in base.problem.waypoints
        if without_end(point.key) == without_end(key)
        for slip in point.slips
    )
    return not any(abs(value - other) <= APART * abs(other) for other in others)


def _kept(working: Working) -> list[int]:
    """The asks whose lines are shown: from the first on, as many as fit."""
    found: list[int] = []
    count = 0
    for index, steps in working.steps.items():
        count += sum(len(step.chains) for step in steps)
        if count > MOST:
            break
        found.append(index)
    return found


def _lines(base: BaseProblem, working: Working, right: Working, kept: Sequence[int]) -> list[_Line]:
    true = {_result(chain) for index in kept for step in right.steps[index] for chain in step.chains}
    said = {(index, step.text) for index in kept for step in right.steps[index]}
    found = []
    for index in kept:
        for step in working.steps[index]:
            verdict = step.text if isinstance(base.ready.level.asks[index], TellVerdict) else ""
            for place, chain in enumerate(step.chains):
                last = place == len(step.chains) - 1
                parts = (f"{step.title}." if place == 0 else "", verdict if last else "")
                words = " ".join(part for part in parts if part)
                holds = _result(chain) in true and (not (verdict and last) or (index, step.text) in said)
                found.append(_Line(index, chain, words, holds))
    return found


def _result(chain: Chain) -> tuple[object, ...]:
    """What a line says: of which quantity, at whatever corner, and the values that stand alone in it."""
    head = without_end(chain.first.name) if isinstance(chain.first, Sym) else chain.first
    return (head, *(round_figures(side.value, SAME) for _, side in chain.rest if isinstance(side, Val)))


def _posed(setting: Setting, slipped: _Slipped, options: Sequence[str], reasons: Sequence[OtherReason]) -> Posed:
    base = slipped.base
    points = {point.key: point for point in base.problem.waypoints}
    wrong = replace(points[slipped.key(slipped.planted.index)], key=NOT_RIGHT, prompt="what that line should come to")
    last = points[slipped.key(slipped.final)]
    problem = problem_about(
        setting,
        base,
        told="One line of it is wrong, and all that follows was worked with what stands above it. It answers this "
        f"problem. {base.problem.statement} {base.problem.ask}",
        ask="Say which line is the first wrong one and what went wrong there, put that line right, and "
        f"{_last_demand(last)}.",
        waypoints=(_which_line(slipped), _what_went_wrong(slipped, options, reasons), wrong, last),
    )
    lines = tuple(ShownLine(str(place + 1), line.words, line.chain) for place, line in enumerate(slipped.lines))
    solution, sheet = _solution(slipped, problem), base_sheet(setting, base)
    return Posed(problem, solution, lines, "The working", sheet, base=base.problem.name)


def _last_demand(last: Waypoint) -> str:
    if last.kind is WaypointKind.STATE:
        return "say what the verdict then is"
    return f"choose ${last.key}$ anew" if last.kind is WaypointKind.CHOICE else f"work out what ${last.key}$ then is"


def _which_line(slipped: _Slipped) -> Waypoint:
    options = tuple(f"line {place + 1}" for place in range(len(slipped.lines)))
    remarks = [_of_another_line(slipped, place, option) for place, option in enumerate(options) if place != slipped.at]
    return state_point("line", "the first wrong line", options, options[slipped.at], remarks)


def _of_another_line(slipped: _Slipped, place: int, option: str) -> Remark:
    name = f"L{option[1:]}"
    if place > slipped.at and not slipped.lines[place].true:
        return Remark(
            option,
            f"{name} is right for what stands before it: it carries a wrong value on.",
            "From which line above does it have its value?",
        )
    if place > slipped.at:
        return Remark(option, f"{name} is right, and has nothing from the wrong line.", "Look further up.")
    return Remark(option, f"{name} is right: with the numbers given it comes out as written.", "Go on down from there.")


def _what_went_wrong(slipped: _Slipped, options: Sequence[str], reasons: Sequence[OtherReason]) -> Waypoint:
    key = slipped.key(slipped.planted.index)
    unit = _unit(slipped, slipped.planted.index)
    shown = write(slipped.values(slipped.planted.index)[1], unit)
    remarks = []
    for item in reasons:
        by_it = f"Worked that way, ${key}$ would come to {write(item.value, unit)}, and the working says {shown}."
        why = item.why or by_it
        remarks.append(Remark(item.name, why, item.hint))
    return state_point("reason", "what went wrong in it", options, slipped.planted.slip.name, remarks)


def _unit(slipped: _Slipped, index: int) -> str:
    point = next(point for point in slipped.base.problem.waypoints if point.key == slipped.key(index))
    assert point.answer is not None
    return point.answer.unit


def _solution(slipped: _Slipped, problem: Problem) -> Solution:
    slip, number = slipped.planted.slip, slipped.number
    before = slipped.at
    steps = []
    if before:
        named = "Line 1 holds" if before == 1 else f"Lines 1 to {before} hold"
        found = "it comes" if before == 1 else "each comes"
        anew = f"Worked anew from the numbers given, {found} out as written."
        steps.append(worded_step(named, anew, ""))
    title, text = f"Line {number} is the first wrong one", f"So it stands in the working, and {_fault(slipped)}."
    steps.append(worded_step(title, "", text, "line", chains=(slipped.lines[slipped.at].chain,)))
    steps.append(worded_step(f"What went wrong: {slip.name}", slip.why, "", "reason"))
    steps += _put_right(slipped, slipped.planted.index, NOT_RIGHT)
    for index in sorted(index for index in slipped.right.steps if slipped.planted.index < index <= slipped.final):
        steps += _put_right(slipped, index, slipped.key(index) if index == slipped.final else "")
    whole = slipped.lines[-1].index == max(slipped.right.steps)
    checks = (_explained(slipped), *(slipped.base.solution.checks if whole else ()))
    return Solution(problem.name, tuple(steps), checks, slipped.base.solution.bench, (), problem.cautions)


def _fault(slipped: _Slipped) -> str:
    ask = slipped.base.ready.level.asks[slipped.planted.index]
    return "it does not serve" if isinstance(ask, Choose | ChooseRating) else "it is not true of the circuit"


def _put_right(slipped: _Slipped, index: int, waypoint: str) -> list[WorkedStep]:
    """The right steps of an ask; where they speak of earlier steps, of the lines that these are."""
    steps = [replace(step, waypoint="", why=_of_lines(slipped, step.why)) for step in slipped.right.steps[index]]
    steps[-1] = replace(steps[-1], waypoint=waypoint)
    return steps


def _of_lines(slipped: _Slipped, text: str) -> str:
    """`that of step 3` as `that of line 4`: a step may have been written in several lines."""
    ends: list[int] = []
    for steps in slipped.right.steps.values():
        for step in steps:
            ends.append((ends[-1] if ends else 0) + len(step.chains))
    return re.sub(r"of step (\d+)", lambda found: f"of line {ends[int(found.group(1)) - 1]}", text)


def _explained(slipped: _Slipped) -> Check:
    """The slip leads to just what the line says."""
    chain, index = slipped.lines[slipped.at].chain, slipped.planted.index
    right, shown = slipped.values(index)
    unit = _unit(slipped, index)
    worked = _worked_out(chain)
    same = worked is None or abs(worked - shown) <= APART * abs(shown)
    apart = abs(right - shown) > 0
    with_it, without = (write(value, unit) for value in (shown, right))
    key = slipped.key(index)
    text = f"With the slip, ${key}$ comes to {with_it}, as line {slipped.number} says; without it, to {without}"
    return Check(text, same and apart, "")


def _worked_out(chain: Chain) -> float | None:
    """What the numbers put into a line come to, where it has any and they are its own."""
    sides: list[Expr] = [side for sign, side in chain.rest if sign == "=" and not isinstance(side, Val | Sym)]
    for side in reversed(sides):
        try:
            return float(evaluate(side, {}))
        except (KeyError, ArithmeticError):
            continue
    return None
