"""`steadyrail list`: circuits, families and conventions."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from tutor.later import later
from tutor.views.commands.speech import json_option, print_json

if TYPE_CHECKING:
    from tutor.across import named
    from tutor.solution import desk as desks
    from tutor.views import records, terminal
else:
    named = later("tutor.across.named")
    desks = later("tutor.solution.desk")
    records = later("tutor.views.records")
    terminal = later("tutor.views.terminal")


@click.command("list")
@json_option
def command(as_json: bool) -> None:
    """Circuits, families and conventions: what each is given, asks and covers."""
    desk = desks.our_desk()
    circuits = {name: desk.folder.circuit_forms(name) for name in desk.folder.circuit_stems()}
    circuits = dict(sorted(circuits.items(), key=lambda item: (item[1][0].stage, item[0])))
    families = {name: desk.family(name) for name in desk.folder.family_ids()}
    across = {name: named.across_family(desk.folder, name) for name in named.across_ids(desk.folder)}
    if as_json:
        print_json(records.list_record(circuits, families, across))
    else:
        terminal.show_list(terminal.terminal(), circuits, families, across)
