"""Circuits, families and parts found by path; an author's mistake is one sentence: file, level, field, what was got."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tutor.errors import BadCircuit, BadFamily, OutOfRange, SteadyrailError, UnknownName
from tutor.generate.problems_folder import ProblemsFolder
from tutor.solution.desk import Desk, WorkedProblem, open_desk

OURS = Path(__file__).parents[2] / "problems"
FAMILY = """
from tutor.generate.family import (
    CheckLine, Choose, ChooseRating, Drop, Find, FindBound, FindExtreme, Extreme, Family, Level, NoMargin, Pick,
    PickPart, Prefer, Rewrite, RoundAway, Slip, Stock, Swap, Turn, Work,
)
from tutor.quantities.preferred import Series

LEVEL = Level(
    about="one level",
    draws=(
        Pick("V_I", (15.0, 18.0, 20.0)),
        PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 5.0, 10.0),)),
        Pick("I_L", (0.01, 0.02)),
        Pick("I_ZK", (0.005,)),
        Work("half", "V_I/2"),
    ),
    given=("V_I", "V_Z", "I_L", "I_ZK"),
    data="It is fed from {V_I}.",
    ask="Find it.",
    asks=(
        FindBound("R", "I_Z >= I_ZK", "the largest R"),
        Choose("R", Series.E24, "an E24 value", Prefer.LARGEST, "it is", high="R_MAX"),
        Find("I_Z", "the zener current"),
        Find("P_R", "the power in R"),
        ChooseRating("P_RM", "P_R", (0.5, 1.0, 2.0), 1.5, "a rating", "it needs one"),
    ),
    slips=(Slip("none", "I_Z", Drop("I_L"), "a", "b", "c"),),
    checks=(CheckLine("Corner", "I_Z >= I_ZK"),),
    require=("V_I >= 1.2*V_Z",),
)
FAMILY = Family(
    title="t", about="a", lesson="shunt", circuit="zener-shunt", levels=(LEVEL, LEVEL, LEVEL),
    scenarios=("A gate is fed by a zener.",), cautions=("output",),
)
"""
FILE = "problems/families/bench_made.py"
ABOUT_LINE = FAMILY[: FAMILY.index('about="one level"')].count("\n") + 1
HERE = f"family 'bench-made' ({FILE}), level 1"
SLIP = 'Slip("none", "I_Z", Drop("I_L"), "a", "b", "c")'


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A problems folder of our circuits and parts and no family, with a store of its own."""
    monkeypatch.setenv("STEADYRAIL_STORE", str(tmp_path / "store"))
    root = tmp_path / "problems"
    (root / "families").mkdir(parents=True)
    for name in ("circuits", "parts"):
        shutil.copytree(OURS / name, root / name)
    return root


def desk_with(folder: Path, text: str) -> Desk:
    (folder / "families" / "bench_made.py").write_text(text, encoding="utf-8")
    return open_desk(folder)


def worked(folder: Path, text: str) -> list[WorkedProblem]:
    """The first three problems of a family of this text."""
    desk = desk_with(folder, text)
    return desk.batch(desk.level("bench-made", 1), [1, 2, 3])


def test_a_file_in_the_folder_is_all_it_takes(folder: Path):
    """No registration: the family is there by its file's name, and draws and works."""
    found = worked(folder, FAMILY)
    assert open_desk(folder).folder.family_ids() == ("bench-made",)
    assert [item.problem.name for item in found] == [f"bench-made:1:{number}" for number in (1, 2, 3)]
    assert all(check.holds for item in found for check in item.solution.checks)


def test_a_choice_with_one_bound_says_so(folder: Path):
    """Where only the largest R is bounded, the step speaks of one bound and takes the value next below."""
    (first, *_) = worked(folder, FAMILY)
    step = next(item for item in first.solution.steps if item.waypoint == "R")
    assert step.why.startswith("Any E24 value that lies at or below ")
    assert step.result is not None
    bound = first.problem.answers["R_MAX"].value
    assert bound / 1.12 < step.result.value <= bound


