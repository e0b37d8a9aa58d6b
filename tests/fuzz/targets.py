"""The targets by name: what each is fed to, which modules guide, how long what is fed may be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests.fuzz import authors, commands, files, lines

SEEDS = Path(__file__).with_name("seeds")


@dataclass(frozen=True)
class Target:
    """`feed` raises where what it is fed is not dealt with as it should be. `seeds` names folders of SEEDS."""

    name: str
    feed: Callable[[bytes], None]
    longest: int
    seeds: tuple[str, ...]

    def corpus(self) -> list[Path]:
        """Its seeds, sorted."""
        return [path for name in self.seeds for path in sorted((SEEDS / name).iterdir())]


def _target(name: str, feed: Callable[[bytes], None], longest: int, *others: str) -> Target:
    return Target(name, feed, longest, (name, *others))


TARGETS = {
    item.name: item
    for item in (
        _target("reader", lines.read, 480),
        _target("checker", lines.check, 1200),
        Target("mirror", lines.mirror, 1200, ("checker",)),
        _target("set_file", files.set_file, 3000),
        _target("class_list", files.class_list, 1500),
        _target("workings", files.workings, 2000),
        _target("by_hand", files.by_hand, 1500),
        _target("numbers", files.numbers, 1500),
        _target("netlist", files.netlist, 1000),
        _target("values", files.values, 400),
        _target("formulas", files.formulas, 400),
        _target("family", authors.family, 400),
        Target("drawn", authors.drawn, 400, ("family",)),
        _target("circuit", authors.circuit, 400),
        _target("command", commands.command, 400),
    )
}
