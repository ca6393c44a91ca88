"""Keeps what was worked out for a key, where that has effects besides, which a plain memo would lose."""

from collections.abc import Hashable
from typing import Generic, TypeVar

V = TypeVar("V")


class Shelf(Generic[V]):
    """Holds so many values by their keys; a full one is emptied."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._kept: dict[Hashable, V] = {}

    def get(self, key: Hashable) -> V | None:
        return self._kept.get(key)

    def put(self, key: Hashable, value: V) -> None:
        if len(self._kept) >= self._size:
            self._kept.clear()
        self._kept[key] = value
