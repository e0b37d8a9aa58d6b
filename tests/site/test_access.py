"""WCAG 2.2 AA: axe-core over a page of each kind in light and dark, the keyboard alone, reduced motion.

axe-core (Deque, from npm; a test's tool, not part of the site) is looked for where STEADYRAIL_AXE says, else in
node_modules beside the tests; without it these tests are skipped, except where CI is set.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.site.small_site import KINDS, chromium
from tutor.views.content import SiteContent

ROOT = Path(__file__).resolve().parents[2]
AXE = Path(os.environ.get("STEADYRAIL_AXE") or ROOT / "node_modules" / "axe-core" / "axe.min.js")
# axe-core takes no text from MathML, whose text is content like any other (Accessible Name and Description Computation
# 1.2, step 2F): where it misses text, and a formula is the text, there is nothing to mend.
RUN = """async () => {
  const OF_TEXT = ["empty-table-header", "label", "label-content-name-mismatch", "landmark-unique"];
  const found = await axe.run(document, {
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    rules: { "target-size": { enabled: true } },
    resultTypes: ["violations"],
  });
  const told = (id, help, node) => `${id}: ${help}: ${node.target} ${node.html}`.slice(0, 300);
  const readable = (id, node) => {
    const part = document.querySelector(node.target[0]);
    const named = [part, part.closest("label"), document.getElementById(part.getAttribute("aria-labelledby"))];
    return OF_TEXT.includes(id) && named.some((text) => text && text.querySelector("math > *"));
  };
  return found.violations.flatMap(({ id, help, nodes }) =>
    nodes.filter((node) => !readable(id, node)).map((node) => told(id, help, node)));
}"""
# Where the keyboard stands: its box, whether it is seen to stand there, whether anything lies over it.
STANDS = """() => {
  const at = document.activeElement;
  const box = at.getBoundingClientRect();
  const style = getComputedStyle(at);
  const labelled = at.closest("label, .state") || at;
  const over = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
  return {
    what: `${at.localName}.${at.className} ${at.id} ${at.textContent.trim().slice(0, 40)}`,
    isBody: at === document.body,
    shown: style.outlineStyle !== "none" || style.boxShadow !== "none",
    free: over !== null && (at.contains(over) || over.contains(at) || labelled.contains(over)),
    inside: box.bottom > 0 && box.top < innerHeight,
    width: Math.max(box.width, labelled.getBoundingClientRect().width),
    height: Math.max(box.height, labelled.getBoundingClientRect().height),
    inline: style.display === "inline",
  };
}"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture(scope="module")
def axe() -> str:
    if not AXE.is_file():
        assert not os.environ.get("CI"), "CI must have axe-core: npm install axe-core, STEADYRAIL_AXE its axe.min.js"
        pytest.skip("axe-core is not installed")
    return AXE.read_text(encoding="utf-8")


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    # Less motion, so that a stop of the keyboard is scrolled to at once and not looked at on the way.
    context = browser.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="reduce")
    yield context.new_page()
    context.close()


def findings(page: Page, axe: str) -> list[str]:
    page.evaluate(axe)
    found: list[str] = page.evaluate(RUN)
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_axe_finds_nothing(page: Page, built: Path, axe: str, kind: str) -> None:
    """In light on a wide page, in dark on a narrow one, everything that folds opened."""
    found = []
    for scheme, width in (("light", 1280), ("dark", 390)):
        page.emulate_media(color_scheme="light" if scheme == "light" else "dark")
        page.set_viewport_size({"width": width, "height": 900})
        page.goto((built / kind).as_uri())
        page.evaluate("() => { for (const part of document.querySelectorAll('details')) part.open = true; }")
        found += [f"{scheme}: {finding}" for finding in findings(page, axe)]
    assert found == []


def test_axe_finds_nothing_once_answers_and_lines_are_judged(page: Page, built: Path, axe: str) -> None:
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme="light" if scheme == "light" else "dark")
        page.goto((built / "problems/zener-resistor-2.html").as_uri())
        page.evaluate("localStorage.clear()")  # after a miss the page comes part worked
        page.reload()
        for field in page.locator(".written").all():
            field.fill("1 kV")
            field.press("Enter")
        page.locator(".line-field").last.focus()
        for line in ("R = 5 V/(3 A", "V_I = 1 V", "R = (V_I - V_Z)/(I_L + I_Z)"):
            page.keyboard.type(line)
            page.keyboard.press("Enter")
        expect(page.locator(".first-wrong")).to_have_count(1, timeout=15000)
        assert findings(page, axe) == []


