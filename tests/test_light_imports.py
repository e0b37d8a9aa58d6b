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
# What checking a working stands on below it: plain values and rules.
BELOW = ["tutor.plan.rule", "tutor.solution.sheet", "tutor.solution.scheme", "tutor.solution.recipe_json"]
HEAVY = ("sympy", "numpy", "jinja2", "markdown", "schemdraw", "ziamath", "fontTools", "rich", "click", "matplotlib")
# A follower of one law, by hand; its working checked and marked.
CHECKED = """
from tutor.plan.rule import Rule
from tutor.quantities.expression import Add, Neg, Sym
from tutor.solution.scheme import Scheme
from tutor.solution.sheet import Recipe, Sheet
from tutor.working.check import check_working
from tutor.working.marks import mark_working
rule = Rule("V_O", Add((Sym("V_B"), Neg(Sym("V_BE")))))
recipe = Recipe("", ("V_B", "V_BE"), (), (), (), (rule,), (), ())
given = {"V_B": 5.6, "V_BE": 0.7}
near = tuple({name: value * (1 + place / 100) for name, value in given.items()} for place in (1, 2))
sheet = Sheet("follower", "", {"V_O": "V", "V_B": "V", "V_BE": "V"}, {}, given, given, recipe, near, recipe, None, near)
checked = check_working("V_O = V_B - V_BE = 4.9 V\\nV_O = V_B + V_BE", sheet)
assert [item.code.value for item in checked.findings] == ["holds-here", "fails"]
mark_working(checked, Scheme("", ()))
"""


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


@pytest.mark.parametrize("module", [*LIGHT, *BELOW])
def test_quantities_and_working_load_nothing_heavy(module: str) -> None:
    """They could run in a browser: no algebra, no arrays, no templates, no drawings, no terminal."""
    assert loaded(f"import {module}", HEAVY) == []


def test_the_modules_that_judge_a_working_are_among_them() -> None:
    """The list above is that of the folders; these are what it is for."""
    assert {"tutor.working.check", "tutor.working.marks", "tutor.working.read", "tutor.quantities.units"} <= set(LIGHT)
    assert loaded("import numpy, jinja2", HEAVY) == ["numpy", "jinja2"]


def test_checking_and_marking_a_working_load_nothing_heavy() -> None:
    """Not only their import: a sheet in hand, a working is read, judged and marked with plain Python."""
    assert loaded(CHECKED, HEAVY) == []


def test_a_stored_problem_needs_no_algebra(tmp_path: Path) -> None:
    """The first drawing of a level compiles it; every later one runs without importing sympy."""
    code = "import tutor; tutor.problem('zener-resistor:2:17')"
    assert loaded(code, ("sympy",), tmp_path) == ["sympy"]
    assert loaded(code, ("sympy", "jinja2", "schemdraw"), tmp_path) == []


def test_a_stored_sheet_needs_no_algebra(tmp_path: Path) -> None:
    """Recipes stand beside the plans: what a working is held against is there without importing sympy."""
    code = "from tutor.solution.desk import our_desk; our_desk().sheet('supply-source-model:1:3')"
    assert loaded(code, ("sympy",), tmp_path) == ["sympy"]
    assert loaded(code, ("sympy", "jinja2", "schemdraw"), tmp_path) == []


def test_papers_of_stored_levels_need_no_algebra_and_no_cluster(tmp_path: Path) -> None:
    """Every worker process makes papers: what it loads is paid for each time."""
    code = (
        "from tutor.sets.paper import *; from tutor.sets.papers import papers; import tutor.sets.pool; "
        "import tutor.sets.equal; ask = Question(Drawn('supply-source-model', 1)); "
        "next(papers(ClassSet('T', 1, (ask,), (Learner('1'),))))"
    )
    assert loaded(code, ("sympy",), tmp_path) == ["sympy"]
    assert loaded(code, ("sympy", "jinja2", "schemdraw", "distributed", "dask"), tmp_path) == []


def test_the_bench_loads_the_plotter_only_for_a_plot(tmp_path: Path) -> None:
    words = ["bench", "zener-shunt", "--sweep", "I_L=0:10mA:3"]
    code = "from tutor.__main__ import steadyrail\nsteadyrail.main({words!r}, standalone_mode=False)"
    assert loaded(code.format(words=words), ("matplotlib", "jinja2", "schemdraw")) == []
    words += ["--plot", str(tmp_path / "x.svg")]
    assert loaded(code.format(words=words), ("matplotlib",)) == ["matplotlib"]
