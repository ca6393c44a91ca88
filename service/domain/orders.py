"""An order beside the bills: what is ordered of the kinds that are compared, and what units of a bill cost then."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

COMPARED = frozenset({"rail", "fitting", "plug", "gauge", "line", "regulator"})
"""The kinds of which every unit counts; other things ordered are only looked at."""


class Cost(NamedTuple):
    """What units of a bill come to: changes of the order, the price of all sets, price and pieces of one bill.

    Prices in minor units, of what we sell. Changes are told against an order from which all is removed.
    """

    changes: int
    total: int
    price: int
    pieces: int


NOTHING = Cost(0, 0, 0, 0)


def plus(one: Cost, other: Cost) -> Cost:
    return Cost._make((one[0] + other[0], one[1] + other[1], one[2] + other[2], one[3] + other[3]))


@dataclass(frozen=True, eq=False)
class Order:
    """What is ordered for so many sets of a bill: units by SKU, of the compared kinds, and what they cost as listed.

    `had` are the units that the customer has, in all: they go before ordered ones and are not compared.
    """

    units: Mapping[str, int]
    had: Mapping[str, int]
    sets: int
    list_price: int

    def to_get(self, sku: str, needed: int) -> int:
        """How many units have to be got for all sets, where one bill needs so many."""
        return max(0, self.sets * needed - self.had.get(sku, 0))

    def plain(self, units: int, price: int) -> Cost:
        """The cost of units of which none are ordered or had; `price` of them together, unsold ones left out."""
        return Cost(self.sets * units, self.sets * price, price, units)

    def beyond_plain(self, sku: str, price: int, needed: int) -> Cost:
        """What so many units of a SKU cost more than plain ones; `price` of one, 0 where it is not sold."""
        had, ordered = self.had.get(sku, 0), self.units.get(sku, 0)
        got, plain, spared = self.to_get(sku, needed), self.sets * needed, min(needed, had)
        return Cost(abs(got - ordered) - ordered - plain, price * (got - plain), -price * spared, -spared)


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
    """How near a layout's bills come to an order: units to add and to remove, and what that does to the price."""

    layout: str
    added: int
    removed: int
    price_change: int

    @property
    def changes(self) -> int:
        return self.added + self.removed

    @property
    def verdict(self) -> Verdict:
        if self.added and self.removed:
            return "wrong"
        if self.added:
            return "short"
        return "surplus" if self.removed else "complete"
