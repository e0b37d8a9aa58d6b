"""Marks by the trade's rules, each named with the board that states it, on findings made by hand.

Sources: [SQA] Physics, general marking principles (2017), and marking symbols (2013); [SQA-M] Mathematics marking
guidance (2014); [AQA] A-level Physics 7408/3BE, general marking instructions 3.4 to 3.8; [KEY] a published
key to mark codes (M, A, B). Units and figures are in `test_written.py`, states in `test_verdicts.py`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.working.check import Checked
from tutor.working.finding import WRONG, Code, Finding, Shown
from tutor.working.ledger import LedgerEntry, MarkRules, Marks
from tutor.working.marks import mark_working

M, A, B = MarkKind.METHOD, MarkKind.ACCURACY, MarkKind.INDEPENDENT
VALUE, CHOICE = WaypointKind.VALUE, WaypointKind.CHOICE


def bound(key: str, answer: float, slips: tuple[tuple[str, float], ...] = ()) -> SchemePoint:
    """A bound on R: method and accuracy."""
    marks = (SchemeMark(M, f"Ohm's law for $R$: ${key}$", (key, "R")), SchemeMark(A, f"${key}$", (key,), (0,)))
    return SchemePoint(key, VALUE, f"the bound {key}", marks, answer, "ohm", slips=slips, operations=1)


# The problem of SAMPLE.md by hand: 14 V to 18 V, 9.1 V, 5 mA to 30 mA, I_ZK = 5 mA; of its marks eight.
R_MAX = bound("R_MAX", 140.0, (("no-knee-current", 163.3), ("milliamperes", 0.14)))
R_MAX = replace(R_MAX, careless=("milliamperes",))
R_MIN = bound("R_MIN", 77.5)
R = SchemePoint(
    "R", CHOICE, "an E24 value for $R$", (SchemeMark(B, "$R$ = 130 Ω", ("R",)),), 130.0, "ohm",
    (82.0, 91.0, 100.0, 110.0, 120.0, 130.0),
)  # fmt: skip
I_Z = SchemePoint(
    "I_Z", VALUE, "the zener current at the highest line",
    (
        SchemeMark(M, "Ohm's law for $R$: $I_R = (V_I_MAX - V_Z)/R$", ("I_R",), value=0.0685),
        SchemeMark(M, "Current law at the output node: $I_Z = I_R - I_L$", ("I_Z",)),
        SchemeMark(A, "$I_Z$ = 63.5 mA", ("I_Z",), (1,)),
    ),
    0.0635, "A", rests_on=("R",), operations=1,
)  # fmt: skip
P_Z = SchemePoint(
    "P_Z", VALUE, "the zener's power",
    (SchemeMark(M, "Power in the zener: $P_Z = V_Z*I_Z$", ("P_Z",)), SchemeMark(A, "$P_Z$ = 578 mW", ("P_Z",), (0,))),
    0.578, "W", rests_on=("R",), operations=1,
)  # fmt: skip
SAMPLE = Scheme("sample", (R_MAX, R, I_Z, P_Z))
BOUND = Scheme("one bound", (R_MAX,))
BOUNDS = Scheme("two bounds", (R_MAX, R_MIN))
LAST = Scheme("two values", (I_Z, P_Z))


def line(
    number: int, text: str, code: Code, key: str = "", value: float | None = None, *, slip: str = "", why: str = "",
    shown: Shown | None = None, answers: tuple[str, ...] | None = None, chosen: bool = False,
) -> Finding:  # fmt: skip
    """A finding by hand. Unless said otherwise its line shows its working and gives its value as one number."""
    seen = shown or Shown(operations=2, figures=3)
    seen = replace(seen, value=value) if seen.value is None else seen
    slips = (slip,) if slip else ()
    return Finding(number, text, code, why, None, slips, key, value, seen, answers, chosen)


BARE = Shown(worked=False, operations=0, figures=3)
RELATION = line(1, "R = (V_I - V_Z)/(I_L + I_Z)", Code.HOLDS, "R")
KNEE_LOST = line(
    2, "R <= (14 - 9.1)/30m = 163 Ω", Code.FAILS, "R_MAX", 163.0, slip="no-knee-current", why="the knee left out"
)
RIGHT_BOUND = line(2, "R <= (14 - 9.1)/35m = 140 Ω", Code.HOLDS_HERE, "R_MAX", 140.0)
CHOSEN = line(3, "choose R = 150 Ω", Code.FOLLOWS, "R", 150.0, why="follows from your own bound", chosen=True)
CURRENT = line(4, "I_Z = (18-9.1)/150 - 5m = 54.3 mA", Code.FOLLOWS, "I_Z", 0.0543, why="right with your choice")
POWER = line(5, "P_Z = 9.1 V × 54.3 mA = 494 mW", Code.FOLLOWS, "P_Z", 0.494, why="right with your own values")


def marks(scheme: Scheme, *lines: Finding, rules: MarkRules | None = None) -> Marks:
    """The marks of some lines."""
    wrong = next((item.number for item in lines if item.code in WRONG), None)
    return mark_working(Checked(lines, wrong), scheme, rules or MarkRules())


def won(given: Marks) -> str:
    """The ledger in short: R_MAX M1 A0, R B0."""
    points: dict[str, list[str]] = {}
    for entry in given.ledger:
        points.setdefault(entry.waypoint, []).append(f"{entry.kind.value}{entry.got}")
    return ", ".join(f"{key} {' '.join(items)}" for key, items in points.items())


def entry(given: Marks, key: str, kind: MarkKind) -> LedgerEntry:
    """The last mark of a kind at a waypoint."""
    return [item for item in given.ledger if item.waypoint == key and item.kind is kind][-1]


def test_the_sample_wins_six_of_eight():
    """SAMPLE.md: the bound's accuracy (line 2) and the choice that rests on it are lost; all after it is credited."""
    given = marks(SAMPLE, RELATION, KNEE_LOST, CHOSEN, CURRENT, POWER)
    assert won(given) == "R_MAX M1 A0, R B0, I_Z M1 M1 A1, P_Z M1 A1"
    assert (given.got, given.of) == (6, 8)
    assert [item.line for item in given.ledger] == [1, 2, 3, 4, 4, 4, 5, 5]
    assert entry(given, "R_MAX", M).why == "the right relation, in symbols"
    assert entry(given, "R_MAX", A).why == "the knee left out"
    assert entry(given, "R", B).why == "follows from your own bound"
    assert entry(given, "P_Z", A).why == "follow-through: right with your own values"


