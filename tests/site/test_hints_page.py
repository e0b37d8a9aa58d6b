"""Hints, part-worked problems and what is said of answers, as a learner meets them: opened from disk in Chromium.

The record is stood in for, and help is set as it is kept: what the page tells and does by them is what is tested here.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tutor.generate.problem import WaypointKind
from tutor.solution.desk import WorkedProblem, our_desk
from tutor.solution.fading import fading_order
from tutor.solution.hints import Hints, hints_of

KIND = "zener-resistor:1"
STAND_IN = """
window.Steadyrail = {
  told: [],
  record: {
    attempt: (told) => window.Steadyrail.told.push({ what: "attempt", ...told }),
    finished: (told) => window.Steadyrail.told.push({ what: "finished", ...told }),
    seen: (told) => window.Steadyrail.told.push({ ...told }),
    stageOf: () => "STAGE",
    helpOf: () => HELP,
  },
};
localStorage.setItem("steadyrail:settings", JSON.stringify({ help: "SETTING" }));
"""


def stand_in(stage: str = "whole", help_first: int = 0, setting: str = "on") -> str:
    return STAND_IN.replace("STAGE", stage).replace("HELP", str(help_first)).replace("SETTING", setting)


@pytest.fixture(scope="module")
def worked() -> WorkedProblem:
    """Problem 1 of the page, as the engine has it."""
    return our_desk().problem(f"{KIND}:1")


@pytest.fixture(scope="module")
def hints(worked: WorkedProblem) -> dict[str, Hints]:
    ready = our_desk().level("zener-resistor", 1)
    return {item.key: item for item in hints_of(ready, worked.drawn, worked.problem, worked.solution)}


Open = Callable[..., Page]


@pytest.fixture
def open_page(working_browser: Browser, working_site: Path) -> Iterator[Open]:
    """Opens a problem's page with a stand-in; every complaint of the browser fails the test."""
    complaints: list[str] = []
    context = working_browser.new_context(viewport={"width": 1280, "height": 900})

    def open_one(script: str = "", width: int = 1280) -> Page:
        page = context.new_page()
        page.set_viewport_size({"width": width, "height": 900})
        page.add_init_script(script)
        page.on("console", lambda message: complaints.append(message.text))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.goto((working_site / "problems" / "zener-resistor-1.html").as_uri())
        return page

    yield open_one
    context.close()
    assert complaints == []


def write(page: Page, key: str, text: str) -> str:
    """Types an answer as a learner does and gives what the margin says."""
    line = page.locator(f'.answer[data-part="{key}"]')
    line.locator(".written").fill(text)
    line.locator(".written").press("Enter")
    return line.locator(".verdict").inner_text()


def told(page: Page) -> list[dict[str, Any]]:
    """What the record was told."""
    found: list[dict[str, Any]] = json.loads(page.evaluate("JSON.stringify(Steadyrail.told)"))
    return found


def test_hints_come_one_at_a_time_and_the_record_hears_of_them(
    open_page: Open, worked: WorkedProblem, hints: dict[str, Hints]
) -> None:
    """Three presses of one button; then it is gone. What was used stands beside the answer in the record."""
    page = open_page(stand_in())
    point = worked.problem.waypoints[0]
    line = page.locator(f'.answer[data-part="{point.key}"]')
    button = line.locator(".hint-button")
    assert line.locator(".hinted .hint").count() == 0
    for given in (1, 2, 3):
        expect(button).to_be_visible()
        button.click()
        assert line.locator(".hinted .hint").count() == given
    expect(button).to_be_hidden()
    assert line.locator(".hinted").get_attribute("role") == "status"
    assert line.locator(".hinted math").count() >= 1
    first = hints[point.key].first.split("$")[0].strip()
    assert line.locator(".hinted .hint").first.inner_text().startswith(first)
    assert point.answer is not None
    write(page, point.key, point.answer.text)
    (attempt,) = (item for item in told(page) if item["what"] == "attempt")
    assert (attempt["kind"], attempt["number"], attempt["key"]) == (KIND, 1, point.key)
    assert (attempt["right"], attempt["help"], attempt["slip"]) == (True, 3, "")


def test_what_is_said_of_an_answer_says_why(open_page: Open, worked: WorkedProblem) -> None:
    """Right: with the reason of its line. Wrong without a slip: with what to look at. Never the word alone."""
    page = open_page(stand_in())
    point = next(item for item in worked.problem.waypoints if item.kind is WaypointKind.VALUE and item.answer)
    assert point.answer is not None
    said = write(page, point.key, f"{point.answer.value * 7.3:.4g} {point.answer.unit.replace('ohm', 'Ω')}")
    assert said.startswith("Not right") and len(said.split()) > 10
    offered = page.locator(".fresh")
    assert "number 2" in offered.inner_text()
    assert offered.locator("a").get_attribute("href") == "#2"
    said = write(page, point.key, point.answer.text)
    assert said.startswith("Right.") and len(said.split()) > 5
    step = next(step for step in worked.solution.steps if step.waypoint == point.key)
    assert step.why.split("$")[0].strip() in said


