"""Design desks opened from disk in Chromium: parts chosen, corners judged, the sweep drawn."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.solution.designs_at_hand import DESIGNS, DESK, design, fitting, problems
from tutor.quantities.quantity import write
from tutor.solution.design_desk import judge
from tutor.solution.design_sweep import sweep_set
from tutor.views.assemble import page_tables, part_labels
from tutor.views.content import CircuitContent, FamilyContent, LevelContent, SiteContent, StageContent
from tutor.views.design_desks import desk_of
from tutor.views.design_pages import desk_index_page, desk_pages
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.press import make_press
from tutor.views.schematic import schematic
from tutor.views.site import build_site
from tutor.views.sources import site_folder

# Opened with every part of the worked solution; STEADYRAIL_DESKS=all opens every desk there is.
OPENED = (
    *("zener-resistor:2", "follower-design:2", "opamp-series:3", "design-brief:3", "limit-foldback:3"),
    "supply-reservoir:2",
)
SHOWN = DESIGNS if os.environ.get("STEADYRAIL_DESKS") == "all" else OPENED

CHOOSE = """(chosen) => {
  for (const [key, value] of Object.entries(chosen)) {
    const part = Steadyrail.ownData.desk.parts.find((item) => item.key === key);
    const select = document.getElementById(`part-${key}`);
    select.value = String(part.shelf.findIndex((item) => Math.abs(item - value) <= 1e-9 * value));
    select.dispatchEvent(new Event("change", { bubbles: true }));
  }
}"""
ROWS = """() => [...document.querySelectorAll(".desk-row")].map((row) =>
  [row.dataset.value, row.dataset.limit, row.dataset.passes, row.querySelector(".desk-judged").textContent])"""

DRAWN = """() => document.querySelector(".sweep-figure").dataset.drawn ===
  `${document.getElementById("sweep-height").value} along ${document.getElementById("sweep-way").value}`"""


def quiet(_done: int, _total: int, _what: str) -> None:
    """A build that nobody watches."""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The desks alone, each with its circuit's drawing: problems and derivations take long, and others test them."""
    circuits: dict[str, CircuitContent] = {}
    families: dict[str, FamilyContent] = {}
    for name in SHOWN:
        desk = design(name)
        circuit, family, number = desk.ready.circuit, desk.ready.family, desk.ready.number
        labels = part_labels(circuit, ("R_L", "V_Z"))
        svg = schematic(circuit.drawing, circuit.parts, SymbolStyle.IEC, labels).with_labels({})
        circuits[circuit.id] = CircuitContent(circuit.id, circuit.title, circuit.purpose, svg, (), (), {}, (), (), None)
        made = desk_of(desk, sweep_set(DESK.folder, desk), problems(name))
        level = LevelContent(number, desk.ready.level.about, (), (), circuit.id, made)
        before = families[family.id].levels if family.id in families else ()
        families[family.id] = FamilyContent(
            family.id, family.title, family.about, family.lesson, circuit.id, (*before, level)
        )
    stage = StageContent(9, "Designs", "Every design.", tuple(circuits.values()), tuple(families.values()))
    content = SiteContent((stage,), page_tables())
    built = build_site(content, tmp_path_factory.mktemp("built") / "site", quiet).path
    press = make_press(site_folder() / "templates")
    desks = [page for one in stage.families for level in one.levels for page in desk_pages(one, level, content, press)]
    for page in (desk_index_page(content, press), *desks):
        (built / page.path).parent.mkdir(exist_ok=True)
        (built / page.path).write_text(page.text, encoding="utf-8")
    return built


class Reader:
    """A reader's page, and every complaint of the browser about it."""

    def __init__(self, browser: Browser, site: Path, width: int, scripts: bool = True) -> None:
        self.context = browser.new_context(viewport={"width": width, "height": 800}, java_script_enabled=scripts)
        self.page: Page = self.context.new_page()
        self.site, self.complaints, self.asked = site, list[str](), list[str]()
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def open(self, name: str, number: int = 1) -> Page:
        file = self.site / "desks" / f"{name.replace(':', '-')}.html"
        self.page.goto("about:blank")
        self.page.goto(f"{file.as_uri()}#{number}")
        return self.page

    def part(self, key: str) -> Locator:
        return self.page.locator(f"#part-{key}")


