"""What the browser's reader of lines needs to know beside `generate/mirror_tables.py`, as plain JSON data.

Vocabulary: the *mirror* is the scripts `site/assets/reader*.js`; their rules are code, all else is here. Units,
prefixes and letters are in the tables that every page has already (`reader_tables`), under the same names.
Place in the data flow: tables of `working` and of symbols -> data -> `Steadyrail.tables.lines`.
"""

from __future__ import annotations

from tutor.quantities import symbols
from tutor.working import alphabet, collisions, faults, misreadings, tokens, vocabulary, words

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
            "changeMarks": list(symbols._CHANGE_MARKS),
            "noNames": sorted(symbols._WORDS),
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
