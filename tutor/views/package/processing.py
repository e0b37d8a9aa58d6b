"""Response processing, written inline: when an answer counts, what it adds, and which words it brings up.

Response templates stand under two addresses in the published examples, and a tolerance is in per cent in one place and
absolute in another; two comparisons with bounds worked out beforehand mean the same to every reader.
Place in the data flow: Bands and identifiers -> conditions -> the item's response processing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from tutor.views.package.entry import EntryBand
from tutor.views.package.markup import children, element

SCORE = "SCORE"


@dataclass(frozen=True)
class AnswerCase:
    """One way an answer may turn out: the test for it, the words it brings up (an identifier), the marks it earns."""

    test: Element
    words: str
    marks: int = 0


def number(value: float) -> str:
    """A number as XML Schema's double reads it, twelve figures at most."""
    return f"{value:.12g}"


def base(kind: str, text: str) -> Element:
    """A value written down."""
    return element("qti-base-value", {"base-type": kind}, text)


def variable(name: str) -> Element:
    """What a variable holds."""
    return element("qti-variable", {"identifier": name})


def within(response: str, bands: Sequence[EntryBand]) -> Element:
    """Whether a typed number lies in one of the bands, their ends included."""
    tests = [
        children(
            "qti-and",
            {},
            (
                element("qti-gte", None, variable(response), base("float", number(band.low))),
                element("qti-lte", None, variable(response), base("float", number(band.high))),
            ),
        )
        for band in bands
    ]
    return any_of(tests)


def equals(response: str, option: str) -> Element:
    """Whether one option was chosen."""
    return element("qti-match", None, variable(response), base("identifier", option))


def holds_all(response: str, kind: str, container: str, values: Sequence[str]) -> Element:
    """Whether a response of several values holds exactly these; `container` says whether their order counts."""
    several = children(container, {}, [base(kind, value) for value in values])
    return element("qti-match", None, variable(response), several)


def any_of(tests: Sequence[Element]) -> Element:
    """Whether one of several tests holds."""
    return tests[0] if len(tests) == 1 else children("qti-or", {}, tests)


def condition(response: str, feedback: str, cases: Sequence[AnswerCase], otherwise: str) -> Element:
    """The first case that fits; without an answer nothing is said, and with any other the words of `otherwise`."""
    unanswered = element("qti-response-if", None, element("qti-is-null", None, variable(response)))
    unanswered.append(_set(feedback, base("identifier", "unanswered")))
    branches = [unanswered]
    for case in cases:
        branch = element("qti-response-else-if", None, case.test)
        if case.marks:
            branch.append(_set(SCORE, element("qti-sum", None, variable(SCORE), base("float", number(case.marks)))))
        branch.append(_set(feedback, base("identifier", case.words)))
        branches.append(branch)
    branches.append(element("qti-response-else", None, _set(feedback, base("identifier", otherwise))))
    return children("qti-response-condition", {}, branches)


def processing(conditions: Sequence[Element], solution: str, shown: str) -> Element:
    """The whole of it: the score from nothing, each condition, and the worked solution brought up at the end."""
    return children(
        "qti-response-processing",
        {},
        (_set(SCORE, base("float", "0")), *conditions, _set(solution, base("identifier", shown))),
    )


def _set(name: str, value: Element) -> Element:
    return element("qti-set-outcome-value", {"identifier": name}, value)
