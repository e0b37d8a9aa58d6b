"""Mutation testing: `nice python -m tests.mutation.run [FILE ...]` from the top folder; `--help` tells more.

Each file that mutation.toml lists is changed in one place at a time by an operator of cosmic-ray, and the tests listed
for it must notice. First the tests run on the file as it is, traced, which says which tests run which lines; a mutant
then gets those that run its line, cheapest first, and none once one has failed. One process is forked for each mutant
from one that has loaded all that does not rest on the file, so that a mutant costs about a second.

What survives is in survivors.toml with the reason why no test can, or need, kill it; what is not there is printed, and
the exit status is 1.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import click

from tests.mutation.child import Line, imports_of, module_name, resting_on, run_changed, run_traced
from tests.mutation.choosing import HERE, ROOT, Listed, Mutant, listed, read, sample, statement_lines
from tests.mutation.mutants import changed_line, changed_source, mutants_of

KILLED, SURVIVED, TIMEOUT = "killed", "survived", "timeout"
GRACE = 5.0


def explained() -> set[tuple[str, str, str]]:
    """File, line and change of every survivor that is explained."""
    kept = tomllib.loads(read(HERE / "survivors.toml"))
    return {(item["file"], item["line"], item["change"]) for item in kept["survivor"]}


def in_fork(work: Callable[[], object], seconds: int) -> object:
    """What the work gives, from a process of its own; None where it died or took more of a processor's time."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.setpgid(0, 0)
        os.close(reading)
        # Of the processor's time, not the clock's: others may want the machine.
        spent = int(time.process_time())
        resource.setrlimit(resource.RLIMIT_CPU, (spent + seconds, spent + seconds + 1))
        status = 1
        with contextlib.suppress(BaseException):
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, 1)
            os.dup2(nowhere, 2)
            os.write(writing, json.dumps(work()).encode())
            status = 0
        os._exit(status)
    os.close(writing)
    told = bytearray()
    while piece := os.read(reading, 1 << 16):
        told += piece
    os.waitpid(child, 0)
    os.close(reading)
    _end(child)  # and all that it started
    return json.loads(told) if told else None


def _end(child: int) -> None:
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child, signal.SIGKILL)


@dataclass(frozen=True)
class Baseline:
    """What tests do on files as they are: lines by test, lines while loading, seconds by test, modules loaded."""

    lines: dict[str, set[Line]]
    loading: set[Line]
    seconds: dict[str, float]
    loaded: list[str]


def baseline(items: list[Listed]) -> Baseline:
    """Run the tests of these files once, traced; they must pass."""

    def work() -> object:
        tests = dict.fromkeys(test for item in items for test in item.tests)
        traced = run_traced([item.path for item in items], list(tests))
        lines = {name: sorted(found | traced.shared[name.split("::")[0]]) for name, found in traced.lines.items()}
        return [traced.failed, lines, sorted(traced.loading), traced.seconds, list(sys.modules)]

    told = in_fork(work, 3600)
    if not isinstance(told, list):
        raise click.ClickException(f"the tests of {items[0].path} and what follows it came to no end")
    failed, lines, loading, seconds, loaded = told
    if failed:
        raise click.ClickException(f"tests fail on the files as they are: {failed[:3]}")
    by_test = {name: {(file, line) for file, line in found} for name, found in lines.items()}
    return Baseline(by_test, {(file, line) for file, line in loading}, seconds, loaded)


def load(names: list[str]) -> None:
    """Load modules before any process is forked that wants them."""
    for name in names:
        if name not in sys.modules:
            with contextlib.suppress(Exception):
                importlib.import_module(name)
    gc.collect()
    gc.freeze()


def of_others(loaded: list[str]) -> list[str]:
    """Those of the modules that are neither ours nor pytest's."""
    ours = {"tutor", "tests", "problems", "conftest", "__main__"}
    return [name for name in loaded if name.split(".")[0] not in ours and not name.startswith(("_pytest", "_hypo"))]


def not_resting_on(path: str, loaded: list[str]) -> list[str]:
    """Those of our modules that do not rest on a file."""
    away = resting_on(module_name(path), imports_of(ROOT / "tutor"))
    return [name for name in loaded if name.split(".")[0] == "tutor" and name not in away]


def chosen_tests(
    item: Listed, mutant: Mutant, code: str, known: Baseline, seconds: float, *, all_listed: bool = False
) -> list[str]:
    """The tests that run the changed statement, cheapest first, until so many seconds are full; at least one.

    With `all_listed` those listed for the file follow them: where results are kept, only the first to ask for one runs
    the lines that make it.
    """
    numbers = statement_lines(code).get(mutant.start[0], range(mutant.start[0], mutant.end[0] + 1))
    wanted = {(item.path, number) for number in numbers}
    reaching = {name for name, lines in known.lines.items() if lines & wanted}
    listed_ones = {name for name in known.seconds if name.startswith(item.tests)}
    every = all_listed or (not reaching and bool(known.loading & wanted))
    candidates = reaching | listed_ones if every else reaching
    rank = {name: (name not in reaching, name not in listed_ones, known.seconds[name]) for name in candidates}
    spent, kept = 0.0, []
    for name in sorted(candidates, key=rank.__getitem__):
        spent += known.seconds[name]
        if kept and spent > seconds:
            break
        kept.append(name)
    return kept


