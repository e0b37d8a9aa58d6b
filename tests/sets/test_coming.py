"""What a run makes takes its place when all of it is there; what a killed one left is gone on from, or goes."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.errors import SteadyrailError
from tutor.sets.coming import Coming, coming_for
from tutor.sets.kept import record_files, write_whole


def made(coming: Coming, stem: str, text: str) -> None:
    """A learner's file and its record, as they are coming."""
    path = coming.path / "papers" / f"{stem}.txt"
    write_whole(path, text)
    record_files(coming.path, stem, text, [path])


def told(folder: Path) -> dict[str, str]:
    """What stands in a folder of output, records left out."""
    found = (path for path in folder.rglob("*") if path.is_file() and ".made" not in path.parts)
    return {path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8") for path in found}


def run(folder: Path, text: str, stems: str, last: str = "report") -> None:
    """A whole run: each learner's file where it is not kept, and one for the class."""
    with coming_for(folder, "papers") as coming:
        for stem in stems:
            if not coming.is_kept("", stem, text):
                made(coming, stem, text)
        write_whole(coming.path / last, text)
        coming.place((name for stem in stems for name in coming.vouched("", stem)), [last])


def test_nothing_is_replaced_before_all_is_there(tmp_path: Path) -> None:
    run(tmp_path, "old", "ab")
    old = {"papers/a.txt": "old", "papers/b.txt": "old", "report": "old"}
    assert told(tmp_path) == old and [path.name for path in tmp_path.glob(".coming*")] == []
    with pytest.raises(KeyboardInterrupt), coming_for(tmp_path, "papers") as coming:
        made(coming, "a", "new")
        raise KeyboardInterrupt
    assert {name: text for name, text in told(tmp_path).items() if not name.startswith(".")} == old
    assert coming.is_kept("", "a", "new") and not coming.is_kept("", "b", "new")
    run(tmp_path, "new", "ab")
    assert told(tmp_path) == dict.fromkeys(old, "new")


def test_what_a_killed_run_left_of_something_else_never_takes_a_place(tmp_path: Path) -> None:
    """Another set, begun and killed; then the first again, and a third, each as if that had never been."""
    run(tmp_path, "old", "ab")
    with pytest.raises(KeyboardInterrupt), coming_for(tmp_path, "papers") as coming:
        made(coming, "a", "other")
        made(coming, "c", "other")
        write_whole(coming.path / "moved", "other")
        raise KeyboardInterrupt
    run(tmp_path, "old", "ab")
    assert told(tmp_path) == {"papers/a.txt": "old", "papers/b.txt": "old", "report": "old"}


def test_a_run_killed_among_the_renames_is_finished_by_the_next(tmp_path: Path) -> None:
    """Whichever were renamed: a file and not its record, a record and not its file."""
    for first in ("papers/a.txt", ".made/a.json", "report"):
        folder = tmp_path / Path(first).name
        run(folder, "old", "ab")
        with pytest.raises(KeyboardInterrupt), coming_for(folder, "papers") as coming:
            made(coming, "a", "new")
            made(coming, "b", "new")
            write_whole(coming.path / "report", "new")
            coming.put(first)
            raise KeyboardInterrupt
        assert coming.is_kept("", "a", "new") and coming.is_kept("", "b", "new"), first
        run(folder, "new", "ab")
        assert told(folder) == {"papers/a.txt": "new", "papers/b.txt": "new", "report": "new"}


def test_what_was_left_half_written_is_swept_and_what_is_whole_stays(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt), coming_for(tmp_path, "papers") as coming:
        made(coming, "a", "new")
        (coming.path / ".package.zip-x.part").mkdir()
        (coming.path / ".package.zip-x.part" / "loose.zip").write_bytes(b"half")
        (coming.path / "papers" / ".b.txt-y.part").write_bytes(b"half")
        raise KeyboardInterrupt
    with coming_for(tmp_path, "papers") as again:
        assert not list(again.path.rglob("*.part")) and again.is_kept("", "a", "new")


def test_two_runs_never_write_to_one_folder(tmp_path: Path) -> None:
    with coming_for(tmp_path, "papers"):
        with pytest.raises(SteadyrailError, match=r"^another run is writing to .*; wait for it, or choose another"):
            coming_for(tmp_path, "papers").__enter__()
        with coming_for(tmp_path, "marks"):
            pass
    assert list(tmp_path.iterdir()) == [], "and a run that made nothing leaves nothing"


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(SteadyrailError, match=r"file/out' cannot be written to: Not a directory"):
        coming_for(tmp_path / "file" / "out", "papers").__enter__()
