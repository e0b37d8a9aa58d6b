"""What the browser's reader of lines and its checker need beside `generate/mirror_tables.py`, as plain JSON data.

Vocabulary: the *mirror* is the scripts `site/assets/reader*.js` and `checker*.js`; their rules are code, all else is
here. Units, prefixes and letters are in the tables that every page has already (`reader_tables`), under the same names.
Place in the data flow: tables of `working` and of symbols -> data -> `Steadyrail.tables.lines` and `.checking`.
"""

from __future__ import annotations

from tutor.quantities import preferred, quantity, symbols
from tutor.quantities.units import difference_unit, prefixes, units
from tutor.solution import requirement
from tutor.solution.sheet import SHORTED, UNPLUGGED
from tutor.working import (
    alphabet,
    amount,
    bands,
    bounds,
    check,
    choice,
    collisions,
    dimension_check,
    faults,
    follow,
    ground,
    hypothesis,
    judge,
    margins,
    misreadings,
    reasons,
    state,
    symbolise,
    tokens,
    tree,
    truth,
    vocabulary,
    word_answers,
    words,
)
from tutor.working.sayings import SAYINGS

Json = dict[str, object]


def reading_tables() -> Json:
    """Every table of the mirror that is its own; the keys are those the scripts use."""
    return {
        "alphabet": _alphabet_tables(),
        "collisions": _collision_tables(),
        "most": {
            "characters": faults.MOST_CHARACTERS,
            "tokens": faults.MOST_TOKENS,
            "depth": faults.MOST_DEPTH,
            "digits": faults.MOST_DIGITS,
            "power": faults.MOST_POWER,
            "name": vocabulary.MOST_NAME,
        },
        "sentences": {fault.value: sentence for fault, sentence in misreadings.sentences().items()},
        "argumentCounts": list(faults.ARGUMENT_COUNTS),
        "loosely": dict(vocabulary.LOOSELY),
        "symbols": {
            "names": list(symbols.SYMBOLS),
            "folded": dict(symbols.folded_aliases()),
            "changeMarks": list(symbols.CHANGE_MARKS),
            "noNames": sorted(symbols.NO_NAMES),
        },
        "words": _word_tables(),
    }


def _alphabet_tables() -> Json:
    return {
        "alike": dict(alphabet.ALIKE),
        "fractions": {char: list(pair) for char, pair in alphabet.FRACTIONS.items()},
        "joined": alphabet.JOINED,
        "special": "".join(sorted(alphabet.SPECIAL)),
        "otherRelations": alphabet.OTHER_RELATIONS,
        "compound": [[spelling, kind.value, text] for spelling, kind, text in tokens.COMPOUND],
        "single": {char: kind.value for char, kind in tokens.SINGLE.items()},
    }


def _collision_tables() -> Json:
    return {
        "rows": {
            row.spelling: {"joined": row.joined.value, "apart": row.apart.value, "after": row.after.value}
            for row in collisions.COLLISIONS
        },
        "prefixAndUnit": collisions.PREFIX_AND_UNIT,
        "neverUnder": sorted(collisions.NEVER_UNDER),
        "shares": ["/".join(pair) for pair in collisions.SHARES],
        "sharedUnit": collisions.SHARED_UNIT,
    }


def _word_tables() -> Json:
    return {
        "openings": {first: [list(phrase) for phrase in row] for first, row in words.OPENINGS.items()},
        "hypotheses": {first: [list(phrase) for phrase in row] for first, row in words.HYPOTHESES.items()},
        "choices": sorted(words.CHOICES),
        "choosers": sorted(words.CHOOSERS),
        "chosen": sorted(words.CHOSEN),
        "chosenFor": sorted(words.CHOSEN_FOR),
        "chosenAs": sorted(words.CHOSEN_AS),
        "releases": sorted(words.RELEASES),
        "not": sorted(words.NOT),
        "questions": sorted(words.QUESTIONS),
        "is": sorted(words.IS),
        "operators": sorted(words.OPERATORS),
        "strictOperators": sorted(words.STRICT_OPERATORS),
        "joiners": sorted(words.JOINERS),
        "conditions": sorted(words.CONDITIONS),
        "lettered": sorted(words.LETTERED),
        "referring": sorted(words.REFERRING),
        "numbered": sorted(words.NUMBERED),
        "ends": dict(words.ENDS),
        "joinedEnds": list(words.JOINED_ENDS),
        "wordsAndNames": sorted(words.WORDS_AND_NAMES),
        "notFinite": sorted(words.NOT_FINITE),
        "series": sorted(words.SERIES),
        "functions": {typed: list(row) for typed, row in words.FUNCTIONS.items()},
        "constants": dict(words.CONSTANTS),
        "changes": sorted(words.CHANGES),
        "listed": sorted(words.LISTED),
    }


