"""The shape of a package, by what the standard's information model asks; the official schemas are not to be had here.

Source: 1EdTech, QTI 3.0 information model, content packaging profile, and the examples that the standard's body
publishes (1EdTech/qti-examples); identifiers as XML Schema's NCName.
"""

from __future__ import annotations

import posixpath
import re
from pathlib import Path
from xml.etree.ElementTree import Element
from zipfile import ZipFile

import pytest

from tests.views.package.evaluator import QTI
from tests.views.package.small_set import NAMES, Opened, open_package, questions, small_package, small_set
from tutor.errors import BadValue
from tutor.generate.problem import WaypointKind
from tutor.sets.paper import Learner, Look, Paper
from tutor.views.package.item import item_identifier
from tutor.views.package.writing import write_package

PACKAGING = "{http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1}"
MATHML = "{http://www.w3.org/1998/Math/MathML}"
NC_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9._-]*", re.ASCII)
# Attributes without which an element means nothing.
REQUIRED = {
    "qti-assessment-item": ("identifier", "title", "time-dependent"),
    "qti-assessment-test": ("identifier", "title"),
    "qti-test-part": ("identifier", "navigation-mode", "submission-mode"),
    "qti-assessment-section": ("identifier", "title", "visible"),
    "qti-assessment-item-ref": ("identifier", "href"),
    "qti-weight": ("identifier", "value"),
    "qti-response-declaration": ("identifier", "cardinality", "base-type"),
    "qti-outcome-declaration": ("identifier", "cardinality", "base-type"),
    "qti-text-entry-interaction": ("response-identifier",),
    "qti-choice-interaction": ("response-identifier", "max-choices"),
    "qti-order-interaction": ("response-identifier",),
    "qti-match-interaction": ("response-identifier", "max-associations"),
    "qti-simple-choice": ("identifier",),
    "qti-simple-associable-choice": ("identifier", "match-max"),
    "qti-feedback-block": ("outcome-identifier", "identifier", "show-hide"),
    "qti-modal-feedback": ("outcome-identifier", "identifier", "show-hide"),
    "qti-set-outcome-value": ("identifier",),
    "qti-variable": ("identifier",),
    "qti-base-value": ("base-type",),
    "img": ("src", "alt"),
}
# What an item holds, in the order of the information model.
ITEM_ORDER = (
    "qti-response-declaration", "qti-outcome-declaration", "qti-item-body", "qti-response-processing",
    "qti-modal-feedback",
)  # fmt: skip
INTERACTIONS = {
    "qti-text-entry-interaction": ("single", "float"),
    "qti-choice-interaction": ("single", "identifier"),
    "qti-order-interaction": ("ordered", "identifier"),
    "qti-match-interaction": ("multiple", "directedPair"),
}


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return small_package(tmp_path_factory.mktemp("package"))


def items(opened: Opened) -> dict[str, Element]:
    found = {name: root for name, root in opened.roots.items() if root.tag == f"{QTI}qti-assessment-item"}
    assert len(found) == len(NAMES)
    return found


def short(part: Element) -> str:
    return part.tag.rpartition("}")[2]


def test_every_file_is_listed_once_and_every_href_is_there(opened: Opened) -> None:
    """The manifest stands first, at the root; what it lists is what the package holds, and dependencies resolve."""
    assert next(iter(opened.files)) == "imsmanifest.xml"
    assert list(opened.files)[1:] == sorted(list(opened.files)[1:])
    manifest = opened.roots["imsmanifest.xml"]
    assert manifest.tag == f"{PACKAGING}manifest" and NC_NAME.fullmatch(manifest.attrib["identifier"])
    assert [short(part) for part in manifest] == ["metadata", "organizations", "resources"]
    told = {short(part): part.text for part in manifest[0]}
    assert told == {"schema": "QTI Package", "schemaversion": "3.0.0"}
    resources = list(manifest[2])
    files = [file.attrib["href"] for resource in resources for file in resource.iter(f"{PACKAGING}file")]
    assert sorted(files) == sorted(name for name in opened.files if name != "imsmanifest.xml")
    identifiers = [resource.attrib["identifier"] for resource in resources]
    assert len(set(identifiers)) == len(identifiers) and all(map(NC_NAME.fullmatch, identifiers))
    for resource in resources:
        assert resource.attrib["href"] == next(iter(resource)).attrib["href"]
        root = opened.roots[resource.attrib["href"]]
        test = root.tag == f"{QTI}qti-assessment-test"
        assert resource.attrib["type"] == ("imsqti_test_xmlv3p0" if test else "imsqti_item_xmlv3p0")
        assert resource.attrib["identifier"] == root.attrib["identifier"]
        for needed in resource.iter(f"{PACKAGING}dependency"):
            assert needed.attrib["identifierref"] in identifiers


