"""Builds the study site: every page, bank, script, sheet and font into one folder that opens from disk.

Place in the data flow: SiteContent + site sources -> `build_site` -> a folder. The new site grows in a folder beside
the old one and takes its place only when it is whole. Equal content gives equal bytes: no dates, nothing random.
"""

from __future__ import annotations

import gzip
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from tutor.errors import SteadyrailError
from tutor.solution.sheet_json import write_sheets
from tutor.views import bank, pages
from tutor.views.assemble import Progress
from tutor.views.content import FamilyContent, LevelContent, SiteContent
from tutor.views.data_scripts import drawing_script, tables_script
from tutor.views.design_pages import desk_index_page, desk_pages
from tutor.views.exchanged import clear_sheds, growing_beside
from tutor.views.fonts import FONT_FILE, LICENCE_FILE, maths_font
from tutor.views.formula_sheets import formula_pages
from tutor.views.glossary import glossary_page, read_glossary, terms_shown
from tutor.views.lecturer_page import lecturer_pages
from tutor.views.lessons import read_lessons
from tutor.views.packed import packed
from tutor.views.pages import Page
from tutor.views.path_pages import path_pages
from tutor.views.press import make_press
from tutor.views.search_index import search_pages
from tutor.views.service_worker import WORKER_FILE, asked_by, service_worker
from tutor.views.settings_page import settings_page
from tutor.views.shared_help import SharedHelp
from tutor.views.sources import site_folder

MARKER = ".steadyrail-site"
_LICENCE_SOURCE = "OFL-1.1.txt"

_DATA_FOLDERS = ("bank/", "circuits/", "desks/", "own/", "sheets/")  # their scripts hand one literal to a page


@dataclass(frozen=True)
class SiteReport:
    """What was built: number of files, their size together in bytes, and where; the heaviest parts of it by folder, in
    bytes, and what the first page asks for, packed as servers send it, its font apart."""

    files: int
    bytes: int
    path: Path
    parts: dict[str, int]
    first_page: int


@dataclass(frozen=True)
class _Job:
    """One part of the build: what it is, in words, and the pages it makes."""

    what: str
    make: Callable[[], Iterator[Page]]


def build_site(content: SiteContent, out: Path, progress: Progress) -> SiteReport:
    """Builds the site into `out`; an older site of ours there is replaced once the new one is whole.

    Raises SteadyrailError when `out` holds anything that this function did not build, or cannot be written.
    """
    out = out.absolute()
    check_replaceable(out)
    try:
        with growing_beside(out) as growing:
            _fill(content, growing, progress)
            report = _measure(growing, out)
    except OSError as error:
        raise SteadyrailError(
            f"the site cannot be written to {out}: {error.strerror}; choose another folder"
        ) from error
    return report


def check_replaceable(out: Path) -> None:
    """SteadyrailError for a folder with anything in it that is not a site of ours: it is left alone. First puts back
    what a killed run had moved aside, and takes away what it left."""
    clear_sheds(out)
    if not out.exists():
        return
    if not out.is_dir():
        raise SteadyrailError(f"{out} is a file; the site needs a folder of its own")
    if any(out.iterdir()) and not (out / MARKER).is_file():
        raise SteadyrailError(
            f"{out} is not empty and was not built by this command, so it is left alone; "
            "choose an empty or a new folder"
        )


def _fill(content: SiteContent, folder: Path, progress: Progress) -> None:
    """Writes the whole site into an empty folder."""
    jobs = _jobs(content)
    for done, job in enumerate(jobs):
        progress(done, len(jobs), job.what)
        for page in job.make():
            is_data = page.path.startswith(_DATA_FOLDERS) and page.path.endswith(".js")
            _write(folder / page.path, (packed(page.text) if is_data else page.text).encode())
    _copy_assets(folder)
    font = maths_font()
    licence = (site_folder() / "assets" / _LICENCE_SOURCE).read_text(encoding="utf-8")
    _write(folder / "fonts" / FONT_FILE, font.woff2)
    _write(folder / "fonts" / LICENCE_FILE, f"{font.copyright}\n\n{licence}".encode())
    _write(folder / WORKER_FILE, service_worker(folder).encode())
    _write(folder / MARKER, b"Built by steadyrail site; this folder is replaced whole when the site is built again.\n")
    progress(len(jobs), len(jobs), "done")


