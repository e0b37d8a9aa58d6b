"""A finding in a few plain words, with a small sign: what stands in the margin of a page or of a sheet of paper.

The pages say the same from a table of their own (`site/assets/working_margin.js`); a test holds the two equal.
Place in the data flow: Finding -> words -> feedback sheets.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.views.margin import shown_line
from tutor.working.finding import Code, Finding

# The signs are those of logic and algebra and differ in shape; they are never alone.
SAID: Mapping[Code, tuple[str, str]] = {
    Code.HOLDS: ("≡", "true of the circuit"),
    Code.HOLDS_HERE: ("=", "true here"),
    Code.FOLLOWS: ("∴", "it follows"),
    Code.FAILS: ("≠", "not so"),
    Code.UNITS: ("[ ]", "the units clash"),
    Code.UNREAD: ("?", "cannot be read"),
    Code.DEFINES: (":=", "a symbol of your own"),
    Code.CHOICE_OK: ("∈", "a choice that fits"),
    Code.CHOICE_BAD: ("∉", "a choice that does not fit"),
    Code.NOTE: ("–", "noted"),
}


def found_words(finding: Finding) -> tuple[str, str]:
    """The words of a finding and the reason that goes on after them, '' for none; the reason may say it all."""
    words, why = SAID[finding.code][1], shown_line(finding.why)
    if why.lower().startswith(words.lower()):
        return why[: len(words)], why[len(words) :]
    if words == "it follows" and why.startswith("from "):
        return words, f" {why}"
    return words, f": {why}" if why else ""
