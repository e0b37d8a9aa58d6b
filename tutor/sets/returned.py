"""Workings that a class hands back: whose each is, and what it says to each question.

Vocabulary: a *return* is all that one learner hands back; a *heading* is a line `Q1` (or `Question 1`, `q1:`) alone,
below which the working of that question stands; a *stray* is a file or row that belongs to nobody.
They come as a folder with one text file a learner, named by the learner's id or its safe stem, or as one table (CSV)
with the columns id, question, working, or id, Q1, Q2 and so on.
Place in the data flow: a folder or a table + learners -> Filed -> Returned, one a learner -> `marking.py`.
Everything in them is text and nothing more. What is broken costs the learner whose it is a note, and nobody else: files
are opened one by one, never through a link and never outside the folder.
"""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from tutor.errors import BadValue, OutOfRange, SteadyrailError, nearest
from tutor.sets.class_list import file_stem
from tutor.sets.paper import Learner
from tutor.working.alphabet import lines_in
from tutor.working.problem_checked import refuse_unusable

MOST_OF_A_FILE = 256 * 1024  # bytes of one learner's file; a question of it is held to the limits of any working
MOST_STRAYS = 200  # told one by one
MOST_HINTS = 10  # with the nearest id, which in a large class takes a while to find
_HEADING = re.compile(r"[ \t]*(?:q|question)[ \t]*0*([0-9]{1,4})[ \t]*[.:)]?[ \t]*", re.ASCII | re.IGNORECASE)
_NOT_FOLLOWED = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0)


@dataclass(frozen=True)
class Answer:
    """The working of one question; `lines` are where its lines stand in the file, empty where it came in a table."""

    text: str
    lines: tuple[int, ...] = ()


@dataclass(frozen=True)
class Returned:
    """What one learner handed back, by the number of the question; `notes` say what of it could not be used.

    `readable` False: the file could not be read at all, which says nothing of what the learner knows.
    """

    answers: Mapping[int, Answer] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    readable: bool = True
    source: str = ""


@dataclass(frozen=True)
class Filed:
    """Where each learner's return is: a file to be read, or what a table said; whoever is not there returned nothing.

    `strays` are sentences on what belongs to nobody.
    """

    by_learner: Mapping[str, Path | Returned]
    strays: tuple[str, ...] = ()

    def of(self, learner: Learner, questions: int) -> Returned | None:
        """What a learner returned; None for nothing. Reads the file now, so that a class need not be held at once."""
        found = self.by_learner.get(learner.id)
        return read_return(found, questions) if isinstance(found, Path) else found


def file_returns(folder: Path, learners: Iterable[Learner]) -> Filed:
    """The files of a folder, by learner. SteadyrailError when there is no such folder."""
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        raise SteadyrailError(
            f"the workings '{folder}' cannot be read: {error.strerror}; name a folder of text files, or a table"
        ) from None
    ids = _ids_by_stem(learners)
    found: dict[str, list[os.DirEntry[str]]] = {}
    strays: list[str] = []
    for entry in entries:
        # Some systems take names of files apart into letters and accents; class lists are kept together.
        stem, _, ending = unicodedata.normalize("NFC", entry.name).rpartition(".")
        if entry.name.startswith("."):
            continue
        if not stem or ending.casefold() != "txt":
            strays.append(f"{told(entry.name)} is no text file; a working is returned as ID.txt")
            continue
        whose = ids.get(stem) or ids.get(stem.casefold())
        if whose is None:
            hint = guess_at(stem, ids) if len(strays) < MOST_HINTS else ""
            strays.append(f"{told(entry.name)} belongs to nobody of the class{hint}")
        else:
            found.setdefault(whose, []).append(entry)
    filed: dict[str, Path | Returned] = {}
    for whose, files in found.items():
        names = " and ".join(told(entry.name) for entry in files)
        if len(files) > 1:
            filed[whose] = unreadable(f"there are two files: {names}; keep the one that counts", names)
        elif files[0].is_symlink():
            filed[whose] = unreadable(f"{names} is a link, which is not followed; put the file itself there", names)
        else:
            filed[whose] = Path(files[0].path)
    return Filed(filed, _not_too_many(strays))


def _ids_by_stem(learners: Iterable[Learner]) -> dict[str, str]:
    """Learners' ids by what a file may be called; capitals or not counts only where it tells two learners apart."""
    exact: dict[str, str] = {}
    folded: dict[str, set[str]] = {}
    for learner in learners:
        for stem in (learner.id, file_stem(learner.id)):
            exact[stem] = learner.id
            folded.setdefault(stem.casefold(), set()).add(learner.id)
    alone = {stem: next(iter(whose)) for stem, whose in folded.items() if len(whose) == 1}
    return {**alone, **exact}


