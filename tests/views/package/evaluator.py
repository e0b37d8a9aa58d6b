"""Response and outcome processing walked by the words of the standard, apart from what writes it.

Source of the rules: 1EdTech, QTI 3.0 information model, "Expressions" and "Response processing" (from memory): an
expression on NULL is NULL, `and` is false as soon as one part is, `or` true as soon as one is, a condition that is NULL
does not hold; an outcome begins with its default value, or NULL.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

QTI = "{http://www.imsglobal.org/xsd/imsqtiasi_v3p0}"
Value = bool | float | str | tuple[str, ...] | None
Given = Mapping[str, str | tuple[str, ...]]


@dataclass(frozen=True)
class Outcome:
    """What processing leaves: every outcome, and the feedback that is shown then, as its text by its identifier."""

    values: Mapping[str, Value]
    shown: Mapping[tuple[str, str], str]

    @property
    def score(self) -> float:
        found = self.values["SCORE"]
        assert isinstance(found, float)
        return found


def respond(item: Element, given: Given) -> Outcome:
    """The outcome of an item for responses by identifier: a typed text, an option, or several."""
    values: dict[str, Value] = {}
    for declared in item.findall(f"{QTI}qti-response-declaration"):
        values[declared.attrib["identifier"]] = _response(declared, given.get(declared.attrib["identifier"]))
    for declared in item.findall(f"{QTI}qti-outcome-declaration"):
        default = declared.find(f"{QTI}qti-default-value/{QTI}qti-value")
        text = None if default is None else default.text or ""
        values[declared.attrib["identifier"]] = _typed(declared.attrib["base-type"], text)
    processing = item.find(f"{QTI}qti-response-processing")
    assert processing is not None
    for rule in processing:
        _run(rule, values)
    shown = {}
    for block in item.iter():
        if block.tag in (f"{QTI}qti-feedback-block", f"{QTI}qti-modal-feedback"):
            outcome, ident = block.attrib["outcome-identifier"], block.attrib["identifier"]
            assert block.attrib["show-hide"] == "show"
            if values[outcome] == ident:
                shown[outcome, ident] = "".join(block.itertext())
    return Outcome(values, shown)


def _response(declared: Element, given: str | tuple[str, ...] | None) -> Value:
    if given is None or given == "":
        return None
    if isinstance(given, tuple):
        assert declared.attrib["cardinality"] in ("ordered", "multiple")
        return given if declared.attrib["cardinality"] == "ordered" else tuple(sorted(given))
    assert declared.attrib["cardinality"] == "single"
    return _typed(declared.attrib["base-type"], given)


def _typed(kind: str, text: str | None) -> Value:
    if text is None:
        return None
    return float(text) if kind == "float" else text


def _run(rule: Element, values: dict[str, Value]) -> None:
    name = rule.tag.removeprefix(QTI)
    if name == "qti-set-outcome-value":
        assert rule.attrib["identifier"] in values, "an outcome that is not declared"
        values[rule.attrib["identifier"]] = evaluate(rule[0], values)
        return
    assert name == "qti-response-condition", name
    assert [part.tag.removeprefix(QTI) for part in rule][:1] == ["qti-response-if"]
    for branch in rule:
        kind = branch.tag.removeprefix(QTI)
        assert kind in ("qti-response-if", "qti-response-else-if", "qti-response-else"), kind
        rest = list(branch)
        if kind != "qti-response-else" and evaluate(rest.pop(0), values) is not True:
            continue
        for inner in rest:
            _run(inner, values)
        return


def evaluate(part: Element, values: Mapping[str, Value]) -> Value:
    """What an expression comes to."""
    name = part.tag.removeprefix(QTI)
    if name == "qti-base-value":
        return _typed(part.attrib["base-type"], part.text or "")
    if name == "qti-variable":
        return values[part.attrib["identifier"]]
    inner = [evaluate(child, values) for child in part]
    if name == "qti-is-null":
        return inner[0] is None or inner[0] == ()
    if name in ("qti-and", "qti-or"):
        stops = name == "qti-or"
        return stops if stops in inner else None if None in inner else not stops
    if any(item is None for item in inner):
        return None
    if name == "qti-multiple":
        return tuple(sorted(str(item) for item in inner))
    if name == "qti-ordered":
        return tuple(str(item) for item in inner)
    if name == "qti-match":
        return inner[0] == inner[1]
    numbers = [item for item in inner if isinstance(item, float)]
    assert len(numbers) == len(inner), f"{name} of something that is no number"
    if name == "qti-sum":
        return float(sum(numbers))
    assert name in ("qti-gte", "qti-lte"), name
    return numbers[0] >= numbers[1] if name == "qti-gte" else numbers[0] <= numbers[1]


def total(test: Element, scores: Mapping[str, Mapping[str, Value]]) -> float:
    """The SCORE of a test from the outcomes of its items, by the identifiers of their references."""
    rule = test.find(f"{QTI}qti-outcome-processing/{QTI}qti-set-outcome-value")
    assert rule is not None and rule.attrib["identifier"] == "SCORE" and rule[0].tag == f"{QTI}qti-sum"
    found = 0.0
    for variables in rule[0]:
        for reference in test.iter(f"{QTI}qti-assessment-item-ref"):
            weight = reference.find(f"{QTI}qti-weight")
            assert weight is not None and weight.attrib["identifier"] == variables.attrib["weight-identifier"]
            value = scores[reference.attrib["identifier"]].get(variables.attrib["variable-identifier"])
            found += float(weight.attrib["value"]) * (value if isinstance(value, float) else 0.0)
    return found
