"""What a run makes for a folder of output, kept apart until all of it is there.

A class takes long, and a run may be killed at any moment. So nothing that stands in the folder is touched while files
are made: they grow in a hidden folder within it (*coming*), and take their places one after another, each in one step,
when the last of them is whole. A run that was killed leaves the old output as it was; the next finds what is whole by
its records (`kept.py`), in coming or in its place, and makes the rest. Killed among the last renames, a run leaves
files each of which is whole, old or new, and the next run finishes: what it needs is in one of the two places.
Place in the data flow: files made, over processes -> coming -> the folder of output.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from tutor.errors import SteadyrailError
from tutor.sets.kept import forget, is_kept, recorded, sweep_parts

if sys.platform != "win32":
    import fcntl


@dataclass(frozen=True)
class Coming:
    """A folder of output, and within it the folder of what is coming for it, which is named after what is made."""

    folder: Path
    made: str

    @property
    def path(self) -> Path:
        """Where files grow: laid out as the folder of output is."""
        return self.folder / f".coming-{self.made}"

    def found(self, name: str) -> Path:
        """A file of this run or of one before: as it is coming, else as it stands in its place."""
        coming = self.path / name
        return coming if coming.exists() else self.folder / name

    def is_kept(self, below: str, stem: str, made_from: str) -> bool:
        """Whether a learner's files are all there, coming or in their places, and made from just this; their record is
        in a folder `below`, '' for the folder of output itself."""
        coming, places = self.path / below, self.folder / below
        if is_kept(coming, stem, made_from, where=(coming, places)):
            return True
        if is_kept(places, stem, made_from, where=(coming, places)):
            forget(coming, stem)  # of something else, which a killed run was about to make
            return True
        return False

    def vouched(self, below: str, stem: str) -> Iterator[str]:
        """The names of a learner's files and of their record, within the folder of output."""
        for records in (self.path, self.folder):
            names = recorded(records / below, stem)
            if names:
                yield from (f"{below}/{name}" if below else name for name in names)
                return

    def place(self, names: Iterable[str], last: Sequence[str] = (), gone: Iterable[str] = ()) -> None:
        """Puts files of these names in their places, those of `last` after all others and in their order, then takes
        away those of `gone`. What an earlier run left for this one, and this one did not ask for, goes as well.
        SteadyrailError where a place cannot be written."""
        for name in (*sorted({*names} - {*last}), *last):
            self.put(name)
        for name in gone:
            (self.folder / name).unlink(missing_ok=True)
        shutil.rmtree(self.path, ignore_errors=True)

    def put(self, name: str) -> None:
        """Puts one file in its place, where it is coming. SteadyrailError where it cannot be put there."""
        source, place = self.path / name, self.folder / name
        try:
            if source.exists():
                place.parent.mkdir(parents=True, exist_ok=True)
                os.replace(source, place)
        except OSError as error:
            raise SteadyrailError(f"{place} cannot be written: {error.strerror or error}") from error


@contextmanager
def coming_for(folder: Path, made: str) -> Iterator[Coming]:
    """Makes a folder of output ready for one run; what a killed one left half-written goes, what it left whole stays.

    SteadyrailError when the folder cannot be written, or while another run writes to it.
    """
    coming = Coming(folder, made)
    try:
        coming.path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise SteadyrailError(f"the folder '{folder}' cannot be written to: {error.strerror or error}") from error
    with held(coming.path) as alone:
        if not alone:
            raise SteadyrailError(f"another run is writing to {folder}; wait for it, or choose another folder")
        sweep_parts(coming.path)
        try:
            yield coming
        finally:
            with suppress(OSError):  # it is left where it holds something for the next run
                coming.path.rmdir()


@contextmanager
def held(folder: Path) -> Iterator[bool]:
    """Holds a folder for this process as long as it lives; whether nobody else does. A killed process holds nothing.

    Where a system or a file system knows no such locks, everybody is alone.
    """
    if sys.platform == "win32":
        yield True
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        # Whoever held it before may just have taken it away.
        yield _lock(handle) and folder.exists() and os.path.samestat(os.fstat(handle), folder.stat())
    finally:
        os.close(handle)


def _lock(handle: int) -> bool:
    if sys.platform != "win32":
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        except OSError:
            pass
    return True
