"""A wider band for answers, where a lecturer's set allows one.

Vocabulary: the *allowance* is the set's tolerance, a share of the answer. The checker compares at about 1 %; a value
further off than that and within the allowance counts as right when nothing but its figures is at fault: it stands
alone, or the relation before it is right and the arithmetic is out. A relation that is wrong earns nothing however near
it comes, and a value that is nearer a known slip is that slip.
Place in the data flow: findings + Scheme + a tolerance -> findings as they are marked. The sheet and the checker know
nothing of it, so that no line is judged otherwise on a page than at a lecturer's desk: only marks are wider.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import Scheme, SchemePoint
from tutor.working.amount import NUMBER_BAND
from tutor.working.attempts import SAME, reaches
from tutor.working.finding import Code, Finding

EXACTLY = NUMBER_BAND
WIDEST = 0.05  # beyond it named slips pass for answers (at 5 % five of 81 in the median draw, at 2 % one)
_OF_FIGURES = frozenset({"arithmetic", "rounding"})


def allowed(findings: tuple[Finding, ...], scheme: Scheme, tolerance: float) -> tuple[Finding, ...]:
    """The findings, with values within the tolerance of their answer found to hold, and by how much they are off."""
    if tolerance <= EXACTLY:
        return findings
    chosen = {item.key: item.value for item in findings if item.chosen and item.value is not None}
    return tuple(_allowed(item, scheme, tolerance, chosen) for item in findings)


def _allowed(line: Finding, scheme: Scheme, tolerance: float, chosen: Mapping[str, float]) -> Finding:
    if line.code is not Code.FAILS or line.reached is None or not _only_figures(line):
        return line
    for point in scheme.points:
        if point.kind is not WaypointKind.VALUE or line.key not in _names(point):
            continue
        if _as_the_model(point, scheme.points, chosen) and reaches(line, point, tolerance):
            assert point.answer is not None
            off = abs(line.reached - point.answer) / abs(point.answer)
            why = f"{100 * off:.2g} % off, within the {100 * tolerance:g} % allowed here"
            return replace(line, code=Code.HOLDS_HERE, why=why, columns=None, slip=(), answers=(point.key,))
    return line


def _only_figures(line: Finding) -> bool:
    """Whether nothing but the figures of a failed line may be at fault."""
    if line.slip:
        return set(line.slip) <= _OF_FIGURES
    return line.shown is not None and not line.shown.worked


def _names(point: SchemePoint) -> set[str]:
    return {point.key, *(name for mark in point.marks[-2:] for name in mark.names)}


def _as_the_model(point: SchemePoint, points: Sequence[SchemePoint], chosen: Mapping[str, float]) -> bool:
    """Whether what an answer rests on is chosen as the model chooses it; else its answer is another."""
    models = {item.key: item.answer for item in points}
    for key in point.rests_on:
        own, model = chosen.get(key), models.get(key)
        if own is not None and (model is None or abs(own - model) > SAME * abs(model)):
            return False
    return True
