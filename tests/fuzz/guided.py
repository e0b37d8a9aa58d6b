"""Feeds one target for a time, guided by what of our own modules it reached.

`python -m tests.fuzz.guided TARGET SECONDS SEED FOLDER`; it needs atheris, whose
own report goes to standard error. What breaks first ends the run.

Source of the options: the documentation of libFuzzer (LLVM), which atheris drives.
"""

from __future__ import annotations

import sys
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["tutor.working", "tutor.sets", "tutor.quantities.reading", "tutor.circuit"]):
    from tests.fuzz.feed import PIECES
    from tests.fuzz.targets import SEEDS, TARGETS

LONGEST_WAIT = 120  # seconds for what is fed once


def dictionary(folder: Path) -> Path:
    """The pieces as a dictionary of libFuzzer's."""
    path = folder / "pieces.dict"
    lines = ("".join(f"\\x{byte:02x}" for byte in piece.encode("utf-8")) for piece in PIECES)
    path.write_text("".join(f'"{line}"\n' for line in lines), encoding="ascii")
    return path


def main(name: str, seconds: float, seed: int, folder: Path) -> None:
    """Never returns: the fuzzer ends the process, with a status that is not 0 where something broke."""
    target = TARGETS[name]
    options = [
        f"-max_total_time={seconds:.0f}", f"-max_len={target.longest}", f"-seed={seed}", f"-timeout={LONGEST_WAIT}",
        f"-artifact_prefix={folder}/", f"-dict={dictionary(folder)}", "-print_final_stats=1", "-rss_limit_mb=4096",
        str(folder / "corpus"), *(str(SEEDS / part) for part in target.seeds),
    ]  # fmt: skip
    atheris.Setup([sys.argv[0], *options], target.feed)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], float(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4]))
