"""An order beside the bills: what is ordered of the kinds that are compared, and how near a bill comes to it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from service.domain.answer import Bill

COMPARED = frozenset({"rail", "fitting", "plug", "gauge", "line", "regulator"})
"""The kinds of which every unit counts; other things ordered are only looked at."""


class Cost(NamedTuple):
    """What units of a bill come to: changes of the order, the price of all sets, price and pieces of one bill.

    Prices in minor units, of what we sell.
    """

    changes: int
    total: int
    price: int
    pieces: int


NOTHING = Cost(0, 0, 0, 0)


def plus(one: Cost, other: Cost) -> Cost:
    return Cost(one[0] + other[0], one[1] + other[1], one[2] + other[2], one[3] + other[3])


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

    def beyond_plain(self, sku: str, price: int, needed: int) -> Cost:
        """What this count of units costs more than if none of them were ordered or had.

        `price`: of one unit, 0 where it is not sold. The cost is told against an order from which all of this SKU is
        removed; it changes no more once `settled_from` units are needed.
        """
        got, had, ordered = self.to_get(sku, needed), self.had.get(sku, 0), self.units.get(sku, 0)
        plain = self.sets * needed
        spared = min(needed, had)
        return Cost(abs(got - ordered) - ordered - plain, price * (got - plain), -price * spared, -spared)

    def settled_from(self, sku: str) -> int:
        had = self.had.get(sku, 0)
        return max(had, -(-(had + self.units.get(sku, 0)) // self.sets))


@dataclass(frozen=True, eq=False)
class NearestBill:
    """The valid bill of a layout that is nearest to an order.

    `changes` are units added and removed; `price_change` in minor units, over all sets; `rank` sorts the nearest first.
    """

    bill: Bill
    changes: int
    price_change: int
    rank: tuple[object, ...]