def test_vocabularies_are_where_they_belong(opened: Opened) -> None:
    """Items and tests in QTI's namespace, formulas in MathML's, nothing in another and nothing without one."""
    for name, root in opened.roots.items():
        if not name.endswith(".xml") or name == "imsmanifest.xml":
            continue
        inside = {id(part) for formula in root.iter(f"{MATHML}math") for part in formula.iter()}
        for part in root.iter():
            assert part.tag.startswith(MATHML if id(part) in inside else QTI), (name, part.tag)
    assert sum(len(list(root.iter(f"{MATHML}math"))) for root in items(opened).values()) > 200


def test_required_attributes_and_order(opened: Opened) -> None:
    """What an element needs it has; identifiers are names that XML Schema takes; an item's parts stand in order."""
    for name, root in opened.roots.items():
        if not name.endswith(".xml") or name == "imsmanifest.xml":
            continue
        for part in root.iter():
            for attribute in REQUIRED.get(short(part), ()):
                assert part.attrib.get(attribute), (name, short(part), attribute)
            if "identifier" in part.attrib:
                assert NC_NAME.fullmatch(part.attrib["identifier"]), part.attrib
    for name, root in items(opened).items():
        places = [ITEM_ORDER.index(short(part)) for part in root]
        assert places == sorted(places) and set(places) == set(range(len(ITEM_ORDER))), name


def test_every_response_is_declared_and_asked_once(opened: Opened) -> None:
    """Of the kind its interaction gives; its right value is one of what may be chosen."""
    for name, root in items(opened).items():
        declared = {part.attrib["identifier"]: part for part in root.iter(f"{QTI}qti-response-declaration")}
        asked = [part for part in root.iter() if "response-identifier" in part.attrib]
        assert sorted(part.attrib["response-identifier"] for part in asked) == sorted(declared), name
        assert len(declared) == len(list(root.iter(f"{QTI}qti-response-declaration")))
        for part in asked:
            row = declared[part.attrib["response-identifier"]]
            assert (row.attrib["cardinality"], row.attrib["base-type"]) == INTERACTIONS[short(part)], name
            options = [choice.attrib["identifier"] for choice in part.iter() if "identifier" in choice.attrib]
            assert len(set(options)) == len(options)
            for value in row.iter(f"{QTI}qti-value"):
                text = value.text or ""
                if short(part) == "qti-text-entry-interaction":
                    float(text)
                else:
                    assert set(text.split(" ")) <= set(options), (name, text)


def test_every_outcome_and_word_of_the_processing_is_declared(opened: Opened) -> None:
    """Variables read and set are declared, and feedback that is set is there to be shown, all of it."""
    for name, root in items(opened).items():
        outcomes = [part.attrib["identifier"] for part in root.iter(f"{QTI}qti-outcome-declaration")]
        assert len(set(outcomes)) == len(outcomes)
        declared = {*outcomes, *(part.attrib["identifier"] for part in root.iter(f"{QTI}qti-response-declaration"))}
        said = {
            (part.attrib["outcome-identifier"], part.attrib["identifier"])
            for part in root.iter()
            if "outcome-identifier" in part.attrib
        }
        brought = set()
        for part in root.iter():
            if short(part) in ("qti-variable", "qti-set-outcome-value"):
                assert part.attrib["identifier"] in declared, (name, part.attrib)
            if short(part) == "qti-set-outcome-value" and part[0].attrib.get("base-type") == "identifier":
                brought.add((part.attrib["identifier"], part[0].text or ""))
        assert said == {pair for pair in brought if pair[1] != "unanswered"}, name
        assert {outcome for outcome, _ in said} <= set(outcomes)


