"""The table of occurrences: which form of problem and which slip of the trade occurs where, held against the families.

Forms and slips were collected from textbooks, examinations and forums (sources beside each slip in `slips.json`); the
table says where each is met, or why it is not. What it says of a place must be so, and all that is so must stand in it.
A form that is met in families across circuits has no such table, since most of them give and ask words; a slip is met
there where a slip's value or a remark on a wrong option of one of its first problems stands for it.

Vocabulary: a *place* is a family at a level, `zener-state:1`, `find-the-fault:2`.
"""

from __future__ import annotations

import json
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import tutor
from tutor.across.named import posed
from tutor.generate.family import Level, key_of_ask
from tutor.views.lessons import Lesson, read_lessons
from tutor.views.sources import site_folder

HERE = Path(__file__).parent
TABLE: dict[str, dict[str, Any]] = tomllib.loads((HERE / "occurrences.toml").read_text(encoding="utf-8"))
KNOWN = {row["id"]: row for row in json.loads((HERE / "slips.json").read_text(encoding="utf-8"))}
FORMS = TABLE["forms"]
ACROSS = tutor.across_families()
MET_ACROSS = {
    name: row for name, row in FORMS.items() if any(place.split(":")[0] in ACROSS for place in row.get("at", ()))
}
MET = {name: row for name, row in FORMS.items() if "at" in row and name not in MET_ACROSS}
NUMBERS = range(1, 61)  # of a level across circuits, whose remarks are looked through


@cache
def levels() -> dict[str, Level]:
    """Every level there is, by its place."""
    desk = tutor.open_desk()
    found = {}
    for family in tutor.families():
        for number, level in enumerate(desk.family(family).levels, start=1):
            found[f"{family}:{number}"] = level
    return found


@cache
def circuits() -> dict[str, list[str]]:
    """The places about each circuit of the first two stages; a circuit nobody asks about has none."""
    desk = tutor.open_desk()
    found: dict[str, list[str]] = {name: [] for name in desk.folder.circuit_ids() if desk.circuit(name).stage <= 2}
    for place in levels():
        family, _, number = place.partition(":")
        about = desk.family(family).circuit_of(int(number))
        if about in found:
            found[about].append(place)
    return found


@cache
def remarks() -> dict[str, set[str]]:
    """The slips of the trade that the slips and remarks of each level across circuits stand for, by its place."""
    desk = tutor.open_desk()
    found: dict[str, set[str]] = {f"{family}:{level}": set() for family in ACROSS for level in (1, 2, 3)}
    for place, met in found.items():
        for number in NUMBERS:
            for point in posed(desk, f"{place}:{number}").problem.waypoints:
                met.update(*(item.reference for item in (*point.remarks, *point.slips)))
    return found


def places_of(reference: str) -> list[str]:
    """Where a slip of the trade stands in a family's declaration, or in a slip or remark across circuits."""
    found = [place for place, level in levels().items() if any(reference in slip.reference for slip in level.slips)]
    return found + [place for place, met in remarks().items() if reference in met]


def named(keys: set[str], quantity: str) -> bool:
    """Whether a quantity is among keys, itself or at an end (V_O in V_O_MIN)."""
    return any(key == quantity or key.startswith(f"{quantity}_") for key in keys)


def asked_at(place: str) -> set[str]:
    return {key_of_ask(ask) for ask in levels()[place].asks}


def row(title: str, places: list[str]) -> str:
    """The row as it must stand in the table, for whoever puts it there."""
    return f"in occurrences.toml [{title}] must say: at = {json.dumps(places)}"


@pytest.mark.parametrize("reference", KNOWN)
def test_a_slip_occurs_where_the_table_says_and_nowhere_else(reference: str) -> None:
    told, places = TABLE["slips"][reference], places_of(reference)
    assert ("at" in told) != ("why_not" in told), "either where it is met, or why it is not"
    if places:
        assert told.get("at") == places, row(f"slips.{reference}", places)
    else:
        assert len(told.get("why_not", "").split()) >= 3, f"{reference} is in no family: say why_not"


