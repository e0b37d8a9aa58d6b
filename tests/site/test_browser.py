"""The study site as a reader uses it: opened from disk in Chromium, with scripts and without, on screen and on paper.

The site is built from our own circuits and families. Without Chromium the tests are skipped, except where CI is set.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from tests.site.reader import Reader, answer, every_level, every_page, find, page_of
from tests.site.small_site import chromium
from tests.whole_site import PER_LEVEL, WholeSite
from tutor.generate.problem import WaypointKind
from tutor.views.content import SiteContent
from tutor.views.markup import serialise
from tutor.views.pages import problem_body
from tutor.views.press import make_press
from tutor.views.site import packed_size
from tutor.views.sources import site_folder


@pytest.fixture(scope="module")
def content(whole: WholeSite) -> SiteContent:
    return whole.content


@pytest.fixture(scope="module")
def site(whole: WholeSite) -> Path:
    return whole.path


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 1280, "height": 900})
    yield made
    made.close()


@pytest.fixture
def reader(context: BrowserContext, site: Path) -> Iterator[Reader]:
    made = Reader(context, site)
    yield made
    assert made.complaints == []
    assert all(address.startswith("file://") for address in made.asked)


def rebuilt(site: Path) -> list[str]:
    """Every second page of problems, which is opened at its last number and set anew from its bank."""
    return [place for place in every_page(site) if place.startswith("problems/")][1::2]


def test_every_page_opens_from_disk_without_a_complaint_and_fits_its_window(reader: Reader, site: Path) -> None:
    """At 320 px (WCAG 2.2, 1.4.10: reflow), every fifth at 1100 px too, with all that opens open; wide formulas and
    tables scroll inside their own boxes. Of the problems' pages, which the next test opens, every second."""
    for at, place in enumerate([place for place in every_page(site) if place not in rebuilt(site)]):
        page = reader.open(place)
        expect(page.locator("h1")).to_be_visible()
        page.evaluate(
            """document.querySelectorAll("details").forEach((part) => { part.open = true; });
               document.querySelectorAll(".covered").forEach((part) => part.classList.remove("covered"))"""
        )
        for width in (320,) if at % 5 else (1100, 320):
            page.set_viewport_size({"width": width, "height": 800})
            wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
            assert wide <= 0, f"{place} is {wide} px too wide at {width} px"
    assert any(address.endswith(".woff2") for address in reader.asked)


def test_a_page_rebuilt_from_its_bank_is_the_page_as_set(reader: Reader, content: SiteContent) -> None:
    press = make_press(site_folder() / "templates")
    levels = [item for item in every_level(content) if page_of(*item) in rebuilt(reader.site)]
    assert len(levels) >= 60
    for at, (family, level) in enumerate(levels):
        page = reader.open(f"{page_of(family, level)}#{PER_LEVEL}")
        expect(page.locator("article.problem")).to_have_attribute("data-name", level.problems[-1].problem.name)
        for number in (PER_LEVEL,) if at % 3 else (2, PER_LEVEL):
            markup = serialise(problem_body(level.problems[number - 1], press))
            same = page.evaluate(
                """([kind, number, markup]) => new DOMParser().parseFromString(markup, "text/html")
                     .body.firstChild.isEqualNode(Steadyrail.pageOf(kind, number))""",
                [f"{family.id}:{level.level}", number, markup],
            )
            assert same, f"{family.id}:{level.level}:{number}"


def test_the_first_page_is_light(site: Path) -> None:
    """Packed as servers send it: under 60 kB without its font, and under 130 kB with it."""
    font = sum(path.stat().st_size for path in site.glob("fonts/*.woff2"))
    assert packed_size(site, "index.html") < 60_000
    assert packed_size(site, "index.html") + font < 130_000


def test_a_right_value_is_told_so_in_words(reader: Reader, content: SiteContent) -> None:
    place, point = find(content, WaypointKind.VALUE)
    assert point.answer is not None
    page = reader.open(place)
    assert answer(page, point, point.answer.text).startswith("Right.")
    status = page.locator(f'.answer[data-part="{point.key}"] .verdict[role="status"]')
    assert status.count() == 1, "a verdict is announced (WCAG 2.2, 4.1.3)"


