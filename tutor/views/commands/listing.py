"""`steadyrail list`: circuits, families and conventions."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from tutor.later import later
from tutor.views.commands.speech import json_option, print_json

if TYPE_CHECKING:
    from tutor.generate import problems_folder
    from tutor.solution import desk as desks
    from tutor.views import listing, listing_read, listing_shown, terminal_lines
else:
    problems_folder = later("tutor.generate.problems_folder")
    desks = later("tutor.solution.desk")
    listing = later("tutor.views.listing")
    listing_read = later("tutor.views.listing_read")
    listing_shown = later("tutor.views.listing_shown")
    terminal_lines = later("tutor.views.terminal_lines")


@click.command("list")
@json_option
def command(as_json: bool) -> None:
    """Circuits, families and conventions: what each is given, asks and covers."""
    told = listing.kept_listing(problems_folder.default_folder(), lambda: listing_read.listing_of(desks.our_desk()))
    if as_json:
        print_json(listing_shown.listing_record(told))
    else:
        listing_shown.show_listing(terminal_lines.terminal(), told)
