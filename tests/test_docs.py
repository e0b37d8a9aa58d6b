"""The documents tell the truth: the README invites, and every circuit, family, command and path is there.

Their samples are run by `tests/docs/test_samples.py`.
"""

from __future__ import annotations

import re
import subprocess
import tomllib
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


QUOTED = sorted(set(re.findall(r"`([^`\n]+)`", DEVELOPERS)))
PLACEHOLDER = re.compile(r"NAME|KEY|TARGET|\*")  # stand for a file to come
MADE_OR_OTHERS = {
    "axe.min.js",
    "bank/",
    "sheets/",
    "own/",
    "desks/",
}  # folders of a built site; a file of npm's package
WRITTEN = (".py", ".js", ".html", ".css", ".toml", ".md", ".txt", ".json", ".typ", ".ipynb", ".png")


@pytest.fixture(scope="module")
def files() -> dict[str, Path]:
    """Every file of ours by its path from the top."""
    tops = ("tutor", "problems", "site", "tests", "docs", ".ci")
    found = [path for top in tops for path in (ROOT / top).rglob("*") if path.is_file()]
    found += [path for path in ROOT.iterdir() if path.is_file()]
    return {f"/{path.relative_to(ROOT).as_posix()}": path for path in found if "__pycache__" not in path.parts}


def test_every_path_the_guide_names_exists(files: dict[str, Path]) -> None:
    """A guide that points nowhere is worse than none; a path may be told from the folder of its layer on."""
    paths = [item for item in QUOTED if item.endswith((*WRITTEN, "/")) and not PLACEHOLDER.search(item)]
    paths = [item.split()[-1] for item in paths if item not in MADE_OR_OTHERS]
    assert len(paths) > 100
    for path in paths:
        there = any(f"/{path}" in name if path.endswith("/") else name.endswith(f"/{path}") for name in files)
        assert there, path


def test_every_name_the_guide_quotes_stands_in_the_sources(files: dict[str, Path]) -> None:
    """Functions, types, fields and settings are called as they are called in the code."""
    sources = [path for name, path in files.items() if path.suffix in WRITTEN[:4] and not name.startswith("/docs/")]
    text = "\n".join(path.read_text(encoding="utf-8") for path in sources)
    names = [item for item in QUOTED if re.fullmatch(r"[\w.]+", item) and not item.endswith(WRITTEN)]
    assert len(names) > 20
    assert [item for item in names if not re.search(rf"(?<!\w){re.escape(item)}(?!\w)", text)] == []


def test_the_guide_says_what_each_dependency_saves() -> None:
    """Everything that pyproject.toml asks for is spoken of."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [
        *project["dependencies"],
        *(item for extra in project["optional-dependencies"].values() for item in extra),
    ]
    told = DEVELOPERS.lower()
    assert [name for item in wanted if (name := re.split(r"[\[>=]", item)[0]) not in told] == []


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
