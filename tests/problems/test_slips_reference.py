"""The slips of the families against the trade's own table of slips: the same wrong number from the same data.

A family declares a slip as an edit of a step and leaves its value to the engine; `slips.json` holds what learners do as
the trade writes it down (formula, quantity, where it was met), and this test works those formulas out beside it.
Sources
stand with each row of `slips.json`; what is marked there "common practice" has none.

Vocabulary: a reference's *name* (Vmin, hFE) is put into keys of a problem (V_I_MIN, h_FE_MIN) by a *reading*; VALUE is
the number under test.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import tutor
from tests.problems.combined_slips import COMBINED_DIFFERENCES, COMBINED_NAMES
from tests.problems.compare_slips import COMPARE_DIFFERENCES, COMPARE_NAMES
from tests.problems.heat_slips import HEAT_DIFFERENCES, HEAT_NAMES
from tests.problems.loop_slips import LOOP_DIFFERENCES, LOOP_NAMES
from tests.problems.shunt_slips import SHUNT_DIFFERENCES, SHUNT_NAMES
from tests.problems.slip_names import FOLLOWER, LINE, LOAD, ONE_LINE, ONE_LOAD, SLOPE, ZENER, Differs
from tests.problems.supply_slips import SUPPLY_DIFFERENCES, SUPPLY_NAMES
from tests.problems.test_occurrences import TABLE, remarks
from tutor.generate.draws import Drawn, draw_numbers
from tutor.generate.family import Choose, ChooseRating, NoMargin, RoundAway, Slip, Stock, key_of_ask
from tutor.generate.sampling import as_written
from tutor.quantities.expression import evaluate, symbols_of
from tutor.quantities.formula import read_expression
from tutor.quantities.preferred import Series, is_preferred
from tutor.solution.desk import Desk

NUMBERS = range(1, 21)
CLOSE = 1e-9
WIDEST_STEP = {Series.E24: 1.5 / 1.3, Series.E12: 1.5 / 1.2}  # from one value to the next (IEC 60063)
REFERENCE: dict[str, dict[str, Any]] = {
    row["id"]: row for row in json.loads((Path(__file__).parent / "slips.json").read_text(encoding="utf-8"))
}

WINDING = {"Vs": "V_SEC", "Vh": "V_SEC", "nd": "2", "VF": "V_F", "f": "f", "C": "C", "IL": "I_L", "Vpk": "V_PK",
           "Vr": "V_RIP"}  # fmt: skip

# Family, level -> what each name of the references is called there.
NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("supply-peak", 1): WINDING,
    ("supply-peak", 2): {**WINDING, "Vmains": "V_PRI", "Nr": "2*N_T"},
    ("supply-ripple", 1): WINDING,
    ("supply-ripple", 2): WINDING,
    ("supply-ripple", 3): WINDING,
    ("supply-line-change", 1): {**WINDING, "Vs": "V_SEC_NOM", "tl": "1 - V_SEC_MIN/V_SEC_NOM"},
    ("supply-line-change", 3): WINDING,
    ("supply-reservoir", 1): {**WINDING, "Vr": "V_RIP_MAX"},
    ("supply-reservoir", 2): {**WINDING, "Vs": "V_SEC_MAX", "tl": "0", "reg": "0"},
    ("supply-headroom", 1): {
        **WINDING, "Vs": "V_SEC_NOM", "tl": "1 - V_SEC_MIN/V_SEC_NOM", "Vr": "I_L_MAX/(2*f*C)",
        "Vpk": "sqrt(2)*V_SEC_MIN - 2*V_F",
    },
    ("supply-transformer", 1): WINDING,
    ("compare-rectifiers", 1): WINDING,
    ("compare-rectifiers", 2): {**WINDING, "Vs": "V_SEC_MAX", "Vh": "V_SEC_MAX", "IL": "I_L_MAX"},
    ("compare-rectifiers", 3): {**WINDING, "Vs": "V_SEC_MAX", "Vh": "V_SEC_MAX"},
    ("supply-transformer", 2): WINDING,
    ("regulation-figures", 1): {"VNL": "V_OC", "VFL": "V_I"},
    ("supply-source-model", 1): {"Vmin": "V_I_1", "VZ": "V_I_2", "ILmax": "I_I_2", "IZmin": "0 - I_I_1"},
    ("supply-source-model", 2): {
        "Vmin": "V_I_1", "VZ": "V_I_2", "ILmax": "I_I_2", "IZmin": "0 - I_I_1", "VNL": "V_OC", "VFL": "V_I",
    },
    ("zener-resistor", 1): {**LINE, **ONE_LOAD, **ZENER},
    ("zener-resistor", 2): {**LINE, **LOAD, **ZENER, "R": "R"},
    # The starving zener is the highest of its type; what its load takes goes with it.
    ("zener-resistor", 3): {**LINE, **ZENER, "VZ": "V_Z_MAX", "ILmax": "V_Z_MAX/R_L", "R": "R"},
    ("zener-slope", 1): SLOPE,
    # Changes of the output for a change of one: S_V is per volt of line, R_OUT per ampere of load.
    ("zener-slope", 2): {**SLOPE, **ONE_LINE, **ONE_LOAD, "dVin": "1", "dIL": "1"},
    ("zener-slope", 3): {**SLOPE, "dVin": "1", "dIL": "1"},
    ("zener-state", 1): {**ONE_LINE, **ZENER, "R": "R", "RL": "R_L"},
    ("zener-state", 2): {**ONE_LINE, **ONE_LOAD, **ZENER, "R": "R", "RL": "R_L"},
    ("zener-state", 3): {**ONE_LINE, **ONE_LOAD, **ZENER, "IZmin": "I_Z"},
    ("follower-state", 1): {**FOLLOWER, **ONE_LOAD, **ZENER},
    ("follower-state", 2): {**FOLLOWER, **ONE_LINE, **ONE_LOAD, **ZENER, "R": "R"},
    ("follower-state", 3): {**FOLLOWER, **ONE_LINE, **ONE_LOAD, **ZENER, "R": "R", "VCEsat": "V_CE_SAT"},
    ("series-temperature", 2): {**FOLLOWER, **ONE_LINE, **ONE_LOAD, **ZENER},
    ("follower-design", 1): {**FOLLOWER, **LINE, **ONE_LOAD, **ZENER},
    ("follower-design", 2): {
        **FOLLOWER, **LINE, **LOAD, **ZENER, "hFE": "h_FE_MIN", "hFEtyp": "h_FE_MAX", "R": "R",
    },
    ("follower-design", 3): {**FOLLOWER, **LINE, **LOAD, **ZENER, "R": "R"},
    **SHUNT_NAMES,
    **HEAT_NAMES,
    **LOOP_NAMES,
    **COMPARE_NAMES,
    **SUPPLY_NAMES,
    **COMBINED_NAMES,
}  # fmt: skip


EMITTER_FOR_COLLECTOR = (
    "the reference takes the load current for the collector current; ours is exact, smaller by h_FE/(h_FE + 1), "
    "that of "
    "the highest gain where gains range; the wrong values are the reference's"
)
CURRENT_FOR_RESISTOR = (
    "the family asks for the current through R at a given R: with that current the reference's formula gives back R"
)

# Family, level, reference -> how the family differs, for every place where it does.
DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    ("supply-ripple", 2, "U19"): Differs(
        "the family asks for the ripple factor, which is the reference's r.m.s. value over the mean",
        wrong="VALUE*V_DC",
        right="VALUE*V_DC",
    ),
    **{
        ("compare-rectifiers", 1, reference): Differs(
            "the family asks for the trough, which lies below the reference's crest by the ripple",
            wrong="VALUE + I_L/(2*f*C)",
            right="VALUE + I_L/(2*f*C)",
        )
        for reference in ("U03", "U04")
    },
    **{
        ("compare-rectifiers", level, reference): Differs(
            "the family asks for the trough, which lies below the crest by the reference's ripple",
            wrong=f"sqrt(2)*{line} - {drops}*V_F - VALUE",
            right=f"sqrt(2)*{line} - {drops}*V_F - VALUE",
        )
        for level, reference, line, drops in (
            (1, "U05", "V_SEC", 2), (1, "U06", "V_SEC", 1), (2, "U06", "V_SEC_MIN", 1),
        )
    },
    ("compare-rectifiers", 2, "U15"): Differs(
        "the family asks for the apparent power, which is the reference's current times the winding's voltage",
        wrong="VALUE/V_SEC_MAX",
        right="VALUE/V_SEC_MAX",
    ),
    ("supply-reservoir", 2, "U14"): Differs(
        "a tapped winding has one diode in the way, and its loaded voltage is that at the lowest line",
        wrong_names={"Vs": "V_SEC_MIN", "VF": "V_F/2", "Vr": "I_L_MAX/(2*f*C)"},
    ),
    **{
        ("follower-design", level, reference): Differs(EMITTER_FOR_COLLECTOR, right=f"VALUE*({gain} + 1)/{gain}")
        for level, gain in ((2, "h_FE_MAX"), (3, "h_FE"))
        for reference in ("E12", "E13", "E14")
    },
    **{
        ("follower-state", 2, reference): Differs(EMITTER_FOR_COLLECTOR, right="VALUE*(h_FE + 1)/h_FE")
        for reference in ("E12", "E13")
    },
    **{
        ("follower-state", level, "E10"): Differs(
            CURRENT_FOR_RESISTOR, names={"ILmax": "0", "IZmin": "VALUE"}, wrong="R", right="R"
        )
        for level in (2, 3)
    },
    ("follower-state", 3, "E09"): Differs(
        "the family asks for the lowest line at a given R: with that line the reference's formula gives back R",
        names={"Vmin": "VALUE"},
        wrong="R",
        right="R",
    ),
    ("zener-state", 2, "S11"): Differs(
        "the state may be off, where the output is no longer V_Z and R has V_I - V_O across it", names={"VZ": "V_O"}
    ),
    ("zener-slope", 2, "S21"): Differs(
        "the zener's line leans, so V_Z is that at the very current found", names={"VZ": "V_Z0 + r_z*VALUE"}
    ),
    ("zener-resistor", 3, "S28"): Differs(
        "the family asks for the greatest R: with it the reference's current is the least the zener needs; the ends of "
        "V_Z stand in the statement to three figures, so the tolerance is what they come to",
        names={"R": "VALUE", "VZ": "V_Z"},
        wrong_names={"tZ": "1 - V_Z_MIN/V_Z"},
        right_names={"tZ": "V_Z_MAX/V_Z - 1"},
        wrong="I_ZK",
        right="I_ZK",
    ),
    ("zener-resistor", 3, "S13"): Differs(
        "zeners range: most voltage is left across R by the lowest", names={"VZ": "V_Z_MIN"}
    ),
    **SHUNT_DIFFERENCES,
    **HEAT_DIFFERENCES,
    **COMPARE_DIFFERENCES,
    **SUPPLY_DIFFERENCES,
    **COMBINED_DIFFERENCES,
    **LOOP_DIFFERENCES,
}

# Slips that no family uses, and why: the rows of the table of occurrences that say so.
NOT_USED: dict[str, str] = {
    reference: row["why_not"] for reference, row in TABLE["slips"].items() if "why_not" in row
}


@cache
def desk() -> Desk:
    return tutor.open_desk()


@cache
def draws(family: str, level: int) -> tuple[Drawn, ...]:
    return tuple(draw_numbers(desk().level(family, level), desk().parts, NUMBERS))


def referring() -> list[tuple[str, int, Slip, str]]:
    """Every slip of every family that stands for one of the trade's: family, level, slip, reference."""
    return [
        (family, number, slip, reference)
        for family in tutor.families()
        for number, level in enumerate(desk().family(family).levels, start=1)
        for slip in level.slips
        for reference in slip.reference
    ]


