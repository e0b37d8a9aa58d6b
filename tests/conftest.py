"""On a user's machine a missing tool skips its tests; in CI a skip is a failure."""

from __future__ import annotations

import gc
import os
from collections.abc import Generator

import pytest

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