@pytest.fixture
def reader(working_browser: Browser, site: Path) -> Iterator[Reader]:
    made = Reader(working_browser, site, 320)
    yield made
    assert made.complaints == []
    assert all(address.startswith(("file://", "about:")) for address in made.asked)
    made.context.close()


@pytest.mark.parametrize("name", SHOWN)
def test_the_worked_solution_passes_on_the_page_too(name: str, reader: Reader) -> None:
    """Every row as Python judges it, nothing beyond 320 px, a figure for every way and height."""
    item, desk = problems(name)[1], design(name)
    page = reader.open(name, 2)
    verdict = page.locator(".desk-verdict")
    expect(verdict).to_have_text("Nothing is chosen yet.")
    assert page.locator(".cautions li").all_text_contents() and item.problem.cautions
    assert page.locator(".desk-part select").evaluate_all("(all) => all.every((one) => one.value === '')")
    page.evaluate(CHOOSE, desk.chosen(item.drawn))
    expect(verdict).to_have_text("Every corner passes.")
    found = judge(desk, desk.numbers(item.drawn), desk.chosen(item.drawn))
    for one, (value, limit, passes, told) in zip(found, page.evaluate(ROWS), strict=True):
        assert float(value) == pytest.approx(one.value, rel=1e-9, abs=1e-12)
        assert float(limit) == pytest.approx(one.limit, rel=1e-9, abs=1e-12)
        assert passes == "true" and told.startswith("passes, ")
    page.locator(".desk-each summary").click()
    page.locator(".sweep-table summary").click()
    for select in ("#sweep-way", "#sweep-height"):
        for option in page.locator(f"{select} option").evaluate_all("(all) => all.map((one) => one.value)"):
            page.select_option(select, option)
            page.wait_for_function(DRAWN)
            expect(page.locator(".sweep-table tbody tr")).to_have_count(13)  # a list is filled when it has opened
            assert page.evaluate("document.documentElement.scrollWidth") <= 320, f"{name} {option}"
            assert page.locator(".sweep-curve").count() >= 1, f"{name} {option}"
            assert "NaN" not in page.locator(".sweep-drawing").inner_html()


def test_a_reader_designs_by_keyboard_and_is_told_in_words(reader: Reader) -> None:
    """From nothing chosen to a resistor too large, past the bound, and back to one that serves."""
    name = "zener-resistor:2"
    item, page = problems(name)[0], reader.open(name)
    verdict, rows = page.locator(".desk-verdict"), page.locator(".desk-row")
    expect(rows.first).to_contain_text("choose")
    expect(page.locator(".sweep-missing")).to_contain_text("first.")
    expect(page.get_by_label("a rating for")).to_have_value("")
    chosen = design(name).chosen(item.drawn)
    page.evaluate(CHOOSE, chosen)
    expect(verdict).to_have_text("Every corner passes.")
    more = page.locator('.desk-part[data-key="R"] .desk-more')
    more.focus()
    for _ in range(10):
        if verdict.inner_text() != "Every corner passes.":
            break
        more.press("Enter")
    expect(verdict).to_contain_text("1 of 4 fails: Starving corner")
    expect(verdict).to_contain_text("missing")
    expect(rows.first.locator("strong")).to_have_text("fails")
    expect(verdict).to_have_attribute("role", "status")
    for _ in range(30):
        more.press("Enter")
    expect(rows.first).to_contain_text("There no state of the circuit fits.")
    page.locator('.desk-part[data-key="R"] .desk-less').press("Enter")
    reader.part("R").focus()
    page.keyboard.press("Home")
    expect(reader.part("R")).to_have_value("")
    expect(verdict).to_have_text("Nothing can be judged yet. 4 wait for a choice.")
    page.get_by_role("button", name="put every part back").click()
    expect(verdict).to_have_text("Nothing is chosen yet.")


