"""What no line may escape: a true one however rewritten is never wrong, a false one never right, nothing raises."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.solution.at_hand import LEVELS, MOST_NUMBERS, around, sheet
from tests.working import rewriting
from tests.working.rewriting import (
    REWRITINGS,
    changed,
    conventions_of,
    exact_point,
    exactly,
    is_true,
    subtrees,
    true_lines,
    with_numbers,
)
from tests.working.spelling import Typist
from tutor.quantities.expression import Equation, Sym, Val, children, evaluate, replace_subtree, size, symbols_of
from tutor.quantities.quantity import write
from tutor.solution.desk import our_desk
from tutor.working import amount
from tutor.working.check import check_working
from tutor.working.finding import WRONG, Code
from tutor.working.follow import same_shape
from tutor.working.ground import Ground
from tutor.working.read import read_line
from tutor.working.tree import LineKind
from tutor.working.vocabulary import Vocabulary
from tutor.working.world import expand

# The suite takes the same examples everywhere; a longer run (STEADYRAIL_NUMBERS=50) takes many more, fresh.
LONG = MOST_NUMBERS > 5
STEADY = settings(
    deadline=None, derandomize=not LONG, database=None, suppress_health_check=[HealthCheck.too_slow,
    HealthCheck.filter_too_much, HealthCheck.data_too_large],
)  # fmt: skip
EXAMPLES = 3000 if LONG else 120
NAMES = [f"{family}:{level}:{number}" for family, level in LEVELS for number in (1, 2)]
BAD = {*WRONG, Code.UNREAD}
LARGEST = 40  # nodes on a side: a learner's line, not a page


def code_of(text: str, name: str) -> tuple[Code, str]:
    last = check_working(text, sheet(name)).findings[-1]
    return last.code, f"{name}: {text!r}: {last.code.value}: {last.why}"


@st.composite
def rewritten(draw: st.DrawFn, name: str, most: int = 3) -> Equation:
    """A true relation of a problem's circuit, rewritten up to `most` times."""
    equation = draw(st.sampled_from(true_lines(name)))
    alive = nowhere_zero(name)
    for _ in range(draw(st.integers(0, most))):
        near = [item for item in symbols_of(equation.lhs) + symbols_of(equation.rhs) if item in alive]
        if near:
            equation = draw(st.sampled_from(REWRITINGS))(equation, draw, near)
    assume(max(size(equation.lhs), size(equation.rhs)) <= LARGEST)
    return equation


def nowhere_zero(name: str) -> list[str]:
    """The quantities that vanish at no operating point: what may be divided by."""
    worlds = (*around(name).near, *around(name).generic)
    values = [item.values for world in worlds for item in world.situations]
    names = dict.fromkeys(key for item in values for key in item)
    return [key for key in names if all(abs(item.get(key, 1.0)) > 1e-9 for item in values)]


# Whose problems all neglect a current, or count a gain that the circuit does not have, or may unplug their load.
NOT_STRICT = {
    "current-limit", "foldback", "heat-path-regulator", "heat-path-raw-supply", "opamp-series-direct",
    "opamp-series-zener", "feedback-pair-fed", "heat-path-free-air", "whole-supply-follower",
    "whole-supply-three-terminal", "full-regulator", "prestabilised-zener",
}  # fmt: skip


@cache
def strict_names() -> tuple[str, ...]:
    """Problems in which nothing vanishes at some corner alone: there a term left out may be no slip."""
    found = []
    for name in NAMES:
        if conventions_of(name):  # the points below are those of the circuit's own conventions
            continue
        idle = [key for key, value in exact_point(name, iter([Fraction(1000 + at, 997) for at in range(30)])).items()
                if value == 0]  # fmt: skip
        worlds = (*around(name).near, *around(name).generic)
        seen = {key for world in worlds for item in world.situations for key in item.values}
        if seen - {*nowhere_zero(name), *idle} == set():
            found.append(name)
    return tuple(found)


@settings(STEADY, max_examples=EXAMPLES)
@given(st.data())
def test_a_true_relation_rewritten_holds(data: st.DataObject):
    """Symbols alone, by any identities and in any spelling: never anything but `holds`."""
    name = data.draw(st.sampled_from(NAMES))
    equation = data.draw(rewritten(name))
    typist = Typist(data.draw, sheet(name))
    text = f"{typist.text(equation.lhs)} = {typist.text(equation.rhs)}"
    code, told = code_of(text, name)
    assert code is Code.HOLDS, told


