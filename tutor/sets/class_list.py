"""Class lists: a CSV file with an id and, where wanted, a name for each learner. Everything in it is text.

With a first line that says so (`id,name`, in any order, with further columns that are not read) or without one; commas,
semicolons or tabs between cells; UTF-8, with or without a byte order mark. What a cell holds is never run, never a
path, and is kept as it stands; how it is made safe for a file's name is here, for a spreadsheet in `spreadsheet.py`.
Place in the data flow: a class list's file -> Learners, in its order -> ClassSet.
"""

from __future__ import annotations

import csv
import hashlib
import re
import unicodedata
from pathlib import Path

from tutor.errors import BadValue, OutOfRange, nearest
from tutor.sets.paper import Learner
from tutor.sets.plain_file import text_of
from tutor.sets.spreadsheet import cut_of
from tutor.working.alphabet import lines_in

MOST_LEARNERS = 200_000
MOST_BYTES = 32 * 1024 * 1024
LONGEST_ID = 80
LONGEST_NAME = 120
LONGEST_STEM = 60
_LONGEST_LINE = 2000
_HEADS = {"id": "id", "name": "name"}
# Names that Windows keeps for devices, whatever follows a dot: Microsoft, "Naming Files, Paths, and Namespaces".
_DEVICES = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])(\..*)?", re.IGNORECASE)
_PLAIN = re.compile(r"[a-z0-9][a-z0-9_-]*", re.ASCII)


def read_class_list(path: Path) -> tuple[Learner, ...]:
    """The learners of a class list; SteadyrailError names the file and the line of a mistake."""
    return learners_of(text_of(path, MOST_BYTES, "a class list", "save it as CSV in UTF-8"), path.name)


def learners_of(text: str, name: str) -> tuple[Learner, ...]:
    """The learners that the text of a class list tells; SteadyrailError names `name` and the line of a mistake."""
    if "\0" in text:
        raise BadValue(f"{name} is no text: it holds a zero byte")
    rows = _rows(text, name)
    if not rows:
        raise BadValue(f"{name} lists nobody; each line needs an id, and may have a name after it")
    columns = _columns(rows[0][1], name)
    if columns is not None:
        rows = rows[1:]
    id_at, name_at = columns or (0, 1)
    if not rows:
        raise BadValue(f"{name} lists nobody below its first line")
    found: list[Learner] = []
    seen: dict[str, int] = {}
    for line, cells in rows:
        learner = Learner(_cell(cells, id_at), _cell(cells, name_at))
        _require_usable(learner, f"{name}, line {line}")
        if learner.id in seen:
            raise BadValue(
                f"{name}, line {line}: the id '{learner.id}' stands on line {seen[learner.id]} already; give each "
                "learner an id of their own",
                id=learner.id,
                lines=(seen[learner.id], line),
            )
        seen[learner.id] = line
        found.append(learner)
        if len(found) > MOST_LEARNERS:
            raise OutOfRange(f"{name} lists more than {MOST_LEARNERS} learners; split it")
    return tuple(found)


def _rows(text: str, name: str) -> list[tuple[int, list[str]]]:
    """The lines that hold anything, with their numbers."""
    lines = lines_in(text)
    for number, line in enumerate(lines, 1):
        if len(line) > _LONGEST_LINE:
            raise OutOfRange(f"{name}, line {number} has {len(line)} characters; up to {_LONGEST_LINE} are read")
    first = next((line for line in lines if line.strip()), "")
    reader = csv.reader((f"{line}\n" for line in lines), delimiter=cut_of(first), strict=True)
    found: list[tuple[int, list[str]]] = []
    start = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                found.append((start, cells))
            start = reader.line_num + 1
    except csv.Error as error:
        raise BadValue(f"{name}, line {start}: a quotation mark is not closed, or stands inside a cell") from error
    return found


def _columns(head: list[str], name: str) -> tuple[int, int] | None:
    """Where id and name stand, from a first line that says so; None where the first line is a learner already."""
    told = [cell.strip().lower() for cell in head]
    if "id" not in told:
        if "name" in told:
            others = [cell for cell in told if cell != "name"]
            close = nearest("id", others)
            hint = f"call the column '{close}' id" if close else "call one of its columns id"
            raise BadValue(f"{name}, line 1: the first line names a column name but none id; {hint}")
        return None
    for wanted in _HEADS:
        if told.count(wanted) > 1:
            raise BadValue(f"{name}, line 1: two columns are called {wanted}; leave one")
    return told.index("id"), told.index("name") if "name" in told else len(told)


def _cell(cells: list[str], place: int) -> str:
    return unicodedata.normalize("NFC", cells[place].strip()) if place < len(cells) else ""


def _require_usable(learner: Learner, where: str) -> None:
    if not learner.id:
        raise BadValue(f"{where}: the id is empty; give each learner one")
    for what, text, most in (("id", learner.id, LONGEST_ID), ("name", learner.name, LONGEST_NAME)):
        if len(text) > most:
            raise OutOfRange(f"{where}: the {what} has {len(text)} characters; up to {most} are read")
        if any(unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") for sign in text):
            raise BadValue(f"{where}: the {what} holds a control character; take it out")


def file_stem(learner_id: str) -> str:
    """A file's name (without its ending) for a learner's id: the id itself where that is plain, else its plain letters
    and a digest.

    Different ids have different names, on file systems that do not tell capitals apart too; a name is never empty,
    reserved, hidden or a path. Only lower-case letters a to z, digits, `-` and `_` stand in it.

    >>> file_stem("s-017"), file_stem("../../etc/passwd")
    ('s-017', 'etc-passwd.3754d6cb3a38e118')
    """
    plain = _PLAIN.fullmatch(learner_id) is not None and len(learner_id) <= LONGEST_STEM
    if plain and not _DEVICES.fullmatch(learner_id):
        return learner_id
    folded = unicodedata.normalize("NFKD", learner_id).encode("ascii", "ignore").decode().lower()
    letters = re.sub(r"[^a-z0-9]+", "-", folded).strip("-")[:24].strip("-") or "learner"
    if _DEVICES.fullmatch(letters):
        letters = f"{letters}-id"
    # A dot never stands in a plain id, so that no plain id has the name of another's digest.
    return f"{letters}.{hashlib.sha256(learner_id.encode('utf-8', 'surrogatepass')).hexdigest()[:16]}"
