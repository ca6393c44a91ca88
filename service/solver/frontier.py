"""The beginnings of bills that are worth going on with.

A beginning goes once as many others as are wanted (grouped: of other groups, or one of its own group) come before it
whatever both are completed with. They are offered in the order of telling, so that the better ones are there first.
"""

from bisect import bisect_left, insort
from collections.abc import Iterable
from operator import itemgetter
from typing import NamedTuple

from service.solver.limits import Limits, Needs
from service.solver.options import Choice

Cost = tuple[int, int]


class Ranked(NamedTuple):
    """A beginning of a bill, or a whole one, sorted by its first five fields.

    `worst` is the greatest of what orders bills before their price (drop, lead time, minus what is left of a limit;
    else 0); `cost` is price and pieces in the order's sequence.
    """

    worst: float
    cost: Cost
    drop_kpa: float
    texts: tuple[str, ...]
    rail: str
    choices: tuple[Choice, ...]
    group: tuple[object, ...]
    needs: Needs

    def is_always_after(self, other: "Ranked") -> bool:
        """Whether `other`, not after this one as they stand, comes before it whatever both are completed with."""
        if other.worst > self.worst or (self.needs and not all(map(int.__le__, other.needs, self.needs))):
            return False
        if other.cost != self.cost:
            return other.cost < self.cost
        return other.drop_kpa <= self.drop_kpa and other.texts <= self.texts


SORT_KEY = itemgetter(0, 1, 2, 3, 4)


class Kept(NamedTuple):
    """A beginning that is kept, and how many others (grouped: other groups) are known to always come before it."""

    beaten_by: int
    ranked: Ranked


def in_order(ranked: Iterable[Ranked]) -> list[Ranked]:
    """In the order of telling."""
    return sorted(ranked, key=SORT_KEY)


def promising(
    ranked: Iterable[Ranked], limits: Limits, wanted: int, *, grouped: bool, pieces_first: bool
) -> list[Kept]:
    """What of these can still become one of the `wanted` best within the limits, in the order of telling."""
    cost_decides = not (limits.scarce or limits.had) and (limits.max_price is None or not pieces_first)
    frontier = _Frontier(wanted, cost_decides=cost_decides, grouped=grouped)
    for one in in_order(one for one in ranked if limits.allow(one.needs)) if limits.watching else in_order(ranked):
        frontier.offer(one)
    return frontier.kept


def could_be_wanted(one: Kept, other: Kept, wanted: int) -> bool:
    """Whether both together can be among the best: all pairs of what beats either, or is it, come before."""
    return (one.beaten_by + 1) * (other.beaten_by + 1) <= wanted


def cheapest(kept: Iterable[Kept], wanted: int, *, grouped: bool) -> list[Kept]:
    """A quick look over what no limit holds and no drop or lead time orders: fewer than `wanted` others cost less."""
    left: list[Kept] = []
    costs: list[Cost] = []
    known: set[tuple[object, ...]] = set()
    for _, one in sorted(kept, key=_cost_of):
        beaten_by = bisect_left(costs, one.cost)
        if beaten_by >= wanted:
            break
        left.append(Kept(beaten_by, one))
        if not grouped or one.group not in known:
            costs.append(one.cost)
            known.add(one.group)
    return left


def _cost_of(kept: Kept) -> Cost:
    return kept.ranked.cost


class _Frontier:
    def __init__(self, wanted: int, *, cost_decides: bool, grouped: bool) -> None:
        self.kept: list[Kept] = []
        self._wanted = wanted
        self._beating = self._beating_by_cost if cost_decides else self._beating_within_limits
        self._grouped = grouped
        self._costs: list[Cost] = []  # sorted; grouped: of the cheapest of each group
        self._cheapest: dict[tuple[object, ...], Cost] = {}
        self._of_cost: dict[Cost, list[Ranked]] = {}
        self._of_group: dict[tuple[object, ...], list[Ranked]] = {}

    def offer(self, one: Ranked) -> None:
        """Keep it unless it is beaten; all that was offered before is not after it as they stand."""
        if self._grouped and any(map(one.is_always_after, self._of_group.get(one.group, ()))):
            return
        beaten_by = self._beating(one)
        if beaten_by < self._wanted:
            self.kept.append(Kept(beaten_by, one))
            self._of_cost.setdefault(one.cost, []).append(one)
            self._of_group.setdefault(one.group, []).append(one)
            self._note_cost(one)

    def _note_cost(self, one: Ranked) -> None:
        if self._grouped:
            known = self._cheapest.get(one.group)
            if known is not None:
                if known <= one.cost:
                    return
                self._costs.remove(known)
            self._cheapest[one.group] = one.cost
        insort(self._costs, one.cost)

    def _beating_by_cost(self, one: Ranked) -> int:
        """Cost decides, since it holds all that is limited; among equal costs drop and texts."""
        cheaper = bisect_left(self._costs, one.cost)
        if cheaper >= self._wanted:
            return cheaper
        ties = [other for other in self._of_cost.get(one.cost, ()) if one.is_always_after(other)]
        if self._grouped:
            return cheaper + len({other.group for other in ties if self._cheapest[other.group] == one.cost})
        return cheaper + len(ties)

    def _beating_within_limits(self, one: Ranked) -> int:
        """Only what also needs no more of anything limited beats another."""
        better = [other for _, other in self.kept if one.is_always_after(other)]
        return len({other.group for other in better}) if self._grouped else len(better)
