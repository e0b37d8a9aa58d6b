"""Papers -> a QTI 3.0 package: a zip with its manifest at the root, an item for each problem, a test for each paper.

Items are written as papers come and then let go, so that what is kept does not grow with the size of a class beyond a
few numbers a learner. The bytes are the same every time: entries sorted, their dates fixed.
Place in the data flow: Papers -> package, beside what is printed of them. Written to QTI 3.0, not certified.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from tutor.errors import BadValue
from tutor.sets.kept import PART
from tutor.sets.paper import Asked, ClassSet, Paper
from tutor.solution.desk import Desk, our_desk
from tutor.views.drawn_problem import Pictures
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.exchanged import replacing
from tutor.views.package.assessment import ItemRef, test_of
from tutor.views.package.drawing import drawing_file
from tutor.views.package.item import item_of
from tutor.views.package.manifest import ITEM, MANIFEST, TEST, Resource, manifest_of
from tutor.views.package.markup import document, with_decimal_comma

_DATE = (1980, 1, 1, 0, 0, 0)  # the first that a zip can tell


@dataclass(frozen=True)
class PackageReport:
    """What a package holds: the identifiers of its items, the test of each learner by id, what it cannot carry."""

    path: Path
    items: tuple[str, ...]
    tests: Mapping[str, str]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Kept:
    """What stays of an item that is written: which problem it was, and what it can earn."""

    identifier: str
    problem: str
    earned: int


@dataclass
class _Growing:
    """A package while papers come: what is written of it, and what its tests will need."""

    desk: Desk
    into: ZipFile
    pictures: Pictures
    of: ClassSet
    items: dict[str, _Kept] = field(default_factory=dict)
    papers: dict[tuple[tuple[str, int], ...], list[str]] = field(default_factory=dict)
    by_hand: bool = False

    def take(self, paper: Paper) -> None:
        """A paper's items, those that are new, and its selection of them."""
        same = (paper.set.rules, paper.set.look) == (self.of.rules, self.of.look)
        if not same or paper.set.title != self.of.title:
            raise BadValue(f"a package is of one set; '{self.of.title}' and '{paper.set.title}' need one each")
        asked = tuple((self._item(question), question.marks) for question in paper.asked)
        self.papers.setdefault(asked, []).append(paper.learner.id)

    def _item(self, asked: Asked) -> str:
        told = sha256(repr(asked.problem).encode()).hexdigest()
        if asked.name in self.items:
            if self.items[asked.name].problem != told:
                raise BadValue(f"two different problems go by the name '{asked.name}'; give each its own")
            return asked.name
        picture = self.pictures.of(asked.problem, asked.withheld)
        look = self.of.look
        item = item_of(asked, self.of.rules, look, picture)
        if look.decimal_comma:
            with_decimal_comma(item.root)
        _put(self.into, f"items/{item.identifier}.xml", document(item.root))
        _put(self.into, f"items/{item.identifier}.svg", drawing_file(picture, look.decimal_comma))
        self.items[asked.name] = _Kept(item.identifier, told, item.marks + item.by_hand)
        self.by_hand = self.by_hand or item.by_hand > 0
        return asked.name

    def finish(self) -> tuple[bytes, dict[str, str]]:
        """The tests, written; the manifest, and each learner's test."""
        resources = []
        of_learner: dict[str, str] = {}
        for at, (asked, learners) in enumerate(self.papers.items(), start=1):
            name = f"test-{at:04}"
            href = f"tests/{name}.xml"
            references: list[ItemRef] = []
            for place, (problem, marks) in enumerate(asked, start=1):
                kept = self.items[problem]
                again = f"-q{place}" if any(ref.identifier == kept.identifier for ref in references) else ""
                weight = marks / max(kept.earned, 1)
                references.append(ItemRef(f"{kept.identifier}{again}", f"../items/{kept.identifier}.xml", weight))
            whose = learners[0] if len(learners) == 1 else f"variant {at}"
            title = f"{self.of.title}, {whose}" if len(self.papers) > 1 else self.of.title
            _put(self.into, href, document(test_of(name, title, references, self.of, self.by_hand)))
            needs = tuple(sorted({self.items[problem].identifier for problem, _ in asked}))
            resources.append(Resource(name, TEST, href, needs=needs))
            of_learner |= dict.fromkeys(learners, href)
        for kept in sorted(self.items.values(), key=lambda item: item.identifier):
            own = f"items/{kept.identifier}"
            resources.append(Resource(kept.identifier, ITEM, f"{own}.xml", (f"{own}.svg",)))
        return document(manifest_of(f"set-{_digest(resources)}", resources)), of_learner


def write_package(papers: Iterable[Paper], path: Path, desk: Desk | None = None) -> PackageReport:
    """The package of a set's papers at `path`, in one piece or not at all; the papers are gone through once.

    BadValue when there are none, when they are of several sets, or when the file cannot be written.
    """
    remaining = iter(papers)
    first = next(remaining, None)
    if first is None:
        raise BadValue(f"there are no papers to make {path.name} of")
    with _folder_beside(path) as folder:
        loose = Path(folder) / "loose.zip"
        with ZipFile(loose, "w", ZIP_STORED) as into:
            style = SymbolStyle(first.set.look.drawings.lower())
            opened = desk or our_desk()
            growing = _Growing(opened, into, Pictures(opened, style), first.set)
            growing.take(first)
            for paper in remaining:
                growing.take(paper)
            manifest, tests = growing.finish()
        try:
            with replacing(path) as beside:
                _sorted_copy(loose, beside, manifest)
        except OSError as error:
            raise BadValue(f"{path} cannot be written: {error.strerror or error}", path=str(path)) from error
    identifiers = tuple(sorted(item.identifier for item in growing.items.values()))
    return PackageReport(path, identifiers, tests, _notes(first.set))


def _notes(of: ClassSet) -> tuple[str, ...]:
    """What the marks of a platform leave out of the set's rules."""
    notes = ["written to QTI 3.0, not certified"]
    if of.rules.follow_through:
        notes.append("a platform marks each answer by itself: follow-through is given where workings are marked")
    if of.rules.figures:
        notes.append("a platform is handed a number without its figures: significant figures go unmarked there")
    if of.rules.working_asked:
        notes.append("method marks are to be given by hand, for the working typed below the answers")
    if of.look.voltages != "V_I" or of.look.gain != "h_FE":
        notes.append("letters are V_I, V_O and h_FE in a package, whatever the set prints")
    return tuple(notes)


def _digest(resources: Sequence[Resource]) -> str:
    return sha256(repr(resources).encode()).hexdigest()[:16]


def _put(into: ZipFile, name: str, data: bytes) -> None:
    """One entry, with nothing in it that depends on when and where it is written."""
    entry = ZipInfo(name, _DATE)
    entry.compress_type = into.compression
    entry.create_system = 3
    entry.external_attr = 0o644 << 16
    into.writestr(entry, data)


def _sorted_copy(loose: Path, path: Path, manifest: bytes) -> None:
    """The manifest first, then every entry by its name."""
    with ZipFile(loose) as source, ZipFile(path, "w", ZIP_DEFLATED) as into:
        _put(into, MANIFEST, manifest)
        for name in sorted(source.namelist()):
            _put(into, name, source.read(name))


def _folder_beside(path: Path) -> TemporaryDirectory[str]:
    """A folder to work in where the package will be: what a kill leaves of it is found there, and swept."""
    try:
        return TemporaryDirectory(prefix=f".{path.name}-", suffix=PART, dir=path.parent)
    except OSError as error:
        raise BadValue(f"{path} cannot be written: {error.strerror or error}", path=str(path)) from error
