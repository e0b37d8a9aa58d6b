"""Marks by hand: read from CSV or TOML, each mistake told with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.errors import SteadyrailError
from tutor.sets.by_hand import TEMPLATE, Override, read_by_hand
from tutor.sets.paper import Learner

CLASS = (Learner("w01"), Learner("=cmd()"))
HEAD = TEMPLATE.strip()


def read(folder: Path, text: str, name: str = "override.csv") -> dict[str, tuple[Override, ...]]:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return dict(read_by_hand(file, CLASS, 3))


def test_a_table_and_toml_say_the_same(tmp_path: Path) -> None:
    """Halves by point or comma; columns in any order; a note in its quotation marks; each knows its place."""
    wanted = {
        "w01": (Override(1, "", 2.5, "seen, at the desk", ""), Override(2, "V_O", 1, "", "")),
        "=cmd()": (Override(3, "", 0, "copied", ""),),
    }
    table = f'{HEAD}\nw01,1,,2.5,"seen, at the desk"\n\nw01,Q2,V_O,1,\n=cmd(),3,,0,copied\n'
    toml = (
        '[[override]]\nid = "w01"\nquestion = 1\nmarks = 2.5\nnote = "seen, at the desk"\n'
        '[[override]]\nid = "w01"\nquestion = 2\nwaypoint = "V_O"\nmarks = 1\n'
        '[[override]]\nid = "=cmd()"\nquestion = 3\nmarks = 0\nnote = "copied"\n'
    )
    semicolons = "\ufeffmarks;note;id;question\n2,5;seen, at the desk;w01;1\n0;copied;=cmd();3\n"
    for text, name, lines in ((table, "o.csv", (2, 4, 5)), (toml, "o.toml", (1, 6, 11))):
        found = read(tmp_path, text, name)
        bare = {
            whose: tuple(Override(item.question, item.waypoint, item.marks, item.note, "") for item in items)
            for whose, items in found.items()
        }
        assert bare == wanted
        places = [item.place for items in found.values() for item in items]
        assert places == [f"{name}, line {line}" for line in lines]
    assert [item.marks for items in read(tmp_path, semicolons).values() for item in items] == [2.5, 0]


def test_a_half_may_have_noughts_after_it(tmp_path: Path) -> None:
    """2.50 is 2.5, and 2.0 for a waypoint a whole number; a note of 500 characters has room."""
    found = read(tmp_path, f"{HEAD}\nw01,1,,2.50,{'x' * 500}\nw01,3,V_O,2.0,\n=cmd(),3,,1234,\n")
    assert [item.marks for item in found["w01"]] == [2.5, 2.0]
    assert found["=cmd()"][0].marks == 1234


def test_the_template_decides_nothing(tmp_path: Path) -> None:
    """It has the head alone."""
    assert read(tmp_path, TEMPLATE) == {} == read(tmp_path, "")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("id,question\n", "override.csv, line 1 has no column 'marks'; marks by hand begin id,question,"),
        ("id,question,mark,marks\n", "override.csv, line 1 has no use for the column 'mark'; did you mean 'marks'?"),
        (f"{HEAD}\nw1,1,,2,\n", "override.csv, line 2: 'w1' is nobody of the class; did you mean 'w01'?"),
        (f"{HEAD}\n\nw01,4,,2,\n", "override.csv, line 3: there is no question '4'; write a number from 1 to 3"),
        (f"{HEAD}\nw01,1,,2.3,\n", "override.csv, line 2: the marks '2.3' are no whole number or a half, such as 3.5"),
        (f"{HEAD}\nw01,1,,2.05,\n", "override.csv, line 2: the marks '2.05' are no whole number or a half, such as"),
        (f"{HEAD}\nw01,1,,12345,\n", "override.csv, line 2: the marks '12345' are no whole number or a half"),
        (f"{HEAD}\nw01,0,,2,\n", "override.csv, line 2: there is no question '0'; write a number from 1 to 3"),
        (f"{HEAD}\nw01,1,,-1,\n", "override.csv, line 2: the marks '-1' are no whole number or a half, such as 3.5"),
        (f"{HEAD}\nw01,1,V_O,0.5,\n", "override.csv, line 2: the marks '0.5' of a waypoint must be a whole number"),
        (f"{HEAD}\nw01,1,,nan,\n", "override.csv, line 2: the marks 'nan' are no whole number or a half, such as 3.5"),
        (f"{HEAD}\nw01,1,,1,a\nw01,1,,2,b\n", "override.csv, line 3: override.csv, line 2 decides this already"),
        (f"{HEAD}\nw01,1,,1,\nw01,1,V_O,1,\n", "override.csv, line 3: override.csv, line 2 gives marks for question 1"),
        (f"{HEAD}\nw01,1,,1,a,b\n", "override.csv, line 2 has 6 cells; its columns are id, question, waypoint,"),
        (f"{HEAD}\nw01,1,,1,{'x' * 501}\n", "override.csv, line 2: a note may have up to 500 characters (got 501)"),
        (f'{HEAD}\nw01,1,,1,"a\n', "override.csv, line 2, does not read as a table"),
    ],
)
def test_a_mistake_in_a_table_has_its_line(tmp_path: Path, text: str, sentence: str) -> None:
    """What is wrong, where, and what would be right."""
    with pytest.raises(SteadyrailError) as refused:
        read(tmp_path, text)
    assert refused.value.sentence.startswith(sentence)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[[override]]\nid = \n", "o.toml is not TOML"),
        ("\n[[overrides]]\nid = 'w01'\n", "o.toml, line 2, has no use for 'overrides'; a decision begins [[override]]"),
        ("\n\n[[of.w01]]\nid = 'w01'\n", "o.toml, line 3, has no use for 'of'; a decision begins [[override]]"),
        ("override = 3\n", "o.toml, line 1: a decision begins [[override]]"),
        ("[[override]]\nid = 'w01'\nquestoin = 1\n", "o.toml, line 3 has no use for the key 'questoin'; did you mean"),
        ("[[override]]\nid = 'w01'\nquestion = 1\nmarks = 1.25\n", "o.toml, line 1: the marks '1.25' are no whole"),
    ],
)
def test_a_mistake_in_toml_has_its_line(tmp_path: Path, text: str, sentence: str) -> None:
    """As in a table."""
    with pytest.raises(SteadyrailError) as refused:
        read(tmp_path, text, "o.toml")
    assert refused.value.sentence.startswith(sentence)


def test_a_file_beyond_all_need_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The last byte that may be there is read, and one more is too many."""
    monkeypatch.setattr("tutor.sets.by_hand.MOST_BYTES", 2**20)
    text = f"{HEAD}\nw01,1,,2,\n"
    room = " " * 99_999 + "\n"
    text += room * 10
    text += " " * (2**20 - len(text))
    assert read(tmp_path, text)["w01"][0].marks == 2
    with pytest.raises(SteadyrailError, match="is too large: marks by hand may have up to 1 MB"):
        read(tmp_path, text + " ")


def test_a_file_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    """No such file; no text."""
    with pytest.raises(SteadyrailError, match="cannot be read as marks by hand"):
        read_by_hand(tmp_path / "none.csv", CLASS, 3)
    (tmp_path / "b.csv").write_bytes(b"\xff\xfe")
    with pytest.raises(SteadyrailError, match=r"^b\.csv is no UTF-8 text \(byte 1\); name a table or a TOML file"):
        read_by_hand(tmp_path / "b.csv", CLASS, 3)


def test_a_note_keeps_its_lines(tmp_path: Path) -> None:
    """A note in quotes may go over several lines, and the row after it has its own."""
    text = f'{HEAD}\nw01,1,,2,"well drawn\nbut late"\nw01,2,,9.25,\n'
    with pytest.raises(SteadyrailError, match=r"line 4: the marks '9\.25'"):
        read(tmp_path, text)
    assert read(tmp_path, text.replace("9.25", "9.5"))["w01"][0].note == "well drawn\nbut late"
