"""The faults a line of working may have, the caps that act before anything nests, and how the reader is left.

Vocabulary: a *fault* is the code of a row in `misreadings.py`, which has its sentence.
Place in the data flow: under every part of the reader; `read.py` alone catches a `Broken`.
"""

from __future__ import annotations

from enum import Enum

MOST_CHARACTERS = 400
MOST_TOKENS = 160
MOST_DEPTH = 24
MOST_DIGITS = 20
MOST_POWER = 30


class LineFault(Enum):
    """The ways in which a line of working cannot be read."""

    TOO_LONG = "too-long"
    TOO_MANY = "too-many"
    TOO_DEEP = "too-deep"
    DIGITS = "digits"
    POWER = "power"
    COMMA = "comma"
    TWO_POINTS = "two-points"
    GROUPING = "grouping"
    EXPONENT = "exponent"
    NOT_FINITE = "not-finite"
    UNKNOWN_SYMBOL = "unknown-symbol"
    UNKNOWN_NAME = "unknown-name"
    UNKNOWN_UNIT = "unknown-unit"
    RESERVED = "reserved"
    UNIT_ALONE = "unit-alone"
    UNIT_AFTER_SYMBOL = "unit-after-symbol"
    UNIT_TWICE = "unit-twice"
    UNIT_POWER = "unit-power"
    PREFIX = "prefix"
    TWO_READINGS = "two-readings"
    QUOTIENT = "quotient"
    PARALLEL_MIX = "parallel-mix"
    TOWER = "tower"
    SIDE_BY_SIDE = "side-by-side"
    NOTHING_AFTER = "nothing-after"
    NOTHING_BEFORE = "nothing-before"
    TWO_OPERATORS = "two-operators"
    TWO_RELATIONS = "two-relations"
    OTHER_RELATION = "other-relation"
    DIRECTIONS = "directions"
    RELATION_INSIDE = "relation-inside"
    OPEN_BRACKET = "open-bracket"
    CLOSE_BRACKET = "close-bracket"
    BRACKET_KIND = "bracket-kind"
    EMPTY_BRACKETS = "empty-brackets"
    LIST_INSIDE = "list-inside"
    ARGUMENTS = "arguments"
    NO_ARGUMENT = "no-argument"
    SPREAD = "spread"
    SPREAD_OF_SUM = "spread-of-sum"
    SECOND_CHAIN = "second-chain"
    WORD = "word"
    WORD_FOR_SIGN = "word-for-sign"
    CONDITION = "condition"
    RATIO = "ratio"
    BAR = "bar"
    CHARACTER = "character"
    CASE_AND_CHAIN = "case-and-chain"
    CHOICE = "choice"
    LINE_NUMBER = "line-number"


# What {near} says of a function: how many values it takes, by the fewest.
ARGUMENT_COUNTS = ("one value", "two values or more")


class Broken(Exception):
    """Leaves the reader from any depth; caught in `read.py`. `first` and `past` are code points from 0."""

    def __init__(self, fault: LineFault, first: int, past: int, near: str = "") -> None:
        super().__init__(fault.value)
        self.fault, self.first, self.past, self.near = fault, first, past, near
