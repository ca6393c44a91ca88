"""Takes out of a world what breaks a limit by itself, and finds the limits that remain to be watched."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from service.domain.findings import Finding, Rejection
from service.domain.parts import Item
from service.domain.request import Request
from service.rules import supply, wish
from service.solver.components import Component
from service.solver.limits import Had, Limits, Scarce
from service.solver.options import Choice, Choices
from service.solver.worlds import World


def limit(world: World, request: Request, items: dict[str, Item]) -> tuple[World, Limits, list[Rejection]]:
    """The world without what breaks a limit by itself, the limits left, and what stops the parts taken out."""
    rejections: list[Rejection] = []
    if request.in_stock_only:
        world = _stocked(world, request, items, rejections)
    most = _most_units(world) if request.in_stock_only or request.have else {}
    had = tuple(_had(items[sku], qty) for sku, qty in request.have if sku in most)
    scarce = tuple(x for x in _scarce(world, request, items, most)) if world.alive else ()
    limits = Limits(request.max_price, scarce, had)
    if request.max_price is not None and world.alive:
        world = _affordable(world, request.max_price, limits, rejections)
        if world.alive and _highest_price(world) <= request.max_price:
            limits = replace(limits, max_price=None)
    return world, limits, rejections


def _had(item: Item, qty: int) -> Had:
    return Had(item.sku, qty, item.price, item.lead_days) if item.sold else Had(item.sku, qty, 0, 0)


def _most_units(world: World) -> dict[str, int]:
    """The most units of each SKU that have to be got for a bill of the world."""
    most: Counter[str] = Counter()
    for component in world.components:
        in_component: dict[str, int] = {}
        for choice in component.choices.all:
            for sku, units in choice.needed_units.items():
                in_component[sku] = max(units, in_component.get(sku, 0))
        most.update(in_component)
    return most


def _scarce(world: World, request: Request, items: dict[str, Item], most: dict[str, int]) -> Iterator[Scarce]:
    """The SKUs of which the spots together could need more than there may be."""
    have = dict(request.have)
    served = frozenset(x.situation.spot for part in world.components for x in part.served if x.could_be_bought)
    for sku, units in sorted(most.items()):
        item, had = items[sku], have.get(sku, 0)
        if not item.active or not (item.sold or request.allow_unsold):
            if units > had:
                yield Scarce(sku, had)
        elif not item.sold:
            if had and units > had:
                yield Scarce(sku, had, served)
        elif request.in_stock_only and units > had + item.stock:
            yield Scarce(sku, had + item.stock)


def _sifted(component: Component, broken: Callable[[Choice], Finding | None], rejections: list[Rejection]) -> Component:
    """The component without the choices that break a limit; heads that are in no other choice are rejected for it."""
    found = [(choice, broken(choice)) for choice in component.choices.all]
    kept = Choices(choice for choice, finding in found if finding is None)
    if len(kept.all) == len(found):
        return component
    rejections += [
        Rejection(*option.head, finding)
        for choice, finding in found
        if finding is not None
        for option in choice.options
        if option.head not in kept.heads
    ]
    return replace(component, choices=kept)


def _stocked(world: World, request: Request, items: dict[str, Item], rejections: list[Rejection]) -> World:
    """Take out what alone needs more units than there are in stock, besides those that are had."""
    have = dict(request.have)

    def short(choice: Choice) -> Finding | None:
        for sku, units in choice.bought_units.items():
            bought = units - have.get(sku, 0)
            if bought > items[sku].stock:
                return Finding(supply.RULE.id, supply.stock_facts(items[sku], bought))
        return None

    components = tuple(_sifted(component, short, rejections) for component in world.components)
    rails = tuple(rail for rail in world.rails if not rail.sold or rail.stock >= world.bought(rail))
    rejections += [
        Rejection(rail.sku, None, Finding(supply.RULE.id, supply.stock_facts(rail, world.bought(rail))))
        for rail in world.rails
        if rail not in rails
    ]
    return replace(world, rails=rails, components=components)


def _affordable(world: World, max_price: int, limits: Limits, rejections: list[Rejection]) -> World:
    """Take out what is in no bill within the price, as far as prices alone tell."""

    def least_price(choice: Choice) -> int:
        if not limits.had:
            return choice.price
        return limits.spent(choice).price + limits.beyond(limits.of(choice)).price

    def too_dear(needed: int) -> Finding | None:
        return Finding(wish.RULE.id, wish.price_facts(max_price, needed)) if needed > max_price else None

    def too_dear_with(rest: int, choice: Choice) -> Finding | None:
        return too_dear(rest + least_price(choice))

    lowest = [min(map(least_price, component.choices.all)) for component in world.components]
    lowest_rail = min(map(world.rail_price, world.rails))
    total = sum(lowest) + lowest_rail
    components = tuple(
        _sifted(component, partial(too_dear_with, total - cheapest), rejections)
        for component, cheapest in zip(world.components, lowest, strict=True)
    )
    rails = []
    for rail in world.rails:
        finding = too_dear(total - lowest_rail + world.rail_price(rail))
        if finding is None:
            rails.append(rail)
        else:
            rejections.append(Rejection(rail.sku, None, finding))
    return replace(world, rails=tuple(rails), components=components)


def _highest_price(world: World) -> int:
    highest = sum(max(choice.price for choice in component.choices.all) for component in world.components)
    return highest + max(map(world.rail_price, world.rails))
