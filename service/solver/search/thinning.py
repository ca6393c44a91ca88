"""Of many choices for a spot those that could stand in one of the best bills, found in columns of figures.

What goes is beaten, whatever both are completed with, by as many others (grouped: of other groups, or by one of its
own) as are wanted. What is left may be a few more than that: the rest of the ranking looks at them one by one.
"""

from bisect import bisect_left, insort
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from service.domain.work import spend
from service.solver.judge.arrays import combined, number_of, unique_ints, unique_rows
from service.solver.judge.chain_rows import Bools, Floats, Ints
from service.solver.judge.picked import CHAINS_A_STEP, Picked, alike_in
from service.solver.search.limits import Limits

_BLOCK = 64
_MOST_PIVOTS = 4
"""So many times as many choices as are wanted are held against the others of the same cost."""
_PART = 16
"""Of so many choices one is held against the others by what is worst."""
FEW = 64
"""So few choices are not worth thinning."""


Numbers = npt.NDArray[Any]


class RankingColumns(NamedTuple):
    """What choices are ranked by: columns. `worst`: None where nothing goes before the cost."""

    worst: Floats | None
    cost: Ints
    drop_kpa: Callable[[Ints], Floats] | None
    """Of the choices at some places; None where nothing flows."""
    text: Ints
    group: Ints