@settings(STEADY, max_examples=EXAMPLES)
@given(st.data())
def test_a_true_relation_with_numbers_in_it_is_never_wrong(data: st.DataObject):
    """Some givens of one corner put in as numbers, and what it comes to at the end."""
    name = data.draw(st.sampled_from(NAMES))
    equation = data.draw(rewritten(name, 2))
    text = numbered(data, name, equation)
    code, told = code_of(text, name)
    assert code not in BAD, told


def numbered(data: st.DataObject, name: str, equation: Equation) -> str:
    """The relation as typed, with numbers in place of givens at one corner."""
    told = sheet(name)
    world = around(name).near[0]
    plain = [place for place in range(len(world.situations) - world.moved) if world.situations[place].words]
    env = {**told.env, **{item.key: item.model for item in told.choices}}
    corners = expand(told.recipe, env, told.ends).situations
    values = corners[data.draw(st.sampled_from(plain or [0]))].values
    names = set(symbols_of(equation.lhs)) | set(symbols_of(equation.rhs))
    assume(names <= set(values))
    known = {item for item in told.recipe.known if item in told.given or item in told.recipe.ranges}
    chosen = data.draw(st.lists(st.sampled_from(sorted(names)), unique=True)) if names else []
    numbers = {
        item: Val(values[item], told.symbols[item], 6)
        for item in chosen
        if item in known and f"{values[item] * 1e6:.6g}" == f"{values[item] * 1e6:.12g}"
    }
    put = with_numbers(equation, numbers)
    # A lone number beside a lone symbol is a choice or a copied datum: not what is tried here.
    assume(children(put.lhs) or children(put.rhs))
    assume(any(symbols_of(side) for side in (put.lhs, put.rhs)))
    typist = Typist(data.draw, told)
    text = f"{typist.text(put.lhs)} = {typist.text(put.rhs)}"
    if isinstance(put.lhs, Sym) and data.draw(st.booleans()):
        text += f" = {write(values[put.lhs.name], told.symbols[put.lhs.name], figures=4)}"
    return text.replace("\u00a0", " ")


