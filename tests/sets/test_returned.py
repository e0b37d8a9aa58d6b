"""Workings handed back: headings forgiven, a broken file its learner's note, nothing read outside the folder."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.sets.demo_class import LEARNERS, UNREAD, write_workings
from tutor.errors import SteadyrailError
from tutor.sets.class_list import file_stem
from tutor.sets.paper import Learner
from tutor.sets.returned import MOST_OF_A_FILE, Answer, Filed, Returned, by_headings, file_returns
from tutor.sets.returned_table import file_table
from tutor.working.check import MOST_LINES
from tutor.working.problem_checked import MOST_BYTES

CLASS = (Learner("a1"), Learner("b2"), Learner("../../x"))


def read(filed: Filed, whose: str, questions: int = 3) -> Returned:
    found = filed.of(Learner(whose), questions)
    assert found is not None
    return found


@pytest.mark.parametrize(
    "heading", ["Q2", "q2", " Q2 ", "Q2.", "Q2:", "Q 2)", "Question 2", "QUESTION 2.", "question 02:", "\tq2"]
)
def test_a_heading_is_forgiven_its_spelling(heading: str) -> None:
    """Capitals, the whole word, a full stop, a colon, a bracket, spaces, a leading nought."""
    found = by_headings(f"Q1\na = 1\n{heading}\nb = 2", 3)
    assert found.answers == {1: Answer("a = 1", (2,)), 2: Answer("b = 2", (4,))}


@pytest.mark.parametrize("line", ["Q2 = 5", "2", "Q2 b = 2", "see Q2", "Q", "Qu2"])
def test_a_line_that_says_more_is_no_heading(line: str) -> None:
    """A working may speak of Q as a symbol; only a heading alone on its line parts questions."""
    assert list(by_headings(f"Q1\na = 1\n{line}", 3).answers) == [1]


def test_lines_keep_their_places_in_the_file() -> None:
    """A question taken up again goes on with itself, and each of its lines knows where it stands."""
    found = by_headings("Q1\na\n\nQ2\nb\nQ1\nc\r\nd", 2)
    assert found.answers[1] == Answer("a\n\nc\nd", (2, 3, 7, 8))


def test_what_stands_before_a_heading_or_under_one_that_is_not_asked_is_noted() -> None:
    """Nothing is dropped in silence."""
    found = by_headings(UNREAD, 3)
    assert found.notes == (
        "line 8: there is no question 7; the paper asks 3 questions",
        "line 1 stands before the first heading, such as Q1: not read",
    )
    # Where one question is asked it needs no heading.
    assert by_headings("a = 1\nb = 2", 1).answers == {1: Answer("a = 1\nb = 2", (1, 2))}


def test_one_question_past_the_limits_costs_itself_alone() -> None:
    """The limits of a question are those of any working that is checked."""
    long = "x = 1\n" * (MOST_LINES + 1)
    found = by_headings(f"Q1\n{long}Q2\nb = 2\nQ3\n{'y' * (MOST_BYTES + 1)}", 3)
    assert list(found.answers) == [2]
    assert found.notes == (
        f"Q1 is not read: a working may have up to {MOST_LINES} lines (got {MOST_LINES + 1})",
        f"Q3 is not read: a working may hold up to {MOST_BYTES // 1024} kB of text; this one holds more",
    )


def test_the_class_of_the_demo(tmp_path: Path) -> None:
    """Right files are read, a megabyte and a file that is no text are noted, a missing one is nothing at all."""
    filed = file_returns(write_workings(tmp_path / "w"), LEARNERS)
    assert filed.strays == ()
    assert filed.of(Learner("w05"), 3) is None
    assert read(filed, "w06") == Returned(
        {}, (f"'w06.txt' is too large: a paper's workings may hold up to {MOST_OF_A_FILE // 1024} kB of text",), False,
        "w06.txt",
    )  # fmt: skip
    assert "no UTF-8 text (byte 13)" in read(filed, "=cmd()").notes[0]
    assert list(read(filed, "../../x").answers) == [1, 2, 3]


@pytest.mark.parametrize(
    ("content", "note"),
    [
        (b"", "'a1.txt' is empty"),
        (b" \n\t\n", "'a1.txt' is empty"),
        (b"Q1\na = \x00 1", "'a1.txt' is no text: it holds a zero byte; save it as plain text, one line a step"),
        ("Q1\na = 1".encode("utf-16"), "'a1.txt' is no UTF-8 text (byte 1); save it as plain text in UTF-8"),
    ],
)
def test_a_broken_file_is_a_note_to_its_learner(tmp_path: Path, content: bytes, note: str) -> None:
    """And nobody else's affair."""
    (tmp_path / "a1.txt").write_bytes(content)
    (tmp_path / "b2.txt").write_text("Q1\na = 1")
    filed = file_returns(tmp_path, CLASS)
    assert read(filed, "a1").notes == (note,)
    assert read(filed, "b2") == Returned({1: Answer("a = 1", (2,))}, (), True, "b2.txt")


def test_a_mark_at_a_files_start_is_passed_over(tmp_path: Path) -> None:
    """Some editors begin UTF-8 with U+FEFF."""
    (tmp_path / "a1.txt").write_bytes(b"\xef\xbb\xbfQ1\r\na = 1\r\n")
    assert read(file_returns(tmp_path, CLASS), "a1").answers[1].text == "a = 1\n"


