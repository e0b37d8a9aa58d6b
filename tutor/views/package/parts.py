"""What is asked, as interactions: a box for a number, options for a state, an order, a match; each with its words.

Vocabulary: a *part* of an item is one waypoint of the problem: what declares it, what a learner sees and answers, how
the answer is processed, and the *words* brought up afterwards (hidden until then).
Place in the data flow: Waypoint + Rules -> ItemPart -> item.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from tutor.across.family import ShownLine
from tutor.generate.problem import SEPARATOR, Remark, SlipValue, Waypoint, WaypointKind
from tutor.quantities.symbols import is_symbol
from tutor.sets.paper import Rules
from tutor.solution.solution import Chain
from tutor.views.package.entry import entry_of
from tutor.views.package.markup import Content, children, element, lettered, told, worked_line
from tutor.views.package.processing import AnswerCase, any_of, condition, equals, holds_all, number, within
from tutor.views.plain import sentence

RIGHT, WRONG = "right", "wrong"
ORDER = "order"  # the key of an arrangement that puts statements in order; others lay options to places
_BOX = "12"  # characters


@dataclass(frozen=True)
class ItemPart:
    """One waypoint of an item. `shown` is what a learner sees beforehand; `words` come up when it is processed."""

    response: Element
    outcome: Element
    shown: tuple[Element, ...]
    processing: Element
    words: tuple[Element, ...]


def part_of(
    point: Waypoint, at: int, marks: int, rules: Rules, lines: Sequence[ShownLine], comma: bool = False
) -> ItemPart:
    """The part of the waypoint at place `at` (from 1); `marks` is what its right answer adds to the score.

    `lines` are what the problem lays before the learner: an option that is the label of one is shown with its words.
    """
    if point.kind in (WaypointKind.VALUE, WaypointKind.CHOICE):
        return _number(point, at, marks, rules, comma)
    if point.kind is WaypointKind.STATE:
        return _state(point, at, marks, lines)
    return _order(point, at, marks, lines) if point.key == ORDER else _match(point, at, marks)


def response_name(at: int) -> str:
    """The identifier of the response at a place."""
    return f"RESPONSE_{at}"


def _number(point: Waypoint, at: int, marks: int, rules: Rules, comma: bool) -> ItemPart:
    """A box for a number; its unit stands behind it."""
    entry = entry_of(point, rules)
    assert point.answer is not None
    response, feedback = response_name(at), _feedback_name(at)
    box = element("qti-text-entry-interaction", {"response-identifier": response, "expected-length": _BOX})
    lead: list[Content] = [": "]
    if is_symbol(point.key):
        lead += [lettered(point.key), " = "]
    unit = f"\u00a0{entry.unit}" if entry.unit else "\u00a0(a pure number)"
    shown = told("p", point.prompt, *lead, box, unit, lead=f"({at}) ")
    cases = [AnswerCase(within(response, entry.right), RIGHT, marks)]
    right = f"Right: {point.answer.text}."
    if point.kind is WaypointKind.CHOICE:
        right = "Right: it meets the specification."
    words = [_words(feedback, RIGHT, told("p", right))]
    for place, found in enumerate(entry.slips, start=1):
        ident = f"slip_{place}"
        cases.append(AnswerCase(within(response, (found.band,)), ident))
        words.append(_words(feedback, ident, *_of_slips(found.slips)))
    if shifted := entry.shifted():
        cases.append(AnswerCase(within(response, shifted), "prefix"))
        said = f"Not right: its figures are right and its power of ten is not. The box is in {entry.unit}."
        words.append(_words(feedback, "prefix", told("p", said)))
    other = "Not right, and by none of the slips that are known here."
    if comma:
        other += " Was it typed with a decimal point?"
    words.append(_words(feedback, WRONG, told("p", other)))
    return ItemPart(
        _response(response, "single", "float", [number(entry.typed)]),
        _outcome(feedback),
        (shown,),
        condition(response, feedback, cases, WRONG),
        tuple(words),
    )


def _of_slips(slips: Sequence[SlipValue]) -> list[Element]:
    """What is said of a value that is a slip's; where several lead to it, that it is one of them."""
    if len(slips) == 1:
        lead = "Not right. "
        return [told("p", f"{sentence(slips[0].name)} {sentence(slips[0].why)} {slips[0].hint}", lead=lead)]
    rows = [told("li", f"{sentence(slip.name)} {sentence(slip.why)} {slip.hint}") for slip in slips]
    return [element("p", None, "Not right. It is one of these:"), children("ul", {}, rows)]


def _state(point: Waypoint, at: int, marks: int, lines: Sequence[ShownLine]) -> ItemPart:
    """One of several options in words."""
    response, feedback = response_name(at), _feedback_name(at)
    names = _names("option", point.options)
    choices = [
        element("qti-simple-choice", {"identifier": names[option]}, *_option(option, lines)) for option in point.options
    ]
    prompt = told("qti-prompt", point.prompt, lead=f"({at}) ")
    shown = children(
        "qti-choice-interaction",
        {"response-identifier": response, "shuffle": "false", "max-choices": "1"},
        (prompt, *choices),
    )
    cases = [AnswerCase(equals(response, names[point.state]), RIGHT, marks)]
    words = [_words(feedback, RIGHT, told("p", "Right."))]
    for remark in point.remarks:
        if remark.option in names and remark.option != point.state:
            ident = f"remark_{names[remark.option]}"
            cases.append(AnswerCase(equals(response, names[remark.option]), ident))
            words.append(_words(feedback, ident, _of_remark(remark)))
    words.append(_words(feedback, WRONG, told("p", "Not right.")))
    return ItemPart(
        _response(response, "single", "identifier", [names[point.state]]),
        _outcome(feedback),
        (shown,),
        condition(response, feedback, cases, WRONG),
        tuple(words),
    )