# A piece of the family above, what stands in its place, and the sentence it brings.
MISTAKES = [
    ("FAMILY = Family(", "FAMILY = dict(", f"{FILE}: expected FAMILY = Family(...) (got dict)"),
    ("levels=(LEVEL, LEVEL, LEVEL)", "levels=(LEVEL, LEVEL)", f"{FILE}: levels must hold three levels (got 2)"),
    (
        'circuit="zener-shunt"', 'circuit="zener-shnt"',
        f"{FILE}: circuit: there is no circuit 'zener-shnt'; did you mean 'zener-shunt'?",
    ),
    (
        'about="one level",', 'about="one level"',
        f"{FILE}, line {ABOUT_LINE}: invalid syntax. Perhaps you forgot a comma?",
    ),
    (
        'about="one level"', 'abut="one level"',
        f"{FILE}: Level.__init__() got an unexpected keyword argument 'abut'",
    ),
    ('Pick("I_ZK"', 'Pik("I_ZK"', f"{FILE}: name 'Pik' is not defined"),
    ('about="one level"', "about=1/0", f"{FILE}: division by zero"),
    ('about="one level"', "about=open('/nowhere/x')", f"{FILE}: [Errno 2] No such file or directory: '/nowhere/x'"),
    (
        'Find("I_Z", "the zener current")', 'Find("I_ZZ", "the zener current")',
        f"{HERE}, asks 'the zener current': no law of this circuit speaks of I_ZZ",
    ),
    (
        '"I_Z >= I_ZK", "the largest R"', '"I_Z = I_ZK", "the largest R"',
        f"{HERE}, asks 'the largest R': a requirement needs <= or >= (got 'I_Z = I_ZK')",
    ),
    (
        '"I_Z >= I_ZK", "the largest R"', '"I_Z >= 5", "the largest R"',
        f"{HERE}, asks 'the largest R': a requirement compares a quantity with the name of its limit",
    ),
    (
        '"I_Z >= I_ZK", "the largest R"', '"I_Z >= ", "the largest R"',
        f"{HERE}, asks 'the largest R': expected 'a value' but found 'the end' in the formula 'I_Z >= '",
    ),
    (
        '"I_Z >= I_ZK", "the largest R"', '"I_Z >= I_XX", "the largest R"',
        f"{HERE}, asks 'the largest R': there is no key drawn or found before 'I_XX'; did you mean ",
    ),
    (
        'high="R_MAX"', 'high="R_MX"',
        f"{HERE}, asks 'an E24 value': there is no key drawn or found before 'R_MX'; did you mean 'R_MAX'?",
    ),
    (', high="R_MAX"', "", f"{HERE}, asks 'an E24 value': a choice needs low=, high= or near="),
    ('"P_R", (0.5, 1.0, 2.0)', '"P_R", ()', f"{HERE}, asks 'a rating': the shelf is empty"),
    (
        '"P_RM", "P_R",', '"P_RM", "P_X",',
        f"{HERE}, asks 'a rating': there is no key drawn or found before 'P_X'; did you mean 'P_R'?",
    ),
    (
        "    given=(", '    ranges=("V_I",),\n    given=(',
        f"{HERE}, ranges 'V_I': there is no drawn key 'V_I_MIN'; did you mean 'V_I'?",
    ),
    (
        'Find("I_Z", "the zener current")', 'Find("I_Z", "the zener current", at={"V_I": "V_X"})',
        f"{HERE}, asks 'the zener current', at 'V_I': there is no key drawn or found before 'V_X'; did you mean ",
    ),
    (
        'Find("I_Z", "the zener current")', 'Find("I_Z", "the zener current", region="broken")',
        f"{HERE}, asks: there is no region of this level 'broken'; did you mean 'breakdown'?",
    ),
    ('given=("V_I",', 'given=("V_O", "V_I",', f"{HERE}, given: there is no drawn key 'V_O'; did you mean "),
    ('given=("V_I",', 'given=("half", "V_I",', f"{HERE}, given: 'half' is no letter symbol; what is shown to a "
    f"learner"),
    ('Pick("I_L", (0.01, 0.02))', 'Pick("I_L", ())', f"{HERE}, draws 'I_L': the list of values is empty"),
    (
        '"V_I/2"', '"V_X/2"', f"{HERE}: the formula 'V_X/2' uses 'V_X', which nothing before it draws or finds",
    ),
    (
        '(("V_Z", 5.0, 10.0),)', '(("V_Z", 50.0, 90.0),)',
        f"{HERE}: no part of 'zeners' meets where=(('V_Z', 50.0, 90.0),)",
    ),
    (
        '(("V_Z", 5.0, 10.0),)', '(("V_ZZ", 5.0, 10.0),)',
        f"{HERE}: the catalogue 'zeners' has no column of numbers 'V_ZZ'; did you mean 'V_Z'?",
    ),
    (
        '{"V_Z": "V_Z"}', '{"V_Z": "type"}', f"{HERE}: the catalogue 'zeners' has no column of numbers 'type'",
    ),
    (SLIP, SLIP.replace('"I_Z"', '"I_ZZ"'), f"{HERE}, slips 'none': no ask has the key 'I_ZZ'; keys are R_MAX, R, "
    f"I_Z, "),
    (
        SLIP, SLIP.replace('"I_L"', '"I_B"'),
        f"{HERE}, slips 'none': the edit changes nothing in the step that finds 'I_Z'",
    ),
    (
        SLIP, SLIP.replace('"c")', '"c", step="V_X")'),
        f"{HERE}, slips 'none': no step finds 'V_X'; the plan of 'I_Z' finds I_Z",
    ),
    (
        SLIP, SLIP.replace('"I_Z"', '"R"'), f"{HERE}, slips 'none': 'R' is a choice; edit it with RoundAway or "
        f"NoMargin",
    ),
    (
        SLIP, SLIP.replace('Drop("I_L")', "RoundAway(above=True)"),
        f"{HERE}, slips 'none': RoundAway needs a choice with a bound on that side; 'I_Z' is none",
    ),
    (
        SLIP, SLIP.replace('"I_Z"', '"R"').replace('Drop("I_L")', "RoundAway(above=False)"),
        f"{HERE}, slips 'none': RoundAway needs a choice with a bound on that side; 'R' is none",
    ),
    (
        SLIP, SLIP.replace('Drop("I_L")', "NoMargin()"),
        f"{HERE}, slips 'none': NoMargin needs a choice of a rating; 'I_Z' is none",
    ),
    (
        SLIP, SLIP.replace('Drop("I_L")', 'Rewrite("V_QQ")'),
        f"{HERE}, slips 'none': there is no quantity that is known at that step 'V_QQ'; did you mean ",
    ),
    (
        SLIP, SLIP.replace('Drop("I_L")', 'Rewrite("V_I +")'),
        f"{HERE}, slips 'none': expected 'a value' but found 'the end' in the formula 'V_I +'",
    ),
    ('"V_I >= 1.2*V_Z"', '"V_I > 1.2*V_Z"', f"{HERE}, require: a requirement needs <= or >= (got 'V_I > 1.2*V_Z')"),
    (
        '"V_I >= 1.2*V_Z"', '"V_X >= 1.2*V_Z"',
        f"{HERE}: 'V_X >= 1.2*V_Z' uses 'V_X', which nothing before it draws or finds",
    ),
    (
        'CheckLine("Corner", "I_Z >= I_ZK")', 'CheckLine("Corner", "I_Z >= I_XX")',
        f"{HERE}, checks 'Corner': there is no key drawn or found before 'I_XX'; did you mean ",
    ),
    ('cautions=("output",)', 'cautions=("outputs",)', f"{HERE}, cautions: there is no caution 'outputs'; did you "
    f"mean "),
    ('scenarios=("A gate is fed by a zener.",)', "scenarios=()", f"{HERE}, scenarios: at least one wording is needed"),
    (
        'cautions=("output",)', 'cautions=("output",), assume={"load-slop": "zener"}',
        f"{HERE}, assume: there is no convention 'load-slop'; did you mean 'load-slope'?",
    ),
    (
        'cautions=("output",)', 'cautions=("output",), assume={"load-slope": "zenr"}',
        f"{HERE}, assume: there is no value of 'load-slope' 'zenr'; did you mean 'zener'?",
    ),
    ("{V_I}", "{V_X}", f"{HERE}: the text 'A gate is fed by a zener. It is fed from {{V_X}}.…' has a placeholder "
    f"that "),
    ("{V_I}", "{V_I", f"{HERE}: the text 'A gate is fed by a zener. It is fed from {{V_I.…' has a placeholder that "),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "sentence"), MISTAKES, ids=[new[:36] or "no bound" for _, new, _ in MISTAKES])
