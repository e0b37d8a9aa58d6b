"""What happens in the process of one run of tests: a changed source takes the file's place; lines are traced.

Nothing is written to the source: the changed text is compiled in the process alone, which was forked before anything
that imports the file was loaded. So compiled levels and other runs see nothing of a mutant.
"""

from __future__ import annotations

import ast
import importlib.machinery
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from importlib.abc import MetaPathFinder
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

import pytest

from tests.mutation.choosing import ROOT

QUIET = ["-q", "--noconftest", "-p", "no:cacheprovider", "--tb=no"]
OPTIONS = ["--rootdir", str(ROOT), "-o", "addopts=--import-mode=importlib"]


def module_name(path: str) -> str:
    """`tutor/plan/rule.py` is `tutor.plan.rule`."""
    return path.removesuffix(".py").replace("/", ".")


class _Changed(importlib.machinery.SourceFileLoader):
    """Loads a file from another text than the one on disk."""

    def __init__(self, name: str, path: str, text: str) -> None:
        super().__init__(name, path)
        self._text = text

    def get_code(self, fullname: str) -> CodeType:
        return compile(self._text, self.path, "exec", dont_inherit=True)


class Instead(MetaPathFinder):
    """Finds one module, and gives it the changed text."""

    def __init__(self, path: str, text: str) -> None:
        self._name, self._path, self._text = module_name(path), str(ROOT / path), text

    def find_spec(self, fullname: str, path: object = None, target: object = None) -> Any:
        if fullname != self._name:
            return None
        loader = _Changed(fullname, self._path, self._text)
        return importlib.machinery.ModuleSpec(fullname, loader, origin=self._path)


class Chosen:
    """Runs the tests chosen, in the order chosen, and no others; all of them where none are named."""

    def __init__(self, names: list[str]) -> None:
        self._order = {name: place for place, name in enumerate(names)}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        if self._order:
            items[:] = sorted(
                (item for item in items if item.nodeid in self._order), key=lambda item: self._order[item.nodeid]
            )


class Beginning:
    """Runs the tests whose names begin so: a file's, or with :: some of them."""

    def __init__(self, beginnings: list[str]) -> None:
        self._beginnings = tuple(beginnings)

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [item for item in items if item.nodeid.startswith(self._beginnings)]


Line = tuple[str, int]


class Traced:
    """Which lines of these files each test runs, and how long it takes."""

    def __init__(self, paths: list[str]) -> None:
        self._files = {str(ROOT / path): path for path in paths}
        self.loading: set[Line] = set()
        self.lines: dict[str, set[Line]] = defaultdict(set)
        self.shared: dict[str, set[Line]] = defaultdict(set)
        self.seconds: dict[str, float] = {}
        self.failed: list[str] = []
        self._now = [self.loading]

    def trace(self, frame: FrameType, event: str, argument: object) -> Any:
        """For sys.settrace: lines of these files alone."""
        return self._line if frame.f_code.co_filename in self._files else None

    def _line(self, frame: FrameType, event: str, argument: object) -> Any:
        if event == "line":
            here = (self._files[frame.f_code.co_filename], frame.f_lineno)
            for found in self._now:
                found.add(here)
        return self._line

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        begun = time.process_time()
        self._now = [self.lines[item.nodeid]]
        result = yield
        self._now = [self.loading]
        self.seconds[item.nodeid] = time.process_time() - begun
        return result

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_setup(self, item: pytest.Item) -> Iterator[None]:
        # What a shared fixture runs is run for every test of the file.
        self._now = [self.lines[item.nodeid], self.shared[item.nodeid.split("::")[0]]]
        result = yield
        self._now = [self.lines[item.nodeid]]
        return result

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed.append(report.nodeid)


def run_traced(paths: list[str], tests: list[str]) -> Traced:
    """All tests on the files as they are."""
    traced = Traced(paths)
    sys.settrace(traced.trace)
    files = list(dict.fromkeys(name.split("::")[0] for name in tests))
    status = pytest.main([*QUIET, *OPTIONS, *files], plugins=[Beginning(tests), traced])
    sys.settrace(None)
    if status != pytest.ExitCode.OK and not traced.failed:
        traced.failed.append(f"pytest ended with {status!r}")
    return traced


def run_changed(path: str, text: str, names: list[str]) -> int:
    """The tests named, on the changed text; pytest's status, 0 where all pass."""
    sys.meta_path.insert(0, Instead(path, text))
    files = list(dict.fromkeys(name.split("::")[0] for name in names))
    return int(pytest.main([*QUIET, *OPTIONS, "-x", *files], plugins=[Chosen(names)]))


def imports_of(root: Path) -> dict[str, set[str]]:
    """What each module of the package imports, of the package."""
    found: dict[str, set[str]] = {}
    for path in sorted(root.rglob("*.py")):
        name = ".".join(path.relative_to(root.parent).with_suffix("").parts).removesuffix(".__init__")
        wanted: set[str] = set()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                wanted |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
            elif isinstance(node, ast.Import):
                wanted |= {alias.name for alias in node.names}
        found[name] = wanted
    found[root.name] = set()  # its names are looked up when first used
    return {name: {item for item in wanted if item in found} for name, wanted in found.items()}


def resting_on(name: str, imports: dict[str, set[str]]) -> set[str]:
    """The module and all that import it, directly or not."""
    found = {name}
    while True:
        more = {item for item, wanted in imports.items() if wanted & found} - found
        if not more:
            return found
        found |= more
