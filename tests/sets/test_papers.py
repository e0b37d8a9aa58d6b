"""Papers: the same numbers anywhere, equal in difficulty, apart, and never one that was used before."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from tutor.across.family import Posed
from tutor.across.named import any_problem
from tutor.errors import OutOfRange, SteadyrailError
from tutor.generate.problem import WaypointKind
from tutor.sets.candidates import NUMBERS, drawn_numbers
from tutor.sets.drafts import APART, NEAR, REACH, drafts, for_everyone
from tutor.sets.equal import equal_report, facts_of
from tutor.sets.numbers_used import names_used, numbers_lines
from tutor.sets.paper import ClassSet, DrawnQuestion, Learner, Paper, Question, Rules
from tutor.sets.papers import paper_of, papers, papers_from
from tutor.solution.desk import our_desk
from tutor.solution.scheme_of import scheme_of

CLASS = 14
ROOT = Path(__file__).resolve().parents[2]


def a_set(*asks: DrawnQuestion, learners: int = CLASS, seed: int = 5, **changed: object) -> ClassSet:
    """A set of such questions for learners 1, 2, ..."""
    names = tuple(Learner(str(place + 1)) for place in range(learners))
    found = ClassSet("T", seed, tuple(Question(item) for item in asks), names)
    return replace(found, **changed)


MIXED = a_set(
    DrawnQuestion("zener-resistor", 2),
    DrawnQuestion("zener-state", 1),
    DrawnQuestion("supply-ripple", 2),
    DrawnQuestion("direction-of-change", 1),
    mains=60.0,
)


def names_of(made: Sequence[Paper]) -> list[tuple[str, ...]]:
    return [tuple(item.name for item in paper.asked) for paper in made]


@pytest.fixture(scope="module")
def made() -> list[Paper]:
    return list(papers(MIXED))


def test_the_same_numbers_alone_in_any_batch_and_in_another_process(made: list[Paper]) -> None:
    """A batch of 1 and of all, a paper by itself, a process with another hash seed: the same names."""
    one_by_one = list(papers(MIXED, together=1))
    assert names_of(one_by_one) == names_of(made)
    assert one_by_one == made, "and the same problems, solutions, schemes and sheets"
    assert names_of([paper_of(MIXED, 9)]) == names_of(made[9:10])
    code = (
        "import json; from tests.sets.test_papers import MIXED, names_of; from tutor.sets.papers import papers_from; "
        "from tutor.sets.drafts import drafts, for_everyone; "
        "print(json.dumps(names_of(papers_from(for_everyone(MIXED), list(drafts(MIXED))))))"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "77", "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )
    assert [tuple(names) for names in json.loads(done.stdout)] == names_of(made)


def test_the_numbers_are_splitmix64_of_seed_level_and_learner() -> None:
    """The output function of SplitMix64 (Steele, Lea, Flood 2014), in Python's own integers."""
    by_hand = [_number(5, "zener-state:1", "s-017", 0, attempt) for attempt in range(3)]
    assert drawn_numbers(5, "zener-state:1", "s-017", 0, range(3)) == by_hand
    assert len(set(drawn_numbers(5, "zener-state:1", "s-017", 0, range(200)))) == 200


def _number(seed: int, level: str, learner: str, occasion: int, attempt: int) -> int:
    whole = 2**64

    def mix(word: int) -> int:
        z = (word + 0x9E3779B97F4A7C15) % whole
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) % whole
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) % whole
        return z ^ (z >> 31)

    key = int.from_bytes(hashlib.sha256(f"{seed}/{level}/{occasion}/{learner}".encode()).digest()[:8], "big")
    word = mix(mix(mix(key) ^ mix((attempt + 0x5851F42D4C957F2D) % whole)))
    return (((word >> 32) * NUMBERS) >> 32) + 1


def test_a_learner_added_at_the_end_changes_nobody(made: list[Paper]) -> None:
    assert names_of(list(papers(replace(MIXED, learners=MIXED.learners[:6])))) == names_of(made[:6])
    other = list(papers(replace(MIXED, learners=MIXED.learners[:6], seed=6)))
    assert all(a != b for a, b in zip(names_of(other), names_of(made[:6]), strict=True)), "another seed, other numbers"


def test_each_question_is_the_problem_of_its_name(made: list[Paper]) -> None:
    """What a batch makes is what the desk makes of the name alone: problem, solution, scheme and sheet."""
    for item in made[3].asked:
        worked = our_desk().problem(item.name) if item.sheet is not None else None
        if worked is not None:
            assert (item.problem, item.solution) == (worked.problem, worked.solution)
            assert item.scheme == scheme_of(worked.problem, worked.solution) and item.marks == item.scheme.total
        found = any_problem(our_desk(), item.name)
        assert item.sheet == (found.sheet if isinstance(found, Posed) else our_desk().sheet(item.name))
        assert item.number == made[3].asked.index(item) + 1 and str(item.named) == item.name and "@" in item.name