def label(case: object) -> str:
    return case.id if isinstance(case, Slip) else str(case)


CHOICES = [case for case in referring() if isinstance(case[2].edit, RoundAway | NoMargin)]
# A step left out has no formula in the list of the trade's slips.
HEADLINES = [case for case in referring() if case[3] == "H10"]
WITHOUT_FORMULA = [case for case in referring() if case not in CHOICES and REFERENCE[case[3]]["wrong_expr"] is None]
ONE_SIGN = [case for case in referring() if case[3] == "S30"]
ALIKE = [case for case in referring() if case[3] == "N12"]
RAISING = [case for case in referring() if case[3] == "E19"]
OMISSIONS = [case for case in WITHOUT_FORMULA if case not in (*HEADLINES, *ONE_SIGN, *ALIKE, *RAISING)]
CASES = [case for case in referring() if case not in CHOICES and case not in WITHOUT_FORMULA]


def asked_here(family: str, level: int, slip: Slip, region: str) -> bool:
    """Whether the declaration has the slip, and the ask it belongs to, in this region."""
    asks = [ask for ask in desk().family(family).levels[level - 1].asks if key_of_ask(ask) == slip.at]
    return slip.region in ("", region) and any(ask.region in ("", region) for ask in asks)


def worth(formula: str, keys: Mapping[str, float]) -> float:
    """A formula over keys."""
    return float(evaluate(read_expression(formula), keys))


