"""The same work over many items: in this process, over a pool of processes, or over a Dask cluster that is there.

Results come in the order of the items, as soon as they can; only a few items are under way at a time, so that memory
does not grow with their number. What is run must be a function that another process can import, its arguments and
results small values (`functools.partial` for what stays the same); it writes its own files.
Place in the data flow: drafts or workings -> results, one each.
"""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from itertools import islice
from typing import TypeVar

import tutor
from tutor.errors import OutOfRange, SteadyrailError

Item = TypeVar("Item")
Result = TypeVar("Result")
Progress = Callable[[int], object]  # told how many are done

AHEAD = 3  # items under way for each process: one worked on, one waiting, one to be sent


def processors() -> int:
    """How many processes make sense on this machine."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def run_all(
    function: Callable[[Item], Result],
    items: Iterable[Item],
    *,
    processes: int = 0,
    cluster: str = "",
    progress: Progress | None = None,
) -> Iterator[Result]:
    """`function` of every item, in order. `processes` 0: one for each processor; 1: here, in this process.

    With `cluster` (tcp://host:port) the work runs on the Dask cluster there, which needs the extra `cluster`.
    What the function raises is raised here, in its item's turn. SteadyrailError when a worker dies, when there is no
    cluster at the address, or when it runs another version; OutOfRange for fewer than no processes.
    """
    if processes < 0:
        raise OutOfRange(f"the number of processes cannot be below zero (got {processes})")
    if cluster:
        results = _cluster_runner()(cluster, function, items)
    elif (processes or processors()) == 1:
        results = map(function, items)
    else:
        results = _over_pool(function, items, processes or processors())
    for done, result in enumerate(results, 1):
        if progress is not None:
            progress(done)
        yield result


def _cluster_runner() -> Callable[[str, Callable[[Item], Result], Iterable[Item]], Iterator[Result]]:
    try:
        return tutor.over_cluster
    except ImportError as error:
        raise SteadyrailError(
            "a cluster needs the package 'distributed': pip install 'steadyrail[cluster]'"
        ) from error


def _over_pool(
    function: Callable[[Item], Result], items: Iterable[Item], processes: int
) -> Iterator[Result]:
    # Spawned, not forked: alike on every system, and nothing of this process (open files, threads) is copied.
    executor = ProcessPoolExecutor(
        processes, mp_context=multiprocessing.get_context("spawn"), initializer=_end_with_the_parent
    )
    try:
        yield from in_order(lambda item: executor.submit(function, item), items, AHEAD * processes, Future.result)
    except BrokenProcessPool as error:
        raise SteadyrailError(
            "a worker process ended before its work was done (killed, or out of memory); what is finished is kept: run "
            "the same command again, with fewer processes if memory is short"
        ) from error
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


def _end_with_the_parent() -> None:
    """A worker whose parent is killed would wait for work for ever: it watches the parent, and ends with it."""
    parent = multiprocessing.parent_process()
    assert parent is not None, "this is said to workers alone"

    def watch() -> None:
        parent.join()
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


Waiting = TypeVar("Waiting")


def in_order(
    submit: Callable[[Item], Waiting],
    items: Iterable[Item],
    ahead: int,
    result_of: Callable[[Waiting], Result],
) -> Iterator[Result]:
    """Results in the order of the items, never more than `ahead` of them under way."""
    coming = iter(items)
    waiting = deque(submit(item) for item in islice(coming, ahead))
    while waiting:
        first = waiting.popleft()
        yield result_of(first)
        waiting.extend(submit(item) for item in islice(coming, 1))
