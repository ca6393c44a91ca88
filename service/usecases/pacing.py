"""Work that gives way: while people wait for short answers, a long one takes a quarter of the time for itself."""

from collections.abc import Callable
from time import monotonic, sleep

from service.domain.work import Doing, Meter

_LOOK_STEPS = 100
"""So many steps may be taken between two looks at who waits."""
_WORK_S = 0.002
_PAUSES = 3
_LONGEST_PAUSE_S = 0.05


class PacedMeter(Meter):
    """A meter that pauses the work after each short while of it for as long as `gives_way` says."""

    __slots__ = ("_begun", "_gives_way", "_look_at")

    def __init__(self, limit: int | None, gives_way: Callable[[], bool]) -> None:
        super().__init__(limit)
        self._gives_way = gives_way
        self._look_at = _LOOK_STEPS
        self._begun = monotonic()

    def spend(self, steps: int, doing: Doing) -> None:
        """Count these steps, and pause where it is time to. Raises as any meter."""
        super().spend(steps, doing)
        self._look_at -= steps
        if self._look_at > 0:
            return
        self._look_at = _LOOK_STEPS
        worked_s = monotonic() - self._begun
        if worked_s > _WORK_S:
            if self._gives_way():
                sleep(min(worked_s * _PAUSES, _LONGEST_PAUSE_S))
            self._begun = monotonic()
