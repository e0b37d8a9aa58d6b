"""Finds circuits, families and catalogues of parts by path: one file each, its id the file's name with `-` for `_`.

No file is registered anywhere, and nothing in the engine imports `problems` by name: a folder of that shape is all it
takes. Files are the author's own code and are run as such; nothing a learner writes comes this way.
"""

from __future__ import annotations

import importlib.util
import os
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from types import ModuleType

from tutor.circuit.circuit import Circuit
from tutor.errors import BadCircuit, BadFamily, SteadyrailError, UnknownName, unknown
from tutor.generate.family import Ask, Choose, ChooseRating, Family, Stock
from tutor.quantities.parts import Catalogue, read_catalogue

Stamp = tuple[str, int, int]


@dataclass(frozen=True)
class ProblemsFolder:
    """A folder with `circuits/`, `families/` and `parts/`."""

    path: Path

    def circuit_ids(self) -> tuple[str, ...]:
        """Ids of every circuit, those that share a file by their forms, sorted."""
        found: list[str] = []
        for stem in self.circuit_stems():
            file = self._circuit_file(stem)
            # Only a file that holds several forms must be run to know how they are called.
            forms = _HAS_FORMS.search(file.read_text(encoding="utf-8", errors="replace"))
            found += [item.id for item in self.circuit_forms(stem)] if forms else [stem]
        return tuple(sorted(found))

    def circuit_stems(self) -> tuple[str, ...]:
        """The names under which circuits are asked for, one a file, sorted: `reservoir` for all its forms."""
        return ids_in(self.path / "circuits", ".py")

    def circuit_forms(self, stem: str) -> tuple[Circuit, ...]:
        """Every form of the circuits of one file, ours first; a single one for a file without forms.

        UnknownName for a file that is not there, BadCircuit for one that is wrong.
        """
        if stem not in self.circuit_stems():
            raise unknown("circuit", stem, self.circuit_stems())
        file = self._circuit_file(stem)
        module = load_module(file, BadCircuit)
        forms = getattr(module, "FORMS", None)
        found = (getattr(module, "CIRCUIT", None),) if forms is None else forms
        for item in found if isinstance(found, tuple) else (found,):
            if not isinstance(item, Circuit):
                wanted = "CIRCUIT = circuit(...)" if forms is None else "FORMS = (circuit(...), ...)"
                raise BadCircuit(f"{short_path(file)}: expected {wanted} (got {type(item).__name__})")
            if item.stem != stem:
                raise BadCircuit(f"{short_path(file)}: id must be '{stem}', as the file is named (got '{item.stem}')")
            if bool(item.form) != (forms is not None):
                raise BadCircuit(f"{short_path(file)}: in FORMS every circuit needs its form=, outside FORMS none does")
        return tuple(found)

    def _circuit_file(self, stem: str) -> Path:
        return self.path / "circuits" / file_name(stem)

    def family_ids(self) -> tuple[str, ...]:
        """Ids of every family, sorted."""
        return ids_in(self.path / "families", ".py")

    def circuit(self, circuit_id: str) -> Circuit:
        """The circuit of that id (the first form for a name that forms share).

        UnknownName with the nearest when there is none, BadCircuit for a wrong file.
        """
        stems = self.circuit_stems()
        if circuit_id in stems:
            return self.circuit_forms(circuit_id)[0]
        for stem in stems:
            if circuit_id.startswith(f"{stem}-"):
                for item in self.circuit_forms(stem):
                    if item.id == circuit_id:
                        return item
        raise unknown("circuit", circuit_id, dict.fromkeys((*stems, *self.circuit_ids())))

    def _has_circuit(self, circuit_id: str) -> bool:
        try:
            return self.circuit(circuit_id).id == circuit_id
        except UnknownName:
            return False

    def family(self, family_id: str) -> Family:
        """The family of that id; UnknownName with the nearest when there is none, BadFamily when its file is wrong."""
        if family_id not in self.family_ids():
            raise unknown("family", family_id, self.family_ids())
        file = self.path / "families" / file_name(family_id)
        found = getattr(load_module(file, BadFamily), "FAMILY", None)
        if not isinstance(found, Family):
            raise BadFamily(f"{short_path(file)}: expected FAMILY = Family(...) (got {type(found).__name__})")
        if len(found.levels) != 3:
            raise BadFamily(f"{short_path(file)}: levels must hold three levels (got {len(found.levels)})")
        for level in found.levels:
            circuit = f"{found.circuit}-{level.form}" if level.form else found.circuit
            if not self._has_circuit(circuit):
                wrong = unknown("circuit", circuit, self.circuit_ids())
                raise BadFamily(f"{short_path(file)}: circuit: {wrong.sentence}")
        one, two, three = (
            replace(level, asks=tuple(self._stocked(ask, file) for ask in level.asks)) for level in found.levels
        )
        return replace(found, id=family_id, levels=(one, two, three))

    def _stocked(self, ask: Ask, file: Path) -> Ask:
        """An ask as it stands; a choice from stock with what its catalogue holds."""
        if isinstance(ask, ChooseRating) and ask.stock is not None:
            stock = self._filled(ask.stock, f"{short_path(file)}: '{ask.prompt}', stock")
            return replace(ask, stock=stock, shelf=stock.values)
        if isinstance(ask, Choose) and isinstance(ask.series, Stock):
            return replace(ask, series=self._filled(ask.series, f"{short_path(file)}: '{ask.prompt}', series"))
        return ask

    def _filled(self, stock: Stock, where: str) -> Stock:
        """Stock with the values and descriptions of its catalogue."""
        parts = self.parts()
        if stock.catalogue not in parts:
            raise BadFamily(f"{where}: {unknown('catalogue', stock.catalogue, parts).sentence}")
        catalogue = parts[stock.catalogue]
        for column in (stock.column, stock.told, *(name for name, _, _ in stock.where)):
            if column not in catalogue.columns:
                wrong = unknown("column", column, catalogue.columns)
                raise BadFamily(f"{where}: the catalogue '{stock.catalogue}': {wrong.sentence}")
        rows = {
            float(row[stock.column]): str(row[stock.told])
            for row in reversed(catalogue.rows)
            if all(low <= float(row[column]) <= high for column, low, high in stock.where)
        }
        if not rows:
            raise BadFamily(f"{where}: no part of '{stock.catalogue}' meets where={stock.where}")
        values, descriptions = zip(*sorted(rows.items()), strict=True)
        return replace(stock, values=values, descriptions=descriptions)

    def parts(self) -> dict[str, Catalogue]:
        """Every catalogue of parts by name."""
        return {
            file.stem.replace("_", "-"): read_catalogue(file) for file in sorted((self.path / "parts").glob("*.csv"))
        }

    def stamps(self) -> tuple[Stamp, ...]:
        """Name, time of change (ns) and size (bytes) of each file that families are made of: what changes with them."""
        found = []
        for name, ending in (("circuits", ".py"), ("families", ".py"), ("parts", ".csv")):
            folder = self.path / name
            if folder.is_dir():
                with os.scandir(folder) as entries:  # Python keeps a folder of its own beside the files it has run
                    told = [(entry.name, entry.stat()) for entry in entries if entry.name.endswith(ending)]
                found += [(f"{name}/{file}", stat.st_mtime_ns, stat.st_size) for file, stat in sorted(told)]
        return tuple(found)

    def file_bytes(self, *relative: str) -> bytes:
        """The content of files under the folder, for keys of stored plans; a missing file counts as empty."""
        contents = []
        for name in relative:
            file = self.path / name
            contents.append(file.read_bytes() if file.is_file() else b"")
        return b"\0".join(contents)


