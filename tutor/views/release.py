"""Which release of Steadyrail this is, as printed beside problems and written into set files."""

from __future__ import annotations

import tomllib
from importlib.metadata import version
from pathlib import Path

NAME = "steadyrail"


def release() -> str:
    """The version: in a checkout what its pyproject.toml says, else that of the installed package."""
    declared = Path(__file__).resolve().parents[2] / "pyproject.toml"
    if declared.is_file():
        project = tomllib.loads(declared.read_text(encoding="utf-8")).get("project", {})
        if project.get("name") == NAME:
            return str(project["version"])
    return version(NAME)