def reference_value(formula: str, names: Mapping[str, str], keys: Mapping[str, float]) -> float:
    """The trade's formula with its names read as `names` say."""
    expr = read_expression(formula.replace("**", "^"))
    return float(evaluate(expr, {name: worth(names[name], keys) for name in symbols_of(expr)}))


@pytest.mark.parametrize(("family", "level", "slip", "reference"), CASES, ids=label)
def test_a_slip_gives_the_value_of_the_trades_formula(family: str, level: int, slip: Slip, reference: str) -> None:
    """On numbers 1 to 20 the engine's wrong value is the reference's wrong formula, its right value the right one."""
    row = REFERENCE[reference]
    differs = DIFFERENCES.get((family, level, reference), Differs(""))
    names = {**NAMES[family, level], **differs.names}
    met = 0
    for drawn in draws(family, level):
        if slip.id not in drawn.run.slips:
            assert not asked_here(family, level, slip, drawn.run.region)
            continue
        keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
        wrong, right = float(drawn.run.slips[slip.id][0]), keys[slip.at]
        for value, formula, extra, target in (
            (wrong, row["wrong_expr"], differs.wrong_names, differs.wrong),
            (right, row["right_expr"], differs.right_names, differs.right),
        ):
            with_value = {**keys, "VALUE": value}
            theirs = reference_value(formula, {**names, **extra}, with_value)
            ours = worth(target, with_value)
            where = f"{family}:{level}:{drawn.number}, {slip.id}, {reference}: {formula}"
            assert ours == pytest.approx(theirs, rel=CLOSE), where
        met += 1
    assert met >= 2, f"{family}:{level} met '{slip.id}' in {met} of {len(NUMBERS)} numbers"


