"""Writing on the working sheet: findings in the margin, keys and buttons, the live region, checking at the end.

The stand-in checker is `working_checker.js`: a line says itself how it is to be found, as in `R = 5 [fails]`.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from playwright.sync_api import expect

if TYPE_CHECKING:
    from tests.site.conftest import Sheet

CODES = ("holds", "holds-here", "follows", "fails", "units", "unread", "defines", "choice-ok", "choice-bad", "note")


def test_findings_stand_in_the_margin_in_words(sheet: Sheet) -> None:
    sheet.write("V_R = V_I - V_Z", "R = HERE/3 [fails]", "", "R = 1")
    sheet.rest()
    expect(sheet.margin(1).locator(".found")).to_have_text(re.compile(r"^\S+ true of the circuit$"))
    expect(sheet.margin(2)).to_contain_text("not so: the reason of 2, about IL(max)")
    expect(sheet.margin(3)).to_be_empty()
    expect(sheet.page.locator(".working-sum")).to_have_text("The first line to look at is line 2.")
    margin, field = sheet.boxes(2, ".line-finding", ".line-field")
    assert margin["right"] <= field["left"]
    assert abs(margin["top"] - field["top"]) < 2, "a finding stands beside its line"


def test_no_code_is_shown_and_every_finding_has_its_own_words_and_sign(sheet: Sheet) -> None:
    sheet.write(*(f"R = {place} [{code}]" for place, code in enumerate(CODES)), "")
    sheet.rest()
    words, signs = set(), set()
    for number, code in enumerate(CODES, 1):
        said = sheet.margin(number).locator(".found-word").inner_text()
        sign = sheet.margin(number).locator(".sign")
        assert said != code and "-" not in said, f"{code} is shown raw"
        assert sign.get_attribute("aria-hidden") == "true"
        words.add(said)
        signs.add(sign.inner_text().strip())
    assert len(words) == len(signs) == len(CODES), "WCAG 2.2, 1.4.1: never by colour alone"


def test_a_line_in_hand_is_praised_at_once_and_blamed_after_a_rest(sheet: Sheet) -> None:
    sheet.write("R = 5 [holds-here]")
    sheet.rest(400)
    expect(sheet.margin(1)).to_contain_text("true here")
    sheet.fields.first.fill("R =")
    sheet.rest(600)
    expect(sheet.margin(1)).to_be_empty()
    sheet.rest(700)
    expect(sheet.margin(1)).to_contain_text("cannot be read")
    sheet.fields.first.fill("R = 6 [fails]")
    sheet.page.keyboard.press("Enter")
    sheet.rest(400)
    expect(sheet.margin(1)).to_contain_text("not so")


def test_the_first_wrong_line_points_at_its_columns_as_typed(sheet: Sheet) -> None:
    sheet.write("R = \U0001d445 HERE [fails]", "R = HERE [units]", "")
    sheet.rest()
    assert sheet.page.locator(".pointed").all_inner_texts() == ["HERE"]
    assert sheet.line(1).locator(".pointed").count() == 1
    expect(sheet.margin(1).locator(".heard")).to_have_text(", at “HERE”")
    style = sheet.line(1).locator(".pointed").evaluate("(mark) => getComputedStyle(mark).textDecorationLine")
    assert style == "underline"
    assert sheet.fields.first.get_attribute("aria-invalid") == "true"
    sheet.page.get_by_role("button", name="to that line").click()
    assert sheet.writing_in() == (1, len("R = \U0001d445 ") + 1), "the caret stands before what is wrong"


def test_the_live_region_is_polite_and_speaks_once_after_a_rest(sheet: Sheet) -> None:
    # WCAG 2.2, 4.1.3: a status message without a change of focus; not one for each key.
    heard = sheet.page.locator(".working-heard")
    assert heard.get_attribute("role") == "status", "a status is polite"
    sheet.page.evaluate(
        """() => { window.spoken = [];
           const region = document.querySelector(".working-heard");
           document.querySelector(".line-field").focus();
           new MutationObserver(() => window.spoken.push(region.textContent))
             .observe(region, { childList: true, characterData: true, subtree: true }); }"""
    )
    for char in "R = 5 + 3 + 2 + 1 [fails]":
        sheet.page.keyboard.type(char)
        sheet.rest(150)
    assert sheet.page.evaluate("window.spoken") == []
    sheet.rest()
    assert sheet.page.evaluate("window.spoken") == ["Line 1: not so: the reason of 1, about I_L_MAX."]
    sheet.page.keyboard.press("Enter")
    sheet.rest()
    assert len(sheet.page.evaluate("window.spoken")) == 1, "what was said is not said again"


def test_keys_insert_join_move_and_take_out_lines(sheet: Sheet) -> None:
    press = sheet.page.keyboard.press
    sheet.write("one two", "three", "")
    assert sheet.texts() == ["one two", "three", ""]
    press("Backspace")
    assert sheet.texts() == ["one two", "three"] and sheet.writing_in() == (2, 5)
    press("Alt+ArrowUp")
    assert sheet.texts() == ["three", "one two"] and sheet.writing_in() == (1, 5)
    press("Alt+ArrowUp")
    press("Alt+ArrowDown")
    assert sheet.texts() == ["one two", "three"] and sheet.writing_in() == (2, 5)
    press("ArrowUp")
    press("Home")
    for _ in range(3):
        press("ArrowRight")
    press("Enter")
    assert sheet.texts() == ["one", " two", "three"] and sheet.writing_in() == (2, 0)
    press("Backspace")
    assert sheet.texts() == ["one two", "three"] and sheet.writing_in() == (1, 3)
    press("End")
    press("Delete")
    assert sheet.texts() == ["one twothree"] and sheet.writing_in() == (1, 7)
    press("Control+a")
    press("Backspace")
    press("Backspace")
    assert sheet.texts() == [""], "one line always stays"


def test_buttons_insert_move_and_take_out_lines_and_put_them_back(sheet: Sheet) -> None:
    sheet.write("one", "two")
    for name, wanted in (
        ("move up", ["two", "one"]),
        ("move down", ["one", "two"]),
        ("new line below", ["one", "two", ""]),
        ("move up", ["one", "", "two"]),
    ):
        sheet.page.get_by_role("group", name=re.compile("^Line")).get_by_role("button", name=name).click()
        assert sheet.texts() == wanted, name
        assert sheet.writing_in()[0] > 0, "the caret stays on the sheet"
    sheet.fields.first.focus()
    assert sheet.page.get_by_role("button", name="move up").is_disabled()
    sheet.page.get_by_role("button", name="take out").click()
    assert sheet.texts() == ["", "two"]
    expect(sheet.page.locator(".working-news")).to_have_text("Line 1 is taken out.")
    sheet.page.get_by_role("button", name="put it back").click()
    assert sheet.texts() == ["one", "", "two"] and sheet.writing_in() == (1, 3)


def test_pasted_lines_become_lines(sheet: Sheet) -> None:
    sheet.write("ab")
    sheet.page.keyboard.press("ArrowLeft")
    sheet.page.evaluate("""document.execCommand("insertText", false, "1\\n2\\n3")""")
    assert sheet.texts() == ["a1", "2", "3b"] and sheet.writing_in() == (3, 1)


def test_a_click_on_the_ruled_lines_below_is_a_new_line(sheet: Sheet) -> None:
    sheet.write("one")
    for _ in range(2):
        sheet.page.locator(".blank-lines").click()
        assert sheet.texts() == ["one", ""] and sheet.writing_in() == (2, 0)


def test_all_can_be_checked_at_the_end(sheet: Sheet) -> None:
    sheet.page.get_by_label("check all at the end").check()
    sheet.write("R = 1", "R = HERE [fails]", "R = 3")
    sheet.rest()
    assert sheet.page.locator(".found").count() == 0, "nothing is said before the end"
    sheet.page.get_by_role("button", name="check the working").click()
    assert sheet.page.locator(".found").count() == 3
    expect(sheet.page.locator(".working-heard")).to_contain_text("line 2. not so: the reason of 2")
    sheet.fields.nth(1).fill("R = 4")
    expect(sheet.page.locator(".found")).to_have_count(1)
    expect(sheet.page.locator(".working-sum")).to_be_empty()
    sheet.page.reload()
    expect(sheet.page.get_by_label("check all at the end")).to_be_checked()
    assert sheet.page.locator(".found").count() == 0
    sheet.page.get_by_label("check as I write").check()
    expect(sheet.page.locator(".found")).to_have_count(3)


def test_the_keys_write_signs_and_letters_where_the_caret_stands(sheet: Sheet) -> None:
    key = sheet.page.locator(".keys").get_by_role("button")
    sheet.write("R = 2")
    for words in ("R, series", "in parallel with", "V_I, supply"):
        key.filter(has_text="").and_(sheet.page.locator(f'[aria-label^="{words}"]')).first.click()
    assert sheet.texts() == ["R = 2 R ∥ V_I"], "a letter after a number is a product, not the code 2R"
    assert sheet.writing_in() == (1, len("R = 2 R ∥ V_I"))
    sheet.page.keyboard.press("Home")
    sheet.page.locator('.key[data-writes="√"]').click()
    assert sheet.texts() == ["√R = 2 R ∥ V_I"] and sheet.writing_in() == (1, 1)
    sheet.page.keyboard.press("Control+z")
    assert sheet.texts() == ["R = 2 R ∥ V_I"], "the browser's own undo takes a key back"


def test_everything_can_be_done_from_the_keyboard(sheet: Sheet) -> None:
    reached = []
    for _ in range(40):
        sheet.page.keyboard.press("Tab")
        shown = sheet.page.evaluate(
            """(() => { const active = document.activeElement, style = getComputedStyle(active);
                 return [active.className || active.tagName, active.closest(".working") !== null,
                         style.outlineStyle !== "none" || style.boxShadow !== "none"]; })()"""
        )
        if shown[1]:
            assert shown[2], f"WCAG 2.2, 2.4.7: the focus on {shown[0]} cannot be seen"
            reached.append(shown[0])
        if "line-field" in reached:
            break
    assert reached.count("key") == 2, "a row of keys is one stop"
    sheet.page.keyboard.type("R = ")
    sheet.page.keyboard.press("Shift+Tab")
    sheet.page.keyboard.press("End")
    sheet.page.keyboard.press("Home")
    sheet.page.keyboard.press("ArrowRight")
    letter = sheet.page.evaluate("document.activeElement.dataset.writes")
    sheet.page.keyboard.press("Enter")
    assert sheet.texts() == [f"R = {letter}"] and sheet.writing_in()[0] == 1
    sheet.page.keyboard.press("Enter")
    sheet.page.keyboard.type("R = 5 [fails]")
    sheet.rest()
    sheet.page.keyboard.press("Tab")
    assert sheet.page.evaluate("document.activeElement.textContent") == "I disagree"
    sheet.page.keyboard.press("Tab")
    sheet.page.keyboard.press("Enter")
    assert len(sheet.texts()) == 3 and sheet.writing_in()[0] == 3
    sheet.page.keyboard.press("Tab")
    assert sheet.page.evaluate("document.activeElement.closest('.line-tools') !== null")