def test_without_its_relation_the_bound_loses_method_too():
    """The same slip when nothing right stood before it: a wrong relation is no method [KEY]."""
    given = marks(SAMPLE, KNEE_LOST, CHOSEN, CURRENT, POWER)
    assert won(given).startswith("R_MAX M0 A0, R B0, I_Z M1 M1 A1")
    assert entry(given, "R_MAX", M).why == "no right relation: the knee left out"


def test_marks_are_awarded_and_never_deducted():
    """[SQA], [SQA-M]: a ledger starts at nought; any number of wrong lines leaves it there, and right ones stand."""
    slips = [line(number, "P_Z = 9 W", Code.FAILS, "P_Z", 9.0 + number, why="no") for number in range(6, 30)]
    assert marks(SAMPLE).got == 0
    assert marks(SAMPLE, *slips).got == 0
    assert marks(SAMPLE, RELATION, RIGHT_BOUND, *slips).got == 2


def test_method_is_earned_in_symbols_or_with_ones_own_numbers():
    """[KEY]: M for a method that could lead to the answer."""
    assert won(marks(BOUND, RELATION)) == "R_MAX M1 A0"
    assert won(marks(BOUND, RIGHT_BOUND)) == "R_MAX M1 A1"
    assert won(marks(LAST, CURRENT)) == "I_Z M1 M1 A1, P_Z M0 A0"


def test_a_relation_that_only_follows_is_method_unless_its_own_slip_made_it():
    """True of what the learner concluded, it is their method; drawn from their own wrong line it is not."""
    follows = line(2, "P_Z = V_Z I_Z", Code.FOLLOWS, "P_Z")
    assert won(marks(LAST, follows)).endswith("P_Z M1 A0")
    own = line(1, "P_Z = V_Z/I_Z = 143 W", Code.FAILS, "P_Z", 143.0, why="turned over")
    assert won(marks(LAST, own, follows)).endswith("P_Z M0 A0")


