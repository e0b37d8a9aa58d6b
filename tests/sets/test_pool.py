"""The same work here, over processes and over a cluster: results in order, few under way, and clear ends."""

from __future__ import annotations

import math
import os
from collections.abc import Iterator

import dask
import pytest
from distributed import LocalCluster

import tutor
from tutor.errors import OutOfRange, SteadyrailError
from tutor.sets import cluster
from tutor.sets.kept import engine_version
from tutor.sets.pool import AHEAD, in_order, run_all

ITEMS = list(range(12))


def test_results_come_in_order_here_and_over_processes() -> None:
    told: list[int] = []
    assert list(run_all(math.exp, ITEMS, processes=1, progress=told.append)) == [math.exp(item) for item in ITEMS]
    assert told == list(range(1, 13))
    assert list(run_all(math.exp, ITEMS, processes=2)) == [math.exp(item) for item in ITEMS]


def test_few_items_are_under_way_at_a_time() -> None:
    """Items are taken from a class of any size only as results are: memory does not grow with it."""
    begun: list[int] = []
    results = in_order(lambda item: begun.append(item) or item, iter(range(10**9)), 5, lambda item: item * item)
    assert [next(results) for _ in range(3)] == [0, 1, 4]
    assert len(begun) == 5 + 2
    here: Iterator[float] = run_all(float, iter(range(10**9)), processes=1)
    assert next(here) == 0.0


def test_what_the_work_raises_is_raised_in_its_turn() -> None:
    for processes in (1, 2):
        results = run_all(math.sqrt, [4.0, -1.0, 9.0], processes=processes)
        assert next(results) == 2.0
        with pytest.raises(ValueError, match="math domain"):
            next(results)


def test_a_worker_that_dies_is_told_in_one_sentence() -> None:
    with pytest.raises(SteadyrailError) as caught:
        list(run_all(os._exit, [1], processes=2))
    assert caught.value.sentence.startswith("a worker process ended before its work was done (killed, or out of mem")
    with pytest.raises(OutOfRange, match="cannot be below zero"):
        next(run_all(math.exp, ITEMS, processes=-1))


@pytest.fixture(scope="module")
def here() -> Iterator[LocalCluster]:
    """A cluster in this process, spoken to as one on other machines is."""
    with LocalCluster(
        n_workers=1, threads_per_worker=2, processes=False, protocol="tcp", dashboard_address=":0"
    ) as found:
        yield found


def test_the_same_work_over_a_cluster(here: LocalCluster) -> None:
    told: list[int] = []
    found = list(run_all(math.exp, ITEMS, cluster=here.scheduler_address, progress=told.append))
    assert found == [math.exp(item) for item in ITEMS] and told == list(range(1, 13))
    assert len(ITEMS) > AHEAD * 2, "more than are under way at a time"
    with pytest.raises(ValueError, match="math domain"):
        list(run_all(math.sqrt, [-1.0], cluster=here.scheduler_address))


def test_a_cluster_with_another_version_is_refused(here: LocalCluster, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster, "_here", lambda: "another")
    with pytest.raises(SteadyrailError, match="runs another version of Steadyrail than this machine"):
        list(run_all(math.exp, ITEMS, cluster=here.scheduler_address))
    assert engine_version() != "another"


def test_a_worker_of_a_cluster_that_dies_is_told_in_one_sentence() -> None:
    with (
        dask.config.set({"distributed.scheduler.allowed-failures": 0}),
        LocalCluster(n_workers=1, threads_per_worker=1, dashboard_address=":0") as found,
        pytest.raises(SteadyrailError, match="ended before its work was done; what is finished is kept"),
    ):
        list(run_all(os._exit, [1], cluster=found.scheduler_address))


def test_where_there_is_no_cluster_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster, "SECONDS_TO_ANSWER", 0.3)
    with pytest.raises(SteadyrailError, match=r"^no Dask scheduler answers at tcp://127\.0\.0\.1:9; "):
        list(run_all(math.exp, ITEMS, cluster="tcp://127.0.0.1:9"))
    with pytest.raises(SteadyrailError, match="is no address of a cluster"):
        list(run_all(math.exp, ITEMS, cluster="nonsense://x"))


def test_without_the_extra_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> object:
        raise ImportError(name)

    monkeypatch.setattr(tutor, "__getattr__", missing)
    with pytest.raises(SteadyrailError, match=r"pip install 'steadyrail\[cluster\]'"):
        list(run_all(math.exp, ITEMS, cluster="tcp://127.0.0.1:9"))
