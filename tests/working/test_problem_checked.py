"""What is no working at all is refused before anything is read: how much text, how many lines, what kind."""

from __future__ import annotations

import pytest

from tutor.errors import BadValue, OutOfRange
from tutor.working.check import MOST_LINES
from tutor.working.problem_checked import MOST_BYTES, refuse_unusable


def test_as_much_as_may_be_is_taken_and_one_more_refused():
    """Bytes of UTF-8 and lines; an end of line at the end is no line, and an ohm has two bytes."""
    refuse_unusable("x" * MOST_BYTES)
    refuse_unusable("Ω" * (MOST_BYTES // 2))
    refuse_unusable("\n".join("x" * MOST_LINES) + "\n")
    with pytest.raises(OutOfRange, match="up to 64 kB of text"):
        refuse_unusable("x" * (MOST_BYTES + 1))
    with pytest.raises(OutOfRange, match="up to 64 kB of text"):
        refuse_unusable("Ω" * (MOST_BYTES // 2) + "x")
    with pytest.raises(OutOfRange, match=rf"up to {MOST_LINES} lines \(got {MOST_LINES + 1}\)"):
        refuse_unusable("\n".join("x" * (MOST_LINES + 1)))
    with pytest.raises(BadValue, match="zero byte"):
        refuse_unusable("x\0")
