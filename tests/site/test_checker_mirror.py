"""The browser's checker against Python's: the same findings, in every field, on the same workings of the same sheets.

The scripts run in V8 with the tables and sheets that pages get. Workings come from `made_workings.py` (every family and
level) and from those written by hand in `tests/working/workings`.
"""

from __future__ import annotations

import hashlib
import json
import math
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
from py_mini_racer import JSEvalException, MiniRacer

from tests.site.checker_faults import FAULTS
from tests.site.made_workings import workings
from tests.solution import earlier_editions
from tutor.generate.mirror_tables import reader_tables
from tutor.quantities.preferred import Series, is_preferred, nearest_to
from tutor.quantities.quantity import write
from tutor.quantities.units import units
from tutor.solution.sheet import Sheet
from tutor.solution.sheet_json import level_sheet_data, number_sheet_data
from tutor.working.check import Checked, check_working
from tutor.working.finding import Code
from tutor.working.mirror_tables import checking_tables, reading_tables
from tutor.working.sayings import SAYINGS

NOTICED = Path(__file__).with_name("faults_noticed.json")
ASSETS = Path(__file__).parents[2] / "site" / "assets"
WRITTEN = Path(__file__).parents[1] / "working" / "workings"
READER = ("reader_symbols", "reader_tokens", "reader_scope", "reader_literals", "reader_members", "reader_around")
CHECKER = (
    "writing", "rules", "world", "ground", "tree", "chain", "amount", "truth", "approximation", "symbolise", "follow",
    "edits", "reasons", "choice", "margins", "judge", "state",
)  # fmt: skip
SCRIPTS = (*READER, "reader", *(f"checker_{topic}" for topic in CHECKER), "checker", "checker_sheets")
TAKE = "var SHEET = Steadyrail.checker.sheetOf({}, {});"
# One quantity beside so many times another: true and false with the numbers of this problem, pure and with a prefix.
COMPARED = ("I_Z {} 2 I_L", "I_Z {} 3.5 I_L", "2.5 I_L {} 0.9 I_Z", "V_R {} 0.082 I_R", "I_Z {} 70")
COMPARISONS = "zener-state:2:1", "\n".join(text.format(sign) for text in COMPARED for sign in "<≥=")
# Statements that a sign of order keeps apart: each leaves its value and its relation, and tells what is asked.
STATED = (
    "V_Z = 11 V < V_TH = 13.64 V", "V_TH = 13.64 > V_O = 11 V", "V_TH > V_O = 11 V", "I_L < I_R = 61 mA",
    "P_R = 61 mA × 4 V = 244 mW", "I_L < I_R = 2 V_R/R", "I_Z = 2 V_R/R - I_L",
)  # fmt: skip
DIGITS = ("1", "1.5", "9.996", "9.9949999", "2.345", "2.675", "1.0005", "4.9", "9.99", "99.95", "1.23456789012345")
CHECK = "JSON.stringify(Steadyrail.checkWorking(SHEET, {}))"

Faults = tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class Case:
    """A working, the sheet it is held against and what Python finds."""

    name: str
    sheet: Sheet
    text: str
    checked: Checked

    @property
    def place(self) -> str:
        """What tells it from the others."""
        return f"{self.name} {hashlib.sha256(self.text.encode()).hexdigest()[:8]}"


def browser(faults: Faults = ()) -> MiniRacer:
    """V8 with the scripts and their tables; each fault is (script, right text, wrong text) and must be found once."""
    engine = MiniRacer()
    tables = {**reader_tables(), "lines": reading_tables(), "checking": checking_tables()}
    engine.eval(f"var Steadyrail = {{tables: {json.dumps(tables, sort_keys=True)}}};")
    for name in SCRIPTS:
        script = (ASSETS / f"{name}.js").read_text(encoding="utf-8")
        for file, right, wrong in faults:
            if file == name:
                assert script.count(right) == 1, (file, right)
                script = script.replace(right, wrong)
        engine.eval(script)
    return engine


