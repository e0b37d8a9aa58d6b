"""The search, the glossary and the formula sheets as a reader uses them; and that what is found is there."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.site.reader import Reader
from tutor.views.search_index import STOP, folded


@pytest.fixture(scope="module")
def rows(shunt_site: Path) -> list[list[object]]:
    """The places of the index."""
    script = (shunt_site / "assets" / "search_index.js").read_text(encoding="utf-8")
    found: list[list[object]] = json.loads(script.split(".searchIndex = ", 1)[1].removesuffix(";\n"))["places"]
    return found


@pytest.fixture
def page(working_browser: Browser, shunt_site: Path) -> Iterator[Page]:
    context = working_browser.new_context(viewport={"width": 320, "height": 700})
    reader = Reader(context, shunt_site)
    yield reader.open("search.html")
    assert reader.complaints == []
    assert all(address.startswith("file://") for address in reader.asked)
    context.close()


def first(page: Page, typed: str) -> str:
    """Types words and returns the address of the place that is found first; '' where none is."""
    page.locator("#looked-for").fill(typed)
    links = page.locator("#search-found a")
    if not links.count():
        return ""
    return (links.first.get_attribute("href") or "").replace(".html", "")


FIRST = {
    **dict.fromkeys(("Vz", "V_Z", "v_z"), "symbols#letter-V_Z"),
    **dict.fromkeys(("beta", "β", "hfe", "h_FE"), "symbols#letter-h_FE"),
    "Vout": "symbols#letter-V_O",
    "Iz_max": "symbols#letter-I_Z",
    "zener current": "symbols#letter-I_Z",
    "starv": "glossary#term-starving",
    "where it stops working": "lessons/shunt#zener-range",
    "adjustable shunt reference": "lessons/shunt#reference-shunt",
    "choose series resistor": "problems/zener-resistor-1",
    "zener-state": "problems/zener-state-1",
    "formula": "formulas",
    "qqq": "",
    "zener qqq": "",
    "the": "",
}


def test_what_is_typed_finds_its_place_first(page: Page) -> None:
    for typed, href in FIRST.items():
        assert first(page, typed) == href, typed
        said = page.locator("#search-said").inner_text()
        assert ("Nothing here" in said) == (href == ""), typed


def test_it_is_used_from_the_keyboard_and_told_in_words(page: Page) -> None:
    page.locator("#looked-for").focus()
    page.keyboard.type("zener")
    status = page.locator("#search-said")
    expect(status).to_have_attribute("role", "status")
    count = page.locator("#search-found > li").count()
    assert re.match(r"\d+ places", status.inner_text()) and count > 5
    page.keyboard.press("Enter")
    expect(page.locator("#search-found a").first).to_be_focused()
    ranks = page.locator("#search-found > li").first.inner_text()
    assert "zener" in ranks.lower()
    page.reload()
    expect(page.locator("#looked-for")).to_have_value("zener")
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    page.locator("#looked-for").fill("<img src=x>")
    assert page.locator("#search-found img, #search-said img").count() == 0


def test_python_and_the_page_fold_words_alike(page: Page, rows: list[list[object]]) -> None:
    """Every word of the index is found by itself: both sides cut texts into the same words."""
    for text in ("Drop-out of V_Z", "the zener's β, 2.5 V", "S_V·R||r_z", "h_FE + 1", "Thevenin’s É"):
        cut = page.evaluate("(text) => Steadyrail.folded(text)", text)
        assert folded(text) == cut
    words = sorted({word for row in rows for word in str(row[5]).split()})
    assert len(words) > 500 and not STOP & set(words)
    for word in words[:: len(words) // 40]:
        assert first(page, word), word


def test_every_place_of_the_index_is_there(shunt_site: Path, rows: list[list[object]]) -> None:
    for row in rows:
        targets = [str(row[2]), *(str(href) for _, href in (row[6] if len(row) > 6 else []))]  # type: ignore[attr-defined]
        for target in targets:
            path, _, place = target.partition("#")
            text = (shunt_site / path).read_text(encoding="utf-8")
            assert not place or f'id="{place}"' in text, target
    kinds = {row[0] for row in rows}
    assert kinds == set(range(6)), "every kind of place is there"


def test_only_the_search_loads_the_index_and_it_is_small(shunt_site: Path) -> None:
    """This site has one stage of five; the whole of it stays under 60 kB (the figure is in CHANGELOG.md)."""
    index = (shunt_site / "assets" / "search_index.js").read_bytes()
    assert len(gzip.compress(index)) < 20_000
    users = [path.name for path in shunt_site.rglob("*.html") if "search_index.js" in path.read_text(encoding="utf-8")]
    assert users == ["search.html"]


def test_a_term_leads_to_its_section(page: Page) -> None:
    assert first(page, "starving") == "glossary#term-starving"
    page.locator("#search-found a").first.click()
    page.locator("#term-starving a").click()
    expect(page.locator("h2#zener-range")).to_be_visible()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_formula_sheet_is_one_or_two_pages(page: Page, shunt_site: Path, paper: str) -> None:
    for path in sorted((shunt_site / "formulas").glob("*.html")):
        page.goto(path.as_uri())
        assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
        printed = page.pdf(format=paper)
        count = len(re.findall(rb"/Type /Page\b", printed))
        assert 1 <= count <= 2, f"{path.name} takes {count} pages of {paper}"
