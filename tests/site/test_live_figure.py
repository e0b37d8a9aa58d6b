"""The figure on a circuit's page that a reader disturbs, opened from disk in Chromium.

What it shows is held against `solve`, and its balances against Kirchhoff's laws.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random

import numpy as np
import pytest
from playwright.sync_api import Browser, Page, expect

import tutor
from tutor.bench.drifts import ZENER_DRIFTS, ZENER_VOLTS
from tutor.circuit.component import PartKind
from tutor.errors import SteadyrailError
from tutor.solution.bare_set import BareSet, bare_set
from tutor.solution.desk import our_desk
from tutor.views.assemble import page_tables, part_labels
from tutor.views.content import CircuitContent, SiteContent, StageContent
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.live_figure import live_figure
from tutor.views.schematic import schematic
from tutor.views.site import build_site

SEED = 60747
DESK = our_desk()
CIRCUITS = DESK.folder.circuit_ids()
WITHOUT: tuple[str, ...] = ()  # circuits on whose pages nothing can be disturbed

MOVE = """(places) => {
  for (const [name, place] of Object.entries(places)) {
    const slider = document.getElementById(`live-${name}`);
    slider.value = String(place);
    slider.dispatchEvent(new Event("input", { bubbles: true }));
  }
  return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))));
}"""
SHOWN = """() => ({
  region: document.querySelector(".live").dataset.region,
  state: document.querySelector(".live-state").dataset.text,
  values: [...document.querySelectorAll(".live tr[data-name]")].map((row) =>
    [row.dataset.name, row.querySelector(".live-value").dataset.value]),
  wide: document.documentElement.scrollWidth,
})"""


def quiet(_done: int, _total: int, _what: str) -> None:
    """A build that nobody watches."""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each circuit with its drawing and its figure alone: what else its page derives takes long, and others test it."""
    circuits = []
    for name in CIRCUITS:
        circuit, bare = DESK.circuit(name), bare_set(DESK.folder, DESK.circuit(name))
        labels = part_labels(circuit, ("R_L", "V_Z"))
        svg = schematic(circuit.drawing, circuit.parts, SymbolStyle.IEC, labels).with_labels({})
        live = None if bare is None else live_figure(bare)
        circuits.append(CircuitContent(name, circuit.title, circuit.purpose, svg, (), (), {}, (), (), live))
    stage = StageContent(9, "Circuits", "Every circuit.", tuple(circuits), ())  # a stage that no lesson speaks of
    built = tmp_path_factory.mktemp("built") / "site"
    return build_site(SiteContent((stage,), page_tables()), built, quiet).path


class Reader:
    """A reader's page on a phone of 320 px, and every complaint of the browser about it."""

    def __init__(self, browser: Browser, site: Path) -> None:
        self.context = browser.new_context(viewport={"width": 320, "height": 700}, reduced_motion="reduce")
        self.page: Page = self.context.new_page()
        self.site = site
        self.complaints: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def open(self, circuit: str) -> Page:
        self.page.goto((self.site / "circuits" / f"{circuit}.html").as_uri())
        expect(self.page.locator(".live")).to_be_visible()
        return self.page


@pytest.fixture
def reader(working_browser: Browser, site: Path) -> Iterator[Reader]:
    made = Reader(working_browser, site)
    yield made
    assert made.complaints == []
    assert all(address.startswith("file://") for address in made.asked)
    made.context.close()


def places_near(bare: BareSet, random: Random) -> Iterator[dict[str, int]]:
    """Where sliders are put: as they stand, the load past the edge of its usual region, all of them a little off."""
    yield {}
    load = bare.movers[0]
    yield {load.name: load.least if load.name == "R_L" else load.most}
    near = {mover.name: random.randint(max(mover.least, 96), min(mover.most, 104)) for mover in bare.movers}
    yield near | ({"DT": random.randint(-300, 400)} if bare.drifts else {})


def warmed(bare: BareSet, moved: dict[str, float]) -> dict[str, float]:
    """What is moved, the change of temperature put into the part values by hand: 2 mV/K down for a junction, shares of
    a zener by its voltage, of a fixed regulator and of a reference (sources: `bench/drifts.py`)."""
    kelvins = moved.get("DT", 0.0)
    told = {**bare.numbers, **moved}
    found = {name: value for name, value in moved.items() if name != "DT"}
    for name in bare.drifts:
        if name.startswith(("V_BE", "V_F")):
            found[name] = told[name] - 0.002 * kelvins
        else:
            shares = {"V_REF": 5e-5, "V_REG": -2e-4}
            share = shares.get(name, float(np.interp(bare.numbers[name], ZENER_VOLTS, ZENER_DRIFTS)))
            found[name] = told[name] * (1 + share * kelvins)
    return found