def test_tests_ask_the_items_of_their_papers(opened: Opened) -> None:
    """In the order of the paper; a learner's id names no file, and two learners with one paper share its test."""
    assert opened.report.tests == {
        "s-01": "tests/test-0001.xml", "../s-02": "tests/test-0002.xml", "=s-03": "tests/test-0002.xml",
    }  # fmt: skip
    for paper in opened.papers:
        href = opened.report.tests[paper.learner.id]
        references = list(opened.roots[href].iter(f"{QTI}qti-assessment-item-ref"))
        assert [row.attrib["identifier"] for row in references] == [item_identifier(row.name) for row in paper.asked]
        for row in references:
            assert posixpath.normpath(posixpath.join("tests", row.attrib["href"])) in opened.files
    limits = next(opened.roots["tests/test-0001.xml"].iter(f"{QTI}qti-time-limits"))
    assert limits.attrib["max-time"] == "5400"


def test_a_learner_sees_no_answer_beforehand(opened: Opened) -> None:
    """In the body without what is hidden: neither an answer as it is printed, nor a line of the solution."""
    searched = 0
    for question in opened.papers[0].asked:
        body = opened.item(question).find(f"{QTI}qti-item-body")
        assert body is not None
        seen = " ".join(" ".join(visible(body)).split())
        picture = opened.files[f"items/{item_identifier(question.name)}.svg"].decode()
        problem = question.problem
        known = " ".join([*(row.value for row in problem.table), problem.statement, problem.ask])
        known += " ".join(value.text for value in problem.given.values())
        for point in question.problem.waypoints:
            if point.kind is WaypointKind.VALUE and point.answer is not None and point.answer.text not in known:
                assert point.answer.text not in seen and point.answer.text not in picture, (question.name, point.key)
                searched += 1
        for step in question.solution.steps:
            assert step.why == "" or step.why not in seen
    assert searched > 20


def visible(part: Element) -> list[str]:
    """The texts and alternative texts of an element, apart from feedback."""
    if short(part) in ("qti-feedback-block", "qti-modal-feedback"):
        return []
    texts = [part.text or "", part.attrib.get("alt", ""), part.attrib.get("alttext", "")]
    for child in part:
        texts += [*visible(child), child.tail or ""]
    return texts


def test_the_drawing_is_there_with_its_words(opened: Opened) -> None:
    """An image with an alternative text, and a table of its parts; the file stands on its own with title and desc."""
    for name, root in items(opened).items():
        (image,) = root.iter(f"{QTI}img")
        file = posixpath.join("items", image.attrib["src"])
        drawn = opened.roots[file]
        assert [short(part) for part in drawn][:2] == ["title", "desc"]
        captions = [caption.text for caption in root.iter(f"{QTI}caption")]
        assert "The circuit, part by part" in captions, name
        assert b"currentColor" in opened.files[file] and drawn.attrib["color"] == "black"


def test_cautions_and_unit_stand_with_the_question(opened: Opened) -> None:
    """Every caution of a problem; the unit behind its box, and how to type a number before it."""
    for question in opened.papers[0].asked:
        seen = " ".join(" ".join(visible(opened.item(question))).split())
        for caution in question.problem.cautions:
            assert f"Caution: {caution.split('$')[0].strip()}" in seen
    item = opened.item(opened.papers[0].asked[0])
    box = next(part for part in item.iter(f"{QTI}qti-text-entry-interaction"))
    assert box.tail == "\u00a0Ω"
    assert "Type each number with a decimal point" in " ".join(visible(item))


