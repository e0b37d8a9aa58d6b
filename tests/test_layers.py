"""One way for data to flow: a file imports only lower layers or its own folder, and nothing goes round in a circle."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
LAYERS = (
    "errors", "quantities", "circuit", "laws", "plan", "generate", "bench", "solution", "across", "working", "sets",
    "views", "__main__",
)  # fmt: skip
RANK = {name: rank for rank, name in enumerate(LAYERS)}
TUTOR_FILES = sorted(
    path for path in (ROOT / "tutor").rglob("*.py") if path.relative_to(ROOT / "tutor").parts != ("__init__.py",)
)
PROBLEM_FILES = sorted((ROOT / "problems").rglob("*.py"))


def layer_of(path: Path) -> str:
    return path.relative_to(ROOT / "tutor").with_suffix("").parts[0]


def imported_modules(path: Path) -> list[str]:
    """Every module named by an import anywhere in a file, inside functions too."""
    found: list[str] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative imports hide where a name comes from"
            found.append(node.module or "")
            found += [f"{node.module}.{alias.name}" for alias in node.names]
    return found


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


def test_only_the_two_doors_load_lazily() -> None:
    """importlib is used by the package's `__getattr__`, the command table, and the loader of authors' files."""
    users = {
        str(path.relative_to(ROOT))
        for path in [*TUTOR_FILES, ROOT / "tutor" / "__init__.py"]
        if any(
            module in ("importlib", "importlib.util", "importlib.import_module") for module in imported_modules(path)
        )
    }
    assert users <= {"tutor/__init__.py", "tutor/__main__.py", "tutor/generate/catalogue.py"}


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
