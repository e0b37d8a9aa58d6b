"""Outputs that are whole or not there, and that are known again, so that a run that was killed goes on where it was.

A file is written beside its place and put there in one step. When all files of a learner are there, a *record* of them
is written last: the digest of what they were made from, and each file's own. A later run makes anew what has no record,
what was made from something else (another set, other numbers, another version), and what was changed or lost since.
Place in the data flow: what a learner's files are made from -> digest -> kept, or made now.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from glob import escape
from pathlib import Path

import tutor
from tutor.errors import OutOfRange, SteadyrailError

RECORDS = ".made"  # the folder of records, within the output's
PART = ".part"  # what a file is called until it is whole
_MADE_FROM = (".py", ".txt", ".csv", ".json", ".toml", ".md", ".html", ".css", ".typ")


def write_whole(path: Path, content: bytes | str | Iterable[str]) -> None:
    """Writes a file whole or not at all; lines that come one by one are not gathered first. SteadyrailError when the
    folder cannot be written."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}-", suffix=PART)
        try:
            with os.fdopen(handle, "wb") as out:
                for piece in (content,) if isinstance(content, bytes | str) else content:
                    out.write(piece if isinstance(piece, bytes) else piece.encode("utf-8"))
            os.chmod(name, 0o644)
            os.replace(name, path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise SteadyrailError(f"{path} cannot be written: {error.strerror or error}") from error


def sweep_parts(folder: Path, of: str = "") -> int:
    """Takes away what a killed run left half-written in a folder and those below it, files and whole folders, or in
    that folder alone what was to become the file `of`; how many that were.

    Only for the start of a run: what another process is just writing would go, too.
    """
    found = list(folder.glob(f".{escape(of[:40])}-*{PART}") if of else folder.rglob(f".*{PART}"))
    for path in found:
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path, ignore_errors=True)
        else:
            path.unlink(missing_ok=True)
    return len(found)


def digest_of(*parts: object) -> str:
    """A digest of what something is made from; parts tell all of themselves in their `repr`, as frozen values do."""
    digest = hashlib.sha256()
    for part in parts:
        told = repr(part).encode("utf-8", "surrogatepass")
        digest.update(f"{len(told)}:".encode() + told)
    return digest.hexdigest()


@cache
def engine_version() -> str:
    """A digest of all that Steadyrail makes an output from: its own source, its problems and its templates."""
    root = Path(tutor.__file__).resolve().parent
    digest = hashlib.sha256()
    # Installed, the site's templates stand inside the package; the same files tell the same either way.
    site = root / "_site" if (root / "_site").is_dir() else root.parent / "site"
    for name, folder in (("tutor", root), ("problems", root.parent / "problems"), ("site", site)):
        for file in sorted(folder.rglob("*")):
            if file.suffix in _MADE_FROM and file.is_file() and not (folder == root and file.is_relative_to(site)):
                digest.update(f"{name}/{file.relative_to(folder).as_posix()}\0".encode())
                digest.update(hashlib.sha256(file.read_bytes()).digest())
    return digest.hexdigest()


def record_files(folder: Path, stem: str, made_from: str, files: Iterable[Path]) -> None:
    """Writes the record of a learner's files, all of which are there; `stem` is the `file_stem` of the learner's id.

    OutOfRange for a stem that leads out of the folder, SteadyrailError where it cannot be written.
    """
    told = {path.relative_to(folder).as_posix(): _content_digest(path) for path in files}
    write_whole(_record(folder, stem), json.dumps({"from": made_from, "files": told}))


def is_kept(folder: Path, stem: str, made_from: str, where: Sequence[Path] = ()) -> bool:
    """Whether a learner's files are all there as they were made, and made from just this; each is looked for in the
    folders `where`, and the first that has it counts. Unless said, that is the folder of the record alone."""
    try:
        told = json.loads(_record(folder, stem).read_text(encoding="utf-8"))
        files: Mapping[str, str] = told["files"]
        return told["from"] == made_from and all(
            _content_digest(_first(where or (folder,), name)) == digest for name, digest in files.items()
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError, OutOfRange):
        return False


def recorded(folder: Path, stem: str) -> tuple[str, ...]:
    """The names of a learner's files within a folder, and that of their record; none where there is no such record.

    OutOfRange for a stem that leads out of the folder.
    """
    record = _record(folder, stem)
    try:
        files: Mapping[str, str] = json.loads(record.read_text(encoding="utf-8"))["files"]
        return (*files, record.relative_to(folder).as_posix())
    except (OSError, ValueError, KeyError, TypeError):
        return ()


def forget(folder: Path, stem: str) -> None:
    """Takes away the record of a learner's files, where there is one. OutOfRange for a stem that leads out of the
    folder."""
    _record(folder, stem).unlink(missing_ok=True)


def _record(folder: Path, stem: str) -> Path:
    return _within(folder / RECORDS, f"{stem}.json")


def _first(folders: Sequence[Path], name: str) -> Path:
    """A file in the first of some folders that has it, else in the last."""
    paths = [_within(folder, name) for folder in folders]
    return next((path for path in paths if path.exists()), paths[-1])


def _within(folder: Path, name: str) -> Path:
    """A path below a folder; OutOfRange for a name that leads out of it."""
    path = folder / name
    if not path.resolve().is_relative_to(folder.resolve()):
        raise OutOfRange(f"'{name}' leads out of {folder}")
    return path


def _content_digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