def test_the_same_bytes_every_time_and_nothing_left_beside(opened: Opened, tmp_path: Path) -> None:
    """Two writings agree to the byte, with dates that say nothing."""
    first, second = tmp_path / "a.zip", tmp_path / "b.zip"
    for path in (first, second):
        write_package(opened.papers, path)
    assert first.read_bytes() == second.read_bytes() == opened.report.path.read_bytes()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.zip", "b.zip"]
    with ZipFile(first) as source:
        assert {entry.date_time for entry in source.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_the_look_of_the_set_shows(tmp_path: Path) -> None:
    """Decimal commas wherever a number is shown and none where one is computed with; the other style of drawing."""
    chosen = questions(("zener-resistor:2:17",))
    plain = open_package((Paper(small_set(), Learner("1"), chosen),), tmp_path / "a.zip")
    look = Look(decimal_comma=True, drawings="IEEE")
    comma = open_package((Paper(small_set(look=look), Learner("1"), chosen),), tmp_path / "b.zip")
    name = "items/zener-resistor.2.17.e2"
    seen = " ".join(comma.roots[f"{name}.xml"].itertext())
    assert "17,5 V" in seen and "Type yours with a decimal point" in seen
    shown = comma.roots[f"{name}.xml"].find(f"{QTI}qti-item-body")
    assert shown is not None and not re.search(r"[0-9]\.[0-9]", "".join(shown.itertext()))
    for tag in (f"{QTI}qti-base-value", f"{QTI}qti-value"):
        told = [[part.text for part in found.roots[f"{name}.xml"].iter(tag)] for found in (plain, comma)]
        assert told[0] == told[1] and any("." in (text or "") for text in told[0])
    shapes = [found.files[f"{name}.svg"].split(b"<path")[1:3] for found in (plain, comma)]
    assert shapes[0] != shapes[1] and b"17,5 V" in comma.files[f"{name}.svg"]


def test_text_from_a_class_list_is_text(tmp_path: Path) -> None:
    """A title and an id with markup and control characters leave the package well-formed, and mean nothing."""
    odd = "<qti-variable/> & \"x\" \x00\x1b ]]> ={1}"
    chosen = questions(("supply-peak:1:1",))
    found = open_package((Paper(small_set(title=odd), Learner(odd), chosen),), tmp_path / "set.zip")
    test = found.roots["tests/test-0001.xml"]
    assert test.attrib["title"] == odd.replace("\x00", "\ufffd").replace("\x1b", "\ufffd")
    assert list(found.report.tests) == [odd]


def test_what_cannot_be_one_package_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    """No papers; papers of two sets; a folder that is not there."""
    chosen = questions(("supply-peak:1:1",))
    one, other = (Paper(small_set(title=title), Learner("1"), chosen) for title in ("One", "Other"))
    for papers, path, sentence in (
        ((), tmp_path / "set.zip", "there are no papers to make set.zip of"),
        ((one, other), tmp_path / "set.zip", "a package is of one set; 'One' and 'Other' need one each"),
        ((one,), tmp_path / "no" / "set.zip", "cannot be written: No such file or directory"),
    ):
        with pytest.raises(BadValue, match=re.escape(sentence)):
            write_package(papers, path)
    assert list(tmp_path.iterdir()) == []


def test_different_names_have_different_identifiers() -> None:
    """Whatever a name assumes; and each is a name that XML Schema takes, and a file name without surprises."""
    names = ["own:1", "a-b:1:2", "a-b:1:2@2", "a:1:2+V_BE=0.6V", "a:1:2+V_BE=0-6V", "a:12:1"]
    found = [item_identifier(name) for name in names]
    assert len(set(found)) == len(names) and all(map(NC_NAME.fullmatch, found))


def test_the_report_says_what_a_platform_leaves_out(opened: Opened) -> None:
    """No claim of conformance, and the rules that a platform does not follow."""
    assert opened.report.notes[0] == "written to QTI 3.0, not certified"
    assert any("follow-through" in note for note in opened.report.notes)
    assert opened.report.items == tuple(sorted(item_identifier(row.name) for row in opened.papers[0].asked))
