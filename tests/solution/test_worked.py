"""A drawn problem worked as on paper: every ask in order, choices with their reason, ratings with their margin."""

from __future__ import annotations

import re

import pytest

import tutor
from tutor.generate.family import Choose, ChooseRating, TellState, TellVerdict
from tutor.quantities.expression import Sym
from tutor.solution.desk import WorkedProblem
from tutor.solution.solution import WorkedStep
from tutor.views.plain import chain_text, prose_text

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]


def step_to(worked: WorkedProblem, key: str) -> WorkedStep:
    """The step that reaches a waypoint."""
    return next(step for step in worked.solution.steps if step.waypoint == key)


def text_of(text: str) -> str:
    return prose_text(text).replace("\u00a0", " ")


def test_a_design_reads_from_bounds_to_choice_to_ratings():
    """zener-resistor:2:1, worked by hand: 21.5 V to 26.5 V, 9.1 V zener, 10 mA to 35 mA, knee 8 mA, 1 W.

    R_MAX = 12.4 V/43 mA = 288 Ω; R_MIN = 17.4 V/(10 + 109.9) mA = 145.1 Ω; of E24 with 5 % inside: 160 Ω to 270 Ω.
    """
    worked = tutor.problem("zener-resistor:2:1")
    assert [step.waypoint for step in worked.solution.steps if step.waypoint] == [
        "R_MAX", "I_ZM", "R_MIN", "R", "P_R_MAX", "P_RM", "P_Z_MAX"
    ]  # fmt: skip
    assert [chain_text(chain) for chain in step_to(worked, "R_MAX").chains] == [
        "R_MAX = (V_I_MIN − V_Z)/(I_L_MAX + I_ZK) = (21.5 V − 9.1 V)/(35 mA + 8 mA) = 12.4 V/43 mA = 288 Ω"
    ]
    assert text_of(step_to(worked, "R_MAX").why) == (
        "I_Z is least at the lowest line and the fullest load, because ∂I_Z/∂V_I = 1/R is positive and "
        "∂I_Z/∂I_L = −1 is negative."
    )


def test_a_choice_says_what_would_do_and_why_this_one():
    """The interval, the ends of it with their bands, the reason, and what rounding past the bound would do."""
    step = step_to(tutor.problem("zener-resistor:2:1"), "R")
    assert step.title == "Choice: an E24 value whose tolerance band lies between the bounds"
    assert text_of(step.why) == (
        "Any E24 value whose 5 % band lies between 145.1 Ω and 288 Ω meets the specification: 160 Ω (152 Ω to 168 "
        "Ω) to "
        "270 Ω (257 Ω to 284 Ω); the largest value that fits wastes least current, and so least heat, at light load."
    )
    assert [chain_text(chain) for chain in step.chains] == ["R = 270 Ω"]
    assert text_of(step.text) == (
        "Rounding up to 300 Ω would pass the bound. A larger R starves the zener at full load and lowest line."
    )
    assert step.law == ""


def test_a_rating_says_its_margin():
    """Two thirds of a rating at most: 1.5 × 1.121 W = 1.682 W, so 2 W."""
    step = step_to(tutor.problem("zener-resistor:2:1"), "P_RM")
    assert text_of(step.why) == (
        "No more than two thirds of a rating is to be used: 1.5 × 1.121 W = 1.682 W. The smallest rating on the "
        "shelf that "
        "reaches it is 2 W."
    )
    assert [chain_text(chain) for chain in step.chains] == ["P_RM = 2 W"]


