"""`steadyrail site`: builds the study site or one topic as one page, and opens the site when asked."""

from __future__ import annotations

import threading
import webbrowser
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tutor.errors import SteadyrailError, unknown
from tutor.later import later
from tutor.sets.kept import sweep_parts, write_whole
from tutor.views.commands.bar import bar
from tutor.views.commands.speech import json_option, print_json

if TYPE_CHECKING:
    from tutor.across import named
    from tutor.solution import desk as desks
    from tutor.views import assemble, planned_ahead, single_page
    from tutor.views import site as sites
    from tutor.views.content import SiteContent
else:
    named = later("tutor.across.named")
    desks = later("tutor.solution.desk")
    assemble = later("tutor.views.assemble")
    planned_ahead = later("tutor.views.planned_ahead")
    single_page = later("tutor.views.single_page")
    sites = later("tutor.views.site")

BANK = 40  # problems of each family and level
MOST = 1000  # a page holds them all


@click.command("site")
@click.option(
    "--out",
    "out",
    type=click.Path(path_type=Path),
    default=None,
    metavar="DIR",
    help="Folder to build into (steadyrail-site unless said; for one page, this folder).",
)
@click.option(
    "--problems",
    "bank",
    type=click.IntRange(1, MOST),
    default=BANK,
    metavar="N",
    help=f"How many problems of each family and level ({BANK} unless said).",
)
@click.option(
    "--single",
    "topic",
    metavar="TOPIC",
    help="Write one family of problems, with its part of the lesson, as one page that needs nothing beside itself.",
)
@click.option("--open", "open_it", is_flag=True, help="Serve it on this machine alone and open the browser.")
@json_option
def command(out: Path | None, bank: int, topic: str | None, open_it: bool, as_json: bool) -> None:
    """Build the study site: static pages that also open straight from the folder, without a server."""
    if topic is not None:
        _single(topic, out or Path(), bank, open_it, as_json)
        return
    out = out or Path("steadyrail-site")
    sites.check_replaceable(out.absolute())
    report = _build(out, bank)
    if as_json:
        print_json(
            {
                "path": str(report.path),
                "files": report.files,
                "bytes": report.bytes,
                "index": str(report.path / "index.html"),
                "parts": report.parts,
                "first_page": report.first_page,
            }
        )
    else:
        megabytes = report.bytes / 1e6
        click.echo(f"The study site is in {report.path} ({report.files} files, {megabytes:.1f} MB).")
        listed = ", ".join(f"{name} {size / 1e6:.1f} MB" for name, size in report.parts.items())
        click.echo(f"Heaviest: {listed}. The first page is {report.first_page / 1e3:.0f} kB, packed, without its font.")
        click.echo(f"Open {report.path / 'index.html'} in a browser.")
    if open_it:
        _serve(report.path)


def _build(out: Path, bank: int) -> sites.SiteReport:
    """The whole site; `bank` problems a level."""
    with bar() as told:
        planned_ahead.plan_ahead(told)
        return sites.build_site(assemble.assemble(desks.our_desk(), bank, told), out, told)


def _topic(name: str, bank: int) -> SiteContent:
    """The content of one family, with `bank` problems a level and the circuits that its part of the lesson shows."""
    desk = desks.our_desk()
    is_across = name in named.across_ids(desk.folder)
    family = named.across_family(desk.folder, name) if is_across else desk.family(name)
    lesson = single_page.lesson_about(name, family.lesson)
    if lesson is None:
        raise SteadyrailError(f"the family '{name}' names a lesson that is not there; see site/lessons")
    with bar() as told:
        return assemble.topic_content(desk, name, bank, lesson.stage, lesson.circuits(), told)


def _single(topic: str, folder: Path, bank: int, open_it: bool, as_json: bool) -> None:
    """One family as one page in `folder`; UnknownName for a topic that is none."""
    desk = desks.our_desk()
    known = (*desk.folder.family_ids(), *named.across_ids(desk.folder))
    if topic not in known:
        raise unknown("topic", topic, known)
    path = (folder / f"{topic}.html").absolute()
    text = single_page.single_page(_topic(topic, bank), topic)
    sweep_parts(folder, of=path.name)
    write_whole(path, text)
    if as_json:
        print_json({"path": str(path), "bytes": path.stat().st_size})
    else:
        click.echo(f"The page is {path} ({path.stat().st_size / 1e6:.1f} MB); it needs nothing beside itself.")
    if open_it:
        webbrowser.open(path.as_uri())


def _serve(folder: Path) -> None:
    """Serve the folder on loopback, on a port the system picks, until interrupted."""
    handler = partial(_QuietHandler, directory=str(folder))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        address = f"http://127.0.0.1:{server.server_port}/"
        click.echo(f"Serving at {address} on this machine alone; stop with Ctrl-C.")
        threading.Timer(0.3, webbrowser.open, (address,)).start()
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            click.echo("")


class _QuietHandler(SimpleHTTPRequestHandler):
    """A file server that keeps the terminal clean."""

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""
