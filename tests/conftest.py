"""What all tests share."""

import gc
import os
import shutil
from pathlib import Path

_MEMORY = Path("/dev/shm")
_ROOM_BYTES = 2**30


def pytest_configure() -> None:
    """Have the files of tests in memory where there is plenty of it: a disk is waited for at each of the thousands of
    times that a database is written to."""
    if _MEMORY.is_dir() and os.access(_MEMORY, os.W_OK) and shutil.disk_usage(_MEMORY).free > _ROOM_BYTES:
        os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(_MEMORY))


def pytest_xdist_auto_num_workers() -> int:
    """Two processes for each processor: half of the time a test waits for a server, a database or a browser."""
    return 2 * (os.cpu_count() or 1)


def pytest_collection() -> None:
    """What is collected stays: looking for garbage in it takes an eighth of the time."""
    gc.disable()


def pytest_collection_finish() -> None:
    gc.freeze()
    gc.enable()