def outcome(item: Listed, code: str, mutant: Mutant, tests: list[str], config: dict) -> str:
    """What the tests say of a mutant."""
    text = changed_source(code, mutant)
    status = in_fork(lambda: run_changed(item.path, text, tests), config["timeout"])
    if status is None:
        return TIMEOUT
    return SURVIVED if status == 0 else KILLED


def of_file(item: Listed, known: Baseline, config: dict, store: Path, rounds: tuple[str, int | None, str]) -> dict:
    """All of a file: how many mutants there are, and what became of each that was run."""
    seed, size, only = rounds
    code = read(ROOT / item.path)
    all_mutants = mutants_of(code, config["excluded"], config["skipped_lines"])
    picked = sample(all_mutants, size or item.size, f"{seed}:{item.path}") if size != -1 else all_mutants
    picked = [mutant for mutant in picked if only in changed_line(code, mutant)]
    load(not_resting_on(item.path, known.loaded))
    some = [name for name in known.seconds if name.startswith(item.tests)][:3]
    if in_fork(lambda: run_changed(item.path, code, some), 600) != 0:
        raise click.ClickException(f"{item.path}: its tests do not pass on the file taken in as a mutant is")
    results = []
    for mutant in picked:
        begun = time.monotonic()
        tests = chosen_tests(item, mutant, code, known, config["seconds"])
        told = outcome(item, code, mutant, tests, config) if tests else SURVIVED
        if told == SURVIVED:
            more = chosen_tests(item, mutant, code, known, config["seconds_for_survivors"], all_listed=True)
            if len(more) > len(tests):
                told, tests = outcome(item, code, mutant, more, config), more
        if item.own_store:
            shutil.rmtree(store, ignore_errors=True)
        line = read(ROOT / item.path).splitlines()[mutant.start[0] - 1].strip()
        results.append({
            "file": item.path, "at": mutant.start[0], "line": line, "change": changed_line(code, mutant),
            "operator": mutant.operator, "told": told, "tests": len(tests),
            "seconds": round(time.monotonic() - begun, 2),
        })  # fmt: skip
    return {"file": item.path, "mutants": len(all_mutants), "results": results}


def told_of(report: dict, known: set[tuple[str, str, str]]) -> tuple[str, list[dict]]:
    """A row of the table, and the survivors that nobody explained."""
    results = report["results"]
    alive = [one for one in results if one["told"] == SURVIVED]
    new = [one for one in alive if (one["file"], one["line"], one["change"]) not in known]
    killed = len(results) - len(alive)
    row = f"{report['file']:44}{report['mutants']:8}{len(results):8}{killed:8}{len(alive) - len(new):11}{len(new):7}"
    return row, new


@click.command()
@click.argument("files", nargs=-1, metavar="[FILE]...")
@click.option("--all", "everything", is_flag=True, help="Every mutant, not a sample: hours.")
@click.option("--sample", "size", type=int, help="So many mutants of each file.")
@click.option("--seed", help="Another sample than that of mutation.toml.")
@click.option("--only", default="", help="Those mutants alone whose changed line has this in it.")
@click.option("--log", type=click.Path(path_type=Path), help="Append what became of each mutant, one JSON a line.")
def command(
    files: tuple[str, ...], everything: bool, size: int | None, seed: str | None, only: str, log: Path | None
) -> None:
    """Change the files named (all that are listed unless said) in one place at a time; print what no test noticed."""
    config = tomllib.loads(read(HERE / "mutation.toml"))
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    os.chdir(ROOT)
    store = os.environ.get("STEADYRAIL_STORE")
    wanted = [item for item in listed(config) if not files or any(name in item.path for name in files)]
    if not wanted:
        raise click.ClickException(f"no file of mutation.toml is called {', '.join(files)}")
    known, unexplained = explained(), []
    click.echo(f"{'file':44}{'mutants':>8}{'run':>8}{'killed':>8}{'explained':>11}{'alive':>7}")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HYPOTHESIS_STORAGE_DIRECTORY"] = folder
        rounds = (seed or config["seed"], -1 if everything else size, only)
        for own_store in (True, False):
            part = [item for item in wanted if item.own_store is own_store]
            if not part:
                continue
            if own_store:
                os.environ["STEADYRAIL_STORE"] = str(Path(folder) / "store")
            elif store is not None:
                os.environ["STEADYRAIL_STORE"] = store
            else:
                os.environ.pop("STEADYRAIL_STORE", None)
            common = baseline(part)
            load(of_others(common.loaded))
            for item in part:
                # A process for each file, since what is loaded beforehand depends on it.
                report = in_fork(partial(of_file, item, common, config, Path(folder) / "store", rounds), 24 * 3600)
                if not isinstance(report, dict):
                    raise click.ClickException(f"{item.path}: the run broke off; do its tests pass?")
                row, new = told_of(report, known)
                click.echo(row)
                for one in new:
                    told = f"{one['operator'].removeprefix('core/')}, {one['tests']} tests"
                    click.echo(f"    {one['at']}: {one['line']}\n      → {one['change']}   ({told})")
                unexplained += new
                if log:
                    with log.open("a", encoding="utf-8") as file:
                        file.writelines(json.dumps(one) + "\n" for one in report["results"])
    raise SystemExit(1 if unexplained else 0)


if __name__ == "__main__":
    command()
