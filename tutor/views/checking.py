"""A working checked: what it is held against found, each line judged, marks given where there is a scheme.

Place in the data flow: text + a problem's name, or a circuit with somebody's own values -> CheckedWorking -> terminal,
JSON, Python. What joins findings and marks is `working/problem_checked.py`; here it is found what a working is held
against.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from tutor.across.family import Posed
from tutor.across.named import any_problem
from tutor.errors import BadValue
from tutor.generate.name import read_name
from tutor.quantities.prose import listed
from tutor.quantities.quantity import given
from tutor.quantities.symbols import symbol_for
from tutor.solution.desk import our_desk
from tutor.solution.own_sheet import own_sheet
from tutor.solution.own_values import read_own
from tutor.solution.scheme_of import scheme_of
from tutor.solution.sheets import sheet_of
from tutor.solution.solution import Check
from tutor.views.margin import rows_of
from tutor.working.check import check_working
from tutor.working.finding import Code, Finding
from tutor.working.ledger import LedgerEntry, Marks
from tutor.working.problem_checked import check_across, check_on_circuit, refuse_unusable

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
    refuse_unusable(text)
    if problem:
        if values or assume:
            instead = f"{problem}+NAME=VALUE"
            raise BadValue(f"'{problem}' has its own values; what else is assumed goes into the name: {instead}")
        return _on_problem(text, problem, decimal_comma)
    return _on_own_numbers(text, circuit, values or {}, assume or {}, decimal_comma)


def _on_problem(text: str, problem: str, decimal_comma: bool) -> CheckedWorking:
    name = read_name(problem)
    desk = our_desk()
    worked = any_problem(desk, name)
    told = worked.problem
    if isinstance(worked, Posed):
        sheet = None if worked.sheet is None else replace(worked.sheet, decimal_comma=decimal_comma)
        checked = check_across(text, told, worked.solution, sheet, decimal_comma=decimal_comma)
    else:
        ready = desk.level(name.family, name.level, name.assumed)  # with it the problem is not worked a second time
        sheet = replace(sheet_of(ready, worked.drawn, told, desk.recipes(ready)), decimal_comma=decimal_comma)
        checked = check_on_circuit(text, sheet, scheme_of(told, worked.solution))
    design = ", ".join(f"{key} = {given(value, symbol_for(key).unit).text}" for key, value in checked.chosen.items())
    return CheckedWorking(
        told.title, told.name, (), checked.findings, checked.first_wrong, checked.marks, design, checked.margins
    )


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
    lines = "line" if len(unread) == 1 else "lines"
    return f"No line that could be read is wrong; write {lines} {listed(unread)} again."


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
