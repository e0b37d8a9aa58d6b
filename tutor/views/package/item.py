"""A question as a QTI 3.0 item: one for each problem by name, its numbers baked in.

What a learner sees stands in the item's body; what the answers bring up is hidden until they are processed; the worked
solution comes up beside it once all answers are in.
Source of the vocabulary: 1EdTech, Question and Test Interoperability (QTI) 3.0, assessment, section and item
information model, and the examples the standard's body publishes. Written to QTI 3.0, not certified.
"""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from tutor.generate.problem import TableRow
from tutor.sets.paper import Asked, Look, Rules
from tutor.solution.scheme import MarkKind, SchemePoint
from tutor.views.drawn_problem import Picture
from tutor.views.package.markup import INSTANCE, children, element, lettered, told, worked_line
from tutor.views.package.parts import ORDER, ItemPart, part_of
from tutor.views.package.processing import SCORE, number, processing
from tutor.views.package.worked import worked_content

NAMESPACE = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
SCHEMA = "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd"
LANGUAGE = "en-GB"
METHOD = "METHOD"  # marks that somebody gives by hand, for working that is asked for
WORKING = "WORKING"
SOLUTION, SHOWN = "SOLUTION", "worked"

POINT_NOTE = "Type each number with a decimal point and without its unit: the unit stands behind the box."
COMMA_NOTE = (
    "Numbers are printed with a decimal comma (4,7). Type yours with a decimal point and without its unit: the unit "
    "stands behind the box."
)


@dataclass(frozen=True)
class Item:
    """An item ready to be written, and what its parts can earn: by the platform, and by hand."""

    identifier: str
    root: Element
    marks: int
    by_hand: int


def item_identifier(name: str) -> str:
    """The identifier of a problem's item: letters, digits, `.`, `-` and `_`, different for different names.

    >>> item_identifier("zener-resistor:2:17@2")
    'zener-resistor.2.17.e2'
    """
    return "".join(map(_in_identifier, name.replace(":", ".").replace("@", ".e")))


def _in_identifier(letter: str) -> str:
    return letter if letter.isascii() and (letter.isalnum() or letter in ".-") else f"_{ord(letter):02x}_"


def item_of(asked: Asked, rules: Rules, look: Look, picture: Picture) -> Item:
    """The item of a question; its drawing stands beside it as `IDENTIFIER.svg`."""
    problem = asked.problem
    parts, marks, by_hand = [], 0, 0
    for at, (point, scheme) in enumerate(zip(problem.waypoints, asked.scheme.points, strict=True), start=1):
        method = _method_marks(scheme) if rules.working_asked else 0
        earned = len(scheme.marks) - method
        parts.append(part_of(point, at, earned, rules, asked.lines, look.decimal_comma))
        marks, by_hand = marks + earned, by_hand + method
    identifier = item_identifier(asked.name)
    root = children(
        "qti-assessment-item",
        {
            "xmlns": NAMESPACE,
            "xmlns:xsi": INSTANCE,
            "xsi:schemaLocation": f"{NAMESPACE} {SCHEMA}",
            "identifier": identifier,
            "title": problem.title,
            "adaptive": "false",
            "time-dependent": "false",
            "xml:lang": LANGUAGE,
        },
        (
            *(part.response for part in parts),
            *_working_response(by_hand),
            _score(SCORE, marks),
            _fixed("MAXSCORE", marks + by_hand),
            *_working_outcome(by_hand),
            *(part.outcome for part in parts),
            element(
                "qti-outcome-declaration",
                {"identifier": SOLUTION, "cardinality": "single", "base-type": "identifier"},
            ),
            _body(asked, parts, picture, f"{identifier}.svg", look, by_hand),
            processing([part.processing for part in parts], SOLUTION, SHOWN),
            element(
                "qti-modal-feedback",
                {"outcome-identifier": SOLUTION, "identifier": SHOWN, "show-hide": "show", "title": "Worked solution"},
                children("qti-content-body", {}, worked_content(asked.solution)),
            ),
        ),
    )
    return Item(identifier, root, marks, by_hand)


def _method_marks(point: SchemePoint) -> int:
    return sum(mark.kind is MarkKind.METHOD for mark in point.marks)


