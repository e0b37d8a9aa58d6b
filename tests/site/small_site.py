"""A site of a few families that between them have every kind of page, and a browser to open it in."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from tutor.solution.desk import our_desk
from tutor.views.assemble import assemble
from tutor.views.content import SiteContent
from tutor.views.site import build_site

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
# Values, choices, states and a design desk; mains at 50 and 60 Hz; an order to find; words among relations.
FAMILIES = ("zener-resistor", "supply-ripple", "follower-state", "chain-of-cause", "find-the-wrong-line")
# One page of each kind.
KINDS = (
    "index.html",
    "symbols.html",
    "settings.html",
    "own.html",
    "desks.html",
    "lessons/shunt.html",
    "circuits/zener-shunt.html",
    "own/zener-shunt.html",
    "desks/zener-resistor-2.html",
    "problems/zener-resistor-2.html",
    "problems/follower-state-1.html",
    "problems/chain-of-cause-1.html",
    "problems/find-the-wrong-line-1.html",
)


def quiet(_done: int, _total: int, _what: str) -> None:
    """A build that nobody watches."""


def small_content(per_level: int = 4) -> SiteContent:
    """Those families with a few problems a level."""
    return assemble(our_desk(), per_level, quiet, FAMILIES)


def small_site(content: SiteContent, folder: Path) -> Path:
    """The folder it is built into."""
    return build_site(content, folder / "site", quiet).path


@contextmanager
def chromium() -> Iterator[Browser]:
    """Chromium; without it the tests are skipped, except where CI is set."""
    if CHROMIUM is None:
        assert not os.environ.get("CI"), "CI must have Chromium"
        pytest.skip("Chromium is not installed")
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
