"""A checked working on the terminal: its lines with their findings in the margin, where to look, the marks."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from tutor.views.checking import CheckedWorking, entry_told, first_told, marks_told
from tutor.views.margin import Weight, rows_of
from tutor.views.terminal import show_checks
from tutor.views.terminal_lines import heading, paragraph, rows

STYLES = {Weight.WRONG: "bold", Weight.ASIDE: "dim", Weight.PLAIN: ""}


def show_checked(console: Console, working: CheckedWorking) -> None:
    """The lines with their findings in the margin, then where to look and the marks."""
    heading(console, working.title, working.name)
    paragraph(console, ", ".join(item.replace(" ", "\u00a0") for item in working.held), style="dim")
    console.print()
    for row in rows_of(working.findings, console.width):
        line = Text(row.left)
        line.append(row.margin, style=STYLES[row.weight])
        console.print(line, no_wrap=True, overflow="ignore", crop=False)
    if working.findings:
        console.print()
    paragraph(console, first_told(working), style="bold")
    if working.marks is None:
        return
    lost = [entry for entry in working.marks.ledger if not entry.got]
    paragraph(console, f"{marks_told(working.marks)}{' Not won:' if lost else ''}")
    rows(console, [(entry.waypoint, entry_told(entry)) for entry in lost])
    show_checks(console, working.margins, f"The design with {working.design}")