def test_a_mistake_is_one_sentence(folder: Path, old: str, new: str, sentence: str):
    """File, level, field, what was got, and the nearest valid name where there is one."""
    assert FAMILY.count(old) == 1
    with pytest.raises(BadFamily) as caught:
        worked(folder, FAMILY.replace(old, new))
    assert caught.value.sentence.startswith(sentence)
    assert "\n" not in caught.value.sentence


def test_a_level_that_nothing_meets_is_said_to_be_one(folder: Path):
    """Conditions that no candidate passes end in a sentence, not in a search without end."""
    with pytest.raises(OutOfRange) as caught:
        worked(folder, FAMILY.replace("V_I >= 1.2*V_Z", "V_I >= 12*V_Z"))
    assert caught.value.sentence == f"{HERE}: number 1 finds no draw that meets its conditions"


UNKNOWN = [
    (lambda desk: desk.family("bench-mad"), "there is no family 'bench-mad'; did you mean 'bench-made'?"),
    (lambda desk: desk.circuit("folower"), "there is no circuit 'folower'; did you mean 'follower'?"),
    (lambda desk: desk.level("bench-made", 4), "'bench-made' has the levels 1, 2 and 3 (got 4)"),
    (
        lambda desk: desk.problem("bench-made:1:1@7"),
        "'bench-made:1:1@7' asks for edition 7; this version draws edition 1",
    ),
]