def test_a_declared_approximation_is_method():
    """A relation that the circuit allows as an approximation (h_FE for h_FE + 1) is accepted, and said to be one."""
    near = line(1, "R = (V_I - V_Z)/I_Z", Code.HOLDS_HERE, "R", why="true to 1 %")
    assert won(marks(BOUND, near)) == "R_MAX M1 A0"


@pytest.mark.parametrize("slip", ["arithmetic", "copied", "power-of-ten", "milliamperes", "base-current=neglected"])
def test_one_slip_in_a_right_relation_costs_accuracy_alone(slip: str):
    """[AQA 3.4], [KEY]: arithmetic, a datum copied wrongly, a power of ten cost one mark; another convention too."""
    given = marks(BOUND, line(1, "R_MAX = 4.9/35m = 0.14", Code.FAILS, "R_MAX", 0.14, slip=slip, why="slip"))
    assert won(given) == "R_MAX M1 A0"


@pytest.mark.parametrize("slip", ["left-out", "sign", "symbol", "corner", "inverted", "no-knee-current", ""])
def test_a_wrong_relation_costs_method_and_accuracy(slip: str):
    """[KEY]: accuracy only with its method mark."""
    given = marks(BOUND, line(1, "R_MAX = 4.9/30m = 163", Code.FAILS, "R_MAX", 163.0, slip=slip, why="wrong"))
    assert won(given) == "R_MAX M0 A0"


def test_accuracy_needs_its_method_mark():
    """[KEY]: dependent marks: `needs` is kept even where the value is right."""
    first = line(1, "R = (V_I - V_Z)/I_L", Code.FAILS, "R", why="I_ZK is left out")
    bare = line(2, "R_MAX = 140 Ω", Code.HOLDS_HERE, "R_MAX", 140.0, shown=BARE)
    given = marks(BOUND, first, bare)
    assert won(given) == "R_MAX M0 A0"
    assert entry(given, "R_MAX", A).why == "accuracy needs its method mark"


def test_independent_marks_need_no_method():
    """[KEY]: B for one fact or choice, whatever became of the bounds."""
    good = line(3, "choose R = 120 Ω", Code.CHOICE_OK, "R", 120.0, why="it meets the specification", chosen=True)
    assert won(marks(SAMPLE, KNEE_LOST, good)).startswith("R_MAX M0 A0, R B1")


def test_what_follows_from_a_wrong_value_is_credited_in_full():
    """[KEY], [AQA 3.4], [SQA-M]: error carried forward; a lecturer may switch it off, and method still counts."""
    given = marks(SAMPLE, RELATION, KNEE_LOST, CHOSEN, CURRENT, POWER, rules=MarkRules(follow_through=False))
    assert won(given) == "R_MAX M1 A0, R B0, I_Z M1 M1 A0, P_Z M1 A0"
    assert entry(given, "P_Z", A).why == "no follow-through is given here"


def test_a_step_lost_with_the_slip_caps_what_follows():
    """[SQA-M]: work made easier by the slip wins method alone; the lost step itself is charged once, where it fell."""
    slip = line(1, "R_MAX = 163 Ω", Code.FAILS, "R_MAX", 163.0, slip="left-out", why="I_L is left out")
    eased = line(2, "I_Z = I_R = 18 mA", Code.FOLLOWS, "I_Z", 0.018, shown=Shown(operations=0, figures=2))
    given = marks(Scheme("", (R_MAX, I_Z)), slip, eased)
    assert won(given) == "R_MAX M0 A0, I_Z M1 M1 A0"
    assert "left nothing to work out here" in entry(given, "I_Z", A).why
    full = line(2, "I_Z = I_R - 0 = 18 mA", Code.FOLLOWS, "I_Z", 0.018, shown=Shown(operations=1, figures=2))
    assert won(marks(Scheme("", (R_MAX, I_Z)), slip, full)) == "R_MAX M0 A0, I_Z M1 M1 A1"


def test_a_current_that_a_wrong_state_makes_nought_wins_nothing():
    """[SQA-M]: nothing is left to work out where the slip makes the answer nought."""
    slip = line(1, "R_MAX = 163 Ω", Code.FAILS, "R_MAX", 163.0, why="wrong")
    nought = line(2, "I_Z = 0", Code.FOLLOWS, "I_Z", 0.0, shown=replace(BARE, value=0.0))
    given = marks(Scheme("", (R_MAX, I_Z)), slip, nought)
    assert entry(given, "I_Z", M).got == entry(given, "I_Z", A).got == 0
    assert "left nothing to work out here" in entry(given, "I_Z", M).why


