"""A problem by name made ready to be asked on a paper: worked, with its mark scheme and the sheet it is marked by."""

from __future__ import annotations

from dataclasses import replace

from tutor.across.family import Posed
from tutor.across.named import any_problem
from tutor.generate.name import ProblemName
from tutor.sets.paper import Asked
from tutor.solution.desk import Desk
from tutor.solution.scheme_of import scheme_of


def asked(desk: Desk, number: int, name: ProblemName, marks: int | None = None) -> Asked:
    """The problem of that name as question `number` of a paper; `marks` None: those of its mark scheme.

    BadValue, UnknownName or OutOfRange when there is no such problem.
    """
    worked = any_problem(desk, name)
    problem = worked.problem
    scheme = scheme_of(problem, worked.solution)
    whole = replace(name, edition=problem.edition)
    total = scheme.total if marks is None else marks
    if isinstance(worked, Posed):
        return Asked(
            number, str(whole), problem, worked.solution, scheme, total, worked.sheet, worked.lines, worked.caption,
            worked.withheld, whole,
        )  # fmt: skip
    return Asked(number, str(whole), problem, worked.solution, scheme, total, desk.sheet(name), named=whole)
