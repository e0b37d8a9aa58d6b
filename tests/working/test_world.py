"""Worlds expanded from recipes: every corner, every thing asked at the corner that decides it, every fixed name."""

from __future__ import annotations

import itertools
import math

import pytest

from tests.solution.at_hand import sheet
from tutor.plan.rule import Rule, value_of
from tutor.quantities.expression import Add, Div, Mul, Neg, Num, Sym
from tutor.solution.sheet import AskRecipe, ReadingRecipe, Recipe
from tutor.working.world import World, expand

V_I, V_Z, R, I_L, I_Z = (Sym(name) for name in ("V_I", "V_Z", "R", "I_L", "I_Z"))
# A shunt regulator in two laws, written out here by hand.
FEED = Rule("I_Z", Add((Div(Add((V_I, Neg(V_Z))), R), Neg(I_L))))
POWER = Rule("P_Z", Mul((V_Z, I_Z)))
ENDS = {"V_I": ("the lowest line", "the highest line"), "I_L": ("the lightest load", "the fullest load")}
ENV = {"V_I_MIN": 12.0, "V_I_MAX": 16.0, "I_L_MIN": 0.005, "I_L_MAX": 0.02, "V_Z": 9.1, "R": 100.0}
PLAIN = Recipe("breakdown", ("V_Z", "R", "V_I", "I_L"), ("V_I", "I_L"), (), (), (FEED, POWER), (), ())


def zener_current(v_i: float, i_l: float, r: float = 100.0, v_z: float = 9.1) -> float:
    return (v_i - v_z) / r - i_l


def asked(world: World, key: str) -> float:
    return world.views[0][key]


def with_asks(*asks: AskRecipe, **changes: object) -> Recipe:
    return Recipe(**{**PLAIN.__dict__, "asks": asks, **changes})


def test_every_corner_of_what_ranges_is_a_situation():
    """The first of the ends first; each with its words and with everything that follows there."""
    world = expand(PLAIN, ENV, ENDS)
    told = [(item.words, item.values["V_I"], item.values["I_L"]) for item in world.situations]
    assert told == [
        ("the lowest line, the lightest load", 12.0, 0.005), ("the lowest line, the fullest load", 12.0, 0.02),
        ("the highest line, the lightest load", 16.0, 0.005), ("the highest line, the fullest load", 16.0, 0.02),
    ]  # fmt: skip
    for item in world.situations:
        assert math.isclose(item.values["I_Z"], zener_current(item.values["V_I"], item.values["I_L"]))
        assert math.isclose(item.values["P_Z"], 9.1 * item.values["I_Z"])


def test_fixed_names_are_the_extremes_over_the_corners():
    """I_Z_MIN at low line and full load, I_Z_MAX at the other; givens as they are."""
    world = expand(PLAIN, ENV, ENDS)
    for view in world.views:
        assert math.isclose(view["I_Z_MIN"], zener_current(12.0, 0.02))
        assert math.isclose(view["I_Z_MAX"], zener_current(16.0, 0.005))
        assert view["V_I_MIN"] == 12.0 and view["V_I_MAX"] == 16.0
        assert view["V_Z_MIN"] == view["V_Z_MAX"] == 9.1


def test_a_base_without_its_ends_does_not_range():
    """What the env leaves open stays unknown; nothing is raised."""
    world = expand(PLAIN, {"V_Z": 9.1, "I_L_MIN": 0.005, "I_L_MAX": 0.02}, ENDS)
    assert len(world.situations) == 2
    assert all(set(item.values) == {"V_Z", "I_L"} for item in world.situations)


def test_words_of_a_base_without_any():
    """The circuit says none for R_L: the least R_L."""
    recipe = Recipe("", ("R_L",), ("R_L",), (), (), (), (), ())
    world = expand(recipe, {"R_L_MIN": 100.0, "R_L_MAX": 470.0}, {})
    assert [item.words for item in world.situations] == ["the least R_L", "the greatest R_L"]


@pytest.mark.parametrize(("greatest", "corner"), [(True, (16.0, 0.005)), (False, (12.0, 0.02))])
def test_an_extreme_is_found_at_the_corner_that_decides(greatest: bool, corner: tuple[float, float]):
    """The greatest I_Z at high line and no load; which end each base took is kept."""
    ask = AskRecipe(
        "I_ZX", "I_Z", (("V_Z", V_Z), ("R", R)), ("V_I", "I_L"), greatest, (), (FEED,),
    )  # fmt: skip
    world = expand(with_asks(ask), ENV, ENDS)
    assert math.isclose(asked(world, "I_ZX"), zener_current(*corner))
    assert world.picks["I_ZX"] == ((1, 0) if greatest else (0, 1))
    assert world.situations[-1].words == ("the highest line, the lightest load" if greatest else
                                          "the lowest line, the fullest load")  # fmt: skip


def test_an_extreme_inside_a_range_is_found_where_the_slope_vanishes():
    """Of x (10 − x) the greatest lies at 5, between the ends 2 and 9; at an end beyond it when 5 is outside."""
    product = Rule("P_O", Mul((I_L, Add((Num(10), Neg(I_L))))))
    ask = AskRecipe("P_O_MAX", "P_O", (), ("I_L",), True, (("I_L", Num(5.0)),), (product,))
    recipe = Recipe("", (), (), (), (), (), (), (ask,))
    inside = expand(recipe, {"I_L_MIN": 2.0, "I_L_MAX": 9.0}, {})
    assert (asked(inside, "P_O_MAX"), inside.picks["P_O_MAX"]) == (25.0, (2,))
    assert inside.situations[-1].words == "I_L inside its range"
    outside = expand(recipe, {"I_L_MIN": 6.0, "I_L_MAX": 9.0}, {})
    assert (asked(outside, "P_O_MAX"), outside.picks["P_O_MAX"]) == (24.0, (0,))


