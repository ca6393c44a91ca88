"""What the processes of one service share: a folder, and in it which revision they answer from."""

import asyncio
import logging
import os
import shutil
import signal
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import anyio
import anyio.to_thread

from service.storage.engine import Database
from service.storage.errors import StorageError
from service.usecases.announced import Announced
from service.usecases.library import Library

if TYPE_CHECKING:
    from service.storage.listening import Listener  # needs the driver, which not everybody has

_LISTEN_AGAIN_S = 1.0

ANNOUNCED = "PORTWRIGHT_ANNOUNCED_FILE"
"""The variable that tells a process where the others announce their revision; `serve` sets it for its own."""

COUNTED = "PROMETHEUS_MULTIPROC_DIR"
"""The variable that tells a process in which folder the others count, as the client library of Prometheus names it."""

_log = logging.getLogger("uvicorn.error")


@contextmanager
def shared_folder() -> Iterator[Path | None]:
    """Have all processes that are started within the block answer from no older revision than any of them.

    Gives the folder that they share, which is gone afterwards, after SIGTERM too; None where there is no place for one.
    """
    try:
        folder = Path(tempfile.mkdtemp(prefix="portwright-"))
    except OSError as error:
        _log.warning("there is no place for what processes share (%s): this one does all by itself", error)
        yield None
        return

    def end_at_signal(number: int, _: object) -> None:
        """Clear the folder, then end as the signal is meant to: the server passes it on once it has stopped."""
        shutil.rmtree(folder, ignore_errors=True)
        signal.signal(number, signal.SIG_DFL)
        signal.raise_signal(number)

    before = signal.signal(signal.SIGTERM, end_at_signal)
    counted = folder / "counted"
    counted.mkdir()
    file = folder / "announced"
    Announced.prepare(file)
    os.environ[ANNOUNCED], os.environ[COUNTED] = str(file), str(counted)
    try:
        yield folder
    finally:
        signal.signal(signal.SIGTERM, before)
        os.environ.pop(ANNOUNCED, None)
        os.environ.pop(COUNTED, None)
        shutil.rmtree(folder, ignore_errors=True)


def announced_here() -> Announced:
    """What the processes of this service announce; of this one alone, where it shares nothing."""
    file = os.environ.get(ANNOUNCED)
    return Announced(None if file is None else Path(file))


async def keep_up(library: Library, every_s: float) -> None:
    """Have the library follow what is published, so that whoever asks here next need not wait for that."""
    while True:
        await asyncio.sleep(every_s)
        with suppress(StorageError):  # whoever asks meets the same, and is told
            await anyio.to_thread.run_sync(library.follow, abandon_on_cancel=True)


async def hear(library: Library, database: Database) -> None:
    """Have the library follow at once when the database tells of a new revision; one that cannot tell is left alone.

    What is missed while there is no connection is found by `keep_up`.
    """
    while not database.is_sqlite:
        with suppress(StorageError):
            listener = await anyio.to_thread.run_sync(database.listener, abandon_on_cancel=True)
            if listener is not None:
                await _follow_at_word(library, listener)
        await asyncio.sleep(_LISTEN_AGAIN_S)


async def _follow_at_word(library: Library, listener: "Listener") -> None:
    """Follow at each word. Raises StorageError when the connection is lost."""
    try:
        while True:
            await anyio.wait_readable(listener)
            if listener.heard():
                with suppress(StorageError):
                    await anyio.to_thread.run_sync(partial(library.follow, was_told=True), abandon_on_cancel=True)
    finally:
        listener.close()