def test_nothing_is_read_outside_the_folder(tmp_path: Path) -> None:
    """A link is not followed, whatever it leads to; a pipe does not hold up the class; an id is no path."""
    (tmp_path / "secret").write_text("Q1\nsecret = 1")
    inside = tmp_path / "w"
    inside.mkdir()
    (inside / "a1.txt").symlink_to(tmp_path / "secret")
    os.mkfifo(inside / "b2.txt")
    (tmp_path / "x.txt").write_text("Q1\nsecret = 1")
    filed = file_returns(inside, CLASS)
    assert read(filed, "a1").notes == ("'a1.txt' is a link, which is not followed; put the file itself there",)
    assert read(filed, "b2").notes == ("'b2.txt' is no plain file; save the working as a text file",)
    assert filed.of(Learner("../../x"), 3) is None


def test_a_link_put_in_place_of_a_file_later_is_not_followed(tmp_path: Path) -> None:
    """Between listing and reading, too: the file is opened without following."""
    (tmp_path / "a1.txt").write_text("Q1\na = 1")
    filed = file_returns(tmp_path, CLASS)
    (tmp_path / "a1.txt").unlink()
    (tmp_path / "a1.txt").symlink_to("/etc/hostname")
    found = read(filed, "a1")
    assert not found.readable
    assert found.notes[0].startswith("'a1.txt' cannot be read: ")


def test_files_of_nobody_are_told_and_two_of_one_learner_cost_that_learner(tmp_path: Path) -> None:
    """An id in other capitals is forgiven; which of two files counts is not guessed."""
    for name in ("a1.txt", "A1.TXT", "B2.txt", "a3.txt", "notes.docx", ".hidden", f"{file_stem('../../x')}.txt"):
        (tmp_path / name).write_text("Q1\na = 1")
    (tmp_path / "folder").mkdir()
    filed = file_returns(tmp_path, CLASS)
    assert read(filed, "a1").notes == ("there are two files: 'A1.TXT' and 'a1.txt'; keep the one that counts",)
    assert read(filed, "b2").answers and read(filed, "../../x").answers
    assert filed.strays == (
        "'a3.txt' belongs to nobody of the class; did you mean 'a1'?",
        "'folder' is no text file; a working is returned as ID.txt",
        "'notes.docx' is no text file; a working is returned as ID.txt",
    )


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    """One sentence, exit status 2."""
    with pytest.raises(SteadyrailError, match=r"the workings '.*' cannot be read: No such file"):
        file_returns(tmp_path / "none", CLASS)


def table(folder: Path, text: str | bytes) -> Filed:
    file = folder / "workings.csv"
    file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return file_table(file, CLASS, 3)


@pytest.mark.parametrize(
    "text",
    [
        'id,question,working\na1,1,"a = 1\nb = 2"\na1,Q3,c = 3\n../../x,2,=cmd()\n',
        'ID;Q1;name;Q3;question 2\na1;"a = 1\nb = 2";Ada;c = 3;\n../../x;;;;=cmd()\n',
        '\ufeffworking\tid\tquestion\n"a = 1\nb = 2"\ta1\t1\nc = 3\tA1\tquestion 3.\n=cmd()\t../../x\t02\n',
    ],
)
def test_a_table_says_the_same_long_or_wide(tmp_path: Path, text: str) -> None:
    """Any order of columns, three cuts between cells, cells of several lines; what is in a cell is text."""
    filed = table(tmp_path, text)
    assert read(filed, "a1").answers == {1: Answer("a = 1\nb = 2"), 3: Answer("c = 3")}
    assert read(filed, "../../x").answers == {2: Answer("=cmd()")}
    assert filed.of(Learner("b2"), 3) is None


def test_rows_that_cannot_be_used_are_told(tmp_path: Path) -> None:
    """A row of nobody, a question that is not asked, one answered twice, a huge cell: each with its line or learner."""
    huge = "y" * 1_000_000
    filed = table(tmp_path, f'id,question,working\nzz,1,a = 1\na1,9,a = 1\na1,1,a = 1\na1,1,a = 2\nb2,1,{huge}\n')
    assert filed.strays == ("line 2 of workings.csv: 'zz' is nobody of the class",)
    assert read(filed, "a1").notes == (
        "line 3: there is no question '9'; write a number from 1 to 3", "Q1 is there twice; the first one counts",
    )  # fmt: skip
    assert read(filed, "a1").answers == {1: Answer("a = 1")}
    assert read(filed, "b2").notes[0].startswith("Q1 is not read: a working may hold up to 64 kB")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("name,Q1\nAda,a = 1\n", "workings.csv, line 1, has no column 'id'"),
        ("id,name\na1,Ada\n", "workings.csv, line 1, has no column with workings"),
        (b"id,Q1\na1,\xff\n", "workings.csv is no UTF-8 text"),
        ("", "workings.csv, line 1, has no column 'id'"),
    ],
)
def test_a_table_that_is_none_is_refused(tmp_path: Path, text: str | bytes, sentence: str) -> None:
    """File, line, and what would be right."""
    with pytest.raises(SteadyrailError) as refused:
        table(tmp_path, text)
    assert refused.value.sentence.startswith(sentence)
