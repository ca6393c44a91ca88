"""How the time that something takes grows with its input: at four times the size it must be about four times as long,
not sixteen times."""

import gc
import time
from collections.abc import Callable
from contextlib import suppress
from typing import Any

MOST_GROWTH = 11
"""Between the two; a step on the way, such as where larger blocks of memory begin to cost more, is not yet a square."""
_LEAST_S = 0.002
_RUNS = 3
_TRIES = 6


def assert_linear(work: Callable[[Any], object], made: Callable[[int], Any], size: int) -> None:
    """Time `work` on inputs of half a size and of twice the size; what it refuses counts as well.

    Processor time is taken, in turns, and the least of all runs is compared: what else the machine does counts little.
    """
    given = (made(size // 2), made(2 * size))
    times = max(1, int(_LEAST_S / max(_taken_s(work, given[0], 1), 1e-7)))
    least_s = [float("inf")] * 2
    for _ in range(_TRIES):
        for _ in range(_RUNS):
            least_s = [min(least, _taken_s(work, one, times)) for least, one in zip(least_s, given, strict=True)]
        if least_s[1] < MOST_GROWTH * least_s[0]:
            return
    raise AssertionError(f"from {size // 2} to {2 * size} it takes {least_s[1] / least_s[0]:.1f} times as long")


def _taken_s(work: Callable[[Any], object], given: Any, times: int) -> float:
    gc.collect(0)
    gc.disable()
    try:
        start = time.process_time()
        for _ in range(times):
            with suppress(Exception):
                work(given)
        return time.process_time() - start
    finally:
        gc.enable()