def worth_ranking(
    choices: Picked, limits: Limits, ranking: RankingColumns, wanted: int, *, grouped: bool, pieces_first: bool
) -> list[int]:
    """The places among these choices of those that may stand in one of the `wanted` best bills within the limits."""
    if choices.size <= FEW:
        return list(range(choices.size))
    spend(choices.size // CHAINS_A_STEP, "bills")
    needs, alike = _comparable(choices, limits, pieces_first=pieces_first)
    found = sorted(place for places in alike for place in _best_of(places, ranking, wanted, grouped=grouped))
    if len(alike) == 1 or len(found) <= wanted:
        return found
    places = np.array(found, np.int64)
    never_less: Numbers = (
        needs[places] if ranking.worst is None else np.column_stack((needs[places], ranking.worst[places]))
    )
    told = Deciders(ranking.cost[places], _drops_kpa(ranking, places), ranking.text[places], ranking.group[places])
    return sorted(found[place] for place, _ in _unbeaten(told, never_less, wanted))


def _comparable(choices: Picked, limits: Limits, *, pieces_first: bool) -> tuple[Ints, list[Ints]]:
    """What choices take of all that is limited and does not grow with their cost, and those that take the same: of
    these what costs no more is allowed wherever the other is."""
    needs = choices.needs(limits)
    if limits.max_price is not None:
        needs[:, 0] = choices.spent(limits).pieces if pieces_first else 0
    rows, kinds = unique_rows(needs)
    return needs, [np.flatnonzero(kinds == kind) for kind in range(len(rows))]


def _best_of(places: Ints, ranking: RankingColumns, wanted: int, *, grouped: bool) -> list[int]:
    """Of choices that are only told apart by what they are ranked by."""
    few = cheap if ranking.worst is None else partial(_unbeaten_by_many, ranking.worst)
    places = few(places, ranking.cost, ranking.group, wanted, grouped=grouped)
    worst = None if ranking.worst is None else ranking.worst[places]
    told = Deciders(ranking.cost[places], _drops_kpa(ranking, places), ranking.text[places], ranking.group[places])
    best = _Best(worst, told, wanted, grouped=grouped)
    left = best.in_order()
    size = _BLOCK
    while len(left):
        for place in left[:size].tolist():
            best.offer(place)
        left = best.without_beaten(left[size:])
        size *= 2
    return [int(places[index]) for index in best.kept]


def _drops_kpa(ranking: RankingColumns, places: Ints) -> Floats:
    return np.zeros(len(places)) if ranking.drop_kpa is None else ranking.drop_kpa(places)


def _unbeaten_by_many(worst: Floats, places: Ints, cost: Ints, group: Ints, wanted: int, *, grouped: bool) -> Ints:
    """Without many of those that `wanted` others (grouped: groups) undercut in what is worst and in cost."""
    before = None
    while len(places) != before and len(places) > _PART * wanted:
        before, few = len(places), len(places) // _PART
        own = worst[places]
        is_low = own <= np.partition(own, few)[few]
        cheapest = cheap(places[is_low], cost, group, wanted, grouped=grouped)
        if len(cheapest) < np.count_nonzero(is_low):
            places = places[is_low | (cost[places] <= cost[cheapest].max())]
    return places


class _Best:
    """Choices that are offered in the order of telling, and kept where too few of those before always beat them."""

    def __init__(self, worst: Floats | None, told: "Deciders", wanted: int, *, grouped: bool) -> None:
        self._worst = worst
        self._cost, self._drop_kpa, self._text, self._group = told
        self._wanted = wanted
        self._grouped = grouped
        self._costs: list[int] = []  # sorted; grouped: the least of each group
        self._lowest: dict[int, int] = {}
        self._ties: dict[int, list[int]] = {}
        self.kept: list[int] = []

    def in_order(self) -> Ints:
        keys = [self._text, self._drop_kpa, self._cost]
        return np.lexsort(keys if self._worst is None else [*keys, self._worst])

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


def unbeaten_apart(
    choices: Picked, limits: Limits, ranking: RankingColumns, wanted: int, *, by_flow: bool, pieces_first: bool
) -> Iterator[tuple[int, int]]:
    """Of choices that share their flow with others, the places of those that fewer than `wanted` (of other groups) beat
    whatever they share it with, and how many do.

    What is no worse and costs less beats, where no flow goes first; else (`by_flow`) what costs no more and loses no
    more at any flow.
    """
    spend(1 + choices.size // CHAINS_A_STEP, "bills")
    needs, _ = _comparable(choices, limits, pieces_first=pieces_first)
    never_less: Numbers = needs if ranking.worst is None else np.column_stack((needs, ranking.worst))
    cost = ranking.cost
    if not by_flow:
        unsure = np.arange(choices.size, 0, -1.0)  # of the same cost the drop decides, whatever it is
        told = Deciders(cost, unsure, np.arange(choices.size), ranking.group)
        yield from _unbeaten(told, never_less, wanted)
        return
    ways = choices.figures.ways.at(choices.places)
    lost: Numbers = np.hstack((never_less, ways.lengths_m, ways.losses_k))
    for own in alike_in(ways.has):
        told = Deciders(cost[own], np.zeros(len(own)), ranking.text[own], ranking.group[own])
        for place, beaten_by in _unbeaten(told, lost[own], wanted):
            yield int(own[place]), beaten_by


class Deciders(NamedTuple):
    """What decides between choices one after the other: columns. `group`: those of one count as one."""

    cost: Ints
    drop_kpa: Floats
    text: Ints
    group: Ints


def _unbeaten(told: Deciders, never_less: Numbers, wanted: int) -> Iterator[tuple[int, int]]:
    """The places of those that fewer than `wanted` groups beat, and how many do.

    What beats another has nothing more in any column of `never_less`, and costs less; or as much, with no greater drop
    and no later text.
    """
    cost, drop_kpa, text, group = told
    left = np.lexsort((text, drop_kpa, *never_less.T, cost))
    beaten_by = np.zeros(len(left), np.int64)
    by_group: dict[int, Bools] = {}
    while len(left):
        at = int(left[0])
        spend(1 + len(cost) // CHAINS_A_STEP, "bills")
        yield at, int(beaten_by[at])
        beats = (cost > cost[at]) | ((cost == cost[at]) & (drop_kpa >= drop_kpa[at]) & (text >= text[at]))
        beats &= combined(np.logical_and, never_less >= never_less[at], True)
        kind = int(group[at])
        beats &= group != kind
        known = by_group.get(kind)
        beaten_by += beats if known is None else beats & ~known
        by_group[kind] = beats if known is None else beats | known
        left = left[1:]
        left = left[beaten_by[left] < wanted]
