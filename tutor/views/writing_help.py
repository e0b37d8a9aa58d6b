"""What a problem's working sheet says of writing on it: keys, what may be typed, how an answer in words is written.

Vocabulary: what is *asked* is known by its key (V_O, fault), the *label* of a line that answers it. Keys and topics are
those of `typing_help.py`; where lines answer in words, those of what is asked are added, or stand alone.
Place in the data flow: ProblemContent -> keys, topics and a sentence -> `working.html`.
"""

from __future__ import annotations

from collections.abc import Iterator

from tutor.generate.problem import SEPARATOR, Waypoint
from tutor.views.content import ProblemContent
from tutor.views.plain import unbound_text
from tutor.views.typing_help import Key, TypingRow, TypingTopic, letter_keys, letters_of, sign_keys, typing_topics
from tutor.working.word_answers import SAME_WORDS, answered_in_words, how_written

_MOST_PLACES = 3  # of an arrangement, shown as they are written: a phone has room for no more
_MOST_SPELLINGS = 4  # beside an option's own; the rest are much like these


def writing_help_of(shown: ProblemContent) -> dict[str, object]:
    """What the template of the sheet asks for, by the names it has there."""
    problem, alone = shown.problem, shown.in_words == "alone"
    letters = letters_of(problem, shown.solution, shown.marked)
    answered = answered_in_words(problem.waypoints, words_alone=alone) if shown.in_words else ()
    asked = (point.key for point in problem.waypoints)
    topics, signs = typing_topics(letters), sign_keys(letters)
    if alone:
        valued = any(point.answer is not None for point in answered)
        topics, signs = (topics[:1], signs) if valued else ((), ())
    return {
        "in_words": shown.in_words,
        "how_written": how_written(problem.waypoints),
        "answer_keys": tuple(map(_answer_key, answered)),
        "letter_keys": () if alone else letter_keys(letters, (*problem.given, *asked)),
        "sign_keys": signs,
        "typing": (*_answer_topics(answered), *topics),
    }


def _answer_key(point: Waypoint) -> Key:
    """The key that writes the label of what is asked."""
    return Key(f"{point.key}{_sign(point)} ", f"{point.key}, {unbound_text(point.prompt)}", point.key)


def _sign(point: Waypoint) -> str:
    return ":" if point.answer is None else " ="


def _answer_topics(answered: tuple[Waypoint, ...]) -> Iterator[TypingTopic]:
    if answered:
        yield TypingTopic("Answers", tuple(_answer_rows(answered)))


def _answer_rows(answered: tuple[Waypoint, ...]) -> Iterator[TypingRow]:
    for point in answered:
        places = SEPARATOR.join(["..."] * min(len(point.places), _MOST_PLACES)) or "..."
        yield TypingRow((f"{point.key}{_sign(point)} {places}",), unbound_text(point.prompt))
    options = {option for point in answered for option in point.options}
    for word in dict.fromkeys(SAME_WORDS.values()):
        if word in options:
            others = [other for other, meant in SAME_WORDS.items() if meant == word]
            yield TypingRow((word, *others[:_MOST_SPELLINGS]), "mean the same")
