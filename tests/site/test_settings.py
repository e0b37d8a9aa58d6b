"""Settings hold on every page at once, whole, and change nothing that is checked: the site from disk in Chromium.

What a page reads like under settings is held against the same page as it comes, so that a number, a letter or a
drawing left out is noticed, and one changed that ought not to be.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.site.small_site import KINDS, chromium
from tutor.views.content import SiteContent
from tutor.views.packed import unpacked
from tutor.views.settings_page import SETTINGS

ALL = {"decimal": "comma", "names": "V_in", "gain": "beta", "drawings": "IEEE"}
LEFT = "code, kbd, samp, script, style, template, textarea, .source, .line-copy, [data-literal], [data-when]"
# Every text of the page, a line each, what stays as it is apart; then every attribute that is read aloud.
TEXTS = f"""() => {{
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  while (walker.nextNode()) {{
    const node = walker.currentNode;
    if (!node.parentElement.closest({json.dumps(LEFT)})) found.push(node.data);
  }}
  for (const name of ["alttext", "aria-label", "aria-valuetext", "title"])
    for (const part of document.querySelectorAll(`[${{name}}]`))
      if (!part.closest({json.dumps(LEFT)})) found.push(part.getAttribute(name));
  return found;
}}"""
# What the scripts of the page work with: data of elements, values of fields and choices, templates.
WORKED_WITH = """() => {
  const found = [];
  for (const part of document.querySelectorAll("body *")) {
    for (const { name, value } of part.attributes)
      if (/^(data-|value$|id$|for$|href$)/.test(name) && name !== "data-drawn")
        found.push(`${part.tagName} ${name}=${value}`);
    if (part.localName === "template") found.push(part.innerHTML);
  }
  return found;
}"""
LETTERS = """() => [...document.querySelectorAll("msub, msubsup")]
  .filter((pair) => !pair.closest("[data-literal]"))
  .map((pair) => [pair.children[0].textContent, pair.children[1].textContent])"""

# Figures are drawn, and their words told, in the frame after a page is there.
DRAWN = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(null))))"

Open = Callable[..., Page]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def open_page(browser: Browser, built: Path) -> Iterator[Open]:
    """Opens a page in a browser that has kept these settings; nothing may be complained of, nothing asked of a host."""
    contexts, complaints, asked = [], [], []

    def open_one(place: str, kept: object = None, script: str = "") -> Page:
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        contexts.append(context)
        if kept is not None:
            text = json.dumps(kept) if not isinstance(kept, str) else kept
            context.add_init_script(
                f"if (!sessionStorage.getItem('seeded')) {{ sessionStorage.setItem('seeded', '1'); "
                f"localStorage.setItem('steadyrail:settings', {json.dumps(text)}); }}"
            )
        context.add_init_script(script)
        page = context.new_page()
        page.on("console", lambda message: complaints.append(message.text))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("request", lambda request: asked.append(request.url))
        path, _, fragment = place.partition("#")
        page.goto((built / path).as_uri() + (f"#{fragment}" if fragment else ""))
        page.evaluate(DRAWN)
        return page

    yield open_one
    assert complaints == []
    assert all(address.startswith("file://") for address in asked)
    for context in contexts:
        context.close()


def with_points(text: str) -> str:
    return re.sub(r"(?<=[0-9]),(?=[0-9])", ".", text)


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_with_a_decimal_comma_reads_like_the_page_with_a_point(open_page: Open, kind: str) -> None:
    plain, comma = (open_page(kind, kept).evaluate(TEXTS) for kept in (None, {"decimal": "comma"}))
    assert [with_points(text) for text in comma] == [with_points(text) for text in plain]
    written = [text for text in comma if "written by Steadyrail" not in text]  # a set file is for the terminal
    assert [text for text in written if re.search(r"[0-9]\.[0-9]", text)] == []
    if kind.startswith(("problems/z", "lessons/", "desks/")):
        assert sum(bool(re.search(r"[0-9],[0-9]", text)) for text in comma) > (1 if "lessons" in kind else 5)


@pytest.mark.parametrize("kind", KINDS)
def test_letters_change_everywhere_and_only_those(open_page: Open, kind: str) -> None:
    plain, other = open_page(kind), open_page(kind, {"names": "V_in", "gain": "beta"})
    before, after = plain.evaluate(LETTERS), other.evaluate(LETTERS)
    for (main, lowered), now in zip(before, after, strict=True):
        if main == "h" and lowered.startswith("FE"):
            assert now == ["β", lowered[2:].strip("()")]
        elif main in ("V", "P", "I") and re.fullmatch(r"I([1-9(].*)?", lowered):
            assert now == [main, f"in{lowered[1:]}"]
        elif main in ("V", "P") and re.fullmatch(r"O([1-9(].*)?", lowered):
            assert now == [main, f"out{lowered[1:]}"]
        else:
            assert now == [main, lowered]
    left = [text for text in other.evaluate(TEXTS) if re.search(r"(?<![\w-])(V_[IO]|P_[IO]|h_FE)(?![A-Za-z0-9])", text)]
    assert left == []


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_that_scripts_work_with_changes(open_page: Open, kind: str) -> None:
    plain, other = (open_page(kind, kept).evaluate(WORKED_WITH) for kept in (None, ALL))
    assert other == plain


@pytest.mark.parametrize("place", ["problems/zener-resistor-2.html", "problems/find-the-wrong-line-1.html"])
def test_what_answers_are_held_against_stays(open_page: Open, place: str) -> None:
    """The points as the judge and the sheet of answers in words read them off the page."""
    asked = """() => JSON.stringify([...document.querySelectorAll(".answer")].map((line) =>
      Steadyrail.waypointOf(line, () => ({}))).concat(Steadyrail.askedIn && document.querySelector(".how-written")
      ? Steadyrail.askedIn(document.querySelector("article")).points.map((point) => [...point.plain]) : []))"""
    assert open_page(place, ALL).evaluate(asked) == open_page(place).evaluate(asked)


def test_a_problem_from_the_bank_is_shown_by_the_settings_too(open_page: Open) -> None:
    page = open_page("problems/zener-resistor-2.html#3", ALL)
    expect(page.locator("article.problem")).to_have_attribute("data-name", re.compile(":3$"))
    texts = page.evaluate(TEXTS)
    assert any(re.search(r"[0-9],[0-9]", text) for text in texts)
    assert not any(re.search(r"[0-9]\.[0-9]", text) for text in texts)
    assert "zener-resistor:2:3" in page.locator(".recipe code").inner_text()


def test_a_decimal_comma_is_read_where_it_is_written(open_page: Open, small: SiteContent) -> None:
    point = small.families()[0].levels[0].problems[0].problem.waypoints[0]
    family = small.families()[0].id
    said: list[str] = []
    for kept in (None, {"decimal": "comma"}):
        page = open_page(f"problems/{family}-1.html", kept)
        line = page.locator(".answer").first
        assert point.answer is not None
        typed = f"{point.answer.value:.6f}".replace(".", ",")
        line.locator(".written").fill(typed)
        line.locator(".written").press("Enter")
        said.append(line.locator(".verdict").inner_text())
    assert not said[0].startswith("Right") and said[1].startswith("Right")


def finding_of(page: Page, line: str) -> str:
    page.locator(".line-field").last.focus()
    page.keyboard.type(line)
    page.keyboard.press("Enter")
    margin = page.locator(".working-line .line-finding").first
    expect(margin).not_to_be_empty(timeout=15000)
    return margin.inner_text()


def test_lines_of_working_are_read_in_the_reader_s_own_letters_and_sign(open_page: Open, small: SiteContent) -> None:
    """follower-state:2:1, whose supply voltage is given: told with a comma in place of its point."""
    family = next(family for family in small.families() if family.id == "follower-state")
    value = family.levels[1].problems[0].problem.given["V_I"].value
    told = f"V_in = {value:.1f} V".replace(".", ",")
    assert "true" in finding_of(open_page("problems/follower-state-2.html", ALL), told)
    assert "cannot be read" in finding_of(open_page("problems/follower-state-2.html"), told)


def test_keys_write_the_letters_they_show(open_page: Open) -> None:
    page = open_page("problems/follower-state-2.html", ALL)
    for meaning, letter in (("V_I", "V_in"), ("h_FE", "β")):
        page.locator(".line-field").last.focus()
        page.keyboard.press("Control+a")
        page.locator(f'.key[data-writes="{meaning}"]').first.click()
        assert page.locator(".line-field").last.input_value() == letter


def test_drawings_take_the_other_style_and_go_back(open_page: Open, small: SiteContent) -> None:
    page = open_page("settings.html")
    strokes = "(drawing) => drawing.querySelector('g').innerHTML"
    drawing = page.locator("svg.schematic")
    before = drawing.evaluate(strokes)
    key = drawing.get_attribute("data-drawing")
    assert key is not None
    page.get_by_label("IEEE 315").check()
    expect(drawing).to_have_attribute("data-drawn", "IEEE")
    as_drawn = page.evaluate(
        """(text) => { const g = document.createElementNS("http://www.w3.org/2000/svg", "g"); g.innerHTML = text;
             return g.innerHTML; }""",
        small.redrawn()[key],
    )
    assert drawing.evaluate(strokes) == as_drawn != before
    page.get_by_label("IEC 60617").check()
    assert drawing.evaluate(strokes) == before


def test_every_drawing_of_the_site_has_its_other_style_at_hand(small: SiteContent, built: Path) -> None:
    keys = {key for path in built.rglob("*.html") for key in re.findall(r'data-drawing="(\w+)"', path.read_text())}
    banks = [unpacked(path.read_text(encoding="utf-8")) for path in built.glob("bank/*.js")]
    keys |= {key for text in banks for key in re.findall(r'"data-drawing","(\w+)"', text)}
    assert len(keys) >= 4
    assert keys <= {path.stem for path in built.glob("drawings/*.js")}


def test_drawings_in_other_letters_stay_within_their_frame(open_page: Open) -> None:
    page = open_page("problems/follower-state-1.html", ALL)
    expect(page.locator("svg.schematic").first).to_have_attribute("data-drawn", "IEEE")
    outside = page.evaluate(
        """() => [...document.querySelectorAll("svg.schematic")].flatMap((drawing) => {
          const frame = drawing.getBoundingClientRect();
          return [...drawing.querySelectorAll("text, path, polygon, circle")].filter((part) => {
            const box = part.getBoundingClientRect();
            const aside = box.left < frame.left - 1 || box.right > frame.right + 1;
            return aside || box.top < frame.top - 1 || box.bottom > frame.bottom + 1;
          }).map((part) => part.outerHTML);
        })"""
    )
    assert outside == []


@pytest.mark.parametrize("wanted", ["50", "60"])
def test_only_problems_at_the_mains_frequency_asked_for_are_turned_to(
    open_page: Open, small: SiteContent, wanted: str
) -> None:
    family = next(family for family in small.families() if family.id == "supply-ripple")
    level = next(
        level
        for level in family.levels
        if len({round(shown.problem.given["f"].value) for shown in level.problems if "f" in shown.problem.given}) == 2
    )
    fits = [
        shown.problem.number for shown in level.problems if round(shown.problem.given["f"].value) == int(wanted)
    ]
    page = open_page(f"problems/{family.id}-{level.level}.html", {"mains": wanted})
    seen = []
    for turn in range(len(fits)):
        expect(page.locator("article.problem")).to_have_attribute("data-name", re.compile(f":{fits[turn]}$"))
        seen.append(fits[turn])
        if page.locator("#another").is_enabled():
            page.locator("#another").click()
    assert seen == fits and 0 < len(fits) < len(level.problems)
    assert f"those at {wanted} Hz" in page.locator("#place").inner_text()


def test_the_sheet_and_the_settings_agree_on_when_lines_are_checked(open_page: Open) -> None:
    page = open_page("settings.html")
    settings = page.url
    page.locator('input[name="checking"][value="at-the-end"]').check()
    expect(page.locator(".settings-kept")).to_have_text("Kept in this browser.")
    page.goto(settings.replace("settings.html", "problems/zener-resistor-2.html"))
    expect(page.locator('.when input[value="end"]')).to_be_checked()
    page.locator('.when input[value="typing"]').check()
    page.goto(settings)
    expect(page.get_by_label("checked as I write")).to_be_checked()


def test_the_page_offers_what_the_scripts_know(open_page: Open) -> None:
    known = open_page("settings.html").evaluate(
        "(names) => names.map((name) => Steadyrail.settings.choices(name))", [setting.name for setting in SETTINGS]
    )
    assert known == [[choice.value for choice in setting.choices] for setting in SETTINGS]


@pytest.mark.parametrize("kept", ["{not json", "[1, 2]", "null", '{"decimal": "semicolon", "names": 3}'])
def test_what_no_version_of_ours_kept_is_passed_over(open_page: Open, kept: str) -> None:
    page = open_page("settings.html", kept)
    assert page.evaluate("Steadyrail.settings.get('decimal')") == "point"
    page.get_by_label("a comma").check()
    expect(page.locator(".settings-kept")).to_have_text("Kept in this browser.")
    assert "5,62\u00a0V" in page.locator("article").inner_text()


def test_what_a_later_version_keeps_beside_these_is_kept(open_page: Open) -> None:
    page = open_page("settings.html", {"paper": "squared"})
    page.get_by_label("a comma").check()
    stored: dict[str, Any] = json.loads(page.evaluate("localStorage.getItem('steadyrail:settings')"))
    assert stored == {"paper": "squared", "decimal": "comma"}


def test_with_storage_shut_a_choice_holds_on_its_page_and_says_so(open_page: Open) -> None:
    shut = "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('', 'SecurityError'); } });"
    page = open_page("settings.html", script=shut)
    page.get_by_label("a comma").check()
    assert "5,62\u00a0V" in page.locator("article").inner_text()
    assert "keeps nothing" in page.locator(".settings-kept").inner_text()