def _score(name: str, most: int) -> Element:
    nothing = element("qti-default-value", None, element("qti-value", None, "0"))
    limits = {"normal-maximum": number(most), "normal-minimum": "0"}
    attributes = {"identifier": name, "cardinality": "single", "base-type": "float", **limits}
    return element("qti-outcome-declaration", attributes, nothing)


def _fixed(name: str, value: int) -> Element:
    told_value = element("qti-default-value", None, element("qti-value", None, number(value)))
    attributes = {"identifier": name, "cardinality": "single", "base-type": "float"}
    return element("qti-outcome-declaration", attributes, told_value)


def _working_response(by_hand: int) -> list[Element]:
    attributes = {"identifier": WORKING, "cardinality": "single", "base-type": "string"}
    return [element("qti-response-declaration", attributes)] * bool(by_hand)


def _working_outcome(by_hand: int) -> list[Element]:
    if not by_hand:
        return []
    declared = _score(METHOD, by_hand)
    declared.set("external-scored", "human")
    return [declared]


def _body(asked: Asked, parts: list[ItemPart], picture: Picture, href: str, look: Look, by_hand: int) -> Element:
    """What a learner sees, in the order of a paper; after each part the words its answer brings up."""
    problem = asked.problem
    content = [told("p", problem.statement)]
    content += [_data(problem.table)] * bool(problem.table)
    content += [_drawing(picture, href), _description(picture)]
    content += _lines(asked)
    content.append(told("p", problem.ask))
    if any(point.answer is not None for point in problem.waypoints):
        content.append(element("p", None, COMMA_NOTE if look.decimal_comma else POINT_NOTE))
    for part in parts:
        content.append(children("div", {}, (*part.shown, *part.words)))
    if by_hand:
        prompt = element("qti-prompt", None, "Your working, a step a line: it is read and marked by hand.")
        box = {"response-identifier": WORKING, "expected-lines": "8"}
        content.append(children("qti-extended-text-interaction", box, (prompt,)))
    content += [told("p", caution, lead="Caution: ") for caution in problem.cautions]
    content.append(element("p", None, element("small", None, asked.name)))
    return children("qti-item-body", {}, content)


def _data(rows: tuple[TableRow, ...]) -> Element:
    body = []
    for row in rows:
        letter = element("td", None, lettered(row.symbol) if row.symbol else None)
        body.append(children("tr", {}, (_row_head(row.label), letter, told("td", row.value))))
    head = children("tr", {}, [element("th", {"scope": "col"}, words) for words in ("quantity", "symbol", "value")])
    return _table("What is given", head, body)


def _row_head(label: str) -> Element:
    made = told("th", label)
    made.set("scope", "row")
    return made


def _drawing(picture: Picture, href: str) -> Element:
    words = f"Circuit diagram: {picture.title}. The table after it says how its parts are joined."
    return element("p", None, element("img", {"src": href, "alt": words}))


def _description(picture: Picture) -> Element:
    """The drawing as a table of its parts, open to everyone."""
    heads = ("part", "what it is", "value", "from", "to")
    head = children("tr", {}, [element("th", {"scope": "col"}, words) for words in heads])
    rows = []
    for row in picture.rows:
        cells = [element("td", None, text) for text in (row.words, row.value, row.start, row.end)]
        rows.append(children("tr", {}, (element("th", {"scope": "row"}, row.part), *cells)))
    return _table("The circuit, part by part", head, rows)


def _table(caption: str, head: Element, rows: list[Element]) -> Element:
    return children(
        "table",
        {},
        (element("caption", None, caption), children("thead", {}, (head,)), children("tbody", {}, rows)),
    )


def _lines(asked: Asked) -> list[Element]:
    """The lines that the problem lays before the learner, unless they are what is put in order."""
    if not asked.lines or any(point.key == ORDER for point in asked.problem.waypoints):
        return []
    rows = []
    for line in asked.lines:
        row = told("li", line.words, lead=f"{line.label}: ")
        if line.chain is not None:
            row.append(worked_line(line.chain))
        rows.append(row)
    return [*([told("p", f"{asked.caption}:")] if asked.caption else []), children("ul", {}, rows)]
