"""What is limited over the whole bill: its price, and the units of what stock is short of."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from service.domain.findings import Finding, Rejection
from service.domain.parts import Item
from service.domain.request import Request
from service.rules import supply, wish
from service.solver.components import Component
from service.solver.options import Choice, Choices
from service.solver.worlds import World

Needs = tuple[int, ...]


@dataclass(frozen=True)
class Limits:
    """Bounds in the order of `of`: the price first where it is limited, then units of each scarce SKU."""

    max_price: int | None
    scarce: tuple[tuple[str, int], ...]

    @cached_property
    def bounds(self) -> Needs:
        stocks = tuple(stock for _, stock in self.scarce)
        return stocks if self.max_price is None else (self.max_price, *stocks)

    def of(self, choice: Choice) -> Needs:
        """What a choice takes of each."""
        if not self.scarce:
            return () if self.max_price is None else (choice.price,)
        units = tuple(choice.bought_units.get(sku, 0) for sku, _ in self.scarce)
        return units if self.max_price is None else (choice.price, *units)

    def of_rail(self, rail: Item, banks: int) -> Needs:
        """What a rail, one a bank, takes of each; rails stand in no chain, so that none of them is scarce."""
        units = (0,) * len(self.scarce)
        return units if self.max_price is None else (rail_price(rail, banks), *units)

    def allow(self, needs: Needs) -> bool:
        return all(need <= bound for need, bound in zip(needs, self.bounds, strict=True))


FREE = Limits(None, ())


def merged_limits(limits: Sequence[Limits]) -> Limits:
    """All that any of them watches."""
    prices = [x.max_price for x in limits if x.max_price is not None]
    scarce = {sku: stock for x in limits for sku, stock in x.scarce}
    return Limits(min(prices, default=None), tuple(sorted(scarce.items())))


def added(one: Needs, other: Needs) -> Needs:
    return tuple(map(int.__add__, one, other))


def least(needs: Iterable[Needs]) -> frozenset[Needs]:
    """Only those that no other one undercuts in everything."""
    kept: list[Needs] = []
    for need in sorted(set(needs)):
        if not any(all(map(int.__le__, other, need)) for other in kept):
            kept.append(need)
    return frozenset(kept)


def rail_price(rail: Item, banks: int) -> int:
    return rail.price * banks if rail.sold else 0


def limit(world: World, request: Request, items: dict[str, Item]) -> tuple[World, Limits, list[Rejection]]:
    """Take out of a world what breaks a limit by itself, and give the limits that remain to be watched."""
    rejections: list[Rejection] = []
    scarce: tuple[tuple[str, int], ...] = ()
    if request.in_stock_only:
        world = _stocked(world, items, rejections)
        scarce = _scarce(world, items) if world.alive else ()
    max_price = request.max_price
    if max_price is not None and world.alive:
        world = _affordable(world, max_price, rejections)
        if world.alive and _highest_price(world) <= max_price:
            max_price = None
    return world, Limits(max_price, scarce), rejections


def _replaced(world: World, rails: tuple[Item, ...], components: tuple[Component, ...]) -> World:
    return replace(world, rails=rails, components=components)


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


def _stocked(world: World, items: dict[str, Item], rejections: list[Rejection]) -> World:
    """Take out what alone needs more units than there are in stock."""

    def short(choice: Choice) -> Finding | None:
        lacking = next(((items[x], n) for x, n in choice.bought_units.items() if n > items[x].stock), None)
        return None if lacking is None else Finding(supply.RULE.id, supply.stock_facts(*lacking))

    components = [_sifted(component, short, rejections) for component in world.components]
    rails = tuple(rail for rail in world.rails if not rail.sold or rail.stock >= world.banks)
    rejections += [
        Rejection(rail.sku, None, Finding(supply.RULE.id, supply.stock_facts(rail, world.banks)))
        for rail in world.rails
        if rail not in rails
    ]
    return _replaced(world, rails, tuple(components))


def _scarce(world: World, items: dict[str, Item]) -> tuple[tuple[str, int], ...]:
    """The SKUs of which the spots together could need more than there is, with their stock."""
    most: dict[str, int] = {}
    for component in world.components:
        in_component: dict[str, int] = {}
        for choice in component.choices.all:
            for sku, units in choice.bought_units.items():
                in_component[sku] = max(units, in_component.get(sku, 0))
        for sku, units in in_component.items():
            most[sku] = most.get(sku, 0) + units
    return tuple((sku, items[sku].stock) for sku, units in sorted(most.items()) if units > items[sku].stock)


def _affordable(world: World, max_price: int, rejections: list[Rejection]) -> World:
    """Take out what is in no bill within the price, as far as prices alone tell."""
    lowest = [min(choice.price for choice in component.choices.all) for component in world.components]
    lowest_rail = min(rail_price(rail, world.banks) for rail in world.rails)
    total = sum(lowest) + lowest_rail

    def too_dear(needed: int) -> Finding | None:
        return Finding(wish.RULE.id, wish.price_facts(max_price, needed)) if needed > max_price else None

    components = [
        _sifted(component, lambda choice, rest=total - cheapest: too_dear(rest + choice.price), rejections)  # type: ignore[misc]
        for component, cheapest in zip(world.components, lowest, strict=True)
    ]
    rails = []
    for rail in world.rails:
        finding = too_dear(total - lowest_rail + rail_price(rail, world.banks))
        if finding is None:
            rails.append(rail)
        else:
            rejections.append(Rejection(rail.sku, None, finding))
    return _replaced(world, tuple(rails), tuple(components))


def _highest_price(world: World) -> int:
    highest = sum(max(choice.price for choice in component.choices.all) for component in world.components)
    return highest + max(rail_price(rail, world.banks) for rail in world.rails)
