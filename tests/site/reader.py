"""A reader of the study site in the browser, and where on it what is looked for is found."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import BrowserContext, Page

from tutor.generate.problem import Waypoint, WaypointKind
from tutor.views.content import FamilyContent, LevelContent, SiteContent


class Reader:
    """A reader's page that notes every complaint of the browser and every address it asks for."""

    def __init__(self, context: BrowserContext, site: Path) -> None:
        self.page = context.new_page()
        self.site = site
        self.complaints: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def open(self, place: str) -> Page:
        path, _, fragment = place.partition("#")
        self.page.goto((self.site / path).as_uri() + (f"#{fragment}" if fragment else ""))
        return self.page


def every_page(site: Path) -> list[str]:
    return [str(path.relative_to(site)) for path in sorted(site.rglob("*.html"))]


def every_level(content: SiteContent) -> list[tuple[FamilyContent, LevelContent]]:
    return [(family, level) for family in content.families() for level in family.levels]


def page_of(family: FamilyContent, level: LevelContent) -> str:
    return f"problems/{family.id}-{level.level}.html"


def find(content: SiteContent, kind: WaypointKind, with_slip: bool = False) -> tuple[str, Waypoint]:
    """A page, and in its first problem a waypoint of that kind."""
    for family, level in every_level(content):
        for point in level.problems[0].problem.waypoints:
            if point.kind is kind and (point.slips or not with_slip):
                return page_of(family, level), point
    raise AssertionError(f"no problem asks for a {kind.value}")


def answer(page: Page, point: Waypoint, text: str) -> str:
    """Types an answer as a reader does, with Enter, and returns what the margin says."""
    line = page.locator(f'.answer[data-part="{point.key}"]')
    line.locator(".written").fill(text)
    line.locator(".written").press("Enter")
    return line.locator(".verdict").inner_text()
