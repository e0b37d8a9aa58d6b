"""Public docstrings: there is one everywhere; it names the errors raised, the units of numbers, the source of formulas.

*Public* is every module, and every class, function and method of a module whose name has no leading underscore.
"""

from __future__ import annotations

import ast
import builtins
import doctest
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path

import pytest

from tutor import errors
from tutor.circuit.circuit import LoadModel
from tutor.laws.derive import derive
from tutor.solution.desk import our_desk

TUTOR = Path(__file__).resolve().parents[2] / "tutor"
FILES = sorted(TUTOR.rglob("*.py"))
NAMES = [str(path.relative_to(TUTOR)) for path in FILES]

# Numbers: what a bare one may be, in words, where it is not SI.
UNIT = re.compile(
    r"\bSI\b|°C|Ω|%|(?<![\w'’])([mkµ]?[VWFKS]|[mµ]A)\b|(?:\(|\bin |\d )[As]\b|\bHz\b"
    r"|\b(ohms?|volts|amperes|kelvins?|siemens|farads|seconds|units?|pure|dimensionless|fractions?|per cent|shares?"
    r"|ratios?|factors?|relative|figures|number|points|marks|columns|cost|radians|pixels?|characters)\b"
)
NUMBERS = re.compile(r"\b(float|Array)\b")
# Where formulas of the trade and of mathematics stand; elsewhere they come from the laws, which carry their own source.
FORMULAS = ("bench/", "sets/class_figures.py", "sets/shape.py", "plan/evaluate.py", "quantities/preferred.py")
SOURCE = re.compile(r"\b([Ss]ources?|definition|common practice|IEC|SI Brochure|Kirchhoff|Ohm's law)\b|, (19|20)\d\d\)")
FUNCTIONS = {"exp", "expm1", "log", "log1p", "log10", "sqrt", "power", "tanh", "sin", "cos"}
MUCH = 3  # products, quotients, powers and such functions: from here on a function is a formula


@dataclass(frozen=True)
class Public:
    """Something public: where it is, its node, its docstring, and those of what it stands in."""

    place: str
    node: ast.FunctionDef | ast.ClassDef
    text: str
    above: str


def public_in(source: str, name: str) -> Iterator[Public]:
    """Everything public of a module, classes before their methods."""
    tree = ast.parse(source)
    yield from _within(tree, name, ast.get_docstring(tree) or "")


def _within(node: ast.Module | ast.ClassDef, place: str, above: str) -> Iterator[Public]:
    for item in node.body:
        if isinstance(item, ast.FunctionDef | ast.ClassDef) and not item.name.startswith("_"):
            text = ast.get_docstring(item) or ""
            yield Public(f"{place}, {item.name}", item, text, above)
            if isinstance(item, ast.ClassDef):
                yield from _within(item, f"{place}, {item.name}", f"{above}\n{text}")


@cache
def error_makers() -> dict[str, str]:
    """Functions that return an error, and methods with a dot before their name -> what they return."""
    found = {}
    for path in FILES:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        methods = [(".", item) for node in tree.body if isinstance(node, ast.ClassDef) for item in node.body]
        for dot, node in [*(("", item) for item in tree.body), *methods]:
            if isinstance(node, ast.FunctionDef) and node.returns is not None:
                returned = ast.unparse(node.returns)
                if returned in vars(errors) or returned == "Broken":
                    found[f"{dot}{node.name}"] = returned
    return found


Private = dict[str, ast.FunctionDef]


def private_in(source: str) -> Private:
    """The functions and methods of a module that nobody else calls, by name."""
    found = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.FunctionDef)]
    return {node.name: node for node in found if node.name.startswith("_") and not node.name.startswith("__")}


def raised(function: ast.FunctionDef, private: Private, seen: tuple[str, ...] = ()) -> set[str]:
    """The errors that a function raises, by name, and those of the private functions that it calls.

    One that it catches itself, or that was caught and goes on, is not told.
    """
    caught: dict[ast.AST, set[str]] = {}
    for node in ast.walk(function):
        if isinstance(node, ast.Try):
            types = " ".join(ast.unparse(handler.type) for handler in node.handlers if handler.type is not None)
            kinds = set(re.findall(r"\w+", types))
            for inner in (part for item in node.body for part in ast.walk(item)):
                caught.setdefault(inner, set()).update(kinds)
    found = set()
    for node in ast.walk(function):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            called = node.exc.func
            name = f".{called.attr}" if isinstance(called, ast.Attribute) else ast.unparse(called)
            name = error_makers().get(name, name)
            names = {name} if name[0].isupper() else set()
        elif isinstance(node, ast.Call):
            name = ast.unparse(node.func).rpartition(".")[2]
            names = raised(private[name], private, (*seen, name)) if name in private and name not in seen else set()
        else:
            continue
        found |= {name for name in names if not (accepted(name) | {"Exception"}) & caught.get(node, set())}
    return found


def accepted(name: str) -> set[str]:
    """Names under which a docstring may tell of an error: its own, or that of any it is a kind of."""
    kind = getattr(errors, name, None) or getattr(builtins, name, None)
    if kind is None:
        return {name}
    return {item.__name__ for item in kind.__mro__} - {"Exception", "BaseException", "object"}


def is_command(function: ast.FunctionDef) -> bool:
    """A command of the terminal: its docstring is its help, and exit status 2 is told of all of them together."""
    return any("click.command" in ast.unparse(item) for item in function.decorator_list)


