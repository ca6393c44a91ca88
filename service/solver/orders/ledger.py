"""What rails and choices cost against an order, each case worked out once for all layouts.

The units of a SKU that is ordered or had count for what a whole bill needs of it. Where one step alone can need it,
its choices are charged at once; where several can, the SKU ties them: they are kept apart by how many units they
need. What is needed of all ties is one number with a field for each, so that it is added and looked up at once.
So what is told apart is bounded by the order; the catalog only has more choices that are alike to it.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import product
from typing import NamedTuple

from service.domain.orders import NOTHING, Cost, Order, plus
from service.domain.parts import OWN_RAIL, Item
from service.domain.work import spend
from service.solver.judge.options import Choices
from service.solver.judge.tables import Mask, bits
from service.solver.orders.unit_tables import Counts, Plain, UnitTable
from service.solver.search.limits import Scarce

Ties = int
"""Some of the ties, a bit for each."""
TieUnits = int
"""How many units are needed of each tie."""

_WIDTH = 16  # of a field: no bill has as many parts as that holds
_FULL: TieUnits = (1 << _WIDTH) - 1

TableOf = Callable[[Choices], UnitTable]


class Tie(NamedTuple):
    """A SKU that is ordered or had; or, with `most`, one that is scarce: at most so many units may stand in a bill (at
    these spots, None: anywhere)."""

    sku: str
    most: int | None = None
    spots: frozenset[str] | None = None


class AlikeChoices(NamedTuple):
    """Choices of a table that are alike to the order: the units that they need of what ties them, and what they cost
    more than plain ones."""

    units: TieUnits
    extra: Cost
    mask: Mask


Selection = tuple[tuple[Mask, Plain], ...]
"""For each table of a step, the choices to take one of: those of a mask at a plain cost."""


class Offer(NamedTuple):
    """The units that are needed of what ties steps, what is cheapest with them, and the ways to have it."""

    units: TieUnits
    cost: Cost
    ways: tuple[Selection, ...]


class RailOffer(NamedTuple):
    """As an offer, of rails: a bit for each."""

    cost: Cost
    rails: Mask


class Ledger:
    """The costs of one order."""

    def __init__(self, order: Order, items: Mapping[str, Item], table_of: TableOf) -> None:
        self.order = order
        self.table_of = table_of
        self._items = items
        self._ties = [Tie(sku) for sku in dict.fromkeys((*order.units, *order.had))]
        self._places = {tie: place for place, tie in enumerate(self._ties)}
        self._caps = [order.most_that_count(tie.sku) for tie in self._ties]
        self.scarce_fields: TieUnits = 0
        self._allows: dict[TieUnits, bool] = {}
        self._own: dict[Choices, Ties] = {}
        self._fields: dict[Ties, TieUnits] = {}
        self._extra: dict[tuple[str, int], Cost] = {}
        self._extra_of: dict[TieUnits, Cost] = {}
        self._least_extra_of: dict[TieUnits, Cost] = {}
        self._parts: dict[tuple[Choices, Ties, Ties], list[AlikeChoices]] = {}
        self._offers: dict[tuple[tuple[tuple[Choices, Ties, Ties], ...], bool], list[Offer]] = {}
        self._rail_offers: dict[tuple[tuple[Item, ...], int, bool], list[RailOffer]] = {}

    # --- ties --------------------------------------------------------------------------------------------------

    def own(self, choices: Choices) -> Ties:
        """The SKUs that are ordered or had, of those that these choices may need."""
        found = self._own.get(choices)
        if found is None:
            needs = self.table_of(choices).may_need
            found = sum(1 << place for tie, place in self._places.items() if tie.most is None and needs(tie.sku))
            self._own[choices] = found
        return found

    def scarce(self, choices: Choices, scarce: Iterable[Scarce]) -> Ties:
        """What is scarce, of what these choices may need."""
        needs = self.table_of(choices).may_need
        found = 0
        for tie in (Tie(*x) for x in scarce if needs(x.sku)):
            if tie not in self._places:
                self._places[tie] = len(self._ties)
                self.scarce_fields |= _FULL << _WIDTH * len(self._ties)
                self._ties.append(tie)
                self._caps.append((tie.most or 0) + 1)
            found |= 1 << self._places[tie]
        return found

    def allows(self, units: TieUnits) -> bool:
        """Whether nothing scarce is needed too often."""
        found = self._allows.get(units)
        if found is None:
            self._allows[units] = found = all(tie.most is None or n <= tie.most for tie, n in self.counts(units))
        return found

    def fields(self, ties: Ties) -> TieUnits:
        """The fields of some ties."""
        found = self._fields.get(ties)
        if found is None:
            self._fields[ties] = found = sum(_FULL << _WIDTH * place for place in bits(ties))
        return found

    def counts(self, units: TieUnits) -> Iterator[tuple[Tie, int]]:
        """The ties of which units are needed, and how many."""
        while units:
            place = ((units & -units).bit_length() - 1) // _WIDTH
            yield self._ties[place], (units >> _WIDTH * place) & _FULL
            units &= ~(_FULL << _WIDTH * place)

    def added(self, units: TieUnits, more: TieUnits) -> TieUnits:
        """Both together; what is needed beyond all that is ordered and had makes no difference, and is not counted."""
        together = units + more
        while more:
            place = ((more & -more).bit_length() - 1) // _WIDTH
            shift = _WIDTH * place
            over = ((together >> shift) & _FULL) - self._caps[place]
            if over > 0:
                together -= over << shift
            more &= ~(_FULL << shift)
        return together

    def extra_of(self, units: TieUnits) -> Cost:
        """What the units of what is ordered or had cost more than plain ones."""
        found = self._extra_of.get(units)
        if found is None:
            found = NOTHING
            for tie, count in self.counts(units):
                if tie.most is None:
                    found = plus(found, self._extra_for(tie.sku, count))
            self._extra_of[units] = found
        return found

    def least_extra_of(self, units: TieUnits) -> Cost:
        """A lower bound of `extra_of` that adds up over steps."""
        found = self._least_extra_of.get(units)
        if found is None:
            found = NOTHING
            for tie, count in self.counts(units):
                if tie.most is None:
                    found = plus(found, self.order.least_beyond_plain(self._items[tie.sku], count))
            self._least_extra_of[units] = found
        return found

    def _extra_for(self, sku: str, units: int) -> Cost:
        found = self._extra.get((sku, units))
        if found is None:
            self._extra[sku, units] = found = self.order.beyond_plain(self._items[sku], units)
        return found

    # --- offers ------------------------------------------------------------------------------------------------

    def of_rails(self, rails: tuple[Item, ...], banks: int, *, priced: bool) -> list[RailOffer]:
        """The offers of rails; they tie nothing, since no chain has a rail. `priced`: as of `of_choices`."""
        key = (rails, banks, priced)
        found = self._rail_offers.get(key)
        if found is None:
            spend(len(rails), "order")
            ways: dict[Cost, Mask] = {}
            for place, rail in enumerate(rails):
                cost = self._of_rail(rail, banks)
                ways[cost] = ways.get(cost, 0) | 1 << place
            kept = list(ways) if priced else [min(ways)]
            self._rail_offers[key] = found = [RailOffer(cost, ways[cost]) for cost in kept]
        return found

    def _of_rail(self, rail: Item, banks: int) -> Cost:
        if rail.sku == OWN_RAIL:
            return NOTHING
        plain = Plain(banks * rail.sold, banks * rail.price * rail.sold, banks)
        return plus(self.order.plain(*plain), self._extra_for(rail.sku, banks))

    def of_choices(self, columns: tuple[tuple[Choices, Ties, Ties], ...], *, priced: bool) -> list[Offer]:
        """The offers of a step that takes one of each of some choices; with each of these the SKUs that it alone may
        need, and what ties it. `priced`: what takes more changes stands too, where it is cheaper.
        """
        found = self._offers.get((columns, priced))
        if found is None:
            parts = [[(one, self.table_of(column[0])) for one in self._parts_of(*column)] for column in columns]
            best: dict[TieUnits, dict[Cost, list[Selection]]] = {}
            for together in product(*parts):
                units = sum([part.units for part, _ in together])
                for cost, way in self._priced(together, priced=priced):
                    _add(best.setdefault(units, {}), cost, way, priced=priced)
            self._offers[columns, priced] = found = [
                Offer(units, cost, tuple(ways)) for units, costs in best.items() for cost, ways in costs.items()
            ]
        return found

    def _priced(
        self, together: Sequence[tuple[AlikeChoices, UnitTable]], *, priced: bool
    ) -> Iterator[tuple[Cost, Selection]]:
        columns = [
            list(table.each_cheapest(part.mask)) if priced else [table.cheapest(part.mask)] for part, table in together
        ]
        extra = NOTHING
        for part, _ in together:
            extra = plus(extra, part.extra)
        for plain in product(*columns):
            spend(1, "order")
            cost = extra
            for one in plain:
                cost = plus(cost, self.order.plain(*one))
            yield cost, tuple((part.mask, one) for (part, _), one in zip(together, plain, strict=True))

    def _parts_of(self, choices: Choices, alone: Ties, tied: Ties) -> list[AlikeChoices]:
        """The choices taken apart by what they need of all that is ordered, had or scarce."""
        key = (choices, alone, tied)
        found = self._parts.get(key)
        if found is None:
            table = self.table_of(choices)
            found = [AlikeChoices(0, NOTHING, table.whole)]
            for place in bits(alone):
                sku = self._ties[place].sku
                split = [(x, n, hit) for x in found for n, hit in _by(table.units_of(sku), x.mask)]
                found = [AlikeChoices(0, plus(x.extra, self._extra_for(sku, n)), hit) for x, n, hit in split]
            for place in bits(tied):
                tie = self._ties[place]
                counts = table.at_spots(tie.sku, tie.spots)
                split = [(x, n, hit) for x in found for n, hit in _by(counts, x.mask)]
                found = [AlikeChoices(x.units | n << _WIDTH * place, x.extra, hit) for x, n, hit in split]
            spend(len(found), "order")
            self._parts[key] = found
        return found


def _add(costs: dict[Cost, list[Selection]], cost: Cost, way: Selection, *, priced: bool) -> None:
    """Add a way to the cheapest ones; `priced`: to all that are not beaten in both changes and price."""
    if cost in costs:
        costs[cost].append(way)
    elif not any(_beats(other, cost, priced=priced) for other in costs):
        for beaten in [other for other in costs if _beats(cost, other, priced=priced)]:
            del costs[beaten]
        costs[cost] = [way]


def _beats(one: Cost, other: Cost, *, priced: bool) -> bool:
    """Whether what costs the one always comes before what costs the other, and is within any price that this is."""
    return one < other and (not priced or one.price <= other.price)


def _by(counts: Counts, mask: Mask) -> Iterator[tuple[int, Mask]]:
    """A mask taken apart by how many units its choices need."""
    for units, having in counts.items():
        if mask & having:
            yield units, mask & having
            mask &= ~having
    if mask:
        yield 0, mask
