"""A learner's days with the record, in Chromium from disk: dates in the contents, what is due, a file read back.

The clock is made up; the site is that of one family at one level with three problems.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.site.conftest import FAMILY

KIND = f"{FAMILY}:1"
TITLE = "Choose the series resistor of a shunt regulator"
FIREFOX = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"
OWN_STORES = """
for (const name of ["getItem", "setItem", "removeItem"]) {
  const was = Storage.prototype[name];
  Storage.prototype[name] = function (key, ...rest) { return was.call(this, `${location.pathname} ${key}`, ...rest); };
}
"""
SHUT = """Storage.prototype.setItem = () => { throw new DOMException("shut", "SecurityError"); };"""


class Learner:
    """One browser profile on the site, on a day."""

    def __init__(self, browser: Browser, site: Path, script: str = "", agent: str | None = None) -> None:
        self.context: BrowserContext = browser.new_context(user_agent=agent)
        if script:
            self.context.add_init_script(script)
        self.site = site
        self.complaints: list[str] = []
        self.page: Page = self.context.new_page()
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.day(3)

    def day(self, number: int) -> None:
        """It is that day of November, in the evening."""
        self.page.clock.set_fixed_time(datetime(2026, 11, number, 18, 30))

    def open(self, place: str) -> Page:
        self.page.goto("about:blank")
        path, _, fragment = place.partition("#")
        self.page.goto((self.site / path).as_uri() + (f"#{fragment}" if fragment else ""))
        return self.page

    def on_number(self, number: int) -> None:
        expect(self.page.locator("article.problem")).to_have_attribute("data-name", f"{KIND}:{number}")

    def answer(self, wrong: bool = False) -> None:
        """Fills in every answer and has each checked; or only the first, with a value that is a slip."""
        # By their names: while they are gone through a part-worked problem may still be giving some of them.
        for part in self.page.locator(".answer").evaluate_all("lines => lines.map((line) => line.dataset.part)"):
            line = self.page.locator(f'.answer[data-part="{part}"]')
            if line.get_attribute("data-given") == "yes":
                continue
            accepted = (line.get_attribute("data-accepted") or "").split()
            value = accepted[0] if accepted else line.get_attribute("data-answer")
            if wrong:
                value = line.locator(".remark[data-value]").first.get_attribute("data-value")
            assert value
            line.locator(".written").fill(f"{float(value):.6g}")
            line.locator(".written").press("Enter")
            outcome = "slip" if wrong else "right"
            expect(line.locator(".verdict")).to_have_attribute("data-outcome", outcome)
            if wrong:
                return

    def entries(self) -> list[dict[str, object]]:
        found: list[dict[str, object]] = self.page.evaluate("Steadyrail.record.entries()")
        return found


@pytest.fixture
def learners(working_browser: Browser, working_site: Path) -> Iterator[list[Learner]]:
    made: list[Learner] = []
    yield made
    for learner in made:
        assert learner.complaints == []
        learner.context.close()


def test_two_problems_come_back_the_next_day_and_the_record_goes_along(
    learners: list[Learner], working_browser: Browser, working_site: Path
) -> None:
    learner = Learner(working_browser, working_site)
    learners.append(learner)
    page = learner.open("index.html")
    expect(page.locator(".dates").first).to_be_hidden()
    page.get_by_role("link", name=TITLE, exact=True).click()
    expect(page.locator(".next-step")).to_have_text("Next: the worked problem, step by step.")
    page.locator(".worked-example").get_by_role("button", name="all steps").click()
    expect(page.locator(".next-step")).to_have_text("Next: a part-worked problem.")
    page.get_by_role("link", name="Problem 2").click()
    learner.on_number(2)
    learner.answer(wrong=True)
    learner.answer()
    page.get_by_role("button", name="another problem").click()
    learner.on_number(3)
    learner.answer()
    page.get_by_role("link", name="Contents").click()
    expect(page.locator(".dates").first).to_have_text("worked on 3 November; due again 4 November")
    page = learner.open(f"topics/{FAMILY}.html")
    expect(page.locator('[data-number="3"]')).to_have_text("right on 3 November")

    learner.day(4)
    page = learner.open("index.html")
    expect(page.locator("#due-today")).to_have_text("one kind of problem due")
    page.get_by_role("link", name="Today’s page").click()
    line = page.locator("#due li")
    expect(line).to_have_count(1)
    expect(line).to_contain_text(f"{TITLE}, level 1, number 1")
    expect(line).to_contain_text("last done on 3 November; due since 4 November")
    expect(page.locator(".standing dd", has_text="Two problems tried")).to_have_count(1)
    with page.expect_download() as waiting:
        page.get_by_role("button", name="save the record as a file").click()
    assert waiting.value.suggested_filename == "steadyrail-record-2026-11-04.json"
    saved = Path(waiting.value.path())
    kept = json.loads(saved.read_text(encoding="utf-8"))
    assert [item["number"] for item in kept["entries"] if item.get("done")] == [2, 3]

    clean = Learner(working_browser, working_site)
    learners.append(clean)
    clean.day(4)
    page = clean.open("today.html")
    expect(page.locator("#due-none")).to_contain_text("Nothing is on record yet")
    page.locator("#read-record").set_input_files({"name": "notes.txt", "mimeType": "text/plain", "buffer": b"notes"})
    expect(page.locator("#record-news")).to_contain_text("This is no record of these pages")
    page.locator("#read-record").set_input_files(saved)
    expect(page.locator("#record-news")).to_contain_text(f"{len(kept['entries'])} entries were added")
    expect(page.locator("#due li")).to_have_count(1)
    page.locator("#due a").click()
    clean.on_number(1)
    clean.answer()
    page = clean.open("today.html")
    expect(page.locator("#due-none")).to_have_text("Nothing is due today.")
    expect(page.locator("#later")).to_contain_text("7 November")


def test_a_solution_opened_is_a_failure_after_a_try_and_an_example_before_one(
    learners: list[Learner], working_browser: Browser, working_site: Path
) -> None:
    learner = Learner(working_browser, working_site)
    learners.append(learner)
    page = learner.open(f"problems/{FAMILY}-1.html")
    learner.answer(wrong=True)
    learner.answer(wrong=True)
    page.locator(".solution summary").click()
    learner.answer()
    told = [(item.get("key"), item.get("done"), item["right"]) for item in learner.entries()]
    assert told[:2] == [("R_MAX", None, False), (None, True, False)], "checked twice is tried once"
    assert all(done is None and right for _, done, right in told[2:]), "what is copied from a solution finishes nothing"
    page.get_by_role("button", name="another problem").click()
    learner.on_number(2)
    page.locator(".solution summary").click()
    learner.answer()
    assert [item["seen"] for item in learner.entries() if "seen" in item] == ["example"]
    assert not [item for item in learner.entries() if item.get("number") == 2 and item.get("done") and item["right"]]


def test_where_each_file_has_a_store_of_its_own_the_record_goes_along_the_links(
    learners: list[Learner], working_browser: Browser, working_site: Path
) -> None:
    learner = Learner(working_browser, working_site, OWN_STORES, FIREFOX)
    learners.append(learner)
    page = learner.open(f"topics/{FAMILY}.html")
    page.get_by_role("link", name="Problem 2").click()
    learner.on_number(2)
    learner.answer()
    page.get_by_role("link", name="Contents").click()
    expect(page.locator(".dates").first).to_have_text("worked on 3 November; due again 4 November")
    page = learner.open("index.html")
    expect(page.locator(".dates").first).to_have_text("worked on 3 November; due again 4 November")


def test_on_paper_a_topic_is_whole(learners: list[Learner], working_browser: Browser, working_site: Path) -> None:
    """Its part-worked problems too: what is left out on paper is only the bar over the answers of a problem."""
    learner = Learner(working_browser, working_site)
    learners.append(learner)
    page = learner.open(f"topics/{FAMILY}.html")
    page.emulate_media(media="print")
    expect(page.get_by_role("heading", name="Part-worked problems")).to_be_visible()


def test_with_storage_shut_todays_page_says_so(
    learners: list[Learner], working_browser: Browser, working_site: Path
) -> None:
    learner = Learner(working_browser, working_site, SHUT)
    learners.append(learner)
    page = learner.open("today.html")
    page.evaluate(f"Steadyrail.record.finished({{kind: '{KIND}', number: 1, right: true, help: 0}})")
    expect(page.locator("#record-trouble")).to_contain_text("save the record as a file before you leave")
    expect(page.locator("#holds")).to_contain_text("One problem tried")
