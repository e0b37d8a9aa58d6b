"""Every sample of README, DEVELOPERS.md and the tours is run as it stands, and prints what is said beside it."""

from __future__ import annotations

import re
import shutil
from importlib.util import find_spec
from pathlib import Path

import pytest

from tests.docs.samples import INSTALLS, ROOT, Sample, Session, matches, samples_of

TOURS = ("learner", "lecturer", "author", "developer")
# HOWTO.md has tests of its own (tests/problems/test_howto.py); what is in docs/reference is made from the objects.
DOCUMENTS = (ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md")))
PROSE = {path.name: path.read_text(encoding="utf-8") for path in DOCUMENTS}


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """An empty folder with our problems in it, a terminal 80 columns wide."""
    shutil.copytree(ROOT / "problems", tmp_path / "problems", ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return Session(tmp_path)


@pytest.mark.parametrize("tour", TOURS)
def test_a_tour_can_be_gone_through_by_typing_what_stands_there(tour: str, session: Session) -> None:
    """One sample after another, each with what the ones before left behind."""
    samples = samples_of(ROOT / "docs" / f"{tour}.md")
    assert len(samples) >= 5
    for sample in samples:
        session.run(sample)


def test_the_python_of_the_readme_prints_what_its_comments_say(session: Session) -> None:
    """The sample is executed as it stands; the comment beside each print is its output."""
    (sample,) = [item for item in samples_of(ROOT / "README.md") if item.kind == "python"]
    claimed = re.findall(r"(?m)^print\(.*\)  # (.+)$", sample.text)
    assert len(claimed) == sample.text.count("print(") == 3
    assert session.run(sample).splitlines() == claimed


def test_every_sample_is_in_a_document_that_is_run() -> None:
    """Elsewhere there are only lines that install, which CI runs from the README; no block goes without its kind."""
    for path in DOCUMENTS:
        for sample in samples_of(path):
            ran = path.stem in TOURS or (path.name == "README.md" and sample.kind == "python")
            assert ran or (sample.kind == "sh" and INSTALLS.search(sample.text)), f"{path.name}, line {sample.line}"


@pytest.mark.parametrize("name", PROSE)
def test_modules_and_commands_named_in_prose_are_there(name: str) -> None:
    """`python -m X` names a module of ours or one the tests need, `steadyrail X` a command."""
    for module in re.findall(r"python -m ([\w.]+)", PROSE[name]):
        assert find_spec(module) is not None, module
    named = set(re.findall(r"`(?:\.venv/bin/)?steadyrail ([a-z]+)", PROSE[name]))
    assert named <= {"site", "list", "derive", "solve", "problem", "check", "bench", "paper", "mark"}


@pytest.mark.parametrize("name", PROSE)
def test_every_link_between_documents_leads_somewhere(name: str) -> None:
    """Relative to the document it stands in."""
    folder = next(path.parent for path in DOCUMENTS if path.name == name)
    for target in re.findall(r"\]\(([^)\s]+)\)", PROSE[name]):
        if not target.startswith(("https://", "#")):
            assert (folder / target.partition("#")[0]).exists(), target


def test_a_sample_that_prints_something_else_is_noticed(session: Session) -> None:
    """The checks above can fail: another line, another value, a failing command, a block that nobody runs."""
    with pytest.raises(AssertionError, match="prints"):
        session.run(Sample("x.md", 1, "sh", "echo one\n", "two\n"))
    with pytest.raises(AssertionError, match="Expected"):
        session.run(Sample("x.md", 1, "python", ">>> 1 + 1\n3\n"))
    with pytest.raises(AssertionError, match="steadyrail: there is no circuit 'folower'"):
        session.run(Sample("x.md", 1, "sh", "steadyrail derive folower\n"))
    with pytest.raises(AssertionError, match="nobody runs"):
        session.run(Sample("x.md", 1, "yaml", "a: b\n"))
    assert (
        matches("a\n...\nd", "a\nb\nc\nd\n")
        and matches("...\nd", "d")
        and matches("in .../x", "in /y/x")
        and not matches("a\nd", "a\nb\nd")
    )
