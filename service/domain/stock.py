"""Stock beside what a number of sets needs: what is short, when the rest comes, and how many sets ship at once."""

from collections.abc import Mapping
from typing import NamedTuple

from service.domain.orders import Order
from service.domain.parts import Item


class Stocked(NamedTuple):
    """The units of an item that have to be got, against its stock; `rest_days`: until the rest comes, 0 where none is
    short."""

    sku: str
    need: int
    in_stock: int
    short: int
    rest_days: int


class Ships(NamedTuple):
    """The number of whole sets for which all is in stock, and the days until the rest of them can follow."""

    now: int
    rest_days: int


def stocked(item: Item, need: int) -> Stocked:
    """The stock of an item that we sell beside so many units."""
    short = max(0, need - item.stock)
    return Stocked(item.sku, need, item.stock, short, item.lead_days if short else 0)


def stock_of(order: Order, needed: Mapping[str, int], items: Mapping[str, Item]) -> list[Stocked]:
    """The stock of each SKU of which all sets need more units than the customer has; `needed`: of one bill, of what we
    sell."""
    to_get = ((items[sku], order.to_get(sku, units)) for sku, units in needed.items())
    return [stocked(item, need) for item, need in to_get if need]


def ships(order: Order, needed: Mapping[str, int], items: Mapping[str, Item]) -> Ships:
    """When the sets of an order ship; what we do not sell is left out."""
    whole = [(items[sku].stock + order.had.get(sku, 0)) // units for sku, units in needed.items() if units]
    return Ships(min([order.sets, *whole]), max([one.rest_days for one in stock_of(order, needed, items)], default=0))
