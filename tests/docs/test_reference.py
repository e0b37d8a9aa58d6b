"""The reference pages: made from the objects, complete, and kept as they are made."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import tutor
from tutor.__main__ import COMMANDS
from tutor.errors import UnknownName
from tutor.quantities.symbols import SYMBOLS
from tutor.solution.desk import our_desk
from tutor.views.reference.markdown import docstring, page, plain, table
from tutor.views.reference.python_page import VALUES, error_tree, signature
from tutor.views.reference.writing import MODULES, commands, reference_pages, write_reference
from tutor.working.finding import Code

KEPT = Path(__file__).resolve().parents[2] / "docs" / "reference"


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    return reference_pages()


def test_what_is_kept_is_what_is_made(pages: dict[str, str]) -> None:
    """A page that was changed by hand, or not made anew after its object changed, fails here."""
    assert {path.name for path in KEPT.iterdir()} == set(pages)
    for name, text in pages.items():
        kept = (KEPT / name).read_text(encoding="utf-8")
        assert kept == text, f"docs/reference/{name} is not what its objects say: run python -m tutor.views.reference"


def headings(text: str) -> list[str]:
    return re.findall(r"(?m)^#+ (.*)$", text)


def test_every_door_value_and_error_is_on_the_page_of_python(pages: dict[str, str]) -> None:
    """All that the package names, and whatever shows itself in a notebook."""
    told = headings(pages["python.md"])
    assert [item for item in told if item.startswith("`tutor.")] == [f"`tutor.{name}`" for name in tutor.__all__]
    assert {name for _, name in tutor._SHOWN} <= {value.__name__ for value in VALUES}
    assert {f"`{value.__name__}`" for value in VALUES} <= set(told)
    assert "| `low` | `float` | SI; accepted band, inclusive |" in pages["python.md"]
    assert UnknownName in error_tree() and all(f"| `{item.__name__}` |" in pages["python.md"] for item in error_tree())


def test_every_command_is_on_its_page_in_the_order_of_the_terminal(pages: dict[str, str]) -> None:
    """The list of the reference is the table of the terminal."""
    assert list(commands()) == list(COMMANDS)
    assert [module.__name__ for module in MODULES] == [module for module, _ in COMMANDS.values()]
    assert [item.split()[1] for item in headings(pages["commands.md"])[1:]] == list(COMMANDS)
    for command in commands().values():
        for item in command.params:
            assert max(item.opts, key=len) in pages["commands.md"] or item.param_type_name == "argument"


def test_every_circuit_family_letter_and_code_is_there(pages: dict[str, str]) -> None:
    """Nothing that there is goes without a place in the reference."""
    folder = our_desk().folder
    circuits = headings(pages["circuits.md"])
    assert {f"`{name}`" for name in folder.circuit_ids()} == set(circuits[1:])
    families = headings(pages["families.md"])
    assert {f"`{name}`" for name in (*tutor.families(), *tutor.across_families())} <= set(families)
    assert {f"{name}:{level}" for name in tutor.families() for level in (1, 2, 3)} <= set(families)
    assert all(f"| `{name}` |" in pages["symbols.md"] for name in SYMBOLS)
    assert all(f"| `{code.value}` |" in pages["findings.md"] for code in Code)


def test_a_law_stands_with_its_source_and_a_slip_with_its_place(pages: dict[str, str]) -> None:
    """By hand: the current law at the output node of the shunt; the slip that forgets the zener's own current."""
    shunt = pages["circuits.md"].split("## `zener-shunt`")[1].split("\n## ")[0]
    assert "| I_R = I_Z + I_L | Kirchhoff's current law at the output node |" in shunt
    resistor = pages["families.md"].split("### zener-resistor:2")[1].split("\n### ")[0]
    assert re.search(r"\| `[a-z-]+` \| `R_MAX` \| .*zener", resistor)


def test_every_field_of_a_set_file_says_something(pages: dict[str, str]) -> None:
    """No field without an example or a table of its own."""
    rows = re.findall(r"(?m)^\| `(\w+)` \| (.*) \| (.*) \|$", pages["set-file.md"])
    assert {"title", "tolerance", "problem", "given", "list"} <= {name for name, _, _ in rows}
    assert all(example.strip() or said.strip() for _, example, said in rows)


def test_every_table_has_the_columns_of_its_head(pages: dict[str, str]) -> None:
    """A sign for a column within a cell is escaped, so that no row is broken."""
    for text in pages.values():
        width = 0
        for line in text.splitlines():
            columns = len(re.findall(r"(?<!\\)\|", line)) if line.startswith("|") else 0
            assert not (width and columns) or columns == width, line
            width = columns


def test_the_pages_are_written_where_they_are_asked_for(pages: dict[str, str], tmp_path: Path) -> None:
    """All of them, and the index leads to each."""
    assert set(write_reference(tmp_path / "new")) == set(pages) == {path.name for path in (tmp_path / "new").iterdir()}
    assert set(re.findall(r"\]\(([^)]+)\)", pages["README.md"])) == set(pages) - {"README.md"}


def documented(values: dict[str, float], *, largest: bool = True) -> float:
    """The largest value.

    >>> documented({"a": 1.0})
    1.0

    An empty mapping is refused.
    """
    return max(values.values()) if largest else min(values.values())


def test_markdown_of_docstrings_tables_and_signatures() -> None:
    """Examples become code, what follows them stays words; signs that would be markup are not."""
    assert docstring(documented) == (
        'The largest value.\n\n```python\n>>> documented({"a": 1.0})\n1.0\n```\n\nAn empty mapping is refused.'
    )
    assert signature(documented) == "documented(values: dict[str, float], *, largest: bool = True) -> float"
    assert table(("a", "b"), [("x|y", "z")]) == "| a | b |\n|---|---|\n| x\\|y | z |" and table(("a",), []) == ""
    assert plain("T_* <b>\n is") == "T_\\* \\<b\\> is"
    assert page("T", "about", ["", "part"]) == "# T\n\nabout\n\npart\n"