def test_a_known_slip_is_told_with_its_reason_and_a_question(reader: Reader, content: SiteContent) -> None:
    place, point = find(content, WaypointKind.VALUE, with_slip=True)
    slip = point.slips[0]
    page = reader.open(place)
    said = answer(page, point, f"{slip.value:.6g}")
    plain = re.split(r"[$']", slip.why)[0].strip().lower()
    assert "slip" in said and plain in said.lower()
    assert page.locator(f'.answer[data-part="{point.key}"] .verdict .slip-hint').is_visible()
    assert "\ue000" not in said


def test_text_that_is_no_value_is_asked_back(reader: Reader, content: SiteContent) -> None:
    place, point = find(content, WaypointKind.VALUE)
    page = reader.open(place)
    said = [answer(page, point, text) for text in ("", "<b>twelve</b>", "1,5", "((((")]
    assert all(len(sentence) > 10 and not sentence.startswith("Right") for sentence in said)
    assert page.locator(".verdict b").count() == 0


def test_every_value_that_meets_the_specification_is_accepted(reader: Reader, content: SiteContent) -> None:
    place, point = find(content, WaypointKind.CHOICE)
    page = reader.open(place)
    for value in point.accepted:
        assert answer(page, point, f"{value:.12g}").startswith("This meets the specification")


def test_a_state_is_chosen_and_told(reader: Reader, content: SiteContent) -> None:
    place, point = find(content, WaypointKind.STATE)
    page = reader.open(place)
    line = page.locator(f'.answer[data-part="{point.key}"]')
    wrong = next(option for option in point.options if option != point.state)
    for option, starts in ((wrong, "Not so"), (point.state, "Right")):
        line.locator("input[type=radio]").nth(point.options.index(option)).check()
        line.locator(".check").click()
        assert line.locator(".verdict").inner_text().startswith(starts)


def test_a_wrong_option_has_its_reason_or_its_question(reader: Reader, content: SiteContent) -> None:
    """A belief by its name with why it is wrong; any other wrong option with a question."""
    told = {True: 0, False: 0}
    for family, level in every_level(content):
        for point in level.problems[0].problem.waypoints:
            for remark in point.remarks:
                if point.kind is WaypointKind.STATE and not level.circuit and told[bool(remark.name)] < 2:
                    page = reader.open(page_of(family, level))
                    page.evaluate("localStorage.clear()")  # after a miss the page comes part worked
                    page.reload()
                    line = page.locator(f'.answer[data-part="{point.key}"]')
                    line.locator(f'input[value="{remark.option}"]').check()
                    line.locator(".check").click()
                    said = line.locator(".verdict").inner_text()
                    assert ("known slip" in said) == bool(remark.name) and "?" in said, said
                    told[bool(remark.name)] += 1
    assert min(told.values()) >= 1


def test_statements_are_put_in_order(reader: Reader, content: SiteContent) -> None:
    """A place left open is asked for, a wrong order says how much of it is right, a right one outlasts a reload."""
    place, point = find(content, WaypointKind.ARRANGEMENT)
    page = reader.open(place)
    line = page.locator(f'.answer[data-part="{point.key}"]')
    line.locator(".check").click()
    assert line.locator(".verdict").inner_text() == "Choose for each place first."
    right = point.arrangements[0].split("; ")
    for at, option in enumerate(right[:-1]):
        line.locator(".placed").nth(at).select_option(option)
    line.locator(".check").click()
    assert "each of the" in line.locator(".verdict").inner_text()
    line.locator(".placed").last.select_option(right[0])
    line.locator(".check").click()
    assert f"{len(right) - 1} of {len(right)} places" in line.locator(".verdict").inner_text()
    line.locator(".placed").last.select_option(right[-1])
    page.reload()
    line.locator(".check").click()
    assert line.locator(".verdict").inner_text().startswith("Right.")


def test_answers_outlast_a_reload_and_belong_to_their_problem(reader: Reader, content: SiteContent) -> None:
    place, point = find(content, WaypointKind.VALUE)
    page = reader.open(place)
    answer(page, point, "12.5 mA")
    page.reload()
    written = page.locator(f'.answer[data-part="{point.key}"] .written')
    expect(written).to_have_value("12.5 mA")
    page.get_by_role("button", name="another problem").click()
    expect(page.locator("#place")).to_have_text(f"Problem 2 of {PER_LEVEL}")
    expect(page.locator(".written").first).to_have_value("")
    page.get_by_role("button", name="the previous one").click()
    expect(written).to_have_value("12.5 mA")