@pytest.mark.parametrize(("asked", "sentence"), UNKNOWN, ids=["family", "circuit", "level", "edition"])
def test_what_is_not_there_is_named_with_the_nearest(folder: Path, asked, sentence: str):
    """Names, levels and editions that do not exist."""
    with pytest.raises(SteadyrailError) as caught:
        asked(desk_with(folder, FAMILY))
    assert caught.value.sentence == sentence
    assert isinstance(caught.value, UnknownName | OutOfRange)


CIRCUITS = [
    ("CIRCUIT = 5", "problems/circuits/odd.py: expected CIRCUIT = circuit(...) (got int)"),
    ("x =", "problems/circuits/odd.py, line 1: invalid syntax"),
    (
        (OURS / "circuits" / "source.py").read_text(encoding="utf-8"),
        "problems/circuits/odd.py: id must be 'odd', as the file is named (got 'source')",
    ),
    (
        (OURS / "circuits" / "source.py").read_text(encoding="utf-8").replace("R_S   resistor", "R_S   resstor"),
        "problems/circuits/odd.py: circuit 'source', netlist line 3, column 15: there is no part kind 'resstor'",
    ),
]


@pytest.mark.parametrize(("text", "sentence"), CIRCUITS, ids=["no circuit", "syntax", "id", "netlist"])
def test_a_circuit_file_with_a_mistake_is_named(folder: Path, text: str, sentence: str):
    """The file first, then what is wrong in it."""
    (folder / "circuits" / "odd.py").write_text(text, encoding="utf-8")
    with pytest.raises(BadCircuit) as caught:
        ProblemsFolder(folder).circuit("odd")
    assert caught.value.sentence.startswith(sentence)


