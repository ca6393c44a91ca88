"""The words of a revision: each reason is worded once, and kept for the answers after it.

A reason hangs on a part and its situation, of which the bills of an answer and the answers of a revision share most.
What is kept is bounded by count, what was not asked for longest going first, and it goes with its revision.
"""

import re
from collections.abc import Callable, Hashable, Iterable, Mapping
from functools import lru_cache
from typing import Any, TypeVar

from service.documents.answer import Reason
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.request import PartSituation, Request
from service.domain.revision import Revision
from service.explain.figures import figures
from service.explain.phrases import listed
from service.explain.reasons import broken
from service.rules import RULE_BY_ID, RULE_ORDER

T = TypeVar("T")
_KEPT = 6_000
"""So many things are kept at least, and twice as many at most; one takes a few kilobytes."""


class Told:
    """A reason in words, one object for all answers that have it.

    `rank`: its place in the order of telling; `short`: what tells it from others by its text, `whole` by its facts too.
    Its facts are written once somebody reads them.
    """

    __slots__ = ("_facts", "_reason", "_whole", "rank", "rule", "short", "text")

    def __init__(self, rule: str, text: str, facts: Mapping[str, Any]) -> None:
        self.rule = rule
        self.text = text
        self.rank = RULE_ORDER.get(rule, len(RULE_ORDER))
        self.short = f"{rule}\n{text}"
        self._facts = facts
        self._reason: Reason | None = None
        self._whole: str | None = None

    @classmethod
    def of(cls, reason: Reason) -> "Told":
        return cls(reason["rule"], reason["text"], reason["facts"])

    @property
    def reason(self) -> Reason:
        if self._reason is None:
            self._reason = {"rule": self.rule, "text": self.text, "facts": figures(self._facts)}
        return self._reason

    @property
    def whole(self) -> str:
        if self._whole is None:
            self._whole = f"{self.short}\n{self.reason['facts']}"
        return self._whole

    def saying(self, text: str) -> "Told":
        """The same of another text."""
        return Told(self.rule, text, self._facts)


class Words:
    """What was worded of one revision. Safe to share by threads: two of them may word the same, and one is kept."""

    def __init__(self, _: Revision) -> None:
        self._newer: dict[Hashable, Any] = {}
        self._older: dict[Hashable, Any] = {}
        self._broken: dict[int, tuple[Finding, Reason]] = {}
        self.in_order = lru_cache(_KEPT)(_in_order)
        self.at_all_spots = lru_cache(_KEPT)(_at_all_spots)

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What is made: the same for the same key, which has to hold all that it depends on."""
        known: T | None = self._newer.get(key)
        if known is None:
            known = self._older.get(key)
            if known is None:
                known = make()
            if len(self._newer) >= _KEPT:
                self._older, self._newer = self._newer, {}
            self._newer[key] = known
        return known

    def broken(self, finding: Finding) -> Reason:
        """The finding in the words of its rule broken; told apart by identity, as facts cannot be hashed."""
        known = self._broken.get(id(finding))
        if known is None:
            if len(self._broken) >= _KEPT:
                self._broken.clear()
            known = self._broken[id(finding)] = (finding, broken(finding))
        return known[1]


class Telling:
    """The words of one answer. `is_silent`: nobody reads its reasons."""

    def __init__(self, request: Request, revision: Revision, *, is_silent: bool = False) -> None:
        self.is_silent = is_silent
        self.request = request
        self.revision = revision
        self.parts = PartSituation.of(request)
        self.words = revision.once(Words)
        self.once = self.words.once
        asked = (request.chassis, request.layout, request.fuel, request.addons, request.clearances, request.gauge)
        self._asked = self.once((*asked, request.regulated_kpa, self.parts, is_silent), object)
        """Stands for all of the request that the words of a bill depend on, but for what flows."""

    def of_bill(self, kind: Hashable, bill: Bill, make: Callable[[], T]) -> T:
        """What is made of a bill, whatever flows in it; other requests find bills of the same parts."""
        key = (kind, self._asked, bill.rail, bill.rail_choices, bill.placement, bill.chains, *bill.duties.values())
        return self.once(key, make)

    def told(self, key: Hashable, find: Callable[[], Iterable[Finding]]) -> tuple[Told, ...]:
        """The reasons that are found; what has the same key is looked for once."""
        if self.is_silent:
            return ()
        return self.once(key, lambda: worded(find()))

    def cautioned(self, key: Hashable, make: Callable[[], Iterable[Reason]]) -> tuple[Told, ...]:
        """The cautions that are made; what has the same key is looked for once."""
        return self.once(key, lambda: tuple(map(Told.of, make())))


def worded(findings: Iterable[Finding]) -> tuple[Told, ...]:
    """Findings in the words of their rules kept."""
    return tuple([Told(found.rule, RULE_BY_ID[found.rule].reason(found.facts), found.facts) for found in findings])


def _in_order(reasons: tuple[Told, ...]) -> tuple[Told, ...]:
    """The reasons in the order of telling, each text once."""
    each: dict[str, Told] = {}
    for told in reasons:
        each.setdefault(told.short, told)
    return tuple(sorted(each.values(), key=_rank))


def _rank(told: Told) -> int:
    return told.rank


_AT_A_SPOT = re.compile(r"the (\S+) spot\b")


def _at_all_spots(reasons: tuple[Told, ...]) -> tuple[Told, ...]:
    """The reasons in their order, those that differ in the spot alone as one that names all of its spots."""
    alike: dict[str, list[Told]] = {}
    for told in reasons:
        named = _AT_A_SPOT.findall(told.short)
        alike.setdefault(_AT_A_SPOT.sub("\0", told.short) if len(named) == 1 else told.short, []).append(told)
    return tuple([_as_one(key, group) for key, group in alike.items()])


def _as_one(key: str, alike: list[Told]) -> Told:
    first = alike[0]
    if len(alike) == 1:
        return first
    spots = [spot for told in alike for spot in _AT_A_SPOT.findall(told.short)]
    _, text = key.replace("\0", f"the {listed(spots)} spots").split("\n", 1)
    return first.saying(text)