# By hand: zener-state:1:1 has 20 V × 150/330 = 9.09 V under 11 V; 1:2 has 24 V × 2200/2320 = 22.8 V over 13 V.
STATES = [
    (
        "zener-state:1:1", "V_TH = 9.09 V < V_Z = 11 V",
        "Left alone the node stays under V_Z, so no current flows in it and nothing is held.", "So the zener is off.",
    ),
    (
        "zener-state:1:2", "V_TH = 22.8 V > V_Z = 13 V",
        "Left alone the node would rise past V_Z, so current flows and holds it there.",
        "So the zener is in breakdown.",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("name", "line", "why", "verdict"), STATES)
def test_a_state_is_told_by_its_test(name: str, line: str, why: str, verdict: str):
    """The comparison in numbers, what it means, and the verdict."""
    step = step_to(tutor.problem(name), "state")
    assert [chain_text(chain) for chain in step.chains] == [line]
    assert (text_of(step.why), text_of(step.text)) == (why, verdict)
    assert step.result is None


def test_the_nearest_value_says_to_what_it_is_nearest():
    """follower-design, level 3: the zener nearest to what the output wanted needs."""
    step = step_to(tutor.problem("follower-design:3:1"), "V_Z")
    assert text_of(step.why) == (
        "Of the E24 values 12 V lies nearest to 12.2 V; the value nearest to what is needed moves the output least."
    )


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_ask_of_the_region_has_its_step_in_order(family: str, level: int):
    """Waypoints in the order asked; a choice under the word Choice; nothing asked left out."""
    desk = tutor.open_desk()
    ready = desk.level(family, level)
    for worked in desk.batch(ready, range(1, 31)):
        asks = [ask for ask in ready.level.asks if ask.region in ("", worked.drawn.run.region)]
        reached = [step for step in worked.solution.steps if step.waypoint]
        assert len(reached) == len(asks), worked.problem.name
        for ask, step in zip(asks, reached, strict=True):
            chosen = isinstance(ask, Choose | ChooseRating)
            assert step.title.startswith("Choice: ") is chosen, worked.problem.name
            assert (step.law == "") is (chosen or isinstance(ask, TellState | TellVerdict)), worked.problem.name


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_step_has_a_title_and_a_reason(family: str, level: int):
    """No step is numbers alone: a title and a line, and reasons that are whole sentences."""
    desk = tutor.open_desk()
    for worked in desk.batch(desk.level(family, level), range(1, 31)):
        for step in worked.solution.steps:
            assert step.title and step.chains, worked.problem.name
            assert step.why.endswith((".", "?")), (worked.problem.name, step.why)
            assert not step.text or step.text.endswith("."), (worked.problem.name, step.text)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_results_are_the_answers_as_printed(family: str, level: int):
    """The last line of each waypoint's step reads as its answer does."""
    desk = tutor.open_desk()
    for worked in desk.batch(desk.level(family, level), range(1, 31)):
        for key, answer in worked.problem.answers.items():
            step = step_to(worked, key)
            assert step.result is not None and step.result.text == answer.text, (worked.problem.name, key)
            assert chain_text(step.chains[-1]).endswith(answer.text.replace("-", "−")), (worked.problem.name, key)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_a_solution_ends_with_what_a_bench_would_show_and_the_cautions(family: str, level: int):
    """One sentence on the bench with a capital and a stop; the cautions of the problem, word for word."""
    desk = tutor.open_desk()
    (worked,) = desk.batch(desk.level(family, level), [1])
    bench = worked.solution.bench
    assert bench and bench[0].isupper() and bench.endswith(".") and not bench.endswith("..")
    assert worked.solution.cautions == worked.problem.cautions
    assert worked.solution.name == worked.problem.name
    assert worked.solution.warnings == ()


def test_an_assumption_in_the_name_goes_through_statement_and_solution():
    """V_BE of 0.6 V, and a neglected base current: the statement says so and the numbers follow."""
    plain, moved = tutor.problem("follower-state:2:3"), tutor.problem("follower-state:2:3+V_BE=0.6V")
    assert moved.problem.given["V_BE"].text == "0.6 V"
    assert moved.problem.given["V_Z"] == plain.problem.given["V_Z"]
    shift = moved.problem.answers["V_O"].value - plain.problem.answers["V_O"].value
    assert shift == pytest.approx(0.1, rel=1e-6)
    neglected = tutor.problem("follower-state:2:3+base-current=load-over-h_FE")
    assert neglected.problem.assumed["base-current"] == "load-over-h_FE"
    given = neglected.problem.given
    load = neglected.problem.answers["I_L"].value
    assert neglected.problem.answers["I_B"].value == pytest.approx(load / given["h_FE"].value, rel=1e-9)


REFERRED = re.compile(r"\$(\w+)\$ (?:is )?that of step (\d+)")


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_nothing_is_worked_twice(family: str, level: int):
    """No line is written twice, unless its symbol stood for another corner since; what a sentence takes from an
    earlier step that step gives."""
    desk = tutor.open_desk()
    for item in desk.batch(desk.level(family, level), range(1, 21)):
        latest: dict[str, tuple[str, ...]] = {}
        for number, step in enumerate(item.solution.steps, 1):
            lines = tuple(chain_text(chain) for chain in step.chains)
            given = lines[-1].split(" ", 1)[0]
            assert step.waypoint or latest.get(given) != lines, (item.problem.name, lines)
            latest[given] = lines
            for name, place in REFERRED.findall(step.why):
                assert int(place) < number, item.problem.name
                assert name in {chain.first.name for chain in item.solution.steps[int(place) - 1].chains
                                if isinstance(chain.first, Sym)}, (item.problem.name, name)  # fmt: skip


def test_a_step_worked_before_is_named():
    """supply-headroom:3:7, worked by hand: crest 9.546 V and φ 0.367 give 7.90 V, which the trough takes over."""
    worked = tutor.problem("supply-headroom:3:7")
    steps = worked.solution.steps
    found = ["V_SPK", "phi", "V_DC_MIN", "V_RIP", "V_TROUGH_MIN", "V_TROUGH", "V_DC", "phi", "R_W_MAX"]
    assert [step.chains[0].first for step in steps] == [Sym(name) for name in found]
    assert text_of(steps[3].why).endswith("V_DC_MIN is that of step 3.")
    assert chain_text(steps[4].chains[0]).startswith("V_TROUGH_MIN = V_DC_MIN − V_RIP/2 = 7.90 V − 0.758 V/2 =")
