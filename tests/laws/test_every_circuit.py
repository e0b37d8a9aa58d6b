"""Every circuit, in every region, under both load models: its laws say something, balance, hold, and are proved.

A *space* is a circuit, a region and a load model; a *point* of it is every quantity at random sensible part values,
from the closed forms alone. The generator of a space is seeded by its name, which a failing test prints.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from random import Random

import pytest
import sympy

from tutor.circuit.circuit import Circuit, Composite, LoadModel, Region
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import SympyExpr, from_sympy, sympy_symbol
from tutor.laws.closed_form import closed_forms, derivative, is_proved, is_vacuous, parameters
from tutor.laws.derive import derive
from tutor.laws.law import Law
from tutor.quantities.dimensions import check_equation
from tutor.quantities.expression import Add, Equation, Mul, Neg, Num, Sym, evaluate, symbols_of
from tutor.quantities.formula import read_equation
from tutor.quantities.symbols import split_name

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
POINTS = 5
RESIDUAL = 1e-9
READINGS = ("1", "2")
LONG, TRIED_OF_LONG = 100, 2  # operations of a closed form that nobody would print, and how many such a space tries
# Sensible part values for parameters (SI), from and to: the orders a lecturer would put on a board.
SENSIBLE = {
    "V_I": (8, 30), "V_OC": (8, 30), "R": (50, 1000), "R_S": (0.5, 8), "R_L": (20, 4700), "I_L": (1e-3, 0.5),
    "I_I": (0.05, 1.0), "V_Z0": (3, 12), "r_z": (1, 40), "I_ZT": (2e-3, 0.08), "V_BE": (0.5, 0.8), "h_FE": (20, 250),
    "R_BE": (100, 1000), "R_1": (1e3, 22e3), "R_2": (1e3, 22e3), "V_REF": (1.2, 6.2), "I_REF": (1e-6, 4e-6),
    "P_ZM": (0.4, 5), "DV_I": (0.5, 3), "DI_L": (1e-3, 0.05), "N_T": (5, 40), "V_SEC": (6, 22), "V_F": (0.5, 1.1),
    "f": (50, 60), "C": (1e-3, 1e-2), "V_O": (1.2, 5), "R_W": (0.05, 2),
    "R_FEED": (50, 1000), "V_Z": (3, 12), "R_SENSE": (0.3, 3), "R_A": (47, 220), "R_B": (680, 1500), "V_REG": (3, 15),
    "I_Q": (2e-3, 1e-2), "I_ADJ": (2e-5, 1e-4), "V_DROP": (0.3, 3), "R_D": (500, 5000), "A": (1e3, 1e5),
    "R_O": (10, 200), "I_OAM": (0.005, 0.03),
    "P_D": (1, 40), "R_thJC": (0.8, 5), "R_thCS": (0.2, 1.5), "R_thSA": (0.8, 25), "R_thJA": (35, 80), "T_A": (25, 60),
}  # fmt: skip


def sensible(name: str) -> tuple[float, float]:
    """The range of a part value; of two transistors each has that of one."""
    return SENSIBLE[name] if name in SENSIBLE else SENSIBLE[split_name(name).base]


RATINGS = ("P_ZM", "P_ZM_P")  # of a zener, and of the one of a first stage
# A transistor that is off passes nothing, so a load that holds its current can only hold none.
PINNED = {("follower", "off", LoadModel.SINK): {"I_L": 0.0}}


@dataclass(frozen=True)
class Space:
    """One circuit in one region with one load model."""

    circuit: Circuit
    region: Region
    load: LoadModel

    def __str__(self) -> str:
        return f"{self.circuit.id}-{self.region.id}-{self.load.value}"

    @property
    def usual(self) -> bool:
        """Whether this is the circuit's first region."""
        return self.region == self.circuit.regions[0]

    @property
    def pinned(self) -> dict[str, float]:
        """Part values that cannot be chosen here."""
        return PINNED.get((self.circuit.id, self.region.id, self.load), {})

    def points(self) -> list[dict[str, float]]:
        """Random points, each with the ratings and changes that the laws speak of beside the manifold."""
        source = Random(str(self))
        found = []
        for _ in range(POINTS):
            drawn = {name: source.uniform(*sensible(name)) for name in (*parameters(self.circuit, self.load), *RATINGS)}
            drawn |= self.pinned
            point = {**drawn, **_at(self, drawn)}
            found.append(_with_changes(self, point, source))
        return found


SPACES = [
    Space(FOLDER.circuit(name), region, load)
    for name in FOLDER.circuit_ids()
    for region in FOLDER.circuit(name).regions
    for load in LoadModel
    # A load that is told by its current alone is the same under both models.
    if load is LoadModel.SINK or FOLDER.circuit(name).load_resistances()
]
USUAL = [space for space in SPACES if space.usual]
SLOPING = [space for space in USUAL if space.circuit.slopes]


