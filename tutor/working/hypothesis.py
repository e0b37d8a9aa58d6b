"""Which state of the circuit a learner's words speak of: "the zener is off", "suppose it conducts".

Vocabulary: a *state word* says that a part is in one of its states; a learner's sentence means the region whose own
words share most with it.
Place in the data flow: words of a hypothesis or a note -> region id, or '' when they speak of none.
"""

from __future__ import annotations

from collections.abc import Iterable

from tutor.solution.sheet import Sheet

# What learners write | the word in which the circuits say it. Common practice, no source.
SAME_STATE = {
    "blocked": "off", "blocks": "off", "blocking": "off", "open": "off", "out": "off", "removed": "off",
    "nonconducting": "off", "idle": "off", "cut": "off", "cutoff": "off",
    "on": "breakdown", "conduct": "breakdown",
    "conducts": "breakdown", "conducting": "breakdown", "regulate": "breakdown",
    "regulates": "breakdown",
    "regulating": "breakdown", "regulation": "breakdown", "clamps": "breakdown", "clamping": "breakdown",
    "working": "breakdown", "breaks": "breakdown", "zenering": "breakdown",
}  # fmt: skip
NEGATIONS = ("not", "no", "doesn't", "isn't", "never", "cannot", "can't")
OPPOSITE = {"breakdown": "off", "off": "breakdown"}


def plain_words(text: str) -> list[str]:
    """Words in small letters, without marks."""
    letters = [char if "a" <= char <= "z" or char == "'" else " " for char in text.lower()]
    return "".join(letters).split()


def state_words(text: str) -> list[str]:
    """The words of a sentence with those for a state put as the circuits put them, a negation turned round."""
    found: list[str] = []
    negated = False
    for word in plain_words(text):
        if word in NEGATIONS:
            negated = True
            continue
        same = SAME_STATE.get(word, word)
        if negated and same in OPPOSITE:
            same, negated = OPPOSITE[same], False
        found.append(same)
    return found


def region_meant(text: str, sheet: Sheet) -> str:
    """The region that some words speak of, the problem's own included; '' when none is named."""
    said = set(state_words(text))
    regions: list[tuple[str, str]] = [(sheet.region, sheet.region_words)]
    regions += [(branch.region, branch.words) for branch in sheet.branches]
    states = {word for _, words in regions for word in state_words(words)} & {"off", "breakdown", "active", "linear"}
    named = said & states
    if not named:
        return ""
    return max(regions, key=lambda item: _likeness(said, named, state_words(item[1])))[0]


def _likeness(said: set[str], named: set[str], words: Iterable[str]) -> tuple[int, int]:
    own = list(words)
    # A state the region does not have counts against it; beyond that, the more words shared the better.
    return (len(named & set(own)) - len(named - set(own)), -len(own))
