"""Of many choices for a spot those that could stand in one of the best bills, found in columns of figures.

What goes is beaten, whatever both are completed with, by as many others (grouped: of other groups, or by one of its
own) as are wanted. What is left may be a few more than that: the rest of the ranking looks at them one by one.
"""

from bisect import bisect_left, insort
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from service.domain.work import spend
from service.solver.chain_rows import Floats, Ints
from service.solver.columns import number_of, unique_ints, unique_rows
from service.solver.limits import Limits
from service.solver.picked import CHAINS_A_STEP, Picked

_BLOCK = 64
_MOST_PIVOTS = 4
"""So many times as many choices as are wanted are held against the others of the same cost."""
FEW = 24
"""So few choices are not worth thinning."""


class Standing(NamedTuple):
    """What choices are ranked by: columns. `worst`: None where nothing goes before the cost."""

    worst: Floats | None
    cost: Ints
    drop_kpa: Floats | None
    text: Ints
    group: Ints


def worth_ranking(
    choices: Picked, limits: Limits, standing: Standing, wanted: int, *, grouped: bool, pieces_first: bool
) -> list[int]:
    """The places among these choices of those that may stand in one of the `wanted` best bills within the limits."""
    if choices.size <= FEW:
        return list(range(choices.size))
    spend(choices.size // CHAINS_A_STEP, "bills")
    found: list[int] = []
    for places in _comparable(choices, limits, pieces_first=pieces_first):
        found += _best_of(places, standing, wanted, grouped=grouped)
    return sorted(found)


def _comparable(choices: Picked, limits: Limits, *, pieces_first: bool) -> Iterator[Ints]:
    """Choices taken apart by all that is limited and does not grow with their cost: of those together what costs no
    more is allowed wherever the other is."""
    places = np.arange(choices.size)
    needs = choices.needs(limits)
    if limits.max_price is not None:
        needs[:, 0] = choices.spent(limits).pieces if pieces_first else 0
    if not needs.shape[1]:
        yield places
        return
    rows, kinds = unique_rows(needs)
    for kind in range(len(rows)):
        yield places[kinds == kind]


def _best_of(places: Ints, standing: Standing, wanted: int, *, grouped: bool) -> list[int]:
    """Of choices that are only told apart by their standing."""
    if standing.worst is None:
        places = cheap(places, standing.cost, standing.group, wanted, grouped=grouped)
    best = _Best(standing, wanted, grouped=grouped)
    left = best.in_order(places)
    size = _BLOCK
    while len(left):
        for place in left[:size].tolist():
            best.offer(place)
        left = best.without_beaten(left[size:])
        size *= 2
    return best.kept


class _Best:
    """Choices that are offered in the order of telling, and kept where too few of those before always beat them."""

    def __init__(self, standing: Standing, wanted: int, *, grouped: bool) -> None:
        self._worst, self._cost, drop_kpa, self._text, self._group = standing
        self._drop_kpa = np.zeros(len(self._cost)) if drop_kpa is None else drop_kpa
        self._wanted = wanted
        self._grouped = grouped
        self._costs: list[int] = []  # sorted; grouped: the least of each group
        self._lowest: dict[int, int] = {}
        self._ties: dict[int, list[int]] = {}
        self.kept: list[int] = []

    def in_order(self, places: Ints) -> Ints:
        keys = [self._text[places], self._drop_kpa[places], self._cost[places]]
        return places[np.lexsort(keys if self._worst is None else [*keys, self._worst[places]])]

    def offer(self, place: int) -> None:
        cost, group = int(self._cost[place]), int(self._group[place]) if self._grouped else place
        known = self._lowest.get(group)
        if known is not None and known < cost:
            return
        beaten_by = bisect_left(self._costs, cost)
        if beaten_by >= self._wanted:
            return
        ties = self._ties.setdefault(cost, [])
        before = [other for other in ties if self._comes_after(place, other)]
        if known is not None and any(self._group[other] == group for other in before):
            return
        if beaten_by + len({int(self._group[other]) for other in before}) >= self._wanted:
            return
        spend(1 + len(ties) // CHAINS_A_STEP, "bills")
        self.kept.append(place)
        if known is None or cost < known:
            if known is not None:
                self._costs.remove(known)
                self._ties[known] = [x for x in self._ties[known] if self._group[x] != group]
            self._lowest[group] = cost
            insort(self._costs, cost)
        ties.append(place)

    def _comes_after(self, place: int, other: int) -> bool:
        return bool(self._drop_kpa[other] <= self._drop_kpa[place] and self._text[other] <= self._text[place])

    def without_beaten(self, places: Ints) -> Ints:
        """Those of them that are not yet known to be beaten."""
        cost = self._cost[places]
        beaten_by = np.searchsorted(np.array(self._costs, np.int64), cost)
        places, cost, beaten_by = (column[beaten_by < self._wanted] for column in (places, cost, beaten_by))
        drop_kpa, text = self._drop_kpa[places], self._text[places]
        for tied in unique_ints(cost)[0].tolist():
            told = {int(self._group[other]): other for other in reversed(self._ties.get(tied, []))}
            for other in list(told.values())[: _MOST_PIVOTS * self._wanted]:
                beaten_by += (cost == tied) & (self._drop_kpa[other] <= drop_kpa) & (self._text[other] <= text)
        found: Ints = places[beaten_by < self._wanted]
        return found


def cheap(places: Ints, cost: Ints, group: Ints, wanted: int, *, grouped: bool) -> Ints:
    """Those than which fewer than `wanted` others (grouped: groups) cost less."""
    most = wanted
    while most < len(places):
        own = cost[places]
        found: Ints = places[own <= np.partition(own, most - 1)[most - 1]]
        if not grouped or number_of(group[found]) >= wanted:
            return found
        most *= 4
    return places
