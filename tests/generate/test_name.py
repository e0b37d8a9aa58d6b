"""A problem's name is its whole recipe: it reads, it writes, and what is none is refused in one sentence."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.errors import BadValue
from tutor.generate.name import GREATEST_NUMBER, ProblemName, read_name

READ = [
    ("zener-resistor:2:17", ProblemName("zener-resistor", 2, 17)),
    ("  zener-state:1:1\n", ProblemName("zener-state", 1, 1)),
    ("zener-state:3:200@4", ProblemName("zener-state", 3, 200, 4)),
    ("follower-state:2:5+V_BE=0.6V", ProblemName("follower-state", 2, 5, 0, {"V_BE": "0.6V"})),
    (
        "follower-state:2:5@1+base-current=neglected+V_BE=650mV",
        ProblemName("follower-state", 2, 5, 1, {"base-current": "neglected", "V_BE": "650mV"}),
    ),
    (f"zener-state:1:{GREATEST_NUMBER}", ProblemName("zener-state", 1, GREATEST_NUMBER)),
]


@pytest.mark.parametrize(("text", "name"), READ)
def test_a_name_reads(text: str, name: ProblemName):
    """Family, level, number, then edition and assumptions where they stand."""
    assert read_name(text) == name


WRITTEN = [
    (ProblemName("zener-state", 1, 9), "zener-state:1:9"),
    (ProblemName("zener-state", 1, 9, 2), "zener-state:1:9@2"),
    (
        ProblemName("follower-state", 1, 9, 0, {"base-current": "exact", "V_BE": "0.6V"}),
        "follower-state:1:9+V_BE=0.6V+base-current=exact",
    ),
]


@pytest.mark.parametrize(("name", "text"), WRITTEN)
def test_a_name_is_written_one_way(name: ProblemName, text: str):
    """Assumptions in sorted order, so that one recipe has one name."""
    assert str(name) == text


parts = st.tuples(
    st.from_regex(r"[a-z][a-z0-9-]{0,20}", fullmatch=True), st.integers(0, 9), st.integers(1, GREATEST_NUMBER),
    st.integers(0, 99),
    st.dictionaries(
        st.from_regex(r"[A-Za-z0-9_.-]{1,12}", fullmatch=True), st.from_regex(r"[A-Za-z0-9_.%-]{1,8}", fullmatch=True),
        max_size=3,
    ),
)  # fmt: skip


@settings(deadline=None)
@given(parts)
def test_what_is_written_reads_back(taken: tuple[str, int, int, int, dict[str, str]]):
    """Writing and reading are inverse."""
    name = ProblemName(*taken)
    assert read_name(str(name)) == name


NONE = [
    "zener-resistor",
    "zener-resistor:2",
    "zener-resistor:two:1",
    "Zener:1:1",
    "zener-state:1:-3",
    "zener-state:1:1.5",
    "zener-state:1:1@",
    "zener-state:1:1+V_BE",
    "zener-state:1:1 +V_BE=1",
    "zener-state:١:1",
    "../zener-state:1:1",
    "",
]


@pytest.mark.parametrize("text", NONE)
def test_what_is_no_name_is_refused(text: str):
    """One sentence that shows what a name looks like; other alphabets' digits are none of ours."""
    with pytest.raises(BadValue) as caught:
        read_name(text)
    assert caught.value.sentence == f"'{text}' is no problem name; one looks like zener-resistor:2:17"


@pytest.mark.parametrize("number", ["0", "1000000001", "9" * 40])
def test_numbers_have_a_range(number: str):
    """1 to 10⁹."""
    with pytest.raises(BadValue) as caught:
        read_name(f"zener-state:1:{number}")
    told = f"zener-state:1:{number}"[:60]
    assert caught.value.sentence == f"the number in '{told}' must lie between 1 and 1000000000"


LONG = ["zener-state:1:" + "9" * 100_000, "a" * 100_000, "zener-state:1:1" + "+a=b" * 50_000]


@pytest.mark.parametrize("text", LONG, ids=["digits", "letters", "assumptions"])
def test_a_name_without_end_is_refused(text: str):
    """Length is no way in: the sentence quotes the first 60 characters and no more."""
    with pytest.raises(BadValue) as caught:
        read_name(text)
    assert caught.value.sentence == f"'{text[:60]}' is no problem name; one looks like zener-resistor:2:17"


def test_an_assumption_is_made_once():
    """Two values for one assumption contradict each other: the name is refused, not half of it forgotten."""
    with pytest.raises(BadValue) as caught:
        read_name("follower-state:1:1+V_BE=0.6V+V_BE=0.7V")
    assert caught.value.sentence == "'follower-state:1:1+V_BE=0.6V+V_BE=0.7V' assumes V_BE twice; leave one out"
