"""Who works at a sweep: this process alone, processes on all cores of this machine, or a cluster of machines.

All do the same tasks; what each finds is put together by its key, so that who found it makes no difference.
"""

import atexit
import multiprocessing
import os
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, CancelledError, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import AbstractContextManager, contextmanager
from functools import partial
from itertools import islice
from multiprocessing.connection import wait as wait_for
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread
from typing import Any

from service.usecases.sweep_work import Source, SourceFile, Task, get_ready, run

Found = dict[str, str]
Each = Callable[[Iterable[Task]], Generator[Found, None, None]]
"""Yields what is found of each task, in any order; closed, it gives up the rest."""
Workers = Callable[[Source], AbstractContextManager[Each]]
"""Has workers for a while who do the tasks of two catalogs."""

_FEW = 300
_AHEAD = 2
"""So many tasks a worker are given out before the first is done: nobody waits for the next one."""


class WorkersError(Exception):
    """Workers cannot be had, or are gone; the text says why, and what would be right."""


@contextmanager
def alone(source: Source) -> Iterator[Each]:
    """Work in this process."""
    yield lambda tasks: (run(source, task) for task in tasks)


def usual(questions: int) -> Workers:
    """Work in a process on each core, unless the questions are so few that they are asked while those begin."""
    cores = os.cpu_count() or 1
    return processes(cores) if cores > 1 and questions > _FEW else alone


def processes(count: int) -> Workers:
    """Work in so many processes of this machine, which end with this one."""

    @contextmanager
    def working(source: Source) -> Iterator[Each]:
        with TemporaryDirectory(prefix="portwright-sweep-") as folder:
            file = SourceFile.of(source, Path(folder) / "catalogs.json")
            context = multiprocessing.get_context("spawn")
            pool = ProcessPoolExecutor(count, mp_context=context, initializer=_begin)
            try:
                for _ in range(count):
                    pool.submit(get_ready, file)
                yield partial(_each, pool, count * _AHEAD, file)
            except BrokenProcessPool as error:
                raise WorkersError(f"a process of the sweep ended before its work was done: {error}") from error
            finally:
                pool.shutdown(cancel_futures=True)

    return working


def cluster(address: str, timeout_s: float = 10.0) -> Workers:
    """Work on the Dask cluster whose scheduler has this address, such as tcp://10.0.0.7:8786.

    Its workers need this same version of the service. Raises WorkersError.
    """

    @contextmanager
    def working(source: Source) -> Iterator[Each]:
        try:
            from distributed import Client
        except ImportError:
            raise WorkersError("a Dask cluster needs the extra 'dask': pip install 'portwright[dask]'") from None
        try:
            client = Client(address, timeout=timeout_s, set_as_default=False)
        except (OSError, ValueError) as error:
            raise WorkersError(f"no Dask scheduler answers at {address}: {error}") from error
        with client:
            count = sum(client.nthreads().values())
            if not count:
                raise WorkersError(f"the Dask scheduler at {address} has no workers")
            there = client.scatter(source, broadcast=True)
            with client.get_executor(pure=False) as pool:
                try:
                    yield partial(_each, pool, count * _AHEAD, there)
                except CancelledError as error:
                    raise WorkersError(f"the Dask cluster at {address} is gone") from error

    return working


def _each(pool: Executor, at_once: int, source: Any, tasks: Iterable[Task]) -> Generator[Found, None, None]:
    """Yield what comes of tasks as it comes, with no more than so many given out."""
    left = iter(tasks)
    given: set[Future[Found]] = {pool.submit(run, source, task) for task in islice(left, at_once)}
    try:
        while given:
            done, given = wait(given, return_when=FIRST_COMPLETED)
            given |= {pool.submit(run, source, task) for task in islice(left, len(done))}
            for future in done:
                yield future.result()
    finally:
        for future in given:
            future.cancel()


def _begin() -> None:
    """Begin a process of the pool.

    It ends at once when its parent is gone, which nobody else would tell it. So it does when its work is done: to let
    go of all that is open, object by object, takes seconds.
    """
    atexit.register(os._exit, 0)
    parent = multiprocessing.parent_process()
    if parent is not None:
        Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()


def _end_with(sentinel: int) -> None:
    wait_for([sentinel])
    os._exit(1)
