"""Numbers as the trade sets them: what a form of problem gives and asks lies in the ranges collected for that form.

In `occurrences.toml` a form has `ranges`, the words they were collected in (from textbooks, examinations and forums),
`typical`, those words as ranges of letter symbols, and `besides`, what of the words is no range. A range is of

    V_I                  every value of the symbol that is given or asked for, with whatever index or end
    I_SEC/I_L            the ratio of two values, wherever a problem has both
    spread of V_I        how far the ends of the line lie from their middle, to the whole per cent (ends are rounded)

`beyond` lets a value of one level (`zener-state:3 V_I_MIN`) go further: how far, and why that is right there.

Vocabulary: a *place* is a family at a level, `zener-state:1`; a *measure* is what a range is of.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.problems.test_every_family import problems
from tutor.errors import UnknownName
from tutor.generate.problem import Problem
from tutor.quantities.quantity import write
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import split_name, symbol_for

TABLE: dict[str, Any] = tomllib.loads(Path(__file__).with_name("occurrences.toml").read_text(encoding="utf-8"))
# A form met across circuits has no quantities, and so no ranges.
MET: dict[str, dict[str, Any]] = {name: row for name, row in TABLE["forms"].items() if "ranges" in row and "at" in row}
BEYOND = [(name, entry) for name, row in MET.items() for entry in row.get("beyond", {})]
SPREAD = "spread of "
NUMBER = re.compile(r"\d+(?: \d{3}\b)*(?:\.\d+)?")

Range = tuple[float, float]


def own(form: str) -> str:
    """The form whose ranges a form has: its own, or those of the one it names (`as A6`)."""
    return str(MET[form]["ranges"]).removeprefix("as ") if str(MET[form]["ranges"]).startswith("as ") else form


def typical(form: str) -> Mapping[str, str]:
    """The ranges of a form by what they are of."""
    return dict(MET[own(form)]["typical"])


def unit_of(measure: str) -> str:
    """The unit that a range is written in; a ratio has none."""
    if "/" in measure:
        return ""
    return "%" if measure.startswith(SPREAD) else symbol_for(measure).unit


def range_of(words: str, unit: str) -> Range:
    """`47 Ω to 2.2 kΩ`, in SI."""
    ends = [read_quantity(word, unit) for word in words.split(" to ")]
    values = [end.value for end in ends if end.value is not None and (end.unit_given or not unit)]
    assert len(values) == len(ends) == 2 and values[0] <= values[1], words
    return values[0], values[1]


def outside(value: float, within: Range) -> bool:
    """Whether a value lies outside a range, its ends counted in."""
    return not within[0] * (1 - 1e-9) <= value <= within[1] * (1 + 1e-9)


def values_of(problem: Problem) -> dict[str, float]:
    """What a problem gives and asks for, by key."""
    told = {**problem.given, **problem.answers}
    return {key: quantity.value for key, quantity in told.items()}


def measured(measure: str, values: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    """Each value in a problem that a range is of, with the key it is of."""
    if measure.startswith(SPREAD):
        low, high = (values.get(f"{measure.removeprefix(SPREAD)}_{end}") for end in ("MIN", "MAX"))
        if low is not None and high is not None:
            yield measure, round((high - low) / (high + low), 2)
    elif "/" in measure:
        above, below = (values.get(key) for key in measure.split("/"))
        if above is not None and below is not None:
            yield measure, above / below
    else:
        for key, value in values.items():
            try:
                parts = split_name(key)
            except UnknownName:  # a state or a verdict is no letter symbol
                continue
            if parts.base == measure and not parts.change:
                yield key, value


@cache
def seen(form: str, place: str) -> dict[tuple[str, str], list[float]]:
    """Every value of a place that a range of the form is of, by measure and key."""
    family, _, level = place.partition(":")
    found: dict[tuple[str, str], list[float]] = {}
    for worked in problems(family, int(level)):
        for measure in typical(form):
            for key, value in measured(measure, values_of(worked.problem)):
                found.setdefault((measure, key), []).append(value)
    return found


@pytest.mark.parametrize(("form", "place"), [(name, place) for name, row in MET.items() for place in row["at"]])
def test_what_a_form_gives_and_asks_lies_in_its_ranges(form: str, place: str) -> None:
    """Of 200 numbers of each of its places; what may go further has its reason in the table."""
    told = []
    for (measure, key), values in seen(form, place).items():
        unit = unit_of(measure)
        words = MET[form].get("beyond", {}).get(f"{place} {key}", {}).get("to", typical(form)[measure])
        within = range_of(words, unit)
        if strays := sorted(value for value in values if outside(value, within)):
            ends = " to ".join(write(value, unit) for value in (strays[0], strays[-1]))
            told.append(f"{key}: {len(strays)} of {len(values)} outside {words}, {ends}")
    assert not told, "\n".join(told)


@pytest.mark.parametrize(("form", "entry"), BEYOND)
def test_an_exception_is_needed_and_has_its_reason(form: str, entry: str) -> None:
    """It lets a value go further than the form's range, some value does, and a sentence says why that is right."""
    place, _, key = entry.partition(" ")
    assert place in MET[form]["at"]
    assert set(MET[form]["beyond"][entry]) == {"to", "why"}
    found = [(measure, values) for (measure, name), values in seen(form, place).items() if name == key]
    assert len(found) == 1, f"{place} has no {key} that a range of {form} is of"
    (measure, values), unit = found[0], unit_of(found[0][0])
    usual = range_of(typical(form)[measure], unit)
    further = range_of(MET[form]["beyond"][entry]["to"], unit)
    assert further[0] <= usual[0] and usual[1] <= further[1] and further != usual
    assert any(outside(value, usual) for value in values), f"{entry} never happens: take it out"
    assert len(MET[form]["beyond"][entry]["why"].split()) >= 6


