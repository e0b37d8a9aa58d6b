"""The lecturer's page as a lecturer uses it: a set chosen, seen, printed, taken along, and read back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

import tutor
from tests.site.reader import Reader
from tutor.sets.set_file import read_set
from tutor.views.release import release

# The browser's dialogue for printing would wait for somebody; what is to be printed is known without it.
NO_DIALOGUE = """window.printed = [];
window.print = () => printed.push(document.querySelector("article").dataset.printing);"""


@pytest.fixture
def desk(working_browser: Browser, shunt_site: Path) -> Iterator[Page]:
    """The lecturer's page on an ordinary screen, with nothing kept from before."""
    context = working_browser.new_context(viewport={"width": 1280, "height": 900})
    context.add_init_script(NO_DIALOGUE)
    reader = Reader(context, shunt_site)
    yield reader.open("lecturer.html")
    assert reader.complaints == []
    assert all(address.startswith(("file://", "blob:")) for address in reader.asked)
    context.close()


def put_in(page: Page, family: str, level: int, numbers: str) -> str:
    """Puts problems into the set as a lecturer does, and returns what is said of it."""
    page.locator("#choose-family").select_option(family)
    page.locator("#choose-level").select_option(index=level - 1)
    page.locator("#choose-numbers").fill(numbers)
    page.locator("#choose-numbers").press("Enter")
    return page.locator("#chosen").inner_text()


def names_on(page: Page, part: str) -> list[str]:
    return [line.split(" ")[0] for line in page.locator(f"#{part} .class-name").all_inner_texts()]


def whole(name: str) -> str:
    return f"{name}@{tutor.problem(name).problem.edition}"


def file_of(page: Page) -> str:
    return page.locator("#set-file").text_content() or ""


def pages_of(printed: bytes) -> tuple[int, set[str]]:
    """How many pages a printed document has, and their sizes in points (PDF 1.7, ISO 32000-1, 7.7.3.3)."""
    boxes = re.findall(rb"/MediaBox \[([0-9. ]+)\]", printed)
    sizes = {" ".join(str(round(float(side))) for side in box.split()[2:]) for box in boxes}
    return len(re.findall(rb"/Type /Page\b", printed)), sizes


def test_a_set_is_chosen_shown_and_taken_along(desk: Page) -> None:
    expect(desk.locator("#sheet")).to_be_hidden()
    expect(desk.locator("#print-both")).to_be_disabled()
    desk.locator("#set-title").fill('Shunt "regulators" \\ 1')
    assert put_in(desk, "zener-resistor", 2, " 1 3,").startswith("Put in: zener-resistor:2:1, zener-resistor:2:3.")
    assert put_in(desk, "zener-state", 1, "").startswith("Put in: zener-state:1:1.")
    assert "already stays once" in put_in(desk, "zener-state", 1, "1 – 2")
    names = ["zener-resistor:2:1", "zener-resistor:2:3", "zener-state:1:1", "zener-state:1:2"]
    expect(desk.locator("#sheet .class-problem")).to_have_count(4)
    assert names_on(desk, "sheet") == names_on(desk, "key") == [whole(name) for name in names]
    for line in desk.locator(".class-name").all_inner_texts():
        assert line.endswith(f"· Steadyrail {release()}")

    desk.locator("#marks-1").fill("12")
    desk.locator("#marks-1").press("Tab")
    expect(desk.get_by_role("button", name="up zener-resistor:2:3")).to_be_focused()
    desk.get_by_role("button", name="down zener-resistor:2:1").click()
    expect(desk.get_by_role("button", name="down zener-resistor:2:1")).to_be_focused()
    desk.get_by_role("button", name="out zener-state:1:1").click()
    told = read_set(file_of(desk), "set.toml")
    assert told.title == 'Shunt "regulators" \\ 1'
    assert [str(item.problem) for item in told.questions] == [whole(names[at]) for at in (1, 0, 3)]
    assert [item.marks for item in told.questions] == [12, None, None]
    for item in told.questions:
        assert tutor.problem(str(item.problem)).problem.family == item.problem.family

    desk.reload()
    expect(desk.locator("#set-list li")).to_have_count(3)
    assert read_set(file_of(desk), "set.toml") == told
    desk.get_by_role("button", name="clear the set").click()
    expect(desk.locator("#set-list li")).to_have_count(0)
    expect(desk.locator("#key")).to_be_hidden()


def test_the_sheet_states_the_problem_and_the_key_answers_it(desk: Page) -> None:
    put_in(desk, "zener-resistor", 2, "2")
    put_in(desk, "zener-state", 1, "3")
    sheet, key = desk.locator("#sheet"), desk.locator("#key")
    expect(sheet.locator(".class-problem")).to_have_count(2)
    assert sheet.locator("svg.schematic").count() == 2 and sheet.locator("table.data").count() == 1
    assert sheet.locator(".step, .verdict, .remark, .solution, .working, input, select").count() == 0
    markup = sheet.evaluate("(part) => part.outerHTML")
    assert "data-answer" not in markup and "data-accepted" not in markup and "data-state" not in markup
    said, solved = sheet.inner_text(), key.inner_text()
    for name in ("zener-resistor:2:2", "zener-state:1:3"):
        drawn = tutor.problem(name)
        given = {quantity.text for quantity in drawn.problem.given.values()}
        for point in drawn.problem.waypoints:
            if point.answer is not None and point.answer.text not in given:
                assert point.answer.text.replace(" ", "\u00a0") not in said.replace(" ", "\u00a0"), point.key
                assert point.answer.text in solved.replace("\u00a0", " "), point.key
            if point.state:
                assert point.state in solved
                assert all(option in said for option in point.options), "options are there to be ticked"
    steps = sum(len(tutor.problem(name).solution.steps) for name in ("zener-resistor:2:2", "zener-state:1:3"))
    assert key.locator(".step").count() == steps
    ids = desk.evaluate("[...document.querySelectorAll('[id]')].map((part) => part.id)")
    assert len(ids) == len(set(ids)), "what is copied has ids of its own"
    caution = tutor.problem("zener-resistor:2:2").problem.cautions[0]
    assert caution[:20] in said


