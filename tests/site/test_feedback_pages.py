"""Feedback sheets and the class report in a browser: axe-core in light and dark, wide and narrow; nothing loaded."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.sets.demo_class import SET, write_workings
from tests.site.test_access import axe, browser, findings, page
from tutor.views.marked_class import mark_class

__all__ = ["axe", "browser", "page"]  # fixtures
SHEETS = ("feedback/w02.html", "feedback/w04.html", "feedback/w06.html", "report.html")


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("marked")
    mark_class(SET, write_workings(folder / "w"), folder / "out", pdf=False)
    return folder / "out"


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_can_be_read_by_everyone_and_loads_nothing(page: Page, marked: Path, axe: str, sheet: str) -> None:
    """Nothing for axe-core to find; no line wider than the screen; no word in the console, where its policy speaks."""
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("request", lambda request: asked.append(request.url))
    found = []
    for scheme, width in (("light", 1280), ("dark", 390)):
        page.emulate_media(color_scheme="light" if scheme == "light" else "dark")
        page.set_viewport_size({"width": width, "height": 900})
        page.goto((marked / sheet).as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        found += [f"{scheme}: {finding}" for finding in findings(page, axe)]
    assert found == []
    assert said == []
    assert {address for address in asked if not address.startswith("data:")} == {(marked / sheet).as_uri()}


def test_dark_pages_have_dark_pictures(page: Page, marked: Path) -> None:
    """A picture follows the page: another one is shown on a dark screen."""
    shown = []
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme="light" if scheme == "light" else "dark")
        page.goto((marked / "report.html").as_uri())
        shown.append(page.evaluate("[...document.images].map(image => image.currentSrc)"))
    assert len(shown[0]) == 4 and not set(shown[0]) & set(shown[1])