@pytest.mark.parametrize("form", MET)
def test_the_ranges_are_those_collected(form: str) -> None:
    """Every number of a range stands in the words it was taken from, and each of those in a range or in `besides`."""
    if own(form) != form:
        assert not {"typical", "besides"} & set(MET[form])
        return
    collected = set(NUMBER.findall(MET[form]["ranges"].replace(":1", "")))
    taken = {number for words in typical(form).values() for number in NUMBER.findall(words)}
    assert taken - {"0"} <= collected
    assert collected <= taken or len(MET[form]["besides"].split()) >= 6, collected - taken


@pytest.mark.parametrize("form", [name for name in MET if own(name) == name])
def test_no_range_is_of_nothing(form: str) -> None:
    """Each is met at one of the form's places at least, or it would hold nobody to anything."""
    met = {measure for place in MET[form]["at"] for measure, _ in seen(form, place)}
    assert met == set(typical(form))


def test_a_value_outside_is_noticed() -> None:
    """The means above: ends belong to a range, what lies past them does not; the three kinds of measure."""
    assert not outside(30.0, range_of("9 V to 30 V", "V")) and outside(30.1, range_of("9 V to 30 V", "V"))
    assert outside(8.9, (9.0, 30.0)) and not outside(0.0, range_of("0 mA to 100 mA", "A"))
    values = {"V_I_MIN": 9.0, "V_I_MAX": 11.0, "R_L_MAX": 900.0, "R_L_MIN": 300.0, "DV_I": 2.0}
    assert dict(measured("V_I", values)) == {"V_I_MIN": 9.0, "V_I_MAX": 11.0}
    assert dict(measured("spread of V_I", values)) == {"spread of V_I": 0.1}
    assert dict(measured("R_L_MAX/R_L_MIN", values)) == {"R_L_MAX/R_L_MIN": 3.0}
    assert list(measured("I_SEC/I_L", values)) == []
