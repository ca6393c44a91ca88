"""The valid bill nearest to an order: exact, and without building every bill.

Nearest is what takes the fewest changes, then the least change of price, then what comes first by price, pieces, drop,
chains and rail. The steps to a bill are settled one by one. Beginnings that need the same of what is shared and cost
the same are one; of those that need the same only the ones with the fewest changes go on, and of prices that are
above (or below) what is ordered whatever follows, only the lowest (the highest). Drop and chains are looked at last,
along the ways that lead to the nearest bills.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from typing import NamedTuple

from service.domain.orders import NOTHING, Cost, NearestBill, Order, plus
from service.domain.parts import Item
from service.solver.bills import build_bill
from service.solver.bundles import Bundle
from service.solver.counting import count
from service.solver.options import Choice
from service.solver.order_distance import Offer, Plan, Step, Units
from service.solver.tables import bits
from service.solver.unit_tables import UnitTable

_KEPT_TABLES = 2048


class _Way(NamedTuple):
    """How a beginning came about: the one before it, and the offer that was taken."""

    units: Units
    cost: Cost
    offer: Offer


_Labels = dict[Cost, list[_Way]]
_Level = dict[Units, _Labels]
"""Beginnings of bills by what they need of what is shared, and by what they cost."""


class _Tail(NamedTuple):
    """A beginning of a bill with what tells it from others of the same cost; sorted by its first three fields."""

    drop_kpa: float
    texts: tuple[str, ...]
    rail: str
    choices: tuple[Choice, ...]


class Approacher:
    """Tells how near the bills of a catalog come to orders; what choices need is worked out once."""

    def __init__(self, items: Mapping[str, Item]) -> None:
        self._items = items
        self._table_of = lru_cache(_KEPT_TABLES)(UnitTable)

    def approach(self, bundles: Sequence[Bundle], order: Order) -> "Approach":
        plans = [
            (bundle, Plan(world, bundle.limits, order, self._items, self._table_of))
            for bundle in bundles
            for world in bundle.worlds
            if not bundle.limits.limiting or count((world,), bundle.limits, grouped=False)
        ]
        return Approach(plans, order)


class Approach:
    """How near the bills of one layout come to an order."""

    def __init__(self, plans: Iterable[tuple[Bundle, Plan]], order: Order) -> None:
        bounded = [(_fewest_changes(plan), bundle, plan) for bundle, plan in plans]
        found = [(changes, bundle, plan) for changes, bundle, plan in bounded if changes is not None]
        self._plans = sorted(found, key=lambda bounded: bounded[0])
        self._order = order

    @property
    def fewest_changes(self) -> int | None:
        """No bill takes fewer changes; some bill takes that many unless a price is asked for. None without a bill."""
        return self._removing_all + self._plans[0][0] if self._plans else None

    @property
    def _removing_all(self) -> int:
        return sum(self._order.units.values())

    @cached_property
    def nearest(self) -> NearestBill | None:
        """The nearest bill; of two alike in everything, the one of the earlier placement."""
        best: tuple[tuple[object, ...], int, _Found, Bundle, Plan] | None = None
        changes_left: int | None = None
        for fewest, bundle, plan in self._plans:
            if changes_left is not None and fewest > changes_left:
                break
            found = _Search(plan, bundle.limits.max_price).nearest(fewest, changes_left)
            if found is None:
                continue
            rank = (*found.rank, plan.world.placement)
            if best is None or rank < best[0]:
                best, changes_left = (rank, found.cost.total, found, bundle, plan), found.cost.changes
        if best is None:
            return None
        rank, total, found, bundle, plan = best
        world, tail = plan.world, found.tail
        rail = next(rail for rail in world.rails if rail.sku == tail.rail)
        return NearestBill(
            bill=build_bill(world, rail, tail.choices, bundle.worlds, bundle.limits, grouped=False),
            changes=self._removing_all + found.cost.changes,
            price_change=total - self._order.list_price,
            rank=found.rank,
        )


def _fewest_changes(plan: Plan) -> int | None:
    """The least changes against an order from which all is removed, whatever the price; None without a bill."""
    beginnings: dict[Units, int] = {(0,) * len(plan.shared): 0}
    for step in plan.steps:
        fewest = plan.fewest_changes(step)
        following: dict[Units, int] = {}
        for units, changes in beginnings.items():
            for more, further in fewest.items():
                joined = plan.added(units, more, step.live)
                if joined is not None:
                    left, extra = joined
                    reached = changes + further + extra.changes
                    if reached < following.get(left, reached + 1):
                        following[left] = reached
        beginnings = following
    return min(beginnings.values(), default=None)


class _Found(NamedTuple):
    """The nearest bill of a world; `cost` against an order from which all is removed."""

    cost: Cost
    tail: _Tail
    rank: tuple[object, ...]


class _Search:
    """Looks for the nearest bill of one world, at most this dear where a price is given."""

    def __init__(self, plan: Plan, max_price: int | None) -> None:
        self._plan = plan
        self._max_price = max_price
        self._list_price = plan.order.list_price
        self._offers = [plan.offers(step, nearest_only=max_price is None) for step in plan.steps]
        self._rest = self._what_may_follow()
        self._levels: list[_Level] = []
        self._beyond: int | None = None  # the fewest changes of what was left for later

    def nearest(self, fewest: int, most: int | None) -> _Found | None:
        """The nearest bill, where it takes at least `fewest` and at most `most` changes.

        With a price to keep, the fewest changes may be too dear: then so many more are tried as are needed.
        """
        changes: int | None = fewest
        while changes is not None and (most is None or changes <= most):
            self._beyond = None
            self._settle(changes)
            labels = self._levels[-1].get((), {})
            if labels:
                return self._best_of(labels)
            changes = self._beyond
        return None

    def _what_may_follow(self) -> list[tuple[Cost, int]]:
        """After each step: the least that the other steps cost (each number by itself), and the highest price."""
        low, high = NOTHING, 0
        found = [(low, high)]
        for offers in reversed(self._offers[1:]):
            low = plus(
                low,
                Cost(
                    min(x.cost.changes + self._plan.changes_at_least(x.units) for x in offers),
                    min(x.cost.total for x in offers),
                    min(x.cost.price for x in offers),
                    0,
                ),
            )
            high += max(x.cost.total for x in offers)
            found.append((low, high))
        return found[::-1]

    def _settle(self, changes: int) -> None:
        """Take the steps, and keep what may end in a nearest bill of at most so many changes."""
        plan = self._plan
        level: _Level = {(0,) * len(plan.shared): {NOTHING: []}}
        self._levels = [level]
        for step, offers, (low, high) in zip(plan.steps, self._offers, self._rest, strict=True):
            following: _Level = {}
            for units, labels in level.items():
                for offer in offers:
                    joined = plan.added(units, offer.units, step.live)
                    if joined is None:
                        continue
                    left, extra = joined
                    further = plus(offer.cost, extra)
                    reached = following.setdefault(left, {})
                    for cost in labels:
                        reached.setdefault(plus(cost, further), []).append(_Way(units, cost, offer))
            level = {}
            for units, labels in following.items():
                kept = self._kept(units, labels, step, changes, low, high)
                if kept:
                    level[units] = kept
            self._levels.append(level)

    def _kept(self, units: Units, labels: _Labels, step: Step, changes: int, low: Cost, high: int) -> _Labels:
        """Of beginnings that need the same of what is shared, those that may become nearest."""
        at_least = self._plan.changes_so_far(units) + low.changes
        affordable = []
        spared = self._plan.spared(step.live)
        for cost in labels:
            if self._max_price is not None and cost.price + low.price - spared > self._max_price:
                continue
            if cost.changes + at_least > changes:
                beyond = cost.changes + at_least
                self._beyond = beyond if self._beyond is None else min(beyond, self._beyond)
                continue
            affordable.append(cost)
        if self._max_price is None and affordable:
            fewest = min(cost.changes for cost in affordable)
            affordable = [cost for cost in affordable if cost.changes == fewest]
            lowest, highest = self._list_price - high, self._list_price - low.total + spared
            affordable = list(_straddling(affordable, lowest, highest))
        cheapest: dict[tuple[int, int], Cost] = {}
        for cost in affordable:
            known = cheapest.setdefault((cost.changes, cost.total), cost)
            if cost < known:
                cheapest[cost.changes, cost.total] = cost
        return {cost: labels[cost] for cost in cheapest.values()}

    def _best_of(self, labels: _Labels) -> _Found:
        def rank(cost: Cost) -> tuple[int, int, int, int]:
            return cost.changes, abs(cost.total - self._list_price), cost.price, cost.pieces

        first = min(map(rank, labels))
        known: dict[tuple[int, Units, Cost], list[_Tail]] = {}
        ends = [
            (tail[:3], cost.total, tail, cost)
            for cost in labels
            if rank(cost) == first
            for tail in self._tails(len(self._levels) - 1, (), cost, known)
        ]
        _, _, tail, cost = min(ends, key=lambda end: end[:2])
        return _Found(cost, tail, (*first, *tail[:3]))

    def _tails(
        self, level: int, units: Units, cost: Cost, known: dict[tuple[int, Units, Cost], list[_Tail]]
    ) -> list[_Tail]:
        """The beginnings of that cost that may come first by drop, chains and rail."""
        if level == 0:
            return [_Tail(0.0, (), "", ())]
        key = (level, units, cost)
        if key not in known:
            step = self._plan.steps[level - 1]
            known[key] = _foremost(
                _join(before, own)
                for way in self._levels[level][units][cost]
                for own in _own_tails(step, way.offer)
                for before in self._tails(level - 1, way.units, way.cost, known)
            )
        return known[key]


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
    nearest_above = min((cost.total for cost in above), default=None)
    nearest_below = max((cost.total for cost in below), default=None)
    yield from (cost for cost in above if cost.total == nearest_above)
    yield from (cost for cost in below if cost.total == nearest_below)


def _own_tails(step: Step, offer: Offer) -> Iterator[_Tail]:
    """What an offer holds, as far as it may come first."""
    if step.table is None or step.component is None:
        rails = sorted(step.rails[place].sku for place in bits(offer.ways))
        yield _Tail(0.0, (), rails[0], ())
        return
    drops_kpa = step.component.drops_kpa
    least: float | None = None
    for choice in step.table.of(offer.ways):
        drop_kpa = drops_kpa.get(choice.runs, 0.0)
        if least is None or drop_kpa < least:
            least = drop_kpa
            yield _Tail(drop_kpa, choice.texts, "", (choice,))


def _join(one: _Tail, other: _Tail) -> _Tail:
    return _Tail(
        max(one.drop_kpa, other.drop_kpa),
        tuple(sorted(one.texts + other.texts)),
        one.rail or other.rail,
        one.choices + other.choices,
    )


def _foremost(tails: Iterable[_Tail]) -> list[_Tail]:
    """Without those that come after another one whatever both are completed with."""
    kept: list[_Tail] = []
    for tail in sorted(tails, key=lambda tail: tail[:3]):
        if not kept or (tail.texts, tail.rail) < (kept[-1].texts, kept[-1].rail):
            kept.append(tail)
    return kept
