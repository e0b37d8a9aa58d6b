"""A run as a group of processes, killed at a moment; and what stands in a folder afterwards.

A run is started as it is typed, by an interpreter of its own, or forked from a process that has imported everything
already: the same work, without the two seconds before it. SIGKILL goes to the whole group, to the first process alone
(its workers must end by themselves), or is brought by the run upon itself at a rename, between one and the next.
"""

from __future__ import annotations

import hashlib
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.kills.commands import Command, typed
from tutor.views import exchanged

ROOT = Path(__file__).resolve().parents[2]
LIMIT = 600  # seconds: nothing here takes as long
WORKERS_END = 30  # seconds, after a parent was killed
_LOOK_AGAIN = 0.002  # seconds


@dataclass(frozen=True)
class Running:
    """A run that was started in a group of its own."""

    leader: int
    said: Path

    def wait(self, limit: float = LIMIT, until: Callable[[], bool] = lambda: False) -> int | None:
        """The exit status, negative the signal that ended it; None when `limit` seconds are over, or `until` holds."""
        end = time.monotonic() + limit
        while True:
            found, status = os.waitpid(self.leader, os.WNOHANG)
            if found:
                return os.waitstatus_to_exitcode(status)
            if until() or time.monotonic() > end:
                return None
            time.sleep(_LOOK_AGAIN)

    def kill(self, *, group: bool) -> None:
        """Kills the group, or its first process alone, and waits until no process of the group is there."""
        (os.killpg if group else os.kill)(self.leader, signal.SIGKILL)
        os.waitpid(self.leader, 0)
        self.require_end()

    def require_end(self) -> None:
        """RuntimeError where a worker has outlived its parent."""
        end = time.monotonic() + WORKERS_END
        while left := list(_of_session(self.leader)):
            if time.monotonic() > end:
                raise RuntimeError(f"processes {left} outlived the run that had started them")
            time.sleep(_LOOK_AGAIN)


def start(words: tuple[str, ...], said: Path, *, forked: bool, renames: int | None = None) -> Running:
    """Starts a run, what it prints going to a file. With `renames`, which is for forked runs, it kills itself instead
    of the rename after so many, and else prints in the end how many there were."""
    if forked:
        return Running(_fork(words, said, renames), said)
    module = "tests.kills.commands" if words[0] == "site" else "tutor"
    with said.open("wb") as out:
        # Waited for by its id, so that the object may go.
        begun = subprocess.Popen(
            [sys.executable, "-m", module, *words], stdout=out, stderr=subprocess.STDOUT, start_new_session=True,
            cwd=said.parent, env={**os.environ, "PYTHONPATH": str(ROOT)},
        )  # fmt: skip
    begun.returncode = 0
    return Running(begun.pid, said)


def _fork(words: tuple[str, ...], said: Path, renames: int | None) -> int:
    sys.stdout.flush()
    leader = os.fork()
    if leader:
        while os.getpgid(leader) != leader:  # on a busy machine it may take its time to lead a group
            time.sleep(_LOOK_AGAIN)
        return leader
    status, done = 70, [0]
    try:
        os.setsid()
        handle = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(handle, 1)
        os.dup2(handle, 2)
        if renames is not None:
            done = die_at_rename(renames)
        typed(list(words))
    except SystemExit as ended:
        status = ended.code if isinstance(ended.code, int) else 0
        sys.stdout.flush()
    finally:
        if renames is not None:
            os.write(1, f"\n{done[0]}\n".encode())
        os._exit(status)


def die_at_rename(after: int) -> list[int]:
    """From now on this process counts its renames (and exchanges of folders), and is killed instead of the one after so
    many; the count is what it returns, in a list."""
    done = [0]

    def counted(real: Callable[..., object]) -> Callable[..., object]:
        def rename(*words: object, **more: object) -> object:
            if done[0] == after:
                os.kill(os.getpid(), signal.SIGKILL)
            done[0] += 1
            return real(*words, **more)

        return rename

    for holder, name in ((os, "replace"), (os, "rename"), (exchanged, "exchange")):
        setattr(holder, name, counted(getattr(holder, name)))
    return done


def _of_session(leader: int) -> Iterator[int]:
    """Processes of a session that are there, zombies left out; where there is no /proc, none are found."""
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _parent, _group, session = stat.read_text().rpartition(")")[2].split()[:4]
        except OSError:
            continue  # it has just ended
        if int(session) == leader and state != "Z":
            yield int(stat.parent.name)


@dataclass(frozen=True)
class Standing:
    """What a reader of a folder of output finds: the digest of each file by its place. `half` are names of files that
    pass for none."""

    files: dict[str, str]
    half: tuple[str, ...]


def standing(command: Command) -> Standing:
    """What stands in a command's output now; what it keeps for its next run in hidden folders is no part of it."""
    files: dict[str, str] = {}
    half: list[str] = []
    for path in sorted(command.out.rglob("*")):
        name = path.relative_to(command.out).as_posix()
        if path.is_dir() or name.startswith(".coming-"):
            continue
        files[name] = hashlib.sha256(path.read_bytes()).hexdigest()
        if name.endswith(".part"):
            half.append(name)
    return Standing(files, tuple(half))


def left_beside(command: Command) -> list[str]:
    """What lies in the command's folder or in that of temporary files and is not its output."""
    beside = [path.name for path in command.beside.iterdir() if path != command.out]
    coming = [path.name for path in command.out.glob(".coming-*")]
    return sorted(beside + coming + [f"temporary {path.name}" for path in Path(os.environ["TMPDIR"]).iterdir()])
