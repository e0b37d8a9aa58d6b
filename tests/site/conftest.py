"""The working sheet of one problem, opened from disk in Chromium, with a stand-in for the checker."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page

from tests.site.small_site import chromium, small_content
from tests.site.stage_site import quiet, stage_site
from tutor.views.content import SiteContent
from tutor.views.site import build_site

CHECKER = Path(__file__).with_name("working_checker.js")
FAMILY = "zener-resistor"


@pytest.fixture(scope="module")
def working_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of one family at one level, three problems."""
    return stage_site(tmp_path_factory, (FAMILY,))


@pytest.fixture(scope="session")
def shunt_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of two families at two levels, for what stands round the problems."""
    return stage_site(tmp_path_factory, (FAMILY, "zener-state"), 2)


@pytest.fixture(scope="module")
def working_browser() -> Iterator[Browser]:
    """Chromium, for one file of tests."""
    with chromium() as found:
        yield found


@pytest.fixture(scope="session")
def small() -> SiteContent:
    """A few families that between them have every kind of page."""
    return small_content()


@pytest.fixture(scope="session")
def built(small: SiteContent, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Their site; whoever changes it takes a copy."""
    return build_site(small, tmp_path_factory.mktemp("small") / "site", quiet).path


class Sheet:
    """A problem's page with its working sheet, every complaint of the browser about it, every address it asks for."""

    def __init__(self, browser: Browser, site: Path, script: str, width: int, scripts: bool) -> None:
        self.context = browser.new_context(viewport={"width": width, "height": 800}, java_script_enabled=scripts)
        self.context.add_init_script(path=CHECKER)
        self.context.add_init_script(script)
        self.complaints: list[str] = []
        self.asked: list[str] = []
        self.page: Page = self.context.new_page()
        self.page.clock.install(time=0)
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.goto((site / "problems" / f"{FAMILY}-1.html").as_uri())
        self.page.clock.pause_at(60)  # what waits for the writer to rest waits for `rest`
        self.fields = self.page.locator(".line-field")

    def rest(self, milliseconds: int = 2000) -> None:
        """The writer's hands rest that long; two seconds are enough for everything."""
        self.page.clock.run_for(milliseconds)

    def texts(self) -> list[str]:
        """The lines as they stand in their fields."""
        texts: list[str] = self.fields.evaluate_all("(fields) => fields.map((field) => field.value)")
        return texts

    def write(self, *lines: str) -> None:
        """Types lines as a learner does, from the end of the sheet on, with Enter between them."""
        self.fields.last.focus()
        for at, line in enumerate(lines):
            if at:
                self.page.keyboard.press("Enter")
            self.page.keyboard.type(line)

    def line(self, number: int) -> Locator:
        """A line with its margin."""
        return self.page.locator(".working-line").nth(number - 1)

    def margin(self, number: int) -> Locator:
        """The margin beside a line."""
        return self.line(number).locator(".line-finding")

    def boxes(self, number: int, *parts: str) -> list[dict[str, float]]:
        """Where parts of a line stand, all at one moment: the page may still be scrolling."""
        boxes: list[dict[str, float]] = self.line(number).evaluate(
            """(line, parts) => parts.map((part) => line.querySelector(part).getBoundingClientRect().toJSON())""",
            list(parts),
        )
        return boxes

    def writing_in(self) -> tuple[int, int]:
        """The number of the line in hand (0: none) and where the caret stands in it."""
        number: int = self.page.evaluate(
            """[...document.querySelectorAll(".line-field")].indexOf(document.activeElement) + 1"""
        )
        caret: int = self.page.evaluate("document.activeElement.selectionStart ?? 0")
        return number, caret


OpenSheet = Callable[..., Sheet]


@pytest.fixture
def open_sheet(working_browser: Browser, working_site: Path) -> Iterator[OpenSheet]:
    """Opens a sheet: with a script run before the page's own, a width in CSS pixels, scripts on or off."""
    opened: list[Sheet] = []

    def open_one(script: str = "", width: int = 1280, scripts: bool = True) -> Sheet:
        opened.append(Sheet(working_browser, working_site, script, width, scripts))
        return opened[-1]

    yield open_one
    for sheet in opened:
        assert sheet.complaints == []
        assert all(address.startswith(("file://", "blob:")) for address in sheet.asked)
        sheet.context.close()


@pytest.fixture
def sheet(open_sheet: OpenSheet) -> Sheet:
    """A sheet as most learners meet it."""
    return open_sheet()
