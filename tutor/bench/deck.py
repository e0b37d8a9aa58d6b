"""A bench circuit as a deck for ngspice: the same curves with the same numbers, for whoever wants to take it further.

Place in the data flow: the devices of one point -> text. Parts whose curve no model of SPICE has (amplifiers,
regulators, a load that lets go) are written as controlled sources with the formula that `devices.py` works out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from tutor.bench.curves import ZERO_CELSIUS, Array, thermal_voltage
from tutor.bench.devices import (
    LEAK,
    Amplifier,
    Device,
    Junction,
    Reference,
    Regulator,
    Resistor,
    Sink,
    Transistor,
    Zener,
)
from tutor.circuit.circuit import GROUND


def deck_text(
    title: str,
    named: Sequence[tuple[str, Device]],
    fixed: Mapping[str, float],
    kelvins: float,
    starts: Mapping[str, float],
) -> str:
    """The deck of devices by name between nodes, `fixed` nodes at their volts; `starts` are hints for the solver (V).

    Operating point only; every number in SI.
    """
    celsius = kelvins - ZERO_CELSIUS
    lines = [f"* {title}", f".options temp={celsius:.12g} tnom={celsius:.12g}"]
    lines += [".options gmin=1e-18 reltol=1e-6 vntol=1e-9 abstol=1e-12"]
    lines += [f"V_{node} {node} 0 {volts:.15g}" for node, volts in fixed.items() if node != GROUND]
    for name, device in named:
        lines += device_lines(name, device, kelvins)
    lines += [f".nodeset v({node})={volts:.9g}" for node, volts in starts.items() if node not in fixed]
    return "\n".join([*lines, ".op", ".end", ""])


def device_lines(name: str, device: Device, kelvins: float, farads: float = 0.0) -> Iterable[str]:
    """The lines of one device, its parameters at its first point; `farads` at rest across each junction of its diodes.
    """
    nodes = [node_text(node) for node in device.nodes]
    if isinstance(device, Resistor):
        return [f"R{name} {nodes[0]} {nodes[1]} {_number(device.ohms)}"]
    if isinstance(device, Sink):
        share = _between(f"V({nodes[0]},{nodes[1]})/{2 * device.least:g}", "0", "1", 0.05)
        return [f"B{name} {nodes[0]} {nodes[1]} I={_number(device.amperes)}*({share})"]
    if isinstance(device, Junction):
        return [*_junction(name, device, nodes[0], nodes[1], kelvins, farads), _leak(name, nodes[0], nodes[1])]
    if isinstance(device, Zener):
        inside = f"{name}_knee"
        breakdown = Junction(device.nodes, device.unit, device.saturation, device.ohms)
        return [
            f"V{inside} {nodes[0]} {inside} {_number(device.knee)}",
            *_junction(name, breakdown, inside, nodes[1], kelvins, farads),
            *_junction(f"{name}_forward", device.forward, nodes[1], nodes[0], kelvins, farads),
            _leak(name, nodes[0], nodes[1]),
        ]
    if isinstance(device, Transistor):
        kind = "NPN" if device.sign > 0 else "PNP"
        return [
            f"Q{name} {nodes[0]} {nodes[1]} {nodes[2]} model_{name}",
            f".model model_{name} {kind}(IS={_number(device.saturation)} BF={_number(device.forward_gain)} "
            f"BR={_number(device.reverse_gain)} VAF={_number(device.early)})",
            _leak(f"{name}_BE", nodes[1], nodes[2]),
            _leak(f"{name}_BC", nodes[1], nodes[0]),
        ]
    if isinstance(device, Amplifier):
        return _amplifier(name, device, nodes)
    if isinstance(device, Regulator):
        return _regulator(name, device, nodes)
    assert isinstance(device, Reference)
    over = f"(V({nodes[1]},{nodes[2]})-{_number(device.volts_held)})"
    step = _step(f"{_number(device.steepness)}*{over}/{device.corner:g}")
    share = _between(f"V({nodes[1]},{nodes[2]})", "0", "1", 0.05)
    return [
        f"B{name} {nodes[0]} {nodes[2]} I={device.corner:g}*({step})",
        f"B{name}_pin {nodes[1]} {nodes[2]} I={_number(device.pin)}*({share})",
    ]


def _leak(name: str, one: str, other: str) -> str:
    return f"R{name}_leak {one} {other} {1 / LEAK:g}"


def _junction(name: str, device: Junction, anode: str, cathode: str, kelvins: float, farads: float) -> list[str]:
    emission = float(np.ravel(device.unit)[0]) / float(thermal_voltage(np.array(kelvins)))
    charge = f" CJO={farads:g}" if farads else ""
    return [
        f"D{name} {anode} {cathode} model_{name}",
        f".model model_{name} D(IS={_number(device.saturation)} N={emission:.15g} RS={_number(device.ohms)}{charge})",
    ]


def _amplifier(name: str, device: Amplifier, nodes: Sequence[str]) -> list[str]:
    low, most = _number(device.low), _number(device.most)
    high = f"max(V({nodes[3]})-{_number(device.drop)},{low}+0.1)"
    level = _between(f"{_number(device.gain)}*V({nodes[0]},{nodes[1]})", low, high, device.corner)
    inside = f"{name}_level"
    wish = f"(V({inside})-V({nodes[2]}))/{_number(device.ohms)}"
    current = _between(wish, f"(-{most})", most, 0.02 * float(np.ravel(device.most)[0]))
    supply = nodes[3] if device.is_fed else "0"
    return [f"B{inside} {inside} 0 V={level}", f"B{name} {supply} {nodes[2]} I={current}"]


def _regulator(name: str, device: Regulator, nodes: Sequence[str]) -> list[str]:
    most = float(np.ravel(device.most)[0])
    wanted, left = f"V({nodes[1]})+{_number(device.volts_held)}", f"V({nodes[0]})-{_number(device.drop)}"
    step = _step(f"(({wanted})-({left}))/{device.corner:g}")
    inside = f"{name}_level"
    level = f"({wanted})-{device.corner:g}*({step})"
    current = _between(f"(V({inside})-V({nodes[2]}))/{_number(device.ohms)}", "0", f"{most:g}", 0.005 * most)
    share = _between(f"V({nodes[0]},{nodes[1]})/2", "0", "1", 0.05)
    return [
        f"B{inside} {inside} 0 V={level}",
        f"B{name} {nodes[0]} {nodes[2]} I={current}",
        f"B{name}_pin {nodes[0]} {nodes[1]} I={_number(device.pin)}*({share})",
    ]


def _step(x: str) -> str:
    """ln(1 + e^x), written so that it never overflows."""
    return f"max({x},0)+ln(1+exp(-abs({x})))"


def _between(x: str, low: str, high: str, corner: float) -> str:
    above, over = _step(f"(({x})-{low})/{corner:.12g}"), _step(f"(({x})-({high}))/{corner:.12g}")
    return f"{low}+{corner:.12g}*(({above})-({over}))"


def node_text(name: str) -> str:
    """A node as a deck names it."""
    return "0" if name == GROUND else name


def _number(value: Array) -> str:
    return f"{float(np.ravel(value)[0]):.15g}"