def checking_tables() -> Json:
    """What the browser's checker (`site/assets/checker*.js`) needs beside the reader's tables: every limit and band by
    the name it has in Python, every sentence, how units are written, preferred values."""
    return {
        "amount": {"MOST_BAND": amount.MOST_BAND, "MOST_SIZE": amount.MOST_SIZE, "NUMBER_BAND": amount.NUMBER_BAND},
        "answers": {
            "denials": list(word_answers.DENIALS),
            "sameWords": [list(pair) for pair in word_answers.SAME_WORDS.items()],
        },
        "check": {"MOST_LINES": check.MOST_LINES, "MOST_STATEMENTS": check.MOST_STATEMENTS},
        "choice": {"END_BAND": choice.END_BAND, "SAME": choice.SAME},
        "dimensions": {
            "LEFT_OUT": dimension_check.LEFT_OUT,
            "MOST_WHOLE": dimension_check.MOST_WHOLE,
            "units": _units_of_dimensions(),
        },
        "follow": {"MOST_PLACES": follow.MOST_PLACES},
        "ground": {
            "MOST_ACCEPTED": ground.MOST_ACCEPTED,
            "MOST_PAIRS": ground.MOST_PAIRS,
            "MOST_WORLDS": ground.MOST_WORLDS,
            "SHIFT": ground.SHIFT,
        },
        "hypothesis": {
            "BROKEN": list(hypothesis.BROKEN),
            "NEGATIONS": list(hypothesis.NEGATIONS),
            "OF_THE_OUTPUT": dict(hypothesis.OF_THE_OUTPUT),
            "OPPOSITE": dict(hypothesis.OPPOSITE),
            "PARTS": dict(hypothesis.PARTS),
            "SAME_STATE": dict(hypothesis.SAME_STATE),
            "STATES": list(hypothesis.STATES),
            "WITHOUT_STATES": list(hypothesis.WITHOUT_STATES),
        },
        "judge": {
            "BOUND_ENDS": dict(bounds.BOUND_ENDS),
            "MOST_READINGS": judge.MOST_READINGS,
            "TURNED": dict(bounds.TURNED),
        },
        "margins": {
            "LARGEST": margins.LARGEST,
            "RATED_AT": requirement.RATED_AT,
            "SAME": requirement.SAME,
            "differences": {code: difference_unit(code) for code in units() if difference_unit(code) != code},
        },
        "preferred": {
            "GREATEST_POWER": preferred.GREATEST_POWER,
            "LEAST_POWER": preferred.LEAST_POWER,
            "SLACK": preferred.SLACK,
        },
        "printed": {
            "prefixes": {str(prefix.power): printed for printed, prefix in prefixes().items()},
            "units": {code: unit.printed for code, unit in units().items()},
        },
        "reasons": {
            "GENERAL_BAND": reasons.GENERAL_BAND,
            "MOST_EDITS": reasons.MOST_EDITS,
            "MOST_PLACES": reasons.MOST_PLACES,
            "POWERS": list(reasons.POWERS),
            "ROOT_TWO": reasons.ROOT_TWO,
            "SLIP_BAND": reasons.SLIP_BAND,
        },
        "sayings": dict(SAYINGS),
        "series": {series.name: list(preferred.mantissas(series)) for series in preferred.Series},
        "state": {"MOST_MEANT": state.MOST_MEANT, "OTHER_LOADS": [SHORTED, UNPLUGGED]},
        "symbolUnits": {name: symbol.unit for name, symbol in symbols.SYMBOLS.items()},
        "symbolise": {
            "FLOAT_ROOM": symbolise.FLOAT_ROOM,
            "HAND_PREFIXES": list(symbolise.HAND_PREFIXES),
            "MOST_FOR_ONE": symbolise.MOST_FOR_ONE,
            "MOST_GUESSES": symbolise.MOST_GUESSES,
            "MOST_PAIRED": symbolise.MOST_PAIRED,
            "NAMED": symbolise.NAMED,
        },
        "tree": {"MOST_NESTED": tree.MOST_NESTED, "MOST_NODES": tree.MOST_NODES},
        "truth": {
            "CANCELLED": bands.CANCELLED,
            "LONG": truth.LONG,
            "OVERHEAD": truth.OVERHEAD,
            "RESULT_BAND": bands.RESULT_BAND,
            "SLIP_SHARE": bands.SLIP_SHARE,
            "SYMBOLS_BAND": truth.SYMBOLS_BAND,
        },
        "writing": {"DEFAULT_FIGURES": quantity.DEFAULT_FIGURES, "EXACT_FIGURES": quantity.EXACT_FIGURES},
    }


def _units_of_dimensions() -> dict[str, str]:
    """The unit printed for a dimension, the first of those that have it, by its exponents."""
    table: dict[str, str] = {}
    for unit in units().values():
        table.setdefault(",".join(str(exponent) for exponent in unit.exponents), unit.printed)
    return table
