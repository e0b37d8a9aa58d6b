"""The benchmarks import one another as plain files, as when run.py is started; their tests find them the same way."""

from __future__ import annotations

import gc
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parent))  # last, so that no installed package is hidden


@pytest.fixture(autouse=True)
def nothing_old_to_collect() -> Iterator[None]:
    """Garbage is collected before each sample; what other tests of the process keep is not gone through each time."""
    gc.freeze()
    yield
    gc.unfreeze()
