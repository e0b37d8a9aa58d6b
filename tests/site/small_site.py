"""A site of a few families that between them have every kind of page, and a browser to open it in."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, sync_playwright

from tutor.across.named import across_family
from tutor.solution.desk import our_desk
from tutor.solution.own_offer import own_offer
from tutor.views.assemble import STAGES, circuit_content, level_content, page_tables, posed_content
from tutor.views.content import FamilyContent, SiteContent, StageContent

# The shell without windows does the same at a third of the work.
NAMES = ("chromium-headless-shell", "chromium", "chromium-browser")
CHROMIUM = next(filter(None, map(shutil.which, NAMES)), None)
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
# Values, choices, states and a design desk; mains at 50 and 60 Hz; an order to find; words among relations. By level.
FAMILIES = {"zener-resistor": (1, 2), "supply-ripple": (1, 2, 3), "follower-state": (1, 2)}
ACROSS = {"chain-of-cause": (1,), "find-the-wrong-line": (1,)}
CIRCUITS = ("zener-shunt", "follower")  # the first is that of the lesson across all circuits
# One page of each kind.
KINDS = (
    "index.html",
    "topics/zener-resistor.html",
    "today.html",
    "mixed.html",
    "lecturer.html",
    "search.html",
    "glossary.html",
    "formulas.html",
    "formulas/zener-shunt.html",
    "symbols.html",
    "settings.html",
    "own.html",
    "desks.html",
    "lessons/across.html",
    "circuits/zener-shunt.html",
    "own/zener-shunt.html",
    "desks/zener-resistor-2.html",
    "problems/zener-resistor-2.html",
    "problems/follower-state-1.html",
    "problems/chain-of-cause-1.html",
    "problems/find-the-wrong-line-1.html",
)


def small_content(per_level: int = 4) -> SiteContent:
    """Those families with a few problems a level, before the one stage whose lesson needs no other circuits."""
    desk = our_desk()
    families, found = {name: desk.family(name) for name in FAMILIES}, []
    for name, numbers in FAMILIES.items():
        family = families[name]
        levels = [level_content(desk, desk.circuit(family.circuit_of(at)), family, at, per_level) for at in numbers]
        found.append(FamilyContent(name, family.title, family.about, "across", family.circuit, tuple(levels)))
    drawn = tuple(circuit_content(desk, desk.circuit(name)) for name in CIRCUITS)
    first = StageContent(0, "Circuits", "Three families on circuits of their own.", drawn, tuple(found))
    found = []
    circuits = {name: desk.circuit(name) for name in desk.folder.circuit_ids()}
    for name, numbers in ACROSS.items():
        item = across_family(desk.folder, name)
        levels = [posed_content(desk, circuits, item, at, per_level) for at in numbers]
        found.append(FamilyContent(name, item.title, item.about, item.lesson, "", tuple(levels)))
    number, title, summary = STAGES[-1]
    last = StageContent(number, title, summary, (), tuple(found))
    offer = own_offer(desk.folder, circuits["zener-shunt"], families.values())
    return SiteContent((first, last), page_tables(), (offer,))


@contextmanager
def chromium() -> Iterator[Browser]:
    """Chromium; without it the tests are skipped, except where CI is set."""
    if CHROMIUM is None:
        assert not os.environ.get("CI"), "CI must have Chromium"
        pytest.skip("Chromium is not installed")
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
