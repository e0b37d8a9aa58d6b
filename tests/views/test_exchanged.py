"""A folder that takes another's place in one step, and what killed runs leave beside it."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import pytest

from tutor.views import exchanged
from tutor.views.exchanged import clear_sheds, exchange, growing_beside


def folder(path: Path, text: str) -> Path:
    path.mkdir(parents=True)
    (path / "page").write_text(text, encoding="utf-8")
    return path


def page(path: Path) -> str:
    return (path / "page").read_text(encoding="utf-8")


def put(place: Path, text: str) -> None:
    with growing_beside(place) as growing:
        (growing / "page").write_text(text, encoding="utf-8")


@pytest.mark.skipif(sys.platform not in ("linux", "darwin"), reason="elsewhere folders are not exchanged")
def test_two_folders_change_places_in_one_step(tmp_path: Path) -> None:
    one, other = folder(tmp_path / "one", "one"), folder(tmp_path / "ö th er", "other")
    assert exchange(one, other)
    assert (page(one), page(other)) == ("other", "one")
    with pytest.raises(FileNotFoundError):
        exchange(one, tmp_path / "none")


@pytest.mark.parametrize("can", [True, False])
def test_a_new_folder_takes_the_place_of_an_old_one_or_of_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, can: bool
) -> None:
    """Whether the system can exchange folders or not."""
    if not can:
        monkeypatch.setattr(exchanged, "exchange", lambda one, other: False)
    for text in ("first", "second"):
        put(tmp_path / "site", text)
        assert page(tmp_path / "site") == text
    with pytest.raises(KeyboardInterrupt), growing_beside(tmp_path / "site") as growing:
        (growing / "page").write_text("half", encoding="utf-8")
        raise KeyboardInterrupt
    assert page(tmp_path / "site") == "second" and os.listdir(tmp_path) == ["site"]


def test_where_folders_are_not_exchanged_the_next_run_puts_the_old_one_back(tmp_path: Path) -> None:
    """Killed between its two renames, a run leaves nothing in the place, and both folders in its shed."""
    folder(tmp_path / ".site-x1.growing" / "old", "old")
    folder(tmp_path / ".site-x1.growing" / "site", "new")
    clear_sheds(tmp_path / "site")
    assert page(tmp_path / "site") == "old" and os.listdir(tmp_path) == ["site"]


def test_what_dead_runs_left_goes_and_what_a_living_one_makes_stays(tmp_path: Path) -> None:
    """So does what somebody else keeps under a name that only looks alike."""
    folder(tmp_path / ".site-x1.growing" / "site", "half")
    (tmp_path / ".site-x2.growing").mkdir()
    (tmp_path / ".site-x3.begun").mkdir()
    (tmp_path / ".site-x4.begun").mkdir()
    long_ago = time.time() - 3600
    os.utime(tmp_path / ".site-x4.begun", (long_ago, long_ago))
    folder(tmp_path / ".site-mine", "mine")
    with growing_beside(tmp_path / "site") as growing:
        clear_sheds(tmp_path / "site")
        assert growing.is_dir()
        left = {path.name for path in tmp_path.iterdir()} - {growing.parent.name}
        assert left == {".site-x3.begun", ".site-mine"}, "one that has just begun may not hold its folder yet"
