"""Outputs: whole or not there, known again after a kill, and made anew when stale."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tutor.errors import OutOfRange, SteadyrailError
from tutor.sets.kept import digest_of, engine_version, is_kept, record_files, sweep_parts, write_whole


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "paper.pdf"
    write_whole(path, b"first")
    assert path.read_bytes() == b"first"

    def breaks() -> Iterator[str]:
        yield "half"
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_whole(path, breaks())
    assert path.read_bytes() == b"first", "what was there stays"
    assert os.listdir(path.parent) == ["paper.pdf"], "and nothing is left beside it"
    write_whole(path, ["a", "µ\n"])
    assert path.read_text(encoding="utf-8") == "aµ\n"


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(SteadyrailError, match=r"file/paper\.pdf cannot be written: "):
        write_whole(tmp_path / "file" / "paper.pdf", b"")


def test_what_a_kill_left_is_swept(tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / ".paper.pdf-x1.part").write_bytes(b"half")
    write_whole(tmp_path / "sub" / "paper.pdf", b"whole")
    assert sweep_parts(tmp_path) == 1 and os.listdir(tmp_path / "sub") == ["paper.pdf"]


def test_a_finished_paper_is_known_again_and_a_stale_one_is_not(tmp_path: Path) -> None:
    files = [tmp_path / "papers" / "a.pdf", tmp_path / "keys" / "a.pdf"]
    for path in files:
        write_whole(path, b"content")
    made_from = digest_of("set", ("a", "zener-state:1:3"), "version")
    assert not is_kept(tmp_path, "a", made_from), "files without a record may be half of what they should be"
    record_files(tmp_path, "a", made_from, files)
    assert is_kept(tmp_path, "a", made_from) and not is_kept(tmp_path, "b", made_from)
    for other in (("other", ("a", "zener-state:1:3"), "version"), ("set", ("a", "zener-state:1:4"), "version"),
                  ("set", ("a", "zener-state:1:3"), "next")):  # fmt: skip
        assert not is_kept(tmp_path, "a", digest_of(*other))
    files[1].write_bytes(b"changed")
    assert not is_kept(tmp_path, "a", made_from), "what was changed is made anew"
    files[1].write_bytes(b"content")
    assert is_kept(tmp_path, "a", made_from)
    files[0].unlink()
    assert not is_kept(tmp_path, "a", made_from), "and so is what is gone"


RUN = """
import os, sys
from pathlib import Path
from tutor.sets.kept import digest_of, is_kept, record_files, write_whole
out, dies_at = Path(sys.argv[1]), sys.argv[2]
def make(stem):
    write_whole(out / f"{stem}.txt", f"paper of {stem}")
    if stem == dies_at:
        write_whole(out / f"{stem}.key", half())  # killed between a learner's two files
    write_whole(out / f"{stem}.key", "key")
    return out / f"{stem}.txt", out / f"{stem}.key"
def half():
    yield "half a"
    os.kill(os.getpid(), 9)
for stem in "abcde":
    made_from = digest_of("set", stem)
    if not is_kept(out, stem, made_from):
        record_files(out, stem, made_from, make(stem))
        print(stem)
"""


def test_a_run_that_was_killed_goes_on_where_it_was(tmp_path: Path) -> None:
    """Killed within a learner's files, with no chance to tidy up: those before are kept, the rest is made, whole."""
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[2])}

    def run(dies_at: str) -> subprocess.CompletedProcess[str]:
        words = [sys.executable, "-c", RUN, str(tmp_path), dies_at]
        return subprocess.run(words, env=environment, capture_output=True, text=True, check=False)

    assert run("c").returncode == -9
    before = {path.name: path.stat().st_mtime_ns for path in tmp_path.glob("*.txt")}
    assert set(before) == {"a.txt", "b.txt", "c.txt"} and not (tmp_path / "c.key").exists()
    assert sweep_parts(tmp_path) == 1, "half a key was left, under another name"
    again = run("")
    assert again.stdout.split() == ["c", "d", "e"], again.stderr
    assert {name: (tmp_path / name).stat().st_mtime_ns for name in ("a.txt", "b.txt")}.items() <= before.items()
    assert sorted(path.name for path in tmp_path.iterdir() if path.is_file()) == sorted(
        f"{stem}.{end}" for stem in "abcde" for end in ("txt", "key")
    )
    assert run("").stdout.split() == [], "and a third run has nothing to do"


@pytest.mark.parametrize("content", ["", "{", "[]", '{"from": "x"}', '{"from": "x", "files": {"../../y": ""}}', "null"])
def test_a_record_that_is_none_counts_for_nothing(tmp_path: Path, content: str) -> None:
    (tmp_path / ".made").mkdir()
    (tmp_path / ".made" / "a.json").write_text(content)
    assert not is_kept(tmp_path, "a", "x")


def test_a_record_stays_within_the_folder(tmp_path: Path) -> None:
    with pytest.raises(OutOfRange, match="leads out of"):
        record_files(tmp_path, "../../a", "x", [])


def test_digests_tell_their_parts_apart() -> None:
    """Where one part ends and the next begins matters, as does every part."""
    told = {digest_of("ab", "c"), digest_of("a", "bc"), digest_of("abc"), digest_of("ab", "c", ""), digest_of("ab", 1)}
    assert len(told) == 5
    assert engine_version() == engine_version() and len(engine_version()) == 64
