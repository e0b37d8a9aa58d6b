"""Help with typing that pages share: what is taken out of a page is put back by its numbers, and stands once."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from tests.site.small_site import small_content
from tutor.views.bank import Bank, expand
from tutor.views.markup import Element
from tutor.views.pages import problem_body
from tutor.views.press import make_press
from tutor.views.shared_help import WHERE, SharedHelp
from tutor.views.sources import site_folder


@pytest.fixture(scope="module")
def bodies() -> list[Element]:
    press = make_press(site_folder() / "templates")
    families = small_content(1).families()
    return [problem_body(level.problems[0], press) for family in families for level in family.levels]


def put_back(body: Element, pieces: list[Element]) -> Element:
    """What the page's script does."""
    told = dict(body.attributes).get(WHERE)
    if told is not None:
        kept = tuple(pair for pair in body.attributes if pair[0] != WHERE)
        return replace(body, attributes=kept, children=tuple(pieces[int(number)] for number in told.split()))
    return replace(body, children=tuple(put_back(c, pieces) if isinstance(c, Element) else c for c in body.children))


def test_pages_get_back_what_they_share(bodies: list[Element]) -> None:
    shared = SharedHelp()
    light = [shared.lighten(body) for body in bodies]
    text = shared.script().removeprefix("(window.Steadyrail = window.Steadyrail || {}).typing = ").removesuffix(";\n")
    pieces = [expand(Bank(template, ([],)), 0) for template in json.loads(text)]
    assert [put_back(body, pieces) for body in light] == bodies
    assert all(light_body != body for light_body, body in zip(light, bodies, strict=True))


def test_a_piece_stands_once(bodies: list[Element]) -> None:
    shared = SharedHelp()
    for body in bodies:
        shared.lighten(body)
    before = len(shared.numbers)
    assert before < len(bodies) * 60
    shared.lighten(bodies[0])
    assert len(shared.numbers) == before
