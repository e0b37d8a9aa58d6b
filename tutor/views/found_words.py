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

# What each says of a line, in a sentence: for whoever looks a code up.
MEANT: Mapping[Code, str] = {
    Code.HOLDS: "true of the circuit, whatever its values are",
    Code.HOLDS_HERE: "true with these values, or as an approximation that the circuit allows while its error is small",
    Code.FOLLOWS: "not true, and right given what was written before it; it is not counted wrong again",
    Code.FAILS: "not true, and nothing written before leads to it; the slip is named where it is known",
    Code.UNITS: "its two sides, or terms of a sum, are of different kinds; no value is looked at",
    Code.UNREAD: "it cannot be read; the columns say where, and nothing is said of right or wrong",
    Code.DEFINES: "a new symbol alone on the left, its own sum sound; later lines may use it",
    Code.CHOICE_OK: "a part chosen that meets the specification at every corner",
    Code.CHOICE_BAD: "a part chosen that breaks a bound, which is named with the corner where it does",
    Code.NOTE: "words, or a question to oneself; it is not judged",
}


def found_words(finding: Finding) -> tuple[str, str]:
    """The words of a finding and the reason that goes on after them, '' for none; the reason may say it all."""
    words, why = SAID[finding.code][1], shown_line(finding.why)
    if why.lower().startswith(words.lower()):
        return why[: len(words)], why[len(words) :]
    if words == "it follows" and why.startswith("from "):
        return words, f" {why}"
    return words, f": {why}" if why else ""
