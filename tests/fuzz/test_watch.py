"""The means of the fuzzing can fail: what is written, run, compiled, hung or overdone is noticed."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from tests.fuzz.feed import HOSTILE, PIECES, as_text, mutated
from tests.fuzz.watch import TooMuchWork, at_most, watched

ROOT = Path(__file__).resolve().parents[2]
ACTS: dict[str, Callable[[Path], object]] = {
    "a file written": lambda folder: (folder / "x").write_text("x"),
    "a file opened for more": lambda folder: os.close(os.open(folder / "x", os.O_RDWR | os.O_CREAT)),
    "a folder made": lambda folder: (folder / "y").mkdir(),
    "a link made": lambda folder: (folder / "z").symlink_to("/"),
    "a file renamed": lambda folder: (folder / "there").rename(folder / "gone"),
    "a program run": lambda folder: os.system("true"),
    "a process begun": lambda folder: subprocess.run(["true"], check=True),
    "a text evaluated": lambda folder: eval("1 + 1"),
    "a text run": lambda folder: exec("x = 1"),
}


@pytest.mark.parametrize("act", ACTS)
def test_what_is_done_beside_computing_is_heard(act: str, tmp_path: Path) -> None:
    """Each of these fails inside a watch."""
    (tmp_path / "there").write_text("x")
    with pytest.raises(AssertionError), watched():
        ACTS[act](tmp_path)


def test_what_is_allowed_is_not_held_against_anyone(tmp_path: Path) -> None:
    """Reading, computing, and writing where one may; and after the watch anything."""
    (tmp_path / "in").mkdir()
    with watched(tmp_path / "in"):
        (tmp_path / "in" / "x").write_text("x")
        assert (tmp_path / "in" / "x").read_text() == "x"
        os.stat("/")
    with pytest.raises(AssertionError, match=r"out$"), watched(tmp_path / "in"):
        (tmp_path / "in" / ".." / "out").write_text("x")
    (tmp_path / "out").unlink()


def test_code_of_the_algebra_is_told_from_code_that_acts() -> None:
    """What reckons may be made; what names a module may not."""
    with watched(algebra=True):
        compile("def f(x):\n    return x**2\n", "<lambdifygenerated-1>", "exec")
    for text in ("__import__('os')", "import os", "open('x')"):
        with pytest.raises(AssertionError), watched(algebra=True):
            compile(text, "<string>", "exec")


def test_too_much_work_is_counted() -> None:
    """By calls: a loop without end is left after so many."""
    def endless() -> None:
        while True:
            as_text(b"")

    with pytest.raises(TooMuchWork), at_most(1000):
        endless()
    with at_most(1000):
        as_text(b"")


def test_changes_stay_within_the_longest_and_come_again() -> None:
    """The same seed makes the same changes; hostile text and pieces are among them."""
    made = [mutated(b"R = 5", Random(seed), 400) for seed in range(300)]
    assert made == [mutated(b"R = 5", Random(seed), 400) for seed in range(300)]
    assert max(map(len, made)) == 400 and len(set(made)) > 200
    assert len(set(HOSTILE)) == len(HOSTILE) and len(set(PIECES)) == len(PIECES)


def test_the_command_runs_a_target_for_a_time(tmp_path: Path) -> None:
    """As it is documented: seeds, hostile texts and changes are fed, and a sound target ends with status 0."""
    words = [sys.executable, "-m", "tests.fuzz.unguided", "netlist", "0.5", "1", str(tmp_path)]
    ended = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False)
    assert ended.returncode == 0, ended.stdout + ended.stderr
    assert "0 places broke" in ended.stdout and (tmp_path / "slowest").is_file()
