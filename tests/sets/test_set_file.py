"""The set file: read as documented, and each mistake told with its file, line and field."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.errors import SteadyrailError
from tutor.sets import set_file
from tutor.sets.paper import Drawn
from tutor.sets.set_file import read_set, read_set_file

HEAD = 'title = "T"\n\n[[questions]]\n'


def test_the_example_in_the_documentation_reads() -> None:
    """What the module shows is what it reads."""
    sample = (set_file.__doc__ or "").split("in TOML.\n")[1].split("This is all")[0]
    told = read_set("\n".join(line.strip() for line in sample.splitlines()), "sample.toml")
    assert told.title == "Shunt regulators, first sheet"
    assert [str(item.problem) for item in told.questions] == ["zener-resistor:2:17@2", "zener-state:1:3@1"]
    assert [item.marks for item in told.questions] == [6, None]


def test_a_name_may_stand_without_edition_and_with_conventions() -> None:
    told = read_set(HEAD + 'problem = "follower-state:1:2+base-current=neglected"\n', "set.toml")
    assert told.questions[0].asks == Drawn("follower-state", 1, 2, 0, {"base-current": "neglected"})


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("title = ", "set.toml is not TOML: Invalid value (at end of document)"),
        ('[[questions]]\nproblem = "a:1:1"\n', 'set.toml needs a title: title = "..." before its first question'),
        ('title = " "\n', 'set.toml needs a title: title = "..." before its first question'),
        ('title = "T"\n', "set.toml asks nothing; each question begins with a line [[questions]]"),
        ('title = "T"\nquestions = [3]\n', "set.toml asks nothing; each question begins with a line [[questions]]"),
        ('titel = "T"\n', "set.toml has no use for the field 'titel'; did you mean 'title'?"),
        (
            HEAD + "marks = 3\n",
            'set.toml, line 3: a question needs its problem, such as problem = "zener-resistor:2:17"',
        ),
        (
            HEAD + 'problem = "zener-state:1:3"\n[[questions]] # the second\nproblem = "zener resistor"\n',
            "set.toml, line 5, problem: 'zener resistor' is no problem name; one looks like zener-resistor:2:17",
        ),
        (
            HEAD + 'problem = "zener-state:1:3"\nmarks = 0\n',
            "set.toml, line 3, marks: 0 is no whole number from 1 to 999",
        ),
        (
            HEAD + 'problem = "zener-state:1:3"\nmarks = true\n',
            "set.toml, line 3, marks: True is no whole number from 1 to 999",
        ),
        (
            HEAD + 'problem = "zener-state:1:3"\nmark = 4\n',
            "set.toml, line 3 has no use for the field 'mark'; did you mean 'marks'?",
        ),
    ],
)
def test_a_mistake_is_told_with_file_line_and_field(text: str, sentence: str) -> None:
    with pytest.raises(SteadyrailError) as caught:
        read_set(text, "set.toml")
    assert caught.value.sentence == sentence


def test_a_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    path = tmp_path / "set.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(SteadyrailError, match="cannot be read as a set file"):
        read_set_file(path)
