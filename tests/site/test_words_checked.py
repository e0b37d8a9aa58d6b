"""Answers in words on the working sheet of a page: found and marked there as in the terminal, line for line.

The workings are made from what each problem asks: right answers, wrong options, answers spelt otherwise, nonsense and
blank lines, on several numbers of every family across circuits and level, always the same ones.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tutor.across.named import across_family, across_ids
from tutor.generate.problem import SEPARATOR, Problem, Waypoint, WaypointKind
from tutor.quantities.prose import prose_text
from tutor.quantities.quantity import given
from tutor.solution.desk import our_desk
from tutor.solution.solution import Solution
from tutor.views.assemble import STAGES, page_tables, posed_content
from tutor.views.checking import check, marks_told
from tutor.views.content import FamilyContent, SiteContent, StageContent
from tutor.views.plain import chain_text
from tutor.views.site import build_site
from tutor.working.word_answers import SAME_WORDS, answered_in_words

PER_LEVEL = 1
WORKINGS = 2  # of each number
LINES = 9  # of each working, about
SEED = 20
SLOW = 15000.0  # milliseconds that a busy machine may take to a finding
NONSENSE = (
    "", "   ", "nonsense", "nothing is wrong", "V_O stays", "V_O = ", ": rises", "it depends: on what", "R = $5",
    "<img src=x onerror=alert(1)>", "fault: <script>alert(1)</script>", "A; B; C", "1 + 1 = 2", "up", "order B A",
)  # fmt: skip


@pytest.fixture(scope="module")
def content() -> SiteContent:
    """The families across circuits alone: what they are drawn from has no pages here."""
    desk = our_desk()
    circuits = {name: desk.circuit(name) for name in desk.folder.circuit_ids()}
    families = []
    for name in across_ids(desk.folder):
        item = across_family(desk.folder, name)
        levels = tuple(posed_content(desk, circuits, item, level, PER_LEVEL) for level in (1, 2, 3))
        families.append(FamilyContent(name, item.title, item.about, item.lesson, "", levels))
    return SiteContent((StageContent(*STAGES[-1], (), tuple(families)),), page_tables())


@pytest.fixture(scope="module")
def words_site(content: SiteContent, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_site(content, tmp_path_factory.mktemp("built") / "site", lambda _done, _total, _what: None).path


@pytest.fixture
def page(working_browser: Browser) -> Iterator[Page]:
    context = working_browser.new_context(viewport={"width": 1280, "height": 900})
    made = context.new_page()
    complaints: list[str] = []
    made.on("console", lambda message: complaints.append(message.text))
    made.on("pageerror", lambda error: complaints.append(str(error)))
    made.on("dialog", lambda dialog: complaints.append(f"what was typed ran: {dialog.message}"))
    yield made
    context.close()
    assert complaints == []


def typed(prose: str) -> str:
    return prose_text(prose).replace("\u00a0", " ")


def otherwise(point: Waypoint, option: str, draw: random.Random) -> str:
    """The same answer, spelt in one of the ways in which people spell it."""
    said = typed(option)
    others = [other for other, word in SAME_WORDS.items() if word == said]
    key = draw.choice((point.key, point.key.lower(), point.key.replace("_", "")))
    if point.kind is WaypointKind.ARRANGEMENT:
        said = draw.choice((", ", " ", " -> ", ";", "; ")).join(said.split(SEPARATOR))
        return draw.choice((f"{key}: {said}", f"{key} = {said.upper()}", said))
    if others and draw.random() < 0.7:
        said = draw.choice(others)
    ways = (
        f"{key} {said}",
        f"{key}:{said.upper()}",
        f"{key} = it {said}",
        f"{key}: I think {said}.",
        f"{key}: not {said}",
    )
    return draw.choice(ways)


def answers(point: Waypoint, draw: random.Random) -> list[str]:
    """Lines on one thing asked: right, wrong, and spelt otherwise."""
    if point.answer is not None:
        value, unit = point.answer.value, point.answer.unit
        far = [slip.value for slip in point.slips] + [value * factor for factor in (1.4, 3, -1, 1000)]
        lines = [
            f"{point.key} = {point.answer.text}",
            f"{point.key} ≈ {value:.3g}",
            f"{point.key}: 1,5",
            f"{point.key} = 3 s",
        ]
        return lines + [f"{point.key} ≈ 2 × 3 = {given(float(f'{wrong:.3g}'), unit).text}" for wrong in far]
    options = [remark.option for remark in point.remarks]
    if point.kind is WaypointKind.ARRANGEMENT:
        options += [SEPARATOR.join(draw.sample(point.options, len(point.places))) for _ in range(2)]
    else:
        options += point.options
    lines = [f"{point.key}: {typed(option)}" for option in (point.state, *options)]
    lines += [otherwise(point, option, draw) for option in (point.state, *options)]
    return [
        *lines,
        f"{point.key}: nothing of the kind",
        f"{point.key}:",
        f"{point.key}: {typed(point.options[0])[:-1]}",
    ]


def workings(problem: Problem, solution: Solution, in_words: str) -> list[str]:
    """Workings on one problem; the first answers all rightly in plain words, the others are drawn from all lines."""
    draw = random.Random(f"{SEED}:{problem.name}")
    answered = answered_in_words(problem.waypoints, words_alone=in_words == "alone")
    lines = [line for point in answered for line in answers(point, draw)]
    lines += draw.sample(NONSENSE, 6)
    if in_words == "among":
        lines += [chain_text(chain) for step in solution.steps for chain in step.chains][:4]
    right = [answers(point, draw)[0] for point in answered]
    return ["\n".join(right)] + ["\n".join(draw.choices(lines, k=LINES)) for _ in range(WORKINGS - 1)]


def told_here(name: str, text: str, answered: tuple[Waypoint, ...]) -> dict[str, Any]:
    """What the terminal's `check` answers, as the page has it."""
    found = check(text, problem=name)
    assert found.marks is not None
    keys = [point.key for point in answered]
    return {
        "findings": [[item.number, item.code.value, item.why, list(item.slip)] for item in found.findings],
        "first": found.first_wrong,
        "marks": [[entry.waypoint, entry.got, entry.line] for entry in found.marks.ledger if entry.waypoint in keys],
    }


