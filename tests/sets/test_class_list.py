"""Class lists: what is read, what is refused and where; names of files that never leave their folder; safe cells."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.errors import SteadyrailError
from tutor.sets.class_list import LONGEST_ID, file_stem, learners_of, read_class_list
from tutor.sets.paper import Learner
from tutor.sets.spreadsheet import safe_cell

BOTH = (Learner("a1", "Ada Quill"), Learner("b2", ""))


@pytest.mark.parametrize(
    "text",
    [
        "a1,Ada Quill\nb2\n",
        "id,name\na1,Ada Quill\nb2,\n",
        "ID;Name\r\na1;Ada Quill\r\n\r\nb2;\r\n",
        'group;Name;Id\n1;"Ada Quill";a1\n2;;b2',
        "id\tname\na1\tAda Quill\nb2\t\n",
        "\n a1 , Ada Quill \n b2 ,\n",
    ],
)
def test_the_same_class_in_every_form(text: str) -> None:
    assert learners_of(text, "class.csv") == BOTH


def test_a_byte_order_mark_is_no_part_of_the_first_id(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    path.write_bytes(b"\xef\xbb\xbfa1,Ada Quill\nb2\n")
    assert read_class_list(path) == BOTH


def test_text_stays_as_it_stands() -> None:
    """Nothing is run, and a cell with a separator, a quotation mark or a line break inside is one cell."""
    told = learners_of('id,name\n=1+1,"Quill, ""Ada"""\n../../x,@b\n', "class.csv")
    assert told == (Learner("=1+1", 'Quill, "Ada"'), Learner("../../x", "@b"))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "class.csv lists nobody; each line needs an id, and may have a name after it"),
        ("id,name\n", "class.csv lists nobody below its first line"),
        (
            "id\na\n\nb\na\n",
            "class.csv, line 5: the id 'a' stands on line 2 already; give each learner an id of their own",
        ),
        ("id,name\n,Ada\n", "class.csv, line 2: the id is empty; give each learner one"),
        ("code,name\n1,Ada\n", "class.csv, line 1: the first line names a column name but none id; call one of its "
         "columns id"),
        ("id,id\n1,2\n", "class.csv, line 1: two columns are called id; leave one"),
        ("a\n" + "x" * 81, "class.csv, line 2: the id has 81 characters; up to 80 are read"),
        ("a," + "x" * 121, "class.csv, line 1: the name has 121 characters; up to 120 are read"),
        ("a,b\x07\n", "class.csv, line 1: the name holds a control character; take it out"),
        ("a\0\n", "class.csv is no text: it holds a zero byte"),
        ('a\n"b\nc\n', "class.csv, line 2: a quotation mark is not closed, or stands inside a cell"),
        ("a\n" + "," * 2001, "class.csv, line 2 has 2001 characters; up to 2000 are read"),
    ],
)  # fmt: skip
def test_a_mistake_is_told_with_its_line(text: str, sentence: str) -> None:
    with pytest.raises(SteadyrailError) as caught:
        learners_of(text, "class.csv")
    assert caught.value.sentence == sentence


def test_a_broken_or_missing_file_is_told(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    with pytest.raises(SteadyrailError, match=r"class\.csv cannot be read as a class list: No such file"):
        read_class_list(path)
    path.write_bytes(b"a\nb\xff\n")
    with pytest.raises(SteadyrailError, match=r"^class\.csv is no UTF-8 text \(byte 4\); save it as CSV in UTF-8$"):
        read_class_list(path)
    with path.open("wb") as file:
        file.truncate(33 * 1024 * 1024)
    with pytest.raises(SteadyrailError, match="is too large: a class list may have up to 32 MB"):
        read_class_list(path)


# Reserved names of Windows: Microsoft, "Naming Files, Paths, and Namespaces".
DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10))}
HOSTILE = [
    "../../etc/passwd", "/etc/passwd", "C:\\x", "a/b", "..", ".", "", " ", "con", "NUL", "com1", "lpt9.txt", "aux.a.b",
    "a\nb", "a:b", "-rf", "~", "$HOME", "%00", "ä", "A", "a", "a.", "a ", "é", "e\u0301", "\u202egpj", "x" * LONGEST_ID,
    "a.pdf", ".made", "*", "a?", "<b>", "a|b", "\ud800",
]  # fmt: skip


def test_a_file_name_never_leaves_its_folder(tmp_path: Path) -> None:
    """Plain letters alone; a path below the folder; no device, nothing hidden, no longer than a file system takes."""
    for learner_id in HOSTILE:
        stem = file_stem(learner_id)
        path = (tmp_path / f"{stem}.pdf").resolve()
        assert path.parent == tmp_path.resolve(), learner_id
        assert set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-_."), stem
        assert stem[0] not in "-." and stem[-1] != "." and 0 < len(stem) <= 60
        assert stem.split(".")[0] not in DEVICES
    assert len({file_stem(item) for item in HOSTILE}) == len(HOSTILE)
    assert file_stem("s-017_b") == "s-017_b", "a plain id is its own name"


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=30), st.text(max_size=30))
def test_different_ids_have_different_files_even_without_capitals(one: str, other: str) -> None:
    assert (file_stem(one).lower() == file_stem(other).lower()) == (one == other)


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", " =", "＝", "\u00a0@", "\ufeff="])
def test_a_cell_that_a_spreadsheet_might_run_begins_with_an_apostrophe(start: str) -> None:
    """OWASP's list of dangerous starts (CSV injection), from memory; with blanks before them, too."""
    assert safe_cell(f"{start}HYPERLINK(1)") == f"'{start}HYPERLINK(1)"


def test_an_ordinary_cell_stays_and_the_table_reads_back() -> None:
    cells = ["Lind", "a=b", "17", "", "o'Neil", 'x"y', "line, two"]
    assert [safe_cell(cell) for cell in cells] == cells
    out = io.StringIO()
    csv.writer(out).writerow(safe_cell(cell) for cell in cells)
    assert next(csv.reader(io.StringIO(out.getvalue()))) == cells