_HAS_FORMS = re.compile(r"^FORMS\b", re.MULTILINE)


def default_folder() -> Path:
    """The problems that come with Steadyrail: the folder beside the package."""
    return Path(__file__).resolve().parents[2] / "problems"


def ids_in(folder: Path, ending: str) -> tuple[str, ...]:
    """Ids of the files of a folder, sorted: their names with `-` for `_`, none that begins with `_`."""
    return tuple(
        sorted(file.stem.replace("_", "-") for file in folder.glob(f"*{ending}") if not file.name.startswith("_"))
    )


def file_name(item_id: str, ending: str = ".py") -> str:
    """The name of the file of an id, the way back from `ids_in`.

    >>> file_name("zener-shunt")
    'zener_shunt.py'
    """
    return f"{item_id.replace('-', '_')}{ending}"


def short_path(file: Path) -> str:
    """A file of a problems folder as a complaint names it: `problems/circuits/zener_shunt.py`."""
    return "/".join(file.parts[-3:])


def load_module(file: Path, kind: type[SteadyrailError]) -> ModuleType:
    """An author's file, run once as it stands; whatever it raises becomes one sentence naming the file and the line."""
    try:
        return _run(file, file.read_bytes())
    except SteadyrailError as error:
        raise kind(f"{short_path(file)}: {error.sentence}") from error
    except SyntaxError as error:
        raise kind(f"{short_path(file)}, line {error.lineno}: {error.msg}") from error
    except Exception as error:  # an author's file is a program, and may fail in any way a program can
        raise kind(f"{short_path(file)}: {error or type(error).__name__}") from error


@lru_cache(maxsize=512)
def _run(file: Path, content: bytes) -> ModuleType:
    """The module of a file with that content: whoever asks for a level does so many times."""
    spec = importlib.util.spec_from_file_location(f"steadyrail_{file.parent.name}_{file.stem}", file)
    if spec is None or spec.loader is None:
        raise ImportError("it cannot be read as a Python file")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
