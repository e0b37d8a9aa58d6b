"""Where keys stand in a TOML text: the paths are those of tomllib, the lines those a person would count."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

import pytest

from tutor.sets.toml_lines import Path, lines_of

# What each line holds is told by its own number, as a value.
TEXT = '''\
title = 1 # "not = here"
"quoted key" = 2
'single.key' = 3
a.b . "c" = 4

[print] # [not.a.table]
paper = 7
words = """
looks = "like a key"
[and.a.table]
it ends with quotes""""
after = 12
plain = \'\'\'
# no comment
\'\'\'
last = 16
escaped = "a \\" quote"  # 17
[learners]
many = [ # 19
  20, # a comment ] in between
  [21, 21],
  { inside = 22, "x y" = { deep = 22 } },
]

[[questions]]
marks = 26
[questions.given]
V_I = 28
[[questions]]
marks = 30
[[questions.parts]]
p = 32
[[questions.parts]]
p = 34
[tail]
date = 1979-05-27 07:32:00
float = 3_7.5e1
[[far.away]]
x = 39
[far.off]
x = 41
'''


def paths(value: object, under: Path = ()) -> Iterator[tuple[Path, object]]:
    """Every path of what tomllib read, with what stands there."""
    if under:
        yield under, value
    if isinstance(value, dict):
        for key, item in value.items():
            yield from paths(item, (*under, key))
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from paths(item, (*under, place))


def test_the_paths_are_those_of_tomllib() -> None:
    assert set(lines_of(TEXT)) == {path for path, _ in paths(tomllib.loads(TEXT))}


def test_each_value_stands_on_the_line_that_it_tells() -> None:
    found = lines_of(TEXT)
    told = {path: value for path, value in paths(tomllib.loads(TEXT)) if type(value) is int}
    assert len(told) > 15
    assert {path: found[path] for path in told} == told
    assert found["questions", 0] == found["questions",] == 25 and found["questions", 1] == 29
    assert found["questions", 0, "given"] == 27 and found["questions", 1, "parts", 1] == 33
    assert found["print", "words"] == 8 and found["tail", "float"] == 37


SHORT = ("", "\n\n# nothing\n", "a = 1", "a = 1 # end", 'a = ""', "[t]", "a = [\n]\r\n", "a={}")


@pytest.mark.parametrize("text", SHORT)
def test_short_texts(text: str) -> None:
    assert set(lines_of(text)) == {path for path, _ in paths(tomllib.loads(text))}


def test_windows_line_ends_count_once() -> None:
    assert lines_of("a = 1\r\n\r\nb = 3\r\n") == {("a",): 1, ("b",): 3}
