"""Which published examples are worked here, and why each of the others is not."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

HERE = Path(__file__).parent
TOPICS = {"A", "B", "D"}  # raw supply, shunt regulators, series regulators

AVERAGE = "averages and peaks of a rectified wave: no circuit here rectifies"
RESERVOIR = "rectifier with a reservoir capacitor: no circuit here rectifies"
FEEDBACK = "series regulator with an error amplifier of one transistor: no such circuit here"
OP_AMP = "series regulator with an op-amp: no such circuit here"

OUTSIDE = {
    "A-MAL-4_1": AVERAGE,
    "A-MAL-4_3": AVERAGE,
    "A-FLO-2.6": AVERAGE,
    "A-MEH-6.17": AVERAGE,
    "A-MEH-6.18": AVERAGE,
    "A-MEH-6.21": AVERAGE,
    "A-MAL-4_9": RESERVOIR,
    "A-MAL-4_10": RESERVOIR,
    "A-COU-16.4": RESERVOIR,
    "A-COU-16.6": RESERVOIR,
    "A-BEL-3.3": RESERVOIR,
    "A-BEL-3.8": RESERVOIR,
    "A-BEL-3.9": RESERVOIR,
    "A-JBL-11.1": RESERVOIR,
    "A-NEA-2.2": RESERVOIR,
    "A-SED-3.9": RESERVOIR,
    "A-BAP-2_6": RESERVOIR,
    "B-SED-3.7": "forward diodes in place of the zener: no such circuit here",
    "D-BOY-15.9": FEEDBACK,
    "D-SDH-34.17": FEEDBACK,
    "D-MAL-24_7": FEEDBACK,
    "D-SAL-18.18": FEEDBACK,
    "D-FIO-8.1": OP_AMP,
    "D-FIO-8.2": OP_AMP,
    "D-FRA-11.9": OP_AMP,
    "D-BAK-10.1": "line change taken as r_z/R and a supply resistance behind it: the follower offers neither",
}


def worked() -> list[str]:
    """The example each test of this folder takes with `book("...")`, in order."""
    found = []
    for file in sorted(HERE.glob("test_*.py")):
        for test in ast.parse(file.read_text(encoding="utf-8")).body:
            if isinstance(test, ast.FunctionDef) and test.name.startswith("test_"):
                calls = [node for node in ast.walk(test) if isinstance(node, ast.Call)]
                named = [call.args[0] for call in calls if isinstance(call.func, ast.Name) and call.func.id == "book"]
                found += [name.value for name in named if isinstance(name, ast.Constant)]
    return found


def test_every_example_is_worked_once_or_stands_outside(rows):
    """Worked and outside, without overlap, are exactly the examples of the topics."""
    done = worked()
    assert len(done) == len(set(done))
    assert not set(done) & set(OUTSIDE)
    assert set(done) | set(OUTSIDE) == {name for name, row in rows.items() if row["topic"] in TOPICS}
    assert {row["topic"] for row in rows.values()} == TOPICS


@pytest.mark.parametrize(
    ("value", "printed", "same"),
    [(43.63636, "43.6", True), (43.63636, "43.5", False), (43.63636, "43.7", False), (6.8455, "6.845", True),
     (6.8456, "6.845", False), (36.13764, "36", True), (0.04363636, "43.6", False), (83.33333, "83.00", False)],
)  # fmt: skip
def test_the_comparison_goes_by_the_printed_places(agrees, value, printed, same):
    """Half a unit of the last printed figure, no more (figures of Mehta 6.27 and 17.14, Floyd 3.2, Bapat 2.7)."""
    assert agrees(value, printed) is same
