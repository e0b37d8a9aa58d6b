"""One topic as one page, opened from an empty folder: it asks for nothing, and runs only what was put into it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from playwright.sync_api import Browser, expect

from tests.site.small_site import chromium
from tutor.__main__ import steadyrail
from tutor.errors import SteadyrailError
from tutor.views.content import SiteContent
from tutor.views.lessons import read_lesson
from tutor.views.single_page import lesson_about, single_page
from tutor.views.sources import site_folder

TOPIC = "zener-resistor"


@pytest.fixture(scope="module")
def alone(small: SiteContent, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("passed-on") / "topic.html"
    path.write_text(single_page(small, TOPIC), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


class Opened:
    """The page, every complaint of the browser about it and every address it asks for."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.context = browser.new_context(viewport={"width": 390, "height": 800})
        self.page = self.context.new_page()
        self.complaints: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.goto(address)


@pytest.fixture
def opened(browser: Browser, alone: Path) -> Iterator[Opened]:
    found = Opened(browser, alone.as_uri())
    yield found
    assert found.complaints == []
    assert all(address.startswith((alone.as_uri(), "data:")) for address in found.asked), found.asked
    found.context.close()


def test_a_topic_is_worked_from_one_file(opened: Opened, small: SiteContent) -> None:
    """Its lesson, an answer, a line of working, another number, another level, in the maths font it brings."""
    page = opened.page
    expect(page.locator(".single-lesson h2").first).to_be_visible()
    assert page.evaluate("document.fonts.ready.then(() => document.fonts.check('16px \"Steadyrail Maths\"'))")
    family = next(found for found in small.families() if found.id == TOPIC)
    for level in family.levels[:2]:
        if level.level > 1:
            page.get_by_role("link", name=f"level {level.level}").click()
        page.locator("#another").click()
        expect(page.locator("article.problem")).to_have_attribute("data-name", f"{TOPIC}:{level.level}:2")
        point = level.problems[1].problem.waypoints[0]
        assert point.answer is not None
        line = page.locator(f'.answer[data-part="{point.key}"]')
        line.locator(".written").fill(point.answer.text)
        line.locator(".written").press("Enter")
        assert line.locator(".verdict").inner_text().startswith(("Right", "This meets"))
        page.locator(".line-field").last.focus()
        page.keyboard.type("V_Z = 1 kV")
        page.keyboard.press("Enter")
        expect(page.locator(".first-wrong")).to_have_count(1, timeout=15000)


def test_its_settings_act_on_it(opened: Opened) -> None:
    page = opened.page
    page.get_by_label("a comma").check()
    page.get_by_label("IEEE 315").check()
    expect(page.locator("#problem svg.schematic")).to_have_attribute("data-drawn", "IEEE")
    assert re.search(r"[0-9],[0-9]", page.locator("#problem").inner_text())


def test_what_its_scripts_make_has_its_look(opened: Opened) -> None:
    """The board of a worked solution lies in rows and columns, as it does on the site."""
    opened.page.locator("details.solution > summary").first.click()
    opened.page.get_by_role("button", name="full screen").first.click()
    board = opened.page.locator(".presenting")
    assert board.evaluate("(board) => getComputedStyle(board).display") == "grid"


def test_it_never_overflows_a_phone(opened: Opened) -> None:
    opened.page.set_viewport_size({"width": 320, "height": 700})
    assert opened.page.evaluate("document.documentElement.scrollWidth") <= 320


def test_no_id_stands_twice_and_no_way_leads_to_a_page_that_is_not_there(alone: Path) -> None:
    whole = alone.read_text(encoding="utf-8")
    text = re.sub(r"<script>.*?</script>|<template.*?</template>", "", whole, flags=re.DOTALL)
    ids = re.findall(r'\bid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert all(re.match(r"#|\?level=|data:", way) for way in re.findall(r'href="([^"]*)"', text))


def test_what_was_not_put_into_it_does_not_run(browser: Browser, alone: Path, tmp_path: Path) -> None:
    """A letter changed in a script, and a script added: neither runs, by the page's own policy."""
    changed = tmp_path / "changed.html"
    text = alone.read_text(encoding="utf-8")
    assert text.count("// Turns the pages") == 1
    text = text.replace("// Turns the pages", "// turns the pages")
    changed.write_text(text.replace("</body>", "<script>window.ran = 1</script></body>"), encoding="utf-8")
    found = Opened(browser, changed.as_uri())
    assert found.page.evaluate("window.ran === undefined")
    assert found.page.locator("#another").is_hidden()
    assert sum("Content Security Policy" in complaint for complaint in found.complaints) == 2
    found.context.close()


def test_equal_content_makes_equal_pages(small: SiteContent, alone: Path) -> None:
    assert single_page(small, TOPIC) == alone.read_text(encoding="utf-8")


def test_a_lesson_is_cut_down_to_the_section_about_a_family() -> None:
    """The whole of it where the family has no section of its own; nothing where there is no such lesson."""
    whole = read_lesson(site_folder() / "lessons" / "shunt.md")
    cut, uncut = lesson_about(TOPIC, "shunt"), lesson_about("of-no-section", "shunt")
    assert cut is not None and cut.text.startswith("## ") and f"{{#{TOPIC}}}" in cut.text.splitlines()[0]
    assert len([line for line in cut.text.splitlines() if line.startswith("## ")]) == 1
    assert uncut == whole
    assert lesson_about(TOPIC, "no-such-lesson") is None


def test_the_command_writes_it_with_its_part_of_the_lesson(tmp_path: Path) -> None:
    told = ["site", "--single", "supply-peak", "--problems", "2", "--out", str(tmp_path / "made"), "--json"]
    run = CliRunner().invoke(steadyrail, told)
    assert run.exit_code == 0, run.output
    report = json.loads(run.stdout)
    path = Path(report["path"])
    assert path == tmp_path / "made" / "supply-peak.html"
    assert path.stat().st_size == report["bytes"] > 100_000
    text = path.read_text(encoding="utf-8")
    assert "The crest</h2>" in text and "The temperature</h2>" not in text


def test_the_command_names_the_nearest_topic() -> None:
    run = CliRunner().invoke(steadyrail, ["site", "--single", "suply-peak"])
    assert isinstance(run.exception, SteadyrailError)
    assert "did you mean 'supply-peak'?" in run.exception.sentence
