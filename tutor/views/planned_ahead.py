"""Plans of all that a site shows, made on every core before it is put together.

The first build on a machine plans every level and every set of own numbers, which takes minutes of algebra; they are
kept in the store, from which the build then reads. That all are there is kept in the store too, so that a later build
begins at once.
"""

from __future__ import annotations

import hashlib
import json

from tutor.generate.store_files import engine_digest, keep_stored, read_stored, store_folder
from tutor.sets.pool import processors, run_all
from tutor.solution.desk import Desk, our_desk
from tutor.solution.own_offer import own_offer
from tutor.solution.recipe_store import recipes_digest
from tutor.views.assemble import Progress

_OWN, _LEVELS = "own numbers", "levels"
_Work = tuple[str, str]


def plan_ahead(progress: Progress) -> None:
    """Make and keep the plans of everything at our desk, as far as they are not in the store. `progress` is told of
    each circuit and family. Does nothing on a machine with one core, where the build itself plans as it goes."""
    desk = our_desk()
    file = store_folder() / f"{_key(desk)}-planned.json"
    if processors() == 1 or read_stored(file) is not None:
        return
    work = _work(desk)

    def told(done: int) -> None:
        progress(done, len(work), "planning, once on this machine")

    told(0)
    for _ in run_all(_plan, work, progress=told):
        pass
    keep_stored(file, {"planned": len(work)})


def _work(desk: Desk) -> list[_Work]:
    """Own numbers of each circuit and levels of each family, those with the most parts first: they take longest, and
    no core waits for another at the end."""
    parts = {name: len(desk.circuit(name).parts) for name in desk.folder.circuit_ids()}
    own = [(size, (_OWN, name)) for name, size in parts.items()]
    levels = [(parts[desk.family(name).circuit_of(1)], (_LEVELS, name)) for name in desk.folder.family_ids()]
    return [item for _, item in sorted([*own, *levels], key=lambda pair: (-pair[0], pair[1]))]


def _plan(item: _Work) -> None:
    kind, name = item
    desk = our_desk()
    if kind == _OWN:
        own_offer(desk.folder, desk.circuit(name), [desk.family(other) for other in desk.folder.family_ids()])
        return
    for level in (1, 2, 3):
        desk.recipes(desk.level(name, level))


def _key(desk: Desk) -> str:
    """A digest of all that plans are made from."""
    told = hashlib.sha256(json.dumps([engine_digest(), recipes_digest()]).encode())
    for name, _, _ in desk.folder.stamps():
        told.update(desk.folder.file_bytes(name))
    return told.hexdigest()
