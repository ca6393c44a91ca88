"""How the time that something takes grows with its input: at twice the size it must be about twice, not four times."""

import time
from collections.abc import Callable
from contextlib import suppress
from typing import Any

MOST_GROWTH = 2.6
_LEAST_S = 0.004
_RUNS = 5
_TRIES = 3


def assert_linear(work: Callable[[Any], object], made: Callable[[int], Any], size: int) -> None:
    """Time `work` on inputs of a size and of twice the size; what it refuses counts as well.

    The least of several runs is compared; a machine that is busy with others gets two more tries.
    """
    one, two = made(size), made(2 * size)
    growth = 0.0
    for _ in range(_TRIES):
        times = max(1, int(_LEAST_S / max(_taken(work, one, 1), 1e-7)))
        growth = min(_taken(work, two, times) for _ in range(_RUNS)) / min(
            _taken(work, one, times) for _ in range(_RUNS)
        )
        if growth < MOST_GROWTH:
            return
    raise AssertionError(f"at twice {size} it takes {growth:.1f} times as long")


def _taken(work: Callable[[Any], object], given: Any, times: int) -> float:
    start = time.perf_counter()
    for _ in range(times):
        with suppress(Exception):
            work(given)
    return time.perf_counter() - start
