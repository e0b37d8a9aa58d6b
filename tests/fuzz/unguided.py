"""Feeds one target with changed seeds for a time, nothing guiding: `python -m tests.fuzz.unguided TARGET SECONDS SEED
FOLDER`. What breaks is written to the folder, each exception's place once; exit status 1 says that something did."""

from __future__ import annotations

import sys
import time
import traceback
from hashlib import sha256
from pathlib import Path
from random import Random

from tests.fuzz.feed import HOSTILE, mutated
from tests.fuzz.targets import TARGETS
from tests.fuzz.watch import no_longer_than

LONGEST_WAIT = 300  # seconds for what is fed once, whatever the machine


def main(name: str, seconds: float, seed: int, folder: Path) -> int:
    """Seeds first, then hostile texts, then changes of either."""
    target, random = TARGETS[name], Random(seed)
    plain = [path.read_bytes() for path in target.corpus()]
    plain += [text.encode("utf-8", "surrogatepass")[: target.longest] for text in HOSTILE]
    ends = time.monotonic() + seconds
    count, slowest, slow, broken = 0, 0.0, b"", dict[str, Path]()
    while time.monotonic() < ends:
        data = plain[count] if count < len(plain) else mutated(random.choice(plain), random, target.longest)
        begun = time.process_time()
        (folder / "fed").write_bytes(data)  # what a crash or a hang leaves behind
        try:
            with no_longer_than(LONGEST_WAIT):
                target.feed(data)
        except Exception as error:
            frames = traceback.extract_tb(error.__traceback__)
            place = f"{type(error).__name__} at {frames[-1].filename}:{frames[-1].lineno}"
            if place not in broken:
                broken[place] = folder / f"broken-{sha256(data).hexdigest()[:12]}"
                broken[place].write_bytes(data)
                broken[place].with_suffix(".txt").write_text(traceback.format_exc(), encoding="utf-8", errors="replace")
                print(f"  {place}: {str(error)[:200]!r}: {broken[place]}", flush=True)
        spent = time.process_time() - begun
        if spent > slowest:
            slowest, slow = spent, data
        count += 1
    (folder / "fed").unlink(missing_ok=True)
    (folder / "slowest").write_bytes(slow)
    print(f"  fed {count} times; {len(broken)} places broke; the slowest took {slowest:.2f} s")
    return bool(broken)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], float(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4])))
