"""The commands that are killed: what stands there before, what is run, and where it can be seen that the end is near.

Everything is small and real: a site of one family with its lesson's circuits, papers for three learners with two
questions, three returned workings. The old output is of other numbers (or workings), so that the two can be told apart.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from tests.sets.demo_class import DIVIDER_TURNED, JUNCTION_ADDED, NAMES, RIGHT
from tutor.__main__ import main
from tutor.solution.desk import Desk, our_desk
from tutor.views import assemble, planned_ahead
from tutor.views.content import LevelContent, SiteContent
from tutor.views.fonts import maths_font
from tutor.views.lessons import read_lessons
from tutor.views.site import Progress
from tutor.views.sources import site_folder

FAMILY = "zener-state"
PAPER_SET = """
title = "A small class"
seed = {seed}

[learners]
variants = 3

[[questions]]
family = "zener-state"
level = 1

[[questions]]
family = "direction-of-change"
level = 1
"""
MARK_SET = 'title = "A small class"\n\n[learners]\nvariants = 3\n' + "".join(
    f'\n[[questions]]\nproblem = "{name}"\n' for name in NAMES
)
# The third learner hands in the same both times, and so keeps the sheet.
BEFORE = {"1": RIGHT, "2": DIVIDER_TURNED, "3": JUNCTION_ADDED}
AFTER = {"1": JUNCTION_ADDED, "2": RIGHT, "3": JUNCTION_ADDED}


@dataclass(frozen=True)
class Command:
    """A command to be killed; `out` stands in the folder `beside`, which it has for itself.

    `late` is a pattern, within `beside`, of a file that is there when only the last part of the work is left; `at_once`
    says that its output changes in one step. `resumes` is a pattern of records that a next run must go on from.
    """

    name: str
    beside: Path
    old: tuple[str, ...]
    new: tuple[str, ...]
    late: str
    at_once: bool = False
    resumes: tuple[str, str] | None = None

    @property
    def out(self) -> Path:
        """Its folder of output."""
        return self.beside / "out"


def commands(folder: Path, *, light: bool) -> tuple[Command, ...]:
    """The three, with their input written into a folder; `light` leaves out study pages and other processes."""
    told = _inputs(folder)
    homes = {name: folder / "homes" / name for name in ("site", "paper", "mark")}
    for home in homes.values():
        home.mkdir(parents=True)
    sites, papers, marks = (("--out", str(home / "out"), "--json") for home in homes.values())
    more = ("--processes", "1") if light else ("--processes", "2", "--pages")
    return (
        Command(
            "site", homes["site"], ("site", "--problems", "1", *sites), ("site", "--problems", "2", *sites),
            ".out-*.growing/out/.steadyrail-site", at_once=True,
        ),
        Command(
            "paper", homes["paper"], ("paper", told["first.toml"], *papers, *more),
            ("paper", told["second.toml"], *papers, *more), "out/.coming-papers/report.txt",
            resumes=("out/.coming-papers/.made/[0-9].json", "out/.made/[0-9].json"),
        ),
        Command(
            "mark", homes["mark"], ("mark", told["marked.toml"], told["before"], *marks),
            ("mark", told["marked.toml"], told["after"], *marks), "out/.coming-marks/report.html",
            resumes=("out/.coming-marks/feedback/.made/[0-9].json", "out/feedback/.made/[0-9].json"),
        ),
    )  # fmt: skip


def _inputs(folder: Path) -> dict[str, str]:
    files = {
        "first.toml": PAPER_SET.format(seed=1),
        "second.toml": PAPER_SET.format(seed=2),
        "marked.toml": MARK_SET,
        **{f"before/{whose}.txt": text for whose, text in BEFORE.items()},
        **{f"after/{whose}.txt": text for whose, text in AFTER.items()},
    }
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return {name.partition("/")[0]: str(folder / name.partition("/")[0]) for name in files}


def one_family(_desk: Desk, per_level: int, _told: Progress) -> SiteContent:
    """What `assemble` gives, of one family alone and the circuits of its lesson."""
    return _cut(_whole_family(), per_level)


@cache
def _whole_family() -> SiteContent:
    desk = our_desk()
    lesson = next(item for item in read_lessons(site_folder() / "lessons") if item.id == desk.family(FAMILY).lesson)
    return assemble.topic_content(desk, FAMILY, 2, lesson.stage, lesson.circuits(), lambda *_: None)


def _cut(content: SiteContent, per_level: int) -> SiteContent:
    def cut(level: LevelContent) -> LevelContent:
        return replace(level, problems=level.problems[:per_level], sheets=level.sheets[:per_level])

    stages = tuple(
        replace(
            stage,
            families=tuple(
                replace(family, levels=tuple(map(cut, family.levels))) for family in stage.families
            ),
        )
        for stage in content.stages
    )
    return replace(content, stages=stages)


def get_warm() -> None:
    """Does once, in this process, what every run would do first, so that those forked from it are quick."""
    _whole_family()
    maths_font()


def typed(words: list[str]) -> None:
    """The command line as it is typed, but for how many families a site has."""
    assemble.assemble = one_family
    planned_ahead.plan_ahead = lambda _told: None  # the plans of one family are made as they are needed
    main(words)


if __name__ == "__main__":
    typed(sys.argv[1:])
