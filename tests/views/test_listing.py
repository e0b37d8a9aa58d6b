"""The listing of a problems folder: kept in the store as it was read, and read anew once an author's file changes."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tutor.generate.problems_folder import default_folder
from tutor.solution.desk import open_desk
from tutor.views.listing import Listing, kept_listing
from tutor.views.listing_read import listing_of

SHUNT = "A resistor from the raw supply feeds zener and load; the zener takes whatever current the load leaves."


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of our problems, and a store of its own that is empty."""
    monkeypatch.setenv("STEADYRAIL_STORE", str(tmp_path / "store"))
    copy = tmp_path / "problems"
    for name in ("circuits", "families", "across", "parts"):
        shutil.copytree(default_folder() / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
    return copy


def read(folder: Path) -> Listing:
    """The listing as `steadyrail list` takes it."""
    return kept_listing(folder, lambda: listing_of(open_desk(folder)))


def kept(folder: Path) -> Listing:
    """The listing as it stands in the store; an error where it would have to be read."""

    def refuse() -> Listing:
        raise LookupError("no listing is kept")

    return kept_listing(folder, refuse)


def test_what_is_kept_is_what_was_read(folder: Path) -> None:
    """Nothing is lost on the way through the store; circuits stand in the order of the lectures."""
    with pytest.raises(LookupError):
        kept(folder)
    fresh = listing_of(open_desk(folder))
    assert read(folder) == kept(folder) == fresh
    stages = [circuit.stage for circuit in fresh.circuits]
    assert stages == sorted(stages) and len(set(stages)) > 3
    (shunt,) = (item for item in fresh.circuits if item.id == "zener-shunt")
    assert shunt.purpose == SHUNT and not shunt.forms and {"V_I", "R", "V_Z0", "r_z"} <= set(shunt.given)
    (reservoir,) = (item for item in fresh.circuits if item.id == "reservoir")
    assert set(reservoir.forms) == {"bridge", "centre-tap", "half-wave"}
    assert all(len(item.levels) == 3 for item in (*fresh.families, *fresh.across))
    assert all(item.circuit for item in fresh.families) and not any(item.circuit for item in fresh.across)


CHANGES = {
    "a circuit": ("circuits/zener_shunt.py", "feeds zener and load;", "feeds both;"),
    "a family": ("families/zener_state.py", "\n", "\n\n"),
    "a family across circuits": ("across/direction_of_change.py", "\n", "\n\n"),
}


@pytest.mark.parametrize(("file", "was", "now"), CHANGES.values(), ids=CHANGES)
def test_a_changed_file_is_read_anew(folder: Path, file: str, was: str, now: str) -> None:
    read(folder)
    path = folder / file
    path.write_text(path.read_text(encoding="utf-8").replace(was, now, 1), encoding="utf-8")
    with pytest.raises(LookupError):
        kept(folder)
    assert kept_listing(folder, lambda: listing_of(open_desk(folder))) == kept(folder)


def test_the_change_is_what_is_told(folder: Path) -> None:
    read(folder)
    path = folder / "circuits" / "zener_shunt.py"
    path.write_text(path.read_text(encoding="utf-8").replace("feeds zener and load;", "feeds both;"), encoding="utf-8")
    (shunt,) = (item for item in read(folder).circuits if item.id == "zener-shunt")
    assert shunt.purpose == SHUNT.replace("zener and load", "both")


@pytest.mark.parametrize("text", ["", "{", "[]", '{"circuits": [{}], "families": [], "across": []}'])
def test_a_broken_file_of_the_store_is_mended(folder: Path, text: str) -> None:
    fresh = read(folder)
    (file,) = (folder.parent / "store").glob("*-listing.json")
    file.write_text(text, encoding="utf-8")
    assert read(folder) == fresh == kept(folder)
