"""The documents tell the truth: the README invites, and every circuit, family, command and path is there.

Their samples are run by `tests/docs/test_samples.py`.
"""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

import tutor
from tutor.__main__ import COMMANDS

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

SHELL_LINES = [
    line
    for text in re.findall(r"```sh\n(.*?)```", README, flags=re.DOTALL)
    for line in text.splitlines()
    if line.strip()
]
CONTENTS = (ROOT / "docs" / "contents.md").read_text(encoding="utf-8")
TOURS = "".join((ROOT / "docs" / f"{who}.md").read_text(encoding="utf-8") for who in ("learner", "lecturer", "author"))


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


def test_the_readme_is_an_invitation() -> None:
    """One paragraph, one picture, two commands, and where each reader goes; what is longer stands behind a link."""
    assert len(README.splitlines()) <= 60
    for who in ("learner", "lecturer", "author", "developer"):
        assert re.search(rf"\| an? {who} \| .*\]\(docs/{who}\.md\)", README), who
    assert "](docs/reference/README.md)" in README and "](docs/contents.md)" in README


@pytest.mark.parametrize("name", [*tutor.circuits(), *tutor.families(), *tutor.across_families()])
def test_every_circuit_and_family_is_in_the_contents(name: str) -> None:
    """The tables of docs/contents.md are complete."""
    assert f"| `{name}` |" in CONTENTS


def test_the_contents_list_nothing_that_is_not_there() -> None:
    """Nor do its tables promise more than there is."""
    listed = set(re.findall(r"^\| `([a-z0-9-]+)` \|", CONTENTS, flags=re.MULTILINE))
    assert listed == {*tutor.circuits(), *tutor.families(), *tutor.across_families()}


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_in_a_tour(command: str) -> None:
    """A command nobody is told of does not exist."""
    assert re.search(rf"\bsteadyrail {command}\b", TOURS)


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