@pytest.mark.parametrize(("family", "level", "slip", "reference"), CHOICES, ids=label)
def test_a_wrong_choice_is_the_one_the_trade_describes(family: str, level: int, slip: Slip, reference: str) -> None:
    """S14 rounds R up past its bound to the next preferred value, F11 a divider's resistor; H07 takes the next
    heat-sink above it; S16 the rating that just covers the power."""
    assert REFERENCE[reference]["kind"] == "choice" and REFERENCE[reference]["wrong_expr"] is None
    asks = desk().family(family).levels[level - 1].asks
    (ask,) = [ask for ask in asks if isinstance(ask, Choose | ChooseRating) and key_of_ask(ask) == slip.at]
    for drawn in draws(family, level):
        keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
        wrong, right = float(drawn.run.slips[slip.id][0]), keys[slip.at]
        if isinstance(ask, Choose) and isinstance(ask.series, Stock):
            assert reference == "H07"
            # A bound of 17.995 K/W is written 18.0 K/W, and who goes by that takes 18 K/W rightly.
            past = max(keys[ask.high], float(as_written(drawn.run.env[ask.high])[0]))
            between = [value for value in ask.series.values if past < value < wrong]
            assert wrong in ask.series.values and wrong > keys[ask.high] >= right and not between, drawn.number
        elif isinstance(ask, Choose):
            assert reference in ("S14", "F11")
            bound, widest = keys[ask.high], WIDEST_STEP[ask.series]
            assert is_preferred(wrong, ask.series) and is_preferred(right, ask.series)
            assert right <= bound < wrong <= bound * widest, drawn.number
        else:
            assert reference == "S16"
            assert keys[ask.load] <= wrong <= right, drawn.number
            assert right >= 1.5 * keys[ask.load], drawn.number


@pytest.mark.parametrize(("family", "level", "slip", "reference"), HEADLINES, ids=label)
def test_a_rating_at_a_cold_case_is_more_than_the_path_can_carry(
    family: str, level: int, slip: Slip, reference: str
) -> None:
    """H10: the figure on the data sheet is the rise from 25 °C over junction to case alone (common practice)."""
    for drawn in draws(family, level):
        keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
        wrong = float(drawn.run.slips[slip.id][0])
        assert wrong == keys["P_QM"] > keys["P_D_MAX"], drawn.number
        assert wrong == pytest.approx((keys["T_JM"] - 25) / keys["R_thJC"], rel=0.05), drawn.number


@pytest.mark.parametrize(("family", "level", "slip", "reference"), ONE_SIGN, ids=label)
def test_a_low_zener_falls_where_every_zener_is_believed_to_rise(
    family: str, level: int, slip: Slip, reference: str
) -> None:
    """S30: a zener below about 5 V loses voltage as it warms; believed to gain it, it moves as far the other way."""
    for drawn in draws(family, level):
        keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
        wrong = float(drawn.run.slips[slip.id][0])
        assert keys["V_Z"] < 5 and keys[slip.at] < 0, drawn.number
        assert wrong == pytest.approx(-keys[slip.at], rel=CLOSE), drawn.number


