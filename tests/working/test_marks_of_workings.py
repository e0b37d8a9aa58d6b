"""Whole workings from text to marks: reader, checker, scheme and marks together, on problems of our own."""

from __future__ import annotations

import pytest

import tutor
from tutor.generate.problem import WaypointKind
from tutor.quantities.quantity import Quantity
from tutor.solution.desk import our_desk
from tutor.solution.scheme_of import scheme_of
from tutor.views.plain import chain_text, prose_text
from tutor.working.check import check_working
from tutor.working.ledger import Marks
from tutor.working.marks import mark_working

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]


def marks(name: str, text: str) -> Marks:
    """The marks of a working on a problem."""
    worked = our_desk().problem(name)
    return mark_working(check_working(text, our_desk().sheet(name)), scheme_of(worked.problem, worked.solution))


def won(given: Marks) -> str:
    """The ledger in short: R_MAX M1 A0, R B0."""
    points: dict[str, list[str]] = {}
    for entry in given.ledger:
        points.setdefault(entry.waypoint, []).append(f"{entry.kind.value}{entry.got}")
    return ", ".join(f"{key} {' '.join(items)}" for key, items in points.items())


# zener-resistor:2:1: 21.5 V to 26.5 V, 9.1 V, 10 mA to 35 mA, I_ZK = 8 mA, 1 W: 145.1 Ω to 288 Ω, model 270 Ω.
SAMPLE = """R = (V_I - V_Z)/(I_L + I_Z)
R <= (21.5 - 9.1)/35m = 354 Ω
choose R = 330 Ω
I_Z = (26.5-9.1)/330 - 10m = 42.7 mA
P_Z = 9.1 V × 42.7 mA = 389 mW"""
WORKINGS = [
    (
        "the working of SAMPLE.md: the bound's accuracy and the choice are lost, what follows is credited", SAMPLE,
        "R_MAX M1 A0, I_ZM M0 A0, R_MIN M0 A0, R B0, P_R_MAX M0 M0 A0, P_RM B0, P_Z_MAX M1 M1 A1",
    ),
    (
        "another legal choice, bare values, one unit left out",
        "R_MAX = (V_I_MIN - V_Z)/(I_L_MAX + I_ZK) = 12.4 V/43 mA = 288 Ω\nI_ZM = 109.9 mA\n"
        "R_MIN = 17.4/119.9m = 145.1\nR = 240 Ω\nP_R = (26.5 - 9.1)^2/240 = 1.26 W\nchoose P_RM = 2 W\n"
        "P_Z = 9.1*((26.5-9.1)/240-10m) = 569 mW",
        "R_MAX M1 A1, I_ZM M1 A1, R_MIN M1 A0, R B1, P_R_MAX M1 M1 A1, P_RM B1, P_Z_MAX M1 M1 A1",
    ),
    (
        "lines that go on with the one before; an answer left unevaluated; arithmetic wrong",
        "R_MAX = (21.5 - 9.1)/43m\n= 12.4/43m\n= 288 Ω\nI_ZM = 1/9.1\nR_MIN = 17.4/119.9m = 154 Ω",
        "R_MAX M1 A1, I_ZM M1 A0, R_MIN M1 A0, R B0, P_R_MAX M0 M0 A0, P_RM B0, P_Z_MAX M0 M0 A0",
    ),
    (
        "the power at full load is true, and not what is asked",
        "choose R = 270 Ω\nI_Z = (26.5-9.1)/270 - 35m = 29.4 mA\nP_Z = 9.1 × 29.4m = 268 mW",
        "R_MAX M0 A0, I_ZM M0 A0, R_MIN M0 A0, R B1, P_R_MAX M0 M0 A0, P_RM B0, P_Z_MAX M1 M0 A0",
    ),
    (
        "a wrong relation and its numbers are one slip; a right bare number after it proves nothing",
        "R_MAX = (V_I_MIN - V_Z)/I_L_MAX\nR_MAX = 12.4/35m = 354 Ω\nR_MAX = 288 Ω",
        "R_MAX M0 A0, I_ZM M0 A0, R_MIN M0 A0, R B0, P_R_MAX M0 M0 A0, P_RM B0, P_Z_MAX M0 M0 A0",
    ),
    ("nothing but nonsense", "hello\nR = (((\n???\n" + "9" * 500, None),
]  # fmt: skip


