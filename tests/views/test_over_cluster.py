"""Papers and marks of a class over a Dask cluster: the same files as from one process."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import LocalCluster

from tests.views.test_commands import run

SET = """
title = "Week six"

[learners]
variants = 3

[[questions]]
family = "zener-state"
level = 1
"""


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """A cluster in this process, spoken to as one on other machines is."""
    with LocalCluster(
        n_workers=1, threads_per_worker=2, processes=False, protocol="tcp", dashboard_address=":0"
    ) as found:
        yield found.scheduler_address


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file but what changes from run to run on purpose: a workbook says when it was made."""
    found = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    return {name: data for name, data in found.items() if not name.endswith(".xlsx")}


def test_papers_and_marks_are_the_same(
    address: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "week.toml").write_text(SET, encoding="utf-8")
    (tmp_path / "workings").mkdir()
    (tmp_path / "workings" / "1.txt").write_text("Q1\nV_TH = V_I R_L/(R + R_L)\nV_O = 1 kV\n", encoding="utf-8")
    week, workings = str(tmp_path / "week.toml"), str(tmp_path / "workings")
    for name, where in (("here", ("--processes", "1")), ("there", ("--cluster", address))):
        assert run(capsys, "paper", week, "--out", str(tmp_path / name / "papers"), *where)[0] == 0
        assert run(capsys, "mark", week, workings, "--out", str(tmp_path / name / "marks"), "--no-pdf", *where)[0] == 0
    here, there = files_in(tmp_path / "here"), files_in(tmp_path / "there")
    assert {"papers/papers/3.pdf", "papers/keys/3.pdf", "marks/marks.csv"} <= here.keys()
    assert here == there
