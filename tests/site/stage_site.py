"""A study site of a few families of one stage, quick to build, from a problem folder of their own."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from tutor.solution.desk import open_desk, our_desk
from tutor.views.assemble import assemble
from tutor.views.site import build_site


def quiet(_done: int, _total: int, _what: str) -> None:
    """A build that nobody watches."""


def stage_site(tmp_path_factory: pytest.TempPathFactory, names: tuple[str, ...], levels: int = 1) -> Path:
    """A site of a few families of one stage, three problems a level, from a folder with that stage's circuits."""
    problems, ours = tmp_path_factory.mktemp("one") / "problems", our_desk()
    here = ours.circuit(ours.family(names[0]).circuit).stage
    stems = [stem for stem in ours.folder.circuit_stems() if ours.circuit(stem).stage == here]  # its lesson shows them
    wanted = [*(f"families/{name}" for name in names), *(f"circuits/{stem}" for stem in stems)]
    shutil.copytree(ours.folder.path / "parts", problems / "parts")
    for file in (f"{name.replace('-', '_')}.py" for name in wanted):
        (problems / file).parent.mkdir(exist_ok=True)
        shutil.copy(ours.folder.path / file, problems / file)
    content = assemble(open_desk(problems), 3, quiet)
    (stage,) = content.stages
    some = replace(stage, families=tuple(replace(family, levels=family.levels[:levels]) for family in stage.families))
    small = replace(content, stages=(some,))
    return build_site(small, tmp_path_factory.mktemp("built") / "site", quiet).path
