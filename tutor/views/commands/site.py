"""`steadyrail site`: builds the study site, and opens it when asked."""

from __future__ import annotations

import sys
import threading
import webbrowser
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import click
from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn

from tutor.solution.desk import our_desk
from tutor.views.assemble import assemble
from tutor.views.commands.speech import json_option, print_json
from tutor.views.site import SiteReport, build_site, check_replaceable

BANK = 40  # problems of each family and level
MOST = 1000  # a page holds them all


@click.command("site")
@click.option(
    "--out",
    "out",
    type=click.Path(path_type=Path),
    default=Path("steadyrail-site"),
    metavar="DIR",
    help="Folder to build into (steadyrail-site unless said).",
)
@click.option(
    "--problems",
    "bank",
    type=click.IntRange(1, MOST),
    default=BANK,
    metavar="N",
    help=f"How many problems of each family and level ({BANK} unless said).",
)
@click.option("--open", "open_it", is_flag=True, help="Serve it on this machine alone and open the browser.")
@json_option
def command(out: Path, bank: int, open_it: bool, as_json: bool) -> None:
    """Build the study site: static pages that also open straight from the folder, without a server."""
    check_replaceable(out.absolute())
    report = _build(out, bank)
    if as_json:
        print_json(
            {
                "path": str(report.path),
                "files": report.files,
                "bytes": report.bytes,
                "index": str(report.path / "index.html"),
            }
        )
    else:
        megabytes = report.bytes / 1e6
        click.echo(f"The study site is in {report.path} ({report.files} files, {megabytes:.1f} MB).")
        click.echo(f"Open {report.path / 'index.html'} in a browser.")
    if open_it:
        _serve(report.path)


def _build(out: Path, bank: int) -> SiteReport:
    """Build with a bar on standard error, which is quiet when it is no terminal; `bank` problems a level."""
    columns = (TextColumn("{task.description}"), BarColumn(bar_width=24), TextColumn("{task.completed}/{task.total}"))
    with Progress(*columns, console=Console(file=sys.stderr), transient=True) as bar:
        task = bar.add_task("starting", total=None)

        def told(done: int, total: int, what: str) -> None:
            bar.update(task, completed=done, total=total, description=what)

        content = assemble(our_desk(), bank, told)
        return build_site(content, out, told)


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
