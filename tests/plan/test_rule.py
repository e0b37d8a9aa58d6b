"""Rules applied to numbers: what follows is worked out, what does not stays unknown, and JSON loses nothing."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tutor.plan.evaluate import PLUS, polynomial_root
from tutor.plan.plan import Step
from tutor.plan.rule import Rule, apply_rules, rules_from_json, rules_of, rules_to_json, value_of
from tutor.quantities.expression import Add, Div, Equation, Func, Mul, Neg, Num, Parallel, Pow, Sym, Val

V_I, V_Z, R, I_L, I_R, I_Z = (Sym(name) for name in ("V_I", "V_Z", "R", "I_L", "I_R", "I_Z"))
FEED = Rule("I_R", Div(Add((V_I, Neg(V_Z))), R))
REST = Rule("I_Z", Add((I_R, Neg(I_L))))
KNOWN = {"V_I": 15.0, "V_Z": 9.1, "R": 220.0, "I_L": 0.01}


def quadratic(low: float, middle: float, high: float) -> Rule:
    return Rule("x", None, (Num(low), Num(middle), Num(high)))


def test_what_a_rule_needs_is_named_once_in_order():
    """Of an expression, and of every coefficient where there is none."""
    assert Rule("P_R", Div(Pow(Add((V_I, Neg(V_Z))), 2), Mul((R, V_I)))).needs == ("V_I", "V_Z", "R")
    assert Rule("I_Z", None, (V_I, Add((R, V_Z)), R)).needs == ("V_I", "R", "V_Z")


def test_a_rule_uses_what_an_earlier_one_found():
    """(15 V − 9.1 V)/220 Ω = 26.82 mA, less 10 mA for the load."""
    values = apply_rules((FEED, REST), KNOWN)
    assert math.isclose(values["I_R"], 5.9 / 220)
    assert math.isclose(values["I_Z"], 5.9 / 220 - 0.01)
    assert {name: values[name] for name in KNOWN} == KNOWN
    assert "I_Z" not in apply_rules((REST, FEED), KNOWN), "rules are applied in their order, once"


def test_a_rule_without_a_value_does_not_stop_those_after_it():
    """What it needs is missing, or it divides by nothing: the next one stands for itself."""
    missing, nothing = Rule("eta", Div(Sym("P_O"), Sym("P_I"))), Rule("R_L", Div(V_I, Add((R, Neg(R)))))
    for silent in (missing, nothing):
        assert apply_rules((silent, FEED, REST), KNOWN).keys() == {*KNOWN, "I_R", "I_Z"}


def test_what_is_known_keeps_its_value():
    """A reading stands, whatever a rule would make of it; the first of two rules for one quantity counts."""
    assert apply_rules((FEED, REST), {**KNOWN, "I_R": 0.025})["I_Z"] == 0.025 - 0.01
    again = Rule("I_R", Num(1.0))
    assert apply_rules((FEED, again), KNOWN)["I_R"] == 5.9 / 220


def test_the_known_values_are_not_touched():
    """A fresh mapping comes back."""
    known = dict(KNOWN)
    apply_rules((FEED, REST), known)
    assert known == KNOWN


@pytest.mark.parametrize(
    ("rule", "values"),
    [
        (FEED, {"V_I": 15.0, "V_Z": 9.1}),
        (FEED, {**KNOWN, "R": 0.0}),
        (FEED, {**KNOWN, "R": math.inf, "V_I": math.inf}),
        (FEED, {**KNOWN, "R": 1e-300, "V_I": 1e300}),
        (Rule("x", Func("sqrt", V_I)), {"V_I": -1.0}),
        (Rule("x", Parallel(V_I, R)), {"V_I": 5.0, "R": -5.0}),
        (Rule("x", Pow(V_I, 40)), {"V_I": 1e300}),
        (quadratic(1.0, 0.0, 1.0), {}),
        (quadratic(1.0, 0.0, 0.0), {}),
        (Rule("x", None, (Num(1.0), Num(2.0), Num(3.0), Num(4.0))), {}),
        (Rule("x", None, (Num(1.0), V_I, Num(1.0))), {}),
    ],
)
def test_what_has_no_finite_value_stays_unknown(rule: Rule, values: dict[str, float]):
    """A missing name, a division by zero, an overflow, a root of less than zero, a degree above two: no exception."""
    assert value_of(rule, values) is None
    assert apply_rules((rule,), values) == values


@given(*(st.floats(-1e6, 1e6, allow_subnormal=False) for _ in range(3)))
def test_the_root_is_that_of_the_compiled_plans(low: float, middle: float, high: float):
    """A rule and a compiled plan give the same root, to the bit; where there is none the rule has no value."""
    told = float(polynomial_root([low, middle, high], PLUS))
    found = value_of(quadratic(low, middle, high), {})
    assert found == told if math.isfinite(told) else found is None


@given(st.floats(-1e3, 1e3), st.floats(1e-3, 1e3), st.floats(0.01, 100))
def test_the_root_solves_its_equation(first: float, apart: float, scale: float):
    """Of scale·(x − a)(x − b) the greater root is taken."""
    a, b = first, first + apart
    found = value_of(quadratic(scale * a * b, -scale * (a + b), scale), {})
    assert found is not None
    assert math.isclose(found, b, rel_tol=1e-6, abs_tol=1e-6)


def test_steps_become_rules():
    """A direct step keeps its expression; one of higher degree its coefficients."""
    law = Equation(I_R, I_Z)
    direct = Step("I_Z", "kcl", "", "", law, I_R, coefficients=(I_R, Num(-1.0)))
    squared = Step("I_R", "power", "", "", law, None, coefficients=(V_I, V_Z, R))
    assert rules_of([direct, squared]) == (Rule("I_Z", I_R), Rule("I_R", None, (V_I, V_Z, R)))


def test_rules_survive_json():
    """Through text and back: expressions of every kind, and coefficients."""
    every = Add((Neg(Val(5.1, "V", 3)), Func("sqrt", Parallel(V_I, R)), Mul((Num(2.0), Pow(I_L, 3)))))
    rules = (FEED, Rule("x", every), Rule("I_Z", None, (V_I, every, R)))
    assert rules_from_json(json.loads(json.dumps(rules_to_json(rules)))) == rules


@pytest.mark.parametrize("data", [[["I_Z"]], [["I_Z", None]], [["I_Z", ["?", 1]]], [["I_Z", None, 5]], [3]])
def test_malformed_rules_are_refused(data: list[object]):
    """The store treats each of these as nothing stored."""
    with pytest.raises((ValueError, TypeError, IndexError)):
        rules_from_json(data)
