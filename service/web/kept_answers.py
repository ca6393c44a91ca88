"""Answers to questions that are asked again and again: kept as they went out, as a revision never changes."""

from collections import OrderedDict
from threading import Lock

_MOST_BYTES = 16 * 1024 * 1024
_LONGEST_BYTES = 64 * 1024

Key = tuple[int, str]
"""The number of a revision, and the question."""


class KeptAnswers:
    """The answers that were asked for last, so many bytes of them. Safe to share by threads."""

    def __init__(self, most_bytes: int = _MOST_BYTES) -> None:
        self._most_bytes = most_bytes
        self._kept: OrderedDict[Key, bytes] = OrderedDict()
        self._bytes = 0
        self._lock = Lock()

    def get(self, key: Key) -> bytes | None:
        """Give an answer; None where it is not kept."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def keep(self, key: Key, answer: bytes) -> None:
        """Keep an answer that is not too long; those that were not asked for longest make room."""
        if len(answer) > _LONGEST_BYTES:
            return
        with self._lock:
            self._bytes += len(answer) - len(self._kept.pop(key, b""))
            self._kept[key] = answer
            while self._bytes > self._most_bytes:
                self._bytes -= len(self._kept.popitem(last=False)[1])
