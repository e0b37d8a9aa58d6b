"""`python -m tutor.views.reference`: writes the reference pages, into docs/reference unless another folder is named."""

from __future__ import annotations

import sys
from pathlib import Path

from tutor.views.reference.writing import write_reference


def main(arguments: list[str]) -> None:
    """Write the pages and say where; OSError of a folder that cannot be written is left to the reader."""
    folder = Path(arguments[0]) if arguments else Path("docs/reference")
    for name in write_reference(folder):
        print(folder / name)


if __name__ == "__main__":
    main(sys.argv[1:])