@settings(STEADY, max_examples=EXAMPLES // 2)
@given(st.data())
def test_a_part_named_by_the_learner_changes_nothing(data: st.DataObject):
    """Any part of a true relation under a name of the learner's own, defined on the line before."""
    name = data.draw(st.sampled_from(NAMES))
    equation = data.draw(rewritten(name, 2))
    parts = [item for side in (equation.lhs, equation.rhs) for item in subtrees(side)]
    assume(parts)
    part = data.draw(st.sampled_from(parts))
    assume(symbols_of(part))
    own = Sym("kappa")
    put = Equation(replace_subtree(equation.lhs, part, own), replace_subtree(equation.rhs, part, own))
    typist = Typist(data.draw, sheet(name), own=("kappa",))
    first = f"kappa = {Typist(data.draw, sheet(name)).text(part)}"
    text = f"{first}\n{typist.text(put.lhs)} = {typist.text(put.rhs)}"
    findings = check_working(text, sheet(name)).findings
    assert findings[0].code is Code.DEFINES, (name, text, findings[0].why)
    assert findings[1].code not in BAD, (name, text, findings[1].why)


@settings(STEADY, max_examples=EXAMPLES)
@given(st.data())
def test_a_relation_with_one_thing_changed_is_not_called_right(data: st.DataObject):
    """Unless it is still true at fresh random operating points, or a declared approximation that is small here."""
    name = data.draw(st.sampled_from(strict_names()))
    equation = data.draw(rewritten(name, 1))
    told = sheet(name)
    sides = [side for line in true_lines(name) for side in (line.lhs, line.rhs)]
    quantities = sorted({item for side in sides for item in symbols_of(side)})

    def like(symbol: str) -> list[str]:
        return [item for item in quantities if told.symbols.get(item) == told.symbols.get(symbol)]

    wrong = Equation(equation.lhs, changed(equation.rhs, data.draw, like))
    shares = iter([Fraction(data.draw(st.integers(700, 1300)), 1000 + place) for place in range(40)])
    points = [exact_point(name, shares) for _ in range(3)]
    typist = Typist(data.draw, told)
    text = f"{typist.text(wrong.lhs)} = {typist.text(wrong.rhs)}"
    code, why = code_of(text, name)
    if is_true(wrong, points):
        nothing = exactly(wrong.lhs, points[0]) == 0  # 0 W = 0 A is true, and its units clash all the same
        assert code in (Code.HOLDS, Code.HOLDS_HERE) or (nothing and code is Code.UNITS), why
    elif code is Code.HOLDS_HERE and told.conventions:
        assert error_here(wrong, name) <= 0.05, why
    else:
        assert code in (Code.FAILS, Code.UNITS), why


def error_here(equation: Equation, name: str) -> float:
    """By how much two sides differ at best among the problem's own operating points, as a share of the larger."""
    errors = []
    for case in Ground(around(name), {}).cases:
        for situation in case.world.situations:
            try:
                left, right = (evaluate(side, situation.values) for side in (equation.lhs, equation.rhs))
            except (KeyError, ZeroDivisionError):
                continue
            errors.append(abs(left - right) / max(abs(left), abs(right), 1e-12))
    return min(errors, default=math.inf)


TOKENS = [
    "V_I", "V_Z", "I_Z", "I_L", "R", "R_L", "V_O", "P_Z", "R_MAX", "I_Z_MIN", "ΔV_O", "dV_I", "kappa", "x", "β", "A",
    "5", "0", "12", "5m", "5 mA", "270R", "2k7", "1e9", "9.1 V", "0,5", "10^-3", "∞", "nan", "%", "1 000", "½",
    "+", "-", "−", "*", "×", "/", "||", "∥", "^", "**", "²", "√", "(", ")", "[", "]", "±", ",", ";", ":", ".", "?", "!",
    "=", "≈", "<", ">", "≤", "≥", "<=", ":=", "=>", "∴", "so", "hence", "assume", "suppose", "if", "choose", "take",
    "the zener is off", "so not", "not", "min", "max", "sqrt", "ln", "exp(", "abs(", "of", "per", "\t",
    "\u202f", "\u0000",
]  # fmt: skip
random_lines = st.lists(st.sampled_from(TOKENS), max_size=25).flatmap(
    lambda items: st.sampled_from(("", " ")).map(lambda gap: gap.join(items))
)
workings = st.lists(st.one_of(random_lines, st.text(max_size=60)), max_size=6).map("\n".join)


@settings(STEADY, max_examples=EXAMPLES)
@given(text=workings, name=st.sampled_from(NAMES[::5]))
def test_nothing_typed_raises_and_every_line_is_answered(text: str, name: str):
    """One finding a line that is not blank, each with a code, a sentence where one is due, and columns inside it."""
    findings = check_working(text, sheet(name)).findings
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    vocabulary = Vocabulary(frozenset(sheet(name).symbols))
    filled = [place for place, line in enumerate(lines, 1) if read_line(line, vocabulary).kind is not LineKind.BLANK]
    assert [item.number for item in findings] == filled
    for item in findings:
        assert item.text == lines[item.number - 1]
        assert item.why or item.code in (Code.HOLDS, Code.HOLDS_HERE), item
        if item.columns is not None:
            assert 1 <= item.columns[0] <= item.columns[1] <= len(item.text) + 1, item


MOST_WORK = 400_000  # nodes worked out for one line, whatever it says
HARD = [
    "I_Z = (27-12)/(270+33) - 12m + 0.002*15*3/4*17 = 15 mA",
    "I_Z = " + " + ".join(f"{place} mA" for place in range(1, 40)),
    "P_R_MAX = (26.5-9.1)^2/270*(1+0.05)*(2+33)*77*81*22 = 3 W",
    "DV_O = DV_I R/(R + R_L) DI_L/I_L",
    "I_Z = " + "(" * 20 + "V_I" + ")" * 20 + "/R" + " + I_L" * 30,
    "V_I = " + " + ".join(["V_I", "V_Z", "V_O", "V_I - V_Z"] * 9),
    "I_Z = 5 = 5m = 5 mA = 0.005 = 5 mA = 5 = 5m = 6",
    "47 K + 47 K + 47 K + 47 K + 47 K = 5 K",
    "max(" + ", ".join(["I_Z", "I_L"] * 20) + ") = 3 mA",
    "R = 1/(1/R_L + 1/R + 1/R_L + 1/R + 1/R_L + 1/R + 1/R_L)",
]  # fmt: skip


@pytest.mark.parametrize("name", ["zener-resistor:2:1", "follower-design:2:1", "zener-slope:3:1"])
@pytest.mark.parametrize("line", HARD)
def test_a_line_is_answered_after_a_bounded_count_of_work(line: str, name: str, monkeypatch: pytest.MonkeyPatch):
    """Lines made to have many readings: the nodes worked out are counted, so that no machine's speed matters."""
    assert 0 < work_of(line, name, monkeypatch) <= MOST_WORK or code_of(line, name)[0] in (Code.UNITS, Code.UNREAD)


def work_of(text: str, name: str, monkeypatch: pytest.MonkeyPatch) -> int:
    """How many nodes are worked out while a working is checked."""
    counted = 0

    def counting(plain):
        def counted_one(*arguments):
            nonlocal counted
            counted += 1
            return plain(*arguments)

        return counted_one

    with monkeypatch.context() as patch:
        # A tree at one place, and the nodes of a tree made ready for many.
        patch.setattr(amount, "_work", counting(amount._work))
        patch.setattr(amount, "_joined", counting(amount._joined))
        check_working(text, sheet(name))
    return counted


@settings(STEADY, max_examples=EXAMPLES // 3)
@given(line=random_lines, name=st.sampled_from(NAMES[::5]))
def test_random_lines_take_a_bounded_count_of_work(line: str, name: str):
    """The same bound for whatever the tokens above make."""
    with pytest.MonkeyPatch.context() as patch:
        assert work_of(line, name, patch) <= MOST_WORK


def test_the_means_above_can_tell_true_from_false():
    """The evaluation in fractions, the typist and the changes: a law is true, the law with a sign turned is not."""
    name = "zener-state:2:1"
    points = [exact_point(name, iter([Fraction(1000 + 7 * place, 1001) for place in range(9)]))]
    for line in true_lines(name):
        assert is_true(line, points)
    (law,) = [line for line in true_lines(name) if line.lhs == Sym("I_R") and "I_Z" in symbols_of(line.rhs)]
    assert not is_true(Equation(law.lhs, rewriting.Neg(law.rhs)), points)
    assert not is_true(Equation(law.lhs, Sym("I_Z")), points)
    assert len(true_lines(name)) > 10
    vocabulary = Vocabulary(frozenset(sheet(name).symbols))
    typed, other = (read_line(text, vocabulary).members[0] for text in ("V_{Z} I_Z", "Vz × iz"))
    assert same_shape(typed, other)


def test_enough_problems_are_strict():
    """Each circuit is among those in which changed relations are tried, but those that cannot be."""
    assert {sheet(name).circuit for name in strict_names()} == set(our_desk().folder.circuit_ids()) - NOT_STRICT
    assert len(strict_names()) >= 8


@pytest.mark.parametrize("line", ["I_Z = (V_I_MAX - V_Z)/R", "I_Z = I_R", "I_Z = (V_I - V_Z)/R - I_B"])
def test_at_no_load_the_load_may_be_left_out(line: str):
    """follower-design:2:1 has I_L_MIN = 0: at the lightest load the zener has all the current of R."""
    assert sheet("follower-design:2:1").given["I_L_MIN"] == 0
    assert code_of(line, "follower-design:2:1")[0] is Code.HOLDS


@pytest.mark.parametrize("line", ["I_Z = (V_I - V_Z)/R + I_B", "I_Z = (V_I - V_Z)/R + I_L"])
def test_a_symbol_written_must_be_right_where_it_is_not_zero(line: str):
    """At no load these merely fit a number; a learner who writes the term has turned its sign."""
    assert code_of(line, "follower-design:2:1")[0] is Code.FAILS


def test_a_number_beside_it_makes_no_difference():
    """The same with a factor that is no small whole number."""
    assert code_of("I_R = I_Z - 77 I_L", "follower-design:2:1")[0] is Code.FAILS


def test_a_turned_sign_is_told_as_one():
    """I_B added where it is to be taken off, whatever other books neglect."""
    line = check_working("I_Z = (V_I - V_Z)/R + I_B", sheet("follower-design:2:1")).findings[0]
    assert line.slip == ("sign",), line.why


@pytest.mark.parametrize("line", ["I_I = I_R + I_C", "P_R = V_R I_R"])
def test_every_symbol_of_the_circuit_can_be_written(line: str):
    """follower-state:1 gives neither V_I nor R, yet these laws hold of its circuit."""
    assert code_of(line, "follower-state:1:1")[0] is Code.HOLDS


@pytest.mark.parametrize(
    ("line", "name"),
    [("I_R - I_Z - I_L = 0", "zener-slope:1:1"), ("0 = I_Z + I_B - I_R", "follower-state:1:1"),
     ("I_R - I_Z - I_L = 0", "zener-state:2:1"), ("I_Z = 0", "zener-state:1:1"),
     ("(V_I - V_Z)/(I_R R) = 1", "zener-state:2:1")],
)  # fmt: skip
def test_a_side_of_nothing_but_a_whole_number_is_still_a_relation_between_symbols(line: str, name: str):
    """The current law with 0 on one side is true of the circuit, whatever the problem leaves open."""
    assert code_of(line, name)[0] is Code.HOLDS