def unreadable(note: str, source: str) -> Returned:
    """A return of which nothing could be read."""
    return Returned({}, (note,), False, source)


def read_return(file: Path, questions: int) -> Returned:
    """A learner's file taken apart at its headings; what cannot be used is said in its notes, never raised."""
    name = file.name
    try:
        text = _text_of(file)
    except SteadyrailError as error:
        return unreadable(f"{told(name)} {error.sentence}", name)
    if not text.strip():
        return Returned({}, (f"{told(name)} is empty",), True, name)
    return replace(by_headings(text, questions), source=name)


def _text_of(file: Path) -> str:
    """The text of a plain file. BadValue or OutOfRange, worded to follow the file's name."""
    try:
        handle = os.open(file, os.O_RDONLY | _NOT_FOLLOWED)
        with os.fdopen(handle, "rb") as stream:
            if not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
                raise BadValue("is no plain file; save the working as a text file")
            content = stream.read(MOST_OF_A_FILE + 1)
    except OSError as error:
        raise BadValue(f"cannot be read: {error.strerror}") from None
    if len(content) > MOST_OF_A_FILE:
        raise OutOfRange(f"is too large: a paper's workings may hold up to {MOST_OF_A_FILE // 1024} kB of text")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadValue(f"is no UTF-8 text (byte {error.start + 1}); save it as plain text in UTF-8") from None
    if "\0" in text:
        raise BadValue("is no text: it holds a zero byte; save it as plain text, one line a step")
    return text


def by_headings(text: str, questions: int) -> Returned:
    """A text taken apart at its headings; where one question is asked it needs none. Too large a question is noted."""
    taken: dict[int, list[tuple[int, str]]] = {}
    before: list[int] = []
    notes: list[str] = []
    at = 1 if questions == 1 else 0
    for number, line in enumerate(lines_in(text), 1):
        heading = _HEADING.fullmatch(line)
        if heading is not None:
            at = int(heading[1])
            if not 1 <= at <= questions:
                notes.append(f"line {number}: there is no question {at}; the paper asks {_count(questions)}")
        elif at:
            taken.setdefault(at, []).append((number, line))
        elif line.strip():
            before.append(number)
    if before:
        lines = f"line {before[0]} stands" if len(before) == 1 else f"lines {before[0]} to {before[-1]} stand"
        notes.append(f"{lines} before the first heading, such as Q1: not read")
    answers: dict[int, Answer] = {}
    for at, rows in sorted(taken.items()):
        if 1 <= at <= questions and any(line.strip() for _, line in rows):
            _put(answers, at, Answer("\n".join(line for _, line in rows), tuple(number for number, _ in rows)), notes)
    return Returned(answers, tuple(notes))


def _put(answers: dict[int, Answer], at: int, answer: Answer, notes: list[str]) -> None:
    """Puts in the working of a question, or a note where it is more than a working may be."""
    try:
        refuse_unusable(answer.text)
    except SteadyrailError as error:
        notes.append(f"Q{at} is not read: {error.sentence}")
    else:
        answers[at] = answer


def put_answer(returned: Returned, at: int, text: str) -> Returned:
    """A return with the working of one more question, from a cell; a second one for it is noted, the first counts."""
    if not text.strip():
        return returned
    notes = list(returned.notes)
    answers = dict(returned.answers)
    if at in answers:
        notes.append(f"Q{at} is there twice; the first one counts")
    else:
        _put(answers, at, Answer(text), notes)
    return replace(returned, answers=answers, notes=tuple(notes))


def _count(questions: int) -> str:
    return "one question" if questions == 1 else f"{questions} questions"


def _not_too_many(strays: list[str]) -> tuple[str, ...]:
    more = len(strays) - MOST_STRAYS
    return (*strays[:MOST_STRAYS], f"and {more} more like these") if more > 0 else tuple(strays)


def told(name: str) -> str:
    """A name as it may be shown: what a terminal would act on is made visible, and no more than is needed of it."""
    return "'" + "".join(char if char.isprintable() else "\ufffd" for char in name[:80]) + "'"


def guess_at(spelt: str, ids: Iterable[str]) -> str:
    """Who may be meant by an id that nobody has, as the end of a sentence; '' where none is near."""
    close = nearest(spelt, ids)
    return f"; did you mean {told(close)}?" if close else ""