def written() -> list[tuple[str, str]]:
    """The workings written by hand: the name of the problem, and the text without labels and remarks."""
    found = [(COMPARISONS[0], COMPARISONS[1].split("\n")), (COMPARISONS[0], list(STATED))]
    for path in sorted(WRITTEN.glob("*.txt")):
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.startswith("=="):
                found.append((line[2:].split("|")[0].strip(), []))
            elif found and not line.startswith(("--", "#")):
                found[-1][1].append(line[13:])
    return [(name, "\n".join(lines)) for name, lines in found]


@cache
def cases() -> tuple[Case, ...]:
    """Every working with Python's findings, those of one level spread among those of the others."""
    made = [Case(worked.problem.name, sheet, text, check_working(text, sheet)) for worked, sheet, text in workings()]
    size = max(1, len(made) // 18)
    spread = [case for place in range(size) for case in made[place::size]]
    sheets = {name: earlier_editions.sheet(name) for name, _ in written()}
    return (*(Case(name, sheets[name], text, check_working(text, sheets[name])) for name, text in written()), *spread)


def found_there(engine: MiniRacer, case: Case) -> dict:
    """What the browser finds on a working."""
    level = level_sheet_data([case.sheet])
    engine.eval(TAKE.format(json.dumps(level), json.dumps(number_sheet_data(case.sheet, level))))
    return json.loads(engine.eval(CHECK.format(json.dumps(case.text))))


def expected(checked: Checked) -> list[dict]:
    """Python's findings as the browser has them."""
    return [
        {
            "number": item.number,
            "text": item.text,
            "code": item.code.value,
            "why": item.why,
            "columns": list(item.columns) if item.columns else None,
            "slip": list(item.slip),
            "key": item.key,
            "value": item.value,
        }
        for item in checked.findings
    ]


def close(theirs: float | None, ours: float | None) -> bool:
    """Equal to 1e-12, or both without a value."""
    if theirs is None or ours is None:
        return theirs is ours
    return math.isclose(theirs, ours, rel_tol=1e-12)


def difference(engine: MiniRacer, case: Case) -> str:
    """The first line on which the two checkers disagree, '' when they agree; a script that stops disagrees."""
    try:
        answer = found_there(engine, case)
    except JSEvalException as stopped:
        return f"{case.name}: {stopped}"
    ours = expected(case.checked)
    margins = [{"text": row.text, "holds": row.holds, "margin": row.margin} for row in case.checked.margins]
    if margins != answer["margins"]:
        return f"{case.name}: {answer['margins']} and not {margins}"
    if len(ours) != len(answer["findings"]) or answer["firstWrong"] != case.checked.first_wrong:
        return f"{case.name}: {answer} and not {ours}"
    for one, other in zip(ours, answer["findings"], strict=True):
        alike = set(one) == set(other) and all(one[key] == other[key] for key in one if key != "value")
        if not alike or not close(other["value"], one["value"]):
            return f"{case.name}: {other} and not {one}"
    return ""


def test_both_checkers_find_alike():
    """At least 10,000 lines: code, why, columns, slips, key, value to 1e-12, and the first line wrong."""
    lines = [item for case in cases() for item in case.checked.findings]
    assert len(lines) >= 10_000
    assert {item.code for item in lines} == set(Code)
    assert min(sum(item.code is code for item in lines) for code in Code) >= 40
    engine = browser()
    differences = [told for told in (difference(engine, case) for case in cases()) if told]
    assert differences == []


def test_a_choice_made_while_something_is_supposed_is_found_alike():
    """Too rare among the workings above: a part chosen while the zener is supposed off is held against its bounds."""
    sheet = earlier_editions.sheet("zener-resistor:2:18")
    text = "assume the zener is off\nchoose R = 10 kΩ"
    case = Case("zener-resistor:2:18", sheet, text, check_working(text, sheet))
    assert case.checked.findings[-1].code is Code.CHOICE_BAD
    assert difference(browser(), case) == ""


def test_nearly_every_saying_is_met():
    """The comparison above reaches what the checker can say; a handful of sayings are too rare for chance."""
    whys = {item.why for case in cases() for item in case.checked.findings}
    whys |= {told for case in cases() for row in case.checked.margins for told in (row.text, row.margin)}
    unmet = []
    for name, template in SAYINGS.items():
        pieces = re.split(r"\{[a-z]+\}", template)
        pattern = re.compile(".+".join(map(re.escape, pieces)))
        if not any(pattern.search(why) for why in whys):
            unmet.append(name)
    assert len(unmet) <= 8, unmet


def test_lines_checked_again_are_found_as_at_once():
    """What was kept of the lines before is right: line by line, and after a change in the middle."""
    engine = browser()
    for case in cases()[::40]:
        whole = found_there(engine, case)
        lines = case.text.split("\n")
        found_there(engine, Case(case.name, case.sheet, "", case.checked))
        for past in range(1, len(lines) + 1):
            grown = json.loads(engine.eval(CHECK.format(json.dumps("\n".join(lines[:past])))))
        assert grown == whole
        changed = [*lines[:1], "V_O = 1 V", *lines[2:]]
        engine.eval(CHECK.format(json.dumps("\n".join(changed))))
        assert json.loads(engine.eval(CHECK.format(json.dumps(case.text)))) == whole


def test_both_write_numbers_alike():
    """Values over all decades, with carries and ties of rounding, in every unit and number of figures."""
    numbers = []
    for power in range(-13, 10):
        for digits in DIGITS:
            value = float(f"{digits}e{power}")
            numbers += [(value, code, figures) for code in units() for figures in (2, 3, 4, 12)]
            numbers += [(-value / 3, code, 3) for code in units()]
    numbers += [(0.0, code, 3) for code in units()]
    engine = browser()
    engine.eval(f"var CASES = {json.dumps(numbers)};")
    theirs = json.loads(engine.eval("JSON.stringify(CASES.map((item) => Steadyrail.checker.write(...item)))"))
    ours = [write(*item) for item in numbers]
    assert [pair for pair in zip(numbers, ours, theirs, strict=True) if pair[1] != pair[2]] == []


def test_both_prefer_the_same_values():
    """Nearest values and membership, over three decades of each series."""
    asked = [(10 ** (step / 37), series.name) for step in range(-20, 100) for series in Series]
    asked += [(value, series.name) for value in (150.0, 4.75, 0.047, 1e6, 3.3, 98.8) for series in Series]
    engine = browser()
    engine.eval(f"var CASES = {json.dumps(asked)};")
    script = "JSON.stringify(CASES.map((item) => [checker.nearestTo(...item), checker.isPreferred(...item)]))"
    engine.eval("var checker = Steadyrail.checker;")
    ours = [[nearest_to(value, Series[name]), is_preferred(value, Series[name])] for value, name in asked]
    assert json.loads(engine.eval(script)) == ours


@pytest.mark.parametrize(("name", "script", "right", "wrong"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_a_fault_planted_in_the_checker_is_noticed(name: str, script: str, right: str, wrong: str):
    """The comparison can fail: each planted fault makes it."""
    engine = browser(((script, right, wrong),))
    # The working on which the fault was noticed first is looked at first; where it is none any more, all the others.
    first = json.loads(NOTICED.read_text(encoding="utf-8")).get(name)
    assert any(difference(engine, case) for case in sorted(cases(), key=lambda case: case.place != first)), name


def test_faults_are_planted_in_every_script_of_the_checker():
    """None is left out of the trial."""
    planted = {script for _, script, _, _ in FAULTS}
    assert planted == {path.stem for path in ASSETS.glob("checker*.js")}


def test_the_scripts_run_under_a_strict_policy():
    """No evaluation of text as code or markup."""
    for path in ASSETS.glob("checker*.js"):
        script = path.read_text(encoding="utf-8")
        for word in ("eval(", "new Function", "innerHTML", "import ", "export ", "setTimeout"):
            assert word not in script, (path.name, word)


def noticed() -> dict[str, str]:
    """The first working on which each fault is noticed."""
    found = {}
    for name, script, right, wrong in FAULTS:
        engine = browser(((script, right, wrong),))
        found[name] = next(case.place for case in cases() if difference(engine, case))
    return found


if __name__ == "__main__":
    NOTICED.write_text(json.dumps(noticed(), indent=1, sort_keys=True) + "\n", encoding="utf-8")
