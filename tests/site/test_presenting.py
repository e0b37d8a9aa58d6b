"""The board: a worked solution or a derivation over the whole window, one step a key press, its circuit beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.site.reader import Reader

PROBLEM = "problems/zener-resistor-1.html"
LESSON = "lessons/shunt.html"
CIRCUIT = "circuits/boosted-shunt.html"
OpenPage = Callable[..., Page]

# What of the step in hand stands outside the board, or is cut off sideways; on a phone a wide line may scroll, where
# the Tab key can reach it (WCAG 2.2, 2.1.1).
CUT = """(board) => {
  const written = board.querySelector(".board-written").getBoundingClientRect();
  const now = board.querySelector(".now"), box = now.getBoundingClientRect();
  const wide = [...now.querySelectorAll(".chain")].filter((line) => line.scrollWidth > line.clientWidth + 1);
  return [box.top < written.top - 2, wide.filter((line) => line.tabIndex !== 0 || window.innerWidth > 1200).length,
    board.scrollWidth > board.clientWidth];
}"""


@pytest.fixture
def open_page(working_browser: Browser, shunt_site: Path) -> Iterator[OpenPage]:
    """Opens a page of the site; the window's size, colours and motion may be said."""
    opened: list[Reader] = []

    def open_one(place: str, width: int = 1280, height: int = 720, dark: bool = False, still: bool = True) -> Page:
        context = working_browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme="dark" if dark else "light",
            reduced_motion="reduce" if still else "no-preference",
        )
        opened.append(Reader(context, shunt_site))
        return opened[-1].open(place)

    yield open_one
    for reader in opened:
        assert reader.complaints == []
        reader.page.context.close()


def present(page: Page, place: int = 0) -> Locator:
    """Opens the board of one of the page's blocks of steps, from the keyboard."""
    for solution in page.locator("details.solution").all():
        solution.locator("summary").press("Enter")
    page.get_by_role("button", name="full screen").nth(place).press("Enter")
    board = page.get_by_role("dialog")
    expect(board).to_be_visible()
    return board


def place_of(board: Locator) -> str:
    return board.locator(".board-place").inner_text()


def test_a_solution_is_shown_step_by_step_from_the_keyboard(open_page: OpenPage) -> None:
    page = open_page(PROBLEM)
    steps = page.locator(".solution .step").count()
    board = present(page)
    expect(board).to_have_attribute("aria-labelledby", "board-title")
    assert page.locator("h1").inner_text() == board.locator(".board-title").inner_text()
    assert place_of(board) == "The problem" and board.locator(".board-statement table").is_visible()
    expect(board.locator(".board-circuit svg")).to_be_visible()
    expect(board.get_by_role("button", name="back")).to_be_disabled()
    for at, key in enumerate(("ArrowRight", " ", "PageDown", "Enter")[:steps], 1):
        page.keyboard.press(key)
        assert place_of(board) == f"Step {at} of {steps}"
        expect(board.locator(".step").nth(at - 1)).to_be_visible()
        expect(board.locator(".step h3").nth(at - 1)).to_be_focused()
        if at < steps:
            expect(board.locator(".step").nth(at)).to_be_hidden()
    page.keyboard.press("ArrowLeft")
    assert place_of(board) == f"Step {min(4, steps) - 1} of {steps}"
    page.keyboard.press("End")
    assert place_of(board) == "The checks"
    expect(board.locator(".closing")).to_be_visible()
    expect(board.get_by_role("button", name="next")).to_be_disabled()
    page.keyboard.press("ArrowRight")
    assert place_of(board) == "The checks"
    page.keyboard.press("Home")
    assert place_of(board) == "The problem"


def test_escape_leaves_and_gives_the_reading_place_back(open_page: OpenPage) -> None:
    page = open_page(PROBLEM)
    board = present(page)
    assert page.evaluate("document.querySelector('.sheet').inert"), "what lies behind is out of reach"
    page.keyboard.press("Escape")
    expect(board).to_have_count(0)
    expect(page.get_by_role("button", name="full screen")).to_be_focused()
    assert not page.evaluate("document.querySelector('.sheet').inert || document.fullscreenElement !== null")
    board = present_again(page)
    board.get_by_role("button", name="leave").click()
    expect(board).to_have_count(0)
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map((part) => part.id)")
    assert len(ids) == len(set(ids))


def present_again(page: Page) -> Locator:
    page.get_by_role("button", name="full screen").press("Enter")
    return page.get_by_role("dialog")


def test_buttons_and_touch_turn_the_steps(open_page: OpenPage) -> None:
    page = open_page(PROBLEM, 390, 800)
    board = present(page)
    board.get_by_role("button", name="next").click()
    assert place_of(board).startswith("Step 1 of")
    board.get_by_role("button", name="next").press("Enter")
    assert place_of(board).startswith("Step 2 of"), "Enter on a button is that button's alone"
    board.locator(".step-title").nth(1).click()
    assert place_of(board).startswith("Step 3 of"), "a touch on the board goes on"
    board.get_by_role("button", name="back").click()
    assert place_of(board).startswith("Step 2 of")
    for button in board.get_by_role("button").all():
        box = button.bounding_box()
        assert box is not None and box["height"] >= 44 and box["width"] >= 44


@pytest.mark.parametrize(("width", "height", "dark"), [(1280, 720, False), (1920, 1080, True), (390, 800, True)])
def test_every_step_of_every_derivation_can_be_read_whole(
    open_page: OpenPage, width: int, height: int, dark: bool
) -> None:
    """In large type: nothing is cut off at the side, and each step begins on the board."""
    for place in (PROBLEM, CIRCUIT, *([LESSON] if width == 1280 else [])):
        page = open_page(place, width, height, dark)
        blocks = page.locator(".stepwise").count()
        assert page.get_by_role("button", name="full screen", include_hidden=True).count() == blocks > 0
        for at in range(blocks):
            board = present(page, at) if place != PROBLEM else present(page)
            size = float(board.evaluate("(part) => parseFloat(getComputedStyle(part).fontSize)"))
            assert size >= (24 if width >= 1280 else 18)
            while board.get_by_role("button", name="next").is_enabled():
                assert board.evaluate(CUT) == [False, 0, False], (place, at, place_of(board))
                page.keyboard.press("ArrowRight")
            assert board.evaluate(CUT) == [False, 0, False], (place, at, place_of(board))
            page.keyboard.press("Escape")


def test_the_circuit_beside_a_derivation_is_its_own(open_page: OpenPage) -> None:
    """A lesson has several drawings; beside a derivation stands the last one before it."""
    page = open_page(LESSON)
    for at, title in ((0, "Zener shunt regulator"), (-1, "Shunt regulator with an op-amp")):
        place = at % page.locator(".stepwise").count()
        board = present(page, place)
        told = board.locator(".board-circuit svg title").text_content() or ""
        above = page.evaluate(
            """(place) => { const block = document.querySelectorAll(".stepwise")[place];
                 return [...document.querySelectorAll("main .figure svg title")].filter((title) =>
                   title.compareDocumentPosition(block) & Node.DOCUMENT_POSITION_FOLLOWING).at(-1).textContent; }""",
            place,
        )
        assert told == above and told, title
        page.keyboard.press("Escape")


def test_motion_is_left_out_where_it_is_not_wanted(open_page: OpenPage) -> None:
    for still, moves in ((True, "none"), (False, "written")):
        page = open_page(PROBLEM, still=still)
        board = present(page)
        page.keyboard.press("ArrowRight")
        name = board.locator(".step.now").evaluate("(step) => getComputedStyle(step).animationName")
        assert name == moves
