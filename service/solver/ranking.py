"""The best bills of a world, in order, without sorting all.

The components are joined one by one. Of the beginnings so far only those are kept that could still become one of the
best: a beginning goes once as many others as are wanted are at least as good whatever follows.
"""

from collections.abc import Callable, Iterable
from operator import attrgetter, itemgetter
from typing import NamedTuple

from service.domain.parts import Item
from service.solver.limits import Limits, Needs, added, rail_price
from service.solver.options import Choice, Choices
from service.solver.worlds import World


class Ranked(NamedTuple):
    """A beginning of a bill, or a whole one. Sorted by its first five fields, then the rail's SKU.

    `worst` is the greatest of what orders bills before their price (drop or lead time; else 0); `first` and `second`
    are price and pieces in the order's sequence.
    """

    worst: float
    first: int
    second: int
    drop_kpa: float
    texts: tuple[str, ...]
    rail: str
    choices: tuple[Choice, ...]
    group: tuple[object, ...]
    needs: Needs


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
_SORT_KEY = itemgetter(0, 1, 2, 3, 4, 5)


def best_of_world(world: World, limits: Limits, order_by: str, wanted: int, *, grouped: bool) -> list[Ranked]:
    """The best bills of a world, at most `wanted` (grouped: of different groups), in order."""
    order = ORDERS[order_by]
    nothing = tuple(0 for _ in limits.bounds)
    beginnings = [Ranked(0.0, 0, 0, 0.0, (), "", (), (), nothing)]
    for component in world.components:
        singles = _singles(component, limits, order, wanted, grouped=grouped)
        joined = [_join(beginning, single) for beginning in beginnings for single in singles]
        beginnings = _promising(joined, limits, wanted, grouped=grouped)
    whole = [
        _join(_with_rail(rail, world.banks, limits, order), beginning)
        for rail in world.rails
        for beginning in beginnings
    ]
    return first_of_each_group([one for one in whole if limits.allow(one.needs)], wanted, grouped=grouped)


def first_of_each_group(ranked: Iterable[Ranked], wanted: int, *, grouped: bool) -> list[Ranked]:
    """The first `wanted` in order; grouped: of each group only its first."""
    seen: set[tuple[object, ...]] = set()
    found: list[Ranked] = []
    for one in sorted(ranked, key=_SORT_KEY):
        key = one.group if grouped else (one.rail, one.texts)
        if key not in seen:
            seen.add(key)
            found.append(one)
            if len(found) == wanted:
                break
    return found


def _singles(component: Choices, limits: Limits, order: Order, wanted: int, *, grouped: bool) -> list[Ranked]:
    singles = [_single(choice, limits, order) for choice in component.all]
    return _promising(singles, limits, wanted, grouped=grouped)


def _single(choice: Choice, limits: Limits, order: Order) -> Ranked:
    first, second = (choice.pieces, choice.price) if order.pieces_first else (choice.price, choice.pieces)
    return Ranked(
        order.worst(choice),
        first,
        second,
        choice.drop_kpa,
        choice.texts,
        "",
        (choice,),
        choice.group,
        limits.of(choice),
    )


def _with_rail(rail: Item, banks: int, limits: Limits, order: Order) -> Ranked:
    price = rail_price(rail, banks)
    first, second = (banks, price) if order.pieces_first else (price, banks)
    needs = limits.of_rail(rail, banks)
    return Ranked(order.worst_of_rail(rail), first, second, 0.0, (), rail.sku, (), (rail.group,), needs)


def _join(one: Ranked, other: Ranked) -> Ranked:
    texts = one.texts + other.texts
    return Ranked(
        max(one.worst, other.worst),
        one.first + other.first,
        one.second + other.second,
        max(one.drop_kpa, other.drop_kpa),
        tuple(sorted(texts)) if one.texts and other.texts and one.texts[-1] > other.texts[0] else texts,
        one.rail or other.rail,
        one.choices + other.choices,
        one.group + other.group,
        added(one.needs, other.needs),
    )


def _promising(ranked: list[Ranked], limits: Limits, wanted: int, *, grouped: bool) -> list[Ranked]:
    """Drop what breaks a limit, and what `wanted` others (grouped: of other groups, or one of its own) always beat."""
    kept: list[Ranked] = []
    if limits.bounds:
        ranked = [one for one in ranked if limits.allow(one.needs)]
    for one in sorted(ranked, key=_SORT_KEY):
        better = [other for other in kept if _always_beats(other, one)]
        if grouped:
            groups = {other.group for other in better}
            if len(groups) < wanted and one.group not in groups:
                kept.append(one)
        elif len(better) < wanted:
            kept.append(one)
    return kept


def _always_beats(one: Ranked, other: Ranked) -> bool:
    """Whether `one` comes before `other` whatever both are completed with; `one` is not after `other` as they stand."""
    if one.worst > other.worst or not all(map(int.__le__, one.needs, other.needs)):
        return False
    if (one.first, one.second) != (other.first, other.second):
        return (one.first, one.second) < (other.first, other.second)
    return one.drop_kpa <= other.drop_kpa and one.texts <= other.texts
