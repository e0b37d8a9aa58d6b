"""The browser's reader and judge against Python's: the same values, words, outcomes and columns on the same text.

Both scripts run in V8; their tables are those the pages get. Texts come from the tables (every unit, prefix, letter and
spelling), from numbers near answers and slips, and from a generator of nonsense with a fixed seed.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import asdict
from functools import cache
from pathlib import Path
from random import Random

import pytest
from py_mini_racer import JSEvalException, MiniRacer

from tutor.generate.judging import AnswerVerdict, Outcome, judge
from tutor.generate.mirror_tables import reader_tables
from tutor.generate.problem import Remark, SlipValue, Waypoint, WaypointKind
from tutor.quantities.misread import ALIKE, LETTERS, MISREADINGS, prefix_powers, tokens
from tutor.quantities.quantity import Quantity, write
from tutor.quantities.reading import Reading, read_quantity
from tutor.quantities.units import units

ASSETS = Path(__file__).parents[2] / "site" / "assets"
SEED = 20111
READ_ALL = """
JSON.stringify(CASES.map(([text, unit, comma]) => Steadyrail.readQuantity(text, unit, comma)))
"""
JUDGE_ALL = """
JSON.stringify(CASES.map(([at, text, comma]) => Steadyrail.judge(WAYPOINTS[at], text, comma)))
"""

Case = tuple[str, str, bool]


def browser(faults: tuple[tuple[str, str, str], ...] = ()) -> MiniRacer:
    """V8 with both scripts and their tables; each fault is (file, right text, wrong text) and must be found once."""
    engine = MiniRacer()
    engine.eval(f"var Steadyrail = {{tables: {json.dumps(reader_tables())}}};")
    for name in ("quantity.js", "judge.js"):
        script = (ASSETS / name).read_text(encoding="utf-8")
        for file, right, wrong in faults:
            if file == name:
                assert script.count(right) == 1, right
                script = script.replace(right, wrong)
        engine.eval(script)
    return engine


def ask(engine: MiniRacer, script: str, cases: list, waypoints: list | None = None) -> list:
    """What the browser says of all cases at once."""
    engine.eval(f"var CASES = {json.dumps(cases)}; var WAYPOINTS = {json.dumps(waypoints or [])};")
    return json.loads(engine.eval(script))


def texts_from_tables() -> Iterator[Case]:
    """Every spelling of the tables, beside units it fits and units it does not."""
    codes = sorted(units())
    for place, token in enumerate(sorted(tokens())):
        own = tokens()[token].code
        for code in (own, codes[place % len(codes)], codes[(7 * place + 3) % len(codes)]):
            yield f"4.7 {token}", code, False
            yield f"-12{token}", code, False
        for under in ("V", "K", "mA", "W", "°C"):
            yield f"3 {token}/{under}", codes[(5 * place + 1) % len(codes)], False
    for prefix in sorted(prefix_powers()):
        for code in codes:
            yield f"0.27{prefix}", code, False
    for letter in LETTERS:
        for code in ("ohm", "V", "F", "A", "K"):
            for text in (f"4{letter}7", f"{letter}47", f"47{letter}", f"4{letter}7 Ω", f"2.2{letter}7", f"4{letter}7V"):
                yield text, code, False
    for char in (*ALIKE, "\u3000", "\u00bc", "٣", "१", "𝟝", "é", "İ", "ß", "\u200b", "\U0001f600"):
        for text in (f"5{char}mA", f"{char}5 mA", f"I{char}= 5 mA", f"5 {char}A", f"10{char}3", f"5 mA{char}"):
            yield text, "A", False
    for row in MISREADINGS:
        for text, code in row.examples:
            yield text, code, False
            yield text, code, True
    for name in ("constructor", "toString", "__proto__", "hasOwnProperty"):
        yield f"5 {name}", "A", False
        yield f"5 A/{name}", "A", False


PIECES = [
    *"0123456789", *"0123456789", *".,-+eE×x^*()=≈<> /", "10", "10^", "⁻", "³", "µ", "Ω", "mA", "V", "k", "K", "R", "M",
    " ", " ", "\u202f", "°C", "%", "I_Z = ", "1 000", "nan", "inf", "/K", "1/K", "mV/V", "e-3", ":=", "±", "é", "😀",
    "٣",
]  # fmt: skip


def nonsense(count: int) -> Iterator[Case]:
    """Pieces of quantities strung together, and characters from anywhere."""
    random = Random(SEED)
    codes = sorted(units())
    for number in range(count):
        if number % 5:
            text = "".join(random.choice(PIECES) for _ in range(random.randint(0, 9)))
        else:
            text = "".join(chr(random.choice((random.randint(32, 0x2FF), random.randint(0x2000, 0xD7FF), random.randint(
                0x1F300, 0x1F6FF)))) for _ in range(random.randint(0, 100)))  # fmt: skip
        yield text, random.choice(codes), random.random() < 0.3


def numbers(count: int) -> Iterator[Case]:
    """Quantities as printed, over all decades."""
    random = Random(SEED + 1)
    codes = sorted(units())
    for _ in range(count):
        unit = random.choice(codes)
        value = random.choice((1, -1)) * 10 ** random.uniform(-12, 9)
        yield write(value, unit, random.randint(1, 8)), unit, random.random() < 0.2


@cache
def readings() -> tuple[tuple[Case, Reading], ...]:
    """All texts for the reader, and what Python makes of them."""
    cases = (*texts_from_tables(), *nonsense(9000), *numbers(2500))
    return tuple((case, read_quantity(case[0], case[1], decimal_comma=case[2])) for case in cases)


def differences(engine: MiniRacer) -> list[str]:
    """Where the two readers disagree; a script that stops disagrees with everything."""
    try:
        answers = ask(engine, READ_ALL, [case for case, _ in readings()])
    except JSEvalException as stopped:
        return [str(stopped)]
    found = []
    for ((text, unit, _), ours), theirs in zip(readings(), answers, strict=True):
        expected = {
            "figures": ours.figures,
            "unitGiven": ours.unit_given,
            "reason": ours.reason,
            "columns": list(ours.columns) if ours.columns else None,
            "fault": ours.fault.value if ours.fault else "",
            "bare": ours.bare,
        }
        same = set(theirs) == {*expected, "value", "step"} and all(theirs[key] == expected[key] for key in expected)
        if not same or not close(theirs["value"], ours.value) or not close(theirs["step"], ours.step):
            found.append(f"{text!r} as {unit!r}: {theirs} and not {ours}")
    return found


def close(theirs: float | None, ours: float | None) -> bool:
    """Equal to 1e-12, or both without a value."""
    if theirs is None or ours is None:
        return theirs is ours
    return math.isclose(theirs, ours, rel_tol=1e-12)


def waypoints() -> list[Waypoint]:
    """Values, choices and states of the usual kinds and sizes, with slips near and far."""
    random = Random(SEED + 2)
    points = []
    sizes = {"V": 9.1, "A": 0.0635, "ohm": 140.0, "W": 0.578, "F": 2.2e-3, "%": 0.031, "": 52.0, "V/V": 0.0123,
             "K/W": 3.7, "degC": 85.0, "dB": 62.0, "V/K": -0.002}  # fmt: skip
    for unit, size in sizes.items():
        for _ in range(3):
            value = size * random.uniform(0.3, 3)
            low, high = sorted((value * 0.99, value * 1.01))
            factors = (random.uniform(1.04, 1.4), random.uniform(0.6, 0.95), 1.41)
            slips = tuple(
                SlipValue(f"s{n}", value * factor, f"n{n}", f"w{n}", f"h{n}") for n, factor in enumerate(factors)
            )
            twin = SlipValue("twin", slips[0].value * 1.002, "twin", "w", "h")
            answer = Quantity(value, unit)
            points.append(Waypoint("X", WaypointKind.VALUE, "", answer, low, high, (), (), "", (*slips, twin)))
    zero = Quantity(0.0, "A")
    points.append(Waypoint("X", WaypointKind.VALUE, "", zero, 0.0, 0.0, (), (), "", ()))
    near = (SlipValue("near", 3.06, "a slip close by", "w", "h"),)
    points.append(Waypoint("X", WaypointKind.VALUE, "", Quantity(2.97, "V"), 2.9403, 2.9997, (), (), "", near))
    lost = (SlipValue("lost", 0.14, "a prefix lost", "w", "h"),)
    points.append(Waypoint("R", WaypointKind.VALUE, "", Quantity(140.0, "ohm"), 70.0, 280.0, (), (), "", lost))
    fits = (82.0, 91.0, 100.0, 110.0, 120.0, 130.0)
    up = (SlipValue("up", 150.0, "rounded up", "w", "h"),)
    for accepted in (fits, (130.0,), ()):
        points.append(Waypoint("R", WaypointKind.CHOICE, "", Quantity(130.0, "ohm", 12), 0, 0, accepted, (), "", up))
    points.append(Waypoint("P", WaypointKind.CHOICE, "", Quantity(0.5, "W", 12), 0, 0, (0.5, 1.0, 2.0), (), "", ()))
    points.append(Waypoint("S", WaypointKind.STATE, "", None, 0, 0, (), ("in breakdown", "off"), "off", ()))
    remarks = (Remark("falls", "", "what moves?"), Remark("stays", "w", "h", "belief", "a belief"))
    ways = ("rises", "falls", "stays")
    points.append(Waypoint("I", WaypointKind.STATE, "", None, 0, 0, (), ways, "rises", (), remarks))
    mixed = (Remark("C; A; B", "w", "h", "turned", "all turned about"),)
    right = ("A; B; C", "B; A; C")
    points.append(
        Waypoint("O", WaypointKind.ARRANGEMENT, "", None, 0, 0, (), ("A", "B", "C"), right[0], (), mixed,
                 ("first", "second", "third"), right)
    )  # fmt: skip
    return points


def as_page_has_it(point: Waypoint) -> dict[str, object]:
    """A waypoint as the page's script makes it."""
    data = asdict(point)
    data["kind"] = point.kind.value
    data["places"] = len(point.places)
    return data


