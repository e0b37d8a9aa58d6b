"""What the checker says of a line, in one table: Python fills the sentences in, and so does its mirror in the browser.

Vocabulary: a *saying* is a sentence (or part of one) without its full stop, with slots in braces.
Place in the data flow: data for every file of `working` that gives reasons, and through `mirror_tables.py` for pages.
Sentences about lines that cannot be read stand in `misreadings.py`; names of slips come with the problem. What is said
of margins is said by `solution/requirement.py` of the model's design too; it stands here for pages alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tutor.quantities.prose import prose_text

_PLACES = {
    "least": "the least {name}",
    "greatest": "the greatest {name}",
    "after-change": "after the change of {name}",
    "tolerance-low": "{name} at the bottom of its tolerance",
    "tolerance-high": "{name} at the top of its tolerance",
    "inside-range": "{name} inside its range",
    "reading": "reading {index}",
    "moved": "{name} moved",
    "with": "with {told}",
    "equals": "{name} = {value}",
    "at": "at {words}",
}

_UNITS = {
    "pure": "a pure number",
    "quantity-in": "a quantity in {unit}",
    "sides-differ": "the two sides differ: {left} on one, {right} on the other",
    "sum-mixes": "a sum cannot mix {left} and {right}",
    "beside-mixes": "both sides of ∥ must be alike, not {left} and {right}",
    "function-mixes": "{function} cannot mix {left} and {right}",
    "exponent-not-pure": "an exponent is a pure number, not {got}",
    "root-without-unit": "the root of {got} has no unit of its own",
    "argument-not-pure": "{function} takes a pure number, not {got}",
    "write-units": "write the units",
}

_STANDING = {
    "approximation": "true to {error}: {title}",
    "own-relation": "it follows from your own relation above",
    "own-values": "right with your own values above",
    "from-line": "from your line {number}",
    "chosen-value": "from the value you chose",
    "goes-on": "it goes on from your line above",
    "as-concluded": "right if {words}, as you concluded",
    "under-assumption": "under your assumption",
}

_EDITS = {
    "this-term": "this term",
    "sign-turned": "the sign of {part} is turned",
    "upside-down": "this fraction is upside down",
    "multiplies-here": "{part} multiplies here; you divided by it",
    "divides-here": "{part} divides here; you multiplied by it",
    "in-series": "these two are in series, not side by side",
    "side-by-side": "these two are side by side, not in series",
    "not-squared": "{part} is not squared here",
    "belongs-here": "{right} belongs here, not {wrong}",
    "to-be-squared": "{name} is to be squared here",
    "left-out": "{name} is left out",
    "one-left-out": "the 1 beside {name} is left out",
    "not-here": "{part} does not belong here",
    "whole-sign-turned": "the sign of the whole is turned",
    "twice-too-large": "this is twice too large",
    "only-half": "this is only half",
    "reciprocal": "this is the reciprocal",
}

_REASONS = {
    "other-convention": "this would be right by another convention ({title}); the problem states its own",
    "one-of": "one of: {names}",
    "named-slip": "{name}. {why}",
    "power-on-left": "the figures are right and the power of ten is not: the left comes to {value}",
    "sign-lost": "the sign is lost: the left comes to {value}",
    "arithmetic": "the arithmetic: the left comes to {value}",
    "prefixes": "the figures are right and the power of ten is not: look at the prefixes of {name}",
    "sign-not-right": "the size is right and the sign is not",
    "other-corner": "that is {name} at another corner: {words}",
    "out-by-two": "this is out by a factor of two",
    "out-by-root-two": "this is out by a factor of √2: r.m.s. and crest",
    "result-reciprocal": "this is the reciprocal: the fraction is upside down",
    "other-spread": "{name} ranges from {low} to {high} here, which is another spread",
    "bound-turned": "the bound is the other way round: {name} {sign} this value",
    "copied": "{name} is {value}: copied wrongly here",
    "misquoted": "the statement gives {name} = {value}",
    "too-large": "{name} comes out too large",
    "too-small": "{name} comes out too small",
    "not-the-value": "this is not the value of {name}",
    "other-way-round": "with these numbers it is the other way round",
    "not-true": "this relation is not true of the circuit",
    "not-equal": "the two sides are not equal",
}

_CHOICES = {
    "own-bound": "from your own bound; {broken}",
    "nearer": "{value} lies nearer to {name}",
    "spread-above": "with its tolerance it reaches {value}, above {name} = {bound}",
    "above": "{value} is above {name} = {bound}",
    "spread-below": "with its tolerance it falls to {value}, below {name} = {bound}",
    "below": "{value} is below {name} = {bound}",
    "below-margin": "{value} is below {margin} × {name} = {bound}",
    "not-on-shelf": "it would do, but {value} is not on the shelf",
    "no-series-value": "it would do, but {value} is no {series} value",
    "lies-nearest": "it lies nearest to {name}",
    "at-least-margin": "it is at least {margin} × {name} = {bound}",
    "meets": "it meets the specification: inside {inside}",
    "spread-meets": "it meets the specification: {low} to {high}, inside {inside}",
    "unbounded": "nothing bounds it here",
    "to": " to ",
}

_MARGINS = {
    "at-least": "{words}: ${name}$ = {value}, at least {limit} is needed",
    "at-most": "{words}: ${name}$ = {value}, at most {limit} is allowed",
    "nothing-to-spare": "nothing to spare",
    "weakest": "The weakest part: {part}",
    "share-to-spare": "{value} of its limit to spare",
    "share-short": "{value} of its limit short",
    "to-spare": "{value} to spare",
    "missing": "{value} missing",
    "too-much": "{value} too much",
}

_LINES = {
    "back": "back to the circuit as it is",
    "noted": "noted, not judged",
    "assumption": "taken as your own assumption: what follows rests on it",
    "as-if": "from here on as if {words}, until you go back",
    "not-held": "noted: what follows is not held against you until you go back",
    "not-judged": "not so of the circuit as it is; under your assumption it is not judged",
    "outgrown": "what your own symbols stand for has grown too long to be checked; go on from values",
    "no-line-before": "there is no line before for this to go on with; write what it equals on the left",
    "nothing-said": "nothing is said of it yet",
    "your-own": "taken as your own: nothing here asks for it",
    "no-meaning-yet": "'{name}' has no meaning here yet; define it with = first",
    "defined": "{name} is yours from here on",
}

SAYINGS: Mapping[str, str] = MappingProxyType(
    _PLACES | _UNITS | _STANDING | _EDITS | _REASONS | _CHOICES | _MARGINS | _LINES
)


def say(saying: str, **slots: object) -> str:
    """A saying with its slots filled in. KeyError where the table has no such saying, or a slot is left empty."""
    return SAYINGS[saying].format_map(slots)


def plain(prose: str) -> str:
    """Prose without the marks that set formulas."""
    return prose.replace("$", "")


def as_typed(prose: str) -> str:
    """Prose of an author as a line or a cell has it: formulas in letters, and no space but the plain one."""
    return prose_text(prose).replace("\u00a0", " ")
