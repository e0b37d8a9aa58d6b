"""The working sheet with the checker that the site ships, whole and with files missing; nothing stands in for it."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tutor.solution.desk import our_desk

if TYPE_CHECKING:
    from tests.site.conftest import OpenSheet, Sheet

NAME = "zener-resistor-1.html"
NOT_CHECKED = "Your lines are kept but not checked"
SLOW = 15000.0  # milliseconds that a busy machine may take to a finding

OpenPage = Callable[..., Page]


@pytest.fixture
def context(working_browser: Browser) -> Iterator[BrowserContext]:
    made = working_browser.new_context(viewport={"width": 1280, "height": 900})
    yield made
    made.close()


@pytest.fixture
def open_page(context: BrowserContext, working_site: Path, tmp_path: Path) -> OpenPage:
    """Opens a problem of a copy of the site from which some files or folders are missing."""

    def open_without(*missing: str) -> Page:
        copy = shutil.copytree(working_site, tmp_path / "site")
        for path in missing:
            assert (copy / path).exists(), path
            shutil.rmtree(copy / path) if (copy / path).is_dir() else (copy / path).unlink()
        page = context.new_page()
        page.on("dialog", lambda dialog: pytest.fail(f"what was typed ran: {dialog.message}"))
        page.goto((copy / "problems" / NAME).as_uri())
        return page

    return open_without


def write(page: Page, *lines: str) -> None:
    page.locator(".line-field").last.focus()
    for line in lines:
        page.keyboard.type(line)
        page.keyboard.press("Enter")


def test_a_chosen_part_has_its_table_of_margins(open_page: OpenPage) -> None:
    """zener-resistor:1:1 fed by 1 kΩ: every demand told with what is missing or to spare; without a choice no table."""
    page = open_page()
    design = page.locator(".working-design")
    write(page, "V_R = V_I - V_Z")
    expect(page.locator(".line-finding").first).to_contain_text("true of the circuit", timeout=SLOW)
    expect(design).to_be_hidden()
    write(page, "choose R = 10 kΩ")
    expect(design.locator("tbody tr").first).to_contain_text("is needed", timeout=SLOW)
    starved = [[cell.inner_text() for cell in row.locator("td").all()] for row in design.locator("tbody tr").all()]
    assert len(starved) == len(our_desk().sheet("zener-resistor:1:1").demands)
    assert any(holds == "no" and "missing" in margin for _, holds, margin in starved)
    assert "$" not in str(starved)


def test_right_wrong_and_broken_lines_are_told_apart_from_disk(open_page: OpenPage) -> None:
    page = open_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    write(page, "I_R = (V_I - V_Z)/R", "P_Z = V_Z I_R", "I_Z = (", "I_Z = 5 V", "words only")
    margins = page.locator(".line-finding")
    expect(margins.nth(0)).to_contain_text("true of the circuit", timeout=SLOW)
    expect(margins.nth(1)).to_contain_text("not so", timeout=SLOW)
    expect(margins.nth(2)).to_contain_text("cannot be read: the bracket", timeout=SLOW)
    expect(margins.nth(3)).to_contain_text("the units clash", timeout=SLOW)
    expect(margins.nth(4)).to_contain_text("noted", timeout=SLOW)
    expect(page.locator(".working-sum")).to_have_text("The first line to look at is line 2.")
    expect(page.locator(".working-unchecked")).to_be_empty()
    assert complaints == []


@pytest.mark.parametrize(
    "line",
    [
        "<img src=x onerror=alert(1)>", "<script>alert(1)</script>", "I_Z = \"><svg onload=alert(1)>", "${alert(1)}",
        "alert(1)", "I_Z = alert(1)", "I_Z = constructor.constructor('alert(1)')()", "javascript:alert(1)",
        "I_Z = " + "9" * 500, "I_Z = 9e999999999", "I_Z = " + "(" * 300, "I_Z = 9^9^9^9^9^9", "__proto__ = 5",
    ],
)  # fmt: skip
def test_nothing_typed_is_run_or_becomes_markup(open_page: OpenPage, line: str) -> None:
    page = open_page()
    before = page.evaluate("Object.keys(Object.prototype).length")
    write(page, line, "V_R = V_I - V_Z")
    expect(page.locator(".line-finding").nth(0)).not_to_be_empty(timeout=SLOW)
    expect(page.locator(".line-finding").nth(1)).to_contain_text("true of the circuit", timeout=SLOW)
    assert page.locator(".working-line img, .working-line script, .working-line svg").count() == 0
    assert page.locator(".line-copy").first.text_content() == line
    assert not page.locator(".working-line").first.locator(".found-word", has_text=re.compile("^true")).count()
    assert page.evaluate("Object.keys(Object.prototype).length") == before


def test_the_policy_of_the_page_lets_no_text_run(open_page: OpenPage) -> None:
    page = open_page()
    ran = page.evaluate(
        """() => new Promise((told) => {
             const made = document.createElement("script");
             made.textContent = "window.ran = 1";
             document.addEventListener("securitypolicyviolation", () => told(window.ran === 1), { once: true });
             document.head.append(made);
           })"""
    )
    assert ran is False
    evaluating = re.compile(r"\beval\(|\bFunction\(|innerHTML|outerHTML|insertAdjacentHTML|document\.write")
    for script in sorted((Path(__file__).parents[2] / "site" / "assets").glob("*.js")):
        found = evaluating.findall(script.read_text(encoding="utf-8"))
        assert not found, (script.name, found)


@pytest.mark.parametrize(
    ("missing", "where"),
    [("sheets", "the folder named sheets"), ("assets/checker.js", "the folder named assets"),
     ("assets/checker_truth.js", "the folder named assets"), ("assets/checker_sheets.js", "the folder named assets")],
)  # fmt: skip
def test_what_is_missing_is_told_and_lines_are_kept(open_page: OpenPage, missing: str, where: str) -> None:
    page = open_page(missing)
    write(page, "V_R = V_I - V_Z")
    told = page.locator(".working-unchecked")
    expect(told).to_contain_text(NOT_CHECKED, timeout=SLOW)
    expect(told).to_contain_text(where)
    expect(page.locator(".when")).to_be_hidden()
    expect(page.locator(".working-sum")).to_be_empty()
    assert page.locator(".found").count() == 0, "nothing is called right that was not checked"
    page.reload()
    expect(page.locator(".line-field").first).to_have_value("V_R = V_I - V_Z")


def test_a_checker_that_comes_late_leaves_the_caret_where_it_is(open_sheet: OpenSheet) -> None:
    sheet = open_sheet("window.withoutChecker = true;")
    sheet.write("R = 1", "R = 2 [fails]")
    sheet.page.keyboard.press("ArrowLeft")
    before = sheet.writing_in()
    sheet.page.evaluate("() => { window.withoutChecker = false; Steadyrail.recheckWorking(); }")
    assert sheet.writing_in() == before, "who is writing is not interrupted"
    sheet.rest()
    expect(sheet.margin(2)).to_contain_text("not so")
    expect(sheet.page.locator(".working-unchecked")).to_be_empty()


def test_lines_beyond_the_most_are_said_to_be_unchecked(open_page: OpenPage) -> None:
    page = open_page()
    most = page.evaluate("Steadyrail.tables.checking.check.MOST_LINES")
    page.locator(".line-field").focus()
    page.evaluate("(count) => document.execCommand('insertText', false, 'words\\n'.repeat(count))", most)
    told = f"Nothing is wrong so far. Only the first {most} lines are checked."
    expect(page.locator(".working-sum")).to_have_text(told, timeout=SLOW)


def test_what_is_pointed_at_is_read_aloud_in_short(sheet: Sheet) -> None:
    sheet.page.evaluate(
        """() => Steadyrail.writeFinding(document.querySelector(".line-finding"),
             { code: "unread", why: "so long", columns: [1, 500], slip: [] }, "9".repeat(499), () => {})"""
    )
    assert sheet.margin(1).locator(".heard").inner_text() == f", at “{'9' * 60}…”"


def test_what_a_line_follows_from_is_said_once(sheet: Sheet) -> None:
    for why, told in (
        ("", "it follows"),
        ("from your line 3", "it follows from your line 3"),
        ("it follows from your own relation above", "it follows from your own relation above"),
        ("right with your own values above", "it follows: right with your own values above"),
    ):
        finding = {"code": "follows", "why": why, "columns": None, "slip": []}
        assert sheet.page.evaluate("(finding) => Steadyrail.findingWords(finding)", finding) == told


def test_a_value_in_a_sentence_stays_beside_its_unit(sheet: Sheet) -> None:
    sheet.page.evaluate(
        """() => Steadyrail.writeFinding(document.querySelector(".line-finding"),
             { code: "choice-bad", why: "12 Ω is below R_MIN = 110.1 mA, see line 2 above", columns: null, slip: [] },
             "", () => {})"""
    )
    said = sheet.margin(1).locator(".found-why").text_content()
    assert said is not None and "12\u00a0Ω is below" in said and "110.1\u00a0mA, see line 2 above" in said


def test_keys_are_wide_enough_for_a_thumb(open_sheet: OpenSheet) -> None:
    sheet = open_sheet(width=390)
    for key in sheet.page.locator(".key").all():
        box = key.bounding_box()
        assert box is not None and box["width"] >= 38 and box["height"] >= 38, box