def unmoved(bare: BareSet, moved: dict[str, float], name: str) -> float:
    """A part value as its slider has it, before it drifts."""
    return moved.get(name, bare.numbers[name])


def test_every_circuit_can_be_warmed_but_where_the_output_is_told() -> None:
    """`regulators` is given the output it holds, and `source` has no part that drifts."""
    cold = [
        name for name in CIRCUITS
        if not any(mover.name in ("DT", "T_A") for mover in bare_set(DESK.folder, DESK.circuit(name)).movers)
    ]  # fmt: skip
    assert cold == ["regulators", "source"]


@pytest.mark.parametrize(("circuit", "kelvins", "expected"), [
    ("zener-shunt", 40, 8.9 * (1 + 40 * 5.8444e-4) - 8.9),  # 8.9 V: 0.058 %/K; of it R and r_z pass 220/226
    ("opamp-series-reference", 40, 2 * 5.0 * 5e-5 * 40),  # both halves of the divider alike: V_O = 2 V_REF
    ("boosted-shunt", -30, None),
])  # fmt: skip
def test_a_change_of_temperature_shows_what_drifts_and_what_the_output_makes_of_it(
    circuit: str, kelvins: float, expected: float | None, reader: Reader
) -> None:
    """Worked by hand; in a boosted shunt the junction's 2 mV/K and the zener's share add up in the output."""
    page = reader.open(circuit)
    page.evaluate(MOVE, {"DT": 10 * kelvins})
    shown = {name: float(text) for name, text in page.evaluate(SHOWN)["values"] if name.startswith("D")}
    if circuit == "zener-shunt":
        assert shown["DV_Z0"] == pytest.approx(expected, rel=0.01)
        assert shown["DV_O"] == pytest.approx(expected * 220 / 226, rel=0.01)
    elif circuit == "boosted-shunt":
        assert shown["DV_BE"] == pytest.approx(0.06) and shown["DV_Z0"] < 0
        assert shown["DV_O"] == pytest.approx(shown["DV_BE"] + shown["DV_Z0"], rel=0.02)
    else:
        assert shown["DV_O"] == pytest.approx(expected, rel=1e-3) and shown["DV_BE"] == pytest.approx(-0.08)
    page.get_by_role("button", name="put everything back").click()
    page.wait_for_function("() => document.querySelector('tr[data-name=DV_O] .live-value').dataset.value === '0'")


def test_every_circuit_has_the_figure_but_those_listed() -> None:
    without = [name for name in CIRCUITS if bare_set(DESK.folder, DESK.circuit(name)) is None]
    assert tuple(without) == WITHOUT


def test_a_winding_is_not_turned_up_past_what_is_safe() -> None:
    """22 V r.m.s. for a whole winding, 11 V for half of one (a rule of the project), or where its circuit starts."""
    sets = [bare_set(DESK.folder, DESK.circuit(name)) for name in CIRCUITS]
    movers = [(bare.circuit, mover) for bare in sets if bare for mover in bare.movers if mover.name == "V_SEC"]
    assert len(movers) >= 5
    for circuit, mover in movers:
        tapped = any(part.kind is PartKind.TAPPED_WINDING for part in circuit.parts)
        assert mover.typical * mover.most / 100 <= max(11.0 if tapped else 22.0, mover.typical), circuit.id


@pytest.mark.parametrize("circuit", [name for name in CIRCUITS if name not in WITHOUT])
def test_what_is_shown_is_what_solve_finds(circuit: str, reader: Reader) -> None:
    """At the start and at moved sliders: region, every value to 1e-9, each balance; and 320 px are wide enough."""
    page, bare, random = reader.open(circuit), bare_set(DESK.folder, DESK.circuit(circuit)), Random(SEED)
    assert bare is not None
    page.evaluate("document.querySelectorAll('.live details').forEach((item) => { item.open = true; })")
    movers, solved, seen = {mover.name: mover for mover in bare.movers}, 0, []
    for places in places_near(bare, random):
        moved = {name: movers[name].typical * place / 100 for name, place in places.items()}
        told_places = dict(moved)
        if bare.drifts:
            moved = warmed(bare, moved)
        page.evaluate(MOVE, {name: mover.start for name, mover in movers.items()} | places)
        shown = page.evaluate(SHOWN)
        told = f"{circuit} {moved}"
        assert shown["wide"] <= 320, told
        try:
            answer = tutor.solve(circuit, {**bare.numbers, **moved}, (), dict(bare.conventions))
        except SteadyrailError:
            assert shown["region"] == "" and shown["state"].startswith("No state of the circuit fits"), told
            continue
        solved += 1
        assert shown["state"].lower().startswith(f"{answer.region}.".lower()), told
        found = {name: float(text) for name, text in shown["values"] if text}
        values = {name: value for name, value in found.items() if not (bare.drifts and name.startswith("D"))}
        for name in bare.drifts:
            drifted = answer.values[name].value - unmoved(bare, told_places, name)
            assert found[f"D{name}"] == pytest.approx(drifted), told
        expected = {name: answer.values[name].value for name, _ in shown["values"] if name in answer.values}
        assert values == pytest.approx(expected, rel=1e-9, abs=1e-12), told
        for group in bare.groups:
            if group.whole and all(name in values for name in group.names):
                parts = [sign * values[name] for sign, name in group.parts]
                size = max(map(abs, (*parts, values[group.whole])))
                assert sum(parts) == pytest.approx(values[group.whole], abs=1e-9 * size), f"{told} {group}"
        seen.append(values)
    assert solved >= 2 and seen[0] != seen[-1]


