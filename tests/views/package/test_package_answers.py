"""What a package makes of answers: its response processing walked by an evaluator that is not the writer's.

The right answer earns everything, by whatever right arrangement or legal choice; the value of each slip earns nothing
and brings up that slip; 0.5 % off is right and 5 % off is not (the tolerance of 1 % is the marking practice of DESIGN).
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.views.package.evaluator import QTI, Given, respond, total
from tests.views.package.small_set import Opened, open_package, questions, small_package, small_set
from tutor.generate.problem import SEPARATOR, SlipValue, Waypoint, WaypointKind
from tutor.quantities.quantity import Quantity
from tutor.sets.paper import Asked, Learner, Paper, Rules
from tutor.views.package.entry import entry_of, entry_unit


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return small_package(tmp_path_factory.mktemp("package"))


def numbers(opened: Opened) -> list[tuple[Asked, int, Waypoint]]:
    """Every waypoint that is answered by a number, with its place in its item."""
    return [
        (question, at, point)
        for question in opened.papers[0].asked
        for at, point in enumerate(question.problem.waypoints, start=1)
        if point.answer is not None
    ]


def typed(point: Waypoint, value: float) -> str:
    """A stored value as a learner types it in the unit behind the box."""
    assert point.answer is not None
    return repr(value / 10 ** entry_unit(point.answer)[1])


def right_answers(question: Asked, which: int = 0) -> Given:
    """Right answers to all that a question asks; `which` picks among right arrangements and legal choices."""
    given: dict[str, str | tuple[str, ...]] = {}
    for at, point in enumerate(question.problem.waypoints, start=1):
        name = f"RESPONSE_{at}"
        if point.kind is WaypointKind.STATE:
            given[name] = f"option_{point.options.index(point.state) + 1}"
        elif point.kind is WaypointKind.ARRANGEMENT:
            given[name] = arranged(point, point.arrangements[which % len(point.arrangements)])
        elif point.kind is WaypointKind.CHOICE:
            given[name] = typed(point, point.accepted[which % len(point.accepted)])
        else:
            assert point.answer is not None
            given[name] = typed(point, point.answer.value)
    return given


def arranged(point: Waypoint, arrangement: str) -> tuple[str, ...]:
    """An arrangement as a response: options in order, or pairs of place and option."""
    options = [f"option_{point.options.index(option) + 1}" for option in arrangement.split(SEPARATOR)]
    if point.key == "order":
        return tuple(options)
    return tuple(f"place_{place} {option}" for place, option in enumerate(options, start=1))


def test_right_answers_earn_everything_whichever_way_they_are_right(opened: Opened) -> None:
    """Every legal choice and every right arrangement earns what the model's does, and the solution comes up."""
    for question in opened.papers[0].asked:
        item, ways = opened.item(question), 1
        for point in question.problem.waypoints:
            ways = max(ways, len(point.accepted), len(point.arrangements))
        for which in range(ways):
            outcome = respond(item, right_answers(question, which))
            assert outcome.score == outcome.values["MAXSCORE"] == question.scheme.total, (question.name, which)
            assert ("SOLUTION", "worked") in outcome.shown
            assert all(ident in ("right", "worked") for _, ident in outcome.shown)


def test_the_printed_answer_is_right_as_it_is_printed(opened: Opened) -> None:
    """Three figures are enough: what stands in a key is accepted when it is typed."""
    for question, at, point in numbers(opened):
        assert point.answer is not None
        text = point.answer.text.replace("−", "-").split(" ")[0]
        outcome = respond(opened.item(question), {f"RESPONSE_{at}": text})
        assert outcome.values[f"FEEDBACK_{at}"] == "right", (question.name, point.key, text)


def test_half_a_per_cent_off_is_right_and_five_per_cent_is_not(opened: Opened) -> None:
    """On both sides; an estimate is right within a factor of two, and a choice is one of a row."""
    held = 0
    for question, at, point in numbers(opened):
        if point.kind is WaypointKind.CHOICE:
            continue
        assert point.answer is not None
        value = point.answer.value
        rough = point.high > 1.5 * abs(value)
        for off, right in ((1.005, True), (0.995, True), (1.05, rough), (0.95, rough), (2.2, False), (0.45, False)):
            outcome = respond(opened.item(question), {f"RESPONSE_{at}": typed(point, off * value)})
            assert (outcome.values[f"FEEDBACK_{at}"] == "right") is right, (question.name, point.key, off)
            assert (outcome.score > 0) is right
            held += 1
    assert held > 100


def test_the_value_of_a_slip_earns_nothing_and_brings_up_its_name(opened: Opened) -> None:
    """Each slip of each waypoint; where two lead to one value both are named."""
    held = 0
    for question, at, point in numbers(opened):
        for slip in point.slips:
            outcome = respond(opened.item(question), {f"RESPONSE_{at}": typed(point, slip.value)})
            assert outcome.score == 0, (question.name, point.key, slip.id)
            (ident,) = [ident for name, ident in outcome.shown if name == f"FEEDBACK_{at}"]
            assert ident.startswith("slip_"), (question.name, point.key, slip.id, ident)
            said = " ".join(outcome.shown[f"FEEDBACK_{at}", ident].split())
            for words in slip.name.split("$")[::2]:
                assert " ".join(words[1:].split()) in said, (slip.name, said)
            held += 1
    assert held > 30


