"""Problems by name, of whatever family: one of a circuit, or one that runs across circuits.

Place in the data flow: a name -> WorkedProblem (from the desk) or Posed (from here) -> views.
"""

from __future__ import annotations

from functools import cache

from tutor.across.family import AcrossFamily, Posed, Setting, pose
from tutor.across.hinting import hints_of_posed
from tutor.errors import BadFamily, OutOfRange, unknown
from tutor.generate.name import ProblemName, read_name
from tutor.generate.problems_folder import ProblemsFolder, ids_in, load_module
from tutor.solution.desk import Desk, WorkedProblem, our_desk
from tutor.solution.hints import Hints, hints_of


def across_ids(folder: ProblemsFolder) -> tuple[str, ...]:
    """Ids of the families across circuits, sorted."""
    return ids_in(folder.path / "across", ".py")


def across_family(folder: ProblemsFolder, family_id: str) -> AcrossFamily:
    """The family across circuits of that id; UnknownName with the nearest, BadFamily when its file is wrong."""
    if family_id not in across_ids(folder):
        raise unknown("family", family_id, (*folder.family_ids(), *across_ids(folder)))
    file = folder.path / "across" / f"{family_id.replace('-', '_')}.py"
    return _read(load_module(file, BadFamily), family_id)


def _read(module: object, family_id: str) -> AcrossFamily:
    found = getattr(module, "FAMILY", None)
    where = f"problems/across/{family_id.replace('-', '_')}.py"
    if not isinstance(found, AcrossFamily):
        raise BadFamily(f"{where}: expected FAMILY = AcrossFamily(...) (got {type(found).__name__})")
    if len(found.levels) != 3:
        raise BadFamily(f"{where}: levels must hold three levels (got {len(found.levels)})")
    return AcrossFamily(**{**found.__dict__, "id": family_id})


def posed(desk: Desk, name: str | ProblemName) -> Posed:
    """The problem across circuits of that name. BadValue, UnknownName or OutOfRange when there is none such."""
    parsed = read_name(name) if isinstance(name, str) else name
    family = across_family(desk.folder, parsed.family)
    if parsed.level not in (1, 2, 3):
        raise OutOfRange(f"'{parsed.family}' has the levels 1, 2 and 3 (got {parsed.level})")
    if parsed.edition not in (0, family.edition):
        raise OutOfRange(f"'{parsed}' asks for edition {parsed.edition}; this version draws edition {family.edition}")
    if parsed.assumed:
        raise OutOfRange(f"'{parsed}' assumes something; what a family across circuits assumes stands in its problems")
    return pose(Setting(family, parsed.level, parsed.number, desk))


def any_problem(desk: Desk, name: str | ProblemName) -> WorkedProblem | Posed:
    """The problem of that name, of a circuit's family or of one across circuits.

    BadValue, UnknownName or OutOfRange when there is none such.
    """
    parsed = read_name(name) if isinstance(name, str) else name
    if parsed.family in across_ids(desk.folder):
        return posed(desk, parsed)
    if parsed.family not in desk.folder.family_ids():
        raise unknown("family", parsed.family, (*desk.folder.family_ids(), *across_ids(desk.folder)))
    return desk.problem(parsed)


def hints(name: str | ProblemName) -> tuple[Hints, ...]:
    """The hints of every waypoint of the problem of that name, in their order; refused as `problem` refuses."""
    desk = our_desk()
    parsed = read_name(name) if isinstance(name, str) else name
    worked = any_problem(desk, parsed)
    if isinstance(worked, Posed):
        return hints_of_posed(worked)
    ready = desk.level(parsed.family, parsed.level, parsed.assumed)
    return hints_of(ready, worked.drawn, worked.problem, worked.solution)


def problem(name: str) -> WorkedProblem | Posed:
    """The problem of that name (`zener-resistor:2:17`), worked. Raises a SteadyrailError naming what is wrong."""
    return any_problem(our_desk(), name)


@cache
def across_families() -> tuple[str, ...]:
    """Ids of the families across circuits there are."""
    return across_ids(our_desk().folder)
