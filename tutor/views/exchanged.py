"""What grows beside something and takes its place in one step, whenever the process may be killed: a folder, a file.

Vocabulary: the new folder grows in a *shed* beside the old one, which its process holds as long as it lives. Linux and
macOS exchange two folders in one step; elsewhere there is a moment between two steps at which neither is in its place,
and a process killed then leaves the old one in its shed, from where the next run puts it back.
Place in the data flow: a site as it is built -> its folder; tables and packages of a class -> their files.
"""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from glob import escape
from pathlib import Path

from tutor.sets.coming import held
from tutor.sets.kept import PART

_BEGUN, _GROWING = ".begun", ".growing"  # how a shed's name ends: before it is held, and then
_OLD = "old"  # in a shed: what was in the place before, where it could not be exchanged
_SECONDS_TO_BEGIN = 60  # far more than a process needs from making a shed to holding it
# Source: Linux, rename(2) and <linux/fs.h>; macOS, renamex_np(2) and <sys/stdio.h>.
_AT_WORKING_FOLDER, _RENAME_EXCHANGE = -100, 2
_RENAME_SWAP = 2
_NOT_HERE = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP}  # the system or the file system cannot


@contextmanager
def growing_beside(place: Path) -> Iterator[Path]:
    """A new folder to fill; it takes its place when all went well, and goes otherwise. What dead runs left goes first.

    OSError where folders cannot be written.
    """
    place.parent.mkdir(parents=True, exist_ok=True)
    clear_sheds(place)
    shed = Path(tempfile.mkdtemp(prefix=f".{place.name}-", suffix=_BEGUN, dir=place.parent))
    try:
        with held(shed):
            shed = shed.rename(shed.with_suffix(_GROWING))  # only now, so that what goes by this name is held or dead
            new = shed / place.name
            new.mkdir()
            yield new
            _put(new, place, shed / _OLD)
    finally:
        shutil.rmtree(shed, ignore_errors=True)


@contextmanager
def replacing(path: Path) -> Iterator[Path]:
    """A file to write beside `path`; it takes its place when all went well, and goes otherwise.

    OSError where it cannot be written or moved.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}{PART}")
    try:
        yield beside
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def clear_sheds(place: Path) -> None:
    """Takes away what runs left that were killed; a folder that one of them had moved aside is put back."""
    for end in (_GROWING, _BEGUN):
        for shed in sorted(place.parent.glob(f".{escape(place.name)}-*{end}")):
            try:
                with held(shed) as free:
                    if not free or (end == _BEGUN and time.time() - shed.stat().st_mtime < _SECONDS_TO_BEGIN):
                        continue
                    if (shed / _OLD).exists() and not place.exists():
                        (shed / _OLD).rename(place)
                    shutil.rmtree(shed, ignore_errors=True)
            except OSError:
                continue  # somebody else's, or gone: it is in nobody's way


def _put(new: Path, place: Path, old: Path) -> None:
    if not place.exists():
        new.rename(place)
    elif not exchange(new, place):
        place.rename(old)
        try:
            new.rename(place)
        except OSError:
            old.rename(place)
            raise


def exchange(one: Path, other: Path) -> bool:
    """Lets two folders change places in one step; False where the system does not know how. OSError where it does, and
    may not."""
    library = ctypes.CDLL(None, use_errno=True) if sys.platform in ("linux", "darwin") else None
    here, there = os.fsencode(one), os.fsencode(other)
    if library is not None and hasattr(library, "renameat2"):
        failed = library.renameat2(_AT_WORKING_FOLDER, here, _AT_WORKING_FOLDER, there, _RENAME_EXCHANGE)
    elif library is not None and hasattr(library, "renamex_np"):
        failed = library.renamex_np(here, there, _RENAME_SWAP)
    else:
        return False
    number = ctypes.get_errno() if failed else 0
    if number and number not in _NOT_HERE:
        raise OSError(number, os.strerror(number), str(other))
    return not number