def test_a_part_worked_problem_leaves_the_telling_step_to_the_learner(open_page: Open, worked: WorkedProblem) -> None:
    """What comes before the gap is worked, the gap is asked for, and what follows shows when it is filled."""
    page = open_page(stand_in("faded", 3))
    ready = our_desk().level("zener-resistor", 1)
    gap = fading_order(ready, worked.drawn)[0]
    keys = [point.key for point in worked.problem.waypoints]
    shown = page.locator(".answer:visible")
    assert [shown.nth(at).get_attribute("data-part") for at in range(shown.count())] == [gap]
    answer = worked.problem.answers[gap]
    said = page.locator(".answers").inner_text()
    assert answer.text.replace(" ", "\u2009") not in said
    before = page.locator(".worked-part .step").count()
    write(page, gap, answer.text)
    assert page.locator(".worked-part .step").count() > before or keys[-1] == gap
    parts = " ".join(page.locator(".worked-part .step").evaluate_all("(all) => all.map((one) => one.dataset.part)"))
    assert all(key in parts for key in keys if key != gap)
    finished = [item for item in told(page) if item["what"] == "finished"]
    assert [(item["kind"], item["number"], item["right"], item["help"]) for item in finished] == [(KIND, 1, True, 3)]


def test_help_is_asked_for_and_given_back(open_page: Open) -> None:
    """More worked, then less, down to the whole problem; each said in words."""
    page = open_page(stand_in())
    every = page.locator(".answer:visible").count()
    assert every > 1 and page.locator(".worked-part .step").count() == 0
    more = page.get_by_role("button", name="show more of it worked")
    less = page.get_by_role("button", name="show less of it worked")
    expect(less).to_be_hidden()
    steps = []
    while more.is_visible():
        more.click()
        steps.append(page.locator(".part-told").inner_text())
    assert len(set(steps)) == len(steps) >= 1 and all("left to you" in text for text in steps)
    while less.is_visible():
        less.click()
    assert page.locator(".answer:visible").count() == every


def test_a_principle_is_asked_for_from_the_second_on(open_page: Open, worked: WorkedProblem) -> None:
    """Not at the first part-worked problem; then as a choice of laws, which may be passed over."""
    page = open_page(stand_in("faded", 3))
    assert page.locator(".principle").count() == 0
    gap = page.locator(".answer:visible").get_attribute("data-part")
    assert gap is not None
    write(page, gap, worked.problem.answers[gap].text)
    page.get_by_role("button", name="another problem").click()
    expect(page.locator("article.problem")).to_have_attribute("data-name", f"{KIND}:2")
    box = page.locator(".principle")
    assert box.count() == 1 and box.locator("input").count() >= 3
    for at in range(box.locator("input").count()):
        box.locator("input").nth(at).check()
        assert len(box.locator(".principle-said").inner_text()) > 20
    expect(page.locator(".answer:visible .written")).to_be_visible()


def test_help_that_is_turned_off_is_off(open_page: Open) -> None:
    """No hint is offered and nothing is worked, whatever the record says."""
    page = open_page(stand_in("faded", 3, "off"))
    assert page.locator(".hint-button:visible").count() == 0
    assert page.locator(".part-bar:visible").count() == 0
    assert page.locator(".worked-part").count() == 0


def test_without_record_or_settings_the_page_is_whole(open_page: Open, worked: WorkedProblem) -> None:
    """All is left to the learner, hints are there, and answers are judged."""
    page = open_page()
    assert page.locator(".answer:visible").count() == len(worked.problem.waypoints)
    assert page.locator(".hint-button:visible").count() == len(worked.problem.waypoints)
    point = worked.problem.waypoints[0]
    assert point.answer is not None
    assert write(page, point.key, point.answer.text).startswith("Right.")


def test_hints_and_worked_parts_fit_a_narrow_screen(open_page: Open) -> None:
    """At 320 pixels nothing reaches past the page."""
    page = open_page(stand_in("faded", 3), width=320)
    page.locator(".answer:visible .hint-button").first.click()
    page.locator(".answer:visible .hint-button").first.click()
    page.locator(".answer:visible .hint-button").first.click()
    width = page.evaluate("document.documentElement.scrollWidth")
    assert width <= 320


def test_the_solution_opened_is_told_to_the_record(open_page: Open, worked: WorkedProblem) -> None:
    """After a try it ends the problem, not right; before any it was an example, and nothing counts."""
    point = worked.problem.waypoints[0]
    assert point.answer is not None
    page = open_page(stand_in())
    write(page, point.key, "1 Ω")
    write(page, point.key, "1 Ω")
    page.locator(".solution > summary").click()
    page.wait_for_function("Steadyrail.told.length > 1")
    found = [(item["what"], item["right"]) for item in told(page)]
    assert found == [("attempt", False), ("finished", False)], "the same line twice is one attempt"
    page = open_page(stand_in())
    page.locator(".solution > summary").click()
    page.wait_for_function("document.querySelector('article').dataset.example === 'yes'")
    write(page, point.key, point.answer.text)
    assert [item["what"] for item in told(page)] == ["example"]
