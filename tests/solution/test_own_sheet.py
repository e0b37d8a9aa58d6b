"""Somebody's own numbers as a sheet: the state that `solve` finds, true lines found true, wrong ones wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

import tutor
from tests.test_light_imports import loaded
from tutor.errors import BadValue, Contradiction, SteadyrailError, UnknownName, Unreachable
from tutor.plan.rule import apply_rules
from tutor.solution.own_sheet import own_sheet
from tutor.solution.own_values import names_given
from tutor.solution.sheet import Sheet
from tutor.solution.sheets import WORLDS
from tutor.working.check import check_working
from tutor.working.finding import Code

SHUNT = {"V_I": "15V", "R": "220", "V_Z": "9.1V"}
FOLLOWER = {"V_I": "20V", "R": "220", "V_Z": "12V", "h_FE": "50"}
READINGS = {"V_I_1": "17V", "I_I_1": "0.3A", "V_I_2": "16V", "I_I_2": "0.7A"}
RANGES = {"V_I_MIN": "14V", "V_I_MAX": "18V", "I_L_MIN": "5mA", "I_L_MAX": "30mA", "R": "130", "V_Z": "9.1V"}


def codes(sheet: Sheet, text: str) -> list[str]:
    return [item.code.value for item in check_working(text, sheet).findings]


# Circuit, givens, conventions: forwards, backwards, each region, both roots of a quadratic, one given too many.
STATES: list[tuple[str, dict[str, str | float], dict[str, str]]] = [
    ("zener-shunt", {**SHUNT, "R_L": "1k"}, {}),
    ("zener-shunt", {**SHUNT, "R_L": "120"}, {}),
    ("zener-shunt", {**SHUNT, "I_L": "10mA", "V_O": "9.1V"}, {}),
    ("zener-shunt", {"V_I": "15V", "R": "220", "V_Z0": "8.9V", "r_z": "6", "R_L": "1k"}, {"load-slope": "zener"}),
    ("zener-shunt", {"V_I": "15V", "R": "220", "V_Z0": "8.9V", "r_z": "6", "P_Z": "140mW"}, {}),
    ("zener-shunt", {"V_I": "15V", "R": "220", "R_L": "1k", "P_Z": "160mW"}, {}),
    ("zener-shunt", {"R": "220", "V_Z": "9.1V", "R_L": "1k", "P_I": "400mW"}, {}),
    ("source", {"V_OC": "18V", "R_S": "3", "P_O": "8W"}, {}),
    ("source", {"V_I": "16V", "R_S": "3", "P_R": "0.75W"}, {"load-regulation": "no-load"}),
    ("source", READINGS, {}),
    ("follower", {**FOLLOWER, "R_L": "1k"}, {}),
    ("follower", {**FOLLOWER, "R_L": "4"}, {}),
    ("follower", {**FOLLOWER, "V_I": "0.5V", "R_L": "1k"}, {}),
    ("follower", {**FOLLOWER, "R_L": "47"}, {"base-current": "neglected"}),
    ("follower", {**FOLLOWER, "R_L": "47"}, {"V_BE": "0.6"}),
]


@pytest.mark.parametrize(("circuit", "values", "assume"), STATES, ids=lambda item: str(item)[:60])
def test_the_state_and_every_value_are_those_that_solve_finds(
    circuit: str, values: dict[str, str | float], assume: dict[str, str]
) -> None:
    """Found without algebra, the region and the roots taken agree with the plan's, value by value."""
    answer = tutor.solve(circuit, values, (), assume)
    sheet = own_sheet(circuit, values, assume)
    assert sheet.region_words == answer.region
    assert {branch.words for branch in sheet.branches}.isdisjoint({answer.region})
    start = dict(sheet.env)
    for ask in sheet.recipe.asks:
        start = apply_rules(ask.rules, start)
    found = {**start, **apply_rules(sheet.recipe.rules, {name: start[name] for name in sheet.recipe.known})}
    compared = [name for name in answer.values if name in found]
    assert len(compared) >= 4
    for name in compared:
        assert found[name] == pytest.approx(answer.value(name).value, rel=1e-6, abs=1e-12), name


def test_the_states_above_are_of_every_kind() -> None:
    """Each region of each circuit is among them, and a root that the rules as written would not take."""
    sheets = [own_sheet(circuit, values, assume) for circuit, values, assume in STATES]
    assert {(item.circuit, item.region) for item in sheets} == {
        ("zener-shunt", "breakdown"), ("zener-shunt", "off"), ("source", "linear"),
        ("follower", "regulating"), ("follower", "starved"), ("follower", "off"),
    }  # fmt: skip
    roots = [rule for item in sheets for rule in item.recipe.rules if rule.coefficients]
    assert any(type(rule.coefficients[0]).__name__ == "Neg" for rule in roots)
    assert all(len(item.worlds) == WORLDS for item in sheets)


