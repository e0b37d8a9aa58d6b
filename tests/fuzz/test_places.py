"""Where what is fed stands: devices, pipes, links, folders and archives in place of files; texts larger than any seed;
and a hostile class from its list to its papers and marks, which leaves nothing outside the folders named."""

from __future__ import annotations

import csv
import json
import os
from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.fuzz.commands import typed
from tests.fuzz.feed import CANARY, HOSTILE
from tests.fuzz.files import CLASS, QUESTIONS, refused, tree, warm
from tests.fuzz.watch import no_longer_than, watched
from tutor.errors import SteadyrailError
from tutor.generate.store_files import store_folder
from tutor.sets.by_hand import read_by_hand
from tutor.sets.class_list import file_stem, learners_of, read_class_list
from tutor.sets.numbers_used import names_used
from tutor.sets.returned_table import file_table
from tutor.sets.set_file import MOST_BYTES, read_set, read_set_file

LONGEST_WAIT = 600  # seconds, for a machine of any speed
READERS: dict[str, Callable[[Path], object]] = {
    "set file": read_set_file,
    "class list": read_class_list,
    "numbers used": names_used,
    "marks by hand": lambda path: read_by_hand(path, CLASS, QUESTIONS),
    "workings": lambda path: file_table(path, CLASS, QUESTIONS),
}


def _device(path: Path) -> Path:
    return Path("/dev/zero")


def _pipe(path: Path) -> Path:
    os.mkfifo(path)
    return path


def _folder(path: Path) -> Path:
    path.mkdir()
    return path


def _link_to_itself(path: Path) -> Path:
    path.symlink_to(path)
    return path


def _link_to_a_device(path: Path) -> Path:
    path.symlink_to("/dev/zero")
    return path


def _archive(path: Path) -> Path:
    """A workbook that would unpack to a gigabyte, were it unpacked."""
    with ZipFile(path, "w") as into:
        into.writestr("xl/worksheets/sheet1.xml", "0" * 1_000_000)
    return path


def _long_name(path: Path) -> Path:
    return path.with_name("x" * 900)


def _zero_byte(path: Path) -> Path:
    return path.with_name("a\0b")


PLACES = (_device, _pipe, _folder, _link_to_itself, _link_to_a_device, _archive, _long_name, _zero_byte)


@pytest.mark.parametrize("made", PLACES, ids=lambda made: made.__name__.strip("_"))
@pytest.mark.parametrize("reader", READERS)
def test_what_is_no_plain_file_is_refused(reader: str, made: Callable[[Path], Path], tmp_path: Path) -> None:
    """In one sentence, at once, whatever it would give; nothing is waited for, nothing is unpacked."""
    path = made(tmp_path / "fed")
    stood = tree(tmp_path) if made is not _pipe else {}
    with no_longer_than(LONGEST_WAIT), watched(), pytest.raises(SteadyrailError) as told:
        READERS[reader](path)
    refused(told.value.sentence)
    assert made is _pipe or tree(tmp_path) == stood


HEAD = 'title = "T"\n'
ASKED = '[[questions]]\nproblem = "zener-state:1:3"\n'
BOMBS = {
    "a dotted key of many parts": (f"{'a.' * 100_000}a = 1\n", "holds a key of more than 40 parts"),
    "one within a table": (f"x = {{ {'a .' * 100_000}a = 1 }}\n", "holds a key of more than 40 parts"),
    "a heading of many parts": (f"[{'a.' * 100_000}a]\n", "holds a key of more than 40 parts"),
    "a key of quoted parts": ('"a".' * 100_000 + "a = 1\n", "holds a key of more than 40 parts"),
    "a key that never ends": ("a" * 900_000 + "\n", "is not TOML: "),
    "quotes that never end": ("'\"" * 400_000 + "\n", "is not TOML: "),
    "arrays in arrays": (f"x = {'[' * 300}{']' * 300}\n", "nests tables and arrays more than 40 deep"),
    "arrays without end": (f"x = {'[' * 100_000}\n", "its brackets nest too deep"),
    "tables without end": (f"x = {'{a=' * 100_000}\n", "its brackets nest too deep"),
    "a number of many digits": (f"seed = {'9' * 5000}\n", "is not TOML: "),
    "a number of many figures": (f"seed = 0x{'f' * 5000}\n", "holds a whole number beyond 64 bits"),
    "such a number among others": (f"x = [1, [0x{'f' * 5000}]]\n", "holds a whole number beyond 64 bits"),
    "a level that is such a number": (
        f'[[questions]]\nfamily = "zener-state"\nlevel = 0o{"7" * 9000}\n', "holds a whole number beyond 64 bits",
    ),
    "an endless text": (f'title = """{"x" * 900_000}\n', "is not TOML: "),
    "many tables": ("[[questions]]\n" * 20_000, "a set may ask up to 100 questions (got 20000)"),
}  # fmt: skip