def test_right_figures_with_a_wrong_prefix_are_told_so(opened: Opened) -> None:
    """Amperes typed where the box is in milliamperes."""
    question, at, point = next(row for row in numbers(opened) if row[2].key == "I_ZM")
    assert point.answer is not None and entry_unit(point.answer) == ("mA", -3)
    outcome = respond(opened.item(question), {f"RESPONSE_{at}": repr(point.answer.value)})
    assert (outcome.score, outcome.values[f"FEEDBACK_{at}"]) == (0, "prefix")


def test_a_wrong_option_earns_nothing_and_its_belief_is_answered(opened: Opened) -> None:
    """What the problem remarks on an option is what comes up for it."""
    held = 0
    for question in opened.papers[0].asked:
        for at, point in enumerate(question.problem.waypoints, start=1):
            for remark in point.remarks:
                if remark.option in (point.state, *point.arrangements):
                    continue
                answer = (
                    f"option_{point.options.index(remark.option) + 1}"
                    if point.kind is WaypointKind.STATE
                    else arranged(point, remark.option)
                )
                outcome = respond(opened.item(question), {f"RESPONSE_{at}": answer})
                assert outcome.score == 0
                (said,) = [said for (name, _), said in outcome.shown.items() if name == f"FEEDBACK_{at}"]
                for words in remark.why.split("$")[::2]:
                    assert words[1:].strip() in said, (remark.why, said)
                held += 1
    assert held > 20


def test_without_an_answer_nothing_is_earned_nor_said(opened: Opened) -> None:
    """An item left alone shows the worked solution only."""
    for question in opened.papers[0].asked:
        outcome = respond(opened.item(question), {})
        assert outcome.score == 0 and list(outcome.shown) == [("SOLUTION", "worked")]


def test_a_test_adds_up_to_the_marks_of_its_paper(opened: Opened) -> None:
    """Weights turn the marks of a scheme into those of the paper, doubled on the second."""
    for paper in opened.papers:
        test = opened.roots[opened.report.tests[paper.learner.id]]
        scores = {
            reference.attrib["identifier"]: respond(opened.item(question), right_answers(question)).values
            for reference, question in zip(test.iter(f"{QTI}qti-assessment-item-ref"), paper.asked, strict=True)
        }
        assert total(test, scores) == pytest.approx(paper.marks)
    assert opened.papers[1].marks == 2 * sum(item.scheme.total for item in opened.papers[1].asked)


@pytest.mark.parametrize(("share", "inside", "outside"), [(0.03, 1.029, 1.031), (0.005, 1.0049, 1.0051)])
def test_the_tolerance_is_the_sets(share: float, inside: float, outside: float, tmp_path: Path) -> None:
    """Wider or narrower than the usual one, at a value without a slip near it."""
    chosen = questions(("supply-peak:1:1",))
    found = open_package((Paper(small_set(Rules(tolerance=share)), Learner("1"), chosen),), tmp_path / "set.zip")
    point = chosen[0].problem.waypoints[0]
    assert point.answer is not None
    for off, right in ((inside, 1), (outside, 0)):
        outcome = respond(found.item(chosen[0]), {"RESPONSE_1": typed(point, off * point.answer.value)})
        assert (outcome.score > 0) is bool(right), off


def test_a_wide_tolerance_stops_before_a_slip() -> None:
    """By hand: an answer of 100 Ω with a slip at 109 Ω is right up to 103 Ω, a third of the way, whatever is asked."""
    slip = SlipValue("near", 109.0, "a slip", "why", "hint")
    point = Waypoint("R", WaypointKind.VALUE, "R", Quantity(100.0, "ohm"), 99.0, 101.0, (), (), "", (slip,))
    (band,) = entry_of(point, Rules(tolerance=0.2)).right
    assert (band.low, band.high) == pytest.approx((97.0, 103.0))
    (band,) = entry_of(replace(point, slips=()), Rules(tolerance=0.2)).right
    assert (band.low, band.high) == pytest.approx((80.0, 120.0))


def test_working_that_is_asked_for_is_marked_by_hand(tmp_path: Path) -> None:
    """Then the platform gives no method marks: they stand as an outcome scored by a person, with a box to write in."""
    chosen = questions(("zener-resistor:2:17",))
    of = small_set(Rules(working_asked=True))
    found = open_package((Paper(of, Learner("1"), chosen),), tmp_path / "set.zip")
    item = found.item(chosen[0])
    outcome = respond(item, right_answers(chosen[0]))
    by_hand = next(row for row in item.iter(f"{QTI}qti-outcome-declaration") if row.attrib["identifier"] == "METHOD")
    assert by_hand.attrib["external-scored"] == "human"
    assert outcome.score + float(by_hand.attrib["normal-maximum"]) == outcome.values["MAXSCORE"] == 14
    assert 0 < outcome.score < 14
    (box,) = item.iter(f"{QTI}qti-extended-text-interaction")
    assert box.attrib["response-identifier"] == "WORKING"
    test = found.roots["tests/test-0001.xml"]
    assert total(test, {found.report.items[0]: {**outcome.values, "METHOD": 14 - outcome.score}}) == pytest.approx(14)
