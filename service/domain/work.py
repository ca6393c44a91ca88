"""The steps of a question, counted as it is worked out.

A bound on steps ends the same question at the same place on every machine, however busy that is; a clock would not.
Whoever works in a loop that a catalog or a question can make long calls `spend` before each stretch of it.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar


class TooCostlyError(Exception):
    """The question needs more steps than it may take; `limit` is how many it may."""

    def __init__(self, limit: int) -> None:
        super().__init__(f"more than {limit} steps")
        self.limit = limit


class AbandonedError(Exception):
    """Nobody waits for the answer any more."""


class Meter:
    """Counts the steps of one question. `limit`: how many it may take, None: any number.

    Another thread may call `abandon`; the next step then raises AbandonedError.
    """

    __slots__ = ("_most", "_was_abandoned", "limit", "spent")

    def __init__(self, limit: int | None = None) -> None:
        self.limit = limit
        self.spent = 0
        self._most: float = float("inf") if limit is None else limit
        self._was_abandoned = False

    def abandon(self) -> None:
        """End the work at its next step."""
        self._was_abandoned = True
        self._most = -1

    def spend(self, steps: int) -> None:
        """Count these steps. Raises TooCostlyError past the limit, AbandonedError once abandoned."""
        self.spent += steps
        if self.spent > self._most:
            if self._was_abandoned:
                raise AbandonedError
            raise TooCostlyError(self.limit or 0)


_METER: ContextVar[Meter] = ContextVar("meter")


def spend(steps: int) -> None:
    """Count these steps of the question that is worked on here; without a meter nothing is counted."""
    meter = _METER.get(None)
    if meter is not None:
        meter.spend(steps)


@contextmanager
def metered(meter: Meter) -> Iterator[Meter]:
    """Count on this meter within the block."""
    token = _METER.set(meter)
    try:
        yield meter
    finally:
        _METER.reset(token)
