"""No file nobody dares to split."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
MOST = 400
FOLDERS = ("tutor", "problems", "tests", "site")
FILES = sorted(
    path
    for folder in FOLDERS
    for path in (ROOT / folder).rglob("*")
    if path.suffix in (".py", ".js", ".css", ".html", ".md") and path.is_file()
)


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_file_is_over_400_lines(path: Path) -> None:
    """Code, scripts, sheets, templates and lessons alike."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST
