"""The most memory that the main commands take, each in a process of its own, against importing numpy alone."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

from table import Row, Section
from timing import Effort, Timing

import tutor

NAME = "zener-state:1:3"
SET = """title = "Memory"
[learners]
variants = 2
[[questions]]
problem = "zener-state:1:3"
[[questions]]
problem = "zener-resistor:2:17"
"""
RETURNED = "Q1\nV_TH = V_I R_L/(R + R_L)\nQ2\nI_ZM = P_ZM/V_Z\n"
COMMANDS = {
    "problem": ("problem", NAME),
    "check": ("check", "working.txt", "--problem", NAME),
    "solve": ("solve", "zener-shunt", "V_I=15V", "R=220", "V_Z=9.1V", "R_L=1k"),
    "paper, 2 learners": ("paper", "set.toml", "--out", "papers", "--processes", "1"),
    "mark, 2 learners": ("mark", "set.toml", "returned", "--out", "marks", "--processes", "1"),
    "site, one topic": ("site", "--single", "zener-state", "--problems", "5", "--out", "topic"),
}
WHOLE_SITE = {"site, 5 problems a level": ("site", "--problems", "5", "--out", "site")}
HOW = (
    "The most memory a process took at any time (resident, MB), one process for each command, its work done in that "
    "process; plans from the store (the whole site once). Theirs: a process that imports numpy and does nothing. The "
    "ratio is theirs ÷ ours."
)
_RUN = "from tutor.__main__ import steadyrail\nsteadyrail.main({words!r}, standalone_mode=False)"


def peak_of(code: str, folder: Path) -> float:
    """The most memory of a process that runs `code` in `folder`, in MB. RuntimeError when it fails."""
    places = [str(Path(tutor.__file__).resolve().parents[1]), str(Path(__file__).parent)]
    code = f"import sys; sys.path[:0] = {places!r}\n{code}\nfrom peak import peak_memory\nprint(peak_memory())"
    done = subprocess.run([sys.executable, "-c", code], cwd=folder, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"a process failed: {(done.stderr or done.stdout).strip().rpartition(chr(10))[2]}")
    return float(done.stdout.rpartition("\n")[0].rpartition("\n")[2])


def rows_for(commands: Mapping[str, tuple[str, ...]], rounds: int) -> tuple[Row, ...]:
    """A row for each command; its figures are megabytes."""
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as name:
        folder = Path(name)
        (folder / "set.toml").write_text(SET)
        (folder / "working.txt").write_text("V_TH = V_I R_L/(R + R_L)\n")
        (folder / "returned").mkdir()
        for place in (1, 2):
            (folder / "returned" / f"{place}.txt").write_text(RETURNED)
        numpy = Timing(tuple(peak_of("import numpy", folder) for _ in range(rounds)))
        rows = []
        for what, words in commands.items():
            peaks = Timing(tuple(peak_of(_RUN.format(words=list(words)), folder) for _ in range(rounds)))
            rows.append(Row(what, peaks, "numpy alone", numpy, "", unit="MB"))
        return tuple(rows)


def measure(effort: Effort) -> Section:
    """The rows of every command; the whole site where it is measured."""
    rows = rows_for(COMMANDS, effort.few_rounds)
    if effort.measures:
        rows += rows_for(WHOLE_SITE, 1)  # minutes, and many of them where its plans are not in the store yet
    return Section(rows, HOW)
