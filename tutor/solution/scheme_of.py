"""A problem's mark scheme from its waypoints and its worked solution.

The rule, in four lines:
- a value has an M for the relation that gives it and an A for the value with its unit;
- each quantity in that relation which must first be worked out, and is no waypoint itself, has an M of its own, the two
  nearest to the result at most (so a value has 2 to 4 marks). What is only renamed (V_O = V_Z), is zero or was worked
  out before earns nothing again;
- a choice has one B, for any value that meets the specification;
- a state has one B, for telling which it is.
Place in the data flow: Problem + Solution -> Scheme -> marks, printed schemes.
Source: the standard calculation of the boards (relation, substitution, value with unit) and the key to mark codes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tutor.generate.problem import Problem, Waypoint, WaypointKind
from tutor.quantities.expression import (
    ZEROS,
    Add,
    Div,
    Expr,
    Func,
    Mul,
    Parallel,
    Pow,
    Sym,
    Val,
    children,
    symbols_of,
)
from tutor.quantities.formula import formula_text
from tutor.quantities.quantity import Quantity, round_figures
from tutor.quantities.symbols import without_end
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.solution.solution import Chain, Solution, WorkedStep

MOST_ON_THE_WAY = 2  # marks for relations on the way to one value
SAME = 1e-9
WHOLE_POWER = 1e-6  # of a power of a thousand


@dataclass(frozen=True)
class _Part:
    """A step taken apart: the symbol it gives, its relation, its value (SI, None when it has none)."""

    name: str
    relation: Expr
    step: WorkedStep

    @property
    def value(self) -> float | None:
        return None if self.step.result is None else self.step.result.value

    @property
    def renames(self) -> str:
        """The symbol that the relation only gives another name (V_R = V_I − 0 does no more), or ''."""
        terms = self.relation.terms if isinstance(self.relation, Add) else (self.relation,)
        left = [term for term in terms if term not in ZEROS]
        return left[0].name if len(left) == 1 and isinstance(left[0], Sym) else ""


def scheme_of(problem: Problem, solution: Solution) -> Scheme:
    """The mark scheme of a problem, from the steps of its worked solution."""
    groups = _groups(solution.steps)
    before: list[_Part] = []
    credited: list[_Part] = []
    points: list[SchemePoint] = []
    chosen = tuple(point.key for point in problem.waypoints if point.kind is WaypointKind.CHOICE)
    for point in problem.waypoints:
        parts = groups.get(point.key, [])
        if point.kind is WaypointKind.VALUE and parts:
            points.append(_value_point(point, parts, before, credited, problem, chosen))
        elif point.kind is WaypointKind.CHOICE:
            points.append(_choice_point(point))
        else:
            points.append(_state_point(point, solution))
        before += parts
    return Scheme(problem.name, tuple(points))


def _groups(steps: Iterable[WorkedStep]) -> dict[str, list[_Part]]:
    """The steps that lead to each waypoint, by its key; the last of each gives it."""
    found: dict[str, list[_Part]] = {}
    waiting: list[_Part] = []
    for step in steps:
        chain = step.chains[0] if step.chains else None
        if chain is not None and isinstance(chain.first, Sym):
            waiting.append(_Part(chain.first.name, chain.rest[0][1], step))
        if step.waypoint:
            found[step.waypoint] = waiting
            waiting = []
    return found


def _value_point(
    point: Waypoint,
    parts: list[_Part],
    before: Sequence[_Part],
    credited: list[_Part],
    problem: Problem,
    chosen: tuple[str, ...],
) -> SchemePoint:
    assert point.answer is not None
    last = parts[-1]
    own, names = last, [point.key, *_without_end(point.key), last.name]
    # A value that is only another name for one worked out just before is marked on the relation behind it.
    while own.renames and (behind := _given_by(own.renames, parts[:-1])) is not None and behind is not own:
        names.append(behind.name)
        own = behind
    on_the_way = [part for part in _inputs(own, parts) if _earns(part, credited, problem)][-MOST_ON_THE_WAY:]
    credited += on_the_way
    marks = [
        SchemeMark(MarkKind.METHOD, _relation_told(part), (part.name, *_without_end(part.name)), value=part.value)
        for part in on_the_way
    ]
    marks.append(SchemeMark(MarkKind.METHOD, _relation_told(own), tuple(dict.fromkeys(names))))
    marks.append(
        SchemeMark(MarkKind.ACCURACY, f"${point.key}$ = {point.answer.text}", (point.key,), (len(marks) - 1,))
    )
    answer = point.answer.value
    return SchemePoint(
        point.key, point.kind, point.prompt, tuple(marks), answer, point.answer.unit,
        slips=tuple((slip.id, slip.value) for slip in point.slips),
        careless=tuple(slip.id for slip in point.slips if _is_lost_prefix(slip.value, answer)),
        rests_on=_choices_behind(parts, before, chosen),
        operations=_least_operations(own.step.chains),
        printed_figures=_figures_needed(point.answer),
    )  # fmt: skip


def _without_end(name: str) -> tuple[str, ...]:
    """The symbol without _MIN, _MAX or _NOM, as a learner may write it at the corner in question."""
    return (without_end(name),) if without_end(name) != name else ()


def _given_by(name: str, parts: Sequence[_Part]) -> _Part | None:
    return next((part for part in reversed(parts) if part.name == name), None)


def _inputs(own: _Part, parts: list[_Part]) -> list[_Part]:
    """The steps that give the symbols of a relation, in the order worked; one behind another name counts as that."""
    found: list[_Part] = []
    for name in symbols_of(own.relation):
        part = _given_by(name, parts[: parts.index(own)])
        while part is not None and part.renames:
            part = _given_by(part.renames, parts[: parts.index(part)])
        if part is not None and part not in found:
            found.append(part)
    return sorted(found, key=parts.index)


def _earns(part: _Part, credited: Sequence[_Part], problem: Problem) -> bool:
    """Whether a step on the way is worth a mark: it works something out that nothing before did."""
    if part.value is None or part.value == 0:
        return False
    answers = [quantity.value for key, quantity in problem.answers.items() if part.name in (key, *_without_end(key))]
    known = [item.value for item in credited if item.name == part.name]
    return not any(value is not None and math.isclose(value, part.value, rel_tol=SAME) for value in (*answers, *known))


def _relation_told(part: _Part) -> str:
    return f"{part.step.title}: ${part.name} = {formula_text(part.relation)}$"


def _least_operations(chains: Sequence[Chain]) -> int:
    """Signs of operation in the shortest form of a relation that still has one; 0 when none does."""
    sides = [side for chain in chains for side in (chain.first, *(side for _, side in chain.rest))]
    counts = [operations(side) for side in sides]
    return min((count for count in counts if count), default=0)


def operations(expr: Expr) -> int:
    """How many signs of operation an expression has; a minus before a term is no operation of its own."""
    inner = sum(operations(part) for part in children(expr))
    if isinstance(expr, Add | Mul):
        return inner + len(children(expr)) - 1
    return inner + (1 if isinstance(expr, Div | Pow | Parallel | Func) else 0)


def _is_lost_prefix(value: float, answer: float) -> bool:
    """Whether two values differ by thousands and by nothing else; a factor of ten may be two resistors' ratio."""
    if value * answer <= 0:
        return False
    thousands = math.log10(value / answer) / 3
    return round(thousands) != 0 and abs(thousands - round(thousands)) < WHOLE_POWER


