"""The best bills of a world, in order, without sorting all.

The components are joined one by one, and of the beginnings so far only those are kept that can still become one of
the best.
"""

from collections.abc import Callable, Iterable
from functools import lru_cache
from operator import attrgetter
from typing import NamedTuple

from service.domain.parts import Item
from service.solver.bundles import Bundle
from service.solver.frontier import SORT_KEY, Kept, Ranked, could_be_wanted, in_order, promising
from service.solver.limits import FREE, Limits, added, rail_price
from service.solver.options import Choice, Choices
from service.solver.worlds import World


class Order(NamedTuple):
    """How an order of bills reads a choice."""

    worst: Callable[[Choice], float]
    worst_of_rail: Callable[[Item], float]
    pieces_first: bool


def _none(_: object) -> float:
    return 0.0


def _rail_lead_days(rail: Item) -> float:
    return rail.lead_days if rail.sold else 0


ORDERS = {
    "price": Order(_none, _none, pieces_first=False),
    "pieces": Order(_none, _none, pieces_first=True),
    "drop": Order(attrgetter("drop_kpa"), _none, pieces_first=False),
    "lead": Order(attrgetter("lead_days"), _rail_lead_days, pieces_first=False),
}


class Ranker:
    """Ranks bills; what components without flow have to offer together is worked out once while no limit holds."""

    def __init__(self) -> None:
        self._free_beginnings = lru_cache(1024)(_beginnings)

    def best(self, bundle: Bundle, order_by: str, wanted: int, *, grouped: bool) -> list[tuple[Ranked, World]]:
        """The best bills of a bundle, at most `wanted` (grouped: of different groups), in order, with their worlds."""
        found = [
            (one, world)
            for world in bundle.worlds
            for one in self._of_world(world, bundle.limits, order_by, wanted, grouped)
        ]
        if len(bundle.worlds) > 1:
            found.sort(key=lambda ranked: SORT_KEY(ranked[0]))
        first: dict[tuple[object, ...], tuple[Ranked, World]] = {}
        for one, world in found:
            first.setdefault(one.group if grouped else (one.rail, one.texts), (one, world))
        return list(first.values())[:wanted]

    def _of_world(self, world: World, limits: Limits, order_by: str, wanted: int, grouped: bool) -> list[Ranked]:
        order = ORDERS[order_by]
        beginnings = self._free_beginnings if limits == FREE else _beginnings
        at_rest = tuple(component for component in world.components if not component.flowing)
        begun = beginnings(at_rest, limits, order_by, wanted, grouped)
        flowing = (component for component in world.components if component.flowing)
        rails = [Kept(0, _rail(rail, world.banks, limits, order)) for rail in world.rails]
        whole = _joined(rails, _continued(begun, flowing, limits, order, wanted, grouped), wanted)
        return in_order(one for one in whole if limits.allow(one.needs)) if limits.bounds else in_order(whole)


def _beginnings(
    components: tuple[Choices, ...], limits: Limits, order_by: str, wanted: int, grouped: bool
) -> list[Kept]:
    """The promising ways to choose for these components, from nothing."""
    nothing = Kept(0, Ranked(0.0, (0, 0), 0.0, (), "", (), (), tuple(0 for _ in limits.bounds)))
    return _continued([nothing], components, limits, ORDERS[order_by], wanted, grouped)


def _continued(
    beginnings: list[Kept], components: Iterable[Choices], limits: Limits, order: Order, wanted: int, grouped: bool
) -> list[Kept]:
    """The promising ways to go on through these components."""
    for component in components:
        singles = _singles(component, limits, order, wanted, grouped)
        joined = _joined(beginnings, singles, wanted)
        beginnings = promising(joined, limits, wanted, grouped=grouped, pieces_first=order.pieces_first)
    return beginnings


def _singles(component: Choices, limits: Limits, order: Order, wanted: int, grouped: bool) -> list[Kept]:
    found = (_single(choice, limits, order) for choice in component.all)
    return promising(found, limits, wanted, grouped=grouped, pieces_first=order.pieces_first)


def _single(choice: Choice, limits: Limits, order: Order) -> Ranked:
    cost = (choice.pieces, choice.price) if order.pieces_first else (choice.price, choice.pieces)
    return Ranked(
        order.worst(choice), cost, choice.drop_kpa, choice.texts, "", (choice,), choice.group, limits.of(choice)
    )


def _rail(rail: Item, banks: int, limits: Limits, order: Order) -> Ranked:
    price = rail_price(rail, banks)
    cost = (banks, price) if order.pieces_first else (price, banks)
    needs = limits.of_rail(rail, banks)
    return Ranked(order.worst_of_rail(rail), cost, 0.0, (), rail.sku, (), (rail.group,), needs)


def _joined(beginnings: list[Kept], singles: list[Kept], wanted: int) -> list[Ranked]:
    return [
        _join(beginning.ranked, single.ranked)
        for beginning in beginnings
        for single in singles
        if could_be_wanted(beginning, single, wanted)
    ]


def _join(one: Ranked, other: Ranked) -> Ranked:
    texts = one.texts + other.texts
    return Ranked(
        max(one.worst, other.worst),
        (one.cost[0] + other.cost[0], one.cost[1] + other.cost[1]),
        max(one.drop_kpa, other.drop_kpa),
        tuple(sorted(texts)) if one.texts and other.texts and one.texts[-1] > other.texts[0] else texts,
        one.rail or other.rail,
        one.choices + other.choices,
        one.group + other.group,
        added(one.needs, other.needs) if one.needs else (),
    )