CHOSEN = ("rises", "falls", "stays", "A; B; C", "B;A ; C", "C; B; A", "C; A; B", "A; B", "A; B; D", "B; C; C")
TYPED = ("off", " off ", "in breakdown", "Off", "", "150 Ω", "125", "130", "0.13k", "130 kΩ", "50 W", "0", "3 V")
ANSWERS = (*CHOSEN, *TYPED)
FACTORS = (1, 1.004, 0.992, 1.0099, 1.03, 0.96, 2, 0.5, -1, 10, 1e3, 1e-3, 1e-6)


def judging_cases(points: list[Waypoint]) -> list[tuple[int, str, bool]]:
    """Answers right, nearly right, wrong in every known way, bare, and unreadable."""
    random = Random(SEED + 3)
    cases: list[tuple[int, str, bool]] = []
    texts = [*nonsense(1500), *numbers(500)]
    for at, point in enumerate(points):
        cases += [(at, text, False) for text in ANSWERS]
        goals = [point.answer.value if point.answer else 1.0, *(one.value for one in point.slips), *point.accepted]
        unit = point.answer.unit if point.answer else "V"
        for goal in goals:
            for factor in (*FACTORS, random.uniform(0.2, 4)):
                value = goal * factor
                for figures in (1, 2, 3, 6):
                    printed = write(value, unit, figures)
                    cases.append((at, printed, False))
                    cases.append((at, printed.split(" ")[0], False))
                cases.append((at, repr(value), False))
        if point.answer and point.answer.value:
            cases.append((at, repr(1 / point.answer.value), False))
        for text, _, comma in random.sample(texts, 40):
            cases.append((at, text, comma))
    return cases


