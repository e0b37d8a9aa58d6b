"""A small set with every kind of question, its papers, and its package opened."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element
from zipfile import ZipFile

from tutor.generate.name import read_name
from tutor.sets.asked import asked
from tutor.sets.paper import Asked, ClassSet, Learner, Look, Paper, Rules
from tutor.solution.desk import our_desk
from tutor.views.package.item import item_identifier
from tutor.views.package.writing import PackageReport, write_package

# A value, a choice, a state, a direction, a fault, orders of all and of some statements, ends joined to nodes, stages
# to functions, an estimate within a factor of two, values below zero, per cent and degrees.
NAMES = (
    "zener-resistor:2:17", "zener-state:1:1", "direction-of-change:1:1", "find-the-fault:1:1", "chain-of-cause:1:1",
    "chain-of-cause:3:1", "complete-the-circuit:1:1", "complete-the-circuit:3:1", "find-the-wrong-line:1:1",
    "sanity-check:1:1", "estimate:1:1", "zener-temperature:2:1", "heat-sink:1:1", "regulation-figures:1:1",
    "supply-peak:1:1",
)  # fmt: skip


@dataclass(frozen=True)
class Opened:
    """A package on disk, its papers, its files by name in their order, and its roots."""

    report: PackageReport
    papers: tuple[Paper, ...]
    files: dict[str, bytes]
    roots: dict[str, Element]

    def item(self, question: Asked) -> Element:
        """The item of a question."""
        return self.roots[f"items/{item_identifier(question.name)}.xml"]


def questions(names: tuple[str, ...] = NAMES) -> tuple[Asked, ...]:
    """The problems of these names, as they are asked."""
    return tuple(asked(our_desk(), at, read_name(name)) for at, name in enumerate(names, start=1))


def small_set(rules: Rules | None = None, look: Look | None = None, title: str = "First sheet") -> ClassSet:
    """A set of no questions of its own: papers say what is asked."""
    return ClassSet(title, 7, (), (), rules or Rules(), look or Look(), minutes=90)


def open_package(papers: tuple[Paper, ...], path: Path) -> Opened:
    """The package of some papers, written and read again."""
    report = write_package(iter(papers), path)
    with ZipFile(path) as source:
        files = {name: source.read(name) for name in source.namelist()}
    return Opened(report, papers, files, {name: ElementTree.fromstring(data) for name, data in files.items()})


def small_package(folder: Path) -> Opened:
    """Two papers: all the questions, and some of them with other marks; a third learner has the second's paper."""
    whole, of = questions(), small_set()
    some = tuple(replace(item, number=at, marks=2 * item.marks) for at, item in enumerate(whole[1:4], start=1))
    papers = (
        Paper(of, Learner("s-01"), whole),
        Paper(of, Learner("../s-02"), some),
        Paper(of, Learner("=s-03"), some),
    )
    return open_package(papers, folder / "set.zip")
