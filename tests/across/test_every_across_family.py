"""The contract every family across circuits keeps, over every level and 200 numbers.

The golden hashes are written anew, after raising the edition of a family whose draws changed on purpose, by
`PYTHONPATH=. python tests/across/test_every_across_family.py`.
"""

from __future__ import annotations

import hashlib
import json
import math
import os
import re
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

import tutor
from tutor.across.family import AcrossFamily, Posed
from tutor.across.named import across_family, posed
from tutor.generate.judging import Outcome, judge
from tutor.generate.problem import WaypointKind
from tutor.quantities.quantity import write
from tutor.solution.desk import our_desk
from tutor.views.plain import chain_text, prose_text
from tutor.views.records import problem_record

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = Path(__file__).with_name("golden.json")
FAMILIES = tutor.across_families()
LEVELS = [(family, level) for family in FAMILIES for level in (1, 2, 3)]
NUMBERS = range(1, 201)
MOST_ALIKE = 0.75  # of the answers of one option: else a learner need not read the problem
every_level = pytest.mark.parametrize(("family", "level"), LEVELS)


@cache
def family_of(name: str) -> AcrossFamily:
    return across_family(our_desk().folder, name)


@cache
def problems(family: str, level: int) -> tuple[Posed, ...]:
    return tuple(posed(our_desk(), f"{family}:{level}:{number}") for number in NUMBERS)


def texts(item: Posed) -> list[str]:
    """Every sentence and line a reader meets in a problem."""
    problem, solution = item.problem, item.solution
    found = [problem.statement, problem.ask, solution.bench, item.caption, *(row.label for row in problem.table)]
    found += [row.value for row in problem.table] + [line.words for line in item.lines]
    for point in problem.waypoints:
        found += [point.prompt, *point.options, *point.places]
        found += [text for remark in point.remarks for text in (remark.name, remark.why, remark.hint)]
        found += [text for slip in point.slips for text in (slip.name, slip.why, slip.hint)]
    for step in solution.steps:
        found += [step.title, step.why, step.text, step.band]
    found += [check.text for check in solution.checks]
    lines = [chain_text(chain) for step in solution.steps for chain in step.chains]
    lines += [chain_text(line.chain) for line in item.lines if line.chain is not None]
    return [prose_text(text) for text in found if text] + lines


@every_level
def test_what_is_right_is_judged_right_and_nothing_else(family: str, level: int) -> None:
    """Each right option or value is judged so; every other option is judged wrong, with a reason or a question."""
    for item in problems(family, level):
        for point in item.problem.waypoints:
            if point.kind is WaypointKind.STATE:
                assert point.state in point.options and len(set(point.options)) == len(point.options) >= 2
                for option in point.options:
                    found = judge(point, option)
                    assert (found.outcome is Outcome.RIGHT) == (option == point.state), (item.problem.name, option)
            elif point.kind is WaypointKind.ARRANGEMENT:
                assert point.state in point.arrangements and point.places
                assert all(judge(point, right).outcome is Outcome.RIGHT for right in point.arrangements)
            else:
                assert point.answer is not None and point.low <= point.answer.value <= point.high
                text = write(point.answer.value, point.answer.unit, 6)
                assert judge(point, text).outcome is Outcome.RIGHT, (item.problem.name, text)
            assert all(remark.option != point.state for remark in point.remarks)
            assert all(remark.why or remark.hint for remark in point.remarks)


@every_level
def test_a_slip_or_belief_is_named(family: str, level: int) -> None:
    """A belief's option and a slip's value are told by their own names."""
    for item in problems(family, level):
        for point in item.problem.waypoints:
            for remark in point.remarks:
                if remark.name:
                    assert judge(point, remark.option).slip == remark.id, (item.problem.name, remark.id)
            for slip in point.slips:
                assert math.isfinite(slip.value) and point.answer is not None
                said = judge(point, write(slip.value, point.answer.unit, 6))
                assert slip.id in said.slip.split(), (item.problem.name, slip.id, said)


@every_level
def test_the_solution_reaches_every_waypoint_and_ends_with_checks_that_hold(family: str, level: int) -> None:
    for item in problems(family, level):
        reached = [step.waypoint for step in item.solution.steps if step.waypoint]
        assert set(reached) == set(item.problem.wanted), item.problem.name
        assert item.solution.checks, item.problem.name
        assert all(check.holds for check in item.solution.checks), (item.problem.name, item.solution.checks)


@every_level
def test_cautions_are_present(family: str, level: int) -> None:
    for item in problems(family, level):
        assert item.problem.cautions and all(text.endswith(".") for text in item.problem.cautions)