@cache
def verdicts() -> tuple[tuple[tuple[int, str, bool], AnswerVerdict], ...]:
    """All answers for the judge, and what Python makes of them."""
    points = waypoints()
    return tuple((case, judge(points[case[0]], case[1], decimal_comma=case[2])) for case in judging_cases(points))


def verdict_differences(engine: MiniRacer) -> list[str]:
    """Where the two judges disagree; a script that stops disagrees with everything."""
    points = [as_page_has_it(point) for point in waypoints()]
    try:
        answers = ask(engine, JUDGE_ALL, [case for case, _ in verdicts()], points)
    except JSEvalException as stopped:
        return [str(stopped)]
    found = []
    for ((at, text, _), verdict), theirs in zip(verdicts(), answers, strict=True):
        ours = {**asdict(verdict), "outcome": verdict.outcome.value}
        if theirs != ours:
            found.append(f"{text!r} at {points[at]['answer']}: {theirs} and not {ours}")
    return found


def test_both_readers_read_alike():
    """At least 10,000 texts: value to 1e-12, figures, sentence, columns, fault."""
    read = [reading for _, reading in readings()]
    assert len(read) >= 10_000
    assert {one.fault for one in read} >= {row.fault for row in MISREADINGS}
    assert sum(one.value is not None for one in read) > 3000
    assert differences(browser()) == []


