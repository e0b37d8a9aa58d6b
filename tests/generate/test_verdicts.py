"""Verdicts on a table of demands: which wording is true, what is refused, and the table in the worked solution."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import tutor
from tutor.errors import BadFamily
from tutor.generate.compile import compile_level
from tutor.generate.family import Demand, Family, TellVerdict, Verdict
from tutor.generate.judging import Outcome, judge
from tutor.generate.problem import WaypointKind
from tutor.generate.verdicts import margins, one_alone, sides, too_near, true_verdicts, verdict_words
from tutor.views.plain import chain_text

FED, COOL = "I_Z_MIN >= I_ZK", "P_Z_MAX <= P_ZM"
ASK = TellVerdict(
    "the verdict",
    (Demand("starving", FED), Demand("overloading", COOL)),
    (
        Verdict("it passes", (FED, COOL)),
        Verdict("it fails", (COOL,), (FED,)),
        Verdict("it fails", (), (COOL,)),
    ),
    "So it is.",
)
# Fed and cool, starved, too hot, starved and too hot, just fed, just starved.
DRAWS = {
    "I_Z_MIN": np.array([0.008, 0.002, 0.008, 0.002, 0.00501, 0.005]),
    "I_ZK": np.full(6, 0.005),
    "P_Z_MAX": np.array([0.5, 0.5, 1.2, 1.2, 0.5, 0.5]),
    "P_ZM": np.ones(6),
}


def test_each_wording_is_true_where_its_demands_say():
    """Two verdicts in the same words are one; a demand that is just met is met."""
    found = true_verdicts(ASK, DRAWS)
    assert found["it passes"].tolist() == [True, False, False, False, True, True]
    assert found["it fails"].tolist() == [False, True, True, True, False, False]
    assert one_alone(ASK, DRAWS).all()


def test_a_draw_with_none_or_two_is_seen():
    gap = replace(ASK, verdicts=(Verdict("it passes", (FED, COOL)), Verdict("it starves", (COOL,), (FED,))))
    assert one_alone(gap, DRAWS).tolist() == [True, True, False, False, True, True]
    twice = replace(ASK, verdicts=(Verdict("it is fed", (FED,)), Verdict("it is cool", (COOL,))))
    assert one_alone(twice, DRAWS).tolist() == [False, True, True, False, False, False]


def test_what_a_rounded_value_would_not_tell_is_seen():
    """Within 2 % of a limit, on either side of it."""
    assert too_near(ASK, DRAWS).tolist() == [False, False, False, False, True, True]


def test_margins_are_what_is_over_the_limit():
    one = {key: values[3:4] for key, values in DRAWS.items()}
    starving, overloading = margins(ASK, one)
    assert starving.spare == pytest.approx(-0.003) and not starving.met
    assert overloading.spare == pytest.approx(-0.2) and not overloading.met
    assert verdict_words(ASK, one) == "it fails"


@pytest.mark.parametrize("text", ["I_Z_MIN > I_ZK", "I_Z_MIN >= 2*I_ZK", "I_Z_MIN = I_ZK"])
def test_a_demand_compares_two_keys(text: str):
    with pytest.raises(ValueError, match="a demand compares a key with the key of its limit by <= or >="):
        sides(text)


MISTAKES = [
    ({"verdicts": ASK.verdicts[1:]}, "a verdict needs two wordings at least"),
    ({"verdicts": (*ASK.verdicts, Verdict("who knows"))}, "'who knows': a verdict rests on some demand"),
    (
        {"verdicts": (*ASK.verdicts, Verdict("it is hot", (), ("P_Z_MAX <= P_RM",)))},
        "'it is hot': there is no demand 'P_Z_MAX <= P_RM'; did you mean 'P_Z_MAX <= P_ZM'?",
    ),
    ({"demands": (*ASK.demands, Demand("other", "I_Z_MIN > I_ZK"))}, "a demand compares a key with the key of its"),
    ({"demands": (*ASK.demands, Demand("other", "I_Z_MIN >= I_ZX"))}, "there is no key drawn or found before 'I_ZX'"),
]


@pytest.mark.parametrize(("changed", "sentence"), MISTAKES, ids=[sentence[:24] for _, sentence in MISTAKES])
def test_a_mistake_in_a_verdict_is_one_sentence(changed: dict, sentence: str):
    """File, level and ask first, as for any other field of a family."""
    desk = tutor.open_desk()
    family: Family = desk.family("zener-corner-table")
    first = family.levels[0]
    wrong = replace(first, asks=(*first.asks[:-1], replace(ASK, **changed)))
    with pytest.raises(BadFamily) as caught:
        compile_level(replace(family, levels=(wrong, *family.levels[1:])), desk.circuit(family.circuit), 1, "breakdown")
    head = "family 'zener-corner-table' (problems/families/zener_corner_table.py), level 1, asks 'the verdict'"
    assert caught.value.sentence.startswith(head) and sentence in caught.value.sentence


def points(name: str):
    worked = tutor.problem(name)
    (point,) = [item for item in worked.problem.waypoints if item.key == "verdict"]
    (step,) = [item for item in worked.solution.steps if item.waypoint == "verdict"]
    return point, step


def test_the_table_of_margins_is_worked_and_the_verdict_judged():
    """compare-rectifiers:3:1, the numbers of its sheet by hand: a line for each demand, its margin, the verdict."""
    point, step = points("compare-rectifiers:3:1")
    assert [chain_text(chain) for chain in step.chains] == [
        "V_TROUGH_1_MIN = 7.06 V < V_TROUGH_MIN = 10 V",
        "V_TROUGH_2_MIN = 9.05 V < V_TROUGH_MIN = 10 V",
        "V_TROUGH_3_MIN = 8.25 V < V_TROUGH_MIN = 10 V",
        "PIV_2_MAX = 30.3 V > PIV_MAX = 24 V",
        "PIV_3_MAX = 14.76 V < PIV_MAX = 24 V",
    ]
    assert "tapped winding, reverse voltage: 6.31 V missing; bridge, reverse voltage: 9.24 V to spare." in step.why
    assert step.text == "So none of the three serves." and point.kind is WaypointKind.STATE
    assert judge(point, "none of the three serves").outcome is Outcome.RIGHT
    assert judge(point, "only the tapped winding serves").outcome is Outcome.WRONG


@pytest.mark.parametrize("level", ["compare-rectifiers:3", "zener-corner-table:1", "zener-corner-table:2"])
def test_every_verdict_offered_is_met(level: str):
    """Over 400 numbers each wording is true of some, and none of nearly all: it cannot be guessed."""
    name, number = level.split(":")
    desk = tutor.open_desk()
    seen: dict[str, int] = {}
    for worked in desk.batch(desk.level(name, int(number)), range(1, 401)):
        (point,) = [item for item in worked.problem.waypoints if item.key == "verdict"]
        seen = {**dict.fromkeys(point.options, 0), **seen}
        seen[point.state] += 1
    print(level, seen)
    assert min(seen.values()) >= 2 and max(seen.values()) <= 0.8 * 400
