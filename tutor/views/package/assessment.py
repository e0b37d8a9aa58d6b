"""A paper as a QTI 3.0 test: its questions in order, each weighed so that it counts what it counts on the paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from tutor.sets.paper import ClassSet
from tutor.views.package.item import METHOD, NAMESPACE, SCHEMA
from tutor.views.package.markup import INSTANCE, children, element
from tutor.views.package.processing import SCORE, number

MARKS = "MARKS"


@dataclass(frozen=True)
class ItemRef:
    """An item as a test asks it: `weight` turns its own score into marks of the paper."""

    identifier: str
    href: str
    weight: float


def test_of(identifier: str, title: str, asked: Sequence[ItemRef], of: ClassSet, by_hand: bool) -> Element:
    """The test of a paper. `by_hand`: some marks are given by somebody who reads the working."""
    references = [
        element(
            "qti-assessment-item-ref",
            {"identifier": ref.identifier, "href": ref.href},
            element("qti-weight", {"identifier": MARKS, "value": number(ref.weight)}),
        )
        for ref in asked
    ]
    section = {"identifier": "questions", "title": of.title, "visible": "true"}
    # One attempt: the worked solution comes up after it.
    control = element("qti-item-session-control", {"max-attempts": "1", "show-feedback": "true"})
    part = {"identifier": "paper", "navigation-mode": "nonlinear", "submission-mode": "individual"}
    scores = [SCORE, METHOD] if by_hand else [SCORE]
    attributes = {"identifier": SCORE, "cardinality": "single", "base-type": "float"}
    limits = [element("qti-time-limits", {"max-time": str(60 * of.minutes)})] if of.minutes else []
    return children(
        "qti-assessment-test",
        {
            "xmlns": NAMESPACE,
            "xmlns:xsi": INSTANCE,
            "xsi:schemaLocation": f"{NAMESPACE} {SCHEMA}",
            "identifier": identifier,
            "title": title,
        },
        (
            element(
                "qti-outcome-declaration",
                attributes,
                element("qti-default-value", None, element("qti-value", None, "0")),
            ),
            *limits,
            children("qti-test-part", part, (control, children("qti-assessment-section", section, references))),
            children("qti-outcome-processing", {}, (_total(scores),)),
        ),
    )


def _total(scores: Sequence[str]) -> Element:
    """The marks of all questions together."""
    summed = [
        element("qti-test-variables", {"variable-identifier": name, "weight-identifier": MARKS}) for name in scores
    ]
    return element("qti-set-outcome-value", {"identifier": SCORE}, children("qti-sum", {}, summed))
