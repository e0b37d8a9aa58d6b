"""Figures of the bench: what is drawn is what was found; PNG and SVG are what their standards say they are."""

from __future__ import annotations

import re
import struct
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import numpy as np
import pytest

from tests.views.test_commands import run
from tutor.bench.any_circuit import waves_of
from tutor.solution.desk import our_desk
from tutor.views.bench_beside import beside
from tutor.views.bench_plot import sweep_figure, wave_figure

SVG = "{http://www.w3.org/2000/svg}"


def curves_of(svg: bytes, count: int) -> list[np.ndarray]:
    """Points (x, y downwards) of the longest lines of a figure, in the order drawn."""
    lines = []
    for path in ElementTree.fromstring(svg).iter(f"{SVG}path"):
        steps = re.findall(r"[ML] (\S+) (\S+)", path.get("d", ""))
        if path.get("clip-path") and len(steps) == count:
            lines.append(np.array(steps, dtype=float))
    return lines


def lines_of(svg: bytes) -> list[np.ndarray]:
    """Every curve of a figure; a renderer leaves out points that lie on a straight line."""
    lines = []
    for path in ElementTree.fromstring(svg).iter(f"{SVG}path"):
        steps = re.findall(r"[ML] (\S+) (\S+)", path.get("d", ""))
        if path.get("clip-path") and "stroke-width: 1.6" in path.get("style", ""):
            lines.append(np.array(steps, dtype=float))
    return lines


def flat_lines(svg: bytes) -> int:
    """How many curves are all but straight: a rail that holds."""
    return sum(len(line) <= 20 for line in lines_of(svg))


def is_scaled(drawn: np.ndarray, values: np.ndarray, upward: bool) -> bool:
    """Whether coordinates are some values moved and stretched, to a fifth of a thousandth of their span."""
    values = -values if upward else values
    stretch, base = np.polyfit(values, drawn, 1)
    return bool(stretch > 0 and np.abs(stretch * values + base - drawn).max() < 2e-4 * np.ptp(drawn) + 1e-4)


def test_curves_are_what_the_bench_and_hand_analysis_found() -> None:
    laid = beside("zener-shunt", {}, [], 25.0, "I_L=0:60mA:25")
    item = laid.sweeps["zener-shunt"].leading[0]
    drawn = curves_of(sweep_figure(laid.sweeps, "", "", "svg"), 25)
    assert len(drawn) == 2
    for line, values in zip(drawn, (item.bench, item.by_hand), strict=True):
        assert is_scaled(line[:, 0], laid.sweeps["zener-shunt"].run.at, upward=False)
        assert is_scaled(line[:, 1], values, upward=True)
    assert not is_scaled(drawn[0][:, 1], item.by_hand, upward=True), "the two curves are not alike here"


def test_circuits_laid_over_each_other_share_one_scale() -> None:
    laid = beside("four-regulators", {}, [], 25.0, "I_L=0:150mA:9")
    svg = sweep_figure(laid.sweeps, laid.title, "", "svg")
    drawn = curves_of(svg, 9)
    assert len(drawn) == 4
    every = np.concatenate([item.leading[0].bench for item in laid.sweeps.values()])
    assert is_scaled(np.concatenate([line[:, 1] for line in drawn]), every, upward=True)
    for name in (*laid.sweeps, laid.title):
        assert f"<!-- {name} -->".encode() in svg, "every curve has its name beside it, and the figure its title"


def test_a_wave_shows_two_charging_periods() -> None:
    """The reservoir's voltage over the charging current, each as the bench has it at those moments."""
    circuit = our_desk().circuit("reservoir-bridge")
    waves, output = waves_of(circuit, dict(circuit.typical))
    assert list(waves) == ["V_DC"] and output is None
    wave, svg = waves["V_DC"], wave_figure(waves, output, "", "", "svg")
    assert b"(ms)" in svg and b"(A)" in svg
    lines = sorted(map(len, lines_of(svg)))
    volts, amperes = (line for line in lines_of(svg) if len(line) >= lines[-2])
    for line, told in ((volts, wave.volts), (amperes, wave.amperes)):
        across = 2 * wave.seconds[-1, 0] * (line[:, 0] - line[0, 0]) / np.ptp(line[:, 0])
        values = np.interp(across % wave.seconds[-1, 0], wave.seconds[:, 0], told[:, 0])
        stretch, base = np.polyfit(-values, line[:, 1], 1)
        assert np.abs(stretch * -values + base - line[:, 1]).max() < 0.01 * np.ptp(line[:, 1])


@pytest.mark.parametrize(("name", "count"), [("rectifiers", 6), ("whole-supply-three-terminal", 3)])
def test_supplies_side_by_side_and_whole_ones_have_a_curve_each(name: str, count: int) -> None:
    """Three reservoirs and three charging currents; a reservoir, the rail behind it and one charging current."""
    circuit = our_desk().circuit(name)
    svg = wave_figure(*waves_of(circuit, dict(circuit.typical)), "", "", "svg")
    assert len([line for line in lines_of(svg) if len(line) > 20]) + flat_lines(svg) == count


@pytest.mark.parametrize("ending", ["svg", "png"])
def test_the_command_writes_a_whole_file(ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An SVG parses and says its size; a PNG has the signature and size of its standard (ISO/IEC 15948)."""
    path = tmp_path / f"figure.{ending}"
    status, _, err = run(capsys, "bench", "follower", "--sweep", "T=-20:80:5", "--plot", str(path))
    assert (status, err) == (0, "")
    content = path.read_bytes()
    if ending == "svg":
        root = ElementTree.fromstring(content)
        assert root.tag == f"{SVG}svg" and root.get("viewBox")
        assert b"http://www.w3.org/1999/xlink" in content or b"<image" not in content
    else:
        assert content[:8] == b"\x89PNG\r\n\x1a\n"
        width, height = struct.unpack(">II", content[16:24])
        assert width == 1320 and height == 800
    again = tmp_path / f"again.{ending}"
    run(capsys, "bench", "follower", "--sweep", "T=-20:80:5", "--plot", str(again))
    assert again.read_bytes() == content, "the same sweep makes the same file"
