"""Choices by the units that they need, a bit for each: what an order makes of them is told by a few ANDs."""

from collections.abc import Iterator, Mapping
from itertools import takewhile
from typing import NamedTuple

from service.domain.work import spend
from service.solver.options import Choice, Choices
from service.solver.tables import Mask, bits, mask_at

Counts = Mapping[int, Mask]
"""By how many units choices need, the choices that need them; those that need none are left out."""


class Plain(NamedTuple):
    """What a choice costs where nothing of it is ordered or had: units that we sell, their price, all units."""

    sold_units: int
    price: int
    pieces: int


class UnitTable:
    """Choices by plain cost, then by their texts: bit n stands for the choice at n.

    So the lowest bit of a mask is the choice that is cheapest to add, and of several alike the one that is told first.
    """

    def __init__(self, choices: Choices) -> None:
        spend(len(choices.all), "order")
        priced = sorted([(*_plain(choice), choice.texts, place) for place, choice in enumerate(choices.all)])
        self.choices = [choices.all[one[-1]] for one in priced]
        self.costs = [Plain(*one[:3]) for one in priced]
        self.whole: Mask = (1 << len(self.choices)) - 1
        held: dict[str, dict[int, list[int]]] = {}
        by_sold: dict[int, list[int]] = {}
        for place, (choice, cost) in enumerate(zip(self.choices, self.costs, strict=True)):
            by_sold.setdefault(cost.sold_units, []).append(place)
            for sku, units in choice.needed_units.items():
                held.setdefault(sku, {}).setdefault(units, []).append(place)
        self.holding = {
            sku: {units: mask_at(places, len(self.choices)) for units, places in counts.items()}
            for sku, counts in held.items()
        }
        """By SKU, the choices that need it, by how many units of it."""
        self._by_sold = [mask_at(places, len(self.choices)) for _, places in sorted(by_sold.items())]

    def cheapest(self, mask: Mask) -> Plain:
        """The least plain cost among these choices."""
        return self.costs[_lowest(mask)]

    def each_cheapest(self, mask: Mask) -> Iterator[Plain]:
        """Of these choices the least plain cost for each number of sold units; of more only where it is less."""
        lowest: int | None = None
        for having in self._by_sold:
            if mask & having:
                cost = self.costs[_lowest(mask & having)]
                if lowest is None or cost.price < lowest:
                    lowest = cost.price
                    yield cost

    def at(self, mask: Mask, cost: Plain) -> Iterator[Choice]:
        """The choices of a mask at a plain cost, in the order of their texts."""
        sold = next(having for having in self._by_sold if self.costs[_lowest(having)].sold_units == cost.sold_units)
        places = (place for place in bits(mask & sold) if self.costs[place] >= cost)
        return map(self.choices.__getitem__, takewhile(lambda place: self.costs[place] == cost, places))

    def at_spots(self, sku: str, spots: frozenset[str] | None) -> Counts:
        """How many units of a SKU stand at these spots (None: anywhere)."""
        counts = self.holding.get(sku, {})
        served = {option.spot for choice in self.choices[:1] for option in choice.options}
        if spots is None or served <= spots:
            return counts
        found: dict[int, list[int]] = {}
        for place in (place for having in counts.values() for place in bits(having)):
            options = [option for option in self.choices[place].options if option.spot in spots]
            units = [item.sku for option in options for item in option.needed].count(sku)
            if units:
                found.setdefault(units, []).append(place)
        return {units: mask_at(places, len(self.choices)) for units, places in found.items()}


def _plain(choice: Choice) -> Plain:
    return Plain(sum([len(option.bought) for option in choice.options]), choice.price, choice.pieces)


def _lowest(mask: Mask) -> int:
    return (mask & -mask).bit_length() - 1
