"""An order beside the bills: what is ordered of the kinds that are compared, and what units of a bill cost then."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from typing import Literal, NamedTuple

from service.domain.parts import Item

COMPARED = frozenset({"rail", "fitting", "plug", "gauge", "line", "regulator"})
"""The kinds of which every unit that we sell counts; other things ordered are only looked at."""


def is_compared(item: Item) -> bool:
    """Whether units of an item in an order are held against those of a bill."""
    return item.sold and item.kind in COMPARED


class Cost(NamedTuple):
    """What units of a bill come to, the least first: changes of the order, then price and pieces of one bill.

    Prices in minor units, of what we sell. Changes are told against an order from which all is removed.
    """

    changes: int
    price: int
    pieces: int


NOTHING = Cost(0, 0, 0)


def plus(one: Cost, other: Cost) -> Cost:
    return Cost(one[0] + other[0], one[1] + other[1], one[2] + other[2])


def less(one: Cost, other: Cost) -> Cost:
    return Cost(one[0] - other[0], one[1] - other[1], one[2] - other[2])


@dataclass(frozen=True, eq=False)
class Order:
    """An order for a number of sets of a bill: units by SKU, of the compared kinds that we sell, and their list price.

    `had` are the units that the customer has, in all: they go before ordered ones and are not compared.
    """

    units: Mapping[str, int]
    had: Mapping[str, int]
    sets: int
    list_price: int

    def to_get(self, sku: str, needed: int) -> int:
        """How many units have to be got for all sets, where one bill needs so many."""
        return max(0, self.sets * needed - self.had.get(sku, 0))

    def least_beyond_plain(self, item: Item, needed: int) -> Cost:
        """A lower bound of `beyond_plain` that adds up: the bounds of some units never exceed the cost of all of them.

        Further units save ever less, unless some are had and some ordered: a had one saves a unit, an ordered one two.
        """
        cost = self.beyond_plain(item, needed)
        if item.sold and self.had.get(item.sku) and self.units.get(item.sku):
            return cost._replace(changes=-2 * self.sets * needed)
        return cost

    def most_that_count(self, sku: str) -> int:
        """From how many units of a SKU in a bill on further ones cost what plain ones do."""
        had, ordered = self.had.get(sku, 0), self.units.get(sku, 0)
        return max(had, ceil((ordered + had) / self.sets))

    def plain(self, sold_units: int, price: int, pieces: int) -> Cost:
        """The cost of pieces of which none are ordered or had: so many of them are sold by us, at `price` together."""
        return Cost(self.sets * sold_units, price, pieces)

    def beyond_plain(self, item: Item, needed: int) -> Cost:
        """What so many units of an item in a bill cost more than plain ones: had ones cost nothing, and of what we do
        not sell none is compared."""
        had, ordered = self.had.get(item.sku, 0), self.units.get(item.sku, 0)
        spared = min(needed, had)
        if not item.sold:
            return Cost(0, 0, -spared)
        got, plain = self.to_get(item.sku, needed), self.sets * needed
        return Cost(abs(got - ordered) - ordered - plain, -item.price * spared, -spared)


@dataclass(frozen=True, eq=False)
class Difference:
    """What makes an order into a bill: the units to add and to remove, and what that does to the price, minor units."""

    added: Counter[str]
    removed: Counter[str]
    price_change: int

    @property
    def changes(self) -> int:
        return self.added.total() + self.removed.total()


def difference(order: Order, needed: Mapping[str, int], items: Mapping[str, Item]) -> Difference:
    """The difference between an order and all sets of a bill that needs these units, of what we sell, beyond what is
    supplied."""
    got = Counter({sku: order.to_get(sku, units) for sku, units in needed.items()})
    ordered = Counter(order.units)
    price = sum(items[sku].price * units for sku, units in got.items())
    return Difference(got - ordered, ordered - got, price - order.list_price)


class Ordered(NamedTuple):
    """Units ordered under a SKU, and the SKU that they count as: a superseded one's last successor, else the same."""

    sku: str
    qty: int
    counts_as: str


@dataclass(frozen=True, eq=False)
class Reading:
    """How an order is read: its lines of known SKUs, each SKU once as first named, and what is compared of them."""

    lines: tuple[Ordered, ...]
    order: Order


Verdict = Literal["complete", "short", "surplus", "wrong", "impossible"]


class Nearness(NamedTuple):
    """How near a layout's bills come to an order: units to add and to remove, and what that does to the price.

    `swapped`: of these so many units are one part in another's place, each added and removed.
    """

    layout: str
    added: int
    removed: int
    swapped: int
    price_change: int

    @property
    def changes(self) -> int:
        return self.added + self.removed

    @property
    def edits(self) -> int:
        """The changes as people count them: a swap is one."""
        return self.changes - self.swapped

    @property
    def verdict(self) -> Verdict:
        if self.added and self.removed:
            return "wrong"
        if self.added:
            return "short"
        return "surplus" if self.removed else "complete"
