"""One way for data to flow: a file imports only lower layers or its own folder, and nothing goes round in a circle."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tutor.errors import BadValue
from tutor.later import later

ROOT = Path(__file__).resolve().parents[1]
LAYERS = (
    "errors", "later", "quantities", "circuit", "laws", "plan", "generate", "bench", "solution", "across", "working",
    "sets", "views", "__main__",
)  # fmt: skip
RANK = {name: rank for rank, name in enumerate(LAYERS)}
TUTOR_FILES = sorted(
    path for path in (ROOT / "tutor").rglob("*.py") if path.relative_to(ROOT / "tutor").parts != ("__init__.py",)
)
LATER_FILES = [
    path
    for path in TUTOR_FILES
    if path.name != "later.py" and re.search(r"\blater *\(|\btutor\.later\b", path.read_text(encoding="utf-8"))
]
PROBLEM_FILES = sorted((ROOT / "problems").rglob("*.py"))


def layer_of(path: Path) -> str:
    return path.relative_to(ROOT / "tutor").with_suffix("").parts[0]


def imported_modules(path: Path) -> list[str]:
    """Every module named by an import anywhere in a file, inside functions too, and every one named for later."""
    text = path.read_text(encoding="utf-8")
    found = list(named_later(text).values())
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative imports hide where a name comes from"
            found.append(node.module or "")
            found += [f"{node.module}.{alias.name}" for alias in node.names]
    return found


def named_later(text: str) -> dict[str, str]:
    """Modules that a file names for later, by what it calls them: `pages = later("tutor.views.pages")`."""
    if "later(" not in text:
        return {}
    return {
        node.targets[0].id: node.value.args[0].value
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Assign)
        and isinstance(node.targets[0], ast.Name)
        and isinstance(node.value, ast.Call)
        and isinstance(node.value.func, ast.Name)
        and node.value.func.id == "later"
        and isinstance(node.value.args[0], ast.Constant)
    }


def said_of_later(text: str) -> list[str]:
    """What is wrong with the modules that a file names for later: each stands alone under `else`, and the import under
    `if TYPE_CHECKING` beside it gives the same module the same name, so that types are those of what is loaded."""
    tree = ast.parse(text)
    doors = [
        node
        for node in tree.body
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    ]
    typed = {
        alias.asname or alias.name: f"{node.module}.{alias.name}"
        for door in doors
        for node in door.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    named = {name: module for door in doors for name, module in named_later(ast.unparse(door.orelse)).items()}
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)
             and ast.unparse(node.func).rpartition(".")[2].lower() == "later"]  # fmt: skip
    wrong = [f"{name} is {module} when run, {typed.get(name)} when typed" for name, module in named.items()
             if typed.get(name) != module]  # fmt: skip
    return wrong + ["one stands elsewhere"] * (len(calls) != len(named))


def wrong_imports(layer: str, modules: list[str]) -> list[str]:
    """The imports a file of `layer` may not make."""
    wrong = []
    for module in modules:
        parts = module.split(".")
        if parts[0] == "problems" or (
            parts[0] == "tutor" and len(parts) > 1 and parts[1] in RANK and (RANK[parts[1]] > RANK[layer])
        ):
            wrong.append(module)
    return wrong


@pytest.mark.parametrize("path", TUTOR_FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_file_imports_only_lower_layers_or_its_own_folder(path: Path) -> None:
    """Imports inside functions count as imports."""
    layer = layer_of(path)
    assert layer in RANK, f"{path} is in no layer of the design"
    assert wrong_imports(layer, imported_modules(path)) == []


def test_a_planted_import_upwards_is_noticed() -> None:
    """The check above can fail: laws may not import views, nor anything the problems by name."""
    assert wrong_imports("laws", ["tutor.views.terminal"]) == ["tutor.views.terminal"]
    assert wrong_imports("views", ["problems.families.zener_state"]) == ["problems.families.zener_state"]
    assert wrong_imports("views", ["tutor.laws.law"]) == []


@pytest.mark.parametrize("path", PROBLEM_FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_problem_files_import_what_declares_and_below(path: Path) -> None:
    """An author's file needs the vocabulary, nothing that words or shows a problem."""
    highest = "across" if path.parent.name == "across" else "generate"
    above = [
        module
        for module in imported_modules(path)
        if module.startswith("tutor.") and RANK.get(module.split(".")[1], 0) > RANK[highest]
    ]
    assert above == []


