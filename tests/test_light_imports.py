"""What stays light: values and reading load no algebra, arrays or templates; a stored problem needs no algebra."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from tutor.__main__ import COMMANDS
from tutor.across.named import posed
from tutor.solution.desk import our_desk

ROOT = Path(__file__).resolve().parents[1]
LIGHT = sorted(
    ".".join(path.relative_to(ROOT).with_suffix("").parts)
    for folder in ("quantities", "working")
    for path in (ROOT / "tutor" / folder).glob("*.py")
)
# What checking a working stands on below it: plain values and rules.
BELOW = ["tutor.plan.rule", "tutor.solution.sheet", "tutor.solution.scheme", "tutor.solution.recipe_json"]
HEAVY = ("sympy", "numpy", "jinja2", "markdown", "schemdraw", "ziamath", "fontTools", "rich", "click", "matplotlib")
# What some commands need, and others not: fontTools comes with whatever draws or prints, and is left out.
HEAVIER = (*(name for name in HEAVY if name != "fontTools"), "typst", "segno", "xlsxwriter", "dask", "distributed")
IMPORTED = """
import sys
from importlib import import_module
for module in {modules!r}:
    import_module(module)
    if found := [name for name in {heavy!r} if name in sys.modules]:
        print(module, *found)
        break
else:
    print("none")
"""
# Commands one after another in one process; what each of them was the first to load.
COMMANDED = """
import contextlib, io, json, sys
from tutor.__main__ import steadyrail
there, told = set(), []
for words in {commands!r}:
    with contextlib.redirect_stdout(io.StringIO()):
        try:
            steadyrail.main(words, standalone_mode=False)
        except SystemExit as ended:
            sys.exit(str(words)) if ended.code else None
    told.append(sorted({{name for name in {heavy!r} if name in sys.modules}} - there))
    there.update(told[-1])
print(json.dumps(told))
"""
LEVEL = "supply-source-model"  # its first level is compiled soon
PROBLEM, ACROSS = f"{LEVEL}:1:3", "direction-of-change:1:1"
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


def printed(code: str, store: Path | None = None) -> str:
    """The last line that a fresh interpreter prints on running `code`, over a store of its own where one is given."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    if store is not None:
        environment["STEADYRAIL_STORE"] = str(store)
    words = [sys.executable, "-c", code]
    done = subprocess.run(words, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()[-1]


def loaded(code: str, heavy: tuple[str, ...], store: Path | None = None) -> list[str]:
    """Which of the heavy packages a fresh interpreter has loaded after running `code`."""
    told = f"import sys; print('', *[name for name in {heavy!r} if name in sys.modules])"
    return printed(f"{code}\n{told}", store).split()


def first_loaded(modules: list[str]) -> str:
    """The first of the modules, imported one after another, with which a heavy package came; with which."""
    return printed(IMPORTED.format(modules=modules, heavy=HEAVY))


def first_loaded_by(commands: list[list[str]]) -> list[list[str]]:
    """Which of the heavy packages each command was the first to load, all of them run in one fresh interpreter."""
    found: list[list[str]] = json.loads(printed(COMMANDED.format(commands=commands, heavy=HEAVIER)))
    return found


def test_quantities_and_working_load_nothing_heavy() -> None:
    """They could run in a browser: no algebra, no arrays, no templates, no drawings, no terminal."""
    assert first_loaded([*LIGHT, *BELOW]) == "none"
    assert first_loaded([*LIGHT, "tutor.generate.draws", *BELOW]) == "tutor.generate.draws numpy"


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
        "import tutor.sets.equal; ask = Question(DrawnQuestion('supply-source-model', 1)); "
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


def test_help_loads_the_parser_alone() -> None:
    """The list of commands, and each command's own help: nothing of what it would work with."""
    asked = [["--help"], *([name, "--help"] for name in COMMANDS)]
    assert first_loaded_by(asked) == [["click"], *([] for _ in COMMANDS)]


def test_a_kept_listing_loads_the_parser_and_the_terminal(tmp_path: Path) -> None:
    """The first runs every author's file; a later one reads what was kept of them."""
    code = "from tutor.__main__ import steadyrail\nsteadyrail.main(['list'], standalone_mode=False)"
    assert loaded(code, HEAVIER, tmp_path) == ["numpy", "rich", "click"]
    assert loaded(code, HEAVIER, tmp_path) == ["rich", "click"]


def test_commands_load_what_they_need(tmp_path: Path) -> None:
    """With a full store no algebra before something is derived; no plots before a report, no drawing
    before a paper, no cluster. Beside each command stands what it is the first to load."""
    our_desk().sheet(PROBLEM), posed(our_desk(), ACROSS)  # the store is full
    returned, working = tmp_path / "returned", tmp_path / "working.txt"
    returned.mkdir()
    for path in (working, returned / "1.txt"):
        path.write_text("Q1\nR_S = (V_I_1 - V_I_2)/(I_I_2 - I_I_1)\n")
    (tmp_path / "set.toml").write_text(
        f'title = "T"\nseed = 1\n[learners]\nvariants = 1\n[[questions]]\nfamily = "{LEVEL}"\nlevel = 1\n'
    )
    set_file, papers, marks = (str(tmp_path / name) for name in ("set.toml", "papers", "marks"))
    runs = [
        (["check", str(working), "--problem", PROBLEM], ["click", "numpy", "rich"]),
        (["problem", PROBLEM], []),
        (["problem", PROBLEM, "--solution", "--json"], []),
        (["problem", ACROSS], []),
        (["list"], []),
        (["mark", set_file, str(returned), "--out", marks, "--processes", "1", "--no-pdf"],
             ["jinja2", "matplotlib", "typst", "xlsxwriter"]),
        (["paper", set_file, "--out", papers, "--processes", "1"], ["schemdraw", "segno", "ziamath"]),
        (["derive", "source"], ["sympy"]),
        (["solve", "source", "V_OC=18V", "R_S=3", "R_L=33"], []),
        (["bench", "source"], []),
    ]  # fmt: skip
    found = first_loaded_by([words for words, _ in runs])
    assert [(words[0], first) for (words, _), first in zip(runs, found, strict=True)] == [
        (words[0], first) for words, first in runs
    ]