def _jobs(content: SiteContent) -> list[_Job]:
    """Everything that makes pages, in the order of the path."""
    source = site_folder()
    press = make_press(source / "templates")
    lessons = pages.lessons_shown(content, read_lessons(source / "lessons"))
    help_shared = SharedHelp()
    terms = terms_shown(read_glossary(source / "glossary.toml"), lessons)

    def front() -> Iterator[Page]:
        yield from path_pages(content, lessons, press)
        yield pages.symbols_page(content, press)
        yield pages.own_index_page(content, press)
        yield desk_index_page(content, press)
        yield settings_page(content, press)
        for key, strokes in sorted(content.redrawn().items()):
            yield Page(f"drawings/{key}.js", drawing_script(key, strokes))
        yield Page("assets/tables.js", tables_script(content.tables))

    def back_matter() -> Iterator[Page]:
        yield from lecturer_pages(content, press)
        yield glossary_page(terms, lessons, press)
        yield from formula_pages(content, press)
        yield from search_pages(content, lessons, terms, press)

    def circuit_pages() -> Iterator[Page]:
        for stage in content.stages:
            for circuit in stage.circuits:
                yield from pages.circuit_pages(circuit, stage, content, lessons, press)
        for lesson in lessons:
            yield pages.lesson_page(lesson, content, press)

    def problems_of(family: FamilyContent, level: LevelContent) -> Iterator[Page]:
        kind, name = f"{family.id}:{level.level}", pages.level_name(family, level)
        bodies = pages.level_bodies(level, press)
        yield pages.problem_page(family, level, help_shared.lighten(bodies[0]), content, lessons, press)
        yield Page(f"bank/{name}.js", bank.write(kind, bank.pack(bodies)))
        yield from desk_pages(family, level, content, press)
        if level.sheets:
            yield Page(f"sheets/{name}.js", write_sheets(kind, level.sheets))

    jobs = [
        _Job("contents, topics and letter symbols", front),
        _Job("class sheets, glossary, formula sheets, search", back_matter),
        _Job("circuits and lessons", circuit_pages),
        _Job("your own numbers", lambda: pages.own_circuit_pages(content, press)),
    ]
    for family in content.families():
        for level in family.levels:
            if level.problems:
                jobs.append(_Job(f"{family.id}, level {level.level}", partial(problems_of, family, level)))
    # Last, when every page has said what it shares.
    jobs.append(_Job("help with typing", lambda: iter([Page("assets/typing.js", help_shared.script())])))
    return jobs


def _copy_assets(folder: Path) -> None:
    for source in sorted((site_folder() / "assets").iterdir()):
        if source.name != _LICENCE_SOURCE:
            _write(folder / "assets" / source.name, source.read_bytes())


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)


def _measure(folder: Path, out: Path) -> SiteReport:
    sizes = {path: path.stat().st_size for path in folder.rglob("*") if path.is_file()}
    parts: Counter[str] = Counter()
    for path, size in sizes.items():
        parts[path.relative_to(folder).parts[0] if path.parent != folder else "top"] += size
    heaviest = dict(parts.most_common(4))
    return SiteReport(len(sizes), sum(sizes.values()), out, heaviest, packed_size(folder, "index.html"))


def packed_size(folder: Path, page: str) -> int:
    """What a page asks for when it is opened, each file packed by gzip, in bytes: all but its fonts."""
    return sum(len(gzip.compress(path.read_bytes(), mtime=0)) for path in (folder / page, *asked_by(folder / page)))
