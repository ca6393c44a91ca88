"""Answers to questions that are asked again and again: kept as they went out, as a revision never changes."""

from collections import OrderedDict
from collections.abc import Hashable, Sequence
from dataclasses import dataclass

_LONGEST_BYTES = 512 * 1024
_OVERHEAD_BYTES = 6 * 1024
"""What an answer takes besides its content, at most: its headers and the question."""


@dataclass(frozen=True, eq=False)
class KeptAnswer:
    """An answer of status 200 with the headers that it went out with, encoded as it was; the detail it was asked in."""

    headers: Sequence[tuple[bytes, bytes]]
    content: bytes
    detail: str | None = None

    @property
    def size_bytes(self) -> int:
        return _OVERHEAD_BYTES + len(self.content)


class KeptAnswers:
    """The answers that were asked for last, so many bytes of them. For one thread."""

    def __init__(self, most_bytes: int) -> None:
        self._most_bytes = most_bytes
        self._kept: OrderedDict[Hashable, KeptAnswer] = OrderedDict()
        self._bytes = 0

    def get(self, key: Hashable) -> KeptAnswer | None:
        """Give an answer; None where it is not kept."""
        answer = self._kept.get(key)
        if answer is not None:
            self._kept.move_to_end(key)
        return answer

    def keep(self, key: Hashable, answer: KeptAnswer) -> None:
        """Keep an answer that is not too long; those that were not asked for longest make room."""
        if len(answer.content) > _LONGEST_BYTES:
            return
        before = self._kept.pop(key, None)
        self._bytes += answer.size_bytes - (0 if before is None else before.size_bytes)
        self._kept[key] = answer
        while self._bytes > self._most_bytes:
            self._bytes -= self._kept.popitem(last=False)[1].size_bytes
