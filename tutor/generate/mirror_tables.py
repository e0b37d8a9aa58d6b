"""What the browser's reader and judge need to know, as plain JSON data: their rules are code, all else is here.

Vocabulary: the *mirror* is the pair of scripts `site/assets/quantity.js` and `site/assets/judge.js`.
Place in the data flow: tables of `quantities` and words of `judging` -> data -> `Steadyrail.tables` on every page.
"""

from __future__ import annotations

from tutor.generate import judging
from tutor.quantities import misread, reading
from tutor.quantities.units import prefixes, units

Json = dict[str, object]


def reader_tables() -> Json:
    """Every table of the mirror; the keys are those the scripts use."""
    return {
        "alike": dict(misread.ALIKE),
        "asked": {code: misread.asked_for(code) for code in units()},
        "bounds": misread.BOUNDS,
        "judging": _judging_tables(),
        "kinds": {_dimension(exponents): kind for exponents, kind in misread.kinds().items()},
        "leading": misread.LEADING_LETTERS,
        "letters": {letter: {"power": power, "unit": unit} for letter, (power, unit) in misread.LETTERS.items()},
        "most": {
            "characters": misread.MOST_CHARACTERS,
            "digits": misread.MOST_DIGITS,
            "power": misread.MOST_POWER,
        },
        "notFinite": list(reading.NOT_FINITE),
        "operators": misread.OPERATORS,
        "prefixes": dict(misread.prefix_powers()),
        "sentences": {fault.value: sentence for fault, sentence in misread.sentences().items()},
        "superscripts": misread.SUPERSCRIPTS,
        "tokens": {spelling: [token.code, token.power] for spelling, token in misread.tokens().items()},
        "units": {
            code: {
                "exponents": list(unit.exponents),
                "kind": unit.kind,
                "plainFrom": unit.plain_from,
                "powers": [prefixes()[prefix].power for prefix in unit.prefixes],
                "shownPower": unit.shown_power,
            }
            for code, unit in units().items()
        },
    }


def _dimension(exponents: tuple[int, ...]) -> str:
    """A dimension as the key of an object."""
    return ",".join(str(exponent) for exponent in exponents)


def _judging_tables() -> Json:
    return {
        "choiceBand": judging.CHOICE_BAND,
        "estimate": judging.ESTIMATE,
        "mostSlack": judging.MOST_SLACK,
        "nearBand": judging.NEAR_BAND,
        "powers": list(judging.POWERS),
        "prefixPowers": list(judging.PREFIX_POWERS),
        "sentences": {saying.value: sentence for saying, sentence in judging.SENTENCES.items()},
        "slipBand": judging.SLIP_BAND,
    }
