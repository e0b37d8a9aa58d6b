"""`site`, `paper` and `mark` killed at random moments: what stood there stays whole, and the next run finishes.

    python -m tests.kills.run --times 50          each 50 times, as they are typed, workers and study pages included
    python -m tests.kills.run --times 50 --forked quicker: forked from a process that has imported everything

What is *whole* is said in `judged`. Exit status 1 where something was not.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import shutil
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from tests.kills.commands import Command, commands, get_warm
from tests.kills.killing import Standing, left_beside, standing, start

LATE = 0.05  # seconds after its sign, within which a late kill falls
OLD, NEW, BETWEEN = "the old output", "the new output", "among the renames"


class NotWhole(Exception):
    """What a kill left, or the run after it made of that, is not what it must be."""


@dataclass
class Undisturbed:
    """A command's output before, after an undisturbed run, and after that run once more; the run's exit status, how
    long it took in seconds, and how often it renamed."""

    old: Standing
    new: Standing
    again: Standing
    status: int
    seconds: float
    renames: int


@dataclass
class Told:
    """What came of a command's kills: how often each thing stood there afterwards; what was wrong."""

    name: str
    killed: int = 0
    found: Counter[str] = field(default_factory=Counter)
    went_on: int = 0
    wrong: list[str] = field(default_factory=list)


def judged(command: Command, whole: Undisturbed, now: Standing) -> str:
    """What stands there after a kill, in words; NotWhole where it is none of these.

    All of the old output, or all of the new, byte for byte. Where output takes its places file by file (papers, marks)
    a kill may also fall among the renames: then each file is whole, old or new, none is there that neither has, and
    none is missing that both have.
    """
    if now.half:
        raise NotWhole(f"{now.half} stand half-written among the output")
    if now.files == whole.old.files:
        return OLD
    if now.files in (whole.new.files, whole.again.files):
        return NEW
    if command.at_once:
        raise NotWhole(f"a mixture: {_differing(now.files, whole.old.files)} are not the old output's")
    old, new = whole.old.files, whole.new.files
    for name in old.keys() | new.keys() | now.files.keys():
        allowed = {old.get(name), new.get(name)} if name in old or name in new else set()
        if now.files.get(name) not in allowed:
            raise NotWhole(f"{name} is neither the old one nor the new")
    return BETWEEN


def _differing(one: dict[str, str], other: dict[str, str]) -> list[str]:
    return sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))[:5]


