"""Looks for the bill of one world that is nearest to an order.

The steps are settled one by one, those that tie something first. Beginnings that need the same of the ties and cost
the same are one. Without a price to keep, only beginnings of bills with the fewest changes go on; of totals that are
above (or below) what is ordered whatever follows, only the lowest (the highest). Drop and chains are looked at last,
along the ways that lead to the nearest bills.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from operator import attrgetter, itemgetter
from typing import NamedTuple

from service.domain.orders import NOTHING, Cost, plus
from service.solver.options import Choice
from service.solver.orders.distance import Plan, Step
from service.solver.orders.ledger import Offer, Units
from service.solver.tables import Mask, bits


class _Way(NamedTuple):
    """How a beginning came about: the one before it, and the rails or choices that were taken."""

    units: Units
    cost: Cost
    ways: Mask


_Labels = dict[Cost, list[_Way]]
"""Beginnings that need the same of the ties, by what they cost."""
_Key = tuple[int, Units, Cost]


class Tail(NamedTuple):
    """What tells a beginning of a bill from others of the same cost."""

    drop_kpa: float
    texts: tuple[str, ...]
    rail: str
    choices: tuple[tuple[Step, Choice], ...]

    @property
    def order(self) -> tuple[float, list[str], str]:
        return self.drop_kpa, sorted(self.texts), self.rail


class Found(NamedTuple):
    """The nearest bill of a world; `rank` sorts the nearest first."""

    cost: Cost
    tail: Tail
    rank: tuple[object, ...]


class _Rest(NamedTuple):
    """What the steps that follow cost: each number of `low` is the least for itself, `high` is the highest total; had
    units of ties may lower totals and prices by `spared` more."""

    low: Cost
    high: int
    spared: int


class Search:
    """The search in one world. `max_price`: the most that the bill is to cost, None where any will do."""

    def __init__(self, plan: Plan, list_price: int, max_price: int | None) -> None:
        self._plan = plan
        self._list_price = list_price
        self._max_price = max_price
        self._steps = [(step, self._offers(step)) for step in (*plan.tied, *plan.free)]
        self._settled = NOTHING
        self._begun = [Tail(0.0, (), "", ())]
        for step, offers in [one for one in self._steps if _settles(*one)]:
            self._steps.remove((step, offers))
            self._settled = plus(self._settled, offers[0].cost)
            self._begun = _joined(self._begun, step, offers[0].ways)
        self._rests = self._what_may_follow()
        self._levels: list[dict[Units, _Labels]] = []
        self._beyond: int | None = None  # the fewest changes of what was left for later

    def nearest(self, most: int | None) -> Found | None:
        """The nearest bill that takes at most so many changes (None: any number), against an order without a unit.

        With a price to keep, the fewest changes may be too dear: then so many more are tried as are needed.
        """
        changes = self._plan.fewest_changes
        while changes is not None and (most is None or changes <= most):
            self._beyond = None
            self._settle(changes)
            labels = self._levels[-1].get(0)
            if labels:
                return self._best_of(labels)
            changes = self._beyond
        return None

    def _offers(self, step: Step) -> Sequence[Offer]:
        return step.toll.nearest if self._max_price is None else step.toll.offers

    def _what_may_follow(self) -> list[_Rest]:
        """The rest after each step."""
        low, high = NOTHING, 0
        found = [_Rest(low, high, 0)]
        for step, offers in reversed(self._steps[1:]):
            changes = 0  # of no use where only the fewest changes count
            if self._max_price is not None:
                changes = min([cost.changes - self._plan.may_save(units) for units, cost, _ in offers])
            totals = [offer.cost.total for offer in offers]
            low = plus(low, Cost(changes, min(totals), min([offer.cost.price for offer in offers]), 0))
            high += max(totals)
            found.append(_Rest(low, high, self._plan.may_spare(step)))
        return found[::-1]

    def _settle(self, changes: int) -> None:
        """Take the steps, and keep what may end in a nearest bill of at most so many changes."""
        level: dict[Units, _Labels] = {0: {self._settled: []}}
        self._levels = [level]
        for index, (step, offers) in enumerate(self._steps):
            on_the_way = self._plan.on_the_way[index + 1] if step.tied and self._max_price is None else None
            following: dict[Units, _Labels] = {}
            for units, labels in level.items():
                for more, cost, ways in offers:
                    joined = self._plan.joined(step, units + more)
                    if joined is None:
                        continue
                    left, extra = joined
                    further = plus(cost, extra) if step.tied else cost
                    if on_the_way is not None and not self._leads_on(labels, further, on_the_way.get(left)):
                        continue
                    reached = following.setdefault(left, {})
                    for before in labels:
                        reached.setdefault(plus(before, further), []).append(_Way(units, before, ways))
            level = {units: self._kept(index, units, labels, changes) for units, labels in following.items()}
            self._levels.append(level)

    def _leads_on(self, labels: _Labels, further: Cost, fewest: int | None) -> bool:
        """Whether beginnings of the fewest changes, which take as many, lead to such ones again at this cost."""
        before = next(iter(labels)).changes - self._settled.changes
        return fewest == before + further.changes

    def _kept(self, index: int, units: Units, labels: _Labels, changes: int) -> _Labels:
        """Of beginnings that need the same of the ties, those that may become nearest."""
        rest = self._rests[index]
        if self._max_price is not None:
            costs = list(self._affordable(rest, units, labels, self._max_price, changes))
        elif len(labels) > 1:
            lowest = self._list_price - rest.high
            costs = list(_straddling(labels, lowest, self._list_price - rest.low.total + rest.spared))
        else:
            return labels
        cheapest: dict[tuple[int, int], Cost] = {}
        for cost in costs:
            key = (cost.changes, cost.total)
            cheapest[key] = min(cost, cheapest.get(key, cost))
        return {cost: labels[cost] for cost in cheapest.values()}

    def _affordable(
        self, rest: _Rest, units: Units, labels: Iterable[Cost], max_price: int, changes: int
    ) -> Iterator[Cost]:
        """What does not cost more already, in so far as it may do with so many changes; and of what takes more changes
        than other beginnings only what is cheaper than these."""
        at_least = self._plan.changes_so_far(units) + rest.low.changes
        spent = max_price - rest.low.price + rest.spared
        cheapest: int | None = None  # of what takes fewer changes
        for needed, costs in groupby(sorted(labels), key=attrgetter("changes")):
            if needed + at_least > changes:
                beyond = needed + at_least
                self._beyond = beyond if self._beyond is None else min(beyond, self._beyond)
                return
            left = [cost for cost in costs if cost.price <= spent and (cheapest is None or cost.price < cheapest)]
            yield from left
            cheapest = min((cost.price for cost in left), default=cheapest)

    def _best_of(self, labels: _Labels) -> Found:
        def rank(cost: Cost) -> tuple[int, int, int, int]:
            return cost.changes, abs(cost.total - self._list_price), cost.price, cost.pieces

        first = min(map(rank, labels))
        known: dict[_Key, list[Tail]] = {}
        last = len(self._levels) - 1
        ends = [
            (tail.order, cost.total, cost, tail)
            for cost in labels
            if rank(cost) == first
            for tail in self._tails((last, 0, cost), known)
        ]
        order, _, cost, tail = min(ends, key=lambda end: end[:2])
        return Found(cost, tail, (*first, *order))

    def _tails(self, key: _Key, known: dict[_Key, list[Tail]]) -> list[Tail]:
        """The beginnings of that cost that may come first by drop, chains and rail."""
        level, units, cost = key
        if level == 0:
            return self._begun
        if key not in known:
            step, _ = self._steps[level - 1]
            found: list[Tail] = []
            for way in self._levels[level][units][cost]:
                found += _joined(self._tails((level - 1, way.units, way.cost), known), step, way.ways)
            known[key] = _foremost(found)
        return known[key]


def _settles(step: Step, offers: Sequence[Offer]) -> bool:
    """Whether a step ties nothing and leaves no choice but among what costs the same."""
    return not step.tied and len(offers) == 1


def _straddling(costs: Iterable[Cost], lowest: int, highest: int) -> Iterator[Cost]:
    """Of totals from `highest` on only the lowest, of those up to `lowest` only the highest; and all between."""
    above: list[Cost] = []
    below: list[Cost] = []
    for cost in costs:
        if cost.total >= highest:
            above.append(cost)
        elif cost.total <= lowest:
            below.append(cost)
        else:
            yield cost
    if above:
        least = min(cost.total for cost in above)
        yield from (cost for cost in above if cost.total == least)
    if below:
        most = max(cost.total for cost in below)
        yield from (cost for cost in below if cost.total == most)


def _joined(begun: list[Tail], step: Step, ways: Mask) -> list[Tail]:
    """The beginnings with the rails or choices of a step."""
    return _foremost([_join(one, own) for own in _own_tails(step, ways) for one in begun])


def _own_tails(step: Step, ways: Mask) -> Iterator[Tail]:
    """The rails or choices of a mask, as far as they may come first."""
    if step.table is None or step.component is None:
        yield Tail(0.0, (), min(step.rails[place].sku for place in bits(ways)), ())
        return
    drops_kpa = step.component.drops_kpa if step.component.flowing else {}
    least: float | None = None
    for choice in step.table.of(ways):
        drop_kpa = drops_kpa.get(choice.runs, 0.0)
        if least is None or drop_kpa < least:
            least = drop_kpa
            yield Tail(drop_kpa, choice.texts, "", ((step, choice),))


def _join(one: Tail, other: Tail) -> Tail:
    return Tail(
        max(one.drop_kpa, other.drop_kpa), one.texts + other.texts, one.rail or other.rail, one.choices + other.choices
    )


def _foremost(tails: list[Tail]) -> list[Tail]:
    """Without those that come after another one whatever both are completed with."""
    if len(tails) < 2:
        return tails
    kept: list[Tail] = []
    least: tuple[list[str], str] | None = None
    for (_, texts, rail), tail in sorted([(tail.order, tail) for tail in tails], key=itemgetter(0)):
        if least is None or (texts, rail) < least:
            least = (texts, rail)
            kept.append(tail)
    return kept