def test_one_slip_on_the_way_costs_one_mark():
    """[AQA 3.4]: a careless line on the way keeps its method and is charged at the first value that follows."""
    slip = line(1, "I_R = 8.9/150 = 95.3 mA", Code.FAILS, "I_R", 0.0953, slip="arithmetic", why="the arithmetic")
    current = line(2, "I_Z = 95.3m - 5m = 90.3 mA", Code.FOLLOWS, "I_Z", 0.0903, why="your own values")
    power = line(3, "P_Z = 9.1 × 90.3m = 822 mW", Code.FOLLOWS, "P_Z", 0.822, why="your own values")
    given = marks(LAST, slip, current, power)
    assert won(given) == "I_Z M1 M1 A0, P_Z M1 A1"
    assert entry(given, "I_Z", A).why == "the slip of line 1 costs its one mark here: the arithmetic"


def test_a_wrong_relation_on_the_way_costs_its_own_method_mark_and_no_more():
    """[AQA 3.4]: charged where it fell, so the value that follows is credited."""
    slip = line(1, "I_R = 18/150 = 120 mA", Code.FAILS, "I_R", 0.12, slip="left-out", why="V_Z is left out")
    current = line(2, "I_Z = 120m - 5m = 115 mA", Code.FOLLOWS, "I_Z", 0.115, why="your own values")
    assert won(marks(LAST, slip, current)) == "I_Z M0 M1 A1, P_Z M0 A0"


def test_a_slip_that_is_mended_costs_nothing():
    """Award for what is right: a line put right before anything rests on it is not charged."""
    slip = line(1, "I_X = 1 A", Code.FAILS, "I_X", 1.0, slip="arithmetic", why="the arithmetic")
    mended = line(2, "I_X = 2 A", Code.HOLDS_HERE, "I_X", 2.0)
    assert won(marks(LAST, slip, CURRENT)) == "I_Z M1 M1 A0, P_Z M0 A0"
    assert won(marks(LAST, slip, mended, CURRENT)) == "I_Z M1 M1 A1, P_Z M0 A0"


def test_the_same_datum_copied_wrongly_again_is_the_same_slip():
    """[AQA 3.4]: one slip, one mark, however often the wrong datum is used; another wrong datum is another slip."""
    why = "V_Z is 9.1 V: copied wrongly here"
    first = line(1, "I_Z = (18-8.1)/150 - 5m = 61 mA", Code.FAILS, "I_Z", 0.061, slip="copied", why=why)
    again = line(2, "P_Z = 8.1 × 61m = 494 mW", Code.FAILS, "P_Z", 0.494, slip="copied", why=why)
    assert won(marks(LAST, first, again)) == "I_Z M1 M1 A0, P_Z M1 A1"
    other = replace(again, why="I_L is 5 mA: copied wrongly here")
    assert won(marks(LAST, first, other)) == "I_Z M1 M1 A0, P_Z M1 A0"


def test_a_right_number_from_a_wrong_relation_earns_nothing():
    """[SQA], marking symbols of 2013: wrong physics; also when the line's arithmetic hides it."""
    given = marks(BOUND, line(1, "R_MAX = V_Z/I_L = 140 Ω", Code.FAILS, "R_MAX", 140.0, slip="symbol", why="not so"))
    assert won(given) == "R_MAX M0 A0"
    assert entry(given, "R_MAX", A).why == "the number is right and the line is not: not so"
    hidden = line(1, "R_MAX = 4.9/30m = 140 Ω", Code.FAILS, "R_MAX", 140.0, slip="arithmetic", why="comes to 163")
    assert won(marks(BOUND, hidden)) == "R_MAX M0 A0"