def test_each_corner_is_told_by_itself(reader: Reader) -> None:
    """By hand: at each end of line and load I_Z = (V_I - V_Z)/(R (1 + tol_R)) - I_L, and it passes from I_ZK on."""
    name = "zener-resistor:2"
    item, page = problems(name)[0], reader.open(name)
    numbers, shelf = design(name).numbers(item.drawn), design(name).parts[0].shelf
    larger = next(value for value in shelf if value > max(fitting(name, item, "R")))
    page.evaluate(CHOOSE, {"R": larger})
    page.locator(".desk-each summary").click()
    expected = []
    for line in (numbers["V_I_MIN"], numbers["V_I_MAX"]):
        for load in (numbers["I_L_MIN"], numbers["I_L_MAX"]):
            current = (line - numbers["V_Z"]) / (larger * (1 + numbers["tol_R"])) - load
            expected.append([write(current, "A"), "passes" if current >= numbers["I_ZK"] else "fails"])
    rows = page.locator(".desk-corner-list").first.locator("tr")
    expect(rows).to_have_count(4)
    told = rows.evaluate_all("(all) => all.map((row) => [...row.cells].slice(1).map((cell) => cell.textContent))")
    assert [[value.replace("\u00a0", " "), verdict] for value, verdict in told] == expected
    assert sorted({verdict for _, verdict in expected}, reverse=True) == ["passes", "fails"]


def test_another_number_brings_its_specification_and_nothing_chosen(reader: Reader) -> None:
    name = "follower-design:2"
    page = reader.open(name)
    page.evaluate(CHOOSE, design(name).chosen(problems(name)[0].drawn))
    page.select_option("#desk-number", "3")
    expect(page.locator(".desk-verdict")).to_have_text("Nothing is chosen yet.")
    given = problems(name)[2].problem.given
    for key, quantity in given.items():
        expect(page.locator(f'td[data-key="{key}"]')).to_have_text(quantity.text)
    statement = page.locator("#desk-problem").get_attribute("href") or ""
    assert statement.endswith("/problems/follower-design-2.html#3")


def test_the_sweep_has_a_name_words_and_its_region_told(reader: Reader) -> None:
    """A base resistor far too large: the zener goes off within the specified load, and the figure says where."""
    name = "follower-design:2"
    page = reader.open(name)
    chosen = design(name).chosen(problems(name)[0].drawn)
    page.evaluate(CHOOSE, {**chosen, "R": 10 * chosen["R"]})
    drawing = page.get_by_role("img", name="V_O along I_L")
    expect(drawing).to_be_visible()
    words = drawing.locator("desc").text_content() or ""
    assert "on the zener is off" in words
    assert page.locator(".sweep-curve.lost").count() >= 1
    expect(page.locator(".sweep-caption")).to_contain_text("Broken curve")


def test_without_scripts_the_page_says_so_and_on_paper_it_stands(working_browser: Browser, site: Path) -> None:
    reader = Reader(working_browser, site, 800, scripts=False)
    page = reader.open("zener-resistor:2")
    assert page.locator(".desk-work").is_hidden() and page.locator("noscript").count() == 1
    reader.context.close()
    reader = Reader(working_browser, site, 800)
    page = reader.open("zener-resistor:2")
    page.emulate_media(media="print")
    assert page.locator(".desk-corners").is_visible() and page.locator(".desk-clear").is_hidden()
    assert reader.complaints == []
    reader.context.close()


def test_the_list_of_desks_leads_to_each(reader: Reader) -> None:
    reader.page.goto((reader.site / "desks.html").as_uri())
    links = reader.page.locator(".entry a").evaluate_all("(all) => all.map((one) => one.getAttribute('href'))")
    assert sorted(links) == sorted(f"desks/{name.replace(':', '-')}.html" for name in SHOWN)
    assert all((reader.site / link).is_file() for link in links)
