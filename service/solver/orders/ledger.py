"""What rails and choices cost against an order, each case worked out once for all layouts.

The units of a SKU that is ordered or had count for what a whole bill needs of it. Where one component alone can need
it, its choices are charged at once; where several can, the SKU ties them: they are kept apart by how many units they
need. What is needed of all ties is one number with a field for each, so that it is added and looked up at once.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from service.domain.orders import NOTHING, Cost, Order, plus
from service.domain.parts import OWN_RAIL, Item
from service.solver.limits import Scarce
from service.solver.options import Choices
from service.solver.orders.unit_tables import Counts, UnitTable
from service.solver.tables import Mask, bits

Ties = int
"""Some of the ties, a bit for each."""
Units = int
"""How many units are needed of each tie."""

_WIDTH = 16  # of a field: no bill has as many parts as that holds
_FULL: Units = (1 << _WIDTH) - 1

TableOf = Callable[[Choices], UnitTable]


class Tie(NamedTuple):
    """A SKU that is ordered or had; or, with `most`, one that is scarce: at most so many units may stand in a bill (at
    these spots, None: anywhere)."""

    sku: str
    most: int | None = None
    spots: frozenset[str] | None = None


class Offer(NamedTuple):
    """Alike rails or choices, as a mask: the units that they need of what ties them, and what they cost besides."""

    units: Units
    cost: Cost
    ways: Mask


class Toll:
    """The offers of the rails of a world, or of the choices of a component."""

    def __init__(self, offers: Sequence[Offer]) -> None:
        self._offers = offers

    @cached_property
    def fewest(self) -> dict[Units, int]:
        """By the units that are needed of the ties, the fewest changes."""
        return {0: min(offer.cost.changes for offer in self._offers)}

    @cached_property
    def fewest_of_all(self) -> int:
        return min(self.fewest.values())

    @cached_property
    def nearest(self) -> Sequence[Offer]:
        """The offers of the fewest changes for the units that they need of the ties."""
        return [offer for offer in self._offers if offer.cost.changes == self.fewest_of_all]

    @property
    def offers(self) -> Sequence[Offer]:
        """All of them."""
        return self._offers


class ChoiceToll(Toll):
    """The offers of the choices of a component; `parts` of them need the same of all that is ordered, had or scarce,
    and cost so much more than plain ones."""

    def __init__(self, table: UnitTable, parts: Sequence[Offer], order: Order) -> None:
        self._table = table
        self._order = order
        self._changes = [order.sets * table.fewest_pieces(part.ways) + part.cost.changes for part in parts]
        self._parts = parts

    @cached_property
    def fewest(self) -> dict[Units, int]:
        found: dict[Units, int] = {}
        for part, changes in zip(self._parts, self._changes, strict=True):
            if changes < found.get(part.units, changes + 1):
                found[part.units] = changes
        return found

    @cached_property
    def nearest(self) -> Sequence[Offer]:
        parts = zip(self._parts, self._changes, strict=True)
        foremost = [part for part, changes in parts if changes == self.fewest[part.units]]
        return self._priced((part, self._table.fewest_pieces(part.ways)) for part in foremost)

    @cached_property
    def offers(self) -> Sequence[Offer]:
        return self._priced((part, pieces) for part in self._parts for pieces in self._table.prices)

    def _priced(self, parts: Iterable[tuple[Offer, int]]) -> list[Offer]:
        """What so many pieces of each part come to."""
        found: dict[tuple[Units, Cost], Mask] = {}
        for (units, extra, mask), pieces in parts:
            for price, having in self._table.prices[pieces].items():
                if mask & having:
                    key = (units, plus(extra, self._order.plain(pieces, price)))
                    found[key] = found.get(key, 0) | mask & having
        return [Offer(units, cost, ways) for (units, cost), ways in found.items()]


class Ledger:
    """The costs of one order."""

    def __init__(self, order: Order, items: Mapping[str, Item], table_of: TableOf) -> None:
        self.order = order
        self.table_of = table_of
        self._items = items
        self._ties = [Tie(sku) for sku in dict.fromkeys((*order.units, *order.had))]
        self._places = {tie: place for place, tie in enumerate(self._ties)}
        self.scarce_fields: Units = 0
        self._allows: dict[Units, bool] = {}
        self._own: dict[Choices, Ties] = {}
        self._fields: dict[Ties, Units] = {}
        self._extra: dict[tuple[str, int], Cost] = {}
        self._extra_of: dict[Units, Cost] = {}
        self._tolls: dict[tuple[Choices, Ties, Ties], Toll] = {}
        self._rail_tolls: dict[tuple[tuple[Item, ...], int], Toll] = {}

    def price(self, sku: str) -> int:
        """The price of a unit, 0 where it is not sold."""
        item = self._items[sku]
        return item.price if item.sold else 0

    # --- ties --------------------------------------------------------------------------------------------------

    def own(self, choices: Choices) -> Ties:
        """The SKUs that are ordered or had, of those that these choices may need."""
        found = self._own.get(choices)
        if found is None:
            holding = self.table_of(choices).holding
            found = sum(1 << place for tie, place in self._places.items() if tie.most is None and tie.sku in holding)
            self._own[choices] = found
        return found

    def scarce(self, choices: Choices, scarce: Iterable[Scarce]) -> Ties:
        """What is scarce, of what these choices may need."""
        holding = self.table_of(choices).holding
        found = 0
        for tie in (Tie(*x) for x in scarce if x.sku in holding):
            if tie not in self._places:
                self._places[tie] = len(self._ties)
                self.scarce_fields |= _FULL << _WIDTH * len(self._ties)
                self._ties.append(tie)
            found |= 1 << self._places[tie]
        return found

    def allows(self, units: Units) -> bool:
        """Whether nothing scarce is needed too often."""
        found = self._allows.get(units)
        if found is None:
            self._allows[units] = found = all(tie.most is None or n <= tie.most for tie, n in self.counts(units))
        return found

    def fields(self, ties: Ties) -> Units:
        """The fields of some ties."""
        found = self._fields.get(ties)
        if found is None:
            self._fields[ties] = found = sum(_FULL << _WIDTH * place for place in bits(ties))
        return found

    def counts(self, units: Units) -> Iterator[tuple[Tie, int]]:
        """The ties of which units are needed, and how many."""
        while units:
            place = ((units & -units).bit_length() - 1) // _WIDTH
            yield self._ties[place], (units >> _WIDTH * place) & _FULL
            units &= ~(_FULL << _WIDTH * place)

    def extra_of(self, units: Units) -> Cost:
        """What the units of what is ordered or had cost more than plain ones."""
        found = self._extra_of.get(units)
        if found is None:
            found = NOTHING
            for tie, count in self.counts(units):
                if tie.most is None:
                    found = plus(found, self._extra_for(tie.sku, count))
            self._extra_of[units] = found
        return found

    def _extra_for(self, sku: str, units: int) -> Cost:
        found = self._extra.get((sku, units))
        if found is None:
            self._extra[sku, units] = found = self.order.beyond_plain(sku, self.price(sku), units)
        return found

    # --- tolls -------------------------------------------------------------------------------------------------

    def of_rails(self, rails: tuple[Item, ...], banks: int) -> Toll:
        """The rails of a world, a bit for each; they tie nothing, since no chain has a rail."""
        found = self._rail_tolls.get((rails, banks))
        if found is None:
            ways: dict[Cost, Mask] = {}
            for place, rail in enumerate(rails):
                cost = self._of_rail(rail, banks)
                ways[cost] = ways.get(cost, 0) | 1 << place
            self._rail_tolls[rails, banks] = found = Toll([Offer(0, cost, mask) for cost, mask in ways.items()])
        return found

    def _of_rail(self, rail: Item, banks: int) -> Cost:
        if rail.sku == OWN_RAIL:
            return NOTHING
        return plus(self.order.plain(banks, banks * self.price(rail.sku)), self._extra_for(rail.sku, banks))

    def of_choices(self, choices: Choices, alone: Ties, tied: Ties) -> Toll:
        """The choices of a component, a bit for each in its table; `alone`: what no other component needs."""
        key = (choices, alone, tied)
        found = self._tolls.get(key)
        if found is None:
            table = self.table_of(choices)
            self._tolls[key] = found = ChoiceToll(table, self._parts(table, alone, tied), self.order)
        return found

    def _parts(self, table: UnitTable, alone: Ties, tied: Ties) -> list[Offer]:
        """The choices taken apart by what they need of all that is ordered, had or scarce."""
        parts = [Offer(0, NOTHING, table.whole)]
        for place in bits(alone):
            sku = self._ties[place].sku
            split = [(x, n, hit) for x in parts for n, hit in _by(table.holding[sku], x.ways)]
            parts = [Offer(0, plus(x.cost, self._extra_for(sku, n)), hit) for x, n, hit in split]
        for place in bits(tied):
            tie = self._ties[place]
            counts = table.at_spots(tie.sku, tie.spots)
            split = [(x, n, hit) for x in parts for n, hit in _by(counts, x.ways)]
            parts = [Offer(x.units | n << _WIDTH * place, x.cost, hit) for x, n, hit in split]
        return parts


def _by(counts: Counts, mask: Mask) -> Iterator[tuple[int, Mask]]:
    """A mask taken apart by how many units its choices need."""
    for units, having in counts.items():
        if mask & having:
            yield units, mask & having
            mask &= ~having
    if mask:
        yield 0, mask
