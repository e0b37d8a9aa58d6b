"""What packages hold: python .ci/held.py SDIST WHEEL_OF_SDIST WHEEL_OF_TREE, in the project's folder."""

from __future__ import annotations

import subprocess
import sys
import tarfile
import tomllib
import zipfile
from email.parser import HeaderParser
from pathlib import Path

CODE = ("tutor/", "problems/", "site/")
BESIDE = ("tests/", "docs/", "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE")


def main(sdist: str, of_sdist: str, of_tree: str) -> None:
    """AssertionError says what is missing or differs."""
    told = subprocess.run(["git", "ls-files", "-z"], capture_output=True, text=True, check=True).stdout
    files = [name for name in told.split("\0") if name]
    code = {name for name in files if name.startswith(CODE)}
    beside = {name for name in files if name.startswith(BESIDE)} | {"pyproject.toml"}

    with tarfile.open(sdist) as packed:
        held = {item.name.partition("/")[2]: packed.extractfile(item) for item in packed if item.isfile()}
        same({name: file.read() for name, file in held.items() if file}, code | beside, "the sdist")
        more = set(held) - code - beside - {"PKG-INFO", ".gitignore"}
        assert not more, f"the sdist holds {sorted(more)[:5]}, which are no files of ours"

    wheels = [contents(path) for path in (of_sdist, of_tree)]
    assert wheels[0] == wheels[1], f"the sdist makes another wheel: {differing(*wheels)[:5]} differ"
    placed = {name: wheels[1].get(f"tutor/_{name}" if name.startswith("site/") else name, b"") for name in code}
    same(placed, code, "the wheel")
    metadata = next(data for name, data in wheels[1].items() if name.endswith(".dist-info/METADATA"))
    names_pythons(metadata.decode())


def contents(wheel: str) -> dict[str, bytes]:
    """Every file of a wheel."""
    with zipfile.ZipFile(wheel) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def differing(one: dict[str, bytes], other: dict[str, bytes]) -> list[str]:
    """The names under which two packages do not hold the same."""
    return sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))


def same(held: dict[str, bytes], names: set[str], what: str) -> None:
    """What is held under these names is what stands in the tree."""
    ours = {name: Path(name).read_bytes() for name in names}
    other = differing({name: data for name, data in held.items() if name in names}, ours)
    assert names and not other, f"{what} lacks or changes {other[:5]}"


def names_pythons(metadata: str) -> None:
    """The least Python that is required is the first that is named, and they are named without a gap."""
    told = HeaderParser().parsestr(metadata)
    start = "Programming Language :: Python :: 3."
    named = sorted(int(item.removeprefix(start)) for item in told.get_all("Classifier", []) if item.startswith(start))
    assert told["Requires-Python"] == f">=3.{named[0]}" and named == list(range(named[0], named[-1] + 1)), named
    target = tomllib.loads(Path("pyproject.toml").read_text(encoding="utf-8"))["tool"]["ruff"]["target-version"]
    assert target == f"py3{named[0]}", target


if __name__ == "__main__":
    main(*sys.argv[1:])
