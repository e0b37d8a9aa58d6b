"""`steadyrail list`: circuits, families and conventions."""

from __future__ import annotations

import click

from tutor.across.named import across_family, across_ids
from tutor.solution.desk import our_desk
from tutor.views.commands.speech import json_option, print_json
from tutor.views.records import list_record
from tutor.views.terminal import show_list, terminal


@click.command("list")
@json_option
def command(as_json: bool) -> None:
    """Circuits, families and conventions: what each is given, asks and covers."""
    desk = our_desk()
    circuits = {name: desk.folder.circuit_forms(name) for name in desk.folder.circuit_stems()}
    circuits = dict(sorted(circuits.items(), key=lambda item: (item[1][0].stage, item[0])))
    families = {name: desk.family(name) for name in desk.folder.family_ids()}
    across = {name: across_family(desk.folder, name) for name in across_ids(desk.folder)}
    if as_json:
        print_json(list_record(circuits, families, across))
    else:
        show_list(terminal(), circuits, families, across)
