"""A verdict in a learner's own words: which wording it says, and when it says none.

What learners write is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, SchemeMark, SchemePoint
from tutor.working.finding import Code, Finding
from tutor.working.spoken import spoken_verdict
from tutor.working.verdicts import verdict_on

TAP, BRIDGE = "only the tapped winding serves", "only the bridge serves"
BOTH, NONE = "the tapped winding and the bridge both serve", "none of the three serves"
WHICH = (TAP, BRIDGE, BOTH, NONE)
PASSES, STARVED = "every corner passes", "only the starving corner fails"
HOT, WORST = "only the overloading corner fails", "the starving corner and the overloading corner both fail"
CORNERS = (PASSES, STARVED, HOT, WORST)
BEARS, DESTROYS = "it bears a lasting short", "a lasting short destroys it"
SHORT = (BEARS, DESTROYS)
COOL, TOO_HOT = "the junction stays within its limit at every corner", "the junction grows too hot at the worst corner"
JUNCTION = (COOL, TOO_HOT)
CASE, NO_SINK = (
    "the small case can be used, if its heat-sink is good enough", "no heat-sink whatever can save the small case",
)  # fmt: skip
SMALL = (CASE, NO_SINK)
REFERENCE, RESISTOR = "the reference matters most", "a resistor matters most"
MOST = (REFERENCE, RESISTOR)
SHUNT, FOLLOWER, LOOP = (
    f"the {words} is the simplest that serves" for words in ("shunt", "emitter follower", "feedback loop")
)
SIMPLEST = (SHUNT, FOLLOWER, LOOP)
SAID = [
    ("so it survives the short", SHORT, BEARS),
    ("it does not survive", SHORT, DESTROYS),
    ("P_Q_1 = 31 W > 20 W: the short destroys it", SHORT, DESTROYS),
    ("the lamp burns", SHORT, None),
    ("the short lasts", SHORT, None),
    ("the junction is too hot", JUNCTION, TOO_HOT),
    ("T_J = 110 °C, the junction is safe", JUNCTION, COOL),
    ("ok", JUNCTION, COOL),
    ("not allowed", JUNCTION, TOO_HOT),
    ("the small case is not usable", SMALL, NO_SINK),
    ("no heat-sink can save it", SMALL, NO_SINK),
    ("no heat-sink needed", SMALL, None),
    ("the small case is good enough with a heat-sink", SMALL, CASE),
    ("the reference dominates", MOST, REFERENCE),
    ("the resistors matter more than the reference", MOST, RESISTOR),
    ("the reference does not matter most", MOST, None),
    ("the reference is good to 4 %", MOST, None),
    ("the reference or a resistor matters most", MOST, None),
    ("the reference matters most, the resistors less", MOST, REFERENCE),
    ("the simplest is the follower", SIMPLEST, FOLLOWER),
    ("the shunt overheats, so the follower is the simplest", SIMPLEST, FOLLOWER),
    ("since neither shunt nor follower is stiff enough, the cheapest is the feedback regulator", SIMPLEST, LOOP),
    ("the feedback regulator serves", SIMPLEST, None),
    ("the follower serves, too", SIMPLEST, None),
    ("the shunt is not the simplest that serves", SIMPLEST, None),
    ("the simplest that serves is regulator 2", SIMPLEST, None),
    ("shunt simplest", SIMPLEST, SHUNT),
    ("so only the bridge serves", WHICH, BRIDGE),
    ("the bridge serves", WHICH, BRIDGE),
    ("V_TROUGH_3 > 8 V and PIV_3 < 16 V, so the bridge is ok", WHICH, BRIDGE),
    ("the centre tap works", WHICH, TAP),
    ("bridge and tapped winding serve", WHICH, BOTH),
    ("both serve", WHICH, BOTH),
    ("none of them", WHICH, NONE),
    ("none serves", WHICH, NONE),
    ("the bridge fails", WHICH, None),
    ("the bridge does not serve", WHICH, None),
    ("the bridge", WHICH, None),
    ("one diode passes", WHICH, None),
    ("all corners ok", CORNERS, PASSES),
    ("every corner passes", CORNERS, PASSES),
    ("the zener starves at low line", CORNERS, STARVED),
    ("overloaded", CORNERS, HOT),
    ("both corners fail", CORNERS, WORST),
    ("the starving corner passes", CORNERS, None),
    ("nothing is wrong", CORNERS, None),
    ("the zener is off", ("the zener is in breakdown", "the zener is off"), None),
]


@pytest.mark.parametrize(("text", "options", "wording"), SAID)
def test_words_say_a_wording_or_none(text: str, options: tuple[str, ...], wording: str | None) -> None:
    """The wording with fewest words beside those said, for what serves and against what fails."""
    assert spoken_verdict(text, options) == wording


@pytest.mark.parametrize("options", [WHICH, CORNERS, SHORT, JUNCTION, SMALL, MOST])
def test_each_wording_says_itself(options: tuple[str, ...]) -> None:
    for option in options:
        assert spoken_verdict(f"So {option}.", options) == option


def point(right: str) -> SchemePoint:
    mark = SchemeMark(MarkKind.INDEPENDENT, right)
    return SchemePoint("verdict", WaypointKind.STATE, "which serves", (mark,), options=WHICH, state=right)


def lines(*texts: str) -> list[Finding]:
    return [Finding(number, text, Code.NOTE, "") for number, text in enumerate(texts, start=1)]


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        (("the tap passes", "the bridge passes"), BOTH),
        (("the tapped winding fails", "the bridge passes"), BRIDGE),
        (("the tap passes", "the bridge passes", "only the bridge serves"), BRIDGE),
        (("only the tap serves", "only the bridge serves"), BRIDGE),
        (("none serves",), NONE),
    ],
)
def test_a_verdict_said_piece_by_piece_is_put_together(texts: tuple[str, ...], said: str) -> None:
    """Each supply on a line of its own says as much as one line; what says "only" stands for itself."""
    for right in WHICH:
        verdict = verdict_on(point(right), lines(*texts))
        assert verdict is not None and verdict.right is (right == said), right
        assert verdict.line == len(texts)


def test_a_verdict_on_a_wrong_line_or_none_earns_nothing() -> None:
    wrong = [replace(lines("PIV_3 = 3 V, so only the bridge serves")[0], code=Code.FAILS, why="no")]
    verdict = verdict_on(point(BRIDGE), wrong)
    assert verdict is not None and not verdict.right
    assert verdict_on(point(BRIDGE), lines("the bridge fails", "suppose only the bridge serves")) is None
    # One of several comparisons does not tell what rests on all of them.
    compared = Finding(1, "PIV_3 = 14.76 V < PIV_MAX = 16 V", Code.HOLDS_HERE, "", None, (), "PIV_3_MAX", 14.76)
    assert verdict_on(point(BRIDGE), [compared]) is None
