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
        by_price: dict[tuple[int, int], Mask] = {}
        for place, choice in enumerate(self.choices):
            bit = 1 << place
            spent = (choice.pieces, choice.price)
            by_price[spent] = by_price.get(spent, 0) | bit
            for sku, units in choice.needed_units.items():
                counts = self.holding.setdefault(sku, {})
                counts[units] = counts.get(units, 0) | bit
        self.by_price = sorted(by_price.items())
        """By pieces and price, the fewest pieces first, as if nothing of it were had."""
        by_pieces: dict[int, Mask] = {}
        for (pieces, _), mask in self.by_price:
            by_pieces[pieces] = by_pieces.get(pieces, 0) | mask
        self._by_pieces = tuple(by_pieces.items())

    def fewest_pieces(self, mask: Mask) -> tuple[int, Mask]:
        """The least number of pieces among these choices, and those that have it."""
        return next((pieces, mask & having) for pieces, having in self._by_pieces if mask & having)

    def priced(self, mask: Mask) -> Iterator[tuple[int, int, Mask]]:
        """Pieces, price, and those of these choices that have them."""
        for (pieces, price), having in self.by_price:
            if mask & having:
                yield pieces, price, mask & having

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