def test_variants_are_equally_difficult(made: list[Paper]) -> None:
    """The same laws in the same order, the same lines, kinds of answer, marks and state for everyone."""
    for place in range(3):
        column = [paper.asked[place] for paper in made]
        assert len({tuple((step.law, len(step.chains)) for step in item.solution.steps) for item in column}) == 1
        assert len({tuple(point.kind for point in item.problem.waypoints) for item in column}) == 1
        assert len({item.scheme.total for item in column}) == 1
        assert len({item.sheet.region for item in column if item.sheet}) == 1
    # zener-state level 1 draws both states; a class is given one of them.
    states = {our_desk().problem(f"zener-state:1:{number}").problem.waypoints[0].state for number in range(1, 30)}
    assert len(states) > 1 or len({item.asked[1].solution.steps[0].title for item in made}) == 1
    words = [paper.asked[3] for paper in made]
    assert len({(item.marks, len(item.solution.steps)) for item in words}) == 1


def answers(paper: Paper, place: int) -> list[float]:
    """The values asked for by one question of a paper."""
    points = paper.asked[place].problem.waypoints
    return [point.answer.value for point in points if point.kind is WaypointKind.VALUE and point.answer]


def test_copied_answers_show(made: list[Paper]) -> None:
    """By hand, without the code that draws: every value of near neighbours differs by more than three tolerances, and
    nobody in reach has all values of another."""
    limit = APART * MIXED.rules.tolerance
    for place in range(3):
        for row, paper in enumerate(made):
            for before in made[max(0, row - REACH) : row]:
                pairs = zip(answers(paper, place), answers(before, place), strict=True)
                close = [abs(one - two) <= limit * max(abs(one), abs(two)) for one, two in pairs]
                assert not all(close)
                if row - made.index(before) <= NEAR:
                    assert not any(close)


def test_the_mains_of_the_set_are_those_of_its_supplies(made: list[Paper]) -> None:
    assert {paper.asked[2].problem.given["f"].value for paper in made} == {60.0}
    fifty = next(papers(replace(MIXED, mains=50.0)))
    assert fifty.asked[2].problem.given["f"].value == 50.0


def test_the_report_says_so(made: list[Paper]) -> None:
    report = equal_report(MIXED, map(facts_of, made))
    assert report.equal and report.copying_shows and report.papers == CLASS and report.tolerance == 0.01
    for item in report.questions[:3]:
        assert item.shapes == (CLASS,) and item.problems == CLASS and item.alike == 0 and not item.same_for_all
        assert item.apart == item.pairs == sum(CLASS - lag for lag in range(1, NEAR + 1))
        assert [gap.key for gap in item.nearest] == list(item_keys(made[0], item.number))
        assert all(gap.shows for gap in item.neighbours) and item.closest is not None and item.closest.shows
    # The nearest pair of a value, the slow way.
    gap = report.questions[0].nearest[0]
    values = {paper.learner.id: paper.asked[0].problem.answers[gap.key].value for paper in made}
    slow = min(
        abs(values[a] - values[b]) / max(abs(values[a]), abs(values[b])) for a in values for b in values if a < b
    )
    assert gap.share == pytest.approx(slow, rel=1e-12) and gap.tolerances == pytest.approx(slow / 0.01)
    first, second = values[gap.first], values[gap.second]
    assert abs(first - second) / max(abs(first), abs(second)) == pytest.approx(slow, rel=1e-12)


def item_keys(paper: Paper, number: int) -> Sequence[str]:
    points = paper.asked[number - 1].problem.waypoints
    return [point.key for point in points if point.kind is WaypointKind.VALUE]


def test_the_report_notices_what_is_not_so(made: list[Paper]) -> None:
    """A learner with another's problem, and one in another state: the report can fail."""
    twin = [*made[:3], replace(made[2], learner=Learner("twin"))]
    report = equal_report(MIXED, map(facts_of, twin))
    assert report.equal and not report.copying_shows
    assert report.questions[0].alike == 1 and report.questions[0].closest is not None
    assert (report.questions[0].closest.first, report.questions[0].closest.second) == ("3", "twin")
    wanted = next(
        number for number in range(1, 60) if our_desk().problem(f"zener-state:1:{number}").drawn.run.region
        != our_desk().problem(made[0].asked[1].name).drawn.run.region
    )  # fmt: skip
    odd = next(papers(a_set(DrawnQuestion("zener-state", 1, wanted), learners=1))).asked[0]
    mixed = [made[0], replace(made[1], asked=(made[1].asked[0], odd, *made[1].asked[2:]))]
    report = equal_report(MIXED, map(facts_of, mixed))
    assert not report.equal and not report.questions[1].equal and report.questions[0].equal


