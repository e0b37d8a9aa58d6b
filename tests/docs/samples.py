"""Samples of the documents, taken out as they stand and run in order, in a folder of their own.

Vocabulary: a *sample* is a fenced block, `sh` (lines for a shell) or `python` (a session with >>>, or a script); a
block `text` straight after one of a shell is what it prints. Three dots in that stand for what is left out of a line,
alone on a line for any lines. Lines that install anything are run by CI from the README and nowhere else.
"""

from __future__ import annotations

import doctest
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path

from tutor.__main__ import main

ROOT = Path(__file__).resolve().parents[2]
FENCE = re.compile(r"^```(?P<kind>\w*)\n(?P<text>.*?)^```$", re.DOTALL | re.MULTILINE)
INSTALLS = re.compile(r"pip install|venv|activate")
FLAGS = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS


@dataclass(frozen=True)
class Sample:
    """A block: its document, the line of its first word, its kind, its text, what it is to print (None: not told)."""

    file: str
    line: int
    kind: str
    text: str
    printed: str | None = None


def samples_of(file: Path) -> list[Sample]:
    """The samples of a document, in order; a block `text` belongs to the one straight before it."""
    text = file.read_text(encoding="utf-8")
    found: list[Sample] = []
    past = 0
    for match in FENCE.finditer(text):
        line = text.count("\n", 0, match.start()) + 2
        if match["kind"] == "text" and found and not text[past : match.start()].strip():
            found[-1] = Sample(found[-1].file, found[-1].line, found[-1].kind, found[-1].text, match["text"])
        else:
            found.append(Sample(file.name, line, match["kind"], match["text"]))
        past = match.end()
    return found


class Spaced(doctest.OutputChecker):
    """No-break spaces, which hold a value and its unit together, are typed as spaces in a document."""

    def check_output(self, want: str, got: str, optionflags: int) -> bool:
        """Whether what a line gives is what is told."""
        return super().check_output(want, got.replace("\u00a0", " "), optionflags)


@dataclass
class Session:
    """Where the samples of one document are run, one after another, with what they leave behind."""

    folder: Path
    names: dict[str, object] = field(default_factory=dict)

    def run(self, sample: Sample) -> str:
        """What a sample prints; AssertionError where it fails or, told what it prints, prints something else."""
        if sample.kind == "python":
            return self._python(sample)
        assert sample.kind == "sh", f"{sample.file}, line {sample.line}: nobody runs a block of '{sample.kind}'"
        printed = "".join(self._shell(sample))
        if sample.printed is not None:
            assert matches(sample.printed, printed), f"{sample.file}, line {sample.line} prints\n{printed}"
        return printed

    def _python(self, sample: Sample) -> str:
        if ">>> " not in sample.text:
            told = StringIO()
            with redirect_stdout(told):
                exec(compile(sample.text, f"{sample.file}:{sample.line}", "exec"), self.names)
            return told.getvalue()
        test = doctest.DocTestParser().get_doctest(sample.text, self.names, sample.file, sample.file, sample.line)
        runner, told = doctest.DocTestRunner(Spaced(), optionflags=FLAGS), StringIO()
        failed = runner.run(test, out=told.write, clear_globs=False).failed
        self.names.update(test.globs)
        assert not failed, told.getvalue()
        return ""

    def _shell(self, sample: Sample) -> Iterator[str]:
        """Commands of ours are run in the process, a block with anything a shell is needed for by the shell."""
        text = sample.text.replace("\\\n", " ")
        lines = [line for line in text.splitlines() if line.strip()]
        if not all(re.match(r"steadyrail [^|<>]*$", line) for line in lines):
            yield self._by_the_shell(sample)
            return
        for line in lines:
            status, printed, complaint = in_process(shlex.split(line, comments=True)[1:])
            assert status in (0, 1), f"{sample.file}, line {sample.line}: {line}\n{complaint}"
            yield printed

    def _by_the_shell(self, sample: Sample) -> str:
        done = subprocess.run(
            ["bash", "-e", "-c", f'steadyrail() {{ "{sys.executable}" -m tutor "$@"; }}\n{sample.text}'],
            cwd=self.folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )
        assert done.returncode in (0, 1), f"{sample.file}, line {sample.line}: {done.stderr}"
        return done.stdout


def in_process(arguments: list[str]) -> tuple[object, str, str]:
    """Exit status and both outputs of a command of ours."""
    out, complaint = StringIO(), StringIO()
    status: object = 0
    with redirect_stdout(out), redirect_stderr(complaint):
        try:
            main(arguments)
        except SystemExit as stop:
            status = stop.code or 0
    return status, out.getvalue(), complaint.getvalue()


def matches(told: str, printed: str) -> bool:
    """Whether a text is what is told; in that three dots stand for anything, alone on a line for any lines.

    >>> matches("a\\n...\\nd", "a\\nb\\nc\\nd"), matches("in .../week", "in x/week"), matches("a\\nd", "a\\nb\\nd")
    (True, True, False)
    """
    wanted = [line.rstrip() for line in told.strip("\n").splitlines()]
    within = [".*".join(map(re.escape, line.split("..."))) + "\n" for line in wanted]
    pattern = "".join("(?:.*\n)*?" if line == "..." else made for line, made in zip(wanted, within, strict=True))
    lines = "".join(f"{line.rstrip()}\n" for line in printed.strip("\n").splitlines())
    return re.fullmatch(pattern, lines) is not None
