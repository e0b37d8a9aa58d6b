"""Finds circuits, families and catalogues of parts by path: one file each, its id the file's name with `-` for `_`.

No file is registered anywhere, and nothing in the engine imports `problems` by name: a folder of that shape is all it
takes. Files are the author's own code and are run as such; nothing a learner writes comes this way.
"""

from __future__ import annotations

import importlib.util
from dataclasses import dataclass, replace
from pathlib import Path
from types import ModuleType

from tutor.circuit.circuit import Circuit
from tutor.errors import BadCircuit, BadFamily, SteadyrailError, unknown
from tutor.generate.family import Family
from tutor.quantities.parts import Catalogue, read_catalogue


@dataclass(frozen=True)
class ProblemsFolder:
    """A folder with `circuits/`, `families/` and `parts/`."""

    path: Path

    def circuit_ids(self) -> tuple[str, ...]:
        """Ids of every circuit, sorted."""
        return _ids(self.path / "circuits", ".py")

    def family_ids(self) -> tuple[str, ...]:
        """Ids of every family, sorted."""
        return _ids(self.path / "families", ".py")

    def circuit(self, circuit_id: str) -> Circuit:
        """The circuit of that id; UnknownName with the nearest when there is none, BadCircuit for a wrong file."""
        if circuit_id not in self.circuit_ids():
            raise unknown("circuit", circuit_id, self.circuit_ids())
        file = self.path / "circuits" / f"{circuit_id.replace('-', '_')}.py"
        found = getattr(_load(file, BadCircuit), "CIRCUIT", None)
        if not isinstance(found, Circuit):
            raise BadCircuit(f"{_where(file)}: expected CIRCUIT = circuit(...) (got {type(found).__name__})")
        if found.id != circuit_id:
            raise BadCircuit(f"{_where(file)}: id must be '{circuit_id}', as the file is named (got '{found.id}')")
        return found

    def family(self, family_id: str) -> Family:
        """The family of that id; UnknownName with the nearest when there is none, BadFamily when its file is wrong."""
        if family_id not in self.family_ids():
            raise unknown("family", family_id, self.family_ids())
        file = self.path / "families" / f"{family_id.replace('-', '_')}.py"
        found = getattr(_load(file, BadFamily), "FAMILY", None)
        if not isinstance(found, Family):
            raise BadFamily(f"{_where(file)}: expected FAMILY = Family(...) (got {type(found).__name__})")
        if len(found.levels) != 3:
            raise BadFamily(f"{_where(file)}: levels must hold three levels (got {len(found.levels)})")
        if found.circuit not in self.circuit_ids():
            wrong = unknown("circuit", found.circuit, self.circuit_ids())
            raise BadFamily(f"{_where(file)}: circuit: {wrong.sentence}")
        return replace(found, id=family_id)

    def parts(self) -> dict[str, Catalogue]:
        """Every catalogue of parts by name."""
        return {
            file.stem.replace("_", "-"): read_catalogue(file) for file in sorted((self.path / "parts").glob("*.csv"))
        }

    def file_bytes(self, *relative: str) -> bytes:
        """The content of files under the folder, for keys of stored plans; a missing file counts as empty."""
        contents = []
        for name in relative:
            file = self.path / name
            contents.append(file.read_bytes() if file.is_file() else b"")
        return b"\0".join(contents)


def _ids(folder: Path, ending: str) -> tuple[str, ...]:
    return tuple(
        sorted(file.stem.replace("_", "-") for file in folder.glob(f"*{ending}") if not file.name.startswith("_"))
    )


def _where(file: Path) -> str:
    return "/".join(file.parts[-3:])


def _load(file: Path, kind: type[SteadyrailError]) -> ModuleType:
    """Run an author's file; whatever it raises becomes one sentence naming the file (and line)."""
    spec = importlib.util.spec_from_file_location(f"steadyrail_{file.parent.name}_{file.stem}", file)
    if spec is None or spec.loader is None:
        raise kind(f"{_where(file)} cannot be read as a Python file")
    module = importlib.util.module_from_spec(spec)
    try:
        spec.loader.exec_module(module)
    except SteadyrailError as error:
        raise kind(f"{_where(file)}: {error.sentence}") from error
    except SyntaxError as error:
        raise kind(f"{_where(file)}, line {error.lineno}: {error.msg}") from error
    except Exception as error:  # an author's file is a program, and may fail in any way a program can
        raise kind(f"{_where(file)}: {error or type(error).__name__}") from error
    return module