def _figures_needed(answer: Quantity) -> int:
    """How many figures write an answer exactly, up to as many as it is printed in; 0 when it is rounded."""
    for figures in range(1, answer.figures + 1):
        if math.isclose(round_figures(answer.value, figures), answer.value, rel_tol=SAME):
            return figures
    return 0


def _choices_behind(parts: Sequence[_Part], before: Sequence[_Part], chosen: tuple[str, ...]) -> tuple[str, ...]:
    """Keys of the choices that a waypoint's value is worked out from, through all steps before it."""
    behind: dict[str, set[str]] = {}
    reached: set[str] = set()
    for part in (*before, *parts):
        names = set(symbols_of(part.relation))
        through = names | {other for name in names for other in behind.get(name, ())}
        behind[part.name] = behind.get(part.name, set()) | through
        if part in parts:
            reached |= through
    return tuple(key for key in chosen if key in reached)


def _choice_point(point: Waypoint) -> SchemePoint:
    assert point.answer is not None
    # A rating is larger than it need be and still right; a preferred value is any between its bounds.
    others = " or another that meets the specification at every corner" if len(point.accepted) > 1 else ""
    mark = SchemeMark(MarkKind.INDEPENDENT, f"${point.key}$ = {point.answer.text}{others}", (point.key,))
    return SchemePoint(
        point.key, point.kind, point.prompt, (mark,), point.answer.value, point.answer.unit, point.accepted
    )


def _state_point(point: Waypoint, solution: Solution) -> SchemePoint:
    step = next((step for step in solution.steps if step.waypoint == point.key), None)
    mark = SchemeMark(MarkKind.INDEPENDENT, point.state)
    return SchemePoint(
        point.key, point.kind, point.prompt, (mark,), options=point.options, state=point.state,
        # What rests on several comparisons is told by none of them alone.
        test=_test_of(step.chains[0]) if step is not None and len(step.chains) == 1 else None,
    )  # fmt: skip


def _test_of(chain: Chain) -> tuple[str, str, float] | None:
    """The comparison that tells a state: the quantity, its limit and the limit's value."""
    names = [side.name for side in (chain.first, *(side for _, side in chain.rest)) if isinstance(side, Sym)]
    values = [side.value for _, side in chain.rest if isinstance(side, Val)]
    return (names[0], names[1], values[-1]) if len(names) == 2 and values else None
