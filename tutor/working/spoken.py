"""A verdict in a learner's own words: which of a problem's wordings a line says.

Vocabulary: a *wording* is one of the verdicts offered ("only the bridge serves"); its *telling* words are those that
some other wording lacks; a line is *for* something when it says that it serves or passes, *against* when it says that
it fails or says it with a negation.
Place in the data flow: words of a line + a waypoint's options -> the option, for `verdicts.py`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from tutor.working.hypothesis import NEGATIONS, plain_words


def _set(text: str) -> frozenset[str]:
    return frozenset(text.split())


# What learners write for a thing that meets its demands, and for one that does not. Common practice, no source.
SERVING = _set("""
    serve serves served serving pass passes passed ok okay fine work works suit suits fit fits meet meets good suitable
    adequate hold holds regulate regulates bear bears survive survives withstand withstands save saves usable allowed
    safe within
""")
FAILING = _set("""
    fail fails failed failing unsuitable inadequate bad wrong starves starve starved overloads overload overloaded
    breaks exceeds excluded out destroy destroys destroyed kill kills burn burns die dies overheat overheats hot hotter
""")
NEVER = _set("none neither nothing")
SAME_WORD = {
    "tap": "tapped", "tapping": "tapped", "center": "centre", "all": "every", "each": "every", "everything": "every",
    "everywhere": "every", "starve": "starving", "starves": "starving", "starved": "starving",
    "overload": "overloading", "overloads": "overloading", "overloaded": "overloading", "just": "only",
    "alone": "only", "bridges": "bridge", "corners": "corner", "resistors": "resistor", "references": "reference",
}  # fmt: skip
# What says of one thing that it outdoes the others.
RANKING = _set("""
    most matters more dominates dominant decides largest larger greatest greater biggest bigger main worst
    simplest cheapest
""")
_CLAUSES = re.compile(r"[,;.]|\b(?:so|hence|therefore|because|since|but|while)\b", re.ASCII)
# Words that tell nothing of what is spoken of; and those beside them that may stand round a bare yes or no.
IDLE = _set("the a an so and of it is are in at three that one")
FILLING = _set("not no never too does do did will would can cannot then hence therefore this they")


def spoken_verdict(text: str, options: Sequence[str]) -> str | None:
    """The wording that a line says; None where the options are no verdicts, or the line says none of them.

    A line says the wording whose telling words hold all of its own, the one with fewest others, if it is as much for or
    against as that. Of two wordings, one for and one against, what the line is for or against decides. Where each says
    what outdoes the others, the line must name one and say the same.
    """
    stances = {option: _stance(option) for option in options}
    if all(RANKING & _told(option) for option in options):
        return _outdoing(text, options)
    if not all(stances.values()):
        return None
    words, stance = _told(text), _stance(text)
    if sorted(stances.values()) == ["against", "for"]:
        return next((option for option in options if stances[option] == stance and _about(words, options)), None)
    shared = frozenset.intersection(*(_told(option) for option in options))
    telling = {option: _told(option) - shared for option in options}
    said = words & frozenset.union(*telling.values())
    if not stance or not said:
        return None
    fitting = [option for option in options if said <= telling[option] and stances[option] == stance]
    fewest = min((len(telling[option]) for option in fitting), default=0)
    named = [option for option in fitting if len(telling[option]) == fewest]
    return named[0] if len(named) == 1 else None


def _outdoing(text: str, options: Sequence[str]) -> str | None:
    """The wording that names what a line says outdoes the rest; what stands after "than" is the rest, and what is said
    in another clause ("the shunt overheats, so the follower is the simplest") is said of something else."""
    clauses = _CLAUSES.split(text.lower().partition(" than ")[0])
    ranking = [clause for clause in clauses if _told(clause) & RANKING]
    words = _told(" ".join(ranking))
    named = [option for option in options if words & (_told(option) - RANKING)]
    ranked = words and not any(word in NEGATIONS for clause in ranking for word in plain_words(clause))
    return named[0] if ranked and len(named) == 1 else None


def _about(told: frozenset[str], options: Sequence[str]) -> bool:
    """Whether a line's words speak of what the wordings speak of, or of nothing but serving or failing."""
    words = frozenset(word for word in told if word.isalpha() and len(word) > 1) - FILLING
    return not words or bool(words & frozenset.union(*map(_told, options)))


def spoken_together(lines: Sequence[str], options: Sequence[str]) -> str:
    """The wording that several lines say, each of which says one: "the tap passes", "the bridge passes" says both.

    What says "only" stands for itself, and so does the last line where the lines together say nothing.
    """
    last = lines[-1]
    together = " ".join(line for line in lines if "only" not in _told(line))
    said = None if "only" in _told(last) else spoken_verdict(together, options)
    return said or spoken_verdict(last, options) or ""


def _told(text: str) -> frozenset[str]:
    """The words that matter, each in one form; what says for or against apart."""
    words = (SAME_WORD.get(word, word) for word in plain_words(text))
    return frozenset(word for word in words if word not in SERVING | IDLE | FAILING)


def _stance(text: str) -> str:
    """Whether a line is `for` something, `against` it, says that `none` is, or none of these ('')."""
    words = plain_words(text)
    turned = any(word in NEGATIONS for word in words)
    if any(word in NEVER for word in words):
        return "none"
    if any(word in FAILING for word in words):
        return "for" if turned else "against"
    if any(word in SERVING for word in words):
        return "against" if turned else "for"
    return ""