@pytest.mark.parametrize(
    ("circuit", "usual", "beyond", "needs"),
    [
        ("zener-shunt", "The zener is in breakdown.", "The zener is off.", "I_Z ≥ 0"),
        ("follower", "The zener is in breakdown and the transistor active.", "The zener is off and", "I_Z ≥ 0"),
    ],
)
def test_pulling_the_load_up_leaves_the_region_with_the_bound_that_failed(
    circuit: str, usual: str, beyond: str, needs: str, reader: Reader
) -> None:
    page = reader.open(circuit)
    state, load = page.locator(".live-state"), page.locator("#live-I_L")
    expect(state).to_have_attribute("data-text", usual)
    load.focus()
    load.press("End")
    page.wait_for_function("(text) => document.querySelector('.live-state').dataset.text !== text", arg=usual)
    said = state.get_attribute("data-text") or ""
    assert said.startswith(beyond) and f"it would need {needs}, but would have I_Z = −" in said
    assert page.locator(".live-state math").count() >= 2, "letters are set as letters"
    page.get_by_role("button", name="put everything back").click()
    expect(state).to_have_attribute("data-text", usual)
    expect(load).to_have_value("100")


def test_arrow_keys_move_a_slider_which_says_its_value_with_its_unit(reader: Reader) -> None:
    page = reader.open("zener-shunt")
    line = page.get_by_role("slider", name="supply (unregulated input) voltage")
    expect(line).to_have_attribute("aria-valuetext", "15\u00a0V")
    line.focus()
    for _ in range(4):
        line.press("ArrowRight")
    expect(line).to_have_value("104")
    expect(line).to_have_attribute("aria-valuetext", "15.6\u00a0V")
    answer = tutor.solve("zener-shunt", {"V_I": 15.6, "R": 220, "V_Z0": 8.9, "r_z": 6, "I_ZT": 0.028, "I_L": 0.01})
    shown = page.locator('.live tr[data-name="I_Z"] .live-value').first
    assert float(shown.get_attribute("data-value") or "nan") == pytest.approx(answer.values["I_Z"].value, rel=1e-9)


def test_bars_are_as_long_as_their_values_and_nothing_glides(reader: Reader) -> None:
    page = reader.open("zener-shunt")
    page.evaluate(MOVE, {"I_L": 150})
    found = page.evaluate(
        """() => [...document.querySelector(".live-group").querySelectorAll("tr")].map((row) => {
          const [fill, track] = [".live-fill", ".live-track"].map((part) => row.querySelector(part));
          const share = fill.getBoundingClientRect().width / track.getBoundingClientRect().width;
          return [Number(row.querySelector(".live-value").dataset.value), share,
                  getComputedStyle(fill).transitionDuration];
        })"""
    )
    (whole, share, _), *parts = found
    assert 0.3 < share < 1 and len(parts) == 2
    assert all(length == pytest.approx(share * value / whole, abs=0.02) for value, length, _ in parts)
    assert all(duration == "0s" for _, _, duration in found)


def test_a_reader_who_listens_is_told_once_all_is_still(reader: Reader) -> None:
    page = reader.page
    page.clock.install(time=0)
    reader.open("zener-shunt")
    page.clock.pause_at(60)
    heard = page.locator(".live-heard")
    for place in (150, 200, 250, 300):
        page.evaluate(MOVE.replace("return new Promise", "void new Promise"), {"I_L": place})
        page.clock.run_for(200)
        assert heard.text_content() == "", "nothing is said while it moves"
    page.clock.run_for(1000)
    expect(heard).to_contain_text("The zener is off.")
    assert heard.get_attribute("role") == "status"


def test_on_paper_and_without_scripts_there_is_no_such_section(working_browser: Browser, site: Path) -> None:
    for scripts, media in ((False, "screen"), (True, "print")):
        context = working_browser.new_context(java_script_enabled=scripts)
        page = context.new_page()
        page.emulate_media(media="print" if media == "print" else "screen")
        page.goto((site / "circuits" / "follower.html").as_uri())
        assert page.locator(".live").count() == 1 and page.locator(".live").is_hidden()
        assert page.locator(".figure svg").is_visible()
        context.close()
