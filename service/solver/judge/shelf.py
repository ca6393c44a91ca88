"""Keeps what was worked out for a key, so much in all, where a plain memo of so many values would not do."""

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock
from typing import Generic, TypeVar

V = TypeVar("V")


class Shelf(Generic[V]):
    """Holds values by their keys while they weigh no more than `most` together, a single one whatever it weighs; those
    that were not asked for longest make room. Safe to share by threads."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.weight = 0
        self._kept: OrderedDict[Hashable, tuple[V, int]] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        return len(self._kept)

    def get(self, key: Hashable) -> V | None:
        """The value of a key; None where it is not kept."""
        with self._lock:
            try:
                self._kept.move_to_end(key)
            except KeyError:
                return None
            return self._kept[key][0]

    def put(self, key: Hashable, value: V, weight: int) -> V:
        """Keep a value that weighs so much, unless another thread's is kept by now; the one that is kept."""
        with self._lock:
            known = self._kept.get(key)
            if known is not None:
                return known[0]
            self._kept[key] = value, weight
            self.weight += weight
            while self.weight > self.most and len(self._kept) > 1:
                self.weight -= self._kept.popitem(last=False)[1][1]
            return value
