"""A problem's page opened, in Chromium with its processor slowed to a quarter, until all on it can be used.

A page can be used when its own scripts have run: answers are taken, lines are checked, another number can be asked for.
Beside it stands a page with the same frame and words alone, which shows what the browser itself takes.
"""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import replace
from pathlib import Path

from plans import Disagreement
from playwright.sync_api import CDPSession, Page, sync_playwright
from table import Row, Section
from timing import Effort, Timing

from tutor.solution.desk import our_desk
from tutor.views.assemble import topic_content
from tutor.views.content import SiteContent
from tutor.views.site import build_site

FAMILIES = ("zener-resistor", "full-regulator", "find-the-wrong-line")
SLOWER, NUMBERS, MOST_SECONDS = 4, 6, 1.0
ANY_STAGE = 1  # in which chapter a page stands changes a word of it
HOW = (
    f"A problem's page opened from disk, Chromium with its processor {SLOWER} times slower and its cache emptied: from "
    "the start of the way there to the end of the page's own scripts, with answers and lines ready to be written. "
    f"Theirs: the page of settings, whose scripts are few. Over {MOST_SECONDS} s is no answer but a failure."
)
READY = """() => {
  const [way] = performance.getEntriesByType("navigation");
  const able = !document.querySelector(".check").hidden && document.querySelectorAll(".line-field").length > 0
    && !document.querySelector("#turn").hidden;
  return able ? way.domContentLoadedEventEnd / 1000 : 0;
}"""
LOADED = "() => performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd / 1000"


def problems_of(name: str) -> SiteContent:
    """The problems of a family alone: without circuits' pages, and so without design desks, nothing is derived."""
    content = topic_content(our_desk(), name, NUMBERS, ANY_STAGE, (), lambda *_: None)
    (stage,) = content.stages
    (family,) = stage.families
    bare = replace(family, levels=tuple(replace(level, desk=None) for level in family.levels))
    return replace(content, stages=(replace(stage, families=(bare,)),))


def opened(page: Page, session: CDPSession, address: str, asked: str) -> float:
    """Seconds to open a page anew; Disagreement where what must be ready is not."""
    page.goto("about:blank")
    session.send("Network.clearBrowserCache")
    page.goto(address, wait_until="load")
    seconds: float = page.evaluate(asked)
    if not seconds:
        raise Disagreement(f"{address} is open, and its answers cannot be written")
    return seconds


def measure(effort: Effort) -> Section:
    """A row for each page; RuntimeError where Chromium is missing, Disagreement where a page is not ready in time."""
    program = shutil.which("chromium") or shutil.which("chromium-headless-shell")
    if program is None:
        raise RuntimeError("chromium is missing: install it (Debian package chromium), or name other benchmarks")
    rows = []
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program)
        page = browser.new_page(viewport={"width": 390, "height": 800})
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        for name in FAMILIES:
            site = build_site(problems_of(name), Path(folder) / name, lambda *_: None).path
            ours: list[float] = []
            theirs: list[float] = []
            for _ in range(effort.rounds):
                ours.append(opened(page, session, (site / "problems" / f"{name}-2.html").as_uri(), READY))
                theirs.append(opened(page, session, (site / "settings.html").as_uri(), LOADED))
            found = Timing(tuple(ours))
            if found.median > MOST_SECONDS:
                told = f"{name}-2.html can be used after {found.median:.2f} s"
                raise Disagreement(f"{told}; {MOST_SECONDS} s are the most")
            rows.append(Row(f"{name}, level 2, opened", found, "settings", Timing(tuple(theirs)), ""))
        browser.close()
    return Section(tuple(rows), HOW)
