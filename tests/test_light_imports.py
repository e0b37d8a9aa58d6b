"""What stays light: values and reading load no algebra, arrays or templates; a stored problem needs no algebra."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
LIGHT = sorted(
    ".".join(path.relative_to(ROOT).with_suffix("").parts)
    for folder in ("quantities", "working")
    for path in (ROOT / "tutor" / folder).glob("*.py")
)


def loaded(code: str, heavy: tuple[str, ...], store: Path | None = None) -> list[str]:
    """Which of the heavy packages a fresh interpreter has loaded after running `code`."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    if store is not None:
        environment["STEADYRAIL_STORE"] = str(store)
    code += f"\nimport sys; print('LOADED', *[name for name in {heavy!r} if name in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env=environment, capture_output=True, text=True, check=True, timeout=120
    )
    return done.stdout.splitlines()[-1].split()[1:]


@pytest.mark.parametrize("module", LIGHT)
def test_quantities_and_working_load_nothing_heavy(module: str) -> None:
    """They could run in a browser: neither sympy nor numpy nor a template engine nor a drawing library."""
    assert loaded(f"import {module}", ("sympy", "numpy", "jinja2", "schemdraw", "rich", "click")) == []


def test_a_stored_problem_needs_no_algebra(tmp_path: Path) -> None:
    """The first drawing of a level compiles it; every later one runs without importing sympy."""
    code = "import tutor; tutor.problem('zener-resistor:2:17')"
    assert loaded(code, ("sympy",), tmp_path) == ["sympy"]
    assert loaded(code, ("sympy", "jinja2", "schemdraw"), tmp_path) == []