@cache
def forms_of(circuit_id: str, region_id: str, load: LoadModel) -> dict[str, SympyExpr]:
    """The closed forms, once for each space."""
    circuit = FOLDER.circuit(circuit_id)
    return closed_forms(circuit, circuit.region(region_id), load)


def manifold(space: Space) -> dict[str, SympyExpr]:
    return forms_of(space.circuit.id, space.region.id, space.load)


@cache
def runner_of(circuit_id: str, region_id: str, load: LoadModel) -> Callable[..., list[float]]:
    """The closed forms as one function of the parameters."""
    names = parameters(FOLDER.circuit(circuit_id), load)
    forms = list(forms_of(circuit_id, region_id, load).values())
    return sympy.lambdify([sympy_symbol(name) for name in names], forms, "math", cse=True)


def _at(space: Space, drawn: dict[str, float]) -> dict[str, float]:
    """The closed forms' values; what has none there (a quotient of zeros) is left out."""
    run = runner_of(space.circuit.id, space.region.id, space.load)
    values = run(*(drawn[name] for name in parameters(space.circuit, space.load)))
    found = dict(zip(manifold(space), map(float, values), strict=True))
    return {name: value for name, value in found.items() if math.isfinite(value)}


def _with_changes(space: Space, point: dict[str, float], source: Random) -> dict[str, float]:
    """Ratings by their definition, what-ifs from the other region, and slopes from true small changes."""
    found = dict(point)
    for stage in ("", "_P"):
        if f"V_Z{stage}" in point:
            found[f"I_ZM{stage}"] = point[f"P_ZM{stage}"] / point[f"V_Z{stage}"]
    names = parameters(space.circuit, space.load)
    for item in space.circuit.what_ifs:
        other = _other_region(space, item.part, item.region)
        found[item.symbol] = _at(replace(space, region=other), {name: point[name] for name in names})[item.of]
    if space.usual:
        for slope in space.circuit.slopes:
            found[slope.symbol] = _slope_between(space, point, slope.of, slope.by) * slope.sign
    return found


def _other_region(space: Space, part: str, state: str) -> Region:
    """The region that differs from this one in the state of `part` alone."""
    wanted = {**space.region.parts, part: state}
    return next(region for region in space.circuit.regions if dict(region.parts) == wanted)


def _slope_between(space: Space, point: dict[str, float], of: str, by: str) -> float:
    """The change of `of` for one unit's change of `by`, taken from two points (the circuits are linear there)."""
    held = replace(space, load=LoadModel.SINK) if by == "I_L" else space
    names = parameters(held.circuit, held.load)
    start = {name: point[name] for name in names}
    moved = {**start, by: start[by] + 0.125}
    return (_at(held, moved)[of] - _at(held, start)[of]) / 0.125


def residual(law: Law, point: dict[str, float]) -> float:
    """Left minus right, over the largest term in sight."""
    left, right = law.equation.lhs, law.equation.rhs
    terms = [part for side in (left, right) for part in (side.terms if isinstance(side, Add) else (side,))]
    scale = max(abs(evaluate(part, point)) for part in terms)
    return abs(evaluate(left, point) - evaluate(right, point)) / max(scale, 1e-30)


@pytest.mark.parametrize("space", SPACES, ids=str)
def test_no_law_is_vacuous(space: Space):
    """Each law says something: its two sides are not equal whatever the symbols are."""
    laws = derive(space.circuit, space.region, space.load, readings=READINGS).laws
    assert [law.id for law in laws if is_vacuous(law)] == []
    assert len({law.id for law in laws}) == len(laws)


@pytest.mark.parametrize("space", SPACES, ids=str)
def test_every_law_has_its_reason(space: Space):
    """Under every convention too: a step of a solution says why before it says what."""
    conventions = [{}, *({item.convention: item.value} for item in space.circuit.variants)]
    for assumed in conventions:
        laws = derive(space.circuit, space.region, space.load, conventions=assumed, readings=READINGS).laws
        assert [law.id for law in laws if not law.why.endswith((".", "?"))] == [], assumed


@pytest.mark.parametrize("space", SPACES, ids=str)
def test_every_law_and_bound_balances(space: Space):
    """Both sides of each law, and of each inequality, have one dimension."""
    found = derive(space.circuit, space.region, space.load, readings=READINGS)
    for law in found.laws:
        check_equation(law.equation)
    for bound in found.bounds:
        check_equation(bound.equation)


