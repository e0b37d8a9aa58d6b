"""The benchmarks import one another as plain files, as when run.py is started; their tests find them the same way."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # last, so that no installed package is hidden
