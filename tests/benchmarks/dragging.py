"""Frames while a slider of a circuit's figure is dragged, in Chromium with its processor slowed to a quarter.

A move is timed from the slider's event to the end of the frame that shows it; beside it stands a frame in which nothing
is asked, which waits for the display alone. A figure that keeps up with the display has a ratio near one.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from plans import Disagreement
from playwright.sync_api import CDPSession, Page, sync_playwright
from table import Row, Section
from timing import Contender, Effort, interleaved

from tutor.solution.bare_set import bare_set
from tutor.solution.desk import our_desk
from tutor.views.assemble import page_tables, part_labels
from tutor.views.content import CircuitContent, SiteContent, StageContent
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.live_figure import live_figure
from tutor.views.schematic import schematic
from tutor.views.site import build_site

CIRCUITS = ("zener-shunt", "follower", "full-regulator")
SLOWER, MOVES = 4, 60
HOW = (
    f"A slider of a circuit's figure dragged, {MOVES} moves one after another, Chromium with its processor {SLOWER} "
    "times slower: from the event to the end of the frame that shows it. Theirs: frames of the same page left alone."
)
_FRAME = "await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));"
DRAGGED = f"""async (moves) => {{
  const sliders = [...document.querySelectorAll(".live input[type=range]")];
  for (let at = 0; at < moves; at += 1) {{
    const slider = sliders[at % sliders.length];
    const [low, high] = [Number(slider.min), Number(slider.max)];
    slider.value = String(low + ((high - low) * ((at * 37) % 100)) / 100);
    slider.dispatchEvent(new Event("input", {{ bubbles: true }}));
    {_FRAME}
  }}
}}"""
LEFT_ALONE = f"async (moves) => {{ for (let at = 0; at < moves; at += 1) {{ {_FRAME} }} }}"
SHOWN = "() => [...document.querySelectorAll('.live-value')].map((cell) => cell.dataset.value).join()"


def site_of_figures(folder: Path) -> Path:
    """The pages of the circuits, with their figures alone."""
    desk, pages = our_desk(), []
    for name in CIRCUITS:
        circuit = desk.circuit(name)
        bare = bare_set(desk.folder, circuit)
        labels = part_labels(circuit, ("R_L", "V_Z"))
        svg = schematic(circuit.drawing, circuit.parts, SymbolStyle.IEC, labels).with_labels({})
        live = None if bare is None else live_figure(bare)
        pages.append(CircuitContent(name, circuit.title, circuit.purpose, svg, (), (), {}, (), (), live))
    stage = StageContent(9, "Circuits", "Those measured.", tuple(pages), ())
    return build_site(SiteContent((stage,), page_tables()), folder / "site", lambda *_: None).path


def require_movement(page: Page) -> None:
    """Disagreement where dragging changes nothing that is shown."""
    before = page.evaluate(SHOWN)
    page.evaluate(DRAGGED, 3)
    if page.evaluate(SHOWN) == before:
        raise Disagreement("the sliders are dragged, and no value moves")


def row_for(name: str, page: Page, session: CDPSession, site: Path, effort: Effort) -> Row:
    """One circuit."""
    page.goto((site / "circuits" / f"{name}.html").as_uri())
    require_movement(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})

    def dragged(_number: int) -> Callable[[], object]:
        return lambda: page.evaluate(DRAGGED, MOVES)

    def left_alone(_number: int) -> Callable[[], object]:
        return lambda: page.evaluate(LEFT_ALONE, MOVES)

    found = interleaved({"ours": Contender(dragged), "theirs": Contender(left_alone)}, effort.rounds)
    session.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    return Row(f"{name}, dragged", found["ours"].per(MOVES), "left alone", found["theirs"].per(MOVES), "")


def measure(effort: Effort) -> Section:
    """A row for each circuit; RuntimeError where Chromium is missing."""
    program = shutil.which("chromium") or shutil.which("chromium-headless-shell")
    if program is None:
        raise RuntimeError("chromium is missing: install it (Debian package chromium), or name other benchmarks")
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as folder, sync_playwright() as playwright:
        site = site_of_figures(Path(folder))
        browser = playwright.chromium.launch(executable_path=program)
        page = browser.new_page(viewport={"width": 390, "height": 800})
        session = page.context.new_cdp_session(page)
        rows = tuple(row_for(name, page, session, site, effort) for name in CIRCUITS)
        browser.close()
    return Section(rows, HOW)
