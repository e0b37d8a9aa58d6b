"""Whatever consistent values somebody gives, and whatever they ask for: the true value, or a plain refusal.

An operating point of a circuit is worked out from its closed forms at random sensible part values; some of its
quantities are given and another is asked for. `resolve` must return the true value, or one that a second root of the
same laws allows (with the true one told beside it), or raise Unreachable: never a wrong value, never another exception.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
import sympy
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.errors import Unreachable
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters
from tutor.laws.derive import derive
from tutor.plan.regions import resolve
from tutor.plan.resolved import Resolved
from tutor.plan.verify import holds
from tutor.quantities.expression import Add, evaluate, symbols_of
from tutor.quantities.symbols import split_name

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
AGREED = 1e-6
# No shrinking: each example plans anew, which takes algebra, and the message of a failure holds the whole case.
PATIENT = settings(
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow],
)
# Sensible part values (SI): from, to. One load or another as the circuit asks.
SENSIBLE = {
    "V_I": (8, 40), "V_OC": (8, 40), "R": (50, 1000), "R_S": (0.5, 10), "V_Z0": (3, 12), "r_z": (1, 30),
    "I_ZT": (5e-3, 50e-3), "V_BE": (0.7, 0.7), "h_FE": (20, 200), "I_I": (0.05, 1.5), "I_L": (1e-3, 0.05),
    "R_L": (10, 4700), "R_BE": (100, 1000), "R_1": (1e3, 22e3), "R_2": (1e3, 22e3), "V_REF": (1.2, 6.2),
    "I_REF": (1e-6, 4e-6), "N_T": (5, 40), "V_SEC": (6, 22), "V_F": (0.7, 0.7), "f": (50, 60), "C": (1e-3, 1e-2),
    "V_O": (1, 5), "R_W": (0.05, 2), "R_FEED": (50, 1000),
    "V_REG": (3, 6), "I_Q": (2e-3, 1e-2), "I_ADJ": (2e-5, 1e-4), "V_DROP": (0.3, 3), "R_D": (500, 5000),
    "P_D": (1, 40), "R_thJC": (0.8, 5), "R_thCS": (0.2, 1.5), "R_thSA": (0.8, 25), "R_thJA": (35, 80), "T_A": (25, 60),
}  # fmt: skip
# What the regions of a regulator across its output need to be met at all often enough.
ACROSS = {
    ("boosted-shunt", "regulating"): {"R": (10, 100), "R_L": (100, 4700), "V_I": (16, 40)},
    ("boosted-shunt", "zener-alone"): {"R": (400, 1000), "R_BE": (100, 200), "V_I": (8, 16), "I_L": (1e-3, 5e-3)},
    ("boosted-shunt", "off"): {"V_Z0": (30, 45), "V_I": (8, 25)},
    ("reference-shunt", "off"): {"V_REF": (5, 6.2), "R": (400, 1000), "R_L": (10, 300), "V_I": (8, 12)},
    ("opamp-shunt", "regulating"): {"R": (10, 200), "R_L": (200, 4700), "V_I": (20, 40), "V_REF": (1.2, 3)},
    ("opamp-shunt", "off"): {"V_REF": (5, 6.2), "R": (400, 1000), "R_L": (10, 300), "V_I": (8, 12)},
    ("three-terminal-adjustable", "regulating"): {"V_REF": (1.2, 1.3), "R_1": (200, 1000), "R_2": (200, 3000)},
    ("three-terminal-adjustable", "dropout"): {"R_1": (100, 300), "R_2": (2000, 6000), "V_I": (8, 15)},
    ("three-terminal-fixed", "dropout"): {"V_REG": (12, 24), "V_I": (8, 15)},
    ("three-terminal-raised", "regulating"): {"R_1": (200, 1000), "R_2": (50, 300), "V_I": (15, 40)},
    ("three-terminal-raised", "dropout"): {"R_1": (200, 400), "R_2": (300, 600), "V_REG": (8, 15), "V_I": (9, 16)},
    ("three-terminal-boosted", "sharing"): {"R_BE": (2, 10), "I_L": (0.5, 3), "R_L": (1, 6), "V_I": (12, 30)},
    ("three-terminal-boosted", "alone"): {"R_BE": (1, 10), "R_L": (120, 4700), "V_I": (12, 30)},
    ("three-terminal-boosted", "dropout"): {
        "R_BE": (2, 10), "I_L": (0.5, 3), "R_L": (1, 6), "V_REG": (12, 24), "V_I": (8, 14),
    },
    ("three-terminal-boosted", "dropout-alone"): {
        "R_BE": (1, 10), "R_L": (300, 4700), "V_REG": (12, 24), "V_I": (8, 14),
    },
    ("three-terminal-current-source", "regulating"): {"R": (20, 200), "R_L": (10, 100), "V_I": (14, 40)},
    ("three-terminal-current-source", "dropout"): {"R": (20, 200), "R_L": (2000, 5000), "V_I": (8, 14)},
    **{
        (circuit, region): {
            "V_Z": (3, 12) if region != "starved" else (10, 30), "V_I": (15, 40), "R_SENSE": (0.3, 3), "R_A": (47, 220),
            "R_B": (680, 1500), "h_FE": (30, 200), "R": (100, 400) if region != "starved" else (400, 3000),
            "R_L": {"regulating": (20, 400), "holding": (1, 40), "limiting": (0.3, 6), "starved": (5, 60)}[region],
            "I_L": {"regulating": (0.02, 0.4), "starved": (0.1, 1)}.get(region, (0.2, 2.5)),
        }
        for circuit in ("current-limit", "foldback")
        for region in ("regulating", "holding", "limiting", "starved")
    },
    **{
        (f"feedback-pair-{form}", region): {
            "R_1": (1e3, 5e3), "R_2": (1e3, 5e3), "V_I": (18, 40), "V_Z": (3, 7) if region != "starved" else (8, 12),
            "R": (300, 1500) if region == "regulating" else (3e3, 8e3), "h_FE": (50, 200),
            "R_L": {"regulating": (50, 400), "dropout": (30, 150), "starved": (3, 20)}[region],
            "I_L": {"regulating": (0.02, 0.3), "dropout": (0.1, 0.4), "starved": (0.1, 0.6)}[region],
        }
        for form in ("unfed", "fed")
        for region in ("regulating", "dropout", "starved")
    },
    **{
        (f"opamp-series-{form}", "regulating"): {
            "V_I": (20, 40), "V_REF": (1.2, 3), "R_1": (1e3, 8e3), "R_2": (2e3, 9e3),
        }
        for form in ("reference", "direct")
    },
    ("opamp-series-zener", "regulating"): {"V_I": (25, 40), "V_Z0": (3, 5), "R_1": (1e3, 6e3), "R_2": (2e3, 9e3)},
    **{
        (f"opamp-series-{form}", "dropout"): {"V_I": (8, 15), "V_REF": (3, 6), "R_1": (9e3, 22e3), "R_2": (1e3, 5e3)}
        for form in ("reference", "zener", "direct")
    },
    ("opamp-series-zener", "starved"): {"V_I": (8, 15), "V_Z0": (16, 30)},
    **{
        ("full-regulator", region): {
            "V_I": {"dropout": (8, 14), "starved": (5.5, 7)}.get(region, (22, 40)),
            "V_Z0": (7.5, 12) if region == "starved" else (3, 5), "R": (500, 3000), "h_FE": (30, 200),
            "R_1": (9e3, 22e3) if region in ("dropout", "starved") else (1e3, 6e3),
            "R_2": (1e3, 4e3) if region in ("dropout", "starved") else (2e3, 9e3), "R_SENSE": (0.3, 1),
            "R_L": (0.5, 6) if region == "limiting" else (40, 400), "I_L": (0.01, 0.3),
        }
        for region in ("regulating", "holding", "limiting", "dropout", "starved")
    },
    ("heat-path-regulator", "dropout"): {"V_REG": (12, 24), "V_I": (8, 13), "R_L": (10, 500), "I_L": (0.02, 1.0)},
    ("heat-path-raw-supply", "dropout"): {
        "V_REG": (12, 24), "V_OC": (8, 13), "R_S": (0.5, 3), "R_L": (10, 500), "I_L": (0.02, 1.0),
    },
    **{
        (f"whole-supply-{form}", region): {
            "V_SEC": (14, 22) if region == "regulating" else (8, 12), "I_L": (0.05, 0.5), "R_L": (15, 500),
            "V_Z": (4, 10) if region == "regulating" else (16, 30),
            "V_REG": (4, 10) if region == "regulating" else (16, 24),
        }
        for form, regions in (("three-terminal", ("regulating", "dropout")), ("follower", ("regulating", "starved")))
        for region in regions
    },
    ("darlington", "regulating"): {"R_L": (2, 100), "I_L": (0.1, 2.0)},
    ("regulators", "regulating"): {"V_I": (15, 40), "V_O": (4, 12), "A": (50, 1000), "R_O": (20, 200)},
    ("prestabilised-zener", "regulating"): {
        "V_I": (20, 40), "V_Z0_P": (12, 16), "V_Z0": (4, 9), "R_P": (50, 200), "R": (300, 1000), "R_L": (30, 1000),
    },
    ("prestabilised-zener", "first-starved"): {"V_Z0_P": (30, 45), "V_Z0": (4, 8), "V_I": (15, 30), "R_L": (100, 4700)},
    ("prestabilised-zener", "second-starved"): {"V_Z0_P": (7, 10), "V_Z0": (12, 20), "V_I": (20, 40), "R_P": (50, 200)},
    ("prestabilised-zener", "starved"): {"V_Z0_P": (40, 60), "V_Z0": (40, 60)},
    ("prestabilised-reference", "regulating"): {
        "V_REF": (1.2, 2.5), "R_1": (1e3, 8e3), "R_2": (2e3, 9e3), "V_I": (15, 40), "R": (100, 600), "R_L": (30, 1000),
    },
    ("prestabilised-reference", "starved"): {"V_REF": (5, 6.2), "R_1": (9e3, 22e3), "R_2": (1e3, 4e3), "V_I": (8, 15)},
    ("darlington", "starved"): {"R_L": (2, 100), "I_L": (0.1, 2.0), "V_Z0": (10, 45)},
}
# While its limiter takes what the amplifier has over, the load current keeps within some milliamperes of the limit.
NARROW = {"R_SENSE": (0.5, 0.5001), "V_Z0": (4, 4.01), "r_z": (1, 1.1), "R_1": (3e3, 3.01e3), "R_2": (3e3, 3.01e3)}
ACROSS[("full-regulator", "holding")] |= {**NARROW, "I_L": (1.398, 1.42), "R_L": (5.65, 5.8)}
ACROSS[("full-regulator", "limiting")] |= {**NARROW, "I_L": (1.416, 1.4208)}
# Where a load that holds its current is met twice by the characteristic: in the state of the key and before the knee.
LATCHES = {("foldback", "limiting", LoadModel.SINK)}
FOLLOWER_LOAD = {"I_L": (0.05, 1.0), "R_L": (10, 1000)}
OUT_OF_REACH = {"V_Z0": (10, 45)}  # a zener the line hardly reaches
DEAD_LINE = {"V_I": (0.05, 0.69)}  # below one junction, where the follower is off


@dataclass(frozen=True, repr=False)  # hypothesis writes out the whole circuit otherwise, example for example
class Space:
    """A circuit in a region under a load model; `quantities` are those with a closed form there."""

    circuit: Circuit
    region: Region
    load: LoadModel

    def __str__(self) -> str:
        return f"{self.circuit.id}-{self.region.id}-{self.load.value}"

    __repr__ = __str__


SPACES = [
    Space(FOLDER.circuit(name), region, load)
    for name in FOLDER.circuit_ids()
    for region in FOLDER.circuit(name).regions
    for load in LoadModel
    # A follower that is off, with a load that holds its current: there is no such operating point.
    if (name, region.id, load) != ("follower", "off", LoadModel.SINK)
    # A load that is told by its current alone is the same under both models.
    if load is LoadModel.SINK or FOLDER.circuit(name).load_resistances()
]


@cache
def runner(circuit_id: str, region_id: str, load: LoadModel):
    """Names of the quantities, and the function from part values to them."""
    circuit = FOLDER.circuit(circuit_id)
    forms = closed_forms(circuit, circuit.region(region_id), load)
    names = sorted(forms)
    arguments = [sympy_symbol(name) for name in parameters(circuit, load)]
    return names, sympy.lambdify(arguments, [forms[name] for name in names], "math", cse=True)


@st.composite
def points(draw: st.DrawFn, space: Space) -> dict[str, float]:
    """An operating point at which the region holds and every quantity is finite and not negative."""
    ranges = {**SENSIBLE, **(FOLLOWER_LOAD if space.circuit.id == "follower" else {})}
    ranges |= OUT_OF_REACH if space.region.parts.get("Z") == "off" else {}
    ranges |= DEAD_LINE if (space.circuit.id, space.region.id) == ("follower", "off") else {}
    ranges |= ACROSS.get((space.circuit.id, space.region.id), {})
    # What is taken where nobody gives it is drawn as that, or the givens of a point would contradict it.
    ranges |= {name: (value, value) for name, value in space.circuit.defaults.items()}
    drawn = []
    for name in parameters(space.circuit, space.load):
        low, high = ranges[name] if name in ranges else ranges[split_name(name).base]
        # Nine hundred and ninety-nine places of a range: enough to be generic, few enough to shrink well.
        drawn.append(low + (high - low) * draw(st.integers(1, 999)) / 1000)
    names, run = runner(space.circuit.id, space.region.id, space.load)
    try:
        point = dict(zip(names, (float(value) for value in run(*drawn)), strict=True))
    except ZeroDivisionError:
        assume(False)
    assume(all(math.isfinite(value) and value > -1e-12 for value in point.values()))
    known = {**space.circuit.defaults, **point}
    bounds = derive(space.circuit, space.region, space.load).bounds
    assume(all(holds(bound, known) for bound in bounds))
    return point


def breaks(resolved: Resolved, given_values: dict[str, float]) -> list[str]:
    """The laws, bounds and givens that a resolved circuit does not keep."""
    values = resolved.values
    broken = [name for name, value in given_values.items() if not math.isclose(values[name], value, rel_tol=1e-9)]
    for law in resolved.laws.laws:
        if not set(law.symbols) <= set(values):
            continue
        sides = (law.equation.lhs, law.equation.rhs)
        try:
            parts = [part for side in sides for part in (side.terms if isinstance(side, Add) else (side,))]
            terms = [evaluate(part, values) for part in parts]
            left, right = (evaluate(side, values) for side in sides)
        except ZeroDivisionError:
            continue
        if abs(left - right) > 1e-5 * max(1e-12, *(abs(term) for term in terms)):
            broken.append(law.id)
    for bound in resolved.laws.bounds:
        sides = (bound.equation.lhs, bound.equation.rhs)
        if {name for side in sides for name in symbols_of(side)} <= set(values) and not holds(bound, values):
            broken.append(str(bound))
    return broken


def asked_of(space: Space, data: st.DataObject) -> tuple[dict[str, float], dict[str, float], str]:
    """A point, what is given of it, and what is asked for."""
    point = data.draw(points(space), label="point")
    names = sorted(point)
    most = min(7, len(names) - 1)
    told = data.draw(st.lists(st.sampled_from(names), min_size=1, max_size=most, unique=True), label="given")
    wanted = data.draw(st.sampled_from([name for name in names if name not in told]), label="wanted")
    return point, {name: point[name] for name in told}, wanted


def judge(space: Space, point: dict[str, float], told: dict[str, float], wanted: str) -> None:
    """The claim, for one choice of givens and wanted."""
    try:
        found = resolve(space.circuit, told, (wanted,))
    except Unreachable:
        return
    value = found.values[wanted]
    if math.isclose(value, point[wanted], rel_tol=AGREED, abs_tol=AGREED * scale_of(point, wanted)):
        return
    assert breaks(found, told) == [], f"{space}: {wanted} = {value}, truly {point[wanted]}"
    # Another state of the circuit with the same givens: a second root, or another region that keeps every law too.
    # In the region of the truth, the truth is told beside it.
    others = [other.values.get(wanted, math.nan) for other in found.others]
    told_too = any(math.isclose(other, point[wanted], rel_tol=AGREED) for other in others)
    assert told_too or found.region != space.region, f"{space}: {wanted} = {value}, truly {point[wanted]}"


def scale_of(point: dict[str, float], wanted: str) -> float:
    """What a vanishing value is measured against: the largest quantity of its kind at the point."""
    return max(abs(value) for name, value in point.items() if name[0] == wanted[0])


# Of a circuit whose search takes long, in its first region alone: the other regions have the test below.
LARGE = {"full-regulator"}
ASKED = [space for space in SPACES if space.circuit.id not in LARGE or space.region == space.circuit.regions[0]]


@pytest.mark.parametrize("space", ASKED, ids=str)
@settings(PATIENT, max_examples=3)
@given(data=st.data())
def test_any_consistent_givens_lead_to_the_truth_or_to_a_plain_refusal(space: Space, data: st.DataObject):
    """From any of a point's quantities to any other: true to 1e-6, or a lawful other root, or Unreachable."""
    judge(space, *asked_of(space, data))


@pytest.mark.parametrize("space", SPACES, ids=str)
@settings(PATIENT, max_examples=2)
@given(data=st.data())
def test_the_part_values_settle_everything(space: Space, data: st.DataObject):
    """Given every part value and the load, every quantity with a finite value is found, and found true.

    Where a load latches the point is the state that is told beside the usual one, and the only one told.
    """
    point = data.draw(points(space), label="point")
    told = {name: point[name] for name in parameters(space.circuit, space.load)}
    found = resolve(space.circuit, told, ())
    usual: Mapping[str, float] = {}
    region, values = found.region, found.values
    if region != space.region:
        assert (space.circuit.id, space.region.id, space.load) in LATCHES
        (other,) = found.others
        region, values = other.region, other.values
        usual = found.values
    else:
        assert found.others == () or (space.circuit.id, found.others[0].region.id, space.load) in LATCHES
    assert region == space.region
    for name, value in point.items():
        assert math.isclose(values[name], value, rel_tol=AGREED, abs_tol=AGREED * scale_of(point, name)), name
    assert not usual or usual["V_O"] > point["V_O"]