def test_only_the_three_doors_load_lazily() -> None:
    """importlib: by the package's `__getattr__`, the command table, `later`, and the loader of authors' files."""
    users = {
        str(path.relative_to(ROOT))
        for path in [*TUTOR_FILES, ROOT / "tutor" / "__init__.py"]
        if any(
            module in ("importlib", "importlib.util", "importlib.import_module") for module in imported_modules(path)
        )
    }
    assert users <= {"tutor/__init__.py", "tutor/__main__.py", "tutor/later.py", "tutor/generate/problems_folder.py"}


@pytest.mark.parametrize("path", LATER_FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_what_is_named_for_later_is_what_is_typed(path: Path) -> None:
    """Nothing slips past the checker of types, the layers or the circles by being imported later."""
    assert said_of_later(path.read_text(encoding="utf-8")) == []


LATER = """
if TYPE_CHECKING:
    from tutor.views import {typed}
else:
    pages = later("{named}")
"""


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (LATER.format(typed="pages", named="tutor.views.pages"), []),
        (LATER.format(typed="site as pages", named="tutor.views.site"), []),
        (LATER.format(typed="site", named="tutor.views.site"), ["pages is tutor.views.site when run, None when typed"]),
        (
            LATER.format(typed="site as pages", named="tutor.views.pages"),
            ["pages is tutor.views.pages when run, tutor.views.site when typed"],
        ),
        ('def show():\n    return later("tutor.views.pages").shown()', ["one stands elsewhere"]),
        ('pages = later("tutor.views.pages")', ["one stands elsewhere"]),
        ('from tutor import later as door\npages = door.later("tutor.views.pages")', ["one stands elsewhere"]),
    ],
)
def test_a_planted_name_for_later_is_noticed(text: str, said: list[str]) -> None:
    """The check above can fail; and what is named for later is among the imports that layers and circles look at."""
    assert said_of_later(text) == said


def test_what_is_named_for_later_counts_as_an_import() -> None:
    """A file of a low layer that names a view for later would be found out."""
    modules = imported_modules(ROOT / "tutor" / "views" / "paper_files.py")
    assert "tutor.views.set_pages" in modules
    assert wrong_imports("plan", list(named_later(LATER.format(typed="pages", named="tutor.views.pages")).values()))


def test_a_module_named_for_later_is_loaded_once_it_is_asked() -> None:
    """Not before; a name that it has not is refused as by the module itself."""
    named = later("tutor.errors")
    assert named.BadValue is BadValue
    with pytest.raises(AttributeError, match="has no attribute 'GoodValue'"):
        named.GoodValue  # noqa: B018
    with pytest.raises(ModuleNotFoundError):
        later("tutor.no_such_module").anything  # noqa: B018


def inside_functions(path: Path) -> list[int]:
    """Lines of imports that stand inside a function."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [
        inner.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        for inner in ast.walk(node)
        if isinstance(inner, ast.Import | ast.ImportFrom)
    ]


@pytest.mark.parametrize("path", TUTOR_FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_import_hides_inside_a_function(path: Path) -> None:
    """An import in a function would be a way round the layers."""
    assert inside_functions(path) == []


def test_no_import_circle() -> None:
    """Modules can be put in an order in which each imports only those before it."""
    names = {".".join(path.relative_to(ROOT).with_suffix("").parts): path for path in TUTOR_FILES}
    needs = {
        name: {module for module in imported_modules(path) if module in names and module != name}
        for name, path in names.items()
    }
    ordered: set[str] = set()
    while len(ordered) < len(needs):
        free = {name for name, wanted in needs.items() if name not in ordered and wanted <= ordered}
        assert free, f"a circle among {sorted(set(needs) - ordered)}"
        ordered |= free