def test_what_substitutes_into_ones_own_wrong_relation_is_the_same_slip():
    """[SQA]: a wrong relation and the numbers put into it are one piece of wrong physics."""
    first = line(1, "R = (V_I - V_Z)/I_L", Code.FAILS, "R", why="I_ZK is left out")
    put_in = line(2, "R = 4.9/30m = 163 Ω", Code.FOLLOWS, "R", 163.0, why="your own relation")
    assert won(marks(BOUND, first, put_in)) == "R_MAX M0 A0"
    given = marks(BOUND, replace(RELATION, number=3), first, put_in)
    assert won(given) == "R_MAX M1 A0"
    assert entry(given, "R_MAX", A).why == "it rests on the slip of line 1, which is its own"


def test_a_value_that_drifts_by_early_rounding_is_credited():
    """Common practice: it follows from the learner's own rounded line, and nothing is charged."""
    current = line(1, "I_Z = 68m - 5m = 63 mA", Code.HOLDS_HERE, "I_Z", 0.063)
    power = line(2, "P_Z = 9.1 × 63m = 573 mW", Code.FOLLOWS, "P_Z", 0.573, why="right with your own values above")
    assert marks(LAST, current, power).got == 5
    assert marks(LAST, current, power, rules=MarkRules(follow_through=False)).got == 5


def test_a_right_answer_alone_wins_full_marks_and_says_what_went_unseen():
    """[AQA], [KEY]: working is looked at when the answer is wrong; unless the task says "show"."""
    bare = line(1, "I_Z = 63.5 mA", Code.HOLDS_HERE, "I_Z", 0.0635, shown=BARE)
    given = marks(LAST, bare)
    assert won(given).startswith("I_Z M1 M1 A1")
    assert [item.why for item in given.ledger[:2]] == [
        "implied by the line of the value; unseen: Ohm's law for R: I_R = (V_I_MAX - V_Z)/R",
        "implied by the right value; unseen: Current law at the output node: I_Z = I_R - I_L",
    ]
    asked = marks(LAST, bare, rules=MarkRules(working_asked=True))
    assert won(asked).startswith("I_Z M0 M0 A0")
    assert entry(asked, "I_Z", M).why.startswith("working is asked for and went unseen")


def test_another_route_is_credited():
    """[SQA-M]: the spirit of the scheme: one relation for all, or another arrangement of it, is as good."""
    whole = line(1, "P_Z = V_Z ((V_I-V_Z)/R - I_L)", Code.HOLDS, "P_Z", shown=Shown(names=("P_Z", "V_Z", "R")))
    current = line(1, "I_Z = (V_I-V_Z)/R - I_L", Code.HOLDS, "I_Z", shown=Shown(names=("I_Z", "V_I", "V_Z", "R")))
    assert won(marks(LAST, whole)) == "I_Z M0 M0 A0, P_Z M1 A0"
    assert won(marks(LAST, current)) == "I_Z M1 M1 A0, P_Z M0 A0"
    turned = line(1, "V_I - V_Z = R (I_L + I_Z)", Code.HOLDS, shown=Shown(names=("V_I", "V_Z", "R", "I_L", "I_Z")))
    assert won(marks(BOUND, turned, KNEE_LOST)) == "R_MAX M1 A0"


def test_the_last_of_two_answers_counts():
    """[AQA], list rule: a wrong alternative beside a right one is not accepted; ask which is meant."""
    wrong = line(3, "R_MAX = 163 Ω", Code.FAILS, "R_MAX", 163.0, why="too large", shown=BARE)
    given = marks(BOUND, RIGHT_BOUND, wrong)
    assert won(given) == "R_MAX M1 A0"
    assert entry(given, "R_MAX", A).why == "a wrong answer stands beside the right one, and the last counts: too large"
    mended = marks(BOUND, KNEE_LOST, replace(RIGHT_BOUND, number=3))
    assert won(mended) == "R_MAX M1 A1"
    assert entry(mended, "R_MAX", A).why == (
        "the right value; line 2 says otherwise and the last counts: strike out the one not meant"
    )
    good = line(1, "choose R = 120 Ω", Code.CHOICE_OK, "R", 120.0, chosen=True)
    bad = line(2, "choose R = 150 Ω", Code.CHOICE_BAD, "R", 150.0, why="above R_MAX", chosen=True)
    assert entry(marks(SAMPLE, good, bad), "R", B).why == (
        "a wrong choice stands beside the right one, and the last counts: above R_MAX"
    )
    assert entry(marks(SAMPLE, bad, replace(good, number=3)), "R", B).got == 1


