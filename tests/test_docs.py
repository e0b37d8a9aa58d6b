"""The documents tell the truth: their commands run, and every circuit, family and command is listed."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import tutor
from tutor.__main__ import COMMANDS

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

BLOCKS = re.findall(r"```(\w+)\n(.*?)```", README, flags=re.DOTALL)
SHELL_LINES = [line for kind, text in BLOCKS if kind == "sh" for line in text.splitlines() if line.strip()]
TERMINAL_LINES = [line for line in SHELL_LINES if line.startswith(".venv/bin/steadyrail")]


def run(arguments: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


def test_the_readme_has_its_two_commands() -> None:
    """One line builds and opens the site, one passes the tests, each with all its own set-up."""
    set_up = [line for line in SHELL_LINES if line.startswith("python3 -m venv .venv && ")]
    assert len(set_up) == 2
    assert set_up[0].endswith("steadyrail site --open")
    assert set_up[1].endswith("python -m pytest -n auto")


def test_the_readme_states_the_job_before_all_else() -> None:
    """The first paragraph comes straight after the title, and the picture of a page straight after it."""
    parts = [part for part in README.split("\n\n") if part.strip()]
    assert parts[0] == "# Steadyrail"
    assert parts[1].startswith("Steadyrail is for")
    assert parts[2].startswith("![")


def test_the_readme_picture_exists() -> None:
    """A page it makes is shown, from a file in the repository."""
    for target in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README):
        assert (ROOT / target).is_file(), target


@pytest.mark.parametrize("line", TERMINAL_LINES)
def test_every_terminal_command_of_the_readme_runs(line: str, tmp_path: Path) -> None:
    """In an empty folder, with exit status 0, plainly and with --json."""
    words = line.split()[1:]
    for extra in ([], ["--json"]):
        done = run(["-m", "tutor", *words, *extra], tmp_path)
        assert done.returncode == 0, done.stderr
        assert done.stdout.strip()
    json.loads(done.stdout)


def test_the_python_of_the_readme_runs_and_prints_what_its_comment_says(tmp_path: Path) -> None:
    """The sample is executed as it stands; the comment beside the first print is its output."""
    sample = next(text for kind, text in BLOCKS if kind == "python")
    (tmp_path / "sample.py").write_text(sample, encoding="utf-8")
    done = run(["sample.py"], tmp_path)
    assert done.returncode == 0, done.stderr
    claimed = re.search(r"print\(.*\)  # (.+)", sample)
    assert claimed is not None
    assert done.stdout.splitlines()[0] == claimed.group(1)


@pytest.mark.parametrize("name", [*tutor.circuits(), *tutor.families(), *tutor.across_families()])
def test_every_circuit_and_family_is_in_the_readme(name: str) -> None:
    """The tables of the README are complete."""
    assert f"| `{name}` |" in README


def test_the_readme_lists_nothing_that_is_not_there() -> None:
    """Nor do its tables promise more than there is."""
    listed = set(re.findall(r"^\| `([a-z0-9-]+)` \|", README, flags=re.MULTILINE))
    assert listed == {*tutor.circuits(), *tutor.families(), *tutor.across_families()}


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_in_the_readme_or_the_changes(command: str) -> None:
    """A command nobody is told of does not exist."""
    assert re.search(rf"\bsteadyrail {command}\b|`{command}`", README)


def test_the_guide_names_every_layer_in_order() -> None:
    """The drawing of the layers is the order the layer test holds."""
    line = next(line for line in DEVELOPERS.splitlines() if "quantities < circuit" in line)
    assert re.findall(r"[a-z_]+", line.split("(")[0]) == [
        "quantities", "circuit", "laws", "plan", "generate", "bench", "solution", "across", "working", "sets",
        "views", "__main__",
    ]  # fmt: skip


@pytest.mark.parametrize("path", sorted(set(re.findall(r"`((?:tests|problems|tutor|site)/[\w./-]+)`", DEVELOPERS))))
def test_every_path_the_guide_names_exists(path: str) -> None:
    """A guide that points nowhere is worse than none; placeholders in capitals stand for a file to come."""
    if "NAME" not in path:
        assert (ROOT / path).exists(), path


def test_the_repository_keeps_to_its_top_level() -> None:
    """What is tracked at the top is what the design names, and dot-files."""
    tracked = subprocess.run(
        ["git", "ls-tree", "--name-only", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if tracked.returncode != 0:
        return
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "LICENSE",
        "pyproject.toml",
        "tutor",
        "problems",
        "tests",
        "site",
        "docs",
    }
    assert {name for name in tracked.stdout.split() if not name.startswith(".")} <= allowed
