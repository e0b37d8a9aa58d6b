"""Which published examples are worked here, and why each of the others is not."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

HERE = Path(__file__).parent
# Raw supply, shunt regulators, shunt regulators with an amplifier, series regulators, limits, three-terminal
# regulators, heat, drift.
TOPICS = {"A", "B", "C", "D", "E", "F", "G", "H"}

AVERAGE = "averages of a rectified wave without a reservoir: no circuit here has them"

OUTSIDE = {
    "A-MEH-6.21": AVERAGE,
    "A-COU-16.4": "a discharge of 1/200 s, the book's own rule of thumb, where the mains would give 1/120 s",
    "A-COU-16.6": "the crest is taken from charts for a source resistance of 10 ohm; no relation is given for it",
    "A-BEL-3.8": "the charging time is read off the wave and given; here it is never a given",
    "A-JBL-11.1": "what it calls the lowest voltage is the mean, by its own formula",
    "H-NEA-15.16": "the inside of an integrated reference, three transistors: no such circuit here",
    "B-SED-3.7": "forward diodes in place of the zener: no such circuit here",
    "D-FRA-11.9": "a Darlington pair with its own resistors behind the amplifier: no such form here",
    "E-SHM-11.2": "an integrated regulator whose reference is divided before its amplifier: no such circuit here",
    "F-TOM-13.10": "its divider is settled by the resistor that balances the amplifier's inputs, which none here has",
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
