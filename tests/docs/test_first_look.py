"""The example notebook: it is kept without outputs, runs from top to bottom, and its values show themselves."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

nbclient = pytest.importorskip("nbclient")
nbformat = pytest.importorskip("nbformat")
pytest.importorskip("ipykernel")

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOK = ROOT / "docs" / "first-look.ipynb"


@pytest.fixture(scope="module")
def outputs() -> Iterator[list[dict[str, Any]]]:
    """What each code cell of the notebook put out, in order; the kernel runs in the process's own environment."""
    notebook = nbformat.read(NOTEBOOK, 4)
    before = os.environ.get("PYTHONPATH")
    os.environ["PYTHONPATH"] = str(ROOT)
    try:
        nbclient.NotebookClient(notebook, timeout=300, kernel_name="python3").execute()
    finally:
        os.environ.pop("PYTHONPATH")
        if before is not None:
            os.environ["PYTHONPATH"] = before
    cells = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert [len(cell.outputs) for cell in cells] == [1] * len(cells), "each cell shows one value, and prints nothing"
    yield [dict(cell.outputs[0].data) for cell in cells]


def test_it_is_a_notebook_of_the_standard_kept_without_outputs() -> None:
    """Source: the notebook format 4.5 (its JSON schema comes with nbformat). Outputs would be stale one day."""
    nbformat.validate(nbformat.read(NOTEBOOK, 4))
    for cell in json.loads(NOTEBOOK.read_text(encoding="utf-8"))["cells"]:
        assert cell.get("outputs", []) == [] and cell.get("execution_count") is None


def test_the_circuit_is_drawn(outputs: list[dict[str, Any]]) -> None:
    """Its drawing is SVG in the page's ink, named for whoever cannot see it, and told in words beside it."""
    shown = outputs[0]["text/html"]
    assert "<svg" in shown and 'role="img"' in shown and "currentColor" in shown
    assert "the output node" in shown and "the output node" in outputs[0]["text/plain"]


def test_the_laws_are_set_as_maths(outputs: list[dict[str, Any]]) -> None:
    """MathML, each law under its name, and the derivation to its closed form."""
    shown = outputs[1]["text/html"]
    assert "Kirchhoff’s current law at the output node" in shown
    assert shown.count("<math") > 10 and "Closed form" in shown
    assert "I_Z = (V_I − V_Z)/R − I_L" in outputs[1]["text/plain"]


def test_own_numbers_are_worked(outputs: list[dict[str, Any]]) -> None:
    """By hand: I_Z = (15 V - 9.1 V)/220 Ω - 10 mA = 16.82 mA, P_Z = 9.1 V x 16.82 mA = 153 mW."""
    assert '<td class="value">16.82 mA</td>' in outputs[2]["text/html"]
    assert outputs[3]["text/plain"] == "(16.82 mA, 153.0 mW)"


def test_a_problem_shows_its_statement_and_a_solution_its_steps(outputs: list[dict[str, Any]]) -> None:
    """The problem alone tells no answer; by hand R_MAX = 6.5 V/(15 mA + 4 mA) = 342 Ω."""
    assert "Choose the series resistor" in outputs[4]["text/html"]
    assert "342" not in outputs[4]["text/html"] and "342" not in outputs[4]["text/plain"]
    assert "R_MAX" in outputs[6]["text/plain"] and "342 Ω" in outputs[6]["text/plain"]
    assert "<mn>342</mn>" in outputs[6]["text/html"]


def test_a_working_is_told_where_it_went_wrong(outputs: list[dict[str, Any]]) -> None:
    """The first line forgets the zener's own current (6.5 V/15 mA = 433 Ω); the two after it are right."""
    assert "First line to look at: 1." in outputs[5]["text/html"]
    assert 'class="first"' in outputs[5]["text/html"]
    assert outputs[5]["text/plain"].count("holds here") == 2


def test_values_in_a_table_are_written_as_quantities(outputs: list[dict[str, Any]]) -> None:
    """Within a dict, too, a quantity is its number and its unit."""
    assert "'zener-resistor:2:1': [" in outputs[7]["text/plain"]
    assert outputs[7]["text/plain"].count(" Ω") == 15