def test_a_resit_avoids_every_number_and_every_set_of_values_used(made: list[Paper], tmp_path: Path) -> None:
    """The file of numbers is read back; the resit has the same seed and still nothing of the first sitting."""
    lines = numbers_lines("T", 5, ((paper.learner.id, names_of([paper])[0]) for paper in made))
    (tmp_path / "numbers.json").write_text("".join(lines), encoding="utf-8")
    told = json.loads((tmp_path / "numbers.json").read_text(encoding="utf-8"))
    assert told["learners"]["1"] == list(names_of(made)[0]) and len(told["learners"]) == CLASS
    used = names_used(tmp_path / "numbers.json")
    assert len(used) == 4 * CLASS and all("@" not in name for name in used)
    resit = list(papers(replace(MIXED, avoid=used)))
    for place in range(4):
        before = {repr((sorted(p.asked[place].problem.given.items()), p.asked[place].problem.table)) for p in made}
        after = {repr((sorted(p.asked[place].problem.given.items()), p.asked[place].problem.table)) for p in resit}
        if place < 3:
            assert not before & after
        assert not {p.asked[place].name for p in made} & {p.asked[place].name for p in resit}


NO_NUMBERS = ("[]", "{", '{"learners": []}', '{"learners": {"a": "x"}}', '{"learners": {"a": ["x"]}}')


@pytest.mark.parametrize("text", NO_NUMBERS)
def test_another_file_is_no_file_of_numbers(text: str, tmp_path: Path) -> None:
    (tmp_path / "n.json").write_text(text, encoding="utf-8")
    with pytest.raises(SteadyrailError, match=r"^n\.json"):
        names_used(tmp_path / "n.json")


def test_two_questions_of_one_level_on_a_paper_differ() -> None:
    of = a_set(
        DrawnQuestion("zener-state", 1), DrawnQuestion("zener-state", 1, 7), DrawnQuestion("zener-state", 1), learners=5
    )
    for paper in papers(of):
        assert len(set(names_of([paper])[0])) == 3 and paper.asked[1].name == "zener-state:1:7@1"
        for one, other in zip(answers(paper, 0), answers(paper, 2), strict=True):
            assert abs(one - other) > APART * 0.01 * max(abs(one), abs(other))


def test_assumptions_and_marks_reach_the_paper() -> None:
    of = a_set(DrawnQuestion("boosted-shunt", 1, 0, 0, {"V_BE": "0.65V"}), learners=2)
    of = replace(of, questions=(replace(of.questions[0], marks=20),))
    for paper in papers(of):
        assert paper.marks == 20 and paper.asked[0].problem.given["V_BE"].value == 0.65
        assert paper.asked[0].name.endswith("+V_BE=0.65V") and paper.asked[0].scheme.total != 20


def test_a_wide_tolerance_asks_for_wider_gaps_and_is_told_where_they_are_not_to_be_had() -> None:
    of = a_set(DrawnQuestion("zener-state", 1), learners=30, rules=Rules(tolerance=0.05))
    item = equal_report(of, map(facts_of, papers(of))).questions[0]
    assert item.alike == 0 and all(gap.tolerances == pytest.approx(gap.share / 0.05) for gap in item.nearest)
    assert item.apart >= 0.9 * item.pairs


def test_what_cannot_be_drawn_is_told() -> None:
    with pytest.raises(OutOfRange, match="there is none at place 3"):
        paper_of(a_set(DrawnQuestion("zener-state", 1), learners=2), 2)
    everything = frozenset(f"direction-of-change:1:{number}" for number in range(1, 3))
    assert next(drafts(a_set(DrawnQuestion("direction-of-change", 1), avoid=everything))).names[0] is not None
    with pytest.raises(OutOfRange, match="asks for edition 9; this version draws edition 1"):
        papers_from(
            a_set(DrawnQuestion("zener-state", 1, 3, 9)), list(drafts(a_set(DrawnQuestion("zener-state", 1, 3, 9))))
        )


def test_what_is_sent_along_with_each_paper_does_not_grow_with_the_class() -> None:
    large = a_set(DrawnQuestion("zener-state", 1), learners=50_000, avoid=frozenset({"zener-state:1:3"}))
    assert for_everyone(large) == for_everyone(a_set(DrawnQuestion("zener-state", 1), learners=1))
    assert next(papers(large)).learner.id == "1", "the first paper waits for nobody else's"
