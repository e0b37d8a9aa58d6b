"""Jobs: several circuits made to do the same, each with its part values, so that they can be laid over each other.

Place in the data flow: files of `problems/jobs` -> Job -> the bench. A file is data (TOML): a title, and a table of
values for each circuit, written as one types them ("10 V", "4.7k").
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from tutor.errors import BadCircuit, unknown
from tutor.generate.problems_folder import file_name, ids_in, short_path


@dataclass(frozen=True)
class Job:
    """A title, and the values of each circuit made for it, as text by letter symbol, in the file's order."""

    title: str
    circuits: Mapping[str, Mapping[str, str]]


def job_ids(folder: Path) -> tuple[str, ...]:
    """Ids of the jobs of a problems folder, sorted."""
    return ids_in(folder / "jobs", ".toml")


def job_of(folder: Path, job_id: str) -> Job:
    """The job of that id; UnknownName with the nearest when there is none, BadCircuit for a wrong file."""
    if job_id not in job_ids(folder):
        raise unknown("job", job_id, job_ids(folder))
    return read_job(folder / "jobs" / file_name(job_id, ".toml"))


def read_job(file: Path) -> Job:
    """The job of a file; BadCircuit, naming file and field, where it is none."""
    where = short_path(file)
    try:
        content = tomllib.loads(file.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadCircuit(f"{where}: {error}") from error
    title = content.pop("title", None)
    if not isinstance(title, str) or not title:
        raise BadCircuit(f'{where}, title: expected title = "..." in its first lines (got {title!r})')
    if len(content) < 2:
        raise BadCircuit(f"{where}: a job has two circuits or more, a table each (got {len(content)})")
    for circuit, values in content.items():
        if not isinstance(values, dict):
            raise BadCircuit(f"{where}, {circuit}: expected a table [{circuit}] of values (got {values!r})")
        for name, value in values.items():
            if not isinstance(value, str):
                wrong = f'expected a value in quotes, such as "10 V" (got {value!r})'
                raise BadCircuit(f"{where}, {circuit}.{name}: {wrong}")
    return Job(title, MappingProxyType({name: MappingProxyType(values) for name, values in content.items()}))