def test_one_ask_may_rest_on_another_and_on_a_choice():
    """I_ZM from the rating, then the bound on R from it; without a value it needs an ask stays unknown."""
    rating = AskRecipe("I_ZM", "I_ZM", (("P_ZM", Sym("P_ZM")), ("V_Z", V_Z)), (), None, (),
                       (Rule("I_ZM", Div(Sym("P_ZM"), V_Z)),))  # fmt: skip
    bound = AskRecipe(
        "R_MIN", "R", (("V_Z", V_Z), ("I_Z", Sym("I_ZM"))), ("V_I", "I_L"), True, (),
        (Rule("R", Div(Add((V_I, Neg(V_Z))), Add((I_L, I_Z)))),), ">=",
    )  # fmt: skip
    world = expand(with_asks(rating, bound), {**ENV, "P_ZM": 1.0}, ENDS)
    assert math.isclose(asked(world, "R_MIN"), (16 - 9.1) / (1 / 9.1 + 0.005))
    assert all(math.isclose(view["R_MIN"], asked(world, "R_MIN")) for view in world.views)
    open_one = expand(with_asks(rating, bound), ENV, ENDS)
    assert not {"I_ZM", "R_MIN"} & (set(open_one.picks) | set(open_one.situations[0].values))


def test_readings_are_situations_of_their_own():
    """At reading 1 its own quantities stand under plain names; what follows there carries the index in the views."""
    slope = Rule("V_Z", Add((Sym("V_Z0"), Mul((Sym("r_z"), I_Z)))))
    readings = tuple(ReadingRecipe(index, ("I_Z",), (slope,)) for index in ("1", "2"))
    recipe = Recipe("", ("V_Z0", "r_z"), (), (), (), (), readings, ())
    world = expand(recipe, {"V_Z0": 5.0, "r_z": 10.0, "I_Z_1": 0.01, "I_Z_2": 0.03}, {})
    assert [item.words for item in world.situations] == ["", "reading 1", "reading 2"]
    assert [item.values["V_Z"] for item in world.situations[1:]] == [5.1, 5.3]
    assert world.views[0]["V_Z_1"] == 5.1 and world.views[0]["V_Z_2"] == 5.3


def test_a_tolerance_is_looked_at_apart():
    """Ends of a chosen part are corners of their own, told from the nominal ones; the first view leaves them out."""
    recipe = Recipe(**{**PLAIN.__dict__, "tolerances": (("R", "tol_R"),)})
    world = expand(recipe, {**ENV, "tol_R": 0.05}, ENDS)
    corners, marked = world.situations[:12], world.situations[12:]
    assert sum("top of its tolerance" in item.words for item in corners) == 4
    # The corners off the nominal value once more, with R as it is marked beside what the corner makes of the rest.
    assert [item.words for item in marked] == [item.words for item in corners if "tolerance" in item.words]
    assert world.marked == len(marked) == 8 and {item.values["R"] for item in marked} == {100.0}
    low = next(item for item in marked if "lightest load" in item.words and "bottom" in item.words)
    assert math.isclose(low.values["I_Z"], zener_current(12.0, 0.005, r=95.0))
    nominal, _, every, _ = world.views
    assert math.isclose(nominal["I_Z_MAX"], zener_current(16.0, 0.005))
    assert math.isclose(every["I_Z_MAX"], zener_current(16.0, 0.005, r=95.0))
    assert math.isclose(every["I_Z_MIN"], zener_current(12.0, 0.02, r=105.0))


def test_a_given_change_moves_its_base():
    """DV_I given: a second situation after the change."""
    recipe = Recipe("breakdown", ("V_Z", "R", "V_I", "I_L"), (), ("V_I",), (), (FEED,), (), ())
    world = expand(recipe, {"V_I": 12.0, "DV_I": 2.0, "I_L": 0.01, "V_Z": 9.1, "R": 100.0}, ENDS)
    assert [item.values["V_I"] for item in world.situations] == [12.0, 14.0]
    assert world.situations[1].words == "after the change of V_I"


@pytest.mark.parametrize("name", ["zener-resistor:2:1", "zener-resistor:3:1", "follower-design:2:1", "zener-slope:3:2"])
def test_no_corner_beats_the_one_that_decides(name: str):
    """For every extreme of a problem: tried by hand at each corner of its box, none is further out."""
    told = sheet(name)
    env = {**told.env, **{item.key: item.model for item in told.choices}}
    world = expand(told.recipe, env, told.ends)
    known = {**env, **world.views[0]}
    for ask in told.recipe.asks:
        fixed = {base: known[expr.name] for base, expr in ask.inputs if isinstance(expr, Sym)}
        if len(fixed) < len(ask.inputs) or not ask.box:
            continue
        for ends in itertools.product(("MIN", "MAX"), repeat=len(ask.box)):
            values = {**fixed, **{base: known[f"{base}_{end}"] for base, end in zip(ask.box, ends, strict=True)}}
            for rule in ask.rules:
                if rule.target not in values and set(rule.needs) <= set(values) and rule.expr is not None:
                    found = value_of(rule, values)
                    if found is not None:
                        values[rule.target] = found
            there, decided = values[ask.quantity], known[ask.key]
            assert (there <= decided + 1e-12 * abs(decided)) if ask.greatest else (
                there >= decided - 1e-12 * abs(decided)
            ), (name, ask.key, ends)  # fmt: skip


def test_expanding_is_a_pure_function():
    """Twice the same, and the env untouched."""
    env = dict(ENV)
    assert expand(PLAIN, env, ENDS) == expand(PLAIN, env, ENDS)
    assert env == ENV
