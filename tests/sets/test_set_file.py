"""The set file: read as documented, and each mistake told with its file, line and field."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from tutor.errors import SteadyrailError
from tutor.sets import set_file
from tutor.sets.paper import ClassSet, DrawnQuestion, Learner, Look, PastQuestion, Rules
from tutor.sets.set_file import read_set, read_set_file
from tutor.sets.set_questions import _KINDS

EXAMPLE = Path(__file__).resolve().parents[2] / "problems" / "sets" / "shunt-week.toml"
HEAD = 'title = "T"\n\n[[questions]]\n'
STATE = '[[questions]]\nproblem = "zener-state:1:3"\n'  # a question that is right, of two lines
OWN = '[[questions]]\ncircuit = "zener-shunt"\ngiven = { V_I = "15 V", R = "220", V_Z = "9.1 V", I_L = "10 mA" }\n'


@pytest.fixture(scope="module")
def example() -> ClassSet:
    return read_set_file(EXAMPLE)


def test_the_example_in_the_documentation_reads() -> None:
    """What the module shows is what it reads."""
    sample = (set_file.__doc__ or "").split("in TOML.\n")[1].split("This is all")[0]
    told = read_set("\n".join(line.strip() for line in sample.splitlines()), "sample.toml")
    assert told.title == "Shunt regulators, first sheet"
    assert [item.asks for item in told.questions] == [
        DrawnQuestion("zener-resistor", 2, 17, 2),
        DrawnQuestion("zener-state", 1),
    ]
    assert [str(item.problem) for item in told.questions] == ["zener-resistor:2:17@2", "None"]
    assert [(item.marks, item.line) for item in told.questions] == [(6, 4), (None, 8)]
    assert told.learners == (Learner("1"),), "without a class it is one paper"


def keys_of(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, item in value.items():
            yield key
            if key not in ("given", "assume"):  # whose keys are symbols and conventions
                yield from keys_of(item)
    elif isinstance(value, list):
        for item in value:
            yield from keys_of(item)


def test_the_whole_example_reads_and_uses_every_key(example: ClassSet) -> None:
    """A key that the reader knows and the example does not show fails here (`variants` stands there as a comment)."""
    text = EXAMPLE.read_text(encoding="utf-8")
    known = {*set_file._FIELDS, *set_file._LEARNERS, *set_file._PRINT, *set_file._RULES}
    known |= {key for fields in _KINDS.values() for key in fields}
    assert {*keys_of(tomllib.loads(text)), "variants"} == known
    assert "# variants = " in text
    assert (example.title, example.seed, example.minutes, example.mains, example.file) == (
        "Shunt week: holding a rail with a zener", 2024, 90, 50.0, EXAMPLE,
    )  # fmt: skip
    assert example.learners[0] == Learner("s-017", "Wren Oakhollow") and example.learners[3] == Learner("s-045")
    assert example.look == Look(formula_sheet=True)
    assert example.rules == Rules(0.02, assume={"zener-ripple": "loaded", "V_BE": "0.65V"})
    assert example.avoid == {"zener-resistor:1:5", "zener-state:1:731204", "zener-state:1:20977"}


def test_an_assumption_goes_where_a_circuit_offers_it_and_does_not_hold_it_anyway(example: ClassSet) -> None:
    """The zener circuits have no V_BE; `loaded` is what they take anyway; what is named in full stays as named."""
    assumed = [item.asks.assumed for item in example.questions if isinstance(item.asks, DrawnQuestion)]
    assert assumed == [{}, {}, {"V_BE": "0.65V"}, {}]
    own = example.questions[4].asks
    assert isinstance(own, PastQuestion) and own.ask == ("I_Z", "P_Z") and own.given["V_I"] == "15 V"


def test_what_is_left_out_has_its_usual_value() -> None:
    told = read_set(HEAD + 'problem = "zener-state:1:3"\n', "set.toml")
    assert (told.seed, told.minutes, told.mains, told.look, told.rules) == (1, 0, 50.0, Look(), Rules())
    assert told.avoid == frozenset() and told.file is None


def test_every_word_of_the_tables_is_understood() -> None:
    text = (
        'title = "T"\nmains = "60 Hz"\n[learners]\nvariants = 3\n[print]\npaper = "Letter"\nlarge = true\n'
        'drawings = "IEEE"\ndecimal = "comma"\nvoltages = "V_in"\ngain = "β"\n[rules]\ntolerance = "1,5 %"\n'
        "figures = true\nfollow_through = false\nworking_asked = true\n" + STATE
    )
    told = read_set(text, "set.toml")
    assert told.look == Look("Letter", True, "IEEE", True, "V_in", "beta", False) and told.look.points == 18.0
    assert told.rules == Rules(0.015, True, False, True)
    assert told.mains == 60.0 and [item.id for item in told.learners] == ["1", "2", "3"]


def test_own_values_are_read_with_the_decimal_sign_of_the_set() -> None:
    text = 'title = "T"\n[print]\ndecimal = "comma"\n' + OWN.replace("9.1 V", "9,1 V") + 'ask = ["I_Z"]\ntext = "x"\n'
    assert isinstance(read_set(text, "set.toml").questions[0].asks, PastQuestion)
    with pytest.raises(SteadyrailError, match=r"^set.toml, line 4, given.V_Z: V_Z=9,1 V: "):
        read_set(text.replace('[print]\ndecimal = "comma"\n', ""), "set.toml")


def test_a_name_may_stand_without_edition_and_with_conventions() -> None:
    told = read_set(HEAD + 'problem = "follower-state:1:2+base-current=neglected"\n', "set.toml")
    assert told.questions[0].asks == DrawnQuestion("follower-state", 1, 2, 0, {"base-current": "neglected"})


MISTAKES = [
    ("title = ", "set.toml is not TOML: Invalid value (at end of document)"),
    ('[[questions]]\nproblem = "a:1:1"\n', 'set.toml needs a title: title = "..." before its first question'),
    ('title = " "\n', 'set.toml needs a title: title = "..." before its first question'),
    ('title = "T"\n', "set.toml asks nothing; each question begins with a line [[questions]]"),
    ('title = "T"\nquestions = [3]\n', "set.toml asks nothing; each question begins with a line [[questions]]"),
    ('titel = "T"\n', "set.toml, line 1 has no use for the field 'titel'; did you mean 'title'?"),
    (
        HEAD + "marks = 3\n",
        'set.toml, line 3: a question needs its problem, such as problem = "zener-resistor:2:17", or a family and '
        "level, or a circuit of your own",
    ),
    (
        HEAD + 'problem = "zener-state:1:3"\n[[questions]] # the second\nproblem = "zener resistor"\n',
        "set.toml, line 6, problem: 'zener resistor' is no problem name; one looks like zener-resistor:2:17",
    ),
    (
        HEAD + 'problem = "zener-state:1:3"\nmarks = 0\n',
        "set.toml, line 5, marks: 0 is no whole number from 1 to 999",
    ),
    (
        HEAD + 'problem = "zener-state:1:3"\nmarks = true\n',
        "set.toml, line 5, marks: True is no whole number from 1 to 999",
    ),
    (
        HEAD + 'problem = "zener-state:1:3"\nmark = 4\n',
        "set.toml, line 5 has no use for the field 'mark'; did you mean 'marks'?",
    ),
    (
        HEAD + 'family = "zener-stat"\nlevel = 1\n',
        "set.toml, line 4, family: there is no family 'zener-stat'; did you mean 'zener-state'?",
    ),
    (
        HEAD + 'problem = "direction-of-chnge:1:2"\n',
        "set.toml, line 4, problem: there is no family 'direction-of-chnge'; did you mean 'direction-of-change'?",
    ),
    (HEAD + 'family = "zener-state"\n', "set.toml, line 3: the level is missing; level = 1, 2 or 3"),
    (
        HEAD + 'family = "zener-state"\nlevel = 4\n',
        "set.toml, line 5, level: there are the levels 1, 2 and 3 (got 4)",
    ),
    (
        HEAD + 'family = "zener-state"\nlevel = 1\nnumber = 0\n',
        "set.toml, line 6, number: 0 is no whole number from 1 to 1000000000",
    ),
    (
        HEAD + 'problem = "zener-state:1:3@99"\n',
        "set.toml, line 4, problem: 'zener-state:1:3@99' asks for edition 99; this version draws edition 1",
    ),
    (
        HEAD + 'problem = "follower-state:1:2+base-curent=neglected"\n',
        "set.toml, line 4, problem: there is no convention 'base-curent'; did you mean 'base-current'?",
    ),
    (
        HEAD + 'problem = "zener-state:1:3"\nfamily = "zener-state"\n',
        "set.toml, line 5, family: a question is told by problem or by family; leave one out",
    ),
    (
        'title = "T"\nseed = -1\n' + STATE,
        "set.toml, line 2, seed: -1 is no whole number from 0 to 9223372036854775807",
    ),
    (
        'title = "T"\nmains = "55 Hz"\n' + STATE,
        "set.toml, line 2, mains: '55 Hz' is not known here; did you mean '50 Hz'?",
    ),
    (
        'title = "T"\n[print]\nlarge = true\npaper = "a4"\n' + STATE,
        "set.toml, line 4, print.paper: 'a4' is not known here; did you mean 'A4'?",
    ),
    (
        'title = "T"\nprint.larg = true\n' + STATE,
        "set.toml, line 2 has no use for the field 'larg'; did you mean 'large'?",
    ),
    (
        'title = "T"\n[rules]\ntolerance = "8 %"\n' + STATE,
        "set.toml, line 3, rules.tolerance: '8 %' is no tolerance from 1 % to 5 %, such as \"2 %\"",
    ),
    (
        'title = "T"\n[rules]\ntolerance = 0.02\n' + STATE,
        "set.toml, line 3, rules.tolerance: 0.02 is no tolerance from 1 % to 5 %, such as \"2 %\"",
    ),
    (
        'title = "T"\n[rules.assume]\nzener-riple = "loaded"\n[[questions]]\nfamily = "zener-ripple"\nlevel = 1\n',
        "set.toml, line 3, rules.assume.zener-riple: no question of this set can assume 'zener-riple'; did you mean "
        "'zener-ripple'?",
    ),
    (
        'title = "T"\n[rules.assume]\nzener-ripple = "loded"\n[[questions]]\nfamily = "zener-ripple"\nlevel = 1\n',
        "set.toml, line 3, rules.assume.zener-ripple: there is no value of 'zener-ripple' 'loded'; did you mean "
        "'loaded'?",
    ),
    (
        'title = "T"\n[rules.assume]\nV_BE = "0.6 A"\n[[questions]]\nfamily = "boosted-shunt"\nlevel = 1\n',
        "set.toml, line 3, rules.assume.V_BE: V_BE=0.6 A: this is a current; a voltage in V was asked",
    ),
    (
        'title = "T"\n[rules.assume]\nzener-ripple = "loaded"\n' + STATE,  # a whole name says what it assumes itself
        "set.toml, line 3, rules.assume.zener-ripple: no question of this set can assume 'zener-ripple'; none of them "
        "takes any",
    ),
    (
        'title = "T"\n[learners]\nvariants = 3\nlist = "class.csv"\n' + STATE,
        "set.toml, line 3, learners.variants: a class list has a paper for each learner already; leave variants out",
    ),
    (
        'title = "T"\n' + OWN.replace("R = ", "Rx = ") + 'ask = ["I_Z"]\ntext = "x"\n',
        "set.toml, line 4, given.Rx: there is no quantity 'Rx'; did you mean 'R'?",
    ),
    (
        'title = "T"\n' + OWN + 'ask = ["I_Z", "I_Zed"]\ntext = "x"\n',
        "set.toml, line 5, ask: there is no quantity 'I_Zed'; did you mean 'I_Z'?",
    ),
    (
        'title = "T"\n' + OWN + 'ask = ["I_Z"]\ntext = "costs $5"\n',
        "set.toml, line 6, text: a formula that begins with $ ends with $ too",
    ),
    (
        'title = "T"\n' + OWN.replace("zener-shunt", "zener-shut") + 'ask = ["I_Z"]\ntext = "x"\n',
        "set.toml, line 3, circuit: there is no circuit 'zener-shut'; did you mean 'zener-shunt'?",
    ),
    (
        'title = "T"\n' + OWN + 'ask = []\ntext = "x"\n',
        'set.toml, line 2: a question of your own asks for something, as ask = ["I_Z", "P_Z"]',
    ),
]


@pytest.mark.parametrize(("text", "sentence"), MISTAKES)
def test_a_mistake_is_told_with_file_line_and_field(text: str, sentence: str) -> None:
    with pytest.raises(SteadyrailError) as caught:
        read_set(text, "set.toml")
    assert caught.value.sentence == sentence


def test_a_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    path = tmp_path / "set.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(SteadyrailError, match=r"^set\.toml is no UTF-8 text \(byte 1\); name a TOML file in UTF-8$"):
        read_set_file(path)


def test_mistakes_in_files_beside_are_told_with_both_places(tmp_path: Path) -> None:
    """The class list and the numbers used before are named with their own line, and where the set names them."""
    path = tmp_path / "set.toml"
    path.write_text('title = "T"\navoid = ["before.json"]\n[learners]\nlist = "class.csv"\n' + STATE, encoding="utf-8")
    (tmp_path / "before.json").write_text('{"learners": {"a": ["no name"]}}', encoding="utf-8")
    (tmp_path / "class.csv").write_text("a\nb\na\n", encoding="utf-8")
    with pytest.raises(SteadyrailError) as caught:
        read_set_file(path)
    assert caught.value.sentence.startswith("set.toml, line 4, learners.list: class.csv, line 3: the id 'a' stands on ")
    (tmp_path / "class.csv").write_text("a\nb\n", encoding="utf-8")
    with pytest.raises(SteadyrailError) as caught:
        read_set_file(path)
    assert caught.value.sentence.startswith("set.toml, line 2, avoid: before.json, learner 'a': 'no name' is no ")


def test_brackets_without_end_are_no_toml() -> None:
    """Depth is refused and never crashes."""
    with pytest.raises(SteadyrailError, match=r"set\.toml is not TOML"):
        read_set('title = "T"\nx = ' + "[" * 50_000, "set.toml")