def test_files_with_a_leading_underscore_are_not_listed(folder: Path):
    """A draft beside the others is no family yet."""
    (folder / "families" / "_draft.py").write_text("FAMILY = 1", encoding="utf-8")
    assert ProblemsFolder(folder).family_ids() == ()


def test_ids_are_file_names_with_hyphens():
    """zener_shunt.py is zener-shunt; every circuit and family of ours is found, sorted."""
    ours = ProblemsFolder(OURS)
    for found, place in ((ours.circuit_stems(), "circuits"), (ours.family_ids(), "families")):
        assert list(found) == sorted(file.stem.replace("_", "-") for file in (OURS / place).glob("*.py"))
    assert all(ours.family(name).id == name for name in ours.family_ids())
    assert {ours.circuit(name).stem for name in ours.circuit_ids()} == set(ours.circuit_stems())


def test_a_circuit_in_several_forms_is_found_by_each():
    """`reservoir` is its first form; each form has an id of its own; what is none is refused with the nearest."""
    ours = ProblemsFolder(OURS)
    forms = ours.circuit_forms("reservoir")
    assert [item.form for item in forms] == ["bridge", "half-wave", "centre-tap"]
    assert ours.circuit("reservoir").id == "reservoir-bridge"
    for item in forms:
        assert ours.circuit(item.id).form == item.form and item.stem == "reservoir"
        assert item.id in ours.circuit_ids() and "reservoir" not in ours.circuit_ids()
    with pytest.raises(UnknownName, match="did you mean 'reservoir-bridge'"):
        ours.circuit("reservoir-brigde")


def test_the_stamps_are_those_of_what_is_read(folder: Path):
    """What Python keeps of files it has run changes nothing; a changed file does."""
    ours = ProblemsFolder(folder)
    before = ours.stamps()
    (folder / "families" / "__pycache__").mkdir(exist_ok=True)
    (folder / "families" / "__pycache__" / "made.pyc").write_bytes(b"")
    (folder / "families" / "notes.txt").write_text("", encoding="utf-8")
    assert ours.stamps() == before and {name.partition("/")[0] for name, _, _ in before} == {"circuits", "parts"}
    (folder / "families" / "made_anew.py").write_text("", encoding="utf-8")
    assert ours.stamps() != before


def test_the_bytes_of_files_key_the_store(folder: Path):
    """A missing file counts as empty, and content from one file never passes for another's."""
    ours = ProblemsFolder(folder)
    (folder / "families" / "a.py").write_bytes(b"xy")
    assert ours.file_bytes("families/a.py", "families/b.py") == b"xy\0"
    assert ours.file_bytes("families/b.py", "families/a.py") == b"\0xy"


CHOSEN = 'Choose("R", Series.E24, '


@pytest.mark.parametrize(
    ("stock", "sentence"),
    [
        ('Stock("power-resistor", "P_RM", "resistor", "type")', "there is no catalogue 'power-resistor'; did you mean"),
        ('Stock("power-resistors", "P_RN", "resistor", "type")', "there is no column 'P_RN'; did you mean 'P_RM'?"),
        ('Stock("power-resistors", "P_RM", "resistor", "kind")', "there is no column 'kind'"),
    ],
    ids=["catalogue", "column", "column that tells"],
)
def test_a_choice_from_stock_names_its_catalogue_and_columns(folder: Path, stock: str, sentence: str):
    file = folder / "families" / "bench_made.py"
    file.write_text(FAMILY.replace(CHOSEN, f'Choose("R", {stock}, '), encoding="utf-8")
    with pytest.raises(BadFamily) as told:
        ProblemsFolder(folder).family("bench-made")
    assert sentence in told.value.sentence and "families/bench_made.py" in told.value.sentence
