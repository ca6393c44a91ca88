"""Choices by the units that they need, a bit for each: what an order makes of them is told by a few ANDs."""

from collections.abc import Iterator, Mapping

from service.solver.options import Choice, Choices
from service.solver.tables import Mask, bits

Counts = Mapping[int, Mask]
"""By how many units choices need, the choices that need them; those that need none are left out."""


class UnitTable:
    """Choices in the order of their texts: bit n stands for the choice at n."""

    def __init__(self, choices: Choices) -> None:
        self.choices = sorted(choices.all, key=lambda choice: choice.texts)
        self.whole: Mask = (1 << len(self.choices)) - 1
        self.holding: dict[str, dict[int, Mask]] = {}
        prices: dict[int, dict[int, Mask]] = {}
        for place, choice in enumerate(self.choices):
            bit = 1 << place
            by_price = prices.setdefault(choice.pieces, {})
            by_price[choice.price] = by_price.get(choice.price, 0) | bit
            for sku, units in choice.needed_units.items():
                counts = self.holding.setdefault(sku, {})
                counts[units] = counts.get(units, 0) | bit
        self.prices = dict(sorted(prices.items()))
        """By pieces, the fewest first, and by price: as if nothing of it were had."""
        self._by_pieces = [(pieces, sum(by_price.values())) for pieces, by_price in self.prices.items()]

    def fewest_pieces(self, mask: Mask) -> int:
        """The least number of pieces among these choices."""
        return next(pieces for pieces, having in self._by_pieces if mask & having)

    def of(self, mask: Mask) -> Iterator[Choice]:
        """The choices of a mask, in the order of their texts."""
        return map(self.choices.__getitem__, bits(mask))

    def at_spots(self, sku: str, spots: frozenset[str] | None) -> Counts:
        """How many units of a SKU stand at these spots (None: anywhere)."""
        counts = self.holding.get(sku, {})
        served = {option.spot for choice in self.choices[:1] for option in choice.options}
        if spots is None or served <= spots:
            return counts
        found: dict[int, Mask] = {}
        for place, choice in enumerate(self.choices):
            items = [item.sku for option in choice.options if option.spot in spots for item in option.needed]
            units = items.count(sku)
            if units:
                found[units] = found.get(units, 0) | 1 << place
        return found
