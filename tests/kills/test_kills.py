"""`site`, `paper` and `mark` killed at random moments, a few times each; `tests.kills.run` does it more often."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from tests.kills.commands import commands
from tests.kills.killing import Standing, standing
from tests.kills.run import BETWEEN, NEW, OLD, NotWhole, Undisturbed, judged

TIMES = 3
ROOT = Path(__file__).resolve().parents[2]
A, B, C = "digest a", "digest b", "digest c"


@pytest.mark.skipif(not hasattr(os, "fork"), reason="runs are forked")
def test_what_stood_there_stays_whole_and_the_next_run_finishes() -> None:
    """Once at a random moment, once late, once instead of a rename; forked, so that imports are paid for once."""
    words = [sys.executable, "-m", "tests.kills.run", "--times", str(TIMES), "--forked"]
    where = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(words, cwd=ROOT, env=where, capture_output=True, text=True, timeout=1500, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    told = re.findall(rf"^(\w+): killed {TIMES} times; .*; wrong: 0$", done.stdout, flags=re.MULTILINE)
    assert told == ["site", "paper", "mark"]


def of(**files: str) -> Standing:
    return Standing(files, ())


AFTER = of(same=A, one=B, two=B, come=B)
WHOLE = Undisturbed(of(same=A, one=A, two=A, left=A), AFTER, AFTER, status=0, seconds=1.0, renames=0)


@pytest.mark.parametrize(
    ("now", "at_once", "verdict"),
    [
        (WHOLE.old, True, OLD),
        (WHOLE.new, True, NEW),
        (of(same=A, one=B, two=A, left=A), False, BETWEEN),
        (of(same=A, one=B, two=B, left=A, come=B), False, BETWEEN),
        (of(same=A, one=B, two=A, left=A), True, "a mixture"),
        (of(same=A, one=C, two=A, left=A), False, "one is neither the old one nor the new"),
        (of(one=A, two=A, left=A), False, "same is neither the old one nor the new"),
        (of(same=A, one=A, two=A, left=A, more=C), False, "more is neither the old one nor the new"),
        (of(), True, "a mixture"),
        (replace(WHOLE.old, half=(".one-x.part",)), False, "stand half-written"),
    ],
)
def test_what_is_no_whole_output_is_seen(tmp_path: Path, now: Standing, at_once: bool, verdict: str) -> None:
    """The judgement can fail: a mixture, a file that is neither, one too many, one too few, half a file."""
    command = replace(commands(tmp_path, light=True)[0], at_once=at_once)
    if verdict in (OLD, NEW, BETWEEN):
        assert judged(command, WHOLE, now) == verdict
    else:
        with pytest.raises(NotWhole, match=verdict):
            judged(command, WHOLE, now)


def test_what_is_kept_for_the_next_run_is_no_output_and_half_a_file_is_seen(tmp_path: Path) -> None:
    command = commands(tmp_path, light=True)[1]
    for name in ("papers/1.pdf", ".coming-papers/papers/1.pdf", ".coming-papers/.x.part", "keys/.1.pdf-a.part"):
        (command.out / name).parent.mkdir(parents=True, exist_ok=True)
        (command.out / name).write_bytes(b"content")
    found = standing(command)
    assert set(found.files) == {"papers/1.pdf", "keys/.1.pdf-a.part"} and found.half == ("keys/.1.pdf-a.part",)
