"""A working checked: what it is held against found, each line judged, marks given where there is a scheme.

Place in the data flow: text + a problem's name, or a circuit with somebody's own values -> CheckedWorking -> terminal,
JSON, Python. It is the one place that joins sheets, findings and marks for whoever types a working.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import Any

from tutor.across.family import Posed
from tutor.across.named import any_problem
from tutor.errors import BadValue, OutOfRange
from tutor.generate.name import read_name
from tutor.generate.problem import Problem
from tutor.quantities.expression import Sym
from tutor.quantities.quantity import given
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.solution.desk import our_desk
from tutor.solution.own_sheet import own_sheet
from tutor.solution.own_values import read_own
from tutor.solution.scheme_of import scheme_of
from tutor.solution.solution import Check, Solution
from tutor.views.margin import rows_of
from tutor.working.check import MOST_LINES, Checked, check_working
from tutor.working.finding import WRONG, Code, Finding
from tutor.working.ledger import LedgerEntry, Marks
from tutor.working.marks import mark_working
from tutor.working.word_answers import answered_in_words, without, word_answers, word_marks

MOST_BYTES = 64 * 1024
WIDTH = 80


@dataclass(frozen=True, repr=False)
class CheckedWorking:
    """The findings on a working, one a line that is not blank; its marks, None for somebody's own numbers.

    `title` and `name` say what it was held against, `held` its values (none for a problem, which states its own);
    `margins` is the table of a design with the choices made in the working (`design` names them), empty without any.
    """

    title: str
    name: str
    held: tuple[str, ...]
    findings: tuple[Finding, ...]
    first_wrong: int | None
    marks: Marks | None
    design: str = ""
    margins: tuple[Check, ...] = ()

    def __str__(self) -> str:
        """The lines with their findings in the margin, the first line to look at, the marks: 80 columns."""
        rows = [f"{row.left}{row.margin}".rstrip() for row in rows_of(self.findings, WIDTH)]
        closing = [first_told(self), *([] if self.marks is None else [marks_told(self.marks)])]
        return "\n".join([*rows, "", "   ".join(closing)] if rows else closing)

    __repr__ = __str__


def check(
    text: str,
    *,
    problem: str = "",
    circuit: str = "",
    values: Mapping[str, str | float] | None = None,
    assume: Mapping[str, str] | None = None,
    decimal_comma: bool = False,
) -> CheckedWorking:
    """A finding for each line of a working: on a generated `problem` by its name, or on a `circuit` with own `values`.

    `values` and `assume` are as `solve` takes them, and V_I_MIN with V_I_MAX gives a range. With `decimal_comma` 5,1 is
    read as a number. Raises a SteadyrailError, one sentence, for what cannot be used; never for what a line says.
    """
    if bool(problem) == bool(circuit):
        told = "not both" if problem else "one of the two"
        raise BadValue(f"a working is held against a problem or against a circuit with its values: give {told}")
    _refuse_unusable(text)
    if problem:
        if values or assume:
            instead = f"{problem}+NAME=VALUE"
            raise BadValue(f"'{problem}' has its own values; what else is assumed goes into the name: {instead}")
        return _on_problem(text, problem, decimal_comma)
    return _on_own_numbers(text, circuit, values or {}, assume or {}, decimal_comma)


def _refuse_unusable(text: str) -> None:
    if len(text.encode("utf-8", "surrogatepass")) > MOST_BYTES:
        raise OutOfRange(f"a working may hold up to {MOST_BYTES // 1024} kB of text; this one holds more")
    if "\0" in text:
        raise BadValue("this is no text: it holds a zero byte")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").rstrip("\n").count("\n") + 1
    if lines > MOST_LINES:
        raise OutOfRange(f"a working may have up to {MOST_LINES} lines (got {lines})")


def _on_problem(text: str, problem: str, decimal_comma: bool) -> CheckedWorking:
    name = read_name(problem)
    desk = our_desk()
    worked = any_problem(desk, name)
    if isinstance(worked, Posed):
        return _on_posed(text, worked, decimal_comma)
    checked = check_working(text, replace(desk.sheet(name), decimal_comma=decimal_comma))
    marks = mark_working(checked, scheme_of(worked.problem, worked.solution))
    taken = {item.key: item.value for item in checked.findings if item.chosen and item.value is not None}
    design = ", ".join(f"{key} = {given(value, symbol_for(key).unit).text}" for key, value in taken.items())
    return CheckedWorking(
        worked.problem.title, worked.problem.name, (), checked.findings, checked.first_wrong, marks, design,
        checked.margins,
    )  # fmt: skip


def _on_posed(text: str, posed: Posed, decimal_comma: bool) -> CheckedWorking:
    """A working on a problem across circuits: answers in words by the problem, all else by its sheet if it has one."""
    points, sheet = posed.problem.waypoints, posed.sheet
    answered = answered_in_words(points, words_alone=sheet is None)
    answers = word_answers(text, points, words_alone=sheet is None, decimal_comma=decimal_comma)
    checked = Checked((), None)
    ledger: tuple[LedgerEntry, ...] = ()
    if sheet is not None:
        checked = check_working(without(text, answers), replace(sheet, decimal_comma=decimal_comma))
        ledger = _ledger_of_values(posed, checked, {point.key for point in answered})
    findings = tuple(sorted((*(item.finding for item in answers), *checked.findings), key=lambda item: item.number))
    wrong = next((item.number for item in findings if item.code in WRONG), None)
    told = (*word_marks(answered, answers), *ledger)
    order = {point.key: place for place, point in enumerate(points)}
    marks = Marks(tuple(sorted(told, key=lambda entry: order[entry.waypoint])))
    return CheckedWorking(posed.problem.title, posed.problem.name, (), findings, wrong, marks)


def _ledger_of_values(posed: Posed, checked: Checked, answered: Collection[str]) -> tuple[LedgerEntry, ...]:
    """The marks of what is not answered in words, under the keys of the problem."""
    names = _letters(posed)
    scheme = scheme_of(*_under(posed, names))
    valued = {names.get(point.key, point.key) for point in posed.problem.waypoints if point.key not in answered}
    counted = replace(scheme, points=tuple(point for point in scheme.points if point.key in valued))
    keys = {letter: key for key, letter in names.items()}
    ledger = mark_working(checked, counted).ledger
    return tuple(replace(item, waypoint=keys.get(item.waypoint, item.waypoint)) for item in ledger)


def _letters(posed: Posed) -> dict[str, str]:
    """The letters of values that are asked for under another name, as the solution writes them."""
    found = {}
    for step in posed.solution.steps:
        head = step.chains[-1].first if step.chains else None
        if step.waypoint and not is_symbol(step.waypoint) and isinstance(head, Sym):
            found[step.waypoint] = head.name
    valued = {point.key for point in posed.problem.waypoints if point.answer is not None}
    return {key: letter for key, letter in found.items() if key in valued}


def _under(posed: Posed, names: Mapping[str, str]) -> tuple[Problem, Solution]:
    """The problem and its solution with those letters for keys."""
    points = tuple(replace(point, key=names.get(point.key, point.key)) for point in posed.problem.waypoints)
    steps = tuple(replace(step, waypoint=names.get(step.waypoint, step.waypoint)) for step in posed.solution.steps)
    return replace(posed.problem, waypoints=points), replace(posed.solution, steps=steps)


def _on_own_numbers(
    text: str, circuit: str, values: Mapping[str, str | float], assume: Mapping[str, str], decimal_comma: bool
) -> CheckedWorking:
    sheet = own_sheet(circuit, values, assume, decimal_comma=decimal_comma)
    found, plain = our_desk().circuit_for(circuit, values)
    own = read_own(found, plain, assume, decimal_comma=decimal_comma)
    told = [f"{name} = {given(value, symbol_for(name).unit).text}" for name, value in own.numbers.items()]
    told += [
        f"{name} = {given(value, symbol_for(name).unit).text} assumed"
        for name, value in sheet.given.items()
        if name not in own.numbers
    ]
    told += [f"{name} {value}" for name, value in own.conventions.items()]
    checked = check_working(text, sheet)
    return CheckedWorking(found.title, circuit, tuple(told), checked.findings, checked.first_wrong, None)


def first_told(working: CheckedWorking) -> str:
    """Which line to look at first, or that none is wrong; lines that could not be read are never passed over."""
    if working.first_wrong is not None:
        return f"First line to look at: {working.first_wrong}."
    unread = [str(item.number) for item in working.findings if item.code is Code.UNREAD]
    if not working.findings:
        return "There is no line to check."
    if not unread:
        return "No line is wrong."
    lines = f"line {unread[0]}" if len(unread) == 1 else f"lines {', '.join(unread[:-1])} and {unread[-1]}"
    return f"No line that could be read is wrong; write {lines} again."


def marks_told(marks: Marks) -> str:
    """The marks in one phrase."""
    return f"Marks {marks.got} of {marks.of}."


def entry_told(entry: LedgerEntry) -> str:
    """One mark of the ledger: its kind with what it won (M1, A0), the line that decided it, and why."""
    line = f"line {entry.line}: " if entry.line is not None else ""
    return f"{entry.kind.value}{entry.got}  {line}{entry.why}"


def working_record(working: CheckedWorking) -> dict[str, Any]:
    """A checked working as the JSON that `--json` promises."""
    return {
        "lines": [
            {
                "number": item.number,
                "text": item.text,
                "finding": item.code.value,
                "why": item.why,
                "columns": None if item.columns is None else list(item.columns),
                "slip": None if not item.slip else item.slip[0] if len(item.slip) == 1 else list(item.slip),
            }
            for item in working.findings
        ],
        "first_wrong": working.first_wrong,
        "marks": None if working.marks is None else _marks_record(working.marks),
        "margins": [{"text": item.text, "holds": item.holds, "margin": item.margin} for item in working.margins],
    }


def _marks_record(marks: Marks) -> dict[str, Any]:
    ledger = [
        {"waypoint": entry.waypoint, "kind": entry.kind.value, "got": entry.got, "line": entry.line, "why": entry.why}
        for entry in marks.ledger
    ]
    return {"got": marks.got, "of": marks.of, "ledger": ledger}