def test_numbers_that_are_not_there_are_told(desk: Page) -> None:
    assert "“three” is no number" in put_in(desk, "zener-state", 1, "1 three")
    assert "“,” names no number" in put_in(desk, "zener-state", 1, ",")
    assert "the numbers go from 1 to 3" in put_in(desk, "zener-state", 1, "2-4")
    assert put_in(desk, "zener-state", 1, "1-3").startswith("Put in")
    assert put_in(desk, "zener-state", 1, "") == "All 3 of this kind are in the set."
    desk.locator("#marks-0").fill("many")
    desk.locator("#marks-0").press("Tab")
    expect(desk.locator("#chosen")).to_contain_text("“many” is none")
    assert read_set(file_of(desk), "set.toml").questions[0].marks is None


def test_sheet_and_key_print_on_pages_of_their_own(desk: Page) -> None:
    """A4 and Letter; a page a problem; the key after the sheet; nothing of the page around them."""
    put_in(desk, "zener-resistor", 1, "1-3")
    expect(desk.locator("#key .class-problem")).to_have_count(3)
    desk.locator("#print-room").select_option("page")
    for what in ("sheet", "key", "both"):
        desk.locator(f"#print-{what}").click()
    assert desk.evaluate("printed") == ["sheet", "key", "both"]
    counts = {}
    for what in ("sheet", "key", "both"):
        desk.locator(f"#print-{what}").click()
        for paper, size in (("a4", {"595 842", "596 842"}), ("letter", {"612 792"})):
            desk.locator("#print-paper").select_option(paper)
            count, sizes = pages_of(desk.pdf(prefer_css_page_size=True))
            assert len(sizes) == 1 and sizes <= size, (paper, sizes)
            counts[what, paper] = count
    for paper in ("a4", "letter"):
        assert 3 <= counts["sheet", paper] <= 4, "the cautions may take a page after the last problem"
        assert counts["both", paper] == counts["sheet", paper] + counts["key", paper], counts
    desk.emulate_media(media="print")
    expect(desk.locator(".class-desk")).to_be_hidden()
    expect(desk.locator(".running-head")).to_be_hidden()
    apart = "(parts) => parts.map((part) => getComputedStyle(part).breakInside)"
    broken = desk.locator(".class-problem").evaluate_all(apart)
    assert set(broken) == {"avoid"}
    expect(desk.locator("#sheet .class-room").first).to_be_visible()


def test_a_set_file_is_read_back_and_what_is_strange_in_it_is_told(desk: Page) -> None:
    put_in(desk, "zener-state", 1, "1")
    lines = [
        'title = "Last year\'s \\"second\\" sheet" # kept',
        *("[[questions]]", 'problem = "zener-resistor:1:2"', "marks = 7"),
        *("[[questions]]", 'problem = "zener-resistor:1:99"', "marks = 5"),
        *("[[questions]]", 'problem = "zener-state:2:1@77"', 'colour = "red"'),
        *("[[questions]]", 'problem = "zener-state:2:3"'),
    ]
    text = "\n".join(lines).encode()
    desk.locator("#file-open").set_input_files({"name": "old.toml", "mimeType": "text/plain", "buffer": text})
    expect(desk.locator("#filed")).to_contain_text("2 problems are read from old.toml. Left out: ")
    told = read_set(file_of(desk), "set.toml")
    assert told.title == 'Last year\'s "second" sheet'
    assert [(item.problem.family, item.problem.number, item.marks) for item in told.questions] == [
        ("zener-resistor", 2, 7),
        ("zener-state", 3, None),
    ]
    desk.locator("#file-open").set_input_files({"name": "x.toml", "mimeType": "text/plain", "buffer": b"<b>no</b>"})
    expect(desk.locator("#filed")).to_have_text("x.toml names no problem of this site.")
    assert len(read_set(file_of(desk), "set.toml").questions) == 2, "the set that was there stays"


def test_it_fits_a_phone_and_needs_no_mouse(working_browser: Browser, shunt_site: Path) -> None:
    # WCAG 2.2: 1.4.10 (reflow at 320 px), 2.5.8 (targets of 24 px), 2.1.1 (keyboard).
    context = working_browser.new_context(viewport={"width": 320, "height": 700}, color_scheme="dark")
    reader = Reader(context, shunt_site)
    page = reader.open("lecturer.html")
    page.locator("#choose-family").focus()
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#key .class-problem")).to_have_count(1)
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    for target in page.locator(".for-class button, .for-class select, .for-class input").all():
        box = target.bounding_box()
        assert box is None or (box["width"] >= 24 and box["height"] >= 24), target
    assert reader.complaints == []
    context.close()
