"""The tables of a set: read back by the standard library, they agree with the problems, and no cell is a formula."""

from __future__ import annotations

import csv
import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from tutor.errors import BadValue
from tutor.generate.name import read_name
from tutor.generate.problem import WaypointKind
from tutor.sets.asked import asked
from tutor.sets.paper import Asked, ClassSet, Learner, Look, Paper, Rules
from tutor.solution.desk import our_desk
from tutor.views.records import problem_record
from tutor.views.set_tables import ANSWER_COLUMNS, ITEM_COLUMNS, TablesReport, write_tables

NAMES = ("zener-resistor:2:17", "zener-state:1:1", "zener-temperature:2:1", "complete-the-circuit:1:1")
ODD = '=HYPERLINK("http://example.org")'


@pytest.fixture(scope="module")
def questions() -> tuple[Asked, ...]:
    return tuple(asked(our_desk(), at, read_name(name)) for at, name in enumerate(NAMES, start=1))


@pytest.fixture(scope="module")
def papers(questions: tuple[Asked, ...]) -> tuple[Paper, ...]:
    of = ClassSet("T", 1, (), (), Rules(tolerance=0.02), Look())
    learners = (Learner(ODD), Learner("@s-02"))
    return tuple(Paper(of, learner, questions[: 4 - at]) for at, learner in enumerate(learners))


@pytest.fixture(scope="module")
def written(papers: tuple[Paper, ...], tmp_path_factory: pytest.TempPathFactory) -> TablesReport:
    return write_tables(iter(papers), tmp_path_factory.mktemp("tables"))


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def test_every_item_has_one_row_and_is_whole_in_json(written: TablesReport, questions: tuple[Asked, ...]) -> None:
    """Two papers that ask the same problem share its row; JSON holds what `problem --json` promises."""
    rows = rows_of(written.items)
    assert written.item_rows == len(rows) == len(NAMES)
    assert tuple(rows[0]) == ITEM_COLUMNS
    told = json.loads(written.items_json.read_text(encoding="utf-8"))
    for row, record, question in zip(rows, told, questions, strict=True):
        assert row["item"] == record["item"] == question.name
        assert row["identifier"] == record["identifier"]
        assert int(row["marks"]) == sum(map(len, record["marks"].values())) == question.scheme.total
        whole = json.loads(json.dumps(problem_record(question.problem, question.solution, question.lines)))
        assert {key: record[key] for key in whole} == whole
        assert "$" not in row["question"]


def test_answers_agree_with_the_problems(written: TablesReport, papers: tuple[Paper, ...]) -> None:
    """A row for each waypoint of each paper: SI values as in JSON, bounds by the set's rules, words as they are."""
    rows = iter(rows_of(written.answers))
    for paper in papers:
        for question in paper.asked:
            for point in question.problem.waypoints:
                row = next(rows)
                assert tuple(row) == ANSWER_COLUMNS
                assert (row["item"], row["key"], row["kind"]) == (question.name, point.key, point.kind.value)
                assert row["learner"] == f"'{paper.learner.id}"
                if point.answer is None:
                    assert row["answer"] == point.state and set(row["accepted"].split(" | ")) >= {point.state}
                    continue
                value = float(row["value"])
                assert value == pytest.approx(point.answer.value, rel=1e-11)
                assert row["answer"] == point.answer.text
                if point.kind is WaypointKind.CHOICE:
                    assert [float(item) for item in row["accepted"].split("; ")] == pytest.approx(list(point.accepted))
                else:
                    assert float(row["low"]) < value < float(row["high"])
                    assert float(row["high"]) - float(row["low"]) == pytest.approx(0.04 * abs(value), rel=1e-6)
    assert next(rows, None) is None
    assert written.answer_rows == len(rows_of(written.answers))


def test_the_typed_number_is_in_the_unit_beside_it(written: TablesReport) -> None:
    """By hand: 90.9 mA is 0.0909 A, and a drift of 3.96 mV/K downwards is typed as −3.96."""
    rows = {(row["item"], row["key"]): row for row in rows_of(written.answers)}
    found = rows["zener-resistor:2:17@2", "I_ZM"]
    assert (found["typed_unit"], found["unit"]) == ("mA", "A")
    assert float(found["typed"]) == pytest.approx(90.909, rel=1e-4) and found["value"].startswith("0.0909")
    (drift,) = [row for (item, key), row in rows.items() if item.startswith("zener-temperature") and key == "S_T"]
    assert drift["typed"].startswith("-3.9") and drift["typed_unit"] == "mV/K"


def test_no_cell_is_a_formula(written: TablesReport) -> None:
    """Source: OWASP on CSV injection, from memory: what begins with = + - @ is text, unless it is a number."""
    cells = [cell for path in (written.items, written.answers) for row in rows_of(path) for cell in row.values()]
    starting = [cell for cell in cells if cell[:1] in "=+-@\t\r" and cell]
    assert starting and all(re.fullmatch(r"-[0-9.]+(e-[0-9]+)?", cell) for cell in starting)
    assert f"'{ODD}" in cells


def test_what_cannot_be_written_leaves_nothing(papers: tuple[Paper, ...], tmp_path: Path) -> None:
    """A folder that is not there, and papers that fail half-way."""
    with pytest.raises(BadValue, match="cannot be written to"):
        write_tables(papers, tmp_path / "no")

    def failing() -> object:
        yield papers[0]
        yield replace(papers[1], set=None)

    with pytest.raises(AttributeError):
        write_tables(failing(), tmp_path)
    assert list(tmp_path.iterdir()) == []
