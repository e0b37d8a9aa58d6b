"""What commands share: `--json` and `--format`."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from tutor.errors import BadValue
from tutor.later import later

if TYPE_CHECKING:
    from tutor.views.notes import latex_note, markdown_note
    from tutor.views.notes.blocks import Note
else:
    latex_note = later("tutor.views.notes.latex_note")
    markdown_note = later("tutor.views.notes.markdown_note")

json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")

format_option = click.option(
    "--format",
    "form",
    type=click.Choice(["text", "markdown", "latex"]),
    default="text",
    show_default=True,
    help="How it is written: for this terminal, or as notes of one's own.",
)


def print_note(form: str, note: Note) -> None:
    """A note on standard output, in Markdown or LaTeX."""
    text = markdown_note.markdown_text(note) if form == "markdown" else latex_note.latex_text(note)
    click.echo(text, nl=False)


def one_form(form: str, as_json: bool) -> None:
    """BadValue when two forms are asked for at once."""
    if as_json and form != "text":
        raise BadValue(f"--json and --format {form} ask for two forms at once; leave one out")


def print_json(record: dict[str, Any]) -> None:
    """One JSON object on standard output."""
    click.echo(json.dumps(record, ensure_ascii=False, indent=1))