def test_both_judges_judge_alike():
    """At least 10,000 answers: outcome, sentence, slip, why, hint; and every outcome occurs."""
    judged = [verdict for _, verdict in verdicts()]
    assert len(judged) >= 10_000
    assert {verdict.outcome for verdict in judged} == set(Outcome)
    assert len({verdict.sentence for verdict in judged}) > 40
    assert verdict_differences(browser()) == []


READER_FAULTS = [
    ("a digit more in a group", "after - past !== 4", "after - past !== 5"),
    ("kelvin for kilo", 'exponents.join() === "0,0,0,1"', 'exponents.join() !== "0,0,0,1"'),
    ("columns in UTF-16 units", "const points = Array.from(typed);", 'const points = typed.split("");'),
    ("columns from 0", "[found.first + 1, found.past + 1]", "[found.first, found.past]"),
    ("trailing zeros dropped", 'number.digits.replace(/^0+/, "")', 'number.digits.replace(/^0+|0+$/g, "")'),
    ("a comma guessed", "digitAt(line, past + 1, end) && !decimalComma) {", "false) {"),
    ("inherited names", "Object.prototype.hasOwnProperty.call(table, key)", "key in table"),
    ("a power of ten too many", "> Steadyrail.tables.most.power", "> Steadyrail.tables.most.power + 1"),
    ("decibels taken as numbers", 'agree && (token.code === "dB") === (unit === "dB")', "agree"),
]


@pytest.mark.parametrize(("name", "right", "wrong"), READER_FAULTS)
def test_a_fault_planted_in_the_reader_is_noticed(name: str, right: str, wrong: str):
    """The comparison can fail: each planted fault makes it."""
    assert differences(browser((("quantity.js", right, wrong),))), name


JUDGE_FAULTS = [
    ("a wider band", "words().slipBand * Math.abs(slip.value)", "2 * words().slipBand * Math.abs(slip.value)"),
    ("no ceiling on the slack", "Math.min(half, words().mostSlack * Math.abs(goal))", "half"),
    ("bare numbers in SI alone", "if (!reading.bare || power === 0)", "if (true)"),
    ("right wins over a nearer slip", "met && away < Math.abs(one.value - goal)", "met"),
    ("estimates held to the slip itself", "away <= reach || estimates", "away <= reach || false && estimates"),
    ("one slip of two", "slips.length > 1 ?", "slips.length > 2 ?"),
    ("units never asked for", "one.unitDue ?", "false ?"),
    ("any letter case in states", "said === waypoint.state", "said.toLowerCase() === waypoint.state"),
    ("remarks passed over", "remarked(waypoint, said) || say", "say"),
    ("a belief without its name", "if (!found.name)", "if (true)"),
    ("places counted from the first right order alone", "Math.max(...alike)", "alike[0]"),
    ("one right order of two", "waypoint.arrangements.includes(said)", "waypoint.arrangements[0] === said"),
    ("powers for prefixes", "isPower(one, value, prefixes)", "isPower(one, value, words().powers)"),
]


@pytest.mark.parametrize(("name", "right", "wrong"), JUDGE_FAULTS)
def test_a_fault_planted_in_the_judge_is_noticed(name: str, right: str, wrong: str):
    """The comparison can fail: each planted fault makes it."""
    assert verdict_differences(browser((("judge.js", right, wrong),))), name


def test_the_scripts_run_under_a_strict_policy():
    """No evaluation of text as code or markup, and no line for the page to trip over: quantities are data."""
    for name in ("quantity.js", "judge.js"):
        script = (ASSETS / name).read_text(encoding="utf-8")
        for word in ("eval(", "new Function", "innerHTML", "document.", "import ", "export "):
            assert word not in script, (name, word)