THERE = """([name, text]) => {
  const section = document.querySelector(".working");
  const sheet = section.dataset.words === "alone" ? null : Steadyrail.sheetFor(name);
  const found = Steadyrail.checkWords(Steadyrail.askedIn(section.closest("article")), sheet, text);
  return {
    findings: found.findings.map((item) => [item.number, item.code, item.why, item.slip]),
    first: found.firstWrong,
    marks: found.marks.map((mark) => [mark.waypoint, mark.got, mark.line]),
  };
}"""


def open_number(page: Page, site: Path, name: str) -> None:
    family, level, number = name.split(":")
    page.goto(f"{(site / 'problems' / f'{family}-{level}.html').as_uri()}#{number}")
    expect(page.locator("article.problem")).to_have_attribute("data-name", name)
    slot = "document.querySelector('.working').dataset"
    page.wait_for_function(f"{slot}.words === 'alone' || Steadyrail.sheetFor({slot}.slot) !== null")


@dataclass(frozen=True)
class Case:
    """A working on a problem and what the terminal answers."""

    name: str
    text: str
    told: dict[str, Any]


@pytest.fixture(scope="module")
def cases(content: SiteContent) -> tuple[Case, ...]:
    """The workings on every problem, those of one problem together, the plain right one first."""
    found = []
    for shown in (shown for family in content.families() for level in family.levels for shown in level.problems):
        answered = answered_in_words(shown.problem.waypoints, words_alone=shown.in_words == "alone")
        for text in workings(shown.problem, shown.solution, shown.in_words):
            found.append(Case(shown.problem.name, text, told_here(shown.problem.name, text, answered)))
    return tuple(found)


def differences(page: Page, site: Path, cases: Iterable[Case]) -> Iterator[tuple[Case, dict[str, Any]]]:
    """The cases in which the page says something else, and what it says."""
    shown = ""
    for case in cases:
        if case.name != shown:
            open_number(page, site, case.name)
            shown = case.name
        told = page.evaluate(THERE, [case.name, case.text])
        if told != case.told:
            yield case, told


