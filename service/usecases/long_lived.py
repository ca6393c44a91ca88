"""What lives long and is large is kept from the garbage collector, which would look through it in the midst of answers.

A look through the whole heap stops every thread: about half a second with an edition of 10,000 items. Freezing what is
there costs nothing, but hides garbage as well. So the heap is looked through only when an edition was let go of, and
only so far as that one is not frozen.
"""

import gc
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from threading import Lock

_THRESHOLDS = (1_000, 10, 1_000)
_LOCK = Lock()
_frozen: set[int] = set()


@contextmanager
def uncollected() -> Iterator[None]:
    """No look through the heap meanwhile: what is made here is to stay, and each look would take longer.

    Threads may do so at the same time; the first that ends has the collector on again.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def settle(editions: Iterable[int]) -> None:
    """Take all that is there from the collector's sight, these editions among it: one was opened that is to stay."""
    with _LOCK:
        gc.set_threshold(*_THRESHOLDS)
        gc.freeze()
        _frozen.update(editions)


def forget(editions: Iterable[int]) -> None:
    """Collect editions that nothing leads to any more; caches of an edition lead to themselves."""
    with _LOCK:
        were_frozen = _frozen & set(editions)
        _frozen.difference_update(were_frozen)
        if were_frozen:
            gc.unfreeze()
        gc.collect()
        if were_frozen:
            gc.freeze()