class Killing:
    """One command, its undisturbed run, and its kills."""

    def __init__(self, command: Command, scratch: Path, *, forked: bool) -> None:
        self.command, self.scratch, self.forked = command, scratch, forked
        self.told = Told(command.name)
        self.before = scratch / f"{command.name}-before"
        self._run(command.old)
        shutil.copytree(command.out, self.before)
        old, begun = standing(command), time.monotonic()
        status = self._run(command.new, renames=-1 if forked else None)
        seconds, new = time.monotonic() - begun, standing(command)
        renames = int(self.said.read_text(encoding="utf-8").split()[-1]) if forked else 0
        assert old.files != new.files and not old.half and not new.half
        if not command.at_once:
            self._run(command.new)
        self.whole = Undisturbed(old, new, standing(command), status, seconds, renames)
        assert not left_beside(command), left_beside(command)

    @property
    def said(self) -> Path:
        """What the last run printed."""
        return self.scratch / f"{self.command.name}.txt"

    def _run(self, words: tuple[str, ...], renames: int | None = None) -> int:
        running = start(words, self.said, forked=self.forked, renames=renames)
        status = running.wait()
        running.require_end()
        if status not in (0, 1):
            raise NotWhole(f"a run ended with {status}: {self.said.read_text(encoding='utf-8')[-600:]}")
        return status

    def _put_back(self) -> None:
        shutil.rmtree(self.command.beside)
        shutil.copytree(self.before, self.command.out)

    def kill(self, way: str, chance: random.Random) -> None:
        """Kills a run, in a way, at a moment of chance; looks; runs it again, and looks."""
        self._put_back()
        moment = self._killed(way, chance)
        if moment is None:
            return  # it had ended before
        self.told.killed += 1
        try:
            found = judged(self.command, self.whole, standing(self.command))
            self.told.found[found] += 1
            self._finishes(found)
        except (NotWhole, RuntimeError) as wrong:
            self.told.wrong.append(f"{self.command.name}, {moment}: {wrong}")

    def _killed(self, way: str, chance: random.Random) -> str | None:
        if way == "rename":
            after = chance.randrange(self.whole.renames)
            status = start(self.command.new, self.said, forked=True, renames=after).wait()
            return f"at rename {after}" if status == -9 else None
        running, group = start(self.command.new, self.said, forked=self.forked), chance.random() < 0.7
        if way == "late":
            status = running.wait(until=lambda: any(self.command.beside.glob(self.command.late)))
            limit = chance.uniform(0, LATE)
        else:
            status, limit = None, chance.uniform(0, self.whole.seconds)
        if status is None:
            status = running.wait(limit)
        if status is not None:
            return None
        running.kill(group=group)
        return f"{way}, after {limit:.3f} s, {'the group' if group else 'the first process'}"

    def _finishes(self, found: str) -> None:
        """The next run ends as an undisturbed one does, goes on from what there was, and leaves nothing beside."""
        for begun in self.command.beside.glob(".*.begun"):
            os.utime(begun, (0, 0))  # as if the next run came minutes later: this one may have been about to hold it
        ready = self._ready()
        status = self._run(self.command.new)
        if status != self.whole.status:
            raise NotWhole(f"the next run ended with {status}")
        now, ends = standing(self.command), [self.whole.new]
        if found == NEW:
            ends.append(self.whole.again)  # it had been done, and was done again
        if now not in ends:
            raise NotWhole(f"after the next run {_differing(now.files, self.whole.new.files)} differ")
        if left := left_beside(self.command):
            raise NotWhole(f"after the next run {left} lie beside the output")
        if self.command.resumes:
            kept = json.loads(self.said.read_text(encoding="utf-8"))["kept"]
            if kept < ready:
                raise NotWhole(f"{ready} were finished before the kill, and the next run kept {kept}")
            self.told.went_on += bool(ready)

    def _ready(self) -> int:
        """How many learners' files the killed run had finished."""
        if not self.command.resumes:
            return 0
        coming, placed = self.command.resumes
        names = {path.name for path in self.command.beside.glob(coming)}
        new = self.whole.new.files
        for path in self.command.beside.glob(placed):
            if hashlib.sha256(path.read_bytes()).hexdigest() == new.get(path.relative_to(self.command.out).as_posix()):
                names.add(path.name)
        return len(names)


def kill_all(times: int, *, forked: bool, seed: int, names: tuple[str, ...], scratch: Path) -> list[Told]:
    """Each command killed so many times; a third of the moments are late ones, of forked runs another third renames."""
    told = []
    ways = ("time", "late", "rename") if forked else ("time", "time", "late")
    for command in commands(scratch, light=forked):
        if command.name not in names:
            continue
        chance, killing = random.Random(f"{seed} {command.name}"), Killing(command, scratch, forked=forked)
        tried = 0
        while killing.told.killed < times and tried < 5 * times + 20:
            killing.kill(ways[killing.told.killed % len(ways)], chance)
            tried += 1
        if killing.told.killed < times:
            killing.told.wrong.append(f"{command.name} ended before it was killed, again and again")
        told.append(killing.told)
        _print(killing.told)
    return told


def _print(told: Told) -> None:
    stood = ", ".join(f"{told.found[what]} times {what}" for what in (OLD, NEW, BETWEEN) if told.found[what])
    print(f"{told.name}: killed {told.killed} times; there stood {stood}; wrong: {len(told.wrong)}", flush=True)
    for sentence in told.wrong:
        print(f"  {sentence}", flush=True)


def main() -> int:
    """As the head of this file says; the exit status."""
    asked = argparse.ArgumentParser(description="Kill site, paper and mark at random moments.")
    asked.add_argument("--times", type=int, default=50, help="how often each is killed (50 unless said)")
    asked.add_argument("--seed", type=int, default=1, help="of the moments")
    asked.add_argument("--forked", action="store_true", help="fork runs instead of typing them: quicker")
    asked.add_argument("names", nargs="*", metavar="COMMAND", help="which of them (all unless said)")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory(prefix="kills-") as folder:
        scratch = Path(folder)
        (scratch / "tmp").mkdir()
        os.environ["TMPDIR"] = str(scratch / "tmp")  # so that what a run leaves there is seen
        tempfile.tempdir = None
        if given.forked:
            get_warm()
        names = tuple(given.names) or ("site", "paper", "mark")
        told = kill_all(given.times, forked=given.forked, seed=given.seed, names=names, scratch=scratch)
    return int(any(item.wrong for item in told))


if __name__ == "__main__":
    sys.exit(main())
