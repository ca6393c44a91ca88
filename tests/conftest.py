"""What all tests share."""

import gc
import os


def pytest_xdist_auto_num_workers() -> int:
    """Two processes for each processor: half of the time a test waits for a server, a database or a browser."""
    return 2 * (os.cpu_count() or 1)


def pytest_collection() -> None:
    """What is collected stays: looking for garbage in it takes an eighth of the time."""
    gc.disable()


def pytest_collection_finish() -> None:
    gc.freeze()
    gc.enable()