@pytest.mark.parametrize("bomb", BOMBS)
def test_a_table_that_would_grow_without_bound_is_refused(bomb: str, tmp_path: Path) -> None:
    """As a set file and as marks by hand; the sentence names the file and is short."""
    text, sentence = BOMBS[bomb]
    text = text if text.startswith("title") else HEAD + text
    assert len(text) < MOST_BYTES
    with no_longer_than(LONGEST_WAIT), pytest.raises(SteadyrailError) as told:
        read_set(text, "set.toml")
    assert sentence in told.value.sentence
    refused(told.value.sentence, "set.toml")
    file = tmp_path / "override.toml"
    file.write_text(text, encoding="utf-8")
    with no_longer_than(LONGEST_WAIT), pytest.raises(SteadyrailError) as told:
        read_by_hand(file, CLASS, QUESTIONS)
    refused(told.value.sentence, "override.toml")


@pytest.mark.parametrize("key", ["title", "mains", "print.paper", "learners.list", "rules.tolerance"])
def test_hostile_texts_in_a_set_are_texts(key: str) -> None:
    """Wherever a text may stand: taken as it is, or refused in a sentence; nothing else is done."""
    warm()
    for text in HOSTILE:
        told = json.dumps(text)  # the same escapes, but for halves of characters, which TOML does not have
        with watched():
            try:
                read_set(f"{key} = {told}\n{'' if key == 'title' else HEAD}{ASKED}", "set.toml")
            except SteadyrailError as error:
                refused(error.sentence, "set.toml")


def _usable(text: str) -> bool:
    try:
        learners_of(_line(text), "class.csv")
    except SteadyrailError:
        return False
    return True


def _line(text: str) -> str:
    return f'"{text.replace(chr(34), chr(34) * 2)}"\n'


@pytest.fixture(scope="module")
def hostile_class(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a set for a class of hostile names, their workings in a table, and a file beside that must stay."""
    folder = tmp_path_factory.mktemp("hostile") / "of" / "the" / "class"
    folder.mkdir(parents=True)
    ids = [text for text in HOSTILE if len(text) < 60 and _usable(text)]
    assert len(ids) > 25
    few = ids[::8]
    with (folder / "class.csv").open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows([("id", "name"), *((one, one) for one in few)])
    with (folder / "workings.csv").open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows([("id", "Q1"), *((one, f"V_O = V_Z\n{one}") for one in few)])
    title = json.dumps(next(text for text in HOSTILE if text.startswith("#import")))
    (folder / "set.toml").write_text(f'title = {title}\n[learners]\nlist = "class.csv"\n{ASKED}', encoding="utf-8")
    (folder.parent / "beside.txt").write_text("stays", encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    "words",
    [
        ("paper", "set.toml", "--out", "papers", "--processes", "1"),
        ("mark", "set.toml", "workings.csv", "--out", "marks", "--processes", "1", "--no-pdf"),
    ],
    ids=lambda words: words[0],
)
def test_a_hostile_class_stays_in_its_folder(words: tuple[str, ...], hostile_class: Path) -> None:
    """Papers and marks of learners whose names are commands, formulas and paths: written where they belong alone."""
    root = hostile_class.parents[2]
    out = words[words.index("--out") + 1]
    before = {path: state for path, state in tree(root).items() if f"/{out}" not in f"/{path}"}
    told = [str(hostile_class / word) if word in (out, "set.toml", "workings.csv") else word for word in words]
    with no_longer_than(LONGEST_WAIT):
        status, _, err = typed(told)
    assert status in (0, 1), err
    after = tree(root)
    inside = [path for path in after if path.startswith(f"of/the/class/{out}/")]
    assert len(inside) > 10
    assert {path: state for path, state in after.items() if path not in (*inside, f"of/the/class/{out}")} == before
    assert not any(Path(path).name == CANARY for path in after) and not Path(CANARY).exists()
    stems = {file_stem(item.id) for item in read_class_list(hostile_class / "class.csv")}
    assert stems <= {Path(path).name.rpartition(".")[0] for path in inside}
    assert store_folder().is_dir()
