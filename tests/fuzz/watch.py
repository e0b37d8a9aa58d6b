"""What a process does beside computing, heard from the interpreter: files opened for writing, programs started, code
made from text, connections.

Source of the events: the table of audit events of the Python documentation ("Audit events table", PEP 578).
"""

from __future__ import annotations

import faulthandler
import os
import re
import sys
import sysconfig
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import CodeType

_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
# Events whose first argument (or first two) is a path that is made, changed or taken away.
_CHANGES = {
    "os.remove": 1, "os.rename": 2, "os.mkdir": 1, "os.rmdir": 1, "os.link": 2, "os.symlink": 2, "os.truncate": 1,
    "os.chmod": 1, "os.chown": 1, "os.utime": 1, "os.setxattr": 1, "shutil.rmtree": 1, "shutil.move": 2,
    "shutil.copyfile": 2, "shutil.copytree": 2,
}  # fmt: skip
_NEVER = {
    "os.system", "os.exec", "os.posix_spawn", "os.spawn", "os.fork", "os.forkpty", "os.startfile", "os.putenv",
    "subprocess.Popen", "pty.spawn", "socket.connect", "socket.bind", "urllib.Request", "pickle.find_class",
    "webbrowser.open", "ctypes.dlopen", "os.kill",
}  # fmt: skip
_OURS = tuple(
    str(Path(place).resolve())
    for place in (sysconfig.get_path("stdlib"), sysconfig.get_path("purelib"), Path(__file__).parents[2])
)
_ACTING = re.compile(r"__|\b(import|open|exec|eval|os|sys|subprocess|system|touch)\b")
_OF_SYMPY = "from math import *"  # before functions that reckon


@dataclass
class Heard:
    """What was heard while one watch was kept; `allowed` are folders that may be written to. `algebra`: code that sympy
    makes of its own expressions, and types that are looked up by name, are not noted; what could act still is."""

    allowed: tuple[str, ...] = ()
    algebra: bool = False
    events: list[str] = field(default_factory=list)

    def hear(self, event: str, arguments: tuple[object, ...]) -> None:
        """Notes an event that nothing fed from outside may cause."""
        if event == "open":
            path, mode, flags = (*arguments, None, None, None)[:3]
            writes = bool(set(mode) & set("wax+")) if isinstance(mode, str) else False
            if writes or (isinstance(flags, int) and flags & _WRITES):
                self._written(event, path)
        elif event in _CHANGES:
            for path in arguments[: _CHANGES[event]]:
                self._written(event, path)
        elif event in _NEVER:
            self.events.append(f"{event} {arguments!r:.200}")
        elif event == "compile" and not self._is_file(str(arguments[1])):
            if not (self.algebra and _only_reckons(arguments[0])):
                self.events.append(f"compile {arguments[0]!r:.200}")
        elif event == "exec" and not self.algebra and not self._is_file(_file_of(arguments[0])):
            self.events.append(f"exec {arguments[0]!r:.200}")

    def _written(self, event: str, path: object) -> None:
        if not isinstance(path, str | bytes | os.PathLike):
            return  # a number: a file that is open already
        real = os.path.realpath(os.fsdecode(path))
        if "__pycache__" in real and real.startswith(_OURS):
            return  # a module of ours imported for the first time
        if real != os.devnull and not any(real == one or real.startswith(f"{one}{os.sep}") for one in self.allowed):
            self.events.append(f"{event} {real}")

    def _is_file(self, name: str) -> bool:
        """Whether code comes from a file of the language, of a package, of ours or of an allowed folder."""
        if name.startswith("<"):
            return name.startswith("<frozen ")
        return os.path.realpath(name).startswith((*_OURS, *self.allowed))


def _file_of(code: object) -> str:
    return code.co_filename if isinstance(code, CodeType) else "<text>"


def _only_reckons(source: object) -> bool:
    """Whether a text of code has no word that could act: no name with two underscores, no call of a module. What
    `dataclasses` writes, where a file of ours that is loaded has one, is let through."""
    text = source.decode("utf-8", "replace") if isinstance(source, bytes) else str(source)
    return text.startswith("def __create_fn__(") or not _ACTING.search(text.replace(_OF_SYMPY, ""))


_watching: list[Heard] = []


def _hook(event: str, arguments: tuple[object, ...]) -> None:
    if not _watching:
        return
    heard = _watching.pop()  # what hearing itself does is not heard
    try:
        heard.hear(event, arguments)
    finally:
        _watching.append(heard)


sys.addaudithook(_hook)  # it cannot be taken away again; without a watch it does nothing


@contextmanager
def watched(*allowed: Path, algebra: bool = False) -> Iterator[Heard]:
    """What happens inside is heard; afterwards an AssertionError for anything written outside `allowed`, any program
    started, any text turned into code, any connection."""
    heard = Heard(tuple(os.path.realpath(path) for path in allowed), algebra)
    _watching.append(heard)
    try:
        yield heard
    finally:
        _watching.remove(heard)
    if heard.events:
        raise AssertionError("; ".join(heard.events[:5]))


@contextmanager
def no_longer_than(seconds: float) -> Iterator[None]:
    """Ends the process, its stacks printed, when what is inside hangs. A watchdog, generous on any machine: no measure
    of speed."""
    faulthandler.dump_traceback_later(seconds, exit=True)
    try:
        yield
    finally:
        faulthandler.cancel_dump_traceback_later()


class TooMuchWork(Exception):
    """More functions were called than what is fed may cost."""


@contextmanager
def at_most(calls: int) -> Iterator[None]:
    """TooMuchWork once more functions of Python were called inside; a count, so that no machine's speed matters."""
    left = calls

    def counted(frame: object, event: str, argument: object) -> None:
        nonlocal left
        if event == "call":
            left -= 1
            if left < 0:
                sys.setprofile(None)
                raise TooMuchWork(f"more than {calls} calls")

    before = sys.getprofile()
    sys.setprofile(counted)
    try:
        yield
    finally:
        sys.setprofile(before)