def test_a_planted_fault_is_found(page: Page, built: Path, axe: str) -> None:
    """The check above can fail."""
    page.goto((built / "index.html").as_uri())
    page.evaluate("document.querySelector('main').append(document.createElement('button'))")
    assert any(finding.startswith("button-name") for finding in findings(page, axe))


def walk(page: Page, picked: str, most: int = 120) -> list[dict[str, Any]]:
    """Goes on with the Tab key until the keyboard stands on what is picked; every place it stood on the way."""
    places = []
    for _ in range(most):
        page.keyboard.press("Tab")
        places.append(page.evaluate(STANDS))
        if page.evaluate("(picked) => document.activeElement.matches(picked)", picked):
            return places
    raise AssertionError(f"the keyboard never comes to {picked}: {[place['what'] for place in places]}")


def test_a_problem_is_done_with_the_keyboard_alone(page: Page, built: Path) -> None:
    """Sheet, answers, the solution step by step, the next problem; every stop is seen, free and large enough."""
    page.goto((built / "problems/zener-resistor-2.html").as_uri())
    places = walk(page, ".line-field")
    page.keyboard.type("R = (V_I - V_Z)/(I_L + I_Z)")
    page.keyboard.press("Enter")
    expect(page.locator(".line-finding").first).not_to_be_empty(timeout=15000)
    places += walk(page, ".written")
    page.keyboard.type("1 kV")
    page.keyboard.press("Enter")
    expect(page.locator(".answer .verdict").first).not_to_be_empty()
    places += walk(page, ".solution > summary")
    page.keyboard.press("Enter")
    expect(page.locator(".solution")).to_have_attribute("open", "")
    shown = page.locator(".solution .step:visible").count()
    places += walk(page, ".solution .step-buttons button")
    page.keyboard.press("Enter")
    expect(page.locator(".solution .step:visible")).not_to_have_count(shown)
    places += walk(page, "#another")
    page.keyboard.press("Enter")
    expect(page.locator("article.problem")).to_have_attribute("data-name", "zener-resistor:2:2")
    assert page.evaluate("document.activeElement.localName") == "h1"
    stops = [place for place in places if not place["isBody"]]
    assert [place["what"] for place in stops if not place["shown"]] == []
    assert [place["what"] for place in stops if not (place["free"] and place["inside"])] == []
    small = [place for place in stops if not place["inline"] and min(place["width"], place["height"]) < 24]
    assert [(place["what"], place["width"], place["height"]) for place in small] == []


@pytest.mark.parametrize("kind", ["settings.html", "desks/zener-resistor-2.html", "circuits/zener-shunt.html"])
def test_every_stop_of_the_keyboard_is_seen_free_and_large_enough(page: Page, built: Path, kind: str) -> None:
    page.goto((built / kind).as_uri())
    stops: list[dict[str, Any]] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        place = page.evaluate(STANDS)
        if place["isBody"]:
            break
        stops.append(place)
    assert len(stops) > 5
    assert [place["what"] for place in stops if not place["shown"]] == []
    assert [place["what"] for place in stops if not (place["free"] and place["inside"])] == []
    small = [place for place in stops if not place["inline"] and min(place["width"], place["height"]) < 24]
    assert [(place["what"], place["width"], place["height"]) for place in small] == []


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_moves_by_itself_where_less_motion_is_asked_for(page: Page, built: Path, kind: str) -> None:
    page.emulate_media(reduced_motion="reduce")
    page.goto((built / kind).as_uri())
    moving = page.evaluate(
        """() => [...document.querySelectorAll("*")].filter((part) => {
          const style = getComputedStyle(part);
          const lasts = /[1-9]/.test(style.transitionDuration + style.animationDuration);
          return style.scrollBehavior === "smooth" || lasts;
        }).map((part) => part.outerHTML.slice(0, 100))"""
    )
    assert moving == []


def test_drawings_have_a_title_and_words_that_give_no_answer_away(small: SiteContent) -> None:
    """No value that is asked for stands in a drawing, its description or its table, unless the problem gives it too."""
    looked_at = 0
    for family in small.families():
        for level in family.levels:
            for shown in level.problems:
                rows = " ".join(f"{row.part} {row.words} {row.value}" for row in shown.description_rows)
                told = shown.schematic_svg + rows
                assert "<title" in shown.schematic_svg and "<desc" in shown.schematic_svg and shown.description_rows
                given = {value.text for value in shown.problem.given.values()}
                answers = [point.answer.text for point in shown.problem.waypoints if point.answer]
                for text in answers:
                    looked_at += 1
                    assert text in given or text not in told, f"{shown.problem.name}: {text}"
    assert looked_at > 100