@every_level
def test_reading_aloud_makes_sense(family: str, level: int) -> None:
    """No 0.0, no nan, no unit twice, no unfilled brace, no doubled stop or space, no dollar left."""
    bad = re.compile(
        r"\b0\.0\b|\bnan\b|\binf\b|[{}$]|\.\.|  |,,|;;|\b1 resistors\b|\b(V|mA|Ω|mW|W|A) \1\b|\bNone\b|=\s*$",
        re.MULTILINE,
    )
    for item in problems(family, level):
        for text in texts(item):
            found = bad.search(text.replace("\u00a0", " "))
            assert found is None, (item.problem.name, found and found.group(), text)


@every_level
def test_problems_vary(family: str, level: int) -> None:
    """Of 200 numbers at least 60 ask different things; no option is right nearly always; every wording is met."""
    asked = {
        (item.problem.circuit, item.problem.form, repr(item.problem.given), item.problem.statement.split(". ", 1)[1],
         tuple((point.key, point.prompt, point.state) for point in item.problem.waypoints), item.lines)
        for item in problems(family, level)
    }  # fmt: skip
    assert len(asked) >= 60
    by_options: dict[tuple[str, ...], Counter[str]] = {}
    for item in problems(family, level):
        for point in item.problem.waypoints:
            if point.kind is WaypointKind.STATE:
                by_options.setdefault(point.options, Counter())[point.state] += 1
    for options, counts in by_options.items():
        if counts.total() >= 100:
            assert max(counts.values()) <= MOST_ALIKE * counts.total(), (options, counts)
    wordings = family_of(family).scenarios
    assert all(any(item.problem.statement.startswith(told) for item in problems(family, level)) for told in wordings)


@every_level
def test_a_problem_survives_json_and_is_the_same_again(family: str, level: int) -> None:
    for item in problems(family, level)[:20]:
        data = problem_record(item.problem, item.solution, item.lines)
        assert json.loads(json.dumps(data)) == json.loads(json.dumps(json.loads(json.dumps(data))))
        assert posed(our_desk(), item.problem.name) == item


@pytest.mark.parametrize("family", FAMILIES)
def test_six_wordings_and_no_two_alike(family: str) -> None:
    """Settings vary; a family across circuits has a name no other family has."""
    scenarios = family_of(family).scenarios
    assert len(set(scenarios)) == len(scenarios) >= 6
    assert family not in tutor.families()


def golden_hash(family: str, level: int) -> str:
    """A digest of numbers 1 to 20: what is asked, what is right, what is remarked."""
    digest = hashlib.sha256()
    for item in problems(family, level)[:20]:
        problem = item.problem
        digest.update(repr((problem.circuit, problem.form, problem.statement)).encode())
        digest.update(repr([(name, quantity.value) for name, quantity in problem.given.items()]).encode())
        for point in problem.waypoints:
            slips = [(slip.id, slip.value) for slip in point.slips]
            right = point.answer and point.answer.value
            digest.update(repr((point.key, right, point.state, point.options, slips)).encode())
            digest.update(repr([(remark.option, remark.id) for remark in point.remarks]).encode())
    return digest.hexdigest()[:32]


def all_golden() -> dict[str, str]:
    """`family:level@edition` -> digest."""
    return {f"{name}:{level}@{family_of(name).edition}": golden_hash(name, level) for name, level in LEVELS}


@every_level
def test_draws_have_not_changed_silently(family: str, level: int) -> None:
    """A changed draw needs a new edition of its family, and then a new golden hash."""
    golden = json.loads(GOLDEN.read_text(encoding="utf-8"))
    assert golden[f"{family}:{level}@{family_of(family).edition}"] == golden_hash(family, level)


def test_every_golden_hash_belongs_to_a_family() -> None:
    told = {f"{name}:{level}@{family_of(name).edition}" for name, level in LEVELS}
    assert set(json.loads(GOLDEN.read_text(encoding="utf-8"))) == told


def test_the_same_over_hash_seeds() -> None:
    """Nothing leans on the order of a set or on hash()."""
    names = [f"{family}:{level}:7" for family, level in LEVELS]
    code = (
        "import hashlib, tutor\n"
        f"found = [tutor.problem(name) for name in {names!r}]\n"
        "print(hashlib.sha256(repr([(item.problem, item.solution) for item in found]).encode()).hexdigest())"
    )
    seen = set()
    for seed in ("1", "77"):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}
        done = subprocess.run(
            [sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True, timeout=120
        )
        seen.add(done.stdout.strip())
    assert len(seen) == 1


if __name__ == "__main__":
    GOLDEN.write_text(json.dumps(all_golden(), indent=1) + "\n", encoding="utf-8")