@pytest.mark.parametrize(("family", "level", "slip", "reference"), ALIKE, ids=label)
def test_parts_moved_alike_make_too_narrow_a_band(family: str, level: int, slip: Slip, reference: str) -> None:
    """N12: with both resistors moved the same way their ratio, and so nearly all of their error, stays out."""
    for drawn in draws(family, level):
        keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
        wrong, right = float(drawn.run.slips[slip.id][0]), keys[slip.at]
        assert wrong > right if slip.at.endswith("_MIN") else wrong < right, drawn.number
        if slip.at == "E_WC":  # what is left is the reference's share and a trifle of the pin's current
            assert keys["E_REF"] <= wrong <= 1.02 * keys["E_REF"] + 0.01 * keys["V_O"], drawn.number


@pytest.mark.parametrize(("family", "level", "slip", "reference"), RAISING, ids=label)
def test_a_follower_believed_to_raise_gets_too_low_a_zener(
    family: str, level: int, slip: Slip, reference: str
) -> None:
    """E19: the output lies a junction below the zener, whose power is then too small by twice that share."""
    for drawn in draws(family, level):
        keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
        wrong, above = float(drawn.run.slips[slip.id][0]), keys["V_O"] + keys["V_BE"]
        assert wrong == pytest.approx(keys[slip.at] * (1 - 2 * keys["V_BE"] / above), rel=CLOSE), drawn.number


@pytest.mark.parametrize(("family", "level", "slip", "reference"), OMISSIONS, ids=label)
def test_a_power_not_worked_out_again_is_too_small(family: str, level: int, slip: Slip, reference: str) -> None:
    """S15: the resistor chosen is smaller than its bound, so the zener has more than it would have at the bound."""
    assert reference == "S15" and slip.at == "P_Z_MAX"
    for drawn in draws(family, level):
        keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
        wrong = float(drawn.run.slips[slip.id][0])
        assert wrong < keys["P_Z_MAX"] and keys["R"] < keys["R_MAX"], drawn.number
        assert wrong == pytest.approx(keys["V_Z"] * (keys["V_I_MAX"] - keys["V_Z"]) / keys["R_MAX"], rel=CLOSE)


def test_every_slip_of_the_trade_is_used_or_has_a_reason() -> None:
    """U01 to U22, S01 to S30, E01 to E19, F01 to F12, C01 to C09, H01 to H10 and N01 to N12: each stands in a family,
    in a remark across circuits or in NOT_USED, never there too."""
    wanted = {
        f"{letter}{number:02}"
        for letter, last in (("U", 22), ("S", 30), ("E", 19), ("F", 12), ("C", 9), ("H", 10), ("N", 12))
        for number in range(1, last + 1)
    }
    used = {reference for _, _, _, reference in referring()}.union(*remarks().values())
    assert set(REFERENCE) == wanted
    assert not used & set(NOT_USED), "used after all: say where in occurrences.toml"
    assert used | set(NOT_USED) == wanted
    for reference, why in NOT_USED.items():
        row = REFERENCE[reference]
        assert why and (row["wrong_expr"] is None or "a belief" not in why), reference
        assert row["source"], reference


def test_every_difference_is_one() -> None:
    """Each row of DIFFERENCES belongs to a slip in use, says why, and is needed: the plain reading would not agree."""
    assert set(NAMES) == {(family, level) for family, level, _, _ in CASES}
    places = {(family, level, reference): slip for family, level, slip, reference in CASES}
    for place, differs in DIFFERENCES.items():
        assert differs.why and place in places, place
        family, level, reference = place
        row, slip = REFERENCE[reference], places[place]
        agreeing = []
        for drawn in draws(family, level):
            keys = {name: float(values[0]) for name, values in drawn.run.env.items()}
            values = (float(drawn.run.slips[slip.id][0]), keys[slip.at])
            try:
                formulas = (row["wrong_expr"], row["right_expr"])
                plain = [reference_value(formula, NAMES[family, level], keys) for formula in formulas]
            except KeyError:
                plain = []  # the plain reading lacks a name
            agreeing.append(plain == [pytest.approx(value, rel=CLOSE) for value in values])
        assert not all(agreeing), place