def _order(point: Waypoint, at: int, marks: int, lines: Sequence[ShownLine]) -> ItemPart:
    """Options to be put in order; where there are more of them than places, some are left out."""
    names = _names("option", point.options)
    attributes = {"response-identifier": response_name(at), "shuffle": "false"}
    if len(point.places) < len(point.options):
        attributes |= {"min-choices": str(len(point.places)), "max-choices": str(len(point.places))}
    choices = [
        element("qti-simple-choice", {"identifier": names[option]}, *_option(option, lines)) for option in point.options
    ]
    prompt = told("qti-prompt", point.prompt, lead=f"({at}) ")
    shown = children("qti-order-interaction", attributes, (prompt, *choices))
    right = [[names[option] for option in one.split(SEPARATOR)] for one in point.arrangements]
    remarks = [([names[option] for option in item.option.split(SEPARATOR)], item) for item in point.remarks]
    return _arranged(at, marks, shown, "identifier", "ordered", right, remarks)


def _match(point: Waypoint, at: int, marks: int) -> ItemPart:
    """An option for each place; one option may serve several places."""
    names = _names("option", point.options)
    places = _names("place", point.places)
    prompt = told("qti-prompt", point.prompt, lead=f"({at}) ")
    shown = children(
        "qti-match-interaction",
        {
            "response-identifier": response_name(at),
            "shuffle": "false",
            "max-associations": str(len(point.places)),
        },
        (prompt, _match_set(places, 1), _match_set(names, len(point.places))),
    )

    def pairs(arrangement: str) -> list[str]:
        chosen = arrangement.split(SEPARATOR)
        return [f"{place} {names[option]}" for place, option in zip(places.values(), chosen, strict=True)]

    right = [pairs(arrangement) for arrangement in point.arrangements]
    remarks = [(pairs(item.option), item) for item in point.remarks]
    return _arranged(at, marks, shown, "directedPair", "multiple", right, remarks)


def _arranged(
    at: int,
    marks: int,
    shown: Element,
    kind: str,
    cardinality: str,
    right: Sequence[Sequence[str]],
    remarks: Sequence[tuple[Sequence[str], Remark]],
) -> ItemPart:
    """A part of several values: any right arrangement counts, and remarks are on wrong ones as a whole."""
    response, feedback = response_name(at), _feedback_name(at)
    container = f"qti-{cardinality}"
    cases = [AnswerCase(any_of([holds_all(response, kind, container, values) for values in right]), RIGHT, marks)]
    words = [_words(feedback, RIGHT, told("p", "Right."))]
    for place, (values, remark) in enumerate(remarks, start=1):
        if list(values) not in [list(item) for item in right]:
            ident = f"remark_{place}"
            cases.append(AnswerCase(holds_all(response, kind, container, values), ident))
            words.append(_words(feedback, ident, _of_remark(remark)))
    words.append(_words(feedback, WRONG, told("p", "Not right.")))
    return ItemPart(
        _response(response, cardinality, kind, right[0]),
        _outcome(feedback),
        (shown,),
        condition(response, feedback, cases, WRONG),
        tuple(words),
    )


def _match_set(names: Mapping[str, str], most: int) -> Element:
    return children(
        "qti-simple-match-set",
        {},
        [
            element("qti-simple-associable-choice", {"identifier": ident, "match-max": str(most)}, told("span", words))
            for words, ident in names.items()
        ],
    )


def _option(option: str, lines: Sequence[ShownLine]) -> list[Content]:
    """An option's content: its words, and those of the line of which it is the label."""
    line = next((item for item in lines if item.label == option), None)
    if line is None:
        return [told("span", option)]
    return [told("span", line.words, lead=f"{option}: "), *_chain(line.chain)]


def _chain(chain: Chain | None) -> list[Content]:
    return [] if chain is None else [worked_line(chain)]


def _of_remark(remark: Remark) -> Element:
    said = filter(None, (sentence(remark.name), sentence(remark.why), remark.hint))
    return told("p", " ".join(said), lead="Not right. ")


def _names(stem: str, texts: Sequence[str]) -> dict[str, str]:
    return {text: f"{stem}_{place}" for place, text in enumerate(texts, start=1)}


def _feedback_name(at: int) -> str:
    return f"FEEDBACK_{at}"


def _response(name: str, cardinality: str, kind: str, values: Sequence[str]) -> Element:
    right = children("qti-correct-response", {}, [element("qti-value", None, value) for value in values])
    attributes = {"identifier": name, "cardinality": cardinality, "base-type": kind}
    return element("qti-response-declaration", attributes, right)


def _outcome(name: str) -> Element:
    attributes = {"identifier": name, "cardinality": "single", "base-type": "identifier"}
    return element("qti-outcome-declaration", attributes)


def _words(outcome: str, ident: str, *content: Element) -> Element:
    """Words that stay hidden until the outcome is this identifier."""
    return element(
        "qti-feedback-block",
        {"outcome-identifier": outcome, "identifier": ident, "show-hide": "show"},
        children("qti-content-body", {}, content),
    )
