"""HOWTO.md tells the truth: its sample circuit and sample family, taken out of it as they stand, keep every contract.

The samples go into a problems folder of their own. There the circuit passes what every circuit passes and the family
what every family passes: the very checks of `test_every_circuit.py` and `test_every_family.py`, all of them, so that a
check added there is a check of the samples too.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import pytest

from tests import test_layers
from tests.laws import test_every_circuit as for_circuits
from tests.problems import test_every_family as for_families
from tests.views import test_schematic as for_drawings
from tutor.circuit.circuit import LoadModel
from tutor.circuit.wiring import check_drawing
from tutor.errors import SteadyrailError
from tutor.solution import derivation, own
from tutor.solution.desk import Desk, WorkedProblem, open_desk
from tutor.views.drawn_symbols import SymbolStyle

ROOT = Path(__file__).parents[2]
HOWTO = (ROOT / "problems" / "HOWTO.md").read_text(encoding="utf-8")
# A sample stands in a block of Python, under a line that ends with the name of its file.
SAMPLE = re.compile(r"`problems/((?:circuits|families)/[a-z_]+\.py)`:\n\n```python\n(.*?)```", re.DOTALL)
SAMPLES = {name: text for name, text in SAMPLE.findall(HOWTO)}
CIRCUIT, FAMILY = "loaded-divider", "divider-sag"
NUMBERS = range(1, 61)

Check = Callable[..., None]


def checks_of(module: ModuleType, *arguments: str) -> dict[str, Check]:
    """The tests of a module that are run for each of these arguments, by name."""
    found = {}
    for name, test in vars(module).items():
        for mark in getattr(test, "pytestmark", ()):
            names = mark.args[0] if isinstance(mark.args[0], tuple) else tuple(mark.args[0].split(","))
            if mark.name == "parametrize" and tuple(item.strip() for item in names) == arguments:
                found[name] = test
    return found


OF_LEVELS = checks_of(for_families, "family", "level")
OF_FAMILIES = checks_of(for_families, "family")
OF_SPACES = checks_of(for_circuits, "space")


def folder_of(path: Path, **changed: str) -> Path:
    """A problems folder with the samples alone and our parts; `changed` puts other text for a file, by its stem."""
    folder = path / "problems"
    shutil.copytree(ROOT / "problems" / "parts", folder / "parts")
    for name, text in SAMPLES.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(changed.get(file.stem, text), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return open_desk(folder_of(tmp_path_factory.mktemp("samples")))


@pytest.fixture(scope="module")
def worked(desk: Desk) -> dict[int, tuple[WorkedProblem, ...]]:
    """The family's problems by level."""
    return {level: tuple(desk.batch(desk.level(FAMILY, level), NUMBERS)) for level in (1, 2, 3)}


@pytest.fixture
def at_the_samples(
    desk: Desk, worked: dict[int, tuple[WorkedProblem, ...]], monkeypatch: pytest.MonkeyPatch
) -> Iterator[Desk]:
    """The contracts' modules turned to the samples' folder."""
    monkeypatch.setattr(for_families, "desk", lambda: desk)
    monkeypatch.setattr(for_families, "problems", lambda _family, level: worked[level])
    monkeypatch.setattr(for_families, "LEVELS", [(FAMILY, level) for level in (1, 2, 3)])
    monkeypatch.setattr(for_circuits, "FOLDER", desk.folder)
    for_circuits.forms_of.cache_clear()
    yield desk
    for_circuits.forms_of.cache_clear()


def spaces(desk: Desk) -> list[for_circuits.Space]:
    circuit = desk.circuit(CIRCUIT)
    return [for_circuits.Space(circuit, region, load) for region in circuit.regions for load in LoadModel]


def test_there_are_two_samples_and_the_contracts_are_found() -> None:
    """One circuit and one family; a contract that is no longer found would be one that nobody runs."""
    assert set(SAMPLES) == {"circuits/loaded_divider.py", "families/divider_sag.py"}
    assert {"test_feasible_at_all_corners", "test_slips_stand_apart_from_the_answer"} <= set(OF_LEVELS)
    assert "test_levels_differ_in_what_they_ask" in OF_FAMILIES
    assert {"test_every_law_holds_on_the_manifold", "test_every_composite_is_proved"} <= set(OF_SPACES)


def test_the_folder_holds_the_samples(desk: Desk) -> None:
    assert desk.folder.circuit_ids() == (CIRCUIT,) and desk.folder.family_ids() == (FAMILY,)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_imports_no_more_than_an_author_may(name: str, desk: Desk) -> None:
    test_layers.test_problem_files_import_what_declares_and_below(desk.folder.path / name)