def test_every_line_is_found_and_marked_as_in_the_terminal(
    page: Page, words_site: Path, cases: tuple[Case, ...]
) -> None:  # fmt: skip
    assert list(differences(page, words_site, cases)) == []
    for case in cases[::WORKINGS]:
        assert all(got == 1 for _, got, _ in case.told["marks"]), (case.name, case.text, case.told)
    assert {"holds", "fails", "unread"} <= {item[1] for case in cases for item in case.told["findings"]}


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("exact.size === 0 && denies(words)", "false"), ('.replaceAll("’", "\'")', ""), (", /[;,]|-?>|→/,", ","),
        ("=== point.key).pop()", "=== point.key)[0]"), ("isWithin(spelt, words)", "false"),
        ("told.replace(other, word)", "told"), ("points.filter(isWorded)", "points"),
        ('(taken.has(at + 1) ? "" : line)', "line"), (r'told.replace(/\.+$/, "")', "told"),
    ],
)  # fmt: skip
def test_a_fault_planted_in_the_script_is_noticed(
    page: Page, words_site: Path, cases: tuple[Case, ...], right: str, wrong: str
) -> None:
    script = (words_site / "assets" / "answers_in_words.js").read_text(encoding="utf-8")
    assert script.count(right) == 1
    body = script.replace(right, wrong)
    page.route("**/answers_in_words.js", lambda route: route.fulfill(body=body, content_type="text/javascript"))
    assert next(differences(page, words_site, cases), None) is not None


@pytest.mark.parametrize("family", ["chain-of-cause", "complete-the-circuit", "direction-of-change", "estimate",
                                    "find-the-fault", "find-the-wrong-line"])  # fmt: skip
def test_a_learner_sees_what_the_terminal_says(page: Page, words_site: Path, content: SiteContent, family: str) -> None:
    """Typed on the sheet: the signs of wrong and unread lines, the first line to look at, the marks; and it is kept."""
    level = next(item for item in content.families() if item.id == family).levels[-1]
    shown = level.problems[0]
    open_number(page, words_site, shown.problem.name)
    text = workings(shown.problem, shown.solution, shown.in_words)[1].replace("\n\n", "\n").strip()
    found = check(text, problem=shown.problem.name)
    page.locator(".line-field").focus()
    page.keyboard.insert_text(text)
    told = page.locator(".working-sum")
    expect(told).not_to_be_empty(timeout=SLOW)
    wrong = [item.number for item in found.findings if item.code.value in ("fails", "units", "choice-bad")]
    unread = [item.number for item in found.findings if item.code.value == "unread"]
    for told_as, numbers in (("wrong", wrong), ("unread", unread)):
        expect(page.locator(f".working-line.{told_as}")).to_have_count(len(numbers), timeout=SLOW)
        seen = page.locator(".working-line").evaluate_all(
            "(lines, told) => lines.flatMap((line, at) => (line.classList.contains(told) ? [at + 1] : []))", told_as
        )
        assert seen == numbers
    if found.first_wrong is not None:
        expect(told).to_contain_text(f"The first line to look at is line {found.first_wrong}.")
    if shown.in_words == "alone":
        assert found.marks is not None
        expect(told).to_contain_text(marks_told(found.marks))
    page.reload()
    fields = page.locator(".line-field")
    assert fields.evaluate_all("(fields) => fields.map((field) => field.value)") == text.split("\n")


def test_the_sheet_says_how_an_answer_is_written_and_a_key_begins_it(page: Page, words_site: Path) -> None:
    open_number(page, words_site, "direction-of-change:1:1")
    expect(page.locator(".working-how")).to_have_text(re.compile(r"^On each line write .*, such as V_O: rises\.$"))
    key = page.locator(".key-asked").first
    key.click()
    page.keyboard.type("stays")
    expect(page.locator(".line-field")).to_have_value("V_O: stays")
    expect(page.locator(".line-finding").first).to_contain_text("true of the circuit", timeout=SLOW)


def test_without_the_script_for_words_the_sheet_says_so(page: Page, words_site: Path) -> None:
    page.route("**/answers_in_words.js", lambda route: route.fulfill(body="", content_type="text/javascript"))
    page.goto((words_site / "problems" / "direction-of-change-1.html").as_uri())
    expect(page.locator(".working-unchecked")).to_contain_text("Your lines are kept but not checked", timeout=SLOW)
