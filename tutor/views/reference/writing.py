"""All reference pages, and their files: whole or not at all.

Place in the data flow: doors, commands, problems and tables -> pages -> docs/reference. A test holds what is kept there
equal to what the objects say now.
"""

from __future__ import annotations

from pathlib import Path

import click

from tutor.generate.problems_folder import default_folder
from tutor.solution.desk import our_desk
from tutor.views.commands import bench, check, derive, listing, mark, paper, problem, site, solve
from tutor.views.reference.commands_page import commands_page
from tutor.views.reference.markdown import page
from tutor.views.reference.problem_pages import circuits_page, families_page
from tutor.views.reference.python_page import python_page
from tutor.views.reference.table_pages import findings_page, set_file_page, symbols_page

# As the table of `tutor/__main__.py` has them, which no lower file may read; a test holds the two equal.
MODULES = (site, listing, derive, solve, problem, check, bench, paper, mark)
_ABOUT = {
    "python.md": "Python: what `import tutor` offers, the values it returns, the errors.",
    "commands.md": "Commands of the terminal, with their options.",
    "circuits.md": "Circuits: netlist, states, quantities, conventions, laws.",
    "families.md": "Families of problems: what each level gives and asks, and the slips it knows.",
    "symbols.md": "Letter symbols, with their units and spellings.",
    "findings.md": "Findings: what is said of a line, and why a line cannot be read.",
    "set-file.md": "Set files: every field.",
}


def commands() -> dict[str, click.Command]:
    """The commands by name, in the order of the terminal's own list."""
    return {str(module.command.name): module.command for module in MODULES}


def reference_pages() -> dict[str, str]:
    """File name -> text of each page, an index first."""
    desk = our_desk()
    listed = "\n".join(f"- [{name}]({name}): {about}" for name, about in _ABOUT.items())
    about = "Made from the objects by `python -m tutor.views.reference`; a change is made there, never here."
    return {
        "README.md": page("Reference", about, [listed]),
        "python.md": python_page(),
        "commands.md": commands_page(commands()),
        "circuits.md": circuits_page(desk),
        "families.md": families_page(desk),
        "symbols.md": symbols_page(),
        "findings.md": findings_page(),
        "set-file.md": set_file_page(default_folder() / "sets" / "shunt-week.toml"),
    }


def write_reference(folder: Path) -> tuple[str, ...]:
    """Writes the pages into a folder, made if need be, and returns their names. Raises OSError where it cannot."""
    pages = reference_pages()
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in pages.items():
        (folder / name).write_text(text, encoding="utf-8")
    return tuple(pages)
