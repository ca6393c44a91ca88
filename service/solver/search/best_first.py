"""The best bills of a setup, one after the other, where what is had makes spots hang on each other.

A beginning is looked at by the least that any whole bill of it could be: what its units cost so far, and the least of
what is left to choose. So whole bills come out in the order of telling, and search ends with the last one wanted.
"""

from collections.abc import Callable, Sequence
from heapq import heapify, heappop, heappush
from itertools import count
from typing import NamedTuple

from service.domain.work import spend
from service.solver.search.frontier import CostKey, Ranked, in_order
from service.solver.search.limits import Limits

JoinRanked = Callable[[Ranked, Ranked], Ranked]
Settle = Callable[[Ranked], Ranked]
_Key = tuple[float, CostKey, float, tuple[str, ...], str]


class _Least(NamedTuple):
    """The least of what is left to choose, field by field."""

    worst: float
    cost: CostKey
    drop_kpa: float
    texts: tuple[str, ...]


def best_first(
    steps: Sequence[Sequence[Ranked]], limits: Limits, wanted: int, *, grouped: bool, join: JoinRanked, settle: Settle
) -> list[Ranked]:
    """The best whole bills, one choice from each step, at most `wanted` (grouped: of different groups), in order.

    `settle` adds to a beginning what its units beyond those that are had cost.
    """
    options = [_worth_trying(step, grouped=grouped) for step in steps]
    if not all(options):
        return []
    left = _left(options)
    serial = count()
    heap = [_node(one, 0, left, settle, next(serial)) for one in options[0] if limits.allow(one.needs)]
    heapify(heap)
    found: list[Ranked] = []
    groups: set[tuple[object, ...]] = set()
    while heap and len(found) < wanted:
        *_, depth, one = heappop(heap)
        if depth + 1 == len(options):
            if not grouped or one.group not in groups:
                groups.add(one.group)
                found.append(settle(one))
            continue
        spend(len(options[depth + 1]), "bills")
        for option in options[depth + 1]:
            longer = join(one, option)
            if limits.allow(longer.needs):
                heappush(heap, _node(longer, depth + 1, left, settle, next(serial)))
    return found


def _node(
    one: Ranked, depth: int, left: Sequence[_Least], settle: Settle, serial: int
) -> tuple[_Key, int, int, int, Ranked]:
    """A beginning with the least that it can become; of two alike the longer one first."""
    settled, rest = settle(one), left[depth]
    cost = settled.cost[0] + rest.cost[0], settled.cost[1] + rest.cost[1]
    key = (
        max(settled.worst, rest.worst),
        cost,
        max(settled.drop_kpa, rest.drop_kpa),
        tuple(sorted(one.texts + rest.texts)),
        one.rail,
    )
    return key, -depth, serial, depth, one


def _left(options: Sequence[Sequence[Ranked]]) -> list[_Least]:
    """For each step, the least of all steps behind it."""
    left = [_Least(float("-inf"), (0, 0), 0.0, ())]
    for step in reversed(options[1:]):
        behind = left[0]
        least = _Least(
            max(behind.worst, min(one.worst for one in step)),
            (
                behind.cost[0] + min(one.cost[0] for one in step),
                behind.cost[1] + min(one.cost[1] for one in step),
            ),
            max(behind.drop_kpa, min(one.drop_kpa for one in step)),
            behind.texts + min(one.texts for one in step),
        )
        left.insert(0, least)
    return left


def _worth_trying(step: Sequence[Ranked], *, grouped: bool) -> list[Ranked]:
    """Grouped, the choices that no other one of their group is always before."""
    if not grouped:
        return list(step)
    kept: dict[tuple[object, ...], list[Ranked]] = {}
    for one in in_order(step):
        alike = kept.setdefault(one.group, [])
        spend(1 + len(alike), "bills")
        if not any(map(one.is_always_after, alike)):
            alike.append(one)
    return [one for alike in kept.values() for one in alike]
