"""A working on a problem: answers in words and relations, each judged in their way, joined to findings and marks.

Vocabulary: a problem of a circuit's family is held against its sheet alone; one *across circuits* may ask for words,
with a sheet beside them for what is worked out, or for words alone.
Place in the data flow: text + Problem, Solution, Sheet, Scheme, MarkRules -> ProblemChecked -> the terminal, classes.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from tutor.errors import BadValue, OutOfRange
from tutor.generate.problem import Problem
from tutor.quantities.expression import Sym
from tutor.quantities.symbols import is_symbol
from tutor.solution.scheme import Scheme
from tutor.solution.scheme_of import scheme_of
from tutor.solution.sheet import Sheet
from tutor.solution.solution import Check, Solution
from tutor.working.allowance import EXACTLY, allowed
from tutor.working.alphabet import lines_in
from tutor.working.check import MOST_LINES, Checked, check_working
from tutor.working.finding import Finding, first_wrong
from tutor.working.ledger import LedgerEntry, MarkRules, Marks
from tutor.working.marks import FIGURES_WAYPOINT, STANDARD, mark_working
from tutor.working.word_answers import answered_in_words, without, word_answers, word_marks

MOST_BYTES = 64 * 1024  # of one working, as UTF-8


@dataclass(frozen=True)
class ProblemChecked:
    """The findings, one a line that is not blank; the first line counted wrong (None: none is); the marks.

    `chosen` are the values (SI) of the parts that were chosen, `margins` the table of that design, empty without any.
    """

    findings: tuple[Finding, ...]
    first_wrong: int | None
    marks: Marks
    chosen: Mapping[str, float] = field(default_factory=dict)
    margins: tuple[Check, ...] = ()


def refuse_unusable(text: str) -> None:
    """OutOfRange or BadValue, one sentence, for a text too large to be a working, or none at all."""
    if len(text.encode("utf-8", "surrogatepass")) > MOST_BYTES:
        raise OutOfRange(f"a working may hold up to {MOST_BYTES // 1024} kB of text; this one holds more")
    if "\0" in text:
        raise BadValue("this is no text: it holds a zero byte")
    lines = len(lines_in(text.rstrip("\r\n")))
    if lines > MOST_LINES:
        raise OutOfRange(f"a working may have up to {MOST_LINES} lines (got {lines})")


def check_on_circuit(
    text: str, sheet: Sheet, scheme: Scheme, rules: MarkRules = STANDARD, tolerance: float = EXACTLY
) -> ProblemChecked:
    """A working on a problem of a circuit's family, or on a question of somebody's own that is marked like one.

    `tolerance` is a share: how near a value must lie to win its accuracy mark. Never raises for what was typed.
    """
    checked = check_working(text, sheet)
    told = checked.findings
    if not sheet.recipe.asks:
        # A sheet of somebody's own numbers does not know what is asked: there the scheme's answers tell.
        told = tuple(replace(item, answers=None) for item in told)
    findings = allowed(told, scheme, tolerance)
    marks = mark_working(replace(checked, findings=findings), scheme, rules)
    chosen = {item.key: item.value for item in findings if item.chosen and item.value is not None}
    return ProblemChecked(findings, first_wrong(findings), marks, chosen, checked.margins)


def check_across(
    text: str,
    problem: Problem,
    solution: Solution,
    sheet: Sheet | None,
    *,
    rules: MarkRules = STANDARD,
    tolerance: float = EXACTLY,
    decimal_comma: bool = False,
) -> ProblemChecked:
    """A working on a problem across circuits: answers in words by the problem, all else by its sheet if it has one.

    Never raises for what was typed.
    """
    points = problem.waypoints
    answered = answered_in_words(points, words_alone=sheet is None)
    answers = word_answers(text, points, words_alone=sheet is None, decimal_comma=decimal_comma)
    findings: tuple[Finding, ...] = ()
    ledger: tuple[LedgerEntry, ...] = ()
    if sheet is not None:
        checked = check_working(without(text, answers), sheet)
        scheme, names = _scheme_of_values(problem, solution, {point.key for point in answered})
        findings = allowed(checked.findings, scheme, tolerance)
        keys = {letter: key for key, letter in names.items()}
        found = mark_working(Checked(findings, checked.first_wrong), scheme, rules).ledger
        ledger = tuple(replace(item, waypoint=keys.get(item.waypoint, item.waypoint)) for item in found)
    findings = tuple(sorted((*(item.finding for item in answers), *findings), key=lambda item: item.number))
    told = (*word_marks(answered, answers), *ledger)
    order = {**{point.key: place for place, point in enumerate(points)}, FIGURES_WAYPOINT: len(points)}
    marks = Marks(tuple(sorted(told, key=lambda entry: order[entry.waypoint])))
    return ProblemChecked(findings, first_wrong(findings), marks)


def _scheme_of_values(problem: Problem, solution: Solution, answered: Collection[str]) -> tuple[Scheme, dict[str, str]]:
    """The marks of what is not answered in words, and the letters it stands under there, by the problem's keys."""
    names = _letters(problem, solution)
    points = tuple(replace(point, key=names.get(point.key, point.key)) for point in problem.waypoints)
    steps = tuple(replace(step, waypoint=names.get(step.waypoint, step.waypoint)) for step in solution.steps)
    scheme = scheme_of(replace(problem, waypoints=points), replace(solution, steps=steps))
    valued = {names.get(point.key, point.key) for point in problem.waypoints if point.key not in answered}
    return replace(scheme, points=tuple(point for point in scheme.points if point.key in valued)), names


def _letters(problem: Problem, solution: Solution) -> dict[str, str]:
    """The letters of values that are asked for under another name, as the solution writes them."""
    found = {}
    for step in solution.steps:
        head = step.chains[-1].first if step.chains else None
        if step.waypoint and not is_symbol(step.waypoint) and isinstance(head, Sym):
            found[step.waypoint] = head.name
    valued = {point.key for point in problem.waypoints if point.answer is not None}
    return {key: letter for key, letter in found.items() if key in valued}
