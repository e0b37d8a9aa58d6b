"""The target of what is typed at the terminal: one word a line, the first the command.

Every command ends with status 0, 1 or 2. With 2 it says one sentence and nothing on standard output; nothing is ever a
traceback. It runs in an empty folder, and writes nowhere but where an option of its own says.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import tempfile
from functools import cache
from importlib import import_module
from pathlib import Path

from tests.fuzz.feed import as_text
from tests.fuzz.files import tree
from tests.fuzz.watch import watched
from tutor.__main__ import COMMANDS, main
from tutor.generate.store_files import store_folder

# What takes minutes where it is right is tried by tests of its own: the whole site, papers and marks of a class.
LONG = ("site", "paper", "mark")
_NEVER = ("--open", "--cluster", "--help", "-h")
_MOST_WORDS = 12
_WORKING = "R = (V_I - V_Z)/(I_L + I_Z)\nR <= (17.5 - 11)/15m = 433 Ω\n"
_kept: list[tempfile.TemporaryDirectory[str]] = []


@cache
def _folder() -> Path:
    kept = tempfile.TemporaryDirectory(prefix="steadyrail-typed-")
    _kept.append(kept)
    for module, _ in COMMANDS.values():
        import_module(module)
    (Path(kept.name) / "mine.txt").write_text(_WORKING, encoding="utf-8")
    return Path(kept.name)


def typed(words: list[str], stdin: bytes = b"") -> tuple[int, str, str]:
    """The command as it is typed, in this process: its exit status, standard output and standard error."""
    out, err = io.StringIO(), io.StringIO()
    before = sys.stdin
    sys.stdin = io.TextIOWrapper(io.BytesIO(stdin), encoding="utf-8")
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            try:
                main(words)
            except SystemExit as ended:
                status = ended.code
    finally:
        sys.stdin = before
    assert isinstance(status, int)
    return status, out.getvalue(), err.getvalue()


def can_be_typed(word: str) -> bool:
    """Whether a system can hand a word over: bytes, none of them zero."""
    try:
        return b"\0" not in word.encode("utf-8", "surrogateescape")
    except UnicodeEncodeError:
        return False


def ends_well(words: list[str], stdin: bytes = b"") -> int:
    """Runs a command in a folder with a working; what is true of every end of one. Its status."""
    folder = _folder()
    stood = tree(folder)
    before = Path.cwd()
    os.chdir(folder)
    try:
        with watched(store_folder(), algebra=True):
            status, out, err = typed(words, stdin)
    finally:
        os.chdir(before)
    assert tree(folder) == stood
    assert status in (0, 1, 2), status
    assert "Traceback" not in err and " object at 0x" not in out + err
    if status == 2:
        assert out == "" and err.startswith("steadyrail: ") and err.count("\n") == 1, (out, err)
        assert len(err) < 3000, err[:300]
        assert all(char.isprintable() for char in err[:-1]), err
    return status


def command(data: bytes) -> None:
    """The words of a command; one that would take minutes, or open a browser, is left to tests of its own."""
    words = as_text(data).split("\n")[:_MOST_WORDS]
    if not all(map(can_be_typed, words)) or words[0] in LONG or any(word.startswith(_NEVER) for word in words):
        return
    if "bench" in words[0] and any(word.startswith(("--plot", "--csv", "--netlist", "--s")) for word in words):
        return  # writes where it is told to
    ends_well(words, _WORKING.encode())