@pytest.mark.parametrize(("claim", "text", "expected"), WORKINGS, ids=[item[0][:40] for item in WORKINGS])
def test_a_working_has_the_marks_an_examiner_would_give(claim: str, text: str, expected: str | None):
    """Each case counted by hand under the rules of `test_marks.py`."""
    given = marks("zener-resistor:2:1", text)
    if expected is None:
        assert given.got == 0, claim
    else:
        assert won(given) == expected, claim
    assert given.of == 14


def test_a_state_and_what_rests_on_it():
    """zener-state:2:1 (15 V, 82 Ω, 820 Ω, 11 V): a right test, a wrong verdict; what follows from it is credited."""
    given = marks(
        "zener-state:2:1", "V_TH = 15 × 820/(82+820) = 13.6 V > V_Z\nso the zener is off\nV_O = 13.6 V\n"
        "I_R = (15-13.6)/82 = 17.07 mA\nI_Z = 0",
    )  # fmt: skip
    assert won(given).startswith("V_TH M1 A1, state B0, V_O M1 A1, I_R M1 A1, I_L M0 A0, I_Z M0 A0")


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_the_model_solution_wins_every_mark(family: str, level: int):
    """The solution as printed, written in as a working, is worth full marks on every family and level."""
    for number in range(1, 4):
        worked = our_desk().problem(f"{family}:{level}:{number}")
        lines = []
        for step in worked.solution.steps:
            lines += [chain_text(chain) for chain in step.chains]
            if step.waypoint in ("state", "verdict"):
                lines.append(prose_text(step.text).rstrip("."))
        given = marks(worked.problem.name, "\n".join(lines).replace("\u00a0", " "))
        lost = [(entry.waypoint, entry.kind.value, entry.why) for entry in given.ledger if not entry.got]
        assert lost == [], (worked.problem.name, "\n".join(lines))


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_the_bare_answers_win_every_mark(family: str, level: int):
    """[AQA], [KEY]: no working but right answers; every method mark then says what went unseen."""
    for number in range(1, 4):
        worked = our_desk().problem(f"{family}:{level}:{number}")
        lines = [
            point.state if point.answer is None else f"{point.key} = {point.answer.text}"
            for point in worked.problem.waypoints
        ]
        given = marks(worked.problem.name, "\n".join(lines))
        assert given.got == given.of, (worked.problem.name, [item for item in given.ledger if not item.got], lines)
        unseen = [item for item in given.ledger if item.kind.value == "M"]
        assert all("unseen: " in item.why for item in unseen), worked.problem.name


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_a_named_slip_costs_marks_at_its_own_waypoint_alone(family: str, level: int):
    """Among right answers one slip's value, as the family says it comes out: every other waypoint keeps its marks."""
    worked = our_desk().problem(f"{family}:{level}:1")
    tried = 0
    for point in worked.problem.waypoints:
        for slip in point.slips:
            lines = [
                item.state if item.answer is None else f"{item.key} = {item.answer.text}"
                for item in worked.problem.waypoints
                if item is not point
            ]
            assert point.answer is not None
            wrong = Quantity(slip.value, point.answer.unit, 4).text
            verb = "choose " if point.kind is WaypointKind.CHOICE else ""
            given = marks(worked.problem.name, "\n".join([*lines, f"{verb}{point.key} = {wrong}"]))
            lost = {entry.waypoint for entry in given.ledger if not entry.got}
            assert lost == {point.key}, (worked.problem.name, slip.id, wrong, lost)
            tried += 1
    assert tried