def test_numbers_turn_by_button_by_form_and_by_address(reader: Reader, content: SiteContent) -> None:
    family, level = every_level(content)[0]
    page = reader.open(f"{page_of(family, level)}#2")
    place, article = page.locator("#place"), page.locator("article.problem")
    expect(place).to_have_text(f"Problem 2 of {PER_LEVEL}")
    page.get_by_role("button", name="another problem").click()
    expect(article).to_have_attribute("data-name", level.problems[2].problem.name)
    expect(page.locator("h1")).to_be_focused()
    page.locator("#number").fill("1")
    page.locator("#number").press("Enter")
    expect(article).to_have_attribute("data-name", level.problems[0].problem.name)
    page.go_back()
    expect(article).to_have_attribute("data-name", level.problems[2].problem.name)
    page.locator("#number").fill("99")
    page.get_by_role("button", name="go to it").click()
    expect(page.locator("#turned")).to_have_text(f"The numbers go from 1 to {PER_LEVEL}; you asked for “99”.")
    expect(place).to_have_text(f"Problem 3 of {PER_LEVEL}")
    assert page.title().startswith("number 3, ")


def test_an_address_with_no_such_number_is_answered(reader: Reader, content: SiteContent) -> None:
    family, level = every_level(content)[0]
    page = reader.open(f"{page_of(family, level)}#77")
    expect(page.locator("#turned")).to_contain_text("There is no number 77 here")
    expect(page.locator("article.problem")).to_have_attribute("data-name", level.problems[0].problem.name)


def test_a_missing_bank_is_told_and_the_page_stays(context: BrowserContext, site: Path, content: SiteContent) -> None:
    family, level = every_level(content)[0]
    context.route("**/bank/*.js", lambda route: route.abort())
    page = Reader(context, site).open(page_of(family, level))
    page.get_by_role("button", name="another problem").click()
    expect(page.locator("#turned")).to_contain_text("could not be fetched")
    expect(page.locator("article.problem")).to_have_attribute("data-name", level.problems[0].problem.name)


def test_a_worked_solution_opens_step_by_step_with_enter(reader: Reader, content: SiteContent) -> None:
    place, _ = find(content, WaypointKind.CHOICE)
    page = reader.open(place)
    steps = page.locator(".solution .step")
    page.locator(".solution summary").press("Enter")
    expect(steps.nth(0)).to_be_visible()
    expect(steps.nth(1)).to_be_hidden()
    following = page.get_by_role("button", name="next step")
    following.press("Enter")
    expect(steps.nth(1)).to_be_visible()
    expect(following).to_be_focused()
    expect(page.locator(".step-buttons [role=status]")).to_have_text(f"Step 2 of {steps.count()}")
    page.get_by_role("button", name="all steps").click()
    expect(steps.last).to_be_visible()
    expect(page.locator(".closing")).to_be_visible()


def test_a_derivation_in_a_lesson_opens_step_by_step(reader: Reader) -> None:
    page = reader.open("lessons/shunt.html")
    opened = 0
    for derivation in page.locator(".derivation").all():
        steps = derivation.locator(".step")
        if steps.count() > 2:
            expect(steps.nth(1)).to_be_hidden()
            derivation.get_by_role("button", name="all steps").click()
            expect(steps.last).to_be_visible()
            opened += 1
    assert opened > 1


def test_a_prediction_gives_a_reason_for_whatever_is_chosen(reader: Reader) -> None:
    for lesson in ("raw-supply", "shunt", "series"):
        page = reader.open(f"lessons/{lesson}.html")
        asked = page.locator(".prediction").count()
        reasons = page.locator(".prediction .reason")
        assert asked >= 1
        expect(reasons).to_have_count(3 * asked)
        for place in range(3 * asked):
            expect(reasons.nth(place)).to_be_hidden()
            page.locator(".prediction input").nth(place).check()
            expect(reasons.nth(place)).to_be_visible()


