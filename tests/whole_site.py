"""The whole study site with a few problems a level, worked and built once for all the tests that look at it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from tutor.solution.desk import our_desk
from tutor.views.assemble import assemble
from tutor.views.content import SiteContent
from tutor.views.site import SiteReport, build_site

PER_LEVEL = 3


@dataclass(frozen=True)
class WholeSite:
    """What was built from what; `told` is what the build told of its progress, done and total."""

    content: SiteContent
    report: SiteReport
    told: tuple[tuple[int, int], ...]

    @property
    def path(self) -> Path:
        """Its folder; nobody changes it."""
        return self.report.path


def quiet(_done: int, _total: int, _what: str) -> None:
    """A build that nobody watches."""


@pytest.fixture(scope="session")
def whole(tmp_path_factory: pytest.TempPathFactory) -> WholeSite:
    """Tests that ask for it belong to one process: `ONE_PROCESS` in tests/conftest.py."""
    content = assemble(our_desk(), PER_LEVEL, quiet)
    told: list[tuple[int, int]] = []
    out = tmp_path_factory.mktemp("whole") / "site"
    report = build_site(content, out, lambda done, total, _: told.append((done, total)))
    return WholeSite(content, report, tuple(told))
