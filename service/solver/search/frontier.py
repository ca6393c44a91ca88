"""The beginnings of bills that are worth going on with.

A beginning goes once as many others as are wanted (grouped: of other groups, or one of its own group) come before it
whatever both are completed with. They are offered in the order of telling, so that the better ones are there first.
"""

from bisect import bisect_left, insort
from collections.abc import Iterable
from operator import itemgetter
from typing import NamedTuple

from service.domain.work import spend
from service.solver.judge.options import Choice
from service.solver.search.limits import Limits, Needs

CostKey = tuple[int, int]


class Ranked(NamedTuple):
    """A beginning of a bill, or a whole one, sorted by its first five fields.

    `worst` is the greatest of what orders bills before their price (drop, lead time, minus what is left of a limit;
    else 0); `cost` is price and pieces in the order's sequence.
    """

    worst: float
    cost: CostKey
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
    if limits.scarce or (limits.max_price is not None and pieces_first):
        return _within_limits(in_order(one for one in ranked if limits.allow(one.needs)), wanted, grouped=grouped)
    if limits.max_price is not None:
        ranked = [one for one in ranked if limits.allow(one.needs)]
    return _by_cost(in_order(ranked), wanted, grouped=grouped)


def could_be_wanted(one: Kept, other: Kept, wanted: int) -> bool:
    """Whether both together can be among the best: all pairs of what beats either, or is it, come before."""
    return (one.beaten_by + 1) * (other.beaten_by + 1) <= wanted


def cheapest(kept: Iterable[Kept], wanted: int, *, grouped: bool) -> list[Kept]:
    """A quick look over what no limit holds, whatever is lost: fewer than `wanted` others (grouped: groups) cost less
    and have nothing worse before the cost."""
    left: list[Kept] = []
    costs: list[CostKey] = []  # sorted; grouped: of the cheapest of each group
    lowest: dict[tuple[object, ...], CostKey] = {}
    for _, one in sorted(kept, key=_by_worst_and_cost):
        cost = one.cost
        beaten_by = bisect_left(costs, cost)
        if beaten_by >= wanted:
            continue
        left.append(Kept(beaten_by, one))
        known = lowest.get(one.group) if grouped else None
        if known is None or cost < known:
            if known is not None:
                costs.remove(known)
            lowest[one.group] = cost
            insort(costs, cost)
    return left


def _by_worst_and_cost(kept: Kept) -> tuple[float, CostKey]:
    return kept.ranked[:2]


def _by_cost(ranked: Iterable[Ranked], wanted: int, *, grouped: bool) -> list[Kept]:
    """Where cost holds all that is limited it decides; among equal costs drop and texts."""
    kept: list[Kept] = []
    costs: list[CostKey] = []  # sorted; grouped: of the cheapest of each group
    lowest: dict[tuple[object, ...], CostKey] = {}
    of_cost: dict[CostKey, list[Ranked]] = {}
    of_group: dict[tuple[object, ...], list[Ranked]] = {}
    for one in ranked:
        cost, group = one.cost, one.group
        if grouped and any(map(one.is_always_after, of_group.get(group, ()))):
            continue
        beaten_by = bisect_left(costs, cost)
        if beaten_by >= wanted:
            continue
        ties = of_cost.get(cost)
        spend(1 + len(ties or ()), "bills")
        if ties is None:
            of_cost[cost] = [one]
        else:
            before = [other for other in ties if one.is_always_after(other)]
            beaten_by += len({x.group for x in before if lowest[x.group] == cost}) if grouped else len(before)
            if beaten_by >= wanted:
                continue
            ties.append(one)
        kept.append(Kept(beaten_by, one))
        if not grouped:
            insort(costs, cost)
            continue
        of_group.setdefault(group, []).append(one)
        known = lowest.get(group)
        if known is None or cost < known:
            if known is not None:
                costs.remove(known)
            lowest[group] = cost
            insort(costs, cost)
    return kept


def _within_limits(ranked: Iterable[Ranked], wanted: int, *, grouped: bool) -> list[Kept]:
    """Only what also needs no more of anything limited beats another."""
    kept: list[Kept] = []
    for one in ranked:
        spend(1 + len(kept), "bills")
        better = [other for _, other in kept if one.is_always_after(other)]
        if grouped and any(other.group == one.group for other in better):
            continue
        beaten_by = len({other.group for other in better}) if grouped else len(better)
        if beaten_by < wanted:
            kept.append(Kept(beaten_by, one))
    return kept