def test_lines_by_any_route_are_found_true_and_a_turned_sign_is_not() -> None:
    """Symbols are true of the circuit, numbers here, a branch under its hypothesis."""
    sheet = own_sheet("zener-shunt", {**SHUNT, "R_L": "1k"})
    text = """I_Z = (V_I - V_Z)/R - V_Z/R_L
I_R = 5.9/220 = 26.8 mA
I_Z = I_R + I_L
I_Z = 26.8 - 9.1 = 17.7 mA
suppose the zener is off
V_O = V_I R_L/(R + R_L) = 12.3 V"""
    assert codes(sheet, text) == ["holds", "holds-here", "fails", "holds-here", "note", "holds-here"]
    assert check_working(text, sheet).first_wrong == 3


def test_a_relation_that_merely_fits_these_numbers_fails() -> None:
    """15 V and 9.1 V happen to be what they are: V_I is no multiple of V_Z whatever the numbers."""
    sheet = own_sheet("zener-shunt", {"V_I": "20V", "R": "220", "V_Z": "10V", "I_L": "10mA"})
    assert codes(sheet, "V_I = 2 V_Z") == codes(sheet, "V_O = V_I/2") == ["fails"]
    assert codes(sheet, "V_I = 2 × 10 V") == ["holds-here"]


def test_one_given_too_many_neither_hides_nor_invents_truth() -> None:
    """I_R follows from the others: relations for it still hold whatever the numbers."""
    sheet = own_sheet("zener-shunt", {**SHUNT, "R_L": "1k", "I_R": "26.8181818mA"})
    assert "I_R" not in sheet.recipe.known and "I_R" not in sheet.worlds[0]
    assert codes(sheet, "I_R = (V_I - V_Z)/R\nI_R = I_Z - I_L") == ["holds", "fails"]


def test_what_the_givens_leave_open_is_held_against_the_bare_circuit() -> None:
    """Without a load its relations are still true, and its values unknown."""
    sheet = own_sheet("zener-shunt", SHUNT)
    assert codes(sheet, "I_Z = I_R - I_L\nI_Z = I_R + I_L\nI_R = 26.8 mA") == ["holds", "fails", "holds-here"]


def test_a_range_is_given_by_its_ends() -> None:
    """Every corner counts: extremes by name, and a plain symbol at any one of them."""
    sheet = own_sheet("zener-shunt", {**RANGES, "I_ZK": "5mA"})
    assert sheet.recipe.ranges == ("I_L", "V_I")
    text = """I_Z_MIN = (14 - 9.1)/130 - 30m = 7.69 mA
I_Z = (18 - 9.1)/130 - 5m = 63.5 mA
P_Z_MAX = 9.1 V × 63.5 mA = 578 mW
I_Z_MIN >= I_ZK
I_Z_MAX = (14 - 9.1)/130 - 5m = 32.7 mA"""
    assert codes(sheet, text) == ["holds-here", "holds-here", "holds-here", "holds", "fails"]


def test_readings_settle_part_values() -> None:
    """Two points of a line give its slope and its end."""
    sheet = own_sheet("source", READINGS)
    text = "R_S = (17 - 16)/(0.7 - 0.3) = 2.5 Ω\nV_OC = V_I_1 + I_I_1 R_S\nV_OC = 17.75 V\nR_S = V_I_2/I_I_2"
    assert codes(sheet, text) == ["holds-here", "holds", "holds-here", "fails"]


def test_an_approximation_the_circuit_declares_holds_here() -> None:
    """I_B neglected within 2 % of I_R; far beyond it is wrong."""
    light, heavy = (own_sheet("follower", {**FOLLOWER, "R_L": load}) for load in ("1k", "22"))
    assert codes(light, "I_B = 0") == ["holds-here"]
    assert codes(heavy, "I_B = 0") == ["fails"]
    assert [item.value for item in light.conventions] == ["load-over-h_FE", "neglected"]


def test_a_convention_chosen_is_the_truth() -> None:
    """Under load-over-h_FE the base current is exactly that, and h_FE + 1 the other way."""
    sheet = own_sheet("follower", {**FOLLOWER, "R_L": "47"}, {"base-current": "load-over-h_FE"})
    assert codes(sheet, "I_B = I_L/h_FE\nI_B = I_L/h_FE = 4.81 mA") == ["holds", "holds-here"]
    assert "exact" in [item.value for item in sheet.conventions]


def test_a_standing_value_is_used_where_nothing_settles_it() -> None:
    """V_BE is 0.7 V unless given, assumed or settled by the rest."""
    assert own_sheet("follower", {**FOLLOWER, "R_L": "1k"}).env["V_BE"] == 0.7
    assert own_sheet("follower", {**FOLLOWER, "R_L": "1k"}, {"V_BE": "0.6"}).env["V_BE"] == 0.6
    settled = own_sheet("follower", {**FOLLOWER, "R_L": "1k", "V_O": "11.4V"})
    assert "V_BE" not in settled.env and codes(settled, "V_BE = 0.6 V") == ["holds-here"]


