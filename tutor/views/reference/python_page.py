"""The page on Python: the doors of the package, the values they return, and the errors.

Place in the data flow: `tutor.__all__`, the classes themselves -> Markdown.
"""

from __future__ import annotations

import dataclasses
import enum
import inspect
import re
from collections.abc import Callable, Iterator

import tutor
from tutor import errors
from tutor.across.family import Posed, ShownLine
from tutor.circuit.circuit import Circuit
from tutor.generate.problem import Problem, Remark, SlipValue, TableRow, Waypoint, WaypointKind
from tutor.laws.law import Bound, Law, LawSet
from tutor.quantities.quantity import Quantity
from tutor.solution.answer import WorkedAnswer
from tutor.solution.derivation_values import Derivation, DerivedCircuit
from tutor.solution.desk import Desk, WorkedProblem
from tutor.solution.solution import Chain, Check, Solution, WorkedStep
from tutor.views.checking import CheckedWorking
from tutor.views.reference.markdown import code, docstring, fenced, page, plain, table
from tutor.working.finding import Code, Finding
from tutor.working.ledger import LedgerEntry, Marks

_COMMENTED = re.compile(r"(?m)^    (\w+): [^#\n]+# (.+)$")

# What the doors return, and what those consist of, in the order in which one meets them.
VALUES: tuple[type, ...] = (
    *(Quantity, Circuit, Law, LawSet, Bound, DerivedCircuit, Derivation, WorkedAnswer, WorkedProblem, Posed, ShownLine),
    *(Problem, TableRow, Waypoint, WaypointKind, SlipValue, Remark, Solution, WorkedStep, Chain, Check),
    *(CheckedWorking, Finding, Code, Marks, LedgerEntry, Desk),
)


def python_page() -> str:
    """The page: each door with its signature and docstring, each value with its fields, each error."""
    doors = [_door(name) for name in tutor.__all__]
    values = [part for value in VALUES for part in _value(value)]
    told = table(("error", "what it says"), [(code(item.__name__), docstring(item)) for item in error_tree()])
    about = "What `import tutor` offers. Values are frozen; numbers in them are SI (°C for temperatures T_*)."
    return page("Python", about, ["## Functions", *doors, "## Values", *values, "## Errors", told])


def error_tree() -> tuple[type[Exception], ...]:
    """The base of our errors, and its children."""
    found = [item for item in vars(errors).values() if inspect.isclass(item)]
    return tuple(item for item in found if issubclass(item, errors.SteadyrailError))


def signature(function: Callable[..., object], name: str = "") -> str:
    """A function's head as it is written: names, types, defaults.

    >>> signature(error_tree)
    'error_tree() -> tuple[type[Exception], ...]'
    """
    told = inspect.signature(function)
    words, starred = [], False
    for item in told.parameters.values():
        if item.kind is item.KEYWORD_ONLY and not starred:
            words.append("*")
            starred = True
        text = item.name if item.annotation is item.empty else f"{item.name}: {_type_name(item.annotation)}"
        if item.kind is item.VAR_KEYWORD:
            text = f"**{text}"
        words.append(text if item.default is item.empty else f"{text} = {item.default!r}")
    listed = [word for word in words if word != "self"]
    ends = "" if told.return_annotation is told.empty else f" -> {_type_name(told.return_annotation)}"
    return f"{name or function.__name__}({', '.join(listed)}){ends}"


def _type_name(annotation: object) -> str:
    return annotation if isinstance(annotation, str) else getattr(annotation, "__name__", str(annotation))


def _said_of_fields(value: type) -> dict[str, str]:
    """What stands in a comment behind a field of a class."""
    return dict(_COMMENTED.findall(inspect.getsource(value)))


def _door(name: str) -> str:
    function = getattr(tutor, name)
    return f"### `tutor.{name}`\n\n{fenced(signature(function, name), 'python')}\n\n{docstring(function)}"


def _value(value: type) -> Iterator[str]:
    yield f"### `{value.__name__}`"
    yield docstring(value)
    if issubclass(value, enum.Enum):
        yield ", ".join(code(str(item.value)) for item in value) + "."
    elif dataclasses.is_dataclass(value):
        fields = [item for item in dataclasses.fields(value) if not item.name.startswith("_")]
        said = _said_of_fields(value)
        rows = [(code(item.name), code(_type_name(item.type)), plain(said.get(item.name, ""))) for item in fields]
        yield table(("field", "type", "what it is"), rows)
    for name, item in vars(value).items():
        if name.startswith("_") or not item.__doc__:
            continue
        if inspect.isfunction(item):
            yield f"`.{signature(item, name)}`: {docstring(item)}"
        elif not inspect.isclass(item) and hasattr(item, "__get__"):
            yield f"`.{name}`: {docstring(item)}"