@pytest.mark.parametrize(("value", "got"), [(82.0, 1), (100.0, 1), (130.0, 1), (150.0, 0)])
def test_any_value_of_the_range_is_right(value: float, got: int):
    """[KEY], range answers: a bare value of the part to be chosen counts as its choice, in words or not."""
    code = Code.HOLDS_HERE if got else Code.FOLLOWS
    given = marks(SAMPLE, line(1, f"R = {value} Ω", code, "R", value, shown=BARE))
    assert entry(given, "R", B).got == got


def test_another_legal_choice_wins_every_mark_after_it():
    """Common practice for design answers: what follows is held against the learner's own choice, not the model's."""
    chosen = line(1, "choose R = 100 Ω", Code.CHOICE_OK, "R", 100.0, chosen=True)
    current = line(2, "I_Z = 8.9/100 - 5m = 84 mA", Code.HOLDS_HERE, "I_Z", 0.084)
    power = line(3, "P_Z = 9.1 × 84m = 764 mW", Code.HOLDS_HERE, "P_Z", 0.764)
    assert won(marks(SAMPLE, chosen, current, power)) == "R_MAX M0 A0, R B1, I_Z M1 M1 A1, P_Z M1 A1"
    told = [replace(item, answers=answers) for item, answers in ((current, ("I_Z",)), (power, ()))]
    assert won(marks(SAMPLE, chosen, *told)).endswith("I_Z M1 M1 A1, P_Z M0 A0")


def test_a_value_at_another_corner_is_true_but_not_the_answer():
    """A power at full load is no answer to the greatest power, though the line holds; nor does it spoil a right one."""
    at_full_load = line(1, "P_Z = 9.1 × 38.5m = 350 mW", Code.HOLDS_HERE, "P_Z", 0.35)
    given = marks(LAST, at_full_load)
    assert won(given).endswith("P_Z M0 A0")
    assert entry(given, "P_Z", A).why == "true, but not the value that is asked for"
    right = line(2, "P_Z = 9.1 × 63.5m = 578 mW", Code.HOLDS_HERE, "P_Z", 0.578)
    assert won(marks(LAST, right, replace(at_full_load, number=3))).endswith("P_Z M1 A1")


def test_one_relation_serves_two_bounds_once_each_is_tried():
    """A relation without a corner is method for the bound in hand; for the other not before it is taken up."""
    low = line(3, "R >= 8.9/35m = 254 Ω", Code.FAILS, "R_MIN", 254.0, slip="corner", why="the wrong corner")
    assert won(marks(BOUNDS, RELATION)) == "R_MAX M1 A0, R_MIN M0 A0"
    assert won(marks(BOUNDS, RELATION, KNEE_LOST, low)) == "R_MAX M1 A0, R_MIN M1 A0"


def test_an_unsuffixed_answer_finds_its_bound():
    """`R = 77.5 Ω` is the bound whose value it has; a wrong one the bound whose slip it is, else the next one open."""
    low = line(1, "R = 8.9/115m = 77.5 Ω", Code.HOLDS_HERE, "R", 77.5)
    assert won(marks(BOUNDS, low)) == "R_MAX M0 A0, R_MIN M1 A1"
    slip = replace(KNEE_LOST, key="R", number=2)
    assert entry(marks(BOUNDS, low, slip), "R_MAX", A).line == 2


def test_an_identity_or_an_assumed_relation_is_no_method():
    """R = R says nothing, and what holds under a hypothesis holds nowhere else."""
    same = replace(RELATION, text="R = R", shown=replace(BARE, names=("R",)))
    assert won(marks(BOUND, same)) == "R_MAX M0 A0"
    assert won(marks(BOUND, replace(RELATION, assumed=True))) == "R_MAX M0 A0"


def test_the_ledger_is_the_scheme_in_order_and_its_sum_the_marks():
    """Every mark of the scheme stands in the ledger once, whatever was written."""
    given = marks(SAMPLE, RELATION, KNEE_LOST, CHOSEN, CURRENT, POWER)
    assert [(item.waypoint, item.kind) for item in given.ledger] == [
        (point.key, mark.kind) for point in SAMPLE.points for mark in point.marks
    ]
    assert given.got == sum(item.got for item in given.ledger)
    assert given.of == SAMPLE.total == 8
    assert all(item.why for item in given.ledger)
