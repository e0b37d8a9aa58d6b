"""On a user's machine a missing tool skips its tests; in CI a skip is a failure."""

from __future__ import annotations

import gc
import os
from collections.abc import Generator

import pytest
from xdist.remote import Producer
from xdist.scheduler import LoadScopeScheduling

from tests.whole_site import whole as whole

# Files whose tests share the whole site (tests/whole_site.py), or plans for the same own numbers, stay in one process.
ONE_PROCESS = (
    "tests/views/test_own_numbers.py",
    "tests/site/test_own_numbers.py",
    "tests/site/test_browser.py",
    "tests/views/test_pages.py",
)
# What takes longest comes first, so that with `-n` no core waits for another at the end. While the whole site plans
# what the store does not hold yet, the others do what needs no store: no two processes plan the same.
FIRST = (
    *ONE_PROCESS,
    "tests/witness/test_linearised_circuits.py",
    "tests/laws/test_every_circuit.py",
    "tests/plan/test_any_givens.py",
    "tests/plan/test_everything.py",
    "tests/bench/test_points.py",
    "tests/site/test_checker_mirror.py",
    "tests/problems/test_every_family.py",
)

# The tests keep a great many small things (problems, plans, worlds) and leave few cycles behind: looking for those less
# often makes the whole run about a quarter shorter.
gc.set_threshold(50_000, 20, 20)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skip into a failure where CI is set: everything a test needs must have been installed."""
    report = yield
    # A failure that is expected, and named, is no skip: it fails when it no longer happens.
    if report.skipped and not hasattr(report, "wasxfail") and os.environ.get("CI"):
        report.outcome = "failed"
        report.longrepr = f"skipped in CI, where nothing may be: {item.nodeid}: {call.excinfo and call.excinfo.value}"
    return report


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What takes longest comes first."""
    places = {file: place for place, file in enumerate(FIRST)}
    items.sort(key=lambda item: places.get(item.nodeid.split("::")[0], len(places)))


class ByFile(LoadScopeScheduling):
    """Tests of one file share what they have built, so that with `-n` a file stays in one process, or several do."""

    def _split_scope(self, nodeid: str) -> str:
        file = nodeid.split("::")[0]
        return "whole site" if file in ONE_PROCESS else file


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> ByFile:
    """How tests are spread over processes."""
    return ByFile(config, log)
