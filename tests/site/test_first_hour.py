"""A learner's whole first hour as one story, in Chromium from disk: lesson, worked and part-worked problems, a working
with a wrong line in it, the record taken to a clean profile. The site is that of one family with three problems."""

from __future__ import annotations

import json
from pathlib import Path

from playwright.sync_api import Browser, Page, expect

from tests.site.test_path_story import KIND, TITLE, Learner


def hand_in(page: Page, *lines: str) -> None:
    """Writes lines on the working sheet, one under the other, and leaves the last."""
    page.locator(".line-field").last.focus()
    for line in lines:
        page.keyboard.type(line)
        page.keyboard.press("Enter")


def test_a_first_hour(working_browser: Browser, working_site: Path) -> None:
    learner = Learner(working_browser, working_site)
    page = learner.open("index.html")
    page.locator(".of-lesson a").first.click()
    prediction = page.locator("form.prediction").first
    prediction.locator("input").first.check()
    expect(prediction.locator(".reason:not(.covered)").first).to_be_visible()
    unfolding = page.locator(".stepwise").first
    covered = unfolding.locator(".step.covered").count()
    assert covered > 0, "a derivation unfolds step by step"
    unfolding.get_by_role("button", name="next step").click()
    expect(unfolding.locator(".step.covered")).to_have_count(covered - 1)
    page.get_by_role("link", name="Contents").click()

    page.get_by_role("link", name=TITLE, exact=True).click()
    expect(page.locator(".next-step")).to_have_text("Next: the worked problem, step by step.")
    page.locator(".worked-example").get_by_role("button", name="all steps").click()
    page.get_by_role("link", name="Problem 2").click()
    learner.on_number(2)

    # Part worked: the telling step is asked for, and what follows it waits.
    expect(page.locator(".part-told")).to_contain_text("one gap is left to you")
    gap = page.locator(".answer:visible")
    expect(gap).to_have_count(1)
    gap.get_by_role("button", name="a hint").click()
    expect(gap.locator(".hinted .hint")).to_have_count(1)
    key = gap.get_attribute("data-part")
    line = page.locator(f'.answer[data-part="{key}"]')
    known = line.locator(".remark[data-value]").first
    line.locator(".written").fill(known.get_attribute("data-value") or "")
    line.locator(".written").press("Enter")
    expect(line.locator(".verdict")).to_contain_text(known.locator(".slip-name").text_content() or "no slip")
    expect(line.locator(".verdict .slip-why")).to_be_visible()
    expect(page.locator(".fresh")).to_contain_text("take a fresh one: number 3")
    learner.answer()

    # Whole, on the working sheet: a wrong line, what follows from it, and the wrong line mended.
    page.locator(".fresh a").click()
    learner.on_number(3)
    less = page.get_by_role("button", name="show less of it worked")
    while less.is_visible():
        less.click()
    expect(page.locator(".worked-part")).to_have_count(0)
    right = ("R_MAX = (V_I_MIN - V_Z)/(I_L + I_ZK) = 185.5 ohm", "I_ZM = P_ZM/V_Z = 147.1 mA")
    follows = "R_MIN = (V_I_MAX - V_Z)/(I_L + I_ZM) = 78.3 ohm"
    hand_in(page, right[0], "I_ZM = P_ZM/V_Z = 157 mA", follows)
    lines = page.locator(".working-line")
    expect(lines.nth(1)).to_have_class("working-line wrong first-wrong", timeout=15000)
    expect(page.locator(".working-sum")).to_contain_text("The first line to look at is line 2.")
    expect(lines.nth(2).locator(".line-finding")).to_contain_text("line 2")
    expect(lines.nth(2)).to_have_class("working-line")
    page.locator(".line-field").nth(1).fill(right[1])
    page.locator(".line-field").nth(2).fill("R_MIN = (V_I_MAX - V_Z)/(I_L + I_ZM) = 82.2 ohm")
    page.locator(".line-field").nth(3).fill("I choose R = 180 ohm")
    expect(page.locator(".working-sum")).to_contain_text("Nothing is wrong so far.", timeout=15000)
    expect(page.locator('.answer[data-part="R"] .verdict')).to_have_text("Your working reaches this.", timeout=15000)
    done = [(item["number"], item["right"]) for item in learner.entries() if item.get("done")]
    assert done == [(2, True), (3, True)]
    missed = [(item["number"], item["key"]) for item in learner.entries() if item.get("key") and not item["right"]]
    assert missed == [(2, key), (3, "I_ZM")], "what follows from a slip is no slip of its own"
    before = len(learner.entries())
    page.reload()
    expect(page.locator('.answer[data-part="R_MAX"] .verdict')).to_have_text("Your working reaches this.")
    assert len(learner.entries()) == before, "lines that stood there are not told again"

    # The record goes to a clean profile as a file.
    page = learner.open("today.html")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="save the record as a file").click()
    saved = Path(waiting.value.path())
    assert len(json.loads(saved.read_text(encoding="utf-8"))["entries"]) == before
    clean = Learner(working_browser, working_site)
    page = clean.open("today.html")
    page.locator("#read-record").set_input_files(saved)
    expect(page.locator("#record-news")).to_contain_text(f"{before} entries were added")
    assert clean.entries() == learner.entries()
    page = clean.open("index.html")
    expect(page.locator(".dates").first).to_have_text("worked on 3 November; due again 4 November")
    assert [one["kind"] for one in clean.page.evaluate("Steadyrail.record.due(new Date(2026, 10, 4))")] == [KIND]
    for one in (learner, clean):
        assert one.complaints == []
        one.context.close()
