"""The tool that makes mutants is an extra of its own: without it, its one test is not collected."""

from __future__ import annotations

from importlib.util import find_spec

collect_ignore = [] if find_spec("cosmic_ray") else ["test_mutants.py"]
