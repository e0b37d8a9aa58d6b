"""What hypothesis makes of the seeds and of the pieces, fed to every target: the same on every machine."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzz.commands import can_be_typed, ends_well
from tests.fuzz.feed import CANARY, HOSTILE, PIECES
from tests.fuzz.lines import SHEETS, check, mirror, read_everywhere
from tests.fuzz.targets import TARGETS
from tests.fuzz.watch import no_longer_than

STEADY = settings(
    deadline=None, derandomize=True, database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example],
)  # fmt: skip
LONGEST_WAIT = 600  # seconds, for a machine of any speed
EXAMPLES = {"checker": 0, "mirror": 0, "command": 0, "set_file": 40, "drawn": 6}  # 0: tests of their own

pieces = st.sampled_from(PIECES)
lines = st.lists(st.one_of(pieces, pieces, pieces, st.text(max_size=4)), max_size=24).map("".join)
# A symbol of one's own, defined by what stands before it: what would double or nest without end.
names = st.integers(0, 5).map(lambda number: f"k{number}")
grown = st.tuples(names, st.lists(st.one_of(names, names, pieces), min_size=1, max_size=12)).map(
    lambda told: f"{told[0]} = " + " + ".join(told[1])
)
nested = st.tuples(names, names, st.integers(1, 24)).map(
    lambda told: f"{told[0]} = " + "1/(1 + " * told[2] + told[1] + ")" * told[2]
)
first = st.just("k0 = R/R")
workings = st.tuples(
    st.sampled_from(("comma", *SHEETS)), st.lists(st.one_of(lines, lines, first, grown, nested), max_size=12)
).map(lambda told: "\n".join((f"== {told[0]}", *told[1])).encode("utf-8", "surrogatepass"))

put_in = st.one_of(
    st.sampled_from((*PIECES, *HOSTILE)).map(lambda text: text.encode("utf-8", "surrogatepass")), st.binary(max_size=3)
)


@st.composite
def edited(draw: st.DrawFn, name: str) -> bytes:
    """A seed of a target with a few edits: pieces, hostile texts and bytes put in, parts taken out or repeated."""
    data = draw(st.sampled_from(TARGETS[name].corpus())).read_bytes()
    for _ in range(draw(st.integers(0, 4))):
        at = draw(st.integers(0, len(data)))
        past = min(len(data), at + draw(st.sampled_from((0, 0, 1, 5, 40))))
        times = draw(st.sampled_from((0, 0, 0, 2, 30)))
        put = data[at:past] * times if times else draw(put_in)
        data = data[:at] + put + data[past:]
    return data[: TARGETS[name].longest]


@pytest.mark.parametrize("name", [name for name in TARGETS if EXAMPLES.get(name, 1)])
def test_edited_seeds_are_dealt_with_as_they_should_be(name: str) -> None:
    """Files, declarations, values, formulas, lines: accepted, or refused in one sentence, and nothing done beside."""

    @settings(STEADY, max_examples=EXAMPLES.get(name, 60))
    @given(edited(name))
    def fed(data: bytes) -> None:
        TARGETS[name].feed(data)

    with no_longer_than(LONGEST_WAIT):
        fed()


@settings(STEADY, max_examples=80)
@given(lines)
def test_a_line_of_any_pieces_is_read_at_a_bounded_cost(line: str) -> None:
    """In every vocabulary: a Line, with columns in the text, and never an exception."""
    read_everywhere(line.encode("utf-8", "surrogatepass"))


@settings(STEADY, max_examples=40)
@given(workings)
def test_a_working_of_any_pieces_has_one_finding_a_line(data: bytes) -> None:
    """Symbols built on symbols among them: each line is answered, in its columns, and nothing is done beside."""
    with no_longer_than(LONGEST_WAIT):
        check(data)


@settings(STEADY, max_examples=25)
@given(workings)
def test_python_and_browser_say_the_same_of_it(data: bytes) -> None:
    """Readers on each line, checkers on the whole."""
    with no_longer_than(LONGEST_WAIT):
        mirror(data)


PLACES = (
    ("solve", "zener-shunt", "V_I={}", "R=220"),
    ("solve", "zener-shunt", "{}=5", "R=220"),
    ("solve", "{}", "V_I=15V"),
    ("solve", "follower", "V_I=20", "--assume", "{}"),
    ("check", "{}", "--problem", "zener-resistor:2:17"),
    ("check", "-", "--problem", "{}"),
    ("problem", "{}"),
    ("problem", "zener-state", "--hint", "{}"),
    ("derive", "zener-shunt", "--for", "{}"),
    ("bench", "follower", "--temperature", "{}"),
    ("bench", "{}", "V_I=5"),
    ("site", "--single", "{}"),
    ("site", "--problems", "{}", "--single", "nothing-of-ours"),
    ("paper", "{}", "--out", "papers"),
    ("mark", "{}", "{}", "--out", "marks"),
    ("{}",),
)

SLOW = ("problem", "bench", "derive", "site")  # what they need is read before a word of theirs is refused


@pytest.mark.parametrize("words", PLACES, ids=" ".join)
def test_hostile_words_at_the_terminal_end_in_one_sentence(words: tuple[str, ...]) -> None:
    """Status 2 and one line of printable text; no file is written, and nothing is run."""
    for text in HOSTILE[:: 4 if words[0] in SLOW else 1]:
        if text.startswith("-") or not can_be_typed(text) or (words == ("{}",) and not text):
            continue  # an option, or no word or no command at all
        typed = [word.replace("{}", text[:2000]) for word in words]
        status = ends_well(typed)
        assert status == 2 or CANARY not in text, typed