@pytest.mark.parametrize("check", OF_SPACES)
def test_the_circuit_passes_what_every_circuit_passes(check: str, at_the_samples: Desk) -> None:
    for space in spaces(at_the_samples):
        if space.circuit.readings or check != "test_the_laws_of_a_reading_hold_at_that_reading":
            OF_SPACES[check](space)


@pytest.mark.parametrize("level", [1, 2, 3])
@pytest.mark.parametrize("check", OF_LEVELS)
@pytest.mark.usefixtures("at_the_samples")
def test_the_family_passes_what_every_family_passes(check: str, level: int) -> None:
    OF_LEVELS[check](FAMILY, level)


@pytest.mark.parametrize("check", OF_FAMILIES)
@pytest.mark.usefixtures("at_the_samples")
def test_the_family_as_a_whole_passes_too(check: str) -> None:
    OF_FAMILIES[check](FAMILY)


@pytest.mark.usefixtures("at_the_samples")
def test_the_units_of_its_keys_are_known() -> None:
    for_families.test_units_of_every_key_are_known()


@pytest.mark.parametrize("style", list(SymbolStyle), ids=lambda style: style.value)
def test_the_circuit_is_drawn(style: SymbolStyle, desk: Desk) -> None:
    """As its netlist says, and with room for the longest values."""
    circuit = desk.circuit(CIRCUIT)
    assert check_drawing(circuit.drawing, circuit.parts) == []
    ready = for_drawings.made_ready(circuit, style)
    assert for_drawings.collisions(ready, circuit, for_drawings.long_values(circuit)) == []
    assert "150 Ω" in ready.with_labels({"R_1": "150 Ω"})


def test_the_circuit_is_solved_and_derived(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """The numbers of the guide's own command, worked on paper: 15 V, 150 Ω over 270 Ω, 10 mA drawn."""
    monkeypatch.setattr(own, "our_desk", lambda: desk)
    monkeypatch.setattr(derivation, "our_desk", lambda: desk)
    command = next(line.split()[5:] for line in HOWTO.splitlines() if "tutor solve" in line)
    given = dict(word.split("=") for word in command)
    assert given == {"V_I": "15V", "R_1": "150", "R_2": "270", "I_L": "10mA"}
    answer = own.solve(CIRCUIT, given)
    side_by_side = 150 * 270 / (150 + 270)
    output = 15 * 270 / (150 + 270) - 0.01 * side_by_side
    assert answer.value("V_O").value == pytest.approx(output, rel=1e-9)
    assert answer.value("R_OUT").value == pytest.approx(side_by_side, rel=1e-9)
    assert answer.value("P_R").value == pytest.approx((15 - output) ** 2 / 150, rel=1e-9)
    derived = {item.quantity for item in derivation.derive(CIRCUIT).derivations}
    assert derived == set(desk.circuit(CIRCUIT).derivation)


def test_a_composite_that_does_not_follow_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The contracts above can fail: with the sag's sign turned the composite is no longer proved."""
    right = "R_2/(R_1 + R_2) - I_L*(R_1||R_2)"
    text = SAMPLES["circuits/loaded_divider.py"]
    assert text.count(right) == 1
    wrong = open_desk(folder_of(tmp_path, loaded_divider=text.replace(right, right.replace("-", "+"))))
    monkeypatch.setattr(for_circuits, "FOLDER", wrong.folder)
    for_circuits.forms_of.cache_clear()
    sink = next(space for space in spaces(wrong) if space.load is LoadModel.SINK)
    with pytest.raises(AssertionError):
        OF_SPACES["test_every_composite_is_proved"](sink)


def test_a_family_with_a_mistake_is_told_where(tmp_path: Path) -> None:
    text = SAMPLES["families/divider_sag.py"]
    wrong = open_desk(folder_of(tmp_path, divider_sag=text.replace('"P_R <= P_RM"', '"P_R <= 2"')))
    with pytest.raises(SteadyrailError) as caught:
        wrong.level(FAMILY, 2)
    assert "problems/families/divider_sag.py" in caught.value.sentence
    assert "Upper resistor at its hottest" in caught.value.sentence


@pytest.mark.parametrize("path", sorted(set(re.findall(r"`((?:tests|problems|tutor)/[\w./-]+)`", HOWTO))))
def test_every_path_of_the_guide_exists(path: str) -> None:
    """But for the two files that are the reader's to make."""
    assert (ROOT / path).exists() or path.removeprefix("problems/") in SAMPLES
