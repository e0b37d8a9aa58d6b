"""Answers in words among the lines of a working: `I_Z: rises`, `fault: R is open`, `order: B; A; C`.

Vocabulary: a line is *labelled* when it begins with the key of something asked and a colon (or an equals sign). A
problem that has no sheet asks for *words alone*: every line is an answer, also on a value that is asked for, and it may
name the letter and the option in a sentence of its own (V_O stays).
Place in the data flow: text + the waypoints of a problem -> a finding for each line that answers in words; the other
lines are left to `check.py`. Never raises for what a learner types. `site/assets/answers_in_words.js` does the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tutor.generate.judging import ESTIMATE, AnswerVerdict, Outcome, judge
from tutor.generate.problem import SEPARATOR, Waypoint, WaypointKind
from tutor.quantities.symbols import fold
from tutor.quantities.units import unit_for
from tutor.solution.scheme import MarkKind
from tutor.working.alphabet import lines_in
from tutor.working.finding import Code, Finding
from tutor.working.ledger import LedgerEntry
from tutor.working.sayings import as_typed

# Other words for a direction; common speech, no source.
SAME_WORDS = {
    "goes up": "rises", "rise": "rises", "increases": "rises", "grows": "rises", "up": "rises", "higher": "rises",
    "goes down": "falls", "fall": "falls", "decreases": "falls", "drops": "falls", "down": "falls", "lower": "falls",
    "stays the same": "stays", "does not change": "stays", "is unchanged": "stays", "unchanged": "stays",
    "constant": "stays", "same": "stays", "stay": "stays",
}  # fmt: skip
# A line with one of these is no plain statement of an option that has none (V_O does not rise; it doesn't).
DENIALS = ("not", "no", "never", "nor", "neither", "without", "cannot", "t")
# What may stand between the places of an arrangement; the first that gives as many pieces as there are places counts.
_CUTS = (re.compile(";"), re.compile("[;,]|-?>|→"), re.compile(r"[;,\s]"))
_LABELLED = re.compile(r"\s*([^\W\d]\w*)\s*[:=≈~]\s*(.+?)\s*")
_CODES = {Outcome.RIGHT: Code.HOLDS, Outcome.UNREAD: Code.UNREAD, Outcome.UNITS: Code.UNREAD}


@dataclass(frozen=True)
class WordAnswer:
    """A line that answers in words: to which waypoint, whether rightly, and the finding on it."""

    key: str
    right: bool
    finding: Finding


def word_answers(
    text: str, points: Sequence[Waypoint], *, words_alone: bool, decimal_comma: bool = False
) -> tuple[WordAnswer, ...]:
    """The lines that answer in words; with `words_alone` every other line with words is told how to write one."""
    answered = answered_in_words(points, words_alone=words_alone)
    found = []
    for number, line in enumerate(lines_in(text), start=1):
        if not line.strip():
            continue
        meant = _meant(line, answered, words_alone)
        if meant is not None:
            point, said = meant
            found.append(_judged(number, line, point, said, decimal_comma))
        elif words_alone:
            found.append(WordAnswer("", False, Finding(number, line, Code.UNREAD, how_written(points))))
    return tuple(found)


def answered_in_words(points: Iterable[Waypoint], *, words_alone: bool) -> tuple[Waypoint, ...]:
    """The waypoints on which a line is judged as an answer: all of them where no relation is judged."""
    return tuple(point for point in points if words_alone or is_worded(point))


def is_worded(point: Waypoint) -> bool:
    """Whether a line on it is judged as an answer and not as a relation: one in words, or an estimate."""
    return point.answer is None or 0 < ESTIMATE * point.low <= point.high


def without(text: str, answers: Iterable[WordAnswer]) -> str:
    """The text with the lines that answer in words left blank, so that the others keep their numbers."""
    taken = {item.finding.number for item in answers}
    return "\n".join("" if at in taken else line for at, line in enumerate(lines_in(text), start=1))


def word_marks(points: Sequence[Waypoint], answers: Sequence[WordAnswer]) -> tuple[LedgerEntry, ...]:
    """One mark for each of these waypoints, answered in words; the last line on it decides."""
    entries = []
    for point in points:
        last = next((item for item in reversed(answers) if item.key == point.key), None)
        if last is None:
            entries.append(LedgerEntry(point.key, MarkKind.INDEPENDENT, 0, None, "no line answers this"))
        else:
            why = _right_answer(point) if last.right else last.finding.why
            entries.append(LedgerEntry(point.key, MarkKind.INDEPENDENT, int(last.right), last.finding.number, why))
    return tuple(entries)


def _right_answer(point: Waypoint) -> str:
    if point.answer is None:
        return as_typed(point.state)
    return f"about {point.answer.text}" if is_worded(point) else point.answer.text


def _meant(line: str, points: Sequence[Waypoint], words_alone: bool) -> tuple[Waypoint, str] | None:
    """The waypoint that a line answers, and the option it says (or the words where it says none)."""
    labelled = _LABELLED.fullmatch(line)
    if labelled is not None:
        for point in points:
            if fold(labelled[1]) == fold(point.key):
                said = _option(labelled[2], point) or labelled[2]
                return point, said if point.answer is None else re.split("[=≈~]", said)[-1]
    if not words_alone:
        return None
    named = [point for point in points if _names(line, point)] if len(points) > 1 else list(points)
    said = _option(line, named[0]) if len(named) == 1 else ""
    return (named[0], said) if said else None


def _names(line: str, point: Waypoint) -> bool:
    return fold(point.key) in {fold(word) for word in re.findall(r"\w+", line)}


def _option(said: str, point: Waypoint) -> str:
    """The one option that words name, however it is spelt; for an arrangement one for each place; '' for none."""
    if point.kind is WaypointKind.ARRANGEMENT:
        for cut in _CUTS:
            pieces = [piece for piece in cut.split(said) if piece.strip()]
            options = [_option(piece, _as_state(point)) for piece in pieces]
            if len(options) == len(point.places) and all(options):
                return SEPARATOR.join(options)
        return ""
    words = _words(said)
    spelt = {option: (_words(option), _words(as_typed(option))) for option in point.options}
    exact = {option: words for option in spelt if words in spelt[option]}
    within = exact or {
        option: told for option in spelt for told in spelt[option] if f" {told} " in f" {words} "
    }  # fmt: skip
    longest = [option for option in within if all(other in within[option] for other in within.values())]
    if len(longest) != 1 or (not exact and _denies(words) and not _denies(within[longest[0]])):
        return ""
    return longest[0]


def _denies(words: str) -> bool:
    return any(word in DENIALS for word in words.split())


def _as_state(point: Waypoint) -> Waypoint:
    return Waypoint(point.key, WaypointKind.STATE, point.prompt, None, 0.0, 0.0, (), point.options, point.state, ())


def _words(text: str) -> str:
    words = " ".join(re.findall(r"[\w./−+-]+", text.replace("$", "").casefold()))
    for other, word in SAME_WORDS.items():
        words = re.sub(rf"\b{other}\b", word, words)
    return words


def _judged(number: int, line: str, point: Waypoint, said: str, decimal_comma: bool) -> WordAnswer:
    verdict = judge(point, said, decimal_comma=decimal_comma)
    right = verdict.outcome is Outcome.RIGHT
    told = " ".join(text for text in (_sentence(verdict, point), as_typed(verdict.why), as_typed(verdict.hint)) if text)
    why = "" if right else told.rstrip(".")
    slip = (verdict.slip,) if verdict.slip else ()
    code = _CODES.get(verdict.outcome, Code.FAILS)
    return WordAnswer(point.key, right, Finding(number, line, code, why, None, slip, point.key))


def _sentence(verdict: AnswerVerdict, point: Waypoint) -> str:
    """What the verdict says; a value that cannot be read is quoted as it was typed, which is no prose of an author."""
    quoted = point.answer is not None and verdict.outcome in (Outcome.UNREAD, Outcome.UNITS)
    return verdict.sentence if quoted else as_typed(verdict.sentence)


def how_written(points: Sequence[Waypoint]) -> str:
    """How an answer in words is written, by the first that is asked for."""
    first = next((point for point in points if is_worded(point)), None)
    if first is None:
        return "this problem asks for no words"
    if first.answer is not None:
        unit = unit_for(first.answer.unit).printed
        return f"write what is asked for and about how much it is, {first.key} = ... {unit}"
    said = SEPARATOR.join(first.options[: len(first.places)]) if first.places else first.options[0]
    return f"write what it answers and the answer, such as {first.key}: {as_typed(said)}"
