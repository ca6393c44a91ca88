"""The steps of a question, counted as it is worked out.

A bound on steps ends the same question at the same place on every machine, however busy that is; a clock would not.
Whoever works in a loop that a catalog or a question can make long calls `spend` before each stretch of it.
"""

from collections.abc import Callable, Hashable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from contextvars import ContextVar
from functools import lru_cache, wraps
from typing import Literal, TypeVar

T = TypeVar("T")

MOST_KEPT_STEPS = 400_000
"""Of one cache. Some hundred bytes are kept a step at most."""


_AT_LEAST_A_FIFTH = 5

Doing = Literal["chains", "feeds", "bills", "order", "wishes", "part"]
"""What steps are for: the chains at a spot, how feeds share their flow, the best bills, the bill nearest to an order,
which wishes conflict, why a part stands or not."""


class TooCostlyError(Exception):
    """The question needs more steps than it may take; `limit` is how many it may, `doing` what took the last ones."""

    def __init__(self, limit: int, doing: Doing) -> None:
        super().__init__(f"more than {limit} steps")
        self.limit = limit
        self.doing = doing


class AbandonedError(Exception):
    """Nobody waits for the answer any more."""


class Meter:
    """Counts the steps of one question. `limit`: how many it may take, None: any number.

    Another thread may call `abandon`; the next step then raises AbandonedError.
    """

    __slots__ = ("_most", "_was_abandoned", "counted", "doing", "limit", "spent")

    def __init__(self, limit: int | None = None) -> None:
        self.limit = limit
        self.spent = 0
        self.doing: Doing = "bills"
        self.counted: set[Hashable] = set()
        """The kept values that were counted already."""
        self._most: float = float("inf") if limit is None else limit
        self._was_abandoned = False

    def abandon(self) -> None:
        """End the work at its next step."""
        self._was_abandoned = True
        self._most = -1

    @contextmanager
    def part(self, parts: int) -> Iterator[None]:
        """Within the block the question may take its part of the steps that are left: that of one of so many parts that
        are still to come, or a fifth of all where that is more. Raises TooCostlyError past it, which leaves the rest to
        the other parts."""
        if self.limit is None:
            yield
            return
        most, left = self._most, self.limit - self.spent
        share = max(0, min(left, max(self.limit // _AT_LEAST_A_FIFTH, left // parts)))
        end = self.spent + share
        self._most = end
        try:
            yield
        except TooCostlyError:
            self.spent = end
            raise
        finally:
            self._most = most
            if self._was_abandoned:
                self._most = -1

    def spend(self, steps: int, doing: Doing) -> None:
        """Count these steps. Raises TooCostlyError past the limit, AbandonedError once abandoned."""
        self.spent += steps
        self.doing = doing
        if self.spent > self._most:
            if self._was_abandoned:
                raise AbandonedError
            raise TooCostlyError(self.limit or 0, doing)


_METER: ContextVar[Meter] = ContextVar("meter")
_PAUSE: ContextVar[Callable[[], None] | None] = ContextVar("pause", default=None)


def spend(steps: int, doing: Doing) -> None:
    """Count these steps of the question that is worked on here; without a meter nothing is counted."""
    meter = _METER.get(None)
    if meter is not None:
        meter.spend(steps, doing)


def spent() -> int:
    """The steps so far of the question that is worked on here; 0 without a meter."""
    meter = _METER.get(None)
    return 0 if meter is None else meter.spent


def kept(size: int, call: Callable[..., T], most_steps: int = MOST_KEPT_STEPS) -> Callable[..., T]:
    """Keep the newest values of a function of hashable arguments, each with the steps that it took.

    A value that is kept counts what it took to work out, once in a question (once in each value that another one is
    worked out from). So a question ends at the same place whether or not another one asked for the same before it. All
    are let go of once `most_steps` went into them: what takes steps takes memory.
    """

    in_all = 0
    own = latest = object()

    def measured(*args: Hashable) -> tuple[T, int, Doing]:
        nonlocal in_all, latest
        latest = object()
        meter = _METER.get(None)
        if meter is None:
            with metered(Meter()):
                return measured(*args)
        before, counted, meter.counted = meter.spent, meter.counted, set()
        try:
            value = call(*args)
        finally:
            meter.counted = counted
        steps, meter.spent = meter.spent - before, before
        in_all += steps
        return value, steps, meter.doing

    known = lru_cache(size)(measured)

    @wraps(call)
    def recalled(*args: Hashable) -> T:
        nonlocal in_all
        if in_all > most_steps:
            known.cache_clear()
            in_all = 0
        before = latest
        value, steps, doing = known(*args)
        if latest is not before:  # perhaps another thread's value is the one that is kept
            value, steps, doing = known(*args)
        meter = _METER.get(None)
        if meter is not None and (own, args) not in meter.counted:
            meter.counted.add((own, args))
            meter.spend(steps, doing)
        return value

    return recalled


def part(parts: int) -> AbstractContextManager[None]:
    """As of the meter of the question that is worked on here."""
    meter = _METER.get(None)
    return nullcontext() if meter is None else meter.part(parts)


@contextmanager
def metered(meter: Meter) -> Iterator[Meter]:
    """Count on this meter within the block."""
    token = _METER.set(meter)
    try:
        yield meter
    finally:
        _METER.reset(token)


def give_turn() -> None:
    """Let others have their turn where the work here gives way; long work that counts no steps calls it often."""
    pause = _PAUSE.get()
    if pause is not None:
        pause()


@contextmanager
def giving_way(pause: Callable[[], None]) -> Iterator[None]:
    """Have the work within the block pause so whenever it gives others their turn."""
    token = _PAUSE.set(pause)
    try:
        yield
    finally:
        _PAUSE.reset(token)