@pytest.mark.parametrize("space", SPACES, ids=str)
def test_every_law_holds_on_the_manifold(space: Space):
    """At random part values the residual of each law stays below 1e-9 of its largest term; none is skipped unseen."""
    laws = derive(space.circuit, space.region, space.load).laws
    tried: set[str] = set()
    for number, point in enumerate(space.points()):
        for law in laws:
            if law.id.startswith("change.") or not set(law.symbols) <= set(point):
                continue
            try:
                found = residual(law, point)
            except ZeroDivisionError:
                continue
            tried.add(law.id)
            assert found < RESIDUAL, f"{space}, point {number} of seed '{space}': {law.id} leaves {found:.1e}"
    # Beyond the manifold lie changes and readings (proved below), and quotients of zero in a circuit that is off.
    beyond = {law.id for law in laws if law.id.startswith(("change.", "ripple")) or law.id == "two-readings"}
    beyond |= {law.id for law in laws if law.id.startswith(("drift-", "error-", "budget-"))}
    if any(region_part == "off" for part, region_part in space.region.parts.items() if part == "Q"):
        beyond |= {"efficiency", "L.ohm", "L.power", "Q.drop", "Q.power"}
    assert {law.id for law in laws} - tried <= beyond


@pytest.mark.parametrize("space", SPACES, ids=str)
def test_every_composite_is_proved(space: Space):
    """What an author composed is the same function of the part values as what it stands for."""
    forms = manifold(space)
    for item in space.circuit.composites:
        if not item.speaks_in(space.region.id, space.load) or is_drift(item) or is_error(item) or is_share(item):
            continue
        equation = read_equation(item.formula)
        if not set(_symbols(item)) <= set(forms):
            assert _binds_readings(space.circuit, item), f"{space}: '{item.id}' speaks of what no law fixes"
            continue
        if item.id in ("regulation", "ripple-factor", "headroom"):
            continue  # definitions, which give a symbol its meaning; `test_derive` holds REG_LOAD to the trade's
        assert is_proved(equation, forms), f"{space}: composite '{item.id}', {item.formula}, does not follow"


def is_drift(item: Composite) -> bool:
    """Whether a composite speaks of a change of temperature, which `test_composed_changes` proves."""
    return item.id.startswith("drift-")


def is_error(item: Composite) -> bool:
    """Whether a composite speaks of the error that tolerances make, which `test_composed_changes` proves."""
    return item.id.startswith("error-")


def is_share(item: Composite) -> bool:
    """Whether a composite speaks of a share of the output's band, which `test_composed_changes` proves."""
    return item.id.startswith("budget-")


def _symbols(item: Composite) -> tuple[str, ...]:
    equation = read_equation(item.formula)
    return tuple(dict.fromkeys(symbols_of(equation.lhs) + symbols_of(equation.rhs)))


def _binds_readings(circuit: Circuit, item: Composite) -> bool:
    indexed = {f"{name}_{index}" for name in circuit.readings for index in READINGS}
    return all(name in indexed or name in circuit.constants for name in _symbols(item))


@pytest.mark.parametrize("space", USUAL, ids=str)
def test_every_composite_over_readings_is_proved_on_two_points(space: Space):
    """Two points of the manifold that share the part values and differ in the load: the relation binds them."""
    load = next(iter(set(parameters(space.circuit, space.load)) - set(space.circuit.constants)), "")
    forms = manifold(space)
    two: dict[str, SympyExpr] = {name: sympy_symbol(name) for name in space.circuit.constants}
    for index in READINGS:
        for name in space.circuit.readings:
            two[f"{name}_{index}"] = forms[name].subs(sympy_symbol(load), sympy_symbol(f"{load}_{index}"))
    found = [item for item in space.circuit.composites if _binds_readings(space.circuit, item)]
    indexed = [item for item in found if set(_symbols(item)) - set(space.circuit.constants)]
    sloping = {"R_S", "r_z"} & {*space.circuit.constants} and {"I_I", "I_Z"} & {*space.circuit.readings}
    assert ("two-readings" in {item.id for item in indexed}) == bool(sloping)
    for item in indexed:
        assert is_proved(read_equation(item.formula), two), f"{space}: '{item.id}' does not bind two readings"


@pytest.mark.parametrize("space", [space for space in USUAL if space.circuit.readings], ids=str)
def test_the_laws_of_a_reading_hold_at_that_reading(space: Space):
    """Laws repeated with an index hold at the point that index stands for, other readings and load apart."""
    first, second = space.points()[:2]
    shared = {name: first[name] for name in space.circuit.constants}
    (load,) = set(parameters(space.circuit, space.load)) - set(space.circuit.constants)
    values = dict(shared)
    for index, other in zip(READINGS, (first[load], second[load]), strict=True):
        here = _at(space, {**shared, load: other})
        values |= {f"{name}_{index}": here[name] for name in space.circuit.readings}
    laws = [law for law in derive(space.circuit, space.region, space.load, readings=READINGS).laws if "@" in law.id]
    assert laws
    for law in laws:
        assert residual(law, values) < RESIDUAL, f"{space}: {law.id}"


