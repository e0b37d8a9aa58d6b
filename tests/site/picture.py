"""The README's picture, taken of the site as it is: a problem's page with a learner's lines and what is said of them.

`python -m tests.site.picture` takes it anew, into docs/problem-page.png: the page of the same problem at the same size,
in whatever text face the machine has. It is kept small by drawing it in few colours.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image
from playwright.sync_api import Browser, expect

from tests.site.small_site import chromium
from tests.site.stage_site import quiet
from tutor.solution.desk import our_desk
from tutor.views.assemble import STAGES, level_content, page_tables
from tutor.views.content import FamilyContent, SiteContent, StageContent
from tutor.views.site import build_site

PICTURE = Path(__file__).resolve().parents[2] / "docs" / "problem-page.png"
FAMILY, LEVEL = "zener-resistor", 1
SIZE = (1060, 1216)
COLOURS = 48
# The first line forgets the zener's least current; the second is right, the third rests on the first.
LINES = ("R <= (V_I_MIN - V_Z)/I_L = 16.7/50m = 334 Ω", "I_ZM = P_ZM/V_Z = 1/6.8 = 147 mA", "choose R = 330 Ω")


def one_page_site(folder: Path) -> Path:
    """A site of that family at that level, its first problem alone: without the lesson, circuit and desk beside it."""
    desk = our_desk()
    family = desk.family(FAMILY)
    circuit = desk.circuit(family.circuit_of(LEVEL))
    level = replace(level_content(desk, circuit, family, LEVEL, 1), desk=None)
    shown = FamilyContent(FAMILY, family.title, family.about, family.lesson, family.circuit, (level,))
    number, title, summary = next(row for row in STAGES if row[0] == circuit.stage)
    stage = StageContent(number, title, summary, (), (shown,))
    return build_site(SiteContent((stage,), page_tables()), folder, quiet).path


def take(browser: Browser, site: Path) -> bytes:
    """A PNG of the page with those lines written on its working sheet, once all of them are judged."""
    page = browser.new_context(viewport={"width": SIZE[0], "height": SIZE[1]}).new_page()
    page.goto((site / "problems" / f"{FAMILY}-{LEVEL}.html").as_uri())
    for line in LINES:
        page.locator(".line-field").last.fill(line)
        page.keyboard.press("Enter")
    expect(page.locator(".found")).to_have_count(len(LINES), timeout=15000)
    expect(page.locator(".first-wrong")).to_have_count(1, timeout=15000)
    page.evaluate("document.activeElement.blur(); window.scrollTo(0, 0)")
    kept = BytesIO()
    with Image.open(BytesIO(page.screenshot())) as shot:
        shot.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE).save(kept, "PNG", optimize=True)
    page.context.close()
    return kept.getvalue()


def main() -> None:
    """Build the page, take the picture, keep it."""
    with TemporaryDirectory() as folder, chromium() as browser:
        PICTURE.write_bytes(take(browser, one_page_site(Path(folder) / "site")))
    print(PICTURE)


if __name__ == "__main__":
    main()
