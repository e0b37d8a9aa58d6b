"""Start-up of each command: a light use of it, start to exit, with all it needs in the store, against starting Python.

A command that derives something loads the algebra, and is held against starting Python with sympy beside it.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from processes import Ground
from table import Row, Section, figures
from timing import Effort, Timing, interleaved

PROBLEM = ("-m", "tutor", "problem", "zener-resistor", "--level", "2", "--number", "1")
NOTHING, NUMPY, SYMPY = ("-c", "pass"), ("-c", "import numpy"), ("-c", "import sympy")
WORKING = ("working.txt", "V_R = V_I - V_Z\n")
LIGHT = {
    "--help": ("--help",),
    "site --help": ("site", "--help"),
    "paper --help": ("paper", "--help"),
    "mark --help": ("mark", "--help"),
    "list": ("list",),
    "check": ("check", WORKING[0], "--problem", "zener-resistor:2:1"),
}
DERIVING = {
    "derive source": ("derive", "source"),
    "solve zener-shunt": ("solve", "zener-shunt", "V_I=15V", "R=220", "V_Z=9.1V", "R_L=1k", "--find", "I_Z"),
    "bench zener-shunt": ("bench", "zener-shunt"),
}
MOST = 0.5  # s, where nothing is derived, on a machine that does nothing else
HOW = (
    f"Whole processes, start to exit, processor time; at most {MOST:g} s is asked where nothing is derived. problem is "
    "zener-resistor, level 2, number 1, and check one line of a working on it. Store empty: the level is derived and "
    "planned with sympy, and kept. Store full: it is read back, without sympy. derive, solve and bench always derive. "
    "One run of each is made beforehand, so that bytecode and files are at hand for all."
)


def times_as_long(ours: Timing, theirs: Timing) -> str:
    """Our time in terms of theirs, in words."""
    return f"{figures(ours.median / theirs.median)} times as long"


def measure(effort: Effort) -> Section:
    """A row for each command, and what a first problem costs from nothing."""
    light, deriving = (
        {name: ("-m", "tutor", *words) for name, words in some.items()} for some in (LIGHT, DERIVING)
    )
    bare = {"python": NOTHING, "numpy": NUMPY, "sympy": SYMPY}
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as name:
        ground = Ground(Path(name))
        (ground.folder / WORKING[0]).write_text(WORKING[1])
        filled = {"problem": PROBLEM, **light, **deriving, **bare}
        for words in filled.values():  # a round apart: its store is filled, bytecode is written, files are in memory
            ground.run(words, -1)
        found = interleaved(
            {
                "empty": ground.first_process(PROBLEM),
                **{name: ground.process(words, -1) for name, words in filled.items()},
            },
            effort.rounds,
        )
    python, numpy, sympy = (found[name] for name in bare)
    full, empty = found["problem"], found["empty"]
    rows = [
        Row("problem, store full", full, "problem, store empty", empty, ""),
        Row("problem, store full", full, "python -c 'import numpy'", numpy, times_as_long(full, numpy)),
        *(
            Row(name, found[name], "python -c pass", python, times_as_long(found[name], python))
            for name in ("problem", *light)
        ),
        *(
            Row(name, found[name], "python -c 'import sympy'", sympy, times_as_long(found[name], sympy))
            for name in deriving
        ),
    ]
    return Section(tuple(rows), HOW)