def untold_errors(item: Public, private: Private) -> set[str]:
    """Errors that a public function raises and neither it nor its class tells of."""
    if not isinstance(item.node, ast.FunctionDef) or is_command(item.node):
        return set()
    told = f"{item.text}\n{item.above}"
    found = raised(item.node, private)
    return {name for name in found if not any(re.search(rf"\b{word}\b", told) for word in accepted(name))}


def without_units(item: Public, lines: list[str]) -> bool:
    """Numbers are handed over, and no unit is named in docstring or comment."""
    node = item.node
    if isinstance(node, ast.ClassDef):
        annotated = [part.annotation for part in node.body if isinstance(part, ast.AnnAssign)]
        comments = [line.partition("#")[2] for line in lines[node.lineno - 1 : node.end_lineno]]
    else:
        annotated = [*(part.annotation for part in (*node.args.args, *node.args.kwonlyargs)), node.returns]
        comments = []
    if not any(part is not None and NUMBERS.search(ast.unparse(part)) for part in annotated):
        return False
    return UNIT.search("\n".join((item.text, item.above, *comments))) is None


def is_formula(function: ast.FunctionDef) -> bool:
    """Whether much is reckoned in it."""
    count = 0
    for node in ast.walk(function):
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div | ast.Pow):
            texts = [part for part in (node.left, node.right) if isinstance(part, ast.JoinedStr | ast.List | ast.Tuple)]
            count += not texts
        elif isinstance(node, ast.Call):
            count += ast.unparse(node.func).rpartition(".")[2] in FUNCTIONS
    return count >= MUCH


def unsourced(item: Public, name: str, lines: list[str]) -> bool:
    """A formula with no source in its docstring, in those above it, or in a comment within it."""
    node = item.node
    if not name.startswith(FORMULAS) or not isinstance(node, ast.FunctionDef) or not is_formula(node):
        return False
    comments = [line.partition("#")[2] for line in lines[node.lineno - 1 : node.end_lineno]]
    return SOURCE.search("\n".join((item.text, item.above, *comments))) is None


@pytest.mark.parametrize("name", NAMES)
def test_public_docstrings_say_what_they_must(name: str) -> None:
    """Of each file: a docstring everywhere, errors by name, units of numbers, sources of formulas."""
    source = (TUTOR / name).read_text(encoding="utf-8")
    lines = source.splitlines()
    found = list(public_in(source, name))
    assert ast.get_docstring(ast.parse(source)), f"{name} does not say what it is"
    assert [item.place for item in found if not item.text] == []
    private = private_in(source)
    assert [(item.place, untold) for item in found if (untold := untold_errors(item, private))] == []
    assert [item.place for item in found if without_units(item, lines)] == []
    assert [item.place for item in found if unsourced(item, name, lines)] == []


def has_examples(source: str) -> bool:
    """Whether a docstring of a module holds one, a private one's too."""
    kinds = (ast.Module, ast.ClassDef, ast.FunctionDef)
    nodes = [node for node in ast.walk(ast.parse(source)) if isinstance(node, kinds)]
    return any(">>> " in (ast.get_docstring(node) or "") for node in nodes)


EXAMPLES = [name for name in NAMES if has_examples((TUTOR / name).read_text(encoding="utf-8"))]


@pytest.mark.parametrize("name", EXAMPLES)
def test_examples_in_docstrings_give_what_they_say(name: str) -> None:
    """Each is typed into the module it stands in."""
    parts = Path(name).with_suffix("").parts
    module = import_module(".".join(("tutor", *(part for part in parts if part != "__init__"))))
    done = doctest.testmod(module)
    assert done.attempted and not done.failed


BAD = '''
"""A module."""
def bare(): ...
def sharp(name):
    """The thing of that name."""
    raise unknown("thing", name, ())
def handing_on(count):
    """One of them."""
    return _one(count)
def handing_nothing_on(count):
    """One of them, or none."""
    try:
        return _one(count)
    except SteadyrailError:
        return None
def _one(count):
    raise OutOfRange("too many")
def long(value: float):
    """A value, twice."""
def drained(a, b):
    """How fast it drains."""
    return a * b / a**2
class Kind:
    """A kind; SteadyrailError where there is none, values in V."""
    def of(self, value: float):
        """One of it."""
        raise BadValue("no")
'''


def test_each_of_the_checks_above_can_fail() -> None:
    """A planted module: nothing said, an error untold, a number without its unit, a formula from nowhere."""
    found = {item.node.name: item for item in public_in(BAD, "bench/bad.py")}
    lines = BAD.splitlines()
    assert [name for name, item in found.items() if not item.text] == ["bare"]
    assert {name: untold for name, item in found.items() if (untold := untold_errors(item, private_in(BAD)))} == {
        "sharp": {"UnknownName"},
        "handing_on": {"OutOfRange"},
    }
    assert [name for name, item in found.items() if without_units(item, lines)] == ["long"]
    assert [name for name, item in found.items() if unsourced(item, "bench/bad.py", lines)] == ["drained"]


def test_every_law_of_every_circuit_names_its_source() -> None:
    """Laws are data: where each comes from stands beside it."""
    folder = our_desk().folder
    for circuit_id in folder.circuit_ids():
        circuit = folder.circuit(circuit_id)
        for region in circuit.regions:
            for law in derive(circuit, region, LoadModel.SINK, with_slopes=False).laws:
                assert law.source.strip(), (circuit_id, region.id, law.id)
