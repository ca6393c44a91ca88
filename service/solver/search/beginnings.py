"""Beginnings of bills: of a rail or a choice, with what it loses, and of two of them joined."""

from bisect import bisect_right
from operator import attrgetter

from service.domain.parts import Item
from service.domain.work import spend
from service.solver.judge.components import Component
from service.solver.judge.options import Choice
from service.solver.search.bill_orders import BillOrder
from service.solver.search.frontier import Kept, Ranked
from service.solver.search.limits import Limits, Spent, added

Rails = tuple[tuple[Item, Spent], ...]
"""Rails with what they cost."""

NOTHING = Ranked(float("-inf"), (0, 0), 0.0, (), "", (), (), ())
"""The beginning of all choices."""

_BEATEN_BY = attrgetter("beaten_by")


def of_rail(rail: Item, spent: Spent, limits: Limits, order: BillOrder) -> Ranked:
    needs = limits.of_rail(spent.price)
    return Ranked(order.worst_of_rail(rail, spent), order.cost(spent), 0.0, (), rail.sku, (), (rail.group,), needs)


def of_choice(choice: Choice, limits: Limits, order: BillOrder) -> Ranked:
    spent = limits.spent(choice)
    return Ranked(
        order.worst_of_choice(choice, spent),
        order.cost(spent),
        0.0,
        choice.texts,
        "",
        (choice,),
        choice.group,
        limits.of(choice),
    )


def with_its_flow(one: Ranked, component: Component, order: BillOrder) -> Ranked:
    runs = one.choices[0].runs
    worst = None if order.worst_of_flow is None else order.worst_of_flow(component, runs)
    return dropping(one, component.drop_kpa(runs), worst)


def dropping(one: Ranked, drop_kpa: float, worst_flow: float | None) -> Ranked:
    worst, cost, _, texts, rail, choices, group, needs = one
    if worst_flow is not None and worst_flow > worst:
        worst = worst_flow
    return Ranked(worst, cost, drop_kpa, texts, rail, choices, group, needs)


def join(one: Ranked, other: Ranked) -> Ranked:
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


def joined(beginnings: list[Kept], singles: list[Kept], wanted: int) -> list[Ranked]:
    singles = sorted(singles, key=_BEATEN_BY)
    joined = []
    for beaten_by, beginning in beginnings:
        few = bisect_right(singles, wanted // (beaten_by + 1) - 1, key=_BEATEN_BY)
        spend(1 + few, "bills")
        joined += [join(beginning, single.ranked) for single in singles[:few]]
    return joined


def settled(one: Ranked, limits: Limits, order: BillOrder) -> Ranked:
    """A whole bill with what its units beyond those that are had cost."""
    beyond = limits.beyond(one.needs)
    price, pieces = order.cost(beyond)
    cost = (one.cost[0] + price, one.cost[1] + pieces)
    return one._replace(worst=max(one.worst, order.worst_beyond(beyond)), cost=cost)
