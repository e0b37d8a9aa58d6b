"""The same work over a Dask cluster that is there already (extra `cluster`).

Loaded through `tutor.over_cluster` when a cluster is asked for, so that nobody else needs the package.
Every worker must have Steadyrail installed in the version that runs here: numbers are the same anywhere, and so papers
must be. Place in the data flow: as `pool.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any, TypeVar

from distributed import Client, Future
from distributed.comm.core import CommClosedError
from distributed.scheduler import KilledWorker

from tutor.errors import BadValue, SteadyrailError
from tutor.sets.kept import engine_version
from tutor.sets.pool import AHEAD, in_order

Item = TypeVar("Item")
Result = TypeVar("Result")

SECONDS_TO_ANSWER = 10


def over_cluster(address: str, function: Callable[[Item], Result], items: Iterable[Item]) -> Iterator[Result]:
    """`function` of every item on the cluster at an address, in order.

    What the function raises is raised here, in its item's turn. SteadyrailError when a worker dies, when there is no
    cluster at the address, or when it runs another version.
    """
    client = _client(address)
    try:
        _require_same_version(client, address)
        threads = sum(client.nthreads().values())

        def submit(item: Item) -> Any:
            # Not pure: the same work asked for twice is done twice, since its files may be gone.
            return client.submit(function, item, pure=False, retries=0)

        yield from in_order(submit, items, AHEAD * threads, _result)
    except (KilledWorker, CommClosedError) as error:
        raise SteadyrailError(
            f"a worker of the cluster at {address} ended before its work was done; what is finished is kept: run the "
            "same command again"
        ) from error
    finally:
        client.close()


def _result(future: Future) -> Any:
    found = future.result()
    future.release()
    return found


def _client(address: str) -> Client:
    try:
        return Client(address, timeout=SECONDS_TO_ANSWER, set_as_default=False)
    except (OSError, TimeoutError) as error:
        raise SteadyrailError(
            f"no Dask scheduler answers at {address}; start one, or leave the cluster out to work on this machine"
        ) from error
    except ValueError as error:
        raise BadValue(f"'{address}' is no address of a cluster; one looks like tcp://host:8786") from error


def _here() -> str:
    """The version on this machine: named apart from what every worker is asked."""
    return engine_version()


def _require_same_version(client: Client, address: str) -> None:
    try:
        versions = client.run(engine_version)
    except (ImportError, AttributeError) as error:
        raise SteadyrailError(
            f"a worker of the cluster at {address} lacks Steadyrail ({error}); install this version on all of them"
        ) from error
    if not versions:
        raise SteadyrailError(f"the cluster at {address} has no workers; start some")
    here = _here()
    others = sorted(worker for worker, version in versions.items() if version != here)
    if others:
        raise SteadyrailError(
            f"the worker {others[0]} runs another version of Steadyrail than this machine; install the same on all"
        )