def test_the_table_has_every_slip_and_no_other() -> None:
    assert list(TABLE) == ["forms", "ours", "circuits", "slips"]
    assert set(TABLE["slips"]) == set(KNOWN)
    for reference, told in TABLE["slips"].items():
        assert set(told) <= {"at", "why_not", "asked", "told"}, reference
        assert "at" in told or not {"asked", "told"} <= set(told), f"{reference}: where it is met in a lesson, once"


@pytest.mark.parametrize("reference", [name for name, told in TABLE["slips"].items() if "asked" in told])
def test_a_belief_is_asked_for_in_a_lesson(reference: str) -> None:
    """`asked` names a lesson and one of its questions, the one at its head when none is named."""
    name, _, question = TABLE["slips"][reference]["asked"].partition(":")
    lesson = lessons()[name]
    assert not question or (question in lesson.questions and f"{{{{prediction:{question}}}}}" in lesson.text)


@pytest.mark.parametrize("reference", [name for name, told in TABLE["slips"].items() if "told" in told])
def test_a_slip_told_in_a_lesson_has_its_section(reference: str) -> None:
    name, _, section = TABLE["slips"][reference]["told"].partition("#")
    assert section and lessons()[name].section_of(section) == f"#{section}"


@cache
def lessons() -> dict[str, Lesson]:
    return {lesson.id: lesson for lesson in read_lessons(site_folder() / "lessons")}


def test_every_circuit_stands_with_its_levels() -> None:
    for circuit, places in circuits().items():
        assert TABLE["circuits"].get(circuit) == places, row(f"circuits] {circuit} [", places)
    assert set(TABLE["circuits"]) == set(circuits())


@pytest.mark.parametrize("circuit", TABLE["circuits"])
def test_no_circuit_is_without_problems(circuit: str) -> None:
    assert circuits()[circuit]


@pytest.mark.parametrize("name", FORMS)
def test_a_form_is_met_or_says_why_not(name: str) -> None:
    told = FORMS[name]
    assert told["shape"] and ("at" in told) != ("why_not" in told)
    assert "at" in told or len(told["why_not"].split()) >= 3


@pytest.mark.parametrize("name", MET)
def test_a_form_gives_and_asks_what_it_is_known_by(name: str) -> None:
    """Each of its places asks for something of it, and among them they give and ask for all of it."""
    told = MET[name]
    places = told["at"]
    assert set(places) <= set(levels()) and len(set(places)) == len(places)
    given = {key for place in places for key in levels()[place].given}
    assert not [quantity for quantity in told["given"] if not named(given, quantity)]
    for quantity in told["asks"]:
        assert any(named(asked_at(place), quantity) for place in places), quantity
    for place in places:
        assert any(named(asked_at(place), quantity) for quantity in told["asks"]), place


@pytest.mark.parametrize("name", MET_ACROSS)
def test_a_form_across_circuits_is_met_at_levels_across_circuits(name: str) -> None:
    """It has places, each a level there is, and no table of quantities."""
    told = MET_ACROSS[name]
    assert set(told) - {"elsewhere"} == {"shape", "at", "catches"}
    assert set(told["at"]) <= set(remarks()) and len(set(told["at"])) == len(told["at"])


@pytest.mark.parametrize("name", [*MET, *MET_ACROSS])
def test_the_slips_of_a_form_are_met_in_it(name: str) -> None:
    """Each is used at one of its places, or in a family of another form and told so, or in none and that said above."""
    told = FORMS[name]
    elsewhere = []
    for reference in told["catches"]:
        used = places_of(reference)
        if used and not set(used) & set(told["at"]):
            elsewhere.append(reference)
    assert told.get("elsewhere", []) == elsewhere


def test_every_level_of_these_stages_stands_somewhere() -> None:
    """In a form, with a slip of the trade, or among those of our own shape; never silently in none."""
    placed = {place for told in MET.values() for place in told["at"]}
    slipped = {place for told in TABLE["slips"].values() for place in told.get("at", [])}
    here = {place for places in circuits().values() for place in places}
    ours = sorted(here - placed - slipped)
    assert TABLE["ours"]["at"] == ours, row("ours", ours)


def test_every_level_across_circuits_stands_somewhere() -> None:
    """In a form, or among those of our own shape."""
    placed = {place for told in MET_ACROSS.values() for place in told["at"]}
    ours = sorted(set(remarks()) - placed)
    assert TABLE["ours"]["across"] == ours, row("ours] across [", ours)
