"""The reasons of an answer: each is worded once, and known by its number from then on.

The bills of an answer share most of their parts, and a part most of its reasons with the next one.
"""

from collections.abc import Callable, Hashable, Iterable
from typing import Any, TypeVar

from service.documents.answer import Reason
from service.domain.findings import Finding
from service.domain.request import Request
from service.domain.revision import Revision
from service.explain.reasons import kept
from service.rules import RULE_ORDER

T = TypeVar("T")


class Telling:
    """The reasons of one answer. `reasons`: all that were worded, by number. `is_silent`: nobody reads them."""

    def __init__(self, request: Request, revision: Revision, *, is_silent: bool = False) -> None:
        self._is_silent = is_silent
        self.request = request
        self.revision = revision
        self.reasons: list[Reason] = []
        self._numbers: dict[tuple[str, str, str], int] = {}
        self._known: dict[Hashable, Any] = {}

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What is made, the same for the same key."""
        if key not in self._known:
            self._known[key] = make()
        known: T = self._known[key]
        return known

    def told(self, key: Hashable, find: Callable[[], Iterable[Finding]]) -> tuple[int, ...]:
        """The numbers of the reasons that are found; what has the same key is looked for once."""
        if self._is_silent:
            return ()
        return self.once(key, lambda: tuple([self.number(kept(finding)) for finding in find()]))

    def in_order(self, numbers: Iterable[int]) -> list[int]:
        """The numbers in the order of telling, each text once."""
        each: dict[tuple[str, str], int] = {}
        for number in numbers:
            reason = self.reasons[number]
            each.setdefault((reason["rule"], reason["text"]), number)
        return sorted(each.values(), key=self._rank)

    def number(self, reason: Reason) -> int:
        """The number of a reason; the same rule with the same text and facts has the same one."""
        number = self._numbers.setdefault((reason["rule"], reason["text"], str(reason["facts"])), len(self.reasons))
        if number == len(self.reasons):
            self.reasons.append(reason)
        return number

    def _rank(self, number: int) -> int:
        return RULE_ORDER[self.reasons[number]["rule"]]
