"""The working sheet keeps what was written, prints it, fits a phone, and does without a checker or scripts.

The stand-in checker is `working_checker.js`: a line says itself how it is to be found, as in `R = 5 [fails]`.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect

if TYPE_CHECKING:
    from tests.site.conftest import OpenSheet, Sheet

NAME = "zener-resistor:1:1"


def test_nothing_is_lost_on_reload_and_each_number_keeps_its_own(sheet: Sheet) -> None:
    sheet.write("R = 1", "", "R = (V_I")
    sheet.page.reload()
    assert sheet.texts() == ["R = 1", "", "R = (V_I"]
    expect(sheet.margin(1)).to_contain_text("true of the circuit")
    sheet.page.get_by_role("button", name="another problem").click()
    expect(sheet.page.locator("#place")).to_contain_text("Problem 2")
    assert sheet.texts() == [""]
    sheet.write("R = 2 [fails]")
    sheet.page.get_by_role("button", name="the previous one").click()
    expect(sheet.page.locator("#place")).to_contain_text("Problem 1")
    assert sheet.texts() == ["R = 1", "", "R = (V_I"]
    sheet.rest()
    expect(sheet.page.locator(".working-heard")).to_be_empty()
    sheet.page.get_by_role("button", name="another problem").click()
    expect(sheet.fields.first).to_have_value("R = 2 [fails]")


@pytest.mark.parametrize(
    ("kept", "lines"),
    [
        ('{"version": 9, "lines": ["a", "b"], "ink": "blue"}', ["a", "b"]),
        ('["a", "b"]', ["a", "b"]),
        ('{"text": "a\\nb"}', ["a", "b"]),
        ('"a\\nb"', ["a", "b"]),
    ],
)
def test_workings_kept_by_other_versions_are_read(sheet: Sheet, kept: str, lines: list[str]) -> None:
    key = f"steadyrail:working:{NAME}"
    sheet.page.evaluate("([key, kept]) => localStorage.setItem(key, kept)", [key, kept])
    sheet.page.reload()
    assert sheet.texts() == lines
    sheet.write("c")
    now = json.loads(sheet.page.evaluate("(key) => localStorage.getItem(key)", key))
    assert now["lines"] == ["a", "bc"]
    assert now.get("ink") == ("blue" if "ink" in kept else None), "what another version keeps is left in place"


@pytest.mark.parametrize("kept", ["R = 5, not JSON", '{"lines": [1, 2]}', "null"])
def test_what_cannot_be_read_back_is_set_aside_not_written_over(sheet: Sheet, kept: str) -> None:
    key = f"steadyrail:working:{NAME}"
    sheet.page.evaluate("([key, kept]) => localStorage.setItem(key, kept)", [key, kept])
    sheet.page.reload()
    sheet.write("new")
    assert sheet.texts() == ["new"]
    assert sheet.page.evaluate("(key) => localStorage.getItem(key)", f"{key}:set-aside") == kept


def test_shut_storage_is_told_and_numbers_still_keep_their_own(open_sheet: OpenSheet) -> None:
    shut = """Storage.prototype.setItem = () => { throw new DOMException("shut", "SecurityError"); };"""
    sheet = open_sheet(shut)
    sheet.write("R = 1")
    expect(sheet.page.locator(".working-news")).to_contain_text("print your working before you leave")
    sheet.page.get_by_role("button", name="another problem").click()
    expect(sheet.fields.first).to_have_value("")
    sheet.page.get_by_role("button", name="the previous one").click()
    expect(sheet.fields.first).to_have_value("R = 1")


def test_a_disputed_finding_is_saved_for_the_lecturer(sheet: Sheet) -> None:
    sheet.write("V_R = 5", "R = HERE [fails]", "")
    with sheet.page.expect_download() as waiting:
        sheet.margin(2).get_by_role("button", name="I disagree").click()
    saved = waiting.value
    assert saved.suggested_filename == "disagreement-zener-resistor-1-1-line-2.json"
    record = json.loads(Path(saved.path()).read_text(encoding="utf-8"))
    assert record["problem"] == NAME
    assert record["line"] == {"number": 2, "text": "R = HERE [fails]"}
    assert record["working"] == ["V_R = 5", "R = HERE [fails]", ""]
    assert record["finding"] == {
        "code": "fails",
        "words": "not so: the reason of 2, about I_L_MAX",
        "why": "the reason of 2, about I_L_MAX",
        "columns": [5, 9],
        "slip": ["no-zener-current"],
    }
    expect(sheet.page.locator(".working-news")).to_contain_text("Hand the file to your lecturer.")
    assert sheet.margin(1).get_by_role("button").count() == 0


def test_markup_typed_in_a_line_is_shown_as_text(sheet: Sheet) -> None:
    text = "<img src=x onerror=alert(1)> HERE <b>R</b> [fails]"
    sheet.write(text, "")
    sheet.rest()
    assert sheet.line(1).locator(".line-copy").inner_text() == text
    assert sheet.page.locator(".working img, .working b").count() == 0
    sheet.page.reload()
    assert sheet.texts() == [text, ""]


def test_a_phone_has_room_for_the_sheet(open_sheet: OpenSheet) -> None:
    sheet = open_sheet(width=360)
    long = "R ≤ (V_I_MIN - V_Z)/(I_L_MAX + I_ZK) = (21.5 - 9.1)/(35m + 8m) HERE [fails]"
    sheet.write(long, "R = 1")
    sheet.rest()
    sheet.page.locator(".typing summary").click()
    wide = sheet.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wide <= 0, f"{wide} px too wide"
    field = sheet.fields.first
    assert field.evaluate("(field) => field.scrollHeight <= field.clientHeight + 1"), "a long line wraps, whole"
    finding, written = sheet.boxes(1, ".line-finding", ".line-field")
    assert finding["top"] >= written["bottom"] - 1, "the finding follows its line"
    for target in sheet.page.locator(".working button:visible, .line-field, .when label").all():
        box = target.bounding_box()
        # WCAG 2.2, 2.5.8: 24 by 24 CSS px.
        assert box is not None and box["width"] >= 24 and box["height"] >= 24, f"{target}: {box}"


def test_the_rules_run_evenly_whatever_stands_on_them(sheet: Sheet) -> None:
    sheet.write("R = 1", "R = HERE [fails]", "R = " + "1 + " * 40 + "1", "")
    sheet.rest()
    heights = sheet.page.locator(".working-line").evaluate_all(
        "(lines) => lines.map((line) => line.getBoundingClientRect().height)"
    )
    pitch = sheet.page.locator(".blank-lines .rule").first.evaluate("(rule) => rule.getBoundingClientRect().height")
    assert max(heights) > 2.5 * pitch
    for height in heights:
        assert abs(height / pitch - round(height / pitch)) < 0.01, (height, pitch)


def test_paper_shows_the_lines_with_their_margin(sheet: Sheet) -> None:
    sheet.write("R = 1", "R = HERE [fails]", "")
    sheet.rest()
    sheet.page.emulate_media(media="print")
    for number in (1, 2):
        copy = sheet.line(number).locator(".line-copy")
        expect(copy).to_be_visible()
        colour = copy.evaluate("(copy) => getComputedStyle(copy).color")
        assert colour == "rgb(0, 0, 0)", "what was written is in ink"
        margin, written = sheet.boxes(number, ".line-finding", ".line-copy")
        assert margin["right"] <= written["left"] and abs(margin["top"] - written["top"]) < 2
    assert sheet.page.locator(".blank-lines .rule").count() >= 8, "room to go on by hand"
    for hidden in (".keys", ".typing", ".when", ".working-foot", ".line-tools", ".disagree", ".line-field"):
        expect(sheet.page.locator(hidden).first).to_be_hidden()
    for paper in ("A4", "Letter"):
        assert sheet.page.pdf(format=paper).startswith(b"%PDF-")


def test_without_a_checker_the_sheet_is_paper_to_write_on(open_sheet: OpenSheet) -> None:
    sheet = open_sheet("window.withoutChecker = true;")
    sheet.write("R = 1", "R = 2 [fails]")
    sheet.rest()
    assert sheet.page.locator(".found").count() == 0
    expect(sheet.page.locator(".when")).to_be_hidden()
    expect(sheet.page.get_by_role("button", name="check the working")).to_be_hidden()
    expect(sheet.page.locator(".working-sum")).to_be_empty()
    sheet.page.reload()
    assert sheet.texts() == ["R = 1", "R = 2 [fails]"]
    sheet.page.evaluate("() => { window.withoutChecker = false; Steadyrail.recheckWorking(); }")
    expect(sheet.margin(2)).to_contain_text("not so")


def test_without_scripts_the_sheet_is_ruled_paper(open_sheet: OpenSheet) -> None:
    page = open_sheet(scripts=False).page
    expect(page.get_by_role("heading", name="Your working")).to_be_visible()
    expect(page.locator(".blank-lines .rule").first).to_be_visible()
    expect(page.locator(".keys")).to_be_hidden()