def test_without_scripts_everything_can_be_read(browser: Browser, site: Path, content: SiteContent) -> None:
    context = browser.new_context(java_script_enabled=False)
    reader = Reader(context, site)
    place, _ = find(content, WaypointKind.CHOICE)
    page = reader.open(place)
    page.locator(".solution summary").click()
    for step in page.locator(".solution .step").all():
        expect(step).to_be_visible()
    expect(page.locator(".closing")).to_be_visible()
    expect(page.locator("noscript")).to_be_visible()
    expect(page.locator(".check").first).to_be_hidden()
    page = reader.open("lessons/shunt.html")
    for part in page.locator(".step, .reason").all():
        expect(part).to_be_visible()
    context.close()


def test_targets_are_large_enough(reader: Reader, content: SiteContent) -> None:
    # WCAG 2.2, 2.5.8: 24 by 24 CSS px, links within a sentence excepted.
    place, _ = find(content, WaypointKind.STATE)
    for where, picked in ((place, "button, .written, #number, .state, summary"), ("index.html", ".entry-end a")):
        page = reader.open(where)
        for target in page.locator(picked).all():
            box = target.bounding_box() if target.is_visible() else None
            if box is not None:
                assert box["width"] >= 24 and box["height"] >= 24, f"{target} in {where}: {box}"


def test_focus_can_be_seen_everywhere(reader: Reader, content: SiteContent) -> None:
    # WCAG 2.2, 2.4.7: whatever the Tab key reaches shows it by an outline or a heavier line.
    place, _ = find(content, WaypointKind.STATE)
    page = reader.open(place)
    seen = set()
    for _ in range(30):
        page.keyboard.press("Tab")
        shown = page.evaluate(
            """(() => { const active = document.activeElement, style = getComputedStyle(active);
                 return [active.tagName, style.outlineStyle !== "none" || style.boxShadow !== "none"] })()"""
        )
        seen.add(shown[0])
        assert shown[1] or shown[0] == "BODY", shown
    assert {"A", "BUTTON", "INPUT", "SUMMARY"} <= seen


def luminance(colour: str) -> float:
    """Relative luminance of `rgb(r, g, b)` (WCAG 2.2, glossary)."""
    parts = [int(part) / 255 for part in re.findall(r"[0-9]+", colour)[:3]]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, glossary)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_and_fields_stand_out_in_light_and_dark(browser: Browser, site: Path, scheme: str) -> None:
    # WCAG 2.2: 1.4.3 asks 4.5:1 of text, 1.4.11 asks 3:1 of the line that marks a field.
    context = browser.new_context(color_scheme="dark" if scheme == "dark" else "light")
    page = Reader(context, site).open("index.html")
    colours = page.evaluate(
        """(() => { const probe = document.createElement("i"); document.body.append(probe);
             return Object.fromEntries(["paper", "ink", "soft", "remark", "pen", "field"].map((name) => {
               probe.style.color = `var(--${name})`; return [name, getComputedStyle(probe).color]; })) })()"""
    )
    assert (luminance(colours["paper"]) > 0.5) == (scheme == "light")
    for name in ("ink", "soft", "remark", "pen"):
        assert contrast(colours[name], colours["paper"]) >= 4.5, name
    assert contrast(colours["field"], colours["paper"]) >= 3
    context.close()


def test_paper_shows_the_solution_only_when_it_is_open(reader: Reader, content: SiteContent) -> None:
    place, _ = find(content, WaypointKind.CHOICE)
    page = reader.open(place)
    page.emulate_media(media="print")
    expect(page.locator(".solution")).to_be_hidden()
    expect(page.locator(".check").first).to_be_hidden()
    expect(page.locator(".written").first).to_be_visible()
    page.emulate_media(media="screen")
    page.locator(".solution summary").click()
    page.emulate_media(media="print")
    expect(page.locator(".solution .step").first).to_be_visible()
    expect(page.locator(".step-buttons")).to_be_hidden()
    for paper in ("A4", "Letter"):
        assert page.pdf(format=paper).startswith(b"%PDF-")


def test_a_derivation_is_whole_on_paper(reader: Reader) -> None:
    page = reader.open("lessons/shunt.html")
    page.emulate_media(media="print")
    for part in page.locator(".derivation .step, .reason").all():
        expect(part).to_be_visible()