REFUSED: list[tuple[str, dict[str, str | float], dict[str, str], type[SteadyrailError], str]] = [
    ("zener-shunt", {}, {}, BadValue,
     "a working on 'zener-shunt' is held against its values: give them, for example V_I=15V R=220"),
    ("zner-shunt", SHUNT, {}, UnknownName, "there is no circuit 'zner-shunt'; did you mean 'zener-shunt'?"),
    ("zener-shunt", {"V_I": "15V"}, {}, Unreachable, "nothing of 'zener-shunt' follows from V_I"),
    ("zener-shunt", {**SHUNT, "I_L": "10mA", "I_R": "50mA"}, {}, Contradiction,
     "the givens contradict each other: Ohm's law for R, I_R = (V_I − V_O)/R, is broken by"),
    ("zener-shunt", {**SHUNT, "Vin": "14V"}, {}, BadValue, "V_I is given twice (15V and 14V); leave one out"),
    ("zener-shunt", {"V_I_MIN": "14V", "R": "220", "V_Z": "9.1V"}, {}, BadValue,
     "V_I_MIN is one end of a range; give V_I_MAX too, or V_I alone"),
    ("zener-shunt", {**SHUNT, "V_I_MIN": "14V", "V_I_MAX": "16V"}, {}, BadValue,
     "V_I is given both as one value and as a range; leave one out"),
    ("zener-shunt", {**RANGES, "V_I_MAX": "13V"}, {}, BadValue,
     "V_I_MIN = 14 V is above V_I_MAX = 13 V; the ends are the wrong way round"),
    ("zener-shunt", {**RANGES, "I_L_MAX": "60mA"}, {}, BadValue,
     "one state must hold over the whole range, but at the lightest load, the lowest line the zener is in breakdown; "
     "at the fullest load, the lowest line the zener is off; check the working for each part of it"),
    ("zener-shunt", {**RANGES, "P_R": "0.5W"}, {}, Contradiction,
     "at the lightest load, the lowest line: the givens contradict each other: "),
    ("follower", FOLLOWER, {"base-current": "exat"}, UnknownName,
     "there is no value of 'base-current' 'exat'; did you mean 'exact'?"),
    ("follower", FOLLOWER, {"base-curent": "exact"}, UnknownName,
     "there is no convention 'base-curent'; did you mean 'base-current'?"),
]  # fmt: skip


@pytest.mark.parametrize(("circuit", "values", "assume", "kind", "sentence"), REFUSED, ids=lambda item: str(item)[:50])
def test_what_cannot_be_used_is_refused_in_one_sentence(
    circuit: str,
    values: dict[str, str | float],
    assume: dict[str, str],
    kind: type[SteadyrailError],
    sentence: str,
) -> None:
    """The sentence of `solve` where it has one; ranges have their own."""
    with pytest.raises(kind) as refused:
        own_sheet(circuit, values, assume)
    assert refused.value.sentence.startswith(sentence)


def test_too_many_ranges_are_refused() -> None:
    """Corners double with each of them."""
    numbers = {f"{base}_{end}": 1.0 for base in ("V_I", "I_L", "R", "V_Z", "h_FE") for end in ("MIN", "MAX")}
    with pytest.raises(BadValue, match="at most 4 quantities may range at once"):
        names_given(numbers)


def test_a_decimal_comma_is_read_where_it_is_said() -> None:
    """In the values and in the working alike; nowhere else."""
    sheet = own_sheet("zener-shunt", {"V_I": "15,0", "R": "220", "V_Z": "9,1", "R_L": "1k"}, decimal_comma=True)
    assert codes(sheet, "I_Z = 17,7 mA") == ["holds-here"]
    with pytest.raises(BadValue, match="decimal sign"):
        own_sheet("zener-shunt", {**SHUNT, "R_L": "1,2k"})


def test_a_second_working_on_the_same_givens_needs_no_algebra(tmp_path: Path) -> None:
    """Other numbers under the same names too, even where another state holds; other names are made anew."""
    code = "from tutor.solution.own_sheet import own_sheet; print(own_sheet('zener-shunt', {}).region)"
    first = {**SHUNT, "R_L": "1k"}
    for values, heavy in ((first, ["sympy"]), ({**first, "R_L": "100"}, []), ({**SHUNT, "I_L": "1mA"}, ["sympy"])):
        assert loaded(code.replace("{}", repr(values)), ("sympy",), tmp_path) == heavy


def test_a_stored_file_that_is_spoilt_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a file, or another's, is as good as none."""
    monkeypatch.setenv("STEADYRAIL_STORE", str(tmp_path))
    fresh = own_sheet("source", {"V_OC": "18V", "R_S": "3", "I_I": "0.5A"})
    (stored,) = tmp_path.iterdir()
    for spoilt in ("{", '{"linear": [1, 2, 3]}', "[]"):
        stored.write_text(spoilt, encoding="utf-8")
        assert own_sheet("source", {"V_OC": "18V", "R_S": "3", "I_I": "0.5A"}) == fresh


def test_the_codes_are_those_of_the_contract() -> None:
    """What this file compares with are codes that there are."""
    assert {"holds", "holds-here", "fails", "note"} <= {code.value for code in Code}
