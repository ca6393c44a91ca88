"""Work that gives way: while people wait for short answers, a long one takes but a part of the time for itself."""

from collections.abc import Callable
from time import monotonic, sleep

from service.domain.work import Doing, Meter

_LOOK_STEPS = 100
"""So many steps may be taken between two looks at who waits."""
_WORK_S = 0.002
PAUSES = 3
"""Somebody waits for this work too: it takes a quarter of the time."""
PAUSES_UNSEEN = 7
"""Nobody waits for a new edition, while the one before it answers."""
_LONGEST_PAUSE_S = 0.05


class Pace:
    """Pauses work after each short while of it, so many times as long, for as long as `gives_way` says."""

    __slots__ = ("_begun", "_gives_way", "_look_at", "_pauses")

    def __init__(self, gives_way: Callable[[], bool], pauses: int = PAUSES) -> None:
        self._gives_way = gives_way
        self._pauses = pauses
        self._look_at = _LOOK_STEPS
        self._begun = monotonic()

    def step(self, steps: int = 1) -> None:
        """Pause where it is time to, after so many more steps."""
        self._look_at -= steps
        if self._look_at > 0:
            return
        self._look_at = _LOOK_STEPS
        worked_s = monotonic() - self._begun
        if worked_s > _WORK_S:
            if self._gives_way():
                sleep(min(worked_s * self._pauses, _LONGEST_PAUSE_S))
            self._begun = monotonic()


class PacedMeter(Meter):
    """A meter of work that gives way."""

    __slots__ = ("pace",)

    def __init__(self, limit: int | None, gives_way: Callable[[], bool], pauses: int = PAUSES) -> None:
        super().__init__(limit)
        self.pace = Pace(gives_way, pauses)

    def spend(self, steps: int, doing: Doing) -> None:
        """Count these steps, and pause where it is time to. Raises as any meter."""
        super().spend(steps, doing)
        self.pace.step(steps)
