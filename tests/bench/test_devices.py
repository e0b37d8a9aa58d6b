"""Every device: what enters leaves, its slopes are those of differences, it comes to rest when asked again."""

from __future__ import annotations

import numpy as np
import pytest

from tutor.bench.devices import Amplifier, Device, Junction, Reference, Regulator, Resistor, Sink, Transistor, Zener

ROOM_UNIT = 0.02569


def one(value: float) -> np.ndarray:
    return np.array([value])


def transistor(sign: int) -> Device:
    nodes = ("c", "b", "e")
    return Transistor(nodes, sign, one(ROOM_UNIT), one(1e-13), one(80.0), one(4.0), one(80.0))


def junction() -> Junction:
    return Junction(("a", "k"), one(ROOM_UNIT), one(1e-14), one(0.5))


MADE = {
    "resistor": (lambda: Resistor(("a", "b"), one(470.0)), [(5.0, 1.0)]),
    "sink": (lambda: Sink(("a", "b"), one(0.2)), [(5.0, 0.0), (0.3, 0.0), (0.05, 0.0)]),
    "junction": (junction, [(0.65, 0.0), (2.0, 0.0), (-3.0, 0.0)]),
    "zener": (
        lambda: Zener(("k", "a"), one(5.0), one(0.02), one(1e-9), one(6.0), junction()),
        [(5.6, 0.0), (3.0, 0.0), (-0.7, 0.0)],
    ),
    "npn": (lambda: transistor(1), [(9.0, 5.7, 5.05), (5.1, 5.7, 5.0), (9.0, 1.0, 5.0)]),
    "pnp": (lambda: transistor(-1), [(1.0, 5.0, 5.65), (5.6, 5.0, 5.65)]),
    "amplifier": (
        lambda: Amplifier(("p", "n", "o", "s"), one(1e3), one(0.05), one(2.0), one(100.0), one(0.02)),
        [(5.0, 4.994, 5.9, 18.0), (5.0, 3.0, 15.5, 18.0), (5.0, 6.0, 1.0, 18.0)],
    ),
    "regulator": (
        lambda: Regulator(("i", "g", "o"), one(5.0), one(2.0), one(0.01), one(1.5), one(0.005)),
        [(12.0, 0.0, 4.995), (6.0, 0.0, 3.99), (12.0, 0.0, 1.0)],
    ),
    "reference": (
        lambda: Reference(("c", "r", "a"), one(2.495), one(5.0), one(2e-6)),
        [(5.0, 2.497, 0.0), (5.0, 2.4, 0.0)],
    ),
}  # fmt: skip
CASES = [
    pytest.param(name, volts, id=f"{name}-{place}") for name, (_, cases) in MADE.items() for place, volts in
    enumerate(cases)
]


def at_rest(device: Device, volts: np.ndarray):
    """Asked again at the same voltages until it holds nothing back."""
    for _ in range(200):
        seen = device.see(volts)
        if seen.calm.all():
            return seen
    raise AssertionError("it never comes to rest")


@pytest.mark.parametrize(("name", "volts"), CASES)
def test_what_enters_leaves(name: str, volts: tuple[float, ...]) -> None:
    """The other supply lead of an amplifier is ground: its output current comes out of the lead it has."""
    seen = at_rest(MADE[name][0](), np.array(volts)[:, None])
    assert seen.currents.sum(axis=0)[0] == pytest.approx(0.0, abs=1e-15 + 1e-12 * np.abs(seen.currents).max())
    assert np.abs(seen.slopes.sum(axis=0)).max() <= 1e-9 * max(1.0, np.abs(seen.slopes).max())


@pytest.mark.parametrize(("name", "volts"), CASES)
def test_slopes_are_those_of_differences(name: str, volts: tuple[float, ...]) -> None:
    at = np.array(volts)[:, None]
    seen = at_rest(MADE[name][0](), at)
    step = 1e-7
    for column in range(len(volts)):
        moved = np.zeros_like(at)
        moved[column] = step
        device = MADE[name][0]()
        higher = at_rest(device, at + moved).currents
        lower = at_rest(device, at - moved).currents
        slope = (higher - lower)[:, 0] / (2 * step)
        scale = max(np.abs(seen.slopes).max(), 1e-9)
        assert slope == pytest.approx(seen.slopes[:, column, 0], rel=2e-3, abs=2e-5 * scale), (name, column)
