"""Which state of the circuit a learner's words speak of: "the zener is off", "suppose the output is shorted".

Vocabulary: a *state word* says that a part, the load or the output is in one of its states; a *state told* is such a
word with the part it is said of, '' where none is named. A sentence means the region whose own words agree with it.
Place in the data flow: words of a hypothesis or a note -> region id, or '' when they speak of none.
"""

from __future__ import annotations

from tutor.solution.sheet import Sheet

# What learners write | the word in which the circuits say it. Common practice, no source.
SAME_STATE = {
    "blocked": "off", "blocks": "off", "blocking": "off", "open": "off", "out": "off", "removed": "off",
    "nonconducting": "off", "idle": "off", "cut": "off", "cutoff": "off", "disconnected": "off", "absent": "off",
    "on": "breakdown", "conduct": "breakdown",
    "conducts": "breakdown", "conducting": "breakdown", "regulate": "breakdown",
    "regulates": "breakdown",
    "regulating": "breakdown", "regulation": "breakdown", "clamps": "breakdown", "clamping": "breakdown",
    "working": "breakdown", "breaks": "breakdown", "zenering": "breakdown",
    "follows": "active", "following": "active",
    "short": "shorted", "shorts": "shorted", "circuited": "shorted",
    "unloaded": "unplugged",
}  # fmt: skip
STATES = ("off", "breakdown", "active", "linear", "shorted", "unplugged")
NEGATIONS = ("not", "no", "doesn't", "isn't", "never", "cannot", "can't", "without")
OPPOSITE = {"breakdown": "off", "off": "breakdown"}
# What a state is said of | the word for it. The rest of a sentence is not looked at.
PARTS = {
    "zener": "zener", "diode": "zener", "transistor": "transistor", "bjt": "transistor", "load": "load",
    "output": "output", "terminals": "output",
}  # fmt: skip
OF_THE_OUTPUT = {"shorted": "output", "unplugged": "load"}
# Parts that are in none of these states: a resistor that is open or shorted is another circuit, of which nothing is
# known here.
WITHOUT_STATES = (
    "resistor", "resistors", "resistance", "capacitor", "capacitors", "winding", "transformer", "divider", "wire",
    "fuse", "input", "terminal", "base", "emitter", "collector", "anode", "cathode", "tap",
)  # fmt: skip
BROKEN = ("off", "shorted", "unplugged")

Told = tuple[str, str]


def plain_words(text: str) -> list[str]:
    """Words in small letters, without marks."""
    letters = [char if "a" <= char <= "z" or char == "'" else " " for char in text.lower()]
    return "".join(letters).split()


def states_told(text: str) -> list[Told]:
    """The states that some words tell, each with the part it is said of: a part's name holds until a state is said of
    it, a negation turns the next state round, and a load that is off is unplugged. Of a resistor alone none is told.
    """
    found: list[Told] = []
    named: list[str] = []
    negated = False
    words = plain_words(text)
    elsewhere = any(word in WITHOUT_STATES for word in words) and not any(word in PARTS for word in words)
    for word in words:
        if word in NEGATIONS:
            negated = True
        elif negated and word == "load":
            found.append(("load", "unplugged"))
            negated = False
        elif word in PARTS:
            named.append(PARTS[word])
        else:
            state = SAME_STATE.get(word, word)
            if state not in STATES:
                continue
            state = OPPOSITE.get(state, "") if negated else state
            told = [] if elsewhere and state in BROKEN else _of_parts(state, named)
            if told:
                named, negated = [], False
            found += told
    return found


def _of_parts(state: str, named: list[str]) -> list[Told]:
    """A state said of the parts named before it; nothing where it is no state of theirs."""
    if state == "off" and named and set(named) <= {"load", "output"}:
        state = "unplugged"
    if state in OF_THE_OUTPUT:
        return [] if {"zener", "transistor"} & set(named) else [(OF_THE_OUTPUT[state], state)]
    parts = [part for part in named if part in ("zener", "transistor")]
    return [(part, state) for part in parts or [""]] if state else []


def agreeing(said: list[Told], words: str) -> int:
    """How many of the states told agree with those that some words tell: of the same part, or of any where none is
    named."""
    states = dict(states_told(words))
    return sum(states.get(part) == state if part in states else state in states.values() for part, state in said)


def region_meant(text: str, sheet: Sheet) -> str:
    """The region that some words speak of, the problem's own included; '' when they name none, or none such."""
    said = states_told(text)
    if not said:  # most lines have no words at all
        return ""
    own = states_told(sheet.region_words)
    best, most = "", (0, 0)
    for region, words in [(sheet.region, sheet.region_words), *((item.region, item.words) for item in sheet.branches)]:
        # Of a part of which nothing is said the state stays as it is.
        likeness = (2 * agreeing(said, words) - len(said), agreeing(own, words))
        if likeness[0] > 0 and likeness > most:
            best, most = region, likeness
    return best