@pytest.mark.parametrize("space", [space for space in SPACES if space.circuit.what_ifs], ids=str)
def test_every_what_if_is_the_other_region(space: Space):
    """V_TH and its like: as written, the closed form of the same circuit with one part in the state named."""
    for item in space.circuit.what_ifs:
        other = manifold(replace(space, region=_other_region(space, item.part, item.region)))
        written = read_equation(f"{item.symbol} = {item.written[space.load]}")
        assert is_proved(written, {**other, item.symbol: other[item.of]}), f"{space}: {item.symbol}"


@pytest.mark.parametrize("space", SLOPING, ids=str)
def test_every_slope_is_the_derivative(space: Space):
    """S_V, R_OUT and their like: as written, the derivative of the closed form, with the sign declared."""
    for item in space.circuit.slopes:
        for load, text in item.written.items():
            forms = manifold(replace(space, load=load))
            true = {other.symbol: other.sign * derivative(forms, other.of, other.by) for other in space.circuit.slopes}
            written = read_equation(f"{item.symbol} = {text}")
            assert is_proved(written, {**forms, **true}), f"{space}: {item.symbol} = {text}"


@pytest.mark.parametrize("space", SLOPING, ids=str)
def test_every_change_is_slope_times_change(space: Space):
    """ΔV_O = S_V ΔV_I and ΔV_O = −R_OUT ΔI_L are exact, however large the change: the circuit is linear there."""
    for law in derive(space.circuit, space.region, space.load).laws:
        if not law.id.startswith("change."):
            continue
        slope = next(item for item in space.circuit.slopes if {f"D{item.by}", item.symbol} <= set(law.symbols))
        by = slope.by
        load = LoadModel.SINK if by == "I_L" else space.load
        forms = manifold(replace(space, load=load))
        step = sympy_symbol(f"D{by}")
        moved = forms[slope.of].subs(sympy_symbol(by), sympy_symbol(by) + step) - forms[slope.of]
        rate = slope.sign * derivative(forms, slope.of, by)
        known = {**forms, f"D{slope.of}": moved, f"D{by}": step, slope.symbol: rate}
        known |= {slope.share: slope.sign * moved} if slope.share else {}
        assert is_proved(law.equation, known), f"{space}: {law.id}"


@pytest.mark.parametrize(
    "space", [space for space in SLOPING if "S_V" in {slope.symbol for slope in space.circuit.slopes}], ids=str
)
def test_ripple_is_a_change_of_the_line(space: Space):
    """V_RIP_O = S_V V_RIP: the output at the crest less the output at the trough, however large the ripple; a first
    stage's output likewise."""
    laws = derive(space.circuit, space.region, space.load)
    forms = manifold(space)
    line, ripple = sympy_symbol("V_I"), sympy_symbol("V_RIP")
    for slope in space.circuit.slopes:
        if slope.by != "V_I":
            continue
        law = laws.by_id(f"ripple{slope.of.removeprefix('V_O')}")
        crest, trough = (forms[slope.of].subs(line, line + sign * ripple / 2) for sign in (1, -1))
        known = {**forms, "V_RIP": ripple, slope.of.replace("V_O", "V_RIP_O"): crest - trough}
        known |= {slope.symbol: derivative(forms, slope.of, "V_I")}
        assert is_proved(law.equation, known), f"{space}: {law.id}"


@pytest.mark.parametrize("space", [space for space in SPACES if not space.pinned], ids=str)
def test_a_planted_wrong_law_is_refused(space: Space):
    """Twice the right side, or its opposite, is never proved: the proof can fail, law by law."""
    forms = manifold(space)
    planted = 0
    for law in derive(space.circuit, space.region, space.load, with_slopes=False).laws:
        left, right = law.equation.lhs, law.equation.rhs
        if not set(law.symbols) <= set(forms) or is_proved(Equation(left, Num(0)), forms):
            continue
        for wrong in (Mul((Num(2), right)), Neg(right)):
            assert not is_proved(Equation(left, wrong), forms), f"{space}: {law.id} with {wrong}"
            planted += 1
    assert planted >= 8


@pytest.mark.parametrize("space", SPACES, ids=str)
def test_closed_forms_are_the_same_when_printed_and_read_back(space: Space):
    """A closed form as a person would write it is the same function; of those too long to print, two of each space."""
    forms = manifold(space)
    long = sorted(name for name, form in forms.items() if form.count_ops() > LONG)
    for name in forms.keys() - {*long[TRIED_OF_LONG:]}:
        assert is_proved(Equation(Sym(name), from_sympy(forms[name])), forms), f"{space}: {name}"
