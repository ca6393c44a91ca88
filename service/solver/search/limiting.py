"""Takes out of a setup what breaks a limit by itself, and finds the limits that remain to be watched."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from sys import maxsize

import numpy as np

from service.domain.findings import Finding, Rejection
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.rules import supply, wish
from service.solver.judge.chain_rows import Bools, Ints
from service.solver.judge.options import Choice, Choices, Paired
from service.solver.judge.picked import Picked
from service.solver.search.limits import Had, Limits, Scarce
from service.solver.search.setups import Setup
from service.solver.search.sifting import Sieve, Untold, sifted

SERVED: frozenset[str] = frozenset()
"""For `scarce` where it is not settled yet which spots a bought chain serves."""


def limit(setup: Setup, request: Request, revision: Revision, sets: int = 1) -> tuple[Setup, Limits, list[Untold]]:
    """The setup without what breaks a limit by itself, the limits left, and what tells of the parts taken out.

    `sets`: so many of a bill are wanted; stock and what is had are there once, a price is each bill's.
    """
    items = revision.items
    untold: list[Untold] = []
    if sets > 1:
        setup = _with_rails_for_all(setup, request, sets)
    if request.in_stock_only:
        setup = _stocked(setup, request, items, sets, untold)
    most = _most_units(setup) if request.in_stock_only or request.have else {}
    served = frozenset(x.situation.spot for part in setup.components for x in part.served if x.could_be_bought)
    limited = tuple(scarce(request, items, most, served, sets)) if setup.alive else ()
    limits = Limits(request.max_price, limited, tuple(had(request, items, most)), free(request, most))
    if request.max_price is not None and setup.alive:
        setup = _affordable(setup, request.max_price, revision.currency, limits, untold)
        if setup.alive and _highest_price(setup) <= request.max_price:
            limits = replace(limits, max_price=None)
    return setup, limits, untold


def had(request: Request, items: Mapping[str, Item], most: Mapping[str, int]) -> Iterator[Had]:
    """What is had of the SKUs of which a bill could need more; `most`: how many units of each it could."""
    for sku, qty in request.have:
        if most.get(sku, 0) > qty:
            item = items[sku]
            yield Had(sku, qty, item.price, item.lead_days) if item.sold else Had(sku, qty, 0, 0)


def _with_rails_for_all(setup: Setup, request: Request, sets: int) -> Setup:
    """Without the rails that are had for some of the sets and cannot be got for the others."""
    have = dict(request.have)
    rails = tuple(
        rail
        for rail in setup.rails
        if have.get(rail.sku, 0) not in range(setup.banks, sets * setup.banks)
        or (rail.active and (rail.sold or request.allow_unsold))
    )
    return replace(setup, rails=rails)


def free(request: Request, most: Mapping[str, int]) -> frozenset[str]:
    """The SKUs of which as many are had as any bill could need."""
    return frozenset(sku for sku, qty in request.have if 0 < most.get(sku, 0) <= qty)


def _most_units(setup: Setup) -> dict[str, int]:
    """The most units of each SKU that have to be got for a bill of the setup."""
    most: Counter[str] = Counter()
    for component in setup.components:
        most.update(component.choices.most_units)
    return most


def scarce(
    request: Request, items: Mapping[str, Item], most: Mapping[str, int], served: frozenset[str], sets: int = 1
) -> Iterator[Scarce]:
    """The SKUs of which a bill could need more than there may be; `served`: spots that a bought chain serves."""
    have = dict(request.have)
    for sku, units in sorted(most.items()):
        item, own = items[sku], have.get(sku, 0)
        if not item.active or not (item.sold or request.allow_unsold):
            if units * sets > own:
                yield Scarce(sku, own // sets)
        elif not item.sold:
            if own and units * sets > own:
                yield Scarce(sku, own // sets, served)
        elif request.in_stock_only and units * sets > own + item.stock:
            yield Scarce(sku, (own + item.stock) // sets)


def _stocked(setup: Setup, request: Request, items: Mapping[str, Item], sets: int, untold: list[Untold]) -> Setup:
    """Take out what alone needs more units than there are in stock, besides those that are had."""
    have = dict(request.have)

    def short(choice: Choice) -> Finding | None:
        for sku, units in choice.bought_units.items():
            bought = units * sets - have.get(sku, 0)
            if bought > items[sku].stock:
                return Finding(supply.RULE.id, supply.stock_facts(items[sku], bought))
        return None

    def enough(item: Item) -> int:
        """So many units of an item a choice may need."""
        return (have.get(item.sku, 0) + item.stock) // sets if item.sold else maxsize

    def each_short(choices: Picked) -> Bools:
        return choices.needing_more(enough) if have or sets > 1 else choices.out_of_stock

    def breaking(columns: Sequence[Picked]) -> list[Bools] | None:
        breaks = list(map(each_short, columns))
        return breaks if len(columns) == 1 or _are_apart(columns, breaks, shared(columns)) else None

    def shared(columns: Sequence[Picked]) -> list[str]:
        """The SKUs that may run out only by being taken for several of the columns."""
        most = sum((Counter(column.most_units) for column in columns), Counter[str]())
        return [sku for sku, units in most.items() if units * sets - have.get(sku, 0) > items[sku].stock]

    sieve = Sieve(supply.RULE.id, short, breaking)
    components = tuple(sifted(component, sieve, untold) for component in setup.components)
    bought = {rail: setup.banks * sets - have.get(rail.sku, 0) for rail in setup.rails}
    stopped = {
        rail: Finding(supply.RULE.id, supply.stock_facts(rail, units))
        for rail, units in bought.items()
        if rail.sold and rail.stock < units
    }
    untold.append(_rails_stopped(supply.RULE.id, stopped))
    rails = tuple(rail for rail in setup.rails if rail not in stopped)
    return replace(setup, rails=rails, components=components)


def _rails_stopped(rule: str, stopped: Mapping[Item, Finding]) -> Untold:
    return Untold(rule, lambda _: [Rejection(rail.sku, None, finding) for rail, finding in stopped.items()])


def _are_apart(columns: Sequence[Picked], breaks: Sequence[Bools], shared: Sequence[str]) -> bool:
    """Whether each column has a choice that takes nothing of what is shared: what is left of the others stands with
    it, and how much of that a whole bill takes is limited anyway."""
    return all(
        (~each & ~np.any([column.units_of(sku) > 0 for sku in shared], axis=0)).any() if shared else True
        for column, each in zip(columns, breaks, strict=True)
    )


def _affordable(setup: Setup, max_price: int, currency: str, limits: Limits, untold: list[Untold]) -> Setup:
    """Take out what is in no bill within the price, as far as prices alone tell."""

    def least_price(choice: Choice) -> int:
        if not (limits.had or limits.free):
            return choice.price
        return limits.spent(choice).price + limits.beyond(limits.of(choice)).price

    def too_dear(needed: int) -> Finding | None:
        facts = wish.price_facts(max_price, needed, currency)
        return Finding(wish.RULE.id, facts) if needed > max_price else None

    def too_dear_with(rest: int, choice: Choice) -> Finding | None:
        return too_dear(rest + least_price(choice))

    def least_prices(choices: Picked) -> Ints:
        price = choices.spent(limits).price
        for had in limits.had:
            price = price + had.price * np.maximum(0, choices.units_of(had.sku) - had.qty)
        return price

    def each_too_dear(rest: int, columns: Sequence[Picked]) -> list[Bools] | None:
        if len(columns) > 1 and limits.had:
            return None
        prices = list(map(least_prices, columns))
        lowest = [int(price.min()) for price in prices]
        return [price > max_price - rest - sum(lowest) + own for price, own in zip(prices, lowest, strict=True)]

    def lowest_of(choices: Choices) -> int:
        if isinstance(choices, Picked):
            return int(least_prices(choices).min())
        if not (limits.had or limits.free):
            return choices.lowest_price
        if isinstance(choices, Paired) and not limits.had:
            return sum(map(lowest_of, choices.columns))
        return min(map(least_price, choices.all))

    lowest = [lowest_of(component.choices) for component in setup.components]
    lowest_rail = min(map(setup.rail_price, setup.rails))
    total = sum(lowest) + lowest_rail
    components = tuple(
        sifted(
            component,
            Sieve(wish.RULE.id, partial(too_dear_with, total - cheapest), partial(each_too_dear, total - cheapest)),
            untold,
        )
        for component, cheapest in zip(setup.components, lowest, strict=True)
    )
    found = {rail: too_dear(total - lowest_rail + setup.rail_price(rail)) for rail in setup.rails}
    untold.append(_rails_stopped(wish.RULE.id, {rail: finding for rail, finding in found.items() if finding}))
    rails = tuple(rail for rail, finding in found.items() if finding is None)
    return replace(setup, rails=rails, components=components)


def _highest_price(setup: Setup) -> int:
    highest = sum(component.choices.highest_price for component in setup.components)
    return highest + max(map(setup.rail_price, setup.rails))
